//! Torsion: H3.1 for tubes, H3.3 for open and solid sections.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{MemberInput, Shape};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::{available, once};
use crate::packs::american::factors::TORSION;
use crate::packs::american::{aisc, e_of_steel};

use super::slender::flats;

const H3_1: Source = aisc("H3.1");
const H3_3: Source = aisc("H3.3(b)");

/// Torsion of a tube.
pub(super) struct Tube;

impl Clause<MemberInput> for Tube {
    fn reference(&self) -> Source {
        H3_1
    }

    fn title(&self) -> &'static str {
        "torsion of a tube"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        Applicability::only_if(closed(input.shape), "the section is open or solid")
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let t_c = available_torque(input, factors, trace)?;
        let t_ed = once!(trace, input.t_ed);
        step!(trace, Moment, H3_1, "torque"; t_r(t_ed) = abs(t_ed));
        step!(trace, Ratio, H3_1, "utilisation"; utilisation(t_r, t_c) = share(t_r, t_c));
        Checked::new(t_r, t_c, Dimension::Moment, utilisation)
    }
}

/// Whether a section is a tube.
pub(super) fn closed(shape: Shape) -> bool {
    matches!(shape, Shape::RectangularTube | Shape::RoundTube)
}

/// Records and returns the available torque of a tube.
///
/// The torsion constant C is that of H3.1 from the outside sizes, whatever `c_t` is given.
pub(super) fn available_torque(
    input: &MemberInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let f_y = once!(trace, input.f_y);
    let (f_t, c) = if input.shape == Shape::RoundTube {
        let h = once!(trace, input.h);
        let t = once!(trace, input.t);
        step!(trace, SectionModulus, H3_1, "torsional constant of a round tube";
            c(h, t) = PI * sq(positive(h - t)) * t / 2.0);
        // The form with the length gives more; it is left out.
        let e_steel = e_of_steel(trace);
        step!(trace, Stress, H3_1, "shear stress it stands, whatever its length";
            f_t(h, t, f_y, e_steel) = smaller(0.6 * f_y, 0.60 * e_steel / power(h / t, 1.5)));
        (f_t, c)
    } else {
        let (flat_b, flat_h, t) = flats(input, trace);
        let h = once!(trace, input.h);
        let b = once!(trace, input.b);
        step!(trace, SectionModulus, H3_1, "torsional constant of a rectangular tube";
            c(b, h, t) =
            positive(2.0 * (b - t) * (h - t) * t
                - 4.5 * (4.0 - PI) * cube(t)));
        step!(trace, Ratio, H3_1, "slenderness of the wider wall";
            lambda(flat_b, flat_h, t) = larger(flat_b, flat_h) / t);
        if lambda > 260.0 {
            return Err(NotChecked::OutOfRange {
                symbol: "t",
                what: "wall thickness",
                value: input.t,
                dimension: Dimension::Length,
                allowed: "the flat width of the wider wall over 260, or more",
            });
        }
        let e_steel = e_of_steel(trace);
        step!(trace, Stress, H3_1, "shear stress its walls stand";
        f_t(lambda, f_y, e_steel) =
        if lambda <= 2.45 * sqrt(e_steel / f_y) {
            0.6 * f_y
        } else if lambda <= 3.07 * sqrt(e_steel / f_y) {
            0.6 * f_y * 2.45 * sqrt(e_steel / f_y) / lambda
        } else {
            0.458 * PI * PI * e_steel / sq(lambda)
        });
        (f_t, c)
    };
    step!(trace, Moment, H3_1, "nominal torque"; t_n(f_t, c) = f_t * c);
    available!(trace, factors, phi_tor or omega_tor of TORSION;
        Moment, H3_1, "available torque"; t_c(t_n));
    Ok(t_c)
}

/// Shear stress of torsion in an open or solid section.
pub(super) struct Open;

impl Clause<MemberInput> for Open {
    fn reference(&self) -> Source {
        H3_3
    }

    fn title(&self) -> &'static str {
        "shear stress of torsion in an open or solid section"
    }

    fn short(&self) -> &'static str {
        "torsion, open section"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        Applicability::only_if(!closed(input.shape), "the section is a tube")
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let t_ed = once!(trace, input.t_ed);
        let i_t = once!(trace, input.i_t);
        let t = once!(trace, input.t);
        let f_y = once!(trace, input.f_y);
        let torsion = Source::mechanics("St Venant torsion of an open or solid section");
        let tau_v = if input.shape == Shape::RoundBar {
            step!(trace, Stress, torsion, "shear stress of the torque at the surface";
                tau_v(t_ed, t, i_t) = abs(t_ed) * (t / 2.0) / i_t);
            tau_v
        } else {
            step!(trace, Stress, torsion, "shear stress of the torque";
                tau_v(t_ed, t, i_t) = abs(t_ed) * t / i_t);
            tau_v
        };
        let tau = if input.tau_w.is_some() {
            let tau_w = once!(trace, input.tau_w)?;
            step!(trace, Stress, torsion, "that of warping added"; tau(tau_v, tau_w) = tau_v + tau_w);
            tau
        } else {
            step!(trace, Stress, torsion, "shear stress"; tau(tau_v) = tau_v);
            tau
        };
        step!(trace, Stress, H3_3, "shear yield strength"; f_n(f_y) = 0.6 * f_y);
        available!(trace, factors, phi_tor or omega_tor of TORSION;
            Stress, H3_3, "available shear stress"; f_c(f_n));
        step!(trace, Ratio, H3_3, "utilisation"; utilisation(tau, f_c) = tau / f_c);
        Checked::new(tau, f_c, Dimension::Stress, utilisation)
    }
}

const H3_3A: Source = aisc("H3.3(a), edge of a section");

/// Normal stress where torsion is restrained, all parts of one sign.
pub(super) struct Warping;

impl Clause<MemberInput> for Warping {
    fn reference(&self) -> Source {
        H3_3A
    }

    fn title(&self) -> &'static str {
        "normal stress of restrained torsion with axial force and bending"
    }

    fn short(&self) -> &'static str {
        "restrained torsion"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        Applicability::only_if(input.b_ed.is_some(), "no bimoment of restrained torsion is given")
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let b_ed = once!(trace, input.b_ed)?;
        let omega = once!(trace, input.omega)?;
        let i_w = once!(trace, input.i_w)?;
        let n_ed = once!(trace, input.n_ed);
        let m_y_ed = once!(trace, input.m_y_ed);
        let m_z_ed = once!(trace, input.m_z_ed);
        let a = once!(trace, input.a);
        let w_el_y = once!(trace, input.w_el_y);
        let w_el_z = once!(trace, input.w_el_z);
        let f_y = once!(trace, input.f_y);
        step!(trace, Stress, Source::mechanics("restrained torsion of an open section"),
            "normal stress of warping"; f_w(b_ed, omega, i_w) = abs(b_ed) * omega / i_w);
        step!(trace, Stress, H3_3A, "largest normal stress, all parts of one sign";
            f_r(n_ed, a, m_y_ed, w_el_y, m_z_ed, w_el_z, f_w) =
            abs(n_ed) / a + abs(m_y_ed) / w_el_y + abs(m_z_ed) / w_el_z + f_w);
        available!(trace, factors, phi_tor or omega_tor of TORSION;
            Stress, H3_3A, "available normal stress"; f_c(f_y));
        step!(trace, Ratio, H3_3A, "utilisation"; utilisation(f_r, f_c) = f_r / f_c);
        Checked::new(f_r, f_c, Dimension::Stress, utilisation)
    }
}
