//! Sheet up to 3/16 in: welds in laps, spots, bolts, screws.

pub(super) mod bolts;
#[cfg(test)]
pub(super) mod examples;
mod lap;
mod resistance_spot;
mod screw;
mod screw_detailing;
#[cfg(test)]
pub(super) mod screw_examples;
mod spot;

use crate::clause::Applicability;
use crate::clause::input::{ArcSpotInput, SheetFastenerInput, SheetLapInput, SpotWeldInput};
use crate::packs::Clauses;

use super::{IN, KSI};

pub(super) const SHEET_LAPS: Clauses<SheetLapInput> = &[&lap::Along, &lap::Across, &lap::Throat];
pub(super) const SHEET_FASTENERS: Clauses<SheetFastenerInput> = &[
    &screw::ScrewSheet,
    &screw::ScrewSheared,
    &screw::ScrewEnd,
    &screw::PullOut,
    &screw::PullOver,
    &screw::ScrewPulled,
    &screw::ShearAndPullOver,
    &screw::ShearAndPullOut,
    &screw_detailing::ScrewSpacing,
    &screw_detailing::ScrewEdge,
];
pub(super) const SPOT_WELDS: Clauses<SpotWeldInput> = &[&resistance_spot::ResistanceSpot];
pub(super) const ARC_SPOTS: Clauses<ArcSpotInput> = &[&spot::Spot, &spot::EdgeOfSpot];

/// AWS D1.3 and chapter J of AISI S100 end at this thickness; from there on AISC 360 speaks alone.
pub(super) const SHEET: f64 = 3.0 / 16.0 * IN;

/// AWS D1.3 ends at this yield strength.
const STRONGEST: f64 = 80.0 * KSI;

/// Inside the scope of the rules for sheet.
pub(super) fn is_sheet(t: f64, f_y: Option<f64>) -> Applicability {
    if t > SHEET + 1e-9 {
        return Applicability::DoesNotApply("the part is thicker than 3/16 in".to_owned());
    }
    Applicability::within(f_y.is_none_or(|f_y| f_y <= STRONGEST), || {
        "AWS D1.3 ends at a yield strength of 80 ksi".to_owned()
    })
}
