//! Sizing: of all designs of a space, those that hold, and that none better does.
//!
//! Every combination is decided. Rows are kept in tables over the options they can depend on
//! (`reach.rs`); a combination is cut off as soon as one of its rows is known to exceed, whatever the
//! other quantities are, and is put together from the tables where all its rows are known. Only what
//! is left is run, through the same pipeline as a check.

mod measure;
mod reach;
mod search;
mod tables;

pub use measure::{Measures, Objective};
pub use tables::RowName;

use super::bill::Rates;
use super::space::Space;
use crate::answer::Verdict;
use crate::pipeline::{self, Depth, Options};
use crate::{Caller, CheckError, Progress};
use search::Search;

/// Most designs that are sorted and kept.
pub const DESIGNS: u128 = 4_000_000;

/// What is asked beside the designs.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// What is wanted little of, first things first. At least one.
    pub by: Vec<Objective>,
    /// The two that the trade-off is drawn over.
    pub front: [Objective; 2],
    /// What things cost.
    pub rates: Rates,
    /// Designs that are listed.
    pub top: usize,
    /// How deep the best are confirmed.
    pub depth: Depth,
    /// Designs that are confirmed.
    pub confirm: usize,
    /// Threads that may work at the same time; nothing depends on it.
    pub threads: usize,
}

/// A design that holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Its options, one of each quantity.
    pub choice: Vec<usize>,
    /// What it takes to make.
    pub measures: Measures,
    /// Its highest utilisation.
    pub worst: f64,
    /// Whether something that its options touch could not be checked or is no rule of the trade: it
    /// holds as far as it was checked.
    pub open: bool,
}

/// How the combinations were decided. Every one is in one of the first four.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Tally {
    /// Cut off by a row that exceeds whatever the other quantities are.
    pub cut: u64,
    /// Put together: all their rows were known from other designs.
    pub known: u64,
    /// Run row by row.
    pub run: u64,
    /// Not buildable: their options get in each other's way or cannot be read.
    pub not_buildable: u64,
    /// Of all those, designs that hold with nothing open among what the options touch.
    pub holding: u64,
    /// Designs that hold as far as they could be checked.
    pub open: u64,
}

/// A row as a bound.
#[derive(Debug, Clone, PartialEq)]
pub struct Bound {
    /// The row.
    pub row: RowName,
    /// The quantities it can depend on, by place.
    pub by: Vec<usize>,
    /// Combinations of their options.
    pub cells: u64,
    /// Of those, how many were run.
    pub filled: u64,
    /// Least utilisation among them.
    pub least: f64,
    /// Designs that it cut off.
    pub cut: u64,
}

/// A design that does not hold, but least.
#[derive(Debug, Clone, PartialEq)]
pub struct Miss {
    /// Its options.
    pub choice: Vec<usize>,
    /// What it takes to make.
    pub measures: Measures,
    /// Its highest utilisation.
    pub worst: f64,
    /// Its rows that exceed, worst first.
    pub rows: Vec<(RowName, f64)>,
    /// Rows that exceed whatever is chosen, with the least utilisation of each.
    pub always: Vec<(RowName, f64)>,
}

/// A design that was checked in full.
#[derive(Debug, Clone, PartialEq)]
pub struct Confirmed {
    /// Its options.
    pub choice: Vec<usize>,
    /// The verdict.
    pub verdict: Verdict,
    /// The verdict in one sentence.
    pub sentence: String,
    /// The highest utilisation and its row, in words.
    pub governing: Option<(f64, String)>,
    /// Why a verdict that would hold is only provisional.
    pub reasons: Vec<String>,
}

/// What came out.
#[derive(Debug, Clone, PartialEq)]
pub struct Sizing {
    /// Combinations there are.
    pub designs: u64,
    /// How they were decided.
    pub tally: Tally,
    /// Of those better than the best by the first objective: how many, and how they were decided.
    pub better: Option<Tally>,
    /// Designs that hold, best first, as many as asked for.
    pub found: Vec<Found>,
    /// Those of which none is better in both objectives.
    pub front: Vec<Found>,
    /// The rows that options touch, with what they rest on; those that cut off most come first.
    pub bounds: Vec<Bound>,
    /// Rows that no option touches: how many were run once.
    pub constant_rows: usize,
    /// What comes nearest, where none holds.
    pub miss: Option<Miss>,
    /// The best, checked in full.
    pub confirmed: Vec<Confirmed>,
}

/// Sizes: decides every design of a space.
///
/// # Errors
/// Faults of the base; [`CheckError::Unsolved`] where the cradle can move on its mounts or there are
/// more than [`DESIGNS`] designs; [`CheckError::Cancelled`].
pub fn size(space: &Space, asked: &Asked, caller: &dyn Caller) -> Result<Sizing, CheckError> {
    let designs = space.designs();
    if designs > DESIGNS {
        return Err(CheckError::Unsolved(format!(
            "{designs} combinations are open; at most {DESIGNS} can be decided at once"
        )));
    }
    let base = super::screen::Prepared::of(space.base())?;
    let first = search::First::of(space, &base, caller)?;
    let mut search = Search::new(space, asked, &base, &first);
    search.decide(caller)?;
    let mut sizing = search.told(caller)?;
    let plates = matches!(asked.depth, Depth::Plate { .. });
    // Hand statics and plates may differ: some more are tried before giving up.
    let tries = if plates { 4 * asked.confirm } else { asked.confirm };
    let mut sound = 0;
    for (at, found) in sizing.found.iter().take(tries).enumerate() {
        if sound == asked.confirm {
            break;
        }
        caller.told(Progress { doing: "confirming the best".to_owned(), done: at, of: tries });
        let confirmed = confirm(space, found, asked.depth, caller)?;
        sound += usize::from(confirmed.verdict != Verdict::DoesNotHold);
        sizing.confirmed.push(confirmed);
    }
    Ok(sizing)
}

/// A design checked in full.
fn confirm(
    space: &Space,
    found: &Found,
    depth: Depth,
    caller: &dyn Caller,
) -> Result<Confirmed, CheckError> {
    let options = Options { derivations: false, scene: false, try_guesses: false, depth };
    let answer =
        pipeline::check(&space.design(&found.choice), options, &crate::caller::Untold(caller))?;
    let used = answer.rows.iter().filter(|row| row.kind != crate::answer::RowKind::Detailing);
    let governing = used
        .filter_map(|row| Some((row.governing()?.utilisation, row.what.clone())))
        .reduce(|a, b| if b.0 > a.0 { b } else { a });
    Ok(Confirmed {
        choice: found.choice.clone(),
        verdict: answer.verdict,
        sentence: answer.sentence,
        governing,
        reasons: answer.provisional,
    })
}

#[cfg(test)]
mod tests;
