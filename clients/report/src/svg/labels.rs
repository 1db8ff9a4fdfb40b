//! Names beside a drawing, joined by a thin line to a punch dot on the part.

use super::geometry::{Point, larger};
use super::writer::{Anchor, Figure};

/// Height of one line of text.
const LINE: f64 = 16.0;
/// Space between two labels.
const GAP: f64 = 9.0;

/// A name and what it names.
#[derive(Debug, Clone)]
pub(crate) struct Label {
    pub(crate) at: Point,
    /// The lines with their classes.
    pub(crate) lines: Vec<(String, &'static str)>,
}

/// Draws labels into the margins left of `left` and right of `right`, none over another, between
/// the heights `top` and `bottom` where there is room.
pub(crate) fn draw(
    figure: &mut Figure,
    labels: Vec<Label>,
    [left, right]: [f64; 2],
    [top, bottom]: [f64; 2],
) {
    let middle = (left + right) / 2.0;
    let (mut one, mut other): (Vec<Label>, Vec<Label>) =
        labels.into_iter().partition(|l| l.at[0] < middle);
    // Neither margin may be crammed while the other is empty.
    balance(&mut one, &mut other, |l| l.at[0]);
    balance(&mut other, &mut one, |l| -l.at[0]);
    column(figure, one, left, Anchor::End, [top, bottom]);
    column(figure, other, right, Anchor::Start, [top, bottom]);
}

/// Moves labels from a full margin to one that has two fewer, those nearest to it first.
fn balance(from: &mut Vec<Label>, to: &mut Vec<Label>, key: impl Fn(&Label) -> f64) {
    from.sort_by(|a, b| key(a).total_cmp(&key(b)));
    while from.len() > to.len() + 1 {
        let Some(label) = from.pop() else { return };
        to.push(label);
    }
}

fn column(
    figure: &mut Figure,
    mut labels: Vec<Label>,
    x: f64,
    anchor: Anchor,
    [top, bottom]: [f64; 2],
) {
    labels.sort_by(|a, b| a.at[1].total_cmp(&b.at[1]));
    let heights: Vec<f64> = labels.iter().map(height).collect();
    let total: f64 = heights.iter().sum();
    let mut free_from = top;
    let mut left_over = total;
    for (label, height) in labels.iter().zip(&heights) {
        let latest = larger(bottom - left_over, free_from);
        let wished = label.at[1] - height / 2.0;
        let y = larger(free_from, if wished > latest { latest } else { wished });
        one(figure, label, [x, y], anchor);
        free_from = y + height;
        left_over -= height;
    }
}

fn height(label: &Label) -> f64 {
    // A label has few lines.
    #[allow(clippy::cast_precision_loss)]
    let lines = label.lines.len() as f64;
    lines * LINE + GAP
}

fn one(figure: &mut Figure, label: &Label, [x, y]: Point, anchor: Anchor) {
    let inward = if anchor == Anchor::End { 1.0 } else { -1.0 };
    figure.line([x + inward * 5.0, y + 9.0], label.at, "lead");
    figure.keep_off([x + inward * 5.0, y + 9.0], label.at);
    figure.circle(label.at, 2.0, "dot");
    let mut line = y + 13.0;
    for (text, class) in &label.lines {
        figure.text([x, line], anchor, class, text);
        line += LINE;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_at_one_height_do_not_lie_on_each_other() {
        let label = |x: f64| Label { at: [x, 50.0], lines: vec![("a".to_owned(), "t")] };
        let mut figure = Figure::new();
        draw(&mut figure, vec![label(10.0), label(12.0), label(14.0)], [0.0, 100.0], [0.0, 200.0]);
        let svg = figure.finish(100.0, "x", "t");
        let mut places: Vec<&str> = svg
            .split("<text ")
            .skip(1)
            .map(|t| t.split(" class").next().unwrap_or_default())
            .collect();
        places.sort_unstable();
        places.dedup();
        assert_eq!(places.len(), 3);
    }
}
