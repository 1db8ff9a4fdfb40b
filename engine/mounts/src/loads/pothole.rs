//! One wheel in a pothole.

use fishplate_quantity::{Dimension, Source, step};

use super::derivation::Derivation;
use super::free_body::Given;
use super::longitudinal::brakes;
use super::vehicle::Statics;
use super::{LoadInput, PotholeForce};
use crate::describe::Side;

const POTHOLE: Source = Source::practice("pothole: 2 g and 1.1 g on one wheel");

pub(super) fn pothole(
    d: &mut Derivation,
    s: &Statics,
    input: &LoadInput,
    side: Side,
    field: f64,
    force: &PotholeForce,
) -> Given {
    use Dimension::{Force, Ratio};
    let at_rest = if matches!(side, Side::Left) { s.w_left } else { s.w_right };
    let of = || format!("{} wheel, above", side.word());
    let w_hit = d.again("w_hit", "load at rest of the wheel that falls in", Force, at_rest, of);
    let n_hit = d.factor("n_hit", "vertical field on that wheel", Ratio, field);
    d.assume("pothole: the other wheel and the own mass at rest, no inertia relief");
    step!(d.trace, Force, POTHOLE, "load of that wheel"; f_z_hit(n_hit, w_hit) = n_hit * w_hit);
    let (rearward, height) = match *force {
        PotholeForce::LockedBrake => {
            let grip = brakes(input).grip;
            let mu = d.given("mu", "grip of the braked tyres", Ratio, grip, "brakes.grip");
            step!(d.trace, Force, POTHOLE, "force of the locked brake, rearward, at the ground";
                f_back(mu, f_z_hit) = mu * f_z_hit);
            (f_back, 0.0)
        }
        PotholeForce::Edge { factor } => {
            let k = d.factor("k", "factor on the wheel's load at rest", Ratio, factor);
            step!(d.trace, Force, POTHOLE, "force of the edge, rearward, at the wheel centre";
                f_back(k, w_hit) = k * w_hit);
            (f_back, s.r)
        }
    };
    let mut given = Given::standing(s.w_left, s.w_right, 1.0);
    given.tyre_height = height;
    let hit = if matches!(side, Side::Left) { &mut given.tyre.left } else { &mut given.tyre.right };
    hit.z = f_z_hit;
    hit.x = -rearward;
    given
}
