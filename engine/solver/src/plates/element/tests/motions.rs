//! Rigid motions, zero modes, symmetry, coupling, and independence of axes and numbering.

use super::super::{
    BENDING, Facet, Full, MEMBRANE, bending_stiffness, membrane_stiffness, stiffness,
};
use super::assembly::{Mesh, in_global_axes};
use super::{STEEL, rotated, shapes};
use crate::vector::{Vec3, add, cross, dot};
use fishplate_quantity::algebra::smaller;
use nalgebra::{DMatrix, SymmetricEigen};

fn dense(matrix: &Full, corners: usize) -> DMatrix<f64> {
    DMatrix::from_fn(6 * corners, 6 * corners, |i, j| matrix[i][j])
}

/// Movements of the corners, in element axes, in the six rigid motions about the origin.
fn rigid_motions(facet: &Facet) -> DMatrix<f64> {
    let mut motions = DMatrix::zeros(6 * facet.corners, 6);
    for corner in 0..facet.corners {
        let [x, y] = facet.plane[corner];
        let arm = [x, y, facet.heights[corner]];
        for k in 0..3 {
            let mut axis = [0.0; 3];
            axis[k] = 1.0;
            let turning = cross(axis, arm);
            for c in 0..3 {
                motions[(6 * corner + c, k)] = axis[c];
                motions[(6 * corner + 3 + c, k)] = 0.0;
                motions[(6 * corner + c, 3 + k)] = turning[c];
                motions[(6 * corner + 3 + c, 3 + k)] = axis[c];
            }
        }
    }
    motions
}

/// A scale that makes translations and rotations alike: movements over the size of the element.
fn scaled(matrix: &DMatrix<f64>, facet: &Facet) -> DMatrix<f64> {
    let size = facet.area.sqrt();
    let factor = |i: usize| if i % 6 < 3 { size } else { 1.0 };
    DMatrix::from_fn(matrix.nrows(), matrix.ncols(), |i, j| matrix[(i, j)] * factor(i) * factor(j))
}

#[test]
fn rigid_motions_cause_no_force() {
    for (name, facet) in shapes() {
        let matrix = dense(&stiffness(&facet, &STEEL), facet.corners);
        let motions = rigid_motions(&facet);
        let forces = &matrix * &motions;
        // The terms that have to cancel: what each movement alone would cause.
        let terms = matrix.abs() * motions.abs();
        for (force, term) in forces.iter().zip(terms.iter()) {
            assert!(force.abs() <= 1e-12 * term, "{name}: {force} of {term}");
        }
    }
}

/// A square has no more zero modes than a distorted element: neither alternating corner rotations
/// nor hourglasses are free.
#[test]
fn nothing_but_rigid_motions_is_free_of_force() {
    for (name, facet) in shapes() {
        for thickness in [0.02, 0.006, 0.0002] {
            let law = super::PlateLaw { thickness, ..STEEL };
            let matrix = scaled(&dense(&stiffness(&facet, &law), facet.corners), &facet);
            // Bending is softer than the membrane by (t / size)^2, the alternating corner rotations
            // by a thousand.
            let ratio = smaller(thickness * thickness / facet.area, 1.0);
            let values = SymmetricEigen::new(matrix).eigenvalues;
            let largest = values.amax();
            let mut values: Vec<f64> = values.iter().map(|v| v / largest).collect();
            values.sort_by(f64::total_cmp);
            assert!(values[0] > -1e-13, "{name}: {values:?}");
            assert!(values[5] < 1e-13, "{name}: {values:?}");
            assert!(values[6] > 1e-5 * ratio, "{name}, t = {thickness}: {values:?}");
        }
    }
}

/// The same for the membrane and for bending alone: three each.
#[test]
fn each_half_has_three_rigid_motions() {
    for (name, facet) in shapes() {
        let n = 3 * facet.corners;
        for block in [membrane_stiffness(&facet, &STEEL), bending_stiffness(&facet, &STEEL)] {
            let size = facet.area.sqrt();
            let translation = |i: usize, j: usize| {
                let stretching = block == membrane_stiffness(&facet, &STEEL);
                let moves = |k: usize| if stretching { k % 3 < 2 } else { k % 3 < 1 };
                let factor = |k: usize| if moves(k) { size } else { 1.0 };
                factor(i) * factor(j)
            };
            let matrix = DMatrix::from_fn(n, n, |i, j| block[i][j] * translation(i, j));
            let values = SymmetricEigen::new(matrix).eigenvalues;
            let largest = values.amax();
            let free = values.iter().filter(|v| v.abs() < 1e-12 * largest).count();
            assert_eq!(free, 3, "{name}: {values:?}");
        }
    }
}

#[test]
fn matrices_are_exactly_symmetric() {
    for (name, facet) in shapes() {
        for block in [membrane_stiffness(&facet, &STEEL), bending_stiffness(&facet, &STEEL)] {
            for (i, row) in block.iter().enumerate() {
                for (j, value) in row.iter().enumerate() {
                    assert_eq!(value.to_bits(), block[j][i].to_bits(), "{name}");
                }
            }
        }
    }
}

/// In a flat element no stiffness joins membrane and bending, to the last bit; in a warped one it
/// does.
#[test]
fn only_warped_elements_couple_membrane_and_bending() {
    for (name, facet) in shapes() {
        let matrix = stiffness(&facet, &STEEL);
        let mut coupled = false;
        for i in 0..facet.corners {
            for j in 0..facet.corners {
                for a in MEMBRANE {
                    for b in BENDING {
                        coupled |= matrix[6 * i + a][6 * j + b].abs() > 0.0;
                        coupled |= matrix[6 * j + b][6 * i + a].abs() > 0.0;
                    }
                }
            }
        }
        assert_eq!(coupled, !facet.is_flat(), "{name}");
    }
}

/// Numbering the corners from another one, and turning and moving the element in space, changes
/// nothing but rounding.
#[test]
fn numbering_and_place_in_space_do_not_matter() {
    let (axis, angle, shift) = ([0.3, -0.5, 0.8], 1.1, [0.2, -0.7, 0.4]);
    for (name, facet) in shapes() {
        let n = facet.corners;
        let corner = |i: usize| -> Vec3 {
            let [x, y] = facet.plane[i];
            let parts = [x, y, facet.heights[i]];
            let mut point = facet.origin;
            for (part, axis) in parts.iter().zip(&facet.axes) {
                point = add(point, [0, 1, 2].map(|k| part * axis[k]));
            }
            point
        };
        let points: Vec<Vec3> = (0..n).map(corner).collect();
        let still = Mesh { points: points.clone(), elements: vec![(0..n).collect()], law: STEEL };
        let reference = still.stiffness();
        let largest = reference.amax();
        for start in 1..n {
            let element = (0..n).map(|i| (i + start) % n).collect();
            let mesh = Mesh { points: points.clone(), elements: vec![element], law: STEEL };
            let off = (mesh.stiffness() - &reference).amax();
            assert!(off < 1e-11 * largest, "{name} from corner {start}: {}", off / largest);
        }
        let moved: Vec<Vec3> =
            points.iter().map(|p| add(shift, rotated(*p, axis, angle))).collect();
        let mesh = Mesh { points: moved, elements: vec![(0..n).collect()], law: STEEL };
        let mut turn = DMatrix::zeros(6 * n, 6 * n);
        for k in 0..3 {
            let mut unit = [0.0; 3];
            unit[k] = 1.0;
            let image = rotated(unit, axis, angle);
            for block in 0..2 * n {
                for c in 0..3 {
                    turn[(3 * block + c, 3 * block + k)] = image[c];
                }
            }
        }
        let back = turn.transpose() * mesh.stiffness() * &turn;
        let off = (back - &reference).amax();
        assert!(off < 1e-11 * largest, "{name} turned: {}", off / largest);
    }
}

/// Turning the element axes in the plane turns components and nothing else.
#[test]
fn axes_in_the_plane_are_free_to_choose() {
    for (name, facet) in shapes() {
        let n = facet.corners;
        let turned = facet.turned_to([0.4, 0.9, 0.1]);
        let along = turned.axes.map(|e| dot(e, [0.4, 0.9, 0.1]));
        assert!(along[0] > 0.9 && along[1].abs() < 1e-15, "{name}: {along:?}");
        let own = in_global_axes(&facet, &stiffness(&facet, &STEEL));
        let other = in_global_axes(&turned, &stiffness(&turned, &STEEL));
        let (own, other) = (dense(&own, n), dense(&other, n));
        assert!((other - &own).amax() < 1e-11 * own.amax(), "{name}");
    }
}
