//! Bolts in a plane: shear by the elastic vector, tension about a compression edge or about the
//! centroid. (Tension on a bed that only presses is in [`bed`](super::bed).)
//!
//! All in the axes of the joint: x and y in the face, z out of it, a positive z force pulls the
//! joint open. Forces are those of the attached part on the bolts.

use fishplate_quantity::algebra::{abs, positive, sq};

use super::body::{FreeMotion, GroupError};
use super::{Vec3, Wrench};

/// One bolt: its place in the face (m) and the area that shares out the force (m²).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bolt {
    /// Place along the joint's x, m.
    pub x: f64,
    /// Place along the joint's y, m.
    pub y: f64,
    /// Area, m².
    pub area: f64,
}

/// Bolts that act together between two rigid faces.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltGroup {
    bolts: Vec<Bolt>,
}

/// The four straight edges of the pressed face, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edges {
    /// Least x.
    pub x_min: f64,
    /// Greatest x.
    pub x_max: f64,
    /// Least y.
    pub y_min: f64,
    /// Greatest y.
    pub y_max: f64,
}

/// Tension of one bolt about a compression edge, N, by its causes; never negative.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PivotTension {
    /// Share of a pulling force.
    pub from_force: f64,
    /// From the moment about the joint's x.
    pub from_m_x: f64,
    /// From the moment about the joint's y.
    pub from_m_y: f64,
    /// The three added.
    pub total: f64,
}

/// Second moments of the bolt areas about their centroid, m⁴.
struct Spread {
    xx: f64,
    xy: f64,
    yy: f64,
}

impl BoltGroup {
    /// A group of at least one bolt.
    ///
    /// # Errors
    /// [`GroupError::Empty`]; [`GroupError::BadNumber`] for a place that is not finite or an area
    /// that is not positive.
    pub fn new(bolts: Vec<Bolt>) -> Result<Self, GroupError> {
        if bolts.is_empty() {
            return Err(GroupError::Empty);
        }
        for (index, bolt) in bolts.iter().enumerate() {
            for (what, value, good) in [
                ("x", bolt.x, bolt.x.is_finite()),
                ("y", bolt.y, bolt.y.is_finite()),
                ("area", bolt.area, bolt.area.is_finite() && bolt.area > 0.0),
            ] {
                if !good {
                    return Err(GroupError::BadNumber { what, index, value });
                }
            }
        }
        Ok(Self { bolts })
    }

    /// The bolts, in the order given.
    #[must_use]
    pub fn bolts(&self) -> &[Bolt] {
        &self.bolts
    }

    /// Sum of the areas, m².
    #[must_use]
    pub fn area(&self) -> f64 {
        self.bolts.iter().map(|b| b.area).sum()
    }

    /// Centroid of the areas, m, in the face (z = 0).
    #[must_use]
    pub fn centroid(&self) -> Vec3 {
        let sum = |f: fn(&Bolt) -> f64| self.bolts.iter().map(|b| b.area * f(b)).sum::<f64>();
        Vec3::new(sum(|b| b.x), sum(|b| b.y), 0.0) / self.area()
    }

    fn spread(&self) -> Spread {
        let c = self.centroid();
        let mut s = Spread { xx: 0.0, xy: 0.0, yy: 0.0 };
        for b in &self.bolts {
            s.xx += b.area * sq(b.x - c.x);
            s.xy += b.area * (b.x - c.x) * (b.y - c.y);
            s.yy += b.area * sq(b.y - c.y);
        }
        s
    }

    /// Shear on each bolt (N, x and y): `F A/ΣA + M_z × r A/J`, J = Σ A r² about the centroid, the
    /// elastic vector of the machine-design textbooks.
    ///
    /// # Errors
    /// [`GroupError::Singular`] when all bolts lie in one point and a turn must be held.
    pub fn shear(&self, wrench: &Wrench) -> Result<Vec<[f64; 2]>, GroupError> {
        let c = self.centroid();
        let w = wrench.moved_to(c);
        let spread = self.spread();
        let polar = spread.xx + spread.yy;
        let area = self.area();
        let one_point = polar <= 1e-12 * area * sq(self.reach());
        if one_point && !self.is_small(w.moment.z, &w) {
            let free = vec![FreeMotion::Turn { axis: Vec3::z(), through: c }];
            return Err(GroupError::Singular { free });
        }
        let turn = if one_point { 0.0 } else { w.moment.z / polar };
        Ok(self
            .bolts
            .iter()
            .map(|b| {
                [
                    b.area * (w.force.x / area - turn * (b.y - c.y)),
                    b.area * (w.force.y / area + turn * (b.x - c.x)),
                ]
            })
            .collect())
    }

    /// Normal force of each bolt (N, tension positive) when the joint stays closed by preload:
    /// linear over the face about the centroid of the bolts, so some are negative (the clamped
    /// faces carry that part).
    ///
    /// # Errors
    /// [`GroupError::Singular`] when the bolts lie in a row or in one point and the moment turns
    /// about it.
    pub fn tension_about_centroid(&self, wrench: &Wrench) -> Result<Vec<f64>, GroupError> {
        let c = self.centroid();
        let w = wrench.moved_to(c);
        let Spread { xx, xy, yy } = self.spread();
        let area = self.area();
        let determinant = xx * yy - sq(xy);
        let trace = xx + yy;
        let (slope_x, slope_y) = if determinant > 1e-12 * sq(trace) {
            (
                (-w.moment.y * yy - w.moment.x * xy) / determinant,
                (w.moment.x * xx + w.moment.y * xy) / determinant,
            )
        } else {
            self.slope_of_a_row(&w, c, trace)?
        };
        Ok(self
            .bolts
            .iter()
            .map(|b| b.area * (w.force.z / area + slope_x * (b.x - c.x) + slope_y * (b.y - c.y)))
            .collect())
    }

    /// Bolts in a row hold the moment across the row, nothing else.
    fn slope_of_a_row(&self, w: &Wrench, c: Vec3, trace: f64) -> Result<(f64, f64), GroupError> {
        let Spread { xx, xy, yy } = self.spread();
        let one_point = trace <= 1e-12 * self.area() * sq(self.reach());
        let row = if one_point {
            Vec3::zeros()
        } else if xx >= yy {
            Vec3::new(xx, xy, 0.0).normalize()
        } else {
            Vec3::new(xy, yy, 0.0).normalize()
        };
        let across = Vec3::z().cross(&row);
        let held = w.moment.dot(&across);
        let loose = Vec3::new(w.moment.x, w.moment.y, 0.0) - across * held;
        if !self.is_small(loose.norm(), w) {
            let free = vec![FreeMotion::Turn { axis: loose.normalize(), through: c }];
            return Err(GroupError::Singular { free });
        }
        if one_point {
            return Ok((0.0, 0.0));
        }
        // A pull at +row turns about -across.
        let slope = -held / trace;
        Ok((slope * row.x, slope * row.y))
    }

    /// Tension of each bolt when the joint pivots about its compression edge: each moment alone
    /// about its own edge, `T = M A d/Σ A d²` with d from the edge, then added to the share of a
    /// pulling force; moments are about the centroid of the bolts. A pushing force is left out: it
    /// could only help.
    ///
    /// # Errors
    /// [`GroupError::OutsideFace`]; [`GroupError::Singular`] when all bolts lie on the edge.
    pub fn tension_about_edge(
        &self,
        wrench: &Wrench,
        edges: &Edges,
    ) -> Result<Vec<PivotTension>, GroupError> {
        let outside = |b: &Bolt| {
            b.x < edges.x_min || b.x > edges.x_max || b.y < edges.y_min || b.y > edges.y_max
        };
        if let Some(index) = self.bolts.iter().position(outside) {
            return Err(GroupError::OutsideFace { index });
        }
        let c = self.centroid();
        let w = wrench.moved_to(c);
        // A moment about x pulls where y is on its positive side; one about y where x is not.
        let from_m_x = self.pivot(w.moment.x, |b| {
            if w.moment.x > 0.0 { b.y - edges.y_min } else { edges.y_max - b.y }
        });
        let from_m_y = self.pivot(w.moment.y, |b| {
            if w.moment.y > 0.0 { edges.x_max - b.x } else { b.x - edges.x_min }
        });
        let singular = |axis: Vec3| {
            move || GroupError::Singular { free: vec![FreeMotion::Turn { axis, through: c }] }
        };
        let from_m_x = from_m_x.ok_or_else(singular(Vec3::x()))?;
        let from_m_y = from_m_y.ok_or_else(singular(Vec3::y()))?;
        let pull = positive(w.force.z) / self.area();
        Ok(self
            .bolts
            .iter()
            .zip(from_m_x.into_iter().zip(from_m_y))
            .map(|(b, (from_m_x, from_m_y))| {
                let from_force = pull * b.area;
                let total = from_force + from_m_x + from_m_y;
                PivotTension { from_force, from_m_x, from_m_y, total }
            })
            .collect())
    }

    fn pivot(&self, moment: f64, depth: impl Fn(&Bolt) -> f64) -> Option<Vec<f64>> {
        let sum: f64 = self.bolts.iter().map(|b| b.area * sq(depth(b))).sum();
        let moment = abs(moment);
        if moment > 0.0 && sum <= 1e-12 * self.area() * sq(self.reach()) {
            return None;
        }
        let per = if moment > 0.0 { moment / sum } else { 0.0 };
        Some(self.bolts.iter().map(|b| per * b.area * depth(b)).collect())
    }

    /// Greatest distance of a bolt from the origin, at least 1 mm: the length rounding is judged by.
    fn reach(&self) -> f64 {
        self.bolts.iter().map(|b| b.x.hypot(b.y)).fold(1e-3, |a, b| if b > a { b } else { a })
    }

    /// Whether a moment is rounding beside the rest of the loading.
    fn is_small(&self, moment: f64, w: &Wrench) -> bool {
        abs(moment) <= 1e-9 * (w.force.norm() * self.reach() + w.moment.norm())
    }
}

#[cfg(test)]
mod tests;
