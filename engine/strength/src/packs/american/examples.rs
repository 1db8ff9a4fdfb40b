//! What the worked examples of the pack share.

pub(super) use crate::packs::Rules;
pub(super) use crate::packs::american::KIP;
pub(super) use crate::packs::contract::{Example, Examples};

use fishplate_quantity::Provenance;

use crate::clause::{Clause, Origins};

use super::{bolts, fatigue, members, plates, sheet, thin, welds};

pub(super) const EXAMPLES: Examples = Examples {
    bolts: bolts::examples::bolts,
    bolt_detailing: bolts::examples::bolt_detailing,
    bolt_groups: bolts::examples::bolt_groups,
    bolted_plies: bolts::examples::bolted_plies,
    angle_legs: bolts::examples::angle_legs,
    t_stubs: bolts::examples::t_stubs,
    welds: welds::examples::welds,
    fillets: welds::examples::fillets,
    weld_runs: welds::examples::weld_runs,
    weld_detailing: welds::examples::weld_detailing,
    weld_lines: welds::examples::weld_lines,
    groove_welds: welds::examples::groove_welds,
    plugs: welds::examples::plugs,
    plug_detailing: welds::examples::plug_detailing,
    sheet_laps: sheet::examples::sheet_laps,
    spot_welds: sheet::examples::spot_welds,
    arc_spots: sheet::examples::arc_spots,
    stress_categories: fatigue::examples::stress_categories,
    sheet_fasteners: sheet::screw_examples::sheet_fasteners,
    members: members::examples::members,
    flat_cantilevers: members::examples::flat_cantilevers,
    angle_struts: members::examples::angle_struts,
    stress_points: members::examples::stress_points,
    thin_boxes: thin::examples::thin_boxes,
    thin_sections: thin::examples::thin_sections,
    flat_walls: thin::examples::flat_walls,
    elements: thin::examples::elements,
    tabs: plates::examples::tabs,
    floors: plates::examples::floors,
    gussets: plates::examples::gussets,
    gusset_plates: plates::examples::gusset_plates,
    shear_panels: plates::examples::shear_panels,
    plate_points: plates::point_examples::plate_points,
    plate_buckling: plates::point_examples::plate_buckling,
    seats: plates::examples::seats,
    walls: plates::examples::walls,
    wall_pulls: plates::examples::wall_pulls,
    sleeves: plates::examples::sleeves,
    ..Examples::NONE
};

/// Own recomputation of the formula outside this code, printed with five digits.
pub(super) const OWN: &str = "own recomputation, formula from memory of the standard";

pub(super) fn given() -> Origins {
    Origins::all(Provenance::Given("example".to_owned()))
}

/// An edition with load and resistance factors.
pub(super) fn lrfd(edition: &str) -> Rules {
    Rules { edition: Some(edition.to_owned()), ..Rules::RECOMMENDED }
}

/// An edition with allowable strength.
pub(super) fn asd(edition: &str) -> Rules {
    Rules { format: Some("ASD".to_owned()), ..lrfd(edition) }
}

/// An example that has to come out to `tolerance`.
pub(super) fn example<I>(
    clause: &'static dyn Clause<I>,
    input: I,
    (demand, resistance): (f64, f64),
    tolerance: f64,
    source: &'static str,
    rules: Rules,
) -> Example<I> {
    Example { clause, input, demand, resistance, tolerance, source, rules }
}
