//! Which guess matters, and what is open.

use fishplate_proto::v1;

use crate::given::Given;
use crate::names::{capital, component, identifier, in_the_file, other_side, quoted};
use crate::numbers::{self, utilisation};
use crate::state::{State, finite, outside_scope, worst};
use crate::svg::geometry::{larger, smaller};
use crate::units::Units;
use crate::views::ranges::{self, Range};

/// A range narrower than this is counted and not drawn.
const LEAST_SPAN: f64 = 0.10;

/// Guesses with what they do.
#[derive(Debug)]
pub(crate) struct Guesses {
    pub(crate) chart: Option<String>,
    pub(crate) first: String,
    pub(crate) narrow: usize,
    pub(crate) rows: Vec<Guess>,
}

/// One guess.
#[derive(Debug)]
pub(crate) struct Guess {
    pub(crate) what: String,
    pub(crate) value: String,
    pub(crate) path: String,
    pub(crate) runs: String,
    pub(crate) row_id: String,
    pub(crate) row_anchor: String,
}

/// One check that could not be made.
#[derive(Debug)]
pub(crate) struct Unchecked {
    pub(crate) ids: String,
    pub(crate) what: String,
    pub(crate) reason: String,
}

/// The guesses, those that move the answer most first.
pub(crate) fn guesses(given: Given<'_>) -> Guesses {
    let span = |g: &v1::Guess| range(g).map_or(-1.0, |r| r.span());
    let mut sorted: Vec<&v1::Guess> = given.response.guesses.iter().collect();
    sorted.sort_by(|a, b| span(b).total_cmp(&span(a)));
    let ranges: Vec<Range> = sorted.iter().filter_map(|g| range(g)).collect();
    let wide: Vec<Range> = ranges.iter().filter(|r| r.span() >= LEAST_SPAN).cloned().collect();
    let entered = worst(&given.response.rows).and_then(|r| finite(r.utilisation));
    Guesses {
        chart: (!wide.is_empty()).then(|| ranges::draw(&wide, entered)),
        first: wide.iter().take(3).map(|r| r.name.clone()).collect::<Vec<_>>().join("; "),
        narrow: ranges.len() - wide.len(),
        rows: sorted.into_iter().map(|g| one(given, g)).collect(),
    }
}

fn one(given: Given<'_>, guess: &v1::Guess) -> Guess {
    let text = |u: f64| utilisation(u, u > 1.0);
    let known = given.response.rows.iter().any(|r| r.id == guess.row_id);
    Guess {
        what: capital(&guess.what),
        value: guess.value.clone(),
        path: in_the_file(given.project, &guess.field_path),
        runs: range(guess).map_or_else(
            || "no spread was given".to_owned(),
            |r| {
                let ends = [smaller(r.low, r.high), larger(r.low, r.high)].map(text);
                match ends[0] == ends[1] {
                    true => format!("stays at {}", ends[0]),
                    false => format!("{} to {}", ends[0], ends[1]),
                }
            },
        ),
        row_id: if known { guess.row_id.clone() } else { String::new() },
        row_anchor: identifier(&guess.row_id),
    }
}

fn range(guess: &v1::Guess) -> Option<Range> {
    Some(Range {
        name: capital(&guess.what),
        value: guess.value.clone(),
        low: finite(guess.utilisation_low)?,
        high: finite(guess.utilisation_high)?,
    })
}

/// What was not checked; the same check for the same reason stands once, with all its numbers.
pub(crate) fn unchecked(given: Given<'_>) -> Vec<Unchecked> {
    let rows = given.response.rows.iter().filter(|r| State::of(r) == State::NotChecked);
    together(&rows.collect::<Vec<_>>(), given.units)
}

/// Rows that are open; the same check for the same reason stands once, with all its numbers, on
/// whichever side of the car.
pub(crate) fn together(rows: &[&v1::Row], units: Units) -> Vec<Unchecked> {
    let mut out: Vec<Unchecked> = Vec::new();
    for row in rows {
        let what = if row.what.is_empty() { component(&row.component) } else { quoted(&row.what) };
        let scope = outside_scope(row).filter(|_| State::of(row) != State::NotChecked);
        let reason = match scope.unwrap_or(row.not_checked_reason.trim()) {
            _ if State::of(row) == State::RuleNotMet => format!(
                "{} against {}",
                numbers::quantity(row.demand, &row.unit, units),
                numbers::quantity(row.resistance, &row.unit, units)
            ),
            "" => "No reason was given".to_owned(),
            reason => capital(&quoted(reason)),
        };
        let twin = |u: &Unchecked| {
            let same = |a: &str, b: &str| a == b || a == other_side(b);
            same(&u.what, &what) && same(&u.reason, &reason)
        };
        match out.iter_mut().find(|u| twin(u)) {
            Some(same) => {
                same.ids.push_str(", ");
                same.ids.push_str(&row.id);
            }
            None => out.push(Unchecked { ids: row.id.clone(), what, reason }),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn guess(what: &str, ends: Option<(f64, f64)>) -> v1::Guess {
        v1::Guess {
            what: what.to_owned(),
            utilisation_low: ends.map(|e| e.0),
            utilisation_high: ends.map(|e| e.1),
            ..v1::Guess::default()
        }
    }

    #[test]
    fn the_widest_comes_first_and_one_without_spread_last() {
        let response = v1::CheckProjectResponse {
            guesses: vec![
                guess("grip", None),
                guess("ratio", Some((1.6, 1.65))),
                guess("yield", Some((1.94, 1.38))),
            ],
            ..v1::CheckProjectResponse::default()
        };
        let request = v1::CheckProjectRequest::default();
        let shown = guesses(Given::new(&request, &response));
        let order: Vec<&str> = shown.rows.iter().map(|r| r.what.as_str()).collect();
        assert_eq!(order, ["Yield", "Ratio", "Grip"]);
        assert_eq!((shown.narrow, shown.rows[2].runs.as_str()), (1, "no spread was given"));
        assert_eq!(shown.first, "Yield");
        assert!(shown.chart.is_some());
    }

    #[test]
    fn the_same_open_check_stands_once() {
        let row = |id: &str| v1::Row {
            id: id.to_owned(),
            what: "twist".to_owned(),
            state: v1::State::NotChecked.into(),
            ..v1::Row::default()
        };
        let response = v1::CheckProjectResponse {
            rows: vec![row("FL-5"), row("FR-5")],
            ..v1::CheckProjectResponse::default()
        };
        let request = v1::CheckProjectRequest::default();
        let shown = unchecked(Given::new(&request, &response));
        assert_eq!((shown.len(), shown[0].ids.as_str()), (1, "FL-5, FR-5"));
    }
}
