//! Round tubes and round bars.

use super::error::{SectionError, not_negative, positive, within};
use super::outline::Outline;
use super::properties::{TorsionMethod, TorsionValue};
use super::region::Region;
use super::shape::{Anatomy, NamedPoint, Theory};
use fishplate_quantity::algebra::sq;
use std::f64::consts::PI;

/// A round hollow section. Drawing origin: its centre.
#[derive(Debug, Clone, PartialEq)]
pub struct RoundTube {
    outer: f64,
    inner: f64,
}

/// A solid round. Drawing origin: its centre.
#[derive(Debug, Clone, PartialEq)]
pub struct RoundBar {
    diameter: f64,
}

impl RoundTube {
    /// A tube of outer diameter and wall thickness, m.
    ///
    /// # Errors
    /// A dimension is not positive, or the wall reaches the centre.
    pub fn new(diameter: f64, thickness: f64) -> Result<Self, SectionError> {
        Self::worn(diameter, thickness, 0.0, 0.0)
    }

    /// A tube that has lost metal evenly all round: `loss_outside` and `loss_inside` are depths, m.
    ///
    /// # Errors
    /// As [`RoundTube::new`], or nothing is left of the wall.
    pub fn worn(
        diameter: f64,
        thickness: f64,
        loss_outside: f64,
        loss_inside: f64,
    ) -> Result<Self, SectionError> {
        const SHAPE: &str = "round tube";
        positive(SHAPE, "diameter", diameter)?;
        within(SHAPE, "thickness", thickness, 1e-6, 0.499 * diameter)?;
        not_negative(SHAPE, "loss outside", loss_outside)?;
        not_negative(SHAPE, "loss inside", loss_inside)?;
        within(SHAPE, "remaining thickness", thickness - loss_outside - loss_inside, 1e-6, 10.0)?;
        Ok(Self {
            outer: diameter - 2.0 * loss_outside,
            inner: diameter - 2.0 * (thickness - loss_inside),
        })
    }

    /// Outer diameter as it is now, m.
    #[must_use]
    pub fn diameter(&self) -> f64 {
        self.outer
    }

    /// Wall thickness as it is now, m.
    #[must_use]
    pub fn thickness(&self) -> f64 {
        (self.outer - self.inner) / 2.0
    }

    pub(super) fn anatomy(&self) -> Anatomy {
        let hole = Outline::circle((0.0, 0.0), self.inner / 2.0).reversed();
        let region = Region::of(vec![Outline::circle((0.0, 0.0), self.outer / 2.0), hole]);
        let mean = f64::midpoint(self.outer, self.inner);
        round_anatomy(region, self.outer, self.inner, Some(PI / 4.0 * sq(mean)))
    }
}

impl RoundBar {
    /// A bar of the given diameter, m.
    ///
    /// # Errors
    /// The diameter is not positive.
    pub fn new(diameter: f64) -> Result<Self, SectionError> {
        Ok(Self { diameter: positive("round bar", "diameter", diameter)? })
    }

    /// Diameter, m.
    #[must_use]
    pub fn diameter(&self) -> f64 {
        self.diameter
    }

    pub(super) fn anatomy(&self) -> Anatomy {
        let region = Region::of(vec![Outline::circle((0.0, 0.0), self.diameter / 2.0)]);
        round_anatomy(region, self.diameter, 0.0, None)
    }
}

/// Shear area by Cowper (The shear coefficient in Timoshenko's beam theory, J. Appl. Mech. 33, 1966) with Poisson's
/// ratio 0, which gives the smallest area: 6/7 of a solid bar, half of a thin tube.
fn round_anatomy(region: Region, outer: f64, inner: f64, enclosed_area: Option<f64>) -> Anatomy {
    let basics = region.basics();
    let m2 = sq(inner / outer);
    let shape = 6.0 * sq(1.0 + m2) / (7.0 * sq(1.0 + m2) + 20.0 * m2);
    let constant = basics.i_y + basics.i_z;
    let r = outer / 2.0;
    Anatomy {
        theory: Theory::Compact { shear_areas: (shape * basics.area, shape * basics.area) },
        torsion: TorsionValue { constant, modulus: constant / r, method: TorsionMethod::Round },
        enclosed_area,
        points: vec![
            NamedPoint::new("top", (0.0, r), None),
            NamedPoint::new("bottom", (0.0, -r), None),
            NamedPoint::new("left", (-r, 0.0), None),
            NamedPoint::new("right", (r, 0.0), None),
        ],
        walls: Vec::new(),
        region,
    }
}
