//! What local buckling leaves of a section: area, shift of the centroid, section moduli.

use fishplate_quantity::algebra::{smaller, sqrt};
use fishplate_quantity::{Dimension, Provenance, Trace};

use crate::clause::NotChecked;
use crate::clause::input::{MemberInput, Shape};
use crate::packs::en_1993::MPA;

use super::flats::{Carrying, Flats, Level, Pressing, Wall};

/// What compression alone leaves, and how far the centroid moves.
pub(super) struct Shifted {
    gross: Carrying,
    left: Carrying,
    told: String,
}

impl Shifted {
    /// Under tension nothing buckles.
    pub(super) fn none(section: &Flats) -> Self {
        let gross = section.gross();
        Self { gross, left: gross, told: "nothing buckles under tension".to_owned() }
    }

    pub(super) fn pressed(section: &Flats, level: Level) -> Result<Self, NotChecked> {
        let only = Pressing { n: 1.0, m_y: 0.0, m_z: 0.0 };
        let rest = section.at_rest(only, level, false).ok_or_else(restless)?;
        let told = section.told(&rest.left);
        Ok(Self { gross: section.gross(), left: rest.carrying, told })
    }

    /// Records and returns the area that is left, `scale` times that of the midline.
    pub(super) fn a_eff(&self, scale: f64, trace: &mut Trace) -> f64 {
        let what = "area that carries the axial force";
        trace.input("a_eff", what, Dimension::Area, scale * self.left.a, || {
            Provenance::Solved(self.told.clone())
        })
    }

    pub(super) fn e_y(&self, trace: &mut Trace) -> f64 {
        let what = "shift of the centroid along y under compression";
        let shift = self.gross.y - self.left.y;
        trace.input("e_n_y", what, Dimension::Length, shift, || {
            Provenance::Solved("the effective section under compression".to_owned())
        })
    }

    pub(super) fn e_z(&self, trace: &mut Trace) -> f64 {
        let what = "shift of the centroid along z under compression";
        let shift = self.gross.z - self.left.z;
        trace.input("e_n_z", what, Dimension::Length, shift, || {
            Provenance::Solved("the effective section under compression".to_owned())
        })
    }
}

pub(super) fn restless() -> NotChecked {
    NotChecked::NoRule {
        reason: "the effective section does not come to rest; plates must decide".to_owned(),
    }
}

#[derive(Clone, Copy)]
pub(super) enum Axis {
    Y,
    Z,
}

/// The directions in which a moment and the shift of the axial force may bend together.
pub(super) fn signs(moment: f64, shift: f64) -> &'static [f64] {
    match (moment > 0.0 || shift > 0.0, moment < 0.0 || shift < 0.0) {
        (true, true) => &BOTH,
        (false, true) => &[-1.0],
        _ => &[1.0],
    }
}

const BOTH: [f64; 2] = [1.0, -1.0];

/// The effective section modulus for bending about one axis.
pub(super) struct Modulus {
    pub(super) axis: Axis,
    pub(super) symbol: &'static str,
    /// Directions of the moment; the smaller modulus counts.
    pub(super) signs: &'static [f64],
}

impl Modulus {
    /// Records and returns the smaller of one pass and at rest, `scale` times that of the midline.
    pub(super) fn of(
        &self,
        section: &Flats,
        scale: f64,
        level: Level,
        trace: &mut Trace,
    ) -> Result<f64, NotChecked> {
        let mut least = f64::INFINITY;
        for sign in self.signs {
            let forces = self.forces(*sign);
            let rest = section.at_rest(forces, level, false).ok_or_else(restless)?;
            let at_rest = scale * section.modulus(&rest.carrying, forces);
            let once = scale * section.modulus(&section.one_pass(forces, level), forces);
            trace.note(|| {
                format!(
                    "{}: {:.1} mm³ at rest after {} passes, {:.1} mm³ after one; the smaller \
                     counts. {}",
                    self.symbol,
                    at_rest * 1e9,
                    rest.passes,
                    once * 1e9,
                    section.told(&rest.left)
                )
            });
            least = smaller(least, smaller(at_rest, once));
        }
        let what = "effective section modulus";
        Ok(trace.input(self.symbol, what, Dimension::SectionModulus, least, || {
            Provenance::Solved("the effective section under this moment".to_owned())
        }))
    }

    fn forces(&self, moment: f64) -> Pressing {
        match self.axis {
            Axis::Y => Pressing { n: 0.0, m_y: moment, m_z: 0.0 },
            Axis::Z => Pressing { n: 0.0, m_y: 0.0, m_z: moment },
        }
    }
}

/// The effective section of a member of class 4.
///
/// Its walls are the midlines with sharp corners. What they lose is taken off the stated area and
/// section moduli in the same ratio, as EN 1993-1-3:2006, 5.1(4) does for rounded corners.
pub(super) struct Reduced {
    section: Flats,
    level: Level,
}

impl Reduced {
    pub(super) fn of(input: &MemberInput) -> Result<Self, NotChecked> {
        let (h, b, t) = (input.h, input.b, input.t);
        let section = match input.shape {
            Shape::RectangularTube => Flats::tube(h - t, b - t, t),
            Shape::Channel => Flats::channel(h - t, b - t / 2.0, t),
            Shape::WeldedI => Flats::i_section(h - t, b, t),
            Shape::Angle => principal(&Flats::angle(h - t / 2.0, b - t / 2.0, t)),
            Shape::RoundTube | Shape::Rectangle | Shape::RoundBar => {
                return Err(NotChecked::NoRule {
                    reason: "a round tube of class 4 is a shell: no rule in this pack".to_owned(),
                });
            }
        };
        if section.walls.iter().any(|wall| wall.length() <= 0.0) || 2.0 * t >= smaller(h, b) {
            return Err(NotChecked::OutOfRange {
                symbol: "t",
                what: "wall thickness",
                value: t,
                dimension: Dimension::Length,
                allowed: "less than half of depth and width",
            });
        }
        let level = Level { eps: sqrt(235.0 * MPA / input.f_y), f_yd: None };
        Ok(Self { section, level })
    }

    /// Records and returns the effective area and the shifts of the centroid along y and z.
    pub(super) fn area(
        &self,
        input: &MemberInput,
        trace: &mut Trace,
    ) -> Result<(f64, f64, f64), NotChecked> {
        let pressed = Shifted::pressed(&self.section, self.level)?;
        let a_eff = pressed.a_eff(input.a / pressed.gross.a, trace);
        Ok((a_eff, pressed.e_y(trace), pressed.e_z(trace)))
    }

    pub(super) fn w_y(&self, input: &MemberInput, trace: &mut Trace) -> Result<f64, NotChecked> {
        let about = Modulus { axis: Axis::Y, symbol: "w_eff_y", signs: &BOTH };
        self.modulus(&about, input.w_el_y, trace)
    }

    pub(super) fn w_z(&self, input: &MemberInput, trace: &mut Trace) -> Result<f64, NotChecked> {
        let about = Modulus { axis: Axis::Z, symbol: "w_eff_z", signs: &BOTH };
        self.modulus(&about, input.w_el_z, trace)
    }

    fn modulus(&self, about: &Modulus, whole: f64, trace: &mut Trace) -> Result<f64, NotChecked> {
        let midline = self.section.modulus(&self.section.gross(), about.forces(1.0));
        about.of(&self.section, whole / midline, self.level, trace)
    }
}

/// The walls turned so that y is the strong axis.
fn principal(section: &Flats) -> Flats {
    let gross = section.gross();
    let angle = 0.5 * (-2.0 * gross.i_yz).atan2(gross.i_y - gross.i_z);
    let (sin, cos) = angle.sin_cos();
    let turned = |(y, z): (f64, f64)| (y * cos + z * sin, z * cos - y * sin);
    let walls = section.walls.iter();
    let walls = walls.map(|w| Wall { start: turned(w.start), end: turned(w.end), ..*w }).collect();
    Flats { walls }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_strong_axis_of_an_angle_is_y() {
        let turned = principal(&Flats::angle(0.08, 0.05, 0.004)).gross();
        assert!(turned.i_yz.abs() < 1e-12 * turned.i_y);
        assert!(turned.i_y > turned.i_z);
    }
}
