//! Numbers of twice the digits of f64: an unevaluated sum `hi + lo`.
//!
//! Residuals are formed in them, because in f64 the residual of a slender structure is mostly
//! rounding. Source: T. J. Dekker, "A floating-point technique for extending the available
//! precision", Numer. Math. 18 (1971) 224-242 (split, product); D. E. Knuth, The Art of Computer
//! Programming 2, 4.2.2 (sum). No fused multiply-add: its presence depends on the processor.

/// An unevaluated sum of two f64 with |lo| at most half a unit in the last place of hi.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Double {
    pub(crate) hi: f64,
    pub(crate) lo: f64,
}

impl Double {
    pub(crate) const ZERO: Double = Double { hi: 0.0, lo: 0.0 };

    /// Exactly `v`.
    pub(crate) fn from_f64(v: f64) -> Self {
        Double { hi: v, lo: 0.0 }
    }

    /// Rounded to f64.
    pub(crate) fn to_f64(self) -> f64 {
        self.hi + self.lo
    }

    /// Sum of two doubles.
    pub(crate) fn plus(self, other: Double) -> Self {
        let (sum, error) = two_sum(self.hi, other.hi);
        quick_two_sum(sum, error + self.lo + other.lo)
    }

    /// Sum with an f64.
    pub(crate) fn plus_f64(self, v: f64) -> Self {
        let (sum, error) = two_sum(self.hi, v);
        quick_two_sum(sum, error + self.lo)
    }

    /// Product with an f64.
    pub(crate) fn times(self, v: f64) -> Self {
        let (product, error) = two_product(self.hi, v);
        quick_two_sum(product, error + self.lo * v)
    }

    /// `self + a * b`, the step of every sum of products.
    pub(crate) fn plus_product(self, a: Double, b: f64) -> Self {
        self.plus(a.times(b))
    }

    pub(crate) fn negated(self) -> Self {
        Double { hi: -self.hi, lo: -self.lo }
    }
}

fn two_sum(a: f64, b: f64) -> (f64, f64) {
    let sum = a + b;
    let b_part = sum - a;
    (sum, (a - (sum - b_part)) + (b - b_part))
}

fn quick_two_sum(hi: f64, lo: f64) -> Double {
    let sum = hi + lo;
    Double { hi: sum, lo: lo - (sum - hi) }
}

/// 2^27 + 1: cuts the 53 bits of an f64 into two halves.
const SPLITTER: f64 = 134_217_729.0;

fn split(a: f64) -> (f64, f64) {
    let t = SPLITTER * a;
    let hi = t - (t - a);
    (hi, a - hi)
}

fn two_product(a: f64, b: f64) -> (f64, f64) {
    let product = a * b;
    let (a_hi, a_lo) = split(a);
    let (b_hi, b_lo) = split(b);
    let error = ((a_hi * b_hi - product) + a_hi * b_lo + a_lo * b_hi) + a_lo * b_lo;
    (product, error)
}

#[cfg(test)]
mod tests {
    use super::*;

    // Exact by integer arithmetic: (2^52 + 1) * (2^52 - 1) = 2^104 - 1.
    #[test]
    fn a_product_keeps_the_digits_that_f64_drops() {
        let two_52 = 4_503_599_627_370_496.0;
        let product = Double::from_f64(two_52 + 1.0).times(two_52 - 1.0);
        let rest = product.plus_f64(-two_52 * two_52);
        assert!((rest.to_f64() + 1.0).abs() < 1e-300, "{rest:?}");
    }

    #[test]
    fn a_sum_keeps_a_tiny_term() {
        let sum = Double::from_f64(1.0).plus_f64(1e-25).plus(Double::from_f64(1.0).negated());
        assert!((sum.to_f64() - 1e-25).abs() < 1e-40, "{sum:?}");
    }
}
