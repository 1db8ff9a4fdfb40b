//! What is left of an old wall, and what one may assume of its steel.

use fishplate_quantity::algebra::smaller;
use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{GradeKnown, OldWallInput, OldWallMeanInput, SteelGradeInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::{MM, MPA};
use crate::remaining::{self, FaceState, Metal};

const FRACTILE: Source =
    Source::new("EN 1990:2002", "D7.2, Table D1, scatter not known beforehand (from memory)");
const LEAST: Source = Source::practice("the least of few readings");

/// What a gauge said.
struct Seen {
    t_mean: f64,
    s_t: f64,
    n_readings: f64,
    t_least: Option<f64>,
}

impl Seen {
    fn of_list(input: &OldWallInput, trace: &mut Trace) -> Result<Self, NotChecked> {
        const READINGS: Source = Source::mechanics("mean and deviation of readings");
        let (mut count, mut total, mut total_of_squares) = (0.0, 0.0, 0.0);
        let mut least = f64::INFINITY;
        for reading in &input.readings {
            let t = reading.t(&input.origins, trace);
            count += 1.0;
            total += t;
            total_of_squares += t * t;
            least = smaller(least, t);
        }
        let counted = || input.origins.of("readings");
        let n_readings =
            trace.input("n_readings", "number of readings", Dimension::Ratio, count, counted);
        let sum = trace.input("sum", "sum of the readings", Dimension::Length, total, counted);
        let what = "sum of the squares of the readings";
        let squares = trace.input("squares", what, Dimension::Area, total_of_squares, counted);
        let t_least = trace.input("t_least", "least reading", Dimension::Length, least, counted);
        step!(trace, Length, READINGS, "mean of the readings";
            t_mean(sum, n_readings) = sum / n_readings);
        // One reading has no scatter, and none is asked of it.
        step!(trace, Length, READINGS, "scatter of the readings";
            s_t(squares, n_readings, t_mean) =
            sqrt(positive(squares - n_readings * sq(t_mean)) / larger(1.0, n_readings - 1.0)));
        Ok(Self { t_mean, s_t, n_readings, t_least: Some(t_least) })
    }

    fn of_mean(input: &OldWallMeanInput, trace: &mut Trace) -> Result<Self, NotChecked> {
        let t_least = input.t_least.is_some().then(|| input.t_least(trace)).transpose()?;
        Ok(Self {
            t_mean: input.t_mean(trace),
            s_t: input.s_t(trace),
            n_readings: input.n_readings(trace),
            t_least,
        })
    }

    /// Records and returns what nineteen of twenty places have, not above the least reading.
    fn low(&self, metal: &Metal, trace: &mut Trace) -> Result<f64, NotChecked> {
        let &Self { s_t, n_readings, .. } = self;
        let &Metal { t_m, t_coat, .. } = metal;
        let Some(k) = remaining::factor_on_scatter(n_readings) else {
            let Some(t_least) = self.t_least else {
                return Err(NotChecked::OutOfRange {
                    symbol: "n_readings",
                    what: "number of readings",
                    value: n_readings,
                    dimension: Dimension::Ratio,
                    allowed: "at least 3: take more, or give the least of them",
                });
            };
            step!(trace, Length, LEAST, "least reading: fewer than three tell nothing of the rest";
                t_low(t_least, t_coat) = t_least - t_coat);
            return Ok(t_low);
        };
        let what = "factor on the scatter, 5 % below";
        let k_n = trace.input("k_n", what, Dimension::Ratio, k, || {
            Provenance::Table("EN 1990:2002, Table D1 (from memory)".to_owned())
        });
        step!(trace, Length, FRACTILE, "5 % low of the metal"; t_low(t_m, k_n, s_t) = t_m - k_n * s_t);
        let Some(t_least) = self.t_least else { return Ok(t_low) };
        step!(trace, Length, LEAST, "not above the least reading";
            t_low(t_low, t_least, t_coat) = smaller(t_low, t_least - t_coat));
        Ok(t_low)
    }
}

/// Records and returns how fast a face is lost over a bare one.
fn face(symbol: &'static str, what: &'static str, kept: FaceState, trace: &mut Trace) -> f64 {
    trace.input(symbol, what, Dimension::Ratio, kept.share(), || {
        Provenance::Assumed(format!(
            "{}: a third sealed, twice in a crevice (common practice, no source)",
            kept.word()
        ))
    })
}

/// Records and returns the sound metal of today. No panic and no pass for pits shallower than the
/// mean loss: they are refused.
macro_rules! sound_metal {
    ($input:ident, $seen:ident, $trace:ident) => {{
        let seen = Seen::$seen($input, $trace)?;
        let t_new = $input.t_new($trace);
        let coat = $input.coat($trace);
        let metal = remaining::metal(t_new, seen.t_mean, coat, $trace);
        let t_low = seen.low(&metal, $trace)?;
        let p = $input.p($trace);
        if p < 1.0 {
            return Err(NotChecked::OutOfRange {
                symbol: "p",
                what: "deepest pit over the mean loss",
                value: p,
                dimension: Dimension::Ratio,
                allowed: "at least 1: the deepest pit is not shallower than the mean",
            });
        }
        remaining::sound(t_low, p, metal.loss, $trace)
    }};
}

/// Clauses about a measured wall, whichever way it was measured.
macro_rules! measured_wall {
    ($input:ident, $seen:ident, $strength:ident = $thickness:literal $strength_title:literal,
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
                let t_req = input.t_req(trace);
                let t_sound = sound_metal!(input, $seen, trace);
                let years = input.years(trace);
                if years > 50.0 {
                    return Err(NotChecked::OutOfRange {
                        symbol: "years",
                        what: "years the wall has to last",
                        value: years,
                        dimension: Dimension::Ratio,
                        allowed: "at most 50: inspect it before",
                    });
                }
                let r = if input.r.is_some() {
                    input.r(trace)?
                } else {
                    let what = "loss of a bare face in the first year";
                    trace.input("r", what, Dimension::Length, input.class.first_year(), || {
                        Provenance::Table(format!("ISO 9223:2012, {}", input.class.name()))
                    })
                };
                let c_out = face("c_out", "outer face over a bare one", input.outside, trace);
                let c_in = face("c_in", "inner face over a bare one", input.inside, trace);
                let d_years = remaining::years_over_first(years, trace);
                let lost = remaining::both_faces(r, d_years, c_out, c_in, trace);
                step!(trace, Length, LEFT, "what is left when the wall has done its years";
                    t_design(t_sound, lost) = positive(t_sound - lost));
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
                let t_sound = sound_metal!(input, $seen, trace);
                step!(trace, Length, WELD, "metal there is"; t_there(t_sound) = positive(t_sound));
                step!(trace, Length, WELD, "least sound metal"; t_weld() = 1.2 * MM);
                step!(trace, Ratio, WELD, "required over provided";
                    utilisation(t_weld, t_there) = t_weld / t_there);
                Checked::new(t_weld, t_there, Dimension::Length, utilisation)
            }
        }
    };
}

measured_wall!(
    OldWallInput,
    of_list,
    WallByReadings = "thickness of an old wall, by readings"
    "wall of an old rail by its readings, less coat, pits and rust to come",
    WeldableByReadings = "sound metal to weld on, by readings"
    "wall thick enough to weld on, by its readings"
);
measured_wall!(
    OldWallMeanInput,
    of_mean,
    WallByMean = "thickness of an old wall, by mean and scatter"
    "wall of an old rail by mean and scatter, less coat, pits and rust to come",
    WeldableByMean = "sound metal to weld on, by mean and scatter"
    "wall thick enough to weld on, by mean and scatter"
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
