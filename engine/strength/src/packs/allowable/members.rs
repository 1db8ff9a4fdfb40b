//! Members and points of sections: first yield by distortion energy, buckling of struts.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{MemberInput, Shape, StressPointInput};
use crate::clause::{Applicability, Aspect, Checked, NotChecked};
use crate::packs::pack::Clauses;

use super::rule::Rule;
use super::{N_U, N_Y};

pub(super) const MEMBERS: Clauses<MemberInput> = &[&SECTION, &STRUT];
pub(super) const STRESS_POINTS: Clauses<StressPointInput> = &[&POINT];

const YIELD: Source = Source::practice("first yield of a member, distortion energy");
const BUCKLING: Source = Source::practice("strut by Johnson and Euler, with bending");
const AT_POINT: Source = Source::practice("first yield at a point, distortion energy");

/// Modulus of elasticity of steel in Pa; common practice, no source.
const E: f64 = 210e9;

fn closed(input: &MemberInput) -> bool {
    matches!(input.shape, Shape::RectangularTube | Shape::RoundTube | Shape::RoundBar)
}

/// Open sections that can turn sideways are not covered.
fn stays_upright(input: &MemberInput) -> Applicability {
    let turns = matches!(input.shape, Shape::Angle | Shape::Channel | Shape::WeldedI)
        && input.l_lt.is_some();
    Applicability::within(!turns, || {
        "an open section can turn sideways before it yields: no plain rule covers that".to_owned()
    })
}

/// Records and returns the size of the bending stress, both axes at the same corner.
fn bending(input: &MemberInput, trace: &mut Trace) -> f64 {
    let m_y_ed = input.m_y_ed(trace);
    let m_z_ed = input.m_z_ed(trace);
    let w_el_y = input.w_el_y(trace);
    let w_el_z = input.w_el_z(trace);
    step!(trace, Stress, YIELD, "bending stress, both axes at one corner";
        sigma_b(m_y_ed, w_el_y, m_z_ed, w_el_z) = abs(m_y_ed) / w_el_y + abs(m_z_ed) / w_el_z);
    sigma_b
}

static SECTION: Rule<MemberInput> = Rule {
    source: YIELD,
    title: "first yield of the member",
    short: "first yield",
    aspect: Aspect::Whole,
    applies: stays_upright,
    formula: |input, factors, trace| {
        let sigma_b = bending(input, trace);
        let n_ed = input.n_ed(trace);
        let a = input.a(trace);
        step!(trace, Stress, YIELD, "normal stress"; sigma(n_ed, a, sigma_b) = abs(n_ed) / a + sigma_b);
        let v_y_ed = input.v_y_ed(trace);
        let v_z_ed = input.v_z_ed(trace);
        let a_v_y = input.a_v_y(trace);
        let a_v_z = input.a_v_z(trace);
        step!(trace, Stress, YIELD, "shear stress of both forces";
            tau_v(v_y_ed, a_v_y, v_z_ed, a_v_z) = abs(v_y_ed) / a_v_y + abs(v_z_ed) / a_v_z);
        let t_ed = input.t_ed(trace);
        let tau_t = if closed(input) && input.c_t.is_some() {
            let c_t = input.c_t(trace)?;
            step!(trace, Stress, YIELD, "shear stress of torsion"; tau_t(t_ed, c_t) = abs(t_ed) / c_t);
            tau_t
        } else {
            let t = input.t(trace);
            let i_t = input.i_t(trace);
            if closed(input) && t_ed.abs() > 0.0 {
                return Err(NotChecked::Missing { symbol: "c_t", what: "torsion modulus" });
            }
            step!(trace, Stress, YIELD, "shear stress of torsion, open section";
                tau_t(t_ed, t, i_t) = abs(t_ed) * t / i_t);
            tau_t
        };
        let f_y = input.f_y(trace);
        let n_y = factors.value(N_Y, trace);
        step!(trace, Stress, YIELD, "comparison stress";
            sigma_eq(sigma, tau_v, tau_t) = sqrt(sq(sigma) + 3.0 * sq(tau_v + tau_t)));
        step!(trace, Stress, YIELD, "allowable stress"; sigma_allow(f_y, n_y) = f_y / n_y);
        step!(trace, Ratio, YIELD, "utilisation";
            utilisation(sigma_eq, sigma_allow) = sigma_eq / sigma_allow);
        Checked::new(sigma_eq, sigma_allow, Dimension::Stress, utilisation)
    },
};

/// Lets the modulus of elasticity into a derivation.
pub(super) fn modulus(trace: &mut Trace) -> f64 {
    let what = "modulus of elasticity of steel";
    trace.input("e_steel", what, Dimension::Stress, E, || {
        Provenance::Assumed("steel, 210 GPa: common practice, no source".to_owned())
    })
}

/// Records and returns the stress at which a strut of slenderness `lambda` buckles: the parabola of
/// Johnson for stout ones, the hyperbola of Euler for slender ones.
pub(super) fn strut_stress(lambda: f64, f_y: f64, e_steel: f64, trace: &mut Trace) -> f64 {
    step!(trace, Ratio, BUCKLING, "slenderness where both meet";
        lambda_c(e_steel, f_y) = sqrt(2.0 * sq(PI) * e_steel / f_y));
    if lambda < lambda_c {
        step!(trace, Stress, BUCKLING, "buckling stress, Johnson";
            sigma_cr(f_y, lambda, lambda_c) = f_y * (1.0 - 0.5 * sq(lambda / lambda_c)));
        sigma_cr
    } else {
        step!(trace, Stress, BUCKLING, "buckling stress, Euler";
            sigma_cr(e_steel, lambda) = sq(PI) * e_steel / sq(lambda));
        sigma_cr
    }
}

static STRUT: Rule<MemberInput> = Rule {
    source: BUCKLING,
    title: "member as a strut",
    short: "strut",
    aspect: Aspect::Whole,
    applies: |input| {
        if input.n_ed >= 0.0 {
            return Applicability::DoesNotApply("the member is not pressed".to_owned());
        }
        stays_upright(input)
    },
    formula: |input, factors, trace| {
        let n_ed = input.n_ed(trace);
        let a = input.a(trace);
        let i_y = input.i_y(trace);
        let i_z = input.i_z(trace);
        let l_cr_y = input.l_cr_y(trace)?;
        let l_cr_z = input.l_cr_z(trace)?;
        step!(trace, Ratio, BUCKLING, "slenderness, the larger";
            lambda(l_cr_y, i_y, l_cr_z, i_z, a) =
            larger(l_cr_y / sqrt(i_y / a), l_cr_z / sqrt(i_z / a)));
        let f_y = input.f_y(trace);
        let e_steel = modulus(trace);
        let sigma_cr = strut_stress(lambda, f_y, e_steel, trace);
        let n_u = factors.value(N_U, trace);
        let n_y = factors.value(N_Y, trace);
        let sigma_b = bending(input, trace);
        step!(trace, Stress, BUCKLING, "compression"; sigma_c(n_ed, a) = abs(n_ed) / a);
        // What bends is pressed as well: its deflection grows by Euler's load.
        step!(trace, Stress, BUCKLING, "Euler stress";
            sigma_e(e_steel, lambda) = sq(PI) * e_steel / sq(lambda));
        step!(trace, Stress, BUCKLING, "what the compression with its factor leaves of it";
            sigma_left(sigma_e, n_u, sigma_c) = positive(sigma_e - n_u * sigma_c));
        if sigma_left <= 0.0 {
            trace.note(|| "bending grows without end: the strut does not hold".to_owned());
            step!(trace, Ratio, BUCKLING, "utilisation, nothing is left";
                utilisation(sigma_c, sigma_left) = sigma_c / sigma_left);
            return Checked::new(sigma_c, sigma_left, Dimension::Stress, utilisation);
        }
        step!(trace, Ratio, BUCKLING, "utilisation, both shares, bending grown by compression";
            utilisation(sigma_c, sigma_cr, n_u, sigma_b, f_y, n_y, sigma_e, sigma_left) =
            sigma_c * n_u / sigma_cr + sigma_b * n_y / f_y * sigma_e / sigma_left);
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    },
};

static POINT: Rule<StressPointInput> = Rule {
    source: AT_POINT,
    title: "first yield at a point of the section",
    short: "yield at a point",
    aspect: Aspect::Whole,
    applies: |_| Applicability::Applies,
    formula: |input, factors, trace| {
        if input.t_ed.is_some_and(|t_ed| t_ed.abs() > 0.0) {
            let reason = "no plain rule covers torsion that is held against warping";
            return Err(NotChecked::NoRule { reason: reason.to_owned() });
        }
        let n_ed = input.n_ed(trace);
        let a = input.a(trace);
        let m_x = input.m_x(trace);
        let m_y = input.m_y(trace);
        let i_x = input.i_x(trace);
        let i_y = input.i_y(trace);
        let i_xy = input.i_xy(trace);
        if i_x * i_y <= i_xy * i_xy {
            return Err(NotChecked::OutOfRange {
                symbol: "i_xy",
                what: "product moment",
                value: i_xy,
                dimension: Dimension::SecondMoment,
                allowed: "less than the root of the product of both second moments",
            });
        }
        let x = input.x(trace);
        let y = input.y(trace);
        let tau_ed = input.tau_ed(trace);
        let f_y = input.f_y(trace);
        let n_y = factors.value(N_Y, trace);
        step!(trace, Stress, AT_POINT, "normal stress";
            sigma(n_ed, a, m_x, m_y, i_x, i_y, i_xy, x, y) =
            n_ed / a
                + ((m_x * i_y - m_y * i_xy) * y + (m_y * i_x - m_x * i_xy) * x)
                    / (i_x * i_y - sq(i_xy)));
        step!(trace, Stress, AT_POINT, "comparison stress";
            sigma_eq(sigma, tau_ed) = sqrt(sq(sigma) + 3.0 * sq(tau_ed)));
        step!(trace, Stress, AT_POINT, "allowable stress"; sigma_allow(f_y, n_y) = f_y / n_y);
        step!(trace, Ratio, AT_POINT, "utilisation";
            utilisation(sigma_eq, sigma_allow) = sigma_eq / sigma_allow);
        Checked::new(sigma_eq, sigma_allow, Dimension::Stress, utilisation)
    },
};
