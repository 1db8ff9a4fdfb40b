//! Chains divided into element edges.

use super::arrangement::{Arrangement, Chain};
use super::outline::Sizing;
use super::plane::{Piece, Point, apart};
use super::size::SizeField;
use fishplate_quantity::algebra::{larger, smaller};
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
    let mut rulers = Vec::new();
    let mut left = 16 * sizing.most_elements;
    for chain in &plan.chains {
        rulers.push(if chain.prescribed {
            Ruler::default()
        } else {
            Ruler::new(plan, chain, field, &mut left)?
        });
    }
    let counts = counts(plan, sizing, &rulers);
    for (c, chain) in plan.chains.iter().enumerate() {
        let ends = chain_vertices(plan, chain);
        let nodes = if chain.prescribed {
            ends.iter().map(|&v| out.at_vertex(plan, v)).collect()
        } else {
            let edges = 2 * counts[c];
            let mut nodes = vec![out.at_vertex(plan, ends[0])];
            for k in 1..edges {
                let share = k as f64 / edges as f64;
                nodes.push(out.node(rulers[c].point(plan, chain, share)));
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

/// Counts pairs of edges for every chain that is divided by size.
fn counts(plan: &Arrangement, sizing: &Sizing, rulers: &[Ruler]) -> Vec<usize> {
    let around = sizing.around_holes.div_ceil(2);
    let mut counts: Vec<usize> = rulers
        .iter()
        .zip(&plan.chains)
        .map(|(ruler, chain)| {
            // A tenth of a pair is made up by the others.
            let by_size = (ruler.edges() / 2.0 - 0.1).ceil().clamp(1.0, 1e9) as usize;
            let turn: f64 = chain.parts.iter().map(|&(p, _)| sweep(&plan.parts[p].piece)).sum();
            let by_turn = (turn / TAU * around as f64 - 1e-6).ceil() as usize;
            by_size.max(by_turn)
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

/// A chain measured in elements.
#[derive(Debug, Default)]
struct Ruler {
    /// Elements from the start, place among the parts, place on the part: rising.
    marks: Vec<(f64, usize, f64)>,
}

impl Ruler {
    fn new(
        plan: &Arrangement,
        chain: &Chain,
        field: &SizeField,
        left: &mut usize,
    ) -> Result<Self, TooMany> {
        let mut marks = Vec::new();
        let mut elements = 0.0;
        for (k, &(part, back)) in chain.parts.iter().enumerate() {
            let piece = &plan.parts[part].piece;
            let on = |t: f64| piece.at(if back { 1.0 - t } else { t });
            let length = piece.length();
            let mut t = 0.0;
            let mut size = field.at(on(0.0));
            marks.push((elements, k, 0.0));
            while t < 1.0 {
                *left = left.checked_sub(1).ok_or(TooMany)?;
                let next = smaller(1.0, t + 0.25 * size / length);
                let size_there = field.at(on(next));
                elements += 0.5 * (next - t) * length * (1.0 / size + 1.0 / size_there);
                marks.push((elements, k, next));
                (t, size) = (next, size_there);
            }
        }
        Ok(Self { marks })
    }

    /// How many elements there should be, a fraction included.
    fn edges(&self) -> f64 {
        self.marks.last().map_or(0.0, |mark| mark.0)
    }

    /// The point that has a share of the elements before it.
    fn point(&self, plan: &Arrangement, chain: &Chain, share: f64) -> Point {
        let sought = share * self.edges();
        let after =
            self.marks.partition_point(|mark| mark.0 < sought).clamp(1, self.marks.len() - 1);
        let ((e0, _, t0), (e1, k, t1)) = (self.marks[after - 1], self.marks[after]);
        // The first mark of a part stands where the last one of the part before does.
        let t0 = if self.marks[after - 1].1 == k { t0 } else { 0.0 };
        let t = if e1 > e0 { t0 + (t1 - t0) * (sought - e0) / (e1 - e0) } else { t1 };
        let (part, back) = chain.parts[k];
        plan.parts[part].piece.at(if back { 1.0 - t } else { t })
    }
}
