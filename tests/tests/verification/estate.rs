//! The demo designs of an estate car with thin rails, and of the battery box in its nose.
//!
//! The projects are the demo files `clients/cli/demo/estate.toml` and `estate-base.toml` as the
//! command line reads them, in canonical JSON; `tests/interop/run.py` compares the two.

use std::sync::OnceLock;

use fishplate_proto::json::from_json;
use fishplate_proto::v1;
use fishplate_proto::v1::{State, Verdict};
use fishplate_tests::project::{case_of, checked, on_body};
use fishplate_tests::sheet::{Line, Sheet, assert_close};

pub(crate) const DATA: &str = include_str!("../../data/estate_answers.json");

fn answer(project: &str) -> v1::CheckProjectResponse {
    checked(&from_json("Project", project).expect("the fixture is a project"))
}

fn reinforced() -> &'static v1::CheckProjectResponse {
    static ANSWER: OnceLock<v1::CheckProjectResponse> = OnceLock::new();
    ANSWER.get_or_init(|| answer(include_str!("../../data/estate.json")))
}

fn base() -> &'static v1::CheckProjectResponse {
    static ANSWER: OnceLock<v1::CheckProjectResponse> = OnceLock::new();
    ANSWER.get_or_init(|| answer(include_str!("../../data/estate_base.json")))
}

fn row<'a>(
    answer: &'a v1::CheckProjectResponse,
    mount: &str,
    part: &str,
    words: &[&str],
) -> &'a v1::Row {
    let fits = |row: &&v1::Row| {
        row.mount_id == mount
            && row.component.contains(part)
            && words.iter().all(|word| row.what.contains(word))
    };
    let found = answer.rows.iter().find(fits);
    found.unwrap_or_else(|| panic!("no row of {part} that says {words:?}"))
}

fn in_case(answer: &v1::CheckProjectResponse, row: &v1::Row, name: &str) -> f64 {
    let case = answer.cases.iter().position(|case| case.name == name);
    row.utilisation_by_case[case.unwrap_or_else(|| panic!("no case {name}"))]
}

const WALL: [&str; 1] = ["bending of the wall under the foot"];

pub(crate) fn lines() -> Vec<Line> {
    let car = reinforced();
    let mut wall = Sheet::of(DATA, "estate rear wall");
    let found = row(car, "RL", "rail.back left.inner-wall", &WALL);
    for case in ["V3", "P1", "K1", "T1"] {
        wall.got(case, in_case(car, found, case));
    }
    let alone = found.alternatives.iter().find(|other| other.what.contains("the old wall alone"));
    let alone = alone.expect("what the wall would take alone is shown beside it");
    wall.got("P1, wall alone", alone.utilisation.unwrap_or(f64::NAN));
    let mut weld = Sheet::of(DATA, "estate rear foot weld");
    let found = row(car, "RL", "weld.rear-foot left", &["simplified"]);
    for case in ["P1", "T1", "V3"] {
        weld.got(case, in_case(car, found, case));
    }
    let mut front = Sheet::of(DATA, "estate front joint");
    let found = row(car, "FL", "bolt.front left", &["bush bolt", "slip", "torque wrench"]);
    front.got("slip K1", in_case(car, found, "K1"));
    front.got("slip P1", in_case(car, found, "P1"));
    let found = row(car, "FL", "part.front-sleeve left", &["full preload"]);
    front.got("sleeve 22 x 13 of S355 under the preload", found.utilisation.unwrap_or(f64::NAN));
    let mut foot = Sheet::of(DATA, "estate battery foot");
    let found = row(car, "BFL", "bolt.battery-front left", &["bolt in shear"]);
    foot.got("shear R1", in_case(car, found, "R1"));
    let mut hollow = Sheet::of(DATA, "estate base hollow");
    let found = row(base(), "FL", "rail.front left.bottom", &["without a sleeve"]);
    hollow.got("preload over what the wall takes", found.utilisation.unwrap_or(f64::NAN));
    let mut bare = Sheet::of(DATA, "estate base rear wall");
    let found = row(base(), "RL", "rail.back left.inner-wall", &WALL);
    bare.got("P1", in_case(base(), found, "P1"));
    [wall, weld, front, foot, hollow, bare].into_iter().flat_map(Sheet::lines).collect()
}

#[test]
fn the_rows_of_an_estate_come_out_as_recomputed() {
    assert_close(&lines());
}

/// The reinforced kit: nothing exceeds, nothing is left open but what is guessed.
#[test]
fn the_reinforced_kit_waits_for_measurements_only() {
    let car = reinforced();
    assert_eq!(car.verdict(), Verdict::Provisional, "{}", car.sentence);
    assert!(car.rows.iter().all(|row| row.state() == State::Holds), "{}", car.sentence);
    assert!(car.clashes.is_empty(), "{:?}", car.clashes);
    let open = &car.provisional_reasons;
    assert!(!open.is_empty() && open.iter().all(|why| why.starts_with("guessed: ")), "{open:?}");
    let feet: Vec<&str> =
        car.mounts.iter().filter(|m| m.carries == "battery").map(|m| m.id.as_str()).collect();
    assert_eq!(feet, ["BFL", "BFR", "BRL", "BRR"]);
    for foot in feet {
        assert!(car.rows.iter().filter(|row| row.mount_id == foot).count() > 10, "{foot}");
    }
}

/// The base kit: the block clamps a hollow that folds in, and the rear foot tears at a thin wall.
#[test]
fn the_base_kit_fails_at_the_hollow_and_at_the_thin_wall() {
    let car = base();
    assert_eq!(car.verdict(), Verdict::DoesNotHold, "{}", car.sentence);
    let worst = car.findings.first().expect("something exceeds");
    assert!(worst.what.contains("folds in under the preload of bolt.front"), "{}", worst.what);
    let told = |words: &str| car.findings.iter().any(|finding| finding.what.contains(words));
    assert!(told("inner-wall of rail.back bends under the foot of part.rear-bracket"));
    // What is bolted down the same in both kits fails in neither.
    let battery = |row: &&v1::Row| row.mount_id.starts_with('B');
    assert!(car.rows.iter().filter(battery).all(|row| row.state() == State::Holds));
}

/// A box that is heavier on the left pulls harder there: the sides are no mirror images, and neither
/// is left out.
#[test]
fn the_feet_of_a_lopsided_box_are_told_on_both_sides() {
    let car = reinforced();
    let case = case_of(car, "R1");
    let along = |foot: &str| on_body(case, foot)[0];
    assert!(along("BFL") > along("BFR") + 100.0 && along("BRL") > along("BRR") + 100.0);
    let bearing = |foot: &str, side: &str| {
        let part = format!("bolt.battery-front {side}");
        in_case(car, row(car, foot, &part, &["bolt in shear"]), "R1")
    };
    assert!(bearing("BFL", "left") > bearing("BFR", "right"));
}

/// Slip is a matter of service: in a crash the joint may slip once, and its bolt then bears.
#[test]
fn no_slip_is_asked_for_in_a_crash() {
    let car = reinforced();
    let slip = row(car, "BFL", "bolt.battery-front left", &["slip", "torque wrench"]);
    assert!(in_case(car, slip, "R1").abs() < 1e-12);
    assert!(in_case(car, slip, "B1") > 0.0);
    let bearing = row(car, "BFL", "bolt.battery-front left", &["bearing"]);
    assert!(in_case(car, bearing, "R1") > 0.0);
    assert!(car.assumptions.iter().any(|a| a.contains("ISO 12991") && a.contains("slip")));
}
