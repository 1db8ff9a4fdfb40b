//! The motion of a node, and the mean motion of an area.

use super::row::Terms;
use super::surface::Foot;
use crate::vector::{Vec3, cross, dot, scale, sub};
use nalgebra::Matrix6;

/// A rigid motion as sums of movements: translation of a point and rotation, global axes.
#[derive(Clone, Debug)]
pub(crate) struct Motion {
    /// The point whose translation it holds, m.
    about: Vec3,
    /// Translations x, y, z, rotations about x, y, z.
    parts: [Terms; 6],
}

/// A point of an area and how much it counts.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sample {
    /// Where, on the middle surface.
    pub(crate) foot: Foot,
    /// Its share of the area or of a length.
    pub(crate) weight: f64,
    /// Thickness of the plate, m.
    pub(crate) thickness: f64,
}

impl Motion {
    /// That of a node.
    pub(crate) fn of_node(node: usize, position: Vec3) -> Self {
        let parts = [0, 1, 2, 3, 4, 5].map(|i| {
            let mut terms = Terms::default();
            terms.add(6 * node + i, 1.0);
            terms
        });
        Motion { about: position, parts }
    }

    /// The rigid motion that comes nearest, in the mean of squares, to the movements of all fibres
    /// through the thickness at the samples. A force on it is shared out as by a group of equal
    /// bolts, `f = w (F / W + (I^-1 M) x r)`, the elastic distribution of handbooks.
    ///
    /// `None` when the samples don't determine a motion.
    pub(crate) fn mean(samples: &[Sample], about: Vec3) -> Option<Self> {
        let total: f64 = samples.iter().map(|s| s.weight).sum();
        let spread: f64 = samples
            .iter()
            .map(|s| {
                let arm = sub(s.foot.point, about);
                s.weight * (dot(arm, arm) + s.thickness * s.thickness / 12.0)
            })
            .sum();
        if !(total > 0.0 && spread > 0.0) {
            return None;
        }
        let radius = (spread / total).sqrt();
        // Rotations count as movements at the mean radius, so that the matrix is well scaled.
        let mut matrix = Matrix6::<f64>::zeros();
        let mut sums: [Terms; 6] = Default::default();
        for sample in samples {
            for (pattern, measured) in conditions(sample, about, radius) {
                let share = sample.weight / total;
                for i in 0..6 {
                    for j in 0..6 {
                        matrix[(i, j)] += share * pattern[i] * pattern[j];
                    }
                    if pattern[i].abs() > 0.0 {
                        sums[i].add_sum(&measured, share * pattern[i]);
                    }
                }
            }
        }
        let inverse = matrix.cholesky()?;
        // Of samples along a line only the fibres tell the rotation about it: a thin plate makes
        // a small pivot, nothing makes none.
        if (0..6).any(|i| inverse.l_dirty()[(i, i)] < 1e-6) {
            return None;
        }
        let inverse = inverse.inverse();
        let parts = [0, 1, 2, 3, 4, 5].map(|i| {
            let mut terms = Terms::default();
            for (j, sum) in sums.iter().enumerate() {
                terms.add_sum(sum, inverse[(i, j)] / if i < 3 { 1.0 } else { radius });
            }
            terms
        });
        Some(Motion { about, parts })
    }

    /// Movement along a direction of a point that follows the motion rigidly.
    pub(crate) fn moves(&self, at: Vec3, direction: Vec3) -> Terms {
        let turned = cross(sub(at, self.about), direction);
        let mut terms = Terms::default();
        let factors = direction.iter().chain(&turned);
        for (part, factor) in self.parts.iter().zip(factors) {
            terms.add_sum(part, *factor);
        }
        terms
    }

    /// Rotation about a direction.
    pub(crate) fn turns(&self, direction: Vec3) -> Terms {
        let mut terms = Terms::default();
        for (part, d) in self.parts[3..].iter().zip(direction) {
            terms.add_sum(part, d);
        }
        terms
    }
}

/// What a sample says of the motion: each sum of movements and what it is in terms of translation
/// and rotation times the radius. The fibres of a plate of thickness t turn with a mean square of
/// `t^2 / 12`; rotation about the normal moves none of them.
fn conditions(sample: &Sample, about: Vec3, radius: f64) -> Vec<([f64; 6], Terms)> {
    let arm = sub(sample.foot.point, about);
    let mut list = Vec::with_capacity(5);
    for i in 0..3 {
        let mut direction = [0.0; 3];
        direction[i] = 1.0;
        let turned = scale(1.0 / radius, cross(arm, direction));
        let mut terms = Terms::default();
        terms.add_moves(&sample.foot, sample.foot.point, direction);
        let [x, y, z] = direction;
        list.push(([x, y, z, turned[0], turned[1], turned[2]], terms));
    }
    let fibre = sample.thickness / 12f64.sqrt();
    for direction in super::surface::across(sample.foot.normal) {
        let [x, y, z] = scale(fibre / radius, direction);
        let mut terms = Terms::default();
        terms.add_turns(&sample.foot, scale(fibre, direction));
        list.push(([0.0, 0.0, 0.0, x, y, z], terms));
    }
    list
}
