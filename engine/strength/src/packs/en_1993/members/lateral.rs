//! Sideways buckling of bent members.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{BucklingCurve, MemberInput, MomentDiagram, Shape};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{e_of_steel, g_of_steel, general};

use super::buckling::{imperfection, reduction};
use super::class::{Class, Pressed, class_of};
use super::reduced::Reduced;

/// Sideways buckling of a bent member, any section.
///
/// The critical moment is that of sections with two axes of symmetry, and of channels bent about the
/// axis of symmetry under loads through the shear centre. Without a warping constant it is a lower
/// bound.
pub(super) struct LateralTorsional;

const LATERAL: Source = general("6.3.2.2");
const CRITICAL: Source = Source::mechanics("elastic lateral torsional buckling");

impl Clause<MemberInput> for LateralTorsional {
    fn reference(&self) -> Source {
        LATERAL
    }

    fn title(&self) -> &'static str {
        "sideways buckling of the bent member"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        if input.l_lt.is_none() {
            return Applicability::DoesNotApply("the member is held against turning".to_owned());
        }
        match input.shape {
            Shape::RoundTube | Shape::RoundBar => {
                Applicability::DoesNotApply("a round section does not buckle sideways".to_owned())
            }
            Shape::Angle => Applicability::OutsideScope(
                "the critical moment is that of sections with two axes of symmetry".to_owned(),
            ),
            Shape::Channel => Applicability::within(input.i_w.is_some(), || {
                "without the warping constant the critical moment of a channel is only a bound"
                    .to_owned()
            }),
            Shape::RectangularTube | Shape::Rectangle | Shape::WeldedI => Applicability::Applies,
        }
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let m_y_ed = input.m_y_ed(trace);
        input.i_z(trace);
        input.i_t(trace);
        let f_y = input.f_y(trace);
        let gamma_m1 = factors.gamma_m1(trace);
        let class = class_of(input, Pressed::by_m_y());
        let w_y = modulus_y(input, class, trace)?;
        let (_, chi_lt) = general_case(input, (w_y, f_y), trace)?;
        step!(trace, Moment, LATERAL, "moment"; m_ed(m_y_ed) = abs(m_y_ed));
        step!(trace, Moment, LATERAL, "moment resistance against sideways buckling";
            m_b_rd(chi_lt, w_y, f_y, gamma_m1) = chi_lt * w_y * f_y / gamma_m1);
        step!(trace, Ratio, LATERAL, "utilisation"; utilisation(m_ed, m_b_rd) = m_ed / m_b_rd);
        Checked::new(m_ed, m_b_rd, Dimension::Moment, utilisation)
    }
}

/// Slenderness and reduction by the curves of the general case.
pub(super) fn general_case(
    input: &MemberInput,
    (w_y, f_y): (f64, f64),
    trace: &mut Trace,
) -> Result<(f64, f64), NotChecked> {
    let m_cr = critical_moment(input, trace)?;
    step!(trace, Ratio, LATERAL, "slenderness"; lambda_lt(w_y, f_y, m_cr) = sqrt(w_y * f_y / m_cr));
    // Table 6.4: welded I sections by their depth, curve d for all but I sections.
    let curve = if input.shape == Shape::WeldedI && input.h <= 2.0 * input.b {
        BucklingCurve::C
    } else {
        BucklingCurve::D
    };
    let what = "imperfection factor of the curve of Table 6.4";
    let alpha_lt = trace.input("alpha_lt", what, Dimension::Ratio, imperfection(curve), || {
        Provenance::Table("EN 1993-1-1:2005, Tables 6.3 and 6.4".to_owned())
    });
    reduction!(trace, LATERAL, phi_lt, chi_lt(lambda_lt, alpha_lt));
    Ok((lambda_lt, chi_lt))
}

/// Records and returns the elastic critical moment with the moment diagram and the load height;
/// second moment and torsion constant have been read before.
fn critical_moment(input: &MemberInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let &MemberInput { i_z, i_t, .. } = input;
    let l_lt = input.l_lt(trace)?;
    let c_1 = input.c_1(trace)?;
    let i_w = warping(input, trace);
    let height = if input.z_g.is_some() {
        let z_g = input.z_g(trace)?;
        let c_2 = input.c_2(trace)?;
        step!(trace, Length, CRITICAL, "load height, weighted"; height(c_2, z_g) = c_2 * z_g);
        height
    } else {
        step!(trace, Length, CRITICAL, "load at the shear centre"; height() = 0.0);
        height
    };
    let (e_steel, g_steel) = (e_of_steel(trace), g_of_steel(trace));
    step!(trace, Moment, CRITICAL, "elastic critical moment";
        m_cr(c_1, l_lt, e_steel, i_z, i_w, g_steel, i_t, height) =
        c_1 * PI * PI * e_steel * i_z / sq(l_lt)
            * (sqrt(i_w / i_z + sq(l_lt) * g_steel * i_t / (PI * PI * e_steel * i_z) + sq(height))
                - height));
    Ok(m_cr)
}

/// Records and returns the warping constant, none if not stated.
pub(super) fn warping(input: &MemberInput, trace: &mut Trace) -> f64 {
    if let Ok(i_w) = input.i_w(trace) {
        return i_w;
    }
    step!(trace, Warping, CRITICAL, "no warping stiffness counted"; i_w() = 0.0);
    i_w
}

/// Slenderness under an even moment, for the first method of compression with bending.
pub(super) fn even_slenderness(
    input: &MemberInput,
    (w_y, f_y): (f64, f64),
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let &MemberInput { i_z, i_t, .. } = input;
    let i_w = input.i_w.unwrap_or(0.0);
    let l_lt = input.l_lt.ok_or(NotChecked::Missing {
        symbol: "l_lt",
        what: "length between points held against turning",
    })?;
    let (e_steel, g_steel) = (e_of_steel(trace), g_of_steel(trace));
    step!(trace, Moment, CRITICAL, "elastic critical moment under an even moment";
        m_cr_0(l_lt, e_steel, i_z, i_w, g_steel, i_t) =
        PI * PI * e_steel * i_z / sq(l_lt)
            * sqrt(i_w / i_z + sq(l_lt) * g_steel * i_t / (PI * PI * e_steel * i_z)));
    step!(trace, Ratio, general("Table A.1"), "slenderness under an even moment";
        lambda_0(w_y, f_y, m_cr_0) = sqrt(w_y * f_y / m_cr_0));
    Ok(lambda_0)
}

/// Sideways buckling of rolled I sections and welded ones like them: a longer plateau, and the
/// moment diagram counted twice.
pub(super) struct LateralOfI;

const OF_I: Source = general("6.3.2.3");

impl Clause<MemberInput> for LateralOfI {
    fn reference(&self) -> Source {
        OF_I
    }

    fn title(&self) -> &'static str {
        "sideways buckling of a bent I section"
    }

    fn short(&self) -> &'static str {
        "sideways, I section"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        if input.shape != Shape::WeldedI {
            return Applicability::DoesNotApply("only I sections".to_owned());
        }
        Applicability::only_if(input.l_lt.is_some(), "the member is held against turning")
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let m_y_ed = input.m_y_ed(trace);
        input.i_z(trace);
        input.i_t(trace);
        let f_y = input.f_y(trace);
        let gamma_m1 = factors.gamma_m1(trace);
        let class = class_of(input, Pressed::by_m_y());
        let w_y = modulus_y(input, class, trace)?;
        let m_cr = critical_moment(input, trace)?;
        step!(trace, Ratio, OF_I, "slenderness"; lambda_lt(w_y, f_y, m_cr) = sqrt(w_y * f_y / m_cr));
        // Table 6.5: welded sections by their depth.
        let curve = if input.h <= 2.0 * input.b { BucklingCurve::C } else { BucklingCurve::D };
        let what = "imperfection factor of the curve of Table 6.5";
        let alpha_lt = trace.input("alpha_lt", what, Dimension::Ratio, imperfection(curve), || {
            Provenance::Table("EN 1993-1-1:2005, Tables 6.3 and 6.5".to_owned())
        });
        // The recommended plateau 0.4 and factor 0.75 of (6.57).
        step!(trace, Ratio, OF_I, "auxiliary value of the buckling curve";
            phi_lt(alpha_lt, lambda_lt) =
            0.5 * (1.0 + alpha_lt * (lambda_lt - 0.4) + 0.75 * sq(lambda_lt)));
        step!(trace, Ratio, OF_I, "reduction for sideways buckling";
        chi_lt(phi_lt, lambda_lt) =
        if lambda_lt <= 0.4 { 1.0 }
        else {
            smaller(smaller(1.0, 1.0 / sq(lambda_lt)),
                    1.0 / (phi_lt + sqrt(sq(phi_lt) - 0.75 * sq(lambda_lt))))
        });
        let k_c = correction(input, trace)?;
        step!(trace, Ratio, general("6.3.2.3(2)"), "correction for the moment diagram";
            f(k_c, lambda_lt) =
            smaller(1.0, 1.0 - 0.5 * (1.0 - k_c) * (1.0 - 2.0 * sq(lambda_lt - 0.8))));
        step!(trace, Ratio, general("6.3.2.3(2)"), "reduction with the moment diagram";
            chi_mod(chi_lt, f, lambda_lt) =
            smaller(smaller(1.0, 1.0 / sq(lambda_lt)), chi_lt / f));
        step!(trace, Moment, OF_I, "moment"; m_ed(m_y_ed) = abs(m_y_ed));
        step!(trace, Moment, OF_I, "moment resistance against sideways buckling";
            m_b_rd(chi_mod, w_y, f_y, gamma_m1) = chi_mod * w_y * f_y / gamma_m1);
        step!(trace, Ratio, OF_I, "utilisation"; utilisation(m_ed, m_b_rd) = m_ed / m_b_rd);
        Checked::new(m_ed, m_b_rd, Dimension::Moment, utilisation)
    }
}

/// The factor of Table 6.6 for the moment diagram.
fn correction(input: &MemberInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let value = match input.diagram_y {
        MomentDiagram::EndMoments => {
            let psi_y = end_ratio("psi_y", input.psi_y(trace)?)?;
            step!(trace, Ratio, general("Table 6.6"), "factor of the moment diagram";
                k_c(psi_y) = 1.0 / (1.33 - 0.33 * psi_y));
            return Ok(k_c);
        }
        MomentDiagram::EvenLoad => 0.94,
        MomentDiagram::MiddleLoad => 0.86,
    };
    Ok(trace.input("k_c", "factor of the moment diagram", Dimension::Ratio, value, || {
        Provenance::Table("EN 1993-1-1:2005, Table 6.6".to_owned())
    }))
}

/// `psi` if it is a ratio of a smaller to a larger end moment.
pub(super) fn end_ratio(symbol: &'static str, psi: f64) -> Result<f64, NotChecked> {
    if (-1.0..=1.0).contains(&psi) {
        return Ok(psi);
    }
    Err(NotChecked::OutOfRange {
        symbol,
        what: "smaller over larger end moment",
        value: psi,
        dimension: Dimension::Ratio,
        allowed: "-1 to 1",
    })
}

/// The section modulus about y that the class of the section allows.
pub(super) fn modulus_y(
    input: &MemberInput,
    class: Class,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    if class == Class::Four {
        let w_eff_y = Reduced::of(input)?.w_y(input, trace)?;
        step!(trace, SectionModulus, LATERAL, "effective section modulus"; w_y(w_eff_y) = w_eff_y);
        return Ok(w_y);
    }
    if class <= Class::Two && input.w_pl_y.is_some() {
        let w_pl_y = input.w_pl_y(trace)?;
        step!(trace, SectionModulus, LATERAL, "plastic section modulus, class 1 or 2";
            w_y(w_pl_y) = w_pl_y);
        return Ok(w_y);
    }
    let w_el_y = input.w_el_y(trace);
    step!(trace, SectionModulus, LATERAL, "elastic section modulus"; w_y(w_el_y) = w_el_y);
    Ok(w_y)
}

/// The section modulus about z that the class of the section allows.
pub(super) fn modulus_z(
    input: &MemberInput,
    class: Class,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    const BENDING: Source = general("6.3.3, Table 6.7");
    if class == Class::Four {
        let w_eff_z = Reduced::of(input)?.w_z(input, trace)?;
        step!(trace, SectionModulus, BENDING, "effective section modulus"; w_z(w_eff_z) = w_eff_z);
        return Ok(w_z);
    }
    if class <= Class::Two && input.w_pl_z.is_some() {
        let w_pl_z = input.w_pl_z(trace)?;
        step!(trace, SectionModulus, BENDING, "plastic section modulus, class 1 or 2";
            w_z(w_pl_z) = w_pl_z);
        return Ok(w_z);
    }
    let w_el_z = input.w_el_z(trace);
    step!(trace, SectionModulus, BENDING, "elastic section modulus"; w_z(w_el_z) = w_el_z);
    Ok(w_z)
}
