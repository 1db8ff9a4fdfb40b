//! Torsion of solid rectangles, and of rectangles that meet at a junction.

use super::properties::{TorsionMethod, TorsionValue};
use fishplate_quantity::algebra::{cube, larger, smaller, sq, sqrt};
use std::f64::consts::PI;

/// Coefficients (beta, alpha) of a solid rectangle with `ratio` = long side / short side, at least 1:
/// torsion constant `beta b t^3`, largest shear stress `T / (alpha b t^2)` at the middle of the long side.
///
/// Series of Saint-Venant: Timoshenko and Goodier, Theory of Elasticity, 3rd ed., art. 109. The terms
/// fall with the fifth power (or faster than exponentially), so fifty odd terms leave only rounding error.
#[must_use]
pub fn rectangle_coefficients(ratio: f64) -> (f64, f64) {
    let (mut fifth, mut second) = (0.0, 0.0);
    for i in (0..50_u32).rev() {
        let n = f64::from(2 * i + 1);
        let x = n * PI * ratio / 2.0;
        fifth += x.tanh() / n.powi(5);
        second += 1.0 / (sq(n) * x.cosh());
    }
    let beta = 1.0 / 3.0 - 64.0 / PI.powi(5) / ratio * fifth;
    let peak = 1.0 - 8.0 / sq(PI) * second;
    (beta, beta / peak)
}

/// Torsion of a solid rectangle of any proportion.
pub(super) fn rectangle(width: f64, height: f64) -> TorsionValue {
    let (b, t) = (larger(width, height), smaller(width, height));
    let (beta, alpha) = rectangle_coefficients(b / t);
    TorsionValue {
        constant: beta * b * cube(t),
        modulus: alpha * b * sq(t),
        method: TorsionMethod::SaintVenantSeries,
    }
}

/// A rectangle running through its junctions: both ends lose stiffness.
pub(super) fn through(length: f64, t: f64) -> f64 {
    let r = t / length;
    length * cube(t) * (1.0 / 3.0 - 0.21 * r * (1.0 - sq(sq(r)) / 12.0))
}

/// A rectangle that stands on another: only its free end loses stiffness.
pub(super) fn standing(length: f64, t: f64) -> f64 {
    let r = t / length;
    length * cube(t) * (1.0 / 3.0 - 0.105 * r * (1.0 - sq(sq(r)) / 192.0))
}

/// The bonus of an L junction of walls `t1` and `t2` with inner radius `r`: alpha D^4, D the circle inscribed in it.
///
/// Roark's Formulas for Stress and Strain, 7th ed., table 10.1, L section (from memory).
pub(super) fn corner_bonus(t1: f64, t2: f64, r: f64) -> f64 {
    let (b, d) = (larger(t1, t2), smaller(t1, t2));
    let alpha = d / b * (0.07 + 0.076 * r / b);
    let circle = 2.0 * (d + b + 3.0 * r - sqrt(2.0 * (2.0 * r + b) * (2.0 * r + d)));
    alpha * sq(sq(circle))
}

/// What one rounded corner takes from the length of each of its two midlines: half the difference between
/// the corner and the arc of the mean radius. A sharp outer corner takes nothing.
pub(super) fn bend_cut(inner_radius: f64, outer_radius: f64) -> f64 {
    if outer_radius <= 0.0 {
        return 0.0;
    }
    f64::midpoint(inner_radius, outer_radius) * (1.0 - PI / 4.0)
}

/// The softer of the two values of an open section; the sum alone where the junction formula doesn't apply.
pub(super) fn softer(by: impl Fn(TorsionMethod) -> Option<TorsionValue>) -> TorsionValue {
    let sum = by(TorsionMethod::ThinWallSum).expect("an open section has a thin-wall sum");
    match by(TorsionMethod::JunctionCorrected) {
        Some(corrected) if corrected.constant < sum.constant => corrected,
        _ => sum,
    }
}
