//! Bending of hollow sections: F7 and F8.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::MemberInput;
use crate::clause::{Factors, NotChecked};
use crate::packs::american::available::once;
use crate::packs::american::{E, aisc, e_of_steel};

use super::slender::flats;

const F7: Source = aisc("F7");
const F8: Source = aisc("F8");

/// Yielding and local buckling of a rectangular tube about one axis.
macro_rules! local {
    ($function:ident, $axis:literal;
     $w_pl:ident, $w_el:ident, $i:ident, $depth:ident, $flange:ident, $web:ident,
     ($flat_b:ident, $flat_h:ident);
     $m_p:ident, $lambda_f:ident, $lambda_w:ident, $m_f:ident, $m_w:ident, $m_n:ident) => {
        fn $function(
            input: &MemberInput,
            trace: &mut Trace,
            ($flat_b, $flat_h, t): (f64, f64, f64),
        ) -> Result<f64, NotChecked> {
            let f_y = once!(trace, input.f_y);
            let $w_pl = once!(trace, input.$w_pl)?;
            let $w_el = once!(trace, input.$w_el);
            step!(trace, Moment, F7, concat!("plastic moment about ", $axis);
                $m_p(f_y, $w_pl) = f_y * $w_pl);
            step!(trace, Ratio, F7, concat!("slenderness of the flanges, bending about ", $axis);
                $lambda_f($flange, t) = $flange / t);
            step!(trace, Ratio, F7, concat!("slenderness of the webs, bending about ", $axis);
                $lambda_w($web, t) = $web / t);
            let e_steel = e_of_steel(trace);
            let limit = (e_steel / f_y).sqrt();
            note(trace, concat!("flanges, bending about ", $axis), $lambda_f, 1.12 * limit,
                1.40 * limit);
            note(trace, concat!("webs, bending about ", $axis), $lambda_w, 2.42 * limit,
                5.70 * limit);
            if $lambda_w > 5.70 * limit {
                return Err(NotChecked::NoRule {
                    reason: format!(
                        "the webs are {:.1} times as deep as thick: slender in bending, which F7 \
                         leaves to boxes",
                        $lambda_w
                    ),
                });
            }
            let $m_f = if $lambda_f > 1.40 * limit {
                let $depth = once!(trace, input.$depth);
                let $i = once!(trace, input.$i);
                let a = once!(trace, input.a);
                step!(trace, Length, F7, "effective width of the compressed flange";
                    b_f($flange, t, f_y, e_steel) =
                    smaller($flange,
                        1.92 * t * sqrt(e_steel / f_y) * (1.0 - 0.38 * t / $flange * sqrt(e_steel / f_y))));
                step!(trace, Area, F7, "area that it loses"; lost($flange, b_f, t) =
                    ($flange - b_f) * t);
                step!(trace, Length, F7, "from the centroid to the middle of the flange";
                    z_f($depth, t) = ($depth - t) / 2.0);
                step!(trace, Length, F7, "movement of the neutral axis";
                    shift(lost, z_f, a) = lost * z_f / positive(a - lost));
                step!(trace, SectionModulus, F7, "effective section modulus at that flange";
                    s_e($i, lost, z_f, a, shift, $depth, t) =
                    positive($i - lost * (sq(z_f) + sq(t) / 12.0) - (a - lost) * sq(shift))
                        / ($depth / 2.0 + shift));
                step!(trace, Moment, F7, "moment at local buckling of the slender flange";
                    $m_f(f_y, s_e, $m_p) = smaller($m_p, f_y * s_e));
                $m_f
            } else {
                step!(trace, Moment, F7, "moment at local buckling of the flange";
                    $m_f($m_p, f_y, $w_el, $lambda_f, e_steel) =
                    smaller($m_p, $m_p - ($m_p - f_y * $w_el)
                        * positive(3.57 * $lambda_f * sqrt(f_y / e_steel) - 4.0)));
                $m_f
            };
            step!(trace, Moment, F7, "moment at local buckling of the webs";
                $m_w($m_p, f_y, $w_el, $lambda_w, e_steel) =
                smaller($m_p, $m_p - ($m_p - f_y * $w_el)
                    * positive(0.305 * $lambda_w * sqrt(f_y / e_steel) - 0.738)));
            step!(trace, Moment, F7, concat!("nominal moment about ", $axis, ", the least");
                $m_n($m_p, $m_f, $m_w) = smaller($m_p, smaller($m_f, $m_w)));
            Ok($m_n)
        }
    };
}

local!(local_y, "y"; w_pl_y, w_el_y, i_y, h, flat_b, flat_h, (flat_b, flat_h);
    m_p_y, lambda_f_y, lambda_w_y, m_f_y, m_w_y, m_local_y);
local!(local_z, "z"; w_pl_z, w_el_z, i_z, b, flat_h, flat_b, (flat_b, flat_h);
    m_p_z, lambda_f_z, lambda_w_z, m_f_z, m_w_z, m_n_z);

/// Says in which class a wall is.
fn note(trace: &mut Trace, wall: &'static str, lambda: f64, compact: f64, slender: f64) {
    trace.note(|| {
        let class = if lambda <= compact {
            "compact"
        } else if lambda <= slender {
            "not compact"
        } else {
            "slender"
        };
        format!("{wall}: {lambda:.1} against {compact:.1} and {slender:.1}: {class}")
    });
}

/// Records and returns the nominal moments of a rectangular tube.
pub(super) fn rectangular(
    input: &MemberInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<(f64, f64), NotChecked> {
    let walls = flats(input, trace);
    let m_local_y = local_y(input, trace, walls)?;
    let m_n_z = local_z(input, trace, walls)?;
    let sideways = factors.edition().year >= 2016 && input.l_lt.is_some() && input.h > input.b;
    if !sideways {
        step!(trace, Moment, F7, "nominal moment about y"; m_n_y(m_local_y) = m_local_y);
        return Ok((m_n_y, m_n_z));
    }
    let m_lt = rectangular_sideways(input, trace)?;
    step!(trace, Moment, F7, "nominal moment about y, sideways buckling included";
        m_n_y(m_local_y, m_lt) = smaller(m_local_y, m_lt));
    Ok((m_n_y, m_n_z))
}

const F7_4: Source = aisc("F7.4, from 2016");

/// Sideways buckling of a rectangular tube.
fn rectangular_sideways(input: &MemberInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let f_y = once!(trace, input.f_y);
    let w_pl_y = once!(trace, input.w_pl_y)?;
    let w_el_y = once!(trace, input.w_el_y);
    let i_z = once!(trace, input.i_z);
    let i_t = once!(trace, input.i_t);
    let l_lt = once!(trace, input.l_lt)?;
    let c_b = moment_factor(input, trace)?;
    moduli_fit(w_pl_y, w_el_y)?;
    step!(trace, Moment, F7_4, "plastic moment"; m_p(f_y, w_pl_y) = f_y * w_pl_y);
    step!(trace, Moment, F7_4, "moment at first yield, less residual stress";
        m_r(f_y, w_el_y) = 0.7 * f_y * w_el_y);
    // ry √(J A) = √(Iz J).
    let e_steel = e_of_steel(trace);
    step!(trace, Length, F7_4, "largest length without sideways buckling";
        l_p(i_z, i_t, m_p, e_steel) = 0.13 * e_steel * sqrt(i_z * i_t) / m_p);
    step!(trace, Length, F7_4, "length at which it becomes elastic";
        l_r(i_z, i_t, m_r, e_steel) = 2.0 * e_steel * sqrt(i_z * i_t) / m_r);
    step!(trace, Moment, F7_4, "moment at sideways buckling";
    m_lt(l_lt, l_p, l_r, m_p, m_r, c_b, i_z, i_t, e_steel) =
    if l_lt <= l_p {
        m_p
    } else if l_lt <= l_r {
        smaller(m_p, c_b * (m_p - (m_p - m_r) * (l_lt - l_p) / (l_r - l_p)))
    } else {
        smaller(m_p, 2.0 * e_steel * c_b * sqrt(i_z * i_t) / l_lt)
    });
    Ok(m_lt)
}

/// Whether both section moduli about y can be those of one tube: thin ones have 1.1 to 1.3.
fn moduli_fit(w_pl_y: f64, w_el_y: f64) -> Result<(), NotChecked> {
    if (1.0..=1.38).contains(&(w_pl_y / w_el_y)) {
        return Ok(());
    }
    Err(NotChecked::OutOfRange {
        symbol: "w_pl_y",
        what: "plastic section modulus about y of a section that can buckle sideways",
        value: w_pl_y,
        dimension: Dimension::SectionModulus,
        allowed: "1.0 to 1.38 times the elastic one",
    })
}

/// Records and returns Cb: as given, else 1, which F1 allows in all cases.
pub(super) fn moment_factor(input: &MemberInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    if input.z_g.is_some_and(|z_g| z_g > 0.0) {
        let reason = "the load stands above the shear centre and tips the member over: chapter F has \
                      no rule for that";
        return Err(NotChecked::NoRule { reason: reason.to_owned() });
    }
    if input.c_1.is_some() {
        let c_1 = once!(trace, input.c_1)?;
        step!(trace, Ratio, aisc("F1"), "factor of the moment diagram, Cb"; c_b(c_1) = c_1);
        return Ok(c_b);
    }
    step!(trace, Ratio, aisc("F1"), "factor of the moment diagram, Cb, not given: the safe side";
        c_b() = 1.0);
    Ok(c_b)
}

/// Local buckling of a round tube about one axis.
macro_rules! round {
    ($trace:ident, $axis:literal; $m_n:ident($w_pl:ident, $w_el:ident, $f_y:ident, $lambda:ident)) => {
        let e_steel = $crate::packs::american::e_of_steel($trace);
        step!($trace, Moment, F8, concat!("nominal moment about ", $axis, ", yielding or local buckling");
            $m_n($w_pl, $w_el, $f_y, $lambda, e_steel) =
            if $lambda <= 0.07 * e_steel / $f_y {
                $f_y * $w_pl
            } else if $lambda <= 0.31 * e_steel / $f_y {
                smaller($f_y * $w_pl, (0.021 * e_steel / $lambda + $f_y) * $w_el)
            } else {
                smaller($f_y * $w_pl, 0.33 * e_steel / $lambda * $w_el)
            });
    };
}

/// Records and returns the nominal moments of a round tube.
pub(super) fn round(input: &MemberInput, trace: &mut Trace) -> Result<(f64, f64), NotChecked> {
    let f_y = once!(trace, input.f_y);
    let h = once!(trace, input.h);
    let t = once!(trace, input.t);
    step!(trace, Ratio, F8, "diameter over thickness"; lambda(h, t) = h / t);
    if lambda >= 0.45 * E / f_y {
        return Err(NotChecked::OutOfRange {
            symbol: "h",
            what: "diameter of a round tube",
            value: h,
            dimension: Dimension::Length,
            allowed: "less than 0.45 E t / Fy",
        });
    }
    note(trace, "round wall in bending", lambda, 0.07 * E / f_y, 0.31 * E / f_y);
    let w_pl_y = once!(trace, input.w_pl_y)?;
    let w_el_y = once!(trace, input.w_el_y);
    let w_pl_z = once!(trace, input.w_pl_z)?;
    let w_el_z = once!(trace, input.w_el_z);
    round!(trace, "y"; m_n_y(w_pl_y, w_el_y, f_y, lambda));
    round!(trace, "z"; m_n_z(w_pl_z, w_el_z, f_y, lambda));
    Ok((m_n_y, m_n_z))
}
