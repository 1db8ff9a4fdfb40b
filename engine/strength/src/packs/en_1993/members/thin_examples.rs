//! Worked examples of the clauses about thin sections and flat cantilevers.

use crate::clause::Clause;
use crate::clause::input::{
    FlatCantileverInput, FlatWall, FlatWallsInput, LippedChannelInput, ThinSectionInput, ThinShape,
};
use crate::packs::en_1993::examples::{Example, OWN, Rules, given};

use super::{cantilever, flat_walls, lipped, thin_section};

const MM: f64 = 1e-3;
const MPA: f64 = 1e6;

pub(super) const WALLS: &str =
    "own recomputation, walls cut in 4000 strips, formulas of the tables from memory";

pub(in crate::packs::en_1993) fn thin_sections() -> Vec<Example<ThinSectionInput>> {
    let thin_box = |n_ed: f64, m_y_ed: f64| ThinSectionInput {
        n_ed,
        m_y_ed,
        m_z_ed: 0.0,
        h: 140.0 * MM,
        b: 60.0 * MM,
        t: 0.9 * MM,
        f_y: 250.0 * MPA,
        c: None,
        shape: ThinShape::Box,
        origins: given(),
    };
    let channel = |n_ed: f64, m_y_ed: f64, m_z_ed: f64| ThinSectionInput {
        m_z_ed,
        h: 100.0 * MM,
        b: 50.0 * MM,
        t: 1.5 * MM,
        shape: ThinShape::Channel,
        ..thin_box(n_ed, m_y_ed)
    };
    let hat = |n_ed: f64, m_y_ed: f64, m_z_ed: f64| ThinSectionInput {
        m_z_ed,
        h: 60.0 * MM,
        b: 80.0 * MM,
        t: 1.2 * MM,
        c: Some(25.0 * MM),
        shape: ThinShape::Hat,
        ..thin_box(n_ed, m_y_ed)
    };
    let angle = ThinSectionInput {
        h: 60.0 * MM,
        b: 40.0 * MM,
        t: 1.5 * MM,
        shape: ThinShape::Angle,
        ..thin_box(-5e3, 0.0)
    };
    let i_section = ThinSectionInput {
        h: 150.0 * MM,
        b: 80.0 * MM,
        t: 1.5 * MM,
        shape: ThinShape::ISection,
        ..thin_box(-10e3, -1000.0)
    };
    let apart = &thin_section::Apart as &'static dyn Clause<ThinSectionInput>;
    let together = &thin_section::Together as &'static dyn Clause<ThinSectionInput>;
    let limits = &thin_section::WidthLimits as &'static dyn Clause<ThinSectionInput>;
    // Forces over what is left of area and section moduli, N and mm.
    [
        (apart, thin_box(-10e3, 0.0), 10e3 / 155.265, 250.0, OWN),
        (apart, thin_box(0.0, 500.0), 500e3 / 9665.29, 250.0, OWN),
        (apart, thin_box(-10e3, 500.0), 10e3 / 155.265 + 500e3 / 9665.29, 250.0, OWN),
        // Pulled, nothing is lost of 360 mm².
        (apart, thin_box(36e3, 0.0), 100.0, 250.0, OWN),
        // The centroid moves 7.4095 mm to the web: 12 kN press the side of the tips.
        (
            apart,
            channel(-12e3, 600.0, -100.0),
            12e3 / 174.366 + 600e3 / 3194.54 + (100e3 + 12e3 * 7.409_53) / 467.109,
            250.0,
            WALLS,
        ),
        (apart, hat(0.0, 400.0, 0.0), 400e3 / 5091.43, 250.0, WALLS),
        (apart, hat(0.0, -400.0, 0.0), 400e3 / 4501.44, 250.0, WALLS),
        (apart, hat(0.0, 0.0, 200.0), 200e3 / 5511.34, 250.0, WALLS),
        (
            apart,
            angle,
            5e3 / 72.6321 + 5e3 * 11.6566 / 229.914 + 5e3 * 2.231_21 / 255.187,
            250.0,
            WALLS,
        ),
        (apart, i_section, 10e3 / 250.712 + 1e6 / 17_448.95, 250.0, WALLS),
        (together, hat(-10e3, 400.0, 200.0), 111.191, 250.0, WALLS),
        (together, hat(-10e3, -400.0, 0.0), 108.791, 250.0, WALLS),
        // 140 / 0.9 = 155.6 over 500.
        (limits, thin_box(-10e3, 0.0), 140.0 / 0.9 / 500.0 * 1e-6, 1e-6, OWN),
        // 50 / 1.5 = 33.3 over 50.
        (limits, channel(0.0, 100.0, 0.0), 50.0 / 1.5 / 50.0 * 1e-6, 1e-6, OWN),
    ]
    .into_iter()
    .map(|(clause, input, demand, resistance, source)| Example {
        clause,
        input,
        demand: demand * MPA,
        resistance: resistance * MPA,
        tolerance: 1e-4,
        source,
        rules: Rules::RECOMMENDED,
    })
    .collect()
}

pub(in crate::packs::en_1993) fn flat_walls() -> Vec<Example<FlatWallsInput>> {
    let wall = |y_1: f64, z_1: f64, y_2: f64, z_2: f64, t: f64| FlatWall {
        y_1: y_1 * MM,
        z_1: z_1 * MM,
        y_2: y_2 * MM,
        z_2: z_2 * MM,
        t: t * MM,
    };
    // The channel and the hat above, drawn from other origins, one wall backwards.
    let channel = FlatWallsInput {
        n_ed: -12e3,
        m_y_ed: 600.0,
        m_z_ed: -100.0,
        f_y: 250.0 * MPA,
        walls: vec![
            wall(10.0, 0.0, 60.0, 0.0, 1.5),
            wall(10.0, 100.0, 10.0, 0.0, 1.5),
            wall(60.0, 100.0, 10.0, 100.0, 1.5),
        ],
        origins: given(),
    };
    let hat = FlatWallsInput {
        n_ed: -10e3,
        m_y_ed: 400.0,
        m_z_ed: 200.0,
        f_y: 250.0 * MPA,
        walls: vec![
            wall(0.0, 0.0, 25.0, 0.0, 1.2),
            wall(25.0, 0.0, 25.0, 60.0, 1.2),
            wall(25.0, 60.0, 105.0, 60.0, 1.2),
            wall(105.0, 60.0, 105.0, 0.0, 1.2),
            wall(130.0, 0.0, 105.0, 0.0, 1.2),
        ],
        origins: given(),
    };
    let apart = &flat_walls::Apart as &'static dyn Clause<FlatWallsInput>;
    let together = &flat_walls::Together as &'static dyn Clause<FlatWallsInput>;
    let limits = &flat_walls::WidthLimits as &'static dyn Clause<FlatWallsInput>;
    [
        (
            apart,
            channel.clone(),
            12e3 / 174.366 + 600e3 / 3194.54 + (100e3 + 12e3 * 7.409_53) / 467.109,
            250.0,
            WALLS,
        ),
        (together, hat, 111.191, 250.0, WALLS),
        (limits, channel, 50.0 / 1.5 / 50.0 * 1e-6, 1e-6, OWN),
    ]
    .into_iter()
    .map(|(clause, input, demand, resistance, source)| Example {
        clause,
        input,
        demand: demand * MPA,
        resistance: resistance * MPA,
        tolerance: 1e-4,
        source,
        rules: Rules::RECOMMENDED,
    })
    .collect()
}

pub(in crate::packs::en_1993) fn flat_cantilevers() -> Vec<Example<FlatCantileverInput>> {
    // 60 x 6 on edge, 400 long, S235.
    let flat = |z_g: Option<f64>| FlatCantileverInput {
        f_ed: 1000.0,
        l: 0.4,
        h: 60.0 * MM,
        t: 6.0 * MM,
        f_y: 235.0 * MPA,
        z_g,
        origins: given(),
    };
    // Mcr = 4.0126 / L √(E Iz G It) = 2731.6 N m, lambda 0.68158; on the upper edge 3.7312.
    [(None, 831.495), (Some(30.0 * MM), 810.508)]
        .map(|(z_g, resistance)| Example {
            clause: &cantilever::FlatCantilever as &'static dyn Clause<FlatCantileverInput>,
            input: flat(z_g),
            demand: 400.0,
            resistance,
            tolerance: 1e-4,
            source: "own recomputation, equation of bending with twist solved by shooting",
            rules: Rules::RECOMMENDED,
        })
        .into()
}

pub(in crate::packs::en_1993) fn lipped_channels() -> Vec<Example<LippedChannelInput>> {
    let channel = |[h, b_1, b_2, c, t]: [f64; 5], f_y: f64| LippedChannelInput {
        n_ed: 20e3,
        h: h * MM,
        b_1: b_1 * MM,
        b_2: b_2 * MM,
        c: c * MM,
        t: t * MM,
        f_y: f_y * MPA,
        origins: given(),
    };
    // 437.6, 284.4 and 130.2 mm² carry; the lips keep 0.69 and 0.74, 0.90, 0.79 of their strength.
    [
        (channel([198.0, 72.0, 64.0, 19.8, 1.96], 350.0), 437.560 * 350.0),
        (channel([100.0, 50.0, 50.0, 15.0, 1.5], 250.0), 284.416 * 250.0),
        (channel([100.0, 40.0, 40.0, 16.0, 1.0], 350.0), 130.240 * 350.0),
    ]
    .map(|(input, resistance)| Example {
        clause: &lipped::LippedChannel as &'static dyn Clause<LippedChannelInput>,
        input,
        demand: 20e3,
        resistance,
        tolerance: 1e-4,
        source: OWN,
        rules: Rules::RECOMMENDED,
    })
    .into()
}
