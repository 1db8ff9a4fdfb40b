//! A wall of a rail under a stiff foot, or pulled by bolts: chapter K for rectangular tubes.
//!
//! The plate welded on all round bends side by side with the wall, as in the other pack: the squares of
//! both thicknesses add.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{RailSection, WallInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Format, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::{WALL_BENDING, WALL_PUNCHING};
use crate::packs::american::{KSI, aisc};

const FOOT: Source = aisc("K3 and K4, plastification of the wall (K2 and K3 in 2010)");
const PULLED: Source = aisc("K3, plastification of the wall under a force alone");
const PUNCH: Source = aisc("K3, shear yielding of the wall (K2 in 2010)");

/// The wall under a welded foot: axial force and both moments, by the sum of their ratios.
pub(super) struct FaceUnderFoot;

impl Clause<WallInput> for FaceUnderFoot {
    fn reference(&self) -> Source {
        FOOT
    }

    fn title(&self) -> &'static str {
        "bending of the wall under the foot"
    }

    fn applies(&self, input: &WallInput) -> Applicability {
        scope(input)
    }

    fn formula(
        &self,
        input: &WallInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let wall = Wall::read(input, factors, trace)?;
        let p_n = axial(&wall, trace);
        let Wall { b_0, b_1, h_1, beta, eta, m_line, q_f } = wall;
        let n_ed = input.n_ed(trace);
        let m_ip_ed = input.m_ip_ed(trace);
        let m_op_ed = input.m_op_ed(trace);
        step!(trace, Moment, FOOT, "nominal moment along the rail";
            m_n_ip(m_line, h_1, eta, beta, q_f) =
            m_line * h_1 * (1.0 / (2.0 * eta) + 2.0 / sqrt(1.0 - beta) + eta / (1.0 - beta)) * q_f);
        step!(trace, Moment, FOOT, "nominal moment across the rail";
            m_n_op(m_line, h_1, b_0, b_1, beta, q_f) =
            m_line * (0.5 * h_1 * (1.0 + beta) / (1.0 - beta)
                + sqrt(2.0 * b_0 * b_1 * (1.0 + beta) / (1.0 - beta))) * q_f);
        available!(trace, factors, phi_wall or omega_wall of WALL_BENDING;
            Force, FOOT, "available force across the wall"; p_c(p_n));
        available!(trace, factors, phi_wall or omega_wall of WALL_BENDING;
            Moment, FOOT, "available moment along the rail"; m_c_ip(m_n_ip));
        available!(trace, factors, phi_wall or omega_wall of WALL_BENDING;
            Moment, FOOT, "available moment across the rail"; m_c_op(m_n_op));
        step!(trace, Ratio, FOOT, "utilisation, sum of ratios";
            utilisation(n_ed, p_c, m_ip_ed, m_c_ip, m_op_ed, m_c_op) =
            n_ed / p_c + m_ip_ed / m_c_ip + m_op_ed / m_c_op);
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}

/// The wall pulled by a group of bolts: the patch is the outline of their heads.
pub(super) struct FacePulledByBolts;

impl Clause<WallInput> for FacePulledByBolts {
    fn reference(&self) -> Source {
        PULLED
    }

    fn title(&self) -> &'static str {
        "bending of the wall pulled by the bolts"
    }

    fn applies(&self, input: &WallInput) -> Applicability {
        scope(input)
    }

    fn formula(
        &self,
        input: &WallInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        if input.m_ip_ed > 0.0 || input.m_op_ed > 0.0 {
            let reason = "moments reach a bolted wall as tension of the bolts: state them so";
            return Err(NotChecked::NoRule { reason: reason.to_owned() });
        }
        let wall = Wall::read(input, factors, trace)?;
        let p_n = axial(&wall, trace);
        let n_ed = input.n_ed(trace);
        available!(trace, factors, phi_wall or omega_wall of WALL_BENDING;
            Force, PULLED, "available force across the wall"; p_c(p_n));
        step!(trace, Ratio, PULLED, "utilisation"; utilisation(n_ed, p_c) = n_ed / p_c);
        Checked::new(n_ed, p_c, Dimension::Force, utilisation)
    }
}

/// The wall sheared through around the foot, where the foot reaches close to the sides of the rail.
pub(super) struct PunchingAtFoot;

impl Clause<WallInput> for PunchingAtFoot {
    fn reference(&self) -> Source {
        PUNCH
    }

    fn title(&self) -> &'static str {
        "wall sheared through around the foot"
    }

    fn applies(&self, input: &WallInput) -> Applicability {
        scope(input)
    }

    fn formula(
        &self,
        input: &WallInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let b_0 = input.b_0(trace);
        let b_1 = input.b_1(trace);
        let h_1 = input.h_1(trace);
        let t_wall = input.t_wall(trace);
        let f_y = input.f_y(trace);
        step!(trace, Length, PUNCH, "width of the foot that works, at most all of it";
            b_eop(b_1, b_0, t_wall) = smaller(b_1, 10.0 * b_1 * t_wall / b_0));
        step!(trace, Force, PUNCH, "nominal shear around the foot, the wall alone";
            p_n(f_y, t_wall, h_1, b_eop) = 0.6 * f_y * t_wall * (2.0 * h_1 + 2.0 * b_eop));
        available!(trace, factors, phi_punch or omega_punch of WALL_PUNCHING;
            Force, PUNCH, "available shear around the foot"; p_c(p_n));
        step!(trace, Ratio, PUNCH, "utilisation, the force alone"; utilisation(n_ed, p_c) = n_ed / p_c);
        Checked::new(n_ed, p_c, Dimension::Force, utilisation)
    }
}

/// The limits of Tables K3.1A and K3.2A (K2.2A in 2010), and what they do not speak of.
fn scope(input: &WallInput) -> Applicability {
    let mut outside = Vec::new();
    if input.rail == RailSection::Open {
        outside.push("an open rail is no tube until it is boxed".to_owned());
    }
    // A plate welded on all round bends with the wall: the thickness of equal plastic moment counts.
    let t = (input.t_wall * input.t_wall + input.t_plate * input.t_plate).sqrt();
    if input.b_0 > 35.0 * t {
        let ratio = input.b_0 / t;
        outside
            .push(format!("the wall is {ratio:.1} times as wide as thick, the limits end at 35"));
    }
    let beta = input.b_1 / input.b_0;
    if beta > 0.85 {
        outside.push("the foot covers more than 0.85 of the wall: its sides govern".to_owned());
    }
    if beta < 0.25 {
        outside.push("the foot covers less than a quarter of the wall".to_owned());
    }
    if input.f_y > 52.0 * KSI {
        outside.push("the yield strength is above 52 ksi".to_owned());
    }
    Applicability::within(outside.is_empty(), || outside.join("; "))
}

/// What the resistances share.
struct Wall {
    b_0: f64,
    b_1: f64,
    h_1: f64,
    beta: f64,
    eta: f64,
    m_line: f64,
    q_f: f64,
}

impl Wall {
    fn read(input: &WallInput, factors: &Factors, trace: &mut Trace) -> Result<Self, NotChecked> {
        let b_0 = input.b_0(trace);
        let b_1 = input.b_1(trace);
        if b_1 >= b_0 {
            return Err(NotChecked::OutOfRange {
                symbol: "b_1",
                what: "size of the foot across the rail",
                value: b_1,
                dimension: Dimension::Length,
                allowed: "less than the width of the wall",
            });
        }
        let h_1 = input.h_1(trace);
        let t_wall = input.t_wall(trace);
        let t_plate = input.t_plate(trace);
        let f_y = input.f_y(trace);
        step!(trace, Ratio, FOOT, "width of the foot over the wall"; beta(b_1, b_0) = b_1 / b_0);
        step!(trace, Ratio, FOOT, "length of the foot over the width of the wall";
            eta(h_1, b_0) = h_1 / b_0);
        step!(trace, Force, Source::mechanics("plastic moments of wall and plate side by side"),
            "four times the plastic moment per length of wall and welded plate";
            m_line(f_y, t_wall, t_plate) = f_y * (sq(t_wall) + sq(t_plate)));
        let q_f = if input.n_chord.is_some() {
            let n_chord = input.n_chord(trace)?;
            let value = if factors.format() == Format::AllowableStrength { 0.6 } else { 1.0 };
            let what = "available over yield stress of the rail";
            let f_c = trace.input("f_c", what, Dimension::Ratio, value, || {
                fishplate_quantity::Provenance::Table(
                    "AISC 360, K1: Fy for LRFD, 0.6 Fy for ASD".to_owned(),
                )
            });
            step!(trace, Ratio, aisc("K3, Qf"), "reduction for compression in the rail";
                q_f(n_chord, f_c, beta) =
                smaller(1.0, positive(1.3 - 0.4 * n_chord / (f_c * beta))));
            q_f
        } else {
            step!(trace, Ratio, aisc("K3, Qf"), "no compression in the rail"; q_f() = 1.0);
            q_f
        };
        Ok(Self { b_0, b_1, h_1, beta, eta, m_line, q_f })
    }
}

/// Records and returns the nominal force across the wall.
fn axial(wall: &Wall, trace: &mut Trace) -> f64 {
    let &Wall { beta, eta, m_line, q_f, .. } = wall;
    step!(trace, Force, PULLED, "nominal force across the wall";
        p_n(m_line, beta, eta, q_f) =
        m_line * (2.0 * eta / (1.0 - beta) + 4.0 / sqrt(1.0 - beta)) * q_f);
    p_n
}
