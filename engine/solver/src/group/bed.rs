//! A rigid plate on bolts that only pull and a bed that only presses.
//!
//! The plate opens by w(x, y) = a + b x + c y (m). A bolt pulls with k w where w > 0; the bed
//! presses with p = −K w where w < 0 (K in N/m³). The neutral axis w = 0 may run in any direction;
//! the pressed part of the bed is cut out of its outline and integrated exactly.

use fishplate_quantity::algebra::{larger, positive, smaller, sq};
use nalgebra::{Matrix3, Vector3};

use super::body::GroupError;
use super::bolts::{Bolt, BoltGroup};
use super::convex::balance;
use super::polygon::{Moments, below, moments};
use super::{Vec3, Wrench};

/// A flat bed that presses and never pulls.
#[derive(Debug, Clone, PartialEq)]
pub struct Bed {
    outline: Vec<[f64; 2]>,
    modulus: f64,
}

/// The balance of a plate on its bolts and bed.
#[derive(Debug, Clone, PartialEq)]
pub struct BedAnswer {
    /// Tension of each bolt, N, never negative, in the order of the group.
    pub tension: Vec<f64>,
    /// Greatest pressure on the bed, Pa.
    pub peak_pressure: f64,
    /// Sum of the pressure, N.
    pub compression: f64,
    /// Pressed area, m².
    pub pressed_area: f64,
    /// Corners of the pressed part, m.
    pub pressed: Vec<[f64; 2]>,
    /// Opening w = `plane[0] + plane[1] x + plane[2] y`, m with x and y in m; the neutral axis is
    /// where it vanishes.
    pub plane: [f64; 3],
    /// Imbalance left over the load.
    pub residual: f64,
}

impl Bed {
    /// A bed with these corners (m, joint axes, in order round the outline, either way) and this
    /// modulus (N/m³: pressure per closing).
    ///
    /// # Errors
    /// [`GroupError::BadNumber`] for an outline without area, a place that is not finite or a
    /// modulus that is not positive.
    pub fn new(outline: Vec<[f64; 2]>, modulus: f64) -> Result<Self, GroupError> {
        for (index, corner) in outline.iter().enumerate() {
            if let Some(&value) = corner.iter().find(|v| !v.is_finite()) {
                return Err(GroupError::BadNumber { what: "corner of the bed", index, value });
            }
        }
        let area = moments(&outline).area;
        let mut outline = outline;
        if area < 0.0 {
            outline.reverse();
        }
        if area.abs() <= 0.0 {
            return Err(GroupError::BadNumber { what: "area of the bed", index: 0, value: area });
        }
        if !(modulus.is_finite() && modulus > 0.0) {
            let what = "modulus of the bed";
            return Err(GroupError::BadNumber { what, index: 0, value: modulus });
        }
        Ok(Self { outline, modulus })
    }

    /// A rectangle of size `size` (m, along x and y) about `centre` (m).
    ///
    /// # Errors
    /// As [`Bed::new`].
    pub fn rectangle(centre: [f64; 2], size: [f64; 2], modulus: f64) -> Result<Self, GroupError> {
        let corner =
            |sx: f64, sy: f64| [centre[0] + sx * size[0] / 2.0, centre[1] + sy * size[1] / 2.0];
        let outline = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
        Self::new(outline.map(|(x, y)| corner(x, y)).to_vec(), modulus)
    }

    /// Area of the whole bed, m².
    #[must_use]
    pub fn area(&self) -> f64 {
        moments(&self.outline).area
    }

    /// Second moments of the whole bed about its own centroid, m⁴: `∫ y² dA` for bending about x,
    /// `∫ x² dA` for bending about y.
    #[must_use]
    pub fn second_moments(&self) -> [f64; 2] {
        let m = moments(&self.outline);
        [m.yy - sq(m.y) / m.area, m.xx - sq(m.x) / m.area]
    }

    /// Balance of a plate on this bed alone, under `wrench` (joint axes; z pulls open).
    ///
    /// # Errors
    /// [`GroupError::NoEquilibrium`] when the resultant pulls or runs outside the outline.
    pub fn press(&self, wrench: &Wrench) -> Result<BedAnswer, GroupError> {
        self.solve(&[], &[], wrench)
    }

    /// Balance of a plate on this bed and on bolts of stiffness `bolt_modulus` × area (N/m³ · m²).
    ///
    /// # Errors
    /// [`GroupError::BadNumber`] for a modulus that is not positive; [`GroupError::NoEquilibrium`].
    pub fn with_bolts(
        &self,
        group: &BoltGroup,
        bolt_modulus: f64,
        wrench: &Wrench,
    ) -> Result<BedAnswer, GroupError> {
        if !(bolt_modulus.is_finite() && bolt_modulus > 0.0) {
            let what = "modulus of the bolts";
            return Err(GroupError::BadNumber { what, index: 0, value: bolt_modulus });
        }
        let stiffness: Vec<f64> = group.bolts().iter().map(|b| bolt_modulus * b.area).collect();
        self.solve(group.bolts(), &stiffness, wrench)
    }

    fn solve(
        &self,
        bolts: &[Bolt],
        stiffness: &[f64],
        wrench: &Wrench,
    ) -> Result<BedAnswer, GroupError> {
        let plate = Plate::new(self, bolts, stiffness);
        let w = wrench.moved_to(Vec3::new(plate.centre[0], plate.centre[1], 0.0));
        let load = Vector3::new(w.force.z, -w.moment.y / plate.length, w.moment.x / plate.length);
        let whole = plate.tangent_of(&plate.outline, |_| true);
        let start = whole.cholesky().map_or_else(Vector3::zeros, |factor| factor.solve(&load));
        let (q, _) = balance(start, &whole, load.norm(), |q| {
            let pressed = below(&plate.outline, [q[0], q[1], q[2]]);
            let tangent = plate.tangent_of(&pressed, |shape| shape.dot(q) > 0.0);
            // Every active force is linear in q, so the tangent is also the secant.
            (tangent * q - load, tangent)
        })?;
        Ok(plate.answer(&q, &load))
    }
}

/// The plate in unknowns of one unit: opening at the centre, and opening gained over one length.
struct Plate<'a> {
    centre: [f64; 2],
    length: f64,
    modulus: f64,
    outline: Vec<[f64; 2]>,
    places: Vec<[f64; 2]>,
    stiffness: &'a [f64],
}

impl<'a> Plate<'a> {
    fn new(bed: &Bed, bolts: &[Bolt], stiffness: &'a [f64]) -> Self {
        let m = moments(&bed.outline);
        let centre = [m.x / m.area, m.y / m.area];
        let length = m.area.sqrt();
        let shift = |x: f64, y: f64| [(x - centre[0]) / length, (y - centre[1]) / length];
        Self {
            centre,
            length,
            modulus: bed.modulus * sq(length),
            outline: bed.outline.iter().map(|&[x, y]| shift(x, y)).collect(),
            places: bolts.iter().map(|b| shift(b.x, b.y)).collect(),
            stiffness,
        }
    }

    /// Stiffness of the pressed part and of the bolts that `pulls` lets in.
    fn tangent_of(
        &self,
        pressed: &[[f64; 2]],
        pulls: impl Fn(&Vector3<f64>) -> bool,
    ) -> Matrix3<f64> {
        let Moments { area, x, y, xx, xy, yy } = moments(pressed);
        let mut k = Matrix3::new(area, x, y, x, xx, xy, y, xy, yy) * self.modulus;
        for (&[x, y], &stiffness) in self.places.iter().zip(self.stiffness) {
            let shape = Vector3::new(1.0, x, y);
            if pulls(&shape) {
                k += shape * shape.transpose() * stiffness;
            }
        }
        k
    }

    fn answer(&self, q: &Vector3<f64>, load: &Vector3<f64>) -> BedAnswer {
        let opening = |&[x, y]: &[f64; 2]| q[0] + q[1] * x + q[2] * y;
        let pressed = below(&self.outline, [q[0], q[1], q[2]]);
        let m = moments(&pressed);
        let tangent = self.tangent_of(&pressed, |shape| shape.dot(q) > 0.0);
        let pull = |(place, k): (&[f64; 2], &f64)| k * positive(opening(place));
        let deepest = pressed.iter().map(opening).fold(0.0, smaller);
        let [b, c] = [q[1] / self.length, q[2] / self.length];
        let outer = |&[x, y]: &[f64; 2]| {
            [self.centre[0] + x * self.length, self.centre[1] + y * self.length]
        };
        BedAnswer {
            tension: self.places.iter().zip(self.stiffness).map(pull).collect(),
            // The modulus of the plate is per unit square, which measures `length` a side.
            peak_pressure: -self.modulus * deepest / sq(self.length),
            compression: -self.modulus * (q[0] * m.area + q[1] * m.x + q[2] * m.y),
            pressed_area: m.area * sq(self.length),
            pressed: pressed.iter().map(outer).collect(),
            plane: [q[0] - b * self.centre[0] - c * self.centre[1], b, c],
            residual: (tangent * q - load).norm() / larger(load.norm(), f64::MIN_POSITIVE),
        }
    }
}

#[cfg(test)]
mod tests;
