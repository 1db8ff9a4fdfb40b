//! Equilibrium of springs that only push, only pull, or close a gap.
//!
//! Such springs store an energy that is convex and once differentiable, so the equilibrium is the
//! one minimum of energy less work, however the set of closed springs changes on the way.

use nalgebra::{SMatrix, SVector};

use super::body::GroupError;

/// Imbalance over load at which the search ends.
const BALANCED: f64 = 1e-13;
/// Imbalance over load that is still an answer when rounding stops the search earlier.
const ACCEPTED: f64 = 1e-10;
/// Passes after which there is no equilibrium.
const PASSES: usize = 200;

/// Imbalance (N) and tangent stiffness (N/m) at one position.
pub type Slope<const N: usize> = (SVector<f64, N>, SMatrix<f64, N, N>);

/// The position at which the imbalance given by `slope` vanishes, and the passes needed.
///
/// `slope` is the gradient and the Hessian of a convex energy less the work of the load; `whole`
/// is a positive definite stiffness in the same unknowns (every spring closed), `load` the size of
/// the forces that must balance. All unknowns have one unit.
///
/// Newton's method. Where the closed springs alone leave a movement free, a little of `whole`
/// is added, which vanishes with the imbalance. A step whose end lies beyond the lowest point
/// along it is shortened there: the energy falls in each pass, so no set of closed springs can
/// come back, and there are only so many of them.
///
/// # Errors
/// [`GroupError::NoEquilibrium`] when 200 passes do not close: the load cannot be balanced.
pub fn balance<const N: usize>(
    start: SVector<f64, N>,
    whole: &SMatrix<f64, N, N>,
    load: f64,
    slope: impl Fn(&SVector<f64, N>) -> Slope<N>,
) -> Result<(SVector<f64, N>, usize), GroupError> {
    let mut q = start;
    let (mut imbalance, mut tangent) = slope(&q);
    let mut best = (q, imbalance.norm());
    for pass in 0..PASSES {
        let size = imbalance.norm();
        if size < best.1 {
            best = (q, size);
        }
        if size <= BALANCED * load {
            return Ok((q, pass));
        }
        let share = if size < load { size / load } else { 1.0 };
        let Some(factor) = (tangent + whole * (1e-4 * share)).cholesky() else { break };
        let step = -factor.solve(&imbalance);
        let t = shortened(&q, &step, &imbalance, &slope);
        let moved = q + step * t;
        if moved == q {
            break;
        }
        q = moved;
        (imbalance, tangent) = slope(&q);
    }
    if best.1 <= ACCEPTED * load {
        return Ok((best.0, PASSES));
    }
    Err(GroupError::NoEquilibrium { passes: PASSES, residual: best.1 / load })
}

/// The part of `step` to take: all of it unless the energy has begun to rise too steeply again.
fn shortened<const N: usize>(
    q: &SVector<f64, N>,
    step: &SVector<f64, N>,
    imbalance: &SVector<f64, N>,
    slope: &impl Fn(&SVector<f64, N>) -> Slope<N>,
) -> f64 {
    let first = imbalance.dot(step);
    let along = |t: f64| slope(&(q + step * t)).0.dot(step);
    let steep = |s: f64| s > -0.5 * first;
    let (mut low, mut high) = (0.0, 1.0);
    if !steep(along(high)) {
        return high;
    }
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        let there = along(middle);
        if steep(there) {
            high = middle;
        } else if there < 0.5 * first {
            low = middle;
        } else {
            return middle;
        }
    }
    low
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::{Matrix1, Vector1};

    // Closed form: k u + k_stop (u - gap) = F  =>  u = (F + k_stop gap)/(k + k_stop).
    #[test]
    fn a_spring_with_a_stop() {
        let (k, stop, gap, force) = (1.0e6, 8.0e6, 1.0e-3, 5000.0);
        let slope = |q: &Vector1<f64>| {
            let beyond = if q[0] > gap { q[0] - gap } else { 0.0 };
            let closed = if q[0] > gap { stop } else { 0.0 };
            (Vector1::new(k * q[0] + stop * beyond - force), Matrix1::new(k + closed))
        };
        let whole = Matrix1::new(k + stop);
        let (q, _) = balance(Vector1::new(0.0), &whole, force, slope).unwrap();
        let closed_form = (force + stop * gap) / (k + stop);
        assert!((q[0] / closed_form - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_pull_on_a_spring_that_only_pushes_has_no_equilibrium() {
        let slope = |q: &Vector1<f64>| {
            let pressed = if q[0] < 0.0 { q[0] } else { 0.0 };
            let closed = if q[0] < 0.0 { 1.0e6 } else { 0.0 };
            (Vector1::new(1.0e6 * pressed - 100.0), Matrix1::new(closed))
        };
        let answer = balance(Vector1::new(0.0), &Matrix1::new(1.0e6), 100.0, slope);
        assert!(matches!(answer, Err(GroupError::NoEquilibrium { .. })));
    }
}
