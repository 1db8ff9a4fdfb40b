//! Factors of sparse symmetric matrices.

use super::pattern::Pattern;
use faer::dyn_stack::{MemBuffer, MemStack, StackReq};
use faer::linalg::cholesky::llt::factor::LltError;
use faer::sparse::SparseColMatRef;
use faer::sparse::linalg::cholesky::{
    LltRef, SymbolicCholesky, SymbolicCholeskyRaw, supernodal::SupernodalLltRef,
};
use faer::{Conj, MatMut, Par, Side};
use std::rc::Rc;

/// Cholesky factor `L L^T` of a positive definite matrix.
#[derive(Clone, Debug)]
pub(crate) struct Factor {
    pattern: Rc<Pattern>,
    values: Vec<f64>,
}

/// The matrix isn't positive definite to working precision.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct NotPositive {
    /// The unknown whose pivot was not positive.
    pub(crate) unknown: usize,
}

impl Factor {
    /// Factors the lower triangle given by `values` (finite numbers).
    pub(crate) fn new(pattern: &Rc<Pattern>, values: &[f64]) -> Result<Self, NotPositive> {
        let symbolic = &pattern.symbolic;
        let mut factor = vec![0.0; symbolic.len_val()];
        let mut memory = MemBuffer::new(
            symbolic.factorize_numeric_llt_scratch::<f64>(Par::Seq, Default::default()),
        );
        symbolic
            .factorize_numeric_llt(
                &mut factor,
                SparseColMatRef::new(pattern.matrix(), values),
                Side::Lower,
                Default::default(),
                Par::Seq,
                MemStack::new(&mut memory),
                Default::default(),
            )
            .map_err(|LltError::NonPositivePivot { index }| NotPositive {
                unknown: unknown_of_failed_pivot(symbolic, index),
            })?;
        Ok(Factor { pattern: Rc::clone(pattern), values: factor })
    }

    /// Overwrites the right-hand side with the solution.
    pub(crate) fn solve(&self, right_hand_side: &mut [f64]) {
        let symbolic = &self.pattern.symbolic;
        let mut memory: MemBuffer =
            MemBuffer::new(StackReq::any_of(
                &[symbolic.solve_in_place_scratch::<f64>(1, Par::Seq)],
            ));
        let size = self.pattern.size();
        LltRef::<usize, f64>::new(symbolic, &self.values).solve_in_place_with_conj(
            Conj::No,
            MatMut::from_column_major_slice_mut(right_hand_side, size, 1),
            Par::Seq,
            MemStack::new(&mut memory),
        );
    }

    /// Smallest pivot (square of the diagonal of L).
    pub(crate) fn smallest_pivot(&self) -> f64 {
        let mut smallest = f64::INFINITY;
        visit_diagonal(&self.pattern.symbolic, &self.values, |d| {
            if d * d < smallest || d.is_nan() {
                smallest = d * d;
            }
        });
        smallest
    }
}

/// Number of negative eigenvalues of a symmetric matrix by Sylvester's law of inertia: the signs
/// of D in `L D L^T`. `None` when elimination without pivoting meets a zero.
pub(crate) fn negative_pivots(pattern: &Pattern, values: &[f64]) -> Option<usize> {
    let symbolic = &pattern.symbolic;
    let mut factor = vec![0.0; symbolic.len_val()];
    let mut memory = MemBuffer::new(
        symbolic.factorize_numeric_ldlt_scratch::<f64>(Par::Seq, Default::default()),
    );
    symbolic
        .factorize_numeric_ldlt(
            &mut factor,
            SparseColMatRef::new(pattern.matrix(), values),
            Side::Lower,
            Default::default(),
            Par::Seq,
            MemStack::new(&mut memory),
            Default::default(),
        )
        .ok()?;
    let mut negative = 0;
    let mut finite = true;
    visit_diagonal(symbolic, &factor, |d| {
        finite &= d.is_finite();
        if d < 0.0 {
            negative += 1;
        }
    });
    finite.then_some(negative)
}

/// The library counts the failed pivot from 1 when it works by columns and from 0 when it works
/// by blocks, and in the order of elimination.
fn unknown_of_failed_pivot(symbolic: &SymbolicCholesky<usize>, index: usize) -> usize {
    let position = match symbolic.raw() {
        SymbolicCholeskyRaw::Simplicial(_) => index - 1,
        SymbolicCholeskyRaw::Supernodal(_) => index,
    };
    match symbolic.perm() {
        Some(permutation) => permutation.arrays().0[position],
        None => position,
    }
}

fn visit_diagonal(symbolic: &SymbolicCholesky<usize>, values: &[f64], mut f: impl FnMut(f64)) {
    match symbolic.raw() {
        SymbolicCholeskyRaw::Simplicial(columns) => {
            for &start in &columns.col_ptr()[..columns.ncols()] {
                f(values[start]);
            }
        }
        SymbolicCholeskyRaw::Supernodal(blocks) => {
            let factor = SupernodalLltRef::<usize, f64>::new(blocks, values);
            for s in 0..blocks.n_supernodes() {
                let block = factor.supernode(s).val();
                for j in 0..block.ncols() {
                    f(block[(j, j)]);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::linear::pattern::Storage;

    /// A chain of unit springs, fixed before its first node: pivots are known, `n + 1 - i` over
    /// `n - i` from the free end backwards (continued fraction, by hand).
    fn chain(size: usize, storage: Storage) -> (Rc<Pattern>, Vec<f64>) {
        let groups: Vec<Vec<usize>> = (1..size).map(|i| vec![i - 1, i]).collect();
        let pattern = Rc::new(Pattern::with_storage(size, &groups, storage));
        let mut values = vec![0.0; pattern.entries()];
        pattern.visit(|place, i, j| {
            values[place] = if i != j {
                -1.0
            } else if i + 1 == size {
                1.0
            } else {
                2.0
            };
        });
        (pattern, values)
    }

    #[test]
    fn solves_a_chain_whose_end_moves_by_its_length() {
        for storage in [Storage::Automatic, Storage::Columns, Storage::Blocks] {
            let (pattern, values) = chain(40, storage);
            let factor = Factor::new(&pattern, &values).unwrap();
            let mut x = vec![0.0; 40];
            x[39] = 1.0;
            factor.solve(&mut x);
            // Unit force through i springs of unit stiffness: displacement i.
            for (i, value) in x.iter().enumerate() {
                assert!((value - (i + 1) as f64).abs() < 1e-12 * 40.0);
            }
            // det = 1 = product of the pivots, each at most 2.
            assert!(factor.smallest_pivot() > 0.0 && factor.smallest_pivot() <= 2.0);
            assert_eq!(negative_pivots(&pattern, &values), Some(0));
        }
    }

    #[test]
    fn names_the_unknown_with_the_negative_pivot_in_both_storages() {
        for storage in [Storage::Columns, Storage::Blocks] {
            for bad in 0..30 {
                let (pattern, mut values) = chain(30, storage);
                // Whatever is eliminated before it has a positive pivot, so it fails there itself.
                values[pattern.diagonal(bad)] = -1e6;
                let found = Factor::new(&pattern, &values).unwrap_err();
                assert_eq!(found.unknown, bad, "{storage:?}");
                assert_eq!(negative_pivots(&pattern, &values), Some(1));
            }
        }
    }
}
