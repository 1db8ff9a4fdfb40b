//! Rainflow counting of a load history.
//!
//! The procedure is that of ASTM E1049-85, 5.4.4 (from memory): of the last three reversals that
//! are left, the earlier range counts as a whole cycle as soon as the later one is no smaller, and
//! as half a cycle if it holds the start of the history.

use std::cmp::Ordering;

use fishplate_quantity::algebra::{positive, smaller};

/// A counted cycle, in the unit of the history.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cycle {
    /// From valley to peak, above zero.
    pub range: f64,
    /// The middle between valley and peak.
    pub mean: f64,
    /// 1 for a whole cycle, 0.5 for a half one.
    pub count: f64,
}

impl Cycle {
    /// The part of the range that lies below zero: it does less harm where no stress is locked in.
    #[must_use]
    pub fn compressed(&self) -> f64 {
        smaller(positive(self.range / 2.0 - self.mean), self.range)
    }

    fn between(a: f64, b: f64, count: f64) -> Self {
        Self { range: (b - a).abs(), mean: f64::midpoint(a, b), count }
    }
}

/// The cycles of a history that runs once, in the order in which they close; halves that stay open
/// come last. Points that are not finite are left out by the caller: with one, nothing is counted.
///
/// ASTM E1049-85, 5.4.4, rainflow counting.
#[must_use]
pub fn rainflow(history: &[f64]) -> Vec<Cycle> {
    let mut cycles = Vec::new();
    let mut open: Vec<f64> = Vec::new();
    for reversal in reversals(history) {
        open.push(reversal);
        while let [.., a, b, c] = open[..] {
            if (c - b).abs() < (b - a).abs() {
                break;
            }
            if open.len() == 3 {
                cycles.push(Cycle::between(a, b, 0.5));
                open.remove(0);
            } else {
                cycles.push(Cycle::between(a, b, 1.0));
                open.truncate(open.len() - 3);
                open.push(c);
            }
        }
    }
    cycles.extend(open.windows(2).map(|pair| Cycle::between(pair[0], pair[1], 0.5)));
    cycles
}

/// The cycles of one pass of a history that repeats: counted from its highest point round to the
/// highest point again, so that every range closes.
///
/// ASTM E1049-85, 5.4.5, the simplified counting for repeating histories.
#[must_use]
pub fn rainflow_repeating(history: &[f64]) -> Vec<Cycle> {
    let highest = history.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1));
    let Some((start, highest)) = highest else { return Vec::new() };
    let mut round = history[start..].to_vec();
    round.extend(&history[..start]);
    round.push(*highest);
    rainflow(&round)
}

/// First point, peaks and valleys, last point; nothing where a point is not finite.
fn reversals(history: &[f64]) -> Vec<f64> {
    let mut out: Vec<f64> = Vec::new();
    if !history.iter().all(|point| point.is_finite()) {
        return out;
    }
    for &point in history {
        let direction = |from: f64, to: f64| to.total_cmp(&(from + 0.0));
        match out[..] {
            [.., last] if direction(last, point + 0.0) == Ordering::Equal => continue,
            [.., before, last] if direction(before, last) == direction(last, point) => {
                out.pop();
            }
            _ => {}
        }
        out.push(point + 0.0);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Ranges with their counts, smallest first.
    fn table(cycles: &[Cycle]) -> Vec<(f64, f64)> {
        let mut rows: Vec<(f64, f64)> = Vec::new();
        for cycle in cycles {
            match rows.iter_mut().find(|row| (row.0 - cycle.range).abs() < 1e-9) {
                Some(row) => row.1 += cycle.count,
                None => rows.push((cycle.range, cycle.count)),
            }
        }
        rows.sort_by(|a, b| a.0.total_cmp(&b.0));
        rows
    }

    /// ASTM E1049-85, Fig. 6 and the table beside it (from memory).
    const PUBLISHED: [f64; 9] = [-2.0, 1.0, -3.0, 5.0, -1.0, 3.0, -4.0, 4.0, -2.0];

    #[test]
    fn the_published_history_counts_as_published() {
        let cycles = rainflow(&PUBLISHED);
        let expected = [(3.0, 0.5), (4.0, 1.5), (6.0, 0.5), (8.0, 1.0), (9.0, 0.5)];
        assert_eq!(table(&cycles), expected);
        // The one whole cycle lies between -1 and 3.
        let whole: Vec<_> = cycles.iter().filter(|c| c.count > 0.9).collect();
        assert_eq!(whole, [&Cycle { range: 4.0, mean: 1.0, count: 1.0 }]);
    }

    #[test]
    fn the_published_history_repeated_closes_every_cycle() {
        // By hand from the peak of 5: 5 -1 3 -4 4 -2 1 -3 (5); 3 to -1, 1 to -2 and 4 to -3 close
        // inside the 5 to -4.
        let expected = [(3.0, 1.0), (4.0, 1.0), (7.0, 1.0), (9.0, 1.0)];
        assert_eq!(table(&rainflow_repeating(&PUBLISHED)), expected);
    }

    #[test]
    fn what_is_pressed_lies_below_zero() {
        for (from, to, expected) in [(-3.0, 5.0, 3.0), (1.0, 5.0, 0.0), (-5.0, -1.0, 4.0)] {
            let cycle = Cycle::between(from, to, 1.0);
            assert!((cycle.compressed() - expected).abs() < 1e-12, "{cycle:?}");
        }
    }

    #[test]
    fn a_history_without_reversals_is_half_a_cycle_or_nothing() {
        assert_eq!(rainflow(&[]), []);
        assert_eq!(rainflow(&[1.0, 1.0, 1.0]), []);
        assert_eq!(rainflow_repeating(&[]), []);
        assert_eq!(
            rainflow(&[0.0, -0.0, 1.0, 2.0, 2.0]),
            [Cycle { range: 2.0, mean: 1.0, count: 0.5 }]
        );
        assert_eq!(rainflow(&[0.0, f64::NAN, 1.0]), []);
        assert_eq!(rainflow_repeating(&[0.0, f64::INFINITY, 1.0]), []);
    }

    fn histories() -> impl Strategy<Value = Vec<f64>> {
        // Eighths are exact in binary, so that ties stay ties under shift and scale.
        prop::collection::vec((-400_i32..400).prop_map(|n| f64::from(n) / 8.0), 2..60)
    }

    fn twice_the_counts(cycles: &[Cycle]) -> f64 {
        cycles.iter().map(|c| 2.0 * c.count).sum()
    }

    proptest! {
        /// Each range between reversals is half a cycle of one counted cycle or another.
        #[test]
        fn no_reversal_is_lost(history in histories()) {
            let ranges = reversals(&history).len().saturating_sub(1);
            prop_assert!((twice_the_counts(&rainflow(&history)) - ranges as f64).abs() < 1e-9);
        }

        #[test]
        fn the_largest_range_is_that_from_lowest_to_highest(history in histories()) {
            let highest = history.iter().copied().fold(f64::NEG_INFINITY, |a, b| if b > a { b } else { a });
            let lowest = history.iter().copied().fold(f64::INFINITY, |a, b| if b < a { b } else { a });
            let largest = rainflow(&history).iter().map(|c| c.range).fold(0.0, |a, b| if b > a { b } else { a });
            prop_assert!((largest - (highest - lowest)).abs() < 1e-9);
        }

        #[test]
        fn shift_scale_and_mirror_act_on_cycles_as_on_points(history in histories()) {
            let (shift, scale) = (12.5, -4.0);
            let moved: Vec<f64> = history.iter().map(|p| shift + scale * p).collect();
            let expected: Vec<Cycle> = rainflow(&history)
                .iter()
                .map(|c| Cycle { range: 4.0 * c.range, mean: shift + scale * c.mean, count: c.count })
                .collect();
            prop_assert_eq!(rainflow(&moved), expected);
        }

        #[test]
        fn points_on_the_way_change_nothing(history in histories()) {
            let mut finer = vec![history[0]];
            for pair in history.windows(2) {
                finer.extend([f64::midpoint(pair[0], pair[1]), pair[1]]);
            }
            prop_assert_eq!(rainflow(&finer), rainflow(&history));
        }

        #[test]
        fn a_repeated_history_does_not_care_where_it_starts(
            history in histories(), turn in 0_usize..60,
        ) {
            let mut turned = history.clone();
            turned.rotate_left(turn % history.len());
            prop_assert_eq!(
                table(&rainflow_repeating(&turned)), table(&rainflow_repeating(&history))
            );
        }
    }
}
