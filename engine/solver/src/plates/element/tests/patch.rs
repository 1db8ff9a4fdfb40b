//! Patch tests and exact solutions.
//!
//! The patch of five irregular quadrilaterals is that of MacNeal and Harder (Finite Elem. Anal.
//! Des. 1, 1985, 3-20), from memory: 0.24 by 0.12, t = 0.001, E = 1e6, nu = 0.25, movements given
//! at the four outer corners, inner corners free.

use super::super::{PlateLaw, in_turned_axes};
use super::assembly::Mesh;
use super::rotated;
use crate::vector::{Vec3, largest};
use std::collections::BTreeMap;

const LAW: PlateLaw = PlateLaw { youngs: 1e6, poisson: 0.25, thickness: 0.001 };

fn patch() -> Mesh {
    let plane = [
        [0.04, 0.02],
        [0.18, 0.03],
        [0.16, 0.08],
        [0.08, 0.08],
        [0.0, 0.0],
        [0.24, 0.0],
        [0.24, 0.12],
        [0.0, 0.12],
    ];
    let elements = [[0, 1, 2, 3], [4, 5, 1, 0], [5, 6, 2, 1], [6, 7, 3, 2], [7, 4, 0, 3]];
    Mesh {
        points: plane.iter().map(|p| [p[0], p[1], 0.0]).collect(),
        elements: elements.iter().map(|e| e.to_vec()).collect(),
        law: LAW,
    }
}

/// All quadrilaterals, all triangles, and both in one mesh.
fn meshes() -> [Mesh; 3] {
    let mut mixed = patch().cut();
    mixed.elements.drain(2..4);
    mixed.elements.push(vec![4, 5, 1, 0]);
    [patch(), patch().cut(), mixed]
}

/// Solves with the movements given at the outer corners and compares all inner ones.
fn solve(mesh: &Mesh, exact: impl Fn(Vec3) -> [f64; 6]) -> Vec<f64> {
    let mut given = BTreeMap::new();
    for outer in 4..8 {
        for (k, value) in exact(mesh.points[outer]).into_iter().enumerate() {
            given.insert(6 * outer + k, value);
        }
    }
    let movements = mesh.solve(&[0.0; 48], &given);
    for inner in 0..4 {
        for (k, value) in exact(mesh.points[inner]).into_iter().enumerate() {
            let off = (movements[6 * inner + k] - value).abs();
            assert!(
                off < 1e-9 * largest(&movements),
                "corner {inner}, {k}: off by {off} in {} elements",
                mesh.elements.len()
            );
        }
    }
    movements
}

/// sigma_x = sigma_y = 1333.3, tau_xy = 400 (published); the material does not turn.
#[test]
fn constant_membrane_stress_is_exact() {
    for mesh in meshes() {
        let movements = solve(&mesh, |[x, y, _]| {
            [1e-3 * (x + y / 2.0), 1e-3 * (y + x / 2.0), 0.0, 0.0, 0.0, 0.0]
        });
        for element in &mesh.elements {
            let (facet, forces) = mesh.recovered(element, &movements);
            let angle = facet.axes[0][1].atan2(facet.axes[0][0]);
            for at in forces.corners.iter().chain([&forces.centre]) {
                let stress = in_turned_axes(at.membrane, -angle).map(|n| n / LAW.thickness);
                for (got, published) in stress.iter().zip([4000.0 / 3.0, 4000.0 / 3.0, 400.0]) {
                    assert!((got / published - 1.0).abs() < 1e-9, "{got} {published}");
                }
            }
        }
    }
}

/// m_x = m_y = 1.111e-7, m_xy = 3.333e-8 in size (published). Here w curves towards the top, which
/// presses it: they are negative.
#[test]
fn constant_curvature_is_exact() {
    for mesh in meshes() {
        let movements = solve(&mesh, |[x, y, _]| {
            let w = 1e-3 * (x * x + x * y + y * y) / 2.0;
            [0.0, 0.0, w, 1e-3 * (y + x / 2.0), -1e-3 * (x + y / 2.0), 0.0]
        });
        for element in &mesh.elements {
            let (facet, forces) = mesh.recovered(element, &movements);
            let angle = facet.axes[0][1].atan2(facet.axes[0][0]);
            for at in forces.corners.iter().chain([&forces.centre]) {
                let moments = in_turned_axes(at.bending, -angle);
                for (got, published) in moments.iter().zip([-1e-6 / 9.0, -1e-6 / 9.0, -1e-7 / 3.0])
                {
                    assert!((got / published - 1.0).abs() < 1e-9, "{got} {published}");
                }
            }
        }
    }
}

/// The same patch lying obliquely in space, both states at once.
#[test]
fn patches_pass_in_any_place_in_space() {
    let (axis, angle) = ([0.2, 0.9, -0.4], 0.8);
    for mut mesh in meshes() {
        mesh.points = mesh.points.iter().map(|p| rotated(*p, axis, angle)).collect();
        solve(&mesh, |p| {
            let [x, y, _] = rotated(p, axis, -angle);
            let w = 1e-3 * (x * x + x * y + y * y) / 2.0;
            let moved = rotated([1e-3 * (x + y / 2.0), 1e-3 * (y + x / 2.0), w], axis, angle);
            let turned = rotated([1e-3 * (y + x / 2.0), -1e-3 * (x + y / 2.0), 0.0], axis, angle);
            crate::vector::six(moved, turned)
        });
    }
}

/// A strip one element deep bends in its own plane as a beam does: end rotation `M L / (E I)`
/// (Euler and Bernoulli), whatever the length of its elements. Exact without Poisson's effect: with
/// it the sides across the strip would have to bulge along themselves.
#[test]
fn bending_in_its_plane_is_exact_at_any_aspect_ratio() {
    for length in [0.5, 2.0, 8.0] {
        let law = PlateLaw { thickness: 0.1, poisson: 0.0, ..LAW };
        let mesh = Mesh::strip(6, length, 1.0, law);
        // Held without constraint: statics alone gives the forces.
        let mut given = BTreeMap::new();
        for node in 0..mesh.points.len() {
            for k in 2..5 {
                given.insert(6 * node + k, 0.0);
            }
        }
        for held in [0, 1, 6] {
            given.insert(held, 0.0);
        }
        let mut forces = vec![0.0; 6 * mesh.points.len()];
        let end = forces.len() - 12;
        forces[end] = 1.0;
        forces[end + 6] = -1.0;
        let movements = mesh.solve(&forces, &given);
        let inertia = law.thickness / 12.0;
        let rotation = 6.0 * length / (law.youngs * inertia);
        let turned = movements[end] - movements[end + 6];
        assert!((turned / rotation - 1.0).abs() < 1e-9, "{length}: {}", turned / rotation);
    }
}
