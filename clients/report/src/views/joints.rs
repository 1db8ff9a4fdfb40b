//! Length of weld by joint: a plate for each design, as long as its weld.

use fishplate_proto::v1;

use crate::compare::{length, letter, weld};
use crate::names::component;
use crate::svg::geometry::{Point, larger, largest};
use crate::svg::writer::{Anchor, Figure};
use crate::units::Units;

const WIDTH: f64 = 440.0;
/// Room for the number behind the longest plate.
const NUMBER: f64 = 76.0;
/// Room for the letter before the plates.
const LETTER: f64 = 20.0;
/// The shortest plate that still shows its ends.
const SHORTEST: f64 = 14.0;

/// The chart of all joints.
pub(crate) fn draw(comparison: &v1::Comparison, units: Units) -> String {
    let lines = comparison.joints.iter().flat_map(|joint| &joint.welds);
    let longest =
        larger(largest(lines.filter_map(|w| w.line.as_ref()).map(|l| l.weld_length_mm)), 1.0);
    let per_mm = (WIDTH - NUMBER - LETTER) / longest;
    let mut figure = Figure::new();
    let mut y = 12.0;
    for joint in &comparison.joints {
        figure.text([0.0, y], Anchor::Start, "t b", &component(&joint.name));
        for (place, one) in joint.welds.iter().enumerate() {
            y += 17.0;
            figure.text([0.0, y + 1.0], Anchor::Start, "t sm", &letter(place));
            let mm = one.line.as_ref().map_or(0.0, |line| line.weld_length_mm);
            let end = LETTER + if mm > 0.0 { larger(mm * per_mm, SHORTEST) } else { 0.0 };
            if mm > 0.0 {
                figure.polygon(&plate([LETTER, y - 9.0], end), "gauge");
            }
            let text = weld(one, units).unwrap_or_else(|| "none".to_owned());
            figure.text([end + 8.0, y + 1.0], Anchor::Start, "t sm", &text);
        }
        y += 26.0;
    }
    let unit = units.unit("mm");
    let sums = comparison.designs.iter().enumerate().map(|(place, design)| {
        let all = design.bill.as_ref().map_or(0.0, |bill| bill.weld_length_mm);
        format!("{} {} {unit}", letter(place), length(all, units))
    });
    let sums = format!("in all {}", sums.collect::<Vec<_>>().join(", "));
    figure.text([0.0, y + 2.0], Anchor::Start, "t b", &sums);
    figure.finish(WIDTH, "rng", "Length of weld by joint")
}

/// A plate with its ends cut at 45°, from its upper left corner to `end`.
fn plate([x, y]: Point, end: f64) -> [Point; 6] {
    [
        [x, y + 5.0],
        [x + 5.0, y],
        [end - 5.0, y],
        [end, y + 5.0],
        [end - 5.0, y + 10.0],
        [x + 5.0, y + 10.0],
    ]
}
