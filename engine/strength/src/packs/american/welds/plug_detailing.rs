//! Size and place of plug and slot welds. In a slot `d_hole` is the width.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::PlugInput;
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::american::{IN, aisc};

/// Least hole, so that the torch reaches the bottom.
pub(super) struct LeastHole;

const LEAST: Source = aisc("J2.3b, least hole");

impl Clause<PlugInput> for LeastHole {
    fn reference(&self) -> Source {
        LEAST
    }

    fn title(&self) -> &'static str {
        "least hole of a plug or slot weld"
    }

    fn short(&self) -> &'static str {
        "plug, least"
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
        step!(trace, Length, LEAST, "least width of the hole"; d_min(t) = t + 5.0 / 16.0 * IN);
        step!(trace, Ratio, LEAST, "required over provided";
            utilisation(d_min, d_hole) = d_min / d_hole);
        Checked::new(d_min, d_hole, Dimension::Length, utilisation)
    }
}

/// Largest hole: a larger one shrinks and cracks.
pub(super) struct LargestHole;

const LARGEST: Source = aisc("J2.3b, largest hole");

impl Clause<PlugInput> for LargestHole {
    fn reference(&self) -> Source {
        LARGEST
    }

    fn title(&self) -> &'static str {
        "largest hole of a plug or slot weld"
    }

    fn short(&self) -> &'static str {
        "plug, largest"
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
        let t_w = fill(t, trace);
        step!(trace, Length, LARGEST, "largest width of the hole";
            d_max(t, t_w) = larger(t + 5.0 / 16.0 * IN + IN / 8.0, 2.25 * t_w));
        step!(trace, Ratio, LARGEST, "provided over allowed";
            utilisation(d_hole, d_max) = d_hole / d_max);
        Checked::new(d_hole, d_max, Dimension::Length, utilisation)
    }
}

/// Records and returns the thickness of the weld metal: the whole plate up to 5/8 in, half of a
/// thicker one but no less than 5/8 in.
fn fill(t: f64, trace: &mut Trace) -> f64 {
    step!(trace, Length, aisc("J2.3b, depth of fill"), "least thickness of the weld metal";
        t_w(t) = if t <= 5.0 / 8.0 * IN { t } else { larger(0.5 * t, 5.0 / 8.0 * IN) });
    t_w
}

/// Least distance between plugs, and between slots across their length.
pub(super) struct Spacing;

const SPACING: Source = aisc("J2.3b, spacing");

impl Clause<PlugInput> for Spacing {
    fn reference(&self) -> Source {
        SPACING
    }

    fn title(&self) -> &'static str {
        "least spacing of plug or slot welds"
    }

    fn short(&self) -> &'static str {
        "plug, spacing"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &PlugInput) -> Applicability {
        Applicability::only_if(input.s.is_some(), "there is no other plug near")
    }

    fn formula(
        &self,
        input: &PlugInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let d_hole = input.d_hole(trace);
        let s = input.s(trace)?;
        step!(trace, Length, SPACING, "least spacing, four widths"; s_min(d_hole) = 4.0 * d_hole);
        step!(trace, Ratio, SPACING, "required over provided"; utilisation(s_min, s) = s_min / s);
        Checked::new(s_min, s, Dimension::Length, utilisation)
    }
}

/// Least distance between slots along their length.
pub(super) struct SpacingAlong;

const ALONG: Source = aisc("J2.3b, spacing along slots");

impl Clause<PlugInput> for SpacingAlong {
    fn reference(&self) -> Source {
        ALONG
    }

    fn title(&self) -> &'static str {
        "least spacing of slot welds along their length"
    }

    fn short(&self) -> &'static str {
        "slot, spacing"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &PlugInput) -> Applicability {
        let slots = input.l_slot.is_some() && input.s_l.is_some();
        Applicability::only_if(slots, "there is no other slot in line")
    }

    fn formula(
        &self,
        input: &PlugInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let l_slot = input.l_slot(trace)?;
        let s_l = input.s_l(trace)?;
        step!(trace, Length, ALONG, "least spacing, two lengths"; s_min(l_slot) = 2.0 * l_slot);
        step!(trace, Ratio, ALONG, "required over provided"; utilisation(s_min, s_l) = s_min / s_l);
        Checked::new(s_min, s_l, Dimension::Length, utilisation)
    }
}

/// Largest length of a slot.
pub(super) struct SlotLength;

const LENGTH: Source = aisc("J2.3b, length of a slot");

impl Clause<PlugInput> for SlotLength {
    fn reference(&self) -> Source {
        LENGTH
    }

    fn title(&self) -> &'static str {
        "largest length of a slot weld"
    }

    fn short(&self) -> &'static str {
        "slot, length"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &PlugInput) -> Applicability {
        Applicability::only_if(input.l_slot.is_some(), "the weld is no slot")
    }

    fn formula(
        &self,
        input: &PlugInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let l_slot = input.l_slot(trace)?;
        let t = input.t(trace);
        let t_w = fill(t, trace);
        step!(trace, Length, LENGTH, "largest length, ten times the weld metal is thick";
            l_max(t_w) = 10.0 * t_w);
        step!(trace, Ratio, LENGTH, "provided over allowed"; utilisation(l_slot, l_max) = l_slot / l_max);
        Checked::new(l_slot, l_max, Dimension::Length, utilisation)
    }
}
