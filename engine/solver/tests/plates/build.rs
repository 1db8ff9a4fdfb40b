//! Short words for structures of plates.

use fishplate_solver::model::*;
use fishplate_solver::plates::PlateModel;
use fishplate_solver::plates::answer::{PlateAnswer, PlateAsked};
use fishplate_solver::plates::model::*;
use fishplate_solver::{RunToEnd, plates};

/// Young's modulus 210 GPa, Poisson's ratio 0.3.
pub(crate) fn steel() -> Material {
    isotropic(210e9, 0.3)
}

/// Without mass or heat.
pub(crate) fn isotropic(youngs_modulus: f64, poisson: f64) -> Material {
    Material {
        youngs_modulus,
        shear_modulus: youngs_modulus / (2.0 * (1.0 + poisson)),
        density: 0.0,
        thermal_expansion: 0.0,
    }
}

/// A structure to which plates are added.
pub(crate) fn empty(material: Material) -> PlateDraft {
    PlateDraft {
        frame: FrameDraft { materials: vec![material], ..FrameDraft::default() },
        ..PlateDraft::default()
    }
}

/// Adds a plate of `n` by `m` quadrilaterals over the unit square, its corners put by `place`;
/// returns its nodes, row by row: node (i, j) is `i + j * (n + 1)`.
pub(crate) fn add_grid(
    draft: &mut PlateDraft,
    name: &str,
    (n, m): (usize, usize),
    thickness: f64,
    place: impl Fn(f64, f64) -> [f64; 3],
) -> Vec<NodeId> {
    let first = draft.frame.nodes.len();
    for j in 0..=m {
        for i in 0..=n {
            let position = place(i as f64 / n as f64, j as f64 / m as f64);
            draft.frame.nodes.push(Node { position });
        }
    }
    let at = |i: usize, j: usize| NodeId(first + i + j * (n + 1));
    let mut elements = Vec::new();
    for j in 0..m {
        for i in 0..n {
            elements.push(Element::Quad([at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)]));
        }
    }
    draft.plates.push(Plate {
        name: name.to_owned(),
        material: MaterialId(0),
        thickness,
        elements,
    });
    (first..draft.frame.nodes.len()).map(NodeId).collect()
}

/// Nodes whose position meets a condition.
pub(crate) fn nodes_where(draft: &PlateDraft, test: impl Fn([f64; 3]) -> bool) -> Vec<NodeId> {
    (0..draft.frame.nodes.len())
        .map(NodeId)
        .filter(|n| test(draft.frame.nodes[n.0].position))
        .collect()
}

/// Holds movements of nodes in global axes; adds to supports that are there already.
pub(crate) fn hold(draft: &mut PlateDraft, nodes: &[NodeId], dofs: &[Dof]) {
    for &node in nodes {
        let place = draft.frame.supports.iter().position(|s| s.node == node).unwrap_or_else(|| {
            let dofs = [Restraint::Free; 6];
            draft.frame.supports.push(Support { node, axes: GLOBAL_AXES, dofs });
            draft.frame.supports.len() - 1
        });
        for dof in dofs {
            draft.frame.supports[place].dofs[dof.index()] = Restraint::Fixed;
        }
    }
}

/// All six.
pub(crate) fn clamp(draft: &mut PlateDraft, nodes: &[NodeId]) {
    hold(draft, nodes, &Dof::ALL);
}

/// Forces at nodes as a load case.
pub(crate) fn nodal(name: &str, loads: &[(NodeId, [f64; 3])]) -> LoadCase {
    LoadCase {
        name: name.to_owned(),
        nodal: loads
            .iter()
            .map(|&(node, force)| NodalLoad { node, force, moment: [0.0; 3] })
            .collect(),
        ..LoadCase::default()
    }
}

/// A pressure on all of a plate as a further load case.
pub(crate) fn press(draft: &mut PlateDraft, plate: usize, pressure: f64) {
    draft.frame.load_cases.push(LoadCase { name: "pressure".to_owned(), ..LoadCase::default() });
    draft.loads.resize(draft.frame.load_cases.len(), PlateLoads::default());
    let case = draft.frame.load_cases.len() - 1;
    draft.loads[case].faces.push(FaceLoad {
        plate: PlateId(plate),
        elements: vec![],
        acts: Acts::Normal(pressure),
    });
}

pub(crate) fn valid(draft: PlateDraft) -> PlateModel {
    draft.validate().unwrap_or_else(|faults| panic!("{}", faults[0]))
}

/// Movements, reactions and stresses of all plates, on one thread.
pub(crate) fn asked(model: &PlateModel) -> PlateAsked {
    PlateAsked {
        stresses: (0..model.plates().len()).map(PlateId).collect(),
        lines: vec![],
        stations: vec![],
        second_order: false,
        threads: 1,
    }
}

pub(crate) fn solve(draft: PlateDraft) -> PlateAnswer {
    let model = valid(draft);
    plates::statics(&model, &asked(&model), &RunToEnd).unwrap_or_else(|error| panic!("{error}"))
}

/// Within a relative tolerance.
pub(crate) fn close(got: f64, expected: f64, tolerance: f64) {
    assert!(
        (got - expected).abs() <= tolerance * expected.abs(),
        "got {got}, expected {expected} within {tolerance}"
    );
}
