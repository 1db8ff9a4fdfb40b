//! Tubes of plates against beam theory, and beside beams.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::plates::model::*;

const HEIGHT: f64 = 0.08;
const WIDTH: f64 = 0.05;
const WALL: f64 = 0.003;

/// A rectangular tube along x, four plates that share the nodes of the corners, `n` elements along;
/// its corners are turned out of the global axes by `roll`. Rings of nodes come one after the other.
fn tube(draft: &mut PlateDraft, length: f64, n: usize, roll: f64) -> Vec<Vec<NodeId>> {
    // Corners of the section anticlockwise seen from +x, y and z from the middle.
    let (b, h) = (0.5 * WIDTH, 0.5 * HEIGHT);
    let corners = [[-b, -h], [b, -h], [b, h], [-b, h]];
    let across = [5, 8, 5, 8];
    let mut section = Vec::new();
    for side in 0..4 {
        let (from, to): ([f64; 2], [f64; 2]) = (corners[side], corners[(side + 1) % 4]);
        for k in 0..across[side] {
            let s = k as f64 / across[side] as f64;
            section.push([from[0] + s * (to[0] - from[0]), from[1] + s * (to[1] - from[1])]);
        }
    }
    let count = section.len();
    let (sine, cosine) = roll.sin_cos();
    let mut rings = Vec::new();
    for i in 0..=n {
        let mut ring = Vec::new();
        for [y, z] in &section {
            ring.push(NodeId(draft.frame.nodes.len()));
            let x = length * i as f64 / n as f64;
            let position = [x, cosine * y - sine * z, sine * y + cosine * z];
            draft.frame.nodes.push(Node { position });
        }
        rings.push(ring);
    }
    let mut start = 0;
    for (side, wide) in across.into_iter().enumerate() {
        let mut elements = Vec::new();
        for pair in rings.windows(2) {
            for k in start..start + wide {
                let next = (k + 1) % count;
                // Top outwards.
                elements.push(Element::Quad([
                    pair[0][k],
                    pair[1][k],
                    pair[1][next],
                    pair[0][next],
                ]));
            }
        }
        draft.plates.push(Plate {
            name: format!("side {side}"),
            material: MaterialId(0),
            thickness: WALL,
            elements,
        });
        start += wide;
    }
    rings
}

/// Moments of inertia about y and Bredt's torsion constant of the thin-walled tube, by hand.
fn section() -> (f64, f64) {
    let webs = 2.0 * WALL * HEIGHT.powi(3) / 12.0;
    let flanges = 2.0 * (WIDTH * WALL.powi(3) / 12.0 + WIDTH * WALL * (0.5 * HEIGHT).powi(2));
    let bredt = 4.0 * (WIDTH * HEIGHT).powi(2) * WALL / (2.0 * (WIDTH + HEIGHT));
    (webs + flanges, bredt)
}

/// `P L^3 / (3 E I) + P L / (G A_web)`; a solid-like shell model of another make gives 0.04 % more
/// (high-order elements). Fixed at one end, 4 kN at the webs of the other.
#[test]
fn a_tube_bends_as_a_beam() {
    let length = 0.5;
    let mut draft = empty(steel());
    let rings = tube(&mut draft, length, 50, 0.0);
    clamp(&mut draft, &rings[0]);
    let mut case = LoadCase::default();
    draft.loads.push(PlateLoads::default());
    let end = &rings[50];
    for k in 0..end.len() {
        let (a, c) = (end[k], end[(k + 1) % end.len()]);
        let [pa, pc] = [a, c].map(|n| draft.frame.nodes[n.0].position);
        if (pa[1] - pc[1]).abs() < 1e-9 {
            let force = [0.0, 0.0, -4000.0 / (2.0 * HEIGHT)];
            draft.loads[0].edges.push(EdgeLoad { nodes: [a, c], from: force, to: force });
        }
    }
    case.name = "tip".to_owned();
    draft.frame.load_cases.push(case);
    let at =
        nodes_where(&draft, |p| (p[0] - length).abs() < 1e-9 && p[2].abs() < 1e-9 && p[1] > 0.0);
    let answer = solve(draft);
    let shear = 210e9 / 2.6;
    let expected = 4000.0 * length.powi(3) / (3.0 * 210e9 * section().0)
        + 4000.0 * length / (shear * 2.0 * WALL * HEIGHT);
    close(-answer.cases[0].displacements[at[0].0][2], expected, 0.005);
    for part in answer.cases[0].quality.equilibrium {
        assert!(part < 1e-9, "{:?}", answer.cases[0].quality);
    }
}

/// R. Bredt: `T L / (G J)`, `J = 4 A^2 t / U`; restrained warping at the clamp takes 0.6 % off
/// (high-order elements of another make: 0.0066649 rad for 800 N m). The torque comes through a
/// rigid area at the end, whose node a beam of the same material carries on.
#[test]
fn a_tube_twists_as_bredt_says_and_a_beam_carries_on() {
    let length = 0.5;
    for roll in [0.0, 0.4] {
        let mut draft = empty(steel());
        let rings = tube(&mut draft, length, 50, roll);
        clamp(&mut draft, &rings[0]);
        let hub = NodeId(draft.frame.nodes.len());
        draft.frame.nodes.push(Node { position: [length, 0.0, 0.0] });
        let tip = NodeId(hub.0 + 1);
        draft.frame.nodes.push(Node { position: [2.0 * length, 0.0, 0.0] });
        draft.spreads.push(Spread {
            name: "end".to_owned(),
            node: hub,
            area: rings[50].clone(),
            kind: SpreadKind::Rigid,
        });
        let (inertia, torsion) = section();
        draft.frame.sections.push(BeamSection {
            area: 2.0 * WALL * (WIDTH + HEIGHT),
            i_y: inertia,
            i_z: inertia,
            i_yz: 0.0,
            torsion_constant: torsion,
            shear_area_y: None,
            shear_area_z: None,
            shear_centre_y: 0.0,
            shear_centre_z: 0.0,
            stress_points: vec![],
            torsion_modulus: None,
        });
        draft.frame.beams.push(Beam::between(
            hub,
            tip,
            SectionId(0),
            MaterialId(0),
            Orientation::Roll(0.0),
        ));
        draft.frame.load_cases.push(LoadCase {
            nodal: vec![NodalLoad { node: tip, force: [0.0; 3], moment: [800.0, 0.0, 0.0] }],
            ..LoadCase::default()
        });
        let answer = solve(draft);
        let case = &answer.cases[0];
        let expected = 800.0 * length / (210e9 / 2.6 * torsion);
        close(case.displacements[hub.0][3], expected, 0.02);
        close(case.displacements[tip.0][3] - case.displacements[hub.0][3], expected, 1e-9);
        close(case.spreads[0].force[3], 800.0, 1e-9);
        close(case.beams[0].end_forces[1][3], 800.0, 1e-9);
        // T / (2 A t) half way along, in the middle of a web.
        let webs = &case.stresses[1];
        let middle = webs.elements[25 * 8 + 4].centre;
        close(middle.membrane[2].abs(), 800.0 / (2.0 * WIDTH * HEIGHT), 0.02);
        for part in case.quality.equilibrium {
            assert!(part < 1e-9, "{:?}", case.quality);
        }
    }
}
