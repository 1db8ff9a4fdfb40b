//! The middle surface of a plate and the nearest point on it.

use crate::plates::element::Facet;
use crate::plates::model::{Element, Plate};
use crate::vector::{Vec3, add, cross, dot, norm, scale, sub};
use fishplate_quantity::algebra::{larger, smaller};
use std::collections::BTreeMap;

/// The middle surface of a plate, ordered so that the nearest point is found without a look at
/// every element.
#[derive(Debug)]
pub(crate) struct Surface {
    patches: Vec<Patch>,
    /// Boxes around groups of patches: a binary tree, the root first.
    boxes: Vec<Cell>,
    /// Patches in the order in which the leaves name them.
    order: Vec<usize>,
    /// Sides that belong to one element only.
    rim: Vec<[Vec3; 2]>,
}

/// An element with its corners in space.
#[derive(Debug)]
pub(crate) struct Patch {
    /// Corners; a triangle repeats its last.
    pub(crate) nodes: [usize; 4],
    points: [Vec3; 4],
    pub(crate) facet: Facet,
}

#[derive(Clone, Copy, Debug)]
struct Cell {
    low: Vec3,
    high: Vec3,
    /// Range of `order`.
    from: usize,
    to: usize,
    /// The two halves.
    halves: Option<[usize; 2]>,
}

/// The point of a middle surface nearest to another point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Foot {
    /// The element by its place in the plate.
    pub(crate) element: usize,
    /// Corners and their shares in the movement of the foot.
    pub(crate) shares: [(usize, f64); 4],
    /// Where, m.
    pub(crate) point: Vec3,
    /// Unit normal out of the top face.
    pub(crate) normal: Vec3,
    /// Distance of the other point, m.
    pub(crate) distance: f64,
}

impl Foot {
    /// How far a point lies over the foot along the normal, m; negative = on the bottom side.
    pub(crate) fn height(&self, point: Vec3) -> f64 {
        dot(sub(point, self.point), self.normal)
    }

    /// How far a point lies beyond the edge of the surface, m.
    pub(crate) fn overhang(&self, point: Vec3) -> f64 {
        let arm = sub(point, self.point);
        norm(sub(arm, scale(dot(arm, self.normal), self.normal)))
    }
}

/// Elements in a leaf of the tree.
const LEAF: usize = 4;

impl Surface {
    /// `None` when an element has no shape that could be an element.
    pub(crate) fn new(plate: &Plate, positions: &[Vec3]) -> Option<Self> {
        let patches = plate
            .elements
            .iter()
            .map(|element| Patch::new(element, positions))
            .collect::<Option<Vec<_>>>()?;
        let mut surface = Surface {
            rim: rim(&patches),
            order: (0..patches.len()).collect(),
            boxes: Vec::new(),
            patches,
        };
        surface.split(0, surface.patches.len());
        Some(surface)
    }

    /// Elements.
    pub(crate) fn patches(&self) -> &[Patch] {
        &self.patches
    }

    /// Sides that belong to one element only, as their two ends.
    pub(crate) fn rim(&self) -> &[[Vec3; 2]] {
        &self.rim
    }

    /// The nearest point; the surface has at least one element.
    pub(crate) fn foot(&self, point: Vec3) -> Option<Foot> {
        let mut best = None;
        if !self.patches.is_empty() {
            self.search(0, point, &mut best);
        }
        best
    }

    fn search(&self, cell: usize, point: Vec3, best: &mut Option<Foot>) {
        let Cell { from, to, halves, .. } = self.boxes[cell];
        match halves {
            None => {
                for &patch in &self.order[from..to] {
                    let foot = self.patches[patch].foot(patch, point);
                    if best.is_none_or(|b| foot.distance < b.distance) {
                        *best = Some(foot);
                    }
                }
            }
            Some(halves) => {
                let away = halves.map(|half| self.boxes[half].distance(point));
                let sides = if away[1] < away[0] { [1, 0] } else { [0, 1] };
                for side in sides {
                    if best.is_none_or(|b| away[side] <= b.distance) {
                        self.search(halves[side], point, best);
                    }
                }
            }
        }
    }

    fn split(&mut self, from: usize, to: usize) -> usize {
        let (mut low, mut high) = ([f64::INFINITY; 3], [f64::NEG_INFINITY; 3]);
        for &patch in &self.order[from..to] {
            for point in self.patches[patch].points {
                for i in 0..3 {
                    low[i] = smaller(low[i], point[i]);
                    high[i] = larger(high[i], point[i]);
                }
            }
        }
        let place = self.boxes.len();
        self.boxes.push(Cell { low, high, from, to, halves: None });
        if to - from > LEAF {
            let size = sub(high, low);
            let along = (1..3).fold(0, |top, i| if size[i] > size[top] { i } else { top });
            let patches = &self.patches;
            let key = |patch: usize| patches[patch].facet.origin[along];
            self.order[from..to].sort_by(|&a, &b| key(a).total_cmp(&key(b)).then(a.cmp(&b)));
            let middle = from + (to - from) / 2;
            let halves = [self.split(from, middle), self.split(middle, to)];
            self.boxes[place].halves = Some(halves);
        }
        place
    }
}

impl Cell {
    fn distance(&self, point: Vec3) -> f64 {
        norm(
            [0, 1, 2].map(|i| larger(0.0, larger(self.low[i] - point[i], point[i] - self.high[i]))),
        )
    }
}

impl Patch {
    fn new(element: &Element, positions: &[Vec3]) -> Option<Self> {
        let (nodes, facet) = match element {
            Element::Quad(n) => {
                let nodes = n.map(|n| n.0);
                (nodes, Facet::quad(&nodes.map(|n| positions[n])).ok()?)
            }
            Element::Triangle(n) => {
                let nodes = n.map(|n| n.0);
                let facet = Facet::triangle(&nodes.map(|n| positions[n])).ok()?;
                ([nodes[0], nodes[1], nodes[2], nodes[2]], facet)
            }
        };
        Some(Patch { nodes, points: nodes.map(|n| positions[n]), facet })
    }

    /// Corners without the repeated one.
    pub(crate) fn corners(&self) -> &[usize] {
        &self.nodes[..self.facet.corners]
    }

    /// Extent along a direction, m.
    pub(crate) fn extent(&self, direction: Vec3) -> f64 {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for point in self.points {
            low = smaller(low, dot(point, direction));
            high = larger(high, dot(point, direction));
        }
        high - low
    }

    /// Longest distance of a corner from the first, m.
    pub(crate) fn size(&self) -> f64 {
        self.points.iter().fold(0.0, |top, p| larger(top, norm(sub(*p, self.points[0]))))
    }

    /// The point with these shares of the corners.
    pub(crate) fn at(&self, shares: [f64; 4]) -> Vec3 {
        let mut point = [0.0; 3];
        for (corner, share) in self.points.iter().zip(shares) {
            point = add(point, scale(share, *corner));
        }
        point
    }

    fn foot(&self, element: usize, point: Vec3) -> Foot {
        let inside = self.facet.locate(point).filter(|&[xi, eta]| match self.facet.corners {
            4 => xi.abs() <= 1.0 && eta.abs() <= 1.0,
            _ => xi >= 0.0 && eta >= 0.0 && xi + eta <= 1.0,
        });
        if let Some([xi, eta]) = inside {
            return self.with(element, point, self.facet.shape(xi, eta));
        }
        let corners = self.facet.corners;
        let sides = (0..corners).map(|k| {
            let next = (k + 1) % corners;
            let side = sub(self.points[next], self.points[k]);
            let along = dot(sub(point, self.points[k]), side) / dot(side, side);
            let along = larger(0.0, smaller(1.0, along));
            let mut shares = [0.0; 4];
            shares[k] = 1.0 - along;
            shares[next] = along;
            self.with(element, point, shares)
        });
        // An element has sides.
        sides
            .reduce(|best, foot| if foot.distance < best.distance { foot } else { best })
            .unwrap_or_else(|| self.with(element, point, [0.25; 4]))
    }

    fn with(&self, element: usize, point: Vec3, shares: [f64; 4]) -> Foot {
        let foot = self.at(shares);
        Foot {
            element,
            shares: [0, 1, 2, 3].map(|i| (self.nodes[i], shares[i])),
            point: foot,
            normal: self.facet.axes[2],
            distance: norm(sub(point, foot)),
        }
    }
}

/// Sides that belong to one element only.
fn rim(patches: &[Patch]) -> Vec<[Vec3; 2]> {
    let mut sides: BTreeMap<(usize, usize), (usize, [Vec3; 2])> = BTreeMap::new();
    for patch in patches {
        let corners = patch.facet.corners;
        for k in 0..corners {
            let next = (k + 1) % corners;
            let (a, b) = (patch.nodes[k], patch.nodes[next]);
            let key = if a < b { (a, b) } else { (b, a) };
            sides.entry(key).or_insert((0, [patch.points[k], patch.points[next]])).0 += 1;
        }
    }
    sides.into_values().filter(|&(count, _)| count == 1).map(|(_, ends)| ends).collect()
}

/// Two unit vectors square to a unit vector and to each other; right-handed with it.
pub(crate) fn across(axis: Vec3) -> [Vec3; 2] {
    let least = (1..3).fold(0, |best, i| if axis[i].abs() < axis[best].abs() { i } else { best });
    let mut other = [0.0; 3];
    other[least] = 1.0;
    let first = cross(axis, other);
    let first = scale(1.0 / norm(first), first);
    [first, cross(axis, first)]
}
