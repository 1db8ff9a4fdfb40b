use super::*;
use crate::describe::Side;
use crate::loads::published::{
    ESTATE, ESTATE_POINTS, Row, VAN, VAN_MOUNTS, VAN_POINTS, estate, estate_case, mm, van, van_case,
};
use crate::loads::tests::{braking_by_hand, cornering_by_hand, driving_by_hand};
use crate::loads::{CaseKind, DriveDirection, LoadInput, Shock, derive};
use fishplate_quantity::Trace;
use proptest::prelude::*;

const NAMES: [&str; 4] = ["front left", "front right", "rear left", "rear right"];

fn upright(radial: f64, axial: f64) -> Bush {
    Bush::round(Vec3::z(), radial, axial).unwrap()
}

fn cradle(points: &[[f64; 3]; 4], bush: Bush) -> Cradle {
    let mount = |(&[x, y, z], name): (&[f64; 3], &str)| CradleMount {
        name: name.to_owned(),
        at: mm(x, y, z),
        bush,
        preset: Vec3::zeros(),
    };
    Cradle::new(points.iter().zip(NAMES).map(mount).collect()).unwrap()
}

fn van_cradle() -> Cradle {
    let stop = Some(Stop { gap: 5e-3, added_stiffness: 8e6 });
    cradle(&VAN_POINTS, upright(3.5e6, 1.8e6).with_stops(stop, stop))
}

fn estate_cradle() -> Cradle {
    cradle(&ESTATE_POINTS, upright(20e6, 20e6))
}

fn carried(cradle: &Cradle, input: &LoadInput, case: CaseKind) -> CradleAnswer {
    let loads = derive(input, &case, cradle.centre(), Trace::off()).unwrap();
    cradle.solve(&loads.resultant).unwrap()
}

fn check(answer: &CradleAnswer, expected: &[[f64; 3]; 4], within: f64, what: &str) {
    for (mount, expected) in answer.mounts.iter().zip(expected) {
        for (i, expected) in expected.iter().enumerate() {
            let got = mount.force_on_body[i];
            assert!(
                (got - expected).abs() <= within,
                "{what} {} {i}: {got} against {expected}",
                mount.name
            );
        }
    }
    assert!(answer.force_residual <= 1e-9 && answer.moment_residual <= 1e-9);
}

fn near(got: f64, expected: f64) {
    assert!((got - expected).abs() <= 1e-6 * expected.abs(), "{got} against {expected}");
}

// The sheets of the two cars: hand statics, rounded to 1 N.
#[test]
fn mount_forces_of_both_sheets() {
    let sheet = |cradle: &Cradle, input: &LoadInput, rows: &[Row], case: fn(&str) -> CaseKind| {
        for row in rows {
            check(&carried(cradle, input, case(row.case)), &row.on_body, 1.0, row.case);
        }
    };
    sheet(&van_cradle(), &van(), &VAN, van_case);
    sheet(&estate_cradle(), &estate(), &ESTATE, estate_case);
}

// The van's sheet recomputed by a second program, to 0.01 N; no stop closes in any case, and the
// largest travel is 3.73 mm, at the rear in the bump.
#[test]
fn mount_forces_of_the_van_to_a_hundredth() {
    let cradle = van_cradle();
    for (name, expected) in &VAN_MOUNTS {
        let answer = carried(&cradle, &van(), van_case(name));
        check(&answer, expected, 0.006, name);
        for mount in &answer.mounts {
            assert!(mount.axial_stop_use.unwrap() < 1.0 && mount.radial_stop_use.unwrap() < 1.0);
        }
        if *name == "V3" {
            let rear = answer.mounts[2].axial_stop_use.unwrap() * 5.0;
            assert!((rear - 3.73).abs() < 0.005, "{rear}");
        }
    }
}

// Statics by hand: with all load transfer through the links (anti-squat 1) the van's full drive
// changes the rear mounts from -4993 to -3998 N and the front ones from 1746 to 2333 N.
#[test]
fn links_that_take_the_transfer() {
    let mut car = van();
    car.springs.link_share = 1.0;
    let answer = carried(&van_cradle(), &car, van_case("D1"));
    assert!((answer.mounts[0].force_on_body.z - 2333.0).abs() < 0.51);
    assert!((answer.mounts[2].force_on_body.z + 3998.0).abs() < 0.51);
}

fn square(x: [f64; 2], y: f64, z: f64) -> Cradle {
    let points = [[x[0], y, z], [x[0], -y, z], [x[1], y, z], [x[1], -y, z]];
    cradle(&points, upright(5e6, 5e6))
}

// Statics by hand: F_z/4 ∓ M_y/(4·300).
#[test]
fn braking_by_hand_on_four_mounts() {
    let cradle = square([300.0, -300.0], 450.0, 380.0);
    let case = CaseKind::Brake { rate: 0.8, field: 1.0 };
    let answer = carried(&cradle, &braking_by_hand(), case);
    for (i, z) in [-306.977_54, -306.977_54, 1_921.854_46, 1_921.854_46].into_iter().enumerate() {
        near(answer.mounts[i].force_on_body.x, -549.36);
        near(answer.mounts[i].force_on_body.z, z);
    }
}

#[test]
fn driving_by_hand_on_four_mounts() {
    let cradle = square([310.0, -270.0], 430.0, 360.0);
    let case =
        CaseKind::Drive { direction: DriveDirection::Forward, shock: Shock::None, grip: None };
    let answer = carried(&cradle, &driving_by_hand(), case);
    for (i, z) in [3_704.296_86, 3_704.296_86, -718.232_71, -718.232_71].into_iter().enumerate() {
        near(answer.mounts[i].force_on_body.x, 1_587.578_78);
        near(answer.mounts[i].force_on_body.z, z);
    }
}

#[test]
fn cornering_by_hand_on_four_mounts() {
    let cradle = square([280.0, -280.0], 460.0, 350.0);
    let (car, case) = cornering_by_hand();
    let answer = carried(&cradle, &car, case);
    for (i, z) in [508.234_90, 2_135.748_75, 508.234_90, 2_135.748_75].into_iter().enumerate() {
        near(answer.mounts[i].force_on_body.y, 1_189.792_64);
        near(answer.mounts[i].force_on_body.z, z);
    }
}

/// Points of a sheet that has its zero in the plane of the mounts, lifted off the ground.
const LIFTED: f64 = 500.0;

// Rigid body on linear springs, K u = w (mechanics; two independent assemblies agreed): four mounts
// with three stiffnesses each under braking, lateral and vertical force at once.
#[test]
fn four_unlike_mounts() {
    let data = [
        ([-340.0, -360.0, 0.0], [4000.0, 2500.0, 1800.0]),
        ([310.0, -330.0, 25.0], [9000.0, 6000.0, 5200.0]),
        ([310.0, 330.0, 25.0], [9000.0, 6000.0, 3100.0]),
        ([-340.0, 360.0, 0.0], [4000.0, 2500.0, 1800.0]),
    ];
    let mounts = data.map(|([x, y, z], k)| CradleMount {
        name: "mount".to_owned(),
        at: mm(x, y, z + LIFTED),
        bush: Bush::along(Matrix3::identity(), Vec3::from(k) * 1e3),
        preset: Vec3::zeros(),
    });
    let cradle = Cradle::new(mounts.to_vec()).unwrap();
    let force = Vec3::new(-12e3, 1500.0, -5000.0);
    let answer = cradle.solve(&Wrench::of_force(force, mm(40.0, -15.0, 180.0 + LIFTED))).unwrap();
    let expected = [
        [-1_794.446_7, 293.074_61, -2452.33],
        [-4_505.737_9, 456.925_39, 205.701_02],
        [-4_101.407_6, 456.925_39, -136.745_08],
        [-1_598.407_8, 293.074_61, -2_616.625_9],
    ];
    for (mount, expected) in answer.mounts.iter().zip(expected) {
        (0..3).for_each(|i| near(mount.force_on_body[i], expected[i]));
    }
    let motion = answer.motion.moved_to(mm(0.0, 0.0, LIFTED));
    near(motion.translation.x, -0.424_106_81e-3);
    near(motion.translation.y, 0.094_086_357e-3);
    near(motion.translation.z, -0.672_719_25e-3);
    near(motion.rotation.x, -1.267_715_2e-4);
    near(motion.rotation.y, -0.002_162_717_9);
    near(motion.rotation.z, -6.806_907_3e-5);
}

// Pile-group formula of the textbooks: R = F (1/n + ex x/Σx² + ey y/Σy²).
#[test]
fn four_like_mounts_under_an_offset_load() {
    let points = [
        [-350.0, -230.0, LIFTED],
        [350.0, -230.0, LIFTED],
        [350.0, 230.0, LIFTED],
        [-350.0, 230.0, LIFTED],
    ];
    let cradle = cradle(&points, upright(1.2e6, 1.2e6));
    let load = Wrench::of_force(Vec3::new(0.0, 0.0, -9000.0), mm(110.0, -65.0, LIFTED));
    let answer = cradle.solve(&load).unwrap();
    let expected = [-2_178.726_7, -3_593.012_4, -2_321.273_3, -906.987_58];
    for (mount, expected) in answer.mounts.iter().zip(expected) {
        near(mount.force_on_body.z, expected);
    }
}

// Closed forms, equal k, symmetric plan: F_z/n + M_x y/Σy² − M_y x/Σx²,
// θ_z = M_z/(k_x Σy² + k_y Σx²), F_x/n − k_x θ_z y, F_y/n + k_y θ_z x.
#[test]
fn closed_forms_of_a_symmetric_plan() {
    let (k_x, k_y, k_z) = (3e6, 2e6, 1e6);
    let (x, y) = (0.3, 0.45);
    let mounts = [(x, y), (x, -y), (-x, y), (-x, -y)].map(|(x, y)| CradleMount {
        name: "mount".to_owned(),
        at: Vec3::new(x, y, 0.4),
        bush: Bush::along(Matrix3::identity(), Vec3::new(k_x, k_y, k_z)),
        preset: Vec3::zeros(),
    });
    let cradle = Cradle::new(mounts.to_vec()).unwrap();
    let (f, m) = (Vec3::new(4e3, -3e3, 5e3), Vec3::new(700.0, -900.0, 400.0));
    let answer =
        cradle.solve(&Wrench { force: f, moment: m, about: Vec3::new(0.0, 0.0, 0.4) }).unwrap();
    let theta = m.z / (k_x * 4.0 * y * y + k_y * 4.0 * x * x);
    for (mount, answer) in cradle.mounts().iter().zip(&answer.mounts) {
        let (x_i, y_i) = (mount.at.x, mount.at.y);
        let got = answer.force_on_body;
        near(got.x, f.x / 4.0 - k_x * theta * y_i);
        near(got.y, f.y / 4.0 + k_y * theta * x_i);
        near(got.z, f.z / 4.0 + m.x * y_i / (4.0 * y * y) - m.y * x_i / (4.0 * x * x));
    }
}

// Closed form of a warped rectangle: F = w/Σ(1/k), signs alternating: 1 mm on four 60 kN/mm is
// 15 kN; with 8 kN/mm of rail in series 1.8 kN; with 1.8 kN/mm rubber 0.45 kN.
#[test]
fn a_gap_pulled_shut_locks_a_load_in() {
    for (k, locked) in [(60e6, 15e3), (1.0 / (1.0 / 60e6 + 1.0 / 8e6), 1764.706), (1.8e6, 450.0)] {
        let mut mounts =
            cradle(&ESTATE_POINTS.map(|[x, y, _]| [x, y.signum() * 450.0, 300.0]), upright(k, k))
                .mounts()
                .to_vec();
        mounts[0].preset = Vec3::new(0.0, 0.0, 1e-3);
        let cradle = Cradle::new(mounts).unwrap();
        let nothing = Wrench::of_force(Vec3::zeros(), Vec3::zeros());
        let answer = cradle.solve(&nothing).unwrap();
        for (mount, sign) in answer.mounts.iter().zip([1.0, -1.0, -1.0, 1.0]) {
            near(mount.force_on_body.z, sign * locked);
        }
    }
}

// Closed form: with two mounts a side the load of a side is statics, and each bush then obeys
// F = k u + k_stop (u − gap); the left ones reach their stop, the right ones do not.
#[test]
fn stops_close_on_the_loaded_side() {
    let stop = Stop { gap: 5e-3, added_stiffness: 8e6 };
    let bush = upright(3.5e6, 1.8e6).with_stops(None, Some(stop));
    let points = [
        [300.0, 400.0, 400.0],
        [300.0, -400.0, 400.0],
        [-300.0, 400.0, 400.0],
        [-300.0, -400.0, 400.0],
    ];
    let cradle = cradle(&points, bush);
    let load = Wrench::of_force(Vec3::new(0.0, 0.0, 40e3), mm(0.0, 200.0, 400.0));
    let answer = cradle.solve(&load).unwrap();
    let (left, right) = (40e3 * 0.75 / 2.0, 40e3 * 0.25 / 2.0);
    let u_left = (left + 8e6 * 5e-3) / (1.8e6 + 8e6);
    let u_right: f64 = right / 1.8e6;
    for (i, force, u) in [(0, left, u_left), (1, right, u_right), (2, left, u_left)] {
        near(answer.mounts[i].force_on_body.z, force);
        near(answer.mounts[i].movement.z, u);
        near(answer.mounts[i].axial_stop_use.unwrap(), u / 5e-3);
    }
    assert!(answer.passes < 20);
}

// Closed form: a round stop answers along the movement, whichever way it goes.
#[test]
fn a_round_stop_has_no_direction() {
    let stop = Stop { gap: 1e-3, added_stiffness: 20e6 };
    let bush = upright(2e6, 5e6).with_stops(Some(stop), None);
    let points = [
        [300.0, 400.0, 400.0],
        [300.0, -400.0, 400.0],
        [-300.0, 400.0, 400.0],
        [-300.0, -400.0, 400.0],
    ];
    let cradle = cradle(&points, bush);
    let travel = (5e3 + 20e6 * 1e-3) / 22e6;
    for angle in [0.0_f64, 0.4, 1.3, 2.9] {
        let force = Vec3::new(angle.cos(), angle.sin(), 0.0) * 20e3;
        let answer = cradle.solve(&Wrench::of_force(force, mm(0.0, 0.0, 400.0))).unwrap();
        for mount in &answer.mounts {
            assert!((mount.force_on_body - force / 4.0).norm() < 1e-6);
            near(mount.radial_stop_use.unwrap(), travel / 1e-3);
        }
    }
}

// Mechanics: one mount with turning stiffness balances any wrench at its own centre.
#[test]
fn one_mount_with_turning_stiffness() {
    let mut mounts = square([300.0, -300.0], 450.0, 380.0).mounts()[..1].to_vec();
    let loose = Cradle::new(mounts.clone()).unwrap();
    let load = Wrench::of_force(Vec3::new(100.0, 200.0, 300.0), mm(0.0, 0.0, 380.0));
    let free = loose.solve(&load);
    assert!(matches!(free, Err(CradleError::Group(GroupError::Singular { .. }))));
    // Also under a force through the mount, which turns nothing.
    let through = Wrench::of_force(Vec3::new(0.0, 0.0, 300.0), mounts[0].at);
    let free = loose.solve(&through);
    assert!(matches!(free, Err(CradleError::Group(GroupError::Singular { .. }))));
    mounts[0].bush = mounts[0].bush.with_turning(50.0, 400.0);
    let answer = Cradle::new(mounts).unwrap().solve(&load).unwrap();
    let at = load.moved_to(mm(300.0, 450.0, 380.0));
    assert!((answer.mounts[0].moment_on_body - at.moment).norm() < 1e-6);
    near(answer.motion.rotation.z, at.moment.z / 50.0);
}

// A box of 120 kg at (2500, 10, 470) on four feet of 30 kN/mm, its own weight and 20 g forward,
// 8 g left (hand statics, rounded to 1 N): ΣF_x = 23 544 N.
#[test]
fn a_battery_box_on_four_feet() {
    let points = [
        [2720.0, 330.0, 330.0],
        [2720.0, -330.0, 330.0],
        [2280.0, 360.0, 330.0],
        [2280.0, -360.0, 330.0],
    ];
    let cradle = cradle(&points, upright(30e6, 30e6));
    let weight = 120.0 * 9.81;
    let at = mm(2500.0, 10.0, 470.0);
    let answer = |x: f64, y: f64| {
        let force = Vec3::new(x * weight, y * weight, -weight);
        cradle.solve(&Wrench::of_force(force, at)).unwrap()
    };
    let forward = [
        [6002.0, -77.0, -4048.0],
        [5770.0, -77.0, -4032.0],
        [6012.0, 77.0, 3442.0],
        [5760.0, 77.0, 3460.0],
    ];
    check(&answer(20.0, 0.0), &forward, 0.51, "20 g forward");
    let left = [
        [0.0, 2354.0, -1215.0],
        [0.0, 2354.0, 626.0],
        [0.0, 2354.0, -1298.0],
        [0.0, 2354.0, 710.0],
    ];
    check(&answer(0.0, 8.0), &left, 0.51, "8 g left");
}

// Mechanics: left and right exchanged in load and cradle exchange the mounts.
#[test]
fn the_mirrored_case_mirrors_the_mounts() {
    let cradle = van_cradle();
    let left = van_case("K1");
    assert!(matches!(left, CaseKind::Kerb { side: Side::Left, .. }));
    let (a, b) = (carried(&cradle, &van(), left), carried(&cradle, &van(), left.mirrored()));
    for (i, j) in [(0, 1), (1, 0), (2, 3), (3, 2)] {
        let (p, q) = (a.mounts[i].force_on_body, b.mounts[j].force_on_body);
        assert!((p - Vec3::new(q.x, -q.y, q.z)).norm() < 1e-7);
    }
}

#[test]
fn mounts_that_cannot_be_are_refused() {
    let mut mounts = square([300.0, -300.0], 450.0, 380.0).mounts().to_vec();
    mounts[1].at.z = -0.1;
    mounts[2].bush = upright(f64::NAN, 1e6);
    let faults = Cradle::new(mounts).unwrap_err();
    let paths: Vec<&str> = faults.iter().map(|f| f.path.as_str()).collect();
    let expected =
        ["mount.front right.at.z", "mount.rear left.bush.radial", "mount.rear left.bush.radial"];
    assert_eq!(paths, expected);
    assert_eq!(Cradle::new(Vec::new()).unwrap_err()[0].path, "mount");
}

proptest! {
    // Statics and the ends of the search: any wrench on any bushes with stops is balanced to 1e-9
    // (checked inside), a closed stop pushes back, and it takes few passes.
    #[test]
    fn any_wrench_on_any_stops_is_balanced(
        force in prop::array::uniform3(-40e3..40e3_f64),
        moment in prop::array::uniform3(-12e3..12e3_f64),
        radial in 5.0..8.0_f64,
        axial in 5.0..8.0_f64,
        gap in 1e-5..6e-3_f64,
        rate in 5.0..10.0_f64,
        preset in prop::array::uniform3(-2e-3..2e-3_f64),
    ) {
        let stop = Some(Stop { gap, added_stiffness: 10_f64.powf(rate) });
        let bush = upright(10_f64.powf(radial), 10_f64.powf(axial)).with_stops(stop, stop);
        let mut mounts = cradle(&VAN_POINTS, bush).mounts().to_vec();
        mounts[2].preset = Vec3::from(preset);
        let cradle = Cradle::new(mounts).unwrap();
        let wrench =
            Wrench { force: force.into(), moment: moment.into(), about: cradle.centre() };
        let answer = cradle.solve(&wrench).unwrap();
        prop_assert!(answer.passes <= 60, "{} passes", answer.passes);
        for mount in &answer.mounts {
            prop_assert!(mount.force_on_body.z * mount.movement.z >= 0.0);
        }
    }
}
