//! Nodes inside moved to where their elements are better.

use super::plane::{Point, add, apart, between, cross, norm, scale, sub};
use super::product::Element;
use fishplate_quantity::algebra::{larger, smaller};
use std::collections::BTreeSet;

/// Rounds over all nodes.
const ROUNDS: usize = 40;
/// Above this a worse element than before is no matter.
const GOOD: f64 = 0.8;
/// Below this, an element is mended at the cost of evenness: 45 degrees.
const POOR: f64 = 0.7;

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
    let star = Star { about, beside };
    let free: Vec<usize> =
        (0..points.len()).filter(|&n| !fixed[n] && !star.beside[n].is_empty()).collect();
    for _ in 0..ROUNDS {
        let mut farthest = 0.0;
        for &node in &free {
            farthest = larger(farthest, star.centre(points, elements, node));
        }
        if farthest < 1e-3 {
            break;
        }
    }
    for _ in 0..ROUNDS / 2 {
        let mut moved = false;
        for &node in &free {
            moved |= star.mend(points, elements, node);
        }
        if !moved {
            break;
        }
    }
}

/// Elements and nodes about every node.
struct Star {
    about: Vec<Vec<usize>>,
    beside: Vec<BTreeSet<usize>>,
}

impl Star {
    fn worst(&self, points: &[Point], elements: &[Element], node: usize) -> f64 {
        self.about[node].iter().fold(1.0, |least, &e| smaller(least, shape(&elements[e], points)))
    }

    /// Distance to the nearest neighbour.
    fn size(&self, points: &[Point], node: usize) -> f64 {
        self.beside[node]
            .iter()
            .fold(f64::INFINITY, |s, &n| smaller(s, apart(points[n], points[node])))
    }

    /// Moves a node towards the centre of its neighbours; how far, as a share of its size.
    fn centre(&self, points: &mut [Point], elements: &[Element], node: usize) -> f64 {
        let share = 1.0 / self.beside[node].len() as f64;
        let centre = [0, 1].map(|x| self.beside[node].iter().map(|&n| share * points[n][x]).sum());
        let (before, old) = (self.worst(points, elements, node), points[node]);
        let size = self.size(points, node);
        let mut step = 1.0;
        while step > 0.1 {
            points[node] = between(old, centre, step);
            let after = self.worst(points, elements, node);
            if after >= before || after > GOOD {
                break;
            }
            points[node] = old;
            step *= 0.5;
        }
        apart(points[node], old) / size
    }

    /// Moves a node with a poor element to the best of the places about it; whether it moved.
    fn mend(&self, points: &mut [Point], elements: &[Element], node: usize) -> bool {
        let (mut best, mut at) = (self.worst(points, elements, node), points[node]);
        if best > POOR {
            return false;
        }
        let size = self.size(points, node);
        let (old, before) = (at, best);
        for step in [0.2, 0.07] {
            for k in 0..8 {
                let angle = f64::from(k) * std::f64::consts::FRAC_PI_4;
                points[node] = add(old, scale(step * size, [angle.cos(), angle.sin()]));
                let there = self.worst(points, elements, node);
                if there > best {
                    (best, at) = (there, points[node]);
                }
            }
        }
        points[node] = at;
        best > before + 0.01
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
