//! The pattern of a sparse symmetric matrix and its symbolic factorisation.

use super::bundles::{Bundles, narrow, wide};
use super::symbolic::Symbolic;

/// Lower triangle in compressed columns with the order of elimination; values live outside, so
/// that one pattern serves many matrices.
#[derive(Debug)]
pub struct Pattern {
    pub(super) bundles: Bundles,
    /// Where each column starts among the values, and their number.
    pub(super) column_start: Vec<usize>,
    list_start: Vec<usize>,
    /// By bundle: the unknowns coupled with it, itself included, from its first unknown on,
    /// ascending. The rows of each of its columns are the tail that starts with the diagonal.
    list: Vec<u32>,
    pub(super) symbolic: Symbolic,
}

impl Pattern {
    /// Pattern of a sum of dense blocks: each group lists the unknowns that an element couples.
    /// Every diagonal entry exists.
    pub fn from_groups(size: usize, groups: &[impl AsRef<[usize]>]) -> Self {
        let bundles = Bundles::new(size, groups);
        let mut list_start = vec![0];
        let mut list: Vec<u32> = Vec::new();
        let mut column_start = vec![0; size + 1];
        for bundle in 0..bundles.graph.nodes() {
            let own = bundles.members(bundle);
            let first = list.len();
            let around = bundles.graph.neighbours(bundle).iter();
            let around = around.flat_map(|&b| bundles.members(wide(b)));
            list.extend(own);
            list.extend(around.filter(|&&unknown| unknown > own[0]));
            list[first..].sort_unstable();
            let mut own = own.iter().peekable();
            for (index, &unknown) in list[first..].iter().enumerate() {
                if own.next_if(|&&o| o == unknown).is_some() {
                    column_start[wide(unknown) + 1] = list.len() - first - index;
                }
            }
            list_start.push(list.len());
        }
        list.shrink_to_fit();
        for column in 0..size {
            column_start[column + 1] += column_start[column];
        }
        let symbolic = Symbolic::new(&bundles);
        Pattern { bundles, column_start, list_start, list, symbolic }
    }

    /// Number of unknowns.
    #[must_use]
    pub fn size(&self) -> usize {
        self.column_start.len() - 1
    }

    /// Number of stored entries of the lower triangle.
    pub fn entries(&self) -> usize {
        self.column_start[self.size()]
    }

    /// Number of stored entries of the factor.
    pub fn factor_entries(&self) -> usize {
        self.symbolic.factor_entries()
    }

    /// Place of the entry in the values; `row >= column` must be part of the pattern.
    pub fn slot(&self, row: usize, column: usize) -> usize {
        let list = self.list(wide(self.bundles.of[column]));
        let index = list
            .binary_search(&narrow(row))
            .expect("the pattern is made of the same groups that are scattered into it");
        self.column_start[column + 1] - (list.len() - index)
    }

    /// Place of the diagonal entry of a column: the first of it.
    pub fn diagonal(&self, column: usize) -> usize {
        self.column_start[column]
    }

    /// Visits all stored entries as (place, row, column).
    pub fn visit(&self, mut f: impl FnMut(usize, usize, usize)) {
        for column in 0..self.size() {
            let start = self.column_start[column];
            for (index, &row) in self.rows(column).iter().enumerate() {
                f(start + index, wide(row), column);
            }
        }
    }

    /// Symmetric product `A x`.
    pub fn product(&self, values: &[f64], x: &[f64]) -> Vec<f64> {
        let mut y = vec![0.0; self.size()];
        self.visit(|place, i, j| {
            y[i] += values[place] * x[j];
            if i != j {
                y[j] += values[place] * x[i];
            }
        });
        y
    }

    /// The unknowns of a bundle and of those coupled with it, from its first on, ascending.
    pub(super) fn list(&self, bundle: usize) -> &[u32] {
        &self.list[self.list_start[bundle]..self.list_start[bundle + 1]]
    }

    /// Rows of a column, ascending from the diagonal.
    fn rows(&self, column: usize) -> &[u32] {
        let list = self.list(wide(self.bundles.of[column]));
        let length = self.column_start[column + 1] - self.column_start[column];
        &list[list.len() - length..]
    }
}

/// Finds entries of one column, quickly where their rows follow each other.
#[derive(Clone, Debug)]
pub(crate) struct Column<'a> {
    list: &'a [u32],
    end: usize,
    next: usize,
}

impl Pattern {
    /// The entries of a column.
    pub(crate) fn column(&self, column: usize) -> Column<'_> {
        let list = self.list(wide(self.bundles.of[column]));
        Column { list, end: self.column_start[column + 1], next: 0 }
    }
}

impl Column<'_> {
    /// Place of the entry in the values; the row, not above the diagonal, must be part of the
    /// pattern.
    pub(crate) fn slot(&mut self, row: usize) -> usize {
        let row = narrow(row);
        let index = match self.list.get(self.next) {
            Some(&next) if next == row => self.next,
            _ => self
                .list
                .binary_search(&row)
                .expect("the pattern is made of the same groups that are scattered into it"),
        };
        self.next = index + 1;
        self.end - (self.list.len() - index)
    }
}
