//! Worked examples of the pack, by list.

use fishplate_quantity::Provenance;

use crate::clause::{Factors, Origins};
use crate::packs::contract::Examples;

use super::{aluminium, bolts, fatigue, members, plates, walls, welds};

pub(super) use crate::packs::Rules;
pub(super) use crate::packs::contract::Example;

/// Own recomputation of the formula outside this code, printed with five digits.
pub(super) const OWN: &str = "own recomputation, formula from memory of the standard";

pub(super) const EXAMPLES: Examples = Examples {
    bolts: bolts::examples::bolts,
    bolt_detailing: bolts::examples::bolt_detailing,
    bolt_groups: bolts::examples::bolt_groups,
    bolted_plies: bolts::examples::bolted_plies,
    angle_legs: bolts::examples::angle_legs,
    t_stubs: bolts::examples::t_stubs,
    t_stub_groups: bolts::examples::t_stub_groups,
    sheet_fasteners: bolts::sheet_examples::sheet_fasteners,
    threads: bolts::examples::threads,
    blind_holes: bolts::examples::blind_holes,
    preloaded_joints: bolts::preloaded_examples::preloaded_joints,
    assembly: bolts::examples::assembly,
    welds: welds::examples::welds,
    fillets: welds::any_fillet_examples::fillets,
    weld_runs: welds::examples::weld_runs,
    weld_detailing: welds::examples::weld_detailing,
    weld_making: welds::making_examples::weld_making,
    plugs: welds::examples::plugs,
    plug_detailing: welds::examples::plug_detailing,
    spot_welds: welds::spot_examples::spot_welds,
    sheet_laps: welds::examples::sheet_laps,
    members: members::examples::members,
    angle_struts: members::examples::angle_struts,
    stress_points: members::examples::stress_points,
    thin_boxes: members::examples::thin_boxes,
    thin_sections: members::thin_examples::thin_sections,
    flat_walls: members::thin_examples::flat_walls,
    lipped_channels: members::thin_examples::lipped_channels,
    elements: members::examples::elements,
    tabs: plates::examples::tabs,
    floors: plates::examples::floors,
    gussets: plates::examples::gussets,
    flat_cantilevers: members::thin_examples::flat_cantilevers,
    gusset_edges: plates::examples::gusset_edges,
    gusset_plates: plates::examples::gusset_plates,
    panels: plates::examples::panels,
    shear_panels: plates::examples::shear_panels,
    plate_points: plates::point_examples::plate_points,
    plate_buckling: plates::point_examples::plate_buckling,
    webs: plates::examples::webs,
    seats: plates::examples::seats,
    walls: walls::examples::walls,
    wall_pulls: walls::examples::wall_pulls,
    clamped_rails: walls::examples::clamped_rails,
    sleeves: walls::examples::sleeves,
    aluminium_plates: aluminium::examples::aluminium_plates,
    aluminium_plies: aluminium::examples::aluminium_plies,
    aluminium_welds: aluminium::examples::aluminium_welds,
    aluminium_elements: aluminium::examples::aluminium_elements,
    fatigue_details: fatigue::examples::fatigue_details,
    fatigue_roots: fatigue::examples::fatigue_roots,
    fatigue_bolts: fatigue::examples::fatigue_bolts,
    hot_spots: fatigue::examples::hot_spots,
    groove_welds: welds::groove_examples::groove_welds,
    arc_spots: welds::groove_examples::arc_spots,
    t_butts: welds::groove_examples::t_butts,
    sleeve_fits: walls::thin_examples::sleeve_fits,
    weld_nuts: walls::thin_examples::weld_nuts,
    fishplates: walls::thin_examples::fishplates,
    old_walls: walls::old_examples::old_walls,
    old_wall_means: walls::old_examples::old_wall_means,
    steel_grades: walls::old_examples::steel_grades,
    ..Examples::NONE
};

pub(super) fn given() -> Origins {
    Origins::all(Provenance::Given("example".to_owned()))
}

/// The recommended factors.
pub(super) fn factors() -> Factors {
    super::PACK.factors(&Rules::RECOMMENDED).expect("what a pack recommends it knows")
}
