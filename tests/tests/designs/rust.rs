//! Old rails: what several readings, coat, pits and years leave of a wall; what stops a design on a
//! worn or broken one. The wall's resistance goes with the square of what is left (EN
//! 1993-1-8:2005, Table 7.14), so the thickness shows in the utilisation.

use fishplate_proto::v1;
use fishplate_proto::v1::{State, Verdict, WeldPath};
use fishplate_tests::project::{mm, number};

use crate::bench::{
    assert_near, assert_told, bracket, car, check, fillet, land, part, plate, reading, refused,
    row, single_bracket, used,
};

const BENDING: &str = "bending of the wall under the foot";

/// Utilisation of the web under the left foot, standing, on a wall whose readings are these.
fn bent(change: impl Fn(&mut v1::Rail)) -> f64 {
    let mut p = single_bracket(5.0);
    change(&mut p.rails[0]);
    let a = check(&p);
    used(&a, row(&a, "rail.frame left.web", BENDING), "stand")
}

/// The same on an even wall of this thickness.
fn even(t: f64) -> f64 {
    bent(|rail| rail.readings = vec![reading(300.0, t)])
}

#[test]
fn three_readings_at_a_station_count_with_their_five_percent_low() {
    // EN 1990:2002, D7.2, Table D1: mean 2.7, scatter 0.1, k 3.37 for three.
    let spread = |rail: &mut v1::Rail| {
        rail.readings = [2.6, 2.7, 2.8].map(|t| reading(300.0, t)).to_vec();
    };
    assert_near("low", bent(spread), even(2.7 - 3.37 * 0.1));
    // Two tell only which is less; readings of another station are their own.
    let two = |rail: &mut v1::Rail| {
        rail.readings = vec![reading(300.0, 2.6), reading(300.0, 2.8), reading(-300.0, 1.9)];
    };
    assert_near("least", bent(two), even(2.6));
}

#[test]
fn coat_pits_and_years_are_taken_off_and_the_way_is_told() {
    // A gauge set for steel reads a coat 2.5 times: 2.9 - 0.25 = 2.65, mean loss 0.35; pits of twice
    // the mean loss leave 2.3; ISO 9224 takes 80 x 10^0.523 = 266.74 µm off a bare face in ten years
    // of C4, a third of it off a sealed one.
    let mut p = single_bracket(5.0);
    let rail = &mut p.rails[0];
    rail.readings = vec![reading(300.0, 2.9)];
    rail.coat = mm(0.1);
    rail.pitting_factor = number(2.0);
    let mut corrosion = v1::Corrosion { years: 10.0, ..Default::default() };
    corrosion.set_class(v1::Corrosivity::C4);
    corrosion.set_outside(v1::FaceState::Sealed);
    corrosion.set_inside(v1::FaceState::Unsealed);
    rail.corrosion = Some(corrosion);
    let a = check(&p);
    let web = row(&a, "rail.frame left.web", BENDING);
    let left = 2.3 - 0.266_741_130_287 * (1.0 + 1.0 / 3.0);
    assert_near("design", used(&a, web, "stand"), even(left));
    let t = web.derivation.iter().find(|s| s.symbol == "t_wall").unwrap();
    assert_near("thickness", t.value, left);
    for word in ["read 2.9 mm", "coat of 0.1 mm", "in the pits 2.3 mm", "10 years of C4"] {
        assert!(t.source.contains(word), "`{word}` is not in {}", t.source);
    }
    // The way itself stands in the row of the loss.
    let loss = row(&a, "rail.frame left", "loss of the old wall");
    assert_near("loss", loss.utilisation.unwrap(), 0.35 / 3.0 / 0.15);
    let last = loss.derivation.iter().find(|s| s.symbol == "t_design").unwrap();
    assert_near("by steps", last.value, left);
}

#[test]
fn a_wall_that_lost_more_than_fifteen_percent_stops_a_pass_until_it_is_plated() {
    let mut p = single_bracket(5.0);
    p.rails[0].readings = vec![reading(300.0, 2.5)];
    let a = check(&p);
    let loss = row(&a, "rail.frame left", "loss of the old wall");
    assert_eq!(loss.state(), State::RuleNotMet);
    assert_near("17 %", loss.utilisation.unwrap(), 0.5 / 3.0 / 0.15);
    assert!(a.provisional_reasons.iter().any(|r| r.contains("loss of the old wall")), "{a:?}");
    assert_ne!(a.verdict(), Verdict::Holds);
    p.rails[0].readings = vec![reading(300.0, 2.6)];
    let a = check(&p);
    let loss = row(&a, "rail.frame left", "loss of the old wall");
    assert_near("13 %", loss.utilisation.unwrap(), 0.4 / 3.0 / 0.15);
    // The same loss under a plate welded all round.
    let mut p = car();
    let web = "rail.frame.web.outboard";
    p.rails[0].readings = vec![reading(300.0, 2.0)];
    p.parts.push(part("pad", &["mount.front"], plate(web, 4.0, [0.0, 45.0], [160.0, 90.0])));
    p.parts.push(part("bracket", &["mount.front"], bracket("part.pad.outboard", [0.0, 40.0])));
    p.welds.push(fillet("foot", ["part.bracket", "part.pad"], 5.0, WeldPath::Walls));
    p.welds.push(fillet("pad", ["part.pad", "rail.frame.web"], 5.0, WeldPath::AllRound));
    land(&mut p, "part.bracket.floor");
    let a = check(&p);
    let loss = row(&a, "rail.frame left", "loss of the old wall");
    assert_eq!(loss.state(), State::Holds, "{loss:?}");
    assert!(
        loss.notes.iter().any(|n| n.contains("part.pad, welded all round")),
        "{:?}",
        loss.notes
    );
}

fn broken(kind: v1::DamageKind, x_mm: f64, side: v1::Side) -> v1::CheckProjectResponse {
    let mut p = single_bracket(5.0);
    let mut damage = v1::Damage { x_mm, ..Default::default() };
    damage.set_kind(kind);
    damage.set_side(side);
    p.rails[0].damage = vec![damage];
    check(&p)
}

fn stops(a: &v1::CheckProjectResponse, word: &str) -> usize {
    a.rows
        .iter()
        .filter(|r| r.what == format!("{word} near a mount") && r.state() == State::NotChecked)
        .count()
}

#[test]
fn a_hole_crack_or_patch_within_300_mm_of_a_foot_stops_a_pass() {
    // The foot stands from x 270 to 330 with 10 each side: 260 to 340.
    let hole = v1::DamageKind::Hole;
    assert_eq!(stops(&broken(hole, 639.0, v1::Side::Unspecified), "hole"), 2);
    assert_eq!(stops(&broken(hole, 641.0, v1::Side::Unspecified), "hole"), 0);
    assert_eq!(stops(&broken(hole, -39.0, v1::Side::Right), "hole"), 1);
    assert_eq!(stops(&broken(hole, -41.0, v1::Side::Right), "hole"), 0);
    let cracked = broken(v1::DamageKind::Crack, 300.0, v1::Side::Left);
    assert_eq!(stops(&cracked, "crack"), 1);
    assert_ne!(cracked.verdict(), Verdict::Holds);
    assert_eq!(stops(&broken(v1::DamageKind::Patch, 500.0, v1::Side::Left), "patch"), 1);
}

#[test]
fn a_bead_on_less_than_sound_metal_of_1_2_mm_is_refused() {
    let mut p = single_bracket(5.0);
    p.rails[0].readings = vec![reading(300.0, 1.1)];
    let a = check(&p);
    let weld = row(&a, "weld.foot left", "fillet weld, simplified method");
    assert_eq!(weld.state(), State::NotChecked);
    assert!(weld.not_checked_reason.contains("burns through"), "{}", weld.not_checked_reason);
    let weld = row(&a, "weld.foot right", "fillet weld, simplified method");
    assert_ne!(weld.state(), State::NotChecked, "{}", weld.not_checked_reason);
}

#[test]
fn what_cannot_be_meant_is_refused() {
    let mut p = single_bracket(5.0);
    p.rails[0].readings = vec![reading(300.0, 0.9)];
    p.rails[0].pitting_factor = number(1.5);
    // 2.1 lost, pits of half as much again leave less than nothing.
    assert_told(&refused(&p), "project.rails[0].readings[0].thickness", &["cut the wall out"]);
    let mut p = single_bracket(5.0);
    p.rails[0].pitting_factor = number(0.5);
    p.rails[0].coat = mm(-0.1);
    let refusal = refused(&p);
    assert_told(&refusal, "project.rails[0].pitting_factor", &["1 to 10"]);
    assert_told(&refusal, "project.rails[0].coat", &["0 to 2"]);
    let mut p = single_bracket(5.0);
    p.rails[0].corrosion = Some(v1::Corrosion { years: 10.0, ..Default::default() });
    let refusal = refused(&p);
    for field in ["class", "outside", "inside"] {
        assert_told(&refusal, &format!("project.rails[0].corrosion.{field}"), &["one of"]);
    }
    let mut p = single_bracket(5.0);
    let mut damage = v1::Damage { x_mm: 900.0, ..Default::default() };
    damage.set_kind(v1::DamageKind::Hole);
    p.rails[0].damage = vec![damage];
    assert_told(&refused(&p), "project.rails[0].damage[0].x_mm", &["between the ends"]);
}
