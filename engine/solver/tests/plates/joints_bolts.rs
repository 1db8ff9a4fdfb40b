//! Bolted feet.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::plates::model::*;
use fishplate_solver::{RunToEnd, plates};

/// A foot 120 x 120 x 6 mm with four tightened bolts on a clamped plate of 8 mm.
fn foot(loads: &[[f64; 3]]) -> PlateDraft {
    let mut draft = empty(steel());
    let grid = |z: f64| move |x: f64, y: f64| [0.12 * x - 0.06, 0.12 * y - 0.06, z];
    let below = add_grid(&mut draft, "base", (10, 10), 8e-3, grid(0.0));
    clamp(&mut draft, &below);
    let foot = add_grid(&mut draft, "foot", (12, 12), 6e-3, grid(7e-3));
    for (x, y) in [(0.04, 0.04), (0.04, -0.04), (-0.04, 0.04), (-0.04, -0.04)] {
        draft.bolts.push(Bolt {
            name: format!("bolt {}", draft.bolts.len() + 1),
            head: [x, y, 10e-3],
            nut: [x, y, -4e-3],
            through: vec![PlateId(1), PlateId(0)],
            material: MaterialId(0),
            diameter: 10e-3,
            tensile_area: 58e-6,
            head_bearing: 20e-3,
            nut_bearing: 20e-3,
            hole: 11e-3,
            preload: 12e3,
            bearing: Bearing::Clearance(5e-4),
        });
    }
    draft.contacts.push(Contact {
        name: "faces".to_owned(),
        of: PlateId(1),
        onto: Onto::Plate(PlateId(0)),
        within: None,
        gap: 0.0,
        stiffness: None,
        bridged: 0.0,
        friction: Some(0.2),
        spacing: 0.0,
    });
    let middle = foot[6 + 6 * 13];
    for (i, &force) in loads.iter().enumerate() {
        draft.frame.load_cases.push(nodal(&format!("case {i}"), &[(middle, force)]));
    }
    draft
}

/// The cut between foot and base: bolts and contact carry the load.
#[test]
fn bolts_and_faces_balance_the_load() {
    let loads = [[0.0, 0.0, 9e3], [2e3, -1e3, 4e3], [3e3, 3e3, 30e3], [0.0, 0.0, -5e3]];
    let answer = solve(foot(&loads));
    for (case, load) in answer.cases.iter().zip(loads) {
        let mut sum = [0.0; 3];
        for bolt in &case.bolts {
            assert!(bolt.tension >= 0.0);
            let [x, y, _] = bolt.shear[0];
            for (s, f) in sum.iter_mut().zip([-x, -y, bolt.tension]) {
                *s += f;
            }
        }
        for (s, f) in sum.iter_mut().zip(case.contacts[0].force) {
            *s += f;
        }
        for i in 0..3 {
            assert!((sum[i] - load[i]).abs() < 1e-8 * 48e3, "{}: {sum:?} {load:?}", case.name);
        }
        for place in &case.contacts[0].places {
            assert!(place.pressing >= 0.0 && place.opening >= 0.0);
            assert!(place.pressing.abs() <= 0.0 || place.opening.abs() <= 0.0);
        }
        assert!(case.search.friction_rest < 1e-6);
        for balance in case.quality.equilibrium {
            assert!(balance.abs() < 1e-8, "{}: {balance}", case.name);
        }
    }
    // Pulled apart by 30 kN, the bolts carry more than 12 kN each only by prying or opening.
    let tension: f64 = answer.cases[2].bolts.iter().map(|b| b.tension).sum();
    assert!(tension > 48e3);
    // Symmetry of the first case: a quarter each.
    let first: Vec<f64> = answer.cases[0].bolts.iter().map(|b| b.tension).collect();
    for bolt in &first {
        close(*bolt, first[0], 1e-6);
    }
}

#[test]
fn the_number_of_threads_changes_no_bit() {
    let model = valid(foot(&[[500.0, 0.0, 9e3], [0.0, 700.0, -3e3], [1e3, 1e3, 11e3]]));
    let one = plates::statics(&model, &asked(&model), &RunToEnd).unwrap();
    let mut more = asked(&model);
    more.threads = 3;
    assert_eq!(one, plates::statics(&model, &more, &RunToEnd).unwrap());
}

/// Nothing but the bolts' preload: they have it, and the faces press as much.
#[test]
fn a_tightened_joint_keeps_its_preload() {
    let answer = solve(foot(&[[0.0; 3]]));
    let case = &answer.cases[0];
    for bolt in &case.bolts {
        close(bolt.tension, 12e3, 1e-8);
    }
    close(case.contacts[0].force[2], -48e3, 1e-8);
}

/// Joints that miss their plates are told at the door, by name.
#[test]
fn a_bolt_beside_its_plate_is_told() {
    let mut draft = foot(&[[0.0; 3]]);
    draft.bolts[2].head[0] = 0.1;
    draft.bolts[2].nut[0] = 0.1;
    let faults = draft.validate().unwrap_err();
    assert!(faults[0].path.starts_with("bolts[2]"), "{}", faults[0]);
    assert!(faults[0].given.contains("`bolt 3`") && faults[0].given.contains("`foot`"));
}
