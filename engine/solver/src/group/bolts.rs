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
mod tests {
    use super::*;

    pub(crate) fn group(places: &[(f64, f64)], area: f64) -> BoltGroup {
        let bolt = |&(x, y): &(f64, f64)| Bolt { x: x * 1e-3, y: y * 1e-3, area };
        BoltGroup::new(places.iter().map(bolt).collect()).unwrap()
    }

    fn force(f: [f64; 3], at: [f64; 3]) -> Wrench {
        Wrench::of_force(Vec3::from(f), Vec3::from(at) * 1e-3)
    }

    fn near(got: f64, expected: f64, tolerance: f64) {
        assert!((got - expected).abs() <= tolerance * expected.abs(), "{got} against {expected}");
    }

    // Shigley's Mechanical Engineering Design, 9th ed. in SI (2011), Example 8-7 p. 457 (inputs and
    // r = 96.0 mm read; 21.0 kN and 14.8 kN from memory): four M16 at (±75, ±60) mm, 16 kN at
    // 425 mm. Exact values by the vector formula on paper.
    #[test]
    fn published_eccentric_bracket_in_shear() {
        let g = group(&[(75.0, 60.0), (75.0, -60.0), (-75.0, 60.0), (-75.0, -60.0)], 157e-6);
        let shear = g.shear(&force([0.0, -16e3, 0.0], [425.0, 0.0, 0.0])).unwrap();
        let resultant: Vec<f64> = shear.iter().map(|[x, y]| x.hypot(*y)).collect();
        near(resultant[0], 21.0e3, 0.01);
        near(resultant[2], 14.8e3, 0.01);
        near(resultant[0], 20_972.559, 1e-7);
        near(resultant[1], 20_972.559, 1e-7);
        near(resultant[2], 14_788.848, 1e-7);
        near(resultant[3], 14_788.848, 1e-7);
        near(shear[0][0], 11_056.911, 1e-7);
        near(shear[0][1], -17_821.138, 1e-7);
        let spread = g.spread();
        near((spread.xx + spread.yy) / 157e-6, 36_900e-6, 1e-9);
        near(((spread.xx + spread.yy) / g.area()).sqrt(), 0.096, 1e-3);
    }

    // Rigid-flange elastic distribution (common textbook practice; derived): five equal bolts,
    // force (3000, -9000, 6000) N at (120, 30, 80) mm.
    #[test]
    fn five_bolt_flange_under_a_general_load() {
        let places = [(-45.0, -40.0), (45.0, -40.0), (45.0, 40.0), (-45.0, 40.0), (0.0, 60.0)];
        let g = group(&places, 1e-4);
        let load = force([3000.0, -9000.0, 6000.0], [120.0, 30.0, 80.0]);
        near(g.centroid().y, 0.012, 1e-12);
        let normal = g.tension_about_centroid(&load).unwrap();
        let shear = g.shear(&load).unwrap();
        let tension = [-6106.3218, -772.98851, 6364.9425, 1031.6092, 5482.7586];
        let resultant = [3015.1113, 5498.2777, 5321.742, 2679.6971, 4143.2954];
        for i in 0..5 {
            near(normal[i], tension[i], 1e-7);
            near(shear[i][0].hypot(shear[i][1]), resultant[i], 1e-7);
        }
        near(shear[2][0], 2426.9275, 1e-7);
        near(shear[2][1], -4736.1335, 1e-7);
    }

    // The same flange as a rigid body on springs in space: a second method, other equations.
    #[test]
    fn five_bolt_flange_as_a_body_on_springs() {
        use super::super::ElasticBody;
        use nalgebra::Matrix3;
        let places = [(-45.0, -40.0), (45.0, -40.0), (45.0, 40.0), (-45.0, 40.0), (0.0, 60.0)];
        let g = group(&places, 1e-4);
        let load = force([3000.0, -9000.0, 6000.0], [120.0, 30.0, 80.0]);
        let mut body = ElasticBody::new();
        for b in g.bolts() {
            body.add(Vec3::new(b.x, b.y, 0.0), Matrix3::identity() * 1e8, Matrix3::zeros());
        }
        let motion = body.solve(&load).unwrap();
        let normal = g.tension_about_centroid(&load).unwrap();
        for (b, n) in g.bolts().iter().zip(normal) {
            near(1e8 * motion.at(Vec3::new(b.x, b.y, 0.0)).z, n, 1e-10);
        }
    }

    // Pivot-edge method of the machine-design textbooks: rows at 40, 110, 170 mm above the edge,
    // two bolts each, M = 4e6 N mm; T_i = M d_i/Σd².
    #[test]
    fn foot_pivoting_on_its_lower_edge() {
        let places: Vec<(f64, f64)> =
            [40.0, 110.0, 170.0].iter().flat_map(|&y| [(-20.0, y), (20.0, y)]).collect();
        let g = group(&places, 84.3e-6);
        let edges = Edges { x_min: -0.04, x_max: 0.04, y_min: 0.0, y_max: 0.2 };
        let moment = Wrench {
            force: Vec3::zeros(),
            moment: Vec3::new(4000.0, 0.0, 0.0),
            about: Vec3::zeros(),
        };
        let t = g.tension_about_edge(&moment, &edges).unwrap();
        near(t[0].total, 1877.9343, 1e-7);
        near(t[2].total, 5164.3192, 1e-7);
        near(t[4].total, 7981.2207, 1e-7);
    }

    // Linear distribution about the lower edge and about the centroid, by hand: rows at 30, 90,
    // 150 mm, M = 1.26 kN m: 0.6, 1.8, 3.0 kN; closed joint: 1260·0.06/(4·0.06²) = 5.25 kN.
    #[test]
    fn bracket_on_a_wall_both_ways() {
        let places: Vec<(f64, f64)> =
            [30.0, 90.0, 150.0].iter().flat_map(|&y| [(-30.0, y), (30.0, y)]).collect();
        let g = group(&places, 58e-6);
        let edges = Edges { x_min: -0.05, x_max: 0.05, y_min: 0.0, y_max: 0.18 };
        // 9 kN down at 140 mm from the wall pulls the upper bolts.
        let load = force([0.0, -9000.0, 0.0], [0.0, 90.0, 140.0]);
        let t = g.tension_about_edge(&load, &edges).unwrap();
        near(t[0].total, 600.0, 1e-9);
        near(t[2].total, 1800.0, 1e-9);
        near(t[4].total, 3000.0, 1e-9);
        near(g.tension_about_centroid(&load).unwrap()[5], 5250.0, 1e-9);
        near(g.shear(&load).unwrap()[0][1], -1500.0, 1e-9);
    }

    // Statics: two bolts 60 mm apart in a row along x. M_y about the row's middle gives M/60 mm;
    // M_x turns about the row and nothing holds it.
    #[test]
    fn two_bolts_in_a_row_hold_one_moment_only() {
        let g = group(&[(-30.0, 0.0), (30.0, 0.0)], 84.3e-6);
        let about_y = Wrench {
            force: Vec3::zeros(),
            moment: Vec3::new(0.0, 60.0, 0.0),
            about: Vec3::zeros(),
        };
        let t = g.tension_about_centroid(&about_y).unwrap();
        near(t[0], 1000.0, 1e-12);
        near(t[1], -1000.0, 1e-12);
        let about_x = Wrench { moment: Vec3::new(60.0, 0.0, 0.0), ..about_y };
        assert!(matches!(g.tension_about_centroid(&about_x), Err(GroupError::Singular { .. })));
    }

    #[test]
    fn one_bolt_holds_no_turn() {
        let g = group(&[(10.0, 20.0)], 84.3e-6);
        let through = force([100.0, 50.0, 30.0], [10.0, 20.0, 0.0]);
        assert_eq!(g.shear(&through).unwrap(), vec![[100.0, 50.0]]);
        let beside = force([100.0, 50.0, 30.0], [10.0, 80.0, 0.0]);
        assert!(matches!(g.shear(&beside), Err(GroupError::Singular { .. })));
    }

    #[test]
    fn a_push_never_relieves_the_pivot_bolts() {
        let g = group(&[(-30.0, 0.0), (30.0, 0.0)], 84.3e-6);
        let edges = Edges { x_min: -0.05, x_max: 0.05, y_min: -0.04, y_max: 0.04 };
        let push = force([0.0, 0.0, -5000.0], [0.0; 3]);
        let t = g.tension_about_edge(&push, &edges).unwrap();
        assert!(t.iter().all(|t| t.total.abs() < 1e-12));
        let narrow = Edges { x_max: 0.02, ..edges };
        let outside = g.tension_about_edge(&push, &narrow);
        assert_eq!(outside, Err(GroupError::OutsideFace { index: 1 }));
    }
}
