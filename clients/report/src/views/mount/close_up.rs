//! What a close-up of a mount shows: the steel near it, cut out of the car.

use fishplate_proto::v1;

use crate::given::Given;
use crate::svg::geometry::{Bounds, Space, along, cross, dot, length, minus, normal, unit};
use crate::svg::painter;
use crate::svg::project::View;
use crate::svg::solids::{Face, bolt_faces, bounds, corners, faces, position, zone};
use crate::svg::welds::{Run, UNDER};

/// Steel that is farther than this from the bush is not shown, mm.
const REACH: f64 = 260.0;
/// What leads farther than this from the bush is shown cut: the picture is of the foot, mm.
const FOOT: f64 = 160.0;
/// What is shown beyond the parts of the mount, mm.
const AROUND: f64 = 26.0;

/// A bolt in space.
#[derive(Debug, Clone)]
pub(super) struct Bolt<'a> {
    /// The number that its faces carry.
    pub(super) part: usize,
    pub(super) name: &'a str,
    pub(super) head: Space,
    pub(super) nut: Space,
    pub(super) diameter: f64,
    pub(super) washer: f64,
}

/// The steel of one mount.
#[derive(Debug)]
pub(super) struct CloseUp<'a> {
    pub(super) centre: Space,
    pub(super) region: Bounds<3>,
    /// Whether the mount shows itself from the car's left.
    pub(super) seen_from_left: bool,
    /// Names, by the number that faces carry.
    pub(super) parts: Vec<String>,
    pub(super) faces: Vec<Face>,
    pub(super) runs: Vec<Run<'a>>,
    pub(super) bolts: Vec<Bolt<'a>>,
    /// The box around the part that the mount's dimensions are taken from.
    pub(super) main: Option<Bounds<3>>,
    /// The box around the rail near the mount.
    pub(super) rail: Option<Bounds<3>>,
    /// Where faces meet across a bolt: a point of the bolt's axis on each.
    pub(super) joints: Vec<(usize, Space)>,
    /// Where rails and bars go on beyond the drawing: the axis, and two corners of the end.
    pub(super) ends: Vec<(usize, [Space; 2])>,
}

impl<'a> CloseUp<'a> {
    pub(super) fn new(given: Given<'a>, mount: &v1::MountAnswer) -> Option<Self> {
        let centre = mount.at.as_ref().map(position)?;
        let scene = given.response.scene.as_ref()?;
        let own = |id: &str| id == mount.id;
        let solids: Vec<&v1::Solid> = given.solids().collect();
        let exceeds = |name: &str| given.exceeding(name, Some(&mount.id)).next().is_some();

        let (within, near) = (Bounds::of([centre]).grown(REACH), Bounds::of([centre]).grown(FOOT));
        let welds = scene.welds.iter().filter(|w| own(&w.mount_id));
        let runs: Vec<Run<'_>> =
            welds.filter_map(|w| Run::of(w, exceeds(&w.name))?.inside(&within)).collect();
        let at =
            |p: &Option<v1::Position>| p.as_ref().is_some_and(|p| within.holds(position(p), 0.0));
        let own_bolts = scene.bolts.iter().filter(|b| own(&b.mount_id));
        let bolts: Vec<&v1::BoltLine> = own_bolts.filter(|b| at(&b.head) || at(&b.nut)).collect();

        let mut own_parts = Bounds::empty();
        let mut region = Bounds::of([centre]).grown(42.0);
        for solid in solids.iter().filter(|s| own(&s.mount_id) && s.kind != "rail") {
            let around = bounds(solid);
            if near.holds(around.low, 0.0) && near.holds(around.high, 0.0) {
                own_parts.add(around.low);
                own_parts.add(around.high);
            }
        }
        if !own_parts.is_empty() {
            region.add(own_parts.low);
            region.add(own_parts.high);
        }
        let of_foot = |run: &&Run<'_>| near.holds(run.start, 0.0) && near.holds(run.end, 0.0);
        for run in runs.iter().filter(of_foot) {
            region.add(run.start);
            region.add(run.end);
        }
        region = region.grown(AROUND);
        let rail = nearest_rail(&solids, centre);
        if let Some(rail) = rail {
            // The whole section of the rail, so that its section can be read.
            region.add([centre[0], rail.low[1] - 12.0, rail.low[2] - 12.0]);
            region.add([centre[0], rail.high[1] + 12.0, rail.high[2] + 12.0]);
        }
        for axis in 0..3 {
            region.low[axis] = crate::svg::geometry::larger(region.low[axis], within.low[axis]);
            region.high[axis] = crate::svg::geometry::smaller(region.high[axis], within.high[axis]);
        }

        let mut parts = Vec::new();
        let mut ends = Vec::new();
        let mut all = Vec::new();
        let mut main: Option<(f64, Bounds<3>)> = None;
        for solid in &solids {
            let around = bounds(solid);
            if !around.meets(&region, 0.0) {
                continue;
            }
            let part = parts.len();
            let is_rail = solid.kind == "rail";
            let marked = exceeds(&solid.name);
            let own_faces = faces(solid, part, &region, marked && !is_rail);
            if own_faces.is_empty() {
                continue;
            }
            parts.push(solid.name.clone());
            ends.extend(cut_ends(&around, &region));
            if marked && is_rail {
                let on_foot: Vec<&Run<'_>> = runs.iter().filter(of_foot).collect();
                let foot = foot(&around, &own_faces, &on_foot, &bolts, centre).unwrap_or(region);
                // The zone lies on the faces: it is painted after them.
                let zones = zone(&own_faces, &foot);
                all.extend(own_faces);
                all.extend(zones);
            } else {
                all.extend(own_faces);
            }
            let size: f64 = (0..3).map(|i| around.size(i)).product();
            let measured = own(&solid.mount_id)
                && !matches!(solid.kind.as_str(), "rail" | "bush" | "sleeve")
                && (0..3).all(|i| around.size(i) <= region.size(i));
            if measured && main.is_none_or(|(largest, _)| size > largest) {
                main = Some((size, around));
            }
        }
        let mut shown = Vec::new();
        for bolt in bolts {
            let broken =
                given.exceeding(&bolt.name, Some(&mount.id)).any(|r| !super::slip::slips(r));
            let own_faces = bolt_faces(bolt, parts.len(), broken);
            if let (false, Some(head), Some(nut)) = (own_faces.is_empty(), &bolt.head, &bolt.nut) {
                all.extend(own_faces);
                parts.push(bolt.name.clone());
                shown.push(Bolt {
                    part: parts.len() - 1,
                    name: &bolt.name,
                    head: position(head),
                    nut: position(nut),
                    diameter: bolt.diameter_mm,
                    washer: bolt.washer_mm,
                });
            }
        }
        let runs: Vec<Run<'_>> = runs.into_iter().filter_map(|r| r.inside(&region)).collect();
        for run in &runs {
            if !parts.iter().any(|p| p == run.name) {
                parts.push(run.name.to_owned());
            }
        }
        if all.is_empty() {
            return None;
        }
        let joints = joints(&shown, &solids, centre);
        // From outside, unless more can be seen from inside: of the bolt of the bush first, which is
        // what the picture is of, then of the rest.
        let (mut of_bush, mut rest) = (Vec::new(), Vec::new());
        for bolt in &shown {
            let out = unit(minus(bolt.head, bolt.nut)).unwrap_or_default();
            let d = bolt.diameter;
            let own = off_axis([bolt.head, bolt.nut], centre) < 2.0;
            // In the middle of the head and of the nut.
            for place in [along(bolt.head, 0.4 * d, out), along(bolt.nut, -0.4 * d, out)] {
                if own { &mut of_bush } else { &mut rest }.push((place, 1.2 * d));
            }
        }
        rest.extend(runs.iter().map(|r| (r.middle(), UNDER)));
        let seen_from = |view: View| {
            let laid = painter::lay(&view, &all);
            [&of_bush, &rest].map(|places| {
                let shown = |(p, room): &&(Space, f64)| !painter::hidden(&view, &laid, *p, *room);
                places.iter().filter(shown).count()
            })
        };
        let left = centre[1] >= 0.0;
        let (out_view, in_view) =
            if left { (View::LEFT, View::RIGHT) } else { (View::RIGHT, View::LEFT) };
        let outside = seen_from(out_view) >= seen_from(in_view);
        Some(Self {
            centre,
            region,
            seen_from_left: left == outside,
            parts,
            faces: all,
            runs,
            bolts: shown,
            main: main.map(|m| m.1),
            rail,
            joints,
            ends,
        })
    }
}

/// The ends at which a solid goes on beyond the region.
fn cut_ends(solid: &Bounds<3>, region: &Bounds<3>) -> Vec<(usize, [Space; 2])> {
    let mut out = Vec::new();
    for axis in 0..3 {
        for (goes_on, limit) in [
            (solid.low[axis] < region.low[axis], region.low[axis]),
            (solid.high[axis] > region.high[axis], region.high[axis]),
        ] {
            if goes_on {
                let mut ends = [solid.low, solid.high].map(|corner| {
                    std::array::from_fn(|i| corner[i].clamp(region.low[i], region.high[i]))
                });
                ends.iter_mut().for_each(|p: &mut Space| p[axis] = limit);
                out.push((axis, ends));
            }
        }
    }
    out
}

/// The box around the rail that is nearest to the mount.
fn nearest_rail(solids: &[&v1::Solid], centre: Space) -> Option<Bounds<3>> {
    let rails = solids.iter().filter(|s| s.kind == "rail").map(|s| bounds(s));
    let away = |b: &Bounds<3>| (b.middle()[1] - centre[1]).abs();
    rails
        .filter(|b| b.low[0] <= centre[0] && centre[0] <= b.high[0] && away(b) < REACH)
        .min_by(|a, b| away(a).total_cmp(&away(b)))
}

/// The part of a rail that the mount stands on: around its welds or bolts on the rail.
fn foot(
    rail: &Bounds<3>,
    faces: &[Face],
    runs: &[&Run<'_>],
    bolts: &[&v1::BoltLine],
    centre: Space,
) -> Option<Bounds<3>> {
    let walls: Vec<Bounds<3>> =
        faces.iter().map(|f| Bounds::of(f.corners.iter().copied())).collect();
    let on_rail = |p: Space| walls.iter().any(|wall| wall.holds(p, 0.5));
    let welded = runs.iter().filter(|r| on_rail(r.start) && on_rail(r.end));
    let mut foot = Bounds::of(welded.flat_map(|r| [r.start, r.end]));
    if foot.is_empty() {
        // The bolt of the bush does not hold the mount to the rail, even where it ends beside it.
        let joining = bolts.iter().filter_map(|b| {
            let ends = [b.head.as_ref().map(position)?, b.nut.as_ref().map(position)?];
            (off_axis(ends, centre) > 2.0).then_some(ends)
        });
        let near = joining.flatten().filter(|p| rail.holds(*p, 30.0));
        foot = Bounds::of(near);
        foot = foot.grown(12.0);
    }
    (!foot.is_empty()).then(|| foot.grown(6.0))
}

/// How far a point lies from the line through two others, mm.
fn off_axis([a, b]: [Space; 2], p: Space) -> f64 {
    let axis = minus(b, a);
    length(cross(minus(p, a), axis)) / crate::svg::geometry::larger(length(axis), 1e-9)
}

/// Where the faces of two solids meet on the axis of a bolt; for the bolt of the bush, which is
/// no solid of the scene, where the bush sits.
fn joints(bolts: &[Bolt<'_>], solids: &[&v1::Solid], centre: Space) -> Vec<(usize, Space)> {
    let mut out = Vec::new();
    for (index, bolt) in bolts.iter().enumerate() {
        let grip = minus(bolt.nut, bolt.head);
        let size = length(grip);
        if size < 1e-6 {
            continue;
        }
        let axis = grip.map(|c| c / size);
        let mut places: Vec<(f64, usize)> = Vec::new();
        for (number, solid) in solids.iter().enumerate() {
            for face in corners(solid) {
                let normal = normal(&face);
                let square_on = dot(normal, axis).abs() > 0.999 * length(normal);
                let at = dot(minus(face[0], bolt.head), axis);
                let around = Bounds::of(face.iter().copied());
                let point = along(bolt.head, at, axis);
                if square_on && (0.5..size - 0.5).contains(&at) && around.holds(point, 1.0) {
                    places.push((at, number));
                }
            }
        }
        places.sort_by(|a, b| a.0.total_cmp(&b.0));
        let before = out.len();
        let mut last = f64::NEG_INFINITY;
        for pair in places.windows(2) {
            let ((a, one), (b, other)) = (pair[0], pair[1]);
            if one != other && b - a < 0.6 && a - last > 0.6 {
                out.push((index, along(bolt.head, a, axis)));
                last = a;
            }
        }
        if out.len() == before && off_axis([bolt.head, bolt.nut], centre) < 2.0 {
            let away = |p: Space| length(minus(p, centre));
            let seat = if away(bolt.head) <= away(bolt.nut) { bolt.head } else { bolt.nut };
            out.push((index, seat));
        }
    }
    out
}
