//! A whole run of fillet weld.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{BeadEnds, WeldRunInput};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{SQRT_3, joints};

use super::throat;

/// Strength of a run by the simplified method, over its effective length.
pub(super) struct RunStrength;

const RUN: Source = joints("4.5.1, 4.5.3.3 and 4.11");

impl Clause<WeldRunInput> for RunStrength {
    fn reference(&self) -> Source {
        RUN
    }

    fn title(&self) -> &'static str {
        "run of fillet weld over its effective length"
    }

    fn applies(&self, _: &WeldRunInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &WeldRunInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ed = input.f_ed(trace);
        let z = input.z(trace);
        let gap = input.gap(trace);
        let a = throat(z, gap, trace)?;
        let l_eff = effective_length(input, a, trace)?;
        let f_u = input.f_u(trace);
        let beta_w = input.beta_w(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        factors.note_strengths(trace);
        step!(trace, Force, joints("4.5.3.3"), "resistance of the run";
            f_w_rd(f_u, beta_w, gamma_m2, a, l_eff) =
            f_u / (SQRT_3 * beta_w * gamma_m2) * a * l_eff);
        let f_w_rd = if input.l_lap.is_some() {
            let l_lap = input.l_lap(trace)?;
            step!(trace, Ratio, joints("4.11(2)"), "reduction for a lap longer than 150 throats";
                beta_lw(l_lap, a) = smaller(1.0, 1.2 - 0.2 * l_lap / (150.0 * a)));
            step!(trace, Force, joints("4.11(2)"), "resistance in a long lap";
                f_w_rd(f_w_rd, beta_lw) = f_w_rd * positive(beta_lw));
            f_w_rd
        } else {
            f_w_rd
        };
        step!(trace, Ratio, RUN, "utilisation"; utilisation(f_ed, f_w_rd) = f_ed / f_w_rd);
        Checked::new(f_ed, f_w_rd, Dimension::Force, utilisation)
    }
}

/// Records and returns the length over which the run has its full size.
pub(super) fn effective_length(
    input: &WeldRunInput,
    a: f64,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let l = input.l(trace);
    let l_eff = match input.ends {
        BeadEnds::Open => {
            step!(trace, Length, joints("4.5.1(1)"), "effective length, a throat off at each end";
                l_eff(l, a) = l - 2.0 * a);
            l_eff
        }
        BeadEnds::Wrapped => {
            step!(trace, Length, joints("4.5.1(1)"), "effective length, full size to the ends";
                l_eff(l) = l);
            l_eff
        }
    };
    if l_eff > 0.0 {
        return Ok(l_eff);
    }
    Err(NotChecked::OutOfRange {
        symbol: "l",
        what: "length of the run",
        value: l,
        dimension: Dimension::Length,
        allowed: "more than two throats, the run is all start and stop",
    })
}
