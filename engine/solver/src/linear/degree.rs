//! Order of elimination by approximate minimum degree, with nodes that weigh as many unknowns as
//! they bundle.
//!
//! Source: P. R. Amestoy, T. A. Davis, I. S. Duff, "An approximate minimum degree ordering
//! algorithm", SIAM J. Matrix Anal. Appl. 17 (1996) 886-905. Orders of graphs without weights cost
//! twice the operations where bundles differ, as at the folds of plates.

use super::bundles::{Graph, NONE, narrow, wide};

/// Nodes in the order of elimination.
pub(super) fn order(graph: &Graph) -> Vec<u32> {
    let mut quotient = Quotient::new(graph);
    while let Some(pivot) = quotient.next() {
        quotient.eliminate(pivot);
    }
    quotient.order
}

/// The graph that elimination leaves: nodes, and elements, cliques that eliminated nodes left.
struct Quotient {
    /// Unknowns of every node that is left, with those it swallowed; 0 for what is gone.
    weight: Vec<u32>,
    /// Nodes next to a node by an edge of the original.
    near: Vec<Vec<u32>>,
    /// Elements that a node is part of.
    within: Vec<Vec<u32>>,
    /// Nodes of an element, also some that are gone; empty when the element is.
    nodes: Vec<Vec<u32>>,
    /// Weight of the nodes of an element.
    size: Vec<u32>,
    /// At most the weight around a node.
    degree: Vec<u32>,
    /// Nodes that cannot be told from this one, eliminated with it.
    swallowed: Vec<Vec<u32>>,
    queue: Queue,
    left: u32,
    /// Marks of nodes and elements, never the same twice.
    mark: Vec<u32>,
    tag: u32,
    /// Weight of an element outside the newest one, valid where marked.
    outside: Vec<u32>,
    order: Vec<u32>,
}

impl Quotient {
    fn new(graph: &Graph) -> Self {
        let count = graph.nodes();
        let around = |node: usize| {
            graph.neighbours(node).iter().map(|&o| graph.weight[wide(o)]).sum::<u32>()
        };
        let degree: Vec<u32> = (0..count).map(around).collect();
        let left = graph.weight.iter().sum();
        let mut queue = Queue::new(count, wide(left));
        for (node, &degree) in degree.iter().enumerate() {
            queue.insert(narrow(node), degree);
        }
        Quotient {
            weight: graph.weight.clone(),
            near: (0..count).map(|n| graph.neighbours(n).to_vec()).collect(),
            within: vec![Vec::new(); count],
            nodes: vec![Vec::new(); count],
            size: vec![0; count],
            degree,
            swallowed: vec![Vec::new(); count],
            queue,
            left,
            mark: vec![0; count],
            tag: 0,
            outside: vec![0; count],
            order: Vec::with_capacity(count),
        }
    }

    fn next(&mut self) -> Option<usize> {
        self.queue.least().map(wide)
    }

    fn eliminate(&mut self, pivot: usize) {
        let (clique, own) = self.clique(pivot);
        self.measure_elements(&clique);
        let mut total: u32 = clique.iter().map(|&n| self.weight[wide(n)]).sum();
        let mut gone = self.weight[pivot];
        self.weight[pivot] = 0;
        self.emit(pivot);
        let mut keyed: Vec<(u32, u32)> = Vec::with_capacity(clique.len());
        for &name in &clique {
            let node = wide(name);
            let (beyond, key) = self.update(node, pivot, own);
            if beyond == 0 && self.within[node].len() == 1 && self.near[node].is_empty() {
                // Nothing around it but the clique: it may as well go at once.
                total -= self.weight[node];
                gone += self.weight[node];
                self.weight[node] = 0;
                self.emit(node);
            } else {
                self.degree[node] = Ord::min(self.degree[node], beyond);
                keyed.push((key, name));
            }
        }
        self.left -= gone;
        self.merge_twins(&mut keyed);
        let mut kept = Vec::with_capacity(keyed.len());
        for &name in &clique {
            let node = wide(name);
            let weight = self.weight[node];
            if weight > 0 {
                let around = self.degree[node] + total - weight;
                self.degree[node] = Ord::min(around, self.left - weight);
                self.queue.insert(name, self.degree[node]);
                kept.push(name);
            }
        }
        self.nodes[pivot] = kept;
        self.size[pivot] = total;
    }

    /// Nodes that the elimination of the pivot joins, taken out of the queue, and their mark; the
    /// elements they come from are used up.
    fn clique(&mut self, pivot: usize) -> (Vec<u32>, u32) {
        self.tag += 1;
        let tag = self.tag;
        self.mark[pivot] = tag;
        let mut sources = vec![std::mem::take(&mut self.near[pivot])];
        for element in std::mem::take(&mut self.within[pivot]) {
            self.size[wide(element)] = 0;
            sources.push(std::mem::take(&mut self.nodes[wide(element)]));
        }
        let mut clique = Vec::new();
        for name in sources.into_iter().flatten() {
            let node = wide(name);
            if self.weight[node] > 0 && self.mark[node] != tag {
                self.mark[node] = tag;
                self.queue.remove(name);
                clique.push(name);
            }
        }
        (clique, tag)
    }

    /// Weight of each element around the clique that lies outside it. Elements and nodes share
    /// their numbers, but no number is both at a time, so they share marks.
    fn measure_elements(&mut self, clique: &[u32]) {
        self.tag += 1;
        for &node in clique {
            for &element in &self.within[wide(node)] {
                let element = wide(element);
                if self.mark[element] != self.tag {
                    self.mark[element] = self.tag;
                    self.outside[element] = self.size[element];
                }
                let weight = self.weight[wide(node)];
                self.outside[element] = self.outside[element].saturating_sub(weight);
            }
        }
    }

    /// Brings a node of the clique up to date: its elements and edges outside the clique, whose
    /// nodes are marked `own`. Their weight, and a key that twins share.
    fn update(&mut self, node: usize, pivot: usize, own: u32) -> (u32, u32) {
        let mut beyond = 0;
        let mut key = narrow(pivot);
        let (size, outside) = (&mut self.size, &self.outside);
        self.within[node].retain(|&element| {
            let element = wide(element);
            if size[element] > 0 && outside[element] == 0 {
                // All its nodes are in the clique: the new element says as much.
                size[element] = 0;
            }
            let kept = size[element] > 0;
            if kept {
                beyond += outside[element];
                key = key.wrapping_add(narrow(element));
            }
            kept
        });
        let (weight, mark) = (&self.weight, &self.mark);
        self.near[node].retain(|&other| {
            let kept = weight[wide(other)] > 0 && mark[wide(other)] != own;
            if kept {
                beyond += weight[wide(other)];
                key = key.wrapping_add(other);
            }
            kept
        });
        self.within[node].push(narrow(pivot));
        (beyond, key)
    }

    /// Nodes of the clique with the same surroundings become one.
    fn merge_twins(&mut self, keyed: &mut [(u32, u32)]) {
        keyed.sort_by_key(|&(key, _)| key);
        for same in keyed.chunk_by(|a, b| a.0 == b.0) {
            for (index, &(_, name)) in same.iter().enumerate() {
                let node = wide(name);
                if self.weight[node] == 0 || index + 1 == same.len() {
                    continue;
                }
                self.tag += 1;
                for &other in self.within[node].iter().chain(&self.near[node]) {
                    self.mark[wide(other)] = self.tag;
                }
                for &(_, twin_name) in &same[index + 1..] {
                    let twin = wide(twin_name);
                    let alike = self.weight[twin] > 0
                        && self.within[twin].len() == self.within[node].len()
                        && self.near[twin].len() == self.near[node].len()
                        && self.within[twin]
                            .iter()
                            .chain(&self.near[twin])
                            .all(|&o| self.mark[wide(o)] == self.tag);
                    if alike {
                        self.weight[node] += self.weight[twin];
                        self.weight[twin] = 0;
                        self.swallowed[node].push(twin_name);
                    }
                }
            }
        }
    }

    /// Puts a node and all it swallowed into the order.
    fn emit(&mut self, node: usize) {
        let mut waiting = vec![narrow(node)];
        while let Some(name) = waiting.pop() {
            self.order.push(name);
            self.near[wide(name)] = Vec::new();
            if name != narrow(node) {
                self.within[wide(name)] = Vec::new();
            }
            waiting.append(&mut self.swallowed[wide(name)]);
        }
    }
}

/// Nodes by degree; of equal ones the last that came goes first.
struct Queue {
    head: Vec<u32>,
    next: Vec<u32>,
    last: Vec<u32>,
    degree: Vec<u32>,
    lowest: usize,
}

impl Queue {
    fn new(nodes: usize, degrees: usize) -> Self {
        Queue {
            head: vec![NONE; degrees + 1],
            next: vec![NONE; nodes],
            last: vec![NONE; nodes],
            degree: vec![0; nodes],
            lowest: 0,
        }
    }

    fn insert(&mut self, node: u32, degree: u32) {
        let first = std::mem::replace(&mut self.head[wide(degree)], node);
        self.next[wide(node)] = first;
        self.last[wide(node)] = NONE;
        if first != NONE {
            self.last[wide(first)] = node;
        }
        self.degree[wide(node)] = degree;
        self.lowest = Ord::min(self.lowest, wide(degree));
    }

    fn remove(&mut self, node: u32) {
        let (last, next) = (self.last[wide(node)], self.next[wide(node)]);
        match last {
            NONE => self.head[wide(self.degree[wide(node)])] = next,
            last => self.next[wide(last)] = next,
        }
        if next != NONE {
            self.last[wide(next)] = last;
        }
    }

    /// Takes out a node of least degree.
    fn least(&mut self) -> Option<u32> {
        while *self.head.get(self.lowest)? == NONE {
            self.lowest += 1;
        }
        let node = self.head[self.lowest];
        self.remove(node);
        Some(node)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::linear::ordering::{Elimination, inverse, minimum_degree};
    use crate::linear::samples::{grid, ring};

    #[test]
    fn an_order_names_every_node_once() {
        for mut graph in [grid(0, 0), grid(1, 1), grid(1, 30), grid(23, 31), ring(20, 40)] {
            for (node, weight) in graph.weight.iter_mut().enumerate() {
                *weight = [1, 6, 3, 2][node % 4];
            }
            let found = order(&graph);
            assert_eq!(found.len(), graph.nodes());
            assert!(inverse(&found).is_some());
        }
    }

    // A tree is eliminated without fill from its leaves (S. Parter, SIAM Review 3 (1961) 119-130).
    #[test]
    fn a_tree_gets_no_fill() {
        let parent = |node: u32| (node - 1) / 3;
        let mut near = vec![Vec::new(); 200];
        for node in 1..200 {
            near[wide(node)].push(parent(node));
            near[wide(parent(node))].push(node);
        }
        let mut graph = Graph { start: vec![0], ..Graph::default() };
        for mut near in near {
            near.sort_unstable();
            graph.neighbour.extend(near);
            graph.start.push(graph.neighbour.len());
            graph.weight.push(1);
        }
        let elimination = Elimination::new(&graph, order(&graph));
        assert!(elimination.count.iter().all(|&c| c <= 2));
    }

    // Against the library's, which counts nodes: as good where all weigh the same.
    #[test]
    fn fills_no_more_than_the_order_of_the_library() {
        for graph in [grid(40, 40), ring(30, 60)] {
            let own = Elimination::new(&graph, order(&graph)).flops;
            let other = Elimination::new(&graph, minimum_degree(&graph)).flops;
            assert!(own < 1.3 * other, "{own} against {other}");
        }
    }
}
