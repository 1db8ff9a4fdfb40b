//! The value of an input at which the verdict turns: a scan over a range, then the chord and the half in turn.

use std::collections::BTreeMap;

use fishplate_quantity::algebra::{larger, smaller};

use super::answer::{RowTurns, TurnOutcome, TurningPoint, Turns};
use super::inputs::Input;
use super::kinds::Search;
use crate::study::trial::{Bench, Outcome};
use crate::{Cancel, CheckError};

/// Steps of a scan: turns closer together than one step may be missed.
const STEPS: u32 = 16;
/// A turning point is known to this share of the range.
const CLOSE: f64 = 1e-6;

/// The range that is looked through, SI.
fn range(input: &Input) -> Option<(f64, f64)> {
    let (low, high) = match input.kind.search {
        Search::Nowhere => return None,
        Search::Ratio(_) if input.value == 0.0 => return None,
        Search::Ratio(ratio) => (input.value / ratio, input.value * ratio),
        Search::Off(off) => (input.value - off, input.value + off),
    };
    Some(if low < high { (low, high) } else { (high, low) })
}

/// Values of a scan from low to high; even in ratio where the range is one of ratios, and with the
/// value itself in the middle.
fn values(input: &Input, (low, high): (f64, f64)) -> Vec<f64> {
    (0..=STEPS)
        .map(|step| {
            let share = f64::from(step) / f64::from(STEPS);
            match input.kind.search {
                Search::Ratio(_) if low > 0.0 => low * (high / low).powf(share),
                _ => low + (high - low) * share,
            }
        })
        .collect()
}

/// Looks where `input` turns the followed number and each row.
///
/// # Errors
/// A caller who does not wait any more.
pub(crate) fn look(
    bench: &Bench<'_>,
    input: &Input,
    cancel: &dyn Cancel,
) -> Result<Turns, CheckError> {
    let size = input.unit.1;
    let Some(range) = range(input) else {
        let here = input.value / size;
        return Ok(Turns {
            from: here,
            to: here,
            outcome: TurnOutcome::NoAnswer,
            points: Vec::new(),
            rows: Vec::new(),
            designs: 0,
        });
    };
    let mut tried = Tried { bench, input, cancel, known: BTreeMap::new() };
    let values = values(input, range);
    for value in &values {
        tried.at(*value)?;
    }
    let close = CLOSE * (range.1 - range.0);
    let followed = |o: &Outcome| o.followed.as_ref().map(|(u, _)| *u);
    let (outcome, points) = tried.turns(&values, close, &followed)?;
    let mut rows: Vec<RowTurns> = Vec::new();
    for at in 0..bench.rows.len() {
        let (_, points) = tried.turns(&values, close, &|o| o.rows[at])?;
        if points.is_empty() {
            continue;
        }
        match rows.iter_mut().find(|r| same(&r.points, &points, close / size)) {
            Some(twin) => twin.rows.push(bench.rows[at].clone()),
            None => rows.push(RowTurns { rows: vec![bench.rows[at].clone()], points }),
        }
    }
    let designs = tried.known.len();
    Ok(Turns { from: range.0 / size, to: range.1 / size, outcome, points, rows, designs })
}

/// Whether turning points are the same to what they are known to.
fn same(a: &[TurningPoint], b: &[TurningPoint], close: f64) -> bool {
    a.len() == b.len()
        && a.iter().zip(b).all(|(a, b)| {
            a.holds_above == b.holds_above && (a.value - b.value).abs() <= 2.0 * close
        })
}

/// Outcomes by value; none is asked for twice.
struct Tried<'a> {
    bench: &'a Bench<'a>,
    input: &'a Input,
    cancel: &'a dyn Cancel,
    known: BTreeMap<u64, Option<Outcome>>,
}

impl Tried<'_> {
    fn at(&mut self, value: f64) -> Result<Option<&Outcome>, CheckError> {
        let bits = value.to_bits();
        if !self.known.contains_key(&bits) {
            let one = BTreeMap::from([(self.input.path.as_str(), value)]);
            let outcome = self.bench.with(&one, self.cancel)?;
            self.known.insert(bits, outcome);
        }
        Ok(self.known.get(&bits).and_then(Option::as_ref))
    }

    /// Where `of` passes 1 on the way through `values`.
    fn turns(
        &mut self,
        values: &[f64],
        close: f64,
        of: &dyn Fn(&Outcome) -> Option<f64>,
    ) -> Result<(TurnOutcome, Vec<TurningPoint>), CheckError> {
        let mut seen: Vec<(f64, f64)> = Vec::new();
        for value in values {
            if let Some(u) = self.at(*value)?.and_then(of) {
                seen.push((*value, u));
            }
        }
        let holds = |u: f64| u <= 1.0;
        let mut points = Vec::new();
        for pair in seen.windows(2) {
            let [mut low, mut high] = [pair[0], pair[1]];
            let holds_above = holds(high.1);
            if holds(low.1) == holds_above {
                continue;
            }
            for step in 1.. {
                let width = high.0 - low.0;
                if width <= close {
                    break;
                }
                // By the chord, which is quick where the use runs smoothly; every third time by half,
                // which ends wherever it jumps. The last steps go past the turn by half of what is
                // asked for, to have it between them.
                let chord = (1.0 - low.1) / (high.1 - low.1) * width;
                let half = step % 3 == 0 || !chord.is_finite();
                let share = if half { width / 2.0 } else { chord };
                let within = larger(close / 2.0, smaller(share, width - close / 2.0));
                let middle = low.0 + within;
                // Between two answers there may be none: then the turn is only known to lie there.
                let Some(u) = self.at(middle)?.and_then(of) else { break };
                if holds(u) == holds_above { high = (middle, u) } else { low = (middle, u) }
            }
            // The value on the side that holds: the number to build by.
            let value = if holds_above { high.0 } else { low.0 };
            points.push(TurningPoint { value: value / self.input.unit.1, holds_above });
        }
        let outcome = match seen.first() {
            None => TurnOutcome::NoAnswer,
            Some(_) if !points.is_empty() => TurnOutcome::Turns,
            Some((_, u)) if holds(*u) => TurnOutcome::HoldsWhateverItIs,
            Some(_) => TurnOutcome::FailsWhateverItIs,
        };
        Ok((outcome, points))
    }
}
