//! Unknowns that a pattern cannot tell apart, taken together, and the graph of what is left.
//!
//! Two unknowns that belong to the same elements have the same neighbours: the six movements of a
//! node of a frame, or the three membrane movements of a node inside a plate. They stay side by
//! side in every good order of elimination, so order and structure of the factor are found on
//! bundles of them, at a fraction of the work. Source: J. A. George, J. W. H. Liu, "The evolution
//! of the minimum degree ordering algorithm", SIAM Review 31 (1989) 1-19 (indistinguishable nodes).

/// An index of 32 bits as an index of slices.
pub(super) fn wide(index: u32) -> usize {
    index as usize
}

/// An index of slices in 32 bits.
///
/// # Panics
/// Beyond 2^32 unknowns; a matrix of that size fits in no memory.
pub(super) fn narrow(index: usize) -> u32 {
    u32::try_from(index).expect("a matrix of more than 2^32 unknowns fits in no memory")
}

/// No index.
pub(super) const NONE: u32 = u32::MAX;

/// An undirected graph without loops; neighbours ascending; a weight for every node.
#[derive(Clone, Debug, Default)]
pub(super) struct Graph {
    pub(super) start: Vec<usize>,
    pub(super) neighbour: Vec<u32>,
    pub(super) weight: Vec<u32>,
}

impl Graph {
    /// Nodes that weigh 1 each, joined where a group lists both.
    pub(super) fn of_groups(nodes: usize, groups: &[impl AsRef<[usize]>]) -> Self {
        let of: Vec<u32> = (0..narrow(nodes)).collect();
        graph(groups, &of, vec![1; nodes])
    }

    /// Number of nodes.
    pub(super) fn nodes(&self) -> usize {
        self.weight.len()
    }

    /// Sum of all weights.
    pub(super) fn total(&self) -> u64 {
        self.weight.iter().map(|&w| u64::from(w)).sum()
    }

    /// Neighbours of a node, ascending.
    pub(super) fn neighbours(&self, node: usize) -> &[u32] {
        &self.neighbour[self.start[node]..self.start[node + 1]]
    }
}

/// Bundles of unknowns, numbered by their first unknown.
#[derive(Clone, Debug)]
pub(super) struct Bundles {
    /// Bundle of every unknown.
    pub(super) of: Vec<u32>,
    start: Vec<usize>,
    member: Vec<u32>,
    /// Which bundles share an element; the weight is the number of unknowns.
    pub(super) graph: Graph,
}

impl Bundles {
    /// Bundles of `size` unknowns; each group lists the unknowns that an element couples, in any
    /// order.
    pub(super) fn new(size: usize, groups: &[impl AsRef<[usize]>]) -> Self {
        let of = classes(size, groups);
        let count = of.iter().max().map_or(0, |&last| wide(last) + 1);
        let (start, member) = collected(count, &of);
        let weight = start.windows(2).map(|w| narrow(w[1] - w[0])).collect();
        let graph = graph(groups, &of, weight);
        Bundles { of, start, member, graph }
    }

    /// Unknowns of a bundle, ascending.
    pub(super) fn members(&self, bundle: usize) -> &[u32] {
        &self.member[self.start[bundle]..self.start[bundle + 1]]
    }
}

/// Class of every unknown: every group splits the classes that it cuts through. Classes are
/// numbered by their first unknown. Unknowns of no group are alone.
fn classes(size: usize, groups: &[impl AsRef<[usize]>]) -> Vec<u32> {
    let mut class = vec![0_u32; size];
    // By class: the last group that met it and where its members went; the group it was born in.
    let mut met = vec![NONE];
    let mut target = vec![0_u32];
    let mut born = vec![NONE];
    for (g, group) in groups.iter().enumerate() {
        let g = narrow(g);
        for &unknown in group.as_ref() {
            let old = wide(class[unknown]);
            if born[old] == g {
                continue;
            }
            if met[old] != g {
                met[old] = g;
                target[old] = narrow(met.len());
                met.push(NONE);
                target.push(0);
                born.push(g);
            }
            class[unknown] = target[old];
        }
    }
    let mut number = vec![NONE; met.len()];
    let mut next = 0;
    for class in &mut class {
        let known = &mut number[wide(*class)];
        if *class == 0 || *known == NONE {
            *known = next;
            next += 1;
        }
        *class = *known;
    }
    class
}

/// Items by the bin they belong to, ascending within a bin.
fn collected(bins: usize, of: &[u32]) -> (Vec<usize>, Vec<u32>) {
    let mut start = vec![0; bins + 1];
    for &bin in of {
        start[wide(bin) + 1] += 1;
    }
    for bin in 0..bins {
        start[bin + 1] += start[bin];
    }
    let mut next = start.clone();
    let mut item = vec![0; of.len()];
    for (index, &bin) in of.iter().enumerate() {
        item[next[wide(bin)]] = narrow(index);
        next[wide(bin)] += 1;
    }
    (start, item)
}

fn graph(groups: &[impl AsRef<[usize]>], of: &[u32], weight: Vec<u32>) -> Graph {
    let count = weight.len();
    let mut group_start = vec![0];
    let mut group_bundle: Vec<u32> = Vec::new();
    let mut group_of: Vec<u32> = Vec::new();
    let mut seen = vec![NONE; count];
    for (g, group) in groups.iter().enumerate() {
        for &unknown in group.as_ref() {
            let bundle = of[unknown];
            if seen[wide(bundle)] != narrow(g) {
                seen[wide(bundle)] = narrow(g);
                group_bundle.push(bundle);
                group_of.push(narrow(g));
            }
        }
        group_start.push(group_bundle.len());
    }
    let (of_start, place) = collected(count, &group_bundle);
    let mut start = vec![0];
    let mut neighbour: Vec<u32> = Vec::new();
    seen.fill(NONE);
    for bundle in 0..count {
        seen[bundle] = narrow(bundle);
        let first = neighbour.len();
        for &p in &place[of_start[bundle]..of_start[bundle + 1]] {
            let g = wide(group_of[wide(p)]);
            for &other in &group_bundle[group_start[g]..group_start[g + 1]] {
                if seen[wide(other)] != narrow(bundle) {
                    seen[wide(other)] = narrow(bundle);
                    neighbour.push(other);
                }
            }
        }
        neighbour[first..].sort_unstable();
        start.push(neighbour.len());
    }
    neighbour.shrink_to_fit();
    Graph { start, neighbour, weight }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn unknowns_of_the_same_groups_are_one_bundle() {
        // Two elements share unknowns 2 and 3; 6 is in none, 7 in none.
        let groups = [vec![0, 3, 2, 1], vec![3, 2, 5, 4, 4]];
        let bundles = Bundles::new(8, &groups);
        let members: Vec<&[u32]> = (0..5).map(|b| bundles.members(b)).collect();
        assert_eq!(members, [&[0, 1][..], &[2, 3], &[4, 5], &[6], &[7]]);
        assert_eq!(bundles.graph.weight, [2, 2, 2, 1, 1]);
        let neighbours: Vec<&[u32]> = (0..5).map(|b| bundles.graph.neighbours(b)).collect();
        assert_eq!(neighbours, [&[1][..], &[0, 2], &[1], &[], &[]]);
    }

    #[test]
    fn halves_of_a_node_that_no_element_couples_stay_apart() {
        // Membrane movements 0, 1, 5 and bending movements 2, 3, 4 of two nodes.
        let half = |part: [usize; 3]| part.iter().flat_map(|&i| [i, i + 6]).collect::<Vec<_>>();
        let bundles = Bundles::new(12, &[half([0, 1, 5]), half([2, 3, 4])]);
        // With one element a half, even both nodes are one bundle.
        assert_eq!(bundles.members(0), [0, 1, 5, 6, 7, 11]);
        assert_eq!(bundles.members(1), [2, 3, 4, 8, 9, 10]);
        assert!(bundles.graph.neighbours(0).is_empty());
    }

    #[test]
    fn nothing_is_a_pattern_too() {
        let none: [Vec<usize>; 0] = [];
        assert_eq!(Bundles::new(0, &none).graph.nodes(), 0);
    }
}
