//! The list of block operations that factors a frame's stiffness: found once a topology.

use super::block::SIDE;
use crate::linear::order_of_elimination;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

/// Blocks, where they stand, and what becomes of them in which order.
///
/// Blocks are numbered so that elimination reads only blocks before its target, and back
/// substitution only right-hand sides behind its target.
#[derive(Clone, Debug)]
pub(super) struct Schedule {
    /// Node of the graph that each step eliminates.
    pub(super) order: Vec<usize>,
    /// Steps, first to last.
    pub(super) steps: Vec<Step>,
    /// Blocks below the diagonal ones, in the order of the steps.
    pub(super) below: Vec<Target>,
    /// Blocks of the right-hand sides in back substitution, last step first.
    pub(super) back: Vec<Target>,
    /// Pairs of blocks whose products are taken off a target.
    pub(super) pairs: Vec<[u32; 2]>,
    /// How many blocks there are; those of the right-hand sides come last.
    pub(super) blocks: usize,
    /// The first block of the right-hand sides: that of step s and group g of cases is
    /// `first_load + s * groups + g`.
    pub(super) first_load: usize,
    /// Groups of up to six load cases.
    pub(super) groups: usize,
    place: BTreeMap<[usize; 2], u32>,
}

/// The elimination of one node.
#[derive(Clone, Debug)]
pub(super) struct Step {
    /// The diagonal block.
    pub(super) diagonal: Target,
    /// Its blocks below, among [`Schedule::below`].
    pub(super) below: Range<usize>,
}

/// A block and the pairs whose products are taken off it, among [`Schedule::pairs`].
#[derive(Clone, Debug)]
pub(super) struct Target {
    pub(super) block: usize,
    pub(super) pairs: Range<usize>,
}

impl Schedule {
    /// Of nodes that are joined as listed, for so many load cases.
    pub(super) fn new(nodes: usize, joined: &[Vec<usize>], cases: usize) -> Self {
        let order = order_of_elimination(nodes, joined);
        let mut step_of = vec![0; nodes];
        for (step, &node) in order.iter().enumerate() {
            step_of[node] = step;
        }
        let rows = filled(nodes, joined, &step_of);
        let groups = cases.div_ceil(SIDE);
        let mut place: BTreeMap<[usize; 2], u32> = BTreeMap::new();
        for (column, rows) in rows.iter().enumerate() {
            for row in std::iter::once(&column).chain(rows) {
                place.insert([*row, column], narrow(place.len()));
            }
        }
        let first_load = place.len();
        let load = |step: usize, group: usize| narrow(first_load + step * groups + group);
        // Columns to the left in which each row has a block.
        let mut left: Vec<Vec<usize>> = vec![Vec::new(); nodes];
        for (column, rows) in rows.iter().enumerate() {
            for &row in rows {
                left[row].push(column);
            }
        }
        let mut schedule = Schedule {
            order,
            steps: Vec::with_capacity(nodes),
            below: Vec::new(),
            back: Vec::new(),
            pairs: Vec::new(),
            blocks: first_load + nodes * groups,
            first_load,
            groups,
            place: BTreeMap::new(),
        };
        for (column, rows) in rows.iter().enumerate() {
            let known = |row: usize, k: usize| place.get(&[row, k]).copied();
            let products = |row: usize| {
                left[column].iter().filter_map(move |&k| Some([known(row, k)?, known(column, k)?]))
            };
            let own = wide(known(column, column).expect("every column has a diagonal block"));
            let diagonal = schedule.target(own, products(column));
            let first = schedule.below.len();
            for &row in rows {
                let block = wide(known(row, column).expect("every listed row was given a block"));
                let target = schedule.target(block, products(row));
                schedule.below.push(target);
            }
            for group in 0..groups {
                let products =
                    left[column].iter().filter_map(|&k| Some([load(k, group), known(column, k)?]));
                let target = schedule.target(wide(load(column, group)), products);
                schedule.below.push(target);
            }
            let below = first..schedule.below.len();
            schedule.steps.push(Step { diagonal, below });
        }
        for (column, rows) in rows.iter().enumerate().rev() {
            for group in 0..groups {
                let products = rows.iter().filter_map(|&row| {
                    Some([load(row, group), place.get(&[row, column]).copied()?])
                });
                let target = schedule.target(wide(load(column, group)), products);
                schedule.back.push(target);
            }
        }
        schedule.place = place;
        schedule
    }

    /// The block in the row and the column of two steps, the row not above the column.
    pub(super) fn block(&self, row: usize, column: usize) -> Option<usize> {
        self.place.get(&[row, column]).copied().map(wide)
    }

    /// Row, column and number of every block of the matrix.
    pub(super) fn all(&self) -> impl Iterator<Item = ([usize; 2], usize)> + '_ {
        self.place.iter().map(|(&place, &block)| (place, wide(block)))
    }

    /// Where the right-hand sides of a step and a group of cases stand.
    pub(super) fn load(&self, step: usize, group: usize) -> usize {
        self.first_load + step * self.groups + group
    }

    fn target(&mut self, block: usize, products: impl Iterator<Item = [u32; 2]>) -> Target {
        let first = self.pairs.len();
        self.pairs.extend(products);
        Target { block, pairs: first..self.pairs.len() }
    }
}

/// Rows of each column of the factor below its diagonal, ascending: those of the matrix, and what
/// elimination fills in, which goes to the first of them (Liu, as in `linear::ordering`).
fn filled(nodes: usize, joined: &[Vec<usize>], step_of: &[usize]) -> Vec<BTreeSet<usize>> {
    let mut rows: Vec<BTreeSet<usize>> = vec![BTreeSet::new(); nodes];
    for group in joined {
        for &a in group {
            for &b in group {
                let (a, b) = (step_of[a], step_of[b]);
                if a > b {
                    rows[b].insert(a);
                }
            }
        }
    }
    for column in 0..nodes {
        let mut below = rows[column].iter().copied();
        if let Some(first) = below.next() {
            let rest: Vec<usize> = below.collect();
            rows[first].extend(rest);
        }
    }
    rows
}

fn narrow(index: usize) -> u32 {
    u32::try_from(index).expect("the size of a batch is limited far below 2^32 blocks")
}

fn wide(index: u32) -> usize {
    index as usize
}
