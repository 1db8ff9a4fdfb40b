//! Arrows of force: hollow comes in from outside and ends on the part, solid leaves the mount.

use super::geometry::{Point, smaller};
use super::writer::Figure;

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
    match kind {
        Arrow::In => Some(tail),
        Arrow::Out => Some([at[0] + v[0], at[1] + v[1]]),
    }
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
    fn a_short_arrow_is_left_to_the_table() {
        let mut figure = Figure::new();
        assert_eq!(arrow(&mut figure, [0.0, 0.0], [4.0, 2.0], Arrow::Out), None);
        assert_eq!(arrow(&mut figure, [0.0, 0.0], [f64::NAN, 2.0], Arrow::Out), None);
    }
}
