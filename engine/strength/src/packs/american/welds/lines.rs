//! Fillet runs along and across the force together.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::WeldLinesInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::{SHEAR_YIELD, TENSION_RUPTURE, TENSION_YIELD, WELDS};
use crate::packs::american::{aisc, since};

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

/// The flat bar behind the runs: it yields, or it breaks where the pull has gathered at its sides.
pub(super) struct BarOfLines;

const BAR: Source = aisc("J4.1 and Table D3.1, flat bar held by fillets");

impl Clause<WeldLinesInput> for BarOfLines {
    fn reference(&self) -> Source {
        BAR
    }

    fn title(&self) -> &'static str {
        "flat bar held by the fillet runs"
    }

    fn short(&self) -> &'static str {
        "bar, runs"
    }

    fn applies(&self, input: &WeldLinesInput) -> Applicability {
        Applicability::only_if(input.w_bar.is_some(), "the runs hold no flat bar")
    }

    fn formula(
        &self,
        input: &WeldLinesInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ed = input.f_ed(trace);
        let w_bar = input.w_bar(trace)?;
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let f_u = input.f_u(trace);
        step!(trace, Area, Source::mechanics("rectangle"), "area of the bar"; a(w_bar, t) = w_bar * t);
        step!(trace, Force, BAR, "nominal strength in yielding"; r_ny(f_y, a) = f_y * a);
        available!(trace, factors, phi_t or omega_t of TENSION_YIELD;
            Force, BAR, "available strength in yielding"; r_y(r_ny));
        let u_lag = shear_lag(input, w_bar, factors, trace)?;
        step!(trace, Force, BAR, "nominal strength in rupture"; r_nr(f_u, a, u_lag) = f_u * a * u_lag);
        available!(trace, factors, phi_r or omega_r of TENSION_RUPTURE;
            Force, BAR, "available strength in rupture"; r_r(r_nr));
        step!(trace, Force, BAR, "available strength, the lower of both";
            r_bar(r_y, r_r) = smaller(r_y, r_r));
        step!(trace, Ratio, BAR, "utilisation"; utilisation(f_ed, r_bar) = f_ed / r_bar);
        trace.note(|| format!("{} governs", if r_y < r_r { "yielding" } else { "rupture" }));
        Checked::new(f_ed, r_bar, Dimension::Force, utilisation)
    }
}

/// Records and returns the shear lag factor of a bar welded along both sides, or across as well.
fn shear_lag(
    input: &WeldLinesInput,
    w_bar: f64,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    const CASE_4: Source = aisc("Table D3.1, case 4");
    if input.l_across > 0.0 {
        step!(trace, Ratio, aisc("Table D3.1, case 1"), "shear lag factor, runs along and across";
            u_lag() = 1.0);
        return Ok(u_lag);
    }
    let l_along = input.l_along(trace);
    step!(trace, Length, Source::mechanics("one of two equal runs"), "length of a run";
        l(l_along) = 0.5 * l_along);
    if since(2016, factors, trace) {
        step!(trace, Ratio, CASE_4, "shear lag factor, runs along both sides";
            u_lag(l, w_bar) = 3.0 * sq(l) / (3.0 * sq(l) + sq(w_bar)));
        return Ok(u_lag);
    }
    if l < w_bar {
        return Err(NotChecked::OutOfRange {
            symbol: "l_along",
            what: "length of all runs along the force together",
            value: l_along,
            dimension: Dimension::Length,
            allowed: "runs along both sides at least as long as the bar is wide",
        });
    }
    step!(trace, Ratio, CASE_4, "shear lag factor, runs along both sides";
    u_lag(l, w_bar) = if l >= 2.0 * w_bar {
        1.0
    } else if l >= 1.5 * w_bar {
        0.87
    } else {
        0.75
    });
    Ok(u_lag)
}
