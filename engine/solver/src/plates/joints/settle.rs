//! From the base structure to settled joints: bolts are tightened, then loads come.
//!
//! **Tightening.** With no loads each shank that has a preload is given that force and everything
//! else settles. Then the lengths are kept: what the shank had to be shortened by is its gap from
//! there on.
//!
//! **Friction** follows Coulomb by rounds in which the limits are given: the coefficient times the
//! pressing forces of the round before. The first round holds everything. Places that slid while
//! bolts were tightened start the loads from where they had slid to; within a stage the path of
//! the load is one step.
//!
//! **A fresh solve** of the whole structure with the slips found must give the forces of the laws
//! again; where digits were lost in the condensed matrix the difference is put right and the
//! search goes on from there.

use super::Base;
use super::condensed::Condensed;
use super::law::{Block, Law, Stage};
use super::search::{Lost, SETTLED, Search};
use crate::plates::answer::Search as Report;
use fishplate_quantity::algebra::larger;

/// Rounds of friction at most.
const MOST_FRICTION: usize = 60;
/// Rounds after which the limits only go half way.
const CALM: usize = 12;
/// Change of the forces of friction, against the largest, at which they count as settled.
const STEADY: f64 = 1e-7;
/// Fresh solves at most.
const FRESH: usize = 5;
/// Largest force off its law after the fresh solve, against the scale of forces.
const CONSISTENT: f64 = 1e-7;

/// The joints of one load case in their final state.
#[derive(Clone, Debug)]
pub(crate) struct Settled {
    /// Movements of all nodes, those of joints after those of the frame; global axes.
    pub(crate) movements: Vec<f64>,
    /// Forces on the base structure (movement, force) that stand for what has slipped: with them
    /// and the loads it moves as the joints let it.
    pub(crate) forces: Vec<(usize, f64)>,
    /// Force of every block, N.
    pub(crate) block_forces: Vec<[f64; 2]>,
    /// Movement of every block, m: opening of a pressing one.
    pub(crate) block_movements: Vec<[f64; 2]>,
    pub(crate) report: Report,
}

impl Settled {
    /// Joints without laws: the movements of the base structure are the answer.
    pub(crate) fn linear(movements: Vec<f64>) -> Self {
        Settled {
            movements,
            forces: Vec::new(),
            block_forces: Vec::new(),
            block_movements: Vec::new(),
            report: Report::default(),
        }
    }
}

/// Blocks on a structure.
#[derive(Debug)]
pub(crate) struct Settling<'a> {
    base: &'a dyn Base,
    blocks: &'a [Block],
    condensed: Condensed,
    tight: Tight,
}

/// How the joints stand after tightening.
#[derive(Clone, Debug)]
struct Tight {
    /// Gap of every spring.
    gap: Vec<f64>,
    /// Where each block has slid to.
    slid: Vec<[f64; 2]>,
    /// Slips to start from.
    slip: Vec<f64>,
    /// Largest preload, N.
    largest: f64,
}

/// One stage with its friction settled.
struct Staged {
    slip: Vec<f64>,
    stages: Vec<Stage>,
    report: Report,
}

impl<'a> Settling<'a> {
    /// Condenses the structure and tightens the bolts.
    pub(crate) fn new(base: &'a dyn Base, blocks: &'a [Block]) -> Result<Self, Lost> {
        let condensed = Condensed::new(base, blocks);
        let size = condensed.size();
        let gap = blocks
            .iter()
            .flat_map(|block| {
                let gap = if let Law::Pressing { gap } = block.law { gap } else { 0.0 };
                block.rows.iter().map(move |_| gap)
            })
            .collect();
        let largest = blocks.iter().fold(0.0, |top, block| match block.law {
            Law::Shank { preload } => larger(top, preload),
            _ => top,
        });
        let tight =
            Tight { gap, slid: vec![[0.0; 2]; blocks.len()], slip: vec![0.0; size], largest };
        let mut settling = Settling { base, blocks, condensed, tight };
        if settling.tight.largest > 0.0 {
            settling.tighten()?;
        }
        Ok(settling)
    }

    fn tighten(&mut self) -> Result<(), Lost> {
        let at_rest = vec![0.0; self.condensed.size()];
        let scale = self.scale(0.0, &at_rest);
        let staged = self.stage(true, &self.fixed(&at_rest), scale, self.tight.slip.clone())?;
        let mut slip = staged.slip;
        for (block, stage) in staged.stages.iter().enumerate() {
            let first = self.condensed.first[block];
            if matches!(stage, Stage::Given(_)) {
                self.tight.gap[first] = -slip[first];
                slip[first] = 0.0;
            } else if matches!(stage, Stage::Friction { .. }) {
                self.tight.slid[block] = self.condensed.pair(&slip, block);
            }
        }
        self.tight.slip = slip;
        Ok(())
    }

    /// Settles a load case.
    pub(crate) fn case(&self, case: usize) -> Result<Settled, Lost> {
        let free = self.base.solve(case, &[]);
        let moved = Condensed::movements(self.blocks, &free);
        let scale = self.scale(self.base.largest_load(case), &moved);
        let mut fixed = self.fixed(&moved);
        let Staged { mut slip, stages, mut report } =
            self.stage(false, &fixed, scale, self.tight.slip.clone())?;
        let mut trials = 0;
        loop {
            trials += 1;
            let fresh = self.fresh(case, &slip);
            let off = self.off_law(&stages, &fresh);
            if off <= SETTLED * scale {
                return Ok(self.settled(fresh, report));
            }
            let condensed = self.condensed.times(&slip);
            for (i, fixed) in fixed.iter_mut().enumerate() {
                *fixed = fresh.force[i] - condensed[i];
            }
            let again = Search::new(&self.condensed, &stages, &fixed, scale).run(slip.clone());
            let better = again.as_ref().ok().filter(|a| a.slip != slip && trials < FRESH);
            match (better, again.as_ref().err()) {
                (Some(ended), _) => {
                    report.rounds += ended.rounds;
                    report.one_at_a_time |= ended.cut;
                    slip.clone_from(&ended.slip);
                }
                _ if off <= CONSISTENT * scale => return Ok(self.settled(fresh, report)),
                (None, Some(lost)) => return Err(lost.clone()),
                (None, None) => {
                    return Err(Lost::Unsettled((0..self.blocks.len()).collect(), report.rounds));
                }
            }
        }
    }

    /// Settles the laws of a stage, friction by rounds.
    fn stage(
        &self,
        tightening: bool,
        fixed: &[f64],
        scale: f64,
        mut slip: Vec<f64>,
    ) -> Result<Staged, Lost> {
        let rubs: Vec<(usize, usize, f64)> = self
            .blocks
            .iter()
            .enumerate()
            .filter_map(|(block, b)| match b.law {
                Law::Friction { pressed_by, coefficient } => Some((block, pressed_by, coefficient)),
                _ => None,
            })
            .collect();
        let mut limits = vec![f64::INFINITY; self.blocks.len()];
        let mut before: Vec<[f64; 2]> = Vec::new();
        let mut report = Report::default();
        loop {
            let stages = self.stages(tightening, &limits);
            let search = Search::new(&self.condensed, &stages, fixed, scale);
            let ended = search.run(slip)?;
            slip = ended.slip.clone();
            report.rounds += ended.rounds;
            report.one_at_a_time |= ended.cut;
            if rubs.is_empty() {
                search.confirm(&ended)?;
                return Ok(Staged { slip, stages, report });
            }
            let mut force = self.condensed.times(&slip);
            for (force, fixed) in force.iter_mut().zip(fixed) {
                *force += fixed;
            }
            let rubbing: Vec<[f64; 2]> =
                rubs.iter().map(|&(block, _, _)| self.condensed.pair(&force, block)).collect();
            report.friction_rounds += 1;
            if !before.is_empty() {
                report.friction_rest = change(&before, &rubbing, scale);
                if report.friction_rest <= STEADY || report.friction_rounds >= MOST_FRICTION {
                    search.confirm(&ended)?;
                    return Ok(Staged { slip, stages, report });
                }
            }
            before = rubbing;
            for &(block, pressed_by, coefficient) in &rubs {
                let pressing = larger(0.0, self.condensed.pair(&force, pressed_by)[0]);
                let limit = coefficient * pressing;
                let old = limits[block];
                limits[block] =
                    if report.friction_rounds < CALM { limit } else { 0.5 * (old + limit) };
            }
        }
    }

    fn stages(&self, tightening: bool, limits: &[f64]) -> Vec<Stage> {
        let stage = |(block, b): (usize, &Block)| match b.law {
            Law::Shank { preload } if tightening && preload > 0.0 => Stage::Given(preload),
            Law::Pressing { .. } | Law::Shank { .. } => Stage::Pressing,
            Law::Play { radius } => Stage::Play(radius),
            Law::Friction { .. } => {
                Stage::Friction { limit: limits[block], slid: self.tight.slid[block] }
            }
        };
        self.blocks.iter().enumerate().map(stage).collect()
    }

    /// Forces of the springs that have not slipped, under these movements of the base structure.
    fn fixed(&self, moved: &[f64]) -> Vec<f64> {
        let stiffness = &self.condensed.stiffness;
        let of_gaps = self.condensed.times(&self.tight.gap);
        (0..moved.len()).map(|i| -of_gaps[i] - stiffness[i] * moved[i]).collect()
    }

    /// The forces against which errors are judged: loads and preloads; without both, what
    /// prescribed movements and negative gaps do to the springs.
    fn scale(&self, load: f64, moved: &[f64]) -> f64 {
        let given = larger(load, self.tight.largest);
        if given > 0.0 {
            return given;
        }
        let stiffness = &self.condensed.stiffness;
        (0..moved.len()).fold(0.0, |top, i| {
            let gap = self.tight.gap[i];
            let forced = if gap < 0.0 { -gap } else { 0.0 };
            larger(top, stiffness[i] * (moved[i].abs() + forced))
        })
    }

    fn fresh(&self, case: usize, slip: &[f64]) -> Fresh {
        let mut sum = std::collections::BTreeMap::new();
        let rows = self.blocks.iter().flat_map(|b| &b.rows);
        for ((row, slip), gap) in rows.zip(slip).zip(&self.tight.gap) {
            for &(movement, c) in &row.terms {
                *sum.entry(movement).or_insert(0.0) += c * row.stiffness * (slip - gap);
            }
        }
        let forces: Vec<(usize, f64)> = sum.into_iter().collect();
        let movements = self.base.solve(case, &forces);
        let mut movement = Condensed::movements(self.blocks, &movements);
        for (movement, gap) in movement.iter_mut().zip(&self.tight.gap) {
            *movement += gap;
        }
        let stiffness = &self.condensed.stiffness;
        let force = (0..slip.len()).map(|i| stiffness[i] * (slip[i] - movement[i])).collect();
        Fresh { movements, forces, force, movement }
    }

    /// Largest difference of a force from its law.
    fn off_law(&self, stages: &[Stage], fresh: &Fresh) -> f64 {
        let mut worst = 0.0;
        for (block, stage) in stages.iter().enumerate() {
            let stiffness = self.condensed.stiffness[self.condensed.first[block]];
            let law = stage.force(stiffness, self.condensed.pair(&fresh.movement, block));
            let force = self.condensed.pair(&fresh.force, block);
            worst = larger(worst, larger((force[0] - law[0]).abs(), (force[1] - law[1]).abs()));
        }
        worst
    }

    fn settled(&self, fresh: Fresh, report: Report) -> Settled {
        let pairs = |values: &[f64]| -> Vec<[f64; 2]> {
            (0..self.blocks.len()).map(|block| self.condensed.pair(values, block)).collect()
        };
        let mut block_forces = pairs(&fresh.force);
        for (block, force) in block_forces.iter_mut().enumerate() {
            let one_sided =
                matches!(self.blocks[block].law, Law::Pressing { .. } | Law::Shank { .. });
            let open = self.condensed.pair(&fresh.movement, block)[0] >= 0.0;
            if one_sided && (open || force[0] < 0.0) {
                force[0] = 0.0;
            }
        }
        Settled {
            block_forces,
            block_movements: pairs(&fresh.movement),
            movements: fresh.movements,
            forces: fresh.forces,
            report,
        }
    }
}

/// The whole structure solved with given slips.
struct Fresh {
    movements: Vec<f64>,
    forces: Vec<(usize, f64)>,
    force: Vec<f64>,
    movement: Vec<f64>,
}

/// Largest change of the forces of friction against the largest of them, or against the scale of
/// forces times its own tolerance where they vanish.
fn change(before: &[[f64; 2]], now: &[[f64; 2]], scale: f64) -> f64 {
    let mut most = 0.0;
    let mut top = SETTLED * scale;
    for (a, b) in before.iter().zip(now) {
        for i in 0..2 {
            most = larger(most, (a[i] - b[i]).abs());
            top = larger(top, b[i].abs());
        }
    }
    if top > 0.0 { most / top } else { 0.0 }
}
