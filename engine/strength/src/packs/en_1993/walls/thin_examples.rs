//! Worked examples of weld nuts, sleeves that do not fit, and fishplates.

use crate::clause::Clause;
use crate::clause::input::{FishplateInput, NutClass, SleeveFitInput, WeldNutInput};
use crate::packs::en_1993::examples::{Example, OWN, Rules, given};

use super::fishplate::{
    EndBlunt, EndTapered, LongEnough, NotTooThickHeavy, NotTooThickLight, ReachesPast,
};
use super::sleeve_fit::{ShortSleeveBends, ShortSleeveClamps, SleeveProud};
use super::weld_nut::{
    NutBendsFace, NutBendsFan, NutBolt, NutClassEnough, NutPunches, NutStrips, RingWeld,
};

const MM: f64 = 1e-3;
const MPA: f64 = 1e6;

/// A boss of 20 mm for an M10-8.8 on a wall 70 x 1.9 of old mild steel, 6 kN of pull and 4 kN of
/// shear, 8 mm of thread.
fn boss() -> WeldNutInput {
    WeldNutInput {
        f_t_ed: 6e3,
        f_v_ed: 4e3,
        d_out: 20.0 * MM,
        z: Some(3.0 * MM),
        gap: 0.0,
        t_wall: 1.9 * MM,
        t_plate: 0.0,
        b_0: Some(70.0 * MM),
        f_y: 180.0 * MPA,
        f_u: 300.0 * MPA,
        beta_w: 0.8,
        a_s: 57.99e-6,
        f_ub: 800.0 * MPA,
        l_e: 8.0 * MM,
        pitch: 1.5 * MM,
        d_min: 9.732 * MM,
        d_2_nut_max: 9.206 * MM,
        r_m: None,
        nut: NutClass::Unknown,
        origins: given(),
    }
}

pub(in crate::packs::en_1993) fn weld_nuts() -> Vec<Example<WeldNutInput>> {
    let clause = |c: &'static dyn Clause<WeldNutInput>| c;
    let eight = WeldNutInput { nut: NutClass::Class8, ..boss() };
    let plain = WeldNutInput { nut: NutClass::Plain, r_m: Some(360.0 * MPA), ..boss() };
    let doubled = WeldNutInput { t_plate: 4.0 * MM, ..boss() };
    [
        // 0.9 500 57.99 / 1.25: an unknown nut does not hold what an 8.8 bolt would.
        (clause(&NutBolt), boss(), 6e3, 20_876.4),
        (clause(&NutBolt), eight.clone(), 6e3, 33_402.2),
        (clause(&NutClassEnough), boss(), 800.0 * MPA, 500.0 * MPA),
        (clause(&NutClassEnough), eight.clone(), 800.0 * MPA, 800.0 * MPA),
        // 171.82 mm² of thread at 416, 640 and 360 MPa.
        (clause(&NutStrips), boss(), 6e3, 34_308.1),
        (clause(&NutStrips), eight, 6e3, 52_781.7),
        (clause(&NutStrips), plain, 6e3, 37_112.0 / 1.25),
        (clause(&RingWeld), boss(), 7211.1, 23_085.9),
        (clause(&NutPunches), boss(), 6e3, 17_190.8),
        (clause(&NutBendsFace), boss(), 6e3, 3595.0),
        (clause(&NutBendsFace), doubled.clone(), 6e3, 19_530.0),
        // Half a fan: π 70 / 25 = 8.7965, twice 162.45 N of plastic moment per mm.
        (clause(&NutBendsFan), boss(), 6e3, 2857.97),
        (clause(&NutBendsFan), doubled, 6e3, 15_524.9),
    ]
    .into_iter()
    .map(|(clause, input, demand, resistance)| Example {
        clause,
        input,
        demand,
        resistance,
        tolerance: 2e-4,
        source: OWN,
        rules: Rules::RECOMMENDED,
    })
    .collect()
}

pub(in crate::packs::en_1993) fn sleeve_fits() -> Vec<Example<SleeveFitInput>> {
    // Walls 70 x 1.9 of old mild steel, washer 24, 24 kN of preload at least.
    let fit = |proud: f64| SleeveFitInput {
        proud: proud * MM,
        f_min: 24e3,
        b_0: 70.0 * MM,
        d_w: 24.0 * MM,
        t: 1.9 * MM,
        f_y: 180.0 * MPA,
        f_k_req: Some(20e3),
        origins: given(),
    };
    let clause = |c: &'static dyn Clause<SleeveFitInput>| c;
    [
        (clause(&SleeveProud), fit(0.15), 0.15 * MM, 0.2 * MM),
        // Walls yield at 3106.5 N and give 1856.5 N/mm together: 1.6733 mm.
        (clause(&ShortSleeveBends), fit(-0.5), 0.5 * MM, 1.673_31 * MM),
        (clause(&ShortSleeveClamps), fit(-0.5), 20e3, 23_071.75),
        (clause(&ShortSleeveClamps), fit(-2.5), 20e3, 20_893.5),
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

pub(in crate::packs::en_1993) fn fishplates() -> Vec<Example<FishplateInput>> {
    // 3 mm on a web of 2.2 mm and 100 mm depth, 280 long, ends cut at 40 degrees.
    let plate = || FishplateInput {
        t_rail: 2.2 * MM,
        t_plate: 3.0 * MM,
        h_rail: 100.0 * MM,
        l_plate: 280.0 * MM,
        end_angle: 40.0_f64.to_radians(),
        l_past: Some(140.0 * MM),
        origins: given(),
    };
    let square = FishplateInput { end_angle: 90.0_f64.to_radians(), ..plate() };
    let clause = |c: &'static dyn Clause<FishplateInput>| c;
    [
        // 1.36 rails thick: allowed by one rule, not by the other.
        (clause(&NotTooThickLight), plate(), 3.0 * MM, 3.3 * MM),
        (clause(&NotTooThickHeavy), plate(), 3.0 * MM, 2.2 * MM),
        (clause(&LongEnough), plate(), 300.0 * MM, 280.0 * MM),
        (clause(&ReachesPast), plate(), 200.0 * MM, 140.0 * MM),
        (clause(&EndTapered), plate(), 40.0_f64.to_radians(), 45.0_f64.to_radians()),
        (clause(&EndTapered), square, 90.0_f64.to_radians(), 45.0_f64.to_radians()),
        (clause(&EndBlunt), plate(), 30.0_f64.to_radians(), 40.0_f64.to_radians()),
    ]
    .into_iter()
    .map(|(clause, input, demand, resistance)| Example {
        clause,
        input,
        demand,
        resistance,
        tolerance: 1e-9,
        source: "multiples by hand; the rules are common practice or from memory",
        rules: Rules::RECOMMENDED,
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use fishplate_quantity::Trace;

    use super::*;
    use crate::clause::Applicability;
    use crate::packs::en_1993::examples::factors;

    #[test]
    fn a_boss_on_a_thin_wall_fails_by_bending_of_the_wall_alone() {
        let run = |clause: &dyn Clause<WeldNutInput>| {
            clause.evaluate(&boss(), &factors(), &mut Trace::off()).unwrap().utilisation.value()
        };
        assert!((run(&NutBendsFace) - 1.669).abs() < 1e-3);
        assert!((run(&RingWeld) - 0.312).abs() < 1e-3);
        assert!((run(&NutPunches) - 0.349).abs() < 1e-3);
        assert!(run(&NutBendsFan) > run(&NutBendsFace));
        assert!(matches!(NutBendsFace.applies(&boss()), Applicability::OutsideScope(_)));
    }
}
