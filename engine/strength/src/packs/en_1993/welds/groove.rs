//! Butt welds of full and partial penetration.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{GrooveWeldInput, Penetration};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MM, SQRT_3, THIN, joints};

/// A full butt weld is as strong as the weaker part, if its metal is not weaker.
pub(super) struct FullButt;

const FULL: Source = joints("4.7.1, full penetration");

impl Clause<GrooveWeldInput> for FullButt {
    fn reference(&self) -> Source {
        FULL
    }

    fn title(&self) -> &'static str {
        "butt weld of full penetration, as the weaker part"
    }

    fn short(&self) -> &'static str {
        "full butt weld"
    }

    fn applies(&self, input: &GrooveWeldInput) -> Applicability {
        if input.penetration != Penetration::Complete {
            return Applicability::DoesNotApply("the weld goes through a part of it".to_owned());
        }
        Applicability::within(input.f_exx >= input.f_u, || {
            "the weld metal is weaker than the part, which 4.7.1(1) rules out".to_owned()
        })
    }

    fn formula(
        &self,
        input: &GrooveWeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let f_v_ed = input.f_v_ed(trace);
        let l = input.l(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Stress, FULL, "comparison stress in the part, pull and shear";
            sigma_ed(f_t_ed, f_v_ed, l, t) = sqrt(sq(f_t_ed) + 3.0 * sq(f_v_ed)) / (l * t));
        step!(trace, Stress, FULL, "yield strength of the part"; f_yd(f_y, gamma_m0) = f_y / gamma_m0);
        step!(trace, Ratio, FULL, "utilisation"; utilisation(sigma_ed, f_yd) = sigma_ed / f_yd);
        Checked::new(sigma_ed, f_yd, Dimension::Stress, utilisation)
    }
}

/// A partial butt weld is a fillet with deep penetration: its throat by the simplified method.
pub(super) struct PartialButt;

const PARTIAL: Source = joints("4.7.2, partial penetration");

impl Clause<GrooveWeldInput> for PartialButt {
    fn reference(&self) -> Source {
        PARTIAL
    }

    fn title(&self) -> &'static str {
        "butt weld of partial penetration"
    }

    fn short(&self) -> &'static str {
        "partial butt weld"
    }

    fn applies(&self, input: &GrooveWeldInput) -> Applicability {
        if input.penetration != Penetration::Partial {
            return Applicability::DoesNotApply("the weld goes through the thickness".to_owned());
        }
        Applicability::within(input.t >= THIN, || {
            "EN 1993-1-8 4.1(1) speaks of parts from 4 mm on".to_owned()
        })
    }

    fn formula(
        &self,
        input: &GrooveWeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let f_v_ed = input.f_v_ed(trace);
        let l = input.l(trace);
        let a_eff = input.a_eff(trace);
        let a = if input.s_prep.is_some() {
            let s_prep = input.s_prep(trace)?;
            step!(trace, Length, PARTIAL, "throat, 2 mm off what was prepared where not proven";
                a(a_eff, s_prep) = smaller(a_eff, positive(s_prep - 2.0 * MM)));
            a
        } else {
            step!(trace, Length, PARTIAL, "throat, its penetration proven"; a(a_eff) = a_eff);
            a
        };
        let f_u = input.f_u(trace);
        let beta_w = input.beta_w(trace)?;
        let gamma_m2 = factors.gamma_m2(trace);
        factors.note_strengths(trace);
        step!(trace, Force, Source::mechanics("resultant of two components"), "force on the weld";
            f_w_ed(f_t_ed, f_v_ed) = hypot(f_t_ed, f_v_ed));
        step!(trace, Force, joints("4.5.3.3"), "resistance of the weld";
            f_w_rd(f_u, beta_w, gamma_m2, a, l) = f_u / (SQRT_3 * beta_w * gamma_m2) * a * l);
        step!(trace, Ratio, PARTIAL, "utilisation"; utilisation(f_w_ed, f_w_rd) = f_w_ed / f_w_rd);
        trace.note(|| {
            "a weld from one side bends about its root: its eccentricity is a check of its own"
                .to_owned()
        });
        Checked::new(f_w_ed, f_w_rd, Dimension::Force, utilisation)
    }
}
