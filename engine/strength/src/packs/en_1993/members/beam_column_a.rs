//! Compression with bending, first method.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{EndsSway, MemberInput};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::general;

use super::beam_column::{Compressed, Diagram, in_scope, psi_y, psi_z, turns};
use super::class::Class;
use super::lateral::even_slenderness;
use super::torsional::twist;

/// Buckling under compression and bending by the factors of Annex A.
///
/// The ratio of plastic to elastic section modulus, that of the torsion constant to the second
/// moment, and the larger slenderness enter the factors with either sign: more of one number alone is
/// not always safer.
pub(super) struct BeamColumnA;

const COLUMN: Source = general("6.3.3 and Annex A");
const TABLE_1: Source = general("Table A.1");
const TABLE_2: Source = general("Table A.2");

impl Clause<MemberInput> for BeamColumnA {
    fn reference(&self) -> Source {
        COLUMN
    }

    fn title(&self) -> &'static str {
        "buckling of the member under compression and bending, first method"
    }

    fn short(&self) -> &'static str {
        "buckling, Annex A"
    }

    fn irregular(&self) -> &'static [&'static str] {
        &["w_el_y", "w_el_z", "w_pl_y", "w_pl_z", "i_y", "i_z", "i_t", "l_cr_y", "l_cr_z", "a"]
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        in_scope(input, true)
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        if input.ends == EndsSway::Sway {
            let reason = "ends that move sideways: Annex A is used for held ends here";
            return Err(NotChecked::NoRule { reason: reason.to_owned() });
        }
        let member = Compressed::read(input, factors, trace)?;
        let (n_cr_y, chi_y, n_b_y, lambda_y) =
            (member.y.n_cr, member.y.chi, member.y.n_b, member.y.lambda);
        let (n_cr_z, chi_z, n_b_z, lambda_z) =
            (member.z.n_cr, member.z.chi, member.z.n_b, member.z.lambda);
        let Compressed { n_c_ed, r_y, r_z, .. } = member;
        if n_c_ed >= n_cr_y || n_c_ed >= n_cr_z {
            let reason = "the axial force reaches a critical force: see the row of buckling";
            return Err(NotChecked::NoRule { reason: reason.to_owned() });
        }
        let even = even_factor_y(input, &member, trace)?;
        let c_m_z = even_factor_z(input, &member, trace)?;
        let lateral = Lateral::of(input, &member, even, trace)?;
        let Lateral { c_m_y, c_m_lt, a_lt, lambda_0 } = lateral;
        step!(trace, Ratio, TABLE_1, "factor mu about y";
            mu_y(n_c_ed, n_cr_y, chi_y) = (1.0 - n_c_ed / n_cr_y) / (1.0 - chi_y * n_c_ed / n_cr_y));
        step!(trace, Ratio, TABLE_1, "factor mu about z";
            mu_z(n_c_ed, n_cr_z, chi_z) = (1.0 - n_c_ed / n_cr_z) / (1.0 - chi_z * n_c_ed / n_cr_z));
        step!(trace, Ratio, TABLE_1, "growth of the moment about y";
            grown_y(c_m_y, c_m_lt, n_c_ed, n_cr_y) = c_m_y * c_m_lt / (1.0 - n_c_ed / n_cr_y));
        step!(trace, Ratio, TABLE_1, "growth of the moment about z";
            grown_z(c_m_z, n_c_ed, n_cr_z) = c_m_z / (1.0 - n_c_ed / n_cr_z));
        let (p_yy, p_yz, p_zy, p_zz) = if member.strut.class <= Class::Two {
            let shares = Shares { c_m_y, c_m_z, a_lt, lambda_0, lambda_y, lambda_z };
            plastic(input, &member, shares, trace)
        } else {
            step!(trace, Ratio, TABLE_1, "no plastic reserve"; p_yy() = 1.0);
            (p_yy, 1.0, 1.0, 1.0)
        };
        step!(trace, Ratio, COLUMN, "axial force over buckling resistance, y";
            n_y(n_c_ed, n_b_y) = n_c_ed / n_b_y);
        step!(trace, Ratio, COLUMN, "axial force over buckling resistance, z";
            n_z(n_c_ed, n_b_z) = n_c_ed / n_b_z);
        let (about_y, about_z) = if member.strut.class <= Class::Two {
            step!(trace, Ratio, COLUMN, "buckling about y (6.61)";
                about_y(n_y, mu_y, grown_y, p_yy, r_y, grown_z, p_yz, r_z) =
                n_y + mu_y * (grown_y * p_yy * r_y + grown_z * p_yz * r_z));
            step!(trace, Ratio, COLUMN, "buckling about z (6.62)";
                about_z(n_z, mu_z, grown_y, p_zy, r_y, grown_z, p_zz, r_z) =
                n_z + mu_z * (grown_y * p_zy * r_y + grown_z * p_zz * r_z));
            (about_y, about_z)
        } else {
            step!(trace, Ratio, COLUMN, "buckling about y (6.61)";
                about_y(n_y, mu_y, grown_y, r_y, grown_z, r_z) =
                n_y + mu_y * (grown_y * r_y + grown_z * r_z));
            step!(trace, Ratio, COLUMN, "buckling about z (6.62)";
                about_z(n_z, mu_z, grown_y, r_y, grown_z, r_z) =
                n_z + mu_z * (grown_y * r_y + grown_z * r_z));
            (about_y, about_z)
        };
        step!(trace, Ratio, COLUMN, "utilisation, the larger of both";
            utilisation(about_y, about_z) = larger(about_y, about_z));
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}

/// The factor for the shape of the moment diagram, Table A.2.
macro_rules! even_factor {
    ($function:ident, $axis:ident, $m:ident, $diagram:ident, $psi:ident, $n_cr:ident,
     $c_m:ident) => {
        fn $function(
            input: &MemberInput,
            member: &Compressed,
            trace: &mut Trace,
        ) -> Result<f64, NotChecked> {
            let $n_cr = member.$axis.n_cr;
            let n_c_ed = member.n_c_ed;
            match Diagram::of(input, member.$m, input.$diagram) {
                Diagram::NoneOrSway => {
                    step!(trace, Ratio, TABLE_2, "factor of the moment diagram, no moment";
                        $c_m() = 1.0);
                    Ok($c_m)
                }
                Diagram::Ends => {
                    let $psi = $psi(input, trace)?;
                    step!(trace, Ratio, TABLE_2, "factor of the moment diagram";
                        $c_m($psi, n_c_ed, $n_cr) =
                        0.79 + 0.21 * $psi + 0.36 * ($psi - 0.33) * n_c_ed / $n_cr);
                    Ok($c_m)
                }
                Diagram::Even => {
                    step!(trace, Ratio, TABLE_2, "factor of the moment diagram, even load";
                        $c_m(n_c_ed, $n_cr) = 1.0 + 0.03 * n_c_ed / $n_cr);
                    Ok($c_m)
                }
                Diagram::Middle => {
                    step!(trace, Ratio, TABLE_2, "factor of the moment diagram, load in the middle";
                        $c_m(n_c_ed, $n_cr) = 1.0 - 0.18 * n_c_ed / $n_cr);
                    Ok($c_m)
                }
            }
        }
    };
}

even_factor!(even_factor_y, y, m_y, diagram_y, psi_y, n_cr_y, c_m_y_0);
even_factor!(even_factor_z, z, m_z, diagram_z, psi_z, n_cr_z, c_m_z);

/// What sideways buckling adds to the factors of bending about y.
struct Lateral {
    c_m_y: f64,
    c_m_lt: f64,
    a_lt: f64,
    lambda_0: f64,
}

impl Lateral {
    fn of(
        input: &MemberInput,
        member: &Compressed,
        c_m_y_0: f64,
        trace: &mut Trace,
    ) -> Result<Self, NotChecked> {
        let Compressed { n_c_ed, w_y, m_y, .. } = *member;
        if !turns(input) || m_y <= 0.0 {
            step!(trace, Ratio, TABLE_1, "factor of the moment about y, nothing turns";
                c_m_y(c_m_y_0) = c_m_y_0);
            step!(trace, Ratio, TABLE_1, "factor of turning"; c_m_lt() = 1.0);
            step!(trace, Ratio, TABLE_1, "torsional softness does not count"; a_lt() = 0.0);
            step!(trace, Ratio, TABLE_1, "slenderness under an even moment"; lambda_0() = 0.0);
            return Ok(Self { c_m_y, c_m_lt, a_lt, lambda_0 });
        }
        let i_y = input.i_y;
        let i_t = input.i_t;
        let c_1 = input.c_1.unwrap_or(1.0);
        let n_cr_z = member.z.n_cr;
        let f_y = member.strut.f_y;
        let a_n = member.strut.a_n;
        step!(trace, Ratio, TABLE_1, "torsional softness"; a_lt(i_t, i_y) = positive(1.0 - i_t / i_y));
        let lambda_0 = even_slenderness(input, (w_y, f_y), trace)?;
        if member.strut.class == Class::Four {
            input.a(trace);
        }
        let i_w = input.i_w.unwrap_or(0.0);
        let (n_cr_t, i_0_sq, (y_0, _)) = twist(input, i_w, trace)?;
        // Bending about y with twist; for two axes of symmetry that of twist alone.
        step!(trace, Force, TABLE_1, "critical force of bending with twist";
            n_cr_tf(n_cr_t, y_0, i_0_sq) = n_cr_t * (1.0 - sq(y_0) / i_0_sq));
        if n_c_ed >= n_cr_tf {
            let reason = "the axial force reaches the critical force of twist: see its row";
            return Err(NotChecked::NoRule { reason: reason.to_owned() });
        }
        step!(trace, Ratio, TABLE_1, "slenderness up to which turning does not count";
            lambda_lim(c_1, n_c_ed, n_cr_z, n_cr_tf) =
            0.2 * sqrt(c_1) * sqrt(sqrt((1.0 - n_c_ed / n_cr_z) * (1.0 - n_c_ed / n_cr_tf))));
        if lambda_0 <= lambda_lim {
            step!(trace, Ratio, TABLE_1, "factor of the moment about y"; c_m_y(c_m_y_0) = c_m_y_0);
            step!(trace, Ratio, TABLE_1, "factor of turning"; c_m_lt() = 1.0);
            return Ok(Self { c_m_y, c_m_lt, a_lt, lambda_0 });
        }
        let w_el_y = input.w_el_y;
        let w_e = if member.strut.class == Class::Four { w_y } else { w_el_y };
        let what = "elastic section modulus that carries";
        let w_e =
            trace.input("w_e", what, Dimension::SectionModulus, w_e, || input.origins.of("w_el_y"));
        step!(trace, Ratio, TABLE_1, "bending over axial stress";
            eps_y(m_y, n_c_ed, a_n, w_e) = m_y / n_c_ed * a_n / w_e);
        step!(trace, Ratio, TABLE_1, "factor of the moment about y with turning";
            c_m_y(c_m_y_0, eps_y, a_lt) =
            c_m_y_0 + (1.0 - c_m_y_0) * sqrt(eps_y) * a_lt / (1.0 + sqrt(eps_y) * a_lt));
        step!(trace, Ratio, TABLE_1, "factor of turning";
            c_m_lt(c_m_y, a_lt, n_c_ed, n_cr_z, n_cr_t) =
            larger(1.0, sq(c_m_y) * a_lt
                / sqrt((1.0 - n_c_ed / n_cr_z) * (1.0 - n_c_ed / n_cr_t))));
        Ok(Self { c_m_y, c_m_lt, a_lt, lambda_0 })
    }
}

struct Shares {
    c_m_y: f64,
    c_m_z: f64,
    a_lt: f64,
    lambda_0: f64,
    lambda_y: f64,
    lambda_z: f64,
}

/// What plastic bending leaves of the four factors.
fn plastic(
    input: &MemberInput,
    member: &Compressed,
    shares: Shares,
    trace: &mut Trace,
) -> (f64, f64, f64, f64) {
    let Shares { c_m_y, c_m_z, a_lt, lambda_0, lambda_y, lambda_z } = shares;
    let Compressed { w_y, w_z, n_c_ed, m_y, m_z, chi_lt, .. } = *member;
    let super::buckling::Strut { a_n, f_y, gamma_m1, .. } = member.strut;
    let w_el_y = input.w_el_y(trace);
    let w_el_z = input.w_el_z(trace);
    step!(trace, Ratio, TABLE_1, "plastic over elastic section modulus, y";
        w_ratio_y(w_y, w_el_y) = larger(1.0, smaller(1.5, w_y / w_el_y)));
    step!(trace, Ratio, TABLE_1, "plastic over elastic section modulus, z";
        w_ratio_z(w_z, w_el_z) = larger(1.0, smaller(1.5, w_z / w_el_z)));
    step!(trace, Ratio, TABLE_1, "axial force over yield force";
        n_pl(n_c_ed, a_n, f_y, gamma_m1) = n_c_ed / (a_n * f_y / gamma_m1));
    step!(trace, Ratio, TABLE_1, "larger slenderness";
        lambda_max(lambda_y, lambda_z) = larger(lambda_y, lambda_z));
    step!(trace, Ratio, TABLE_1, "moment over plastic moment with turning, y";
        part_y(m_y, chi_lt, w_y, f_y) = m_y / (chi_lt * w_y * f_y));
    step!(trace, Ratio, TABLE_1, "moment over plastic moment, z";
        part_z(m_z, w_z, f_y) = m_z / (w_z * f_y));
    step!(trace, Ratio, TABLE_1, "b_LT"; b_lt(a_lt, lambda_0, part_y, part_z) =
        0.5 * a_lt * sq(lambda_0) * part_y * part_z);
    step!(trace, Ratio, TABLE_1, "c_LT"; c_lt(a_lt, lambda_0, lambda_z, part_y, c_m_y) =
        10.0 * a_lt * sq(lambda_0) / (5.0 + sq(sq(lambda_z))) * part_y / c_m_y);
    step!(trace, Ratio, TABLE_1, "d_LT"; d_lt(a_lt, lambda_0, lambda_z, part_y, c_m_y, part_z, c_m_z) =
        2.0 * a_lt * lambda_0 / (0.1 + sq(sq(lambda_z))) * part_y / c_m_y * part_z / c_m_z);
    step!(trace, Ratio, TABLE_1, "e_LT"; e_lt(a_lt, lambda_0, lambda_z, part_y, c_m_y) =
        1.7 * a_lt * lambda_0 / (0.1 + sq(sq(lambda_z))) * part_y / c_m_y);
    step!(trace, Ratio, TABLE_1, "C_yy"; c_yy(w_ratio_y, c_m_y, lambda_max, n_pl, b_lt) =
        larger(1.0 / w_ratio_y,
            1.0 + (w_ratio_y - 1.0)
                * ((2.0 - 1.6 / w_ratio_y * sq(c_m_y) * (lambda_max + sq(lambda_max))) * n_pl
                    - b_lt)));
    step!(trace, Ratio, TABLE_1, "C_yz"; c_yz(w_ratio_z, w_ratio_y, c_m_z, lambda_max, n_pl, c_lt) =
        larger(0.6 * sqrt(w_ratio_z / w_ratio_y) / w_ratio_z,
            1.0 + (w_ratio_z - 1.0)
                * ((2.0 - 14.0 * sq(c_m_z) * sq(lambda_max) / (sq(sq(w_ratio_z)) * w_ratio_z)) * n_pl
                    - c_lt)));
    step!(trace, Ratio, TABLE_1, "C_zy"; c_zy(w_ratio_y, w_ratio_z, c_m_y, lambda_max, n_pl, d_lt) =
        larger(0.6 * sqrt(w_ratio_y / w_ratio_z) / w_ratio_y,
            1.0 + (w_ratio_y - 1.0)
                * ((2.0 - 14.0 * sq(c_m_y) * sq(lambda_max) / (sq(sq(w_ratio_y)) * w_ratio_y)) * n_pl
                    - d_lt)));
    step!(trace, Ratio, TABLE_1, "C_zz"; c_zz(w_ratio_z, c_m_z, lambda_max, n_pl, e_lt) =
        larger(1.0 / w_ratio_z,
            1.0 + (w_ratio_z - 1.0)
                * (2.0 - 1.6 / w_ratio_z * sq(c_m_z) * (lambda_max + sq(lambda_max)) - e_lt)
                * n_pl));
    step!(trace, Ratio, TABLE_1, "share of y in buckling about y"; p_yy(c_yy) = 1.0 / c_yy);
    step!(trace, Ratio, TABLE_1, "share of z in buckling about y";
        p_yz(c_yz, w_ratio_z, w_ratio_y) = 0.6 * sqrt(w_ratio_z / w_ratio_y) / c_yz);
    step!(trace, Ratio, TABLE_1, "share of y in buckling about z";
        p_zy(c_zy, w_ratio_y, w_ratio_z) = 0.6 * sqrt(w_ratio_y / w_ratio_z) / c_zy);
    step!(trace, Ratio, TABLE_1, "share of z in buckling about z"; p_zz(c_zz) = 1.0 / c_zz);
    (p_yy, p_yz, p_zy, p_zz)
}
