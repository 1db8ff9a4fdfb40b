//! The EN 1993 rule pack.
//!
//! | subject | documents |
//! |---|---|
//! | `bolts/` | EN 1993-1-8:2005 section 3 and 6.2.4, EN 1993-1-3:2006 section 8, VDI 2230 and a handbook for preload, FED-STD-H28/2B and Alexander for threads |
//! | `welds/` | EN 1993-1-8:2005 section 4, EN 1993-1-3:2006 sections 8.4 and 8.5, ISO 5817 for how they are made |
//! | `members/` | EN 1993-1-1:2005 sections 5 and 6 with annexes A, B and BB, EN 1993-1-5:2006 sections 4, 5 and 7, EN 1993-1-3:2006 5.5.3 |
//! | `plates/` | elementary plate theory, yield lines, EN 1993-1-8:2005 6.2.5, EN 1993-1-5:2006 section 5, EN 1993-1-3:2006 6.1.7, work on gussets by Whitmore, Thornton, Shakya and Vinnakota, Salmon and Johnson |
//! | `aluminium/` | EN 1999-1-1:2007 sections 6 and 8 |
//! | `fatigue/` | EN 1993-1-9:2005, IIW Recommendations of 2008 and 2016, VDI 2230 for bolts |
//! | `walls/` | EN 1993-1-8:2005 section 7 (chord face), EN 1993-1-3:2006 6.1.7.3; weld nuts, sleeves, fishplates and old steel by mechanics and the practice of the trade |
//!
//! The formulas were written down from memory of the standards and held against worked examples:
//! the file `examples.rs` beside each subject. No sentence of a standard is stored.
//!
//! Where this pack is stricter than the formula it quotes, the clause says so:
//! plates and empty walls under a washer, of which no clause speaks, are checked by the fan of yield
//! lines around it, up to a fifth below the chord-face form (`walls/clamped.rs`,
//! `plates/floor.rs`); biaxial
//! plastic bending has the least exponent (`members/section.rs`); the neutral axis of a thin box
//! is iterated to rest (`members/effective.rs`), of any thin section to rest and once, the smaller
//! section modulus counting (`members/reduced.rs`); walls of a section bent about both axes are classed
//! as compressed throughout (`members/class.rs`); stripping of threads has the factor for fracture,
//! and its corrections for bent threads never exceed 1 (`bolts/engagement.rs`); the bound of the
//! interface of an arc spot is taken from above (`welds/arc_spot.rs`).
//!
//! A clause of this pack has one struct, one line in the list of its subject and at least one
//! example; `packs/contract.rs` holds the clauses of every pack to the same promises.

mod aluminium;
mod bolts;
#[cfg(test)]
mod examples;
mod factors;
mod fatigue;
mod members;
mod plates;
mod walls;
mod welds;

use fishplate_quantity::{Dimension, Provenance, Source, Trace};

use super::Pack;

pub(super) use walls::closed_half;

/// The pack.
pub static PACK: Pack = Pack {
    id: "EN 1993",
    title: "Eurocode 3, steel structures",
    scope: "Steel parts joined by bolts and arc welds, static strength, buckling of members and \
            flat elements, slip of clamped joints, fatigue by nominal and structural stress, plates \
            and fillet welds of aluminium. Not covered: fire, brittle fracture, aluminium members, \
            compression with bending of angles, twist of angles bent about both axes, lips of bent \
            sections, round tubes that buckle as shells.",
    editions: factors::EDITIONS,
    formats: factors::FORMATS,
    nationals: factors::NATIONALS,
    factors: factors::FACTORS,
    bolts: bolts::BOLTS,
    bolt_detailing: bolts::BOLT_DETAILING,
    bolt_groups: bolts::BOLT_GROUPS,
    bolted_plies: bolts::BOLTED_PLIES,
    angle_legs: bolts::ANGLE_LEGS,
    t_stubs: bolts::T_STUBS,
    t_stub_groups: bolts::T_STUB_GROUPS,
    sheet_fasteners: bolts::SHEET_FASTENERS,
    threads: bolts::THREADS,
    blind_holes: bolts::BLIND_HOLES,
    preloaded_joints: bolts::PRELOADED_JOINTS,
    assembly: bolts::ASSEMBLY,
    welds: welds::WELDS,
    fillets: welds::FILLETS,
    weld_runs: welds::WELD_RUNS,
    weld_detailing: welds::WELD_DETAILING,
    weld_making: welds::WELD_MAKING,
    plugs: welds::PLUGS,
    plug_detailing: welds::PLUG_DETAILING,
    spot_welds: welds::SPOT_WELDS,
    sheet_laps: welds::SHEET_LAPS,
    members: members::MEMBERS,
    angle_struts: members::ANGLE_STRUTS,
    stress_points: members::STRESS_POINTS,
    thin_boxes: members::THIN_BOXES,
    thin_sections: members::THIN_SECTIONS,
    flat_walls: members::FLAT_WALLS,
    lipped_channels: members::LIPPED_CHANNELS,
    elements: members::ELEMENTS,
    tabs: plates::TABS,
    floors: plates::FLOORS,
    gussets: plates::GUSSETS,
    flat_cantilevers: members::FLAT_CANTILEVERS,
    gusset_edges: plates::GUSSET_EDGES,
    gusset_plates: plates::GUSSET_PLATES,
    panels: plates::PANELS,
    shear_panels: plates::SHEAR_PANELS,
    plate_points: plates::PLATE_POINTS,
    plate_buckling: plates::PLATE_BUCKLING,
    webs: plates::WEBS,
    seats: plates::SEATS,
    walls: walls::WALLS,
    wall_pulls: walls::WALL_PULLS,
    clamped_rails: walls::CLAMPED_RAILS,
    sleeves: walls::SLEEVES,
    aluminium_plates: aluminium::ALUMINIUM_PLATES,
    aluminium_plies: aluminium::ALUMINIUM_PLIES,
    aluminium_welds: aluminium::ALUMINIUM_WELDS,
    aluminium_elements: aluminium::ALUMINIUM_ELEMENTS,
    fatigue_details: fatigue::FATIGUE_DETAILS,
    fatigue_roots: fatigue::FATIGUE_ROOTS,
    fatigue_bolts: fatigue::FATIGUE_BOLTS,
    hot_spots: fatigue::HOT_SPOTS,
    groove_welds: welds::GROOVE_WELDS,
    arc_spots: welds::ARC_SPOTS,
    t_butts: welds::T_BUTTS,
    sleeve_fits: walls::SLEEVE_FITS,
    weld_nuts: walls::WELD_NUTS,
    fishplates: walls::FISHPLATES,
    old_walls: walls::OLD_WALLS,
    old_wall_means: walls::OLD_WALL_MEANS,
    steel_grades: walls::STEEL_GRADES,
    #[cfg(test)]
    examples: examples::EXAMPLES,
    ..Pack::SILENT
};

/// Modulus of elasticity of steel in Pa (EN 1993-1-1:2005, 3.2.6).
const E: f64 = 210e9;

/// Shear modulus of steel in Pa: E / (2 (1 + 0.3)), which EN 1993-1-1:2005, 3.2.6 rounds to 81 GPa.
const G: f64 = E / 2.6;

/// E as an input of a derivation, so that whoever follows it reads its value.
fn e_of_steel(trace: &mut Trace) -> f64 {
    constant(trace, "e_steel", "modulus of elasticity of steel", E)
}

/// G as an input of a derivation.
fn g_of_steel(trace: &mut Trace) -> f64 {
    constant(trace, "g_steel", "shear modulus of steel, E / 2.6", G)
}

/// A stress of EN 1993-1-1, told once in a derivation.
fn constant(trace: &mut Trace, symbol: &'static str, what: &'static str, value: f64) -> f64 {
    if trace.entries().iter().any(|entry| entry.symbol == symbol) {
        return value;
    }
    trace.input(symbol, what, Dimension::Stress, value, || {
        Provenance::Table("EN 1993-1-1:2005, 3.2.6".to_owned())
    })
}

/// Units in which the standards write their fixed numbers, so that a printed formula shows them.
const MM: f64 = 1e-3;
const MPA: f64 = 1e6;
const DEGREE: f64 = std::f64::consts::PI / 180.0;

const SQRT_3: f64 = 1.732_050_807_568_877_2;

const fn general(place: &'static str) -> Source {
    Source::new("EN 1993-1-1:2005", place)
}

const fn sheet(place: &'static str) -> Source {
    Source::new("EN 1993-1-3:2006", place)
}

const fn plated(place: &'static str) -> Source {
    Source::new("EN 1993-1-5:2006", place)
}

const fn joints(place: &'static str) -> Source {
    Source::new("EN 1993-1-8:2005", place)
}

const fn preload(place: &'static str) -> Source {
    Source::new("VDI 2230 Part 1:2003", place)
}

const fn endurance(place: &'static str) -> Source {
    Source::new("EN 1993-1-9:2005", place)
}

const fn light(place: &'static str) -> Source {
    Source::new("EN 1999-1-1:2007", place)
}

/// The second edition of 2016 has the same curves and classes.
const fn iiw(place: &'static str) -> Source {
    Source::new("IIW Recommendations 2008 (IIW-1823-07) and 2016", place)
}

/// Below this thickness in m the rules for cold-formed sheet of EN 1993-1-3 come in beside or
/// instead of those of EN 1993-1-8 (4.1(1) there).
const THIN: f64 = 4.0 * MM;
