//! Thin walls of rails: under a foot, pulled by bolts, clamped by a bolt, bridged by a sleeve.

mod clamped;
#[cfg(test)]
pub(super) mod examples;
mod face;
mod sleeve;

pub(in crate::packs::en_1993) use clamped::closed_half;

use crate::clause::input::{ClampedRailInput, SleeveInput, WallInput};
use crate::packs::pack::Clauses;

pub(super) const WALLS: Clauses<WallInput> = &[&face::FaceUnderFoot];
pub(super) const WALL_PULLS: Clauses<WallInput> = &[&face::FacePulledByBolts];
pub(super) const CLAMPED_RAILS: Clauses<ClampedRailInput> =
    &[&clamped::WallUnderWasher, &clamped::WebCrippling];
pub(super) const SLEEVES: Clauses<SleeveInput> = &[&sleeve::SleeveYields];
