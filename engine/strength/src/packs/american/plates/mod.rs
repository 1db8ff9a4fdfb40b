//! Plates, tabs, gussets, walls of rails, sleeves.
//!
//! Rails clamped without a sleeve stay silent: the crippling coefficients of AISI S100 are not known
//! here, and without them nothing could be passed.

#[cfg(test)]
pub(super) mod examples;
mod floor;
mod gusset;
mod gusset_plate;
mod point;
#[cfg(test)]
pub(super) mod point_examples;
mod seat;
mod shear_panel;
mod tab;
mod wall;

use crate::clause::input::{
    FloorInput, GussetInput, GussetPlateInput, PlateBucklingInput, PlatePointInput, SeatInput,
    ShearPanelInput, SleeveInput, TabInput, WallInput,
};
use crate::packs::Clauses;

pub(super) const TABS: Clauses<TabInput> =
    &[&tab::FirstYield, &tab::PlasticHinge, &tab::AtHole, &tab::Spread, &tab::Shear];
pub(super) const FLOORS: Clauses<FloorInput> = &[&floor::YieldLines];
pub(super) const GUSSETS: Clauses<GussetInput> = &[&gusset::Strip, &gusset::Polynomial];
pub(super) const GUSSET_PLATES: Clauses<GussetPlateInput> =
    &[&gusset_plate::WhitmoreYield, &gusset_plate::ThorntonBuckling];
pub(super) const SHEAR_PANELS: Clauses<ShearPanelInput> = &[&shear_panel::Panel];
pub(super) const SEATS: Clauses<SeatInput> = &[&seat::Bearing, &seat::Pressure, &seat::Overhang];
pub(super) const WALLS: Clauses<WallInput> = &[&wall::FaceUnderFoot, &wall::PunchingAtFoot];
pub(super) const WALL_PULLS: Clauses<WallInput> = &[&wall::FacePulledByBolts];
pub(super) const SLEEVES: Clauses<SleeveInput> = &[&seat::SleeveYields];
pub(super) const PLATE_POINTS: Clauses<PlatePointInput> =
    &[&point::ThroughThickness, &point::AtFaces];
pub(super) const PLATE_BUCKLING: Clauses<PlateBucklingInput> = &[&point::ColumnCurve];
