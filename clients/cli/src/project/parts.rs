//! `[part.*]`: plates, folded Us, bars, gussets, sleeves, blocks.

use fishplate_proto::v1;
use fishplate_proto::v1::part::Form;

use super::document::{Entry, Section};
use super::phrase;

const FORMS: [&str; 6] = ["plate", "folded", "bar", "gusset", "sleeve", "block"];

pub(super) fn part((name, section): (String, Section<'_>)) -> v1::Part {
    let datums = section.get("datum", "datums").map_or(Vec::new(), |d| d.texts(None));
    let only = section.only();
    let given: Vec<&str> = FORMS.into_iter().filter(|f| section.has(f)).collect();
    let (form, steel) = match given.as_slice() {
        ["plate"] => plate(&section),
        ["folded"] => folded(&section),
        ["bar"] => bar(&section),
        ["gusset"] => gusset(&section),
        ["sleeve"] => sleeve(&section),
        ["block"] => block(&section),
        others => {
            let what = if others.is_empty() {
                format!("{} does not say what it is", section.label)
            } else {
                format!("{} is said to be {}", section.label, others.join(" and "))
            };
            section.fault(
                what,
                "give one of: plate = \"3 mm S275\", folded = \"U 5 mm S275\", bar = \"angle 80 x \
                 80 x 8 mm S275\", gusset = \"4 mm S275\", sleeve = \"28 x 15 mm S235\", block = \
                 \"round 60, height 45 mm S235\"",
            );
            return v1::Part { name, ..v1::Part::default() };
        }
    };
    section.finish();
    v1::Part { name, datums, only, steel: steel.unwrap_or_default(), form }
}

type Made = (Option<Form>, Option<String>);

/// The phrase that says what the part is; it fills the steel and the fields of `fields`.
fn stock<T>(
    section: &Section<'_>,
    key: &'static str,
    fields: &[&str],
    read: impl Fn(&str) -> Result<(T, String), String>,
) -> (Option<T>, Option<String>) {
    let Some(entry) = section.get(key, key) else { return (None, None) };
    entry.also(&format!("{}.steel", section.path));
    for field in fields {
        entry.also(&format!("{}.{key}.{field}", section.path));
    }
    entry.read(read).map_or((None, None), |(value, steel)| (Some(value), Some(steel)))
}

fn need_point(
    section: &Section<'_>,
    key: &'static str,
    field: &str,
    axes: usize,
    example: &str,
) -> Option<v1::Point> {
    section.need(key, field, example)?.read(|text| phrase::point(text, axes))
}

fn need_text(section: &Section<'_>, key: &'static str, field: &str, example: &str) -> String {
    section
        .need(key, field, example)
        .and_then(|entry| entry.text().map(str::to_owned))
        .unwrap_or_default()
}

/// Points of a list, or one point.
pub(super) fn points(entry: &Entry<'_>, axes: usize) -> Vec<v1::Point> {
    entry.list().iter().filter_map(|item| item.read(|text| phrase::point(text, axes))).collect()
}

fn plate(section: &Section<'_>) -> Made {
    let (thickness, steel) = stock(section, "plate", &["thickness"], phrase::sheet);
    let on = need_text(section, "on", "plate.on", "\"rail.frame.web.outboard\"");
    let mut plate = v1::Plate { thickness, on, ..v1::Plate::default() };
    // A plate over the mouth of a channel is placed by its ends; any other by its centre.
    if plate.on.ends_with(".mouth") {
        let end = |key, field, example| {
            section
                .need(key, field, example)
                .and_then(|entry| entry.read(|text| phrase::plane(text, "x")))
        };
        plate.from = end("from", "plate.from", "\"x 80 mm\"");
        plate.to = end("to", "plate.to", "\"x 580 mm\"");
        plate.outline = v1::Outline::Rectangle as i32;
        return (Some(Form::Plate(plate)), steel);
    }
    plate.centre = need_point(section, "centre", "plate.centre", 2, "\"x 330, z 460 mm\"");
    let outline = section.get("outline", "plate.outline");
    let size = section.get("size", "plate.size");
    match (outline, size) {
        (Some(outline), size) => {
            if let Some(size) = size {
                size.fault("`size` and `outline` both give the outline", "leave one of them out");
            }
            if outline.is_list() {
                plate.outline = v1::Outline::Points as i32;
                plate.corners = points(&outline, 2);
            } else if let Some((size, ends)) = outline.read(phrase::spear) {
                plate.outline = v1::Outline::Spear as i32;
                plate.size = Some(size);
                plate.end_angle_deg = ends;
            }
        }
        (None, Some(size)) => {
            plate.outline = v1::Outline::Rectangle as i32;
            plate.size = size.read(|text| phrase::point(text, 2));
        }
        (None, None) => section.fault(
            format!("{} does not say how large the plate is", section.label),
            "add size = \"x 120, z 84 mm\" or outline = \"spear x 200, z 84 mm\"",
        ),
    }
    if let Some(ends) = section.get("ends", "plate.fishplate_ends_deg") {
        let spear = plate.outline == v1::Outline::Spear as i32;
        let cut = spear.then(|| plate.end_angle_deg.unwrap_or(45.0));
        plate.fishplate_ends_deg = ends.read(|text| phrase::ends(text, cut));
    }
    (Some(Form::Plate(plate)), steel)
}

fn folded(section: &Section<'_>) -> Made {
    let (thickness, steel) = stock(section, "folded", &["thickness"], phrase::folded_u);
    let sides = [("up", v1::FoldOpening::Up), ("down", v1::FoldOpening::Down)];
    let folded = v1::FoldedU {
        thickness,
        on: need_text(section, "on", "folded.on", "\"rail.frame.web.outboard\""),
        centre: need_point(section, "centre", "folded.centre", 2, "\"x 330, z 460 mm\""),
        foot: need_point(section, "foot", "folded.foot", 2, "\"x 60, z 80 mm\""),
        reach: section.need_quantity("reach", "folded.reach", "\"85 mm\""),
        open: section
            .need("open", "folded.open", "\"up\"")
            .and_then(|open| open.choice(&sides))
            .unwrap_or(v1::FoldOpening::Unspecified) as i32,
    };
    (Some(Form::Folded(folded)), steel)
}

fn bar(section: &Section<'_>) -> Made {
    let (shape, steel) = stock(section, "bar", &["section"], phrase::bar);
    let angle =
        matches!(shape, Some(v1::BarSection { shape: Some(v1::bar_section::Shape::Angle(_)), .. }));
    // An angle is placed by its heel and the way of its legs, anything else by its centre line.
    let (key, example) =
        if angle { ("heel", "\"x -335, z 436 mm\"") } else { ("axis", "\"x -300, z 380 mm\"") };
    let line = need_point(section, key, "bar.line", 2, example);
    let legs = if angle {
        section
            .need("legs", "bar.legs", "\"+x, +z\"")
            .and_then(|legs| legs.read(phrase::directions))
            .unwrap_or_default()
    } else {
        Vec::new()
    };
    let between = section.need(
        "between",
        "bar.between",
        "[\"part.cross-end.left.inboard\", \"part.cross-end.right.inboard\"]",
    );
    let bar = v1::Bar {
        section: shape,
        line,
        legs: legs.into_iter().map(|leg| leg as i32).collect(),
        between: between.map_or(Vec::new(), |b| b.texts(Some(2))),
    };
    (Some(Form::Bar(bar)), steel)
}

fn gusset(section: &Section<'_>) -> Made {
    let (thickness, steel) = stock(section, "gusset", &["thickness"], phrase::sheet);
    let corner = section.need(
        "corner",
        "gusset.corner",
        "[\"rail.frame.web.outboard\", \"part.front-bracket.floor\"]",
    );
    let gusset = v1::Gusset {
        thickness,
        corner: corner.map_or(Vec::new(), |c| c.texts(Some(2))),
        legs: need_point(section, "legs", "gusset.legs", 2, "\"z 60, y 55 mm\""),
        at: section
            .need("at", "gusset.at", "[\"x -27 mm\", \"x 27 mm\"]")
            .map_or(Vec::new(), |at| points(&at, 1)),
    };
    (Some(Form::Gusset(gusset)), steel)
}

fn sleeve(section: &Section<'_>) -> Made {
    let both = |text: &str| phrase::sleeve(text).map(|(o, b, steel)| ((o, b), steel));
    let (sizes, steel) = stock(section, "sleeve", &["outside_mm", "bore_mm"], both);
    let (outside_mm, bore_mm) = sizes.unwrap_or_default();
    let spans =
        section.need("spans", "sleeve.spans", "[\"rail.frame.web.inboard\", \"part.front-box\"]");
    let sleeve = v1::Sleeve {
        outside_mm,
        bore_mm,
        spans: spans.map_or(Vec::new(), |s| s.texts(Some(2))),
        at: section
            .need("at", "sleeve.at", "[\"x 260, z 460 mm\"]")
            .map_or(Vec::new(), |at| points(&at, 2)),
        proud: section.quantity("proud", "sleeve.proud"),
        length: section.quantity("length", "sleeve.length"),
    };
    (Some(Form::Sleeve(sleeve)), steel)
}

fn block(section: &Section<'_>) -> Made {
    let fields = ["round_mm", "square_mm", "height", "bore_mm"];
    let (block, steel) = stock(section, "block", &fields, phrase::block);
    let on = need_text(section, "on", "block.on", "\"part.front-plate.under\"");
    let centre = need_point(section, "centre", "block.centre", 2, "\"x 360, y 485 mm\"");
    let block = block.map(|block| v1::Block { on, centre, ..block });
    (block.map(Form::Block), steel)
}
