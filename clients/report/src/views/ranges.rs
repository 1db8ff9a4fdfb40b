//! Which guess matters: how far each one moves the highest utilisation.

use crate::numbers::{fixed, utilisation};
use crate::svg::geometry::{Bounds, larger, round_below, smaller};
use crate::svg::writer::{Anchor, Figure};

const WIDTH: f64 = 430.0;
const ROW: f64 = 46.0;

/// One input that runs over its range.
#[derive(Debug, Clone)]
pub(crate) struct Range {
    pub(crate) name: String,
    pub(crate) value: String,
    /// Highest utilisation at the low end of the input.
    pub(crate) low: f64,
    /// Highest utilisation at its high end.
    pub(crate) high: f64,
}

impl Range {
    pub(crate) fn span(&self) -> f64 {
        (self.high - self.low).abs()
    }
}

/// The chart; `entered` is the highest utilisation as the project stands.
pub(crate) fn draw(ranges: &[Range], entered: Option<f64>) -> String {
    let ends = ranges.iter().flat_map(|r| [r.low, r.high]).chain(entered);
    let mut all = Bounds::of(ends.map(|u| [u]));
    // The limit is on the scale where it does not crush what is to be compared.
    let limit = (all.low[0] - all.size(0)..=all.high[0] + all.size(0)).contains(&1.0);
    if limit {
        all.add([1.0]);
    }
    let (low, high) = (all.low[0], larger(all.high[0], all.low[0] + 0.1));
    let x = |u: f64| 52.0 + (u - low) / (high - low) * (WIDTH - 104.0);
    let mut figure = Figure::new();
    if limit {
        figure.text([x(1.0), 13.0], Anchor::Middle, "t sm b", "limit 1.00");
        figure.line([x(1.0), 17.0], [x(1.0), 30.0], "scribe");
        figure.circle([x(1.0), 18.0], 2.2, "dot");
    } else {
        let (at, anchor, side) = if low > 1.0 {
            (6.0, Anchor::Start, "left")
        } else {
            (WIDTH - 6.0, Anchor::End, "right")
        };
        let text = format!("limit 1.00 lies off to the {side}");
        figure.text([at, -4.0], anchor, "t sm b", &text);
    }
    if let Some(u) = entered {
        let near = limit && (x(u) - x(1.0)).abs() < 150.0;
        let y = if near { -4.0 } else { 13.0 };
        let text = format!("{} as entered", utilisation(u, u > 1.0));
        let at = larger(smaller(x(u), WIDTH - 60.0), 60.0);
        figure.text([at, y], Anchor::Middle, "t sm b", &text);
        figure.line([x(u), y + 4.0], [x(u), 30.0], "basel");
    }
    let mut y = 59.0;
    for range in ranges {
        let (a, b) = (x(smaller(range.low, range.high)), x(larger(range.low, range.high)));
        figure.text(
            [6.0, y - 13.0],
            Anchor::Start,
            "t halo",
            &format!("{}: {}", range.name, range.value),
        );
        if limit {
            figure.line([x(1.0), y - 5.0], [x(1.0), y + 9.0], "scribe");
            figure.circle([x(1.0), y - 5.0], 2.0, "dot");
        }
        if let Some(u) = entered {
            figure.line([x(u), y - 7.0], [x(u), y + 9.0], "basel");
        }
        let plate =
            [[a - 4.0, y], [a, y - 4.0], [b, y - 4.0], [b + 4.0, y], [b, y + 4.0], [a, y + 4.0]];
        figure.polygon(&plate, "gauge g");
        figure.circle([x(range.low), y], 3.0, "lowend");
        figure.circle([x(range.high), y], 3.0, "highend");
        let ends = [smaller(range.low, range.high), larger(range.low, range.high)]
            .map(|u| utilisation(u, u > 1.0));
        figure.text([a - 8.0, y + 4.0], Anchor::End, "t num halo", &ends[0]);
        figure.text([b + 8.0, y + 4.0], Anchor::Start, "t num halo", &ends[1]);
        y += ROW;
    }
    scale(&mut figure, y - 14.0, [low, high], x);
    figure.finish(WIDTH, "rng", "How far each guessed input moves the highest utilisation")
}

/// The scale under the bars, with round numbers.
fn scale(figure: &mut Figure, y: f64, [low, high]: [f64; 2], x: impl Fn(f64) -> f64) {
    let step = round_below((high - low) / 3.0);
    figure.line([x(low), y], [x(high), y], "dim");
    let mut u = (low / step).ceil() * step;
    // A handful of marks: the step is at least a ninth of the scale.
    while u <= high + 1e-9 {
        figure.circle([x(u), y], 2.0, "dot");
        figure.text([x(u), y + 17.0], Anchor::Middle, "t sm", &fixed(u, 2));
        u += step;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_ends_are_printed_and_the_low_end_of_the_input_may_be_the_high_result() {
        let range =
            Range { name: "web".to_owned(), value: "2.2 mm".to_owned(), low: 2.21, high: 1.28 };
        let svg = draw(&[range], Some(1.65));
        assert!(
            svg.contains(">1.28<") && svg.contains(">2.21<") && svg.contains("1.65 as entered")
        );
        // By hand: the scale runs from 1 at 52 to 2.21 at 378; 1.28 is at 52 + 0.28/1.21·326.
        assert!(svg.contains(r#"<circle cx="378" cy="59" r="3" class="lowend"/>"#), "{svg}");
        assert!(svg.contains(r#"<circle cx="127.4" cy="59" r="3" class="highend"/>"#));
    }

    #[test]
    fn a_limit_far_off_does_not_crush_the_bars() {
        let range =
            Range { name: "ratio".to_owned(), value: "0.72".to_owned(), low: 3.40, high: 3.60 };
        let svg = draw(&[range], Some(3.5));
        assert!(svg.contains("limit 1.00 lies off to the left"));
        // By hand: the bar fills the scale from 52 to 378, and a third of 0.20 rounds to 0.05.
        assert!(svg.contains(r#"<circle cx="52" cy="59" r="3" class="lowend"/>"#), "{svg}");
        assert!(svg.contains(">3.45<") && svg.contains(">3.55<"));
    }

    #[test]
    fn one_range_without_width_is_still_a_chart() {
        let range = Range { name: String::new(), value: String::new(), low: 1.0, high: 1.0 };
        assert!(!draw(&[range], None).contains("NaN"));
    }
}
