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

/// From this many springs on the inverse of M is worth its while.
const MANY: usize = 200;
/// Smallest pivot of the scaled M whose inverse is used.
const WELL_HELD: f64 = 1e-7;

/// The inverse of a symmetric matrix, unless a pivot is small.
fn inverse(matrix: &[f64], stiffness: &[f64]) -> Option<Vec<f64>> {
    let size = stiffness.len();
    let scale: Vec<f64> = stiffness.iter().map(|k| 1.0 / k.sqrt()).collect();
    let mut scaled = matrix.to_vec();
    for (row, a) in scaled.chunks_exact_mut(size).zip(&scale) {
        row.iter_mut().zip(&scale).for_each(|(m, b)| *m *= a * b);
    }
    let factor = DenseFactor::new(scaled, size).filter(|f| f.smallest_pivot() > WELL_HELD)?;
    let mut inverse = vec![0.0; size * size];
    for (j, column) in inverse.chunks_exact_mut(size).enumerate() {
        column[j] = scale[j];
        factor.solve(column);
        column.iter_mut().zip(&scale).for_each(|(n, b)| *n *= b);
    }
    Some(inverse)
}

/// The matrix M and its rows.
#[derive(Debug)]
pub(crate) struct Condensed {
    /// First entry of each block, and their number at the end.
    pub(crate) first: Vec<usize>,
    /// Stiffness of each entry, N/m.
    pub(crate) stiffness: Vec<f64>,
    /// M, row by row; symmetric.
    matrix: Vec<f64>,
    /// The inverse of M, where there is much to solve and the structure is held without any of
    /// the springs.
    yielding: Option<Vec<f64>>,
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
        let yielding = if size > MANY { inverse(&matrix, &stiffness) } else { None };
        Condensed { first, stiffness, matrix, yielding }
    }

    pub(crate) fn size(&self) -> usize {
        self.stiffness.len()
    }

    /// `M x`.
    pub(crate) fn times(&self, x: &[f64]) -> Vec<f64> {
        self.product(&self.matrix, x)
    }

    fn product(&self, matrix: &[f64], x: &[f64]) -> Vec<f64> {
        let rows = matrix.chunks_exact(self.size());
        rows.map(|row| row.iter().zip(x).map(|(m, x)| m * x).sum()).collect()
    }

    /// Two entries of a block; the second is 0 where it has one.
    pub(crate) fn pair(&self, values: &[f64], block: usize) -> [f64; 2] {
        let (from, to) = (self.first[block], self.first[block + 1]);
        [values[from], if to - from > 1 { values[from + 1] } else { 0.0 }]
    }

    /// Slips s along the given directions such that `f + extra s = constant` in each of them,
    /// where `f = M s + fixed` and nothing slips along the held directions. Returns them and
    /// whether the structure is held.
    pub(crate) fn solve(&self, slips: &[Slip], held: &[Slip], fixed: &[f64]) -> (Vec<f64>, bool) {
        let right: Vec<f64> =
            slips.iter().map(|slip| slip.constant - self.along(slip, fixed)).collect();
        let unknown = held.len() + slips.iter().filter(|s| s.extra > 0.0).count();
        match &self.yielding {
            Some(yielding) if unknown < slips.len() => {
                let Some(mut lengths) = self.by_forces(yielding, slips, held, &right) else {
                    return self.by_slips(slips, right);
                };
                // One step of refinement: M is what counts, its inverse has lost digits.
                let forces = self.times(&self.gathered(slips, &lengths));
                let rest: Vec<f64> = (0..slips.len())
                    .map(|i| {
                        right[i] - self.along(&slips[i], &forces) - slips[i].extra * lengths[i]
                    })
                    .collect();
                if let Some(more) = self.by_forces(yielding, slips, held, &rest) {
                    lengths.iter_mut().zip(more).for_each(|(length, more)| *length += more);
                }
                (lengths, true)
            }
            _ => self.by_slips(slips, right),
        }
    }

    /// Solves for the slips.
    fn by_slips(&self, slips: &[Slip], mut right: Vec<f64>) -> (Vec<f64>, bool) {
        let n = slips.len();
        if n == 0 {
            return (Vec::new(), true);
        }
        let scale: Vec<f64> =
            slips.iter().map(|s| 1.0 / self.stiffness[self.first[s.block]].sqrt()).collect();
        let mut matrix = self.among(&self.matrix, slips);
        for j in 0..n {
            for i in j..n {
                matrix[j * n + i] *= scale[i] * scale[j];
            }
            matrix[j * n + j] += scale[j] * scale[j] * slips[j].extra;
            right[j] *= scale[j];
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

    /// Solves for the forces of what does not slip freely, which are fewer where most is open:
    /// with `N = M^-1` the slips are `N` times the forces that make them.
    fn by_forces(
        &self,
        yielding: &[f64],
        slips: &[Slip],
        held: &[Slip],
        right: &[f64],
    ) -> Option<Vec<f64>> {
        let mut known = vec![0.0; self.size()];
        let mut unknown: Vec<Slip> = held.to_vec();
        let mut own = vec![(0.0, 0.0); held.len()];
        for (slip, &r) in slips.iter().zip(right) {
            if slip.extra > 0.0 {
                unknown.push(*slip);
                own.push((1.0 / slip.extra, r / slip.extra));
            } else {
                for (entry, d) in self.entries(slip) {
                    known[entry] += d * r;
                }
            }
        }
        let n = unknown.len();
        let moved = self.product(yielding, &known);
        if n > 0 {
            let mut matrix = self.among(yielding, &unknown);
            let mut forces = vec![0.0; n];
            for (i, (softer, given)) in own.into_iter().enumerate() {
                matrix[i * n + i] += softer;
                forces[i] = given - self.along(&unknown[i], &moved);
            }
            DenseFactor::new(matrix, n)?.solve(&mut forces);
            for (direction, force) in unknown.iter().zip(forces) {
                for (entry, d) in self.entries(direction) {
                    known[entry] += d * force;
                }
            }
        }
        let moved = self.product(yielding, &known);
        Some(slips.iter().map(|slip| self.along(slip, &moved)).collect())
    }

    /// The lower triangle of a matrix over the entries as one over directions, by columns.
    fn among(&self, matrix: &[f64], directions: &[Slip]) -> Vec<f64> {
        let (n, size) = (directions.len(), self.size());
        let entries: Vec<Vec<(usize, f64)>> = directions.iter().map(|s| self.entries(s)).collect();
        let mut out = vec![0.0; n * n];
        for (j, of_j) in entries.iter().enumerate() {
            for (i, of_i) in entries.iter().enumerate().skip(j) {
                let mut sum = 0.0;
                for &(a, ca) in of_i {
                    for &(b, cb) in of_j {
                        sum += ca * cb * matrix[a * size + b];
                    }
                }
                out[j * n + i] = sum;
            }
        }
        out
    }

    fn along(&self, slip: &Slip, values: &[f64]) -> f64 {
        self.entries(slip).iter().map(|&(i, d)| d * values[i]).sum()
    }

    /// Slips along directions as slips of the springs.
    pub(crate) fn gathered(&self, slips: &[Slip], lengths: &[f64]) -> Vec<f64> {
        let mut all = vec![0.0; self.size()];
        for (slip, length) in slips.iter().zip(lengths) {
            for (entry, d) in self.entries(slip) {
                all[entry] += length * d;
            }
        }
        all
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Both ways to solve find slips that fulfil what is asked of them, and the same ones.
        #[test]
        fn slips_and_forces_lead_to_the_same(
            values in prop::collection::vec(-1.0f64..1.0, 36),
            fixed in prop::collection::vec(-1e3f64..1e3, 6),
            angle in 0.0f64..6.0,
        ) {
            let stiffness = vec![1e6; 6];
            // Springs in a row with a flexible structure.
            let mut yielding = vec![0.0; 36];
            for i in 0..6 {
                for j in 0..6 {
                    let sum: f64 = (0..6).map(|k| values[6 * i + k] * values[6 * j + k]).sum();
                    yielding[6 * i + j] = 1e-4 * sum + if i == j { 1e-6 } else { 0.0 };
                }
            }
            let matrix = inverse(&yielding, &[1e-6; 6]).unwrap();
            let first = vec![0, 1, 2, 4, 6];
            let plain = Condensed { first, stiffness, matrix, yielding: None };
            let other = Condensed {
                first: plain.first.clone(),
                stiffness: plain.stiffness.clone(),
                matrix: plain.matrix.clone(),
                yielding: Some(yielding),
            };
            let (s, c) = angle.sin_cos();
            let slip = |block, direction, extra, constant| Slip { block, direction, extra, constant };
            let slips = [
                slip(0, [1.0, 0.0], 0.0, 0.0),
                slip(2, [c, s], 0.0, -50.0),
                slip(2, [-s, c], 4e5, 20.0),
                slip(3, [1.0, 0.0], 0.0, 0.0),
                slip(3, [0.0, 1.0], 0.0, 0.0),
            ];
            let held = [slip(1, [1.0, 0.0], 0.0, 0.0)];
            let (a, _) = plain.solve(&slips, &held, &fixed);
            let (b, _) = other.solve(&slips, &held, &fixed);
            let mut forces = plain.times(&plain.gathered(&slips, &b));
            forces.iter_mut().zip(&fixed).for_each(|(f, fixed)| *f += fixed);
            for (i, slip) in slips.iter().enumerate() {
                prop_assert!((a[i] - b[i]).abs() < 1e-7, "{} {}", a[i], b[i]);
                let off = plain.along(slip, &forces) + slip.extra * b[i] - slip.constant;
                prop_assert!(off.abs() < 1e-6, "{off}");
            }
        }
    }
}
