//! What is left of an old wall, and what one may assume of its steel.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{
    Corrosivity, GradeKnown, OldWallInput, OldWallMeanInput, ReadingRule, SteelGradeInput,
};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::{MM, MPA};

/// How many deviations below the mean one place in twenty lies, by the number of readings:
/// Student's t for 0.95 times √(1 + 1/n), which EN 1990 Table D1 (unknown deviation) prints with two
/// digits. A number between two rows takes the row of fewer readings.
const K_N: [(f64, f64); 8] = [
    (3.0, 3.372),
    (4.0, 2.631),
    (5.0, 2.335),
    (6.0, 2.177),
    (8.0, 2.010),
    (10.0, 1.923),
    (20.0, 1.772),
    (30.0, 1.727),
];

/// Loss of one face of bare carbon steel in its first year, m: upper ends of the classes of
/// ISO 9223:2012 Table 2 (from memory).
fn first_year(place: Corrosivity) -> f64 {
    const UM: f64 = 1e-6;
    match place {
        Corrosivity::C1 => 1.3 * UM,
        Corrosivity::C2 => 25.0 * UM,
        Corrosivity::C3 => 50.0 * UM,
        Corrosivity::C4 => 80.0 * UM,
        Corrosivity::C5 => 200.0 * UM,
        Corrosivity::Cx => 700.0 * UM,
    }
}

const STATISTICS: Source = Source::new("EN 1990:2002", "D7.2 and Table D1 (from memory)");

/// Records and returns the thickness that one place in twenty is below.
fn one_in_twenty(
    t_mean: f64,
    s_t: f64,
    n_readings: f64,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let Some((_, value)) = K_N.iter().rev().find(|(n, _)| n_readings >= *n) else {
        return Err(NotChecked::OutOfRange {
            symbol: "n_readings",
            what: "number of readings",
            value: n_readings,
            dimension: Dimension::Ratio,
            allowed: "at least 3: take more readings, or the least of them",
        });
    };
    let what = "deviations from the mean to one in twenty";
    let k_n = trace.input("k_n", what, Dimension::Ratio, *value, || {
        Provenance::Table("Student's t for 0.95, as in EN 1990:2002, Table D1".to_owned())
    });
    step!(trace, Length, STATISTICS, "thickness that one place in twenty is below";
        t_read(t_mean, k_n, s_t) = t_mean - k_n * s_t);
    Ok(t_read)
}

/// The thickness read, and its mean, before paint and pits are taken off.
struct Read {
    t_read: f64,
    t_mean: f64,
}

impl Read {
    fn of_list(input: &OldWallInput, trace: &mut Trace) -> Result<Self, NotChecked> {
        const READINGS: Source = Source::mechanics("mean and deviation of readings");
        const LEAST: Source = Source::practice("the least of few readings, where it looks worst");
        let (mut count, mut total, mut total_of_squares) = (0.0, 0.0, 0.0);
        let mut least = f64::INFINITY;
        for reading in &input.readings {
            let t = reading.t(&input.origins, trace);
            count += 1.0;
            total += t;
            total_of_squares += t * t;
            least = fishplate_quantity::algebra::smaller(least, t);
        }
        let counted = || input.origins.of("readings");
        let n_readings =
            trace.input("n_readings", "number of readings", Dimension::Ratio, count, counted);
        let sum = trace.input("sum", "sum of the readings", Dimension::Length, total, counted);
        step!(trace, Length, READINGS, "mean of the readings"; t_mean(sum, n_readings) = sum / n_readings);
        if input.rule == ReadingRule::Least {
            let what = "least of the readings";
            let t_least = trace.input("t_least", what, Dimension::Length, least, counted);
            step!(trace, Length, LEAST, "thickness read"; t_read(t_least) = t_least);
            return Ok(Self { t_read, t_mean });
        }
        let what = "sum of the squares of the readings";
        let squares = trace.input("squares", what, Dimension::Area, total_of_squares, counted);
        // One reading has no deviation: it is refused for being one, whatever comes out here.
        step!(trace, Length, READINGS, "standard deviation of the readings";
            s_t(squares, n_readings, t_mean) =
            sqrt(positive(squares - n_readings * sq(t_mean)) / larger(1.0, n_readings - 1.0)));
        Ok(Self { t_read: one_in_twenty(t_mean, s_t, n_readings, trace)?, t_mean })
    }

    fn of_mean(input: &OldWallMeanInput, trace: &mut Trace) -> Result<Self, NotChecked> {
        let t_mean = input.t_mean(trace);
        let s_t = input.s_t(trace);
        let n_readings = input.n_readings(trace);
        Ok(Self { t_read: one_in_twenty(t_mean, s_t, n_readings, trace)?, t_mean })
    }
}

/// Clauses about a measured wall, whichever way it was measured.
macro_rules! measured_wall {
    ($input:ident, $read:ident, $strength:ident = $thickness:literal $strength_title:literal,
     $weldable:ident = $weld:literal $weld_title:literal) => {
        /// Thickness that is left at the end of the years asked for.
        pub(super) struct $strength;

        impl Clause<$input> for $strength {
            fn reference(&self) -> Source {
                Source::mechanics($thickness)
            }

            fn title(&self) -> &'static str {
                $strength_title
            }

            fn short(&self) -> &'static str {
                "wall that is left"
            }

            fn applies(&self, _: &$input) -> Applicability {
                Applicability::Applies
            }

            fn formula(
                &self,
                input: &$input,
                _: &Factors,
                trace: &mut Trace,
            ) -> Result<Checked, NotChecked> {
                const LEFT: Source = Source::mechanics($thickness);
                let t_now = metal_now!(input, $read, trace);
                const GROWTH: Source = Source::new("ISO 9224:2012", "loss by years (from memory)");
                let t_req = input.t_req(trace);
                let years = input.years(trace);
                if years > 20.0 {
                    return Err(NotChecked::OutOfRange {
                        symbol: "years",
                        what: "years the wall has to last",
                        value: years,
                        dimension: Dimension::Ratio,
                        allowed: "at most 20, as far as ISO 9224 goes: inspect it then",
                    });
                }
                let faces = input.faces(trace);
                if faces > 2.0 {
                    return Err(NotChecked::OutOfRange {
                        symbol: "faces",
                        what: "faces that rust",
                        value: faces,
                        dimension: Dimension::Ratio,
                        allowed: "at most 2",
                    });
                }
                let r_corr = if input.r_corr.is_some() {
                    input.r_corr(trace)?
                } else {
                    let what = "loss of one face in the first year, upper end of its class";
                    let value = first_year(input.place);
                    trace.input("r_corr", what, Dimension::Length, value, || {
                        Provenance::Table("ISO 9223:2012, Table 2 (from memory)".to_owned())
                    })
                };
                step!(trace, Length, GROWTH, "loss of all faces over the years";
                    loss(faces, r_corr, years) = faces * r_corr * power(years, 0.523));
                step!(trace, Length, LEFT, "design thickness"; t_design(t_now, loss) = positive(t_now - loss));
                step!(trace, Ratio, LEFT, "required over provided";
                    utilisation(t_req, t_design) = t_req / t_design);
                Checked::new(t_req, t_design, Dimension::Length, utilisation)
            }
        }

        /// Sound metal enough to weld to.
        pub(super) struct $weldable;

        impl Clause<$input> for $weldable {
            fn reference(&self) -> Source {
                Source::practice($weld)
            }

            fn title(&self) -> &'static str {
                $weld_title
            }

            fn short(&self) -> &'static str {
                "thick enough to weld"
            }

            fn kind(&self) -> Kind {
                Kind::Detailing
            }

            fn applies(&self, _: &$input) -> Applicability {
                Applicability::Applies
            }

            fn formula(
                &self,
                input: &$input,
                _: &Factors,
                trace: &mut Trace,
            ) -> Result<Checked, NotChecked> {
                const WELD: Source = Source::practice($weld);
                let t_now = metal_now!(input, $read, trace);
                step!(trace, Length, WELD, "least sound metal"; t_weld() = 1.2 * MM);
                step!(trace, Ratio, WELD, "required over provided";
                    utilisation(t_weld, t_now) = t_weld / t_now);
                Checked::new(t_weld, t_now, Dimension::Length, utilisation)
            }
        }
    };
}

/// Records and returns the metal that is there today: the reading less paint, or what is left below
/// the deepest pit where that is less.
macro_rules! metal_now {
    ($input:ident, $read:ident, $trace:ident) => {{
        const METAL: Source = Source::mechanics("metal under the coating");
        const PITS: Source = Source::new("ISO 11463:1995", "pitting factor (from memory)");
        let Read { t_read, t_mean } = Read::$read($input, $trace)?;
        let paint = $input.paint($trace);
        step!($trace, Length, METAL, "metal that was read";
            t_metal(t_read, paint) = positive(t_read - paint));
        if $input.k_pit.is_some() {
            let k_pit = $input.k_pit($trace)?;
            let t_nominal = $input.t_nominal($trace)?;
            if k_pit < 1.0 {
                return Err(NotChecked::OutOfRange {
                    symbol: "k_pit",
                    what: "deepest pit over the mean loss",
                    value: k_pit,
                    dimension: Dimension::Ratio,
                    allowed: "at least 1: the deepest pit is not shallower than the mean",
                });
            }
            step!($trace, Length, PITS, "mean loss so far";
                lost(t_nominal, t_mean, paint) = positive(t_nominal - (t_mean - paint)));
            step!($trace, Length, PITS, "metal today, at the deepest pit where that is less";
                t_now(t_metal, t_nominal, k_pit, lost) =
                positive(smaller(t_metal, t_nominal - k_pit * lost)));
            t_now
        } else {
            step!($trace, Length, METAL, "metal today"; t_now(t_metal) = t_metal);
            t_now
        }
    }};
}

measured_wall!(
    OldWallInput,
    of_list,
    WallByReadings = "thickness of an old wall, by readings"
    "wall of an old rail by its readings, less coating, pits and rust to come",
    WeldableByReadings = "1.2 mm of sound metal to weld on, by readings"
    "wall thick enough to weld on, by its readings"
);
measured_wall!(
    OldWallMeanInput,
    of_mean,
    WallByMean = "thickness of an old wall, by mean and deviation"
    "wall of an old rail by mean and deviation, less coating, pits and rust to come",
    WeldableByMean = "1.2 mm of sound metal to weld on, by mean and deviation"
    "wall thick enough to weld on, by mean and deviation"
);

/// Strength assumed for a steel nobody knows, against one of two readings of the trade.
macro_rules! unknown_steel {
    ($name:ident, $place:literal, $title:literal / $short:literal, $strength:ident, $most:literal) => {
        #[doc = $title]
        pub(super) struct $name;

        impl Clause<SteelGradeInput> for $name {
            fn reference(&self) -> Source {
                Source::practice($place)
            }

            fn title(&self) -> &'static str {
                $title
            }

            fn short(&self) -> &'static str {
                $short
            }

            fn kind(&self) -> Kind {
                Kind::Detailing
            }

            fn applies(&self, input: &SteelGradeInput) -> Applicability {
                let unknown = input.grade == GradeKnown::Unknown;
                Applicability::only_if(unknown, "the grade is known")
            }

            fn formula(
                &self,
                input: &SteelGradeInput,
                _: &Factors,
                trace: &mut Trace,
            ) -> Result<Checked, NotChecked> {
                const ASSUMED: Source = Source::practice($place);
                let $strength = input.$strength(trace);
                step!(trace, Stress, ASSUMED, "most one may assume"; most() = $most * MPA);
                step!(trace, Ratio, ASSUMED, "provided over allowed";
                    utilisation($strength, most) = $strength / most);
                trace.note(|| {
                    "an assumption, whatever its number: a coupon of the steel settles it".to_owned()
                });
                Checked::new($strength, most, Dimension::Stress, utilisation)
            }
        }
    };
}

unknown_steel!(
    UnknownYield,
    "unknown old sheet, yield strength 170 MPa",
    "yield strength of unknown old sheet, strict reading" / "unknown steel, fy",
    f_y,
    170.0
);
unknown_steel!(
    UnknownTensile,
    "unknown old sheet, tensile strength 290 MPa",
    "tensile strength of unknown old sheet, strict reading" / "unknown steel, fu",
    f_u,
    290.0
);
unknown_steel!(
    UnknownYieldWide,
    "unknown old sheet, yield strength 200 MPa",
    "yield strength of unknown old sheet, wide reading" / "unknown steel, fy wide",
    f_y,
    200.0
);
unknown_steel!(
    UnknownTensileWide,
    "unknown old sheet, tensile strength 330 MPa",
    "tensile strength of unknown old sheet, wide reading" / "unknown steel, fu wide",
    f_u,
    330.0
);

#[cfg(test)]
mod tests {
    use super::K_N;

    /// Student's t for 0.95 with n - 1 degrees of freedom (any table of statistics), times
    /// √(1 + 1/n).
    #[test]
    fn the_deviations_follow_from_student() {
        let student = [2.920, 2.353, 2.132, 2.015, 1.895, 1.833, 1.729, 1.699];
        for ((n, k_n), t) in K_N.iter().zip(student) {
            let expected = t * (1.0 + 1.0 / n).sqrt();
            assert!((k_n / expected - 1.0).abs() < 1e-3, "{n}: {k_n} and {expected}");
        }
    }
}
