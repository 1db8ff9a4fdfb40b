//! How often which share of a load range comes back on the road.

use thiserror::Error;

use super::rainflow::rainflow_repeating;

/// How often a share of the full range comes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DutyBlock {
    /// Share of the full range.
    pub share: f64,
    /// Cycles on each metre driven.
    pub per_metre: f64,
}

/// The duty of one family of loads: shares of a full range with how often they come.
#[derive(Debug, Clone, PartialEq)]
pub struct Duty {
    blocks: Vec<DutyBlock>,
}

/// The length by which duties are written, m.
const HUNDRED_KM: f64 = 100e3;

/// A counted history is cut into this many levels at most; each counts with its upper end.
const LEVELS: u32 = 32;

/// Why numbers are no duty.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum DutyError {
    /// No block at all.
    #[error("a duty needs at least one block")]
    Empty,
    /// A share that cannot be.
    #[error(
        "block {place}: the share of the full range is {value}, allowed is a number above zero"
    )]
    Share {
        /// Which block, from 1.
        place: usize,
        /// What was given.
        value: f64,
    },
    /// A number of cycles that cannot be.
    #[error("block {place}: cycles per 100 km are {value}, allowed is a number, zero or more")]
    Cycles {
        /// Which block, from 1.
        place: usize,
        /// What was given.
        value: f64,
    },
    /// A history that cannot be counted.
    #[error("the history has no two different points, or one that is not a number")]
    History,
    /// A distance that cannot be.
    #[error("the distance driven is {0} m, allowed is a number above zero")]
    Distance(f64),
}

impl Duty {
    /// A duty from pairs of share and cycles per 100 km.
    ///
    /// # Errors
    /// No pair, or the first number that cannot be.
    pub fn new(pairs: &[(f64, f64)]) -> Result<Self, DutyError> {
        if pairs.is_empty() {
            return Err(DutyError::Empty);
        }
        let block = |(index, (share, cycles)): (usize, &(f64, f64))| {
            let place = index + 1;
            if !(share.is_finite() && *share > 0.0) {
                return Err(DutyError::Share { place, value: *share });
            }
            if !(cycles.is_finite() && *cycles >= 0.0) {
                return Err(DutyError::Cycles { place, value: *cycles });
            }
            Ok(DutyBlock { share: *share, per_metre: cycles / HUNDRED_KM })
        };
        let blocks = pairs.iter().enumerate().map(block).collect::<Result<_, _>>()?;
        Ok(Self { blocks })
    }

    /// The duty of a history that repeats every `distance` m, with the full range it is a share of.
    ///
    /// Rainflow counting; more than 32 different ranges are gathered in 32 equal levels, each with
    /// the range of its upper end.
    ///
    /// # Errors
    /// A history without a range, a point that is not finite, a distance that is not above zero.
    pub fn of_history(history: &[f64], distance: f64) -> Result<(Self, f64), DutyError> {
        if !(distance.is_finite() && distance > 0.0) {
            return Err(DutyError::Distance(distance));
        }
        let cycles = rainflow_repeating(history);
        let largest = |most: f64, range: f64| if range > most { range } else { most };
        let full = cycles.iter().map(|cycle| cycle.range).fold(0.0, largest);
        if !(full.is_finite() && full > 0.0) {
            return Err(DutyError::History);
        }
        let exact: Vec<(f64, f64)> = cycles.iter().map(|c| (c.range / full, c.count)).collect();
        let mut shares = gathered(&exact, |share| share);
        if shares.len() > LEVELS as usize {
            let levels = f64::from(LEVELS);
            shares = gathered(&exact, |share| (share * levels).ceil() / levels);
        }
        let block = |(share, count): (f64, f64)| DutyBlock { share, per_metre: count / distance };
        Ok((Self { blocks: shares.into_iter().map(block).collect() }, full))
    }

    /// Its blocks.
    #[must_use]
    pub fn blocks(&self) -> &[DutyBlock] {
        &self.blocks
    }

    /// Range and number of cycles of each block for a full range and a distance driven in m.
    pub fn over(&self, full: f64, distance: f64) -> impl Iterator<Item = (f64, f64)> {
        self.blocks.iter().map(move |b| (b.share * full, b.per_metre * distance))
    }
}

/// Counts of equal shares added up, largest share first, after each was taken to its level.
fn gathered(cycles: &[(f64, f64)], level: impl Fn(f64) -> f64) -> Vec<(f64, f64)> {
    let mut sorted: Vec<(f64, f64)> = cycles.iter().map(|c| (level(c.0), c.1)).collect();
    sorted.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut out: Vec<(f64, f64)> = Vec::new();
    for (share, count) in sorted {
        match out.last_mut() {
            Some(last) if last.0 - share < 1e-9 => last.1 += count,
            _ => out.push((share, count)),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_duty_is_scaled_by_range_and_distance() {
        let duty = Duty::new(&[(1.0, 5.0), (0.6, 60.0)]).unwrap();
        let blocks: Vec<_> = duty.over(80e6, 200_000e3).collect();
        let expected = [(80e6, 10_000.0), (48e6, 120_000.0)];
        for (got, expected) in blocks.iter().zip(expected) {
            assert!((got.0 - expected.0).abs() < 1e-3 && (got.1 - expected.1).abs() < 1e-6);
        }
    }

    #[test]
    fn numbers_that_are_no_duty_are_named() {
        assert_eq!(Duty::new(&[]), Err(DutyError::Empty));
        let shares = [0.0, -0.5, f64::NAN, f64::INFINITY];
        for bad in shares {
            let error = Duty::new(&[(1.0, 1.0), (bad, 1.0)]).unwrap_err();
            assert!(matches!(error, DutyError::Share { place: 2, .. }), "{error}");
        }
        for bad in [-1.0, f64::NAN, f64::INFINITY] {
            let error = Duty::new(&[(1.0, bad)]).unwrap_err();
            assert!(error.to_string().starts_with("block 1: cycles per 100 km"), "{error}");
        }
        for bad in [0.0, -1.0, f64::NAN] {
            assert!(matches!(Duty::of_history(&[0.0, 1.0], bad), Err(DutyError::Distance(_))));
        }
        for bad in [&[][..], &[1.0, 1.0], &[0.0, f64::NAN]] {
            assert_eq!(Duty::of_history(bad, 1.0), Err(DutyError::History));
        }
    }

    /// The history of ASTM E1049-85, repeated: ranges 9, 7, 4, 3 once each, by hand.
    #[test]
    fn a_counted_history_keeps_its_ranges() {
        let history = [-2.0, 1.0, -3.0, 5.0, -1.0, 3.0, -4.0, 4.0, -2.0];
        let (duty, full) = Duty::of_history(&history, 50e3).unwrap();
        assert!((full - 9.0).abs() < 1e-12);
        let blocks: Vec<_> = duty.over(full, 100e3).collect();
        assert_eq!(blocks.len(), 4);
        for (got, range) in blocks.iter().zip([9.0, 7.0, 4.0, 3.0]) {
            assert!((got.0 - range).abs() < 1e-12 && (got.1 - 2.0).abs() < 1e-12);
        }
    }

    #[test]
    fn many_ranges_are_gathered_without_losing_a_cycle_and_upwards() {
        // Peaks 1, 2 .. 100 over a valley of zero: ranges 1 .. 100, once each.
        let history: Vec<f64> = (1..=100).flat_map(|n| [f64::from(n), 0.0]).collect();
        let (duty, full) = Duty::of_history(&history, 1.0).unwrap();
        let blocks: Vec<_> = duty.over(full, 1.0).collect();
        assert_eq!(blocks.len(), 32);
        assert!((blocks.iter().map(|b| b.1).sum::<f64>() - 100.0).abs() < 1e-9);
        let damage = |blocks: &[(f64, f64)]| blocks.iter().map(|b| b.1 * b.0.powi(3)).sum::<f64>();
        let exact: Vec<_> = (1..=100).map(|n| (f64::from(n), 1.0)).collect();
        assert!(damage(&blocks) >= damage(&exact));
        assert!(damage(&blocks) < damage(&exact) * 1.08, "by hand: 3 · 1.56 Σn² / Σn³ is 6.2 %");
    }
}
