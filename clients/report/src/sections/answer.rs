//! The verdict, what exceeds, what is not the trouble, what keeps the verdict open.

use fishplate_proto::v1;

use crate::given::Given;
use crate::names::{capital, component, identifier, in_the_file, other_side, quoted, without_echo};
use crate::numbers;
use crate::sections::open::{Unchecked, together, unchecked};
use crate::state::{self, State, finite, outside_scope, worst};
use crate::svg::marks::{badge, badge_and_word};
use crate::svg::strip::strip;

/// The most findings that are told in words; all rows stand in the table.
const MOST_FINDINGS: usize = 5;

/// The most checks that are told in words for one reason.
const MOST_TOLD: usize = 6;

/// The head of the page.
#[derive(Debug)]
pub(crate) struct Answer {
    pub(crate) mark: String,
    pub(crate) verdict: &'static str,
    pub(crate) sentence: String,
    pub(crate) counts: String,
    pub(crate) findings: Vec<Finding>,
    pub(crate) further_findings: usize,
    pub(crate) highest: Option<Highest>,
    pub(crate) not_the_trouble: Vec<String>,
    /// What is open, counted by its kind.
    pub(crate) open_points: String,
    /// What is open, by its kind: heading and points.
    pub(crate) open: Vec<(&'static str, Vec<String>)>,
    pub(crate) clashes: Vec<Clash>,
}

/// Two things that cannot be where they are said to be.
#[derive(Debug)]
pub(crate) struct Clash {
    pub(crate) what: String,
    pub(crate) place: String,
    pub(crate) advice: String,
    pub(crate) path: String,
    pub(crate) twin: String,
}

/// One thing that exceeds.
#[derive(Debug)]
pub(crate) struct Finding {
    pub(crate) number: String,
    pub(crate) state: String,
    pub(crate) strip: String,
    pub(crate) what: String,
    pub(crate) row_id: String,
    pub(crate) row_anchor: String,
    /// Question and answer.
    pub(crate) told: Vec<(&'static str, String)>,
}

/// The highest utilisation where nothing exceeds.
#[derive(Debug)]
pub(crate) struct Highest {
    pub(crate) number: String,
    pub(crate) state: String,
    pub(crate) strip: String,
    pub(crate) what: String,
    pub(crate) left: String,
    pub(crate) row_id: String,
    pub(crate) row_anchor: String,
}

impl Answer {
    pub(crate) fn new(given: Given<'_>) -> Self {
        let response = given.response;
        let (mark, verdict) = match response.verdict() {
            v1::Verdict::Holds => (State::Holds, "holds"),
            v1::Verdict::DoesNotHold => (State::Exceeds, "does not hold"),
            v1::Verdict::Provisional => (State::NotChecked, "provisional"),
            v1::Verdict::Unspecified => (State::NotChecked, "no answer"),
        };
        let clashes = clashes(given);
        let (open_points, open) = open_points(given);
        Self {
            mark: badge(mark),
            verdict,
            sentence: response.sentence.clone(),
            counts: counts(response),
            findings: response
                .findings
                .iter()
                .take(MOST_FINDINGS)
                .map(|f| finding(given, f))
                .collect(),
            further_findings: response.findings.len().saturating_sub(MOST_FINDINGS),
            highest: if response.findings.is_empty() { highest(given) } else { None },
            not_the_trouble: not_the_trouble(given),
            open_points,
            open,
            clashes,
        }
    }
}

/// The clashes; one on the right that is the mirror image of one on the left is told with it.
fn clashes(given: Given<'_>) -> Vec<Clash> {
    let mut out: Vec<Clash> = Vec::new();
    for clash in &given.response.clashes {
        let what = quoted(&clash.what);
        if let Some(twin) = out
            .iter_mut()
            .find(|c| c.what == capital(&other_side(&what)) && other_side(&what) != what)
        {
            "The same on the other side.".clone_into(&mut twin.twin);
            continue;
        }
        out.push(Clash {
            what: capital(&what),
            place: quoted(&clash.r#where),
            advice: capital(&quoted(&clash.advice)),
            path: in_the_file(given.project, &clash.field_path),
            twin: String::new(),
        });
    }
    out
}

/// Each reason with all that is open for it.
fn by_reason(open: Vec<Unchecked>) -> Vec<String> {
    let mut out: Vec<Vec<Unchecked>> = Vec::new();
    for one in open {
        match out.iter_mut().find(|all| all.iter().any(|u| u.reason == one.reason)) {
            Some(all) => all.push(one),
            None => out.push(vec![one]),
        }
    }
    let told = |all: &Vec<Unchecked>| {
        // Of a long list the numbers alone; the table of checks tells each.
        let short = all.len() > MOST_TOLD;
        let one = |u: &Unchecked| {
            if short { u.ids.clone() } else { format!("{} {}", u.ids, u.what) }
        };
        let list: Vec<String> = all.iter().map(one).collect();
        let reason = all.first().map_or("", |u| u.reason.as_str());
        format!("{reason}: {}", list.join(if short { ", " } else { "; " }))
    };
    out.iter().map(told).collect()
}

/// What is open: the count of every kind, and the points that stand nowhere else on this page.
fn open_points(given: Given<'_>) -> (String, Vec<(&'static str, Vec<String>)>) {
    let response = given.response;
    let outside = response.rows.iter().filter(|r| State::of(r) != State::NotChecked);
    let outside: Vec<&v1::Row> = outside.filter(|r| outside_scope(r).is_some()).collect();
    let broken = response.rows.iter().filter(|r| State::of(r) == State::RuleNotMet);
    let broken: Vec<&v1::Row> = broken.collect();
    let known = |reason: &str| {
        let of_row = |r: &v1::Row| {
            !r.id.is_empty()
                && reason.strip_prefix(&r.id).is_some_and(|x| x.starts_with([' ', ',']))
        };
        ["clash:", "guessed:"].iter().any(|kind| reason.starts_with(kind))
            || response.rows.iter().any(of_row)
    };
    let reasons = response.provisional_reasons.iter();
    let further: Vec<String> = reasons.filter(|r| !known(r)).map(|r| capital(&quoted(r))).collect();
    let kinds = [
        (count(response, State::NotChecked), "check not made", "checks not made"),
        (broken.len(), "detailing rule not met", "detailing rules not met"),
        (
            outside.len(),
            "check outside the scope of its formula",
            "checks outside the scope of their formula",
        ),
        (response.clashes.len(), "clash", "clashes"),
        (response.guesses.len(), "guessed input", "guessed inputs"),
        (further.len(), "further point", "further points"),
    ];
    let counts: Vec<String> = kinds
        .into_iter()
        .filter(|(n, ..)| *n > 0)
        .map(|(n, one, many)| format!("{n} {}", if n == 1 { one } else { many }))
        .collect();
    let guesses = response.guesses.iter().map(|g| format!("{}, {}", capital(&g.what), g.value));
    let open = vec![
        ("Not checked", by_reason(unchecked(given))),
        ("Detailing rules not met", by_reason(together(&broken, given.units))),
        ("Outside the scope of its formula", by_reason(together(&outside, given.units))),
        ("Guessed", guesses.collect()),
        ("Further", further),
    ];
    (
        counts.join(", "),
        open.into_iter().filter(|(_, points): &(_, Vec<_>)| !points.is_empty()).collect(),
    )
}

fn count(response: &v1::CheckProjectResponse, state: State) -> usize {
    response.rows.iter().filter(|row| State::of(row) == state).count()
}

/// "9 checks made: 2 exceed, 7 hold. 4 not checked." What a formula outside its scope lets hold is
/// counted apart, and whether both sides of the car are counted is said.
pub(crate) fn counts(response: &v1::CheckProjectResponse) -> String {
    let [holds, outside, exceeds, broken, not_checked] =
        [State::Holds, State::OutsideScope, State::Exceeds, State::RuleNotMet, State::NotChecked]
            .map(|s| count(response, s));
    let made = holds + outside + exceeds + broken;
    let checks = if made == 1 { "check" } else { "checks" };
    let exceed = if exceeds == 1 { "exceeds" } else { "exceed" };
    let hold = if holds == 1 { "holds" } else { "hold" };
    let apart = match outside {
        0 => String::new(),
        1 => ", 1 is outside the scope of its formula and passes nothing".to_owned(),
        n => format!(", {n} are outside the scope of their formula and pass nothing"),
    };
    let apart = match broken {
        0 => apart,
        1 => format!("{apart}, 1 detailing rule is not met"),
        n => format!("{apart}, {n} detailing rules are not met"),
    };
    let on = |side: &str| {
        let ends = |m: &v1::MountAnswer| m.name.ends_with(side);
        response.mounts.iter().any(|m| ends(m) && response.rows.iter().any(|r| r.mount_id == m.id))
    };
    let sides = if on("left") && on("right") { " Both sides of the car are counted." } else { "" };
    format!(
        "{made} {checks} made: {exceeds} {exceed}, {holds} {hold}{apart}. {not_checked} not checked.{sides}"
    )
}

fn finding(given: Given<'_>, finding: &v1::Finding) -> Finding {
    let told = [
        ("In case", &finding.in_case),
        ("By how much", &finding.by_how_much),
        ("What then", &finding.what_then),
        ("What helps", &finding.what_helps),
    ];
    let known = given.response.rows.iter().any(|r| r.id == finding.row_id);
    Finding {
        number: numbers::utilisation(finding.utilisation, true),
        state: badge_and_word(State::Exceeds),
        strip: strip(420.0, finite(Some(finding.utilisation)), State::Exceeds),
        what: capital(&quoted(&finding.what)),
        row_id: if known { finding.row_id.clone() } else { String::new() },
        row_anchor: identifier(&finding.row_id),
        told: told
            .into_iter()
            .filter(|(_, text)| !text.trim().is_empty())
            .map(|(question, text)| (question, capital(&quoted(text))))
            .collect(),
    }
}

fn highest(given: Given<'_>) -> Option<Highest> {
    let row = worst(&given.response.rows)?;
    let (state, utilisation) = (State::of(row), finite(row.utilisation));
    let left = match utilisation {
        Some(u) if state == State::Holds => {
            format!("{} of the limit is left.", numbers::fixed(1.0 - u, 2))
        }
        _ => String::new(),
    };
    let case =
        if row.case_name.is_empty() { String::new() } else { format!(", case {}", row.case_name) };
    Some(Highest {
        number: state::number(row),
        state: badge_and_word(state),
        strip: strip(420.0, utilisation, state),
        what: format!(
            "{}: {}{case}",
            capital(&component(&row.component)),
            without_echo(&row.component, &row.what)
        ),
        left,
        row_id: row.id.clone(),
        row_anchor: identifier(&row.id),
    })
}

fn is_open(state: State) -> bool {
    matches!(state, State::NotChecked | State::RuleNotMet | State::OutsideScope)
}

/// Kinds of things of which every checked row holds, while something else exceeds.
fn not_the_trouble(given: Given<'_>) -> Vec<String> {
    let rows = &given.response.rows;
    if !rows.iter().any(|r| State::of(r) == State::Exceeds) {
        return Vec::new();
    }
    let kinds = [
        ("weld.", "The welds are not the trouble", "More weld would not help."),
        ("bolt.", "The bolts are not the trouble", "Larger bolts would not help."),
        ("part.", "The added parts are not the trouble", "Thicker parts would not help."),
        ("rail.", "The rails are not the trouble", "Plating the rails would not help."),
    ];
    let mut out = Vec::new();
    for (prefix, claim, so) in kinds {
        let own: Vec<&v1::Row> = rows.iter().filter(|r| r.component.starts_with(prefix)).collect();
        let exceeds = own.iter().any(|r| State::of(r) == State::Exceeds);
        let Some(row) = worst(own.iter().copied()).filter(|_| !exceeds) else {
            continue;
        };
        let open = own.iter().filter(|r| is_open(State::of(r))).count();
        // With checks open nothing is promised beyond the number.
        let rest = match open {
            0 => so.to_owned(),
            1 => "One check of them is open.".to_owned(),
            n => format!("{n} checks of them are open."),
        };
        let claim = if open == 0 {
            claim.to_owned()
        } else {
            claim.replace("are not", "as far as checked are not")
        };
        out.push(format!("{claim}: they use {} at most ({}). {rest}", state::number(row), row.id));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn row(component: &str, state: v1::State, utilisation: Option<f64>) -> v1::Row {
        let component = component.to_owned();
        v1::Row { component, state: state.into(), utilisation, ..v1::Row::default() }
    }

    fn answer(rows: Vec<v1::Row>) -> Answer {
        let response = v1::CheckProjectResponse { rows, ..v1::CheckProjectResponse::default() };
        Answer::new(Given::new(&v1::CheckProjectRequest::default(), &response))
    }

    #[test]
    fn what_holds_beside_a_failure_is_not_the_trouble() {
        let rows = vec![
            row("weld.foot left", v1::State::Holds, Some(0.37)),
            row("rail.frame left", v1::State::Exceeds, Some(1.65)),
            row("part.bracket left", v1::State::Holds, Some(0.21)),
            row("part.bracket left", v1::State::NotChecked, None),
        ];
        let told = answer(rows).not_the_trouble.join("\n");
        assert!(told.contains("The welds are not the trouble: they use 0.37"));
        assert!(told.contains("as far as checked"));
        assert!(!told.contains("Thicker parts would not help"));
        assert!(!told.contains("rails"));
    }

    #[test]
    fn what_is_open_is_counted_by_kind_and_told_once() {
        let reason = "the rail is open".to_owned();
        let side = |id: &str, mount: &str, what: &str, utilisation: Option<f64>| v1::Row {
            id: id.to_owned(),
            mount_id: mount.to_owned(),
            what: what.to_owned(),
            state: if utilisation.is_none() {
                v1::State::NotChecked.into()
            } else {
                v1::State::Holds.into()
            },
            utilisation,
            ..v1::Row::default()
        };
        let mut rows = vec![
            side("FL-1", "FL", "twist", None),
            side("FL-2", "FL", "bending", Some(0.8)),
            side("FR-2", "FR", "bending", Some(0.8)),
            side("FR-3", "FR", "shear", Some(0.8)),
        ];
        rows[1].outside_scope.clone_from(&reason);
        rows[2].outside_scope = reason;
        let mount = |id: &str, name: &str| v1::MountAnswer {
            id: id.to_owned(),
            name: name.to_owned(),
            ..v1::MountAnswer::default()
        };
        let clash = |what: &str| v1::Clash { what: what.to_owned(), ..v1::Clash::default() };
        let reasons =
            ["FL-1 not checked, twist: none", "FL-2, bending: outside", "clash: a", "more"];
        let response = v1::CheckProjectResponse {
            rows,
            mounts: vec![mount("FL", "front left"), mount("FR", "front right")],
            clashes: vec![clash("bolt left cuts plate left"), clash("bolt right cuts plate right")],
            provisional_reasons: reasons.map(str::to_owned).to_vec(),
            ..v1::CheckProjectResponse::default()
        };
        let request = v1::CheckProjectRequest::default();
        let answer = Answer::new(Given::new(&request, &response));
        assert_eq!(
            answer.open_points,
            "1 check not made, 2 checks outside the scope of their formula, 2 clashes, \
             1 further point"
        );
        assert_eq!(answer.open.len(), 3);
        assert_eq!(answer.open[1].1, ["The rail is open: FL-2, FR-2 bending"]);
        assert_eq!(answer.open[2].1, ["More"]);
        assert_eq!((answer.clashes.len(), answer.clashes[0].twin.is_empty()), (1, false));
        assert_eq!(
            answer.counts,
            "3 checks made: 0 exceed, 1 holds, 2 are outside the scope of their formula and pass \
             nothing. 1 not checked. Both sides of the car are counted."
        );
    }

    #[test]
    fn without_an_answer_nothing_is_said_to_hold() {
        let answer = answer(Vec::new());
        assert_eq!(answer.verdict, "no answer");
        assert!(answer.highest.is_none() && answer.not_the_trouble.is_empty());
        assert_eq!(answer.counts, "0 checks made: 0 exceed, 0 hold. 0 not checked.");
    }
}
