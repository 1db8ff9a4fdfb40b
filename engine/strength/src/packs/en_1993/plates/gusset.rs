//! Triangular gussets.
//!
//! The section that counts is cut from the corner at right angles to the free edge, w = b sin φ.
//! Three routes are worked out; the least governs. For thin plates that is the strut strip, often
//! at a third of the plastic value.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{GussetForce, GussetInput};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::E;
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::members::reduction;

/// A triangular gusset, plastic section, first yield at the free edge, strut strip.
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
        let p_rd = match input.force {
            GussetForce::Pulls => {
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
                step!(trace, Ratio, STRIP, "relative slenderness of the strip";
                    lambda(slender, f_y) = slender / (PI * sqrt(E / f_y)));
                reduction!(trace, STRIP, phi, chi(lambda, alpha));
                step!(trace, Force, STRIP, "strut strip at the free edge";
                    p_strip(chi, p_edge, gamma_m0, gamma_m1) = chi * p_edge * gamma_m0 / gamma_m1);
                step!(trace, Force, STRIP, "resistance when pressed, the least of three routes";
                    p_rd(p_plastic, p_edge, p_strip) =
                    smaller(smaller(p_plastic, p_edge), p_strip));
                p_rd
            }
        };
        step!(trace, Ratio, STRIP, "utilisation"; utilisation(f_ed, p_rd) = f_ed / p_rd);
        Checked::new(f_ed, p_rd, Dimension::Force, utilisation)
    }
}
