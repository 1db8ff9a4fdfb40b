//! Welds, brackets and bolts under loads that come back.
//!
//! Forces of each case by statics (`bench`), the range between two states of a family by taking
//! them apart, and the damage by the curves: EN 1993-1-9:2005, 7.1 and A.5, categories 36 and 80 on
//! the throat (Table 8.5 (3) and (8)), 80 at a toe (Table 8.5 (1)), 50 of a thread (Table 8.1 (14)),
//! gamma_Mf 1.35 for safe life and high consequence (Table 3.1); IIW-1823-07, FAT 36 and 80, 1.4,
//! sum of 0.5; AISC 360-16, Table, categories C, F and G. All from memory, computed here anew.

use std::f64::consts::PI;

use fishplate_proto::v1;
use fishplate_proto::v1::{CaseKind, LoadFamily, State};
use fishplate_tests::project::{case, case_of, g, mm, on_body};

use crate::bench::{FORWARD, UP, assert_near, check, corner, single_bracket};
use crate::welds::two_lines;

/// Way of the duties, km; so many cycles on 100 km are 100 000 in all.
const WAY: f64 = 200_000.0;
const OFTEN: f64 = 50.0;
const CYCLES: f64 = 100_000.0;

/// Range of the upward force of a bump of 3 g: as far below rest as the bump is above it, N.
const BUMP: f64 = 2.0 * (3.0 - 1.0) * UP;

const ROOT: &str = "weld root under repeated force";
const ROOT_IIW: &str = "weld root under repeated force, IIW";
const CATEGORY: &str = "stress range by stress category";
const PULL: &str = "bolt under repeated pull";
const ENDURANCE: &str = "bolt under repeated pull, endurance limit";

fn throat() -> f64 {
    5.0 / 2.0_f64.sqrt()
}

fn blocks(family: LoadFamily, pairs: &[(f64, f64)]) -> v1::FamilyDuty {
    let block = |&(share, per_100_km): &(f64, f64)| v1::DutyBlock { share, per_100_km };
    let mut duty =
        v1::FamilyDuty { blocks: pairs.iter().map(block).collect(), ..Default::default() };
    duty.set_family(family);
    duty
}

/// A bracket with two upright fillets of 5 mm, the cases of every family, and these duties.
fn lasting(families: Vec<v1::FamilyDuty>) -> v1::Project {
    let mut p = single_bracket(5.0);
    let bump = v1::LoadCase { field: g(3.0), ..case("bump", CaseKind::Bump) };
    p.cases.extend([bump, case("drive", CaseKind::Drive), corner()]);
    p.duty = Some(v1::Duty { distance_km: WAY, assumed: false, families });
    p
}

fn bumps(pairs: &[(f64, f64)]) -> v1::Project {
    lasting(vec![blocks(LoadFamily::Vertical, pairs)])
}

fn american(mut p: v1::Project) -> v1::Project {
    p.rules = Some(v1::Rules { pack: "AISC 360".to_owned(), ..Default::default() });
    p.weld_metal = Some(v1::Stress { value_mpa: 482.0, ..Default::default() });
    p
}

/// The row of a component with this title.
#[track_caller]
fn titled<'a>(a: &'a v1::CheckProjectResponse, component: &str, title: &str) -> &'a v1::Row {
    let end = format!(": {title}");
    let own: Vec<_> = a.rows.iter().filter(|r| r.component == component).collect();
    let found: Vec<_> = own.iter().filter(|r| r.what.ends_with(&end)).collect();
    let told: Vec<_> = own.iter().map(|r| &r.what).collect();
    assert_eq!(found.len(), 1, "rows of {component} called {title}: {told:#?}");
    found[0]
}

#[track_caller]
fn use_of(a: &v1::CheckProjectResponse, component: &str, title: &str) -> f64 {
    let row = titled(a, component, title);
    row.utilisation.unwrap_or_else(|| panic!("{}: {}", row.what, row.not_checked_reason))
}

fn root(a: &v1::CheckProjectResponse) -> f64 {
    use_of(a, "weld.foot left", ROOT)
}

/// Damage by normal stress: slope 3 to 5 million cycles, 5 to 100 million, then none.
fn damage(category: f64, range: f64, cycles: f64) -> f64 {
    let at_2e6 = category / 1.35;
    let limit = (2.0_f64 / 5.0).cbrt() * at_2e6;
    let cut_off = 0.05_f64.powf(0.2) * limit;
    if range < cut_off {
        0.0
    } else if range < limit {
        cycles / (5e6 * (limit / range).powi(5))
    } else {
        cycles / (2e6 * (at_2e6 / range).powi(3))
    }
}

/// Range across and along the throat at the ends of the two lines under an upward range, MPa.
fn on_throat(range: f64) -> [f64; 2] {
    let across = 55.0 * range * 40.0 / (256_000.0 / 3.0);
    [across / throat(), range / 160.0 / throat()]
}

#[test]
fn one_block_of_bumps_on_the_root_of_two_lines() {
    let a = check(&bumps(&[(1.0, OFTEN)]));
    let [across, along] = on_throat(BUMP);
    // Shear along the bead stays below its cut-off, (2/100)^(1/5) x 80/1.35.
    assert!(along < 0.02_f64.powf(0.2) * 80.0 / 1.35, "{along}");
    let by_hand = damage(36.0, across, CYCLES);
    let row = titled(&a, "weld.foot left", ROOT);
    assert_near("damage", row.utilisation.unwrap(), by_hand);
    assert_near("life", row.life_km.unwrap() / WAY, 1.0 / by_hand);
    assert!(row.clause.contains("EN 1993-1-9"), "{}", row.clause);
    assert!(row.notes.iter().any(|n| n.contains("200000 km")), "{:?}", row.notes);
    // IIW: knees at 10 million and 100 million cycles, slopes 3, 5 and 5, 9, no end.
    let sum = CYCLES / (2e6 * (36.0 / 1.4 / across).powi(3));
    let knee = 0.02_f64.powf(0.2) * 80.0 / 1.4;
    let shear = CYCLES / (1e8 * (knee / along).powi(9));
    let iiw = (sum / 0.5).powf(2.0 / 3.0) + (shear / 0.5).powf(0.4);
    assert_near("IIW", use_of(&a, "weld.foot left", ROOT_IIW), iiw);
    assert_near("right", use_of(&a, "weld.foot right", ROOT), by_hand);
}

#[test]
fn shares_of_the_swing_reach_both_slopes_and_the_cut_off() {
    // Ranges of all, a third and a quarter of the swing: slope 3, slope 5, and still above the
    // cut-off of 10.8 MPa; at 0.15 below it.
    let pairs = [(1.0, OFTEN), (1.0 / 3.0, 10.0 * OFTEN), (0.25, 20.0 * OFTEN), (0.15, 1e6)];
    let a = check(&bumps(&pairs));
    let [across, _] = on_throat(BUMP);
    let by_hand = damage(36.0, across, CYCLES)
        + damage(36.0, across / 3.0, 10.0 * CYCLES)
        + damage(36.0, across / 4.0, 20.0 * CYCLES);
    assert!(damage(36.0, 0.15 * across, 1.0) <= 0.0);
    assert_near("sum", root(&a), by_hand);
}

#[test]
fn a_record_does_the_damage_of_its_counted_cycles() {
    // ASTM E1049-85, 5.4.5, the history of its figures, repeated: ranges 9, 7, 4 and 3, once each.
    let history = [-2.0, 1.0, -3.0, 5.0, -1.0, 3.0, -4.0, 4.0, -2.0];
    let mut record = blocks(LoadFamily::Vertical, &[]);
    record.history = history.iter().map(|x| x / 9.0).collect();
    record.history_km = 2.0;
    let a = check(&lasting(vec![record]));
    let [across, _] = on_throat(BUMP);
    let by_hand: f64 =
        [9.0, 7.0, 4.0, 3.0].iter().map(|r| damage(36.0, r / 9.0 * across, CYCLES)).sum();
    assert_near("by hand", root(&a), by_hand);
    let counted = [9.0, 7.0, 4.0, 3.0].map(|r| (r / 9.0, OFTEN));
    let of_blocks = check(&bumps(&counted));
    for title in [ROOT, ROOT_IIW] {
        let [one, other] = [&a, &of_blocks].map(|a| use_of(a, "weld.foot left", title));
        assert!((one - other).abs() <= 1e-9 * other, "{title}: {one}, {other}");
    }
}

#[test]
fn families_add_their_damage() {
    // Bumps stress all four ends of the two lines alike, so the sum is worst where the other family
    // alone is worst.
    let up = blocks(LoadFamily::Vertical, &[(1.0, OFTEN)]);
    for (family, often) in [(LoadFamily::Drive, 4000.0), (LoadFamily::Corner, 400.0)] {
        let other = blocks(family, &[(1.0, often)]);
        let alone = root(&check(&lasting(vec![other.clone()])));
        assert!(alone > 1e-3, "{family:?} does harm: {alone}");
        let both = root(&check(&lasting(vec![other, up.clone()])));
        let [across, _] = on_throat(BUMP);
        assert_near("sum", both, alone + damage(36.0, across, CYCLES));
    }
}

#[test]
fn by_iiw_families_that_swing_apart_count_twice() {
    // IIW-1823-07, 4.3.1: where normal and shear stress do not rise and fall together the sum of
    // squares may reach 0.5, not 1. The second family is too small to do harm of its own.
    let up = blocks(LoadFamily::Vertical, &[(1.0, OFTEN)]);
    let hardly = blocks(LoadFamily::Corner, &[(0.001, 1e-3)]);
    let alone = use_of(&check(&lasting(vec![up.clone()])), "weld.foot left", ROOT_IIW);
    let both = use_of(&check(&lasting(vec![up, hardly])), "weld.foot left", ROOT_IIW);
    assert_near("twice", both, 2.0 * alone);
}

/// Stress range allowed for all cycles by AISC 360, Table, MPa.
fn allowed(constant: f64, thousands: f64, exponent: f64) -> f64 {
    6.894_757 * thousands * 1000.0 * (constant / CYCLES).powf(exponent)
}

#[test]
fn american_categories_of_throat_toe_and_thread() {
    let a = check(&american(bumps(&[(1.0, OFTEN)])));
    // F: all of the force as shear on the throat, exponent 0.167; 8 ksi threshold is passed.
    let [across, along] = on_throat(BUMP);
    let stress = across.hypot(along);
    assert!(stress > 8.0 * 6.894_757, "{stress}");
    let throat = titled(&a, "weld.foot left", CATEGORY);
    let r = stress / allowed(1.5, 0.1, 0.167);
    assert_near("F", throat.utilisation.unwrap(), r);
    assert_near("F, life", throat.life_km.unwrap() / WAY, 1.0 / r.powf(1.0 / 0.167));
    assert!(throat.clause.contains("AISC 360"), "{}", throat.clause);
    // C: the toe of the bracket under the bending at its root.
    let toe = titled(&a, "part.bracket left", CATEGORY);
    assert_near("C", toe.utilisation.unwrap(), toe_stress() / allowed(4.4, 1.0, 0.333));
    // G: hung from the bump down, the bolt carries 2 x 1962 - 3 x 1962 N upside down.
    let thread = use_of(&a, "bolt.bush left", CATEGORY);
    assert_table("G", thread, UP / m12() / allowed(3.9, 1.0, 0.333), 2e-4);
    // By that standard alone: no row of the other.
    assert!(a.rows.iter().all(|r| !r.clause.contains("EN 1993")), "{:?}", a.rows);
}

/// Bending at the root of the folded U under the range of bumps, MPa: floor 60 x 5, two walls of
/// 5 above it, 80 high in all; the force stands 55 mm off.
fn toe_stress() -> f64 {
    let (floor, walls): (f64, f64) = (60.0 * 5.0, 2.0 * 75.0 * 5.0);
    let middle: f64 = (floor * 2.5 + walls * 42.5) / (floor + walls);
    let inertia = 60.0 * 5.0_f64.powi(3) / 12.0
        + floor * (middle - 2.5).powi(2)
        + 2.0 * 5.0 * 75.0_f64.powi(3) / 12.0
        + walls * (42.5 - middle).powi(2);
    55.0 * BUMP * (80.0 - middle) / inertia
}

#[test]
fn the_toe_of_the_bracket_beside_its_weld() {
    let a = check(&bumps(&[(1.0, 100.0 * OFTEN)]));
    let by_hand = damage(80.0, toe_stress(), 100.0 * CYCLES);
    let row = titled(&a, "part.bracket left", "damage sum by normal stress");
    assert_near("toe", row.utilisation.unwrap(), by_hand);
    assert_near("life", row.life_km.unwrap() / WAY, 1.0 / by_hand);
}

/// Stress area of M12: π/4 ((d2 + d3)/2)² (ISO 898-1, 9.1.6.1; ISO 724).
fn m12() -> f64 {
    let h = 3.0_f64.sqrt() / 2.0 * 1.75;
    PI / 4.0 * (12.0 - (0.75 + 17.0 / 12.0) / 2.0 * h).powi(2)
}

/// Agreement of what rests on thread diameters, which tables round to a thousandth of a mm.
#[track_caller]
fn assert_table(what: &str, got: f64, want: f64, within: f64) {
    assert!((got - want).abs() <= within * want.abs(), "{what}: got {got}, by hand {want}");
}

/// Endurance limit of a rolled M12 over a safety of 1.2, MPa (VDI 2230 Part 1:2003, R9).
const ENDURES: f64 = 0.85 * (150.0 / 12.0 + 45.0) / 1.2;

#[test]
fn the_bush_bolt_is_pulled_and_never_pressed() {
    // The mount lies below the floor: a bump presses, hanging pulls. About rest, 1962 N pressing,
    // the full swing pulls 1962 N, three quarters of it 0.75 x 3924 - 1962 N, 0.4 of it nothing.
    let full = check(&bumps(&[(1.0, 20.0 * OFTEN)]));
    let range = UP / m12();
    assert_table("full", use_of(&full, "bolt.bush left", PULL), damage(50.0, range, 2e6), 1e-3);
    assert_table(
        "amplitude",
        use_of(&full, "bolt.bush left", ENDURANCE),
        range / 2.0 / ENDURES,
        2e-4,
    );
    let part = check(&bumps(&[(0.75, OFTEN)]));
    let range = (0.75 * 2.0 * UP - UP) / m12();
    let amplitude = use_of(&part, "bolt.bush left", ENDURANCE);
    assert_table("three quarters", amplitude, range / 2.0 / ENDURES, 2e-4);
    let small = check(&bumps(&[(0.4, OFTEN)]));
    assert!(small.rows.iter().all(|r| !r.what.contains("repeated pull")), "nothing pulls");
}

#[test]
fn a_bush_above_its_floor_pulls_the_bolt_about_rest() {
    // At rest 1962 N pull; 0.3 of the swing goes 0.3 x 3924 N to either side, all of it pulling; all
    // of it from nothing to 3 x 1962.
    for (share, range) in [(0.3, 0.6 * 2.0 * UP), (1.0, 3.0 * UP)] {
        let mut p = bumps(&[(share, OFTEN)]);
        p.mounts[0].seat = mm(40.0);
        let amplitude = use_of(&check(&p), "bolt.bush left", ENDURANCE);
        assert_table("amplitude", amplitude, range / m12() / 2.0 / ENDURES, 2e-4);
    }
}

#[test]
fn a_moment_that_turns_round_pulls_each_row_from_nothing() {
    // The bolted plate of `bolts`: standing, 55 x 1962 N mm about x. From three times that down to
    // once the other way the lower row goes from its largest pull through nothing. Elastic bed of
    // 40 bolts over the face: 20 s²/90 = 2 (75 - s), M = 2 T (75 - s/3).
    let mut p = crate::bolts::bolted_plate();
    p.cases = vec![case("stand", CaseKind::Standing)];
    p.cases.push(v1::LoadCase { field: g(3.0), ..case("bump", CaseKind::Bump) });
    let families = vec![blocks(LoadFamily::Vertical, &[(1.0, OFTEN)])];
    p.duty = Some(v1::Duty { distance_km: WAY, assumed: false, families });
    let s = (-2.0 + (4.0_f64 + 4.0 * (20.0 / 90.0) * 150.0).sqrt()) / (2.0 * 20.0 / 90.0);
    let pull = 3.0 * 55.0 * UP / (2.0 * (75.0 - s / 3.0));
    let endures = 0.85 * (150.0 / 10.0 + 45.0) / 1.2;
    let amplitude = use_of(&check(&p), "bolt.four left", ENDURANCE);
    // ISO 898-1: 58.0 mm², to a tenth.
    assert_table("lower row", amplitude, pull / 58.0 / 2.0 / endures, 1e-3);
}

#[test]
fn a_clamped_bolt_feels_no_shear_and_a_snug_one_all_of_it() {
    let drives = || lasting(vec![blocks(LoadFamily::Drive, &[(1.0, OFTEN)])]);
    let shear = |p: &v1::Project| {
        let a = check(p);
        let own = a.rows.into_iter().filter(|r| r.component == "bolt.bush left");
        own.filter(|r| r.what.ends_with("bolt under repeated shear")).collect::<Vec<_>>()
    };
    assert!(shear(&drives()).is_empty());
    let mut snug = drives();
    snug.bolts[0].tightening.as_mut().unwrap().method = "snug tight".to_owned();
    let rows = shear(&snug);
    // EN 1993-1-9:2005, Table 8.1 (15) has no thread in the shear plane.
    assert_eq!(rows.len(), 1);
    assert_eq!(rows[0].state(), State::NotChecked);
    assert!(rows[0].not_checked_reason.contains("thread"), "{}", rows[0].not_checked_reason);
}

#[test]
fn driving_swings_from_rest_and_recuperation_widens_it() {
    let drive = |reverse: f64| {
        let family = v1::FamilyDuty { reverse, ..blocks(LoadFamily::Drive, &[(1.0, OFTEN)]) };
        check(&american(lasting(vec![family])))
    };
    let a = drive(0.0);
    // Forces of the cases by statics of the car, which `verification` holds; the range is theirs.
    let [stand, full] = ["stand", "drive"].map(|name| on_body(case_of(&a, name), "FL"));
    let [x, y, z] = [0, 1, 2].map(|i| full[i] - stand[i]);
    assert!(x > 0.1 * FORWARD && y.abs() < 1e-6, "{x} {y} {z}");
    let q = two_lines(x, z);
    let plain = use_of(&a, "weld.foot left", CATEGORY);
    let by_hand = |range: f64| {
        let stress = range / throat();
        let threshold = stress / (8.0 * 6.894_757);
        let finite = stress / allowed(1.5, 0.1, 0.167);
        if finite < threshold { finite } else { threshold }
    };
    assert_near("from rest", plain, by_hand(q));
    // Six tenths back beyond rest: 1.6 times the range.
    assert_near(
        "with recuperation",
        use_of(&drive(0.6), "weld.foot left", CATEGORY),
        by_hand(1.6 * q),
    );
}

#[test]
fn without_a_duty_nothing_is_checked_and_the_answer_says_so() {
    let mut p = bumps(&[(1.0, OFTEN)]);
    let told = |p: &v1::Project| {
        let a = check(p);
        let rows = a.rows.iter().filter(|r| r.notes.iter().any(|n| n.contains("duty over")));
        (rows.count(), a.not_covered.iter().any(|n| n.contains("gives no duty")))
    };
    let (rows, missing) = told(&p);
    assert!(rows > 0 && !missing, "{rows}");
    p.duty = None;
    assert_eq!(told(&p), (0, true));
}

#[test]
fn a_family_without_its_load_case_is_not_checked_and_names_it() {
    let cases = [
        (LoadFamily::Vertical, CaseKind::Bump, "a bump"),
        (LoadFamily::Vertical, CaseKind::Standing, "the car at rest"),
        (LoadFamily::Drive, CaseKind::Drive, "full drive"),
        (LoadFamily::Corner, CaseKind::Corner, "a turn to either side"),
        (LoadFamily::Brake, CaseKind::Brake, "braking"),
    ];
    for (family, kind, words) in cases {
        let mut p = lasting(vec![blocks(family, &[(1.0, OFTEN)])]);
        p.cases.retain(|c| c.kind() != kind);
        let a = check(&p);
        let row = titled(&a, "weld.foot left", ROOT);
        assert_eq!(row.state(), State::NotChecked, "{family:?}");
        assert!(row.not_checked_reason.contains(words), "{}", row.not_checked_reason);
        assert_ne!(a.verdict(), v1::Verdict::Holds, "{}", a.sentence);
    }
}

#[test]
fn the_assumed_duty_is_that_of_the_catalogue() {
    let assumed = |families: Vec<v1::FamilyDuty>| {
        let mut p = lasting(families);
        let brake = v1::LoadCase { rate: g(0.8), ..case("brake", CaseKind::Brake) };
        p.cases.push(brake);
        p.duty.as_mut().unwrap().assumed = true;
        p
    };
    // The table of assumed duties (common practice, no source), written out.
    let table = [
        (
            LoadFamily::Vertical,
            &[(1.0, 0.2), (0.75, 2.0), (0.5, 20.0), (0.3, 400.0), (0.15, 8000.0)][..],
        ),
        (LoadFamily::Drive, &[(1.0, 5.0), (0.6, 60.0), (0.35, 250.0)]),
        (LoadFamily::Brake, &[(0.9, 0.3), (0.5, 15.0), (0.27, 150.0)]),
        (LoadFamily::Corner, &[(0.9, 0.5), (0.5, 30.0), (0.25, 300.0)]),
    ];
    let written = table.map(|(family, pairs)| blocks(family, pairs)).to_vec();
    let mut of_hand = assumed(written);
    of_hand.duty.as_mut().unwrap().assumed = false;
    let [one, other] = [check(&assumed(Vec::new())), check(&of_hand)];
    let [one, other] = [root(&one), root(&other)];
    assert!(other > 0.0 && (one - other).abs() <= 1e-9 * other, "{one}, {other}");
}

#[test]
fn rules_without_fatigue_leave_it_unchecked() {
    let mut p = bumps(&[(1.0, OFTEN)]);
    p.rules = Some(v1::Rules { pack: "plain allowable".to_owned(), ..Default::default() });
    let a = check(&p);
    for component in ["weld.foot left", "part.bracket left", "bolt.bush left"] {
        let row = a.rows.iter().find(|r| r.component == component && r.what == "repeated load");
        let row = row.unwrap_or_else(|| panic!("no row of {component}"));
        assert_eq!(row.state(), State::NotChecked);
        assert!(row.not_checked_reason.contains("plain allowable"), "{}", row.not_checked_reason);
    }
}
