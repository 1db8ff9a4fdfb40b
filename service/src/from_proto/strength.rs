//! `strength.proto`: parts that are checked on their own.
//!
//! The messages of `part_input.proto` follow from the inputs of the clauses, so they are read by
//! name: the fields of a part tell what to look for and in which unit it is.

use fishplate_proto::v1;
use fishplate_quantity::{Fault, Provenance};
use fishplate_strength::clause::Factors;
use fishplate_strength::clause::input::{Choice, ChoiceKind, Field, Given};
use fishplate_strength::packs::{PACKS, Pack, Rules};
use fishplate_strength::part::{self, PartKind, PartRow, with_names};
use prost::Message;
use prost_reflect::{DynamicMessage, ReflectMessage, Value};

use super::Reader;
use super::named::named;
use super::rules::rules;
use crate::door;
use crate::part_input::{enum_name, field_name, unit, value_name};
use crate::path::Path;

/// A part as asked of a pack.
#[derive(Debug)]
pub(crate) struct Asked {
    pub(crate) part: &'static PartKind,
    pub(crate) pack: &'static Pack,
    pub(crate) factors: Factors,
    pub(crate) rows: Vec<PartRow>,
}

/// Beyond these no part has a number in the units of the wire, and within them the products of
/// formulas stay finite: common practice, no source.
const SMALLEST: f64 = 1e-9;
/// See [`SMALLEST`].
const LARGEST: f64 = 1e15;

/// Reads `request`, the message `name` of the contract, and asks the clauses about its part.
pub(crate) fn part(reader: &mut Reader, name: &str, request: &impl Message) -> Option<Asked> {
    let mut all = DynamicMessage::new(door::descriptor(name));
    all.transcode_from(request).expect("the request is a message of its own descriptor");
    let given_rules = field::<v1::Rules>(&all, "rules");
    let given_names = field::<v1::Named>(&all, "named");
    let rules = settled(reader, given_rules.unwrap_or_default());
    let names = named(reader, given_names);
    let one_of = all.descriptor().oneofs().find(|one| one.name() == "part");
    let chosen = one_of.into_iter().flat_map(|one| one.fields().collect::<Vec<_>>());
    let parts: Vec<_> = chosen.collect();
    let Some(given) = parts.iter().find(|field| all.has_field(field)) else {
        let known: Vec<_> = parts.iter().map(prost_reflect::FieldDescriptor::name).collect();
        let allowed = format!("one of {}", known.join(", "));
        reader.refuse(&Path::ROOT.field("part"), "nothing", allowed, "");
        return None;
    };
    let part = part::find(given.name()).expect("the contract is written from the list of parts");
    let value = all.get_field(given);
    let message = value.as_message().expect("every part is a message");
    let mut wire = Wire { part: given.name(), message, faults: Vec::new() };
    let rules_hold = rules.is_some();
    // The part is read whatever the rules are, for its faults.
    let (pack, factors) = rules.or_else(|| {
        let pack = *PACKS.first()?;
        Some((pack, pack.factors(&Rules::RECOMMENDED).ok()?))
    })?;
    let (mut with_names, mut found) = with_names(part, &names, &factors, &mut wire);
    let rows = (part.check)(pack, &factors, &mut with_names).map_err(|faults| {
        // What a name does not give because it is not known is not missing as well.
        let known = found.is_empty();
        let told = faults.into_iter().filter(|fault| known || fault.given != "nothing");
        found.extend(told.map(|fault| on_the_wire(part, message, fault)));
    });
    let Wire { faults: mut beyond, .. } = wire;
    beyond.append(&mut found);
    let sound = rules_hold && beyond.is_empty();
    reader.add_deeper(beyond);
    let rows = rows.ok().filter(|_| sound)?;
    Some(Asked { part, pack, factors, rows })
}

/// The pack and its factors, settled.
fn settled(reader: &mut Reader, given: v1::Rules) -> Option<(&'static Pack, Factors)> {
    let path = Path::ROOT.field("rules");
    let symbols: Vec<String> = given.factors.iter().map(|own| own.symbol.clone()).collect();
    let (pack, rules) = rules(reader, &path, given)?;
    let faults = match pack.factors(&rules) {
        Ok(factors) => return Some((pack, factors)),
        Err(faults) => faults,
    };
    for fault in faults {
        let Fault { path: at, given, allowed, advice } = fault;
        let Some(symbol) = at.strip_prefix("factors.") else {
            reader.refuse(&path.field(&at), format!("`{given}`"), allowed, advice);
            continue;
        };
        let field = if given == symbol { "symbol" } else { "value" };
        for index in (0..symbols.len()).filter(|index| symbols[*index] == symbol) {
            let entry = path.place("factors", index);
            reader.refuse(&entry.field(field), &given, &allowed, &advice);
        }
    }
    None
}

/// A field of a request as its message, where it is given.
fn field<M: Message + Default>(all: &DynamicMessage, name: &str) -> Option<M> {
    let descriptor = all.descriptor().get_field_by_name(name)?;
    if !all.has_field(&descriptor) {
        return None;
    }
    let value = all.get_field(&descriptor);
    let message = value.as_message()?;
    Some(message.transcode_to().expect("the field has this type in the contract"))
}

/// A part of a request, as one that gives numbers.
struct Wire<'m> {
    part: &'m str,
    message: &'m DynamicMessage,
    faults: Vec<Fault>,
}

/// The number of a field in the unit of the wire, where it is given.
fn number(message: &DynamicMessage, field: &Field) -> Option<f64> {
    let descriptor = message.descriptor().get_field_by_name(&field_name(field))?;
    if !message.has_field(&descriptor) {
        return None;
    }
    message.get_field(&descriptor).as_f64()
}

impl Wire<'_> {
    /// The number in SI; beyond all bounds it leaves a fault.
    fn si(&mut self, path: &str, field: &Field, value: f64) -> f64 {
        let size = value.abs();
        // What is no number is told at the door; zero is a matter of the range of the field.
        let tiny = size > 0.0 && size < SMALLEST;
        if size.is_finite() && (tiny || size > LARGEST) {
            let allowed = format!("0, or a size from {SMALLEST:e} to {LARGEST:e}");
            let advice = "check the number and its unit";
            self.faults.push(Fault::new(path, value.to_string(), allowed, advice));
        }
        value * unit(field.dimension).size
    }
}

impl Given for Wire<'_> {
    fn number(&mut self, field: &Field) -> Option<(f64, Provenance)> {
        let value = number(self.message, field)?;
        let path = format!("{}.{}", self.part, field_name(field));
        let si = self.si(&path, field, value);
        Some((si, Provenance::Given(path)))
    }

    fn word(&mut self, symbol: &'static str) -> Option<String> {
        let field = self.message.descriptor().get_field_by_name(symbol)?;
        match &*self.message.get_field(&field) {
            Value::String(text) => (!text.is_empty()).then(|| text.clone()),
            Value::EnumNumber(number) => {
                let kind = field.kind();
                let known = kind.as_enum()?;
                let name = known.get_value(*number).filter(|_| *number != 0)?.name().to_owned();
                let lead = value_name(known.name(), "");
                Some(name.strip_prefix(&lead)?.to_lowercase().replace('_', "-"))
            }
            _ => None,
        }
    }

    fn records(&mut self, symbol: &'static str, columns: &[Field]) -> Vec<Vec<Option<f64>>> {
        let Some(field) = self.message.descriptor().get_field_by_name(symbol) else {
            return Vec::new();
        };
        let list = self.message.get_field(&field);
        let Some(entries) = list.as_list() else { return Vec::new() };
        let mut rows = Vec::with_capacity(entries.len());
        for (place, entry) in entries.iter().filter_map(Value::as_message).enumerate() {
            let read = |column: &Field| {
                let value = number(entry, column)?;
                let path = format!("{}.{symbol}[{place}].{}", self.part, field_name(column));
                Some(self.si(&path, column, value))
            };
            rows.push(columns.iter().map(read).collect());
        }
        rows
    }
}

/// A fault of the engine, which knows symbols, at its field.
fn on_the_wire(part: &PartKind, message: &DynamicMessage, fault: Fault) -> Fault {
    let Fault { path, given, allowed, advice } = fault;
    let choices = (part.choices)();
    if let Some(field) = part.fields.iter().find(|field| field.symbol == path) {
        let given = number(message, field)
            .map_or(given, |value| format!("{value} {}", unit(field.dimension).name));
        let path = format!("{}.{}", part.name, field_name(field));
        return Fault { path, given: given.trim_end().to_owned(), allowed, advice };
    }
    if let Some(choice) = choices.iter().find(|choice| choice.symbol == path) {
        let allowed = enum_name(choice).map_or(allowed, |name| door::choices(&name));
        let path = format!("{}.{path}", part.name);
        return Fault { path, given, allowed, advice: advice.trim().to_owned() };
    }
    let column = |choice: &Choice| {
        let ChoiceKind::Records { columns, .. } = &choice.kind else { return None };
        let (_, symbol) = path.strip_prefix(choice.symbol)?.split_once("].")?;
        columns.iter().find(|column| column.symbol == symbol)
    };
    let path = match choices.iter().find_map(column) {
        Some(field) => format!("{}.{path}{}", part.name, unit(field.dimension).ending),
        None => format!("{}.{path}", part.name),
    };
    Fault { path, given, allowed, advice }
}

/// Reads the section whose properties are asked for.
pub(crate) fn section(
    reader: &mut Reader,
    request: v1::SectionPropertiesRequest,
) -> Option<super::named::Section> {
    let v1::SectionPropertiesRequest { section } = request;
    let path = Path::ROOT.field("section");
    let given = reader.required(&path, section)?;
    super::named::found(reader, &path, given)
}
