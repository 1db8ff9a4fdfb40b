//! Integrals over an element: weights of loads and masses, geometric stiffness.

use super::facet::{GAUSS_POINTS, TRIANGLE_POINTS};
use super::{Facet, Full, lift};
use crate::vector::{Vec3, dot};
use fishplate_quantity::algebra::sq;

/// `int N_i dA` of each corner, m2: the share of a pressure or of a force per area that each
/// corner receives as a force. Corners receive no moments from it.
pub(crate) fn area_weights(facet: &Facet) -> [f64; 4] {
    products(facet).map(|row| row[0] + row[1] + row[2] + row[3])
}

/// Moment, N m, about the normal that a force per length along a side (mean of it, N/m, global axes)
/// brings to the corner where the side ends, and the opposite to the corner where it begins: its
/// work on the arch of the side. Only what acts across the side in the plane of the element counts.
/// Without it a uniform pull would not make a uniform stress.
pub(crate) fn side_moment(facet: &Facet, side: usize, force: Vec3) -> f64 {
    let [x, y] = facet.side(side);
    let arch = facet.arch(side);
    let length = (sq(x) + sq(y)).sqrt();
    // A parabola is two thirds of its height in the mean.
    2.0 / 3.0 * length * (arch[0] * dot(facet.axes[0], force) + arch[1] * dot(facet.axes[1], force))
}

/// `int N_i N_j dA`, m2. Times density and thickness it is the consistent mass of each of u, v, w;
/// times density and `t^3 / 12` that of each rotation. The rotation about the normal has the same,
/// which makes the mass independent of axes and positive definite.
pub(crate) fn products(facet: &Facet) -> [[f64; 4]; 4] {
    let mut out = [[0.0; 4]; 4];
    if facet.corners == 3 {
        for (i, row) in out.iter_mut().enumerate().take(3) {
            for (j, value) in row.iter_mut().enumerate().take(3) {
                *value = facet.area / if i == j { 6.0 } else { 12.0 };
            }
        }
        return out;
    }
    for [xi, eta] in GAUSS_POINTS {
        let shape = facet.shape(xi, eta);
        let weight = facet.quad_point([xi, eta]).jacobian;
        for (row, a) in out.iter_mut().zip(&shape) {
            for (value, b) in row.iter_mut().zip(&shape) {
                *value += weight * a * b;
            }
        }
    }
    out
}

/// Geometric stiffness in element axes of membrane forces `[nx, ny, nxy]` at the corners, N/m,
/// positive in tension: `int grad N_i . n grad N_j dA` on each of u, v, w and `t^2 / 12` of it on
/// rx, ry. With the stiffness K a structure buckles where `(K + lambda K_g) u = 0`.
pub(crate) fn geometric_stiffness(facet: &Facet, thickness: f64, membrane: &[[f64; 3]; 4]) -> Full {
    let mut scalar = [[0.0; 4]; 4];
    let mut add = |shape: [f64; 4], gradients: &[[f64; 2]], weight: f64| {
        let mut n = [0.0; 3];
        for (share, at) in shape.iter().zip(membrane) {
            for (sum, value) in n.iter_mut().zip(at) {
                *sum += share * value;
            }
        }
        for (i, [x, y]) in gradients.iter().enumerate() {
            let pull = [weight * (n[0] * x + n[2] * y), weight * (n[2] * x + n[1] * y)];
            for (j, [a, b]) in gradients.iter().enumerate() {
                scalar[i][j] += pull[0] * a + pull[1] * b;
            }
        }
    };
    if facet.corners == 4 {
        for natural in GAUSS_POINTS {
            let at = facet.quad_point(natural);
            add(facet.shape(natural[0], natural[1]), &at.gradients, at.jacobian);
        }
    } else {
        let gradients = facet.triangle_gradients();
        for [a, b, c] in TRIANGLE_POINTS {
            add([a, b, c, 0.0], &gradients, facet.area / 3.0);
        }
    }
    let mut full = [[0.0; 24]; 24];
    for i in 0..facet.corners {
        for j in 0..facet.corners {
            for movement in 0..3 {
                full[6 * i + movement][6 * j + movement] = scalar[i][j];
            }
            for rotation in 3..5 {
                full[6 * i + rotation][6 * j + rotation] = sq(thickness) / 12.0 * scalar[i][j];
            }
        }
    }
    lift(facet, &mut full);
    full
}
