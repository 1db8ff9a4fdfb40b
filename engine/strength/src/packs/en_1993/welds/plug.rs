//! Plug welds.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::PlugInput;
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MM, SQRT_3, joints};

/// Shear of the weld metal in the hole.
pub(super) struct PlugShear;

const PLUG: Source = joints("4.3.5 and 4.5.3.3, plug");

impl Clause<PlugInput> for PlugShear {
    fn reference(&self) -> Source {
        PLUG
    }

    fn title(&self) -> &'static str {
        "plug or slot weld in shear"
    }

    fn applies(&self, _: &PlugInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &PlugInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        no_pull(input, trace)?;
        let f_v_ed = input.f_v_ed(trace);
        let d_hole = input.d_hole(trace);
        let d_weld = if input.d_fused.is_some() {
            let d_fused = input.d_fused(trace)?;
            step!(trace, Length, PLUG, "width that is fused, as measured, at most the hole";
                d_weld(d_hole, d_fused) = smaller(d_hole, d_fused));
            d_weld
        } else {
            step!(trace, Length, PLUG, "width of the weld, the hole"; d_weld(d_hole) = d_hole);
            d_weld
        };
        let l_straight = straight_part(input, d_weld, trace)?;
        let f_u = input.f_u(trace);
        let beta_w = input.beta_w(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Area, Source::mechanics("circle, or slot with round ends"), "area of the weld";
            a_w(d_weld, l_straight) = PI / 4.0 * sq(d_weld) + d_weld * l_straight);
        step!(trace, Force, PLUG, "shear resistance of the plug";
            f_w_rd(f_u, beta_w, gamma_m2, a_w) = f_u / (SQRT_3 * beta_w * gamma_m2) * a_w);
        step!(trace, Ratio, PLUG, "utilisation"; utilisation(f_v_ed, f_w_rd) = f_v_ed / f_w_rd);
        Checked::new(f_v_ed, f_w_rd, Dimension::Force, utilisation)
    }
}

/// Records and returns the length of a slot between its round ends, zero for a round hole.
fn straight_part(input: &PlugInput, d_weld: f64, trace: &mut Trace) -> Result<f64, NotChecked> {
    const SLOT: Source = Source::mechanics("slot with round ends");
    if input.l_slot.is_none() {
        step!(trace, Length, SLOT, "the hole is round"; l_straight() = 0.0);
        return Ok(l_straight);
    }
    let l_slot = input.l_slot(trace)?;
    if l_slot < d_weld {
        return Err(NotChecked::OutOfRange {
            symbol: "l_slot",
            what: "length over all of a slot",
            value: l_slot,
            dimension: Dimension::Length,
            allowed: "at least its width",
        });
    }
    step!(trace, Length, SLOT, "straight part of the slot";
        l_straight(l_slot, d_weld) = l_slot - d_weld);
    Ok(l_straight)
}

/// 4.3.5(1): plugs must not be used to carry pull.
fn no_pull(input: &PlugInput, trace: &mut Trace) -> Result<(), NotChecked> {
    if input.f_t_ed(trace) > 0.0 {
        let reason = "a plug weld must not carry pull: let the perimeter weld or a bolt take it";
        return Err(NotChecked::NoRule { reason: reason.to_owned() });
    }
    Ok(())
}

/// Tearing of the plate around the plug.
pub(super) struct SheetAroundPlug;

const AROUND: Source = Source::practice("shear of the sheet around a plug weld");

impl Clause<PlugInput> for SheetAroundPlug {
    fn reference(&self) -> Source {
        AROUND
    }

    fn title(&self) -> &'static str {
        "sheet tearing around the plug"
    }

    fn applies(&self, _: &PlugInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &PlugInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        no_pull(input, trace)?;
        let f_v_ed = input.f_v_ed(trace);
        let d_hole = input.d_hole(trace);
        step!(trace, Length, AROUND, "width of the hole"; d_weld(d_hole) = d_hole);
        let l_straight = straight_part(input, d_weld, trace)?;
        let t = input.t(trace);
        let f_u = input.f_u(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, AROUND, "shear resistance of the sheet around the weld";
            f_tear_rd(f_u, d_weld, l_straight, t, gamma_m2) =
            0.6 * f_u * (PI * d_weld + 2.0 * l_straight) * t / gamma_m2);
        step!(trace, Ratio, AROUND, "utilisation";
            utilisation(f_v_ed, f_tear_rd) = f_v_ed / f_tear_rd);
        Checked::new(f_v_ed, f_tear_rd, Dimension::Force, utilisation)
    }
}

/// Least hole, so that the torch reaches the bottom.
pub(super) struct HoleSize;

const HOLE: Source = joints("4.3.5, size of the hole");

impl Clause<PlugInput> for HoleSize {
    fn reference(&self) -> Source {
        HOLE
    }

    fn title(&self) -> &'static str {
        "least hole of a plug weld"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, _: &PlugInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &PlugInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let d_hole = input.d_hole(trace);
        let t = input.t(trace);
        step!(trace, Length, HOLE, "least diameter, 8 mm more than the thickness";
            d_min(t) = t + 8.0 * MM);
        step!(trace, Ratio, HOLE, "required over provided";
            utilisation(d_min, d_hole) = d_min / d_hole);
        Checked::new(d_min, d_hole, Dimension::Length, utilisation)
    }
}
