//! Worked examples of the weld clauses.

use crate::clause::Clause;
use crate::clause::input::{
    BeadEnds, FilletInput, GrooveWeldInput, Penetration, PlugInput, SheetBeside, Stitched,
    WeldInput, WeldLinesInput, WeldMade, WeldRunInput,
};
use crate::packs::american::examples::{Example, KIP, OWN, Rules, asd, example, given, lrfd};
use crate::packs::american::{IN, KSI};

use super::{any_fillet, detailing, fillet, groove, lines, plug, plug_detailing, run};

const MM: f64 = 1e-3;
const MPA: f64 = 1e6;
const KIP_IN: f64 = KIP / IN;
const PER_INCH: &str = "AISC Manual, 14th edition, Part 8: 1.392 kip (LRFD) and 0.928 kip (ASD) an \
                        inch and sixteenth of leg, from memory";

/// A fillet of 1/4 in, E70, pulled along with 4 kip an inch; 3/16 in of A36 beside it.
fn bead() -> WeldInput {
    WeldInput {
        q_1: 0.0,
        q_2: 0.0,
        q_l: 4.0 * KIP_IN,
        z: 0.25 * IN,
        gap: 0.0,
        f_u_1: 58.0 * KSI,
        f_u_2: 65.0 * KSI,
        beta_w_1: 0.8,
        beta_w_2: 0.8,
        t_sheet: 0.1875 * IN,
        f_y_sheet: 36.0 * KSI,
        f_exx: Some(70.0 * KSI),
        beside: SheetBeside::OneSide,
        origins: given(),
    }
}

pub(in crate::packs::american) fn welds() -> Vec<Example<WeldInput>> {
    // The far corner of a C of 4, 11 and 4 in, leg 1/2 in, E60: 18.28 and 17.35 ksi on the throat.
    let throat = 0.3535 * IN;
    let corner = WeldInput {
        q_1: 18.2834 * KSI * throat,
        q_2: 0.0,
        q_l: 17.3500 * KSI * throat,
        z: 0.5 * IN,
        f_exx: Some(60.0 * KSI),
        ..bead()
    };
    let c_weld = "A Beginner's Guide to the Steel Construction Manual, Example 5.4: 25.2 ksi \
                  against 27 ksi";
    let open = |gap: f64| WeldInput { gap: gap * IN, ..bead() };
    // 60 degrees between force and bead; across the throat the two shares have one resultant.
    let across = 4.0 * 0.75_f64.sqrt() * KIP_IN;
    let slanting = WeldInput {
        q_1: 0.6 * across,
        q_2: -0.8 * across,
        q_l: 2.0 * KIP_IN,
        z: 0.3125 * IN,
        ..bead()
    };
    let transverse = WeldInput { q_1: 4.0 * KIP_IN, q_l: 0.0, ..bead() };
    let through = WeldInput { beside: SheetBeside::BothSides, ..bead() };
    let strong = WeldInput { f_y_sheet: 50.0 * KSI, ..bead() };
    let gauge_14 = || WeldInput { t_sheet: 0.0747 * IN, f_u_1: 45.0 * KSI, ..bead() };
    let one = |clause: &'static dyn Clause<WeldInput>, input, strength: f64, rules: Rules| {
        example(clause, input, (4.0 * KIP_IN, strength * KIP_IN), 1e-4, OWN, rules)
    };
    let manual = |clause: &'static dyn Clause<WeldInput>, input, strength: f64, rules: Rules| {
        let both = (4.0 * KIP_IN, strength * KIP_IN);
        example(clause, input, both, 5e-4, PER_INCH, rules)
    };
    vec![
        manual(&fillet::AnyDirection, bead(), 4.0 * 1.392, lrfd("2016")),
        manual(&fillet::AnyDirection, bead(), 4.0 * 0.928, asd("2005")),
        manual(&fillet::ByDirection, transverse, 1.5 * 4.0 * 1.392, lrfd("2022")),
        example(
            &fillet::AnyDirection,
            corner,
            (25.2 * KSI * throat, 27.0 * KSI * throat),
            1e-3,
            c_weld,
            lrfd("2005"),
        ),
        one(&fillet::AnyDirection, open(0.1), 3.34108, lrfd("2016")),
        one(&fillet::AnyDirection, open(0.05), 5.56847, lrfd("2016")),
        one(&fillet::ByDirection, slanting, 9.76544, lrfd("2016")),
        one(&fillet::ByDirection, bead(), 5.56847, lrfd("2016")),
        one(&fillet::BaseMetal, bead(), 4.05, lrfd("2016")),
        one(&fillet::BaseMetal, bead(), 2.7, asd("2016")),
        one(&fillet::BaseMetal, through, 8.1, lrfd("2016")),
        one(&fillet::BaseMetal, strong, 4.89375, lrfd("2016")),
        one(&fillet::SheetBesideBead, gauge_14(), 1.26056, lrfd("2016")),
        one(&fillet::SheetBesideBead, gauge_14(), 0.826598, asd("2016")),
    ]
}

pub(in crate::packs::american) fn fillets() -> Vec<Example<FilletInput>> {
    // E70, 3 kip an inch in three components: 2, 1 and 2.
    let fillet_of = |z_1: f64, z_2: f64, degrees: f64| FilletInput {
        q_1: 2.0 * KIP_IN,
        q_2: -KIP_IN,
        q_l: 2.0 * KIP_IN,
        m_root: 0.0,
        z_1: z_1 * IN,
        z_2: z_2 * IN,
        gap: 0.0,
        psi: degrees.to_radians(),
        f_u: 58.0 * KSI,
        beta_w: 0.8,
        k_quality: 1.0,
        f_exx: Some(70.0 * KSI),
        t_thin: None,
        made: WeldMade::Inspected,
        origins: given(),
    };
    let one = |input, demand: f64, strength: f64, rules: Rules| {
        let both = (demand * KIP_IN, strength * KIP_IN);
        example(&any_fillet::AnyFillet, input, both, 1e-4, OWN, rules)
    };
    let right = || fillet_of(0.25, 0.25, 90.0);
    let bent = FilletInput { m_root: 0.1 * KIP, ..right() };
    let poor = FilletInput { k_quality: 0.8, made: WeldMade::NotInspected, ..right() };
    let open = FilletInput { gap: 0.1 * IN, ..right() };
    vec![
        one(right(), 3.0, 5.56847, lrfd("2016")),
        one(fillet_of(0.25, 0.375, 90.0), 3.0, 6.5524, lrfd("2016")),
        one(fillet_of(0.25, 0.25, 60.0), 3.0, 6.81995, lrfd("2016")),
        one(fillet_of(0.25, 0.25, 120.0), 3.0, 3.9375, lrfd("2016")),
        one(bent, 6.39411, 5.56847, lrfd("2016")),
        one(poor, 3.0, 2.96985, asd("2016")),
        one(open, 3.0, 3.34108, lrfd("2016")),
    ]
}

/// A run of 27 in, 3/16 in, E70, along the edge of a plate.
fn run_27() -> WeldRunInput {
    WeldRunInput {
        f_ed: 100.0 * KIP,
        l: 27.0 * IN,
        z: 0.1875 * IN,
        gap: 0.0,
        f_u: 58.0 * KSI,
        beta_w: 0.8,
        t_edge: Some(0.25 * IN),
        l_lap: Some(27.0 * IN),
        l_gap: None,
        l_end: None,
        t_thin: Some(0.25 * IN),
        b_part: None,
        f_exx: Some(70.0 * KSI),
        f_y: None,
        overlap: Some(1.5 * IN),
        undercut: Some(0.01 * IN),
        ends: BeadEnds::Wrapped,
        stitched: Stitched::Tension,
        origins: given(),
    }
}

/// A stitch of 25 mm with 35 mm to the next on a cover of 1.9 mm.
fn stitch() -> WeldRunInput {
    WeldRunInput {
        f_ed: 2937.7,
        l: 25.0 * MM,
        z: 1.9 * MM,
        t_edge: Some(1.9 * MM),
        overlap: Some(12.0 * MM),
        l_gap: Some(35.0 * MM),
        t_thin: Some(1.9 * MM),
        f_y: Some(180.0 * MPA),
        gap: 1.0 * MM,
        ..run_27()
    }
}

pub(in crate::packs::american) fn weld_runs() -> Vec<Example<WeldRunInput>> {
    let longer = WeldRunInput { l: 70.0 * IN, ..run_27() };
    let plain = WeldRunInput { l: 10.0 * IN, z: 0.25 * IN, l_lap: None, t_edge: None, ..run_27() };
    // Both runs of the example together carry 206 kip.
    let j_1 = "AISC Design Examples, version 14.0, Example J.1, from memory";
    let one = |input, strength: f64, tolerance: f64, source, rules: Rules| {
        let both = (100.0 * KIP, strength * KIP);
        example(&run::RunStrength, input, both, tolerance, source, rules)
    };
    vec![
        one(run_27(), 206.0 / 2.0, 2e-3, j_1, lrfd("2010")),
        one(longer, 140.952, 1e-4, OWN, lrfd("2016")),
        one(plain, 37.1231, 1e-4, OWN, asd("2016")),
    ]
}

pub(in crate::packs::american) fn weld_detailing() -> Vec<Example<WeldRunInput>> {
    let thin = |t: f64| WeldRunInput { t_thin: Some(t * IN), ..run_27() };
    let edge = |t: f64| WeldRunInput { t_edge: Some(t * IN), ..run_27() };
    let long_stitch = WeldRunInput { l: 2.0 * IN, l_gap: Some(4.0 * IN), ..run_27() };
    let pressed = WeldRunInput { stitched: Stitched::Compression, ..stitch() };
    let pressed_thick = WeldRunInput { t_thin: Some(0.75 * IN), ..pressed.clone() };
    let rows: Vec<(&'static dyn Clause<WeldRunInput>, WeldRunInput, f64, f64)> = vec![
        (&detailing::LeastLeg, thin(0.25), 0.125 * IN, 0.1875 * IN),
        (&detailing::LeastLeg, thin(0.5), 0.1875 * IN, 0.1875 * IN),
        (&detailing::LeastLeg, thin(0.75), 0.25 * IN, 0.1875 * IN),
        (&detailing::LeastLeg, thin(1.0), 0.3125 * IN, 0.1875 * IN),
        (&detailing::LeastLeg, stitch(), 1.9 * MM, 1.9 * MM),
        (&detailing::LegAtEdge, edge(0.25), 0.1875 * IN, 0.1875 * IN),
        (&detailing::LegAtEdge, edge(0.2), 0.1875 * IN, 0.2 * IN),
        (&detailing::LeastLength, run_27(), 0.75 * IN, 27.0 * IN),
        (&detailing::StitchLength, stitch(), 1.5 * IN, 25.0 * MM),
        (&detailing::StitchLength, long_stitch.clone(), 1.5 * IN, 2.0 * IN),
        (&detailing::StitchGapTension, stitch(), 35.0 * MM, 45.6 * MM),
        (&detailing::StitchGapTension, long_stitch, 4.0 * IN, 6.0 * IN),
        (&detailing::StitchGapCompression, pressed, 35.0 * MM, 47.4938 * MM),
        (&detailing::StitchGapCompression, pressed_thick, 35.0 * MM, 12.0 * IN),
        (&detailing::LeastLap, run_27(), 1.25 * IN, 1.5 * IN),
        (&detailing::LeastLap, stitch(), 1.0 * IN, 12.0 * MM),
        (&detailing::FitUp, stitch(), 1.0 * MM, 4.7625 * MM),
        (&detailing::Undercut, run_27(), 0.01 * IN, 0.03125 * IN),
    ];
    let source = "own recomputation, limits from memory of AISC 360-16 and AWS D1.1";
    rows.into_iter()
        .map(|(clause, input, demand, resistance)| {
            example(clause, input, (demand, resistance), 1e-5, source, lrfd("2016"))
        })
        .collect()
}

pub(in crate::packs::american) fn weld_lines() -> Vec<Example<WeldLinesInput>> {
    // A flat bar 3 by 1/4 in of A36, 3/16 in E70, 4 in along both sides and 3 in across the end.
    let bar = || WeldLinesInput {
        f_ed: 20.0 * KIP,
        l_along: 8.0 * IN,
        l_across: 3.0 * IN,
        z: 0.1875 * IN,
        gap: 0.0,
        f_exx: 70.0 * KSI,
        t: 0.25 * IN,
        f_y: 36.0 * KSI,
        f_u: 58.0 * KSI,
        l_run: None,
        w_bar: Some(3.0 * IN),
        origins: given(),
    };
    let short_end = WeldLinesInput { l_across: 1.0 * IN, ..bar() };
    let long =
        WeldLinesInput { l_along: 54.0 * IN, l_across: 0.0, l_run: Some(27.0 * IN), ..bar() };
    // Without the run across: length along both sides together, and tensile strength.
    let sides = |l_along: f64, f_u: f64| WeldLinesInput {
        l_along: l_along * IN,
        l_across: 0.0,
        f_u: f_u * KSI,
        ..bar()
    };
    let one = |clause: &'static dyn Clause<WeldLinesInput>, input, strength: f64, rules: Rules| {
        example(clause, input, (20.0 * KIP, strength * KIP), 2e-4, OWN, rules)
    };
    vec![
        one(&lines::Lines, bar(), 47.1856, lrfd("2016")),
        one(&lines::Lines, bar(), 62.9142 / 2.0, asd("2022")),
        one(&lines::Lines, short_end, 37.5871, lrfd("2016")),
        one(&lines::Lines, long, 205.677, lrfd("2016")),
        one(&lines::BaseMetalOfLines, bar(), 59.4, lrfd("2016")),
        one(&lines::BaseMetalOfLines, bar(), 39.6, asd("2016")),
        one(&lines::BarOfLines, bar(), 24.3, lrfd("2016")),
        one(&lines::BarOfLines, sides(8.0, 58.0), 24.3, lrfd("2016")),
        one(&lines::BarOfLines, sides(8.0, 50.0), 23.6842, lrfd("2016")),
        one(&lines::BarOfLines, sides(8.0, 50.0), 14.0625, asd("2010")),
        one(&lines::BarOfLines, sides(9.0, 40.0), 19.575, lrfd("2010")),
        one(&lines::BarOfLines, sides(12.0, 40.0), 22.5, lrfd("2005")),
    ]
}

pub(in crate::packs::american) fn groove_welds() -> Vec<Example<GrooveWeldInput>> {
    // 6 in of weld in 1/2 in of A36, E70.
    let weld = |penetration: Penetration, a_eff: f64| GrooveWeldInput {
        f_t_ed: 20.0 * KIP,
        f_v_ed: 20.0 * KIP,
        l: 6.0 * IN,
        a_eff: a_eff * IN,
        t: 0.5 * IN,
        f_exx: 70.0 * KSI,
        f_y: 36.0 * KSI,
        f_u: 58.0 * KSI,
        beta_w: None,
        s_prep: None,
        penetration,
        origins: given(),
    };
    let whole = || weld(Penetration::Complete, 0.5);
    let part = || weld(Penetration::Partial, 0.25);
    let least = |t: f64, a_min: f64| {
        let input = GrooveWeldInput { t: t * IN, ..part() };
        example(&groove::LeastGroove, input, (a_min * IN, 0.25 * IN), 1e-9, OWN, lrfd("2016"))
    };
    let one = |clause: &'static dyn Clause<GrooveWeldInput>, input, strength: f64, rules: Rules| {
        example(clause, input, (20.0 * KIP, strength * KIP), 1e-4, OWN, rules)
    };
    vec![
        one(&groove::GroovePulled, whole(), 97.2, lrfd("2016")),
        one(&groove::GroovePulled, whole(), 64.6707, asd("2016")),
        one(&groove::GroovePulled, part(), 50.4, lrfd("2016")),
        one(&groove::GroovePulled, part(), 33.5106, asd("2016")),
        one(&groove::GrooveSheared, whole(), 64.8, lrfd("2016")),
        one(&groove::GrooveSheared, part(), 47.25, lrfd("2016")),
        least(0.25, 0.125),
        least(0.5, 0.1875),
        least(0.75, 0.25),
        least(1.0, 0.3125),
    ]
}

/// A plug of 13 mm through 5 mm of S235, weld metal of 490 MPa.
fn plug_13() -> PlugInput {
    PlugInput {
        f_v_ed: 10e3,
        f_t_ed: 0.0,
        d_hole: 13.0 * MM,
        t: 5.0 * MM,
        f_u: 360.0 * MPA,
        beta_w: 0.8,
        d_fused: None,
        f_exx: Some(490.0 * MPA),
        l_slot: None,
        s: Some(60.0 * MM),
        s_l: None,
        origins: given(),
    }
}

/// The same as a slot of 40 mm.
fn slot_40() -> PlugInput {
    PlugInput { l_slot: Some(40.0 * MM), s_l: Some(100.0 * MM), ..plug_13() }
}

pub(in crate::packs::american) fn plugs() -> Vec<Example<PlugInput>> {
    let one = |clause: &'static dyn Clause<PlugInput>, input, strength: f64, rules: Rules| {
        example(clause, input, (10e3, strength), 1e-4, OWN, rules)
    };
    vec![
        one(&plug::PlugShear, plug_13(), 29_267.0, lrfd("2016")),
        one(&plug::PlugShear, plug_13(), 19_511.6, asd("2016")),
        one(&plug::PlugShear, slot_40(), 106_663.0, lrfd("2016")),
        one(&plug::SheetAroundPlug, plug_13(), 33_081.0, lrfd("2016")),
        one(&plug::SheetAroundPlug, slot_40(), 76_821.0, lrfd("2016")),
    ]
}

pub(in crate::packs::american) fn plug_detailing() -> Vec<Example<PlugInput>> {
    let thick = PlugInput { t: 20.0 * MM, d_hole: 30.0 * MM, ..plug_13() };
    let rows: Vec<(&'static dyn Clause<PlugInput>, PlugInput, f64, f64)> = vec![
        (&plug_detailing::LeastHole, plug_13(), 12.9375, 13.0),
        (&plug_detailing::LargestHole, plug_13(), 13.0, 16.1125),
        (&plug_detailing::LargestHole, thick, 30.0, 35.71875),
        (&plug_detailing::Spacing, plug_13(), 52.0, 60.0),
        (&plug_detailing::SpacingAlong, slot_40(), 80.0, 100.0),
        (&plug_detailing::SlotLength, slot_40(), 40.0, 50.0),
    ];
    rows.into_iter()
        .map(|(clause, input, demand, resistance)| {
            example(clause, input, (demand * MM, resistance * MM), 1e-9, OWN, lrfd("2016"))
        })
        .collect()
}

mod tests {
    use fishplate_quantity::Trace;

    use super::*;
    use crate::clause::input::Input;
    use crate::clause::{Applicability, Checked, NotChecked};
    use crate::packs::american::PACK;

    fn ask<I: Input>(clause: &dyn Clause<I>, input: &I) -> Result<Checked, NotChecked> {
        let factors = PACK.factors(&Rules::RECOMMENDED).unwrap();
        clause.evaluate(input, &factors, &mut Trace::off())
    }

    #[test]
    fn a_gap_over_three_sixteenths_is_no_weld() {
        let open = WeldInput { gap: 0.19 * IN, ..bead() };
        let refused = ask(&fillet::AnyDirection, &open);
        assert!(matches!(refused, Err(NotChecked::OutOfRange { symbol: "gap", .. })));
        let all_gap = WeldInput { z: 0.1 * IN, gap: 0.11 * IN, ..bead() };
        assert!(ask(&fillet::AnyDirection, &all_gap).is_err());
    }

    #[test]
    fn weld_metal_that_is_not_stated_is_named() {
        let unsaid = WeldInput { f_exx: None, ..bead() };
        let refused = ask(&fillet::AnyDirection, &unsaid);
        assert!(matches!(refused, Err(NotChecked::Missing { symbol: "f_exx", .. })));
    }

    #[test]
    fn a_plug_carries_no_pull() {
        let pulled = PlugInput { f_t_ed: 1.0, ..plug_13() };
        assert!(matches!(ask(&plug::PlugShear, &pulled), Err(NotChecked::NoRule { .. })));
        assert!(matches!(ask(&plug::SheetAroundPlug, &pulled), Err(NotChecked::NoRule { .. })));
    }

    #[test]
    fn a_complete_penetration_needs_weld_metal_that_matches() {
        let weak = GrooveWeldInput { f_exx: 50.0 * KSI, ..groove_welds().remove(0).input };
        let outside = groove::GroovePulled.applies(&weak);
        assert!(matches!(outside, Applicability::OutsideScope(_)));
        let deeper = GrooveWeldInput { a_eff: 0.6 * IN, ..groove_welds().remove(0).input };
        let refused = ask(&groove::GroovePulled, &deeper);
        assert!(matches!(refused, Err(NotChecked::OutOfRange { symbol: "a_eff", .. })));
    }

    /// Runs across alone carry half as much again as the same length along (J2.4).
    #[test]
    fn across_is_half_as_strong_again() {
        let lines = |l_along: f64, l_across: f64| WeldLinesInput {
            l_along,
            l_across,
            ..weld_lines().remove(0).input
        };
        let along = ask(&lines::Lines, &lines(0.1, 0.0)).unwrap().resistance;
        let across = ask(&lines::Lines, &lines(0.0, 0.1)).unwrap().resistance;
        assert!((across / along - 1.5).abs() < 1e-12);
    }
}
