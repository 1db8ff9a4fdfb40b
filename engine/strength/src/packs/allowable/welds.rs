//! Welds: resultant on the throat against the shear strength of the weaker part over its factor.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{BeadEnds, PlugInput, SheetBeside, WeldInput, WeldRunInput};
use crate::clause::{Aspect, Checked, Factors, NotChecked};
use crate::packs::pack::Clauses;

use super::rule::{Rule, always, below};
use super::{K_W, N_W, N_Y, SQRT_3};

pub(super) const WELDS: Clauses<WeldInput> = &[&THROAT, &SHEET];
pub(super) const WELD_RUNS: Clauses<WeldRunInput> = &[&RUN];
pub(super) const PLUGS: Clauses<PlugInput> = &[&PLUG];

const THROAT_SOURCE: Source = Source::practice("throat of a fillet weld in shear");
const SHEET_SOURCE: Source = Source::practice("sheet beside a bead in shear");
const RUN_SOURCE: Source = Source::practice("run of a fillet weld in shear");
const PLUG_SOURCE: Source = Source::practice("plug weld in shear");

fn throat(z: f64, gap: f64, trace: &mut Trace) -> Result<f64, NotChecked> {
    below(z, gap, "gap", "fit-up gap at the root", "less than the leg")?;
    step!(trace, Length, THROAT_SOURCE, "throat, the gap is taken off the leg";
        a(z, gap) = (z - gap) / sqrt(2.0));
    Ok(a)
}

/// Records and returns the allowable shear stress of weld metal that is as strong as `f_u`.
fn allowable(f_u: f64, factors: &Factors, trace: &mut Trace) -> f64 {
    let k_w = factors.value(K_W, trace);
    let n_w = factors.value(N_W, trace);
    step!(trace, Stress, THROAT_SOURCE, "allowable shear stress of the weld";
        tau_allow(k_w, f_u, n_w) = k_w * f_u / (SQRT_3 * n_w));
    tau_allow
}

fn resultant(input: &WeldInput, trace: &mut Trace) -> f64 {
    let q_1 = input.q_1(trace);
    let q_2 = input.q_2(trace);
    let q_l = input.q_l(trace);
    step!(trace, LineForce, Source::mechanics("resultant"), "resultant force per length";
        q_ed(q_1, q_2, q_l) = sqrt(sq(q_1) + sq(q_2) + sq(q_l)));
    q_ed
}

static THROAT: Rule<WeldInput> = Rule {
    source: THROAT_SOURCE,
    title: "throat of the fillet weld",
    short: "throat",
    aspect: Aspect::AnyDirection,
    applies: always,
    formula: |input, factors, trace| {
        let q_ed = resultant(input, trace);
        let z = input.z(trace);
        let gap = input.gap(trace);
        let a = throat(z, gap, trace)?;
        let f_u_1 = input.f_u_1(trace);
        let f_u_2 = input.f_u_2(trace);
        step!(trace, Stress, THROAT_SOURCE, "tensile strength of the weaker part";
            f_u(f_u_1, f_u_2) = smaller(f_u_1, f_u_2));
        let tau_allow = allowable(f_u, factors, trace);
        step!(trace, Stress, THROAT_SOURCE, "resultant stress on the throat";
            tau(q_ed, a) = q_ed / a);
        step!(trace, Ratio, THROAT_SOURCE, "utilisation"; utilisation(tau, tau_allow) = tau / tau_allow);
        Checked::new(tau, tau_allow, Dimension::Stress, utilisation)
    },
};

static SHEET: Rule<WeldInput> = Rule {
    source: SHEET_SOURCE,
    title: "sheet beside the bead in shear",
    short: "sheet beside",
    aspect: Aspect::SheetBeside,
    applies: always,
    formula: |input, factors, trace| {
        let q_ed = resultant(input, trace);
        let t_sheet = input.t_sheet(trace);
        let f_y_sheet = input.f_y_sheet(trace);
        let n_y = factors.value(N_Y, trace);
        let sides = match input.beside {
            SheetBeside::OneSide => {
                step!(trace, Ratio, SHEET_SOURCE, "sides that take the force away"; sides() = 1.0);
                sides
            }
            SheetBeside::BothSides => {
                step!(trace, Ratio, SHEET_SOURCE, "sides that take the force away"; sides() = 2.0);
                sides
            }
        };
        step!(trace, Stress, SHEET_SOURCE, "shear stress in the sheet";
            tau(q_ed, sides, t_sheet) = q_ed / (sides * t_sheet));
        step!(trace, Stress, SHEET_SOURCE, "allowable shear stress";
            tau_allow(f_y_sheet, n_y) = f_y_sheet / (SQRT_3 * n_y));
        step!(trace, Ratio, SHEET_SOURCE, "utilisation"; utilisation(tau, tau_allow) = tau / tau_allow);
        Checked::new(tau, tau_allow, Dimension::Stress, utilisation)
    },
};

static RUN: Rule<WeldRunInput> = Rule {
    source: RUN_SOURCE,
    title: "run of fillet weld",
    short: "run",
    aspect: Aspect::Whole,
    applies: always,
    formula: |input, factors, trace| {
        let f_ed = input.f_ed(trace);
        let z = input.z(trace);
        let gap = input.gap(trace);
        let a = throat(z, gap, trace)?;
        let l = input.l(trace);
        let l_eff = match input.ends {
            BeadEnds::Open => {
                below(l, 2.0 * a, "l", "length of the run", "more than two throats")?;
                step!(trace, Length, RUN_SOURCE, "length less a throat at each end";
                    l_eff(l, a) = l - 2.0 * a);
                l_eff
            }
            BeadEnds::Wrapped => {
                step!(trace, Length, RUN_SOURCE, "length, full size to the ends"; l_eff(l) = l);
                l_eff
            }
        };
        let f_u = input.f_u(trace);
        let tau_allow = allowable(f_u, factors, trace);
        step!(trace, Stress, RUN_SOURCE, "stress on the throat";
            tau(f_ed, a, l_eff) = f_ed / (a * l_eff));
        step!(trace, Ratio, RUN_SOURCE, "utilisation"; utilisation(tau, tau_allow) = tau / tau_allow);
        Checked::new(tau, tau_allow, Dimension::Stress, utilisation)
    },
};

static PLUG: Rule<PlugInput> = Rule {
    source: PLUG_SOURCE,
    title: "plug weld in shear",
    short: "plug, shear",
    aspect: Aspect::Whole,
    applies: always,
    formula: |input, factors, trace| {
        if input.f_t_ed(trace) > 0.0 {
            let reason =
                "a plug weld must not carry pull: let the perimeter weld or a bolt take it";
            return Err(NotChecked::NoRule { reason: reason.to_owned() });
        }
        let f_v_ed = input.f_v_ed(trace);
        let d_hole = input.d_hole(trace);
        let d_hole = if input.d_fused.is_some() {
            let d_fused = input.d_fused(trace)?;
            step!(trace, Length, PLUG_SOURCE, "diameter that is fused";
                d_hole(d_hole, d_fused) = smaller(d_hole, d_fused));
            d_hole
        } else {
            d_hole
        };
        let f_u = input.f_u(trace);
        let tau_allow = allowable(f_u, factors, trace);
        step!(trace, Stress, PLUG_SOURCE, "shear stress in the plug";
            tau(f_v_ed, d_hole) = f_v_ed / (PI / 4.0 * sq(d_hole)));
        step!(trace, Ratio, PLUG_SOURCE, "utilisation"; utilisation(tau, tau_allow) = tau / tau_allow);
        Checked::new(tau, tau_allow, Dimension::Stress, utilisation)
    },
};
