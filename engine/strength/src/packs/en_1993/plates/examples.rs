//! Worked examples of the plate clauses.

use crate::clause::Clause;
use crate::clause::input::{FloorInput, GussetForce, GussetInput, SeatInput, TabInput};
use crate::packs::en_1993::examples::{Example, OWN, Rules, given};

use super::gusset::Gusset;
use super::seat::{Overhang, Pressure};
use super::{floor, tab};

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
