//! Roots of fillet welds: normal and shear stress on the throat.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{BeadBlock, FatigueRootInput};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::welds::throat;
use crate::packs::en_1993::{endurance, iiw};

use super::curve::{Lowered, Normal, NormalIiw, Partial, Shear, ShearIiw};
use super::iiw_detail::together;
use super::life::life;

const THROAT: Source = endurance("5(6), Figure 5.1");

fn about(known: bool) -> Applicability {
    Applicability::only_if(known, "no class of this document is given")
}

/// Records and returns the ranges of normal and shear stress on the throat in a block.
///
/// A range of a vector is the difference of two of them, so its parts add up as forces do.
fn on_throat(input: &FatigueRootInput, block: &BeadBlock, a: f64, trace: &mut Trace) -> (f64, f64) {
    let delta_q_1 = block.delta_q_1(&input.origins, trace);
    let delta_q_2 = block.delta_q_2(&input.origins, trace);
    let delta_q_l = block.delta_q_l(&input.origins, trace);
    step!(trace, Stress, THROAT, "range of the normal stress on the throat";
        sigma_perp(delta_q_1, delta_q_2, a) = abs(delta_q_1 - delta_q_2) / (a * sqrt(2.0)));
    step!(trace, Stress, THROAT, "range of the shear stress across the bead";
        tau_perp(delta_q_1, delta_q_2, a) = abs(delta_q_1 + delta_q_2) / (a * sqrt(2.0)));
    step!(trace, Stress, THROAT, "range that opens the root, sigma_wf";
        delta_sigma(sigma_perp, tau_perp) = sqrt(sq(sigma_perp) + sq(tau_perp)));
    step!(trace, Stress, THROAT, "range of the shear stress along the bead, tau_wf";
        delta_tau(delta_q_l, a) = abs(delta_q_l) / a);
    (delta_sigma, delta_tau)
}

/// By EN 1993-1-9.
pub(super) struct Root;

const ROOT: Source = endurance("8(3) and A.5, weld root");

impl Clause<FatigueRootInput> for Root {
    fn reference(&self) -> Source {
        ROOT
    }

    fn title(&self) -> &'static str {
        "weld root under repeated force"
    }

    fn short(&self) -> &'static str {
        "weld root"
    }

    fn applies(&self, input: &FatigueRootInput) -> Applicability {
        about(input.delta_sigma_c.is_some() || input.delta_tau_c.is_some())
    }

    fn formula(
        &self,
        input: &FatigueRootInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let z = input.z(trace);
        let gap = input.gap(trace);
        let a = throat(z, gap, trace)?;
        let delta_sigma_c = input.delta_sigma_c(trace)?;
        let delta_tau_c = input.delta_tau_c(trace)?;
        let partial = Partial::of(factors, trace);
        let mut normal = Normal::of(delta_sigma_c, partial, trace);
        let mut shear = Shear::of(delta_tau_c, partial, trace);
        for block in &input.blocks {
            let (delta_sigma, delta_tau) = on_throat(input, block, a, trace);
            let n_e = block.n_e(&input.origins, trace);
            normal.add(delta_sigma, n_e, trace);
            shear.add(delta_tau, n_e, trace);
        }
        let (d_sigma, d_tau) = (normal.damage(), shear.damage());
        step!(trace, Ratio, ROOT, "damage by both"; d_e(d_sigma, d_tau) = d_sigma + d_tau);
        let distance = input.distance.map(|_| input.distance(trace)).transpose()?;
        life(distance, d_e, ROOT, trace);
        step!(trace, Ratio, ROOT, "utilisation, the sum over 1"; utilisation(d_e) = d_e / 1.0);
        Checked::new(d_e, 1.0, Dimension::Ratio, utilisation)
    }
}

/// By IIW.
pub(super) struct RootIiw;

const ROOT_IIW: Source = iiw("4.2 and 4.3.1, weld root");

impl Clause<FatigueRootInput> for RootIiw {
    fn reference(&self) -> Source {
        ROOT_IIW
    }

    fn title(&self) -> &'static str {
        "weld root under repeated force, IIW"
    }

    fn short(&self) -> &'static str {
        "weld root, IIW"
    }

    fn applies(&self, input: &FatigueRootInput) -> Applicability {
        about(input.fat_sigma.is_some() || input.fat_tau.is_some())
    }

    fn formula(
        &self,
        input: &FatigueRootInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let z = input.z(trace);
        let gap = input.gap(trace);
        let a = throat(z, gap, trace)?;
        let fat_sigma = input.fat_sigma(trace)?;
        let fat_tau = input.fat_tau(trace)?;
        step!(trace, Ratio, ROOT_IIW, "factor of the thickness, none for roots"; f_t() = 1.0);
        let lowered = Lowered::of(f_t, factors, trace);
        let mut normal = NormalIiw::of(fat_sigma, lowered, trace);
        let mut shear = ShearIiw::of(fat_tau, lowered, trace);
        for block in &input.blocks {
            let (delta_sigma, delta_tau) = on_throat(input, block, a, trace);
            let n_e = block.n_e(&input.origins, trace);
            normal.add(delta_sigma, n_e, trace);
            shear.add(delta_tau, n_e, trace);
        }
        let d_iiw = factors.d_iiw(trace);
        let (r, cv) = together(normal.damage(), shear.damage(), d_iiw, input.phase, trace);
        step!(trace, Ratio, ROOT_IIW, "utilisation"; utilisation(r, cv) = r / cv);
        Checked::new(r, cv, Dimension::Ratio, utilisation)
    }
}
