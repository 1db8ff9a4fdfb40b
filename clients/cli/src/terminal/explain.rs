//! The sums of one row.

use fishplate_proto::v1::{CheckKind, DerivationStep, ExplainRowResponse, State};

use super::number::{significant, utilisation};
use super::page::{EXCEEDS, HOLDS, Look, NOT_CHECKED, Page, fit, paint};

/// The derivation as text with colours.
pub(crate) fn explain(answer: &ExplainRowResponse, look: Look) -> String {
    let mut page = Page::new(look);
    let Some(row) = &answer.row else {
        page.line("The answer holds no row.");
        return page.finish();
    };
    let (word, style) = match row.state() {
        State::Holds => ("holds", HOLDS),
        State::Exceeds => ("exceeds", EXCEEDS),
        State::RuleNotMet => ("rule broken", NOT_CHECKED),
        State::NotChecked | State::Unspecified => ("not checked", NOT_CHECKED),
    };
    let checked = matches!(row.state(), State::Holds | State::Exceeds | State::RuleNotMet);
    let number = row
        .utilisation
        .filter(|_| checked)
        .map_or("-".to_owned(), |u| utilisation(u, row.state() != State::Holds));
    let end = format!("{number}  {word}");
    let id = look.text(&row.id);
    let room = look.width() - id.chars().count() - 4 - end.chars().count();
    page.blank();
    page.line(&format!("{id}  {}  {}", fit(look, &row.what, room), paint(style, &end)));
    let hang = id.chars().count() + 2;
    let under = " ".repeat(hang);
    if !row.component.is_empty() {
        page.wrapped(&under, hang, &row.component);
    }
    if !row.clause.is_empty() {
        page.wrapped(&under, hang, &row.clause);
    }
    let kind = match row.kind() {
        CheckKind::Serviceability => "slip or movement in service, loads without their factor",
        CheckKind::Detailing => "a detailing rule",
        CheckKind::Strength | CheckKind::Unspecified => "",
    };
    if !kind.is_empty() {
        page.wrapped(&under, hang, kind);
    }
    if let Some(case) = &answer.case_answer {
        let title = format!("case {}, {}", case.name, case.title);
        page.wrapped(&under, hang, &title);
    }
    if !row.not_checked_reason.is_empty() {
        page.wrapped(&under, hang, &format!("Not checked: {}", row.not_checked_reason));
    }
    steps(&mut page, "Loads", &answer.loads);
    steps(&mut page, "Check", &row.derivation);
    if row.utilisation.is_some() && checked {
        let exact = row.utilisation.map_or(String::new(), |u| format!("{u:.3}"));
        page.line(&format!("  Utilisation {exact}  {}", paint(style, word)));
    }
    page.blank();
    for other in &row.alternatives {
        let number = other.utilisation.map_or("-".to_owned(), |u| format!("{u:.3}"));
        let case = if other.case_name.is_empty() {
            String::new()
        } else {
            format!(" (case {})", other.case_name)
        };
        page.wrapped("Other way: ", 2, &format!("{}: {number}{case}. {}", other.what, other.note));
    }
    for note in &row.notes {
        page.wrapped("", 2, note);
    }
    page.blank();
    for caution in &answer.cautions {
        page.wrapped("", 0, caution);
    }
    page.finish()
}

fn steps(page: &mut Page, title: &str, steps: &[DerivationStep]) {
    if steps.is_empty() {
        return;
    }
    page.blank();
    page.line(title);
    for step in steps {
        one(page, step);
    }
}

/// A step: what it is, then symbol = expression = numbers = result, source at the end.
fn one(page: &mut Page, step: &DerivationStep) {
    let look = page.look();
    let guessed = if step.guessed { " (guessed)" } else { "" };
    let unit = if step.unit.is_empty() { String::new() } else { format!(" {}", step.unit) };
    let result = look.text(&format!("{}{unit}{guessed}", significant(step.value, 4)));
    let symbol = look.text(&step.symbol);
    let source = if step.source.is_empty() { String::new() } else { step.source.clone() };
    if step.expression.is_empty() {
        let lead = format!("  {}", fit(look, &format!("{symbol} = {result}"), 30));
        // A long value pushes what it is to the right, never over it.
        let lead = if symbol.chars().count() + result.chars().count() + 3 > 30 {
            format!("  {symbol} = {result}  ")
        } else {
            lead
        };
        let hang = lead.chars().count();
        let what = [step.what.as_str(), source.as_str()]
            .into_iter()
            .filter(|t| !t.is_empty())
            .collect::<Vec<_>>()
            .join("; ");
        page.wrapped(&lead, hang.min(look.width() / 2), &what);
        return;
    }
    page.wrapped("  ", 4, &step.what);
    let lead = format!("    {symbol} = ");
    let hang = lead.chars().count();
    page.wrapped(&lead, hang, &step.expression);
    let under = format!("{}= ", " ".repeat(hang - 2));
    if !step.numbers.is_empty() {
        page.wrapped(&under, hang, &step.numbers);
    }
    let line = format!("{under}{result}");
    let used = line.chars().count();
    if source.is_empty() {
        page.line(&line);
    } else if used + 2 + source.chars().count() <= look.width() {
        let gap = if used < 50 { 50 - used } else { 2 };
        let gap = gap.min(look.width() - used - source.chars().count());
        page.line(&format!("{line}{}{}", " ".repeat(gap), look.text(&source)));
    } else {
        page.line(&line);
        page.wrapped(&" ".repeat(hang), hang, &source);
    }
}

#[cfg(test)]
mod tests {
    use fishplate_proto::v1::Row;

    use super::*;

    /// The form alone; the numbers are made up.
    #[test]
    fn each_step_shows_expression_numbers_and_result() {
        let derivation = vec![
            DerivationStep {
                symbol: "f_y".to_owned(),
                what: "yield strength of the rail".to_owned(),
                value: 235.0,
                unit: "MPa".to_owned(),
                source: "steel.rail-steel".to_owned(),
                guessed: true,
                ..DerivationStep::default()
            },
            DerivationStep {
                symbol: "N_rd".to_owned(),
                what: "force across the wall".to_owned(),
                expression: "k * f_y * t^2".to_owned(),
                numbers: "15.0 * 235 * 2.2^2".to_owned(),
                value: 17_061.0,
                unit: "N".to_owned(),
                source: "EN 1993-1-8, Table 7.11".to_owned(),
                ..DerivationStep::default()
            },
        ];
        let row = Row {
            id: "FL-7".to_owned(),
            what: "rail web under the foot: wall bending".to_owned(),
            state: State::Exceeds as i32,
            utilisation: Some(1.647),
            derivation,
            ..Row::default()
        };
        let answer = ExplainRowResponse { row: Some(row), ..ExplainRowResponse::default() };
        let text =
            anstream::adapter::strip_str(&explain(&answer, Look::new(80, false))).to_string();
        assert!(text.contains("f_y = 235.0 MPa (guessed)"), "{text}");
        assert!(text.contains("N_rd = k * f_y * t^2\n         = 15.0 * 235 * 2.2^2\n"), "{text}");
        assert!(text.contains("= 17061 N"), "{text}");
        assert!(text.contains("Utilisation 1.647  exceeds"), "{text}");
        assert!(text.lines().all(|l| l.chars().count() <= 80), "{text}");
    }
}
