//! Worked examples of plates in space.

use crate::clause::Clause;
use crate::clause::input::{PlateBucklingInput, PlateMade, PlatePointInput};
use crate::packs::american::examples::{Example, OWN, asd, example, given, lrfd};

use super::point::{AtFaces, ColumnCurve, ThroughThickness};

/// 5 mm, 275 MPa; membrane 120, -40, 30 N/mm, moments 300, 100, 50 N mm/mm. By hand: sizes
/// 153.2971 N/mm and 278.3882 N, uses 0.111489 and 0.161971 without factors.
fn point() -> PlatePointInput {
    PlatePointInput {
        n_xx: 120e3,
        n_yy: -40e3,
        n_xy: 30e3,
        m_xx: 300.0,
        m_yy: 100.0,
        m_xy: 50.0,
        t: 5e-3,
        f_y: 275e6,
        origins: given(),
    }
}

pub(in crate::packs::american) fn plate_points() -> Vec<Example<PlatePointInput>> {
    let row = |clause: &'static dyn Clause<PlatePointInput>, demand, resistance, rules| {
        example(clause, point(), (demand, resistance), 1e-5, OWN, rules)
    };
    vec![
        row(&ThroughThickness, 0.243_094, 1.0, lrfd("2016")),
        row(&ThroughThickness, 0.365_370, 1.0, asd("2016")),
        row(&AtFaces, 94.382_20e6, 275e6, lrfd("2016")),
    ]
}

pub(in crate::packs::american) fn plate_buckling() -> Vec<Example<PlateBucklingInput>> {
    let row = |alpha_ult, alpha_cr, resistance, rules| {
        let made = PlateMade::Welded;
        let input = PlateBucklingInput { alpha_cr, alpha_ult, made, origins: given() };
        example(&ColumnCurve, input, (1.0, resistance), 1e-5, OWN, rules)
    };
    vec![
        // 2 · 0.658^1.6 = 1.023744; 0.877 · 0.5 = 0.4385.
        row(2.0, 1.25, 0.921_370, lrfd("2016")),
        row(1.5, 0.5, 0.262_575, asd("2016")),
    ]
}
