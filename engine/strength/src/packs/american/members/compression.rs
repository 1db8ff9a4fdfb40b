//! Members in compression: buckling by bending, by twisting, and of slender walls before that.
//!
//! The elastic buckling stress is the least of all ways to buckle; the column curve makes of it
//! the critical stress; slender walls take off from the area (2016 on) or from the yield strength
//! (before), see [`super::slender`].

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{MemberInput, Shape};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::{available, once};
use crate::packs::american::factors::COMPRESSION;
use crate::packs::american::{E, aisc, e_of_steel, g_of_steel};

use super::slender;

const E1: Source = aisc("E1");
const E3: Source = aisc("E3 and E7");
const E4: Source = aisc("E4 and E7");

/// Buckling by bending.
pub(super) struct Bending;

impl Clause<MemberInput> for Bending {
    fn reference(&self) -> Source {
        E3
    }

    fn title(&self) -> &'static str {
        "buckling of the compressed member by bending, slender walls taken off"
    }

    fn short(&self) -> &'static str {
        "buckling by bending"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        Applicability::only_if(input.n_ed < 0.0, "the member is not compressed")
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let Elastic { bending, .. } = by_bending(input, trace)?;
        step!(trace, Stress, E1, "elastic buckling stress"; f_e(bending) = bending);
        row(input, factors, trace, f_e)
    }
}

/// Buckling by twisting, or by twisting and bending together.
pub(super) struct Twisting;

impl Clause<MemberInput> for Twisting {
    fn reference(&self) -> Source {
        E4
    }

    fn title(&self) -> &'static str {
        "buckling of the compressed member by twisting, slender walls taken off"
    }

    fn short(&self) -> &'static str {
        "buckling by twisting"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        if input.n_ed >= 0.0 {
            return Applicability::DoesNotApply("the member is not compressed".to_owned());
        }
        Applicability::only_if(
            can_twist(input.shape),
            "closed and solid sections bend before they twist",
        )
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        if !twisting_asked(input, factors) {
            let reason = "legs this thick bend before they twist; the edition asks no more";
            return Err(NotChecked::DoesNotApply { reason: reason.to_owned() });
        }
        let elastic = by_bending(input, trace)?;
        let twisting = by_twisting(input, trace, &elastic)?;
        step!(trace, Stress, E1, "elastic buckling stress"; f_e(twisting) = twisting);
        row(input, factors, trace, f_e)
    }
}

fn row(
    input: &MemberInput,
    factors: &Factors,
    trace: &mut Trace,
    f_e: f64,
) -> Result<Checked, NotChecked> {
    let p_c = strength(input, factors, trace, f_e)?;
    let n_ed = once!(trace, input.n_ed);
    step!(trace, Force, E1, "compression"; p_r(n_ed) = abs(n_ed));
    step!(trace, Ratio, E1, "utilisation"; utilisation(p_r, p_c) = p_r / p_c);
    Checked::new(p_r, p_c, Dimension::Force, utilisation)
}

/// Records and returns the available strength in compression by all ways to buckle: for members
/// that are bent as well.
pub(super) fn available_compression(
    input: &MemberInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let elastic = by_bending(input, trace)?;
    let bending = elastic.bending;
    if !twisting_asked(input, factors) {
        step!(trace, Stress, E1, "elastic buckling stress"; f_e(bending) = bending);
        return strength(input, factors, trace, f_e);
    }
    let twisting = by_twisting(input, trace, &elastic)?;
    step!(trace, Stress, E1, "elastic buckling stress, the least of bending and twisting";
        f_e(bending, twisting) = smaller(bending, twisting));
    strength(input, factors, trace, f_e)
}

/// Elastic buckling stresses by bending: about each axis, and the smaller.
struct Elastic {
    f_e_y: f64,
    f_e_z: f64,
    bending: f64,
}

/// Records and returns the elastic stresses at which the member buckles by bending.
fn by_bending(input: &MemberInput, trace: &mut Trace) -> Result<Elastic, NotChecked> {
    let a = once!(trace, input.a);
    let i_y = once!(trace, input.i_y);
    let l_cr_y = once!(trace, input.l_cr_y)?;
    let i_z = once!(trace, input.i_z);
    let l_cr_z = once!(trace, input.l_cr_z)?;
    let e_steel = e_of_steel(trace);
    step!(trace, Stress, E3, "elastic buckling stress about y";
        f_e_y(i_y, l_cr_y, a, e_steel) = PI * PI * e_steel * i_y / (a * sq(l_cr_y)));
    step!(trace, Stress, E3, "elastic buckling stress about z";
        f_e_z(i_z, l_cr_z, a, e_steel) = PI * PI * e_steel * i_z / (a * sq(l_cr_z)));
    step!(trace, Stress, E3, "elastic buckling stress by bending, the smaller";
        bending(f_e_y, f_e_z) = smaller(f_e_y, f_e_z));
    trace.note(|| {
        let slenderness = PI * (E / bending).sqrt();
        let advice = if slenderness > 200.0 { ", above the 200 that E2 advises" } else { "" };
        format!("effective length over radius of gyration: {slenderness:.1}{advice}")
    });
    Ok(Elastic { f_e_y, f_e_z, bending })
}

fn can_twist(shape: Shape) -> bool {
    !matches!(shape, Shape::RectangularTube | Shape::RoundTube | Shape::Rectangle | Shape::RoundBar)
}

/// Whether buckling by twisting has to be looked at. Single angles: not in 2005; in 2010 above 20
/// times as wide as thick; from 2016 above 0.71 √(E/Fy).
fn twisting_asked(input: &MemberInput, factors: &Factors) -> bool {
    if input.shape != Shape::Angle {
        return can_twist(input.shape);
    }
    let leg = input.h / input.t;
    match factors.edition().year {
        ..2010 => false,
        2010..2016 => leg > 20.0,
        _ => leg > 0.71 * (E / input.f_y).sqrt(),
    }
}

/// Records and returns the elastic stress at which the member buckles by twisting. The section is
/// symmetric about y, unless `z_0` says otherwise.
fn by_twisting(
    input: &MemberInput,
    trace: &mut Trace,
    elastic: &Elastic,
) -> Result<f64, NotChecked> {
    let a = once!(trace, input.a);
    let i_t = once!(trace, input.i_t);
    // An I has its shear centre at the centroid; channels and angles have to state where it is.
    let y_0 = if input.shape == Shape::WeldedI {
        or_none(input.y_0, trace, "y_0", |trace| once!(trace, input.y_0))?
    } else {
        once!(trace, input.y_0)?
    };
    let z_0 = or_none(input.z_0, trace, "z_0", |trace| once!(trace, input.z_0))?;
    let r_0 = if input.r_0.is_some() {
        once!(trace, input.r_0)?
    } else {
        let i_y = once!(trace, input.i_y);
        let i_z = once!(trace, input.i_z);
        step!(trace, Length, E4, "polar radius of gyration about the shear centre";
            r_0(y_0, z_0, i_y, i_z, a) = sqrt(sq(y_0) + sq(z_0) + (i_y + i_z) / a));
        r_0
    };
    let f_e_t = if input.i_w.is_some() {
        let i_w = once!(trace, input.i_w)?;
        let l_cr_t = once!(trace, input.l_cr_t)?;
        let g_steel = g_of_steel(trace);
        let e_steel = e_of_steel(trace);
        step!(trace, Stress, E4, "elastic stress of twisting alone";
            f_e_t(i_w, l_cr_t, i_t, a, r_0, e_steel, g_steel) =
            (PI * PI * e_steel * i_w / sq(l_cr_t) + g_steel * i_t) / (a * sq(r_0)));
        f_e_t
    } else {
        let g_steel = g_of_steel(trace);
        step!(trace, Stress, E4, "elastic stress of twisting alone, without warping stiffness";
            f_e_t(i_t, a, r_0, g_steel) = g_steel * i_t / (a * sq(r_0)));
        f_e_t
    };
    let share = (y_0 * y_0 + z_0 * z_0) / (r_0 * r_0);
    if share.is_nan() || share >= 1.0 {
        return Err(NotChecked::OutOfRange {
            symbol: "r_0",
            what: "polar radius of gyration about the shear centre",
            value: r_0,
            dimension: Dimension::Length,
            allowed: "more than the distance from the centroid to the shear centre",
        });
    }
    let &Elastic { f_e_y, f_e_z, .. } = elastic;
    if z_0.abs() > 0.0 {
        let root = least_root([f_e_y, f_e_z, f_e_t], [z_0 / r_0, y_0 / r_0]);
        let what = "elastic stress of twisting and bending about both axes together";
        return Ok(trace.input("twisting", what, Dimension::Stress, root, || {
            Provenance::Solved("least root of the cubic of AISC 360, E4".to_owned())
        }));
    }
    step!(trace, Ratio, E4, "share of the polar radius that is not offset";
        h_0(y_0, r_0) = 1.0 - sq(y_0) / sq(r_0));
    step!(trace, Stress, E4, "elastic stress of twisting and bending about y together";
        joined(f_e_y, f_e_t, h_0) =
        2.0 * f_e_y * f_e_t
            / (f_e_y + f_e_t + sqrt(positive(sq(f_e_y + f_e_t) - 4.0 * f_e_y * f_e_t * h_0))));
    step!(trace, Stress, E4, "least elastic stress, bending about z included";
        twisting(joined, f_e_z) = smaller(joined, f_e_z));
    Ok(twisting)
}

/// A coordinate that is zero where it is left out.
fn or_none(
    given: Option<f64>,
    trace: &mut Trace,
    symbol: &'static str,
    read: impl FnOnce(&mut Trace) -> Result<f64, NotChecked>,
) -> Result<f64, NotChecked> {
    if given.is_some() {
        return read(trace);
    }
    let what = "offset of the shear centre from the centroid";
    Ok(trace.input(symbol, what, Dimension::Length, 0.0, || {
        Provenance::Assumed("not given: the shear centre is at the centroid".to_owned())
    }))
}

/// The least root of the cubic for buckling by bending about both axes and twisting together.
///
/// Below the least of the three stresses on their own the cubic rises from minus their product to
/// something not below zero, so halving finds the root.
fn least_root([f_y, f_z, f_t]: [f64; 3], [share_y, share_z]: [f64; 2]) -> f64 {
    let cubic = |f: f64| {
        (f - f_y) * (f - f_z) * (f - f_t)
            - f * f * (f - f_z) * share_z * share_z
            - f * f * (f - f_y) * share_y * share_y
    };
    let (mut low, mut high) = (0.0, f_y);
    for f in [f_z, f_t] {
        if f < high {
            high = f;
        }
    }
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if cubic(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// Records and returns the available strength at the elastic buckling stress `f_e`.
fn strength(
    input: &MemberInput,
    factors: &Factors,
    trace: &mut Trace,
    f_e: f64,
) -> Result<f64, NotChecked> {
    let a = once!(trace, input.a);
    let f_y = once!(trace, input.f_y);
    let p_n = if factors.edition().year >= 2016 {
        column_curve!(trace, Stress, f_cr(f_y, f_e));
        let a_e = slender::effective_area(input, trace, f_cr)?;
        step!(trace, Force, E3, "nominal strength in compression"; p_n(f_cr, a_e) = f_cr * a_e);
        p_n
    } else {
        let q = slender::reduction(input, trace)?;
        step!(trace, Stress, aisc("E7"), "yield strength that slender walls leave";
            f_q(q, f_y) = q * f_y);
        column_curve!(trace, Stress, f_cr(f_q, f_e));
        step!(trace, Force, E3, "nominal strength in compression"; p_n(f_cr, a) = f_cr * a);
        p_n
    };
    available!(trace, factors, phi_c or omega_c of COMPRESSION;
        Force, E1, "available strength in compression"; p_c(p_n));
    Ok(p_c)
}

/// The critical stress of the column curve; in stresses or, alike, in factors on the loads.
///
/// The two branches of the curve miss each other by 0.03 % where they meet; the smaller counts
/// there, so that more area or a stronger steel never means less.
macro_rules! column_curve {
    ($trace:ident, $dimension:ident, $f_cr:ident($f_y:ident, $f_e:ident)) => {
        fishplate_quantity::step!(
            $trace, $dimension, $crate::packs::american::aisc("E3, column curve"), "critical stress";
            $f_cr($f_y, $f_e) =
            if $f_y <= 2.25 * $f_e {
                smaller(power(0.658, $f_y / $f_e) * $f_y, 0.877 * $f_e)
            } else {
                0.877 * $f_e
            });
    };
}
pub(in crate::packs::american) use column_curve;

#[cfg(test)]
mod tests {
    use fishplate_quantity::Trace;

    use super::*;
    use crate::packs::Rules;
    use crate::packs::american::PACK;
    use crate::packs::american::members::examples::{angle_2, sharp_2x2};

    /// Euler, 1744, with the 0.877 that E3 keeps for crookedness.
    #[test]
    fn a_very_long_post_has_877_thousandths_of_the_critical_force() {
        let factors = PACK.factors(&Rules::RECOMMENDED).unwrap();
        let post =
            MemberInput { n_ed: -1.0, l_cr_y: Some(20.0), l_cr_z: Some(20.0), ..sharp_2x2() };
        let got = Bending.evaluate(&post, &factors, &mut Trace::off()).unwrap();
        let critical = PI * PI * E * post.i_z / 400.0;
        assert!((got.resistance / (0.9 * 0.877 * critical) - 1.0).abs() < 1e-12);
    }

    /// With one axis of symmetry the cubic has the root of the quadratic; the formula for no axis of
    /// symmetry, asked with an offset next to nothing, has to meet it.
    #[test]
    fn the_cubic_meets_the_quadratic_where_the_section_is_symmetric() {
        let offset = |z_0| {
            let input = MemberInput { z_0, ..angle_2() };
            let elastic = by_bending(&input, &mut Trace::off()).unwrap();
            by_twisting(&input, &mut Trace::off(), &elastic).unwrap()
        };
        let (quadratic, cubic) = (offset(None), offset(Some(1e-9)));
        assert!((cubic / quadratic - 1.0).abs() < 1e-9, "{cubic} against {quadratic}");
    }

    /// The polar radius follows from the other numbers where it is left out.
    #[test]
    fn the_polar_radius_can_be_left_out() {
        let radius = |r_0| {
            let input = MemberInput { r_0, ..angle_2() };
            let elastic = by_bending(&input, &mut Trace::off()).unwrap();
            by_twisting(&input, &mut Trace::off(), &elastic).unwrap()
        };
        assert!((radius(None) / radius(angle_2().r_0) - 1.0).abs() < 1e-4);
    }
}
