//! A flat on edge as a cantilever: F11 with Cb = 1.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::FlatCantileverInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::BENDING;
use crate::packs::american::{aisc, e_of_steel};

const F11: Source = aisc("F11, flat as a cantilever, Cb = 1 by F1");

/// Yielding and sideways buckling of a flat on edge with a force at its tip.
pub(super) struct FlatCantilever;

impl Clause<FlatCantileverInput> for FlatCantilever {
    fn reference(&self) -> Source {
        F11
    }

    fn title(&self) -> &'static str {
        "flat on edge as a cantilever, yielding and sideways buckling"
    }

    fn short(&self) -> &'static str {
        "flat cantilever"
    }

    fn applies(&self, _: &FlatCantileverInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &FlatCantileverInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        if input.z_g.is_some_and(|z_g| z_g > 0.0) {
            let reason = "the force stands above the middle of the flat and tips it over: chapter F \
                          has no rule for that";
            return Err(NotChecked::NoRule { reason: reason.to_owned() });
        }
        let f_ed = input.f_ed(trace);
        let l = input.l(trace);
        let h = input.h(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        step!(trace, Moment, F11, "moment at the root"; m_r(f_ed, l) = f_ed * l);
        step!(trace, Moment, F11, "moment at first yield"; m_y(f_y, t, h) = f_y * t * sq(h) / 6.0);
        step!(trace, Ratio, F11, "slenderness against sideways buckling, Lb d / t²";
            slender(l, h, t) = l * h / sq(t));
        // The elastic branch starts 0.06 % above the end of the other one, which caps it here.
        let e_steel = e_of_steel(trace);
        step!(trace, Moment, F11, "nominal moment, the plastic one 1.5 times first yield";
        m_n(slender, f_y, m_y, e_steel) =
        if slender <= 0.08 * e_steel / f_y {
            1.5 * m_y
        } else if slender <= 1.9 * e_steel / f_y {
            smaller(1.5, 1.52 - 0.274 * slender * f_y / e_steel) * m_y
        } else {
            smaller(1.9 * e_steel / (f_y * slender), 1.52 - 0.274 * 1.9) * m_y
        });
        available!(trace, factors, phi_b or omega_b of BENDING;
            Moment, F11, "available moment"; m_c(m_n));
        step!(trace, Ratio, F11, "utilisation"; utilisation(m_r, m_c) = m_r / m_c);
        Checked::new(m_r, m_c, Dimension::Moment, utilisation)
    }
}
