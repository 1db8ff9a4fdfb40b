//! A batch of designs, shared between threads.

use super::alone::solve_alone;
use super::lanes::{Group, Scratch};
use super::request::{BatchAnswer, BatchError, Effort, Judged, MemberEnd, Refused, Width};
use super::topology::FrameBatch;
use crate::error::Cancel;
use crate::model::BeamId;
use crate::validate::Findings;
use fishplate_quantity::Fault;
use pulp::{Arch, Scalar, Simd, WithSimd};
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};

/// Designs that a thread takes at a time.
const PIECE: usize = 64;

/// Residual up to which a design is taken as solved (common practice, no source: several hundred
/// roundings).
const ACCEPTED: f64 = 1e-13;
/// Scaled pivot below which more digits may be lost than the lanes are trusted with: movements keep
/// about as many correct digits as this has to the unit roundoff.
const SUSPECT_PIVOT: f64 = 1e-6;
/// Most faults of numbers that are told one by one.
const MOST_FAULTS: usize = 20;

impl FrameBatch {
    /// Solves designs: `values` holds the numbers of the first, then those of the second and so on,
    /// each in the order of [`super::BatchAsked::varied`].
    ///
    /// Designs are solved as many at a time as a register holds. One of which pivots or residuals
    /// leave doubts is solved again on its own by [`crate::statics()`], and refused with its words
    /// where it can't be; its neighbours notice nothing.
    ///
    /// # Errors
    /// Numbers that can't be used (path `values[k]`, at most twenty of them), or the caller's wish
    /// to stop.
    pub fn solve(
        &self,
        values: &[f64],
        effort: Effort,
        cancel: &(dyn Cancel + Sync),
    ) -> Result<BatchAnswer, BatchError> {
        let designs = self.check(values).map_err(BatchError::Unusable)?;
        let mut answer = self.blank(designs);
        let mut pieces = self.pieces(values, &mut answer, designs);
        let stopped = AtomicBool::new(false);
        let waiting = Mutex::new(pieces.iter_mut());
        let next = || {
            if stopped.load(Ordering::Relaxed) {
                return None;
            }
            if cancel.cancelled() {
                stopped.store(true, Ordering::Relaxed);
                return None;
            }
            waiting.lock().ok().and_then(|mut pieces| pieces.next())
        };
        let work = || {
            let worker = Worker { batch: self, next: &next, cancel };
            match effort.width {
                Width::Widest => Arch::new().dispatch(worker),
                Width::Single => worker.with_simd(Scalar::new()),
            }
        };
        let helpers = Ord::min(effort.threads, designs.div_ceil(PIECE)).saturating_sub(1);
        if helpers == 0 {
            work();
        } else {
            std::thread::scope(|scope| {
                for _ in 0..helpers {
                    scope.spawn(work);
                }
                work();
            });
        }
        if stopped.into_inner() {
            return Err(BatchError::Cancelled);
        }
        answer.refused = pieces.into_iter().flat_map(|piece| piece.refused).collect();
        Ok(answer)
    }

    /// How many designs these numbers are.
    ///
    /// # Errors
    /// As [`FrameBatch::solve`] for numbers that can't be used.
    pub fn check(&self, values: &[f64]) -> Result<usize, Vec<Fault>> {
        let width = self.slots.len();
        let whole = width > 0 && values.len().is_multiple_of(width);
        if !whole {
            let allowed = if width == 0 {
                "numbers that differ between designs".to_owned()
            } else {
                format!("{width} numbers a design")
            };
            return Err(vec![Fault::new(
                "values",
                format!("{} numbers", values.len()),
                allowed,
                "",
            )]);
        }
        let mut found = Findings::default();
        for (design, numbers) in values.chunks_exact(width).enumerate() {
            for (place, (&value, varied)) in numbers.iter().zip(&self.asked.varied).enumerate() {
                if !varied.may_be(value) {
                    let path = format!("values[{}]", design * width + place);
                    found.add(path, value, varied.allowed(), "check the number and its unit");
                }
            }
            if found.faults.len() >= MOST_FAULTS {
                found.faults.truncate(MOST_FAULTS);
                break;
            }
        }
        if found.faults.is_empty() { Ok(values.len() / width) } else { Err(found.faults) }
    }

    fn blank(&self, designs: usize) -> BatchAnswer {
        let of_forces = if self.asked.end_forces { 12 * self.members.len() } else { 0 };
        let cases = designs * self.cases;
        BatchAnswer {
            worst_stress: vec![0.0; cases],
            worst_at: vec![MemberEnd { beam: BeamId(0), at_end: false }; cases],
            displacements: vec![0.0; cases * 6 * self.asked.displacements.len()],
            end_forces: vec![0.0; cases * of_forces],
            judged: vec![Judged { residual: 0.0, smallest_pivot: 0.0, alone: false }; designs],
            refused: Vec::new(),
        }
    }

    fn pieces<'p>(
        &self,
        values: &'p [f64],
        answer: &'p mut BatchAnswer,
        designs: usize,
    ) -> Vec<Piece<'p>> {
        let BatchAnswer { worst_stress, worst_at, displacements, end_forces, judged, refused: _ } =
            answer;
        let mut pieces = Vec::with_capacity(designs.div_ceil(PIECE));
        let mut values = values;
        let mut stress = worst_stress.as_mut_slice();
        let mut at = worst_at.as_mut_slice();
        let mut moved = displacements.as_mut_slice();
        let mut forces = end_forces.as_mut_slice();
        let mut judged = judged.as_mut_slice();
        let each = |total: usize| total.checked_div(designs).unwrap_or(0);
        let sizes = [stress.len(), moved.len(), forces.len(), values.len()].map(each);
        let mut first = 0;
        while first < designs {
            let count = Ord::min(PIECE, designs - first);
            let [cases, movements, ends, numbers] = sizes.map(|each| each * count);
            let (own_values, rest) = values.split_at(numbers);
            values = rest;
            pieces.push(Piece {
                first,
                values: own_values,
                worst_stress: front(&mut stress, cases),
                worst_at: front(&mut at, cases),
                displacements: front(&mut moved, movements),
                end_forces: front(&mut forces, ends),
                judged: front(&mut judged, count),
                refused: Vec::new(),
            });
            first += count;
        }
        pieces
    }
}

/// Cuts the front off a slice.
fn front<'p, T>(slice: &mut &'p mut [T], count: usize) -> &'p mut [T] {
    let (own, rest) = std::mem::take(slice).split_at_mut(count);
    *slice = rest;
    own
}

/// Some designs and where their answers go.
#[derive(Debug)]
pub(super) struct Piece<'p> {
    /// The first of them.
    first: usize,
    pub(super) values: &'p [f64],
    pub(super) worst_stress: &'p mut [f64],
    worst_at: &'p mut [MemberEnd],
    pub(super) displacements: &'p mut [f64],
    pub(super) end_forces: &'p mut [f64],
    judged: &'p mut [Judged],
    refused: Vec<Refused>,
}

impl Piece<'_> {
    pub(super) fn designs(&self) -> usize {
        self.judged.len()
    }

    /// Keeps the worst stress of a design and a case, and the end where it is: twice the member,
    /// one more at its end.
    pub(super) fn tell_worst(&mut self, place: usize, stress: f64, end: usize) {
        self.worst_stress[place] = stress;
        self.worst_at[place] = MemberEnd { beam: BeamId(end / 2), at_end: end % 2 == 1 };
    }

    /// Takes all numbers of a design away.
    fn blot(&mut self, design: usize) {
        let nothing = f64::NAN;
        for told in [&mut *self.worst_stress, &mut *self.displacements, &mut *self.end_forces] {
            let each = told.len() / self.judged.len();
            told[design * each..(design + 1) * each].fill(nothing);
        }
        self.judged[design] = Judged { residual: nothing, smallest_pivot: nothing, alone: true };
    }

    pub(super) fn judge(&mut self, design: usize, residual: f64, smallest_pivot: f64) {
        self.judged[design] = Judged { residual, smallest_pivot, alone: false };
    }
}

/// Takes pieces until there are none.
struct Worker<'a, F> {
    batch: &'a FrameBatch,
    next: &'a F,
    cancel: &'a (dyn Cancel + Sync),
}

impl<'p, 'q: 'p, F: Fn() -> Option<&'p mut Piece<'q>>> WithSimd for Worker<'_, F> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        let mut scratch = Scratch::new(simd, self.batch);
        while let Some(piece) = (self.next)() {
            let mut first = 0;
            while first < piece.designs() {
                let scratch = &mut scratch;
                simd.vectorize(Group { simd, batch: self.batch, scratch, piece, first });
                first += S::F64_LANES;
            }
            doubtful_ones(self.batch, piece, self.cancel);
        }
    }
}

/// Solves the designs on their own of which the lanes can't be sure.
fn doubtful_ones(batch: &FrameBatch, piece: &mut Piece<'_>, cancel: &dyn Cancel) {
    for design in 0..piece.designs() {
        let Judged { residual, smallest_pivot, alone: _ } = piece.judged[design];
        if residual <= ACCEPTED && smallest_pivot >= SUSPECT_PIVOT {
            continue;
        }
        if cancel.cancelled() {
            // The answer is thrown away as soon as the next piece is asked for.
            return;
        }
        match solve_alone(batch, piece, design) {
            Ok(judged) => piece.judged[design] = judged,
            Err(reason) => {
                piece.blot(design);
                piece.refused.push(Refused { design: piece.first + design, reason });
            }
        }
    }
}
