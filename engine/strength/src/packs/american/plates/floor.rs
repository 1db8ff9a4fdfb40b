//! Plates between two walls, at a bolt. AISC 360 has no rule for them; yield lines find the force
//! that bends them through, with the factor for bending.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::FloorInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::BENDING;
use crate::packs::en_1993::closed_half;

const LINES: Source =
    Source::mechanics("yield lines in a plate between two walls at a bolt, AISC 360 F1");

/// A plate clamped at two walls, pulled or pushed by a bolt midway; a side with a free edge may
/// collapse along four straight lines instead.
pub(super) struct YieldLines;

impl Clause<FloorInput> for YieldLines {
    fn reference(&self) -> Source {
        LINES
    }

    fn title(&self) -> &'static str {
        "plate between walls at a bolt, yield lines"
    }

    fn short(&self) -> &'static str {
        "plate at a bolt"
    }

    fn applies(&self, _: &FloorInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &FloorInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        if !(input.d_w < input.l && input.d_0 < input.d_w) {
            return Err(NotChecked::OutOfRange {
                symbol: "d_w",
                what: "outer diameter of head or washer",
                value: input.d_w,
                dimension: Dimension::Length,
                allowed: "more than the hole and less than the distance between the walls",
            });
        }
        let f_ed = input.f_ed(trace);
        let l = input.l(trace);
        let d_w = input.d_w(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        step!(trace, Force, LINES, "plastic moment per length"; m_p(f_y, t) = f_y * sq(t) / 4.0);
        step!(trace, Length, LINES, "distance between the walls"; b_0(l) = l);
        let half = closed_half(b_0, d_w, trace);
        let half_1 = if input.c_1.is_some() {
            let c_1 = input.c_1(trace)?;
            step!(trace, Ratio, LINES, "work of the half with a free edge, the smaller";
                half_1(half, l, d_w, c_1) =
                smaller(half, 4.0 * (d_w / 2.0 + c_1) / ((l - d_w) / 2.0)));
            half_1
        } else {
            step!(trace, Ratio, LINES, "work of one half"; half_1(half) = half);
            half_1
        };
        let half_2 = if input.c_2.is_some() {
            let c_2 = input.c_2(trace)?;
            step!(trace, Ratio, LINES, "work of the other half with a free edge, the smaller";
                half_2(half, l, d_w, c_2) =
                smaller(half, 4.0 * (d_w / 2.0 + c_2) / ((l - d_w) / 2.0)));
            half_2
        } else {
            step!(trace, Ratio, LINES, "work of the other half"; half_2(half) = half);
            half_2
        };
        step!(trace, Force, LINES, "force that bends the plate through";
            f_n(m_p, half_1, half_2) = m_p * (half_1 + half_2));
        available!(trace, factors, phi_b or omega_b of BENDING;
            Force, LINES, "available force"; f_c(f_n));
        step!(trace, Ratio, LINES, "utilisation"; utilisation(f_ed, f_c) = f_ed / f_c);
        Checked::new(f_ed, f_c, Dimension::Force, utilisation)
    }
}
