//! What remains of a rail's wall at each station, and what is broken.

use fishplate_quantity::trace::significant;
use fishplate_quantity::{Faults, Provenance, Trace};
use fishplate_strength::remaining::{Remaining, Survey, remaining};

use super::body::Station;
use super::prism::TOUCH;
use crate::describe::{Damage, Rail, Reading, Side};

/// Nothing is built on a thinner wall, m (common practice, no source).
const LEAST: f64 = 0.3e-3;

/// What is asked about the readings of one station.
pub(crate) fn survey<'r>(rail: &Rail, readings: &'r [f64], origin: Provenance) -> Survey<'r> {
    Survey {
        as_new: rail.section.wall(),
        readings,
        coat: rail.coat.map_or(0.0, |c| c.value.si()),
        pitting: rail.pitting.map_or(1.0, |p| p.value),
        allowance: rail.corrosion,
        origin,
    }
}

/// The stations of a list of readings, in ascending x.
pub(super) fn stations(
    rail: &Rail,
    (path, field): (&str, &str),
    list: &[Reading],
    taken_over: bool,
    faults: &mut Faults,
) -> Vec<Station> {
    let guessed = rail.coat.is_some_and(|c| c.guessed) || rail.pitting.is_some_and(|p| p.guessed);
    let mut stations: Vec<Station> = Vec::new();
    for (reading, r) in list.iter().enumerate() {
        let t = r.thickness.value.si();
        if let Some(station) = stations.iter_mut().find(|s| (s.x - r.x).abs() < TOUCH) {
            station.readings.push(t);
            station.guessed |= r.thickness.guessed;
            continue;
        }
        stations.push(Station {
            x: r.x,
            thickness: t,
            sound: t,
            loss: 0.0,
            readings: vec![t],
            way: String::new(),
            guessed: r.thickness.guessed || taken_over || guessed,
            reading,
            taken_over,
        });
    }
    for station in &mut stations {
        let at = format!("{path}.{field}[{}].thickness", station.reading);
        let survey = survey(rail, &station.readings, Provenance::Given(at.clone()));
        let found = remaining(&survey, &mut Trace::off());
        let taken = (found.design - station.readings[0]).abs() < 1e-12;
        if station.readings.len() > 1 || !taken {
            station.way = way(rail, &survey, &found);
        }
        (station.thickness, station.sound, station.loss) = (found.design, found.sound, found.loss);
        if found.design < LEAST {
            faults.add(
                at,
                format!("{}: {:.2} mm are left", way(rail, &survey, &found), found.design * 1e3),
                format!("at least {:.1} mm to build on", LEAST * 1e3),
                "cut the wall out and replace it; or tell it as `damage` and leave the reading out",
            );
        }
    }
    stations.sort_by(|a, b| a.x.total_cmp(&b.x));
    stations
}

/// The way from the readings to the thickness of the design, in words.
fn way(rail: &Rail, survey: &Survey<'_>, found: &Remaining) -> String {
    let mm = |m: f64| format!("{} mm", significant(m * 1e3, 3));
    let readings: Vec<String> = survey.readings.iter().map(|t| significant(t * 1e3, 3)).collect();
    let mut text = format!("read {} mm", readings.join(", "));
    if survey.coat > 0.0 {
        text.push_str(&format!(" over a coat of {}", mm(survey.coat)));
    }
    text.push_str(&format!("; mean {}", mm(found.mean)));
    let low = if survey.readings.len() < 3 { "least" } else { "5 % low" };
    text.push_str(&format!(", {low} {}", mm(found.low)));
    if survey.pitting > 1.0 {
        text.push_str(&format!(", in the pits {}", mm(found.sound)));
    }
    if let Some(allowance) = rail.corrosion {
        text.push_str(&format!(
            ", after {} years of {} with {} outside and {} inside {}",
            significant(allowance.years, 3),
            allowance.class.name(),
            allowance.faces[0].word(),
            allowance.faces[1].word(),
            mm(found.design)
        ));
    }
    text
}

/// The damage on a side.
pub(super) fn damage(rail: &Rail, side: Side) -> Vec<Damage> {
    rail.damage.iter().filter(|d| d.side.is_none_or(|s| s == side)).copied().collect()
}
