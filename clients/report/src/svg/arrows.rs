//! Arrows of force: hollow comes in from outside and ends on the part, solid leaves the mount.

use super::geometry::{Point, smaller};
use super::writer::{Anchor, Figure};

/// Half the width of a shaft.
const SHAFT: f64 = 1.6;
/// Length of a head.
const HEAD: f64 = 11.0;
/// Half the width of a head.
const HALF: f64 = 4.6;
/// Shorter than this is not drawn; the number stays in the table.
pub(crate) const SHORTEST: f64 = 5.0;

/// Which end of the arrow is on the part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Arrow {
    /// Comes in from outside: hollow, its head ends at the point.
    In,
    /// Goes out: solid, its tail starts at the point.
    Out,
}

/// An arrow of the vector `v` (in drawing units) at `at`. Returns its free end, where a number
/// may stand, or `None` where it is too short to draw.
pub(crate) fn arrow(figure: &mut Figure, at: Point, v: Point, kind: Arrow) -> Option<Point> {
    let size = (v[0] * v[0] + v[1] * v[1]).sqrt();
    if size < SHORTEST || !size.is_finite() {
        return None;
    }
    let (tail, class) = match kind {
        Arrow::In => ([at[0] - v[0], at[1] - v[1]], "ain"),
        Arrow::Out => (at, "aout"),
    };
    figure.polygon(&outline(tail, v, size), class);
    figure.keep_off(tail, [tail[0] + v[0], tail[1] + v[1]]);
    match kind {
        Arrow::In => Some(tail),
        Arrow::Out => Some([at[0] + v[0], at[1] + v[1]]),
    }
}

/// Where the number of an arrow may stand, the nearest to its free end first.
pub(crate) fn number_places(root: Point, free: Point) -> Vec<(Point, Anchor)> {
    let (dx, dy) = (free[0] - root[0], free[1] - root[1]);
    let right = ([free[0] + 6.0, free[1] + 4.5], Anchor::Start);
    let left = ([free[0] - 6.0, free[1] + 4.5], Anchor::End);
    let over = ([free[0], free[1] - 6.0], Anchor::Middle);
    let under = ([free[0], free[1] + 15.0], Anchor::Middle);
    let steep = dy.abs() > 1.5 * dx.abs();
    let (sideways, other_side) = if dx < 0.0 { (left, right) } else { (right, left) };
    let (upright, other_end) = if dy > 0.0 { (under, over) } else { (over, under) };
    let mut places = match steep {
        true => vec![upright, sideways, other_side],
        false => vec![sideways, upright, other_end],
    };
    // Farther out, where all that is near is taken.
    for step in [1.0, 2.0, 3.0] {
        for ([x, y], anchor) in [upright, sideways, other_side, other_end] {
            let (away_x, away_y) = (16.0 * step * dx.signum(), 16.0 * step * dy.signum());
            places.push(([x, y + away_y], anchor));
            places.push(([x + away_x, y], anchor));
            places.push(([x - away_x, y + away_y], anchor));
        }
    }
    places
}

fn outline(tail: Point, v: Point, size: f64) -> [Point; 7] {
    let forward = [v[0] / size, v[1] / size];
    let across = [-forward[1], forward[0]];
    let head = smaller(HEAD, 0.6 * size);
    let half = smaller(HALF, 0.4 * size);
    let at = |along: f64, side: f64| {
        [
            tail[0] + along * forward[0] + side * across[0],
            tail[1] + along * forward[1] + side * across[1],
        ]
    };
    let neck = size - head;
    [
        at(0.0, SHAFT),
        at(neck, SHAFT),
        at(neck, half),
        at(size, 0.0),
        at(neck, -half),
        at(neck, -SHAFT),
        at(0.0, -SHAFT),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_head_of_a_load_ends_on_the_part_and_the_tail_of_a_reaction_starts_there() {
        let mut figure = Figure::new();
        let free = arrow(&mut figure, [10.0, 0.0], [20.0, 0.0], Arrow::In);
        assert_eq!(free, Some([-10.0, 0.0]));
        let free = arrow(&mut figure, [10.0, 0.0], [20.0, 0.0], Arrow::Out);
        assert_eq!(free, Some([30.0, 0.0]));
        // By hand: 20 long, head 11, so the neck is 9 from the tail.
        let svg = figure.finish(1.0, "x", "t");
        assert!(svg.contains("M10 1.6L19 1.6L19 4.6L30 0L19 -4.6L19 -1.6L10 -1.6Z"));
    }

    #[test]
    fn a_number_stands_beyond_its_arrow() {
        let first = |free| number_places([0.0, 0.0], free)[0];
        assert_eq!(first([0.0, -30.0]), ([0.0, -36.0], Anchor::Middle));
        assert_eq!(first([-30.0, 0.0]), ([-36.0, 4.5], Anchor::End));
    }

    #[test]
    fn a_short_arrow_is_left_to_the_table() {
        let mut figure = Figure::new();
        assert_eq!(arrow(&mut figure, [0.0, 0.0], [4.0, 2.0], Arrow::Out), None);
        assert_eq!(arrow(&mut figure, [0.0, 0.0], [f64::NAN, 2.0], Arrow::Out), None);
    }
}
