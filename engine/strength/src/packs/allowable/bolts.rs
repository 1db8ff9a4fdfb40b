//! Bolts: stresses against the tensile strength over its factor.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{BoltInput, ShearPlane};
use crate::clause::{Applicability, Aspect, Checked, Factors, NotChecked};
use crate::packs::pack::Clauses;

use super::rule::{Rule, always, below};
use super::{N_U, SQRT_3};

pub(super) const BOLTS: Clauses<BoltInput> = &[&SHEAR, &TENSION, &BOTH, &BEARING, &TEAR_OUT];

const SHEAR_SOURCE: Source = Source::practice("bolt in shear");
const TENSION_SOURCE: Source = Source::practice("bolt in tension");
const BOTH_SOURCE: Source = Source::practice("bolt in shear and tension, distortion energy");
const BEARING_SOURCE: Source = Source::practice("bearing on the hole");
const TEAR_SOURCE: Source = Source::practice("bolt tearing out of the end of the ply");

/// Records and returns the shear stress in the plane that is cut.
fn shear_stress(input: &BoltInput, a_s: f64, trace: &mut Trace) -> f64 {
    let f_v_ed = resultant(input, trace);
    let n_planes = input.n_planes(trace);
    if input.plane == ShearPlane::Shank {
        let d = input.d(trace);
        step!(trace, Stress, SHEAR_SOURCE, "shear stress in the shank";
            tau(f_v_ed, n_planes, d) = f_v_ed / (n_planes * PI / 4.0 * sq(d)));
        return tau;
    }
    step!(trace, Stress, SHEAR_SOURCE, "shear stress in the thread";
        tau(f_v_ed, n_planes, a_s) = f_v_ed / (n_planes * a_s));
    tau
}

fn resultant(input: &BoltInput, trace: &mut Trace) -> f64 {
    let f_1_ed = input.f_1_ed(trace);
    let f_2_ed = input.f_2_ed(trace);
    step!(trace, Force, Source::mechanics("resultant"), "shear on the bolt";
        f_v_ed(f_1_ed, f_2_ed) = hypot(f_1_ed, f_2_ed));
    f_v_ed
}

static SHEAR: Rule<BoltInput> = Rule {
    source: SHEAR_SOURCE,
    title: "bolt in shear",
    short: "bolt, shear",
    aspect: Aspect::Whole,
    applies: always,
    formula: |input, factors, trace| {
        let a_s = input.a_s(trace);
        let tau = shear_stress(input, a_s, trace);
        let f_ub = input.f_ub(trace);
        let n_u = factors.value(N_U, trace);
        step!(trace, Stress, SHEAR_SOURCE, "allowable shear stress";
            tau_allow(f_ub, n_u) = f_ub / (SQRT_3 * n_u));
        step!(trace, Ratio, SHEAR_SOURCE, "utilisation"; utilisation(tau, tau_allow) = tau / tau_allow);
        Checked::new(tau, tau_allow, Dimension::Stress, utilisation)
    },
};

static TENSION: Rule<BoltInput> = Rule {
    source: TENSION_SOURCE,
    title: "bolt in tension",
    short: "bolt, tension",
    aspect: Aspect::Tension,
    applies: always,
    formula: |input, factors, trace| {
        let f_t_ed = input.f_t_ed(trace);
        let a_s = input.a_s(trace);
        let f_ub = input.f_ub(trace);
        let n_u = factors.value(N_U, trace);
        step!(trace, Stress, TENSION_SOURCE, "stress in the thread"; sigma(f_t_ed, a_s) = f_t_ed / a_s);
        step!(trace, Stress, TENSION_SOURCE, "allowable stress"; sigma_allow(f_ub, n_u) = f_ub / n_u);
        step!(trace, Ratio, TENSION_SOURCE, "utilisation";
            utilisation(sigma, sigma_allow) = sigma / sigma_allow);
        Checked::new(sigma, sigma_allow, Dimension::Stress, utilisation)
    },
};

static BOTH: Rule<BoltInput> = Rule {
    source: BOTH_SOURCE,
    title: "bolt in shear and tension",
    short: "bolt, both",
    aspect: Aspect::ShearAndTension,
    applies: always,
    formula: |input, factors, trace| {
        let a_s = input.a_s(trace);
        let tau = shear_stress(input, a_s, trace);
        let f_t_ed = input.f_t_ed(trace);
        let f_ub = input.f_ub(trace);
        let n_u = factors.value(N_U, trace);
        step!(trace, Stress, TENSION_SOURCE, "stress in the thread"; sigma(f_t_ed, a_s) = f_t_ed / a_s);
        step!(trace, Stress, BOTH_SOURCE, "comparison stress";
            sigma_eq(sigma, tau) = sqrt(sq(sigma) + 3.0 * sq(tau)));
        step!(trace, Stress, TENSION_SOURCE, "allowable stress"; sigma_allow(f_ub, n_u) = f_ub / n_u);
        step!(trace, Ratio, BOTH_SOURCE, "utilisation";
            utilisation(sigma_eq, sigma_allow) = sigma_eq / sigma_allow);
        Checked::new(sigma_eq, sigma_allow, Dimension::Stress, utilisation)
    },
};

static BEARING: Rule<BoltInput> = Rule {
    source: BEARING_SOURCE,
    title: "bearing on the hole",
    short: "bearing",
    aspect: Aspect::Bearing,
    applies: always,
    formula: |input, factors, trace| {
        let f_v_ed = resultant(input, trace);
        let d = input.d(trace);
        let t = bearing_thickness(input, trace)?;
        let f_u = input.f_u(trace);
        let n_u = factors.value(N_U, trace);
        step!(trace, Stress, BEARING_SOURCE, "pressure on the projected hole";
            p(f_v_ed, d, t) = f_v_ed / (d * t));
        step!(trace, Stress, BEARING_SOURCE, "allowable pressure, one and a half of the tension";
            p_allow(f_u, n_u) = 1.5 * f_u / n_u);
        step!(trace, Ratio, BEARING_SOURCE, "utilisation"; utilisation(p, p_allow) = p / p_allow);
        Checked::new(p, p_allow, Dimension::Stress, utilisation)
    },
};

/// Records and returns the thickness that bears: half of a countersink does.
fn bearing_thickness(input: &BoltInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let t = input.t(trace);
    if input.sink.is_none() {
        return Ok(t);
    }
    let sink = input.sink(trace)?;
    below(2.0 * t, sink, "sink", "depth of the countersink", "less than twice the ply")?;
    step!(trace, Length, BEARING_SOURCE, "thickness less half of the countersink";
        t(t, sink) = t - sink / 2.0);
    Ok(t)
}

fn has_end(input: &BoltInput) -> Applicability {
    let near = input.e_1.is_some() || input.e_2.is_some();
    Applicability::only_if(near, "no edge is near")
}

/// Two planes beside the bolt, from the hole to the edge, for each direction of the force.
fn tear_out(
    input: &BoltInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<Checked, NotChecked> {
    let f_1_ed = input.f_1_ed(trace);
    let f_2_ed = input.f_2_ed(trace);
    let d_0 = input.d_0(trace);
    let t = bearing_thickness(input, trace)?;
    let f_u = input.f_u(trace);
    let n_u = factors.value(N_U, trace);
    step!(trace, Stress, TEAR_SOURCE, "allowable shear stress";
        tau_allow(f_u, n_u) = f_u / (SQRT_3 * n_u));
    let allowed = "more than half of the hole";
    let r_1 = if input.e_1.is_some() {
        let e_1 = input.e_1(trace)?;
        below(e_1, d_0 / 2.0, "e_1", "end distance", allowed)?;
        step!(trace, Ratio, TEAR_SOURCE, "shear along axis 1 over its allowable";
            r_1(f_1_ed, e_1, d_0, t, tau_allow) =
            abs(f_1_ed) / (2.0 * (e_1 - d_0 / 2.0) * t * tau_allow));
        r_1
    } else {
        step!(trace, Ratio, TEAR_SOURCE, "no edge along axis 1"; r_1() = 0.0);
        r_1
    };
    let r_2 = if input.e_2.is_some() {
        let e_2 = input.e_2(trace)?;
        below(e_2, d_0 / 2.0, "e_2", "edge distance", allowed)?;
        step!(trace, Ratio, TEAR_SOURCE, "shear along axis 2 over its allowable";
            r_2(f_2_ed, e_2, d_0, t, tau_allow) =
            abs(f_2_ed) / (2.0 * (e_2 - d_0 / 2.0) * t * tau_allow));
        r_2
    } else {
        step!(trace, Ratio, TEAR_SOURCE, "no edge along axis 2"; r_2() = 0.0);
        r_2
    };
    step!(trace, Ratio, TEAR_SOURCE, "utilisation"; utilisation(r_1, r_2) = hypot(r_1, r_2));
    Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
}

static TEAR_OUT: Rule<BoltInput> = Rule {
    source: TEAR_SOURCE,
    title: "bolt tearing out to the edge",
    short: "tear-out",
    aspect: Aspect::Bearing,
    applies: has_end,
    formula: tear_out,
};
