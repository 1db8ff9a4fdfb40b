//! Bolt rows of a T-stub that yield as one.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{Prying, TStubGroupInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::joints;

/// A group of bolt rows. The lengths are those of an unstiffened flange: half a lone row at each
/// end, the spacing between.
pub(super) struct TStubGroup;

const GROUP: Source = joints("6.2.4 and Table 6.4, group of rows");

impl Clause<TStubGroupInput> for TStubGroup {
    fn reference(&self) -> Source {
        GROUP
    }

    fn title(&self) -> &'static str {
        "plate bent by several bolt rows that yield together"
    }

    fn short(&self) -> &'static str {
        "group of rows"
    }

    fn applies(&self, input: &TStubGroupInput) -> Applicability {
        Applicability::only_if(input.n_rows >= 2.0, "a row alone is no group")
    }

    fn formula(
        &self,
        input: &TStubGroupInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let f_t_rd_sum = input.f_t_rd_sum(trace);
        let m = input.m(trace);
        let Lengths { l_nc, l_eff_1 } = Lengths::of(input, m, trace)?;
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Moment, GROUP, "plastic moment for mode 1";
            m_pl_1(l_eff_1, t, f_y, gamma_m0) = 0.25 * l_eff_1 * sq(t) * f_y / gamma_m0);
        let f_t_rd = match input.prying {
            Prying::Bears => {
                let e_min = input.e_min(trace);
                step!(trace, Moment, GROUP, "plastic moment for mode 2";
                    m_pl_2(l_nc, t, f_y, gamma_m0) = 0.25 * l_nc * sq(t) * f_y / gamma_m0);
                step!(trace, Length, GROUP, "lever arm of the edge";
                    n(e_min, m) = smaller(e_min, 1.25 * m));
                step!(trace, Force, GROUP, "mode 1: the plate yields";
                    f_t_1(m_pl_1, m) = 4.0 * m_pl_1 / m);
                step!(trace, Force, GROUP, "mode 2: plate and bolts";
                    f_t_2(m_pl_2, n, f_t_rd_sum, m) = (2.0 * m_pl_2 + n * f_t_rd_sum) / (m + n));
                step!(trace, Force, GROUP, "resistance of the group, mode 3 is the bolts alone";
                    f_t_rd(f_t_1, f_t_2, f_t_rd_sum) = smaller(smaller(f_t_1, f_t_2), f_t_rd_sum));
                f_t_rd
            }
            Prying::Free => {
                step!(trace, Force, GROUP, "modes 1 and 2 without lever forces";
                    f_t_12(m_pl_1, m) = 2.0 * m_pl_1 / m);
                step!(trace, Force, GROUP, "resistance of the group";
                    f_t_rd(f_t_12, f_t_rd_sum) = smaller(f_t_12, f_t_rd_sum));
                f_t_rd
            }
        };
        step!(trace, Ratio, GROUP, "utilisation"; utilisation(f_t_ed, f_t_rd) = f_t_ed / f_t_rd);
        Checked::new(f_t_ed, f_t_rd, Dimension::Force, utilisation)
    }
}

/// Effective lengths of the group.
struct Lengths {
    l_nc: f64,
    l_eff_1: f64,
}

impl Lengths {
    fn of(input: &TStubGroupInput, m: f64, trace: &mut Trace) -> Result<Self, NotChecked> {
        let e = input.e(trace);
        let n_rows = input.n_rows(trace);
        let p = input.p(trace);
        step!(trace, Length, GROUP, "effective length, circles around the group";
            l_cp(m, n_rows, p) = 2.0 * PI * m + 2.0 * (n_rows - 1.0) * p);
        step!(trace, Length, GROUP, "effective length, straight yield lines";
            l_nc(m, e, n_rows, p) = 4.0 * m + 1.25 * e + (n_rows - 1.0) * p);
        let (l_cp, l_nc) = if input.e_1.is_some() {
            let e_1 = input.e_1(trace)?;
            step!(trace, Length, GROUP, "circles, cut at both ends of the plate where that is less";
                l_cp(l_cp, e_1, n_rows, p) =
                smaller(l_cp, 4.0 * e_1 + 2.0 * (n_rows - 1.0) * p));
            step!(trace, Length, GROUP, "straight lines, cut at both ends of the plate";
                l_nc(l_nc, e_1, n_rows, p) = smaller(l_nc, 2.0 * e_1 + (n_rows - 1.0) * p));
            (l_cp, l_nc)
        } else {
            (l_cp, l_nc)
        };
        step!(trace, Length, GROUP, "effective length for mode 1";
            l_eff_1(l_cp, l_nc) = smaller(l_cp, l_nc));
        Ok(Self { l_nc, l_eff_1 })
    }
}

/// Bolts that stretch too far let the edge of the plate lift: no lever forces build up, and the
/// plate carries half.
pub(super) struct GroupBears;

const BEARS: Source = joints("Table 6.2, longest bolt for lever forces");

impl Clause<TStubGroupInput> for GroupBears {
    fn reference(&self) -> Source {
        BEARS
    }

    fn title(&self) -> &'static str {
        "bolts short enough for the edge of the plate to bear"
    }

    fn short(&self) -> &'static str {
        "edge bears"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &TStubGroupInput) -> Applicability {
        let stated = input.l_b.is_some() && input.a_s.is_some();
        Applicability::only_if(
            stated && input.prying == Prying::Bears,
            "no lever forces are counted, or the bolts are not described",
        )
    }

    fn formula(
        &self,
        input: &TStubGroupInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let m = input.m(trace);
        let Lengths { l_eff_1, .. } = Lengths::of(input, m, trace)?;
        let l_b = input.l_b(trace)?;
        let a_s = input.a_s(trace)?;
        let t = input.t(trace);
        let n_rows = input.n_rows;
        step!(trace, Length, BEARS, "longest bolt";
            l_b_max(m, a_s, n_rows, l_eff_1, t) =
            8.8 * cube(m) * a_s * n_rows / (l_eff_1 * cube(t)));
        step!(trace, Ratio, BEARS, "provided over allowed";
            utilisation(l_b, l_b_max) = l_b / l_b_max);
        Checked::new(l_b, l_b_max, Dimension::Length, utilisation)
    }
}
