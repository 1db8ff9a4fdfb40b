//! The state of a check: a shape, a word and a number; no other words.

use fishplate_proto::v1;

use crate::numbers;

/// The state as the page tells it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum State {
    /// At or below the limit.
    Holds,
    /// Below the limit by a formula that does not reach this far: nothing is passed.
    OutsideScope,
    /// A detailing rule that is not met: strength formulas rest on it, so nothing is passed.
    RuleNotMet,
    /// Nothing is known, so nothing is passed.
    NotChecked,
    /// Above the limit.
    Exceeds,
}

impl State {
    /// The state of a row. A row that is said to hold without a number is not passed.
    pub(crate) fn of(row: &v1::Row) -> Self {
        match (row.state(), finite(row.utilisation)) {
            (v1::State::Exceeds, _) => Self::Exceeds,
            (v1::State::RuleNotMet, Some(_)) => Self::RuleNotMet,
            (v1::State::Holds, Some(_)) if outside_scope(row).is_some() => Self::OutsideScope,
            (v1::State::Holds, Some(_)) => Self::Holds,
            _ => Self::NotChecked,
        }
    }

    /// The state that a bare utilisation shows: the wire has no state for one mount in one case.
    pub(crate) fn of_number(utilisation: f64) -> Self {
        if !utilisation.is_finite() {
            Self::NotChecked
        } else if utilisation > 1.0 {
            Self::Exceeds
        } else {
            Self::Holds
        }
    }

    /// Its word.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Holds => "holds",
            Self::Exceeds => "exceeds",
            Self::OutsideScope => "outside scope",
            Self::RuleNotMet => "rule not met",
            Self::NotChecked => "not checked",
        }
    }

    /// Its class in the style sheet, after `st-` or `w-`.
    pub(crate) fn class(self) -> &'static str {
        match self {
            Self::Holds => "holds",
            Self::Exceeds => "exceeds",
            Self::OutsideScope | Self::RuleNotMet | Self::NotChecked => "not",
        }
    }
}

/// Why the formula of a row does not reach as far as the row, where it does not.
pub(crate) fn outside_scope(row: &v1::Row) -> Option<&str> {
    Some(row.outside_scope.as_str()).filter(|reason| !reason.is_empty())
}

/// The number, where there is one that can be printed.
pub(crate) fn finite(value: Option<f64>) -> Option<f64> {
    value.filter(|v| v.is_finite())
}

/// The utilisation of a row as text; "–" where it was not checked.
pub(crate) fn number(row: &v1::Row) -> String {
    match (State::of(row), finite(row.utilisation)) {
        (State::NotChecked, _) | (_, None) => numbers::NOT_FOUND.to_owned(),
        (state, Some(value)) => {
            let over = matches!(state, State::Exceeds | State::RuleNotMet);
            numbers::utilisation(value, over)
        }
    }
}

/// The checked row with the highest utilisation; a row that exceeds comes before any that holds.
pub(crate) fn worst<'a>(rows: impl IntoIterator<Item = &'a v1::Row>) -> Option<&'a v1::Row> {
    let mut worst: Option<(&v1::Row, bool, f64)> = None;
    for row in rows {
        let state = State::of(row);
        // A rule of detailing says nothing about how much is used.
        let counts = !matches!(state, State::NotChecked | State::RuleNotMet);
        let (true, Some(value)) = (counts, finite(row.utilisation)) else { continue };
        let exceeds = state == State::Exceeds;
        if worst.is_none_or(|(_, e, u)| exceeds && !e || (exceeds == e && value > u)) {
            worst = Some((row, exceeds, value));
        }
    }
    worst.map(|w| w.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(state: v1::State, utilisation: Option<f64>) -> v1::Row {
        v1::Row { state: state.into(), utilisation, ..v1::Row::default() }
    }

    #[test]
    fn the_word_follows_the_state_and_not_the_number() {
        assert_eq!(State::of(&row(v1::State::Exceeds, Some(0.9))), State::Exceeds);
        assert_eq!(State::of(&row(v1::State::Holds, Some(1.000_000_1))), State::Holds);
        assert_eq!(State::of(&row(v1::State::NotChecked, Some(0.2))), State::NotChecked);
    }

    #[test]
    fn nothing_unknown_is_passed() {
        assert_eq!(State::of(&row(v1::State::Unspecified, Some(0.2))), State::NotChecked);
        assert_eq!(State::of(&row(v1::State::Holds, None)), State::NotChecked);
        assert_eq!(State::of(&row(v1::State::Holds, Some(f64::NAN))), State::NotChecked);
        assert_eq!(State::of_number(f64::NAN), State::NotChecked);
        assert_eq!(number(&row(v1::State::NotChecked, Some(0.2))), "–");
    }

    #[test]
    fn a_formula_outside_its_scope_passes_nothing_and_still_shows_its_number() {
        let mut open = row(v1::State::Holds, Some(0.85));
        open.outside_scope = "the rail is open".to_owned();
        assert_eq!(State::of(&open), State::OutsideScope);
        assert_eq!(State::OutsideScope.class(), "not");
        assert_eq!(number(&open), "0.85");
        assert_eq!(outside_scope(&open), Some("the rail is open"));
        open.state = v1::State::Exceeds.into();
        assert_eq!(State::of(&open), State::Exceeds);
        assert_eq!(outside_scope(&row(v1::State::Holds, Some(0.2))), None);
    }

    #[test]
    fn a_rule_that_is_not_met_is_no_excess_and_no_pass() {
        let broken = row(v1::State::RuleNotMet, Some(1.4));
        assert_eq!(State::of(&broken), State::RuleNotMet);
        assert_eq!((State::RuleNotMet.class(), number(&broken).as_str()), ("not", "1.40"));
    }

    #[test]
    fn what_exceeds_is_worse_than_what_holds() {
        let rows = [row(v1::State::Holds, Some(0.4)), row(v1::State::Exceeds, Some(1.2))];
        assert_eq!(worst(&rows).and_then(|r| r.utilisation), Some(1.2));
        assert!(worst(&[row(v1::State::NotChecked, None)]).is_none());
        let broken = row(v1::State::RuleNotMet, Some(20.0));
        assert_eq!(worst(&[broken, rows[0].clone()]).and_then(|r| r.utilisation), Some(0.4));
    }
}
