//! How much of the variance of a result each input causes, alone and together with others.
//!
//! Two sets of points, `A` and `B`, are drawn from all spreads; `AB` is `A` with one input taken
//! from `B`. First-order effects by Saltelli, Annoni, Azzini, Campolongo, Ratto and Tarantola,
//! "Variance based sensitivity analysis of model output", Computer Physics Communications 181
//! (2010) 259-270, Table 2 (b); total effects by Jansen, "Analysis of variance designs for model
//! output", Computer Physics Communications 117 (1999) 35-43, Table 2 (f) of the former.

/// Effects of one input: shares of the variance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Effects {
    /// What it causes alone.
    pub first: f64,
    /// What it causes alone and with all others: the larger it is over `first`, the more it matters
    /// where the others are.
    pub total: f64,
}

/// Mean of a list; 0 of an empty one.
pub(crate) fn mean(values: &[f64]) -> f64 {
    let (mut sum, mut count) = (0.0, 0.0);
    for value in values {
        sum += value;
        count += 1.0;
    }
    if count > 0.0 { sum / count } else { 0.0 }
}

/// Mean and its standard error from replicates that are independent of each other.
pub(crate) fn replicated(values: &[f64]) -> (f64, f64) {
    let middle = mean(values);
    let squares: Vec<f64> = values.iter().map(|v| (v - middle) * (v - middle)).collect();
    let free = values.len().saturating_sub(1);
    // A handful of replicates: the conversion is exact.
    let free = u32::try_from(free).map_or(f64::INFINITY, f64::from);
    let error = if free > 0.0 { (mean(&squares) / free).sqrt() } else { 0.0 };
    (middle, error)
}

/// Effects of one input from the results at `A`, `B` and `AB`, three of one length; nothing where
/// the result does not vary.
pub(crate) fn effects(a: &[f64], b: &[f64], ab: &[f64]) -> Option<Effects> {
    let all: Vec<f64> = a.iter().chain(b).copied().collect();
    let middle = mean(&all);
    let variance = mean(&all.iter().map(|y| (y - middle) * (y - middle)).collect::<Vec<_>>());
    // Rounding of a result that is one number.
    if variance.is_nan() || variance <= 1e-24 * middle * middle {
        return None;
    }
    // About the middle: the sum is the same, its error smaller.
    let alone: Vec<f64> =
        a.iter().zip(b).zip(ab).map(|((a, b), ab)| (b - middle) * (ab - a)).collect();
    let moved: Vec<f64> = a.iter().zip(ab).map(|(a, ab)| (a - ab) * (a - ab)).collect();
    Some(Effects { first: mean(&alone) / variance, total: mean(&moved) / (2.0 * variance) })
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::super::sampling::points;
    use super::*;

    /// Effects of each input of `f` on points of the unit cube.
    fn of<const K: usize>(f: impl Fn(&[f64; K]) -> f64, count: u32) -> Vec<Effects> {
        let all = points(2 * K, count, 1);
        let part = |from: usize| -> Vec<[f64; K]> {
            all.iter().map(|p| std::array::from_fn(|i| p[from + i])).collect()
        };
        let (a, b) = (part(0), part(K));
        let results = |points: &[[f64; K]]| points.iter().map(&f).collect::<Vec<f64>>();
        let (at_a, at_b) = (results(&a), results(&b));
        (0..K)
            .map(|i| {
                let mut ab = a.clone();
                ab.iter_mut().zip(&b).for_each(|(ab, b)| ab[i] = b[i]);
                effects(&at_a, &at_b, &results(&ab)).unwrap()
            })
            .collect()
    }

    /// Ishigami and Homma, "An importance quantification technique in uncertainty analysis for
    /// computer models", ISUMA 1990: sin x1 + a sin² x2 + b x3⁴ sin x1 on [-π, π]³. Its variances are
    /// integrals of sines and powers, written out here.
    #[test]
    fn the_ishigami_function() {
        let (a, b) = (7.0, 0.1);
        let found = of(
            |u: &[f64; 3]| {
                let x = u.map(|u| PI * (2.0 * u - 1.0));
                x[0].sin() + a * x[1].sin().powi(2) + b * x[2].powi(4) * x[0].sin()
            },
            1 << 14,
        );
        let v1 = 0.5 * (1.0 + b * PI.powi(4) / 5.0).powi(2);
        let v2 = a * a / 8.0;
        let v13 = b * b * PI.powi(8) * (1.0 / 18.0 - 1.0 / 50.0);
        let v = v1 + v2 + v13;
        let expected = [(v1 / v, (v1 + v13) / v), (v2 / v, v2 / v), (0.0, v13 / v)];
        for (found, (first, total)) in found.iter().zip(expected) {
            assert!((found.first - first).abs() < 0.01, "{found:?} {first}");
            assert!((found.total - total).abs() < 0.01, "{found:?} {total}");
        }
    }

    /// Sobol's product of (|4 x - 2| + a) / (1 + a): Saltelli and Sobol', "About the use of rank
    /// transformation in sensitivity analysis of model output", Reliability Engineering and System
    /// Safety 50 (1995) 225-239. The variance of one factor is 1 / (3 (1 + a)²).
    #[test]
    fn a_product_of_factors() {
        let a = [0.0, 1.0, 4.5, 9.0, 99.0];
        let found = of(
            |u: &[f64; 5]| {
                u.iter().zip(a).map(|(u, a)| ((4.0 * u - 2.0).abs() + a) / (1.0 + a)).product()
            },
            1 << 14,
        );
        let own = a.map(|a: f64| 1.0 / (3.0 * (1.0 + a) * (1.0 + a)));
        let whole = own.iter().map(|v| 1.0 + v).product::<f64>();
        for (found, v) in found.iter().zip(own) {
            let first = v / (whole - 1.0);
            let total = v * (whole / (1.0 + v)) / (whole - 1.0);
            assert!((found.first - first).abs() < 0.01, "{found:?} {first}");
            assert!((found.total - total).abs() < 0.01, "{found:?} {total}");
        }
    }

    #[test]
    fn a_result_that_does_not_vary_has_no_effects() {
        assert_eq!(effects(&[2.0; 8], &[2.0; 8], &[2.0; 8]), None);
    }

    /// By hand: 1, 2, 3 have mean 2 and standard deviation 1, so the error is 1/√3.
    #[test]
    fn the_error_of_a_mean_comes_from_replicates() {
        let (middle, error) = replicated(&[1.0, 2.0, 3.0]);
        assert!((middle - 2.0).abs() < 1e-15 && (error - 1.0 / 3f64.sqrt()).abs() < 1e-15);
    }
}
