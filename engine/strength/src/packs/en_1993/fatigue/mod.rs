//! Parts under repeated stress: details, weld roots, bolts, structural stress at weld toes.
//!
//! Rows of EN 1993-1-9 and of the IIW Recommendations stand side by side for the same spectrum.

mod bolt;
mod curve;
mod detail;
#[cfg(test)]
pub(super) mod examples;
mod hot_spot;
mod iiw_detail;
mod life;
mod root;

use crate::clause::input::{FatigueBoltInput, FatigueDetailInput, FatigueRootInput, HotSpotInput};
use crate::packs::pack::Clauses;

use hot_spot::{Geometric, HotSpot};

pub(super) const FATIGUE_DETAILS: Clauses<FatigueDetailInput> = &[
    &detail::NormalDamage,
    &detail::NormalRange,
    &detail::ShearDamage,
    &detail::ShearRange,
    &detail::BothDamage,
    &detail::ElasticRange,
    &iiw_detail::NormalDamage,
    &iiw_detail::ShearDamage,
    &iiw_detail::Both,
];
pub(super) const FATIGUE_ROOTS: Clauses<FatigueRootInput> = &[&root::Root, &root::RootIiw];
pub(super) const FATIGUE_BOLTS: Clauses<FatigueBoltInput> =
    &[&bolt::Tension, &bolt::Endurance, &bolt::ShankShear];
pub(super) const HOT_SPOTS: Clauses<HotSpotInput> =
    &[&HotSpot::Linear, &HotSpot::Quadratic, &HotSpot::Coarse, &HotSpot::Edge, &Geometric];
