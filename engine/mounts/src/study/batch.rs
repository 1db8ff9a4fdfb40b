//! Many projects checked, each only where its results are not known from before.

use std::collections::BTreeSet;

use super::fingerprint::{self, Prints};
use super::side_by_side;
use crate::answer::{Answer, CaseAnswer, MountAnswer, Row, Verdict};
use crate::checks::Scope;
use crate::describe::Project;
use crate::pipeline::{self, Depth, Options};
use crate::{Caller, Cancel, CheckError, Progress, unknown, verdict};

/// A project and what is known of it.
#[derive(Debug, Clone)]
pub struct Item {
    /// How it is told.
    pub name: String,
    /// The project; none where what was given could not be read: it is passed over.
    pub project: Option<Project>,
    /// Fingerprints whose results are known.
    pub known: BTreeSet<String>,
}

/// What was found of a project.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The fingerprints of all its mounts and of the whole.
    pub prints: Prints,
    /// The results that were not known; none where all were.
    pub new: Option<New>,
}

/// Results that were not known.
#[derive(Debug, Clone, PartialEq)]
pub struct New {
    /// Mounts in the order of the design; then the rest of the whole, where its results are new.
    pub parts: Vec<Part>,
    /// All mounts.
    pub mounts: Vec<MountAnswer>,
    /// All cases.
    pub cases: Vec<CaseAnswer>,
}

/// What was found of a mount, or of what belongs to none.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// The mount, by its place in the design.
    pub mount: Option<usize>,
    /// The verdict over its rows; of what belongs to no mount, over guesses and clashes as well.
    pub verdict: Verdict,
    /// Why that is not more than provisional, where it does not exceed.
    pub open: Vec<String>,
    /// Its rows, in the order in which the load travels.
    pub rows: Vec<Row>,
}

/// What came of an item: nothing where there was no project.
pub type Outcome = Option<Result<Found, CheckError>>;

/// Checks projects and hands over what came of each, in order. `threads` work side by side, on projects
/// at depth frame, within one at depth plate; the results do not depend on how many. The fault of one
/// project does not stop the others. `take` answers whether more is wanted.
///
/// # Errors
/// [`CheckError::Cancelled`].
pub fn check(
    items: &[Item],
    depth: Depth,
    threads: usize,
    caller: &dyn Caller,
    take: &mut dyn FnMut(usize, Outcome) -> bool,
) -> Result<(), CheckError> {
    let block = match depth {
        Depth::Frame => threads.clamp(1, items.len().clamp(1, usize::MAX)),
        Depth::Plate { .. } => 1,
    };
    for first in (0..items.len()).step_by(block) {
        pipeline::stop(caller)?;
        let doing = items[first].name.clone();
        caller.told(Progress { doing, done: first, of: items.len() });
        let found = side_by_side::each(
            block.min(items.len() - first),
            threads,
            caller,
            &mut |_| {},
            || (),
            |(), at, cancel| {
                let item = &items[first + at];
                item.project.as_ref().map(|project| one(project, &item.known, depth, cancel))
            },
        )?;
        for (at, outcome) in found.into_iter().enumerate() {
            if let Some(Err(CheckError::Cancelled)) = outcome {
                return Err(CheckError::Cancelled);
            }
            if !take(first + at, outcome) {
                return Err(CheckError::Cancelled);
            }
        }
    }
    Ok(())
}

/// Checks a project where its results are not known.
fn one(
    project: &Project,
    known: &BTreeSet<String>,
    depth: Depth,
    cancel: &dyn Cancel,
) -> Result<Found, CheckError> {
    let prints = fingerprint::of(project, depth)?;
    let mut of: Vec<usize> =
        (0..prints.mounts.len()).filter(|at| !known.contains(&prints.mounts[*at].hash)).collect();
    let mut whole = !known.contains(&prints.whole);
    if of.is_empty() && !whole {
        return Ok(Found { prints, new: None });
    }
    let scope = match depth {
        Depth::Frame if whole => Scope::mounts(of.iter().copied()).and_whole(),
        Depth::Frame => Scope::mounts(of.iter().copied()),
        // Plates leave out what rows of any mount judge: they are checked together.
        Depth::Plate { .. } => {
            (of, whole) = ((0..prints.mounts.len()).collect(), true);
            Scope::everything()
        }
    };
    let project = &*unknown::named(project);
    let found = pipeline::find(project, false, depth, cancel)?;
    let mut rows = pipeline::run(project, &found, &scope, false, cancel)?;
    let options = Options { derivations: false, scene: false, try_guesses: false, depth };
    let mut answer = verdict::judge(project, &found, Vec::new(), options);
    let mut part = |mount: Option<usize>, answer: &mut Answer| {
        let (own, others) = rows.drain(..).partition(|row| row.mount == mount);
        (answer.rows, rows) = (own, others);
        verdict::settle(answer);
        let open = std::mem::take(&mut answer.provisional);
        let rows = std::mem::take(&mut answer.rows);
        Part { mount, verdict: answer.verdict, open, rows }
    };
    let last = whole.then(|| part(None, &mut answer));
    // What is guessed or cannot be built was told of the whole.
    answer.provisional.clear();
    answer.guesses.clear();
    answer.clashes.clear();
    answer.assumptions.clear();
    let mut parts: Vec<Part> = of.into_iter().map(|at| part(Some(at), &mut answer)).collect();
    parts.extend(last);
    let Answer { mounts, cases, .. } = answer;
    Ok(Found { prints, new: Some(New { parts, mounts, cases }) })
}
