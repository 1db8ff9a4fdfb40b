//! Every check in the order the load travels, and the highest utilisation of every part.

use std::collections::BTreeMap;

use fishplate_proto::v1;

use crate::given::Given;
use crate::names::{capital, component, identifier, quoted, without_echo};
use crate::numbers;
use crate::sections::plates::{Opinions, opinions};
use crate::state::{self, State, finite, worst};
use crate::svg::marks::badge_and_word;
use crate::svg::strip::strip;
use crate::units::Units;

/// The rows of one mount.
#[derive(Debug)]
pub(crate) struct Group {
    pub(crate) name: String,
    pub(crate) rows: Vec<Check>,
}

/// One row of the table.
#[derive(Debug)]
pub(crate) struct Check {
    pub(crate) id: String,
    pub(crate) anchor: String,
    pub(crate) part: String,
    pub(crate) what: String,
    pub(crate) kind: &'static str,
    pub(crate) number: String,
    pub(crate) state: String,
    pub(crate) strip: String,
    pub(crate) case: String,
    /// Demand and resistance, or why there are none.
    pub(crate) effect: String,
    pub(crate) resistance: String,
    pub(crate) clause: String,
    pub(crate) notes: Vec<String>,
    /// Hand statics and plates, where both were asked.
    pub(crate) opinions: Option<Opinions>,
}

/// The highest utilisation of one part.
#[derive(Debug)]
pub(crate) struct Part {
    pub(crate) name: String,
    pub(crate) number: String,
    pub(crate) state: String,
    pub(crate) strip: String,
    pub(crate) row_id: String,
    pub(crate) row_anchor: String,
    pub(crate) open: String,
}

/// The rows in groups: mounts in their order, then what belongs to none.
pub(crate) fn groups(given: Given<'_>) -> Vec<Group> {
    let mounts = &given.response.mounts;
    let mut out: Vec<Group> = mounts
        .iter()
        .map(|mount| Group {
            name: format!(
                "{} mount, {}, from the {} to the rail",
                capital(&mount.name),
                mount.id,
                if mount.carries.is_empty() { "cradle" } else { mount.carries.as_str() }
            ),
            rows: given.rows_of(&mount.id).map(|row| check(row, given.units)).collect(),
        })
        .collect();
    let known = |row: &&v1::Row| mounts.iter().any(|m| m.id == row.mount_id);
    out.push(Group {
        name: "The whole".to_owned(),
        rows: given
            .response
            .rows
            .iter()
            .filter(|row| !known(row))
            .map(|row| check(row, given.units))
            .collect(),
    });
    out.retain(|group| !group.rows.is_empty());
    out
}

/// Parts, highest utilisation first; those without any come last.
pub(crate) fn parts(given: Given<'_>) -> Vec<Part> {
    let mut rows: BTreeMap<&str, Vec<&v1::Row>> = BTreeMap::new();
    for row in &given.response.rows {
        rows.entry(&row.component).or_default().push(row);
    }
    let mut out: Vec<(State, f64, Part)> = rows
        .into_iter()
        .map(|(name, rows)| {
            let is_open =
                |r: &&&v1::Row| matches!(State::of(r), State::NotChecked | State::RuleNotMet);
            let open = rows.iter().filter(is_open).count();
            let outside = rows.iter().filter(|r| State::of(r) == State::OutsideScope).count();
            let row = worst(rows.iter().copied());
            let (state, utilisation) =
                row.map_or((State::NotChecked, None), |r| (State::of(r), finite(r.utilisation)));
            let shown = row.or_else(|| rows.first().copied());
            let part = Part {
                name: capital(&component(name)),
                number: row.map_or_else(|| numbers::NOT_FOUND.to_owned(), state::number),
                state: badge_and_word(state),
                strip: strip(240.0, utilisation, state),
                row_id: shown.map_or_else(String::new, |r| r.id.clone()),
                row_anchor: shown.map_or_else(String::new, |r| identifier(&r.id)),
                open: match (row.is_some(), open, outside) {
                    (true, 0, 0) | (false, ..) => String::new(),
                    (true, n, 0) => format!("{n} more open"),
                    (true, 0, n) => format!("{n} outside the scope of a formula"),
                    (true, n, m) => format!("{n} more open, {m} outside the scope"),
                },
            };
            (state, utilisation.unwrap_or(-1.0), part)
        })
        .collect();
    // Of the same state, the higher comes first; what exceeds before all.
    out.sort_by(|a, b| {
        let rank = |s: State| u8::from(s == State::Exceeds);
        rank(b.0).cmp(&rank(a.0)).then(b.1.total_cmp(&a.1)).then(a.2.name.cmp(&b.2.name))
    });
    out.into_iter().map(|(_, _, part)| part).collect()
}

fn check(row: &v1::Row, units: Units) -> Check {
    let state = State::of(row);
    let utilisation = finite(row.utilisation).filter(|_| state != State::NotChecked);
    let (effect, resistance) = match state {
        State::NotChecked if row.not_checked_reason.trim().is_empty() => {
            ("no reason was given".to_owned(), String::new())
        }
        State::NotChecked => (quoted(&row.not_checked_reason), String::new()),
        _ => (
            numbers::quantity(row.demand, &row.unit, units),
            format!("of {}", numbers::quantity(row.resistance, &row.unit, units)),
        ),
    };
    Check {
        id: row.id.clone(),
        anchor: identifier(&row.id),
        part: capital(&component(&row.component)),
        what: quoted(without_echo(&row.component, &row.what)),
        kind: match row.kind() {
            v1::CheckKind::Serviceability => "unfactored loads",
            v1::CheckKind::Detailing => "detailing rule",
            v1::CheckKind::Strength | v1::CheckKind::Unspecified => "",
        },
        number: state::number(row),
        state: badge_and_word(state),
        strip: strip(240.0, utilisation, state),
        case: row.case_name.clone(),
        effect,
        resistance,
        clause: row.clause.clone(),
        notes: row.notes.iter().map(|n| capital(&quoted(n))).collect(),
        opinions: opinions(row),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(id: &str, mount: &str, state: v1::State, utilisation: Option<f64>) -> v1::Row {
        v1::Row {
            id: id.to_owned(),
            mount_id: mount.to_owned(),
            component: format!("part.{id}"),
            state: state.into(),
            utilisation,
            ..v1::Row::default()
        }
    }

    fn response() -> v1::CheckProjectResponse {
        let mount = v1::MountAnswer { id: "FL".to_owned(), ..v1::MountAnswer::default() };
        v1::CheckProjectResponse {
            mounts: vec![mount],
            rows: vec![
                row("W-1", "", v1::State::NotChecked, None),
                row("FL-1", "FL", v1::State::Holds, Some(0.4)),
                row("XX-1", "XX", v1::State::Exceeds, Some(1.2)),
            ],
            ..v1::CheckProjectResponse::default()
        }
    }

    #[test]
    fn every_row_is_in_one_group_even_of_a_mount_that_is_not_listed() {
        let (request, response) = (v1::CheckProjectRequest::default(), response());
        let groups = groups(Given::new(&request, &response));
        let ids: Vec<Vec<&str>> =
            groups.iter().map(|g| g.rows.iter().map(|r| r.id.as_str()).collect()).collect();
        assert_eq!(ids, [vec!["FL-1"], vec!["W-1", "XX-1"]]);
    }

    #[test]
    fn parts_come_worst_first_and_unknown_last() {
        let (request, response) = (v1::CheckProjectRequest::default(), response());
        let parts = parts(Given::new(&request, &response));
        let ids: Vec<&str> = parts.iter().map(|p| p.row_id.as_str()).collect();
        assert_eq!(ids, ["XX-1", "FL-1", "W-1"]);
        assert_eq!(parts[2].number, "–");
    }

    #[test]
    fn a_row_that_was_not_checked_gives_its_reason_and_no_number() {
        let mut unchecked = row("A", "", v1::State::NotChecked, Some(0.3));
        unchecked.demand = 4.0;
        unchecked.not_checked_reason = "no supports given".to_owned();
        let shown = check(&unchecked, Units::Si);
        assert_eq!((shown.number.as_str(), shown.effect.as_str()), ("–", "no supports given"));
        assert!(shown.resistance.is_empty() && !shown.strip.contains("f-cool"));
    }
}
