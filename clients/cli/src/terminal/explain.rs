//! The sums of checks.

use fishplate_proto::v1::{CheckKind, DerivationStep, ExplainRowResponse, Row, State};
use fishplate_report::calculation::{Column, Item, Manner, Step, Table, items};
use fishplate_report::sheet::{case_with_factor, notes};

use super::number::utilisation;
use super::page::{EXCEEDS, HOLDS, Look, NOT_CHECKED, Page, fit, paint, right};

/// Columns that a symbol and its value take before what it is.
const GIVEN: usize = 30;

/// What is asked beside the answer.
pub(crate) struct Told<'a> {
    pub(crate) look: Look,
    /// A path of the request as the file has it.
    pub(crate) place: &'a dyn Fn(&str) -> String,
}

impl Told<'_> {
    fn manner(&self) -> Manner<'_> {
        Manner { units: self.look.units(), hand: self.look.hand(), place: self.place }
    }
}

/// The derivations as text with colours: row by row, then the loads of every case that governs one
/// of them, then the cautions.
pub(crate) fn explain(answers: &[ExplainRowResponse], told: &Told<'_>) -> String {
    let mut page = Page::new(told.look);
    for answer in answers {
        match &answer.row {
            Some(row) => check(&mut page, row, answer, told),
            None => page.line("The answer holds no row."),
        }
    }
    let mut loaded: Vec<&str> = Vec::new();
    for answer in answers {
        let Some(case) = answer.case_answer.as_ref().filter(|_| !answer.loads.is_empty()) else {
            continue;
        };
        if !loaded.contains(&case.name.as_str()) {
            loaded.push(&case.name);
            page.blank();
            page.wrapped("", 2, &format!("Loads of case {}, {}", case.name, case.title));
            derivation(&mut page, &answer.loads, told);
        }
    }
    page.blank();
    if answers.iter().any(|a| a.row.as_ref().is_some_and(|r| !r.derivation.is_empty())) {
        page.wrapped("Units: ", 7, told.look.units().remark());
        page.blank();
    }
    for caution in answers.first().map(|a| a.cautions.as_slice()).unwrap_or_default() {
        page.wrapped("", 0, caution);
    }
    page.finish()
}

/// One check: what it is, its sums, what else is known about it.
fn check(page: &mut Page, row: &Row, answer: &ExplainRowResponse, told: &Told<'_>) {
    let look = told.look;
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
    let room = look.width().saturating_sub(id.chars().count() + 4 + end.chars().count());
    page.blank();
    page.line(&format!("{id}  {}  {}", fit(look, &row.what, room), paint(style, &end)));
    let hang = id.chars().count() + 2;
    let under = " ".repeat(hang);
    for text in [&row.component, &row.clause] {
        if !text.is_empty() {
            page.wrapped(&under, hang, text);
        }
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
        page.wrapped(&under, hang, &format!("case {}", case_with_factor(row, case)));
    }
    if !row.not_checked_reason.is_empty() {
        page.wrapped(&under, hang, &format!("Not checked: {}", row.not_checked_reason));
    }
    if !row.outside_scope.is_empty() {
        let text = format!("Outside the scope of its formula: {}", row.outside_scope);
        page.wrapped(&under, hang, &text);
    }
    page.blank();
    derivation(page, &row.derivation, told);
    if let Some(exact) = row.utilisation.filter(|_| checked) {
        page.line(&format!("  Utilisation {exact:.3}  {}", paint(style, word)));
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
    for note in notes(row) {
        page.wrapped("Mind: ", 6, note);
    }
}

/// The sums of a derivation, line by line.
pub(super) fn derivation(page: &mut Page, steps: &[DerivationStep], told: &Told<'_>) {
    for item in items(steps, told.manner()) {
        match item {
            Item::Step(step) if step.is_given() => given(page, &step),
            Item::Step(step) => computed(page, &step),
            Item::Table(table) => repeated(page, &table),
        }
    }
}

/// A number that came in from outside: symbol, value, what it is, where from.
fn given(page: &mut Page, step: &Step) {
    let look = page.look();
    let guessed = if step.guessed { " (guessed)" } else { "" };
    let text = look.text(&format!("{} = {}{guessed}", step.symbol, step.result));
    // A long value pushes what it is to the right, never over it.
    let room = if text.chars().count() > GIVEN { text.chars().count() + 2 } else { GIVEN };
    let lead = format!("  {}", fit(look, &text, room));
    let hang = lead.chars().count().min(look.width() / 2);
    page.wrapped(&lead, hang, &joined(&step.what, &step.source));
}

fn joined(what: &str, source: &str) -> String {
    [what, source].into_iter().filter(|t| !t.is_empty()).collect::<Vec<_>>().join("; ")
}

/// A computed number: what it is, then symbol = formula = numbers = result, the clause at the end.
fn computed(page: &mut Page, step: &Step) {
    let look = page.look();
    page.wrapped("  ", 4, &step.what);
    let lead = format!("    {} = ", look.text(&step.symbol));
    let hang = lead.chars().count();
    if step.is_plain() {
        ending(page, &format!("{lead}{}", look.text(&step.result)), hang, &step.source);
        return;
    }
    formula(page, step, &lead);
    let under = format!("{}= ", " ".repeat(hang - 2));
    if !step.because.is_empty() {
        page.wrapped(&" ".repeat(hang), hang, &format!("here {}", step.because));
    }
    if !step.numbers.is_empty() {
        page.wrapped(&under, hang, &step.numbers);
    }
    ending(page, &format!("{under}{}", look.text(&step.result)), hang, &step.source);
}

/// The line with the result, and the clause at its end or below.
fn ending(page: &mut Page, line: &str, hang: usize, source: &str) {
    let look = page.look();
    let (used, length) = (line.chars().count(), look.text(source).chars().count());
    if source.is_empty() {
        page.line(line);
    } else if used + 2 + length <= look.width() {
        let gap = if used < 50 { 50 - used } else { 2 };
        let gap = gap.min(look.width() - used - length);
        page.line(&format!("{line}{}{}", " ".repeat(gap), look.text(source)));
    } else {
        page.line(line);
        page.wrapped(&" ".repeat(hang), hang, source);
    }
}

/// The formula behind its symbol, a line for each case.
fn formula(page: &mut Page, step: &Step, lead: &str) {
    let hang = lead.chars().count();
    for (index, (line, condition)) in step.formula.iter().enumerate() {
        let text = format!("{line} {condition}");
        if index == 0 {
            page.wrapped(lead, hang, &text);
        } else {
            page.wrapped(&format!("{}or ", " ".repeat(hang.saturating_sub(3))), hang, &text);
        }
    }
}

/// Steps that repeat: what they are once, then their numbers line by line.
fn repeated(page: &mut Page, table: &Table) {
    let look = page.look();
    page.wrapped("  ", 2, &format!("{} times, one a line:", table.rows.len()));
    for column in &table.columns {
        let lead = format!("    {} ", look.text(&column.step.symbol));
        if column.step.is_given() {
            page.wrapped(&lead, 6, &column.step.what);
        } else {
            formula(page, &column.step, &format!("{}= ", &lead));
            let told = joined(&column.step.what, &column.step.source);
            page.wrapped(&" ".repeat(lead.chars().count() + 2), 8, &told);
        }
    }
    let longest = table.rows.iter().map(|r| r.0.chars().count()).max().unwrap_or_default();
    let name = longest.clamp(4, look.width() / 3);
    let widths: Vec<usize> = (0..table.columns.len()).map(|at| width(table, at)).collect();
    let mut from = 0;
    while from < widths.len() {
        // As many columns at once as there is room for, at least one.
        let mut used = name + 4 + widths[from];
        let mut to = from + 1;
        while to < widths.len() && used + widths[to] <= look.width() {
            used += widths[to];
            to += 1;
        }
        let heads = table.columns[from..to].iter().zip(&widths[from..to]);
        let heads: String = heads.map(|(c, w)| right(&look.text(&head(c)), *w)).collect();
        page.line(&format!("    {}{heads}", " ".repeat(name)));
        for (about, numbers) in &table.rows {
            let cells = numbers[from..to].iter().zip(&widths[from..to]);
            let cells: String = cells.map(|(n, w)| right(&look.text(n), *w)).collect();
            page.line(&format!("    {}{cells}", fit(look, about, name)));
        }
        from = to;
    }
}

fn head(column: &Column) -> String {
    match column.unit.as_str() {
        "" => column.step.symbol.clone(),
        unit => format!("{}, {unit}", column.step.symbol),
    }
}

/// Width of a column with its gap.
fn width(table: &Table, at: usize) -> usize {
    let numbers = table.rows.iter().filter_map(|r| r.1.get(at)).map(|n| n.chars().count());
    let heads = table.columns.get(at).map(|c| head(c).chars().count());
    numbers.chain(heads).max().unwrap_or_default() + 2
}

#[cfg(test)]
#[path = "explain_tests.rs"]
mod tests;
