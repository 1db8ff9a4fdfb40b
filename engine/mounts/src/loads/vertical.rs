//! At rest, bump, rebound, twist.

use fishplate_quantity::{Dimension, Source, step};

use super::TwistForm;
use super::derivation::Derivation;
use super::free_body::Given;
use super::vehicle::Statics;
use crate::describe::Side;

const FIELD: Source =
    Source::new("Brown, Robertson, Serpento, Motor Vehicle Structures", "chapter 2: vertical");
const TWIST: Source = Source::new(
    "Brown, Robertson, Serpento, Motor Vehicle Structures",
    "chapter 2: vertical asymmetric, factors after Pawlowski",
);

/// The whole car in a vertical field.
pub(super) fn field(d: &mut Derivation, s: &Statics, field: f64) -> Given {
    let n = d.factor("n", "vertical field", Dimension::Ratio, field);
    let Statics { w_left, w_right, .. } = *s;
    let trace = &mut d.trace;
    step!(trace, Force, FIELD, "load of the left wheel"; f_z_left(n, w_left) = n * w_left);
    step!(trace, Force, FIELD, "load of the right wheel"; f_z_right(n, w_right) = n * w_right);
    Given::standing(f_z_left, f_z_right, n)
}

/// The lighter axle on one wheel.
pub(super) fn twist(
    d: &mut Derivation,
    s: &Statics,
    side: Side,
    factor: f64,
    form: TwistForm,
) -> Given {
    let Statics { w_f, w_r, t, t_front, w_left, w_right, .. } = *s;
    let k = d.factor("k", "factor on the twist", Dimension::Ratio, factor);
    let (gaining, losing) = match side {
        Side::Left => (w_left, w_right),
        Side::Right => (w_right, w_left),
    };
    let of = || format!("the rear wheel on the {}", side.word());
    let w_gain =
        d.again("w_gain", "load at rest of the gaining wheel", Dimension::Force, gaining, of);
    let of = || format!("the rear wheel on the {}", side.other().word());
    let w_lose =
        d.again("w_lose", "load at rest of the losing wheel", Dimension::Force, losing, of);
    let trace = &mut d.trace;
    let couple = if w_f < w_r {
        step!(trace, Moment, TWIST, "couple of the front axle on one wheel";
            couple(w_f, t_front) = w_f * t_front / 2.0);
        couple
    } else {
        step!(trace, Moment, TWIST, "couple of the rear axle on one wheel";
            couple(w_r, t) = w_r * t / 2.0);
        couple
    };
    step!(trace, Force, TWIST, "load shifted at the rear, at most until a wheel lifts";
        df(couple, t, w_lose) = smaller(couple / t, w_lose));
    let (gain, lose, n) = match form {
        TwistForm::OneWheel => {
            step!(trace, Force, TWIST, "load of the gaining wheel";
                f_gain(k, w_gain, df) = k * (w_gain + df));
            step!(trace, Force, TWIST, "load of the losing wheel";
                f_lose(k, w_lose, df) = k * (w_lose - df));
            (f_gain, f_lose, k)
        }
        TwistForm::PureCouple => {
            step!(trace, Force, TWIST, "load of the gaining wheel"; f_gain(k, df) = k * df);
            step!(trace, Force, TWIST, "load of the losing wheel"; f_lose(k, df) = -k * df);
            d.assume("the couple alone: to be laid over a case with weight");
            (f_gain, f_lose, 0.0)
        }
    };
    match side {
        Side::Left => Given::standing(gain, lose, n),
        Side::Right => Given::standing(lose, gain, n),
    }
}
