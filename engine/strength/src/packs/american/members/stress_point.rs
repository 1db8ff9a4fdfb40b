//! Stresses at a named point of a section of any shape: H3.3 and H2.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::StressPointInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::{available, once};
use crate::packs::american::factors::{BENDING, COMPRESSION, TENSION_YIELD, TORSION};
use crate::packs::american::{aisc, e_of_steel, g_of_steel};

const NORMAL: Source = aisc("H3.3(a)");
const TANGENTIAL: Source = aisc("H3.3(b), at a point");
const BOTH: Source = Source::mechanics("comparison stress beside the limits of AISC 360, H3.3");
const BUCKLING: Source = aisc("H2, at a point");
const PLANE: Source = Source::mechanics("bending about axes that are not principal");
const WARPING: Source = Source::mechanics("restrained torsion of an open section");

/// First yield under normal stress: axial force, bending about any axes, restrained torsion.
///
/// Restrained torsion takes all of the torque by warping, B = T L at the root: the upper bound,
/// exact for short brackets. The size of its stress is added whatever its sign.
pub(super) struct NormalStress;

impl Clause<StressPointInput> for NormalStress {
    fn reference(&self) -> Source {
        NORMAL
    }

    fn title(&self) -> &'static str {
        "yielding under normal stress at a point"
    }

    fn short(&self) -> &'static str {
        "normal stress"
    }

    fn applies(&self, input: &StressPointInput) -> Applicability {
        short_enough(input)
    }

    fn formula(
        &self,
        input: &StressPointInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let sigma = normal_stress(input, trace)?;
        let f_y = once!(trace, input.f_y);
        available!(trace, factors, phi_tor or omega_tor of TORSION;
            Stress, NORMAL, "available normal stress"; f_c(f_y));
        step!(trace, Ratio, NORMAL, "utilisation"; utilisation(sigma, f_c) = sigma / f_c);
        Checked::new(sigma, f_c, Dimension::Stress, utilisation)
    }
}

/// Yielding under shear stress.
pub(super) struct ShearStress;

impl Clause<StressPointInput> for ShearStress {
    fn reference(&self) -> Source {
        TANGENTIAL
    }

    fn title(&self) -> &'static str {
        "yielding under shear stress at a point"
    }

    fn short(&self) -> &'static str {
        "shear stress"
    }

    fn applies(&self, _: &StressPointInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &StressPointInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let tau_ed = once!(trace, input.tau_ed);
        let f_y = once!(trace, input.f_y);
        step!(trace, Stress, TANGENTIAL, "size of the shear stress"; tau(tau_ed) = abs(tau_ed));
        step!(trace, Stress, TANGENTIAL, "shear yield strength"; f_n(f_y) = 0.6 * f_y);
        available!(trace, factors, phi_tor or omega_tor of TORSION;
            Stress, TANGENTIAL, "available shear stress"; f_c(f_n));
        step!(trace, Ratio, TANGENTIAL, "utilisation"; utilisation(tau, f_c) = tau / f_c);
        Checked::new(tau, f_c, Dimension::Stress, utilisation)
    }
}

/// Yielding under both. AISC 360 sets the two limits side by side; where both stresses are high at
/// one place, that is not the safe side.
pub(super) struct ComparisonStress;

impl Clause<StressPointInput> for ComparisonStress {
    fn reference(&self) -> Source {
        BOTH
    }

    fn title(&self) -> &'static str {
        "yielding under normal and shear stress together at a point"
    }

    fn short(&self) -> &'static str {
        "comparison stress"
    }

    fn applies(&self, input: &StressPointInput) -> Applicability {
        short_enough(input)
    }

    fn formula(
        &self,
        input: &StressPointInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let sigma = normal_stress(input, trace)?;
        let tau_ed = once!(trace, input.tau_ed);
        let f_y = once!(trace, input.f_y);
        step!(trace, Stress, BOTH, "comparison stress, shear yielding at 0.6 Fy";
            sigma_eq(sigma, tau_ed) = hypot(sigma, tau_ed / 0.6));
        available!(trace, factors, phi_tor or omega_tor of TORSION;
            Stress, BOTH, "available stress"; f_c(f_y));
        step!(trace, Ratio, BOTH, "utilisation"; utilisation(sigma_eq, f_c) = sigma_eq / f_c);
        Checked::new(sigma_eq, f_c, Dimension::Stress, utilisation)
    }
}

/// Axial force and bending about the principal axes, each stress against what buckling of the
/// member leaves of it; signs count.
pub(super) struct Interaction;

impl Clause<StressPointInput> for Interaction {
    fn reference(&self) -> Source {
        BUCKLING
    }

    fn title(&self) -> &'static str {
        "stresses of axial force and bending at a point against what buckling leaves"
    }

    fn short(&self) -> &'static str {
        "interaction at a point"
    }

    fn applies(&self, input: &StressPointInput) -> Applicability {
        if input.f_n_a.is_none() || input.f_n_x.is_none() || input.f_n_y.is_none() {
            return Applicability::DoesNotApply(
                "the nominal stresses of the member are not given".to_owned(),
            );
        }
        let principal = input.i_xy.abs() <= 1e-6 * (input.i_x * input.i_y).sqrt();
        Applicability::only_if(principal, "x and y are not the principal axes")
    }

    fn formula(
        &self,
        input: &StressPointInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = once!(trace, input.n_ed);
        let m_x = once!(trace, input.m_x);
        let m_y = once!(trace, input.m_y);
        let a = once!(trace, input.a);
        let i_x = once!(trace, input.i_x);
        let i_y = once!(trace, input.i_y);
        let x = once!(trace, input.x);
        let y = once!(trace, input.y);
        let f_n_a = once!(trace, input.f_n_a)?;
        let f_n_x = once!(trace, input.f_n_x)?;
        let f_n_y = once!(trace, input.f_n_y)?;
        step!(trace, Stress, BUCKLING, "stress of the axial force"; f_ra(n_ed, a) = n_ed / a);
        step!(trace, Stress, BUCKLING, "stress of bending about x"; f_rx(m_x, i_x, y) = m_x * y / i_x);
        step!(trace, Stress, BUCKLING, "stress of bending about y"; f_ry(m_y, i_y, x) = m_y * x / i_y);
        let f_ca = if input.n_ed >= 0.0 {
            available!(trace, factors, phi_t or omega_t of TENSION_YIELD;
                Stress, BUCKLING, "available stress in tension"; f_ca(f_n_a));
            f_ca
        } else {
            available!(trace, factors, phi_c or omega_c of COMPRESSION;
                Stress, BUCKLING, "available stress in compression"; f_ca(f_n_a));
            f_ca
        };
        available!(trace, factors, phi_b or omega_b of BENDING;
            Stress, BUCKLING, "available stress of bending about x"; f_cx(f_n_x));
        available!(trace, factors, phi_b or omega_b of BENDING;
            Stress, BUCKLING, "available stress of bending about y"; f_cy(f_n_y));
        step!(trace, Ratio, BUCKLING, "utilisation, (H2-1)";
            utilisation(f_ra, f_ca, f_rx, f_cx, f_ry, f_cy) =
            abs(f_ra / f_ca + f_rx / f_cx + f_ry / f_cy));
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}

/// Where warping and free torsion share the torque, the bound of restrained torsion says little.
fn short_enough(input: &StressPointInput) -> Applicability {
    let (Some(_), Some(l_t), Some(i_t), Some(i_w)) = (input.t_ed, input.l_t, input.i_t, input.i_w)
    else {
        return Applicability::Applies;
    };
    let k_l = decay(&mut Trace::off(), l_t, i_t, i_w);
    Applicability::within(k_l < 0.5, || {
        format!(
            "k L is {k_l:.2}, not below 0.5: warping and free torsion share the torque, plates must \
             decide"
        )
    })
}

/// Records and returns k L, the length over that in which warping dies away.
fn decay(trace: &mut Trace, l_t: f64, i_t: f64, i_w: f64) -> f64 {
    let g_steel = g_of_steel(trace);
    let e_steel = e_of_steel(trace);
    step!(trace, Ratio, WARPING, "length over the length in which warping dies away";
        k_l(l_t, i_t, i_w, e_steel, g_steel) = l_t * sqrt(g_steel * i_t / (e_steel * i_w)));
    k_l
}

/// Records and returns the size of the normal stress at the point.
fn normal_stress(input: &StressPointInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let n_ed = once!(trace, input.n_ed);
    let m_x = once!(trace, input.m_x);
    let m_y = once!(trace, input.m_y);
    let a = once!(trace, input.a);
    let i_x = once!(trace, input.i_x);
    let i_y = once!(trace, input.i_y);
    let i_xy = once!(trace, input.i_xy);
    if i_x * i_y <= i_xy * i_xy {
        return Err(NotChecked::OutOfRange {
            symbol: "i_xy",
            what: "product moment",
            value: i_xy,
            dimension: Dimension::SecondMoment,
            allowed: "less than the root of the product of both second moments",
        });
    }
    let x = once!(trace, input.x);
    let y = once!(trace, input.y);
    step!(trace, Stress, PLANE, "normal stress of axial force and bending";
        sigma_nm(n_ed, a, m_x, m_y, i_x, i_y, i_xy, x, y) =
        n_ed / a
            + ((m_x * i_y - m_y * i_xy) * y + (m_y * i_x - m_x * i_xy) * x)
                / (i_x * i_y - sq(i_xy)));
    if input.t_ed.is_none() {
        step!(trace, Stress, NORMAL, "size of the normal stress"; sigma(sigma_nm) = abs(sigma_nm));
        return Ok(sigma);
    }
    let t_ed = once!(trace, input.t_ed)?;
    let l_t = once!(trace, input.l_t)?;
    let i_t = once!(trace, input.i_t)?;
    let i_w = once!(trace, input.i_w)?;
    let omega = once!(trace, input.omega)?;
    decay(trace, l_t, i_t, i_w);
    step!(trace, Bimoment, WARPING, "bimoment at the root"; b_ed(t_ed, l_t) = abs(t_ed) * l_t);
    step!(trace, Stress, WARPING, "size of the warping stress";
        sigma_w(b_ed, omega, i_w) = b_ed * abs(omega) / i_w);
    step!(trace, Stress, NORMAL, "size of the normal stress";
        sigma(sigma_nm, sigma_w) = abs(sigma_nm) + sigma_w);
    Ok(sigma)
}
