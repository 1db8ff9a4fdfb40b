//! Edges of cells as lines, where they show: where a wall ends or turns, and the lattice between.

use std::collections::BTreeMap;

use super::super::geometry::{Space, dot, edges, normal, unit};
use super::super::writer::Figure;
use super::region::{self, Place};
use super::{Mesh, Surface};

/// A wall turns where its cells lean by more than 30° against each other: cosine.
const TURN: f64 = 0.866;
/// Below this mean length of an edge, drawing units, a lattice would be grey.
const LEAST_EDGE: f64 = 3.2;

/// Which edges.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// At which a wall ends or turns.
    Outline,
    /// All others.
    Lattice,
}

/// Draws edges of a kind.
pub(super) fn draw(figure: &mut Figure, surface: &Surface<'_>, kind: Kind, class: &str) {
    let chosen = of(surface.mesh, surface.nodes, kind);
    if kind == Kind::Lattice && !roomy(surface, &chosen) {
        return;
    }
    let mut seen: Vec<(Place, Place)> = Vec::new();
    for (a, b) in chosen {
        let (from, to) = (surface.nodes[a], surface.nodes[b]);
        // A long edge may show in part.
        let size = super::super::geometry::length(super::super::geometry::minus(to, from))
            * surface.sheet.scale;
        // An edge of a cell is a few units long.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let pieces = (size / 6.0).ceil().clamp(1.0, 64.0) as u32;
        for k in 0..pieces {
            let at = |t: f64| -> Space {
                let t = (f64::from(k) + t) / f64::from(pieces);
                std::array::from_fn(|i| from[i] + t * (to[i] - from[i]))
            };
            let shown = [0.2, 0.5, 0.8].into_iter().filter(|t| surface.shows(at(*t))).count();
            let ends = [at(0.0), at(1.0)].map(|p| region::place(surface.sheet.at(p)));
            if shown >= 2 && ends[0] != ends[1] {
                seen.push((ends[0], ends[1]));
            }
        }
    }
    let mut d = String::new();
    for chain in chains(&seen) {
        region::write(&mut d, &chain, false);
    }
    if let (Some(low), Some(high)) = (corner(&seen, true), corner(&seen, false)) {
        figure.path(&d, low, high, class);
    }
}

/// Edges of a kind, by the places of their nodes, each once.
fn of(mesh: &Mesh, nodes: &[Space], kind: Kind) -> Vec<(usize, usize)> {
    let mut ends: BTreeMap<(usize, usize), bool> = BTreeMap::new();
    for wall in &mesh.walls {
        let mut sides: BTreeMap<(usize, usize), Vec<Space>> = BTreeMap::new();
        for cell in &wall.cells {
            let places: Vec<Space> = cell.nodes.iter().map(|n| nodes[*n]).collect();
            let normal = unit(normal(&places)).unwrap_or_default();
            for (a, b) in edges(&cell.nodes) {
                sides.entry((a.min(b), a.max(b))).or_default().push(normal);
            }
        }
        for (edge, normals) in sides {
            let goes_on = match normals.as_slice() {
                // Cells of one wall need not turn the same way.
                [a, b] => dot(*a, *b).abs() > TURN,
                _ => false,
            };
            // An edge of two walls ends one of them.
            *ends.entry(edge).or_default() |= !goes_on;
        }
    }
    let wanted = kind == Kind::Outline;
    let chosen = ends.into_iter().filter(|(edge, end)| *end == wanted && !mesh.cut.contains(edge));
    chosen.map(|(edge, _)| edge).collect()
}

fn roomy(surface: &Surface<'_>, chosen: &[(usize, usize)]) -> bool {
    let mut sum = 0.0;
    for (a, b) in chosen {
        let [p, q] = [*a, *b].map(|n| surface.sheet.at(surface.nodes[n]));
        sum += (p[0] - q[0]).hypot(p[1] - q[1]);
    }
    // A mesh has some thousand edges.
    #[allow(clippy::cast_precision_loss)]
    let count = chosen.len() as f64;
    sum > LEAST_EDGE * count
}

/// Segments end to end, so that each place is written once.
fn chains(segments: &[(Place, Place)]) -> Vec<Vec<Place>> {
    let mut at: BTreeMap<Place, Vec<usize>> = BTreeMap::new();
    for (index, (a, b)) in segments.iter().enumerate() {
        at.entry(*a).or_default().push(index);
        at.entry(*b).or_default().push(index);
    }
    let mut used = vec![false; segments.len()];
    // From an end straight on, as far as it goes.
    let follow = |start: Place, used: &mut Vec<bool>| {
        let mut chain = vec![start];
        let mut way: Option<(f64, f64)> = None;
        loop {
            let here = chain[chain.len() - 1];
            let other = |index: usize| {
                let (a, b) = segments[index];
                if a == here { b } else { a }
            };
            let turn = |index: usize| {
                let next = other(index);
                let (dx, dy) = (f64::from(next.0 - here.0), f64::from(next.1 - here.1));
                let size = dx.hypot(dy);
                way.map_or(0.0, |(x, y)| -(x * dx + y * dy) / size)
            };
            let next = at[&here]
                .iter()
                .copied()
                .filter(|i| !used[*i])
                .min_by(|a, b| turn(*a).total_cmp(&turn(*b)));
            let Some(index) = next else { return chain };
            used[index] = true;
            let next = other(index);
            let (dx, dy) = (f64::from(next.0 - here.0), f64::from(next.1 - here.1));
            way = Some((dx / dx.hypot(dy), dy / dx.hypot(dy)));
            chain.push(next);
        }
    };
    let mut out = Vec::new();
    let odd = at.iter().filter(|(_, s)| s.len() % 2 == 1).map(|(p, _)| *p);
    let starts: Vec<Place> = odd.chain(segments.iter().map(|s| s.0)).collect();
    for start in starts {
        loop {
            let chain = follow(start, &mut used);
            if chain.len() < 2 {
                break;
            }
            out.push(chain);
        }
    }
    out
}

/// The upper left or lower right corner of all segments.
fn corner(segments: &[(Place, Place)], low: bool) -> Option<[f64; 2]> {
    let places = || segments.iter().flat_map(|(a, b)| [*a, *b]);
    let pick = |mut c: Vec<i32>| {
        c.sort_unstable();
        if low { c.first().copied() } else { c.last().copied() }
    };
    let x = pick(places().map(|p| p.0).collect())?;
    let y = pick(places().map(|p| p.1).collect())?;
    Some([f64::from(x) / 10.0, f64::from(y) / 10.0])
}
