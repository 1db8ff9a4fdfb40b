//! Buckling of members sideways, without twist.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{BucklingCurve, MemberInput};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{e_of_steel, general};

use super::class::{Class, Pressed, class_of};
use super::reduced::Reduced;

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

/// Buckling of a compressed member about either axis. The moment that the shift of the centroid of
/// a thin section adds belongs to the rows of compression with bending.
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
        let n_b_y = about_y(input, trace, &strut)?.n_b;
        let n_b_z = about_z(input, trace, &strut)?.n_b;
        let n_ed = input.n_ed(trace);
        step!(trace, Force, FLEXURAL, "compression"; n_c_ed(n_ed) = abs(n_ed));
        step!(trace, Force, FLEXURAL, "buckling resistance, the smaller of both axes";
            n_b_rd(n_b_y, n_b_z) = smaller(n_b_y, n_b_z));
        step!(trace, Ratio, FLEXURAL, "utilisation"; utilisation(n_c_ed, n_b_rd) = n_c_ed / n_b_rd);
        Checked::new(n_c_ed, n_b_rd, Dimension::Force, utilisation)
    }
}

/// What buckling in any direction shares. Walls count as compressed throughout.
pub(super) struct Strut {
    pub(super) class: Class,
    /// Gross area, or effective area in class 4.
    pub(super) a_n: f64,
    pub(super) f_y: f64,
    pub(super) alpha: f64,
    pub(super) gamma_m1: f64,
    /// Shift of the centroid along y and z under compression, class 4.
    pub(super) shift: Option<(f64, f64)>,
}

impl Strut {
    pub(super) fn read(
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Self, NotChecked> {
        let value = imperfection(input.curve);
        let what = "imperfection factor of the buckling curve";
        let alpha = trace.input("alpha", what, Dimension::Ratio, value, || {
            Provenance::Table("EN 1993-1-1:2005, Table 6.1".to_owned())
        });
        let f_y = input.f_y(trace);
        let gamma_m1 = factors.gamma_m1(trace);
        let class = class_of(input, Pressed::throughout(input));
        if class == Class::Four {
            let (a_eff, e_n_y, e_n_z) = Reduced::of(input)?.area(input, trace)?;
            step!(trace, Area, FLEXURAL, "area that carries, effective"; a_n(a_eff) = a_eff);
            return Ok(Self { class, a_n, f_y, alpha, gamma_m1, shift: Some((e_n_y, e_n_z)) });
        }
        let a = input.a(trace);
        step!(trace, Area, FLEXURAL, "area that carries"; a_n(a) = a);
        Ok(Self { class, a_n, f_y, alpha, gamma_m1, shift: None })
    }
}

pub(super) fn imperfection(curve: BucklingCurve) -> f64 {
    match curve {
        BucklingCurve::A0 => 0.13,
        BucklingCurve::A => 0.21,
        BucklingCurve::B => 0.34,
        BucklingCurve::C => 0.49,
        BucklingCurve::D => 0.76,
    }
}

/// What buckling about one axis gives.
#[derive(Clone, Copy)]
pub(super) struct AboutAxis {
    pub(super) n_cr: f64,
    pub(super) lambda: f64,
    pub(super) chi: f64,
    pub(super) n_b: f64,
}

/// Buckling about one axis.
macro_rules! about_axis {
    ($function:ident, $i:ident, $l_cr:ident, $n_cr:ident, $lambda:ident, $phi:ident, $chi:ident,
     $n_b:ident) => {
        pub(super) fn $function(
            input: &MemberInput,
            trace: &mut Trace,
            strut: &Strut,
        ) -> Result<AboutAxis, NotChecked> {
            let &Strut { a_n, f_y, alpha, gamma_m1, .. } = strut;
            let $i = input.$i(trace);
            let $l_cr = input.$l_cr(trace)?;
            let e_steel = e_of_steel(trace);
            step!(trace, Force, FLEXURAL, "elastic critical force";
                $n_cr(e_steel, $i, $l_cr) = PI * PI * e_steel * $i / sq($l_cr));
            step!(trace, Ratio, FLEXURAL, "slenderness";
                $lambda(a_n, f_y, $n_cr) = sqrt(a_n * f_y / $n_cr));
            reduction!(trace, FLEXURAL, $phi, $chi($lambda, alpha));
            step!(trace, Force, FLEXURAL, "buckling resistance";
                $n_b($chi, a_n, f_y, gamma_m1) = $chi * a_n * f_y / gamma_m1);
            Ok(AboutAxis { n_cr: $n_cr, lambda: $lambda, chi: $chi, n_b: $n_b })
        }
    };
}

about_axis!(about_y, i_y, l_cr_y, n_cr_y, lambda_y, phi_y, chi_y, n_b_y);
about_axis!(about_z, i_z, l_cr_z, n_cr_z, lambda_z, phi_z, chi_z, n_b_z);

#[cfg(test)]
mod tests {
    use fishplate_quantity::Trace;

    use super::*;
    use crate::packs::en_1993::E;

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
