//! Loads on plates as forces and moments at nodes. A load on a face does work on the bilinear
//! (linear) field of the movements of the corners and brings no moments; one along an edge does
//! work on the edge, which arches in the plane of its element with the rotations of its ends.

use super::element::{area_weights, side_moment};
use super::model::{Acts, EdgeLoad, PlateLoads};
use super::shells::PlateModel;
use crate::model::{LoadCase, NodeId};
use crate::vector::{Vec3, add, largest, norm, scale, sub};
use std::collections::BTreeMap;

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

/// What the loads on plates in a case bring to nodes: node, force and moment in global axes.
pub(crate) fn plate_forces(
    model: &PlateModel,
    case: &LoadCase,
    loads: &PlateLoads,
) -> Vec<(usize, Vec3, Vec3)> {
    let mut forces = Vec::new();
    visit_shell_forces(model, case, loads, &mut |shell, corner, force| {
        forces.push((model.shells[shell].nodes[corner], force, [0.0; 3]));
    });
    let mut sides: BTreeMap<[usize; 2], Vec<(usize, usize)>> =
        loads.edges.iter().map(|load| (ends(load.nodes), Vec::new())).collect();
    if !sides.is_empty() {
        for (index, shell) in model.shells.iter().enumerate() {
            let corners = shell.corners();
            for (side, &node) in corners.iter().enumerate() {
                let next = corners[(side + 1) % corners.len()];
                if let Some(found) = sides.get_mut(&ends([NodeId(node), NodeId(next)])) {
                    found.push((index, side));
                }
            }
        }
    }
    for EdgeLoad { nodes: [a, b], from, to } in &loads.edges {
        let position = |node: &NodeId| model.frame.position(*node);
        let sixth = norm(sub(position(b), position(a))) / 6.0;
        // Elements that share the edge in one plane agree on the moment; those of a fold share it.
        let found = &sides[&ends([*a, *b])];
        let mean = scale(0.5 / found.len() as f64, add(*from, *to));
        let mut moment = [0.0; 3];
        for &(index, side) in found {
            let shell = &model.shells[index];
            let ahead = if shell.nodes[side] == a.0 { 1.0 } else { -1.0 };
            let size = ahead * side_moment(&shell.facet, side, mean);
            moment = add(moment, scale(size, shell.facet.axes[2]));
        }
        let at_a = [0, 1, 2].map(|i| sixth * (2.0 * from[i] + to[i]));
        let at_b = [0, 1, 2].map(|i| sixth * (from[i] + 2.0 * to[i]));
        forces.push((a.0, at_a, scale(-1.0, moment)));
        forces.push((b.0, at_b, moment));
    }
    forces
}

/// An edge whichever way it runs.
fn ends([a, b]: [NodeId; 2]) -> [usize; 2] {
    if a.0 < b.0 { [a.0, b.0] } else { [b.0, a.0] }
}
