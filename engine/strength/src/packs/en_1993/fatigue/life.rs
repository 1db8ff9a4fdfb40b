//! From damage to a way driven.

use fishplate_quantity::{Source, Trace, step};

const NO_END: &str = "no block does damage: the way to failure has no end here";

/// Records how far the part lasts if the damage `d_e` comes over `distance`; nothing where no way is
/// given.
pub(super) fn life(distance: Option<f64>, d_e: f64, source: Source, trace: &mut Trace) {
    match distance {
        Some(distance) if d_e > 0.0 => {
            step!(trace, Distance, source, "way to failure in this duty";
                life(distance, d_e) = distance / d_e);
        }
        Some(_) => trace.note(|| NO_END.to_owned()),
        None => {}
    }
}

/// The same where less than a sum of 1 is allowed.
pub(super) fn life_to(
    d_iiw: f64,
    distance: Option<f64>,
    d_e: f64,
    source: Source,
    trace: &mut Trace,
) {
    match distance {
        Some(distance) if d_e > 0.0 => {
            step!(trace, Distance, source, "way to the sum that is allowed, in this duty";
                life(distance, d_iiw, d_e) = distance * d_iiw / d_e);
        }
        Some(_) => trace.note(|| NO_END.to_owned()),
        None => {}
    }
}
