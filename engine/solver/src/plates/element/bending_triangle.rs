//! Bending and transverse shear of a triangle.
//!
//! Katili's triangle (Int. J. Numer. Methods Eng. 36, 1993): rotations linear between the corners
//! plus a parabola along each side, whose height makes the transverse shear along that side agree
//! with equilibrium. In a thin plate it is the discrete Kirchhoff triangle of Batoz, Bathe and Ho
//! (Int. J. Numer. Methods Eng. 15, 1980). From memory of the papers.
//!
//! A side shared with a quadrilateral has no parabola, and the shear along it is that of the
//! quadrilateral's side: constant bending passes from one to the other.
//!
//! Movements w, rx, ry of each corner; `bx = ry`, `by = -rx` as in the quadrilateral.

use super::facet::TRIANGLE_POINTS;
use super::{
    Beyond, Block, Facet, PlateLaw, Row, SHEAR_FACTOR, add_plane, add_square, mirror,
    shear_softening,
};
use fishplate_quantity::algebra::sq;

/// What the sides of a triangle give.
#[derive(Debug)]
struct Sides {
    /// Unit vectors along the sides.
    direction: [[f64; 2]; 3],
    /// Rows that give the height of the parabola of rotations along each side.
    height: [Row; 3],
    /// Rows that give the transverse shear strain along each side, times the square root of the
    /// softening where there is one.
    shear: [Row; 3],
}

/// Stiffness over w, rx, ry of each corner.
pub(super) fn stiffness(facet: &Facet, law: &PlateLaw) -> Block {
    let sides = Sides::new(facet, law);
    let mut block = [[0.0; 12]; 12];
    let weight = facet.area / 3.0;
    let shear_factor = SHEAR_FACTOR * law.shear_modulus() * law.thickness * weight;
    for place in TRIANGLE_POINTS {
        add_plane(&curvatures(facet, &sides, place), law, law.flexural() * weight, &mut block);
        for row in &shear_strains(&sides, place) {
            add_square(row, shear_factor, &mut block);
        }
    }
    mirror(&mut block);
    block
}

/// Rows that give mx, my, mxy (N m/m) at the corners and, last, at the centre.
pub(super) fn moments(facet: &Facet, law: &PlateLaw) -> [[Row; 3]; 5] {
    let sides = Sides::new(facet, law);
    let mut out = [[[0.0; 12]; 3]; 5];
    for (place, rows) in out.iter_mut().enumerate() {
        let place = match place {
            0 => [1.0, 0.0, 0.0],
            1 => [0.0, 1.0, 0.0],
            2 => [0.0, 0.0, 1.0],
            3 => continue,
            _ => [1.0 / 3.0; 3],
        };
        let strains = curvatures(facet, &sides, place);
        for column in 0..9 {
            let moment = law.plane_stress([0, 1, 2].map(|k| strains[k][column]));
            for (row, value) in rows.iter_mut().zip(moment) {
                row[column] = law.flexural() * value;
            }
        }
    }
    out
}

impl Sides {
    fn new(facet: &Facet, law: &PlateLaw) -> Self {
        let mut sides =
            Sides { direction: [[0.0; 2]; 3], height: [[0.0; 12]; 3], shear: [[0.0; 12]; 3] };
        for k in 0..3 {
            let run = facet.side(k);
            let length = (sq(run[0]) + sq(run[1])).sqrt();
            let [c, s] = [run[0] / length, run[1] / length];
            sides.direction[k] = [c, s];
            // Slope of w along the side plus the mean rotation of its ends.
            let (i, j) = (k, (k + 1) % 3);
            let mut strain = [0.0; 12];
            strain[3 * i] = -1.0 / length;
            strain[3 * j] = 1.0 / length;
            for corner in [i, j] {
                strain[3 * corner + 1] = -0.5 * s;
                strain[3 * corner + 2] = 0.5 * c;
            }
            match facet.beyond[k] {
                Beyond::Alike => {
                    let influence =
                        2.0 / (SHEAR_FACTOR * (1.0 - law.poisson)) * sq(law.thickness / length);
                    let share = 1.0 / (1.0 + influence);
                    sides.height[k] = strain.map(|e| -1.5 * share * e);
                    sides.shear[k] = strain.map(|e| influence * share * e);
                }
                Beyond::Other => {
                    let share = shear_softening(facet, law).sqrt();
                    sides.shear[k] = strain.map(|e| share * e);
                }
            }
        }
        sides
    }
}

/// Curvatures at area coordinates.
fn curvatures(facet: &Facet, sides: &Sides, place: [f64; 3]) -> [Row; 3] {
    let gradients = facet.triangle_gradients();
    let mut rows = [[0.0; 12]; 3];
    for (corner, [x, y]) in gradients.into_iter().enumerate() {
        let (about_x, about_y) = (3 * corner + 1, 3 * corner + 2);
        rows[0][about_y] = x;
        rows[1][about_x] = -y;
        rows[2][about_y] = y;
        rows[2][about_x] = -x;
    }
    for k in 0..3 {
        let j = (k + 1) % 3;
        let along =
            |axis: usize| 4.0 * (place[k] * gradients[j][axis] + place[j] * gradients[k][axis]);
        let (x, y) = (along(0), along(1));
        let [c, s] = sides.direction[k];
        let shares = [x * c, y * s, y * c + x * s];
        for (row, share) in rows.iter_mut().zip(shares) {
            for (value, height) in row.iter_mut().zip(&sides.height[k]) {
                *value += share * height;
            }
        }
    }
    rows
}

/// Transverse shear strains along e1, e2 at area coordinates: each side gives the strain along
/// itself, two sides that meet give that of their corner, the corners give it inside.
fn shear_strains(sides: &Sides, place: [f64; 3]) -> [Row; 2] {
    let mut rows = [[0.0; 12]; 2];
    for (corner, share) in place.into_iter().enumerate() {
        let (ahead, behind) = (corner, (corner + 2) % 3);
        let ([c, s], [d, t]) = (sides.direction[ahead], sides.direction[behind]);
        let determinant = c * t - s * d;
        for (side, [x, y]) in [(ahead, [t, -d]), (behind, [-s, c])] {
            let factor = share / determinant;
            for (column, strain) in sides.shear[side].iter().enumerate() {
                rows[0][column] += x * factor * strain;
                rows[1][column] += y * factor * strain;
            }
        }
    }
    rows
}
