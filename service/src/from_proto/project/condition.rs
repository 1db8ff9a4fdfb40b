//! What rust and tools have done to a rail.

use fishplate_mounts::describe::{Allowance, Corrosivity, Damage, DamageKind, FaceState};
use fishplate_proto::v1;

use crate::from_proto::Reader;
use crate::from_proto::quantity::side;
use crate::path::Path;
use crate::units::MM;

pub(super) fn corrosion(
    reader: &mut Reader,
    path: &Path<'_>,
    given: v1::Corrosion,
) -> Option<Allowance> {
    let (class, outside, inside) = (given.class(), given.outside(), given.inside());
    let v1::Corrosion { class: _, years, outside: _, inside: _ } = given;
    let class = match class {
        v1::Corrosivity::Unspecified => reader.unset(&path.field("class"), "Corrosivity"),
        v1::Corrosivity::C1 => Some(Corrosivity::C1),
        v1::Corrosivity::C2 => Some(Corrosivity::C2),
        v1::Corrosivity::C3 => Some(Corrosivity::C3),
        v1::Corrosivity::C4 => Some(Corrosivity::C4),
        v1::Corrosivity::C5 => Some(Corrosivity::C5),
        v1::Corrosivity::Cx => Some(Corrosivity::Cx),
    };
    let outside = face(reader, &path.field("outside"), outside);
    let inside = face(reader, &path.field("inside"), inside);
    Some(Allowance { class: class?, years, faces: [outside?, inside?] })
}

fn face(reader: &mut Reader, path: &Path<'_>, given: v1::FaceState) -> Option<FaceState> {
    Some(match given {
        v1::FaceState::Unspecified => return reader.unset(path, "FaceState"),
        v1::FaceState::Sealed => FaceState::Sealed,
        v1::FaceState::Unsealed => FaceState::Unsealed,
        v1::FaceState::Crevice => FaceState::Crevice,
    })
}

pub(super) fn damage(reader: &mut Reader, path: &Path<'_>, given: v1::Damage) -> Option<Damage> {
    let (kind, side) = (given.kind(), side(given.side()));
    let v1::Damage { kind: _, x_mm, side: _ } = given;
    let kind = match kind {
        v1::DamageKind::Unspecified => return reader.unset(&path.field("kind"), "DamageKind"),
        v1::DamageKind::Hole => DamageKind::Hole,
        v1::DamageKind::Crack => DamageKind::Crack,
        v1::DamageKind::Patch => DamageKind::Patch,
    };
    Some(Damage { kind, x: x_mm * MM, side })
}
