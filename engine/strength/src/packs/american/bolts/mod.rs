//! Bolts: one bolt in one ply, groups, plies, prying, detailing.
//!
//! Thread stripping and preload by torque are not in AISC 360; those lists stay silent.
//! What a bolt was made to is not asked: SAE J429 grades 5 and 8 have the strengths of ASTM A449 and
//! A354 BD, which AISC 360 A3.3 lists, and take the same factors.

mod angle;
mod bearing;
mod detailing;
#[cfg(test)]
pub(super) mod examples;
mod plies;
mod prying;
mod shear;
mod slip;
mod tension;

use crate::clause::Applicability;
use crate::clause::input::{AngleLegInput, BoltGroupInput, BoltInput, BoltedPlyInput, TStubInput};
use crate::packs::Clauses;

use super::{KSI, sheet};

pub(super) use shear::shear_demand;

pub(super) const BOLTS: Clauses<BoltInput> = &[
    &tension::Tension,
    &shear::Shear,
    &tension::ShearAndTension,
    &bearing::Bearing,
    &sheet::bolts::BearingSheet,
    &sheet::bolts::StretchSheet,
    &sheet::bolts::TearOutSheet,
    &slip::SlipCritical,
    &slip::SlipTorque,
    &slip::LeastPretension,
];
pub(super) const BOLT_DETAILING: Clauses<BoltInput> = &[
    &detailing::EndDistance,
    &detailing::EdgeDistance,
    &detailing::SpacingAlong,
    &detailing::SpacingAcross,
    &detailing::LargestEdgeDistance,
    &detailing::LargestSpacing,
    &sheet::bolts::SheetEdge,
    &sheet::bolts::SheetSpacing,
];
pub(super) const BOLT_GROUPS: Clauses<BoltGroupInput> = &[&shear::Group];
pub(super) const BOLTED_PLIES: Clauses<BoltedPlyInput> = &[
    &plies::GrossTension,
    &plies::NetTension,
    &plies::GrossShear,
    &plies::NetShear,
    &plies::BlockShear,
];
pub(super) const ANGLE_LEGS: Clauses<AngleLegInput> = &[&angle::AngleByOneLeg];
pub(super) const T_STUBS: Clauses<TStubInput> = &[&prying::Prying];

/// The factors of Table J3.2 are those of threaded parts up to group 150 (A490 with 150 ksi; its
/// metric kin, class 10.9, has 1040 MPa: ASTM F3125, from memory).
fn in_table_j3_2(input: &BoltInput) -> Applicability {
    Applicability::within(input.f_ub <= 151.0 * KSI, || {
        "the bolt is stronger than group 150 of AISC 360 Table J3.2".to_owned()
    })
}
