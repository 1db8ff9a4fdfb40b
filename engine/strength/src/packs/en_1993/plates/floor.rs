//! A plate between two parallel walls, with a bolt midway: the floor of a folded bracket.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::FloorInput;
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::walls::closed_half;

/// Collapse by yield lines.
///
/// The plate is clamped at both walls. On a side where it goes on, half a fan or half a rectangle
/// of yield lines forms around the washer, whichever takes less work. On a side with a free edge
/// four straight lines, two at the walls and two beside the washer, run on to the edge; they take
/// the work 4 (dw/2 + c) / g.
pub(super) struct YieldLines;

const LINES: Source = Source::mechanics("yield lines in a plate between two walls at a bolt");

impl Clause<FloorInput> for YieldLines {
    fn reference(&self) -> Source {
        LINES
    }

    fn title(&self) -> &'static str {
        "plate between walls at a bolt, yield lines"
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
        room_for_washer(input)?;
        let f_ed = input.f_ed(trace);
        let l = input.l(trace);
        let d_w = input.d_w(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Force, LINES, "plastic moment per length";
            m_p(f_y, t, gamma_m0) = f_y * sq(t) / (4.0 * gamma_m0));
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
        step!(trace, Ratio, LINES, "work of both halves"; both(half_1, half_2) = half_1 + half_2);
        step!(trace, Force, LINES, "force that bends the plate through"; f_rd(m_p, both) = m_p * both);
        step!(trace, Ratio, LINES, "utilisation"; utilisation(f_ed, f_rd) = f_ed / f_rd);
        Checked::new(f_ed, f_rd, Dimension::Force, utilisation)
    }
}

fn room_for_washer(input: &FloorInput) -> Result<(), NotChecked> {
    if input.d_w < input.l && input.d_0 < input.d_w {
        return Ok(());
    }
    Err(NotChecked::OutOfRange {
        symbol: "d_w",
        what: "outer diameter of head or washer",
        value: input.d_w,
        dimension: Dimension::Length,
        allowed: "more than the hole and less than the distance between the walls",
    })
}

/// First yield of a strip clamped at both walls: for the claim that nothing yields.
///
/// The force is spread over the washer along the strip and at 45° across it; a free edge cuts the
/// strip. The hole weakens it midway.
pub(super) struct FirstYield;

const STRIP: Source = Source::mechanics("strip clamped at both ends under a load in the middle");

impl Clause<FloorInput> for FirstYield {
    fn reference(&self) -> Source {
        STRIP
    }

    fn title(&self) -> &'static str {
        "plate between walls at a bolt, first yield of a clamped strip"
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
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
        room_for_washer(input)?;
        let f_ed = input.f_ed(trace);
        let l = input.l(trace);
        let d_w = input.d_w(trace);
        let d_0 = input.d_0(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        let side_1 = if input.c_1.is_some() {
            let c_1 = input.c_1(trace)?;
            step!(trace, Length, STRIP, "spread beside the washer, cut by the free edge";
                side_1(l, c_1) = smaller(l / 2.0, c_1));
            side_1
        } else {
            step!(trace, Length, STRIP, "spread beside the washer"; side_1(l) = l / 2.0);
            side_1
        };
        let side_2 = if input.c_2.is_some() {
            let c_2 = input.c_2(trace)?;
            step!(trace, Length, STRIP, "spread on the other side, cut by the free edge";
                side_2(l, c_2) = smaller(l / 2.0, c_2));
            side_2
        } else {
            step!(trace, Length, STRIP, "spread on the other side"; side_2(l) = l / 2.0);
            side_2
        };
        step!(trace, Length, Source::practice("load of one bolt spread at 45°"), "width of the strip";
            b_eff(d_w, side_1, side_2) = d_w + side_1 + side_2);
        step!(trace, Moment, STRIP, "moment at the walls";
            m_end(f_ed, l, d_w) = f_ed * (3.0 * sq(l) - sq(d_w)) / (24.0 * l));
        step!(trace, Moment, STRIP, "moment under the bolt";
            m_mid(f_ed, l, d_w, m_end) = f_ed * (l / 4.0 - d_w / 8.0) - m_end);
        step!(trace, Stress, STRIP, "larger bending stress, at the walls or across the hole";
            sigma(m_end, m_mid, b_eff, d_0, t) =
            6.0 / sq(t) * larger(m_end / b_eff, m_mid / (b_eff - d_0)));
        step!(trace, Stress, STRIP, "yield strength over its factor";
            f_yd(f_y, gamma_m0) = f_y / gamma_m0);
        step!(trace, Ratio, STRIP, "utilisation"; utilisation(sigma, f_yd) = sigma / f_yd);
        Checked::new(sigma, f_yd, Dimension::Stress, utilisation)
    }
}
