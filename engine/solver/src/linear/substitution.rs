//! Forward and backward substitution for many right-hand sides at once.
//!
//! Both run panel by panel over the tree, as the factorisation did: on the way up each panel hands
//! its parent what it takes off the rows below, on the way down it reads what lies above. So the
//! order of sums does not depend on the number of threads.

use super::bundles::wide;
use super::front::{Run, runs};
use super::symbolic::Symbolic;
use super::threads::share;
use faer::linalg::matmul::matmul;
use faer::linalg::triangular_solve::{
    solve_lower_triangular_in_place, solve_upper_triangular_in_place,
};
use faer::{Accum, MatMut, MatRef, Par};
use std::ops::Range;
use std::sync::Mutex;

/// Overwrites right-hand sides, one after the other, with the solutions of `L L^T x = b`.
pub(super) fn substitute(
    symbolic: &Symbolic,
    factor: &[f64],
    right_hand_sides: &mut [f64],
    columns: usize,
    threads: usize,
) {
    let size = symbolic.order.len();
    if size == 0 || columns == 0 {
        return;
    }
    let sweep = Sweep { symbolic, factor, columns };
    // By rows in the order of elimination, so that a row of all columns lies together.
    let mut x = vec![0.0; size * columns];
    for (row, &unknown) in x.chunks_exact_mut(columns).zip(&symbolic.order) {
        for (c, value) in row.iter_mut().enumerate() {
            *value = right_hand_sides[c * size + wide(unknown)];
        }
    }
    sweep.run(&mut x, threads);
    for (row, &unknown) in x.chunks_exact(columns).zip(&symbolic.order) {
        for (c, value) in row.iter().enumerate() {
            right_hand_sides[c * size + wide(unknown)] = *value;
        }
    }
}

/// The factor, and how many right-hand sides it is applied to.
#[derive(Clone, Copy)]
struct Sweep<'a> {
    symbolic: &'a Symbolic,
    factor: &'a [f64],
    columns: usize,
}

/// The rows of a job and what lies above it.
struct Job<'a> {
    panels: Range<usize>,
    rows: &'a mut [f64],
    /// Rows of the solution below the last panel.
    above: Vec<f64>,
}

impl Sweep<'_> {
    fn run(self, x: &mut [f64], threads: usize) {
        let symbolic = self.symbolic;
        let jobs = symbolic.jobs(threads);
        let mut updates: Vec<Vec<f64>> = vec![Vec::new(); symbolic.panels()];
        let done = Mutex::new(Vec::with_capacity(jobs.len()));
        share(self.parts(&jobs, x), threads, |job| {
            let mut updates = vec![Vec::new(); job.panels.len()];
            let first = job.panels.start;
            let offset = symbolic.step(first);
            for panel in job.panels.clone() {
                let take = |child: usize| std::mem::take(&mut updates[child - first]);
                updates[panel - first] = self.forward(panel, job.rows, offset, take);
            }
            if let Ok(mut done) = done.lock() {
                done.push((job.panels.end, updates.pop().unwrap_or_default()));
            }
        });
        for (end, update) in done.into_inner().unwrap_or_default() {
            updates[end - 1] = update;
        }
        let above = above(&jobs, symbolic.panels());
        for &panel in &above {
            let take = |child: usize| std::mem::take(&mut updates[child]);
            updates[panel] = self.forward(panel, x, 0, take);
        }
        drop(updates);
        for &panel in above.iter().rev() {
            self.backward(panel, x, 0, &[], &[]);
        }
        share(self.parts(&jobs, x), threads, |job| {
            let offset = symbolic.step(job.panels.start);
            let outside = symbolic.rows(job.panels.end - 1);
            for panel in job.panels.rev() {
                self.backward(panel, job.rows, offset, outside, &job.above);
            }
        });
    }

    /// Cuts the rows of jobs out of all rows.
    fn parts<'x>(self, jobs: &[Range<usize>], x: &'x mut [f64]) -> Vec<Job<'x>> {
        let symbolic = self.symbolic;
        let above: Vec<Vec<f64>> = jobs
            .iter()
            .map(|job| {
                let mut above = Vec::new();
                for &place in symbolic.rows(job.end - 1) {
                    above.extend_from_slice(self.rows_of(x, 0, place));
                }
                above
            })
            .collect();
        let mut parts = Vec::with_capacity(jobs.len());
        let mut rest = x;
        let mut start = 0;
        for (job, above) in jobs.iter().zip(above) {
            let (first, end) = (symbolic.step(job.start), symbolic.step(job.end));
            let (_, after) = rest.split_at_mut((first - start) * self.columns);
            let (rows, after) = after.split_at_mut((end - first) * self.columns);
            parts.push(Job { panels: job.clone(), rows, above });
            (rest, start) = (after, end);
        }
        parts
    }

    /// Rows of a bundle among rows that begin at step `offset`.
    fn rows_of(self, rows: &[f64], offset: usize, place: u32) -> &[f64] {
        let from = wide(self.symbolic.bundle_step[wide(place)]) - offset;
        &rows[from * self.columns..][..self.symbolic.width(place) * self.columns]
    }

    /// Diagonal block of a panel, and what lies below.
    fn blocks(&self, panel: usize) -> (MatRef<'_, f64>, MatRef<'_, f64>) {
        let symbolic = self.symbolic;
        let (pivots, below) = (symbolic.pivots(panel), symbolic.below(panel));
        let block = &self.factor[symbolic.panel_start[panel]..symbolic.panel_start[panel + 1]];
        MatRef::from_column_major_slice(block, pivots + below, pivots).split_at_row(pivots)
    }

    /// Solves for the rows of a panel, among rows that begin at step `offset`; takes what its
    /// children take off, gives what it takes off the rows below.
    fn forward(
        self,
        panel: usize,
        rows: &mut [f64],
        offset: usize,
        mut take: impl FnMut(usize) -> Vec<f64>,
    ) -> Vec<f64> {
        let (symbolic, columns) = (self.symbolic, self.columns);
        let (pivots, below) = (symbolic.pivots(panel), symbolic.below(panel));
        let own = &mut rows[(symbolic.step(panel) - offset) * columns..][..pivots * columns];
        let mut update = vec![0.0; below * columns];
        let mut stretches: Vec<Run> = Vec::new();
        for &child in symbolic.children(panel) {
            let from = take(wide(child));
            runs(symbolic, wide(child), panel, &mut stretches);
            for run in &stretches {
                let source = &from[run.from * columns..][..run.length * columns];
                // A stretch may begin among the pivots and end below them.
                let inside = Ord::min(run.length, pivots.saturating_sub(run.to));
                let (first, second) = source.split_at(inside * columns);
                if inside > 0 {
                    add(&mut own[run.to * columns..], first);
                }
                if inside < run.length {
                    add(&mut update[(run.to + inside - pivots) * columns..], second);
                }
            }
        }
        let (top, bottom) = self.blocks(panel);
        let mut own = MatMut::from_row_major_slice_mut(own, pivots, columns);
        solve_lower_triangular_in_place(top, own.as_mut(), Par::Seq);
        if below > 0 {
            let update = MatMut::from_row_major_slice_mut(&mut update, below, columns);
            matmul(update, Accum::Add, bottom, own.as_ref(), -1.0, Par::Seq);
        }
        update
    }

    /// Solves for the rows of a panel when all rows below are known: some among `rows`, which
    /// begin at step `offset`, those of the bundles `outside` in `above`.
    fn backward(
        self,
        panel: usize,
        rows: &mut [f64],
        offset: usize,
        outside: &[u32],
        above: &[f64],
    ) {
        let (symbolic, columns) = (self.symbolic, self.columns);
        let (pivots, below) = (symbolic.pivots(panel), symbolic.below(panel));
        let end = symbolic.step(panel) + pivots;
        let (head, tail) = rows.split_at_mut((end - offset) * columns);
        let own = &mut head[(end - pivots - offset) * columns..];
        let mut known = Vec::with_capacity(below * columns);
        let mut outside = outside.iter();
        let mut from = 0;
        for &place in symbolic.rows(panel) {
            if (wide(symbolic.bundle_step[wide(place)]) - end) * columns < tail.len() {
                known.extend_from_slice(self.rows_of(tail, end, place));
                continue;
            }
            for &other in outside.by_ref() {
                let width = symbolic.width(other) * columns;
                from += width;
                if other == place {
                    known.extend_from_slice(&above[from - width..from]);
                    break;
                }
            }
        }
        let (top, bottom) = self.blocks(panel);
        let mut own = MatMut::from_row_major_slice_mut(own, pivots, columns);
        if below > 0 {
            let known = MatRef::from_row_major_slice(&known, below, columns);
            matmul(own.as_mut(), Accum::Add, bottom.transpose(), known, -1.0, Par::Seq);
        }
        solve_upper_triangular_in_place(top.transpose(), own, Par::Seq);
    }
}

/// Panels that belong to no job, ascending.
fn above(jobs: &[Range<usize>], panels: usize) -> Vec<usize> {
    let mut above = Vec::new();
    let mut next = 0;
    for job in jobs {
        above.extend(next..job.start);
        next = job.end;
    }
    above.extend(next..panels);
    above
}

fn add(target: &mut [f64], source: &[f64]) {
    for (t, s) in target.iter_mut().zip(source) {
        *t += s;
    }
}
