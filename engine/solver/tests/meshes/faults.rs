//! What cannot be meshed is refused, and the edge or hole at fault is named.

use crate::plates::{line, polygon, rectangle, rim, round, spot};
use fishplate_solver::mesh::{
    Course, Features, Finer, Hole, HoleShape, Outline, Section, Sizing, Wall, extrude, mesh,
    stations,
};

fn sizing() -> Sizing {
    Sizing::uniform(0.01)
}

/// Asserts a refusal at `path`, with `word` in what was given.
fn refused(plate: &Outline, sizing: &Sizing, path: &str, word: &str) {
    let faults = mesh(plate, sizing).expect_err(&format!("{path}: {word}"));
    assert!(
        faults.iter().any(|f| f.path.starts_with(path) && f.given.contains(word)),
        "{path} with `{word}` is not among {faults:#?}"
    );
    for fault in &faults {
        assert!(!fault.allowed.is_empty() && !fault.advice.is_empty(), "{fault:?}");
    }
}

fn plate() -> Outline {
    rectangle("plate", 0.1, 0.08)
}

#[test]
fn a_boundary_that_crosses_or_touches_itself() {
    let bow = polygon("bow", &[[0.0, 0.0], [0.1, 0.1], [0.1, 0.0], [0.0, 0.1]]);
    refused(&bow, &sizing(), "edges[`e0`]", "edges[`e2`] at (0.05, 0.05)");
    // The spike of e1 and e2 runs back on itself.
    let spike = polygon("spike", &[[0.0, 0.0], [0.1, 0.0], [0.15, 0.0], [0.1, 0.0], [0.05, 0.1]]);
    refused(&spike, &sizing(), "edges[`e1`]", "edges[`e2`]");
    let pinched = polygon(
        "pinched",
        &[[0.0, 0.0], [0.05, 0.02], [0.1, 0.0], [0.1, 0.1], [0.05, 0.02], [0.0, 0.1]],
    );
    refused(&pinched, &sizing(), "edges[`e0`]", "at (0.05, 0.02)");
    let mut knot = plate();
    knot.edges[0].course =
        Course::Through(vec![[0.06, 0.02], [0.04, 0.02], [0.06, 0.01], [0.07, 0.0]]);
    refused(&knot, &sizing(), "edges[`e0`]", "itself");
}

#[test]
fn holes_where_none_can_be() {
    let mut over = plate();
    over.holes.push(round("bolt", [0.005, 0.04], 0.02));
    refused(&over, &sizing(), "holes[`bolt`]", "edges[`e3`]");
    let mut touching = plate();
    touching.holes.push(round("bolt", [0.01, 0.04], 0.02));
    refused(&touching, &sizing(), "holes[`bolt`]", "edges[`e3`]");
    let mut outside = plate();
    outside.holes.push(round("bolt", [0.2, 0.04], 0.02));
    refused(&outside, &sizing(), "holes[`bolt`]", "outside");
    let mut two = plate();
    two.holes.push(round("one", [0.04, 0.04], 0.02));
    two.holes.push(round("two", [0.055, 0.04], 0.02));
    refused(&two, &sizing(), "holes[`two`]", "holes[`one`]");
    let mut nested = plate();
    nested.holes.push(round("one", [0.05, 0.04], 0.04));
    nested.holes.push(round("two", [0.05, 0.04], 0.02));
    refused(&nested, &sizing(), "holes[`two`]", "in the hole `one`");
    let mut twisted = plate();
    twisted.holes.push(Hole {
        name: "window".into(),
        shape: HoleShape::Polygon(vec![[0.02, 0.02], [0.06, 0.06], [0.06, 0.02], [0.02, 0.06]]),
    });
    refused(&twisted, &sizing(), "holes[`window`]", "itself");
    let mut swallowed = plate();
    swallowed.holes.push(round("all", [0.05, 0.04], 0.5));
    refused(&swallowed, &sizing(), "holes[`all`]", "outside");
}

#[test]
fn imprints_beyond_the_plate() {
    let mut beyond = plate();
    beyond.lines.push(line("weld", &[[0.05, 0.04], [0.15, 0.05]]));
    refused(&beyond, &sizing(), "lines[`weld`]", "outside");
    let mut across = plate();
    across.holes.push(round("bolt", [0.05, 0.04], 0.02));
    across.lines.push(line("weld", &[[0.02, 0.04], [0.08, 0.04]]));
    refused(&across, &sizing(), "lines[`weld`]", "in the hole `bolt`");
    let mut washer = plate();
    washer.circles.push(rim("washer", [0.01, 0.04], 0.03));
    refused(&washer, &sizing(), "circles[`washer`]", "edges[`e3`]");
    let mut away = plate();
    away.points.push(spot("gauge", [0.05, 0.2]));
    refused(&away, &sizing(), "points[`gauge`]", "outside");
    let mut in_hole = plate();
    in_hole.holes.push(round("bolt", [0.05, 0.04], 0.02));
    in_hole.points.push(spot("gauge", [0.05, 0.04]));
    refused(&in_hole, &sizing(), "points[`gauge`]", "in the hole `bolt`");
}

#[test]
fn lines_that_need_a_node_where_none_may_be_added() {
    let mut fold = plate();
    fold.edges[0].course = Course::Nodes(vec![[0.03, 0.0], [0.06, 0.0]]);
    fold.lines.push(line("weld", &[[0.045, 0.0], [0.045, 0.04]]));
    refused(&fold, &sizing(), "edges[`e0`]", "lines[`weld`]");
    fold.lines.clear();
    fold.points.push(spot("gauge", [0.045, 0.0]));
    refused(&fold, &sizing(), "points[`gauge`]", "edges[`e0`]");
}

#[test]
fn lengths_of_nothing_and_too_few_corners() {
    let repeated = polygon("repeated", &[[0.0, 0.0], [0.1, 0.0], [0.1, 0.0], [0.0, 0.1]]);
    refused(&repeated, &sizing(), "edges[`e1`]", "no length");
    refused(&polygon("two", &[[0.0, 0.0], [0.1, 0.0]]), &sizing(), "edges", "2 edges");
    refused(&polygon("none", &[]), &sizing(), "edges", "0 edges");
    let flat = polygon("flat", &[[0.0, 0.0], [0.1, 0.0], [0.2, 0.0]]);
    refused(&flat, &sizing(), "edges[`e0`]", "edges[`e2`]");
    let mut dot = plate();
    dot.lines.push(line("weld", &[[0.05, 0.04], [0.05, 0.04]]));
    refused(&dot, &sizing(), "lines[`weld`]", "no length");
    let mut single = plate();
    single.lines.push(line("weld", &[[0.05, 0.04]]));
    refused(&single, &sizing(), "lines[`weld`]", "1 points");
    let mut slot = plate();
    slot.holes.push(Hole {
        name: "slot".into(),
        shape: HoleShape::Slot { from: [0.05, 0.04], to: [0.05, 0.04], width: 0.01 },
    });
    refused(&slot, &sizing(), "holes[`slot`].to", "no length");
    let mut straight_arc = plate();
    straight_arc.edges[0].course = Course::Over([0.05, 0.0]);
    refused(&straight_arc, &sizing(), "edges[`e0`]", "on the line");
}

#[test]
fn places_narrower_than_elements_can_be() {
    // Floor of the sizes: a quarter of a quarter of 10 mm.
    let mut ligament = plate();
    ligament.holes.push(round("bolt", [0.0103, 0.04], 0.02));
    refused(&ligament, &sizing(), "edges[`e3`]", "0.300 mm of material to holes[`bolt`]");
    let mut close = plate();
    close.lines.push(line("weld", &[[0.0003, 0.0], [0.03, 0.04]]));
    refused(&close, &sizing(), "edges[`e0`]", "0.300 mm between two places");
    let needle = polygon("needle", &[[0.0, 0.0], [0.2, 0.0], [0.2, 0.01]]);
    refused(&needle, &sizing(), "edges[`e0`]", "2.86 degrees");
    let sliver = polygon("sliver", &[[0.0, 0.0], [0.2, 0.0], [0.2, 0.0004], [0.0, 0.0004]]);
    refused(&sliver, &sizing(), "edges[`e0`]", "0.400 mm of material to edges[`e2`]");
    // Smaller elements fit.
    let mut finer = sizing();
    finer.least = 0.001;
    mesh(&ligament, &finer).unwrap();
}

#[test]
fn sizes_that_do_not_belong_together() {
    // A hole in micrometres in a plate in kilometres.
    let mut vast = rectangle("vast", 1e3, 1e3);
    vast.holes.push(round("bolt", [500.0, 500.0], 1e-5));
    refused(&vast, &Sizing::uniform(50.0), "holes[`bolt`]", "in a plate 1.4");
}

#[test]
fn more_elements_than_are_allowed() {
    let mut few = sizing();
    few.most_elements = 20;
    refused(&plate(), &few, "sizing.most_elements", "20");
    let mut fine = Sizing::uniform(1e-6);
    fine.most_elements = 1_000_000;
    let mut holed = plate();
    holed.holes.push(round("bolt", [0.05, 0.04], 0.02));
    refused(&holed, &fine, "sizing.most_elements", "1000000");
    refused(&plate(), &fine, "sizing.most_elements", "1000000");
}

#[test]
fn numbers_that_are_none() {
    for bad in [f64::NAN, f64::INFINITY, 1e9] {
        let mut corner = plate();
        corner.edges[2].start[1] = bad;
        refused(&corner, &sizing(), "edges[`e2`]", " m");
        let mut hole = plate();
        hole.holes.push(round("bolt", [0.05, bad], 0.02));
        refused(&hole, &sizing(), "holes[`bolt`].centre", " m");
        let mut wide = plate();
        wide.holes.push(round("bolt", [0.05, 0.04], bad));
        refused(&wide, &sizing(), "holes[`bolt`].diameter", " m");
        let mut weld = plate();
        weld.lines.push(line("weld", &[[0.05, 0.04], [bad, 0.04]]));
        refused(&weld, &sizing(), "lines[`weld`]", " m");
        refused(&plate(), &Sizing { target: bad, ..sizing() }, "sizing.target", " m");
    }
    for bad in [0.0, -0.01] {
        let mut hole = plate();
        hole.holes.push(round("bolt", [0.05, 0.04], bad));
        refused(&hole, &sizing(), "holes[`bolt`].diameter", " m");
        refused(&plate(), &Sizing { least: bad, ..sizing() }, "sizing.least", " m");
    }
    refused(&plate(), &Sizing { growth: 1.0, ..sizing() }, "sizing.growth", "1");
    refused(&plate(), &Sizing { growth: f64::NAN, ..sizing() }, "sizing.growth", "NaN");
    refused(&plate(), &Sizing { around_holes: 12, ..sizing() }, "sizing.around_holes", "12");
    refused(&plate(), &Sizing { least: 0.02, ..sizing() }, "sizing.least", "0.02");
    refused(&plate(), &Sizing { most_elements: 0, ..sizing() }, "sizing.most_elements", "0");
    let finer = vec![Finer { from: [0.0, 0.0], to: [0.0, 0.0], size: -1.0 }];
    refused(&plate(), &Sizing { finer, ..sizing() }, "sizing.finer[0].size", "-1");
}

#[test]
fn names_that_are_there_twice() {
    let mut twice = plate();
    twice.lines.push(line("e2", &[[0.02, 0.02], [0.05, 0.04]]));
    refused(&twice, &sizing(), "lines[`e2`]", "edges");
}

#[test]
fn outlines_of_too_many_points() {
    let mut long = plate();
    let via = (1..3000).map(|i| [0.1 * f64::from(i) / 3000.0, 0.0]).collect();
    long.edges[0].course = Course::Through(via);
    refused(&long, &sizing(), "outline `plate`", "3003 points");
}

#[test]
fn sections_and_stations_that_cannot_be_drawn() {
    let wall = |name: &str, from, to| Wall {
        name: name.into(),
        from,
        to,
        over: None,
        across: 4,
        features: Features::default(),
    };
    let angle = Section {
        name: "angle".into(),
        points: vec![[0.0, 0.0], [0.04, 0.0], [0.04, 0.04]],
        walls: vec![wall("flat", 0, 1), wall("upright", 1, 2)],
    };
    let along = [0.0, 0.01, 0.02];
    let told = |section: &Section, along: &[f64], path: &str| {
        let faults = extrude(section, along, &sizing()).expect_err(path);
        assert!(faults.iter().any(|f| f.path.starts_with(path)), "{path}: {faults:?}");
    };
    assert!(extrude(&angle, &along, &sizing()).is_ok());
    told(&angle, &[0.0, 0.02, 0.01], "stations");
    told(&angle, &[0.0], "stations");
    let mut bad = angle.clone();
    bad.walls[1].to = 7;
    told(&bad, &along, "walls[`upright`]");
    let mut bad = angle.clone();
    bad.walls[1].across = 0;
    told(&bad, &along, "walls[`upright`].across");
    let mut bad = angle.clone();
    bad.walls[1].name = "flat".into();
    told(&bad, &along, "walls[`flat`]");
    let mut bad = angle.clone();
    bad.points[2] = [f64::NAN, 0.0];
    told(&bad, &along, "points[2]");
    let mut bad = angle.clone();
    bad.points[2] = bad.points[1];
    told(&bad, &along, "walls[`upright`]");
    let mut bad = angle.clone();
    bad.walls.pop();
    told(&bad, &along, "points[2]");
    let mut bad = angle.clone();
    bad.walls[1].over = Some([0.04, 0.02]);
    told(&bad, &along, "walls[`upright`].over");
    let mut bad = angle;
    bad.walls[1].features.holes.push(round("bolt", [0.01, 0.039], 0.01));
    told(&bad, &along, "walls[`upright`].holes[`bolt`]");
    for (length, imposed) in [
        (f64::NAN, vec![]),
        (-1.0, vec![]),
        (0.2, vec![0.3]),
        (0.2, vec![f64::NAN]),
        (0.2, vec![0.1, 0.1001]),
    ] {
        assert!(stations(length, &imposed, &sizing()).is_err(), "{length} {imposed:?}");
    }
}
