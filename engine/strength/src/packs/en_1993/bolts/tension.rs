//! Bolts in tension, and tension with shear.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::BoltInput;
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::joints;

use super::shear::{shear_demand, shear_resistance};

/// Tension of the bolt.
pub(super) struct Tension;

const TENSION: Source = joints("Table 3.4, tension");

impl Clause<BoltInput> for Tension {
    fn reference(&self) -> Source {
        TENSION
    }

    fn title(&self) -> &'static str {
        "bolt in tension"
    }

    fn short(&self) -> &'static str {
        "tension"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Tension
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        super::class_in_table_3_1(input)
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let f_ub = input.f_ub(trace);
        let a_s = input.a_s(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        let f_t_rd = tension_resistance(input, trace, f_ub, a_s, gamma_m2);
        step!(trace, Ratio, TENSION, "utilisation"; utilisation(f_t_ed, f_t_rd) = f_t_ed / f_t_rd);
        Checked::new(f_t_ed, f_t_rd, Dimension::Force, utilisation)
    }
}

fn tension_resistance(
    input: &BoltInput,
    trace: &mut Trace,
    f_ub: f64,
    a_s: f64,
    gamma_m2: f64,
) -> f64 {
    let value = if input.sink.is_some() { 0.63 } else { 0.9 };
    let what = "factor of the tension strength, lower for countersunk heads";
    let k_2 = trace.input("k_2", what, Dimension::Ratio, value, || {
        Provenance::Table("EN 1993-1-8:2005, Table 3.4".to_owned())
    });
    step!(trace, Force, TENSION, "tension resistance";
        f_t_rd(k_2, f_ub, a_s, gamma_m2) = k_2 * f_ub * a_s / gamma_m2);
    f_t_rd
}

/// Punching of head or nut through the ply.
pub(super) struct Punching;

const PUNCHING: Source = joints("Table 3.4, punching");

impl Clause<BoltInput> for Punching {
    fn reference(&self) -> Source {
        PUNCHING
    }

    fn title(&self) -> &'static str {
        "head or nut punching through the ply"
    }

    fn short(&self) -> &'static str {
        "pull-through"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Punching
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
        let f_t_ed = input.f_t_ed(trace);
        let d_m = input.d_m(trace);
        let t = input.t(trace);
        let f_u = input.f_u(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, PUNCHING, "punching resistance";
            b_p_rd(d_m, t, f_u, gamma_m2) = 0.6 * PI * d_m * t * f_u / gamma_m2);
        step!(trace, Ratio, PUNCHING, "utilisation"; utilisation(f_t_ed, b_p_rd) = f_t_ed / b_p_rd);
        Checked::new(f_t_ed, b_p_rd, Dimension::Force, utilisation)
    }
}

/// Shear and tension together. Each alone, tension above all, is a row of its own.
pub(super) struct ShearAndTension;

const COMBINED: Source = joints("Table 3.4, shear and tension");

impl Clause<BoltInput> for ShearAndTension {
    fn reference(&self) -> Source {
        COMBINED
    }

    fn title(&self) -> &'static str {
        "bolt in shear and tension together"
    }

    fn short(&self) -> &'static str {
        "shear and tension"
    }

    fn aspect(&self) -> Aspect {
        Aspect::ShearAndTension
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        super::class_in_table_3_1(input)
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ub = input.f_ub(trace);
        let a_s = input.a_s(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        let f_v_ed = shear_demand(input, trace);
        let f_t_ed = input.f_t_ed(trace);
        let f_v_rd = shear_resistance(input, trace, f_ub, a_s, gamma_m2)?;
        let f_t_rd = tension_resistance(input, trace, f_ub, a_s, gamma_m2);
        step!(trace, Ratio, COMBINED, "utilisation";
            utilisation(f_v_ed, f_v_rd, f_t_ed, f_t_rd) =
            f_v_ed / f_v_rd + f_t_ed / (1.4 * f_t_rd));
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}
