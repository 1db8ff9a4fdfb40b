//! Laws that hold for every plate.

use crate::plates::{line, polygon, rectangle, rim, round, typical};
use crate::sound::{apart, bits, check, row, sides};
use fishplate_solver::mesh::{Course, Edge, Point, Sizing, mesh};

#[test]
fn typical_plates_are_covered_once_by_convex_elements() {
    for (plate, sizing) in typical() {
        let made = mesh(&plate, &sizing).unwrap();
        check(&plate, &made);
        assert_eq!(made.quality.triangles, 0, "{}", plate.name);
    }
}

#[test]
fn the_area_of_a_polygon_is_exact() {
    // By hand, in mm: a strip 10 wide and 80 high, then 70 wide with a mean height of 45.
    let plate = crate::plates::gusset();
    let made = mesh(&plate, &Sizing::uniform(0.008)).unwrap();
    let area = 0.01 * 0.08 + 0.07 * 0.045;
    assert!((made.area() - area).abs() <= 1e-12 * area);
    // Turned round, and far from the origin.
    let mut far = plate.clone();
    for edge in &mut far.edges {
        edge.start = [-edge.start[0] + 3.0, edge.start[1] - 7.0];
    }
    let made = mesh(&far, &Sizing::uniform(0.008)).unwrap();
    check(&far, &made);
    assert!((made.area() - area).abs() <= 1e-12 * area);
}

#[test]
fn a_boundary_may_run_either_way_round() {
    for plate in [crate::plates::gusset(), crate::plates::doubler(), rectangle("r", 0.1, 0.04)] {
        let corners: Vec<Point> = plate.edges.iter().rev().map(|e| e.start).collect();
        let mut back = polygon(&plate.name, &corners);
        back.holes = plate.holes.clone();
        let sizing = Sizing::uniform(0.008);
        let (one, two) = (mesh(&plate, &sizing).unwrap(), mesh(&back, &sizing).unwrap());
        check(&back, &two);
        assert!((one.area() / two.area() - 1.0).abs() < 1e-12);
    }
}

#[test]
fn a_line_may_run_back_on_itself() {
    let mut plate = rectangle("web", 0.2, 0.1);
    plate.lines.push(line("weave", &[[0.05, 0.05], [0.15, 0.05], [0.1, 0.05]]));
    let made = mesh(&plate, &Sizing::uniform(0.01)).unwrap();
    check(&plate, &made);
    let nodes = row(&made, "weave");
    let length: f64 = nodes.windows(2).map(|w| apart(made.points[w[0]], made.points[w[1]])).sum();
    assert!((length - 0.15).abs() < 1e-12);
}

#[test]
fn nodes_of_a_round_hole_lie_on_its_circle() {
    let mut plate = rectangle("wall", 0.1, 0.08);
    plate.holes.push(round("hole", [0.05, 0.04], 0.015));
    plate.circles.push(rim("washer", [0.05, 0.04], 0.03));
    let mut sizing = Sizing::uniform(0.01);
    sizing.around_holes = 32;
    let made = mesh(&plate, &sizing).unwrap();
    check(&plate, &made);
    for (name, radius) in [("hole", 0.0075), ("washer", 0.015)] {
        let nodes = row(&made, name);
        assert!(nodes.len() >= 32);
        for &n in nodes {
            assert!((apart(made.points[n], [0.05, 0.04]) - radius).abs() < 1e-15);
        }
    }
    // Rings about one centre have nodes on the same rays.
    let of = |name: &str| row(&made, name).len();
    assert_eq!(of("hole"), of("washer"));
}

#[test]
fn a_line_is_a_row_of_sides_between_its_ends() {
    let mut plate = rectangle("web", 0.2, 0.1);
    plate.lines.push(line("run", &[[0.031, 0.02], [0.117, 0.063]]));
    // Crosses the first one, and ends on the edge.
    plate.lines.push(line("edge of another", &[[0.06, 0.0], [0.09, 0.08]]));
    // Lies on the boundary and beyond its corner along the next edge.
    plate.lines.push(line("along", &[[0.15, 0.0], [0.2, 0.0], [0.2, 0.03]]));
    // Lies partly on the first one.
    plate.lines.push(line("upon", &[[0.031, 0.02], [0.074, 0.0415]]));
    let made = mesh(&plate, &Sizing::uniform(0.01)).unwrap();
    check(&plate, &made);
    for line in &plate.lines {
        let nodes = row(&made, &line.name);
        let length: f64 =
            nodes.windows(2).map(|w| apart(made.points[w[0]], made.points[w[1]])).sum();
        let expected: f64 = line.points.windows(2).map(|w| apart(w[0], w[1])).sum();
        assert!((length - expected).abs() < 1e-12, "{}", line.name);
        assert_eq!(bits(made.points[nodes[0]]), bits(line.points[0]));
    }
    let shared = |a: &str, b: &str| {
        let other = row(&made, b);
        row(&made, a).iter().filter(|n| other.contains(n)).count()
    };
    assert_eq!(shared("run", "edge of another"), 1);
    assert_eq!(shared("upon", "run"), row(&made, "upon").len());
}

#[test]
fn nodes_given_beforehand_are_the_only_ones() {
    // A fold with nodes from elsewhere: even and odd numbers of steps, uneven steps.
    for steps in [vec![0.01, 0.02, 0.03], vec![0.02, 0.025, 0.05, 0.07, 0.08], vec![0.03, 0.07]] {
        let mut plate = rectangle("wall", 0.1, 0.06);
        plate.holes.push(round("bolt", [0.05, 0.03], 0.015));
        let given: Vec<Point> = steps.iter().map(|&x| [x, 0.0]).collect();
        plate.edges[0].course = Course::Nodes(given.clone());
        let made = mesh(&plate, &Sizing::uniform(0.008)).unwrap();
        check(&plate, &made);
        assert_eq!(row(&made, "e0").len(), given.len() + 2);
        // An odd number of steps costs one triangle.
        assert_eq!(made.quality.triangles, (given.len() + 1) % 2);
    }
}

#[test]
fn two_walls_share_the_nodes_of_their_fold() {
    let mut one = rectangle("floor", 0.1, 0.06);
    one.lines.push(line("run", &[[0.033, 0.06], [0.033, 0.02]]));
    let sizing = Sizing::uniform(0.008);
    let floor = mesh(&one, &sizing).unwrap();
    let fold = row(&floor, "e2");
    // The second wall stands on the fold, its plane coordinates (x, height).
    let nodes: Vec<Point> = fold.iter().rev().map(|&n| [floor.points[n][0], 0.0]).collect();
    let mut two = rectangle("wall", 0.1, 0.07);
    two.edges[0].course = Course::Nodes(nodes[1..nodes.len() - 1].to_vec());
    two.lines.push(line("run", &[[0.033, 0.0], [0.033, 0.07]]));
    let wall = mesh(&two, &sizing).unwrap();
    check(&two, &wall);
    let met: Vec<Point> = row(&wall, "e0").iter().map(|&n| wall.points[n]).collect();
    assert_eq!(met, nodes);
    assert_eq!(wall.quality.triangles, 0);
}

#[test]
fn an_edge_of_many_points_is_divided_by_size() {
    // A quarter circle of radius 0.1 m by 90 chords: length pi/2 0.1 = 0.157 m, 16 steps of 10 mm.
    let mut plate = polygon("quadrant", &[[0.0, 0.0], [0.1, 0.0], [0.0, 0.1]]);
    let via = (1..90)
        .map(|i| {
            let angle = f64::from(i).to_radians();
            [0.1 * angle.cos(), 0.1 * angle.sin()]
        })
        .collect();
    plate.edges[1].course = Course::Through(via);
    let made = mesh(&plate, &Sizing::uniform(0.01)).unwrap();
    check(&plate, &made);
    let count = row(&made, "e1").len() - 1;
    assert!((14..=20).contains(&count), "{count}");
    let area = std::f64::consts::FRAC_PI_4 * 0.01;
    assert!((made.area() / area - 1.0).abs() < 0.005);
}

#[test]
fn the_same_plate_gives_the_same_bits() {
    for (plate, sizing) in typical() {
        let (one, two) = (mesh(&plate, &sizing).unwrap(), mesh(&plate, &sizing).unwrap());
        assert!(one.points.iter().map(|&p| bits(p)).eq(two.points.iter().map(|&p| bits(p))));
        assert_eq!(one, two);
    }
}

#[test]
fn a_disc_of_two_arcs_is_a_plate() {
    let arc = |name: &str, start: Point, via: Point| Edge {
        name: name.into(),
        start,
        course: Course::Over(via),
    };
    let mut plate = rectangle("disc", 1.0, 1.0);
    plate.edges =
        vec![arc("upper", [0.1, 0.0], [0.0, 0.1]), arc("lower", [-0.1, 0.0], [0.0, -0.1])];
    let made = mesh(&plate, &Sizing::uniform(0.01)).unwrap();
    check(&plate, &made);
    // A polygon of n corners in a circle: n/2 r^2 sin(2 pi/n).
    let n = sides(&made).values().filter(|&&count| count == 1).count() as f64;
    let area = n / 2.0 * 0.01 * (std::f64::consts::TAU / n).sin();
    assert!((made.area() / area - 1.0).abs() < 1e-9);
}
