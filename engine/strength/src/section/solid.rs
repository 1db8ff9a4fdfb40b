//! Solid rectangles: flats and plates seen in section.

use super::error::{SectionError, positive};
use super::outline::Outline;
use super::region::Region;
use super::shape::{Anatomy, NamedPoint, Theory};
use super::torsion::rectangle;

/// A solid rectangle. Drawing origin: its centre.
#[derive(Debug, Clone, PartialEq)]
pub struct Flat {
    width: f64,
    height: f64,
}

impl Flat {
    /// A rectangle `width` along y and `height` along z, m.
    ///
    /// # Errors
    /// A dimension is not positive.
    pub fn new(width: f64, height: f64) -> Result<Self, SectionError> {
        positive("flat", "width", width)?;
        positive("flat", "height", height)?;
        Ok(Self { width, height })
    }

    /// Size along y, m.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.width
    }

    /// Size along z, m.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.height
    }

    /// Shear areas are 5/6 of the area (parabolic shear stress; Timoshenko, Strength of Materials, Part I).
    pub(super) fn anatomy(&self) -> Anatomy {
        let (y, z) = (self.width / 2.0, self.height / 2.0);
        let corners = [(-y, -z, 0.0), (y, -z, 0.0), (y, z, 0.0), (-y, z, 0.0)];
        let shear = self.width * self.height * 5.0 / 6.0;
        Anatomy {
            region: Region::of(vec![Outline::polygon(&corners)]),
            theory: Theory::Compact { shear_areas: (shear, shear) },
            torsion: rectangle(self.width, self.height),
            enclosed_area: None,
            points: vec![
                NamedPoint::new("lower left corner", (-y, -z), None),
                NamedPoint::new("lower right corner", (y, -z), None),
                NamedPoint::new("upper right corner", (y, z), None),
                NamedPoint::new("upper left corner", (-y, z), None),
            ],
            walls: Vec::new(),
        }
    }
}
