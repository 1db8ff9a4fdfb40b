//! The rails of the old car and steels with their own numbers.

use fishplate_mounts::describe::{Opening, Rail, RailSection, Reading, Steel, WrittenStress};
use fishplate_proto::v1;

use super::car::needed_length;
use super::{condition, list, optional, required};
use crate::from_proto::Reader;
use crate::from_proto::quantity::{length, number, side, stress};
use crate::path::Path;
use crate::units::MM;

pub(super) fn steel(reader: &mut Reader, path: &Path<'_>, given: v1::Steel) -> Option<Steel> {
    let v1::Steel { name, fy, fu, beta_w } = given;
    let fy = needed_stress(reader, &path.field("fy"), fy);
    let fu = needed_stress(reader, &path.field("fu"), fu);
    let beta_w = number(reader, &path.field("beta_w"), beta_w);
    Some(Steel { name, fy: fy?, fu: fu?, beta_w })
}

fn needed_stress(
    reader: &mut Reader,
    path: &Path<'_>,
    given: Option<v1::Stress>,
) -> Option<WrittenStress> {
    required(reader, path, given, |reader, path, given| stress(reader, path, Some(given)))
}

pub(super) fn rail(reader: &mut Reader, path: &Path<'_>, given: v1::Rail) -> Option<Rail> {
    let only = side(given.only());
    let v1::Rail {
        name,
        section,
        steel,
        web,
        bottom,
        from,
        to,
        readings,
        readings_right,
        held_x_mm,
        only: _,
        pitting_factor,
        coat,
        corrosion,
        damage,
    } = given;
    let pitting = number(reader, &path.field("pitting_factor"), pitting_factor);
    let coat = length(reader, &path.field("coat"), coat);
    let corrosion = optional(reader, &path.field("corrosion"), corrosion, condition::corrosion);
    let damage = list(reader, path, "damage", damage, condition::damage);
    let section = rail_section(reader, path, section);
    let web = needed_length(reader, &path.field("web"), web);
    let bottom = needed_length(reader, &path.field("bottom"), bottom);
    let from = needed_length(reader, &path.field("from"), from);
    let to = needed_length(reader, &path.field("to"), to);
    let readings = list(reader, path, "readings", readings, reading);
    let readings_right = list(reader, path, "readings_right", readings_right, reading);
    Some(Rail {
        name,
        section: section?,
        steel,
        web: web?,
        bottom: bottom?,
        from: from?,
        to: to?,
        readings: readings?,
        readings_right: readings_right?,
        held: held_x_mm.into_iter().map(|x| x * MM).collect(),
        only,
        pitting,
        coat,
        corrosion: corrosion?,
        damage: damage?,
    })
}

fn rail_section(
    reader: &mut Reader,
    path: &Path<'_>,
    given: Option<v1::rail::Section>,
) -> Option<RailSection> {
    match given {
        Some(v1::rail::Section::Channel(given)) => {
            let opens = match given.opens() {
                v1::Opening::Unspecified => {
                    let channel = path.field("channel");
                    reader.unset(&channel.field("opens"), "Opening")
                }
                v1::Opening::Inward => Some(Opening::Inward),
                v1::Opening::Outward => Some(Opening::Outward),
            };
            let v1::ChannelSection { height_mm, flange_mm, wall_mm, opens: _ } = given;
            Some(RailSection::Channel {
                height: height_mm * MM,
                flange: flange_mm * MM,
                wall: wall_mm * MM,
                opens: opens?,
            })
        }
        Some(v1::rail::Section::Box(given)) => {
            let v1::BoxSection { height_mm, width_mm, wall_mm } = given;
            Some(RailSection::Box {
                height: height_mm * MM,
                width: width_mm * MM,
                wall: wall_mm * MM,
            })
        }
        None => {
            reader.refuse(path, "a rail without a section", "`channel` or `box`", "");
            None
        }
    }
}

fn reading(reader: &mut Reader, path: &Path<'_>, given: v1::Reading) -> Option<Reading> {
    let v1::Reading { x_mm, thickness } = given;
    let thickness = needed_length(reader, &path.field("thickness"), thickness);
    Some(Reading { x: x_mm * MM, thickness: thickness? })
}
