//! Worked examples of the clauses about sheet.

use crate::clause::Clause;
use crate::clause::input::{
    ArcSpotInput, BoltInput, ClassListing, FayingFaces, Hole, HoleStretch, Lap, ShearPlane,
    SheetLapInput, SheetWeldLies, SpotKind, SpotWeldInput, Tightening,
};
use crate::packs::american::examples::{Example, KIP, OWN, Rules, asd, example, given, lrfd};
use crate::packs::american::{IN, KSI};

use super::{bolts as sheet_bolts, lap, resistance_spot, spot};

const MM: f64 = 1e-3;
const MPA: f64 = 1e6;

pub(in crate::packs::american) fn sheet_laps() -> Vec<Example<SheetLapInput>> {
    // 40 mm of weld in a lap of a strip of 1.9 mm with 310 MPa.
    let lap_of = |lies: SheetWeldLies, l_w: f64| SheetLapInput {
        f_w_ed: 5e3,
        t: 1.9 * MM,
        l_w: l_w * MM,
        b: 60.0 * MM,
        f_u: 310.0 * MPA,
        f_y: Some(180.0 * MPA),
        f_exx: Some(490.0 * MPA),
        z: Some(1.9 * MM),
        lies,
        origins: given(),
    };
    let along = |l_w: f64| lap_of(SheetWeldLies::Side, l_w);
    let across = || lap_of(SheetWeldLies::End, 40.0);
    // A stitch of 25 mm in sheet of 300 MPa.
    let stitch = SheetLapInput { f_w_ed: 2937.7, f_u: 300.0 * MPA, ..along(25.0) };
    let thick = SheetLapInput { t: 3.0 * MM, z: Some(3.0 * MM), ..along(40.0) };
    let one = |clause: &'static dyn Clause<SheetLapInput>, input, strength: f64, rules: Rules| {
        example(clause, input, (5e3, strength), 1e-4, OWN, rules)
    };
    vec![
        one(&lap::Along, along(40.0), 11_160.0, lrfd("2016")),
        one(&lap::Along, along(40.0), 7294.1, asd("2016")),
        one(&lap::Along, along(60.0), 13_252.5, lrfd("2016")),
        one(&lap::Along, along(60.0), 8690.16, asd("2010")),
        one(&lap::Across, across(), 15_314.0, lrfd("2016")),
        one(&lap::Across, across(), 10_025.5, asd("2005")),
        one(&lap::Throat, thick, 18_707.2, lrfd("2016")),
        example(&lap::Along, stitch, (2937.7, 7425.0), 1e-4, OWN, lrfd("2016")),
    ]
}

pub(in crate::packs::american) fn arc_spots() -> Vec<Example<ArcSpotInput>> {
    let spot_of = |d: f64, t: f64, n_sheets: f64, f_u: f64| ArcSpotInput {
        f_v_ed: KIP,
        d: d * IN,
        t: t * IN,
        n_sheets,
        f_u: f_u * KSI,
        f_exx: 60.0 * KSI,
        f_t_ed: None,
        d_fused: None,
        f_y: None,
        e: Some(1.25 * IN),
        origins: given(),
    };
    let one = |input, strength: f64, rules: Rules| {
        example(&spot::Spot, input, (KIP, strength * KIP), 1e-4, OWN, rules)
    };
    vec![
        one(spot_of(0.75, 0.0598, 1.0, 52.0), 3.30522, lrfd("2016")),
        one(spot_of(0.75, 0.0598, 1.0, 52.0), 2.14625, asd("2016")),
        one(spot_of(0.75, 0.0598, 2.0, 52.0), 3.01885, lrfd("2016")),
        one(spot_of(0.75, 0.03, 1.0, 52.0), 1.13257, lrfd("2016")),
        one(spot_of(1.1, 0.0285, 1.0, 52.0), 1.11157, lrfd("2016")),
        one(spot_of(1.0, 0.12, 1.0, 65.0), 5.73404, lrfd("2016")),
        example(
            &spot::EdgeOfSpot,
            spot_of(0.75, 0.0598, 1.0, 52.0),
            (1.125 * IN, 1.25 * IN),
            1e-9,
            OWN,
            lrfd("2016"),
        ),
    ]
}

pub(in crate::packs::american) fn spot_welds() -> Vec<Example<SpotWeldInput>> {
    let spot_of = |t: f64| SpotWeldInput {
        f_v_ed: 0.5 * KIP,
        f_t_ed: 0.0,
        t: t * IN,
        t_1: 0.15 * IN,
        f_u: 45.0 * KSI,
        d_s: None,
        e_1: None,
        e_2: None,
        p_1: None,
        p_2: None,
        a_net: None,
        spot: SpotKind::Resistance,
        origins: given(),
    };
    let one = |t: f64, strength: f64, rules: Rules| {
        let both = (0.5 * KIP, strength * KIP);
        example(&resistance_spot::ResistanceSpot, spot_of(t), both, 1e-4, OWN, rules)
    };
    vec![
        one(0.0359, 0.703501, lrfd("2016")),
        one(0.0359, 0.460557, asd("2016")),
        one(0.0598, 1.48945, lrfd("2016")),
        one(0.15, 5.486, lrfd("2016")),
    ]
}

/// A bolt of 1/2 in through sheet of gauge 14, 45 ksi, an end 7/8 in and an edge 3/4 in away.
fn sheet_bolt() -> BoltInput {
    BoltInput {
        d: 0.5 * IN,
        d_0: 9.0 / 16.0 * IN,
        a_s: 0.1419 * IN * IN,
        d_m: 0.85 * IN,
        f_ub: 120.0 * KSI,
        alpha_v: 0.5,
        t: 0.0747 * IN,
        f_u: 45.0 * KSI,
        n_planes: 1.0,
        f_1_ed: 1.2 * KIP,
        f_2_ed: 0.0,
        f_t_ed: 0.0,
        f_1_ser: 0.8 * KIP,
        f_2_ser: 0.0,
        f_t_ser: 0.0,
        e_1: Some(0.875 * IN),
        e_2: Some(0.75 * IN),
        p_1: Some(1.75 * IN),
        p_2: None,
        sink: None,
        t_packing: None,
        l_joint: None,
        mu: None,
        n_friction: None,
        f_m: None,
        alpha_a: None,
        n_fillers: None,
        m_f: None,
        class: ClassListing::NotListed,
        plane: ShearPlane::Threads,
        hole: Hole::Normal,
        lap: Lap::Other,
        tightening: Tightening::Snug,
        stretch: HoleStretch::Matters,
        faying: FayingFaces::AsGiven,
        origins: given(),
    }
}

pub(in crate::packs::american) fn bolts() -> Vec<Example<BoltInput>> {
    let washers = BoltInput { m_f: Some(1.0), ..sheet_bolt() };
    let thinner = BoltInput { t: 0.036 * IN, ..sheet_bolt() };
    let thinnest = || BoltInput { t: 0.0299 * IN, d: 0.75 * IN, ..sheet_bolt() };
    let inner = BoltInput { m_f: Some(1.33), ..thinnest() };
    let inclined = BoltInput { f_2_ed: -0.8 * KIP, ..sheet_bolt() };
    let one = |clause: &'static dyn Clause<BoltInput>, input, strength: f64, rules: Rules| {
        example(clause, input, (1.2 * KIP, strength * KIP), 1e-4, OWN, rules)
    };
    let torn = |input, share: f64, rules: Rules| {
        example(&sheet_bolts::TearOutSheet, input, (share, 1.0), 1e-4, OWN, rules)
    };
    vec![
        one(&sheet_bolts::BearingSheet, sheet_bolt(), 2.26901, lrfd("2016")),
        one(&sheet_bolts::BearingSheet, washers, 2.0169, asd("2016")),
        one(&sheet_bolts::BearingSheet, thinner, 0.95175, lrfd("2016")),
        one(&sheet_bolts::BearingSheet, thinnest(), 0.817391, lrfd("2016")),
        one(&sheet_bolts::BearingSheet, inner, 1.44951, lrfd("2016")),
        one(&sheet_bolts::StretchSheet, sheet_bolt(), 2.05017, lrfd("2016")),
        torn(sheet_bolt(), 0.770815, lrfd("2016")),
        torn(sheet_bolt(), 1.112285, asd("2016")),
        torn(sheet_bolt(), 0.679969, lrfd("2005")),
        torn(inclined, 1.00888, lrfd("2016")),
    ]
}

pub(in crate::packs::american) fn bolt_detailing() -> Vec<Example<BoltInput>> {
    let one = |clause: &'static dyn Clause<BoltInput>, required: f64, provided: f64| {
        let both = (required * IN, provided * IN);
        example(clause, sheet_bolt(), both, 1e-9, OWN, lrfd("2016"))
    };
    vec![one(&sheet_bolts::SheetEdge, 0.75, 0.75), one(&sheet_bolts::SheetSpacing, 1.5, 1.75)]
}
