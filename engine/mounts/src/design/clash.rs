//! What cannot be where it is said to be. A drawing may hide it; a spanner will not.

use super::body::{Body, BodyId, Form};
use super::bolt::BoltAt;
use super::prism::{Prism, Vec3, across};
use super::{Design, MountAt, contact};

/// Two things that cannot be where they are said to be.
#[derive(Debug, Clone, PartialEq)]
pub struct Clash {
    /// What is in the way of what.
    pub what: String,
    /// Where, in numbers.
    pub place: String,
    /// How to mend it.
    pub advice: String,
    /// Path of the field that places the first of them.
    pub path: String,
    /// Full names of the things in each other's way.
    pub between: [String; 2],
    /// The body that does not lie where the load path takes it to be, where that is the clash:
    /// nothing that its load passes can be checked.
    pub misplaced: Option<BodyId>,
}

/// Depth below which two bodies only touch, m: half a millimetre of shop tolerance.
pub(super) const DEPTH: f64 = 0.5e-3;

/// Looks for everything that is in the way of something else.
pub(super) fn look_for(design: &Design) -> Vec<Clash> {
    let mut found = Vec::new();
    for mount in &design.mounts {
        mount_in_rail(design, mount, &mut found);
        off_seat(design, mount, &mut found);
    }
    for bolts in &design.bolts {
        for at in &bolts.at {
            shank(design, bolts, at, &mut found);
            heads(design, bolts, at, &mut found);
            holes(design, bolts, at, &mut found);
        }
    }
    overlaps(design, &mut found);
    contact::look_for(design, &mut found);
    found.dedup_by(|a, b| a.what == b.what);
    found
}

pub(super) fn mm(value: f64) -> String {
    format!("{:.0}", value * 1e3)
}

/// A bush centre inside the envelope of a rail.
fn mount_in_rail(design: &Design, mount: &MountAt, found: &mut Vec<Clash>) {
    for rail in design.bodies.iter().filter(|b| b.is_rail()) {
        let envelope = |axis: usize| {
            rail.walls.iter().map(|w| w.prism.range(axis)).fold(
                (f64::INFINITY, f64::NEG_INFINITY),
                |(low, high), (a, b)| {
                    (if a < low { a } else { low }, if b > high { b } else { high })
                },
            )
        };
        let inside = (0..3).all(|axis| {
            let (low, high) = envelope(axis);
            mount.at[axis] > low + DEPTH && mount.at[axis] < high - DEPTH
        });
        if inside {
            let (y, z) = (envelope(1), envelope(2));
            found.push(Clash {
                what: format!("mount {} lies inside {}", mount.name, rail.name),
                place: format!(
                    "the bush centre is at y {}, z {}; the rail fills y {} to {}, z {} to {} mm",
                    mm(mount.at[1]),
                    mm(mount.at[2]),
                    mm(y.0),
                    mm(y.1),
                    mm(z.0),
                    mm(z.1)
                ),
                advice: "move the mount clear of the rail, or check the rail's web and bottom"
                    .to_owned(),
                path: format!("mounts[{}].at", mount.index),
                between: [format!("mount {}", mount.id), rail.name.clone()],
                misplaced: None,
            });
        }
    }
}

/// Height within which a drawn seat agrees with the one given, m.
const SEAT: f64 = 2e-3;

/// A bush that is drawn at another height over the face it is clamped to than is given for it.
fn off_seat(design: &Design, mount: &MountAt, found: &mut Vec<Clash>) {
    let Some((body, Some(bolts))) = design.landing(mount) else { return };
    let Some(seat) = mount.seat else { return };
    let bolts = &design.bolts[bolts.0];
    let centre = mount.at[bolts.axis];
    let (low, high) = bolts.grip();
    let face = if (centre - low).abs() < (centre - high).abs() { low } else { high };
    let drawn = (centre - face).abs();
    if (drawn - seat.abs()).abs() > SEAT {
        let body = design.body(body);
        found.push(Clash {
            what: format!("the bush of mount {} does not sit on {}", mount.name, body.name),
            place: format!(
                "its centre is drawn {:.1} mm from the clamped face, the seat is given as {:.1} mm",
                drawn * 1e3,
                seat.abs() * 1e3
            ),
            advice: "correct the place of the mount or of the part, or the seat".to_owned(),
            path: format!("mounts[{}].seat", mount.index),
            between: [format!("mount {}", mount.id), body.name.clone()],
            misplaced: None,
        });
    }
}

/// How far a circle round `at` reaches into a prism's cross-section across `axis`; 0 outside.
fn reach_into(prism: &Prism, axis: usize, at: &Vec3, radius: f64) -> f64 {
    let [u, v] = across(axis);
    let gap = |a: usize| {
        let (low, high) = prism.range(a);
        if at[a] < low {
            low - at[a]
        } else if at[a] > high {
            at[a] - high
        } else {
            0.0
        }
    };
    let (du, dv) = (gap(u), gap(v));
    let reach = radius - (du * du + dv * dv).sqrt();
    if reach > 0.0 { reach } else { 0.0 }
}

fn overlap(a: (f64, f64), b: (f64, f64)) -> f64 {
    let low = if a.0 > b.0 { a.0 } else { b.0 };
    let high = if a.1 < b.1 { a.1 } else { b.1 };
    high - low
}

/// A shank that passes steel which is not on the bolt's list.
fn shank(design: &Design, bolts: &BoltAt, at: &Vec3, found: &mut Vec<Clash>) {
    let grip = bolts.grip();
    // The clearance hole stands for the shank: a wall nearer than that would have to be cut.
    let radius = bolts.hole / 2.0;
    for (b, body) in design.bodies.iter().enumerate() {
        if matches!(body.form, Form::Sleeve { .. }) {
            continue;
        }
        for (w, wall) in body.walls.iter().enumerate().filter(|(_, w)| w.solid) {
            if bolts.through.iter().any(|p| p.body.0 == b && p.wall == w) {
                continue;
            }
            let depth = overlap(wall.prism.range(bolts.axis), grip);
            if depth > DEPTH && reach_into(&wall.prism, bolts.axis, at, radius) > DEPTH {
                found.push(Clash {
                    what: format!(
                        "{} would cut the {} of {}",
                        bolts.name,
                        wall_word(&wall.name),
                        body.name
                    ),
                    place: spot(bolts.axis, at),
                    advice: "move the bolt clear of that wall, or take the wall into its list"
                        .to_owned(),
                    path: format!("{}.at", bolts.path),
                    between: [bolts.name.clone(), body.name.clone()],
                    misplaced: None,
                });
            }
        }
    }
}

fn wall_word(name: &str) -> &str {
    if name.is_empty() { "plate" } else { name }
}

/// A place in the plane across an axis, in words.
pub(super) fn spot(axis: usize, at: &Vec3) -> String {
    let [u, v] = across(axis);
    let name = ["x", "y", "z"];
    format!("at {} {}, {} {} mm", name[u], mm(at[u]), name[v], mm(at[v]))
}

/// A head, nut or washer that stands into other steel.
fn heads(design: &Design, bolts: &BoltAt, at: &Vec3, found: &mut Vec<Clash>) {
    let (low, high) = bolts.grip();
    // Heads and nuts are about 1.8 shank diameters across corners and 0.8 high; the hole is taken
    // for the shank (common practice, no source).
    let (outside, washer) = bolts.washer.unwrap_or((1.8 * bolts.hole, 0.0));
    let height = washer + 0.8 * bolts.hole;
    let head_low = bolts.through.first().is_some_and(|p| (p.low - low).abs() < 1e-9);
    let mut ends = Vec::new();
    // Where the bolt passes a mount, that end carries the bush, not a washer on the plate.
    let bush_at_low = bolts.mount.map(|(_, at_head)| at_head == head_low);
    if bush_at_low != Some(true) {
        ends.push((low - height, low));
    }
    if bush_at_low != Some(false) {
        ends.push((high, high + height));
    }
    for (b, body) in design.bodies.iter().enumerate() {
        for (w, wall) in body.walls.iter().enumerate().filter(|(_, w)| w.solid) {
            if bolts.through.iter().any(|p| p.body.0 == b && p.wall == w) {
                continue;
            }
            let reach = reach_into(&wall.prism, bolts.axis, at, outside / 2.0);
            let range = wall.prism.range(bolts.axis);
            if reach > DEPTH && ends.iter().any(|end| overlap(range, *end) > DEPTH) {
                found.push(Clash {
                    what: format!(
                        "washer of {} reaches {} mm into {}",
                        bolts.name,
                        mm(reach),
                        body.name
                    ),
                    place: spot(bolts.axis, at),
                    advice: "give the head and washer room: move the bolt or use a smaller washer"
                        .to_owned(),
                    path: format!("{}.at", bolts.path),
                    between: [bolts.name.clone(), body.name.clone()],
                    misplaced: None,
                });
            }
        }
    }
}

/// A hole that breaks an edge of a wall the bolt passes.
fn holes(design: &Design, bolts: &BoltAt, at: &Vec3, found: &mut Vec<Clash>) {
    let [u, v] = across(bolts.axis);
    for passed in &bolts.through {
        let body = design.body(passed.body);
        if matches!(body.form, Form::Sleeve { .. }) {
            continue;
        }
        let edge = body.walls[passed.wall].prism.edge_distance([at[u], at[v]]);
        if edge < bolts.hole / 2.0 {
            found.push(Clash {
                what: format!("hole of {} breaks the edge of {}", bolts.name, body.name),
                place: format!(
                    "{}: {:.1} mm from the edge, the hole needs {:.1} mm",
                    spot(bolts.axis, at),
                    edge * 1e3,
                    bolts.hole / 2.0 * 1e3
                ),
                advice: "move the bolt away from the edge".to_owned(),
                path: format!("{}.at", bolts.path),
                between: [bolts.name.clone(), body.name.clone()],
                misplaced: None,
            });
        }
    }
}

/// Bodies that fill the same space.
fn overlaps(design: &Design, found: &mut Vec<Clash>) {
    for (i, a) in design.bodies.iter().enumerate() {
        for b in &design.bodies[i + 1..] {
            if let Some(depth) = deepest(a, b) {
                found.push(Clash {
                    what: format!("{} and {} fill the same space", a.name, b.name),
                    place: format!("they overlap by {:.1} mm", depth * 1e3),
                    advice: "correct the place or size of one of them".to_owned(),
                    path: b.path.clone(),
                    between: [a.name.clone(), b.name.clone()],
                    misplaced: None,
                });
            }
        }
    }
}

/// The deepest overlap of two bodies' walls by their bounding boxes; triangles are left to the
/// faces they stand on.
fn deepest(a: &Body, b: &Body) -> Option<f64> {
    let boxy = |body: &Body| !matches!(body.form, Form::Gusset { .. } | Form::Sleeve { .. });
    if !boxy(a) || !boxy(b) {
        return None;
    }
    let mut deepest: Option<f64> = None;
    for wa in a.walls.iter().filter(|w| w.solid) {
        for wb in b.walls.iter().filter(|w| w.solid) {
            let depth = (0..3)
                .map(|axis| overlap(wa.prism.range(axis), wb.prism.range(axis)))
                .fold(f64::INFINITY, |least, d| if d < least { d } else { least });
            if depth > DEPTH && deepest.is_none_or(|d| depth > d) {
                deepest = Some(depth);
            }
        }
    }
    deepest
}
