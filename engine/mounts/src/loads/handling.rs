//! Jack, lift, tow, tie-down.

use fishplate_quantity::{Dimension, Source, step};
use fishplate_solver::group::Vec3;

use super::case::TieDown;
use super::derivation::Derivation;
use super::free_body::{Applied, Given};
use super::vehicle::Statics;
use super::{JackPlace, TieDownDirection, TowDirection};
use crate::describe::Side;

const HANDLING: Source = Source::practice("factor on the handled load");
const TOWING: Source = Source::new("Regulation (EU) 1005/2010", "force on a towing eye");
const LASHING: Source = Source::new("EN 12195-1:2010", "direct lashing, friction left out");

pub(super) fn jack(
    d: &mut Derivation,
    s: &Statics,
    place: JackPlace,
    at: Vec3,
    factor: f64,
) -> Given {
    let Statics { w_r, w_left, w_right, .. } = *s;
    let (lifted, left, right) = match place {
        JackPlace::Middle => (w_r, 0.0, 0.0),
        JackPlace::OneSide(Side::Left) => (w_left, 0.0, w_right),
        JackPlace::OneSide(Side::Right) => (w_right, w_left, 0.0),
    };
    let k = d.factor("k", "factor on the lifted load", Dimension::Ratio, factor);
    let of = || "load at rest, above".to_owned();
    let w_lift = d.again("w_lift", "lifted load", Dimension::Force, lifted, of);
    d.assume("jack: the lifted wheels hang at the end of the struts' travel, own weight at 1 g");
    step!(d.trace, Force, HANDLING, "force of the jack"; f_jack(k, w_lift) = k * w_lift);
    let force = Vec3::new(0.0, 0.0, f_jack);
    let extra = vec![Applied { what: "jack".to_owned(), at, force }];
    Given { extra, ..Given::standing(left, right, 1.0) }
}

pub(super) fn lift(d: &mut Derivation, factor: f64) -> Given {
    let k = d.factor("k", "factor on the hanging weight", Dimension::Ratio, factor);
    d.assume("lift: the wheels hang at the end of the struts' travel");
    Given::standing(0.0, 0.0, k)
}

pub(super) fn tow(
    d: &mut Derivation,
    s: &Statics,
    direction: TowDirection,
    at: Vec3,
    factor: f64,
) -> Given {
    let Statics { m, g, w_left, w_right, .. } = *s;
    let k = d.factor("k", "factor on the weight of the car", Dimension::Ratio, factor);
    d.assume("tow: the car is held, its mass gives no relief");
    step!(d.trace, Force, TOWING, "force on the eye"; f_tow(k, m, g) = k * m * g);
    let sign = match direction {
        TowDirection::Forward => 1.0,
        TowDirection::Rearward => -1.0,
    };
    let force = Vec3::new(sign * f_tow, 0.0, 0.0);
    let extra = vec![Applied { what: "towing eye".to_owned(), at, force }];
    Given { extra, ..Given::standing(w_left, w_right, 1.0) }
}

pub(super) fn tie_down(d: &mut Derivation, s: &Statics, tie: &TieDown) -> Given {
    use Dimension::{Angle, Force, Ratio};
    let Statics { m, g, wheelbase, x_cg, w_left, w_right, .. } = *s;
    let rate = d.factor("rate", "acceleration of the carrier", Ratio, tie.rate);
    let beta = d.factor("beta", "slope of the straps below level", Angle, tie.slope);
    let t_0 = d.factor("t_0", "tension put in, each strap", Force, tie.pretension);
    d.assume("tie-down: friction left out; each strap's downward pull is borne by its own wheel");
    let trace = &mut d.trace;
    step!(trace, Acceleration, LASHING, "acceleration of the car"; a(rate, g) = rate * g);
    step!(trace, Force, LASHING, "force the car must be held with"; f_hold(m, a) = m * a);
    // Direction the holding straps pull, and tension of the left and the right one.
    let (pull, acceleration, [left, right]) = match tie.direction {
        TieDownDirection::Forward | TieDownDirection::Rearward => {
            step!(trace, Force, LASHING, "tension of each of two straps";
                t_strap(t_0, f_hold, beta) = t_0 + f_hold / (2.0 * beta.cos()));
            let back = if matches!(tie.direction, TieDownDirection::Forward) { -1.0 } else { 1.0 };
            ([Vec3::new(back, 0.0, 0.0); 2], [back * a, 0.0], [t_strap; 2])
        }
        TieDownDirection::Side(side) => {
            step!(trace, Force, LASHING, "tension of the one strap that holds the rear's part";
                t_strap(t_0, f_hold, wheelbase, x_cg, beta) =
                t_0 + f_hold * (wheelbase - x_cg) / (wheelbase * beta.cos()));
            let outward = [Vec3::y(), -Vec3::y()];
            let tension = match side {
                Side::Left => [t_0, t_strap],
                Side::Right => [t_strap, t_0],
            };
            (outward, [0.0, -side.sign() * a], tension)
        }
    };
    let eyes = [tie.eye, Vec3::new(tie.eye.x, -tie.eye.y, tie.eye.z)];
    let names = ["strap, left", "strap, right"];
    let (sin, cos) = beta.sin_cos();
    let strap = |i: usize, tension: f64| Applied {
        what: names[i].to_owned(),
        at: eyes[i],
        force: pull[i] * (tension * cos) - Vec3::z() * (tension * sin),
    };
    let extra = vec![strap(0, left), strap(1, right)];
    let standing = Given::standing(w_left + left * sin, w_right + right * sin, 1.0);
    Given { extra, acceleration, ..standing }
}
