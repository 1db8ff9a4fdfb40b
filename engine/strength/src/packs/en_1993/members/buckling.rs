//! Buckling of members.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{BucklingCurve, EndsSway, MemberInput, Shape};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{E, G, general};

use super::class::{Class, class_4, class_of};

/// The reduction factor of the buckling curves, in two steps: binds `$phi` and `$chi`.
macro_rules! reduction {
    ($trace:expr, $source:expr, $phi:ident, $chi:ident($lambda:ident, $alpha:ident)) => {
        fishplate_quantity::step!($trace, Ratio, $source, "auxiliary value of the buckling curve";
            $phi($alpha, $lambda) = 0.5 * (1.0 + $alpha * ($lambda - 0.2) + sq($lambda)));
        fishplate_quantity::step!($trace, Ratio, $source, "reduction for buckling";
            $chi($phi, $lambda) =
            if $lambda <= 0.2 {
                1.0
            } else {
                smaller(1.0, 1.0 / ($phi + sqrt(sq($phi) - sq($lambda))))
            });
    };
}
pub(in crate::packs::en_1993) use reduction;

/// Buckling of a compressed member about either axis.
pub(super) struct Flexural;

const FLEXURAL: Source = general("6.3.1");

impl Clause<MemberInput> for Flexural {
    fn reference(&self) -> Source {
        FLEXURAL
    }

    fn title(&self) -> &'static str {
        "buckling of the member under axial force"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        Applicability::only_if(input.n_ed < 0.0, "the member is not compressed")
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let strut = Strut::read(input, factors, trace)?;
        let (n_b_y, _) = about_y(input, trace, &strut)?;
        let (n_b_z, _) = about_z(input, trace, &strut)?;
        let n_ed = input.n_ed(trace);
        step!(trace, Force, FLEXURAL, "compression"; n_c_ed(n_ed) = abs(n_ed));
        step!(trace, Force, FLEXURAL, "buckling resistance, the smaller of both axes";
            n_b_rd(n_b_y, n_b_z) = smaller(n_b_y, n_b_z));
        step!(trace, Ratio, FLEXURAL, "utilisation"; utilisation(n_c_ed, n_b_rd) = n_c_ed / n_b_rd);
        Checked::new(n_c_ed, n_b_rd, Dimension::Force, utilisation)
    }
}

/// What buckling about both axes shares.
struct Strut {
    a: f64,
    f_y: f64,
    alpha: f64,
    gamma_m1: f64,
}

impl Strut {
    fn read(input: &MemberInput, factors: &Factors, trace: &mut Trace) -> Result<Self, NotChecked> {
        if class_of(input) == Class::Four {
            return Err(class_4());
        }
        let value = imperfection(input.curve);
        let what = "imperfection factor of the buckling curve";
        let alpha = trace.input("alpha", what, Dimension::Ratio, value, || {
            Provenance::Table("EN 1993-1-1:2005, Table 6.1".to_owned())
        });
        let a = input.a(trace);
        let f_y = input.f_y(trace);
        Ok(Self { a, f_y, alpha, gamma_m1: factors.gamma_m1(trace) })
    }
}

fn imperfection(curve: BucklingCurve) -> f64 {
    match curve {
        BucklingCurve::A0 => 0.13,
        BucklingCurve::A => 0.21,
        BucklingCurve::B => 0.34,
        BucklingCurve::C => 0.49,
        BucklingCurve::D => 0.76,
    }
}

/// Buckling resistance and slenderness about one axis.
macro_rules! about_axis {
    ($function:ident, $i:ident, $l_cr:ident, $n_cr:ident, $lambda:ident, $phi:ident, $chi:ident,
     $n_b:ident) => {
        fn $function(
            input: &MemberInput,
            trace: &mut Trace,
            strut: &Strut,
        ) -> Result<(f64, f64), NotChecked> {
            let &Strut { a, f_y, alpha, gamma_m1 } = strut;
            let $i = input.$i(trace);
            let $l_cr = input.$l_cr(trace)?;
            step!(trace, Force, FLEXURAL, "elastic critical force";
                $n_cr($i, $l_cr) = PI * PI * E * $i / sq($l_cr));
            step!(trace, Ratio, FLEXURAL, "slenderness";
                $lambda(a, f_y, $n_cr) = sqrt(a * f_y / $n_cr));
            reduction!(trace, FLEXURAL, $phi, $chi($lambda, alpha));
            step!(trace, Force, FLEXURAL, "buckling resistance";
                $n_b($chi, a, f_y, gamma_m1) = $chi * a * f_y / gamma_m1);
            Ok(($n_b, $lambda))
        }
    };
}

about_axis!(about_y, i_y, l_cr_y, n_cr_y, lambda_y, phi_y, chi_y, n_b_y);
about_axis!(about_z, i_z, l_cr_z, n_cr_z, lambda_z, phi_z, chi_z, n_b_z);

/// Sideways buckling of a bent member.
///
/// The critical moment leaves out the warping stiffness, which makes it a lower bound for loads at
/// the shear centre: exact for flats. Loads above the shear centre need a smaller `c_1`.
pub(super) struct LateralTorsional;

const LATERAL: Source = general("6.3.2.2");

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
            Shape::RoundTube => {
                Applicability::DoesNotApply("a round tube does not buckle sideways".to_owned())
            }
            Shape::Angle | Shape::Channel => Applicability::OutsideScope(
                "the critical moment is that of sections with two axes of symmetry".to_owned(),
            ),
            Shape::RectangularTube | Shape::Rectangle => Applicability::Applies,
        }
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let class = class_of(input);
        if class == Class::Four {
            return Err(class_4());
        }
        let m_y_ed = input.m_y_ed(trace);
        let i_z = input.i_z(trace);
        let i_t = input.i_t(trace);
        let f_y = input.f_y(trace);
        let l_lt = input.l_lt(trace)?;
        let c_1 = input.c_1(trace)?;
        let gamma_m1 = factors.gamma_m1(trace);
        let w_y = modulus_y(input, class, trace)?;
        step!(trace, Moment, Source::mechanics("lateral torsional buckling without warping"),
            "elastic critical moment";
            m_cr(c_1, l_lt, i_z, i_t) = c_1 * PI / l_lt * sqrt(E * i_z * (G * i_t)));
        step!(trace, Ratio, LATERAL, "slenderness"; lambda_lt(w_y, f_y, m_cr) = sqrt(w_y * f_y / m_cr));
        let value = imperfection(BucklingCurve::D);
        let what = "imperfection factor, curve d of Table 6.4";
        let alpha_lt = trace.input("alpha_lt", what, Dimension::Ratio, value, || {
            Provenance::Table("EN 1993-1-1:2005, Table 6.3".to_owned())
        });
        reduction!(trace, LATERAL, phi_lt, chi_lt(lambda_lt, alpha_lt));
        step!(trace, Moment, LATERAL, "moment"; m_ed(m_y_ed) = abs(m_y_ed));
        step!(trace, Moment, LATERAL, "moment resistance against sideways buckling";
            m_b_rd(chi_lt, w_y, f_y, gamma_m1) = chi_lt * w_y * f_y / gamma_m1);
        step!(trace, Ratio, LATERAL, "utilisation"; utilisation(m_ed, m_b_rd) = m_ed / m_b_rd);
        Checked::new(m_ed, m_b_rd, Dimension::Moment, utilisation)
    }
}

/// The section modulus about y that the class of the section allows.
fn modulus_y(input: &MemberInput, class: Class, trace: &mut Trace) -> Result<f64, NotChecked> {
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

fn modulus_z(input: &MemberInput, class: Class, trace: &mut Trace) -> Result<f64, NotChecked> {
    if class <= Class::Two && input.w_pl_z.is_some() {
        let w_pl_z = input.w_pl_z(trace)?;
        step!(trace, SectionModulus, COLUMN, "plastic section modulus, class 1 or 2";
            w_z(w_pl_z) = w_pl_z);
        return Ok(w_z);
    }
    let w_el_z = input.w_el_z(trace);
    step!(trace, SectionModulus, COLUMN, "elastic section modulus"; w_z(w_el_z) = w_el_z);
    Ok(w_z)
}

/// A tube under compression and bending.
pub(super) struct BeamColumn;

const COLUMN: Source = general("6.3.3 and Annex B");

impl Clause<MemberInput> for BeamColumn {
    fn reference(&self) -> Source {
        COLUMN
    }

    fn title(&self) -> &'static str {
        "buckling of the member under compression and bending"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        Applicability::only_if(input.n_ed < 0.0, "the member is not compressed")
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        if !matches!(input.shape, Shape::RectangularTube | Shape::RoundTube) {
            let reason =
                "compression with bending of sections that can twist: no rule in this pack";
            return Err(NotChecked::NoRule { reason: reason.to_owned() });
        }
        let class = class_of(input);
        let strut = Strut::read(input, factors, trace)?;
        let (n_b_y, lambda_y) = about_y(input, trace, &strut)?;
        let (n_b_z, lambda_z) = about_z(input, trace, &strut)?;
        let Strut { f_y, gamma_m1, .. } = strut;
        let n_ed = input.n_ed(trace);
        let m_y_ed = input.m_y_ed(trace);
        let m_z_ed = input.m_z_ed(trace);
        let w_y = modulus_y(input, class, trace)?;
        let w_z = modulus_z(input, class, trace)?;
        let c_m_y = moment_factor_y(input, trace)?;
        let c_m_z = moment_factor_z(input, trace)?;
        step!(trace, Ratio, COLUMN, "axial force over buckling resistance, y";
            n_y(n_ed, n_b_y) = abs(n_ed) / n_b_y);
        step!(trace, Ratio, COLUMN, "axial force over buckling resistance, z";
            n_z(n_ed, n_b_z) = abs(n_ed) / n_b_z);
        step!(trace, Ratio, COLUMN, "moment over moment resistance, y";
            r_y(m_y_ed, w_y, f_y, gamma_m1) = abs(m_y_ed) / (w_y * f_y / gamma_m1));
        step!(trace, Ratio, COLUMN, "moment over moment resistance, z";
            r_z(m_z_ed, w_z, f_y, gamma_m1) = abs(m_z_ed) / (w_z * f_y / gamma_m1));
        let (k_yy, k_zz, k_yz, k_zy) = if class <= Class::Two {
            step!(trace, Ratio, COLUMN, "growth of the moment about y";
                k_yy(c_m_y, lambda_y, n_y) =
                c_m_y * (1.0 + smaller(positive(lambda_y - 0.2), 0.8) * n_y));
            step!(trace, Ratio, COLUMN, "growth of the moment about z";
                k_zz(c_m_z, lambda_z, n_z) =
                c_m_z * (1.0 + smaller(positive(lambda_z - 0.2), 0.8) * n_z));
            step!(trace, Ratio, COLUMN, "share of z in buckling about y"; k_yz(k_zz) = 0.6 * k_zz);
            step!(trace, Ratio, COLUMN, "share of y in buckling about z"; k_zy(k_yy) = 0.6 * k_yy);
            (k_yy, k_zz, k_yz, k_zy)
        } else {
            step!(trace, Ratio, COLUMN, "growth of the moment about y";
                k_yy(c_m_y, lambda_y, n_y) = c_m_y * (1.0 + 0.6 * smaller(lambda_y, 1.0) * n_y));
            step!(trace, Ratio, COLUMN, "growth of the moment about z";
                k_zz(c_m_z, lambda_z, n_z) = c_m_z * (1.0 + 0.6 * smaller(lambda_z, 1.0) * n_z));
            step!(trace, Ratio, COLUMN, "share of z in buckling about y"; k_yz(k_zz) = k_zz);
            step!(trace, Ratio, COLUMN, "share of y in buckling about z"; k_zy(k_yy) = 0.8 * k_yy);
            (k_yy, k_zz, k_yz, k_zy)
        };
        step!(trace, Ratio, COLUMN, "buckling about y (6.61)";
            about_y(n_y, k_yy, r_y, k_yz, r_z) = n_y + k_yy * r_y + k_yz * r_z);
        step!(trace, Ratio, COLUMN, "buckling about z (6.62)";
            about_z(n_z, k_zy, r_y, k_zz, r_z) = n_z + k_zy * r_y + k_zz * r_z);
        step!(trace, Ratio, COLUMN, "utilisation, the larger of both";
            utilisation(about_y, about_z) = larger(about_y, about_z));
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}

/// The factor for the shape of the moment diagram, Table B.3.
macro_rules! moment_factor {
    ($function:ident, $moment:ident, $psi:ident, $c_m:ident) => {
        fn $function(input: &MemberInput, trace: &mut Trace) -> Result<f64, NotChecked> {
            if input.ends == EndsSway::Sway || input.$moment.abs() <= 0.0 {
                step!(trace, Ratio, COLUMN, "factor of the moment diagram, sway or no moment";
                    $c_m() = 0.9);
                return Ok($c_m);
            }
            let $psi = input.$psi(trace)?;
            if !(-1.0..=1.0).contains(&$psi) {
                return Err(NotChecked::OutOfRange {
                    symbol: stringify!($psi),
                    what: "smaller over larger end moment",
                    value: $psi,
                    dimension: Dimension::Ratio,
                    allowed: "-1 to 1",
                });
            }
            step!(trace, Ratio, COLUMN, "factor of the moment diagram";
                $c_m($psi) = larger(0.4, 0.6 + 0.4 * $psi));
            Ok($c_m)
        }
    };
}

moment_factor!(moment_factor_y, m_y_ed, psi_y, c_m_y);
moment_factor!(moment_factor_z, m_z_ed, psi_z, c_m_z);

#[cfg(test)]
mod tests {
    use fishplate_quantity::Trace;

    use super::*;

    /// Steel Buildings in Europe, Multi-Storey Steel Buildings Part 4, worked example A.5 sheet 3.
    #[test]
    fn published_column_about_both_axes() {
        let trace = &mut Trace::off();
        let n_cr_z = PI * PI * E * 8560e-8 / (5.6 * 5.6);
        assert!((n_cr_z / 5657.4e3 - 1.0).abs() < 5e-4);
        let cases = [(8151.2e3, 0.34, 0.655, 0.808), (5657.4e3, 0.49, 0.787, 0.6705)];
        for (n_cr, alpha, lambda_published, chi_published) in cases {
            let lambda = f64::sqrt(149e-4 * 235e6 / n_cr);
            assert!((lambda / lambda_published - 1.0).abs() < 2e-3);
            reduction!(trace, FLEXURAL, phi, chi(lambda, alpha));
            assert!((chi / chi_published - 1.0).abs() < 2e-3);
        }
    }
}
