//! A plate pulled by bolts beside the line where it is held: the equivalent T-stub.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{Prying, TStubInput};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
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
        let (l_eff_1, l_eff_2) = effective_lengths(input, m, trace)?;
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Moment, T_STUB, "plastic moment for mode 1";
            m_pl_1(l_eff_1, t, f_y, gamma_m0) = 0.25 * l_eff_1 * sq(t) * f_y / gamma_m0);
        step!(trace, Moment, T_STUB, "plastic moment for mode 2";
            m_pl_2(l_eff_2, t, f_y, gamma_m0) = 0.25 * l_eff_2 * sq(t) * f_y / gamma_m0);
        let f_t_rd = match input.prying {
            Prying::Bears => {
                let e_min = smaller_edge(input, trace)?;
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

/// The smaller of the edge distances of the two plates, which is not above that of this one.
fn smaller_edge(input: &TStubInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    if input.e_min > input.e {
        return Err(NotChecked::OutOfRange {
            symbol: "e_min",
            what: "the smaller edge distance of the two plates",
            value: input.e_min,
            dimension: Dimension::Length,
            allowed: "at most the distance from bolt to the edge of this plate",
        });
    }
    Ok(input.e_min(trace))
}

/// Effective lengths for modes 1 and 2: those given, else those of an isolated row.
fn effective_lengths(
    input: &TStubInput,
    m: f64,
    trace: &mut Trace,
) -> Result<(f64, f64), NotChecked> {
    let l_eff_2 = if input.l_eff_2.is_some() {
        input.l_eff_2(trace)?
    } else {
        let e = input.e(trace);
        step!(trace, Length, T_STUB, "effective length, straight yield lines";
            l_eff_2(m, e) = 4.0 * m + 1.25 * e);
        l_eff_2
    };
    if input.l_eff_1.is_none() {
        step!(trace, Length, T_STUB, "effective length, circle or straight lines";
            l_eff_1(m, l_eff_2) = smaller(2.0 * PI * m, l_eff_2));
        return Ok((l_eff_1, l_eff_2));
    }
    let l_eff_1 = input.l_eff_1(trace)?;
    if l_eff_1 > l_eff_2 {
        return Err(NotChecked::OutOfRange {
            symbol: "l_eff_1",
            what: "effective length for mode 1",
            value: l_eff_1,
            dimension: Dimension::Length,
            allowed: "at most the effective length for mode 2, which counts fewer yield lines",
        });
    }
    Ok((l_eff_1, l_eff_2))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packs::en_1993::bolts::examples;
    use crate::packs::en_1993::examples::factors;

    // EN 1993-1-8:2005 Table 6.6, from memory: mode 1 counts circles and straight lines, whichever
    // is shorter, mode 2 straight lines only; so a given length for mode 1 cannot be the longer.
    #[test]
    fn the_length_of_mode_1_is_not_above_that_of_mode_2() {
        let run = |l_eff_1: Option<f64>, l_eff_2: Option<f64>| {
            let mut input = examples::t_stubs().remove(0).input;
            (input.l_eff_1, input.l_eff_2) = (l_eff_1, l_eff_2);
            TStub.evaluate(&input, &factors(), &mut Trace::off())
        };
        let too_long = run(Some(0.0901), Some(0.09));
        assert!(matches!(too_long, Err(NotChecked::OutOfRange { symbol: "l_eff_1", .. })));
        assert!(run(Some(0.09), Some(0.09)).is_ok());
        // Alone it is held against that of the isolated row, 4 30 + 1.25 25 = 151.25 mm.
        assert!(run(Some(0.1512), None).is_ok());
        assert!(run(Some(0.1513), None).is_err());
    }
}
