//! A made-up answer, to lay out. Its numbers mean nothing.

use fishplate_proto::v1::{
    Alternative, CaseAnswer, CheckProjectResponse, Clash, Finding, Guess, LoadWalk, MountAnswer,
    MountForce, Position, Row, Stamp, State, Totals, Verdict,
};

pub(super) fn answer() -> CheckProjectResponse {
    CheckProjectResponse {
        verdict: Verdict::DoesNotHold as i32,
        sentence: "2 checks exceed.".to_owned(),
        title: "Light van, rear cradle, design A".to_owned(),
        findings: vec![
            finding(
                "FL-2",
                3.48,
                [
                    "Front-left bush bolt slips",
                    "P1, pothole while braking, left wheel",
                    "7.53 kN sideways; the painted faces can hold 2.16 kN",
                    "it slides until the bolt bears; the bolt itself holds, 0.31",
                    "bare faces, M14-10.9, washer 28 × 4, 218 N m: 0.79",
                ],
            ),
            finding(
                "FR-2",
                3.48,
                ["Front-right bush bolt slips", "P1", "the same", "the same", "the same"],
            ),
            finding(
                "FL-7",
                1.65,
                [
                    "Rail web under the bracket bends",
                    "P1; also K1, 1.46",
                    "needs 2.82 mm of wall; 2.2 mm measured, 3.0 when new",
                    "the wall yields beside the weld; the mount can tear out",
                    "doubler 3 mm, 200 × 84, and a bracket 110 wide: 0.32",
                ],
            ),
        ],
        mounts: vec![
            mount("FL", "front left", 480.0, [0.07, 0.94, 3.48, 2.25]),
            mount("FR", "front right", -480.0, [0.07, 0.94, 3.48, 2.25]),
        ],
        cases: ["S0", "D2", "P1", "K1"].map(case).to_vec(),
        rows: ["FL", "FR"].into_iter().flat_map(rows).collect(),
        clashes: vec![Clash {
            what: "mount.rear lies inside rail.frame".to_owned(),
            r#where: "y 380 to 425 mm".to_owned(),
            advice: "move the mount inboard".to_owned(),
            field_path: "mounts[1].at".to_owned(),
        }],
        assumptions: vec!["bush height above the clamped face taken as 0".to_owned()],
        guesses: vec![
            Guess {
                field_path: "bushes[0].radial".to_owned(),
                what: "rubber, radial stiffness".to_owned(),
                value: "3500 N/mm".to_owned(),
                utilisation_low: Some(3.99),
                utilisation_high: Some(3.33),
                row_id: "FL-2".to_owned(),
            },
            Guess {
                field_path: "drive.grip".to_owned(),
                what: "grip of the driven tyres".to_owned(),
                value: "0.9".to_owned(),
                ..Guess::default()
            },
        ],
        not_covered: vec!["the cradle itself".to_owned()],
        cautions: vec![
            "An aid for a competent person, on the data entered. It approves no vehicle."
                .to_owned(),
        ],
        walks: vec![LoadWalk {
            mount_id: "FL".to_owned(),
            stations: ["bolt.front-bush", "part.front-bracket", "weld.front-foot", "rail.frame"]
                .map(str::to_owned)
                .to_vec(),
            r#loop: false,
        }],
        totals: Some(Totals { part_mass_kg: 10.57, weld_length_mm: 960.0, bolt_count: 8 }),
        stamp: Some(Stamp {
            engine_version: "0.0.0".to_owned(),
            rules: "EN 1993".to_owned(),
            project_hash: "abcdef".to_owned(),
            largest_imbalance: 1e-15,
        }),
        ..CheckProjectResponse::default()
    }
}

fn finding(row: &str, utilisation: f64, words: [&str; 5]) -> Finding {
    let [what, in_case, by_how_much, what_then, what_helps] = words.map(str::to_owned);
    let row_id = row.to_owned();
    Finding { row_id, utilisation, what, in_case, by_how_much, what_then, what_helps }
}

fn mount(id: &str, name: &str, y_mm: f64, by_case: [f64; 4]) -> MountAnswer {
    MountAnswer {
        id: id.to_owned(),
        name: name.to_owned(),
        at: Some(Position { x_mm: 330.0, y_mm, z_mm: 420.0 }),
        governing_row_id: format!("{id}-2"),
        utilisation_by_case: by_case.to_vec(),
        carries: String::new(),
    }
}

fn case(name: &str) -> CaseAnswer {
    let force = |mount: &str, sign: f64| MountForce {
        mount_id: mount.to_owned(),
        force_x_n: -7137.0,
        force_y_n: sign * 2403.0,
        force_z_n: -5298.0,
        ..MountForce::default()
    };
    CaseAnswer {
        name: name.to_owned(),
        title: if name == "P1" { "pothole while braking, left wheel" } else { "a case" }.to_owned(),
        load_factor: 1.5,
        mount_forces: vec![force("FL", 1.0), force("FR", -1.0)],
        ..CaseAnswer::default()
    }
}

fn rows(mount: &str) -> Vec<Row> {
    let side = if mount == "FL" { "left" } else { "right" };
    let make =
        |number: u32, component: &str, words: [&str; 2], use_of: Option<f64>, case: &str| Row {
            id: format!("{mount}-{number}"),
            mount_id: mount.to_owned(),
            component: format!("{component} {side}"),
            what: words[0].to_owned(),
            short_what: words[1].to_owned(),
            state: match use_of {
                None => State::NotChecked,
                Some(u) if u > 1.0 => State::Exceeds,
                Some(_) => State::Holds,
            } as i32,
            utilisation: use_of,
            case_name: case.to_owned(),
            ..Row::default()
        };
    let number = |row: Row, demand, resistance, unit: &str| Row {
        demand,
        resistance,
        unit: unit.to_owned(),
        ..row
    };
    let bolt = "bolt.front-bush";
    let why = "needs the plate level".to_owned();
    vec![
        number(
            make(
                1,
                "bush.rubber",
                ["Bush: travel before its stop, 5 mm", "bush: travel to its stop"],
                Some(0.62),
                "K1",
            ),
            3.09,
            5.0,
            "mm",
        ),
        number(
            make(
                2,
                bolt,
                ["Bush bolt, M12-8.8: clamped faces slip", "bush bolt: faces slip"],
                Some(3.48),
                "P1",
            ),
            7530.0,
            2160.0,
            "N",
        ),
        Row {
            alternatives: vec![Alternative {
                what: "shank instead of thread in the plane".to_owned(),
                utilisation: Some(0.25),
                case_name: "P1".to_owned(),
                note: "the thread reaches into the plane".to_owned(),
            }],
            notes: vec!["holds only once it has slipped".to_owned()],
            ..make(
                3,
                bolt,
                [
                    "Bush bolt, M12-8.8: shear with tension, once it has slipped",
                    "bush bolt: shear with tension",
                ],
                Some(0.31),
                "P1",
            )
        },
        Row {
            not_checked_reason: why,
            ..make(
                5,
                "part.front-bracket",
                ["Bracket, folded U, 5 mm: twist of the open U", "bracket: twist of the open U"],
                None,
                "",
            )
        },
        number(
            make(
                7,
                "rail.frame",
                ["Rail web under the foot, 2.2 mm: wall bending", "rail web 2.2 mm: wall bending"],
                Some(1.65),
                "P1",
            ),
            1.098,
            1.0,
            "",
        ),
    ]
}
