//! Load cases against the worked sheets, hand statics, and what must hold for any case.

use fishplate_quantity::Trace;
use fishplate_quantity::trace::{Origin, Provenance};
use fishplate_solver::group::Vec3;

use super::published::*;
use super::*;
use crate::describe::{DrivenAxle, RollStiffness, Side};

fn loads(input: &LoadInput, case: CaseKind, about: Vec3) -> CaseLoads {
    derive(input, &case, about, Trace::on()).unwrap()
}

fn close(got: f64, expected: f64, within: f64, what: &str) {
    assert!((got - expected).abs() <= within, "{what}: {got} against {expected}");
}

fn near(got: f64, expected: f64, what: &str) {
    close(got, expected, 1e-6 * expected.abs(), what);
}

fn sheet(input: &LoadInput, rows: &[Row], points: &[[f64; 3]; 4], case: fn(&str) -> CaseKind) {
    for row in rows {
        let got = loads(input, case(row.case), centre(points));
        let name = row.case;
        for i in 0..3 {
            close(got.tyre.left[i], row.tyre[0][i], 1.0, name);
            close(got.tyre.right[i], row.tyre[1][i], 1.0, name);
            close(got.resultant.force[i], row.force[i], 1.0, name);
            close(got.resultant.moment[i], row.moment[i], 1.0, name);
        }
        close(got.body_spring.left, row.spring[0], 1.0, name);
        close(got.body_spring.right, row.spring[1], 1.0, name);
    }
}

#[test]
fn van_sheet() {
    sheet(&van(), &VAN, &VAN_POINTS, van_case);
}

#[test]
fn estate_sheet() {
    sheet(&estate(), &ESTATE, &ESTATE_POINTS, estate_case);
}

/// A car with its springs on the cradle, for the cases worked by hand to eight digits.
fn plain(mass: f64, lengths: [f64; 5], cradle: CradleSystem) -> LoadInput {
    let [wheelbase, cg_ahead, cg_height, wheel_radius, track] = lengths.map(|mm| mm * 1e-3);
    let vehicle = Vehicle {
        mass,
        wheelbase,
        cg_ahead,
        cg_height,
        cg_left: 0.0,
        rear_offset: 0.0,
        track_rear: track,
        track_front: None,
        wheel_radius,
        added_masses: Vec::new(),
    };
    let springs = Springs { seat: Seat::Cradle, motion_ratio: 1.0, link_share: 0.0 };
    LoadInput { vehicle, springs, cradle, ..estate() }
}

pub(crate) fn braking_by_hand() -> LoadInput {
    let cradle = CradleSystem { mass: 120.0, centre: mm(0.0, 0.0, 320.0), wheel_mass: 40.0 };
    let car = plain(1600.0, [2600.0, 1300.0, 550.0, 320.0, 1500.0], cradle);
    let brakes = Brakes { rear_share: 0.30, rear_share_backwards: None, grip: 1.1, inboard: true };
    LoadInput { brakes: Some(brakes), ..car }
}

pub(crate) fn driving_by_hand() -> LoadInput {
    let cradle = CradleSystem { mass: 135.0, centre: mm(10.0, 0.0, 330.0), wheel_mass: 38.0 };
    let drive = Drive {
        axle: DrivenAxle::Rear,
        torque: 310.0,
        ratio: 9.0,
        efficiency: 0.97,
        grip: 0.95,
        rotor_inertia: Some(0.045),
    };
    let car = plain(1250.0, [2400.0, 1150.0, 520.0, 300.0, 1420.0], cradle);
    LoadInput { drive: Some(drive), ..car }
}

pub(crate) fn cornering_by_hand() -> (LoadInput, CaseKind) {
    let cradle = CradleSystem { mass: 110.0, centre: mm(0.0, 0.0, 330.0), wheel_mass: 40.0 };
    // Sprung 1350 kg at 1250 behind the front axle and 560 high; axles 70 and 80 kg, 310 high.
    let ahead = (1350.0 * (2600.0 - 1250.0) + 70.0 * 2600.0) / 1500.0;
    let height = (1350.0 * 560.0 + 150.0 * 310.0) / 1500.0;
    let mut car = plain(1500.0, [2600.0, ahead, height, 310.0, 1470.0], cradle);
    car.vehicle.track_front = Some(1.48);
    let roll = RollStiffness {
        unsprung_front: 70.0,
        unsprung_rear: 80.0,
        unsprung_height: 0.31,
        roll_centre_front: 0.06,
        roll_centre_rear: 0.11,
        front: 32_000.0,
        rear: 26_000.0,
    };
    let transfer = RearTransfer::RollStiffness(roll);
    (car, CaseKind::Corner { side: Side::Left, rate: 0.9, transfer })
}

// Statics by hand: ΔF 2656.246, F_zr 5191.754, rear brakes 3767.04 N, grip needed 0.72558.
#[test]
fn braking_worked_by_hand() {
    let case = CaseKind::Brake { rate: 0.8, field: 1.0 };
    let got = loads(&braking_by_hand(), case, mm(0.0, 0.0, 380.0));
    close(2.0 * got.tyre.left.z, 5191.754, 5e-4, "rear axle");
    near(2.0 * got.tyre.left.x, -3767.04, "brakes");
    near(got.resultant.force.x, -2197.44, "F_x");
    near(got.resultant.force.z, 3_229.753_8, "F_z");
    near(got.resultant.moment.y, 1_337.299_2, "M_y");
}

// Statics by hand, the brakes on the cradle: the same force at the wheel centre and the reaction of
// the calipers, 1205.4528 N m, give the same moment. Why the ground is right for both.
#[test]
fn inboard_brakes_give_the_same_wrench() {
    let case = CaseKind::Brake { rate: 0.8, field: 1.0 };
    let got = loads(&braking_by_hand(), case, mm(0.0, 0.0, 380.0));
    let at_centre = -3767.04 * (0.320 - 0.380);
    let calipers = 3767.04 * 0.320;
    near(calipers, 1_205.452_8, "calipers");
    near(got.resultant.moment.y, at_centre + calipers - 94.176, "M_y");
}

// Statics by hand: F_grip = 0.95 W_r/(1 - 0.95·520/2400) = 7639.93639 N is below the motor's 9021.
#[test]
fn driving_worked_by_hand() {
    let steady =
        CaseKind::Drive { direction: DriveDirection::Forward, shock: Shock::None, grip: None };
    let got = loads(&driving_by_hand(), steady, mm(20.0, 0.0, 360.0));
    near(2.0 * got.tyre.left.x, 7_639.936_39, "force");
    near(2.0 * got.tyre.left.z, 8_042.038_3, "rear axle");
    near(got.resultant.force.x, 6_350.315_12, "F_x");
    near(got.resultant.force.z, 5_972.128_3, "F_z");
    near(got.resultant.moment.y, -2_565.067_15, "M_y");
    // Rotor: J i² Δω/Δt = 0.045·81·8/0.02 = 1458 N m at the axle.
    let shock = Shock::Rotor { wheel_speed_change: 8.0, duration: 0.02 };
    let case = CaseKind::Drive { direction: DriveDirection::Forward, shock, grip: None };
    let with_rotor = loads(&driving_by_hand(), case, Vec3::zeros());
    near(2.0 * (with_rotor.tyre.left.x - got.tyre.left.x), 1458.0 / 0.3, "rotor");
    // Reverse: F_grip = μ W_r/(1 + μ h/L) = 6067.3828/1.2058333 = 5031.6927 N.
    let case =
        CaseKind::Drive { direction: DriveDirection::Reverse, shock: Shock::None, grip: None };
    let back = loads(&driving_by_hand(), case, Vec3::zeros());
    near(2.0 * back.tyre.left.x, -0.95 * 6_386.718_75 / (1.0 + 0.95 * 520.0 / 2400.0), "reverse");
    // At the grip limit the force is the grip of the load then on the axle.
    near(-back.tyre.left.x / back.tyre.left.z, 0.95, "grip in reverse");
    near(got.tyre.left.x / got.tyre.left.z, 0.95, "grip forward");
}

// Grip needs no formula of ours: at the limit, force over load of the driven axle is the grip.
#[test]
fn grip_limit_of_every_axle() {
    for (axle, direction) in [
        (DrivenAxle::Front, DriveDirection::Forward),
        (DrivenAxle::Front, DriveDirection::Reverse),
        (DrivenAxle::Both, DriveDirection::Forward),
        (DrivenAxle::Both, DriveDirection::Reverse),
    ] {
        let mut car = driving_by_hand();
        car.drive = car.drive.map(|d| Drive { axle, grip: 0.4, ..d });
        let case = CaseKind::Drive { direction, shock: Shock::None, grip: None };
        let got = loads(&car, case, Vec3::zeros());
        let rear = 2.0 * got.tyre.left.z;
        // The own masses feel the acceleration: F = m a of the whole car.
        let own = got.forces.iter().find(|f| f.what == "own mass, cradle").unwrap().force.x;
        let force = -own / 135.0 * 1250.0;
        let weight = 1250.0 * GRAVITY;
        let (loaded, pulled) = match axle {
            DrivenAxle::Front => (weight - rear, force),
            _ => (rear, 2.0 * got.tyre.left.x),
        };
        near(pulled.abs() / loaded, 0.4, "grip");
        if matches!(axle, DrivenAxle::Front) {
            assert!(got.tyre.left.x.abs() < 1e-12, "the rear axle does not pull");
        }
    }
}

// Statics by hand: h_ra 475.96154 mm, φ 6.2874967°, ΔF_r 2518.69003 N.
#[test]
fn cornering_worked_by_hand() {
    let (car, case) = cornering_by_hand();
    let got = loads(&car, case, mm(0.0, 0.0, 350.0));
    near(got.tyre.left.z, 1_057.243_62, "inner");
    near(got.tyre.right.z, 6_094.623_69, "outer");
    near(got.tyre.left.y + got.tyre.right.y, 6_436.680_58, "F_yr");
    near(got.resultant.force.y, 4_759.170_58, "F_y");
    near(got.resultant.force.z, 5_287.967_31, "F_z");
    near(got.resultant.moment.x, -1_497.312_74, "M_x");
    let value = |symbol| got.trace.entries().iter().find(|e| e.symbol == symbol).unwrap().value;
    near(value("h_ra"), 0.475_961_54, "h_ra");
    close(value("phi").to_degrees(), 6.287_496_7, 1e-6, "roll angle");
}

// The same force at the height of the wheel centre: r F less moment about y, for 12 830 N.
#[test]
fn pothole_edge_acts_at_the_wheel_centre() {
    let about = centre(&VAN_POINTS);
    let locked = loads(&van(), van_case("P1"), about);
    let force = PotholeForce::Edge { factor: 2.2 };
    let case = CaseKind::Pothole { side: Side::Left, field: 2.0, force };
    let edge = loads(&van(), case, about);
    close(edge.tyre.left.x, -12_830.0, 0.51, "edge");
    let moment = locked.resultant.moment.y - edge.resultant.moment.y;
    near(moment, -0.31 * locked.tyre.left.x, "r F");
    assert!((edge.resultant.moment.z - locked.resultant.moment.z).abs() < 1e-6);
}

// Free bodies by hand, springs on the cradle: what hangs is the weight of cradle and wheels,
// 9.81 (128 + 2·38) = 2001.24 N.
#[test]
fn jack_lift_tow_and_straps_by_hand() {
    let car = estate();
    let about = centre(&ESTATE_POINTS);
    let hung = 2001.24;
    let lift = loads(&car, CaseKind::Lift { factor: 1.5 }, about);
    near(lift.resultant.force.z, -1.5 * hung, "lift");
    let rear = 1340.0 * 9.81 * 1290.0 / 2480.0;
    let at = mm(-100.0, 0.0, 250.0);
    let middle = CaseKind::Jack { place: JackPlace::Middle, at, factor: 1.5 };
    near(loads(&car, middle, about).resultant.force.z, 1.5 * rear - hung, "middle");
    let place = JackPlace::OneSide(Side::Left);
    let side = CaseKind::Jack { place, at: mm(-100.0, 400.0, 250.0), factor: 1.5 };
    let left = loads(&car, side, about);
    near(left.resultant.force.z, 0.75 * rear + 0.5 * rear - hung, "one side");
    near(left.resultant.moment.x, 0.75 * rear * 0.4 - 0.5 * rear * 0.725, "one side");
    let eye = mm(-300.0, 0.0, 400.0);
    let tow = CaseKind::Tow { direction: TowDirection::Rearward, at: eye, factor: 0.5 };
    near(loads(&car, tow, about).resultant.force.x, -0.5 * 1340.0 * 9.81, "tow");
    let tie = TieDown {
        direction: TieDownDirection::Forward,
        rate: 0.8,
        eye: mm(-300.0, 300.0, 300.0),
        slope: 0.5,
        pretension: 0.0,
    };
    let straps = loads(&car, CaseKind::TieDown(tie), about);
    // The mounts hold the rest of the car back: -0.8 g (m - m_cradle - 2 m_wheel).
    near(straps.resultant.force.x, -0.8 * 9.81 * (1340.0 - 204.0), "straps");
    let side = TieDown { direction: TieDownDirection::Side(Side::Left), rate: 0.5, ..tie };
    let sideways = loads(&car, CaseKind::TieDown(side), about);
    near(sideways.resultant.force.y, -0.5 * (rear - hung), "sideways");
}

// Struts on the frame hold hanging wheels with m g over the motion ratio (virtual work).
#[test]
fn hanging_wheels_pull_the_struts() {
    let lift = loads(&van(), CaseKind::Lift { factor: 1.0 }, Vec3::zeros());
    near(lift.body_spring.left, -46.0 * 9.81 / 0.72, "strut");
}

// Linear: rebound is the opposite of the case at rest, a bump a multiple of it.
#[test]
fn fields_are_multiples_of_rest() {
    let about = centre(&VAN_POINTS);
    let rest = loads(&van(), CaseKind::Standing, about).resultant;
    let drop = loads(&van(), CaseKind::Rebound { field: -1.0 }, about).resultant;
    assert!((drop.force + rest.force).norm() < 1e-9);
    assert!((drop.moment + rest.moment).norm() < 1e-9);
}

// Twist alone and rest add up to twist with weight, at factor 1.
#[test]
fn twist_is_rest_and_a_couple() {
    let about = centre(&ESTATE_POINTS);
    let twist = |form| CaseKind::Twist { side: Side::Right, factor: 1.0, form };
    let whole = loads(&estate(), twist(TwistForm::OneWheel), about).resultant;
    let couple = loads(&estate(), twist(TwistForm::PureCouple), about).resultant;
    let rest = loads(&estate(), CaseKind::Standing, about).resultant;
    assert!((couple.force + rest.force - whole.force).norm() < 1e-9);
    assert!((couple.moment + rest.moment - whole.moment).norm() < 1e-9);
    // The lighter front axle's couple, W_f t/2, comes back at the rear; the right wheel gains.
    let front = 1340.0 * 9.81 * 1190.0 / 2480.0;
    near(couple.moment.x, -front * 0.725, "couple");
}

// Cornering and braking at a rate of nought is the other case alone.
#[test]
fn corner_and_brake_contains_both() {
    let about = centre(&VAN_POINTS);
    let transfer = RearTransfer::Share(0.55);
    let side = Side::Right;
    let both = |corner_rate, brake_rate| {
        let case = CaseKind::CornerAndBrake { side, corner_rate, brake_rate, transfer };
        loads(&van(), case, about)
    };
    let corner = loads(&van(), CaseKind::Corner { side, rate: 0.8, transfer }, about);
    let brake = loads(&van(), CaseKind::Brake { rate: 1.1, field: 1.0 }, about);
    let same = |a: &CaseLoads, b: &CaseLoads| {
        assert!((a.resultant.force - b.resultant.force).norm() < 1e-8);
        assert!((a.resultant.moment - b.resultant.moment).norm() < 1e-8);
    };
    same(&both(0.8, 0.0), &corner);
    same(&both(0.0, 1.1), &brake);
    // Friction circle: what the rear tyres give together stays within their grip.
    let mixed = both(0.7, 0.7);
    let sum = mixed.tyre.left + mixed.tyre.right;
    assert!(sum.x.hypot(sum.y) <= 1.1 * sum.z * (1.0 + 1e-12));
}

fn every_case() -> Vec<CaseKind> {
    let side = Side::Left;
    let at = mm(-100.0, 300.0, 250.0);
    let tie = |direction| {
        let eye = mm(-300.0, 300.0, 300.0);
        CaseKind::TieDown(TieDown { direction, rate: 0.5, eye, slope: 0.6, pretension: 2e3 })
    };
    let mut cases: Vec<CaseKind> = VAN.iter().map(|row| van_case(row.case)).collect();
    cases.extend([
        CaseKind::Rebound { field: -0.7 },
        CaseKind::Twist { side, factor: 1.3, form: TwistForm::PureCouple },
        CaseKind::Pothole { side, field: 2.0, force: PotholeForce::Edge { factor: 4.5 } },
        CaseKind::CornerAndBrake {
            side,
            corner_rate: 0.7,
            brake_rate: 0.7,
            transfer: RearTransfer::Share(0.5),
        },
        CaseKind::Drive {
            direction: DriveDirection::Reverse,
            shock: Shock::Factor(1.3),
            grip: Some(1.1),
        },
        CaseKind::Jack { place: JackPlace::Middle, at, factor: 1.5 },
        CaseKind::Jack { place: JackPlace::OneSide(side), at, factor: 1.5 },
        CaseKind::Lift { factor: 1.0 },
        CaseKind::Tow { direction: TowDirection::Forward, at, factor: 0.5 },
        tie(TieDownDirection::Forward),
        tie(TieDownDirection::Rearward),
        tie(TieDownDirection::Side(side)),
    ]);
    cases
}

#[test]
fn every_case_mirrors() {
    let about = centre(&VAN_POINTS);
    for case in every_case() {
        let a = loads(&van(), case, about).resultant;
        let b = loads(&van(), case.mirrored(), about).resultant;
        let force = Vec3::new(b.force.x, -b.force.y, b.force.z);
        let moment = Vec3::new(-b.moment.x, b.moment.y, -b.moment.z);
        assert!((a.force - force).norm() < 1e-8, "{case:?}");
        assert!((a.moment - moment).norm() < 1e-8, "{case:?}");
        assert_eq!(case.mirrored().mirrored(), case);
    }
}

#[test]
fn every_number_has_an_origin_and_the_trace_changes_no_bit() {
    let about = centre(&VAN_POINTS);
    for case in every_case() {
        let traced = derive(&van(), &case, about, Trace::on()).unwrap();
        assert_eq!(traced.trace.orphans(), Vec::<&str>::new(), "{case:?}");
        let plain = derive(&van(), &case, about, Trace::off()).unwrap();
        assert_eq!(traced.resultant, plain.resultant, "{case:?}");
        assert!(plain.trace.entries().is_empty());
        // The resultant is that of the listed forces.
        let sum = traced.forces.iter().fold(Vec3::zeros(), |sum, f| sum + f.force);
        assert!((sum - traced.resultant.force).norm() < 1e-9, "{case:?}");
        let moment =
            traced.forces.iter().fold(Vec3::zeros(), |m, f| m + (f.at - about).cross(&f.force));
        assert!((moment - traced.resultant.moment).norm() < 1e-9, "{case:?}");
        let guessed = Origin::Leaf(Provenance::Guessed("car.cg_height".to_owned()));
        assert!(traced.trace.entries().iter().any(|e| e.origin == guessed), "{case:?}");
    }
}

fn with_battery() -> LoadInput {
    let battery =
        Cargo { name: "battery".to_owned(), mass: 120.0, centre: mm(2500.0, 10.0, 470.0) };
    let guessed = std::collections::BTreeSet::from(["cargo[0].mass".to_owned()]);
    LoadInput { cargo: vec![battery], guessed, ..van() }
}

/// All masses that ride along feel the same acceleration: force by mass is that of the cradle.
#[test]
fn a_cargo_feels_what_every_mass_of_the_car_feels() {
    let car = with_battery();
    let about = centre(&VAN_POINTS);
    for case in every_case() {
        let with = derive(&car, &case, about, Trace::on()).unwrap();
        assert_eq!(with.trace.orphans(), Vec::<&str>::new(), "{case:?}");
        let cradle = with.forces.iter().find(|f| f.what == "own mass, cradle").unwrap();
        let [own] = with.cargo.as_slice() else { panic!("one cargo") };
        assert_eq!(own.at, mm(2500.0, 10.0, 470.0));
        assert!((own.force / 120.0 - cradle.force / 145.0).norm() < 1e-12, "{case:?}");
        // It was weighed with the car: the cradle feels nothing of it.
        assert_eq!(with.resultant, loads(&van(), case, about).resultant);
    }
}

#[test]
fn a_thrown_cargo_is_the_only_thing_that_pulls() {
    let car = with_battery();
    for (direction, force) in [
        (RestraintDirection::Forward, [23_544.0, 0.0, -1_177.2]),
        (RestraintDirection::Rearward, [-23_544.0, 0.0, -1_177.2]),
        (RestraintDirection::Side(Side::Left), [0.0, 23_544.0, -1_177.2]),
        (RestraintDirection::Up, [0.0, 0.0, 22_366.8]),
        (RestraintDirection::Down, [0.0, 0.0, -24_721.2]),
    ] {
        let case = CaseKind::Restraint { direction, rate: 20.0, cargo: 0 };
        let made = derive(&car, &case, Vec3::zeros(), Trace::on()).unwrap();
        assert_eq!(made.trace.orphans(), Vec::<&str>::new());
        // By hand: 120 kg at 20 times 9.81 m/s², and its weight.
        assert!((made.cargo[0].force - Vec3::from(force)).norm() < 1e-9, "{direction:?}");
        assert!(made.forces.is_empty() && made.resultant.force.norm() < 1e-12);
        let guessed = Origin::Leaf(Provenance::Guessed("cargo[0].mass".to_owned()));
        assert!(made.trace.entries().iter().any(|e| e.origin == guessed));
        let mirrored = derive(&car, &case.mirrored(), Vec3::zeros(), Trace::off()).unwrap();
        let mirror = Vec3::new(force[0], -force[1], force[2]);
        assert!((mirrored.cargo[0].force - mirror).norm() < 1e-9, "{direction:?}");
        assert_eq!(case.mirrored().mirrored(), case);
    }
    let nudge = CaseKind::Restraint { direction: RestraintDirection::Forward, rate: 0.1, cargo: 0 };
    let faults = derive(&car, &nudge, Vec3::zeros(), Trace::off()).unwrap_err();
    assert_eq!(faults[0].path, "case.rate");
}

#[test]
fn what_cannot_be_is_refused_with_its_path() {
    let mut broken = estate();
    broken.drive = broken.drive.map(|d| Drive { efficiency: 1.04, grip: 0.0, ..d });
    broken.springs.motion_ratio = 3.0;
    broken.cradle.mass = f64::INFINITY;
    broken.brakes = None;
    let case = CaseKind::Brake { rate: 11.0, field: 1.0 };
    let faults = derive(&broken, &case, Vec3::zeros(), Trace::off()).unwrap_err();
    let paths: Vec<&str> = faults.iter().map(|f| f.path.as_str()).collect();
    let expected = [
        "drive.efficiency",
        "drive.grip",
        "springs.motion_ratio",
        "cradle.mass",
        "case.rate",
        "brakes",
    ];
    assert_eq!(paths, expected);
    let shock = Shock::Rotor { wheel_speed_change: 8.0, duration: 0.02 };
    let case = CaseKind::Drive { direction: DriveDirection::Forward, shock, grip: None };
    let faults = derive(&estate(), &case, Vec3::zeros(), Trace::off()).unwrap_err();
    assert_eq!(faults[0].path, "drive.rotor_inertia");
}
