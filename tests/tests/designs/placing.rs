//! Where every form comes to lie: coordinates by adding up the drawing (statics of nothing: plain
//! addition from the face outward). Extents are x from, to, y from, to, z from, to in mm.

use fishplate_proto::v1;
use fishplate_proto::v1::bar_section::Shape;
use fishplate_proto::v1::block::Plan;
use fishplate_proto::v1::part::Form;
use fishplate_proto::v1::{Direction, Opening, Side, WeldPath};
use fishplate_tests::project::mm;

use crate::bench::{
    FRONT, assert_all_near, assert_face, box_rail, bracket, car, channel, check, extent_of, fillet,
    folded, length, lid, part, plate, point, runs, single_bracket, xz,
};

const WEB: &str = "rail.frame.web.outboard";

#[test]
fn a_channel_opens_inward_or_outward_and_a_box_has_two_walls() {
    // Inward: web 422 to 425, flanges back to 425 - 45 = 380.
    let inward = check(&car());
    let rail = "rail.frame left";
    assert_all_near(
        "inward",
        extent_of(&inward, rail),
        [-700.0, 700.0, 380.0, 425.0, 420.0, 520.0],
    );
    assert_face(&inward, rail, [-700.0, 700.0, 422.0, 422.0, 420.0, 520.0]);
    // Outward: the web's outer face looks to the centre plane: web 425 to 428, flanges to 470.
    let mut p = car();
    p.rails = vec![channel(Opening::Outward)];
    let outward = check(&p);
    assert_all_near(
        "outward",
        extent_of(&outward, rail),
        [-700.0, 700.0, 425.0, 470.0, 420.0, 520.0],
    );
    assert_face(&outward, rail, [-700.0, 700.0, 428.0, 428.0, 420.0, 520.0]);
    // Box 100 x 60 x 3: from 425 in to 365, inner wall 365 to 368; its twin on the right.
    p.rails = vec![box_rail()];
    let closed = check(&p);
    assert_all_near("box", extent_of(&closed, rail), [-700.0, 700.0, 365.0, 425.0, 420.0, 520.0]);
    assert_face(&closed, rail, [-700.0, 700.0, 368.0, 368.0, 420.0, 520.0]);
    let right = extent_of(&closed, "rail.frame right");
    assert_all_near("box, right", right, [-700.0, 700.0, -425.0, -365.0, 420.0, 520.0]);
}

#[test]
fn a_plate_lies_on_the_outside_or_backs_the_web_from_inside() {
    let mut p = car();
    p.parts.push(part("outer", &[], plate(WEB, 8.0, [10.0, 470.0], [120.0, 90.0])));
    p.parts.push(part(
        "backing",
        &[],
        plate("rail.frame.web.inboard", 4.0, [0.0, 470.0], [100.0, 80.0]),
    ));
    let a = check(&p);
    // 10 ± 60, 470 ± 45; 8 mm outward of 425.
    let outer = [-50.0, 70.0, 425.0, 433.0, 425.0, 515.0];
    assert_all_near("outer", extent_of(&a, "part.outer left"), outer);
    // 4 mm inward of the web's inside at 422.
    let backing = [-50.0, 50.0, 418.0, 422.0, 430.0, 510.0];
    assert_all_near("backing", extent_of(&a, "part.backing left"), backing);
    let twin = [-50.0, 70.0, -433.0, -425.0, 425.0, 515.0];
    assert_all_near("twin", extent_of(&a, "part.outer right"), twin);
}

#[test]
fn on_a_channel_that_opens_outward_faces_and_mouth_change_sides() {
    // Web 425 to 428; its outboard face looks into the channel, its mouth is at 470.
    let mut p = car();
    p.rails = vec![channel(Opening::Outward)];
    p.parts.push(part("within", &[], plate(WEB, 4.0, [0.0, 470.0], [100.0, 80.0])));
    let inboard = "rail.frame.web.inboard";
    p.parts.push(part("inner", &[], plate(inboard, 6.0, [0.0, 470.0], [100.0, 80.0])));
    p.parts.push(part("lid", &[], lid(3.0, 100.0, 300.0)));
    let a = check(&p);
    let within = [-50.0, 50.0, 428.0, 432.0, 430.0, 510.0];
    assert_all_near("within", extent_of(&a, "part.within left"), within);
    let inner = [-50.0, 50.0, 419.0, 425.0, 430.0, 510.0];
    assert_all_near("inner", extent_of(&a, "part.inner left"), inner);
    let closed = [100.0, 300.0, 470.0, 473.0, 420.0, 520.0];
    assert_all_near("lid", extent_of(&a, "part.lid left"), closed);
    // Three parts a side that are placed where they can be, but neither welded nor bolted.
    assert_eq!(a.clashes.len(), 6, "{:#?}", a.clashes);
    assert!(a.clashes.iter().all(|c| c.what.starts_with("nothing fastens")), "{:#?}", a.clashes);
}

#[test]
fn a_folded_bracket_has_its_floor_below_or_its_roof_above() {
    let mut p = car();
    p.parts.push(part("up", &["mount.front"], bracket(WEB, [0.0, 40.0])));
    let mut down = folded(WEB, [0.0, 40.0]);
    down.set_open(v1::FoldOpening::Down);
    p.parts.push(part("down", &["mount.rear"], Form::Folded(down)));
    let a = check(&p);
    // Foot 300 ± 30, 420 + 40 ± 40; 85 off the web. Floor 5 thick below, walls above it.
    let up = "part.up left";
    assert_all_near("up", extent_of(&a, up), [270.0, 330.0, 425.0, 510.0, 420.0, 500.0]);
    assert_face(&a, up, [270.0, 330.0, 425.0, 510.0, 420.0, 420.0]);
    assert_face(&a, up, [270.0, 330.0, 425.0, 510.0, 425.0, 425.0]);
    assert_face(&a, up, [325.0, 325.0, 425.0, 510.0, 425.0, 500.0]);
    assert_face(&a, up, [275.0, 275.0, 425.0, 510.0, 425.0, 500.0]);
    // Open downward: the roof is 495 to 500, the walls hang from it.
    let down = "part.down left";
    assert_face(&a, down, [-330.0, -270.0, 425.0, 510.0, 495.0, 495.0]);
    assert_face(&a, down, [-330.0, -270.0, 425.0, 510.0, 500.0, 500.0]);
    assert_face(&a, down, [-325.0, -325.0, 425.0, 510.0, 420.0, 495.0]);
}

#[test]
fn a_spear_doubler_is_cut_to_points_and_carries_its_bracket() {
    let mut p = car();
    let mut spear = v1::Plate {
        thickness: mm(3.0),
        on: WEB.to_owned(),
        centre: xz(0.0, 45.0),
        size: xz(200.0, 84.0),
        ..Default::default()
    };
    spear.set_outline(v1::Outline::Spear);
    p.parts.push(part("doubler", &["mount.front"], Form::Plate(spear)));
    p.parts.push(part("bracket", &["mount.front"], bracket("part.doubler.outboard", [0.0, 45.0])));
    p.welds.push(fillet("round", ["part.doubler", "rail.frame.web"], 3.0, WeldPath::AllRound));
    let a = check(&p);
    assert_all_near(
        "doubler",
        extent_of(&a, "part.doubler left"),
        [200.0, 400.0, 425.0, 428.0, 423.0, 507.0],
    );
    // Points at 45°: each end is cut back by half the width, 42; long edges run 300 ± 58.
    let mut ends: Vec<_> = runs(&a, "weld.round left").iter().map(|r| (r[0][0], r[0][2])).collect();
    ends.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let want = [
        (200.0, 465.0),
        (242.0, 423.0),
        (242.0, 507.0),
        (358.0, 423.0),
        (358.0, 507.0),
        (400.0, 465.0),
    ];
    assert_eq!(ends.len(), want.len());
    for (got, want) in ends.iter().zip(want) {
        assert_all_near("corner", [got.0, got.1], [want.0, want.1]);
    }
    // Two edges of 116 and four cuts of 42 √2.
    let all: f64 = runs(&a, "weld.round left").into_iter().map(length).sum();
    crate::bench::assert_near("length of the bead", all, 2.0 * 116.0 + 4.0 * 42.0 * 2.0_f64.sqrt());
    // The bracket stands on the doubler, 3 mm further out.
    let stands = [270.0, 330.0, 428.0, 513.0, 425.0, 505.0];
    assert_all_near("bracket", extent_of(&a, "part.bracket left"), stands);
}

#[test]
fn gussets_stand_in_the_corner_of_web_and_floor() {
    let mut p = single_bracket(5.0);
    let gusset = v1::Gusset {
        thickness: mm(4.0),
        corner: vec![WEB.to_owned(), "part.bracket.floor".to_owned()],
        legs: Some(point([None, Some(55.0), Some(60.0)])),
        at: vec![point([Some(-20.0), None, None]), point([Some(20.0), None, None])],
    };
    p.parts.push(part("gusset", &["mount.front"], Form::Gusset(gusset)));
    let a = check(&p);
    // Corner at y 425 and the floor's upper face, z 425; legs to y 480 and z 485; 300 ± 20 ± 2.
    let both = [278.0, 322.0, 425.0, 480.0, 425.0, 485.0];
    assert_all_near("both", extent_of(&a, "part.gusset left"), both);
    for x in [278.0, 282.0, 318.0, 322.0] {
        assert_face(&a, "part.gusset left", [x, x, 425.0, 480.0, 425.0, 485.0]);
    }
    let twin = extent_of(&a, "part.gusset right");
    assert_all_near("twin", twin, [278.0, 322.0, -480.0, -425.0, 425.0, 485.0]);
}

#[test]
fn a_boxing_plate_closes_the_mouth_and_a_sleeve_fills_the_gap_behind_it() {
    let mut p = car();
    p.parts.push(part("lid", &[], lid(3.0, -100.0, 200.0)));
    let sleeve = v1::Sleeve {
        outside_mm: 24.0,
        bore_mm: 13.0,
        spans: vec!["rail.frame.web.inboard".to_owned(), "part.lid".to_owned()],
        at: vec![point([Some(60.0), None, Some(470.0)])],
        ..Default::default()
    };
    p.parts.push(part("sleeve", &[], Form::Sleeve(sleeve)));
    p.bolts.push(crate::bench::bolt(
        "through",
        "M12",
        13.0,
        &["rail.frame.web", "part.sleeve", "part.lid"],
    ));
    p.bolts[0].at = vec![point([Some(60.0), None, Some(470.0)])];
    let a = check(&p);
    // The mouth is at 425 - 45 = 380; the plate lies on the edges of the flanges, 3 mm inward.
    assert_all_near(
        "lid",
        extent_of(&a, "part.lid left"),
        [-100.0, 200.0, 377.0, 380.0, 420.0, 520.0],
    );
    // From the plate, 380, to the inside of the web, 422: 42 mm long.
    let [_, _, y0, y1, ..] = extent_of(&a, "part.sleeve left");
    assert_all_near("sleeve", [y0, y1], [380.0, 422.0]);
    let [_, _, y0, y1, ..] = extent_of(&a, "part.sleeve right");
    assert_all_near("twin", [y0, y1], [-422.0, -380.0]);
    // The bolt clamps from 377 to 425.
    let bolts = &a.scene.as_ref().unwrap().bolts;
    let left = bolts.iter().find(|b| b.name == "bolt.through left").unwrap();
    let (head, nut) = (left.head.unwrap(), left.nut.unwrap());
    assert_all_near("ends", [head.y_mm + nut.y_mm, (head.y_mm - nut.y_mm).abs()], [802.0, 48.0]);
}

#[test]
fn a_spacer_block_hangs_under_the_rail() {
    let mut p = car();
    let block = |plan| {
        Form::Block(v1::Block {
            height: mm(30.0),
            on: "rail.frame.bottom.under".to_owned(),
            centre: Some(point([Some(0.0), Some(-80.0), None])),
            bore_mm: Some(13.0),
            plan: Some(plan),
        })
    };
    p.parts.push(part("square", &["mount.front"], block(Plan::SquareMm(40.0))));
    p.parts.push(part("round", &["mount.rear"], block(Plan::RoundMm(40.0))));
    let a = check(&p);
    // 480 - 80 = 400 ± 20; 30 mm down from 420.
    let square = [280.0, 320.0, 380.0, 420.0, 390.0, 420.0];
    assert_all_near("square", extent_of(&a, "part.square left"), square);
    let twin = [280.0, 320.0, -420.0, -380.0, 390.0, 420.0];
    assert_all_near("twin", extent_of(&a, "part.square right"), twin);
    // A round one is drawn with straight sides of like area: a hundredth larger across at most.
    let [x0, x1, y0, y1, z0, z1] = extent_of(&a, "part.round left");
    assert_all_near("heights", [z0, z1, x0 + x1, y0 + y1], [390.0, 420.0, -600.0, 800.0]);
    assert!((39.9..40.4).contains(&(x1 - x0)) && (39.9..40.4).contains(&(y1 - y0)));
}

/// End plates of 8 mm on the box rail's inner wall and a bar between them along (-300, 470).
fn crossed(shape: Shape, line: [f64; 2], legs: &[Direction]) -> v1::CheckProjectResponse {
    let mut p = car();
    p.rails = vec![box_rail()];
    let end = plate("rail.frame.inner-wall.inboard", 8.0, [-300.0, 470.0], [120.0, 90.0]);
    p.parts.push(part("end", &[], end));
    let mut bar = v1::Bar {
        section: Some(v1::BarSection { shape: Some(shape) }),
        line: xz(line[0], line[1]),
        between: vec!["part.end.left.inboard".to_owned(), "part.end.right.inboard".to_owned()],
        ..Default::default()
    };
    bar.legs = legs.iter().map(|l| *l as i32).collect();
    p.parts.push(part("bar", &[], Form::Bar(bar)));
    check(&p)
}

#[test]
fn bars_of_every_shape_run_from_end_plate_to_end_plate() {
    // Rail to 365, end plate to 357: the bar is 714 long.
    let tube = Shape::Box(v1::BoxBar { height_mm: 60.0, width_mm: 40.0, wall_mm: 4.0 });
    let a = crossed(tube, [-300.0, 470.0], &[]);
    assert_all_near(
        "box",
        extent_of(&a, "part.bar"),
        [-320.0, -280.0, -357.0, 357.0, 440.0, 500.0],
    );
    assert_face(&a, "part.bar", [-316.0, -316.0, -357.0, 357.0, 444.0, 496.0]);
    let flat = Shape::Flat(v1::FlatBar { height_mm: 60.0, width_mm: 10.0 });
    let a = crossed(flat, [-300.0, 470.0], &[]);
    let want = [-305.0, -295.0, -357.0, 357.0, 440.0, 500.0];
    assert_all_near("flat", extent_of(&a, "part.bar"), want);
    let round = Shape::Tube(v1::TubeBar { diameter_mm: 50.0, wall_mm: 4.0 });
    let a = crossed(round, [-300.0, 470.0], &[]);
    let [x0, x1, y0, y1, z0, z1] = extent_of(&a, "part.bar");
    assert_all_near("tube", [x0 + x1, y0, y1, z0 + z1], [-600.0, -357.0, 357.0, 940.0]);
    assert!((49.9..50.5).contains(&(x1 - x0)) && (49.9..50.5).contains(&(z1 - z0)));
}

#[test]
fn an_angle_lies_with_its_legs_where_they_are_said_to_point() {
    // 50 x 40 x 6, heel at (-330, 430): the first leg named has the first length.
    let angle = Shape::Angle(v1::AngleBar { leg_a_mm: 50.0, leg_b_mm: 40.0, thickness_mm: 6.0 });
    let a = crossed(angle, [-330.0, 430.0], &[Direction::XPlus, Direction::ZPlus]);
    assert_face(&a, "part.bar", [-330.0, -280.0, -357.0, 357.0, 430.0, 430.0]);
    assert_face(&a, "part.bar", [-330.0, -280.0, -357.0, 357.0, 436.0, 436.0]);
    assert_face(&a, "part.bar", [-324.0, -324.0, -357.0, 357.0, 436.0, 470.0]);
    // Turned over: heel at (-270, 510), 50 down and 40 to the rear.
    let angle = Shape::Angle(v1::AngleBar { leg_a_mm: 50.0, leg_b_mm: 40.0, thickness_mm: 6.0 });
    let a = crossed(angle, [-270.0, 510.0], &[Direction::ZMinus, Direction::XMinus]);
    assert_face(&a, "part.bar", [-310.0, -270.0, -357.0, 357.0, 504.0, 504.0]);
    assert_face(&a, "part.bar", [-310.0, -270.0, -357.0, 357.0, 510.0, 510.0]);
    assert_face(&a, "part.bar", [-276.0, -276.0, -357.0, 357.0, 460.0, 504.0]);
}

#[test]
fn one_description_stands_at_every_datum_on_both_sides() {
    let mut p = car();
    p.parts.push(part("bracket", &["mount.front", "mount.rear"], bracket(WEB, [5.0, 40.0])));
    let mut foot = fillet("foot", ["part.bracket", "rail.frame.web"], 4.0, WeldPath::Walls);
    foot.datums = vec!["mount.front".to_owned(), "mount.rear".to_owned()];
    p.welds.push(foot);
    let a = check(&p);
    for (name, x) in [("front-bracket", FRONT[0]), ("rear-bracket", -300.0)] {
        for (side, [y0, y1]) in [("left", [425.0, 510.0]), ("right", [-510.0, -425.0])] {
            let want = [x - 25.0, x + 35.0, y0, y1, 420.0, 500.0];
            assert_all_near(name, extent_of(&a, &format!("part.{name} {side}")), want);
        }
    }
    // Four feet of two walls of 80 mm.
    let totals = a.totals.unwrap();
    crate::bench::assert_near("weld", totals.weld_length_mm, 4.0 * 2.0 * 80.0);
    // Floor 60 x 85 and walls 2 x 75 x 85, all 5 mm: 25500 + 63750 mm³, 7850 kg/m³
    // (EN 1991-1-1:2002, Table A.4), four times.
    crate::bench::assert_near("steel", totals.part_mass_kg, 4.0 * 89250.0 * 7.85e-6);
}

#[test]
fn what_is_said_to_be_only_on_one_side_has_no_twin() {
    let mut p = car();
    let mut doubler = part("doubler", &[], plate(WEB, 3.0, [0.0, 470.0], [100.0, 80.0]));
    doubler.set_only(Side::Right);
    p.parts.push(doubler);
    let a = check(&p);
    let want = [-50.0, 50.0, -428.0, -425.0, 430.0, 510.0];
    assert_all_near("right", extent_of(&a, "part.doubler right"), want);
    let solids = &a.scene.as_ref().unwrap().solids;
    assert!(solids.iter().all(|s| s.name != "part.doubler left"));
}
