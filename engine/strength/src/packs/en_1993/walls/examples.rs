//! Worked examples of the wall clauses.

pub(in crate::packs::en_1993) use crate::packs::en_1993::examples::factors;

use crate::clause::input::{
    ClampedRailInput, RailPlace, RailSection, SleeveInput, WallInput, WebKind,
};
use crate::packs::en_1993::examples::{Example, OWN, Rules, given};

use super::clamped::{WallUnderWasher, WebCrippling};
use super::face::{FacePulledByBolts, FaceUnderFoot};
use super::sleeve::SleeveYields;

/// A foot 60 along and 80 across on a wall 100 x 2.2, S235.
pub(in crate::packs::en_1993) fn foot() -> WallInput {
    WallInput {
        n_ed: 1000.0,
        m_ip_ed: 0.0,
        m_op_ed: 0.0,
        b_0: 0.1,
        b_1: 0.08,
        h_1: 0.06,
        t_wall: 2.2e-3,
        t_plate: 0.0,
        f_y: 235e6,
        n_chord: None,
        rail: RailSection::Closed,
        origins: given(),
    }
}

pub(in crate::packs::en_1993) fn walls() -> Vec<Example<WallInput>> {
    let example = |input: WallInput, utilisation: f64, source: &'static str| Example {
        clause: &FaceUnderFoot,
        input,
        demand: utilisation,
        resistance: 1.0,
        tolerance: 1e-5,
        source,
        rules: Rules::RECOMMENDED,
    };
    vec![
        // N = 16 997.6 N, M_ip = 566 798 N mm, M_op = 738 711 N mm, each found by one of them alone.
        example(foot(), 1000.0 / 16_997.6, OWN),
        example(WallInput { n_ed: 0.0, m_ip_ed: 100.0, ..foot() }, 100e3 / 566_798.0, OWN),
        example(WallInput { n_ed: 0.0, m_op_ed: 100.0, ..foot() }, 100e3 / 738_711.0, OWN),
        example(
            WallInput { m_ip_ed: 100.0, m_op_ed: 100.0, ..foot() },
            1000.0 / 16_997.6 + 100e3 / 566_798.0 + 100e3 / 738_711.0,
            OWN,
        ),
        // A pothole on a bracket: 2402.9 N, 392.5 and 195.3 N m, factor 1.5.
        example(
            WallInput { n_ed: 3604.35, m_ip_ed: 588.75, m_op_ed: 292.95, ..foot() },
            1.647_35,
            OWN,
        ),
    ]
}

pub(in crate::packs::en_1993) fn wall_pulls() -> Vec<Example<WallInput>> {
    // A boss of 20 mm on a wall 70 x 1.9 of old mild steel, with and without a 4 mm doubler.
    let boss = WallInput { b_0: 0.07, b_1: 0.02, h_1: 0.02, t_wall: 1.9e-3, f_y: 180e6, ..foot() };
    let doubled = WallInput { t_plate: 4e-3, ..boss.clone() };
    // Two heads of 24 mm, 60 apart, on a wall 100 x 2.4 of S235.
    let bolts = WallInput { b_1: 0.024, h_1: 0.084, t_wall: 2.4e-3, ..foot() };
    // A foot of 110 along and 80 across, wall 2.2 with a doubler of 3 welded all round.
    let with_doubler = WallInput { h_1: 0.11, t_plate: 3e-3, ..foot() };
    let in_compression = WallInput { n_chord: Some(0.6), ..bolts.clone() };
    [
        (boss, 3595.0, 2e-4),
        (doubled, 19_530.0, 2e-4),
        (bolts.clone(), 9202.9, 1e-5),
        (with_doubler, 64_866.7, 1e-5),
        // kn = 1.3 - 0.4 0.6 / 0.24 = 0.3.
        (in_compression, 0.3 * 9202.9, 1e-5),
    ]
    .into_iter()
    .map(|(input, resistance, tolerance)| Example {
        clause: &FacePulledByBolts,
        demand: 1000.0,
        resistance,
        tolerance,
        source: OWN,
        rules: Rules::RECOMMENDED,
        input,
    })
    .collect()
}

pub(in crate::packs::en_1993) fn clamped_rails() -> Vec<Example<ClampedRailInput>> {
    let rail = || ClampedRailInput {
        f_m: 10e3,
        d_w: 0.06,
        b_0: 0.1,
        t: 1.9e-3,
        r: 3e-3,
        f_y: 180e6,
        at: RailPlace::Inside,
        webs: WebKind::Sheeting,
        origins: given(),
    };
    let crippling = |input: ClampedRailInput, resistance: f64| Example {
        clause: &WebCrippling,
        input,
        demand: 10e3,
        resistance,
        tolerance: 1e-4,
        source: OWN,
        rules: Rules::RECOMMENDED,
    };
    vec![
        crippling(rail(), 2.0 * 12_814.0),
        crippling(ClampedRailInput { webs: WebKind::Hat, ..rail() }, 19_648.0),
        crippling(
            ClampedRailInput { webs: WebKind::Hat, at: RailPlace::NearEnd, ..rail() },
            6201.0,
        ),
        Example {
            // A fan of radius 50 around a washer of 28 in 3 mm S235: 4 π R / (R - r) plastic
            // moments of 235 9 / 4 = 528.75 N.
            clause: &WallUnderWasher,
            input: ClampedRailInput { d_w: 0.028, t: 3e-3, f_y: 235e6, ..rail() },
            demand: 10e3,
            resistance: 9228.4,
            tolerance: 1e-4,
            source: "Save, Massonnet and de Saxce, Plastic Limit Analysis of Plates: fan of yield \
                     lines, P = 4 π m R / (R - r) for a rigid punch (from memory)",
            rules: Rules::RECOMMENDED,
        },
        Example {
            // A washer of 90 on the same wall: the rectangle governs,
            // (4 45 + 8 √(50 5)) / 5 = 61.298 per half.
            clause: &WallUnderWasher,
            input: ClampedRailInput { d_w: 0.09, t: 3e-3, f_y: 235e6, ..rail() },
            demand: 10e3,
            resistance: 2.0 * 61.298 * 528.75,
            tolerance: 1e-4,
            source: OWN,
            rules: Rules::RECOMMENDED,
        },
    ]
}

pub(in crate::packs::en_1993) fn sleeves() -> Vec<Example<SleeveInput>> {
    let sleeve = |d_out: f64, d_in: f64, resistance: f64| Example {
        clause: &SleeveYields,
        input: SleeveInput { f_m: 84_607.0, d_out, d_in, f_y: 235e6, origins: given() },
        demand: 84_607.0,
        resistance,
        tolerance: 1e-4,
        source: "own recomputation, area of a ring by the yield strength",
        rules: Rules::RECOMMENDED,
    };
    vec![
        sleeve(28e-3, 15e-3, 103_173.8),
        sleeve(22e-3, 15e-3, 47_803.3),
        sleeve(20e-3, 13e-3, 42_635.3),
    ]
}

#[cfg(test)]
mod tests {
    use fishplate_quantity::Trace;

    use super::*;
    use crate::clause::{Applicability, Clause, NotChecked};

    #[test]
    fn a_narrow_foot_on_a_rail_in_full_compression_has_nothing_left() {
        // kn = 1.3 - 0.4 0.8 / 0.24 is below zero.
        let input = WallInput { b_1: 0.024, n_chord: Some(0.8), ..foot() };
        let checked = FacePulledByBolts.evaluate(&input, &factors(), &mut Trace::off()).unwrap();
        assert!(checked.utilisation.exceeds());
    }

    #[test]
    fn open_rails_and_very_thin_walls_are_flagged() {
        let open = WallInput { rail: RailSection::Open, t_wall: 1.9e-3, ..foot() };
        let Applicability::OutsideScope(reason) = FaceUnderFoot.applies(&open) else {
            unreachable!("an open rail of 52.6 is outside the tables twice");
        };
        assert!(reason.contains("boxed") && reason.contains("52.6"), "{reason}");
    }

    /// Own recomputation for the boss above: 3595 alone, 19 530 side by side, 34 668 N as one plate.
    #[test]
    fn the_other_readings_of_a_doubler_are_noted() {
        let boss = wall_pulls().swap_remove(1).input;
        let mut trace = Trace::on();
        FacePulledByBolts.evaluate(&boss, &factors(), &mut trace).unwrap();
        let note = &trace.notes()[0];
        assert!(note.contains("0.184") && note.contains("1.78"), "{note}");
    }

    #[test]
    fn a_foot_as_wide_as_the_wall_is_not_checked() {
        let wide = WallInput { b_1: 0.1, ..foot() };
        let refused = FaceUnderFoot.evaluate(&wide, &factors(), &mut Trace::off());
        assert!(matches!(refused, Err(NotChecked::OutOfRange { symbol: "b_1", .. })));
    }
}
