//! What a comparison says in sentences, for page and terminal.

use fishplate_proto::v1;
use fishplate_proto::v1::Measure;

use crate::units::Units;

/// Rows that exceed which are told of a design; the rest is counted.
pub const LIMITS: usize = 6;

/// The letter that stands for a design: A, B, ...
#[must_use]
pub fn letter(place: usize) -> String {
    let letters = ["A", "B", "C", "D", "E", "F", "G", "H"];
    letters.get(place).map_or_else(|| (place + 1).to_string(), |l| (*l).to_owned())
}

/// A length of weld or cut, without its unit.
#[must_use]
pub fn length(mm: f64, units: Units) -> String {
    match units {
        Units::Si => format!("{mm:.0}"),
        Units::Us => format!("{:.1}", units.value(mm, "mm")),
    }
}

/// A mass, without its unit.
#[must_use]
pub fn mass(kg: f64, units: Units) -> String {
    format!("{:.2}", units.value(kg, "kg"))
}

/// A volume of weld metal, without its unit.
#[must_use]
pub fn metal(mm3: f64, units: Units) -> String {
    match units {
        Units::Si => format!("{:.1}", mm3 / 1e3),
        Units::Us => format!("{:.2}", units.value(mm3, "mm³")),
    }
}

/// The unit that volumes of weld metal are printed in.
#[must_use]
pub fn metal_unit(units: Units) -> &'static str {
    match units {
        Units::Si => "cm³",
        Units::Us => "in³",
    }
}

/// A weld of a bill in a column: its length, or how many plugs; nothing where there is none.
#[must_use]
pub fn weld(weld: &v1::ComparedWeld, units: Units) -> Option<String> {
    let line = weld.line.as_ref()?;
    Some(match line.plug_count {
        0 => length(line.weld_length_mm, units),
        1 => "1 plug".to_owned(),
        plugs => format!("{plugs} plugs"),
    })
}

/// What a column is headed with, and the cell of a design; nothing where a design has no such number.
pub type Figure = (String, fn(&v1::ComparedDesign, Units) -> Option<String>);

/// What every design takes to make and how far it is used, line by line.
#[must_use]
pub fn figures(comparison: &v1::Comparison, units: Units) -> Vec<Figure> {
    let any_life = comparison.designs.iter().any(|design| design.shortest_life_km.is_some());
    let unit = |unit: &str| units.unit(unit).to_owned();
    let mut list: Vec<Figure> = vec![
        ("checks that exceed".to_owned(), |d, _| Some(count(d, v1::State::Exceeds).to_string())),
        ("detailing rules not met".to_owned(), |d, _| {
            Some(count(d, v1::State::RuleNotMet).to_string())
        }),
        ("points that are open".to_owned(), |d, _| {
            Some(d.answer.as_ref()?.provisional_reasons.len().to_string())
        }),
        (format!("weld, {}", unit("mm")), |d, u| Some(length(d.bill.as_ref()?.weld_length_mm, u))),
        (format!("weld metal, {}", metal_unit(units)), |d, u| {
            Some(metal(d.bill.as_ref()?.weld_volume_mm3, u))
        }),
        (format!("steel, {}", unit("kg")), |d, u| Some(mass(d.bill.as_ref()?.part_mass_kg, u))),
        (format!("cuts, {}", unit("mm")), |d, u| Some(length(d.bill.as_ref()?.cut_length_mm, u))),
        ("pieces of steel".to_owned(), |d, _| Some(d.bill.as_ref()?.piece_count.to_string())),
        ("bolts".to_owned(), |d, _| Some(d.bill.as_ref()?.bolt_count.to_string())),
    ];
    if any_life {
        list.push((format!("shortest life, {}", unit("km")), |d, u| {
            Some(format!("{:.0}", u.value(d.shortest_life_km?, "km")))
        }));
        list.push(("where".to_owned(), |d, _| Some(d.shortest_life_row_id.clone())));
    }
    if comparison.measure() == Measure::Cost {
        list.push(("cost".to_owned(), |d, _| Some(format!("{:.2}", d.measure))));
    }
    list
}

/// How many rows of a design are in a state.
fn count(design: &v1::ComparedDesign, state: v1::State) -> usize {
    let rows = design.answer.iter().flat_map(|answer| &answer.rows);
    rows.filter(|row| row.state() == state).count()
}

/// What a single step does about a limit, in words; empty where nothing was tried.
#[must_use]
pub fn best_step(way: &v1::WayAhead, limit: &v1::ExceededLimit) -> String {
    match (&limit.best_step, limit.best_utilisation) {
        (Some(step), Some(then)) => {
            format!("{then:.2} with {}: {} in place of {}", step.what, step.to, step.from)
        }
        _ if way.tried && limit.hand_utilisation.is_none() => {
            "only plates judge it; no step was weighed".to_owned()
        }
        _ if way.tried => "no single step moves it".to_owned(),
        _ => String::new(),
    }
}

/// What was tried to bring a design to the front, and what came of it, in sentences.
#[must_use]
pub fn what_helps(
    comparison: &v1::Comparison,
    design: &v1::ComparedDesign,
    units: Units,
) -> Vec<String> {
    let Some(way) = &design.way else { return Vec::new() };
    if way.limits.is_empty() {
        return vec![behind(comparison, design, units)];
    }
    if !way.tried {
        return vec![
            "By hand statics nothing exceeds. What only plates find has to be mended by hand."
                .to_owned(),
        ];
    }
    let singles = format!("{} single steps", way.singles_tried);
    let tried = match way.pairs_tried {
        0 => singles,
        pairs => format!("{singles} and {pairs} pairs of steps"),
    };
    let mut list = Vec::new();
    if way.found.is_empty() {
        list.push(format!(
            "None of {tried} makes it hold. Tried were sheet up to three gauges thicker, legs up to \
             3 mm larger, bolts up to three sizes larger, class 10.9, faces bare instead of painted."
        ));
        if let Some(nearest) = &way.nearest {
            list.push(format!("Nearest, by hand statics, comes {}.", outcome(nearest, units)));
        }
        return list;
    }
    list.push(format!("Of {tried} these are the smallest that make it hold, by hand statics:"));
    for found in &way.found {
        let ahead = if found.ahead { "; with less than the first" } else { "" };
        list.push(format!("{}{ahead}.", outcome(found, units)));
    }
    list
}

/// By how much a design comes behind that holds as well as the first.
fn behind(comparison: &v1::Comparison, design: &v1::ComparedDesign, units: Units) -> String {
    let first = comparison.ranking.first().and_then(|at| usize::try_from(*at).ok());
    let best = first.and_then(|at| comparison.designs.get(at));
    let more = best.map_or(0.0, |best| design.measure - best.measure);
    let verdict = |d: &v1::ComparedDesign| d.answer.as_ref().map(v1::CheckProjectResponse::verdict);
    if best.is_some_and(|best| verdict(best) != verdict(design)) {
        return "Nothing exceeds. It comes behind by the points that are open.".to_owned();
    }
    if more <= 0.0 {
        return "Nothing exceeds. It comes level with the first.".to_owned();
    }
    let how_much = match comparison.measure() {
        Measure::Unspecified | Measure::WeldLength => {
            format!("{} {} of weld", length(more, units), units.unit("mm"))
        }
        Measure::WeldVolume => {
            format!("{} {} of weld metal", metal(more, units), metal_unit(units))
        }
        Measure::Mass => format!("{} {} of steel", mass(more, units), units.unit("kg")),
        Measure::Cut => format!("{} {} of cuts", length(more, units), units.unit("mm")),
        Measure::Bolts => format!("{more:.0} bolts"),
        Measure::Pieces => format!("{more:.0} pieces of steel"),
        Measure::Utilisation => format!("{more:.2} of the limit"),
        Measure::Cost => format!("a cost of {more:.2}"),
    };
    format!("Nothing exceeds. To come first it would have to save {how_much}.")
}

/// Steps and what comes of them.
fn outcome(tried: &v1::TriedSteps, units: Units) -> String {
    let steps: Vec<String> =
        tried.steps.iter().map(|s| format!("{} from {} to {}", s.what, s.from, s.to)).collect();
    let worst = tried.worst.as_ref().map_or(String::new(), |worst| {
        format!("highest use {:.2} ({}), ", worst.utilisation, worst.row_id)
    });
    format!(
        "{}: {worst}{} {} of weld, {} {} of steel",
        steps.join(" and "),
        length(tried.weld_length_mm, units),
        units.unit("mm"),
        mass(tried.part_mass_kg, units),
        units.unit("kg")
    )
}
