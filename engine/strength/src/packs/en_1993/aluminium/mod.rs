//! Aluminium: plates and blocks, bolts that bear on them, fillet welds, flat elements.
//!
//! Welding softens alloys that owe their strength to heat treatment or cold work, in a zone whose
//! width depends on thickness and process. Without the strengths of that zone nothing that is
//! welded is checked.

mod element;
#[cfg(test)]
pub(super) mod examples;
mod plate;
mod ply;
mod weld;

use crate::clause::input::{
    AluminiumElementInput, AluminiumPlateInput, AluminiumPlyInput, AluminiumWeldInput,
};
use crate::packs::pack::Clauses;

pub(super) const ALUMINIUM_PLATES: Clauses<AluminiumPlateInput> = &[
    &plate::Yielding,
    &plate::Breaking,
    &plate::Compression,
    &plate::Bending,
    &plate::BreakingInBending,
    &plate::Together,
];
pub(super) const ALUMINIUM_PLIES: Clauses<AluminiumPlyInput> =
    &[&ply::Bearing, &ply::Punching, &ply::UnderHead];
pub(super) const ALUMINIUM_WELDS: Clauses<AluminiumWeldInput> =
    &[&weld::Throat, &weld::Fusion, &weld::SheetBeside];
pub(super) const ALUMINIUM_ELEMENTS: Clauses<AluminiumElementInput> = &[&element::Element];

/// Modulus of elasticity of aluminium in Pa (EN 1999-1-1:2007, 3.2.5).
const E: f64 = 70e9;
