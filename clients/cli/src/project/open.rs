//! Quantities that a file leaves open, and what the shop has.
//!
//! In place of a value may stand `{ any = ["U 4 mm S275", "U 5 mm S275"] }`, or a phrase with blanks,
//! `{ any = "U {sheet} S275" }`, whose words come from `[shop]` (`sheet = ["4 mm", "5 mm"]`), from a
//! list beside `any`, or from a range `{ from = "2 mm", to = "5 mm", step = "0.5 mm" }`, which may
//! also stand by itself. Keys that go together stand in `[open.NAME]`: `options = [{ "bolt.a.size" =
//! "M10 8.8", "bolt.a.hole" = "11 mm" }, ...]`.

use std::ops::Range;

use fishplate_proto::changes::between;
use fishplate_proto::v1;
use fishplate_quantity::Length;
use fishplate_quantity::written::parse;
use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

use super::document::{Fault, in_order, tidy};
use super::{Loaded, read_table};

/// What the shop has: lists of words by name.
const SHOP: &str = "shop";
/// Keys that go together.
const OPEN: &str = "open";
/// Options of one quantity, more are a slip.
const MOST: usize = 1000;

/// A file whose open quantities were read.
#[derive(Debug)]
pub(crate) struct Opened {
    /// The project with the first option everywhere.
    pub(crate) base: Loaded,
    /// What is open, in the order of the file.
    pub(crate) quantities: Vec<Quantity>,
}

/// An open quantity.
#[derive(Debug)]
pub(crate) struct Quantity {
    /// `part.front-bracket.folded`, or the name of a section `[open.NAME]`.
    pub(crate) name: String,
    /// What may be chosen.
    pub(crate) options: Vec<Choice>,
    /// Where the braces or the section stand.
    pub(crate) span: Range<usize>,
}

/// What may be chosen for a quantity.
#[derive(Debug)]
pub(crate) struct Choice {
    /// As it is told.
    pub(crate) label: String,
    /// What it changes of the base.
    pub(crate) changes: Vec<v1::FieldChange>,
    /// The keys it sets, each with its value as TOML.
    pub(crate) sets: Vec<(String, String)>,
}

impl Opened {
    /// As the wire has it.
    pub(crate) fn space(&self) -> v1::DesignSpace {
        let option = |choice: &Choice| v1::OpenOption {
            label: choice.label.clone(),
            changes: choice.changes.clone(),
        };
        let quantity = |open: &Quantity| v1::OpenQuantity {
            name: open.name.clone(),
            options: open.options.iter().map(option).collect(),
        };
        v1::DesignSpace {
            base: Some(self.base.project.clone()),
            quantities: self.quantities.iter().map(quantity).collect(),
        }
    }
}

/// An open quantity as the file has it: its options set keys.
struct Asked<'t> {
    name: String,
    span: Range<usize>,
    options: Vec<Vec<(Vec<String>, Spanned<DeValue<'t>>)>>,
}

/// Takes out what the shop has; tells of quantities that are left open.
pub(super) fn refuse_open(root: &mut DeTable<'_>, faults: &mut Vec<Fault>) {
    let mut found = Vec::new();
    let shop = take(root, SHOP);
    let open = take(root, OPEN);
    drop(shop);
    places(root, &mut Vec::new(), &mut found);
    let mut tell = |span: Range<usize>, name: &str, set: String| {
        faults.push(Fault {
            span: Some(span),
            what: format!("`{name}` is left open, where one design belongs"),
            advice: format!("find the options that hold by `fishplate size FILE`{set}"),
        });
    };
    for path in found {
        let name = path.join(".");
        let Some(value) = at(root, &path) else { continue };
        tell(value.span(), &name, format!(", or settle it: --set {name}=\"...\""));
    }
    let Some(open) = open else { return };
    let span = open.span();
    match open.into_inner() {
        DeValue::Table(sections) => {
            for (name, section) in sections {
                tell(section.span(), &format!("open.{}", name.get_ref()), String::new());
            }
        }
        _ => tell(span, OPEN, String::new()),
    }
}

/// Reads what all texts together say, with the quantities that they leave open.
pub(super) fn read_open(
    mut root: DeTable<'_>,
    mut faults: Vec<Fault>,
) -> Result<Opened, Vec<Fault>> {
    let shop = shop(&mut root, &mut faults);
    let mut asked = sections(&mut root, &mut faults);
    let mut found = Vec::new();
    places(&root, &mut Vec::new(), &mut found);
    for path in found {
        let Some(value) = at(&root, &path) else { continue };
        let span = value.span();
        let options = options(value, &shop, &mut faults);
        let options =
            options.into_iter().map(|option| vec![(path.clone(), option)]).collect::<Vec<_>>();
        asked.push(Asked { name: path.join("."), span, options });
    }
    asked.sort_by_key(|one| one.span.start);
    for one in &asked {
        if one.options.len() > MOST {
            faults.push(Fault {
                span: Some(one.span.clone()),
                what: format!("`{}` has {} options", one.name, one.options.len()),
                advice: format!("at most {MOST} belong to one quantity"),
            });
        }
        for (path, value) in one.options.iter().flatten() {
            if at(&root, &path[..path.len() - 1]).is_none() {
                faults.push(Fault {
                    span: Some(value.span()),
                    what: format!("there is no `{}`", path[..path.len() - 1].join(".")),
                    advice: "options set keys of things that the file has".to_owned(),
                });
            }
        }
    }
    if !faults.is_empty() {
        in_order(&mut faults);
        return Err(faults);
    }
    let mut base = root;
    for one in &asked {
        for (path, value) in one.options.first().into_iter().flatten() {
            put(&mut base, path, value.clone());
        }
    }
    let loaded = read_table(&base, Vec::new())?;
    let mut quantities = Vec::new();
    for one in asked {
        let mut options = Vec::new();
        for (place, option) in one.options.iter().enumerate() {
            let changes = if place == 0 {
                Vec::new()
            } else {
                let mut changed = base.clone();
                for (path, value) in option {
                    put(&mut changed, path, value.clone());
                }
                match read_table(&changed, Vec::new()) {
                    Ok(other) => {
                        between("Project", &loaded.project, &other.project).unwrap_or_default()
                    }
                    Err(more) => {
                        faults.extend(more);
                        continue;
                    }
                }
            };
            let sets = option
                .iter()
                .map(|(path, value)| (path.join("."), written(value.get_ref())))
                .collect();
            let words: Vec<String> =
                option.iter().map(|(_, value)| shown(value.get_ref())).collect();
            options.push(Choice { label: words.join(", "), changes, sets });
        }
        quantities.push(Quantity { name: one.name, options, span: one.span });
    }
    if quantities.is_empty() {
        faults.push(Fault {
            span: None,
            what: "the file leaves nothing open".to_owned(),
            advice: "open a value over what the shop has, for example:\n\
                     folded = { any = [\"U 4 mm S275\", \"U 5 mm S275\"] }"
                .to_owned(),
        });
    }
    if faults.is_empty() {
        return Ok(Opened { base: loaded, quantities });
    }
    in_order(&mut faults);
    Err(faults)
}

/// Removes a section.
fn take<'t>(root: &mut DeTable<'t>, name: &str) -> Option<Spanned<DeValue<'t>>> {
    root.remove(name)
}

/// The lists of the shop, each word with its place.
type Shop<'t> = Vec<(String, Vec<Spanned<DeValue<'t>>>)>;

fn shop<'t>(root: &mut DeTable<'t>, faults: &mut Vec<Fault>) -> Shop<'t> {
    let Some(section) = take(root, SHOP) else { return Vec::new() };
    let span = section.span();
    let DeValue::Table(lists) = section.into_inner() else {
        faults.push(Fault {
            span: Some(span),
            what: format!("`{SHOP}` is not written as a section"),
            advice: "write [shop] and below it: sheet = [\"3 mm\", \"4 mm\"]".to_owned(),
        });
        return Vec::new();
    };
    let read = |(name, value): (Spanned<DeString<'t>>, Spanned<DeValue<'t>>)| {
        (name.get_ref().to_string(), words(&value, faults))
    };
    lists.into_iter().map(read).collect()
}

/// The words of a list or a range.
fn words<'t>(value: &Spanned<DeValue<'t>>, faults: &mut Vec<Fault>) -> Vec<Spanned<DeValue<'t>>> {
    match value.get_ref() {
        DeValue::Array(items) => items.iter().cloned().collect(),
        DeValue::Table(table) if is_range(table) => range(value.span(), table, faults),
        _ => vec![value.clone()],
    }
}

/// The keys of `[open.NAME]` sections.
fn sections<'t>(root: &mut DeTable<'t>, faults: &mut Vec<Fault>) -> Vec<Asked<'t>> {
    let Some(section) = take(root, OPEN) else { return Vec::new() };
    let mut fault = |span: Range<usize>, what: String| {
        let advice = "write [open.NAME] and below it: options = \
                      [{ \"bolt.a.size\" = \"M10 8.8\", \"bolt.a.hole\" = \"11 mm\" }]";
        faults.push(Fault { span: Some(span), what, advice: advice.to_owned() });
    };
    let span = section.span();
    let DeValue::Table(named) = section.into_inner() else {
        fault(span, format!("`{OPEN}` is not written as a section"));
        return Vec::new();
    };
    let mut list = Vec::new();
    for (name, value) in named {
        let (span, name) = (value.span(), name.get_ref().to_string());
        let DeValue::Table(mut table) = value.into_inner() else {
            fault(span, format!("`{OPEN}.{name}` is not written as a section"));
            continue;
        };
        let options = table.remove("options").map(Spanned::into_inner);
        if let Some(key) = table.keys().next() {
            fault(key.span(), format!("[{OPEN}.{name}] has no `{}`", key.get_ref()));
        }
        let Some(DeValue::Array(items)) = options else {
            fault(span, format!("[{OPEN}.{name}] does not say `options` as a list"));
            continue;
        };
        let mut sets = Vec::new();
        for item in items {
            let item_span = item.span();
            match item.into_inner() {
                DeValue::Table(keys) if !keys.is_empty() => {
                    let mut option = Vec::new();
                    flat(keys, &mut Vec::new(), &mut option);
                    option.sort_by_key(|(_, value): &(Vec<String>, Spanned<DeValue<'_>>)| {
                        value.span().start
                    });
                    sets.push(option);
                }
                _ => fault(item_span, format!("an option of `{OPEN}.{name}` sets no keys")),
            }
        }
        if sets.is_empty() {
            fault(span.clone(), format!("[{OPEN}.{name}] has no options"));
        }
        list.push(Asked { name, span, options: sets });
    }
    list
}

/// The keys of an option: `"bolt.a.size" = ...` or `bolt.a.size = ...`.
fn flat<'t>(
    table: DeTable<'t>,
    path: &mut Vec<String>,
    option: &mut Vec<(Vec<String>, Spanned<DeValue<'t>>)>,
) {
    for (key, value) in table {
        let before = path.len();
        path.extend(key.get_ref().split('.').map(|part| part.trim().to_owned()));
        let span = value.span();
        match value.into_inner() {
            DeValue::Table(inner) if path.len() < 3 => flat(inner, path, option),
            plain => option.push((path.clone(), Spanned::new(span, plain))),
        }
        path.truncate(before);
    }
}

/// Paths of the values that are left open.
fn places(table: &DeTable<'_>, path: &mut Vec<String>, found: &mut Vec<Vec<String>>) {
    for (key, value) in table.iter() {
        let DeValue::Table(inner) = value.get_ref() else { continue };
        path.push(key.get_ref().to_string());
        if path.len() > 1 && (inner.contains_key("any") || is_range(inner)) {
            found.push(path.clone());
        } else {
            places(inner, path, found);
        }
        path.pop();
    }
}

fn is_range(table: &DeTable<'_>) -> bool {
    let keys = ["from", "to", "step"];
    table.len() == keys.len() && keys.iter().all(|key| table.contains_key(*key))
}

/// What stands at a path.
fn at<'a, 't>(root: &'a DeTable<'t>, path: &[String]) -> Option<&'a Spanned<DeValue<'t>>> {
    let (last, way) = path.split_last()?;
    let mut table = root;
    for key in way {
        let DeValue::Table(inner) = table.get(key.as_str())?.get_ref() else { return None };
        table = inner;
    }
    table.get(last.as_str())
}

/// Sets what stands at a path.
fn put<'t>(root: &mut DeTable<'t>, path: &[String], value: Spanned<DeValue<'t>>) {
    let Some((last, way)) = path.split_last() else { return };
    let mut table = root;
    for key in way {
        let Some(DeValue::Table(inner)) = table.get_mut(key.as_str()).map(Spanned::get_mut) else {
            return;
        };
        table = inner;
    }
    match table.get_mut(last.as_str()) {
        Some(there) => *there = value,
        None => {
            let key = Spanned::new(value.span(), DeString::Owned(last.clone()));
            table.insert(key, value);
        }
    }
}

/// What may stand in the place of an open value.
fn options<'t>(
    value: &Spanned<DeValue<'t>>,
    shop: &Shop<'t>,
    faults: &mut Vec<Fault>,
) -> Vec<Spanned<DeValue<'t>>> {
    let DeValue::Table(table) = value.get_ref() else { return Vec::new() };
    let Some(any) = table.get("any") else { return range(value.span(), table, faults) };
    // Lists beside `any` go before those of the shop.
    let own = table.iter().filter(|(key, _)| *key.get_ref() != "any");
    let mut lists: Shop<'t> =
        own.map(|(key, value)| (key.get_ref().to_string(), words(value, faults))).collect();
    lists.extend(shop.iter().cloned());
    let items: Vec<Spanned<DeValue<'t>>> = match any.get_ref() {
        DeValue::Array(items) => items.iter().cloned().collect(),
        _ => vec![any.clone()],
    };
    let mut all = Vec::new();
    for item in items {
        match item.get_ref() {
            DeValue::String(text) if text.contains('{') => {
                all.extend(filled(text, item.span(), &lists, faults));
            }
            _ => all.push(item),
        }
    }
    if all.is_empty() {
        faults.push(Fault {
            span: Some(value.span()),
            what: "nothing can be chosen here".to_owned(),
            advice: "write { any = [\"4 mm\", \"5 mm\"] }".to_owned(),
        });
    }
    all
}

/// A phrase with its blanks filled by every word of their lists.
fn filled<'t>(
    phrase: &str,
    span: Range<usize>,
    lists: &Shop<'t>,
    faults: &mut Vec<Fault>,
) -> Vec<Spanned<DeValue<'t>>> {
    let mut texts = vec![phrase.to_owned()];
    while let Some((name, blank)) = texts.first().and_then(|text| first_blank(text)) {
        let Some((_, words)) = lists.iter().find(|(known, _)| *known == name) else {
            let known: Vec<&str> = lists.iter().map(|(known, _)| known.as_str()).collect();
            let known = if known.is_empty() {
                String::new()
            } else {
                format!("; it has: {}", known.join(", "))
            };
            faults.push(Fault {
                span: Some(span),
                what: format!("`{{{name}}}` stands for no list"),
                advice: format!("add to [shop]: {name} = [\"3 mm\", \"4 mm\"]{known}"),
            });
            return Vec::new();
        };
        let words: Vec<String> = words.iter().map(|word| shown(word.get_ref())).collect();
        let fill = |text: &String| -> Vec<String> {
            words.iter().map(|word| text.replace(&blank, word)).collect()
        };
        texts = texts.iter().flat_map(fill).collect();
        if texts.len() > MOST {
            break;
        }
    }
    texts
        .into_iter()
        .map(|text| Spanned::new(span.clone(), DeValue::String(DeString::Owned(text))))
        .collect()
}

/// The first blank of a phrase: the name in it, and the whole of it.
fn first_blank(text: &str) -> Option<(String, String)> {
    let from = text.find('{')?;
    let to = text[from..].find('}')? + from;
    Some((text[from + 1..to].trim().to_owned(), text[from..=to].to_owned()))
}

/// The values of a range, both ends included.
fn range<'t>(
    span: Range<usize>,
    table: &DeTable<'t>,
    faults: &mut Vec<Fault>,
) -> Vec<Spanned<DeValue<'t>>> {
    let text = |key: &str| match table.get(key).map(Spanned::get_ref) {
        Some(DeValue::String(text)) => text.to_string(),
        _ => String::new(),
    };
    // An axis that leads the ends, `x 80 mm`, leads every value.
    let first = text("from");
    let lead =
        first.len() - first.trim_start_matches(|c: char| c.is_alphabetic() || c == ' ').len();
    let lead = &first[..lead];
    let read = |key: &str| {
        let text = text(key);
        let bare = text.strip_prefix(lead).unwrap_or(&text);
        parse::<Length>(bare).ok().map(|read| read.value.as_mm())
    };
    let mut fault = |what: &str| {
        faults.push(Fault {
            span: Some(span.clone()),
            what: what.to_owned(),
            advice: "write { from = \"2 mm\", to = \"5 mm\", step = \"0.5 mm\" }".to_owned(),
        });
        Vec::new()
    };
    let (Some(from), Some(to), Some(step)) = (read("from"), read("to"), read("step")) else {
        return fault("a range needs three lengths");
    };
    if step <= 0.0 || to < from {
        return fault("a range goes up, by a step above zero");
    }
    let count = ((to - from) / step + 1e-9).floor();
    if count >= MOST_STEPS {
        return fault("a range of that many steps is a slip");
    }
    let mut values = Vec::new();
    let mut step_number = 0.0;
    while step_number <= count {
        let value = tidy(from + step_number * step);
        let text = DeString::Owned(format!("{lead}{value} mm"));
        values.push(Spanned::new(span.clone(), DeValue::String(text)));
        step_number += 1.0;
    }
    values
}

/// Steps of a range, more are a slip.
const MOST_STEPS: f64 = 1000.0;

/// A value as it is told.
fn shown(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) => text.to_string(),
        DeValue::Array(items) => {
            items.iter().map(|item| shown(item.get_ref())).collect::<Vec<_>>().join("; ")
        }
        other => written(other),
    }
}

/// A value as TOML.
fn written(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) => toml::Value::String(text.to_string()).to_string(),
        DeValue::Integer(n) => n.to_string(),
        DeValue::Float(n) => n.to_string(),
        DeValue::Boolean(yes) => yes.to_string(),
        DeValue::Datetime(date) => date.to_string(),
        DeValue::Array(items) => {
            let items: Vec<String> = items.iter().map(|item| written(item.get_ref())).collect();
            format!("[{}]", items.join(", "))
        }
        DeValue::Table(table) => {
            let key = |key: &str| toml::Value::String(key.to_owned()).to_string();
            let keys: Vec<String> = table
                .iter()
                .map(|(name, value)| {
                    format!("{} = {}", key(name.get_ref()), written(value.get_ref()))
                })
                .collect();
            format!("{{ {} }}", keys.join(", "))
        }
    }
}

#[cfg(test)]
#[path = "open_tests.rs"]
mod tests;
