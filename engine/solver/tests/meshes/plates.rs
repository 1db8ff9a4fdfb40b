//! Plates as they occur in brackets and rails.

use fishplate_solver::mesh::{
    Circle, Course, Edge, Hole, HoleShape, Line, Outline, Point, Sizing, Spot,
};

/// A plate with straight edges `e0`, `e1` and so on.
pub(crate) fn polygon(name: &str, corners: &[Point]) -> Outline {
    Outline {
        name: name.into(),
        edges: corners
            .iter()
            .enumerate()
            .map(|(i, &start)| Edge { name: format!("e{i}"), start, course: Course::Straight })
            .collect(),
        holes: vec![],
        lines: vec![],
        circles: vec![],
        points: vec![],
    }
}

pub(crate) fn rectangle(name: &str, width: f64, height: f64) -> Outline {
    polygon(name, &[[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]])
}

pub(crate) fn round(name: &str, centre: Point, diameter: f64) -> Hole {
    Hole { name: name.into(), shape: HoleShape::Circle { centre, diameter } }
}

pub(crate) fn rim(name: &str, centre: Point, diameter: f64) -> Circle {
    Circle { name: name.into(), centre, diameter }
}

pub(crate) fn line(name: &str, points: &[Point]) -> Line {
    Line { name: name.into(), points: points.to_vec() }
}

pub(crate) fn spot(name: &str, at: Point) -> Spot {
    Spot { name: name.into(), at }
}

/// Wall of a bracket with a bolt hole, its washer and a weld run that ends inside.
pub(crate) fn bracket_wall() -> Outline {
    let mut plate = rectangle("wall", 0.1, 0.08);
    plate.holes.push(round("bolt", [0.05, 0.04], 0.015));
    plate.circles.push(rim("washer", [0.05, 0.04], 0.03));
    plate.lines.push(line("weld", &[[0.02, 0.0], [0.02, 0.05]]));
    plate.points.push(spot("gauge", [0.085, 0.065]));
    plate
}

/// A triangular gusset with both sharp corners clipped.
pub(crate) fn gusset() -> Outline {
    polygon("gusset", &[[0.0, 0.0], [0.08, 0.0], [0.08, 0.01], [0.01, 0.08], [0.0, 0.08]])
}

/// A rail web with a doubler of pointed ends outlined on it, and holes.
pub(crate) fn rail_web() -> Outline {
    let mut plate = rectangle("web", 0.4, 0.1);
    for (i, x) in [0.14, 0.18, 0.22, 0.26].into_iter().enumerate() {
        plate.holes.push(round(&format!("h{i}"), [x, 0.05], 0.013));
    }
    plate.holes.push(round("drain", [0.04, 0.05], 0.02));
    plate.lines.push(line(
        "doubler",
        &[
            [0.08, 0.05],
            [0.11, 0.02],
            [0.29, 0.02],
            [0.32, 0.05],
            [0.29, 0.08],
            [0.11, 0.08],
            [0.08, 0.05],
        ],
    ));
    plate
}

/// The doubler itself, its ends pointed to a right angle.
pub(crate) fn doubler() -> Outline {
    let mut plate = polygon(
        "doubler",
        &[[0.0, 0.03], [0.03, 0.0], [0.21, 0.0], [0.24, 0.03], [0.21, 0.06], [0.03, 0.06]],
    );
    for (i, x) in [0.06, 0.1, 0.14, 0.18].into_iter().enumerate() {
        plate.holes.push(round(&format!("h{i}"), [x, 0.03], 0.013));
    }
    plate
}

/// An L with a rounded free corner, a slot and a triangular opening.
pub(crate) fn ell() -> Outline {
    let mut plate = polygon(
        "ell",
        &[
            [0.0, 0.0],
            [0.12, 0.0],
            [0.12, 0.04],
            [0.05, 0.04],
            [0.05, 0.1],
            [0.02, 0.1],
            [0.0, 0.08],
        ],
    );
    let half = 0.02 * std::f64::consts::FRAC_1_SQRT_2;
    plate.edges[5].course = Course::Over([0.02 - half, 0.08 + half]);
    plate.holes.push(Hole {
        name: "slot".into(),
        shape: HoleShape::Slot { from: [0.075, 0.02], to: [0.095, 0.02], width: 0.011 },
    });
    plate.holes.push(Hole {
        name: "window".into(),
        shape: HoleShape::Polygon(vec![[0.015, 0.05], [0.035, 0.05], [0.025, 0.07]]),
    });
    plate
}

/// Typical plates with their sizing.
pub(crate) fn typical() -> Vec<(Outline, Sizing)> {
    let mut fine = Sizing::uniform(0.008);
    fine.least = 0.002;
    fine.at_line_ends = Some(0.003);
    fine.at_reentrant_corners = Some(0.003);
    vec![
        (bracket_wall(), fine.clone()),
        (bracket_wall(), Sizing::uniform(0.006)),
        (gusset(), Sizing::uniform(0.008)),
        (rail_web(), Sizing::uniform(0.01)),
        (rail_web(), fine.clone()),
        (doubler(), Sizing::uniform(0.008)),
        (ell(), fine),
        (rectangle("strip", 0.2, 0.03), Sizing::uniform(0.01)),
    ]
}
