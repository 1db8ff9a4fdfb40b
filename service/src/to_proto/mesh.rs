//! Meshes of plates.

use fishplate_proto::v1;
use fishplate_solver::mesh::{Mark, Mesh, Quality};

use super::check::count;
use super::position;
use crate::from_proto::mesh::Plane;
use crate::units::{DEG, MM};

/// A mesh in its place, with nodes called `prefix` and a number.
pub(crate) fn mesh(mesh: Mesh, plane: &Plane, prefix: &str) -> v1::MeshPlateResponse {
    let Mesh { points, elements, marks, quality } = mesh;
    let name = |node: usize| format!("{prefix}{}", node + 1);
    let names = |nodes: &[usize]| nodes.iter().map(|&node| name(node)).collect();
    let nodes = points
        .iter()
        .enumerate()
        .map(|(node, &at)| v1::Node { id: name(node), position: Some(position(plane.place(at))) });
    let marked = |mark: Mark| {
        let Mark { name, kind: _, nodes, closed } = mark;
        v1::MeshMark { name, node_ids: names(&nodes), closed }
    };
    v1::MeshPlateResponse {
        nodes: nodes.collect(),
        elements: elements
            .iter()
            .map(|element| v1::PlateElement { node_ids: names(element.nodes()) })
            .collect(),
        marks: marks.into_iter().map(marked).collect(),
        quality: Some(measures(quality)),
    }
}

fn measures(quality: Quality) -> v1::MeshQuality {
    let Quality {
        elements: _,
        triangles,
        least_angle,
        largest_angle,
        worst_aspect,
        shortest_side,
        longest_side,
        worst_at: [x, y],
        worst_near,
    } = quality;
    v1::MeshQuality {
        triangles: count(triangles),
        least_angle_deg: least_angle / DEG,
        largest_angle_deg: largest_angle / DEG,
        worst_aspect,
        shortest_side_mm: shortest_side / MM,
        longest_side_mm: longest_side / MM,
        worst_at: Some(v1::PlanePoint { x_mm: x / MM, y_mm: y / MM }),
        worst_near,
    }
}
