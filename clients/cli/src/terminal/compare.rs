//! Designs side by side.

use std::collections::BTreeSet;

use fishplate_proto::v1::{
    CheckProjectResponse, ComparedCheck, ComparedDesign, Comparison, UsedRow, Verdict, WayAhead,
};
use fishplate_report::Units;
use fishplate_report::compare::{
    LIMITS, best_step, figures as figures_of, length, letter, weld, what_helps,
};

use super::mirror::twins;
use super::number::{fixed, utilisation};
use super::page::{EXCEEDS, HOLDS, Look, NOT_CHECKED, Page, fit, paint, right};

/// Checks that are told; the rest is counted.
const CHECKS: usize = 16;
/// Narrowest and widest column of a design.
const COLUMN: (usize, usize) = (6, 16);
/// Widest column of titles.
const TITLE: usize = 60;
/// Widest column of names: numbers far from their names are hard to read.
const NAME: usize = 48;

/// The comparison as text with colours; `all` shows every check and case.
pub(crate) fn compare(comparison: &Comparison, all: bool, look: Look) -> String {
    let mut told = comparison.clone();
    look.units().rewrite_comparison(&mut told);
    let mut page = Page::new(look);
    let table = Table::new(look, told.designs.len());
    let hidden = if all { BTreeSet::new() } else { mirrored(&told) };
    let shown = Shown { all, hidden: &hidden };
    head(&mut page, &told);
    figures(&mut page, &table, &told);
    joints(&mut page, &table, &told);
    checks(&mut page, &table, &told, shown);
    cases(&mut page, &table, &told, shown);
    movements(&mut page, &table, &told, shown);
    for (place, design) in told.designs.iter().enumerate() {
        if let Some(way) = &design.way {
            way_ahead(&mut page, &told, place, (design, way), shown);
        }
    }
    left_out(&mut page, &told);
    page.blank();
    let answers = told.designs.iter().filter_map(|design| design.answer.as_ref());
    let mut cautions: Vec<&String> = answers.flat_map(|answer| &answer.cautions).collect();
    cautions.sort_unstable();
    cautions.dedup();
    for caution in cautions {
        page.wrapped("", 0, caution);
    }
    page.finish()
}

/// How much is shown.
#[derive(Clone, Copy)]
struct Shown<'h> {
    all: bool,
    /// Mounts that are the mirror image of another in every design.
    hidden: &'h BTreeSet<String>,
}

fn mirrored(told: &Comparison) -> BTreeSet<String> {
    let mut each = told.designs.iter().filter_map(answer).map(|a| twins(a).into_keys().collect());
    let first: BTreeSet<String> = each.next().unwrap_or_default();
    each.fold(first, |both, one| both.intersection(&one).cloned().collect())
}

/// A column for what is compared, and one for each design.
struct Table {
    look: Look,
    name: usize,
    column: usize,
}

impl Table {
    fn new(look: Look, designs: usize) -> Self {
        let (least, most) = COLUMN;
        let column = (look.width() * 3 / 5 / designs.max(1)).clamp(least, most);
        let name = look.width().saturating_sub(designs * column).min(NAME);
        Self { look, name, column }
    }

    /// A line: cells stand to the right; an empty cell is a dash.
    fn line<'c>(&self, page: &mut Page, name: &str, cells: impl Iterator<Item = Cell<'c>>) {
        let mut line = fit(self.look, name, self.name);
        for cell in cells {
            let text = if cell.text.is_empty() { "-" } else { cell.text.as_str() };
            // One blank at least between two columns.
            let text = fit(self.look, text, text.chars().count().min(self.column - 1));
            let room = " ".repeat(self.column.saturating_sub(text.chars().count()));
            line.push_str(&room);
            line.push_str(&cell.paint.map_or(text.clone(), |style| paint(*style, &text)));
        }
        page.line(&line);
    }
}

/// What stands in a column.
struct Cell<'s> {
    text: String,
    paint: Option<&'s anstyle::Style>,
}

fn plain(text: impl Into<String>) -> Cell<'static> {
    Cell { text: text.into(), paint: None }
}

fn answer(design: &ComparedDesign) -> Option<&CheckProjectResponse> {
    design.answer.as_ref()
}

fn verdict(design: &ComparedDesign) -> (&'static str, &'static anstyle::Style) {
    match answer(design).map(CheckProjectResponse::verdict) {
        Some(Verdict::Holds) => ("holds", &HOLDS),
        Some(Verdict::DoesNotHold) => ("does not hold", &EXCEEDS),
        Some(Verdict::Provisional) => ("provisional", &NOT_CHECKED),
        Some(Verdict::Unspecified) | None => ("no verdict", &NOT_CHECKED),
    }
}

fn head(page: &mut Page, told: &Comparison) {
    let look = page.look();
    page.blank();
    page.wrapped("", 0, &told.sentence);
    page.blank();
    for (place, design) in told.designs.iter().enumerate() {
        let (word, style) = verdict(design);
        let title = answer(design).map_or("", |a| a.title.as_str());
        let rank = told.ranking.iter().position(|at| usize::try_from(*at) == Ok(place));
        let rank = rank.map_or_else(String::new, |rank| format!("{}.", rank + 1));
        let room = look.width().saturating_sub(24).min(TITLE);
        page.line(&format!(
            "{}  {} {} {}",
            letter(place),
            fit(look, &rank, 3),
            fit(look, title, room),
            paint(*style, word)
        ));
    }
    page.blank();
}

fn figures(page: &mut Page, table: &Table, told: &Comparison) {
    let units = table.look.units();
    table.line(page, "", letters(told));
    let worst = |d: &ComparedDesign| d.worst.clone().unwrap_or_default();
    table.line(page, "highest use", told.designs.iter().map(|d| used(d.worst.as_ref())));
    table.line(page, "  in row", told.designs.iter().map(|d| plain(worst(d).row_id)));
    table.line(page, "  in case", told.designs.iter().map(|d| plain(worst(d).case_name)));
    for (name, of) in figures_of(told, units) {
        let cells = told.designs.iter().map(|d| plain(of(d, units).unwrap_or_default()));
        table.line(page, &name, cells);
    }
    page.blank();
}

/// The letters of the designs over their columns.
fn letters(told: &Comparison) -> impl Iterator<Item = Cell<'static>> {
    (0..told.designs.len()).map(|place| plain(letter(place)))
}

fn used(row: Option<&UsedRow>) -> Cell<'static> {
    row.map_or(plain(""), |row| number(row.utilisation))
}

fn number(value: f64) -> Cell<'static> {
    let over = value > 1.0;
    Cell { text: utilisation(value, over), paint: over.then_some(&EXCEEDS) }
}

fn joints(page: &mut Page, table: &Table, told: &Comparison) {
    if told.joints.is_empty() {
        return;
    }
    let units = table.look.units();
    let head = format!("weld by joint, {}", units.unit("mm"));
    table.line(page, &head, letters(told));
    for joint in &told.joints {
        let cells = joint.welds.iter().map(|one| plain(weld(one, units).unwrap_or_default()));
        table.line(page, joint.name.trim_start_matches("weld."), cells);
    }
    let sum = |d: &ComparedDesign| {
        plain(d.bill.as_ref().map_or(String::new(), |b| length(b.weld_length_mm, units)))
    };
    table.line(page, "in all", told.designs.iter().map(sum));
    page.blank();
}

/// The highest that any design reaches in a check.
fn highest(check: &ComparedCheck) -> f64 {
    let all = check.uses.iter().filter_map(|u| u.worst.as_ref());
    all.map(|w| w.utilisation).fold(0.0, |a, b| if b > a { b } else { a })
}

fn checks(page: &mut Page, table: &Table, told: &Comparison, shown: Shown<'_>) {
    let Shown { all, hidden } = shown;
    let mut list: Vec<&ComparedCheck> = told
        .checks
        .iter()
        .filter(|c| !hidden.contains(&c.mount_id) && c.uses.iter().any(|u| u.worst.is_some()))
        .collect();
    if list.is_empty() {
        return;
    }
    let counted = list.len();
    if !all {
        list.sort_by(|a, b| highest(b).total_cmp(&highest(a)));
        list.truncate(CHECKS);
    }
    table.line(page, "highest use by check", letters(told));
    for check in &list {
        let mount = if check.mount_id.is_empty() { "W" } else { check.mount_id.as_str() };
        let name = format!("{} {}", fit(table.look, mount, 3), check.short_what);
        table.line(page, &name, check.uses.iter().map(|u| used(u.worst.as_ref())));
    }
    if counted > list.len() {
        page.wrapped("", 0, &format!("and {} more: --all", counted - list.len()));
    }
    page.blank();
}

/// Names that any design has, in the order of the first that has it.
fn names<'c>(
    told: &'c Comparison,
    of: impl Fn(&'c CheckProjectResponse) -> Vec<&'c str>,
) -> Vec<&'c str> {
    let mut all: Vec<&str> = Vec::new();
    for name in told.designs.iter().filter_map(answer).flat_map(of) {
        if !all.contains(&name) {
            all.push(name);
        }
    }
    all
}

fn mounts<'c>(told: &'c Comparison, hidden: &BTreeSet<String>) -> Vec<&'c str> {
    let mut all = names(told, |a| a.mounts.iter().map(|m| m.id.as_str()).collect());
    all.retain(|id| !hidden.contains(*id));
    all
}

/// The highest use of a mount in a case.
fn in_case(design: &ComparedDesign, mount: &str, case: &str) -> Option<f64> {
    let answer = answer(design)?;
    let at = answer.cases.iter().position(|c| c.name == case)?;
    let mount = answer.mounts.iter().find(|m| m.id == mount)?;
    mount.utilisation_by_case.get(at).copied()
}

fn cases(page: &mut Page, table: &Table, told: &Comparison, shown: Shown<'_>) {
    let Shown { all, hidden } = shown;
    let cases = names(told, |a| a.cases.iter().map(|c| c.name.as_str()).collect());
    let mounts = mounts(told, hidden);
    if cases.is_empty() || mounts.is_empty() {
        return;
    }
    let of = |mount: &str, case: &str| -> Vec<Option<f64>> {
        told.designs.iter().map(|d| in_case(d, mount, case)).collect()
    };
    let most = |values: &[Option<f64>]| {
        values.iter().flatten().fold(0.0, |a: f64, b| if *b > a { *b } else { a })
    };
    table.line(page, "highest use by case", letters(told));
    for mount in mounts {
        let mut list: Vec<&str> = cases.clone();
        if !all {
            list.sort_by(|a, b| most(&of(mount, b)).total_cmp(&most(&of(mount, a))));
            list.truncate(3);
        }
        for case in list {
            let name = format!("{} {case}", fit(table.look, mount, 3));
            let cells = of(mount, case).into_iter().map(|u| u.map_or(plain(""), number));
            table.line(page, &name, cells);
        }
    }
    if !all {
        page.wrapped("", 0, "The three worst cases of each mount; every case: --all");
    }
    page.blank();
}

fn movements(page: &mut Page, table: &Table, told: &Comparison, shown: Shown<'_>) {
    let Shown { all, hidden } = shown;
    let units = table.look.units();
    let mounts = mounts(told, hidden);
    let movement = |d: &'_ ComparedDesign, mount: &str| {
        d.movements.iter().find(|m| m.mount_id == mount).cloned()
    };
    let decimals = if units == Units::Si { 2 } else { 3 };
    let head = format!("mounts move at most, {}", units.unit("mm"));
    table.line(page, &head, letters(told));
    for mount in &mounts {
        let cells = told.designs.iter().map(|d| {
            let most = movement(d, mount)
                .and_then(|m| m.travel_mm.iter().copied().reduce(|a, b| if b > a { b } else { a }));
            plain(most.map_or(String::new(), |mm| fixed(units.value(mm, "mm"), decimals)))
        });
        table.line(page, mount, cells);
    }
    let stiff = told.designs.iter().any(|d| d.movements.iter().any(|m| m.structure.is_some()));
    if stiff {
        let head = format!("steel under the mount, {}", units.unit("N/mm"));
        table.line(page, &head, letters(told));
        for mount in &mounts {
            for (axis, name) in ["x", "y", "z"].into_iter().enumerate() {
                let cells = told.designs.iter().map(|d| {
                    let s = movement(d, mount).and_then(|m| m.structure);
                    let value =
                        s.map(|s| [s.move_x_n_per_mm, s.move_y_n_per_mm, s.move_z_n_per_mm][axis]);
                    plain(value.map_or(String::new(), |v| fixed(units.value(v, "N/mm"), 0)))
                });
                table.line(page, &format!("{} along {name}", fit(table.look, mount, 3)), cells);
            }
        }
    } else if all {
        page.wrapped("", 0, "Of the bush; stiffness of the steel under it: --depth plate");
    }
    page.blank();
}

fn way_ahead(
    page: &mut Page,
    told: &Comparison,
    place: usize,
    (design, way): (&ComparedDesign, &WayAhead),
    shown: Shown<'_>,
) {
    let title = answer(design).map_or("", |a| a.title.as_str());
    page.wrapped("", 3, &format!("{}: what {title} would have to change", letter(place)));
    let row = |id: &str| answer(design).and_then(|a| a.rows.iter().find(|row| row.id == id));
    let limits: Vec<_> = way
        .limits
        .iter()
        .filter_map(|limit| Some((limit, row(&limit.row_id)?)))
        .filter(|(_, row)| !shown.hidden.contains(&row.mount_id))
        .collect();
    let most = if shown.all { limits.len() } else { LIMITS };
    for (limit, row) in limits.iter().take(most) {
        let number = utilisation(limit.utilisation, true);
        let lead = format!("   {}  {}  ", right(&number, 4), page.look().text(&row.id));
        let best = best_step(way, limit);
        let best = if best.is_empty() { best } else { format!("; {best}") };
        page.wrapped(&lead, lead.chars().count(), &format!("{}{best}", row.short_what));
    }
    if limits.len() > most {
        page.line(&format!("         and {} more that exceed: --all", limits.len() - most));
    }
    for sentence in what_helps(told, design, page.look().units()) {
        page.wrapped("   ", 3, &sentence);
    }
    page.blank();
}

fn left_out(page: &mut Page, told: &Comparison) {
    for (place, design) in told.designs.iter().enumerate() {
        for what in design.bill.iter().flat_map(|b| &b.not_counted) {
            page.wrapped(&format!("{}  not counted: ", letter(place)), 3, what);
        }
    }
    page.wrapped(
        "",
        0,
        "Lengths and masses are those of both sides. Steel: corners sharp, holes not taken off. \
         Room for the torch is one of the detailing rules; room for spanners is not looked at.",
    );
}

#[cfg(test)]
#[path = "compare_tests.rs"]
mod tests;
