//! `[car]`, `[added.*]`, `[drive]`, `[brakes]`, `[springs]`.

use fishplate_proto::v1;
use fishplate_quantity::units::{INCH, POUND};
use fishplate_quantity::written;

use super::document::{Section, Wire};
use super::phrase;

/// Units of a moment of inertia with their size in kg m².
const INERTIA: [(&str, f64); 6] = [
    ("kg m²", 1.0),
    ("kg m2", 1.0),
    ("lb ft²", POUND * 144.0 * INCH * INCH),
    ("lb ft2", POUND * 144.0 * INCH * INCH),
    ("lb in²", POUND * INCH * INCH),
    ("lb in2", POUND * INCH * INCH),
];

pub(super) fn car(section: Section<'_>) -> v1::Car {
    let mut car = v1::Car {
        wheelbase: section.need_quantity("wheelbase", "wheelbase", "\"2350 mm\""),
        cg_ahead: section.quantity("cg_ahead", "cg_ahead"),
        cg_height: section.quantity("cg_height", "cg_height"),
        front_track: section.quantity("front_track", "front_track"),
        rear_track: section.need_quantity("rear_track", "rear_track", "\"1420 mm\""),
        wheel_radius: section.need_quantity("wheel", "wheel_radius", "\"310 mm\""),
        ..v1::Car::default()
    };
    if let Some(scales) = section.get("corner_scales", "corner_scales")
        && let Some(scales) = scales.section("corner_scales".to_owned())
    {
        let need = |key, field| scales.need_quantity(key, field, "\"372 kg\"");
        car.corner_scales = Some(v1::CornerScales {
            front_left: need("front_left", "front_left"),
            front_right: need("front_right", "front_right"),
            rear_left: need("rear_left", "rear_left"),
            rear_right: need("rear_right", "rear_right"),
        });
        scales.finish();
    }
    if let Some(scales) = section.get("axle_scales", "axle_scales")
        && let Some(scales) = scales.section("axle_scales".to_owned())
    {
        car.axle_scales = Some(v1::AxleScales {
            front: scales.need_quantity("front", "front", "\"861 kg\""),
            rear: scales.need_quantity("rear", "rear", "\"1189 kg\""),
        });
        scales.finish();
    }
    if let Some(lifted) = section.get("lifted", "lifted")
        && let Some(lifted) = lifted.section("lifted".to_owned())
    {
        car.lifted = Some(v1::LiftedRear {
            lift: lifted.need_quantity("by", "lift", "\"600 mm\""),
            front_gain: lifted.need_quantity("front_gains", "front_gain", "\"31.5 kg\""),
        });
        lifted.finish();
    }
    // With scales the mass and the place of the centre of gravity come from them.
    if car.corner_scales.is_none() && car.axle_scales.is_none() {
        car.mass = section.need_quantity("mass", "mass", "\"2050 kg\"");
        if !section.has("cg_ahead") {
            section.fault(
                "[car] does not say where its centre of gravity is",
                "add cg_ahead = \"987 mm\" (ahead of the rear axle), or the readings of scales: \
                 axle_scales = { front = \"861 kg\", rear = \"1189 kg\" }",
            );
        }
    } else {
        car.mass = section.quantity("mass", "mass");
    }
    if car.lifted.is_none() && !section.has("cg_height") {
        section.fault(
            "[car] does not say how high its centre of gravity is",
            "add cg_height = \"~760 mm ± 50\" (\"~\" marks a guess), or a weighing with the rear \
             lifted: lifted = { by = \"600 mm\", front_gains = \"31.5 kg\" }",
        );
    }
    section.finish();
    car
}

pub(super) fn added((name, section): (String, Section<'_>)) -> v1::AddedMass {
    let added = v1::AddedMass {
        name,
        mass: section.need_quantity("mass", "mass", "\"120 kg\""),
        at: section
            .need("at", "at", "\"2500, 10, 470 mm\"")
            .and_then(|at| at.read(|text| phrase::point(text, 3))),
    };
    section.finish();
    added
}

/// Mass that is said in one phrase, `80 kg`, and where it sits, `50, 0, 620 mm`.
pub(crate) fn added_mass(
    mass: &str,
    point: Option<&str>,
) -> Result<(v1::Mass, Option<v1::Point>), String> {
    let mass = written::parse(mass).map_err(|error| format!("the mass {error}"))?;
    let at = point.map(|text| phrase::point(text, 3)).transpose();
    let at = at.map_err(|error| format!("the place {error}"))?;
    Ok((v1::Mass::from_written(mass), at))
}

pub(super) fn drive(section: Section<'_>) -> v1::Drive {
    let axles = [
        ("rear", v1::DrivenAxle::Rear),
        ("front", v1::DrivenAxle::Front),
        ("both", v1::DrivenAxle::Both),
    ];
    let drive = v1::Drive {
        axle: section
            .need("axle", "axle", "\"rear\"")
            .and_then(|axle| axle.choice(&axles))
            .unwrap_or(v1::DrivenAxle::Unspecified) as i32,
        torque: section.need_quantity("torque", "torque", "\"250 N m\""),
        ratio: section.need_number("ratio", "ratio", "\"9.1\""),
        efficiency: section.need_number("efficiency", "efficiency", "\"0.96\""),
        grip: section.need_number("grip", "grip", "\"0.9\""),
        rotor_inertia_kg_m2: section
            .get("rotor_inertia", "rotor_inertia_kg_m2")
            .and_then(|entry| entry.read(|text| phrase::measure(text, &INERTIA))),
    };
    section.finish();
    drive
}

pub(super) fn brakes(section: Section<'_>) -> v1::Brakes {
    let brakes = v1::Brakes {
        rear_share: section.need_number("rear_share", "rear_share", "\"~0.40\""),
        rear_share_backwards: section.number("rear_share_backwards", "rear_share_backwards"),
        grip: section.need_number("grip", "grip", "\"~1.1\""),
        inboard: section.get("inboard", "inboard").and_then(|e| e.yes()).unwrap_or_default(),
    };
    section.finish();
    brakes
}

pub(super) fn springs(section: Section<'_>) -> v1::Springs {
    let seats = [("body", v1::SpringSeat::Body), ("cradle", v1::SpringSeat::Cradle)];
    let seat_on = section.need("seat_on", "seat_on", "\"body\" or \"cradle\"");
    let springs = v1::Springs {
        seat_on: seat_on.and_then(|seat| seat.choice(&seats)).unwrap_or(v1::SpringSeat::Unspecified)
            as i32,
        seat: section.get("seat", "seat").and_then(|seat| seat.read(|text| phrase::point(text, 3))),
        motion_ratio: section.number("motion_ratio", "motion_ratio"),
    };
    section.finish();
    springs
}
