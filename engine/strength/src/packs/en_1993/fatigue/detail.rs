//! Details under nominal stress by EN 1993-1-9.

use fishplate_quantity::algebra::larger;
use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{DetailListing, FatigueDetailInput, ResidualStress, StressBlock};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{SQRT_3, endurance};

use super::curve::{CURVE, MINER, Normal, Partial, Shear};
use super::life::life;

const REDUCED: Source = endurance("7.2.1");

pub(super) fn normal_acts(input: &FatigueDetailInput) -> bool {
    input.blocks.iter().any(|block| block.delta_sigma > 0.0)
}

pub(super) fn shear_acts(input: &FatigueDetailInput) -> bool {
    input.blocks.iter().any(|block| block.delta_tau > 0.0)
}

/// About a detail with a class of the document under a stress that acts.
pub(super) fn about(
    input: &FatigueDetailInput,
    known: bool,
    acts: bool,
    other: &str,
) -> Applicability {
    if !known {
        return Applicability::DoesNotApply("no class of this document is given".to_owned());
    }
    if !acts {
        return Applicability::DoesNotApply(other.to_owned());
    }
    Applicability::within(input.listing == DetailListing::Listed, || {
        "no document lists the detail: its class is an estimate (common practice, no source)"
            .to_owned()
    })
}

fn known(input: &FatigueDetailInput) -> bool {
    input.delta_sigma_c.is_some() || input.delta_tau_c.is_some()
}

pub(super) const NO_NORMAL: &str = "no normal stress repeats";
pub(super) const NO_SHEAR: &str = "no shear stress repeats";
pub(super) const NOT_BOTH: &str = "normal and shear stress do not both repeat";

/// The part of a range that lies below zero stress, which cannot be more than all of it.
pub(super) fn compressed(
    input: &FatigueDetailInput,
    block: &StressBlock,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    if block.compressed > block.delta_sigma {
        return Err(NotChecked::OutOfRange {
            symbol: "compressed",
            what: "part of the range below zero stress",
            value: block.compressed,
            dimension: Dimension::Stress,
            allowed: "at most the range",
        });
    }
    Ok(block.compressed(&input.origins, trace))
}

/// The range of a block that does harm: where little stress is locked in, pressing counts less.
fn harmful(
    input: &FatigueDetailInput,
    block: &StressBlock,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let delta_sigma = block.delta_sigma(&input.origins, trace);
    if input.residual != ResidualStress::Low {
        return Ok(delta_sigma);
    }
    let compressed = compressed(input, block, trace)?;
    step!(trace, Stress, REDUCED, "range with 60 % of its part in compression";
        delta_sigma(delta_sigma, compressed) = delta_sigma - compressed + 0.6 * compressed);
    Ok(delta_sigma)
}

/// Damage by normal stress.
fn normal(
    input: &FatigueDetailInput,
    partial: Partial,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let delta_sigma_c = input.delta_sigma_c(trace)?;
    let mut curve = Normal::of(delta_sigma_c, partial, trace);
    for block in &input.blocks {
        let delta_sigma = harmful(input, block, trace)?;
        let n_e = block.n_e(&input.origins, trace);
        curve.add(delta_sigma, n_e, trace);
    }
    Ok(curve.damage())
}

/// Damage by shear stress.
fn shear(
    input: &FatigueDetailInput,
    partial: Partial,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let delta_tau_c = input.delta_tau_c(trace)?;
    let mut curve = Shear::of(delta_tau_c, partial, trace);
    for block in &input.blocks {
        let delta_tau = block.delta_tau(&input.origins, trace);
        let n_e = block.n_e(&input.origins, trace);
        curve.add(delta_tau, n_e, trace);
    }
    Ok(curve.damage())
}

/// Sum of damage by normal stress.
pub(super) struct NormalDamage;

impl Clause<FatigueDetailInput> for NormalDamage {
    fn reference(&self) -> Source {
        endurance("A.5, normal stress")
    }

    fn title(&self) -> &'static str {
        "damage sum by normal stress"
    }

    fn short(&self) -> &'static str {
        "damage, normal"
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
        let partial = Partial::of(factors, trace);
        let d_sigma = normal(input, partial, trace)?;
        step!(trace, Ratio, MINER, "damage of the spectrum"; d_e(d_sigma) = d_sigma);
        let distance = input.distance.map(|_| input.distance(trace)).transpose()?;
        life(distance, d_e, MINER, trace);
        step!(trace, Ratio, MINER, "utilisation, the sum over 1"; utilisation(d_e) = d_e / 1.0);
        Checked::new(d_e, 1.0, Dimension::Ratio, utilisation)
    }
}

/// The range that does as much damage in 2 million cycles, against the category.
pub(super) struct NormalRange;

const RANGE: Source = endurance("8(2), normal stress");

impl Clause<FatigueDetailInput> for NormalRange {
    fn reference(&self) -> Source {
        RANGE
    }

    fn title(&self) -> &'static str {
        "equivalent range of normal stress at 2 million cycles"
    }

    fn short(&self) -> &'static str {
        "range, normal"
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
        let gamma_ff = factors.gamma_ff(trace);
        let gamma_mf = factors.gamma_mf(trace);
        let delta_sigma_c = input.delta_sigma_c(trace)?;
        step!(trace, Stress, CURVE, "category over its factor";
            delta_sigma_cd(delta_sigma_c, gamma_mf) = delta_sigma_c / gamma_mf);
        step!(trace, Ratio, CURVE, "constant amplitude limit over that";
            r_d() = power(2.0 / 5.0, 1.0 / 3.0));
        step!(trace, Ratio, CURVE, "cut-off limit over that";
            r_l(r_d) = power(5.0 / 100.0, 1.0 / 5.0) * r_d);
        step!(trace, Ratio, RANGE, "cycles with their weight, so far"; n_w() = 0.0);
        let mut weighed = n_w;
        for block in &input.blocks {
            let n_w = weighed;
            let delta_sigma = harmful(input, block, trace)?;
            let n_e = block.n_e(&input.origins, trace);
            step!(trace, Ratio, RANGE, "range with its factor over the category";
                r(gamma_ff, delta_sigma, delta_sigma_cd) = gamma_ff * delta_sigma / delta_sigma_cd);
            if r < r_l {
                trace.note(|| "a range below the cut-off limit counts nothing".to_owned());
                continue;
            }
            weighed = if r < r_d {
                step!(trace, Ratio, RANGE, "cycles with their weight, so far";
                    n_w(n_w, n_e, r, r_d) = n_w + n_e * power(r, 5.0) / sq(r_d));
                n_w
            } else {
                step!(trace, Ratio, RANGE, "cycles with their weight, so far";
                    n_w(n_w, n_e, r) = n_w + n_e * cube(r));
                n_w
            };
        }
        let n_w = weighed;
        step!(trace, Stress, RANGE, "range that does the same damage in 2 million cycles";
            delta_sigma_e2(delta_sigma_cd, n_w) = delta_sigma_cd * power(n_w / 2e6, 1.0 / 3.0));
        step!(trace, Ratio, RANGE, "utilisation";
            utilisation(delta_sigma_e2, delta_sigma_cd) = delta_sigma_e2 / delta_sigma_cd);
        Checked::new(delta_sigma_e2, delta_sigma_cd, Dimension::Stress, utilisation)
    }
}

/// Sum of damage by shear stress.
pub(super) struct ShearDamage;

impl Clause<FatigueDetailInput> for ShearDamage {
    fn reference(&self) -> Source {
        endurance("A.5, shear stress")
    }

    fn title(&self) -> &'static str {
        "damage sum by shear stress"
    }

    fn short(&self) -> &'static str {
        "damage, shear"
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
        let partial = Partial::of(factors, trace);
        let d_tau = shear(input, partial, trace)?;
        step!(trace, Ratio, MINER, "damage of the spectrum"; d_e(d_tau) = d_tau);
        let distance = input.distance.map(|_| input.distance(trace)).transpose()?;
        life(distance, d_e, MINER, trace);
        step!(trace, Ratio, MINER, "utilisation, the sum over 1"; utilisation(d_e) = d_e / 1.0);
        Checked::new(d_e, 1.0, Dimension::Ratio, utilisation)
    }
}

/// The range of shear that does as much damage in 2 million cycles, against the category.
pub(super) struct ShearRange;

const SHEAR_RANGE: Source = endurance("8(2), shear stress");

impl Clause<FatigueDetailInput> for ShearRange {
    fn reference(&self) -> Source {
        SHEAR_RANGE
    }

    fn title(&self) -> &'static str {
        "equivalent range of shear stress at 2 million cycles"
    }

    fn short(&self) -> &'static str {
        "range, shear"
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
        let gamma_ff = factors.gamma_ff(trace);
        let gamma_mf = factors.gamma_mf(trace);
        let delta_tau_c = input.delta_tau_c(trace)?;
        step!(trace, Stress, CURVE, "category for shear over its factor";
            delta_tau_cd(delta_tau_c, gamma_mf) = delta_tau_c / gamma_mf);
        step!(trace, Ratio, CURVE, "cut-off limit over that"; r_l() = power(2.0 / 100.0, 1.0 / 5.0));
        step!(trace, Ratio, SHEAR_RANGE, "cycles with their weight, so far"; n_w() = 0.0);
        let mut weighed = n_w;
        for block in &input.blocks {
            let n_w = weighed;
            let delta_tau = block.delta_tau(&input.origins, trace);
            let n_e = block.n_e(&input.origins, trace);
            step!(trace, Ratio, SHEAR_RANGE, "range with its factor over the category";
                r(gamma_ff, delta_tau, delta_tau_cd) = gamma_ff * delta_tau / delta_tau_cd);
            if r < r_l {
                trace.note(|| "a range below the cut-off limit counts nothing".to_owned());
                continue;
            }
            step!(trace, Ratio, SHEAR_RANGE, "cycles with their weight, so far";
                n_w(n_w, n_e, r) = n_w + n_e * power(r, 5.0));
            weighed = n_w;
        }
        let n_w = weighed;
        step!(trace, Stress, SHEAR_RANGE, "range that does the same damage in 2 million cycles";
            delta_tau_e2(delta_tau_cd, n_w) = delta_tau_cd * power(n_w / 2e6, 1.0 / 5.0));
        step!(trace, Ratio, SHEAR_RANGE, "utilisation";
            utilisation(delta_tau_e2, delta_tau_cd) = delta_tau_e2 / delta_tau_cd);
        Checked::new(delta_tau_e2, delta_tau_cd, Dimension::Stress, utilisation)
    }
}

/// Normal and shear stress together: what is the sum of the powers of the equivalent ranges is the
/// sum of damage.
pub(super) struct BothDamage;

const BOTH: Source = endurance("8(3)");

impl Clause<FatigueDetailInput> for BothDamage {
    fn reference(&self) -> Source {
        BOTH
    }

    fn title(&self) -> &'static str {
        "normal and shear stress together"
    }

    fn short(&self) -> &'static str {
        "damage, both"
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
        let partial = Partial::of(factors, trace);
        let d_sigma = normal(input, partial, trace)?;
        let d_tau = shear(input, partial, trace)?;
        step!(trace, Ratio, BOTH, "damage of both, the cube and the fifth power of the ranges over their categories";
            d_e(d_sigma, d_tau) = d_sigma + d_tau);
        let distance = input.distance.map(|_| input.distance(trace)).transpose()?;
        life(distance, d_e, BOTH, trace);
        step!(trace, Ratio, BOTH, "utilisation, the sum over 1"; utilisation(d_e) = d_e / 1.0);
        Checked::new(d_e, 1.0, Dimension::Ratio, utilisation)
    }
}

/// The largest range must stay elastic: beyond, the curves say nothing.
pub(super) struct ElasticRange;

const ELASTIC: Source = endurance("8(1)");

impl Clause<FatigueDetailInput> for ElasticRange {
    fn reference(&self) -> Source {
        ELASTIC
    }

    fn title(&self) -> &'static str {
        "largest range for which the fatigue curves hold"
    }

    fn short(&self) -> &'static str {
        "largest range"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &FatigueDetailInput) -> Applicability {
        Applicability::only_if(input.f_y.is_some(), "the yield strength is not given")
    }

    fn formula(
        &self,
        input: &FatigueDetailInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_y = input.f_y(trace)?;
        let largest =
            |range: fn(&StressBlock) -> f64| input.blocks.iter().map(range).fold(0.0, larger);
        let of_blocks = || input.origins.of("blocks");
        let (what, value) = ("largest range of normal stress", largest(|block| block.delta_sigma));
        let sigma_max = trace.input("sigma_max", what, Dimension::Stress, value, of_blocks);
        let (what, value) = ("largest range of shear stress", largest(|block| block.delta_tau));
        let tau_max = trace.input("tau_max", what, Dimension::Stress, value, of_blocks);
        step!(trace, Stress, ELASTIC, "the larger, shear as normal stress";
            sigma_eq(sigma_max, tau_max) = larger(sigma_max, SQRT_3 * tau_max));
        step!(trace, Stress, ELASTIC, "largest range for which the curves hold";
            sigma_limit(f_y) = 1.5 * f_y);
        step!(trace, Ratio, ELASTIC, "utilisation";
            utilisation(sigma_eq, sigma_limit) = sigma_eq / sigma_limit);
        Checked::new(sigma_eq, sigma_limit, Dimension::Stress, utilisation)
    }
}
