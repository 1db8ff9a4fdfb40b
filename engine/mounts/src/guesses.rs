//! Which guess matters: every guess with a spread is tried at both ends, one at a time.

use crate::answer::{Answer, Row, RowKind};
use crate::caller::Untold;
use crate::describe::Project;
use crate::pipeline::{self, Depth, Options};
use crate::{Caller, CheckError, Progress, known};

/// Tries every guess of a project and writes into the answer how far each moves the highest
/// utilisation.
pub(crate) fn try_all(
    project: &Project,
    answer: &mut Answer,
    caller: &dyn Caller,
) -> Result<(), CheckError> {
    let of = answer.guesses.len();
    for i in 0..of {
        let doing = format!("trying both ends of a guess: {}", answer.guesses[i].what);
        caller.told(Progress { doing, done: i, of });
        let path = answer.guesses[i].path.clone();
        let mut ends: Vec<f64> = Vec::new();
        known::each(&mut project.clone(), &mut |k| {
            if k.path == path
                && let Some((low, high)) = k.slot.spread
            {
                ends = vec![low, high];
            }
        });
        let [low, high] = ends[..] else { continue };
        let at_low = highest(project, &path, low, caller)?;
        let at_high = highest(project, &path, high, caller)?;
        let guess = &mut answer.guesses[i];
        guess.at_low = at_low.as_ref().map(|(u, _)| *u);
        guess.at_high = at_high.as_ref().map(|(u, _)| *u);
        let worse = match (&at_low, &at_high) {
            (Some(a), Some(b)) => Some(if a.0 > b.0 { a } else { b }),
            (a, b) => a.as_ref().or(b.as_ref()),
        };
        guess.row = worse.map_or(String::new(), |(_, row)| row.clone());
    }
    // Largest effect first; those without a spread last, in the order of the project.
    answer.guesses.sort_by(|a, b| effect(b).total_cmp(&effect(a)));
    Ok(())
}

fn effect(guess: &crate::answer::Guess) -> f64 {
    match (guess.at_low, guess.at_high) {
        (Some(a), Some(b)) => (a - b).abs(),
        _ => -1.0,
    }
}

/// The highest utilisation and its row with one value changed; nothing where the changed project
/// has no answer.
fn highest(
    project: &Project,
    path: &str,
    value: f64,
    caller: &dyn Caller,
) -> Result<Option<(f64, String)>, CheckError> {
    let mut trial = project.clone();
    known::each(&mut trial, &mut |mut k| {
        if k.path == path {
            k.slot.set(value);
        }
    });
    let options =
        Options { derivations: false, scene: false, try_guesses: false, depth: Depth::Frame };
    match pipeline::check(&trial, options, &Untold(caller)) {
        Ok(answer) => Ok(worst(&answer.rows)),
        Err(CheckError::Cancelled) => Err(CheckError::Cancelled),
        Err(_) => Ok(None),
    }
}

fn worst(rows: &[Row]) -> Option<(f64, String)> {
    rows.iter()
        .filter(|r| r.kind != RowKind::Detailing)
        .filter_map(|r| r.governing().map(|g| (g.utilisation, r.id.clone())))
        .reduce(|a, b| if b.0 > a.0 { b } else { a })
}
