//! Refinement of a set of nodes that separates a graph in two.

use super::bundles::{Graph, narrow, wide};
use std::collections::BinaryHeap;

/// Where a node lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    One,
    Other,
    Between,
}

impl Side {
    fn index(self) -> usize {
        self as usize
    }

    fn opposite(self) -> Side {
        if self == Side::One { Side::Other } else { Side::One }
    }
}

/// Rounds of moves; most end after two.
const ROUNDS: usize = 5;
/// Moves in a row that bring nothing before a round ends.
const PATIENCE: usize = 80;
/// Largest share of the weight on one side.
const LARGEST_SHARE: f64 = 0.75;

/// What a cut costs, by the weights on one side, on the other, and between: the weight between,
/// more when the sides are uneven. Operations on a part of n unknowns of a plane mesh grow with
/// n^1.5, and about three tenths of them fall to the cube of the weight between (George 1973).
pub(super) fn cost([one, other, between]: [u64; 3]) -> f64 {
    let share = |w: u64| w as f64 / (one + other) as f64;
    let uneven = (share(one) * share(one).sqrt() + share(other) * share(other).sqrt())
        * std::f64::consts::SQRT_2
        - 1.0;
    between as f64 * (1.0 + 0.8 * uneven)
}

/// Moves nodes so that less weight lies between, with neither side too heavy. Source: C. M. Fiduccia, R. M. Mattheyses, "A linear-time
/// heuristic for improving network partitions", 19th Design Automation Conference (1982) 175-181,
/// for nodes as in Hendrickson and Rothberg (1998).
pub(super) fn refine(part: &Graph, sides: &mut [Side]) {
    let mut cut = Cut::new(part, sides);
    let mut moved = vec![0_usize; part.nodes()];
    for round in 1..=ROUNDS {
        if !cut.round(round, &mut moved) {
            break;
        }
    }
}

struct Cut<'a> {
    part: &'a Graph,
    sides: &'a mut [Side],
    /// Weight on one side, on the other, between.
    weight: [u64; 3],
    heaviest: u64,
    /// Weight that a node between would pull in from the opposite side, by side it goes to.
    pull: Vec<[u64; 2]>,
}

/// What a move brings, then the smallest node first; the side it goes to.
type Move = (i64, std::cmp::Reverse<u32>, usize);

impl<'a> Cut<'a> {
    fn new(part: &'a Graph, sides: &'a mut [Side]) -> Self {
        let mut weight = [0; 3];
        for (node, side) in sides.iter().enumerate() {
            weight[side.index()] += u64::from(part.weight[node]);
        }
        let heaviest = (part.total() as f64 * LARGEST_SHARE) as u64;
        Cut { part, sides, weight, heaviest, pull: vec![[0; 2]; part.nodes()] }
    }

    fn offer(&mut self, node: usize, heap: &mut BinaryHeap<Move>) {
        let own = i64::from(self.part.weight[node]);
        for to in [Side::One, Side::Other] {
            let pull = self.pull[node][to.index()];
            heap.push((own - pull as i64, std::cmp::Reverse(narrow(node)), to.index()));
        }
    }

    fn count_pull(&mut self, node: usize) {
        let mut pull = [0; 2];
        for &other in self.part.neighbours(node) {
            let side = self.sides[wide(other)];
            if side != Side::Between {
                pull[side.opposite().index()] += u64::from(self.part.weight[wide(other)]);
            }
        }
        self.pull[node] = pull;
    }

    /// One round: the best move again and again, each node once; back to the best state met.
    /// Whether it was better than the first.
    fn round(&mut self, round: usize, moved: &mut [usize]) -> bool {
        let mut heap = BinaryHeap::new();
        for node in 0..self.sides.len() {
            if self.sides[node] == Side::Between {
                self.count_pull(node);
                self.offer(node, &mut heap);
            }
        }
        let first = cost(self.weight);
        let mut best = first;
        let mut log: Vec<(u32, Side)> = Vec::new();
        let mut best_length = 0;
        let mut in_vain = 0;
        while let Some((gain, std::cmp::Reverse(name), to)) = heap.pop() {
            let node = wide(name);
            let side = if to == 0 { Side::One } else { Side::Other };
            let own = u64::from(self.part.weight[node]);
            let stale = self.sides[node] != Side::Between
                || moved[node] == round
                || gain != own as i64 - self.pull[node][to] as i64;
            let grows = self.weight[to] + own;
            if stale || (grows > self.heaviest && grows > self.weight[side.opposite().index()]) {
                continue;
            }
            moved[node] = round;
            self.go(node, side, &mut log, &mut heap);
            let cost = cost(self.weight);
            if cost < best {
                best = cost;
                best_length = log.len();
                in_vain = 0;
            } else {
                in_vain += 1;
                if in_vain > PATIENCE {
                    break;
                }
            }
        }
        for (node, side) in log.drain(best_length..).rev() {
            self.put(wide(node), side);
        }
        best < first
    }

    fn put(&mut self, node: usize, side: Side) {
        let weight = u64::from(self.part.weight[node]);
        self.weight[self.sides[node].index()] -= weight;
        self.weight[side.index()] += weight;
        self.sides[node] = side;
    }

    /// Moves a node out of the separator; its neighbours of the opposite side are pulled in.
    fn go(
        &mut self,
        node: usize,
        side: Side,
        log: &mut Vec<(u32, Side)>,
        heap: &mut BinaryHeap<Move>,
    ) {
        log.push((narrow(node), Side::Between));
        self.put(node, side);
        let part = self.part;
        let own = u64::from(part.weight[node]);
        for &other in part.neighbours(node) {
            let other = wide(other);
            if self.sides[other] == Side::Between {
                self.pull[other][side.opposite().index()] += own;
                self.offer(other, heap);
            } else if self.sides[other] == side.opposite() {
                log.push((narrow(other), side.opposite()));
                self.put(other, Side::Between);
                let weight = u64::from(part.weight[other]);
                for &third in part.neighbours(other) {
                    let third = wide(third);
                    if self.sides[third] == Side::Between && third != other {
                        self.pull[third][side.index()] -= weight;
                        self.offer(third, heap);
                    }
                }
                self.count_pull(other);
                self.offer(other, heap);
            }
        }
    }
}
