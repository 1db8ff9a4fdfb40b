//! Areas that resist shear once they yield.

use super::shape::SectionShape;
use super::{BuiltUp, Channel, Midline, RectangularTube};
use fishplate_quantity::algebra::sq;
use std::f64::consts::PI;

impl SectionShape {
    /// Areas for shear *resistance* against forces along y and z, m2: `A_v` of EN 1993-1-1:2005, 6.2.6(3) (from memory).
    ///
    /// Tubes of even wall `A b/(b+h)` and `A h/(b+h)`, round tubes `2 A / pi`, solid sections `A`, channels the clear web
    /// and the two flanges. The clause has nothing for the rest, which take the walls that run along the force: uneven tubes
    /// their clear sides, angles the leg from the other leg's midline, thin-walled sections each wall's projection. In a built-up
    /// section a flat counts only along its longer side. For shear *stiffness* see [`super::SectionProperties::shear_area_y`].
    #[must_use]
    pub fn plastic_shear_areas(&self) -> (f64, f64) {
        match self {
            Self::Angle(s) => {
                let (t, half) = (s.thickness(), s.thickness() / 2.0);
                (t * (s.horizontal_leg() - half), t * (s.vertical_leg() - half))
            }
            Self::Channel(s) => channel(s),
            Self::RectangularTube(s) => tube(s, self),
            Self::RoundTube(_) => {
                let a_v = 2.0 * self.properties().area / PI;
                (a_v, a_v)
            }
            Self::Flat(_) | Self::RoundBar(_) => {
                let area = self.properties().area;
                (area, area)
            }
            Self::Hat(s) => projected(s.midline()),
            Self::MultiCell(s) => projected(s.midline()),
            Self::BuiltUp(s) => built_up(s),
        }
    }
}

fn channel(s: &Channel) -> (f64, f64) {
    let clear = s.height() - 2.0 * s.flange_thickness();
    (2.0 * s.flange_width() * s.flange_thickness(), clear * s.web_thickness())
}

fn tube(s: &RectangularTube, shape: &SectionShape) -> (f64, f64) {
    let [top, bottom, left, right] = s.walls().map(|w| w.remaining());
    let lost =
        |one: usize, other: usize| s.walls()[one].loss_outside + s.walls()[other].loss_outside;
    let (h, b) = (s.height() - lost(0, 1), s.width() - lost(2, 3));
    let even = [bottom, left, right].iter().all(|t| (t - top).abs() <= 1e-9);
    if even {
        let area = shape.properties().area;
        return (area * b / (b + h), area * h / (b + h));
    }
    ((b - left - right) * (top + bottom), (h - top - bottom) * (left + right))
}

fn projected(midline: &Midline) -> (f64, f64) {
    let nodes = midline.nodes();
    let mut sum = (0.0, 0.0);
    for wall in midline.walls() {
        let (from, to) = (nodes[wall.from], nodes[wall.to]);
        sum.0 += wall.t * (to.0 - from.0).abs();
        sum.1 += wall.t * (to.1 - from.1).abs();
    }
    sum
}

/// A turned part gives each direction the share of its areas that the square of the cosine leaves: all of it when parallel.
fn built_up(s: &BuiltUp) -> (f64, f64) {
    let mut sum = (0.0, 0.0);
    for part in s.parts() {
        let (along_y, along_z) = match &part.shape {
            SectionShape::Flat(flat) if flat.width() > flat.height() => {
                (flat.width() * flat.height(), 0.0)
            }
            SectionShape::Flat(flat) => (0.0, flat.width() * flat.height()),
            other => other.plastic_shear_areas(),
        };
        let (sin, cos) = part.rotation.sin_cos();
        sum.0 += along_y * sq(cos) + along_z * sq(sin);
        sum.1 += along_z * sq(cos) + along_y * sq(sin);
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::super::tests::agrees_mm;
    use super::super::*;

    /// EN 1993-1-1:2005, 6.2.6(3) (from memory), by hand.
    #[test]
    fn areas_of_the_clause() {
        let tube = RectangularTube::uniform(0.100, 0.050, 0.004, 0.008, 0.004).unwrap();
        let (y, z) = SectionShape::from(tube).plastic_shear_areas();
        agrees_mm("tube, along the height", z, 2, 1_094.796_447 * 100.0 / 150.0, 1e-8);
        agrees_mm("tube, along the width", y, 2, 1_094.796_447 * 50.0 / 150.0, 1e-8);
        let round = SectionShape::from(RoundTube::new(0.0483, 0.0032).unwrap());
        agrees_mm(
            "round",
            round.plastic_shear_areas().1,
            2,
            2.0 * 453.394_651_8 / std::f64::consts::PI,
            1e-8,
        );
        let flat = SectionShape::from(Flat::new(0.06, 0.008).unwrap());
        agrees_mm("flat", flat.plastic_shear_areas().1, 2, 480.0, 1e-12);
        let channel = Channel::new(0.1, 0.05, 0.005, 0.006, 0.0, 0.0).unwrap();
        let (y, z) = SectionShape::from(channel).plastic_shear_areas();
        agrees_mm("web", z, 2, 88.0 * 5.0, 1e-12);
        agrees_mm("flanges", y, 2, 600.0, 1e-12);
    }

    /// Common practice, no source: the walls along the force.
    #[test]
    fn areas_beyond_the_clause() {
        let angle = SectionShape::from(Angle::sharp(0.08, 0.05, 0.006).unwrap());
        let (y, z) = angle.plastic_shear_areas();
        agrees_mm("vertical leg", z, 2, 77.0 * 6.0, 1e-12);
        agrees_mm("horizontal leg", y, 2, 47.0 * 6.0, 1e-12);
        let wall = TubeWall::sound(0.0025);
        let thin = TubeWall { loss_outside: 0.001, ..wall };
        let worn = RectangularTube::new(0.070, 0.050, [wall, wall, thin, wall], 0.0, 0.0).unwrap();
        let (y, z) = SectionShape::from(worn).plastic_shear_areas();
        agrees_mm("thinned web", z, 2, 65.0 * 4.0, 1e-12);
        agrees_mm("flanges", y, 2, 45.0 * 5.0, 1e-12);
        let hat = SectionShape::from(Hat::open(0.06, 0.045, 0.018, 0.0015).unwrap());
        agrees_mm("two webs", hat.plastic_shear_areas().1, 2, 135.0, 1e-12);
        // A plate lying on a tube adds nothing to the webs, whichever way the whole is turned.
        let tube =
            SectionShape::from(RectangularTube::uniform(0.08, 0.06, 0.002, 0.0, 0.0).unwrap());
        let plate = SectionShape::from(Flat::new(0.08, 0.006).unwrap());
        let alone = tube.plastic_shear_areas();
        let built = |dy: f64, dz: f64, rotation: f64| {
            let parts = vec![
                Placed { shape: tube.clone(), dy: 0.0, dz: 0.0, rotation },
                Placed { shape: plate.clone(), dy, dz, rotation },
            ];
            let whole = BuiltUp::new(parts, BuiltUpTorsion::SumOfParts).unwrap();
            SectionShape::from(whole).plastic_shear_areas()
        };
        agrees_mm("plate on top", built(0.0, 0.043, 0.0).1, 2, alone.1 * 1e6, 1e-12);
        let turned = built(-0.043, 0.0, std::f64::consts::FRAC_PI_2);
        agrees_mm("turned a quarter", turned.0, 2, alone.1 * 1e6, 1e-12);
    }
}
