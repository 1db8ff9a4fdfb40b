//! A mesh and what is told of it.

use super::plane::{Point, apart};
use super::quads::corner;
use fishplate_quantity::algebra::{larger, smaller};

/// Elements over nodes in the plane of a plate.
#[derive(Debug, Clone, PartialEq)]
pub struct Mesh {
    /// Places of the nodes, m.
    pub points: Vec<Point>,
    /// Elements by places in `points`. Every side is shared by two of them or lies on the
    /// boundary or a rim.
    pub elements: Vec<Element>,
    /// The nodes on every named edge, hole, line, circle and point, in the order of the outline.
    pub marks: Vec<Mark>,
    /// How good the elements are.
    pub quality: Quality,
}

impl Mesh {
    /// The mark of a name.
    #[must_use]
    pub fn mark(&self, name: &str) -> Option<&Mark> {
        self.marks.iter().find(|mark| mark.name == name)
    }

    /// Area of all elements, m2.
    #[must_use]
    pub fn area(&self) -> f64 {
        self.elements.iter().map(|e| e.area(&self.points)).sum()
    }
}

/// A flat element, its corners counter-clockwise, each less than half a turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Element {
    /// Three corners.
    Triangle([usize; 3]),
    /// Four corners.
    Quad([usize; 4]),
}

impl Element {
    /// Its corners.
    #[must_use]
    pub fn nodes(&self) -> &[usize] {
        match self {
            Self::Triangle(nodes) => nodes,
            Self::Quad(nodes) => nodes,
        }
    }

    /// Area, m2.
    #[must_use]
    pub fn area(&self, points: &[Point]) -> f64 {
        let nodes = self.nodes();
        // From the first corner on, so that the place of the plate takes no digits.
        (1..nodes.len() - 1)
            .map(|k| {
                0.5 * super::plane::turn(points[nodes[0]], points[nodes[k]], points[nodes[k + 1]])
            })
            .sum()
    }
}

/// What a mark is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MarkKind {
    /// An edge of the boundary.
    Edge,
    /// The rim of a hole.
    Hole,
    /// An imprinted line.
    Line,
    /// An imprinted circle.
    Circle,
    /// An imprinted point.
    Point,
}

/// Nodes along something named.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mark {
    /// Its name in the outline.
    pub name: String,
    /// What it is on.
    pub kind: MarkKind,
    /// Nodes in the order in which the outline runs, ends included. Each follows the one before
    /// by one element side. Round a hole or a circle the first is not repeated at the end.
    pub nodes: Vec<usize>,
    /// Whether a side leads from the last node back to the first.
    pub closed: bool,
}

/// Measures of the elements of a mesh.
#[derive(Debug, Clone, PartialEq)]
pub struct Quality {
    /// Number of elements.
    pub elements: usize,
    /// Of these, triangles.
    pub triangles: usize,
    /// Least angle at a corner, rad.
    pub least_angle: f64,
    /// Largest angle at a corner, rad.
    pub largest_angle: f64,
    /// Largest ratio of the longest to the shortest side of one element.
    pub worst_aspect: f64,
    /// Shortest side, m.
    pub shortest_side: f64,
    /// Longest side, m.
    pub longest_side: f64,
    /// Centre of the element whose corners are farthest from square (farthest from 60 degrees
    /// in a triangle), m.
    pub worst_at: Point,
    /// Name of the mark next to it.
    pub worst_near: String,
}

/// Least and largest corner, rad, and shortest and longest side, m, of an element.
pub(super) fn measures(element: &Element, points: &[Point]) -> ([f64; 2], [f64; 2]) {
    let nodes = element.nodes();
    let n = nodes.len();
    let (mut angles, mut sides) = ([f64::INFINITY, 0.0], [f64::INFINITY, 0.0]);
    for k in 0..n {
        let [a, b, c] = [nodes[(k + n - 1) % n], nodes[k], nodes[(k + 1) % n]].map(|i| points[i]);
        let (angle, side) = (corner(a, b, c), apart(b, c));
        angles = [smaller(angles[0], angle), larger(angles[1], angle)];
        sides = [smaller(sides[0], side), larger(sides[1], side)];
    }
    (angles, sides)
}

impl Quality {
    pub(super) fn of(points: &[Point], elements: &[Element], marks: &[Mark]) -> Self {
        let mut quality = Self {
            elements: elements.len(),
            triangles: elements.iter().filter(|e| matches!(e, Element::Triangle(_))).count(),
            least_angle: f64::INFINITY,
            largest_angle: 0.0,
            worst_aspect: 1.0,
            shortest_side: f64::INFINITY,
            longest_side: 0.0,
            worst_at: [0.0; 2],
            worst_near: String::new(),
        };
        let mut farthest = -1.0;
        for element in elements {
            let (angles, sides) = measures(element, points);
            quality.least_angle = smaller(quality.least_angle, angles[0]);
            quality.largest_angle = larger(quality.largest_angle, angles[1]);
            quality.worst_aspect = larger(quality.worst_aspect, sides[1] / sides[0]);
            quality.shortest_side = smaller(quality.shortest_side, sides[0]);
            quality.longest_side = larger(quality.longest_side, sides[1]);
            let nodes = element.nodes();
            let even = std::f64::consts::PI * (nodes.len() as f64 - 2.0) / nodes.len() as f64;
            let off = larger(angles[1] - even, even - angles[0]);
            if off > farthest {
                farthest = off;
                let share = 1.0 / nodes.len() as f64;
                quality.worst_at =
                    [0, 1].map(|x| nodes.iter().map(|&n| share * points[n][x]).sum());
            }
        }
        let mut nearest = f64::INFINITY;
        for mark in marks {
            for &node in &mark.nodes {
                let away = apart(points[node], quality.worst_at);
                if away < nearest {
                    nearest = away;
                    quality.worst_near.clone_from(&mark.name);
                }
            }
        }
        quality
    }
}
