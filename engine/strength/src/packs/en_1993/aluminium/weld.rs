//! Fillet welds of aluminium: the weld metal, and the softened metal it is fused to.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::AluminiumWeldInput;
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::welds::throat;
use crate::packs::en_1993::{SQRT_3, light};

/// Comparison stress on the throat against the weld metal.
pub(super) struct Throat;

const THROAT: Source = light("8.6.3.3");

impl Clause<AluminiumWeldInput> for Throat {
    fn reference(&self) -> Source {
        THROAT
    }

    fn title(&self) -> &'static str {
        "fillet weld of aluminium, weld metal"
    }

    fn short(&self) -> &'static str {
        "weld metal"
    }

    fn aspect(&self) -> Aspect {
        Aspect::ByDirection
    }

    fn applies(&self, _: &AluminiumWeldInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &AluminiumWeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let q_1 = input.q_1(trace);
        let q_2 = input.q_2(trace);
        let q_l = input.q_l(trace);
        let z = input.z(trace);
        let gap = input.gap(trace);
        let a = throat(z, gap, trace)?;
        let f_w = input.f_w(trace);
        let gamma_mw = factors.gamma_mw(trace);
        step!(trace, Stress, THROAT, "normal stress on the throat";
            sigma_perp(q_1, q_2, a) = abs(q_1 - q_2) / (a * sqrt(2.0)));
        step!(trace, Stress, THROAT, "shear stress on the throat across the bead";
            tau_perp(q_1, q_2, a) = abs(q_1 + q_2) / (a * sqrt(2.0)));
        step!(trace, Stress, THROAT, "shear stress on the throat along the bead";
            tau_par(q_l, a) = abs(q_l) / a);
        step!(trace, Stress, THROAT, "comparison stress";
            sigma_eq(sigma_perp, tau_perp, tau_par) =
            sqrt(sq(sigma_perp) + 3.0 * (sq(tau_perp) + sq(tau_par))));
        step!(trace, Stress, THROAT, "strength of the weld metal";
            f_wd(f_w, gamma_mw) = f_w / gamma_mw);
        step!(trace, Ratio, THROAT, "utilisation"; utilisation(sigma_eq, f_wd) = sigma_eq / f_wd);
        Checked::new(sigma_eq, f_wd, Dimension::Stress, utilisation)
    }
}

/// Softened metal at the fusion boundary, on the leg that is stressed more.
pub(super) struct Fusion;

const FUSION: Source = light("8.6.3.4, fusion boundary");

impl Clause<AluminiumWeldInput> for Fusion {
    fn reference(&self) -> Source {
        FUSION
    }

    fn title(&self) -> &'static str {
        "softened metal at the legs of the fillet"
    }

    fn short(&self) -> &'static str {
        "legs, softened"
    }

    fn applies(&self, _: &AluminiumWeldInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &AluminiumWeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let q_1 = input.q_1(trace);
        let q_2 = input.q_2(trace);
        let q_l = input.q_l(trace);
        let z = input.z(trace);
        let f_u_haz = input.f_u_haz(trace)?;
        let gamma_mw = factors.gamma_mw(trace);
        // The part along leg 1 is shear on leg 1 and pull on leg 2.
        step!(trace, Stress, FUSION, "comparison stress on leg 1";
            sigma_1(q_1, q_2, q_l, z) = sqrt(sq(q_2) + 3.0 * (sq(q_1) + sq(q_l))) / z);
        step!(trace, Stress, FUSION, "comparison stress on leg 2";
            sigma_2(q_1, q_2, q_l, z) = sqrt(sq(q_1) + 3.0 * (sq(q_2) + sq(q_l))) / z);
        step!(trace, Stress, FUSION, "the larger";
            sigma_haz(sigma_1, sigma_2) = larger(sigma_1, sigma_2));
        step!(trace, Stress, FUSION, "strength of the softened metal";
            f_haz_d(f_u_haz, gamma_mw) = f_u_haz / gamma_mw);
        step!(trace, Ratio, FUSION, "utilisation";
            utilisation(sigma_haz, f_haz_d) = sigma_haz / f_haz_d);
        Checked::new(sigma_haz, f_haz_d, Dimension::Stress, utilisation)
    }
}

/// Softened sheet at the toe, where all of the force goes on in one thickness.
pub(super) struct SheetBeside;

const BESIDE: Source = light("8.6.3.4, toe");

impl Clause<AluminiumWeldInput> for SheetBeside {
    fn reference(&self) -> Source {
        BESIDE
    }

    fn title(&self) -> &'static str {
        "softened sheet beside the fillet"
    }

    fn short(&self) -> &'static str {
        "sheet, softened"
    }

    fn aspect(&self) -> Aspect {
        Aspect::SheetBeside
    }

    fn applies(&self, _: &AluminiumWeldInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &AluminiumWeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let q_1 = input.q_1(trace);
        let q_2 = input.q_2(trace);
        let q_l = input.q_l(trace);
        let t_sheet = input.t_sheet(trace);
        let f_u_haz = input.f_u_haz(trace)?;
        let gamma_mw = factors.gamma_mw(trace);
        step!(trace, LineForce, Source::mechanics("resultant of three components"),
            "resultant force per length";
            q_ed(q_1, q_2, q_l) = sqrt(sq(q_1) + sq(q_2) + sq(q_l)));
        step!(trace, LineForce, BESIDE, "shear strength of the softened sheet";
            q_rd(t_sheet, f_u_haz, gamma_mw) = t_sheet * f_u_haz / (SQRT_3 * gamma_mw));
        step!(trace, Ratio, BESIDE, "utilisation, all of the force as shear";
            utilisation(q_ed, q_rd) = q_ed / q_rd);
        Checked::new(q_ed, q_rd, Dimension::LineForce, utilisation)
    }
}
