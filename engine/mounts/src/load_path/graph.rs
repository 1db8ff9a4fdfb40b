//! The graph of bodies and joints.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use crate::design::{BodyId, Design};

/// Which bodies are joined to which.
pub(super) struct Graph {
    neighbours: BTreeMap<BodyId, BTreeSet<BodyId>>,
    rails: BTreeSet<BodyId>,
}

impl Graph {
    /// The graph of a design: an edge for every weld and for neighbours in a bolt's list.
    pub(super) fn of(design: &Design) -> Self {
        let mut neighbours: BTreeMap<BodyId, BTreeSet<BodyId>> = BTreeMap::new();
        let mut join = |a: BodyId, b: BodyId| {
            neighbours.entry(a).or_default().insert(b);
            neighbours.entry(b).or_default().insert(a);
        };
        for weld in &design.welds {
            join(weld.of, weld.to);
        }
        for bolts in &design.bolts {
            for pair in bolts.through.windows(2) {
                join(pair[0].body, pair[1].body);
            }
        }
        let rails =
            (0..design.bodies.len()).map(BodyId).filter(|id| design.body(*id).is_rail()).collect();
        Self { neighbours, rails }
    }

    fn next_to(&self, body: BodyId) -> impl Iterator<Item = BodyId> + '_ {
        self.neighbours.get(&body).into_iter().flatten().copied()
    }

    pub(super) fn joined(&self, a: BodyId, b: BodyId) -> bool {
        self.neighbours.get(&a).is_some_and(|n| n.contains(&b))
    }

    /// The way from a body to a rail by the fewest joints, both ends included.
    pub(super) fn way_to_rail(
        &self,
        start: BodyId,
        without: &BTreeSet<BodyId>,
    ) -> Option<Vec<BodyId>> {
        let mut from: BTreeMap<BodyId, BodyId> = BTreeMap::new();
        let mut queue = VecDeque::from([start]);
        let mut seen = without.clone();
        seen.insert(start);
        while let Some(body) = queue.pop_front() {
            if self.rails.contains(&body) {
                let mut way = vec![body];
                let mut at = body;
                while let Some(before) = from.get(&at) {
                    way.push(*before);
                    at = *before;
                }
                way.reverse();
                return Some(way);
            }
            for next in self.next_to(body) {
                if seen.insert(next) {
                    from.insert(next, body);
                    queue.push_back(next);
                }
            }
        }
        None
    }

    /// Every rail that can be reached without passing through another.
    pub(super) fn rails_reached(&self, start: BodyId) -> BTreeSet<BodyId> {
        let mut reached = BTreeSet::new();
        let mut seen = BTreeSet::from([start]);
        let mut queue = VecDeque::from([start]);
        while let Some(body) = queue.pop_front() {
            if self.rails.contains(&body) {
                reached.insert(body);
                continue;
            }
            queue.extend(self.next_to(body).filter(|n| seen.insert(*n)));
        }
        reached
    }

    /// Everything on the rail's side of a cut: the rest of the way and what hangs on it.
    pub(super) fn far_side(
        &self,
        way: &[BodyId],
        cut: usize,
        near: &BTreeSet<BodyId>,
    ) -> BTreeSet<BodyId> {
        let mut side: BTreeSet<BodyId> = way[cut..].iter().copied().collect();
        let mut queue: VecDeque<BodyId> = way[cut..].iter().copied().collect();
        while let Some(body) = queue.pop_front() {
            for next in self.next_to(body) {
                if !near.contains(&next) && side.insert(next) {
                    queue.push_back(next);
                }
            }
        }
        side
    }

    /// Everything on the mount's side of the cut before place `cut` of a way: the way up to there
    /// and what hangs on it without being nearer to the rest of the way.
    pub(super) fn near_side(&self, way: &[BodyId], cut: usize) -> BTreeSet<BodyId> {
        let far: BTreeSet<BodyId> = way[cut..].iter().copied().collect();
        let mut side: BTreeSet<BodyId> = way[..cut].iter().copied().collect();
        let mut queue: VecDeque<BodyId> = way[..cut].iter().copied().collect();
        while let Some(body) = queue.pop_front() {
            for next in self.next_to(body) {
                if !far.contains(&next) && !self.rails.contains(&next) && side.insert(next) {
                    queue.push_back(next);
                }
            }
        }
        side
    }
}
