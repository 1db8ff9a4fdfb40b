//! Natural frequencies against the roots of the classical equations.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::{
    FrequenciesAnswer, FrequenciesAsked, RotaryInertia, RunToEnd, SolveError, frequencies,
};

fn solve(f: &Frame, modes: usize, subdivide: usize) -> FrequenciesAnswer {
    let asked = FrequenciesAsked { modes, subdivide, rotary_inertia: RotaryInertia::Neglected };
    frequencies(&f.model(), asked, &RunToEnd).expect("it vibrates")
}

fn bar() -> Frame {
    let (width, depth): (f64, f64) = (20.0, 30.0);
    let i_y = width * depth.powi(3) / 12.0;
    let i_z = depth * width.powi(3) / 12.0;
    Frame::of(section_mm(width * depth, i_y, i_z, i_y), steel())
}

/// Roots 1.875104, 4.694091, 7.854757 (R. D. Blevins, Formulas for Natural Frequency and Mode
/// Shape, 1979, table 8-1, from memory); ten cubic pieces: 0.1 % (0.5 % for the third).
#[test]
fn cantilever() {
    let mut f = bar();
    let nodes = f.line([0.0, 0.0, 0.0], [1000.0, 0.0, 0.0], 1);
    f.support(nodes[0], CLAMPED);
    let about_z = 16.710331888881605;
    let about_y = [25.065497833322404, 157.08279355911677, 439.8363704673363];
    let answer = solve(&f, 7, 10);
    let mut in_plane = Vec::new();
    let mut sideways = Vec::new();
    for mode in &answer.modes {
        let tip = mode.shape.nodes[1];
        if tip[2].abs() > 0.9 {
            in_plane.push(mode.frequency);
        } else if tip[1].abs() > 0.9 {
            sideways.push(mode.frequency);
        }
    }
    close(sideways[0], about_z, 1e-3, "first, about z");
    close(in_plane[0], about_y[0], 1e-3, "first, about y");
    close(in_plane[1], about_y[1], 1e-3, "second, about y");
    close(in_plane[2], about_y[2], 5e-3, "third, about y");
    // The shape of the first mode of a cantilever, at midspan against the tip: 0.33952
    // (Blevins, table 8-1, from the mode function with beta L = 1.875104, sigma = 0.734096).
    let first = &answer.modes[0].shape;
    let middle = first.within_beams[0][4][1] / first.nodes[1][1];
    close(middle, 0.33952, 1e-3, "shape at midspan");
}

/// f_n = n^2 pi / 2 L^2 sqrt(EI/m), Blevins table 8-1, from memory.
#[test]
fn simply_supported_beam() {
    let mut f = bar();
    let nodes = f.line([0.0, 0.0, 0.0], [1000.0, 0.0, 0.0], 10);
    // In the plane x-z only.
    for (i, &node) in nodes.iter().enumerate() {
        let mut dofs = vec![1, 3, 5];
        match i {
            0 => dofs.extend([0, 2]),
            10 => dofs.push(2),
            _ => {}
        }
        f.support(node, fixed(&dofs));
    }
    let answer = solve(&f, 3, 1);
    for (mode, (expected, tolerance)) in answer.modes.iter().zip([
        (70.35991849852913, 1e-3),
        (281.4396739941165, 1e-3),
        (633.2392664867622, 5e-3),
    ]) {
        close(mode.frequency, expected, tolerance, "simply supported");
    }
}

/// A mass on a massless cantilever: f = sqrt(3EI / m L^3) / 2 pi; turning: sqrt(GJ / I L) / 2 pi
/// (elementary, derived).
#[test]
fn point_mass_on_a_massless_cantilever() {
    let material = Material { density: 0.0, ..steel() };
    let mut f = Frame::of(section_mm(600.0, 4e5, 1e5, 3e5), material);
    let nodes = f.line([0.0, 0.0, 0.0], [500.0, 0.0, 0.0], 1);
    f.support(nodes[0], CLAMPED);
    f.draft.masses.push(PointMass {
        node: nodes[1],
        mass: 12.0,
        inertia: [0.7, 0.0, 0.0, 0.0, 0.0, 0.0],
    });
    let answer = solve(&f, 9, 1);
    let two_pi = 2.0 * std::f64::consts::PI;
    let bend = |i: f64| (3.0 * 210e9 * i * MM4 / (12.0 * 0.125)).sqrt() / two_pi;
    let twist = (steel().shear_modulus * 3e5 * MM4 / (0.7 * 0.5)).sqrt() / two_pi;
    let stretch = (210e9 * 600.0 * MM2 / (12.0 * 0.5)).sqrt() / two_pi;
    let mut expected = [bend(1e5), bend(4e5), twist, stretch];
    expected.sort_by(f64::total_cmp);
    // Four movements of the mass have inertia, so the frame has four modes and no more.
    assert_eq!(answer.modes.len(), 4);
    for (mode, expected) in answer.modes.iter().zip(expected) {
        close(mode.frequency, expected, 1e-9, "one degree of freedom");
    }
}

/// Rotary inertia lowers a frequency; for a simply supported beam by 1/sqrt(1 + (n pi r / L)^2)
/// (Rayleigh; S. Timoshenko, Vibration Problems in Engineering, from memory).
#[test]
fn rotary_inertia_of_a_simply_supported_beam() {
    let mut f = bar();
    let nodes = f.line([0.0, 0.0, 0.0], [1000.0, 0.0, 0.0], 1);
    f.support(nodes[0], fixed(&[0, 1, 2, 3, 5]));
    f.support(nodes[1], fixed(&[1, 2, 5]));
    let asked = |rotary_inertia| FrequenciesAsked { modes: 1, subdivide: 24, rotary_inertia };
    let one = |rotary| {
        frequencies(&f.model(), asked(rotary), &RunToEnd).expect("it vibrates").modes[0].frequency
    };
    // The bar is wider about z than the restraint lets it move: the first mode is about y.
    let ratio = one(RotaryInertia::Included) / one(RotaryInertia::Neglected);
    let slenderness = std::f64::consts::PI * (30.0 / 12.0_f64.sqrt()) / 1000.0;
    let expected = 1.0 / (1.0 + slenderness * slenderness).sqrt();
    close(1.0 - ratio, 1.0 - expected, 1e-3, "lowering");
}

/// Many degrees of freedom take the Lanczos way; a grid of equal cantilevers has equal
/// frequencies in groups of its number.
#[test]
fn equal_cantilevers_by_lanczos() {
    let mut f = bar();
    for i in 0..9 {
        let y = 100.0 * f64::from(i);
        let nodes = f.line([0.0, y, 0.0], [1000.0, y, 0.0], 1);
        f.support(nodes[0], CLAMPED);
    }
    let answer = solve(&f, 18, 10);
    for (i, mode) in answer.modes.iter().enumerate() {
        let expected = if i < 9 { 16.710331888881605 } else { 25.065497833322404 };
        close(mode.frequency, expected, 1e-3, "one of nine");
    }
}

#[test]
fn what_has_no_mass_or_no_hold_does_not_vibrate() {
    let material = Material { density: 0.0, ..steel() };
    let mut f = Frame::of(section_mm(600.0, 4e5, 1e5, 3e5), material);
    let nodes = f.line([0.0, 0.0, 0.0], [500.0, 0.0, 0.0], 1);
    let asked =
        FrequenciesAsked { modes: 1, subdivide: 2, rotary_inertia: RotaryInertia::Neglected };
    let run = |f: &Frame| frequencies(&f.model(), asked, &RunToEnd);
    assert!(matches!(run(&f), Err(SolveError::Mechanism { .. })));
    f.support(nodes[0], CLAMPED);
    assert_eq!(run(&f), Err(SolveError::NoMass));
}
