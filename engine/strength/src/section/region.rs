//! The material of a section, as outlines and thin strips, and the numbers that follow from it alone.

use super::geometry::{Moments, Point, place};
use super::outline::Outline;
use super::properties::Edge;
use fishplate_quantity::algebra::{hypot, larger, smaller};
use std::f64::consts::{FRAC_PI_2, PI};

/// A straight thin wall, known by its midline. Its bending stiffness about its own midline is neglected.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Strip {
    pub(super) from: Point,
    pub(super) to: Point,
    pub(super) t: f64,
}

impl Strip {
    pub(super) fn length(&self) -> f64 {
        hypot(self.to.0 - self.from.0, self.to.1 - self.from.1)
    }

    fn moments(&self) -> Moments {
        let ((y0, z0), (y1, z1)) = (self.from, self.to);
        let a = self.length() * self.t;
        Moments {
            a,
            y: a * (y0 + y1) / 2.0,
            z: a * (z0 + z1) / 2.0,
            yy: a * (y0 * y0 + y0 * y1 + y1 * y1) / 3.0,
            zz: a * (z0 * z0 + z0 * z1 + z1 * z1) / 3.0,
            yz: a * (2.0 * y0 * z0 + y0 * z1 + y1 * z0 + 2.0 * y1 * z1) / 6.0,
        }
    }

    fn above(&self, level: f64) -> (f64, f64) {
        let (h0, h1) = (self.from.1 - level, self.to.1 - level);
        let a = self.length() * self.t;
        let (high, low) = (larger(h0, h1), smaller(h0, h1));
        if high <= 0.0 {
            (0.0, 0.0)
        } else if low >= 0.0 {
            (a, a * (h0 + h1) / 2.0)
        } else {
            let part = a * high / (high - low);
            (part, part * high / 2.0)
        }
    }

    fn support(&self, direction: Point) -> f64 {
        let along = |p: Point| p.0 * direction.0 + p.1 * direction.1;
        let (dy, dz) = (self.to.0 - self.from.0, self.to.1 - self.from.1);
        let across = (direction.1 * dy - direction.0 * dz).abs() / self.length();
        larger(along(self.from), along(self.to)) + across * self.t / 2.0
    }

    fn placed(&self, shift: Point, angle: f64) -> Self {
        let from = place(self.from, shift, angle);
        Self { from, to: place(self.to, shift, angle), t: self.t }
    }
}

/// Outlines (material anticlockwise, holes clockwise) and strips that together are the section.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Region {
    pub(super) outlines: Vec<Outline>,
    pub(super) strips: Vec<Strip>,
}

/// Area, centroid and second moments about the centroid, in the axes of the region.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Basics {
    pub(super) area: f64,
    pub(super) centroid: Point,
    pub(super) i_y: f64,
    pub(super) i_z: f64,
    pub(super) i_yz: f64,
}

impl Region {
    pub(super) fn of(outlines: Vec<Outline>) -> Self {
        Self { outlines, strips: Vec::new() }
    }

    fn moments(&self) -> Moments {
        let mut sum = Moments::default();
        for outline in &self.outlines {
            sum.add(&outline.moments());
        }
        for strip in &self.strips {
            sum.add(&strip.moments());
        }
        sum
    }

    /// Area, centroid, and second moments. The region is moved to its centroid before the second moments
    /// are formed, so that no digits are lost to a distant origin.
    pub(super) fn basics(&self) -> Basics {
        let m = self.moments();
        let centroid = (m.y / m.a, m.z / m.a);
        let central = self.placed((-centroid.0, -centroid.1), 0.0).moments();
        Basics { area: m.a, centroid, i_y: central.zz, i_z: central.yy, i_yz: central.yz }
    }

    pub(super) fn placed(&self, shift: Point, angle: f64) -> Self {
        Self {
            outlines: self.outlines.iter().map(|o| o.placed(shift, angle)).collect(),
            strips: self.strips.iter().map(|s| s.placed(shift, angle)).collect(),
        }
    }

    pub(super) fn join(&mut self, other: Self) {
        self.outlines.extend(other.outlines);
        self.strips.extend(other.strips);
    }

    /// Largest distance from the origin along the direction at `angle` from +y.
    pub(super) fn reach(&self, angle: f64) -> f64 {
        let direction = (angle.cos(), angle.sin());
        let edges = self.outlines.iter().flat_map(|o| &o.segments);
        let lines = edges.map(|s| s.support(direction));
        lines
            .chain(self.strips.iter().map(|s| s.support(direction)))
            .fold(f64::NEG_INFINITY, larger)
    }

    /// Area above a level, and first moment of that area about the level.
    pub(super) fn above(&self, level: f64) -> (f64, f64) {
        let mut sum = (0.0, 0.0);
        let edges = self.outlines.iter().flat_map(|o| &o.segments);
        let parts = edges.map(|s| s.above(level));
        for (area, first) in parts.chain(self.strips.iter().map(|s| s.above(level))) {
            sum = (sum.0 + area, sum.1 + first);
        }
        sum
    }

    /// Plastic modulus about the equal-area axis parallel to y.
    ///
    /// The modulus is `integral |z - level| dA`, smallest and so flat at the equal-area level: halving the
    /// height sixty times leaves no error above rounding.
    pub(super) fn plastic_modulus(&self) -> f64 {
        let m = self.moments();
        let (mut low, mut high) = (-self.reach(-FRAC_PI_2), self.reach(FRAC_PI_2));
        for _ in 0..60 {
            let level = f64::midpoint(low, high);
            if self.above(level).0 > m.a / 2.0 {
                low = level;
            } else {
                high = level;
            }
        }
        let level = f64::midpoint(low, high);
        2.0 * self.above(level).1 - (m.z - m.a * level)
    }

    /// First moment about the centroid axis parallel to y or z of the material beyond `distance` on one side.
    pub(super) fn first_moment_beyond(&self, edge: Edge, distance: f64) -> f64 {
        let angle = match edge {
            Edge::Top => 0.0,
            Edge::Bottom => PI,
            Edge::Left => -FRAC_PI_2,
            Edge::Right => FRAC_PI_2,
        };
        let centroid = self.basics().centroid;
        let turned = self.placed((-centroid.0, -centroid.1), 0.0).placed((0.0, 0.0), angle);
        let (area, first) = turned.above(distance);
        first + area * distance
    }

    /// Whether this region and another share material: an edge crosses an edge, or a point just within one edge
    /// of the one lies inside the other. Arcs are taken as chords, and touching within their rise is no overlap.
    pub(super) fn overlaps(&self, other: &Self) -> bool {
        let rise = |r: &Self| r.outlines.iter().map(Outline::chord_rise).fold(0.0, larger);
        let slack = 1e-8 + larger(rise(self), rise(other));
        let (mine, theirs) = (self.loops(), other.loops());
        let within = |r: &Self| -> Vec<Point> {
            r.outlines.iter().flat_map(|o| o.points_within(2.0 * slack)).collect()
        };
        crossing(&mine, &theirs, slack)
            || within(self).iter().any(|p| inside(*p, &theirs, slack))
            || within(other).iter().any(|p| inside(*p, &mine, slack))
    }

    fn loops(&self) -> Vec<Vec<Point>> {
        self.outlines.iter().map(Outline::vertices).collect()
    }
}

/// Distance of a point from the line a-b, positive on the left.
fn left_of(p: Point, a: Point, b: Point) -> f64 {
    let (dy, dz) = (b.0 - a.0, b.1 - a.1);
    (dy * (p.1 - a.1) - dz * (p.0 - a.0)) / larger(hypot(dy, dz), f64::MIN_POSITIVE)
}

fn edges(outline: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    let n = outline.len();
    (0..n).map(move |i| (outline[i], outline[(i + 1) % n]))
}

fn crossing(first: &[Vec<Point>], second: &[Vec<Point>], slack: f64) -> bool {
    first.iter().flat_map(|o| edges(o)).any(|(a, b)| {
        second.iter().flat_map(|o| edges(o)).any(|(c, d)| {
            let (ac, ad) = (left_of(c, a, b), left_of(d, a, b));
            let (ca, cb) = (left_of(a, c, d), left_of(b, c, d));
            let apart = |u: f64, v: f64| (u > slack && v < -slack) || (u < -slack && v > slack);
            apart(ac, ad) && apart(ca, cb)
        })
    })
}

/// Whether a point lies in the material of the outlines, farther than `slack` from every edge.
fn inside(p: Point, outlines: &[Vec<Point>], slack: f64) -> bool {
    let mut odd = false;
    for (a, b) in outlines.iter().flat_map(|o| edges(o)) {
        let length = hypot(b.0 - a.0, b.1 - a.1);
        if length > 0.0 {
            let along = ((p.0 - a.0) * (b.0 - a.0) + (p.1 - a.1) * (b.1 - a.1)) / (length * length);
            let foot = along.clamp(0.0, 1.0);
            let near = (a.0 + foot * (b.0 - a.0), a.1 + foot * (b.1 - a.1));
            if hypot(p.0 - near.0, p.1 - near.1) <= slack {
                return false;
            }
        }
        let spans = (a.1 > p.1) != (b.1 > p.1);
        if spans && p.0 < a.0 + (p.1 - a.1) / (b.1 - a.1) * (b.0 - a.0) {
            odd = !odd;
        }
    }
    odd
}
