//! Single parts: what each clause says, and what a part takes.

use fishplate_proto::describe::FieldKind;
use fishplate_proto::v1::{CheckKind, PartAnswer, PartRow, State};

use super::bar::bar;
use super::explain::{Told, derivation};
use super::number::{quantity, utilisation};
use super::page::{EXCEEDS, HOLDS, Look, NOT_CHECKED, Page, fit, paint, right};
use crate::part::{Key, Kind, unit_of};

/// What is shown beside the rows.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Shown {
    /// The derivation of every row.
    pub(crate) steps: bool,
    /// Clauses that do not speak about the part.
    pub(crate) all: bool,
}

/// Cells of the bar up to its limit.
const CELLS: usize = 8;
/// Columns of number, bar and state with the blanks between them.
const NUMBERS: usize = 5 + 1 + 2 * CELLS + 1 + 12;

/// The answers about all parts of a file, each with what the file calls it.
pub(crate) fn parts(answers: &[(&str, PartAnswer)], shown: Shown, look: Look) -> String {
    let mut page = Page::new(look);
    for (label, answer) in answers {
        part(&mut page, label, answer, shown);
    }
    let mut cautions: Vec<&str> = Vec::new();
    for caution in answers.iter().flat_map(|(_, answer)| &answer.cautions) {
        if !cautions.contains(&caution.as_str()) {
            cautions.push(caution);
        }
    }
    page.blank();
    for caution in cautions {
        page.wrapped("", 2, caution);
    }
    page.finish()
}

fn part(page: &mut Page, label: &str, answer: &PartAnswer, shown: Shown) {
    let look = page.look();
    let (word, style) = match (answer.state(), answer.detailing()) {
        (State::Exceeds, _) => ("EXCEEDS", EXCEEDS),
        (_, State::RuleNotMet) => ("RULE BROKEN", EXCEEDS),
        (State::Holds, State::Holds | State::Unspecified) => ("HOLDS", HOLDS),
        _ => ("NOT ALL CHECKED", NOT_CHECKED.bold()),
    };
    page.blank();
    page.line(&format!("{}   {}", paint(style, word), look.text(label)));
    if let Some(rules) = &answer.rules {
        let mut said = vec![rules.pack.clone(), format!("edition {}", rules.edition)];
        said.push(rules.format.clone());
        page.wrapped("", 2, &said.join(", "));
    }
    page.blank();
    let governing = answer.governing_row.and_then(|place| usize::try_from(place).ok());
    for (place, row) in answer.rows.iter().enumerate() {
        one(page, row, governing == Some(place));
        if shown.steps {
            let told = Told { look, place: &|path| path.to_owned() };
            page.blank();
            derivation(page, &row.derivation, &told);
            page.blank();
        }
    }
    if answer.rows.is_empty() {
        page.line("No clause speaks about it.");
    }
    if shown.all {
        page.blank();
        for silent in &answer.silent {
            let text = format!("{}, {}: {}", silent.what, silent.clause, silent.reason);
            page.wrapped("does not apply: ", 2, &text);
        }
    } else if !answer.silent.is_empty() {
        let count = answer.silent.len();
        let clauses = if count == 1 { "clause does" } else { "clauses do" };
        page.line(&format!("{count} {clauses} not apply; --all tells why."));
    }
}

fn one(page: &mut Page, row: &PartRow, governs: bool) {
    let look = page.look();
    let state = row.state();
    let (word, style) = match state {
        State::Holds => ("holds", HOLDS),
        State::Exceeds => ("exceeds", EXCEEDS),
        State::RuleNotMet => ("rule broken", EXCEEDS),
        State::NotChecked | State::Unspecified => ("not checked", NOT_CHECKED),
    };
    let number =
        row.utilisation.map_or("-".to_owned(), |u| utilisation(u, state == State::Exceeds));
    let drawn = look.text(&bar(state, row.utilisation, CELLS));
    let room = look.width().saturating_sub(NUMBERS + 2);
    let name = if row.short_what.is_empty() { &row.what } else { &row.short_what };
    let mark = if governs { "> " } else { "  " };
    page.line(&format!(
        "{mark}{} {} {} {}",
        fit(look, name, room.saturating_sub(1)),
        right(&number, 5),
        paint(style, &drawn),
        paint(style, word),
    ));
    let mut under = vec![row.clause.clone()];
    match row.kind() {
        CheckKind::Detailing => under.push("detailing".to_owned()),
        CheckKind::Serviceability => under.push("in service".to_owned()),
        CheckKind::Strength | CheckKind::Unspecified => {}
    }
    if row.utilisation.is_some() {
        let [demand, resistance] =
            [row.demand, row.resistance].map(|value| quantity(value, &row.unit, look.units()));
        under.push(format!("{demand} of {resistance}"));
    }
    page.wrapped("      ", 6, &under.join("; "));
    if !row.not_checked_reason.is_empty() {
        page.wrapped("      ", 8, &row.not_checked_reason);
    }
    if !row.outside_scope.is_empty() {
        let text =
            format!("outside the scope of the clause, passes nothing: {}", row.outside_scope);
        page.wrapped("      ", 8, &text);
    }
    for note in &row.notes {
        page.wrapped("      ", 8, note);
    }
}

/// Every part that can be checked.
pub(crate) fn listed(kinds: &[Kind], look: Look) -> String {
    let mut page = Page::new(look);
    let width = kinds.iter().map(|kind| kind.name.chars().count()).max().unwrap_or_default() + 2;
    for kind in kinds {
        let first = kind.what.split("\n\n").next().unwrap_or_default();
        page.wrapped(&fit(look, &kind.name, width), width, first);
    }
    page.blank();
    page.wrapped("", 2, "`fishplate check-part --describe bolt` tells what a part takes.");
    page.finish()
}

/// What one part takes.
pub(crate) fn described(kind: &Kind, look: Look) -> String {
    let mut page = Page::new(look);
    page.line(&format!("[{}]", kind.name));
    for paragraph in kind.what.split("\n\n") {
        page.wrapped("", 0, paragraph);
    }
    page.blank();
    for key in kind.keys.iter().filter(|key| !key.named) {
        takes(&mut page, key);
    }
    page.blank();
    page.wrapped(
        "",
        0,
        "Names that give several numbers at once; a number that is written itself goes first:",
    );
    for key in kind.keys.iter().filter(|key| key.named) {
        takes(&mut page, key);
    }
    page.finish()
}

fn takes(page: &mut Page, key: &Key) {
    let look = page.look();
    let lead = format!("  {} ", fit(look, &key.name, key.name.chars().count().max(13)));
    let hang = lead.chars().count();
    page.wrapped(&lead, hang, &key.field.what);
    let under = " ".repeat(hang);
    match &key.field.kind {
        FieldKind::Number => {
            page.wrapped(&under, hang, &format!("written in {}", unit_of(&key.field)));
        }
        FieldKind::Word(words) => {
            for word in words {
                page.wrapped(&format!("{under}\"{}\" ", word.word), hang + 2, &word.what);
            }
        }
        FieldKind::Message(_) if key.field.list => {
            for column in &key.columns {
                takes(page, column);
            }
        }
        FieldKind::Whole | FieldKind::Text | FieldKind::YesNo | FieldKind::Message(_) => {}
    }
}
