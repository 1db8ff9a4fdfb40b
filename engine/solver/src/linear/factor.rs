//! Factors of sparse symmetric matrices.

use super::bundles::wide;
use super::front::Worker;
use super::kernel::Kind;
use super::pattern::Pattern;
use super::substitution::substitute;
use super::threads::share;
use std::ops::Range;
use std::sync::{Arc, Mutex};

/// Cholesky factor `L L^T` of a positive definite matrix.
#[derive(Clone, Debug)]
pub struct Factor {
    pattern: Arc<Pattern>,
    values: Vec<f64>,
}

/// The matrix isn't positive definite to working precision.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotPositive {
    /// The unknown whose pivot was not positive.
    pub unknown: usize,
}

impl Factor {
    /// Factors the lower triangle given by `values` (finite numbers).
    ///
    /// # Errors
    /// A pivot that isn't positive.
    pub fn new(pattern: &Arc<Pattern>, values: &[f64]) -> Result<Self, NotPositive> {
        Self::with_threads(pattern, values, 1)
    }

    /// The same factor, bit for bit, found on up to so many threads.
    ///
    /// # Errors
    /// A pivot that isn't positive.
    pub fn with_threads(
        pattern: &Arc<Pattern>,
        values: &[f64],
        threads: usize,
    ) -> Result<Self, NotPositive> {
        let symbolic = &pattern.symbolic;
        let mut factor = vec![0.0; pattern.factor_entries()];
        let mut failed = usize::MAX;

        let jobs = symbolic.jobs(threads);
        let mut parts = Vec::with_capacity(jobs.len());
        let mut rest = factor.as_mut_slice();
        let mut start = 0;
        for job in &jobs {
            let end = symbolic.panel_start[job.end];
            let (_, after) = rest.split_at_mut(symbolic.panel_start[job.start] - start);
            let (part, after) = after.split_at_mut(end - symbolic.panel_start[job.start]);
            parts.push((job.clone(), part));
            (rest, start) = (after, end);
        }
        let done = Mutex::new(Vec::with_capacity(jobs.len()));
        let shared: &Pattern = pattern;
        share(parts, threads, |(job, part)| {
            let end = job.end;
            let result = factor_subtree(shared, values, job, part);
            if let Ok(mut done) = done.lock() {
                done.push((end, result));
            }
        });
        let mut done = done.into_inner().unwrap_or_default();
        done.sort_unstable_by_key(|(end, _)| *end);
        let mut done = done.into_iter().zip(jobs).peekable();

        let mut worker =
            Worker::new(pattern, values, Kind::Positive, threads, 0..symbolic.panels());
        let mut panel = 0;
        while panel < symbolic.panels() && symbolic.step(panel) < failed {
            if let Some(((end, result), _)) = done.next_if(|(_, job)| job.start == panel) {
                match result {
                    Ok(update) => worker.receive(&update),
                    Err(step) => failed = step,
                }
                panel = end;
                continue;
            }
            let place = symbolic.panel_start[panel]..symbolic.panel_start[panel + 1];
            if let Err(step) = worker.factor(panel, &mut factor[place]) {
                failed = step;
            }
            panel += 1;
        }
        if failed < symbolic.order.len() {
            return Err(NotPositive { unknown: wide(symbolic.order[failed]) });
        }
        Ok(Factor { pattern: Arc::clone(pattern), values: factor })
    }

    /// Overwrites the right-hand side with the solution.
    pub fn solve(&self, right_hand_side: &mut [f64]) {
        self.solve_many(right_hand_side, 1, 1);
    }

    /// Overwrites so many right-hand sides, one after the other, with the solutions, on up to so
    /// many threads; the number of threads changes no bit.
    pub fn solve_many(&self, right_hand_sides: &mut [f64], columns: usize, threads: usize) {
        substitute(&self.pattern.symbolic, &self.values, right_hand_sides, columns, threads);
    }

    /// Smallest pivot (square of the diagonal of L).
    pub fn smallest_pivot(&self) -> f64 {
        let symbolic = &self.pattern.symbolic;
        let mut smallest = f64::INFINITY;
        for panel in 0..symbolic.panels() {
            let start = symbolic.panel_start[panel];
            let rows = symbolic.pivots(panel) + symbolic.below(panel);
            for column in 0..symbolic.pivots(panel) {
                let d = self.values[start + column * rows + column];
                if d * d < smallest || d.is_nan() {
                    smallest = d * d;
                }
            }
        }
        smallest
    }
}

/// Factors the panels of a job, which stand in `part`; the update that its last one leaves.
///
/// # Errors
/// The step whose pivot isn't positive.
fn factor_subtree(
    pattern: &Pattern,
    values: &[f64],
    job: Range<usize>,
    part: &mut [f64],
) -> Result<Vec<f64>, usize> {
    let symbolic = &pattern.symbolic;
    let mut worker = Worker::new(pattern, values, Kind::Positive, 1, job.clone());
    let offset = symbolic.panel_start[job.start];
    for panel in job {
        let place = symbolic.panel_start[panel] - offset..symbolic.panel_start[panel + 1] - offset;
        worker.factor(panel, &mut part[place])?;
    }
    Ok(worker.into_update())
}

/// Number of negative eigenvalues of a symmetric matrix by Sylvester's law of inertia: the signs
/// of D in `L D L^T`. `None` when elimination without pivoting meets a zero.
pub(crate) fn negative_pivots(pattern: &Pattern, values: &[f64]) -> Option<usize> {
    let symbolic = &pattern.symbolic;
    let mut worker = Worker::new(pattern, values, Kind::Signed, 1, 0..symbolic.panels());
    let mut negative = 0;
    let mut block = Vec::new();
    for panel in 0..symbolic.panels() {
        block.resize(symbolic.panel_start[panel + 1] - symbolic.panel_start[panel], 0.0);
        worker.factor(panel, &mut block).ok()?;
        let rows = symbolic.pivots(panel) + symbolic.below(panel);
        for column in 0..symbolic.pivots(panel) {
            let d = block[column * rows + column];
            if !d.is_finite() {
                return None;
            }
            if d < 0.0 {
                negative += 1;
            }
        }
    }
    Some(negative)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::linear::eigen::{dense_symmetric, rough_vector};
    use crate::linear::samples::sheet;
    use faer::linalg::solvers::Solve;

    /// A chain of unit springs, fixed before its first node: pivots are known, `n + 1 - i` over
    /// `n - i` from the free end backwards (continued fraction, by hand).
    fn chain(size: usize) -> (Arc<Pattern>, Vec<f64>) {
        let groups: Vec<[usize; 2]> = (1..size).map(|i| [i - 1, i]).collect();
        let pattern = Arc::new(Pattern::from_groups(size, &groups));
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

    fn dense(pattern: &Pattern, values: &[f64]) -> faer::Mat<f64> {
        let mut matrix = faer::Mat::zeros(pattern.size(), pattern.size());
        pattern.visit(|place, i, j| {
            matrix[(i, j)] = values[place];
            matrix[(j, i)] = values[place];
        });
        matrix
    }

    fn bits(values: &[f64]) -> Vec<u64> {
        values.iter().map(|v| v.to_bits()).collect()
    }

    #[test]
    fn solves_a_chain_whose_end_moves_by_its_length() {
        for size in [1, 2, 3, 40] {
            let (pattern, values) = chain(size);
            let factor = Factor::new(&pattern, &values).unwrap();
            let mut x = vec![0.0; size];
            x[size - 1] = 1.0;
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
    fn names_the_unknown_with_the_negative_pivot() {
        for bad in 0..30 {
            let (pattern, mut values) = chain(30);
            // Whatever is eliminated before it has a positive pivot, so it fails there itself.
            values[pattern.diagonal(bad)] = -1e6;
            let found = Factor::new(&pattern, &values).unwrap_err();
            assert_eq!(found.unknown, bad);
            assert_eq!(negative_pivots(&pattern, &values), Some(1));
        }
    }

    #[test]
    fn names_the_same_unknown_on_any_number_of_threads() {
        let (pattern, values) = sheet(30, 30, 6);
        assert!(pattern.symbolic.jobs(3).len() > 3);
        for bad in (0..pattern.size()).step_by(677) {
            let mut values = values.clone();
            for unknown in [bad, (bad + 2500) % pattern.size()] {
                values[pattern.diagonal(unknown)] = -1e6;
            }
            let found: Vec<usize> = [1, 2, 3, 7]
                .iter()
                .map(|&t| Factor::with_threads(&pattern, &values, t).unwrap_err().unknown)
                .collect();
            assert_eq!(found, [found[0]; 4]);
            assert!([bad, (bad + 2500) % pattern.size()].contains(&found[0]));
        }
    }

    // Against the dense Cholesky solver of the library.
    #[test]
    fn agrees_with_a_dense_solver() {
        for (columns, rows, unknowns) in [(2, 2, 1), (2, 2, 6), (5, 4, 3), (3, 13, 6), (12, 11, 2)]
        {
            let (pattern, values) = sheet(columns, rows, unknowns);
            let size = pattern.size();
            let b = rough_vector(3 * size, 1);
            let mut x = b.clone();
            Factor::new(&pattern, &values).unwrap().solve_many(&mut x, 3, 1);
            let matrix = dense(&pattern, &values);
            let right = faer::Mat::from_fn(size, 3, |i, j| b[j * size + i]);
            let expected = matrix.llt(faer::Side::Lower).unwrap().solve(&right);
            let largest = expected.norm_max();
            for j in 0..3 {
                for i in 0..size {
                    let error = (x[j * size + i] - expected[(i, j)]).abs();
                    assert!(error < 1e-9 * largest, "{columns} x {rows}: {error} of {largest}");
                }
            }
        }
    }

    #[test]
    fn threads_change_no_bit() {
        let (pattern, values) = sheet(34, 30, 6);
        assert!(pattern.symbolic.jobs(2).len() > 2);
        let one = Factor::new(&pattern, &values).unwrap();
        let b = rough_vector(5 * pattern.size(), 2);
        let mut expected = b.clone();
        one.solve_many(&mut expected, 5, 1);
        for threads in [2, 3, 8] {
            let many = Factor::with_threads(&pattern, &values, threads).unwrap();
            assert_eq!(bits(&one.values), bits(&many.values));
            let mut x = b.clone();
            many.solve_many(&mut x, 5, threads);
            assert_eq!(bits(&expected), bits(&x));
        }
    }

    #[test]
    fn many_right_hand_sides_are_solved_like_one() {
        let (pattern, values) = sheet(20, 15, 3);
        let size = pattern.size();
        let factor = Factor::new(&pattern, &values).unwrap();
        let b = rough_vector(7 * size, 3);
        let mut together = b.clone();
        factor.solve_many(&mut together, 7, 1);
        for column in 0..7 {
            let mut alone = b[column * size..(column + 1) * size].to_vec();
            factor.solve(&mut alone);
            let largest = alone.iter().fold(0.0, |t, v| if v.abs() > t { v.abs() } else { t });
            for (a, t) in alone.iter().zip(&together[column * size..]) {
                assert!((a - t).abs() < 1e-10 * largest);
            }
        }
    }

    // Signs of the eigenvalues from the dense eigenproblem.
    #[test]
    fn counts_the_negative_eigenvalues() {
        for shift in [0.0, 1.0, 3.0, 10.0, 1e4] {
            let (pattern, mut values) = sheet(7, 6, 3);
            for unknown in 0..pattern.size() {
                values[pattern.diagonal(unknown)] -= shift;
            }
            let matrix = dense(&pattern, &values);
            let (eigenvalues, _) = dense_symmetric(pattern.size(), |i, j| matrix[(i, j)]).unwrap();
            let negative = eigenvalues.iter().filter(|&&v| v < 0.0).count();
            assert_eq!(negative_pivots(&pattern, &values), Some(negative));
        }
    }

    #[test]
    fn nothing_and_single_unknowns_are_systems_too() {
        let none: [Vec<usize>; 0] = [];
        let empty = Arc::new(Pattern::from_groups(0, &none));
        for threads in [1, 2] {
            Factor::with_threads(&empty, &[], threads).unwrap().solve_many(&mut [], 1, threads);
        }
        let alone = Arc::new(Pattern::from_groups(3, &none));
        let factor = Factor::new(&alone, &[1.0, 4.0, 16.0]).unwrap();
        let mut x = [1.0, 4.0, 16.0, 2.0, 2.0, 2.0];
        factor.solve_many(&mut x, 2, 2);
        let expected = [1.0, 1.0, 1.0, 2.0, 0.5, 0.125];
        assert!(x.iter().zip(expected).all(|(x, e)| (x - e).abs() < 1e-15), "{x:?}");
        assert_eq!(Factor::new(&alone, &[1.0, 0.0, 1.0]).unwrap_err().unknown, 1);
    }
}
