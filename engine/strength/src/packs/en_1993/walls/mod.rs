//! Thin walls of rails: under a foot, pulled by bolts, clamped by a bolt, bridged by a sleeve.

mod clamped;
#[cfg(test)]
pub(super) mod examples;
mod face;
mod fishplate;
mod old;
#[cfg(test)]
pub(super) mod old_examples;
mod sleeve;
mod sleeve_fit;
#[cfg(test)]
pub(super) mod thin_examples;
mod weld_nut;

pub(in crate::packs) use clamped::closed_half;

use crate::clause::input::{
    ClampedRailInput, FishplateInput, OldWallInput, OldWallMeanInput, SleeveFitInput, SleeveInput,
    SteelGradeInput, WallInput, WeldNutInput,
};
use crate::packs::pack::Clauses;

pub(super) const WALLS: Clauses<WallInput> = &[&face::FaceUnderFoot];
pub(super) const WALL_PULLS: Clauses<WallInput> = &[&face::FacePulledByBolts];
pub(super) const CLAMPED_RAILS: Clauses<ClampedRailInput> =
    &[&clamped::WallUnderWasher, &clamped::WebCrippling];
pub(super) const SLEEVES: Clauses<SleeveInput> = &[&sleeve::SleeveYields];
pub(super) const SLEEVE_FITS: Clauses<SleeveFitInput> =
    &[&sleeve_fit::SleeveProud, &sleeve_fit::ShortSleeveBends, &sleeve_fit::ShortSleeveClamps];
pub(super) const WELD_NUTS: Clauses<WeldNutInput> = &[
    &weld_nut::NutBolt,
    &weld_nut::NutStrips,
    &weld_nut::RingWeld,
    &weld_nut::NutPunches,
    &weld_nut::NutBendsFace,
    &weld_nut::NutBendsFan,
    &weld_nut::NutClassEnough,
];
pub(super) const FISHPLATES: Clauses<FishplateInput> = &[
    &fishplate::NotTooThickLight,
    &fishplate::NotTooThickHeavy,
    &fishplate::LongEnough,
    &fishplate::ReachesPast,
    &fishplate::EndTapered,
    &fishplate::EndBlunt,
];
pub(super) const OLD_WALLS: Clauses<OldWallInput> =
    &[&old::WallByReadings, &old::WeldableByReadings];
pub(super) const OLD_WALL_MEANS: Clauses<OldWallMeanInput> =
    &[&old::WallByMean, &old::WeldableByMean];
pub(super) const STEEL_GRADES: Clauses<SteelGradeInput> =
    &[&old::UnknownYield, &old::UnknownTensile, &old::UnknownYieldWide, &old::UnknownTensileWide];
