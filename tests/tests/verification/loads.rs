//! From the tyre to the mount: ten cases of two invented cars, and four cases worked by hand.

use fishplate_proto::v1;
use fishplate_proto::v1::CaseKind;
use fishplate_tests::project::{
    Given, at, case, case_of, checked, g, kg, left, mm, number, on_body, project, resultant,
};
use fishplate_tests::sheet::{Line, Sheet, assert_close};

pub(crate) const VAN: &str = include_str!("../../data/van_loads.json");
pub(crate) const ESTATE: &str = include_str!("../../data/estate_loads.json");
pub(crate) const HAND: &str = include_str!("../../data/hand_loads.json");

const NAMES: [&str; 10] = ["S0", "V3", "D1", "D2", "B1", "B2", "C1", "P1", "K1", "T1"];

/// The light van: springs on its frame, cradle in rubber.
pub(crate) const LIGHT_VAN: Given = Given {
    mass: 2050.0,
    wheelbase: 2350.0,
    cg_ahead: 987.0,
    cg_height: 760.0,
    track: 1420.0,
    wheel_radius: 310.0,
    torque: 250.0,
    ratio: 9.1,
    efficiency: 0.96,
    grip: 0.9,
    rear_share: 0.40,
    brake_grip: 1.1,
    cradle: 145.0,
    centre: [-20.0, 0.0, 330.0],
    wheel: 46.0,
    front: [330.0, 480.0, 420.0],
    rear: [-290.0, 405.0, 440.0],
    stiffness: [3500.0, 1800.0],
};

/// The unibody estate: springs on the cradle, solid mounts.
const UNIBODY: Given = Given {
    mass: 1340.0,
    wheelbase: 2480.0,
    cg_ahead: 1190.0,
    cg_height: 510.0,
    track: 1450.0,
    wheel_radius: 305.0,
    torque: 220.0,
    ratio: 8.6,
    efficiency: 0.96,
    grip: 1.0,
    rear_share: 0.35,
    brake_grip: 1.1,
    cradle: 128.0,
    centre: [15.0, 0.0, 320.0],
    wheel: 38.0,
    front: [360.0, 510.0, 300.0],
    rear: [-260.0, 440.0, 345.0],
    stiffness: [20_000.0, 20_000.0],
};

fn ten_cases(corner: f64, share: f64) -> Vec<v1::LoadCase> {
    let abuse = |mut case: v1::LoadCase| {
        case.set_class(v1::CaseClass::Abuse);
        case
    };
    vec![
        case("S0", CaseKind::Standing),
        v1::LoadCase { field: g(3.0), ..case("V3", CaseKind::Bump) },
        case("D1", CaseKind::Drive),
        abuse(v1::LoadCase {
            shock: number(1.5),
            grip: number(1.2),
            ..case("D2", CaseKind::Drive)
        }),
        v1::LoadCase { rate: g(1.1), ..case("B1", CaseKind::Brake) },
        v1::LoadCase { rate: g(0.7), ..case("B2", CaseKind::BrakeBackwards) },
        left(v1::LoadCase {
            rate: g(corner),
            rear_share: number(share),
            ..case("C1", CaseKind::Corner)
        }),
        abuse(left(v1::LoadCase { field: g(2.0), ..case("P1", CaseKind::PotholeBraked) })),
        abuse(left(v1::LoadCase { factor: number(1.75), ..case("K1", CaseKind::Kerb) })),
        left(v1::LoadCase { factor: number(1.3), ..case("T1", CaseKind::Twist) }),
    ]
}

/// The van with its ten cases; no design: forces alone.
pub(crate) fn light_van() -> v1::Project {
    let mut van = project("Light van", &LIGHT_VAN);
    let springs = van.springs.as_mut().expect("the project has springs");
    springs.set_seat_on(v1::SpringSeat::Body);
    springs.seat = at([-60.0, 530.0, 560.0]);
    springs.motion_ratio = number(0.72);
    van.bushes[0].stop = mm(5.0);
    van.bushes[0].stop_rate = fishplate_tests::project::n_per_mm(8000.0);
    van.cases = ten_cases(0.80, 0.55);
    van
}

pub(crate) fn estate() -> v1::Project {
    let mut estate = project("Estate", &UNIBODY);
    estate.cases = ten_cases(1.0, 0.50);
    estate
}

fn table(car: &str, data: &str, project: &v1::Project, centre: [f64; 3]) -> Vec<Line> {
    let answer = checked(project);
    let mut lines = Vec::new();
    for name in NAMES {
        let case = case_of(&answer, name);
        let mut sheet = Sheet::of(data, &format!("{car} {name}"));
        for (side, tyre) in [("left", case.tyre_left), ("right", case.tyre_right)] {
            let tyre = tyre.expect("a case tells both tyre forces");
            let parts = [("x", tyre.force_x_n), ("y", tyre.force_y_n), ("z", tyre.force_z_n)];
            for (axis, value) in parts {
                sheet.got(&format!("tyre {side} F{axis}"), value);
            }
        }
        sheet.got("spring left", case.spring_left_n);
        sheet.got("spring right", case.spring_right_n);
        let (force, moment) = resultant(case, centre);
        for (place, axis) in ["x", "y", "z"].iter().enumerate() {
            sheet.got(&format!("resultant F{axis}"), force[place]);
            sheet.got(&format!("resultant M{axis}"), moment[place] / 1e3);
        }
        for mount in ["FL", "FR", "RL", "RR"] {
            let [x, y, z] = on_body(case, mount);
            for (axis, value) in [("x", x), ("y", y), ("z", z)] {
                sheet.got(&format!("{mount} F{axis} on body"), value);
            }
        }
        lines.extend(sheet.lines());
    }
    lines
}

fn van_table() -> Vec<Line> {
    table("van", VAN, &light_van(), [20.0, 0.0, 430.0])
}

fn estate_table() -> Vec<Line> {
    table("estate", ESTATE, &estate(), [50.0, 0.0, 322.5])
}

/// A car of plain numbers, of which each hand case replaces what it gives.
const PLAIN: Given = Given { cg_ahead: 1200.0, ..UNIBODY };

fn v1_weighing() -> Vec<Line> {
    let mut car = project("Weighing", &PLAIN);
    car.cases = vec![case("S0", CaseKind::Standing)];
    car.car = Some(v1::Car {
        wheelbase: mm(2520.0),
        front_track: mm(1460.0),
        rear_track: mm(1440.0),
        wheel_radius: mm(305.0),
        corner_scales: Some(v1::CornerScales {
            front_left: kg(372.0),
            front_right: kg(358.0),
            rear_left: kg(310.0),
            rear_right: kg(326.0),
        }),
        lifted: Some(v1::LiftedRear { lift: mm(600.0), front_gain: kg(31.5) }),
        ..Default::default()
    });
    let weighed = checked(&car).car.expect("the answer tells the car as weighed");
    let mut sheet = Sheet::of(HAND, "V1");
    sheet.got("mass", weighed.mass_kg);
    sheet.got("cg ahead of rear axle", weighed.cg_ahead_mm);
    sheet.got("cg left of centre", weighed.cg_left_mm);
    sheet.got("cg height", weighed.cg_height_mm);
    sheet.got("cross weight", weighed.cross_weight.unwrap_or(f64::NAN));
    sheet.got("front axle", weighed.front_axle_n);
    sheet.got("rear axle", weighed.rear_axle_n);
    sheet.lines()
}

/// Fills in what all straight hand cases ask for.
fn straight(sheet: &mut Sheet, case: &v1::CaseAnswer, centre: [f64; 3]) {
    let tyre = case.tyre_left.expect("a case tells both tyre forces");
    sheet.got("tyre Fx", tyre.force_x_n);
    sheet.got("tyre Fz", tyre.force_z_n);
    let (force, moment) = resultant(case, centre);
    sheet.got("resultant Fx", force[0]);
    sheet.got("resultant Fz", force[2]);
    sheet.got("resultant My", moment[1] / 1e3);
    for (place, mount) in [("front", "FL"), ("rear", "RR")] {
        let [x, _, z] = on_body(case, mount);
        sheet.got(&format!("{place} mounts Fx on body"), x);
        sheet.got(&format!("{place} mounts Fz on body"), z);
    }
}

fn v2_braking() -> Vec<Line> {
    let given = Given {
        mass: 1600.0,
        wheelbase: 2600.0,
        cg_ahead: 1300.0,
        cg_height: 550.0,
        track: 1500.0,
        wheel_radius: 320.0,
        rear_share: 0.30,
        cradle: 120.0,
        centre: [0.0, 0.0, 320.0],
        wheel: 40.0,
        front: [300.0, 450.0, 380.0],
        rear: [-300.0, 450.0, 380.0],
        ..PLAIN
    };
    let mut lines = Vec::new();
    for (name, inboard) in [("V2 outboard", false), ("V2 inboard", true)] {
        let mut car = project("Braking", &given);
        car.brakes.as_mut().expect("the project has brakes").inboard = inboard;
        car.cases = vec![v1::LoadCase { rate: g(0.8), ..case("B", CaseKind::Brake) }];
        let answer = checked(&car);
        let mut sheet = Sheet::of(HAND, name);
        straight(&mut sheet, case_of(&answer, "B"), [0.0, 0.0, 380.0]);
        lines.extend(sheet.lines());
    }
    lines
}

fn v3_driving() -> Vec<Line> {
    let given = Given {
        mass: 1250.0,
        wheelbase: 2400.0,
        cg_ahead: 1150.0,
        cg_height: 520.0,
        track: 1420.0,
        wheel_radius: 300.0,
        torque: 310.0,
        ratio: 9.0,
        efficiency: 0.97,
        grip: 0.95,
        cradle: 135.0,
        centre: [10.0, 0.0, 330.0],
        wheel: 38.0,
        front: [310.0, 430.0, 360.0],
        rear: [-270.0, 430.0, 360.0],
        ..PLAIN
    };
    let mut car = project("Driving", &given);
    car.drive.as_mut().expect("the project has a drive").rotor_inertia_kg_m2 = Some(0.045);
    // Grip enough that the motor's torque, and the rotor's on top, reach the road.
    let sticky = v1::LoadCase { grip: number(2.0), ..case("motor", CaseKind::Drive) };
    let shock = v1::LoadCase {
        name: "motor and rotor".to_owned(),
        wheel_speed_change_rad_per_s: Some(8.0),
        change_duration_s: Some(0.02),
        ..sticky.clone()
    };
    car.cases = vec![case("D", CaseKind::Drive), sticky, shock];
    let answer = checked(&car);
    let mut sheet = Sheet::of(HAND, "V3");
    straight(&mut sheet, case_of(&answer, "D"), [20.0, 0.0, 360.0]);
    let pull = |name: &str| {
        let case = case_of(&answer, name);
        let tyres = [case.tyre_left, case.tyre_right];
        tyres.iter().flatten().map(|tyre| tyre.force_x_n).sum::<f64>()
    };
    let more = pull("motor and rotor") - pull("motor");
    sheet.got("rotor shock at the axle", more * 0.300);
    sheet.lines()
}

fn v4_cornering() -> Vec<Line> {
    let sprung = 1350.0;
    let mass = sprung + 70.0 + 80.0;
    // The whole car, from its three masses: sprung 1250 mm behind the front axle, and the axles.
    let rear_load = sprung * 1250.0 / 2600.0 + 80.0;
    let given = Given {
        mass,
        wheelbase: 2600.0,
        cg_ahead: 2600.0 * (1.0 - rear_load / mass),
        cg_height: (sprung * 560.0 + 150.0 * 310.0) / mass,
        wheel_radius: 310.0,
        cradle: 110.0,
        centre: [0.0, 0.0, 330.0],
        wheel: 40.0,
        front: [280.0, 460.0, 350.0],
        rear: [-280.0, 460.0, 350.0],
        ..PLAIN
    };
    let mut car = project("Cornering", &given);
    let measures = car.car.as_mut().expect("the project has a car");
    measures.front_track = mm(1480.0);
    measures.rear_track = mm(1470.0);
    car.cases = vec![left(v1::LoadCase {
        rate: g(0.9),
        roll: Some(v1::RollStiffness {
            unsprung_front_kg: 70.0,
            unsprung_rear_kg: 80.0,
            unsprung_height_mm: 310.0,
            roll_centre_front_mm: 60.0,
            roll_centre_rear_mm: 110.0,
            front_nmm_per_rad: 32e6,
            rear_nmm_per_rad: 26e6,
        }),
        ..case("C", CaseKind::Corner)
    })];
    let answer = checked(&car);
    let case = case_of(&answer, "C");
    let [left, right] =
        [case.tyre_left, case.tyre_right].map(|tyre| tyre.expect("both tyre forces"));
    let mut sheet = Sheet::of(HAND, "V4");
    sheet.got("tyre left Fz", left.force_z_n);
    sheet.got("tyre right Fz", right.force_z_n);
    sheet.got("tyres Fy", left.force_y_n + right.force_y_n);
    let (force, moment) = resultant(case, [0.0, 0.0, 350.0]);
    sheet.got("resultant Fy", force[1]);
    sheet.got("resultant Fz", force[2]);
    sheet.got("resultant Mx", moment[0] / 1e3);
    for (side, mount) in [("left", "FL"), ("right", "RR")] {
        let [_, y, z] = on_body(case, mount);
        sheet.got(&format!("{side} mounts Fy on body"), y);
        sheet.got(&format!("{side} mounts Fz on body"), z);
    }
    sheet.lines()
}

fn hand() -> Vec<Line> {
    [v1_weighing, v2_braking, v3_driving, v4_cornering].iter().flat_map(|case| case()).collect()
}

pub(crate) fn lines() -> Vec<Line> {
    [hand(), van_table(), estate_table()].concat()
}

#[test]
fn cases_worked_by_hand_come_out() {
    assert_close(&hand());
}

#[test]
fn a_van_with_springs_on_its_frame_loads_its_mounts_as_tabled() {
    assert_close(&van_table());
}

#[test]
fn an_estate_with_springs_on_its_cradle_loads_its_mounts_as_tabled() {
    assert_close(&estate_table());
}
