//! Gusset plates under the axial force of a bar: the width of Whitmore and the strip of Thornton.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::GussetPlateInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::{COMPRESSION, TENSION_YIELD};
use crate::packs::american::members::column_curve;
use crate::packs::american::{aisc, e_of_steel};

const WHITMORE: Source = Source::new(
    "Whitmore, Experimental Investigation of Stresses in Gusset Plates (1952)",
    "30° section, with AISC 360 J4.1",
);
const THORNTON: Source = Source::new(
    "Thornton, Bracing Connections for Heavy Construction (1984)",
    "with AISC 360 J4.4",
);

/// Yielding over the width to which the force has spread at the end of the joint.
pub(super) struct WhitmoreYield;

impl Clause<GussetPlateInput> for WhitmoreYield {
    fn reference(&self) -> Source {
        WHITMORE
    }

    fn title(&self) -> &'static str {
        "yielding of a gusset over the width of Whitmore"
    }

    fn short(&self) -> &'static str {
        "gusset, yielding"
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
        let (w, t, f_y) = spread(input, trace)?;
        step!(trace, Force, WHITMORE, "size of the force"; p_r(n_ed) = abs(n_ed));
        step!(trace, Force, aisc("J4.1(a)"), "yield force"; p_n(f_y, w, t) = f_y * w * t);
        available!(trace, factors, phi_t or omega_t of TENSION_YIELD;
            Force, WHITMORE, "available strength"; p_c(p_n));
        step!(trace, Ratio, WHITMORE, "utilisation"; utilisation(p_r, p_c) = p_r / p_c);
        Checked::new(p_r, p_c, Dimension::Force, utilisation)
    }
}

/// Records and returns the width of Whitmore, the thickness and the yield strength.
fn spread(input: &GussetPlateInput, trace: &mut Trace) -> Result<(f64, f64, f64), NotChecked> {
    let l_con = input.l_con(trace);
    let w_0 = input.w_0(trace);
    let b_plate = input.b_plate(trace);
    let t = input.t(trace);
    let f_y = input.f_y(trace);
    step!(trace, Length, WHITMORE, "width at 30° on both sides, cut by the edges";
        w(l_con, w_0, b_plate) = smaller(b_plate, w_0 + 2.0 * l_con / sqrt(3.0)));
    if w > 0.0 {
        return Ok((w, t, f_y));
    }
    Err(NotChecked::OutOfRange {
        symbol: "l_con",
        what: "length of the connection along the force, first to last bolt",
        value: input.l_con,
        dimension: Dimension::Length,
        allowed: "more than zero where the connection has no width either",
    })
}

/// Buckling of the strips between the joint and the supported edges.
pub(super) struct ThorntonBuckling;

impl Clause<GussetPlateInput> for ThorntonBuckling {
    fn reference(&self) -> Source {
        THORNTON
    }

    fn title(&self) -> &'static str {
        "buckling of a gusset behind the width of Whitmore"
    }

    fn short(&self) -> &'static str {
        "gusset, buckling"
    }

    fn applies(&self, input: &GussetPlateInput) -> Applicability {
        Applicability::only_if(input.n_ed < 0.0, "the gusset is not pressed")
    }

    fn formula(
        &self,
        input: &GussetPlateInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let (w, t, f_y) = spread(input, trace)?;
        let l_1 = input.l_1(trace)?;
        let l_2 = input.l_2(trace)?;
        let l_3 = input.l_3(trace)?;
        let k_g = input.k_g(trace)?;
        step!(trace, Length, THORNTON, "mean length of the strips";
            l_b(l_1, l_2, l_3) = (l_1 + l_2 + l_3) / 3.0);
        step!(trace, Ratio, THORNTON, "buckling length over radius of gyration";
            slender(k_g, l_b, t) = k_g * l_b * sqrt(12.0) / t);
        let p_n = if slender <= 25.0 {
            step!(trace, Force, aisc("J4.4(a)"), "too stocky to buckle"; p_n(f_y, w, t) = f_y * w * t);
            p_n
        } else {
            let e_steel = e_of_steel(trace);
            step!(trace, Stress, aisc("E3"), "elastic buckling stress";
                f_e(slender, e_steel) = PI * PI * e_steel / sq(slender));
            column_curve!(trace, Stress, f_cr(f_y, f_e));
            step!(trace, Force, aisc("J4.4(b)"), "nominal strength"; p_n(f_cr, w, t) = f_cr * w * t);
            p_n
        };
        step!(trace, Force, THORNTON, "compression"; p_r(n_ed) = abs(n_ed));
        available!(trace, factors, phi_c or omega_c of COMPRESSION;
            Force, THORNTON, "available strength"; p_c(p_n));
        step!(trace, Ratio, THORNTON, "utilisation"; utilisation(p_r, p_c) = p_r / p_c);
        Checked::new(p_r, p_c, Dimension::Force, utilisation)
    }
}
