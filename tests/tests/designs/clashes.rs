//! Things that cannot be built as drawn: told as a fault with its field where nothing sensible can
//! be computed, else as a clash, which never passes. Source of all: plain addition of the drawing.

use fishplate_proto::v1;
use fishplate_proto::v1::block::Plan;
use fishplate_proto::v1::part::Form;
use fishplate_proto::v1::{State, Verdict, WeldPath};
use fishplate_tests::project::{at, mm};

use crate::bench::{
    assert_told, bracket, car, check, fillet, folded, land, lid, part, plate, point, refused, row,
    single_bracket,
};

const WEB: &str = "rail.frame.web.outboard";

/// The clashes whose words are all there; at least one, and the answer does not hold by them.
#[track_caller]
fn told(p: &v1::Project, words: &[&str]) -> v1::CheckProjectResponse {
    let a = check(p);
    let found = a.clashes.iter().find(|c| words.iter().all(|w| c.what.contains(w)));
    let clash = found.unwrap_or_else(|| panic!("no clash says {words:?}: {:#?}", a.clashes));
    assert!(!clash.advice.is_empty() && !clash.field_path.is_empty(), "{clash:?}");
    assert_ne!(a.verdict(), Verdict::Holds);
    let open = |r: &String| r.contains("clash") && words.iter().all(|w| r.contains(w));
    assert!(a.provisional_reasons.iter().any(open), "{:#?}", a.provisional_reasons);
    a
}

#[test]
fn a_sound_bracket_clashes_with_nothing() {
    let a = check(&single_bracket(5.0));
    assert!(a.clashes.is_empty(), "{:#?}", a.clashes);
}

#[test]
fn a_part_that_stands_into_the_rail_is_told() {
    // A block on the inside of the bottom, 423 up by 110 = 533: through the top at 517 to 520.
    let mut p = car();
    let block = v1::Block {
        height: mm(110.0),
        on: "rail.frame.bottom.upper".to_owned(),
        centre: Some(point([Some(0.0), Some(400.0), None])),
        plan: Some(Plan::SquareMm(20.0)),
        ..Default::default()
    };
    p.parts.push(part("block", &[], Form::Block(block)));
    let a = told(&p, &["part.block left", "rail.frame left", "fill the same space"]);
    assert!(a.clashes.iter().any(|c| c.what.contains("part.block right")), "and its twin");
}

#[test]
fn a_mount_inside_the_rail_is_told_with_the_numbers() {
    let mut p = car();
    p.mounts[0].at = at([300.0, 400.0, 450.0]);
    let a = told(&p, &["mount front left lies inside rail.frame left"]);
    let place = &a.clashes.iter().find(|c| c.what.contains("front left")).unwrap().r#where;
    for word in ["y 400", "z 450", "y 380 to 425", "z 420 to 520"] {
        assert!(place.contains(word), "{word}: {place}");
    }
}

#[test]
fn a_washer_that_stands_into_a_wall_is_told_and_the_floor_is_not_checked() {
    // Clear width of the bracket 50; the washer of 56 on its middle reaches 3 mm into each wall.
    let mut p = single_bracket(5.0);
    p.bolts[0].washer_outside_mm = Some(56.0);
    let a = told(&p, &["washer of bolt.bush left", "reaches 3 mm into part.bracket left"]);
    let floor = row(&a, "part.bracket left.floor", "plate between walls at a bolt");
    assert_eq!(floor.state(), State::NotChecked);
    assert!(floor.not_checked_reason.contains("geometry clashes"), "{}", floor.not_checked_reason);
    assert!(floor.utilisation.is_none());
}

#[test]
fn a_bolt_that_cuts_a_wall_beside_it_is_told() {
    // The bracket 22 to the front: its rear wall 292 to 297 is 3 mm from the axis at 300, the hole of
    // 13 reaches 6.5.
    let mut p = single_bracket(5.0);
    p.parts[0].form = Some(bracket(WEB, [22.0, 40.0]));
    p.bolts[0].through = vec!["mount.front".to_owned(), "part.bracket.floor".to_owned()];
    let a = told(&p, &["bolt.bush left", "part.bracket left"]);
    let floor = row(&a, "part.bracket left.floor", "plate between walls at a bolt");
    assert_eq!(floor.state(), State::NotChecked);
}

#[test]
fn a_hole_that_breaks_the_edge_is_told_and_one_outside_is_refused() {
    // Reach 60: the floor ends at y 485, 5 mm beyond the bolt at 480; the hole needs 6.5.
    let mut short = folded(WEB, [0.0, 40.0]);
    short.reach = mm(60.0);
    let mut p = single_bracket(5.0);
    p.parts[0].form = Some(Form::Folded(short.clone()));
    let a = told(&p, &["hole of bolt.bush left breaks the edge of part.bracket left"]);
    let clash = a.clashes.iter().find(|c| c.what.contains("breaks the edge")).unwrap();
    assert!(clash.r#where.contains("5.0 mm from the edge, the hole needs 6.5"), "{clash:?}");
    // Reach 50: it ends at 475, the bolt passes nothing.
    short.reach = mm(50.0);
    p.parts[0].form = Some(Form::Folded(short));
    assert_told(&refused(&p), "project.bolts[0].at[0]", &["leaves part.bracket", "y 480.0"]);
}

#[test]
fn a_weld_between_parts_that_do_not_touch_is_refused() {
    // A pad at x -200 and a bracket at x 300: nothing between them but air.
    let mut p = single_bracket(5.0);
    p.parts.push(part("pad", &[], plate(WEB, 6.0, [-200.0, 470.0], [100.0, 80.0])));
    p.welds[0].joins = vec!["part.bracket".to_owned(), "part.pad".to_owned()];
    p.welds.push(fillet("pad", ["part.pad", "rail.frame.web"], 5.0, WeldPath::AllRound));
    assert_told(&refused(&p), "project.welds[0].joins[1]", &["part.pad"]);
}

#[test]
fn a_weld_along_an_edge_that_hangs_over_is_refused() {
    // The pad's lower edge is at 440 - 45 = 395, the rail begins at 420: that bead lies in the air.
    let mut p = car();
    p.parts.push(part("pad", &[], plate(WEB, 6.0, [0.0, 440.0], [100.0, 90.0])));
    p.welds.push(fillet("pad", ["part.pad", "rail.frame.web"], 5.0, WeldPath::AllRound));
    assert_told(&refused(&p), "project.welds[0].joins[1]", &["rail.frame"]);
}

#[test]
fn a_bracket_beside_the_face_it_is_welded_to_is_refused() {
    // A bracket on a pad that ends 40 mm short of it.
    let mut p = car();
    p.parts.push(part("pad", &["mount.front"], plate(WEB, 6.0, [-110.0, 45.0], [80.0, 80.0])));
    p.parts.push(part("bracket", &["mount.front"], bracket("part.pad.outboard", [0.0, 45.0])));
    p.welds.push(fillet("foot", ["part.bracket", "part.pad"], 5.0, WeldPath::Walls));
    p.welds.push(fillet("pad", ["part.pad", "rail.frame.web"], 5.0, WeldPath::AllRound));
    land(&mut p, "part.bracket.floor");
    assert_told(&refused(&p), "project.welds[0].joins[1]", &["away from part.pad", "on both"]);
}

#[test]
fn a_foot_that_hangs_over_its_pad_is_told() {
    // The pad ends at z 465 - 43 = 422 below, the foot at 420: 2 mm in the air. The answer is open
    // by it, whatever its joint uses.
    let mut p = car();
    p.parts.push(part("pad", &["mount.front"], plate(WEB, 6.0, [0.0, 45.0], [120.0, 86.0])));
    p.parts.push(part("bracket", &["mount.front"], bracket("part.pad.outboard", [0.0, 40.0])));
    p.welds.push(fillet("foot", ["part.bracket", "part.pad"], 5.0, WeldPath::Walls));
    p.welds.push(fillet("pad", ["part.pad", "rail.frame.web"], 5.0, WeldPath::AllRound));
    land(&mut p, "part.bracket.floor");
    let a = told(&p, &["part.bracket left hangs over the edge of part.pad left"]);
    let clash = a.clashes.iter().find(|c| c.what.contains("part.bracket left hangs")).unwrap();
    for word in ["z 420 to 500", "z 422 to 508"] {
        assert!(clash.r#where.contains(word), "{word}: {clash:?}");
    }
}

/// A boxed rail with a sleeve for a bolt through it, each at a spot of its own.
fn sleeved(bolt_x: f64, sleeve_x: f64) -> v1::Project {
    let mut p = single_bracket(5.0);
    p.parts.push(part("lid", &[], lid(3.0, 100.0, 500.0)));
    p.welds.push(fillet("lid", ["part.lid", "rail.frame"], 5.0, WeldPath::LongEdges));
    let spot = |x| point([Some(x), None, Some(470.0)]);
    let sleeve = v1::Sleeve {
        outside_mm: 24.0,
        bore_mm: 13.0,
        spans: vec!["rail.frame.web.inboard".to_owned(), "part.lid".to_owned()],
        at: vec![spot(sleeve_x)],
        ..Default::default()
    };
    p.parts.push(part("sleeve", &[], Form::Sleeve(sleeve)));
    let mut bolt =
        crate::bench::bolt("through", "M12", 13.0, &["rail.frame.web", "part.sleeve", "part.lid"]);
    bolt.at = vec![spot(bolt_x)];
    p.bolts.push(bolt);
    p
}

#[test]
fn a_sleeve_that_stands_beside_its_bolt_is_told_and_not_checked() {
    let a = check(&sleeved(300.0, 300.0));
    assert!(a.clashes.is_empty(), "round its bolt: {:#?}", a.clashes);
    assert!(row(&a, "part.sleeve left", "full preload").utilisation.is_some());
    // 30 mm off: the bolt passes beside it, the preload has nothing to stand on.
    let a = told(&sleeved(300.0, 330.0), &["bolt.through left passes beside part.sleeve left"]);
    let sleeve = row(&a, "part.sleeve left", "full preload");
    assert_eq!(sleeve.state(), State::NotChecked, "{sleeve:?}");
}

#[test]
fn parts_that_wait_for_each_other_in_a_circle_are_refused() {
    let mut p = car();
    p.parts.push(part("one", &[], plate("part.two.outboard", 4.0, [0.0, 470.0], [50.0, 50.0])));
    p.parts.push(part("two", &[], plate("part.one.outboard", 4.0, [0.0, 470.0], [50.0, 50.0])));
    let refusal = refused(&p);
    for field in ["project.parts[0]", "project.parts[1]"] {
        assert_told(&refusal, field, &["circle"]);
    }
}
