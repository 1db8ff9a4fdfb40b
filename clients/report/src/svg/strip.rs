//! The strip: a utilisation as the length of a plate against the scribe line of its limit.

use super::writer::Figure;
use crate::numbers;
use crate::state::State;

/// The scale ends at this utilisation.
const END: f64 = 2.2;
/// Above this the plate is cut: it goes on.
const CUT: f64 = 2.12;
/// The shortest plate that still shows its ends.
const SHORTEST: f64 = 14.0;

/// The strip of a utilisation, `width` units wide.
pub(crate) fn strip(width: f64, utilisation: Option<f64>, state: State) -> String {
    let number = utilisation.map_or_else(
        || numbers::NOT_FOUND.to_owned(),
        |u| numbers::utilisation(u, matches!(state, State::Exceeds | State::RuleNotMet)),
    );
    let title = format!("utilisation {number}, {}", state.word());
    let mut figure = Figure::new();
    figure.line([0.0, 22.0], [width, 22.0], "rule");
    let limit = width / END;
    let reach = utilisation.unwrap_or(0.0) * limit;
    let end = if reach > SHORTEST { reach } else { SHORTEST };
    match state {
        State::NotChecked | State::RuleNotMet => plate(&mut figure, limit, "f-hatch dash"),
        State::OutsideScope => {
            plate(&mut figure, if end < limit { end } else { limit }, "f-hatch dash");
        }
        State::Holds => plate(&mut figure, if end < limit { end } else { limit }, "f-cool"),
        State::Exceeds if end > CUT * limit => {
            let end = CUT * limit;
            let gap = end - 0.23 * width;
            let start = [[1.0, 14.0], [7.0, 8.0], [gap, 8.0], [gap - 6.0, 20.0], [7.0, 20.0]];
            figure.polygon(&start, "f-warm");
            torn(&mut figure, [gap + 7.0, gap + 1.0], end);
        }
        State::Exceeds => {
            // A plate that exceeds passes the line by a little at least.
            let end = if end > limit + 7.0 { end } else { limit + 7.0 };
            let left = [[1.0, 14.0], [7.0, 8.0]];
            figure.polygon(&[&left[..], &torn_end(end)[..], &[[7.0, 20.0]]].concat(), "f-warm");
        }
    }
    figure.line([limit, 1.0], [limit, 25.0], "scribe");
    figure.circle([limit, 3.0], 2.2, "dot");
    figure.framed([0.0, 0.0], [width, 26.0], "strip", &title)
}

fn plate(figure: &mut Figure, end: f64, class: &str) {
    let corners =
        [[1.0, 14.0], [7.0, 8.0], [end - 6.0, 8.0], [end, 14.0], [end - 6.0, 20.0], [7.0, 20.0]];
    figure.polygon(&corners, class);
}

fn torn(figure: &mut Figure, [top, bottom]: [f64; 2], end: f64) {
    let corners = [&[[top, 8.0]][..], &torn_end(end)[..], &[[bottom, 20.0]]].concat();
    figure.polygon(&corners, "f-warm");
}

fn torn_end(end: f64) -> [[f64; 2]; 5] {
    [[end - 5.5, 8.0], [end - 0.5, 11.0], [end - 6.5, 14.0], [end + 0.5, 16.5], [end - 6.5, 20.0]]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plate_that_holds_never_passes_the_line() {
        // The state says it holds; the number lies above by a rounding error of the sender.
        let svg = strip(220.0, Some(1.000_000_01), State::Holds);
        assert!(svg.contains("L94 8L100 14L94 20"), "the limit of 220 units is at 100");
    }

    #[test]
    fn a_plate_that_exceeds_always_passes_the_line() {
        assert!(strip(220.0, Some(1.000_1), State::Exceeds).contains("L101.5 8"));
    }

    #[test]
    fn nothing_known_is_hatched_up_to_the_line() {
        let svg = strip(220.0, None, State::NotChecked);
        assert!(svg.contains("f-hatch") && svg.contains("utilisation –, not checked"));
    }
}
