//! Flat shell elements of six movements a corner: a hybrid membrane with true rotations about the
//! normal and a plate in bending with transverse shear, side by side.
//!
//! Pure functions of an element's geometry ([`Facet`]) and its wall ([`PlateLaw`]): stiffness,
//! stress resultants, geometric stiffness, weights of loads and masses. They know no mesh.
//!
//! # Conventions
//!
//! **Movements** of a corner are u, v, w along the element axes e1, e2, e3 and the right-handed
//! rotations rx, ry, rz about them. A [`Full`] matrix takes six a corner in that order; a membrane
//! [`Block`] takes u, v, rz and a bending [`Block`] w, rx, ry a corner. A triangle uses the leading
//! part of each, the rest is zero.
//!
//! **Uncoupled.** In a flat element the membrane and the bending movements share no stiffness, and
//! those entries of [`stiffness`] are exactly zero.
//!
//! **Resultants** per length of a cut: membrane forces `n = [nx, ny, nxy]`, N/m, positive in
//! tension; bending moments `m = [mx, my, mxy]`, N m/m, a positive mx pulls the face at +e3 along
//! e1: `sigma = n / t + 12 m z / t^3`, z along e3 (stresses at the faces:
//! [`crate::plates::answer::Resultants::stress`]). Transverse shear is not recovered: what a
//! triangle has of it does not converge at its centre.
//!
//! **Warped quadrilaterals** are computed in their mean plane and joined to their corners by rigid
//! arms along e3, which keeps every rigid motion free of force.
//!
//! **Triangles beside quadrilaterals** have to be told ([`Facet::beside`]), and so have those: the
//! two shapes move their sides in different ways, and where they meet constant stress would not
//! pass. There the membrane arches as the triangle's, and bending as in the quadrilateral.
//!
//! # Sources
//!
//! Each folder-mate names the publications its formulas were written from, all from memory of
//! them. None of their constants was chosen here.

mod bending_quad;
mod bending_triangle;
mod facet;
mod membrane_quad;
mod membrane_triangle;
mod recovery;
mod weights;

#[cfg(test)]
mod tests;

pub(crate) use facet::{BadShape, Beyond, Facet};
use fishplate_quantity::algebra::{smaller, sq};
pub(crate) use recovery::{Recovery, in_turned_axes};
pub(crate) use weights::{area_weights, geometric_stiffness, products, side_moment};

/// Matrix over three movements of each corner: u, v, rz of a membrane or w, rx, ry of a plate in
/// bending. SI.
pub(crate) type Block = [[f64; 12]; 12];
/// Matrix over all six movements of each corner. SI.
pub(crate) type Full = [[f64; 24]; 24];
/// Movements of the corners in element axes, six each, m and rad.
pub(crate) type Movements = [f64; 24];

/// Row that gives one number from three movements of each corner.
type Row = [f64; 12];

/// Places of u, v, rz among the six movements of a corner.
pub(crate) const MEMBRANE: [usize; 3] = [0, 1, 5];
/// Places of w, rx, ry among the six movements of a corner.
pub(crate) const BENDING: [usize; 3] = [2, 3, 4];

/// Factor of transverse shear of a solid wall (Reissner, J. Appl. Mech. 12, 1945).
const SHEAR_FACTOR: f64 = 5.0 / 6.0;

/// Softening of transverse shear by `t^2 / (t^2 + alpha h^2)` with the shortest side as h. The paper
/// (Lyly, Stenberg and Vihinen 1993, from memory) proves convergence for any positive value and uses
/// 0.1; this one was found in a numerical study (no source).
const SOFTENING: f64 = 0.12;

/// An isotropic elastic wall of one thickness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct PlateLaw {
    /// Young's modulus, Pa, above 0.
    pub(crate) youngs: f64,
    /// Poisson's ratio, 0 to below 0.5.
    pub(crate) poisson: f64,
    /// Thickness, m, above 0.
    pub(crate) thickness: f64,
}

impl PlateLaw {
    /// Shear modulus, Pa.
    fn shear_modulus(&self) -> f64 {
        self.youngs / (2.0 * (1.0 + self.poisson))
    }

    /// `E / (1 - nu^2)`, Pa.
    fn plane_modulus(&self) -> f64 {
        self.youngs / (1.0 - self.poisson * self.poisson)
    }

    /// Bending stiffness `E t^3 / 12 / (1 - nu^2)`, N m.
    fn flexural(&self) -> f64 {
        self.plane_modulus() * self.thickness.powi(3) / 12.0
    }

    /// Product of the plane-stress law for `E / (1 - nu^2) = 1` with a strain (x, y, xy).
    fn plane_stress(&self, strain: [f64; 3]) -> [f64; 3] {
        let nu = self.poisson;
        [strain[0] + nu * strain[1], nu * strain[0] + strain[1], (1.0 - nu) / 2.0 * strain[2]]
    }
}

/// Stiffness of the membrane over u, v, rz of each corner in element axes, the corners taken into
/// the mean plane: N/m, N, N m.
pub(crate) fn membrane_stiffness(facet: &Facet, law: &PlateLaw) -> Block {
    if facet.corners == 4 {
        membrane_quad::stiffness(facet, law)
    } else {
        membrane_triangle::stiffness(facet, law)
    }
}

/// Stiffness in bending and transverse shear over w, rx, ry of each corner in element axes, the
/// corners taken into the mean plane: N/m, N, N m.
pub(crate) fn bending_stiffness(facet: &Facet, law: &PlateLaw) -> Block {
    if facet.corners == 4 {
        bending_quad::stiffness(facet, law)
    } else {
        bending_triangle::stiffness(facet, law)
    }
}

/// Stiffness over all movements of the corners in element axes: N/m, N, N m.
pub(crate) fn stiffness(facet: &Facet, law: &PlateLaw) -> Full {
    let mut full = [[0.0; 24]; 24];
    spread(&membrane_stiffness(facet, law), MEMBRANE, facet.corners, &mut full);
    spread(&bending_stiffness(facet, law), BENDING, facet.corners, &mut full);
    lift(facet, &mut full);
    full
}

/// Turns a matrix over the movements of the corners into other axes, corner by corner: the rows
/// of `axes[i]` are the old axes in the new axes of corner i.
pub(crate) fn turned(matrix: &Full, axes: &[[[f64; 3]; 3]; 4], corners: usize) -> Full {
    let mut out = [[0.0; 24]; 24];
    for i in 0..2 * corners {
        for j in 0..2 * corners {
            let (left, right) = (&axes[i / 2], &axes[j / 2]);
            let mut half = [[0.0; 3]; 3];
            for (p, row) in half.iter_mut().enumerate() {
                for (q, cell) in row.iter_mut().enumerate() {
                    for (k, line) in right.iter().enumerate() {
                        *cell += matrix[3 * i + p][3 * j + k] * line[q];
                    }
                }
            }
            for p in 0..3 {
                for q in 0..3 {
                    let mut sum = 0.0;
                    for k in 0..3 {
                        sum += left[k][p] * half[k][q];
                    }
                    out[3 * i + p][3 * j + q] = sum;
                }
            }
        }
    }
    out
}

/// Share of the stiffness in transverse shear that a softened element keeps.
fn shear_softening(facet: &Facet, law: &PlateLaw) -> f64 {
    let mut shortest = f64::INFINITY;
    for k in 0..facet.corners {
        let [x, y] = facet.side(k);
        shortest = smaller(shortest, sq(x) + sq(y));
    }
    let squared = sq(law.thickness);
    squared / (squared + SOFTENING * shortest)
}

/// Puts a block at its places among the six movements of each corner.
fn spread(block: &Block, places: [usize; 3], corners: usize, full: &mut Full) {
    for i in 0..3 * corners {
        let row = &mut full[6 * (i / 3) + places[i % 3]];
        for j in 0..3 * corners {
            row[6 * (j / 3) + places[j % 3]] = block[i][j];
        }
    }
}

/// From corners in the mean plane to the real ones: `T^T K T`, where T gives a corner in the mean
/// plane `u - d ry` and `v + d rx` of the corner at the height d.
fn lift(facet: &Facet, full: &mut Full) {
    if facet.is_flat() {
        return;
    }
    for row in full.iter_mut() {
        for (corner, d) in facet.heights.iter().enumerate() {
            let at = 6 * corner;
            row[at + 4] -= d * row[at];
            row[at + 3] += d * row[at + 1];
        }
    }
    for (corner, d) in facet.heights.iter().enumerate() {
        let at = 6 * corner;
        for (arm, force, side) in [(at + 4, full[at], -d), (at + 3, full[at + 1], *d)] {
            for (to, from) in full[arm].iter_mut().zip(force) {
                *to += side * from;
            }
        }
    }
}

/// Movements of the corners taken into the mean plane.
fn lowered(heights: &[f64; 4], movements: &Movements) -> Movements {
    let mut flat = *movements;
    for (corner, d) in heights.iter().enumerate() {
        let at = 6 * corner;
        flat[at] -= d * movements[at + 4];
        flat[at + 1] += d * movements[at + 3];
    }
    flat
}

/// Lower triangular factor of a positive definite matrix (Cholesky).
fn cholesky<const N: usize>(matrix: &[[f64; N]; N]) -> [[f64; N]; N] {
    let mut lower = [[0.0; N]; N];
    for i in 0..N {
        for j in 0..=i {
            let mut rest = matrix[i][j];
            for (a, b) in lower[i].iter().zip(&lower[j]).take(j) {
                rest -= a * b;
            }
            lower[i][j] = if i == j { rest.sqrt() } else { rest / lower[j][j] };
        }
    }
    lower
}

/// `L^-1 R`, row by row.
fn forward<const N: usize, const M: usize>(lower: &[[f64; N]; N], rows: &mut [[f64; M]; N]) {
    for i in 0..N {
        for k in 0..i {
            let (above, below) = rows.split_at_mut(i);
            for (to, from) in below[0].iter_mut().zip(&above[k]) {
                *to -= lower[i][k] * from;
            }
        }
        for value in &mut rows[i] {
            *value /= lower[i][i];
        }
    }
}

/// `L^-T R`, row by row.
fn backward<const N: usize, const M: usize>(lower: &[[f64; N]; N], rows: &mut [[f64; M]; N]) {
    for i in (0..N).rev() {
        for (k, row) in lower.iter().enumerate().skip(i + 1) {
            let (above, below) = rows.split_at_mut(k);
            for (to, from) in above[i].iter_mut().zip(&below[0]) {
                *to -= row[i] * from;
            }
        }
        for value in &mut rows[i] {
            *value /= lower[i][i];
        }
    }
}

/// Adds `factor r^T r` to the upper triangle.
fn add_square(row: &Row, factor: f64, block: &mut Block) {
    for i in 0..12 {
        let scaled = factor * row[i];
        for j in i..12 {
            block[i][j] += scaled * row[j];
        }
    }
}

/// Adds `factor B^T D B` to the upper triangle, D the plane-stress law for `E / (1 - nu^2) = 1`.
fn add_plane(rows: &[Row; 3], law: &PlateLaw, factor: f64, block: &mut Block) {
    for i in 0..12 {
        let force = law.plane_stress([rows[0][i], rows[1][i], rows[2][i]]);
        let force = force.map(|f| factor * f);
        for j in i..12 {
            block[i][j] += force[0] * rows[0][j] + force[1] * rows[1][j] + force[2] * rows[2][j];
        }
    }
}

/// Copies the upper triangle into the lower one.
fn mirror(block: &mut Block) {
    for i in 1..12 {
        let (above, below) = block.split_at_mut(i);
        for (to, row) in below[0].iter_mut().zip(above) {
            *to = row[i];
        }
    }
}
