//! The search for the faces that press, the shanks that pull, the places that slide.
//!
//! Each round puts every law on the branch that it is on at the present movements, takes its
//! tangent there and solves the structure (a primal-dual active set: Hintermueller, Ito and
//! Kunisch, 2003; the same as Newton's method on the movements). It ends when every spring has the
//! force that its law asks for, within an absolute tolerance. The sets of branches are remembered.
//! When one comes back after another, or after many rounds, each further step is cut where the
//! stored energy would begin to rise: the energy is convex without kinks in its value or slope,
//! so it then falls every round and no set comes back.

use super::condensed::{Condensed, Slip};
use super::law::{Branch, Slope, Stage};
use fishplate_quantity::algebra::larger;
use std::collections::BTreeSet;

/// Rounds before every step is cut.
const QUICK: usize = 60;
/// Rounds in all.
const MOST: usize = 400;
/// Forces are settled within this share of the scale of forces.
pub(crate) const SETTLED: f64 = 1e-9;
/// What the digits of f64 leave of a force that a long slip makes.
const ROUNDOFF: f64 = 1e-12;

/// Where a search ended.
#[derive(Clone, Debug)]
pub(crate) struct Ended {
    /// Slip of every spring, m.
    pub(crate) slip: Vec<f64>,
    /// Rounds made.
    pub(crate) rounds: usize,
    /// Whether steps were cut.
    pub(crate) cut: bool,
    /// Whether the structure is held on the branches reached, where a step has shown it.
    held: Option<bool>,
}

/// Why a search found nothing. Both name the blocks concerned.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Lost {
    /// Nothing holds the structure once these have opened, or they slide.
    Free(Vec<usize>),
    /// These kept changing.
    Unsettled(Vec<usize>, usize),
}

/// A search with its laws and loads.
#[derive(Debug)]
pub(crate) struct Search<'a> {
    pub(crate) condensed: &'a Condensed,
    pub(crate) stages: &'a [Stage],
    /// Force of every spring without slip, N.
    pub(crate) fixed: &'a [f64],
    /// Scale of forces, N.
    pub(crate) scale: f64,
    /// Rounds before steps are cut.
    pub(crate) quick: usize,
}

/// A point of the search.
struct Point {
    slip: Vec<f64>,
    force: Vec<f64>,
    movement: Vec<f64>,
}

impl<'a> Search<'a> {
    pub(crate) fn new(
        condensed: &'a Condensed,
        stages: &'a [Stage],
        fixed: &'a [f64],
        scale: f64,
    ) -> Self {
        Search { condensed, stages, fixed, scale, quick: QUICK }
    }

    /// Searches from these slips.
    pub(crate) fn run(&self, start: Vec<f64>) -> Result<Ended, Lost> {
        let mut point = self.at(start);
        let mut seen: BTreeSet<Vec<Branch>> = BTreeSet::new();
        let mut last: Option<(Vec<Branch>, bool)> = None;
        let mut cut = false;
        for rounds in 0..MOST {
            let branches = self.branches(&point);
            if self.unsettled(&point).is_empty() {
                let held = last.filter(|(before, _)| *before == branches).map(|(_, held)| held);
                return Ok(Ended { slip: point.slip, rounds, cut, held });
            }
            let same = last.as_ref().is_some_and(|(before, _)| *before == branches);
            cut |= rounds >= self.quick || (!same && !seen.insert(branches.clone()));
            let (next, held) = self.step(&point);
            if next.iter().any(|s| s.is_nan()) {
                return Err(Lost::Free(self.freest(&point)));
            }
            let next = self.at(next);
            let next = if cut { self.cut(&point, next) } else { next };
            let moved = (0..next.slip.len())
                .any(|i| (next.slip[i] - point.slip[i]).abs() > ROUNDOFF * point.slip[i].abs());
            point = next;
            last = Some((branches, held));
            if !moved {
                break;
            }
        }
        let unsettled = self.unsettled(&point);
        match last {
            Some((_, false)) => Err(Lost::Free(self.freest(&point))),
            Some(_) if unsettled.is_empty() => {
                Ok(Ended { slip: point.slip, rounds: MOST, cut, held: None })
            }
            _ => Err(Lost::Unsettled(unsettled, MOST)),
        }
    }

    /// Fails where nothing holds the structure on the branches on which a search ended: then its
    /// place is a matter of chance.
    pub(crate) fn confirm(&self, ended: &Ended) -> Result<(), Lost> {
        let point = self.at(ended.slip.clone());
        let held = ended.held.unwrap_or_else(|| self.step(&point).1);
        if held { Ok(()) } else { Err(Lost::Free(self.freest(&point))) }
    }

    fn at(&self, slip: Vec<f64>) -> Point {
        let mut force = self.condensed.times(&slip);
        for (force, fixed) in force.iter_mut().zip(self.fixed) {
            *force += fixed;
        }
        let movement = self.movements(&slip, &force);
        Point { slip, force, movement }
    }

    fn movements(&self, slip: &[f64], force: &[f64]) -> Vec<f64> {
        let stiffness = &self.condensed.stiffness;
        (0..slip.len()).map(|i| slip[i] - force[i] / stiffness[i]).collect()
    }

    fn stiffness(&self, block: usize) -> f64 {
        self.condensed.stiffness[self.condensed.first[block]]
    }

    fn branches(&self, point: &Point) -> Vec<Branch> {
        let movement = |block| self.condensed.pair(&point.movement, block);
        self.stages
            .iter()
            .enumerate()
            .map(|(b, stage)| stage.branch(self.stiffness(b), movement(b)))
            .collect()
    }

    /// The blocks whose force is not that of their law.
    fn unsettled(&self, point: &Point) -> Vec<usize> {
        let excess = |block: usize| {
            let stiffness = self.stiffness(block);
            let law =
                self.stages[block].force(stiffness, self.condensed.pair(&point.movement, block));
            let force = self.condensed.pair(&point.force, block);
            let slip = self.condensed.pair(&point.slip, block);
            let largest = larger(slip[0].abs(), slip[1].abs());
            let tolerance = SETTLED * self.scale + ROUNDOFF * stiffness * largest;
            let off = larger((force[0] - law[0]).abs(), (force[1] - law[1]).abs());
            off > tolerance || off.is_nan()
        };
        (0..self.stages.len()).filter(|&block| excess(block)).collect()
    }

    /// Slips that the tangents of all laws at a point ask for, and whether they hold the structure.
    fn step(&self, point: &Point) -> (Vec<f64>, bool) {
        let mut given = vec![0.0; point.slip.len()];
        let (mut slips, mut holds) = (Vec::new(), Vec::new());
        for (block, stage) in self.stages.iter().enumerate() {
            let stiffness = self.stiffness(block);
            let (slopes, count) =
                stage.slopes(stiffness, self.condensed.pair(&point.movement, block));
            for Slope { direction, share, constant } in slopes.into_iter().take(count) {
                if share < 1.0 {
                    let extra = stiffness * share / (1.0 - share);
                    let constant = constant / (1.0 - share);
                    slips.push(Slip { block, direction, extra, constant });
                } else {
                    let hold = Slip { block, direction, extra: 0.0, constant: 0.0 };
                    for (entry, d) in self.condensed.entries(&hold) {
                        given[entry] += constant / stiffness * d;
                    }
                    holds.push(hold);
                }
            }
        }
        let start = self.at(given);
        let (lengths, held) = self.condensed.solve(&slips, &holds, &start.force);
        let mut slip = self.condensed.gathered(&slips, &lengths);
        slip.iter_mut().zip(&start.slip).for_each(|(s, given)| *s += given);
        (slip, held)
    }

    /// The point towards the next one at which the energy begins to rise.
    fn cut(&self, from: &Point, to: Point) -> Point {
        let between = |share: f64, a: &[f64], b: &[f64]| -> Vec<f64> {
            a.iter().zip(b).map(|(a, b)| a + share * (b - a)).collect()
        };
        let slope = |share: f64| -> f64 {
            let force = between(share, &from.force, &to.force);
            let movement = between(share, &from.movement, &to.movement);
            let mut sum = 0.0;
            for (block, stage) in self.stages.iter().enumerate() {
                let law = stage.force(self.stiffness(block), self.condensed.pair(&movement, block));
                let first = self.condensed.first[block];
                for i in first..self.condensed.first[block + 1] {
                    sum += (force[i] - law[i - first]) * (to.movement[i] - from.movement[i]);
                }
            }
            sum
        };
        if slope(1.0) <= 0.0 {
            return to;
        }
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..50 {
            let middle = 0.5 * (low + high);
            if slope(middle) <= 0.0 { low = middle } else { high = middle }
        }
        self.at(between(0.5 * (low + high), &from.slip, &to.slip))
    }

    /// The blocks that slip farthest.
    fn freest(&self, point: &Point) -> Vec<usize> {
        let length = |block: usize| {
            let [a, b] = self.condensed.pair(&point.slip, block);
            (a * a + b * b).sqrt()
        };
        let count = self.stages.len();
        let farthest = (0..count).fold(0.0, |top, block| larger(top, length(block)));
        (0..count).filter(|&block| length(block) >= 0.3 * farthest).collect()
    }
}
