//! Plane states of stress in plates: what every pack makes of forces and moments per length.

use fishplate_quantity::{Source, Trace, step};

use crate::clause::Applicability;
use crate::clause::input::{PlateBucklingInput, PlatePointInput};

const MISES: Source = Source::mechanics("distortion energy in a plane state");
const FACES: Source = Source::mechanics("stress at a face of a plate, n / t ± 6 m / t²");

/// Sizes of the membrane forces (N/m) and of the moments (N) per length by distortion energy, entered
/// into the derivation as `n_ed` and `m_ed`.
pub(super) fn sizes(input: &PlatePointInput, trace: &mut Trace) -> (f64, f64) {
    let n_xx = input.n_xx(trace);
    let n_yy = input.n_yy(trace);
    let n_xy = input.n_xy(trace);
    let m_xx = input.m_xx(trace);
    let m_yy = input.m_yy(trace);
    let m_xy = input.m_xy(trace);
    step!(trace, LineForce, MISES, "size of the membrane forces";
        n_ed(n_xx, n_yy, n_xy) = sqrt(sq(n_xx) - n_xx * n_yy + sq(n_yy) + 3.0 * sq(n_xy)));
    step!(trace, Force, MISES, "size of the moments per length";
        m_ed(m_xx, m_yy, m_xy) = sqrt(sq(m_xx) - m_xx * m_yy + sq(m_yy) + 3.0 * sq(m_xy)));
    (n_ed, m_ed)
}

/// Records and returns the utilisation of a plate that yields through its thickness, from the shares of
/// the membrane strength and of the plastic moment: moment against the square of the force, as
/// `source` has it for a rectangle.
pub(super) fn plastic(r_n: f64, r_m: f64, source: Source, trace: &mut Trace) -> f64 {
    step!(trace, Ratio, source,
        "utilisation: one over the factor on both at which moment and square of the force make 1";
        utilisation(r_m, r_n) = (r_m + sqrt(sq(r_m) + 4.0 * sq(r_n))) / 2.0);
    utilisation
}

/// The larger von Mises stress of both faces, Pa, entered as `sigma`.
pub(super) fn at_faces(input: &PlatePointInput, trace: &mut Trace) -> f64 {
    let n_xx = input.n_xx(trace);
    let n_yy = input.n_yy(trace);
    let n_xy = input.n_xy(trace);
    let m_xx = input.m_xx(trace);
    let m_yy = input.m_yy(trace);
    let m_xy = input.m_xy(trace);
    let t = input.t(trace);
    step!(trace, Stress, FACES, "stress along x at the top";
        s_x_top(n_xx, m_xx, t) = n_xx / t + 6.0 * m_xx / sq(t));
    step!(trace, Stress, FACES, "stress along y at the top";
        s_y_top(n_yy, m_yy, t) = n_yy / t + 6.0 * m_yy / sq(t));
    step!(trace, Stress, FACES, "shear stress at the top";
        s_xy_top(n_xy, m_xy, t) = n_xy / t + 6.0 * m_xy / sq(t));
    step!(trace, Stress, FACES, "stress along x at the bottom";
        s_x_low(n_xx, m_xx, t) = n_xx / t - 6.0 * m_xx / sq(t));
    step!(trace, Stress, FACES, "stress along y at the bottom";
        s_y_low(n_yy, m_yy, t) = n_yy / t - 6.0 * m_yy / sq(t));
    step!(trace, Stress, FACES, "shear stress at the bottom";
        s_xy_low(n_xy, m_xy, t) = n_xy / t - 6.0 * m_xy / sq(t));
    step!(trace, Stress, MISES, "comparison stress at the top";
        s_top(s_x_top, s_y_top, s_xy_top) =
        sqrt(sq(s_x_top) - s_x_top * s_y_top + sq(s_y_top) + 3.0 * sq(s_xy_top)));
    step!(trace, Stress, MISES, "comparison stress at the bottom";
        s_low(s_x_low, s_y_low, s_xy_low) =
        sqrt(sq(s_x_low) - s_x_low * s_y_low + sq(s_y_low) + 3.0 * sq(s_xy_low)));
    step!(trace, Stress, MISES, "the larger of both"; sigma(s_top, s_low) = larger(s_top, s_low));
    sigma
}

/// Slenderness of a plate up to which buckling takes nothing off (EN 1993-1-5:2006, Table B.1, the
/// least of its values, from memory).
pub(super) const PLATEAU: f64 = 0.70;

/// Buckling is a question only above that slenderness: below it the plate yields first, which the
/// rules about its points judge.
pub(super) fn slender(input: &PlateBucklingInput) -> Applicability {
    let slenderness = (input.alpha_ult / input.alpha_cr).sqrt();
    Applicability::only_if(slenderness > PLATEAU, "the plate yields long before it buckles")
}
