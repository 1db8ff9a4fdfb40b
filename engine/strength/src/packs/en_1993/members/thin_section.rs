//! Thin sections of several flat walls: axial force and bending about both axes.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::ThinSectionInput;
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MPA, plated, sheet};

use super::flats::{Flats, Level, Pressing};
use super::reduced::{Axis, Modulus, Shifted, restless, signs};
use crate::packs::flat_sections::thin_section as flats;

/// Forces on a section and its yield strength, read.
#[derive(Clone, Copy)]
pub(super) struct Forces {
    pub(super) n_ed: f64,
    pub(super) m_y_ed: f64,
    pub(super) m_z_ed: f64,
    pub(super) f_y: f64,
}

/// Reads them off an input.
macro_rules! forces {
    ($input:ident, $trace:ident) => {
        $crate::packs::en_1993::members::thin_section::Forces {
            n_ed: $input.n_ed($trace),
            m_y_ed: $input.m_y_ed($trace),
            m_z_ed: $input.m_z_ed($trace),
            f_y: $input.f_y($trace),
        }
    };
}
pub(super) use forces;

/// Axial force and moments each on the section that it would leave alone, shares added.
pub(super) struct Apart;

const APART: Source = plated("4.3, 4.4 and 4.6(1)");

impl Clause<ThinSectionInput> for Apart {
    fn reference(&self) -> Source {
        APART
    }

    fn title(&self) -> &'static str {
        "thin section of flat walls, effective widths under each force"
    }

    fn short(&self) -> &'static str {
        "each force"
    }

    fn applies(&self, _: &ThinSectionInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &ThinSectionInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let section = flats(input, trace)?;
        let forces = forces!(input, trace);
        apart(&section, forces, factors, trace)
    }
}

/// All forces on one section, the walls judged at the stresses that act.
pub(super) struct Together;

const TOGETHER: Source = plated("4.4(4), slenderness at the stress that acts");

impl Clause<ThinSectionInput> for Together {
    fn reference(&self) -> Source {
        TOGETHER
    }

    fn title(&self) -> &'static str {
        "thin section of flat walls, effective widths at the acting stress"
    }

    fn short(&self) -> &'static str {
        "at the stress"
    }

    fn applies(&self, _: &ThinSectionInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &ThinSectionInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let section = flats(input, trace)?;
        let forces = forces!(input, trace);
        together(&section, forces, factors, trace)
    }
}

/// Each force on the section it would leave alone, shares added.
pub(super) fn apart(
    section: &Flats,
    Forces { n_ed, m_y_ed, m_z_ed, f_y }: Forces,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<Checked, NotChecked> {
    let gamma_m0 = factors.gamma_m0(trace);
    step!(trace, Ratio, plated("Table 4.1"), "factor for the yield strength";
        eps(f_y) = sqrt(235.0 * MPA / f_y));
    let level = Level { eps, f_yd: None };
    let pressed =
        if n_ed < 0.0 { Shifted::pressed(section, level)? } else { Shifted::none(section) };
    let a_eff = pressed.a_eff(1.0, trace);
    let e_n_y = pressed.e_y(trace);
    let e_n_z = pressed.e_z(trace);
    step!(trace, Force, APART, "size of the axial force"; n_abs(n_ed) = abs(n_ed));
    step!(trace, Moment, APART, "moment about y with that of the shift of the centroid, both against";
        m_y(m_y_ed, n_abs, e_n_z) = abs(m_y_ed) + n_abs * abs(e_n_z));
    step!(trace, Moment, APART, "moment about z with that of the shift of the centroid, both against";
        m_z(m_z_ed, n_abs, e_n_y) = abs(m_z_ed) + n_abs * abs(e_n_y));
    let about_y = Modulus { axis: Axis::Y, symbol: "w_eff_y", signs: signs(m_y_ed, e_n_z) };
    let w_eff_y = about_y.of(section, 1.0, level, trace)?;
    let about_z = Modulus { axis: Axis::Z, symbol: "w_eff_z", signs: signs(m_z_ed, e_n_y) };
    let w_eff_z = about_z.of(section, 1.0, level, trace)?;
    step!(trace, Stress, APART, "yield strength over its factor";
        f_yd(f_y, gamma_m0) = f_y / gamma_m0);
    step!(trace, Stress, APART, "stress of all forces on their effective sections";
        sigma(n_abs, a_eff, m_y, w_eff_y, m_z, w_eff_z) =
        n_abs / a_eff + m_y / w_eff_y + m_z / w_eff_z);
    step!(trace, Ratio, APART, "utilisation"; utilisation(sigma, f_yd) = sigma / f_yd);
    Checked::new(sigma, f_yd, Dimension::Stress, utilisation)
}

/// All forces on one effective section.
pub(super) fn together(
    section: &Flats,
    Forces { n_ed, m_y_ed, m_z_ed, f_y }: Forces,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<Checked, NotChecked> {
    let gamma_m0 = factors.gamma_m0(trace);
    step!(trace, Ratio, plated("Table 4.1"), "factor for the yield strength";
        eps(f_y) = sqrt(235.0 * MPA / f_y));
    step!(trace, Stress, TOGETHER, "yield strength over its factor";
        f_yd(f_y, gamma_m0) = f_y / gamma_m0);
    let forces = Pressing { n: -n_ed, m_y: m_y_ed, m_z: m_z_ed };
    let level = Level { eps, f_yd: Some(f_yd) };
    let rest = section.at_rest(forces, level, true).ok_or_else(restless)?;
    let gross = section.gross();
    let field = rest.carrying.field(rest.carrying.moved(forces, &gross, true));
    trace.note(|| format!("at rest after {} passes: {}", rest.passes, section.told(&rest.left)));
    let what = "largest stress at a corner of the effective section";
    let sigma = trace.input("sigma", what, Dimension::Stress, section.most(&field), || {
        Provenance::Solved("the effective section under all forces, at rest".to_owned())
    });
    step!(trace, Ratio, TOGETHER, "utilisation"; utilisation(sigma, f_yd) = sigma / f_yd);
    Checked::new(sigma, f_yd, Dimension::Stress, utilisation)
}

/// Walls not so wide that the rules end.
pub(super) struct WidthLimits;

const LIMITS: Source = sheet("Table 5.1");

impl Clause<ThinSectionInput> for WidthLimits {
    fn reference(&self) -> Source {
        LIMITS
    }

    fn title(&self) -> &'static str {
        "walls within the widths the rules for thin sections were tried on"
    }

    fn short(&self) -> &'static str {
        "widths"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, _: &ThinSectionInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &ThinSectionInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        width_limits(&flats(input, trace)?, trace)
    }
}

/// The most slender wall of either kind over its limit.
pub(super) fn width_limits(section: &Flats, trace: &mut Trace) -> Result<Checked, NotChecked> {
    let most = |held: bool| {
        let walls = section.walls.iter().filter(|w| (w.held.0 && w.held.1) == held);
        walls.map(|w| w.length() / w.t).fold(0.0, fishplate_quantity::algebra::larger)
    };
    let from = || Provenance::Geometry("the walls of the section".to_owned());
    let what = "largest width over thickness of walls held at both edges";
    let held = trace.input("held", what, Dimension::Ratio, most(true), from);
    let what = "largest width over thickness of walls with a free edge";
    let free = trace.input("free", what, Dimension::Ratio, most(false), from);
    step!(trace, Ratio, LIMITS, "utilisation of the limits 500 and 50";
        utilisation(held, free) = larger(held / 500.0, free / 50.0));
    Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
}
