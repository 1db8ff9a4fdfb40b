//! Tabs and flats that stand off a root and are bent about their thickness.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::TabInput;
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::e_of_steel;
use crate::packs::en_1993::factors::PartialFactors;

/// First yield at the root.
pub(super) struct FirstYield;

const DEFLECTION: Source = Source::mechanics("deflection of a cantilever");
const ROOT_YIELD: Source = Source::mechanics("bending of a strip, first yield");

impl Clause<TabInput> for FirstYield {
    fn reference(&self) -> Source {
        ROOT_YIELD
    }

    fn title(&self) -> &'static str {
        "first yield at the root of the tab"
    }

    fn aspect(&self) -> Aspect {
        Aspect::FirstYieldAtRoot
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
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
        let gamma_m0 = factors.gamma_m0(trace);
        let e_steel = e_of_steel(trace);
        step!(trace, Length, DEFLECTION, "how far the tab gives at the force, as a beam";
            w_beam(f_ed, l, b, t, e_steel) = 4.0 * f_ed * cube(l) / (e_steel * b * cube(t)));
        step!(trace, Length, DEFLECTION, "the same as a wide plate, which cannot curve across";
            w_wide(w_beam) = (1.0 - 0.3 * 0.3) * w_beam);
        step!(trace, Stress, ROOT_YIELD, "bending stress at the root";
            sigma(f_ed, l, b, t) = 6.0 * f_ed * l / (b * sq(t)));
        step!(trace, Stress, ROOT_YIELD, "yield strength over its factor";
            f_yd(f_y, gamma_m0) = f_y / gamma_m0);
        step!(trace, Ratio, ROOT_YIELD, "utilisation"; utilisation(sigma, f_yd) = sigma / f_yd);
        Checked::new(sigma, f_yd, Dimension::Stress, utilisation)
    }
}

/// Plastic hinge at the root: the strength of a ductile tab.
pub(super) struct PlasticHinge;

const ROOT_HINGE: Source = Source::mechanics("bending of a strip, plastic hinge");

impl Clause<TabInput> for PlasticHinge {
    fn reference(&self) -> Source {
        ROOT_HINGE
    }

    fn title(&self) -> &'static str {
        "plastic hinge at the root of the tab"
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
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Moment, ROOT_HINGE, "moment at the root"; m_ed(f_ed, l) = f_ed * l);
        step!(trace, Moment, ROOT_HINGE, "plastic moment";
            m_pl_rd(b, t, f_y, gamma_m0) = b * sq(t) / 4.0 * f_y / gamma_m0);
        step!(trace, Ratio, ROOT_HINGE, "utilisation"; utilisation(m_ed, m_pl_rd) = m_ed / m_pl_rd);
        Checked::new(m_ed, m_pl_rd, Dimension::Moment, utilisation)
    }
}

/// First yield across a hole.
pub(super) struct AtHole;

const AT_HOLE: Source = Source::mechanics("bending of a strip, net section");

impl Clause<TabInput> for AtHole {
    fn reference(&self) -> Source {
        AT_HOLE
    }

    fn title(&self) -> &'static str {
        "first yield of the tab across the hole"
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
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
        let gamma_m0 = factors.gamma_m0(trace);
        if d_0 >= b {
            return Err(NotChecked::OutOfRange {
                symbol: "d_0",
                what: "diameter of a hole in the tab",
                value: d_0,
                dimension: Dimension::Length,
                allowed: "less than the width of the tab",
            });
        }
        step!(trace, Stress, AT_HOLE, "bending stress across the hole";
            sigma(f_ed, l_hole, b, d_0, t) = 6.0 * f_ed * l_hole / ((b - d_0) * sq(t)));
        step!(trace, Stress, AT_HOLE, "yield strength over its factor";
            f_yd(f_y, gamma_m0) = f_y / gamma_m0);
        step!(trace, Ratio, AT_HOLE, "utilisation"; utilisation(sigma, f_yd) = sigma / f_yd);
        Checked::new(sigma, f_yd, Dimension::Stress, utilisation)
    }
}

/// Plastic hinge over the width that one bolt reaches: a wide tab does not work over all of it.
pub(super) struct Spread;

const SPREAD: Source = Source::practice("load of one bolt spread at 45° to the root");

impl Clause<TabInput> for Spread {
    fn reference(&self) -> Source {
        SPREAD
    }

    fn title(&self) -> &'static str {
        "plastic hinge over the width the bolt reaches"
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
        let f_ed = input.f_ed(trace);
        let l = input.l(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let d_w = input.d_w(trace)?;
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Length, SPREAD, "width that works at the root";
            b_eff(d_w, l, b) = smaller(d_w + 2.0 * l, b));
        step!(trace, Moment, SPREAD, "moment at the root"; m_ed(f_ed, l) = f_ed * l);
        step!(trace, Moment, SPREAD, "plastic moment of the width that works";
            m_pl_rd(b_eff, t, f_y, gamma_m0) = b_eff * sq(t) / 4.0 * f_y / gamma_m0);
        step!(trace, Ratio, SPREAD, "utilisation"; utilisation(m_ed, m_pl_rd) = m_ed / m_pl_rd);
        Checked::new(m_ed, m_pl_rd, Dimension::Moment, utilisation)
    }
}
