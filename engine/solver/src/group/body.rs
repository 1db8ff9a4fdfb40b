//! A rigid body on springs in space: `K u = w`, six equations.
//!
//! `K` = Σ Bᵀ k B with B = \[I, −S(r)\] (6 × 6), k the 3 × 3 stiffness of one spring (N/m), r its
//! arm from the reference point (m); `u` = translation of the reference point (m) and rotation
//! (rad); `w` = force (N) and moment (N m). Rotations are small: the equations are linear.

use nalgebra::{Matrix3, Matrix6, SymmetricEigen, Vector6};

use super::{Vec3, Wrench};

/// A rigid body and the springs it stands on.
#[derive(Debug, Clone)]
pub struct ElasticBody {
    springs: Vec<Spring>,
}

#[derive(Debug, Clone, Copy)]
struct Spring {
    at: Vec3,
    stiffness: Matrix3<f64>,
    turning: Matrix3<f64>,
}

/// A small movement of a rigid body.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Motion {
    /// Movement of the point [`Motion::about`], m.
    pub translation: Vec3,
    /// Rotation, rad, right-handed.
    pub rotation: Vec3,
    /// The point whose movement is the translation, m.
    pub about: Vec3,
}

impl Motion {
    /// Movement of the body's point `at`, m.
    #[must_use]
    pub fn at(&self, at: Vec3) -> Vec3 {
        self.translation + self.rotation.cross(&(at - self.about))
    }

    /// The same movement, told by the movement of `point`.
    #[must_use]
    pub fn moved_to(&self, point: Vec3) -> Self {
        Self { translation: self.at(point), rotation: self.rotation, about: point }
    }
}

/// A movement that no spring resists.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FreeMotion {
    /// The body slides along this direction (unit length).
    Slide(Vec3),
    /// The body turns about the line through `through` (m) along `axis` (unit length).
    Turn {
        /// Direction of the line.
        axis: Vec3,
        /// A point of the line, m.
        through: Vec3,
    },
}

/// Why a group has no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum GroupError {
    /// Nothing is in the group.
    #[error("the group is empty")]
    Empty,
    /// A number that cannot be: not finite, or not positive where it must be.
    #[error("{what} of member {index} is {value}")]
    BadNumber {
        /// What it measures.
        what: &'static str,
        /// Place of the member in the group, from 0.
        index: usize,
        /// The number.
        value: f64,
    },
    /// Fasteners that leave a movement free.
    #[error("nothing in the group resists {}", told(free))]
    Singular {
        /// The free movements, the freest first.
        free: Vec<FreeMotion>,
    },
    /// A point of the group lies outside the face it should lie on.
    #[error("member {index} lies outside the face")]
    OutsideFace {
        /// Place of the member in the group, from 0.
        index: usize,
    },
    /// Parts that only push or only pull cannot balance this load, or the search for the balance
    /// did not close.
    #[error(
        "no equilibrium found after {passes} passes; out of balance by {residual:.1e} of the load"
    )]
    NoEquilibrium {
        /// Passes made.
        passes: usize,
        /// Remaining imbalance over the load.
        residual: f64,
    },
}

fn told(free: &[FreeMotion]) -> String {
    let one = |motion: &FreeMotion| match motion {
        FreeMotion::Slide(d) => format!("sliding along ({:.3}, {:.3}, {:.3})", d.x, d.y, d.z),
        FreeMotion::Turn { axis: d, through: p } => format!(
            "turning about the line along ({:.3}, {:.3}, {:.3}) through ({:.4}, {:.4}, {:.4}) m",
            d.x, d.y, d.z, p.x, p.y, p.z
        ),
    };
    free.iter().map(one).collect::<Vec<_>>().join(", nor ")
}

/// Stiffness ratios below this are rounding, not a spring.
const SINGULAR: f64 = 1e-12;

/// The part of a load that may lie along a free movement and still count as rounding, so that the
/// load does not drive it: as much as an equilibrium may be out by.
const UNDRIVEN: f64 = 1e-9;

impl ElasticBody {
    /// A body without springs.
    #[must_use]
    pub fn new() -> Self {
        Self { springs: Vec::new() }
    }

    /// Adds a spring at `at` (m) with a 3 × 3 stiffness (N/m, symmetric, not negative) and a
    /// turning stiffness (N m/rad), both in the axes of the body.
    pub fn add(&mut self, at: Vec3, stiffness: Matrix3<f64>, turning: Matrix3<f64>) {
        self.springs.push(Spring { at, stiffness, turning });
    }

    /// Centre of the springs weighted by stiffness (m) and their radius about it (m, or 1 when
    /// they all lie in one point): where the six equations are best scaled.
    #[must_use]
    pub fn centre_and_radius(&self) -> (Vec3, f64) {
        let weight = |s: &Spring| s.stiffness.trace();
        let total: f64 = self.springs.iter().map(weight).sum();
        if total <= 0.0 {
            return (Vec3::zeros(), 1.0);
        }
        let centre = self.springs.iter().fold(Vec3::zeros(), |c, s| c + s.at * (weight(s) / total));
        let square: f64 =
            self.springs.iter().map(|s| weight(s) / total * (s.at - centre).norm_squared()).sum();
        let radius = square.sqrt();
        let largest =
            self.springs.iter().map(|s| s.at.norm()).fold(0.0, |a, b| if b > a { b } else { a });
        (centre, if radius > 1e-9 * largest { radius } else { 1.0 })
    }

    /// `K` about `about`, unscaled.
    #[must_use]
    pub fn stiffness_about(&self, about: Vec3) -> Matrix6<f64> {
        self.springs.iter().fold(Matrix6::zeros(), |mut sum, spring| {
            sum += spring_stiffness(&spring.stiffness, spring.at - about);
            let mut turning = sum.fixed_view_mut::<3, 3>(3, 3);
            turning += spring.turning;
            sum
        })
    }

    /// The movements that no spring resists, the freest first; none of a body that stands.
    #[must_use]
    pub fn free_motions(&self) -> Vec<FreeMotion> {
        let (centre, radius) = self.centre_and_radius();
        Free::of(&scaled(&self.stiffness_about(centre), radius)).told(centre, radius)
    }

    /// The movement of the body under `wrench`.
    ///
    /// A movement that no spring resists and on which the load does no work is left out: of all
    /// movements that balance the load the answer is the smallest, rotations measured at the
    /// radius of the springs. What the springs carry is the same in all of them.
    ///
    /// # Errors
    /// [`GroupError::Empty`]; [`GroupError::Singular`] with the free movements named, where the
    /// load drives one of them.
    pub fn solve(&self, wrench: &Wrench) -> Result<Motion, GroupError> {
        if self.springs.is_empty() {
            return Err(GroupError::Empty);
        }
        let (centre, radius) = self.centre_and_radius();
        let mut stiffness = scaled(&self.stiffness_about(centre), radius);
        let wrench = wrench.moved_to(centre);
        let mut load = stacked(wrench.force, wrench.moment / radius);
        let free = Free::of(&stiffness);
        let drives = |mode: &Vector6<f64>| mode.dot(&load).abs() > UNDRIVEN * load.norm();
        let singular = || GroupError::Singular { free: free.told(centre, radius) };
        if free.modes.iter().any(drives) {
            return Err(singular());
        }
        // A spring along each free movement makes the equations regular and, as nothing of the
        // load is left along it, stays unstrained.
        let held = if free.stiffest > 0.0 { free.stiffest } else { 1.0 };
        for mode in &free.modes {
            stiffness += mode * mode.transpose() * held;
            load -= mode * mode.dot(&load);
        }
        let factor = stiffness.cholesky().ok_or_else(singular)?;
        let first = factor.solve(&load);
        // One step of refinement takes the rounding of the factorisation out.
        let u = first + factor.solve(&(load - stiffness * first));
        Ok(Motion {
            translation: u.fixed_rows::<3>(0).into_owned(),
            rotation: u.fixed_rows::<3>(3) / radius,
            about: centre,
        })
    }
}

impl Default for ElasticBody {
    fn default() -> Self {
        Self::new()
    }
}

/// `Bᵀ k B` of one spring with arm `arm` (m).
#[must_use]
pub fn spring_stiffness(stiffness: &Matrix3<f64>, arm: Vec3) -> Matrix6<f64> {
    let cross = arm.cross_matrix();
    let mut k = Matrix6::zeros();
    k.fixed_view_mut::<3, 3>(0, 0).copy_from(stiffness);
    k.fixed_view_mut::<3, 3>(0, 3).copy_from(&(-stiffness * cross));
    k.fixed_view_mut::<3, 3>(3, 0).copy_from(&(cross * stiffness));
    k.fixed_view_mut::<3, 3>(3, 3).copy_from(&(-cross * stiffness * cross));
    k
}

/// Two vectors stacked to six numbers.
#[must_use]
pub fn stacked(upper: Vec3, lower: Vec3) -> Vector6<f64> {
    Vector6::new(upper.x, upper.y, upper.z, lower.x, lower.y, lower.z)
}

/// Rotations measured as movement at `radius`, so that all six equations are in N and m.
fn scaled(k: &Matrix6<f64>, radius: f64) -> Matrix6<f64> {
    let mut scaled = *k;
    for i in 0..6 {
        for j in 0..6 {
            let powers = i32::from(i > 2) + i32::from(j > 2);
            scaled[(i, j)] /= radius.powi(powers);
        }
    }
    scaled
}

/// The movements that no spring resists, freest first, each of unit length and square to the
/// others, and the greatest stiffness there is.
struct Free {
    modes: Vec<Vector6<f64>>,
    stiffest: f64,
}

impl Free {
    fn of(scaled: &Matrix6<f64>) -> Self {
        let eigen = SymmetricEigen::new(*scaled);
        let stiffest = eigen.eigenvalues.iter().fold(0.0, |a, &b| if b > a { b } else { a });
        let mut order: Vec<usize> = (0..6).collect();
        order.sort_by(|&a, &b| eigen.eigenvalues[a].total_cmp(&eigen.eigenvalues[b]));
        let modes = order
            .into_iter()
            .filter(|&i| stiffest <= 0.0 || eigen.eigenvalues[i] < SINGULAR * stiffest)
            .map(|i| eigen.eigenvectors.column(i).into_owned())
            .collect();
        Self { modes, stiffest }
    }

    fn told(&self, centre: Vec3, radius: f64) -> Vec<FreeMotion> {
        self.modes.iter().map(|mode| free_motion(mode, centre, radius)).collect()
    }
}

fn free_motion(mode: &Vector6<f64>, centre: Vec3, radius: f64) -> FreeMotion {
    let slide: Vec3 = mode.fixed_rows::<3>(0).into_owned();
    let turn: Vec3 = mode.fixed_rows::<3>(3) / radius;
    if turn.norm() * radius < 1e-6 {
        return FreeMotion::Slide(slide.normalize());
    }
    let through = centre + turn.cross(&slide) / turn.norm_squared();
    FreeMotion::Turn { axis: turn.normalize(), through }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(x: f64, y: f64, z: f64) -> Vec3 {
        Vec3::new(x, y, z) * 1e-3
    }

    fn diagonal(x: f64, y: f64, z: f64) -> Matrix3<f64> {
        Matrix3::from_diagonal(&Vec3::new(x, y, z))
    }

    // Rigid-body statics with linear springs, R = F (1/n + ex x/Σx² + ey y/Σy²), the pile-group
    // formula of the textbooks; k_z = 1200 N/mm, F_z = -9000 N at (110, -65) mm.
    #[test]
    fn four_equal_springs_under_an_offset_load() {
        let corners = [(-350.0, -230.0), (350.0, -230.0), (350.0, 230.0), (-350.0, 230.0)];
        let mut body = ElasticBody::new();
        for (x, y) in corners {
            body.add(mm(x, y, 0.0), diagonal(1.2e6, 1.2e6, 1.2e6), Matrix3::zeros());
        }
        let load = Wrench::of_force(Vec3::new(0.0, 0.0, -9000.0), mm(110.0, -65.0, 0.0));
        let motion = body.solve(&load).unwrap().moved_to(Vec3::zeros());
        let expected = [-2_178.726_7, -3_593.012_4, -2_321.273_3, -906.987_58];
        for ((x, y), force) in corners.into_iter().zip(expected) {
            let got = 1.2e6 * motion.at(mm(x, y, 0.0)).z;
            assert!((got / force - 1.0).abs() < 1e-6, "{got} against {force}");
        }
        assert!((motion.translation.z / -1.875e-3 - 1.0).abs() < 1e-6);
        assert!((motion.rotation.x / 0.002_303_875_2 - 1.0).abs() < 1e-6);
        assert!((motion.rotation.y / 0.001_683_673_5 - 1.0).abs() < 1e-6);
    }

    #[test]
    fn springs_in_a_row_leave_the_turn_about_the_row() {
        let mut body = ElasticBody::new();
        for x in [0.0, 100.0, 250.0] {
            body.add(mm(x, 40.0, 20.0), diagonal(1e6, 2e6, 3e6), Matrix3::zeros());
        }
        let load = Wrench::of_force(Vec3::new(0.0, 0.0, 1.0), Vec3::zeros());
        let Err(GroupError::Singular { free }) = body.solve(&load) else {
            panic!("three springs in a row cannot hold a turn about the row");
        };
        assert_eq!(free.len(), 1);
        let FreeMotion::Turn { axis, through } = free[0] else {
            panic!("the free movement is a turn");
        };
        assert!(axis.cross(&Vec3::x()).norm() < 1e-6);
        assert!((through - mm(through.x * 1e3, 40.0, 20.0)).norm() < 1e-6);
    }

    // Statics of a beam on two of three springs in a row: k (u + theta x) with the sums
    // n k u = F and k theta Σx² = M, x from the middle; the turn about the row stays out.
    #[test]
    fn a_load_on_the_line_of_a_row_leaves_the_free_turn_alone() {
        // A row along (3, 4, 0), away from the origin, so that no axis is met by chance.
        let (along, middle) = (Vec3::new(0.6, 0.8, 0.0), mm(700.0, -400.0, 250.0));
        let mut body = ElasticBody::new();
        for x in [-100.0, 0.0, 100.0] {
            body.add(middle + along * (x * 1e-3), diagonal(1e6, 1e6, 1e6), Matrix3::zeros());
        }
        let at = middle + along * 0.06;
        let load = Wrench::of_force(Vec3::new(0.0, 0.0, 600.0), at);
        let motion = body.solve(&load).unwrap();
        assert!(motion.rotation.dot(&along).abs() < 1e-15);
        for x in [-0.1, 0.0, 0.1] {
            let expected = 600.0 / 3e6 + 600.0 * 0.06 / (1e6 * 0.02) * x;
            let moved = motion.at(middle + along * x);
            assert!((moved - Vec3::z() * expected).norm() < 1e-12 * expected.abs() + 1e-16);
        }
        // The same force a tenth of a millimetre beside the line turns the body.
        let beside = Wrench::of_force(load.force, at + Vec3::new(0.8, -0.6, 0.0) * 1e-4);
        assert!(
            matches!(body.solve(&beside), Err(GroupError::Singular { free }) if free.len() == 1)
        );
    }

    // Mechanics: springs in one point hold every force through it and no moment.
    #[test]
    fn springs_in_one_point_hold_a_force_through_it() {
        let mut body = ElasticBody::new();
        body.add(mm(30.0, 40.0, 50.0), diagonal(1e6, 2e6, 4e6), Matrix3::zeros());
        let force = Vec3::new(100.0, 200.0, 400.0);
        let through = body.solve(&Wrench::of_force(force, mm(30.0, 40.0, 50.0))).unwrap();
        assert!((through.translation - Vec3::new(1.0, 1.0, 1.0) * 1e-4).norm() < 1e-16);
        assert!(through.rotation.norm() < 1e-16);
        let beside = body.solve(&Wrench::of_force(force, Vec3::zeros()));
        assert!(matches!(beside, Err(GroupError::Singular { free }) if free.len() == 3));
    }

    #[test]
    fn springs_all_along_one_direction_let_the_body_slide() {
        let mut body = ElasticBody::new();
        for (x, y) in [(0.0, 0.0), (100.0, 0.0), (0.0, 100.0)] {
            body.add(mm(x, y, 0.0), diagonal(0.0, 0.0, 1e6), Matrix3::zeros());
        }
        let load = Wrench::of_force(Vec3::x(), Vec3::zeros());
        let Err(GroupError::Singular { free }) = body.solve(&load) else {
            panic!("vertical springs cannot hold a sideways force");
        };
        assert_eq!(free.len(), 3, "two slides and the turn about the vertical");
    }
}
