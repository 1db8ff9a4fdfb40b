//! Stress resultants from the movements of the corners.

use super::{
    BENDING, Facet, MEMBRANE, Movements, PlateLaw, Row, bending_quad, bending_triangle, lowered,
    membrane_quad, membrane_triangle,
};
use crate::plates::answer::Resultants;

/// Forces per length within an element, in element axes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Recovered {
    /// At the corners; a triangle repeats its last.
    pub(crate) corners: [Resultants; 4],
    /// At the centre.
    pub(crate) centre: Resultants,
}

/// What gives the resultants of one element; made once, used for every load case.
///
/// Membrane forces are the element's own linear field. Moments of a quadrilateral are nearly
/// constant along their own direction inside one element, so that at a clamped edge the corner
/// values converge slowly; nodal forces, or an extrapolation from centres, are better there.
#[derive(Clone, Debug)]
pub(crate) struct Recovery {
    corners: usize,
    heights: [f64; 4],
    membrane: [[Row; 3]; 5],
    bending: [[Row; 3]; 5],
}

impl Recovery {
    /// Of one element.
    pub(crate) fn new(facet: &Facet, law: &PlateLaw) -> Self {
        let (membrane, bending) = if facet.corners == 4 {
            (membrane_quad::forces(facet, law), bending_quad::moments(facet, law))
        } else {
            (membrane_triangle::forces(facet, law), bending_triangle::moments(facet, law))
        };
        Recovery { corners: facet.corners, heights: facet.heights, membrane, bending }
    }

    /// Resultants under these movements of the corners.
    pub(crate) fn resultants(&self, movements: &Movements) -> Recovered {
        let flat = lowered(&self.heights, movements);
        let mut stretching = [0.0; 12];
        let mut bending = [0.0; 12];
        for i in 0..12 {
            stretching[i] = flat[6 * (i / 3) + MEMBRANE[i % 3]];
            bending[i] = flat[6 * (i / 3) + BENDING[i % 3]];
        }
        let section = |place: usize| Resultants {
            membrane: self.membrane[place].map(|row| product(&row, &stretching)),
            bending: self.bending[place].map(|row| product(&row, &bending)),
        };
        let mut out = Recovered::default();
        for (corner, at) in out.corners.iter_mut().enumerate() {
            *at = section(corner.min(self.corners - 1));
        }
        out.centre = section(4);
        out
    }
}

fn product(row: &Row, movements: &[f64; 12]) -> f64 {
    let mut sum = 0.0;
    for (r, u) in row.iter().zip(movements) {
        sum += r * u;
    }
    sum
}

/// Components of a symmetric plane tensor `[xx, yy, xy]` (stress, membrane force, moment) in axes
/// that are turned from e1 towards e2 by an angle, rad.
pub(crate) fn in_turned_axes([x, y, xy]: [f64; 3], angle: f64) -> [f64; 3] {
    let (s, c) = angle.sin_cos();
    [
        c * c * x + s * s * y + 2.0 * c * s * xy,
        s * s * x + c * c * y - 2.0 * c * s * xy,
        c * s * (y - x) + (c * c - s * s) * xy,
    ]
}
