//! Points over all spreads at once: how likely each row is exceeded, and which input causes how much.

use std::collections::BTreeMap;

use fishplate_quantity::algebra::{larger, smaller};

use super::answer::{Chance, Estimate, RowChance, Sample, Shares};
use super::indices::{Effects, effects, replicated};
use super::inputs::Input;
use crate::CheckError;
use crate::study::trial::{Bench, Outcome};
use crate::study::work::Work;

/// Dimensions that the sequence has; two for each input.
const DIMENSIONS: usize = 256;
/// Independent scrambles: the error of an estimate is the spread over them.
const REPLICATES: usize = 8;
/// Points of one scramble: the sequence has 2^16.
const MOST: usize = 1 << 16;
/// Inputs whose effects are told: each costs half as many designs as there are points.
const LED: usize = 8;

/// Points of the Owen-scrambled Sobol' sequence in the unit cube: Burley, "Practical hash-based
/// Owen scrambling", Journal of Computer Graphics Techniques 9 (2020) 4, by the crate of his name.
pub(crate) fn points(dimensions: usize, count: u32, seed: u32) -> Vec<Vec<f64>> {
    let dimensions = u32::try_from(dimensions).unwrap_or(u32::MAX);
    (0..count)
        .map(|i| (0..dimensions).map(|d| f64::from(sobol_burley::sample(i, d, seed))).collect())
        .collect()
}

/// How a sample is laid out.
#[derive(Debug)]
pub(crate) struct Plan<'a> {
    /// The inputs that vary.
    inputs: Vec<&'a Input>,
    /// Those whose effects are told, by place among them.
    led: Vec<usize>,
    /// Points of `A`, and as many of `B`, in one replicate.
    count: u32,
}

impl<'a> Plan<'a> {
    /// A plan for at least `points` points over the spreads of `inputs`, of which those in `ranked`
    /// order matter most; nothing where nothing varies.
    pub(crate) fn new(inputs: &'a [Input], ranked: &[usize], points: usize) -> Option<Self> {
        let varied: Vec<usize> = ranked
            .iter()
            .copied()
            .filter(|i| inputs[*i].spread.is_some())
            .take(DIMENSIONS / 2)
            .collect();
        if varied.is_empty() || points == 0 {
            return None;
        }
        // A scrambled sequence is even in powers of two.
        let count = points.div_ceil(2 * REPLICATES).next_power_of_two().clamp(2, MOST);
        Some(Self {
            led: (0..varied.len().min(LED)).collect(),
            inputs: varied.into_iter().map(|i| &inputs[i]).collect(),
            count: u32::try_from(count).unwrap_or(u32::MAX),
        })
    }

    /// Designs that it takes.
    pub(crate) fn designs(&self) -> usize {
        REPLICATES * self.one()
    }

    /// Designs of one replicate.
    fn one(&self) -> usize {
        self.half() * (2 + self.led.len())
    }

    fn half(&self) -> usize {
        usize::try_from(self.count).unwrap_or(usize::MAX)
    }

    /// Runs it.
    ///
    /// # Errors
    /// A caller who does not wait any more.
    pub(crate) fn run(&self, bench: &Bench<'_>, work: &mut Work<'_>) -> Result<Sample, CheckError> {
        let seeds = 1..;
        let all: Vec<Vec<Vec<f64>>> = (seeds.take(REPLICATES))
            .map(|seed| points(2 * self.inputs.len(), self.count, seed))
            .collect();
        let outcomes = work.all("trying all spreads at once", self.designs(), |job, inner| {
            let (replicate, within) = (job / self.one(), job % self.one());
            let (set, at) = (within / self.half(), within % self.half());
            bench.with(&self.values(&all[replicate][at], set), inner)
        })?;
        Ok(self.told(bench, &outcomes))
    }

    /// Values of a design: set 0 is `A`, 1 is `B`, then `A` with one input taken from `B`.
    fn values(&self, point: &[f64], set: usize) -> BTreeMap<&str, f64> {
        let other = self.inputs.len();
        self.inputs
            .iter()
            .enumerate()
            .filter_map(|(i, input)| {
                let from_b = set == 1 || (set >= 2 && self.led[set - 2] == i);
                let u = point[if from_b { other + i } else { i }];
                let spread = input.spread?;
                Some((input.path.as_str(), spread.quantile(input.value, u)))
            })
            .collect()
    }

    fn told(&self, bench: &Bench<'_>, outcomes: &[Option<Outcome>]) -> Sample {
        let replicates: Vec<&[Option<Outcome>]> = outcomes.chunks(self.one()).collect();
        // Points of A and B cover all spreads; the others lie on lines through them.
        let covering: Vec<&[Option<Outcome>]> =
            replicates.iter().map(|r| &r[..2 * self.half()]).collect();
        let followed = |o: &Outcome| o.followed.as_ref().map(|(u, _)| *u);
        let mut results: Vec<f64> =
            covering.iter().flat_map(|r| r.iter().flatten().filter_map(followed)).collect();
        results.sort_by(f64::total_cmp);
        let rows = bench
            .rows
            .iter()
            .enumerate()
            .map(|(at, row)| RowChance {
                row: row.clone(),
                chance: chance(&covering, |o| o.rows[at].map(|u| u > 1.0)),
            })
            .collect();
        Sample {
            inputs: self.inputs.len(),
            assumed: self
                .inputs
                .iter()
                .filter(|i| i.spread.is_some_and(|s| s.assumed.is_some()))
                .count(),
            points: covering.iter().map(|r| r.len()).sum(),
            replicates: REPLICATES,
            designs: outcomes.len(),
            unanswered: covering.iter().flat_map(|r| r.iter()).filter(|o| o.is_none()).count(),
            any: chance(&covering, |o| o.highest.as_ref().map(|(u, _)| *u > 1.0)),
            quantiles: [0.05, 0.5, 0.95].map(|share| at_share(&results, share)),
            rows,
            shares: self.led.iter().map(|led| self.shares(*led, &replicates)).collect(),
        }
    }

    /// Effects of one input, with their error over the replicates.
    fn shares(&self, led: usize, replicates: &[&[Option<Outcome>]]) -> Shares {
        let half = self.half();
        let mut found: Vec<Effects> = Vec::new();
        for replicate in replicates {
            let result = |set: usize, at: usize| {
                replicate[set * half + at].as_ref()?.followed.as_ref().map(|(u, _)| *u)
            };
            // A point of which one design has no answer is left out as a whole.
            let (mut a, mut b, mut ab) = (Vec::new(), Vec::new(), Vec::new());
            for at in 0..half {
                if let (Some(x), Some(y), Some(z)) =
                    (result(0, at), result(1, at), result(2 + led, at))
                {
                    a.push(x);
                    b.push(y);
                    ab.push(z);
                }
            }
            found.extend(effects(&a, &b, &ab));
        }
        let estimate = |of: fn(&Effects) -> f64| {
            let (value, error) = replicated(&found.iter().map(of).collect::<Vec<_>>());
            (!found.is_empty()).then_some(Estimate { value, error })
        };
        Shares {
            path: self.inputs[led].path.clone(),
            first: estimate(|e| e.first),
            total: estimate(|e| e.total),
        }
    }
}

/// The chance that something exceeds, from replicates; a design without an answer, or in which
/// `exceeds` says nothing, does not count.
fn chance(replicates: &[&[Option<Outcome>]], exceeds: impl Fn(&Outcome) -> Option<bool>) -> Chance {
    let (mut hits, mut of, mut shares) = (0_u32, 0_u32, Vec::new());
    for replicate in replicates {
        let (mut own_hits, mut own) = (0_u32, 0_u32);
        for outcome in replicate.iter().flatten() {
            if let Some(exceeds) = exceeds(outcome) {
                own += 1;
                own_hits += u32::from(exceeds);
            }
        }
        if own > 0 {
            shares.push(f64::from(own_hits) / f64::from(own));
        }
        hits += own_hits;
        of += own;
    }
    Chance::new(hits, of, &shares)
}

impl Chance {
    /// From `hits` of `of` points, and the share of hits in each replicate.
    fn new(hits: u32, of: u32, shares: &[f64]) -> Self {
        /// With fewer hits or misses the spread over replicates says little (own choice).
        const FEW: u32 = 10;
        let (_, over_replicates) = replicated(shares);
        if of == 0 {
            return Self { hits, of, share: None, error: 0.0, at_least: 0.0, at_most: 1.0 };
        }
        let count = f64::from(of);
        let share = f64::from(hits) / count;
        let independent = (share * (1.0 - share) / count).sqrt();
        let few = hits < FEW || of - hits < FEW;
        let error = if few { larger(independent, over_replicates) } else { over_replicates };
        // Rule of three, 95 %: Hanley and Lippman-Hand, "If nothing goes wrong, is everything all
        // right?", Journal of the American Medical Association 249 (1983) 1743-1745.
        let three = smaller(1.0, 3.0 / count);
        // Two standard errors, 95 % (normal approximation).
        let near = |side: f64| smaller(1.0, larger(0.0, share + side * 2.0 * error));
        let (at_least, at_most) = match hits {
            0 => (0.0, three),
            all if all == of => (1.0 - three, 1.0),
            _ => (near(-1.0), near(1.0)),
        };
        Self { hits, of, share: Some(share), error, at_least, at_most }
    }
}

/// The value below which a share of a sorted list lies.
fn at_share(sorted: &[f64], share: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    // Lists of at most 2^20 values: exact.
    #[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let at = (share * last as f64).round() as usize;
    sorted.get(at).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Any aligned power of two of a scrambled sequence has one point in each of as many equal
    /// slices, in every dimension: Owen, "Randomly permuted (t,m,s)-nets", 1995.
    #[test]
    fn points_are_even_in_every_dimension() {
        let all = points(40, 64, 5);
        for d in 0..40 {
            let mut slices: Vec<i32> =
                all.iter().map(|p| (p[d] * 64.0).floor()).map(|s| s as i32).collect();
            slices.sort_unstable();
            assert_eq!(slices, (0..64).collect::<Vec<_>>(), "dimension {d}");
        }
    }

    #[test]
    fn seeds_give_other_points_and_the_same_seed_the_same() {
        assert_eq!(points(3, 16, 1), points(3, 16, 1));
        assert_ne!(points(3, 16, 1), points(3, 16, 2));
    }

    /// By hand: 300 points without a hit leave room for 1 %.
    #[test]
    fn none_of_many_is_an_upper_bound() {
        let none = Chance::new(0, 300, &[0.0; 8]);
        assert_eq!((none.share, none.at_least), (Some(0.0), 0.0));
        assert!((none.at_most - 0.01).abs() < 1e-12);
        let all = Chance::new(300, 300, &[1.0; 8]);
        assert!((all.at_least - 0.99).abs() < 1e-12 && all.at_most >= 1.0);
        assert_eq!(Chance::new(0, 0, &[]).share, None);
    }

    /// By hand: shares of 0.4 and 0.6 have mean 0.5 and an error of 0.1.
    #[test]
    fn the_error_of_a_chance_is_its_spread_over_replicates() {
        let half = Chance::new(50, 100, &[0.4, 0.6]);
        assert!((half.error - 0.1).abs() < 1e-12);
        assert!((half.at_least - 0.3).abs() < 1e-12 && (half.at_most - 0.7).abs() < 1e-12);
        // Few hits: as if every point stood alone, √(0.01·0.99/100).
        let rare = Chance::new(1, 100, &[0.01; 8]);
        assert!((rare.error - (0.0099_f64 / 100.0).sqrt()).abs() < 1e-12);
    }

    #[test]
    fn shares_of_a_list() {
        let list: Vec<f64> = (0..=100).map(f64::from).collect();
        assert_eq!(at_share(&list, 0.05), Some(5.0));
        assert_eq!(at_share(&[], 0.5), None);
    }
}
