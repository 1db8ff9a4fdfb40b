//! Resistance spot welds between sheets.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{SpotKind, SpotWeldInput};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::RESISTANCE_SPOT;
use crate::packs::american::{IN, KIP, aisi};

/// Shear of a resistance spot. The formula knows the thinner sheet only: a spot is made as large as
/// that sheet asks for.
pub(super) struct ResistanceSpot;

const SPOT: Source = aisi("J2.6");

impl Clause<SpotWeldInput> for ResistanceSpot {
    fn reference(&self) -> Source {
        SPOT
    }

    fn title(&self) -> &'static str {
        "resistance spot weld in shear"
    }

    fn short(&self) -> &'static str {
        "resistance spot"
    }

    fn applies(&self, input: &SpotWeldInput) -> Applicability {
        match input.spot {
            SpotKind::Resistance => Applicability::Applies,
            SpotKind::Fusion => Applicability::DoesNotApply(
                "the spot is made from one side: it is an arc spot weld".to_owned(),
            ),
        }
    }

    fn formula(
        &self,
        input: &SpotWeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        if input.f_t_ed > 0.0 {
            let reason =
                "a spot weld must not carry pull, which peels it off: use a bolt or a bead";
            return Err(NotChecked::NoRule { reason: reason.to_owned() });
        }
        let f_v_ed = input.f_v_ed(trace);
        let t = input.t(trace);
        if !(0.01 * IN..=0.18 * IN).contains(&t) {
            return Err(NotChecked::OutOfRange {
                symbol: "t",
                what: "thickness of the thinner sheet",
                value: t,
                dimension: Dimension::Length,
                allowed: "0.01 to 0.18 in, AISI S100 J2.6",
            });
        }
        let p_n = if t < 0.14 * IN {
            step!(trace, Force, SPOT, "nominal strength";
                p_n(t) = 144.0 * power(t / IN, 1.47) * KIP);
            p_n
        } else {
            step!(trace, Force, SPOT, "nominal strength";
                p_n(t) = (43.4 * t / IN + 1.93) * KIP);
            p_n
        };
        available!(trace, factors, phi_spot or omega_spot of RESISTANCE_SPOT;
            Force, SPOT, "available strength"; p_a(p_n));
        step!(trace, Ratio, SPOT, "utilisation"; utilisation(f_v_ed, p_a) = f_v_ed / p_a);
        Checked::new(f_v_ed, p_a, Dimension::Force, utilisation)
    }
}
