//! Laws that hold for every structure, whatever the elements are good for.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::plates::model::*;
use fishplate_solver::{RunToEnd, SolveError, plates};

/// An angle of two distorted walls and a warped third one, clamped at an edge, with two load cases.
fn bracket(turn: impl Fn([f64; 3]) -> [f64; 3], order: impl Fn(usize) -> usize) -> PlateDraft {
    let mut draft = empty(steel());
    let skew = |s: f64, r: f64| 0.08 * (s + 0.1 * s * (1.0 - s) * (r - 0.3));
    add_grid(&mut draft, "foot", (4, 3), 0.004, |s, r| {
        turn([skew(s, r), 0.06 * r + 0.004 * (s - 0.5) * r * (1.0 - r), 0.0])
    });
    add_grid(&mut draft, "leaf", (4, 3), 0.005, |s, r| {
        turn([skew(s, 0.0), 0.01 * r * r * s, 0.05 * r + 0.002 * s * r * (1.0 - r)])
    });
    // The leaf stands on the edge y = 0 of the foot: both share its nodes.
    let first = 5 * 4;
    for element in &mut draft.plates[1].elements {
        if let Element::Quad(nodes) = element {
            for node in nodes {
                if node.0 < first + 5 {
                    node.0 -= first;
                }
            }
        }
    }
    let held = [4, 9, 14, 19].map(NodeId);
    clamp(&mut draft, &held);
    // Nodes that no element uses any more are tied to the ground.
    let unused: Vec<NodeId> = (first..first + 5).map(NodeId).collect();
    clamp(&mut draft, &unused);
    let count = draft.frame.nodes.len();
    let tip = NodeId(count - 5);
    let corner = NodeId(15);
    let unit = |v: [f64; 3]| {
        let (a, b) = (turn(v), turn([0.0; 3]));
        [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
    };
    draft.frame.load_cases.push(nodal("a", &[(tip, unit([100.0, 200.0, -50.0]))]));
    draft.frame.load_cases.push(nodal("b", &[(corner, unit([-30.0, 80.0, 120.0]))]));
    // Renumbering.
    let place = |n: NodeId| NodeId(order(n.0));
    let mut nodes = draft.frame.nodes.clone();
    for (old, node) in draft.frame.nodes.iter().enumerate() {
        nodes[order(old)] = *node;
    }
    draft.frame.nodes = nodes;
    for element in draft.plates.iter_mut().flat_map(|p| &mut p.elements) {
        if let Element::Quad(nodes) = element {
            *nodes = nodes.map(place);
        }
    }
    for support in &mut draft.frame.supports {
        support.node = place(support.node);
    }
    for load in draft.frame.load_cases.iter_mut().flat_map(|c| &mut c.nodal) {
        load.node = place(load.node);
    }
    draft
}

fn turned([x, y, z]: [f64; 3]) -> [f64; 3] {
    // About x by 0.7, then about z by -1.1, and away from the origin.
    let (s, c) = 0.7_f64.sin_cos();
    let [x, y, z] = [x, c * y - s * z, s * y + c * z];
    let (s, c) = (-1.1_f64).sin_cos();
    [c * x - s * y + 0.3, s * x + c * y - 0.2, z + 0.1]
}

#[test]
fn neither_axes_nor_numbers_of_nodes_matter() {
    let plain = solve(bracket(|p| p, |n| n));
    let count = plain.cases[0].displacements.len();
    let order = |n: usize| (7 * n + 3) % count;
    assert_ne!(count % 7, 0);
    let other = solve(bracket(turned, order));
    let turn = |v: [f64; 3]| {
        let (a, b) = (turned(v), turned([0.0; 3]));
        [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
    };
    for (one, two) in plain.cases.iter().zip(&other.cases) {
        for kind in [0..3, 3..6] {
            let all = one.displacements.iter().flat_map(|d| d[kind.clone()].to_vec());
            let largest = all.fold(0.0, |top: f64, u| if u.abs() > top { u.abs() } else { top });
            for (node, moved) in one.displacements.iter().enumerate() {
                let v = [moved[kind.start], moved[kind.start + 1], moved[kind.start + 2]];
                let expected = turn(v);
                let got = &two.displacements[order(node)][kind.clone()];
                for (e, g) in expected.iter().zip(got) {
                    assert!((e - g).abs() < 1e-9 * largest, "node {node}: {e} and {g}");
                }
            }
        }
        for (a, b) in one.stresses.iter().zip(&two.stresses) {
            for (a, b) in a.elements.iter().zip(&b.elements) {
                let (x, y) = (a.centre.worst(0.005).0, b.centre.worst(0.005).0);
                close(y, x, 1e-7);
            }
        }
    }
}

/// E. Betti: the work of one load on the movements of another is that of the other on those of the
/// first.
#[test]
fn movements_are_reciprocal() {
    let draft = bracket(turned, |n| n);
    let loads: Vec<NodalLoad> = draft.frame.load_cases.iter().map(|c| c.nodal[0]).collect();
    let answer = solve(draft);
    let work = |load: NodalLoad, case: usize| -> f64 {
        let moved = answer.cases[case].displacements[load.node.0];
        (0..3).map(|i| load.force[i] * moved[i]).sum()
    };
    close(work(loads[0], 1), work(loads[1], 0), 1e-9);
}

/// A clamp that moves as a rigid body takes all with it and strains nothing.
#[test]
fn rigid_movements_are_without_force() {
    let mut draft = bracket(turned, |n| n);
    let (shift, angle) = ([1e-3, -2e-3, 0.5e-3], [2e-3, 1e-3, -3e-3]);
    let field = |p: [f64; 3]| {
        [
            shift[0] + angle[1] * p[2] - angle[2] * p[1],
            shift[1] + angle[2] * p[0] - angle[0] * p[2],
            shift[2] + angle[0] * p[1] - angle[1] * p[0],
            angle[0],
            angle[1],
            angle[2],
        ]
    };
    let mut case = LoadCase::default();
    for support in &draft.frame.supports {
        let position = draft.frame.nodes[support.node.0].position;
        for (dof, value) in Dof::ALL.into_iter().zip(field(position)) {
            case.prescribed.push(Prescribed { node: support.node, dof, value });
        }
    }
    draft.frame.load_cases = vec![case];
    let positions: Vec<[f64; 3]> = draft.frame.nodes.iter().map(|n| n.position).collect();
    let answer = solve(draft);
    for (moved, position) in answer.cases[0].displacements.iter().zip(positions) {
        for (got, expected) in moved.iter().zip(field(position)) {
            assert!((got - expected).abs() < 1e-11, "{got} and {expected}");
        }
    }
    // Against a force that would bend it by as much: E t^2 is the size of forces here.
    for reaction in &answer.cases[0].reactions {
        assert!(
            reaction.force.iter().all(|f| f.abs() < 1e-9 * 210e9 * 16e-6 * 1e-3),
            "{reaction:?}"
        );
    }
}

#[test]
fn a_structure_that_floats_has_six_free_motions_that_are_named() {
    let mut draft = bracket(turned, |n| n);
    draft.frame.supports.retain(|s| (20..25).contains(&s.node.0));
    let model = valid(draft);
    let refused = plates::statics(&model, &asked(&model), &RunToEnd).unwrap_err();
    let SolveError::Mechanism { modes, case: None } = refused else { panic!("{refused}") };
    assert_eq!(modes.len(), 6);
    for mode in &modes {
        assert!(!mode.plates.is_empty(), "{mode:?}");
    }
}

/// Two plates that meet at a corner only, one of them held: the other turns about that node.
#[test]
fn a_plate_held_at_a_corner_is_found_with_its_name() {
    let mut draft = empty(steel());
    let held = add_grid(&mut draft, "held", (3, 3), 0.004, |x, y| [x, y, 0.0]);
    let first = add_grid(&mut draft, "loose", (3, 3), 0.004, |x, y| [1.0 + x, 1.0 + y, 0.0]);
    clamp(&mut draft, &held[..4]);
    // No moment passes a hinge: a link of translations.
    draft.frame.rigid_links.push(RigidLink {
        master: held[15],
        slave: first[0],
        dofs: [true, true, true, false, false, false],
    });
    draft.frame.load_cases.push(nodal("pull", &[(first[15], [0.0, 0.0, 1.0])]));
    let model = valid(draft);
    let refused = plates::statics(&model, &asked(&model), &RunToEnd).unwrap_err();
    let text = refused.to_string();
    let SolveError::Mechanism { modes, .. } = refused else { panic!("{text}") };
    assert_eq!(modes.len(), 3, "{text}");
    for mode in &modes {
        assert_eq!(mode.plates, ["loose"], "{text}");
    }
    assert!(text.contains("of plate `loose`"), "{text}");
}

/// The number of threads changes no bit.
#[test]
fn threads_change_nothing() {
    let model = valid(bracket(turned, |n| n));
    let mut what = asked(&model);
    let one = plates::statics(&model, &what, &RunToEnd).unwrap();
    what.threads = 4;
    assert_eq!(one, plates::statics(&model, &what, &RunToEnd).unwrap());
}

/// The exported system is the one that is solved, in either axes: forces times movements of the
/// supports' reactions aside, `K u = f` for the movements of the answer.
#[test]
fn the_exported_system_gives_the_same_work() {
    let draft = bracket(turned, |n| n);
    let loads = draft.frame.load_cases[0].nodal.clone();
    let model = valid(draft);
    let answer = plates::statics(&model, &asked(&model), &RunToEnd).unwrap();
    let moved = answer.cases[0].displacements[loads[0].node.0];
    let work: f64 = (0..3).map(|i| loads[0].force[i] * moved[i]).sum();
    let mut entries = Vec::new();
    for axes in [plates::ExportAxes::OfPlates, plates::ExportAxes::Global] {
        let system = plates::export(&model, axes).unwrap();
        let size = system.column_starts.len() - 1;
        assert_eq!(size, answer.size.unknowns);
        entries.push(system.values.len());
        let mut full = nalgebra::DMatrix::<f64>::zeros(size, size);
        for column in 0..size {
            for place in system.column_starts[column]..system.column_starts[column + 1] {
                full[(system.rows[place], column)] = system.values[place];
                full[(column, system.rows[place])] = system.values[place];
            }
        }
        let force = nalgebra::DVector::from_vec(system.right_hand_sides[0].clone());
        let solved = full.cholesky().unwrap().solve(&force);
        close(force.dot(&solved), work, 1e-9);
    }
    assert_eq!(entries[0], answer.size.entries);
    assert!(entries[0] < entries[1]);
}
