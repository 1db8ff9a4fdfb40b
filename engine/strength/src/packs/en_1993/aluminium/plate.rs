//! Plates, strips and blocks: tension, compression, bending, with holes and softened zones.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{AluminiumPlateInput, PlateWeld, Temper, WeldProcess};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MM, light};

use super::E;

const ZONE: Source = light("6.1.6.3");
const SOFT: Source = light("6.1.6.2");
const YIELD: Source = light("6.2.3(2)a");
const BREAK: Source = light("6.2.3(2)b and c");
const SQUASH: Source = light("6.2.4 and 6.3.1");
const BEND: Source = light("6.2.5.1, gross section");
const BEND_BREAK: Source = light("6.2.5.1, net and softened section");
const TOGETHER: Source = light("6.2.9");

/// The section with what welds take from it, read once a derivation.
struct Section {
    b: f64,
    t: f64,
    f_o: f64,
    f_u: f64,
    /// Strengths of the softened zone, where something is welded.
    soft: Option<Soft>,
}

struct Soft {
    f_o_haz: f64,
    f_u_haz: f64,
    /// Width of the zone where welds run along the plate; across, all of it is soft.
    b_soft: Option<f64>,
}

impl Section {
    fn of(input: &AluminiumPlateInput, trace: &mut Trace) -> Result<Self, NotChecked> {
        let b = input.b(trace);
        let t = input.t(trace);
        let f_o = input.f_o(trace);
        let f_u = input.f_u(trace);
        if input.weld == PlateWeld::None {
            return Ok(Self { b, t, f_o, f_u, soft: None });
        }
        let keeps = input.temper == Temper::Annealed;
        let f_o_haz = if keeps && input.f_o_haz.is_none() {
            step!(trace, Stress, SOFT, "annealed metal loses nothing"; f_o_haz(f_o) = f_o);
            f_o_haz
        } else {
            input.f_o_haz(trace)?
        };
        let f_u_haz = if keeps && input.f_u_haz.is_none() {
            step!(trace, Stress, SOFT, "annealed metal loses nothing"; f_u_haz(f_u) = f_u);
            f_u_haz
        } else {
            input.f_u_haz(trace)?
        };
        let b_soft = match input.weld {
            PlateWeld::Along => {
                let b_haz = reach(input.process, t, trace)?;
                let n_sides = input.n_sides(trace)?;
                step!(trace, Length, ZONE, "width of the softened zone, at most all";
                    b_soft(n_sides, b_haz, b) = smaller(n_sides * b_haz, b));
                Some(b_soft)
            }
            PlateWeld::None | PlateWeld::Across => None,
        };
        Ok(Self { b, t, f_o, f_u, soft: Some(Soft { f_o_haz, f_u_haz, b_soft }) })
    }

    /// Records and returns the width that counts with the proof strength of the metal.
    fn width_that_yields(&self, trace: &mut Trace) -> f64 {
        let &Self { b, f_o, .. } = self;
        match self.soft {
            Some(Soft { f_o_haz, b_soft: Some(b_soft), .. }) => {
                step!(trace, Length, YIELD, "width with the zone reduced by rho_o,haz";
                    b_o(b, b_soft, f_o_haz, f_o) =
                    b - b_soft * (1.0 - smaller(1.0, f_o_haz / f_o)));
                b_o
            }
            _ => {
                step!(trace, Length, YIELD, "width"; b_o(b) = b);
                b_o
            }
        }
    }

    /// Records and returns the width that breaks and the strength it breaks at.
    fn width_that_breaks(
        &self,
        input: &AluminiumPlateInput,
        trace: &mut Trace,
    ) -> Result<(f64, f64), NotChecked> {
        let &Self { b, f_u, .. } = self;
        let b_u = if input.sum_d_0.is_some() {
            let sum_d_0 = input.sum_d_0(trace)?;
            step!(trace, Length, BREAK, "width less the holes"; b_u(b, sum_d_0) = b - sum_d_0);
            b_u
        } else {
            step!(trace, Length, BREAK, "width without holes"; b_u(b) = b);
            b_u
        };
        let (b_u, f_k) = match self.soft {
            Some(Soft { f_u_haz, b_soft: Some(b_soft), .. }) => {
                step!(trace, Length, BREAK, "with the zone reduced by rho_u,haz, holes outside it";
                    b_u(b_u, b_soft, f_u_haz, f_u) =
                    b_u - smaller(b_soft, b_u) * (1.0 - smaller(1.0, f_u_haz / f_u)));
                step!(trace, Stress, BREAK, "tensile strength"; f_k(f_u) = f_u);
                (b_u, f_k)
            }
            Some(Soft { f_u_haz, b_soft: None, .. }) => {
                step!(trace, Stress, BREAK, "tensile strength in the zone";
                    f_k(f_u_haz, f_u) = smaller(f_u_haz, f_u));
                (b_u, f_k)
            }
            None => {
                step!(trace, Stress, BREAK, "tensile strength"; f_k(f_u) = f_u);
                (b_u, f_k)
            }
        };
        if b_u > 0.0 {
            return Ok((b_u, f_k));
        }
        Err(NotChecked::OutOfRange {
            symbol: "sum_d_0",
            what: "holes across the section",
            value: input.sum_d_0.unwrap_or(0.0),
            dimension: Dimension::Length,
            allowed: "less than the width that is not softened",
        })
    }
}

/// Records and returns how far softening reaches from the middle of a weld.
fn reach(process: WeldProcess, t: f64, trace: &mut Trace) -> Result<f64, NotChecked> {
    let mm = t / MM;
    if process == WeldProcess::Tig {
        if mm > 6.0 {
            return Err(NotChecked::OutOfRange {
                symbol: "t",
                what: "thickness of the section",
                value: t,
                dimension: Dimension::Length,
                allowed: "at most 6 mm for TIG, whose reach in thicker metal is not known",
            });
        }
        step!(trace, Length, ZONE, "reach of softening, TIG"; b_haz() = 30.0 * MM);
        return Ok(b_haz);
    }
    let b_haz = if mm <= 6.0 {
        step!(trace, Length, ZONE, "reach of softening, MIG, up to 6 mm"; b_haz() = 20.0 * MM);
        b_haz
    } else if mm <= 12.0 {
        step!(trace, Length, ZONE, "reach of softening, MIG, up to 12 mm"; b_haz() = 30.0 * MM);
        b_haz
    } else if mm <= 25.0 {
        step!(trace, Length, ZONE, "reach of softening, MIG, up to 25 mm"; b_haz() = 35.0 * MM);
        b_haz
    } else {
        step!(trace, Length, ZONE, "reach of softening, MIG, over 25 mm"; b_haz() = 40.0 * MM);
        b_haz
    };
    Ok(b_haz)
}

/// Whether a hole or a weld weakens the section in places.
fn weakened(input: &AluminiumPlateInput) -> bool {
    input.sum_d_0.is_some() || input.weld != PlateWeld::None
}

/// Records and returns the tension at which the plate yields along its length.
fn yielding(section: &Section, gamma_m1_al: f64, trace: &mut Trace) -> f64 {
    let b_o = section.width_that_yields(trace);
    let &Section { t, f_o, .. } = section;
    step!(trace, Force, YIELD, "tension at yielding";
        n_o_rd(b_o, t, f_o, gamma_m1_al) = b_o * t * f_o / gamma_m1_al);
    n_o_rd
}

/// Records and returns the tension at which the weakest section breaks.
fn breaking(
    input: &AluminiumPlateInput,
    section: &Section,
    gamma_m2_al: f64,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let (b_u, f_k) = section.width_that_breaks(input, trace)?;
    let &Section { t, .. } = section;
    if input.sum_d_0.is_some() {
        step!(trace, Force, BREAK, "tension at breaking, across holes";
            n_u_rd(b_u, t, f_k, gamma_m2_al) = 0.9 * b_u * t * f_k / gamma_m2_al);
        return Ok(n_u_rd);
    }
    step!(trace, Force, BREAK, "tension at breaking, across the softened zone";
        n_u_rd(b_u, t, f_k, gamma_m2_al) = b_u * t * f_k / gamma_m2_al);
    Ok(n_u_rd)
}

/// Records and returns the compression at which the plate yields or buckles. Where it is welded all
/// of it counts as soft, and holes count as open.
fn squashing(
    input: &AluminiumPlateInput,
    section: &Section,
    gamma_m1_al: f64,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let &Section { b, t, f_o, .. } = section;
    let f_k = match section.soft {
        Some(Soft { f_o_haz, .. }) => {
            step!(trace, Stress, SQUASH, "proof strength, softened";
                f_k(f_o_haz, f_o) = smaller(f_o_haz, f_o));
            f_k
        }
        None => {
            step!(trace, Stress, SQUASH, "proof strength"; f_k(f_o) = f_o);
            f_k
        }
    };
    let l_cr = input.l_cr(trace)?;
    let what = "modulus of elasticity of aluminium";
    let e_alu = trace.input("e_alu", what, Dimension::Stress, E, || {
        Provenance::Table("EN 1999-1-1:2007, 3.2.5".to_owned())
    });
    step!(trace, Ratio, SQUASH, "relative slenderness about the weak axis";
        lambda(l_cr, b, t, f_k, e_alu) =
        l_cr * sqrt(12.0) / (PI * smaller(b, t)) * sqrt(f_k / e_alu));
    let phi = if input.temper == Temper::HeatTreated {
        step!(trace, Ratio, SQUASH, "auxiliary value, class A";
            phi(lambda) = 0.5 * (1.0 + 0.20 * (lambda - 0.10) + sq(lambda)));
        phi
    } else {
        step!(trace, Ratio, SQUASH, "auxiliary value, class B";
            phi(lambda) = 0.5 * (1.0 + 0.32 * lambda + sq(lambda)));
        phi
    };
    step!(trace, Ratio, SQUASH, "reduction by buckling";
        chi(phi, lambda) =
        smaller(1.0, 1.0 / (phi + sqrt(positive(sq(phi) - sq(lambda))))));
    let b_net = if input.sum_d_0.is_some() {
        let sum_d_0 = input.sum_d_0(trace)?;
        step!(trace, Length, SQUASH, "width less open holes";
            b_net(b, sum_d_0) = positive(b - sum_d_0));
        b_net
    } else {
        step!(trace, Length, SQUASH, "width without holes"; b_net(b) = b);
        b_net
    };
    step!(trace, Force, SQUASH, "compression at yielding or buckling";
        n_c_rd(chi, b_net, t, f_k, gamma_m1_al) = chi * b_net * t * f_k / gamma_m1_al);
    Ok(n_c_rd)
}

/// Records and returns the moment at which the plate yields: a solid plate bent flat is of class 1.
fn bending(section: &Section, gamma_m1_al: f64, trace: &mut Trace) -> f64 {
    let b_o = section.width_that_yields(trace);
    let &Section { t, f_o, .. } = section;
    step!(trace, Moment, BEND, "moment at yielding, shape factor 1.5";
        m_o_rd(b_o, t, f_o, gamma_m1_al) = 1.5 * b_o * sq(t) / 6.0 * f_o / gamma_m1_al);
    m_o_rd
}

/// Records and returns the moment at which the weakest section breaks, elastic.
fn breaking_in_bending(
    input: &AluminiumPlateInput,
    section: &Section,
    gamma_m2_al: f64,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let (b_u, f_k) = section.width_that_breaks(input, trace)?;
    let &Section { t, .. } = section;
    step!(trace, Moment, BEND_BREAK, "moment at breaking";
        m_u_rd(b_u, t, f_k, gamma_m2_al) = b_u * sq(t) / 6.0 * f_k / gamma_m2_al);
    Ok(m_u_rd)
}

/// Yielding along the plate.
pub(super) struct Yielding;

impl Clause<AluminiumPlateInput> for Yielding {
    fn reference(&self) -> Source {
        YIELD
    }

    fn title(&self) -> &'static str {
        "aluminium plate in tension, yielding"
    }

    fn short(&self) -> &'static str {
        "tension, yield"
    }

    fn applies(&self, input: &AluminiumPlateInput) -> Applicability {
        Applicability::only_if(input.n_t_ed > 0.0, "nothing pulls")
    }

    fn formula(
        &self,
        input: &AluminiumPlateInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_t_ed = input.n_t_ed(trace);
        let section = Section::of(input, trace)?;
        let gamma_m1_al = factors.gamma_m1_al(trace);
        let n_o_rd = yielding(&section, gamma_m1_al, trace);
        step!(trace, Ratio, YIELD, "utilisation"; utilisation(n_t_ed, n_o_rd) = n_t_ed / n_o_rd);
        Checked::new(n_t_ed, n_o_rd, Dimension::Force, utilisation)
    }
}

/// Breaking across holes or in the softened zone.
pub(super) struct Breaking;

impl Clause<AluminiumPlateInput> for Breaking {
    fn reference(&self) -> Source {
        BREAK
    }

    fn title(&self) -> &'static str {
        "aluminium plate in tension, at holes and welds"
    }

    fn short(&self) -> &'static str {
        "tension, break"
    }

    fn applies(&self, input: &AluminiumPlateInput) -> Applicability {
        Applicability::only_if(
            input.n_t_ed > 0.0 && weakened(input),
            "nothing pulls at a hole or weld",
        )
    }

    fn formula(
        &self,
        input: &AluminiumPlateInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_t_ed = input.n_t_ed(trace);
        let section = Section::of(input, trace)?;
        let gamma_m2_al = factors.gamma_m2_al(trace);
        let n_u_rd = breaking(input, &section, gamma_m2_al, trace)?;
        step!(trace, Ratio, BREAK, "utilisation"; utilisation(n_t_ed, n_u_rd) = n_t_ed / n_u_rd);
        Checked::new(n_t_ed, n_u_rd, Dimension::Force, utilisation)
    }
}

/// Yielding or buckling in compression.
pub(super) struct Compression;

impl Clause<AluminiumPlateInput> for Compression {
    fn reference(&self) -> Source {
        SQUASH
    }

    fn title(&self) -> &'static str {
        "aluminium plate or block in compression"
    }

    fn short(&self) -> &'static str {
        "compression"
    }

    fn applies(&self, input: &AluminiumPlateInput) -> Applicability {
        Applicability::only_if(input.n_c_ed > 0.0, "nothing presses")
    }

    fn formula(
        &self,
        input: &AluminiumPlateInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_c_ed = input.n_c_ed(trace);
        let section = Section::of(input, trace)?;
        let gamma_m1_al = factors.gamma_m1_al(trace);
        let n_c_rd = squashing(input, &section, gamma_m1_al, trace)?;
        step!(trace, Ratio, SQUASH, "utilisation"; utilisation(n_c_ed, n_c_rd) = n_c_ed / n_c_rd);
        Checked::new(n_c_ed, n_c_rd, Dimension::Force, utilisation)
    }
}

/// Yielding in bending.
pub(super) struct Bending;

impl Clause<AluminiumPlateInput> for Bending {
    fn reference(&self) -> Source {
        BEND
    }

    fn title(&self) -> &'static str {
        "aluminium plate in bending, yielding"
    }

    fn short(&self) -> &'static str {
        "bending, yield"
    }

    fn applies(&self, input: &AluminiumPlateInput) -> Applicability {
        Applicability::only_if(input.m_ed > 0.0, "nothing bends")
    }

    fn formula(
        &self,
        input: &AluminiumPlateInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let m_ed = input.m_ed(trace);
        let section = Section::of(input, trace)?;
        let gamma_m1_al = factors.gamma_m1_al(trace);
        let m_o_rd = bending(&section, gamma_m1_al, trace);
        step!(trace, Ratio, BEND, "utilisation"; utilisation(m_ed, m_o_rd) = m_ed / m_o_rd);
        Checked::new(m_ed, m_o_rd, Dimension::Moment, utilisation)
    }
}

/// Breaking in bending across holes or in the softened zone.
pub(super) struct BreakingInBending;

impl Clause<AluminiumPlateInput> for BreakingInBending {
    fn reference(&self) -> Source {
        BEND_BREAK
    }

    fn title(&self) -> &'static str {
        "aluminium plate in bending, at holes and welds"
    }

    fn short(&self) -> &'static str {
        "bending, break"
    }

    fn applies(&self, input: &AluminiumPlateInput) -> Applicability {
        Applicability::only_if(input.m_ed > 0.0 && weakened(input), "nothing bends a hole or weld")
    }

    fn formula(
        &self,
        input: &AluminiumPlateInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let m_ed = input.m_ed(trace);
        let section = Section::of(input, trace)?;
        let gamma_m2_al = factors.gamma_m2_al(trace);
        let m_u_rd = breaking_in_bending(input, &section, gamma_m2_al, trace)?;
        step!(trace, Ratio, BEND_BREAK, "utilisation"; utilisation(m_ed, m_u_rd) = m_ed / m_u_rd);
        Checked::new(m_ed, m_u_rd, Dimension::Moment, utilisation)
    }
}

/// Axial force and bending together, as a sum of ratios, which is never kinder than the powers of the
/// standard.
pub(super) struct Together;

impl Clause<AluminiumPlateInput> for Together {
    fn reference(&self) -> Source {
        TOGETHER
    }

    fn title(&self) -> &'static str {
        "aluminium plate, axial force and bending"
    }

    fn short(&self) -> &'static str {
        "together"
    }

    fn applies(&self, input: &AluminiumPlateInput) -> Applicability {
        Applicability::only_if(
            (input.n_t_ed > 0.0 || input.n_c_ed > 0.0) && input.m_ed > 0.0,
            "axial force and bending do not both act",
        )
    }

    fn formula(
        &self,
        input: &AluminiumPlateInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let section = Section::of(input, trace)?;
        let gamma_m1_al = factors.gamma_m1_al(trace);
        let n_t_ed = input.n_t_ed(trace);
        let n_c_ed = input.n_c_ed(trace);
        let m_ed = input.m_ed(trace);
        let n_o_rd = yielding(&section, gamma_m1_al, trace);
        let m_o_rd = bending(&section, gamma_m1_al, trace);
        step!(trace, Ratio, TOGETHER, "tension and bending over yielding";
            r(n_t_ed, n_o_rd, m_ed, m_o_rd) = n_t_ed / n_o_rd + m_ed / m_o_rd);
        let r = if weakened(input) {
            let gamma_m2_al = factors.gamma_m2_al(trace);
            let (b_u, f_k) = section.width_that_breaks(input, trace)?;
            let Section { t, .. } = section;
            let k_net = if input.sum_d_0.is_some() {
                step!(trace, Ratio, TOGETHER, "share of the strength across holes"; k_net() = 0.9);
                k_net
            } else {
                step!(trace, Ratio, TOGETHER, "share of the strength without holes"; k_net() = 1.0);
                k_net
            };
            step!(trace, Ratio, TOGETHER, "or over breaking at holes and welds, the larger";
                r(r, n_t_ed, k_net, m_ed, b_u, t, f_k, gamma_m2_al) =
                larger(r, (n_t_ed / k_net + 6.0 * m_ed / t) * gamma_m2_al / (b_u * t * f_k)));
            r
        } else {
            r
        };
        let r = if n_c_ed > 0.0 {
            let n_c_rd = squashing(input, &section, gamma_m1_al, trace)?;
            step!(trace, Ratio, TOGETHER, "with compression over yielding or buckling";
                r(r, n_c_ed, n_c_rd) = r + n_c_ed / n_c_rd);
            r
        } else {
            r
        };
        step!(trace, Ratio, TOGETHER, "utilisation"; utilisation(r) = r / 1.0);
        Checked::new(r, 1.0, Dimension::Ratio, utilisation)
    }
}
