//! The answer to a check.

use std::collections::BTreeMap;

use fishplate_proto::v1::{
    CaseAnswer, CheckProjectResponse, Finding, Guess, MountAnswer, Row, State, Verdict,
};

use fishplate_report::Units;

use super::bar::bar;
use super::mirror::twins;
use super::number::{fixed, quantity, significant, utilisation};
use super::page::{EXCEEDS, HOLDS, Look, NOT_CHECKED, Page, fit, paint, right};
use super::{plates, standing};

/// Findings that are told in full; the rest is counted.
const FINDINGS: usize = 5;
/// Newtons below which a direction is not named.
const QUIET: f64 = 5.0;

/// What was asked, for the hints at the end and for places in the file.
pub(crate) struct Asked<'a> {
    /// The file, as it was given.
    pub(crate) file: &'a str,
    /// Keys that were set beside the file.
    pub(crate) set: &'a [String],
    /// Whether everything is shown.
    pub(crate) all: bool,
    /// Where a field is written: `line 12`.
    pub(crate) place_of: &'a dyn Fn(&str) -> Option<String>,
}

impl Asked<'_> {
    /// The project as it is given again: the file and the keys that were set.
    fn given(&self) -> String {
        let mut given = self.file.to_owned();
        for set in self.set {
            given.push_str(&format!(" --set '{set}'"));
        }
        given
    }
}

/// The answer as text with colours.
pub(crate) fn check(answer: &CheckProjectResponse, asked: &Asked<'_>, look: Look) -> String {
    let mut answer = answer.clone();
    look.units().rewrite_check(&mut answer);
    let answer = &answer;
    let mut page = Page::new(look);
    let hidden = if asked.all { BTreeMap::new() } else { twins(answer) };
    let rows: Vec<&Row> =
        answer.rows.iter().filter(|row| !hidden.contains_key(&row.mount_id)).collect();
    let findings: Vec<&Finding> = answer
        .findings
        .iter()
        .filter(|f| rows.iter().any(|r| r.id == f.row_id) || row(answer, &f.row_id).is_none())
        .collect();
    verdict(&mut page, answer, &rows, &hidden);
    if rows.is_empty() {
        page.line("Nothing was checked.");
    } else if findings.is_empty() {
        highest(&mut page, answer, &rows);
    }
    told(&mut page, &findings, asked);
    clashes(&mut page, answer, asked);
    if let Some(governing) = rows.iter().copied().filter(|r| uses(r)).max_by(by_use) {
        pushes(&mut page, answer, governing);
    }
    table(&mut page, &rows, asked.all);
    plates::opinions(&mut page, &rows, asked.all);
    plates::mounts(&mut page, answer, &hidden, asked.all);
    matrix(&mut page, answer, &hidden, asked.all);
    guesses(&mut page, answer, asked);
    left_out(&mut page, answer, &rows);
    taken_for_granted(&mut page, answer, asked);
    if asked.all {
        ways(&mut page, answer);
        footing(&mut page, answer);
    }
    page.blank();
    for caution in &answer.cautions {
        page.wrapped("", 0, caution);
    }
    hints(&mut page, &rows, asked, !answer.plate_mounts.is_empty());
    page.finish()
}

fn row<'a>(answer: &'a CheckProjectResponse, id: &str) -> Option<&'a Row> {
    answer.rows.iter().find(|row| row.id == id)
}

/// Whether a row says how much is used: it has a number and is no broken rule of detailing.
fn uses(row: &Row) -> bool {
    row.utilisation.is_some() && row.state() != State::RuleNotMet
}

fn by_use(a: &&Row, b: &&Row) -> std::cmp::Ordering {
    // The first of equal rows governs, as in the table.
    a.utilisation
        .partial_cmp(&b.utilisation)
        .unwrap_or(std::cmp::Ordering::Equal)
        .then(std::cmp::Ordering::Greater)
}

fn verdict(
    page: &mut Page,
    answer: &CheckProjectResponse,
    rows: &[&Row],
    hidden: &BTreeMap<String, String>,
) {
    standing::verdict(page, answer.verdict(), &answer.title);
    let count = |state| rows.iter().filter(|r| r.state() == state).count();
    let exceed = count(State::Exceeds);
    let checks = if exceed == 1 { "check exceeds" } else { "checks exceed" };
    let broken = match count(State::RuleNotMet) {
        0 => String::new(),
        1 => ", 1 detailing rule not met".to_owned(),
        n => format!(", {n} detailing rules not met"),
    };
    let mut counts = format!(
        "{exceed} {checks}, {} hold, {} not checked{broken}.",
        count(State::Holds),
        count(State::NotChecked)
    );
    let rights = answer.mounts.iter().filter(|m| m.at.is_some_and(|at| at.y_mm < 0.0)).count();
    if !hidden.is_empty() && hidden.len() == rights {
        counts.push_str(" The right side is the mirror image.");
    } else if !hidden.is_empty() {
        let pairs: Vec<String> = hidden.iter().map(|(r, l)| format!("{r} of {l}")).collect();
        counts.push_str(&format!(" Mirror images: {}.", pairs.join(", ")));
    }
    page.wrapped("", 0, &counts);
    page.blank();
    if answer.verdict() == Verdict::Provisional {
        page.wrapped("", 0, "What was checked holds, but it is not a pass:");
        for reason in &answer.provisional_reasons {
            page.wrapped("  ", 4, reason);
        }
        page.blank();
    }
}

/// With nothing to complain about, how near the limit it comes.
fn highest(page: &mut Page, answer: &CheckProjectResponse, rows: &[&Row]) {
    let Some(top) = rows.iter().copied().filter(|r| uses(r)).max_by(by_use) else {
        return;
    };
    let number = utilisation(top.utilisation.unwrap_or_default(), false);
    let lead = format!("{}  {}  ", right(&number, 4), page.look().text(&top.id));
    let hang = lead.chars().count();
    page.wrapped(&lead, hang, &format!("{}: the highest of those checks", top.what));
    if let Some(case) = answer.cases.iter().find(|c| c.name == top.case_name) {
        page.wrapped(&" ".repeat(hang), hang + 7, &format!("case   {}, {}", case.name, case.title));
    }
    page.blank();
}

fn told(page: &mut Page, findings: &[&Finding], asked: &Asked<'_>) {
    let look = page.look();
    let most = if asked.all { findings.len() } else { FINDINGS };
    for finding in findings.iter().take(most) {
        let number = right(&utilisation(finding.utilisation, true), 4);
        let id = fit(look, &finding.row_id, finding.row_id.chars().count().max(4));
        let plain = format!("{number}  {id}  ");
        let hang = plain.chars().count();
        let lead = format!("{}  {id}  ", paint(EXCEEDS, &number));
        if look.is_wide() {
            let mut what = format!("{}, case {}.", sentence_part(&finding.what), finding.in_case);
            add_sentence(&mut what, "", &finding.by_how_much);
            lead_wrapped(page, &plain, &lead, &what);
            let mut then = String::new();
            add_sentence(&mut then, "Then: ", &finding.what_then);
            add_sentence(&mut then, "Helps: ", &finding.what_helps);
            if !then.is_empty() {
                page.wrapped(&" ".repeat(hang), hang, &then);
            }
            continue;
        }
        lead_wrapped(page, &plain, &lead, &finding.what);
        for (word, text) in [
            ("case", &finding.in_case),
            ("by", &finding.by_how_much),
            ("then", &finding.what_then),
            ("helps", &finding.what_helps),
        ] {
            if !text.is_empty() {
                page.wrapped(&format!("{}{word:<7}", " ".repeat(hang)), hang + 7, text);
            }
        }
        page.blank();
    }
    if findings.len() > most {
        let more = findings.len() - most;
        page.wrapped("", 0, &format!("and {more} more: fishplate check {} --all", asked.given()));
    }
    page.blank();
}

fn sentence_part(text: &str) -> &str {
    text.trim().trim_end_matches('.')
}

fn add_sentence(to: &mut String, lead: &str, text: &str) {
    if text.is_empty() {
        return;
    }
    if !to.is_empty() {
        to.push(' ');
    }
    to.push_str(lead);
    if lead.is_empty() {
        to.push_str(&capital(sentence_part(text)));
    } else {
        to.push_str(sentence_part(text));
    }
    to.push('.');
}

/// The first letter large, where the first word is a word and not a name or a symbol.
fn capital(text: &str) -> String {
    let word = text.split(' ').next().unwrap_or_default();
    let mut letters = text.chars();
    match letters.next() {
        Some(first) if word.chars().all(|c| c.is_ascii_lowercase() || c == ',') => {
            first.to_uppercase().chain(letters).collect()
        }
        _ => text.to_owned(),
    }
}

/// Wraps behind a lead whose colours take no room.
fn lead_wrapped(page: &mut Page, plain: &str, painted: &str, text: &str) {
    let hang = plain.chars().count();
    let mut inner = Page::new(page.look());
    inner.wrapped(plain, hang, text);
    let laid_out = inner.finish();
    let rest = laid_out.strip_prefix(plain).unwrap_or(&laid_out);
    page.line(&format!("{painted}{}", rest.trim_end()));
}

fn clashes(page: &mut Page, answer: &CheckProjectResponse, asked: &Asked<'_>) {
    if answer.clashes.is_empty() {
        return;
    }
    page.line("Cannot be built as described:");
    for clash in &answer.clashes {
        let mut text = sentence_part(&clash.what).to_owned();
        if !clash.r#where.is_empty() {
            text.push_str(&format!(", {}", sentence_part(&clash.r#where)));
        }
        if let Some(place) = (asked.place_of)(&clash.field_path) {
            text.push_str(&format!(" ({place})"));
        }
        text.push('.');
        add_sentence(&mut text, "", &clash.advice);
        page.wrapped("  ", 4, &text);
    }
    page.blank();
}

/// What cradle or cargo does to the rail in the case that governs.
fn pushes(page: &mut Page, answer: &CheckProjectResponse, governing: &Row) {
    let case = answer.cases.iter().find(|c| c.name == governing.case_name);
    let mount = answer.mounts.iter().find(|m| m.id == governing.mount_id);
    let (Some(case), Some(mount)) = (case, mount) else { return };
    let units = page.look().units();
    let Some(words) = directions(case, mount, units) else { return };
    let unit = if units == Units::Si { "kN" } else { "lbf" };
    let text = format!(
        "In {} the {} pushes the rail at the {} mount {words} {unit}.",
        case.name,
        if mount.carries.is_empty() { "cradle" } else { mount.carries.as_str() },
        mount.name
    );
    page.wrapped("", 2, &text);
    page.blank();
}

fn directions(case: &CaseAnswer, mount: &MountAnswer, units: Units) -> Option<String> {
    let force = case.mount_forces.iter().find(|f| f.mount_id == mount.id)?;
    let left = mount.at.is_none_or(|at| at.y_mm >= 0.0);
    let outward = if left { force.force_y_n } else { -force.force_y_n };
    let words: Vec<String> = [
        (force.force_x_n, "forward", "rearward"),
        (outward, "outward", "inward"),
        (force.force_z_n, "up", "down"),
    ]
    .into_iter()
    .filter(|(n, ..)| n.abs() >= QUIET)
    .map(|(n, plus, minus)| {
        let size = match units {
            Units::Si => fixed(n.abs() / 1e3, 2),
            Units::Us => fixed(units.value(n.abs(), "N"), 0),
        };
        format!("{} {size}", if n > 0.0 { plus } else { minus })
    })
    .collect();
    (!words.is_empty()).then(|| words.join(", "))
}

/// Columns of the table of rows.
struct Columns {
    name: usize,
    case: usize,
    cells: usize,
    wide: bool,
}

impl Columns {
    fn new(look: Look, rows: &[&Row]) -> Self {
        let longest = rows.iter().map(|r| r.case_name.chars().count()).max().unwrap_or_default();
        // In the wide form a blank stands behind the case.
        let case = (longest + usize::from(look.is_wide())).clamp(5, 10);
        // Beside name and case: number 6, use 5, bar 2 x cells, state 12, and gaps; in the wide
        // form effect 19 and resistance 14 on top.
        if look.is_wide() {
            Self { name: (look.width() - 83 - case).min(63), case, cells: 12, wide: true }
        } else {
            Self { name: look.width() - 41 - case, case, cells: 8, wide: false }
        }
    }
}

fn table(page: &mut Page, rows: &[&Row], all: bool) {
    if rows.is_empty() {
        return;
    }
    let look = page.look();
    let columns = Columns::new(look, rows);
    let bar_width = 2 * columns.cells;
    let mut head = format!(
        "{}{}{}{}{}",
        fit(look, "no.", 6),
        fit(look, "part and check", columns.name + 2),
        fit(look, "use", 5 + bar_width),
        fit(look, "state", 12),
        fit(look, "case", columns.case),
    );
    if columns.wide {
        head.push_str(&fit(look, "load effect", 19));
        head.push_str("resistance");
    }
    page.line(&head);
    for row in rows {
        page.line(&table_row(look, row, &columns));
        if all {
            beside(page, row);
        }
    }
    page.blank();
}

fn table_row(look: Look, row: &Row, columns: &Columns) -> String {
    let state = row.state();
    let (word, style) = match state {
        State::Holds => ("holds", HOLDS),
        State::Exceeds => ("exceeds", EXCEEDS),
        State::RuleNotMet => ("rule broken", NOT_CHECKED),
        State::NotChecked | State::Unspecified => ("not checked", NOT_CHECKED),
    };
    let checked = matches!(state, State::Holds | State::Exceeds | State::RuleNotMet);
    let use_of = row.utilisation.filter(|_| checked);
    let number = use_of.map_or("-".to_owned(), |u| utilisation(u, state != State::Holds));
    let number = right(&number, 5);
    // A long number takes its room from the name.
    let spill = number.chars().count() - 5;
    let id = fit(look, &row.id, row.id.chars().count().max(5)) + " ";
    let taken = id.chars().count() - 6 + spill;
    let what = if columns.wide || row.short_what.is_empty() { &row.what } else { &row.short_what };
    // A number that fills its column leaves a blank behind the name.
    let gap = if number.starts_with(' ') { "" } else { " " };
    let what = fit(look, what, columns.name.saturating_sub(taken + gap.len())) + gap;
    let bar = look.text(&bar(state, use_of, columns.cells));
    let case = if row.case_name.is_empty() { "-" } else { row.case_name.as_str() };
    let mut line = format!(
        "{id}{what}{number} {} {}{}",
        paint(style, &bar),
        paint(style, word),
        " ".repeat(12 - word.len()),
    );
    if !columns.wide {
        line.push_str(fit(look, case, columns.case).trim_end());
        return line;
    }
    line.push_str(&fit(look, case, columns.case));
    // A resistance of 0 is one that was not told.
    if checked && row.resistance.abs() < f64::MIN_POSITIVE {
        line.push_str(&fit(look, "-", 19));
        line.push('-');
    } else if checked {
        line.push_str(&fit(look, &quantity(row.demand, &row.unit, look.units()), 19));
        line.push_str(fit(look, &quantity(row.resistance, &row.unit, look.units()), 14).trim_end());
    } else {
        line.push_str(fit(look, &row.not_checked_reason, 33).trim_end());
    }
    line
}

/// Notes and other ways of asking, under a row.
fn beside(page: &mut Page, row: &Row) {
    for other in &row.alternatives {
        let number = other.utilisation.map_or("-".to_owned(), |u| utilisation(u, u > 1.0));
        let case = if other.case_name.is_empty() {
            String::new()
        } else {
            format!(" in {}", other.case_name)
        };
        let mut text = format!("{}: {number}{case}.", sentence_part(&other.what));
        add_sentence(&mut text, "", &other.note);
        page.wrapped("      other way: ", 8, &text);
    }
    for note in &row.notes {
        page.wrapped("      ", 8, note);
    }
}

/// Highest utilisation of each mount in each case.
fn matrix(
    page: &mut Page,
    answer: &CheckProjectResponse,
    hidden: &BTreeMap<String, String>,
    all: bool,
) {
    let look = page.look();
    if !(look.is_wide() || all) || answer.cases.is_empty() {
        return;
    }
    let mounts: Vec<&MountAnswer> = answer
        .mounts
        .iter()
        .filter(|m| !m.utilisation_by_case.is_empty() && (all || !hidden.contains_key(&m.id)))
        .collect();
    if mounts.is_empty() {
        return;
    }
    let longest = answer.cases.iter().map(|c| c.name.chars().count()).max().unwrap_or_default();
    let each = (longest + 2).clamp(8, 14);
    let lead = 17;
    let at_once = (look.width() - lead) / each;
    for (block, cases) in answer.cases.chunks(at_once).enumerate() {
        let heads: String = cases.iter().map(|c| fit(look, &c.name, each - 1) + " ").collect();
        page.line(&format!("{}{heads}", fit(look, "highest use", lead)));
        for mount in &mounts {
            let from = block * at_once;
            let cells: String = mount
                .utilisation_by_case
                .iter()
                .skip(from)
                .take(cases.len())
                .map(|u| fit(look, &utilisation(*u, *u > 1.0), each))
                .collect();
            page.line(&format!("{}{cells}", fit(look, &mount.id, lead)));
        }
        page.blank();
    }
}

fn guesses(page: &mut Page, answer: &CheckProjectResponse, asked: &Asked<'_>) {
    let look = page.look();
    let ranked: Vec<&Guess> = answer
        .guesses
        .iter()
        .filter(|g| g.utilisation_low.is_some() && g.utilisation_high.is_some())
        .collect();
    let Some(top) = answer.rows.iter().filter(|r| uses(r)).max_by(by_use) else {
        return;
    };
    if ranked.is_empty() {
        return;
    }
    let as_entered =
        utilisation(top.utilisation.unwrap_or_default(), top.state() == State::Exceeds);
    // A guess between two equal numbers does not matter.
    let (ranked, idle): (Vec<&Guess>, Vec<&Guess>) =
        ranked.into_iter().partition(|guess| ends(guess).is_some_and(|(low, high)| low != high));
    let heading = if answer.plate_mounts.is_empty() {
        format!("Which guess matters: the highest use is {as_entered} as entered")
    } else {
        "Which guess matters, tried by hand statics alone: the highest use".to_owned()
    };
    page.wrapped("", 2, &heading);
    if ranked.is_empty() {
        page.line("  none of those that were tried moves it");
    }
    let most = match (asked.all, look.is_wide()) {
        (true, _) => ranked.len(),
        (false, true) => 5,
        (false, false) => 3,
    };
    for guess in ranked.iter().take(most) {
        let Some((low, high)) = ends(guess) else { continue };
        let lead = format!("  {low} to {high}  ");
        let row =
            if guess.row_id.is_empty() { String::new() } else { format!(", {}", guess.row_id) };
        let hang = lead.chars().count();
        page.wrapped(&lead, hang, &format!("{}, {} (guessed){row}", guess.what, guess.value));
    }
    let names =
        |guesses: &[&Guess]| guesses.iter().map(|g| g.what.clone()).collect::<Vec<_>>().join("; ");
    if !ranked.is_empty() && !idle.is_empty() {
        page.wrapped("  ", 4, &format!("does not move it: {}", names(&idle)));
    }
    let untried: Vec<&Guess> = answer.guesses.iter().filter(|g| ends(g).is_none()).collect();
    if !untried.is_empty() {
        let text = format!("not tried, without a spread that has an answer: {}", names(&untried));
        page.wrapped("  ", 4, &text);
    }
    page.blank();
}

/// The highest use at the two ends of a guess, the lower first: the low end of an input may well
/// give the higher use.
fn ends(guess: &Guess) -> Option<(String, String)> {
    let (a, b) = (guess.utilisation_low?, guess.utilisation_high?);
    let (low, high) = if a <= b { (a, b) } else { (b, a) };
    Some((utilisation(low, low > 1.0), utilisation(high, high > 1.0)))
}

/// How many of the shortest lives are told.
const SHORTEST_LIVES: usize = 3;

fn left_out(page: &mut Page, answer: &CheckProjectResponse, rows: &[&Row]) {
    let mut items: Vec<String> = Vec::new();
    for row in rows.iter().filter(|r| r.state() == State::NotChecked) {
        let what = if row.short_what.is_empty() { &row.what } else { &row.short_what };
        let item = format!("{} {what} ({})", row.id, sentence_part(&row.not_checked_reason));
        items.push(item);
    }
    if !items.is_empty() {
        page.wrapped("", 2, &format!("Not checked: {}.", items.join("; ")));
    }
    let broken: Vec<String> = rows
        .iter()
        .filter(|r| r.state() == State::RuleNotMet)
        .map(|row| {
            let what = if row.short_what.is_empty() { &row.what } else { &row.short_what };
            let [required, provided] =
                [row.demand, row.resistance].map(|v| quantity(v, &row.unit, page.look().units()));
            format!("{} {what} ({required} against {provided})", row.id)
        })
        .collect();
    if !broken.is_empty() {
        page.wrapped("", 2, &format!("Detailing rules not met: {}.", broken.join("; ")));
    }
    let mut lives: Vec<(f64, &Row)> = rows.iter().filter_map(|r| Some((r.life_km?, *r))).collect();
    lives.sort_by(|a, b| a.0.total_cmp(&b.0));
    let lives: Vec<String> = lives
        .iter()
        .take(SHORTEST_LIVES)
        .map(|(way, row)| {
            let what = if row.short_what.is_empty() { &row.what } else { &row.short_what };
            format!("{} {what}, {} km", row.id, significant(*way, 2))
        })
        .collect();
    if !lives.is_empty() {
        page.wrapped("", 2, &format!("Shortest lives in this duty: {}.", lives.join("; ")));
    }
    if !answer.not_covered.is_empty() {
        let items: Vec<&str> = answer.not_covered.iter().map(|t| sentence_part(t)).collect();
        page.wrapped("", 2, &format!("Not looked at: {}.", items.join("; ")));
    }
}

fn taken_for_granted(page: &mut Page, answer: &CheckProjectResponse, asked: &Asked<'_>) {
    let mut names: Vec<String> = Vec::new();
    for guess in &answer.guesses {
        let mut name = guess.what.clone();
        if asked.all {
            name.push_str(&format!(" {}", guess.value));
            if let Some(place) = (asked.place_of)(&guess.field_path) {
                name.push_str(&format!(" ({place})"));
            }
        }
        if !names.contains(&name) {
            names.push(name);
        }
    }
    if !names.is_empty() {
        page.wrapped("", 2, &format!("Open guesses: {}.", names.join("; ")));
    }
    let count = answer.assumptions.len();
    if asked.all && count > 0 {
        page.line("Taken for granted:");
        for assumption in &answer.assumptions {
            page.wrapped("  ", 4, assumption);
        }
    } else if count > 0 {
        let s = if count == 1 { "" } else { "s" };
        page.wrapped(
            "",
            2,
            &format!(
                "Taken for granted: {count} thing{s}; fishplate check {} --all",
                asked.given()
            ),
        );
    }
}

/// By which steel and which joints the load of each mount gets to the rail.
fn ways(page: &mut Page, answer: &CheckProjectResponse) {
    if answer.walks.is_empty() {
        return;
    }
    page.blank();
    page.line("The way of the load:");
    for walk in &answer.walks {
        let shared = if walk.r#loop { " (shared by stiffness)" } else { "" };
        let text = format!("{}: {}{shared}", walk.mount_id, walk.stations.join(" > "));
        page.wrapped("  ", 4, &text);
    }
}

/// What was built, and what the answer was made from.
fn footing(page: &mut Page, answer: &CheckProjectResponse) {
    page.blank();
    if let Some(totals) = &answer.totals {
        let units = page.look().units();
        let text = format!(
            "Steel added {} {}, fillet welds {} {}, {} bolts.",
            fixed(units.value(totals.part_mass_kg, "kg"), 2),
            units.unit("kg"),
            fixed(units.value(totals.weld_length_mm, "mm"), 0),
            units.unit("mm"),
            totals.bolt_count
        );
        page.wrapped("", 2, &text);
    }
    if let Some(stamp) = &answer.stamp {
        let text = format!(
            "Rules: {}. Engine {}. Project {}. Forces balance to {:.0e} of the load.",
            stamp.rules, stamp.engine_version, stamp.project_hash, stamp.largest_imbalance
        );
        page.wrapped("", 2, &text);
    }
}

fn hints(page: &mut Page, rows: &[&Row], asked: &Asked<'_>, as_plates: bool) {
    if asked.file == "-" {
        return;
    }
    let look = page.look();
    let file = look.text(asked.file);
    let given = look.text(&asked.given());
    let units = if look.units() == Units::Us { " --units us" } else { "" };
    let depth = if as_plates { " --depth plate" } else { "" };
    if let Some(top) = rows.iter().copied().filter(|r| uses(r)).max_by(by_use) {
        page.line(&format!(
            "Every number:    fishplate explain {given} {}{depth}{units}",
            look.text(&top.id)
        ));
    }
    let html = match file.strip_suffix(".toml") {
        Some(stem) => format!("{stem}.html"),
        None => format!("{file}.html"),
    };
    page.line(&format!("With drawings:   fishplate check {given}{depth} --html {html}{units}"));
}

#[cfg(test)]
#[path = "answer_tests.rs"]
mod tests;
