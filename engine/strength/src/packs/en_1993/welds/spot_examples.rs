//! Worked examples of spot welds.

use crate::clause::Clause;
use crate::clause::input::{SpotKind, SpotWeldInput};
use crate::packs::en_1993::examples::{Example, OWN, Rules, given};

use super::spot::{
    SpotDuctile, SpotEnd, SpotLeastAcross, SpotLeastAlong, SpotLeastEnd, SpotMostAcross,
    SpotMostAlong, SpotMostEdge, SpotMostEnd, SpotNet, SpotShear, SpotTear,
};

const MM: f64 = 1e-3;

/// A resistance spot of 5 mm in two sheets of 1 mm, 300 MPa.
fn spot() -> SpotWeldInput {
    SpotWeldInput {
        f_v_ed: 2e3,
        f_t_ed: 0.0,
        t: MM,
        t_1: MM,
        f_u: 300e6,
        d_s: None,
        e_1: Some(12.0 * MM),
        e_2: Some(10.0 * MM),
        p_1: Some(30.0 * MM),
        p_2: Some(20.0 * MM),
        a_net: Some(20e-6),
        spot: SpotKind::Resistance,
        origins: given(),
    }
}

pub(in crate::packs::en_1993) fn spot_welds() -> Vec<Example<SpotWeldInput>> {
    let clause = |c: &'static dyn Clause<SpotWeldInput>| c;
    let fusion = SpotWeldInput { spot: SpotKind::Fusion, ..spot() };
    let measured = SpotWeldInput { d_s: Some(4.0 * MM), ..spot() };
    let thick = SpotWeldInput { t_1: 3.0 * MM, ..measured.clone() };
    let heavy = SpotWeldInput { t: 2.25 * MM, t_1: 6.0 * MM, ..spot() };
    [
        // 2.7 √1 5 300 / 1.25; a fusion spot is 0.5 + 5 = 5.5 mm wide.
        (clause(&SpotTear), spot(), 2e3, 3240.0),
        (clause(&SpotTear), fusion, 2e3, 3564.0),
        (clause(&SpotTear), measured.clone(), 2e3, 2592.0),
        // On a sheet three times as thick: 0.7 4² 300 / 1.25 = 2688 and 3.1 4 300 / 1.25 = 2976
        // are no limits; on 2.25 mm, spot 7.5 mm: 2.7 1.5 7.5 240 = 7290 and 0.7 7.5² 240 = 9450.
        (clause(&SpotTear), thick, 2e3, 2592.0),
        (clause(&SpotTear), heavy, 2e3, 7290.0),
        (
            clause(&SpotTear),
            SpotWeldInput { d_s: Some(3.0 * MM), t_1: 3.0 * MM, ..spot() },
            2e3,
            1512.0,
        ),
        (clause(&SpotEnd), spot(), 2e3, 4032.0),
        (clause(&SpotNet), spot(), 2e3, 4800.0),
        // π / 4 5² 300 / 1.25.
        (clause(&SpotShear), spot(), 2e3, 4712.39),
        (clause(&SpotDuctile), spot(), 4050.0, 4712.39),
        (clause(&SpotLeastEnd), spot(), 10.0 * MM, 12.0 * MM),
        (clause(&SpotMostEnd), spot(), 12.0 * MM, 30.0 * MM),
        (clause(&SpotMostEdge), spot(), 10.0 * MM, 20.0 * MM),
        (clause(&SpotLeastAlong), spot(), 15.0 * MM, 30.0 * MM),
        (clause(&SpotMostAlong), spot(), 30.0 * MM, 40.0 * MM),
        (clause(&SpotLeastAcross), spot(), 15.0 * MM, 20.0 * MM),
        (clause(&SpotMostAcross), measured, 20.0 * MM, 24.0 * MM),
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

#[cfg(test)]
mod tests {
    use fishplate_quantity::Trace;

    use super::*;
    use crate::clause::NotChecked;
    use crate::packs::en_1993::examples::factors;

    #[test]
    fn a_pulled_spot_is_never_a_pass() {
        let pulled = SpotWeldInput { f_t_ed: 1.0, ..spot() };
        for clause in [&SpotTear as &dyn Clause<SpotWeldInput>, &SpotEnd, &SpotNet, &SpotShear] {
            let refused = clause.evaluate(&pulled, &factors(), &mut Trace::off());
            assert!(matches!(refused, Err(NotChecked::NoRule { .. })));
        }
    }
}
