//! Straight and circular edges, and the exact boundary integrals over them.
//!
//! By Green's theorem the integral of `y^m z^n` over an area is the boundary integral of
//! `y^(m+1) z^n / (m+1)` dz, taken anticlockwise. On a straight edge it is a polynomial, on an arc a
//! trigonometric polynomial; both are integrated in closed form, so corner radii cost no accuracy.

use std::f64::consts::{PI, TAU};

/// A point, (y, z), m.
pub(super) type Point = (f64, f64);

/// One edge of a closed boundary.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Segment {
    /// A straight edge.
    Line { from: Point, to: Point },
    /// A circular edge from angle `start` over `sweep` (positive anticlockwise, at most one turn).
    Arc { centre: Point, radius: f64, start: f64, sweep: f64 },
}

/// Area and moments of area about the coordinate axes (not the centroid).
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Moments {
    /// Area.
    pub(super) a: f64,
    /// Integral of y.
    pub(super) y: f64,
    /// Integral of z.
    pub(super) z: f64,
    /// Integral of y squared.
    pub(super) yy: f64,
    /// Integral of z squared.
    pub(super) zz: f64,
    /// Integral of y times z.
    pub(super) yz: f64,
}

impl Moments {
    pub(super) fn add(&mut self, other: &Self) {
        self.a += other.a;
        self.y += other.y;
        self.z += other.z;
        self.yy += other.yy;
        self.zz += other.zz;
        self.yz += other.yz;
    }
}

impl Segment {
    /// Contribution of this edge to the moments of the area it bounds.
    pub(super) fn moments(&self) -> Moments {
        match *self {
            Self::Line { from, to } => line_moments(from, to),
            Self::Arc { centre, radius, start, sweep } => {
                arc_moments(centre, radius, start, start + sweep)
            }
        }
    }

    /// Contribution to the area and to the first moment of `z - level` of the part above `level`.
    pub(super) fn above(&self, level: f64) -> (f64, f64) {
        match *self {
            Self::Line { from, to } => line_above(from, to, level),
            Self::Arc { centre, radius, start, sweep } => {
                arc_above(centre, radius, start, sweep, level)
            }
        }
    }

    /// Largest distance of this edge from the origin along the unit direction.
    pub(super) fn support(&self, direction: Point) -> f64 {
        let along = |p: Point| p.0 * direction.0 + p.1 * direction.1;
        match *self {
            Self::Line { from, to } => larger(along(from), along(to)),
            Self::Arc { centre, radius, start, sweep } => {
                let ends = larger(along(self.start()), along(self.end()));
                let angle = direction.1.atan2(direction.0);
                if angle_in(angle, start, sweep) {
                    larger(ends, along(centre) + radius)
                } else {
                    ends
                }
            }
        }
    }

    /// Where the edge starts.
    pub(super) fn start(&self) -> Point {
        match *self {
            Self::Line { from, .. } => from,
            Self::Arc { centre, radius, start, .. } => on_circle(centre, radius, start),
        }
    }

    /// Where the edge ends.
    pub(super) fn end(&self) -> Point {
        match *self {
            Self::Line { to, .. } => to,
            Self::Arc { centre, radius, start, sweep } => on_circle(centre, radius, start + sweep),
        }
    }

    /// The point half way along the edge and the unit direction of travel there; material lies to the left.
    pub(super) fn middle(&self) -> (Point, Point) {
        match *self {
            Self::Line { from, to } => {
                let (dy, dz) = (to.0 - from.0, to.1 - from.1);
                let length = dy.hypot(dz);
                let middle = (f64::midpoint(from.0, to.0), f64::midpoint(from.1, to.1));
                (middle, (dy / length, dz / length))
            }
            Self::Arc { centre, radius, start, sweep } => {
                let angle = start + sweep / 2.0;
                let (sin, cos) = angle.sin_cos();
                let side = sweep.signum();
                (on_circle(centre, radius, angle), (-sin * side, cos * side))
            }
        }
    }

    /// The edge turned about the origin by `angle`, then moved by `shift`.
    pub(super) fn placed(&self, shift: Point, angle: f64) -> Self {
        match *self {
            Self::Line { from, to } => {
                Self::Line { from: place(from, shift, angle), to: place(to, shift, angle) }
            }
            Self::Arc { centre, radius, start, sweep } => Self::Arc {
                centre: place(centre, shift, angle),
                radius,
                start: start + angle,
                sweep,
            },
        }
    }
}

/// A point turned about the origin by `angle`, then moved by `shift`.
pub(super) fn place(p: Point, shift: Point, angle: f64) -> Point {
    let (sin, cos) = angle.sin_cos();
    (p.0 * cos - p.1 * sin + shift.0, p.0 * sin + p.1 * cos + shift.1)
}

fn larger(a: f64, b: f64) -> f64 {
    fishplate_quantity::algebra::larger(a, b)
}

fn on_circle(centre: Point, radius: f64, angle: f64) -> Point {
    (centre.0 + radius * angle.cos(), centre.1 + radius * angle.sin())
}

/// Whether an angle lies on the way from `start` over `sweep`.
fn angle_in(angle: f64, start: f64, sweep: f64) -> bool {
    let turned = if sweep >= 0.0 { angle - start } else { start - angle };
    turned.rem_euclid(TAU) <= sweep.abs()
}

fn line_moments((y0, z0): Point, (y1, z1): Point) -> Moments {
    let dz = z1 - z0;
    Moments {
        a: dz * (y0 + y1) / 2.0,
        y: dz * (y0 * y0 + y0 * y1 + y1 * y1) / 6.0,
        z: dz * (2.0 * y0 * z0 + y0 * z1 + y1 * z0 + 2.0 * y1 * z1) / 6.0,
        yy: dz * (y0 + y1) * (y0 * y0 + y1 * y1) / 12.0,
        zz: dz
            * (y0 * (3.0 * z0 * z0 + 2.0 * z0 * z1 + z1 * z1)
                + y1 * (z0 * z0 + 2.0 * z0 * z1 + 3.0 * z1 * z1))
            / 12.0,
        yz: dz
            * (z0 * (3.0 * y0 * y0 + 2.0 * y0 * y1 + y1 * y1)
                + z1 * (y0 * y0 + 2.0 * y0 * y1 + 3.0 * y1 * y1))
            / 24.0,
    }
}

/// Antiderivatives of `cos^p sin^q` at an angle, named by p and q.
struct Powers {
    c1: f64,
    c2: f64,
    c1s1: f64,
    c3: f64,
    c2s1: f64,
    c1s2: f64,
    c4: f64,
    c3s1: f64,
    c2s2: f64,
}

impl Powers {
    fn at(angle: f64) -> Self {
        let (s, c) = angle.sin_cos();
        Self {
            c1: s,
            c2: (angle + s * c) / 2.0,
            c1s1: s * s / 2.0,
            c3: s - s.powi(3) / 3.0,
            c2s1: -c.powi(3) / 3.0,
            c1s2: s.powi(3) / 3.0,
            c4: 3.0 * angle / 8.0 + (2.0 * angle).sin() / 4.0 + (4.0 * angle).sin() / 32.0,
            c3s1: -c.powi(4) / 4.0,
            c2s2: angle / 8.0 - (4.0 * angle).sin() / 32.0,
        }
    }

    fn between(from: f64, to: f64) -> Self {
        let (a, b) = (Self::at(from), Self::at(to));
        Self {
            c1: b.c1 - a.c1,
            c2: b.c2 - a.c2,
            c1s1: b.c1s1 - a.c1s1,
            c3: b.c3 - a.c3,
            c2s1: b.c2s1 - a.c2s1,
            c1s2: b.c1s2 - a.c1s2,
            c4: b.c4 - a.c4,
            c3s1: b.c3s1 - a.c3s1,
            c2s2: b.c2s2 - a.c2s2,
        }
    }
}

fn arc_moments((y, z): Point, r: f64, from: f64, to: f64) -> Moments {
    let p = Powers::between(from, to);
    Moments {
        a: r * (y * p.c1 + r * p.c2),
        y: r / 2.0 * (y * y * p.c1 + 2.0 * y * r * p.c2 + r * r * p.c3),
        z: r * (y * z * p.c1 + y * r * p.c1s1 + r * z * p.c2 + r * r * p.c2s1),
        yy: r / 3.0
            * (y.powi(3) * p.c1
                + 3.0 * y * y * r * p.c2
                + 3.0 * y * r * r * p.c3
                + r.powi(3) * p.c4),
        zz: r
            * (y * (z * z * p.c1 + 2.0 * z * r * p.c1s1 + r * r * p.c1s2)
                + r * (z * z * p.c2 + 2.0 * z * r * p.c2s1 + r * r * p.c2s2)),
        yz: r / 2.0
            * (y * y * z * p.c1
                + y * y * r * p.c1s1
                + 2.0 * y * r * z * p.c2
                + 2.0 * y * r * r * p.c2s1
                + r * r * z * p.c3
                + r.powi(3) * p.c3s1),
    }
}

fn line_above((y0, z0): Point, (y1, z1): Point, level: f64) -> (f64, f64) {
    let (h0, h1) = (z0 - level, z1 - level);
    if h0 <= 0.0 && h1 <= 0.0 {
        return (0.0, 0.0);
    }
    let clip = |outside: Point, h_out: f64, inside: Point, h_in: f64| {
        let share = h_in / (h_in - h_out);
        (inside.0 + (outside.0 - inside.0) * share, 0.0)
    };
    let a = if h0 < 0.0 { clip((y0, h0), h0, (y1, h1), h1) } else { (y0, h0) };
    let b = if h1 < 0.0 { clip((y1, h1), h1, (y0, h0), h0) } else { (y1, h1) };
    let m = line_moments(a, b);
    (m.a, m.z)
}

fn arc_above(centre: Point, radius: f64, start: f64, sweep: f64, level: f64) -> (f64, f64) {
    let local = (centre.0, centre.1 - level);
    let piece = |from: f64, to: f64| {
        let middle = local.1 + radius * f64::midpoint(from, to).sin();
        if middle <= 0.0 {
            return (0.0, 0.0);
        }
        let m = arc_moments(local, radius, from, to);
        (m.a, m.z)
    };
    let ratio = -local.1 / radius;
    let end = start + sweep;
    if ratio.abs() >= 1.0 {
        return piece(start, end);
    }
    // The level meets the circle at two angles; each is tried on every turn the sweep may touch.
    let crossing = ratio.asin();
    let (low, high) = if sweep >= 0.0 { (start, end) } else { (end, start) };
    let mut cuts: Vec<f64> = Vec::new();
    for base in [crossing, PI - crossing] {
        let first = base + ((low - base) / TAU).ceil() * TAU;
        for turn in [first, first + TAU] {
            if turn > low && turn < high {
                cuts.push(turn);
            }
        }
    }
    cuts.sort_by(f64::total_cmp);
    let mut sum = (0.0, 0.0);
    let mut from = low;
    for to in cuts.into_iter().chain([high]) {
        let part = piece(from, to);
        sum = (sum.0 + part.0, sum.1 + part.1);
        from = to;
    }
    if sweep >= 0.0 { sum } else { (-sum.0, -sum.1) }
}
