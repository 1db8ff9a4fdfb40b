//! Whether an old rail may be built on at all: what it has lost, what is broken, what is too thin to
//! weld to.

use fishplate_quantity::{Dimension, Provenance, Source, step};
use fishplate_strength::clause::{Checked, NotChecked};
use fishplate_strength::remaining::remaining;

use super::{Draft, Setting};
use crate::answer::{RowKind, Tale};
use crate::describe::WeldPath;
use crate::design::{Body, BodyId, Design, Form, Station, survey};
use crate::load_path::Interface;

/// More loss than this at a mount calls for reinforcement.
const MOST_LOSS: Source =
    Source::new("TB 9-2510-242-40", "wear of trailer frames: 15 %, no more at supports");
/// How far from a mount a hole, a crack or a patch counts, m (United Kingdom, MOT inspection
/// manual, prescribed areas: 30 cm).
const NEAR: f64 = 0.3;
/// A bead burns through thinner metal, m (common practice, no source).
const LEAST_TO_WELD: f64 = 1.2e-3;

/// The rows of the places where a mount's load enters a rail.
pub(super) fn drafts<'a>(setting: Setting<'a>, mount: usize, out: &mut Vec<Draft<'a>>) {
    for interface in setting.path.interfaces.iter().filter(|f| f.mount == mount) {
        let rail = setting.design.body(interface.far);
        let Form::Rail { damage, .. } = &rail.form else { continue };
        let (from, to) = under(setting.design, interface);
        if let Some(station) = rail.measured_under(from, to) {
            worn(setting, mount, interface, station, out);
        }
        for broken in damage {
            let away = if broken.x < from { from - broken.x } else { broken.x - to };
            if away > NEAR {
                continue;
            }
            let reason = format!(
                "a {} at x {:.0} mm, within {:.0} mm of the foot of the mount: cut back to sound \
                 metal, replace the piece with a seam all round, and enter the new wall",
                broken.kind.word(),
                broken.x * 1e3,
                NEAR * 1e3
            );
            let what = format!("{} near a mount", broken.kind.word());
            let mut draft = Draft::not_checked(
                Some(mount),
                rail.name.clone(),
                (what.as_str(), what.as_str()),
                reason,
            );
            draft.kind = RowKind::Detailing;
            out.push(draft.at(interface));
        }
    }
}

/// Range along the rail of what stands on it, with twice its thickness each side (common practice,
/// no source), m.
fn under(design: &Design, interface: &Interface) -> (f64, f64) {
    let near = design.body(interface.near);
    let mut range = (interface.about.x, interface.about.x);
    let margin = match &near.form {
        Form::Plate { thickness, .. } | Form::Folded { thickness, .. } => 2.0 * thickness,
        _ => 0.0,
    };
    for wall in near.walls.iter().filter(|w| w.solid) {
        let (low, high) = wall.prism.range(0);
        range.0 = fishplate_quantity::algebra::smaller(range.0, low - margin);
        range.1 = fishplate_quantity::algebra::larger(range.1, high + margin);
    }
    range
}

fn worn<'a>(
    setting: Setting<'a>,
    mount: usize,
    interface: &'a Interface,
    station: &'a Station,
    out: &mut Vec<Draft<'a>>,
) {
    let rail = setting.design.body(interface.far);
    let Some(described) = setting
        .project
        .rails
        .iter()
        .enumerate()
        .find(|(i, _)| rail.path == format!("rails[{i}]"))
        .map(|(_, r)| r)
    else {
        return;
    };
    let plate = plated(setting.design, interface.far, station.x);
    let plated = plate.map(|p| p.base.clone());
    let reinforced = plated.is_some();
    let list = if rail.twin && !station.taken_over { "readings_right" } else { "readings" };
    let path = format!("{}.{list}[{}].thickness", rail.path, station.reading);
    let origin = if station.guessed { Provenance::Guessed(path) } else { Provenance::Given(path) };
    let mut draft = Draft::not_checked(
        Some(mount),
        rail.name.clone(),
        ("loss of the old wall under the mount", "rail wall: loss"),
        "",
    );
    draft.blocked = None;
    draft.kind = RowKind::Detailing;
    draft.clause = MOST_LOSS;
    draft.tale = Tale::new(
        format!("{} has lost too much of its wall", rail.base),
        "what is left carries the mount alone",
        "a plate welded all round over the place, or a new piece of rail",
    );
    draft.ask = Box::new(move |_, trace| {
        let survey = survey(described, &station.readings, origin.clone());
        let found = remaining(&survey, trace);
        let loss_share = found.loss;
        // Where a plate reinforces the wall, more loss is no stop; the wall is checked as it is.
        let most = if reinforced { 1.0 } else { 0.15 };
        let loss_max =
            trace.input("loss_max", "most loss that may stay", Dimension::Ratio, most, || {
                Provenance::Table(if reinforced {
                    "reinforced by a plate welded all round".to_owned()
                } else {
                    "TB 9-2510-242-40: 15 % without reinforcement".to_owned()
                })
            });
        step!(trace, Ratio, MOST_LOSS, "loss over the most that may stay";
            utilisation(loss_share, loss_max) = loss_share / loss_max);
        Checked::new(loss_share, loss_max, Dimension::Ratio, utilisation)
    });
    let mut draft = draft.at(interface).note(format!(
        "at x {:.0} mm, {} of {:.1} mm as new",
        station.x * 1e3,
        if station.readings.len() < 3 {
            "fewer than three readings, the least taken".to_owned()
        } else {
            format!("{} readings", station.readings.len())
        },
        described.section.wall() * 1e3
    ));
    if let Some(plate) = plated {
        draft = draft.note(format!("{plate}, welded all round, reinforces it"));
    }
    out.push(draft);
}

/// A plate on the rail, welded to it all round, that covers a station.
fn plated(design: &Design, rail: BodyId, x: f64) -> Option<&Body> {
    let welds = design
        .welds
        .iter()
        .filter(|w| w.to == rail && w.along == WeldPath::AllRound && w.throat().is_some());
    welds.map(|w| design.body(w.of)).find(|body| {
        let Form::Plate { mouth: false, on, .. } = &body.form else { return false };
        let (low, high) = body.walls[0].prism.range(0);
        on.body == rail && low <= x && x <= high
    })
}

/// Refuses a bead on a rail that would burn through.
pub(super) fn weldable(body: &Body, (from, to): (f64, f64)) -> Result<(), NotChecked> {
    match body.measured_under(from, to) {
        Some(station) if station.sound < LEAST_TO_WELD => Err(NotChecked::NoRule {
            reason: format!(
                "{} has {:.2} mm of sound metal at x {:.0} mm: a bead burns through less than \
                 {:.1} mm; weld farther out or replace the piece",
                body.name,
                station.sound * 1e3,
                station.x * 1e3,
                LEAST_TO_WELD * 1e3
            ),
        }),
        _ => Ok(()),
    }
}
