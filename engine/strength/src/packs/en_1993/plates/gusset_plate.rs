//! Gusset plates under the axial force of a member: the width that works, and its buckling.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::GussetPlateInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::e_of_steel;
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::members::reduction;

/// Yielding over the width at the last bolts that the force reaches at 30 degrees from the first.
pub(super) struct Whitmore;

const WHITMORE: Source =
    Source::new("Whitmore, Experimental Investigation of Stresses in Gusset Plates, 1952", "30°");

impl Clause<GussetPlateInput> for Whitmore {
    fn reference(&self) -> Source {
        WHITMORE
    }

    fn title(&self) -> &'static str {
        "gusset plate at the end of the connection, yielding of the width that works"
    }

    fn short(&self) -> &'static str {
        "yielding"
    }

    fn applies(&self, _: &GussetPlateInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &GussetPlateInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let w_eff = width(input, trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Force, WHITMORE, "size of the force"; n_abs(n_ed) = abs(n_ed));
        step!(trace, Force, WHITMORE, "yield resistance of the width that works";
            n_rd(w_eff, t, f_y, gamma_m0) = w_eff * t * f_y / gamma_m0);
        step!(trace, Ratio, WHITMORE, "utilisation"; utilisation(n_abs, n_rd) = n_abs / n_rd);
        Checked::new(n_abs, n_rd, Dimension::Force, utilisation)
    }
}

fn width(input: &GussetPlateInput, trace: &mut Trace) -> f64 {
    let w_0 = input.w_0(trace);
    let l_con = input.l_con(trace);
    let b_plate = input.b_plate(trace);
    step!(trace, Length, WHITMORE, "width that works, spread at 30° and cut by the edges";
        w_eff(w_0, l_con, b_plate) =
        smaller(b_plate, w_0 + 2.0 * l_con * tan(PI / 6.0)));
    w_eff
}

/// Buckling of that width as a strut of the mean length to the support.
pub(super) struct Thornton;

const THORNTON: Source =
    Source::new("Thornton, Bracing Connections for Heavy Construction, 1984", "gusset as a strut");

impl Clause<GussetPlateInput> for Thornton {
    fn reference(&self) -> Source {
        THORNTON
    }

    fn title(&self) -> &'static str {
        "gusset plate beyond the connection, buckling"
    }

    fn short(&self) -> &'static str {
        "buckling"
    }

    fn applies(&self, input: &GussetPlateInput) -> Applicability {
        Applicability::only_if(input.n_ed < 0.0, "the plate is not compressed")
    }

    fn formula(
        &self,
        input: &GussetPlateInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let w_eff = width(input, trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let l_1 = input.l_1(trace)?;
        let l_2 = input.l_2(trace)?;
        let l_3 = input.l_3(trace)?;
        let k_g = input.k_g(trace)?;
        let gamma_m1 = factors.gamma_m1(trace);
        let what = "imperfection factor, curve c for solid sections";
        let alpha = trace.input("alpha", what, Dimension::Ratio, 0.49, || {
            Provenance::Table("EN 1993-1-1:2005, Tables 6.1 and 6.2".to_owned())
        });
        step!(trace, Length, THORNTON, "mean length of the strut";
            l_g(l_1, l_2, l_3) = (l_1 + l_2 + l_3) / 3.0);
        let e_steel = e_of_steel(trace);
        step!(trace, Ratio, THORNTON, "slenderness of the strut";
            lambda_g(k_g, l_g, t, f_y, e_steel) = k_g * l_g * sqrt(12.0) / t / (PI * sqrt(e_steel / f_y)));
        reduction!(trace, THORNTON, phi_g, chi_g(lambda_g, alpha));
        step!(trace, Force, THORNTON, "compression"; n_c_ed(n_ed) = abs(n_ed));
        step!(trace, Force, THORNTON, "buckling resistance";
            n_b_rd(chi_g, w_eff, t, f_y, gamma_m1) = chi_g * w_eff * t * f_y / gamma_m1);
        step!(trace, Ratio, THORNTON, "utilisation"; utilisation(n_c_ed, n_b_rd) = n_c_ed / n_b_rd);
        Checked::new(n_c_ed, n_b_rd, Dimension::Force, utilisation)
    }
}
