//! Bearing of a ply on the bolt, and the bolt tearing out of it.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{BoltInput, Hole, HoleStretch};
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, NotChecked};
use crate::packs::american::aisc;
use crate::packs::american::available::available;
use crate::packs::american::factors::BOLTS;

use super::shear::shear_demand;

/// Bearing and tear-out of one ply at one bolt.
pub(super) struct Bearing;

const BEARING: Source = aisc("J3.10");
const SINK: Source =
    Source::new("AISC Specification for structural steel buildings 1989", "J3, from memory");
/// The clear distance along an inclined force to an edge is never below that square to the edge over
/// the cosine; so the ellipse stays below the strength in the direction of the force.
const INCLINED: Source = Source::mechanics("strengths along two axes as the sides of an ellipse");

impl Clause<BoltInput> for Bearing {
    fn reference(&self) -> Source {
        BEARING
    }

    fn title(&self) -> &'static str {
        "bearing of the ply on the bolt, and tear-out"
    }

    fn short(&self) -> &'static str {
        "bearing"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Bearing
    }

    fn applies(&self, _: &BoltInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = shear_demand(input, trace);
        let ply = Ply {
            d_0: input.d_0(trace),
            t_b: bearing_thickness(input, trace)?,
            f_u: input.f_u(trace),
            k_tear: table(trace, "k_tear", "factor of tear-out", coefficients(input).0),
        };
        let Ply { t_b, f_u, .. } = ply;
        let d = input.d(trace);
        let k_bear = table(trace, "k_bear", "factor of bearing", coefficients(input).1);
        step!(trace, Force, BEARING, "nominal bearing strength, far from edges";
            r_bear(k_bear, d, t_b, f_u) = k_bear * d * t_b * f_u);
        let l_c_1 = clear_1(input, &ply, trace)?;
        let l_c_2 = clear_2(input, &ply, trace)?;
        let Ply { k_tear, .. } = ply;
        let r_n_1 = match l_c_1 {
            Some(l_c_1) => {
                step!(trace, Force, BEARING, "nominal strength along axis 1, tear-out or bearing";
                    r_n_1(k_tear, l_c_1, t_b, f_u, r_bear) =
                    smaller(k_tear * l_c_1 * t_b * f_u, r_bear));
                r_n_1
            }
            None => {
                step!(trace, Force, BEARING, "nominal strength along axis 1"; r_n_1(r_bear) = r_bear);
                r_n_1
            }
        };
        let r_n_2 = match l_c_2 {
            Some(l_c_2) => {
                step!(trace, Force, BEARING, "nominal strength along axis 2, tear-out or bearing";
                    r_n_2(k_tear, l_c_2, t_b, f_u, r_bear) =
                    smaller(k_tear * l_c_2 * t_b * f_u, r_bear));
                r_n_2
            }
            None => {
                step!(trace, Force, BEARING, "nominal strength along axis 2"; r_n_2(r_bear) = r_bear);
                r_n_2
            }
        };
        let (f_1_ed, f_2_ed) = (input.f_1_ed, input.f_2_ed);
        step!(trace, Force, INCLINED, "nominal strength in the direction of the force";
        r_nb(f_1_ed, f_2_ed, f_v_ed, r_n_1, r_n_2) =
        if f_v_ed > 0.0 {
            f_v_ed / sqrt(sq(f_1_ed / r_n_1) + sq(f_2_ed / r_n_2))
        } else {
            smaller(r_n_1, r_n_2)
        });
        available!(trace, factors, phi_bolt or omega_bolt of BOLTS;
            Force, BEARING, "available strength in bearing"; r_b(r_nb));
        step!(trace, Ratio, BEARING, "utilisation"; utilisation(f_v_ed, r_b) = f_v_ed / r_b);
        trace.note(|| {
            let what = if r_nb < 0.999_999 * r_bear { "tear-out" } else { "bearing" };
            format!("{what} governs")
        });
        Checked::new(f_v_ed, r_b, Dimension::Force, utilisation)
    }
}

/// What both axes share.
struct Ply {
    d_0: f64,
    t_b: f64,
    f_u: f64,
    k_tear: f64,
}

/// The factors of tear-out and of bearing.
fn coefficients(input: &BoltInput) -> (f64, f64) {
    match (input.hole, input.stretch) {
        (Hole::LongSlotAcross, _) => (1.0, 2.0),
        (_, HoleStretch::Matters) => (1.2, 2.4),
        (_, HoleStretch::Allowed) => (1.5, 3.0),
    }
}

fn table(trace: &mut Trace, symbol: &'static str, what: &'static str, value: f64) -> f64 {
    trace.input(symbol, what, Dimension::Ratio, value, || {
        Provenance::Table("AISC 360, J3.10".to_owned())
    })
}

/// Half the depth of a countersink does not bear.
fn bearing_thickness(input: &BoltInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let t = input.t(trace);
    if input.sink.is_none() {
        step!(trace, Length, BEARING, "thickness that bears"; t_b(t) = t);
        return Ok(t_b);
    }
    let sink = input.sink(trace)?;
    step!(trace, Length, SINK, "thickness that bears, less half the countersink";
        t_b(t, sink) = t - 0.5 * sink);
    if t_b > 0.0 {
        return Ok(t_b);
    }
    Err(NotChecked::OutOfRange {
        symbol: "sink",
        what: "depth of the countersink in the ply",
        value: sink,
        dimension: Dimension::Length,
        allowed: "less than twice the thickness of the ply",
    })
}

/// The clear distance along one axis: from the edge of the hole to the edge of the ply, or to the
/// next hole. In a slot along the force `d_0` is its length.
macro_rules! clear_along {
    ($function:ident, $l_c:ident, $e:ident, $p:ident, $axis:literal) => {
        fn $function(
            input: &BoltInput,
            ply: &Ply,
            trace: &mut Trace,
        ) -> Result<Option<f64>, NotChecked> {
            let &Ply { d_0, .. } = ply;
            let $l_c = match (input.$e.is_some(), input.$p.is_some()) {
                (false, false) => return Ok(None),
                (true, false) => {
                    let $e = input.$e(trace)?;
                    step!(trace, Length, BEARING, concat!("clear distance along axis ", $axis);
                        $l_c($e, d_0) = $e - 0.5 * d_0);
                    $l_c
                }
                (false, true) => {
                    let $p = input.$p(trace)?;
                    step!(trace, Length, BEARING, concat!("clear distance along axis ", $axis);
                        $l_c($p, d_0) = $p - d_0);
                    $l_c
                }
                (true, true) => {
                    let $e = input.$e(trace)?;
                    let $p = input.$p(trace)?;
                    step!(trace, Length, BEARING,
                        concat!("least clear distance along axis ", $axis);
                        $l_c($e, $p, d_0) = smaller($e - 0.5 * d_0, $p - d_0));
                    $l_c
                }
            };
            if $l_c > 0.0 {
                return Ok(Some($l_c));
            }
            Err(NotChecked::OutOfRange {
                symbol: stringify!($l_c),
                what: concat!("clear distance along axis ", $axis),
                value: $l_c,
                dimension: Dimension::Length,
                allowed: "above zero: the hole reaches the edge or the next hole",
            })
        }
    };
}

clear_along!(clear_1, l_c_1, e_1, p_1, "1");
clear_along!(clear_2, l_c_2, e_2, p_2, "2");
