//! Nested dissection: the graph is cut in two by as few unknowns as can be, which are eliminated
//! last; the halves likewise, until they are small.
//!
//! A cut starts as a level of a search that spreads from one edge of the part to the other, which
//! on a mesh is a straight front, and is then refined node by node. Sources: J. A. George, "Nested
//! dissection of a regular finite element mesh", SIAM J. Numer. Anal. 10 (1973) 345-363; J. A.
//! George, J. W. H. Liu, "An automatic nested dissection algorithm for irregular finite element
//! problems", SIAM J. Numer. Anal. 15 (1978) 1053-1069 (level structures).

use super::bundles::{Graph, NONE, narrow, wide};
use super::ordering::minimum_degree;
use super::separator::{Side, cost, refine};

/// Parts of no more nodes are ordered by minimum degree.
const SMALL: usize = 100;
/// Least share of a part on either side of a cut. Where a few unknowns tie far places together, as the
/// spread of a force does, cuts come out that peel off a corner: they save nothing, and hundreds of
/// them in a row take longer than the factor.
const LEAST_SIDE: f64 = 0.1;
/// Searches that a cut is chosen from.
const SEARCHES: usize = 4;

/// Order of elimination by nested dissection.
pub(super) fn order(graph: &Graph) -> Vec<u32> {
    let mut order = vec![NONE; graph.nodes()];
    let names: Vec<u32> = (0..graph.nodes()).map(narrow).collect();
    let mut waiting = vec![(graph.clone(), names, 0)];
    while let Some((part, names, place)) = waiting.pop() {
        let sides = (part.nodes() > SMALL).then(|| cut(&part));
        let Some(sides) = sides.filter(|sides| halves(sides)) else {
            let inner = minimum_degree(&part);
            for (slot, node) in order[place..].iter_mut().zip(inner) {
                *slot = names[wide(node)];
            }
            continue;
        };
        let mut end = place + part.nodes();
        for (node, _) in sides.iter().enumerate().filter(|(_, s)| **s == Side::Between) {
            end -= 1;
            order[end] = names[node];
        }
        let mut place = place;
        for side in [Side::One, Side::Other] {
            let (half, nodes) = of_side(&part, &sides, side);
            let count = nodes.len();
            waiting.push((half, nodes.iter().map(|&n| names[wide(n)]).collect(), place));
            place += count;
        }
    }
    order
}

/// Whether both sides of a cut have their share.
fn halves(sides: &[Side]) -> bool {
    let least = LEAST_SIDE * sides.len() as f64;
    [Side::One, Side::Other]
        .into_iter()
        .all(|side| sides.iter().filter(|s| **s == side).count() as f64 > least)
}

/// The nodes of one side, and which they were.
fn of_side(part: &Graph, sides: &[Side], side: Side) -> (Graph, Vec<u32>) {
    let nodes: Vec<u32> = (0..part.nodes()).filter(|&n| sides[n] == side).map(narrow).collect();
    let mut number = vec![NONE; part.nodes()];
    for (index, &node) in nodes.iter().enumerate() {
        number[wide(node)] = narrow(index);
    }
    let mut half = Graph { start: vec![0], ..Graph::default() };
    for &node in &nodes {
        let kept = part.neighbours(wide(node)).iter().map(|&other| number[wide(other)]);
        half.neighbour.extend(kept.filter(|&n| n != NONE));
        half.start.push(half.neighbour.len());
        half.weight.push(part.weight[wide(node)]);
    }
    (half, nodes)
}

/// Sides of the nodes of a part.
fn cut(part: &Graph) -> Vec<Side> {
    let total = part.total();
    let mut levels = Levels::new(part, &[0]);
    let mut best: Option<(f64, Vec<Side>)> = None;
    for search in 0..SEARCHES {
        // From the far edge back; half way through the searches, from one end of the best cut.
        let turned = (search == SEARCHES / 2).then(|| {
            let sides = &best.as_ref()?.1;
            sides.iter().position(|&s| s == Side::Between)
        });
        if let Some(end) = turned.flatten() {
            levels = Levels::new(part, &[narrow(end)]);
        }
        let far = levels.last().to_vec();
        levels = Levels::new(part, &far);
        let Some((found, level)) = levels.best_cut(part, total) else { continue };
        if best.as_ref().is_none_or(|(least, _)| found < *least) {
            best = Some((found, levels.sides(part, level)));
        }
    }
    let Some((_, mut sides)) = best else { return Vec::new() };
    refine(part, &mut sides);
    sides
}

/// Nodes by their distance from a set of nodes.
struct Levels {
    node: Vec<u32>,
    start: Vec<usize>,
}

impl Levels {
    /// Spreads from `from`; what isn't connected with it follows after, from its first node.
    fn new(part: &Graph, from: &[u32]) -> Self {
        let mut node = from.to_vec();
        let mut start = vec![0];
        let mut reached = vec![false; part.nodes()];
        for &first in from {
            reached[wide(first)] = true;
        }
        let mut next = 0;
        while node.len() > start[start.len() - 1] {
            let level = start[start.len() - 1]..node.len();
            start.push(node.len());
            for index in level {
                for &other in part.neighbours(wide(node[index])) {
                    if !std::mem::replace(&mut reached[wide(other)], true) {
                        node.push(other);
                    }
                }
            }
            if node.len() == start[start.len() - 1] {
                while next < part.nodes() && reached[next] {
                    next += 1;
                }
                if next < part.nodes() {
                    reached[next] = true;
                    node.push(narrow(next));
                }
            }
        }
        Levels { node, start }
    }

    fn count(&self) -> usize {
        self.start.len() - 1
    }

    fn level(&self, level: usize) -> &[u32] {
        &self.node[self.start[level]..self.start[level + 1]]
    }

    fn last(&self) -> &[u32] {
        self.level(self.count() - 1)
    }

    /// The level that cuts best with at most three quarters on one side, and the cost of the cut.
    fn best_cut(&self, part: &Graph, total: u64) -> Option<(f64, usize)> {
        let mut before = 0;
        let mut best: Option<(f64, usize)> = None;
        for level in 0..self.count() {
            let nodes = self.level(level).iter();
            let between: u64 = nodes.map(|&n| u64::from(part.weight[wide(n)])).sum();
            let after = total - before - between;
            let found = cost([before, after, between]);
            let even = 4 * Ord::max(before, after) <= 3 * total;
            if even && best.is_none_or(|(least, _)| found < least) {
                best = Some((found, level));
            }
            before += between;
        }
        best
    }

    fn sides(&self, part: &Graph, cut: usize) -> Vec<Side> {
        let mut sides = vec![Side::Other; part.nodes()];
        for &node in &self.node[..self.start[cut]] {
            sides[wide(node)] = Side::One;
        }
        for &node in self.level(cut) {
            sides[wide(node)] = Side::Between;
        }
        sides
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::linear::ordering::{Elimination, inverse};
    use crate::linear::samples::{grid, ring};

    #[test]
    fn an_order_names_every_node_once_even_of_a_graph_in_pieces() {
        let mut graph = grid(40, 30);
        for piece in [grid(17, 17), grid(1, 1), grid(200, 1)] {
            let shift = narrow(graph.nodes());
            let ties = graph.neighbour.len();
            graph.start.extend(piece.start[1..].iter().map(|s| s + ties));
            graph.neighbour.extend(piece.neighbour.iter().map(|n| n + shift));
            graph.weight.extend(piece.weight);
        }
        let found = order(&graph);
        assert_eq!(found.len(), graph.nodes());
        assert!(inverse(&found).is_some());
        assert_eq!(found, order(&graph));
    }

    // George (1973): 31 n^2 log2 n / 4 entries for dissection of an n x n grid of elements, far
    // below the n^3 of elimination row by row.
    #[test]
    fn a_square_grid_fills_as_nested_dissection_should() {
        let n = 63;
        let elimination = Elimination::new(&grid(n, n), order(&grid(n, n)));
        let fill: f64 = elimination.count.iter().map(|&c| f64::from(c)).sum();
        let bound = 31.0 / 4.0 * (n * n) as f64 * (n as f64).log2();
        assert!(fill < bound, "{fill} against {bound}");
    }

    #[test]
    fn the_order_read_backwards_fills_far_more() {
        let graph = grid(50, 50);
        let found = order(&graph);
        let right = Elimination::new(&graph, found.clone()).flops;
        let wrong = Elimination::new(&graph, inverse(&found).unwrap()).flops;
        assert!(wrong > 5.0 * right, "{wrong} against {right}");
    }

    // A tube of 24 nodes around: two rings across cut it, 48 nodes, whatever its length.
    #[test]
    fn a_tube_is_cut_across() {
        let graph = ring(24, 120);
        let sides = cut(&graph);
        let between = sides.iter().filter(|s| **s == Side::Between).count();
        assert!(between <= 26, "{between}");
        for node in 0..graph.nodes() {
            if sides[node] == Side::One {
                assert!(graph.neighbours(node).iter().all(|&o| sides[wide(o)] != Side::Other));
            }
        }
    }
}
