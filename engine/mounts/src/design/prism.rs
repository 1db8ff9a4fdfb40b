//! Everything made of steel is put together of prisms along an axis of the car.

use fishplate_quantity::algebra::{larger, positive};
use nalgebra::Vector3;

/// A point or vector in car axes, m.
pub type Vec3 = Vector3<f64>;

/// Below this two faces touch, m: far under what a shop can measure.
pub const TOUCH: f64 = 1e-6;

/// A flat outline pulled along one axis of the car.
#[derive(Debug, Clone, PartialEq)]
pub struct Prism {
    /// The axis it is pulled along: 0, 1 or 2.
    pub axis: usize,
    /// Its lower end on that axis, m.
    pub low: f64,
    /// Its upper end on that axis, m.
    pub high: f64,
    /// Corners in the other two axes, in ascending order of axis, going round once, m.
    pub outline: Vec<[f64; 2]>,
}

/// The two axes across `axis`, ascending.
#[must_use]
pub fn across(axis: usize) -> [usize; 2] {
    match axis {
        0 => [1, 2],
        1 => [0, 2],
        _ => [0, 1],
    }
}

impl Prism {
    /// A block between two corners; `axis` is the direction of its thickness.
    #[must_use]
    pub fn block(axis: usize, low: [f64; 3], high: [f64; 3]) -> Self {
        let [u, v] = across(axis);
        Self {
            axis,
            low: low[axis],
            high: high[axis],
            outline: vec![
                [low[u], low[v]],
                [high[u], low[v]],
                [high[u], high[v]],
                [low[u], high[v]],
            ],
        }
    }

    /// A cylinder as a prism of 24 sides whose area is that of the circle.
    #[must_use]
    pub fn round(axis: usize, low: f64, high: f64, centre: [f64; 2], diameter: f64) -> Self {
        const SIDES: u32 = 24;
        let turn = std::f64::consts::TAU / f64::from(SIDES);
        let radius = diameter / 2.0 * (turn / turn.sin()).sqrt();
        let outline = (0..SIDES)
            .map(|i| {
                let angle = turn * f64::from(i);
                [centre[0] + radius * angle.cos(), centre[1] + radius * angle.sin()]
            })
            .collect();
        Self { axis, low, high, outline }
    }

    /// Lowest and highest coordinate along `axis`, m.
    #[must_use]
    pub fn range(&self, axis: usize) -> (f64, f64) {
        if axis == self.axis {
            return (self.low, self.high);
        }
        let at = usize::from(across(self.axis)[1] == axis);
        self.outline.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), corner| {
            (
                if corner[at] < low { corner[at] } else { low },
                if corner[at] > high { corner[at] } else { high },
            )
        })
    }

    /// Thickness along its axis, m.
    #[must_use]
    pub fn thickness(&self) -> f64 {
        self.high - self.low
    }

    /// Area of the outline, m² (shoelace).
    #[must_use]
    pub fn area(&self) -> f64 {
        let n = self.outline.len();
        (0..n)
            .map(|i| {
                let (a, b) = (self.outline[i], self.outline[(i + 1) % n]);
                a[0] * b[1] - b[0] * a[1]
            })
            .sum::<f64>()
            .abs()
            / 2.0
    }

    /// Volume, m³.
    #[must_use]
    pub fn volume(&self) -> f64 {
        self.area() * self.thickness()
    }

    /// Length round the outline, m.
    #[must_use]
    pub fn perimeter(&self) -> f64 {
        let n = self.outline.len();
        (0..n)
            .map(|i| {
                let (a, b) = (self.outline[i], self.outline[(i + 1) % n]);
                (b[0] - a[0]).hypot(b[1] - a[1])
            })
            .sum()
    }

    /// A point given by its place on the axis and in the outline's plane.
    #[must_use]
    pub fn point(&self, along: f64, at: [f64; 2]) -> Vec3 {
        let mut point = Vec3::zeros();
        let [u, v] = across(self.axis);
        point[self.axis] = along;
        point[u] = at[0];
        point[v] = at[1];
        point
    }

    /// The mirror image across the centre plane.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let mut twin = self.clone();
        if self.axis == 1 {
            (twin.low, twin.high) = (-self.high, -self.low);
            return twin;
        }
        let at = usize::from(across(self.axis)[1] == 1);
        for corner in &mut twin.outline {
            corner[at] = -corner[at];
        }
        twin.outline.reverse();
        twin
    }

    /// Whether a point in the outline's plane lies inside the outline or on its edge.
    #[must_use]
    pub fn covers(&self, at: [f64; 2]) -> bool {
        self.edge_distance(at) >= -TOUCH
    }

    /// Distance of a point in the outline's plane from the nearest edge, m; negative outside.
    #[must_use]
    pub fn edge_distance(&self, at: [f64; 2]) -> f64 {
        let n = self.outline.len();
        let mut nearest = f64::INFINITY;
        let mut inside = false;
        for i in 0..n {
            let (a, b) = (self.outline[i], self.outline[(i + 1) % n]);
            let distance = to_segment(at, a, b);
            if distance < nearest {
                nearest = distance;
            }
            if (a[1] > at[1]) != (b[1] > at[1])
                && at[0] < (b[0] - a[0]) * (at[1] - a[1]) / (b[1] - a[1]) + a[0]
            {
                inside = !inside;
            }
        }
        if inside { nearest } else { -nearest }
    }

    /// Distance of a point from it, m; zero inside and on its faces.
    #[must_use]
    pub fn distance(&self, point: &Vec3) -> f64 {
        let [u, v] = across(self.axis);
        let beside = positive(-self.edge_distance([point[u], point[v]]));
        let at = point[self.axis];
        beside.hypot(larger(positive(self.low - at), positive(at - self.high)))
    }

    /// Its faces as closed polygons, corners in order.
    #[must_use]
    pub fn faces(&self) -> Vec<Vec<Vec3>> {
        let n = self.outline.len();
        let ring = |along: f64| -> Vec<Vec3> {
            self.outline.iter().map(|corner| self.point(along, *corner)).collect()
        };
        let (low, high) = (ring(self.low), ring(self.high));
        let mut faces: Vec<Vec<Vec3>> =
            (0..n).map(|i| vec![low[i], low[(i + 1) % n], high[(i + 1) % n], high[i]]).collect();
        faces.push(low);
        faces.push(high);
        faces
    }
}

/// Distance of a point from a segment in a plane, m.
fn to_segment(at: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let length2 = dx * dx + dy * dy;
    let share = if length2 > 0.0 {
        (((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / length2).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let (ex, ey) = (at[0] - a[0] - share * dx, at[1] - a[1] - share * dy);
    (ex * ex + ey * ey).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_block_has_its_volume_and_faces() {
        let block = Prism::block(1, [0.0, 0.0, 0.0], [0.2, 0.003, 0.08]);
        assert!((block.volume() - 0.2 * 0.003 * 0.08).abs() < 1e-15);
        assert_eq!(block.faces().len(), 6);
        assert!(block.covers([0.1, 0.04]) && !block.covers([0.3, 0.04]));
        assert!((block.edge_distance([0.1, 0.03]) - 0.03).abs() < 1e-12);
    }

    #[test]
    fn a_mirrored_prism_keeps_its_volume_and_flips_y() {
        let round = Prism::round(2, 0.0, 0.1, [0.3, 0.4], 0.02);
        let twin = round.mirrored();
        assert!((round.volume() - twin.volume()).abs() < 1e-15);
        assert!((round.volume() - std::f64::consts::PI * 1e-4 * 0.1).abs() < 1e-9);
        assert!((twin.range(1).0 + round.range(1).1).abs() < 1e-12);
    }
}
