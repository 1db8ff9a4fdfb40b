//! The section of a bar in car axes: y of the section is forward, z is up.

use fishplate_solver::model::BeamSection;
use fishplate_strength::catalog;
use fishplate_strength::section::{Angle, Flat, RectangularTube, RoundTube};
use fishplate_strength::section::{SectionProperties, SectionShape};

use crate::describe::{BarShape, Direction};

/// The section of a bar as it lies in the car.
#[derive(Debug, Clone)]
pub(crate) struct BarSection {
    /// The shape as drawn.
    pub(crate) shape: SectionShape,
    /// Its properties as drawn.
    pub(crate) properties: SectionProperties,
    /// Sign that turns drawn +y into forward.
    pub(crate) forward: f64,
    /// Sign that turns drawn +z into up.
    pub(crate) up: f64,
    /// Centroid in the car: x and z, m.
    pub(crate) centroid: [f64; 2],
    /// Where the shape came from: the catalogue, or geometry with sharp corners.
    pub(crate) basis: &'static str,
}

impl BarSection {
    /// The section of a bar that runs along `line` (x, z).
    ///
    /// # Errors
    /// What is wrong with the shape, in words.
    pub(crate) fn of(
        shape: BarShape,
        legs: Option<[Direction; 2]>,
        line: [f64; 2],
    ) -> Result<Self, String> {
        let wrong = |e: fishplate_strength::section::SectionError| e.to_string();
        let (drawn, basis): (SectionShape, _) = match (shape, legs) {
            (BarShape::Angle { leg_a, leg_b, thickness }, Some([first, _])) => {
                let (horizontal, vertical) =
                    if first.axis == 0 { (leg_a, leg_b) } else { (leg_b, leg_a) };
                match catalog::find_angle(vertical, horizontal, thickness) {
                    Ok(angle) => (angle.into(), "catalogue, with its radii"),
                    Err(_) => (
                        Angle::sharp(vertical, horizontal, thickness).map_err(wrong)?.into(),
                        "geometry, sharp corners",
                    ),
                }
            }
            (BarShape::Angle { .. }, None) => return Err("an angle without legs".to_owned()),
            (BarShape::Box { height, width, wall }, _) => {
                match catalog::find_tube(height, width, wall) {
                    Ok(tube) => (tube.into(), "catalogue, with its radii"),
                    Err(_) => (
                        RectangularTube::uniform(height, width, wall, 2.0 * wall, wall)
                            .map_err(wrong)?
                            .into(),
                        "geometry, corners 2 t outside (EN 10219-2)",
                    ),
                }
            }
            (BarShape::Tube { diameter, wall }, _) => {
                (RoundTube::new(diameter, wall).map_err(wrong)?.into(), "geometry")
            }
            (BarShape::Flat { height, width }, _) => {
                (Flat::new(width, height).map_err(wrong)?.into(), "geometry")
            }
        };
        let properties = drawn.properties();
        let (forward, up) = legs.map_or((1.0, 1.0), |[a, b]| {
            let (dx, dz) = if a.axis == 0 { (a, b) } else { (b, a) };
            (dx.sign(), dz.sign())
        });
        let centroid =
            [line[0] + forward * properties.centroid_y, line[1] + up * properties.centroid_z];
        Ok(Self { shape: drawn, properties, forward, up, centroid, basis })
    }

    /// Product moment as it lies in the car, m⁴.
    pub(crate) fn i_yz(&self) -> f64 {
        self.properties.i_yz * self.forward * self.up
    }

    /// For the frame solver: slender bar, rigid in shear.
    pub(crate) fn beam(&self) -> BeamSection {
        let p = &self.properties;
        BeamSection {
            area: p.area,
            i_y: p.i_y,
            i_z: p.i_z,
            i_yz: self.i_yz(),
            torsion_constant: p.torsion.constant,
            shear_area_y: None,
            shear_area_z: None,
            shear_centre_y: p.shear_centre.y * self.forward,
            shear_centre_z: p.shear_centre.z * self.up,
            stress_points: Vec::new(),
            torsion_modulus: None,
        }
    }
}
