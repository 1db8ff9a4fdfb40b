//! Sections of flat walls as they are described to a pack.

use fishplate_quantity::algebra::{abs, hypot};
use fishplate_quantity::{Dimension, Trace};

use crate::clause::NotChecked;
use crate::clause::input::{FlatWall, FlatWallsInput, ThinSectionInput, ThinShape};

use super::flats::{Flats, Point, Wall};

/// The walls of the section; reads its sizes.
pub(super) fn thin_section(
    input: &ThinSectionInput,
    trace: &mut Trace,
) -> Result<Flats, NotChecked> {
    let h = input.h(trace);
    let b = input.b(trace);
    let t = input.t(trace);
    Ok(match input.shape {
        ThinShape::Box => Flats::tube(h, b, t),
        ThinShape::Channel => Flats::channel(h, b, t),
        ThinShape::Angle => Flats::angle(h, b, t),
        ThinShape::Hat => Flats::hat(h, b, input.c(trace)?, t),
        ThinShape::ISection => Flats::i_section(h, b, t),
    })
}

/// More walls than a sheet has bends.
const MOST_WALLS: usize = 100;

/// The walls with the edges that hold each other.
pub(super) fn flat_walls(input: &FlatWallsInput, trace: &mut Trace) -> Result<Flats, NotChecked> {
    let senseless =
        |what: &'static str, value: f64, allowed: &'static str| NotChecked::OutOfRange {
            symbol: "walls",
            what,
            value,
            dimension: Dimension::Length,
            allowed,
        };
    let many = &input.walls;
    let start = |w: &FlatWall| (w.y_1, w.z_1);
    let end = |w: &FlatWall| (w.y_2, w.z_2);
    let length = |w: &FlatWall| hypot(w.y_2 - w.y_1, w.z_2 - w.z_1);
    if many.is_empty() || many.len() > MOST_WALLS {
        return Err(NotChecked::NoRule {
            reason: format!("a section has 1 to {MOST_WALLS} walls, not {}", many.len()),
        });
    }
    for wall in many {
        for read in [FlatWall::y_1, FlatWall::z_1, FlatWall::y_2, FlatWall::z_2, FlatWall::t] {
            read(wall, &input.origins, trace);
        }
        if !(length(wall).is_finite() && wall.t > 0.0 && length(wall) > wall.t) {
            let what = "length of a wall";
            return Err(senseless(what, length(wall), "a finite length above its thickness"));
        }
    }
    let mut walls = Vec::with_capacity(many.len());
    for (place, wall) in many.iter().enumerate() {
        let meets = |at: Point| {
            let others = many.iter().enumerate().filter(|(other, _)| *other != place);
            others
                .map(|(_, w)| w)
                .filter(|w| together_at(start(w), at) || together_at(end(w), at))
                .collect::<Vec<_>>()
        };
        let straight_on = |other: &FlatWall| {
            let (dy, dz) = (wall.y_2 - wall.y_1, wall.z_2 - wall.z_1);
            let (ey, ez) = (other.y_2 - other.y_1, other.z_2 - other.z_1);
            abs(dy * ez - dz * ey) <= 0.1 * length(wall) * length(other)
        };
        let (before, after) = (meets(start(wall)), meets(end(wall)));
        for joined in [&before, &after] {
            if joined.len() == 1 && straight_on(joined[0]) {
                let what = "a wall that another carries on";
                let allowed = "one wall for both, or a bend of more than 6 degrees";
                return Err(senseless(what, length(wall), allowed));
            }
        }
        if before.is_empty() && after.is_empty() {
            let what = "a wall that no other holds";
            return Err(senseless(what, length(wall), "a wall that meets another"));
        }
        walls.push(Wall {
            name: NAMES.get(place).copied().unwrap_or("another wall"),
            start: start(wall),
            end: end(wall),
            t: wall.t,
            held: (!before.is_empty(), !after.is_empty()),
        });
    }
    Ok(Flats { walls })
}

const NAMES: [&str; 12] = [
    "wall 1", "wall 2", "wall 3", "wall 4", "wall 5", "wall 6", "wall 7", "wall 8", "wall 9",
    "wall 10", "wall 11", "wall 12",
];

/// Whether two points of a drawing in m are one.
fn together_at(a: Point, b: Point) -> bool {
    hypot(a.0 - b.0, a.1 - b.1) <= 1e-6
}
