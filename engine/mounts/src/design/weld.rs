//! Weld runs in their places.

use fishplate_quantity::Fault;
use fishplate_quantity::algebra::{larger, smaller};

use super::body::{Body, BodyId, Form};
use super::context::Context;
use super::place::Hindrance;
use super::prism::{TOUCH, Vec3, across};
use crate::describe::{BarShape, Bead, FoldOpening, Side, Weld, WeldPath, Workmanship};

/// Place of a weld in [`super::Design::welds`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct WeldId(pub usize);

/// A weld in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct WeldAt {
    /// Its full name: `weld.front-foot left`.
    pub name: String,
    /// Path of its description: `welds[0]`.
    pub path: String,
    /// Its side; none on one piece across the car.
    pub side: Option<Side>,
    /// The body whose edge is welded.
    pub of: BodyId,
    /// The body it is welded to.
    pub to: BodyId,
    /// How it is made.
    pub bead: BeadAt,
    /// Straight runs; none for plugs.
    pub runs: Vec<Run>,
    /// Length of the edges it runs along, m, gaps of its pattern counted in; none of plugs.
    pub joint: f64,
    /// Where it runs, as described.
    pub along: WeldPath,
    /// Whether it is stitched.
    pub stitched: Option<(f64, f64)>,
    /// Whether it is sealed against water.
    pub sealed: bool,
    /// Share of its strength that is relied on.
    pub quality: Quality,
}

/// Share of the strength of a weld that is relied on.
#[derive(Debug, Clone, PartialEq)]
pub struct Quality {
    /// The share, at most 1.
    pub share: f64,
    /// Who welds and inspects, in words; empty where nobody said it.
    pub words: String,
}

impl Quality {
    fn of(weld: &Weld, project: Option<&Workmanship>) -> Self {
        match weld.workmanship.as_ref().or(project) {
            Some(made) => Self {
                share: made.quality.value,
                words: format!(
                    "welded by {}, inspected {}",
                    made.welded_by.trim(),
                    made.inspected.trim()
                ),
            },
            None => Self { share: 1.0, words: String::new() },
        }
    }
}

/// How a weld is made, m.
#[derive(Debug, Clone, PartialEq)]
pub enum BeadAt {
    /// A fillet.
    Fillet {
        /// Leg as described.
        leg: f64,
        /// Fit-up gap.
        gap: f64,
        /// Throat that is left: (leg - gap) / √2.
        throat: f64,
    },
    /// Plugs.
    Plug {
        /// Diameter of the holes.
        diameter: f64,
        /// Diameter where the two parts are fused, where a sample was cut open.
        fused: Option<f64>,
        /// Centres.
        centres: Vec<Vec3>,
    },
}

impl BeadAt {
    fn throat(&self) -> Option<f64> {
        match self {
            Self::Fillet { throat, .. } => Some(*throat),
            Self::Plug { .. } => None,
        }
    }
}

/// A straight run of fillet.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// From here.
    pub start: Vec3,
    /// To here.
    pub end: Vec3,
    /// Along the leg that lies on the body it is welded to, away from the corner.
    pub leg_on: Vec3,
    /// Along the leg that lies on the welded edge.
    pub leg_up: Vec3,
    /// Whether the edge of the body it is welded to is close by, so that the wall carries on one
    /// side of the bead only.
    pub at_edge: bool,
}

impl Run {
    /// Its length, m.
    #[must_use]
    pub fn length(&self) -> f64 {
        (self.end - self.start).norm()
    }
}

impl WeldAt {
    /// Length of all runs, m.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.runs.iter().map(Run::length).sum()
    }

    /// Throat of a fillet, m.
    #[must_use]
    pub fn throat(&self) -> Option<f64> {
        self.bead.throat()
    }
}

/// An unbroken edge before stitches are cut out of it.
struct Edge {
    start: Vec3,
    end: Vec3,
    leg_on: Vec3,
    leg_up: Vec3,
}

/// Puts one instance of a weld in its place.
pub(super) fn place(
    weld: &Weld,
    made: Option<&Workmanship>,
    path: &str,
    at: &Context<'_>,
) -> Result<WeldAt, Hindrance> {
    if weld.joins.len() != 2 {
        return Err(Fault::new(
            format!("{path}.joins"),
            format!("{} things", weld.joins.len()),
            "two: the part whose edge is welded, and what it is welded to",
            "",
        )
        .into());
    }
    let (_, of) = at.resolve(&weld.joins[0], &format!("{path}.joins[0]"))?;
    let (to_reference, to) = at.resolve(&weld.joins[1], &format!("{path}.joins[1]"))?;
    if of == to {
        return Err(Fault::new(
            format!("{path}.joins"),
            format!("{} twice", weld.joins[0]),
            "two different things",
            "",
        )
        .into());
    }
    if let Some(wall) = &to_reference.wall {
        at.body(to)
            .wall(Some(wall))
            .map_err(|why| Fault::new(format!("{path}.joins[1]"), why, "a wall of it", ""))?;
    }
    let bead = bead(weld, path, of, at)?;
    let (runs, joint) = match &bead {
        BeadAt::Plug { .. } => (Vec::new(), 0.0),
        BeadAt::Fillet { .. } => {
            let edges = edges(weld, path, (of, to), at)?;
            let joint = edges.iter().map(|edge| (edge.end - edge.start).norm()).sum();
            // EN 1993-1-8:2005, 4.5.1(2): a shorter bead is not designed to carry.
            let least = bead.throat().map_or(0.0, |a| larger(30e-3, 6.0 * a));
            let to = at.body(to);
            (
                edges.iter().flat_map(|edge| stitched(edge, weld.stitches, least, to)).collect(),
                joint,
            )
        }
    };
    on_both(&runs, &bead, [at.body(of), at.body(to)], path)?;
    let base = format!("weld.{}", at.own_name(&weld.name));
    Ok(WeldAt {
        name: match at.side {
            Some(side) if at.named => format!("{base} {}", side.word()),
            _ => base,
        },
        path: path.to_owned(),
        side: at.side,
        of,
        to,
        bead,
        runs,
        joint,
        along: weld.along,
        stitched: weld.stitches,
        sealed: weld.sealed,
        quality: Quality::of(weld, made),
    })
}

/// Refuses a bead that lies beside one of the things it joins: farther away than its leg reaches.
fn on_both(runs: &[Run], bead: &BeadAt, joined: [&Body; 2], path: &str) -> Result<(), Hindrance> {
    let BeadAt::Fillet { leg, .. } = bead else { return Ok(()) };
    for (i, body) in joined.into_iter().enumerate() {
        let away = |p: &Vec3| {
            let solid = body.walls.iter().filter(|w| w.solid);
            solid.map(|w| w.prism.distance(p)).fold(f64::INFINITY, smaller)
        };
        let mut points = runs.iter().flat_map(|r| [r.start, (r.start + r.end) / 2.0, r.end]);
        let Some(point) = points.find(|p| away(p) > leg + TOUCH) else { continue };
        return Err(Fault::new(
            format!("{path}.joins[{i}]"),
            format!(
                "a bead at x {:.1}, y {:.1}, z {:.1} mm, {:.1} mm away from {}",
                point.x * 1e3,
                point.y * 1e3,
                point.z * 1e3,
                away(&point) * 1e3,
                body.name
            ),
            "a bead that lies on both things it joins",
            "move or trim the part, or weld it to what it stands on",
        )
        .into());
    }
    Ok(())
}

fn bead(weld: &Weld, path: &str, of: BodyId, at: &Context<'_>) -> Result<BeadAt, Hindrance> {
    match weld.bead {
        Bead::Fillet { leg, .. } => {
            let leg = leg.value.si();
            let gap = weld.gap.map_or(0.0, |g| g.value.si());
            if gap >= leg {
                return Err(Fault::new(
                    format!("{path}.gap"),
                    format!("{:.1} mm", gap * 1e3),
                    format!("less than the leg, {:.1} mm", leg * 1e3),
                    "a fillet across a gap as wide as its leg joins nothing: close the gap",
                )
                .into());
            }
            Ok(BeadAt::Fillet { leg, gap, throat: (leg - gap) * std::f64::consts::FRAC_1_SQRT_2 })
        }
        Bead::Plug { diameter, fused } => {
            if let Some(fused) = fused
                && fused.value.si() > diameter.value.si()
            {
                return Err(Fault::new(
                    format!("{path}.fused"),
                    format!("{:.1} mm", fused.value.as_mm()),
                    format!("at most the hole, {:.1} mm", diameter.value.as_mm()),
                    "what is seen outside is wider than what is fused below",
                )
                .into());
            }
            let body = at.body(of);
            let (normal, level) = match &body.form {
                Form::Plate { normal, on, .. } => (*normal, on.level),
                _ => {
                    return Err(Fault::new(
                        format!("{path}.joins[0]"),
                        body.base.clone(),
                        "a flat plate",
                        "plug welds go through the holes of a plate",
                    )
                    .into());
                }
            };
            let [u, v] = across(normal.axis);
            let mut centres = Vec::new();
            for (i, place) in weld.points.iter().enumerate() {
                let (Some(a), Some(b)) = (at.along(place, u), at.along(place, v)) else {
                    return Err(Fault::new(
                        format!("{path}.points[{i}]"),
                        format!("{} coordinates", place.given()),
                        "two coordinates in the plane of the plate",
                        "",
                    )
                    .into());
                };
                let radius = diameter.value.si() / 2.0;
                if body.walls[0].prism.edge_distance([a, b]) < radius {
                    return Err(Fault::new(
                        format!("{path}.points[{i}]"),
                        "a plug that leaves its plate",
                        format!("a centre at least {:.1} mm inside the plate", radius * 1e3),
                        "",
                    )
                    .into());
                }
                centres.push(body.walls[0].prism.point(level, [a, b]));
            }
            if centres.is_empty() {
                return Err(Fault::new(
                    format!("{path}.points"),
                    "nothing",
                    "the centres of the plugs",
                    "",
                )
                .into());
            }
            Ok(BeadAt::Plug {
                diameter: diameter.value.si(),
                fused: fused.map(|f| f.value.si()),
                centres,
            })
        }
    }
}

fn edges(
    weld: &Weld,
    path: &str,
    (of, to): (BodyId, BodyId),
    at: &Context<'_>,
) -> Result<Vec<Edge>, Hindrance> {
    let body = at.body(of);
    let not_here = |allowed: &str| {
        Err(Fault::new(
            format!("{path}.along"),
            format!("{} on a {} part", weld.along.words(), body.kind()),
            allowed.to_owned(),
            "the first thing of `joins` is the one whose edge is welded",
        )
        .into())
    };
    if weld.along == WeldPath::Points {
        return polyline(weld, path, at.body(to), at);
    }
    match &body.form {
        Form::Folded { .. } => match weld.along {
            WeldPath::Walls => Ok(folded_edges(body, false)),
            WeldPath::Foot => Ok(folded_edges(body, true)),
            _ => not_here("walls, or foot (walls and floor)"),
        },
        Form::Gusset { .. } => {
            let both = matches!(weld.bead, Bead::Fillet { both_sides: true, .. });
            match weld.along {
                WeldPath::Leg(axis) => match gusset_edges(body, Some(axis), both) {
                    list if list.is_empty() => not_here("a leg that the gusset has"),
                    list => Ok(list),
                },
                WeldPath::BothLegs => Ok(gusset_edges(body, None, both)),
                _ => not_here("leg x, leg y, leg z or both legs"),
            }
        }
        Form::Plate { .. } => match weld.along {
            WeldPath::AllRound => Ok(outline_edges(body, None)),
            WeldPath::LongEdges => Ok(long_edges(body)),
            _ => not_here("all round, long edges, or points"),
        },
        Form::Block { .. } | Form::Sleeve { .. } => match weld.along {
            WeldPath::AllRound => Ok(outline_edges(body, None)),
            _ => not_here("all round"),
        },
        Form::Bar { ends, on, .. } => match weld.along {
            WeldPath::AllRound => match on.iter().position(|on| on.body == to) {
                Some(end) => Ok(outline_edges(body, Some((end, ends[end])))),
                None => not_here("all round, to a body it ends on"),
            },
            _ => not_here("all round"),
        },
        Form::Rail { .. } => not_here("a part's edge: name the part first"),
    }
}

/// Edges of a folded U on its face: its walls from outside, and its floor.
fn folded_edges(body: &Body, with_floor: bool) -> Vec<Edge> {
    let Form::Folded { normal, along, foot_along, foot_up, open, on, .. } = &body.form else {
        return Vec::new();
    };
    let at = |a: f64, z: f64| {
        let mut p = Vec3::zeros();
        p[normal.axis] = on.level;
        p[*along] = a;
        p[2] = z;
        p
    };
    let unit = |axis: usize, sign: f64| {
        let mut u = Vec3::zeros();
        u[axis] = sign;
        u
    };
    let up = unit(normal.axis, normal.sign());
    let mut list: Vec<Edge> = [(foot_along.0, -1.0), (foot_along.1, 1.0)]
        .into_iter()
        .map(|(a, out)| Edge {
            start: at(a, foot_up.0),
            end: at(a, foot_up.1),
            leg_on: unit(*along, out),
            leg_up: up,
        })
        .collect();
    if with_floor {
        let (z, out) = match open {
            FoldOpening::Up => (foot_up.0, -1.0),
            FoldOpening::Down => (foot_up.1, 1.0),
        };
        list.push(Edge {
            start: at(foot_along.0, z),
            end: at(foot_along.1, z),
            leg_on: unit(2, out),
            leg_up: up,
        });
    }
    list
}

/// Edges of gussets along their legs, on one or both sides.
fn gusset_edges(body: &Body, only: Option<usize>, both_sides: bool) -> Vec<Edge> {
    let Form::Gusset { thickness, across: plane, at, corner, legs, .. } = &body.form else {
        return Vec::new();
    };
    let axes = across(*plane);
    let mut list = Vec::new();
    for middle in at {
        for (i, (direction, length)) in legs.iter().enumerate() {
            if only.is_some_and(|axis| axis != direction.axis) {
                continue;
            }
            let other = legs[1 - i].0;
            for side in [1.0, -1.0] {
                if side < 0.0 && !both_sides {
                    continue;
                }
                let mut start = Vec3::zeros();
                start[*plane] = middle + side * thickness / 2.0;
                start[axes[0]] = corner[0];
                start[axes[1]] = corner[1];
                let mut end = start;
                end[direction.axis] += direction.sign() * length;
                let mut leg_on = Vec3::zeros();
                leg_on[*plane] = side;
                let mut leg_up = Vec3::zeros();
                leg_up[other.axis] = other.sign();
                list.push(Edge { start, end, leg_on, leg_up });
            }
        }
    }
    list
}

/// Edges round the outline of a plate, block or sleeve on its face, or of a bar at an end.
fn outline_edges(body: &Body, bar_end: Option<(usize, f64)>) -> Vec<Edge> {
    let (axis, sign, level) = match (&body.form, bar_end) {
        (Form::Plate { normal, on, .. } | Form::Block { normal, on, .. }, _) => {
            (normal.axis, normal.sign(), on.level)
        }
        (Form::Sleeve { axis, on, .. }, _) => {
            (*axis, (on[1].level - on[0].level).signum(), on[0].level)
        }
        (Form::Bar { .. }, Some((end, level))) => (1, if end == 0 { 1.0 } else { -1.0 }, level),
        _ => return Vec::new(),
    };
    let mut up = Vec3::zeros();
    up[axis] = sign;
    let outlines: Vec<Vec<[f64; 2]>> = match &body.form {
        Form::Bar { shape, legs, line, .. } => vec![bar_outline(*shape, *legs, *line)],
        _ => body.walls.iter().map(|w| w.prism.outline.clone()).collect(),
    };
    let [u, v] = across(axis);
    let mut list = Vec::new();
    for outline in outlines {
        let n = outline.len();
        // Twice the signed area tells which way round the corners go.
        let turn: f64 = (0..n)
            .map(|i| {
                let (a, b) = (outline[i], outline[(i + 1) % n]);
                a[0] * b[1] - b[0] * a[1]
            })
            .sum();
        for i in 0..n {
            let (a, b) = (outline[i], outline[(i + 1) % n]);
            let length = ((b[0] - a[0]).powi(2) + (b[1] - a[1]).powi(2)).sqrt();
            if length < TOUCH {
                continue;
            }
            let out =
                [(b[1] - a[1]) / length * turn.signum(), (a[0] - b[0]) / length * turn.signum()];
            let point = |c: [f64; 2]| {
                let mut p = Vec3::zeros();
                p[axis] = level;
                p[u] = c[0];
                p[v] = c[1];
                p
            };
            let mut leg_on = Vec3::zeros();
            leg_on[u] = out[0];
            leg_on[v] = out[1];
            list.push(Edge { start: point(a), end: point(b), leg_on, leg_up: up });
        }
    }
    list
}

/// The outline of a bar's section in x and z.
fn bar_outline(
    shape: BarShape,
    legs: Option<[crate::describe::Direction; 2]>,
    line: [f64; 2],
) -> Vec<[f64; 2]> {
    let [x, z] = line;
    let rectangle = |width: f64, height: f64| {
        let (w, h) = (width / 2.0, height / 2.0);
        vec![[x - w, z - h], [x + w, z - h], [x + w, z + h], [x - w, z + h]]
    };
    match (shape, legs) {
        (BarShape::Angle { leg_a, leg_b, thickness: t }, Some([first, second])) => {
            let (dx, dz) = if first.axis == 0 { (first, second) } else { (second, first) };
            let (lx, lz) = if first.axis == 0 { (leg_a, leg_b) } else { (leg_b, leg_a) };
            let (sx, sz) = (dx.sign(), dz.sign());
            vec![
                [x, z],
                [x + sx * lx, z],
                [x + sx * lx, z + sz * t],
                [x + sx * t, z + sz * t],
                [x + sx * t, z + sz * lz],
                [x, z + sz * lz],
            ]
        }
        (BarShape::Angle { .. }, None) => Vec::new(),
        (BarShape::Box { height, width, .. } | BarShape::Flat { height, width }, _) => {
            rectangle(width, height)
        }
        (BarShape::Tube { diameter, .. }, _) => (0..24)
            .map(|i| {
                let angle = std::f64::consts::TAU * f64::from(i) / 24.0;
                [x + diameter / 2.0 * angle.cos(), z + diameter / 2.0 * angle.sin()]
            })
            .collect(),
    }
}

/// The two long edges of a plate.
fn long_edges(body: &Body) -> Vec<Edge> {
    let mut edges = outline_edges(body, None);
    edges.sort_by(|a, b| (b.end - b.start).norm().total_cmp(&(a.end - a.start).norm()));
    edges.truncate(2);
    edges
}

/// A polyline given by points on the face of the body it is welded to.
fn polyline(weld: &Weld, path: &str, to: &Body, at: &Context<'_>) -> Result<Vec<Edge>, Hindrance> {
    let (_, of) = at.resolve(&weld.joins[0], &format!("{path}.joins[0]"))?;
    let (normal, level) = match &at.body(of).form {
        Form::Plate { normal, on, .. }
        | Form::Folded { normal, on, .. }
        | Form::Block { normal, on, .. } => (*normal, on.level),
        _ => {
            return Err(Fault::new(
                format!("{path}.along"),
                format!("points on a {}", at.body(of).kind()),
                "points on a plate, a folded U or a block",
                "",
            )
            .into());
        }
    };
    let [u, v] = across(normal.axis);
    let mut corners = Vec::new();
    for (i, place) in weld.points.iter().enumerate() {
        let (Some(a), Some(b)) = (at.along(place, u), at.along(place, v)) else {
            return Err(Fault::new(
                format!("{path}.points[{i}]"),
                format!("{} coordinates", place.given()),
                format!("two coordinates on the face of {}", to.base),
                "",
            )
            .into());
        };
        let mut p = Vec3::zeros();
        p[normal.axis] = level;
        p[u] = a;
        p[v] = b;
        corners.push(p);
    }
    if corners.len() < 2 || corners.windows(2).any(|w| (w[1] - w[0]).norm() < TOUCH) {
        return Err(Fault::new(
            format!("{path}.points"),
            format!("{} points", corners.len()),
            "at least two points, no two alike in a row",
            "",
        )
        .into());
    }
    let mut up = Vec3::zeros();
    up[normal.axis] = normal.sign();
    let middle =
        corners.iter().sum::<Vec3>() / f64::from(u32::try_from(corners.len()).unwrap_or(1));
    Ok(corners
        .windows(2)
        .map(|w| {
            let mut leg_on = (w[1] - w[0]).normalize().cross(&up);
            if leg_on.dot(&((w[0] + w[1]) / 2.0 - middle)) < 0.0 {
                leg_on = -leg_on;
            }
            Edge { start: w[0], end: w[1], leg_on, leg_up: up }
        })
        .collect())
}

/// The runs that a stitch pattern leaves of an edge. What is left at its end and shorter than
/// `least` is no bead.
fn stitched(edge: &Edge, stitches: Option<(f64, f64)>, least: f64, to: &Body) -> Vec<Run> {
    let whole = (edge.end - edge.start).norm();
    let along = (edge.end - edge.start) / whole;
    let run = |from: f64, until: f64| Run {
        start: edge.start + along * from,
        end: edge.start + along * until,
        leg_on: edge.leg_on,
        leg_up: edge.leg_up,
        at_edge: near_edge(edge, to),
    };
    let Some((on, off)) = stitches else { return vec![run(0.0, whole)] };
    let mut runs = Vec::new();
    let mut from = 0.0;
    while from < whole - TOUCH {
        let until = if from + on < whole { from + on } else { whole };
        if until - from > smaller(on, least) - TOUCH || runs.is_empty() {
            runs.push(run(from, until));
        }
        from += on + off;
    }
    runs
}

/// Whether the wall that the bead sits on ends within three of its thicknesses beyond the bead.
fn near_edge(edge: &Edge, to: &Body) -> bool {
    let middle = (edge.start + edge.end) / 2.0;
    to.walls.iter().filter(|w| w.solid).any(|wall| {
        let prism = &wall.prism;
        let axis = prism.axis;
        let on_it =
            (middle[axis] - prism.low).abs() < TOUCH || (middle[axis] - prism.high).abs() < TOUCH;
        let flat = edge.leg_up[axis].abs() > 0.5;
        if !(on_it && flat) {
            return false;
        }
        let beyond = middle + edge.leg_on * (3.0 * prism.thickness());
        let [u, v] = across(axis);
        prism.covers([middle[u], middle[v]]) && !prism.covers([beyond[u], beyond[v]])
    })
}
