//! Plates in bending against closed forms of thin-plate theory.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::plates::answer::PlateLine;
use fishplate_solver::plates::model::*;
use fishplate_solver::{RunToEnd, plates};

/// A square plate of side 1 m, pressed by 1 kPa; supported along its edges, also against twisting
/// (hard supports), or clamped there.
fn square(n: usize, thickness: f64, clamped: bool) -> PlateDraft {
    let mut draft = empty(steel());
    add_grid(&mut draft, "plate", (n, n), thickness, |x, y| [x, y, 0.0]);
    let at = |c: f64| !(1e-9..=1.0 - 1e-9).contains(&c);
    let along_x = nodes_where(&draft, |p| at(p[1]));
    let along_y = nodes_where(&draft, |p| at(p[0]));
    hold(&mut draft, &along_x, &[Dof::Uz, Dof::Ry]);
    hold(&mut draft, &along_y, &[Dof::Uz, Dof::Rx]);
    if clamped {
        hold(&mut draft, &along_x, &[Dof::Rx]);
        hold(&mut draft, &along_y, &[Dof::Ry]);
    }
    let corner = nodes_where(&draft, |p| p[0] < 1e-9 && p[1] < 1e-9);
    hold(&mut draft, &corner, &[Dof::Ux, Dof::Uy]);
    let next = nodes_where(&draft, |p| p[0] > 1.0 - 1e-9 && p[1] < 1e-9);
    hold(&mut draft, &next, &[Dof::Uy]);
    press(&mut draft, 0, 1000.0);
    draft
}

fn flexural(thickness: f64) -> f64 {
    210e9 * thickness * thickness * thickness / (12.0 * (1.0 - 0.09))
}

/// S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. 1959, table 8:
/// 0.00406 q a4 / D at the centre of a simply supported square plate.
#[test]
fn a_simply_supported_square_deflects_as_the_handbook_says() {
    let draft = square(32, 0.01, false);
    let answer = solve(draft);
    let w = answer.cases[0].displacements[16 + 16 * 33][2];
    close(w, 0.00406 * 1000.0 / flexural(0.01), 0.005);
}

/// 0.0012653 q a4 / D at the centre of a clamped square plate (R. L. Taylor and S. Govindjee, Commun.
/// Numer. Meth. Engng 20, 2004, from memory; the table 35 of the same handbook prints 0.00126).
/// Errors of a mesh fall with the square of its size, so two meshes give the limit (L. F. Richardson,
/// 1911); shear adds 0.1 % at this thickness.
#[test]
fn a_clamped_square_converges_to_what_the_handbook_says() {
    let [coarse, fine] = [16, 32].map(|n| {
        let answer = solve(square(n, 0.01, true));
        answer.cases[0].displacements[n / 2 + n / 2 * (n + 1)][2]
    });
    let expected = 0.001_265_3 * 1000.0 / flexural(0.01);
    close((4.0 * fine - coarse) / 3.0, expected, 0.003);
}

#[test]
fn loads_and_reactions_balance() {
    let answer = solve(square(16, 0.01, false));
    let case = &answer.cases[0];
    for part in case.quality.equilibrium {
        assert!(part < 1e-9, "{:?}", case.quality);
    }
    let lifted: f64 = case.reactions.iter().map(|r| r.force[2]).sum();
    close(lifted, -1000.0, 1e-9);
    assert!(case.quality.energy < 1e-9 && case.quality.residual < 1e-9, "{:?}", case.quality);
}

/// The same sources: 0.0513 q a2 at the middle of a clamped edge (table 35; 0.051338 by Ritz). From
/// the forces at the nodes of the edge, not from stresses within elements.
#[test]
fn the_moment_along_a_clamped_edge_comes_from_its_nodes() {
    let n = 32;
    let draft = square(n, 0.01, true);
    let edge = nodes_where(&draft, |p| p[1] < 1e-9);
    let model = valid(draft);
    let mut what = asked(&model);
    what.lines = vec![PlateLine { plate: PlateId(0), nodes: edge }];
    let answer = plates::statics(&model, &what, &RunToEnd).unwrap();
    let line = &answer.cases[0].lines[0];
    // Pressed from below (out of the top), the clamped edge is pulled at the bottom.
    let middle = line.stations[n / 2];
    close(middle.length, 1.0 / n as f64, 1e-12);
    close(middle.moment, -0.051_338 * 1000.0, 0.01);
    // The four edges carry the load; a corner node is counted by both of its edges.
    let corner = line.stations[0].transverse * line.stations[0].length;
    close(line.force[2] - corner, -250.0, 1e-6);
}
