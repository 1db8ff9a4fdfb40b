//! Fillet runs along and across the force together.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::WeldLinesInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::aisc;
use crate::packs::american::available::available;
use crate::packs::american::factors::{SHEAR_YIELD, TENSION_RUPTURE, WELDS};

use super::run::end_loaded;
use super::throat;

/// Weld metal of all runs. Runs across the force are stronger and stiffer: either all runs count the
/// same, or those across count half as much again and those along a little less.
pub(super) struct Lines;

const LINES: Source = aisc("J2.4(c)");

impl Clause<WeldLinesInput> for Lines {
    fn reference(&self) -> Source {
        LINES
    }

    fn title(&self) -> &'static str {
        "fillet runs along and across the force together"
    }

    fn short(&self) -> &'static str {
        "fillets, mixed"
    }

    fn applies(&self, _: &WeldLinesInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &WeldLinesInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ed = input.f_ed(trace);
        let z = input.z(trace);
        let gap = input.gap(trace);
        let t_e = throat(z, gap, trace)?;
        let f_exx = input.f_exx(trace);
        let l_along = effective_along(input, z, trace)?;
        let l_across = input.l_across(trace);
        step!(trace, Force, LINES, "nominal strength of the runs along the force";
            r_nwl(f_exx, t_e, l_along) = 0.60 * f_exx * t_e * l_along);
        step!(trace, Force, LINES, "nominal strength of the runs across, counted like those along";
            r_nwt(f_exx, t_e, l_across) = 0.60 * f_exx * t_e * l_across);
        step!(trace, Force, LINES, "nominal strength, all counted the same";
            r_same(r_nwl, r_nwt) = r_nwl + r_nwt);
        step!(trace, Force, LINES, "nominal strength, by direction";
            r_by(r_nwl, r_nwt) = 0.85 * r_nwl + 1.5 * r_nwt);
        step!(trace, Force, LINES, "nominal strength, the larger of both";
            r_n(r_same, r_by) = larger(r_same, r_by));
        available!(trace, factors, phi_w or omega_w of WELDS;
            Force, LINES, "available strength"; r_w(r_n));
        step!(trace, Ratio, LINES, "utilisation"; utilisation(f_ed, r_w) = f_ed / r_w);
        trace.note(|| {
            "not for fillets at the end of a rectangular tube: there all count the same".to_owned()
        });
        Checked::new(f_ed, r_w, Dimension::Force, utilisation)
    }
}

/// The runs along the force, shortened where they are long and loaded at their ends.
fn effective_along(input: &WeldLinesInput, z: f64, trace: &mut Trace) -> Result<f64, NotChecked> {
    let l_along = input.l_along(trace);
    if input.l_run.is_none() {
        return Ok(l_along);
    }
    let l_run = input.l_run(trace)?;
    step!(trace, Length, LINES, "length of one run"; l(l_run) = l_run);
    let l_eff = end_loaded(l, z, trace);
    step!(trace, Length, LINES, "length along the force that counts";
        l_along(l_along, l_eff, l_run) = l_along * l_eff / l_run);
    Ok(l_along)
}

/// The thinner part along all runs in shear.
pub(super) struct BaseMetalOfLines;

const BASE: Source = aisc("J4.2, along fillet runs");

impl Clause<WeldLinesInput> for BaseMetalOfLines {
    fn reference(&self) -> Source {
        BASE
    }

    fn title(&self) -> &'static str {
        "base metal along the fillet runs"
    }

    fn short(&self) -> &'static str {
        "base metal, runs"
    }

    fn applies(&self, _: &WeldLinesInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &WeldLinesInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ed = input.f_ed(trace);
        let l_along = input.l_along(trace);
        let l_across = input.l_across(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let f_u = input.f_u(trace);
        step!(trace, Area, Source::mechanics("faces beside the runs"), "area in shear";
            a_w(t, l_along, l_across) = t * (l_along + l_across));
        step!(trace, Force, BASE, "nominal strength in yielding"; r_ny(f_y, a_w) = 0.60 * f_y * a_w);
        available!(trace, factors, phi_y or omega_y of SHEAR_YIELD;
            Force, BASE, "available strength in yielding"; r_y(r_ny));
        step!(trace, Force, BASE, "nominal strength in rupture"; r_nr(f_u, a_w) = 0.60 * f_u * a_w);
        available!(trace, factors, phi_r or omega_r of TENSION_RUPTURE;
            Force, BASE, "available strength in rupture"; r_r(r_nr));
        step!(trace, Force, BASE, "available strength, the lower of both";
            r_base(r_y, r_r) = smaller(r_y, r_r));
        step!(trace, Ratio, BASE, "utilisation"; utilisation(f_ed, r_base) = f_ed / r_base);
        trace.note(|| format!("{} governs", if r_y < r_r { "yielding" } else { "rupture" }));
        Checked::new(f_ed, r_base, Dimension::Force, utilisation)
    }
}
