//! Every combination decided, the cheapest way first.

use std::collections::BTreeSet;

use fishplate_quantity::algebra::smaller;

use super::measure::Measured;
use super::reach::Reach;
use super::tables::{Judged, Tables};
use super::{Asked, Bound, Found, Miss, Objective, Sizing, Tally};
use crate::answer::Row;
use crate::checks::Scope;
use crate::design::Clash;
use crate::pipeline::{self, Found as Placed};
use crate::study::screen::Prepared;
use crate::study::side_by_side;
use crate::study::space::Space;
use crate::{Caller, Cancel, CheckError, Progress};

/// Designs that are run before the tables are looked at again: fixed, so that what is run does not
/// depend on the number of threads.
const BATCH: usize = 48;
/// Designs between two looks at whether the caller still waits.
const POLL: usize = 512;

/// The base, placed and run once in full.
pub(super) struct First {
    placed: Placed,
    rows: Vec<Row>,
}

impl First {
    pub(super) fn of(
        space: &Space,
        base: &Prepared,
        cancel: &dyn Cancel,
    ) -> Result<Self, CheckError> {
        let (project, placed) = base.find(space.base(), cancel)?;
        let rows = pipeline::run(&project, &placed, &Scope::everything(), false, cancel)?;
        Ok(Self { placed, rows })
    }
}

/// How a design was decided.
#[derive(Debug, Clone, Copy, PartialEq)]
enum State {
    Waiting,
    NotBuildable,
    /// By the row of this number.
    Cut(u32),
    /// Run; it exceeds.
    Failed,
    /// It holds; whether it was run, whether something is open.
    Holds {
        run: bool,
        open: bool,
    },
}

/// What became of a design that was run.
enum Outcome {
    /// Its faults: path and words.
    Refused(Vec<(String, String)>),
    Ran {
        clashes: Vec<Clash>,
        rows: Vec<Row>,
    },
}

/// The state of a sizing.
pub(super) struct Search<'s> {
    space: &'s Space,
    asked: &'s Asked,
    prepared: &'s Prepared,
    tables: Tables<'s>,
    measured: Measured<'s>,
    scope: Scope,
    constant_rows: usize,
    states: Vec<State>,
    /// Designs in the order of the objectives that are known before a design is run.
    order: Vec<(Vec<f64>, u32)>,
    holding: Vec<Found>,
}

impl<'s> Search<'s> {
    pub(super) fn new(
        space: &'s Space,
        asked: &'s Asked,
        prepared: &'s Prepared,
        first: &'s First,
    ) -> Self {
        let (design, path) = (&first.placed.design, &first.placed.path);
        let mut tables = Tables::new(space, Reach { design, path });
        let touched: Vec<bool> =
            first.rows.iter().map(|row| !tables.reached(row).is_empty()).collect();
        // Rows of mounts that no option touches are run once: here. The base is the first design
        // only where the first options are its own, so its other rows are not taken.
        let constant: Vec<Row> = first
            .rows
            .iter()
            .zip(&touched)
            .filter(|(_, touched)| !**touched)
            .map(|(row, _)| row.clone())
            .collect();
        tables.constant(&constant);
        let mounts: BTreeSet<Option<usize>> = first
            .rows
            .iter()
            .zip(&touched)
            .filter(|(_, touched)| **touched)
            .map(|(row, _)| row.mount)
            .collect();
        let mut scope = Scope::mounts(mounts.iter().flatten().copied());
        if mounts.contains(&None) {
            scope = scope.and_whole();
        }
        let measured = Measured::new(&tables, prepared, design, asked.rates);
        let count = usize::try_from(space.designs()).unwrap_or(usize::MAX);
        Self {
            space,
            asked,
            prepared,
            tables,
            measured,
            scope,
            constant_rows: constant.len(),
            states: vec![State::Waiting; count],
            order: Vec::with_capacity(count),
            holding: Vec::new(),
        }
    }

    fn choice(&self, number: u32) -> Vec<usize> {
        self.space.choice(u128::from(number))
    }

    /// Decides every design.
    pub(super) fn decide(&mut self, caller: &dyn Caller) -> Result<(), CheckError> {
        let exact: Vec<Objective> =
            self.asked.by.iter().copied().filter(|by| *by != Objective::Utilisation).collect();
        for number in 0..u32::try_from(self.states.len()).unwrap_or(u32::MAX) {
            if (number as usize).is_multiple_of(POLL) {
                self.poll(caller, "weighing designs", number as usize)?;
            }
            match self.measured.of(&self.choice(number)) {
                None => self.states[number as usize] = State::NotBuildable,
                Some(measures) => {
                    let key = exact.iter().map(|by| measures.value(*by, 0.0)).collect();
                    self.order.push((key, number));
                }
            }
        }
        self.order.sort_by(|a, b| {
            let keys = a.0.iter().zip(&b.0).map(|(a, b)| a.total_cmp(b));
            keys.fold(std::cmp::Ordering::Equal, std::cmp::Ordering::then).then(a.1.cmp(&b.1))
        });
        let mut waiting: Vec<u32> = self.order.iter().rev().map(|(_, number)| *number).collect();
        while !waiting.is_empty() {
            let decided = self.states.len() - waiting.len();
            self.poll(caller, "sizing", decided)?;
            let batch = self.batch(&mut waiting);
            self.run(&batch, caller)?;
        }
        Ok(())
    }

    fn poll(&self, caller: &dyn Caller, doing: &str, done: usize) -> Result<(), CheckError> {
        caller.told(Progress { doing: doing.to_owned(), done, of: self.states.len() });
        if caller.cancelled() { Err(CheckError::Cancelled) } else { Ok(()) }
    }

    /// Decides what the tables decide, and takes out the next designs to run: each fills a cell that
    /// none before it does. What waits for those of this batch stays in front.
    fn batch(&mut self, waiting: &mut Vec<u32>) -> Vec<u32> {
        let mut batch = Vec::new();
        let mut pending = BTreeSet::new();
        let mut deferred = Vec::new();
        while let Some(number) = waiting.pop() {
            match self.tables.judge(&self.choice(number)) {
                Judged::Unknown(cells) => {
                    let fresh = cells.iter().any(|cell| !pending.contains(cell));
                    if !fresh {
                        deferred.push(number);
                        continue;
                    }
                    pending.extend(cells);
                    batch.push(number);
                    if batch.len() == BATCH {
                        break;
                    }
                }
                judged => self.decided(number, &judged, false),
            }
        }
        waiting.extend(deferred.into_iter().rev());
        batch
    }

    fn decided(&mut self, number: u32, judged: &Judged, run: bool) {
        self.states[number as usize] = match *judged {
            Judged::Broken => State::NotBuildable,
            Judged::Exceeds(_) if run => State::Failed,
            Judged::Exceeds(row) => State::Cut(u32::try_from(row).unwrap_or(u32::MAX)),
            Judged::Holds { worst, open } => {
                let choice = self.choice(number);
                if let Some(measures) = self.measured.of(&choice) {
                    self.holding.push(Found { choice, measures, worst, open });
                }
                State::Holds { run, open }
            }
            Judged::Unknown(_) => State::Waiting,
        };
    }

    /// Runs designs and takes note of what they come to.
    fn run(&mut self, batch: &[u32], caller: &dyn Caller) -> Result<(), CheckError> {
        let (space, prepared, scope, tables) =
            (self.space, self.prepared, &self.scope, &self.tables);
        let outcomes = side_by_side::each(
            batch.len(),
            self.asked.threads,
            caller,
            &mut |_| {},
            || (),
            |(), at, cancel| {
                let choice = space.choice(u128::from(batch[at]));
                outcome(space, prepared, (scope, tables), &choice, cancel)
            },
        )?;
        for (number, outcome) in batch.iter().zip(outcomes) {
            let choice = self.choice(*number);
            match outcome? {
                Outcome::Refused(faults) => {
                    for (path, why) in faults {
                        self.tables.refused(&choice, &path, why);
                    }
                    self.states[*number as usize] = State::NotBuildable;
                }
                Outcome::Ran { clashes, rows } => {
                    if self.tables.placed(&choice, &clashes) {
                        self.tables.ran(&choice, &rows);
                    }
                    let judged = self.tables.judge(&choice);
                    self.decided(*number, &judged, true);
                }
            }
        }
        Ok(())
    }

    /// What came out.
    pub(super) fn told(mut self, caller: &dyn Caller) -> Result<Sizing, CheckError> {
        let mut tally = Tally::default();
        for state in &self.states {
            count(&mut tally, *state);
        }
        let mut found = std::mem::take(&mut self.holding);
        let by = self.asked.by.clone();
        found.sort_by(|a, b| {
            let keys = by.iter().map(|by| {
                a.measures.value(*by, a.worst).total_cmp(&b.measures.value(*by, b.worst))
            });
            keys.fold(std::cmp::Ordering::Equal, std::cmp::Ordering::then)
                .then_with(|| a.choice.cmp(&b.choice))
        });
        let better = found.first().map(|best| self.better(best));
        let front = front(&found, self.asked.front);
        let states = self.states.clone();
        let miss = if found.is_empty() { self.miss(caller)? } else { None };
        // What was run to find the miss decided nothing.
        self.states = states;
        let bounds = self.bounds();
        found.truncate(self.asked.top);
        Ok(Sizing {
            designs: self.states.len() as u64,
            tally,
            better,
            found,
            front,
            bounds,
            constant_rows: self.constant_rows,
            miss,
            confirmed: Vec::new(),
        })
    }

    /// How the designs were decided that would be better by the first objective, where that is known
    /// of every design.
    fn better(&mut self, best: &Found) -> Tally {
        let mut tally = Tally::default();
        let Some(first) = self.asked.by.first().filter(|by| **by != Objective::Utilisation) else {
            return tally;
        };
        let limit = best.measures.value(*first, 0.0);
        for (key, number) in &self.order {
            if key.first().is_some_and(|key| *key < limit) {
                count(&mut tally, self.states[*number as usize]);
            }
        }
        tally
    }

    /// The rows that options touch.
    fn bounds(&self) -> Vec<Bound> {
        let mut cut = vec![0_u64; self.tables.names.len()];
        for state in &self.states {
            if let State::Cut(row) = state {
                cut[*row as usize] += 1;
            }
        }
        let mut bounds = Vec::new();
        for table in self.tables.rows.iter().filter(|table| !table.by.is_empty()) {
            for (number, name) in self.tables.names.iter().enumerate() {
                let uses =
                    || table.cells().flat_map(|rows| &rows.uses).filter(|(n, _)| *n == number);
                let Some(least) = uses().map(|(_, used)| *used).reduce(smaller) else { continue };
                bounds.push(Bound {
                    row: name.clone(),
                    by: table.by.clone(),
                    cells: u64::try_from(table.size(self.space)).unwrap_or(u64::MAX),
                    filled: table.filled() as u64,
                    least,
                    cut: cut[number],
                });
            }
        }
        bounds.sort_by(|a, b| b.cut.cmp(&a.cut).then_with(|| a.row.cmp(&b.row)));
        bounds
    }

    /// The design whose highest utilisation is least: designs are run in the order of their bounds
    /// until the least bound is a utilisation.
    fn miss(&mut self, caller: &dyn Caller) -> Result<Option<Miss>, CheckError> {
        loop {
            self.poll(caller, "looking for the nearest miss", 0)?;
            let mut bounds: Vec<(f64, bool, u32)> = Vec::new();
            for (_, number) in &self.order {
                if self.states[*number as usize] == State::NotBuildable {
                    continue;
                }
                if let Some((bound, whole)) = self.tables.bound(&self.choice(*number)) {
                    bounds.push((bound, !whole, *number));
                }
            }
            // Of equal bounds one that is whole comes first, then the lighter.
            bounds.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            let Some((worst, unknown, number)) = bounds.first().copied() else { return Ok(None) };
            if unknown {
                let open = bounds.iter().take(BATCH).filter(|(_, unknown, _)| *unknown);
                let batch: Vec<u32> = open.map(|(_, _, number)| *number).collect();
                self.run(&batch, caller)?;
                continue;
            }
            let choice = self.choice(number);
            let rows = self.tables.exceeding(&choice);
            let measures = self.measured.of(&choice).unwrap_or_default();
            let always = self.tables.always_exceeding();
            return Ok(Some(Miss { choice, measures, worst, rows, always }));
        }
    }
}

/// Runs what is not known of a design.
fn outcome(
    space: &Space,
    prepared: &Prepared,
    (scope, tables): (&Scope, &Tables<'_>),
    choice: &[usize],
    cancel: &dyn Cancel,
) -> Result<Outcome, CheckError> {
    let described = space.design(choice);
    let (project, placed) = match prepared.find(&described, cancel) {
        Ok(placed) => placed,
        Err(CheckError::Cancelled) => return Err(CheckError::Cancelled),
        Err(CheckError::Faults(faults)) => {
            let told = faults.into_iter().map(|f| (f.path.clone(), f.to_string())).collect();
            return Ok(Outcome::Refused(told));
        }
        Err(other) => return Ok(Outcome::Refused(vec![(String::new(), other.to_string())])),
    };
    let wanted = tables.wants(choice);
    let rows = pipeline::run_wanted((&project, &placed, scope), &wanted, false, cancel)?;
    Ok(Outcome::Ran { clashes: placed.design.clashes, rows })
}

fn count(tally: &mut Tally, state: State) {
    match state {
        State::Waiting => {}
        State::NotBuildable => tally.not_buildable += 1,
        State::Cut(_) => tally.cut += 1,
        State::Failed => tally.run += 1,
        State::Holds { run, open } => {
            if run {
                tally.run += 1;
            } else {
                tally.known += 1;
            }
            if open {
                tally.open += 1;
            } else {
                tally.holding += 1;
            }
        }
    }
}

/// The designs of which none is better in both objectives, ascending in the first.
fn front(found: &[Found], [a, b]: [Objective; 2]) -> Vec<Found> {
    let value = |f: &Found, by: Objective| f.measures.value(by, f.worst);
    let mut all: Vec<&Found> = found.iter().collect();
    all.sort_by(|x, y| {
        value(x, a).total_cmp(&value(y, a)).then(value(x, b).total_cmp(&value(y, b)))
    });
    let mut front: Vec<Found> = Vec::new();
    for one in all {
        if front.last().is_none_or(|last| value(one, b) < value(last, b)) {
            front.push(one.clone());
        }
    }
    front
}
