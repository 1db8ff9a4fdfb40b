//! Fillet welds, plug welds, welds in thin sheet, and the detailing of weld runs.

mod any_fillet;
#[cfg(test)]
pub(super) mod any_fillet_examples;
mod arc_spot;
mod detailing;
#[cfg(test)]
pub(super) mod examples;
mod fillet;
mod groove;
#[cfg(test)]
pub(super) mod groove_examples;
mod making;
#[cfg(test)]
pub(super) mod making_examples;
mod plug;
mod run;
mod sheet_lap;
mod spot;
#[cfg(test)]
pub(super) mod spot_examples;
mod t_butt;

use fishplate_quantity::{Dimension, Trace, step};

use crate::clause::NotChecked;
use crate::clause::input::{
    ArcSpotInput, FilletInput, GrooveWeldInput, PlugInput, SheetLapInput, SpotWeldInput,
    TButtInput, WeldInput, WeldMakingInput, WeldRunInput,
};
use crate::packs::pack::Clauses;

use super::{MM, joints};

pub(super) const WELDS: Clauses<WeldInput> =
    &[&fillet::Simplified, &fillet::Directional, &fillet::SheetBesideBead];
pub(super) const FILLETS: Clauses<FilletInput> = &[
    &any_fillet::AnySimplified,
    &any_fillet::AnyDirectional,
    &any_fillet::AnyThroat,
    &any_fillet::AnyThickest,
    &any_fillet::StatedQuality,
];
pub(super) const SPOT_WELDS: Clauses<SpotWeldInput> = &[
    &spot::SpotTear,
    &spot::SpotEnd,
    &spot::SpotNet,
    &spot::SpotShear,
    &spot::SpotDuctile,
    &spot::SpotLeastEnd,
    &spot::SpotMostEnd,
    &spot::SpotMostEdge,
    &spot::SpotLeastAlong,
    &spot::SpotMostAlong,
    &spot::SpotLeastAcross,
    &spot::SpotMostAcross,
];
pub(super) const WELD_RUNS: Clauses<WeldRunInput> = &[&run::RunStrength];
pub(super) const WELD_DETAILING: Clauses<WeldRunInput> = &[
    &detailing::LeastThroat,
    &detailing::LeastLength,
    &detailing::LegAtEdge,
    &detailing::StitchGapTension,
    &detailing::StitchGapCompression,
    &detailing::StitchAtEnd,
];
pub(super) const GROOVE_WELDS: Clauses<GrooveWeldInput> =
    &[&groove::FullButt, &groove::PartialButt];
pub(super) const T_BUTTS: Clauses<TButtInput> = &[&t_butt::TButt, &t_butt::TButtSlit];
pub(super) const ARC_SPOTS: Clauses<ArcSpotInput> =
    &[&arc_spot::SpotMetal, &arc_spot::SpotSheet, &arc_spot::SpotSize, &arc_spot::SpotEdge];
pub(super) const WELD_MAKING: Clauses<WeldMakingInput> = &[
    &making::RootGap,
    &making::Undercut,
    &making::Misalignment,
    &making::TorchAngle,
    &making::TorchSpace,
    &making::SealedJoint,
];
pub(super) const PLUGS: Clauses<PlugInput> = &[&plug::PlugShear, &plug::SheetAroundPlug];
pub(super) const PLUG_DETAILING: Clauses<PlugInput> = &[&plug::HoleSize];
pub(super) const SHEET_LAPS: Clauses<SheetLapInput> = &[&sheet_lap::SideWeld, &sheet_lap::EndWeld];

/// Records and returns the throat of an equal-leg fillet: the fit-up gap is taken off the leg.
///
/// Gaps above 5 mm are refused, as AWS D1.1 does for fit-up (from memory); EN 1090-2 is stricter.
pub(super) fn throat(z: f64, gap: f64, trace: &mut Trace) -> Result<f64, NotChecked> {
    if gap > 5.0 * MM || gap >= z {
        return Err(NotChecked::OutOfRange {
            symbol: "gap",
            what: "fit-up gap at the root",
            value: gap,
            dimension: Dimension::Length,
            allowed: "at most 5 mm and less than the leg: close the gap or weld it otherwise",
        });
    }
    step!(trace, Length, joints("4.5.2(1)"), "throat, the gap is taken off the leg";
        a(z, gap) = (z - gap) / sqrt(2.0));
    Ok(a)
}
