//! Thin sections of any shape, as a list of their flat walls.

use fishplate_quantity::algebra::{abs, hypot};
use fishplate_quantity::{Dimension, Source, Trace};

use crate::clause::input::{FlatWall, FlatWallsInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::{plated, sheet};

use super::flats::{Flats, Point, Wall};
use super::thin_section::{apart, forces, together, width_limits};

/// Axial force and moments each on the section that it would leave alone, shares added.
pub(super) struct Apart;

impl Clause<FlatWallsInput> for Apart {
    fn reference(&self) -> Source {
        plated("4.3, 4.4 and 4.6(1), any flat walls")
    }

    fn title(&self) -> &'static str {
        "thin section of any flat walls, effective widths under each force"
    }

    fn applies(&self, _: &FlatWallsInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &FlatWallsInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let section = flats(input, trace)?;
        let forces = forces!(input, trace);
        apart(&section, forces, factors, trace)
    }
}

/// All forces on one section, the walls judged at the stresses that act.
pub(super) struct Together;

impl Clause<FlatWallsInput> for Together {
    fn reference(&self) -> Source {
        plated("4.4(4), slenderness at the stress that acts, any flat walls")
    }

    fn title(&self) -> &'static str {
        "thin section of any flat walls, effective widths at the acting stress"
    }

    fn applies(&self, _: &FlatWallsInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &FlatWallsInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let section = flats(input, trace)?;
        let forces = forces!(input, trace);
        together(&section, forces, factors, trace)
    }
}

/// Walls not so wide that the rules end.
pub(super) struct WidthLimits;

impl Clause<FlatWallsInput> for WidthLimits {
    fn reference(&self) -> Source {
        sheet("Table 5.1, any flat walls")
    }

    fn title(&self) -> &'static str {
        "any flat walls within the widths the rules for thin sections were tried on"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, _: &FlatWallsInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &FlatWallsInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        width_limits(&flats(input, trace)?, trace)
    }
}

/// More walls than a sheet has bends.
const MOST_WALLS: usize = 100;

/// The walls with the edges that hold each other.
fn flats(input: &FlatWallsInput, trace: &mut Trace) -> Result<Flats, NotChecked> {
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
