// Expected values: what the phrase says in plain words; inches are 25.4 mm (international yard and
// pound agreement, 1959); 14 SWG is 2.032 mm and 14 ga US is 0.0747 in (sheet gauge tables).

use super::*;

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

fn assert_sizes(got: &[f64], expected: &[f64], text: &str) {
    assert_eq!(got.len(), expected.len(), "{text}");
    for (g, e) in got.iter().zip(expected) {
        assert!(close(*g, *e), "{text}: {got:?}");
    }
}

#[test]
fn sheets_and_folded_parts() {
    for (text, mm, steel) in [
        ("3 mm S275", 3.0, "S275"),
        ("3/16 in S235", 4.7625, "S235"),
        ("1 1/4 in rail-steel", 31.75, "rail-steel"),
        ("1-1/4 in rail-steel", 31.75, "rail-steel"),
        ("14 SWG S235", 2.032, "S235"),
        ("14 ga US S235", 0.0747 * 25.4, "S235"),
        ("~3 mm ± 0.2 S355", 3.0, "S355"),
    ] {
        let (thickness, name) = sheet(text).unwrap();
        assert!(close(thickness.value_mm, mm), "{text}: {thickness:?}");
        assert_eq!(name, steel, "{text}");
    }
    let (thickness, _) = sheet("~3 mm ± 0.2 S355").unwrap();
    assert!(thickness.guessed && close(thickness.low_mm.unwrap(), 2.8));
    let (thickness, steel) = folded_u("U 5 mm S275").unwrap();
    assert!(close(thickness.value_mm, 5.0) && steel == "S275");
}

// Inertia: 1 lb ft² is 0.042 140 11 kg m² (NIST SP 811 (2008), appendix B.8).
#[test]
fn a_measure_has_one_of_its_units() {
    let units = [("kg m²", 1.0), ("lb ft²", 0.042_140_11)];
    assert!(close(measure("0.05 kg m²", &units).unwrap(), 0.05));
    assert!(close(measure("2 lb ft²", &units).unwrap(), 0.084_280_22));
    let error = measure("0.05 g m²", &units).unwrap_err();
    assert!(error.contains("(kg m², lb ft²)"), "{error}");
}

#[test]
fn numbers_in_inches_need_no_decimals() {
    let at = point("x 13-1/2, z -3/16 in", 2).unwrap();
    assert!(close(at.x_mm.unwrap(), 342.9) && close(at.z_mm.unwrap(), -4.7625));
}

#[test]
fn bars() {
    use v1::bar_section::Shape;
    let sizes_of = |text: &str| {
        let (section, steel) = bar(text).unwrap();
        let mm = match section.shape.unwrap() {
            Shape::Angle(a) => vec![a.leg_a_mm, a.leg_b_mm, a.thickness_mm],
            Shape::Box(b) => vec![b.height_mm, b.width_mm, b.wall_mm],
            Shape::Tube(t) => vec![t.diameter_mm, t.wall_mm],
            Shape::Flat(f) => vec![f.height_mm, f.width_mm],
        };
        (mm, steel)
    };
    for (text, mm, steel) in [
        ("angle 80 x 80 x 8 mm S275", vec![80.0, 80.0, 8.0], "S275"),
        ("angle 2 x 2 x 3/16 in S235", vec![50.8, 50.8, 4.7625], "S235"),
        ("angle 2 in x 2 in x 3/16 in S235", vec![50.8, 50.8, 4.7625], "S235"),
        ("box 50 x 50 x 3 mm S235", vec![50.0, 50.0, 3.0], "S235"),
        ("box 50x40x3 mm S235", vec![50.0, 40.0, 3.0], "S235"),
        ("box 50 × 50 × 3 mm S235", vec![50.0, 50.0, 3.0], "S235"),
        ("tube 48.3 x 3.2 mm S235", vec![48.3, 3.2], "S235"),
        ("tube 1 1/2 in x 14 SWG S235", vec![38.1, 2.032], "S235"),
        ("flat 60 x 8 mm S275", vec![60.0, 8.0], "S275"),
    ] {
        let (got, name) = sizes_of(text);
        assert_sizes(&got, &mm, text);
        assert_eq!(name, steel, "{text}");
    }
}

#[test]
fn rails_sleeves_washers_blocks() {
    match rail("channel 100 x 45 x 3 mm").unwrap() {
        v1::rail::Section::Channel(c) => {
            assert_sizes(&[c.height_mm, c.flange_mm, c.wall_mm], &[100.0, 45.0, 3.0], "channel");
        }
        v1::rail::Section::Box(_) => panic!("a channel"),
    }
    match rail("box 70 x 60 x 1.6 mm").unwrap() {
        v1::rail::Section::Box(b) => {
            assert_sizes(&[b.height_mm, b.width_mm, b.wall_mm], &[70.0, 60.0, 1.6], "box");
        }
        v1::rail::Section::Channel(_) => panic!("a box"),
    }
    let (outside, bore, steel) = sleeve("28 x 15 mm S235").unwrap();
    assert_sizes(&[outside, bore], &[28.0, 15.0], "sleeve");
    assert_eq!(steel, "S235");
    let (outside, thick) = washer("24 x 2.5 mm").unwrap();
    assert_sizes(&[outside, thick], &[24.0, 2.5], "washer");
    let (made, steel) = block("round 60, height 45 mm S235").unwrap();
    assert_eq!(made.plan, Some(v1::block::Plan::RoundMm(60.0)));
    assert!(close(made.height.unwrap().value_mm, 45.0) && steel == "S235");
    let (made, _) = block("square 50, height 45, bore 13 mm S235").unwrap();
    assert_eq!(made.plan, Some(v1::block::Plan::SquareMm(50.0)));
    assert!(close(made.bore_mm.unwrap(), 13.0));
}

#[test]
fn points_and_columns() {
    let at = point("330, 480, 420 mm ± 1.5", 3).unwrap();
    assert_sizes(
        &[at.x_mm.unwrap(), at.y_mm.unwrap(), at.z_mm.unwrap(), at.spread_mm.unwrap()],
        &[330.0, 480.0, 420.0, 1.5],
        "point",
    );
    assert!(!at.guessed);
    let at = point("x -310, z 470 mm", 2).unwrap();
    assert_sizes(&[at.x_mm.unwrap(), at.z_mm.unwrap()], &[-310.0, 470.0], "named");
    assert!(at.y_mm.is_none());
    assert!(point("~x 330, z 40 mm", 2).unwrap().guessed);
    assert!(point("x ~330, z 40 mm", 2).unwrap().guessed);
    assert!(close(point("x 1 1/2, z 2 in", 2).unwrap().x_mm.unwrap(), 38.1));
    let at = point("x 27 mm", 1).unwrap();
    assert!(close(at.x_mm.unwrap(), 27.0));
    let read: Vec<f64> =
        column("2.9, 2.7, ~2.2 mm ± 0.1").unwrap().iter().map(|l| l.value.as_mm()).collect();
    assert_sizes(&read, &[2.9, 2.7, 2.2], "column");
    let read = column("2.9, 2.7, ~2.2 mm ± 0.1").unwrap();
    assert!(!read[0].guessed && read[2].guessed);
    assert!(close(read[0].spread.unwrap().0.as_mm(), 2.8));
    assert_sizes(&places_x("x -600, x 800 mm").unwrap(), &[-600.0, 800.0], "held");
    assert!(close(plane("y 425 mm", "y").unwrap().value_mm, 425.0));
    let (size, ends) = spear("spear x 200, z 84 mm, ends 30 deg").unwrap();
    assert_sizes(
        &[size.x_mm.unwrap(), size.z_mm.unwrap(), ends.unwrap()],
        &[200.0, 84.0, 30.0],
        "",
    );
    assert!(spear("spear x 200, z 84 mm").unwrap().1.is_none());
}

#[test]
fn joints() {
    let Bead::Fillet { leg, both_sides } = bead("fillet leg 3 mm both sides").unwrap() else {
        panic!("a fillet")
    };
    assert!(close(leg.value_mm, 3.0) && both_sides);
    let Bead::Fillet { leg, both_sides } = bead("fillet leg 3/16 in").unwrap() else {
        panic!("a fillet")
    };
    assert!(close(leg.value_mm, 4.7625) && !both_sides);
    let Bead::Plug(diameter) = bead("plug 10 mm").unwrap() else { panic!("a plug") };
    assert!(close(diameter.value_mm, 10.0));
    for text in ["40 on, 30 off mm", "40 mm on, 30 mm off", "40 on, 30 mm off"] {
        let (on, off) = stitches(text).unwrap();
        assert_sizes(&[on, off], &[40.0, 30.0], text);
    }
    assert_eq!(bolt("M14 10.9").unwrap(), ("M14".to_owned(), "10.9".to_owned()));
    assert_eq!(bolt("1/2-13 grade 5").unwrap(), ("1/2-13".to_owned(), "grade 5".to_owned()));
    let how = tightening("torque wrench, scatter ~1.8, thread friction 0.14").unwrap();
    assert_eq!(how.method, "torque wrench");
    let scatter = how.scatter.unwrap();
    assert!(close(scatter.value, 1.8) && scatter.guessed);
    assert!(close(how.thread_friction.unwrap().value, 0.14));
    assert_eq!(directions("+x, +z").unwrap(), [v1::Direction::XPlus, v1::Direction::ZPlus]);
}

#[test]
fn ends_of_bolts() {
    let kind = |text: &str| bolt_end(text).unwrap().kind();
    assert_eq!(kind("nut"), v1::BoltEndKind::Nut);
    assert_eq!(kind("thin nut"), v1::BoltEndKind::ThinNut);
    let unknown = bolt_end("weld nut").unwrap();
    assert_eq!((unknown.kind(), unknown.nut_class.as_str()), (v1::BoltEndKind::WeldNut, ""));
    assert!(unknown.outside.is_none() && unknown.leg.is_none());
    let nut = bolt_end("weld nut class 8, 19 x 10 mm, leg ~3 mm").unwrap();
    assert_eq!(nut.nut_class, "8");
    assert_sizes(
        &[nut.outside.unwrap().value_mm, nut.length.unwrap().value_mm],
        &[19.0, 10.0],
        "nut",
    );
    assert!(nut.leg.is_some_and(|leg| leg.guessed && close(leg.value_mm, 3.0)));
    let boss = bolt_end("welded boss 20 x 15 mm, leg 4 mm, fu 360 MPa").unwrap();
    assert_eq!(boss.kind(), v1::BoltEndKind::WeldedBoss);
    assert!(close(boss.fu.unwrap().value_mpa, 360.0) && close(boss.leg.unwrap().value_mm, 4.0));
    let inches = bolt_end("tapped 1/2 in").unwrap();
    assert!(close(inches.length.unwrap().value_mm, 12.7));
    for (text, part) in [
        ("wing nut", "not an end that is known"),
        ("tapped", "does not give its size"),
        ("welded boss 20 mm, leg 4 mm", "2 belong here"),
        ("welded boss 20 x 15 mm", "leg of its weld"),
        ("weld nut strong", "\"strong\""),
        ("nut, leg 3 mm", "does not belong"),
        ("weld nut, leg 3 mm, leg 4 mm", "given before"),
    ] {
        let error = bolt_end(text).err().unwrap_or_else(|| panic!("{text} was read"));
        assert!(error.contains(part), "{text}: {error}");
    }
}

#[test]
fn what_is_no_phrase_is_refused_with_what_is_allowed() {
    let said = |text: &str, error: Option<String>, part: &str| {
        let error = error.unwrap_or_else(|| panic!("{text} was read"));
        assert!(error.contains(part), "{text}: {error}");
    };
    for (text, part) in [
        ("3 mm", "does not name its steel"),
        ("3 S275", "no unit"),
        ("3 mm or so S275", "or so"),
        ("thick S275", "where a number belongs"),
        ("14 ga S275", "whose gauge"),
        ("3 mm S275 ± 0.2", "does not name its steel"),
    ] {
        said(text, sheet(text).err(), part);
    }
    for (text, part) in [
        ("angle 80 x 8 mm S275", "has 2 sizes; 3 belong here"),
        ("angle 80 x 80 x 8 mm", "does not name its steel"),
        ("angle 80 x 80 x 8 S275", "unit"),
        ("angel 80 x 80 x 8 mm S275", "not a bar that is known"),
        ("tube 48.3 x 3.2 mm S235 galvanised", "where one steel belongs"),
        ("flat 60 by 8 mm S275", "has 1 sizes"),
    ] {
        said(text, bar(text).err(), part);
    }
    for (text, part) in [
        ("330, 480 mm", "has 2 numbers; 3 coordinates"),
        ("330, 480, 420", "no unit"),
        ("x 1, x 2, z 3 mm", "twice"),
        ("x 1, w 2, z 3 mm", "where x, y or z belongs"),
        ("x 1, 2, z 3 mm", "does not name its axes"),
        ("", "where a number belongs"),
        ("330, 480, 420 kg", "a length is written in"),
    ] {
        said(text, point(text, 3).err(), part);
    }
    for (text, part) in [
        ("fillet 4 mm", "fillet leg 4 mm"),
        ("fillet throat 3 mm", "give the leg"),
        ("butt", "not a bead"),
        ("fillet leg 4 mm inside", "inside"),
    ] {
        said(text, bead(text).err(), part);
    }
    said("40, 40 mm", stitches("40, 40 mm").err(), "how long");
    said("M14", bolt("M14").err(), "thread and class");
    said("U5", folded_u("U5 mm S275").err(), "does not start with U");
    let missing = "torque wrench, scatter 1.8";
    said(missing, tightening(missing).err(), "thread friction");
    let word = "torque wrench, scatter 1.8, oil 2";
    said(word, tightening(word).err(), "not known here");
    said("+x", directions("+x").err(), "two legs");
    said("+x, up", directions("+x, up").err(), "\"up\"");
    said("round 60 mm S235", block("round 60 mm S235").err(), "not a whole block");
    said("x 425 mm", plane("x 425 mm", "y").err(), "along y");
    said("hat 3", rail("hat 100 x 45 x 3 mm").err(), "not a rail");
    said("rail steel", rail("box 70 x 60 x 2 mm S235").err(), "written apart");
}

#[test]
fn ends_of_a_fishplate_are_an_angle_to_the_rail() {
    assert!(close(ends("square", None).unwrap(), 90.0));
    assert!(close(ends("tapered 30 deg", None).unwrap(), 30.0));
    assert!(close(ends("spear", Some(40.0)).unwrap(), 40.0));
    assert!(ends("spear", None).unwrap_err().contains("no spear by its outline"));
    assert!(ends("frog", None).unwrap_err().contains("no end that is known"));
}
