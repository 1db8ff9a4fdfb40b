//! Two invented cars with every number of their ten road cases, worked by hand statics outside this
//! code: a light van on a ladder frame with its springs on the frame, and an estate with its springs
//! on the cradle. Factors after Brown, Robertson, Serpento, *Motor Vehicle Structures*, chapter 2,
//! and common practice; each sheet was recomputed by a second program. Good to 1 N and 1 N m (most
//! figures are rounded, a few are cut).

use std::collections::BTreeSet;

use fishplate_solver::group::Vec3;

use super::*;
use crate::describe::{DrivenAxle, Side};

mod sheets;

pub(crate) use sheets::{ESTATE, VAN, VAN_MOUNTS};

/// One line of a sheet: left and right of tyres and body springs, resultant on the cradle system
/// about the mean of the mounts, and the force of the cradle on the body, front left, front right,
/// rear left, rear right.
pub(crate) struct Row {
    pub(crate) case: &'static str,
    pub(crate) tyre: [[f64; 3]; 2],
    pub(crate) spring: [f64; 2],
    pub(crate) force: [f64; 3],
    pub(crate) moment: [f64; 3],
    pub(crate) on_body: [[f64; 3]; 4],
}

pub(crate) fn mm(x: f64, y: f64, z: f64) -> Vec3 {
    Vec3::new(x, y, z) * 1e-3
}

pub(crate) const VAN_POINTS: [[f64; 3]; 4] = [
    [330.0, 480.0, 420.0],
    [330.0, -480.0, 420.0],
    [-290.0, 405.0, 440.0],
    [-290.0, -405.0, 440.0],
];

pub(crate) const ESTATE_POINTS: [[f64; 3]; 4] = [
    [360.0, 510.0, 300.0],
    [360.0, -510.0, 300.0],
    [-260.0, 440.0, 345.0],
    [-260.0, -440.0, 345.0],
];

pub(crate) fn centre(points: &[[f64; 3]; 4]) -> Vec3 {
    points.iter().fold(Vec3::zeros(), |sum, &[x, y, z]| sum + mm(x, y, z)) / 4.0
}

fn drive(torque: f64, ratio: f64, efficiency: f64, grip: f64) -> Drive {
    Drive { axle: DrivenAxle::Rear, torque, ratio, efficiency, grip, rotor_inertia: None }
}

fn brakes(rear_share: f64) -> Brakes {
    Brakes { rear_share, rear_share_backwards: None, grip: 1.1, inboard: false }
}

pub(crate) fn van() -> LoadInput {
    LoadInput {
        vehicle: Vehicle {
            mass: 2050.0,
            wheelbase: 2.35,
            cg_ahead: 0.987,
            cg_height: 0.76,
            cg_left: 0.0,
            rear_offset: 0.0,
            track_rear: 1.42,
            track_front: Some(1.42),
            wheel_radius: 0.31,
            added_masses: Vec::new(),
        },
        drive: Some(drive(250.0, 9.1, 0.96, 0.9)),
        brakes: Some(brakes(0.40)),
        springs: Springs {
            seat: Seat::Body(mm(-60.0, 530.0, 560.0)),
            motion_ratio: 0.72,
            link_share: 0.0,
        },
        cradle: CradleSystem { mass: 145.0, centre: mm(-20.0, 0.0, 330.0), wheel_mass: 46.0 },
        cargo: Vec::new(),
        guessed: BTreeSet::from(["car.cg_height".to_owned()]),
    }
}

pub(crate) fn estate() -> LoadInput {
    LoadInput {
        vehicle: Vehicle {
            mass: 1340.0,
            wheelbase: 2.48,
            cg_ahead: 1.19,
            cg_height: 0.51,
            cg_left: 0.0,
            rear_offset: 0.0,
            track_rear: 1.45,
            track_front: Some(1.45),
            wheel_radius: 0.305,
            added_masses: Vec::new(),
        },
        drive: Some(drive(220.0, 8.6, 0.96, 1.0)),
        brakes: Some(brakes(0.35)),
        springs: Springs { seat: Seat::Cradle, motion_ratio: 0.78, link_share: 0.0 },
        cradle: CradleSystem { mass: 128.0, centre: mm(15.0, 0.0, 320.0), wheel_mass: 38.0 },
        cargo: Vec::new(),
        guessed: BTreeSet::new(),
    }
}

/// The ten road cases, the sided ones on the left.
pub(crate) fn road_case(name: &str, n_y: f64, share: f64) -> CaseKind {
    let side = Side::Left;
    let drive = |shock| CaseKind::Drive { direction: DriveDirection::Forward, shock, grip: None };
    match name {
        "S0" => CaseKind::Standing,
        "V3" => CaseKind::Bump { field: 3.0 },
        "D1" => drive(Shock::None),
        "D2" => drive(Shock::Factor(1.5)),
        "B1" => CaseKind::Brake { rate: 1.1, field: 1.0 },
        "B2" => CaseKind::BrakeBackwards { rate: 0.7, field: 1.0 },
        "C1" => CaseKind::Corner { side, rate: n_y, transfer: RearTransfer::Share(share) },
        "P1" => CaseKind::Pothole { side, field: 2.0, force: PotholeForce::LockedBrake },
        "K1" => CaseKind::Kerb { side, factor: 1.75 },
        "T1" => CaseKind::Twist { side, factor: 1.3, form: TwistForm::OneWheel },
        other => panic!("no road case {other}"),
    }
}

pub(crate) fn van_case(name: &str) -> CaseKind {
    road_case(name, 0.8, 0.55)
}

pub(crate) fn estate_case(name: &str) -> CaseKind {
    road_case(name, 1.0, 0.5)
}
