//! The calculation sheet: the sums of a few checks on paper, to be followed, signed and filed.
//!
//! It says what was checked by which rules with which edition, every step, where each input came
//! from, and the cautions. It bears no date: the same input gives the same bytes, and the hash of
//! the project says which input that was.

use askama::Template;
use fishplate_proto::v1;

use crate::calculation::{Item, Manner, items, remark};
use crate::names::{capital, component, css_text, quoted, without_echo};
use crate::numbers::{self, NOT_FOUND};
use crate::page::{LEAST_CAUTION, STYLE};
use crate::sections::sums::{Other, other};
use crate::state::{self, State, finite, outside_scope};
use crate::svg::marks::badge_and_word;
use crate::symbols::Hand;
use crate::units::Units;

/// What stands on top of a sheet.
#[derive(Debug, Clone, Copy)]
pub struct Head<'a> {
    /// The title of the project, or of what was checked.
    pub title: &'a str,
    /// Which of its checks the sheet is about: a row, a part, a joint.
    pub about: &'a str,
    /// What the answer was made from.
    pub stamp: &'a v1::Stamp,
}

/// One self-contained HTML page, laid out for A4, with the calculation of every answer. Loads of a
/// case that several of them share stand once. `place` tells a path of the request as the reader
/// knows it.
///
/// Whoever has a derivation without a project puts it into a row: the fields that are empty are
/// left out.
///
/// ```
/// use fishplate_proto::v1;
/// use fishplate_report::Units;
/// use fishplate_report::sheet::{Head, sheet};
///
/// let stamp = v1::Stamp { rules: "EN 1993-1-8:2005".into(), ..Default::default() };
/// let head = Head { title: "Van", about: "FL-2", stamp: &stamp };
/// let row = v1::Row { what: "bolt in shear".into(), ..Default::default() };
/// let answer = v1::ExplainRowResponse { row: Some(row), ..Default::default() };
/// let page = sheet(head, &[answer], Units::Si, &|path| path.to_owned());
/// assert!(page.contains("Bolt in shear") && page.contains("EN 1993-1-8:2005"));
/// ```
#[must_use]
pub fn sheet(
    head: Head<'_>,
    answers: &[v1::ExplainRowResponse],
    units: Units,
    place: &dyn Fn(&str) -> String,
) -> String {
    let mut told = answers.to_vec();
    told.iter_mut().for_each(|answer| units.rewrite_row(answer));
    let page = Sheet::new(head, &told, Manner { units, hand: Hand::Page, place });
    // Writing to a text cannot fail, and the template calls nothing that can.
    page.render().unwrap_or_else(|error| {
        crate::fault_page("No sheet", &[("sheet".to_owned(), error.to_string())])
    })
}

/// The answer about a single part as rows for a sheet; `label` is what the file calls the part.
#[must_use]
pub fn rows_of_part(label: &str, answer: &v1::PartAnswer) -> Vec<v1::ExplainRowResponse> {
    let explained = |(index, row): (usize, &v1::PartRow)| {
        let row = row.clone();
        let row = v1::Row {
            id: format!("{label}-{}", index + 1),
            component: label.to_owned(),
            what: row.what,
            short_what: row.short_what,
            state: row.state,
            utilisation: row.utilisation,
            demand: row.demand,
            resistance: row.resistance,
            unit: row.unit,
            clause: row.clause,
            not_checked_reason: row.not_checked_reason,
            notes: row.notes,
            kind: row.kind,
            derivation: row.derivation,
            outside_scope: row.outside_scope,
            ..v1::Row::default()
        };
        let cautions = answer.cautions.clone();
        v1::ExplainRowResponse { row: Some(row), cautions, ..v1::ExplainRowResponse::default() }
    };
    answer.rows.iter().enumerate().map(explained).collect()
}

/// The rules of a single part as the head of a sheet tells them: standard, edition, format,
/// documents.
#[must_use]
pub fn rules_of_part(answer: &v1::PartAnswer) -> String {
    let Some(rules) = &answer.rules else { return String::new() };
    let documents = rules.documents.join(", ");
    format!("{}, edition {}, {}: {documents}", rules.pack, rules.edition, rules.format)
}

#[derive(Template)]
#[template(path = "sheet.html")]
struct Sheet {
    title: String,
    css_title: String,
    about: String,
    style: &'static str,
    /// What the head of the sheet lists.
    facts: Vec<(&'static str, String)>,
    /// Checks of the sheet in short: number, what, utilisation, state.
    summary: Vec<[String; 4]>,
    checks: Vec<Check>,
    loads: Vec<Loads>,
    cautions: Vec<String>,
    foot: Vec<String>,
}

/// One check.
struct Check {
    id: String,
    title: String,
    number: String,
    state: String,
    /// What is known about it, by name: part, rule, case, kind.
    facts: Vec<(&'static str, String)>,
    reason: String,
    items: Vec<Item>,
    /// Demand, resistance and their ratio.
    outcome: String,
    others: Vec<Other>,
    notes: Vec<String>,
}

/// The loads of one case.
struct Loads {
    title: String,
    remark: String,
    items: Vec<Item>,
}

impl Sheet {
    fn new(head: Head<'_>, answers: &[v1::ExplainRowResponse], manner: Manner<'_>) -> Self {
        let stamp = head.stamp;
        let title = if head.title.trim().is_empty() { "Without a title" } else { head.title };
        let facts = [
            ("Rules", stamp.rules.clone()),
            ("Units", manner.units.remark().to_owned()),
            ("Input", stamp.project_hash.clone()),
        ];
        let cautions = answers.first().map(|a| a.cautions.clone()).unwrap_or_default();
        let checks: Vec<Check> =
            answers.iter().filter_map(|a| Some(check(a.row.as_ref()?, a, manner))).collect();
        Self {
            css_title: css_text(&format!("{title}, {}", head.about)),
            title: title.to_owned(),
            about: head.about.to_owned(),
            style: STYLE,
            facts: told(facts),
            summary: checks.iter().map(in_short).collect(),
            checks,
            loads: loads(answers, manner),
            cautions: if cautions.is_empty() { vec![LEAST_CAUTION.to_owned()] } else { cautions },
            foot: foot(stamp),
        }
    }
}

fn foot(stamp: &v1::Stamp) -> Vec<String> {
    let version = if stamp.engine_version.is_empty() { NOT_FOUND } else { &stamp.engine_version };
    vec![
        format!("Fishplate {version}"),
        "Without a date: the same input gives the same sheet.".to_owned(),
    ]
}

/// Facts that have something to say.
fn told<const N: usize>(facts: [(&'static str, String); N]) -> Vec<(&'static str, String)> {
    facts.into_iter().filter(|(_, text)| !text.trim().is_empty()).collect()
}

fn in_short(check: &Check) -> [String; 4] {
    [check.id.clone(), check.title.clone(), check.number.clone(), check.state.clone()]
}

fn check(row: &v1::Row, answer: &v1::ExplainRowResponse, manner: Manner<'_>) -> Check {
    let state = State::of(row);
    let case = answer.case_answer.as_ref().filter(|_| !row.case_name.is_empty());
    let kind = match row.kind() {
        v1::CheckKind::Serviceability => "slip or movement in service: loads without their factor",
        v1::CheckKind::Detailing => "a detailing rule: no loads",
        v1::CheckKind::Strength | v1::CheckKind::Unspecified => "",
    };
    let facts = [
        ("Part or joint", capital(&component(&row.component))),
        ("Rule", row.clause.clone()),
        ("Load case", case.map_or_else(String::new, |c| case_with_factor(row, c))),
        ("Kind", kind.to_owned()),
        ("Across", row.interface_name.clone()),
    ];
    let reason = match state {
        State::NotChecked => format!("Not checked: {}", quoted(&row.not_checked_reason)),
        _ => outside_scope(row).map_or_else(String::new, |why| {
            format!("Outside the scope of its formula: {}", quoted(why))
        }),
    };
    Check {
        id: row.id.clone(),
        title: capital(&quoted(without_echo(&row.component, &row.what))),
        number: state::number(row),
        state: badge_and_word(state),
        facts: told(facts),
        reason,
        items: items(&row.derivation, manner),
        outcome: outcome(row, state, manner.units),
        others: row.alternatives.iter().map(|a| other(row, a)).collect(),
        notes: notes(row).map(remark).collect(),
    }
}

/// The case of a check, and what its loads are multiplied with.
#[must_use]
pub fn case_with_factor(row: &v1::Row, case: &v1::CaseAnswer) -> String {
    let loads = match row.kind() {
        v1::CheckKind::Serviceability => "; loads without factor".to_owned(),
        v1::CheckKind::Strength if case.load_factor > 0.0 => {
            format!("; its loads times {}", numbers::plain(case.load_factor, 4))
        }
        _ => String::new(),
    };
    format!("{}, {}{loads}", case.name, case.title)
}

/// The notes of a row that it does not say elsewhere.
pub fn notes(row: &v1::Row) -> impl Iterator<Item = &str> {
    let scope = row.outside_scope.as_str();
    let known = move |note: &&str| scope.is_empty() || !note.ends_with(scope);
    row.notes.iter().map(String::as_str).filter(known)
}

/// "Load effect 11 296 N, resistance 32 358 N: 0.349 of the limit."
fn outcome(row: &v1::Row, state: State, units: Units) -> String {
    let Some(utilisation) = finite(row.utilisation).filter(|_| state != State::NotChecked) else {
        return String::new();
    };
    let ratio = format!("{} of the limit", numbers::fixed(utilisation, 3));
    // A resistance of 0 is one that was not told.
    if row.resistance.abs() < f64::MIN_POSITIVE {
        return ratio;
    }
    let quantity = |value| numbers::quantity(value, &row.unit, units);
    format!("{} against {}: {ratio}", quantity(row.demand), quantity(row.resistance))
}

/// The loads of every case once.
fn loads(answers: &[v1::ExplainRowResponse], manner: Manner<'_>) -> Vec<Loads> {
    let mut known: Vec<&str> = Vec::new();
    let mut out = Vec::new();
    for answer in answers {
        let Some(case) = answer.case_answer.as_ref().filter(|_| !answer.loads.is_empty()) else {
            continue;
        };
        if known.contains(&case.name.as_str()) {
            continue;
        }
        known.push(&case.name);
        let factor = match case.load_factor {
            f if f > 0.0 => format!(
                "Loads without a factor. Strength is checked with {} times these loads.",
                numbers::short(f)
            ),
            _ => String::new(),
        };
        out.push(Loads {
            title: format!("Loads of case {}, {}", case.name, case.title),
            remark: factor,
            items: items(&answer.loads, manner),
        });
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::wellformed::assert_closed;

    /// The form alone; by hand 1200 N on 16 mm² are 75 MPa, of 100 MPa 0.75.
    fn part() -> v1::PartAnswer {
        let step = |symbol: &str, expression: &str, value: f64, unit: &str| v1::DerivationStep {
            symbol: symbol.to_owned(),
            expression: expression.to_owned(),
            value,
            unit: unit.to_owned(),
            source: "part: <b>n</b>".to_owned(),
            ..v1::DerivationStep::default()
        };
        let row = v1::PartRow {
            what: "tension of the bar".to_owned(),
            clause: "EN 1993-1-1:2005, 6.2.3".to_owned(),
            state: v1::State::Holds.into(),
            utilisation: Some(0.75),
            demand: 75.0,
            resistance: 100.0,
            unit: "MPa".to_owned(),
            derivation: vec![
                step("n_ed", "", 1200.0, "N"),
                step("a", "", 16.0, "mm²"),
                step("sigma_ed", "n_ed / a", 75.0, "MPa"),
            ],
            ..v1::PartRow::default()
        };
        let rules = v1::RulesUsed {
            pack: "EN 1993".to_owned(),
            edition: "2005".to_owned(),
            format: "partial factors".to_owned(),
            documents: vec!["EN 1993-1-1:2005".to_owned()],
            ..v1::RulesUsed::default()
        };
        v1::PartAnswer { rules: Some(rules), rows: vec![row], ..v1::PartAnswer::default() }
    }

    fn shown(units: Units) -> String {
        let stamp = v1::Stamp { rules: rules_of_part(&part()), ..v1::Stamp::default() };
        let head = Head { title: "Bars", about: "tie", stamp: &stamp };
        sheet(head, &rows_of_part("tie", &part()), units, &|path| path.to_owned())
    }

    #[test]
    fn a_sheet_says_by_which_rules_and_every_step() {
        let page = shown(Units::Si);
        assert_closed(&page);
        for text in [
            "EN 1993, edition 2005, partial factors: EN 1993-1-1:2005",
            "Tension of the bar",
            "EN 1993-1-1:2005, 6.2.3",
            "<i>N</i><sub>Ed</sub> / <i>A</i>",
            "75\u{A0}MPa against 100\u{A0}MPa: 0.750 of the limit",
            "does not approve a vehicle",
        ] {
            assert!(page.contains(text), "{text}");
        }
        assert!(page.contains("part: &#60;b&#62;n") && !page.contains("<b>n</b>"));
        assert_eq!(page, shown(Units::Si));
    }

    /// By hand: 1200 N over 4.448 222 is 269.8 lbf, 75 MPa over 6.894 757 is 10.88 ksi.
    #[test]
    fn a_sheet_in_inches_has_no_millimetres() {
        let page = shown(Units::Us);
        assert!(page.contains("269.8") && page.contains("10.88\u{A0}ksi"));
        let body = &page[page.find("<body").unwrap()..];
        assert!(!body.contains("mm²") && !body.contains("MPa"));
    }
}
