//! The design in its place: every body, weld and bolt with its coordinates, twins and copies made,
//! references resolved. All faults are reported at once.

mod body;
mod bolt;
mod clash;
mod condition;
mod contact;
mod context;
mod opinions;
mod place;
mod plausible;
mod prism;
mod rails;
mod reference;
mod steel;
mod weld;

pub use body::{Body, BodyId, Face, Form, On, Station, SteelAt, Wall};
pub use bolt::{BoltAt, BoltId, Passed};
pub use clash::Clash;
pub(crate) use condition::survey;
pub use prism::{Prism, TOUCH, Vec3, across};
pub use weld::{BeadAt, Quality, Run, WeldAt, WeldId};

use fishplate_quantity::{Fault, Faults};
use fishplate_strength::catalog::FuEdition;

use self::context::Context;
use self::place::Hindrance;
use self::reference::{FORM, Kind, Reference, nearest};
use crate::describe::{Form as Described, Mount, Place, Project, Side};

/// The design in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    /// Mounts: in the order of the project, left before right.
    pub mounts: Vec<MountAt>,
    /// Names of what mounts carry beside the cradle, in the order of the project.
    pub cargo: Vec<String>,
    /// Rails, then parts.
    pub bodies: Vec<Body>,
    /// Welds.
    pub welds: Vec<WeldAt>,
    /// Bolts.
    pub bolts: Vec<BoltAt>,
    /// What cannot be built as described.
    pub clashes: Vec<Clash>,
}

/// A mount in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct MountAt {
    /// Short name: `FL`.
    pub id: String,
    /// Long name: `front left`.
    pub name: String,
    /// Its place in the project.
    pub index: usize,
    /// Its side.
    pub side: Side,
    /// Centre of its bush, m.
    pub at: Vec3,
    /// What its bush lands on; nothing where only its force is asked for.
    pub lands: Option<Lands>,
    /// Height of the bush centre above the clamped face, m, where it is given.
    pub seat: Option<f64>,
    /// The cargo that it carries, by its place in the project; none for the cradle.
    pub carries: Option<usize>,
}

/// What a bush lands on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lands {
    /// Bolts.
    Bolts(BoltId),
    /// A body, without a bolt of its own.
    Body(BodyId),
}

impl Design {
    /// A body.
    #[must_use]
    pub fn body(&self, id: BodyId) -> &Body {
        &self.bodies[id.0]
    }

    /// Why a body does not lie where the load path takes it to be.
    #[must_use]
    pub fn misplaced(&self, id: BodyId) -> Option<String> {
        let clash = self.clashes.iter().find(|c| c.misplaced == Some(id))?;
        Some(format!("geometry clashes: {}", clash.what))
    }

    /// The body that the load of a mount enters first, and the bolts it comes through.
    #[must_use]
    pub fn landing(&self, mount: &MountAt) -> Option<(BodyId, Option<BoltId>)> {
        Some(match mount.lands? {
            Lands::Body(body) => (body, None),
            Lands::Bolts(id) => (self.bolts[id.0].through[0].body, Some(id)),
        })
    }
}

/// Puts a project in its place, with the tensile strengths of steel that its rules go with.
///
/// # Errors
/// Every fault, in the order of the project.
pub fn resolve(project: &Project, strengths: FuEdition) -> Result<Design, Vec<Fault>> {
    let mut faults = Faults::new();
    plausible::look_over(project, &mut faults);
    let names = names(project, &mut faults);
    // What follows would only repeat faults of names and numbers.
    if !faults.is_empty() {
        return Err(faults.into_vec());
    }
    let mut bodies = rails(project, strengths, &mut faults);
    parts(project, strengths, &names, &mut bodies, &mut faults);
    let bolts = bolts(project, &names, &bodies, &mut faults);
    let welds = welds(project, &names, &bodies, &mut faults);
    let mounts = mounts(project, &names, &bodies, &bolts, &mut faults);
    let cargo = project.cargo.iter().map(|c| c.name.clone()).collect();
    let design = Design { mounts, cargo, bodies, welds, bolts, clashes: Vec::new() };
    let mut design = faults.or(design).map_err(|mut told| {
        // Twins and copies are wrong in the same words.
        told.dedup();
        told
    })?;
    let mut faults = Faults::new();
    opinions::look_over(project, &design, &mut faults);
    faults.or(())?;
    design.clashes = clash::look_for(&design);
    Ok(design)
}

/// Names of all rails and parts as references write them; doubled names are faults.
fn names(project: &Project, faults: &mut Faults) -> Vec<String> {
    let mut named: Vec<(String, String)> = Vec::new();
    for (i, rail) in project.rails.iter().enumerate() {
        named.push((format!("rail.{}", rail.name), format!("rails[{i}].name")));
    }
    for (i, part) in project.parts.iter().enumerate() {
        let path = format!("parts[{i}].name");
        named.push((format!("part.{}", part.name), path.clone()));
        if part.datums.len() > 1 {
            for datum in &part.datums {
                let mount = datum.strip_prefix("mount.").unwrap_or(datum);
                named.push((format!("part.{mount}-{}", part.name), path.clone()));
            }
        }
    }
    for (i, (name, path)) in named.iter().enumerate() {
        if named[..i].iter().any(|(other, _)| other == name) {
            faults.add(
                path.clone(),
                format!("{name}, which is there already"),
                "a name of its own for every rail and part",
                "",
            );
        }
    }
    named.into_iter().map(|(name, _)| name).collect()
}

fn rails(project: &Project, strengths: FuEdition, faults: &mut Faults) -> Vec<Body> {
    let mut bodies = Vec::new();
    for (i, rail) in project.rails.iter().enumerate() {
        let path = format!("rails[{i}]");
        let t = rail.section.wall();
        let field = format!("{path}.steel");
        let Some(steel) = steel::find(project, &rail.steel, t, &field, strengths, faults) else {
            continue;
        };
        let drawn = place::side_of(rail.web.value.si());
        for (side, mirror) in sides(project.symmetric, drawn, rail.only, true) {
            let named = project.symmetric;
            bodies.push(rails::place(rail, &path, steel.clone(), (side, mirror, named), faults));
        }
    }
    bodies
}

/// The sides a thing is built on, and whether that is the twin of what is drawn.
fn sides(symmetric: bool, drawn: Side, only: Option<Side>, twin: bool) -> Vec<(Side, bool)> {
    match only {
        Some(side) => vec![(side, symmetric && side != drawn)],
        None if symmetric && twin => vec![(drawn, false), (drawn.other(), true)],
        None => vec![(drawn, false)],
    }
}

/// The mounts a thing is counted from: one entry a copy.
fn datums<'p>(
    project: &'p Project,
    list: &[String],
    path: &str,
    faults: &mut Faults,
) -> Vec<Option<(usize, &'p Mount)>> {
    if list.is_empty() {
        return vec![None];
    }
    let mut found = Vec::new();
    for (i, text) in list.iter().enumerate() {
        let name = text.strip_prefix("mount.").unwrap_or(text);
        match project.mounts.iter().position(|m| m.name == name) {
            Some(at) => found.push(Some((at, &project.mounts[at]))),
            None => {
                let near = nearest(name, project.mounts.iter().map(|m| m.name.as_str()));
                faults.add(
                    format!("{path}.datums[{i}]"),
                    text.clone(),
                    "a mount of the project",
                    near.map_or(String::new(), |n| format!("did you mean mount.{n}?")),
                );
            }
        }
    }
    found
}

fn position(place: &Place) -> Vec3 {
    Vec3::new(place.x.unwrap_or(0.0), place.y.unwrap_or(0.0), place.z.unwrap_or(0.0))
}

/// One copy of a thing that is to be built.
struct Copy<'p> {
    datum: Option<(usize, &'p Mount)>,
    side: Option<Side>,
    mirror: bool,
    listed: bool,
}

impl Copy<'_> {
    fn context<'a>(
        &'a self,
        project: &Project,
        names: &'a [String],
        bodies: &'a [Body],
    ) -> Context<'a> {
        Context {
            bodies,
            names,
            side: self.side.filter(|_| project.symmetric),
            mirror: self.mirror,
            datum: self.datum.map(|(at, _)| at),
            datum_at: self.datum.map(|(_, m)| (m.name.as_str(), position(&m.at))),
            listed: self.listed,
            named: project.symmetric,
        }
    }
}

/// Every copy of a thing: one a datum and side.
fn copies<'p>(
    project: &'p Project,
    (list, only): (&[String], Option<Side>),
    path: &str,
    twin: bool,
    explicit: Option<Side>,
    faults: &mut Faults,
) -> Vec<Copy<'p>> {
    let mut copies = Vec::new();
    for datum in datums(project, list, path, faults) {
        let drawn = datum.map_or(Side::Left, |(_, m)| place::side_of(position(&m.at)[1]));
        let listed = list.len() > 1;
        if !twin {
            copies.push(Copy { datum, side: None, mirror: false, listed });
            continue;
        }
        for (side, mirror) in sides(project.symmetric, drawn, only.or(explicit), true) {
            copies.push(Copy { datum, side: Some(side), mirror, listed });
        }
    }
    copies
}

/// The side a reference says, where it says one.
fn said_side(text: &str) -> Option<Side> {
    Reference::read(text).ok().and_then(|r| r.side)
}

fn parts(
    project: &Project,
    strengths: FuEdition,
    names: &[String],
    bodies: &mut Vec<Body>,
    faults: &mut Faults,
) {
    let mut waiting: Vec<usize> = (0..project.parts.len()).collect();
    while !waiting.is_empty() {
        let before = waiting.len();
        waiting.retain(|&i| {
            let part = &project.parts[i];
            let path = format!("parts[{i}]");
            let references = place::references(part);
            let known = references.iter().all(|r| {
                place::sided(r, bodies).is_some() || Reference::read(r).is_err() || !named(r, names)
            });
            if !known {
                return true;
            }
            let Some(thickness) = thickness(part) else { return false };
            let field = format!("{path}.steel");
            let Some(steel) =
                steel::find(project, &part.steel, thickness, &field, strengths, faults)
            else {
                return false;
            };
            let bar = matches!(part.form, Described::Bar(_));
            let off_centre =
                place::places(part).iter().any(|p| p.y.is_some_and(|y| y.abs() > TOUCH));
            let sided = references.iter().any(|r| place::sided(r, bodies) == Some(true));
            let explicit = references.iter().find_map(|r| said_side(r)).filter(|_| !bar);
            let twin = !bar && (sided || off_centre || explicit.is_some() || part.only.is_some());
            let owner = (part.datums.as_slice(), part.only);
            let mut made = Vec::new();
            for copy in copies(project, owner, &path, twin, explicit, faults) {
                let context = copy.context(project, names, bodies);
                match place::place(part, &path, steel.clone(), &context) {
                    Ok(mut body) => {
                        if !project.symmetric && !bar {
                            body.side = Some(place::side_of(body.wall_centre(0)[1]));
                        }
                        made.push(body);
                    }
                    Err(Hindrance::Wrong(fault)) => faults.push(fault),
                    Err(Hindrance::Waits) if !faults.is_empty() => {}
                    Err(Hindrance::Waits) => faults.add(
                        path.clone(),
                        "a reference to a part that is not there on this side",
                        "parts that exist on the same side",
                        "look at `only` of the part it refers to",
                    ),
                }
            }
            bodies.extend(made);
            false
        });
        if waiting.len() == before {
            for i in circle(project, waiting, bodies) {
                let part = &project.parts[i];
                faults.add(
                    format!("parts[{i}]"),
                    format!("part.{} placed on {}", part.name, place::references(part).join(", ")),
                    "parts that lead to a rail in the end",
                    "these parts are placed on each other in a circle",
                );
            }
            return;
        }
    }
}

/// Of the parts that wait, those that wait only for each other; the rest wait for a part at fault,
/// which is told already.
fn circle(project: &Project, mut waiting: Vec<usize>, bodies: &[Body]) -> Vec<usize> {
    loop {
        let before = waiting.len();
        let held = waiting.clone();
        waiting.retain(|&i| {
            place::references(&project.parts[i]).iter().all(|r| {
                place::sided(r, bodies).is_some()
                    || Reference::read(r).is_ok_and(|r| {
                        held.iter().any(|&j| format!("part.{}", project.parts[j].name) == r.body())
                    })
            })
        });
        if waiting.len() == before {
            return waiting;
        }
    }
}

fn named(text: &str, names: &[String]) -> bool {
    Reference::read(text).is_ok_and(|r| names.contains(&r.body()))
}

/// The thickness that decides a part's strength band, m.
fn thickness(part: &crate::describe::Part) -> Option<f64> {
    use crate::describe::BlockPlan;
    Some(match &part.form {
        Described::Plate(p) => p.thickness.value.si(),
        Described::Folded(p) => p.thickness.value.si(),
        Described::Gusset(p) => p.thickness.value.si(),
        Described::Sleeve(p) => (p.outside - p.bore) / 2.0,
        Described::Block(p) => match p.plan {
            BlockPlan::Round(d) => d,
            BlockPlan::Square(s) => s,
        },
        Described::Bar(p) => p.shape.wall(),
    })
}

fn welds(project: &Project, names: &[String], bodies: &[Body], faults: &mut Faults) -> Vec<WeldAt> {
    let mut made = Vec::new();
    for (i, weld) in project.welds.iter().enumerate() {
        let path = format!("welds[{i}]");
        let sided = weld.joins.iter().any(|r| place::sided(r, bodies) == Some(true));
        let explicit = weld.joins.iter().find_map(|r| said_side(r));
        let twin = sided || explicit.is_some();
        let owner = (weld.datums.as_slice(), weld.only);
        for copy in copies(project, owner, &path, twin, explicit, faults) {
            let context = copy.context(project, names, bodies);
            let placed = weld::place(weld, project.workmanship.as_ref(), &path, &context);
            keep(placed, &path, &mut made, faults);
        }
    }
    made
}

fn bolts(project: &Project, names: &[String], bodies: &[Body], faults: &mut Faults) -> Vec<BoltAt> {
    let mut made = Vec::new();
    for (i, bolt) in project.bolts.iter().enumerate() {
        let path = format!("bolts[{i}]");
        let mount_of = |text: &String| Reference::read(text).is_ok_and(|r| r.kind == Kind::Mount);
        let sided =
            bolt.through.iter().any(|r| mount_of(r) || place::sided(r, bodies) == Some(true));
        let explicit = bolt.through.iter().find_map(|r| said_side(r));
        let owner = (bolt.datums.as_slice(), bolt.only);
        for copy in copies(project, owner, &path, sided || explicit.is_some(), explicit, faults) {
            let context = copy.context(project, names, bodies);
            let flip = if copy.mirror { -1.0 } else { 1.0 };
            let mounts: Vec<_> = project
                .mounts
                .iter()
                .enumerate()
                .map(|(at, m)| {
                    let mut p = position(&m.at);
                    p[1] *= flip;
                    (at, m.name.as_str(), p)
                })
                .collect();
            keep(bolt::place(bolt, i, &mounts, &context), &path, &mut made, faults);
        }
    }
    made
}

/// Keeps what was placed, or its fault. Once all parts stand, nothing waits but what refers to a
/// part at fault, which is told already.
fn keep<T>(placed: Result<T, Hindrance>, path: &str, made: &mut Vec<T>, faults: &mut Faults) {
    match placed {
        Ok(thing) => made.push(thing),
        Err(Hindrance::Wrong(fault)) => faults.push(fault),
        Err(Hindrance::Waits) if !faults.is_empty() => {}
        Err(Hindrance::Waits) => faults.add(
            path,
            "a reference to a part that is not there on this side",
            "parts that exist on the same side",
            "look at `only` of the parts, and at faults reported for them",
        ),
    }
}

fn mounts(
    project: &Project,
    names: &[String],
    bodies: &[Body],
    bolts: &[BoltAt],
    faults: &mut Faults,
) -> Vec<MountAt> {
    let mut made: Vec<MountAt> = Vec::new();
    for (index, mount) in project.mounts.iter().enumerate() {
        let path = format!("mounts[{index}]");
        let carries = if mount.carries.is_empty() {
            None
        } else {
            let found = cargo_named(project, &mount.carries, &format!("{path}.carries"), faults);
            if found.is_none() {
                continue;
            }
            found
        };
        let drawn = place::side_of(position(&mount.at)[1]);
        for (side, mirror) in sides(project.symmetric, drawn, mount.only, true) {
            let mut at = position(&mount.at);
            at[1] = if mirror { -at[1] } else { at[1] };
            let copy = Copy { datum: Some((index, mount)), side: Some(side), mirror, listed: true };
            let context = copy.context(project, names, bodies);
            let lands = if mount.lands.is_empty() {
                None
            } else {
                lands(&mount.lands, &path, &context, (project, bolts), faults)
            };
            let id = short_id(&mount.name, carries.is_some(), side, &made);
            made.push(MountAt {
                id,
                name: format!("{} {}", mount.name.replace('-', " "), side.word()),
                index,
                side,
                at,
                lands,
                seat: mount.seat.map(|s| s.value.si()),
                carries,
            });
        }
    }
    made
}

/// The cargo that `cargo.NAME` names, by its place; a fault at `path` where there is none.
pub(crate) fn cargo_named(
    project: &Project,
    text: &str,
    path: &str,
    faults: &mut Faults,
) -> Option<usize> {
    let name = text.strip_prefix("cargo.");
    let found = name.and_then(|name| project.cargo.iter().position(|c| c.name == name));
    if found.is_none() {
        let names = || project.cargo.iter().map(|c| c.name.as_str());
        let advice = if project.cargo.is_empty() {
            "the project has no cargo".to_owned()
        } else {
            let near = nearest(name.unwrap_or(text), names());
            near.map_or(String::new(), |n| format!("did you mean cargo.{n}?"))
        };
        let given = if text.is_empty() { "nothing" } else { text };
        faults.add(path, given, "a cargo of the project, as cargo.battery", advice);
    }
    found
}

/// `FL` for the front left mount, `BFL` for the foot `battery-front` of a cargo; more letters where
/// that is taken.
fn short_id(name: &str, foot: bool, side: Side, made: &[MountAt]) -> String {
    let letter = match side {
        Side::Left => 'L',
        Side::Right => 'R',
    };
    let upper: String = name.to_uppercase();
    let initials: String = upper.split('-').filter_map(|word| word.chars().next()).collect();
    let free = |id: &String| made.iter().all(|m| m.id != *id);
    if let Some(id) = Some(format!("{initials}{letter}")).filter(|id| foot && free(id)) {
        return id;
    }
    (1..=upper.chars().count())
        .map(|n| upper.chars().take(n).chain(std::iter::once(letter)).collect::<String>())
        .find(free)
        .unwrap_or_else(|| format!("{upper}{letter}{}", made.len()))
}

/// Names of all bolts as references write them.
fn bolt_names(project: &Project) -> Vec<String> {
    let copies = |name: &str, datum: &str| {
        format!("bolt.{}-{name}", datum.strip_prefix("mount.").unwrap_or(datum))
    };
    project
        .bolts
        .iter()
        .flat_map(|b| {
            let own = std::iter::once(format!("bolt.{}", b.name));
            own.chain(b.datums.iter().map(|d| copies(&b.name, d)))
        })
        .collect()
}

fn lands(
    text: &str,
    path: &str,
    at: &Context<'_>,
    (project, bolts): (&Project, &[BoltAt]),
    faults: &mut Faults,
) -> Option<Lands> {
    let field = format!("{path}.lands");
    let reference = match Reference::read(text) {
        Ok(reference) => reference,
        Err(why) => {
            faults.add(field, why, FORM, String::new());
            return None;
        }
    };
    match reference.kind {
        Kind::Bolt => {
            let name = reference.body();
            let side = reference.side.or(at.side);
            let found = bolts.iter().position(|b| {
                let is = b.base == name
                    || (b.described == name && b.datum.is_some() && b.datum == at.datum);
                is && (b.side.is_none() || side.is_none() || b.side == side)
            });
            // A bolt that is described but does not stand is told already.
            let told = !faults.is_empty() && bolt_names(project).contains(&name);
            if found.is_none() && !told {
                let near = nearest(&name, bolts.iter().map(|b| b.base.as_str()));
                faults.add(
                    field.clone(),
                    format!(
                        "{text}, which is not there on the {} side",
                        at.side.map_or("drawn", Side::word)
                    ),
                    "a bolt of the project, such as bolt.front-bush",
                    near.map_or(String::new(), |n| format!("did you mean {n}?")),
                );
            }
            if let (Some(i), Some(own)) = (found, at.datum)
                && let Some((through, _)) = bolts[i].mount
                && through != own
            {
                faults.add(
                    field.clone(),
                    format!("{text}, which passes mount.{}", project.mounts[through].name),
                    "a bolt that passes this mount",
                    "",
                );
                return None;
            }
            found.map(|i| Lands::Bolts(BoltId(i)))
        }
        Kind::Part | Kind::Rail => match at.find(&reference, &field) {
            Ok(body) => Some(
                // A bolt that passes this very mount carries its load.
                bolts
                    .iter()
                    .position(|b| {
                        b.mount.map(|(m, _)| m) == at.datum
                            && at.datum.is_some()
                            && (b.side.is_none() || at.side.is_none() || b.side == at.side)
                            && b.through.first().is_some_and(|p| p.body == body)
                    })
                    .map_or(Lands::Body(body), |i| Lands::Bolts(BoltId(i))),
            ),
            Err(Hindrance::Wrong(fault)) => {
                faults.push(fault);
                None
            }
            Err(Hindrance::Waits) => {
                if faults.is_empty() {
                    faults.add(field, text, "a part that exists on the same side", "");
                }
                None
            }
        },
        Kind::Mount => {
            faults.add(field, text, "a bolt or part", "a mount cannot land on a mount");
            None
        }
    }
}
