//! Springs that resist a weighted sum of movements.

use super::surface::Foot;
use crate::vector::{Vec3, cross, sub};
use std::collections::BTreeMap;

/// A spring that resists `terms . u`: it adds `stiffness * c c^T` to the stiffness matrix.
///
/// Movement `6 n + i` is component i of node n in global axes; nodes that joints bring along
/// ([`super::Joints::nodes`]) are numbered after those of the frame.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Row {
    /// Movements and their weights, ascending by movement.
    pub(crate) terms: Vec<(usize, f64)>,
    /// Force for each unit of the sum, N/m or N m/rad.
    pub(crate) stiffness: f64,
}

impl Row {
    /// The sum that it resists.
    pub(crate) fn sum(&self, movements: &[f64]) -> f64 {
        self.terms.iter().map(|&(i, c)| c * movements[i]).sum()
    }

    /// Its force, that is, what it pulls with against the sum.
    pub(crate) fn force(&self, movements: &[f64]) -> f64 {
        self.stiffness * self.sum(movements)
    }
}

/// A weighted sum of movements on its way to become a row.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Terms(BTreeMap<usize, f64>);

impl Terms {
    /// Adds a movement.
    pub(crate) fn add(&mut self, movement: usize, factor: f64) {
        *self.0.entry(movement).or_insert(0.0) += factor;
    }

    /// Adds another sum.
    pub(crate) fn add_sum(&mut self, other: &Terms, factor: f64) {
        for (&movement, &c) in &other.0 {
            self.add(movement, factor * c);
        }
    }

    /// Adds the movement along `direction` of a point that follows the foot rigidly.
    pub(crate) fn add_moves(&mut self, foot: &Foot, at: Vec3, direction: Vec3) {
        // direction . (rotation x arm) = rotation . (arm x direction)
        let turned = cross(sub(at, foot.point), direction);
        for (node, share) in foot.shares {
            for i in 0..3 {
                self.add(6 * node + i, share * direction[i]);
                self.add(6 * node + 3 + i, share * turned[i]);
            }
        }
    }

    /// Adds the rotation about `direction` of the foot.
    pub(crate) fn add_turns(&mut self, foot: &Foot, direction: Vec3) {
        for (node, share) in foot.shares {
            for (i, d) in direction.iter().enumerate() {
                self.add(6 * node + 3 + i, share * d);
            }
        }
    }

    /// The row that resists the sum.
    pub(crate) fn row(self, stiffness: f64) -> Row {
        let terms = self.0.into_iter().filter(|&(_, c)| c.abs() > 0.0).collect();
        Row { terms, stiffness }
    }
}

impl std::ops::Sub for &Terms {
    type Output = Terms;

    fn sub(self, other: &Terms) -> Terms {
        let mut sum = self.clone();
        sum.add_sum(other, -1.0);
        sum
    }
}
