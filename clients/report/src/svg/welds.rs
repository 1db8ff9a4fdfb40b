//! Weld runs: stitched lines at true length where they can be seen, triangles seen end-on, and
//! the ribbon of stress along a run.

use super::geometry::{Bounds, Point, Space, along, larger, minus, smaller};
use super::painter::{Laid, hidden};
use super::project::Sheet;
use super::writer::{Anchor, Figure};
use crate::numbers;

/// A run lies in the face that it is on; what is farther in front of it than this covers it, mm.
pub(crate) const UNDER: f64 = 1.0;

/// A weld run to draw.
#[derive(Debug, Clone)]
pub(crate) struct Run<'a> {
    pub(crate) name: &'a str,
    pub(crate) start: Space,
    pub(crate) end: Space,
    pub(crate) leg: f64,
    pub(crate) stress: [f64; 2],
    pub(crate) exceeds: bool,
}

impl<'a> Run<'a> {
    pub(crate) fn of(weld: &'a fishplate_proto::v1::WeldLine, exceeds: bool) -> Option<Self> {
        let (start, end) = (weld.start.as_ref()?, weld.end.as_ref()?);
        let (start, end) = (super::solids::position(start), super::solids::position(end));
        let leg = if weld.leg_mm.is_finite() { weld.leg_mm } else { 0.0 };
        let stress = [weld.start_stress_mpa, weld.end_stress_mpa];
        let known = start.iter().chain(&end).all(|c| c.is_finite());
        known.then_some(Run { name: &weld.name, start, end, leg, stress, exceeds })
    }

    /// The part of the run that lies in a box, if any.
    pub(crate) fn inside(mut self, limits: &Bounds<3>) -> Option<Self> {
        let way = minus(self.end, self.start);
        let (mut from, mut to) = (0.0, 1.0);
        for (axis, step) in way.into_iter().enumerate() {
            let (low, high) = (limits.low[axis], limits.high[axis]);
            if step.abs() < 1e-9 {
                if self.start[axis] < low || self.start[axis] > high {
                    return None;
                }
                continue;
            }
            let ends = [low, high].map(|limit| (limit - self.start[axis]) / step);
            from = larger(from, smaller(ends[0], ends[1]));
            to = smaller(to, larger(ends[0], ends[1]));
        }
        if from >= to {
            return None;
        }
        let stress = self.stress;
        self.stress = [from, to].map(|t| stress[0] + t * (stress[1] - stress[0]));
        let start = self.start;
        self.start = along(start, from, way);
        self.end = along(start, to, way);
        Some(self)
    }

    pub(crate) fn middle(&self) -> Space {
        std::array::from_fn(|i| (self.start[i] + self.end[i]) / 2.0)
    }

    pub(crate) fn length(&self) -> f64 {
        super::geometry::length(minus(self.end, self.start))
    }
}

/// Draws the run on the sheet where nothing covers it.
pub(crate) fn draw(figure: &mut Figure, sheet: &Sheet, laid: &[Laid<'_>], run: &Run<'_>) {
    let (a, b) = (sheet.at(run.start), sheet.at(run.end));
    let flat = [b[0] - a[0], b[1] - a[1]];
    let size = (flat[0] * flat[0] + flat[1] * flat[1]).sqrt();
    let leg = larger(run.leg * sheet.scale, 3.0);
    if size < leg {
        end_on(figure, sheet, laid, run, leg);
        return;
    }
    let across = [-flat[1] / size, flat[0] / size];
    let Some(side) = free_side(sheet, laid, run, across) else {
        return;
    };
    for (from, to) in shown(sheet, laid, run, across, side) {
        let place = |t: f64| {
            let p = sheet.at(along(run.start, t, minus(run.end, run.start)));
            [p[0] + side * across[0] * leg / 2.0, p[1] + side * across[1] * leg / 2.0]
        };
        // As wide as the leg, so that small runs do not bury what stands beside them.
        let size = match leg {
            l if l < 3.4 => " w3",
            l if l < 4.6 => " w4",
            _ => "",
        };
        let state = if run.exceeds { " x" } else { "" };
        figure.line(place(from), place(to), &format!("wbase{size}{state}"));
        figure.line(place(from), place(to), &format!("wst{size}"));
    }
}

/// The point beside the run, in space, on which its bead lies: half a leg off on one side.
fn beside(sheet: &Sheet, run: &Run<'_>, t: f64, across: Point, side: f64) -> Space {
    let view = &sheet.view;
    let p = along(run.start, t, minus(run.end, run.start));
    let off = side * run.leg / 2.0;
    along(along(p, off * across[0], view.right), -off * across[1], view.up)
}

/// The side on which more of the bead can be seen, or `None` where it is hidden.
fn free_side(sheet: &Sheet, laid: &[Laid<'_>], run: &Run<'_>, across: Point) -> Option<f64> {
    let seen = |side: f64| {
        (0..9)
            .map(|k| beside(sheet, run, (f64::from(k) + 0.5) / 9.0, across, side))
            .filter(|p| !hidden(&sheet.view, laid, *p, UNDER))
            .count()
    };
    let (left, right) = (seen(1.0), seen(-1.0));
    match (left, right) {
        (0, 0) => None,
        _ if left == right => Some(0.0),
        _ => Some(if left > right { 1.0 } else { -1.0 }),
    }
}

/// The stretches of the run that nothing covers, as fractions of its length.
fn shown(
    sheet: &Sheet,
    laid: &[Laid<'_>],
    run: &Run<'_>,
    across: Point,
    side: f64,
) -> Vec<(f64, f64)> {
    const PIECES: u32 = 24;
    let mut out: Vec<(f64, f64)> = Vec::new();
    for k in 0..PIECES {
        let (from, to) = (f64::from(k) / f64::from(PIECES), f64::from(k + 1) / f64::from(PIECES));
        let p = beside(sheet, run, (from + to) / 2.0, across, side);
        if hidden(&sheet.view, laid, p, UNDER) {
            continue;
        }
        match out.last_mut() {
            Some(last) if last.1 >= from => last.1 = to,
            _ => out.push((from, to)),
        }
    }
    out
}

/// A run seen from its end: a triangle of true leg in the corner that is free.
fn end_on(figure: &mut Figure, sheet: &Sheet, laid: &[Laid<'_>], run: &Run<'_>, leg: f64) {
    let view = &sheet.view;
    let near = if view.depth(run.start) > view.depth(run.end) { run.start } else { run.end };
    let corner = sheet.at(near);
    for (dx, dy) in [(1.0, -1.0), (-1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)] {
        let off = run.leg * 0.3;
        let p = along(along(near, dx * off, view.right), -dy * off, view.up);
        let over = along(p, 0.2, view.toward);
        let behind = along(p, -0.6, view.toward);
        // Free is a corner that no part fills: nothing in front of it, and no part's end in it.
        if !hidden(view, laid, over, 0.3) && !filled(view, laid, behind) {
            let corners =
                [corner, [corner[0] + dx * leg, corner[1]], [corner[0], corner[1] + dy * leg]];
            figure.polygon(&corners, if run.exceeds { "wtri x" } else { "wtri" });
            return;
        }
    }
}

/// Whether a face lies within a mm in front of the point.
fn filled(view: &super::project::View, laid: &[Laid<'_>], p: Space) -> bool {
    hidden(view, laid, p, 0.0) && !hidden(view, laid, p, 1.5)
}

/// The width of six flat steps of stress: the least round number with which the largest fits.
pub(crate) fn step_width(largest: f64) -> f64 {
    if !(largest.is_finite() && largest > 0.0) {
        return 1.0;
    }
    let raw = largest / 6.0;
    let power = 10f64.powf(raw.log10().floor());
    let steps = [1.0, 2.0, 2.5, 5.0, 10.0];
    steps.into_iter().map(|s| s * power).find(|w| 6.0 * w >= largest).unwrap_or(10.0 * power)
}

/// The stress along one run as a ribbon on it, from `left` to the right, `scale` drawing units for one of
/// its own; its numbers have so many decimals.
pub(crate) fn ribbon(
    figure: &mut Figure,
    left: Point,
    length: f64,
    stress: [f64; 2],
    (scale, step): (f64, f64),
    decimals: usize,
) {
    let [x, y] = left;
    let at = |t: f64| stress[0] + t * (stress[1] - stress[0]);
    let edge = |t: f64| [x + t * length, y - 5.0 - scale * at(t)];
    let base = |t: f64| [x + t * length, y - 5.0];
    for pair in changes(stress, step).windows(2) {
        let (from, to) = (pair[0], pair[1]);
        let class = match at((from + to) / 2.0) / step {
            s if s < 1.0 => "r0 rs",
            s if s < 2.0 => "r1 rs",
            s if s < 3.0 => "r2 rs",
            s if s < 4.0 => "r3 rs",
            s if s < 5.0 => "r4 rs",
            _ => "r5 rs",
        };
        figure.polygon(&[base(from), edge(from), edge(to), base(to)], class);
    }
    figure.polyline(&[[x, y - 5.0], edge(0.0), edge(1.0), [x + length, y - 5.0]], "redge");
    figure.line([x, y], [x + length, y], "wbase");
    figure.line([x, y], [x + length, y], "wst");
    let number = |t: f64| numbers::fixed(at(t), decimals);
    figure.text([x - 6.0, y - 3.0], Anchor::End, "t num halo", &number(0.0));
    figure.text([x + length + 6.0, y - 3.0], Anchor::Start, "t num halo", &number(1.0));
}

/// Both ends of a run, and between them the fractions of its length where the step changes.
fn changes(stress: [f64; 2], step: f64) -> Vec<f64> {
    let rise = stress[1] - stress[0];
    let mut out = vec![0.0, 1.0];
    if rise.abs() > 1e-9 {
        let crossings = (1..6u8).map(|k| (f64::from(k) * step - stress[0]) / rise);
        out.extend(crossings.filter(|t| *t > 0.0 && *t < 1.0));
    }
    out.sort_by(f64::total_cmp);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ribbon_changes_its_step_where_the_stress_does() {
        // By hand: from 102 to 135 the step of 25 is left at 125, (125 − 102)/33 along.
        let at = changes([102.0, 135.0], 25.0);
        assert!(at.len() == 3 && (at[1] - 23.0 / 33.0).abs() < 1e-12);
        assert_eq!(changes([40.0, 40.0], 25.0).len(), 2);
    }

    #[test]
    fn a_run_that_goes_on_is_cut_at_the_edge_of_the_picture() {
        let run = |x: f64| Run {
            name: "weld.a",
            start: [-100.0, x, 0.0],
            end: [300.0, x, 0.0],
            leg: 4.0,
            stress: [0.0, 40.0],
            exceeds: false,
        };
        let limits = Bounds { low: [0.0; 3], high: [100.0; 3] };
        // By hand: from a quarter to a half of its 400 mm, so from 10 to 20 MPa.
        let cut = run(5.0).inside(&limits).unwrap();
        assert!((cut.length() - 100.0).abs() < 1e-9);
        assert!((cut.stress[0] - 10.0).abs() < 1e-9 && (cut.stress[1] - 20.0).abs() < 1e-9);
        assert!(run(-5.0).inside(&limits).is_none());
    }

    #[test]
    fn the_largest_stress_fits_into_six_round_steps() {
        for (largest, step) in [(135.0, 25.0), (74.5, 20.0), (360.0, 100.0), (6.0, 1.0)] {
            assert!((step_width(largest) - step).abs() < 1e-9, "{largest}");
        }
        assert!((step_width(0.0) - 1.0).abs() < 1e-12);
    }
}
