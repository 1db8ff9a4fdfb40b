//! What has to hold in every mesh.

use fishplate_solver::mesh::{Course, Element, Mesh, Outline, Point};
use std::collections::BTreeMap;

pub(crate) fn apart(a: Point, b: Point) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Nodes on something named.
pub(crate) fn row<'a>(mesh: &'a Mesh, name: &str) -> &'a [usize] {
    &mesh.mark(name).expect("everything named has a mark").nodes
}

/// A place in its bits: what is said to be kept exactly is compared exactly.
pub(crate) fn bits(p: Point) -> [u64; 2] {
    p.map(f64::to_bits)
}

/// Elements on each side, by the side's nodes in rising order.
pub(crate) fn sides(mesh: &Mesh) -> BTreeMap<[usize; 2], usize> {
    let mut sides = BTreeMap::new();
    for element in &mesh.elements {
        let nodes = element.nodes();
        for k in 0..nodes.len() {
            let (a, b) = (nodes[k], nodes[(k + 1) % nodes.len()]);
            *sides.entry([a.min(b), a.max(b)]).or_insert(0) += 1;
        }
    }
    sides
}

/// Conformity, convex elements, marks that are rows of sides, and nodes that are all used.
pub(crate) fn check(outline: &Outline, mesh: &Mesh) {
    let name = &outline.name;
    let sides = sides(mesh);
    let mut on_rims: BTreeMap<[usize; 2], usize> = BTreeMap::new();
    let listed = outline.edges.len()
        + outline.holes.len()
        + outline.lines.len()
        + outline.circles.len()
        + outline.points.len();
    assert_eq!(mesh.marks.len(), listed);
    for (m, mark) in mesh.marks.iter().enumerate() {
        let mut row: Vec<[usize; 2]> = mark.nodes.windows(2).map(|w| [w[0], w[1]]).collect();
        if mark.closed {
            row.push([mark.nodes[mark.nodes.len() - 1], mark.nodes[0]]);
        }
        for [a, b] in row {
            let side = [a.min(b), a.max(b)];
            assert!(sides.contains_key(&side), "{name}: `{}` leaves the sides", mark.name);
            if m < outline.edges.len() + outline.holes.len() {
                *on_rims.entry(side).or_insert(0) += 1;
            }
        }
    }
    for (side, count) in &sides {
        let expected = if on_rims.contains_key(side) { 1 } else { 2 };
        assert_eq!(*count, expected, "{name}: side {side:?}");
    }
    assert!(on_rims.values().all(|&n| n == 1), "{name}: a rim runs twice along a side");
    for element in &mesh.elements {
        let nodes = element.nodes();
        let n = nodes.len();
        for k in 0..n {
            let [a, b, c] =
                [nodes[(k + n - 1) % n], nodes[k], nodes[(k + 1) % n]].map(|i| mesh.points[i]);
            let jacobian = (c[0] - b[0]) * (a[1] - b[1]) - (c[1] - b[1]) * (a[0] - b[0]);
            assert!(jacobian > 0.0, "{name}: element {nodes:?} at {b:?}");
        }
    }
    // Euler: nodes less sides plus elements is 1 for a sheet, less 1 for every hole.
    let all = mesh.points.len() + mesh.elements.len() + outline.holes.len();
    assert_eq!(all, sides.len() + 1, "{name}: Euler's count");
    let mut used = vec![false; mesh.points.len()];
    mesh.elements.iter().flat_map(Element::nodes).for_each(|&n| used[n] = true);
    assert!(used.iter().all(|&u| u), "{name}: a node without element");
    for (i, edge) in outline.edges.iter().enumerate() {
        let nodes = row(mesh, &edge.name);
        let end = outline.edges[(i + 1) % outline.edges.len()].start;
        assert_eq!(bits(mesh.points[nodes[0]]), bits(edge.start));
        assert_eq!(bits(mesh.points[nodes[nodes.len() - 1]]), bits(end));
        if let Course::Nodes(given) = &edge.course {
            let got = nodes[1..nodes.len() - 1].iter().map(|&n| bits(mesh.points[n]));
            assert!(got.eq(given.iter().map(|&p| bits(p))), "{name}: nodes given beforehand");
        }
    }
    for spot in &outline.points {
        assert_eq!(bits(mesh.points[row(mesh, &spot.name)[0]]), bits(spot.at));
    }
    // Connected, without overlap: with areas that add up to the plate's, convex elements that
    // share their sides two by two can't lie on each other.
    assert!((mesh.area() - enclosed(outline, mesh)).abs() <= 1e-12 * mesh.area(), "{name}: area");
}

/// Area inside the rims of a mesh: shoelace formula over the nodes of edges and holes.
fn enclosed(outline: &Outline, mesh: &Mesh) -> f64 {
    let shoelace = |nodes: &[usize]| {
        let origin = mesh.points[nodes[0]];
        0.5 * (0..nodes.len())
            .map(|k| {
                let (a, b) = (mesh.points[nodes[k]], mesh.points[nodes[(k + 1) % nodes.len()]]);
                (a[0] - origin[0]) * (b[1] - origin[1]) - (b[0] - origin[0]) * (a[1] - origin[1])
            })
            .sum::<f64>()
    };
    let mut ring = Vec::new();
    for edge in &outline.edges {
        let nodes = row(mesh, &edge.name);
        ring.extend_from_slice(&nodes[..nodes.len() - 1]);
    }
    let holes: f64 = outline.holes.iter().map(|h| shoelace(row(mesh, &h.name)).abs()).sum();
    shoelace(&ring).abs() - holes
}
