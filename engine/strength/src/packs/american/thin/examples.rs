//! Worked examples of thin walls.

use crate::clause::Clause;
use crate::clause::input::{
    ElementHeld, ElementInput, FlatWall, FlatWallsInput, ThinBoxInput, ThinSectionInput, ThinShape,
};
use crate::packs::american::examples::{Example, OWN, asd, example, given, lrfd};

use super::element::{CriticalStress, EffectiveWidth};
use super::section::{Added, AddedWalls, WidthLimits, WidthLimitsWalls};
use super::thin_box::ThinBox;

const MM: f64 = 1e-3;

pub(in crate::packs::american) fn thin_boxes() -> Vec<Example<ThinBoxInput>> {
    let tube = |h: f64, b: f64, t: f64, f_y: f64, n_ed: f64, m_ed: f64| ThinBoxInput {
        n_ed,
        m_ed,
        h: h * MM,
        b: b * MM,
        t: t * MM,
        f_y,
        origins: given(),
    };
    // 100 x 60 x 1.2 at 180 MPa and 140 x 60 x 0.9 at 250 MPa by the width formula of Winter with
    // E = 210 GPa have 288.54 and 155.34 mm²: the same at a yield strength lower by 203.395 / 210.
    let scale = 203.395_34 / 210.0;
    let row = |input, demand, resistance, tolerance, rules| {
        let clause: &dyn Clause<ThinBoxInput> = &ThinBox;
        example(clause, input, (demand, resistance), tolerance, OWN, rules)
    };
    let (small, large) = (180e6 * scale, 250e6 * scale);
    vec![
        row(
            tube(100.0, 60.0, 1.2, small, 10e3, 0.0),
            10e3,
            0.85 * 288.54e-6 * small,
            2e-4,
            lrfd("2016"),
        ),
        row(
            tube(140.0, 60.0, 0.9, large, 10e3, 0.0),
            10e3,
            155.34e-6 * large / 1.80,
            2e-4,
            asd("2016"),
        ),
        row(tube(100.0, 60.0, 1.2, small, 0.0, 500.0), 500.0, 1692.70, 1e-4, lrfd("2016")),
        row(tube(140.0, 60.0, 0.9, 250e6, 0.0, 500.0), 500.0, 2473.24, 1e-4, lrfd("2016")),
        row(
            tube(140.0, 60.0, 0.9, 250e6, 10e3, 500.0),
            10e3 / 32_566.5 + 500.0 / 2473.24,
            1.0,
            1e-4,
            lrfd("2016"),
        ),
        row(tube(150.0, 30.0, 0.9, 350e6, 0.0, 500.0), 500.0, 2504.49, 1e-4, lrfd("2016")),
    ]
}

const FIBRES: &str = "own recomputation with 4000 fibres a wall, widths from memory of AISI S100";

/// Channel 100 x 50 x 1.2, 250 MPa.
fn channel() -> ThinSectionInput {
    ThinSectionInput {
        n_ed: -10e3,
        m_y_ed: 200.0,
        m_z_ed: 20.0,
        h: 100.0 * MM,
        b: 50.0 * MM,
        t: 1.2 * MM,
        f_y: 250e6,
        c: None,
        shape: ThinShape::Channel,
        origins: given(),
    }
}

pub(in crate::packs::american) fn thin_sections() -> Vec<Example<ThinSectionInput>> {
    let hat = ThinSectionInput {
        n_ed: -8e3,
        m_y_ed: 300.0,
        m_z_ed: 0.0,
        h: 60.0 * MM,
        c: Some(20.0 * MM),
        f_y: 300e6,
        shape: ThinShape::Hat,
        ..channel()
    };
    let tube = ThinSectionInput {
        m_y_ed: 500.0,
        m_z_ed: 0.0,
        h: 140.0 * MM,
        b: 60.0 * MM,
        t: 0.9 * MM,
        shape: ThinShape::Box,
        ..channel()
    };
    let row = |input, demand| {
        let clause: &dyn Clause<ThinSectionInput> = &Added;
        example(clause, input, (demand, 1.0), 2e-3, FIBRES, lrfd("2016"))
    };
    vec![
        row(channel(), 1.831_50),
        row(hat, 0.448_426),
        row(tube, 0.541_209),
        // 50 / 1.2 over 60 is more than 100 / 1.2 over 200.
        example(&WidthLimits, channel(), (0.694_444, 1.0), 1e-5, OWN, lrfd("2016")),
    ]
}

pub(in crate::packs::american) fn flat_walls() -> Vec<Example<FlatWallsInput>> {
    let wall = |y_1: f64, z_1: f64, y_2: f64, z_2: f64| FlatWall {
        y_1: y_1 * MM,
        z_1: z_1 * MM,
        y_2: y_2 * MM,
        z_2: z_2 * MM,
        t: 1.2 * MM,
    };
    let input = || FlatWallsInput {
        n_ed: -10e3,
        m_y_ed: 200.0,
        m_z_ed: 20.0,
        f_y: 250e6,
        walls: vec![
            wall(0.0, -50.0, 0.0, 50.0),
            wall(0.0, 50.0, 50.0, 50.0),
            wall(0.0, -50.0, 50.0, -50.0),
        ],
        origins: given(),
    };
    vec![
        example(&AddedWalls, input(), (1.831_50, 1.0), 2e-3, FIBRES, lrfd("2016")),
        example(&WidthLimitsWalls, input(), (0.694_444, 1.0), 1e-5, OWN, lrfd("2016")),
    ]
}

pub(in crate::packs::american) fn elements() -> Vec<Example<ElementInput>> {
    let element = |b: f64, t: f64, f_y: f64, psi: f64, held| ElementInput {
        sigma_ed: 100e6,
        b: b * MM,
        t: t * MM,
        psi,
        f_y: f_y * 1e6,
        held,
        origins: given(),
    };
    let flange = element(60.0, 3.0, 235.0, 1.0, ElementHeld::OneEdge);
    let wall = |b, psi| element(b, 1.96, 350.0, psi, ElementHeld::BothEdges);
    let clamped = element(60.0, 3.0, 235.0, 1.0, ElementHeld::BothEdgesClamped);
    let row = |clause: &'static dyn Clause<ElementInput>, input, resistance| {
        example(clause, input, (100e6, resistance), 1e-4, OWN, lrfd("2016"))
    };
    vec![
        row(&EffectiveWidth, flange.clone(), 146.220e6),
        row(&EffectiveWidth, wall(72.0, 1.0), 269.308e6),
        row(&EffectiveWidth, wall(198.0, 1.0), 121.510e6),
        row(&EffectiveWidth, wall(198.0, -1.0), 249.797e6),
        row(&CriticalStress, flange, 167.975e6),
        row(&CriticalStress, clamped, 2722.76e6),
    ]
}
