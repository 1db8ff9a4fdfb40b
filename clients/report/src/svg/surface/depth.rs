//! How near the eye the nearest wall is at every place of a sheet.

use super::super::geometry::{Bounds, Point, edges, smaller};
use super::Flat;

/// Side of a field of the raster, drawing units: finer than any line.
pub(super) const GRAIN: f64 = 0.75;

/// What lies by less than this behind another surface still shows, mm: less than lies between the
/// middles of two plates, more than rounding.
pub(super) const TOLERANCE: f64 = 0.8;

/// The most fields of a raster.
const MOST: f64 = 4e6;

/// A raster of depths.
#[derive(Debug)]
pub(super) struct Depths {
    low: Point,
    grain: f64,
    columns: usize,
    rows: usize,
    /// Of the nearest wall; minus infinity where there is none.
    nearest: Vec<f64>,
}

impl Depths {
    /// The raster of some cells, each of which is told whether it shows.
    pub(super) fn of(flats: &mut [Flat], grain: f64) -> Self {
        let bounds = Bounds::of(flats.iter().flat_map(|f| f.corners.iter().copied()));
        let bounds = if bounds.is_empty() { Bounds::of([[0.0; 2]]) } else { bounds };
        let count = |axis: usize, grain: f64| (bounds.size(axis) / grain).floor() + 1.0;
        let mut grain = grain;
        while count(0, grain) * count(1, grain) > MOST {
            grain *= 2.0;
        }
        // Bounded by `MOST`.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let [columns, rows] = [0, 1].map(|axis| count(axis, grain) as usize);
        let nearest = vec![f64::NEG_INFINITY; columns * rows];
        let mut depths = Self { low: bounds.low, grain, columns, rows, nearest };
        let under: Vec<Vec<(usize, f64)>> = flats.iter().map(|f| depths.under(f)).collect();
        for (field, depth) in under.iter().flatten() {
            if *depth > depths.nearest[*field] {
                depths.nearest[*field] = *depth;
            }
        }
        for (flat, fields) in flats.iter_mut().zip(&under) {
            flat.shows = if fields.is_empty() {
                // Smaller than a field: by its middle.
                depths.shows(flat.plane.at, flat.plane.depth, TOLERANCE)
            } else {
                fields.iter().any(|(field, depth)| *depth >= depths.nearest[*field] - TOLERANCE)
            };
        }
        depths
    }

    /// Whether a place at a depth shows. At the edge of a wall the fields around belong to others:
    /// the most favourable of the nearest four counts.
    pub(super) fn shows(&self, p: Point, depth: f64, tolerance: f64) -> bool {
        let mut farthest = f64::INFINITY;
        for (dx, dy) in [(-0.5, -0.5), (0.5, -0.5), (-0.5, 0.5), (0.5, 0.5)] {
            let near = [p[0] + dx * self.grain, p[1] + dy * self.grain];
            let there = self.field(near).map_or(f64::NEG_INFINITY, |f| self.nearest[f]);
            farthest = smaller(farthest, there);
        }
        depth >= farthest - tolerance
    }

    /// The share of a box that walls cover.
    pub(super) fn covered(&self, room: &Bounds<2>) -> f64 {
        let (mut all, mut taken) = (0.0, 0.0);
        for i in 0..12u8 {
            for j in 0..5u8 {
                let t = [(f64::from(i) + 0.5) / 12.0, (f64::from(j) + 0.5) / 5.0];
                let p = [0, 1].map(|k| room.low[k] + t[k] * (room.high[k] - room.low[k]));
                all += 1.0;
                if self.field(p).is_some_and(|f| self.nearest[f].is_finite()) {
                    taken += 1.0;
                }
            }
        }
        taken / all
    }

    fn field(&self, p: Point) -> Option<usize> {
        let [column, row] = [0, 1].map(|k| (p[k] - self.low[k]) / self.grain);
        if !(column >= 0.0 && row >= 0.0) {
            return None;
        }
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let (column, row) = (column as usize, row as usize);
        (column < self.columns && row < self.rows).then_some(row * self.columns + column)
    }

    /// The fields whose middle lies under a cell, with its depth there: row by row, between where
    /// its edges cross the middle of the row.
    fn under(&self, flat: &Flat) -> Vec<(usize, f64)> {
        let bounds = Bounds::of(flat.corners.iter().copied());
        if bounds.is_empty() {
            return Vec::new();
        }
        // The raster covers every cell; what is below it is cut off by the cast.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let index = |c: f64| c.ceil() as usize;
        let field = |p: f64, axis: usize| (p - self.low[axis]) / self.grain - 0.5;
        let rows = index(field(bounds.low[1], 1))..index(field(bounds.high[1], 1)).min(self.rows);
        let mut out = Vec::new();
        let mut crossings: Vec<f64> = Vec::new();
        for row in rows {
            // The raster has few fields.
            #[allow(clippy::cast_precision_loss)]
            let y = self.low[1] + (row as f64 + 0.5) * self.grain;
            crossings.clear();
            for (a, b) in edges(&flat.corners) {
                if (a[1] > y) != (b[1] > y) {
                    crossings.push(a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]));
                }
            }
            crossings.sort_by(f64::total_cmp);
            for pair in crossings.chunks_exact(2) {
                let columns = index(field(pair[0], 0))..index(field(pair[1], 0)).min(self.columns);
                for column in columns {
                    #[allow(clippy::cast_precision_loss)]
                    let x = self.low[0] + (column as f64 + 0.5) * self.grain;
                    out.push((row * self.columns + column, flat.plane.depth([x, y])));
                }
            }
        }
        out
    }
}
