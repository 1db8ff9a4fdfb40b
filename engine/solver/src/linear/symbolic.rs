//! Structure of the factor: dense panels of columns with the same rows, and their tree.

use super::bundles::{Bundles, Graph, NONE, narrow, wide};
use super::ordering::{Elimination, best, inverse, postorder};
use fishplate_quantity::algebra::larger;
use std::ops::Range;

/// Jobs that the largest panels are broken off for, by thread.
const JOBS_A_THREAD: usize = 6;
/// Operations that a thread is worth starting for.
const SMALLEST_JOB: f64 = 2e6;

/// The factor in panels. A panel holds the columns that are eliminated together, all with the same
/// rows: their own (the pivots) and those below. Panels are numbered in the order of elimination,
/// a post-order of their tree: what hangs below a panel stands just before it.
#[derive(Clone, Debug)]
pub(super) struct Symbolic {
    /// Unknowns in the order of elimination.
    pub(super) order: Vec<u32>,
    /// Step at which each unknown is eliminated.
    pub(super) position: Vec<u32>,
    /// Bundles in the order of elimination.
    pub(super) bundle_order: Vec<u32>,
    /// Place of each bundle in that order.
    pub(super) bundle_position: Vec<u32>,
    /// First step of each bundle, by its place in that order; at the end the number of steps.
    pub(super) bundle_step: Vec<u32>,
    /// First bundle of each panel, by its place in that order; at the end their number.
    pub(super) panel_bundle: Vec<u32>,
    row_start: Vec<usize>,
    /// Bundles below each panel, by their place, ascending.
    row: Vec<u32>,
    /// Unknowns below each panel.
    below: Vec<u32>,
    /// Where each panel starts in the factor; at the end the length of the factor.
    pub(super) panel_start: Vec<usize>,
    /// Parent of each panel; [`NONE`] at a root.
    pub(super) parent: Vec<u32>,
    child_start: Vec<usize>,
    child: Vec<u32>,
    /// First panel of the subtree that ends in each panel.
    pub(super) subtree: Vec<u32>,
    /// Operations of the subtree that ends in each panel.
    pub(super) work: Vec<f64>,
}

impl Symbolic {
    /// Orders and analyses.
    pub(super) fn new(bundles: &Bundles) -> Self {
        Self::of_elimination(bundles, best(&bundles.graph))
    }

    /// Analyses a given order.
    pub(super) fn of_elimination(bundles: &Bundles, elimination: Elimination) -> Self {
        let graph = &bundles.graph;
        let mut forest = Forest::new(graph, &elimination);
        forest.merge();
        let (bundle_order, panel_bundle, parent) = forest.in_order(&elimination.order);
        let bundle_position = inverse(&bundle_order).expect("panels share no bundle");
        let mut bundle_step = vec![0];
        let mut order = Vec::with_capacity(bundles.of.len());
        for &bundle in &bundle_order {
            order.extend(bundles.members(wide(bundle)));
            bundle_step.push(narrow(order.len()));
        }
        let position = inverse(&order).expect("bundles share no unknown");
        let panels = parent.len();
        let (child_start, child) = children(&parent);

        let mut symbolic = Symbolic {
            order,
            position,
            bundle_order,
            bundle_position,
            bundle_step,
            panel_bundle,
            row_start: vec![0],
            row: Vec::new(),
            below: Vec::with_capacity(panels),
            panel_start: vec![0],
            parent,
            child_start,
            child,
            subtree: Vec::with_capacity(panels),
            work: Vec::with_capacity(panels),
        };
        let mut seen = vec![NONE; graph.nodes()];
        for panel in 0..panels {
            symbolic.add_rows(graph, panel, &mut seen);
        }
        symbolic.row.shrink_to_fit();
        symbolic
    }

    /// Rows of a panel: what its bundles are coupled with and what its children leave.
    fn add_rows(&mut self, graph: &Graph, panel: usize, seen: &mut [u32]) {
        let mark = narrow(panel);
        let first = self.row.len();
        let end = self.panel_bundle[panel + 1];
        for place in self.panel_bundle[panel]..end {
            for &other in graph.neighbours(wide(self.bundle_order[wide(place)])) {
                let other = self.bundle_position[wide(other)];
                if other >= end && seen[wide(other)] != mark {
                    seen[wide(other)] = mark;
                    self.row.push(other);
                }
            }
        }
        let mut subtree = mark;
        let pivots = self.pivots(panel);
        let children = self.child_start[panel]..self.child_start[panel + 1];
        let mut work = 0.0;
        for child in children.map(|c| wide(self.child[c])) {
            subtree = if self.subtree[child] < subtree { self.subtree[child] } else { subtree };
            work += self.work[child];
            for r in self.row_start[child]..self.row_start[child + 1] {
                let other = self.row[r];
                if other >= end && seen[wide(other)] != mark {
                    seen[wide(other)] = mark;
                    self.row.push(other);
                }
            }
        }
        self.row[first..].sort_unstable();
        let below: usize = self.row[first..].iter().map(|&b| self.width(b)).sum();
        self.row_start.push(self.row.len());
        self.below.push(narrow(below));
        self.panel_start.push(self.panel_start[panel] + (pivots + below) * pivots);
        self.subtree.push(subtree);
        self.work.push(work + operations(pivots, below));
    }

    /// Panels that several threads can work on apart: whole subtrees, ascending. All panels are
    /// one job for one thread; else those above the jobs are left.
    pub(super) fn jobs(&self, threads: usize) -> Vec<Range<usize>> {
        let panels = self.panels();
        if threads <= 1 {
            return (panels > 0).then_some(0..panels).into_iter().collect();
        }
        let mut roots: Vec<usize> = (0..panels).filter(|&p| self.parent[p] == NONE).collect();
        let total: f64 = roots.iter().map(|&r| self.work[r]).sum();
        let most = larger(total / (JOBS_A_THREAD * threads) as f64, SMALLEST_JOB);
        let mut jobs = Vec::new();
        while let Some(root) = roots.pop() {
            if self.work[root] > most {
                roots.extend(self.children(root).iter().map(|&c| wide(c)));
            } else {
                jobs.push(wide(self.subtree[root])..root + 1);
            }
        }
        jobs.sort_unstable_by_key(|job| job.start);
        jobs
    }

    /// Number of panels.
    pub(super) fn panels(&self) -> usize {
        self.parent.len()
    }

    /// Number of columns of a panel.
    pub(super) fn pivots(&self, panel: usize) -> usize {
        self.step(panel + 1) - self.step(panel)
    }

    /// Number of rows below the pivots of a panel.
    pub(super) fn below(&self, panel: usize) -> usize {
        wide(self.below[panel])
    }

    /// First step of a panel.
    pub(super) fn step(&self, panel: usize) -> usize {
        wide(self.bundle_step[wide(self.panel_bundle[panel])])
    }

    /// Unknowns of the bundle at a place of the order.
    pub(super) fn width(&self, place: u32) -> usize {
        wide(self.bundle_step[wide(place) + 1] - self.bundle_step[wide(place)])
    }

    /// Bundles below a panel, by their place, ascending.
    pub(super) fn rows(&self, panel: usize) -> &[u32] {
        &self.row[self.row_start[panel]..self.row_start[panel + 1]]
    }

    /// Children of a panel, ascending.
    pub(super) fn children(&self, panel: usize) -> &[u32] {
        &self.child[self.child_start[panel]..self.child_start[panel + 1]]
    }

    /// Stored entries of the factor.
    pub(super) fn factor_entries(&self) -> usize {
        self.panel_start[self.panels()]
    }
}

/// Operations of a panel: squares of the lengths of its columns.
fn operations(pivots: usize, below: usize) -> f64 {
    (0..pivots).map(|column| ((pivots - column + below) as f64).powi(2)).sum()
}

/// Children by parent, ascending.
fn children(parent: &[u32]) -> (Vec<usize>, Vec<u32>) {
    let mut start = vec![0; parent.len() + 1];
    for &parent in parent.iter().filter(|&&p| p != NONE) {
        start[wide(parent) + 1] += 1;
    }
    for panel in 0..parent.len() {
        start[panel + 1] += start[panel];
    }
    let mut next = start.clone();
    let mut child = vec![0; start[parent.len()]];
    for (index, &parent) in parent.iter().enumerate().filter(|(_, p)| **p != NONE) {
        child[next[wide(parent)]] = narrow(index);
        next[wide(parent)] += 1;
    }
    (start, child)
}

/// Panels while they grow together.
struct Forest {
    /// Columns of each panel and all its rows, pivots included, in unknowns.
    pivots: Vec<usize>,
    rows: Vec<usize>,
    /// Entries below the diagonal that the panel holds but the factor does not need.
    zeros: Vec<usize>,
    parent: Vec<u32>,
    /// The panel that swallowed this one.
    merged: Vec<u32>,
    /// Runs of steps of each panel, as a list of the first panels they came from.
    next: Vec<u32>,
    head: Vec<u32>,
    /// First step of each of the first panels; at the end the number of steps.
    step: Vec<u32>,
}

impl Forest {
    /// Panels without zeros: steps in a row whose columns differ only by the pivots between.
    fn new(graph: &Graph, elimination: &Elimination) -> Self {
        let Elimination { order, parent, count, .. } = elimination;
        let weight = |step: usize| graph.weight[wide(order[step])];
        let mut panel = vec![0_u32; order.len()];
        let mut step_of = Vec::new();
        let mut pivots: Vec<usize> = Vec::new();
        let mut rows = Vec::new();
        for step in 0..order.len() {
            let continues = step > 0
                && parent[step - 1] == narrow(step)
                && count[step - 1] == count[step] + weight(step - 1);
            if !continues {
                step_of.push(narrow(step));
                pivots.push(0);
                rows.push(wide(count[step]));
            }
            panel[step] = narrow(pivots.len() - 1);
            pivots[wide(panel[step])] += wide(weight(step));
        }
        step_of.push(narrow(order.len()));
        let panels = pivots.len();
        let parent = (0..panels)
            .map(|p| match parent[wide(step_of[p + 1]) - 1] {
                NONE => NONE,
                step => panel[wide(step)],
            })
            .collect();
        let own: Vec<u32> = (0..panels).map(narrow).collect();
        Forest {
            pivots,
            rows,
            zeros: vec![0; panels],
            parent,
            merged: vec![NONE; panels],
            next: vec![NONE; panels],
            head: own,
            step: step_of,
        }
    }

    /// Lets a panel swallow a child where the zeros it then holds cost less than a panel more.
    fn merge(&mut self) {
        let (start, child) = children(&self.parent);
        for panel in 0..self.parent.len() {
            let mut candidates: Vec<(usize, u32)> = child[start[panel]..start[panel + 1]]
                .iter()
                .map(|&c| (self.new_zeros(wide(c), panel), c))
                .collect();
            candidates.sort_unstable();
            for (_, candidate) in candidates {
                let small = wide(candidate);
                let zeros = self.zeros[small] + self.zeros[panel] + self.new_zeros(small, panel);
                let pivots = self.pivots[small] + self.pivots[panel];
                let rows = self.pivots[small] + self.rows[panel];
                let entries = pivots * rows - pivots * (pivots - 1) / 2;
                if !worth(pivots, zeros, entries) {
                    continue;
                }
                self.pivots[panel] = pivots;
                self.rows[panel] = rows;
                self.zeros[panel] = zeros;
                self.merged[small] = narrow(panel);
                self.next[small] = self.head[panel];
                self.head[panel] = self.head[small];
            }
        }
    }

    /// Zeros that columns of a child get when the parent swallows it.
    fn new_zeros(&self, child: usize, panel: usize) -> usize {
        self.pivots[child] * (self.rows[panel] - (self.rows[child] - self.pivots[child]))
    }

    /// Nodes in the order of elimination, the first node of each panel, and parents of panels.
    /// Among children the one comes first whose subtree needs most memory beyond what it leaves
    /// (J. W. H. Liu, "On the storage requirement in the out-of-core multifrontal method", ACM
    /// Trans. Math. Softw. 12 (1986) 249-264).
    fn in_order(&self, order: &[u32]) -> (Vec<u32>, Vec<u32>, Vec<u32>) {
        let mut owner: Vec<u32> = (0..self.parent.len()).map(narrow).collect();
        for panel in (0..owner.len()).rev() {
            if self.merged[panel] != NONE {
                owner[panel] = owner[wide(self.merged[panel])];
            }
        }
        let alive: Vec<u32> =
            (0..owner.len()).map(narrow).filter(|&p| self.merged[wide(p)] == NONE).collect();
        let mut number = vec![NONE; owner.len()];
        for (index, &panel) in alive.iter().enumerate() {
            number[wide(panel)] = narrow(index);
        }
        let parent: Vec<u32> = alive
            .iter()
            .map(|&panel| match self.parent[wide(panel)] {
                NONE => NONE,
                parent => number[wide(owner[wide(parent)])],
            })
            .collect();

        let (start, child) = children(&parent);
        let mut peak = vec![0; alive.len()];
        let left = |panel: usize| {
            let below = self.rows[wide(alive[panel])] - self.pivots[wide(alive[panel])];
            below * (below + 1) / 2
        };
        let mut rank = vec![0_u32; alive.len()];
        for panel in 0..alive.len() {
            let mut below: Vec<u32> = child[start[panel]..start[panel + 1]].to_vec();
            below.sort_by_key(|&c| (std::cmp::Reverse(peak[wide(c)] - left(wide(c))), c));
            let mut held = 0;
            for (place, &c) in below.iter().enumerate() {
                rank[wide(c)] = narrow(place);
                peak[panel] = Ord::max(peak[panel], held + peak[wide(c)]);
                held += left(wide(c));
            }
            peak[panel] = Ord::max(Ord::max(peak[panel], held), left(panel));
        }
        // Renumbered so that ascending siblings are in that order, then in post-order.
        let mut sorted: Vec<u32> = (0..alive.len()).map(narrow).collect();
        sorted.sort_by_key(|&p| (parent[wide(p)], rank[wide(p)], p));
        let place = inverse(&sorted).expect("sorting loses nothing");
        let moved: Vec<u32> = sorted
            .iter()
            .map(|&p| match parent[wide(p)] {
                NONE => NONE,
                parent => place[wide(parent)],
            })
            .collect();
        let post = postorder(&moved);
        let place = inverse(&post).expect("a post-order names every panel once");
        let final_parent = post
            .iter()
            .map(|&p| match moved[wide(p)] {
                NONE => NONE,
                parent => place[wide(parent)],
            })
            .collect();

        let mut nodes = Vec::with_capacity(order.len());
        let mut first = vec![0];
        for &p in &post {
            let mut part = self.head[wide(alive[wide(sorted[wide(p)])])];
            while part != NONE {
                let steps = wide(self.step[wide(part)])..wide(self.step[wide(part) + 1]);
                nodes.extend_from_slice(&order[steps]);
                part = self.next[wide(part)];
            }
            first.push(narrow(nodes.len()));
        }
        (nodes, first, final_parent)
    }
}

/// Whether a panel of so many columns may hold so many zeros among its entries: narrow ones nearly
/// always, because a panel costs more than its operations; wide ones few (common practice of
/// sparse factorisations, no source for the very numbers).
fn worth(pivots: usize, zeros: usize, entries: usize) -> bool {
    let share = zeros as f64 / entries as f64;
    match pivots {
        ..=12 => true,
        13..=32 => share < 0.6,
        33..=96 => share < 0.25,
        _ => share < 0.1,
    }
}
