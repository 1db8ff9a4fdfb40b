//! Bolts: one bolt in one ply, groups, plies, threads, preload, detailing.

mod bearing;
mod detailing;
mod engagement;
#[cfg(test)]
pub(super) mod examples;
mod plies;
mod preloaded;
#[cfg(test)]
pub(super) mod preloaded_examples;
mod shear;
#[cfg(test)]
pub(super) mod sheet_examples;
mod sheet_fasteners;
mod slip;
mod t_stub;
mod t_stub_group;
mod tension;
mod threads;

use crate::clause::input::{BoltInput, ClassListing};
use crate::packs::pack::Clauses;

use crate::clause::Applicability;
use crate::clause::input::{
    AngleLegInput, AssemblyInput, BlindHoleInput, BoltGroupInput, BoltedPlyInput,
    PreloadedJointInput, SheetFastenerInput, TStubGroupInput, TStubInput, ThreadInput,
};

pub(super) const BOLTS: Clauses<BoltInput> = &[
    &shear::Shear,
    &bearing::Bearing,
    &bearing::BearingSingleLap,
    &bearing::BearingSheet,
    &tension::Tension,
    &tension::Punching,
    &tension::ShearAndTension,
    &slip::SlipUltimate,
    &slip::SlipServiceability,
    &slip::SlipTorque,
    &slip::Opening,
];
pub(super) const BOLT_DETAILING: Clauses<BoltInput> = &[
    &detailing::EndDistance,
    &detailing::EdgeDistance,
    &detailing::SpacingAlong,
    &detailing::SpacingAcross,
    &detailing::LargestEdgeDistance,
    &detailing::LargestSpacing,
    &detailing::SheetEdgeDistance,
    &detailing::SheetSpacingAlong,
    &detailing::SheetSpacingAcross,
];
pub(super) const BOLT_GROUPS: Clauses<BoltGroupInput> = &[&shear::Group];
pub(super) const BOLTED_PLIES: Clauses<BoltedPlyInput> = &[
    &plies::GrossTension,
    &plies::NetTension,
    &plies::NetTensionSheet,
    &plies::BlockTearing,
    &plies::GrossShear,
    &plies::NetShear,
];
pub(super) const ANGLE_LEGS: Clauses<AngleLegInput> = &[&plies::AngleByOneLeg];
pub(super) const T_STUBS: Clauses<TStubInput> = &[&t_stub::TStub];
pub(super) const T_STUB_GROUPS: Clauses<TStubGroupInput> =
    &[&t_stub_group::TStubGroup, &t_stub_group::GroupBears];
pub(super) const SHEET_FASTENERS: Clauses<SheetFastenerInput> = &[
    &sheet_fasteners::FastenerBearing,
    &sheet_fasteners::FastenerNet,
    &sheet_fasteners::FastenerShear,
    &sheet_fasteners::FastenerPullThrough,
    &sheet_fasteners::ScrewPullOut,
    &sheet_fasteners::FastenerTension,
    &sheet_fasteners::FastenerCombined,
    &sheet_fasteners::FastenerDuctile,
    &sheet_fasteners::FastenerEnd,
    &sheet_fasteners::FastenerEdge,
    &sheet_fasteners::FastenerAlong,
    &sheet_fasteners::FastenerAcross,
];
pub(super) const THREADS: Clauses<ThreadInput> = &[
    &threads::BoltThreadStrips,
    &threads::NutThreadStrips,
    &engagement::BoltThreadStripsInNut,
    &engagement::NutThreadStripsSpread,
    &engagement::BreaksBeforeStripping,
    &engagement::BreaksBeforeStrippingHandbook,
];
pub(super) const BLIND_HOLES: Clauses<BlindHoleInput> =
    &[&engagement::BlindBottom, &engagement::BlindEngagement, &engagement::BlindDrill];
pub(super) const PRELOADED_JOINTS: Clauses<PreloadedJointInput> = &[
    &preloaded::BoltToProof,
    &preloaded::Separation,
    &preloaded::ResidualClamp,
    &preloaded::PreloadTarget,
];
pub(super) const ASSEMBLY: Clauses<AssemblyInput> = &[&threads::YieldWhileTightening];

/// Inside the scope for the classes of EN 1993-1-8:2005, Table 3.1; others are flagged.
fn class_in_table_3_1(input: &BoltInput) -> Applicability {
    let listed = input.class == ClassListing::Listed;
    Applicability::within(listed, || {
        "the property class is not in EN 1993-1-8 Table 3.1; the lower factor 0.5 is used for \
         shear"
            .to_owned()
    })
}
