//! Worked examples of plates in space.

use crate::clause::Clause;
use crate::clause::input::{PlateBucklingInput, PlateMade, PlatePointInput};
use crate::packs::en_1993::examples::{Example, OWN, Rules, given};

use super::point::{AtFaces, Reduced, ThroughThickness};

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

pub(in crate::packs::en_1993) fn plate_points() -> Vec<Example<PlatePointInput>> {
    let row = |clause: &'static dyn Clause<PlatePointInput>, input, demand, resistance| Example {
        clause,
        input,
        demand,
        resistance,
        tolerance: 1e-5,
        source: OWN,
        rules: Rules::RECOMMENDED,
    };
    let none = PlatePointInput {
        n_xx: 0.0,
        n_yy: 0.0,
        n_xy: 0.0,
        m_xx: 0.0,
        m_yy: 0.0,
        m_xy: 0.0,
        ..point()
    };
    vec![
        row(&ThroughThickness, point(), 0.218_784, 1.0),
        // 6.2.9.1(3): 0.6 of N_pl leaves 1 - 0.36 of M_pl, 0.64 of 1718.75 N.
        row(
            &ThroughThickness,
            PlatePointInput { n_xx: 825e3, m_xx: 1100.0, ..none.clone() },
            1.0,
            1.0,
        ),
        // Shear alone yields at f_y / √3.
        row(&ThroughThickness, PlatePointInput { n_xy: 793.857e3, ..none }, 1.0, 1.0),
        row(&AtFaces, point(), 94.382_20e6, 275e6),
    ]
}

pub(in crate::packs::en_1993) fn plate_buckling() -> Vec<Example<PlateBucklingInput>> {
    let row = |alpha_ult, alpha_cr, made, resistance| Example {
        clause: &Reduced,
        input: PlateBucklingInput { alpha_cr, alpha_ult, made, origins: given() },
        demand: 1.0,
        resistance,
        tolerance: 1e-5,
        source: OWN,
        rules: Rules::RECOMMENDED,
    };
    vec![
        // Slenderness 1.26491, share 0.580472; 1.73205, share 0.499915.
        row(2.0, 1.25, PlateMade::Welded, 1.160_945),
        row(1.5, 0.5, PlateMade::Rolled, 0.749_873),
    ]
}
