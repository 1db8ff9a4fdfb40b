//! Flat plates in shear, held along their edges.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::ShearPanelInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::SHEAR;
use crate::packs::american::{aisc, e_of_steel};

const G2: Source = aisc("G2.2, Cv2, panel without tension field (G2.1 before 2016)");

/// Yielding or buckling of a panel in shear, no tension field counted.
pub(super) struct Panel;

impl Clause<ShearPanelInput> for Panel {
    fn reference(&self) -> Source {
        G2
    }

    fn title(&self) -> &'static str {
        "flat plate in shear, yielding or buckling"
    }

    fn short(&self) -> &'static str {
        "plate in shear"
    }

    fn applies(&self, _: &ShearPanelInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &ShearPanelInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let tau_ed = input.tau_ed(trace);
        let a = input.a(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        // Beyond three widths the standard has 5 or 5.34, by edition; this runs on to 5 without a jump.
        step!(trace, Ratio, G2, "buckling factor in shear"; k_v(a, b) = 5.0 + 5.0 * sq(b / a));
        let e_steel = e_of_steel(trace);
        step!(trace, Ratio, G2, "share that buckling in shear leaves";
        c_v(b, t, k_v, f_y, e_steel) =
        if b / t <= 1.10 * sqrt(k_v * e_steel / f_y) {
            1.0
        } else if b / t <= 1.37 * sqrt(k_v * e_steel / f_y) {
            1.10 * sqrt(k_v * e_steel / f_y) * t / b
        } else {
            smaller(1.10 / 1.37, 1.51 * k_v * e_steel * sq(t / b) / f_y)
        });
        step!(trace, Stress, G2, "nominal shear stress"; f_n(f_y, c_v) = 0.6 * f_y * c_v);
        available!(trace, factors, phi_v or omega_v of SHEAR;
            Stress, G2, "available shear stress"; f_c(f_n));
        step!(trace, Ratio, G2, "utilisation"; utilisation(tau_ed, f_c) = tau_ed / f_c);
        Checked::new(tau_ed, f_c, Dimension::Stress, utilisation)
    }
}
