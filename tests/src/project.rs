//! Short words for projects: quantities, a car with its cradle on four mounts, load cases.

use fishplate_proto::v1;
use fishplate_proto::v1::CaseKind;

use crate::service;

/// A length in mm.
#[must_use]
pub fn mm(value_mm: f64) -> Option<v1::Length> {
    Some(v1::Length { value_mm, ..Default::default() })
}

/// A mass in kg.
#[must_use]
pub fn kg(value_kg: f64) -> Option<v1::Mass> {
    Some(v1::Mass { value_kg, ..Default::default() })
}

/// A pure number.
#[must_use]
pub fn number(value: f64) -> Option<v1::Number> {
    Some(v1::Number { value, ..Default::default() })
}

/// An acceleration in g.
#[must_use]
pub fn g(value_g: f64) -> Option<v1::Acceleration> {
    Some(v1::Acceleration { value_g, ..Default::default() })
}

/// A torque in N m.
#[must_use]
pub fn newton_metres(value: f64) -> Option<v1::Torque> {
    Some(v1::Torque { value_nmm: 1e3 * value, ..Default::default() })
}

/// A stiffness in N/mm.
#[must_use]
pub fn n_per_mm(value_n_per_mm: f64) -> Option<v1::Stiffness> {
    Some(v1::Stiffness { value_n_per_mm, ..Default::default() })
}

/// A point of the car.
#[must_use]
pub fn at([x, y, z]: [f64; 3]) -> Option<v1::Point> {
    Some(v1::Point { x_mm: Some(x), y_mm: Some(y), z_mm: Some(z), ..Default::default() })
}

/// A load case of everyday driving.
#[must_use]
pub fn case(name: &str, kind: CaseKind) -> v1::LoadCase {
    let mut case = v1::LoadCase { name: name.to_owned(), ..Default::default() };
    case.set_kind(kind);
    case.set_class(v1::CaseClass::Normal);
    case
}

/// The same on the left, or toward the left.
#[must_use]
pub fn left(mut case: v1::LoadCase) -> v1::LoadCase {
    case.set_side(v1::Side::Left);
    case
}

/// A cargo thrown at so many g.
#[must_use]
pub fn thrown(name: &str, kind: CaseKind, rate_g: f64) -> v1::LoadCase {
    let mut case = case(name, kind);
    case.set_class(v1::CaseClass::Restraint);
    case.of = "cargo.battery".to_owned();
    case.rate = g(rate_g);
    case
}

/// Puts a battery box of 120 kg, a little heavier on the left, on four feet in the nose of a car
/// that was weighed with it.
///
/// # Panics
/// When the project has no factors.
pub fn with_battery(project: &mut v1::Project) {
    project.cargo = vec![v1::Cargo {
        name: "battery".to_owned(),
        mass: kg(120.0),
        centre: at([2500.0, 10.0, 470.0]),
        weighed: Some(true),
    }];
    let mut foot = v1::Bush {
        name: "foot".to_owned(),
        radial: n_per_mm(30_000.0),
        axial: n_per_mm(30_000.0),
        ..Default::default()
    };
    foot.set_axis(v1::Axis::Z);
    project.bushes.push(foot);
    for (name, place) in
        [("battery-front", [2720.0, 330.0, 330.0]), ("battery-rear", [2280.0, 360.0, 330.0])]
    {
        project.mounts.push(v1::Mount {
            name: name.to_owned(),
            at: at(place),
            bush: "foot".to_owned(),
            carries: "cargo.battery".to_owned(),
            ..Default::default()
        });
    }
    project.factors.as_mut().expect("the project has factors").restraint = number(1.0);
}

/// A car on its cradle, in numbers.
#[derive(Debug, Clone, Copy)]
pub struct Given {
    /// kg, laden.
    pub mass: f64,
    /// mm.
    pub wheelbase: f64,
    /// mm ahead of the rear axle.
    pub cg_ahead: f64,
    /// mm above the ground.
    pub cg_height: f64,
    /// mm, both axles.
    pub track: f64,
    /// mm under load.
    pub wheel_radius: f64,
    /// N m at the motor.
    pub torque: f64,
    /// Motor turns for one of the wheel.
    pub ratio: f64,
    /// Of the gears.
    pub efficiency: f64,
    /// Of the driven tyres.
    pub grip: f64,
    /// Of the braking force.
    pub rear_share: f64,
    /// Of the braked tyres.
    pub brake_grip: f64,
    /// kg without wheels.
    pub cradle: f64,
    /// Centre of the cradle, mm.
    pub centre: [f64; 3],
    /// kg of one wheel with what turns and hangs with it.
    pub wheel: f64,
    /// Left front mount, mm.
    pub front: [f64; 3],
    /// Left rear mount, mm.
    pub rear: [f64; 3],
    /// N/mm across and along the upright axis of every mount.
    pub stiffness: [f64; 2],
}

/// The project of a car on four mounts, springs on the cradle, no design: forces alone.
#[must_use]
pub fn project(title: &str, given: &Given) -> v1::Project {
    let mut drive = v1::Drive {
        torque: newton_metres(given.torque),
        ratio: number(given.ratio),
        efficiency: number(given.efficiency),
        grip: number(given.grip),
        ..Default::default()
    };
    drive.set_axle(v1::DrivenAxle::Rear);
    let mut springs = v1::Springs::default();
    springs.set_seat_on(v1::SpringSeat::Cradle);
    let mut bush = v1::Bush {
        name: "bush".to_owned(),
        radial: n_per_mm(given.stiffness[0]),
        axial: n_per_mm(given.stiffness[1]),
        ..Default::default()
    };
    bush.set_axis(v1::Axis::Z);
    let mount = |name: &str, place: [f64; 3]| v1::Mount {
        name: name.to_owned(),
        at: at(place),
        bush: "bush".to_owned(),
        ..Default::default()
    };
    let factors = v1::Factors { normal: number(1.5), abuse: number(1.5), restraint: None };
    v1::Project {
        rules: Some(v1::Rules { pack: "EN 1993".to_owned(), ..Default::default() }),
        title: title.to_owned(),
        symmetric: true,
        car: Some(v1::Car {
            mass: kg(given.mass),
            wheelbase: mm(given.wheelbase),
            cg_ahead: mm(given.cg_ahead),
            cg_height: mm(given.cg_height),
            front_track: mm(given.track),
            rear_track: mm(given.track),
            wheel_radius: mm(given.wheel_radius),
            ..Default::default()
        }),
        drive: Some(drive),
        brakes: Some(v1::Brakes {
            rear_share: number(given.rear_share),
            grip: number(given.brake_grip),
            ..Default::default()
        }),
        springs: Some(springs),
        cradle: Some(v1::Cradle {
            mass: kg(given.cradle),
            centre: at(given.centre),
            wheel_mass: kg(given.wheel),
        }),
        bushes: vec![bush],
        mounts: vec![mount("front", given.front), mount("rear", given.rear)],
        factors: Some(factors),
        ..Default::default()
    }
}

/// Checks a project.
///
/// # Panics
/// When the service refuses it.
#[must_use]
pub fn checked(project: &v1::Project) -> v1::CheckProjectResponse {
    let request = v1::CheckProjectRequest { project: Some(project.clone()), ..Default::default() };
    service::check(&request).unwrap_or_else(|status| panic!("refused: {}", status.message()))
}

/// The answer to a case of the project itself, not to its mirror image.
///
/// # Panics
/// When there is none of that name.
#[must_use]
pub fn case_of<'a>(answer: &'a v1::CheckProjectResponse, name: &str) -> &'a v1::CaseAnswer {
    let found = answer.cases.iter().find(|case| case.name == name && !case.mirrored);
    found.unwrap_or_else(|| panic!("no case {name}"))
}

/// Force of the cradle on the body at a mount, N.
///
/// # Panics
/// When there is no such mount.
#[must_use]
pub fn on_body(case: &v1::CaseAnswer, mount: &str) -> [f64; 3] {
    let found = case.mount_forces.iter().find(|force| force.mount_id == mount);
    let force = found.unwrap_or_else(|| panic!("no mount {mount}"));
    [force.force_x_n, force.force_y_n, force.force_z_n]
}

/// The resultant on the cradle system: force in N, moment in N mm about a place in mm.
///
/// # Panics
/// When the case has none.
#[must_use]
pub fn resultant(case: &v1::CaseAnswer, about: [f64; 3]) -> ([f64; 3], [f64; 3]) {
    let w = case.resultant.expect("a case has a resultant");
    let told = case.about.expect("a resultant tells where its moments are taken");
    let arm = [told.x_mm - about[0], told.y_mm - about[1], told.z_mm - about[2]];
    let force = [w.force_x_n, w.force_y_n, w.force_z_n];
    let moment = [
        w.moment_x_nmm + arm[1] * force[2] - arm[2] * force[1],
        w.moment_y_nmm + arm[2] * force[0] - arm[0] * force[2],
        w.moment_z_nmm + arm[0] * force[1] - arm[1] * force[0],
    ];
    (force, moment)
}
