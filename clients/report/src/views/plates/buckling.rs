//! How a mount would buckle: its walls with the shape enlarged, darker where they move more.

use fishplate_proto::v1;

use super::{DRAWN, Picture, WIDTH, case_words, known, name, ramp};
use crate::given::Given;
use crate::names::{capital, without_side};
use crate::numbers::short;
use crate::svg::geometry::{Bounds, larger, largest, length, minus};
use crate::svg::scale::Steps;
use crate::svg::solids::position;
use crate::svg::surface::{Fill, Mesh, Surface, best_view, fitted};
use crate::svg::writer::Figure;

/// The largest movement is drawn as this share of the size of the mount.
const SHARE: f64 = 0.07;

/// What is known of the lowest way of buckling, in a sentence.
pub(crate) fn sentence(given: Given<'_>, buckling: &v1::PlateBuckling) -> Option<String> {
    let factor = known(buckling.load_factor).filter(|f| *f > 0.0)?;
    let case = case_words(given.response, &buckling.case_name);
    let case = if case.is_empty() { String::new() } else { format!(" of {case}") };
    let part = match buckling.part.as_str() {
        "" => String::new(),
        part => format!(" {} moves most.", capital(&without_side(part))),
    };
    Some(format!("Buckles at {} times the factored loads{case}.{part}", short(factor)))
}

/// The picture; nothing where the shape was not asked for.
pub(crate) fn draw(given: Given<'_>, mesh: &Mesh, buckling: &v1::PlateBuckling) -> Option<Picture> {
    let sentence = sentence(given, buckling)?;
    let still = mesh.moved(&buckling.shape, 0.0)?;
    let bounds = mesh.bounds(&still);
    let across = length(minus(bounds.high, bounds.low));
    let size = |n: usize| length(position(&buckling.shape[n]));
    let most =
        largest(mesh.walls.iter().flat_map(|w| &w.cells).flat_map(|c| &c.nodes).map(|n| size(*n)));
    if most < 1e-9 {
        return None;
    }
    let moved = mesh.moved(&buckling.shape, SHARE * across / most)?;
    let values: Vec<Vec<f64>> = mesh
        .walls
        .iter()
        .map(|w| {
            let last = w.cells.last().map_or(0, |c| c.first + c.nodes.len());
            let mut values = vec![0.0; last];
            for cell in &w.cells {
                for (k, n) in cell.nodes.iter().enumerate() {
                    values[cell.first + k] = size(*n) / most;
                }
            }
            values
        })
        .collect();
    let weight = |(w, c): (usize, usize)| {
        let cell = &mesh.walls[w].cells[c];
        largest(values[w][cell.first..cell.first + cell.nodes.len()].iter().copied()).powi(2)
    };
    let (from, _) = best_view(mesh, &moved, weight, &mut Vec::new());
    let both = [bounds, mesh.bounds(&moved)];
    let both = Bounds::of(both.into_iter().flat_map(|b| [b.low, b.high]));
    let sheet = fitted(from, &both, DRAWN);
    let sheet = sheet.shifted([(WIDTH - DRAWN[0]) / 2.0, 0.0]);
    let surface = Surface::new(mesh, &moved, sheet);
    let mut figure = Figure::new();
    // Eighths: movement has no unit, its largest is 1.
    let steps = Steps { width: 0.125 };
    surface.paint(&mut figure, |wall| {
        let at = mesh.walls.iter().position(|w| w.index == wall.index).unwrap_or_default();
        Fill::Steps { values: &values[at], steps, limit: None }
    });
    surface.lattice(&mut figure, "lat");
    surface.outline(&mut figure, "edg");
    let nodes = mesh.walls.iter().flat_map(|w| &w.cells).flat_map(|c| &c.nodes);
    if let Some(n) = nodes.copied().max_by(|a, b| size(*a).total_cmp(&size(*b))) {
        let part = capital(&without_side(&buckling.part));
        let lines =
            [(part, "t b halo"), (format!("× {}", short(buckling.load_factor)), "t b halo")];
        name(&mut figure, &surface, sheet.at(moved[n]), &lines);
    }
    let y = larger(figure.drawn().high[1], 0.0) + 20.0;
    ramp(&mut figure, [14.0, y], steps, 2, "of largest");
    Some(Picture {
        title: "Lowest way of buckling".to_owned(),
        remark: format!("{sentence} The shape has no size of its own. Seen from {}.", from.words()),
        svg: figure.finish(WIDTH, "mv pl", &format!("Lowest way of buckling. {sentence}")),
    })
}
