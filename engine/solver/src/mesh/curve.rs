//! The named features of an outline as curves of straight pieces and arcs.

use super::outline::{Course, HoleShape, Outline};
use super::plane::{Piece, Point, add, apart, cross, dot, scale, sub};
use std::f64::consts::{FRAC_PI_2, PI};

/// What a curve is to the plate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Role {
    Edge,
    Hole,
    Line,
    Circle,
}

/// A named curve.
#[derive(Debug, Clone)]
pub(super) struct Curve {
    pub(super) name: String,
    pub(super) role: Role,
    pub(super) pieces: Vec<Piece>,
    /// Whether a node has to stand at the start of each piece.
    pub(super) corners: Vec<bool>,
    /// Whether its end is its start.
    pub(super) closed: bool,
    /// Whether its pieces are element edges as they stand.
    pub(super) prescribed: bool,
}

/// Above this turn a point of a polyline is a corner: cos 20 degrees.
const SMOOTH: f64 = 0.939_692_620_785_908_4;

/// All curves of an outline whose numbers have been checked. An arc that is none runs straight.
pub(super) fn curves(outline: &Outline) -> Vec<Curve> {
    let mut curves = Vec::new();
    for (i, edge) in outline.edges.iter().enumerate() {
        let end = outline.edges[(i + 1) % outline.edges.len()].start;
        let straight = |via: &[Point]| {
            let mut points = vec![edge.start];
            points.extend_from_slice(via);
            points.push(end);
            points
        };
        let (pieces, prescribed) = match &edge.course {
            Course::Straight => (polyline(&straight(&[])), false),
            Course::Over(via) => match Piece::arc_through(edge.start, *via, end) {
                Some(arc) => (vec![arc], false),
                None => (polyline(&straight(&[*via])), false),
            },
            Course::Through(via) => (polyline(&straight(via)), false),
            Course::Nodes(via) => (polyline(&straight(via)), true),
        };
        curves.push(Curve::new(&edge.name, Role::Edge, pieces, false, prescribed));
    }
    for hole in &outline.holes {
        let pieces = match &hole.shape {
            HoleShape::Circle { centre, diameter } => circle(*centre, diameter / 2.0),
            HoleShape::Slot { from, to, width } => slot(*from, *to, width / 2.0),
            HoleShape::Polygon(corners) => {
                let mut points = corners.clone();
                points.push(corners[0]);
                polyline(&points)
            }
        };
        let mut curve = Curve::new(&hole.name, Role::Hole, pieces, true, false);
        if !matches!(hole.shape, HoleShape::Circle { .. }) {
            curve.corners.fill(true);
        }
        curves.push(curve);
    }
    for line in &outline.lines {
        curves.push(Curve::new(&line.name, Role::Line, polyline(&line.points), false, false));
    }
    for rim in &outline.circles {
        let pieces = circle(rim.centre, rim.diameter / 2.0);
        curves.push(Curve::new(&rim.name, Role::Circle, pieces, true, false));
    }
    curves
}

impl Curve {
    fn new(name: &str, role: Role, pieces: Vec<Piece>, closed: bool, prescribed: bool) -> Self {
        let corners = (0..pieces.len())
            .map(|i| match i {
                0 => !closed,
                _ if prescribed => false,
                _ => dot(pieces[i - 1].direction(1.0), pieces[i].direction(0.0)) < SMOOTH,
            })
            .collect();
        Self { name: name.to_owned(), role, pieces, corners, closed, prescribed }
    }
}

fn polyline(points: &[Point]) -> Vec<Piece> {
    points.windows(2).map(|ends| Piece::Segment { a: ends[0], b: ends[1] }).collect()
}

/// Four quarters, counter-clockwise from +x.
fn circle(centre: Point, radius: f64) -> Vec<Piece> {
    joined(
        (0..4).map(|i| Piece::arc(centre, radius, f64::from(i) * FRAC_PI_2, FRAC_PI_2)).collect(),
    )
}

fn slot(from: Point, to: Point, radius: f64) -> Vec<Piece> {
    let u = scale(1.0 / apart(from, to), sub(to, from));
    let across = u[1].atan2(u[0]) - FRAC_PI_2;
    let end = Piece::arc(to, radius, across, PI);
    let start = Piece::arc(from, radius, across + PI, PI);
    let ([a, b], [c, d]) = (end.ends(), start.ends());
    vec![Piece::Segment { a: d, b: a }, end, Piece::Segment { a: b, b: c }, start]
}

/// Closed pieces made to end in the bits in which the next one starts.
fn joined(mut pieces: Vec<Piece>) -> Vec<Piece> {
    for i in 0..pieces.len() {
        let start = pieces[(i + 1) % pieces.len()].ends()[0];
        let own = pieces[i].ends()[0];
        pieces[i] = pieces[i].part([0.0, 1.0], own, start);
    }
    pieces
}

/// The angle by which a ring of curves turns left at the corner after each curve, with the
/// corner: rad, positive counter-clockwise.
pub(super) fn turns(ring: &[Curve]) -> Vec<(Point, f64)> {
    (0..ring.len())
        .filter_map(|i| {
            let last = ring[i].pieces.last()?;
            let next = ring[(i + 1) % ring.len()].pieces.first()?;
            let (u, v) = (last.direction(1.0), next.direction(0.0));
            Some((next.ends()[0], cross(u, v).atan2(dot(u, v))))
        })
        .collect()
}

/// Twice the signed area that closed pieces go round.
pub(super) fn doubled_area<'a>(pieces: impl Iterator<Item = &'a Piece>) -> f64 {
    let mut sum = 0.0;
    for piece in pieces {
        let [a, b] = piece.ends();
        sum += cross(a, b);
        if let Piece::Arc { radius, sweep, .. } = piece {
            sum += radius * radius * (sweep - sweep.sin());
        }
    }
    sum
}

/// Angle seen from `p` over all pieces: whether `p` is inside what they go round.
pub(super) fn encloses<'a>(pieces: impl Iterator<Item = &'a Piece>, p: Point) -> bool {
    pieces.map(|piece| piece.seen_from(p)).sum::<f64>().abs() > PI
}

/// Centre of two points.
pub(super) fn middle(a: Point, b: Point) -> Point {
    scale(0.5, add(a, b))
}
