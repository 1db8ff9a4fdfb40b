//! The derivation of every row, as sums that unfold.

use fishplate_proto::v1;

use crate::calculation::{Manner, Step, remark, steps};
use crate::given::Given;
use crate::names::{capital, component, identifier, in_the_file, quoted, without_echo};
use crate::numbers::{self, NOT_FOUND};
use crate::sections::plates::{Opinions, opinions};
use crate::state::{self, State, finite, worst};
use crate::svg::marks::badge_and_word;
use crate::symbols::Hand;

/// The sums of one row.
#[derive(Debug)]
pub(crate) struct Sum {
    pub(crate) id: String,
    pub(crate) anchor: String,
    pub(crate) title: String,
    pub(crate) name: String,
    pub(crate) number: String,
    pub(crate) state: String,
    pub(crate) open: bool,
    pub(crate) steps: Vec<Step>,
    pub(crate) alternatives: Vec<Other>,
    /// Hand statics and plates, where both were asked.
    pub(crate) opinions: Option<Opinions>,
    pub(crate) reason: String,
    pub(crate) clause: String,
    pub(crate) interface: String,
    pub(crate) notes: Vec<String>,
    /// Case, number and word, where there is more than one case.
    pub(crate) by_case: Vec<(String, String)>,
}

/// The same question answered another way.
#[derive(Debug)]
pub(crate) struct Other {
    pub(crate) what: String,
    pub(crate) number: String,
    pub(crate) ratio: String,
    pub(crate) note: String,
}

/// The sums of all rows, in their order; the worst one is open.
pub(crate) fn sums(given: Given<'_>) -> Vec<Sum> {
    let rows = &given.response.rows;
    let open = worst(rows).map(|row| row.id.as_str());
    rows.iter().map(|row| sum(given, row, open == Some(row.id.as_str()))).collect()
}

fn sum(given: Given<'_>, row: &v1::Row, open: bool) -> Sum {
    let state = State::of(row);
    let short = [&row.short_what, &row.what].into_iter().find(|t| !t.is_empty());
    let case = if row.case_name.is_empty() || state == State::NotChecked {
        String::new()
    } else {
        format!(", case {}", row.case_name)
    };
    let part = capital(&component(&row.component));
    let short = short.map(|s| quoted(without_echo(&row.component, s)));
    let place = |path: &str| in_the_file(given.project, path);
    let manner = Manner { units: given.units, hand: Hand::Page, place: &place };
    let cases = &given.response.cases;
    let by_case = if state == State::NotChecked || row.utilisation_by_case.len() != cases.len() {
        Vec::new()
    } else {
        let number = |u: f64| numbers::utilisation(u, u > 1.0);
        let pairs = cases.iter().zip(&row.utilisation_by_case);
        pairs.map(|(case, u)| (case.name.clone(), number(*u))).collect()
    };
    Sum {
        id: row.id.clone(),
        anchor: identifier(&row.id),
        title: format!("{part}: {}{case}", short.unwrap_or_default()),
        name: row.component.clone(),
        number: state::number(row),
        state: badge_and_word(state),
        open,
        steps: steps(&row.derivation, manner),
        alternatives: row.alternatives.iter().map(|a| other(row, a)).collect(),
        opinions: opinions(row),
        reason: if state == State::NotChecked {
            quoted(&row.not_checked_reason)
        } else {
            String::new()
        },
        clause: row.clause.clone(),
        interface: row.interface_name.clone(),
        notes: row.notes.iter().map(|n| remark(n)).collect(),
        by_case,
    }
}

pub(crate) fn other(row: &v1::Row, alternative: &v1::Alternative) -> Other {
    let value = finite(alternative.utilisation);
    let own = finite(row.utilisation).filter(|u| *u > 1e-9 && State::of(row) != State::NotChecked);
    let case = if alternative.case_name.is_empty() || alternative.case_name == row.case_name {
        String::new()
    } else {
        format!(", case {}", alternative.case_name)
    };
    Other {
        what: alternative.what.clone(),
        number: match value {
            Some(u) => format!("{}{case}", numbers::utilisation(u, u > 1.0)),
            None => NOT_FOUND.to_owned(),
        },
        ratio: match (value, own) {
            (Some(u), Some(own)) => {
                format!("{} times the result above", numbers::fixed(u / own, 2))
            }
            _ => String::new(),
        },
        note: alternative.note.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_second_way_is_shown_with_its_ratio() {
        // By hand: 0.456 over 0.374 is 1.219.
        let row = v1::Row {
            utilisation: Some(0.374),
            state: v1::State::Holds.into(),
            ..v1::Row::default()
        };
        let way = v1::Alternative { utilisation: Some(0.456), ..v1::Alternative::default() };
        let shown = other(&row, &way);
        assert_eq!(
            (shown.number.as_str(), shown.ratio.as_str()),
            ("0.46", "1.22 times the result above")
        );
        let unknown = other(&row, &v1::Alternative::default());
        assert_eq!((unknown.number.as_str(), unknown.ratio.as_str()), ("–", ""));
    }
}
