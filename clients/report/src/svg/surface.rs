//! Meshed walls seen from a side: which cells show, in which order they are painted, what their
//! outlines are. Cells of one colour that lie together become one outline: a page with thousands
//! of cells stays small, and no seams show between them.

mod bands;
mod depth;
mod lines;
mod order;
mod region;

use std::collections::BTreeSet;

use fishplate_proto::v1;

use super::geometry::{Bounds, Point, Space, centre, dot, edges, larger, length, normal, smaller};
use super::project::{Sheet, View, flat_bounds};
use super::scale::{CLASSES, OVER, Steps};
use super::solids::position;
use super::writer::Figure;
use depth::Depths;

/// A cell that is turned away from the eye by more than this shows as a line: sine of its angle to
/// the direction of looking.
const ON_EDGE: f64 = 0.02;

/// Grain of the raster by which a view is chosen, drawing units.
const COARSE: f64 = 3.0;

/// What lies by less than this behind what shows is found there by the eye, mm: a plate and a half.
const JUST_UNDER: f64 = 6.0;

/// Walls that are drawn together.
#[derive(Debug, Clone)]
pub(crate) struct Mesh {
    /// Places of the nodes, car axes, mm; a node that is no place belongs to no cell.
    pub(crate) nodes: Vec<Space>,
    pub(crate) walls: Vec<Wall>,
    /// Edges at which the drawing ends and not the wall, lower node first.
    cut: BTreeSet<(usize, usize)>,
}

/// A wall of a part.
#[derive(Debug, Clone)]
pub(crate) struct Wall {
    /// The part that it belongs to.
    pub(crate) part: String,
    /// Its place among the parts of the answer.
    pub(crate) index: usize,
    /// Yield strength, MPa; nothing where it is not known.
    pub(crate) yield_mpa: Option<f64>,
    pub(crate) cells: Vec<Cell>,
}

/// A cell of a wall.
#[derive(Debug, Clone)]
pub(crate) struct Cell {
    /// Its corners, by place among the nodes.
    pub(crate) nodes: Vec<usize>,
    /// Place of its first corner among the corner values of its wall.
    pub(crate) first: usize,
}

impl Mesh {
    /// The mesh of a mount; nothing where it has none. What is not a cell of known places is left out.
    pub(crate) fn of(mount: &v1::PlateMount) -> Option<Self> {
        let nodes: Vec<Space> = mount.nodes.iter().map(position).collect();
        let known = |n: &i32| {
            let place = usize::try_from(*n).ok()?;
            nodes.get(place).filter(|p| p.iter().all(|c| c.is_finite())).map(|_| place)
        };
        let mut walls = Vec::new();
        for (index, part) in mount.parts.iter().enumerate() {
            let mut first = 0;
            let mut cells = Vec::new();
            for cell in &part.cells {
                let corners: Option<Vec<usize>> = cell.nodes.iter().map(known).collect();
                if let Some(nodes) = corners.filter(|c| c.len() >= 3) {
                    cells.push(Cell { nodes, first });
                }
                first += cell.nodes.len();
            }
            if !cells.is_empty() {
                let known = Some(part.yield_mpa).filter(|y| y.is_finite() && *y > 0.0);
                walls.push(Wall { part: part.name.clone(), index, yield_mpa: known, cells });
            }
        }
        (!walls.is_empty()).then_some(Self { nodes, walls, cut: BTreeSet::new() })
    }

    /// The cells that lie in a box; nothing where none does. Nodes and values keep their places.
    pub(crate) fn inside(&self, limits: &Bounds<3>) -> Option<Self> {
        let mut cut = self.cut.clone();
        let mut walls = Vec::new();
        for wall in &self.walls {
            let holds = |c: &&Cell| c.nodes.iter().all(|n| limits.holds(self.nodes[*n], 0.0));
            let (kept, left): (Vec<&Cell>, Vec<&Cell>) = wall.cells.iter().partition(holds);
            for cell in left {
                cut.extend(edges(&cell.nodes).map(|(a, b)| (a.min(b), a.max(b))));
            }
            if !kept.is_empty() {
                let cells = kept.into_iter().cloned().collect();
                walls.push(Wall { cells, part: wall.part.clone(), ..*wall });
            }
        }
        (!walls.is_empty()).then(|| Self { nodes: self.nodes.clone(), walls, cut })
    }

    /// The nodes moved by `factor` times `movements`; nothing where a movement is missing or no number.
    pub(crate) fn moved(&self, movements: &[v1::Position], factor: f64) -> Option<Vec<Space>> {
        let whole = movements.len() == self.nodes.len();
        let moved = self.nodes.iter().zip(movements).map(|(p, m)| {
            let m = position(m);
            std::array::from_fn(|i| p[i] + factor * m[i])
        });
        let moved: Vec<Space> = moved.collect();
        let known = |n: &usize| moved.get(*n).is_some_and(|p| p.iter().all(|c| c.is_finite()));
        (whole && self.cells().all(|(_, c)| c.nodes.iter().all(known))).then_some(moved)
    }

    /// The box around all cells, with their nodes at `nodes`.
    pub(crate) fn bounds(&self, nodes: &[Space]) -> Bounds<3> {
        let used = self.cells().flat_map(|(_, c)| &c.nodes);
        Bounds::of(used.filter_map(|n| nodes.get(*n).copied()))
    }

    /// Every cell with the place of its wall.
    fn cells(&self) -> impl Iterator<Item = (usize, &Cell)> {
        self.walls.iter().enumerate().flat_map(|(w, wall)| wall.cells.iter().map(move |c| (w, c)))
    }
}

/// What a wall is filled with.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Fill<'a> {
    /// One class of the style sheet, and one for what looks upward: the light comes from there.
    Plain(&'static str, &'static str),
    /// Steps of a scale by the values at the corners; above the limit what exceeds.
    Steps {
        /// In the order of the cells and their corners.
        values: &'a [f64],
        steps: Steps,
        limit: Option<f64>,
    },
}

/// A flat piece of a cell on the sheet.
#[derive(Debug)]
struct Piece {
    wall: usize,
    class: usize,
    corners: Vec<Point>,
    plane: Plane,
}

/// How near the eye the plane of a cell is over the sheet, mm.
#[derive(Debug, Clone, Copy)]
struct Plane {
    at: Point,
    depth: f64,
    /// Change of depth per drawing unit.
    slope: Point,
}

impl Plane {
    fn depth(&self, p: Point) -> f64 {
        self.depth + self.slope[0] * (p[0] - self.at[0]) + self.slope[1] * (p[1] - self.at[1])
    }
}

/// A cell as it lies on the sheet.
#[derive(Debug)]
struct Flat {
    wall: usize,
    /// Its place among the cells of the wall.
    cell: usize,
    corners: Vec<Point>,
    /// Whether the corners are turned round against those of the answer.
    turned: bool,
    /// Whether the side that shows looks upward.
    lit: bool,
    plane: Plane,
    shows: bool,
}

/// A mesh on the sheet.
#[derive(Debug)]
pub(crate) struct Surface<'a> {
    mesh: &'a Mesh,
    nodes: &'a [Space],
    pub(crate) sheet: Sheet,
    flats: Vec<Flat>,
    depths: Depths,
}

impl<'a> Surface<'a> {
    /// The mesh with its nodes at `nodes`, which are as many as it has.
    pub(crate) fn new(mesh: &'a Mesh, nodes: &'a [Space], sheet: Sheet) -> Self {
        Self::with_grain(mesh, nodes, sheet, depth::GRAIN)
    }

    fn with_grain(mesh: &'a Mesh, nodes: &'a [Space], sheet: Sheet, grain: f64) -> Self {
        let mut flats = Vec::new();
        for (w, wall) in mesh.walls.iter().enumerate() {
            for (c, cell) in wall.cells.iter().enumerate() {
                let places: Vec<Space> = cell.nodes.iter().map(|n| nodes[*n]).collect();
                flats.extend(laid(&sheet, &places, (w, c)));
            }
        }
        let depths = Depths::of(&mut flats, grain);
        Self { mesh, nodes, sheet, flats, depths }
    }

    /// Whether a place, mm in car axes, shows: nothing lies before it.
    pub(crate) fn shows(&self, p: Space) -> bool {
        self.depths.shows(self.sheet.at(p), self.sheet.view.depth(p), depth::TOLERANCE)
    }

    /// Whether a place can be pointed at: it shows, or lies just under what shows, as where two
    /// walls meet.
    pub(crate) fn can_be_pointed_at(&self, p: Space) -> bool {
        self.depths.shows(self.sheet.at(p), self.sheet.view.depth(p), JUST_UNDER)
    }

    /// The share of a box on the sheet that walls cover.
    pub(crate) fn covered(&self, room: &Bounds<2>) -> f64 {
        self.depths.covered(room)
    }

    /// Paints the cells, each wall with its fill.
    pub(crate) fn paint<'f>(&self, figure: &mut Figure, fill: impl Fn(&Wall) -> Fill<'f>) {
        let (pieces, classes) = self.pieces(fill);
        for batch in order::batches(&pieces, classes.len()) {
            let corners: Vec<&[Point]> =
                batch.pieces.iter().map(|p| &*pieces[*p].corners).collect();
            if let Some(drawn) = region::joined(&corners) {
                figure.path(&drawn.d, drawn.low, drawn.high, classes[batch.class]);
            }
        }
    }

    /// What shows in pieces of one class, and the classes.
    fn pieces<'f>(&self, fill: impl Fn(&Wall) -> Fill<'f>) -> (Vec<Piece>, Vec<&'static str>) {
        let fills: Vec<Fill<'f>> = self.mesh.walls.iter().map(fill).collect();
        let mut classes: Vec<&'static str> = CLASSES.to_vec();
        classes.push(OVER);
        let mut pieces = Vec::new();
        for flat in self.flats.iter().filter(|f| f.shows) {
            match fills[flat.wall] {
                Fill::Plain(side, top) => {
                    let class = if flat.lit { top } else { side };
                    let known = classes.iter().position(|c| *c == class);
                    let class = known.unwrap_or_else(|| {
                        classes.push(class);
                        classes.len() - 1
                    });
                    let corners = flat.corners.clone();
                    pieces.push(Piece { wall: flat.wall, class, corners, plane: flat.plane });
                }
                Fill::Steps { values, steps, limit } => {
                    let cell = &self.mesh.walls[flat.wall].cells[flat.cell];
                    let own = values.get(cell.first..cell.first + cell.nodes.len());
                    bands::split(flat, own.unwrap_or_default(), steps, limit, &mut pieces);
                }
            }
        }
        (pieces, classes)
    }

    /// Draws the edges at which walls end or turn, where they show.
    pub(crate) fn outline(&self, figure: &mut Figure, class: &str) {
        lines::draw(figure, self, lines::Kind::Outline, class);
    }

    /// Draws the edges of all other cells, where there is room between them.
    pub(crate) fn lattice(&self, figure: &mut Figure, class: &str) {
        lines::draw(figure, self, lines::Kind::Lattice, class);
    }
}

/// A cell on the sheet, its corners turning one way; nothing where it is seen from its edge.
fn laid(sheet: &Sheet, places: &[Space], (wall, cell): (usize, usize)) -> Option<Flat> {
    let normal = normal(places);
    let facing = dot(normal, sheet.view.toward);
    let size = length(normal);
    if size < 1e-9 || facing.abs() < ON_EDGE * size {
        return None;
    }
    let mut corners: Vec<Point> = places.iter().map(|p| sheet.at(*p)).collect();
    // On the sheet y grows downward: what faces the eye turns the other way.
    let turned = facing > 0.0;
    if turned {
        corners.reverse();
    }
    let middle = centre(places);
    let slope = [
        -dot(normal, sheet.view.right) / (facing * sheet.scale),
        dot(normal, sheet.view.up) / (facing * sheet.scale),
    ];
    let plane = Plane { at: sheet.at(middle), depth: sheet.view.depth(middle), slope };
    let lit = normal[2] * facing.signum() > 0.7 * size;
    Some(Flat { wall, cell, corners, turned, lit, plane, shows: false })
}

/// A sheet on which the mesh fills a box of this size, its middle at the middle of the box.
pub(crate) fn fitted(view: View, bounds: &Bounds<3>, [width, height]: Point) -> Sheet {
    let flat = flat_bounds(&view, bounds);
    let scale = smaller(width / larger(flat.size(0), 1.0), height / larger(flat.size(1), 1.0));
    Sheet::centred(view, scale, &flat, [width / 2.0, flat.size(1) * scale / 2.0])
}

/// A cell by its wall and its place among the cells of the wall.
type Which = (usize, usize);

/// The view from which most can be seen of what matters. `weight` is that of a square mm of a cell;
/// `seen` holds what other views have shown. What this view shows is added to it, and the share of
/// all weight that is new comes with the view.
pub(crate) fn best_view(
    mesh: &Mesh,
    nodes: &[Space],
    weight: impl Fn(Which) -> f64,
    seen: &mut Vec<Which>,
) -> (View, f64) {
    let normal_of = |(w, c): Which| {
        let corners = &mesh.walls[w].cells[c].nodes;
        normal(&corners.iter().map(|n| nodes[*n]).collect::<Vec<_>>())
    };
    let whole = |which: Which| weight(which) * length(normal_of(which));
    let bounds = mesh.bounds(nodes);
    let left = bounds.middle()[1] >= 0.0;
    let mut best: Option<(f64, View, Vec<Which>)> = None;
    for view in View::obliques(left) {
        let sheet = fitted(view, &bounds, [440.0, 440.0]);
        let surface = Surface::with_grain(mesh, nodes, sheet, COARSE);
        let shown = surface.flats.iter().filter(|f| f.shows).map(|f| (f.wall, f.cell));
        let fresh: Vec<Which> = shown.filter(|w| seen.binary_search(w).is_err()).collect();
        // What is seen aslant counts by what is left of it.
        let aslant = |w: &Which| weight(*w) * dot(normal_of(*w), view.toward).abs();
        let score: f64 = fresh.iter().map(aslant).sum();
        // The view of the house comes first: another one must show a good deal more.
        let score = if best.is_none() { 1.15 * score } else { score };
        if best.as_ref().is_none_or(|b| score > b.0) {
            best = Some((score, view, fresh));
        }
    }
    let Some((_, view, fresh)) = best else {
        return (View::oblique(left), 0.0);
    };
    let of = |w: usize| (0..mesh.walls[w].cells.len()).map(move |c| (w, c));
    let all: f64 = (0..mesh.walls.len()).flat_map(of).map(whole).sum();
    let share: f64 = fresh.iter().map(|w| whole(*w)).sum();
    seen.extend(fresh);
    seen.sort_unstable();
    (view, if all > 0.0 { share / all } else { 0.0 })
}

#[cfg(test)]
mod tests;
