//! The trade-off drawn: each design a point, none better in both measures.

use fishplate_proto::v1::{Measure, SizedDesign};

use super::{measure, number, value};
use crate::numbers::significant;
use crate::svg::geometry::{larger, smaller};
use crate::svg::writer::{Anchor, Figure};
use crate::units::Units;

/// Size of the field, units of the figure.
const FIELD: [f64; 2] = [640.0, 300.0];
/// Where its lower left corner stands.
const CORNER: [f64; 2] = [64.0, 330.0];
/// Ticks on an axis.
const TICKS: u8 = 4;

/// The trade-off; a design that holds only as far as it was checked is an empty point.
pub(super) fn front(designs: &[SizedDesign], by: [Measure; 2], units: Units) -> String {
    let mut figure = Figure::new();
    let ranges = by.map(|by| range(designs.iter().map(|design| number(design, by))));
    let place = |design: &SizedDesign| {
        let share = |axis: usize| {
            let (low, high) = ranges[axis];
            (number(design, by[axis]) - low) / (high - low)
        };
        [CORNER[0] + share(0) * FIELD[0], CORNER[1] - share(1) * FIELD[1]]
    };
    axes(&mut figure, by, ranges, units);
    // From one design to the next nothing holds that is better: the front goes in steps.
    for pair in designs.windows(2) {
        let (a, b) = (place(&pair[0]), place(&pair[1]));
        figure.polyline(&[a, [b[0], a[1]], b], "thin");
    }
    for design in designs {
        let at = place(design);
        figure.circle(at, 4.0, if design.open { "highend" } else { "dot" });
    }
    for (design, anchor) in designs
        .first()
        .map(|d| (d, Anchor::Start))
        .into_iter()
        .chain(designs.last().map(|d| (d, Anchor::End)))
    {
        let at = place(design);
        let text = value(design, by[0], units);
        let lift = if anchor == Anchor::Start { [8.0, 4.0] } else { [-2.0, -10.0] };
        figure.text([at[0] + lift[0], at[1] + lift[1]], anchor, "t num", &text);
    }
    let [first, second] = by.map(|by| measure(by).0);
    figure.finish(CORNER[0] + FIELD[0] + 20.0, "pic", &format!("{first} against {second}"))
}

/// The ends of an axis: those of the values, with a little room.
fn range(values: impl Iterator<Item = f64>) -> (f64, f64) {
    let (low, high) =
        values.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (smaller(l, v), larger(h, v)));
    let room = larger(0.05 * (high - low), 1e-6 * larger(high.abs(), 1.0));
    (low - room, high + room)
}

fn axes(figure: &mut Figure, by: [Measure; 2], ranges: [(f64, f64); 2], units: Units) {
    let [x, y] = CORNER;
    figure.line([x, y], [x + FIELD[0], y], "scribe");
    figure.line([x, y], [x, y - FIELD[1]], "scribe");
    for tick in 0..=TICKS {
        let share = f64::from(tick) / f64::from(TICKS);
        for (axis, (low, high)) in ranges.into_iter().enumerate() {
            let (value, _) = units.of(low + share * (high - low), measure(by[axis]).1);
            let text = significant(value);
            if axis == 0 {
                let at = x + share * FIELD[0];
                figure.line([at, y], [at, y - FIELD[1]], "grid");
                figure.text([at, y + 18.0], Anchor::Middle, "t sm", &text);
            } else {
                let at = y - share * FIELD[1];
                figure.line([x, at], [x + FIELD[0], at], "grid");
                figure.text([x - 8.0, at + 4.0], Anchor::End, "t sm", &text);
            }
        }
    }
    let name = |by: Measure| {
        let (words, wire) = measure(by);
        match units.unit(wire) {
            "" => words.to_owned(),
            unit => format!("{words}, {unit}"),
        }
    };
    figure.text([x + FIELD[0], y + 38.0], Anchor::End, "t b", &name(by[0]));
    figure.text([x, y - FIELD[1] - 14.0], Anchor::Start, "t b", &name(by[1]));
}
