//! The pattern of a sparse symmetric matrix and its symbolic factorisation.

use faer::Side;
use faer::sparse::SymbolicSparseColMatRef;
use faer::sparse::linalg::SupernodalThreshold;
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, SymbolicCholesky, SymmetricOrdering, factorize_symbolic_cholesky,
};

/// How the factor is stored; the choice by operation count is right outside tests.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Storage {
    /// By operation count.
    Automatic,
    /// Column by column.
    #[cfg(test)]
    Columns,
    /// In dense blocks.
    #[cfg(test)]
    Blocks,
}

/// Lower triangle in compressed columns with the order of elimination; values live outside, so
/// that one pattern serves many matrices.
#[derive(Debug)]
pub(crate) struct Pattern {
    size: usize,
    column_start: Vec<usize>,
    row: Vec<usize>,
    pub(super) symbolic: SymbolicCholesky<usize>,
}

impl Pattern {
    /// Pattern of a sum of dense blocks: each group lists the unknowns that an element couples.
    /// Every diagonal entry exists.
    pub(crate) fn from_groups(size: usize, groups: &[Vec<usize>]) -> Self {
        Self::with_storage(size, groups, Storage::Automatic)
    }

    pub(crate) fn with_storage(size: usize, groups: &[Vec<usize>], storage: Storage) -> Self {
        let mut columns: Vec<Vec<usize>> = (0..size).map(|j| vec![j]).collect();
        for group in groups {
            for &j in group {
                columns[j].extend(group.iter().copied().filter(|&i| i > j));
            }
        }
        let mut column_start = Vec::with_capacity(size + 1);
        let mut row = Vec::new();
        column_start.push(0);
        for column in &mut columns {
            column.sort_unstable();
            column.dedup();
            row.extend_from_slice(column);
            column_start.push(row.len());
        }
        let supernodal_flop_ratio_threshold = match storage {
            Storage::Automatic => SupernodalThreshold::AUTO,
            #[cfg(test)]
            Storage::Columns => SupernodalThreshold::FORCE_SIMPLICIAL,
            #[cfg(test)]
            Storage::Blocks => SupernodalThreshold::FORCE_SUPERNODAL,
        };
        let symbolic = factorize_symbolic_cholesky(
            SymbolicSparseColMatRef::new_checked(size, size, &column_start, None, &row),
            Side::Lower,
            SymmetricOrdering::Amd,
            CholeskySymbolicParams { supernodal_flop_ratio_threshold, ..Default::default() },
        )
        .expect("the symbolic step fails only when indices overflow or memory is exhausted");
        Pattern { size, column_start, row, symbolic }
    }

    pub(crate) fn size(&self) -> usize {
        self.size
    }

    /// Number of stored entries of the lower triangle.
    pub(crate) fn entries(&self) -> usize {
        self.row.len()
    }

    /// Number of stored entries of the factor.
    pub(crate) fn factor_entries(&self) -> usize {
        self.symbolic.len_val()
    }

    /// Place of the entry in the values; `row >= column` must be part of the pattern.
    pub(crate) fn slot(&self, row: usize, column: usize) -> usize {
        let start = self.column_start[column];
        let rows = &self.row[start..self.column_start[column + 1]];
        start
            + rows
                .binary_search(&row)
                .expect("the pattern is made of the same groups that are scattered into it")
    }

    /// Place of the diagonal entry of a column: the first of it.
    pub(crate) fn diagonal(&self, column: usize) -> usize {
        self.column_start[column]
    }

    /// Visits all stored entries as (place, row, column).
    pub(crate) fn visit(&self, mut f: impl FnMut(usize, usize, usize)) {
        for column in 0..self.size {
            for place in self.column_start[column]..self.column_start[column + 1] {
                f(place, self.row[place], column);
            }
        }
    }

    /// Symmetric product `A x`.
    pub(crate) fn product(&self, values: &[f64], x: &[f64]) -> Vec<f64> {
        let mut y = vec![0.0; self.size];
        self.visit(|place, i, j| {
            y[i] += values[place] * x[j];
            if i != j {
                y[j] += values[place] * x[i];
            }
        });
        y
    }

    pub(super) fn matrix(&self) -> SymbolicSparseColMatRef<'_, usize> {
        SymbolicSparseColMatRef::new_checked(
            self.size,
            self.size,
            &self.column_start,
            None,
            &self.row,
        )
    }
}
