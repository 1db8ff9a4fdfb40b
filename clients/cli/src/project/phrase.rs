//! Stock items as one says them at the bench: `"U 5 mm S275"`, `"angle 80 x 80 x 8 mm S275"`,
//! `"fillet leg 4 mm both sides"`, and lists of numbers that share a unit.
//!
//! Every function takes the text alone and says in its error what it found and what is allowed;
//! the error goes on from the written value ("has no unit ...").

use fishplate_proto::v1;
use fishplate_quantity::written::{self, Written};
use fishplate_quantity::{Angle, Length, Stress};

use super::document::{Wire, number, tidy};

type Read<T> = Result<T, String>;

/// A number in a list: the word before it (`x`, `scatter`, empty), and the length.
#[derive(Debug, Clone)]
pub(crate) struct Named {
    pub(crate) word: String,
    pub(crate) length: Written<Length>,
}

/// A number as written (`~760`, `-3`, `1 1/4`, `1-1/4`, `3/16`) at the start, and what follows it.
fn split_number(text: &str) -> Option<(&str, &str)> {
    let start = text.trim_start();
    let digits = |from: usize| {
        let rest = &start[from..];
        let end = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
        (end > 0).then_some(from + end)
    };
    let mut at = 0;
    if let Some(rest) = start.strip_prefix('~') {
        at = start.len() - rest.trim_start().len();
    }
    if start[at..].starts_with(['-', '+']) {
        at += 1;
    }
    let mut end = digits(at)?;
    if start[end..].starts_with('/') {
        end = digits(end + 1)?;
    } else if let Some(rest) = start[end..].strip_prefix([' ', '-']) {
        // "1 1/4", "1-1/4": a fraction behind a gap still belongs to the number.
        let from = start.len() - rest.trim_start().len();
        if let Some(above) = digits(from)
            && start[above..].starts_with('/')
            && let Some(below) = digits(above + 1)
        {
            end = below;
        }
    }
    Some((&start[..end], start[end..].trim_start()))
}

/// The word of letters and signs before a number, and the rest.
fn split_word(text: &str) -> (String, &str) {
    let text = text.trim();
    let end = text.find(|c: char| !c.is_alphabetic() && c != ' ').unwrap_or(text.len());
    (text[..end].trim().to_owned(), text[end..].trim_start())
}

/// Lengths divided by commas, each with an optional word before it; one without a unit takes the
/// unit (and spread) of the next that has one: `"330, 480, 420 mm ± 1.5"`, `"x 0, z 40 mm"`.
pub(crate) fn named_lengths(text: &str) -> Read<Vec<Named>> {
    let (guessed, text) = match text.trim().strip_prefix('~') {
        Some(rest) if !rest.trim_start().starts_with(|c: char| c.is_ascii_digit() || c == '-') => {
            (true, rest)
        }
        _ => (false, text),
    };
    let mut found: Vec<Named> = Vec::new();
    let mut tail = "";
    for item in text.split(',').rev() {
        let (word, rest) = split_word(item);
        let Some((number, own)) = split_number(rest) else {
            return Err(format!("has {:?}, where a number belongs", item.trim()));
        };
        if own.starts_with(|c: char| c.is_ascii_digit()) {
            return Err(format!(
                "has {number:?} and {own:?} with nothing between them; divide numbers by commas: \"330, 480, 420 mm\""
            ));
        }
        if !own.is_empty() {
            tail = own;
        }
        let mut length =
            written::parse::<Length>(&format!("{number} {tail}")).map_err(|e| e.to_string())?;
        length.guessed |= guessed;
        found.push(Named { word, length });
    }
    found.reverse();
    Ok(found)
}

/// A column of lengths without words: `"2.9, 2.7, 2.2 mm ± 0.1"`.
pub(crate) fn column(text: &str) -> Read<Vec<Written<Length>>> {
    let items = named_lengths(text)?;
    match items.iter().find(|i| !i.word.is_empty()) {
        Some(item) => {
            Err(format!("has the word {:?}; write numbers alone: \"330, -290 mm\"", item.word))
        }
        None => Ok(items.into_iter().map(|i| i.length).collect()),
    }
}

/// A point with `axes` coordinates, named (`"x 0, z 40 mm"`) or, where all three are given, bare
/// (`"330, 480, 420 mm"`).
pub(crate) fn point(text: &str, axes: usize) -> Read<v1::Point> {
    let items = named_lengths(text)?;
    let example = match axes {
        1 => "\"x 27 mm\"",
        2 => "\"x 330, z 460 mm\"",
        _ => "\"330, 480, 420 mm\" or \"x 330, y 480, z 420 mm\"",
    };
    if items.len() != axes {
        let s = if axes == 1 { "" } else { "s" };
        return Err(format!(
            "has {} number{}; {axes} coordinate{s} belong here, such as {example}",
            items.len(),
            if items.len() == 1 { "" } else { "s" },
        ));
    }
    let bare = axes == 3 && items.iter().all(|i| i.word.is_empty());
    let mut point = v1::Point::default();
    for (item, axis) in items.iter().zip(["x", "y", "z"]) {
        let place = match if bare { axis } else { item.word.as_str() } {
            "x" => &mut point.x_mm,
            "y" => &mut point.y_mm,
            "z" => &mut point.z_mm,
            "" => return Err(format!("does not name its axes; write for example {example}")),
            word => {
                return Err(format!("has the word {word:?}, where x, y or z belongs: {example}"));
            }
        };
        if place.is_some() {
            return Err(format!("names the axis {:?} twice", item.word));
        }
        *place = Some(tidy(item.length.value.as_mm()));
        point.guessed |= item.length.guessed;
        if let Some((low, high)) = item.length.spread {
            point.spread_mm = Some(tidy((high.as_mm() - low.as_mm()) / 2.0));
        }
    }
    Ok(point)
}

/// A plane across one axis: `"y 425 mm"`.
pub(crate) fn plane(text: &str, axis: &str) -> Read<v1::Length> {
    let items = named_lengths(text)?;
    match items.as_slice() {
        [one] if one.word == axis => Ok(v1::Length::from_written(one.length)),
        _ => Err(format!("is not one place along {axis}; write for example \"{axis} 425 mm\"")),
    }
}

/// Places along x: `"x -600, x 800 mm"`, or the numbers alone.
pub(crate) fn places_x(text: &str) -> Read<Vec<f64>> {
    named_lengths(text)?
        .into_iter()
        .map(|item| match item.word.as_str() {
            "x" | "" => Ok(tidy(item.length.value.as_mm())),
            word => {
                Err(format!("has the word {word:?}; write places along x: \"x -600, x 800 mm\""))
            }
        })
        .collect()
}

/// `count` sizes with an `x` between them, in mm, and what follows: `"80 x 80 x 8 mm S275"`. A size
/// without a unit takes that of the next.
fn sizes(text: &str, count: usize, form: &str) -> Read<(Vec<f64>, String)> {
    let mut written: Vec<(String, String)> = Vec::new();
    let mut rest = text;
    loop {
        let Some((number, after)) = split_number(rest) else {
            return Err(format!("has {:?}, where a number belongs; write {form}", rest.trim()));
        };
        let (unit, after) = if is_cross(after) { (String::new(), after) } else { take_unit(after) };
        written.push((number.to_owned(), unit));
        rest = match after.strip_prefix(['x', '×']) {
            Some(next) if is_cross(after) => next,
            _ => {
                rest = after;
                break;
            }
        };
    }
    if written.len() != count {
        return Err(format!("has {} sizes; {count} belong here: {form}", written.len()));
    }
    let mut unit = String::new();
    let mut mm = Vec::new();
    for (number, own) in written.iter().rev() {
        if !own.is_empty() {
            unit.clone_from(own);
        }
        let length =
            written::parse::<Length>(&format!("{number} {unit}")).map_err(|e| e.to_string())?;
        if length.guessed {
            return Err("marks a size with \"~\"; sizes of a section are taken as new".to_owned());
        }
        mm.push(tidy(length.value.as_mm()));
    }
    mm.reverse();
    Ok((mm, rest.trim().to_owned()))
}

fn is_cross(text: &str) -> bool {
    text.strip_prefix(['x', '×'])
        .is_some_and(|next| next.starts_with(|c: char| c == ' ' || c.is_ascii_digit()))
}

/// The unit at the start: one word, or two for a gauge.
fn take_unit(text: &str) -> (String, &str) {
    let text = text.trim_start();
    let end = text.find(char::is_whitespace).unwrap_or(text.len());
    let (word, rest) = (&text[..end], text[end..].trim_start());
    if matches!(word, "ga" | "gauge")
        && let Some(after) = rest.strip_prefix("US")
    {
        return (format!("{word} US"), after.trim_start());
    }
    (word.to_owned(), rest)
}

/// The steel, the last word of a phrase, and what stands before it.
fn split_steel<'t>(text: &'t str, form: &str) -> Read<(&'t str, String)> {
    let text = text.trim();
    let missing = || format!("does not name its steel; write {form}");
    let (before, last) = text.rsplit_once(char::is_whitespace).ok_or_else(missing)?;
    let unit_or_number = last.starts_with(|c: char| c.is_ascii_digit() || c == '±')
        || ["mm", "m", "cm", "in", "ft", "ga", "gauge", "US", "SWG"].contains(&last);
    if unit_or_number { Err(missing()) } else { Ok((before.trim(), last.to_owned())) }
}

fn thickness(text: &str) -> Read<v1::Length> {
    written::parse::<Length>(text).map(v1::Length::from_written).map_err(|e| e.to_string())
}

/// `"3 mm S275"`: thickness and steel.
pub(crate) fn sheet(text: &str) -> Read<(v1::Length, String)> {
    let (before, steel) = split_steel(text, "\"3 mm S275\"")?;
    Ok((thickness(before)?, steel))
}

/// `"U 5 mm S275"`: thickness and steel of a folded U.
pub(crate) fn folded_u(text: &str) -> Read<(v1::Length, String)> {
    let form = "\"U 5 mm S275\"";
    let rest = text
        .trim()
        .strip_prefix("U ")
        .ok_or_else(|| format!("does not start with U; a folded part is written {form}"))?;
    let (before, steel) = split_steel(rest, form)?;
    Ok((thickness(before)?, steel))
}

/// A bar: `"angle 80 x 80 x 8 mm S275"`, `box`, `tube`, `flat`.
pub(crate) fn bar(text: &str) -> Read<(v1::BarSection, String)> {
    use v1::bar_section::Shape;
    let (word, rest) = split_word(text);
    let (shape, steel) = match word.as_str() {
        "angle" => {
            let form = "\"angle 80 x 80 x 8 mm S275\"";
            let (mm, steel) = sizes(rest, 3, form)?;
            let angle = v1::AngleBar { leg_a_mm: mm[0], leg_b_mm: mm[1], thickness_mm: mm[2] };
            (Shape::Angle(angle), one_steel(steel, form)?)
        }
        "box" => {
            let form = "\"box 50 x 50 x 3 mm S235\"";
            let (mm, steel) = sizes(rest, 3, form)?;
            let tube = v1::BoxBar { height_mm: mm[0], width_mm: mm[1], wall_mm: mm[2] };
            (Shape::Box(tube), one_steel(steel, form)?)
        }
        "tube" => {
            let form = "\"tube 48.3 x 3.2 mm S235\"";
            let (mm, steel) = sizes(rest, 2, form)?;
            (
                Shape::Tube(v1::TubeBar { diameter_mm: mm[0], wall_mm: mm[1] }),
                one_steel(steel, form)?,
            )
        }
        "flat" => {
            let form = "\"flat 60 x 8 mm S275\"";
            let (mm, steel) = sizes(rest, 2, form)?;
            (
                Shape::Flat(v1::FlatBar { height_mm: mm[0], width_mm: mm[1] }),
                one_steel(steel, form)?,
            )
        }
        _ => {
            return Err(
                "is not a bar that is known; write \"angle 80 x 80 x 8 mm S275\", \"box 50 x 50 x \
                 3 mm S235\", \"tube 48.3 x 3.2 mm S235\" or \"flat 60 x 8 mm S275\""
                    .to_owned(),
            );
        }
    };
    Ok((v1::BarSection { shape: Some(shape) }, steel))
}

fn one_steel(steel: String, form: &str) -> Read<String> {
    if steel.is_empty() {
        return Err(format!("does not name its steel; write {form}"));
    }
    if steel.contains(char::is_whitespace) {
        return Err(format!("has {steel:?} behind the sizes, where one steel belongs: {form}"));
    }
    Ok(steel)
}

/// A rail as new: `"channel 100 x 45 x 3 mm"`, `"box 70 x 60 x 1.6 mm"`. The side a channel is open
/// to comes from elsewhere.
pub(crate) fn rail(text: &str) -> Read<v1::rail::Section> {
    let (word, rest) = split_word(text);
    let form = match word.as_str() {
        "channel" => "\"channel 100 x 45 x 3 mm\"",
        "box" => "\"box 70 x 60 x 1.6 mm\"",
        _ => {
            return Err("is not a rail that is known; write \"channel 100 x 45 x 3 mm\" or \"box \
                        70 x 60 x 1.6 mm\": height, flange or width, wall as new"
                .to_owned());
        }
    };
    let (mm, after) = sizes(rest, 3, form)?;
    if !after.is_empty() {
        return Err(format!(
            "has {after:?} behind the sizes; its steel is written apart: steel = \"...\""
        ));
    }
    Ok(if word == "channel" {
        v1::rail::Section::Channel(v1::ChannelSection {
            height_mm: mm[0],
            flange_mm: mm[1],
            wall_mm: mm[2],
            opens: v1::Opening::Unspecified as i32,
        })
    } else {
        v1::rail::Section::Box(v1::BoxSection { height_mm: mm[0], width_mm: mm[1], wall_mm: mm[2] })
    })
}

/// `"28 x 15 mm S235"`: outside, bore and steel of a sleeve.
pub(crate) fn sleeve(text: &str) -> Read<(f64, f64, String)> {
    let form = "\"28 x 15 mm S235\": outside, bore, steel";
    let (mm, steel) = sizes(text, 2, form)?;
    Ok((mm[0], mm[1], one_steel(steel, form)?))
}

/// `"24 x 2.5 mm"`: outside diameter and thickness of a washer.
pub(crate) fn washer(text: &str) -> Read<(f64, f64)> {
    let form = "\"24 x 2.5 mm\": outside, thickness";
    let (mm, after) = sizes(text, 2, form)?;
    if after.is_empty() {
        Ok((mm[0], mm[1]))
    } else {
        Err(format!("has {after:?} behind the sizes; write {form}"))
    }
}

/// `"round 60, height 45 mm S235"`, also `square`, with `bore 13` where it has one.
pub(crate) fn block(text: &str) -> Read<(v1::Block, String)> {
    let form = "\"round 60, height 45 mm S235\", with \"bore 13\" where it has one";
    let (before, steel) = split_steel(text, form)?;
    let mut block = v1::Block::default();
    for item in named_lengths(before)? {
        let mm = tidy(item.length.value.as_mm());
        match item.word.as_str() {
            "round" if block.plan.is_none() => block.plan = Some(v1::block::Plan::RoundMm(mm)),
            "square" if block.plan.is_none() => block.plan = Some(v1::block::Plan::SquareMm(mm)),
            "height" if block.height.is_none() => {
                block.height = Some(v1::Length::from_written(item.length));
            }
            "bore" if block.bore_mm.is_none() => block.bore_mm = Some(mm),
            word => return Err(format!("has {word:?} where it does not belong; write {form}")),
        }
    }
    if block.plan.is_none() || block.height.is_none() {
        return Err(format!("is not a whole block; write {form}"));
    }
    Ok((block, steel))
}

/// `"spear x 200, z 84 mm, ends 30 deg"`: size and angle of a plate with two pointed ends.
pub(crate) fn spear(text: &str) -> Read<(v1::Point, Option<f64>)> {
    let form = "\"spear x 200, z 84 mm\", with \"ends 30 deg\" where they are not 45 deg";
    let rest = text.trim().strip_prefix("spear ").ok_or_else(|| {
        format!("is not an outline that is known; write {form}, or a list of points")
    })?;
    let (size, end) = match rest.split_once(", ends") {
        Some((size, end)) => {
            let angle = written::parse::<Angle>(end).map_err(|e| e.to_string())?;
            (size, Some(tidy(angle.value.as_deg())))
        }
        None => (rest, None),
    };
    Ok((point(size, 2)?, end))
}

/// How a fishplate ends: `"square"`, `"tapered 30 deg"`, or `"spear"`, whose angle is that of its
/// outline. Degrees to the rail.
pub(crate) fn ends(text: &str, spear: Option<f64>) -> Read<f64> {
    let form = "write \"square\", \"tapered 30 deg\", or \"spear\" on a spear outline";
    match (text.trim(), spear) {
        ("square", _) => Ok(90.0),
        ("spear", Some(angle)) => Ok(angle),
        ("spear", None) => Err(format!("is no spear by its outline; {form}")),
        (other, _) => {
            let angle = other
                .strip_prefix("tapered ")
                .ok_or_else(|| format!("is no end that is known; {form}"))?;
            let angle = written::parse::<Angle>(angle).map_err(|e| e.to_string())?;
            Ok(tidy(angle.value.as_deg()))
        }
    }
}

/// A bead.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Bead {
    /// A fillet with its leg.
    Fillet { leg: v1::Length, both_sides: bool },
    /// Plug welds of a diameter.
    Plug(v1::Length),
}

/// `"fillet leg 4 mm"`, `"fillet leg 3 mm both sides"`, `"plug 10 mm"`.
pub(crate) fn bead(text: &str) -> Read<Bead> {
    let text = text.trim();
    if let Some(rest) = text.strip_prefix("plug ") {
        return Ok(Bead::Plug(thickness(rest)?));
    }
    let Some(rest) = text.strip_prefix("fillet leg ") else {
        return Err(if text.starts_with("fillet throat") {
            "gives the throat; give the leg: a fillet with equal legs has a leg of 1.414 times \
             its throat"
                .to_owned()
        } else {
            "is not a bead that is known; write \"fillet leg 4 mm\", \"fillet leg 4 mm both \
             sides\" or \"plug 10 mm\""
                .to_owned()
        });
    };
    let (size, both_sides) = match rest.trim().strip_suffix("both sides") {
        Some(size) => (size, true),
        None => (rest.trim().strip_suffix("one side").unwrap_or(rest), false),
    };
    Ok(Bead::Fillet { leg: thickness(size)?, both_sides })
}

/// `"40 on, 40 off mm"`: stitch and gap, in mm.
pub(crate) fn stitches(text: &str) -> Read<(f64, f64)> {
    let form = "write \"40 on, 40 off mm\"";
    let items: Vec<&str> = text.split(',').collect();
    let &[on, off] = items.as_slice() else {
        return Err(format!("is not a stitch and a gap; {form}"));
    };
    let plain = |item: &str, word: &str| {
        let words: Vec<&str> = item.split_whitespace().collect();
        let without: Vec<&str> = words.iter().copied().filter(|w| *w != word).collect();
        (without.len() + 1 == words.len()).then(|| without.join(" "))
    };
    let (Some(on), Some(off)) = (plain(on, "on"), plain(off, "off")) else {
        return Err(format!("does not say how long it is on and how long off; {form}"));
    };
    match column(&format!("{on}, {off}"))?.as_slice() {
        [on, off] => Ok((tidy(on.value.as_mm()), tidy(off.value.as_mm()))),
        _ => Err(format!("is not a stitch and a gap; {form}")),
    }
}

/// A number with one of a few units, each with its size in the wire's unit: `"0.05 kg m²"`.
pub(crate) fn measure(text: &str, units: &[(&str, f64)]) -> Read<f64> {
    let known = || units.iter().map(|u| u.0).collect::<Vec<_>>().join(", ");
    let form = || {
        let example = units.first().map_or("", |u| u.0);
        if example.is_empty() {
            return "write a number without a unit, such as \"0.05\"".to_owned();
        }
        format!("write a number and its unit ({}), such as \"0.05 {example}\"", known())
    };
    let (number, unit) = split_number(text).ok_or_else(|| format!("has no number; {}", form()))?;
    if number.starts_with('~') {
        return Err("is marked with \"~\", which has no meaning here; leave it out".to_owned());
    }
    let Some((_, size)) = units.iter().find(|(name, _)| *name == unit.trim()) else {
        let unit = match unit.trim() {
            "" => "no unit".to_owned(),
            unit => format!("the unit {unit:?}"),
        };
        return Err(format!("has {unit}; {}", form()));
    };
    written::parse_number(number).map(|w| w.value * size).map_err(|e| e.to_string())
}

/// `"M14 10.9"`, `"1/2-13 grade 5"`: thread and class.
pub(crate) fn bolt(text: &str) -> Read<(String, String)> {
    let text = text.trim();
    match text.split_once(char::is_whitespace) {
        Some((thread, class)) => Ok((thread.to_owned(), class.trim().to_owned())),
        None => {
            Err("does not give thread and class; write \"M14 10.9\" or \"1/2-13 grade 5\""
                .to_owned())
        }
    }
}

/// What a bolt ends in: `"nut"`, `"thin nut"`, `"weld nut"` with `class 8`, its size and leg where
/// they are known, `"welded boss 20 x 15 mm, leg 4 mm"`, `"tapped 12 mm"`.
pub(crate) fn bolt_end(text: &str) -> Read<v1::BoltEnd> {
    let form = "write \"nut\", \"thin nut\", \"weld nut\", \"weld nut class 8, leg 3 mm\", \"welded \
                boss 20 x 15 mm, leg 4 mm\" or \"tapped 12 mm\"";
    let mut items = text.split(',').map(str::trim);
    let head = items.next().unwrap_or_default();
    let mut end = v1::BoltEnd::default();
    let kind = if head == "nut" {
        v1::BoltEndKind::Nut
    } else if head == "thin nut" {
        v1::BoltEndKind::ThinNut
    } else if let Some(rest) = head.strip_prefix("weld nut") {
        match rest.trim() {
            "" => {}
            class => match class.strip_prefix("class ") {
                Some(class) => class.trim().clone_into(&mut end.nut_class),
                None => return Err(format!("has {class:?} behind the weld nut; {form}")),
            },
        }
        v1::BoltEndKind::WeldNut
    } else if let Some(size) = head.strip_prefix("welded boss ") {
        (end.outside, end.length) = outside_and_length(size)?;
        v1::BoltEndKind::WeldedBoss
    } else if let Some(length) = head.strip_prefix("tapped ") {
        end.length = Some(thickness(length)?);
        v1::BoltEndKind::Tapped
    } else if head == "welded boss" || head == "tapped" {
        return Err(format!("does not give its size; {form}"));
    } else {
        return Err(format!("is not an end that is known; {form}"));
    };
    end.kind = kind as i32;
    let welded = matches!(kind, v1::BoltEndKind::WeldNut | v1::BoltEndKind::WeldedBoss);
    for item in items {
        let before = if let (true, Some(leg)) = (welded, item.strip_prefix("leg ")) {
            end.leg.replace(thickness(leg)?).is_some()
        } else if let (v1::BoltEndKind::WeldedBoss, Some(fu)) = (kind, item.strip_prefix("fu ")) {
            let fu = written::parse::<Stress>(fu).map_err(|e| e.to_string())?;
            end.fu.replace(v1::Stress::from_written(fu)).is_some()
        } else if kind == v1::BoltEndKind::WeldNut && item.starts_with(|c: char| c.is_ascii_digit())
        {
            let before = end.outside.is_some();
            (end.outside, end.length) = outside_and_length(item)?;
            before
        } else {
            return Err(format!("has {item:?}, which does not belong there; {form}"));
        };
        if before {
            return Err(format!("gives {item:?} where it has been given before; {form}"));
        }
    }
    if kind == v1::BoltEndKind::WeldedBoss && end.leg.is_none() {
        return Err(format!("does not give the leg of its weld; {form}"));
    }
    Ok(end)
}

/// `"20 x 15 mm"`: outside diameter and length.
fn outside_and_length(text: &str) -> Read<(Option<v1::Length>, Option<v1::Length>)> {
    let form = "\"20 x 15 mm\": outside diameter, length";
    let (mm, after) = sizes(text, 2, form)?;
    if !after.is_empty() {
        return Err(format!("has {after:?} behind the sizes; write {form}"));
    }
    let length = |value_mm: f64| Some(v1::Length { value_mm, ..v1::Length::default() });
    Ok((length(mm[0]), length(mm[1])))
}

/// `"torque wrench, scatter 1.8, thread friction 0.14"`.
pub(crate) fn tightening(text: &str) -> Read<v1::Tightening> {
    let form = "write \"torque wrench, scatter 1.8, thread friction 0.14\"";
    let mut items = text.split(',').map(str::trim);
    let method = items.next().filter(|m| !m.is_empty() && !m.starts_with("scatter"));
    let mut tightening = v1::Tightening {
        method: method.ok_or_else(|| format!("does not say how; {form}"))?.to_owned(),
        scatter: None,
        thread_friction: None,
    };
    for item in items {
        let (place, value) = if let Some(value) = item.strip_prefix("scatter ") {
            (&mut tightening.scatter, value)
        } else if let Some(value) = item.strip_prefix("thread friction ") {
            (&mut tightening.thread_friction, value)
        } else {
            return Err(format!("has {item:?}, which is not known here; {form}"));
        };
        let read = number(written::parse_number(value).map_err(|e| e.to_string())?);
        if place.replace(read).is_some() {
            return Err(format!("gives {item:?} where it has been given before; {form}"));
        }
    }
    match &tightening {
        v1::Tightening { scatter: None, .. } => Err(format!("does not give the scatter; {form}")),
        v1::Tightening { thread_friction: None, .. } => {
            Err(format!("does not give the thread friction; {form}"))
        }
        _ => Ok(tightening),
    }
}

/// `"+x, +z"`: directions of two legs.
pub(crate) fn directions(text: &str) -> Read<Vec<v1::Direction>> {
    let legs: Vec<v1::Direction> = text
        .split(',')
        .map(|word| match word.trim() {
            "+x" => Ok(v1::Direction::XPlus),
            "-x" => Ok(v1::Direction::XMinus),
            "+y" => Ok(v1::Direction::YPlus),
            "-y" => Ok(v1::Direction::YMinus),
            "+z" => Ok(v1::Direction::ZPlus),
            "-z" => Ok(v1::Direction::ZMinus),
            word => Err(format!("has {word:?}, where one of +x, -x, +y, -y, +z, -z belongs")),
        })
        .collect::<Result<_, _>>()?;
    if legs.len() == 2 {
        Ok(legs)
    } else {
        Err(format!("has {} directions; an angle has two legs: \"+x, +z\"", legs.len()))
    }
}

#[cfg(test)]
#[path = "phrase_tests.rs"]
mod tests;
