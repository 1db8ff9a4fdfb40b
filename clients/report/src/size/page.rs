//! A sizing on one page.

use askama::Template;
use fishplate_proto::v1;

use super::{draw, front_of, letter, measure, value};
use crate::names::{capital, css_text};
use crate::numbers;
use crate::page::{LEAST_CAUTION, STYLE};
use crate::state::State;
use crate::svg::marks::badge;
use crate::svg::strip::strip;
use crate::units::Units;

/// Width of a strip in the table.
const STRIP: f64 = 200.0;
/// Rows that are told as bounds.
const BOUNDS: usize = 20;

/// One self-contained HTML page with `sizing`, the answer to `request`, in `units`.
///
/// ```
/// use fishplate_proto::v1;
/// use fishplate_report::Units;
/// use fishplate_report::size::sizing_page;
///
/// let sizing = v1::Sizing { sentence: "None of 4 designs holds.".into(), ..Default::default() };
/// let page = sizing_page(&Default::default(), &sizing, Units::Si);
/// assert!(page.contains("None of 4 designs holds."));
/// ```
#[must_use]
pub fn sizing_page(request: &v1::SizeProjectRequest, sizing: &v1::Sizing, units: Units) -> String {
    let page = Page::new(request, sizing, units);
    // Writing to a text cannot fail, and the template calls nothing that can.
    page.render().unwrap_or_else(|error| {
        crate::fault_page("No page", &[("page".to_owned(), error.to_string())])
    })
}

#[derive(Template)]
#[template(path = "size.html")]
struct Page {
    title: String,
    css_title: String,
    style: &'static str,
    sentence: String,
    open: Vec<Open>,
    /// Names of the columns of figures.
    heads: Vec<String>,
    found: Vec<Design>,
    miss: Vec<Design>,
    missed: Vec<[String; 2]>,
    front: Option<String>,
    front_words: [String; 2],
    confirmed: Vec<Confirmed>,
    decided: Vec<[String; 2]>,
    better: String,
    constant: i32,
    bounds: Vec<[String; 5]>,
    caution: &'static str,
}

/// An open quantity.
struct Open {
    letter: char,
    name: String,
    options: String,
}

/// A design in a table.
struct Design {
    number: usize,
    figures: Vec<String>,
    used: String,
    strip: String,
    mark: String,
    state: &'static str,
    options: Vec<[String; 2]>,
}

/// A design that was checked in full.
struct Confirmed {
    options: String,
    sentence: String,
    governing: String,
    reasons: Vec<String>,
}

impl Page {
    fn new(request: &v1::SizeProjectRequest, sizing: &v1::Sizing, units: Units) -> Self {
        let space = request.space.clone().unwrap_or_default();
        let title = space.base.map(|base| base.title).unwrap_or_default();
        let quantities = &space.quantities;
        let front_of = front_of(request);
        let miss = sizing.miss.clone().unwrap_or_default();
        let missed = miss.rows.iter().map(|row| ("there", row));
        let missed = missed.chain(miss.always.iter().map(|row| ("whatever is chosen", row)));
        let design = |(number, design): (usize, &v1::SizedDesign)| {
            Design::new(number + 1, design, quantities, units)
        };
        Self {
            css_title: css_text(&title),
            title,
            style: STYLE,
            sentence: sizing.sentence.clone(),
            open: quantities.iter().enumerate().map(Open::new).collect(),
            heads: FIGURES.iter().map(|by| head(*by, units)).collect(),
            found: sizing.found.iter().enumerate().map(design).collect(),
            miss: miss.design.iter().enumerate().map(design).collect(),
            missed: missed
                .map(|(when, row)| {
                    let used = numbers::utilisation(row.utilisation, true);
                    [used, format!("{}, {when}", name(row.row.as_ref()))]
                })
                .collect(),
            front: (sizing.front.len() > 1).then(|| draw::front(&sizing.front, front_of, units)),
            front_words: front_of.map(|by| measure(by).0.to_owned()),
            confirmed: sizing.confirmed.iter().map(|one| Confirmed::new(one, quantities)).collect(),
            decided: decided(sizing.designs, sizing.tally.unwrap_or_default()),
            better: better(request, sizing, units),
            constant: sizing.constant_rows,
            bounds: sizing.bounds.iter().take(BOUNDS).map(bound).collect(),
            caution: LEAST_CAUTION,
        }
    }
}

/// The figures of a design, in columns.
const FIGURES: [v1::Measure; 5] = [
    v1::Measure::Mass,
    v1::Measure::WeldLength,
    v1::Measure::WeldVolume,
    v1::Measure::Pieces,
    v1::Measure::Bolts,
];

fn head(by: v1::Measure, units: Units) -> String {
    let (words, wire) = measure(by);
    match units.unit(wire) {
        "" => capital(words),
        unit => format!("{}, {unit}", capital(words)),
    }
}

impl Open {
    fn new((place, quantity): (usize, &v1::OpenQuantity)) -> Self {
        let labels: Vec<&str> = quantity.options.iter().map(|o| o.label.as_str()).collect();
        Self { letter: letter(place), name: quantity.name.clone(), options: labels.join(" | ") }
    }
}

/// The chosen options, each with the letter of its quantity.
fn options(choice: &[u32], quantities: &[v1::OpenQuantity]) -> Vec<[String; 2]> {
    let told = choice.iter().zip(quantities).enumerate().map(|(place, (option, quantity))| {
        let option = usize::try_from(*option).ok().and_then(|at| quantity.options.get(at));
        let label = option.map_or_else(String::new, |option| option.label.clone());
        [letter(place).to_string(), label]
    });
    told.collect()
}

impl Design {
    fn new(
        number: usize,
        design: &v1::SizedDesign,
        quantities: &[v1::OpenQuantity],
        units: Units,
    ) -> Self {
        let exceeds = design.utilisation > 1.0;
        let (state, word) = match (exceeds, design.open) {
            (true, _) => (State::Exceeds, "exceeds"),
            (false, true) => (State::NotChecked, "as far as checked"),
            (false, false) => (State::Holds, "holds"),
        };
        let drawn = if exceeds { State::Exceeds } else { State::Holds };
        Self {
            number,
            figures: FIGURES
                .iter()
                .map(|by| {
                    let text = value(design, *by, units);
                    // The unit stands on top of the column.
                    text.split(' ').next().unwrap_or_default().to_owned()
                })
                .collect(),
            used: numbers::utilisation(design.utilisation, exceeds),
            strip: strip(STRIP, Some(design.utilisation), drawn),
            mark: badge(state),
            state: word,
            options: options(&design.choice, quantities),
        }
    }
}

impl Confirmed {
    fn new(one: &v1::ConfirmedDesign, quantities: &[v1::OpenQuantity]) -> Self {
        let chosen: Vec<String> =
            options(&one.choice, quantities).iter().map(|[l, o]| format!("{l} {o}")).collect();
        let used = numbers::utilisation(one.utilisation, one.utilisation > 1.0);
        Self {
            options: chosen.join(" · "),
            sentence: one.sentence.clone(),
            governing: format!("highest use {used}: {}", one.governing),
            reasons: one.provisional_reasons.clone(),
        }
    }
}

fn decided(designs: u64, tally: v1::SizeTally) -> Vec<[String; 2]> {
    let v1::SizeTally { cut, known, run, not_buildable, holding, open } = tally;
    let line = |what: &str, count: u64| [what.to_owned(), count.to_string()];
    vec![
        line("combinations", designs),
        line("cut off by a row that exceeds, whatever it does not depend on", cut),
        line("put together from rows that were known", known),
        line("run row by row", run),
        line("not buildable as described", not_buildable),
        line("of all: hold", holding),
        line("of all: hold as far as they could be checked", open),
    ]
}

fn better(request: &v1::SizeProjectRequest, sizing: &v1::Sizing, units: Units) -> String {
    let (Some(better), Some(best)) = (&sizing.better, sizing.found.first()) else {
        return String::new();
    };
    let first = request.by().next().unwrap_or(v1::Measure::Mass);
    let v1::SizeTally { cut, known, run, not_buildable, holding: _, open: _ } = *better;
    let all = cut + known + run + not_buildable;
    let (words, of) = (capital(measure(first).0), value(best, first, units));
    if all == 0 {
        return format!("{words} {of}: no combination has less.");
    }
    format!(
        "{words} {of}: {all} combinations have less, and none of them holds; {cut} were cut off by a \
         row, {run} run row by row, {not_buildable} are not buildable."
    )
}

fn name(row: Option<&v1::DesignRow>) -> String {
    row.map_or_else(String::new, |row| {
        format!("{} {}: {}", row.mount_id, row.component, row.what).trim().to_owned()
    })
}

fn bound(bound: &v1::SizeBound) -> [String; 5] {
    let rests: Vec<String> = bound
        .quantities
        .iter()
        .map(|place| letter(usize::try_from(*place).unwrap_or(0)).to_string())
        .collect();
    [
        name(bound.row.as_ref()),
        rests.join(" "),
        format!("{} of {}", bound.filled, bound.cells),
        numbers::utilisation(bound.least_utilisation, bound.least_utilisation > 1.0),
        bound.cut.to_string(),
    ]
}
