//! Values of a file to values of the contract.

use fishplate_proto::describe::{self, Field, FieldKind};
use fishplate_quantity::written::{self, Quantity, Written};
use fishplate_quantity::{
    Acceleration, Angle, Area, Bimoment, Distance, Force, Length, LineForce, Mass, Moment,
    SecondMoment, SectionModulus, Stress, Warping,
};
use serde_json::{Map, Value, json};

use super::kind::key;
use crate::project::document::{Entry, Section, tidy};

/// A unit of the wire.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Unit {
    /// What the name of a field in it ends in.
    pub(crate) ending: &'static str,
    /// How it is written.
    pub(crate) units: fn() -> String,
    read: fn(&Entry<'_>) -> Option<f64>,
}

macro_rules! units {
    ($($ending:literal: $quantity:ident / $size:expr;)+) => {
        // Longer endings stand before those they end in.
        const UNITS: &[Unit] = &[$(Unit {
            ending: $ending,
            units: units_of::<$quantity>,
            read: |entry| exact(entry, entry.written::<$quantity>()?.map(|q| q.si() / $size)),
        },)+];
    };
}

// Sizes of the units in SI.
units! {
    "_n_per_mm": LineForce / 1e3;
    "_m_per_s2": Acceleration / 1.0;
    "_nmm2": Bimoment / 1e-6;
    "_nmm": Moment / 1e-3;
    "_mm": Length / 1e-3;
    "_mm2": Area / 1e-6;
    "_mm3": SectionModulus / 1e-9;
    "_mm4": SecondMoment / 1e-12;
    "_mm6": Warping / 1e-18;
    "_mpa": Stress / 1e6;
    "_n": Force / 1.0;
    "_deg": Angle / (std::f64::consts::PI / 180.0);
    "_km": Distance / 1e3;
    "_kg": Mass / 1.0;
}

const PURE: Unit = Unit { ending: "", units: || "a plain number".to_owned(), read: ratio };

/// The unit that the name of a field ends in.
pub(crate) fn unit(field: &str) -> Unit {
    UNITS.iter().find(|unit| field.ends_with(unit.ending)).copied().unwrap_or(PURE)
}

fn units_of<Q: Quantity>() -> String {
    Q::UNITS.iter().map(|(name, _)| *name).collect::<Vec<_>>().join(", ")
}

/// A pure number.
pub(super) fn ratio(entry: &Entry<'_>) -> Option<f64> {
    let number = entry.number()?;
    if number.guessed || number.low.is_some() {
        return inexact(entry);
    }
    Some(number.value)
}

fn exact(entry: &Entry<'_>, written: Written<f64>) -> Option<f64> {
    if written.guessed || written.spread.is_some() {
        return inexact(entry);
    }
    Some(tidy(written.value))
}

fn inexact(entry: &Entry<'_>) -> Option<f64> {
    entry.fault(
        format!("`{}` is a guess or has a spread", entry.key),
        "a part on its own takes one number; try both ends one after the other",
    );
    None
}

/// The message that `section` describes; keys that it does not have are left to the caller.
fn message(section: &Section<'_>, name: &str) -> Value {
    let mut out = Map::new();
    let fields = describe::message(name).map(|message| message.fields).unwrap_or_default();
    for field in &fields {
        let found = section.get(&key(field), &field.name);
        if let Some(value) = found.and_then(|entry| value(&entry, field)) {
            out.insert(field.name.clone(), value);
        }
    }
    Value::Object(out)
}

/// The value of a field as JSON of the contract; where it cannot be used, it leaves a fault.
pub(super) fn value(entry: &Entry<'_>, field: &Field) -> Option<Value> {
    if field.list {
        let entries = entry.list();
        return Some(entries.iter().filter_map(|entry| one(entry, field)).collect());
    }
    one(entry, field)
}

fn one(entry: &Entry<'_>, field: &Field) -> Option<Value> {
    match &field.kind {
        FieldKind::Number => (unit(&field.name).read)(entry).map(|number| json!(number)),
        FieldKind::Whole => whole(entry),
        FieldKind::Text => entry.text().map(|text| json!(text)),
        FieldKind::YesNo => entry.yes().map(|yes| json!(yes)),
        FieldKind::Word(words) => {
            let known: Vec<(&str, &str)> =
                words.iter().map(|word| (word.word.as_str(), word.name.as_str())).collect();
            entry.choice(&known).map(|name| json!(name))
        }
        FieldKind::Message(name) => match name.as_str() {
            "SteelName" if entry.is_text() => steel(entry),
            "SectionName" if entry.is_text() => entry.text().map(|name| json!({ "name": name })),
            "SectionName" => Some(json!({ "shape": table(entry, "SectionShape")? })),
            name => table(entry, name),
        },
    }
}

fn table(entry: &Entry<'_>, name: &str) -> Option<Value> {
    let section = entry.section(format!("`{}`", entry.key))?;
    let value = message(&section, name);
    section.finish();
    Some(value)
}

fn whole(entry: &Entry<'_>) -> Option<Value> {
    let number = ratio(entry)?;
    if number.fract().abs() > 0.0 || number.abs() > 1e9 {
        entry.fault(format!("`{}` is no whole number", entry.key), "");
        return None;
    }
    // Checked just above to be whole and small.
    #[allow(clippy::cast_possible_truncation)]
    let whole = number as i64;
    Some(json!(whole))
}

/// `"S235"`, or `"S235 5 mm"` with the thickness by which its strengths are listed. A comma may stand
/// between the two: `"HSLA 50, 1 1/4 in"`.
fn steel(entry: &Entry<'_>) -> Option<Value> {
    let text = entry.text()?.trim();
    let length = |text: &str| written::parse::<Length>(text).ok();
    let found = match text.rsplit_once(',') {
        Some((name, rest)) => {
            let thickness =
                entry.take(rest, written::parse::<Length>(rest).map_err(|e| e.to_string()))?;
            Some((name, thickness))
        }
        // The name may end in a number too: the shortest length at the end is the thickness.
        None => {
            text.rmatch_indices(' ').find_map(|(at, _)| Some((&text[..at], length(&text[at..])?)))
        }
    };
    let Some((name, thickness)) = found else { return Some(json!({ "name": text })) };
    let thickness = exact(entry, thickness.map(|length| length.as_mm()))?;
    Some(json!({ "name": name.trim_end(), "thickness_mm": thickness }))
}
