//! Walls that buckle before they yield: effective widths.
//!
//! Box and element by their flat widths between midlines, as EN 1993-1-3 counts them for sharp
//! corners. The neutral axis of a bent box is iterated to rest; EN 1993-1-5 would allow to stop
//! after one pass, which gives up to 3 % more.

use std::f64::consts::PI;

use fishplate_quantity::algebra::abs;
use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{ElementHeld, ElementInput, ThinBoxInput};
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MPA, e_of_steel, plated};

const WIDTH: Source = plated("4.4(2) and Table 4.1");

/// Slenderness and effective share of an internal element in compression, in two steps.
macro_rules! internal {
    ($trace:expr, $lambda:ident, $rho:ident($b:ident, $t:ident, $eps:ident, $k:ident, $psi:ident)) => {
        step!($trace, Ratio, WIDTH, "slenderness of the wall";
            $lambda($b, $t, $eps, $k) = $b / $t / (28.4 * $eps * sqrt($k)));
        step!($trace, Ratio, WIDTH, "effective share of the wall";
            $rho($lambda, $psi) =
            if $lambda <= 0.5 + sqrt(0.085 - 0.055 * $psi) {
                1.0
            } else {
                smaller(1.0, ($lambda - 0.055 * (3.0 + $psi)) / sq($lambda))
            });
    };
}

/// A thin box in compression and bending.
pub(super) struct ThinBox;

const BOX: Source = plated("4.3 and 4.4, box in compression and bending");

impl Clause<ThinBoxInput> for ThinBox {
    fn reference(&self) -> Source {
        BOX
    }

    fn title(&self) -> &'static str {
        "thin box whose walls buckle, effective widths"
    }

    fn applies(&self, input: &ThinBoxInput) -> Applicability {
        Applicability::within(input.h <= 500.0 * input.t && input.b <= 500.0 * input.t, || {
            "a wall is more than 500 times as wide as thick".to_owned()
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
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Ratio, WIDTH, "factor for the yield strength"; eps(f_y) = sqrt(235.0 * MPA / f_y));
        step!(trace, Ratio, WIDTH, "uniform compression"; psi_n() = 1.0);
        step!(trace, Ratio, WIDTH, "buckling factor of uniform compression"; k_n() = 4.0);
        internal!(trace, lambda_b, rho_b(b, t, eps, k_n, psi_n));
        internal!(trace, lambda_h, rho_h(h, t, eps, k_n, psi_n));
        step!(trace, Area, BOX, "effective area in compression";
            a_eff(rho_b, b, rho_h, h, t) = 2.0 * t * (rho_b * b + rho_h * h));
        step!(trace, Length, BOX, "effective width of the compressed flange";
            b_eff(rho_b, b) = rho_b * b);
        let w_eff = bending(BentBox { h, b, t, eps, b_eff }, trace)?;
        step!(trace, Force, BOX, "resistance in compression";
            n_c_rd(a_eff, f_y, gamma_m0) = a_eff * f_y / gamma_m0);
        step!(trace, Moment, BOX, "resistance in bending";
            m_c_rd(w_eff, f_y, gamma_m0) = w_eff * f_y / gamma_m0);
        step!(trace, Ratio, BOX, "utilisation";
            utilisation(n_ed, n_c_rd, m_ed, m_c_rd) = n_ed / n_c_rd + m_ed / m_c_rd);
        if m_ed <= 0.0 {
            Checked::new(n_ed, n_c_rd, Dimension::Force, utilisation)
        } else if n_ed <= 0.0 {
            Checked::new(m_ed, m_c_rd, Dimension::Moment, utilisation)
        } else {
            Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
        }
    }
}

#[derive(Clone, Copy)]
struct BentBox {
    h: f64,
    b: f64,
    t: f64,
    eps: f64,
    b_eff: f64,
}

/// Records and returns the effective section modulus at the compressed flange.
fn bending(section: BentBox, trace: &mut Trace) -> Result<f64, NotChecked> {
    let BentBox { h, b, b_eff, .. } = section;
    // Full webs to start with: the centroid of both flanges and both webs.
    let mut z_na = (b_eff * h + h * h) / (b_eff + b + 2.0 * h);
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
    let what = "neutral axis of the effective section, from the tension flange";
    let z_na = trace.input("z_na", what, Dimension::Length, z_na, || {
        Provenance::Solved(format!(
            "centroid of the effective section, at rest after {passes} passes"
        ))
    });
    let (_, w_eff) = one_pass(section, z_na, trace);
    Ok(w_eff)
}

/// Effective webs for the neutral axis `z_na`; the centroid and section modulus that follow.
fn one_pass(section: BentBox, z_na: f64, trace: &mut Trace) -> (f64, f64) {
    let BentBox { h, b, t, eps, b_eff } = section;
    step!(trace, Ratio, WIDTH, "tension over compression at the edges of the web";
        psi(z_na, h) = -z_na / (h - z_na));
    step!(trace, Ratio, WIDTH, "buckling factor of the bent web";
        k_m(psi) = 7.81 - 6.29 * psi + 9.78 * sq(psi));
    internal!(trace, lambda_w, rho_w(h, t, eps, k_m, psi));
    step!(trace, Length, WIDTH, "effective part of the web at the compressed flange";
        b_e1(rho_w, h, z_na) = 0.4 * rho_w * (h - z_na));
    step!(trace, Length, WIDTH, "effective part of the web from the tension flange on";
        b_low(rho_w, h, z_na) = z_na + 0.6 * rho_w * (h - z_na));
    step!(trace, Area, BOX, "effective area in bending";
        a_m(b_eff, b, t, b_e1, b_low) = t * (b_eff + b + 2.0 * (b_e1 + b_low)));
    step!(trace, Length, BOX, "centroid of the effective section, from the tension flange";
        z_c(b_eff, t, h, b_e1, b_low, a_m) =
        t * (b_eff * h + 2.0 * (b_e1 * (h - b_e1 / 2.0) + sq(b_low) / 2.0)) / a_m);
    step!(trace, SecondMoment, BOX, "second moment of the effective section";
        i_eff(b_eff, b, t, h, b_e1, b_low, z_c) =
        t * (b_eff * sq(h - z_c) + b * sq(z_c)
            + 2.0 * (cube(b_e1) / 12.0 + b_e1 * sq(h - b_e1 / 2.0 - z_c)
                + cube(b_low) / 12.0 + b_low * sq(b_low / 2.0 - z_c))));
    step!(trace, SectionModulus, BOX, "effective section modulus at the compressed flange";
        w_eff(i_eff, h, z_c) = i_eff / (h - z_c));
    (z_c, w_eff)
}

/// One flat element in compression, by its effective share.
pub(super) struct EffectiveWidth;

const ELEMENT: Source = plated("4.4, Tables 4.1 and 4.2, one element");

impl Clause<ElementInput> for EffectiveWidth {
    fn reference(&self) -> Source {
        ELEMENT
    }

    fn title(&self) -> &'static str {
        "flat element in compression, after buckling"
    }

    fn aspect(&self) -> Aspect {
        Aspect::AfterBuckling
    }

    fn applies(&self, input: &ElementInput) -> Applicability {
        let turns_freely = matches!(input.held, ElementHeld::BothEdges | ElementHeld::OneEdge);
        Applicability::only_if(turns_freely, "the tables are for edges that can turn")
    }

    fn formula(
        &self,
        input: &ElementInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let sigma_ed = input.sigma_ed(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Ratio, WIDTH, "factor for the yield strength"; eps(f_y) = sqrt(235.0 * MPA / f_y));
        let psi = input.psi(trace);
        let k_sigma = buckling_factor(input, trace, psi)?;
        let rho = if input.held == ElementHeld::OneEdge {
            step!(trace, Ratio, ELEMENT, "slenderness of the element";
                lambda_p(b, t, eps, k_sigma) = b / t / (28.4 * eps * sqrt(k_sigma)));
            step!(trace, Ratio, ELEMENT, "effective share of the element";
                rho(lambda_p) =
                if lambda_p <= 0.748 { 1.0 }
                else { smaller(1.0, (lambda_p - 0.188) / sq(lambda_p)) });
            rho
        } else {
            internal!(trace, lambda_p, rho(b, t, eps, k_sigma, psi));
            rho
        };
        step!(trace, Stress, ELEMENT, "stress on the full element that its effective part carries";
            sigma_rd(rho, f_y, gamma_m0) = rho * f_y / gamma_m0);
        step!(trace, Ratio, ELEMENT, "utilisation";
            utilisation(sigma_ed, sigma_rd) = sigma_ed / sigma_rd);
        Checked::new(sigma_ed, sigma_rd, Dimension::Stress, utilisation)
    }
}

/// One flat element in compression, against its elastic critical stress: no buckle at all.
pub(super) struct CriticalStress;

const CRITICAL: Source = plated("Annex A.1(2), elastic critical stress");

impl Clause<ElementInput> for CriticalStress {
    fn reference(&self) -> Source {
        CRITICAL
    }

    fn title(&self) -> &'static str {
        "flat element in compression, before any buckle"
    }

    fn kind(&self) -> crate::clause::Kind {
        crate::clause::Kind::Serviceability
    }

    fn applies(&self, _: &ElementInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &ElementInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let sigma_ed = input.sigma_ed(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let gamma_m1 = factors.gamma_m1(trace);
        let psi = input.psi(trace);
        let k_sigma = buckling_factor(input, trace, psi)?;
        let e_steel = e_of_steel(trace);
        step!(trace, Stress, CRITICAL, "elastic critical stress";
            sigma_cr(k_sigma, e_steel, t, b) =
            k_sigma * PI * PI * e_steel / (12.0 * (1.0 - 0.3 * 0.3)) * sq(t / b));
        step!(trace, Stress, CRITICAL, "critical stress over its factor";
            sigma_rd(sigma_cr, gamma_m1) = sigma_cr / gamma_m1);
        step!(trace, Ratio, CRITICAL, "utilisation";
            utilisation(sigma_ed, sigma_rd) = sigma_ed / sigma_rd);
        Checked::new(sigma_ed, sigma_rd, Dimension::Stress, utilisation)
    }
}

/// Records and returns the buckling factor of the element.
///
/// Elements on one edge, and clamped ones, get the value of uniform compression whatever the
/// stress: the safe side.
fn buckling_factor(input: &ElementInput, trace: &mut Trace, psi: f64) -> Result<f64, NotChecked> {
    if !(-3.0..=1.0).contains(&psi) {
        return Err(NotChecked::OutOfRange {
            symbol: "psi",
            what: "smaller over larger edge stress, compression positive",
            value: psi,
            dimension: Dimension::Ratio,
            allowed: "-3 to 1",
        });
    }
    let fixed = match input.held {
        ElementHeld::BothEdges => {
            step!(trace, Ratio, plated("Table 4.1"), "buckling factor";
                k_sigma(psi) =
                if psi >= 0.0 { 8.2 / (1.05 + psi) }
                else if psi >= -1.0 { 7.81 - 6.29 * psi + 9.78 * sq(psi) }
                else { 5.98 * sq(1.0 - psi) });
            return Ok(k_sigma);
        }
        ElementHeld::OneEdge => 0.43,
        ElementHeld::BothEdgesClamped => 6.97,
        ElementHeld::OneEdgeClamped => 1.28,
    };
    let what = "buckling factor, uniform compression";
    Ok(trace.input("k_sigma", what, Dimension::Ratio, fixed, || {
        Provenance::Table("EN 1993-1-5:2006, Table 4.2; clamped edges: plate theory".to_owned())
    }))
}
