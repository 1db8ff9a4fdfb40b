//! Bolts that end in no normal nut.
//!
//! Threads: FED-STD-H28/2B, shear area of the internal thread, π L/P d (P/2 + 0.57735 (d - D2)) with
//! the least bolt and the largest nut; limits by ISO 965-1, 6g and 6H (from memory): M12 34 and 265
//! µm off the outside, 200 µm onto D2; M10 32, 236 and 180 µm. Stripping at 0.6 of the tensile
//! strength over gamma_M2 1.25; the largest preload and the pull added.

use std::f64::consts::PI;

use fishplate_proto::v1;
use fishplate_proto::v1::{BoltEndKind, State, Verdict};
use fishplate_tests::project::mm;

use crate::bench::{GAMMA, HANGING, UP, check, single_bracket, used};
use crate::bolts::{
    assert_near_table, bolted_plate, diameters, m10, preload, preload_of, with_lift,
};

fn end(kind: BoltEndKind) -> v1::BoltEnd {
    v1::BoltEnd { kind: kind as i32, ..Default::default() }
}

/// Force that strips the internal thread of an M12, N: full thread in mm, strength in MPa.
fn strips_m12(l_e: f64, r_m: f64) -> f64 {
    strips([12.0, 1.75, 12.0 - 0.034 - 0.265, 0.200], l_e, r_m)
}

fn strips([d, pitch, d_min, onto_d2]: [f64; 4], l_e: f64, r_m: f64) -> f64 {
    let d2_max = diameters(d, pitch)[0] + onto_d2;
    let area = PI * l_e / pitch * d_min * (pitch / 2.0 + 0.57735 * (d_min - d2_max));
    0.6 * r_m * area / 1.25
}

#[test]
fn a_thread_in_the_floor_strips_by_preload_and_pull() {
    // Floor of 5 mm, fu 360. On the lift the bush hangs on the bolt; standing it presses.
    let mut p = with_lift();
    p.bolts[0].ends = Some(v1::BoltEnd { length: mm(5.0), ..end(BoltEndKind::Tapped) });
    let a = check(&p);
    let floor = bush(&a, "the thread of the nut or tapped plate strips");
    let holds = strips_m12(5.0, 360.0);
    assert_near_table("lift", used(&a, floor, "lift"), (preload() + GAMMA * HANGING) / holds);
    assert_near_table("stand", used(&a, floor, "stand"), preload() / holds);
    assert_eq!(floor.state(), State::Exceeds);
}

#[test]
fn a_thin_nut_does_not_stand_the_preload() {
    // ISO 4035: at least 5.7 mm high, a pitch less of full thread; class 04: 188 HV at 3.2 MPa a
    // point (ISO 898-2, from memory), rounded to 602 MPa.
    let mut p = with_lift();
    p.bolts[0].ends = Some(end(BoltEndKind::ThinNut));
    let a = check(&p);
    let nut = bush(&a, "the thread of the nut or tapped plate strips");
    let holds = strips_m12(5.7 - 1.75, 602.0);
    assert_near_table("lift", used(&a, nut, "lift"), (preload() + GAMMA * HANGING) / holds);
}

/// The row of a component whose title ends so.
#[track_caller]
fn of<'a>(a: &'a v1::CheckProjectResponse, component: &str, title: &str) -> &'a v1::Row {
    let what = format!(": {title}");
    let own = || a.rows.iter().filter(|r| r.component == component);
    own().find(|r| r.what.ends_with(&what)).unwrap_or_else(|| {
        panic!("no row {title}: {:#?}", own().map(|r| &r.what).collect::<Vec<_>>())
    })
}

#[track_caller]
fn bush<'a>(a: &'a v1::CheckProjectResponse, title: &str) -> &'a v1::Row {
    of(a, "bolt.bush left", title)
}

#[track_caller]
fn four<'a>(a: &'a v1::CheckProjectResponse, title: &str) -> &'a v1::Row {
    of(a, "bolt.four left", title)
}

/// The largest pull on one of the four, standing, N: as the tension of the shank has it, which is
/// worked out by hand beside its own test.
fn pull(a: &v1::CheckProjectResponse) -> f64 {
    used(a, four(a, "bolt in tension"), "stand") * 0.9 * 800.0 * m10() / 1.25
}

fn on_the_web(ends: v1::BoltEnd) -> v1::Project {
    let mut p = bolted_plate();
    p.bolts.iter_mut().find(|b| b.name == "four").expect("the four bolts").ends = Some(ends);
    p
}

#[test]
fn a_weld_nut_of_unknown_class_counts_as_class_5_and_is_a_guess() {
    // DIN 929, M10: 17 across flats, 8 high (from memory). Web 100 x 3, fy 235, fu 360.
    let a = check(&on_the_web(end(BoltEndKind::WeldNut)));
    let t = pull(&a);
    // EN 1993-1-8:2005, Table 3.4, with the 500 MPa of class 5.
    let nut = four(&a, "bolt in a weld nut, by the lower class of both");
    assert_near_table("class", used(&a, nut, "stand"), t / (0.9 * 500.0 * m10() / 1.25));
    let torn = four(&a, "weld nut or boss torn out of the wall");
    let holds = 0.6 * PI * 17.0 * 3.0 * 360.0 / 1.25;
    assert_near_table("torn out", used(&a, torn, "stand"), t / holds);
    // Fan of yield lines round a nut of d in a wall of width b: fy t² π b/(b - d).
    let fan = four(&a, "bending of the wall under a weld nut or boss, fan of yield lines");
    let bends = 235.0 * 9.0 * PI * 100.0 / (100.0 - 17.0);
    assert_near_table("bends", used(&a, fan, "stand"), t / bends);
    // Class 5 by its hardness, 130 HV at 3.2: 416 MPa; 8 mm less a pitch of full thread.
    let thread = four(&a, "the thread of the weld nut or boss strips");
    let holds = strips([10.0, 1.5, 10.0 - 0.032 - 0.236, 0.180], 6.5, 416.0);
    assert_near_table("thread", used(&a, thread, "stand"), (preload_of(10.0, 1.5) + t) / holds);
    // An 8.8 belongs into class 8; and nobody has said how large the ring weld is.
    let class = four(&a, "class of the bolt against that of the weld nut");
    assert_near_table("8.8 in class 5", class.utilisation.unwrap(), 800.0 / 500.0);
    let ring = four(&a, "ring weld of the weld nut or boss");
    assert_eq!(ring.state(), State::NotChecked);
    assert!(ring.not_checked_reason.contains("leg"), "{}", ring.not_checked_reason);
    let guess = a.guesses.iter().find(|g| g.field_path.ends_with(".ends.nut_class"));
    assert!(guess.is_some_and(|g| g.value.contains("class 5")), "{:?}", a.guesses);
    // Of class 8 the nut is no guess.
    let eight = v1::BoltEnd { nut_class: "8".to_owned(), ..end(BoltEndKind::WeldNut) };
    let b = check(&on_the_web(eight));
    let nut = four(&b, "bolt in a weld nut, by the lower class of both");
    assert_near_table("class 8", used(&b, nut, "stand"), t / (0.9 * 800.0 * m10() / 1.25));
    assert!(b.guesses.iter().all(|g| !g.field_path.contains(".ends.")));
}

#[test]
fn the_ring_of_a_boss_takes_pull_and_shear_and_its_thread_the_preload_as_well() {
    // EN 1993-1-8:2005, 4.5.3.3: fu/(√3 beta_w gamma_M2) on a throat of 4/√2 round 20 mm.
    let boss = v1::BoltEnd {
        outside: mm(20.0),
        length: mm(15.0),
        leg: mm(4.0),
        fu: Some(v1::Stress { value_mpa: 330.0, ..Default::default() }),
        ..end(BoltEndKind::WeldedBoss)
    };
    let a = check(&on_the_web(boss));
    let t = pull(&a);
    let ring = four(&a, "ring weld of the weld nut or boss");
    let holds = 360.0 / (3.0_f64.sqrt() * 0.8 * 1.25) * 4.0 / 2.0_f64.sqrt() * PI * 20.0;
    let force = t.hypot(GAMMA * UP / 4.0);
    assert_near_table("ring", used(&a, ring, "stand"), force / holds);
    let thread = four(&a, "the thread of the nut or tapped plate strips");
    let holds = strips([10.0, 1.5, 10.0 - 0.032 - 0.236, 0.180], 13.5, 330.0);
    assert_near_table("thread", used(&a, thread, "stand"), (preload_of(10.0, 1.5) + t) / holds);
    // Nobody knows the steel of this one: its thread cannot be passed.
    let unknown = v1::BoltEnd {
        outside: mm(20.0),
        length: mm(15.0),
        leg: mm(4.0),
        ..end(BoltEndKind::WeldedBoss)
    };
    let b = check(&on_the_web(unknown));
    let thread = four(&b, "the thread of the weld nut or boss strips");
    assert_eq!(thread.state(), State::NotChecked);
    assert_ne!(b.verdict(), Verdict::Holds);
}

#[test]
fn a_snug_thread_has_only_the_pull() {
    let mut p = with_lift();
    p.bolts[0].ends = Some(v1::BoltEnd { length: mm(5.0), ..end(BoltEndKind::Tapped) });
    p.bolts[0].tightening.as_mut().unwrap().method = "snug".to_owned();
    let a = check(&p);
    let floor = bush(&a, "the thread of the nut or tapped plate strips");
    let holds = strips_m12(5.0, 360.0);
    assert_near_table("lift", used(&a, floor, "lift"), GAMMA * HANGING / holds);
}

#[test]
fn what_no_rule_or_no_size_tells_is_not_checked() {
    // A floor has no corners of a rail: how its wall bends under a nut is not told.
    let mut p = single_bracket(6.0);
    p.bolts[0].ends = Some(end(BoltEndKind::WeldNut));
    let a = check(&p);
    let fan = bush(&a, "bending of the wall under a weld nut or boss, fan of yield lines");
    assert_eq!(fan.state(), State::NotChecked);
    assert!(fan.not_checked_reason.contains("width of the wall"), "{}", fan.not_checked_reason);
    // Rules without threads say so.
    p.rules.as_mut().unwrap().pack = "AISC 360".to_owned();
    let a = check(&p);
    let silent = bush(&a, "weld nut or boss");
    assert_eq!(silent.state(), State::NotChecked);
    assert!(silent.not_checked_reason.contains("no clause"), "{}", silent.not_checked_reason);
}

#[test]
fn a_normal_nut_is_what_is_taken_where_nothing_is_said() {
    let said = |ends: Option<v1::BoltEnd>| {
        let mut p = with_lift();
        p.bolts[0].ends = ends;
        check(&p).rows
    };
    assert_eq!(said(None), said(Some(end(BoltEndKind::Nut))));
}
