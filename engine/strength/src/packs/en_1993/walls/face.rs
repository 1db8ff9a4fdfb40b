//! Bending of a wall under a stiff foot: plastification of the chord face.
//!
//! The axial form is the rectangle of yield lines around the foot, minimised over the length of
//! its ends; the tests repeat that minimisation. Pure plate theory allows other patterns: with
//! fans at the corners of the foot a narrow foot (below 0.6 of the wall) comes out up to 20 %
//! weaker. The standard's form is kept for feet; for round washers see [`super::clamped`].

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{RailSection, WallInput};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::joints;

/// The wall under a welded foot: axial force and both moments, by the sum of their ratios.
pub(super) struct FaceUnderFoot;

const FOOT: Source = joints("Tables 7.11 and 7.14 with (7.4), chord face failure");

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
        let n_rd = axial(&wall, trace);
        let Wall { b_0, b_1, h_1, beta, eta, m_line, k_n, gamma_m5 } = wall;
        let n_ed = input.n_ed(trace);
        let m_ip_ed = input.m_ip_ed(trace);
        let m_op_ed = input.m_op_ed(trace);
        step!(trace, Moment, joints("Table 7.14, in-plane, chord face failure"),
            "resistance against tilting along the rail";
            m_ip_rd(k_n, m_line, h_1, eta, beta, gamma_m5) =
            k_n * m_line * h_1
                * (1.0 / (2.0 * eta) + 2.0 / sqrt(1.0 - beta) + eta / (1.0 - beta)) / gamma_m5);
        step!(trace, Moment, joints("Table 7.14, out-of-plane, chord face failure"),
            "resistance against tilting across the rail";
            m_op_rd(k_n, m_line, h_1, b_0, b_1, beta, gamma_m5) =
            k_n * m_line
                * (h_1 * (1.0 + beta) / (2.0 * (1.0 - beta))
                    + sqrt(2.0 * b_0 * b_1 * (1.0 + beta) / (1.0 - beta))) / gamma_m5);
        step!(trace, Ratio, FOOT, "utilisation, sum of ratios";
            utilisation(n_ed, n_rd, m_ip_ed, m_ip_rd, m_op_ed, m_op_rd) =
            n_ed / n_rd + m_ip_ed / m_ip_rd + m_op_ed / m_op_rd);
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}

/// The wall pulled by a group of bolts: the patch is the outline of their heads. Pressure at the
/// edge of the plate acts outside that patch and is not put on it, so moments enter as bolt
/// tension only.
pub(super) struct FacePulledByBolts;

const PULLED: Source = joints("Table 7.11, chord face failure");

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
        let n_rd = axial(&wall, trace);
        let n_ed = input.n_ed(trace);
        step!(trace, Ratio, PULLED, "utilisation"; utilisation(n_ed, n_rd) = n_ed / n_rd);
        Checked::new(n_ed, n_rd, Dimension::Force, utilisation)
    }
}

/// The limits of the tables, and what no table speaks of: an open rail.
fn scope(input: &WallInput) -> Applicability {
    let mut outside = Vec::new();
    if input.rail == RailSection::Open {
        outside.push("an open rail is outside the tables for tubes until it is boxed".to_owned());
    }
    // A plate welded on all round bends with the wall: the thickness of equal plastic moment counts.
    let t = (input.t_wall * input.t_wall + input.t_plate * input.t_plate).sqrt();
    if input.b_0 > 35.0 * t {
        let ratio = input.b_0 / t;
        outside
            .push(format!("the wall is {ratio:.1} times as wide as thick, the tables end at 35"));
    }
    if input.b_1 > 0.85 * input.b_0 {
        outside.push("the foot covers more than 0.85 of the wall: its sides govern".to_owned());
    }
    Applicability::within(outside.is_empty(), || outside.join("; "))
}

/// What all three resistances share.
struct Wall {
    b_0: f64,
    b_1: f64,
    h_1: f64,
    beta: f64,
    eta: f64,
    m_line: f64,
    k_n: f64,
    gamma_m5: f64,
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
        let gamma_m5 = factors.gamma_m5(trace);
        step!(trace, Ratio, FOOT, "width of the foot over the wall"; beta(b_1, b_0) = b_1 / b_0);
        step!(trace, Ratio, FOOT, "length of the foot over the width of the wall";
            eta(h_1, b_0) = h_1 / b_0);
        step!(trace, Force, Source::mechanics("plastic moments of wall and plate side by side"),
            "four times the plastic moment per length of wall and welded plate";
            m_line(f_y, t_wall, t_plate) = f_y * (sq(t_wall) + sq(t_plate)));
        note_other_readings(t_wall, t_plate, trace);
        let k_n = if input.n_chord.is_some() {
            let n_chord = input.n_chord(trace)?;
            step!(trace, Ratio, joints("Table 7.10, kn"), "reduction for compression in the rail";
                k_n(n_chord, beta) = smaller(1.0, positive(1.3 - 0.4 * n_chord / beta)));
            k_n
        } else {
            step!(trace, Ratio, joints("Table 7.10, kn"), "no compression in the rail"; k_n() = 1.0);
            k_n
        };
        Ok(Self { b_0, b_1, h_1, beta, eta, m_line, k_n, gamma_m5 })
    }
}

/// Engineers differ about a welded plate: the reader sees what the other two readings would give.
fn note_other_readings(t_wall: f64, t_plate: f64, trace: &mut Trace) {
    if t_plate <= 0.0 {
        return;
    }
    trace.note(|| {
        let side_by_side = t_wall * t_wall + t_plate * t_plate;
        let alone = t_wall * t_wall / side_by_side;
        let solid = (t_wall + t_plate) * (t_wall + t_plate) / side_by_side;
        format!(
            "wall and plate bend side by side; with the plate loose or on the wrong side the wall \
             alone has {alone:.3} of this resistance, one solid plate of both would have {solid:.2} \
             of it"
        )
    });
}

/// Records and returns the resistance against a force across the wall.
fn axial(wall: &Wall, trace: &mut Trace) -> f64 {
    let &Wall { beta, eta, m_line, k_n, gamma_m5, .. } = wall;
    step!(trace, Force, PULLED, "resistance against the force across the wall";
        n_rd(k_n, m_line, beta, eta, gamma_m5) =
        k_n * m_line / (1.0 - beta) * (2.0 * eta + 4.0 * sqrt(1.0 - beta)) / gamma_m5);
    n_rd
}

#[cfg(test)]
mod tests {
    use crate::clause::Clause;
    use crate::packs::en_1993::walls::examples::{factors, foot};
    use fishplate_quantity::Trace;

    /// The work in the yield lines of a rectangle that ends `x` beyond the foot, for a unit of
    /// movement of the foot: each of the four regions turns about its outer edge, and the lines
    /// around it, projected on that edge, turn with it (principle of virtual work).
    fn work(x: f64, b_0: f64, b_1: f64, h_1: f64, m_p: f64) -> f64 {
        let g = (b_0 - b_1) / 2.0;
        let side = 2.0 * m_p * (h_1 + 2.0 * x) / g;
        let end = 2.0 * m_p * b_0 / x;
        2.0 * (side + end)
    }

    #[test]
    fn the_axial_form_is_the_least_of_all_yield_line_rectangles() {
        let (b_0, b_1, h_1, m_p) = (0.1, 0.08, 0.06, 235e6 * 2.2e-3 * 2.2e-3 / 4.0);
        let (mut low, mut high) = (1e-3, 0.2);
        for _ in 0..200 {
            let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
            if work(a, b_0, b_1, h_1, m_p) < work(b, b_0, b_1, h_1, m_p) {
                high = b;
            } else {
                low = a;
            }
        }
        let least = work(low, b_0, b_1, h_1, m_p);
        let clause = super::FacePulledByBolts.evaluate(&foot(), &factors(), &mut Trace::off());
        let n_rd = clause.unwrap().resistance;
        assert!((n_rd / least - 1.0).abs() < 1e-9, "{n_rd} against {least}");
    }
}
