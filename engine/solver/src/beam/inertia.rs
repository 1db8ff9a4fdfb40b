//! Consistent mass and geometric stiffness of a member: both integrate squares of the elastic
//! line, cubic with the shear flexibility in it (J. S. Przemieniecki, Theory of Matrix Structural
//! Analysis, 1968, ch. 11 and 15).

use super::element::{BeamElement, Ends};
use super::loads::{Within, integrate};
use super::recovery::Solved;
use crate::model::{BeamSection, Material};
use nalgebra::SMatrix;

/// Whether bending rotations carry inertia. Torsional inertia always does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RotaryInertia {
    /// The classical thin beam.
    Neglected,
    /// The thick beam.
    Included,
}

/// Matrix over the movements of both nodes, global axes.
pub(crate) type Square = SMatrix<f64, 12, 12>;

/// Points and weights on -1..1, exact for polynomials up to degree 7
/// (Abramowitz & Stegun, Handbook of Mathematical Functions, table 25.4).
const GAUSS_4: [(f64, f64); 4] = [
    (-0.861_136_311_594_052_6, 0.347_854_845_137_453_86),
    (-0.339_981_043_584_856_26, 0.652_145_154_862_546_1),
    (0.339_981_043_584_856_26, 0.652_145_154_862_546_1),
    (0.861_136_311_594_052_6, 0.347_854_845_137_453_86),
];

/// Elastic lines of the twelve unit movements of the ends.
struct Lines<'a> {
    solved: Vec<Solved<'a>>,
}

impl<'a> Lines<'a> {
    fn new(element: &'a BeamElement, section: &'a BeamSection, nothing: &'a Within) -> Self {
        let solved = (0..12)
            .map(|column| {
                let mut ends = Ends::zeros();
                ends[column] = 1.0;
                let forces = element.stiffness * (element.modes * ends);
                Solved { element, section, within: nothing, forces, ends }
            })
            .collect();
        Lines { solved }
    }

    /// Movements (6) of the section at x per unit movement of the ends.
    fn movement(&self, x: f64) -> SMatrix<f64, 6, 12> {
        let mut m = SMatrix::zeros();
        for (column, line) in self.solved.iter().enumerate() {
            for (row, value) in line.movement(x).into_iter().enumerate() {
                m[(row, column)] = value;
            }
        }
        m
    }

    /// Slopes v', w' of the centroid and twist rate per unit movement of the ends.
    fn slopes(&self, x: f64) -> SMatrix<f64, 3, 12> {
        let mut m = SMatrix::zeros();
        for (column, line) in self.solved.iter().enumerate() {
            let r = &line.element.rigidity;
            let [y_s, z_s] = line.element.shear_centre;
            let length = line.element.line.length;
            let moved = line.movement(x);
            let twist = line.forces[1] / r.torsion;
            let shear_y = -2.0 / length * line.forces[5] * r.shearing_y;
            let shear_z = 2.0 / length * line.forces[4] * r.shearing_z;
            m[(0, column)] = moved[5] + shear_y + z_s * twist;
            m[(1, column)] = -moved[4] + shear_z - y_s * twist;
            m[(2, column)] = twist;
        }
        m
    }
}

/// Consistent mass, kg and kg m2.
pub(crate) fn mass(
    element: &BeamElement,
    section: &BeamSection,
    material: &Material,
    rotary: RotaryInertia,
) -> Square {
    let nothing = Within::default();
    let lines = Lines::new(element, section, &nothing);
    let (area, density) = (section.area, material.density);
    let mut weight = SMatrix::<f64, 6, 6>::zeros();
    for i in 0..3 {
        weight[(i, i)] = density * area;
    }
    weight[(3, 3)] = density * (section.i_y + section.i_z);
    if rotary == RotaryInertia::Included {
        weight[(4, 4)] = density * section.i_y;
        weight[(5, 5)] = density * section.i_z;
        weight[(4, 5)] = -density * section.i_yz;
        weight[(5, 4)] = -density * section.i_yz;
    }
    let half = 0.5 * element.line.length;
    let mut sum = Square::zeros();
    for (point, share) in GAUSS_4 {
        let shape = lines.movement(half * (1.0 + point));
        sum += shape.transpose() * weight * shape * (half * share);
    }
    to_nodes(element, &sum)
}

/// Geometric stiffness of the axial force N(x), N/m and N m: an axial force that stays upright
/// does work on the slopes of the centroid line and, spread over the section, on the twist.
/// Moments and shears of the case are not part of it, so lateral-torsional buckling is not found.
pub(crate) fn geometric(
    element: &BeamElement,
    section: &BeamSection,
    pieces: &[(f64, f64)],
    axial: impl Fn(f64) -> f64,
) -> Square {
    let nothing = Within::default();
    let lines = Lines::new(element, section, &nothing);
    let polar = (section.i_y + section.i_z) / section.area;
    let mut sum = Square::zeros();
    for &(a, b) in pieces {
        integrate(a, b, |x, share| {
            let n = axial(x);
            let slopes = lines.slopes(x);
            let mut weight = SMatrix::<f64, 3, 3>::zeros();
            weight[(0, 0)] = n;
            weight[(1, 1)] = n;
            weight[(2, 2)] = n * polar;
            sum += slopes.transpose() * weight * slopes * share;
        });
    }
    to_nodes(element, &sum)
}

fn to_nodes(element: &BeamElement, at_ends: &Square) -> Square {
    let map = element.ends_without_load();
    let full = map.transpose() * at_ends * map;
    (full + full.transpose()) * 0.5
}
