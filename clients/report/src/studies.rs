//! Pages of studies: each one self-contained, in the look of the others.

mod guesses;
mod what_if;

pub use guesses::guesses_page;
pub use what_if::what_if_page;

use fishplate_proto::v1::Verdict;

use crate::numbers;
use crate::page::LEAST_CAUTION;
use crate::state::State;
use crate::svg::marks::badge;
use crate::units::Units;

/// The mark of a verdict and its words.
fn verdict(verdict: Verdict) -> (String, &'static str) {
    match verdict {
        Verdict::Holds => (badge(State::Holds), "holds"),
        Verdict::DoesNotHold => (badge(State::Exceeds), "does not hold"),
        Verdict::Provisional => (badge(State::NotChecked), "provisional"),
        Verdict::Unspecified => (badge(State::NotChecked), "no verdict"),
    }
}

/// The cautions of an answer: no page goes without.
fn cautions(told: &[String]) -> Vec<String> {
    if told.is_empty() { vec![LEAST_CAUTION.to_owned()] } else { told.to_vec() }
}

/// A utilisation as text; a dash where there is none.
fn used(value: Option<f64>) -> String {
    value.map_or_else(|| numbers::NOT_FOUND.to_owned(), |u| numbers::utilisation(u, u > 1.0))
}

/// A value in its unit.
fn valued(value: f64, unit: &str, units: Units) -> String {
    let (value, unit) = units.of(value, unit);
    numbers::with_unit(&numbers::significant(value), unit)
}
