//! Bolts in their places.

use fishplate_quantity::Fault;
use fishplate_strength::catalog;

use super::body::{BodyId, Form};
use super::context::Context;
use super::place::Hindrance;
use super::prism::{Vec3, across};
use super::reference::{FORM, Kind, Reference};
use crate::describe::{Bolt, BoltEnd, FacePreparation, Place, Side};

/// Place of a bolt group in [`super::Design::bolts`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct BoltId(pub usize);

/// Bolts of one kind through the same things, in their places.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltAt {
    /// Their full name: `bolt.front-bush left`.
    pub name: String,
    /// Their name without the side: `bolt.front-bush`.
    pub base: String,
    /// The name they were described by.
    pub described: String,
    /// The mount they are counted from.
    pub datum: Option<usize>,
    /// Path of their description: `bolts[0]`.
    pub path: String,
    /// Their place in the project.
    pub index: usize,
    /// Their side; none on one piece across the car.
    pub side: Option<Side>,
    /// Axis of the shanks.
    pub axis: usize,
    /// Points on the shanks' axes, in the middle of the grip.
    pub at: Vec<Vec3>,
    /// What they pass, from head to nut, mounts left out.
    pub through: Vec<Passed>,
    /// The mount they pass, by its place in the project, and whether it is at the head.
    pub mount: Option<(usize, bool)>,
    /// Nominal diameter of the bolts, m.
    pub diameter: f64,
    /// Diameter of the hole, m.
    pub hole: f64,
    /// Washers: outside diameter and thickness, m.
    pub washer: Option<(f64, f64)>,
    /// How the faces are prepared.
    pub faces: FacePreparation,
}

/// A wall that bolts pass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Passed {
    /// The body.
    pub body: BodyId,
    /// Its wall.
    pub wall: usize,
    /// Lower end on the bolt's axis, m.
    pub low: f64,
    /// Upper end on the bolt's axis, m.
    pub high: f64,
}

impl BoltAt {
    /// Lower and upper end of what is clamped, on the bolt's axis, m.
    #[must_use]
    pub fn grip(&self) -> (f64, f64) {
        self.through.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| {
            (if p.low < low { p.low } else { low }, if p.high > high { p.high } else { high })
        })
    }
}

/// The mount instance that a bolt may take its place from: place in the project, name, position.
pub(super) type MountPlace<'a> = (usize, &'a str, Vec3);

/// Whether the end of a bolt can be made in the last thing it passes.
fn ends(bolt: &Bolt, path: &str, d: f64, through: &[Passed]) -> Result<(), Hindrance> {
    let (outside, engaged) = match bolt.ends {
        BoltEnd::Nut | BoltEnd::ThinNut => return Ok(()),
        BoltEnd::WeldNut { size, .. } => (size.map(|(outside, _)| outside), None),
        BoltEnd::Boss { outside, .. } => (Some(outside), None),
        BoltEnd::Tapped { engaged } => (None, Some(engaged)),
    };
    let last = bolt.through.last().map(String::as_str).unwrap_or_default();
    if Reference::read(last).is_ok_and(|reference| reference.kind == Kind::Mount) {
        return Err(Fault::new(
            format!("{path}.ends"),
            format!("an end in \"{last}\""),
            "a nut, where the last thing passed is a mount",
            "a weld nut, boss or thread belongs to a wall of a part or rail; turn the order round",
        )
        .into());
    }
    if let Some(outside) = outside
        && outside.value.si() <= d
    {
        return Err(Fault::new(
            format!("{path}.ends.outside"),
            format!("{:.1} mm", outside.value.as_mm()),
            format!("more than the bolt, {:.1} mm", d * 1e3),
            "",
        )
        .into());
    }
    if let (Some(engaged), Some(wall)) = (engaged, through.last())
        && engaged.value.si() > wall.high - wall.low + 1e-6
    {
        return Err(Fault::new(
            format!("{path}.ends.length"),
            format!("{:.1} mm", engaged.value.as_mm()),
            format!("at most the thickness of {last}, {:.1} mm", (wall.high - wall.low) * 1e3),
            "no more thread can be engaged than there is steel",
        )
        .into());
    }
    Ok(())
}

/// Puts one instance of a bolt group in its place.
pub(super) fn place(
    bolt: &Bolt,
    index: usize,
    mounts: &[MountPlace<'_>],
    at: &Context<'_>,
) -> Result<BoltAt, Hindrance> {
    let path = format!("bolts[{index}]");
    let mut mount = None;
    let mut through = Vec::new();
    let mut axis = None;
    for (i, text) in bolt.through.iter().enumerate() {
        let field = format!("{path}.through[{i}]");
        let reference =
            Reference::read(text).map_err(|why| Fault::new(&field, why, FORM, String::new()))?;
        match reference.kind {
            Kind::Mount => {
                let found = mounts.iter().find(|(place, name, _)| {
                    if reference.name.is_empty() {
                        Some(*place) == at.datum
                    } else {
                        *name == reference.name
                    }
                });
                let (place, _, position) = found.ok_or_else(|| {
                    Fault::new(&field, text.clone(), "a mount of the project", "")
                })?;
                mount = Some((*place, i == 0, *position));
            }
            Kind::Part | Kind::Rail => {
                let body = at.find(&reference, &field)?;
                let wall = at.wall(&reference, body, &field)?;
                let form = &at.body(body).form;
                let across_it = match form {
                    Form::Sleeve { axis, .. } => *axis,
                    _ => at.body(body).walls[wall].prism.axis,
                };
                if *axis.get_or_insert(across_it) != across_it {
                    return Err(Fault::new(
                        &field,
                        text.clone(),
                        "a wall across the same bolt",
                        "the walls before it lie in another plane",
                    )
                    .into());
                }
                let (low, high) = at.body(body).walls[wall].prism.range(across_it);
                through.push(Passed { body, wall, low, high });
            }
            Kind::Bolt => {
                return Err(Fault::new(&field, text.clone(), "a mount, rail or part", "").into());
            }
        }
    }
    let Some(axis) = axis else {
        return Err(Fault::new(
            format!("{path}.through"),
            format!("{} things", bolt.through.len()),
            "at least one wall of a part or rail",
            "",
        )
        .into());
    };
    let thread = catalog::find_thread(&bolt.thread).map_err(|error| {
        Fault::new(
            format!("{path}.thread"),
            format!("\"{}\"", bolt.thread),
            "a thread of the catalogue, such as M12, M12x1.25 or 1/2-13",
            error.to_string(),
        )
    })?;
    if let Err(error) = catalog::find_bolt_class(&bolt.class, thread.d) {
        return Err(Fault::new(
            format!("{path}.class"),
            format!("\"{}\"", bolt.class),
            "a property class or grade of the catalogue, such as 8.8 or 10.9",
            error.to_string(),
        )
        .into());
    }
    if bolt.hole.value.si() < thread.d {
        return Err(Fault::new(
            format!("{path}.hole"),
            format!("{:.1} mm", bolt.hole.value.as_mm()),
            format!("at least the bolt, {:.1} mm", thread.d * 1e3),
            "",
        )
        .into());
    }
    ends(bolt, &path, thread.d, &through)?;
    let mut bolts = BoltAt {
        name: String::new(),
        base: format!("bolt.{}", at.own_name(&bolt.name)),
        described: format!("bolt.{}", bolt.name),
        datum: at.datum.filter(|_| bolt.datums.len() > 1),
        path: path.clone(),
        index,
        side: at.side,
        axis,
        at: Vec::new(),
        through,
        mount: mount.map(|(place, head, _)| (place, head)),
        diameter: thread.d,
        hole: bolt.hole.value.si(),
        washer: bolt.washer,
        faces: bolt.faces,
    };
    bolts.name = match at.side {
        Some(side) if at.named => format!("{} {}", bolts.base, side.word()),
        _ => bolts.base.clone(),
    };
    let (low, high) = bolts.grip();
    let [u, v] = across(axis);
    let point = |a: f64, b: f64| {
        let mut p = Vec3::zeros();
        p[axis] = (low + high) / 2.0;
        p[u] = a;
        p[v] = b;
        p
    };
    if bolt.at.is_empty() {
        let Some((_, _, position)) = mount else {
            return Err(Fault::new(
                format!("{path}.at"),
                "nothing",
                "the places of the bolts, two coordinates each",
                "only a bolt that passes a mount takes its place from there",
            )
            .into());
        };
        bolts.at.push(point(position[u], position[v]));
    }
    for (i, place) in bolt.at.iter().enumerate() {
        bolts.at.push(
            in_plane(place, [u, v], &format!("{path}.at[{i}]"), at).map(|[a, b]| point(a, b))?,
        );
    }
    inside(&bolts, &path, at)?;
    Ok(bolts)
}

fn in_plane(
    place: &Place,
    [u, v]: [usize; 2],
    path: &str,
    at: &Context<'_>,
) -> Result<[f64; 2], Hindrance> {
    match (at.along(place, u), at.along(place, v)) {
        (Some(a), Some(b)) => Ok([a, b]),
        _ => {
            let name = ["x", "y", "z"];
            Err(Fault::new(
                path,
                format!("{} coordinates", place.given()),
                format!("{} and {}, across the bolt", name[u], name[v]),
                "",
            )
            .into())
        }
    }
}

/// Refuses a bolt beside a wall it should pass. A hole that only breaks an edge is a clash.
fn inside(bolts: &BoltAt, path: &str, at: &Context<'_>) -> Result<(), Hindrance> {
    let [u, v] = across(bolts.axis);
    for (i, place) in bolts.at.iter().enumerate() {
        for passed in &bolts.through {
            let body = at.body(passed.body);
            if matches!(body.form, Form::Sleeve { .. }) {
                continue;
            }
            let edge = body.walls[passed.wall].prism.edge_distance([place[u], place[v]]);
            if edge < 0.0 {
                let name = ["x", "y", "z"];
                return Err(Fault::new(
                    format!("{path}.at[{i}]"),
                    format!(
                        "{} {:.1}, {} {:.1} mm, which leaves {}",
                        name[u],
                        place[u] * 1e3,
                        name[v],
                        place[v] * 1e3,
                        body.name
                    ),
                    "a place inside every plate it passes".to_owned(),
                    "move the bolt or make the plate larger",
                )
                .into());
            }
        }
    }
    Ok(())
}
