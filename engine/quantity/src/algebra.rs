//! The few functions formulas are written with, so that an expression reads as on paper.

use std::cmp::Ordering;

/// The square of `x`.
#[must_use]
pub fn sq(x: f64) -> f64 {
    x * x
}

/// The cube of `x`.
#[must_use]
pub fn cube(x: f64) -> f64 {
    x * x * x
}

/// `base` to the power of `exponent`.
#[must_use]
pub fn power(base: f64, exponent: f64) -> f64 {
    base.powf(exponent)
}

/// The square root of `x`.
#[must_use]
pub fn sqrt(x: f64) -> f64 {
    x.sqrt()
}

/// The magnitude of `x`.
#[must_use]
pub fn abs(x: f64) -> f64 {
    x.abs()
}

/// The larger of two numbers; NaN wins, so that a broken value is never dropped.
#[must_use]
pub fn larger(a: f64, b: f64) -> f64 {
    match a.partial_cmp(&b) {
        Some(Ordering::Less) => b,
        Some(_) => a,
        None => f64::NAN,
    }
}

/// The smaller of two numbers; NaN wins, so that a broken value is never dropped.
#[must_use]
pub fn smaller(a: f64, b: f64) -> f64 {
    match a.partial_cmp(&b) {
        Some(Ordering::Greater) => b,
        Some(_) => a,
        None => f64::NAN,
    }
}

/// The part of `x` above zero: `(x + |x|) / 2`.
#[must_use]
pub fn positive(x: f64) -> f64 {
    larger(x, 0.0)
}

/// Demand over resistance where nothing demanded of nothing left is no excess.
#[must_use]
pub fn share(demand: f64, resistance: f64) -> f64 {
    if demand <= 0.0 { 0.0 } else { demand / resistance }
}

/// The sine of an angle in rad.
#[must_use]
pub fn sin(x: f64) -> f64 {
    x.sin()
}

/// The cosine of an angle in rad.
#[must_use]
pub fn cos(x: f64) -> f64 {
    x.cos()
}

/// The tangent of an angle in rad.
#[must_use]
pub fn tan(x: f64) -> f64 {
    x.tan()
}

/// An angle in rad as a number of degrees.
#[must_use]
pub fn degrees(x: f64) -> f64 {
    x.to_degrees()
}

/// The natural logarithm of `x`.
#[must_use]
pub fn ln(x: f64) -> f64 {
    x.ln()
}

/// The length of the vector `(x, y)`.
#[must_use]
pub fn hypot(x: f64, y: f64) -> f64 {
    sqrt(sq(x) + sq(y))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nan_wins_over_any_number() {
        assert!(larger(f64::NAN, 0.3).is_nan());
        assert!(smaller(0.3, f64::NAN).is_nan());
        assert!(positive(f64::NAN).is_nan());
    }

    #[test]
    fn nothing_demanded_of_nothing_left_is_no_excess() {
        assert_eq!(share(0.0, 0.0).to_bits(), 0.0_f64.to_bits());
        assert_eq!(share(3.0, 4.0).to_bits(), 0.75_f64.to_bits());
        assert!(share(1.0, 0.0).is_infinite());
        assert!(share(f64::NAN, 1.0).is_nan());
    }

    #[test]
    fn ordinary_numbers_compare_as_expected() {
        assert_eq!(larger(1.0, 2.0).to_bits(), 2.0_f64.to_bits());
        assert_eq!(smaller(1.0, 2.0).to_bits(), 1.0_f64.to_bits());
        assert_eq!(positive(-4.0).to_bits(), 0.0_f64.to_bits());
        assert!((power(16.0, 0.25) - 2.0).abs() < 1e-15);
    }
}
