//! Loads on plates as forces at nodes. They bring no moments to the corners of an element: a load
//! does work on the bilinear (linear) field of the movements of the corners.

use super::element::area_weights;
use super::model::{Acts, EdgeLoad, PlateLoads};
use super::shells::PlateModel;
use crate::model::{LoadCase, NodeId};
use crate::vector::{Vec3, largest, norm, scale, sub};

/// Visits the forces of the loads on elements in a case, and of the acceleration on their mass:
/// element, corner and force in global axes.
pub(crate) fn visit_shell_forces(
    model: &PlateModel,
    case: &LoadCase,
    loads: &PlateLoads,
    visit: &mut dyn FnMut(usize, usize, Vec3),
) {
    let mut spread = |index: usize, per_area: Vec3| {
        let facet = &model.shells[index].facet;
        for (corner, weight) in area_weights(facet).iter().enumerate().take(facet.corners) {
            visit(index, corner, scale(*weight, per_area));
        }
    };
    for load in &loads.faces {
        let first = model.first_shell[load.plate.0];
        let chosen: Vec<usize> = match load.elements.as_slice() {
            [] => (0..model.shells_of(load.plate.0).len()).collect(),
            some => some.to_vec(),
        };
        for index in chosen.into_iter().map(|e| first + e) {
            let per_area = match load.acts {
                Acts::Normal(pressure) => scale(pressure, model.shells[index].facet.axes[2]),
                Acts::Global(force) => force,
            };
            spread(index, per_area);
        }
    }
    if largest(&case.acceleration) > 0.0 {
        for (index, shell) in model.shells.iter().enumerate() {
            let plate = &model.plates[shell.plate];
            let density = model.frame.draft.materials[plate.material.0].density;
            if density > 0.0 {
                spread(index, scale(density * plate.thickness, case.acceleration));
            }
        }
    }
}

/// Forces of the loads on plates in a case: node and force in global axes.
pub(crate) fn plate_forces(
    model: &PlateModel,
    case: &LoadCase,
    loads: &PlateLoads,
) -> Vec<(usize, Vec3)> {
    let mut forces = Vec::new();
    visit_shell_forces(model, case, loads, &mut |shell, corner, force| {
        forces.push((model.shells[shell].nodes[corner], force));
    });
    for EdgeLoad { nodes: [a, b], from, to } in &loads.edges {
        let position = |node: &NodeId| model.frame.position(*node);
        let sixth = norm(sub(position(b), position(a))) / 6.0;
        forces.push((a.0, [0, 1, 2].map(|i| sixth * (2.0 * from[i] + to[i]))));
        forces.push((b.0, [0, 1, 2].map(|i| sixth * (from[i] + 2.0 * to[i]))));
    }
    forces
}
