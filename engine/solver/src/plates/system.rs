//! The factored system of a structure of plates, and solutions that are judged.
//!
//! The judgement is that of [`crate::system`]. Residuals are formed in f64 from the assembled
//! matrix: counted in the axes of their plates, soft bending and stiff membranes rarely share a row,
//! so that rounding stays small against the loads; what is left shows in [`Solution::residual`].

use super::assembly::Assembly;
use crate::error::{Cancel, SolveError, poll};
use crate::linear::Factor;
use crate::mechanism::{Suspect, free_motions};
use crate::model::{Dof, NodeId};
use crate::modes::{Factored, ModeShape, normalise};
use crate::system::{
    BACKWARD_ERROR, FORWARD_BOUND, LOST, condition, index_of_largest, power_of_two_near_root,
};
use crate::vector::{exceeds, largest};
use fishplate_quantity::algebra::larger;

/// A factored stiffness.
#[derive(Debug)]
pub(crate) struct System<'a> {
    pub(crate) assembly: Assembly<'a>,
    /// Powers of two that bring the diagonal near 1.
    pub(crate) scale: Vec<f64>,
    /// Scaled stiffness, lower triangle.
    pub(crate) values: Vec<f64>,
    pub(crate) factor: Factor,
    threads: usize,
    pub(crate) condition: f64,
    pub(crate) smallest_pivot: f64,
    pub(crate) softest: (NodeId, Dof),
    stiffest: NodeId,
}

/// A pivot below this is looked into (common practice, no source: far above the rounding of a
/// singular matrix, below what plates in hundreds of elements come to).
const SUSPECT_PIVOT: f64 = 1e-13;
/// A condition above this is looked into (the same).
const SUSPECT_CONDITION: f64 = 1e12;
/// Most unknowns: 50 000 nodes and room for joints.
const MOST_UNKNOWNS: usize = 400_000;
/// Most entries of the factor, 8 bytes each: a gibibyte.
const MOST_ENTRIES: usize = 1 << 27;

impl<'a> System<'a> {
    /// Assembles and factors.
    ///
    /// # Errors
    /// A structure that is too large, a mechanism, a stiffness that f64 can't carry, or the
    /// caller's wish to stop.
    pub(crate) fn new(
        assembly: Assembly<'a>,
        threads: usize,
        cancel: &dyn Cancel,
    ) -> Result<Self, SolveError> {
        let pattern = &assembly.pattern;
        if pattern.size() > MOST_UNKNOWNS || pattern.factor_entries() > MOST_ENTRIES {
            return Err(SolveError::TooLarge {
                unknowns: pattern.size(),
                factor_entries: pattern.factor_entries(),
                most_unknowns: MOST_UNKNOWNS,
                most_entries: MOST_ENTRIES,
            });
        }
        poll(cancel)?;
        let mut values = assembly.stiffness(threads);
        let diagonal: Vec<f64> = (0..pattern.size()).map(|i| values[pattern.diagonal(i)]).collect();
        let scale: Vec<f64> = diagonal.iter().map(|&d| power_of_two_near_root(d)).collect();
        pattern.visit(|place, i, j| values[place] *= scale[i] * scale[j]);
        let stiffest = named(&assembly, index_of_largest(&diagonal)).0;
        let judge = Judge { assembly: &assembly, scale: &scale, values: &values, stiffest };
        poll(cancel)?;
        let factor = Factor::with_threads(pattern, &values, threads).map_err(|failed| {
            judge.mechanism().unwrap_or_else(|| judge.hopeless(1.0 / f64::EPSILON, failed.unknown))
        })?;
        poll(cancel)?;
        let smallest_pivot = factor.smallest_pivot();
        let (condition, softest) = condition(pattern, &values, &factor);
        let sound = smallest_pivot > SUSPECT_PIVOT && condition < SUSPECT_CONDITION;
        if !sound && let Some(mechanism) = judge.mechanism() {
            return Err(mechanism);
        }
        if exceeds(condition * 0.5 * f64::EPSILON, LOST) {
            return Err(judge.hopeless(condition, softest));
        }
        let softest = named(&assembly, softest);
        Ok(System {
            assembly,
            scale,
            values,
            factor,
            threads,
            condition,
            smallest_pivot,
            softest,
            stiffest,
        })
    }
}

/// What tells why a stiffness can't be factored.
struct Judge<'j, 'a> {
    assembly: &'j Assembly<'a>,
    scale: &'j [f64],
    values: &'j [f64],
    stiffest: NodeId,
}

impl Judge<'_, '_> {
    fn hopeless(&self, condition: f64, softest: usize) -> SolveError {
        let (softest, softest_direction) = named(self.assembly, softest);
        SolveError::IllConditioned {
            condition,
            error_bound: condition * f64::EPSILON,
            softest,
            softest_direction,
            stiffest: self.stiffest,
        }
    }

    /// The free motions, told with the plates that they move.
    fn mechanism(&self) -> Option<SolveError> {
        let assembly = self.assembly;
        let held = vec![0.0; assembly.reduction.held.len()];
        let expand = |z: &[f64]| {
            let q: Vec<f64> = z.iter().zip(self.scale).map(|(v, s)| v * s).collect();
            assembly.reduction.expand_plain(&q, &held)
        };
        let mut modes = free_motions(&Suspect {
            pattern: &assembly.pattern,
            values: self.values,
            stiffness: &|block| {
                let sets: Vec<Vec<f64>> = block.iter().map(|z| expand(z)).collect();
                let gathered = assembly.forces(&sets).into_iter().map(|forces| {
                    let mut at_unknowns = assembly.reduction.gather_plain(&forces);
                    for (f, s) in at_unknowns.iter_mut().zip(self.scale) {
                        *f *= s;
                    }
                    at_unknowns
                });
                gathered.collect()
            },
            expand: &|z| assembly.model.to_global(expand(z)),
            size: assembly.model.frame.size(),
        });
        for mode in &mut modes {
            mode.plates = assembly.model.plates_at(mode.node);
        }
        if modes.is_empty() { None } else { Some(SolveError::Mechanism { modes, case: None }) }
    }
}

/// What acts in a load case.
#[derive(Clone, Debug)]
pub(crate) struct Acting {
    /// Forces at all movements, in the axes of the nodes.
    pub(crate) forces: Vec<f64>,
    /// Prescribed movements of the held components, in their order.
    pub(crate) prescribed: Vec<f64>,
}

/// Movements under one load case.
#[derive(Clone, Debug)]
pub(crate) struct Solution {
    /// Of all nodes, in their axes.
    pub(crate) movements: Vec<f64>,
    /// What supports and links supply, at all movements that are not free; in the axes of nodes.
    pub(crate) constraint_forces: Vec<f64>,
    /// Reaction of every held movement.
    pub(crate) reactions: Vec<f64>,
    pub(crate) backward_error: f64,
    pub(crate) residual: f64,
    pub(crate) energy: f64,
    pub(crate) last_correction: f64,
    /// Largest force and largest moment that act on the unknowns.
    pub(crate) acting: [f64; 2],
}

impl System<'_> {
    /// Solves for all cases at once, with a step of refinement, and judges the solutions.
    ///
    /// # Errors
    /// [`SolveError::IllConditioned`] when refinement leaves too large an error.
    pub(crate) fn solve(&self, cases: &[Acting]) -> Result<Vec<Solution>, SolveError> {
        let prepared: Vec<Prepared> = cases.iter().map(|case| self.prepare(case)).collect();
        let refined = self.refined(&prepared);
        let each = cases.iter().zip(&prepared).zip(&refined);
        each.map(|((case, prepared), refined)| self.judged(case, prepared, refined)).collect()
    }

    /// Movements of all nodes in their axes, with a step of refinement; not judged.
    pub(crate) fn movements(&self, case: &Acting) -> Vec<f64> {
        let prepared = self.prepare(case);
        let refined = self.refined(std::slice::from_ref(&prepared));
        self.expanded(&refined[0].x, &case.prescribed)
    }

    /// Movements of all nodes in their axes under sets of forces, supports at rest; not refined.
    pub(crate) fn respond(&self, sets: &[Vec<f64>]) -> Vec<Vec<f64>> {
        let at_rest = vec![0.0; self.assembly.reduction.held.len()];
        let mut solved: Vec<Vec<f64>> = sets
            .iter()
            .map(|forces| self.scaled(&self.assembly.reduction.gather_plain(forces)))
            .collect();
        self.solve_scaled(&mut solved);
        solved.iter().map(|x| self.expanded(x, &at_rest)).collect()
    }

    fn prepare(&self, case: &Acting) -> Prepared {
        let reduction = &self.assembly.reduction;
        let at_prescribed = (largest(&case.prescribed) > 0.0).then(|| {
            let zero = vec![0.0; reduction.unknowns];
            let moved = reduction.expand_plain(&zero, &case.prescribed);
            let held = self.assembly.bound_forces(std::slice::from_ref(&moved));
            (moved, held.into_iter().flatten().collect::<Vec<f64>>())
        });
        let load = match &at_prescribed {
            None => reduction.gather_plain(&case.forces),
            Some((_, held)) => {
                let rest: Vec<f64> = case.forces.iter().zip(held).map(|(f, h)| f - h).collect();
                reduction.gather_plain(&rest)
            }
        };
        Prepared { at_prescribed, scaled: self.scaled(&load), load }
    }

    fn refined(&self, prepared: &[Prepared]) -> Vec<Refined> {
        let mut solved: Vec<Vec<f64>> = prepared.iter().map(|p| p.scaled.clone()).collect();
        self.solve_scaled(&mut solved);
        let mut corrections: Vec<Vec<f64>> =
            solved.iter().zip(prepared).map(|(x, p)| self.rest(x, &p.scaled)).collect();
        self.solve_scaled(&mut corrections);
        solved
            .into_iter()
            .zip(corrections)
            .map(|(mut x, correction)| {
                for (x, c) in x.iter_mut().zip(&correction) {
                    *x += c;
                }
                let top = largest(&x);
                let last_correction = if top > 0.0 { largest(&correction) / top } else { 0.0 };
                Refined { x, last_correction }
            })
            .collect()
    }

    fn expanded(&self, x: &[f64], prescribed: &[f64]) -> Vec<f64> {
        let q: Vec<f64> = x.iter().zip(&self.scale).map(|(x, s)| x * s).collect();
        self.assembly.reduction.expand_plain(&q, prescribed)
    }

    /// What a search for modes needs.
    pub(crate) fn factored(&self) -> Factored<'_> {
        Factored {
            pattern: &self.assembly.pattern,
            scale: &self.scale,
            values: &self.values,
            factor: &self.factor,
        }
    }

    /// Movements of the nodes of the model in a mode.
    pub(crate) fn shape(&self, vector: &[f64]) -> ModeShape {
        let at_rest = vec![0.0; self.assembly.reduction.held.len()];
        let model = self.assembly.model;
        let moved = model.to_global(self.expanded(vector, &at_rest));
        let mut nodes: Vec<[f64; 6]> = moved[..6 * model.given_nodes]
            .chunks_exact(6)
            .map(|n| [n[0], n[1], n[2], n[3], n[4], n[5]])
            .collect();
        normalise(&mut nodes);
        let within_beams = vec![Vec::new(); model.frame.draft.beams.len()];
        ModeShape { nodes, within_beams }
    }

    fn scaled(&self, forces: &[f64]) -> Vec<f64> {
        forces.iter().zip(&self.scale).map(|(f, s)| f * s).collect()
    }

    /// Overwrites scaled forces with scaled unknowns.
    fn solve_scaled(&self, sets: &mut [Vec<f64>]) {
        if self.scale.is_empty() {
            return;
        }
        let mut all: Vec<f64> = sets.concat();
        self.factor.solve_many(&mut all, sets.len(), self.threads);
        for (set, solved) in sets.iter_mut().zip(all.chunks_exact(self.scale.len())) {
            set.copy_from_slice(solved);
        }
    }

    /// `b - A x`, all scaled.
    fn rest(&self, x: &[f64], b: &[f64]) -> Vec<f64> {
        let product = self.assembly.pattern.product(&self.values, x);
        b.iter().zip(product).map(|(b, p)| b - p).collect()
    }

    fn judged(
        &self,
        case: &Acting,
        prepared: &Prepared,
        refined: &Refined,
    ) -> Result<Solution, SolveError> {
        let reduction = &self.assembly.reduction;
        let x = &refined.x;
        let rest = self.rest(x, &prepared.scaled);
        let backward_error = self.backward_error(x, &rest, &prepared.scaled);
        let bound = self.condition * backward_error;
        if exceeds(backward_error, BACKWARD_ERROR) || exceeds(bound, FORWARD_BOUND) {
            return Err(SolveError::IllConditioned {
                condition: self.condition,
                error_bound: bound,
                softest: self.softest.0,
                softest_direction: self.softest.1,
                stiffest: self.stiffest,
            });
        }
        let movements = self.expanded(x, &case.prescribed);
        let held = self.assembly.bound_forces(std::slice::from_ref(&movements));
        let constraint_forces: Vec<f64> =
            held.iter().flatten().zip(&case.forces).map(|(h, f)| h - f).collect();
        let reactions = reduction.reactions_plain(&constraint_forces);
        let unscaled: Vec<f64> = rest.iter().zip(&self.scale).map(|(v, s)| v / s).collect();
        let acting = self.largest_by_kind(&prepared.load);
        let left = self.largest_by_kind(&unscaled);
        let base = larger(acting[0], acting[1]);
        Ok(Solution {
            residual: if base > 0.0 { larger(left[0], left[1]) / base } else { 0.0 },
            energy: energy(x, &rest, case, prepared, &reactions, &|forces| {
                self.scaled(&reduction.gather_plain(forces))
            }),
            movements,
            constraint_forces,
            reactions,
            backward_error,
            last_correction: refined.last_correction,
            acting,
        })
    }

    /// `max |r| / (|A| |x| + |b|)`, after Oettli and Prager; rows in which next to nothing acts are
    /// measured against the others.
    fn backward_error(&self, x: &[f64], rest: &[f64], b: &[f64]) -> f64 {
        let magnitudes: Vec<f64> = self.values.iter().map(|v| v.abs()).collect();
        let absolute: Vec<f64> = x.iter().map(|x| x.abs()).collect();
        let size = self.assembly.pattern.product(&magnitudes, &absolute);
        let floor = f64::EPSILON * larger(largest(&size), largest(b));
        let mut worst = 0.0;
        for ((r, size), b) in rest.iter().zip(&size).zip(b) {
            let base = larger(size + b.abs(), floor);
            if base > 0.0 {
                worst = larger(worst, r.abs() / base);
            }
        }
        worst
    }

    /// Largest of the forces and largest of the moments at the unknowns.
    fn largest_by_kind(&self, forces: &[f64]) -> [f64; 2] {
        let mut top = [0.0, 0.0];
        for (force, movement) in forces.iter().zip(&self.assembly.reduction.movement_of) {
            let kind = usize::from(movement % 6 >= 3);
            top[kind] = larger(top[kind], force.abs());
        }
        top
    }
}

/// What acts on the unknowns in a case.
struct Prepared {
    /// Prescribed movements with all else at rest, and the forces that hold them.
    at_prescribed: Option<(Vec<f64>, Vec<f64>)>,
    load: Vec<f64>,
    scaled: Vec<f64>,
}

/// Scaled unknowns.
struct Refined {
    x: Vec<f64>,
    last_correction: f64,
}

/// Twice the work within the structure less that of loads and reactions, against the sum of the
/// sizes of all contributions.
fn energy(
    x: &[f64],
    rest: &[f64],
    case: &Acting,
    prepared: &Prepared,
    reactions: &[f64],
    at_unknowns: &dyn Fn(&[f64]) -> Vec<f64>,
) -> f64 {
    let mut sum = 0.0;
    let mut size = 0.0;
    let mut take = |work: f64| {
        sum += work;
        size += work.abs();
    };
    // The structure's own forces at the unknowns are what acts there less the rest.
    for ((x, r), b) in x.iter().zip(rest).zip(&prepared.scaled) {
        take(x * (b - r));
        take(-x * b);
    }
    if let Some((moved, held)) = &prepared.at_prescribed {
        // The parts also do work on the prescribed movements, alone and with the unknowns; loads
        // do so on what follows the prescribed movements.
        for ((u, h), f) in moved.iter().zip(held).zip(&case.forces) {
            take(u * h);
            take(-u * f);
        }
        for (x, g) in x.iter().zip(at_unknowns(held)) {
            take(x * g);
        }
        for (r, p) in reactions.iter().zip(&case.prescribed) {
            take(-r * p);
        }
    }
    if size > 0.0 { (sum / size).abs() } else { 0.0 }
}

/// Node of an unknown and the global direction that comes nearest to its own.
fn named(assembly: &Assembly<'_>, unknown: usize) -> (NodeId, Dof) {
    let movement = assembly.reduction.movement_of.get(unknown).copied().unwrap_or(0);
    let axis = assembly.model.rows(movement / 6)[movement % 3];
    let kind = if movement % 6 < 3 { 0 } else { 3 };
    (NodeId(movement / 6), Dof::ALL[kind + index_of_largest(&axis)])
}
