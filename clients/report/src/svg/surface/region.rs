//! Pieces of one colour as one outline, written short.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use super::super::geometry::{Point, edges};

/// A place on the sheet in tenths of a drawing unit: what is written.
pub(super) type Place = (i32, i32);

/// A path with the box that it fills.
#[derive(Debug)]
pub(super) struct Drawn {
    pub(super) d: String,
    pub(super) low: Point,
    pub(super) high: Point,
}

pub(super) fn place(p: Point) -> Place {
    // Drawings are a few hundred units wide; the cast keeps within bounds.
    #[allow(clippy::cast_possible_truncation)]
    let tenths = |c: f64| (10.0 * c).round() as i32;
    (tenths(p[0]), tenths(p[1]))
}

/// The outline of polygons that turn the same way: an edge between two of them is in neither.
pub(super) fn joined(polygons: &[&[Point]]) -> Option<Drawn> {
    let mut open: BTreeMap<Place, Vec<Place>> = BTreeMap::new();
    for polygon in polygons {
        let places: Vec<Place> = polygon.iter().map(|p| place(*p)).collect();
        for (a, b) in edges(&places).filter(|(a, b)| a != b) {
            let back = open.get_mut(&b).and_then(|ends| {
                let at = ends.iter().position(|end| *end == a)?;
                Some(ends.swap_remove(at))
            });
            if back.is_none() {
                open.entry(a).or_default().push(b);
            }
        }
    }
    let mut d = String::new();
    let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
    for ring in rings(open) {
        for p in &ring {
            for (k, c) in [p.0, p.1].into_iter().enumerate() {
                let c = f64::from(c) / 10.0;
                low[k] = super::super::geometry::smaller(low[k], c);
                high[k] = super::super::geometry::larger(high[k], c);
            }
        }
        write(&mut d, &ring, true);
    }
    (!d.is_empty()).then_some(Drawn { d, low, high })
}

/// Edges end to end: every edge is used once, and every ring closes because each piece did.
fn rings(mut open: BTreeMap<Place, Vec<Place>>) -> Vec<Vec<Place>> {
    let mut out = Vec::new();
    while let Some((start, _)) =
        open.iter().find(|(_, ends)| !ends.is_empty()).map(|(p, e)| (*p, e))
    {
        let mut ring = Vec::new();
        let mut at = start;
        while let Some(next) = open.get_mut(&at).and_then(Vec::pop) {
            ring.push(at);
            at = next;
            if at == start {
                break;
            }
        }
        open.retain(|_, ends| !ends.is_empty());
        let ring = straight(ring);
        if ring.len() >= 3 {
            out.push(ring);
        }
    }
    out
}

/// A ring without the corners that lie on the line between their neighbours, to a tenth.
fn straight(ring: Vec<Place>) -> Vec<Place> {
    let mut out: Vec<Place> = Vec::with_capacity(ring.len());
    let mut skipped: Vec<Place> = Vec::new();
    for (index, p) in ring.iter().enumerate() {
        let next = ring[(index + 1) % ring.len()];
        let Some(anchor) = out.last().copied() else {
            out.push(*p);
            continue;
        };
        skipped.push(*p);
        if index + 1 == ring.len() || !skipped.iter().all(|s| between(anchor, *s, next)) {
            out.push(*p);
            skipped.clear();
        }
    }
    out
}

/// Whether `p` lies on the way from `a` to `b`, to a tenth of a drawing unit.
fn between(a: Place, p: Place, b: Place) -> bool {
    let [dx, dy, px, py] = [b.0 - a.0, b.1 - a.1, p.0 - a.0, p.1 - a.1].map(f64::from);
    let size = dx.hypot(dy);
    let (off, along) = ((dx * py - dy * px).abs(), dx * px + dy * py);
    size > 0.0 && off <= size && along >= 0.0 && along <= size * size
}

/// Appends a line through places, each from the one before it.
pub(super) fn write(d: &mut String, places: &[Place], closed: bool) {
    let Some((first, rest)) = places.split_first() else { return };
    let _ = write!(d, "M{} {}l", tenths(first.0), tenths(first.1));
    let mut last = *first;
    for p in rest {
        for (k, step) in [p.0 - last.0, p.1 - last.1].into_iter().enumerate() {
            let number = tenths(step);
            // A minus or the letter before keeps two numbers apart.
            let apart = !(number.starts_with('-') || k == 0 && d.ends_with('l'));
            if apart {
                d.push(' ');
            }
            d.push_str(&number);
        }
        last = *p;
    }
    if closed {
        d.push('z');
    }
}

/// Tenths as a number, as short as can be.
fn tenths(value: i32) -> String {
    let sign = if value < 0 { "-" } else { "" };
    let (whole, part) = (value.unsigned_abs() / 10, value.unsigned_abs() % 10);
    match (whole, part) {
        (_, 0) => format!("{sign}{whole}").replace("-0", "0"),
        (0, _) => format!("{sign}.{part}"),
        _ => format!("{sign}{whole}.{part}"),
    }
}

// By hand: two unit squares of 10 drawing units side by side.
#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_squares_side_by_side_are_one_oblong() {
        let square = |x: f64| [[x, 0.0], [x + 10.0, 0.0], [x + 10.0, 10.0], [x, 10.0]];
        let (a, b) = (square(0.0), square(10.0));
        let drawn = joined(&[&a, &b]).unwrap();
        assert_eq!(drawn.d, "M0 0l20 0 0 10-20 0z");
        assert_eq!((drawn.low, drawn.high), ([0.0, 0.0], [20.0, 10.0]));
        assert!(joined(&[]).is_none());
    }

    #[test]
    fn a_hole_is_a_ring_of_its_own() {
        let mut squares = Vec::new();
        for (x, y) in [(0, 0), (1, 0), (2, 0), (0, 1), (2, 1), (0, 2), (1, 2), (2, 2)] {
            let [x, y] = [x, y].map(|c| 10.0 * f64::from(c));
            squares.push([[x, y], [x + 10.0, y], [x + 10.0, y + 10.0], [x, y + 10.0]]);
        }
        let squares: Vec<&[Point]> = squares.iter().map(|s| &s[..]).collect();
        let drawn = joined(&squares).unwrap();
        assert_eq!(drawn.d.matches('M').count(), 2, "{}", drawn.d);
        assert_eq!(drawn.d.matches('z').count(), 2);
    }

    #[test]
    fn numbers_are_short() {
        assert_eq!([0, 5, -5, 10, -13, 120].map(tenths), ["0", ".5", "-.5", "1", "-1.3", "12"]);
        let mut d = String::new();
        write(&mut d, &[(0, 0), (5, -5), (3, 8)], false);
        assert_eq!(d, "M0 0l.5-.5-.2 1.3");
    }
}
