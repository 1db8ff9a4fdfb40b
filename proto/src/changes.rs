//! Fields of a message set by their path, and the fields in which two messages differ.

use prost_reflect::{
    DeserializeOptions, DynamicMessage, FieldDescriptor, MessageDescriptor, ReflectMessage,
    SerializeOptions, Value as Field,
};
use prost_types::value::Kind as Is;
use prost_types::{ListValue, Struct, Value};

use crate::json::{JsonError, descriptor};
use crate::v1::FieldChange;

/// Why a field cannot be set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unfit {
    /// What was given.
    pub given: String,
    /// What is allowed.
    pub allowed: String,
}

impl Unfit {
    fn new(given: impl Into<String>, allowed: impl Into<String>) -> Self {
        Self { given: given.into(), allowed: allowed.into() }
    }
}

/// `message`, which is `name` in package `fishplate.v1`, as a message whose fields can be set.
///
/// # Errors
/// [`JsonError`] for a name that is not in the contract.
pub fn open(name: &str, message: &impl prost::Message) -> Result<DynamicMessage, JsonError> {
    let mut dynamic = DynamicMessage::new(descriptor(name)?);
    dynamic.transcode_from(message).map_err(|e| JsonError::Transcode(e.to_string()))?;
    Ok(dynamic)
}

/// Sets the field at `path` of `message` to `value`, the protobuf JSON of that field; null leaves
/// the field out.
///
/// # Errors
/// [`Unfit`] where there is no such field, or the value is none of its values. The message may be
/// half changed then.
pub fn set(message: &mut DynamicMessage, path: &str, value: &Value) -> Result<(), Unfit> {
    let steps: Vec<&str> = path.split('.').collect();
    let Some((last, way)) = steps.split_last() else { return Ok(()) };
    let mut at = message;
    for step in way {
        at = enter(at, step, path)?;
    }
    put(at, last, path, json(value))
}

/// The name of a step and its place in a list.
fn step<'s>(step: &'s str, path: &str) -> Result<(&'s str, Option<usize>), Unfit> {
    let Some((name, rest)) = step.split_once('[') else { return Ok((step, None)) };
    let place = rest.strip_suffix(']').and_then(|digits| digits.parse().ok());
    match place {
        Some(place) => Ok((name, Some(place))),
        None => Err(Unfit::new(format!("`{path}`"), "a path such as `parts[2].plate.thickness`")),
    }
}

/// The field of a message by its name in the contract.
fn field(of: &MessageDescriptor, name: &str, path: &str) -> Result<FieldDescriptor, Unfit> {
    of.get_field_by_name(name).ok_or_else(|| {
        let known: Vec<String> = of.fields().map(|f| f.name().to_owned()).collect();
        let allowed = format!("a field of {}: {}", of.name(), known.join(", "));
        Unfit::new(format!("`{name}` in `{path}`"), allowed)
    })
}

fn enter<'m>(
    at: &'m mut DynamicMessage,
    taken: &str,
    path: &str,
) -> Result<&'m mut DynamicMessage, Unfit> {
    let (name, place) = step(taken, path)?;
    let found = field(&at.descriptor(), name, path)?;
    let none =
        || Unfit::new(format!("`{taken}` in `{path}`"), "a field that has fields of its own");
    let too_far = |length: usize| {
        let allowed = format!("a place below {length}, the length of the list");
        Unfit::new(format!("`{taken}` in `{path}`"), allowed)
    };
    match (at.get_field_mut(&found), place) {
        (Field::Message(inner), None) => Ok(inner),
        (Field::List(list), Some(place)) => {
            let length = list.len();
            let entry = list.get_mut(place).ok_or_else(|| too_far(length))?;
            entry.as_message_mut().ok_or_else(none)
        }
        _ => Err(none()),
    }
}

fn put(
    at: &mut DynamicMessage,
    taken: &str,
    path: &str,
    value: serde_json::Value,
) -> Result<(), Unfit> {
    let (name, place) = step(taken, path)?;
    let found = field(&at.descriptor(), name, path)?;
    let given = value.to_string();
    let Some(place) = place else {
        if value.is_null() {
            at.clear_field(&found);
            return Ok(());
        }
        let read = parsed(&at.descriptor(), &found, value)
            .map_err(|e| Unfit::new(given, format!("the JSON of that field: {e}")))?;
        at.set_field(&found, read);
        return Ok(());
    };
    if !found.is_list() {
        return Err(Unfit::new(format!("`{taken}` in `{path}`"), "a field that is a list"));
    }
    let read = parsed(&at.descriptor(), &found, serde_json::Value::Array(vec![value]))
        .map_err(|e| Unfit::new(given, format!("the JSON of an entry of that list: {e}")))?;
    let entry = read.as_list().and_then(|list| list.first()).cloned();
    let Field::List(list) = at.get_field_mut(&found) else { return Ok(()) };
    let length = list.len();
    match (list.get_mut(place), entry) {
        (Some(slot), Some(entry)) => {
            *slot = entry;
            Ok(())
        }
        _ => {
            let allowed = format!("a place below {length}, the length of the list");
            Err(Unfit::new(format!("`{taken}` in `{path}`"), allowed))
        }
    }
}

/// The value of `field` of a message by its JSON.
fn parsed(
    of: &MessageDescriptor,
    field: &FieldDescriptor,
    value: serde_json::Value,
) -> Result<Field, serde_json::Error> {
    let wrapped =
        serde_json::Value::Object(std::iter::once((field.json_name().to_owned(), value)).collect());
    let options = DeserializeOptions::new().deny_unknown_fields(true);
    let read = DynamicMessage::deserialize_with_options(of.clone(), wrapped, &options)?;
    Ok(read.get_field(field).into_owned())
}

/// The fields in which `after` differs from `before`, both the message `name` of package
/// `fishplate.v1`, with the values of `after`: as few and as deep as can be.
///
/// # Errors
/// [`JsonError`] for a name that is not in the contract.
pub fn between<M: prost::Message>(
    name: &str,
    before: &M,
    after: &M,
) -> Result<Vec<FieldChange>, JsonError> {
    let mut found = Vec::new();
    differ(&open(name, before)?, &open(name, after)?, "", &mut found)?;
    Ok(found)
}

fn differ(
    before: &DynamicMessage,
    after: &DynamicMessage,
    path: &str,
    found: &mut Vec<FieldChange>,
) -> Result<(), JsonError> {
    for field in after.descriptor().fields() {
        let here = if path.is_empty() {
            field.name().to_owned()
        } else {
            format!("{path}.{}", field.name())
        };
        let (had, has) = (before.has_field(&field), after.has_field(&field));
        let (old, new) = (before.get_field(&field), after.get_field(&field));
        if had == has && *old == *new {
            continue;
        }
        match (&*old, &*new) {
            (Field::Message(old), Field::Message(new)) if had && has => {
                differ(old, new, &here, found)?;
            }
            (Field::List(old), Field::List(new)) if old.len() == new.len() => {
                for (place, (old, new)) in old.iter().zip(new).enumerate() {
                    if let (Field::Message(old), Field::Message(new)) = (old, new) {
                        differ(old, new, &format!("{here}[{place}]"), found)?;
                    } else if old != new {
                        let list = written(after, &field)?;
                        let entry = list.get(place).cloned().unwrap_or_default();
                        found.push(change(format!("{here}[{place}]"), &entry));
                    }
                }
            }
            // Setting another member of a choice takes this one away.
            _ if !has
                && field
                    .containing_oneof()
                    .is_some_and(|one| one.fields().any(|other| after.has_field(&other))) => {}
            _ => found.push(change(here, &written(after, &field)?)),
        }
    }
    Ok(())
}

/// The JSON of one field of a message; null where it is left out.
fn written(
    message: &DynamicMessage,
    field: &FieldDescriptor,
) -> Result<serde_json::Value, JsonError> {
    if !message.has_field(field) {
        return Ok(serde_json::Value::Null);
    }
    let mut alone = DynamicMessage::new(message.descriptor());
    alone.set_field(field, message.get_field(field).into_owned());
    let value =
        alone.serialize_with_options(serde_json::value::Serializer, &SerializeOptions::new())?;
    Ok(value.get(field.json_name()).cloned().unwrap_or_default())
}

fn change(field_path: String, value: &serde_json::Value) -> FieldChange {
    FieldChange { field_path, value: Some(told(value)) }
}

/// A value of the wire as JSON.
fn json(value: &Value) -> serde_json::Value {
    /// Largest whole number that a double tells from its neighbours.
    const WHOLE: f64 = 9_007_199_254_740_992.0;
    match &value.kind {
        None | Some(Is::NullValue(_)) => serde_json::Value::Null,
        // Whole numbers are written without a point: fields that count take no other.
        #[allow(clippy::cast_possible_truncation)]
        Some(Is::NumberValue(n)) if n.fract() == 0.0 && n.abs() < WHOLE => (*n as i64).into(),
        Some(Is::NumberValue(n)) => (*n).into(),
        Some(Is::StringValue(text)) => text.as_str().into(),
        Some(Is::BoolValue(yes)) => (*yes).into(),
        Some(Is::StructValue(fields)) => serde_json::Value::Object(
            fields.fields.iter().map(|(key, value)| (key.clone(), json(value))).collect(),
        ),
        Some(Is::ListValue(list)) => list.values.iter().map(json).collect(),
    }
}

/// JSON as a value of the wire.
fn told(value: &serde_json::Value) -> Value {
    let kind = match value {
        serde_json::Value::Null => Is::NullValue(0),
        serde_json::Value::Bool(yes) => Is::BoolValue(*yes),
        serde_json::Value::Number(n) => Is::NumberValue(n.as_f64().unwrap_or_default()),
        serde_json::Value::String(text) => Is::StringValue(text.clone()),
        serde_json::Value::Array(list) => {
            Is::ListValue(ListValue { values: list.iter().map(told).collect() })
        }
        serde_json::Value::Object(fields) => Is::StructValue(Struct {
            fields: fields.iter().map(|(key, value)| (key.clone(), told(value))).collect(),
        }),
    };
    Value { kind: Some(kind) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::json::from_json;
    use crate::v1;

    fn project() -> v1::Project {
        from_json(
            "Project",
            r#"{"title": "van", "parts": [
                {"name": "a", "plate": {"thickness": {"valueMm": 3}, "corners": [{"xMm": 1}]}},
                {"name": "b", "gusset": {"at": [{"xMm": -27}, {"xMm": 27}], "corner": ["p", "q"]}}],
                "welds": [{"name": "w", "bead": "BEAD_KIND_FILLET", "stitchOnMm": 0}]}"#,
        )
        .unwrap_or_else(|e| panic!("{e}"))
    }

    fn changed(path: &str, text: &str) -> Result<v1::Project, Unfit> {
        let mut open = open("Project", &project()).unwrap();
        set(&mut open, path, &told(&serde_json::from_str(text).unwrap()))?;
        Ok(open.transcode_to().unwrap())
    }

    #[test]
    fn a_field_is_set_where_its_path_says() {
        let thick = changed("parts[0].plate.thickness", r#"{"valueMm": 4.5}"#).unwrap();
        let Some(v1::part::Form::Plate(plate)) = &thick.parts[0].form else { panic!() };
        assert_eq!(plate.thickness.unwrap().value_mm.to_bits(), 4.5_f64.to_bits());
        let bead = changed("welds[0].bead", "\"BEAD_KIND_PLUG\"").unwrap();
        assert_eq!(bead.welds[0].bead(), v1::BeadKind::Plug);
        let other = changed("parts[1].block", r#"{"on": "x"}"#).unwrap();
        assert!(matches!(other.parts[1].form, Some(v1::part::Form::Block(_))));
        let gone = changed("welds[0].stitch_on_mm", "null").unwrap();
        assert_eq!(gone.welds[0].stitch_on_mm, None);
        let named = changed("parts[1].gusset.corner[1]", "\"r\"").unwrap();
        let Some(v1::part::Form::Gusset(gusset)) = &named.parts[1].form else { panic!() };
        assert_eq!(gusset.corner, ["p", "r"]);
    }

    #[test]
    fn what_does_not_fit_is_told_with_what_would() {
        let told = |path: &str, text: &str| changed(path, text).unwrap_err();
        assert!(told("parts[0].plat", "1").allowed.contains("plate"));
        assert!(told("parts[7].plate", "{}").allowed.contains("below 2"));
        assert!(told("parts[0].plate.corners[3]", "{}").allowed.contains("below 1"));
        assert!(told("parts[x].plate", "{}").allowed.contains("parts[2]"));
        assert!(told("title.more", "1").allowed.contains("fields of its own"));
        assert!(told("title[0]", "1").allowed.contains("a list"));
        assert!(told("symmetric", "\"yes\"").allowed.contains("JSON"));
        assert!(told("parts[0].plate.thickness", r#"{"mm": 1}"#).allowed.contains("mm"));
    }

    #[test]
    fn differences_lead_from_one_message_to_the_other() {
        let before = project();
        let mut after = project();
        after.title = String::new();
        after.symmetric = true;
        after.parts[0].form = Some(v1::part::Form::Block(v1::Block::default()));
        if let Some(v1::part::Form::Gusset(gusset)) = &mut after.parts[1].form {
            gusset.at.pop();
            gusset.corner[0] = "z".to_owned();
        }
        after.welds[0].leg = Some(v1::Length { value_mm: 3.5, ..Default::default() });
        after.welds[0].stitch_on_mm = None;
        after.bolts.push(v1::Bolt::default());
        let found = between("Project", &before, &after).unwrap();
        let paths: Vec<&str> = found.iter().map(|c| c.field_path.as_str()).collect();
        assert!(paths.contains(&"parts[1].gusset.corner[0]"), "{paths:?}");
        assert!(!paths.contains(&"parts[0].plate"), "{paths:?}");
        let mut open = open("Project", &before).unwrap();
        for change in &found {
            set(&mut open, &change.field_path, change.value.as_ref().unwrap()).unwrap();
        }
        let back: v1::Project = open.transcode_to().unwrap();
        assert_eq!(back, after);
        assert!(between("Project", &before, &before).unwrap().is_empty());
    }
}
