//! Holes in a flange pulled by bending: F13.1.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::MemberInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::aisc;
use crate::packs::american::available::{available, once};
use crate::packs::american::factors::BENDING;

const F13: Source = aisc("F13.1");

/// Rupture of a pulled flange with holes, bending about y.
pub(super) struct TensionFlange;

impl Clause<MemberInput> for TensionFlange {
    fn reference(&self) -> Source {
        F13
    }

    fn title(&self) -> &'static str {
        "rupture of the pulled flange through its holes, bending about y"
    }

    fn short(&self) -> &'static str {
        "pulled flange with holes"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        Applicability::only_if(
            input.a_fg.is_some() && input.a_fn.is_some(),
            "no flange with holes is given",
        )
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let a_fg = once!(trace, input.a_fg)?;
        let a_fn = once!(trace, input.a_fn)?;
        let f_y = once!(trace, input.f_y);
        let f_u = once!(trace, input.f_u)?;
        if a_fn > a_fg {
            return Err(NotChecked::OutOfRange {
                symbol: "a_fn",
                what: "net area of the pulled flange",
                value: a_fn,
                dimension: Dimension::Area,
                allowed: "at most its gross area",
            });
        }
        step!(trace, Ratio, F13, "factor for steels that yield late";
            y_t(f_y, f_u) = if f_y <= 0.8 * f_u { 1.0 } else { 1.1 });
        if f_u * a_fn >= y_t * f_y * a_fg {
            let reason =
                "the flange yields in its gross section before it breaks through the holes";
            return Err(NotChecked::DoesNotApply { reason: reason.to_owned() });
        }
        let w_el_y = once!(trace, input.w_el_y);
        step!(trace, Moment, F13, "moment that breaks the flange";
            m_n(f_u, a_fn, a_fg, w_el_y) = f_u * a_fn / a_fg * w_el_y);
        available!(trace, factors, phi_b or omega_b of BENDING;
            Moment, F13, "available moment"; m_c(m_n));
        let m_y_ed = once!(trace, input.m_y_ed);
        step!(trace, Moment, F13, "moment"; m_r(m_y_ed) = abs(m_y_ed));
        step!(trace, Ratio, F13, "utilisation"; utilisation(m_r, m_c) = m_r / m_c);
        Checked::new(m_r, m_c, Dimension::Moment, utilisation)
    }
}
