//! Membrane of a quadrilateral: hybrid stresses and Allman's side displacements.
//!
//! Stresses are assumed inside and displacements along the sides (Pian, AIAA J. 2, 1964). The seven
//! stress modes are all linear fields that are in equilibrium; sides move as a parabola whose arch
//! is the difference of the corner rotations (Allman, Comput. Struct. 19, 1984). The mean of the
//! corner rotations is tied to the rotation of the material at the centre (Hughes and Brezzi,
//! Comput. Methods Appl. Mech. Eng. 72, 1989), and the alternating rotation of the corners, which
//! no linear stress feels, has a small stiffness orthogonal to all linear fields (after Flanagan
//! and Belytschko, Int. J. Numer. Methods Eng. 17, 1981). From memory of the papers.
//!
//! A side shared with a triangle arches as the triangle's does, so that constant stress passes from
//! one to the other.
//!
//! Movements u, v, rz of each corner; x, y from the mean of the corners.

use super::facet::{CORNERS, GAUSS_POINTS, turn};
use super::{Block, Facet, PlateLaw, Row, add_square, backward, cholesky, forward, mirror};

/// Stiffness, over the shear modulus, that ties the mean rotation of the corners to the rotation
/// of the material. Any value from 0.1 to 10 changes converged results by less than 0.5 %
/// (numerical study, no source); the paper leaves a value of the order of 1 open.
const ROTATION_TIE: f64 = 0.3;
/// Stiffness, over the shear modulus, of the alternating rotation of the corners: small, so that
/// curved shells may bend without stretching (numerical study, no source).
const ALTERNATION: f64 = 0.005;

/// Stiffness over u, v, rz of each corner.
pub(super) fn stiffness(facet: &Facet, law: &PlateLaw) -> Block {
    let (_, half) = modes(facet, law);
    let mut block = [[0.0; 12]; 12];
    for row in &half {
        add_square(row, law.youngs * law.thickness, &mut block);
    }
    let drilling = law.shear_modulus() * law.thickness * facet.area;
    add_square(&central_rotation(facet), ROTATION_TIE * drilling, &mut block);
    let mut alternating = [0.0; 12];
    for (corner, share) in alternation(facet).into_iter().enumerate() {
        alternating[3 * corner + 2] = share;
    }
    add_square(&alternating, ALTERNATION / 16.0 * drilling, &mut block);
    mirror(&mut block);
    block
}

/// Rows that give nx, ny, nxy (N/m) at the corners and, last, at the centre.
pub(super) fn forces(facet: &Facet, law: &PlateLaw) -> [[Row; 3]; 5] {
    let (lower, mut strengths) = modes(facet, law);
    backward(&lower, &mut strengths);
    let factor = law.youngs * law.thickness;
    let length = facet.area.sqrt();
    let mut places = [[0.0; 2]; 5];
    places[..4].copy_from_slice(&facet.plane);
    places.map(|[x, y]| {
        let fields = stress_modes(x / length, y / length);
        let mut rows = [[0.0; 12]; 3];
        for (field, strength) in fields.iter().zip(&strengths) {
            for (row, share) in rows.iter_mut().zip(field) {
                for (value, s) in row.iter_mut().zip(strength) {
                    *value += factor * share * s;
                }
            }
        }
        rows
    })
}

/// The stress modes (x, y, xy) at a place over the square root of the area: all linear fields in
/// equilibrium.
fn stress_modes(x: f64, y: f64) -> [[f64; 3]; 7] {
    [
        [1.0, 0.0, 0.0],
        [0.0, 1.0, 0.0],
        [0.0, 0.0, 1.0],
        [y, 0.0, 0.0],
        [0.0, x, 0.0],
        [x, 0.0, -y],
        [0.0, y, -x],
    ]
}

/// With the flexibility `H = int P^T D^-1 P dA` of the stress modes P for a unit Young's modulus
/// and their work `G = int P^T B dA` on the strains of the corner movements: the factor L of
/// `H = L L^T`, and `L^-1 G`.
fn modes(facet: &Facet, law: &PlateLaw) -> ([[f64; 7]; 7], [Row; 7]) {
    let length = facet.area.sqrt();
    let nu = law.poisson;
    let mut flexibility = [[0.0; 7]; 7];
    let mut work = [[0.0; 12]; 7];
    for natural in GAUSS_POINTS {
        let at = facet.quad_point(natural);
        let shape = facet.shape(natural[0], natural[1]);
        let (mut x, mut y) = (0.0, 0.0);
        for (n, p) in shape.iter().zip(&facet.plane) {
            x += n * p[0];
            y += n * p[1];
        }
        let fields = stress_modes(x / length, y / length);
        for (a, field) in fields.iter().enumerate() {
            let strain = [
                at.jacobian * (field[0] - nu * field[1]),
                at.jacobian * (field[1] - nu * field[0]),
                at.jacobian * 2.0 * (1.0 + nu) * field[2],
            ];
            for (b, other) in fields.iter().enumerate().take(a + 1) {
                flexibility[a][b] +=
                    strain[0] * other[0] + strain[1] * other[1] + strain[2] * other[2];
            }
        }
        let mut columns = [[0.0; 3]; 12];
        for (corner, g) in at.gradients.iter().enumerate() {
            columns[3 * corner] = [g[0], 0.0, g[1]];
            columns[3 * corner + 1] = [0.0, g[1], g[0]];
        }
        for (side, g) in side_gradients(natural, &at.inverse).iter().enumerate() {
            let arch = facet.arch(side);
            let strain = [arch[0] * g[0], arch[1] * g[1], arch[0] * g[1] + arch[1] * g[0]];
            let (from, to) = (3 * side + 2, 3 * ((side + 1) % 4) + 2);
            for k in 0..3 {
                columns[to][k] += strain[k];
                columns[from][k] -= strain[k];
            }
        }
        for (mode, field) in work.iter_mut().zip(&fields) {
            for (value, c) in mode.iter_mut().zip(&columns) {
                *value += at.jacobian * (field[0] * c[0] + field[1] * c[1] + field[2] * c[2]);
            }
        }
    }
    let lower = cholesky(&flexibility);
    forward(&lower, &mut work);
    (lower, work)
}

/// Row that gives the rotation of the material at the centre less the mean of the corner
/// rotations.
fn central_rotation(facet: &Facet) -> Row {
    let centre = [0.0, 0.0];
    let at = facet.quad_point(centre);
    let mut row = [0.0; 12];
    for (corner, g) in at.gradients.iter().enumerate() {
        row[3 * corner] = -0.5 * g[1];
        row[3 * corner + 1] = 0.5 * g[0];
        row[3 * corner + 2] = -0.25;
    }
    for (side, g) in side_gradients(centre, &at.inverse).iter().enumerate() {
        let arch = facet.arch(side);
        let rotation = 0.5 * (arch[1] * g[0] - arch[0] * g[1]);
        row[3 * ((side + 1) % 4) + 2] += rotation;
        row[3 * side + 2] -= rotation;
    }
    row
}

/// The alternating rotation of the corners, orthogonal to every linear field.
fn alternation(facet: &Facet) -> [f64; 4] {
    let signs = CORNERS.map(|[a, b]| a * b);
    let at = facet.quad_point([0.0, 0.0]);
    let (mut along_x, mut along_y) = (0.0, 0.0);
    for (sign, p) in signs.iter().zip(&facet.plane) {
        along_x += sign * p[0];
        along_y += sign * p[1];
    }
    let mut shares = signs;
    for (share, g) in shares.iter_mut().zip(&at.gradients) {
        *share -= along_x * g[0] + along_y * g[1];
    }
    shares
}

/// Gradients, along e1 and e2, of the functions that are one in the middle of a side, a parabola
/// along it and zero on the other sides.
fn side_gradients([xi, eta]: [f64; 2], inverse: &[[f64; 2]; 2]) -> [[f64; 2]; 4] {
    [
        [-xi * (1.0 - eta), -0.5 * (1.0 - xi * xi)],
        [0.5 * (1.0 - eta * eta), -eta * (1.0 + xi)],
        [-xi * (1.0 + eta), 0.5 * (1.0 - xi * xi)],
        [-0.5 * (1.0 - eta * eta), -eta * (1.0 - xi)],
    ]
    .map(|derivative| turn(inverse, derivative))
}
