//! What local buckling leaves of one flat wall: EN 1993-1-5:2006, 4.4.

use fishplate_quantity::algebra::{larger, smaller, sq, sqrt};

use crate::packs::flats::Widths;
pub(super) use crate::packs::flats::{Carrying, Flats, Left, Pressing, Wall};

/// Yield strength, and the share of it that the most compressed point reaches where the slenderness
/// is taken at the stress (EN 1993-1-5:2006, 4.4(4)).
#[derive(Debug, Clone, Copy)]
pub(super) struct Level {
    pub(super) eps: f64,
    /// `None`: slenderness at yield.
    pub(super) f_yd: Option<f64>,
}

impl Widths for Level {
    fn left(self, held: (bool, bool), at: (f64, f64), ratio: f64) -> Left {
        remaining(held, at, ratio, self)
    }
}

/// What buckling leaves of a wall with the stresses `at` its start and end (EN 1993-1-5:2006, 4.4,
/// Tables 4.1 and 4.2, from memory).
fn remaining(held: (bool, bool), at: (f64, f64), ratio: f64, level: Level) -> Left {
    let (most, least) = (larger(at.0, at.1), smaller(at.0, at.1));
    // Written so that NaN goes on and is noticed at rest.
    if most <= 0.0 {
        return Left::WHOLE;
    }
    let psi = least / most;
    let both = held.0 && held.1;
    // An evenly pressed outstand counts as pressed at its tip, whatever rounding says.
    let even = psi > 1.0 - 1e-9;
    let pressed_at_start = if even && !both { !held.0 } else { at.0 >= at.1 };
    let tip_pressed = !both && (pressed_at_start != held.0);
    let k_sigma = if both {
        internal_factor(larger(psi, -3.0))
    } else if tip_pressed {
        tip_factor(larger(psi, -3.0))
    } else {
        root_factor(larger(psi, -1.0))
    };
    let stress = level.f_yd.map_or(1.0, |f_yd| smaller(1.0, most / f_yd));
    let lambda = ratio / (28.4 * level.eps * sqrt(k_sigma)) * sqrt(stress);
    let rho = if both { internal_share(lambda, larger(psi, -3.0)) } else { outstand_share(lambda) };
    let pressed = if psi < 0.0 { 1.0 / (1.0 - psi) } else { 1.0 };
    let (at_pressed, at_other) = match (both, tip_pressed) {
        (true, _) if psi >= 0.0 => {
            let near = 2.0 / (5.0 - psi) * rho;
            (near, rho - near)
        }
        (true, _) => (0.4 * rho * pressed, 1.0 - pressed + 0.6 * rho * pressed),
        (false, true) => (0.0, 1.0 - pressed + rho * pressed),
        (false, false) => (rho * pressed, 1.0 - pressed),
    };
    // A whole wall is one part, so that no joint within it shows.
    let (at_pressed, at_other) = if rho >= 1.0 { (1.0, 0.0) } else { (at_pressed, at_other) };
    let (from_start, to_end) =
        if pressed_at_start { (at_pressed, at_other) } else { (at_other, at_pressed) };
    Left { from_start, to_end, psi, k_sigma, lambda, rho }
}

/// Buckling factor of a wall held at both edges (Table 4.1).
pub(super) fn internal_factor(psi: f64) -> f64 {
    if psi >= 0.0 {
        8.2 / (1.05 + psi)
    } else if psi >= -1.0 {
        7.81 - 6.29 * psi + 9.78 * sq(psi)
    } else {
        5.98 * sq(1.0 - psi)
    }
}

/// Buckling factor of a wall held at one edge, the free edge more compressed (Table 4.2).
pub(super) fn tip_factor(psi: f64) -> f64 {
    0.57 - 0.21 * psi + 0.07 * sq(psi)
}

/// Buckling factor of a wall held at one edge, the held edge more compressed (Table 4.2).
pub(super) fn root_factor(psi: f64) -> f64 {
    if psi >= 0.0 { 0.578 / (psi + 0.34) } else { 1.7 - 5.0 * psi + 17.1 * sq(psi) }
}

/// Effective share of a wall held at both edges (4.2).
pub(super) fn internal_share(lambda: f64, psi: f64) -> f64 {
    if lambda <= 0.5 + sqrt(0.085 - 0.055 * psi) {
        1.0
    } else {
        smaller(1.0, (lambda - 0.055 * (3.0 + psi)) / sq(lambda))
    }
}

/// Effective share of a wall held at one edge (4.3).
pub(super) fn outstand_share(lambda: f64) -> f64 {
    if lambda <= 0.748 { 1.0 } else { smaller(1.0, (lambda - 0.188) / sq(lambda)) }
}
