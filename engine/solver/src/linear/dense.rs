//! Factors of full symmetric matrices.

use faer::dyn_stack::{MemBuffer, MemStack};
use faer::linalg::cholesky::llt;
use faer::{Conj, MatMut, MatRef, Par};

/// Cholesky factor of a full positive definite matrix.
#[derive(Clone, Debug)]
pub(crate) struct DenseFactor {
    size: usize,
    /// Column by column; below the diagonal.
    lower: Vec<f64>,
}

impl DenseFactor {
    /// Factors a matrix given column by column, of which the lower triangle counts; `None` when it
    /// isn't positive definite.
    pub(crate) fn new(mut matrix: Vec<f64>, size: usize) -> Option<Self> {
        let scratch =
            llt::factor::cholesky_in_place_scratch::<f64>(size, Par::Seq, Default::default());
        let mut memory = MemBuffer::new(scratch);
        llt::factor::cholesky_in_place(
            MatMut::from_column_major_slice_mut(&mut matrix, size, size),
            Default::default(),
            Par::Seq,
            MemStack::new(&mut memory),
            Default::default(),
        )
        .ok()?;
        Some(DenseFactor { size, lower: matrix })
    }

    /// Overwrites the right-hand side with the solution.
    pub(crate) fn solve(&self, right_hand_side: &mut [f64]) {
        let mut memory =
            MemBuffer::new(llt::solve::solve_in_place_scratch::<f64>(self.size, 1, Par::Seq));
        llt::solve::solve_in_place_with_conj(
            MatRef::from_column_major_slice(&self.lower, self.size, self.size),
            Conj::No,
            MatMut::from_column_major_slice_mut(right_hand_side, self.size, 1),
            Par::Seq,
            MemStack::new(&mut memory),
        );
    }

    /// Smallest pivot (square of the diagonal of L).
    pub(crate) fn smallest_pivot(&self) -> f64 {
        (0..self.size)
            .map(|i| self.lower[i * self.size + i])
            .fold(f64::INFINITY, |least, d| if d * d < least { d * d } else { least })
    }
}
