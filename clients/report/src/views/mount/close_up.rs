//! What a close-up of a mount shows: the steel near it, cut out of the car.

use fishplate_proto::v1;

use crate::given::Given;
use crate::state::State;
use crate::svg::geometry::{Bounds, Space, dot, length, minus, normal};
use crate::svg::solids::{Face, bolt_faces, bounds, corners, faces, position, zone};
use crate::svg::welds::Run;

/// Steel that is farther than this from the bush is not shown, mm.
const REACH: f64 = 260.0;
/// What is shown beyond the parts of the mount, mm.
const AROUND: f64 = 26.0;

/// A bolt in space.
#[derive(Debug, Clone)]
pub(super) struct Bolt<'a> {
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
        let welds: Vec<&v1::WeldLine> = scene.welds.iter().filter(|w| own(&w.mount_id)).collect();
        let bolts: Vec<&v1::BoltLine> = scene.bolts.iter().filter(|b| own(&b.mount_id)).collect();
        let solids: Vec<&v1::Solid> = given.solids().collect();

        let within = Bounds::of([centre]).grown(REACH);
        let mut own_parts = Bounds::empty();
        let mut region = Bounds::of([centre]).grown(42.0);
        for solid in solids.iter().filter(|s| own(&s.mount_id) && s.kind != "rail") {
            let around = bounds(solid);
            own_parts.add(around.low);
            own_parts.add(around.high);
        }
        if !own_parts.is_empty() {
            region.add(own_parts.low);
            region.add(own_parts.high);
        }
        for p in welds.iter().flat_map(|w| [&w.start, &w.end]).flatten() {
            region.add(position(p));
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

        let exceeding = given.exceeding();
        let marks = |name: &str| {
            exceeding.get(name).is_some_and(|r| r.mount_id.is_empty() || r.mount_id == mount.id)
        };
        let runs: Vec<Run<'_>> = welds.iter().filter_map(|w| Run::of(w, marks(&w.name))).collect();
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
            let marked = marks(&solid.name);
            let own_faces = faces(solid, part, &region, marked && !is_rail);
            if own_faces.is_empty() {
                continue;
            }
            parts.push(solid.name.clone());
            ends.extend(cut_ends(&around, &region));
            if marked && is_rail {
                let foot = foot(&around, &runs, &bolts).unwrap_or(region);
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
            let own_faces = bolt_faces(bolt, parts.len(), strength_exceeds(given, &bolt.name));
            if let (false, Some(head), Some(nut)) = (own_faces.is_empty(), &bolt.head, &bolt.nut) {
                all.extend(own_faces);
                parts.push(bolt.name.clone());
                shown.push(Bolt {
                    name: &bolt.name,
                    head: position(head),
                    nut: position(nut),
                    diameter: bolt.diameter_mm,
                    washer: bolt.washer_mm,
                });
            }
        }
        for run in &runs {
            if !parts.iter().any(|p| p == run.name) {
                parts.push(run.name.to_owned());
            }
        }
        if all.is_empty() {
            return None;
        }
        let joints = joints(&shown, &solids, centre);
        // From outside, unless the parts of the mount lie inside of its rail.
        let lies = if own_parts.is_empty() { centre } else { own_parts.middle() };
        let outside = rail.is_none_or(|r| lies[1].abs() + 1e-6 >= r.middle()[1].abs());
        Some(Self {
            centre,
            region,
            seen_from_left: (centre[1] >= 0.0) == outside,
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

/// Whether a bolt exceeds in more than slip: only then the bolt itself is coloured.
fn strength_exceeds(given: Given<'_>, name: &str) -> bool {
    let rows = given.response.rows.iter().filter(|r| r.component == name);
    rows.filter(|r| State::of(r) == State::Exceeds).any(|r| !super::slip::slips(r))
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
fn foot(rail: &Bounds<3>, runs: &[Run<'_>], bolts: &[&v1::BoltLine]) -> Option<Bounds<3>> {
    let on_rail = |p: &Space| rail.holds(*p, 4.0);
    let welded = runs.iter().filter(|r| on_rail(&r.start) && on_rail(&r.end));
    let mut foot = Bounds::of(welded.flat_map(|r| [r.start, r.end]));
    if foot.is_empty() {
        let ends = bolts.iter().flat_map(|b| [b.head.as_ref(), b.nut.as_ref()]);
        let near = ends.flatten().map(position).filter(|p| rail.holds(*p, 30.0));
        foot = Bounds::of(near);
        foot = foot.grown(12.0);
    }
    (!foot.is_empty()).then(|| foot.grown(6.0))
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
                let point = crate::svg::geometry::along(bolt.head, at, axis);
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
                out.push((index, crate::svg::geometry::along(bolt.head, a, axis)));
                last = a;
            }
        }
        let off_axis = length(crate::svg::geometry::cross(minus(centre, bolt.head), axis));
        if out.len() == before && off_axis < 2.0 {
            let away = |p: Space| length(minus(p, centre));
            let seat = if away(bolt.head) <= away(bolt.nut) { bolt.head } else { bolt.nut };
            out.push((index, seat));
        }
    }
    out
}
