//! Worked examples.

use crate::clause::input::*;
use crate::packs::american::examples::Example;

pub(in crate::packs::american) fn sheet_laps() -> Vec<Example<SheetLapInput>> {
    vec![]
}

pub(in crate::packs::american) fn arc_spots() -> Vec<Example<ArcSpotInput>> {
    vec![]
}
