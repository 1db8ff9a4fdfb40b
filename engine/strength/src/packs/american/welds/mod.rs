//! Fillets at a point, as a run and as a group, groove welds, plugs, detailing.

mod any_fillet;
mod detailing;
#[cfg(test)]
pub(super) mod examples;
mod fillet;
mod groove;
mod lines;
mod plug;
mod plug_detailing;
mod run;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::NotChecked;
use crate::clause::input::{
    FilletInput, GrooveWeldInput, PlugInput, WeldInput, WeldLinesInput, WeldRunInput,
};
use crate::packs::Clauses;

use super::{IN, aisc, d1_1};

pub(super) const WELDS: Clauses<WeldInput> =
    &[&fillet::AnyDirection, &fillet::ByDirection, &fillet::BaseMetal, &fillet::SheetBesideBead];
pub(super) const FILLETS: Clauses<FilletInput> = &[&any_fillet::AnyFillet];
pub(super) const WELD_RUNS: Clauses<WeldRunInput> = &[&run::RunStrength];
pub(super) const WELD_DETAILING: Clauses<WeldRunInput> = &[
    &detailing::LeastLeg,
    &detailing::LegAtEdge,
    &detailing::LeastLength,
    &detailing::StitchLength,
    &detailing::StitchGapTension,
    &detailing::StitchGapCompression,
    &detailing::LeastLap,
    &detailing::FitUp,
    &detailing::Undercut,
];
pub(super) const WELD_LINES: Clauses<WeldLinesInput> =
    &[&lines::Lines, &lines::BaseMetalOfLines, &lines::BarOfLines];
pub(super) const GROOVE_WELDS: Clauses<GrooveWeldInput> =
    &[&groove::GroovePulled, &groove::GrooveSheared, &groove::LeastGroove];
pub(super) const PLUGS: Clauses<PlugInput> = &[&plug::PlugShear, &plug::SheetAroundPlug];
pub(super) const PLUG_DETAILING: Clauses<PlugInput> = &[
    &plug_detailing::LeastHole,
    &plug_detailing::LargestHole,
    &plug_detailing::Spacing,
    &plug_detailing::SpacingAlong,
    &plug_detailing::SlotLength,
];

/// Fit-up of fillets: 5.22.1 up to the edition of 2010, 5.21.1 in 2015, 7.21.1 in 2020.
const FIT_UP: Source = d1_1("fit-up of fillet welds");

/// Records and returns the effective throat of an equal-leg fillet. A gap over 1/16 in is taken off
/// the leg, as AWS D1.1 has the leg enlarged by it; over 3/16 in there is no weld to speak of.
fn throat(z: f64, gap: f64, trace: &mut Trace) -> Result<f64, NotChecked> {
    if gap > 3.0 / 16.0 * IN || gap >= z {
        return Err(NotChecked::OutOfRange {
            symbol: "gap",
            what: "fit-up gap at the root",
            value: gap,
            dimension: Dimension::Length,
            allowed: "at most 3/16 in and less than the leg: close the gap or weld it otherwise",
        });
    }
    step!(trace, Length, FIT_UP, "leg that counts, a gap over 1/16 in taken off";
        w(z, gap) = if gap > IN / 16.0 { z - gap } else { z });
    step!(trace, Length, aisc("J2.2a"), "effective throat"; t_e(w) = w / sqrt(2.0));
    Ok(t_e)
}
