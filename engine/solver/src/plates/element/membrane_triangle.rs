//! Membrane of a triangle with rotations about the normal.
//!
//! The optimal triangle of Felippa (Comput. Methods Appl. Mech. Eng. 192, 2003): mean strains from
//! the work of constant stress on sides that arch with their corner rotations, plus strains of
//! higher order from the corner rotations less the mean rotation, in directions of the sides, with
//! the parameters that make it exact in bending in its plane on rectangles. From memory of the
//! paper.
//!
//! Movements u, v, rz of each corner. Corners 1, 2, 3 of the paper are 0, 1, 2 here.

use super::{Block, Facet, PlateLaw, Row, add_plane, mirror};
use fishplate_quantity::algebra::{larger, sq};

/// The nine parameters of higher-order strains per corner rotation.
const BETA: [f64; 9] = [1.0, 2.0, 1.0, 0.0, 1.0, -1.0, -1.0, -1.0, -2.0];
/// Which of the nine stands where for strains at corner 1, 2, 3: rows are sides 1-2, 2-3, 3-1,
/// columns are corner rotations.
const PLACES: [[[usize; 3]; 3]; 3] = [
    [[0, 1, 2], [3, 4, 5], [6, 7, 8]],
    [[8, 6, 7], [2, 0, 1], [5, 3, 4]],
    [[4, 5, 3], [7, 8, 6], [1, 2, 0]],
];

/// Strains (x, y, xy) per movement of the corners.
#[derive(Debug)]
struct Strains {
    mean: [Row; 3],
    /// Of higher order, at the corners; linear between them, and without the factor
    /// `3/2 sqrt(beta_0)`.
    higher: [[Row; 3]; 3],
}

/// Stiffness over u, v, rz of each corner.
pub(super) fn stiffness(facet: &Facet, law: &PlateLaw) -> Block {
    let strains = strains(facet);
    let factor = law.plane_modulus() * law.thickness * facet.area;
    let mut block = [[0.0; 12]; 12];
    add_plane(&strains.mean, law, factor, &mut block);
    // Strains in the middles of the sides: the rule of second order.
    for (i, j) in [(0, 1), (1, 2), (2, 0)] {
        let mut rows = [[0.0; 12]; 3];
        for (k, row) in rows.iter_mut().enumerate() {
            for (c, value) in row.iter_mut().enumerate() {
                *value = 0.5 * (strains.higher[i][k][c] + strains.higher[j][k][c]);
            }
        }
        add_plane(&rows, law, 0.75 * higher_order_factor(law) * factor, &mut block);
    }
    mirror(&mut block);
    block
}

/// Rows that give nx, ny, nxy (N/m) at the corners and, last, at the centre.
pub(super) fn forces(facet: &Facet, law: &PlateLaw) -> [[Row; 3]; 5] {
    let strains = strains(facet);
    let factor = law.plane_modulus() * law.thickness;
    let scale = 1.5 * higher_order_factor(law).sqrt();
    let mut out = [[[0.0; 12]; 3]; 5];
    for (place, rows) in out.iter_mut().enumerate() {
        let shares = match place {
            0 => [1.0, 0.0, 0.0],
            1 => [0.0, 1.0, 0.0],
            2 => [0.0, 0.0, 1.0],
            3 => continue,
            _ => [1.0 / 3.0; 3],
        };
        for column in 0..9 {
            let strain = [0, 1, 2].map(|k| {
                let mut value = strains.mean[k][column];
                for (share, at) in shares.iter().zip(&strains.higher) {
                    value += scale * share * at[k][column];
                }
                value
            });
            for (row, force) in rows.iter_mut().zip(law.plane_stress(strain)) {
                row[column] = factor * force;
            }
        }
    }
    out
}

/// `beta_0` of the paper: exact in bending of rectangles cut in two. It stays positive at Poisson's
/// ratios near 0.5, as in the paper.
fn higher_order_factor(law: &PlateLaw) -> f64 {
    larger(0.5 * (1.0 - 4.0 * sq(law.poisson)), 0.01)
}

fn strains(facet: &Facet) -> Strains {
    let x = |i: usize, j: usize| facet.plane[i][0] - facet.plane[j][0];
    let y = |i: usize, j: usize| facet.plane[i][1] - facet.plane[j][1];
    let area = facet.area;
    let mut mean = [[0.0; 12]; 3];
    let mut rotation = [[0.0; 12]; 3];
    for (i, j, k) in [(0, 1, 2), (1, 2, 0), (2, 0, 1)] {
        let (y_jk, x_kj) = (y(j, k), x(k, j));
        for (row, [along_x, along_y]) in
            mean.iter_mut().zip([[y_jk, 0.0], [0.0, x_kj], [x_kj, y_jk]])
        {
            row[3 * i] = along_x / (2.0 * area);
            row[3 * i + 1] = along_y / (2.0 * area);
        }
        // The work of constant stress on the arch of the side from i to j.
        let ([along_x, along_y], arch) = (facet.side(i), facet.arch(i));
        let factor = 2.0 / (3.0 * area);
        let work = [arch[0] * along_y, -arch[1] * along_x, arch[1] * along_y - arch[0] * along_x];
        for (row, work) in mean.iter_mut().zip(work) {
            row[3 * j + 2] += factor * work;
            row[3 * i + 2] -= factor * work;
        }
        for (corner, row) in rotation.iter_mut().enumerate() {
            row[3 * i] = x(k, j) / (4.0 * area);
            row[3 * i + 1] = y(k, j) / (4.0 * area);
            row[3 * i + 2] = if corner == i { 1.0 } else { 0.0 };
        }
    }
    let squared = [0, 1, 2].map(|side| sq(facet.side(side)[0]) + sq(facet.side(side)[1]));
    let [l21, l32, l13] = squared;
    // Strains along e1, e2 from strains along the sides.
    let from_sides = [
        [y(1, 2) * y(0, 2) * l21, y(2, 0) * y(1, 0) * l32, y(0, 1) * y(2, 1) * l13],
        [x(1, 2) * x(0, 2) * l21, x(2, 0) * x(1, 0) * l32, x(0, 1) * x(2, 1) * l13],
        [
            (y(1, 2) * x(2, 0) + x(2, 1) * y(0, 2)) * l21,
            (y(2, 0) * x(0, 1) + x(0, 2) * y(1, 0)) * l32,
            (y(0, 1) * x(1, 2) + x(1, 0) * y(2, 1)) * l13,
        ],
    ]
    .map(|row| row.map(|value| value / (4.0 * sq(area))));
    let higher = PLACES.map(|places| {
        let mut rows = [[0.0; 12]; 3];
        for column in 0..9 {
            let mut along = [0.0; 3];
            for (side, value) in along.iter_mut().enumerate() {
                for (corner, turned) in rotation.iter().enumerate() {
                    *value += BETA[places[side][corner]] * turned[column];
                }
                *value *= 2.0 * area / (3.0 * squared[side]);
            }
            for (row, shares) in rows.iter_mut().zip(&from_sides) {
                row[column] = shares[0] * along[0] + shares[1] * along[1] + shares[2] * along[2];
            }
        }
        rows
    });
    Strains { mean, higher }
}
