//! Faces that slip: heavy dashes along them.

use fishplate_proto::v1;

use super::close_up::{Bolt, CloseUp};
use crate::svg::geometry::{larger, length, minus};
use crate::svg::project::Sheet;
use crate::svg::writer::Figure;

/// Whether a row is about faces that slide on each other.
pub(super) fn slips(row: &v1::Row) -> bool {
    let says = |text: &str| text.to_lowercase().contains("slip");
    says(&row.what) || says(&row.short_what)
}

/// Marks the clamped faces of the bolts that are to be marked.
pub(super) fn draw(
    figure: &mut Figure,
    sheet: &Sheet,
    close_up: &CloseUp<'_>,
    marked: impl Fn(&Bolt<'_>) -> bool,
) {
    for (bolt, at) in &close_up.joints {
        let Some(bolt) = close_up.bolts.get(*bolt) else {
            continue;
        };
        if !marked(bolt) {
            continue;
        }
        let reach = larger(bolt.washer, 2.0 * bolt.diameter) * 0.7 * sheet.scale;
        let (head, nut) = (sheet.at(bolt.head), sheet.at(bolt.nut));
        let (dx, dy) = (nut[0] - head[0], nut[1] - head[1]);
        let (seen, p) = (dx.hypot(dy), sheet.at(*at));
        if seen < 2.0 {
            figure.circle(p, reach, "slipx ring");
        } else if seen > 0.98 * length(minus(bolt.nut, bolt.head)) * sheet.scale {
            let (ux, uy) = (-dy / seen * reach, dx / seen * reach);
            figure.line([p[0] - ux, p[1] - uy], [p[0] + ux, p[1] + uy], "slipx");
        }
    }
}
