//! A force and a moment about a point, and the axes of a joint.

use nalgebra::Matrix3;

use super::Vec3;

/// A force and a moment about a point, all in the same axes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wrench {
    /// Resultant force, N.
    pub force: Vec3,
    /// Moment about [`Wrench::about`], N m, right-handed.
    pub moment: Vec3,
    /// The point the moment is taken about, m.
    pub about: Vec3,
}

impl Wrench {
    /// A single force acting at `at`.
    #[must_use]
    pub fn of_force(force: Vec3, at: Vec3) -> Self {
        Self { force, moment: Vec3::zeros(), about: at }
    }

    /// The same loading, its moment taken about `point`.
    #[must_use]
    pub fn moved_to(&self, point: Vec3) -> Self {
        let moment = self.moment + (self.about - point).cross(&self.force);
        Self { force: self.force, moment, about: point }
    }

    /// Both loadings together, about the point of `self`.
    #[must_use]
    pub fn plus(&self, other: &Self) -> Self {
        let other = other.moved_to(self.about);
        Self {
            force: self.force + other.force,
            moment: self.moment + other.moment,
            about: self.about,
        }
    }

    /// The loading turned and moved with the axes: from car axes into those of a joint.
    #[must_use]
    pub fn in_axes(&self, axes: &JointAxes) -> Self {
        Self {
            force: axes.direction_in(self.force),
            moment: axes.direction_in(self.moment),
            about: axes.point_in(self.about),
        }
    }
}

/// The axes of a joint: x and y in its face, z normal to it, pointing from the held part into the
/// attached part, so that a positive z force pulls the joint open.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JointAxes {
    origin: Vec3,
    // Columns are the joint axes in outer axes.
    turn: Matrix3<f64>,
}

impl JointAxes {
    /// Axes with their zero at `origin`, z along `normal`, x as near to `along` as square axes
    /// allow. `None` when the two directions are zero or parallel.
    #[must_use]
    pub fn new(origin: Vec3, along: Vec3, normal: Vec3) -> Option<Self> {
        let z = normal.try_normalize(1e-12)?;
        let x = (along - z * along.dot(&z)).try_normalize(1e-9 * along.norm())?;
        let y = z.cross(&x);
        Some(Self { origin, turn: Matrix3::from_columns(&[x, y, z]) })
    }

    /// A point given in outer axes, seen in the joint's.
    #[must_use]
    pub fn point_in(&self, outer: Vec3) -> Vec3 {
        self.turn.tr_mul(&(outer - self.origin))
    }

    /// A point given in the joint's axes, seen in outer axes.
    #[must_use]
    pub fn point_out(&self, inner: Vec3) -> Vec3 {
        self.origin + self.turn * inner
    }

    /// A force or direction given in outer axes, seen in the joint's.
    #[must_use]
    pub fn direction_in(&self, outer: Vec3) -> Vec3 {
        self.turn.tr_mul(&outer)
    }

    /// A force or direction given in the joint's axes, seen in outer axes.
    #[must_use]
    pub fn direction_out(&self, inner: Vec3) -> Vec3 {
        self.turn * inner
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_moved_force_keeps_its_moment() {
        // Mechanics: 100 N along z at x = 2 m turns by -200 N m about y of the origin.
        let wrench = Wrench::of_force(Vec3::new(0.0, 0.0, 100.0), Vec3::new(2.0, 0.0, 0.0));
        let moved = wrench.moved_to(Vec3::zeros());
        assert!((moved.moment - Vec3::new(0.0, -200.0, 0.0)).norm() < 1e-12);
        assert!(moved.moved_to(Vec3::new(2.0, 0.0, 0.0)).moment.norm() < 1e-12);
    }

    #[test]
    fn joint_axes_go_there_and_back() {
        let axes = JointAxes::new(
            Vec3::new(0.3, 0.4, 0.5),
            Vec3::new(1.0, 0.2, 0.0),
            Vec3::new(0.0, 1.0, 0.3),
        )
        .unwrap();
        let point = Vec3::new(-0.1, 0.7, 0.2);
        assert!((axes.point_out(axes.point_in(point)) - point).norm() < 1e-15);
        assert!((axes.direction_out(axes.direction_in(point)) - point).norm() < 1e-15);
    }

    #[test]
    fn parallel_directions_make_no_axes() {
        let z = Vec3::new(0.0, 0.0, 2.0);
        assert!(JointAxes::new(Vec3::zeros(), z, z).is_none());
    }
}
