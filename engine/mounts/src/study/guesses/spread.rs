//! How far an input may be off, and how likely it is to be where.

/// How an input is spread between its ends. Nobody knows the true distribution of a guess: these
/// are the plainest that each way of writing a spread admits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Law {
    /// `±`: every value between the ends is as likely as any other.
    Uniform,
    /// `×÷`: every ratio is as likely as any other.
    LogUniform,
    /// `-35 +45`: as likely below the value as above it, uniform on each side.
    TwoPiece,
}

/// The spread of an input, in SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spread {
    /// Lowest value.
    pub low: f64,
    /// Highest value.
    pub high: f64,
    /// How likely it is to be where between them.
    pub law: Law,
    /// Where the ends come from; nothing where the project gives them.
    pub assumed: Option<&'static str>,
}

/// Ends that are the same to rounding of what was written, relative.
const SAME: f64 = 1e-9;

impl Spread {
    /// The spread from `low` to `high` about `value`, as written.
    pub(crate) fn about(value: f64, low: f64, high: f64, assumed: Option<&'static str>) -> Self {
        let near = |a: f64, b: f64| (a - b).abs() <= SAME * (high - low).abs();
        let law = if near(value - low, high - value) {
            Law::Uniform
        } else if low > 0.0 && near((low * high).sqrt(), value) {
            Law::LogUniform
        } else {
            Law::TwoPiece
        };
        Self { low, high, law, assumed }
    }

    /// The value below which the share `u` of all lies, 0 to 1.
    pub(crate) fn quantile(&self, value: f64, u: f64) -> f64 {
        let between = |a: f64, b: f64, share: f64| a + (b - a) * share;
        match self.law {
            Law::Uniform => between(self.low, self.high, u),
            Law::LogUniform => between(self.low.ln(), self.high.ln(), u).exp(),
            Law::TwoPiece if u < 0.5 => between(self.low, value, 2.0 * u),
            Law::TwoPiece => between(value, self.high, 2.0 * u - 1.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Quantiles by hand from the three ways of writing.
    #[test]
    fn each_way_of_writing_has_its_law() {
        let even = Spread::about(760.0, 710.0, 810.0, None);
        assert_eq!(even.law, Law::Uniform);
        assert!((even.quantile(760.0, 0.25) - 735.0).abs() < 1e-9);

        let ratio = Spread::about(3500.0, 1750.0, 7000.0, None);
        assert_eq!(ratio.law, Law::LogUniform);
        // A quarter of the way between ÷2 and ×2 is ÷√2.
        assert!((ratio.quantile(3500.0, 0.25) - 3500.0 / 2f64.sqrt()).abs() < 1e-9);

        let lopsided = Spread::about(235.0, 200.0, 280.0, None);
        assert_eq!(lopsided.law, Law::TwoPiece);
        assert!((lopsided.quantile(235.0, 0.25) - 217.5).abs() < 1e-9);
        assert!((lopsided.quantile(235.0, 0.5) - 235.0).abs() < 1e-9);
        assert!((lopsided.quantile(235.0, 0.75) - 257.5).abs() < 1e-9);
    }

    #[test]
    fn the_ends_are_reached() {
        for (low, value, high) in [(1.0, 2.0, 3.0), (1.0, 2.0, 4.0), (1.0, 2.0, 7.0)] {
            let spread = Spread::about(value, low, high, None);
            assert!((spread.quantile(value, 0.0) - low).abs() < 1e-12);
            assert!((spread.quantile(value, 1.0) - high).abs() < 1e-12);
        }
    }
}
