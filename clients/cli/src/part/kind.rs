//! The kinds of parts, from the contract.

use fishplate_proto::describe::{self, Field, FieldKind};

use super::value::unit;

/// The requests that ask about a part.
pub(crate) const REQUESTS: [&str; 5] = [
    "CheckBoltRequest",
    "CheckWeldRequest",
    "CheckMemberRequest",
    "CheckPlateRequest",
    "CheckFatigueRequest",
];

/// A kind of part.
#[derive(Debug, Clone)]
pub(crate) struct Kind {
    /// Its name: `bolt_group`.
    pub(crate) name: String,
    /// The request that asks about it.
    pub(crate) request: &'static str,
    /// What it is.
    pub(crate) what: String,
    /// What it takes: its own fields first, then names of the catalogue.
    pub(crate) keys: Vec<Key>,
}

/// A key of a part in a file.
#[derive(Debug, Clone)]
pub(crate) struct Key {
    /// As it is written: `e_1`.
    pub(crate) name: String,
    /// Whether it is a name that gives several numbers at once.
    pub(crate) named: bool,
    /// The field it fills.
    pub(crate) field: Field,
    /// The keys of an entry, where it takes a list of them.
    pub(crate) columns: Vec<Key>,
}

/// Every kind of part.
pub(crate) fn kinds() -> Vec<Kind> {
    let names = keys("Named", true);
    let mut kinds = Vec::new();
    for request in REQUESTS {
        let fields = describe::message(request).map(|message| message.fields).unwrap_or_default();
        for field in fields.into_iter().filter(|field| field.one_of.is_some()) {
            let FieldKind::Message(message) = field.kind else { continue };
            let mut own = keys(&message, false);
            // A part that asks for the thread itself has the key of that name.
            let more: Vec<_> = names
                .iter()
                .filter(|name| !own.iter().any(|key| key.name == name.name))
                .cloned()
                .collect();
            own.extend(more);
            let what = describe::message(&message).map_or(field.what, |message| message.what);
            kinds.push(Kind { name: field.name, request, what, keys: own });
        }
    }
    kinds
}

fn keys(message: &str, named: bool) -> Vec<Key> {
    let fields = describe::message(message).map(|message| message.fields).unwrap_or_default();
    let columns = |field: &Field| match &field.kind {
        FieldKind::Message(entry) if field.list => keys(entry, false),
        _ => Vec::new(),
    };
    fields
        .into_iter()
        .map(|field| Key { name: key(&field), named, columns: columns(&field), field })
        .collect()
}

/// The units that the number of a field is written in.
pub(crate) fn unit_of(field: &Field) -> String {
    (unit(&field.name).units)()
}

/// The key of a field: its name without the unit, which is written with the number.
pub(crate) fn key(field: &Field) -> String {
    let ending = match field.kind {
        FieldKind::Number => unit(&field.name).ending,
        _ => "",
    };
    field.name.strip_suffix(ending).unwrap_or(&field.name).to_owned()
}
