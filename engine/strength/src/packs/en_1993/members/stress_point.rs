//! First yield at a named point of a section of any shape.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::StressPointInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{e_of_steel, g_of_steel, general};

/// First yield at one point: unsymmetric bending, axial force, shear, restrained torsion.
///
/// Restrained torsion takes all of the torque by warping, B = T L at the root, which is the upper
/// bound of B = T tanh(k L) / k and exact for short brackets; the part of the section that would
/// twist freely gets no share. The size of its stress is added whatever its sign.
pub(super) struct FirstYield;

const YIELD: Source = general("6.2.1(5), at a point");
const BENDING: Source = Source::mechanics("bending about axes that are not principal");
const WARPING: Source = Source::mechanics("restrained torsion of an open section");

impl Clause<StressPointInput> for FirstYield {
    fn reference(&self) -> Source {
        YIELD
    }

    fn title(&self) -> &'static str {
        "first yield at a point of the section"
    }

    fn applies(&self, input: &StressPointInput) -> Applicability {
        let Some((l_t, i_t, i_w)) = torsion_data(input) else {
            return Applicability::Applies;
        };
        let k_l = decay(&mut Trace::off(), l_t, i_t, i_w);
        Applicability::within(k_l < 0.5, || {
            format!(
                "k L is {k_l:.2}, not below 0.5: warping and free torsion share the torque, plates \
                 must decide"
            )
        })
    }

    fn formula(
        &self,
        input: &StressPointInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let m_x = input.m_x(trace);
        let m_y = input.m_y(trace);
        let a = input.a(trace);
        let i_x = input.i_x(trace);
        let i_y = input.i_y(trace);
        let i_xy = input.i_xy(trace);
        if i_x * i_y <= i_xy * i_xy {
            return Err(NotChecked::OutOfRange {
                symbol: "i_xy",
                what: "product moment",
                value: i_xy,
                dimension: Dimension::SecondMoment,
                allowed: "less than the root of the product of both second moments",
            });
        }
        let x = input.x(trace);
        let y = input.y(trace);
        step!(trace, Stress, BENDING, "normal stress of axial force and bending";
            sigma_nm(n_ed, a, m_x, m_y, i_x, i_y, i_xy, x, y) =
            n_ed / a
                + ((m_x * i_y - m_y * i_xy) * y + (m_y * i_x - m_x * i_xy) * x)
                    / (i_x * i_y - sq(i_xy)));
        let sigma = if input.t_ed.is_some() {
            let t_ed = input.t_ed(trace)?;
            let l_t = input.l_t(trace)?;
            let i_t = input.i_t(trace)?;
            let i_w = input.i_w(trace)?;
            let omega = input.omega(trace)?;
            decay(trace, l_t, i_t, i_w);
            step!(trace, Bimoment, WARPING, "bimoment at the root"; b_ed(t_ed, l_t) = abs(t_ed) * l_t);
            step!(trace, Stress, WARPING, "size of the warping stress";
                sigma_w(b_ed, omega, i_w) = b_ed * abs(omega) / i_w);
            step!(trace, Stress, YIELD, "size of the normal stress";
                sigma(sigma_nm, sigma_w) = abs(sigma_nm) + sigma_w);
            sigma
        } else {
            step!(trace, Stress, YIELD, "size of the normal stress";
                sigma(sigma_nm) = abs(sigma_nm));
            sigma
        };
        let tau_ed = input.tau_ed(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Stress, YIELD, "comparison stress";
            sigma_eq(sigma, tau_ed) = sqrt(sq(sigma) + 3.0 * sq(tau_ed)));
        step!(trace, Stress, YIELD, "yield strength over its factor";
            f_yd(f_y, gamma_m0) = f_y / gamma_m0);
        step!(trace, Ratio, YIELD, "utilisation"; utilisation(sigma_eq, f_yd) = sigma_eq / f_yd);
        Checked::new(sigma_eq, f_yd, Dimension::Stress, utilisation)
    }
}

/// Length, torsion and warping constants if a torque is stated.
fn torsion_data(input: &StressPointInput) -> Option<(f64, f64, f64)> {
    input.t_ed?;
    Some((input.l_t?, input.i_t?, input.i_w?))
}

/// Records and returns k L, the length over that in which warping dies away.
fn decay(trace: &mut Trace, l_t: f64, i_t: f64, i_w: f64) -> f64 {
    let (e_steel, g_steel) = (e_of_steel(trace), g_of_steel(trace));
    step!(trace, Ratio, WARPING, "length over the length in which warping dies away";
        k_l(l_t, g_steel, i_t, e_steel, i_w) = l_t * sqrt(g_steel * i_t / (e_steel * i_w)));
    k_l
}
