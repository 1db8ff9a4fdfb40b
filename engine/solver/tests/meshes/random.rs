//! Random plates: convex polygons with a hole and an imprinted line, and walls of brackets.

use crate::plates::{line, polygon, rectangle, rim, round};
use crate::sound::{check, row};
use fishplate_solver::mesh::{Course, Point, Sizing, mesh};
use proptest::prelude::*;

/// Corners on an ellipse, at least 20 degrees apart: a convex polygon with its area by the
/// shoelace formula and the distance of its centre from its nearest edge.
fn corners(steps: &[f64], stretch: f64, turn: f64) -> (Vec<Point>, f64, Point, f64) {
    let total: f64 = steps.iter().sum();
    let mut angle = turn;
    let mut corners = Vec::new();
    for step in steps {
        corners.push([0.1 * angle.cos(), 0.1 * stretch * angle.sin()]);
        angle += step / total * std::f64::consts::TAU;
    }
    let n = corners.len();
    let share = 1.0 / n as f64;
    let centre = [0, 1].map(|k| corners.iter().map(|p| share * p[k]).sum::<f64>());
    let (mut area, mut nearest) = (0.0, f64::INFINITY);
    for i in 0..n {
        let (a, b) = (corners[i], corners[(i + 1) % n]);
        area += 0.5 * (a[0] * b[1] - b[0] * a[1]);
        let length = (b[0] - a[0]).hypot(b[1] - a[1]);
        let off =
            ((b[0] - a[0]) * (centre[1] - a[1]) - (b[1] - a[1]) * (centre[0] - a[0])) / length;
        if off < nearest {
            nearest = off;
        }
    }
    (corners, area, centre, nearest)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn random_convex_plates_with_a_hole_are_meshed(
        steps in prop::collection::vec(1.0..3.0_f64, 3..8),
        stretch in 0.5..1.0_f64,
        turn in 0.0..6.3_f64,
        hole in 0.2..0.7_f64,
        size in 0.15..1.2_f64,
    ) {
        let (points, area, centre, off) = corners(&steps, stretch, turn);
        let mut plate = polygon("random", &points);
        plate.holes.push(round("hole", centre, 2.0 * hole * off));
        // From a corner a quarter of the way to the centre, where the hole cannot be.
        let inner = [0, 1].map(|k| points[0][k] + 0.25 * (centre[k] - points[0][k]));
        plate.lines.push(line("line", &[inner, points[0]]));
        let made = mesh(&plate, &Sizing::uniform(size * off));
        prop_assert!(made.is_ok(), "{made:?}");
        if let Ok(made) = made {
            check(&plate, &made);
            // Triangles from the centre to the chords: r^2 sin(angle) / 2.
            let rim: Vec<Point> = row(&made, "hole").iter().map(|&n| made.points[n]).collect();
            let rim: f64 = (0..rim.len())
                .map(|k| {
                    let [a, b] = [rim[k], rim[(k + 1) % rim.len()]]
                        .map(|p| (p[1] - centre[1]).atan2(p[0] - centre[0]));
                    0.5 * (hole * off).powi(2) * (b - a).sin()
                })
                .sum();
            prop_assert!((made.area() / (area - rim) - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn random_walls_with_a_washer_a_weld_and_a_given_fold_are_meshed(
        (width, height) in (0.06..0.12_f64, 0.06..0.12_f64),
        hole in prop::array::uniform2(0.4..0.6_f64),
        diameter in 0.01..0.016_f64,
        weld in prop::array::uniform2(0.2..0.9_f64),
        steps in prop::collection::vec(0.7..1.3_f64, 6..14),
        size in 0.004..0.012_f64,
    ) {
        let mut plate = rectangle("wall", width, height);
        let centre = [hole[0] * width, hole[1] * height];
        plate.holes.push(round("bolt", centre, diameter));
        plate.circles.push(rim("washer", centre, 1.9 * diameter));
        // Between the washer's farthest left and the edge.
        plate.lines.push(line("weld", &[[0.12 * width, height], [0.12 * width, weld[0] * height]]));
        let total: f64 = steps.iter().sum();
        let mut at = 0.0;
        let mut given = Vec::new();
        for step in &steps[1..] {
            at += step / total * width;
            given.push([at, 0.0]);
        }
        plate.edges[0].course = Course::Nodes(given);
        let mut sizing = Sizing::uniform(size);
        sizing.at_line_ends = Some(weld[1] * size);
        let made = mesh(&plate, &sizing);
        prop_assert!(made.is_ok(), "{made:?}");
        if let Ok(made) = made {
            check(&plate, &made);
            prop_assert!(made.quality.triangles == steps.len() % 2);
        }
    }
}
