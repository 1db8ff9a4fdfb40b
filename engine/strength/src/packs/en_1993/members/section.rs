//! Resistance of a cross-section of a member.

use fishplate_quantity::algebra::share;
use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{MemberInput, Shape};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{SQRT_3, general};

use super::class::{Class, Pressed, class_of};
use super::reduced::Reduced;

/// Axial force.
pub(super) struct Axial;

const AXIAL: Source = general("6.2.3(2)a and 6.2.4");

impl Clause<MemberInput> for Axial {
    fn reference(&self) -> Source {
        AXIAL
    }

    fn title(&self) -> &'static str {
        "axial force on the section"
    }

    fn applies(&self, _: &MemberInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        let thin = class_of(input, Pressed::throughout(input)) == Class::Four;
        let a = if n_ed < 0.0 && thin {
            let (a_eff, _, _) = Reduced::of(input)?.area(input, trace)?;
            step!(trace, Area, general("6.2.4(2), class 4"), "effective area"; a(a_eff) = a_eff);
            a
        } else {
            input.a(trace)
        };
        step!(trace, Force, AXIAL, "size of the axial force"; n_abs(n_ed) = abs(n_ed));
        step!(trace, Force, AXIAL, "yield resistance"; n_rd(a, f_y, gamma_m0) = a * f_y / gamma_m0);
        step!(trace, Ratio, AXIAL, "utilisation"; utilisation(n_abs, n_rd) = n_abs / n_rd);
        Checked::new(n_abs, n_rd, Dimension::Force, utilisation)
    }
}

/// Shear, in a tube together with torsion.
pub(super) struct Shear;

const SHEAR: Source = general("6.2.6 and 6.2.7(9)");

impl Clause<MemberInput> for Shear {
    fn reference(&self) -> Source {
        SHEAR
    }

    fn title(&self) -> &'static str {
        "shear on the section, reduced for torsion"
    }

    fn applies(&self, _: &MemberInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        let t = input.t(trace);
        let tau_t = torsion_stress(input, trace, t)?;
        let v_y_ed = input.v_y_ed(trace);
        let v_z_ed = input.v_z_ed(trace);
        let a_v_y = input.a_v_y(trace);
        let a_v_z = input.a_v_z(trace);
        let tau_rd = match input.shape {
            Shape::WeldedI | Shape::Channel => {
                let tau_w = restrained_shear(input, trace)?;
                step!(trace, Stress, general("6.2.7(9) (6.26), (6.27)"),
                    "shear yield strength left by the torsion";
                    tau_rd(f_y, gamma_m0, tau_t, tau_w) =
                    positive(sqrt(positive(1.0 - tau_t / (1.25 * f_y / (SQRT_3 * gamma_m0))))
                        * f_y / (SQRT_3 * gamma_m0) - tau_w));
                tau_rd
            }
            Shape::RectangularTube
            | Shape::RoundTube
            | Shape::Angle
            | Shape::Rectangle
            | Shape::RoundBar => {
                step!(trace, Stress, SHEAR, "shear yield strength left by the torsion";
                    tau_rd(f_y, gamma_m0, tau_t) = positive(f_y / (SQRT_3 * gamma_m0) - tau_t));
                tau_rd
            }
        };
        step!(trace, Force, SHEAR, "shear resistance along y"; v_y_rd(a_v_y, tau_rd) = a_v_y * tau_rd);
        step!(trace, Force, SHEAR, "shear resistance along z"; v_z_rd(a_v_z, tau_rd) = a_v_z * tau_rd);
        step!(trace, Ratio, SHEAR, "utilisation, the larger of both directions";
            utilisation(v_y_ed, v_y_rd, v_z_ed, v_z_rd) =
            larger(share(abs(v_y_ed), v_y_rd), share(abs(v_z_ed), v_z_rd)));
        if share(v_y_ed.abs(), v_y_rd) > share(v_z_ed.abs(), v_z_rd) {
            Checked::new(v_y_ed.abs(), v_y_rd, Dimension::Force, utilisation)
        } else {
            Checked::new(v_z_ed.abs(), v_z_rd, Dimension::Force, utilisation)
        }
    }
}

/// Records and returns the shear stress of the torque: on the torsion modulus of a tube, by
/// St Venant in an open section or a flat.
fn torsion_stress(input: &MemberInput, trace: &mut Trace, t: f64) -> Result<f64, NotChecked> {
    let t_ed = input.t_ed(trace);
    match input.shape {
        Shape::RectangularTube | Shape::RoundTube | Shape::RoundBar => {
            let c_t = input.c_t(trace)?;
            step!(trace, Stress, Source::mechanics("torsion of a tube or round bar"), "shear stress of the torque";
                tau_t(t_ed, c_t) = abs(t_ed) / c_t);
            Ok(tau_t)
        }
        Shape::Angle | Shape::Channel | Shape::Rectangle | Shape::WeldedI => {
            let i_t = input.i_t(trace);
            step!(trace, Stress, Source::mechanics("St Venant torsion of an open section"),
                "shear stress of the torque"; tau_t(t_ed, t, i_t) = abs(t_ed) * t / i_t);
            Ok(tau_t)
        }
    }
}

/// Records and returns the shear stress of restrained torsion, none if not stated.
fn restrained_shear(input: &MemberInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    if input.tau_w.is_some() {
        return input.tau_w(trace);
    }
    step!(trace, Stress, Source::mechanics("torsion free to warp"), "shear stress of restrained torsion";
        tau_w() = 0.0);
    Ok(tau_w)
}

/// Torsion alone.
pub(super) struct Torsion;

const TORSION: Source = general("6.2.7(1)");

impl Clause<MemberInput> for Torsion {
    fn reference(&self) -> Source {
        TORSION
    }

    fn title(&self) -> &'static str {
        "torsion of the section"
    }

    fn applies(&self, _: &MemberInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        let t = input.t(trace);
        let tau_t = torsion_stress(input, trace, t)?;
        let tau_w = restrained_shear(input, trace)?;
        step!(trace, Stress, general("6.2.7(2)"), "shear stress of free and restrained torsion, at one place";
            tau_ed(tau_t, tau_w) = tau_t + tau_w);
        step!(trace, Stress, TORSION, "shear yield strength";
            tau_rd(f_y, gamma_m0) = f_y / (SQRT_3 * gamma_m0));
        step!(trace, Ratio, TORSION, "utilisation"; utilisation(tau_ed, tau_rd) = tau_ed / tau_rd);
        Checked::new(tau_ed, tau_rd, Dimension::Stress, utilisation)
    }
}

/// First yield of the section, all forces together.
pub(super) struct Elastic;

const ELASTIC: Source = general("6.2.1(5), at the edge of a section");
const EFFECTIVE: Source = general("6.2.9.3(2)");

impl Clause<MemberInput> for Elastic {
    fn reference(&self) -> Source {
        ELASTIC
    }

    fn title(&self) -> &'static str {
        "first yield of the section"
    }

    fn applies(&self, _: &MemberInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let m_y_ed = input.m_y_ed(trace);
        let m_z_ed = input.m_z_ed(trace);
        let sigma_nm = if class_of(input, Pressed::by_all(input)) == Class::Four {
            let reduced = Reduced::of(input)?;
            let (a_eff, e_n_y, e_n_z) = if n_ed < 0.0 {
                reduced.area(input, trace)?
            } else {
                let a = input.a(trace);
                step!(trace, Area, EFFECTIVE, "nothing buckles under tension"; a_eff(a) = a);
                step!(trace, Length, EFFECTIVE, "no shift under tension"; e_n_y() = 0.0);
                step!(trace, Length, EFFECTIVE, "no shift under tension"; e_n_z() = 0.0);
                (a_eff, e_n_y, e_n_z)
            };
            let w_eff_y = reduced.w_y(input, trace)?;
            let w_eff_z = reduced.w_z(input, trace)?;
            step!(trace, Stress, EFFECTIVE, "largest normal stress of effective sections, all of one sign";
                sigma_nm(n_ed, a_eff, m_y_ed, e_n_z, w_eff_y, m_z_ed, e_n_y, w_eff_z) =
                abs(n_ed) / a_eff
                    + (abs(m_y_ed) + abs(n_ed * e_n_z)) / w_eff_y
                    + (abs(m_z_ed) + abs(n_ed * e_n_y)) / w_eff_z);
            sigma_nm
        } else {
            let a = input.a(trace);
            let w_el_y = input.w_el_y(trace);
            let w_el_z = input.w_el_z(trace);
            step!(trace, Stress, ELASTIC, "largest normal stress, all parts of one sign";
                sigma_nm(n_ed, a, m_y_ed, w_el_y, m_z_ed, w_el_z) =
                abs(n_ed) / a + abs(m_y_ed) / w_el_y + abs(m_z_ed) / w_el_z);
            sigma_nm
        };
        let sigma = if input.b_ed.is_some() {
            let b_ed = input.b_ed(trace)?;
            let omega = input.omega(trace)?;
            let i_w = input.i_w(trace)?;
            step!(trace, Stress, general("6.2.7(4)"), "with the normal stress of restrained torsion";
                sigma(sigma_nm, b_ed, omega, i_w) = sigma_nm + abs(b_ed) * omega / i_w);
            sigma
        } else {
            step!(trace, Stress, ELASTIC, "normal stress"; sigma(sigma_nm) = sigma_nm);
            sigma
        };
        let t = input.t(trace);
        let tau_t = torsion_stress(input, trace, t)?;
        let v_y_ed = input.v_y_ed(trace);
        let v_z_ed = input.v_z_ed(trace);
        let a_v_y = input.a_v_y(trace);
        let a_v_z = input.a_v_z(trace);
        let tau_w = restrained_shear(input, trace)?;
        step!(trace, Stress, ELASTIC, "shear stress, taken to act at the same place";
            tau(tau_t, tau_w, v_y_ed, a_v_y, v_z_ed, a_v_z) =
            tau_t + tau_w + larger(abs(v_y_ed) / a_v_y, abs(v_z_ed) / a_v_z));
        step!(trace, Stress, ELASTIC, "comparison stress";
            sigma_eq(sigma, tau) = sqrt(sq(sigma) + 3.0 * sq(tau)));
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Stress, ELASTIC, "yield strength over its factor";
            f_yd(f_y, gamma_m0) = f_y / gamma_m0);
        step!(trace, Ratio, ELASTIC, "utilisation"; utilisation(sigma_eq, f_yd) = sigma_eq / f_yd);
        Checked::new(sigma_eq, f_yd, Dimension::Stress, utilisation)
    }
}

/// Plastic moment beside axial force, shear and torsion.
pub(super) struct Plastic;

const PLASTIC: Source = general("6.2.8 to 6.2.10");

impl Clause<MemberInput> for Plastic {
    fn reference(&self) -> Source {
        PLASTIC
    }

    fn title(&self) -> &'static str {
        "plastic bending of the section beside axial force and shear"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        let shape = matches!(
            input.shape,
            Shape::RectangularTube
                | Shape::RoundTube
                | Shape::Rectangle
                | Shape::WeldedI
                | Shape::RoundBar
        );
        let given = input.w_pl_y.is_some() && input.w_pl_z.is_some();
        if !given {
            return Applicability::DoesNotApply("no plastic section moduli are given".to_owned());
        }
        if input.b_ed.is_some_and(|b| b.abs() > 0.0) {
            return Applicability::DoesNotApply(
                "torsion is restrained; the elastic row holds".to_owned(),
            );
        }
        if class_of(input, Pressed::by_all(input)) > Class::Two {
            return Applicability::DoesNotApply(
                "the walls are too thin for the plastic moment; the elastic row holds".to_owned(),
            );
        }
        Applicability::only_if(
            shape,
            "only sections with two axes of symmetry; the elastic row holds",
        )
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let m_y_ed = input.m_y_ed(trace);
        let m_z_ed = input.m_z_ed(trace);
        let a = input.a(trace);
        let w_pl_y = input.w_pl_y(trace)?;
        let w_pl_z = input.w_pl_z(trace)?;
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        let t = input.t(trace);
        let f_yr = yield_beside_shear(input, trace, (f_y, gamma_m0, t))?;
        step!(trace, Ratio, PLASTIC, "axial force over yield force";
            n(n_ed, a, f_yr, gamma_m0) = abs(n_ed) / (a * f_yr / gamma_m0));
        step!(trace, Moment, PLASTIC, "plastic moment about y";
            m_pl_y(w_pl_y, f_yr, gamma_m0) = w_pl_y * f_yr / gamma_m0);
        step!(trace, Moment, PLASTIC, "plastic moment about z";
            m_pl_z(w_pl_z, f_yr, gamma_m0) = w_pl_z * f_yr / gamma_m0);
        let bending = match input.shape {
            Shape::RectangularTube => {
                let h = input.h(trace);
                let b = input.b(trace);
                step!(trace, Ratio, general("6.2.9.1(5)"), "share of the walls along the depth";
                    a_w(a, b, t) = smaller(0.5, (a - 2.0 * b * t) / a));
                step!(trace, Ratio, general("6.2.9.1(5)"), "share of the walls along the width";
                    a_f(a, h, t) = smaller(0.5, (a - 2.0 * h * t) / a));
                step!(trace, Moment, general("6.2.9.1(5)"), "moment about y left by the axial force";
                    m_n_y(m_pl_y, n, a_w) =
                    smaller(m_pl_y, m_pl_y * positive(1.0 - n) / (1.0 - 0.5 * a_w)));
                step!(trace, Moment, general("6.2.9.1(5)"), "moment about z left by the axial force";
                    m_n_z(m_pl_z, n, a_f) =
                    smaller(m_pl_z, m_pl_z * positive(1.0 - n) / (1.0 - 0.5 * a_f)));
                // The exponent 1.66 / (1 - 1.13 n²) at its least: larger ones would reward axial
                // force, so that less load could mean a higher utilisation.
                step!(trace, Ratio, general("6.2.9.1(6)"), "share of bending about both axes";
                    bending(m_y_ed, m_n_y, m_z_ed, m_n_z) =
                    power(power(share(abs(m_y_ed), m_n_y), 1.66)
                        + power(share(abs(m_z_ed), m_n_z), 1.66), 1.0 / 1.66));
                bending
            }
            Shape::Rectangle => {
                step!(trace, Ratio, general("6.2.9.1(3) and (6)"), "share of bending about both axes";
                    bending(m_y_ed, m_pl_y, m_z_ed, m_pl_z, n) =
                    share(abs(m_y_ed) / m_pl_y + abs(m_z_ed) / m_pl_z, positive(1.0 - sq(n))));
                bending
            }
            Shape::WeldedI => {
                let b = input.b(trace);
                step!(trace, Ratio, general("6.2.9.1(5)"), "share of the web";
                    a_w(a, b, t) = smaller(0.5, (a - 2.0 * b * t) / a));
                step!(trace, Moment, general("6.2.9.1(5)"), "moment about y left by the axial force";
                    m_n_y(m_pl_y, n, a_w) =
                    smaller(m_pl_y, m_pl_y * positive(1.0 - n) / (1.0 - 0.5 * a_w)));
                step!(trace, Moment, general("6.2.9.1(5)"), "moment about z left by the axial force";
                    m_n_z(m_pl_z, n, a_w) =
                    if n <= a_w { m_pl_z }
                    else { m_pl_z * positive(1.0 - sq((n - a_w) / (1.0 - a_w))) });
                // Exponents 2 and 1, the least of 5 n: the root of (ry / u)² + rz / u = 1.
                step!(trace, Ratio, general("6.2.9.1(6)"), "share of bending about both axes";
                    bending(m_y_ed, m_n_y, m_z_ed, m_n_z) =
                    (share(abs(m_z_ed), m_n_z)
                        + sqrt(sq(share(abs(m_z_ed), m_n_z)) + 4.0 * sq(share(abs(m_y_ed), m_n_y))))
                        / 2.0);
                bending
            }
            Shape::RoundTube | Shape::RoundBar | Shape::Angle | Shape::Channel => {
                step!(trace, Ratio, general("6.2.1(7)"), "share of bending and axial force added";
                    bending(m_y_ed, m_z_ed, m_pl_y, n) = hypot(m_y_ed, m_z_ed) / m_pl_y + n);
                bending
            }
        };
        step!(trace, Ratio, PLASTIC, "utilisation, never below that of the axial force alone";
            utilisation(bending, n) = larger(bending, n));
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}

/// Records and returns the yield strength that shear leaves, for the whole section: the safe side.
fn yield_beside_shear(
    input: &MemberInput,
    trace: &mut Trace,
    (f_y, gamma_m0, t): (f64, f64, f64),
) -> Result<f64, NotChecked> {
    let tau_t = torsion_stress(input, trace, t)?;
    let v_y_ed = input.v_y_ed(trace);
    let v_z_ed = input.v_z_ed(trace);
    let a_v_y = input.a_v_y(trace);
    let a_v_z = input.a_v_z(trace);
    step!(trace, Ratio, SHEAR, "shear over shear resistance beside torsion";
        shear(v_y_ed, a_v_y, v_z_ed, a_v_z, tau_t, f_y, gamma_m0) =
        share(larger(abs(v_y_ed) / a_v_y, abs(v_z_ed) / a_v_z),
              positive(f_y / (SQRT_3 * gamma_m0) - tau_t)));
    if shear >= 1.0 {
        let reason = "shear and torsion use up the section: see the row of shear";
        return Err(NotChecked::NoRule { reason: reason.to_owned() });
    }
    step!(trace, Stress, general("6.2.8(3)"), "yield strength beside high shear";
        f_yr(f_y, shear) = if shear > 0.5 { (1.0 - sq(2.0 * shear - 1.0)) * f_y } else { f_y });
    Ok(f_yr)
}
