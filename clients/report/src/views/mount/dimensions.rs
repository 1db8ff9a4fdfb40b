//! Main sizes of a mount: the part that carries it, the bush from the rail, the rail.

use super::close_up::CloseUp;
use crate::numbers::size;
use crate::svg::geometry::{Bounds, Point, larger, smaller};
use crate::svg::marks::dimension;
use crate::svg::project::{Sheet, View, flat_bounds};
use crate::svg::writer::Figure;
use crate::units::Units;

/// How far from the drawing a dimension line stands, drawing units.
const OFF: f64 = 20.0;

/// A size with its line on the sheet.
#[derive(Debug)]
pub(super) struct Dimension {
    a: Point,
    b: Point,
    /// Where the witness lines start, for each end.
    from: [Point; 2],
    mm: f64,
}

impl Dimension {
    pub(super) fn ends(&self) -> [Point; 2] {
        [self.a, self.b]
    }

    pub(super) fn draw(&self, figure: &mut Figure, units: Units) {
        for (from, to) in self.from.into_iter().zip(self.ends()) {
            if (from[0] - to[0]).hypot(from[1] - to[1]) > 0.5 {
                figure.line(from, to, "wit");
                figure.keep_off(from, to);
            }
        }
        dimension(figure, self.a, self.b, &size(rounded(self.mm), units));
    }
}

/// The dimensions that can be read in this view.
pub(super) fn of(sheet: &Sheet, close_up: &CloseUp<'_>, frame: &Bounds<2>) -> Vec<Dimension> {
    let mut out = Vec::new();
    let place = |bounds: &Bounds<3>| {
        let flat = flat_bounds(&sheet.view, bounds);
        let at = |p: [f64; 2]| {
            [sheet.scale * p[0] + sheet.shift[0], sheet.scale * p[1] + sheet.shift[1]]
        };
        (Bounds { low: at(flat.low), high: at(flat.high) }, flat)
    };
    if let Some(main) = &close_up.main {
        let (on_sheet, flat) = place(main);
        out.push(across(
            [on_sheet.low[0], on_sheet.high[0]],
            on_sheet.low[1],
            frame.low[1] - OFF,
            flat.size(0),
        ));
        // On the side that is free of the rail.
        let (x, from) = if rail_side(close_up, sheet) > 0.0 {
            (frame.low[0] - OFF, on_sheet.low[0])
        } else {
            (frame.high[0] + OFF, on_sheet.high[0])
        };
        out.push(upright([on_sheet.low[1], on_sheet.high[1]], from, x, flat.size(1)));
    }
    let Some(rail) = &close_up.rail else {
        return out;
    };
    let (on_sheet, flat) = place(rail);
    if sheet.view != View::PLAN {
        let x =
            if rail_side(close_up, sheet) > 0.0 { frame.high[0] + OFF } else { frame.low[0] - OFF };
        let from = if x > frame.high[0] {
            smaller(on_sheet.high[0], frame.high[0])
        } else {
            larger(on_sheet.low[0], frame.low[0])
        };
        out.push(upright([on_sheet.low[1], on_sheet.high[1]], from, x, flat.size(1)));
    }
    // The lever of the bush: from the face of the rail that is nearer to it.
    let bush = sheet.at(close_up.centre);
    let y = close_up.centre[1];
    let face =
        if (rail.low[1] - y).abs() < (rail.high[1] - y).abs() { rail.low[1] } else { rail.high[1] };
    let lever = (y - face).abs();
    if lever < 1.0 {
        return out;
    }
    let mut on_face = close_up.centre;
    on_face[1] = face;
    let from = sheet.at(on_face);
    if sheet.view == View::FRONT {
        let low = frame.high[1] + OFF;
        let ends = [smaller(from[0], bush[0]), larger(from[0], bush[0])];
        out.push(across(ends, bush[1], low, lever));
    } else if sheet.view == View::PLAN {
        let x = frame.low[0] - OFF;
        let ends = [smaller(from[1], bush[1]), larger(from[1], bush[1])];
        out.push(upright(ends, bush[0], x, lever));
    }
    out
}

/// Where the rail stands on the sheet: right of the bush above 0, left below; 0 behind it.
fn rail_side(close_up: &CloseUp<'_>, sheet: &Sheet) -> f64 {
    let Some(rail) = &close_up.rail else {
        return 0.0;
    };
    let mut middle = close_up.centre;
    middle[1] = rail.middle()[1];
    let away = sheet.at(middle)[0] - sheet.at(close_up.centre)[0];
    if away.abs() < 1.0 { 0.0 } else { away }
}

/// A dimension along the sheet at height `y`, with witness lines from `from`.
fn across([a, b]: [f64; 2], from: f64, y: f64, mm: f64) -> Dimension {
    Dimension { a: [a, y], b: [b, y], from: [[a, from], [b, from]], mm }
}

/// A dimension up the sheet at `x`, with witness lines from `from`.
fn upright([a, b]: [f64; 2], from: f64, x: f64, mm: f64) -> Dimension {
    Dimension { a: [x, a], b: [x, b], from: [[from, a], [from, b]], mm }
}

/// A size taken from coordinates is known to their last digit only.
fn rounded(mm: f64) -> f64 {
    (mm * 10.0).round() / 10.0
}
