//! What drives, brakes, springs and hangs on the mounts.

use fishplate_quantity::{Dimension, Faults};
use fishplate_solver::group::Vec3;

use super::LoadInput;
use super::vehicle::within;
use crate::describe::DrivenAxle;

/// The drive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drive {
    /// Which axle it drives. With both the pull is shared as the axle loads of the moment; with the
    /// front axle the cradle feels the load transfer only.
    pub axle: DrivenAxle,
    /// Peak torque of the motor, N m.
    pub torque: f64,
    /// Motor turns for one turn of the wheel.
    pub ratio: f64,
    /// Efficiency of the gears.
    pub efficiency: f64,
    /// Grip of the driven tyres.
    pub grip: f64,
    /// Moment of inertia of the rotor, kg m²; needed by a shock that counts with it.
    pub rotor_inertia: Option<f64>,
}

/// The brakes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Brakes {
    /// Share of the braking force at the rear axle.
    pub rear_share: f64,
    /// The same when reversing; as forward where not given.
    pub rear_share_backwards: Option<f64>,
    /// Grip of the braked tyres.
    pub grip: f64,
    /// Whether the brakes sit on the drive unit or cradle. The mounts cannot tell: the wrench on
    /// the cradle system is the same.
    pub inboard: bool,
}

/// Where the upper spring seats are. It flips the sign of the mount force.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Seat {
    /// On the car's body or frame, at this point (left; its mirror on the right), m: the spring
    /// pushes on the cradle system from outside.
    Body(Vec3),
    /// On the cradle: the spring's force stays inside the cradle system.
    Cradle,
}

/// Springs and dampers of the axle that the cradle carries; dampers have the seats of the springs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Springs {
    /// Which body the upper seats are on.
    pub seat: Seat,
    /// Spring travel for wheel travel.
    pub motion_ratio: f64,
    /// Share of the load transfer of driving and braking that the links take past the springs
    /// (anti-squat, anti-dive): 0 and 1 are the bounds.
    pub link_share: f64,
}

/// What hangs on the mounts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CradleSystem {
    /// Mass of the cradle with all but the wheels, kg.
    pub mass: f64,
    /// Centre of that mass, m.
    pub centre: Vec3,
    /// Mass of one wheel with hub, brake and half its links, kg; at the wheel centre.
    pub wheel_mass: f64,
}

/// A rigid mass on feet of its own.
#[derive(Debug, Clone, PartialEq)]
pub struct Cargo {
    /// Its name.
    pub name: String,
    /// Its mass, kg.
    pub mass: f64,
    /// Centre of that mass, m.
    pub centre: Vec3,
}

/// Adds what cannot be, or cannot be meant, to `faults`.
pub(super) fn check(input: &LoadInput, faults: &mut Faults) {
    use Dimension::{Length, Mass, Moment, Ratio};
    let grip = "grip of a road tyre is 0.7 to 1.2";
    if let Some(drive) = &input.drive {
        within(faults, "drive.torque", drive.torque, Moment, (1.0, 5000.0), "of the motor");
        within(
            faults,
            "drive.ratio",
            drive.ratio,
            Ratio,
            (0.2, 60.0),
            "motor turns per wheel turn",
        );
        within(faults, "drive.efficiency", drive.efficiency, Ratio, (0.3, 1.0), "");
        within(faults, "drive.grip", drive.grip, Ratio, (0.05, 2.0), grip);
        if let Some(inertia) = drive.rotor_inertia {
            within(faults, "drive.rotor_inertia", inertia, Ratio, (1e-4, 10.0), "in kg m²");
        }
    }
    if let Some(brakes) = &input.brakes {
        within(faults, "brakes.rear_share", brakes.rear_share, Ratio, (0.0, 1.0), "");
        if let Some(share) = brakes.rear_share_backwards {
            within(faults, "brakes.rear_share_backwards", share, Ratio, (0.0, 1.0), "");
        }
        within(faults, "brakes.grip", brakes.grip, Ratio, (0.05, 2.0), grip);
    }
    let springs = &input.springs;
    let travel = "spring travel for wheel travel";
    within(faults, "springs.motion_ratio", springs.motion_ratio, Ratio, (0.2, 1.5), travel);
    within(faults, "springs.link_share", springs.link_share, Ratio, (0.0, 1.0), "");
    if let Seat::Body(seat) = springs.seat {
        let reach = input.vehicle.wheelbase;
        within(faults, "springs.seat.x", seat.x, Length, (-reach, reach), "");
        within(faults, "springs.seat.y", seat.y, Length, (0.0, 1.5), "the left seat");
        within(faults, "springs.seat.z", seat.z, Length, (0.0, 2.0), "above the ground");
    }
    let cradle = &input.cradle;
    within(faults, "cradle.mass", cradle.mass, Mass, (5.0, 800.0), "without the wheels");
    within(faults, "cradle.wheel_mass", cradle.wheel_mass, Mass, (5.0, 250.0), "one wheel");
    let hung = cradle.mass + 2.0 * cradle.wheel_mass;
    if hung.is_finite() && hung >= input.vehicle.mass {
        let given = format!("{hung} kg with both wheels");
        faults.add("cradle.mass", given, "less than the mass of the car", "");
    }
    let reach = input.vehicle.wheelbase;
    within(faults, "cradle.centre.x", cradle.centre.x, Length, (-reach, reach), "");
    within(faults, "cradle.centre.y", cradle.centre.y, Length, (-1.0, 1.0), "");
    within(faults, "cradle.centre.z", cradle.centre.z, Length, (0.05, 1.5), "above the ground");
    for (i, cargo) in input.cargo.iter().enumerate() {
        let path = format!("cargo[{i}]");
        within(
            faults,
            &format!("{path}.mass"),
            cargo.mass,
            Mass,
            (1.0, 5000.0),
            "with its contents",
        );
        for (axis, value, range, advice) in [
            ("x", cargo.centre.x, (-5.0, 10.0), ""),
            ("y", cargo.centre.y, (-1.5, 1.5), ""),
            ("z", cargo.centre.z, (0.05, 3.0), "above the ground"),
        ] {
            within(faults, &format!("{path}.centre.{axis}"), value, Length, range, advice);
        }
    }
}
