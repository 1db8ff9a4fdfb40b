//! Triangular gussets.
//!
//! The section that counts is cut from the corner at right angles to the free edge, w = b sin φ. AISC
//! 360 has no rule for it. The strut strip of Shakya and Vinnakota is worked out beside the
//! plastic section and first yield, and the least governs; the older polynomial, which knows
//! no buckling and says more for thin plates, has a row of its own.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{GussetForce, GussetInput};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::{BENDING, COMPRESSION};
use crate::packs::american::members::column_curve;
use crate::packs::american::{KSI, e_of_steel};

const STRIP: Source = Source::new(
    "Shakya and Vinnakota, Design Aid for Triangular Bracket Plates, AISC Engineering Journal",
    "Eq. (1) with AISC 360 E3",
);
const SECTION: Source = Source::mechanics("rectangle under axial force and bending");
const POLYNOMIAL: Source =
    Source::new("Salmon and Johnson, Steel Structures", "triangular bracket plates, from memory");

/// A triangular gusset: plastic section, first yield at the free edge, strut strip.
pub(super) struct Strip;

impl Clause<GussetInput> for Strip {
    fn reference(&self) -> Source {
        STRIP
    }

    fn title(&self) -> &'static str {
        "triangular gusset, the least of section and strut strip"
    }

    fn short(&self) -> &'static str {
        "gusset, strut strip"
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
        step!(trace, Ratio, SECTION, "square of the sine of the free-edge angle";
            sin_sq(a, b) = sq(a) / (sq(a) + sq(b)));
        step!(trace, Length, SECTION, "distance of the force from the middle of the leg, outward";
            e(s, b) = positive(s - b / 2.0));
        step!(trace, Force, SECTION, "plastic section";
            p_plastic(f_y, t, sin_sq, e, b) =
            f_y * t * sin_sq * (sqrt(4.0 * sq(e) + sq(b)) - 2.0 * e));
        step!(trace, Force, SECTION, "first yield at the free edge";
            p_edge(f_y, b, t, sin_sq, e) = f_y * b * t * sin_sq / (1.0 + 6.0 * e / b));
        step!(trace, Force, SECTION, "the smaller"; p_section(p_plastic, p_edge) =
            smaller(p_plastic, p_edge));
        available!(trace, factors, phi_b or omega_b of BENDING;
            Force, SECTION, "available by the section"; p_c_section(p_section));
        let p_c = match input.force {
            GussetForce::Pulls => {
                step!(trace, Force, SECTION, "available when pulled"; p_c(p_c_section) = p_c_section);
                p_c
            }
            GussetForce::Presses => {
                let what = "buckling length of the strip over its length";
                let k_strip = trace.input("k_strip", what, Dimension::Ratio, 0.65, || {
                    Provenance::Table(format!("{}, ends clamped", STRIP.document))
                });
                step!(trace, Ratio, STRIP, "buckling length over radius of gyration, free edge";
                    slender(k_strip, a, b, t, sin_sq) =
                    sqrt(12.0) * k_strip * (a / b + b / a) * b * sqrt(sin_sq) / t);
                let e_steel = e_of_steel(trace);
                step!(trace, Stress, STRIP, "elastic buckling stress of the strip";
                    f_e(slender, e_steel) = PI * PI * e_steel / sq(slender));
                column_curve!(trace, Stress, f_cr(f_y, f_e));
                step!(trace, Force, STRIP, "first buckling of the strip at the free edge";
                    p_strip(p_edge, f_cr, f_y) = p_edge * f_cr / f_y);
                available!(trace, factors, phi_c or omega_c of COMPRESSION;
                    Force, STRIP, "available by the strip"; p_c_strip(p_strip));
                step!(trace, Force, STRIP, "available, the smaller of section and strip";
                    p_c(p_c_section, p_c_strip) = smaller(p_c_section, p_c_strip));
                trace.note(|| {
                    let governs = if p_c_strip < p_c_section { "strut strip" } else { "section" };
                    format!("the {governs} governs")
                });
                p_c
            }
        };
        step!(trace, Ratio, STRIP, "utilisation"; utilisation(f_ed, p_c) = f_ed / p_c);
        Checked::new(f_ed, p_c, Dimension::Force, utilisation)
    }
}

/// A triangular gusset by a polynomial in the ratio of its legs, for a load about 0.6 of the leg from
/// the corner and a plate that yields before it buckles.
pub(super) struct Polynomial;

impl Clause<GussetInput> for Polynomial {
    fn reference(&self) -> Source {
        POLYNOMIAL
    }

    fn title(&self) -> &'static str {
        "triangular gusset by the polynomial for thick plates"
    }

    fn short(&self) -> &'static str {
        "gusset, polynomial"
    }

    fn applies(&self, input: &GussetInput) -> Applicability {
        let ratio = input.b / input.a;
        if !(0.5..=2.0).contains(&ratio) {
            return Applicability::DoesNotApply(format!(
                "the legs are {ratio:.2} to 1, the polynomial is for 0.5 to 2"
            ));
        }
        let limit = 250.0 / (input.f_y / KSI).sqrt() * if ratio > 1.0 { ratio } else { 1.0 };
        let slender = input.b / input.t;
        Applicability::within(slender <= limit && input.s <= 0.6 * input.b, || {
            format!(
                "the leg is {slender:.0} times as long as the plate is thick against {limit:.0}, or \
                 the load stands off by more than 0.6 of it"
            )
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
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        step!(trace, Ratio, POLYNOMIAL, "loaded leg over leg on the support"; r(b, a) = b / a);
        step!(trace, Ratio, POLYNOMIAL, "share of the yield force of the leg";
            z(r) = 1.39 - 2.20 * r + 1.27 * sq(r) - 0.25 * cube(r));
        step!(trace, Force, POLYNOMIAL, "nominal strength"; p_n(z, f_y, b, t) = z * f_y * b * t);
        available!(trace, factors, phi_b or omega_b of BENDING;
            Force, POLYNOMIAL, "available strength"; p_c(p_n));
        step!(trace, Ratio, POLYNOMIAL, "utilisation"; utilisation(f_ed, p_c) = f_ed / p_c);
        Checked::new(f_ed, p_c, Dimension::Force, utilisation)
    }
}
