//! The fishplate: mark of the page, of a state, of a mount.

use super::geometry::{Point, round_below, smaller};
use super::writer::{Anchor, Figure};
use crate::numbers;
use crate::state::State;
use crate::units::Units;

/// The mark of a state; the word stands beside it as text.
pub(crate) fn badge(state: State) -> String {
    let shape = match state {
        State::Holds => {
            r#"<path d="M0 7L5 1H35L40 7L35 13H5Z" class="f-cool"/><circle cx="11" cy="7" r="2.1" class="f-paper"/><circle cx="29" cy="7" r="2.1" class="f-paper"/>"#
        }
        State::Exceeds => {
            r#"<path d="M0 6L5 0H19.5L16 3.6L19.5 7.2L17 12H5Z" class="f-warm"/><circle cx="9.5" cy="6" r="2.1" class="f-paper"/><g transform="rotate(8 31 7) translate(1.5 1)"><path d="M23 1H35L40 7L35 13H20.6L23.4 8.2L19.8 4.6Z" class="f-warm"/><circle cx="30.5" cy="7" r="2.1" class="f-paper"/></g>"#
        }
        State::OutsideScope | State::RuleNotMet | State::NotChecked => {
            r#"<path d="M0 7L5 1H35L40 7L35 13H5Z" class="f-hatch dash"/>"#
        }
    };
    format!(r#"<svg class="badge" viewBox="-1 -2 45 19" aria-hidden="true">{shape}</svg>"#)
}

/// Mark and word of a state.
pub(crate) fn badge_and_word(state: State) -> String {
    format!(
        r#"<span class="st st-{}">{}<b>{}</b></span>"#,
        state.class(),
        badge(state),
        state.word()
    )
}

/// The tag of a mount, around `centre`.
pub(crate) fn tag(figure: &mut Figure, centre: Point, name: &str) {
    // Names of mounts are short; longer ones get a longer tag.
    #[allow(clippy::cast_precision_loss)]
    let half = 9.0 + 4.9 * name.chars().count() as f64;
    let [x, y] = centre;
    let plate = [
        [x - half, y],
        [x - half + 5.0, y - 9.0],
        [x + half - 5.0, y - 9.0],
        [x + half, y],
        [x + half - 5.0, y + 9.0],
        [x - half + 5.0, y + 9.0],
    ];
    figure.polygon(&plate, "tag");
    figure.text([x, y + 4.6], Anchor::Middle, "t tagt", name);
}

/// A wavy line from `a` to `b`: something goes on that is not drawn.
pub(crate) fn broken_off(figure: &mut Figure, a: Point, b: Point) {
    let (dx, dy) = ((b[0] - a[0]) / 4.0, (b[1] - a[1]) / 4.0);
    let size = (dx * dx + dy * dy).sqrt();
    if size < 0.5 {
        return;
    }
    let (nx, ny) = (-dy / size * 3.5, dx / size * 3.5);
    let mut d = format!("M{:.1} {:.1}", a[0], a[1]);
    for index in 0..4 {
        let side = if index % 2 == 0 { 1.0 } else { -1.0 };
        let control = [dx / 2.0 + side * nx, dy / 2.0 + side * ny];
        d.push_str(&format!("q{:.1} {:.1} {dx:.1} {dy:.1}", control[0], control[1]));
    }
    figure.path(&d, a, b, "brk");
}

/// A bar of round length with its name: the scale of a drawing.
pub(crate) fn scale_bar(figure: &mut Figure, left: Point, length: f64, name: &str) {
    let [x, y] = left;
    figure.line([x, y], [x + length, y], "dim");
    figure.keep_off([x, y], [x + length, y]);
    figure.circle([x, y], 2.0, "dot");
    figure.circle([x + length, y], 2.0, "dot");
    figure.line([x + length / 2.0, y - 3.0], [x + length / 2.0, y + 3.0], "dim");
    figure.text([x + length + 8.0, y + 4.0], Anchor::Start, "t sm", name);
}

/// A bar of a round length of at most `most` drawing units, `scale` of them a millimetre.
pub(crate) fn length_bar(
    figure: &mut Figure,
    left: Point,
    (most, scale): (f64, f64),
    units: Units,
) {
    let per_unit = scale / units.value(1.0, "mm");
    let round = round_below(most / per_unit);
    let name = format!("{} {}", numbers::short(round), units.unit("mm"));
    scale_bar(figure, left, round * per_unit, &name);
}

/// A bar of a round force, as long as its arrow.
pub(crate) fn force_bar(figure: &mut Figure, left: Point, per_newton: f64, units: Units) {
    if per_newton > 0.0 {
        let per_unit = per_newton / units.value(1.0, "N");
        let round = round_below(70.0 / per_unit);
        let name = match units {
            Units::Si => format!("{} kN", numbers::short(round / 1e3)),
            Units::Us => format!("{} lbf", numbers::short(round)),
        };
        scale_bar(figure, left, round * per_unit, &name);
    }
}

/// A dimension between `a` and `b`, which lie on its line; the number stands in a gap of the line,
/// where nothing else is in its way.
pub(crate) fn dimension(figure: &mut Figure, a: Point, b: Point, number: &str) {
    figure.circle(a, 2.0, "dot");
    figure.circle(b, 2.0, "dot");
    #[allow(clippy::cast_precision_loss)]
    let width = 8.1 * number.chars().count() as f64 + 6.0;
    let (across, upright) = ((b[0] - a[0]).abs(), (b[1] - a[1]).abs());
    let (lies, size) = if upright < across { (true, across) } else { (false, upright) };
    let gap = if lies { width } else { 18.0 };
    if size < gap + 10.0 {
        figure.line(a, b, "dim");
        figure.keep_off(a, b);
        let (right, left) = if a[0] > b[0] { (a, b) } else { (b, a) };
        let low = (a[1] + b[1]) / 2.0 + 4.5;
        let beside = [
            ([right[0] + 6.0, low], Anchor::Start),
            ([left[0] - 6.0, low], Anchor::End),
            ([(a[0] + b[0]) / 2.0, smaller(a[1], b[1]) - 6.0], Anchor::Middle),
        ];
        if let Some((at, anchor)) = figure.freest(&beside, number) {
            figure.text(at, anchor, "t", number);
        }
        return;
    }
    let on = |t: f64| [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    let half = gap / 2.0 / size;
    let fits = |t: &f64| *t - half > 0.04 && *t + half < 0.96;
    let places: Vec<(Point, Anchor)> = [0.5, 0.38, 0.62, 0.25, 0.75]
        .into_iter()
        .filter(fits)
        .map(|t| ([on(t)[0], on(t)[1] + 4.5], Anchor::Middle))
        .collect();
    let (at, anchor) = figure.freest(&places, number).unwrap_or((on(0.5), Anchor::Middle));
    let t =
        if lies { (at[0] - a[0]) / (b[0] - a[0]) } else { (at[1] - 4.5 - a[1]) / (b[1] - a[1]) };
    for (from, to) in [(0.0, t - half), (t + half, 1.0)] {
        figure.line(on(from), on(to), "dim");
        figure.keep_off(on(from), on(to));
    }
    figure.text(at, anchor, "t", number);
}
