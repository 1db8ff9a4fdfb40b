//! A small dense assembly.

use super::super::recovery::Recovered;
use super::super::{Beyond, Facet, Full, Movements, PlateLaw, Recovery, stiffness, turned};
use crate::vector::{Vec3, dot};
use nalgebra::{DMatrix, DVector};
use std::collections::BTreeMap;

/// Elements of one wall, of three or four corners each.
pub(super) struct Mesh {
    pub(super) points: Vec<Vec3>,
    pub(super) elements: Vec<Vec<usize>>,
    pub(super) law: PlateLaw,
}

impl Mesh {
    /// A strip of rectangles one element wide, along x from 0, its width along y from 0.
    pub(super) fn strip(count: usize, length: f64, width: f64, law: PlateLaw) -> Mesh {
        let mut points = Vec::new();
        for i in 0..=count {
            let x = length * i as f64;
            points.extend([[x, 0.0, 0.0], [x, width, 0.0]]);
        }
        let elements = (0..count).map(|i| vec![2 * i, 2 * i + 2, 2 * i + 3, 2 * i + 1]).collect();
        Mesh { points, elements, law }
    }

    pub(super) fn facet(&self, element: &[usize]) -> Facet {
        let count = element.len();
        let at = |i: usize| self.points[element[i]];
        let facet = if count == 4 {
            Facet::quad(&[at(0), at(1), at(2), at(3)]).unwrap()
        } else {
            Facet::triangle(&[at(0), at(1), at(2)]).unwrap()
        };
        facet.beside([0, 1, 2, 3].map(|k| {
            let (a, b) = (element[k % count], element[(k + 1) % count]);
            let other = |e: &Vec<usize>| e.len() != count && e.contains(&a) && e.contains(&b);
            if self.elements.iter().any(other) { Beyond::Other } else { Beyond::Alike }
        }))
    }

    /// Every quadrilateral cut into two triangles.
    pub(super) fn cut(&self) -> Mesh {
        let elements = self
            .elements
            .iter()
            .flat_map(|e| [vec![e[0], e[1], e[2]], vec![e[0], e[2], e[3]]])
            .collect();
        Mesh { points: self.points.clone(), elements, law: self.law }
    }

    /// Stiffness over six movements of each point, global axes.
    pub(super) fn stiffness(&self) -> DMatrix<f64> {
        let size = 6 * self.points.len();
        let mut global = DMatrix::zeros(size, size);
        for element in &self.elements {
            let facet = self.facet(element);
            let matrix = in_global_axes(&facet, &stiffness(&facet, &self.law));
            for (i, a) in element.iter().enumerate() {
                for (j, b) in element.iter().enumerate() {
                    for p in 0..6 {
                        for q in 0..6 {
                            global[(6 * a + p, 6 * b + q)] += matrix[6 * i + p][6 * j + q];
                        }
                    }
                }
            }
        }
        global
    }

    /// Movements under forces with some movements given.
    pub(super) fn solve(&self, forces: &[f64], given: &BTreeMap<usize, f64>) -> Vec<f64> {
        let stiffness = self.stiffness();
        let size = forces.len();
        let mut movements = DVector::zeros(size);
        for (&i, &value) in given {
            movements[i] = value;
        }
        let rest = DVector::from_column_slice(forces) - &stiffness * &movements;
        let free: Vec<usize> = (0..size).filter(|i| !given.contains_key(i)).collect();
        let inner = DMatrix::from_fn(free.len(), free.len(), |i, j| stiffness[(free[i], free[j])]);
        let right = DVector::from_fn(free.len(), |i, _| rest[free[i]]);
        let solved = inner.cholesky().unwrap().solve(&right);
        for (i, &place) in free.iter().enumerate() {
            movements[place] = solved[i];
        }
        movements.iter().copied().collect()
    }

    /// Forces per length in an element.
    pub(super) fn recovered(&self, element: &[usize], movements: &[f64]) -> (Facet, Recovered) {
        let facet = self.facet(element);
        let local = in_element_axes(&facet, element, movements);
        (facet, Recovery::new(&facet, &self.law).resultants(&local))
    }
}

/// A matrix in element axes in global ones.
pub(super) fn in_global_axes(facet: &Facet, matrix: &Full) -> Full {
    turned(matrix, &[facet.axes; 4], facet.corners)
}

/// Movements of an element's corners in its axes.
pub(super) fn in_element_axes(facet: &Facet, element: &[usize], movements: &[f64]) -> Movements {
    let mut local = [0.0; 24];
    for (i, point) in element.iter().enumerate() {
        for half in 0..2 {
            let at = 6 * point + 3 * half;
            let v = [movements[at], movements[at + 1], movements[at + 2]];
            for (k, axis) in facet.axes.iter().enumerate() {
                local[6 * i + 3 * half + k] = dot(*axis, v);
            }
        }
    }
    local
}
