//! Cornering, cornering and braking, kerb.

use fishplate_quantity::{Dimension, Source, step};
use fishplate_solver::group::Vec3;

use super::derivation::Derivation;
use super::free_body::{Given, Pair};
use super::longitudinal::{TRANSFER, brake_inputs, brakes};
use super::vehicle::Statics;
use super::{LoadInput, RearTransfer};
use crate::describe::{RollStiffness, Side};

const YAW: Source = Source::new(
    "Brown, Robertson, Serpento, Motor Vehicle Structures",
    "page 24: lateral loads, yaw balance",
);
const KERB: Source = Source::new(
    "Brown, Robertson, Serpento, Motor Vehicle Structures",
    "page 24: kerb bump, factor after Garrett",
);
const ROLL: Source = Source::mechanics("roll balance of the sprung mass about the roll axis");
const FRICTION: Source =
    Source::practice("friction circle of the axle: brakes and turn are cut alike");
const SHARED: Source = Source::practice("lateral force shared as the wheel loads");

/// A pair from the values of the inner and the outer side.
fn sided<T>(inner: Side, at_inner: T, at_outer: T) -> Pair<T> {
    match inner {
        Side::Left => Pair { left: at_inner, right: at_outer },
        Side::Right => Pair { left: at_outer, right: at_inner },
    }
}

/// Load of the inner and the outer wheel at rest, under names of their own.
fn at_rest(d: &mut Derivation, s: &Statics, side: Side) -> (f64, f64) {
    let (inner, outer) = match side {
        Side::Left => (s.w_left, s.w_right),
        Side::Right => (s.w_right, s.w_left),
    };
    let of = || format!("{} wheel, above", side.word());
    let w_in = d.again("w_in", "load of the inner wheel at rest", Dimension::Force, inner, of);
    let of = || format!("{} wheel, above", side.other().word());
    let w_out = d.again("w_out", "load of the outer wheel at rest", Dimension::Force, outer, of);
    (w_in, w_out)
}

pub(super) fn corner(
    d: &mut Derivation,
    s: &Statics,
    side: Side,
    rate: f64,
    transfer: &RearTransfer,
) -> Given {
    let Statics { w_r, .. } = *s;
    let (w_in, w_out) = at_rest(d, s, side);
    let (f_yr, df_full, a) = lateral(d, s, rate, transfer);
    let trace = &mut d.trace;
    step!(trace, Force, TRANSFER, "load moved to the outer wheel, at most until the inner lifts";
        df(df_full, w_in) = smaller(df_full, w_in));
    step!(trace, Force, TRANSFER, "load of the inner wheel"; f_z_in(w_in, df) = w_in - df);
    step!(trace, Force, TRANSFER, "load of the outer wheel"; f_z_out(w_out, df) = w_out + df);
    step!(trace, Force, SHARED, "lateral force of the inner wheel";
        f_y_in(f_yr, f_z_in, w_r) = f_yr * f_z_in / w_r);
    step!(trace, Force, SHARED, "lateral force of the outer wheel";
        f_y_out(f_yr, f_z_out, w_r) = f_yr * f_z_out / w_r);
    let to_side = side.sign();
    let force = |y: f64, z: f64| Vec3::new(0.0, to_side * y, z);
    let tyre = sided(side, force(f_y_in, f_z_in), force(f_y_out, f_z_out));
    let standing = Given::standing(0.0, 0.0, 1.0);
    Given { tyre, acceleration: [0.0, to_side * a], ..standing }
}

/// Lateral force of the rear axle (N), its load transfer (N), lateral acceleration (m/s²).
fn lateral(d: &mut Derivation, s: &Statics, rate: f64, transfer: &RearTransfer) -> (f64, f64, f64) {
    let Statics { m, g, h, t, wheelbase, x_cg, .. } = *s;
    let n_y = d.factor("n_y", "cornering rate", Dimension::Ratio, rate);
    let trace = &mut d.trace;
    step!(trace, Acceleration, YAW, "lateral acceleration"; a_y(n_y, g) = n_y * g);
    step!(trace, Force, YAW, "lateral force of the rear axle";
        f_yr(m, a_y, wheelbase, x_cg) = m * a_y * (wheelbase - x_cg) / wheelbase);
    step!(trace, Ratio, ROLL, "rate at which the car tips"; tip(t, h) = t / (2.0 * h));
    if n_y > tip {
        d.assume(format!("the car would tip at {tip:.2} g, before this cornering rate"));
    }
    let df = match transfer {
        RearTransfer::Share(share) => {
            let lambda = d.factor(
                "lambda",
                "rear axle's share of the roll moment",
                Dimension::Ratio,
                *share,
            );
            step!(d.trace, Force, ROLL, "load transfer of the rear axle";
                df_full(lambda, m, a_y, h, t) = lambda * m * a_y * h / t);
            df_full
        }
        RearTransfer::RollStiffness(roll) => rolled(d, s, a_y, roll),
    };
    (f_yr, df, a_y)
}

/// Load transfer of the rear axle from roll stiffness and roll centres, N.
fn rolled(d: &mut Derivation, s: &Statics, a_y: f64, roll: &RollStiffness) -> f64 {
    use Dimension::{Length, Mass, Moment};
    let Statics { m, g, h, t, wheelbase, w_r, .. } = *s;
    let m_uf = d.factor("m_uf", "unsprung mass in front", Mass, roll.unsprung_front);
    let m_ur = d.factor("m_ur", "unsprung mass behind", Mass, roll.unsprung_rear);
    let z_u = d.factor("z_u", "height of the unsprung masses", Length, roll.unsprung_height);
    let z_rf = d.factor("z_rf", "height of the front roll centre", Length, roll.roll_centre_front);
    let z_rr = d.factor("z_rr", "height of the rear roll centre", Length, roll.roll_centre_rear);
    let k_f = d.factor("k_f", "roll stiffness in front, per rad", Moment, roll.front);
    let k_r = d.factor("k_r", "roll stiffness behind, per rad", Moment, roll.rear);
    let trace = &mut d.trace;
    step!(trace, Mass, ROLL, "sprung mass"; m_s(m, m_uf, m_ur) = m - m_uf - m_ur);
    step!(trace, Length, ROLL, "sprung centre of gravity behind the front axle";
        a_s(w_r, g, m_ur, wheelbase, m_s) = (w_r / g - m_ur) * wheelbase / m_s);
    step!(trace, Length, ROLL, "sprung centre of gravity above the ground";
        h_s(m, h, m_uf, m_ur, z_u, m_s) = (m * h - (m_uf + m_ur) * z_u) / m_s);
    step!(trace, Length, ROLL, "the same above the roll axis";
        h_ra(h_s, z_rf, z_rr, a_s, wheelbase) = h_s - (z_rf + (z_rr - z_rf) * a_s / wheelbase));
    step!(trace, Angle, ROLL, "roll angle";
        phi(m_s, a_y, h_ra, k_f, k_r, g) = m_s * a_y * h_ra / (k_f + k_r - m_s * g * h_ra));
    step!(trace, Force, ROLL, "load transfer of the rear axle";
        df_full(m_s, a_y, a_s, wheelbase, z_rr, k_r, phi, m_ur, z_u, t) =
        (m_s * a_y * (a_s / wheelbase) * z_rr + k_r * phi + m_ur * a_y * z_u) / t);
    df_full
}

pub(super) fn corner_and_brake(
    d: &mut Derivation,
    s: &Statics,
    input: &LoadInput,
    side: Side,
    [corner_rate, brake_rate]: [f64; 2],
    transfer: &RearTransfer,
) -> Given {
    let Statics { m, g, h, wheelbase, w_r, .. } = *s;
    let (w_in, w_out) = at_rest(d, s, side);
    let (f_yr, df_full, a_y) = lateral(d, s, corner_rate, transfer);
    let b = d.factor("b", "braking rate", Dimension::Ratio, brake_rate);
    let (phi_r, mu) = brake_inputs(d, brakes(input), false);
    let trace = &mut d.trace;
    step!(trace, Acceleration, TRANSFER, "deceleration"; a(b, g) = b * g);
    step!(trace, Force, TRANSFER, "load of the rear axle, at least none";
        f_zr(w_r, m, a, h, wheelbase) = positive(w_r - m * a * h / wheelbase));
    step!(trace, Force, TRANSFER, "inner wheel before the turn";
        f_b_in(f_zr, w_in, w_r) = f_zr * w_in / w_r);
    step!(trace, Force, TRANSFER, "outer wheel before the turn";
        f_b_out(f_zr, w_out, w_r) = f_zr * w_out / w_r);
    step!(trace, Force, TRANSFER, "load moved to the outer wheel, at most until the inner lifts";
        df(df_full, f_b_in) = smaller(df_full, f_b_in));
    step!(trace, Force, TRANSFER, "load of the inner wheel"; f_z_in(f_b_in, df) = f_b_in - df);
    step!(trace, Force, TRANSFER, "load of the outer wheel"; f_z_out(f_b_out, df) = f_b_out + df);
    step!(trace, Force, FRICTION, "what brakes and turn ask of the rear axle together";
        f_asked(phi_r, m, a, f_yr) = hypot(phi_r * m * a, f_yr));
    step!(trace, Ratio, FRICTION, "the part of it that grip gives";
        given(mu, f_zr, f_asked) = smaller(1.0, mu * f_zr / larger(f_asked, 1e-9)));
    step!(trace, Force, FRICTION, "force of the rear brakes";
        f_br(given, phi_r, m, a) = given * phi_r * m * a);
    step!(trace, Force, FRICTION, "lateral force of the rear axle";
        f_lat(given, f_yr) = given * f_yr);
    let (share_in, share_out) = if f_zr > 0.0 {
        step!(trace, Ratio, SHARED, "inner wheel's share"; s_in(f_z_in, f_zr) = f_z_in / f_zr);
        step!(trace, Ratio, SHARED, "outer wheel's share"; s_out(f_z_out, f_zr) = f_z_out / f_zr);
        (s_in, s_out)
    } else {
        d.assume("the rear axle lifts: its lateral force is given to the outer wheel");
        (0.0, 1.0)
    };
    let to_side = side.sign();
    let force = |share: f64, z: f64| Vec3::new(-f_br * share, to_side * f_lat * share, z);
    let tyre = sided(side, force(share_in, f_z_in), force(share_out, f_z_out));
    let transfer = sided(side, f_b_in - w_in, f_b_out - w_out);
    let standing = Given::standing(0.0, 0.0, 1.0);
    Given { tyre, transfer, acceleration: [-a, to_side * a_y], ..standing }
}

pub(super) fn kerb(d: &mut Derivation, s: &Statics, side: Side, factor: f64) -> Given {
    let Statics { m, g, h, t, wheelbase, x_cg, w_left, w_right, .. } = *s;
    let k = d.factor("k", "factor on the force that begins to tip", Dimension::Ratio, factor);
    d.assume("kerb: own mass of the cradle system at rest, no inertia relief");
    let trace = &mut d.trace;
    step!(trace, Force, KERB, "lateral force on the car";
        f_lat(k, m, g, t, h) = k * m * g * t / (2.0 * h));
    step!(trace, Force, YAW, "rear axle's part, all on one wheel";
        f_y(f_lat, wheelbase, x_cg) = f_lat * (wheelbase - x_cg) / wheelbase);
    let mut given = Given::standing(w_left, w_right, 1.0);
    match side {
        Side::Left => given.tyre.left.y = -f_y,
        Side::Right => given.tyre.right.y = f_y,
    }
    given
}
