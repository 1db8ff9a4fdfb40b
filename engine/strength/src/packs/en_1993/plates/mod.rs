//! Plates bent by a bolt, gussets, faces under heads and washers.

#[cfg(test)]
pub(super) mod examples;
mod floor;
mod gusset;
mod gusset_plate;
mod panel;
mod point;
#[cfg(test)]
pub(super) mod point_examples;
mod seat;
mod shear_panel;
mod tab;
mod web;

use crate::clause::input::{
    FloorInput, GussetInput, GussetPlateInput, PanelInput, PlateBucklingInput, PlatePointInput,
    SeatInput, ShearPanelInput, TabInput, WebInput,
};
use crate::packs::pack::Clauses;

pub(super) const TABS: Clauses<TabInput> =
    &[&tab::FirstYield, &tab::PlasticHinge, &tab::AtHole, &tab::Spread];
pub(super) const FLOORS: Clauses<FloorInput> = &[&floor::YieldLines, &floor::FirstYield];
pub(super) const GUSSETS: Clauses<GussetInput> = &[&gusset::Gusset];
pub(super) const SEATS: Clauses<SeatInput> = &[&seat::Pressure, &seat::Overhang];
pub(super) const GUSSET_EDGES: Clauses<GussetInput> = &[&gusset::FreeEdge];
pub(super) const GUSSET_PLATES: Clauses<GussetPlateInput> =
    &[&gusset_plate::Whitmore, &gusset_plate::Thornton];
pub(super) const PANELS: Clauses<PanelInput> = &[&panel::YieldLines, &panel::FirstYield];
pub(super) const SHEAR_PANELS: Clauses<ShearPanelInput> =
    &[&shear_panel::AfterBuckling, &shear_panel::BeforeBuckling];
pub(super) const WEBS: Clauses<WebInput> = &[&web::OneWeb, &web::MoreWebs];
pub(super) const PLATE_POINTS: Clauses<PlatePointInput> =
    &[&point::ThroughThickness, &point::AtFaces];
pub(super) const PLATE_BUCKLING: Clauses<PlateBucklingInput> = &[&point::Reduced];
