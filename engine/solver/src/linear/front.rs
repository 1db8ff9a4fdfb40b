//! Numeric factorisation panel by panel (multifrontal method).
//!
//! Each panel adds up its entries of the matrix and what its children leave, eliminates its
//! columns, and leaves the rest, an update of the rows below, to its parent. Sums run in the order
//! of the tree whatever the thread, so any number of threads gives the same bits. Source: J. W. H.
//! Liu, "The multifrontal method for sparse matrix solution: theory and practice", SIAM Review 34
//! (1992) 82-109.

use super::bundles::{NONE, narrow, wide};
use super::kernel::{self, Kind};
use super::pattern::Pattern;
use super::symbolic::Symbolic;
use std::ops::Range;

/// A stretch of rows that lie together in the child and in the parent.
#[derive(Clone, Copy, Debug)]
pub(super) struct Run {
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) length: usize,
}

/// Where the rows below a child lie in the front of its parent, in stretches.
pub(super) fn runs(symbolic: &Symbolic, child: usize, parent: usize, runs: &mut Vec<Run>) {
    runs.clear();
    let end = symbolic.panel_bundle[parent + 1];
    let step = symbolic.step(parent);
    let mut below = symbolic.rows(parent).iter();
    let mut offset = symbolic.pivots(parent);
    let mut from = 0;
    for &place in symbolic.rows(child) {
        let width = symbolic.width(place);
        let to = if place < end {
            wide(symbolic.bundle_step[wide(place)]) - step
        } else {
            for &other in below.by_ref() {
                if other == place {
                    break;
                }
                offset += symbolic.width(other);
            }
            let to = offset;
            offset += width;
            to
        };
        match runs.last_mut() {
            Some(last) if last.to + last.length == to => last.length += width,
            _ => runs.push(Run { from, to, length: width }),
        }
        from += width;
    }
}

/// What one thread needs to factor panel after panel, children before their parents.
#[derive(Debug)]
pub(super) struct Worker<'a> {
    pattern: &'a Pattern,
    values: &'a [f64],
    kind: Kind,
    threads: usize,
    /// Row in the front of the first unknown of each bundle, by place; only what the front has.
    local: Vec<u32>,
    target: Vec<u32>,
    runs: Vec<Run>,
    /// The update while it is formed, as a square.
    update: Vec<f64>,
    /// Updates that wait for their parent, the last one on top: lower triangles by columns.
    stack: Vec<f64>,
}

impl<'a> Worker<'a> {
    /// For panels of a range, each after all that hang below it.
    pub(super) fn new(
        pattern: &'a Pattern,
        values: &'a [f64],
        kind: Kind,
        threads: usize,
        panels: Range<usize>,
    ) -> Self {
        Worker {
            pattern,
            values,
            kind,
            threads,
            local: vec![NONE; pattern.bundles.graph.nodes()],
            target: Vec::new(),
            runs: Vec::new(),
            update: Vec::new(),
            stack: Vec::with_capacity(stack_height(&pattern.symbolic, panels)),
        }
    }

    /// Lays an update that was formed elsewhere on the stack.
    pub(super) fn receive(&mut self, update: &[f64]) {
        self.stack.extend_from_slice(update);
    }

    /// The update that the last panel left.
    pub(super) fn into_update(self) -> Vec<f64> {
        self.stack.as_slice().to_vec()
    }

    /// Factors a panel; takes the updates of its children off the stack and lays its own there.
    /// Whatever `panel` holds is overwritten.
    ///
    /// # Errors
    /// The step whose pivot can't be used.
    pub(super) fn factor(&mut self, number: usize, panel: &mut [f64]) -> Result<(), usize> {
        let symbolic = &self.pattern.symbolic;
        let (pivots, below) = (symbolic.pivots(number), symbolic.below(number));
        // Fresh memory is written before it is read: a read first would cost a second page fault.
        panel.fill(0.0);
        self.add_matrix(number, panel);
        let children = symbolic.children(number);
        let bottom = self.stack.len()
            - children.iter().map(|&c| packed(symbolic.below(wide(c)))).sum::<usize>();
        let mut start = bottom;
        for child in children.iter().map(|&c| wide(c)) {
            let size = symbolic.below(child);
            let update = &self.stack[start..start + packed(size)];
            runs(symbolic, child, number, &mut self.runs);
            add_to_panel(update, size, &self.runs, panel, pivots + below, pivots);
            start += packed(size);
        }
        if self.update.len() < below * below {
            self.update.resize(below * below, 0.0);
        }
        let square = &mut self.update[..below * below];
        kernel::eliminate(self.kind, panel, pivots, square, self.threads)
            .map_err(|pivot| symbolic.step(number) + pivot)?;
        let mut start = bottom;
        for child in children.iter().map(|&c| wide(c)) {
            let size = symbolic.below(child);
            let update = &self.stack[start..start + packed(size)];
            runs(symbolic, child, number, &mut self.runs);
            add_to_update(update, size, &self.runs, square, below, pivots);
            start += packed(size);
        }
        self.stack.truncate(bottom);
        for column in 0..below {
            self.stack.extend_from_slice(&square[column * below + column..(column + 1) * below]);
        }
        Ok(())
    }

    /// Adds the entries of the matrix that belong to the columns of a panel.
    fn add_matrix(&mut self, number: usize, panel: &mut [f64]) {
        let pattern = self.pattern;
        let symbolic = &pattern.symbolic;
        let bundles = &pattern.bundles;
        let rows = symbolic.pivots(number) + symbolic.below(number);
        let first_step = symbolic.step(number);
        let mut row = 0;
        let own = symbolic.panel_bundle[number]..symbolic.panel_bundle[number + 1];
        for place in own.clone().chain(symbolic.rows(number).iter().copied()) {
            self.local[wide(place)] = narrow(row);
            row += symbolic.width(place);
        }
        for place in own {
            let bundle = wide(symbolic.bundle_order[wide(place)]);
            let column_of = wide(symbolic.bundle_step[wide(place)]) - first_step;
            let members = bundles.members(bundle);
            // Entries stored in the columns of this bundle.
            let list = pattern.list(bundle);
            self.target.clear();
            self.target.extend(list.iter().map(|&unknown| {
                let other = symbolic.bundle_position[wide(bundles.of[wide(unknown)])];
                if other < place {
                    return NONE;
                }
                let within = symbolic.position[wide(unknown)] - symbolic.bundle_step[wide(other)];
                self.local[wide(other)] + within
            }));
            for (index, &unknown) in members.iter().enumerate() {
                let column = &mut panel[(column_of + index) * rows..][..rows];
                let stored =
                    pattern.column_start[wide(unknown)]..pattern.column_start[wide(unknown) + 1];
                let target = &self.target[list.len() - stored.len()..];
                for (&target, &value) in target.iter().zip(&self.values[stored]) {
                    if target != NONE {
                        column[wide(target)] += value;
                    }
                }
            }
            // Entries stored in columns of bundles that are eliminated later.
            for &other in bundles.graph.neighbours(bundle) {
                let other_place = symbolic.bundle_position[wide(other)];
                if other_place < place {
                    continue;
                }
                let list = pattern.list(wide(other));
                let local = wide(self.local[wide(other_place)]);
                let mut from = 0;
                for (index, &unknown) in members.iter().enumerate() {
                    // `unknown` is a row of the columns of the other bundle before it.
                    from += list[from..].partition_point(|&u| u < unknown);
                    if list.get(from) != Some(&unknown) {
                        continue;
                    }
                    let column = &mut panel[(column_of + index) * rows..][..rows];
                    for (within, &c) in bundles.members(wide(other)).iter().enumerate() {
                        if c < unknown {
                            let end = pattern.column_start[wide(c) + 1];
                            column[local + within] += self.values[end - (list.len() - from)];
                        }
                    }
                }
            }
        }
    }
}

/// Entries of a lower triangle.
fn packed(size: usize) -> usize {
    size * (size + 1) / 2
}

/// Most entries that wait on the stack while panels of a range are factored.
fn stack_height(symbolic: &Symbolic, panels: Range<usize>) -> usize {
    let mut height = 0;
    let mut most = 0;
    for panel in panels.clone() {
        let inside = symbolic.children(panel).iter().filter(|&&c| wide(c) >= panels.start);
        height -= inside.map(|&c| packed(symbolic.below(wide(c)))).sum::<usize>();
        height += packed(symbolic.below(panel));
        most = Ord::max(most, height);
    }
    most
}

/// Adds the columns of a child's update that are pivots of the parent.
fn add_to_panel(
    update: &[f64],
    size: usize,
    runs: &[Run],
    panel: &mut [f64],
    rows: usize,
    pivots: usize,
) {
    let column = |to: usize| (to < pivots).then(|| (to * rows, 0));
    add_columns(update, size, runs, column, panel);
}

/// Adds the columns of a child's update that the parent leaves to its own parent.
fn add_to_update(
    update: &[f64],
    size: usize,
    runs: &[Run],
    square: &mut [f64],
    below: usize,
    pivots: usize,
) {
    let column = |to: usize| (to >= pivots).then(|| ((to - pivots) * below, pivots));
    add_columns(update, size, runs, column, square);
}

/// Adds the columns for which `column` gives a place in `target`: where it starts, and the row of
/// the front that is its first.
fn add_columns(
    update: &[f64],
    size: usize,
    runs: &[Run],
    column: impl Fn(usize) -> Option<(usize, usize)>,
    target: &mut [f64],
) {
    for (r, run) in runs.iter().enumerate() {
        for within in 0..run.length {
            let Some((start, first)) = column(run.to + within) else { continue };
            let index = run.from + within;
            // Packed columns before this one: size, size - 1, ... long.
            let source = &update[index * (2 * size + 1 - index) / 2..][..size - index];
            let head = run.length - within;
            add(&mut target[start + run.to + within - first..][..head], &source[..head]);
            for other in &runs[r + 1..] {
                add(
                    &mut target[start + other.to - first..][..other.length],
                    &source[other.from - index..][..other.length],
                );
            }
        }
    }
}

fn add(target: &mut [f64], source: &[f64]) {
    for (t, s) in target.iter_mut().zip(source) {
        *t += s;
    }
}
