//! Flat plates in shear.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::ShearPanelInput;
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{SQRT_3, e_of_steel, plated};

/// The elastic critical shear stress: no buckle at all.
pub(super) struct BeforeBuckling;

const CRITICAL: Source = plated("Annex A.3(1), critical shear stress");

impl Clause<ShearPanelInput> for BeforeBuckling {
    fn reference(&self) -> Source {
        CRITICAL
    }

    fn title(&self) -> &'static str {
        "flat plate in shear, before any buckle"
    }

    fn short(&self) -> &'static str {
        "before buckling"
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn applies(&self, _: &ShearPanelInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &ShearPanelInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let tau_ed = input.tau_ed(trace);
        let gamma_m1 = factors.gamma_m1(trace);
        let tau_cr = critical(input, trace);
        step!(trace, Stress, CRITICAL, "critical stress over its factor";
            tau_rd(tau_cr, gamma_m1) = tau_cr / gamma_m1);
        step!(trace, Ratio, CRITICAL, "utilisation"; utilisation(tau_ed, tau_rd) = tau_ed / tau_rd);
        Checked::new(tau_ed, tau_rd, Dimension::Stress, utilisation)
    }
}

fn critical(input: &ShearPanelInput, trace: &mut Trace) -> f64 {
    let a = input.a(trace);
    let b = input.b(trace);
    let t = input.t(trace);
    step!(trace, Ratio, plated("Annex A.3(1) (A.5)"), "buckling factor in shear";
        k_tau(a, b) =
        if a >= b { 5.34 + 4.0 * sq(b / a) } else { 4.0 + 5.34 * sq(b / a) });
    let e_steel = e_of_steel(trace);
    step!(trace, Stress, CRITICAL, "critical shear stress";
        tau_cr(k_tau, t, b, e_steel) = k_tau * PI * PI * e_steel / (12.0 * (1.0 - 0.3 * 0.3)) * sq(t / b));
    tau_cr
}

/// What shear buckling leaves of the shear yield strength; ends not rigid, no gain by hardening.
pub(super) struct AfterBuckling;

const LEFT: Source = plated("5.3(1), one plate");

impl Clause<ShearPanelInput> for AfterBuckling {
    fn reference(&self) -> Source {
        LEFT
    }

    fn title(&self) -> &'static str {
        "flat plate in shear, after buckling"
    }

    fn short(&self) -> &'static str {
        "after buckling"
    }

    fn applies(&self, _: &ShearPanelInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &ShearPanelInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let tau_ed = input.tau_ed(trace);
        let f_y = input.f_y(trace);
        let gamma_m1 = factors.gamma_m1(trace);
        let tau_cr = critical(input, trace);
        step!(trace, Ratio, LEFT, "slenderness in shear";
            lambda_w(f_y, tau_cr) = sqrt(f_y / (SQRT_3 * tau_cr)));
        step!(trace, Ratio, LEFT, "what buckling leaves";
            chi_w(lambda_w) = if lambda_w < 0.83 { 1.0 } else { 0.83 / lambda_w });
        step!(trace, Stress, LEFT, "shear stress that it carries";
            tau_rd(chi_w, f_y, gamma_m1) = chi_w * f_y / (SQRT_3 * gamma_m1));
        step!(trace, Ratio, LEFT, "utilisation"; utilisation(tau_ed, tau_rd) = tau_ed / tau_rd);
        Checked::new(tau_ed, tau_rd, Dimension::Stress, utilisation)
    }
}
