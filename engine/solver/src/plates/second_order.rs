//! Equilibrium on the deformed structure.
//!
//! Membrane forces on tilted elements act like further loads `-K_g(N) u`. The movements under loads
//! and these are sought by repetition; each round solves the structure as it is with its factor, the
//! joints in their state. The step between rounds follows A. C. Aitken's extrapolation, in the form
//! for vectors of B. M. Irons and R. C. Tuck (Int. J. Numer. Meth. Engng 1, 1969).

use super::buckling::{Moved, critical};
use super::joints::Settled;
use super::statics::{Loads, settle};
use super::system::{Acting, System};
use crate::error::{Cancel, SolveError, poll};
use crate::model::CaseId;

/// Critical load over load above which the structure may be solved as it is: EN 1993-1-1:2005,
/// 5.2.1 (3), elastic analysis.
const FIRST_ORDER: f64 = 10.0;
/// Most rounds.
const MOST_ROUNDS: usize = 100;
/// Change of the movements in a round, against them, at which they count as found.
const FOUND: f64 = 1e-9;

/// What second order makes of a case.
pub(crate) struct Ordered {
    /// Critical load over load, where the plates can buckle.
    pub(crate) critical: Option<f64>,
    /// What acts with the loads that the deformations bring, the joints in their state; `None`
    /// where the case may be solved as it is.
    pub(crate) deformed: Option<(Acting, Settled)>,
}

/// Finds the critical factor of a case that was solved as it is and, where it asks for it,
/// equilibrium on the deformed structure.
///
/// # Errors
/// [`SolveError::Buckles`] where there is none; those of the search for modes and of joints.
pub(crate) fn second_order(
    system: &System<'_>,
    loads: &Loads<'_>,
    (settled, movements): (&Settled, &[f64]),
    case: CaseId,
    cancel: &dyn Cancel,
) -> Result<Ordered, SolveError> {
    let assembly = &system.assembly;
    let model = assembly.model;
    let moved = Moved::new(assembly, loads, movements);
    let modes = critical(system, (&moved, settled), 1, cancel)?;
    let Some(factor) = modes.first().map(|mode| mode.load_factor) else {
        return Ok(Ordered { critical: None, deformed: None });
    };
    if factor >= FIRST_ORDER {
        return Ok(Ordered { critical: Some(factor), deformed: None });
    }
    let buckles = SolveError::Buckles { case, critical: factor };
    if factor <= 1.0 {
        return Err(buckles);
    }
    let size = model.frame.size();
    let product = |a: &[f64], b: &[f64]| -> f64 {
        let weigh =
            |(i, (a, b)): (usize, (&f64, &f64))| a * b * if i % 6 < 3 { 1.0 } else { size * size };
        a.iter().zip(b).enumerate().map(weigh).sum()
    };
    let mut at = movements.to_vec();
    let mut before: Option<Vec<f64>> = None;
    let mut step = 1.0;
    for _ in 0..MOST_ROUNDS {
        poll(cancel)?;
        let mut acting = loads.acting.clone();
        let brought = Moved::new(assembly, loads, &at).forces(assembly, &at);
        for (force, g) in acting.forces.iter_mut().zip(brought) {
            *force -= g;
        }
        let mut solved = system.solve(std::slice::from_ref(&acting))?;
        let settled = settle(system, std::slice::from_ref(&acting), &solved, 1)?.swap_remove(0);
        if !settled.forces.is_empty() {
            acting = acting.with(model, &settled);
            solved = system.solve(std::slice::from_ref(&acting))?;
        }
        let found = solved.swap_remove(0).movements;
        let change: Vec<f64> = found.iter().zip(&at).map(|(f, a)| f - a).collect();
        if product(&change, &change) <= FOUND * FOUND * product(&found, &found) {
            return Ok(Ordered { critical: Some(factor), deformed: Some((acting, settled)) });
        }
        if let Some(before) = &before {
            let turn: Vec<f64> = change.iter().zip(before).map(|(c, b)| c - b).collect();
            let square = product(&turn, &turn);
            if square > 0.0 {
                step *= -product(before, &turn) / square;
            }
        }
        for (at, c) in at.iter_mut().zip(&change) {
            *at += step * c;
        }
        before = Some(change);
    }
    Err(buckles)
}
