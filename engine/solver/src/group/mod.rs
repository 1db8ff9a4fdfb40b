//! Joint groups: a rigid face on elastic fasteners, and a rigid body on springs.
//!
//! * [`wrench`]: a force and a moment about a point, and the axes of a joint.
//! * [`body`]: a rigid body on springs in space, six equations.
//! * [`bolts`]: bolts in a plane: shear by the elastic vector, tension in three ways.
//! * [`bed`]: a rigid plate on tension-only bolts and a compression-only bed.
//! * [`weld`]: weld runs in space by the line method, under all six components.
//! * [`line`](mod@line): the shape of a run: quadrature, length, centroid, second moments.
//! * [`convex`]: equilibrium of springs that only push or only pull.
//!
//! Pure mechanics in SI units (m, N, N m, Pa). Nothing here knows a car or a standard.

pub mod bed;
pub mod body;
pub mod bolts;
pub mod convex;
pub mod line;
mod polygon;
pub mod weld;
pub mod wrench;

pub use bed::{Bed, BedAnswer};
pub use body::{ElasticBody, FreeMotion, GroupError, Motion};
pub use bolts::{Bolt, BoltGroup, Edges, PivotTension};
pub use line::{LineProperties, Path};
pub use weld::{WeldAnswer, WeldGroup, WeldPoint, WeldRun};
pub use wrench::{JointAxes, Wrench};

/// A point, direction, force or moment in space: m, 1, N or N m.
pub type Vec3 = nalgebra::Vector3<f64>;
