//! Loads: from a weighed car to the forces on everything that hangs on the cradle mounts.
//!
//! The free body is the *cradle system*: cradle, drive unit, links, hubs, brakes, wheels. With that
//! free body the torque of motor, half shafts and brakes is internal; what acts from outside are
//! the tyre forces at the ground, springs whose seat is on the car's body, weight and inertia, and
//! whatever jacks, tows or ties the cradle itself. The mounts balance the rest.
//!
//! * [`vehicle`]: the car's masses and lengths; axle loads.
//! * [`weigh`]: the same from scales.
//! * [`system`]: drive, brakes, springs, cradle.
//! * [`case`](mod@case): the kinds of load cases and their parameters.
//! * `vertical`, `longitudinal`, `lateral`, `pothole`, `handling`: one family of cases each.
//! * [`free_body`]: the forces of a case, and their resultant.
//!
//! Axes: x forward, y left, z up; zero on the ground, in the centre plane, on the rear-axle line.
//! SI units; rates and fields in multiples of [`GRAVITY`]. Load factors that carry no other source
//! are those of Brown, Robertson, Serpento, *Motor Vehicle Structures*, chapter 2, or common
//! practice; they already contain the dynamic magnification.

pub mod case;
mod derivation;
pub mod free_body;
mod handling;
mod lateral;
mod longitudinal;
mod plausible;
mod pothole;
#[cfg(test)]
pub(crate) mod published;
mod restraint;
pub mod system;
#[cfg(test)]
pub(crate) mod tests;
pub mod vehicle;
mod vertical;
pub mod weigh;

use std::collections::BTreeSet;

use fishplate_quantity::{Fault, Trace};
use fishplate_solver::group::Vec3;

pub use crate::describe::{DrivenAxle, RollStiffness};
pub use case::{
    CaseKind, DriveDirection, JackPlace, PotholeForce, RearTransfer, RestraintDirection, Shock,
    TieDown, TieDownDirection, TowDirection, TwistForm,
};
pub use free_body::{Applied, CaseLoads, Pair};
pub use system::{Brakes, Cargo, CradleSystem, Drive, Seat, Springs};
pub use vehicle::{AddedMass, Vehicle};

/// Weight of one kilogram, N: the rounded value that the published load factors go with.
pub const GRAVITY: f64 = 9.81;

/// Everything that loads follow from.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadInput {
    /// The car.
    pub vehicle: Vehicle,
    /// The drive; needed by drive cases.
    pub drive: Option<Drive>,
    /// The brakes; needed by brake cases and a braked pothole.
    pub brakes: Option<Brakes>,
    /// The springs of the axle that the cradle carries.
    pub springs: Springs,
    /// What hangs on the mounts.
    pub cradle: CradleSystem,
    /// Masses on feet of their own.
    pub cargo: Vec<Cargo>,
    /// Paths of the inputs that were guessed: `car.cg_height`.
    pub guessed: BTreeSet<String>,
}

/// The forces of one load case on the cradle system.
///
/// `about` is the point the resultant moment is taken about (m); `trace` is on for a derivation
/// that can be printed, off for batches: the numbers are the same bits.
///
/// # Errors
/// All faults of the input and of the case's parameters.
pub fn derive(
    input: &LoadInput,
    case: &CaseKind,
    about: Vec3,
    trace: Trace,
) -> Result<CaseLoads, Vec<Fault>> {
    let mut faults = fishplate_quantity::Faults::new();
    input.vehicle.check(&mut faults);
    system::check(input, &mut faults);
    case.check(input, &mut faults);
    faults.or(())?;
    let mut d = derivation::Derivation::new(trace, &input.guessed);
    let statics = vehicle::statics(&mut d, &input.vehicle);
    let given = match case {
        CaseKind::Standing => vertical::field(&mut d, &statics, 1.0),
        CaseKind::Bump { field } | CaseKind::Rebound { field } => {
            vertical::field(&mut d, &statics, *field)
        }
        CaseKind::Twist { side, factor, form } => {
            vertical::twist(&mut d, &statics, *side, *factor, *form)
        }
        CaseKind::Brake { rate, field } => {
            longitudinal::brake(&mut d, &statics, input, [*rate, *field], false)
        }
        CaseKind::BrakeBackwards { rate, field } => {
            longitudinal::brake(&mut d, &statics, input, [*rate, *field], true)
        }
        CaseKind::Drive { direction, shock, grip } => {
            longitudinal::drive(&mut d, &statics, input, *direction, shock, *grip)
        }
        CaseKind::Corner { side, rate, transfer } => {
            lateral::corner(&mut d, &statics, *side, *rate, transfer)
        }
        CaseKind::CornerAndBrake { side, corner_rate, brake_rate, transfer } => {
            let rates = [*corner_rate, *brake_rate];
            lateral::corner_and_brake(&mut d, &statics, input, *side, rates, transfer)
        }
        CaseKind::Kerb { side, factor } => lateral::kerb(&mut d, &statics, *side, *factor),
        CaseKind::Pothole { side, field, force } => {
            pothole::pothole(&mut d, &statics, input, *side, *field, force)
        }
        CaseKind::Jack { place, at, factor } => {
            handling::jack(&mut d, &statics, *place, *at, *factor)
        }
        CaseKind::Lift { factor } => handling::lift(&mut d, *factor),
        CaseKind::Tow { direction, at, factor } => {
            handling::tow(&mut d, &statics, *direction, *at, *factor)
        }
        CaseKind::TieDown(tie) => handling::tie_down(&mut d, &statics, tie),
        CaseKind::Restraint { direction, rate, cargo } => {
            let thrown = (direction.unit(), *rate);
            return Ok(restraint::restraint(d, input, &statics, *case, thrown, *cargo, about));
        }
    };
    Ok(free_body::close(d, input, &statics, *case, given, about))
}
