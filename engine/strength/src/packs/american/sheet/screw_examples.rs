//! Worked examples of the clauses about screws in sheet.

use crate::clause::Clause;
use crate::clause::input::{SheetFastener, SheetFastenerInput, SheetPull};
use crate::packs::american::examples::{Example, KIP, OWN, Rules, asd, example, given, lrfd};
use crate::packs::american::{IN, KSI};

use super::{screw, screw_detailing};

/// A screw No. 12 with a head of 0.415 in through gauge 18 into gauge 18, both 45 ksi.
fn no_12() -> SheetFastenerInput {
    SheetFastenerInput {
        f_v_ed: 0.15 * KIP,
        f_t_ed: 0.1 * KIP,
        d: 0.216 * IN,
        t: 0.0478 * IN,
        t_1: 0.0478 * IN,
        f_u: 45.0 * KSI,
        e_1: Some(0.5 * IN),
        e_2: Some(0.4 * IN),
        p_1: Some(1.0 * IN),
        p_2: None,
        a_net: None,
        f_v_rk: Some(2.0 * KIP),
        f_t_rk: Some(2.5 * KIP),
        f_p_rk: None,
        d_w: Some(0.415 * IN),
        s: None,
        t_sup: Some(0.0478 * IN),
        f_u_sup: Some(45.0 * KSI),
        fastener: SheetFastener::Screw,
        pull: SheetPull::Steady,
        origins: given(),
    }
}

pub(in crate::packs::american) fn sheet_fasteners() -> Vec<Example<SheetFastenerInput>> {
    let into = |t_sup: f64| SheetFastenerInput { t_sup: Some(t_sup * IN), ..no_12() };
    let washer = || SheetFastenerInput { d_w: Some(IN), ..no_12() };
    let thin_on_thick = || SheetFastenerInput { t: 0.0359 * IN, ..into(0.0897) };
    let sheared = |clause: &'static dyn Clause<SheetFastenerInput>, input, strength, rules| {
        one(clause, input, (0.15, strength), rules)
    };
    let pulled = |clause: &'static dyn Clause<SheetFastenerInput>, input, strength, rules| {
        one(clause, input, (0.1, strength), rules)
    };
    let share = |clause: &'static dyn Clause<SheetFastenerInput>, input, both, rules| {
        example(clause, input, both, 1e-4, OWN, rules)
    };
    let distance = |clause: &'static dyn Clause<SheetFastenerInput>, least: f64, given: f64| {
        example(clause, no_12(), (least * IN, given * IN), 1e-9, OWN, lrfd("2016"))
    };
    vec![
        sheared(&screw::ScrewSheet, no_12(), 0.458987, lrfd("2016")),
        sheared(&screw::ScrewSheet, no_12(), 0.305991, asd("2016")),
        sheared(&screw::ScrewSheet, into(0.0538), 0.554690, lrfd("2016")),
        sheared(&screw::ScrewSheet, into(0.1345), 0.627232, lrfd("2016")),
        sheared(&screw::ScrewSheared, no_12(), 1.0, lrfd("2016")),
        sheared(&screw::ScrewEnd, no_12(), 0.505915, lrfd("2016")),
        pulled(&screw::PullOut, into(0.0598), 0.247034, lrfd("2016")),
        pulled(&screw::PullOver, no_12(), 0.669499, lrfd("2016")),
        pulled(&screw::PullOver, washer(), 1.20994, lrfd("2016")),
        pulled(&screw::PullOver, washer(), 0.806625, lrfd("2010")),
        pulled(&screw::ScrewPulled, no_12(), 2.5 / 3.0, asd("2016")),
        share(&screw::ShearAndPullOver, thin_on_thick(), (0.229810, 0.715), lrfd("2016")),
        share(&screw::ShearAndPullOver, thin_on_thick(), (0.229810, 0.468085), asd("2016")),
        share(&screw::ShearAndPullOut, into(0.0598), (0.319177, 0.69), lrfd("2016")),
        share(&screw::ShearAndPullOut, into(0.0598), (0.319177, 0.450980), asd("2016")),
        distance(&screw_detailing::ScrewSpacing, 0.648, 1.0),
        distance(&screw_detailing::ScrewEdge, 0.324, 0.4),
    ]
}

fn one(
    clause: &'static dyn Clause<SheetFastenerInput>,
    input: SheetFastenerInput,
    (demand, strength): (f64, f64),
    rules: Rules,
) -> Example<SheetFastenerInput> {
    example(clause, input, (demand * KIP, strength * KIP), 1e-4, OWN, rules)
}

mod tests {
    use super::*;
    use crate::clause::Applicability;

    #[test]
    fn rivets_and_sheet_outside_the_tests_are_told_apart() {
        let rivet = SheetFastenerInput { fastener: SheetFastener::BlindRivet, ..no_12() };
        let silent = screw::PullOut.applies(&rivet);
        assert!(matches!(silent, Applicability::DoesNotApply(_)));
        let outside = screw::ShearAndPullOver.applies(&no_12());
        assert!(matches!(outside, Applicability::OutsideScope(_)));
        assert_eq!(screw::ShearAndPullOut.applies(&no_12()), Applicability::Applies);
    }
}
