//! The kinds of load cases and their parameters. Rates and fields are multiples of gravity.

use fishplate_solver::group::Vec3;

use crate::describe::{RollStiffness, Side};

/// A load case.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CaseKind {
    /// The car at rest on level ground.
    Standing,
    /// The whole car in a vertical field: every force is `field` times that at rest.
    Bump {
        /// 3 for road cars (Brown et al., chapter 2); 2 to 4 in use.
        field: f64,
    },
    /// The system thrown to the end of its droop travel. Taken as a field of −0.5 to −1 (common
    /// practice): every force is `field` times that at rest. The tyre does not pull; its negative
    /// force stands for the pull of the arriving wheels.
    Rebound {
        /// Negative.
        field: f64,
    },
    /// Diagonal twist: the lighter axle stands on one wheel, the couple is reacted at the other
    /// axle. `factor` 1.3 for cars and buses, 1.5 for lorries (Pawlowski 1969, from memory).
    Twist {
        /// The rear wheel that gains load.
        side: Side,
        /// On the wheel loads and the cradle's own weight alike.
        factor: f64,
        /// With the weight of the car or without.
        form: TwistForm,
    },
    /// Braking forward. Wheel loads are those of the field less the load transfer; the rear brakes
    /// give their share, as far as grip allows.
    Brake {
        /// 1.1 for cars (Brown et al., Table 2.4).
        rate: f64,
        /// Vertical field, 1 on the level.
        field: f64,
    },
    /// Braking while reversing: the transfer is onto the rear axle.
    BrakeBackwards {
        /// 0.6 to 0.8, common practice.
        rate: f64,
        /// Vertical field, 1 on the level.
        field: f64,
    },
    /// Full drive: the least of what motor and grip give, times the shock.
    Drive {
        /// Forward, or reverse and full recuperation.
        direction: DriveDirection,
        /// What a sudden onset adds.
        shock: Shock,
        /// Grip in place of the drive's own.
        grip: Option<f64>,
    },
    /// A turn towards `side`: the wheel on that side is the inner one. The lateral force of the
    /// rear axle follows from the yaw balance and is shared as the wheel loads.
    Corner {
        /// The inner side.
        side: Side,
        /// 0.8 to 1.1, or the grip.
        rate: f64,
        /// How much of the roll moment the rear axle takes.
        transfer: RearTransfer,
    },
    /// A turn and braking together. Where the rear tyres cannot give both, both are cut alike to the
    /// grip of the brakes (friction circle of the axle).
    CornerAndBrake {
        /// The inner side.
        side: Side,
        /// 0.7, common practice.
        corner_rate: f64,
        /// 0.7, common practice.
        brake_rate: f64,
        /// How much of the roll moment the rear axle takes.
        transfer: RearTransfer,
    },
    /// A wheel strikes a kerb sideways hard enough to begin to tip the car, times `factor`:
    /// F = factor m g t/(2 h), the rear's part by the yaw balance, all of it on one wheel at the
    /// ground. The cradle's own weight stays at rest, without inertia relief.
    Kerb {
        /// The wheel that strikes; the kerb pushes it inwards.
        side: Side,
        /// 1.75 (Garrett 1953, in Brown et al. page 24); 1.4 in use.
        factor: f64,
    },
    /// One wheel in a pothole: its load in the field and a force rearward. The other wheel and the
    /// cradle's own weight stay at rest, without inertia relief.
    Pothole {
        /// The wheel that falls in.
        side: Side,
        /// On the load of that wheel; 2 in use.
        field: f64,
        /// What pushes rearward, and where.
        force: PotholeForce,
    },
    /// Lifted by a jack on the cradle, which stands for a load of the rear axle at rest; the lifted
    /// wheels hang. A jack under the sill lets the cradle hang instead: use [`CaseKind::Lift`].
    Jack {
        /// What the jack lifts.
        place: JackPlace,
        /// The point of the cradle it lifts at, m.
        at: Vec3,
        /// On the lifted load; 1.5, common practice.
        factor: f64,
    },
    /// The car on a lift: cradle and wheels hang from the mounts and the springs' ends of travel.
    Lift {
        /// 1, or 1.5 with handling, common practice.
        factor: f64,
    },
    /// A towing eye on the cradle, the car at rest and held.
    Tow {
        /// Which way the eye is pulled.
        direction: TowDirection,
        /// The eye, m.
        at: Vec3,
        /// On the weight of the laden car; at least 0.5 (Reg. (EU) 1005/2010).
        factor: f64,
    },
    /// Strapped down by two eyes on the cradle, which hold the whole car; friction is left out.
    TieDown(TieDown),
    /// A cargo thrown against its feet by an acceleration of the car; its weight acts too. The
    /// mounts of the cradle, and the feet of other cargo, carry nothing from it.
    Restraint {
        /// Which way the cargo wants to go.
        direction: RestraintDirection,
        /// 20 forward, 8 sideways for cars and light vans (ISO 12991, Table 1).
        rate: f64,
        /// The cargo, by its place in the project.
        cargo: usize,
    },
}

/// Which way a cargo wants to go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RestraintDirection {
    /// Forward: the car is stopped.
    Forward,
    /// Rearward: the car is hit from behind.
    Rearward,
    /// To this side.
    Side(Side),
    /// Up.
    Up,
    /// Down.
    Down,
}

impl RestraintDirection {
    /// The direction in car axes.
    pub(super) fn unit(self) -> Vec3 {
        match self {
            Self::Forward => Vec3::x(),
            Self::Rearward => -Vec3::x(),
            Self::Side(side) => Vec3::y() * side.sign(),
            Self::Up => Vec3::z(),
            Self::Down => -Vec3::z(),
        }
    }
}

/// The car strapped to a carrier.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TieDown {
    /// Which way the car wants to go.
    pub direction: TieDownDirection,
    /// 0.8 forward, 0.5 rearward and sideways (EN 12195-1).
    pub rate: f64,
    /// Left eye, m; its mirror on the right.
    pub eye: Vec3,
    /// Slope of the straps below the horizontal, rad.
    pub slope: f64,
    /// Tension put in by the ratchet, each strap, N.
    pub pretension: f64,
}

/// Twist with or without the weight of the car.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TwistForm {
    /// Wheel loads of the car standing on three wheels.
    OneWheel,
    /// The couple alone (Erz 1957, Pawlowski; Brown et al. page 20).
    PureCouple,
}

/// Which way the drive pushes the car.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DriveDirection {
    /// Forward.
    Forward,
    /// Rearward: reversing, or full recuperation going forward.
    Reverse,
}

/// What a sudden onset of the drive adds. The force of a shock is not cut at the grip limit: the
/// tyre winds up before it slides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shock {
    /// Nothing: a smooth onset.
    None,
    /// A factor on the force; 1.3 to 1.5 without a clutch, 2 with slack, common practice.
    Factor(f64),
    /// The torque that stops the rotor when the wheels' speed changes by `wheel_speed_change`
    /// (rad/s) in `duration` (s): J i² Δω/Δt at the axle, added to the drive's.
    Rotor {
        /// rad/s.
        wheel_speed_change: f64,
        /// s.
        duration: f64,
    },
}

/// How much of the lateral load transfer the rear axle takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RearTransfer {
    /// This share of m a h/t; 0.4 to 0.6, a guess.
    Share(f64),
    /// From roll stiffness and roll centres.
    RollStiffness(RollStiffness),
}

/// What pushes a wheel rearward in a pothole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PotholeForce {
    /// A locked brake: grip of the brakes times the wheel's load, at the ground.
    LockedBrake,
    /// The far edge, without brake: `factor` times the wheel's load at rest, at the height of the
    /// wheel centre; up to 4.5, depending on the size of the wheel.
    Edge {
        /// On the wheel's load at rest.
        factor: f64,
    },
}

/// What a jack on the cradle lifts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JackPlace {
    /// The whole rear axle.
    Middle,
    /// One rear wheel; the other stays on the ground.
    OneSide(Side),
}

/// Which way a towing eye is pulled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TowDirection {
    /// Forward.
    Forward,
    /// Rearward.
    Rearward,
}

/// Which way a strapped car wants to go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TieDownDirection {
    /// Forward: the carrier brakes; both straps hold.
    Forward,
    /// Rearward: the carrier drives off; both straps hold.
    Rearward,
    /// To this side: the strap of the other side holds the rear's part.
    Side(Side),
}

impl CaseKind {
    /// The same case with left and right exchanged.
    #[must_use]
    pub fn mirrored(self) -> Self {
        let mirror = |at: Vec3| Vec3::new(at.x, -at.y, at.z);
        let mut other = self;
        match &mut other {
            Self::Standing
            | Self::Bump { .. }
            | Self::Rebound { .. }
            | Self::Brake { .. }
            | Self::BrakeBackwards { .. }
            | Self::Drive { .. }
            | Self::Lift { .. } => {}
            Self::Twist { side, .. }
            | Self::Corner { side, .. }
            | Self::CornerAndBrake { side, .. }
            | Self::Kerb { side, .. }
            | Self::Pothole { side, .. } => *side = side.other(),
            Self::Jack { place, at, .. } => {
                *at = mirror(*at);
                if let JackPlace::OneSide(side) = place {
                    *side = side.other();
                }
            }
            Self::Tow { at, .. } => *at = mirror(*at),
            Self::TieDown(tie) => {
                if let TieDownDirection::Side(side) = &mut tie.direction {
                    *side = side.other();
                }
            }
            Self::Restraint { direction, .. } => {
                if let RestraintDirection::Side(side) = direction {
                    *side = side.other();
                }
            }
        }
        other
    }
}
