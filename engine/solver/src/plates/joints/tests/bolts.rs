//! Bolts, preload, friction and contact of plates.

use super::motions::bolt;
use super::{Bench, RIGID, STEEL, close, resultant};
use crate::error::SolveError;
use crate::plates::model::{Bearing, Bolt, Contact, Onto, PlateId, Ring};
use crate::vector::{Vec3, add, cross, sub};
use proptest::prelude::*;

/// Two plates of `sides`, 6 mm over 8 mm, the lower one held everywhere.
fn pair(sides: [f64; 2], cells: [usize; 2]) -> (Bench, PlateId, PlateId) {
    let mut bench = Bench::new();
    let corner = |z: f64| [-0.5 * sides[0], -0.5 * sides[1], z];
    let edges = [[sides[0], 0.0, 0.0], [0.0, sides[1], 0.0]];
    let lower = bench.plate("lower", corner(0.0), edges, cells, 8e-3);
    let upper = bench.plate("upper", corner(7e-3), edges, cells, 6e-3);
    bench.hold(&bench.nodes(lower, |_| true), &[0, 1, 2, 3, 4, 5]);
    (bench, lower, upper)
}

fn place(bench: &mut Bench, plates: [PlateId; 2], at: [f64; 2], bearing: Bearing, preload: f64) {
    let bolt = Bolt { through: plates.to_vec(), preload, ..bolt(at, bearing) };
    bench.draft.bolts.push(bolt);
}

fn faces(upper: PlateId, lower: PlateId, friction: Option<f64>, within: Option<Ring>) -> Contact {
    Contact {
        name: "faces".to_owned(),
        of: upper,
        onto: Onto::Plate(lower),
        within,
        gap: 0.0,
        stiffness: None,
        bridged: 0.0,
        friction,
        spacing: 0.0,
    }
}

/// A linear field of nodal forces with this resultant about the middle of the plate.
fn spread_load(bench: &mut Bench, plate: PlateId, force: Vec3, at: Vec3) {
    let nodes = bench.nodes(plate, |_| true);
    let middle = [0.0, 0.0, 7e-3];
    let m = cross(sub(at, middle), force);
    let sums = nodes.iter().fold([0.0; 2], |[x, y], &n| {
        let p = bench.position(n);
        [x + p[0] * p[0], y + p[1] * p[1]]
    });
    let mut load = Vec::new();
    for &n in &nodes {
        let p = bench.position(n);
        let twist = m[2] / (sums[0] + sums[1]);
        let f = add(
            [0, 1, 2].map(|i| force[i] / nodes.len() as f64),
            [-twist * p[1], twist * p[0], m[0] * p[1] / sums[1] - m[1] * p[0] / sums[0]],
        );
        load.extend((0..3).map(|i| (6 * n + i, f[i])));
    }
    bench.loads.push(load);
}

/// Four bolts at (+-75, +-60) mm, 16 kN at 425 mm in the plane (Shigley, from memory).
#[test]
fn four_bolts_in_shear_follow_the_polar_moment() {
    let (mut bench, lower, upper) = pair([0.2, 0.16], [16, 14]);
    bench.draft.plates[upper.0].material = RIGID;
    for at in [[0.075, 0.06], [0.075, -0.06], [-0.075, 0.06], [-0.075, -0.06]] {
        place(&mut bench, [upper, lower], at, Bearing::Fitted, 0.0);
    }
    // Nothing bends out of the plane, as in the group method.
    bench.hold(&bench.nodes(upper, |_| true), &[2, 3, 4]);
    spread_load(&mut bench, upper, [0.0, -16e3, 0.0], [0.425, 0.0, 7e-3]);
    let solved = bench.solve().unwrap();
    let answer = solved.answer(0);
    for (bolt, expected) in answer.bolts.iter().zip([20972.559, 20972.559, 14788.848, 14788.848]) {
        let [x, y, _] = bolt.shear[0];
        close((x * x + y * y).sqrt(), expected, 0.03 * 20972.559);
    }
    // Together they carry the load, but for the rounding of movements in a plate that is a million
    // times as stiff.
    let sum = answer.bolts.iter().fold([0.0; 3], |sum, b| add(sum, b.shear[0]));
    close(sum[1], 16e3, 1e-6 * 16e3);
}

/// Five bolts under a load in space on a stiff flange: `N = F / n + M r / sum r^2` (elastic
/// distribution of textbooks). So that every bolt pulls, 8 kN each are added.
#[test]
fn five_bolts_in_tension_follow_the_flange_formula() {
    let (mut bench, lower, upper) = pair([0.14, 0.16], [14, 16]);
    bench.draft.plates[upper.0].material = RIGID;
    let places = [[-0.045, -0.04], [0.045, -0.04], [0.045, 0.04], [-0.045, 0.04], [0.0, 0.06]];
    for at in places {
        place(&mut bench, [upper, lower], at, Bearing::Never, 0.0);
    }
    bench.hold(&bench.nodes(upper, |_| true), &[0, 1, 5]);
    let upper_force = 6000.0;
    let moment = cross([0.12, 0.03, 0.08], [3000.0, -9000.0, 6000.0]);
    // The same normal force and bending moment as (3, -9, 6) kN at (120, 30, 80) mm, plus 40 kN at
    // the centroid (0, 12) mm.
    let (force, m) = (upper_force + 40e3, [moment[0] + 40e3 * 0.012, moment[1]]);
    spread_load(&mut bench, upper, [0.0, 0.0, force], [-m[1] / force, m[0] / force, 7e-3]);
    let solved = bench.solve().unwrap();
    let expected = [-6106.3218, -772.98851, 6364.9425, 1031.6092, 5482.7586];
    for (bolt, pull) in solved.answer(0).bolts.iter().zip(expected) {
        close(bolt.tension, 8000.0 + pull, 0.03 * 8000.0);
    }
}

/// Tightened and unloaded, a bolt has its preload; under loads that press, it hardly changes.
#[test]
fn preload_is_kept() {
    let (mut bench, lower, upper) = pair([0.06, 0.06], [9, 9]);
    place(&mut bench, [upper, lower], [0.0, 0.0], Bearing::Clearance(5e-4), 20e3);
    bench.draft.contacts.push(faces(upper, lower, Some(0.2), None));
    let all = bench.nodes(upper, |_| true);
    bench.force(&all, [0.0; 3]);
    bench.force(&all, [0.0, 0.0, -1000.0]);
    let solved = bench.solve().unwrap();
    let answer = solved.answer(0);
    close(answer.bolts[0].tension, 20e3, 20e3 * 1e-8);
    close(answer.contacts[0].force[2], -20e3, 20e3 * 1e-8);
    assert!(answer.contacts[0].pressed > 0.0);
    assert!(answer.contacts[0].pressed < answer.contacts[0].area);
    let loaded = solved.answer(1);
    close(loaded.contacts[0].force[2] + loaded.bolts[0].tension, -1000.0, 1e-4);
    close(loaded.bolts[0].tension, 20e3, 200.0);
}

/// Stiff plates clamped by one bolt over a bed of known stiffness: the pull is shared by bolt and
/// bed as their stiffnesses until the bed opens, at `F = P (1 + k_bolt / k_bed)` (VDI 2230, the
/// joint diagram); beyond, the bolt carries it alone.
#[test]
fn a_joint_opens_where_its_diagram_says() {
    let bed = 1e13;
    let side = 0.04;
    let k_bolt = super::E * 58e-6 / 14e-3;
    let k_bed = bed * side * side;
    let opens = 20e3 * (1.0 + k_bolt / k_bed);
    let (mut bench, lower, upper) = pair([side, side], [8, 8]);
    bench.draft.plates[upper.0].material = RIGID;
    place(&mut bench, [upper, lower], [0.0, 0.0], Bearing::Never, 20e3);
    bench.draft.bolts[0].material = STEEL;
    let contact = Contact { stiffness: Some(bed), ..faces(upper, lower, None, None) };
    bench.draft.contacts.push(contact);
    let all = bench.nodes(upper, |_| true);
    let pulls = [0.5, 0.95, 1.05, 1.5].map(|share| share * opens);
    for pull in pulls {
        bench.force(&all, [0.0, 0.0, pull]);
    }
    let solved = bench.solve().unwrap();
    for (case, pull) in pulls.iter().enumerate() {
        let answer = solved.answer(case);
        let expected = if *pull < opens { 20e3 + pull * k_bolt / (k_bolt + k_bed) } else { *pull };
        close(answer.bolts[0].tension, expected, 0.01 * 20e3);
        let pressed = answer.contacts[0].pressed > 0.0;
        assert_eq!(pressed, *pull < opens, "{pull} of {opens}");
    }
}

/// Friction of a preloaded joint holds up to the coefficient times the preload; then the plate
/// slides until the shank has taken up the play of both holes.
#[test]
fn friction_of_a_preloaded_joint_holds_up_to_its_limit() {
    let (mut bench, lower, upper) = pair([0.06, 0.06], [8, 8]);
    bench.draft.plates[upper.0].material = RIGID;
    place(&mut bench, [upper, lower], [0.0, 0.0], Bearing::Clearance(5e-4), 20e3);
    bench.draft.contacts.push(faces(upper, lower, Some(0.2), None));
    // Pushed in the plane of the faces.
    bench.hold(&bench.nodes(upper, |_| true), &[3, 4]);
    let all = bench.nodes(upper, |_| true);
    for push in [1000.0, 3900.0, 30e3] {
        bench.force(&all, [push, 0.0, 0.0]);
    }
    let solved = bench.solve().unwrap();
    let rubbing = |case: usize| solved.answer(case).contacts[0].force[0];
    let moved = |case: usize| solved.movement(case, all[0])[0];
    assert!(moved(0) < 1e-5 && moved(1) < 1e-4, "{} {}", moved(0), moved(1));
    assert!(rubbing(0) > 900.0 && rubbing(1) > 3500.0);
    let answer = solved.answer(2);
    let pressing = -answer.contacts[0].force[2];
    close(answer.contacts[0].force[0], 0.2 * pressing, 1e-3 * pressing);
    assert!(moved(2) > 9.9e-4, "{}", moved(2));
    // The rest goes through the walls of the holes.
    let carried = -answer.bolts[0].shear[0][0];
    close(carried + answer.contacts[0].force[0], 30e3, 1e-2);
    close(solved.cases[2].report.friction_rest, 0.0, 1e-6);
}

/// A plate that rests on the ground by contact alone, pulled off it.
#[test]
fn a_part_that_comes_off_wholly_is_named() {
    let mut bench = Bench::new();
    let sides = [[0.04, 0.0, 0.0], [0.0, 0.04, 0.0]];
    let plate = bench.plate("foot", [0.0, 0.0, 2e-3], sides, [4, 4], 4e-3);
    bench.draft.contacts.push(Contact {
        name: "sole".to_owned(),
        of: plate,
        onto: Onto::Ground { point: [0.0; 3], normal: [0.0, 0.0, 1.0] },
        within: None,
        gap: 0.0,
        stiffness: None,
        bridged: 0.0,
        friction: Some(0.3),
        spacing: 0.0,
    });
    let all = bench.nodes(plate, |_| true);
    bench.force(&all, [0.0, 0.0, -500.0]);
    let solved = bench.solve().unwrap();
    close(solved.answer(0).contacts[0].force[2], -500.0, 1e-5);
    for load in [[0.0, 0.0, 500.0], [300.0, 0.0, -500.0]] {
        bench.loads.clear();
        bench.force(&all, load);
        match bench.solve() {
            Err(SolveError::JointsOpen { joints, .. }) => {
                assert_eq!(joints, ["contact `sole`"]);
            }
            other => panic!("{other:?}"),
        }
    }
}

/// A foot with four tightened bolts on a thicker plate.
fn foot(loads: &[[f64; 6]]) -> (Bench, PlateId) {
    let (mut bench, lower, upper) = pair([0.12, 0.12], [9, 9]);
    for at in [[0.04, 0.04], [0.04, -0.04], [-0.04, 0.04], [-0.04, -0.04]] {
        place(&mut bench, [upper, lower], at, Bearing::Clearance(5e-4), 8e3);
    }
    bench.draft.contacts.push(faces(upper, lower, Some(0.15), None));
    let middle = bench.nodes(upper, |p| p[0].abs() < 0.03 && p[1].abs() < 0.03);
    for load in loads {
        let share = 1.0 / middle.len() as f64;
        bench.loads.push(
            middle.iter().flat_map(|n| (0..6).map(move |i| (6 * n + i, share * load[i]))).collect(),
        );
    }
    (bench, upper)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 6, ..ProptestConfig::default() })]

    #[test]
    fn a_foot_stays_in_balance(
        loads in prop::collection::vec(prop::array::uniform6(-1.0f64..1.0), 4),
    ) {
        let sizes = [1.5e3, 1.5e3, 12e3, 150.0, 150.0, 30.0];
        let loads: Vec<[f64; 6]> =
            loads.iter().map(|l| [0, 1, 2, 3, 4, 5].map(|i| l[i] * sizes[i])).collect();
        let (bench, _) = foot(&loads);
        let solved = bench.solve().unwrap();
        let about = [0.0, 0.0, 4e-3];
        for case in 0..loads.len() {
            let answer = solved.answer(case);
            let contact = &answer.contacts[0];
            let lever = cross(sub(contact.about, about), [contact.force[0], contact.force[1], contact.force[2]]);
            let mut sum = contact.force;
            for i in 0..3 { sum[3 + i] += lever[i]; }
            for (bolt, at) in answer.bolts.iter().zip(&bench.draft.bolts) {
                // The upper plate gets the pull of the nut's side; the lower one the opposite. The
                // shear on the lower plate is the opposite of that on the head's side of the cut.
                let pull = [-bolt.shear[0][0], -bolt.shear[0][1], bolt.tension];
                for i in 0..3 { sum[i] += pull[i]; }
                prop_assert!(bolt.tension >= 0.0);
                prop_assert!(at.preload > 0.0);
            }
            let load = resultant(&bench, case, about);
            for i in 0..3 {
                prop_assert!((sum[i] - load[i]).abs() < 1e-8 * 12e3 * 10.0, "{i}: {} {}", sum[i], load[i]);
            }
            let scale = 12e3;
            for place in &contact.places {
                prop_assert!(place.pressing >= 0.0 && place.opening >= 0.0);
                prop_assert!(place.pressing.abs() <= 0.0 || place.opening.abs() <= 0.0);
                let [x, y, z] = place.friction;
                let rubbing = (x * x + y * y + z * z).sqrt();
                prop_assert!(rubbing <= 0.15 * place.pressing + 1e-5 * scale, "{rubbing} {}", place.pressing);
            }
        }
    }
}

#[test]
fn the_number_of_threads_changes_no_bit() {
    let loads = [
        [500.0, 0.0, 9e3, 100.0, 0.0, 5.0],
        [0.0, 700.0, -3e3, 0.0, 120.0, 0.0],
        [1e3, 1e3, 11e3, -90.0, 60.0, 20.0],
    ];
    let (bench, _) = foot(&loads);
    let [one, three] = [1, 3].map(|threads| bench.solve_in(threads).unwrap());
    for (a, b) in one.cases.iter().zip(&three.cases) {
        let bits = |v: &[f64]| v.iter().map(|x| x.to_bits()).collect::<Vec<_>>();
        assert_eq!(bits(&a.movements), bits(&b.movements));
        assert_eq!(a.report, b.report);
    }
}
