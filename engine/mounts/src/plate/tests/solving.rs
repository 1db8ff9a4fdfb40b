//! Groups solved: equilibrium, symmetry, the same bits whatever the threads, and refusals that name
//! what is at fault.

use fishplate_quantity::Length;
use fishplate_quantity::written::Written;

use super::support::{bare_front, beside, bolted_front, held};
use crate::RunToEnd;
use crate::describe::Project;
use crate::design::Vec3;
use crate::pipeline::{self, Depth, Found};
use crate::plate::result::{CaseForces, Plates, Solved};
use crate::plate::{agree, solve};

fn found(project: &Project) -> Found {
    pipeline::find(project, false, Depth::Frame, &RunToEnd).expect("a design with forces")
}

fn solved(project: &Project) -> (Found, Plates) {
    let found = found(project);
    let plates = solve(found.setting(project), 2, &RunToEnd).expect("nobody stops it");
    (found, plates)
}

fn of(plates: &Plates, mount: usize) -> &Solved {
    plates.of_mount(mount).expect("a group").outcome.as_ref().expect("solved")
}

fn every_case(solved: &Solved) -> impl Iterator<Item = &CaseForces> {
    let both = [&solved.fine, &solved.coarse].into_iter();
    both.flat_map(|mesh| mesh.factored.iter().flatten().chain(&mesh.service))
}

// Mechanics: what acts on the bracket goes through its welds, force and moment.
#[test]
fn welds_carry_the_whole_load_of_a_bracket() {
    let (found, plates) = solved(&bare_front());
    let solved = of(&plates, 0);
    assert!(solved.size.largest_imbalance < 1e-8, "{}", solved.size.largest_imbalance);
    let load = found.forces.cases[0].service[0].force;
    for mesh in [&solved.fine, &solved.coarse] {
        let runs: Vec3 = mesh.service[0].runs.iter().map(|r| r.whole.force).sum();
        assert!((runs - load).norm() < 1e-8 * load.norm(), "{runs} {load}");
        // Stations add up to their run.
        for (run, of) in mesh.service[0].runs.iter().zip(&solved.contents.runs) {
            let at = &found.design.welds[of.weld.0].runs[of.run];
            let along = (at.end - at.start).normalize();
            let sum: Vec3 = run
                .stations
                .iter()
                .map(|s| {
                    (at.leg_on * s.force[0] + at.leg_up * s.force[1] + along * s.force[2])
                        * s.length
                })
                .sum();
            assert!((sum - run.whole.force).norm() < 1e-9 * load.norm());
        }
    }
}

// Mechanics: a bump loads both sides alike, and the car is its own mirror image.
#[test]
fn left_and_right_are_mirror_images() {
    let (_, plates) = solved(&bare_front());
    let (left, right) = (of(&plates, 0), of(&plates, 1));
    assert_eq!(left.size.elements, right.size.elements);
    let signs = [1.0, -1.0, 1.0, -1.0, 1.0, -1.0];
    let (a, b) = (&left.hardpoints[0].flexibility, &right.hardpoints[0].flexibility);
    for i in 0..6 {
        for j in 0..6 {
            let mirrored = signs[i] * signs[j] * b[i][j];
            let size = (a[i][i] * a[j][j]).sqrt();
            assert!((a[i][j] - mirrored).abs() < 1e-7 * size, "{i} {j}: {} {mirrored}", a[i][j]);
        }
    }
    for (a, b) in left.fine.service[0].walls.iter().zip(&right.fine.service[0].walls) {
        assert!((a.membrane - b.membrane).abs() < 1e-6 * a.membrane);
    }
}

// Maxwell and Betti: flexibility is symmetric and its diagonal positive.
#[test]
fn flexibility_is_symmetric() {
    let (_, plates) = solved(&bare_front());
    let c = &of(&plates, 0).hardpoints[0].flexibility;
    for i in 0..6 {
        assert!(c[i][i] > 0.0);
        for j in 0..i {
            assert!((c[i][j] - c[j][i]).abs() < 1e-9 * (c[i][i] * c[j][j]).sqrt());
        }
    }
}

#[test]
fn threads_do_not_change_a_bit() {
    let project = bare_front();
    let found = found(&project);
    let by = |threads| solve(found.setting(&project), threads, &RunToEnd).expect("solved");
    assert_eq!(by(1), by(4));
}

// Mechanics: bolts, faces and nothing else cross the cut; without load the preload is held by the
// faces it clamps.
#[test]
fn bolts_and_faces_carry_the_whole_load_of_a_bolted_bracket() {
    let (_, plates) = solved(&bolted_front());
    let solved = of(&plates, 0);
    assert_eq!(solved.contents.bolts.len(), 4);
    assert!(solved.size.largest_imbalance < 1e-8, "{}", solved.size.largest_imbalance);
    for case in every_case(solved) {
        assert!(case.bolts.iter().all(|b| b.tension >= 0.0 && b.shear.len() == 1));
    }
    let preload = solved.contents.bolts[0].preload;
    for bolt in &solved.fine.service[0].bolts {
        assert!(bolt.tension > 0.9 * preload, "{} {preload}", bolt.tension);
    }
    // Without preload the pull is that of the load: a bracket is tilted, so the upper bolts pull.
    let pulls: f64 = solved.fine.factored[0][0].bolts.iter().map(|b| b.tension).sum();
    assert!(pulls > 0.0 && pulls < 4.0 * preload);
}

// A beam on the far side of a cut gives way: the mount is softer than between clamped ends.
#[test]
fn a_rail_held_far_away_is_softer() {
    let (_, clamped) = solved(&bare_front());
    let (_, long) = solved(&held(bare_front(), &[-0.6, 0.0, 0.85]));
    let (a, b) = (&of(&clamped, 0).hardpoints[0], &of(&long, 0).hardpoints[0]);
    assert!(b.flexibility[2][2] > a.flexibility[2][2]);
    assert!(of(&long, 0).size.largest_imbalance < 1e-8);
}

// Rayleigh: a support more never makes a structure softer. Without the one at the end of the rail,
// which lies inside the piece, the piece would turn about the hold behind it.
#[test]
fn a_rail_is_held_at_its_own_end() {
    let short = |at: &[f64]| {
        let mut project = held(bare_front(), at);
        let rail = &mut project.rails[0];
        rail.to = Written::exact(Length::from_si(0.45));
        rail.readings.retain(|reading| reading.x <= 0.45);
        rail.readings_right.retain(|reading| reading.x <= 0.45);
        project
    };
    let (_, ended) = solved(&short(&[-0.6, 0.45]));
    let (_, free) = solved(&short(&[-0.6, -0.1]));
    let (ended, free) = (of(&ended, 0), of(&free, 0));
    assert!(ended.size.largest_imbalance < 1e-8);
    let [stiff, soft] = [ended, free].map(|solved| solved.hardpoints[0].flexibility[2][2]);
    assert!(stiff < soft, "{stiff} {soft}");
}

#[test]
fn a_hole_over_an_edge_names_bolt_and_part() {
    let project = beside(bare_front());
    let (_, plates) = solved(&project);
    let solved = plates.groups[0].outcome.as_ref().expect("the hole is left out");
    let told = solved.assumptions.iter().find(|a| a.contains("cannot be drilled as drawn"));
    let told = told.expect("a hole over an edge is told");
    assert!(told.contains("front-bracket left, floor"), "{told}");
    assert!(told.contains("bush bolt of mount front left"), "{told}");
}

#[test]
fn a_mount_without_a_bolt_is_not_guessed() {
    let mut project = bare_front();
    project.mounts[0].lands = "part.front-bracket".to_owned();
    project.bolts.clear();
    let (_, plates) = solved(&project);
    let why = plates.groups[0].outcome.as_ref().expect_err("no place of the bush");
    assert!(why.contains("mount front left"), "{why}");
}

// Mechanics: springs one behind the other. The change that a round makes is of second order in the
// share of the bracket, so that two or three rounds settle it; the forces still carry the car.
#[test]
fn frame_and_plates_agree_on_the_share() {
    let project = bare_front();
    let found = found(&project);
    let agreed = agree(found.setting(&project), false, 2, &RunToEnd).expect("they agree");
    let feedback = &agreed.plates.feedback;
    assert!(feedback.last_change < 5e-3, "{feedback:?}");
    // A bracket gives way and its mount takes less: that of the rear, which is rigid, takes more.
    assert!(feedback.share_change.iter().all(|c| *c > 0.0 && *c < 0.2), "{feedback:?}");
    if let Some((forces, _)) = &agreed.forces {
        let sum = |forces: &crate::forces::Forces| -> Vec3 {
            forces.cases[0].service.iter().map(|load| load.force).sum()
        };
        let (soft, rigid) = (sum(forces), sum(&found.forces));
        assert!((soft - rigid).norm() < 1e-9 * rigid.norm());
    }
}
