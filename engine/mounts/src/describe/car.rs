//! The car, its drive and brakes, the cradle and where it is hung.

use fishplate_quantity::written::Written;
use fishplate_quantity::{Moment, Stiffness, TurningStiffness};

use super::{Place, Side, WrittenLength, WrittenMass};

/// The car as it stands on its wheels, laden.
#[derive(Debug, Clone, PartialEq)]
pub struct Car {
    /// Mass; from the scales where they are given.
    pub mass: Option<WrittenMass>,
    /// Distance of the axles.
    pub wheelbase: WrittenLength,
    /// Centre of gravity ahead of the rear axle; from the scales where they are given.
    pub cg_ahead: Option<WrittenLength>,
    /// Centre of gravity above the ground; from the lifted rear where it is given.
    pub cg_height: Option<WrittenLength>,
    /// Distance of the front wheels' planes.
    pub front_track: Option<WrittenLength>,
    /// Distance of the rear wheels' planes.
    pub rear_track: WrittenLength,
    /// Wheel centre above the ground under load.
    pub wheel_radius: WrittenLength,
    /// Readings of four scales.
    pub corner_scales: Option<CornerScales>,
    /// Readings under each axle.
    pub axle_scales: Option<AxleScales>,
    /// The rear lifted, for the height of the centre of gravity.
    pub lifted: Option<LiftedRear>,
    /// Masses added after the weighing.
    pub added_masses: Vec<AddedMass>,
}

/// Readings of four scales, level car.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CornerScales {
    /// Front left.
    pub front_left: WrittenMass,
    /// Front right.
    pub front_right: WrittenMass,
    /// Rear left.
    pub rear_left: WrittenMass,
    /// Rear right.
    pub rear_right: WrittenMass,
}

/// Readings under each axle, level car.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxleScales {
    /// Front axle.
    pub front: WrittenMass,
    /// Rear axle.
    pub rear: WrittenMass,
}

/// The rear lifted with locked suspension and free wheels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LiftedRear {
    /// How far the rear wheels were lifted.
    pub lift: WrittenLength,
    /// How much the front scales gained.
    pub front_gain: WrittenMass,
}

/// A mass added after the weighing.
#[derive(Debug, Clone, PartialEq)]
pub struct AddedMass {
    /// Its name.
    pub name: String,
    /// How much.
    pub mass: WrittenMass,
    /// Where its centre is.
    pub at: Place,
}

/// Which axle is driven.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DrivenAxle {
    /// The rear axle.
    Rear,
    /// The front axle.
    Front,
    /// Both axles.
    Both,
}

/// The drive unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drive {
    /// Which axle it drives.
    pub axle: DrivenAxle,
    /// Peak torque of the motor.
    pub torque: Written<Moment>,
    /// Motor turns for one turn of the wheel.
    pub ratio: Written<f64>,
    /// Efficiency of the gears.
    pub efficiency: Written<f64>,
    /// Grip of the driven tyres.
    pub grip: Written<f64>,
    /// Moment of inertia of the rotor, kg m².
    pub rotor_inertia: Option<f64>,
}

/// The brakes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Brakes {
    /// Share of the braking force at the rear axle.
    pub rear_share: Written<f64>,
    /// The same when reversing; as forward where not given.
    pub rear_share_backwards: Option<Written<f64>>,
    /// Grip of the braked tyres.
    pub grip: Written<f64>,
    /// Whether they sit on the cradle and not at the wheels.
    pub inboard: bool,
}

/// Which body carries the spring seats: it flips the sign of the mount force.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpringSeat {
    /// The old car's body or frame.
    Body,
    /// The cradle.
    Cradle,
}

/// The springs of the axle that the cradle carries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Springs {
    /// Which body the upper seats are on.
    pub seat_on: SpringSeat,
    /// Upper seat on the left; needed on the body.
    pub seat: Option<Place>,
    /// Spring travel for wheel travel; needed on the body.
    pub motion_ratio: Option<Written<f64>>,
}

/// The cradle with everything that hangs on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cradle {
    /// Mass without wheels.
    pub mass: WrittenMass,
    /// Centre of that mass.
    pub centre: Place,
    /// Mass of one wheel with hub, brake and half the links.
    pub wheel_mass: WrittenMass,
}

/// A rigid mass on feet of its own, such as a battery box.
#[derive(Debug, Clone, PartialEq)]
pub struct Cargo {
    /// The name that mounts and cases use.
    pub name: String,
    /// Its mass with everything inside.
    pub mass: WrittenMass,
    /// Centre of that mass.
    pub centre: Place,
    /// Whether it was in the car when the car was weighed; else it is added to the car.
    pub weighed: bool,
}

/// An axis of the car.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Axis {
    /// Forward.
    X,
    /// Left.
    Y,
    /// Up.
    Z,
}

impl Axis {
    /// 0, 1 or 2.
    #[must_use]
    pub fn index(self) -> usize {
        match self {
            Self::X => 0,
            Self::Y => 1,
            Self::Z => 2,
        }
    }
}

/// A bush, or a rigid mount given by the stiffness of what is around it.
#[derive(Debug, Clone, PartialEq)]
pub struct Bush {
    /// The name that mounts use.
    pub name: String,
    /// Direction of its bolt.
    pub axis: Axis,
    /// Stiffness across the axis.
    pub radial: Written<Stiffness>,
    /// Stiffness along the axis.
    pub axial: Written<Stiffness>,
    /// Stiffness against turning about its axis.
    pub torsional: Option<Written<TurningStiffness>>,
    /// Stiffness against tilting.
    pub conical: Option<Written<TurningStiffness>>,
    /// Travel before its stop closes.
    pub stop: Option<WrittenLength>,
    /// Stiffness that the closed stop adds.
    pub stop_rate: Option<Written<Stiffness>>,
}

/// A point where the cradle, or a cargo, meets the car.
#[derive(Debug, Clone, PartialEq)]
pub struct Mount {
    /// Its name.
    pub name: String,
    /// Centre of the bush, left side.
    pub at: Place,
    /// The bush.
    pub bush: String,
    /// The joint or part that the bush lands on; empty where only its force is asked for.
    pub lands: String,
    /// Height of the bush centre above the clamped face.
    pub seat: Option<WrittenLength>,
    /// Gap along the bush axis that bolting up closes and locks in.
    pub fit_up_gap: Option<WrittenLength>,
    /// Only on one side.
    pub only: Option<Side>,
    /// What it carries, as `cargo.battery`; empty for the cradle.
    pub carries: String,
    /// What of it is lost on which side, in a study of what happens then; a project never says so.
    pub lost: Option<(Side, Loss)>,
}

/// What of a mount is lost.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Loss {
    /// Its bush has no stiffness any more; its stop still closes.
    Bush,
    /// It carries nothing.
    Mount,
}
