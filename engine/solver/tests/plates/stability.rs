//! Buckling and natural frequencies of plates.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::plates::model::*;
use fishplate_solver::{RunToEnd, plates};
use std::f64::consts::PI;

const WIDTH: f64 = 0.2;
const THICKNESS: f64 = 0.003;

/// A plate of length `ratio` times its width, held across along the edges named (y = 0, y = b,
/// x = 0, x = a), clamped or not.
fn strip(ratio: f64, (n, m): (usize, usize), edges: [bool; 4], clamped: bool) -> PlateDraft {
    let mut draft = empty(Material { density: 7850.0, ..steel() });
    let length = ratio * WIDTH;
    add_grid(&mut draft, "strip", (n, m), THICKNESS, |x, y| [x * length, y * WIDTH, 0.0]);
    let at = |i: usize, value: f64| nodes_where(&draft, move |p| (p[i] - value).abs() < 1e-9);
    let along = [at(1, 0.0), at(1, WIDTH), at(0, 0.0), at(0, length)];
    for (k, (nodes, held)) in along.iter().zip(edges).enumerate() {
        if held {
            let (tangent, normal) = if k < 2 { (Dof::Ry, Dof::Rx) } else { (Dof::Rx, Dof::Ry) };
            hold(&mut draft, nodes, &[Dof::Uz, tangent]);
            if clamped {
                hold(&mut draft, nodes, &[normal]);
            }
        }
    }
    // In its plane it is held at a corner and along x from there.
    let corner = nodes_where(&draft, |p| p[0] < 1e-9 && p[1] < 1e-9);
    hold(&mut draft, &corner, &[Dof::Ux, Dof::Uy]);
    let far = nodes_where(&draft, |p| p[0] > length - 1e-9 && p[1] < 1e-9);
    hold(&mut draft, &far, &[Dof::Uy]);
    draft
}

/// Membrane forces at the edges that make `[nx, ny, nxy]` everywhere, N/m.
fn stress(draft: &mut PlateDraft, [nx, ny, nxy]: [f64; 3]) {
    let mut edges = Vec::new();
    let at = |node: NodeId| draft.frame.nodes[node.0].position;
    let length = draft
        .frame
        .nodes
        .iter()
        .fold(0.0, |l: f64, n| if n.position[0] > l { n.position[0] } else { l });
    for element in &draft.plates[0].elements {
        let nodes = element.nodes();
        for c in 0..nodes.len() {
            let (a, b) = (nodes[c], nodes[(c + 1) % nodes.len()]);
            let both = |i: usize, value: f64| {
                (at(a)[i] - value).abs() < 1e-9 && (at(b)[i] - value).abs() < 1e-9
            };
            let force = if both(0, 0.0) {
                [-nx, -nxy, 0.0]
            } else if both(0, length) {
                [nx, nxy, 0.0]
            } else if both(1, 0.0) {
                [-nxy, -ny, 0.0]
            } else if both(1, WIDTH) {
                [nxy, ny, 0.0]
            } else {
                continue;
            };
            edges.push(EdgeLoad { nodes: [a, b], from: force, to: force });
        }
    }
    draft.frame.load_cases.push(LoadCase::default());
    draft.loads.push(PlateLoads { faces: vec![], edges });
}

fn flexural() -> f64 {
    210e9 * THICKNESS * THICKNESS * THICKNESS / (12.0 * (1.0 - 0.09))
}

/// Critical membrane force over `pi^2 D / b^2` when 1 N/m acts.
fn coefficient(mut draft: PlateDraft, forces: [f64; 3]) -> f64 {
    stress(&mut draft, forces);
    let model = valid(draft);
    let found = plates::buckling(&model, CaseId(0), 1, &RunToEnd).expect("it buckles");
    found.modes[0].load_factor * WIDTH * WIDTH / (PI * PI * flexural())
}

/// S. Timoshenko and J. M. Gere, Theory of Elastic Stability, 2nd ed., ch. 9 (4, 4.34, 9.34, 10.07,
/// about 0.67, 2), from memory; more digits by the method of Ritz.
#[test]
fn plates_buckle_at_the_coefficients_of_the_handbook() {
    let all = [true; 4];
    let square = || strip(1.0, (16, 16), all, false);
    close(coefficient(square(), [-1.0, 0.0, 0.0]), 4.0, 0.015);
    close(coefficient(strip(1.5, (24, 16), all, false), [-1.0, 0.0, 0.0]), 4.340_277_8, 0.015);
    close(coefficient(square(), [0.0, 0.0, 1.0]), 9.324_520_3, 0.02);
    close(coefficient(strip(1.0, (16, 16), all, true), [-1.0, 0.0, 0.0]), 10.073_948, 0.02);
    let flange = strip(2.0, (32, 16), [true, false, true, true], false);
    close(coefficient(flange, [-1.0, 0.0, 0.0]), 0.668_138_43, 0.02);
    close(coefficient(square(), [-1.0, -1.0, 0.0]), 2.0, 0.015);
}

/// A. W. Leissa, Vibration of Plates, NASA SP-160 (1969): `omega a^2 sqrt(rho t / D)` of a simply
/// supported square is 2 pi^2, then twice 5 pi^2; of a clamped one 35.99, then twice 73.4.
#[test]
fn square_plates_sound_as_the_handbook_says() {
    for (clamped, expected, tolerance) in [
        (false, [2.0 * PI * PI, 5.0 * PI * PI, 5.0 * PI * PI], [0.005, 0.015, 0.015]),
        (true, [35.985_191, 73.393_846, 73.393_846], [0.01, 0.02, 0.02]),
    ] {
        let mut draft = strip(1.0, (16, 16), [true; 4], clamped);
        // Movements in the plane are far above.
        let nodes = nodes_where(&draft, |_| true);
        hold(&mut draft, &nodes, &[Dof::Ux, Dof::Uy]);
        let found = plates::frequencies(&valid(draft), 3, &RunToEnd).unwrap();
        for ((mode, expected), tolerance) in found.modes.iter().zip(expected).zip(tolerance) {
            let omega = 2.0 * PI * mode.frequency;
            let got = omega * WIDTH * WIDTH * (7850.0 * THICKNESS / flexural()).sqrt();
            close(got, expected, tolerance);
        }
    }
}
