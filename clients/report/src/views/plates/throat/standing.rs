//! The weld runs where they are on the mount, their stress standing on them.

use fishplate_proto::v1;

use super::super::{DRAWN, Picture, WIDTH, name, plain, ramp};
use super::{ABOVE, Run, number, pieces};
use crate::given::Given;
use crate::names::{capital, without_side};
use crate::svg::geometry::{Bounds, Point, Space, largest, length, minus, smaller};
use crate::svg::project::Sheet;
use crate::svg::scale::Steps;
use crate::svg::surface::{Mesh, Surface, best_view, fitted};
use crate::svg::writer::Figure;

/// Width of the highest stress, drawing units.
const TALLEST: f64 = 46.0;
/// The most runs that are named.
const NAMED: usize = 5;
/// Cells nearer than this to a station are what the picture is of, mm.
const NEAR: f64 = 14.0;

/// The picture, and how many runs lie hidden in it; nothing where no run shows. Ribbons stand away
/// from the middle of the runs; `place` says what part of the mount it is.
pub(crate) fn draw(
    given: Given<'_>,
    mount: &v1::PlateMount,
    mesh: &Mesh,
    place: &str,
) -> Option<(Picture, usize)> {
    let units = given.units;
    let mut runs: Vec<Run<'_>> = mount.runs.iter().filter_map(|r| Run::of(r, units)).collect();
    let shown = mesh.bounds(&mesh.nodes).grown(NEAR);
    runs.retain(|r| r.places.iter().all(|p| shown.holds(*p, 0.0)));
    let top = ABOVE * largest(runs.iter().map(Run::reach));
    let highest = smaller(top, largest(runs.iter().map(Run::highest)));
    if highest <= 0.0 {
        return None;
    }
    let stations: Vec<Space> = runs.iter().flat_map(|r| r.places.iter().copied()).collect();
    let weight = |(w, c): (usize, usize)| {
        let mut corners = mesh.walls[w].cells[c].nodes.iter().map(|n| mesh.nodes[*n]);
        let near = |p: Space| stations.iter().any(|s| length(minus(*s, p)) < NEAR);
        if corners.any(near) { 1.0 } else { 0.02 }
    };
    let (from, _) = best_view(mesh, &mesh.nodes, weight, &mut Vec::new());
    let sheet = fitted(from, &mesh.bounds(&mesh.nodes), DRAWN);
    let sheet = sheet.shifted([(WIDTH - DRAWN[0]) / 2.0, 0.0]);
    let surface = Surface::new(mesh, &mesh.nodes, sheet);
    let mut figure = Figure::new();
    surface.paint(&mut figure, plain);
    surface.outline(&mut figure, "edg");
    let middle = Bounds::of(stations.iter().map(|p| sheet.at(*p))).middle();
    let scale = Scale { steps: Steps::up_to(highest), per_unit: TALLEST / highest, top: highest };
    let mut names = Vec::new();
    for run in &runs {
        let shown = run.places.iter().filter(|p| surface.can_be_pointed_at(**p)).count();
        if 2 * shown > run.places.len() {
            names.extend(stand(&mut figure, run, scale, &sheet, middle));
        }
    }
    if names.is_empty() {
        return None;
    }
    let hidden = runs.len() - names.len();
    names.sort_by(|a, b| b.0.total_cmp(&a.0));
    for (_, at, lines) in names.into_iter().take(NAMED) {
        name(&mut figure, &surface, at, &lines);
    }
    let y = figure.drawn().high[1] + 18.0;
    ramp(&mut figure, [14.0, y], scale.steps, 1, units.unit("MPa"));
    let picture = Picture {
        title: "Stress on the throat, on the runs".to_owned(),
        remark: format!(
            "the wider, the more; numbers are averaged peaks. Seen from {}.{place}",
            from.words()
        ),
        svg: figure.finish(WIDTH, "mv pl", "Stress on the throat, drawn on the weld runs"),
    };
    Some((picture, hidden))
}

/// A name for a run: how much of its limit it uses, where it is, and its lines.
type Named = (f64, Point, Vec<(String, &'static str)>);

/// What all runs share.
#[derive(Clone, Copy)]
struct Scale {
    steps: Steps,
    /// Drawing units per unit of stress.
    per_unit: f64,
    /// Where stress is cut off.
    top: f64,
}

/// Draws one run with its stress standing on it.
fn stand(
    figure: &mut Figure,
    run: &Run<'_>,
    scale: Scale,
    sheet: &Sheet,
    middle: Point,
) -> Option<Named> {
    let foot: Vec<Point> = run.places.iter().map(|p| sheet.at(*p)).collect();
    let (first, last) = (*foot.first()?, *foot.last()?);
    let (dx, dy) = (last[0] - first[0], last[1] - first[1]);
    let size = dx.hypot(dy);
    // Seen from its end, or closed, a run has no side: its stress stands upright.
    let out = if size > 1.0 { [-dy / size, dx / size] } else { [0.0, -1.0] };
    let away = [0, 1].map(|k| (first[k] + last[k]) / 2.0 - middle[k]);
    let sign = if out[0] * away[0] + out[1] * away[1] < 0.0 { -1.0 } else { 1.0 };
    let out = out.map(|c| sign * c);
    // A place along the run on the sheet, between its stations.
    let on = |at: f64| {
        let next = run.line.iter().position(|p| p[0] >= at).unwrap_or(run.line.len() - 1);
        let before = next.saturating_sub(1);
        let (a, b) = (run.line[before][0], run.line[next][0]);
        let t = if b > a { (at - a) / (b - a) } else { 0.0 };
        [0, 1].map(|k| foot[before][k] + t * (foot[next][k] - foot[before][k]))
    };
    let top = |[at, stress]: Point| {
        let p = on(at);
        [0, 1].map(|k| p[k] + scale.per_unit * stress * out[k])
    };
    let mut edge = vec![first];
    for (class, line) in pieces(run, scale.steps, scale.top) {
        let above: Vec<Point> = line.iter().map(|p| top(*p)).collect();
        let below: Vec<Point> = line.iter().rev().map(|p| on(p[0])).collect();
        figure.polygon(&[&above[..], &below[..]].concat(), class);
        edge.extend(above);
    }
    edge.push(last);
    figure.polyline(&edge, "redge");
    figure.polyline(&foot, "runl");
    let peak = run.peak.unwrap_or_else(|| run.highest());
    let at = super::known(run.told.peak_at_mm).filter(|a| (0.0..=run.length).contains(a));
    let head = format!("{} {}", capital(&without_side(&run.told.weld)), run.told.run);
    let lines = vec![(head, "t halo"), (number(peak, run.units), "t b halo")];
    Some((run.used(), top([at.unwrap_or(run.length / 2.0), 0.6 * peak]), lines))
}
