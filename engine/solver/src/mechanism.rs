//! Free motions: found by inverse iteration, judged by the strain energy of the parts.
//!
//! A small pivot alone proves nothing: slender structures have small pivots too. A motion is free
//! when its energy, summed from the deformations of the parts, vanishes against that of the
//! scaled movement.

use crate::assembly::MOST_MODES;
use crate::error::FreeMotion;
use crate::linear::{Factor, Pattern, eigen::dense_symmetric, eigen::rough_vector};
use crate::model::{Dof, NodeId};
use std::sync::Arc;

/// Energy (Rayleigh quotient of the scaled stiffness) below which a motion is free. Rounding
/// leaves about 1e-31; what lies between this and 1e-15 f64 can't solve, and what a coordinate
/// written with nine digits keeps from being in line is a mechanism in practice.
const FREE: f64 = 1e-17;
/// How much a translation counts more than a rotation when a motion is named.
const TRANSLATIONS_FIRST: f64 = 100.0;
/// Inverse iteration steps; each divides what isn't free by its eigenvalue over the shift.
const STEPS: usize = 10;

/// Products of a matrix with some vectors.
pub(crate) type Product<'a> = &'a dyn Fn(&[Vec<f64>]) -> Vec<Vec<f64>>;

/// A stiffness that may be singular.
pub(crate) struct Suspect<'a> {
    pub(crate) pattern: &'a Arc<Pattern>,
    /// Scaled stiffness, lower triangle.
    pub(crate) values: &'a [f64],
    /// Scaled stiffness times each of some vectors, formed from the deformations of the parts.
    pub(crate) stiffness: Product<'a>,
    /// Movements of all nodes, global axes, from a scaled vector.
    pub(crate) expand: &'a dyn Fn(&[f64]) -> Vec<f64>,
    /// Length by which rotations are compared with translations, m.
    pub(crate) size: f64,
}

/// All free motions found, at most [`MOST_MODES`]; empty when the stiffness is sound.
pub(crate) fn free_motions(suspect: &Suspect<'_>) -> Vec<FreeMotion> {
    let size = suspect.pattern.size();
    let Some((shifted, shift)) = shifted_factor(suspect) else { return Vec::new() };
    let stiffness = suspect.stiffness;
    let count = if size < MOST_MODES + 2 { size } else { MOST_MODES + 2 };
    let mut block: Vec<Vec<f64>> = (0..count).map(|i| rough_vector(size, i)).collect();
    for vector in &mut block {
        shifted.solve(vector);
    }
    orthonormalise(&mut block);
    for _ in 0..STEPS {
        let images = stiffness(&block);
        for (vector, mut image) in block.iter_mut().zip(images) {
            shifted.solve(&mut image);
            for (v, i) in vector.iter_mut().zip(&image) {
                *v -= i;
            }
        }
        orthonormalise(&mut block);
        let softest = rotate_to_ritz(&mut block, stiffness);
        // Were there a free motion, what is stiffer than the shift would have left the block to
        // it by now.
        if softest > 100.0 * shift {
            return Vec::new();
        }
    }
    let mut free: Vec<Vec<f64>> = Vec::new();
    let images = stiffness(&block);
    for (vector, image) in block.iter().zip(images) {
        let energy: f64 = vector.iter().zip(&image).map(|(a, b)| a * b).sum();
        if energy.abs() < FREE && free.len() < MOST_MODES {
            free.push((suspect.expand)(vector));
        }
    }
    name(suspect.size, free)
}

/// Factor of the scaled stiffness plus the smallest multiple of the identity that makes it
/// positive definite.
fn shifted_factor(suspect: &Suspect<'_>) -> Option<(Factor, f64)> {
    let mut shift = 1e-14;
    while shift < 1e-5 {
        let mut shifted = suspect.values.to_vec();
        for unknown in 0..suspect.pattern.size() {
            shifted[suspect.pattern.diagonal(unknown)] += shift;
        }
        if let Ok(factor) = Factor::new(suspect.pattern, &shifted) {
            return Some((factor, shift));
        }
        shift *= 10.0;
    }
    None
}

fn orthonormalise(block: &mut Vec<Vec<f64>>) {
    let mut done: Vec<Vec<f64>> = Vec::with_capacity(block.len());
    for mut vector in block.drain(..) {
        let before = norm(&vector);
        for _ in 0..2 {
            for other in &done {
                let part: f64 = vector.iter().zip(other).map(|(a, b)| a * b).sum();
                for (v, o) in vector.iter_mut().zip(other) {
                    *v -= part * o;
                }
            }
        }
        let after = norm(&vector);
        if after > 1e-10 * before {
            for v in &mut vector {
                *v /= after;
            }
            done.push(vector);
        }
    }
    *block = done;
}

/// Turns the block so that its vectors approach single eigenvectors; returns the smallest Ritz
/// value, 0 when it can't be told.
fn rotate_to_ritz(block: &mut Vec<Vec<f64>>, stiffness: Product<'_>) -> f64 {
    let images = stiffness(block);
    let energy =
        |i: usize, j: usize| -> f64 { block[i].iter().zip(&images[j]).map(|(a, b)| a * b).sum() };
    let solved = dense_symmetric(block.len(), |i, j| 0.5 * (energy(i, j) + energy(j, i)));
    let Some((values, vectors)) = solved else { return 0.0 };
    let turned: Vec<Vec<f64>> = vectors
        .iter()
        .map(|weights| {
            let mut sum = vec![0.0; block[0].len()];
            for (w, v) in weights.iter().zip(block.iter()) {
                for (s, x) in sum.iter_mut().zip(v) {
                    *s += w * x;
                }
            }
            sum
        })
        .collect();
    *block = turned;
    orthonormalise(block);
    values.first().copied().unwrap_or(0.0)
}

/// Separates the motions so that each has a movement that the others lack (Gaussian elimination
/// with full pivoting), and names it.
fn name(size: f64, mut motions: Vec<Vec<f64>>) -> Vec<FreeMotion> {
    // Translations are compared with rotations by the size of the model. A node that swings is
    // told by where it goes; a rotation is named only when next to nothing translates.
    let weigh = |movement: usize, value: f64| {
        if movement % 6 < 3 { TRANSLATIONS_FIRST * value.abs() / size } else { value.abs() }
    };
    let mut pivots: Vec<usize> = Vec::new();
    for turn in 0..motions.len() {
        let mut best = (turn, 0, 0.0);
        for (row, motion) in motions.iter().enumerate().skip(turn) {
            for (movement, &value) in motion.iter().enumerate() {
                let weight = weigh(movement, value);
                // A later one must be clearly larger: rounding doesn't choose among equals.
                if weight > best.2 * (1.0 + 1e-9) {
                    best = (row, movement, weight);
                }
            }
        }
        let (row, pivot, _) = best;
        motions.swap(turn, row);
        pivots.push(pivot);
        let lead = motions[turn].clone();
        for (other, motion) in motions.iter_mut().enumerate() {
            if other != turn {
                let factor = motion[pivot] / lead[pivot];
                for (m, l) in motion.iter_mut().zip(&lead) {
                    *m -= factor * l;
                }
            }
        }
    }
    motions
        .into_iter()
        .zip(pivots)
        .map(|(motion, pivot)| {
            let unit = motion[pivot];
            let shape = motion
                .chunks_exact(6)
                .map(|node| [0, 1, 2, 3, 4, 5].map(|i| node[i] / unit))
                .collect();
            FreeMotion {
                node: NodeId(pivot / 6),
                direction: Dof::ALL[pivot % 6],
                within_beam: None,
                plates: Vec::new(),
                shape,
            }
        })
        .collect()
}

fn norm(v: &[f64]) -> f64 {
    v.iter().map(|x| x * x).sum::<f64>().sqrt()
}
