//! How good the elements are on typical plates, and how sizes change.

use crate::plates::{line, polygon, rectangle, round, spot, typical};
use crate::sound::{apart, check, row};
use fishplate_solver::mesh::{Course, Finer, Sizing, mesh};

#[test]
fn elements_of_typical_plates_are_of_good_shape() {
    // Common practice, no source: corners from 30 to 150 degrees, sides up to 1:5.
    for (plate, sizing) in typical() {
        let made = mesh(&plate, &sizing).unwrap();
        let q = &made.quality;
        assert!(q.least_angle.to_degrees() > 30.0, "{}: {q:?}", plate.name);
        assert!(q.largest_angle.to_degrees() < 150.0, "{}: {q:?}", plate.name);
        assert!(q.worst_aspect < 5.0, "{}: {q:?}", plate.name);
        assert!(!q.worst_near.is_empty());
    }
}

#[test]
fn a_plain_rectangle_becomes_a_grid() {
    let mut plate = rectangle("strip", 0.2, 0.03);
    plate.lines.push(line("weld", &[[0.05, 0.0], [0.05, 0.03]]));
    // Turned and moved: 30 degrees.
    let turned = |p: [f64; 2]| {
        let (s, c) = (0.5, 0.75_f64.sqrt());
        [1.0 + c * p[0] - s * p[1], 2.0 + s * p[0] + c * p[1]]
    };
    plate.edges.iter_mut().for_each(|e| e.start = turned(e.start));
    plate.lines[0].points.iter_mut().for_each(|p| *p = turned(*p));
    let made = mesh(&plate, &Sizing::uniform(0.01)).unwrap();
    check(&plate, &made);
    let right = std::f64::consts::FRAC_PI_2;
    assert!((made.quality.least_angle - right).abs() < 1e-9);
    assert!((made.quality.largest_angle - right).abs() < 1e-9);
    // 50 and 150 mm by 10; 30 mm in an even number of steps.
    assert_eq!(made.quality.elements, (6 + 16) * 4);
}

#[test]
fn a_rectangle_between_equal_folds_is_a_grid_over_their_nodes() {
    let steps = [0.011, 0.019, 0.03, 0.044, 0.052];
    let mut plate = rectangle("wall", 0.06, 0.05);
    plate.edges[0].course = Course::Nodes(steps.iter().map(|&x| [x, 0.0]).collect());
    plate.edges[2].course = Course::Nodes(steps.iter().rev().map(|&x| [x, 0.05]).collect());
    plate.lines.push(line("weld", &[[0.03, 0.0], [0.03, 0.02], [0.044, 0.02]]));
    plate.points.push(spot("gauge", [0.019, 0.03]));
    let made = mesh(&plate, &Sizing::uniform(0.01)).unwrap();
    check(&plate, &made);
    let right = std::f64::consts::FRAC_PI_2;
    assert!((made.quality.largest_angle - right).abs() < 1e-9);
    // Six columns between the given nodes, and as many rows as the sides have.
    let rows = row(&made, "e1").len() - 1;
    assert_eq!(made.quality.elements, 6 * rows);
    assert!(rows >= 6 && rows.is_multiple_of(2));
}

#[test]
fn sizes_grow_by_the_ratio_asked_for() {
    let plate = polygon("plate", &[[0.0, 0.0], [0.3, 0.0], [0.31, 0.1], [0.0, 0.1]]);
    let mut sizing = Sizing::uniform(0.02);
    sizing.least = 0.002;
    sizing.growth = 1.4;
    sizing.finer = vec![Finer { from: [0.0, 0.0], to: [0.0, 0.0], size: 0.002 }];
    let made = mesh(&plate, &sizing).unwrap();
    check(&plate, &made);
    let edge = row(&made, "e0");
    let steps: Vec<f64> =
        edge.windows(2).map(|w| apart(made.points[w[0]], made.points[w[1]])).collect();
    assert!(steps[0] < 1.25 * 0.002, "{steps:?}");
    assert!(steps[steps.len() - 1] > 0.8 * 0.02, "{steps:?}");
    for pair in steps.windows(2) {
        // A row of geometric growth by hand, with a tenth for whole numbers of elements.
        assert!(pair[1] / pair[0] < 1.4_f64.powf(1.1) && pair[1] / pair[0] > 0.99, "{steps:?}");
    }
}

#[test]
fn the_number_of_elements_follows_the_size() {
    // Squares of the size asked for would be area / size^2; unstructured quadrilaterals of the
    // same sides have less area each.
    let mut plate = polygon("plate", &[[0.0, 0.0], [0.3, 0.02], [0.28, 0.2], [0.01, 0.21]]);
    plate.holes.push(round("hole", [0.15, 0.1], 0.06));
    for size in [0.01, 0.005] {
        let made = mesh(&plate, &Sizing::uniform(size)).unwrap();
        check(&plate, &made);
        let squares = made.area() / (size * size);
        let share = made.quality.elements as f64 / squares;
        assert!((0.8..1.5).contains(&share), "{share}");
    }
}

#[test]
fn weld_ends_and_reentrant_corners_get_the_size_asked_for() {
    let mut plate = polygon(
        "ell",
        &[[0.0, 0.0], [0.12, 0.0], [0.12, 0.05], [0.05, 0.05], [0.05, 0.12], [0.0, 0.12]],
    );
    plate.lines.push(line("weld", &[[0.02, 0.02], [0.09, 0.025]]));
    let mut sizing = Sizing::uniform(0.012);
    sizing.least = 0.002;
    sizing.at_line_ends = Some(0.003);
    sizing.at_reentrant_corners = Some(0.002);
    let made = mesh(&plate, &sizing).unwrap();
    check(&plate, &made);
    let first = |name: &str, back: bool| {
        let row = row(&made, name);
        let n = row.len();
        let [a, b] = if back { [row[n - 1], row[n - 2]] } else { [row[0], row[1]] };
        apart(made.points[a], made.points[b])
    };
    assert!(first("weld", false) < 1.25 * 0.003);
    assert!(first("weld", true) < 1.25 * 0.003);
    assert!(first("e2", true) < 1.25 * 0.002);
    assert!(first("e3", false) < 1.25 * 0.002);
    assert!(first("e0", false) > 0.006);
}
