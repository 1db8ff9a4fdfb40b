//! Chains divided into element edges.

use super::arrangement::{Arrangement, Chain};
use super::outline::Sizing;
use super::plane::{Piece, Point, apart};
use super::ruler::Ruler;
use super::size::SizeField;
use fishplate_quantity::algebra::{larger, smaller};
use std::collections::BTreeMap;
use std::f64::consts::TAU;

/// A side of the large triangles from which elements are made: two element edges, or one.
#[derive(Debug, Clone, Copy)]
pub(super) struct Side {
    /// Its end nodes.
    pub(super) ends: [usize; 2],
    /// The node between them; `None` where nodes given beforehand leave an odd edge.
    pub(super) middle: Option<usize>,
    pub(super) chain: usize,
}

/// Nodes on all curves.
#[derive(Debug)]
pub(super) struct Divided {
    pub(super) nodes: Vec<Point>,
    /// Node at each vertex of the plan that stands on a chain or is a point of its own.
    pub(super) node_at: Vec<Option<usize>>,
    /// Nodes of each chain in order.
    pub(super) along: Vec<Vec<usize>>,
    pub(super) sides: Vec<Side>,
    /// Node of each imprinted point.
    pub(super) spots: Vec<usize>,
}

impl Divided {
    /// Nodes that are corners of large triangles, each once.
    pub(super) fn corners(&self) -> Vec<usize> {
        let mut corners: Vec<usize> = self.sides.iter().flat_map(|side| side.ends).collect();
        corners.extend(&self.spots);
        corners.sort_unstable();
        corners.dedup();
        corners
    }

    /// The node in the middle of every side, by its ends in rising order; `None` for whole ones.
    pub(super) fn middles(&self) -> BTreeMap<[usize; 2], Option<usize>> {
        self.sides.iter().map(|side| (sorted(side.ends), side.middle)).collect()
    }
}

/// A side by its ends in rising order.
pub(super) fn sorted([a, b]: [usize; 2]) -> [usize; 2] {
    [a.min(b), a.max(b)]
}

/// More element edges on curves than elements are allowed.
#[derive(Debug)]
pub(super) struct TooMany;

/// Nodes on all chains by size.
pub(super) fn divide(
    plan: &Arrangement,
    sizing: &Sizing,
    field: &SizeField,
) -> Result<Divided, TooMany> {
    let mut out = Divided {
        nodes: Vec::new(),
        node_at: vec![None; plan.vertices.len()],
        along: Vec::new(),
        sides: Vec::new(),
        spots: Vec::new(),
    };
    let mut ways = Vec::new();
    let mut left = 16 * sizing.most_elements;
    for chain in &plan.chains {
        let way = Way::new(plan, chain);
        let length = if chain.prescribed { 0.0 } else { way.length() };
        let ruler = Ruler::new(length, |s| field.at(way.at(s)), &mut left)?;
        ways.push((way, ruler));
    }
    let counts = counts(plan, sizing, &ways);
    for (c, chain) in plan.chains.iter().enumerate() {
        let ends = chain_vertices(plan, chain);
        let nodes = if chain.prescribed {
            ends.iter().map(|&v| out.at_vertex(plan, v)).collect()
        } else {
            let (way, ruler) = &ways[c];
            let mut nodes = vec![out.at_vertex(plan, ends[0])];
            for s in ruler.between(2 * counts[c]) {
                nodes.push(out.node(way.at(s)));
            }
            nodes.push(out.at_vertex(plan, ends[ends.len() - 1]));
            nodes
        };
        out.sides(c, &nodes);
        out.along.push(nodes);
        if out.nodes.len() > 2 * sizing.most_elements {
            return Err(TooMany);
        }
    }
    for &spot in &plan.spots {
        let node = out.at_vertex(plan, spot);
        out.spots.push(node);
    }
    Ok(out)
}

impl Divided {
    fn node(&mut self, p: Point) -> usize {
        self.nodes.push(p);
        self.nodes.len() - 1
    }

    fn at_vertex(&mut self, plan: &Arrangement, v: usize) -> usize {
        if let Some(node) = self.node_at[v] {
            return node;
        }
        let node = self.node(plan.vertices[v]);
        self.node_at[v] = Some(node);
        node
    }

    /// Nodes of a chain taken in pairs of edges. Of an odd number the longest possible edge is
    /// left single.
    fn sides(&mut self, chain: usize, nodes: &[usize]) {
        let edges = nodes.len() - 1;
        let length = |k: usize| apart(self.nodes[nodes[k]], self.nodes[nodes[k + 1]]);
        let single = (edges % 2 == 1).then(|| {
            (0..edges).step_by(2).fold(0, |best, k| if length(k) > length(best) { k } else { best })
        });
        let mut k = 0;
        while k < edges {
            if single == Some(k) {
                self.sides.push(Side { ends: [nodes[k], nodes[k + 1]], middle: None, chain });
                k += 1;
            } else {
                self.sides.push(Side {
                    ends: [nodes[k], nodes[k + 2]],
                    middle: Some(nodes[k + 1]),
                    chain,
                });
                k += 2;
            }
        }
    }
}

/// Vertices of a chain in order.
fn chain_vertices(plan: &Arrangement, chain: &Chain) -> Vec<usize> {
    let mut vertices = Vec::new();
    for &(part, back) in &chain.parts {
        let [a, b] = plan.parts[part].vertices;
        let [from, to] = if back { [b, a] } else { [a, b] };
        if vertices.is_empty() {
            vertices.push(from);
        }
        vertices.push(to);
    }
    vertices
}

/// The pieces of a chain as they are gone along, with the distance of each one's start.
struct Way {
    pieces: Vec<(f64, Piece, bool)>,
    length: f64,
}

impl Way {
    fn new(plan: &Arrangement, chain: &Chain) -> Self {
        let mut way = Self { pieces: Vec::new(), length: 0.0 };
        for &(part, back) in &chain.parts {
            let piece = plan.parts[part].piece;
            way.pieces.push((way.length, piece, back));
            way.length += piece.length();
        }
        way
    }

    fn length(&self) -> f64 {
        self.length
    }

    fn at(&self, s: f64) -> Point {
        let next = self.pieces.partition_point(|piece| piece.0 <= s);
        let (start, piece, back) = self.pieces[next.saturating_sub(1)];
        let t = ((s - start) / piece.length()).clamp(0.0, 1.0);
        piece.at(if back { 1.0 - t } else { t })
    }
}

/// Counts pairs of edges for every chain that is divided by size.
fn counts(plan: &Arrangement, sizing: &Sizing, ways: &[(Way, Ruler)]) -> Vec<usize> {
    let around = sizing.around_holes.div_ceil(2);
    let mut counts: Vec<usize> = ways
        .iter()
        .zip(&plan.chains)
        .map(|((_, ruler), chain)| {
            let turn: f64 = chain.parts.iter().map(|&(p, _)| sweep(&plan.parts[p].piece)).sum();
            let by_turn = (turn / TAU * around as f64 - 1e-6).ceil() as usize;
            ruler.pairs().max(by_turn)
        })
        .collect();
    // Whole circles have their quarters alike, and rings about one centre match.
    let whole: Vec<(usize, Point, f64)> = plan
        .chains
        .iter()
        .enumerate()
        .filter_map(|(c, chain)| {
            whole_circle(plan, chain).map(|(centre, radius)| (c, centre, radius))
        })
        .collect();
    for &(c, ..) in &whole {
        counts[c] = counts[c].next_multiple_of(4);
    }
    let own = counts.clone();
    for &(c, centre, radius) in &whole {
        for &(d, other, its_radius) in &whole {
            let ratio = larger(radius, its_radius) / smaller(radius, its_radius);
            if apart(centre, other) <= plan.near && ratio <= MATCHING {
                counts[c] = counts[c].max(own[d]);
            }
        }
    }
    counts
}

/// Rings about one centre up to this ratio of their radii have equally many edges.
const MATCHING: f64 = 2.5;

fn sweep(piece: &Piece) -> f64 {
    match piece {
        Piece::Segment { .. } => 0.0,
        Piece::Arc { sweep, .. } => sweep.abs(),
    }
}

fn whole_circle(plan: &Arrangement, chain: &Chain) -> Option<(Point, f64)> {
    let vertices = chain_vertices(plan, chain);
    if vertices.first() != vertices.last() {
        return None;
    }
    let Piece::Arc { centre, radius, .. } = plan.parts[chain.parts[0].0].piece else { return None };
    let alike = chain.parts.iter().all(|&(p, _)| {
        matches!(plan.parts[p].piece, Piece::Arc { centre: c, .. } if apart(c, centre) <= plan.near)
    });
    alike.then_some((centre, radius))
}
