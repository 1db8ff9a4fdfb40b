//! What crosses each joint: the force of a mount moved by its arm, for chains of one and two
//! joints, with gussets, for a bar between both rails, and where the way to the rail is lost.
//! Source of all values: statics; of the clamped bar: its slope is zero at both ends.

use fishplate_proto::v1;
use fishplate_proto::v1::bar_section::Shape;
use fishplate_proto::v1::block::Plan;
use fishplate_proto::v1::part::Form;
use fishplate_proto::v1::{State, Verdict, WeldPath};
use fishplate_tests::project::{case_of, mm, on_body};

use crate::bench::{
    FORWARD, FRONT, HANGING, REAR, UP, assert_all_near, assert_near, bolt, box_rail, bracket, car,
    car_on, check, corner, counted_from, crossing, fillet, interface, land, lift, moved, part,
    plate, point, row, single_bracket, xz,
};

const WEB: &str = "rail.frame.web.outboard";

#[test]
fn the_bench_has_round_mount_forces() {
    let mut p = car();
    p.cases.push(lift());
    let a = check(&p);
    for mount in ["FL", "FR", "RL", "RR"] {
        assert_all_near("standing", on_body(case_of(&a, "stand"), mount), [0.0, 0.0, UP]);
        assert_all_near("towed", on_body(case_of(&a, "tow"), mount), [FORWARD, 0.0, UP]);
        assert_all_near("lifted", on_body(case_of(&a, "lift"), mount), [0.0, 0.0, -HANGING]);
    }
}

#[test]
fn a_bracket_carries_its_mount_force_times_the_arm_into_the_web() {
    let a = check(&single_bracket(5.0));
    // Arm from the middle of the beads (300, 425, 460) to the bush: (0, 55, -40).
    let (about, w) = crossing(&a, "bracket left | rail.frame left", "", "stand");
    assert_all_near("about", about, [300.0, 425.0, 460.0]);
    // Mx = 55 x 1962.
    assert_all_near("standing", w, [0.0, 0.0, UP, 107_910.0, 0.0, 0.0]);
    // My = -40 x 2452.5, Mz = -55 x 2452.5.
    let (_, w) = crossing(&a, "bracket left | rail.frame left", "", "tow");
    assert_all_near("towed", w, [FORWARD, 0.0, UP, 107_910.0, -98_100.0, -134_887.5]);
    // On the right the arm is (0, -55, -40).
    let (about, w) = crossing(&a, "bracket right | rail.frame right", "", "tow");
    assert_all_near("about, right", about, [300.0, -425.0, 460.0]);
    assert_all_near("towed, right", w, [FORWARD, 0.0, UP, -107_910.0, -98_100.0, 134_887.5]);
}

#[test]
fn the_wrench_follows_the_mount_force_of_a_corner_too() {
    let mut p = single_bracket(5.0);
    p.cases.push(corner());
    let a = check(&p);
    for (mount, side, y) in [("FL", "left", 1.0), ("FR", "right", -1.0)] {
        let force = on_body(case_of(&a, "corner"), mount);
        assert!(force[1].abs() > 100.0, "a corner pushes sideways: {force:?}");
        let name = format!("bracket {side} | rail.frame {side}");
        let (about, w) = crossing(&a, &name, "", "corner");
        let bush = [FRONT[0], y * FRONT[1], FRONT[2]];
        assert_all_near(&name, w, moved(force, bush, about));
    }
}

#[test]
fn a_bracket_on_a_plate_on_a_rail_crosses_two_joints() {
    let mut p = car();
    p.parts.push(part("pad", &["mount.front"], plate(WEB, 6.0, [10.0, 45.0], [160.0, 90.0])));
    p.parts.push(part("bracket", &["mount.front"], bracket("part.pad.outboard", [0.0, 40.0])));
    p.welds.push(fillet("foot", ["part.bracket", "part.pad"], 5.0, WeldPath::Walls));
    p.welds.push(fillet("pad", ["part.pad", "rail.frame.web"], 5.0, WeldPath::AllRound));
    land(&mut p, "part.bracket.floor");
    let a = check(&p);
    // Bracket on pad: y 431, arm (0, 49, -40).
    let (about, w) = crossing(&a, "bracket left | pad left", "", "tow");
    assert_all_near("about", about, [300.0, 431.0, 460.0]);
    assert_all_near("on the pad", w, [FORWARD, 0.0, UP, 96_138.0, -98_100.0, -120_172.5]);
    // Pad on web: middle (310, 425, 465), arm (-10, 55, -45); Mx = 55 x 1962,
    // My = -45 x 2452.5 + 10 x 1962, Mz = -55 x 2452.5.
    let (about, w) = crossing(&a, "pad left | rail.frame left", "", "tow");
    assert_all_near("about", about, [310.0, 425.0, 465.0]);
    assert_all_near("on the web", w, [FORWARD, 0.0, UP, 107_910.0, -90_742.5, -134_887.5]);
    let walk = a.walks.iter().find(|w| w.mount_id == "FL").unwrap();
    let want = [
        "mount front left",
        "bolt.bush left",
        "part.bracket left",
        "[weld.foot left]",
        "part.pad left",
        "[weld.pad left]",
        "rail.frame left",
    ];
    assert_eq!(walk.stations, want);
    assert!(!walk.r#loop);
}

#[test]
fn one_plate_under_two_brackets_carries_both_mounts() {
    let mut p = car();
    p.parts.push(part("pad", &[], plate(WEB, 6.0, [0.0, 470.0], [720.0, 90.0])));
    let both = ["mount.front", "mount.rear"];
    p.parts.push(part("bracket", &both, bracket("part.pad.outboard", [0.0, 45.0])));
    let mut foot = fillet("foot", ["part.bracket", "part.pad"], 5.0, WeldPath::Walls);
    foot.datums = both.map(str::to_owned).to_vec();
    p.welds.push(foot);
    p.welds.push(fillet("pad", ["part.pad", "rail.frame.web"], 5.0, WeldPath::AllRound));
    let mut bush = bolt("bush", "M12", 13.0, &["mount", "part.bracket.floor"]);
    bush.datums = both.map(str::to_owned).to_vec();
    p.bolts.push(bush);
    for mount in &mut p.mounts {
        mount.lands = "bolt.bush".to_owned();
    }
    let a = check(&p);
    // Arms (±300, 55, -50) from (0, 425, 470): the fore and aft arms cancel, the rest doubles.
    let (about, w) = crossing(&a, "pad left | rail.frame left", "", "tow");
    assert_all_near("about", about, [0.0, 425.0, 470.0]);
    let want = [2.0 * FORWARD, 0.0, 2.0 * UP, 215_820.0, -245_250.0, -269_775.0];
    assert_all_near("both", w, want);
    let shared: Vec<_> = a.interfaces.iter().filter(|i| i.name.starts_with("pad left")).collect();
    assert_eq!(shared.len(), 1, "the joint is one, whoever loads it");
}

#[test]
fn gussets_carry_their_part_of_the_same_cut() {
    let mut p = single_bracket(4.0);
    let gusset = v1::Gusset {
        thickness: mm(4.0),
        corner: vec![WEB.to_owned(), "part.bracket.floor".to_owned()],
        legs: Some(point([None, Some(50.0), Some(60.0)])),
        at: vec![point([Some(-20.0), None, None]), point([Some(20.0), None, None])],
    };
    p.parts.push(part("gusset", &["mount.front"], Form::Gusset(gusset)));
    let mut up = fillet("up", ["part.gusset", "rail.frame.web"], 3.0, WeldPath::LegZ);
    up.both_sides = true;
    let mut out = fillet("out", ["part.gusset", "part.bracket.floor"], 3.0, WeldPath::LegY);
    out.both_sides = true;
    p.welds.extend([up, out]);
    let a = check(&p);
    // Walls: 2 x 80 with leg 4 at z 460. Gussets: 2 x 2 x 60 with leg 3 at z 455.
    // Middle: (640 x 460 + 720 x 455) / 1360 = 457.352941.
    let z = 457.352_941_176;
    let (about, w) = crossing(&a, "bracket left | rail.frame left", "", "tow");
    assert_all_near("about", about, [300.0, 425.0, z]);
    assert_all_near("with gussets", w, moved([FORWARD, 0.0, UP], FRONT, [300.0, 425.0, z]));
    let mut joints = interface(&a, "bracket left | rail.frame left", "").joints.clone();
    joints.sort();
    assert_eq!(joints, ["weld.foot left", "weld.up left"], "the seam on the floor is not cut");
}

/// Both rear mounts, at y ±200, hang under a box bar between the rails: 714 mm long, ends at
/// y ±357, its line at x -300, z 470, its under side at z 440.
pub(crate) fn crossmember() -> v1::Project {
    let rear = [REAR[0], 200.0, 440.0];
    let mut p = car_on([FRONT[0], FRONT[1], 440.0], rear);
    p.rails = vec![box_rail()];
    let end = plate("rail.frame.inner-wall.inboard", 8.0, [-300.0, 470.0], [120.0, 90.0]);
    p.parts.push(part("end", &[], end));
    let bar = v1::Bar {
        section: Some(v1::BarSection {
            shape: Some(Shape::Box(v1::BoxBar { height_mm: 60.0, width_mm: 60.0, wall_mm: 4.0 })),
        }),
        line: xz(-300.0, 470.0),
        between: vec!["part.end.left.inboard".to_owned(), "part.end.right.inboard".to_owned()],
        ..Default::default()
    };
    p.parts.push(part("bar", &[], Form::Bar(bar)));
    p.welds.push(fillet("bar", ["part.bar", "part.end"], 5.0, WeldPath::AllRound));
    p.welds.push(fillet("end", ["part.end", "rail.frame.inner-wall"], 5.0, WeldPath::AllRound));
    p.bolts.push(counted_from(
        bolt("hang", "M12", 13.0, &["mount.rear", "part.bar.bottom"]),
        "mount.rear",
    ));
    p.mounts[1].lands = "bolt.hang".to_owned();
    p
}

#[test]
fn a_bar_between_the_rails_gives_each_end_its_share() {
    let a = check(&crossmember());
    // Alike on both sides: each end takes one mount. Pinned: no moment where the bar ends.
    let (about, w) = crossing(&a, "bar | end left", "pinned", "stand");
    assert_all_near("about", about, [-300.0, 357.0, 470.0]);
    assert_all_near("pinned", w, [0.0, 0.0, UP, 0.0, 0.0, 0.0]);
    // 8 mm further out, at the wall: Mx = -8 x 1962.
    let (about, w) = crossing(&a, "end left | rail.frame left", "pinned", "stand");
    assert_all_near("about", about, [-300.0, 365.0, 470.0]);
    assert_all_near("pinned", w, [0.0, 0.0, UP, -15_696.0, 0.0, 0.0]);
    // Clamped: between two equal forces at a = 157 from the ends of L = 714 the slope at the ends
    // is zero for M = F a (L - a)/L = 1962 x 157 x 557/714. The bar lifts the wall and turns its
    // inner side up.
    let m = 1962.0 * 157.0 * 557.0 / 714.0;
    let (_, w) = crossing(&a, "bar | end left", "clamped", "stand");
    assert_all_near("clamped", w, [0.0, 0.0, UP, -m, 0.0, 0.0]);
    let (_, w) = crossing(&a, "bar | end right", "clamped", "stand");
    assert_all_near("clamped, right", w, [0.0, 0.0, UP, m, 0.0, 0.0]);
    assert!(a.walks.iter().all(|w| w.r#loop == w.mount_id.starts_with('R')));
}

#[test]
fn a_bar_with_bolted_ends_is_held_where_they_are_clamped() {
    // Four M12 clamp each end plate on the box at y 365: 730 between the holds, mounts 165 off.
    let mut p = crossmember();
    p.welds.retain(|w| w.name != "end");
    let spots = [(-345.0, 445.0), (-255.0, 445.0), (-345.0, 495.0), (-255.0, 495.0)]
        .map(|(x, z)| point([Some(x), None, Some(z)]));
    let sleeve = v1::Sleeve {
        outside_mm: 24.0,
        bore_mm: 13.0,
        spans: ["rail.frame.web.inboard", "rail.frame.inner-wall.outboard"]
            .map(str::to_owned)
            .to_vec(),
        at: spots.to_vec(),
        ..Default::default()
    };
    p.parts.push(part("sleeve", &[], Form::Sleeve(sleeve)));
    let through = ["part.end", "rail.frame.inner-wall", "part.sleeve", "rail.frame.web"];
    let mut four = bolt("four", "M12", 13.0, &through);
    four.at = spots.to_vec();
    four.washer_outside_mm = Some(20.0);
    p.bolts.push(four);
    let a = check(&p);
    let (about, w) = crossing(&a, "end left | rail.frame left", "pinned", "stand");
    assert_all_near("about", about, [-300.0, 365.0, 470.0]);
    assert_all_near("pinned", w, [0.0, 0.0, UP, 0.0, 0.0, 0.0]);
    // The weld of the bar is 8 mm nearer to the mount: the force at the hold turns back there.
    let (about, w) = crossing(&a, "bar | end left", "pinned", "stand");
    assert_all_near("about", about, [-300.0, 357.0, 470.0]);
    assert_all_near("at the weld", w, [0.0, 0.0, UP, 15_696.0, 0.0, 0.0]);
    let m = 1962.0 * 165.0 * 565.0 / 730.0;
    let (_, w) = crossing(&a, "end left | rail.frame left", "clamped", "stand");
    assert_all_near("clamped", w, [0.0, 0.0, UP, -m, 0.0, 0.0]);
}

#[test]
fn unequal_forces_on_a_pinned_bar_follow_the_lever_rule() {
    let mut p = crossmember();
    p.cases.push(corner());
    let a = check(&p);
    let [l, r] = ["RL", "RR"].map(|m| on_body(case_of(&a, "corner"), m));
    assert!((l[2] - r[2]).abs() > 100.0, "a corner loads one side more: {l:?} {r:?}");
    // Forces act 30 below the line: each brings Mx = 30 Fy. Moments about the right end at -357:
    // 714 R = 557 L + 157 R + sum of Mx. Along the bar the nearer end is stiffer as 557 to 157.
    let up = (557.0 * l[2] + 157.0 * r[2] + 30.0 * (l[1] + r[1])) / 714.0;
    let side = (557.0 * l[1] + 157.0 * r[1]) / 714.0;
    let (_, w) = crossing(&a, "bar | end left", "pinned", "corner");
    assert_all_near("left", [w[1], w[2], w[3]], [side, up, 0.0]);
    // What both ends give together is what both mounts bring.
    let (_, right) = crossing(&a, "bar | end right", "pinned", "corner");
    let sum = [0, 1, 2].map(|i| w[i] + right[i]);
    assert_all_near("both ends", sum, [l[0] + r[0], l[1] + r[1], l[2] + r[2]]);
}

#[test]
fn torsion_of_a_bar_under_equal_forces_goes_half_to_each_end() {
    // Towed, each mount pulls 2452.5 forward 30 below the line: My = -30 x 2452.5 each, and by
    // symmetry each end holds its own.
    let a = check(&crossmember());
    let (_, w) = crossing(&a, "bar | end left", "pinned", "tow");
    assert_all_near("left", w, [FORWARD, 0.0, UP, 0.0, -73_575.0, 0.0]);
}

#[test]
fn a_mount_can_land_on_a_block_without_a_bolt() {
    let mut p = car();
    let block = v1::Block {
        height: mm(30.0),
        on: "rail.frame.bottom.under".to_owned(),
        centre: Some(point([Some(0.0), Some(-80.0), None])),
        plan: Some(Plan::SquareMm(36.0)),
        ..Default::default()
    };
    p.parts.push(part("block", &["mount.front"], Form::Block(block)));
    p.welds.push(fillet("round", ["part.block", "rail.frame.bottom"], 5.0, WeldPath::AllRound));
    p.mounts[0].lands = "part.block".to_owned();
    let a = check(&p);
    // Middle of the beads (300, 400, 420), arm (0, 80, 0).
    let (about, w) = crossing(&a, "block left | rail.frame left", "", "tow");
    assert_all_near("about", about, [300.0, 400.0, 420.0]);
    assert_all_near("block", w, [FORWARD, 0.0, UP, 156_960.0, 0.0, -196_200.0]);
}

#[test]
fn without_a_landing_there_are_forces_and_nothing_is_passed() {
    let a = check(&car());
    assert!(a.interfaces.is_empty());
    for mount in ["front left", "front right", "rear left", "rear right"] {
        let lost = row(&a, &format!("mount {mount}"), "between the bush and the rail");
        assert_eq!(lost.state(), State::NotChecked);
        assert!(lost.not_checked_reason.contains("does not say what its bush lands on"));
    }
    assert_eq!(a.verdict(), Verdict::Provisional);
    assert_near("still a force", on_body(case_of(&a, "stand"), "RR")[2], UP);
}

#[test]
fn a_bracket_that_leads_nowhere_is_told() {
    let mut p = single_bracket(5.0);
    p.welds.clear();
    let a = check(&p);
    let lost = row(&a, "mount front left", "between the bush and the rail");
    assert_eq!(lost.state(), State::NotChecked);
    let why = &lost.not_checked_reason;
    assert!(why.contains("no weld or bolt leads from part.bracket left to a rail"), "{why}");
    assert!(a.interfaces.is_empty());
    assert_ne!(a.verdict(), Verdict::Holds);
}
