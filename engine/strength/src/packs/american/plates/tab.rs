//! Tabs and flats bent about their thickness.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::TabInput;
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::american::aisc;
use crate::packs::american::available::available;
use crate::packs::american::factors::{BENDING, SHEAR_YIELD};

const ROOT_YIELD: Source = Source::mechanics("bending of a strip, first yield under AISC 360, F1");
const HINGE: Source = aisc("F11.1, flat bent about its thickness");
const AT_HOLE: Source = aisc("F11.1, net section of a flat");
const SPREAD: Source =
    Source::practice("load of one bolt spread at 45° to the root, AISC 360 F11.1");
const SHEAR: Source = aisc("J4.2(a), tab");

/// First yield at the root.
pub(super) struct FirstYield;

impl Clause<TabInput> for FirstYield {
    fn reference(&self) -> Source {
        ROOT_YIELD
    }

    fn title(&self) -> &'static str {
        "first yield at the root of the tab"
    }

    fn short(&self) -> &'static str {
        "first yield at the root"
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn aspect(&self) -> Aspect {
        Aspect::FirstYieldAtRoot
    }

    fn applies(&self, _: &TabInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &TabInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ed = input.f_ed(trace);
        let l = input.l(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        step!(trace, Stress, ROOT_YIELD, "bending stress at the root";
            f_b(f_ed, l, b, t) = 6.0 * f_ed * l / (b * sq(t)));
        available!(trace, factors, phi_b or omega_b of BENDING;
            Stress, ROOT_YIELD, "available stress"; f_c(f_y));
        step!(trace, Ratio, ROOT_YIELD, "utilisation"; utilisation(f_b, f_c) = f_b / f_c);
        Checked::new(f_b, f_c, Dimension::Stress, utilisation)
    }
}

/// A plastic hinge at the root: the strength of a ductile tab.
pub(super) struct PlasticHinge;

impl Clause<TabInput> for PlasticHinge {
    fn reference(&self) -> Source {
        HINGE
    }

    fn title(&self) -> &'static str {
        "plastic hinge at the root of the tab"
    }

    fn short(&self) -> &'static str {
        "hinge at the root"
    }

    fn applies(&self, _: &TabInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &TabInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let b = input.b(trace);
        step!(trace, Length, HINGE, "width that works"; b_eff(b) = b);
        hinge(input, factors, trace, HINGE, b_eff)
    }
}

/// Records a plastic hinge over the width `b_eff` at the root. The cap of 1.6 on the moment at first
/// yield never bites: a rectangle has 1.5.
fn hinge(
    input: &TabInput,
    factors: &Factors,
    trace: &mut Trace,
    source: Source,
    b_eff: f64,
) -> Result<Checked, NotChecked> {
    let f_ed = input.f_ed(trace);
    let l = crate::packs::american::available::once!(trace, input.l);
    let t = input.t(trace);
    let f_y = input.f_y(trace);
    step!(trace, Moment, source, "moment at the root"; m_r(f_ed, l) = f_ed * l);
    step!(trace, Moment, source, "plastic moment, at most 1.6 of that at first yield";
        m_p(b_eff, t, f_y) =
        smaller(f_y * b_eff * sq(t) / 4.0, 1.6 * f_y * b_eff * sq(t) / 6.0));
    available!(trace, factors, phi_b or omega_b of BENDING;
        Moment, source, "available moment"; m_c(m_p));
    step!(trace, Ratio, source, "utilisation"; utilisation(m_r, m_c) = m_r / m_c);
    Checked::new(m_r, m_c, Dimension::Moment, utilisation)
}

/// A plastic hinge across a hole.
pub(super) struct AtHole;

impl Clause<TabInput> for AtHole {
    fn reference(&self) -> Source {
        AT_HOLE
    }

    fn title(&self) -> &'static str {
        "plastic hinge of the tab across the hole"
    }

    fn short(&self) -> &'static str {
        "hinge across the hole"
    }

    fn applies(&self, input: &TabInput) -> Applicability {
        let hole = input.d_0.is_some() && input.l_hole.is_some();
        Applicability::only_if(hole, "the tab has no hole between load and root")
    }

    fn formula(
        &self,
        input: &TabInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ed = input.f_ed(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let d_0 = input.d_0(trace)?;
        let l_hole = input.l_hole(trace)?;
        if d_0 >= b {
            return Err(NotChecked::OutOfRange {
                symbol: "d_0",
                what: "diameter of a hole in the tab",
                value: d_0,
                dimension: Dimension::Length,
                allowed: "less than the width of the tab",
            });
        }
        step!(trace, Moment, AT_HOLE, "moment at the hole"; m_r(f_ed, l_hole) = f_ed * l_hole);
        step!(trace, Moment, AT_HOLE, "plastic moment of the net width";
            m_p(b, d_0, t, f_y) = f_y * (b - d_0) * sq(t) / 4.0);
        available!(trace, factors, phi_b or omega_b of BENDING;
            Moment, AT_HOLE, "available moment"; m_c(m_p));
        step!(trace, Ratio, AT_HOLE, "utilisation"; utilisation(m_r, m_c) = m_r / m_c);
        Checked::new(m_r, m_c, Dimension::Moment, utilisation)
    }
}

/// A plastic hinge over the width that one bolt reaches: a wide tab does not work over all of it.
pub(super) struct Spread;

impl Clause<TabInput> for Spread {
    fn reference(&self) -> Source {
        SPREAD
    }

    fn title(&self) -> &'static str {
        "plastic hinge over the width the bolt reaches"
    }

    fn short(&self) -> &'static str {
        "hinge at the bolt"
    }

    fn aspect(&self) -> Aspect {
        Aspect::HingeAtBolt
    }

    fn applies(&self, input: &TabInput) -> Applicability {
        Applicability::only_if(input.d_w.is_some(), "the force is not brought by a bolt head")
    }

    fn formula(
        &self,
        input: &TabInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let b = input.b(trace);
        let l = input.l(trace);
        let d_w = input.d_w(trace)?;
        step!(trace, Length, SPREAD, "width that works at the root";
            b_eff(d_w, l, b) = smaller(d_w + 2.0 * l, b));
        hinge(input, factors, trace, SPREAD, b_eff)
    }
}

/// Yielding in shear through the thickness.
pub(super) struct Shear;

impl Clause<TabInput> for Shear {
    fn reference(&self) -> Source {
        SHEAR
    }

    fn title(&self) -> &'static str {
        "yielding of the tab in shear"
    }

    fn short(&self) -> &'static str {
        "shear of the tab"
    }

    fn applies(&self, _: &TabInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &TabInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ed = input.f_ed(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        step!(trace, Force, SHEAR, "nominal shear"; r_n(f_y, b, t) = 0.6 * f_y * b * t);
        available!(trace, factors, phi_y or omega_y of SHEAR_YIELD;
            Force, SHEAR, "available shear"; r_c(r_n));
        step!(trace, Ratio, SHEAR, "utilisation"; utilisation(f_ed, r_c) = f_ed / r_c);
        Checked::new(f_ed, r_c, Dimension::Force, utilisation)
    }
}
