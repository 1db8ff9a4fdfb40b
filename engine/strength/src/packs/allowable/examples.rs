//! Hand calculations of every rule.

use fishplate_quantity::Provenance;

use crate::clause::input::*;
use crate::clause::{Clause, Origins};
use crate::packs::Rules;
use crate::packs::contract::{Example, Examples};

use super::{bolts, members, plate_points, plates, welds};

pub(super) const EXAMPLES: Examples = Examples {
    bolts: of_bolts,
    welds: of_welds,
    weld_runs: of_runs,
    plugs: of_plugs,
    members: of_members,
    stress_points: of_points,
    tabs: of_tabs,
    gussets: of_gussets,
    plate_points: of_plate_points,
    plate_buckling: of_plate_buckling,
    seats: of_seats,
    sleeves: of_sleeves,
    ..Examples::NONE
};

const MPA: f64 = 1e6;

fn given() -> Origins {
    Origins::all(Provenance::Given("example".to_owned()))
}

fn by_hand<I: Input>(
    clause: &'static dyn Clause<I>,
    input: I,
    demand: f64,
    resistance: f64,
) -> Example<I> {
    let source = "own calculation by hand";
    let rules = Rules::RECOMMENDED;
    Example { clause, input, demand, resistance, tolerance: 1e-4, source, rules }
}

fn of_bolts() -> Vec<Example<BoltInput>> {
    let bolt = || BoltInput {
        d: 12e-3,
        d_0: 13e-3,
        a_s: 84.3e-6,
        d_m: 19e-3,
        f_ub: 800.0 * MPA,
        alpha_v: 0.6,
        t: 5e-3,
        f_u: 360.0 * MPA,
        n_planes: 1.0,
        f_1_ed: 6e3,
        f_2_ed: 8e3,
        f_t_ed: 5e3,
        f_1_ser: 6e3,
        f_2_ser: 8e3,
        f_t_ser: 5e3,
        e_1: Some(0.025),
        e_2: Some(0.02),
        p_1: None,
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
        class: ClassListing::Listed,
        plane: ShearPlane::Threads,
        hole: Hole::Normal,
        lap: Lap::Other,
        tightening: Tightening::Snug,
        stretch: HoleStretch::Matters,
        faying: FayingFaces::AsGiven,
        origins: given(),
    };
    let shank = || BoltInput { plane: ShearPlane::Shank, ..bolt() };
    let sunk = BoltInput { sink: Some(3e-3), ..bolt() };
    let [shear, tension, both, bearing, tear_out] = bolts::BOLTS else { panic!("five rules") };
    vec![
        // 10 kN over 84.3 mm²; 800 / (2 √3).
        by_hand(*shear, bolt(), 118.624 * MPA, 230.940 * MPA),
        by_hand(*shear, shank(), 88.4194 * MPA, 230.940 * MPA),
        by_hand(*tension, bolt(), 59.3120 * MPA, 400.0 * MPA),
        by_hand(*both, bolt(), 213.852 * MPA, 400.0 * MPA),
        by_hand(*bearing, bolt(), 166.667 * MPA, 270.0 * MPA),
        by_hand(*bearing, sunk, 238.095 * MPA, 270.0 * MPA),
        // 6000 / (2 18.5 5 103.92) = 0.3121; 8000 / (2 13.5 5 103.92) = 0.5702.
        by_hand(*tear_out, bolt(), 0.650_037, 1.0),
    ]
}

fn of_welds() -> Vec<Example<WeldInput>> {
    let bead = || WeldInput {
        q_1: 100e3,
        q_2: 60e3,
        q_l: 80e3,
        z: 5e-3,
        gap: 0.5e-3,
        f_u_1: 360.0 * MPA,
        f_u_2: 410.0 * MPA,
        beta_w_1: 0.8,
        beta_w_2: 0.85,
        t_sheet: 2e-3,
        f_y_sheet: 235.0 * MPA,
        f_exx: None,
        beside: SheetBeside::OneSide,
        origins: given(),
    };
    let inside = WeldInput { beside: SheetBeside::BothSides, ..bead() };
    let [throat, sheet] = welds::WELDS else { panic!("two rules") };
    let qualified = Rules { national: Some("qualified welder".to_owned()), ..Rules::RECOMMENDED };
    vec![
        // 141.42 N/mm over 4.5 / √2 mm; 0.85 360 / (3 √3).
        by_hand(*throat, bead(), 44.4444 * MPA, 58.8897 * MPA),
        Example { rules: qualified, ..by_hand(*throat, bead(), 44.4444 * MPA, 103.923 * MPA) },
        by_hand(*sheet, bead(), 70.7107 * MPA, 90.4515 * MPA),
        by_hand(*sheet, inside, 35.3553 * MPA, 90.4515 * MPA),
    ]
}

fn of_runs() -> Vec<Example<WeldRunInput>> {
    let run = || WeldRunInput {
        f_ed: 8e3,
        l: 0.06,
        z: 5e-3,
        gap: 0.0,
        f_u: 360.0 * MPA,
        beta_w: 0.8,
        t_edge: None,
        l_lap: None,
        l_gap: None,
        l_end: None,
        t_thin: None,
        b_part: None,
        f_exx: None,
        f_y: None,
        overlap: None,
        undercut: None,
        ends: BeadEnds::Open,
        stitched: Stitched::Tension,
        origins: given(),
    };
    let wrapped = WeldRunInput { ends: BeadEnds::Wrapped, ..run() };
    vec![
        by_hand(welds::WELD_RUNS[0], run(), 42.7506 * MPA, 58.8897 * MPA),
        by_hand(welds::WELD_RUNS[0], wrapped, 37.7124 * MPA, 58.8897 * MPA),
    ]
}

fn of_plugs() -> Vec<Example<PlugInput>> {
    let plug = PlugInput {
        f_v_ed: 1500.0,
        f_t_ed: 0.0,
        d_hole: 8e-3,
        d_fused: None,
        t: 1.5e-3,
        f_u: 360.0 * MPA,
        beta_w: 0.8,
        f_exx: None,
        l_slot: None,
        s: None,
        s_l: None,
        origins: given(),
    };
    // 1500 / (16 π); 58.89 as above.
    vec![by_hand(welds::PLUGS[0], plug, 29.8416 * MPA, 58.8897 * MPA)]
}

fn of_members() -> Vec<Example<MemberInput>> {
    // SHS 50x50x3: A 540.8, W 7787, I 194 670, Ct 11 765.
    let member = || MemberInput {
        n_ed: -15e3,
        v_y_ed: 1e3,
        v_z_ed: 3e3,
        m_y_ed: 600.0,
        m_z_ed: 200.0,
        t_ed: 150.0,
        h: 0.05,
        b: 0.05,
        t: 3e-3,
        a: 540.8e-6,
        a_v_y: 270.4e-6,
        a_v_z: 270.4e-6,
        i_y: 194_670e-12,
        i_z: 194_670e-12,
        i_t: 321_350e-12,
        w_el_y: 7787e-9,
        w_el_z: 7787e-9,
        f_y: 235.0 * MPA,
        w_pl_y: None,
        w_pl_z: None,
        c_t: Some(11_765e-9),
        l_cr_y: Some(1.2),
        l_cr_z: Some(1.2),
        l_lt: None,
        c_1: None,
        psi_y: None,
        psi_z: None,
        l_cr_t: None,
        i_w: None,
        y_0: None,
        z_0: None,
        c_2: None,
        z_g: None,
        omega: None,
        b_ed: None,
        tau_w: None,
        r_0: None,
        r_z: None,
        beta_w: None,
        f_u: None,
        a_net: None,
        u_lag: None,
        a_fg: None,
        a_fn: None,
        shape: Shape::RectangularTube,
        curve: BucklingCurve::C,
        ends: EndsSway::Held,
        diagram_y: MomentDiagram::EndMoments,
        diagram_z: MomentDiagram::EndMoments,
        origins: given(),
    };
    // A channel twisted by 3 N m: 3000 3 / 500 = 18 MPa of shear, √3 times that compared.
    let twisted = MemberInput {
        n_ed: 0.0,
        v_y_ed: 0.0,
        v_z_ed: 0.0,
        m_y_ed: 0.0,
        m_z_ed: 0.0,
        t_ed: 3.0,
        i_t: 500e-12,
        shape: Shape::Channel,
        c_t: None,
        ..member()
    };
    let slender = MemberInput { l_cr_y: Some(3.6), l_cr_z: Some(3.6), ..member() };
    let [section, strut] = members::MEMBERS else { panic!("two rules") };
    vec![
        // σ = 27.74 + 102.74, τ = 14.79 + 12.75.
        by_hand(*section, member(), 138.920 * MPA, 156.667 * MPA),
        by_hand(*section, twisted, 31.1769 * MPA, 156.667 * MPA),
        // λ 63.25 of 132.8, σcr 208.35, σe 518.1: 0.2663 + 0.6557 / 0.8929.
        by_hand(*strut, member(), 1.000_636, 1.0),
        // λ 189.7, σcr = σe = 57.57.
        by_hand(*strut, slender, 18.991_46, 1.0),
    ]
}

fn of_points() -> Vec<Example<StressPointInput>> {
    let point = StressPointInput {
        n_ed: 10e3,
        m_x: 100.0,
        m_y: 20.0,
        a: 400e-6,
        i_x: 60_000e-12,
        i_y: 20_000e-12,
        i_xy: 15_000e-12,
        x: 0.01,
        y: 0.02,
        tau_ed: 15.0 * MPA,
        f_y: 235.0 * MPA,
        t_ed: None,
        l_t: None,
        i_t: None,
        i_w: None,
        omega: None,
        f_n_a: None,
        f_n_x: None,
        f_n_y: None,
        origins: given(),
    };
    // 25 + (34 - 3) / 0.975 = 56.79; with 15 of shear 62.455.
    vec![by_hand(members::STRESS_POINTS[0], point, 62.4552 * MPA, 156.667 * MPA)]
}

fn of_tabs() -> Vec<Example<TabInput>> {
    let tab = || TabInput {
        f_ed: 2000.0,
        l: 0.05,
        b: 0.06,
        t: 8e-3,
        f_y: 235.0 * MPA,
        d_0: Some(13e-3),
        l_hole: Some(0.02),
        d_w: None,
        origins: given(),
    };
    vec![
        by_hand(plates::TABS[0], tab(), 156.25 * MPA, 156.667 * MPA),
        by_hand(plates::TABS[1], tab(), 79.7872 * MPA, 156.667 * MPA),
    ]
}

fn of_gussets() -> Vec<Example<GussetInput>> {
    let gusset = || GussetInput {
        f_ed: 10e3,
        b: 0.12,
        a: 0.15,
        s: 0.072,
        t: 4e-3,
        f_y: 235.0 * MPA,
        force: GussetForce::Presses,
        origins: given(),
    };
    vec![
        // The edge yields at 42.988 kN: 235 / 4.2988.
        by_hand(plates::GUSSETS[0], gusset(), 54.6667 * MPA, 156.667 * MPA),
        // λ 108.13 of 132.8: 157.11 / 2.
        by_hand(plates::GUSSETS[1], gusset(), 54.6667 * MPA, 78.5560 * MPA),
    ]
}

fn of_seats() -> Vec<Example<SeatInput>> {
    let seat = || SeatInput {
        f_ed: 20e3,
        d_w: 0.024,
        d_h: 0.013,
        p_limit: 490.0 * MPA,
        overhang: Some(5e-3),
        t_plate: Some(8e-3),
        f_y_plate: Some(235.0 * MPA),
        f_y_seat: None,
        origins: given(),
    };
    vec![
        by_hand(plates::SEATS[0], seat(), 62.5671 * MPA, 490.0 * MPA),
        by_hand(plates::SEATS[1], seat(), 73.3208 * MPA, 156.667 * MPA),
    ]
}

fn of_sleeves() -> Vec<Example<SleeveInput>> {
    let sleeve =
        SleeveInput { f_m: 28.8e3, d_out: 0.02, d_in: 0.011, f_y: 235.0 * MPA, origins: given() };
    vec![by_hand(plates::SLEEVES[0], sleeve, 131.431 * MPA, 156.667 * MPA)]
}

fn of_plate_points() -> Vec<Example<PlatePointInput>> {
    let point = PlatePointInput {
        n_xx: 120e3,
        n_yy: -40e3,
        n_xy: 30e3,
        m_xx: 300.0,
        m_yy: 100.0,
        m_xy: 50.0,
        t: 5e-3,
        f_y: 235.0 * MPA,
        origins: given(),
    };
    // At the top 96, 16 and 18 MPa.
    vec![by_hand(plate_points::PLATE_POINTS[0], point, 94.3822 * MPA, 156.667 * MPA)]
}

fn of_plate_buckling() -> Vec<Example<PlateBucklingInput>> {
    let made = PlateMade::Welded;
    let plate = PlateBucklingInput { alpha_cr: 3.2, alpha_ult: 2.5, made, origins: given() };
    vec![by_hand(plate_points::PLATE_BUCKLING[0], plate, 2.0, 3.2)]
}
