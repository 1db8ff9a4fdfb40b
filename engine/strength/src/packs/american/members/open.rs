//! Bending of channels and I sections: F2, F3 or F12 about the strong axis, F6 about the weak one.

use std::f64::consts::PI;

use fishplate_quantity::{Source, Trace, step};

use crate::clause::NotChecked;
use crate::clause::input::{MemberInput, Shape};
use crate::packs::american::available::once;
use crate::packs::american::{E, aisc, e_of_steel};

use super::slender::{Parts, flange_factor, parts};
use super::tube::moment_factor;

const F2: Source = aisc("F2");
const F3: Source = aisc("F3");
const F6: Source = aisc("F6");
const F12: Source = aisc("F12");

/// Records and returns the nominal moments of a channel or an I section.
pub(super) fn open(input: &MemberInput, trace: &mut Trace) -> Result<(f64, f64), NotChecked> {
    let f_y = once!(trace, input.f_y);
    let Parts { flange, web, t } = parts(input, trace);
    step!(trace, Ratio, aisc("Table B4.1b"), "slenderness of the flanges";
        lambda_f(flange, t) = flange / t);
    step!(trace, Ratio, aisc("Table B4.1b"), "slenderness of the web"; lambda_w(web, t) = web / t);
    let m_n_y = if input.shape == Shape::WeldedI {
        i_section_y(input, trace, (f_y, lambda_f, lambda_w))?
    } else {
        channel_y(input, trace, (f_y, lambda_f, lambda_w))?
    };
    let w_el_z = once!(trace, input.w_el_z);
    let w_pl_z = once!(trace, input.w_pl_z)?;
    step!(trace, Moment, F6, "plastic moment about z";
        m_p_z(f_y, w_pl_z, w_el_z) = smaller(f_y * w_pl_z, 1.6 * f_y * w_el_z));
    let e_steel = e_of_steel(trace);
    step!(trace, Moment, F6, "nominal moment about z, yielding or local buckling of the flanges";
    m_n_z(m_p_z, f_y, w_el_z, lambda_f, e_steel) =
    if lambda_f <= 0.38 * sqrt(e_steel / f_y) {
        m_p_z
    } else if lambda_f <= sqrt(e_steel / f_y) {
        smaller(m_p_z, m_p_z - (m_p_z - 0.7 * f_y * w_el_z)
            * (lambda_f - 0.38 * sqrt(e_steel / f_y)) / (0.62 * sqrt(e_steel / f_y)))
    } else {
        smaller(m_p_z, 0.69 * e_steel / sq(lambda_f) * w_el_z)
    });
    Ok((m_n_y, m_n_z))
}

/// Yielding and sideways buckling of a channel about the strong axis: F2 where all walls are compact,
/// else the least stress of F12.
fn channel_y(
    input: &MemberInput,
    trace: &mut Trace,
    (f_y, lambda_f, lambda_w): (f64, f64, f64),
) -> Result<f64, NotChecked> {
    let limit = (E / f_y).sqrt();
    let w_el_y = once!(trace, input.w_el_y);
    if lambda_f > 0.38 * limit || lambda_w > 3.76 * limit {
        trace.note(|| {
            format!(
                "flanges {lambda_f:.1} and web {lambda_w:.1} times as wide as thick against {:.1} \
                 and {:.1}: not compact, F12 holds",
                0.38 * limit,
                3.76 * limit
            )
        });
        // Plate theory with edges that turn freely: 0.43 for a flange in even compression, 23.9 for
        // a bent web.
        let e_steel = e_of_steel(trace);
        step!(trace, Stress, Source::mechanics("buckling of plates, edges that turn freely"),
            "stress at local buckling of flanges or web";
            f_local(lambda_f, lambda_w, e_steel) =
            PI * PI * e_steel / (12.0 * (1.0 - 0.3 * 0.3))
                * smaller(0.43 / sq(lambda_f), 23.9 / sq(lambda_w)));
        step!(trace, Moment, F12, "moment about y, yielding or local buckling";
            m_12(f_y, f_local, w_el_y) = smaller(f_y, f_local) * w_el_y);
        if input.l_lt.is_none() {
            step!(trace, Moment, F12, "nominal moment about y, held against turning";
                m_n_y(m_12) = m_12);
            return Ok(m_n_y);
        }
        let Sideways { f_lt, .. } = sideways(input, trace, (f_y, w_el_y))?;
        step!(trace, Moment, F12, "nominal moment about y, sideways buckling included";
            m_n_y(m_12, f_lt, w_el_y) = smaller(m_12, f_lt * w_el_y));
        return Ok(m_n_y);
    }
    compact_y(input, trace, (f_y, w_el_y))
}

/// Yielding and sideways buckling about the strong axis, walls compact.
fn compact_y(
    input: &MemberInput,
    trace: &mut Trace,
    (f_y, w_el_y): (f64, f64),
) -> Result<f64, NotChecked> {
    let w_pl_y = once!(trace, input.w_pl_y)?;
    step!(trace, Moment, F2, "plastic moment about y"; m_p_y(f_y, w_pl_y) = f_y * w_pl_y);
    if input.l_lt.is_none() {
        step!(trace, Moment, F2, "nominal moment about y, held against turning"; m_n_y(m_p_y) = m_p_y);
        return Ok(m_n_y);
    }
    let Sideways { l_lt, l_p, l_r, c_b, f_lt, fall } = sideways(input, trace, (f_y, w_el_y))?;
    fits_one_section(m_p_y / (0.7 * f_y * w_el_y), l_p / l_r, fall)?;
    step!(trace, Moment, F2, "nominal moment about y";
    m_n_y(l_lt, l_p, l_r, m_p_y, c_b, f_y, w_el_y, f_lt) =
    if l_lt <= l_p {
        m_p_y
    } else if l_lt <= l_r {
        smaller(m_p_y,
            c_b * (m_p_y - (m_p_y - 0.7 * f_y * w_el_y) * (l_lt - l_p) / (l_r - l_p)))
    } else {
        smaller(m_p_y, f_lt * w_el_y)
    });
    Ok(m_n_y)
}

/// Yielding, sideways buckling and local buckling of the flanges of an I section about the strong
/// axis: F2 and F3.
fn i_section_y(
    input: &MemberInput,
    trace: &mut Trace,
    (f_y, lambda_f, lambda_w): (f64, f64, f64),
) -> Result<f64, NotChecked> {
    let limit = (E / f_y).sqrt();
    if lambda_w > 3.76 * limit {
        return Err(NotChecked::NoRule {
            reason: format!(
                "the web is {lambda_w:.1} times as deep as thick against {:.1}: F4 and F5 are not in \
                 this pack",
                3.76 * limit
            ),
        });
    }
    let w_el_y = once!(trace, input.w_el_y);
    let m_n_y = compact_y(input, trace, (f_y, w_el_y))?;
    if lambda_f <= 0.38 * limit {
        return Ok(m_n_y);
    }
    let k_c = flange_factor(trace, lambda_w);
    let w_pl_y = once!(trace, input.w_pl_y)?;
    let e_steel = e_of_steel(trace);
    step!(trace, Ratio, aisc("Table B4.1b"), "slenderness at which the flanges buckle elastically";
        lambda_r(k_c, f_y, e_steel) = 0.95 * sqrt(k_c * e_steel / (0.7 * f_y)));
    step!(trace, Moment, F3, "moment at local buckling of the flanges";
    m_flange(lambda_f, lambda_r, f_y, w_pl_y, w_el_y, k_c, e_steel) =
    if lambda_f <= lambda_r {
        f_y * w_pl_y - (f_y * w_pl_y - 0.7 * f_y * w_el_y)
            * (lambda_f - 0.38 * sqrt(e_steel / f_y)) / (lambda_r - 0.38 * sqrt(e_steel / f_y))
    } else {
        0.9 * e_steel * k_c * w_el_y / sq(lambda_f)
    });
    step!(trace, Moment, F3, "nominal moment about y, the smaller";
        m_n_y(m_n_y, m_flange) = smaller(m_n_y, m_flange));
    Ok(m_n_y)
}

/// Lengths and stress of sideways buckling.
struct Sideways {
    l_lt: f64,
    l_p: f64,
    l_r: f64,
    c_b: f64,
    f_lt: f64,
    /// Power of the length with which the elastic moment falls at `l_r`, 1 to 2.
    fall: f64,
}

/// Records and returns what sideways buckling hangs on.
fn sideways(
    input: &MemberInput,
    trace: &mut Trace,
    (f_y, w_el_y): (f64, f64),
) -> Result<Sideways, NotChecked> {
    let l_lt = once!(trace, input.l_lt)?;
    let i_z = once!(trace, input.i_z);
    let i_t = once!(trace, input.i_t);
    let i_w = once!(trace, input.i_w)?;
    let r_z = if input.r_z.is_some() {
        once!(trace, input.r_z)?
    } else {
        let a = once!(trace, input.a);
        step!(trace, Length, F2, "radius of gyration about z"; r_z(i_z, a) = sqrt(i_z / a));
        r_z
    };
    let h = once!(trace, input.h);
    let t = once!(trace, input.t);
    let c_b = moment_factor(input, trace)?;
    step!(trace, Length, F2, "between the middles of the flanges"; h_0(h, t) = positive(h - t));
    let c = if input.shape == Shape::WeldedI {
        step!(trace, Ratio, F2, "factor of an I section"; c() = 1.0);
        c
    } else {
        step!(trace, Ratio, F2, "factor of a channel"; c(h_0, i_z, i_w) = h_0 / 2.0 * sqrt(i_z / i_w));
        c
    };
    step!(trace, Length, F2, "effective radius of gyration";
        r_ts(i_z, i_w, w_el_y) = sqrt(sqrt(i_z * i_w) / w_el_y));
    step!(trace, Ratio, F2, "torsion beside warping";
        twist(i_t, c, w_el_y, h_0) = i_t * c / (w_el_y * h_0));
    let e_steel = e_of_steel(trace);
    step!(trace, Length, F2, "largest length without sideways buckling";
        l_p(r_z, f_y, e_steel) = 1.76 * r_z * sqrt(e_steel / f_y));
    step!(trace, Length, F2, "length at which it becomes elastic";
        l_r(r_ts, f_y, twist, e_steel) =
        1.95 * r_ts * e_steel / (0.7 * f_y)
            * sqrt(twist + sqrt(sq(twist) + 6.76 * sq(0.7 * f_y / e_steel))));
    step!(trace, Stress, F2, "elastic stress of sideways buckling";
        f_lt(c_b, l_lt, r_ts, twist, e_steel) =
        c_b * PI * PI * e_steel / sq(l_lt / r_ts) * sqrt(1.0 + 0.078 * twist * sq(l_lt / r_ts)));
    let fall = 1.0 + 1.0 / (1.0 + 0.078 * twist * (l_r / r_ts) * (l_r / r_ts));
    Ok(Sideways { l_lt, l_p, l_r, c_b, f_lt, fall })
}

/// Whether the straight line between the plastic moment and the elastic one is nowhere steeper than
/// the elastic curve it ends on. It is not for real sections; for numbers that belong to no one
/// section, a larger section modulus could mean less.
fn fits_one_section(moments: f64, lengths: f64, fall: f64) -> Result<(), NotChecked> {
    if moments - 1.0 <= fall * (1.0 - lengths) {
        return Ok(());
    }
    let reason = "moduli, radius of gyration and warping constant do not belong to one section";
    Err(NotChecked::NoRule { reason: reason.to_owned() })
}
