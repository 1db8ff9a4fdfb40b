//! Walls that buckle before a compressed member does.
//!
//! From 2016 on every slender wall keeps an effective width at the critical stress of the member.
//! The editions before multiply the yield strength by Q: the stress an outstand stands, times the
//! share of the area that slender walls held on both sides keep.
//!
//! Widths are those of B4.1: walls of tubes less three thicknesses, legs and flanges in full, webs
//! of channels between the flanges.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::NotChecked;
use crate::clause::input::{MemberInput, Shape};
use crate::packs::american::available::once;
use crate::packs::american::{E, aisc, e_of_steel};

const E7: Source = aisc("E7");
const TABLE: Source = aisc("Table B4.1a");

/// The effective width of a wall at the critical stress (2016 on): binds `$f_el` and `$b_e`.
///
/// `$c` is the imperfection factor of Table E7.1; the second factor follows from it by (E7-4).
macro_rules! effective_width {
    ($trace:ident, $limit:literal, $c:literal, $wall:literal;
     $f_el:ident, $b_e:ident($b:ident, $t:ident, $f_y:ident, $f_cr:ident)) => {
        let e_steel = $crate::packs::american::e_of_steel($trace);
        fishplate_quantity::step!($trace, Stress, $crate::packs::american::aisc("E7.1, Table E7.1"),
            concat!("stress at which it buckles elastically, ", $wall);
            $f_el($b, $t, $f_y, e_steel) =
            sq((1.0 - sqrt(1.0 - 4.0 * $c)) / (2.0 * $c) * $limit * sqrt(e_steel / $f_y) * $t / $b)
                * $f_y);
        fishplate_quantity::step!($trace, Length, $crate::packs::american::aisc("E7.1"), concat!("effective width, ", $wall);
            $b_e($b, $t, $f_y, $f_cr, $f_el, e_steel) =
            if $b / $t <= $limit * sqrt(e_steel / $f_y) * sqrt($f_y / $f_cr) {
                $b
            } else {
                smaller($b, $b * (1.0 - $c * sqrt($f_el / $f_cr)) * sqrt($f_el / $f_cr))
            });
    };
}

pub(super) use effective_width;

/// Records and returns the area that slender walls leave at the critical stress: 2016 on.
pub(super) fn effective_area(
    input: &MemberInput,
    trace: &mut Trace,
    f_cr: f64,
) -> Result<f64, NotChecked> {
    let a = once!(trace, input.a);
    let f_y = once!(trace, input.f_y);
    walls_fit(input.shape, input.a, [input.h, input.b, input.t])?;
    match input.shape {
        Shape::RectangularTube => {
            let (flat_b, flat_h, t) = flats(input, trace);
            effective_width!(trace, 1.40, 0.20, "walls along the width";
                f_el_b, b_e(flat_b, t, f_y, f_cr));
            effective_width!(trace, 1.40, 0.20, "walls along the depth";
                f_el_h, h_e(flat_h, t, f_y, f_cr));
            step!(trace, Area, E7, "effective area";
                a_e(a, flat_b, b_e, flat_h, h_e, t) =
                positive(a - 2.0 * (flat_b - b_e) * t - 2.0 * (flat_h - h_e) * t));
            Ok(a_e)
        }
        Shape::Channel => {
            let Parts { flange, web, t } = parts(input, trace);
            effective_width!(trace, 0.56, 0.22, "flanges"; f_el_b, b_e(flange, t, f_y, f_cr));
            effective_width!(trace, 1.49, 0.18, "web"; f_el_h, h_e(web, t, f_y, f_cr));
            step!(trace, Area, E7, "effective area";
                a_e(a, flange, b_e, web, h_e, t) =
                positive(a - 2.0 * (flange - b_e) * t - (web - h_e) * t));
            Ok(a_e)
        }
        Shape::WeldedI => {
            let Parts { flange, web, t } = parts(input, trace);
            step!(trace, Ratio, TABLE, "slenderness of the web"; lambda_w(web, t) = web / t);
            let k_c = flange_factor(trace, lambda_w);
            let e_steel = e_of_steel(trace);
            step!(trace, Ratio, TABLE, "limit of welded flanges"; lambda_r(k_c, f_y, e_steel) =
                0.64 * sqrt(k_c * e_steel / f_y));
            step!(trace, Stress, aisc("E7.1, Table E7.1"),
                "stress at which they buckle elastically, flanges";
                f_el_b(lambda_r, flange, t, f_y) =
                sq((1.0 - sqrt(1.0 - 4.0 * 0.22)) / (2.0 * 0.22) * lambda_r * t / flange) * f_y);
            step!(trace, Length, aisc("E7.1"), "effective width, half a flange";
            b_e(flange, t, lambda_r, f_y, f_cr, f_el_b) =
            if flange / t <= lambda_r * sqrt(f_y / f_cr) {
                flange
            } else {
                smaller(flange,
                    flange * (1.0 - 0.22 * sqrt(f_el_b / f_cr)) * sqrt(f_el_b / f_cr))
            });
            effective_width!(trace, 1.49, 0.18, "web"; f_el_h, h_e(web, t, f_y, f_cr));
            step!(trace, Area, E7, "effective area";
                a_e(a, flange, b_e, web, h_e, t) =
                positive(a - 4.0 * (flange - b_e) * t - (web - h_e) * t));
            Ok(a_e)
        }
        Shape::Angle => {
            let h = once!(trace, input.h);
            let b = once!(trace, input.b);
            let t = once!(trace, input.t);
            effective_width!(trace, 0.45, 0.22, "longer leg"; f_el_h, h_e(h, t, f_y, f_cr));
            effective_width!(trace, 0.45, 0.22, "shorter leg"; f_el_b, b_e(b, t, f_y, f_cr));
            step!(trace, Area, E7, "effective area";
                a_e(a, h, h_e, b, b_e, t) = positive(a - (h - h_e) * t - (b - b_e) * t));
            Ok(a_e)
        }
        Shape::RoundTube => {
            let share = round_share(input, trace)?;
            step!(trace, Area, E7, "effective area"; a_e(a, share) = share * a);
            Ok(a_e)
        }
        Shape::Rectangle | Shape::RoundBar => {
            step!(trace, Area, E7, "a solid section keeps its area"; a_e(a) = a);
            Ok(a_e)
        }
    }
}

/// The effective width of a wall held on both sides, by the editions before 2016.
macro_rules! old_effective_width {
    ($trace:ident, $limit:literal, $c:literal, $wall:literal;
     $b_e:ident($b:ident, $t:ident, $f:ident)) => {
        let e_steel = $crate::packs::american::e_of_steel($trace);
        step!($trace, Length, aisc("E7.2 before 2016"), concat!("effective width, ", $wall);
            $b_e($b, $t, $f, e_steel) =
            if $b / $t < $limit * sqrt(e_steel / $f) {
                $b
            } else {
                smaller($b, 1.92 * $t * sqrt(e_steel / $f) * (1.0 - $c * $t / $b * sqrt(e_steel / $f)))
            });
    };
}

/// The share of the yield strength that the leg of a single angle stands: before 2016.
macro_rules! angle_leg {
    ($trace:ident, $q:ident($lambda:ident, $f_y:ident)) => {
        let e_steel = $crate::packs::american::e_of_steel($trace);
        fishplate_quantity::step!(
            $trace, Ratio, $crate::packs::american::aisc("E7.1(c) before 2016"),
            "share of the yield strength that the leg stands, Qs";
            $q($lambda, $f_y, e_steel) =
            if $lambda <= 0.45 * sqrt(e_steel / $f_y) { 1.0 }
            else if $lambda <= 0.91 * sqrt(e_steel / $f_y) { 1.34 - 0.76 * $lambda * sqrt($f_y / e_steel) }
            else { 0.53 * e_steel / ($f_y * sq($lambda)) });
    };
}
pub(super) use angle_leg;

/// Records and returns Q, what slender walls leave of the yield strength: before 2016.
///
/// The stress on walls held on both sides is taken as the yield strength, which E7.2 allows for tubes
/// in place of a stress found by iteration, and which is the safe side for webs.
pub(super) fn reduction(input: &MemberInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let a = once!(trace, input.a);
    let f_y = once!(trace, input.f_y);
    walls_fit(input.shape, input.a, [input.h, input.b, input.t])?;
    match input.shape {
        Shape::RectangularTube => {
            let (flat_b, flat_h, t) = flats(input, trace);
            old_effective_width!(trace, 1.40, 0.38, "walls along the width";
                b_e(flat_b, t, f_y));
            old_effective_width!(trace, 1.40, 0.38, "walls along the depth";
                h_e(flat_h, t, f_y));
            step!(trace, Ratio, aisc("E7.2 before 2016"), "share of the area that stays, Qa";
                q(a, flat_b, b_e, flat_h, h_e, t) =
                positive(a - 2.0 * (flat_b - b_e) * t - 2.0 * (flat_h - h_e) * t) / a);
            Ok(q)
        }
        Shape::Channel | Shape::WeldedI => {
            let Parts { flange, web, t } = parts(input, trace);
            let q_s = if input.shape == Shape::WeldedI {
                step!(trace, Ratio, TABLE, "slenderness of the web"; lambda_w(web, t) = web / t);
                let k_c = flange_factor(trace, lambda_w);
                let e_steel = e_of_steel(trace);
                step!(trace, Ratio, aisc("E7.1(b) before 2016"), "stress the flanges stand, Qs";
                    q_s(flange, t, f_y, k_c, e_steel) =
                    if flange / t <= 0.64 * sqrt(k_c * e_steel / f_y) { 1.0 }
                    else if flange / t <= 1.17 * sqrt(k_c * e_steel / f_y) {
                        1.415 - 0.65 * flange / t * sqrt(f_y / (k_c * e_steel))
                    } else { 0.90 * k_c * e_steel / (f_y * sq(flange / t)) });
                q_s
            } else {
                let e_steel = e_of_steel(trace);
                step!(trace, Ratio, aisc("E7.1(a) before 2016"), "stress the flanges stand, Qs";
                    q_s(flange, t, f_y, e_steel) =
                    if flange / t <= 0.56 * sqrt(e_steel / f_y) { 1.0 }
                    else if flange / t < 1.03 * sqrt(e_steel / f_y) {
                        1.415 - 0.74 * flange / t * sqrt(f_y / e_steel)
                    } else { 0.69 * e_steel / (f_y * sq(flange / t)) });
                q_s
            };
            old_effective_width!(trace, 1.49, 0.34, "web"; h_e(web, t, f_y));
            step!(trace, Ratio, aisc("E7.2 before 2016"), "share of the area that stays, Qa";
                q_a(a, web, h_e, t) = positive(a - (web - h_e) * t) / a);
            step!(trace, Ratio, aisc("E7 before 2016"), "both"; q(q_s, q_a) = q_s * q_a);
            Ok(q)
        }
        Shape::Angle => {
            let h = once!(trace, input.h);
            let b = once!(trace, input.b);
            let t = once!(trace, input.t);
            step!(trace, Ratio, TABLE, "width over thickness of the longer leg";
                lambda(h, b, t) = larger(h, b) / t);
            angle_leg!(trace, q(lambda, f_y));
            Ok(q)
        }
        Shape::RoundTube => {
            let share = round_share(input, trace)?;
            step!(trace, Ratio, aisc("E7.2(c) before 2016"), "share that stays, Qa";
                q(share) = share);
            Ok(q)
        }
        Shape::Rectangle | Shape::RoundBar => {
            step!(trace, Ratio, E7, "a solid section keeps its yield strength"; q() = 1.0);
            Ok(q)
        }
    }
}

/// Records and returns the share of its area that a round tube keeps, in all editions.
fn round_share(input: &MemberInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let d = once!(trace, input.h);
    let h = d;
    let t = once!(trace, input.t);
    let f_y = once!(trace, input.f_y);
    if d / t >= 0.45 * E / f_y {
        return Err(NotChecked::OutOfRange {
            symbol: "h",
            what: "diameter of a round tube",
            value: d,
            dimension: Dimension::Length,
            allowed: "less than 0.45 E t / Fy",
        });
    }
    let e_steel = e_of_steel(trace);
    step!(trace, Ratio, E7, "share of a round tube that stays";
        share(h, t, f_y, e_steel) =
        if h / t <= 0.11 * e_steel / f_y { 1.0 }
        else { smaller(1.0, 0.038 * e_steel * t / (f_y * h) + 2.0 / 3.0) });
    Ok(share)
}

/// Whether the area is at least that of the walls between their corners: else what slender walls
/// lose is taken off something they are no part of.
pub(super) fn walls_fit(shape: Shape, a: f64, [h, b, t]: [f64; 3]) -> Result<(), NotChecked> {
    let length = match shape {
        Shape::RectangularTube => 2.0 * (h - 3.0 * t) + 2.0 * (b - 3.0 * t),
        Shape::Channel => (h - 4.0 * t) + 2.0 * (b - 2.0 * t),
        Shape::WeldedI => (h - 2.0 * t) + 2.0 * b,
        Shape::Angle => (h - 2.0 * t) + (b - 2.0 * t),
        Shape::RoundTube | Shape::Rectangle | Shape::RoundBar => 0.0,
    };
    if a >= length * t {
        return Ok(());
    }
    Err(NotChecked::OutOfRange {
        symbol: "a",
        what: "area",
        value: a,
        dimension: Dimension::Area,
        allowed: "at least that of the walls by their sizes",
    })
}

/// Records and returns the flat widths of a rectangular tube, along the width and the depth, and
/// its thickness.
pub(super) fn flats(input: &MemberInput, trace: &mut Trace) -> (f64, f64, f64) {
    let h = once!(trace, input.h);
    let b = once!(trace, input.b);
    let t = once!(trace, input.t);
    step!(trace, Length, TABLE, "flat width, corners taken off"; flat_b(b, t) = positive(b - 3.0 * t));
    step!(trace, Length, TABLE, "flat depth, corners taken off"; flat_h(h, t) = positive(h - 3.0 * t));
    (flat_b, flat_h, t)
}

/// Walls of a channel or an I section.
pub(super) struct Parts {
    pub(super) flange: f64,
    pub(super) web: f64,
    pub(super) t: f64,
}

/// Records and returns the outstand of a flange, the clear web and the thickness of a channel or an I
/// section.
pub(super) fn parts(input: &MemberInput, trace: &mut Trace) -> Parts {
    let h = once!(trace, input.h);
    let b = once!(trace, input.b);
    let t = once!(trace, input.t);
    step!(trace, Length, TABLE, "web between the flanges"; web(h, t) = positive(h - 2.0 * t));
    let flange = if input.shape == Shape::WeldedI {
        step!(trace, Length, TABLE, "half a flange"; flange(b) = b / 2.0);
        flange
    } else {
        step!(trace, Length, TABLE, "flange, all of it"; flange(b) = b);
        flange
    };
    Parts { flange, web, t }
}

/// Records and returns kc, what a slender web leaves of the support of welded flanges.
pub(super) fn flange_factor(trace: &mut Trace, lambda_w: f64) -> f64 {
    step!(trace, Ratio, aisc("Table B4.1, kc"), "support of the flanges by the web";
        k_c(lambda_w) = smaller(0.76, larger(0.35, 4.0 / sqrt(lambda_w))));
    k_c
}
