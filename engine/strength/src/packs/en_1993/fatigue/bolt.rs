//! Bolts under repeated force.

use fishplate_quantity::algebra::larger;
use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{BoltBlock, FatigueBoltInput, ShearPlane, ShearReversal};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::{MM, MPA, endurance, preload};

use super::curve::{Normal, Partial, Shear};
use super::life::life;

const LOAD_FACTOR: Source = preload("5.1.1, load factor while the joint is closed");

fn pulled(input: &FatigueBoltInput) -> bool {
    input.blocks.iter().any(|block| block.delta_f_t > 0.0)
}

/// The bolt with its preload, if any.
struct Clamp {
    f_v_min: f64,
    phi: f64,
}

impl Clamp {
    /// Lets preload and load factor in; nothing without a preload.
    fn of(input: &FatigueBoltInput, trace: &mut Trace) -> Result<Option<Self>, NotChecked> {
        if input.f_v_min.is_none() {
            return Ok(None);
        }
        let f_v_min = input.f_v_min(trace)?;
        let phi = input.phi(trace)?;
        if phi > 1.0 {
            return Err(NotChecked::OutOfRange {
                symbol: "phi",
                what: "load factor of the joint",
                value: phi,
                dimension: Dimension::Ratio,
                allowed: "at most 1",
            });
        }
        Ok(Some(Self { f_v_min, phi }))
    }
}

/// Records and returns the range of the stress in the thread in a block. A closed joint gives the
/// bolt its share of the pull, an open one all of it; a bolt is never pressed.
fn thread_range(
    input: &FatigueBoltInput,
    block: &BoltBlock,
    clamp: Option<&Clamp>,
    a_s: f64,
    trace: &mut Trace,
) -> f64 {
    let delta_f_t = block.delta_f_t(&input.origins, trace);
    let f_t_min = block.f_t_min(&input.origins, trace);
    let delta_f_b = match clamp {
        Some(&Clamp { f_v_min, phi }) => {
            step!(trace, Force, LOAD_FACTOR, "largest force in the bolt, closed or open";
                f_b_max(f_v_min, phi, f_t_min, delta_f_t) = positive(
                    larger(f_v_min + phi * (f_t_min + delta_f_t), f_t_min + delta_f_t)));
            step!(trace, Force, LOAD_FACTOR, "least force in the bolt, closed or open";
                f_b_min(f_v_min, phi, f_t_min) =
                positive(larger(f_v_min + phi * f_t_min, f_t_min)));
            step!(trace, Force, LOAD_FACTOR, "range of the force in the bolt";
                delta_f_b(f_b_max, f_b_min) = f_b_max - f_b_min);
            delta_f_b
        }
        None => {
            step!(trace, Force, LOAD_FACTOR, "range of the force in a bolt without preload";
                delta_f_b(f_t_min, delta_f_t) =
                positive(f_t_min + delta_f_t) - positive(f_t_min));
            delta_f_b
        }
    };
    step!(trace, Stress, LOAD_FACTOR, "range on the tensile stress area";
        delta_sigma(delta_f_b, a_s) = delta_f_b / a_s);
    delta_sigma
}

/// Thread in tension, category 50.
pub(super) struct Tension;

const TENSION: Source = endurance("Table 8.1 (14)");

impl Clause<FatigueBoltInput> for Tension {
    fn reference(&self) -> Source {
        TENSION
    }

    fn title(&self) -> &'static str {
        "bolt under repeated pull"
    }

    fn short(&self) -> &'static str {
        "bolt, pull"
    }

    fn applies(&self, input: &FatigueBoltInput) -> Applicability {
        Applicability::only_if(pulled(input), "no pull repeats")
    }

    fn formula(
        &self,
        input: &FatigueBoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let d = input.d(trace);
        let a_s = input.a_s(trace);
        step!(trace, Ratio, TENSION, "factor of the size, above 30 mm";
            k_s(d) = smaller(1.0, power(30.0 * MM / d, 0.25)));
        step!(trace, Stress, TENSION, "category 50 with that factor";
            delta_sigma_c(k_s) = 50.0 * MPA * k_s);
        let clamp = Clamp::of(input, trace)?;
        let partial = Partial::of(factors, trace);
        let mut curve = Normal::of(delta_sigma_c, partial, trace);
        for block in &input.blocks {
            let delta_sigma = thread_range(input, block, clamp.as_ref(), a_s, trace);
            let n_e = block.n_e(&input.origins, trace);
            curve.add(delta_sigma, n_e, trace);
        }
        let d_sigma = curve.damage();
        step!(trace, Ratio, TENSION, "damage of the spectrum"; d_e(d_sigma) = d_sigma);
        let distance = input.distance.map(|_| input.distance(trace)).transpose()?;
        life(distance, d_e, TENSION, trace);
        step!(trace, Ratio, TENSION, "utilisation, the sum over 1"; utilisation(d_e) = d_e / 1.0);
        Checked::new(d_e, 1.0, Dimension::Ratio, utilisation)
    }
}

/// Endurance limit of the thread: every block is held against it as if it came without end.
pub(super) struct Endurance;

const ENDURANCE: Source = preload("R9, alternating stress");

impl Clause<FatigueBoltInput> for Endurance {
    fn reference(&self) -> Source {
        ENDURANCE
    }

    fn title(&self) -> &'static str {
        "bolt under repeated pull, endurance limit"
    }

    fn short(&self) -> &'static str {
        "bolt, endurance"
    }

    fn applies(&self, input: &FatigueBoltInput) -> Applicability {
        if !pulled(input) {
            return Applicability::DoesNotApply("no pull repeats".to_owned());
        }
        Applicability::within((6.0 * MM..=40.0 * MM).contains(&input.d), || {
            "the endurance limits were found on bolts from 6 to 40 mm".to_owned()
        })
    }

    fn formula(
        &self,
        input: &FatigueBoltInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let d = input.d(trace);
        let a_s = input.a_s(trace);
        let clamp = Clamp::of(input, trace)?;
        let ranges: Vec<f64> = input
            .blocks
            .iter()
            .map(|block| thread_range(input, block, clamp.as_ref(), a_s, trace))
            .collect();
        let largest = ranges.into_iter().fold(0.0, larger);
        let what = "largest of these ranges";
        let delta_sigma_max =
            trace.input("delta_sigma_max", what, Dimension::Stress, largest, || {
                input.origins.of("blocks")
            });
        step!(trace, Stress, ENDURANCE, "amplitude";
            sigma_a(delta_sigma_max) = 0.5 * delta_sigma_max);
        step!(trace, Stress, ENDURANCE, "endurance limit of threads rolled before hardening";
            sigma_asv(d) = 0.85 * (150.0 * MM / d + 45.0) * MPA);
        step!(trace, Stress, ENDURANCE, "that over a safety of 1.2";
            sigma_ad(sigma_asv) = sigma_asv / 1.2);
        step!(trace, Ratio, ENDURANCE, "utilisation";
            utilisation(sigma_a, sigma_ad) = sigma_a / sigma_ad);
        Checked::new(sigma_a, sigma_ad, Dimension::Stress, utilisation)
    }
}

/// Shank in shear, category 100.
pub(super) struct ShankShear;

const SHEAR: Source = endurance("Table 8.1 (15)");

impl Clause<FatigueBoltInput> for ShankShear {
    fn reference(&self) -> Source {
        SHEAR
    }

    fn title(&self) -> &'static str {
        "bolt under repeated shear"
    }

    fn short(&self) -> &'static str {
        "bolt, shear"
    }

    fn applies(&self, input: &FatigueBoltInput) -> Applicability {
        let sheared = input.blocks.iter().any(|block| block.delta_f_v > 0.0);
        Applicability::only_if(sheared, "no shear repeats")
    }

    fn formula(
        &self,
        input: &FatigueBoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        if input.plane == ShearPlane::Threads {
            let reason = "no class is known for repeated shear across the thread: put the shank \
                          into the shear plane, or let preload carry the shear";
            return Err(NotChecked::NoRule { reason: reason.to_owned() });
        }
        if input.reversal == ShearReversal::Reverses {
            let reason = "no class is known for shear that changes its sign on a bolt in a hole: \
                          let preload or a fitted bolt carry it";
            return Err(NotChecked::NoRule { reason: reason.to_owned() });
        }
        let a_shank = input.a_shank(trace)?;
        step!(trace, Stress, SHEAR, "category"; delta_tau_c() = 100.0 * MPA);
        let partial = Partial::of(factors, trace);
        let mut curve = Shear::of(delta_tau_c, partial, trace);
        for block in &input.blocks {
            let delta_f_v = block.delta_f_v(&input.origins, trace);
            let n_e = block.n_e(&input.origins, trace);
            step!(trace, Stress, SHEAR, "range of shear on the shank";
                delta_tau(delta_f_v, a_shank) = delta_f_v / a_shank);
            curve.add(delta_tau, n_e, trace);
        }
        let d_tau = curve.damage();
        step!(trace, Ratio, SHEAR, "damage of the spectrum"; d_e(d_tau) = d_tau);
        let distance = input.distance.map(|_| input.distance(trace)).transpose()?;
        life(distance, d_e, SHEAR, trace);
        step!(trace, Ratio, SHEAR, "utilisation, the sum over 1"; utilisation(d_e) = d_e / 1.0);
        Checked::new(d_e, 1.0, Dimension::Ratio, utilisation)
    }
}
