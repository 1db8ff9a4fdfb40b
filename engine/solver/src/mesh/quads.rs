//! Elements from triangles of twice their size: pairs of triangles that make a good
//! quadrilateral give four elements, single ones three, all by the middles of their sides.

use super::divide::{Divided, sorted};
use super::plane::{Point, between, dot, sub, turn};
use super::product::Element;
use fishplate_quantity::algebra::larger;
use std::collections::BTreeMap;

/// Farthest that a corner of a pair may be from a right angle, rad: 50 degrees.
const FARTHEST: f64 = 0.873;

/// Elements, and the nodes added to `nodes` on the way.
pub(super) fn elements(
    divided: &Divided,
    nodes: &mut Vec<Point>,
    triangles: &[[usize; 3]],
) -> Vec<Element> {
    let mut split = Split { nodes, middles: divided.middles(), elements: Vec::new() };
    let partner = pairs(&split, triangles);
    for (t, &triangle) in triangles.iter().enumerate() {
        match partner[t] {
            None => split.triangle(triangle),
            Some((other, quad)) if t < other => split.quad(quad),
            Some(_) => {}
        }
    }
    split.elements
}

/// Angle at `b` between `a` and `c`, rad, above half a turn where the corner points inwards.
pub(super) fn corner(a: Point, b: Point, c: Point) -> f64 {
    let sine = turn(a, b, c);
    let cosine = -dot(sub(b, a), sub(c, b));
    let angle = sine.atan2(cosine);
    if angle < 0.0 { angle + std::f64::consts::TAU } else { angle }
}

/// Where the side from `a` towards `b` leads first: on curves to its middle node.
pub(super) fn towards(
    middles: &BTreeMap<[usize; 2], Option<usize>>,
    nodes: &[Point],
    a: usize,
    b: usize,
) -> Point {
    nodes[middles.get(&sorted([a, b])).copied().flatten().unwrap_or(b)]
}

/// For every triangle the one it makes a quadrilateral with, best pairs first.
fn pairs(split: &Split<'_>, triangles: &[[usize; 3]]) -> Vec<Option<(usize, [usize; 4])>> {
    let mut beside: BTreeMap<[usize; 2], Vec<(usize, usize)>> = BTreeMap::new();
    for (t, triangle) in triangles.iter().enumerate() {
        for k in 0..3 {
            let edge = sorted([triangle[k], triangle[(k + 1) % 3]]);
            beside.entry(edge).or_default().push((t, k));
        }
    }
    let unsplit = |t: usize| {
        (0..3).any(|k| {
            let edge = sorted([triangles[t][k], triangles[t][(k + 1) % 3]]);
            split.middles.get(&edge) == Some(&None)
        })
    };
    let mut candidates = Vec::new();
    for (edge, meeting) in &beside {
        let [(t, k), (other, j)] = meeting[..] else { continue };
        if split.middles.contains_key(edge) || unsplit(t) || unsplit(other) {
            continue;
        }
        let [a, b, c] = [0, 1, 2].map(|i| triangles[t][(k + i) % 3]);
        let quad = [a, triangles[other][(j + 2) % 3], b, c];
        let worst = (0..4).fold(0.0, |top, i| {
            let [last, own, next] = [(i + 3) % 4, i, (i + 1) % 4].map(|k| quad[k]);
            let [before, after] =
                [last, next].map(|n| towards(&split.middles, split.nodes, own, n));
            let angle = corner(before, split.nodes[own], after);
            larger(top, (angle - std::f64::consts::FRAC_PI_2).abs())
        });
        if worst <= FARTHEST {
            candidates.push((worst, t, other, quad));
        }
    }
    candidates.sort_by(|x, y| x.0.total_cmp(&y.0).then(x.1.cmp(&y.1)).then(x.2.cmp(&y.2)));
    let mut partner = vec![None; triangles.len()];
    for (_, t, other, quad) in candidates {
        if partner[t].is_none() && partner[other].is_none() {
            partner[t] = Some((other, quad));
            partner[other] = Some((t, quad));
        }
    }
    partner
}

struct Split<'a> {
    nodes: &'a mut Vec<Point>,
    /// Node in the middle of each side met so far; `None` where the side stays whole.
    middles: BTreeMap<[usize; 2], Option<usize>>,
    elements: Vec<Element>,
}

impl Split<'_> {
    fn node(&mut self, p: Point) -> usize {
        self.nodes.push(p);
        self.nodes.len() - 1
    }

    fn middle(&mut self, a: usize, b: usize) -> Option<usize> {
        let key = sorted([a, b]);
        if let Some(&known) = self.middles.get(&key) {
            return known;
        }
        let made = Some(self.node(between(self.nodes[key[0]], self.nodes[key[1]], 0.5)));
        self.middles.insert(key, made);
        made
    }

    fn centre(&mut self, corners: &[usize]) -> usize {
        let share = 1.0 / corners.len() as f64;
        let mut centre = [0.0; 2];
        for &n in corners {
            centre[0] += share * self.nodes[n][0];
            centre[1] += share * self.nodes[n][1];
        }
        self.node(centre)
    }

    /// Pairs of triangles have all their sides divided.
    fn quad(&mut self, quad: [usize; 4]) {
        let centre = self.centre(&quad);
        let middles: Vec<usize> =
            (0..4).filter_map(|k| self.middle(quad[k], quad[(k + 1) % 4])).collect();
        for k in 0..4 {
            self.elements.push(Element::Quad([quad[k], middles[k], centre, middles[(k + 3) % 4]]));
        }
    }

    fn triangle(&mut self, [a, b, c]: [usize; 3]) {
        match [self.middle(a, b), self.middle(b, c), self.middle(c, a)] {
            [Some(ab), Some(bc), Some(ca)] => {
                let centre = self.centre(&[a, b, c]);
                for (corner, next, last) in [(a, ab, ca), (b, bc, ab), (c, ca, bc)] {
                    self.elements.push(Element::Quad([corner, next, centre, last]));
                }
            }
            [None, Some(bc), Some(ca)] => self.one_whole(a, b, c, bc, ca),
            [Some(ab), None, Some(ca)] => self.one_whole(b, c, a, ca, ab),
            [Some(ab), Some(bc), None] => self.one_whole(c, a, b, ab, bc),
            [Some(ab), None, None] => self.two_whole(a, ab, b, c),
            [None, Some(bc), None] => self.two_whole(b, bc, c, a),
            [None, None, Some(ca)] => self.two_whole(c, ca, a, b),
            [None, None, None] => self.elements.push(Element::Triangle([a, b, c])),
        }
    }

    /// Only the side from `a` to `b` is whole.
    fn one_whole(&mut self, a: usize, b: usize, c: usize, bc: usize, ca: usize) {
        self.elements.push(Element::Quad([a, b, bc, ca]));
        self.elements.push(Element::Triangle([ca, bc, c]));
    }

    /// Only the side from `a` to `b` is divided.
    fn two_whole(&mut self, a: usize, ab: usize, b: usize, c: usize) {
        self.elements.push(Element::Triangle([a, ab, c]));
        self.elements.push(Element::Triangle([ab, b, c]));
    }
}
