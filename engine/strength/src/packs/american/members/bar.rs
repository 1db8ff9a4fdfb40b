//! Bending of rectangular and round bars: F11.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::MemberInput;
use crate::clause::{Factors, NotChecked};
use crate::packs::american::available::once;
use crate::packs::american::{aisc, e_of_steel};

use super::tube::moment_factor;

const F11: Source = aisc("F11");

/// Records and returns the nominal moments of a rectangular bar.
pub(super) fn rectangle(
    input: &MemberInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<(f64, f64), NotChecked> {
    let f_y = once!(trace, input.f_y);
    let w_el_y = once!(trace, input.w_el_y);
    let w_pl_y = once!(trace, input.w_pl_y)?;
    let w_el_z = once!(trace, input.w_el_z);
    let w_pl_z = once!(trace, input.w_pl_z)?;
    // Rectangles reach 1.5 at most; 1.6 holds for rounds as well.
    let value = if factors.edition().year >= 2022 { 1.5 } else { 1.6 };
    let what = "largest plastic over first-yield moment";
    let cap = trace.input("cap", what, Dimension::Ratio, value, || {
        Provenance::Table("AISC 360, F11.1".to_owned())
    });
    step!(trace, Moment, F11, "plastic moment about y";
        m_p_y(f_y, w_pl_y, cap, w_el_y) = smaller(f_y * w_pl_y, cap * f_y * w_el_y));
    step!(trace, Moment, F11, "nominal moment about z, where nothing buckles sideways";
        m_n_z(f_y, w_pl_z, cap, w_el_z) = smaller(f_y * w_pl_z, cap * f_y * w_el_z));
    if input.l_lt.is_none() || input.h <= input.b {
        step!(trace, Moment, F11, "nominal moment about y"; m_n_y(m_p_y) = m_p_y);
        return Ok((m_n_y, m_n_z));
    }
    let l_lt = once!(trace, input.l_lt)?;
    let h = once!(trace, input.h);
    let b = once!(trace, input.b);
    let c_b = moment_factor(input, trace)?;
    step!(trace, Ratio, F11, "slenderness against sideways buckling, Lb d / t²";
        slender(l_lt, h, b) = l_lt * h / sq(b));
    // The elastic branch starts 0.06 % above the end of the other one, which caps it here.
    let e_steel = e_of_steel(trace);
    step!(trace, Moment, F11, "moment at sideways buckling";
    m_lt(slender, f_y, w_el_y, m_p_y, c_b, e_steel) =
    if slender <= 0.08 * e_steel / f_y {
        m_p_y
    } else if slender <= 1.9 * e_steel / f_y {
        smaller(m_p_y, c_b * (1.52 - 0.274 * slender * f_y / e_steel) * f_y * w_el_y)
    } else {
        smaller(m_p_y, c_b * smaller(1.9 * e_steel / slender, (1.52 - 0.274 * 1.9) * f_y) * w_el_y)
    });
    step!(trace, Moment, F11, "nominal moment about y, the smaller";
        m_n_y(m_p_y, m_lt) = smaller(m_p_y, m_lt));
    Ok((m_n_y, m_n_z))
}

/// Records and returns the nominal moments of a round bar, which never buckles sideways.
pub(super) fn round(input: &MemberInput, trace: &mut Trace) -> Result<(f64, f64), NotChecked> {
    let f_y = once!(trace, input.f_y);
    let w_el_y = once!(trace, input.w_el_y);
    let w_pl_y = once!(trace, input.w_pl_y)?;
    let w_el_z = once!(trace, input.w_el_z);
    let w_pl_z = once!(trace, input.w_pl_z)?;
    step!(trace, Moment, F11, "nominal moment about y, at most 1.6 of that at first yield";
        m_n_y(f_y, w_pl_y, w_el_y) = smaller(f_y * w_pl_y, 1.6 * f_y * w_el_y));
    step!(trace, Moment, F11, "nominal moment about z, at most 1.6 of that at first yield";
        m_n_z(f_y, w_pl_z, w_el_z) = smaller(f_y * w_pl_z, 1.6 * f_y * w_el_z));
    Ok((m_n_y, m_n_z))
}

#[cfg(test)]
mod tests {
    use fishplate_quantity::Trace;

    use super::*;
    use crate::packs::Rules;
    use crate::packs::american::PACK;
    use crate::packs::american::members::examples::bar_5x3;
    use crate::packs::american::{E, G, IN};

    /// The least k of φ'' + k φ = 0 over `length` with φ = 0 at both ends, by differences and
    /// inverse iteration.
    fn least_eigenvalue(length: f64) -> f64 {
        const POINTS: usize = 400;
        let step = length / 401.0;
        let mut phi = [1.0_f64; POINTS];
        let mut k = 0.0;
        for _ in 0..40 {
            // Thomas' algorithm for -φ'' = right, rows (-1, 2, -1) / step².
            let right = phi.map(|v| v * step * step);
            let (mut c, mut d) = ([0.0; POINTS], [0.0; POINTS]);
            for i in 0..POINTS {
                let (above, before) = if i == 0 { (0.0, 0.0) } else { (c[i - 1], d[i - 1]) };
                let pivot = 2.0 + above;
                c[i] = -1.0 / pivot;
                d[i] = (right[i] + before) / pivot;
            }
            let mut next = [0.0; POINTS];
            for i in (0..POINTS).rev() {
                let after = if i + 1 == POINTS { 0.0 } else { next[i + 1] };
                next[i] = d[i] - c[i] * after;
            }
            let size = next.iter().map(|v| v * v).sum::<f64>().sqrt();
            let old = phi.iter().map(|v| v * v).sum::<f64>().sqrt();
            k = old / size;
            phi = next.map(|v| v / size);
        }
        k
    }

    /// A narrow rectangle under even moment turns sideways where φ'' + M² / (E Iz G J) φ = 0 has a
    /// solution. F11 rounds the 1.95 E t² / (L d) that follows to 1.9.
    #[test]
    fn the_elastic_branch_is_the_eigenvalue_of_a_narrow_bar() {
        let (d, t, length) = (10.0 * IN, 0.25 * IN, 100.0 * IN);
        let modulus = t * d * d / 6.0;
        let (i_z, j) = (d * t.powi(3) / 12.0, d * t.powi(3) / 3.0);
        let m_cr = (least_eigenvalue(length) * E * i_z * G * j).sqrt();
        let input = MemberInput {
            h: d,
            b: t,
            w_el_y: modulus,
            w_pl_y: Some(1.5 * modulus),
            l_lt: Some(length),
            c_1: None,
            ..bar_5x3()
        };
        let (m_n_y, _) =
            rectangle(&input, &PACK.factors(&Rules::RECOMMENDED).unwrap(), &mut Trace::off())
                .unwrap();
        let ratio = m_n_y / m_cr;
        assert!((ratio - 1.9 / 1.952).abs() < 2e-3, "{ratio}");
    }
}
