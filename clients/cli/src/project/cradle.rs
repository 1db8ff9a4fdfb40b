//! `[cradle]`, `[cargo.*]`, `[bush.*]`, `[mount.*]`.

use fishplate_proto::v1;

use super::document::{Entry, Section};
use super::phrase;

pub(super) fn cradle(section: Section<'_>) -> v1::Cradle {
    let cradle = v1::Cradle {
        mass: section.need_quantity("mass", "mass", "\"145 kg\""),
        centre: section
            .need("centre", "centre", "\"-20, 0, 330 mm\"")
            .and_then(|centre| centre.read(|text| phrase::point(text, 3))),
        wheel_mass: section.need_quantity("wheel_mass", "wheel_mass", "\"~46 kg\""),
    };
    section.finish();
    cradle
}

pub(super) fn cargo((name, section): (String, Section<'_>)) -> v1::Cargo {
    let cargo = v1::Cargo {
        name,
        mass: section.need_quantity("mass", "mass", "\"120 kg\""),
        centre: section
            .need("centre", "centre", "\"2500, 10, 470 mm\"")
            .and_then(|centre| centre.read(|text| phrase::point(text, 3))),
        weighed: section
            .need("weighed", "weighed", "false, where the car was weighed without it")
            .and_then(|weighed| weighed.yes()),
    };
    section.finish();
    cargo
}

pub(super) fn bush((name, section): (String, Section<'_>)) -> v1::Bush {
    let axes = [("x", v1::Axis::X), ("y", v1::Axis::Y), ("z", v1::Axis::Z)];
    let bush = v1::Bush {
        name,
        axis: section
            .need("axis", "axis", "\"z\"")
            .and_then(|axis| axis.choice(&axes))
            .unwrap_or(v1::Axis::Unspecified) as i32,
        radial: section.need_quantity("radial", "radial", "\"~3500 N/mm\""),
        axial: section.need_quantity("axial", "axial", "\"~1800 N/mm\""),
        torsional: section.quantity("torsional", "torsional"),
        conical: section.quantity("conical", "conical"),
        stop: section.quantity("stop", "stop"),
        stop_rate: section.quantity("stop_rate", "stop_rate"),
    };
    section.finish();
    bush
}

pub(super) fn mount((name, section): (String, Section<'_>)) -> v1::Mount {
    let text = |entry: Option<Entry<'_>>| {
        entry.and_then(|entry| entry.text().map(str::to_owned)).unwrap_or_default()
    };
    let mount = v1::Mount {
        name,
        at: section
            .need("at", "at", "\"330, 480, 420 mm\"")
            .and_then(|at| at.read(|text| phrase::point(text, 3))),
        bush: text(section.need("bush", "bush", "\"rubber\"")),
        // Without it only the force at the mount is found.
        lands: text(section.get("lands", "lands")),
        seat: section.quantity("seat", "seat"),
        fit_up_gap: section.quantity("fit_up_gap", "fit_up_gap"),
        only: section.only(),
        // Without it the cradle.
        carries: text(section.get("carries", "carries")),
    };
    section.finish();
    mount
}
