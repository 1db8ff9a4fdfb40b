//! A point of a fillet weld.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{SheetBeside, WeldInput};
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::{SHEAR_YIELD, SHEET_ALONG_LONG, TENSION_RUPTURE, WELDS};
use crate::packs::american::sheet::is_sheet;
use crate::packs::american::{aisc, aisi};

use super::throat;

/// Strength that is the same in any direction; the one that goes with an elastic analysis.
pub(super) struct AnyDirection;

const ANY: Source = aisc("J2.4, any direction");

impl Clause<WeldInput> for AnyDirection {
    fn reference(&self) -> Source {
        ANY
    }

    fn title(&self) -> &'static str {
        "fillet weld, same strength in any direction"
    }

    fn short(&self) -> &'static str {
        "fillet"
    }

    fn aspect(&self) -> Aspect {
        Aspect::AnyDirection
    }

    fn applies(&self, _: &WeldInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &WeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let (q_across, q_l) = components(input, trace);
        let q_ed = resultant(q_across, q_l, trace);
        let t_e = throat_of(input, trace)?;
        let f_exx = input.f_exx(trace)?;
        step!(trace, LineForce, ANY, "nominal strength"; r_n(f_exx, t_e) = 0.60 * f_exx * t_e);
        available!(trace, factors, phi_w or omega_w of WELDS;
            LineForce, ANY, "available strength"; r_w(r_n));
        step!(trace, Ratio, ANY, "utilisation"; utilisation(q_ed, r_w) = q_ed / r_w);
        Checked::new(q_ed, r_w, Dimension::LineForce, utilisation)
    }
}

/// Strength by the angle between force and bead: half as much again across it.
pub(super) struct ByDirection;

const DIRECTIONAL: Source = aisc("J2.4(a)");

impl Clause<WeldInput> for ByDirection {
    fn reference(&self) -> Source {
        DIRECTIONAL
    }

    fn title(&self) -> &'static str {
        "fillet weld, strength by the direction of the force"
    }

    fn short(&self) -> &'static str {
        "fillet by direction"
    }

    fn aspect(&self) -> Aspect {
        Aspect::ByDirection
    }

    fn applies(&self, _: &WeldInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &WeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let (q_across, q_l) = components(input, trace);
        let q_ed = resultant(q_across, q_l, trace);
        let t_e = throat_of(input, trace)?;
        let f_exx = input.f_exx(trace)?;
        step!(trace, Ratio, Source::mechanics("angle of the resultant"),
            "sine of the angle between force and bead";
            sin_theta(q_across, q_ed) = if q_ed > 0.0 { q_across / q_ed } else { 0.0 });
        step!(trace, Stress, DIRECTIONAL, "nominal stress, sine to the power 1.5";
            f_nw(f_exx, sin_theta) = 0.60 * f_exx * (1.0 + 0.50 * sqrt(cube(sin_theta))));
        step!(trace, LineForce, DIRECTIONAL, "nominal strength"; r_n(f_nw, t_e) = f_nw * t_e);
        available!(trace, factors, phi_w or omega_w of WELDS;
            LineForce, DIRECTIONAL, "available strength"; r_w(r_n));
        step!(trace, Ratio, DIRECTIONAL, "utilisation"; utilisation(q_ed, r_w) = q_ed / r_w);
        trace.note(|| {
            "this strength is for one straight line of beads of one size, loaded through its \
             centre, and not for beads at the end of a rectangular tube"
                .to_owned()
        });
        Checked::new(q_ed, r_w, Dimension::LineForce, utilisation)
    }
}

fn components(input: &WeldInput, trace: &mut Trace) -> (f64, f64) {
    let q_1 = input.q_1(trace);
    let q_2 = input.q_2(trace);
    let q_l = input.q_l(trace);
    step!(trace, LineForce, Source::mechanics("resultant of two components"),
        "force per length across the bead"; q_across(q_1, q_2) = hypot(q_1, q_2));
    (q_across, q_l)
}

fn resultant(q_across: f64, q_l: f64, trace: &mut Trace) -> f64 {
    step!(trace, LineForce, Source::mechanics("resultant of two components"),
        "force per length"; q_ed(q_across, q_l) = hypot(q_across, q_l));
    q_ed
}

fn throat_of(input: &WeldInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let z = input.z(trace);
    let gap = input.gap(trace);
    throat(z, gap, trace)
}

fn tensile_strength(input: &WeldInput, trace: &mut Trace) -> f64 {
    let f_u_1 = input.f_u_1(trace);
    let f_u_2 = input.f_u_2(trace);
    step!(trace, Stress, Source::mechanics("the weaker of both"), "tensile strength, the weaker part";
        f_u(f_u_1, f_u_2) = smaller(f_u_1, f_u_2));
    f_u
}

/// The thinner part beside the bead in shear: it yields or it breaks.
pub(super) struct BaseMetal;

const BASE: Source = aisc("J4.2, beside a fillet");

impl Clause<WeldInput> for BaseMetal {
    fn reference(&self) -> Source {
        BASE
    }

    fn title(&self) -> &'static str {
        "base metal beside the bead"
    }

    fn short(&self) -> &'static str {
        "base metal"
    }

    fn aspect(&self) -> Aspect {
        Aspect::SheetBeside
    }

    fn applies(&self, _: &WeldInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &WeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let (q_across, q_l) = components(input, trace);
        let q_ed = resultant(q_across, q_l, trace);
        let t_sheet = input.t_sheet(trace);
        let f_y_sheet = input.f_y_sheet(trace);
        let f_u = tensile_strength(input, trace);
        let what = "sides on which the part takes the force away";
        let sides = match input.beside {
            SheetBeside::OneSide => 1.0,
            SheetBeside::BothSides => 2.0,
        };
        let n_sides =
            trace.input("n_sides", what, Dimension::Ratio, sides, || input.origins.of("beside"));
        step!(trace, LineForce, BASE, "nominal strength in yielding";
            r_ny(n_sides, f_y_sheet, t_sheet) = n_sides * 0.60 * f_y_sheet * t_sheet);
        available!(trace, factors, phi_y or omega_y of SHEAR_YIELD;
            LineForce, BASE, "available strength in yielding"; r_y(r_ny));
        step!(trace, LineForce, BASE, "nominal strength in rupture";
            r_nr(n_sides, f_u, t_sheet) = n_sides * 0.60 * f_u * t_sheet);
        available!(trace, factors, phi_r or omega_r of TENSION_RUPTURE;
            LineForce, BASE, "available strength in rupture"; r_r(r_nr));
        step!(trace, LineForce, BASE, "available strength, the lower of both";
            r_base(r_y, r_r) = smaller(r_y, r_r));
        step!(trace, Ratio, BASE, "utilisation"; utilisation(q_ed, r_base) = q_ed / r_base);
        trace.note(|| format!("{} governs", if r_y < r_r { "yielding" } else { "rupture" }));
        Checked::new(q_ed, r_base, Dimension::LineForce, utilisation)
    }
}

/// Sheet beside a bead, by the rule for long welds along the force: the least that AISI S100 gives
/// for any length and direction. Sheet that goes on past the bead may tear on one side of it, so both
/// sides do not count double.
pub(super) struct SheetBesideBead;

const SHEET: Source = aisi("J2.5, beside a bead");

impl Clause<WeldInput> for SheetBesideBead {
    fn reference(&self) -> Source {
        SHEET
    }

    fn title(&self) -> &'static str {
        "sheet beside the bead"
    }

    fn short(&self) -> &'static str {
        "sheet beside bead"
    }

    fn aspect(&self) -> Aspect {
        Aspect::SheetBeside
    }

    fn applies(&self, input: &WeldInput) -> Applicability {
        is_sheet(input.t_sheet, Some(input.f_y_sheet))
    }

    fn formula(
        &self,
        input: &WeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let (q_across, q_l) = components(input, trace);
        let q_ed = resultant(q_across, q_l, trace);
        let t_sheet = input.t_sheet(trace);
        let f_u = tensile_strength(input, trace);
        step!(trace, LineForce, SHEET, "nominal strength"; p_n(t_sheet, f_u) = 0.75 * t_sheet * f_u);
        available!(trace, factors, phi_along_long or omega_along_long of SHEET_ALONG_LONG;
            LineForce, SHEET, "available strength of the sheet"; p_a(p_n));
        step!(trace, Ratio, SHEET, "utilisation"; utilisation(q_ed, p_a) = q_ed / p_a);
        Checked::new(q_ed, p_a, Dimension::LineForce, utilisation)
    }
}
