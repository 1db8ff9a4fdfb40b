//! Orders of elimination: minimum degree and nested dissection, and their fill.

use super::bundles::{Graph, NONE, narrow, wide};
use super::{degree, dissection};
use faer::dyn_stack::{MemBuffer, MemStack};
use faer::sparse::SymbolicSparseColMatRef;
use faer::sparse::linalg::amd;

/// An order of elimination in post-order of its tree, with what it costs.
#[derive(Clone, Debug)]
pub(super) struct Elimination {
    /// Nodes of the graph in the order in which they are eliminated.
    pub(super) order: Vec<u32>,
    /// Parent of each step in the elimination tree, a later step; [`NONE`] at a root.
    pub(super) parent: Vec<u32>,
    /// Unknowns in the column of each step, its own node included.
    pub(super) count: Vec<u32>,
    /// Multiplications and additions of the numeric factorisation: squares of the lengths of all
    /// columns.
    pub(super) flops: f64,
}

/// Fronts of an order by minimum degree that are no longer than so many times the root of the
/// number of nodes leave nothing to gain: plane meshes do with 1.5 to 2, and dissection saves a
/// few percent of the operations there; tubes and solid lattices need 3 and more, and it saves a
/// fifth to a half. By the bundles' mean weight; measured on brackets, tubes and lattices.
const LONG_FRONT: f64 = 2.3;

/// Operations of the factor, by node of the graph, that dissection isn't tried below: it takes as
/// long as some ten thousand of them.
const WORTH_DISSECTING: f64 = 5e4;

/// Nodes in a good order of elimination; each group lists nodes that an element couples.
pub(crate) fn order_of_elimination(nodes: usize, groups: &[impl AsRef<[usize]>]) -> Vec<usize> {
    if nodes == 0 {
        return Vec::new();
    }
    best(&Graph::of_groups(nodes, groups)).order.into_iter().map(wide).collect()
}

/// The cheaper of minimum degree and nested dissection by exact count. Dissection isn't tried
/// where minimum degree does as well as can be expected, or where all costs little.
pub(super) fn best(graph: &Graph) -> Elimination {
    let alike = graph.weight.windows(2).all(|w| w[0] == w[1]);
    let order = if alike { minimum_degree(graph) } else { degree::order(graph) };
    let degree = Elimination::new(graph, order);
    let longest = degree.count.iter().copied().fold(0, Ord::max);
    let mean = graph.total() as f64 / graph.nodes() as f64;
    let long = f64::from(longest) > LONG_FRONT * mean * (graph.nodes() as f64).sqrt();
    let large = degree.flops > WORTH_DISSECTING * graph.nodes() as f64;
    let halves = (long && large).then(|| Elimination::new(graph, dissection::order(graph)));
    match halves {
        Some(halves) if halves.flops < degree.flops => halves,
        _ => degree,
    }
}

/// Approximate minimum degree where all nodes weigh the same.
pub(super) fn minimum_degree(graph: &Graph) -> Vec<u32> {
    let nodes = graph.nodes();
    let start: Vec<u32> = graph.start.iter().map(|&s| narrow(s)).collect();
    let mut order = vec![0_u32; nodes];
    let mut position = vec![0_u32; nodes];
    let matrix = SymbolicSparseColMatRef::new_checked(nodes, nodes, &start, None, &graph.neighbour);
    let mut memory = MemBuffer::new(amd::order_scratch::<u32>(nodes, graph.neighbour.len()));
    amd::order(
        &mut order,
        &mut position,
        matrix,
        amd::Control::default(),
        MemStack::new(&mut memory),
    )
    .expect("the order fails only when indices overflow");
    order
}

impl Elimination {
    /// Tree and counts of an order; equivalent orders are brought into post-order.
    ///
    /// # Panics
    /// When `order` isn't a permutation of the nodes.
    pub(super) fn new(graph: &Graph, order: Vec<u32>) -> Self {
        let position = inverse(&order).expect("an order of elimination names every node once");
        let parent = tree(graph, &order, &position);
        let post = postorder(&parent);
        let order: Vec<u32> = post.iter().map(|&step| order[wide(step)]).collect();
        let moved = inverse(&post).expect("a post-order names every step once");
        let parent: Vec<u32> = post
            .iter()
            .map(|&step| match parent[wide(step)] {
                NONE => NONE,
                parent => moved[wide(parent)],
            })
            .collect();
        let count = counts(graph, &order, &parent);
        let mut flops = 0.0;
        for (&node, &count) in order.iter().zip(&count) {
            for column in 0..graph.weight[wide(node)] {
                flops += f64::from(count - column) * f64::from(count - column);
            }
        }
        Elimination { order, parent, count, flops }
    }
}

/// Inverse of a permutation; `None` when it isn't one.
pub(super) fn inverse(order: &[u32]) -> Option<Vec<u32>> {
    let mut position = vec![NONE; order.len()];
    for (step, &node) in order.iter().enumerate() {
        let place = position.get_mut(wide(node))?;
        if *place != NONE {
            return None;
        }
        *place = narrow(step);
    }
    Some(position)
}

/// Elimination tree. Source: J. W. H. Liu, "The role of elimination trees in sparse
/// factorization", SIAM J. Matrix Anal. Appl. 11 (1990) 134-172, algorithm 4.2.
fn tree(graph: &Graph, order: &[u32], position: &[u32]) -> Vec<u32> {
    let mut parent = vec![NONE; order.len()];
    let mut ancestor = vec![NONE; order.len()];
    for (step, &node) in order.iter().enumerate() {
        let step = narrow(step);
        for &other in graph.neighbours(wide(node)) {
            let mut below = position[wide(other)];
            if below >= step {
                continue;
            }
            while ancestor[wide(below)] != step {
                let next = std::mem::replace(&mut ancestor[wide(below)], step);
                if next == NONE {
                    parent[wide(below)] = step;
                    break;
                }
                below = next;
            }
        }
    }
    parent
}

/// Steps of a forest in post-order: children in ascending order, each before its parent.
pub(super) fn postorder(parent: &[u32]) -> Vec<u32> {
    let mut first_child = vec![NONE; parent.len()];
    let mut next_sibling = vec![NONE; parent.len()];
    let mut roots = Vec::new();
    for step in (0..parent.len()).rev() {
        match parent[step] {
            NONE => roots.push(narrow(step)),
            parent => {
                next_sibling[step] = first_child[wide(parent)];
                first_child[wide(parent)] = narrow(step);
            }
        }
    }
    let mut post = Vec::with_capacity(parent.len());
    let mut path = roots;
    while let Some(&step) = path.last() {
        let child = first_child[wide(step)];
        if child == NONE {
            post.push(step);
            path.pop();
        } else {
            first_child[wide(step)] = next_sibling[wide(child)];
            path.push(child);
        }
    }
    post
}

/// Unknowns in the column of each step of a post-ordered elimination. Source: J. R. Gilbert, E. G.
/// Ng, B. W. Peyton, "An efficient algorithm to compute row and column counts for sparse Cholesky
/// factorization", SIAM J. Matrix Anal. Appl. 15 (1994) 1075-1091; here a row counts as many times
/// as its node has unknowns.
fn counts(graph: &Graph, order: &[u32], parent: &[u32]) -> Vec<u32> {
    let steps = order.len();
    let position = inverse(order).expect("an order of elimination names every node once");
    let mut first = vec![NONE; steps];
    for step in 0..steps {
        let mut up = narrow(step);
        while up != NONE && first[wide(up)] == NONE {
            first[wide(up)] = narrow(step);
            up = parent[wide(up)];
        }
    }
    let weight = |step: usize| i64::from(graph.weight[wide(order[step])]);
    let mut change: Vec<i64> =
        (0..steps).map(|step| if wide(first[step]) == step { weight(step) } else { 0 }).collect();
    // By row: the step after the first descendants seen so far, and the last leaf of its subtree.
    let mut seen = vec![0_u32; steps];
    let mut leaf = vec![NONE; steps];
    let mut ancestor: Vec<u32> = (0..steps).map(narrow).collect();
    for step in 0..steps {
        if parent[step] != NONE {
            change[wide(parent[step])] -= weight(step);
        }
        for &other in graph.neighbours(wide(order[step])) {
            let row = wide(position[wide(other)]);
            if row <= step || first[step] < seen[row] {
                continue;
            }
            seen[row] = first[step] + 1;
            change[step] += weight(row);
            let before = std::mem::replace(&mut leaf[row], narrow(step));
            if before != NONE {
                let mut meeting = before;
                while ancestor[wide(meeting)] != meeting {
                    meeting = ancestor[wide(meeting)];
                }
                let mut up = before;
                while up != meeting {
                    up = std::mem::replace(&mut ancestor[wide(up)], meeting);
                }
                change[wide(meeting)] -= weight(row);
            }
        }
        if parent[step] != NONE {
            ancestor[step] = parent[step];
        }
    }
    for step in 0..steps {
        if parent[step] != NONE {
            change[wide(parent[step])] += change[step];
        }
    }
    change.into_iter().map(|c| u32::try_from(c).expect("a column has no negative length")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::linear::samples::{grid, ring};
    use std::collections::BTreeSet;

    /// Lengths of columns by eliminating node after node and joining its neighbours.
    fn counts_by_elimination(graph: &Graph, order: &[u32]) -> Vec<u32> {
        let position = inverse(order).unwrap();
        let mut rows: Vec<BTreeSet<u32>> = order
            .iter()
            .map(|&node| graph.neighbours(wide(node)).iter().map(|&n| position[wide(n)]).collect())
            .collect();
        let weight = |step: u32| graph.weight[wide(order[wide(step)])];
        let mut counts = Vec::new();
        for step in 0..narrow(order.len()) {
            let left: Vec<u32> = rows[wide(step)].iter().copied().filter(|&r| r > step).collect();
            counts.push(weight(step) + left.iter().map(|&r| weight(r)).sum::<u32>());
            for &row in &left {
                rows[wide(row)].extend(left.iter().copied().filter(|&r| r != row));
            }
        }
        counts
    }

    #[test]
    fn columns_are_as_long_as_elimination_makes_them() {
        let mut graph = grid(9, 7);
        for (node, weight) in graph.weight.iter_mut().enumerate() {
            *weight = [3, 6, 1][node % 3];
        }
        let dissected = dissection::order(&graph);
        for order in [minimum_degree(&graph), degree::order(&graph), dissected, (0..63).collect()] {
            let found = Elimination::new(&graph, order);
            assert_eq!(found.count, counts_by_elimination(&graph, &found.order));
            for (step, &parent) in found.parent.iter().enumerate() {
                assert!(parent == NONE || wide(parent) > step);
            }
        }
    }

    // By hand: an arrow of four nodes around one; eliminated from the tips, each column holds two
    // entries, from the middle the factor is full.
    #[test]
    fn the_arrow_of_textbooks() {
        let graph = Graph {
            start: vec![0, 4, 5, 6, 7, 8],
            neighbour: vec![1, 2, 3, 4, 0, 0, 0, 0],
            weight: vec![1; 5],
        };
        let tips = Elimination::new(&graph, vec![1, 2, 3, 4, 0]);
        assert_eq!(tips.count, [2, 2, 2, 2, 1]);
        let middle = Elimination::new(&graph, vec![0, 1, 2, 3, 4]);
        assert_eq!(middle.count, [5, 4, 3, 2, 1]);
        assert!((middle.flops - 55.0).abs() < 1e-12);
    }

    #[test]
    fn the_cheaper_order_is_taken() {
        for graph in [grid(30, 30), ring(60, 60), grid(1, 1), grid(0, 0)] {
            let taken = best(&graph).flops;
            assert!(taken <= Elimination::new(&graph, minimum_degree(&graph)).flops);
        }
    }

    #[test]
    fn what_names_a_node_twice_is_no_order() {
        assert!(inverse(&[0, 1, 1]).is_none());
        assert!(inverse(&[0, 3, 1]).is_none());
        assert_eq!(inverse(&[2, 0, 1]), Some(vec![1, 2, 0]));
    }
}
