//! The painter's order of pieces, those of one colour together as far as it allows.

use super::super::geometry::{Bounds, Point, edges};
use super::Piece;

/// Side of a field in which pieces are looked for, drawing units.
const FIELD: f64 = 14.0;
/// Pieces that lie over each other by less than this, square drawing units, only touch.
const TOUCH: f64 = 0.03;
/// Closer than this two pieces lie in one surface, mm.
const LEVEL: f64 = 1e-3;

/// Pieces of one class that may be painted together.
#[derive(Debug)]
pub(super) struct Batch {
    pub(super) class: usize,
    pub(super) pieces: Vec<usize>,
}

/// All pieces in batches. Where pieces cover each other in a ring, the farthest goes first.
pub(super) fn batches(pieces: &[Piece], classes: usize) -> Vec<Batch> {
    let mut above: Vec<Vec<usize>> = vec![Vec::new(); pieces.len()];
    let mut waiting = vec![0usize; pieces.len()];
    for (a, b) in neighbours(pieces) {
        if let Some((under, over)) = first(pieces, a, b) {
            above[under].push(over);
            waiting[over] += 1;
        }
    }
    let mut ready: Vec<Vec<usize>> = vec![Vec::new(); classes];
    let mut painted = vec![false; pieces.len()];
    for (piece, count) in waiting.iter().enumerate() {
        if *count == 0 {
            ready[pieces[piece].class].push(piece);
        }
    }
    // For rings: the farthest first.
    let mut by_depth: Vec<usize> = (0..pieces.len()).collect();
    by_depth.sort_by(|a, b| pieces[*a].plane.depth.total_cmp(&pieces[*b].plane.depth));
    let mut by_depth = by_depth.into_iter();
    let mut out = Vec::new();
    let mut left = pieces.len();
    while left > 0 {
        // Of the classes that can go on, the one with most; of equal ones the first.
        let mut class = 0;
        for (k, r) in ready.iter().enumerate() {
            if r.len() > ready[class].len() {
                class = k;
            }
        }
        if ready[class].is_empty() {
            let Some(forced) = by_depth.find(|p| !painted[*p]) else { break };
            class = pieces[forced].class;
            ready[class].push(forced);
        }
        let mut batch = Vec::new();
        while let Some(piece) = ready[class].pop() {
            if std::mem::replace(&mut painted[piece], true) {
                continue;
            }
            left -= 1;
            batch.push(piece);
            for over in &above[piece] {
                waiting[*over] = waiting[*over].saturating_sub(1);
                if waiting[*over] == 0 && !painted[*over] {
                    ready[pieces[*over].class].push(*over);
                }
            }
        }
        batch.sort_unstable();
        out.push(Batch { class, pieces: batch });
    }
    out
}

/// Pairs of pieces whose boxes meet, each once.
fn neighbours(pieces: &[Piece]) -> Vec<(usize, usize)> {
    let boxes: Vec<Bounds<2>> =
        pieces.iter().map(|p| Bounds::of(p.corners.iter().copied())).collect();
    let mut fields: std::collections::BTreeMap<(i64, i64), Vec<usize>> = Default::default();
    // Drawings are a few hundred units wide.
    #[allow(clippy::cast_possible_truncation)]
    let place = |c: f64| (c / FIELD).floor() as i64;
    for (piece, bounds) in boxes.iter().enumerate().filter(|(_, b)| !b.is_empty()) {
        for column in place(bounds.low[0])..=place(bounds.high[0]) {
            for row in place(bounds.low[1])..=place(bounds.high[1]) {
                fields.entry((column, row)).or_default().push(piece);
            }
        }
    }
    let mut out = Vec::new();
    for ((column, row), own) in &fields {
        for (k, a) in own.iter().enumerate() {
            for b in &own[k + 1..] {
                // In the field of the upper left corner of what they share, so only once.
                let (one, other) = (&boxes[*a], &boxes[*b]);
                let corner = |axis: usize| {
                    place(super::super::geometry::larger(one.low[axis], other.low[axis]))
                };
                if corner(0) == *column && corner(1) == *row && one.meets(other, -1e-6) {
                    out.push((*a, *b));
                }
            }
        }
    }
    out
}

/// Which of two pieces must be painted first; nothing where they do not cover each other, or where
/// it makes no odds.
fn first(pieces: &[Piece], a: usize, b: usize) -> Option<(usize, usize)> {
    let (one, other) = (&pieces[a], &pieces[b]);
    if one.class == other.class {
        return None;
    }
    let shared = common(&one.corners, &other.corners)?;
    let gap = one.plane.depth(shared) - other.plane.depth(shared);
    if gap.abs() < LEVEL {
        // Pieces of one wall side by side; of two walls in one surface the later lies on top.
        return (one.wall != other.wall).then_some(if one.wall < other.wall {
            (a, b)
        } else {
            (b, a)
        });
    }
    Some(if gap < 0.0 { (a, b) } else { (b, a) })
}

/// A point inside two convex polygons that turn the same way: the middle of what they share.
fn common(a: &[Point], b: &[Point]) -> Option<Point> {
    let turn = |p: Point, q: Point, r: Point| {
        (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
    };
    let mut shared = a.to_vec();
    for (p, q) in edges(b) {
        let mut kept = Vec::with_capacity(shared.len() + 2);
        for (r, s) in edges(&shared) {
            let (from, to) = (turn(p, q, r), turn(p, q, s));
            if from >= 0.0 {
                kept.push(r);
            }
            if (from >= 0.0) != (to >= 0.0) {
                let t = from / (from - to);
                kept.push([r[0] + t * (s[0] - r[0]), r[1] + t * (s[1] - r[1])]);
            }
        }
        shared = kept;
        if shared.len() < 3 {
            return None;
        }
    }
    let anchor = shared[0];
    let (mut area, mut sum) = (0.0, [0.0; 2]);
    for (r, s) in edges(&shared) {
        let piece = turn(anchor, r, s);
        area += piece;
        for k in 0..2 {
            sum[k] += piece * (anchor[k] + r[k] + s[k]) / 3.0;
        }
    }
    (area > 2.0 * TOUCH).then(|| sum.map(|c| c / area))
}
