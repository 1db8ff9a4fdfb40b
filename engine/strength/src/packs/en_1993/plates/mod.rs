//! Plates bent by a bolt, gussets, faces under heads and washers.

#[cfg(test)]
pub(super) mod examples;
mod floor;
mod gusset;
mod seat;
mod tab;

use crate::clause::input::{FloorInput, GussetInput, SeatInput, TabInput};
use crate::packs::pack::Clauses;

pub(super) const TABS: Clauses<TabInput> =
    &[&tab::FirstYield, &tab::PlasticHinge, &tab::AtHole, &tab::Spread];
pub(super) const FLOORS: Clauses<FloorInput> = &[&floor::YieldLines, &floor::FirstYield];
pub(super) const GUSSETS: Clauses<GussetInput> = &[&gusset::Gusset];
pub(super) const SEATS: Clauses<SeatInput> = &[&seat::Pressure, &seat::Overhang];
