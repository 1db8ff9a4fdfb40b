//! What a clause returns: demand against resistance, or why there is no number.

use std::cmp::Ordering;

use fishplate_quantity::Dimension;
use fishplate_quantity::trace::quantity_text;

/// Largest relative error that a dozen rounded operations can add up to.
const ROUNDING: f64 = 1e-12;

/// Demand over resistance: 1 is the limit. Never NaN and never negative; infinite when a demand
/// meets no resistance at all.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Utilisation(f64);

impl Utilisation {
    /// A utilisation, or nothing for NaN and negative numbers.
    #[must_use]
    pub fn new(value: f64) -> Option<Self> {
        // Written so that NaN falls through; adding zero turns -0 into 0.
        if value >= 0.0 { Some(Self(value + 0.0)) } else { None }
    }

    /// The number.
    #[must_use]
    pub fn value(self) -> f64 {
        self.0
    }

    /// Whether the limit is exceeded by more than sums and unit factors are rounded by: a leg of
    /// 3 mm where 3 mm are required is enough.
    #[must_use]
    pub fn exceeds(self) -> bool {
        self.0 > 1.0 + ROUNDING
    }

    /// The largest of many: the only fold over utilisations.
    #[must_use]
    pub fn governing(many: impl IntoIterator<Item = Self>) -> Option<Self> {
        many.into_iter().reduce(|a, b| if b > a { b } else { a })
    }
}

impl Eq for Utilisation {}

impl Ord for Utilisation {
    fn cmp(&self, other: &Self) -> Ordering {
        self.0.total_cmp(&other.0)
    }
}

impl PartialOrd for Utilisation {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

/// A demand compared with a resistance, both in SI units of `dimension`. In a detailing rule the
/// demand is what is required and the resistance what is provided, or the reverse for a limit
/// from above.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Checked {
    /// What is asked of the part.
    pub demand: f64,
    /// What it can give.
    pub resistance: f64,
    /// What the two measure.
    pub dimension: Dimension,
    /// Their ratio.
    pub utilisation: Utilisation,
}

impl Checked {
    /// Demand, resistance and the utilisation the derivation ended in.
    ///
    /// # Errors
    /// [`NotChecked::NotANumber`] when one of the three is not a number that can be stood behind:
    /// NaN, negative, or an infinite demand or resistance.
    pub fn new(
        demand: f64,
        resistance: f64,
        dimension: Dimension,
        utilisation: f64,
    ) -> Result<Self, NotChecked> {
        let broken = NotChecked::NotANumber { demand, resistance, dimension };
        let sound = |value: f64| value.is_finite() && value >= 0.0;
        match Utilisation::new(utilisation) {
            Some(utilisation) if sound(demand) && sound(resistance) => {
                Ok(Self { demand, resistance, dimension, utilisation })
            }
            _ => Err(broken),
        }
    }
}

/// Why a clause gave no number. Never a pass.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NotChecked {
    /// The clause does not speak about this input.
    #[error("does not apply: {reason}")]
    DoesNotApply {
        /// Why not.
        reason: String,
    },
    /// A number the clause needs is not given.
    #[error("not checked: {what} ({symbol}) is not given")]
    Missing {
        /// Its symbol.
        symbol: &'static str,
        /// What it is.
        what: &'static str,
    },
    /// A number is not one that can be.
    #[error(
        "not checked: {what} ({symbol}) is {}, allowed is {allowed}",
        quantity_text(*.value, *.dimension)
    )]
    OutOfRange {
        /// Its symbol.
        symbol: &'static str,
        /// What it is.
        what: &'static str,
        /// What was given, SI.
        value: f64,
        /// What it measures.
        dimension: Dimension,
        /// What is allowed.
        allowed: &'static str,
    },
    /// The formula gave something that is not a usable number.
    #[error(
        "not checked: the formula gave no usable number (demand {}, resistance {})",
        quantity_text(*.demand, *.dimension),
        quantity_text(*.resistance, *.dimension)
    )]
    NotANumber {
        /// Demand, SI.
        demand: f64,
        /// Resistance, SI.
        resistance: f64,
        /// What they measure.
        dimension: Dimension,
    },
    /// The pack has no rule for this case.
    #[error("not checked: {reason}")]
    NoRule {
        /// Why not, and who can decide.
        reason: String,
    },
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nan_and_negative_numbers_are_no_utilisation() {
        assert_eq!(Utilisation::new(f64::NAN), None);
        assert_eq!(Utilisation::new(-1e-300), None);
        assert!(Utilisation::new(f64::INFINITY).is_some_and(Utilisation::exceeds));
    }

    #[test]
    fn the_limit_itself_holds_whatever_the_rounding() {
        // 3 mm against 3 mm, in inches and back: 1 ulp or two beyond.
        for value in [1.0, 1.0 + f64::EPSILON, 1.0 + 4.0 * f64::EPSILON] {
            assert!(!Utilisation::new(value).unwrap().exceeds());
        }
        assert!(Utilisation::new(1.0 + 1e-9).unwrap().exceeds());
    }

    #[test]
    fn the_governing_utilisation_is_the_largest() {
        let many = [0.3, 1.2, 0.7].map(|v| Utilisation::new(v).unwrap());
        assert_eq!(Utilisation::governing(many), Utilisation::new(1.2));
        assert_eq!(Utilisation::governing([]), None);
    }

    #[test]
    fn an_overflowed_resistance_is_not_a_pass() {
        assert!(Checked::new(1.0, f64::INFINITY, Dimension::Force, 0.0).is_err());
    }

    #[test]
    fn a_demand_without_any_resistance_exceeds() {
        let checked = Checked::new(1.0, 0.0, Dimension::Force, 1.0 / 0.0).unwrap();
        assert!(checked.utilisation.exceeds());
    }
}
