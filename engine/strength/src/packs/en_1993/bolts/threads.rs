//! Stripping of threads, and the bolt while it is tightened.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::catalog::assembly_preload;
use crate::clause::input::{AssemblyInput, ThreadInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::preload;

/// Stripping of the bolt thread.
pub(super) struct BoltThreadStrips;

const BOLT_THREAD: Source = Source::new("FED-STD-H28/2B", "shear area of external threads");

impl Clause<ThreadInput> for BoltThreadStrips {
    fn reference(&self) -> Source {
        BOLT_THREAD
    }

    fn title(&self) -> &'static str {
        "the thread of the bolt strips"
    }

    fn applies(&self, _: &ThreadInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &ThreadInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let l_e = input.l_e(trace);
        let pitch = input.pitch(trace);
        let a_s_s = bolt_thread_area(input, l_e, pitch, trace);
        let r_m_bolt = input.r_m_bolt(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, BOLT_THREAD, "stripping resistance of the bolt thread";
            f_strip_rd(r_m_bolt, a_s_s, gamma_m2) = 0.6 * r_m_bolt * a_s_s / gamma_m2);
        step!(trace, Ratio, BOLT_THREAD, "utilisation";
            utilisation(f_t_ed, f_strip_rd) = f_t_ed / f_strip_rd);
        Checked::new(f_t_ed, f_strip_rd, Dimension::Force, utilisation)
    }
}

/// Records and returns the area over which the bolt thread shears off.
pub(super) fn bolt_thread_area(
    input: &ThreadInput,
    l_e: f64,
    pitch: f64,
    trace: &mut Trace,
) -> f64 {
    let d_1_nut_max = input.d_1_nut_max(trace);
    let d_2_min = input.d_2_min(trace);
    // 0.57735 is tan 30° of the flank of ISO metric threads, as the handbook formulas round it.
    step!(trace, Area, BOLT_THREAD, "shear area of the bolt thread";
        a_s_s(l_e, pitch, d_1_nut_max, d_2_min) =
        PI * l_e / pitch * d_1_nut_max * (pitch / 2.0 + 0.57735 * (d_2_min - d_1_nut_max)));
    a_s_s
}

/// Records and returns the area over which the nut thread shears off.
pub(super) fn nut_thread_area(input: &ThreadInput, l_e: f64, pitch: f64, trace: &mut Trace) -> f64 {
    let d_min = input.d_min(trace);
    let d_2_nut_max = input.d_2_nut_max(trace);
    step!(trace, Area, NUT_THREAD, "shear area of the nut thread";
        a_s_n(l_e, pitch, d_min, d_2_nut_max) =
        PI * l_e / pitch * d_min * (pitch / 2.0 + 0.57735 * (d_min - d_2_nut_max)));
    a_s_n
}

/// Stripping of the thread in the nut or plate.
pub(super) struct NutThreadStrips;

const NUT_THREAD: Source = Source::new("FED-STD-H28/2B", "shear area of internal threads");

impl Clause<ThreadInput> for NutThreadStrips {
    fn reference(&self) -> Source {
        NUT_THREAD
    }

    fn title(&self) -> &'static str {
        "the thread of the nut or tapped plate strips"
    }

    fn applies(&self, _: &ThreadInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &ThreadInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let l_e = input.l_e(trace);
        let pitch = input.pitch(trace);
        let a_s_n = nut_thread_area(input, l_e, pitch, trace);
        let r_m_nut = input.r_m_nut(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, NUT_THREAD, "stripping resistance of the nut thread";
            f_strip_rd(r_m_nut, a_s_n, gamma_m2) = 0.6 * r_m_nut * a_s_n / gamma_m2);
        step!(trace, Ratio, NUT_THREAD, "utilisation";
            utilisation(f_t_ed, f_strip_rd) = f_t_ed / f_strip_rd);
        Checked::new(f_t_ed, f_strip_rd, Dimension::Force, utilisation)
    }
}

/// Stress of the bolt while it is tightened: preload and the torsion of the thread together use at
/// most nine tenths of the proof strength.
pub(super) struct YieldWhileTightening;

const TIGHTENING: Source = preload("R7: permitted assembly preload, 90 % of the proof strength");

impl Clause<AssemblyInput> for YieldWhileTightening {
    fn reference(&self) -> Source {
        TIGHTENING
    }

    fn title(&self) -> &'static str {
        "bolt while it is tightened"
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn applies(&self, _: &AssemblyInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &AssemblyInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_m_max = input.f_m_max(trace);
        let mu_thread = input.mu_thread(trace);
        let f_m = assembly_preload(&input.thread, &input.class, mu_thread, 0.9, trace)
            .map_err(|refused| NotChecked::NoRule { reason: refused.to_string() })?;
        step!(trace, Ratio, TIGHTENING, "utilisation"; utilisation(f_m_max, f_m) = f_m_max / f_m);
        Checked::new(f_m_max, f_m, Dimension::Force, utilisation)
    }
}
