//! Welds and bolts.

use fishplate_mounts::describe::{
    Bead, Bolt, BoltEnd, FacePreparation, OpinionChoice, Tightening, Weld, WeldNutClass, WeldPath,
    Workmanship,
};
use fishplate_proto::v1;

use super::car::{needed_length, needed_number};
use super::{both, optional, required};
use crate::from_proto::Reader;
use crate::from_proto::quantity::{length, places, side, stress};
use crate::path::Path;
use crate::units::MM;

pub(super) fn weld(reader: &mut Reader, path: &Path<'_>, given: v1::Weld) -> Option<Weld> {
    let (kind, along, only) = (given.bead(), given.along(), side(given.only()));
    let v1::Weld {
        name,
        datums,
        only: _,
        joins,
        bead: _,
        leg,
        plug_diameter,
        both_sides,
        along: _,
        points,
        stitch_on_mm,
        stitch_off_mm,
        sealed,
        gap,
        workmanship,
        fused,
    } = given;
    let workmanship = optional(reader, &path.field("workmanship"), workmanship, self::workmanship);
    let fused = length(reader, &path.field("fused"), fused);
    if let (Some(_), v1::BeadKind::Fillet) = (&fused, kind) {
        reader.refuse(&path.field("fused"), "a fused diameter on a fillet", "only on plugs", "");
        return None;
    }
    let (bead, along) = match kind {
        v1::BeadKind::Unspecified => (reader.unset(&path.field("bead"), "BeadKind"), None),
        v1::BeadKind::Fillet => {
            let leg = needed_length(reader, &path.field("leg"), leg);
            let along = weld_path(reader, &path.field("along"), along);
            (leg.map(|leg| Bead::Fillet { leg, both_sides }), along)
        }
        v1::BeadKind::Plug => {
            let diameter = needed_length(reader, &path.field("plug_diameter"), plug_diameter);
            (diameter.map(|diameter| Bead::Plug { diameter, fused }), Some(WeldPath::Points))
        }
    };
    let stitches =
        both(reader, path, ("stitch_on_mm", stitch_on_mm), ("stitch_off_mm", stitch_off_mm));
    let gap = length(reader, &path.field("gap"), gap);
    Some(Weld {
        name,
        datums,
        only,
        joins,
        bead: bead?,
        along: along?,
        points: places(points),
        stitches: stitches?.map(|(on, off)| (on * MM, off * MM)),
        sealed,
        gap,
        workmanship: workmanship?,
    })
}

pub(super) fn workmanship(
    reader: &mut Reader,
    path: &Path<'_>,
    given: v1::Workmanship,
) -> Option<Workmanship> {
    let v1::Workmanship { quality, welded_by, inspected } = given;
    let quality = needed_number(reader, &path.field("quality"), quality);
    Some(Workmanship { quality: quality?, welded_by, inspected })
}

fn weld_path(reader: &mut Reader, path: &Path<'_>, given: v1::WeldPath) -> Option<WeldPath> {
    Some(match given {
        v1::WeldPath::Unspecified => return reader.unset(path, "WeldPath"),
        v1::WeldPath::Walls => WeldPath::Walls,
        v1::WeldPath::Foot => WeldPath::Foot,
        v1::WeldPath::AllRound => WeldPath::AllRound,
        v1::WeldPath::LongEdges => WeldPath::LongEdges,
        v1::WeldPath::LegX => WeldPath::Leg(0),
        v1::WeldPath::LegY => WeldPath::Leg(1),
        v1::WeldPath::LegZ => WeldPath::Leg(2),
        v1::WeldPath::BothLegs => WeldPath::BothLegs,
        v1::WeldPath::Points => WeldPath::Points,
    })
}

/// A joint on which hand statics is taken.
pub(super) fn opinion(
    reader: &mut Reader,
    path: &Path<'_>,
    given: v1::OpinionChoice,
) -> Option<OpinionChoice> {
    let v1::OpinionChoice { joint, why } = given;
    if joint.is_empty() {
        let allowed = "a weld, bolt or part: `weld.front-foot`";
        reader.refuse(&path.field("joint"), "nothing", allowed, "");
    }
    if why.trim().is_empty() {
        let advice = "the reason stands in the answer";
        reader.refuse(&path.field("why"), "nothing", "why hand statics is taken here", advice);
        return None;
    }
    (!joint.is_empty()).then_some(OpinionChoice { joint, why })
}

pub(super) fn bolt(reader: &mut Reader, path: &Path<'_>, given: v1::Bolt) -> Option<Bolt> {
    let only = side(given.only());
    let faces = match given.faces() {
        v1::FacePreparation::Unspecified => reader.unset(&path.field("faces"), "FacePreparation"),
        v1::FacePreparation::Bare => Some(FacePreparation::Bare),
        v1::FacePreparation::Painted => Some(FacePreparation::Painted),
        v1::FacePreparation::Blasted => Some(FacePreparation::Blasted),
        v1::FacePreparation::Zinc => Some(FacePreparation::Zinc),
    };
    let v1::Bolt {
        name,
        datums,
        only: _,
        thread,
        class,
        through,
        at,
        hole,
        washer_outside_mm,
        washer_thickness_mm,
        faces: _,
        friction,
        tightening,
        ends,
    } = given;
    let hole = needed_length(reader, &path.field("hole"), hole);
    let washer = both(
        reader,
        path,
        ("washer_outside_mm", washer_outside_mm),
        ("washer_thickness_mm", washer_thickness_mm),
    );
    let friction = needed_number(reader, &path.field("friction"), friction);
    let tightening = required(reader, &path.field("tightening"), tightening, tightening_of);
    let ends = optional(reader, &path.field("ends"), ends, bolt_end);
    Some(Bolt {
        name,
        datums,
        only,
        thread,
        class,
        through,
        at: places(at),
        hole: hole?,
        washer: washer?.map(|(outside, thickness)| (outside * MM, thickness * MM)),
        faces: faces?,
        friction: friction?,
        tightening: tightening?,
        ends: ends?.unwrap_or_default(),
    })
}

fn bolt_end(reader: &mut Reader, path: &Path<'_>, given: v1::BoltEnd) -> Option<BoltEnd> {
    use v1::BoltEndKind as Kind;
    let kind = given.kind();
    let v1::BoltEnd { kind: _, nut_class, outside, length: long, leg, fu } = given;
    let welded = matches!(kind, Kind::WeldNut | Kind::WeldedBoss);
    let sized = welded || kind == Kind::Tapped;
    let mut foreign = false;
    for (field, there, belongs, to) in [
        ("nut_class", !nut_class.is_empty(), kind == Kind::WeldNut, "only on weld nuts"),
        ("outside", outside.is_some(), welded, "only on weld nuts and welded bosses"),
        ("length", long.is_some(), sized, "only on weld nuts, welded bosses and tapped parts"),
        ("leg", leg.is_some(), welded, "only on weld nuts and welded bosses"),
        ("fu", fu.is_some(), kind == Kind::WeldedBoss, "only on welded bosses"),
    ] {
        if there && !belongs && kind != Kind::Unspecified {
            reader.refuse(&path.field(field), "a value on another kind of end", to, "");
            foreign = true;
        }
    }
    if foreign {
        return None;
    }
    match kind {
        Kind::Unspecified => reader.unset(&path.field("kind"), "BoltEndKind"),
        Kind::Nut => Some(BoltEnd::Nut),
        Kind::ThinNut => Some(BoltEnd::ThinNut),
        Kind::WeldNut => {
            let class = match nut_class.as_str() {
                "" => Some(WeldNutClass::Unknown),
                "5" => Some(WeldNutClass::Five),
                "8" => Some(WeldNutClass::Eight),
                "10" => Some(WeldNutClass::Ten),
                other => {
                    let found = format!("\"{other}\"");
                    let allowed = "5, 8 or 10, or nothing where nobody knows";
                    reader.refuse(&path.field("nut_class"), found, allowed, "");
                    None
                }
            };
            let size = match (&outside, &long) {
                (None, None) => Some(None),
                _ => {
                    let outside = needed_length(reader, &path.field("outside"), outside);
                    let long = needed_length(reader, &path.field("length"), long);
                    outside.zip(long).map(Some)
                }
            };
            let leg = length(reader, &path.field("leg"), leg);
            Some(BoltEnd::WeldNut { class: class?, size: size?, leg })
        }
        Kind::WeldedBoss => {
            let outside = needed_length(reader, &path.field("outside"), outside);
            let long = needed_length(reader, &path.field("length"), long);
            let leg = needed_length(reader, &path.field("leg"), leg);
            let fu = stress(reader, &path.field("fu"), fu);
            Some(BoltEnd::Boss { outside: outside?, length: long?, leg: leg?, fu })
        }
        Kind::Tapped => {
            let engaged = needed_length(reader, &path.field("length"), long);
            Some(BoltEnd::Tapped { engaged: engaged? })
        }
    }
}

fn tightening_of(
    reader: &mut Reader,
    path: &Path<'_>,
    given: v1::Tightening,
) -> Option<Tightening> {
    let v1::Tightening { method, scatter, thread_friction } = given;
    let scatter = needed_number(reader, &path.field("scatter"), scatter);
    let thread_friction = needed_number(reader, &path.field("thread_friction"), thread_friction);
    Some(Tightening { method, scatter: scatter?, thread_friction: thread_friction? })
}
