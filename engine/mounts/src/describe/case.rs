//! Load cases and factors.

use fishplate_quantity::Acceleration;
use fishplate_quantity::written::Written;

use super::{Place, Side};

/// The kind of a load case.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CaseKind {
    /// Standing on level ground.
    Standing,
    /// The whole car in a vertical field.
    Bump,
    /// The system hanging in its springs.
    Rebound,
    /// Diagonal twist.
    Twist,
    /// Braking forward.
    Brake,
    /// Braking backwards.
    BrakeBackwards,
    /// Full drive forward.
    Drive,
    /// Full drive in reverse, or full recuperation.
    DriveBackwards,
    /// Cornering.
    Corner,
    /// Striking a kerb.
    Kerb,
    /// A pothole, brake locked: force at the ground.
    PotholeBraked,
    /// A pothole edge: force at the wheel centre.
    PotholeEdge,
    /// Cornering and braking.
    CornerAndBrake,
    /// Jacked under the middle of the cradle.
    JackCentre,
    /// Jacked at one wheel.
    JackSide,
    /// On a lift, cradle and wheels hanging.
    Lift,
    /// Towed by an eye on the cradle.
    TowForward,
    /// Pulled rearward by an eye on the cradle.
    TowRearward,
    /// Strapped down, carrier braking.
    TieDownForward,
    /// Strapped down, carrier accelerating.
    TieDownRearward,
    /// Strapped down, carrier cornering.
    TieDownSideways,
    /// A cargo thrown forward.
    RestraintForward,
    /// A cargo thrown rearward.
    RestraintRearward,
    /// A cargo thrown sideways.
    RestraintSideways,
    /// A cargo thrown up.
    RestraintUp,
    /// A cargo pressed down.
    RestraintDown,
}

impl CaseKind {
    /// Whether it throws a cargo against its feet.
    #[must_use]
    pub fn is_restraint(self) -> bool {
        matches!(
            self,
            Self::RestraintForward
                | Self::RestraintRearward
                | Self::RestraintSideways
                | Self::RestraintUp
                | Self::RestraintDown
        )
    }
}

/// How often a case comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CaseClass {
    /// Everyday driving.
    Normal,
    /// Rare.
    Abuse,
    /// Once in a lifetime: a cargo may bend what holds it, but must not come loose.
    Restraint,
}

/// A load case.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadCase {
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: CaseKind,
    /// How often it comes.
    pub class: CaseClass,
    /// The side, where the case has one.
    pub side: Option<Side>,
    /// Vertical field.
    pub field: Option<Written<Acceleration>>,
    /// Braking, cornering or restraint rate.
    pub rate: Option<Written<Acceleration>>,
    /// Braking rate of cornering and braking.
    pub brake_rate: Option<Written<Acceleration>>,
    /// Factor of kerb, twist, jack, lift and tow cases.
    pub factor: Option<Written<f64>>,
    /// Factor of a drive shock.
    pub shock: Option<Written<f64>>,
    /// Grip that replaces the drive's or the brakes' own.
    pub grip: Option<Written<f64>>,
    /// Share of the roll moment taken by the rear axle.
    pub rear_share: Option<Written<f64>>,
    /// Roll stiffness of both axles, in place of `rear_share`.
    pub roll: Option<RollStiffness>,
    /// Where a jack lifts, or an eye is.
    pub at: Option<Place>,
    /// Whether a twist acts without the weight of the car.
    pub pure_couple: bool,
    /// Shock by the rotor: change of wheel speed, rad/s, and its duration, s.
    pub rotor_shock: Option<(f64, f64)>,
    /// Slope of lashing straps against the ground, rad.
    pub strap_slope: Option<f64>,
    /// Pretension of each lashing strap, N.
    pub strap_pretension: Option<f64>,
    /// The cargo that is restrained, as `cargo.battery`; empty in all other cases.
    pub of: String,
}

/// Roll stiffness of both axles: kg, m, N m/rad.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RollStiffness {
    /// Mass of the front axle that is not sprung.
    pub unsprung_front: f64,
    /// Mass of the rear axle that is not sprung.
    pub unsprung_rear: f64,
    /// Height of those masses.
    pub unsprung_height: f64,
    /// Height of the front roll centre.
    pub roll_centre_front: f64,
    /// Height of the rear roll centre.
    pub roll_centre_rear: f64,
    /// Roll stiffness of the front axle.
    pub front: f64,
    /// Roll stiffness of the rear axle.
    pub rear: f64,
}

/// A named set of load cases.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CaseSet {
    /// The ten road cases.
    Road,
}

/// Factors on loads.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Factors {
    /// On loads of everyday cases.
    pub normal: Written<f64>,
    /// On loads of abuse cases.
    pub abuse: Written<f64>,
    /// On loads of restraint cases, which need it.
    pub restraint: Option<Written<f64>>,
}
