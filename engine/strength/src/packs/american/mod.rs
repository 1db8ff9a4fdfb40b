//! The American rule pack.
//!
//! | subject | documents |
//! |---|---|
//! | `bolts/` | AISC 360 chapter J3, D3 and J4 for bolted plies, AISC Manual Part 9 for prying |
//! | `welds/` | AISC 360 chapter J2 and J4, AWS D1.1 for fit-up, undercut and the least leg |
//! | `sheet/` | AISI S100 chapter J (E in its editions up to 2012), AWS D1.3 for its scope |
//! | `members/` | AISC 360 chapters B, D, E, F, G, H |
//! | `fatigue/` | AISC 360 Appendix 3 |
//! | `plates/` | AISC 360 chapters F11, J4, J7, K; Whitmore, Thornton, Shakya and Vinnakota for gussets |
//! | `thin/` | AISI S100 chapters E, F, H and Appendix 1 (B, C in its editions up to 2012) |
//!
//! The formulas were written down from memory of the standards and held against worked examples:
//! the file `examples.rs` beside each subject. No sentence of a standard is stored.
//!
//! References bear the numbers of the 2016 edition. From J3.2 of 2016 on those of 2022 are one
//! higher: bearing is J3.10 there and J3.11 in 2022. Where editions differ in a rule or a number, the
//! clause takes that of the edition of the project and notes it.
//!
//! Strength enters by load and resistance factors (LRFD: the demand is factored, strength is
//! multiplied by phi) or as allowable strength (ASD: the demand is the one in service, strength is
//! divided by omega). The clauses take the demand they are given: under ASD it has to come without
//! load factors.
//!
//! Thickness is the one strength is reckoned with: for tubes welded by electric resistance to A500,
//! 0.93 of the nominal (AISC 360, B4.2).
//!
//! Lengths and stresses are SI; fixed numbers are written in inches and ksi as the standards have
//! them, so that a printed formula shows them.

mod available;
mod bolts;
#[cfg(test)]
mod examples;
mod factors;
mod fatigue;
mod members;
mod plates;
mod sheet;
mod thin;
mod welds;

use fishplate_quantity::{Dimension, Provenance, Source, Trace};

use crate::clause::Factors;

use super::Pack;

/// The pack.
pub static PACK: Pack = Pack {
    id: "AISC 360",
    title: "American rules for steel structures: AISC 360 with AISI S100 for sheet and AWS D1",
    scope: "Steel parts joined by bolts and arc welds, static strength, slip of clamped joints, \
            joints of sheet by welds, spots, bolts and screws; members of tube, bar, channel, I \
            section and angle in tension, compression, bending, shear and torsion; thin sections \
            by effective widths; tabs, gussets, faces and walls of rails; fatigue by stress \
            category. Not covered: crippling of webs, so rails clamped without a sleeve are not \
            checked; bent webs that are slender, loads above the shear centre, lips; net sections \
            of sheet, stripping of threads, preload by torque, fire, brittle fracture, aluminium.",
    editions: factors::EDITIONS,
    formats: factors::FORMATS,
    factors: factors::FACTORS,
    bolts: bolts::BOLTS,
    bolt_detailing: bolts::BOLT_DETAILING,
    bolt_groups: bolts::BOLT_GROUPS,
    bolted_plies: bolts::BOLTED_PLIES,
    angle_legs: bolts::ANGLE_LEGS,
    t_stubs: bolts::T_STUBS,
    welds: welds::WELDS,
    fillets: welds::FILLETS,
    weld_runs: welds::WELD_RUNS,
    weld_detailing: welds::WELD_DETAILING,
    weld_lines: welds::WELD_LINES,
    groove_welds: welds::GROOVE_WELDS,
    plugs: welds::PLUGS,
    plug_detailing: welds::PLUG_DETAILING,
    sheet_laps: sheet::SHEET_LAPS,
    spot_welds: sheet::SPOT_WELDS,
    arc_spots: sheet::ARC_SPOTS,
    stress_categories: fatigue::STRESS_CATEGORIES,
    sheet_fasteners: sheet::SHEET_FASTENERS,
    members: members::MEMBERS,
    flat_cantilevers: members::FLAT_CANTILEVERS,
    angle_struts: members::ANGLE_STRUTS,
    stress_points: members::STRESS_POINTS,
    thin_boxes: thin::THIN_BOXES,
    thin_sections: thin::THIN_SECTIONS,
    flat_walls: thin::FLAT_WALLS,
    elements: thin::ELEMENTS,
    tabs: plates::TABS,
    floors: plates::FLOORS,
    gussets: plates::GUSSETS,
    gusset_plates: plates::GUSSET_PLATES,
    shear_panels: plates::SHEAR_PANELS,
    plate_points: plates::PLATE_POINTS,
    plate_buckling: plates::PLATE_BUCKLING,
    seats: plates::SEATS,
    walls: plates::WALLS,
    wall_pulls: plates::WALL_PULLS,
    sleeves: plates::SLEEVES,
    #[cfg(test)]
    examples: examples::EXAMPLES,
    ..Pack::SILENT
};

/// Modulus of elasticity of steel in Pa: 29 000 ksi (AISC 360, symbols).
const E: f64 = 29_000.0 * KSI;

/// Shear modulus of steel in Pa: 11 200 ksi (AISC 360, symbols).
const G: f64 = 11_200.0 * KSI;

/// Modulus of elasticity of sheet in Pa: 29 500 ksi (AISI S100, A3.1 or symbols).
const E_SHEET: f64 = 29_500.0 * KSI;

/// E as an input of a derivation, so that whoever follows it reads its value.
fn e_of_steel(trace: &mut Trace) -> f64 {
    let what = "modulus of elasticity of steel, 29 000 ksi";
    constant(trace, "e_steel", what, E, "AISC 360, symbols")
}

/// G as an input of a derivation.
fn g_of_steel(trace: &mut Trace) -> f64 {
    let what = "shear modulus of steel, 11 200 ksi";
    constant(trace, "g_steel", what, G, "AISC 360, symbols")
}

/// E of sheet as an input of a derivation.
fn e_of_sheet(trace: &mut Trace) -> f64 {
    let what = "modulus of elasticity of sheet, 29 500 ksi";
    constant(trace, "e_sheet", what, E_SHEET, "AISI S100, A3.1 or symbols")
}

/// A stress the standards fix, told once in a derivation.
fn constant(
    trace: &mut Trace,
    symbol: &'static str,
    what: &'static str,
    value: f64,
    table: &'static str,
) -> f64 {
    available::let_in(trace, symbol, |trace| {
        trace.input(symbol, what, Dimension::Stress, value, || Provenance::Table(table.to_owned()))
    })
}

/// Units in which the standards write their fixed numbers.
const IN: f64 = 0.0254;
const KSI: f64 = 6.894_757_293_168_361e6;
const KIP: f64 = 4_448.221_615_260_5;

const fn aisc(place: &'static str) -> Source {
    Source::new("AISC 360", place)
}

const fn manual(place: &'static str) -> Source {
    Source::new("AISC Manual, 14th edition", place)
}

const fn aisi(place: &'static str) -> Source {
    Source::new("AISI S100", place)
}

const fn d1_1(place: &'static str) -> Source {
    Source::new("AWS D1.1", place)
}

/// Whether the edition of the project is `year` or younger; the derivation says which it is.
fn since(year: u16, factors: &Factors, trace: &mut Trace) -> bool {
    trace.note(|| format!("rules of the edition of {}", factors.edition().id));
    factors.edition().year >= year
}
