//! The size that elements should have at every place of a plate.

use super::arrangement::{Arrangement, named};
use super::check::is_size;
use super::curve::{Role, doubled_area, middle, turns};
use super::outline::{Outline, Sizing};
use super::plane::{Piece, Point, add, apart, sub};
use fishplate_quantity::Fault;
use fishplate_quantity::algebra::{larger, smaller};
use std::collections::BTreeMap;
use std::f64::consts::TAU;

/// Where a size is asked for.
#[derive(Debug, Clone)]
enum Place {
    Point(Point),
    Piece(Piece),
}

/// Sizes asked for at places, growing with the distance from them.
#[derive(Debug)]
pub(super) struct SizeField {
    target: f64,
    floor: f64,
    /// Growth of the size per distance.
    slope: f64,
    sources: Vec<(Place, f64)>,
    /// For every square cell the sources that reach into it.
    cells: BTreeMap<[i64; 2], Vec<usize>>,
    /// Side of a cell.
    cell: f64,
}

/// Elements across a narrow place: one and a third, rounded up when the place is divided.
const ACROSS: f64 = 0.75;
/// How far below the least size narrow places may go.
const NARROWEST: f64 = 0.25;

impl SizeField {
    /// Length of element edges at `p`, m.
    pub(super) fn at(&self, p: Point) -> f64 {
        let mut size = self.target;
        let near = self.cells.get(&self.cell_of(p)).map_or(&[][..], Vec::as_slice);
        for (place, there) in near.iter().map(|&i| &self.sources[i]) {
            if *there >= size {
                continue;
            }
            let away = match place {
                Place::Point(q) => apart(p, *q),
                Place::Piece(piece) => piece.nearest(p).0,
            };
            size = smaller(size, there + self.slope * away);
        }
        larger(size, self.floor)
    }

    /// Above all sizes, m.
    pub(super) fn largest(&self) -> f64 {
        larger(self.target, self.floor)
    }

    /// Sizes from the places of the sizing alone, over a length from the origin.
    pub(super) fn plain(sizing: &Sizing, length: f64) -> Self {
        let mut field = Self {
            target: sizing.target,
            floor: NARROWEST * sizing.least,
            // A row of this growth is as long as its size: d(ln size) is the same for every element.
            slope: sizing.growth.ln(),
            sources: Vec::new(),
            cells: BTreeMap::new(),
            cell: 1.0,
        };
        for finer in &sizing.finer {
            let place = if is_size(apart(finer.from, finer.to)) {
                Place::Piece(Piece::Segment { a: finer.from, b: finer.to })
            } else {
                Place::Point(finer.from)
            };
            field.ask(place, larger(finer.size, sizing.least));
        }
        field.settle(length);
        field
    }

    /// Sorts the sources into cells. `extent` keeps the cells few.
    fn settle(&mut self, extent: f64) {
        let reach = |size: f64| (self.target - size) / self.slope;
        let farthest = self.sources.iter().fold(0.0, |top, s| larger(top, reach(s.1)));
        self.cell = larger(farthest, extent / 64.0);
        self.cells.clear();
        for (i, (place, size)) in self.sources.iter().enumerate() {
            let [low, high] = match place {
                Place::Point(p) => [*p, *p],
                Place::Piece(piece) => piece.bounds(),
            };
            let far = [reach(*size); 2];
            let [from, to] = [self.cell_of(sub(low, far)), self.cell_of(add(high, far))];
            for x in from[0]..=to[0] {
                for y in from[1]..=to[1] {
                    self.cells.entry([x, y]).or_default().push(i);
                }
            }
        }
    }

    fn cell_of(&self, p: Point) -> [i64; 2] {
        p.map(|x| (x / self.cell).floor() as i64)
    }

    /// Sizes from all that asks for them. Faults where the plate is narrower than elements can
    /// be.
    pub(super) fn new(
        outline: &Outline,
        sizing: &Sizing,
        plan: &Arrangement,
        extent: f64,
    ) -> Result<Self, Vec<Fault>> {
        let mut field = Self::plain(sizing, extent);
        if let Some(size) = sizing.at_reentrant_corners {
            field.corners(plan, larger(size, sizing.least));
        }
        if let Some(size) = sizing.at_line_ends {
            for line in &outline.lines {
                for end in [line.points.first(), line.points.last()].into_iter().flatten() {
                    field.ask(Place::Point(*end), larger(size, sizing.least));
                }
            }
        }
        field.arcs(sizing, plan);
        field.chains(plan);
        let mut faults = plan.wedges();
        faults.extend(field.gaps(plan));
        field.settle(extent);
        if faults.is_empty() { Ok(field) } else { Err(faults) }
    }

    fn ask(&mut self, place: Place, size: f64) {
        if size < self.target {
            self.sources.push((place, size));
        }
    }

    /// Corners at which material takes more than half a turn.
    fn corners(&mut self, plan: &Arrangement, size: f64) {
        let edges: Vec<_> = plan.curves.iter().filter(|c| c.role == Role::Edge).cloned().collect();
        let way = doubled_area(edges.iter().flat_map(|c| &c.pieces)).signum();
        for (corner, angle) in turns(&edges) {
            if angle * way < -0.1 {
                self.ask(Place::Point(corner), size);
            }
        }
    }

    /// Arcs, by the number of edges in a full turn.
    fn arcs(&mut self, sizing: &Sizing, plan: &Arrangement) {
        for part in &plan.parts {
            if let Piece::Arc { radius, .. } = part.piece {
                let edges = u32::try_from(sizing.around_holes).unwrap_or(u32::MAX);
                let size = TAU * radius / f64::from(edges);
                self.ask(Place::Piece(part.piece), larger(size, self.floor));
            }
        }
    }

    /// Chains shorter than two elements, and nodes given beforehand.
    fn chains(&mut self, plan: &Arrangement) {
        for chain in &plan.chains {
            let parts = || chain.parts.iter().map(|&(p, _)| &plan.parts[p].piece);
            if chain.prescribed {
                for piece in parts() {
                    self.ask(Place::Piece(*piece), piece.length());
                }
                continue;
            }
            let half = 0.5 * parts().map(Piece::length).sum::<f64>();
            if half < self.target {
                for piece in parts() {
                    self.ask(Place::Piece(*piece), half);
                }
            }
        }
    }

    /// Places between curves that are narrower than elements would be.
    fn gaps(&mut self, plan: &Arrangement) -> Vec<Fault> {
        let mut faults = Vec::new();
        for chain in plan.chains.iter().filter(|chain| !chain.prescribed) {
            let length: f64 = chain.parts.iter().map(|&(p, _)| plan.parts[p].piece.length()).sum();
            if length < self.floor {
                let part = &plan.parts[chain.parts[0].0];
                let [a, b] = part.piece.ends();
                let mid = middle(a, b);
                faults.push(Fault::new(
                    named(&plan.curves[part.curves[0]]),
                    format!(
                        "{:.3} mm between two places that need a node, at ({}, {}) m",
                        1e3 * length,
                        mid[0],
                        mid[1]
                    ),
                    format!("at least {:.3} mm, a quarter of the least size", 1e3 * self.floor),
                    "let the two places coincide, move them apart, or allow a smaller least size",
                ));
            }
        }
        let mut told: Vec<[usize; 2]> = Vec::new();
        for (i, part) in plan.parts.iter().enumerate() {
            let chain = plan.chain_of[i];
            let steps = (2.0 * part.piece.length() / self.target).ceil().clamp(2.0, 1000.0);
            for step in 0..steps as usize {
                let p = part.piece.at((step as f64 + 0.5) / steps);
                let Some((size, other, width)) = self.narrowest(plan, chain, p) else { continue };
                let (width, at) = match width {
                    Some(width) if width < 4.0 * self.floor => {
                        nearest(&part.piece, &plan.parts[other].piece, width, p)
                    }
                    _ => (f64::INFINITY, p),
                };
                if width < self.floor {
                    let pair = [part.curves[0], plan.parts[other].curves[0]];
                    if !told.contains(&pair) && !told.contains(&[pair[1], pair[0]]) {
                        told.push(pair);
                        faults.push(self.sliver(plan, pair, width, at));
                    }
                }
                self.ask(Place::Point(p), larger(size, self.floor));
            }
        }
        faults
    }

    fn sliver(&self, plan: &Arrangement, [one, two]: [usize; 2], width: f64, p: Point) -> Fault {
        Fault::new(
            named(&plan.curves[one]),
            format!(
                "{:.3} mm of material to {} at ({}, {}) m",
                1e3 * width,
                named(&plan.curves[two]),
                p[0],
                p[1]
            ),
            format!("at least {:.3} mm, a quarter of the least size", 1e3 * self.floor),
            "close the gap, widen it, or allow a smaller least size",
        )
    }

    /// The size that the part nearest to `p` of chain `own` across material asks for, if it is
    /// below the target; that part; and the width, if the two share no corner.
    fn narrowest(
        &self,
        plan: &Arrangement,
        own: usize,
        p: Point,
    ) -> Option<(f64, usize, Option<f64>)> {
        let mut found: Option<(f64, usize, Option<f64>)> = None;
        for (k, part) in plan.parts.iter().enumerate() {
            let chain = plan.chain_of[k];
            if chain == own {
                continue;
            }
            let (width, t) = part.piece.nearest(p);
            let mut size = ACROSS * width;
            let mut told = Some(width);
            if let Some(corner) = plan.shared_corner(own, chain) {
                // Only sharp wedges are narrow; they are as long as they are.
                let from_corner = apart(p, corner);
                if width > 0.5 * from_corner {
                    continue;
                }
                size = larger(size, 0.3 * from_corner);
                told = None;
            }
            let best = found.map_or(self.target, |(size, _, _)| size);
            if size < best && plan.material_at(middle(p, part.piece.at(t))) {
                found = Some((size, k, told));
            }
        }
        found
    }
}

/// Least width between two pieces and where it starts, from the width at `p` of the first on, by
/// going to and fro.
fn nearest(one: &Piece, two: &Piece, mut width: f64, mut p: Point) -> (f64, Point) {
    for _ in 0..500 {
        let q = two.at(two.nearest(p).1);
        let (less, t) = one.nearest(q);
        if less > width * (1.0 - 1e-6) {
            break;
        }
        (width, p) = (less, one.at(t));
    }
    (width, p)
}
