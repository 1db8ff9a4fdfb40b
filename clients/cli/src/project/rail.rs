//! `[steel.*]`, `[rail.*]`.

use fishplate_proto::v1;
use fishplate_quantity::Length;
use fishplate_quantity::written::Written;

use super::document::{Entry, Section, Wire, tidy};
use super::{condition, phrase};

pub(super) fn steel((name, section): (String, Section<'_>)) -> v1::Steel {
    let steel = v1::Steel {
        name,
        fy: section.need_quantity("fy", "fy", "\"~235 MPa\""),
        fu: section.need_quantity("fu", "fu", "\"~360 MPa\""),
        beta_w: section.number("beta_w", "beta_w"),
    };
    section.finish();
    steel
}

pub(super) fn rail((name, section): (String, Section<'_>)) -> v1::Rail {
    let plane = |key, axis: &str, example| {
        section
            .need(key, key, example)
            .and_then(|entry| entry.read(|text| phrase::plane(text, axis)))
    };
    let mut shape =
        section.need("section", "section", "\"channel 100 x 45 x 3 mm\"").and_then(|entry| {
            entry.also(&format!("{}.channel", section.path));
            entry.also(&format!("{}.box", section.path));
            entry.read(phrase::rail)
        });
    if shape.is_none() {
        // Whether `opens` belongs depends on the shape: it is no fault while that is not known.
        let _ = section.get("opens", "channel.opens");
    }
    if let Some(v1::rail::Section::Channel(channel)) = &mut shape {
        let sides = [("inward", v1::Opening::Inward), ("outward", v1::Opening::Outward)];
        channel.opens = section
            .need("opens", "channel.opens", "\"inward\"")
            .and_then(|opens| opens.choice(&sides))
            .unwrap_or(v1::Opening::Unspecified) as i32;
    }
    let steel = section.need("steel", "steel", "\"rail-steel\"");
    let (readings, readings_right) = readings(&section);
    let rail = v1::Rail {
        name,
        section: shape,
        steel: steel.and_then(|s| s.text().map(str::to_owned)).unwrap_or_default(),
        web: plane("web", "y", "\"y 425 mm\""),
        bottom: plane("bottom", "z", "\"z 420 mm\""),
        from: plane("from", "x", "\"x -700 mm\""),
        to: plane("to", "x", "\"x 900 mm\""),
        readings,
        readings_right,
        held_x_mm: section
            .get("held", "held_x_mm")
            .and_then(|held| held.read(phrase::places_x))
            .unwrap_or_default(),
        only: section.only(),
        pitting_factor: section.number("pitting", "pitting_factor"),
        coat: section.quantity("coat", "coat"),
        corrosion: section
            .get("corrosion", "corrosion")
            .and_then(|entry| entry.read(condition::corrosion)),
        damage: section.get("damage", "damage").map_or(Vec::new(), |entry| {
            entry.list().iter().filter_map(|item| item.read(condition::damage)).collect()
        }),
    };
    section.finish();
    rail
}

/// The columns `read_at`, `web_is`, `web_is_right`: as many readings as places; or a list with the
/// readings of one place in each entry.
fn readings(section: &Section<'_>) -> (Vec<v1::Reading>, Vec<v1::Reading>) {
    let at = section.need("read_at", "readings", "\"330, -290 mm\"");
    let stations = at.and_then(|at| at.read(phrase::places_x));
    let column = |key, field: &str, needed: bool| {
        let entry = if needed {
            section.need(key, field, "\"2.2, 2.4 mm\"")
        } else {
            section.get(key, field)
        };
        let Some(entry) = entry else { return Vec::new() };
        let places: Vec<(Entry<'_>, Vec<Written<Length>>)> = if entry.is_list() {
            let items = entry.list().into_iter();
            items.filter_map(|item| item.read(phrase::column).map(|list| (item, list))).collect()
        } else {
            let Some(thickness) = entry.read(phrase::column) else { return Vec::new() };
            thickness.into_iter().map(|one| (entry.clone(), vec![one])).collect()
        };
        let Some(stations) = &stations else { return Vec::new() };
        if places.len() != stations.len() {
            entry.fault(
                format!(
                    "`{key}` has {} readings, `read_at` has {} places",
                    places.len(),
                    stations.len()
                ),
                "write one reading for each place, in the same order; several of one place stand \
                 in one entry of a list: [\"2.2, 2.3, 2.1 mm\", \"2.4 mm\"]",
            );
            return Vec::new();
        }
        let mut made = Vec::new();
        for (x, (item, list)) in stations.iter().zip(places) {
            for thickness in list {
                let path = format!("{}.{field}[{}]", section.path, made.len());
                item.also(&path);
                made.push(v1::Reading {
                    x_mm: tidy(*x),
                    thickness: Some(v1::Length::from_written(thickness)),
                });
            }
        }
        made
    };
    (column("web_is", "readings", true), column("web_is_right", "readings_right", false))
}
