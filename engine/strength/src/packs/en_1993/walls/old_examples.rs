//! Worked examples of old walls and unknown steels.

use crate::clause::Clause;
use crate::clause::input::{
    GradeKnown, OldWallInput, OldWallMeanInput, SteelGradeInput, ThicknessReading,
};
use crate::packs::en_1993::examples::{Example, Rules, given};
use crate::remaining::{Corrosivity, FaceState};

use super::old::{
    UnknownTensile, UnknownTensileWide, UnknownYield, UnknownYieldWide, WallByMean, WallByReadings,
    WeldableByMean, WeldableByReadings,
};

const MM: f64 = 1e-3;
const MPA: f64 = 1e6;
const OWN: &str = "own recomputation; k_n, first-year losses and exponent from memory of EN 1990, \
                   ISO 9223 and ISO 9224";

/// 1.90, 1.80, 1.85, 1.75, 1.95 mm with 0.04 mm of paint, of 2 mm as new; 5 years on salted roads,
/// bare outside, waxed inside.
fn wall() -> OldWallInput {
    OldWallInput {
        t_req: MM,
        t_new: 2.0 * MM,
        coat: 0.04 * MM,
        p: 1.0,
        years: 5.0,
        r: None,
        readings: [1.90, 1.80, 1.85, 1.75, 1.95].map(|t| ThicknessReading { t: t * MM }).to_vec(),
        class: Corrosivity::C5,
        outside: FaceState::Unsealed,
        inside: FaceState::Sealed,
        origins: given(),
    }
}

/// Such a wall by mean 1.85, scatter 0.08, ten readings; 10 years, bare on both faces.
fn mean() -> OldWallMeanInput {
    OldWallMeanInput {
        t_req: MM,
        t_new: 2.0 * MM,
        t_mean: 1.85 * MM,
        s_t: 0.08 * MM,
        n_readings: 10.0,
        coat: 0.04 * MM,
        p: 1.0,
        years: 10.0,
        t_least: None,
        r: Some(50e-6),
        class: Corrosivity::C5,
        outside: FaceState::Unsealed,
        inside: FaceState::Unsealed,
        origins: given(),
    }
}

pub(in crate::packs::en_1993) fn old_walls() -> Vec<Example<OldWallInput>> {
    let clause = |c: &'static dyn Clause<OldWallInput>| c;
    let two = OldWallInput { readings: wall().readings[..2].to_vec(), ..wall() };
    let pits = OldWallInput { p: 3.0, ..wall() };
    let today = OldWallInput { years: 0.0, ..wall() };
    [
        // 1.85 - 2.5 0.04 - 2.33 0.079 057 = 1.565 80; 0.2 5^0.523 4/3 = 0.618 77.
        (clause(&WallByReadings), wall(), 1.0, 0.947_03),
        (clause(&WallByReadings), today, 1.0, 1.565_80),
        // The lesser of two: 1.80 - 0.1.
        (clause(&WallByReadings), two, 1.0, 1.081_23),
        // Mean loss 2.0 - 1.75 = 0.25; the deepest pit is 0.5 deeper.
        (clause(&WallByReadings), pits.clone(), 1.0, 0.447_03),
        (clause(&WeldableByReadings), wall(), 1.2, 1.565_80),
        (clause(&WeldableByReadings), pits, 1.2, 1.065_80),
    ]
    .into_iter()
    .map(|(clause, input, demand, resistance)| Example {
        clause,
        input,
        demand: demand * MM,
        resistance: resistance * MM,
        tolerance: 2e-5,
        source: OWN,
        rules: Rules::RECOMMENDED,
    })
    .collect()
}

pub(in crate::packs::en_1993) fn old_wall_means() -> Vec<Example<OldWallMeanInput>> {
    let clause = |c: &'static dyn Clause<OldWallMeanInput>| c;
    let pits = OldWallMeanInput { years: 0.0, p: 2.0, ..mean() };
    // C3 loses 0.05 mm in the first year, as stated above.
    let by_class = OldWallMeanInput { r: None, class: Corrosivity::C3, ..mean() };
    let worse = OldWallMeanInput { t_least: Some(1.6 * MM), ..mean() };
    [
        // 1.85 - 0.1 - 1.92 0.08 = 1.5964; two faces lose 2 0.05 10^0.523 = 0.333 43.
        (clause(&WallByMean), mean(), 1.0, 1.262_97),
        (clause(&WallByMean), by_class, 1.0, 1.262_97),
        (clause(&WallByMean), worse, 1.0, 1.166_57),
        // The deepest pit is 0.25 deeper.
        (clause(&WallByMean), pits, 1.0, 1.3464),
        (clause(&WeldableByMean), mean(), 1.2, 1.5964),
    ]
    .into_iter()
    .map(|(clause, input, demand, resistance)| Example {
        clause,
        input,
        demand: demand * MM,
        resistance: resistance * MM,
        tolerance: 1e-5,
        source: OWN,
        rules: Rules::RECOMMENDED,
    })
    .collect()
}

pub(in crate::packs::en_1993) fn steel_grades() -> Vec<Example<SteelGradeInput>> {
    let clause = |c: &'static dyn Clause<SteelGradeInput>| c;
    [
        (clause(&UnknownYield), 180.0, 170.0),
        (clause(&UnknownYieldWide), 180.0, 200.0),
        (clause(&UnknownTensile), 300.0, 290.0),
        (clause(&UnknownTensileWide), 300.0, 330.0),
    ]
    .into_iter()
    .map(|(clause, demand, resistance)| Example {
        clause,
        input: SteelGradeInput {
            f_y: 180.0 * MPA,
            f_u: 300.0 * MPA,
            grade: GradeKnown::Unknown,
            origins: given(),
        },
        demand: demand * MPA,
        resistance: resistance * MPA,
        tolerance: 1e-12,
        source: "common practice, no source",
        rules: Rules::RECOMMENDED,
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use fishplate_quantity::{Provenance, Trace};

    use super::*;
    use crate::clause::NotChecked;
    use crate::packs::en_1993::examples::factors;
    use crate::remaining::{Allowance, Survey, remaining};

    /// The check of a whole design takes its walls from the same rules.
    #[test]
    fn a_wall_asked_for_alone_is_as_thick_as_in_a_design() {
        let wall = OldWallInput { p: 1.5, ..wall() };
        let readings: Vec<f64> = wall.readings.iter().map(|reading| reading.t).collect();
        let survey = Survey {
            as_new: wall.t_new,
            readings: &readings,
            coat: wall.coat,
            pitting: wall.p,
            allowance: Some(Allowance {
                class: wall.class,
                years: wall.years,
                faces: [wall.outside, wall.inside],
            }),
            origin: Provenance::Given("readings".to_owned()),
        };
        let design = remaining(&survey, &mut Trace::off()).design;
        let alone = WallByReadings.evaluate(&wall, &factors(), &mut Trace::off()).unwrap();
        assert!((alone.resistance / design - 1.0).abs() < 1e-9);
    }

    #[test]
    fn what_no_rule_covers_is_refused() {
        let refused = |input: OldWallMeanInput, symbol: &str| {
            let refused = WallByMean.evaluate(&input, &factors(), &mut Trace::off());
            matches!(refused, Err(NotChecked::OutOfRange { symbol: s, .. }) if s == symbol)
        };
        assert!(refused(OldWallMeanInput { years: 51.0, ..mean() }, "years"));
        assert!(refused(OldWallMeanInput { p: 0.9, ..mean() }, "p"));
        let few = OldWallMeanInput { n_readings: 2.0, ..mean() };
        assert!(refused(few.clone(), "n_readings"));
        let least = OldWallMeanInput { t_least: Some(1.8 * MM), ..few };
        assert!(WallByMean.evaluate(&least, &factors(), &mut Trace::off()).is_ok());
    }

    #[test]
    fn a_wall_that_rusts_away_exceeds() {
        let gone = OldWallMeanInput { t_mean: 0.5 * MM, ..mean() };
        let checked = WallByMean.evaluate(&gone, &factors(), &mut Trace::off()).unwrap();
        assert!(checked.utilisation.exceeds());
    }
}
