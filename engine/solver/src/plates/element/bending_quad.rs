//! Bending and transverse shear of a quadrilateral.
//!
//! Transverse shear strains are taken from the middles of the sides (Dvorkin and Bathe, Eng.
//! Comput. 1, 1984), which removes shear locking. Four rotation modes that vanish at the corners
//! improve the curvatures; their gradients are scaled so that constant curvatures stay exact
//! (Taylor, Beresford and Wilson, Int. J. Numer. Methods Eng. 10, 1976). The shear stiffness is
//! softened in a way that vanishes as the mesh is refined (Lyly, Stenberg and Vihinen, Comput.
//! Methods Appl. Mech. Eng. 110, 1993). From memory of the papers.
//!
//! Movements w, rx, ry of each corner. A material line turns by bx = ry and by = -rx:
//! `u(z) = u + z bx`, `v(z) = v + z by`; curvatures `(bx,x, by,y, bx,y + by,x)`, shear strains
//! `grad w + b`.

use super::facet::{CORNERS, GAUSS_POINTS, QuadPoint, turn};
use super::{
    Block, Facet, PlateLaw, Row, SHEAR_FACTOR, backward, cholesky, forward, mirror, shear_softening,
};

/// Ties a shear sample to a side: from corner, to corner.
const SAMPLES: [[usize; 2]; 4] = [[0, 1], [3, 2], [0, 3], [1, 2]];

/// Curvature fields of the four corners and of the two inner functions `1 - xi^2`, `1 - eta^2`.
type Gradients = [[f64; 2]; 6];

/// Bending with the amplitudes of the inner functions eliminated.
#[derive(Debug)]
struct Condensed {
    /// Factor L of the stiffness of the amplitudes.
    lower: [[f64; 4]; 4],
    /// `L^-1 K`, K the stiffness between the amplitudes and bx, by of the corners.
    half: [[f64; 8]; 4],
    /// Stiffness over bx, by of the corners.
    seen: [[f64; 8]; 8],
}

/// Stiffness over w, rx, ry of each corner.
pub(super) fn stiffness(facet: &Facet, law: &PlateLaw) -> Block {
    let points = GAUSS_POINTS.map(|natural| facet.quad_point(natural));
    let curving = curving(facet, law, &points);
    let seen = condensed(&curving).seen;
    let mut block = [[0.0; 12]; 12];
    for i in 0..4 {
        for j in i..4 {
            // From bx, by to rx = -by, ry = bx.
            let k = |a: usize, b: usize| seen[2 * i + a][2 * j + b];
            block[3 * i + 1][3 * j + 1] = k(1, 1);
            block[3 * i + 1][3 * j + 2] = -k(1, 0);
            block[3 * i + 2][3 * j + 1] = -k(0, 1);
            block[3 * i + 2][3 * j + 2] = k(0, 0);
        }
    }
    add_shear(facet, law, &points, &mut block);
    mirror(&mut block);
    block
}

/// Rows that give mx, my, mxy (N m/m) at the corners and, last, at the centre: the field through
/// the Gauss points.
pub(super) fn moments(facet: &Facet, law: &PlateLaw) -> [[Row; 3]; 5] {
    let points = GAUSS_POINTS.map(|natural| facet.quad_point(natural));
    let Condensed { lower, half: mut inner, .. } = condensed(&curving(facet, law, &points));
    backward(&lower, &mut inner);
    let flexural = law.flexural();
    let centre = facet.quad_point([0.0, 0.0]);
    let mut at_points = [[[0.0; 12]; 3]; 4];
    for ((rows, natural), at) in at_points.iter_mut().zip(GAUSS_POINTS).zip(&points) {
        let gradients = gradients(natural, at, &centre);
        // Curvatures from bx, by of the four corners, then of the inner functions.
        let mut turning = [[0.0; 3]; 8];
        for (c, turned) in turning.iter_mut().enumerate() {
            *turned = curvature(&gradients, c);
            for (mode, amplitudes) in inner.iter().enumerate() {
                let bubble = curvature(&gradients, 8 + mode);
                for k in 0..3 {
                    turned[k] -= bubble[k] * amplitudes[c];
                }
            }
        }
        for (c, strain) in turning.into_iter().enumerate() {
            let moment = law.plane_stress(strain);
            let (corner, about_x) = (c / 2, c % 2 == 1);
            let (column, sign) =
                if about_x { (3 * corner + 1, -1.0) } else { (3 * corner + 2, 1.0) };
            for k in 0..3 {
                rows[k][column] = sign * flexural * moment[k];
            }
        }
    }
    let root = 3.0_f64.sqrt();
    let mut out = [[[0.0; 12]; 3]; 5];
    for (place, rows) in out.iter_mut().enumerate() {
        for (point, from) in at_points.iter().enumerate() {
            let share = if place < 4 {
                let ([a, b], [c, d]) = (CORNERS[place], CORNERS[point]);
                0.25 * (1.0 + root * a * c) * (1.0 + root * b * d)
            } else {
                0.25
            };
            for (row, values) in rows.iter_mut().zip(from) {
                for (to, value) in row.iter_mut().zip(values) {
                    *to += share * value;
                }
            }
        }
    }
    out
}

/// Stiffness over bx, by of the four corners and the amplitudes of the inner functions.
fn curving(facet: &Facet, law: &PlateLaw, points: &[QuadPoint; 4]) -> [[f64; 12]; 12] {
    let centre = facet.quad_point([0.0, 0.0]);
    let mut products = [[[0.0; 4]; 6]; 6];
    for (natural, at) in GAUSS_POINTS.into_iter().zip(points) {
        let g = gradients(natural, at, &centre);
        for i in 0..6 {
            let (x, y) = (at.jacobian * g[i][0], at.jacobian * g[i][1]);
            for j in i..6 {
                let sum = &mut products[i][j];
                sum[0] += x * g[j][0];
                sum[1] += x * g[j][1];
                sum[2] += y * g[j][0];
                sum[3] += y * g[j][1];
            }
        }
    }
    let flexural = law.flexural();
    let nu = law.poisson;
    let twist = (1.0 - nu) / 2.0;
    let mut out = [[0.0; 12]; 12];
    for i in 0..6 {
        for j in i..6 {
            let [xx, xy, yx, yy] = products[i][j];
            out[2 * i][2 * j] = flexural * (xx + twist * yy);
            out[2 * i][2 * j + 1] = flexural * (nu * xy + twist * yx);
            out[2 * i + 1][2 * j] = flexural * (nu * yx + twist * xy);
            out[2 * i + 1][2 * j + 1] = flexural * (yy + twist * xx);
        }
    }
    mirror(&mut out);
    out
}

fn condensed(curving: &[[f64; 12]; 12]) -> Condensed {
    let mut own = [[0.0; 4]; 4];
    let mut half = [[0.0; 8]; 4];
    for i in 0..4 {
        own[i].copy_from_slice(&curving[8 + i][8..]);
        half[i].copy_from_slice(&curving[8 + i][..8]);
    }
    let lower = cholesky(&own);
    forward(&lower, &mut half);
    let mut seen = [[0.0; 8]; 8];
    for i in 0..8 {
        for j in 0..8 {
            seen[i][j] = curving[i][j];
            for row in &half {
                seen[i][j] -= row[i] * row[j];
            }
        }
    }
    Condensed { lower, half, seen }
}

/// Adds the stiffness in transverse shear to the upper triangle.
fn add_shear(facet: &Facet, law: &PlateLaw, points: &[QuadPoint; 4], block: &mut Block) {
    let factor = shear_stiffness(facet, law);
    let mut between = [[0.0; 4]; 4];
    for (natural, at) in GAUSS_POINTS.into_iter().zip(points) {
        let [x, y] = interpolation(natural, at);
        for i in 0..4 {
            for j in 0..4 {
                between[i][j] += factor * at.jacobian * (x[i] * x[j] + y[i] * y[j]);
            }
        }
    }
    let samples = samples(facet);
    for (i, sample) in samples.iter().enumerate() {
        let mut force = [0.0; 12];
        for (share, other) in between[i].iter().zip(&samples) {
            for (f, g) in force.iter_mut().zip(other) {
                *f += share * g;
            }
        }
        for corner in SAMPLES[i] {
            for a in 3 * corner..3 * corner + 3 {
                for b in a..12 {
                    block[a][b] += sample[a] * force[b];
                }
            }
        }
    }
}

/// Softened stiffness in transverse shear, N/m.
fn shear_stiffness(facet: &Facet, law: &PlateLaw) -> f64 {
    SHEAR_FACTOR * law.shear_modulus() * law.thickness * shear_softening(facet, law)
}

/// Rows that give the covariant shear strains in the middles of the sides: along xi at eta = -1
/// and 1, along eta at xi = -1 and 1.
fn samples(facet: &Facet) -> [Row; 4] {
    SAMPLES.map(|[from, to]| {
        let (a, b) = (facet.plane[from], facet.plane[to]);
        let mut row = [0.0; 12];
        row[3 * from] = -0.5;
        row[3 * to] = 0.5;
        for corner in [from, to] {
            row[3 * corner + 1] = -0.25 * (b[1] - a[1]);
            row[3 * corner + 2] = 0.25 * (b[0] - a[0]);
        }
        row
    })
}

/// Shear strains along e1 and e2 per sample.
fn interpolation([xi, eta]: [f64; 2], at: &QuadPoint) -> [[f64; 4]; 2] {
    let along = [0.5 * (1.0 - eta), 0.5 * (1.0 + eta), 0.5 * (1.0 - xi), 0.5 * (1.0 + xi)];
    at.inverse.map(|[to_xi, to_eta]| {
        [to_xi * along[0], to_xi * along[1], to_eta * along[2], to_eta * along[3]]
    })
}

fn gradients([xi, eta]: [f64; 2], at: &QuadPoint, centre: &QuadPoint) -> Gradients {
    let scale = centre.jacobian / at.jacobian;
    let g = &at.gradients;
    [
        g[0],
        g[1],
        g[2],
        g[3],
        turn(&centre.inverse, [-2.0 * xi * scale, 0.0]),
        turn(&centre.inverse, [0.0, -2.0 * eta * scale]),
    ]
}

/// Curvatures from component `c`: bx of function c / 2 when even, by when odd.
fn curvature(gradients: &Gradients, c: usize) -> [f64; 3] {
    let [x, y] = gradients[c / 2];
    if c.is_multiple_of(2) { [x, 0.0, y] } else { [0.0, y, x] }
}
