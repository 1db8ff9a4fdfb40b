//! A thin box in compression and bending.

use std::f64::consts::PI;

use fishplate_quantity::algebra::abs;
use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::ThinBoxInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::aisi;
use crate::packs::american::available::available;
use crate::packs::american::factors::{THIN_BENDING, THIN_COMPRESSION};

use super::winter;

const BOX: Source = aisi("E3, F3 and H1.2 (C4, C3.1.1 and C5.2 up to 2012), box");
const WIDTH: Source = aisi("Appendix 1, 1.1 (B2.1 up to 2012)");
const WEB: Source = aisi("Appendix 1, 1.1.2 (B2.3 up to 2012)");

/// A thin box that does not buckle as a member: walls between midlines, sharp corners, the
/// neutral axis iterated to rest, forces and moments added.
pub(super) struct ThinBox;

impl Clause<ThinBoxInput> for ThinBox {
    fn reference(&self) -> Source {
        BOX
    }

    fn title(&self) -> &'static str {
        "thin box whose walls buckle, effective widths"
    }

    fn short(&self) -> &'static str {
        "thin box"
    }

    fn applies(&self, input: &ThinBoxInput) -> Applicability {
        Applicability::within(input.h <= 200.0 * input.t && input.b <= 500.0 * input.t, || {
            "webs end at 200 and flanges at 500 times their thickness".to_owned()
        })
    }

    fn formula(
        &self,
        input: &ThinBoxInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let m_ed = input.m_ed(trace);
        let h = input.h(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        step!(trace, Ratio, WIDTH, "buckling factor of even compression"; k_n() = 4.0);
        winter!(trace, WIDTH, "flange"; f_cr_b, lambda_b, rho_b(b, t, f_y, k_n));
        winter!(trace, WIDTH, "web in even compression"; f_cr_h, lambda_h, rho_h(h, t, f_y, k_n));
        step!(trace, Area, BOX, "effective area in compression";
            a_e(rho_b, b, rho_h, h, t) = 2.0 * t * (rho_b * b + rho_h * h));
        step!(trace, Length, BOX, "effective width of the compressed flange"; b_f(rho_b, b) = rho_b * b);
        let s_e = bending(Bent { h, b, t, f_y, b_f }, trace)?;
        step!(trace, Force, BOX, "nominal strength in compression"; p_n(a_e, f_y) = a_e * f_y);
        available!(trace, factors, phi_tc or omega_tc of THIN_COMPRESSION;
            Force, BOX, "available strength in compression"; p_c(p_n));
        step!(trace, Moment, BOX, "nominal moment"; m_n(s_e, f_y) = s_e * f_y);
        available!(trace, factors, phi_tb or omega_tb of THIN_BENDING;
            Moment, BOX, "available moment"; m_c(m_n));
        step!(trace, Ratio, BOX, "utilisation";
            utilisation(n_ed, p_c, m_ed, m_c) = n_ed / p_c + m_ed / m_c);
        if m_ed <= 0.0 {
            Checked::new(n_ed, p_c, Dimension::Force, utilisation)
        } else if n_ed <= 0.0 {
            Checked::new(m_ed, m_c, Dimension::Moment, utilisation)
        } else {
            Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
        }
    }
}

#[derive(Clone, Copy)]
struct Bent {
    h: f64,
    b: f64,
    t: f64,
    f_y: f64,
    b_f: f64,
}

/// Records and returns the effective section modulus at the compressed flange.
fn bending(section: Bent, trace: &mut Trace) -> Result<f64, NotChecked> {
    let Bent { h, b, b_f, .. } = section;
    // Full webs to start with: the centroid of both flanges and both webs.
    let mut z_na = (b_f * h + h * h) / (b_f + b + 2.0 * h);
    let mut passes = 0;
    loop {
        let (next, _) = one_pass(section, z_na, &mut Trace::off());
        passes += 1;
        let rest = abs(next - z_na) <= 1e-13 * h;
        z_na = next;
        if rest {
            break;
        }
        if passes == 500 {
            let reason = "the neutral axis of the effective section does not come to rest";
            return Err(NotChecked::NoRule { reason: reason.to_owned() });
        }
    }
    let what = "neutral axis of the effective section, from the pulled flange";
    let z_na = trace.input("z_na", what, Dimension::Length, z_na, || {
        Provenance::Solved(format!(
            "centroid of the effective section, at rest after {passes} passes"
        ))
    });
    let (_, s_e) = one_pass(section, z_na, trace);
    Ok(s_e)
}

/// Effective webs for the neutral axis `z_na`; the centroid and section modulus that follow.
fn one_pass(section: Bent, z_na: f64, trace: &mut Trace) -> (f64, f64) {
    let Bent { h, b, t, f_y, b_f } = section;
    step!(trace, Ratio, WEB, "tension over compression at the edges of the web, size";
        psi(z_na, h) = z_na / (h - z_na));
    step!(trace, Ratio, WEB, "buckling factor of the bent web";
        k_m(psi) = 4.0 + 2.0 * cube(1.0 + psi) + 2.0 * (1.0 + psi));
    winter!(trace, WEB, "bent web"; f_cr_w, lambda_w, rho_w(h, t, f_y, k_m));
    step!(trace, Length, WEB, "effective part of the web at the compressed flange";
        b_1(rho_w, h, psi) = rho_w * h / (3.0 + psi));
    step!(trace, Length, WEB, "effective part of the web at the neutral axis";
        b_2(rho_w, h, b, psi, b_1) =
        if h > 4.0 * b { positive(rho_w * h / (1.0 + psi) - b_1) }
        else if psi > 0.236 { rho_w * h / 2.0 }
        else { rho_w * h - b_1 });
    step!(trace, Length, WEB, "part of the web that drops out";
        gap(h, z_na, b_1, b_2) = positive(h - z_na - b_1 - b_2));
    step!(trace, Length, WEB, "where it ends, from the pulled flange"; top(h, b_1) = h - b_1);
    step!(trace, Area, BOX, "effective area in bending";
        a_m(b_f, b, t, h, gap) = t * (b_f + b + 2.0 * (h - gap)));
    step!(trace, Length, BOX, "centroid of the effective section, from the pulled flange";
        z_c(b_f, t, h, gap, top, a_m) =
        t * (b_f * h + sq(h) - 2.0 * gap * (top - gap / 2.0)) / a_m);
    step!(trace, SecondMoment, BOX, "second moment of the effective section";
        i_e(b_f, b, t, h, gap, top, z_c) =
        t * (b_f * sq(h - z_c) + b * sq(z_c)
            + 2.0 * (cube(h) / 12.0 + h * sq(h / 2.0 - z_c)
                - cube(gap) / 12.0 - gap * sq(top - gap / 2.0 - z_c))));
    step!(trace, SectionModulus, BOX, "effective section modulus, the smaller of both flanges";
        s_e(i_e, h, z_c) = i_e / larger(h - z_c, z_c));
    (z_c, s_e)
}
