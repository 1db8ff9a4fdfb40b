//! Designs that hold, best first, the trade-off, and how every combination was decided.

use fishplate_proto::v1::{
    DesignRow, ExceedingRow, OpenQuantity, SizeProjectRequest, SizeTally, SizedDesign, Sizing,
    State, Verdict,
};
use fishplate_report::size::{letter, measure};

use super::bar::bar;
use super::number::{fixed, utilisation};
use super::page::{EXCEEDS, HOLDS, Look, NOT_CHECKED, Page, fit, paint, right};

/// Rows that are told as bounds.
const BOUNDS: usize = 8;
/// Width from which all figures of a design have room.
const ROOMY: usize = 80;
/// Designs of the trade-off that are told.
const FRONT: usize = 12;

/// The answer as text with colours.
pub(crate) fn size(asked: &SizeProjectRequest, sizing: &Sizing, look: Look) -> String {
    let mut page = Page::new(look);
    let quantities = asked.space.as_ref().map_or(&[][..], |space| &space.quantities);
    head(&mut page, asked, sizing);
    open(&mut page, quantities);
    if !sizing.found.is_empty() {
        page.blank();
        let by: Vec<&str> = asked.by().map(|by| measure(by).0).collect();
        let by = if by.is_empty() { "mass of steel".to_owned() } else { by.join(", then ") };
        page.wrapped("", 0, &format!("Best first by {by}"));
        figures(&mut page, &sizing.found, quantities);
    }
    if sizing.front.len() > 1 {
        front(&mut page, asked, sizing, quantities);
    }
    if let Some(miss) = &sizing.miss {
        page.blank();
        page.wrapped("", 0, "Nearest miss");
        if let Some(design) = &miss.design {
            figures(&mut page, std::slice::from_ref(design), quantities);
        }
        rows(&mut page, "exceeds there", &miss.rows);
        rows(&mut page, "exceeds whatever is chosen", &miss.always);
    }
    confirmed(&mut page, sizing, quantities);
    proof(&mut page, asked, sizing);
    page.finish()
}

fn head(page: &mut Page, asked: &SizeProjectRequest, sizing: &Sizing) {
    let look = page.look();
    let title = asked
        .space
        .as_ref()
        .and_then(|space| space.base.as_ref())
        .map_or("", |base| base.title.as_str());
    let first = sizing.confirmed.iter().find(|one| one.verdict() != Verdict::DoesNotHold);
    let (word, style) = match first.map(|one| one.verdict()) {
        Some(Verdict::Holds) => ("HOLDS", HOLDS),
        Some(_) => ("PROVISIONAL", NOT_CHECKED.bold()),
        None => ("NONE HOLDS", EXCEEDS),
    };
    page.blank();
    page.line(&format!("{}   {}", paint(style, word), look.text(title)));
    page.wrapped("", 0, &sizing.sentence);
}

fn open(page: &mut Page, quantities: &[OpenQuantity]) {
    page.blank();
    page.line("Open quantities");
    for (place, quantity) in quantities.iter().enumerate() {
        let labels: Vec<&str> = quantity.options.iter().map(|o| o.label.as_str()).collect();
        let few = match labels.as_slice() {
            [first, .., last] if labels.len() > 6 => {
                format!("{first} ... {last} ({} options)", labels.len())
            }
            _ => labels.join(" | "),
        };
        page.wrapped(&format!("  {}  ", letter(place)), 5, &format!("{}: {few}", quantity.name));
    }
}

/// Columns of figures, then the options of each design. Where there is little room, mass and weld
/// stand alone.
fn figures(page: &mut Page, designs: &[SizedDesign], quantities: &[OpenQuantity]) {
    let look = page.look();
    let units = look.units();
    let roomy = look.width() >= ROOMY;
    let head = |name: &str, unit: &str, width: usize| {
        right(&format!("{name} {}", units.unit(unit)), width)
    };
    let mut heads = vec![head("steel", "kg", 10), head("weld", "mm", 10)];
    if roomy {
        heads.extend([head("metal", "mm³", 12), right("parts", 5), right("bolts", 5)]);
    }
    page.line(&look.text(&format!("     {}   {}", heads.join(" "), right("use", 5))));
    for (place, design) in designs.iter().enumerate() {
        let value = |of: f64, unit: &str, decimals: usize, width: usize| {
            right(&fixed(units.value(of, unit), decimals), width)
        };
        let mut cells =
            vec![value(design.mass_kg, "kg", 3, 10), value(design.weld_length_mm, "mm", 0, 10)];
        if roomy {
            cells.push(value(design.weld_volume_mm3, "mm³", 0, 12));
            cells.extend([design.pieces, design.bolts].map(|n| right(&n.to_string(), 5)));
        }
        let exceeds = design.utilisation > 1.0;
        let used = right(&utilisation(design.utilisation, exceeds), 5);
        let state = match (exceeds, design.open) {
            (true, _) => paint(EXCEEDS, "exceeds"),
            (false, true) => paint(NOT_CHECKED, "as far as checked"),
            (false, false) => paint(HOLDS, "holds"),
        };
        let number = right(&format!("{}.", place + 1), 4);
        page.line(&format!("{number} {}   {used} {state}", cells.join(" ")));
        page.wrapped("     ", 5, &options(&design.choice, quantities));
    }
}

/// The options of a design: `a U 4 mm S275 · b 3 mm`.
fn options(choice: &[u32], quantities: &[OpenQuantity]) -> String {
    let told = choice.iter().zip(quantities).enumerate().map(|(place, (option, quantity))| {
        let option = usize::try_from(*option).ok().and_then(|at| quantity.options.get(at));
        format!("{} {}", letter(place), option.map_or("?", |option| option.label.as_str()))
    });
    told.collect::<Vec<_>>().join(" · ")
}

fn front(
    page: &mut Page,
    asked: &SizeProjectRequest,
    sizing: &Sizing,
    quantities: &[OpenQuantity],
) {
    let look = page.look();
    let measures = fishplate_report::size::front_of(asked);
    let [first, second] = measures.map(measure);
    page.blank();
    page.wrapped(
        "",
        0,
        &format!("Trade-off: no design is better in both {} and {}", first.0, second.0),
    );
    let step = sizing.front.len().div_ceil(FRONT).max(1);
    for design in sizing.front.iter().step_by(step) {
        let [a, b] = measures.map(|by| fishplate_report::size::value(design, by, look.units()));
        let drawn = bar(State::Holds, Some(design.utilisation), 8);
        page.line(&format!(
            "  {} {}  {} {}",
            right(&a, 12),
            right(&b, 12),
            look.text(drawn.trim_end()),
            if design.open { "as far as checked" } else { "holds" },
        ));
        page.wrapped("     ", 5, &options(&design.choice, quantities));
    }
    if step > 1 {
        page.line(&format!("  every {step}. of {}", sizing.front.len()));
    }
}

fn name(row: Option<&DesignRow>) -> String {
    row.map_or_else(String::new, |row| {
        format!("{} {}: {}", row.mount_id, row.component, row.what).trim().to_owned()
    })
}

fn rows(page: &mut Page, what: &str, rows: &[ExceedingRow]) {
    for row in rows.iter().take(BOUNDS) {
        let used = utilisation(row.utilisation, true);
        let told = format!("{what}: {}", name(row.row.as_ref()));
        page.wrapped(&format!("  {} ", right(&used, 5)), 8, &told);
    }
}

fn confirmed(page: &mut Page, sizing: &Sizing, quantities: &[OpenQuantity]) {
    if sizing.confirmed.is_empty() {
        return;
    }
    page.blank();
    page.line("Confirmed by a full check");
    for one in &sizing.confirmed {
        page.wrapped("  ", 4, &options(&one.choice, quantities));
        let used = utilisation(one.utilisation, one.utilisation > 1.0);
        page.wrapped("    ", 4, &format!("{} Highest use {used}: {}", one.sentence, one.governing));
        for reason in one.provisional_reasons.iter().take(BOUNDS) {
            page.wrapped("    - ", 6, reason);
        }
        let more = one.provisional_reasons.len().saturating_sub(BOUNDS);
        if more > 0 {
            page.line(&format!("    - {more} more; `fishplate check` tells all"));
        }
    }
}

fn proof(page: &mut Page, asked: &SizeProjectRequest, sizing: &Sizing) {
    let look = page.look();
    page.blank();
    page.line("How every combination was decided");
    let tally = sizing.tally.unwrap_or_default();
    page.wrapped("  ", 2, &format!("{} combinations: {}", sizing.designs, decided(&tally)));
    if let (Some(better), Some(best)) = (&sizing.better, sizing.found.first()) {
        let first = asked.by().next().unwrap_or(fishplate_proto::v1::Measure::Mass);
        let count = better.cut + better.known + better.run + better.not_buildable;
        let value = fishplate_report::size::value(best, first, look.units());
        let told = if count == 0 {
            "no combination has less".to_owned()
        } else {
            format!("{count} combinations have less, and none of them holds: {}", decided(better))
        };
        page.wrapped("  ", 2, &format!("{} {value}: {told}", measure(first).0));
    }
    let constant = sizing.constant_rows;
    page.wrapped("  ", 2, &format!("{constant} rows that nothing open touches were run once"));
    page.blank();
    let told = "Rows that cut off, and the quantities they rest on; no order of options is taken for \
                granted";
    page.wrapped("", 0, told);
    page.line(&format!(
        "  {} {} {} row",
        right("cut off", 9),
        right("cells run", 14),
        fit(look, "rests on", 12)
    ));
    for bound in sizing.bounds.iter().take(BOUNDS) {
        let rests: String = bound
            .quantities
            .iter()
            .map(|place| letter(usize::try_from(*place).unwrap_or(0)))
            .collect();
        let cells = format!("{} of {}", bound.filled, bound.cells);
        let lead = format!(
            "  {} {} {} ",
            right(&bound.cut.to_string(), 9),
            right(&cells, 14),
            fit(look, &rests, 12)
        );
        let room = look.width().saturating_sub(lead.chars().count());
        page.line(&format!("{lead}{}", fit(look, &name(bound.row.as_ref()), room).trim_end()));
    }
}

fn decided(tally: &SizeTally) -> String {
    let SizeTally { cut, known, run, not_buildable, holding: _, open: _ } = tally;
    format!(
        "{cut} cut off by a row, {known} put together from rows that were known, {run} run row by \
         row, {not_buildable} not buildable"
    )
}

#[cfg(test)]
#[path = "size_tests.rs"]
mod tests;
