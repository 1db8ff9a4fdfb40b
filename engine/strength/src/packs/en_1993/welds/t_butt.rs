//! Plates welded from both sides in a T.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::TButtInput;
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MM, SQRT_3, joints};

/// Pull of the plate. Where both rules below are kept the joint is as strong as the plate, else the
/// throats carry it as fillets.
pub(super) struct TButt;

const T_BUTT: Source = joints("4.7.3, T-butt joint");

impl Clause<TButtInput> for TButt {
    fn reference(&self) -> Source {
        T_BUTT
    }

    fn title(&self) -> &'static str {
        "plate welded from both sides in a T"
    }

    fn short(&self) -> &'static str {
        "T-butt joint"
    }

    fn applies(&self, _: &TButtInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &TButtInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ed = input.f_ed(trace);
        let l = input.l(trace);
        let t = input.t(trace);
        let a_1 = input.a_1(trace);
        let a_2 = input.a_2(trace);
        let c_slit = input.c_slit(trace);
        let f_y = input.f_y(trace);
        let f_u = input.f_u(trace);
        let beta_w = input.beta_w(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        factors.note_strengths(trace);
        step!(trace, Force, T_BUTT, "yield resistance of the plate";
            n_pl_rd(f_y, t, l, gamma_m0) = f_y * t * l / gamma_m0);
        step!(trace, Force, joints("4.5.3.3"), "resistance of both throats";
            f_w_rd(f_u, beta_w, gamma_m2, a_1, a_2, l) =
            f_u / (SQRT_3 * beta_w * gamma_m2) * (a_1 + a_2) * l);
        step!(trace, Force, T_BUTT, "that of the plate where the joint counts as full, else the lower";
        f_rd(n_pl_rd, f_w_rd, a_1, a_2, t, c_slit) =
        if a_1 + a_2 >= t && c_slit <= smaller(t / 5.0, 3.0 * MM) {
            n_pl_rd
        } else {
            smaller(n_pl_rd, f_w_rd)
        });
        step!(trace, Ratio, T_BUTT, "utilisation"; utilisation(f_ed, f_rd) = f_ed / f_rd);
        Checked::new(f_ed, f_rd, Dimension::Force, utilisation)
    }
}

/// The slit a T-butt joint may keep.
pub(super) struct TButtSlit;

const SLIT: Source = joints("4.7.3, slit of a T-butt joint");

impl Clause<TButtInput> for TButtSlit {
    fn reference(&self) -> Source {
        SLIT
    }

    fn title(&self) -> &'static str {
        "slit between the welds of a T-butt joint that counts as full"
    }

    fn short(&self) -> &'static str {
        "T-butt slit"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &TButtInput) -> Applicability {
        Applicability::only_if(input.a_1 + input.a_2 >= input.t, "the welds carry as fillets")
    }

    fn formula(
        &self,
        input: &TButtInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let c_slit = input.c_slit(trace);
        let t = input.t(trace);
        step!(trace, Length, SLIT, "widest slit"; c_max(t) = smaller(t / 5.0, 3.0 * MM));
        step!(trace, Ratio, SLIT, "provided over allowed";
            utilisation(c_slit, c_max) = c_slit / c_max);
        Checked::new(c_slit, c_max, Dimension::Length, utilisation)
    }
}
