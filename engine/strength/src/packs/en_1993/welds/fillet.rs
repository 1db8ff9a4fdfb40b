//! A point of a fillet weld.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{SheetBeside, WeldInput};
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{SQRT_3, THIN, general, joints};

use super::throat;

/// Inside the scope from 4 mm on; thinner parts are covered by the sheet rules as well.
fn thick_enough(input: &WeldInput) -> Applicability {
    Applicability::within(input.t_sheet >= THIN, || {
        "EN 1993-1-8 4.1(1) speaks of parts from 4 mm on: the sheet beside the bead must be \
         checked as well"
            .to_owned()
    })
}

/// Records and returns the least tensile strength over correlation factor of both parts: the weaker
/// part in the eyes of the weld, also where a correlation factor is unusual.
fn weaker_part(input: &WeldInput, trace: &mut Trace, parts: (f64, f64)) -> f64 {
    let (f_u_1, f_u_2) = parts;
    let beta_w_1 = input.beta_w_1(trace);
    let beta_w_2 = input.beta_w_2(trace);
    step!(trace, Stress, joints("4.5.3.2(6)"),
        "tensile strength over correlation factor, the weaker part";
        f_u_over_beta_w(f_u_1, beta_w_1, f_u_2, beta_w_2) =
        smaller(f_u_1 / beta_w_1, f_u_2 / beta_w_2));
    f_u_over_beta_w
}

/// Resultant against the shear strength of the weld, whatever its direction.
pub(super) struct Simplified;

const SIMPLIFIED: Source = joints("4.5.3.3");

impl Clause<WeldInput> for Simplified {
    fn reference(&self) -> Source {
        SIMPLIFIED
    }

    fn title(&self) -> &'static str {
        "fillet weld, simplified method"
    }

    fn aspect(&self) -> Aspect {
        Aspect::AnyDirection
    }

    fn applies(&self, input: &WeldInput) -> Applicability {
        thick_enough(input)
    }

    fn formula(
        &self,
        input: &WeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let q_ed = resultant(input, trace);
        let z = input.z(trace);
        let gap = input.gap(trace);
        let a = throat(z, gap, trace)?;
        let f_u_1 = input.f_u_1(trace);
        let f_u_2 = input.f_u_2(trace);
        let f_u_over_beta_w = weaker_part(input, trace, (f_u_1, f_u_2));
        let gamma_m2 = factors.gamma_m2(trace);
        factors.note_strengths(trace);
        step!(trace, Stress, SIMPLIFIED, "resultant stress on the throat"; f_w_ed(q_ed, a) = q_ed / a);
        step!(trace, Stress, SIMPLIFIED, "shear strength of the weld";
            f_vw_d(f_u_over_beta_w, gamma_m2) = f_u_over_beta_w / (SQRT_3 * gamma_m2));
        step!(trace, Ratio, SIMPLIFIED, "utilisation";
            utilisation(f_w_ed, f_vw_d) = f_w_ed / f_vw_d);
        Checked::new(f_w_ed, f_vw_d, Dimension::Stress, utilisation)
    }
}

fn resultant(input: &WeldInput, trace: &mut Trace) -> f64 {
    let q_1 = input.q_1(trace);
    let q_2 = input.q_2(trace);
    let q_l = input.q_l(trace);
    step!(trace, LineForce, Source::mechanics("resultant of three components"),
        "resultant force per length"; q_ed(q_1, q_2, q_l) = sqrt(sq(q_1) + sq(q_2) + sq(q_l)));
    q_ed
}

/// Stress components on the throat.
///
/// The throat plane holds the bead and the line that halves the right angle between the legs;
/// its normal is (leg 1 - leg 2) / √2.
pub(super) struct Directional;

const DIRECTIONAL: Source = joints("4.5.3.2");

impl Clause<WeldInput> for Directional {
    fn reference(&self) -> Source {
        DIRECTIONAL
    }

    fn title(&self) -> &'static str {
        "fillet weld, directional method"
    }

    fn aspect(&self) -> Aspect {
        Aspect::ByDirection
    }

    fn applies(&self, input: &WeldInput) -> Applicability {
        thick_enough(input)
    }

    fn formula(
        &self,
        input: &WeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let q_1 = input.q_1(trace);
        let q_2 = input.q_2(trace);
        let q_l = input.q_l(trace);
        let z = input.z(trace);
        let gap = input.gap(trace);
        let a = throat(z, gap, trace)?;
        let f_u_1 = input.f_u_1(trace);
        let f_u_2 = input.f_u_2(trace);
        let f_u_over_beta_w = weaker_part(input, trace, (f_u_1, f_u_2));
        let gamma_m2 = factors.gamma_m2(trace);
        factors.note_strengths(trace);
        step!(trace, Stress, DIRECTIONAL, "normal stress on the throat";
            sigma_perp(q_1, q_2, a) = abs(q_1 - q_2) / (a * sqrt(2.0)));
        step!(trace, Stress, DIRECTIONAL, "shear stress on the throat across the bead";
            tau_perp(q_1, q_2, a) = abs(q_1 + q_2) / (a * sqrt(2.0)));
        step!(trace, Stress, DIRECTIONAL, "shear stress on the throat along the bead";
            tau_par(q_l, a) = abs(q_l) / a);
        step!(trace, Stress, DIRECTIONAL, "comparison stress";
            sigma_eq(sigma_perp, tau_perp, tau_par) =
            sqrt(sq(sigma_perp) + 3.0 * (sq(tau_perp) + sq(tau_par))));
        step!(trace, Stress, DIRECTIONAL, "strength against the comparison stress";
            f_w_d(f_u_over_beta_w, gamma_m2) = f_u_over_beta_w / gamma_m2);
        step!(trace, Stress, DIRECTIONAL, "strength against the normal stress";
            f_perp_d(f_u_1, f_u_2, gamma_m2) = 0.9 * smaller(f_u_1, f_u_2) / gamma_m2);
        step!(trace, Ratio, DIRECTIONAL, "utilisation, the larger of both criteria";
            utilisation(sigma_eq, f_w_d, sigma_perp, f_perp_d) =
            larger(sigma_eq / f_w_d, sigma_perp / f_perp_d));
        if sigma_perp / f_perp_d > sigma_eq / f_w_d {
            Checked::new(sigma_perp, f_perp_d, Dimension::Stress, utilisation)
        } else {
            Checked::new(sigma_eq, f_w_d, Dimension::Stress, utilisation)
        }
    }
}

/// Shear yielding of the thin sheet along the bead, which often governs before the bead.
pub(super) struct SheetBesideBead;

const BESIDE: Source = general("6.2.6, sheet beside a bead");

impl Clause<WeldInput> for SheetBesideBead {
    fn reference(&self) -> Source {
        BESIDE
    }

    fn title(&self) -> &'static str {
        "sheet beside the bead"
    }

    fn aspect(&self) -> Aspect {
        Aspect::SheetBeside
    }

    fn applies(&self, _: &WeldInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &WeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let q_ed = resultant(input, trace);
        let t_sheet = input.t_sheet(trace);
        let f_y_sheet = input.f_y_sheet(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        let q_rd = match input.beside {
            SheetBeside::OneSide => {
                step!(trace, LineForce, BESIDE, "shear yielding of the sheet on one side";
                    q_rd(t_sheet, f_y_sheet, gamma_m0) =
                    t_sheet * f_y_sheet / (SQRT_3 * gamma_m0));
                q_rd
            }
            SheetBeside::BothSides => {
                step!(trace, LineForce, BESIDE, "shear yielding of the sheet on both sides";
                    q_rd(t_sheet, f_y_sheet, gamma_m0) =
                    2.0 * t_sheet * f_y_sheet / (SQRT_3 * gamma_m0));
                q_rd
            }
        };
        step!(trace, Ratio, BESIDE, "utilisation"; utilisation(q_ed, q_rd) = q_ed / q_rd);
        Checked::new(q_ed, q_rd, Dimension::LineForce, utilisation)
    }
}
