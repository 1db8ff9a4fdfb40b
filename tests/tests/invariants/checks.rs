//! Laws of a whole project, through `CheckProject`.

use fishplate_proto::v1;
use fishplate_proto::v1::CaseKind;
use fishplate_tests::project::{
    Given, case, case_of, checked, g, left, number, on_body, project, resultant,
};
use fishplate_tests::service;
use prost::Message;

const CAR: Given = Given {
    mass: 1500.0,
    wheelbase: 2500.0,
    cg_ahead: 1180.0,
    cg_height: 560.0,
    track: 1460.0,
    wheel_radius: 308.0,
    torque: 240.0,
    ratio: 8.9,
    efficiency: 0.96,
    grip: 1.0,
    rear_share: 0.35,
    brake_grip: 1.1,
    cradle: 130.0,
    centre: [10.0, 0.0, 320.0],
    wheel: 40.0,
    front: [340.0, 470.0, 360.0],
    rear: [-280.0, 410.0, 390.0],
    stiffness: [5000.0, 2600.0],
};

fn right(mut case: v1::LoadCase) -> v1::LoadCase {
    case.set_side(v1::Side::Right);
    case
}

fn one_sided() -> Vec<v1::LoadCase> {
    vec![
        v1::LoadCase { rate: g(0.8), rear_share: number(0.5), ..case("corner", CaseKind::Corner) },
        v1::LoadCase { field: g(2.0), ..case("pothole", CaseKind::PotholeBraked) },
        v1::LoadCase { field: g(2.0), factor: number(1.5), ..case("edge", CaseKind::PotholeEdge) },
        v1::LoadCase { factor: number(1.75), ..case("kerb", CaseKind::Kerb) },
        v1::LoadCase { factor: number(1.3), ..case("twist", CaseKind::Twist) },
    ]
}

const MIRROR: [(&str, &str); 4] = [("FL", "FR"), ("FR", "FL"), ("RL", "RR"), ("RR", "RL")];

fn assert_mirrored(one: &v1::CaseAnswer, other: &v1::CaseAnswer) {
    for (here, there) in MIRROR {
        let [x, y, z] = on_body(one, here);
        let [mx, my, mz] = on_body(other, there);
        let name = &one.name;
        for (a, b) in [(x, mx), (y, -my), (z, mz)] {
            assert!((a - b).abs() <= 1e-6, "{name} at {here}: {x} {y} {z}, {mx} {my} {mz}");
        }
    }
}

#[test]
fn what_comes_from_the_left_comes_mirrored_from_the_right() {
    let mut car = project("Symmetric", &CAR);
    car.cases = one_sided().into_iter().map(left).collect();
    let from_left = checked(&car);
    car.cases = one_sided().into_iter().map(right).collect();
    let from_right = checked(&car);
    for case in one_sided() {
        let (one, other) = (case_of(&from_left, &case.name), case_of(&from_right, &case.name));
        assert_mirrored(one, other);
        // A case of one side brings its mirror image along.
        let image = from_left.cases.iter().find(|c| c.mirrored && c.name.starts_with(&case.name));
        assert_mirrored(one, image.expect("every one-sided case has its mirror image"));
    }
}

#[test]
fn a_symmetric_case_loads_both_sides_alike() {
    let mut car = project("Symmetric", &CAR);
    car.cases = vec![
        case("stand", CaseKind::Standing),
        case("drive", CaseKind::Drive),
        v1::LoadCase { rate: g(1.1), ..case("brake", CaseKind::Brake) },
    ];
    let answer = checked(&car);
    assert_eq!(answer.cases.len(), 3, "a symmetric case has no mirror image");
    for case in &answer.cases {
        assert_mirrored(case, case);
    }
}

#[test]
fn mounts_carry_the_whole_resultant() {
    let mut car = project("Balance", &CAR);
    car.cases = one_sided().into_iter().map(left).collect();
    let answer = checked(&car);
    for case in &answer.cases {
        let (force, moment) = resultant(case, [0.0; 3]);
        let mut sum = [0.0; 6];
        for mount in &answer.mounts {
            let f = on_body(case, &mount.id);
            let at = mount.at.expect("a mount is somewhere");
            let arm = [at.x_mm, at.y_mm, at.z_mm];
            for i in 0..3 {
                let (j, k) = ((i + 1) % 3, (i + 2) % 3);
                sum[i] += f[i];
                sum[3 + i] += arm[j] * f[k] - arm[k] * f[j];
            }
        }
        for i in 0..3 {
            assert!((sum[i] - force[i]).abs() < 1e-6, "{}: {sum:?}, {force:?}", case.name);
            assert!((sum[3 + i] - moment[i]).abs() < 1e-2, "{}: {sum:?}, {moment:?}", case.name);
        }
    }
}

#[test]
fn three_times_the_field_is_three_times_the_force() {
    let mut car = project("Linear", &CAR);
    let bump = |name: &str, field| v1::LoadCase { field: g(field), ..case(name, CaseKind::Bump) };
    car.cases = vec![case("stand", CaseKind::Standing), bump("one", 1.0), bump("three", 3.0)];
    let answer = checked(&car);
    let [stand, one, three] = ["stand", "one", "three"].map(|name| case_of(&answer, name));
    for (mount, _) in MIRROR {
        let forces = [stand, one, three].map(|case| on_body(case, mount));
        for i in 0..3 {
            assert!((forces[0][i] - forces[1][i]).abs() < 1e-6, "{mount}: {forces:?}");
            assert!((3.0 * forces[1][i] - forces[2][i]).abs() < 1e-6, "{mount}: {forces:?}");
        }
    }
}

#[test]
fn bushes_all_twice_as_stiff_share_as_before() {
    let mut car = project("Stiffness", &CAR);
    car.cases = one_sided().into_iter().map(left).collect();
    let soft = checked(&car);
    let doubled = Given { stiffness: CAR.stiffness.map(|k| 2.0 * k), ..CAR };
    car.bushes = project("Stiffness", &doubled).bushes;
    let stiff = checked(&car);
    for (one, other) in soft.cases.iter().zip(&stiff.cases) {
        for (mount, _) in MIRROR {
            let (a, b) = (on_body(one, mount), on_body(other, mount));
            for i in 0..3 {
                assert!((a[i] - b[i]).abs() < 1e-5, "{} {mount}: {a:?}, {b:?}", one.name);
            }
        }
    }
}

#[test]
fn the_same_project_gives_the_same_bytes() {
    let mut car = project("Same", &CAR);
    car.cases = one_sided().into_iter().map(left).collect();
    let request = v1::CheckProjectRequest {
        project: Some(car),
        with_derivations: true,
        with_scene: true,
        depth: v1::Depth::Frame.into(),
    };
    let bytes = || service::check(&request).unwrap().encode_to_vec();
    let first = bytes();
    for _ in 0..3 {
        assert_eq!(first, bytes());
    }
}

#[test]
fn forces_alone_are_never_passed_as_a_check() {
    let mut car = project("No design", &CAR);
    car.cases = vec![case("stand", CaseKind::Standing)];
    let answer = checked(&car);
    assert_ne!(answer.verdict(), v1::Verdict::Holds, "{}", answer.sentence);
    assert!(!answer.cautions.is_empty());
}
