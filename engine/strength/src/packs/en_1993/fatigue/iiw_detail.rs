//! Details under nominal stress by the IIW Recommendations.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{FatigueDetailInput, ResidualStress, StressBlock, StressPhase};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MM, iiw};

use super::curve::{Lowered, MINER_IIW, NormalIiw, ShearIiw};
use super::detail::{NO_NORMAL, NO_SHEAR, NOT_BOTH, about, compressed, normal_acts, shear_acts};
use super::life::life_to;

const MEAN: Source = iiw("3.5.1");
const THICKNESS: Source = iiw("3.5.2");
const BOTH: Source = iiw("4.2");

fn known(input: &FatigueDetailInput) -> bool {
    input.fat_sigma.is_some() || input.fat_tau.is_some()
}

/// Records and returns the factor by which a part thicker than 25 mm is weaker.
pub(super) fn thickness(
    t: f64,
    n_t: impl FnOnce(&mut Trace) -> Result<f64, NotChecked>,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    if t <= 25.0 * MM {
        step!(trace, Ratio, THICKNESS, "factor of the thickness, up to 25 mm"; f_t() = 1.0);
        return Ok(f_t);
    }
    let n_t = n_t(trace)?;
    step!(trace, Ratio, THICKNESS, "factor of the thickness";
        f_t(t, n_t) = power(25.0 * MM / t, n_t));
    Ok(f_t)
}

fn lowered(
    input: &FatigueDetailInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<Lowered, NotChecked> {
    let t = input.t(trace);
    let f_t = thickness(t, |trace| input.n_t(trace), trace)?;
    Ok(Lowered::of(f_t, factors, trace))
}

/// The range of a block at the stress ratio the classes were tested at: pressing helps where little
/// stress is locked in. What part is pressed tells the ratio of least to largest stress only where
/// some is; above zero the ratio is not known and nothing is gained.
fn harmful(
    input: &FatigueDetailInput,
    block: &StressBlock,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let delta_sigma = block.delta_sigma(&input.origins, trace);
    if input.residual == ResidualStress::High || block.compressed <= 0.0 {
        return Ok(delta_sigma);
    }
    let compressed = compressed(input, block, trace)?;
    // With R the least over the largest stress: R = -compressed / (range - compressed).
    let f_r = match input.residual {
        ResidualStress::Low if compressed >= 0.5 * delta_sigma => {
            step!(trace, Ratio, MEAN, "gain by pressing, R up to -1"; f_r() = 1.6);
            f_r
        }
        ResidualStress::Low => {
            step!(trace, Ratio, MEAN, "gain by pressing, 1.2 - 0.4 R";
                f_r(compressed, delta_sigma) =
                1.2 + 0.4 * compressed / (delta_sigma - compressed));
            f_r
        }
        _ if compressed >= 0.5 * delta_sigma => {
            step!(trace, Ratio, MEAN, "gain by pressing, R up to -1"; f_r() = 1.3);
            f_r
        }
        _ if compressed >= 0.2 * delta_sigma => {
            step!(trace, Ratio, MEAN, "gain by pressing, 0.9 - 0.4 R";
                f_r(compressed, delta_sigma) =
                0.9 + 0.4 * compressed / (delta_sigma - compressed));
            f_r
        }
        _ => return Ok(delta_sigma),
    };
    step!(trace, Stress, MEAN, "range over that gain";
        delta_sigma(delta_sigma, f_r) = delta_sigma / f_r);
    Ok(delta_sigma)
}

fn normal(
    input: &FatigueDetailInput,
    lowered: Lowered,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let fat_sigma = input.fat_sigma(trace)?;
    let mut curve = NormalIiw::of(fat_sigma, lowered, trace);
    for block in &input.blocks {
        let delta_sigma = harmful(input, block, trace)?;
        let n_e = block.n_e(&input.origins, trace);
        curve.add(delta_sigma, n_e, trace);
    }
    Ok(curve.damage())
}

fn shear(
    input: &FatigueDetailInput,
    lowered: Lowered,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let fat_tau = input.fat_tau(trace)?;
    let mut curve = ShearIiw::of(fat_tau, lowered, trace);
    for block in &input.blocks {
        let delta_tau = block.delta_tau(&input.origins, trace);
        let n_e = block.n_e(&input.origins, trace);
        curve.add(delta_tau, n_e, trace);
    }
    Ok(curve.damage())
}

/// Records the criterion for normal and shear stress together and returns its two sides.
///
/// The equivalent ranges over their strengths are the roots of the damage over the sum allowed.
pub(super) fn together(
    d_sigma: f64,
    d_tau: f64,
    d_iiw: f64,
    phase: StressPhase,
    trace: &mut Trace,
) -> (f64, f64) {
    step!(trace, Ratio, BOTH, "equivalent normal stress over its strength";
        r_sigma(d_sigma, d_iiw) = power(d_sigma / d_iiw, 1.0 / 3.0));
    step!(trace, Ratio, BOTH, "equivalent shear stress over its strength";
        r_tau(d_tau, d_iiw) = power(d_tau / d_iiw, 1.0 / 5.0));
    step!(trace, Ratio, BOTH, "sum of squares"; r(r_sigma, r_tau) = sq(r_sigma) + sq(r_tau));
    let cv = match phase {
        StressPhase::Together => {
            step!(trace, Ratio, BOTH, "allowed where both rise and fall together"; cv() = 1.0);
            cv
        }
        StressPhase::Apart => {
            step!(trace, Ratio, BOTH, "allowed where they do not"; cv() = 0.5);
            cv
        }
    };
    (r, cv)
}

/// Sum of damage by normal stress.
pub(super) struct NormalDamage;

impl Clause<FatigueDetailInput> for NormalDamage {
    fn reference(&self) -> Source {
        iiw("4.3.1, normal stress")
    }

    fn title(&self) -> &'static str {
        "damage sum by normal stress, IIW"
    }

    fn short(&self) -> &'static str {
        "IIW, normal"
    }

    fn applies(&self, input: &FatigueDetailInput) -> Applicability {
        about(input, known(input), normal_acts(input), NO_NORMAL)
    }

    fn formula(
        &self,
        input: &FatigueDetailInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let lowered = lowered(input, factors, trace)?;
        let d_iiw = factors.d_iiw(trace);
        let d_sigma = normal(input, lowered, trace)?;
        step!(trace, Ratio, MINER_IIW, "damage of the spectrum"; d_e(d_sigma) = d_sigma);
        let distance = input.distance.map(|_| input.distance(trace)).transpose()?;
        life_to(d_iiw, distance, d_e, MINER_IIW, trace);
        step!(trace, Ratio, MINER_IIW, "utilisation"; utilisation(d_e, d_iiw) = d_e / d_iiw);
        Checked::new(d_e, d_iiw, Dimension::Ratio, utilisation)
    }
}

/// Sum of damage by shear stress.
pub(super) struct ShearDamage;

impl Clause<FatigueDetailInput> for ShearDamage {
    fn reference(&self) -> Source {
        iiw("4.3.1, shear stress")
    }

    fn title(&self) -> &'static str {
        "damage sum by shear stress, IIW"
    }

    fn short(&self) -> &'static str {
        "IIW, shear"
    }

    fn applies(&self, input: &FatigueDetailInput) -> Applicability {
        about(input, known(input), shear_acts(input), NO_SHEAR)
    }

    fn formula(
        &self,
        input: &FatigueDetailInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let lowered = lowered(input, factors, trace)?;
        let d_iiw = factors.d_iiw(trace);
        let d_tau = shear(input, lowered, trace)?;
        step!(trace, Ratio, MINER_IIW, "damage of the spectrum"; d_e(d_tau) = d_tau);
        let distance = input.distance.map(|_| input.distance(trace)).transpose()?;
        life_to(d_iiw, distance, d_e, MINER_IIW, trace);
        step!(trace, Ratio, MINER_IIW, "utilisation"; utilisation(d_e, d_iiw) = d_e / d_iiw);
        Checked::new(d_e, d_iiw, Dimension::Ratio, utilisation)
    }
}

/// Normal and shear stress together.
pub(super) struct Both;

impl Clause<FatigueDetailInput> for Both {
    fn reference(&self) -> Source {
        BOTH
    }

    fn title(&self) -> &'static str {
        "normal and shear stress together, IIW"
    }

    fn short(&self) -> &'static str {
        "IIW, both"
    }

    fn applies(&self, input: &FatigueDetailInput) -> Applicability {
        about(input, known(input), normal_acts(input) && shear_acts(input), NOT_BOTH)
    }

    fn formula(
        &self,
        input: &FatigueDetailInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let lowered = lowered(input, factors, trace)?;
        let d_iiw = factors.d_iiw(trace);
        let d_sigma = normal(input, lowered, trace)?;
        let d_tau = shear(input, lowered, trace)?;
        let (r, cv) = together(d_sigma, d_tau, d_iiw, input.phase, trace);
        step!(trace, Ratio, BOTH, "utilisation"; utilisation(r, cv) = r / cv);
        Checked::new(r, cv, Dimension::Ratio, utilisation)
    }
}
