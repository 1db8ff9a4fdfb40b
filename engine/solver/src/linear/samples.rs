//! Graphs and matrices for tests of this folder.

use super::bundles::{Graph, narrow};
use super::eigen::rough_vector;
use super::pattern::Pattern;
use std::sync::Arc;

/// Nodes of a grid of square elements of four nodes, weight 1.
pub(super) fn grid(columns: usize, rows: usize) -> Graph {
    net(columns, rows, false)
}

/// The same, closed around: `around` nodes in every ring.
pub(super) fn ring(around: usize, length: usize) -> Graph {
    net(around, length, true)
}

fn net(columns: usize, rows: usize, closed: bool) -> Graph {
    let mut graph = Graph { start: vec![0], ..Graph::default() };
    for y in 0..rows {
        for x in 0..columns {
            let mut near = Vec::new();
            for v in y.saturating_sub(1)..Ord::min(y + 2, rows) {
                for step in [columns - 1, columns, columns + 1] {
                    let u = x + step;
                    let inside = closed || (columns..2 * columns).contains(&u);
                    let other = v * columns + u % columns;
                    if inside && other != y * columns + x {
                        near.push(narrow(other));
                    }
                }
            }
            near.sort_unstable();
            near.dedup();
            graph.neighbour.extend(near);
            graph.start.push(graph.neighbour.len());
            graph.weight.push(1);
        }
    }
    graph
}

/// A sum of positive definite blocks with rough entries over elements of four nodes, each with so
/// many unknowns.
pub(super) fn sheet(columns: usize, rows: usize, unknowns: usize) -> (Arc<Pattern>, Vec<f64>) {
    let mut groups = Vec::new();
    for y in 0..rows - 1 {
        for x in 0..columns - 1 {
            let first = y * columns + x;
            let corners = [first, first + 1, first + columns + 1, first + columns];
            let of = |n: usize| n * unknowns..(n + 1) * unknowns;
            groups.push(corners.into_iter().flat_map(of).collect::<Vec<_>>());
        }
    }
    let pattern = Arc::new(Pattern::from_groups(columns * rows * unknowns, &groups));
    let mut values = vec![0.0; pattern.entries()];
    for (seed, group) in groups.iter().enumerate() {
        let side = group.len();
        let rough = rough_vector(side * side, seed);
        for (i, &row) in group.iter().enumerate() {
            for (j, &column) in group.iter().enumerate() {
                if row >= column {
                    let product: f64 =
                        (0..side).map(|k| rough[i * side + k] * rough[j * side + k]).sum();
                    values[pattern.slot(row, column)] += product;
                }
            }
        }
    }
    (pattern, values)
}
