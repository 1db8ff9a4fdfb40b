//! Cross-sections: shapes with checked dimensions, and the numbers computed from their geometry.
//!
//! Axes: y horizontal, z vertical, x along the member, right-handed. `i_y` is the integral of z squared,
//! `i_z` that of y squared, `i_yz` that of y times z (positive product, no minus sign), all about the centroid.
//! Every shape documents its drawing origin; [`SectionProperties::centroid_y`] and `centroid_z` are measured from there.
//! Lengths are in metres.
//!
//! ```
//! use fishplate_strength::section::{RectangularTube, SectionShape};
//! let tube = SectionShape::from(RectangularTube::uniform(0.100, 0.050, 0.004, 0.008, 0.004)?);
//! let p = tube.properties();
//! assert!((p.area - 1094.796e-6).abs() < 1e-9); // EN 10219-2 lists 10.9 cm2
//! # Ok::<(), fishplate_strength::section::SectionError>(())
//! ```

mod angle;
mod builtup;
mod cells;
mod channel;
mod error;
mod geometry;
mod hat;
mod midline;
mod multicell;
mod outline;
mod properties;
mod region;
mod round;
mod shape;
mod shear;
mod solid;
mod stress;
mod torsion;
mod tube;

pub use angle::Angle;
pub use builtup::{BuiltUp, BuiltUpTorsion, Placed};
pub use channel::Channel;
pub use error::SectionError;
pub use hat::Hat;
pub use midline::{Midline, MidlineWall};
pub use multicell::MultiCell;
pub use properties::{
    Edge, SectionPoint, SectionProperties, ShearCentre, ShearCentreBasis, TorsionMethod,
    TorsionValue, Wall, WallSupport,
};
pub use round::{RoundBar, RoundTube};
pub use shape::SectionShape;
pub use solid::Flat;
pub use stress::SectionForces;
pub use torsion::rectangle_coefficients;
pub use tube::{RectangularTube, TubeWall};

#[cfg(test)]
mod tests;
