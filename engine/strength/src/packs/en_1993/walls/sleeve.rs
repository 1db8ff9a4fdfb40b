//! A sleeve that carries the preload of a bolt through a hollow.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::SleeveInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;

/// Yielding of the sleeve under the largest preload.
pub(super) struct SleeveYields;

const SLEEVE: Source = Source::mechanics("yielding of a sleeve under the full preload");

impl Clause<SleeveInput> for SleeveYields {
    fn reference(&self) -> Source {
        SLEEVE
    }

    fn title(&self) -> &'static str {
        "sleeve under the full preload"
    }

    fn applies(&self, _: &SleeveInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &SleeveInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_m = input.f_m(trace);
        let d_out = input.d_out(trace);
        let d_in = input.d_in(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        if d_in >= d_out {
            return Err(NotChecked::OutOfRange {
                symbol: "d_in",
                what: "inner diameter of the sleeve",
                value: d_in,
                dimension: Dimension::Length,
                allowed: "less than the outer diameter",
            });
        }
        step!(trace, Area, Source::mechanics("ring"), "area of the sleeve";
            a_sleeve(d_out, d_in) = PI / 4.0 * (sq(d_out) - sq(d_in)));
        step!(trace, Force, SLEEVE, "yield resistance of the sleeve";
            f_rd(a_sleeve, f_y, gamma_m0) = a_sleeve * f_y / gamma_m0);
        step!(trace, Ratio, SLEEVE, "utilisation"; utilisation(f_m, f_rd) = f_m / f_rd);
        Checked::new(f_m, f_rd, Dimension::Force, utilisation)
    }
}
