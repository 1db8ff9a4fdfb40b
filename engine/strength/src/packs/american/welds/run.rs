//! A whole run of fillet weld.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::WeldRunInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::aisc;
use crate::packs::american::available::available;
use crate::packs::american::factors::WELDS;

use super::throat;

/// Strength of a run in any direction, over its effective length. Starts and stops of full size
/// count.
pub(super) struct RunStrength;

const RUN: Source = aisc("J2.4, run");

impl Clause<WeldRunInput> for RunStrength {
    fn reference(&self) -> Source {
        RUN
    }

    fn title(&self) -> &'static str {
        "run of fillet weld over its effective length"
    }

    fn short(&self) -> &'static str {
        "fillet run"
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
        let t_e = throat(z, gap, trace)?;
        let f_exx = input.f_exx(trace)?;
        let l = input.l(trace);
        let l_eff = if input.l_lap.is_some() {
            end_loaded(l, z, trace)
        } else {
            step!(trace, Length, RUN, "effective length"; l_eff(l) = l);
            l_eff
        };
        step!(trace, Force, RUN, "nominal strength";
            r_n(f_exx, t_e, l_eff) = 0.60 * f_exx * t_e * l_eff);
        available!(trace, factors, phi_w or omega_w of WELDS;
            Force, RUN, "available strength"; r_w(r_n));
        step!(trace, Ratio, RUN, "utilisation"; utilisation(f_ed, r_w) = f_ed / r_w);
        Checked::new(f_ed, r_w, Dimension::Force, utilisation)
    }
}

/// Records and returns the effective length of a run along the force that is loaded at its end.
pub(super) fn end_loaded(l: f64, z: f64, trace: &mut Trace) -> f64 {
    const LONG: Source = aisc("J2.2b, end-loaded fillets");
    step!(trace, Length, LONG, "effective length, loaded at its end";
    l_eff(l, z) = if l / z <= 100.0 {
        l
    } else if l / z <= 300.0 {
        l * smaller(1.0, 1.2 - 0.002 * l / z)
    } else {
        180.0 * z
    });
    l_eff
}
