//! The free body of the cradle system: forces of a case and their resultant.

use fishplate_quantity::{Dimension, Source, Trace, step};
use fishplate_solver::group::{Vec3, Wrench};

use super::derivation::Derivation;
use super::vehicle::Statics;
use super::{CaseKind, LoadInput, Seat};

/// One thing on the left and the same on the right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair<T> {
    /// y positive.
    pub left: T,
    /// y negative.
    pub right: T,
}

/// A force on the cradle system from outside.
#[derive(Debug, Clone, PartialEq)]
pub struct Applied {
    /// What pushes: `tyre, left`.
    pub what: String,
    /// Where, m, car axes.
    pub at: Vec3,
    /// The force, N, car axes.
    pub force: Vec3,
}

/// The forces of one load case.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseLoads {
    /// The case.
    pub kind: CaseKind,
    /// Force of the ground on each rear tyre, N.
    pub tyre: Pair<Vec3>,
    /// Force of each spring on the car's body, N, up; negative where the strut pulls at the end of
    /// its travel. Zero with seats on the cradle.
    pub body_spring: Pair<f64>,
    /// All forces on the cradle system, weight and inertia among them.
    pub forces: Vec<Applied>,
    /// Their resultant about the point asked for: what the mounts must balance.
    pub resultant: Wrench,
    /// Weight and inertia of each cargo: what its own feet must balance.
    pub cargo: Vec<Applied>,
    /// What was taken for granted.
    pub assumptions: Vec<String>,
    /// How it was computed.
    pub trace: Trace,
}

/// What a family of cases hands over.
#[derive(Debug, Clone)]
pub(super) struct Given {
    pub(super) tyre: Pair<Vec3>,
    /// Height at which the tyre forces act, m.
    pub(super) tyre_height: f64,
    /// Part of each wheel's load that the links can take past the spring, N.
    pub(super) transfer: Pair<f64>,
    /// Acceleration of the cradle system forward and to the left, m/s².
    pub(super) acceleration: [f64; 2],
    /// Vertical field on its masses.
    pub(super) field: f64,
    /// Further forces.
    pub(super) extra: Vec<Applied>,
}

impl Given {
    /// Wheels that only stand, masses in their weight.
    pub(super) fn standing(left: f64, right: f64, field: f64) -> Self {
        let up = |f: f64| Vec3::new(0.0, 0.0, f);
        Self {
            tyre: Pair { left: up(left), right: up(right) },
            tyre_height: 0.0,
            transfer: Pair { left: 0.0, right: 0.0 },
            acceleration: [0.0; 2],
            field,
            extra: Vec::new(),
        }
    }
}

const LEVER: Source = Source::mechanics("equilibrium of the wheel and its arm (virtual work)");
const INERTIA: Source = Source::mechanics("d'Alembert");
const RESULTANT: Source = Source::mechanics("resultant of forces");

/// Adds springs, weight and inertia, and makes the resultant about `about`.
pub(super) fn close(
    mut d: Derivation,
    input: &LoadInput,
    s: &Statics,
    kind: CaseKind,
    given: Given,
    about: Vec3,
) -> CaseLoads {
    let d = &mut d;
    d.assume("all of the wheels' load change goes through the springs: no anti-roll bar");
    let half = s.t / 2.0;
    let mut forces = Vec::new();
    let wheel = |y: f64, z: f64| Vec3::new(0.0, y, z);
    let mut add = |what: &str, at: Vec3, force: Vec3| {
        forces.push(Applied { what: what.to_owned(), at, force });
    };
    add("tyre, left", wheel(half, given.tyre_height), given.tyre.left);
    add("tyre, right", wheel(-half, given.tyre_height), given.tyre.right);
    let body_spring = match input.springs.seat {
        Seat::Cradle => {
            d.assume("springs and dampers seated on the cradle: their force stays inside it");
            Pair { left: 0.0, right: 0.0 }
        }
        Seat::Body(seat) => {
            d.assume("springs and dampers seated on the body, upright, dampers where springs are");
            let load = given.tyre;
            let left = spring(d, input, s, load.left.z, given.transfer.left, given.field, "left");
            let right =
                spring(d, input, s, load.right.z, given.transfer.right, given.field, "right");
            add("spring, left", seat, Vec3::new(0.0, 0.0, -left));
            let mirrored = Vec3::new(seat.x, -seat.y, seat.z);
            add("spring, right", mirrored, Vec3::new(0.0, 0.0, -right));
            Pair { left, right }
        }
    };
    let c = &input.cradle;
    let own = own_force(d, s, &given, c.mass, "cradle.mass", "mass of the cradle");
    add("own mass, cradle", c.centre, own);
    let own = own_force(d, s, &given, c.wheel_mass, "cradle.wheel_mass", "mass of a wheel");
    add("own mass, left wheel", wheel(half, s.r), own);
    add("own mass, right wheel", wheel(-half, s.r), own);
    forces.extend(given.extra.iter().cloned());
    let resultant = resultant(d, &forces, about);
    let cargo = cargo(d, input, s, kind, &given);
    CaseLoads {
        kind,
        tyre: given.tyre,
        body_spring,
        forces,
        resultant,
        cargo,
        assumptions: std::mem::take(&mut d.assumptions),
        trace: std::mem::take(&mut d.trace),
    }
}

/// Weight and inertia of every cargo: the whole car accelerates alike.
fn cargo(
    d: &mut Derivation,
    input: &LoadInput,
    s: &Statics,
    kind: CaseKind,
    given: &Given,
) -> Vec<Applied> {
    if input.cargo.is_empty() {
        return Vec::new();
    }
    match kind {
        CaseKind::Standing => {}
        CaseKind::Kerb { .. }
        | CaseKind::Pothole { .. }
        | CaseKind::Jack { .. }
        | CaseKind::Tow { .. } => d.assume(
            "cargo: its weight at 1 g alone in potholes, at kerbs, on a jack and in tow; how such a \
             blow shakes the body where the cargo stands is not known",
        ),
        CaseKind::Twist { .. } | CaseKind::Lift { .. } => {
            d.assume("cargo: its weight times the factor of the case in twist and on a lift");
        }
        _ => d.assume("cargo: accelerated as the whole car, which neither pitches nor rolls"),
    }
    let mut list = Vec::new();
    for (i, body) in input.cargo.iter().enumerate() {
        let path = format!("cargo[{i}].mass");
        let force = own_force(d, s, given, body.mass, &path, "mass of a cargo");
        list.push(Applied { what: format!("own mass, {}", body.name), at: body.centre, force });
    }
    list
}

/// Force of one spring on the body, N, upward.
fn spring(
    d: &mut Derivation,
    input: &LoadInput,
    s: &Statics,
    load: f64,
    transfer: f64,
    field: f64,
    side: &str,
) -> f64 {
    use Dimension::{Force, Mass, Ratio};
    let of = || format!("{side} wheel, above");
    let f_z = d.again("f_z", "load of the wheel", Force, load, of);
    let df_link = d.again("df_link", "load the links could take", Force, transfer, of);
    let (springs, cradle) = (&input.springs, &input.cradle);
    let share = springs.link_share;
    let alpha = d.given("alpha", "share the links take", Ratio, share, "springs.link_share");
    let m_u = d.given("m_u", "mass of a wheel", Mass, cradle.wheel_mass, "cradle.wheel_mass");
    let n = d.factor("n", "vertical field", Ratio, field);
    let i = d.given("i", "motion ratio", Ratio, springs.motion_ratio, "springs.motion_ratio");
    let g = s.g;
    step!(d.trace, Force, LEVER, "force of the spring on the body";
        f_s(f_z, alpha, df_link, m_u, n, g, i) = (f_z - alpha * df_link - m_u * n * g) / i);
    f_s
}

/// Weight and inertia of one mass of the cradle system, N.
fn own_force(
    d: &mut Derivation,
    s: &Statics,
    given: &Given,
    mass: f64,
    path: &str,
    what: &'static str,
) -> Vec3 {
    use Dimension::{Acceleration, Mass, Ratio};
    let m_own = d.given("m_own", what, Mass, mass, path);
    let [x, y] = given.acceleration;
    let of = || "acceleration of the car in this case; 0 where it is held".to_owned();
    let a_x = d.again("a_x", "acceleration forward", Acceleration, x, of);
    let a_y = d.again("a_y", "acceleration to the left", Acceleration, y, of);
    let n = d.factor("n", "vertical field", Ratio, given.field);
    let g = s.g;
    let trace = &mut d.trace;
    step!(trace, Force, INERTIA, "its inertia forward"; f_own_x(m_own, a_x) = -m_own * a_x);
    step!(trace, Force, INERTIA, "its inertia to the left"; f_own_y(m_own, a_y) = -m_own * a_y);
    step!(trace, Force, INERTIA, "its weight"; f_own_z(m_own, n, g) = -m_own * n * g);
    // Adding zero turns the -0 of a mass at rest into 0.
    Vec3::new(f_own_x + 0.0, f_own_y + 0.0, f_own_z)
}

/// Sums the forces, and their moments about `about`.
fn resultant(d: &mut Derivation, forces: &[Applied], about: Vec3) -> Wrench {
    use Dimension::{Force, Length, Moment};
    let start = || "sum before the first force".to_owned();
    let mut sum = [0.0; 6];
    for (name, what, dimension) in [
        ("sum_f_x", "force forward", Force),
        ("sum_f_y", "force to the left", Force),
        ("sum_f_z", "force up", Force),
        ("sum_m_x", "moment about x", Moment),
        ("sum_m_y", "moment about y", Moment),
        ("sum_m_z", "moment about z", Moment),
    ] {
        d.again(name, what, dimension, 0.0, start);
    }
    for applied in forces {
        let arm = applied.at - about;
        let [sum_f_x, sum_f_y, sum_f_z, sum_m_x, sum_m_y, sum_m_z] = sum;
        let of = || applied.what.clone();
        let f_x = d.again("f_x", "force forward", Force, applied.force.x, of);
        let f_y = d.again("f_y", "force to the left", Force, applied.force.y, of);
        let f_z = d.again("f_z", "force up", Force, applied.force.z, of);
        let r_x = d.again("r_x", "its place forward of the point of reference", Length, arm.x, of);
        let r_y = d.again("r_y", "its place left of it", Length, arm.y, of);
        let r_z = d.again("r_z", "its place above it", Length, arm.z, of);
        let trace = &mut d.trace;
        sum = {
            step!(trace, Force, RESULTANT, "force forward";
                sum_f_x(sum_f_x, f_x) = sum_f_x + f_x);
            step!(trace, Force, RESULTANT, "force to the left";
                sum_f_y(sum_f_y, f_y) = sum_f_y + f_y);
            step!(trace, Force, RESULTANT, "force up"; sum_f_z(sum_f_z, f_z) = sum_f_z + f_z);
            step!(trace, Moment, RESULTANT, "moment about x";
                sum_m_x(sum_m_x, r_y, f_z, r_z, f_y) = sum_m_x + r_y * f_z - r_z * f_y);
            step!(trace, Moment, RESULTANT, "moment about y";
                sum_m_y(sum_m_y, r_z, f_x, r_x, f_z) = sum_m_y + r_z * f_x - r_x * f_z);
            step!(trace, Moment, RESULTANT, "moment about z";
                sum_m_z(sum_m_z, r_x, f_y, r_y, f_x) = sum_m_z + r_x * f_y - r_y * f_x);
            [sum_f_x, sum_f_y, sum_f_z, sum_m_x, sum_m_y, sum_m_z]
        };
    }
    Wrench {
        force: Vec3::new(sum[0], sum[1], sum[2]),
        moment: Vec3::new(sum[3], sum[4], sum[5]),
        about,
    }
}
