//! Strength curves of EN 1993-1-9 and IIW, and the damage that blocks do by them.
//!
//! A block enters as the step or number `delta_sigma` or `delta_tau` with its cycles `n_e`.

use fishplate_quantity::{Source, Trace, step};

use crate::clause::Factors;
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{endurance, iiw};

pub(super) const CURVE: Source = endurance("7.1");
pub(super) const MINER: Source = endurance("A.5");
pub(super) const CURVE_IIW: Source = iiw("3.2");
pub(super) const MINER_IIW: Source = iiw("4.3.1");

/// The partial factors of EN 1993-1-9, read once a derivation.
#[derive(Clone, Copy)]
pub(super) struct Partial {
    gamma_ff: f64,
    gamma_mf: f64,
}

impl Partial {
    pub(super) fn of(factors: &Factors, trace: &mut Trace) -> Self {
        Self { gamma_ff: factors.gamma_ff(trace), gamma_mf: factors.gamma_mf(trace) }
    }
}

/// Normal stress by EN 1993-1-9: slope 3 to 5 million cycles, 5 to 100 million, then nothing.
pub(super) struct Normal {
    gamma_ff: f64,
    delta_sigma_cd: f64,
    delta_sigma_d: f64,
    delta_sigma_l: f64,
    d_sigma: f64,
}

impl Normal {
    pub(super) fn of(delta_sigma_c: f64, partial: Partial, trace: &mut Trace) -> Self {
        let Partial { gamma_ff, gamma_mf } = partial;
        step!(trace, Stress, CURVE, "category over its factor";
            delta_sigma_cd(delta_sigma_c, gamma_mf) = delta_sigma_c / gamma_mf);
        step!(trace, Stress, CURVE, "constant amplitude limit, at 5 million cycles";
            delta_sigma_d(delta_sigma_cd) = power(2.0 / 5.0, 1.0 / 3.0) * delta_sigma_cd);
        step!(trace, Stress, CURVE, "cut-off limit, at 100 million cycles";
            delta_sigma_l(delta_sigma_d) = power(5.0 / 100.0, 1.0 / 5.0) * delta_sigma_d);
        step!(trace, Ratio, MINER, "damage by normal stress, so far"; d_sigma() = 0.0);
        Self { gamma_ff, delta_sigma_cd, delta_sigma_d, delta_sigma_l, d_sigma }
    }

    pub(super) fn add(&mut self, delta_sigma: f64, n_e: f64, trace: &mut Trace) {
        let Self { gamma_ff, delta_sigma_cd, delta_sigma_d, delta_sigma_l, d_sigma } = *self;
        step!(trace, Stress, MINER, "range with its factor";
            delta_sigma_f(gamma_ff, delta_sigma) = gamma_ff * delta_sigma);
        // Written so that a range that is not a number does damage.
        if delta_sigma_f < delta_sigma_l {
            trace.note(|| "a range below the cut-off limit does no damage".to_owned());
            return;
        }
        let n_r = if delta_sigma_f >= delta_sigma_d {
            step!(trace, Ratio, CURVE, "cycles to failure, slope 3";
                n_r(delta_sigma_cd, delta_sigma_f) = 2e6 * cube(delta_sigma_cd / delta_sigma_f));
            n_r
        } else {
            step!(trace, Ratio, CURVE, "cycles to failure, slope 5";
                n_r(delta_sigma_d, delta_sigma_f) =
                5e6 * power(delta_sigma_d / delta_sigma_f, 5.0));
            n_r
        };
        step!(trace, Ratio, MINER, "damage by normal stress, so far";
            d_sigma(d_sigma, n_e, n_r) = d_sigma + n_e / n_r);
        self.d_sigma = d_sigma;
    }

    pub(super) fn damage(&self) -> f64 {
        self.d_sigma
    }
}

/// Shear stress by EN 1993-1-9: slope 5 to 100 million cycles, then nothing.
pub(super) struct Shear {
    gamma_ff: f64,
    delta_tau_cd: f64,
    delta_tau_l: f64,
    d_tau: f64,
}

impl Shear {
    pub(super) fn of(delta_tau_c: f64, partial: Partial, trace: &mut Trace) -> Self {
        let Partial { gamma_ff, gamma_mf } = partial;
        step!(trace, Stress, CURVE, "category for shear over its factor";
            delta_tau_cd(delta_tau_c, gamma_mf) = delta_tau_c / gamma_mf);
        step!(trace, Stress, CURVE, "cut-off limit for shear, at 100 million cycles";
            delta_tau_l(delta_tau_cd) = power(2.0 / 100.0, 1.0 / 5.0) * delta_tau_cd);
        step!(trace, Ratio, MINER, "damage by shear stress, so far"; d_tau() = 0.0);
        Self { gamma_ff, delta_tau_cd, delta_tau_l, d_tau }
    }

    pub(super) fn add(&mut self, delta_tau: f64, n_e: f64, trace: &mut Trace) {
        let Self { gamma_ff, delta_tau_cd, delta_tau_l, d_tau } = *self;
        step!(trace, Stress, MINER, "range of shear with its factor";
            delta_tau_f(gamma_ff, delta_tau) = gamma_ff * delta_tau);
        if delta_tau_f < delta_tau_l {
            trace.note(|| "a range of shear below the cut-off limit does no damage".to_owned());
            return;
        }
        step!(trace, Ratio, CURVE, "cycles to failure, slope 5";
            n_r(delta_tau_cd, delta_tau_f) = 2e6 * power(delta_tau_cd / delta_tau_f, 5.0));
        step!(trace, Ratio, MINER, "damage by shear stress, so far";
            d_tau(d_tau, n_e, n_r) = d_tau + n_e / n_r);
        self.d_tau = d_tau;
    }

    pub(super) fn damage(&self) -> f64 {
        self.d_tau
    }
}

/// What the curves of IIW are lowered by, read once a derivation.
#[derive(Clone, Copy)]
pub(super) struct Lowered {
    gamma_ff: f64,
    gamma_m_iiw: f64,
    f_t: f64,
}

impl Lowered {
    pub(super) fn of(f_t: f64, factors: &Factors, trace: &mut Trace) -> Self {
        Self { gamma_ff: factors.gamma_ff(trace), gamma_m_iiw: factors.gamma_m_iiw(trace), f_t }
    }
}

/// Normal stress by IIW: slope 3 to 10 million cycles, 5 beyond, without end.
pub(super) struct NormalIiw {
    gamma_ff: f64,
    fat_sigma_d: f64,
    sigma_knee: f64,
    d_sigma: f64,
}

impl NormalIiw {
    pub(super) fn of(fat_sigma: f64, lowered: Lowered, trace: &mut Trace) -> Self {
        let Lowered { gamma_ff, gamma_m_iiw, f_t } = lowered;
        step!(trace, Stress, CURVE_IIW, "FAT class over its factor";
            fat_sigma_d(fat_sigma, f_t, gamma_m_iiw) = fat_sigma * f_t / gamma_m_iiw);
        Self::from(fat_sigma_d, gamma_ff, trace)
    }

    /// For the structural stress, under the name of its class.
    pub(super) fn of_structural(fat_hs: f64, lowered: Lowered, trace: &mut Trace) -> Self {
        let Lowered { gamma_ff, gamma_m_iiw, f_t } = lowered;
        step!(trace, Stress, CURVE_IIW, "FAT class over its factor";
            fat_sigma_d(fat_hs, f_t, gamma_m_iiw) = fat_hs * f_t / gamma_m_iiw);
        Self::from(fat_sigma_d, gamma_ff, trace)
    }

    fn from(fat_sigma_d: f64, gamma_ff: f64, trace: &mut Trace) -> Self {
        step!(trace, Stress, CURVE_IIW, "knee, at 10 million cycles";
            sigma_knee(fat_sigma_d) = power(2.0 / 10.0, 1.0 / 3.0) * fat_sigma_d);
        step!(trace, Ratio, MINER_IIW, "damage by normal stress, so far"; d_sigma() = 0.0);
        Self { gamma_ff, fat_sigma_d, sigma_knee, d_sigma }
    }

    pub(super) fn add(&mut self, delta_sigma: f64, n_e: f64, trace: &mut Trace) {
        let Self { gamma_ff, fat_sigma_d, sigma_knee, d_sigma } = *self;
        step!(trace, Stress, MINER_IIW, "range with its factor";
            delta_sigma_f(gamma_ff, delta_sigma) = gamma_ff * delta_sigma);
        if delta_sigma_f <= 0.0 {
            return;
        }
        let n_r = if delta_sigma_f < sigma_knee {
            step!(trace, Ratio, CURVE_IIW, "cycles to failure, slope 5";
                n_r(sigma_knee, delta_sigma_f) = 1e7 * power(sigma_knee / delta_sigma_f, 5.0));
            n_r
        } else {
            step!(trace, Ratio, CURVE_IIW, "cycles to failure, slope 3";
                n_r(fat_sigma_d, delta_sigma_f) = 2e6 * cube(fat_sigma_d / delta_sigma_f));
            n_r
        };
        step!(trace, Ratio, MINER_IIW, "damage by normal stress, so far";
            d_sigma(d_sigma, n_e, n_r) = d_sigma + n_e / n_r);
        self.d_sigma = d_sigma;
    }

    pub(super) fn damage(&self) -> f64 {
        self.d_sigma
    }
}

/// Shear stress by IIW: slope 5 to 100 million cycles, 9 beyond, without end.
pub(super) struct ShearIiw {
    gamma_ff: f64,
    fat_tau_d: f64,
    tau_knee: f64,
    d_tau: f64,
}

impl ShearIiw {
    pub(super) fn of(fat_tau: f64, lowered: Lowered, trace: &mut Trace) -> Self {
        let Lowered { gamma_ff, gamma_m_iiw, f_t } = lowered;
        step!(trace, Stress, CURVE_IIW, "FAT class for shear over its factor";
            fat_tau_d(fat_tau, f_t, gamma_m_iiw) = fat_tau * f_t / gamma_m_iiw);
        step!(trace, Stress, CURVE_IIW, "knee for shear, at 100 million cycles";
            tau_knee(fat_tau_d) = power(2.0 / 100.0, 1.0 / 5.0) * fat_tau_d);
        step!(trace, Ratio, MINER_IIW, "damage by shear stress, so far"; d_tau() = 0.0);
        Self { gamma_ff, fat_tau_d, tau_knee, d_tau }
    }

    pub(super) fn add(&mut self, delta_tau: f64, n_e: f64, trace: &mut Trace) {
        let Self { gamma_ff, fat_tau_d, tau_knee, d_tau } = *self;
        step!(trace, Stress, MINER_IIW, "range of shear with its factor";
            delta_tau_f(gamma_ff, delta_tau) = gamma_ff * delta_tau);
        if delta_tau_f <= 0.0 {
            return;
        }
        let n_r = if delta_tau_f < tau_knee {
            step!(trace, Ratio, CURVE_IIW, "cycles to failure, slope 9";
                n_r(tau_knee, delta_tau_f) = 1e8 * power(tau_knee / delta_tau_f, 9.0));
            n_r
        } else {
            step!(trace, Ratio, CURVE_IIW, "cycles to failure, slope 5";
                n_r(fat_tau_d, delta_tau_f) = 2e6 * power(fat_tau_d / delta_tau_f, 5.0));
            n_r
        };
        step!(trace, Ratio, MINER_IIW, "damage by shear stress, so far";
            d_tau(d_tau, n_e, n_r) = d_tau + n_e / n_r);
        self.d_tau = d_tau;
    }

    pub(super) fn damage(&self) -> f64 {
        self.d_tau
    }
}
