//! Nodes inside moved to where their elements are better.

use super::plane::{Point, apart, cross, norm, sub};
use super::product::Element;
use fishplate_quantity::algebra::{larger, smaller};
use std::collections::BTreeSet;

/// Rounds over all nodes.
const ROUNDS: usize = 40;
/// Above this a worse element than before is no matter.
const GOOD: f64 = 0.8;

/// Least sine of the corners of an element: 1 for a rectangle, 0 and below where a corner takes
/// half a turn or more.
pub(super) fn shape(element: &Element, points: &[Point]) -> f64 {
    let nodes = element.nodes();
    let n = nodes.len();
    (0..n).fold(1.0, |least, k| {
        let [a, b, c] = [nodes[(k + n - 1) % n], nodes[k], nodes[(k + 1) % n]].map(|i| points[i]);
        let (u, v) = (sub(c, b), sub(a, b));
        smaller(least, cross(u, v) / (norm(u) * norm(v)))
    })
}

/// Moves every node that is not fixed towards the centre of its neighbours, wherever its worst
/// element does not suffer.
pub(super) fn smooth(points: &mut [Point], elements: &[Element], fixed: &[bool]) {
    let mut about: Vec<Vec<usize>> = vec![Vec::new(); points.len()];
    let mut beside: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); points.len()];
    for (e, element) in elements.iter().enumerate() {
        let nodes = element.nodes();
        for k in 0..nodes.len() {
            let next = nodes[(k + 1) % nodes.len()];
            about[nodes[k]].push(e);
            beside[nodes[k]].insert(next);
            beside[next].insert(nodes[k]);
        }
    }
    for _ in 0..ROUNDS {
        let mut farthest = 0.0;
        for node in (0..points.len()).filter(|&n| !fixed[n] && !beside[n].is_empty()) {
            let share = 1.0 / beside[node].len() as f64;
            let centre = [0, 1].map(|x| beside[node].iter().map(|&n| share * points[n][x]).sum());
            let worst = |points: &[Point]| {
                about[node]
                    .iter()
                    .fold(1.0, |least, &e| smaller(least, shape(&elements[e], points)))
            };
            let (before, old) = (worst(points), points[node]);
            let mut step = 1.0;
            while step > 0.1 {
                points[node] = super::plane::between(old, centre, step);
                let after = worst(points);
                if after >= before || after > GOOD {
                    break;
                }
                points[node] = old;
                step *= 0.5;
            }
            let size =
                beside[node].iter().fold(f64::INFINITY, |s, &n| smaller(s, apart(points[n], old)));
            farthest = larger(farthest, apart(points[node], old) / size);
        }
        if farthest < 1e-3 {
            break;
        }
    }
}

/// Quadrilaterals that no smoothing could make convex are cut into two triangles.
pub(super) fn cut_bad(points: &[Point], elements: &mut Vec<Element>) {
    let whole = std::mem::take(elements);
    for element in whole {
        match element {
            Element::Quad([a, b, c, d]) if shape(&element, points) < WORST => {
                let halves = |one: [usize; 3], two: [usize; 3]| {
                    [Element::Triangle(one), Element::Triangle(two)]
                };
                let [first, second] = [halves([a, b, c], [a, c, d]), halves([a, b, d], [b, c, d])];
                let least =
                    |pair: &[Element; 2]| smaller(shape(&pair[0], points), shape(&pair[1], points));
                elements.extend(if least(&first) >= least(&second) { first } else { second });
            }
            other => elements.push(other),
        }
    }
}

/// Least sine of a corner of a quadrilateral: about 3 degrees, or 177.
const WORST: f64 = 0.05;
