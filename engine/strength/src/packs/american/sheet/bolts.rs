//! Bolts in sheet.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{BoltInput, HoleStretch};
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::bolts::shear_demand;
use crate::packs::american::factors::{SHEET_BEARING, SHEET_EDGE, SHEET_RUPTURE, SHEET_STRETCH};
use crate::packs::american::{IN, aisi, since};

use super::is_sheet;

/// Inside the range of thickness of the bearing factors.
fn bolted_sheet(input: &BoltInput) -> Applicability {
    match is_sheet(input.t, None) {
        Applicability::Applies => Applicability::within(input.t >= 0.024 * IN, || {
            "the bearing factors of AISI S100 begin at 0.024 in".to_owned()
        }),
        other => other,
    }
}

/// Bearing where the stretch of the hole does not matter.
pub(in crate::packs::american) struct BearingSheet;

const BEARING: Source = aisi("J3.3.1");

impl Clause<BoltInput> for BearingSheet {
    fn reference(&self) -> Source {
        BEARING
    }

    fn title(&self) -> &'static str {
        "bearing of sheet on the bolt"
    }

    fn short(&self) -> &'static str {
        "bearing of sheet"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Bearing
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        bolted_sheet(input)
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = shear_demand(input, trace);
        let d = input.d(trace);
        let t = input.t(trace);
        let f_u = input.f_u(trace);
        step!(trace, Ratio, BEARING, "bearing factor";
        c_b(d, t) = if d / t < 10.0 {
            3.0
        } else if d / t <= 22.0 {
            4.0 - 0.1 * d / t
        } else {
            1.8
        });
        let m_f = modification(input, trace)?;
        step!(trace, Force, BEARING, "nominal bearing strength";
            p_n(c_b, m_f, d, t, f_u) = c_b * m_f * d * t * f_u);
        available!(trace, factors, phi_bear or omega_bear of SHEET_BEARING;
            Force, BEARING, "available bearing strength"; p_a(p_n));
        step!(trace, Ratio, BEARING, "utilisation"; utilisation(f_v_ed, p_a) = f_v_ed / p_a);
        Checked::new(f_v_ed, p_a, Dimension::Force, utilisation)
    }
}

/// The factor of the kind of connection; the least where nothing is said about washers.
fn modification(input: &BoltInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    const LARGEST: f64 = 1.33;
    let Some(value) = input.m_f else {
        let what = "factor of the kind of bearing, washers not known";
        return Ok(trace.input("m_f", what, Dimension::Ratio, 0.75, || {
            Provenance::Table("AISI S100, Table J3.3.1-2".to_owned())
        }));
    };
    if value > LARGEST {
        return Err(NotChecked::OutOfRange {
            symbol: "m_f",
            what: "factor of the kind of bearing",
            value,
            dimension: Dimension::Ratio,
            allowed: "at most 1.33, the inner sheet of a double lap",
        });
    }
    input.m_f(trace)
}

/// Bearing where the hole may not stretch by more than 1/4 in.
pub(in crate::packs::american) struct StretchSheet;

const STRETCH: Source = aisi("J3.3.2");

impl Clause<BoltInput> for StretchSheet {
    fn reference(&self) -> Source {
        STRETCH
    }

    fn title(&self) -> &'static str {
        "bearing of sheet on the bolt, stretch of the hole held small"
    }

    fn short(&self) -> &'static str {
        "stretch of sheet"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Bearing
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        match input.stretch {
            HoleStretch::Matters => bolted_sheet(input),
            HoleStretch::Allowed => Applicability::DoesNotApply("the hole may stretch".to_owned()),
        }
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = shear_demand(input, trace);
        let d = input.d(trace);
        let t = input.t(trace);
        let f_u = input.f_u(trace);
        step!(trace, Force, STRETCH, "nominal bearing strength";
            p_n(t, d, f_u) = (4.64 * t / IN + 1.53) * d * t * f_u);
        available!(trace, factors, phi_stretch or omega_stretch of SHEET_STRETCH;
            Force, STRETCH, "available bearing strength"; p_a(p_n));
        step!(trace, Ratio, STRETCH, "utilisation"; utilisation(f_v_ed, p_a) = f_v_ed / p_a);
        Checked::new(f_v_ed, p_a, Dimension::Force, utilisation)
    }
}

/// The bolt tearing out of the sheet toward the end or the edge. For a force along one axis only
/// that axis counts; for an inclined one both shares add as the sides of an ellipse.
pub(in crate::packs::american) struct TearOutSheet;

const TEAR: Source = aisi("J6.1");
const TEAR_2007: Source = Source::new("AISI S100-07", "E3.1");

impl Clause<BoltInput> for TearOutSheet {
    fn reference(&self) -> Source {
        TEAR
    }

    fn title(&self) -> &'static str {
        "bolt tearing out of sheet"
    }

    fn short(&self) -> &'static str {
        "tear-out of sheet"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Bearing
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        if input.e_1.is_none() && input.e_2.is_none() {
            return Applicability::DoesNotApply("there is no edge near the bolt".to_owned());
        }
        is_sheet(input.t, None)
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let sheet = Sheet {
            t: input.t(trace),
            f_u: input.f_u(trace),
            d_0: input.d_0(trace),
            of_2010: since(2010, factors, trace),
        };
        let u_1 = tear_1(input, &sheet, factors, trace)?;
        let u_2 = tear_2(input, &sheet, factors, trace)?;
        step!(trace, Ratio, TEAR, "utilisation, both axes together";
            utilisation(u_1, u_2) = hypot(u_1, u_2));
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}

/// What both axes share.
struct Sheet {
    t: f64,
    f_u: f64,
    d_0: f64,
    of_2010: bool,
}

/// Force over strength along one axis; nothing where there is no edge.
macro_rules! tear_along {
    ($function:ident, $f:ident, $e:ident, $e_net:ident, $p_n:ident, $p_a:ident, $u:ident) => {
        fn $function(
            input: &BoltInput,
            sheet: &Sheet,
            factors: &Factors,
            trace: &mut Trace,
        ) -> Result<f64, NotChecked> {
            let &Sheet { t, f_u, d_0, of_2010 } = sheet;
            if input.$e.is_none() {
                step!(trace, Ratio, TEAR, "no edge on this axis"; $u() = 0.0);
                return Ok($u);
            }
            let $f = input.$f(trace);
            let $e = input.$e(trace)?;
            step!(trace, Length, TEAR, "clear distance from the hole to the edge";
                $e_net($e, d_0) = $e - 0.5 * d_0);
            if $e_net <= 0.0 {
                return Err(NotChecked::OutOfRange {
                    symbol: stringify!($e),
                    what: "distance from the hole centre to the edge",
                    value: $e,
                    dimension: Dimension::Length,
                    allowed: "more than half the hole",
                });
            }
            let $p_a = if of_2010 {
                step!(trace, Force, TEAR, "nominal strength of both faces in shear";
                    $p_n(f_u, t, $e_net) = 0.6 * f_u * 2.0 * t * $e_net);
                available!(trace, factors, phi_tear or omega_tear of SHEET_RUPTURE;
                    Force, TEAR, "available strength of both faces"; $p_a($p_n));
                $p_a
            } else {
                step!(trace, Force, TEAR_2007, "nominal strength toward the edge";
                    $p_n(f_u, t, $e) = f_u * t * $e);
                available!(trace, factors, phi_edge or omega_edge of SHEET_EDGE;
                    Force, TEAR_2007, "available strength toward the edge"; $p_a($p_n));
                $p_a
            };
            step!(trace, Ratio, TEAR, "force over strength along this axis";
                $u($f, $p_a) = abs($f) / $p_a);
            Ok($u)
        }
    };
}

tear_along!(tear_1, f_1_ed, e_1, e_net_1, p_n_1, p_a_1, u_1);
tear_along!(tear_2, f_2_ed, e_2, e_net_2, p_n_2, p_a_2, u_2);

/// A least distance in sheet as a multiple of the bolt diameter.
macro_rules! least {
    ($(#[$doc:meta])* $name:ident, $source:ident = $place:literal, $title:literal / $short:literal,
     $one:ident or $other:ident as $distance:ident, $what:literal, $factor:literal) => {
        $(#[$doc])*
        pub(in crate::packs::american) struct $name;

        const $source: Source = aisi($place);

        impl Clause<BoltInput> for $name {
            fn reference(&self) -> Source {
                $source
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

            fn applies(&self, input: &BoltInput) -> Applicability {
                if input.$one.is_none() && input.$other.is_none() {
                    return Applicability::DoesNotApply("nothing is near the bolt".to_owned());
                }
                is_sheet(input.t, None)
            }

            fn formula(
                &self,
                input: &BoltInput,
                _: &Factors,
                trace: &mut Trace,
            ) -> Result<Checked, NotChecked> {
                let missing = NotChecked::Missing { symbol: stringify!($one), what: $what };
                let (symbol, least) = match (input.$one, input.$other) {
                    (Some(one), Some(other)) if other < one => (stringify!($other), other),
                    (Some(one), _) => (stringify!($one), one),
                    (None, Some(other)) => (stringify!($other), other),
                    (None, None) => return Err(missing),
                };
                let $distance =
                    trace.input(stringify!($distance), $what, Dimension::Length, least, || {
                        input.origins.of(symbol)
                    });
                let d = input.d(trace);
                step!(trace, Length, $source, "least distance"; required(d) = $factor * d);
                step!(trace, Ratio, $source, "required over provided";
                    utilisation(required, $distance) = required / $distance);
                Checked::new(required, $distance, Dimension::Length, utilisation)
            }
        }
    };
}

least!(
    /// Least distance of a bolt from the edge of sheet.
    SheetEdge, EDGE = "J3.2", "least edge distance in sheet" / "edge distance, sheet",
    e_1 or e_2 as e, "smaller of end and edge distance", 1.5
);
least!(
    /// Least spacing of bolts in sheet.
    SheetSpacing, SPACING = "J3.1", "least spacing in sheet" / "spacing, sheet",
    p_1 or p_2 as p, "smaller of the spacings", 3.0
);
