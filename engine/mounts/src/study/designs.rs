//! The verdicts on many designs of one space, in order.

use super::side_by_side;
use super::space::Space;
use crate::answer::{Answer, RowKind, Verdict};
use crate::describe::Project;
use crate::pipeline::{self, Depth, Options};
use crate::{Caller, Cancel, CheckError, Progress};

/// Designs between two looks at whether the caller still waits, and in one block.
const BLOCK: usize = 64;

/// A row that governs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RowName {
    /// Mount it is told under; empty for the whole.
    pub mount: String,
    /// The part or joint.
    pub component: String,
    /// What is checked.
    pub what: String,
}

/// What is told of a design.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// The verdict; none where it cannot be built as described.
    pub verdict: Option<Verdict>,
    /// The highest utilisation and its row.
    pub governing: Option<(f64, RowName)>,
}

/// Checks designs one after the other and hands them over in blocks, in order.
///
/// `choices` are the options of all designs, one design after the other; every combination where
/// none. The verdicts do not depend on `threads`.
///
/// # Errors
/// [`CheckError::Cancelled`]. A design that cannot be built is told as such.
pub fn check(
    space: &Space,
    choices: Option<&[usize]>,
    threads: usize,
    caller: &dyn Caller,
    take: &mut dyn FnMut(Vec<Told>),
) -> Result<(), CheckError> {
    let width = space.quantities().len();
    let count = match choices {
        Some(choices) => choices.len() / width.max(1),
        None => usize::try_from(space.designs()).unwrap_or(usize::MAX),
    };
    let choice = |number: usize| match choices {
        Some(choices) => choices[number * width..(number + 1) * width].to_vec(),
        None => space.choice(number as u128),
    };
    let mut first = 0;
    while first < count {
        if caller.cancelled() {
            return Err(CheckError::Cancelled);
        }
        caller.told(Progress { doing: "checking designs".to_owned(), done: first, of: count });
        let block = count.min(first + BLOCK) - first;
        let found = side_by_side::each(
            block,
            threads,
            caller,
            &mut |_| {},
            || (),
            |(), at, cancel| told(&space.design(&choice(first + at)), cancel),
        )?;
        first += block;
        take(found.into_iter().collect::<Result<_, _>>()?);
    }
    Ok(())
}

/// What a thread tells of its checks: nothing.
struct Quiet<'a>(&'a dyn Cancel);

impl Cancel for Quiet<'_> {
    fn cancelled(&self) -> bool {
        self.0.cancelled()
    }
}

impl Caller for Quiet<'_> {
    fn told(&self, _: Progress) {}
}

fn told(project: &Project, cancel: &dyn Cancel) -> Result<Told, CheckError> {
    let options =
        Options { derivations: false, scene: false, try_guesses: false, depth: Depth::Frame };
    match pipeline::check(project, options, &Quiet(cancel)) {
        Ok(answer) => Ok(Told { verdict: Some(answer.verdict), governing: governing(&answer) }),
        Err(CheckError::Cancelled) => Err(CheckError::Cancelled),
        Err(_) => Ok(Told { verdict: None, governing: None }),
    }
}

/// The highest utilisation of an answer and its row.
fn governing(answer: &Answer) -> Option<(f64, RowName)> {
    let rows = answer.rows.iter().filter(|row| row.kind != RowKind::Detailing);
    let used = rows.filter_map(|row| Some((row.governing()?.utilisation, row)));
    let (most, row) = used.reduce(|a, b| if b.0 > a.0 { b } else { a })?;
    let mount = row.mount.map_or_else(String::new, |at| answer.mounts[at].id.clone());
    let name = RowName { mount, component: row.component.clone(), what: row.what.clone() };
    Some((most, name))
}
