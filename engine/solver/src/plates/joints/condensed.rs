//! The structure as the springs with laws see it.
//!
//! With every spring acting, the base matrix is `K' = K + C^T k C`. When the springs have slipped
//! by x, the movements are `u = u0 + K'^-1 C^T k x`; each spring then pulls with
//! `f = k (x - C u) = M x - k z`, where `z = C u0` are its movements under the loads alone and
//! `M = k - k C K'^-1 C^T k`. One matrix M serves all load cases.

use super::Base;
use super::law::Block;
use super::row::Row;
use crate::linear::DenseFactor;

/// Right-hand sides solved at a time.
const BATCH: usize = 64;
/// Below this a pivot of the scaled matrix means that nothing holds: true ones are the share of
/// the spring in what it and the structure give way, above 1e-8 for structures of this kind.
const HELD: f64 = 1e-10;
/// What is added to the scaled diagonal for a step out of a state in which nothing holds.
const NUDGE: f64 = 1e-8;

/// The matrix M and its rows.
#[derive(Debug)]
pub(crate) struct Condensed {
    /// First entry of each block, and their number at the end.
    pub(crate) first: Vec<usize>,
    /// Stiffness of each entry, N/m.
    pub(crate) stiffness: Vec<f64>,
    /// M, row by row; symmetric.
    matrix: Vec<f64>,
}

/// A direction within a block in which it may slip further: along it `f + extra s = constant`.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Slip {
    pub(crate) block: usize,
    pub(crate) direction: [f64; 2],
    /// Stiffness that goes on acting, N/m.
    pub(crate) extra: f64,
    /// Right-hand side, N.
    pub(crate) constant: f64,
}

impl Condensed {
    pub(crate) fn new(base: &dyn Base, blocks: &[Block]) -> Self {
        let mut first = vec![0];
        for block in blocks {
            first.push(first[first.len() - 1] + block.rows.len());
        }
        let rows: Vec<&Row> = blocks.iter().flat_map(|b| &b.rows).collect();
        let size = rows.len();
        let stiffness: Vec<f64> = rows.iter().map(|r| r.stiffness).collect();
        let mut matrix = vec![0.0; size * size];
        for start in (0..size).step_by(BATCH) {
            let end = if start + BATCH < size { start + BATCH } else { size };
            let forces: Vec<_> = rows[start..end].iter().map(|row| row.terms.clone()).collect();
            for (offset, movements) in base.respond(&forces).iter().enumerate() {
                let j = start + offset;
                for (i, row) in rows.iter().enumerate() {
                    matrix[i * size + j] -= row.force(movements) * stiffness[j];
                }
                matrix[j * size + j] += stiffness[j];
            }
        }
        for i in 0..size {
            for j in 0..i {
                let mean = 0.5 * (matrix[i * size + j] + matrix[j * size + i]);
                matrix[i * size + j] = mean;
                matrix[j * size + i] = mean;
            }
        }
        Condensed { first, stiffness, matrix }
    }

    pub(crate) fn size(&self) -> usize {
        self.stiffness.len()
    }

    /// `M x`.
    pub(crate) fn times(&self, x: &[f64]) -> Vec<f64> {
        let size = self.size();
        (0..size)
            .map(|i| self.matrix[i * size..(i + 1) * size].iter().zip(x).map(|(m, x)| m * x).sum())
            .collect()
    }

    /// Two entries of a block; the second is 0 where it has one.
    pub(crate) fn pair(&self, values: &[f64], block: usize) -> [f64; 2] {
        let (from, to) = (self.first[block], self.first[block + 1]);
        [values[from], if to - from > 1 { values[from + 1] } else { 0.0 }]
    }

    /// Slips s along the given directions such that `f + extra s = constant` in each of them,
    /// where `f = M s + fixed`. Returns them and whether the structure is held.
    pub(crate) fn solve(&self, slips: &[Slip], fixed: &[f64]) -> (Vec<f64>, bool) {
        let n = slips.len();
        if n == 0 {
            return (Vec::new(), true);
        }
        let size = self.size();
        let scale: Vec<f64> =
            slips.iter().map(|s| 1.0 / self.stiffness[self.first[s.block]].sqrt()).collect();
        let mut matrix = vec![0.0; n * n];
        let mut right = vec![0.0; n];
        let entries: Vec<Vec<(usize, f64)>> = slips.iter().map(|s| self.entries(s)).collect();
        for (j, of_j) in entries.iter().enumerate() {
            for (i, of_i) in entries.iter().enumerate().skip(j) {
                let mut sum = 0.0;
                for &(a, ca) in of_i {
                    for &(b, cb) in of_j {
                        sum += ca * cb * self.matrix[a * size + b];
                    }
                }
                matrix[j * n + i] = scale[i] * scale[j] * sum;
            }
            matrix[j * n + j] += scale[j] * scale[j] * slips[j].extra;
            let pull: f64 = of_j.iter().map(|&(a, c)| c * fixed[a]).sum();
            right[j] = scale[j] * (slips[j].constant - pull);
        }
        let plain = DenseFactor::new(matrix.clone(), n).filter(|f| f.smallest_pivot() > HELD);
        let held = plain.is_some();
        let factor = plain.or_else(|| {
            for i in 0..n {
                matrix[i * n + i] += NUDGE;
            }
            DenseFactor::new(matrix, n)
        });
        let Some(factor) = factor else { return (vec![f64::NAN; n], false) };
        factor.solve(&mut right);
        for (value, scale) in right.iter_mut().zip(&scale) {
            *value *= scale;
        }
        (right, held)
    }

    /// The entries of a direction.
    pub(crate) fn entries(&self, slip: &Slip) -> Vec<(usize, f64)> {
        let (from, to) = (self.first[slip.block], self.first[slip.block + 1]);
        (from..to).map(|i| (i, slip.direction[i - from])).collect()
    }

    /// Movements of the springs.
    pub(crate) fn movements(blocks: &[Block], u: &[f64]) -> Vec<f64> {
        blocks.iter().flat_map(|b| &b.rows).map(|row| row.sum(u)).collect()
    }
}
