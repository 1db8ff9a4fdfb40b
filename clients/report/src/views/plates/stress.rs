//! How a mount is stressed: the comparison stress on its walls in flat steps.

use fishplate_proto::v1;

use super::{DRAWN, Picture, STEP, WIDTH, case_words, governed, known, name, ramp};
use crate::given::Given;
use crate::names::{capital, without_side};
use crate::numbers::{fixed, with_unit};
use crate::svg::geometry::{Point, Space, larger, largest, smaller};
use crate::svg::scale::Steps;
use crate::svg::solids::position;
use crate::svg::surface::{Fill, Mesh, Surface, best_view, fitted};
use crate::svg::writer::{Anchor, Figure};
use crate::units::Units;

/// A second view is drawn where at least this share of all stress is new in it.
const NEW: f64 = 0.12;
/// The most parts that are named with their largest stress.
const NAMED: usize = 4;

/// One scale for all pictures of a mount: as far as the stress goes, or the highest yield strength.
pub(crate) fn steps(mount: &v1::PlateMount, mesh: &Mesh, units: Units) -> Steps {
    let values = |part: usize| {
        let stresses = mount.views.iter().filter_map(move |v| v.stresses.get(part));
        largest(stresses.flat_map(|s| s.von_mises_mpa.iter().copied()))
    };
    let most = largest(
        mesh.walls
            .iter()
            .map(|w| w.yield_mpa.map_or_else(|| values(w.index), |y| smaller(values(w.index), y))),
    );
    Steps::up_to(units.value(most, "MPa"))
}

/// The pictures of one case: from where most of the stress shows, and from where most of the rest
/// does, unless `once`; `place` says what part of the mesh it is.
pub(crate) fn draw(
    given: Given<'_>,
    mesh: &Mesh,
    view: &v1::PlateView,
    steps: Steps,
    (place, once): (&str, bool),
) -> Vec<Picture> {
    let units = given.units;
    let values: Vec<Vec<f64>> = mesh
        .walls
        .iter()
        .map(|w| {
            let own = view.stresses.get(w.index).map_or(&[][..], |s| &s.von_mises_mpa);
            own.iter().map(|v| units.value(*v, "MPa")).collect()
        })
        .collect();
    if largest(values.iter().flatten().copied()) <= 0.0 {
        return Vec::new();
    }
    let weight = |(w, c): (usize, usize)| {
        let cell = &mesh.walls[w].cells[c];
        let own = values[w].get(cell.first..cell.first + cell.nodes.len());
        // Peaks are small and matter most.
        (largest(own.unwrap_or_default().iter().copied()) / steps.end()).powi(3)
    };
    let mut tops = tops(mesh, view);
    let shown = mesh.bounds(&mesh.nodes).grown(1.0);
    tops.retain(|t| shown.holds(t.at, 0.0));
    let mut seen = Vec::new();
    let mut told = vec![false; tops.len()];
    let mut out = Vec::new();
    while out.len() < if once { 1 } else { 2 } {
        let (from, share) = best_view(mesh, &mesh.nodes, weight, &mut seen);
        if !out.is_empty() && share < NEW && told.iter().all(|t| *t) {
            break;
        }
        let sheet = fitted(from, &mesh.bounds(&mesh.nodes), DRAWN);
        let sheet = sheet.shifted([(WIDTH - DRAWN[0]) / 2.0, 0.0]);
        let surface = Surface::new(mesh, &mesh.nodes, sheet);
        let mut figure = Figure::new();
        surface.paint(&mut figure, |wall| {
            let at = mesh.walls.iter().position(|w| w.index == wall.index).unwrap_or_default();
            let limit = wall.yield_mpa.map(|y| units.value(y, "MPa"));
            Fill::Steps { values: &values[at], steps, limit }
        });
        surface.outline(&mut figure, "edg");
        for (top, told) in tops.iter().zip(&mut told) {
            // The first view also names what lies just under what it shows.
            let first = out.is_empty() && surface.can_be_pointed_at(top.at);
            if first || surface.shows(top.at) {
                *told = true;
                name(&mut figure, &surface, sheet.at(top.at), &top.lines(units));
            }
        }
        let over = mesh.walls.iter().zip(&values).any(|(w, v)| {
            w.yield_mpa.is_some_and(|y| v.iter().any(|s| *s > units.value(y, "MPa")))
        });
        let y = figure.drawn().high[1] + 34.0;
        legend(&mut figure, [14.0, y], mesh, steps, over, units);
        let case = case_words(given.response, &view.case_name);
        let title =
            format!("Comparison stress on the parts, {case}, from {}.{place}", from.words());
        out.push(Picture {
            title: "Stress on the parts".to_owned(),
            remark: format!(
                "{case}, factored: von Mises, the larger of both faces. Seen from {}.{place}{}",
                from.words(),
                governed(view)
            ),
            svg: figure.finish(WIDTH, "mv pl", &title),
        });
    }
    out
}

/// The largest stress of a part that counts.
struct Top {
    part: String,
    mpa: f64,
    used: f64,
    at: Space,
    first: bool,
}

impl Top {
    fn lines(&self, units: Units) -> Vec<(String, &'static str)> {
        let class = if self.first { "t b halo" } else { "t halo" };
        let number = with_unit(&stress(self.mpa, units), units.unit("MPa"));
        vec![(capital(&without_side(&self.part)), class), (number, class)]
    }
}

/// The largest stress of every part, that nearest to its yield strength first.
fn tops(mesh: &Mesh, view: &v1::PlateView) -> Vec<Top> {
    let mut out: Vec<Top> = Vec::new();
    for wall in &mesh.walls {
        let Some(own) = view.stresses.get(wall.index) else { continue };
        let (Some(mpa), Some(at)) = (known(own.largest_mpa), &own.largest_at) else { continue };
        let used = mpa / wall.yield_mpa.unwrap_or(f64::INFINITY);
        let top = Top { part: wall.part.clone(), mpa, used, at: position(at), first: false };
        match out.iter_mut().find(|t| t.part == wall.part) {
            Some(other) if other.used >= used => {}
            Some(other) => *other = top,
            None => out.push(top),
        }
    }
    out.retain(|t| t.at.iter().all(|c| c.is_finite()) && t.mpa > 0.0);
    out.sort_by(|a, b| b.used.total_cmp(&a.used));
    out.truncate(NAMED);
    if let Some(first) = out.first_mut() {
        first.first = true;
    }
    out
}

/// A stress in MPa as it is printed.
pub(super) fn stress(mpa: f64, units: Units) -> String {
    fixed(units.value(mpa, "MPa"), if units == Units::Si { 0 } else { 1 })
}

/// The steps with their numbers, every yield strength on them, and what lies above it.
fn legend(
    figure: &mut Figure,
    [left, y]: Point,
    mesh: &Mesh,
    steps: Steps,
    over: bool,
    units: Units,
) {
    ramp(figure, [left, y], steps, 1, units.unit("MPa"));
    let mut yields: Vec<(f64, Vec<String>)> = Vec::new();
    for wall in &mesh.walls {
        let Some(strength) = wall.yield_mpa else { continue };
        let name = without_side(&wall.part);
        match yields.iter_mut().find(|y| (y.0 - strength).abs() < 1e-6) {
            Some((_, names)) if names.contains(&name) => {}
            Some((_, names)) => names.push(name),
            None => yields.push((strength, vec![name])),
        }
    }
    yields.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut free_from = f64::NEG_INFINITY;
    for (strength, _) in &yields {
        let shown = units.value(*strength, "MPa");
        if shown > steps.end() {
            continue;
        }
        let x = left + STEP * shown / steps.width;
        figure.line([x, y - 6.0], [x, y + 15.0], "scribe");
        figure.circle([x, y - 6.0], 2.2, "dot");
        let text = stress(*strength, units);
        let text = if free_from.is_finite() { text } else { format!("yield {text}") };
        // Texts stand over their line, or farther to the right where one stands already.
        #[allow(clippy::cast_precision_loss)]
        let half = 4.05 * text.chars().count() as f64;
        let at = larger(x, free_from + half);
        figure.text([at, y - 12.0], Anchor::Middle, "t b", &text);
        free_from = at + half + 4.0;
    }
    let mut line = y + 44.0;
    if over {
        figure.polygon(
            &[[left, line - 10.0], [left + 22.0, line - 10.0], [left + 22.0, line], [left, line]],
            crate::svg::scale::OVER,
        );
        let words = "above yield; beside a sharp corner only the marked number counts";
        for part in crate::names::lines(words, 46) {
            figure.text([left + 28.0, line], Anchor::Start, "t sm", &part);
            line += 16.0;
        }
    }
    for (strength, names) in &yields {
        let text = format!("yield {}: {}", stress(*strength, units), names.join(", "));
        for part in crate::names::lines(&text, 50) {
            figure.text([left, line], Anchor::Start, "t sm", &part);
            line += 16.0;
        }
    }
}
