//! How things are made: shape of fishplates, room for the torch, gaps, slits for rust, free edges of
//! gussets, sleeves that do not fit. Each is a rule of its own that is met or not; the limits stand
//! beside the tests.

use fishplate_proto::v1;
use fishplate_proto::v1::part::Form;
use fishplate_proto::v1::{State, Verdict, WeldPath};
use fishplate_tests::project::mm;

use crate::bench::{
    assert_near, assert_told, bolt, box_rail, bracket, car, check, counted_from, fillet, land,
    part, plate, point, refused, row, single_bracket, xz,
};

const WEB: &str = "rail.frame.web.outboard";

/// A bracket on a pad of 160 x 90 x 4 mm that is welded to the web all round.
fn on_a_pad(pad: impl Fn(&mut v1::Plate)) -> v1::Project {
    let mut p = car();
    let mut form = plate(WEB, 4.0, [0.0, 45.0], [160.0, 90.0]);
    if let Form::Plate(plate) = &mut form {
        pad(plate);
    }
    p.parts.push(part("pad", &["mount.front"], form));
    p.parts.push(part("bracket", &["mount.front"], bracket("part.pad.outboard", [0.0, 40.0])));
    p.welds.push(fillet("foot", ["part.bracket", "part.pad"], 5.0, WeldPath::Walls));
    p.welds.push(fillet("pad", ["part.pad", "rail.frame.web"], 4.0, WeldPath::AllRound));
    land(&mut p, "part.bracket.floor");
    p
}

#[track_caller]
fn ruled(a: &v1::CheckProjectResponse, component: &str, words: &str, met: bool, want: f64) {
    let row = row(a, component, words);
    assert_near(words, row.utilisation.unwrap_or(f64::NAN), want);
    assert_eq!(row.state(), if met { State::Holds } else { State::RuleNotMet }, "{words}");
}

#[test]
fn a_fishplate_is_judged_by_both_rules_of_thickness_its_length_and_its_ends() {
    // Light vehicles 1.5 rails, heavy ones 1 rail; 3 depths of rail long; ends 30 to 45 degrees.
    let a = check(&on_a_pad(|pad| pad.fishplate_ends_deg = Some(90.0)));
    ruled(&a, "part.pad left", "one and a half times the rail", true, 4.0 / 4.5);
    ruled(&a, "part.pad left", "at most that of the rail", false, 4.0 / 3.0);
    ruled(&a, "part.pad left", "length of the fishplate", false, 300.0 / 160.0);
    ruled(&a, "part.pad left", "45 degrees or less", false, 2.0);
    ruled(&a, "part.pad left", "30 degrees or more", true, 30.0 / 90.0);
    assert_ne!(a.verdict(), Verdict::Holds);
    let a = check(&on_a_pad(|pad| {
        pad.set_outline(v1::Outline::Spear);
        pad.fishplate_ends_deg = Some(45.0);
    }));
    ruled(&a, "part.pad left", "45 degrees or less", true, 1.0);
    // A plate that is none is not judged as one.
    let a = check(&on_a_pad(|_| {}));
    assert!(a.rows.iter().all(|r| !r.what.contains("fishplate")), "{:?}", a.rows);
}

#[test]
fn a_fishplate_of_no_angle_is_refused() {
    let refusal = refused(&on_a_pad(|pad| pad.fishplate_ends_deg = Some(120.0)));
    assert_told(&refusal, "project.parts[0].plate.fishplate_ends_deg", &["10 to 90"]);
}

#[test]
fn a_gap_is_held_against_the_quality_level() {
    // ISO 5817, no. 617, level C: 0.5 + 0.2 a, a = 5/√2; the pad of 4 mm is over 3 mm thick.
    let mut p = on_a_pad(|_| {});
    p.welds[0].gap = mm(1.0);
    let most = 0.5 + 0.2 * 5.0 / 2.0_f64.sqrt();
    ruled(&check(&p), "weld.foot left", "gap at the root", true, 1.0 / most);
    p.welds[0].gap = mm(1.5);
    ruled(&check(&p), "weld.foot left", "gap at the root", false, 1.5 / most);
}

#[test]
fn a_torch_needs_room_between_a_gusset_and_the_wall_beside_it() {
    // Inner faces of the U at x 275 and 325; gusset of 4 mm at x 315: its face at 317 is 8 away,
    // 15 + 5 are needed.
    let mut p = single_bracket(5.0);
    let gusset = v1::Gusset {
        thickness: mm(4.0),
        corner: vec![WEB.to_owned(), "part.bracket.floor".to_owned()],
        legs: Some(point([None, Some(50.0), Some(60.0)])),
        at: vec![point([Some(15.0), None, None])],
    };
    p.parts.push(part("gusset", &["mount.front"], Form::Gusset(gusset)));
    let mut up = fillet("up", ["part.gusset", "rail.frame.web"], 3.0, WeldPath::LegZ);
    up.both_sides = true;
    let out = fillet("out", ["part.gusset", "part.bracket.floor"], 3.0, WeldPath::LegY);
    p.welds.extend([up, out]);
    let a = check(&p);
    ruled(&a, "weld.up left", "room for the nozzle", false, 20.0 / 8.0);
    // Nothing stands beside the foot of the bracket.
    assert!(!a.rows.iter().any(|r| r.component == "weld.foot left" && r.what.contains("nozzle")));
    // Its free edge: √(50² + 60²) over 4 mm (EN 1993-1-1:2005, Table 5.2, outstand 14 ε).
    let edge = row(&a, "part.gusset left", "free edge of a gusset");
    assert!(edge.utilisation.is_some(), "{edge:?}");
}

#[test]
fn stitches_in_the_wet_are_no_sealed_joint() {
    let mut p = on_a_pad(|_| {});
    p.welds[1].set_along(WeldPath::LongEdges);
    p.welds[1].stitch_on_mm = Some(40.0);
    p.welds[1].stitch_off_mm = Some(20.0);
    ruled(&check(&p), "weld.pad left", "joint in the wet", false, 60.0 / 40.0);
    p.welds[1].sealed = true;
    let a = check(&p);
    assert!(!a.rows.iter().any(|r| r.what.contains("joint in the wet")));
}

/// A bolt through a box rail with a sleeve between its walls, 54 mm apart.
fn sleeved(change: impl Fn(&mut v1::Sleeve)) -> v1::Project {
    let mut p = single_bracket(5.0);
    p.rails = vec![box_rail()];
    let mut sleeve = v1::Sleeve {
        outside_mm: 24.0,
        bore_mm: 13.0,
        spans: vec![
            "rail.frame.web.inboard".to_owned(),
            "rail.frame.inner-wall.outboard".to_owned(),
        ],
        at: xz(-70.0, 50.0).into_iter().collect(),
        ..Default::default()
    };
    change(&mut sleeve);
    p.parts.push(part("sleeve", &["mount.front"], Form::Sleeve(sleeve)));
    let through = ["rail.frame.web", "part.sleeve", "rail.frame.inner-wall"];
    let mut through = counted_from(bolt("through", "M12", 13.0, &through), "mount.front");
    through.at = xz(-70.0, 50.0).into_iter().collect();
    p.bolts.push(through);
    p
}

#[test]
fn a_sleeve_that_does_not_fit_is_told_however_it_is_written() {
    let words = "longer than its hollow";
    let a = check(&sleeved(|s| s.proud = mm(0.3)));
    ruled(&a, "part.sleeve left", words, false, 0.3 / 0.2);
    let a = check(&sleeved(|s| s.length = mm(54.1)));
    ruled(&a, "part.sleeve left", words, true, 0.1 / 0.2);
    let a = check(&sleeved(|s| s.length = mm(54.0)));
    assert!(!a.rows.iter().any(|r| r.what.contains(words)));
    let short = |p: &v1::Project| {
        let a = check(p);
        row(&a, "part.sleeve left", "touch a short sleeve").utilisation.unwrap_or(f64::NAN)
    };
    let one = short(&sleeved(|s| s.length = mm(53.9)));
    assert_near("as written otherwise", short(&sleeved(|s| s.proud = mm(-0.1))), one);
    // The gap goes in as it is: twice as short, twice as much.
    assert_near("twice", short(&sleeved(|s| s.proud = mm(-0.2))), 2.0 * one);
    let both = sleeved(|s| {
        s.length = mm(54.0);
        s.proud = mm(0.1);
    });
    assert_told(&refused(&both), "project.parts[1].sleeve.length", &["one of them"]);
}
