//! How thick an old wall may be taken to be: from what a gauge read to the thickness of the design.

use fishplate_quantity::algebra::smaller;
use fishplate_quantity::step;
use fishplate_quantity::trace::{Dimension, Provenance, Source, Trace};

use crate::clause::input::choice;

/// What is known about a wall at one station. Lengths in m.
#[derive(Debug, Clone, PartialEq)]
pub struct Survey<'a> {
    /// Thickness as new.
    pub as_new: f64,
    /// What the gauge said; at least one reading.
    pub readings: &'a [f64],
    /// Thickness of the coat that was left under the probe.
    pub coat: f64,
    /// Deepest pit over mean loss; 1 where the wall is worn evenly.
    pub pitting: f64,
    /// What is still to be lost.
    pub allowance: Option<Allowance>,
    /// Where the readings come from.
    pub origin: Provenance,
}

/// What is still to be lost on the two faces of a wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Allowance {
    /// How corrosive the place is.
    pub class: Corrosivity,
    /// Years that the design has to last, above 0 up to 50.
    pub years: f64,
    /// State of the outer and the inner face.
    pub faces: [FaceState; 2],
}

choice! {
    /// How corrosive a place is to bare carbon steel.
    pub enum Corrosivity {
        /// Very low.
        C1 = "C1",
        /// Low.
        C2 = "C2",
        /// Medium.
        C3 = "C3",
        /// High.
        C4 = "C4",
        /// Very high.
        C5 = "C5",
        /// Extreme.
        Cx = "CX",
    }
}

impl Corrosivity {
    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::C1 => "C1",
            Self::C2 => "C2",
            Self::C3 => "C3",
            Self::C4 => "C4",
            Self::C5 => "C5",
            Self::Cx => "CX",
        }
    }

    /// Most that carbon steel loses on a face in the first year, m (ISO 9223:2012, Table 2, from
    /// memory).
    #[must_use]
    pub fn first_year(self) -> f64 {
        let micrometres = match self {
            Self::C1 => 1.3,
            Self::C2 => 25.0,
            Self::C3 => 50.0,
            Self::C4 => 80.0,
            Self::C5 => 200.0,
            Self::Cx => 700.0,
        };
        micrometres * 1e-6
    }
}

choice! {
    /// How a face is kept.
    pub enum FaceState {
        /// Coated, seams sealed, hollow filled with wax.
        Sealed = "sealed",
        /// Bare, or coated once and left alone.
        Unsealed = "unsealed",
        /// Wet in a gap: behind a lap that is not sealed.
        Crevice = "crevice",
    }
}

impl FaceState {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Sealed => "sealed",
            Self::Unsealed => "unsealed",
            Self::Crevice => "crevice",
        }
    }

    /// Loss over that of a bare face: a third where it is sealed, twice in a crevice (common
    /// practice, no source).
    #[must_use]
    pub fn share(self) -> f64 {
        match self {
            Self::Sealed => 1.0 / 3.0,
            Self::Unsealed => 1.0,
            Self::Crevice => 2.0,
        }
    }
}

/// What remains of a wall, m. Not above zero where nothing remains.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Remaining {
    /// Mean of the readings, less the coat.
    pub mean: f64,
    /// What nineteen of twenty places have: the 5 % low.
    pub low: f64,
    /// Sound metal today: the low, less pits.
    pub sound: f64,
    /// What is left when the design has done its years.
    pub design: f64,
    /// Loss until today over the thickness as new.
    pub loss: f64,
}

const READINGS: Source = Source::practice("readings of a thickness gauge");
/// Sound runs about 5900 m/s in steel and 2400 m/s in paint (from memory).
const COAT: Source =
    Source::practice("a gauge set for steel reads a coat two and a half times as thick as it is");
const FRACTILE: Source =
    Source::new("EN 1990:2002", "D7.2, Table D1, scatter not known beforehand");
const PITS: Source = Source::new("ASTM G46", "pitting factor: deepest pit over mean loss");
/// The exponent 0.523 of carbon steel is that of its Table 2, from memory.
const LASTING: Source = Source::new("ISO 9224:2012", "long-term loss of carbon steel, b 0.523");

/// Readings and the factor on their scatter that leaves 5 % below (EN 1990:2002, Table D1, from
/// memory; the same as Student's t at 95 % times √(1 + 1/n)). Between two, the fewer count.
const FACTORS: [(f64, f64); 8] = [
    (3.0, 3.37),
    (4.0, 2.63),
    (5.0, 2.33),
    (6.0, 2.18),
    (8.0, 2.00),
    (10.0, 1.92),
    (20.0, 1.76),
    (30.0, 1.73),
];

/// What remains of a wall, with the way from the readings to it.
///
/// `t = t_low - (p - 1) loss - allowance`, `t_low` the lesser of the least reading and, with three
/// readings or more, `mean - k s`.
pub fn remaining(survey: &Survey<'_>, trace: &mut Trace) -> Remaining {
    let n = survey.readings.len();
    let count = u32::try_from(n).map_or(f64::INFINITY, f64::from);
    let sum: f64 = survey.readings.iter().sum();
    let least = survey.readings.iter().copied().fold(f64::INFINITY, smaller);
    let mut length = |symbol, what, value, from: &Provenance| {
        trace.input(symbol, what, Dimension::Length, value, || from.clone())
    };
    let t_new = length("t_new", "wall as new", survey.as_new, &survey.origin);
    let t_mean = length("t_mean", "mean of the readings", sum / count, &survey.origin);
    let t_least = length("t_least", "least reading", least, &survey.origin);
    let coat = length("coat", "coat left under the probe", survey.coat, &survey.origin);
    let Metal { t_m, t_coat, loss } = metal(t_new, t_mean, coat, trace);
    step!(trace, Ratio, READINGS, "loss until today over the wall as new";
        loss_share(loss, t_new) = loss / t_new);
    let low = if let Some(k) = factor_on_scatter(count) {
        let squares: f64 = survey.readings.iter().map(|r| (r - sum / count).powi(2)).sum();
        let s_t = trace.input(
            "s_t",
            "scatter of the readings",
            Dimension::Length,
            (squares / (count - 1.0)).sqrt(),
            || survey.origin.clone(),
        );
        let k_n =
            trace.input("k_n", "factor on the scatter, 5 % below", Dimension::Ratio, k, || {
                Provenance::Table(format!("EN 1990:2002, Table D1, {n} readings"))
            });
        step!(trace, Length, FRACTILE, "5 % low of the metal, not above the least reading";
            t_low(t_m, k_n, s_t, t_least, t_coat) = smaller(t_m - k_n * s_t, t_least - t_coat));
        t_low
    } else {
        step!(trace, Length, READINGS, "least reading: fewer than three tell nothing of the rest";
            t_low(t_least, t_coat) = t_least - t_coat);
        t_low
    };
    let t_low = low;
    let p =
        trace.input("p", "deepest pit over mean loss", Dimension::Ratio, survey.pitting, || {
            survey.origin.clone()
        });
    let t_sound = sound(t_low, p, loss, trace);
    let design = survey.allowance.map_or(t_sound, |allowance| {
        let lost = lost(allowance, trace);
        step!(trace, Length, LASTING, "what is left when the design has done its years";
            t_design(t_sound, lost) = t_sound - lost);
        t_design
    });
    Remaining { mean: t_m, low: t_low, sound: t_sound, design, loss: loss_share }
}

/// Loss of both faces over the years to come, m.
pub fn lost(allowance: Allowance, trace: &mut Trace) -> f64 {
    let Allowance { class, years, faces: [outer, inner] } = allowance;
    let r = trace.input(
        "r",
        "loss of a bare face in the first year",
        Dimension::Length,
        class.first_year(),
        || Provenance::Table(format!("ISO 9223:2012, {}", class.name())),
    );
    let mut ratio = |symbol, what, value, text: String| {
        trace.input(symbol, what, Dimension::Ratio, value, || Provenance::Assumed(text))
    };
    let years = ratio("years", "years to last", years, "the project says".to_owned());
    let share = |face: FaceState| {
        format!("{}: a third sealed, twice in a crevice (common practice, no source)", face.word())
    };
    let c_out = ratio("c_out", "outer face over a bare one", outer.share(), share(outer));
    let c_in = ratio("c_in", "inner face over a bare one", inner.share(), share(inner));
    let d_years = years_over_first(years, trace);
    both_faces(r, d_years, c_out, c_in, trace)
}

/// The metal under a coat.
pub(crate) struct Metal {
    /// Mean of the metal.
    pub(crate) t_m: f64,
    /// What the coat adds to a reading.
    pub(crate) t_coat: f64,
    /// Loss until today.
    pub(crate) loss: f64,
}

/// Records and returns what the mean of the readings says about the metal.
pub(crate) fn metal(t_new: f64, t_mean: f64, coat: f64, trace: &mut Trace) -> Metal {
    step!(trace, Length, COAT, "what the coat adds to a reading";
        t_coat(coat) = 2.5 * coat);
    step!(trace, Length, READINGS, "mean of the metal"; t_m(t_mean, t_coat) = t_mean - t_coat);
    step!(trace, Length, READINGS, "loss until today"; loss(t_new, t_m) = positive(t_new - t_m));
    Metal { t_m, t_coat, loss }
}

/// The factor on the scatter of `n` readings that leaves 5 % below, from three readings on.
pub(crate) fn factor_on_scatter(n: f64) -> Option<f64> {
    FACTORS.iter().rev().find(|(fewest, _)| n >= *fewest).map(|(_, k)| *k)
}

/// Records and returns the sound metal at the bottom of the deepest pit.
pub(crate) fn sound(t_low: f64, p: f64, loss: f64, trace: &mut Trace) -> f64 {
    step!(trace, Length, PITS, "sound metal today, at the bottom of the deepest pit";
        t_sound(t_low, p, loss) = t_low - positive(p - 1.0) * loss);
    t_sound
}

/// Records and returns the loss of all years over that of the first.
pub(crate) fn years_over_first(years: f64, trace: &mut Trace) -> f64 {
    if years > 20.0 {
        step!(trace, Ratio, LASTING, "loss of all years over that of the first, past twenty";
            d_years(years) =
                power(20.0, 0.523) + 0.523 * power(20.0, 0.523 - 1.0) * (years - 20.0));
        d_years
    } else {
        step!(trace, Ratio, LASTING, "loss of all years over that of the first";
            d_years(years) = power(years, 0.523));
        d_years
    }
}

/// Records and returns the loss of both faces.
pub(crate) fn both_faces(r: f64, d_years: f64, c_out: f64, c_in: f64, trace: &mut Trace) -> f64 {
    step!(trace, Length, LASTING, "loss of both faces";
        lost(r, d_years, c_out, c_in) = r * d_years * (c_out + c_in));
    lost
}

#[cfg(test)]
mod tests {
    use super::*;

    fn survey(readings: &[f64]) -> Survey<'_> {
        Survey {
            as_new: 3e-3,
            readings,
            coat: 0.0,
            pitting: 1.0,
            allowance: None,
            origin: Provenance::Given("readings".to_owned()),
        }
    }

    #[track_caller]
    fn near(got: f64, want: f64) {
        assert!((got - want).abs() < 1e-9, "got {got}, want {want}");
    }

    /// Student's t at 95 % with n - 1 degrees of freedom (any table of statistics) times
    /// √(1 + 1/n); the standard rounds to two digits and a little down.
    #[test]
    fn the_factors_are_those_of_student() {
        let student = [2.920, 2.353, 2.132, 2.015, 1.895, 1.833, 1.729, 1.699];
        for ((n, k), t) in FACTORS.iter().zip(student) {
            let expected = t * (1.0 + 1.0 / n).sqrt();
            assert!((k / expected - 1.0).abs() < 0.7e-2, "{n}: {k} and {expected}");
        }
    }

    #[test]
    fn one_reading_is_taken_as_it_is() {
        let r = remaining(&survey(&[2.2e-3]), &mut Trace::off());
        near(r.design, 2.2e-3);
        near(r.loss, 0.8 / 3.0);
    }

    #[test]
    fn three_readings_tell_what_may_lie_between_them() {
        // EN 1990:2002, D7.2: mean 2.2, scatter 0.1, k 3.37.
        let r = remaining(&survey(&[2.1e-3, 2.2e-3, 2.3e-3]), &mut Trace::off());
        near(r.mean, 2.2e-3);
        near(r.low, (2.2 - 3.37 * 0.1) * 1e-3);
        // Two readings have a scatter, but no factor: the lesser counts.
        near(remaining(&survey(&[2.1e-3, 2.3e-3]), &mut Trace::off()).low, 2.1e-3);
        // One far below many: the low is never above what was read.
        let mut many = [2.9e-3; 30];
        many[0] = 1.5e-3;
        near(remaining(&survey(&many), &mut Trace::off()).low, 1.5e-3);
    }

    #[test]
    fn the_coat_comes_off_every_reading_as_the_gauge_sees_it() {
        let mut s = survey(&[2.7e-3]);
        s.coat = 0.2e-3;
        let r = remaining(&s, &mut Trace::off());
        near(r.design, 2.2e-3);
        near(r.loss, 0.8 / 3.0);
    }

    #[test]
    fn a_pit_is_deeper_than_the_mean_loss_by_its_factor() {
        // Mean loss 0.4, deepest pit 2.5 times: 1.0 under the face as new, 2.0 remain.
        let mut s = survey(&[2.6e-3]);
        s.pitting = 2.5;
        near(remaining(&s, &mut Trace::off()).sound, 2.0e-3);
    }

    #[test]
    fn years_take_from_both_faces() {
        // ISO 9224: 80 µm in the first year are 80 x 20^0.523 = 383.3 µm after twenty, 483.5 µm
        // after thirty (own recomputation).
        let bare = |years| Allowance {
            class: Corrosivity::C4,
            years,
            faces: [FaceState::Unsealed, FaceState::Unsealed],
        };
        assert!((lost(bare(20.0), &mut Trace::off()) - 2.0 * 383.291e-6).abs() < 1e-9);
        assert!((lost(bare(30.0), &mut Trace::off()) - 2.0 * 483.522e-6).abs() < 1e-9);
        let kept = Allowance { faces: [FaceState::Sealed, FaceState::Crevice], ..bare(20.0) };
        let third_and_twice = 383.291e-6 * (1.0 / 3.0 + 2.0);
        assert!((lost(kept, &mut Trace::off()) - third_and_twice).abs() < 1e-9);
        let mut s = survey(&[2.6e-3]);
        s.allowance = Some(bare(20.0));
        let r = remaining(&s, &mut Trace::off());
        near(r.sound, 2.6e-3);
        assert!((r.design - (2.6e-3 - 2.0 * 383.291e-6)).abs() < 1e-9);
    }

    #[test]
    fn the_way_is_told_and_gives_the_same_bits() {
        let readings = [2.1e-3, 2.2e-3, 2.3e-3];
        let mut s = survey(&readings);
        (s.coat, s.pitting) = (0.05e-3, 1.2);
        s.allowance = Some(Allowance {
            class: Corrosivity::C5,
            years: 12.0,
            faces: [FaceState::Unsealed, FaceState::Sealed],
        });
        let mut trace = Trace::on();
        let told = remaining(&s, &mut trace);
        assert_eq!(told, remaining(&s, &mut Trace::off()));
        assert!(trace.orphans().is_empty(), "{:?}", trace.orphans());
        assert_eq!(trace.entries().last().map(|e| e.symbol), Some("t_design"));
    }
}
