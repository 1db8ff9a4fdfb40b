//! Fillet welds in laps of thin sheet, where the sheet tears before the bead.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{SheetLapInput, SheetWeldLies};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{THIN, sheet};

fn about(input: &SheetLapInput, lies: SheetWeldLies, other: &str) -> Applicability {
    if input.lies != lies {
        return Applicability::DoesNotApply(other.to_owned());
    }
    Applicability::within(input.t < THIN, || "the sheet is 4 mm or thicker".to_owned())
}

/// One of a pair of welds along the force.
pub(super) struct SideWeld;

const SIDE: Source = sheet("8.5.2, side weld");

impl Clause<SheetLapInput> for SideWeld {
    fn reference(&self) -> Source {
        SIDE
    }

    fn title(&self) -> &'static str {
        "weld along the force in a lap of thin sheet"
    }

    fn applies(&self, input: &SheetLapInput) -> Applicability {
        about(input, SheetWeldLies::Side, "the weld lies across the force")
    }

    fn formula(
        &self,
        input: &SheetLapInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_w_ed = input.f_w_ed(trace);
        let t = input.t(trace);
        let l_w = input.l_w(trace);
        let b = input.b(trace);
        let f_u = input.f_u(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Length, SIDE, "length that counts, with the loss at the far end";
            l_counts(l_w, b) = if l_w <= b { l_w * (0.9 - 0.45 * l_w / b) } else { 0.45 * b });
        step!(trace, Force, SIDE, "resistance of the weld";
            f_w_s_rd(t, l_counts, f_u, gamma_m2) = t * l_counts * f_u / gamma_m2);
        step!(trace, Ratio, SIDE, "utilisation"; utilisation(f_w_ed, f_w_s_rd) = f_w_ed / f_w_s_rd);
        Checked::new(f_w_ed, f_w_s_rd, Dimension::Force, utilisation)
    }
}

/// A weld across the force.
pub(super) struct EndWeld;

const END: Source = sheet("8.5.2, end weld");

impl Clause<SheetLapInput> for EndWeld {
    fn reference(&self) -> Source {
        END
    }

    fn title(&self) -> &'static str {
        "weld across the force in a lap of thin sheet"
    }

    fn applies(&self, input: &SheetLapInput) -> Applicability {
        about(input, SheetWeldLies::End, "the weld lies along the force")
    }

    fn formula(
        &self,
        input: &SheetLapInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_w_ed = input.f_w_ed(trace);
        let t = input.t(trace);
        let l_w = input.l_w(trace);
        let b = input.b(trace);
        if l_w > b {
            return Err(NotChecked::OutOfRange {
                symbol: "l_w",
                what: "effective length of the weld",
                value: l_w,
                dimension: Dimension::Length,
                allowed: "at most the width of the sheet",
            });
        }
        let f_u = input.f_u(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, END, "resistance of the weld";
            f_w_e_rd(t, l_w, b, f_u, gamma_m2) =
            t * l_w * (1.0 - 0.3 * l_w / b) * f_u / gamma_m2);
        step!(trace, Ratio, END, "utilisation"; utilisation(f_w_ed, f_w_e_rd) = f_w_ed / f_w_e_rd);
        Checked::new(f_w_ed, f_w_e_rd, Dimension::Force, utilisation)
    }
}
