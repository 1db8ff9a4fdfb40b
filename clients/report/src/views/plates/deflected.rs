//! How a mount moves: its walls with their movement enlarged, and where they were.

use fishplate_proto::v1;

use super::{DRAWN, Picture, WIDTH, case_words, name, plain};
use crate::given::Given;
use crate::numbers::{fixed, force, force_unit, short, size, with_unit};
use crate::svg::arrows::{Arrow, arrow, number_places};
use crate::svg::geometry::{Bounds, larger, largest, length, minus, round_below};
use crate::svg::marks::length_bar;
use crate::svg::project::{Sheet, View};
use crate::svg::solids::position;
use crate::svg::surface::{Mesh, Surface, best_view, fitted};
use crate::svg::writer::{Anchor, Figure};
use crate::units::Units;

/// The largest movement is drawn as this share of the size of the mount.
const SHARE: f64 = 0.09;
/// Movements below this, mm, are none.
const NONE: f64 = 1e-6;
/// The longest arrow, drawing units.
const LONGEST: f64 = 74.0;

/// The picture of one case; nothing where no movement is known. The first case of a mount chooses
/// from where it is seen, `from`, and all others follow: so they can be compared.
pub(crate) fn draw(
    given: Given<'_>,
    mount: &v1::PlateMount,
    mesh: &Mesh,
    view: &v1::PlateView,
    from: &mut Option<View>,
) -> Option<Picture> {
    let still = mesh.moved(&view.movements, 0.0)?;
    let bounds = mesh.bounds(&still);
    let across = length(minus(bounds.high, bounds.low));
    let (most, place) = farthest(mesh, &view.movements)?;
    let factor = round_below(SHARE * across / most);
    let moved = mesh.moved(&view.movements, factor)?;
    let both = [bounds, mesh.bounds(&moved)];
    let both = Bounds::of(both.into_iter().flat_map(|b| [b.low, b.high]));

    let movement = |n: usize| length(position(&view.movements[n]));
    let weight = |(w, c): (usize, usize)| {
        let cell = &mesh.walls[w].cells[c];
        largest(cell.nodes.iter().map(|n| movement(*n))) + 0.3 * most
    };
    let choose = || best_view(mesh, &moved, weight, &mut Vec::new()).0;
    let first = from.is_none();
    let from = *from.get_or_insert_with(choose);
    let sheet = fitted(from, &both, DRAWN);
    let sheet = sheet.shifted([(WIDTH - DRAWN[0]) / 2.0, 0.0]);
    let surface = Surface::new(mesh, &moved, sheet);
    let mut figure = Figure::new();
    surface.paint(&mut figure, plain);
    // One picture shows the mesh; in the others its lines would only make the page larger.
    if first {
        surface.lattice(&mut figure, "lat");
    }
    surface.outline(&mut figure, "edg");
    Surface::new(mesh, &mesh.nodes, sheet).outline(&mut figure, "was");

    let units = given.units;
    if let Some(at) = given.response.mounts.iter().find(|m| m.id == mount.mount_id) {
        load(&mut figure, given, at, &view.case_name, &sheet);
    }
    let text = with_unit(&size_of(most, units), units.unit("mm"));
    name(&mut figure, &surface, sheet.at(moved[place]), &[(text, "t b halo")]);
    let y = figure.drawn().high[1] + 22.0;
    length_bar(&mut figure, [14.0, y], (110.0, sheet.scale), units);
    let times = format!("movement × {}", short(factor));
    figure.text([WIDTH - 6.0, y + 4.0], Anchor::End, "t b", &times);
    let case = case_words(given.response, &view.case_name);
    let moves = format!("Deflected shape, {case}, movement drawn {} times", short(factor));
    Some(Picture {
        title: "Deflected shape".to_owned(),
        remark: format!(
            "{case}, unfactored. Movement drawn {} times; dotted: unloaded. Seen from {}.",
            short(factor),
            from.words()
        ),
        svg: figure.finish(WIDTH, "mv pl", &moves),
    })
}

/// The largest movement of a node that belongs to a cell, mm, and the node.
fn farthest(mesh: &Mesh, movements: &[v1::Position]) -> Option<(f64, usize)> {
    let mut most: Option<(f64, usize)> = None;
    for wall in &mesh.walls {
        for n in wall.cells.iter().flat_map(|c| &c.nodes) {
            let size = length(position(movements.get(*n)?));
            if most.is_none_or(|m| size > m.0) {
                most = Some((size, *n));
            }
        }
    }
    most.filter(|m| m.0 > NONE)
}

/// Two decimals, or so many that a small movement is told.
fn size_of(mm: f64, units: Units) -> String {
    let text = size(mm, units);
    if text == "0" { fixed(units.value(mm, "mm"), 4) } else { text }
}

/// What the cradle does to the mount.
fn load(figure: &mut Figure, given: Given<'_>, mount: &v1::MountAnswer, case: &str, sheet: &Sheet) {
    let case = given.response.cases.iter().find(|c| c.name == case);
    let (Some(case), Some(at)) = (case, mount.at.as_ref().map(position)) else { return };
    let Some(force_of) = Given::force(case, &mount.id) else { return };
    let size = larger(length(force_of), 1e-9);
    let root = sheet.at(at);
    let way = sheet.vector(force_of, LONGEST / size);
    if let Some(tip) = arrow(figure, root, way, Arrow::Out) {
        let text = format!("{} {}", force(size, given.units), force_unit(given.units));
        if let Some((place, anchor)) = figure.freest(&number_places(root, tip), &text) {
            figure.text(place, anchor, "t num halo", &text);
        }
    }
}
