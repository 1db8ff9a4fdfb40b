//! A mount as plates: how it moves, how it is stressed, how it would buckle, what its welds and
//! bolts carry.

pub(crate) mod bolts;
pub(crate) mod buckling;
pub(crate) mod deflected;
pub(crate) mod stress;
pub(crate) mod throat;

use fishplate_proto::v1;

use crate::numbers::short;
use crate::svg::geometry::{Bounds, Point, larger};
use crate::svg::scale::{CLASSES, Steps};
use crate::svg::surface::{Fill, Surface, Wall};
use crate::svg::writer::{Anchor, Figure};

/// Width of a figure in drawing units.
const WIDTH: f64 = 440.0;
/// Size of what is drawn of a mount: the rest is for names.
const DRAWN: [f64; 2] = [400.0, 320.0];
/// Width of a step of the legend.
const STEP: f64 = 40.0;

/// A picture with what stands above it.
#[derive(Debug, Clone)]
pub(crate) struct Picture {
    pub(crate) title: String,
    pub(crate) remark: String,
    pub(crate) svg: String,
}

/// Finite, or nothing.
fn known(value: f64) -> Option<f64> {
    Some(value).filter(|v| v.is_finite())
}

/// The fill of a wall that shows nothing but itself.
fn plain(wall: &Wall) -> Fill<'static> {
    match wall.part.starts_with("rail.") {
        true => Fill::Plain("q-rail", "q-rail2"),
        false => Fill::Plain("q-brk", "q-brk2"),
    }
}

/// A name beside a surface where nothing is drawn, joined to its place by a thin line.
fn name(figure: &mut Figure, surface: &Surface<'_>, at: Point, lines: &[(String, &'static str)]) {
    const LINE: f64 = 15.0;
    let widest = lines.iter().map(|l| l.0.chars().count()).max().unwrap_or(0);
    // A handful of words.
    #[allow(clippy::cast_precision_loss)]
    let (width, height) = (8.1 * widest as f64, LINE * lines.len() as f64);
    // The leader ends at the side of the text that looks at the place.
    let end_of = |middle: Point| {
        let away = [middle[0] - at[0], middle[1] - at[1]];
        let sides = [away[0].abs() / (width / 2.0 + 3.0), away[1].abs() / (height / 2.0 + 2.0)];
        let t = 1.0 - 1.0 / larger(larger(sides[0], sides[1]), 1.0);
        [at[0] + t * away[0], at[1] + t * away[1]]
    };
    let mut best: Option<(f64, Point)> = None;
    for reach in [22.0, 36.0, 52.0, 70.0, 92.0, 118.0, 150.0, 190.0] {
        for k in 0..16u8 {
            let turn = std::f64::consts::TAU * f64::from(k) / 16.0;
            // The middle of the text, so that its nearest side is `reach` away.
            let middle = [
                at[0] + (reach + width / 2.0) * turn.cos(),
                at[1] + (reach + height / 2.0) * turn.sin(),
            ];
            let room = Bounds {
                low: [middle[0] - width / 2.0, middle[1] - height / 2.0],
                high: [middle[0] + width / 2.0, middle[1] + height / 2.0],
            };
            let outside = room.low[0] < 2.0 || room.high[0] > WIDTH - 2.0 || room.low[1] < -30.0;
            let leader = [end_of(middle), at];
            let in_the_way = figure.in_the_way(&room.grown(2.0), leader);
            let in_the_way = u32::try_from(in_the_way).unwrap_or(u32::MAX);
            let cost = 3.0 * surface.covered(&room.grown(3.0))
                + if outside { 8.0 } else { 0.0 }
                + 3.0 * f64::from(in_the_way)
                + reach / 100.0;
            if best.is_none_or(|b| cost < b.0) {
                best = Some((cost, middle));
            }
        }
    }
    let Some((_, middle)) = best else { return };
    let end = end_of(middle);
    figure.line(end, at, "lead");
    figure.keep_off(end, at);
    figure.circle(at, 2.6, "dot ring2");
    let mut y = middle[1] - height / 2.0 + 11.5;
    for (text, class) in lines {
        figure.text([middle[0], y], Anchor::Middle, class, text);
        y += LINE;
    }
}

/// The steps of a scale with every so many of their numbers, from `left` on.
fn ramp(figure: &mut Figure, [left, y]: Point, steps: Steps, every: usize, unit: &str) {
    let mut x = left;
    for class in CLASSES {
        figure.polygon(&[[x, y], [x + STEP, y], [x + STEP, y + 12.0], [x, y + 12.0]], class);
        x += STEP;
    }
    figure.polyline(&[[left, y], [x, y], [x, y + 12.0], [left, y + 12.0], [left, y]], "redge");
    for k in (0..=CLASSES.len()).step_by(every) {
        // There are eight steps.
        #[allow(clippy::cast_precision_loss)]
        let at = left + STEP * k as f64;
        figure.text([at, y + 26.0], Anchor::Middle, "t sm", &short(steps.from(k)));
    }
    if !unit.is_empty() {
        figure.text([x + 8.0, y + 11.0], Anchor::Start, "t sm", unit);
    }
}

/// What governs in a case that is shown: `Governs FL-6, FL-7.`
fn governed(view: &v1::PlateView) -> String {
    match view.row_ids.as_slice() {
        [] => String::new(),
        ids => format!(" Governs {}.", ids.join(", ")),
    }
}

/// Name of a case with its title.
pub(crate) fn case_words(response: &v1::CheckProjectResponse, name: &str) -> String {
    let title = response.cases.iter().find(|c| c.name == name).map_or("", |c| c.title.as_str());
    match (name.is_empty(), title.is_empty()) {
        (true, _) => String::new(),
        (false, true) => format!("Case {name}"),
        (false, false) => format!("{name}, {title}"),
    }
}

#[cfg(test)]
mod tests;
