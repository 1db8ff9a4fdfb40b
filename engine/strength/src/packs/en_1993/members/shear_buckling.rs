//! Webs that buckle in shear before they yield.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{MemberInput, Shape};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MPA, SQRT_3, plated};

use super::class::flange_is_thin;

/// Shear on slender webs without stiffeners between the ends, flanges giving no help.
pub(super) struct ShearBuckling;

const WEB: Source = plated("5.2 and 5.3(1), end posts not rigid");

impl Clause<MemberInput> for ShearBuckling {
    fn reference(&self) -> Source {
        WEB
    }

    fn title(&self) -> &'static str {
        "shear buckling of slender webs"
    }

    fn short(&self) -> &'static str {
        "web in shear"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        if !has_webs(input) {
            return Applicability::DoesNotApply("the section has no webs".to_owned());
        }
        Applicability::only_if(
            slender(input),
            "the walls are thick enough to yield in shear before they buckle",
        )
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let web = Web::read(input, factors, trace);
        let v_z_rd = web.along_z(input, trace);
        let v_z_ed = input.v_z_ed(trace);
        step!(trace, Ratio, WEB, "share along z"; eta_z(v_z_ed, v_z_rd) = share(abs(v_z_ed), v_z_rd));
        if input.shape == Shape::RectangularTube {
            let v_y_rd = web.along_y(input, trace);
            let v_y_ed = input.v_y_ed(trace);
            step!(trace, Ratio, WEB, "share along y";
                eta_y(v_y_ed, v_y_rd) = share(abs(v_y_ed), v_y_rd));
            step!(trace, Ratio, WEB, "utilisation, the larger of both";
                utilisation(eta_y, eta_z) = larger(eta_y, eta_z));
            if eta_y > eta_z {
                return Checked::new(v_y_ed.abs(), v_y_rd, Dimension::Force, utilisation);
            }
            return Checked::new(v_z_ed.abs(), v_z_rd, Dimension::Force, utilisation);
        }
        step!(trace, Ratio, WEB, "utilisation"; utilisation(eta_z) = eta_z);
        Checked::new(v_z_ed.abs(), v_z_rd, Dimension::Force, utilisation)
    }
}

fn has_webs(input: &MemberInput) -> bool {
    matches!(input.shape, Shape::RectangularTube | Shape::Channel | Shape::WeldedI)
}

/// Whether a web is more slender than 72 eps / eta (5.1(2)).
pub(super) fn slender(input: &MemberInput) -> bool {
    let eps = f64::sqrt(235.0 * MPA / input.f_y);
    let limit = 72.0 * eps / strengthening(input.f_y);
    let wide = |outside: f64| (outside - 2.0 * input.t) / input.t > limit;
    wide(input.h) || (input.shape == Shape::RectangularTube && wide(input.b))
}

/// eta of 5.1(2): what shear yielding gains by strain hardening.
fn strengthening(f_y: f64) -> f64 {
    if f_y <= 460.0 * MPA { 1.2 } else { 1.0 }
}

/// What webs in both directions share.
struct Web {
    t: f64,
    f_y: f64,
    eps: f64,
    eta: f64,
    gamma_m1: f64,
}

impl Web {
    fn read(input: &MemberInput, factors: &Factors, trace: &mut Trace) -> Self {
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let gamma_m1 = factors.gamma_m1(trace);
        step!(trace, Ratio, WEB, "factor for the yield strength"; eps(f_y) = sqrt(235.0 * MPA / f_y));
        let what = "gain by strain hardening";
        let eta = trace.input("eta", what, Dimension::Ratio, strengthening(f_y), || {
            Provenance::Table("EN 1993-1-5:2006, 5.1(2)".to_owned())
        });
        Self { t, f_y, eps, eta, gamma_m1 }
    }

    /// Resistance of the webs along z.
    fn along_z(&self, input: &MemberInput, trace: &mut Trace) -> f64 {
        let &Self { t, f_y, eps, eta, gamma_m1 } = self;
        let h = input.h(trace);
        let n_webs = webs(input, trace);
        step!(trace, Length, WEB, "clear depth of a web"; h_w(h, t) = positive(h - 2.0 * t));
        // 5.34 is the buckling factor of a long plate (Annex A.3).
        step!(trace, Ratio, WEB, "slenderness of the web in shear";
            lambda_w(h_w, t, eps) = h_w / (37.4 * t * eps * sqrt(5.34)));
        step!(trace, Ratio, WEB, "what buckling leaves of the web";
            chi_w(lambda_w, eta) = if lambda_w < 0.83 / eta { eta } else { 0.83 / lambda_w });
        step!(trace, Force, WEB, "shear resistance of the webs";
            v_z_rd(chi_w, n_webs, h_w, t, f_y, gamma_m1) =
            chi_w * n_webs * h_w * t * f_y / (SQRT_3 * gamma_m1));
        v_z_rd
    }

    /// Resistance of the walls of a tube along y.
    fn along_y(&self, input: &MemberInput, trace: &mut Trace) -> f64 {
        let &Self { t, f_y, eps, eta, gamma_m1 } = self;
        let b = input.b(trace);
        step!(trace, Length, WEB, "clear width of a wall along y"; b_w(b, t) = positive(b - 2.0 * t));
        step!(trace, Ratio, WEB, "slenderness of that wall in shear";
            lambda_y(b_w, t, eps) = b_w / (37.4 * t * eps * sqrt(5.34)));
        step!(trace, Ratio, WEB, "what buckling leaves of that wall";
            chi_y(lambda_y, eta) = if lambda_y < 0.83 / eta { eta } else { 0.83 / lambda_y });
        step!(trace, Force, WEB, "shear resistance of both walls";
            v_y_rd(chi_y, b_w, t, f_y, gamma_m1) =
            chi_y * 2.0 * b_w * t * f_y / (SQRT_3 * gamma_m1));
        v_y_rd
    }
}

fn webs(input: &MemberInput, trace: &mut Trace) -> f64 {
    let number = if input.shape == Shape::RectangularTube { 2.0 } else { 1.0 };
    trace.input("n_webs", "number of webs", Dimension::Ratio, number, || {
        Provenance::Geometry("the shape of the section".to_owned())
    })
}

/// Bending about y where shear takes more than half of a slender web.
pub(super) struct BendingBesideShearBuckling;

const BOTH: Source = plated("7.1(1)");

impl Clause<MemberInput> for BendingBesideShearBuckling {
    fn reference(&self) -> Source {
        BOTH
    }

    fn title(&self) -> &'static str {
        "bending beside shear buckling of the webs"
    }

    fn short(&self) -> &'static str {
        "bending, slender web"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        if !has_webs(input) || !slender(input) {
            return Applicability::DoesNotApply("no web is slender in shear".to_owned());
        }
        if input.w_pl_y.is_none() {
            return Applicability::DoesNotApply("no plastic section modulus is given".to_owned());
        }
        Applicability::only_if(
            input.v_z_ed.abs() > 0.0 && input.m_y_ed.abs() > 0.0,
            "there is no bending about y with shear along z",
        )
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        if flange_is_thin(input) {
            let reason = "the compressed flange is of class 4 too: no rule in this pack";
            return Err(NotChecked::NoRule { reason: reason.to_owned() });
        }
        let web = Web::read(input, factors, trace);
        let v_z_rd = web.along_z(input, trace);
        let v_z_ed = input.v_z_ed(trace);
        let m_y_ed = input.m_y_ed(trace);
        let n_ed = input.n_ed(trace);
        let h = input.h;
        let b = input.b(trace);
        let w_pl_y = input.w_pl_y(trace)?;
        let gamma_m0 = factors.gamma_m0(trace);
        let Web { t, f_y, .. } = web;
        step!(trace, Ratio, BOTH, "shear over shear resistance"; eta_3(v_z_ed, v_z_rd) = abs(v_z_ed) / v_z_rd);
        step!(trace, Ratio, plated("5.4(2)"), "flanges left by the axial force";
            left(n_ed, b, t, f_y, gamma_m0) =
            positive(1.0 - abs(n_ed) / (2.0 * b * t * f_y / gamma_m0)));
        step!(trace, Moment, plated("7.1(1)"), "moment of the flanges alone";
            m_f_rd(b, t, h, f_y, gamma_m0, left) = b * t * (h - t) * f_y / gamma_m0 * left);
        step!(trace, Moment, plated("7.1(1)"), "plastic moment, whatever the class of the web";
            m_pl_rd(w_pl_y, f_y, gamma_m0) = w_pl_y * f_y / gamma_m0);
        step!(trace, Moment, BOTH, "moment that the shear leaves";
            m_v_rd(m_pl_rd, m_f_rd, eta_3) =
            m_pl_rd - positive(m_pl_rd - m_f_rd)
                * if eta_3 > 0.5 { smaller(1.0, sq(2.0 * eta_3 - 1.0)) } else { 0.0 });
        step!(trace, Moment, BOTH, "size of the moment"; m_ed(m_y_ed) = abs(m_y_ed));
        step!(trace, Ratio, BOTH, "utilisation"; utilisation(m_ed, m_v_rd) = m_ed / m_v_rd);
        Checked::new(m_ed, m_v_rd, Dimension::Moment, utilisation)
    }
}
