//! Fillet welds in laps of sheet, where the sheet tears before the bead.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{SheetLapInput, SheetWeldLies};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::{
    SHEET_ACROSS, SHEET_ALONG_LONG, SHEET_ALONG_SHORT, SHEET_THROAT,
};
use crate::packs::american::{IN, aisi};

use super::is_sheet;

/// Puts the yield strength, on which the scope rests, beside the derivation where it is known.
fn scope(input: &SheetLapInput, trace: &mut Trace) -> Result<(), NotChecked> {
    if input.f_y.is_some() {
        input.f_y(trace)?;
    }
    Ok(())
}

/// A weld along the force.
pub(super) struct Along;

const ALONG: Source = aisi("J2.5(a)");

impl Clause<SheetLapInput> for Along {
    fn reference(&self) -> Source {
        ALONG
    }

    fn title(&self) -> &'static str {
        "sheet beside a fillet along the force"
    }

    fn short(&self) -> &'static str {
        "sheet, side weld"
    }

    fn applies(&self, input: &SheetLapInput) -> Applicability {
        match input.lies {
            SheetWeldLies::Side => is_sheet(input.t, input.f_y),
            SheetWeldLies::End => {
                Applicability::DoesNotApply("the weld lies across the force".to_owned())
            }
        }
    }

    fn formula(
        &self,
        input: &SheetLapInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        scope(input, trace)?;
        let f_w_ed = input.f_w_ed(trace);
        let t = input.t(trace);
        let l_w = input.l_w(trace);
        let f_u = input.f_u(trace);
        let p_a = if l_w / t < 25.0 {
            step!(trace, Force, ALONG, "nominal strength, shorter than 25 thicknesses";
                p_n(l_w, t, f_u) = (1.0 - 0.01 * l_w / t) * l_w * t * f_u);
            available!(trace, factors, phi_along_short or omega_along_short of SHEET_ALONG_SHORT;
                Force, ALONG, "available strength of the sheet"; p_a(p_n));
            p_a
        } else {
            step!(trace, Force, ALONG, "nominal strength, 25 thicknesses long or more";
                p_n(l_w, t, f_u) = 0.75 * t * l_w * f_u);
            available!(trace, factors, phi_along_long or omega_along_long of SHEET_ALONG_LONG;
                Force, ALONG, "available strength of the sheet"; p_a(p_n));
            p_a
        };
        step!(trace, Ratio, ALONG, "utilisation"; utilisation(f_w_ed, p_a) = f_w_ed / p_a);
        Checked::new(f_w_ed, p_a, Dimension::Force, utilisation)
    }
}

/// A weld across the force.
pub(super) struct Across;

const ACROSS: Source = aisi("J2.5(b)");

impl Clause<SheetLapInput> for Across {
    fn reference(&self) -> Source {
        ACROSS
    }

    fn title(&self) -> &'static str {
        "sheet beside a fillet across the force"
    }

    fn short(&self) -> &'static str {
        "sheet, end weld"
    }

    fn applies(&self, input: &SheetLapInput) -> Applicability {
        match input.lies {
            SheetWeldLies::End => is_sheet(input.t, input.f_y),
            SheetWeldLies::Side => {
                Applicability::DoesNotApply("the weld lies along the force".to_owned())
            }
        }
    }

    fn formula(
        &self,
        input: &SheetLapInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        scope(input, trace)?;
        let f_w_ed = input.f_w_ed(trace);
        let t = input.t(trace);
        let l_w = input.l_w(trace);
        let f_u = input.f_u(trace);
        step!(trace, Force, ACROSS, "nominal strength"; p_n(t, l_w, f_u) = t * l_w * f_u);
        available!(trace, factors, phi_across or omega_across of SHEET_ACROSS;
            Force, ACROSS, "available strength of the sheet"; p_a(p_n));
        step!(trace, Ratio, ACROSS, "utilisation"; utilisation(f_w_ed, p_a) = f_w_ed / p_a);
        Checked::new(f_w_ed, p_a, Dimension::Force, utilisation)
    }
}

/// The throat, which governs no sheet up to 0.10 in.
pub(super) struct Throat;

const THROAT: Source = aisi("J2.5, throat");

impl Clause<SheetLapInput> for Throat {
    fn reference(&self) -> Source {
        THROAT
    }

    fn title(&self) -> &'static str {
        "throat of a fillet in sheet over 0.10 in"
    }

    fn short(&self) -> &'static str {
        "sheet, throat"
    }

    fn applies(&self, input: &SheetLapInput) -> Applicability {
        if input.t <= 0.10 * IN {
            return Applicability::DoesNotApply("the sheet is not over 0.10 in".to_owned());
        }
        is_sheet(input.t, input.f_y)
    }

    fn formula(
        &self,
        input: &SheetLapInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        scope(input, trace)?;
        let f_w_ed = input.f_w_ed(trace);
        let l_w = input.l_w(trace);
        let z = input.z(trace)?;
        let f_exx = input.f_exx(trace)?;
        step!(trace, Length, THROAT, "effective throat"; t_w(z) = 0.707 * z);
        step!(trace, Force, THROAT, "nominal strength"; p_n(t_w, l_w, f_exx) =
            0.75 * t_w * l_w * f_exx);
        available!(trace, factors, phi_throat or omega_throat of SHEET_THROAT;
            Force, THROAT, "available strength of the throat"; p_a(p_n));
        step!(trace, Ratio, THROAT, "utilisation"; utilisation(f_w_ed, p_a) = f_w_ed / p_a);
        Checked::new(f_w_ed, p_a, Dimension::Force, utilisation)
    }
}
