//! Closed boundaries: polygons whose corners may be rounded.

use super::geometry::{Moments, Point, Segment, place};
use fishplate_quantity::algebra::{hypot, larger};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// A closed boundary; anticlockwise around material, clockwise around a hole.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Outline {
    pub(super) segments: Vec<Segment>,
}

impl Outline {
    /// A polygon, each corner with its radius (0 is sharp). Convex and re-entrant corners are rounded alike.
    ///
    /// The caller's shape has checked that neighbouring radii fit on their common side.
    pub(super) fn polygon(corners: &[(f64, f64, f64)]) -> Self {
        let n = corners.len();
        let mut ends: Vec<(Point, Point, Option<Segment>)> = Vec::with_capacity(n);
        for i in 0..n {
            let (y, z, radius) = corners[i];
            let before = corners[(i + n - 1) % n];
            let after = corners[(i + 1) % n];
            ends.push(rounded((before.0, before.1), (y, z), (after.0, after.1), radius));
        }
        let mut segments = Vec::with_capacity(2 * n);
        for i in 0..n {
            segments.extend(ends[i].2);
            let (from, to) = (ends[i].1, ends[(i + 1) % n].0);
            // Where two arcs meet, nothing straight is left between them.
            if hypot(to.0 - from.0, to.1 - from.1) > 1e-12 {
                segments.push(Segment::Line { from, to });
            }
        }
        Self { segments }
    }

    /// A full circle, anticlockwise.
    pub(super) fn circle(centre: Point, radius: f64) -> Self {
        Self { segments: vec![Segment::Arc { centre, radius, start: 0.0, sweep: TAU }] }
    }

    /// The same boundary run the other way: a hole.
    pub(super) fn reversed(&self) -> Self {
        let segments = self.segments.iter().rev().map(|s| match *s {
            Segment::Line { from, to } => Segment::Line { from: to, to: from },
            Segment::Arc { centre, radius, start, sweep } => {
                Segment::Arc { centre, radius, start: start + sweep, sweep: -sweep }
            }
        });
        Self { segments: segments.collect() }
    }

    pub(super) fn moments(&self) -> Moments {
        let mut sum = Moments::default();
        for segment in &self.segments {
            sum.add(&segment.moments());
        }
        sum
    }

    pub(super) fn placed(&self, shift: Point, angle: f64) -> Self {
        Self { segments: self.segments.iter().map(|s| s.placed(shift, angle)).collect() }
    }

    /// Corners, and points on the arcs at every sixteenth of a quarter turn.
    pub(super) fn vertices(&self) -> Vec<Point> {
        let mut points = Vec::new();
        for segment in &self.segments {
            match *segment {
                Segment::Line { from, .. } => points.push(from),
                Segment::Arc { centre, radius, start, sweep } => {
                    let pieces = chords(sweep);
                    for i in 0..pieces {
                        let angle = start + sweep * f64::from(i) / f64::from(pieces);
                        points.push(place((radius, 0.0), centre, angle));
                    }
                }
            }
        }
        points
    }

    /// Largest distance of an arc from the chords between its [`Self::vertices`].
    pub(super) fn chord_rise(&self) -> f64 {
        let rise = |s: &Segment| match *s {
            Segment::Line { .. } => 0.0,
            Segment::Arc { radius, sweep, .. } => {
                radius * (1.0 - (sweep / 2.0 / f64::from(chords(sweep))).cos())
            }
        };
        self.segments.iter().map(rise).fold(0.0, larger)
    }

    /// For each edge a point of the material at `depth` beneath its middle.
    pub(super) fn points_within(&self, depth: f64) -> Vec<Point> {
        let point = |s: &Segment| {
            let (middle, along) = s.middle();
            (middle.0 - along.1 * depth, middle.1 + along.0 * depth)
        };
        self.segments.iter().map(point).collect()
    }
}

fn chords(sweep: f64) -> i32 {
    if sweep.abs() > PI {
        64
    } else if sweep.abs() > FRAC_PI_2 + 1e-9 {
        32
    } else {
        16
    }
}

/// Where the arc of a corner starts and ends, and the arc itself.
fn rounded(
    before: Point,
    corner: Point,
    after: Point,
    radius: f64,
) -> (Point, Point, Option<Segment>) {
    if radius <= 0.0 {
        return (corner, corner, None);
    }
    let towards = |p: Point| {
        let (dy, dz) = (p.0 - corner.0, p.1 - corner.1);
        let length = dy.hypot(dz);
        (dy / length, dz / length)
    };
    let (u, v) = (towards(before), towards(after));
    let opening = (u.0 * v.0 + u.1 * v.1).clamp(-1.0, 1.0).acos();
    let reach = radius / (opening / 2.0).tan();
    let from = (corner.0 + u.0 * reach, corner.1 + u.1 * reach);
    let to = (corner.0 + v.0 * reach, corner.1 + v.1 * reach);
    let left_turn = v.0 * u.1 - v.1 * u.0 > 0.0;
    // Walking towards the corner the direction is -u; its left-hand normal points to the centre in a left turn.
    let side = if left_turn { 1.0 } else { -1.0 };
    let centre = (from.0 + side * u.1 * radius, from.1 - side * u.0 * radius);
    let start = (from.1 - centre.1).atan2(from.0 - centre.0);
    let sweep = side * (PI - opening);
    (from, to, Some(Segment::Arc { centre, radius, start, sweep }))
}
