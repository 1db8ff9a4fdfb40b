//! Weld nuts and welded bosses on a thin wall. No clause speaks of the whole detail: it is the sum
//! of checks of its parts. On a hollow rail the wall bends long before anything else gives.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{NutClass, WeldNutInput};
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::welds::throat;
use crate::packs::en_1993::{MPA, SQRT_3, joints};

use super::clamped::closed_half;

/// Strength of a bolt that the class of the nut belongs to, and least strength of the nut itself by
/// its hardness (ISO 898-2:2012 from memory: 130, 200, 272 HV; 3.2 MPa a point of hardness).
fn nut_strengths(class: NutClass) -> Option<(f64, f64)> {
    match class {
        NutClass::Unknown | NutClass::Class5 => Some((500.0 * MPA, 416.0 * MPA)),
        NutClass::Class8 => Some((800.0 * MPA, 640.0 * MPA)),
        NutClass::Class10 => Some((1000.0 * MPA, 870.0 * MPA)),
        NutClass::Plain => None,
    }
}

/// Records and returns the strength of bolt that goes with the nut.
fn bolt_of_nut(input: &WeldNutInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let Some((value, _)) = nut_strengths(input.nut) else {
        return Err(NotChecked::NoRule {
            reason: "a boss of plain steel has no class: stripping of its thread tells".to_owned(),
        });
    };
    let what = "strength of bolt that the class of the nut belongs to";
    Ok(trace.input("f_class", what, Dimension::Stress, value, || {
        if input.nut == NutClass::Unknown {
            Provenance::Assumed("common practice, no source: unknown counts as class 5".to_owned())
        } else {
            Provenance::Table("ISO 898-2:2012, designation (from memory)".to_owned())
        }
    }))
}

fn of_class(input: &WeldNutInput) -> Applicability {
    Applicability::only_if(input.nut != NutClass::Plain, "a boss of plain steel has no class")
}

/// Tension of the bolt, at most what the class of the nut is made for.
pub(super) struct NutBolt;

const NUT_BOLT: Source = joints("Table 3.4, tension, with the class of a weld nut");

impl Clause<WeldNutInput> for NutBolt {
    fn reference(&self) -> Source {
        NUT_BOLT
    }

    fn title(&self) -> &'static str {
        "bolt in a weld nut, by the lower class of both"
    }

    fn short(&self) -> &'static str {
        "bolt in weld nut"
    }

    fn applies(&self, input: &WeldNutInput) -> Applicability {
        of_class(input)
    }

    fn formula(
        &self,
        input: &WeldNutInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let f_ub = input.f_ub(trace);
        let f_class = bolt_of_nut(input, trace)?;
        let a_s = input.a_s(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, NUT_BOLT, "tension resistance";
            f_t_rd(f_ub, f_class, a_s, gamma_m2) = 0.9 * smaller(f_ub, f_class) * a_s / gamma_m2);
        step!(trace, Ratio, NUT_BOLT, "utilisation"; utilisation(f_t_ed, f_t_rd) = f_t_ed / f_t_rd);
        Checked::new(f_t_ed, f_t_rd, Dimension::Force, utilisation)
    }
}

/// The class of bolt that is relied on, against that of the nut.
pub(super) struct NutClassEnough;

const CLASS: Source =
    Source::new("ISO 898-2:2012", "a nut is at least of the class of its bolt (from memory)");

impl Clause<WeldNutInput> for NutClassEnough {
    fn reference(&self) -> Source {
        CLASS
    }

    fn title(&self) -> &'static str {
        "class of the bolt against that of the weld nut"
    }

    fn short(&self) -> &'static str {
        "nut class"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &WeldNutInput) -> Applicability {
        of_class(input)
    }

    fn formula(
        &self,
        input: &WeldNutInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ub = input.f_ub(trace);
        let f_class = bolt_of_nut(input, trace)?;
        step!(trace, Ratio, CLASS, "provided over allowed";
            utilisation(f_ub, f_class) = f_ub / f_class);
        Checked::new(f_ub, f_class, Dimension::Stress, utilisation)
    }
}

/// The thread of nut or boss strips.
pub(super) struct NutStrips;

const STRIPS: Source = Source::new("FED-STD-H28/2B", "internal thread of a weld nut or boss");

impl Clause<WeldNutInput> for NutStrips {
    fn reference(&self) -> Source {
        STRIPS
    }

    fn title(&self) -> &'static str {
        "the thread of the weld nut or boss strips"
    }

    fn short(&self) -> &'static str {
        "thread strips"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Thread
    }

    fn applies(&self, _: &WeldNutInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &WeldNutInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let l_e = input.l_e(trace);
        let pitch = input.pitch(trace);
        let d_min = input.d_min(trace);
        let d_2_nut_max = input.d_2_nut_max(trace);
        let r_m = match nut_strengths(input.nut) {
            Some((_, value)) => {
                let what = "tensile strength of the nut by its least hardness";
                trace.input("r_m", what, Dimension::Stress, value, || {
                    Provenance::Table("ISO 898-2:2012, least hardness (from memory)".to_owned())
                })
            }
            None => input.r_m(trace)?,
        };
        let gamma_m2 = factors.gamma_m2(trace);
        // 0.57735 is tan 30° of the flank, as the handbook formulas round it.
        step!(trace, Area, STRIPS, "shear area of the thread";
            a_s_n(l_e, pitch, d_min, d_2_nut_max) =
            PI * l_e / pitch * d_min * (pitch / 2.0 + 0.57735 * (d_min - d_2_nut_max)));
        step!(trace, Force, STRIPS, "stripping resistance";
            f_strip_rd(r_m, a_s_n, gamma_m2) = 0.6 * r_m * a_s_n / gamma_m2);
        step!(trace, Ratio, STRIPS, "utilisation";
            utilisation(f_t_ed, f_strip_rd) = f_t_ed / f_strip_rd);
        Checked::new(f_t_ed, f_strip_rd, Dimension::Force, utilisation)
    }
}

/// The ring weld under pull and shear together.
pub(super) struct RingWeld;

const RING: Source = joints("4.5.3.3, ring weld of a nut or boss");

impl Clause<WeldNutInput> for RingWeld {
    fn reference(&self) -> Source {
        RING
    }

    fn title(&self) -> &'static str {
        "ring weld of the weld nut or boss"
    }

    fn short(&self) -> &'static str {
        "ring weld"
    }

    fn aspect(&self) -> Aspect {
        Aspect::AnyDirection
    }

    fn applies(&self, _: &WeldNutInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &WeldNutInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let f_v_ed = input.f_v_ed(trace);
        let d_out = input.d_out(trace);
        let z = input.z(trace)?;
        let gap = input.gap(trace);
        let a = throat(z, gap, trace)?;
        let f_u = input.f_u(trace);
        let beta_w = input.beta_w(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, Source::mechanics("resultant of two components"), "force on the ring";
            f_w_ed(f_t_ed, f_v_ed) = hypot(f_t_ed, f_v_ed));
        step!(trace, Force, RING, "resistance of the ring";
            f_w_rd(f_u, beta_w, gamma_m2, a, d_out) =
            f_u / (SQRT_3 * beta_w * gamma_m2) * a * PI * d_out);
        step!(trace, Ratio, RING, "utilisation"; utilisation(f_w_ed, f_w_rd) = f_w_ed / f_w_rd);
        Checked::new(f_w_ed, f_w_rd, Dimension::Force, utilisation)
    }
}

/// The nut torn out of the wall with a disc of it.
pub(super) struct NutPunches;

const PUNCHES: Source = joints("Table 3.4, punching, around a weld nut or boss");

impl Clause<WeldNutInput> for NutPunches {
    fn reference(&self) -> Source {
        PUNCHES
    }

    fn title(&self) -> &'static str {
        "weld nut or boss torn out of the wall"
    }

    fn short(&self) -> &'static str {
        "torn out"
    }

    fn applies(&self, _: &WeldNutInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &WeldNutInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let d_out = input.d_out(trace);
        let t_wall = input.t_wall(trace);
        let f_u = input.f_u(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, PUNCHES, "resistance of the wall around the nut";
            b_p_rd(d_out, t_wall, f_u, gamma_m2) = 0.6 * PI * d_out * t_wall * f_u / gamma_m2);
        step!(trace, Ratio, PUNCHES, "utilisation"; utilisation(f_t_ed, b_p_rd) = f_t_ed / b_p_rd);
        Checked::new(f_t_ed, b_p_rd, Dimension::Force, utilisation)
    }
}

/// Bending of the wall by the chord-face form, the patch a square as wide as the nut.
pub(super) struct NutBendsFace;

const FACE: Source = joints("Table 7.11, chord face failure, under a weld nut or boss");

impl Clause<WeldNutInput> for NutBendsFace {
    fn reference(&self) -> Source {
        FACE
    }

    fn title(&self) -> &'static str {
        "bending of the wall under a weld nut or boss, chord-face form"
    }

    fn short(&self) -> &'static str {
        "wall bends, chord face"
    }

    fn applies(&self, input: &WeldNutInput) -> Applicability {
        let t = (input.t_wall * input.t_wall + input.t_plate * input.t_plate).sqrt();
        // Without a width the formula says what is missing.
        let Some(b_0) = input.b_0 else { return Applicability::Applies };
        if input.d_out > 0.85 * b_0 {
            return Applicability::OutsideScope(
                "the nut covers more than 0.85 of the wall: its sides govern".to_owned(),
            );
        }
        Applicability::within(b_0 <= 35.0 * t, || {
            let ratio = b_0 / t;
            format!("the wall is {ratio:.1} times as wide as thick, the tables end at 35")
        })
    }

    fn formula(
        &self,
        input: &WeldNutInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let (b_0, d_out) = patch(input, trace)?;
        let m_line = line_moment(input, trace);
        let gamma_m5 = factors.gamma_m5(trace);
        step!(trace, Ratio, FACE, "width of the nut over the wall"; beta(d_out, b_0) = d_out / b_0);
        step!(trace, Force, FACE, "resistance of the wall";
            n_rd(m_line, beta, gamma_m5) =
            m_line / (1.0 - beta) * (2.0 * beta + 4.0 * sqrt(1.0 - beta)) / gamma_m5);
        step!(trace, Ratio, FACE, "utilisation"; utilisation(f_t_ed, n_rd) = f_t_ed / n_rd);
        Checked::new(f_t_ed, n_rd, Dimension::Force, utilisation)
    }
}

/// Bending of the wall by the fan of yield lines around a round nut, which is never stronger.
pub(super) struct NutBendsFan;

const FAN: Source = Source::mechanics("yield lines in a wall under a weld nut or boss");

impl Clause<WeldNutInput> for NutBendsFan {
    fn reference(&self) -> Source {
        FAN
    }

    fn title(&self) -> &'static str {
        "bending of the wall under a weld nut or boss, fan of yield lines"
    }

    fn short(&self) -> &'static str {
        "wall bends, fan"
    }

    fn applies(&self, _: &WeldNutInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &WeldNutInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let (b_0, d_out) = patch(input, trace)?;
        let m_line = line_moment(input, trace);
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Length, FAN, "the ring takes the place of a washer"; d_w(d_out) = d_out);
        let half = closed_half(b_0, d_w, trace);
        step!(trace, Force, FAN, "force that bends the wall, two halves of a quarter of that moment";
            f_rd(m_line, half, gamma_m0) = 2.0 * m_line / 4.0 * half / gamma_m0);
        step!(trace, Ratio, FAN, "utilisation"; utilisation(f_t_ed, f_rd) = f_t_ed / f_rd);
        Checked::new(f_t_ed, f_rd, Dimension::Force, utilisation)
    }
}

fn patch(input: &WeldNutInput, trace: &mut Trace) -> Result<(f64, f64), NotChecked> {
    let b_0 = input.b_0(trace)?;
    let d_out = input.d_out(trace);
    if d_out < b_0 {
        return Ok((b_0, d_out));
    }
    Err(NotChecked::OutOfRange {
        symbol: "d_out",
        what: "outer diameter of nut or boss at the weld",
        value: d_out,
        dimension: Dimension::Length,
        allowed: "less than the width of the wall",
    })
}

/// Records and returns four times the plastic moment per length.
fn line_moment(input: &WeldNutInput, trace: &mut Trace) -> f64 {
    let f_y = input.f_y(trace);
    let t_wall = input.t_wall(trace);
    let t_plate = input.t_plate(trace);
    step!(trace, Force, Source::mechanics("plastic moments of wall and plate side by side"),
        "four times the plastic moment per length of wall and welded plate";
        m_line(f_y, t_wall, t_plate) = f_y * (sq(t_wall) + sq(t_plate)));
    m_line
}
