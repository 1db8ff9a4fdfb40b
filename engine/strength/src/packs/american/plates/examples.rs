//! Worked examples of the plate clauses.

use crate::clause::Clause;
use crate::clause::input::{
    FloorInput, GussetForce, GussetInput, GussetPlateInput, RailSection, SeatInput,
    ShearPanelInput, SleeveInput, TabInput, WallInput,
};
use crate::packs::american::examples::{Example, OWN, asd, example, given, lrfd};

use super::{floor, gusset, gusset_plate, seat, shear_panel, tab, wall};

const MM: f64 = 1e-3;
const MPA: f64 = 1e6;

pub(in crate::packs::american) fn tabs() -> Vec<Example<TabInput>> {
    // 60 x 8, 235 MPa, 2.0 kN at 50 mm, hole 13 mm at 20 mm from the load.
    let flat = || TabInput {
        f_ed: 2000.0,
        l: 50.0 * MM,
        b: 60.0 * MM,
        t: 8.0 * MM,
        f_y: 235.0 * MPA,
        d_0: Some(13.0 * MM),
        l_hole: Some(20.0 * MM),
        d_w: Some(13.0 * MM),
        origins: given(),
    };
    let row = |clause: &'static dyn Clause<TabInput>, input, demand, resistance| {
        example(clause, input, (demand, resistance), 1e-4, OWN, lrfd("2016"))
    };
    vec![
        row(&tab::FirstYield, flat(), 156.25 * MPA, 0.9 * 235.0 * MPA),
        // 0.9 235 60 64 / 4.
        row(&tab::PlasticHinge, flat(), 100.0, 203.04),
        row(&tab::AtHole, flat(), 40.0, 159.048),
        // 13 + 2 40 = 93 of a tab 120 wide.
        row(&tab::Spread, TabInput { l: 40.0 * MM, b: 120.0 * MM, ..flat() }, 80.0, 314.712),
        row(&tab::Shear, flat(), 2000.0, 67_680.0),
    ]
}

pub(in crate::packs::american) fn floors() -> Vec<Example<FloorInput>> {
    // Walls 50 apart, 5 mm, 275 MPa, washer 24, hole 13: m = 275 25 / 4 = 1718.75 N; work 24.1661
    // closed, 21.3138 and 16.0 with free edges 18 and 10 from the washer; times 0.9.
    let plate = |c_1: Option<f64>, c_2: Option<f64>| FloorInput {
        f_ed: 8333.0,
        l: 50.0 * MM,
        d_w: 24.0 * MM,
        d_0: 13.0 * MM,
        t: 5.0 * MM,
        f_y: 275.0 * MPA,
        c_1: c_1.map(|c| c * MM),
        c_2: c_2.map(|c| c * MM),
        origins: given(),
    };
    let row = |input, resistance| {
        let clause: &dyn Clause<FloorInput> = &floor::YieldLines;
        let source = "own recomputation, virtual work by hand";
        example(clause, input, (8333.0, resistance), 1e-4, source, lrfd("2016"))
    };
    vec![
        row(plate(None, None), 37_381.9),
        row(plate(Some(18.0), None), 32_969.8),
        row(plate(Some(18.0), Some(10.0)), 24_750.0),
    ]
}

/// Legs 120 and 150, 235 MPa, load at 72 from the corner.
fn corner(t: f64, force: GussetForce) -> GussetInput {
    GussetInput {
        f_ed: 10e3,
        b: 120.0 * MM,
        a: 150.0 * MM,
        s: 72.0 * MM,
        t: t * MM,
        f_y: 235.0 * MPA,
        force,
        origins: given(),
    }
}

pub(in crate::packs::american) fn gussets() -> Vec<Example<GussetInput>> {
    let row = |clause: &'static dyn Clause<GussetInput>, input, resistance, tolerance, rules| {
        example(clause, input, (10e3, resistance), tolerance, OWN, rules)
    };
    // With E = 210 GPa the strip of the thin plate carries 24 681 N (KL/r = 108.13, Fcr = 134.92 MPa);
    // the same at a yield strength lower by the ratio of both moduli.
    let scale = 29_000.0 * 6.894_757_293e6 / 210e9;
    let scaled = GussetInput { f_y: 235.0 * MPA * scale, ..corner(4.0, GussetForce::Presses) };
    vec![
        row(&gusset::Strip, scaled, 0.9 * 24_681.0 * scale, 1e-4, lrfd("2016")),
        row(&gusset::Strip, corner(4.0, GussetForce::Presses), 21_601.5, 1e-4, lrfd("2016")),
        row(&gusset::Strip, corner(10.0, GussetForce::Presses), 88_111.2, 1e-4, lrfd("2016")),
        // First yield at the free edge, 42 988 N over 1.67.
        row(&gusset::Strip, corner(4.0, GussetForce::Pulls), 25_741.2, 1e-4, asd("2016")),
        // z = 0.3148.
        row(&gusset::Polynomial, corner(4.0, GussetForce::Presses), 31_958.5, 1e-4, lrfd("2016")),
    ]
}

pub(in crate::packs::american) fn gusset_plates() -> Vec<Example<GussetPlateInput>> {
    // Joint 60 long and 30 wide on 6 mm, 250 MPa: w = 30 + 2 60 tan 30° = 99.282 mm.
    let plate = |n_ed: f64, l_b: f64, k: f64| GussetPlateInput {
        n_ed,
        w_0: 30.0 * MM,
        l_con: 60.0 * MM,
        b_plate: 200.0 * MM,
        t: 6.0 * MM,
        f_y: 250.0 * MPA,
        l_1: Some((l_b - 10.0) * MM),
        l_2: Some((l_b + 20.0) * MM),
        l_3: Some((l_b - 10.0) * MM),
        k_g: Some(k),
        origins: given(),
    };
    let clipped = GussetPlateInput { b_plate: 80.0 * MM, ..plate(10e3, 90.0, 0.65) };
    let row = |clause: &'static dyn Clause<GussetPlateInput>, input, resistance, rules| {
        example(clause, input, (10e3, resistance), 1e-4, OWN, rules)
    };
    vec![
        row(&gusset_plate::WhitmoreYield, plate(10e3, 90.0, 0.65), 134_030.7, lrfd("2016")),
        row(&gusset_plate::WhitmoreYield, plate(-10e3, 90.0, 0.65), 89_175.5, asd("2016")),
        row(&gusset_plate::WhitmoreYield, clipped, 108_000.0, lrfd("2016")),
        // Slenderness 33.775, 62.354, 15.011 and 207.85.
        row(&gusset_plate::ThorntonBuckling, plate(-10e3, 90.0, 0.65), 126_164.0, lrfd("2016")),
        row(&gusset_plate::ThorntonBuckling, plate(-10e3, 90.0, 1.2), 109_061.6, lrfd("2016")),
        row(&gusset_plate::ThorntonBuckling, plate(-10e3, 40.0, 0.65), 134_030.7, lrfd("2016")),
        row(&gusset_plate::ThorntonBuckling, plate(-10e3, 300.0, 1.2), 21_478.2, lrfd("2016")),
    ]
}

pub(in crate::packs::american) fn shear_panels() -> Vec<Example<ShearPanelInput>> {
    let panel = |a: f64, b: f64, t: f64| ShearPanelInput {
        tau_ed: 50.0 * MPA,
        a: a * MM,
        b: b * MM,
        t: t * MM,
        f_y: 250.0 * MPA,
        origins: given(),
    };
    let row = |input, resistance: f64| {
        let clause: &dyn Clause<ShearPanelInput> = &shear_panel::Panel;
        example(clause, input, (50.0 * MPA, resistance * MPA), 1e-4, OWN, lrfd("2016"))
    };
    vec![
        // 33.3 against 1.10 √(kv E / Fy) = 73.3; 100 against 83.6 and 104.1; 150 against 122.5.
        row(panel(300.0, 100.0, 3.0), 135.0),
        row(panel(300.0, 200.0, 2.0), 112.863),
        row(panel(300.0, 300.0, 2.0), 72.4612),
    ]
}

pub(in crate::packs::american) fn seats() -> Vec<Example<SeatInput>> {
    // Washer 28 on a hole of 15: 439.04 mm².
    let washer = || SeatInput {
        f_ed: 84_607.0,
        d_w: 28.0 * MM,
        d_h: 15.0 * MM,
        p_limit: 490.0 * MPA,
        overhang: Some(5.0 * MM),
        t_plate: Some(8.0 * MM),
        f_y_plate: Some(275.0 * MPA),
        f_y_seat: Some(235.0 * MPA),
        origins: given(),
    };
    let row = |clause: &'static dyn Clause<SeatInput>, demand, resistance| {
        example(clause, washer(), (demand, resistance), 1e-4, OWN, lrfd("2016"))
    };
    vec![
        row(&seat::Bearing, 84_607.0, 139_284.7),
        row(&seat::Pressure, 192.710 * MPA, 490.0 * MPA),
        // 192.71 25 / 2 and 0.9 275 64 / 4.
        row(&seat::Overhang, 2408.88, 3960.0),
    ]
}

pub(in crate::packs::american) fn sleeves() -> Vec<Example<SleeveInput>> {
    let input = SleeveInput {
        f_m: 84_607.0,
        d_out: 28.0 * MM,
        d_in: 15.0 * MM,
        f_y: 235.0 * MPA,
        origins: given(),
    };
    let clause: &dyn Clause<SleeveInput> = &seat::SleeveYields;
    vec![example(clause, input, (84_607.0, 92_856.4), 1e-4, OWN, lrfd("2016"))]
}

/// A foot 60 across and 80 along on a wall 100 wide and 4 thick, 250 MPa.
fn foot() -> WallInput {
    WallInput {
        n_ed: 5e3,
        m_ip_ed: 200.0,
        m_op_ed: 100.0,
        b_0: 100.0 * MM,
        b_1: 60.0 * MM,
        h_1: 80.0 * MM,
        t_wall: 4.0 * MM,
        t_plate: 0.0,
        f_y: 250.0 * MPA,
        n_chord: None,
        rail: RailSection::Closed,
        origins: given(),
    }
}

pub(in crate::packs::american) fn walls() -> Vec<Example<WallInput>> {
    let pressed = WallInput { n_chord: Some(0.5), ..foot() };
    let doubled = WallInput { t_plate: 3.0 * MM, ..pressed.clone() };
    let row = |clause: &'static dyn Clause<WallInput>, input, demand, resistance| {
        example(clause, input, (demand, resistance), 1e-4, OWN, lrfd("2016"))
    };
    vec![
        row(&wall::FaceUnderFoot, foot(), 0.295_014, 1.0),
        row(&wall::FaceUnderFoot, pressed, 0.305_187, 1.0),
        row(&wall::FaceUnderFoot, doubled, 0.195_319, 1.0),
        // 0.95 0.6 250 4 (2 80 + 2 24).
        row(&wall::PunchingAtFoot, foot(), 5e3, 118_560.0),
    ]
}

pub(in crate::packs::american) fn wall_pulls() -> Vec<Example<WallInput>> {
    let force = |n_chord| WallInput { m_ip_ed: 0.0, m_op_ed: 0.0, n_chord, ..foot() };
    let row = |input, resistance, rules| {
        let clause: &dyn Clause<WallInput> = &wall::FacePulledByBolts;
        example(clause, input, (5e3, resistance), 1e-4, OWN, rules)
    };
    vec![
        row(force(None), 41_298.2, lrfd("2016")),
        // Qf = 1.3 - 0.4 0.5 / (0.6 0.6).
        row(force(Some(0.5)), 20_496.2, asd("2016")),
    ]
}

#[cfg(test)]
mod tests {
    use fishplate_quantity::Trace;

    use super::*;
    use crate::packs::american::PACK;

    /// The plastic section of the gusset is that of a rectangle under axial force and moment about
    /// its middle: (N/Np)² + M/Mp = 1, solved here by halving.
    #[test]
    fn the_plastic_section_of_a_gusset_solves_the_interaction_of_a_rectangle() {
        let (f_y, t, b, a, s) = (235e6_f64, 4e-3, 0.12_f64, 0.15_f64, 0.072);
        let sin = a / a.hypot(b);
        let (w, e) = (b * sin, (s - b / 2.0) * sin);
        let over = |p: f64| {
            let n = p / sin;
            (n / (f_y * t * w)).powi(2) + n * e / (f_y * t * w * w / 4.0) - 1.0
        };
        let (mut low, mut high) = (0.0, 1e6);
        for _ in 0..200 {
            let middle = 0.5 * (low + high);
            if over(middle) < 0.0 { low = middle } else { high = middle }
        }
        let factors = PACK.factors(&lrfd("2016")).unwrap();
        let mut trace = Trace::on();
        gusset::Strip.evaluate(&corner(4.0, GussetForce::Pulls), &factors, &mut trace).unwrap();
        let plastic = trace.entries().iter().find(|e| e.symbol == "p_plastic").unwrap();
        assert!((plastic.value / low - 1.0).abs() < 1e-9, "{} against {low}", plastic.value);
    }
}
