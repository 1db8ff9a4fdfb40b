//! The verdict, what exceeds, what is not the trouble, what keeps the verdict open.

use fishplate_proto::v1;

use crate::given::Given;
use crate::names::{capital, component, identifier};
use crate::numbers;
use crate::state::{self, State, finite, worst};
use crate::svg::marks::{badge, badge_and_word};
use crate::svg::strip::strip;

/// The most findings that are told in words; all rows stand in the table.
const MOST_FINDINGS: usize = 5;

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
    pub(crate) provisional: Vec<String>,
    pub(crate) unchecked: String,
    pub(crate) guesses: String,
    pub(crate) clashes: Vec<Clash>,
}

/// Two things that cannot be where they are said to be.
#[derive(Debug)]
pub(crate) struct Clash {
    pub(crate) what: String,
    pub(crate) place: String,
    pub(crate) advice: String,
    pub(crate) path: String,
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
        let unchecked = count(response, State::NotChecked);
        let guesses = response.guesses.len();
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
            provisional: response.provisional_reasons.clone(),
            unchecked: match unchecked {
                0 => String::new(),
                1 => "One check could not be made.".to_owned(),
                n => format!("{n} checks could not be made."),
            },
            guesses: match guesses {
                0 => String::new(),
                1 => "One input is still a guess.".to_owned(),
                n => format!("{n} inputs are still guesses."),
            },
            clashes: response.clashes.iter().map(clash).collect(),
        }
    }
}

fn clash(clash: &v1::Clash) -> Clash {
    Clash {
        what: clash.what.clone(),
        place: clash.r#where.clone(),
        advice: clash.advice.clone(),
        path: clash.field_path.clone(),
    }
}

fn count(response: &v1::CheckProjectResponse, state: State) -> usize {
    response.rows.iter().filter(|row| State::of(row) == state).count()
}

/// "9 checks made: 2 exceed, 7 hold. 4 not checked."
pub(crate) fn counts(response: &v1::CheckProjectResponse) -> String {
    let [holds, exceeds, not_checked] =
        [State::Holds, State::Exceeds, State::NotChecked].map(|s| count(response, s));
    let checks = if holds + exceeds == 1 { "check" } else { "checks" };
    let exceed = if exceeds == 1 { "exceeds" } else { "exceed" };
    let hold = if holds == 1 { "holds" } else { "hold" };
    format!(
        "{} {checks} made: {exceeds} {exceed}, {holds} {hold}. {not_checked} not checked.",
        holds + exceeds
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
        what: finding.what.clone(),
        row_id: if known { finding.row_id.clone() } else { String::new() },
        row_anchor: identifier(&finding.row_id),
        told: told
            .into_iter()
            .filter(|(_, text)| !text.trim().is_empty())
            .map(|(question, text)| (question, text.clone()))
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
        what: format!("{}: {}{case}", capital(&component(&row.component)), row.what),
        left,
        row_id: row.id.clone(),
        row_anchor: identifier(&row.id),
    })
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
        let open = own.iter().filter(|r| State::of(r) == State::NotChecked).count();
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
    fn without_an_answer_nothing_is_said_to_hold() {
        let answer = answer(Vec::new());
        assert_eq!(answer.verdict, "no answer");
        assert!(answer.highest.is_none() && answer.not_the_trouble.is_empty());
        assert_eq!(answer.counts, "0 checks made: 0 exceed, 0 hold. 0 not checked.");
    }
}
