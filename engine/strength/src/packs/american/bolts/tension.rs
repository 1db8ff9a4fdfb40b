//! Bolts in tension, and tension with shear.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::BoltInput;
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, Format, NotChecked};
use crate::packs::american::aisc;
use crate::packs::american::available::{available, once};
use crate::packs::american::factors::BOLTS;

use super::shear::{shear_demand, shear_stress};

/// Tension of the bolt, on its nominal area.
pub(super) struct Tension;

const TENSION: Source = aisc("J3.6, tension");

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
        super::in_table_j3_2(input)
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let f_nt = tension_stress(input, trace);
        let a_b = nominal_area(input, trace);
        step!(trace, Force, TENSION, "nominal strength in tension"; r_nt(f_nt, a_b) = f_nt * a_b);
        available!(trace, factors, phi_bolt or omega_bolt of BOLTS;
            Force, TENSION, "available strength in tension"; r_t(r_nt));
        step!(trace, Ratio, TENSION, "utilisation"; utilisation(f_t_ed, r_t) = f_t_ed / r_t);
        Checked::new(f_t_ed, r_t, Dimension::Force, utilisation)
    }
}

/// Records and returns the area of the shank; the strengths of the table allow for the thread.
pub(super) fn nominal_area(input: &BoltInput, trace: &mut Trace) -> f64 {
    let d = once!(trace, input.d);
    step!(trace, Area, Source::mechanics("circle"), "nominal area of the bolt";
        a_b(d) = PI / 4.0 * sq(d));
    a_b
}

fn tension_stress(input: &BoltInput, trace: &mut Trace) -> f64 {
    let f_ub = once!(trace, input.f_ub);
    step!(trace, Stress, aisc("Table J3.2"), "nominal tensile stress"; f_nt(f_ub) = 0.75 * f_ub);
    f_nt
}

/// Tension beside shear. Each alone is a row of its own. No stress need be small for the formula to
/// hold: below 30 % of either strength it gives what that strength alone gives, or more than enough.
pub(super) struct ShearAndTension;

const COMBINED: Source = aisc("J3.7");

impl Clause<BoltInput> for ShearAndTension {
    fn reference(&self) -> Source {
        COMBINED
    }

    fn title(&self) -> &'static str {
        "bolt in tension beside shear"
    }

    fn short(&self) -> &'static str {
        "shear and tension"
    }

    fn aspect(&self) -> Aspect {
        Aspect::ShearAndTension
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        super::in_table_j3_2(input)
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let f_v_ed = shear_demand(input, trace);
        let f_nt = tension_stress(input, trace);
        let f_nv = shear_stress(input, factors, trace)?;
        let a_b = nominal_area(input, trace);
        let n_planes = input.n_planes(trace);
        step!(trace, Stress, COMBINED, "shear stress in a plane";
            f_rv(f_v_ed, n_planes, a_b) = f_v_ed / (n_planes * a_b));
        let f_nt_v = if factors.format() == Format::AllowableStrength {
            let omega_bolt = factors.value(BOLTS.omega, trace);
            step!(trace, Stress, COMBINED, "nominal tensile stress beside shear";
                f_nt_v(f_nt, omega_bolt, f_nv, f_rv) =
                smaller(f_nt, positive(1.3 * f_nt - omega_bolt * f_nt / f_nv * f_rv)));
            f_nt_v
        } else {
            let phi_bolt = factors.value(BOLTS.phi, trace);
            step!(trace, Stress, COMBINED, "nominal tensile stress beside shear";
                f_nt_v(f_nt, phi_bolt, f_nv, f_rv) =
                smaller(f_nt, positive(1.3 * f_nt - f_nt / (phi_bolt * f_nv) * f_rv)));
            f_nt_v
        };
        step!(trace, Force, COMBINED, "nominal strength in tension beside shear";
            r_nt(f_nt_v, a_b) = f_nt_v * a_b);
        available!(trace, factors, phi_bolt or omega_bolt of BOLTS;
            Force, COMBINED, "available strength in tension beside shear"; r_t(r_nt));
        step!(trace, Ratio, COMBINED, "utilisation"; utilisation(f_t_ed, r_t) = share(f_t_ed, r_t));
        Checked::new(f_t_ed, r_t, Dimension::Force, utilisation)
    }
}
