//! What comes out of a study of guesses.

use super::spread::Law;
use crate::answer::Verdict;
use crate::study::trial::RowName;

/// Which guess matters.
#[derive(Debug, Clone, PartialEq)]
pub struct GuessesAnswer {
    /// Title of the project.
    pub title: String,
    /// The verdict of the project as it stands.
    pub verdict: Verdict,
    /// The same in one sentence.
    pub sentence: String,
    /// The row that is followed; none where it is whichever governs.
    pub row: Option<RowName>,
    /// The case in which it is followed; empty where it is whichever governs.
    pub case: String,
    /// The number that is followed, as the project stands.
    pub as_it_stands: Option<f64>,
    /// Inputs, those that move the number most first.
    pub inputs: Vec<InputAnswer>,
    /// All spreads at once; nothing where nothing varies or no points were asked for.
    pub sample: Option<Sample>,
    /// Why nothing may be said to hold yet.
    pub stops: Vec<String>,
    /// Designs that were tried in all.
    pub designs: usize,
    /// Cautions that belong to every answer.
    pub cautions: Vec<String>,
}

/// What an input does. Values are in its unit.
#[derive(Debug, Clone, PartialEq)]
pub struct InputAnswer {
    /// Path of its field.
    pub path: String,
    /// What it is.
    pub what: String,
    /// Its unit; empty for pure numbers.
    pub unit: &'static str,
    /// Its value.
    pub value: f64,
    /// Whether it is marked as not measured.
    pub guessed: bool,
    /// Its spread.
    pub spread: Option<SpreadAnswer>,
    /// How to measure it.
    pub measure: &'static str,
    /// The followed number at its low end.
    pub at_low: Option<Reached>,
    /// The followed number at its high end.
    pub at_high: Option<Reached>,
    /// Whether it is among the three that move the followed number most.
    pub dominates: bool,
    /// Where it turns the verdict.
    pub turns: Turns,
}

/// The spread of an input, in its unit.
#[derive(Debug, Clone, PartialEq)]
pub struct SpreadAnswer {
    /// Lowest value.
    pub low: f64,
    /// Highest value.
    pub high: f64,
    /// How it is spread between them.
    pub law: Law,
    /// Where the ends come from; nothing where the project gives them.
    pub assumed: Option<&'static str>,
}

/// A utilisation and its row.
#[derive(Debug, Clone, PartialEq)]
pub struct Reached {
    /// Demand over resistance.
    pub utilisation: f64,
    /// The row.
    pub row: String,
}

/// Where an input turns the verdict, within a range. Values are in its unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Turns {
    /// From here.
    pub from: f64,
    /// To here.
    pub to: f64,
    /// What happens to the followed number within the range.
    pub outcome: TurnOutcome,
    /// Its turning points, from low to high.
    pub points: Vec<TurningPoint>,
    /// Turning points of single rows, in the order of the rows.
    pub rows: Vec<RowTurns>,
    /// Designs that were tried to find them.
    pub designs: usize,
}

/// What happens to a utilisation over a range of an input.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TurnOutcome {
    /// It holds whatever the input is.
    HoldsWhateverItIs,
    /// It exceeds whatever the input is.
    FailsWhateverItIs,
    /// It turns.
    Turns,
    /// It has no answer anywhere in the range.
    NoAnswer,
}

/// A value at which a utilisation passes 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TurningPoint {
    /// The value.
    pub value: f64,
    /// Whether it holds above the value, and exceeds below.
    pub holds_above: bool,
}

/// Turning points of rows that turn at the same values: twins on both sides of the car.
#[derive(Debug, Clone, PartialEq)]
pub struct RowTurns {
    /// The rows.
    pub rows: Vec<RowName>,
    /// The turning points, from low to high.
    pub points: Vec<TurningPoint>,
}

/// All spreads at once.
#[derive(Debug, Clone, PartialEq)]
pub struct Sample {
    /// Inputs that vary.
    pub inputs: usize,
    /// Those of them whose spread the project does not give.
    pub assumed: usize,
    /// Points over all spreads.
    pub points: usize,
    /// Independent scrambles among them.
    pub replicates: usize,
    /// Designs that were tried.
    pub designs: usize,
    /// Points without an answer.
    pub unanswered: usize,
    /// The chance that something exceeds.
    pub any: Chance,
    /// The followed number below which 5, 50 and 95 % of all points lie.
    pub quantiles: [Option<f64>; 3],
    /// The chance of every row.
    pub rows: Vec<RowChance>,
    /// Effects of the inputs that matter most.
    pub shares: Vec<Shares>,
}

/// The chance that something exceeds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chance {
    /// Points in which it does.
    pub hits: u32,
    /// Points in which it was checked.
    pub of: u32,
    /// The share of the former; nothing where it was never checked.
    pub share: Option<f64>,
    /// Standard error of the share.
    pub error: f64,
    /// The chance is hardly less than this, 95 %.
    pub at_least: f64,
    /// The chance is hardly more than this, 95 %.
    pub at_most: f64,
}

/// The chance that a row is exceeded.
#[derive(Debug, Clone, PartialEq)]
pub struct RowChance {
    /// The row.
    pub row: RowName,
    /// Its chance.
    pub chance: Chance,
}

/// Shares of the variance of the followed number that an input causes.
#[derive(Debug, Clone, PartialEq)]
pub struct Shares {
    /// Path of the input.
    pub path: String,
    /// Alone; nothing where the number does not vary.
    pub first: Option<Estimate>,
    /// Alone and together with others.
    pub total: Option<Estimate>,
}

/// A number with its standard error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The number.
    pub value: f64,
    /// Its standard error, over the replicates.
    pub error: f64,
}
