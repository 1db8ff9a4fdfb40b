//! Plug and slot welds. A slot is a plug whose length over all, `l_slot`, is given.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::PlugInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::aisc;
use crate::packs::american::available::available;
use crate::packs::american::factors::{TENSION_RUPTURE, WELDS};

/// Shear of the weld metal in the hole.
pub(super) struct PlugShear;

const PLUG: Source = aisc("J2.3 and J2.4, plug or slot");

impl Clause<PlugInput> for PlugShear {
    fn reference(&self) -> Source {
        PLUG
    }

    fn title(&self) -> &'static str {
        "plug or slot weld in shear"
    }

    fn short(&self) -> &'static str {
        "plug"
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
        no_pull(input)?;
        let f_v_ed = input.f_v_ed(trace);
        let d_hole = fused_width(input, trace)?;
        let f_exx = input.f_exx(trace)?;
        step!(trace, Area, Source::mechanics("circle"), "area of the hole, or of the ends of the slot";
            a_w(d_hole) = PI / 4.0 * sq(d_hole));
        let a_w = if let Some(l_straight) = straight_part(input, d_hole, trace)? {
            step!(trace, Area, Source::mechanics("rectangle with round ends"), "area of the slot";
                a_w(a_w, d_hole, l_straight) = a_w + d_hole * l_straight);
            a_w
        } else {
            a_w
        };
        step!(trace, Force, PLUG, "nominal strength"; r_n(f_exx, a_w) = 0.60 * f_exx * a_w);
        available!(trace, factors, phi_w or omega_w of WELDS;
            Force, PLUG, "available strength"; r_w(r_n));
        step!(trace, Ratio, PLUG, "utilisation"; utilisation(f_v_ed, r_w) = f_v_ed / r_w);
        Checked::new(f_v_ed, r_w, Dimension::Force, utilisation)
    }
}

/// Records and returns the diameter or width that holds: as far as the hole goes, less where less
/// was measured to be fused.
fn fused_width(input: &PlugInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let d_hole = input.d_hole(trace);
    if input.d_fused.is_none() {
        return Ok(d_hole);
    }
    let d_fused = input.d_fused(trace)?;
    step!(trace, Length, Source::mechanics("what is fused"), "width that is fused";
        d_hole(d_hole, d_fused) = smaller(d_hole, d_fused));
    Ok(d_hole)
}

/// Plugs and slots carry shear in a lap or hold plates together, nothing else.
fn no_pull(input: &PlugInput) -> Result<(), NotChecked> {
    if input.f_t_ed > 0.0 {
        let reason = "a plug weld must not carry pull: let the perimeter weld or a bolt take it";
        return Err(NotChecked::NoRule { reason: reason.to_owned() });
    }
    Ok(())
}

/// Records and returns the length of a slot between its round ends, if it is one.
fn straight_part(
    input: &PlugInput,
    d_hole: f64,
    trace: &mut Trace,
) -> Result<Option<f64>, NotChecked> {
    if input.l_slot.is_none() {
        return Ok(None);
    }
    let l_slot = input.l_slot(trace)?;
    if l_slot < d_hole {
        return Err(NotChecked::OutOfRange {
            symbol: "l_slot",
            what: "length over all of a slot",
            value: l_slot,
            dimension: Dimension::Length,
            allowed: "at least its width",
        });
    }
    step!(trace, Length, Source::mechanics("slot with round ends"), "straight part of the slot";
        l_straight(l_slot, d_hole) = l_slot - d_hole);
    Ok(Some(l_straight))
}

/// Rupture of the plate around the weld.
pub(super) struct SheetAroundPlug;

const AROUND: Source = aisc("J4.2(b), around a plug");

impl Clause<PlugInput> for SheetAroundPlug {
    fn reference(&self) -> Source {
        AROUND
    }

    fn title(&self) -> &'static str {
        "plate tearing around the plug or slot"
    }

    fn short(&self) -> &'static str {
        "plate at plug"
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
        no_pull(input)?;
        let f_v_ed = input.f_v_ed(trace);
        let d_hole = input.d_hole(trace);
        let t = input.t(trace);
        let f_u = input.f_u(trace);
        step!(trace, Length, Source::mechanics("circle"), "length around the hole";
            u_w(d_hole) = PI * d_hole);
        let u_w = if let Some(l_straight) = straight_part(input, d_hole, trace)? {
            step!(trace, Length, Source::mechanics("rectangle with round ends"),
                "length around the slot"; u_w(u_w, l_straight) = u_w + 2.0 * l_straight);
            u_w
        } else {
            u_w
        };
        step!(trace, Force, AROUND, "nominal strength"; r_n(f_u, u_w, t) = 0.60 * f_u * u_w * t);
        available!(trace, factors, phi_r or omega_r of TENSION_RUPTURE;
            Force, AROUND, "available strength"; r_r(r_n));
        step!(trace, Ratio, AROUND, "utilisation"; utilisation(f_v_ed, r_r) = f_v_ed / r_r);
        Checked::new(f_v_ed, r_r, Dimension::Force, utilisation)
    }
}
