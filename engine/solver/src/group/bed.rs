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
mod tests {
    use super::*;

    fn near(got: f64, expected: f64, tolerance: f64) {
        assert!((got - expected).abs() <= tolerance * expected.abs(), "{got} against {expected}");
    }

    fn wrench(n: f64, m_x: f64, m_y: f64) -> Wrench {
        let (force, moment) = (Vec3::new(0.0, 0.0, n), Vec3::new(m_x, m_y, 0.0));
        Wrench { force, moment, about: Vec3::zeros() }
    }

    fn foot() -> (BoltGroup, Bed) {
        let rows = [0.040, 0.110, 0.170];
        let bolts = rows.iter().flat_map(|&y| [-0.02, 0.02].map(|x| Bolt { x, y, area: 84.3e-6 }));
        let group = BoltGroup::new(bolts.collect()).unwrap();
        (group, Bed::rectangle([0.0, 0.1], [0.08, 0.2], 1e12).unwrap())
    }

    // Neutral-axis method (AISC Manual Part 7, from memory; derived: b c²/2 = Σ n A_s (d_i - c)):
    // foot 200 × 80 mm, rows at 40, 110, 170 mm, two bolts of 84.3 mm² each, M = 4e6 N mm.
    #[test]
    fn foot_with_a_neutral_axis() {
        let (group, bed) = foot();
        let answer = bed.with_bolts(&group, 1e12, &wrench(0.0, 4000.0, 0.0)).unwrap();
        let [a, b, c] = answer.plane;
        near(-a / c, 30.943_758e-3, 1e-7);
        assert!(b.abs() < 1e-9 * c);
        near(answer.tension[0], 596.691_66, 1e-7);
        near(answer.tension[2], 5_208.805_3, 1e-7);
        near(answer.tension[4], 9_162.045_6, 1e-7);
        near(answer.peak_pressure, 24.185_075e6, 1e-7);
        near(answer.compression, 29_935.085, 1e-7);
        // M = K c I with I of the cracked section.
        near(4000.0 / (1e12 * c), 5_117_827e-12, 1e-6);
        assert!(answer.residual < 1e-12);
    }

    // Footing outside the kern (any foundation textbook): contact 3(B/2 - e), q = 2N/(3W(B/2 - e));
    // block 300 × 120 mm, 50 kN at 95 mm.
    #[test]
    fn block_pressed_outside_its_kern() {
        let bed = Bed::rectangle([0.0, 0.0], [0.3, 0.12], 1e9).unwrap();
        let load = Wrench::of_force(Vec3::new(0.0, 0.0, -50e3), Vec3::new(0.095, 0.0, 0.0));
        let answer = bed.press(&load).unwrap();
        near(answer.pressed_area / 0.12, 0.165, 1e-9);
        near(answer.peak_pressure, 5.050_505_1e6, 1e-8);
        near(answer.compression, 50e3, 1e-12);
    }

    // Inside the kern the bed is pressed all over: q = N/A (1 + 6 e/B), any foundation textbook.
    #[test]
    fn block_pressed_inside_its_kern() {
        let bed = Bed::rectangle([0.02, -0.01], [0.3, 0.12], 1e9).unwrap();
        let load = Wrench::of_force(Vec3::new(0.0, 0.0, -50e3), Vec3::new(0.06, -0.01, 0.0));
        let answer = bed.press(&load).unwrap();
        near(answer.peak_pressure, 50e3 / 0.036 * (1.0 + 6.0 * 0.04 / 0.3), 1e-12);
    }

    // A square pressed on its diagonal so far out that a corner triangle alone carries: the
    // pressure is a pyramid over a right isosceles triangle of legs s, N = p s²/6, its centre s/4
    // from the corner along each leg (integrals of x, y over the triangle, by hand).
    #[test]
    fn corner_of_a_square_alone() {
        let bed = Bed::rectangle([0.0, 0.0], [0.2, 0.2], 1e9).unwrap();
        let reach = 0.1 - 0.16 / 4.0;
        let load = Wrench::of_force(Vec3::new(0.0, 0.0, -10e3), Vec3::new(reach, reach, 0.0));
        let answer = bed.press(&load).unwrap();
        near(answer.pressed_area, 0.16 * 0.16 / 2.0, 1e-9);
        near(answer.peak_pressure, 6.0 * 10e3 / (0.16 * 0.16), 1e-9);
    }

    #[test]
    fn a_push_beyond_the_outline_tips_the_block() {
        let bed = Bed::rectangle([0.0, 0.0], [0.3, 0.12], 1e9).unwrap();
        let load = Wrench::of_force(Vec3::new(0.0, 0.0, -50e3), Vec3::new(0.16, 0.0, 0.0));
        assert!(matches!(bed.press(&load), Err(GroupError::NoEquilibrium { .. })));
        assert!(matches!(bed.press(&wrench(1.0, 0.0, 0.0)), Err(GroupError::NoEquilibrium { .. })));
    }

    // Statics: a pull through the centroid of equal bolts is shared equally, nothing presses.
    #[test]
    fn a_plain_pull_leaves_the_bed() {
        let (group, bed) = foot();
        let pull = Wrench::of_force(Vec3::new(0.0, 0.0, 6e3), group.centroid());
        let answer = bed.with_bolts(&group, 1e12, &pull).unwrap();
        assert!(answer.tension.iter().all(|t| (t - 1e3).abs() < 1e-6));
        assert!(answer.pressed_area.abs() < 1e-15);
    }

    // Statics: bolts and bed together give back the load, for a neutral axis in any direction.
    #[test]
    fn biaxial_bending_is_in_balance() {
        let (group, bed) = foot();
        for turn in 0..12 {
            let angle = f64::from(turn) * std::f64::consts::TAU / 12.0;
            let about = group.centroid();
            let load = Wrench { about, ..wrench(-2e3, 2e3 * angle.cos(), 700.0 * angle.sin()) };
            let answer = bed.with_bolts(&group, 1e11, &load).unwrap();
            let pull: f64 = answer.tension.iter().sum();
            near(answer.compression - pull, 2e3, 1e-9);
            // Mid-point quadrature of the pressure on a fine grid is the second method.
            let (mut m_x, mut m_y) = (0.0, 0.0);
            for (bolt, t) in group.bolts().iter().zip(&answer.tension) {
                m_x += t * (bolt.y - about.y);
                m_y -= t * (bolt.x - about.x);
            }
            let (columns, rows) = (1000, 2000);
            let cell = 0.08 * 0.2 / f64::from(columns * rows);
            for i in 0..columns {
                for j in 0..rows {
                    let x = -0.04 + 0.08 * (f64::from(i) + 0.5) / f64::from(columns);
                    let y = 0.2 * (f64::from(j) + 0.5) / f64::from(rows);
                    let [a, b, c] = answer.plane;
                    let push = 1e12 * positive(-(a + b * x + c * y)) * cell;
                    m_x -= push * (y - about.y);
                    m_y += push * (x - about.x);
                }
            }
            let size = load.moment.norm();
            assert!((m_x - load.moment.x).abs() < 1e-4 * size, "{m_x} at {angle}");
            assert!((m_y - load.moment.y).abs() < 1e-4 * size, "{m_y} at {angle}");
        }
    }
}
