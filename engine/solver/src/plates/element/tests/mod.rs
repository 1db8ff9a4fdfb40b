//! Tests of the elements on their own and in small assemblies.

mod assembly;
mod geometry;
mod motions;
mod patch;
mod recovery;
mod weights;

use super::{Beyond, Facet, PlateLaw};
use crate::vector::{Vec3, cross, dot, norm, scale};

/// A wall of steel, 6 mm.
const STEEL: PlateLaw = PlateLaw { youngs: 2.1e11, poisson: 0.3, thickness: 0.006 };

/// Shapes that cover what an element can be: square, rectangle, distorted, warped quadrilaterals
/// and triangles, m.
fn shapes() -> Vec<(&'static str, Facet)> {
    let quads = [
        ("square", [[0.0, 0.0, 0.0], [0.02, 0.0, 0.0], [0.02, 0.02, 0.0], [0.0, 0.02, 0.0]]),
        ("long rectangle", [[0.0, 0.0, 0.0], [0.1, 0.0, 0.0], [0.1, 0.02, 0.0], [0.0, 0.02, 0.0]]),
        (
            "distorted",
            [[0.0, 0.0, 0.0], [0.021, 0.002, 0.0], [0.017, 0.015, 0.0], [-0.001, 0.012, 0.0]],
        ),
        ("tilted", [[0.0, 0.0, 0.01], [0.02, 0.0, 0.02], [0.02, 0.02, 0.02], [0.0, 0.02, 0.01]]),
        (
            "warped",
            [
                [0.0, 0.0, 0.002],
                [0.021, 0.002, -0.001],
                [0.017, 0.015, 0.001],
                [-0.001, 0.012, 0.0],
            ],
        ),
        (
            "warped square",
            [[0.0, 0.0, 0.003], [0.02, 0.0, -0.003], [0.02, 0.02, 0.003], [0.0, 0.02, -0.003]],
        ),
    ];
    let triangles = [
        ("right triangle", [[0.0, 0.0, 0.0], [0.02, 0.0, 0.0], [0.0, 0.02, 0.0]]),
        ("equilateral", [[0.0, 0.0, 0.0], [0.02, 0.0, 0.0], [0.01, 0.02 * 0.75_f64.sqrt(), 0.0]]),
        ("triangle in space", [[0.0, 0.001, 0.0], [0.019, 0.004, 0.007], [0.003, 0.013, -0.004]]),
    ];
    let quads = quads.into_iter().map(|(name, p)| (name, Facet::quad(&p).unwrap()));
    let triangles = triangles.into_iter().map(|(name, p)| (name, Facet::triangle(&p).unwrap()));
    let beyond = [
        [Beyond::Alike; 4],
        [Beyond::Other; 4],
        [Beyond::Alike, Beyond::Other, Beyond::Alike, Beyond::Alike],
    ];
    quads.chain(triangles).flat_map(|(name, f)| beyond.map(|b| (name, f.beside(b)))).collect()
}

/// A vector turned about an axis by an angle (Rodrigues' formula).
fn rotated(v: Vec3, axis: Vec3, angle: f64) -> Vec3 {
    let k = scale(1.0 / norm(axis), axis);
    let (s, c) = angle.sin_cos();
    let (across, along) = (cross(k, v), dot(k, v));
    [0, 1, 2].map(|i| c * v[i] + s * across[i] + (1.0 - c) * along * k[i])
}
