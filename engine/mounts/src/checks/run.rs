//! Runs drafted checks over all cases.

use fishplate_quantity::algebra::larger;
use fishplate_quantity::trace::quantity_text;
use fishplate_quantity::{Dimension, Trace};
use fishplate_strength::clause::{Checked, NotChecked};

use super::second::{self, Both};
use super::{Ask, Draft};
use crate::answer::{Alternative, Governing, Row, State};

/// A demand that meets no resistance at all is told as this many times too much: a finite number
/// that any reader of the answer can carry.
const NOTHING_LEFT: f64 = 1000.0;

/// The utilisation as told.
pub(super) fn told(checked: &Checked) -> f64 {
    fishplate_quantity::algebra::smaller(checked.utilisation.value(), NOTHING_LEFT)
}

/// The result of one question over all cases.
pub(super) enum Over {
    /// The worst case, with the utilisation in each.
    Worst { case: Option<usize>, checked: Checked, by_case: Vec<f64> },
    /// It could not be answered.
    NotChecked(String),
    /// It does not arise.
    Silent,
}

pub(super) fn over(ask: &Ask<'_>, by_case: bool, cases: usize) -> Over {
    let count = if by_case { cases } else { 1 };
    let mut worst: Option<(usize, Checked)> = None;
    let mut uses = Vec::with_capacity(count);
    for case in 0..count {
        match ask(case, &mut Trace::off()) {
            Ok(checked) => {
                uses.push(told(&checked));
                if worst.as_ref().is_none_or(|(_, w)| checked.utilisation > w.utilisation) {
                    worst = Some((case, checked));
                }
            }
            Err(NotChecked::DoesNotApply { .. }) => uses.push(0.0),
            Err(other) => {
                let text = other.to_string();
                let text = text.strip_prefix("not checked: ").unwrap_or(&text).to_owned();
                return Over::NotChecked(text);
            }
        }
    }
    match worst {
        Some((case, checked)) => Over::Worst {
            case: by_case.then_some(case),
            checked,
            by_case: if by_case { uses } else { Vec::new() },
        },
        None => Over::Silent,
    }
}

fn governing(checked: &Checked, case: Option<usize>) -> Governing {
    Governing {
        utilisation: told(checked),
        case,
        demand: checked.demand,
        resistance: checked.resistance,
        dimension: checked.dimension,
    }
}

/// What a draft comes to by hand statics, without words.
pub(crate) struct Quick {
    /// The governing case; none where it could not be checked.
    pub(crate) governing: Option<Governing>,
    /// Whether its number is outside the scope of its formula.
    pub(crate) outside: bool,
}

/// As [`run`], of hand statics alone and without words.
pub(crate) fn quick(draft: &Draft<'_>, cases: usize) -> Option<Quick> {
    let found = match &draft.blocked {
        Some(_) => None,
        None => match over(&draft.ask, draft.by_case, cases) {
            Over::Silent => return None,
            Over::NotChecked(_) => None,
            Over::Worst { case, checked, .. } => Some(governing(&checked, case)),
        },
    };
    Some(Quick { governing: found, outside: draft.outside.is_some() })
}

/// Runs a draft. Nothing where the question does not arise in any case.
///
/// Where the plate level was asked too, the worse of the two counts, in every case, unless `chosen`
/// says why this project takes hand statics on the joint.
pub(crate) fn run(
    draft: &Draft<'_>,
    cases: usize,
    traced: bool,
    chosen: Option<&str>,
) -> Option<Row> {
    let mut row = Row {
        id: String::new(),
        mount: draft.mount,
        component: draft.component.clone(),
        what: draft.what.clone(),
        short: draft.short.clone(),
        kind: draft.kind,
        state: State::NotChecked(String::new()),
        clause: draft.clause,
        by_case: Vec::new(),
        alternatives: Vec::new(),
        notes: draft.notes.clone(),
        outside: draft.outside.clone(),
        derivation: None,
        interface: draft.interface.clone(),
        tale: draft.tale.clone(),
        life: None,
        second_opinion: None,
    };
    if let Some(reason) = &draft.blocked {
        row.state = State::NotChecked(reason.clone());
        // The number is shown beside the reason, where there is one, but never counts.
        if let Over::Worst { case, checked, .. } = over(&draft.ask, draft.by_case, cases) {
            row.alternatives.push(Alternative {
                what: "if it could be built as drawn".to_owned(),
                utilisation: Some(told(&checked)),
                case,
                note: "shown for comparison only".to_owned(),
            });
        }
    } else {
        let hand = over(&draft.ask, draft.by_case, cases);
        let both = draft.second.as_ref().map(|s| second::weigh(draft, s, &hand, cases, chosen));
        let (found, ask) = match both {
            None => (hand, &draft.ask),
            Some(Both { opinion, plate, ask }) => {
                if opinion.plate.is_ok() && !opinion.unsettled() {
                    // The plates judge what the formula cannot: its number stands beside theirs.
                    row.outside = None;
                }
                if let Some(change) = opinion.mesh_change.filter(|_| opinion.unsettled()) {
                    row.notes.push(format!(
                        "plate level: the figure changes by {:.0} % between its two meshes, it is \
                         not settled",
                        100.0 * change.abs()
                    ));
                }
                let milder_counts = !opinion.why_taken.is_empty();
                row.second_opinion = Some(opinion);
                let found = match plate {
                    Some(plate) if !milder_counts => worse(hand, plate),
                    _ => hand,
                };
                (found, ask)
            }
        };
        match found {
            Over::Silent => return None,
            Over::NotChecked(reason) => row.state = State::NotChecked(reason),
            Over::Worst { case, checked, by_case } => {
                row.state = State::Checked(governing(&checked, case));
                row.by_case = by_case;
                if traced || draft.lasting {
                    let mut trace = Trace::on();
                    let again = ask(case.unwrap_or(0), &mut trace);
                    debug_assert_eq!(
                        again.map(|c| c.utilisation.value().to_bits()),
                        Ok(checked.utilisation.value().to_bits()),
                        "a traced check gives the same bits"
                    );
                    let life = trace.entries().iter().find(|e| e.symbol == "life");
                    row.life = life.filter(|_| draft.lasting).map(|e| e.value);
                    if let Some(way) = row.life {
                        let way = quantity_text(way, Dimension::Distance);
                        row.notes.push(format!("lasts {way} in this duty, by the design curve"));
                    }
                    row.derivation = traced.then_some(trace);
                }
            }
        }
    }
    for (what, note, ask) in &draft.others {
        match over(ask, draft.by_case, cases) {
            Over::Silent => {}
            Over::NotChecked(reason) => row.alternatives.push(Alternative {
                what: what.clone(),
                utilisation: None,
                case: None,
                note: format!("{note}; not checked: {reason}"),
            }),
            Over::Worst { case, checked, .. } => row.alternatives.push(Alternative {
                what: what.clone(),
                utilisation: Some(told(&checked)),
                case,
                note: note.clone(),
            }),
        }
    }
    if let Some(outside) = &row.outside {
        row.notes.push(format!("outside the scope of its formula: {outside}"));
    }
    Some(row)
}

/// The worse of two opinions: the worst of both, and in each case the larger utilisation.
fn worse(hand: Over, plate: Over) -> Over {
    match (hand, plate) {
        (
            Over::Worst { case: case_a, checked: a, by_case: uses_a },
            Over::Worst { case: case_b, checked: b, by_case: uses_b },
        ) => {
            let by_case = uses_a.iter().zip(&uses_b).map(|(a, b)| larger(*a, *b)).collect();
            let (case, checked) = if told(&b) > told(&a) { (case_b, b) } else { (case_a, a) };
            Over::Worst { case, checked, by_case }
        }
        (hand @ Over::Worst { .. }, _) => hand,
        (_, plate) => plate,
    }
}

/// Runs a draft again in one case with its derivation.
pub(crate) fn explain(
    draft: &Draft<'_>,
    cases: usize,
    case: Option<usize>,
    chosen: Option<&str>,
) -> Option<Row> {
    let mut row = run(draft, cases, true, chosen)?;
    if let (Some(case), State::Checked(_)) = (case, &row.state) {
        let mut trace = Trace::on();
        let ask = row.second_opinion.as_ref().map_or(&draft.ask, |o| draft.taken(o.taken));
        if let Ok(checked) = ask(case, &mut trace) {
            row.state = State::Checked(governing(&checked, Some(case)));
            row.derivation = Some(trace);
        }
    }
    Some(row)
}
