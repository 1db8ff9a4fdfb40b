//! Which guess matters: one input at a time, then all at once; where each turns the verdict, and how
//! to measure it.

mod answer;
mod indices;
mod inputs;
mod kinds;
mod sampling;
mod spread;
mod turns;

pub use answer::{
    Chance, Estimate, GuessesAnswer, InputAnswer, Reached, RowChance, RowTurns, Sample, Shares,
    SpreadAnswer, TurnOutcome, TurningPoint, Turns,
};
pub use spread::Law;

use std::collections::BTreeMap;

use fishplate_quantity::algebra::{larger, smaller};
use fishplate_quantity::trace::significant;

use self::inputs::Input;
use self::sampling::Plan;
use super::trial::{Bench, Target};
use super::work::Work;
use crate::answer::Answer;
use crate::caller::Untold;
use crate::describe::Project;
use crate::pipeline::{self, Depth, Options};
use crate::{Caller, CheckError, telling, unknown};

/// What is asked about the guesses of a project.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// The row to follow; whichever governs where none.
    pub row: Option<&'a str>,
    /// The case to follow that row in; whichever governs where none.
    pub case: Option<&'a str>,
    /// Points over all spreads at once, at least; 0 leaves that out.
    pub points: usize,
    /// Whether a guess without a spread gets the usual one of its kind.
    pub assume: bool,
    /// Threads that may work at the same time; the numbers do not depend on it.
    pub threads: usize,
}

/// The project as it stands: its rows, by hand statics.
const ROWS_ALONE: Options =
    Options { derivations: false, scene: false, try_guesses: false, depth: Depth::Frame };

/// Inputs among which a guess stops a verdict (common practice, no source).
const DOMINATING: usize = 3;

/// Ranks the guesses of a project, by hand statics.
///
/// # Errors
/// As a check; and a row or case that is not there.
pub fn rank(
    project: &Project,
    asked: Asked<'_>,
    caller: &dyn Caller,
) -> Result<GuessesAnswer, CheckError> {
    let project = &*unknown::named(project);
    let answer = pipeline::check(project, ROWS_ALONE, &Untold(caller))?;
    let mut bench = Bench::new(project, &answer)?;
    if let Some(row) = asked.row {
        bench.follow(&answer, row, asked.case)?;
    }
    let stands = bench.as_it_stands(&answer).followed.map(|(u, _)| u);
    let inputs = inputs::open(project, asked.assume);

    let mut work = Work::new(caller, asked.threads);
    work.expect(2 * inputs.len());
    let ends = ends(&bench, &inputs, &mut work)?;
    let ranked = ranked(&ends, stands);
    work.expect(inputs.len());
    let plan = Plan::new(&inputs, &ranked, asked.points);
    work.expect(plan.as_ref().map_or(0, Plan::designs));
    let turns = work.all("looking where the verdict turns", inputs.len(), |at, inner| {
        turns::look(&bench, &inputs[at], inner)
    })?;
    let sample = plan.map(|plan| plan.run(&bench, &mut work)).transpose()?;

    let told: Vec<InputAnswer> = ranked
        .iter()
        .enumerate()
        .map(|(place, at)| {
            let dominates = place < DOMINATING && span(&ends[*at], stands) > 0.0;
            one(&inputs[*at], &ends[*at], dominates, turns[*at].clone())
        })
        .collect();
    let stops = stops(&answer, &told);
    let tried = 2 * inputs.iter().filter(|i| i.spread.is_some()).count();
    let turning = turns.iter().map(|t| t.designs).sum::<usize>();
    let sampled = sample.as_ref().map_or(0, |s| s.designs);
    Ok(GuessesAnswer {
        title: answer.title,
        verdict: answer.verdict,
        sentence: answer.sentence,
        row: match bench.target {
            Target::Highest => None,
            Target::Row(at, _) => Some(bench.rows[at].clone()),
        },
        case: asked.row.and(asked.case).unwrap_or_default().to_owned(),
        as_it_stands: stands,
        designs: 1 + tried + turning + sampled,
        inputs: told,
        sample,
        stops,
        cautions: telling::cautions(),
    })
}

/// The followed number at both ends of an input.
type Ends = [Option<(f64, String)>; 2];

/// Tries every input at both ends, one at a time.
fn ends(bench: &Bench<'_>, inputs: &[Input], work: &mut Work<'_>) -> Result<Vec<Ends>, CheckError> {
    let flat = work.all("trying both ends of each guess", 2 * inputs.len(), |job, inner| {
        let input = &inputs[job / 2];
        let Some(spread) = input.spread else { return Ok(None) };
        let end = if job % 2 == 0 { spread.low } else { spread.high };
        let outcome = bench.with(&BTreeMap::from([(input.path.as_str(), end)]), inner)?;
        Ok(outcome.and_then(|o| o.followed))
    })?;
    let mut flat = flat.into_iter();
    Ok(inputs.iter().map(|_| [flat.next().flatten(), flat.next().flatten()]).collect())
}

/// How far an input moves the followed number, which stands at `stands`; below 0 where it was not
/// tried.
fn span(ends: &Ends, stands: Option<f64>) -> f64 {
    let [Some((a, _)), Some((b, _))] = ends else { return -1.0 };
    let all = || [Some(*a), Some(*b), stands].into_iter().flatten();
    all().fold(*a, larger) - all().fold(*a, smaller)
}

/// Places of the inputs, largest effect first; those that were not tried last, in the order of the
/// project.
fn ranked(ends: &[Ends], stands: Option<f64>) -> Vec<usize> {
    let mut order: Vec<usize> = (0..ends.len()).collect();
    order.sort_by(|a, b| span(&ends[*b], stands).total_cmp(&span(&ends[*a], stands)));
    order
}

fn one(input: &Input, ends: &Ends, dominates: bool, turns: Turns) -> InputAnswer {
    let size = input.unit.1;
    let reached = |end: &Option<(f64, String)>| {
        end.as_ref()
            .map(|(utilisation, row)| Reached { utilisation: *utilisation, row: row.clone() })
    };
    InputAnswer {
        path: input.path.clone(),
        what: input.what.clone(),
        unit: input.unit.0,
        value: input.value / size,
        guessed: input.guessed,
        spread: input.spread.map(|s| SpreadAnswer {
            low: s.low / size,
            high: s.high / size,
            law: s.law,
            assumed: s.assumed,
        }),
        measure: input.kind.measure,
        at_low: reached(&ends[0]),
        at_high: reached(&ends[1]),
        dominates,
        turns,
    }
}

/// Why nothing may be said to hold yet: what the check itself says, and guesses that dominate.
fn stops(answer: &Answer, inputs: &[InputAnswer]) -> Vec<String> {
    let dominating = inputs.iter().filter(|i| i.dominates && i.guessed).map(|i| {
        format!(
            "{}, {}: a guess among the {DOMINATING} inputs that move the answer most; measure it \
             before anything is said to hold",
            i.what,
            format!("{} {}", significant(i.value, 4), i.unit).trim_end(),
        )
    });
    let checked = answer.provisional.iter().filter(|r| !r.starts_with(GUESSED)).cloned();
    dominating.chain(checked).collect()
}

/// How a guess begins among the reasons of a provisional verdict.
pub(crate) const GUESSED: &str = "guessed: ";

/// Tries every guess of a project whose spread it gives, and writes into the answer how far each
/// moves the highest utilisation.
pub(crate) fn try_all(
    project: &Project,
    answer: &mut Answer,
    caller: &dyn Caller,
) -> Result<(), CheckError> {
    let bench = Bench::new(project, answer)?;
    let inputs: Vec<Input> =
        inputs::open(project, false).into_iter().filter(|i| i.guessed).collect();
    let mut work = Work::new(caller, 1);
    work.expect(2 * inputs.len());
    let ends = ends(&bench, &inputs, &mut work)?;
    let mut guesses = Vec::new();
    for (place, at) in ranked(&ends, None).into_iter().enumerate() {
        let own = answer.guesses.iter().find(|g| g.path == inputs[at].path);
        let Some(mut guess) = own.cloned() else { continue };
        let [low, high] = &ends[at];
        guess.at_low = low.as_ref().map(|(u, _)| *u);
        guess.at_high = high.as_ref().map(|(u, _)| *u);
        let worse = match (low, high) {
            (Some(a), Some(b)) => Some(if a.0 > b.0 { a } else { b }),
            (a, b) => a.as_ref().or(b.as_ref()),
        };
        guess.row = worse.map_or(String::new(), |(_, row)| row.clone());
        guess.dominates = place < DOMINATING && span(&ends[at], None) > 0.0;
        guesses.push(guess);
    }
    answer.guesses = guesses;
    Ok(())
}
