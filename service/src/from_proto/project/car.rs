//! The car, its drive and brakes, the cradle and where it is hung.

use fishplate_mounts::describe::{
    AddedMass, Axis, AxleScales, Brakes, Bush, Car, Cargo, CornerScales, Cradle, Drive, DrivenAxle,
    LiftedRear, Mount, SpringSeat, Springs,
};
use fishplate_proto::v1;

use super::{list, optional, required};
use crate::from_proto::Reader;
use crate::from_proto::quantity::{
    length, mass, number, place, side, stiffness, torque, turning_stiffness,
};
use crate::path::Path;

pub(super) fn car(reader: &mut Reader, path: &Path<'_>, given: v1::Car) -> Option<Car> {
    let v1::Car {
        mass: weight,
        wheelbase,
        cg_ahead,
        cg_height,
        front_track,
        rear_track,
        wheel_radius,
        corner_scales,
        axle_scales,
        lifted,
        added_masses,
    } = given;
    let weight = mass(reader, &path.field("mass"), weight);
    let wheelbase = needed_length(reader, &path.field("wheelbase"), wheelbase);
    let cg_ahead = length(reader, &path.field("cg_ahead"), cg_ahead);
    let cg_height = length(reader, &path.field("cg_height"), cg_height);
    let front_track = length(reader, &path.field("front_track"), front_track);
    let rear_track = needed_length(reader, &path.field("rear_track"), rear_track);
    let wheel_radius = needed_length(reader, &path.field("wheel_radius"), wheel_radius);
    let corner_scales =
        optional(reader, &path.field("corner_scales"), corner_scales, corner_scales_of);
    let axle_scales = optional(reader, &path.field("axle_scales"), axle_scales, axle_scales_of);
    let lifted = optional(reader, &path.field("lifted"), lifted, lifted_rear);
    let added_masses = list(reader, path, "added_masses", added_masses, added_mass);
    Some(Car {
        mass: weight,
        wheelbase: wheelbase?,
        cg_ahead,
        cg_height,
        front_track,
        rear_track: rear_track?,
        wheel_radius: wheel_radius?,
        corner_scales: corner_scales?,
        axle_scales: axle_scales?,
        lifted: lifted?,
        added_masses: added_masses?,
    })
}

fn corner_scales_of(
    reader: &mut Reader,
    path: &Path<'_>,
    given: v1::CornerScales,
) -> Option<CornerScales> {
    let v1::CornerScales { front_left, front_right, rear_left, rear_right } = given;
    let front_left = needed_mass(reader, &path.field("front_left"), front_left);
    let front_right = needed_mass(reader, &path.field("front_right"), front_right);
    let rear_left = needed_mass(reader, &path.field("rear_left"), rear_left);
    let rear_right = needed_mass(reader, &path.field("rear_right"), rear_right);
    Some(CornerScales {
        front_left: front_left?,
        front_right: front_right?,
        rear_left: rear_left?,
        rear_right: rear_right?,
    })
}

fn axle_scales_of(
    reader: &mut Reader,
    path: &Path<'_>,
    given: v1::AxleScales,
) -> Option<AxleScales> {
    let v1::AxleScales { front, rear } = given;
    let front = needed_mass(reader, &path.field("front"), front);
    let rear = needed_mass(reader, &path.field("rear"), rear);
    Some(AxleScales { front: front?, rear: rear? })
}

fn lifted_rear(reader: &mut Reader, path: &Path<'_>, given: v1::LiftedRear) -> Option<LiftedRear> {
    let v1::LiftedRear { lift, front_gain } = given;
    let lift = needed_length(reader, &path.field("lift"), lift);
    let front_gain = needed_mass(reader, &path.field("front_gain"), front_gain);
    Some(LiftedRear { lift: lift?, front_gain: front_gain? })
}

fn added_mass(reader: &mut Reader, path: &Path<'_>, given: v1::AddedMass) -> Option<AddedMass> {
    let v1::AddedMass { name, mass, at } = given;
    let mass = needed_mass(reader, &path.field("mass"), mass);
    let at = reader.required(&path.field("at"), at).map(place);
    Some(AddedMass { name, mass: mass?, at: at? })
}

pub(super) fn drive(reader: &mut Reader, path: &Path<'_>, given: v1::Drive) -> Option<Drive> {
    let axle = match given.axle() {
        v1::DrivenAxle::Unspecified => reader.unset(&path.field("axle"), "DrivenAxle"),
        v1::DrivenAxle::Rear => Some(DrivenAxle::Rear),
        v1::DrivenAxle::Front => Some(DrivenAxle::Front),
        v1::DrivenAxle::Both => Some(DrivenAxle::Both),
    };
    let v1::Drive { axle: _, torque: peak, ratio, efficiency, grip, rotor_inertia_kg_m2 } = given;
    let at = path.field("torque");
    let peak = reader.required(&at, peak);
    let torque = torque(reader, &at, peak);
    let ratio = needed_number(reader, &path.field("ratio"), ratio);
    let efficiency = needed_number(reader, &path.field("efficiency"), efficiency);
    let grip = needed_number(reader, &path.field("grip"), grip);
    Some(Drive {
        axle: axle?,
        torque: torque?,
        ratio: ratio?,
        efficiency: efficiency?,
        grip: grip?,
        rotor_inertia: rotor_inertia_kg_m2,
    })
}

pub(super) fn brakes(reader: &mut Reader, path: &Path<'_>, given: v1::Brakes) -> Option<Brakes> {
    let v1::Brakes { rear_share, rear_share_backwards, grip, inboard } = given;
    let rear_share = needed_number(reader, &path.field("rear_share"), rear_share);
    let backwards = number(reader, &path.field("rear_share_backwards"), rear_share_backwards);
    let grip = needed_number(reader, &path.field("grip"), grip);
    Some(Brakes { rear_share: rear_share?, rear_share_backwards: backwards, grip: grip?, inboard })
}

pub(super) fn springs(reader: &mut Reader, path: &Path<'_>, given: v1::Springs) -> Option<Springs> {
    let seat_on = match given.seat_on() {
        v1::SpringSeat::Unspecified => reader.unset(&path.field("seat_on"), "SpringSeat"),
        v1::SpringSeat::Body => Some(SpringSeat::Body),
        v1::SpringSeat::Cradle => Some(SpringSeat::Cradle),
    };
    let v1::Springs { seat_on: _, seat, motion_ratio } = given;
    let motion_ratio = number(reader, &path.field("motion_ratio"), motion_ratio);
    Some(Springs { seat_on: seat_on?, seat: seat.map(place), motion_ratio })
}

pub(super) fn cradle(reader: &mut Reader, path: &Path<'_>, given: v1::Cradle) -> Option<Cradle> {
    let v1::Cradle { mass, centre, wheel_mass } = given;
    let mass = needed_mass(reader, &path.field("mass"), mass);
    let centre = reader.required(&path.field("centre"), centre).map(place);
    let wheel_mass = needed_mass(reader, &path.field("wheel_mass"), wheel_mass);
    Some(Cradle { mass: mass?, centre: centre?, wheel_mass: wheel_mass? })
}

pub(super) fn cargo(reader: &mut Reader, path: &Path<'_>, given: v1::Cargo) -> Option<Cargo> {
    let v1::Cargo { name, mass, centre, weighed } = given;
    let mass = needed_mass(reader, &path.field("mass"), mass);
    let centre = reader.required(&path.field("centre"), centre).map(place);
    let weighed = reader.required(&path.field("weighed"), weighed);
    Some(Cargo { name, mass: mass?, centre: centre?, weighed: weighed? })
}

pub(super) fn bush(reader: &mut Reader, path: &Path<'_>, given: v1::Bush) -> Option<Bush> {
    let axis = match given.axis() {
        v1::Axis::Unspecified => reader.unset(&path.field("axis"), "Axis"),
        v1::Axis::X => Some(Axis::X),
        v1::Axis::Y => Some(Axis::Y),
        v1::Axis::Z => Some(Axis::Z),
    };
    let v1::Bush { name, axis: _, radial, axial, torsional, conical, stop, stop_rate } = given;
    let at = path.field("radial");
    let radial = reader.required(&at, radial);
    let radial = stiffness(reader, &at, radial);
    let at = path.field("axial");
    let axial = reader.required(&at, axial);
    let axial = stiffness(reader, &at, axial);
    let torsional = turning_stiffness(reader, &path.field("torsional"), torsional);
    let conical = turning_stiffness(reader, &path.field("conical"), conical);
    let stop = length(reader, &path.field("stop"), stop);
    let stop_rate = stiffness(reader, &path.field("stop_rate"), stop_rate);
    Some(Bush {
        name,
        axis: axis?,
        radial: radial?,
        axial: axial?,
        torsional,
        conical,
        stop,
        stop_rate,
    })
}

pub(super) fn mount(reader: &mut Reader, path: &Path<'_>, given: v1::Mount) -> Option<Mount> {
    let only = side(given.only());
    let v1::Mount { name, at, bush, lands, seat, fit_up_gap, only: _, carries } = given;
    let at = reader.required(&path.field("at"), at).map(place);
    let seat = length(reader, &path.field("seat"), seat);
    let fit_up_gap = length(reader, &path.field("fit_up_gap"), fit_up_gap);
    Some(Mount { name, at: at?, bush, lands, seat, fit_up_gap, only, carries, lost: None })
}

pub(super) fn needed_length(
    reader: &mut Reader,
    path: &Path<'_>,
    given: Option<v1::Length>,
) -> Option<fishplate_mounts::describe::WrittenLength> {
    required(reader, path, given, |reader, path, given| length(reader, path, Some(given)))
}

fn needed_mass(
    reader: &mut Reader,
    path: &Path<'_>,
    given: Option<v1::Mass>,
) -> Option<fishplate_mounts::describe::WrittenMass> {
    required(reader, path, given, |reader, path, given| mass(reader, path, Some(given)))
}

pub(super) fn needed_number(
    reader: &mut Reader,
    path: &Path<'_>,
    given: Option<v1::Number>,
) -> Option<fishplate_quantity::written::Written<f64>> {
    required(reader, path, given, |reader, path, given| number(reader, path, Some(given)))
}
