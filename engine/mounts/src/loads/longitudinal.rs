//! Braking and driving.

use fishplate_quantity::{Dimension, Source, step};
use fishplate_solver::group::Vec3;

use super::derivation::Derivation;
use super::free_body::{Given, Pair};
use super::vehicle::Statics;
use super::{Brakes, Drive, DriveDirection, LoadInput, Shock};
use crate::describe::DrivenAxle;

pub(super) const TRANSFER: Source = Source::mechanics("pitch balance of the car: load transfer");
const BRAKING: Source =
    Source::new("Brown, Robertson, Serpento, Motor Vehicle Structures", "chapter 2: braking");
const DRIVING: Source = Source::mechanics("torque through the gears; grip with load transfer");

/// The brakes that [`CaseKind::check`](super::CaseKind) has found to be there.
pub(super) fn brakes(input: &LoadInput) -> &Brakes {
    input.brakes.as_ref().expect("a case that brakes was checked to have brakes")
}

/// Lets in share and grip of the rear brakes.
pub(super) fn brake_inputs(d: &mut Derivation, brakes: &Brakes, backwards: bool) -> (f64, f64) {
    let (share, path) = match brakes.rear_share_backwards {
        Some(share) if backwards => (share, "brakes.rear_share_backwards"),
        _ => (brakes.rear_share, "brakes.rear_share"),
    };
    let phi_r = d.given("phi_r", "share of the rear brakes", Dimension::Ratio, share, path);
    let mu =
        d.given("mu", "grip of the braked tyres", Dimension::Ratio, brakes.grip, "brakes.grip");
    d.assume(if brakes.inboard {
        "inboard brakes: their reaction on the cradle is inside the force at the ground"
    } else {
        "outboard brakes: the brake force acts at the ground"
    });
    (phi_r, mu)
}

pub(super) fn brake(
    d: &mut Derivation,
    s: &Statics,
    input: &LoadInput,
    [rate, field]: [f64; 2],
    backwards: bool,
) -> Given {
    let Statics { m, g, h, wheelbase, w_r, .. } = *s;
    let b = d.factor("b", "braking rate", Dimension::Ratio, rate);
    let n = d.factor("n", "vertical field", Dimension::Ratio, field);
    let (phi_r, mu) = brake_inputs(d, brakes(input), backwards);
    let trace = &mut d.trace;
    step!(trace, Acceleration, BRAKING, "deceleration"; a(b, g) = b * g);
    step!(trace, Force, TRANSFER, "load transfer between the axles";
        df(m, a, h, wheelbase) = m * a * h / wheelbase);
    let (f_zr, sign) = if backwards {
        step!(trace, Force, TRANSFER, "load of the rear axle, braking backwards";
            f_zr(n, w_r, df) = n * w_r + df);
        (f_zr, 1.0)
    } else {
        step!(trace, Force, TRANSFER, "load of the rear axle, at least none";
            f_zr(n, w_r, df) = positive(n * w_r - df));
        (f_zr, -1.0)
    };
    step!(trace, Force, BRAKING, "force of the rear brakes, as far as grip allows";
        f_br(phi_r, m, a, mu, f_zr) = smaller(phi_r * m * a, mu * f_zr));
    along(d, s, f_zr, sign * f_br, sign * a, n)
}

/// Shares an axle's load and force between its wheels as at rest.
fn along(d: &mut Derivation, s: &Statics, f_zr: f64, f_xr: f64, a_x: f64, n: f64) -> Given {
    let Statics { w_r, w_left, w_right, .. } = *s;
    let of = || "from above, forward positive".to_owned();
    let f_xr = d.again("f_xr", "force of the rear axle", Dimension::Force, f_xr, of);
    let trace = &mut d.trace;
    step!(trace, Force, TRANSFER, "load of the left wheel";
        f_z_left(f_zr, w_left, w_r) = f_zr * w_left / w_r);
    step!(trace, Force, TRANSFER, "load of the right wheel";
        f_z_right(f_zr, w_right, w_r) = f_zr * w_right / w_r);
    step!(trace, Force, TRANSFER, "force of the left wheel, as its load";
        f_x_left(f_xr, w_left, w_r) = f_xr * w_left / w_r);
    step!(trace, Force, TRANSFER, "force of the right wheel, as its load";
        f_x_right(f_xr, w_right, w_r) = f_xr * w_right / w_r);
    let transfer = Pair { left: f_z_left - n * w_left, right: f_z_right - n * w_right };
    let tyre = Pair {
        left: Vec3::new(f_x_left, 0.0, f_z_left),
        right: Vec3::new(f_x_right, 0.0, f_z_right),
    };
    let standing = Given::standing(0.0, 0.0, n);
    Given { tyre, transfer, acceleration: [a_x, 0.0], ..standing }
}

pub(super) fn drive(
    d: &mut Derivation,
    s: &Statics,
    input: &LoadInput,
    direction: DriveDirection,
    shock: &Shock,
    grip: Option<f64>,
) -> Given {
    use Dimension::{Moment, Ratio};
    let Statics { m, g, h, wheelbase, w_r, r, .. } = *s;
    let drive = input.drive.as_ref().expect("a case that drives was checked to have a drive");
    let torque =
        d.given("torque", "peak torque of the motor", Moment, drive.torque, "drive.torque");
    let ratio = d.given("ratio", "motor turns per wheel turn", Ratio, drive.ratio, "drive.ratio");
    let eta = d.given("eta", "efficiency", Ratio, drive.efficiency, "drive.efficiency");
    let mu = match grip {
        Some(mu) => d.factor("mu", "grip of the driven tyres", Ratio, mu),
        None => d.given("mu", "grip of the driven tyres", Ratio, drive.grip, "drive.grip"),
    };
    d.assume("drag left out; torque of motor and half shafts stays inside the cradle system");
    let trace = &mut d.trace;
    step!(trace, Moment, DRIVING, "torque at the axle";
        t_axle(torque, ratio, eta) = torque * ratio * eta);
    step!(trace, Force, DRIVING, "force that the motor can give"; f_motor(t_axle, r) = t_axle / r);
    let f_grip = grip_limit(d, s, drive.axle, direction, mu);
    step!(d.trace, Force, DRIVING, "force, the least of motor and grip";
        f_steady(f_motor, f_grip) = smaller(f_motor, f_grip));
    let f = with_shock(d, drive, shock, f_steady, r);
    let trace = &mut d.trace;
    step!(trace, Acceleration, DRIVING, "acceleration"; a(f, m) = f / m);
    step!(trace, Force, TRANSFER, "load transfer between the axles";
        df(m, a, h, wheelbase) = m * a * h / wheelbase);
    let (f_zr, sign) = match direction {
        DriveDirection::Forward => {
            step!(trace, Force, TRANSFER, "load of the rear axle, at most the whole car";
                f_zr(w_r, df, m, g) = smaller(w_r + df, m * g));
            (f_zr, 1.0)
        }
        DriveDirection::Reverse => {
            step!(trace, Force, TRANSFER, "load of the rear axle, at least none";
                f_zr(w_r, df) = positive(w_r - df));
            (f_zr, -1.0)
        }
    };
    let f_rear = match drive.axle {
        DrivenAxle::Rear => f,
        DrivenAxle::Front => 0.0,
        DrivenAxle::Both => {
            step!(trace, Force, DRIVING, "rear axle's part, as the axle loads";
                f_rear(f, f_zr, m, g) = f * f_zr / (m * g));
            f_rear
        }
    };
    along(d, s, f_zr, sign * f_rear, sign * a, 1.0)
}

/// The most the driven tyres can push before they slide, N.
fn grip_limit(
    d: &mut Derivation,
    s: &Statics,
    axle: DrivenAxle,
    direction: DriveDirection,
    mu: f64,
) -> f64 {
    let Statics { m, g, h, wheelbase, w_r, w_f, .. } = *s;
    let forward = matches!(direction, DriveDirection::Forward);
    let trace = &mut d.trace;
    step!(trace, Force, DRIVING, "grip of the whole car"; f_all(mu, m, g) = mu * m * g);
    // Load moves onto the driven axle when the rear drives forward or the front backward.
    let gains = match axle {
        DrivenAxle::Both => return f_all,
        DrivenAxle::Rear => forward,
        DrivenAxle::Front => !forward,
    };
    let w = if matches!(axle, DrivenAxle::Rear) { w_r } else { w_f };
    let of = || "load of the driven axle at rest, above".to_owned();
    let w_driven = d.again("w_driven", "load of the driven axle", Dimension::Force, w, of);
    let trace = &mut d.trace;
    if !gains {
        step!(trace, Force, DRIVING, "grip of the driven axle, which loses load";
            f_grip(mu, w_driven, h, wheelbase) = mu * w_driven / (1.0 + mu * h / wheelbase));
        return f_grip;
    }
    step!(trace, Ratio, DRIVING, "what is left of the balance";
        left(mu, h, wheelbase) = 1.0 - mu * h / wheelbase);
    if left <= 0.0 {
        // The other axle lifts before the tyres slide.
        return f_all;
    }
    step!(trace, Force, DRIVING, "grip of the driven axle, which gains load";
        f_grip(mu, w_driven, left, f_all) = smaller(mu * w_driven / left, f_all));
    f_grip
}

fn with_shock(d: &mut Derivation, drive: &Drive, shock: &Shock, f_steady: f64, r: f64) -> f64 {
    use Dimension::Ratio;
    match *shock {
        Shock::None => {
            step!(d.trace, Force, DRIVING, "force without a shock"; f(f_steady) = f_steady);
            f
        }
        Shock::Factor(factor) => {
            d.assume("shock not cut at the grip limit: the tyre winds up before it slides");
            let k = d.factor("k", "shock factor", Ratio, factor);
            let practice = Source::practice("shock of a drive without clutch");
            step!(d.trace, Force, practice, "force with the shock"; f(k, f_steady) = k * f_steady);
            f
        }
        Shock::Rotor { wheel_speed_change, duration } => {
            d.assume("shock not cut at the grip limit: the tyre winds up before it slides");
            d.assume("the rotor's own angular inertia about its axis on the cradle is left out");
            let inertia = drive.rotor_inertia.expect("a rotor shock was checked to have one");
            let path = "drive.rotor_inertia";
            let j_rotor = d.given("j_rotor", "inertia of the rotor, kg m²", Ratio, inertia, path);
            let i = d.given("i", "motor turns per wheel turn", Ratio, drive.ratio, "drive.ratio");
            let dw = d.factor("dw", "change of wheel speed, rad/s", Ratio, wheel_speed_change);
            let dt = d.factor("dt", "in this time, s", Ratio, duration);
            let trace = &mut d.trace;
            step!(trace, Moment, DRIVING, "torque of the rotor at the axle";
                t_shock(j_rotor, i, dw, dt) = j_rotor * sq(i) * dw / dt);
            step!(trace, Force, DRIVING, "force with the shock";
                f(f_steady, t_shock, r) = f_steady + t_shock / r);
            f
        }
    }
}
