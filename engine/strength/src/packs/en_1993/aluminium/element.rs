//! Flat elements in compression: local buckling.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{AluminiumElementInput, AluminiumHeld, ElementWelded, Temper};
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MPA, light};

/// Reduced thickness of a flat element in uniform compression.
pub(super) struct Element;

const LOCAL: Source = light("6.1.5, Tables 6.2 and 6.3");

/// Slenderness over epsilon up to which all of the thickness works, and the constants beyond.
fn constants(input: &AluminiumElementInput) -> (f64, f64, f64) {
    let class_a = input.temper == Temper::HeatTreated;
    match (input.held, class_a, input.welded) {
        (AluminiumHeld::BothEdges, true, ElementWelded::No) => (22.0, 32.0, 220.0),
        (AluminiumHeld::BothEdges, true, ElementWelded::Yes)
        | (AluminiumHeld::BothEdges, false, ElementWelded::No) => (18.0, 29.0, 198.0),
        (AluminiumHeld::BothEdges, false, ElementWelded::Yes) => (15.0, 25.0, 150.0),
        (AluminiumHeld::OneEdge, true, ElementWelded::No) => (6.0, 10.0, 24.0),
        (AluminiumHeld::OneEdge, true, ElementWelded::Yes)
        | (AluminiumHeld::OneEdge, false, ElementWelded::No) => (5.0, 9.0, 20.0),
        (AluminiumHeld::OneEdge, false, ElementWelded::Yes) => (4.0, 8.0, 16.0),
    }
}

impl Clause<AluminiumElementInput> for Element {
    fn reference(&self) -> Source {
        LOCAL
    }

    fn title(&self) -> &'static str {
        "flat element of aluminium in compression"
    }

    fn short(&self) -> &'static str {
        "local buckling"
    }

    fn aspect(&self) -> Aspect {
        Aspect::AfterBuckling
    }

    fn applies(&self, _: &AluminiumElementInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &AluminiumElementInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let sigma_ed = input.sigma_ed(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let f_o = input.f_o(trace);
        let gamma_m1_al = factors.gamma_m1_al(trace);
        let (beta_3, c_1, c_2) = constants(input);
        step!(trace, Ratio, LOCAL, "slenderness over epsilon = √(250 MPa / f_o)";
            r(b, t, f_o) = b / t / sqrt(250.0 * MPA / f_o));
        let rho_c = if r <= beta_3 {
            step!(trace, Ratio, LOCAL, "all of the thickness works, class 3 or better";
                rho_c() = 1.0);
            rho_c
        } else {
            let table =
                || fishplate_quantity::Provenance::Table("EN 1999-1-1:2007, Table 6.3".to_owned());
            let c_1 = trace.input("c_1", "constant of the table", Dimension::Ratio, c_1, table);
            let c_2 = trace.input("c_2", "constant of the table", Dimension::Ratio, c_2, table);
            step!(trace, Ratio, LOCAL, "share of the thickness that works, class 4";
                rho_c(c_1, c_2, r) = c_1 / r - c_2 / sq(r));
            rho_c
        };
        step!(trace, Stress, LOCAL, "stress it carries";
            sigma_rd(rho_c, f_o, gamma_m1_al) = rho_c * f_o / gamma_m1_al);
        step!(trace, Ratio, LOCAL, "utilisation";
            utilisation(sigma_ed, sigma_rd) = sigma_ed / sigma_rd);
        Checked::new(sigma_ed, sigma_rd, Dimension::Stress, utilisation)
    }
}
