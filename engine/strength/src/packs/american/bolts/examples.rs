//! Worked examples of the bolt clauses.

use crate::clause::Clause;
use crate::clause::input::{
    AngleLegInput, Block, BoltGroupInput, BoltInput, BoltedPlyInput, ClassListing, FayingFaces,
    Hole, HoleStretch, Lap, Prying as Edge, ShearPlane, TStubInput, Tightening,
};
use crate::packs::american::examples::{Example, KIP, OWN, Rules, asd, example, given, lrfd};
use crate::packs::american::{IN, KSI, sheet};

use super::{angle, bearing, detailing, plies, prying, shear, slip, tension};

const MM: f64 = 1e-3;
const MM2: f64 = 1e-6;
const MPA: f64 = 1e6;
const IN2: f64 = IN * IN;
const BOLT_TABLES: &str = "AISC Manual, 14th edition, Tables 7-1 to 7-5, from memory";
const BOLT_TABLES_13: &str = "AISC Manual, 13th edition, Table 7-1, from memory";
const LAP_SPLICE: &str = "A Beginner's Guide to the Steel Construction Manual, Example 4.1";
const COMBINED: &str = "AISC Design Examples, version 14.0, Example J.3, from memory";

/// 3/4 in, group 120, in 3/8 in A36 with an end 1 1/4 in away, tightened to the least pretension.
fn three_quarter() -> BoltInput {
    BoltInput {
        d: 0.75 * IN,
        d_0: 13.0 / 16.0 * IN,
        a_s: 0.334 * IN2,
        d_m: 1.3 * IN,
        f_ub: 120.0 * KSI,
        alpha_v: 0.5,
        t: 0.375 * IN,
        f_u: 58.0 * KSI,
        n_planes: 1.0,
        f_1_ed: 5.0 * KIP,
        f_2_ed: 0.0,
        f_t_ed: 6.0 * KIP,
        f_1_ser: 3.0 * KIP,
        f_2_ser: 0.0,
        f_t_ser: 2.0 * KIP,
        e_1: Some(1.25 * IN),
        e_2: None,
        p_1: None,
        p_2: None,
        sink: None,
        t_packing: None,
        l_joint: None,
        mu: Some(0.3),
        n_friction: Some(1.0),
        f_m: Some(28.0 * KIP),
        alpha_a: Some(1.6),
        n_fillers: None,
        m_f: None,
        class: ClassListing::NotListed,
        plane: ShearPlane::Threads,
        hole: Hole::Normal,
        lap: Lap::Other,
        tightening: Tightening::Controlled,
        stretch: HoleStretch::Matters,
        faying: FayingFaces::ClassA,
        origins: given(),
    }
}

/// 1/2-13, SAE grade 5, in 3/16 in A36 with an end 7/8 in away.
fn half_inch() -> BoltInput {
    BoltInput {
        d: 0.5 * IN,
        d_0: 9.0 / 16.0 * IN,
        a_s: 0.1419 * IN2,
        t: 0.1875 * IN,
        e_1: Some(0.875 * IN),
        ..three_quarter()
    }
}

/// A bolt of the lap splice of eleven, its threads out of the plane, without pull.
fn lap_splice() -> BoltInput {
    BoltInput { plane: ShearPlane::Shank, f_t_ed: 0.0, ..three_quarter() }
}

/// Force in kip along axis 1 or in tension, strength in kip.
struct Row(&'static dyn Clause<BoltInput>, BoltInput, f64, f64, f64, &'static str, Rules);

fn kips(rows: Vec<Row>) -> Vec<Example<BoltInput>> {
    rows.into_iter()
        .map(|Row(clause, input, demand, strength, tolerance, source, rules)| {
            example(clause, input, (demand * KIP, strength * KIP), tolerance, source, rules)
        })
        .collect()
}

pub(in crate::packs::american) fn bolts() -> Vec<Example<BoltInput>> {
    let mut all = single_bolts();
    all.extend(editions());
    all.extend(bearings());
    all.extend(slips());
    all.extend(sheet::examples::bolts());
    all
}

fn single_bolts() -> Vec<Example<BoltInput>> {
    let shank = BoltInput { plane: ShearPlane::Shank, ..three_quarter() };
    let double = BoltInput { n_planes: 2.0, ..three_quarter() };
    let group_150 = BoltInput { f_ub: 150.0 * KSI, ..three_quarter() };
    let both = BoltInput { f_1_ed: 8.0 * KIP, f_t_ed: 23.4 * KIP, ..three_quarter() };
    let both_service = BoltInput { f_1_ed: 5.33 * KIP, f_t_ed: 15.5 * KIP, ..three_quarter() };
    let filler = |t: f64| BoltInput { t_packing: Some(t * IN), ..three_quarter() };
    kips(vec![
        Row(&tension::Tension, three_quarter(), 6.0, 29.8, 1e-3, BOLT_TABLES, lrfd("2016")),
        Row(&tension::Tension, three_quarter(), 6.0, 19.9, 2e-3, BOLT_TABLES, asd("2016")),
        Row(&tension::Tension, group_150, 6.0, 37.4, 5e-3, BOLT_TABLES, lrfd("2010")),
        Row(&tension::Tension, half_inch(), 6.0, 13.2536, 1e-4, OWN, lrfd("2016")),
        Row(&shear::Shear, three_quarter(), 5.0, 17.9, 1e-3, BOLT_TABLES, lrfd("2016")),
        Row(&shear::Shear, three_quarter(), 5.0, 11.9, 3e-3, BOLT_TABLES, asd("2022")),
        Row(&shear::Shear, shank, 5.0, 22.5, 1e-2, BOLT_TABLES, lrfd("2010")),
        Row(&shear::Shear, double, 5.0, 35.8, 1e-3, BOLT_TABLES, lrfd("2016")),
        Row(&shear::Shear, half_inch(), 5.0, 7.9522, 1e-4, OWN, lrfd("2016")),
        Row(&shear::Shear, filler(0.5), 5.0, 16.1031, 1e-4, OWN, lrfd("2016")),
        Row(&shear::Shear, filler(1.0), 5.0, 15.2085, 1e-4, OWN, lrfd("2016")),
        Row(&shear::Shear, filler(0.7), 5.0, 13.0415, 1e-4, OWN, lrfd("2005")),
        Row(&tension::ShearAndTension, both, 23.4, 25.5, 5e-3, COMBINED, lrfd("2010")),
        Row(&tension::ShearAndTension, both_service, 15.5, 16.9, 5e-3, COMBINED, asd("2010")),
    ])
}

/// The same bolts by the editions: 48 and 60 ksi in 2005, 54 and 68 ksi from 2010 on.
fn editions() -> Vec<Example<BoltInput>> {
    let shank = BoltInput { plane: ShearPlane::Shank, ..three_quarter() };
    let long = |l: f64| BoltInput { l_joint: Some(l * IN), ..three_quarter() };
    // The whole splice has 292 kip of nominal shear strength and 122 kip against slip.
    let of = |splice: f64| splice / 11.0;
    kips(vec![
        Row(&shear::Shear, three_quarter(), 5.0, 15.9, 1e-3, BOLT_TABLES_13, lrfd("2005")),
        Row(&shear::Shear, three_quarter(), 5.0, 10.6, 1e-3, BOLT_TABLES_13, asd("2005")),
        Row(&shear::Shear, shank, 5.0, 19.9, 2e-3, BOLT_TABLES_13, lrfd("2005")),
        Row(&shear::Shear, lap_splice(), 5.0, of(219.0), 1e-2, LAP_SPLICE, lrfd("2005")),
        Row(&shear::Shear, lap_splice(), 5.0, of(146.0), 1e-2, LAP_SPLICE, asd("2005")),
        Row(&shear::Shear, lap_splice(), 5.0, of(247.8), 1e-2, OWN, lrfd("2016")),
        Row(&slip::SlipCritical, lap_splice(), 5.0, of(122.0), 1e-2, LAP_SPLICE, lrfd("2005")),
        Row(&slip::SlipCritical, lap_splice(), 5.0, of(81.2), 1e-2, LAP_SPLICE, asd("2005")),
        Row(&slip::SlipCritical, lap_splice(), 5.0, of(104.4), 1e-2, OWN, lrfd("2016")),
        Row(&shear::Shear, long(40.0), 5.0, 14.9043, 1e-4, OWN, lrfd("2016")),
        Row(&shear::Shear, long(38.0), 5.0, 17.8924, 1e-4, OWN, lrfd("2022")),
        Row(&shear::Shear, long(40.0), 5.0, 15.9043, 1e-4, OWN, lrfd("2005")),
        Row(&shear::Shear, long(52.0), 5.0, 12.7235, 1e-4, OWN, lrfd("2005")),
    ])
}

fn bearings() -> Vec<Example<BoltInput>> {
    let inch = BoltInput { t: IN, ..three_quarter() };
    let inner = BoltInput { e_1: None, p_1: Some(3.0 * IN), ..inch.clone() };
    let stretched = BoltInput { stretch: HoleStretch::Allowed, ..three_quarter() };
    let slot = BoltInput { hole: Hole::LongSlotAcross, ..three_quarter() };
    let close = BoltInput { p_1: Some(2.0 * IN), e_1: None, ..three_quarter() };
    let both = BoltInput { p_1: Some(2.0 * IN), ..three_quarter() };
    let sunk = BoltInput { sink: Some(0.25 * IN), e_1: None, ..three_quarter() };
    let inclined =
        BoltInput { f_1_ed: 4.0 * KIP, f_2_ed: -3.0 * KIP, e_2: Some(1.0 * IN), ..three_quarter() };
    kips(vec![
        Row(&bearing::Bearing, inner, 5.0, 78.3, 1e-4, BOLT_TABLES, lrfd("2016")),
        Row(&bearing::Bearing, inch.clone(), 5.0, 44.0, 2e-3, BOLT_TABLES, lrfd("2016")),
        Row(&bearing::Bearing, inch, 5.0, 29.4, 2e-3, BOLT_TABLES, asd("2016")),
        Row(&bearing::Bearing, half_inch(), 5.0, 5.8113, 1e-4, OWN, lrfd("2016")),
        Row(&bearing::Bearing, inclined, 5.0, 14.1265, 1e-4, OWN, lrfd("2016")),
        Row(&bearing::Bearing, stretched, 5.0, 20.6455, 1e-4, OWN, lrfd("2016")),
        Row(&bearing::Bearing, slot, 5.0, 13.7637, 1e-4, OWN, lrfd("2016")),
        Row(&bearing::Bearing, close, 5.0, 23.2453, 1e-4, OWN, lrfd("2016")),
        Row(&bearing::Bearing, both, 5.0, 16.5164, 1e-4, OWN, lrfd("2016")),
        Row(&bearing::Bearing, sunk, 5.0, 19.575, 1e-4, OWN, lrfd("2016")),
    ])
}

fn slips() -> Vec<Example<BoltInput>> {
    let still = || BoltInput { f_t_ed: 0.0, ..three_quarter() };
    let pulled = |f_t: f64| BoltInput { f_t_ed: f_t * KIP, ..three_quarter() };
    let blasted = BoltInput {
        hole: Hole::Oversized,
        faying: FayingFaces::ClassB,
        n_friction: Some(2.0),
        ..still()
    };
    let slot = |hole: Hole| BoltInput { hole, ..still() };
    let stated = BoltInput { faying: FayingFaces::AsGiven, mu: Some(0.2), ..still() };
    let fillers = |n: f64| BoltInput { n_fillers: Some(n), t_packing: Some(0.5 * IN), ..still() };
    let packed = BoltInput { t_packing: Some(0.5 * IN), ..still() };
    let wrench = || BoltInput { tightening: Tightening::Torque, ..three_quarter() };
    kips(vec![
        Row(&slip::SlipCritical, still(), 5.0, 9.49, 3e-3, BOLT_TABLES, lrfd("2016")),
        Row(&slip::SlipCritical, still(), 5.0, 6.33, 3e-3, BOLT_TABLES, asd("2016")),
        Row(&slip::SlipCritical, pulled(10.0), 5.0, 6.51098, 1e-4, OWN, lrfd("2016")),
        Row(&slip::SlipCritical, pulled(6.0), 5.0, 4.54066, 1e-4, OWN, asd("2016")),
        Row(&slip::SlipCritical, blasted, 5.0, 26.9478, 1e-4, OWN, lrfd("2016")),
        Row(&slip::SlipCritical, slot(Hole::LongSlotAcross), 5.0, 6.65769, 1e-4, OWN, lrfd("2016")),
        Row(&slip::SlipCritical, slot(Hole::LongSlotAlong), 5.0, 4.44439, 1e-4, OWN, asd("2022")),
        Row(&slip::SlipCritical, slot(Hole::LongSlotAlong), 5.0, 6.60221, 1e-4, OWN, lrfd("2005")),
        Row(&slip::SlipCritical, stated, 5.0, 6.34066, 1e-4, OWN, lrfd("2016")),
        Row(&slip::SlipCritical, fillers(2.0), 5.0, 8.08434, 1e-4, OWN, lrfd("2016")),
        Row(&slip::SlipCritical, fillers(1.0), 5.0, 9.51098, 1e-4, OWN, lrfd("2016")),
        Row(&slip::SlipCritical, packed, 5.0, 8.08434, 1e-4, OWN, lrfd("2016")),
        Row(&slip::SlipTorque, wrench(), 3.0, 4.65, 1e-4, OWN, lrfd("2016")),
        Row(&slip::LeastPretension, three_quarter(), 28.0, 17.5, 3e-3, BOLT_TABLES, lrfd("2016")),
    ])
}

pub(in crate::packs::american) fn bolt_detailing() -> Vec<Example<BoltInput>> {
    let placed = BoltInput {
        e_2: Some(1.5 * IN),
        p_1: Some(2.25 * IN),
        p_2: Some(3.0 * IN),
        ..three_quarter()
    };
    let of = |d: f64, hole: Hole| BoltInput { d, hole, ..placed.clone() };
    let metric = of(16.0 * MM, Hole::Normal);
    let rows: Vec<(&'static dyn Clause<BoltInput>, BoltInput, f64, f64)> = vec![
        (&detailing::EndDistance, placed.clone(), 1.0, 1.25),
        (&detailing::EndDistance, of(0.5 * IN, Hole::Normal), 0.75, 1.25),
        (&detailing::EndDistance, of(0.625 * IN, Hole::Normal), 0.875, 1.25),
        (&detailing::EndDistance, metric, 1.0, 1.25),
        (&detailing::EndDistance, of(1.25 * IN, Hole::Normal), 1.625, 1.25),
        (&detailing::EndDistance, of(1.5 * IN, Hole::Normal), 1.875, 1.25),
        (&detailing::EndDistance, of(0.25 * IN, Hole::Normal), 0.375, 1.25),
        (&detailing::EndDistance, of(0.75 * IN, Hole::Oversized), 1.0625, 1.25),
        (&detailing::EndDistance, of(0.75 * IN, Hole::ShortSlotAlong), 1.125, 1.25),
        (&detailing::EndDistance, of(0.75 * IN, Hole::LongSlotAlong), 1.5625, 1.25),
        (&detailing::EdgeDistance, of(0.75 * IN, Hole::LongSlotAlong), 1.0, 1.5),
        (&detailing::EdgeDistance, of(1.25 * IN, Hole::ShortSlotAcross), 1.8125, 1.5),
        (&detailing::EdgeDistance, of(1.0 * IN, Hole::Oversized), 1.375, 1.5),
        (&detailing::SpacingAlong, placed.clone(), 2.0, 2.25),
        (&detailing::SpacingAcross, placed.clone(), 2.0, 3.0),
        (&detailing::LargestEdgeDistance, placed.clone(), 1.5, 4.5),
        (&detailing::LargestSpacing, placed, 3.0, 9.0),
    ];
    let source = "AISC 360-16, Tables J3.4 and J3.5, J3.3 and J3.5, from memory";
    let mut all: Vec<_> = rows
        .into_iter()
        .map(|(clause, input, demand, resistance)| {
            example(clause, input, (demand * IN, resistance * IN), 1e-9, source, lrfd("2016"))
        })
        .collect();
    all.extend(sheet::examples::bolt_detailing());
    all
}

pub(in crate::packs::american) fn bolt_groups() -> Vec<Example<BoltGroupInput>> {
    // Two bolts at the end of 1/4 in A36, two behind them, 3/4 in with threads in the plane.
    let group = BoltGroupInput {
        f_ed: 40.0 * KIP,
        n_end: 2.0,
        n_inner: 2.0,
        f_v_rd: 17.9 * KIP,
        f_b_rd_end: 11.0 * KIP,
        f_b_rd_inner: 29.4 * KIP,
        origins: given(),
    };
    vec![example(&shear::Group, group, (40.0 * KIP, 57.8 * KIP), 1e-9, OWN, lrfd("2016"))]
}

/// A tab of 6 mm S235, 40 wide, two holes of 13 in line, 24 and 36 apart, 20 to either edge.
fn tab() -> BoltedPlyInput {
    BoltedPlyInput {
        n_ed: 30e3,
        v_ed: 0.0,
        a: 240.0 * MM2,
        a_net: 162.0 * MM2,
        a_v: 360.0 * MM2,
        a_v_net: 204.0 * MM2,
        a_nt: 81.0 * MM2,
        a_nv: 243.0 * MM2,
        f_y: 235.0 * MPA,
        f_u: 360.0 * MPA,
        r_bolts: None,
        d_0: Some(13.0 * MM),
        u: None,
        t: Some(6.0 * MM),
        n_h: Some(1.0),
        n_h_s: Some(2.0),
        n_h_t: Some(0.5),
        n_h_v: Some(1.5),
        u_lag: None,
        block: Block::Concentric,
        origins: given(),
    }
}

pub(in crate::packs::american) fn bolted_plies() -> Vec<Example<BoltedPlyInput>> {
    // The same tab with holes that count 15 mm once 1/16 in is added.
    let d_0 = 15.0 * MM - IN / 16.0;
    let tab_15 = || BoltedPlyInput {
        d_0: Some(d_0),
        a_net: 240.0 * MM2 - 6.0 * MM * d_0,
        a_nt: 120.0 * MM2 - 0.5 * 6.0 * MM * d_0,
        a_nv: 360.0 * MM2 - 1.5 * 6.0 * MM * d_0,
        ..tab()
    };
    let eccentric = BoltedPlyInput { block: Block::Eccentric, ..tab_15() };
    let lagging = BoltedPlyInput { u_lag: Some(0.8), ..tab_15() };
    // A net area hardly below the gross one meets the cap of splice plates: 204 mm2.
    let wide = BoltedPlyInput { a_net: 230.0 * MM2, n_h: Some(0.5), ..tab_15() };
    // The web of a beam with five 3/4 in bolts 3 in apart, 2 in below the cope and 1 1/2 in from the
    // end of the web; one inch of it, then its 0.355 in.
    let web = |t: f64| {
        let hole = 13.0 / 16.0;
        BoltedPlyInput {
            n_ed: 0.0,
            v_ed: 60.0 * KIP,
            a_nv: (14.0 - 4.5 * hole) * t * IN2,
            a_nt: (1.5 - 0.5 * hole) * t * IN2,
            f_y: 50.0 * KSI,
            f_u: 65.0 * KSI,
            d_0: Some(hole * IN),
            t: Some(t * IN),
            n_h_v: Some(4.5),
            ..tab()
        }
    };
    // A plate 9 by 1/4 in of A36 with three bolts of 3/4 in.
    let plate = || BoltedPlyInput {
        v_ed: 20.0 * KIP,
        a_v: 2.25 * IN2,
        a_v_net: (9.0 - 3.0 * 13.0 / 16.0) * 0.25 * IN2,
        f_y: 36.0 * KSI,
        f_u: 58.0 * KSI,
        t: Some(0.25 * IN),
        n_h_s: Some(3.0),
        ..tab()
    };
    // A flat bar 3 by 1/4 in of A36.
    let bar = BoltedPlyInput {
        n_ed: 20.0 * KIP,
        a: 0.75 * IN2,
        f_y: 36.0 * KSI,
        f_u: 58.0 * KSI,
        ..tab()
    };
    let block = "AISC Manual, 14th edition, Tables 9-3a to 9-3c, from memory";
    let by_16 = || lrfd("2016");
    let newton = |clause: &'static dyn Clause<BoltedPlyInput>, input, resistance: f64, rules| {
        example(clause, input, (30e3, resistance), 1e-4, OWN, rules)
    };
    let kip = |clause: &'static dyn Clause<BoltedPlyInput>, input, demand: f64, strength: f64| {
        example(clause, input, (demand * KIP, strength * KIP), 1e-4, OWN, lrfd("2016"))
    };
    vec![
        newton(&plies::GrossTension, tab(), 50_760.0, by_16()),
        newton(&plies::GrossTension, tab(), 33_772.5, asd("2016")),
        newton(&plies::NetTension, tab_15(), 40_500.0, by_16()),
        newton(&plies::NetTension, lagging, 32_400.0, by_16()),
        newton(&plies::NetTension, wide, 55_080.0, lrfd("2010")),
        newton(&plies::BlockShear, tab(), 57_635.5, by_16()),
        newton(&plies::BlockShear, tab_15(), 56_700.0, by_16()),
        newton(&plies::BlockShear, eccentric, 46_575.0, by_16()),
        kip(&plies::GrossTension, bar, 20.0, 24.3),
        kip(&plies::GrossShear, plate(), 20.0, 48.6),
        kip(&plies::NetShear, plate(), 20.0, 41.5969),
        example(
            &plies::BlockShear,
            web(1.0),
            (60.0 * KIP, (294.0 + 51.8) * KIP),
            2e-3,
            block,
            lrfd("2010"),
        ),
        example(
            &plies::BlockShear,
            web(0.355),
            (60.0 * KIP, (294.0 + 51.8) * 0.355 * KIP),
            2e-3,
            block,
            lrfd("2010"),
        ),
    ]
}

pub(in crate::packs::american) fn angle_legs() -> Vec<Example<AngleLegInput>> {
    // An angle 4 x 4 x 1/2 in of A36, 3.75 in2, its centroid 1.18 in from the back, bolts of 3/4 in
    // 3 in apart.
    let angle_of = |n_bolts: f64, x_bar: Option<f64>| AngleLegInput {
        n_ed: 50.0 * KIP,
        n_bolts,
        e_2: 1.5 * IN,
        d_0: 13.0 / 16.0 * IN,
        t: 0.5 * IN,
        a_net: (3.75 - 0.5 * 13.0 / 16.0) * IN2,
        f_u: 58.0 * KSI,
        p_1: Some(3.0 * IN),
        x_bar: x_bar.map(|x| x * IN),
        origins: given(),
    };
    let published = "AISC Design Examples, version 14.0, Example D.2, from memory";
    let one = |input, strength: f64, tolerance: f64, source, rules: Rules| {
        let both = (50.0 * KIP, strength * KIP);
        example(&angle::AngleByOneLeg, input, both, tolerance, source, rules)
    };
    vec![
        one(angle_of(4.0, Some(1.18)), 125.0, 5e-3, published, lrfd("2010")),
        one(angle_of(4.0, Some(1.18)), 83.5, 5e-3, published, asd("2010")),
        one(angle_of(4.0, None), 115.275, 1e-4, OWN, lrfd("2016")),
        one(angle_of(3.0, None), 86.4563, 1e-4, OWN, lrfd("2016")),
        one(angle_of(2.0, None), 86.4563, 1e-4, OWN, lrfd("2005")),
        one(angle_of(2.0, Some(1.18)), 87.4169, 1e-4, OWN, lrfd("2022")),
    ]
}

pub(in crate::packs::american) fn t_stubs() -> Vec<Example<TStubInput>> {
    // A tee of 65 ksi with two 3/4 in bolts 1 3/4 in from its web, 3 in of flange a bolt.
    let tee = |t: f64, prying: Edge| TStubInput {
        f_t_ed: 10.0 * KIP,
        f_t_rd_sum: 59.6 * KIP,
        m: 1.5 * IN,
        e: 1.5 * IN,
        e_min: 1.5 * IN,
        t: t * IN,
        f_y: 50.0 * KSI,
        l_eff_1: None,
        l_eff_2: None,
        n_bolts: Some(2.0),
        d: Some(0.75 * IN),
        d_0: Some(13.0 / 16.0 * IN),
        p: Some(3.0 * IN),
        b: Some(1.75 * IN),
        f_u: Some(65.0 * KSI),
        prying,
        origins: given(),
    };
    let tee_of = |t: f64, edge: Edge, strength: f64, rules: Rules| {
        let source = "own recomputation: balance of the tee with hinges at web and bolt line";
        let both = (10.0 * KIP, strength * KIP);
        example(&prying::Prying, tee(t, edge), both, 1e-4, source, rules)
    };
    vec![
        tee_of(0.5, Edge::Bears, 27.5881, lrfd("2010")),
        tee_of(0.75, Edge::Bears, 49.5721, lrfd("2016")),
        tee_of(1.0, Edge::Bears, 59.6, lrfd("2016")),
        tee_of(0.5, Edge::Free, 15.9545, lrfd("2016")),
        tee_of(0.5, Edge::Bears, 27.5881 / 0.9 / 1.67, asd("2016")),
    ]
}

mod tests {
    use fishplate_quantity::Trace;

    use super::*;
    use crate::clause::{Applicability, Checked, NotChecked};
    use crate::packs::american::PACK;

    fn ask<I: crate::clause::Input>(
        clause: &dyn Clause<I>,
        input: &I,
        rules: &Rules,
    ) -> Result<Checked, NotChecked> {
        clause.evaluate(input, &PACK.factors(rules).unwrap(), &mut Trace::off())
    }

    /// The published splice of 2005 by the edition of 2016: 60 ksi become 68, friction of class A
    /// falls from 0.35 to 0.30.
    #[test]
    fn the_edition_changes_shear_and_slip() {
        let strength = |clause: &dyn Clause<BoltInput>, edition: &str| {
            ask(clause, &lap_splice(), &lrfd(edition)).unwrap().resistance
        };
        let shear = strength(&shear::Shear, "2016") / strength(&shear::Shear, "2005");
        assert!((shear - 68.0 / 60.0).abs() < 0.01, "{shear}");
        let slip = strength(&slip::SlipCritical, "2016") / strength(&slip::SlipCritical, "2005");
        assert!((slip - 0.30 / 0.35).abs() < 1e-9, "{slip}");
        for edition in ["2010", "2022"] {
            let same = strength(&shear::Shear, edition) / strength(&shear::Shear, "2016");
            assert!((same - 1.0).abs() < 1e-12, "{edition}");
        }
    }

    /// Where shear uses up the bolt, J3.7 leaves three tenths of its tension.
    #[test]
    fn full_shear_leaves_three_tenths_of_the_tension() {
        let alone = ask(&tension::Tension, &three_quarter(), &lrfd("2016")).unwrap();
        let sheared = ask(&shear::Shear, &three_quarter(), &lrfd("2016")).unwrap();
        let both = BoltInput { f_1_ed: sheared.resistance, ..three_quarter() };
        let left = ask(&tension::ShearAndTension, &both, &lrfd("2016")).unwrap();
        assert!((left.resistance / alone.resistance - 0.3).abs() < 1e-12);
        let twice = BoltInput { f_1_ed: 2.0 * sheared.resistance, ..three_quarter() };
        let gone = ask(&tension::ShearAndTension, &twice, &lrfd("2016")).unwrap();
        assert!(gone.utilisation.exceeds());
    }

    #[test]
    fn what_the_rules_do_not_reach_is_not_checked() {
        let thick = BoltInput { t_packing: Some(IN), ..three_quarter() };
        let refused = ask(&shear::Shear, &thick, &lrfd("2005"));
        assert!(matches!(refused, Err(NotChecked::OutOfRange { symbol: "t_packing", .. })));
        let reaching = BoltInput { e_1: Some(0.4 * IN), ..three_quarter() };
        let refused = ask(&bearing::Bearing, &reaching, &lrfd("2016"));
        assert!(matches!(refused, Err(NotChecked::OutOfRange { symbol: "l_c_1", .. })));
        let wide = TStubInput { p: Some(4.0 * IN), ..t_stubs().remove(0).input };
        let refused = ask(&prying::Prying, &wide, &lrfd("2016"));
        assert!(matches!(refused, Err(NotChecked::OutOfRange { symbol: "p", .. })));
        let unsaid = BoltedPlyInput { n_h: None, ..tab() };
        let refused = ask(&plies::NetTension, &unsaid, &lrfd("2016"));
        assert!(matches!(refused, Err(NotChecked::Missing { symbol: "n_h", .. })));
        let two = angle_legs().pop().unwrap().input;
        let unsaid = AngleLegInput { x_bar: None, ..two };
        let refused = ask(&angle::AngleByOneLeg, &unsaid, &lrfd("2016"));
        assert!(matches!(refused, Err(NotChecked::Missing { symbol: "x_bar", .. })));
    }

    #[test]
    fn stronger_bolts_and_smaller_ones_than_the_tables_know_are_outside() {
        let outside = |a: Applicability| matches!(a, Applicability::OutsideScope(_));
        let class_12_9 = BoltInput { f_ub: 1200.0 * MPA, ..three_quarter() };
        assert!(outside(tension::Tension.applies(&class_12_9)));
        assert!(!outside(tension::Tension.applies(&three_quarter())));
        let small = BoltInput { d: 0.375 * IN, ..three_quarter() };
        assert!(outside(detailing::EndDistance.applies(&small)));
        let soft = BoltInput { f_ub: 74.0 * KSI, ..three_quarter() };
        assert!(outside(slip::SlipCritical.applies(&soft)));
        let wrench = BoltInput { tightening: Tightening::Torque, ..three_quarter() };
        assert!(outside(slip::SlipCritical.applies(&wrench)));
    }
}
