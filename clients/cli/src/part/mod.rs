//! A file of single parts to requests: bolts, welds, members and plates to be checked on their own.
//!
//! What a part has is read from the contract, so there is no code for any one of them: a key is the
//! name of a field without its unit, and the unit is written with the number.

mod kind;
mod value;

use fishplate_proto::describe::FieldKind;
use serde_json::{Map, Value, json};
use toml::de::{DeTable, DeValue};

use crate::project::document::{Context, Entry, Section};
use crate::project::spelling::nearest;
use crate::project::{Fault, Places, grammar_fault};

pub(crate) use kind::{Key, Kind, kinds, unit_of};
use value::value;

/// A part to check.
#[derive(Debug)]
pub(crate) struct Part {
    /// What it is.
    pub(crate) kind: Kind,
    /// As the file calls it: `[bolt.front]`.
    pub(crate) label: String,
    /// The request as JSON.
    pub(crate) body: Value,
    /// Where its fields are written.
    pub(crate) places: Places,
}

/// Reads a file of parts; `pack` goes before the rules of the file.
pub(crate) fn read(text: &str, pack: Option<&str>) -> Result<Vec<Part>, Vec<Fault>> {
    let (document, grammar) = DeTable::parse_recoverable(text);
    if !grammar.is_empty() {
        return Err(grammar.iter().map(grammar_fault).collect());
    }
    let root = document.get_ref();
    let kinds = kinds();
    let mut faults = unknown(root, &kinds);
    let mut parts = Vec::new();
    for (kind, label, span, table) in found(root, &kinds, &mut faults) {
        // Each part has places of its own: requests of one kind share their paths.
        let context = Context::default();
        let rules = match pack {
            Some(pack) => json!({ "pack": pack }),
            None => rules(&context, root),
        };
        context.place("named", &span);
        let section = Section::new(&context, label.clone(), kind.name.clone(), span, table);
        let mut own = Map::new();
        let mut named = Map::new();
        for key in &kind.keys {
            let path = if key.named { "named" } else { kind.name.as_str() };
            let path = format!("{path}.{}", key.field.name);
            let Some(entry) = section.get_at(&key.name, path) else { continue };
            let Some(found) = value(&entry, &key.field) else { continue };
            let into = if key.named { &mut named } else { &mut own };
            into.insert(key.field.name.clone(), found);
        }
        section.finish_with(&format!(
            "`fishplate check-part --describe {}` tells what it takes",
            kind.name
        ));
        let mut body = Map::new();
        body.insert("rules".to_owned(), rules);
        body.insert("named".to_owned(), Value::Object(named));
        body.insert(kind.name.clone(), Value::Object(own));
        let (more, places) = context.finish();
        // Every part reads the rules; their faults are told once.
        faults.extend(more.into_iter().filter(|fault| !faults.contains(fault)).collect::<Vec<_>>());
        parts.push(Part { kind: kind.clone(), label, body: Value::Object(body), places });
    }
    if parts.is_empty() && faults.is_empty() {
        faults.push(Fault {
            span: None,
            what: "the file has no part".to_owned(),
            advice: "start one with [bolt], [weld] or what `fishplate check-part --list` names"
                .to_owned(),
        });
    }
    faults.sort_by_key(|fault| fault.span.as_ref().map_or(usize::MAX, |span| span.start));
    if faults.is_empty() { Ok(parts) } else { Err(faults) }
}

type Found<'d, 'k> = (&'k Kind, String, std::ops::Range<usize>, &'d DeTable<'d>);

/// The parts of the file, in its order.
fn found<'d, 'k>(
    root: &'d DeTable<'d>,
    kinds: &'k [Kind],
    faults: &mut Vec<Fault>,
) -> Vec<Found<'d, 'k>> {
    let mut parts: Vec<Found<'d, 'k>> = Vec::new();
    for (key, value) in root.iter() {
        let name: &str = key.get_ref();
        let Some(kind) = kinds.iter().find(|kind| kind.name == name) else { continue };
        match value.get_ref() {
            DeValue::Table(table) if is_names(kind, table) => {
                for (key, value) in table.iter() {
                    if let DeValue::Table(table) = value.get_ref() {
                        let label = format!("[{name}.{}]", key.get_ref());
                        parts.push((kind, label, value.span(), table));
                    }
                }
            }
            DeValue::Table(table) => {
                parts.push((kind, format!("[{name}]"), value.span(), table));
            }
            DeValue::Array(entries) => {
                for (place, entry) in entries.iter().enumerate() {
                    match entry.get_ref() {
                        DeValue::Table(table) => {
                            let label = format!("[[{name}]] {}", place + 1);
                            parts.push((kind, label, entry.span(), table));
                        }
                        _ => faults.push(not_a_section(name, entry.span())),
                    }
                }
            }
            _ => faults.push(not_a_section(name, value.span())),
        }
    }
    parts.sort_by_key(|(_, _, span, _)| span.start);
    parts
}

/// Whether a section holds parts by name rather than the keys of one.
fn is_names(kind: &Kind, table: &DeTable<'_>) -> bool {
    !table.is_empty()
        && table.iter().all(|(key, value)| {
            let name: &str = key.get_ref();
            let takes_a_table =
                |key: &Key| key.name == name && matches!(key.field.kind, FieldKind::Message(_));
            let taken = kind.keys.iter().any(takes_a_table);
            matches!(value.get_ref(), DeValue::Table(_)) && !taken
        })
}

fn not_a_section(name: &str, span: std::ops::Range<usize>) -> Fault {
    Fault {
        span: Some(span),
        what: format!("`{name}` is not written as a section"),
        advice: format!("start it with [{name}], or with [{name}.front] for one of several"),
    }
}

/// What stands at the top of the file and is no part.
fn unknown(root: &DeTable<'_>, kinds: &[Kind]) -> Vec<Fault> {
    let names = || kinds.iter().map(|kind| kind.name.as_str()).chain(["rules"]);
    let mut faults = Vec::new();
    for (key, value) in root.iter() {
        let name: &str = key.get_ref();
        if names().any(|known| known == name) {
            continue;
        }
        let near = match nearest(name, names()) {
            Some(near) => format!("did you mean `{near}`? "),
            None => String::new(),
        };
        let span = match value.get_ref() {
            DeValue::Table(_) | DeValue::Array(_) => value.span(),
            _ => key.span(),
        };
        faults.push(Fault {
            span: Some(span),
            what: format!("there is no part `{name}`"),
            advice: format!("{near}`fishplate check-part --list` names them all"),
        });
    }
    faults
}

/// `rules = "EN 1993"`, or a section with the choices that the standard offers.
fn rules<'d>(context: &'d Context, root: &'d DeTable<'d>) -> Value {
    let Some(value) = root.get("rules") else { return json!({}) };
    context.place("rules", &value.span());
    match value.get_ref() {
        DeValue::String(pack) => json!({ "pack": pack }),
        DeValue::Table(table) => {
            let path = "rules".to_owned();
            let section = Section::new(context, "[rules]".to_owned(), path, value.span(), table);
            let mut out = Map::new();
            for field in ["pack", "edition", "format", "national", "strengths"] {
                if let Some(text) =
                    section.get(field, field).and_then(|entry| entry.text().map(str::to_owned))
                {
                    out.insert(field.to_owned(), json!(text));
                }
            }
            if let Some(own) = section.get("factors", "factors") {
                out.insert("factors".to_owned(), factors(&own));
            }
            section.finish();
            Value::Object(out)
        }
        _ => {
            context.fault(
                Some(value.span()),
                "`rules` is neither text nor a section",
                "write rules = \"EN 1993\"",
            );
            json!({})
        }
    }
}

/// `factors = { gamma_m2 = "1.25" }`.
fn factors(own: &Entry<'_>) -> Value {
    let Some(section) = own.section("[rules.factors]".to_owned()) else { return json!([]) };
    let mut symbols: Vec<(String, usize)> =
        section.entries().map(|(key, _)| (key.get_ref().to_string(), key.span().start)).collect();
    symbols.sort_by_key(|(_, start)| *start);
    let mut list = Vec::new();
    for (symbol, _) in symbols {
        let path = format!("rules.factors[{}]", list.len());
        let value = section.get_at(&symbol, path).and_then(|entry| value::ratio(&entry));
        list.push(json!({ "symbol": symbol, "value": value.unwrap_or_default() }));
    }
    Value::Array(list)
}

#[cfg(test)]
mod tests;
