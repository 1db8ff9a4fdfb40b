//! Loads on plates as forces at nodes. They bring no moments to the corners of an element: a load
//! does work on the bilinear (linear) field of the movements of the corners.

use super::element::area_weights;
use super::model::{Acts, EdgeLoad, PlateLoads};
use super::shells::PlateModel;
use crate::model::{LoadCase, NodeId};
use crate::vector::{Vec3, norm, scale, sub};

/// Forces of the loads on plates in a case, and of the acceleration on their mass: node and force
/// in global axes.
pub(crate) fn plate_forces(
    model: &PlateModel,
    case: &LoadCase,
    loads: &PlateLoads,
) -> Vec<(usize, Vec3)> {
    let mut forces = Vec::new();
    for load in &loads.faces {
        let shells = model.shells_of(load.plate.0);
        let chosen: Vec<usize> = match load.elements.as_slice() {
            [] => (0..shells.len()).collect(),
            some => some.to_vec(),
        };
        for shell in chosen.into_iter().map(|e| &shells[e]) {
            let per_area = match load.acts {
                Acts::Normal(pressure) => scale(pressure, shell.facet.axes[2]),
                Acts::Global(force) => force,
            };
            for (&node, weight) in shell.corners().iter().zip(area_weights(&shell.facet)) {
                forces.push((node, scale(weight, per_area)));
            }
        }
    }
    for EdgeLoad { nodes: [a, b], from, to } in &loads.edges {
        let position = |node: &NodeId| model.frame.position(*node);
        let sixth = norm(sub(position(b), position(a))) / 6.0;
        forces.push((a.0, [0, 1, 2].map(|i| sixth * (2.0 * from[i] + to[i]))));
        forces.push((b.0, [0, 1, 2].map(|i| sixth * (from[i] + 2.0 * to[i]))));
    }
    if crate::vector::largest(&case.acceleration) > 0.0 {
        for shell in &model.shells {
            let plate = &model.plates[shell.plate];
            let density = model.frame.draft.materials[plate.material.0].density;
            let per_area = scale(density * plate.thickness, case.acceleration);
            if density > 0.0 {
                for (&node, weight) in shell.corners().iter().zip(area_weights(&shell.facet)) {
                    forces.push((node, scale(weight, per_area)));
                }
            }
        }
    }
    forces
}
