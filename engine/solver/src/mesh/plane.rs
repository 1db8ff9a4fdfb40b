//! Points, straight pieces and arcs in the plane.

use fishplate_quantity::algebra::{larger, smaller};
use std::f64::consts::TAU;

/// A point or vector in the plane of a plate: x, y in m.
pub type Point = [f64; 2];

pub(super) fn add(a: Point, b: Point) -> Point {
    [a[0] + b[0], a[1] + b[1]]
}

pub(super) fn sub(a: Point, b: Point) -> Point {
    [a[0] - b[0], a[1] - b[1]]
}

pub(super) fn scale(s: f64, a: Point) -> Point {
    [s * a[0], s * a[1]]
}

pub(super) fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

pub(super) fn cross(a: Point, b: Point) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

pub(super) fn norm(a: Point) -> f64 {
    dot(a, a).sqrt()
}

pub(super) fn apart(a: Point, b: Point) -> f64 {
    norm(sub(a, b))
}

/// The point at `t` of the way from `a` to `b`.
pub(super) fn between(a: Point, b: Point, t: f64) -> Point {
    [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]
}

/// Twice the area of a triangle, positive when it runs counter-clockwise.
pub(super) fn turn(a: Point, b: Point, c: Point) -> f64 {
    cross(sub(b, a), sub(c, a))
}

/// Distance of `p` from the straight piece from `a` to `b`.
pub(super) fn off_segment(p: Point, a: Point, b: Point) -> f64 {
    let along = sub(b, a);
    let square = dot(along, along);
    let t = if square > 0.0 { (dot(sub(p, a), along) / square).clamp(0.0, 1.0) } else { 0.0 };
    apart(p, between(a, b, t))
}

/// A straight line or a circular arc between two points, run through by t from 0 to 1.
#[derive(Debug, Clone, Copy)]
pub(super) enum Piece {
    Segment {
        a: Point,
        b: Point,
    },
    /// From angle `from` on by `sweep` (positive counter-clockwise), rad. The ends are kept as
    /// given, so that they meet their neighbours in the same bits.
    Arc {
        centre: Point,
        radius: f64,
        from: f64,
        sweep: f64,
        a: Point,
        b: Point,
    },
}

impl Piece {
    pub(super) fn arc(centre: Point, radius: f64, from: f64, sweep: f64) -> Self {
        let on = |angle: f64| add(centre, [radius * angle.cos(), radius * angle.sin()]);
        Self::Arc { centre, radius, from, sweep, a: on(from), b: on(from + sweep) }
    }

    /// The arc from `a` over `via` to `b`; `None` where the three lie on one line.
    pub(super) fn arc_through(a: Point, via: Point, b: Point) -> Option<Self> {
        let (u, v) = (sub(via, a), sub(b, a));
        let twice = 2.0 * cross(u, v);
        if twice.abs() <= 1e-9 * (dot(u, u) + dot(v, v)) {
            return None;
        }
        let (uu, vv) = (dot(u, u), dot(v, v));
        let to_centre = [(v[1] * uu - u[1] * vv) / twice, (u[0] * vv - v[0] * uu) / twice];
        let centre = add(a, to_centre);
        let angle = |p: Point| (p[1] - centre[1]).atan2(p[0] - centre[0]);
        let from = angle(a);
        let full = (angle(b) - from).rem_euclid(TAU);
        let sweep = if twice > 0.0 { full } else { full - TAU };
        Some(Self::Arc { centre, radius: norm(to_centre), from, sweep, a, b })
    }

    pub(super) fn ends(&self) -> [Point; 2] {
        match *self {
            Self::Segment { a, b } | Self::Arc { a, b, .. } => [a, b],
        }
    }

    pub(super) fn length(&self) -> f64 {
        match *self {
            Self::Segment { a, b } => apart(a, b),
            Self::Arc { radius, sweep, .. } => radius * sweep.abs(),
        }
    }

    pub(super) fn at(&self, t: f64) -> Point {
        match *self {
            Self::Segment { a, b } => between(a, b, t),
            Self::Arc { centre, radius, from, sweep, .. } => {
                let angle = from + t * sweep;
                add(centre, [radius * angle.cos(), radius * angle.sin()])
            }
        }
    }

    /// Unit direction in which it runs at `t`.
    pub(super) fn direction(&self, t: f64) -> Point {
        match *self {
            Self::Segment { a, b } => scale(1.0 / apart(a, b), sub(b, a)),
            Self::Arc { from, sweep, .. } => {
                let angle = from + t * sweep;
                scale(sweep.signum(), [-angle.sin(), angle.cos()])
            }
        }
    }

    /// The part from `t0` to `t1`, between the points `a` and `b`.
    pub(super) fn part(&self, [t0, t1]: [f64; 2], a: Point, b: Point) -> Self {
        match *self {
            Self::Segment { .. } => Self::Segment { a, b },
            Self::Arc { centre, radius, from, sweep, .. } => Self::Arc {
                centre,
                radius,
                from: from + t0 * sweep,
                sweep: (t1 - t0) * sweep,
                a,
                b,
            },
        }
    }

    /// The nearest point: its distance from `p` and its place `t`.
    pub(super) fn nearest(&self, p: Point) -> (f64, f64) {
        match *self {
            Self::Segment { a, b } => {
                let along = sub(b, a);
                let t = (dot(sub(p, a), along) / dot(along, along)).clamp(0.0, 1.0);
                (apart(p, between(a, b, t)), t)
            }
            Self::Arc { centre, radius, from, sweep, a, b } => {
                let out = sub(p, centre);
                let ahead = sweep.signum() * (out[1].atan2(out[0]) - from);
                let t = ahead.rem_euclid(TAU) / sweep.abs();
                if t <= 1.0 {
                    return ((norm(out) - radius).abs(), t);
                }
                let (to_a, to_b) = (apart(p, a), apart(p, b));
                if to_a <= to_b { (to_a, 0.0) } else { (to_b, 1.0) }
            }
        }
    }

    /// Corners of a box round it: least, largest.
    pub(super) fn bounds(&self) -> [Point; 2] {
        match *self {
            Self::Segment { a, b } => [
                [smaller(a[0], b[0]), smaller(a[1], b[1])],
                [larger(a[0], b[0]), larger(a[1], b[1])],
            ],
            Self::Arc { centre, radius, .. } => {
                [sub(centre, [radius, radius]), add(centre, [radius, radius])]
            }
        }
    }

    /// Points where two pieces cross or touch, ends included, within `near`.
    pub(super) fn meet(&self, other: &Self, near: f64) -> Vec<Point> {
        let mut met: Vec<Point> = Vec::new();
        let mut push = |p: Point| {
            if met.iter().all(|&q| apart(p, q) > near) {
                met.push(p);
            }
        };
        for p in self.ends() {
            if other.nearest(p).0 <= near {
                push(p);
            }
        }
        for p in other.ends() {
            if self.nearest(p).0 <= near {
                push(p);
            }
        }
        for p in self.crossings(other, near) {
            if self.nearest(p).0 <= near && other.nearest(p).0 <= near {
                push(p);
            }
        }
        met
    }

    /// Where the whole lines and circles cross that two pieces lie on.
    fn crossings(&self, other: &Self, near: f64) -> Vec<Point> {
        match (*self, *other) {
            (Self::Segment { a, b }, Self::Segment { a: c, b: d }) => {
                let (u, v) = (sub(b, a), sub(d, c));
                let sine = cross(u, v);
                if sine.abs() <= 1e-12 * norm(u) * norm(v) {
                    return Vec::new();
                }
                vec![between(a, b, cross(sub(c, a), v) / sine)]
            }
            (Self::Segment { a, b }, Self::Arc { centre, radius, .. })
            | (Self::Arc { centre, radius, .. }, Self::Segment { a, b }) => {
                let u = scale(1.0 / apart(a, b), sub(b, a));
                let foot = add(a, scale(dot(sub(centre, a), u), u));
                on_both_sides(foot, u, radius, apart(foot, centre), near)
            }
            (
                Self::Arc { centre, radius, .. },
                Self::Arc { centre: other_centre, radius: other_radius, .. },
            ) => {
                let span = apart(centre, other_centre);
                if span <= near {
                    return Vec::new();
                }
                let u = scale(1.0 / span, sub(other_centre, centre));
                let along =
                    (span * span + radius * radius - other_radius * other_radius) / (2.0 * span);
                let foot = add(centre, scale(along, u));
                on_both_sides(foot, [-u[1], u[0]], radius, along.abs(), near)
            }
        }
    }

    /// The angle that it sweeps as seen from `p`, rad. Summed round a closed curve it is 0 for
    /// points outside, a full turn inside.
    pub(super) fn seen_from(&self, p: Point) -> f64 {
        let [a, b] = self.ends();
        let (u, v) = (sub(a, p), sub(b, p));
        let chord = cross(u, v).atan2(dot(u, v));
        let Self::Arc { centre, radius, sweep, .. } = *self else { return chord };
        // Between chord and arc the chord is seen from its other side.
        let beyond = turn(a, b, p) * sweep.signum() < 0.0;
        let within = apart(p, centre) < radius;
        if within && beyond { chord + TAU * sweep.signum() } else { chord }
    }
}

/// The two points of a circle on a line: `foot` is the line's nearest point to its centre,
/// `away` from it. A line that touches the circle has one.
fn on_both_sides(foot: Point, u: Point, radius: f64, away: f64, near: f64) -> Vec<Point> {
    if away > radius + near {
        return Vec::new();
    }
    let square = radius * radius - away * away;
    if square <= 0.0 {
        return vec![foot];
    }
    let half = square.sqrt();
    vec![add(foot, scale(-half, u)), add(foot, scale(half, u))]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_arc_through_three_points_runs_over_the_middle_one() {
        // The unit circle by hand: from (1, 0) over (0, 1) or (0, -1) to (-1, 0).
        for side in [1.0, -1.0] {
            let arc = Piece::arc_through([1.0, 0.0], [0.0, side], [-1.0, 0.0]).unwrap();
            assert!(apart(arc.at(0.5), [0.0, side]) < 1e-15);
            assert!((arc.length() - std::f64::consts::PI).abs() < 1e-15);
        }
        assert!(Piece::arc_through([0.0, 0.0], [1.0, 1.0], [2.0, 2.0]).is_none());
    }

    #[test]
    fn the_angle_seen_from_inside_a_half_disc_is_a_full_turn() {
        let arc = Piece::arc_through([1.0, 0.0], [0.0, 1.0], [-1.0, 0.0]).unwrap();
        let chord = Piece::Segment { a: [-1.0, 0.0], b: [1.0, 0.0] };
        for (p, turns) in
            [([0.0, 0.5], 1.0), ([0.0, -0.5], 0.0), ([0.9, 0.9], 0.0), ([0.0, 2.0], 0.0)]
        {
            let seen = arc.seen_from(p) + chord.seen_from(p);
            assert!((seen - turns * TAU).abs() < 1e-12, "{p:?}: {seen}");
        }
    }

    #[test]
    fn pieces_meet_where_they_cross_and_where_they_touch() {
        let line = Piece::Segment { a: [-2.0, 0.0], b: [2.0, 0.0] };
        let circle = Piece::arc([0.0, 0.0], 1.0, 0.25, 6.0);
        let touching = Piece::arc([0.0, 1.0], 1.0, -3.0, 6.0);
        // The circle's own gap hides (1, 0); by hand.
        assert_eq!(line.meet(&circle, 1e-9).len(), 1);
        assert_eq!(line.meet(&touching, 1e-9).len(), 1);
        // x = +-sqrt(3)/2, y = 1/2, by hand.
        assert_eq!(circle.meet(&touching, 1e-9).len(), 2);
    }
}
