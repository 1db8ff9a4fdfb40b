//! Bending of single angles about their principal axes: F10.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::MemberInput;
use crate::clause::{Factors, NotChecked};
use crate::packs::american::available::once;
use crate::packs::american::{aisc, e_of_steel};

use super::tube::moment_factor;

const F10: Source = aisc("F10");
const LEG: Source = aisc("F10.3");

/// Records and returns the nominal moments of an angle about its principal axes.
///
/// Both legs count as compressed at their toes, whichever way the moment turns: the safe side.
pub(super) fn angle(
    input: &MemberInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<(f64, f64), NotChecked> {
    let f_y = once!(trace, input.f_y);
    let h = once!(trace, input.h);
    let b = once!(trace, input.b);
    let t = once!(trace, input.t);
    let w_el_y = once!(trace, input.w_el_y);
    let w_el_z = once!(trace, input.w_el_z);
    step!(trace, Ratio, LEG, "slenderness of the longer leg"; lambda(h, b, t) = larger(h, b) / t);
    let e_steel = e_of_steel(trace);
    step!(trace, Stress, LEG, "stress at a toe at local buckling of the leg, at most 1.5 Fy";
    f_leg(lambda, f_y, e_steel) =
    if lambda <= 0.54 * sqrt(e_steel / f_y) {
        1.5 * f_y
    } else if lambda <= 0.91 * sqrt(e_steel / f_y) {
        smaller(1.5 * f_y, f_y * (2.43 - 1.72 * lambda * sqrt(f_y / e_steel)))
    } else {
        0.71 * e_steel / sq(lambda)
    });
    step!(trace, Moment, F10, "nominal moment about z, yielding or local buckling";
        m_n_z(f_leg, w_el_z) = f_leg * w_el_z);
    step!(trace, Moment, F10, "moment about y, yielding or local buckling";
        m_leg_y(f_leg, w_el_y) = f_leg * w_el_y);
    if input.l_lt.is_none() {
        step!(trace, Moment, F10, "nominal moment about y, held against turning";
            m_n_y(m_leg_y) = m_leg_y);
        return Ok((m_n_y, m_n_z));
    }
    let m_cr = critical(input, factors, trace, t)?;
    step!(trace, Moment, F10, "moment about y at first yield"; m_y(f_y, w_el_y) = f_y * w_el_y);
    step!(trace, Moment, aisc("F10.2"), "moment at sideways buckling";
    m_lt(m_y, m_cr) =
    if m_y <= m_cr {
        smaller(1.5 * m_y, (1.92 - 1.17 * sqrt(m_y / m_cr)) * m_y)
    } else {
        (0.92 - 0.17 * m_cr / m_y) * m_cr
    });
    step!(trace, Moment, F10, "nominal moment about y, the smaller";
        m_n_y(m_leg_y, m_lt) = smaller(m_leg_y, m_lt));
    Ok((m_n_y, m_n_z))
}

/// Records and returns the elastic moment of sideways buckling about the strong principal axis.
fn critical(
    input: &MemberInput,
    factors: &Factors,
    trace: &mut Trace,
    t: f64,
) -> Result<f64, NotChecked> {
    let l_lt = once!(trace, input.l_lt)?;
    let c_1 = moment_factor(input, trace)?;
    let c_b = c_1;
    step!(trace, Ratio, F10, "factor of the moment diagram, at most 1.5";
        c_a(c_b) = smaller(c_b, 1.5));
    let equal = (input.h - input.b).abs() <= 1e-6 * input.h;
    let beta_w = if input.beta_w.is_none() && equal {
        let what = "how far the section is from symmetry";
        trace.input("beta_w", what, Dimension::Length, 0.0, || {
            Provenance::Geometry("equal legs".to_owned())
        })
    } else {
        once!(trace, input.beta_w)?
    };
    let e_steel = e_of_steel(trace);
    if factors.edition().year >= 2016 {
        let a = once!(trace, input.a);
        let i_z = once!(trace, input.i_z);
        step!(trace, Ratio, aisc("F10.2, from 2016"), "asymmetry, 4.4 βw rz / (Lb t)";
            skew(beta_w, i_z, a, l_lt, t) = 4.4 * beta_w * sqrt(i_z / a) / (l_lt * t));
        step!(trace, Moment, aisc("F10.2, from 2016"), "elastic moment of sideways buckling";
            m_cr(a, i_z, t, c_a, l_lt, skew, e_steel) =
            9.0 * e_steel * sqrt(a * i_z) * t * c_a / (8.0 * l_lt) * (sqrt(1.0 + sq(skew)) + skew));
        return Ok(m_cr);
    }
    if equal {
        let h = once!(trace, input.h);
        step!(trace, Moment, aisc("F10.2, before 2016"), "elastic moment of sideways buckling, equal legs";
            m_cr(h, t, c_a, l_lt, e_steel) = 0.46 * e_steel * sq(h) * sq(t) * c_a / l_lt);
        return Ok(m_cr);
    }
    let a = once!(trace, input.a);
    let i_z = once!(trace, input.i_z);
    step!(trace, Moment, aisc("F10.2, before 2016"), "elastic moment of sideways buckling, unequal legs";
        m_cr(i_z, a, c_a, l_lt, beta_w, t, e_steel) =
        4.9 * e_steel * i_z * c_a / sq(l_lt)
            * (sqrt(sq(beta_w) + 0.052 * sq(l_lt * t) * a / i_z) + beta_w));
    Ok(m_cr)
}
