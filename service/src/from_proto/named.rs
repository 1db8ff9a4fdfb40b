//! `named.proto`: names of the catalogue.

use fishplate_proto::v1;
use fishplate_strength::catalog::find_section;
use fishplate_strength::part::Name;
use fishplate_strength::section::SectionShape;

use super::Reader;
use super::solver::shape;
use crate::path::Path;
use crate::units::MM;

/// Names beside a part, each with its path.
pub(crate) fn named(reader: &mut Reader, given: Option<v1::Named>) -> Vec<(&'static str, Name)> {
    let v1::Named {
        thread,
        bolt_class,
        head,
        washer,
        tightening_method,
        faces,
        steel,
        steel_1,
        steel_2,
        steel_sheet,
        steel_plate,
        section,
    } = given.unwrap_or_default();
    let mut names = Vec::new();
    for (path, text, name) in [
        ("named.thread", thread, Name::Thread as fn(String) -> Name),
        ("named.bolt_class", bolt_class, Name::BoltClass),
        ("named.head", head, Name::Head),
        ("named.washer", washer, Name::Washer),
        ("named.tightening_method", tightening_method, Name::Tightening),
        ("named.faces", faces, Name::Faces),
    ] {
        if !text.is_empty() {
            names.push((path, name(text)));
        }
    }
    for (path, of, steel) in [
        ("named.steel", "", steel),
        ("named.steel_1", "_1", steel_1),
        ("named.steel_2", "_2", steel_2),
        ("named.steel_sheet", "_sheet", steel_sheet),
        ("named.steel_plate", "_plate", steel_plate),
    ] {
        let Some(v1::SteelName { name, thickness_mm }) = steel else { continue };
        names.push((path, Name::Steel { of, name, thickness: thickness_mm.map(|t| t * MM) }));
    }
    if let Some(given) = section {
        let path = Path::ROOT.field("named");
        if let Some(Section { shape, name, source: _ }) =
            found(reader, &path.field("section"), given)
        {
            names.push(("named.section", Name::Section { shape: Box::new(shape), name }));
        }
    }
    names
}

/// A section that is known.
#[derive(Debug)]
pub(crate) struct Section {
    pub(crate) shape: SectionShape,
    pub(crate) name: String,
    /// Where its dimensions come from; empty for a shape that was given.
    pub(crate) source: String,
}

/// The section asked for, or its fault.
pub(crate) fn found(
    reader: &mut Reader,
    path: &Path<'_>,
    given: v1::SectionName,
) -> Option<Section> {
    use v1::section_name::Section as Given;
    let v1::SectionName { section } = given;
    match section {
        Some(Given::Name(name)) => match find_section(&name) {
            Ok(found) => {
                Some(Section { shape: found.shape, name: found.name, source: found.source })
            }
            Err(why) => {
                let given = format!("`{name}`");
                reader.refuse(&path.field("name"), given, "a section by name", why.to_string());
                None
            }
        },
        Some(Given::Shape(given)) => {
            let shape = shape(reader, &path.field("shape"), given)?;
            let name = shape.name().to_owned();
            Some(Section { shape, name, source: String::new() })
        }
        None => {
            reader.refuse(path, "nothing", "`name` or `shape`", "");
            None
        }
    }
}
