//! Prismatic pieces: areas by hand, walls that share their folds, and Euler's count of nodes,
//! sides and elements.

use crate::plates::{line, round};
use fishplate_solver::mesh::{
    Element, Extrusion, Features, Finer, Point, Section, Sizing, Wall, extrude, stations,
};
use std::collections::BTreeMap;

fn wall(name: &str, from: usize, to: usize) -> Wall {
    Wall { name: name.into(), from, to, over: None, across: 4, features: Features::default() }
}

fn section(points: &[Point], closed: bool) -> Section {
    let n = points.len();
    let count = if closed { n } else { n - 1 };
    Section {
        name: "section".into(),
        points: points.to_vec(),
        walls: (0..count).map(|i| wall(&format!("w{i}"), i, (i + 1) % n)).collect(),
    }
}

fn elements(piece: &Extrusion) -> Vec<Element> {
    piece.walls.iter().flat_map(|w| w.elements.iter().copied()).collect()
}

fn area(piece: &Extrusion) -> f64 {
    let fan = |nodes: &[usize]| -> f64 {
        (1..nodes.len() - 1)
            .map(|k| {
                let [a, b, c] = [nodes[0], nodes[k], nodes[k + 1]].map(|n| piece.points[n]);
                let (u, v) = ([0, 1, 2].map(|i| b[i] - a[i]), [0, 1, 2].map(|i| c[i] - a[i]));
                let n = [
                    u[1] * v[2] - u[2] * v[1],
                    u[2] * v[0] - u[0] * v[2],
                    u[0] * v[1] - u[1] * v[0],
                ];
                0.5 * (n[0] * n[0] + n[1] * n[1] + n[2] * n[2]).sqrt()
            })
            .sum()
    };
    elements(piece).iter().map(|e| fan(e.nodes())).sum()
}

/// Nodes less sides plus elements. 1 for a sheet, less 1 for every hole; 0 for a tube.
fn euler(piece: &Extrusion) -> i64 {
    let mut sides: BTreeMap<[usize; 2], usize> = BTreeMap::new();
    for element in elements(piece) {
        let nodes = element.nodes();
        for k in 0..nodes.len() {
            let (a, b) = (nodes[k], nodes[(k + 1) % nodes.len()]);
            *sides.entry([a.min(b), a.max(b)]).or_insert(0) += 1;
        }
    }
    assert!(sides.values().all(|&n| n <= 2));
    let count = |n: usize| i64::try_from(n).expect("few");
    count(piece.points.len()) - count(sides.len()) + count(elements(piece).len())
}

#[test]
fn a_channel_is_one_sheet() {
    let along = stations(0.24, &[0.1], &Sizing::uniform(0.01)).unwrap();
    let channel = section(&[[0.04, 0.0], [0.0, 0.0], [0.0, 0.06], [0.04, 0.06]], false);
    let piece = extrude(&channel, &along, &Sizing::uniform(0.01)).unwrap();
    assert_eq!(euler(&piece), 1);
    assert!((area(&piece) - 0.24 * 0.14).abs() < 1e-15);
    assert_eq!(piece.points.len(), along.len() * (3 * 4 + 1));
    // Walls meet in the same nodes.
    let folds = |i: usize, name: &str| piece.walls[i].mark(name).unwrap().nodes.clone();
    let back: Vec<usize> = folds(0, "to").into_iter().rev().collect();
    assert_eq!(back, folds(1, "from"));
    for (&n, &x) in folds(1, "from").iter().zip(&along) {
        assert_eq!(piece.points[n].map(f64::to_bits), [x, 0.0, 0.0].map(f64::to_bits));
    }
}

#[test]
fn a_square_tube_closes() {
    let tube = section(&[[0.0, 0.0], [0.05, 0.0], [0.05, 0.05], [0.0, 0.05]], true);
    let along = stations(0.3, &[], &Sizing::uniform(0.0125)).unwrap();
    let piece = extrude(&tube, &along, &Sizing::uniform(0.0125)).unwrap();
    assert_eq!(euler(&piece), 0);
    assert!((area(&piece) - 0.3 * 0.2).abs() < 1e-15);
    assert_eq!(piece.points.len(), along.len() * 16);
}

#[test]
fn a_round_tube_of_two_arcs_is_a_prism_over_a_polygon() {
    let mut tube = section(&[[0.03, 0.0], [-0.03, 0.0]], true);
    tube.walls[0].over = Some([0.0, 0.03]);
    tube.walls[1].over = Some([0.0, -0.03]);
    tube.walls.iter_mut().for_each(|w| w.across = 12);
    let piece = extrude(&tube, &[0.0, 0.01, 0.02], &Sizing::uniform(0.01)).unwrap();
    assert_eq!(euler(&piece), 0);
    // 24 chords 2 r sin(pi/24).
    let girth = 24.0 * 2.0 * 0.03 * (std::f64::consts::PI / 24.0).sin();
    assert!((area(&piece) / (0.02 * girth) - 1.0).abs() < 1e-12);
}

#[test]
fn a_wall_with_holes_shares_its_fold_with_a_plain_one() {
    let sizing = Sizing::uniform(0.008);
    let along = stations(0.2, &[0.05, 0.15], &sizing).unwrap();
    let mut angle = section(&[[0.0, 0.0], [0.06, 0.0], [0.06, 0.05]], false);
    angle.walls[0].across = 8;
    angle.walls[0].features.holes =
        vec![round("h0", [0.07, 0.03], 0.015), round("h1", [0.13, 0.03], 0.015)];
    angle.walls[0].features.lines = vec![line("weld", &[[0.05, 0.02], [0.05, 0.06]])];
    let piece = extrude(&angle, &along, &sizing).unwrap();
    assert_eq!(euler(&piece), 1 - 2);
    // Rectangles less two polygons of n corners: n/2 r^2 sin(2 pi/n).
    let hole = |name: &str| {
        let n = piece.walls[0].mark(name).unwrap().nodes.len() as f64;
        n / 2.0 * 0.0075_f64.powi(2) * (std::f64::consts::TAU / n).sin()
    };
    let expected = 0.2 * (0.06 + 0.05) - hole("h0") - hole("h1");
    assert!((area(&piece) / expected - 1.0).abs() < 1e-12);
    assert!(piece.walls.iter().all(|w| w.quality.triangles == 0));
    let weld = &piece.walls[0].mark("weld").unwrap().nodes;
    assert!(weld.iter().all(|&n| (piece.points[n][0] - 0.05).abs() < 1e-15));
    assert!(piece.walls[1].mark("from").unwrap().nodes.contains(&weld[weld.len() - 1]));
}

#[test]
fn stations_hold_what_is_imposed_and_grow_by_the_ratio() {
    let mut sizing = Sizing::uniform(0.02);
    sizing.least = 0.002;
    sizing.finer = vec![Finer { from: [0.1, 0.0], to: [0.1, 0.0], size: 0.003 }];
    let all = stations(0.4, &[0.1, 0.25], &sizing).unwrap();
    for x in [0.0_f64, 0.1, 0.25, 0.4] {
        assert!(all.iter().any(|s| s.to_bits() == x.to_bits()), "{x}: {all:?}");
    }
    let steps: Vec<f64> = all.windows(2).map(|w| w[1] - w[0]).collect();
    let ratio = |w: &[f64]| if w[1] > w[0] { w[1] / w[0] } else { w[0] / w[1] };
    // Over an imposed place a whole number of elements changes either side by up to a half.
    assert!(steps.windows(2).all(|w| ratio(w) < 1.3_f64.powf(1.1) * 1.5), "{steps:?}");
    assert!(steps.iter().all(|&s| s < 1.1 * 0.02 && s > 0.5 * 0.003), "{steps:?}");
    let before = all.iter().position(|x| x.to_bits() == 0.1_f64.to_bits()).unwrap();
    assert_eq!(before % 2, 0);
}
