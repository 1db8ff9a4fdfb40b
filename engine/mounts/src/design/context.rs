//! What a description is read against: the bodies placed so far, the side, the datum.

use fishplate_quantity::Fault;

use super::body::{Body, BodyId, Face};
use super::place::Hindrance;
use super::prism::{Vec3, across};
use super::reference::{FORM, Kind, Reference, nearest};
use crate::describe::{Direction, Place, Side};

/// What a description is read against.
pub(super) struct Context<'a> {
    /// Bodies placed so far.
    pub(super) bodies: &'a [Body],
    /// Names of every rail and part of the project, placed or not, as references write them.
    pub(super) names: &'a [String],
    /// The side that is built; none for one piece across the car.
    pub(super) side: Option<Side>,
    /// Whether the twin of the drawn side is built.
    pub(super) mirror: bool,
    /// The mount that points are counted from: its place in the project, name, position as drawn.
    pub(super) datum: Option<usize>,
    /// Name and position of that mount.
    pub(super) datum_at: Option<(&'a str, Vec3)>,
    /// Whether it is one of several made from a list of datums.
    pub(super) listed: bool,
    /// Whether names carry a side.
    pub(super) named: bool,
}

impl Context<'_> {
    /// The name of an instance: with a list of datums it is named after its mount.
    pub(super) fn own_name(&self, name: &str) -> String {
        match self.datum_at {
            Some((mount, _)) if self.listed => format!("{mount}-{name}"),
            _ => name.to_owned(),
        }
    }

    /// A body by its place.
    pub(super) fn body(&self, id: BodyId) -> &Body {
        &self.bodies[id.0]
    }

    /// The body that a reference names.
    pub(super) fn find(&self, reference: &Reference, path: &str) -> Result<BodyId, Hindrance> {
        let name = reference.body();
        let side = reference.side.or(self.side);
        let mut found = self.bodies.iter().enumerate().filter(|(_, b)| {
            let named = b.base == name
                || (b.described == name && b.datum.is_some() && b.datum == self.datum);
            named && (b.side.is_none() || side.is_none() || b.side == side)
        });
        match (found.next(), found.next()) {
            (Some((at, _)), None) => Ok(BodyId(at)),
            (Some(_), Some(_)) => Err(Fault::new(
                path,
                name.clone(),
                format!("{name}.left or {name}.right"),
                "there is one on each side",
            )
            .into()),
            (None, _) if self.names.contains(&name) => Err(Hindrance::Waits),
            (None, _) => {
                let near = nearest(&name, self.names.iter().map(String::as_str));
                Err(Fault::new(
                    path,
                    format!("{name}, which is not in the project"),
                    "the name of a rail or part of the project",
                    near.map_or(String::new(), |n| format!("did you mean {n}?")),
                )
                .into())
            }
        }
    }

    /// A reference to a rail or part, taken apart and found.
    pub(super) fn resolve(&self, text: &str, path: &str) -> Result<(Reference, BodyId), Hindrance> {
        let reference =
            Reference::read(text).map_err(|why| Fault::new(path, why, FORM, String::new()))?;
        if !matches!(reference.kind, Kind::Part | Kind::Rail) {
            return Err(Fault::new(path, text, "a rail or part", "").into());
        }
        let body = self.find(&reference, path)?;
        Ok((reference, body))
    }

    /// The wall a reference names, or the only one.
    pub(super) fn wall(
        &self,
        reference: &Reference,
        id: BodyId,
        path: &str,
    ) -> Result<usize, Hindrance> {
        self.body(id)
            .wall(reference.wall.as_deref())
            .map_err(|why| Fault::new(path, why, FORM, String::new()).into())
    }

    /// The face that a reference names in full.
    pub(super) fn face(&self, text: &str, path: &str) -> Result<Face, Hindrance> {
        let (reference, id) = self.resolve(text, path)?;
        let wall = self.wall(&reference, id, path)?;
        let body = self.body(id);
        if let Some(facing) = reference.facing {
            return Ok(body.facing(id, wall, facing));
        }
        if !body.walls[wall].solid {
            // A mouth looks away from the web.
            let middle = body.wall_centre(0)[1];
            let level = body.walls[wall].prism.low;
            let looks = Direction { axis: 1, positive: level > middle };
            return Ok(Face { body: id, wall, looks, level });
        }
        Err(Fault::new(
            path,
            text,
            format!("{text} with the direction its face looks: outboard, inboard, upper, under, front, rear"),
            "",
        )
        .into())
    }

    /// A face of a corner or gap: where no direction is said, the one that looks at the other.
    pub(super) fn corner_face(
        &self,
        text: &str,
        other: &str,
        path: &str,
    ) -> Result<Face, Hindrance> {
        let (reference, id) = self.resolve(text, path)?;
        let wall = self.wall(&reference, id, path)?;
        if let Some(facing) = reference.facing {
            return Ok(self.body(id).facing(id, wall, facing));
        }
        let (second, second_id) = self.resolve(other, path)?;
        let second_wall = self.wall(&second, second_id, path)?;
        let axis = self.body(id).walls[wall].prism.axis;
        let toward = self.body(second_id).wall_centre(second_wall)[axis]
            > self.body(id).wall_centre(wall)[axis];
        Ok(self.body(id).face(id, wall, Direction { axis, positive: toward }))
    }

    /// One coordinate of a point, counted from the datum and mirrored.
    pub(super) fn along(&self, place: &Place, axis: usize) -> Option<f64> {
        let value = place.along(axis)?;
        let from = self.datum_at.map_or(0.0, |(_, at)| at[axis]);
        let value = value + from;
        Some(if axis == 1 && self.mirror { -value } else { value })
    }

    /// The two coordinates of a point on a face.
    pub(super) fn on_face(
        &self,
        place: &Place,
        face: &Face,
        path: &str,
    ) -> Result<[f64; 2], Hindrance> {
        let [u, v] = across(face.looks.axis);
        match (self.along(place, u), self.along(place, v)) {
            (Some(a), Some(b)) => Ok([a, b]),
            _ => {
                let name = ["x", "y", "z"];
                Err(Fault::new(
                    path,
                    format!("{} coordinates", place.given()),
                    format!("{} and {}, the axes of the face", name[u], name[v]),
                    "the face gives the third",
                )
                .into())
            }
        }
    }
}
