//! Worked examples of old walls and unknown steels.

use crate::clause::Clause;
use crate::clause::input::{
    Corrosivity, GradeKnown, OldWallInput, OldWallMeanInput, ReadingRule, SteelGradeInput,
    ThicknessReading,
};
use crate::packs::en_1993::examples::{Example, Rules, given};

use super::old::{
    UnknownTensile, UnknownTensileWide, UnknownYield, UnknownYieldWide, WallByMean, WallByReadings,
    WeldableByMean, WeldableByReadings,
};

const MM: f64 = 1e-3;
const MPA: f64 = 1e6;
const OWN: &str = "own recomputation; k_n, first-year losses and exponent from memory of EN 1990, \
                   ISO 9223 and ISO 9224";

/// 1.90, 1.80, 1.85, 1.75, 1.95 mm over 0.1 mm of paint, one face on salted roads for 5 years.
fn wall() -> OldWallInput {
    OldWallInput {
        t_req: MM,
        paint: 0.1 * MM,
        years: 5.0,
        faces: 1.0,
        t_nominal: Some(2.0 * MM),
        k_pit: None,
        r_corr: None,
        readings: [1.90, 1.80, 1.85, 1.75, 1.95].map(|t| ThicknessReading { t: t * MM }).to_vec(),
        rule: ReadingRule::OneInTwenty,
        place: Corrosivity::C5,
        origins: given(),
    }
}

/// The same wall by mean 1.85, deviation 0.08, ten readings.
fn mean() -> OldWallMeanInput {
    OldWallMeanInput {
        t_req: MM,
        t_mean: 1.85 * MM,
        s_t: 0.08 * MM,
        n_readings: 10.0,
        paint: 0.1 * MM,
        years: 10.0,
        faces: 2.0,
        t_nominal: None,
        k_pit: None,
        r_corr: Some(50e-6),
        place: Corrosivity::C3,
        origins: given(),
    }
}

pub(in crate::packs::en_1993) fn old_walls() -> Vec<Example<OldWallInput>> {
    let clause = |c: &'static dyn Clause<OldWallInput>| c;
    let least = OldWallInput { rule: ReadingRule::Least, ..wall() };
    let pits = OldWallInput { k_pit: Some(3.0), ..wall() };
    let today = OldWallInput { years: 0.0, ..wall() };
    [
        // 1.85 - 2.335 0.079 057 - 0.1 = 1.565 40; 0.2 5^0.523 = 0.464 08.
        (clause(&WallByReadings), wall(), 1.0, 1.101_32),
        (clause(&WallByReadings), least.clone(), 1.0, 1.185_92),
        (clause(&WallByReadings), today, 1.0, 1.565_40),
        // Mean loss 2.0 - 1.75 = 0.25, the deepest pit 0.75.
        (clause(&WallByReadings), pits.clone(), 1.0, 1.25 - 0.464_08),
        (clause(&WeldableByReadings), wall(), 1.2, 1.565_40),
        (clause(&WeldableByReadings), least, 1.2, 1.65),
        (clause(&WeldableByReadings), pits, 1.2, 1.25),
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

pub(in crate::packs::en_1993) fn old_wall_means() -> Vec<Example<OldWallMeanInput>> {
    let clause = |c: &'static dyn Clause<OldWallMeanInput>| c;
    let pits =
        OldWallMeanInput { years: 0.0, t_nominal: Some(2.0 * MM), k_pit: Some(2.0), ..mean() };
    // C3: 0.05 mm in the first year, as stated above.
    let by_class = OldWallMeanInput { r_corr: None, ..mean() };
    [
        // 1.85 - 1.923 0.08 - 0.1 = 1.596 16; two faces lose 2 0.05 10^0.523 = 0.333 43.
        (clause(&WallByMean), mean(), 1.0, 1.262_73),
        (clause(&WallByMean), by_class, 1.0, 1.262_73),
        // The deepest pit leaves 2.0 - 2 0.25 = 1.5.
        (clause(&WallByMean), pits, 1.0, 1.5),
        (clause(&WeldableByMean), mean(), 1.2, 1.596_16),
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
    use fishplate_quantity::Trace;

    use super::*;
    use crate::clause::NotChecked;
    use crate::packs::en_1993::examples::factors;

    #[test]
    fn two_readings_have_no_distribution() {
        let few = OldWallInput { readings: wall().readings[..2].to_vec(), ..wall() };
        let refused = WallByReadings.evaluate(&few, &factors(), &mut Trace::off());
        assert!(matches!(refused, Err(NotChecked::OutOfRange { symbol: "n_readings", .. })));
        let least = OldWallInput { rule: ReadingRule::Least, ..few };
        assert!(WallByReadings.evaluate(&least, &factors(), &mut Trace::off()).is_ok());
    }

    #[test]
    fn beyond_twenty_years_and_pits_shallower_than_the_mean_are_refused() {
        let refused = |input: OldWallMeanInput, symbol: &str| {
            let refused = WallByMean.evaluate(&input, &factors(), &mut Trace::off());
            matches!(refused, Err(NotChecked::OutOfRange { symbol: s, .. }) if s == symbol)
        };
        assert!(refused(OldWallMeanInput { years: 21.0, ..mean() }, "years"));
        assert!(refused(OldWallMeanInput { faces: 3.0, ..mean() }, "faces"));
        let shallow = OldWallMeanInput { k_pit: Some(0.5), t_nominal: Some(2.0 * MM), ..mean() };
        assert!(refused(shallow, "k_pit"));
    }

    #[test]
    fn a_wall_that_rusts_away_exceeds() {
        let gone = OldWallMeanInput { t_mean: 0.2 * MM, ..mean() };
        let checked = WallByMean.evaluate(&gone, &factors(), &mut Trace::off()).unwrap();
        assert!(checked.utilisation.exceeds());
    }
}
