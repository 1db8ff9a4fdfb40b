//! The demo designs of a van: forces, wrenches across joints, checks, and which of them fail.
//!
//! The projects are the demo files `clients/cli/demo/van-a.toml`, `van-b.toml` and `van-c.toml` as
//! the command line reads them, in canonical JSON; `tests/interop/run.py` compares the two.

use std::sync::OnceLock;

use fishplate_proto::json::from_json;
use fishplate_proto::v1;
use fishplate_proto::v1::{State, Verdict};
use fishplate_tests::project::{case_of, checked, on_body};
use fishplate_tests::sheet::{Line, Sheet, assert_close};

pub(crate) const VAN_A: &str = include_str!("../../data/van_a_answers.json");
pub(crate) const VAN_B: &str = include_str!("../../data/van_b_answers.json");
const NAMES: [&str; 10] = ["S0", "V3", "D1", "D2", "B1", "B2", "C1", "P1", "K1", "T1"];

fn van_a() -> &'static v1::CheckProjectResponse {
    static ANSWER: OnceLock<v1::CheckProjectResponse> = OnceLock::new();
    ANSWER.get_or_init(|| answer(include_str!("../../data/van_a.json")))
}

fn van_b() -> &'static v1::CheckProjectResponse {
    static ANSWER: OnceLock<v1::CheckProjectResponse> = OnceLock::new();
    ANSWER.get_or_init(|| answer(include_str!("../../data/van_b.json")))
}

fn van_c() -> &'static v1::CheckProjectResponse {
    static ANSWER: OnceLock<v1::CheckProjectResponse> = OnceLock::new();
    ANSWER.get_or_init(|| answer(include_str!("../../data/van_c.json")))
}

fn answer(project: &str) -> v1::CheckProjectResponse {
    checked(&from_json("Project", project).expect("the fixture is a project"))
}

/// Where an expected wrench stands in the answer.
struct Cut {
    /// Its name in the data.
    name: &'static str,
    /// The two sides in the answer.
    sides: [&'static str; 2],
    /// How the ends were held, where the answer says so.
    assumption: &'static str,
    /// Where the data takes its moments; the interface's own place where that is the same.
    about: Option<[f64; 3]>,
}

fn cut(name: &'static str, sides: [&'static str; 2], about: Option<[f64; 3]>) -> Cut {
    Cut { name, sides, assumption: "", about }
}

const PINNED: &str = "rear end plate on web, pinned";
const CLAMPED: &str = "rear end plate on web, clamped";

fn ends(name: &'static str, sides: [&'static str; 2], about: [f64; 3]) -> Cut {
    let assumption = if name == PINNED { "pinned" } else { "clamped" };
    Cut { name, sides, assumption, about: Some(about) }
}

fn cuts_a() -> Vec<Cut> {
    let rear = [-280.0, 422.0, 470.0];
    let front = ["front-bracket left", "rail.frame left"];
    vec![
        cut("front bracket on web", front, Some([330.0, 425.0, 460.0])),
        ends(PINNED, ["cross-end left", "rail.frame left"], rear),
        ends(CLAMPED, ["cross-end left", "rail.frame left"], rear),
    ]
}

fn cuts_b() -> Vec<Cut> {
    let rear = [-280.0, 419.0, 477.5];
    let doubler = ["front-doubler left", "rail.frame left"];
    vec![
        // The data rounds the centroid of these beads; both take moments about it.
        cut("front bracket+gussets on doubler", ["front-bracket left", "front-doubler left"], None),
        cut("front doubler on web", doubler, Some([330.0, 425.0, 460.0])),
        // The end plate lies on a backing plate that is welded to the web.
        ends(PINNED, ["cross-end left", "rear-backing left"], rear),
        ends(CLAMPED, ["cross-end left", "rear-backing left"], rear),
    ]
}

/// Where an expected row stands in the answer: its name in the data, the component, words of what
/// is checked.
type Check = (&'static str, &'static str, &'static [&'static str]);

const BUSH_BOLT: &str = "bolt.front-bush left";
const FOOT: &str = "weld.front-foot left";

/// Rows of the front mount that both designs have.
const CHECKS: [Check; 7] = [
    ("F1", FOOT, &["simplified"]),
    ("F4", "rail.frame left.web", &["bending of the wall under the foot"]),
    ("F7", BUSH_BOLT, &["slip", "torque wrench", "without load factor"]),
    ("F8", BUSH_BOLT, &["bolt in shear"]),
    ("F9", BUSH_BOLT, &["bolt in tension"]),
    ("F10", BUSH_BOLT, &["shear and tension together"]),
    ("F11", BUSH_BOLT, &["bearing of the ply"]),
];

fn row(answer: &v1::CheckProjectResponse, (_, part, words): Check) -> &v1::Row {
    let fits = |row: &&v1::Row| {
        row.mount_id == "FL"
            && row.component.contains(part)
            && words.iter().all(|word| row.what.contains(word))
            && !(words == ["bolt in shear"] && row.what.contains("together"))
    };
    let found = answer.rows.iter().find(fits);
    found.unwrap_or_else(|| panic!("no row of {part} that says {words:?}"))
}

fn mounts(sheets: &mut Vec<Line>, data: &str, van: &str, answer: &v1::CheckProjectResponse) {
    for name in NAMES {
        let case = case_of(answer, name);
        let mut sheet = Sheet::of(data, &format!("{van} mounts {name}"));
        for mount in ["FL", "FR", "RL", "RR"] {
            let [x, y, z] = on_body(case, mount);
            for (axis, value) in [("x", x), ("y", y), ("z", z)] {
                sheet.got(&format!("{mount} F{axis} on body"), value);
            }
        }
        sheets.extend(sheet.lines());
    }
}

fn place_of(answer: &v1::CheckProjectResponse, name: &str) -> usize {
    let found = answer.cases.iter().position(|case| case.name == name && !case.mirrored);
    found.unwrap_or_else(|| panic!("no case {name}"))
}

fn wrenches(
    sheets: &mut Vec<Line>,
    data: &str,
    van: &str,
    cuts: &[Cut],
    answer: &v1::CheckProjectResponse,
) {
    for Cut { name, sides, assumption, about } in cuts {
        let found = answer.interfaces.iter().find(|interface| {
            sides.iter().all(|side| interface.name.contains(side))
                && interface.assumption.contains(assumption)
        });
        let interface = found.unwrap_or_else(|| panic!("no interface of {sides:?}"));
        let own = interface.about.expect("an interface tells where its moments are taken");
        let own = [own.x_mm, own.y_mm, own.z_mm];
        let about = about.unwrap_or(own);
        let arm = [0, 1, 2].map(|i| own[i] - about[i]);
        for case in NAMES {
            let w = interface.wrenches[place_of(answer, case)];
            let force = [w.force_x_n, w.force_y_n, w.force_z_n];
            let moment = [w.moment_x_nmm, w.moment_y_nmm, w.moment_z_nmm];
            let mut sheet = Sheet::of(data, &format!("{van} {name} {case}"));
            for (i, axis) in ["x", "y", "z"].iter().enumerate() {
                let (j, k) = ((i + 1) % 3, (i + 2) % 3);
                sheet.got(&format!("F{axis}"), force[i]);
                let moved = moment[i] + arm[j] * force[k] - arm[k] * force[j];
                sheet.got(&format!("M{axis}"), moved / 1e3);
            }
            sheets.extend(sheet.lines());
        }
    }
}

fn checks(
    sheets: &mut Vec<Line>,
    data: &str,
    van: &str,
    list: &[Check],
    answer: &v1::CheckProjectResponse,
) {
    for check in list {
        let found = row(answer, *check);
        let mut sheet = Sheet::of(data, &format!("{van} row {}", check.0));
        for case in NAMES {
            // A row that is not checked has no numbers.
            let value = found.utilisation_by_case.get(place_of(answer, case));
            sheet.got(case, value.copied().unwrap_or(f64::NAN));
        }
        sheets.extend(sheet.lines());
    }
}

/// The directional method of a weld: the answer tells its governing case, beside the simplified.
fn directional(
    sheets: &mut Vec<Line>,
    id: &str,
    data: &str,
    part: &'static str,
    answer: &v1::CheckProjectResponse,
) {
    let found = row(answer, ("", part, &["simplified"]));
    let other = found.alternatives.iter().find(|other| other.what.contains("directional"));
    let mut sheet = Sheet::of(data, id);
    sheet.got("governing case", other.and_then(|other| other.utilisation).unwrap_or(f64::NAN));
    sheets.extend(sheet.lines());
}

pub(crate) fn lines_a() -> Vec<Line> {
    let answer = van_a();
    let mut lines = Vec::new();
    mounts(&mut lines, VAN_A, "van A", answer);
    wrenches(&mut lines, VAN_A, "van A", &cuts_a(), answer);
    checks(&mut lines, VAN_A, "van A", &CHECKS, answer);
    checks(&mut lines, VAN_A, "van A", &[("F3", FOOT, &["sheet beside the bead"])], answer);
    directional(&mut lines, "van A row F2", VAN_A, FOOT, answer);
    lines
}

pub(crate) fn lines_b() -> Vec<Line> {
    let answer = van_b();
    let mut lines = Vec::new();
    mounts(&mut lines, VAN_B, "van B", answer);
    wrenches(&mut lines, VAN_B, "van B", &cuts_b(), answer);
    checks(&mut lines, VAN_B, "van B", &CHECKS, answer);
    let doubler = "weld.front-doubler left";
    let more: [Check; 2] =
        [("F1d", doubler, &["simplified"]), ("F3", doubler, &["sheet beside the bead"])];
    checks(&mut lines, VAN_B, "van B", &more, answer);
    directional(&mut lines, "van B row F2", VAN_B, FOOT, answer);
    directional(&mut lines, "van B row F2d", VAN_B, doubler, answer);
    let sleeve = row(answer, ("F15", "part.front-sleeve left", &["preload"]));
    let mut sheet = Sheet::of(VAN_B, "van B row F15");
    sheet.got("tightened, without load", sleeve.utilisation.unwrap_or(f64::NAN));
    lines.extend(sheet.lines());
    lines
}

#[test]
fn design_a_carries_its_loads_as_recomputed() {
    assert_close(&lines_a());
}

#[test]
fn design_b_carries_its_loads_as_recomputed() {
    assert_close(&lines_b());
}

#[test]
fn design_a_fails_by_its_slipping_bolt_and_its_rusted_web() {
    let answer = van_a();
    assert_eq!(answer.verdict(), Verdict::DoesNotHold, "{}", answer.sentence);
    for place in [2, 1] {
        let found = row(answer, CHECKS[place]);
        assert_eq!(found.state(), State::Exceeds, "{}", found.what);
        assert_eq!(found.case_name, "P1", "{}", found.what);
        let told = answer.findings.iter().find(|finding| finding.row_id == found.id);
        let told = told.unwrap_or_else(|| panic!("{} exceeds and is not told", found.id));
        assert!(told.in_case.starts_with("P1"), "{}", told.in_case);
        assert!(!told.what_helps.is_empty());
    }
}

#[test]
fn design_b_exceeds_nothing_and_tells_what_it_leaves_open() {
    let answer = van_b();
    assert_ne!(answer.verdict(), Verdict::DoesNotHold, "{}", answer.sentence);
    assert!(answer.findings.is_empty(), "{:?}", answer.findings);
    for row in &answer.rows {
        assert_ne!(row.state(), State::Exceeds, "{} {}", row.id, row.what);
        if row.state() == State::NotChecked {
            assert!(!row.not_checked_reason.is_empty(), "{} {}", row.id, row.what);
            assert!(row.utilisation.is_none(), "{} has a number and is not checked", row.id);
        }
    }
    if answer.verdict() == Verdict::Provisional {
        assert!(!answer.provisional_reasons.is_empty());
    }
}

#[test]
fn design_c_can_be_built_and_holds() {
    let answer = van_c();
    assert_eq!(answer.verdict(), Verdict::Holds, "{}", answer.sentence);
    assert!(answer.clashes.is_empty(), "{:?}", answer.clashes);
    assert!(answer.findings.is_empty(), "{:?}", answer.findings);
    for row in &answer.rows {
        assert_eq!(row.state(), State::Holds, "{} {}", row.id, row.what);
    }
    assert!(!answer.cautions.is_empty(), "even what holds is shown with its cautions");
}

/// The place of each case's mirror image.
fn mirrored(answer: &v1::CheckProjectResponse) -> Vec<usize> {
    let cases = &answer.cases;
    let twin = |place: usize| {
        let plain = cases[place].name.trim_end_matches(" right");
        let other = cases.iter().position(|case| {
            case.name.trim_end_matches(" right") == plain && case.mirrored != cases[place].mirrored
        });
        other.unwrap_or(place)
    };
    (0..cases.len()).map(twin).collect()
}

#[test]
fn each_side_is_checked_as_the_other_under_mirrored_loads() {
    let across = |text: &str| text.replace("left", "right");
    // Design C has readings of its own on the right.
    for van in [van_a(), van_b()] {
        let twins = mirrored(van);
        for (one, other) in [("FL", "FR"), ("RL", "RR")] {
            let of = |mount: &'static str| van.rows.iter().filter(move |r| r.mount_id == mount);
            assert!(of(one).count() > 5 && of(one).count() == of(other).count(), "{one} {other}");
            for row in of(one) {
                let same = |r: &&v1::Row| {
                    r.component == across(&row.component) && r.what == across(&row.what)
                };
                let id = &row.id;
                let twin = of(other).find(same).unwrap_or_else(|| panic!("{id} has no twin"));
                assert_eq!(row.state(), twin.state(), "{id} {}", row.what);
                for (here, there) in twins.iter().enumerate() {
                    let (Some(a), Some(b)) =
                        (row.utilisation_by_case.get(here), twin.utilisation_by_case.get(*there))
                    else {
                        continue;
                    };
                    let case = &van.cases[here].name;
                    assert!((a - b).abs() <= 1e-9 * (1.0 + a.abs()), "{id} {case}: {a}, {b}");
                }
            }
        }
    }
}

#[test]
fn what_cannot_be_built_is_told_in_both_designs() {
    // The rear mount lies inside the C rail, and the washer of its bolt meets the end plate.
    for van in [van_a(), van_b()] {
        let clashes = &van.clashes;
        let told = |a: &str, b: &str| {
            clashes.iter().any(|clash| clash.what.contains(a) && clash.what.contains(b))
        };
        assert!(told("mount rear left", "rail.frame left"), "{clashes:?}");
        assert!(told("bolt.rear-bush left", "part.cross-end left"), "{clashes:?}");
    }
}
