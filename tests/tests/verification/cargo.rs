//! A battery box on four feet: thrown, and carried along by the car.

use fishplate_proto::v1;
use fishplate_proto::v1::CaseKind;
use fishplate_tests::project::{
    case, case_of, checked, g, left, on_body, resultant, thrown, with_battery,
};
use fishplate_tests::sheet::{Line, Sheet, assert_close};

use crate::loads::estate;

pub(crate) const DATA: &str = include_str!("../../data/cargo_loads.json");

const FEET: [&str; 4] = ["BFL", "BFR", "BRL", "BRR"];
/// Weight of the box, N: 120 kg at 9.81 m/s².
const WEIGHT: f64 = 1177.2;

fn with_cases(cases: Vec<v1::LoadCase>) -> v1::CheckProjectResponse {
    let mut car = estate();
    with_battery(&mut car);
    car.cases = cases;
    checked(&car)
}

fn throws() -> Vec<v1::LoadCase> {
    vec![
        thrown("20 g forward", CaseKind::RestraintForward, 20.0),
        thrown("20 g rearward", CaseKind::RestraintRearward, 20.0),
        left(thrown("8 g left", CaseKind::RestraintSideways, 8.0)),
        thrown("28 g forward", CaseKind::RestraintForward, 28.0),
    ]
}

pub(crate) fn lines() -> Vec<Line> {
    let answer = with_cases(throws());
    let mut lines = Vec::new();
    for name in throws().iter().map(|case| case.name.as_str()) {
        let case = case_of(&answer, name);
        let mut sheet = Sheet::of(DATA, &format!("battery {name}"));
        for foot in FEET {
            for (axis, value) in ["x", "y", "z"].into_iter().zip(on_body(case, foot)) {
                sheet.got(&format!("{foot} F{axis} on body"), value);
            }
        }
        lines.extend(sheet.lines());
    }
    lines
}

#[test]
fn a_thrown_box_pulls_on_its_feet_as_recomputed() {
    assert_close(&lines());
}

/// Force of the feet on the body, N, and its moment about the centre of the box, N mm.
fn sum(answer: &v1::CheckProjectResponse, case: &v1::CaseAnswer) -> [[f64; 3]; 2] {
    let centre = [2500.0, 10.0, 470.0];
    let (mut force, mut moment) = ([0.0; 3], [0.0; 3]);
    for mount in answer.mounts.iter().filter(|m| m.carries == "battery") {
        let f = on_body(case, &mount.id);
        let at = mount.at.expect("a foot is somewhere");
        let arm = [at.x_mm - centre[0], at.y_mm - centre[1], at.z_mm - centre[2]];
        for i in 0..3 {
            let (j, k) = ((i + 1) % 3, (i + 2) % 3);
            force[i] += f[i];
            moment[i] += arm[j] * f[k] - arm[k] * f[j];
        }
    }
    [force, moment]
}

fn assert_sum(answer: &v1::CheckProjectResponse, name: &str, expected: [f64; 3]) {
    let case = answer.cases.iter().find(|c| c.name == name).expect("the case is there");
    let [force, moment] = sum(answer, case);
    for i in 0..3 {
        assert!((force[i] - expected[i]).abs() < 1e-6, "{name}: {force:?}, not {expected:?}");
        // Weight and inertia go through the centre of the box.
        assert!(moment[i].abs() < 1e-3, "{name}: moment {moment:?} about the centre");
    }
}

/// Statics by hand: mass times acceleration the way it is thrown, and the weight of 1 g. The vertical
/// couple of 20 g forward: 23 544 N at 140 mm over feet that stand 440 mm apart.
#[test]
fn what_is_thrown_is_held() {
    let mut cases = throws();
    cases.push(thrown("up", CaseKind::RestraintUp, 10.0));
    cases.push(thrown("down", CaseKind::RestraintDown, 10.0));
    let answer = with_cases(cases);
    assert_sum(&answer, "20 g forward", [23_544.0, 0.0, -WEIGHT]);
    assert_sum(&answer, "20 g rearward", [-23_544.0, 0.0, -WEIGHT]);
    assert_sum(&answer, "8 g left", [0.0, 9_417.6, -WEIGHT]);
    assert_sum(&answer, "8 g left right", [0.0, -9_417.6, -WEIGHT]);
    assert_sum(&answer, "28 g forward", [32_961.6, 0.0, -WEIGHT]);
    assert_sum(&answer, "up", [0.0, 0.0, 9.0 * WEIGHT]);
    assert_sum(&answer, "down", [0.0, 0.0, -11.0 * WEIGHT]);
    let case = case_of(&answer, "20 g forward");
    let up = |foot: &str| on_body(case, foot)[2];
    let couple = (up("BRL") + up("BRR") - up("BFL") - up("BFR")) / 2.0;
    assert!((couple - 23_544.0 * 140.0 / 440.0).abs() < 1e-3, "{couple}");
    // One thing at a time: the cradle hangs free of it.
    for mount in ["FL", "FR", "RL", "RR"] {
        assert!(on_body(case, mount).iter().all(|f| f.abs() < 1e-9), "{mount}");
    }
    assert!(resultant(case, [0.0; 3]).0.iter().all(|f| f.abs() < 1e-9));
}

/// Newton: in a case of the whole car the box is accelerated as the car, in the field of the case.
#[test]
fn the_car_takes_the_box_along() {
    let answer = with_cases(vec![
        case("stand", CaseKind::Standing),
        v1::LoadCase { field: g(3.0), ..case("bump", CaseKind::Bump) },
        v1::LoadCase { rate: g(1.1), ..case("brake", CaseKind::Brake) },
        left(v1::LoadCase {
            rate: g(0.9),
            rear_share: fishplate_tests::project::number(0.5),
            ..case("corner", CaseKind::Corner)
        }),
        left(v1::LoadCase {
            factor: fishplate_tests::project::number(1.75),
            ..case("kerb", CaseKind::Kerb)
        }),
    ]);
    assert_sum(&answer, "stand", [0.0, 0.0, -WEIGHT]);
    assert_sum(&answer, "bump", [0.0, 0.0, -3.0 * WEIGHT]);
    assert_sum(&answer, "brake", [1.1 * WEIGHT, 0.0, -WEIGHT]);
    // In a turn to the left it leans on the right.
    assert_sum(&answer, "corner", [0.0, -0.9 * WEIGHT, -WEIGHT]);
    assert_sum(&answer, "kerb", [0.0, 0.0, -WEIGHT]);
}

/// The cradle does not feel a cargo that was weighed with the car; one that was not is added to the
/// car where it stands.
#[test]
fn a_cargo_is_in_the_mass_of_the_car_or_added_to_it() {
    let mut plain = estate();
    plain.cases = vec![v1::LoadCase { rate: g(1.1), ..case("brake", CaseKind::Brake) }];
    let mut weighed = plain.clone();
    with_battery(&mut weighed);
    let mut added = weighed.clone();
    added.cargo[0].weighed = Some(false);
    let [plain, weighed, added] = [plain, weighed, added].map(|car| checked(&car));
    for mount in ["FL", "FR", "RL", "RR"] {
        let of = |answer: &v1::CheckProjectResponse| {
            on_body(case_of(answer, "brake"), mount).map(f64::to_bits)
        };
        assert_eq!(of(&plain), of(&weighed), "{mount}");
    }
    let car = |answer: &v1::CheckProjectResponse| answer.car.expect("the car as weighed");
    assert!((car(&weighed).mass_kg - 1340.0).abs() < 1e-9);
    assert!((car(&added).mass_kg - 1460.0).abs() < 1e-9);
    // By hand: (1340 kg at 510 mm and 120 kg at 470 mm) over 1460 kg.
    let height = (1340.0 * 510.0 + 120.0 * 470.0) / 1460.0;
    assert!((car(&added).cg_height_mm - height).abs() < 1e-6);
    // 2500 mm is ahead of the front axle, at 2480 mm: the rear axle gets lighter by 120 g 20/2480.
    let lighter = car(&plain).rear_axle_n - car(&added).rear_axle_n;
    assert!((lighter - 120.0 * 9.81 * 20.0 / 2480.0).abs() < 1e-6, "{lighter}");
    let says = |answer: &v1::CheckProjectResponse, words: &str| {
        answer.assumptions.iter().any(|a| a.contains("cargo battery") && a.contains(words))
    };
    assert!(says(&weighed, "in the mass of the car") && says(&added, "added to the car"));
}
