//! The door: one walk over a request, before anything reads it.
//!
//! Whatever the message, no number may be NaN or infinite, no text may be too long or hold control
//! characters, no enum may have a value that the contract doesn't know, and no list may be longer
//! than its limit. The walk follows the encoded bytes along the contract's descriptors, so it
//! covers every field there is or will be, names each by its path on the wire, and allocates
//! nothing but the faults.

use std::sync::OnceLock;

use fishplate_proto::FILE_DESCRIPTOR_SET;
use fishplate_quantity::Fault;
use prost::DecodeError;
use prost::bytes::Buf;
use prost::encoding::{DecodeContext, WireType, decode_key, decode_varint, skip_field};
use prost_reflect::{DescriptorPool, EnumDescriptor, FieldDescriptor, Kind, MessageDescriptor};

use crate::errors::cut;
use crate::limits::{FAULTS, ID_BYTES, TEXT_BYTES, list_length};
use crate::path::Path;

/// What the walk found.
#[derive(Debug, Default)]
pub(crate) struct Found {
    /// The first faults, as many as are ever told.
    pub(crate) faults: Vec<Fault>,
    /// How many more there are.
    pub(crate) more: usize,
    /// Whether a list is longer than its limit: such a request is not read any further.
    pub(crate) too_long: bool,
}

impl Found {
    fn add(&mut self, path: &Path<'_>, given: String, allowed: String, advice: &str) {
        if self.faults.len() < FAULTS {
            self.faults.push(Fault::new(path.to_string(), given, allowed, advice));
        } else {
            self.more += 1;
        }
    }
}

/// Walks over `bytes`, the encoding of the message `name` of package `fishplate.v1`.
///
/// # Panics
/// When the contract has no such message: `name` is always written in this crate.
pub(crate) fn inspect(name: &str, bytes: &[u8]) -> Result<Found, DecodeError> {
    let mut found = Found::default();
    message(&mut found, &descriptor(name), bytes, &Path::ROOT)?;
    Ok(found)
}

/// The message `name` of package `fishplate.v1`.
///
/// # Panics
/// When the contract has no such message: `name` is always written in this crate.
pub(crate) fn descriptor(name: &str) -> MessageDescriptor {
    pool()
        .get_message_by_name(&format!("fishplate.v1.{name}"))
        .expect("the services are generated from the same contract")
}

/// The values of the enum `name` of package `fishplate.v1`, in words.
///
/// # Panics
/// When the contract has no such enum: `name` is always written in this crate.
pub(crate) fn choices(name: &str) -> String {
    let known = pool().get_enum_by_name(&format!("fishplate.v1.{name}"));
    names(&known.expect("the conversions are written for the same contract"))
}

fn pool() -> &'static DescriptorPool {
    static POOL: OnceLock<DescriptorPool> = OnceLock::new();
    POOL.get_or_init(|| {
        DescriptorPool::decode(FILE_DESCRIPTOR_SET)
            .expect("the build script wrote a valid descriptor set")
    })
}

fn message(
    found: &mut Found,
    descriptor: &MessageDescriptor,
    mut bytes: &[u8],
    path: &Path<'_>,
) -> Result<(), DecodeError> {
    let mut lists: Vec<(FieldDescriptor, usize)> = Vec::new();
    while bytes.has_remaining() {
        let (tag, wire) = decode_key(&mut bytes)?;
        let Some(field) = descriptor.get_field(tag) else {
            skip_field(wire, tag, &mut bytes, DecodeContext::default())?;
            continue;
        };
        let content =
            if wire == WireType::LengthDelimited { Some(split(&mut bytes)?) } else { None };
        if !field.is_list() {
            one(found, &field, content, &mut bytes, wire, &path.field(field.name()))?;
            continue;
        }
        let place = match lists.iter().position(|(known, _)| *known == field) {
            Some(place) => place,
            None => {
                lists.push((field.clone(), 0));
                lists.len() - 1
            }
        };
        let count = &mut lists[place].1;
        let most = list_length(descriptor.name(), field.name());
        match content {
            Some(mut packed) if is_packable(&field.kind()) => {
                if matches!(field.kind(), Kind::Double) {
                    // Designs come as long lists of numbers: here a number takes a nanosecond.
                    let (whole, _) = packed.as_chunks::<8>();
                    for number in whole {
                        if !f64::from_le_bytes(*number).is_finite() {
                            break;
                        }
                        packed.advance(8);
                        *count += 1;
                    }
                }
                while packed.has_remaining() {
                    let at = path.place(field.name(), *count);
                    *count += 1;
                    one(found, &field, None, &mut packed, wire_of(&field.kind()), &at)?;
                }
            }
            content => {
                let index = *count;
                *count += 1;
                if index < most {
                    let at = path.place(field.name(), index);
                    one(found, &field, content, &mut bytes, wire, &at)?;
                } else if content.is_none() {
                    skip_field(wire, tag, &mut bytes, DecodeContext::default())?;
                }
            }
        }
    }
    for (field, count) in lists {
        let most = list_length(descriptor.name(), field.name());
        if count > most {
            found.too_long = true;
            let at = path.field(field.name());
            found.add(&at, format!("{count} entries"), format!("at most {most}"), "");
        }
    }
    Ok(())
}

fn one(
    found: &mut Found,
    field: &FieldDescriptor,
    content: Option<&[u8]>,
    rest: &mut &[u8],
    wire: WireType,
    path: &Path<'_>,
) -> Result<(), DecodeError> {
    match (field.kind(), content) {
        (Kind::Message(inner), Some(content)) => message(found, &inner, content, path),
        (Kind::String, Some(content)) => {
            text(found, field.name(), content, path);
            Ok(())
        }
        (Kind::Double, None) if rest.remaining() >= 8 => {
            let value = rest.get_f64_le();
            if !value.is_finite() {
                found.add(path, value.to_string(), "a finite number".to_owned(), "");
            }
            Ok(())
        }
        (Kind::Enum(known), None) => {
            // The contract's enums are int32: a negative value is sign-extended to 64 bits.
            #[allow(clippy::cast_possible_truncation)]
            let value = decode_varint(rest)? as i32;
            if known.get_value(value).is_none() {
                found.add(path, value.to_string(), names(&known), "");
            }
            Ok(())
        }
        (_, Some(_)) => Ok(()),
        (_, None) => skip_field(wire, field.number(), rest, DecodeContext::default()),
    }
}

fn text(found: &mut Found, field: &str, content: &[u8], path: &Path<'_>) {
    let is_name = field == "id" || field == "name" || field.ends_with("_id");
    let most = if is_name { ID_BYTES } else { TEXT_BYTES };
    if content.len() > most {
        found.add(path, format!("{} bytes of text", content.len()), format!("at most {most}"), "");
        return;
    }
    let text = String::from_utf8_lossy(content);
    if text.chars().any(char::is_control) {
        let allowed = "text on one line, without control characters".to_owned();
        found.add(path, format!("`{}`", cut(&text, most)), allowed, "");
    }
}

fn names(known: &EnumDescriptor) -> String {
    let names: Vec<String> = known
        .values()
        .filter(|value| value.number() != 0)
        .map(|value| value.name().to_owned())
        .collect();
    format!("one of {}", names.join(", "))
}

fn split<'b>(bytes: &mut &'b [u8]) -> Result<&'b [u8], DecodeError> {
    let length = usize::try_from(decode_varint(bytes)?).unwrap_or(usize::MAX);
    let Some((content, rest)) = bytes.split_at_checked(length) else {
        // The same words as for any other message whose length is wrong.
        decode_varint(&mut &[][..])?;
        return Ok(&[]);
    };
    *bytes = rest;
    Ok(content)
}

fn is_packable(kind: &Kind) -> bool {
    !matches!(kind, Kind::Message(_) | Kind::String | Kind::Bytes)
}

fn wire_of(kind: &Kind) -> WireType {
    match kind {
        Kind::Double | Kind::Fixed64 | Kind::Sfixed64 => WireType::SixtyFourBit,
        Kind::Float | Kind::Fixed32 | Kind::Sfixed32 => WireType::ThirtyTwoBit,
        Kind::Message(_) | Kind::String | Kind::Bytes => WireType::LengthDelimited,
        _ => WireType::Varint,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use fishplate_proto::v1;
    use prost::Message;

    fn faults(request: &v1::SolveStructureRequest) -> Vec<(String, String)> {
        let found = inspect("SolveStructureRequest", &request.encode_to_vec()).unwrap();
        found.faults.into_iter().map(|f| (f.path, f.given)).collect()
    }

    fn node(id: &str, x_mm: f64) -> v1::Node {
        let position = Some(v1::Position { x_mm, y_mm: 1.0, z_mm: 0.0 });
        v1::Node { id: id.to_owned(), position }
    }

    #[test]
    fn every_number_that_is_none_is_named_by_its_path() {
        let request = v1::SolveStructureRequest {
            nodes: vec![node("a", 0.0), node("b", f64::NAN)],
            stations: vec![v1::StationRequest {
                beam_id: "m".to_owned(),
                fractions: vec![0.5, f64::INFINITY],
            }],
            ..Default::default()
        };
        let expected = [("nodes[1].position.x_mm", "NaN"), ("stations[0].fractions[1]", "inf")];
        assert_eq!(faults(&request), expected.map(|(p, g)| (p.to_owned(), g.to_owned())));
    }

    #[test]
    fn texts_are_short_and_on_one_line() {
        let request = v1::SolveStructureRequest {
            nodes: vec![node("a\nb", 0.0), node(&"x".repeat(65), 0.0)],
            ..Default::default()
        };
        let got = faults(&request);
        assert_eq!(got[0], ("nodes[0].id".to_owned(), "`a b`".to_owned()));
        assert_eq!(got[1], ("nodes[1].id".to_owned(), "65 bytes of text".to_owned()));
    }

    #[test]
    fn a_value_that_an_enum_does_not_have_is_told_with_those_it_has() {
        let springs = vec![v1::Spring { action_y: 99, ..Default::default() }];
        let request = v1::SolveStructureRequest { springs, ..Default::default() };
        let found = inspect("SolveStructureRequest", &request.encode_to_vec()).unwrap();
        assert_eq!(found.faults[0].path, "springs[0].action_y");
        assert!(found.faults[0].allowed.contains("SPRING_ACTION_TENSION_ONLY"));
    }

    #[test]
    fn a_list_that_is_too_long_is_counted_not_read() {
        let nodes = vec![node("a", f64::NAN); 50_001];
        let request = v1::SolveStructureRequest { nodes, ..Default::default() };
        let found = inspect("SolveStructureRequest", &request.encode_to_vec()).unwrap();
        assert!(found.too_long);
        assert_eq!(found.faults.len(), FAULTS);
        assert_eq!(found.faults.len() + found.more, 50_001);
    }

    #[test]
    fn bytes_that_are_no_message_are_an_error() {
        assert!(inspect("SolveStructureRequest", &[0x0a, 0xff, 0x01]).is_err());
        assert!(inspect("SolveStructureRequest", &[0x0a]).is_err());
    }

    #[test]
    fn a_field_from_a_newer_contract_is_left_alone() {
        // Field 2000, a varint of 1.
        assert!(inspect("Node", &[0x80, 0x7d, 0x01]).unwrap().faults.is_empty());
    }
}
