//! A part of the stiffness: a member or a spring, as few deformations and what they resist.

use crate::beam::element::BeamElement;
use crate::frame::FrameModel;
use crate::linear::Double;
use crate::model::{NodeId, Spring, SpringAction};
use crate::vector::sub;
use nalgebra::DMatrix;

/// `forces = stiffness * deformation`, `deformation = modes * movements of the nodes`.
#[derive(Clone, Debug)]
pub(crate) struct Part {
    pub(crate) nodes: Vec<NodeId>,
    /// Deformations from the movements of the nodes, global axes: m x 6 nodes.
    pub(crate) modes: DMatrix<f64>,
    /// m x m, symmetric.
    pub(crate) stiffness: DMatrix<f64>,
}

/// State of a one-sided spring component or support component.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Phase {
    /// Carries nothing beyond its linear law.
    Open,
    /// Presses, or is reached in the positive direction.
    Closed,
    /// A stop reached in the negative direction.
    ClosedNegative,
}

impl Part {
    /// Position of column `c` of the modes among the movements of all nodes.
    pub(crate) fn movement(&self, column: usize) -> usize {
        6 * self.nodes[column / 6].0 + column % 6
    }

    /// Deformations in doubled precision.
    pub(crate) fn deformation(&self, movements: &[Double]) -> Vec<Double> {
        (0..self.modes.nrows())
            .map(|row| {
                let mut sum = Double::ZERO;
                for column in 0..self.modes.ncols() {
                    let c = self.modes[(row, column)];
                    if c.abs() > 0.0 {
                        sum = sum.plus_product(movements[self.movement(column)], c);
                    }
                }
                sum
            })
            .collect()
    }

    /// Adds the nodal forces that hold these deformations; returns twice their energy.
    pub(crate) fn add_forces(&self, deformation: &[Double], forces: &mut [Double]) -> Double {
        let mut energy = Double::ZERO;
        for row in 0..deformation.len() {
            let mut force = Double::ZERO;
            for (column, &d) in deformation.iter().enumerate() {
                let k = self.stiffness[(row, column)];
                if k.abs() > 0.0 {
                    force = force.plus_product(d, k);
                }
            }
            energy = energy.plus_product(force, deformation[row].to_f64());
            for column in 0..self.modes.ncols() {
                let c = self.modes[(row, column)];
                if c.abs() > 0.0 {
                    let movement = self.movement(column);
                    forces[movement] = forces[movement].plus_product(force, c);
                }
            }
        }
        energy
    }

    /// The part of a member between its releases.
    pub(crate) fn of_beam(model: &FrameModel, index: usize, element: &BeamElement) -> Self {
        let (modes, stiffness) = element.carrying();
        Part { nodes: ends(model, index), modes, stiffness }
    }

    /// The member as if nothing were released.
    pub(crate) fn of_unreleased_beam(
        model: &FrameModel,
        index: usize,
        element: &BeamElement,
    ) -> Self {
        let (modes, stiffness) = element.unreleased();
        Part { nodes: ends(model, index), modes, stiffness }
    }

    /// A spring whose components have these stiffnesses now.
    pub(crate) fn of_spring(model: &FrameModel, spring: &Spring, stiffness: [f64; 6]) -> Self {
        let nodes: Vec<NodeId> = std::iter::once(spring.a).chain(spring.b).collect();
        let mut modes = DMatrix::zeros(6, 6 * nodes.len());
        let arm = spring.b.map_or([0.0; 3], |b| sub(model.position(spring.a), model.position(b)));
        for (i, axis) in spring.axes.iter().enumerate() {
            for j in 0..3 {
                modes[(i, j)] = axis[j];
                modes[(3 + i, 3 + j)] = axis[j];
            }
            if spring.b.is_some() {
                // b is carried to a rigidly: u_b + rotation_b cross arm.
                let moment = crate::vector::cross(arm, *axis);
                for j in 0..3 {
                    modes[(i, 6 + j)] = -axis[j];
                    modes[(i, 9 + j)] = -moment[j];
                    modes[(3 + i, 9 + j)] = -axis[j];
                }
            }
        }
        let stiffness = DMatrix::from_fn(6, 6, |i, j| if i == j { stiffness[i] } else { 0.0 });
        Part { nodes, modes, stiffness }
    }
}

fn ends(model: &FrameModel, index: usize) -> Vec<NodeId> {
    let beam = &model.draft.beams[index];
    vec![beam.start, beam.end]
}

/// Stiffness of a spring component in a phase, and its force at zero movement.
pub(crate) fn spring_law(spring: &Spring, i: usize, phase: Phase) -> (f64, f64) {
    let (k, preset) = (spring.stiffness[i], spring.preset[i]);
    match (spring.behaviour[i], phase) {
        (SpringAction::Linear, _) => (k, -k * preset),
        (SpringAction::CompressionOnly { .. } | SpringAction::TensionOnly { .. }, Phase::Open) => {
            (0.0, 0.0)
        }
        (SpringAction::CompressionOnly { gap }, _) => (k, k * (gap - preset)),
        (SpringAction::TensionOnly { gap }, _) => (k, -k * (gap + preset)),
        (SpringAction::Stops { .. }, Phase::Open) => (k, -k * preset),
        (SpringAction::Stops { gap_positive, stiffness, .. }, Phase::Closed) => {
            (k + stiffness, -k * preset - stiffness * (preset + gap_positive))
        }
        (SpringAction::Stops { gap_negative, stiffness, .. }, Phase::ClosedNegative) => {
            (k + stiffness, -k * preset - stiffness * (preset - gap_negative))
        }
    }
}

/// Largest stiffness that a spring component can have.
pub(crate) fn full_stiffness(spring: &Spring, i: usize) -> f64 {
    match spring.behaviour[i] {
        SpringAction::Stops { stiffness, .. } => spring.stiffness[i] + stiffness,
        _ => spring.stiffness[i],
    }
}
