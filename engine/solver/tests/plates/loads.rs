//! Loads, supports and what is told of a solved case, against statics by hand.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::plates::answer::PlateLine;
use fishplate_solver::plates::model::*;
use fishplate_solver::{RunToEnd, SolveError, plates};

/// A strip of irregular elements 0.4 m by 0.1 m, 5 mm thick, in a plane that is turned by an angle
/// about y, clamped at its start.
fn strip(angle: f64) -> (PlateDraft, Vec<NodeId>) {
    let mut draft = empty(Material { density: 7850.0, ..steel() });
    let (sine, cosine) = angle.sin_cos();
    let nodes = add_grid(&mut draft, "strip", (8, 4), 0.005, |s, r| {
        let x = 0.4 * (s + 0.05 * s * (1.0 - s) * (r - 0.5));
        [cosine * x, 0.1 * (r + 0.1 * s * r * (1.0 - r)), -sine * x]
    });
    let start: Vec<NodeId> = (0..5).map(|j| nodes[9 * j]).collect();
    clamp(&mut draft, &start);
    (draft, nodes)
}

fn held(case: &plates::answer::PlateCaseAnswer) -> [f64; 3] {
    let mut sum = [0.0; 3];
    for reaction in &case.reactions {
        for (sum, force) in sum.iter_mut().zip(reaction.force) {
            *sum += force;
        }
    }
    sum
}

/// Weight, pressure and forces along edges arrive at the supports: density 7850 kg/m3, area
/// 0.04 m2, whatever the elements.
#[test]
fn every_load_arrives_at_the_supports() {
    let angle = 0.6_f64;
    let (mut draft, nodes) = strip(angle);
    let weight = LoadCase { acceleration: [0.0, 2.0, -9.81], ..LoadCase::default() };
    draft.frame.load_cases.push(weight);
    press(&mut draft, 0, 500.0);
    draft.frame.load_cases.push(LoadCase { name: "wind".to_owned(), ..LoadCase::default() });
    draft.frame.load_cases.push(LoadCase { name: "edge".to_owned(), ..LoadCase::default() });
    draft.loads.resize(4, PlateLoads::default());
    let acts = Acts::Global([10.0, -20.0, 30.0]);
    draft.loads[2].faces.push(FaceLoad { plate: PlateId(0), elements: vec![], acts });
    // Along the end from 0 to 100 N/m across: 5 N, two thirds of the way along it.
    let end: Vec<NodeId> = (0..5).map(|j| nodes[9 * j + 8]).collect();
    for pair in end.windows(2) {
        let [from, to] =
            [0, 1].map(|k| [0.0, 0.0, 1000.0 * draft.frame.nodes[pair[k].0].position[1]]);
        draft.loads[3].edges.push(EdgeLoad { nodes: [pair[0], pair[1]], from, to });
    }
    let answer = solve(draft);
    let mass = 7850.0 * 0.04 * 0.005;
    let (sine, cosine) = angle.sin_cos();
    let expected = [
        [0.0, -2.0 * mass, 9.81 * mass],
        [-500.0 * 0.04 * sine, 0.0, -500.0 * 0.04 * cosine],
        [-0.4, 0.8, -1.2],
        [0.0, 0.0, -5.0],
    ];
    for (case, expected) in answer.cases.iter().zip(expected) {
        for (got, expected) in held(case).iter().zip(expected) {
            assert!((got - expected).abs() < 1e-9 * 20.0, "{}: {got}, {expected}", case.name);
        }
        assert!(case.quality.equilibrium.iter().all(|e| *e < 1e-9), "{:?}", case.quality);
    }
    // About x at the level of the clamp: 5 N at y = 0.1 * 2 / 3.
    let case = &answer.cases[3];
    let moment: f64 = case
        .reactions
        .iter()
        .enumerate()
        .map(|(j, r)| r.force[3] + 0.025 * j as f64 * r.force[2])
        .sum();
    close(moment, -5.0 * 0.1 * 2.0 / 3.0, 1e-9);
}

/// Supports in axes of their own hold as those in global axes do on a plate that lies in them.
#[test]
fn supports_may_be_turned_with_the_plate() {
    let solve_at = |angle: f64, upright: bool| {
        let (mut draft, nodes) = strip(angle);
        let (s, c) = angle.sin_cos();
        let axes = [[c, 0.0, -s], [0.0, 1.0, 0.0], [s, 0.0, c]];
        let mut dofs = [Restraint::Free; 6];
        dofs[2] = Restraint::Fixed;
        if upright {
            dofs[4] = Restraint::Fixed;
        }
        let end = nodes[9 * 2 + 8];
        draft.frame.supports.push(Support { node: end, axes, dofs });
        press(&mut draft, 0, 500.0);
        draft.frame.load_cases[0].prescribed.push(Prescribed {
            node: end,
            dof: Dof::Uz,
            value: 1e-4,
        });
        let answer = solve(draft);
        let last = answer.cases[0].reactions.last().copied().expect("there are supports");
        (last.local, answer.cases[0].displacements[end.0])
    };
    for upright in [false, true] {
        let (flat, moved) = solve_at(0.0, upright);
        close(moved[2], 1e-4, 1e-12);
        let (turned, moved) = solve_at(0.7, upright);
        close(0.7_f64.cos() * moved[2] + 0.7_f64.sin() * moved[0], 1e-4, 1e-9);
        for (a, b) in flat.iter().zip(turned) {
            assert!((a - b).abs() < 1e-8 * flat[2].abs(), "{flat:?} {turned:?}");
        }
    }
}

/// Through every row of nodes across a cantilever passes the load at its end: force, and moment as
/// force times arm.
#[test]
fn a_cut_passes_what_lies_beyond_it() {
    let (mut draft, nodes) = strip(0.0);
    let end = nodes[9 * 2 + 8];
    draft.frame.load_cases.push(nodal("tip", &[(end, [300.0, 20.0, 10.0])]));
    let position = |n: NodeId| draft.frame.nodes[n.0].position;
    let row = |i: usize| -> Vec<NodeId> { (0..5).map(|j| nodes[9 * j + i]).collect() };
    let mut expected = Vec::new();
    let mut lines = Vec::new();
    for i in [3, 6] {
        // Walking along +y the elements to the left, seen from the top, are those towards the
        // clamp: what they receive through the cut is the load.
        lines.push(PlateLine { plate: PlateId(0), nodes: row(i) });
        expected.push(1.0);
        lines.push(PlateLine { plate: PlateId(0), nodes: row(i).into_iter().rev().collect() });
        expected.push(-1.0);
    }
    let tip = position(end);
    let model = valid(draft.clone());
    let mut what = asked(&model);
    what.lines = lines;
    let answer = plates::statics(&model, &what, &RunToEnd).expect("it stands");
    for (line, sign) in answer.cases[0].lines.iter().zip(expected) {
        let arm = [0, 1, 2].map(|i| tip[i] - line.about[i]);
        let [f, g, h] = [300.0, 20.0, 10.0];
        let moment = [arm[1] * h - arm[2] * g, arm[2] * f - arm[0] * h, arm[0] * g - arm[1] * f];
        for (got, expected) in line.force.iter().zip([f, g, h].into_iter().chain(moment)) {
            assert!((got - sign * expected).abs() < 1e-7, "{:?}", line.force);
        }
        // Pulled: tension on both sides of the cut; lifted at the tip: the bottom is pulled, more
        // or less evenly across the narrow strip.
        let across: f64 = line.stations.iter().map(|s| s.normal * s.length).sum();
        let bent: f64 = line.stations.iter().map(|s| s.moment * s.length).sum();
        close(across, 300.0, 0.02);
        close(bent, -10.0 * arm[0], 0.05);
    }
}

/// A node that nothing holds is told as a mechanism; two plates that meet at a fold keep stresses of
/// their own there.
#[test]
fn folds_keep_stresses_apart_and_loose_nodes_are_found() {
    let mut draft = empty(steel());
    let foot = add_grid(&mut draft, "angle", (2, 2), 0.004, |x, y| [0.1 * x, 0.1 * y, 0.0]);
    let leaf = add_grid(&mut draft, "leaf", (2, 2), 0.004, |x, z| [0.1 * x, 0.1, 0.1 * z]);
    // One plate with a fold: the leaf begins at the last row of the foot.
    let shared =
        |n: NodeId| if n.0 < leaf[3].0 && n.0 >= leaf[0].0 { foot[6 + n.0 - leaf[0].0] } else { n };
    let mut elements = draft.plates.pop().expect("the leaf").elements;
    for element in &mut elements {
        if let Element::Quad(nodes) = element {
            *nodes = nodes.map(shared);
        }
    }
    draft.plates[0].elements.extend(elements);
    clamp(&mut draft, &foot[..3]);
    draft.frame.load_cases.push(nodal("a", &[(leaf[8], [10.0, 20.0, 30.0])]));
    let loose = valid(draft.clone());
    let refused = plates::statics(&loose, &asked(&loose), &RunToEnd).expect_err("loose nodes");
    let SolveError::Mechanism { modes, .. } = refused else { panic!("{refused}") };
    assert!(modes.iter().all(|m| leaf[..3].contains(&m.node) && m.plates.is_empty()), "{modes:?}");
    clamp(&mut draft, &leaf[..3]);
    let answer = solve(draft);
    let at =
        |node: NodeId| answer.cases[0].stresses[0].nodes.iter().filter(|n| n.node == node).count();
    assert_eq!([at(foot[0]), at(foot[4]), at(foot[7]), at(leaf[4])], [1, 1, 2, 1]);
}
