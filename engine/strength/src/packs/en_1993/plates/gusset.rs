//! Triangular gussets.
//!
//! The section that counts is cut from the corner at right angles to the free edge, w = b sin φ.
//! Up to four routes are worked out; the least governs, and a note says which. For thin plates that
//! is the strut strip, often at a third of the plastic value.

use std::f64::consts::PI;

use fishplate_quantity::algebra::{larger, sqrt};
use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{GussetForce, GussetInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::members::reduction;
use crate::packs::en_1993::{MPA, e_of_steel, general};

/// A triangular gusset: plastic section, first yield at the free edge, strut strip, and the
/// polynomial of tests where it holds.
pub(super) struct Gusset;

const STRIP: Source = Source::new(
    "Shakya and Vinnakota, Design Aid for Triangular Bracket Plates, AISC Engineering Journal",
    "Eq. (1)",
);
const SECTION: Source = Source::mechanics("rectangle under axial force and bending");

impl Clause<GussetInput> for Gusset {
    fn reference(&self) -> Source {
        STRIP
    }

    fn title(&self) -> &'static str {
        "triangular gusset"
    }

    fn applies(&self, input: &GussetInput) -> Applicability {
        let ratio = input.a / input.b;
        Applicability::within((0.5..=2.0).contains(&ratio), || {
            format!("the legs are {ratio:.2} to 1, the strip model was tried from 0.5 to 2")
        })
    }

    fn formula(
        &self,
        input: &GussetInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ed = input.f_ed(trace);
        let a = input.a(trace);
        let b = input.b(trace);
        let s = input.s(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Ratio, SECTION, "square of the sine of the free-edge angle";
            sin_sq(a, b) = sq(a) / (sq(a) + sq(b)));
        step!(trace, Length, SECTION, "distance of the force from the middle of the leg, outward";
            e(s, b) = positive(s - b / 2.0));
        step!(trace, Force, SECTION, "plastic section";
            p_plastic(f_y, t, sin_sq, e, b, gamma_m0) =
            f_y * t * sin_sq * (sqrt(4.0 * sq(e) + sq(b)) - 2.0 * e) / gamma_m0);
        step!(trace, Force, SECTION, "first yield at the free edge";
            p_edge(f_y, b, t, sin_sq, e, gamma_m0) =
            f_y * b * t * sin_sq / (1.0 + 6.0 * e / b) / gamma_m0);
        step!(trace, Force, Source::mechanics("equilibrium at the corner"),
            "force along the loaded leg, to be carried where it meets the support";
            tie(f_ed, a, b) = f_ed * b / a);
        let p_rd = match input.force {
            GussetForce::Pulls => {
                governing(trace, &[("plastic section", p_plastic), ("first yield", p_edge)]);
                step!(trace, Force, SECTION, "resistance when pulled";
                    p_rd(p_plastic, p_edge) = smaller(p_plastic, p_edge));
                p_rd
            }
            GussetForce::Presses => {
                let gamma_m1 = factors.gamma_m1(trace);
                let what = "buckling length of the strip over its length";
                let k_strip = trace.input("k_strip", what, Dimension::Ratio, 0.65, || {
                    Provenance::Table(format!("{}, ends clamped", STRIP.document))
                });
                let what = "imperfection factor, curve c for solid sections";
                let alpha = trace.input("alpha", what, Dimension::Ratio, 0.49, || {
                    Provenance::Table("EN 1993-1-1:2005, Tables 6.1 and 6.2".to_owned())
                });
                step!(trace, Ratio, STRIP, "slenderness of the strip at the free edge";
                    slender(k_strip, a, b, t, sin_sq) =
                    sqrt(12.0) * k_strip * (a / b + b / a) * b * sqrt(sin_sq) / t);
                let e_steel = e_of_steel(trace);
                step!(trace, Ratio, STRIP, "relative slenderness of the strip";
                    lambda(slender, e_steel, f_y) = slender / (PI * sqrt(e_steel / f_y)));
                reduction!(trace, STRIP, phi, chi(lambda, alpha));
                step!(trace, Force, STRIP, "strut strip at the free edge";
                    p_strip(chi, p_edge, gamma_m0, gamma_m1) = chi * p_edge * gamma_m0 / gamma_m1);
                step!(trace, Force, STRIP, "least of plastic section, first yield and strip";
                    p_three(p_plastic, p_edge, p_strip) =
                    smaller(smaller(p_plastic, p_edge), p_strip));
                let routes = [
                    ("plastic section", p_plastic),
                    ("first yield at the free edge", p_edge),
                    ("strut strip", p_strip),
                ];
                if polynomial_holds(input) {
                    step!(trace, Force, TESTED, "polynomial of tests";
                        p_z(a, b, t, f_y, gamma_m0) =
                        (1.39 - 2.20 * (b / a) + 1.27 * sq(b / a) - 0.25 * cube(b / a))
                            * b * t * f_y / gamma_m0);
                    let [plastic, edge, strip] = routes;
                    governing(trace, &[plastic, edge, strip, ("polynomial of tests", p_z)]);
                    step!(trace, Force, STRIP, "resistance when pressed, the least of four routes";
                        p_rd(p_three, p_z) = smaller(p_three, p_z));
                    p_rd
                } else {
                    trace.note(|| {
                        "the polynomial of tests does not count: the legs, the place of the force or \
                         the thickness are out of its range"
                            .to_owned()
                    });
                    governing(trace, &routes);
                    step!(trace, Force, STRIP, "resistance when pressed"; p_rd(p_three) = p_three);
                    p_rd
                }
            }
        };
        step!(trace, Ratio, STRIP, "utilisation"; utilisation(f_ed, p_rd) = f_ed / p_rd);
        Checked::new(f_ed, p_rd, Dimension::Force, utilisation)
    }
}

const TESTED: Source = Source::new(
    "Salmon and Johnson, Steel Structures, triangular bracket plates, from memory",
    "coefficient z",
);

/// Whether the polynomial holds: legs 0.5 to 2 to one, force at most 0.6 of the loaded leg from the
/// corner, and thick enough not to buckle, b/t up to 250 / √(fy in ksi), times b/a above one.
fn polynomial_holds(input: &GussetInput) -> bool {
    const KSI: f64 = 6.894_757_293_168e6;
    let &GussetInput { a, b, s, t, f_y, .. } = input;
    let ratio = b / a;
    let thin = b / t <= 250.0 * larger(1.0, ratio) / sqrt(f_y / KSI);
    (0.5..=2.0).contains(&ratio) && s <= 0.6 * b * (1.0 + 1e-9) && thin
}

/// Notes which route gives the least.
fn governing(trace: &mut Trace, routes: &[(&str, f64)]) {
    trace.note(|| {
        let least = routes.iter().reduce(|a, b| if b.1 < a.1 { b } else { a });
        format!("the least route is: {}", least.map_or("none", |route| route.0))
    });
}

/// A free edge so short that it needs no proof of its strip: the width behind it as an outstand of
/// class 3.
pub(super) struct FreeEdge;

const EDGE: Source = general("Table 5.2, the free edge of a gusset as an outstand");

impl Clause<GussetInput> for FreeEdge {
    fn reference(&self) -> Source {
        EDGE
    }

    fn title(&self) -> &'static str {
        "free edge of a gusset, width over thickness"
    }

    fn short(&self) -> &'static str {
        "free edge"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &GussetInput) -> Applicability {
        Applicability::only_if(input.force == GussetForce::Presses, "the free edge is pulled")
    }

    fn formula(
        &self,
        input: &GussetInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let a = input.a(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        step!(trace, Length, SECTION, "width from the corner to the free edge";
            w(a, b) = a * b / hypot(a, b));
        step!(trace, Ratio, EDGE, "width over thickness"; slender(w, t) = w / t);
        step!(trace, Ratio, EDGE, "its limit"; limit(f_y) = 14.0 * sqrt(235.0 * MPA / f_y));
        step!(trace, Ratio, EDGE, "utilisation"; utilisation(slender, limit) = slender / limit);
        Checked::new(slender, limit, Dimension::Ratio, utilisation)
    }
}
