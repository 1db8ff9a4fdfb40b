//! Which guess matters: how far each one moves the highest utilisation.

use crate::numbers::utilisation;
use crate::svg::geometry::{Bounds, larger, smaller};
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
    let ends = ranges.iter().flat_map(|r| [r.low, r.high]).chain(entered).chain([1.0]);
    let all = Bounds::of(ends.map(|u| [u]));
    let (low, high) = (all.low[0], larger(all.high[0], all.low[0] + 0.1));
    let x = |u: f64| 52.0 + (u - low) / (high - low) * (WIDTH - 104.0);
    let mut figure = Figure::new();
    figure.text([x(1.0), 13.0], Anchor::Middle, "t sm b", "limit 1.00");
    figure.line([x(1.0), 17.0], [x(1.0), 30.0], "scribe");
    figure.circle([x(1.0), 18.0], 2.2, "dot");
    if let Some(u) = entered {
        let near = (x(u) - x(1.0)).abs() < 150.0;
        let y = if near { -4.0 } else { 13.0 };
        let text = format!("{} as entered", utilisation(u, u > 1.0));
        figure.text([smaller(x(u), WIDTH - 60.0), y], Anchor::Middle, "t sm b", &text);
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
        figure.line([x(1.0), y - 5.0], [x(1.0), y + 9.0], "scribe");
        figure.circle([x(1.0), y - 5.0], 2.0, "dot");
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
    figure.finish(WIDTH, "rng", "How far each guessed input moves the highest utilisation")
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
    fn one_range_without_width_is_still_a_chart() {
        let range = Range { name: String::new(), value: String::new(), low: 1.0, high: 1.0 };
        assert!(!draw(&[range], None).contains("NaN"));
    }
}
