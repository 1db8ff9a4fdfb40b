//! Seams, spots, spreads, bolts and contact: springs between movements of plates that need not
//! share nodes.
//!
//! * [`surface`]: the middle surface of a plate and the nearest point on it; [`site`]: all of them.
//! * [`row`], [`motion`], [`area`]: sums of movements, of nodes, feet and the mean of areas.
//! * [`seam`], [`spot`], [`bolt`], [`contact`]: what each joint is made of, and its forces.
//! * [`law`]: joints whose force is no straight line.
//! * [`condensed`], [`search`], [`settle`]: how they find their state.
//!
//! Every spring acts in the base structure, whether its law lets it or not; what a law takes away
//! again is a force on the base structure. So the base structure is factored once for all load
//! cases, and it is regular where closed contacts are what holds a body.

mod area;
mod bolt;
mod condensed;
mod contact;
mod law;
mod motion;
mod row;
mod seam;
mod search;
mod settle;
mod site;
mod spot;
mod surface;

#[cfg(test)]
mod tests;

pub(crate) use row::Row;
pub(crate) use settle::Settled;

use super::answer::{BoltAnswer, ContactAnswer, SeamAnswer, SpotAnswer, SpreadAnswer};
use super::model::{BoltId, ContactId, PlateDraft, SeamId, SpotId, SpreadId};
use crate::error::SolveError;
use crate::model::CaseId;
use crate::vector::Vec3;
use bolt::{BoltTie, Gathered};
use contact::{FacePair, MOST_ADVICE, MOST_SPRINGS, MOST_WORDS};
use fishplate_quantity::Fault;
use law::{Block, Owner};
use seam::SeamTie;
use search::Lost;
use settle::Settling;
use site::{Site, fault};
use spot::Tie;

/// The structure with every joint closed, factored: what the search for pressing faces asks.
pub(crate) trait Base: Sync + std::fmt::Debug {
    /// Movements (`6 n + i`, global) under each set of forces (movement, force) alone, without
    /// loads and with supports at rest.
    fn respond(&self, forces: &[Vec<(usize, f64)>]) -> Vec<Vec<f64>>;

    /// Movements under the loads and prescribed movements of a load case and further forces.
    fn solve(&self, case: usize, forces: &[(usize, f64)]) -> Vec<f64>;

    /// Largest force of a load case, N.
    fn largest_load(&self, case: usize) -> f64;
}

/// All joints of a structure on its meshes.
#[derive(Clone, Debug)]
pub(crate) struct Joints {
    nodes: Vec<Vec3>,
    rows: Vec<Row>,
    blocks: Vec<Block>,
    seams: Vec<SeamTie>,
    spots: Vec<Tie>,
    /// `None` for rigid ones.
    spreads: Vec<Option<Tie>>,
    bolts: Vec<BoltTie>,
    contacts: Vec<FacePair>,
    /// Bolts and contacts as a message names them.
    names: [Vec<String>; 2],
}

/// Forces of all joints in a load case.
#[derive(Clone, Debug)]
pub(crate) struct JointAnswers {
    pub(crate) seams: Vec<SeamAnswer>,
    pub(crate) spots: Vec<SpotAnswer>,
    /// `None` for rigid ones.
    pub(crate) spreads: Vec<Option<SpreadAnswer>>,
    pub(crate) bolts: Vec<BoltAnswer>,
    pub(crate) contacts: Vec<ContactAnswer>,
}

impl Joints {
    /// Finds where the joints of a draft sit. References and numbers of the draft are checked
    /// already, and its elements have usable shapes.
    ///
    /// # Errors
    /// All faults, each with the names of the joint and the plate.
    pub(crate) fn find(draft: &PlateDraft) -> Result<Self, Vec<Fault>> {
        let Some(site) = Site::new(draft) else {
            return Err(vec![fault(
                "plates".to_owned(),
                "an element whose corners enclose no area".to_owned(),
                "elements with an area",
                "mesh the plate again",
            )]);
        };
        let site = &site;
        let mut faults = Vec::new();
        let (mut rows, mut blocks, mut nodes) = (Vec::new(), Vec::new(), Vec::new());
        let mut keep = |found: Vec<Fault>| faults.extend(found);
        let seams = (0..draft.seams.len())
            .filter_map(|i| SeamTie::new(site, SeamId(i), &mut rows).map_err(&mut keep).ok())
            .collect();
        let spots = (0..draft.spots.len())
            .filter_map(|i| Tie::of_spot(site, SpotId(i), &mut rows).map_err(&mut keep).ok())
            .collect();
        let spreads = (0..draft.spreads.len())
            .filter_map(|i| Tie::of_spread(site, SpreadId(i), &mut rows).map_err(&mut keep).ok())
            .collect();
        let mut to = Gathered {
            rows: &mut rows,
            blocks: &mut blocks,
            nodes: &mut nodes,
            first_node: draft.frame.nodes.len(),
        };
        let bolts = (0..draft.bolts.len())
            .filter_map(|i| BoltTie::new(site, BoltId(i), &mut to).map_err(&mut keep).ok())
            .collect();
        let contacts: Vec<FacePair> = (0..draft.contacts.len())
            .filter_map(|i| FacePair::new(site, ContactId(i), &mut to).map_err(&mut keep).ok())
            .collect();
        let springs: usize = blocks
            .iter()
            .filter(|block| matches!(block.owner, Owner::Contact(_)))
            .map(|block| block.rows.len())
            .sum();
        if springs > MOST_SPRINGS {
            let given = format!("{springs} springs of contacts");
            faults.push(fault("contacts".to_owned(), given, MOST_WORDS, MOST_ADVICE));
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let names = [
            draft.bolts.iter().map(|b| format!("bolt `{}`", b.name)).collect(),
            draft.contacts.iter().map(|c| format!("contact `{}`", c.name)).collect(),
        ];
        Ok(Joints { nodes, rows, blocks, seams, spots, spreads, bolts, contacts, names })
    }

    /// Places of the nodes that joints bring along, m. They are numbered after the nodes of the
    /// frame, have six free movements and appear in no answer.
    pub(crate) fn nodes(&self) -> &[Vec3] {
        &self.nodes
    }

    /// Every spring of the base structure.
    pub(crate) fn rows(&self) -> impl Iterator<Item = &Row> {
        self.rows.iter().chain(self.blocks.iter().flat_map(|b| &b.rows))
    }

    /// The springs that act in a state: those whose block bears a force.
    pub(crate) fn acting_rows(&self, settled: &Settled) -> Vec<&Row> {
        let bears = |block: usize| {
            settled.block_forces.get(block).is_none_or(|f| f.iter().any(|f| f.abs() > 0.0))
        };
        let blocks = self.blocks.iter().enumerate().filter(|&(i, _)| bears(i));
        self.rows.iter().chain(blocks.flat_map(|(_, block)| &block.rows)).collect()
    }

    /// Settles load cases, `threads` at a time; the numbers do not depend on it.
    ///
    /// # Errors
    /// When nothing holds the structure once joints have opened, or they do not settle; that of
    /// the first case concerned.
    pub(crate) fn settle(
        &self,
        base: &dyn Base,
        cases: &[usize],
        threads: usize,
    ) -> Result<Vec<Settled>, SolveError> {
        if self.blocks.is_empty() {
            return Ok(cases.iter().map(|&case| Settled::linear(base.solve(case, &[]))).collect());
        }
        let settling = Settling::new(base, &self.blocks).map_err(|lost| self.lost(None, &lost))?;
        let threads = threads.clamp(1, cases.len().clamp(1, 64));
        let mut found: Vec<(usize, Result<Settled, Lost>)> = if threads == 1 {
            cases.iter().map(|&case| settling.case(case)).enumerate().collect()
        } else {
            let settling = &settling;
            std::thread::scope(|scope| {
                let workers: Vec<_> = (0..threads)
                    .map(|worker| {
                        scope.spawn(move || {
                            let own = (worker..cases.len()).step_by(threads);
                            own.map(|i| (i, settling.case(cases[i]))).collect::<Vec<_>>()
                        })
                    })
                    .collect();
                // A panic of a worker is a panic of the solve.
                workers
                    .into_iter()
                    .flat_map(|w| w.join().unwrap_or_else(|p| std::panic::resume_unwind(p)))
                    .collect()
            })
        };
        found.sort_by_key(|&(i, _)| i);
        found
            .into_iter()
            .map(|(i, settled)| settled.map_err(|lost| self.lost(Some(CaseId(cases[i])), &lost)))
            .collect()
    }

    /// The forces of all joints.
    pub(crate) fn answers(&self, settled: &Settled) -> JointAnswers {
        let (rows, u) = (&self.rows[..], &settled.movements[..]);
        let force = |block: usize| settled.block_forces[block];
        let movement = |block: usize| settled.block_movements[block];
        JointAnswers {
            seams: (0..).zip(&self.seams).map(|(i, s)| s.answer(SeamId(i), rows, u)).collect(),
            spots: (0..).zip(&self.spots).map(|(i, s)| s.spot_answer(SpotId(i), rows, u)).collect(),
            spreads: (0..)
                .zip(&self.spreads)
                .map(|(i, s)| s.map(|s| s.spread_answer(SpreadId(i), rows, u)))
                .collect(),
            bolts: (0..)
                .zip(&self.bolts)
                .map(|(i, b)| b.answer(BoltId(i), rows, u, &force))
                .collect(),
            contacts: (0..)
                .zip(&self.contacts)
                .map(|(i, c)| c.answer(ContactId(i), &force, &movement))
                .collect(),
        }
    }

    fn lost(&self, case: Option<CaseId>, lost: &Lost) -> SolveError {
        let names = |blocks: &[usize]| {
            let mut owners: Vec<Owner> = blocks.iter().map(|&b| self.blocks[b].owner).collect();
            owners.sort();
            owners.dedup();
            owners
                .into_iter()
                .map(|owner| match owner {
                    Owner::Bolt(id) => self.names[0][id.0].clone(),
                    Owner::Contact(id) => self.names[1][id.0].clone(),
                })
                .collect()
        };
        match lost {
            Lost::Free(blocks) => SolveError::JointsOpen { case, joints: names(blocks) },
            Lost::Unsettled(blocks, steps) => {
                SolveError::JointsUnsettled { case, steps: *steps, joints: names(blocks) }
            }
        }
    }
}
