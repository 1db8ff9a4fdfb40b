//! Single angles as struts joined by one leg: E5.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{AngleStrutInput, Shape};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::COMPRESSION;
use crate::packs::american::{aisc, e_of_steel};

use super::compression::column_curve;
use super::slender::{angle_leg, effective_width, walls_fit};

const E5: Source = aisc("E5(a)");

/// One angle as a strut, joined at both ends through the same leg by a weld or two bolts, in the
/// way of a web member of a plane truss: its eccentricity is met by a longer equivalent length.
pub(super) struct AngleStrut;

impl Clause<AngleStrutInput> for AngleStrut {
    fn reference(&self) -> Source {
        E5
    }

    fn title(&self) -> &'static str {
        "one angle as a strut, joined by one leg"
    }

    fn applies(&self, input: &AngleStrutInput) -> Applicability {
        let ratio = legs(input);
        Applicability::within(ratio < 1.7, || {
            format!("the legs are {ratio:.2} to 1, E5 reaches below 1.7")
        })
    }

    fn formula(
        &self,
        input: &AngleStrutInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let l = input.l(trace);
        let a = input.a(trace);
        let i_y = input.i_y(trace);
        let i_v = input.i_v(trace);
        let f_y = input.f_y(trace);
        let h = input.h(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        walls_fit(Shape::Angle, a, [h, b, t])?;
        step!(trace, Ratio, E5, "length over radius of gyration about the axis along the joined leg";
            slender_y(l, i_y, a) = l / sqrt(i_y / a));
        step!(trace, Ratio, E5, "equivalent slenderness, joined by the longer leg";
            slender_e(slender_y) =
            if slender_y <= 80.0 { 72.0 + 0.75 * slender_y } else { 32.0 + 1.25 * slender_y });
        let equal = (input.h - input.b).abs() <= 1e-6 * input.h;
        let slender = if equal {
            step!(trace, Ratio, E5, "equivalent slenderness, equal legs"; slender(slender_e) = slender_e);
            slender
        } else {
            step!(trace, Ratio, E5, "equivalent slenderness, joined by the shorter leg";
                slender_b(slender_e, h, b, l, i_v, a) =
                larger(slender_e + 4.0 * (sq(larger(h, b) / smaller(h, b)) - 1.0),
                    0.95 * l / sqrt(i_v / a)));
            if input.b_joined.is_some() {
                let b_joined = input.b_joined(trace)?;
                step!(trace, Ratio, E5, "equivalent slenderness, by the leg that is joined";
                    slender(b_joined, h, b, slender_e, slender_b) =
                    if b_joined > 0.5 * (h + b) { slender_e } else { slender_b });
                slender
            } else {
                step!(trace, Ratio, E5, "equivalent slenderness, the joined leg not given: the larger";
                    slender(slender_e, slender_b) = larger(slender_e, slender_b));
                slender
            }
        };
        if slender > 200.0 {
            return Err(NotChecked::OutOfRange {
                symbol: "l",
                what: "system length",
                value: l,
                dimension: Dimension::Length,
                allowed: "what keeps the equivalent slenderness of E5 at 200 or below",
            });
        }
        let e_steel = e_of_steel(trace);
        step!(trace, Stress, E5, "elastic buckling stress";
            f_e(slender, e_steel) = PI * PI * e_steel / sq(slender));
        let p_n = if factors.edition().year >= 2016 {
            column_curve!(trace, Stress, f_cr(f_y, f_e));
            effective_width!(trace, 0.45, 0.22, "longer leg"; f_el_h, h_e(h, t, f_y, f_cr));
            effective_width!(trace, 0.45, 0.22, "shorter leg"; f_el_b, b_e(b, t, f_y, f_cr));
            step!(trace, Area, aisc("E7"), "effective area";
                a_e(a, h, h_e, b, b_e, t) = positive(a - (h - h_e) * t - (b - b_e) * t));
            step!(trace, Force, E5, "nominal strength"; p_n(f_cr, a_e) = f_cr * a_e);
            p_n
        } else {
            step!(trace, Ratio, aisc("Table B4.1a"), "slenderness of the longer leg";
                lambda(h, b, t) = larger(h, b) / t);
            angle_leg!(trace, q(lambda, f_y));
            step!(trace, Stress, aisc("E7"), "yield strength that the legs leave";
                f_q(q, f_y) = q * f_y);
            column_curve!(trace, Stress, f_cr(f_q, f_e));
            step!(trace, Force, E5, "nominal strength"; p_n(f_cr, a) = f_cr * a);
            p_n
        };
        available!(trace, factors, phi_c or omega_c of COMPRESSION;
            Force, aisc("E1"), "available strength in compression"; p_c(p_n));
        step!(trace, Ratio, E5, "utilisation"; utilisation(n_ed, p_c) = n_ed / p_c);
        Checked::new(n_ed, p_c, Dimension::Force, utilisation)
    }
}

/// The longer leg over the shorter one.
fn legs(input: &AngleStrutInput) -> f64 {
    if input.h >= input.b { input.h / input.b } else { input.b / input.h }
}
