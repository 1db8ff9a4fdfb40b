//! Worked examples of the plate clauses.

use crate::clause::Clause;
use crate::clause::input::{
    FloorInput, GussetForce, GussetInput, GussetPlateInput, PanelEdges, PanelInput, RailPlace,
    SeatInput, ShearPanelInput, TabInput, WebCount, WebFlanges, WebInput, WebKind, WebLoad,
};
use crate::packs::en_1993::examples::{Example, OWN, Rules, given};

use super::gusset::{FreeEdge, Gusset};
use super::seat::{Overhang, Pressure};
use super::{floor, gusset_plate, panel, shear_panel, tab, web};

pub(in crate::packs::en_1993) fn tabs() -> Vec<Example<TabInput>> {
    // 60 x 8 S235, 2.0 kN at 50 mm, hole 13 mm at 20 mm from the load.
    let tab = || TabInput {
        f_ed: 2000.0,
        l: 0.05,
        b: 0.06,
        t: 8e-3,
        f_y: 235e6,
        d_0: Some(13e-3),
        l_hole: Some(0.02),
        d_w: Some(13e-3),
        origins: given(),
    };
    let example = |clause: &'static dyn Clause<TabInput>, input, demand, resistance| Example {
        clause,
        input,
        demand,
        resistance,
        tolerance: 1e-4,
        source: OWN,
        rules: Rules::RECOMMENDED,
    };
    vec![
        example(&tab::FirstYield, tab(), 156.25e6, 235e6),
        // 100 / 0.4433 = 225.6 N m.
        example(&tab::PlasticHinge, tab(), 100.0, 225.6),
        example(&tab::AtHole, tab(), 79.787e6, 235e6),
        // 13 + 2 40 = 93 mm of a tab 120 wide: 93 64 / 4 235 = 349.68 N m.
        example(&tab::Spread, TabInput { l: 0.04, b: 0.12, ..tab() }, 80.0, 349.68),
        example(&tab::Spread, tab(), 100.0, 225.6),
    ]
}

/// The floor of a folded bracket, walls 50 apart, 5 mm S275, washer 24, hole 13.
fn floor_plate() -> FloorInput {
    FloorInput {
        f_ed: 8333.0,
        l: 0.05,
        d_w: 0.024,
        d_0: 0.013,
        t: 5e-3,
        f_y: 275e6,
        c_1: None,
        c_2: None,
        origins: given(),
    }
}

pub(in crate::packs::en_1993) fn floors() -> Vec<Example<FloorInput>> {
    let example = |clause: &'static dyn Clause<FloorInput>, input, demand, resistance| Example {
        clause,
        input,
        demand,
        resistance,
        tolerance: 1e-4,
        source: "own recomputation, virtual work by hand",
        rules: Rules::RECOMMENDED,
    };
    let one_edge = || FloorInput { c_1: Some(0.018), ..floor_plate() };
    let two_edges = FloorInput { c_2: Some(0.01), ..one_edge() };
    // m = 275 25 / 4 = 1718.75 N; g = 13; closed half π 50 / 13 = 12.0830;
    // free halves 4 (12 + 18) / 13 = 9.2308 and 4 (12 + 10) / 13 = 6.7692.
    // Strip: 24 + 25 + 25 = 74 wide, M_end = 8333 (3 2500 - 576) / 1200 = 48 081 N mm,
    // M_mid = 8333 (12.5 - 3) - 48 081 = 31 082 N mm over 61 mm; with the edge 67 and 54 wide.
    vec![
        example(&floor::YieldLines, floor_plate(), 8333.0, 1718.75 * 24.1661),
        example(&floor::YieldLines, one_edge(), 8333.0, 1718.75 * 21.3138),
        example(&floor::YieldLines, two_edges, 8333.0, 1718.75 * 16.0),
        example(&floor::FirstYield, floor_plate(), 155.939e6, 275e6),
        example(&floor::FirstYield, one_edge(), 172.231e6, 275e6),
    ]
}

pub(in crate::packs::en_1993) fn gussets() -> Vec<Example<GussetInput>> {
    let gusset = |t: f64, force: GussetForce| GussetInput {
        f_ed: 10e3,
        b: 0.12,
        a: 0.15,
        s: 0.072,
        t,
        f_y: 235e6,
        force,
        origins: given(),
    };
    let example = |input, resistance| Example {
        clause: &Gusset as &'static dyn Clause<GussetInput>,
        input,
        demand: 10e3,
        resistance,
        tolerance: 1e-4,
        source: OWN,
        rules: Rules::RECOMMENDED,
    };
    vec![
        example(gusset(4e-3, GussetForce::Presses), 19_672.0),
        example(gusset(4e-3, GussetForce::Pulls), 42_988.0),
        // Thick: z = 0.3148 of 235 120 20 is below the strip at 211.6 and first yield at 214.9 kN.
        example(gusset(20e-3, GussetForce::Presses), 177_547.2),
    ]
}

pub(in crate::packs::en_1993) fn gusset_edges() -> Vec<Example<GussetInput>> {
    // 120 150 / 192.09 = 93.704 behind the free edge: 23.43 over 14.
    let thin = gussets().remove(0).input;
    vec![Example {
        clause: &FreeEdge,
        input: thin,
        demand: 23.426_06,
        resistance: 14.0,
        tolerance: 1e-5,
        source: "own recomputation; 14 eps of outstands from memory of the standard",
        rules: Rules::RECOMMENDED,
    }]
}

pub(in crate::packs::en_1993) fn gusset_plates() -> Vec<Example<GussetPlateInput>> {
    // Two lines of bolts 40 apart, 60 from first to last, 6 mm, S235: 40 + 120 tan 30° = 109.28.
    let plate = |k_g: f64| GussetPlateInput {
        n_ed: -80e3,
        w_0: 0.04,
        l_con: 0.06,
        b_plate: 0.15,
        t: 6e-3,
        f_y: 235e6,
        l_1: Some(0.03),
        l_2: Some(0.06),
        l_3: Some(0.045),
        k_g: Some(k_g),
        origins: given(),
    };
    let example = |clause: &'static dyn Clause<GussetPlateInput>, input, resistance| Example {
        clause,
        input,
        demand: 80e3,
        resistance,
        tolerance: 1e-4,
        source: OWN,
        rules: Rules::RECOMMENDED,
    };
    let narrow = GussetPlateInput { b_plate: 0.1, n_ed: 80e3, ..plate(0.65) };
    vec![
        example(&gusset_plate::Whitmore, plate(0.65), 154_087.7),
        example(&gusset_plate::Whitmore, narrow, 141_000.0),
        // lambda 0.17982: nothing is lost; able to sway 0.33198.
        example(&gusset_plate::Thornton, plate(0.65), 154_087.7),
        example(&gusset_plate::Thornton, plate(1.2), 143_728.0),
    ]
}

pub(in crate::packs::en_1993) fn panels() -> Vec<Example<PanelInput>> {
    // 200 x 300 x 5, S235, 3 kN on a washer of 24; constants midway between 1.4 and 1.6.
    let plate = |edges: PanelEdges| PanelInput {
        f_ed: 3000.0,
        a: 0.2,
        b: 0.3,
        t: 5e-3,
        d_w: 0.024,
        f_y: 235e6,
        edges,
        origins: given(),
    };
    let example = |clause: &'static dyn Clause<PanelInput>, input, demand, resistance, source| {
        let rules = Rules::RECOMMENDED;
        Example { clause, input, demand, resistance, tolerance: 1e-4, source, rules }
    };
    let work = "own recomputation, virtual work by hand";
    let square = PanelInput { b: 0.2, ..plate(PanelEdges::Supported) };
    vec![
        example(&panel::FirstYield, plate(PanelEdges::Supported), 223.590e6, 235e6, OWN),
        example(&panel::FirstYield, plate(PanelEdges::Clamped), 177.753e6, 235e6, OWN),
        // m = 235 25 / 4 = 1468.75 N: 4 (2/3 + 3/2) m, 8 m, 4 π m.
        example(&panel::YieldLines, plate(PanelEdges::Supported), 3000.0, 12_729.2, work),
        example(&panel::YieldLines, square, 3000.0, 11_750.0, work),
        example(&panel::YieldLines, plate(PanelEdges::Clamped), 3000.0, 18_456.9, work),
    ]
}

pub(in crate::packs::en_1993) fn shear_panels() -> Vec<Example<ShearPanelInput>> {
    // 150 wide, 1.5 thick, S235.
    let plate = |a: f64| ShearPanelInput {
        tau_ed: 50e6,
        a,
        b: 0.15,
        t: 1.5e-3,
        f_y: 235e6,
        origins: given(),
    };
    let example = |clause: &'static dyn Clause<ShearPanelInput>, input, resistance| Example {
        clause,
        input,
        demand: 50e6,
        resistance,
        tolerance: 1e-4,
        source: OWN,
        rules: Rules::RECOMMENDED,
    };
    vec![
        // k = 5.34 + 4 / 4, and 4 + 5.34 2.25 where it is shorter than wide.
        example(&shear_panel::BeforeBuckling, plate(0.3), 120.333e6),
        example(&shear_panel::BeforeBuckling, plate(0.1), 303.965e6),
        example(&shear_panel::AfterBuckling, plate(0.3), 106.053e6),
        example(&shear_panel::AfterBuckling, plate(0.1), 135.677e6),
    ]
}

pub(in crate::packs::en_1993) fn webs() -> Vec<Example<WebInput>> {
    // 97 deep, 1.5, bend radius 3, 250 MPa, a foot of 30.
    let web = |at: RailPlace, load: WebLoad, flanges: WebFlanges| WebInput {
        f_ed: 2000.0,
        h_w: 0.097,
        t: 1.5e-3,
        r: 3e-3,
        s_s: 0.03,
        phi: 90.0_f64.to_radians(),
        f_y: 250e6,
        beta_v: Some(0.0),
        webs: WebCount::One,
        at,
        load,
        flanges,
        kind: WebKind::Hat,
        origins: given(),
    };
    // One of the two webs of a box of 1.9, 180 MPa, bend radius 3, a foot of 60.
    let box_web = |kind: WebKind| WebInput {
        h_w: 0.07,
        t: 1.9e-3,
        f_y: 180e6,
        s_s: 0.06,
        webs: WebCount::TwoOrMore,
        kind,
        ..web(RailPlace::Inside, WebLoad::OneFlange, WebFlanges::Stiffened)
    };
    let example = |clause: &'static dyn Clause<WebInput>, input, resistance| Example {
        clause,
        input,
        demand: 2000.0,
        resistance,
        tolerance: 1e-4,
        source: OWN,
        rules: Rules::RECOMMENDED,
    };
    let (near, inside) = (RailPlace::NearEnd, RailPlace::Inside);
    let (one, both) = (WebLoad::OneFlange, WebLoad::BothFlanges);
    let (lipped, plain) = (WebFlanges::Stiffened, WebFlanges::Unstiffened);
    let long = |input| WebInput { s_s: 0.12, ..input };
    vec![
        example(&web::OneWeb, web(near, one, lipped), 4422.86),
        example(&web::OneWeb, web(near, one, plain), 3016.32),
        example(&web::OneWeb, web(inside, one, plain), 7901.95),
        example(&web::OneWeb, web(near, both, plain), 3138.23),
        example(&web::OneWeb, web(inside, both, plain), 9044.06),
        // 80 times as long as thick: the second pair of coefficients.
        example(&web::OneWeb, long(web(near, one, plain)), 4800.97),
        example(&web::OneWeb, long(web(inside, one, plain)), 11_298.4),
        example(&web::MoreWebs, box_web(WebKind::Hat), 9823.99),
        example(&web::MoreWebs, box_web(WebKind::Sheeting), 12_813.9),
        // Shear forces as 5 to 3: half of what the foot has over 10 mm.
        example(&web::MoreWebs, WebInput { beta_v: Some(0.25), ..box_web(WebKind::Hat) }, 8399.45),
        example(&web::MoreWebs, WebInput { at: near, ..box_web(WebKind::Hat) }, 3100.63),
    ]
}

pub(in crate::packs::en_1993) fn seats() -> Vec<Example<SeatInput>> {
    // Washer 28 on a hole of 15 under the preload of an M14-10.9: 192.7 MPa against 490.
    let seat = || SeatInput {
        f_ed: 84_607.0,
        d_w: 0.028,
        d_h: 0.015,
        p_limit: 490e6,
        overhang: Some(5e-3),
        t_plate: Some(8e-3),
        f_y_plate: Some(275e6),
        f_y_seat: None,
        origins: given(),
    };
    vec![
        Example {
            clause: &Pressure,
            input: seat(),
            demand: 192.7e6,
            resistance: 490e6,
            tolerance: 3e-4,
            source: "own recomputation; 490 MPa for S235 from memory of VDI 2230",
            rules: Rules::RECOMMENDED,
        },
        Example {
            // c = 8 √(275 / (3 192.71)) = 5.5175 mm.
            clause: &Overhang,
            input: seat(),
            demand: 5e-3,
            resistance: 5.5175e-3,
            tolerance: 1e-4,
            source: OWN,
            rules: Rules::RECOMMENDED,
        },
    ]
}

#[cfg(test)]
mod tests {
    use fishplate_quantity::Trace;

    /// The five rows of one web are those of the AISI specification of 1986 for 33 ksi, which gives
    /// its coefficients in ksi (331 - 0.61 h/t and so on, from memory): one factor turns all.
    #[test]
    fn rows_of_one_web_are_those_of_the_older_american_rule() {
        let american: [(f64, f64); 5] =
            [(331.0, 0.61), (217.0, 0.28), (538.0, 0.74), (244.0, 0.57), (771.0, 2.26)];
        let european: [(f64, f64); 5] =
            [(9.04, 60.0), (5.92, 132.0), (14.7, 49.5), (6.66, 64.0), (21.0, 16.3)];
        for ((base, slope), (base_en, divisor)) in american.into_iter().zip(european) {
            assert!((base_en / base / 0.0273 - 1.0).abs() < 5e-3, "{base_en}");
            assert!((slope / base * base_en * divisor - 1.0).abs() < 1e-2, "{divisor}");
        }
    }

    /// The route that governs is told.
    #[test]
    fn a_gusset_says_which_route_governs() {
        for (example, told) in
            gussets().into_iter().zip(["strut strip", "first yield", "polynomial of tests"])
        {
            let mut trace = Trace::on();
            Gusset.evaluate(&example.input, &factors(), &mut trace).unwrap();
            assert!(trace.notes().iter().any(|note| note.ends_with(told)), "{:?}", trace.notes());
            // Force along the loaded leg: P cot phi = 0.8 P of legs 120 and 150.
            let tie = trace.entries().iter().find(|e| e.symbol == "tie").unwrap();
            assert!((tie.value / 8000.0 - 1.0).abs() < 1e-9);
        }
    }

    /// Deflection of the tab: 0.1550 mm as a beam, 0.1411 mm as a wide plate.
    #[test]
    fn a_tab_tells_how_far_it_gives() {
        let mut trace = Trace::on();
        tab::FirstYield.evaluate(&tabs().remove(0).input, &factors(), &mut trace).unwrap();
        for (symbol, expected) in [("w_beam", 0.155_01e-3), ("w_wide", 0.141_06e-3)] {
            let entry = trace.entries().iter().find(|e| e.symbol == symbol).unwrap();
            assert!((entry.value / expected - 1.0).abs() < 1e-4, "{symbol} {}", entry.value);
        }
    }

    use super::*;
    use crate::packs::en_1993::examples::factors;

    /// The three routes of the gusset, plastic from the interaction of a rectangle.
    #[test]
    fn all_routes_of_the_gusset_are_shown() {
        let mut trace = Trace::on();
        let input = gussets().remove(0).input;
        Gusset.evaluate(&input, &factors(), &mut trace).unwrap();
        for (symbol, expected) in [("p_plastic", 56_387.0), ("p_edge", 42_988.0)] {
            let entry = trace.entries().iter().find(|e| e.symbol == symbol).unwrap();
            assert!((entry.value / expected - 1.0).abs() < 1e-4, "{symbol} {}", entry.value);
        }
        let slender = trace.entries().iter().find(|e| e.symbol == "slender").unwrap();
        assert!((slender.value / 108.13 - 1.0).abs() < 1e-4);
    }
}
