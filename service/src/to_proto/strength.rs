//! Answers about parts that are checked on their own.

use fishplate_proto::v1;
use fishplate_strength::clause::{Checked, Kind, NotChecked};
use fishplate_strength::part::PartRow;
use fishplate_strength::section::SectionProperties;

use super::check::{derivation, source};
use super::rules::rules;
use super::section::by_shape;
use crate::from_proto::named::Section;
use crate::from_proto::strength::Asked;
use crate::units::{MM, MM2, MM3};

/// What the answer about a part alone says nothing about.
const ALONE: &str = "one part alone: whether the forces on it are the right ones, and the parts and \
                     joints around it, are not looked at";

/// A part as checked.
pub(crate) fn part(asked: Asked) -> v1::PartAnswer {
    let Asked { part, pack, factors, rows } = asked;
    let (silent, rows): (Vec<_>, Vec<_>) = rows.into_iter().partition(PartRow::silent);
    let rows: Vec<_> = rows.into_iter().map(row).collect();
    let bears = |row: &&v1::PartRow| row.kind() != v1::CheckKind::Detailing;
    let state = match worst(rows.iter().filter(bears)) {
        v1::State::Unspecified => v1::State::NotChecked,
        state => state,
    };
    let detailing = worst(rows.iter().filter(|row| !bears(row)));
    let mut cautions = fishplate_mounts::cautions();
    cautions.extend([ALONE.to_owned(), pack.scope.to_owned()]);
    if !rows.iter().any(|row| bears(&row)) {
        cautions.push(format!("{} has no rule of strength about this part", pack.id));
    }
    v1::PartAnswer {
        part: part.name.to_owned(),
        what: paragraphs(part.what),
        rules: Some(rules(pack, &factors, "request")),
        state: state.into(),
        detailing: detailing.into(),
        governing_row: governing(&rows),
        rows,
        silent: silent.into_iter().map(silent_clause).collect(),
        cautions,
    }
}

/// Text with each paragraph on one line.
fn paragraphs(text: &str) -> String {
    let joined = text.trim().split("\n\n").map(|paragraph| {
        let words: Vec<_> = paragraph.split_whitespace().collect();
        words.join(" ")
    });
    joined.collect::<Vec<_>>().join("\n\n")
}

/// The worst state: a number beyond the limit, else anything that passes nothing.
fn worst<'r>(rows: impl Iterator<Item = &'r v1::PartRow> + Clone) -> v1::State {
    if rows.clone().any(|row| row.state() == v1::State::Exceeds) {
        return v1::State::Exceeds;
    }
    let passes =
        |row: &v1::PartRow| row.state() == v1::State::Holds && row.outside_scope.is_empty();
    match rows.clone().next() {
        None => v1::State::Unspecified,
        Some(_) if rows.clone().all(passes) => v1::State::Holds,
        Some(_) => v1::State::NotChecked,
    }
}

/// The place of the highest utilisation of strength and serviceability.
fn governing(rows: &[v1::PartRow]) -> Option<i32> {
    let numbers = rows
        .iter()
        .enumerate()
        .filter(|(_, row)| row.kind() != v1::CheckKind::Detailing)
        .filter_map(|(place, row)| Some((place, row.utilisation?)));
    let (place, _) = numbers.reduce(|a, b| if b.1 > a.1 { b } else { a })?;
    i32::try_from(place).ok()
}

fn row(row: PartRow) -> v1::PartRow {
    let PartRow { list, reference, title, short, kind, outcome, outside_scope, trace } = row;
    let above = match kind {
        Kind::Strength | Kind::Serviceability => v1::State::Exceeds,
        Kind::Detailing => v1::State::RuleNotMet,
    };
    let kind = match kind {
        Kind::Strength => v1::CheckKind::Strength,
        Kind::Serviceability => v1::CheckKind::Serviceability,
        Kind::Detailing => v1::CheckKind::Detailing,
    };
    let told = v1::PartRow {
        list: list.to_owned(),
        clause: source(reference),
        what: title.to_owned(),
        short_what: short.to_owned(),
        kind: kind.into(),
        outside_scope: outside_scope.unwrap_or_default(),
        derivation: derivation(&trace, "request"),
        notes: trace.notes().to_vec(),
        ..v1::PartRow::default()
    };
    match outcome {
        Ok(Checked { demand, resistance, dimension, utilisation }) => {
            let state = if utilisation.exceeds() { above } else { v1::State::Holds };
            v1::PartRow {
                state: state.into(),
                utilisation: Some(utilisation.value()),
                demand: dimension.printed(demand),
                resistance: dimension.printed(resistance),
                unit: dimension.unit().to_owned(),
                ..told
            }
        }
        Err(why) => v1::PartRow {
            state: v1::State::NotChecked.into(),
            not_checked_reason: why.to_string(),
            ..told
        },
    }
}

fn silent_clause(row: PartRow) -> v1::SilentClause {
    let reason = match row.outcome {
        Err(NotChecked::DoesNotApply { reason }) => reason,
        Err(why) => why.to_string(),
        Ok(_) => String::new(),
    };
    v1::SilentClause { clause: source(row.reference), what: row.title.to_owned(), reason }
}

/// The properties of a section.
pub(crate) fn section(section: &Section) -> v1::SectionPropertiesResponse {
    let Section { shape, name, source } = section;
    let properties = shape.properties();
    let (along_y, along_z) = shape.plastic_shear_areas();
    let SectionProperties { w_el_max, w_el_min, radius_y, radius_z, radius_min, .. } = &properties;
    v1::SectionPropertiesResponse {
        properties: Some(by_shape(name, shape, &properties, &properties.torsion)),
        plastic_shear_area_y_mm2: along_y / MM2,
        plastic_shear_area_z_mm2: along_z / MM2,
        w_el_max_mm3: w_el_max / MM3,
        w_el_min_mm3: w_el_min / MM3,
        radius_y_mm: radius_y / MM,
        radius_z_mm: radius_z / MM,
        radius_min_mm: radius_min / MM,
        source: source.clone(),
        cautions: vec![
            "gross properties: holes and local buckling belong to the checks".to_owned(),
            "warping is neglected in solid and round sections, its constant stands as 0".to_owned(),
        ],
    }
}
