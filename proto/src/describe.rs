//! The contract described to a program that fills its messages by name: fields with their kinds
//! and the comments of the `.proto` files.

use prost_reflect::{EnumDescriptor, FieldDescriptor, FileDescriptor, Kind, MessageDescriptor};

use crate::json::pool;

/// A message.
#[derive(Debug, Clone)]
pub struct Message {
    /// Its name in package `fishplate.v1`.
    pub name: String,
    /// What it is.
    pub what: String,
    /// Its fields.
    pub fields: Vec<Field>,
}

/// A field of a message.
#[derive(Debug, Clone)]
pub struct Field {
    /// Its name.
    pub name: String,
    /// What it is.
    pub what: String,
    /// What belongs there.
    pub kind: FieldKind,
    /// Whether a list of those belongs there.
    pub list: bool,
    /// The choice it is one of, if any.
    pub one_of: Option<String>,
}

/// What belongs in a field.
#[derive(Debug, Clone)]
pub enum FieldKind {
    /// A number; the end of the field's name is its unit.
    Number,
    /// A whole number.
    Whole,
    /// Text.
    Text,
    /// Yes or no.
    YesNo,
    /// One of some values; the unspecified one is left out.
    Word(Vec<Word>),
    /// Another message, by its name.
    Message(String),
}

/// A value of an enum.
#[derive(Debug, Clone)]
pub struct Word {
    /// Its name: `HOLE_CHOICE_SHORT_SLOT_ALONG`.
    pub name: String,
    /// What a reader calls it by: `short-slot-along`.
    pub word: String,
    /// What it is.
    pub what: String,
}

/// The message `name` of package `fishplate.v1`.
#[must_use]
pub fn message(name: &str) -> Option<Message> {
    let found = pool().get_message_by_name(&format!("fishplate.v1.{name}"))?;
    Some(Message {
        name: name.to_owned(),
        what: comment(&found.parent_file(), found.path()),
        fields: found.fields().map(|field| described(&found, &field)).collect(),
    })
}

fn described(message: &MessageDescriptor, field: &FieldDescriptor) -> Field {
    let kind = match field.kind() {
        Kind::Double | Kind::Float => FieldKind::Number,
        Kind::String | Kind::Bytes => FieldKind::Text,
        Kind::Bool => FieldKind::YesNo,
        Kind::Enum(values) => FieldKind::Word(words(&values)),
        Kind::Message(inner) => FieldKind::Message(inner.name().to_owned()),
        Kind::Int32
        | Kind::Int64
        | Kind::Uint32
        | Kind::Uint64
        | Kind::Sint32
        | Kind::Sint64
        | Kind::Fixed32
        | Kind::Fixed64
        | Kind::Sfixed32
        | Kind::Sfixed64 => FieldKind::Whole,
    };
    // `optional` makes a choice of one of each number; it is no choice to a reader.
    let real = |one: &prost_reflect::OneofDescriptor| !one.name().starts_with('_');
    Field {
        name: field.name().to_owned(),
        what: comment(&message.parent_file(), field.path()),
        kind,
        list: field.is_list(),
        one_of: field.containing_oneof().filter(real).map(|one| one.name().to_owned()),
    }
}

fn words(values: &EnumDescriptor) -> Vec<Word> {
    let file = values.parent_file();
    // The unspecified value is the first and bears the lead of all.
    let lead = values.default_value();
    let lead = lead.name().strip_suffix("UNSPECIFIED").unwrap_or_default();
    let word =
        |name: &str| name.strip_prefix(lead).unwrap_or(name).to_ascii_lowercase().replace('_', "-");
    values
        .values()
        .filter(|value| value.number() != 0)
        .map(|value| Word {
            name: value.name().to_owned(),
            word: word(value.name()),
            what: comment(&file, value.path()),
        })
        .collect()
}

/// The comment above the thing at `path`; paragraphs stay apart, lines are joined.
fn comment(file: &FileDescriptor, path: &[i32]) -> String {
    let info = file.file_descriptor_proto().source_code_info.as_ref();
    let found = info.and_then(|info| info.location.iter().find(|place| place.path == path));
    let text = found.map_or("", |place| place.leading_comments());
    let paragraphs = text.trim().split("\n\n");
    let joined = paragraphs.map(|one| one.split_whitespace().collect::<Vec<_>>().join(" "));
    joined.collect::<Vec<_>>().join("\n\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_message_is_described_in_the_words_of_the_contract() {
        let named = message("Named").unwrap();
        let thread = named.fields.iter().find(|field| field.name == "thread").unwrap();
        assert!(matches!(thread.kind, FieldKind::Text), "{thread:?}");
        assert!(thread.what.starts_with("Thread: `M12`"), "{}", thread.what);
        let shape = message("SectionShape").unwrap();
        assert!(shape.fields.iter().all(|field| field.one_of.as_deref() == Some("shape")));
        let steel = message("SteelName").unwrap();
        assert!(steel.fields.iter().all(|field| field.one_of.is_none()), "{steel:?}");
        assert!(message("Nothing").is_none());
    }

    #[test]
    fn every_message_field_and_value_has_a_comment() {
        for found in pool().all_messages().filter(|m| m.package_name() == "fishplate.v1") {
            let Some(message) = message(found.name()) else { continue };
            assert!(!message.what.is_empty(), "{}", message.name);
            for field in &message.fields {
                assert!(!field.what.is_empty(), "{}.{}", message.name, field.name);
                if let FieldKind::Word(words) = &field.kind {
                    assert!(words.iter().all(|word| !word.what.is_empty()), "{}", field.name);
                }
            }
        }
    }
}
