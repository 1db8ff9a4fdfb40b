//! A cell cut along the lines on which its value passes from one step to the next.

use super::super::geometry::{Point, edges};
use super::super::scale::{CLASSES, Steps};
use super::{Flat, Piece};

/// A corner with its value.
type Valued = (Point, f64);

/// The pieces of a cell. A cell without a value at every corner is left blank: nothing is known there.
pub(super) fn split(
    flat: &Flat,
    values: &[f64],
    steps: Steps,
    limit: Option<f64>,
    out: &mut Vec<Piece>,
) {
    if values.len() != flat.corners.len() || values.iter().any(|v| !v.is_finite()) {
        return;
    }
    // Values come in the order of the corners of the answer, which were turned round if need be.
    let turned = flat.turned;
    let value = |k: usize| if turned { values[values.len() - 1 - k] } else { values[k] };
    let cell: Vec<Valued> = flat.corners.iter().enumerate().map(|(k, p)| (*p, value(k))).collect();
    let mut push = |class: usize, part: Vec<Valued>| {
        if part.len() >= 3 {
            let corners = part.into_iter().map(|c| c.0).collect();
            out.push(Piece { wall: flat.wall, class, corners, plane: flat.plane });
        }
    };
    let mut rest = cell;
    if let Some(limit) = limit {
        let (over, under) = (beyond(&rest, limit, 1.0), beyond(&rest, limit, -1.0));
        push(CLASSES.len(), over);
        rest = under;
    }
    let reached = |f: fn(f64, f64) -> bool| {
        let mut values = rest.iter().map(|c| c.1);
        let first = values.next()?;
        Some(values.fold(first, |a, b| if f(b, a) { b } else { a }))
    };
    let (Some(least), Some(most)) = (reached(|b, a| b < a), reached(|b, a| b > a)) else {
        return;
    };
    let (first, last) = (steps.of(least), steps.of(most));
    for step in first..=last {
        let upper =
            if step == last { rest.clone() } else { beyond(&rest, steps.from(step + 1), -1.0) };
        let part = if step == first { upper } else { beyond(&upper, steps.from(step), 1.0) };
        push(step, part);
    }
}

/// The part of a polygon whose values are above `level`, or below it where `sign` is negative.
fn beyond(polygon: &[Valued], level: f64, sign: f64) -> Vec<Valued> {
    let side = |c: &Valued| sign * (c.1 - level) >= 0.0;
    let mut out = Vec::with_capacity(polygon.len() + 2);
    for (a, b) in edges(polygon) {
        if side(&a) {
            out.push(a);
        }
        if side(&a) != side(&b) {
            // From the lower end, whichever cell asks: both find the same point.
            let (low, high) = if a.1 < b.1 { (a, b) } else { (b, a) };
            let t = (level - low.1) / (high.1 - low.1);
            let p = [0, 1].map(|k| low.0[k] + t * (high.0[k] - low.0[k]));
            out.push((p, level));
        }
    }
    out
}
