//! A plate pulled by bolts beside the line where it is held: the equivalent T-stub.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{Prying, TStubInput};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::joints;

/// One isolated bolt row of a T-stub.
pub(super) struct TStub;

const T_STUB: Source = joints("6.2.4 and Table 6.2");

impl Clause<TStubInput> for TStub {
    fn reference(&self) -> Source {
        T_STUB
    }

    fn title(&self) -> &'static str {
        "plate bent by bolts beside the line where it is held, lever forces included"
    }

    fn applies(&self, _: &TStubInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &TStubInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let f_t_rd_sum = input.f_t_rd_sum(trace);
        let m = input.m(trace);
        let e = input.e(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Length, T_STUB, "effective length, straight yield lines";
            l_eff_2(m, e) = 4.0 * m + 1.25 * e);
        step!(trace, Length, T_STUB, "effective length, circle or straight lines";
            l_eff_1(m, l_eff_2) = smaller(2.0 * PI * m, l_eff_2));
        step!(trace, Moment, T_STUB, "plastic moment for mode 1";
            m_pl_1(l_eff_1, t, f_y, gamma_m0) = 0.25 * l_eff_1 * sq(t) * f_y / gamma_m0);
        step!(trace, Moment, T_STUB, "plastic moment for mode 2";
            m_pl_2(l_eff_2, t, f_y, gamma_m0) = 0.25 * l_eff_2 * sq(t) * f_y / gamma_m0);
        let f_t_rd = match input.prying {
            Prying::Bears => {
                let e_min = input.e_min(trace);
                step!(trace, Length, T_STUB, "lever arm of the edge";
                    n(e_min, m) = smaller(e_min, 1.25 * m));
                step!(trace, Force, T_STUB, "mode 1: the plate yields";
                    f_t_1(m_pl_1, m) = 4.0 * m_pl_1 / m);
                step!(trace, Force, T_STUB, "mode 2: plate and bolts";
                    f_t_2(m_pl_2, n, f_t_rd_sum, m) =
                    (2.0 * m_pl_2 + n * f_t_rd_sum) / (m + n));
                step!(trace, Force, T_STUB, "resistance of the row, mode 3 is the bolts alone";
                    f_t_rd(f_t_1, f_t_2, f_t_rd_sum) = smaller(smaller(f_t_1, f_t_2), f_t_rd_sum));
                f_t_rd
            }
            Prying::Free => {
                step!(trace, Force, T_STUB, "modes 1 and 2 without lever forces";
                    f_t_12(m_pl_1, m) = 2.0 * m_pl_1 / m);
                step!(trace, Force, T_STUB, "resistance of the row";
                    f_t_rd(f_t_12, f_t_rd_sum) = smaller(f_t_12, f_t_rd_sum));
                f_t_rd
            }
        };
        step!(trace, Ratio, T_STUB, "utilisation"; utilisation(f_t_ed, f_t_rd) = f_t_ed / f_t_rd);
        Checked::new(f_t_ed, f_t_rd, Dimension::Force, utilisation)
    }
}
