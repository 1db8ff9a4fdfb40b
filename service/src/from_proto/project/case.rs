//! Load cases and factors.

use fishplate_mounts::describe::{CaseClass, CaseKind, Factors, LoadCase, RollStiffness};
use fishplate_proto::v1;

use super::both;
use super::car::needed_number;
use crate::from_proto::Reader;
use crate::from_proto::quantity::{acceleration, number, place, side};
use crate::path::Path;
use crate::units::{DEG, MM, NMM};

pub(super) fn load_case(
    reader: &mut Reader,
    path: &Path<'_>,
    given: v1::LoadCase,
) -> Option<LoadCase> {
    let (kind, class) = (given.kind(), given.class());
    let kind = case_kind(reader, &path.field("kind"), kind);
    let class = match class {
        v1::CaseClass::Unspecified => reader.unset(&path.field("class"), "CaseClass"),
        v1::CaseClass::Normal => Some(CaseClass::Normal),
        v1::CaseClass::Abuse => Some(CaseClass::Abuse),
        v1::CaseClass::Restraint => Some(CaseClass::Restraint),
    };
    let side = side(given.side());
    let v1::LoadCase {
        name,
        kind: _,
        class: _,
        side: _,
        field,
        rate,
        brake_rate,
        factor,
        shock,
        grip,
        rear_share,
        roll,
        at,
        pure_couple,
        wheel_speed_change_rad_per_s,
        change_duration_s,
        strap_slope_deg,
        strap_pretension_n,
        of,
    } = given;
    let field = acceleration(reader, &path.field("field"), field);
    let rate = acceleration(reader, &path.field("rate"), rate);
    let brake_rate = acceleration(reader, &path.field("brake_rate"), brake_rate);
    let factor = number(reader, &path.field("factor"), factor);
    let shock = number(reader, &path.field("shock"), shock);
    let grip = number(reader, &path.field("grip"), grip);
    let rear_share = number(reader, &path.field("rear_share"), rear_share);
    let rotor_shock = both(
        reader,
        path,
        ("wheel_speed_change_rad_per_s", wheel_speed_change_rad_per_s),
        ("change_duration_s", change_duration_s),
    );
    Some(LoadCase {
        name,
        kind: kind?,
        class: class?,
        side,
        field,
        rate,
        brake_rate,
        factor,
        shock,
        grip,
        rear_share,
        roll: roll.map(roll_stiffness),
        at: at.map(place),
        pure_couple,
        rotor_shock: rotor_shock?,
        strap_slope: strap_slope_deg.map(|slope| slope * DEG),
        strap_pretension: strap_pretension_n,
        of,
    })
}

fn case_kind(reader: &mut Reader, path: &Path<'_>, given: v1::CaseKind) -> Option<CaseKind> {
    use v1::CaseKind as Wire;
    Some(match given {
        Wire::Unspecified => return reader.unset(path, "CaseKind"),
        Wire::Standing => CaseKind::Standing,
        Wire::Bump => CaseKind::Bump,
        Wire::Rebound => CaseKind::Rebound,
        Wire::Twist => CaseKind::Twist,
        Wire::Brake => CaseKind::Brake,
        Wire::BrakeBackwards => CaseKind::BrakeBackwards,
        Wire::Drive => CaseKind::Drive,
        Wire::DriveBackwards => CaseKind::DriveBackwards,
        Wire::Corner => CaseKind::Corner,
        Wire::Kerb => CaseKind::Kerb,
        Wire::PotholeBraked => CaseKind::PotholeBraked,
        Wire::PotholeEdge => CaseKind::PotholeEdge,
        Wire::CornerAndBrake => CaseKind::CornerAndBrake,
        Wire::JackCentre => CaseKind::JackCentre,
        Wire::JackSide => CaseKind::JackSide,
        Wire::Lift => CaseKind::Lift,
        Wire::TowForward => CaseKind::TowForward,
        Wire::TowRearward => CaseKind::TowRearward,
        Wire::TieDownForward => CaseKind::TieDownForward,
        Wire::TieDownRearward => CaseKind::TieDownRearward,
        Wire::TieDownSideways => CaseKind::TieDownSideways,
        Wire::RestraintForward => CaseKind::RestraintForward,
        Wire::RestraintRearward => CaseKind::RestraintRearward,
        Wire::RestraintSideways => CaseKind::RestraintSideways,
        Wire::RestraintUp => CaseKind::RestraintUp,
        Wire::RestraintDown => CaseKind::RestraintDown,
    })
}

fn roll_stiffness(given: v1::RollStiffness) -> RollStiffness {
    let v1::RollStiffness {
        unsprung_front_kg,
        unsprung_rear_kg,
        unsprung_height_mm,
        roll_centre_front_mm,
        roll_centre_rear_mm,
        front_nmm_per_rad,
        rear_nmm_per_rad,
    } = given;
    RollStiffness {
        unsprung_front: unsprung_front_kg,
        unsprung_rear: unsprung_rear_kg,
        unsprung_height: unsprung_height_mm * MM,
        roll_centre_front: roll_centre_front_mm * MM,
        roll_centre_rear: roll_centre_rear_mm * MM,
        front: front_nmm_per_rad * NMM,
        rear: rear_nmm_per_rad * NMM,
    }
}

pub(super) fn factors(reader: &mut Reader, path: &Path<'_>, given: v1::Factors) -> Option<Factors> {
    let v1::Factors { normal, abuse, restraint } = given;
    let normal = needed_number(reader, &path.field("normal"), normal);
    let abuse = needed_number(reader, &path.field("abuse"), abuse);
    let restraint = number(reader, &path.field("restraint"), restraint);
    Some(Factors { normal: normal?, abuse: abuse?, restraint })
}
