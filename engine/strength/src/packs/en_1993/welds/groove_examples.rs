//! Worked examples of butt welds, plates in a T, and arc spots.

use crate::clause::Clause;
use crate::clause::input::{ArcSpotInput, GrooveWeldInput, Penetration, TButtInput};
use crate::packs::en_1993::examples::{Example, OWN, Rules, given};

use super::arc_spot::{SpotEdge, SpotMetal, SpotSheet, SpotSize};
use super::groove::{FullButt, PartialButt};
use super::t_butt::{TButt, TButtSlit};

const MM: f64 = 1e-3;
const MPA: f64 = 1e6;

/// 80 mm of butt weld between plates of 6 mm S235, 50 kN of pull and 20 kN of shear.
fn butt() -> GrooveWeldInput {
    GrooveWeldInput {
        f_t_ed: 50e3,
        f_v_ed: 20e3,
        l: 80.0 * MM,
        a_eff: 5.0 * MM,
        t: 6.0 * MM,
        f_exx: 490.0 * MPA,
        f_y: 235.0 * MPA,
        f_u: 360.0 * MPA,
        beta_w: Some(0.8),
        s_prep: None,
        penetration: Penetration::Partial,
        origins: given(),
    }
}

pub(in crate::packs::en_1993) fn groove_welds() -> Vec<Example<GrooveWeldInput>> {
    let clause = |c: &'static dyn Clause<GrooveWeldInput>| c;
    let full = GrooveWeldInput { penetration: Penetration::Complete, ..butt() };
    let unproven = GrooveWeldInput { s_prep: Some(5.0 * MM), ..butt() };
    // √(50² + 20²) = 53.852 kN; √(50² + 3 20²) = 60.828 kN over 480 mm².
    [
        (clause(&FullButt), full, 126.724 * MPA, 235.0 * MPA),
        // 207.846 5 80, and 3 mm of 5 where nothing is proven.
        (clause(&PartialButt), butt(), 53_851.6, 83_138.4),
        (clause(&PartialButt), unproven, 53_851.6, 49_883.1),
    ]
    .into_iter()
    .map(|(clause, input, demand, resistance)| Example {
        clause,
        input,
        demand,
        resistance,
        tolerance: 1e-5,
        source: OWN,
        rules: Rules::RECOMMENDED,
    })
    .collect()
}

pub(in crate::packs::en_1993) fn t_butts() -> Vec<Example<TButtInput>> {
    // A plate of 10 mm S235, 80 mm long, throats of 5 and 6, a slit of 1.5 mm.
    let joint = |a_1: f64, c_slit: f64| TButtInput {
        f_ed: 100e3,
        l: 80.0 * MM,
        t: 10.0 * MM,
        a_1: a_1 * MM,
        a_2: 6.0 * MM,
        c_slit: c_slit * MM,
        f_y: 235.0 * MPA,
        f_u: 360.0 * MPA,
        beta_w: 0.8,
        origins: given(),
    };
    let clause = |c: &'static dyn Clause<TButtInput>| c;
    [
        (clause(&TButt), joint(5.0, 1.5), 100e3, 188e3),
        // Short of the thickness, or too wide a slit: 207.846 of 9 or 10 mm.
        (clause(&TButt), joint(3.0, 1.5), 100e3, 149_649.2),
        (clause(&TButt), joint(4.0, 2.5), 100e3, 166_276.9),
        (clause(&TButtSlit), joint(5.0, 1.5), 1.5 * MM, 2.0 * MM),
    ]
    .into_iter()
    .map(|(clause, input, demand, resistance)| Example {
        clause,
        input,
        demand,
        resistance,
        tolerance: 1e-5,
        source: OWN,
        rules: Rules::RECOMMENDED,
    })
    .collect()
}

/// A spot of 20 mm through one sheet of 1.5 mm, 360 MPa, metal of 490 MPa.
pub(super) fn spot() -> ArcSpotInput {
    ArcSpotInput {
        f_v_ed: 5e3,
        d: 20.0 * MM,
        t: 1.5 * MM,
        n_sheets: 1.0,
        f_u: 360.0 * MPA,
        f_exx: 490.0 * MPA,
        f_t_ed: None,
        d_fused: None,
        f_y: Some(235.0 * MPA),
        e: Some(30.0 * MM),
        origins: given(),
    }
}

pub(in crate::packs::en_1993) fn arc_spots() -> Vec<Example<ArcSpotInput>> {
    let clause = |c: &'static dyn Clause<ArcSpotInput>| c;
    let measured = ArcSpotInput { d_fused: Some(9.0 * MM), ..spot() };
    let thick = ArcSpotInput { t: 3.0 * MM, n_sheets: 2.0, ..spot() };
    let thin = ArcSpotInput { t: 0.8 * MM, ..spot() };
    let thinner = ArcSpotInput { t: 0.7 * MM, d: 25.0 * MM, ..spot() };
    let soft = ArcSpotInput { f_y: Some(320.0 * MPA), ..spot() };
    let unknown = ArcSpotInput { f_y: None, ..spot() };
    [
        // 0.7 20 - 1.5 1.5 = 11.75, at most 11; 0.7 20 - 4.5 = 9.5 for 3 mm of sheet.
        (clause(&SpotMetal), spot(), 5e3, 23_283.1),
        (clause(&SpotMetal), measured.clone(), 5e3, 15_586.2),
        (clause(&SpotMetal), thick.clone(), 5e3, 17_366.1),
        // 18.5 / 1.5 = 12.3 under 19.44: 1.5 18.5 1.5 360 / 1.25; two sheets: 14 / 3.
        (clause(&SpotSheet), spot(), 5e3, 11_988.0),
        (clause(&SpotSheet), thick, 5e3, 18_144.0),
        // 19.2 / 0.8 = 24, between: 27 1.080 12 0.64 288; 24.3 / 0.7 = 34.7, above 32.4.
        (clause(&SpotSheet), thin, 5e3, 5375.386),
        (clause(&SpotSheet), thinner, 5e3, 4408.992),
        (clause(&SpotSize), spot(), 10.0 * MM, 11.0 * MM),
        (clause(&SpotSize), measured, 10.0 * MM, 9.0 * MM),
        // 1.8 5000 / (1.5 360 / 1.25), and 2.1.
        (clause(&SpotEdge), spot(), 20.833_33 * MM, 30.0 * MM),
        (clause(&SpotEdge), soft, 24.305_56 * MM, 30.0 * MM),
        (clause(&SpotEdge), unknown, 24.305_56 * MM, 30.0 * MM),
    ]
    .into_iter()
    .map(|(clause, input, demand, resistance)| Example {
        clause,
        input,
        demand,
        resistance,
        tolerance: 1e-5,
        source: OWN,
        rules: Rules::RECOMMENDED,
    })
    .collect()
}
