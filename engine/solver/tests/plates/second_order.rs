//! Equilibrium on the deformed structure.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::plates::model::*;
use fishplate_solver::{RunToEnd, SolveError, plates};

/// A strip 1 m long and 0.1 m wide without Poisson's effect, pinned at one end and on rollers at the
/// other, pressed from end to end and loaded across: a beam-column. Euler's load is
/// `pi^2 E I / L^2`.
fn column(share_of_euler: f64) -> PlateDraft {
    let mut draft = empty(isotropic(210e9, 0.0));
    let (length, width, thickness) = (1.0, 0.1, 0.01);
    add_grid(&mut draft, "column", (32, 2), thickness, |x, y| [x, width * y, 0.0]);
    let inertia = width * thickness * thickness * thickness / 12.0;
    let euler = std::f64::consts::PI.powi(2) * 210e9 * inertia / (length * length);
    let start = nodes_where(&draft, |p| p[0] < 1e-9);
    let end = nodes_where(&draft, |p| p[0] > 1.0 - 1e-9);
    hold(&mut draft, &start, &[Dof::Ux, Dof::Uz]);
    hold(&mut draft, &start[..1], &[Dof::Uy]);
    hold(&mut draft, &end, &[Dof::Uz]);
    press(&mut draft, 0, 100.0);
    let force = [-share_of_euler * euler / width, 0.0, 0.0];
    draft.loads[0].edges = end
        .windows(2)
        .map(|pair| EdgeLoad { nodes: [pair[0], pair[1]], from: force, to: force })
        .collect();
    draft
}

/// S. Timoshenko and J. M. Gere, Theory of Elastic Stability, 2nd ed. 1961, art. 1.3: deflection in
/// the middle of a beam-column under a uniform load, against that without compression:
/// `12 (2 sec u - 2 - u^2) / (5 u^4)` with `u = (pi / 2) sqrt(P / P_e)`.
#[test]
fn a_beam_column_deflects_more() {
    let middle = 16 + 33;
    for share in [0.2, 0.5, 0.8] {
        let model = valid(column(share));
        let mut what = asked(&model);
        let first = plates::statics(&model, &what, &RunToEnd).unwrap();
        what.second_order = true;
        let second = plates::statics(&model, &what, &RunToEnd).unwrap();
        let case = &second.cases[0];
        assert!(case.second_order);
        close(case.critical.unwrap(), 1.0 / share, 0.005);
        let u = 0.5 * std::f64::consts::PI * share.sqrt();
        let more = 12.0 * (2.0 / u.cos() - 2.0 - u * u) / (5.0 * u.powi(4));
        let ratio = case.displacements[middle][2] / first.cases[0].displacements[middle][2];
        // The critical load of the mesh is half a percent off; near it that counts the more.
        close(ratio, more, 0.005 / (1.0 - share));
        for part in case.quality.equilibrium {
            assert!(part < 1e-8, "{:?}", case.quality);
        }
    }
}

#[test]
fn far_below_the_critical_load_nothing_changes() {
    let model = valid(column(0.05));
    let mut what = asked(&model);
    let first = plates::statics(&model, &what, &RunToEnd).unwrap();
    what.second_order = true;
    let second = plates::statics(&model, &what, &RunToEnd).unwrap();
    assert!(!second.cases[0].second_order);
    close(second.cases[0].critical.unwrap(), 20.0, 0.005);
    assert_eq!(first.cases[0].displacements, second.cases[0].displacements);
}

#[test]
fn above_the_critical_load_there_is_no_answer() {
    let model = valid(column(1.1));
    let mut what = asked(&model);
    what.second_order = true;
    let refused = plates::statics(&model, &what, &RunToEnd).unwrap_err();
    let SolveError::Buckles { case: CaseId(0), critical } = refused else {
        panic!("{refused}");
    };
    close(critical, 1.0 / 1.1, 0.005);
}
