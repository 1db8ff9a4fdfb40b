//! Seams, spots and spreads in whole structures.

use crate::build::*;
use fishplate_solver::plates::model::*;

/// Turned out of the global axes, so that nothing lies along them.
fn turned([x, y, z]: [f64; 3]) -> [f64; 3] {
    let (s, c) = 0.7f64.sin_cos();
    let [x, y] = [c * x - s * y, s * x + c * y];
    let (s, c) = 0.4f64.sin_cos();
    [c * x + s * z, y, c * z - s * x]
}

/// A web 80 x 100 x 6 mm standing on a floor 160 x 120 x 8 mm that is clamped all round; their
/// meshes don't match.
fn tee() -> PlateDraft {
    let mut draft = empty(steel());
    let floor = |x: f64, y: f64| [0.16 * x - 0.08, 0.12 * y - 0.06, 0.0];
    add_grid(&mut draft, "floor", (15, 12), 8e-3, floor);
    let rim = nodes_where(&draft, |p| p[0].abs() > 0.0799 || p[1].abs() > 0.0599);
    add_grid(&mut draft, "web", (8, 10), 6e-3, |x, z| [0.08 * x - 0.04, 0.0, 4e-3 + 0.1 * z]);
    clamp(&mut draft, &rim);
    let face = 4e-3;
    draft.seams.push(Seam {
        name: "fillet".to_owned(),
        edge: PlateId(1),
        onto: PlateId(0),
        path: vec![turned([-0.04, -3e-3, face]), turned([0.04, -3e-3, face])],
        leg_on: turned([0.0, -1.0, 0.0]),
        leg_up: turned([0.0, 0.0, 1.0]),
    });
    let top = nodes_where(&draft, |p| p[2] > 0.1039);
    for (name, force) in
        [("along", [1e3, 0.0, 0.0]), ("across", [0.0, 1e3, 0.0]), ("pull", [0.0, 0.0, 1e3])]
    {
        let share = turned(force).map(|f| f / top.len() as f64);
        let loads: Vec<_> = top.iter().map(|&node| (node, share)).collect();
        draft.frame.load_cases.push(nodal(name, &loads));
    }
    for node in &mut draft.frame.nodes {
        node.position = turned(node.position);
    }
    draft
}

/// Equilibrium of the web: what goes through the seam is the load, its moment the load's.
#[test]
fn the_seam_of_a_tee_carries_the_load() {
    let draft = tee();
    let answer = solve(draft);
    for (case, (force, moment)) in answer.cases.iter().zip([
        // The load acts 100 mm over the seam and 3 mm beside it.
        ([1e3, 0.0, 0.0], [0.0, 100.0, -3.0]),
        ([0.0, 1e3, 0.0], [-100.0, 0.0, 0.0]),
        ([0.0, 0.0, 1e3], [3.0, 0.0, 0.0]),
    ]) {
        let seam = &case.seams[0];
        let (force, moment) = (turned(force), turned(moment));
        for i in 0..3 {
            let [f, m] = [seam.force[i] - force[i], seam.force[3 + i] - moment[i]];
            assert!(f.abs() < 1e-9 * 1e3, "{}: force {i} off by {f}", case.name);
            assert!(m.abs() < 1e-9 * 100.0, "{}: moment {i} off by {m}", case.name);
        }
        for balance in case.quality.equilibrium {
            assert!(balance.abs() < 1e-9, "{}: {balance}", case.name);
        }
    }
    // Along the run, across it on the floor, up the web.
    let sums: Vec<[f64; 3]> = answer
        .cases
        .iter()
        .map(|case| {
            [0, 1, 2]
                .map(|i| case.seams[0].stations.iter().map(|s| s.length * s.force[i]).sum::<f64>())
        })
        .collect();
    close(sums[0][2], 1e3, 1e-8);
    close(sums[1][0], -1e3, 1e-8);
    close(sums[2][1], 1e3, 1e-8);
}

/// A free-standing web that no seam holds is a mechanism, named with its plate.
#[test]
fn without_its_seam_the_web_is_free() {
    let mut draft = tee();
    draft.seams.clear();
    let model = valid(draft);
    let error =
        fishplate_solver::plates::statics(&model, &asked(&model), &fishplate_solver::RunToEnd)
            .unwrap_err();
    assert!(error.to_string().contains("`web`"), "{error}");
}
