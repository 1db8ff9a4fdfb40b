//! One angle as a strut.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::AngleStrutInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MPA, e_of_steel, general, plated};

use super::flats::tip_factor;
use super::reduction;

/// One angle as a strut, held at both ends through one leg by a weld or two bolts.
pub(super) struct AngleStrut;

const STRUT: Source = general("BB.1.2 and 6.3.1");

impl Clause<AngleStrutInput> for AngleStrut {
    fn reference(&self) -> Source {
        STRUT
    }

    fn title(&self) -> &'static str {
        "one angle as a strut, joined by one leg"
    }

    fn applies(&self, _: &AngleStrutInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &AngleStrutInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let l = input.l(trace);
        let a = input.a(trace);
        let i_u = input.i_u(trace);
        let i_v = input.i_v(trace);
        let i_y = input.i_y(trace);
        let h = input.h(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let gamma_m1 = factors.gamma_m1(trace);
        step!(trace, Ratio, general("Table 5.2, angles"), "slenderness of the legs over class 3";
            legs(h, b, t, f_y) =
            larger(larger(h, b) / t / 15.0, (b + h) / (2.0 * t) / 11.5) / sqrt(235.0 * MPA / f_y));
        let a_n = if legs > 1.0 {
            const LEGS: Source = plated("4.4 and Table 4.2, legs of an angle");
            let what = "buckling factor of a leg in even compression";
            let k_sigma = trace.input("k_sigma", what, Dimension::Ratio, tip_factor(1.0), || {
                Provenance::Table("EN 1993-1-5:2006, Table 4.2".to_owned())
            });
            step!(trace, Ratio, LEGS, "slenderness of the longer leg";
                lambda_h(h, b, t, f_y, k_sigma) =
                larger(h, b) / t / (28.4 * sqrt(235.0 * MPA / f_y) * sqrt(k_sigma)));
            step!(trace, Ratio, LEGS, "slenderness of the shorter leg";
                lambda_b(h, b, t, f_y, k_sigma) =
                smaller(h, b) / t / (28.4 * sqrt(235.0 * MPA / f_y) * sqrt(k_sigma)));
            step!(trace, Ratio, LEGS, "effective share of the longer leg";
                rho_h(lambda_h) =
                if lambda_h <= 0.748 { 1.0 }
                else { smaller(1.0, (lambda_h - 0.188) / sq(lambda_h)) });
            step!(trace, Ratio, LEGS, "effective share of the shorter leg";
                rho_b(lambda_b) =
                if lambda_b <= 0.748 { 1.0 }
                else { smaller(1.0, (lambda_b - 0.188) / sq(lambda_b)) });
            step!(trace, Area, LEGS, "effective area, class 4";
                a_n(a, h, b, t, rho_h, rho_b) =
                positive(a - (1.0 - rho_h) * larger(h, b) * t
                    - (1.0 - rho_b) * smaller(h, b) * t));
            a_n
        } else {
            step!(trace, Area, STRUT, "area that carries"; a_n(a) = a);
            a_n
        };
        let e_steel = e_of_steel(trace);
        step!(trace, Ratio, STRUT, "slenderness at which yielding and buckling meet";
            lambda_1(e_steel, f_y) = PI * sqrt(e_steel / f_y));
        step!(trace, Ratio, STRUT, "slenderness about the strong axis";
            lambda_u(l, a, a_n, i_u, lambda_1) = l / sqrt(i_u / a) / lambda_1 * sqrt(a_n / a));
        step!(trace, Ratio, STRUT, "slenderness about the weak axis";
            lambda_v(l, a, a_n, i_v, lambda_1) = l / sqrt(i_v / a) / lambda_1 * sqrt(a_n / a));
        step!(trace, Ratio, STRUT, "slenderness about the axis along the joined leg";
            lambda_y(l, a, a_n, i_y, lambda_1) = l / sqrt(i_y / a) / lambda_1 * sqrt(a_n / a));
        step!(trace, Ratio, STRUT, "effective slenderness, with the eccentric ends";
            lambda_eff(lambda_u, lambda_v, lambda_y) =
            larger(larger(0.35 + 0.7 * lambda_v, 0.50 + 0.7 * lambda_y), 0.50 + 0.7 * lambda_u));
        let what = "imperfection factor, curve b for angles";
        let alpha = trace.input("alpha", what, Dimension::Ratio, 0.34, || {
            Provenance::Table("EN 1993-1-1:2005, Tables 6.1 and 6.2".to_owned())
        });
        reduction!(trace, STRUT, phi, chi(lambda_eff, alpha));
        step!(trace, Force, STRUT, "buckling resistance";
            n_b_rd(chi, a_n, f_y, gamma_m1) = chi * a_n * f_y / gamma_m1);
        step!(trace, Ratio, STRUT, "utilisation"; utilisation(n_ed, n_b_rd) = n_ed / n_b_rd);
        Checked::new(n_ed, n_b_rd, Dimension::Force, utilisation)
    }
}
