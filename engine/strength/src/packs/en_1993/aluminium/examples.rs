//! Worked examples of the aluminium clauses.

use crate::clause::Clause;
use crate::clause::input::{
    AluminiumElementInput, AluminiumHeld, AluminiumPlateInput, AluminiumPlyInput,
    AluminiumWeldInput, ElementWelded, PlateWeld, Temper, WeldProcess,
};
use crate::packs::en_1993::MPA;
use crate::packs::en_1993::examples::{Example, OWN, Rules, given};

use super::{element, plate, ply, weld};

fn own<I>(clause: &'static dyn Clause<I>, input: I, demand: f64, resistance: f64) -> Example<I> {
    let rules = Rules::RECOMMENDED;
    Example { clause, input, demand, resistance, tolerance: 1e-5, source: OWN, rules }
}

pub(in crate::packs::en_1993) fn aluminium_plates() -> Vec<Example<AluminiumPlateInput>> {
    // 80 x 6 of 6061-T6.
    let bare = || AluminiumPlateInput {
        n_t_ed: 20e3,
        n_c_ed: 0.0,
        m_ed: 20.0,
        b: 0.08,
        t: 6e-3,
        f_o: 240.0 * MPA,
        f_u: 260.0 * MPA,
        f_o_haz: Some(115.0 * MPA),
        f_u_haz: Some(175.0 * MPA),
        sum_d_0: None,
        n_sides: None,
        l_cr: Some(0.3),
        weld: PlateWeld::None,
        process: WeldProcess::Mig,
        temper: Temper::HeatTreated,
        origins: given(),
    };
    let across = || AluminiumPlateInput { weld: PlateWeld::Across, ..bare() };
    let along = || AluminiumPlateInput { weld: PlateWeld::Along, n_sides: Some(2.0), ..bare() };
    let hole = || AluminiumPlateInput { sum_d_0: Some(13e-3), ..bare() };
    let hole_along = AluminiumPlateInput { sum_d_0: Some(13e-3), ..along() };
    let tig = AluminiumPlateInput { process: WeldProcess::Tig, n_sides: Some(1.0), ..along() };
    // Annealed metal keeps its strength although none is stated for the zone.
    let annealed = AluminiumPlateInput {
        f_o: 125.0 * MPA,
        f_u: 275.0 * MPA,
        f_o_haz: None,
        f_u_haz: None,
        temper: Temper::Annealed,
        ..across()
    };
    let pressed = || AluminiumPlateInput { n_t_ed: 0.0, n_c_ed: 4e3, ..bare() };
    // 60 x 40 of the same, 45 high: as a free block twice that.
    let block = AluminiumPlateInput { b: 0.06, t: 0.04, l_cr: Some(0.09), ..pressed() };
    let weak = AluminiumPlateInput { weld: PlateWeld::Across, sum_d_0: Some(13e-3), ..pressed() };
    let soft = AluminiumPlateInput {
        f_o: 125.0 * MPA,
        f_u: 275.0 * MPA,
        temper: Temper::Annealed,
        ..pressed()
    };
    vec![
        own(&plate::Yielding, bare(), 20e3, 104_727.3),
        own(&plate::Yielding, across(), 20e3, 104_727.3),
        // 80 - 40 (1 - 0.4792) = 59.17 mm, 355.0 mm².
        own(&plate::Yielding, along(), 20e3, 77_454.55),
        own(&plate::Yielding, tig, 20e3, 84_272.73),
        own(&plate::Breaking, across(), 20e3, 67_200.0),
        own(&plate::Breaking, along(), 20e3, 83_520.0),
        own(&plate::Breaking, hole(), 20e3, 75_254.4),
        own(&plate::Breaking, hole_along, 20e3, 60_566.4),
        own(&plate::Breaking, annealed, 20e3, 105_600.0),
        own(&plate::Compression, pressed(), 4e3, 9427.121),
        own(&plate::Compression, weak, 4e3, 7620.300),
        own(&plate::Compression, soft, 4e3, 8639.146),
        own(&plate::Compression, block, 4e3, 518_838.3),
        own(&plate::Bending, bare(), 20.0, 157.0909),
        own(&plate::Bending, along(), 20.0, 116.1818),
        own(&plate::BreakingInBending, across(), 20.0, 67.2),
        own(&plate::BreakingInBending, hole(), 20.0, 83.616),
        // 20 / 104.727 + 20 / 157.09.
        own(&plate::Together, bare(), 0.318_287, 1.0),
        // 20 / 67.2 + 20 / 67.2.
        own(&plate::Together, across(), 0.595_238, 1.0),
        // 20 / 75.254 + 20 / 83.616.
        own(&plate::Together, hole(), 0.504_954, 1.0),
        own(&plate::Together, pressed(), 0.551_623, 1.0),
    ]
}

pub(in crate::packs::en_1993) fn aluminium_plies() -> Vec<Example<AluminiumPlyInput>> {
    let near = || AluminiumPlyInput {
        f_v_ed: 8e3,
        f_t_ed: 5e3,
        d: 10e-3,
        d_0: 11e-3,
        d_m: 17.5e-3,
        t: 6e-3,
        f_o: 240.0 * MPA,
        f_u: 260.0 * MPA,
        f_ub: 800.0 * MPA,
        e_1: Some(0.025),
        e_2: Some(0.02),
        p_1: Some(0.03),
        p_2: Some(0.04),
        f_m: Some(20e3),
        d_w: Some(0.02),
        origins: given(),
    };
    let loose = AluminiumPlyInput { f_m: None, ..near() };
    let free = AluminiumPlyInput { e_1: None, e_2: None, p_1: None, p_2: None, ..near() };
    vec![
        // 30 / 33 - 1/4 = 0.6591 governs over 25 / 33; 2.5 in both directions.
        own(&ply::Bearing, near(), 8e3, 20_563.64),
        own(&ply::Bearing, free, 8e3, 31_200.0),
        own(&ply::Punching, near(), 5e3, 38_000.70),
        // 25 kN and 5 kN on a ring of 20 over 11 mm.
        own(&ply::UnderHead, near(), 114.0896 * MPA, 218.181_8 * MPA),
        own(&ply::UnderHead, loose, 22.8179 * MPA, 218.181_8 * MPA),
    ]
}

pub(in crate::packs::en_1993) fn aluminium_welds() -> Vec<Example<AluminiumWeldInput>> {
    // 6061 with filler 5356, fillet 5 mm.
    let bead = || AluminiumWeldInput {
        q_1: 100e3,
        q_2: 60e3,
        q_l: 80e3,
        z: 5e-3,
        gap: 0.0,
        f_w: 190.0 * MPA,
        t_sheet: 6e-3,
        f_u_haz: Some(175.0 * MPA),
        origins: given(),
    };
    vec![
        own(&weld::Throat, bead(), 68.352_03 * MPA, 152.0 * MPA),
        // √(60² + 3 (100² + 80²)) / 5.
        own(&weld::Fusion, bead(), 45.956_5 * MPA, 140.0 * MPA),
        own(&weld::SheetBeside, bead(), 141_421.4, 484_974.2),
    ]
}

pub(in crate::packs::en_1993) fn aluminium_elements() -> Vec<Example<AluminiumElementInput>> {
    let element = |b: f64, f_o: f64, held, welded, temper| AluminiumElementInput {
        sigma_ed: 60.0 * MPA,
        b: b * 1e-3,
        t: 3e-3,
        f_o: f_o * MPA,
        held,
        welded,
        temper,
        origins: given(),
    };
    use AluminiumHeld::{BothEdges, OneEdge};
    use ElementWelded::{No, Yes};
    use Temper::{HeatTreated, WorkHardened};
    let row = |input, resistance: f64| own(&element::Element, input, 60.0 * MPA, resistance * MPA);
    vec![
        row(element(60.0, 240.0, BothEdges, No, HeatTreated), 218.1818),
        row(element(100.0, 240.0, BothEdges, No, HeatTreated), 168.773_7),
        row(element(40.0, 115.0, OneEdge, Yes, HeatTreated), 78.478_93),
        row(element(40.0, 240.0, OneEdge, No, HeatTreated), 136.328_8),
        row(element(90.0, 125.0, BothEdges, Yes, WorkHardened), 96.042_95),
    ]
}

/// Half of the strength may be gone there.
#[test]
fn a_weld_without_softened_strengths_is_not_checked() {
    use crate::clause::NotChecked;
    use crate::packs::en_1993::examples::factors;
    use fishplate_quantity::Trace;
    let mut input = aluminium_plates().swap_remove(4).input;
    input.f_o_haz = None;
    let got = plate::Breaking.evaluate(&input, &factors(), &mut Trace::off());
    assert!(matches!(got, Err(NotChecked::Missing { symbol: "f_o_haz", .. })), "{got:?}");
}
