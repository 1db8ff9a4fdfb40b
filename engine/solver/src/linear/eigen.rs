//! Lowest positive modes of `K x = lambda A x` with K positive definite, A symmetric: natural
//! frequencies (A = mass) and critical load factors (A = minus geometric stiffness).
//!
//! Both become `mu = 1 / lambda`, the largest eigenvalues of `K^-1 A`, which is self-adjoint in
//! the inner product of K. Small systems are solved densely; large ones by Lanczos steps in that
//! inner product with full reorthogonalisation, restarted against what was found, until a count
//! of negative pivots of `K - sigma A` (Sylvester's law of inertia) confirms that none is missing.
//! Source: B. N. Parlett, The Symmetric Eigenvalue Problem (1980), ch. 3, 13, 15.

use super::factor::{Factor, negative_pivots};
use super::pattern::Pattern;
use faer::diag::Diag;
use faer::dyn_stack::{MemBuffer, MemStack};
use faer::linalg::evd::{ComputeEigenvectors, self_adjoint_evd, self_adjoint_evd_scratch};
use faer::{Mat, Par};
use std::sync::Arc;

/// A mode: `mu = 1 / lambda > 0` and its vector with `x^T K x = 1`.
#[derive(Clone, Debug)]
pub(crate) struct Mode {
    pub(crate) mu: f64,
    pub(crate) vector: Vec<f64>,
}

/// What the search brought.
#[derive(Clone, Debug)]
pub(crate) struct Modes {
    /// Largest mu first.
    pub(crate) modes: Vec<Mode>,
    /// How many of them lie below the last one.
    pub(crate) below_last: usize,
    /// How many modes lie below the last one by the count of negative pivots.
    pub(crate) counted_below_last: usize,
}

/// The pencil.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Pencil<'a> {
    pub(crate) pattern: &'a Arc<Pattern>,
    pub(crate) k: &'a [f64],
    pub(crate) factor: &'a Factor,
    pub(crate) a: &'a [f64],
}

/// Up to this size the dense way is quicker than being clever.
const DENSE_LIMIT: usize = 400;
/// Eigenvalues below this fraction of the largest are rounding.
const NEGLIGIBLE: f64 = 1e-13;

/// The `wanted` largest positive mu. `stop` is polled between steps; `None` when it said so.
pub(crate) fn largest(pencil: Pencil<'_>, wanted: usize, stop: &dyn Fn() -> bool) -> Option<Modes> {
    let modes = if pencil.pattern.size() <= DENSE_LIMIT {
        dense(pencil, wanted)
    } else {
        lanczos(pencil, wanted, stop)?
    };
    let (below_last, counted_below_last) = count(pencil, &modes);
    Some(Modes { modes, below_last, counted_below_last })
}

/// Symmetric eigenproblem of a dense matrix given by its lower triangle; ascending values, vectors
/// as columns. `None` when the iteration does not converge.
pub(crate) fn dense_symmetric(
    size: usize,
    entry: impl Fn(usize, usize) -> f64,
) -> Option<(Vec<f64>, Vec<Vec<f64>>)> {
    let mut matrix =
        Mat::from_fn(size, size, |i, j| if i >= j { entry(i, j) } else { entry(j, i) });
    // The iteration measures its progress against numbers near 1.
    let mut top: f64 = 0.0;
    for column in matrix.col_iter() {
        for value in column.iter() {
            top = if value.abs() > top { value.abs() } else { top };
        }
    }
    if top > 0.0 {
        for j in 0..size {
            for i in 0..size {
                matrix[(i, j)] /= top;
            }
        }
    }
    let mut values = Diag::<f64>::zeros(size);
    let mut vectors: Mat<f64> = Mat::zeros(size, size);
    let mut memory = MemBuffer::new(self_adjoint_evd_scratch::<f64>(
        size,
        ComputeEigenvectors::Yes,
        Par::Seq,
        Default::default(),
    ));
    self_adjoint_evd(
        matrix.as_ref(),
        values.as_mut(),
        Some(vectors.as_mut()),
        Par::Seq,
        MemStack::new(&mut memory),
        Default::default(),
    )
    .ok()?;
    let vectors = (0..size).map(|j| (0..size).map(|i| vectors[(i, j)]).collect()).collect();
    Some((values.column_vector().iter().map(|v| v * top).collect(), vectors))
}

/// Reduces to `L^-1 A L^-T` with the dense Cholesky factor of K.
fn dense(pencil: Pencil<'_>, wanted: usize) -> Vec<Mode> {
    let size = pencil.pattern.size();
    let mut k = Mat::<f64>::zeros(size, size);
    let mut a = Mat::<f64>::zeros(size, size);
    pencil.pattern.visit(|place, i, j| {
        k[(i, j)] = pencil.k[place];
        k[(j, i)] = pencil.k[place];
        a[(i, j)] = pencil.a[place];
        a[(j, i)] = pencil.a[place];
    });
    let Ok(cholesky) = k.llt(faer::Side::Lower) else {
        // The sparse factor of the same matrix exists; rounding in another order can only fail
        // when the condition is hopeless, and then the count below reports the modes as missing.
        return Vec::new();
    };
    let lower = cholesky.L();
    lower.solve_lower_triangular_in_place(a.as_mut());
    lower.solve_lower_triangular_in_place(a.as_mut().transpose_mut());
    let Some((values, vectors)) = dense_symmetric(size, |i, j| 0.5 * (a[(i, j)] + a[(j, i)]))
    else {
        return Vec::new();
    };
    let top = values.iter().fold(0.0, |t, v| if v.abs() > t { v.abs() } else { t });
    let mut modes = Vec::new();
    for (mu, y) in values.into_iter().zip(vectors).rev() {
        if modes.len() == wanted || mu <= NEGLIGIBLE * top {
            break;
        }
        let mut x = Mat::from_fn(size, 1, |i, _| y[i]);
        lower.transpose().solve_upper_triangular_in_place(x.as_mut());
        modes.push(Mode { mu, vector: (0..size).map(|i| x[(i, 0)]).collect() });
    }
    modes
}

/// Modes below the last one: found, and counted. The cut lies a hair below it, so that further
/// copies of a multiple last mode are not missed; when a pivot vanishes, another hair is tried.
fn count(pencil: Pencil<'_>, modes: &[Mode]) -> (usize, usize) {
    let Some(last) = modes.last() else { return (0, 0) };
    for hair in [1e-6, 1.3e-6, 0.7e-6] {
        let sigma = (1.0 - hair) / last.mu;
        let shifted: Vec<f64> = pencil.k.iter().zip(pencil.a).map(|(k, a)| k - sigma * a).collect();
        if let Some(negative) = negative_pivots(pencil.pattern, &shifted) {
            let found = modes.iter().filter(|m| m.mu * sigma > 1.0).count();
            return (found, negative);
        }
    }
    // Three zero pivots in a row: nothing can be confirmed, so one is reported as missing.
    (0, 1)
}

/// Most Lanczos vectors of one run.
const LONGEST_RUN: usize = 300;
/// Runs against what was found before; each finds at least one further copy of a multiple mode.
const MOST_RUNS: usize = 12;
/// Residual of an accepted mode against its mu; the error of mu is of the order of its square.
const CONVERGED: f64 = 1e-9;

fn lanczos(pencil: Pencil<'_>, wanted: usize, stop: &dyn Fn() -> bool) -> Option<Vec<Mode>> {
    let mut found: Vec<Mode> = Vec::new();
    let mut found_k: Vec<Vec<f64>> = Vec::new();
    for run in 0..MOST_RUNS {
        let fresh = lanczos_run(pencil, wanted, run, (&found, &found_k), stop)?;
        if fresh.is_empty() {
            break;
        }
        for mode in fresh {
            found_k.push(pencil.pattern.product(pencil.k, &mode.vector));
            found.push(mode);
        }
        let mut order: Vec<usize> = (0..found.len()).collect();
        order.sort_by(|&a, &b| found[b].mu.total_cmp(&found[a].mu));
        found = order.iter().map(|&i| found[i].clone()).collect();
        found_k = order.iter().map(|&i| found_k[i].clone()).collect();
        if found.len() >= wanted {
            let (below, counted) = count(pencil, &found[..wanted]);
            if below == counted {
                break;
            }
        }
    }
    found.truncate(wanted);
    Some(found)
}

/// One run from a rough vector orthogonal (in K) to all that is known.
fn lanczos_run(
    pencil: Pencil<'_>,
    wanted: usize,
    run: usize,
    known: (&[Mode], &[Vec<f64>]),
    stop: &dyn Fn() -> bool,
) -> Option<Vec<Mode>> {
    let size = pencil.pattern.size();
    let longest = if size < LONGEST_RUN { size } else { LONGEST_RUN };
    let mut basis: Vec<Vec<f64>> = Vec::new();
    let mut basis_k: Vec<Vec<f64>> = Vec::new();
    let (mut alpha, mut beta): (Vec<f64>, Vec<f64>) = (Vec::new(), Vec::new());
    let mut next = rough_vector(size, run);
    // One application of the operator moves the start into its range and damps what is high.
    next = apply(pencil, &next);
    let mut last_norm = f64::INFINITY;
    while basis.len() < longest {
        if stop() {
            return None;
        }
        // Twice is enough (Parlett, 6-9): after two passes the vector is orthogonal to rounding.
        for _ in 0..2 {
            for (mode, image) in known.0.iter().zip(known.1) {
                remove(&mut next, &mode.vector, image);
            }
            for (vector, image) in basis.iter().zip(&basis_k) {
                remove(&mut next, vector, image);
            }
        }
        let image = pencil.pattern.product(pencil.k, &next);
        let norm = inner(&next, &image).sqrt();
        let exhausted = !basis.is_empty() && norm <= 1e-13 * last_norm;
        if norm <= 0.0 || norm.is_nan() || exhausted {
            break;
        }
        last_norm = if basis.is_empty() { norm } else { last_norm };
        if !basis.is_empty() {
            beta.push(norm);
        }
        basis.push(next.iter().map(|v| v / norm).collect());
        basis_k.push(image.iter().map(|v| v / norm).collect());
        let current = basis.len() - 1;
        next = apply(pencil, &basis[current]);
        alpha.push(inner(&next, &basis_k[current]));
        if current > 0 {
            let b = beta[current - 1];
            for (v, old) in next.iter_mut().zip(&basis[current - 1]) {
                *v -= b * old;
            }
        }
        for (v, old) in next.iter_mut().zip(&basis[current]) {
            *v -= alpha[current] * old;
        }
        let enough = basis.len() >= 2 * wanted + 8 && basis.len().is_multiple_of(10);
        if enough {
            let image = pencil.pattern.product(pencil.k, &next);
            let residual = inner(&next, &image).sqrt();
            let modes = ritz(&alpha, &beta, residual, &basis, wanted);
            if modes.len() >= wanted {
                return Some(modes);
            }
        }
    }
    let residual = if basis.len() < longest { 0.0 } else { last_norm };
    Some(ritz(&alpha, &beta, residual, &basis, wanted))
}

/// Converged positive Ritz pairs, largest first, as far as they are converged without a gap.
fn ritz(
    alpha: &[f64],
    beta: &[f64],
    residual: f64,
    basis: &[Vec<f64>],
    wanted: usize,
) -> Vec<Mode> {
    let steps = alpha.len();
    if steps == 0 {
        return Vec::new();
    }
    let solved = dense_symmetric(steps, |i, j| {
        if i == j {
            alpha[i]
        } else if i == j + 1 {
            beta[j]
        } else {
            0.0
        }
    });
    let Some((values, vectors)) = solved else { return Vec::new() };
    let top = values.iter().fold(0.0, |t, v| if v.abs() > t { v.abs() } else { t });
    let mut modes = Vec::new();
    for (mu, s) in values.iter().zip(&vectors).rev() {
        let error = residual * s[steps - 1].abs();
        if modes.len() == wanted || *mu <= NEGLIGIBLE * top || error > CONVERGED * mu {
            break;
        }
        let size = basis[0].len();
        let mut vector = vec![0.0; size];
        for (weight, column) in s.iter().zip(basis) {
            for (v, c) in vector.iter_mut().zip(column) {
                *v += weight * c;
            }
        }
        modes.push(Mode { mu: *mu, vector });
    }
    modes
}

fn apply(pencil: Pencil<'_>, x: &[f64]) -> Vec<f64> {
    let mut y = pencil.pattern.product(pencil.a, x);
    pencil.factor.solve(&mut y);
    y
}

fn inner(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

fn remove(vector: &mut [f64], direction: &[f64], image: &[f64]) {
    let part = inner(vector, image);
    for (v, d) in vector.iter_mut().zip(direction) {
        *v -= part * d;
    }
}

/// A vector with a part in every direction, the same in every run of the program.
pub(crate) fn rough_vector(size: usize, seed: usize) -> Vec<f64> {
    // Multiplicative congruential numbers, Knuth TAOCP 2, 3.3.4: any rough start will do.
    let mut state = 6_364_136_223_846_793_005_u64.wrapping_mul(seed as u64 + 1) | 1;
    (0..size)
        .map(|_| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (state >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
        })
        .collect()
}
