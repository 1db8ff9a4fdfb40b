//! The invented van: four mounts, ten cases, a bracket in front, an angle across the rear.

use fishplate_proto::v1;

use super::shapes::at;

pub(crate) mod plates;
mod rows;
mod scene;

use rows::rows;
use scene::scene;

const CASES: [(&str, &str); 10] = [
    ("S0", "standing still"),
    ("V3", "bump, 3 g"),
    ("D1", "full drive"),
    ("D2", "drive shock"),
    ("B1", "braking forward"),
    ("B2", "braking in reverse"),
    ("C1", "left-hand corner"),
    ("P1", "pothole while braking, left wheel"),
    ("K1", "kerb strike, left wheel"),
    ("T1", "twist, left wheel up"),
];

/// Forces at FL, FR, RL, RR in every case, N: invented, of the size such a van has.
const FORCES: [[[f64; 3]; 4]; 10] = [
    [[50.0, 0.0, -570.0], [50.0, 0.0, -570.0], [-50.0, 0.0, -2240.0], [-50.0, 0.0, -2240.0]],
    [[160.0, 0.0, -1700.0], [160.0, 0.0, -1700.0], [-160.0, 0.0, -6710.0], [-160.0, 0.0, -6710.0]],
    [[1770.0, 0.0, 1750.0], [1770.0, 0.0, 1750.0], [1350.0, 0.0, -4990.0], [1350.0, 0.0, -4990.0]],
    [[2630.0, 0.0, 2900.0], [2630.0, 0.0, 2900.0], [2050.0, 0.0, -6370.0], [2050.0, 0.0, -6370.0]],
    [[-680.0, 0.0, -1890.0], [-680.0, 0.0, -1890.0], [-530.0, 0.0, 480.0], [-530.0, 0.0, 480.0]],
    [[1190.0, 0.0, 1130.0], [1190.0, 0.0, 1130.0], [810.0, 0.0, -4820.0], [810.0, 0.0, -4820.0]],
    [
        [160.0, 1900.0, 1900.0],
        [-50.0, 1900.0, -3040.0],
        [30.0, 1830.0, -150.0],
        [-140.0, 1830.0, -4320.0],
    ],
    [
        [-7140.0, 2400.0, -5300.0],
        [320.0, 2400.0, -5000.0],
        [-6160.0, -2400.0, 1080.0],
        [140.0, -2400.0, 1340.0],
    ],
    [
        [-210.0, -4800.0, -5560.0],
        [310.0, -4800.0, 4420.0],
        [-270.0, -4730.0, -6450.0],
        [170.0, -4730.0, 1970.0],
    ],
    [[60.0, -5.0, -910.0], [70.0, -5.0, -560.0], [-70.0, 5.0, -3060.0], [-65.0, 5.0, -2760.0]],
];

/// Tyre left, tyre right (x, y, z), springs left and right, N: invented.
const INCOMING: [([f64; 3], [f64; 3], [f64; 2]); 10] = [
    ([0.0, 0.0, 5830.0], [0.0, 0.0, 5830.0], [7470.0, 7470.0]),
    ([0.0, 0.0, 17500.0], [0.0, 0.0, 17500.0], [22420.0, 22420.0]),
    ([3520.0, 0.0, 6970.0], [3520.0, 0.0, 6970.0], [9060.0, 9060.0]),
    ([5280.0, 0.0, 7540.0], [5280.0, 0.0, 7540.0], [9850.0, 9850.0]),
    ([-2480.0, 0.0, 2260.0], [-2480.0, 0.0, 2260.0], [2510.0, 2510.0]),
    ([2820.0, 0.0, 8110.0], [2820.0, 0.0, 8110.0], [10640.0, 10640.0]),
    ([0.0, 880.0, 1100.0], [0.0, 8450.0, 10570.0], [900.0, 14050.0]),
    ([-12830.0, 0.0, 11660.0], [0.0, 0.0, 5830.0], [15570.0, 7470.0]),
    ([0.0, -19070.0, 5830.0], [0.0, 0.0, 5830.0], [7470.0, 7470.0]),
    ([0.0, 0.0, 13070.0], [0.0, 0.0, 2090.0], [17340.0, 2090.0]),
];

const MOUNTS: [(&str, &str, [f64; 3]); 4] = [
    ("FL", "front left", [330.0, 480.0, 420.0]),
    ("FR", "front right", [330.0, -480.0, 420.0]),
    ("RL", "rear left", [-290.0, 375.0, 440.0]),
    ("RR", "rear right", [-290.0, -375.0, 440.0]),
];

/// Share of the governing utilisation that the ten cases reach: invented.
const SHARES: [f64; 10] = [0.02, 0.06, 0.18, 0.27, 0.09, 0.12, 0.2, 1.0, 0.65, 0.03];

pub(crate) fn request() -> v1::CheckProjectRequest {
    let length = |value_mm| Some(v1::Length { value_mm, ..v1::Length::default() });
    let point = |x, y, z| {
        Some(v1::Point { x_mm: Some(x), y_mm: Some(y), z_mm: Some(z), ..v1::Point::default() })
    };
    let project = v1::Project {
        title: "Invented van, first drawing".to_owned(),
        car: Some(v1::Car {
            rear_track: length(1420.0),
            wheel_radius: length(310.0),
            ..v1::Car::default()
        }),
        springs: Some(v1::Springs {
            seat_on: v1::SpringSeat::Body.into(),
            seat: point(-60.0, 530.0, 560.0),
            ..v1::Springs::default()
        }),
        cradle: Some(v1::Cradle { centre: point(-20.0, 0.0, 330.0), ..v1::Cradle::default() }),
        ..v1::Project::default()
    };
    v1::CheckProjectRequest {
        project: Some(project),
        with_derivations: true,
        with_scene: true,
        depth: v1::Depth::Plate.into(),
    }
}

pub(crate) fn response() -> v1::CheckProjectResponse {
    let text = |t: &[&str]| t.iter().map(|s| (*s).to_owned()).collect::<Vec<_>>();
    v1::CheckProjectResponse {
        rules: Some(v1::RulesUsed { pack: "EN 1993".to_owned(), ..Default::default() }),
        verdict: v1::Verdict::DoesNotHold.into(),
        sentence: "Both front mounts exceed in two checks; it happens when a wheel drops into a \
                   pothole under braking."
            .to_owned(),
        title: "Invented van, first drawing".to_owned(),
        findings: findings(),
        provisional_reasons: text(&["Two of the three inputs that matter most are guesses."]),
        mounts: mounts(),
        cases: cases(),
        rows: rows(),
        clashes: vec![v1::Clash {
            what: "bush of the rear left mount and bottom flange of the rail".to_owned(),
            r#where: "at (−290, 398, 432) mm".to_owned(),
            advice: "Move the mount inward by 9 mm, or cut the flange and plate it.".to_owned(),
            field_path: "mounts[1].at".to_owned(),
        }],
        walks: walks(),
        interfaces: vec![interface()],
        assumptions: text(&[
            "The cradle is rigid; bushes are straight springs up to their stop.",
            "The body does not give.",
        ]),
        guesses: guesses(),
        not_covered: text(&["The donor cradle, its links and its own welds."]),
        cautions: text(&["An invented caution: this is an aid and approves nothing."]),
        totals: Some(v1::Totals { part_mass_kg: 11.42, weld_length_mm: 1316.0, bolt_count: 8 }),
        scene: Some(scene()),
        car: Some(v1::CarAnswer {
            mass_kg: 2050.0,
            cg_ahead_mm: 987.0,
            cg_left_mm: 0.0,
            cg_height_mm: 760.0,
            front_axle_n: 8446.0,
            rear_axle_n: 11_664.0,
            cross_weight: Some(0.5),
        }),
        stamp: Some(v1::Stamp {
            engine_version: "0.1.0".to_owned(),
            rules: "EN 1993-1-8:2005, EN 1993-1-1:2005".to_owned(),
            project_hash: "7c1e40d29b33a871".to_owned(),
            largest_imbalance: 2.1e-13,
        }),
        plate_mounts: plates::mounts(12.0),
    }
}

fn findings() -> Vec<v1::Finding> {
    let finding = |id: &str, u: f64, words: [&str; 5]| {
        let [what, in_case, by_how_much, what_then, what_helps] = words.map(str::to_owned);
        let row_id = id.to_owned();
        v1::Finding { row_id, utilisation: u, what, in_case, by_how_much, what_then, what_helps }
    };
    vec![
        finding(
            "FL-2",
            3.481,
            [
                "The front bush bolt slips",
                "P1, pothole while braking, left wheel",
                "7.53 kN sideways; the painted faces can hold 2.16 kN",
                "It slides until the bolt bears, and the joint works loose.",
                "Bare faces and a larger bolt: 0.79",
            ],
        ),
        finding(
            "FL-7",
            1.647,
            [
                "The rail web under the bracket bends",
                "P1, pothole while braking, left wheel",
                "It needs 2.82 mm of wall; 2.2 mm are left.",
                "The wall yields beside the weld.",
                "An outside doubler of 3 mm: 0.32",
            ],
        ),
    ]
}

fn mounts() -> Vec<v1::MountAnswer> {
    let peak = [3.481, 1.12, 0.75, 0.62];
    MOUNTS
        .iter()
        .zip(peak)
        .map(|((id, name, place), peak)| v1::MountAnswer {
            id: (*id).to_owned(),
            name: (*name).to_owned(),
            at: Some(at(*place)),
            governing_row_id: format!("{id}-2"),
            utilisation_by_case: SHARES.map(|s| s * peak).to_vec(),
            carries: String::new(),
        })
        .collect()
}

fn cases() -> Vec<v1::CaseAnswer> {
    let tyre =
        |f: [f64; 3]| Some(v1::TyreForce { force_x_n: f[0], force_y_n: f[1], force_z_n: f[2] });
    CASES
        .iter()
        .zip(FORCES)
        .zip(INCOMING)
        .map(|(((name, title), forces), (left, right, springs))| {
            let total = |i: usize| forces.iter().map(|f| f[i]).sum::<f64>();
            v1::CaseAnswer {
                name: (*name).to_owned(),
                title: (*title).to_owned(),
                class: if matches!(*name, "P1" | "K1" | "D2") {
                    v1::CaseClass::Abuse.into()
                } else {
                    v1::CaseClass::Normal.into()
                },
                load_factor: 1.5,
                mirrored: false,
                tyre_left: tyre(left),
                tyre_right: tyre(right),
                spring_left_n: springs[0],
                spring_right_n: springs[1],
                resultant: Some(v1::Wrench {
                    force_x_n: total(0),
                    force_y_n: total(1),
                    force_z_n: total(2),
                    ..v1::Wrench::default()
                }),
                about: Some(at([20.0, 0.0, 430.0])),
                mount_forces: MOUNTS
                    .iter()
                    .zip(forces)
                    .map(|((id, ..), f)| v1::MountForce {
                        mount_id: (*id).to_owned(),
                        force_x_n: f[0],
                        force_y_n: f[1],
                        force_z_n: f[2],
                        travel: Some(at([0.4, 0.2, -0.9])),
                        stop_closed: false,
                    })
                    .collect(),
                cargo_forces: Vec::new(),
                assumptions: if *name == "P1" {
                    vec!["Brake locked, force at the ground.".to_owned()]
                } else {
                    Vec::new()
                },
            }
        })
        .collect()
}

fn walks() -> Vec<v1::LoadWalk> {
    let walk = |mount: &str, stations: &[&str], closed| v1::LoadWalk {
        mount_id: mount.to_owned(),
        stations: stations.iter().map(|s| (*s).to_owned()).collect(),
        r#loop: closed,
    };
    vec![
        walk(
            "FL",
            &[
                "bolt.front-bush left",
                "part.front-bracket left",
                "weld.front-foot left",
                "rail.frame left",
            ],
            false,
        ),
        walk(
            "RL",
            &[
                "bolt.rear-bush left",
                "part.cross",
                "part.cross-end left",
                "bolt.cross-end left",
                "rail.frame left",
            ],
            true,
        ),
    ]
}

fn interface() -> v1::InterfaceAnswer {
    v1::InterfaceAnswer {
        name: "front-bracket | rail.frame left".to_owned(),
        mount_id: "FL".to_owned(),
        joints: vec!["weld.front-foot left".to_owned()],
        about: Some(at([330.0, 425.0, 460.0])),
        wrenches: FORCES
            .iter()
            .map(|f| v1::Wrench {
                force_x_n: f[0][0],
                force_y_n: f[0][1],
                force_z_n: f[0][2],
                moment_x_nmm: 55.0 * f[0][2],
                moment_y_nmm: -40.0 * f[0][0],
                moment_z_nmm: -55.0 * f[0][0],
            })
            .collect(),
        assumption: String::new(),
    }
}

fn guesses() -> Vec<v1::Guess> {
    let guess = |path: &str, what: &str, value: &str, ends: Option<(f64, f64)>| v1::Guess {
        field_path: path.to_owned(),
        what: what.to_owned(),
        value: value.to_owned(),
        utilisation_low: ends.map(|e| e.0),
        utilisation_high: ends.map(|e| e.1),
        row_id: "FL-2".to_owned(),
    };
    vec![
        guess("brakes.rear_share", "rear share of braking", "0.40", None),
        guess(
            "bushes[0].radial",
            "bush, sideways stiffness",
            "3500 N/mm, half to double",
            Some((2.71, 3.92)),
        ),
        guess(
            "bolts[0].friction",
            "friction of the clamped faces",
            "0.12 ± 0.03",
            Some((4.64, 2.78)),
        ),
        guess("springs.motion_ratio", "spring motion ratio", "0.72 ± 0.05", Some((3.46, 3.51))),
    ]
}
