//! Worked examples of blind rivets and self-tapping screws.

use crate::clause::Clause;
use crate::clause::input::{SheetFastener, SheetFastenerInput, SheetPull};
use crate::packs::en_1993::examples::{Example, OWN, Rules, given};

use super::sheet_fasteners::{
    FastenerAcross, FastenerAlong, FastenerBearing, FastenerCombined, FastenerDuctile,
    FastenerEdge, FastenerEnd, FastenerNet, FastenerPullThrough, FastenerShear, FastenerTension,
    ScrewPullOut,
};

const MM: f64 = 1e-3;
const MPA: f64 = 1e6;

/// A rivet of 4.8 mm in two sheets of 1 mm, 300 MPa.
fn rivet() -> SheetFastenerInput {
    SheetFastenerInput {
        f_v_ed: 800.0,
        f_t_ed: 400.0,
        d: 4.8 * MM,
        t: MM,
        t_1: MM,
        f_u: 300.0 * MPA,
        e_1: Some(10.0 * MM),
        e_2: Some(8.0 * MM),
        p_1: Some(20.0 * MM),
        p_2: Some(12.0 * MM),
        a_net: Some(15.2e-6),
        f_v_rk: Some(3000.0),
        f_t_rk: Some(4000.0),
        f_p_rk: Some(2500.0),
        d_w: Some(9.5 * MM),
        s: None,
        t_sup: None,
        f_u_sup: None,
        fastener: SheetFastener::BlindRivet,
        pull: SheetPull::Steady,
        origins: given(),
    }
}

/// A screw of 5.5 mm, pitch 1.8, head 11 mm, through 1 mm into 1.6 mm.
fn screw() -> SheetFastenerInput {
    SheetFastenerInput {
        d: 5.5 * MM,
        t_1: 1.6 * MM,
        f_p_rk: None,
        d_w: Some(11.0 * MM),
        s: Some(1.8 * MM),
        t_sup: Some(1.6 * MM),
        f_u_sup: Some(360.0 * MPA),
        fastener: SheetFastener::Screw,
        ..rivet()
    }
}

pub(in crate::packs::en_1993) fn sheet_fasteners() -> Vec<Example<SheetFastenerInput>> {
    let clause = |c: &'static dyn Clause<SheetFastenerInput>| c;
    let bearing = clause(&FastenerBearing);
    let thick = |t_1: f64| SheetFastenerInput { t_1: t_1 * MM, ..rivet() };
    let thin = SheetFastenerInput { t: 0.8 * MM, t_1: 2.5 * MM, ..screw() };
    let steady = |pull: SheetPull| SheetFastenerInput { pull, ..screw() };
    let one_pitch = SheetFastenerInput { t_sup: Some(2.0 * MM), ..screw() };
    [
        // 3.6 sqrt(1 / 4.8) = 1.6432 on an equal sheet, half way to 2.1 on 1.75 mm, 2.1 on 2.5 mm.
        (bearing, rivet(), 800.0, 1892.93),
        (bearing, SheetFastenerInput { e_1: None, ..thick(1.75) }, 800.0, 2156.06),
        // Limited by the end: 300 10 1 / (1.2 1.25) = 2000.
        (bearing, thick(2.5), 800.0, 2000.0),
        (bearing, SheetFastenerInput { e_1: None, ..thick(2.5) }, 800.0, 2419.2),
        // 3.2 sqrt(1 / 5.5) = 1.3645, on 1.6 mm 1.6587; in 0.8 mm 1.2204 on whatever sheet.
        (bearing, screw(), 800.0, 2189.47),
        (bearing, thin, 800.0, 1288.78),
        (clause(&FastenerNet), rivet(), 800.0, 15.2 * 300.0 / 1.25),
        (clause(&FastenerShear), rivet(), 800.0, 2400.0),
        (clause(&FastenerPullThrough), rivet(), 400.0, 2000.0),
        (clause(&FastenerPullThrough), steady(SheetPull::Steady), 400.0, 2640.0),
        (clause(&FastenerPullThrough), steady(SheetPull::Repeated), 400.0, 1320.0),
        // 0.45 5.5 1.6 360 / 1.25; 0.65 where the sheet is a pitch thick.
        (clause(&ScrewPullOut), screw(), 400.0, 1140.48),
        (clause(&ScrewPullOut), one_pitch, 400.0, 2059.2),
        (clause(&FastenerTension), rivet(), 400.0, 3200.0),
        (clause(&FastenerCombined), rivet(), 400.0 / 2000.0 + 800.0 / 1892.93, 1.0),
        (clause(&FastenerCombined), screw(), 400.0 / 1140.48 + 800.0 / 2189.47, 1.0),
        (clause(&FastenerDuctile), rivet(), 1.2 * 1892.93, 2400.0),
        (clause(&FastenerEnd), rivet(), 7.2 * MM, 10.0 * MM),
        (clause(&FastenerEnd), screw(), 16.5 * MM, 10.0 * MM),
        (clause(&FastenerEdge), rivet(), 7.2 * MM, 8.0 * MM),
        (clause(&FastenerAlong), screw(), 16.5 * MM, 20.0 * MM),
        (clause(&FastenerAcross), rivet(), 14.4 * MM, 12.0 * MM),
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
    use crate::clause::{Applicability, NotChecked};
    use crate::packs::en_1993::examples::factors;

    #[test]
    fn what_only_a_test_can_tell_is_not_computed() {
        let untested = SheetFastenerInput { f_p_rk: None, f_v_rk: None, ..rivet() };
        for (clause, symbol) in [
            (&FastenerPullThrough as &dyn Clause<SheetFastenerInput>, "f_p_rk"),
            (&FastenerShear, "f_v_rk"),
        ] {
            let refused = clause.evaluate(&untested, &factors(), &mut Trace::off());
            assert!(matches!(refused, Err(NotChecked::Missing { symbol: s, .. }) if s == symbol));
        }
    }

    #[test]
    fn the_tables_have_limits() {
        let long = SheetFastenerInput { d: 6.5 * MM, ..rivet() };
        assert!(matches!(FastenerBearing.applies(&long), Applicability::OutsideScope(_)));
        let thick = SheetFastenerInput { t: 1.6 * MM, ..screw() };
        assert!(matches!(FastenerPullThrough.applies(&thick), Applicability::OutsideScope(_)));
        assert_eq!(FastenerBearing.applies(&rivet()), Applicability::Applies);
    }
}
