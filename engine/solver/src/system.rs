//! A factored system for one state of the contacts, and solutions that are judged.
//!
//! Judging follows N. J. Higham, Accuracy and Stability of Numerical Algorithms, 2nd ed. (2002):
//! componentwise backward error (7.2), condition estimate (15.2), iterative refinement with
//! residuals in doubled precision (12). Residuals are formed from the deformations of the parts,
//! not from the assembled matrix, so that rounding in its entries drops out too.

use crate::assembly::{Skeleton, Structure, reference_parts};
use crate::error::{Cancel, SolveError, poll};
use crate::linear::{Double, Factor, Pattern};
use crate::mechanism::{Suspect, free_motions};
use crate::model::{Dof, NodeId};
use crate::part::{Part, Phase};
use crate::vector::{exceeds, largest};
use fishplate_quantity::algebra::larger;
use std::rc::Rc;

/// A factored stiffness.
#[derive(Debug)]
pub(crate) struct System {
    pub(crate) skeleton: Rc<Skeleton>,
    pub(crate) parts: Vec<Part>,
    pub(crate) phases: Vec<Phase>,
    /// Powers of two that bring the diagonal near 1.
    pub(crate) scale: Vec<f64>,
    /// Scaled stiffness, lower triangle.
    pub(crate) values: Vec<f64>,
    pub(crate) factor: Factor,
    pub(crate) health: Health,
}

/// What the factor says about the stiffness.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Health {
    pub(crate) condition: f64,
    pub(crate) smallest_pivot: f64,
    pub(crate) softest: (NodeId, Dof),
    pub(crate) stiffest: NodeId,
}

/// A pivot below this is looked into.
const SUSPECT_PIVOT: f64 = 1e-10;
/// A condition above this is looked into: a mechanism can hide behind a larger pivot when the
/// rest is slender.
const SUSPECT_CONDITION: f64 = 1e7;
/// Condition times half an epsilon above which the input itself, rounded to f64, no longer fixes
/// the answer to two digits (common practice, no source).
pub(crate) const LOST: f64 = 1e-2;

impl System {
    /// Assembles and factors.
    ///
    /// # Errors
    /// A mechanism, a stiffness that f64 can't carry, or the caller's wish to stop.
    pub(crate) fn new(
        structure: &Structure<'_>,
        skeleton: Rc<Skeleton>,
        phases: &[Phase],
        cancel: &dyn Cancel,
    ) -> Result<Self, SolveError> {
        let parts = structure.parts(phases);
        let reference = skeleton.diagonal(&reference_parts(structure));
        let scale: Vec<f64> = reference.iter().map(|&d| power_of_two_near_root(d)).collect();
        let mut values = skeleton.stiffness(&parts);
        skeleton.pattern.visit(|place, i, j| values[place] *= scale[i] * scale[j]);

        let stiffest = place_of_largest(&skeleton, &reference);
        let hopeless = |condition: f64, unknown: usize| {
            let (softest, softest_direction) = named(&skeleton, unknown);
            SolveError::IllConditioned {
                condition,
                error_bound: condition * f64::EPSILON,
                softest,
                softest_direction,
                stiffest: stiffest.0,
            }
        };
        let motions = || {
            free_motions(&Suspect {
                pattern: &skeleton.pattern,
                values: &values,
                stiffness: &|block| {
                    block.iter().map(|z| scaled_forces(&skeleton, &parts, &scale, z)).collect()
                },
                expand: &|z| {
                    let q: Vec<f64> = z.iter().zip(&scale).map(|(v, s)| v * s).collect();
                    skeleton.reduction.expand_free(&q).into_iter().flatten().collect()
                },
                size: structure.model.size(),
            })
        };
        let mechanism = |modes| SolveError::Mechanism { modes, case: None };

        poll(cancel)?;
        let factor = match Factor::new(&skeleton.pattern, &values) {
            Ok(factor) => factor,
            Err(failed) => {
                let modes = motions();
                return Err(if modes.is_empty() {
                    hopeless(1.0 / f64::EPSILON, failed.unknown)
                } else {
                    mechanism(modes)
                });
            }
        };
        poll(cancel)?;
        let smallest_pivot = factor.smallest_pivot();
        let (condition, softest) = condition(&skeleton.pattern, &values, &factor);
        let sound = smallest_pivot > SUSPECT_PIVOT && condition < SUSPECT_CONDITION;
        if !sound {
            let modes = motions();
            if !modes.is_empty() {
                return Err(mechanism(modes));
            }
        }
        if exceeds(condition * 0.5 * f64::EPSILON, LOST) {
            return Err(hopeless(condition, softest));
        }
        let health = Health {
            condition,
            smallest_pivot,
            softest: named(&skeleton, softest),
            stiffest: stiffest.0,
        };
        Ok(System { skeleton, parts, phases: phases.to_vec(), scale, values, factor, health })
    }

    /// Unscaled solution for forces at the unknowns.
    fn solve(&self, forces: &[Double]) -> Vec<f64> {
        let mut x: Vec<f64> = forces.iter().zip(&self.scale).map(|(f, s)| f.to_f64() * s).collect();
        self.factor.solve(&mut x);
        x.iter().zip(&self.scale).map(|(x, s)| x * s).collect()
    }
}

/// Movements under one load case.
#[derive(Clone, Debug)]
pub(crate) struct Solution {
    /// Of all nodes, six each.
    pub(crate) movements: Vec<Double>,
    /// `K u - f` at all movements: what supports and links must supply.
    pub(crate) constraint_forces: Vec<Double>,
    /// Reaction of every held movement.
    pub(crate) reactions: Vec<f64>,
    pub(crate) backward_error: f64,
    pub(crate) residual: f64,
    pub(crate) last_correction: f64,
    pub(crate) refinements: usize,
    /// Largest force and largest moment that act on the unknowns, prescribed movements and
    /// temperatures included: what an imbalance is measured by.
    pub(crate) acting: [f64; 2],
    /// Sum of the sizes of force times movement over the unknowns: what a gap in the energy is
    /// measured by.
    pub(crate) work: f64,
}

/// Most refinement steps.
const MOST_REFINEMENTS: usize = 8;
/// A correction below this leaves an error of its square.
const SETTLED: f64 = 1e-9;
/// Accepted componentwise backward error.
pub(crate) const BACKWARD_ERROR: f64 = 1e-13;
/// Accepted bound on the relative error of the displacements.
pub(crate) const FORWARD_BOUND: f64 = 1e-3;

impl System {
    /// Solves for nodal loads (all movements) and prescribed movements of the supports.
    ///
    /// # Errors
    /// [`SolveError::IllConditioned`] when refinement doesn't settle.
    pub(crate) fn solution(
        &self,
        loads: &[f64],
        prescribed: &[f64],
    ) -> Result<Solution, SolveError> {
        let reduction = &self.skeleton.reduction;
        let mut q = vec![Double::ZERO; reduction.unknowns];
        let mut movements = reduction.expand(&q, prescribed);
        let (mut rest, mut forces) = self.skeleton.unbalanced(&self.parts, &movements, loads);
        let right_hand_side: Vec<f64> = rest.iter().map(|r| r.to_f64()).collect();

        let mut last_correction = 0.0;
        let mut refinements = 0;
        if largest(&right_hand_side) > 0.0 {
            let mut before = f64::INFINITY;
            for step in 0..=MOST_REFINEMENTS {
                let correction = self.solve(&rest);
                for (q, c) in q.iter_mut().zip(&correction) {
                    *q = q.plus_f64(*c);
                }
                movements = reduction.expand(&q, prescribed);
                (rest, forces) = self.skeleton.unbalanced(&self.parts, &movements, loads);
                if step == 0 {
                    continue;
                }
                refinements = step;
                last_correction = self.against_solution(&correction, &q);
                if last_correction <= SETTLED {
                    break;
                }
                if exceeds(last_correction, 0.5 * before) {
                    return Err(self.ill_conditioned(last_correction));
                }
                before = last_correction;
            }
        }
        let backward_error = self.backward_error(&q, &rest, &right_hand_side);
        let bound = self.health.condition * backward_error;
        let settled = backward_error <= BACKWARD_ERROR
            && bound <= FORWARD_BOUND
            && last_correction <= SETTLED;
        if !settled {
            return Err(self.ill_conditioned(larger(bound, last_correction)));
        }
        let acting = self.largest_by_kind(right_hand_side.iter().copied());
        let left = self.largest_by_kind(rest.iter().map(|r| r.to_f64()));
        // Where only one kind acts, the other is measured by it as if the arm were 1 m.
        let base = larger(acting[0], acting[1]);
        Ok(Solution {
            reactions: reduction.reactions(&forces),
            residual: if base > 0.0 { larger(left[0], left[1]) / base } else { 0.0 },
            acting,
            work: q.iter().zip(&right_hand_side).map(|(q, f)| (q.to_f64() * f).abs()).sum(),
            movements,
            constraint_forces: forces,
            backward_error,
            last_correction,
            refinements,
        })
    }

    fn ill_conditioned(&self, error_bound: f64) -> SolveError {
        SolveError::IllConditioned {
            condition: self.health.condition,
            error_bound,
            softest: self.health.softest.0,
            softest_direction: self.health.softest.1,
            stiffest: self.health.stiffest,
        }
    }

    /// Largest correction against the largest unknown, both scaled.
    fn against_solution(&self, correction: &[f64], q: &[Double]) -> f64 {
        let scaled = |v: f64, i: usize| v / self.scale[i];
        let corrections: Vec<f64> =
            correction.iter().enumerate().map(|(i, &c)| scaled(c, i)).collect();
        let unknowns: Vec<f64> = q.iter().enumerate().map(|(i, q)| scaled(q.to_f64(), i)).collect();
        largest(&corrections) / largest(&unknowns)
    }

    /// `max |r| / (|K| |q| + |f|)`, after Oettli and Prager.
    fn backward_error(&self, q: &[Double], rest: &[Double], right_hand_side: &[f64]) -> f64 {
        let absolute: Vec<f64> =
            q.iter().zip(&self.scale).map(|(q, s)| (q.to_f64() / s).abs()).collect();
        let magnitudes: Vec<f64> = self.values.iter().map(|v| v.abs()).collect();
        let mut size = self.skeleton.pattern.product(&magnitudes, &absolute);
        for ((size, f), s) in size.iter_mut().zip(right_hand_side).zip(&self.scale) {
            *size += (f * s).abs();
        }
        // A row in which nothing acts has no error to speak of; rounding there is measured
        // against the rows that do carry something.
        let floor = f64::EPSILON * largest(&size);
        let mut worst = 0.0;
        for ((r, s), size) in rest.iter().zip(&self.scale).zip(&size) {
            let base = larger(*size, floor);
            if base > 0.0 {
                worst = larger(worst, (r.to_f64() * s).abs() / base);
            }
        }
        worst
    }

    /// Largest of the forces and largest of the moments at the unknowns.
    fn largest_by_kind(&self, forces: impl Iterator<Item = f64>) -> [f64; 2] {
        let mut top = [0.0, 0.0];
        for (force, movement) in forces.zip(&self.skeleton.reduction.movement_of) {
            let kind = usize::from(movement % 6 >= 3);
            top[kind] = larger(top[kind], force.abs());
        }
        top
    }
}

/// Scaled stiffness times a vector, from the deformations of the parts in doubled precision.
fn scaled_forces(skeleton: &Skeleton, parts: &[Part], scale: &[f64], z: &[f64]) -> Vec<f64> {
    let q: Vec<Double> = z.iter().zip(scale).map(|(z, s)| Double::from_f64(z * s)).collect();
    let held = vec![0.0; skeleton.reduction.held.len()];
    let movements = skeleton.reduction.expand(&q, &held);
    let no_loads = vec![0.0; movements.len()];
    let (rest, _) = skeleton.unbalanced(parts, &movements, &no_loads);
    rest.iter().zip(scale).map(|(r, s)| -r.to_f64() * s).collect()
}

/// 1-norm condition of the scaled stiffness by Higham's estimate, and the unknown that the
/// softest motion moves most.
pub(crate) fn condition(pattern: &Pattern, values: &[f64], factor: &Factor) -> (f64, usize) {
    let size = pattern.size();
    if size == 0 {
        return (1.0, 0);
    }
    let mut column_sums = vec![0.0; size];
    pattern.visit(|place, i, j| {
        column_sums[j] += values[place].abs();
        if i != j {
            column_sums[i] += values[place].abs();
        }
    });
    let one_norm = |v: &[f64]| v.iter().map(|x| x.abs()).sum::<f64>();
    let mut x = vec![1.0 / size as f64; size];
    let mut estimate = 0.0;
    let mut softest = 0;
    for _ in 0..5 {
        let mut moved = x.clone();
        factor.solve(&mut moved);
        let norm = one_norm(&moved);
        if norm <= estimate || norm.is_nan() {
            break;
        }
        estimate = norm;
        softest = index_of_largest(&moved);
        let mut z: Vec<f64> = moved.iter().map(|&v| if v < 0.0 { -1.0 } else { 1.0 }).collect();
        factor.solve(&mut z);
        let top = index_of_largest(&z);
        let along: f64 = z.iter().zip(&x).map(|(a, b)| a * b).sum();
        if z[top].abs() <= along {
            break;
        }
        x = vec![0.0; size];
        x[top] = 1.0;
    }
    // The alternating vector guards against the rare matrices that fool the climb.
    let steps = if size > 1 { (size - 1) as f64 } else { 1.0 };
    let mut alternating: Vec<f64> = (0..size)
        .map(|i| (1.0 + i as f64 / steps) * if i.is_multiple_of(2) { 1.0 } else { -1.0 })
        .collect();
    factor.solve(&mut alternating);
    let other = 2.0 * one_norm(&alternating) / (3.0 * size as f64);
    (larger(estimate, other) * largest(&column_sums), softest)
}

pub(crate) fn index_of_largest(v: &[f64]) -> usize {
    let mut top = 0;
    for (i, x) in v.iter().enumerate() {
        if x.abs() > v[top].abs() {
            top = i;
        }
    }
    top
}

fn place_of_largest(skeleton: &Skeleton, diagonal: &[f64]) -> (NodeId, Dof) {
    let mut top = None;
    for (unknown, &d) in diagonal.iter().enumerate() {
        let translation = skeleton.reduction.movement_of[unknown] % 6 < 3;
        if translation && top.is_none_or(|t: usize| d > diagonal[t]) {
            top = Some(unknown);
        }
    }
    named(skeleton, top.unwrap_or(0))
}

fn named(skeleton: &Skeleton, unknown: usize) -> (NodeId, Dof) {
    let movement = skeleton.reduction.movement_of.get(unknown).copied().unwrap_or(0);
    (NodeId(movement / 6), Dof::ALL[movement % 6])
}

/// Power of two nearest to `1 / sqrt(d)`, so that scaling rounds nothing; 1 for zero.
pub(crate) fn power_of_two_near_root(d: f64) -> f64 {
    if d > 0.0 { (-0.5 * d.log2()).round().exp2() } else { 1.0 }
}
