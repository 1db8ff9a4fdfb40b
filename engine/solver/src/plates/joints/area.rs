//! Round areas of plates, taken by points that need no mesh of their own.

use super::motion::{Motion, Sample};
use super::row::Row;
use super::site::Site;
use super::surface::across;
use crate::plates::model::{PlateId, Ring};
use crate::vector::{Vec3, add, scale};
use fishplate_quantity::algebra::larger;
use std::f64::consts::TAU;

/// Rings of points in a round area, each ring with the same share of it.
const RINGS: usize = 4;
/// Points in a ring.
const ROUND: usize = 16;
/// Points on the rim of a hole.
const RIM: usize = 24;

/// What was found of a round area on a plate.
#[derive(Clone, Debug)]
pub(crate) struct Found {
    /// Points that lie over the plate.
    pub(crate) samples: Vec<Sample>,
    /// Share of all points that they are.
    pub(crate) share: f64,
}

/// Points of a ring with equal shares of its area.
pub(crate) fn ring(site: &Site<'_>, plate: PlateId, ring: &Ring) -> Found {
    let (inside, outside) = (0.5 * ring.inside, 0.5 * ring.outside);
    let mut points = Vec::with_capacity(RINGS * ROUND);
    for k in 0..RINGS {
        let share = (k as f64 + 0.5) / RINGS as f64;
        let square = inside * inside + share * (outside * outside - inside * inside);
        points.extend(circle(ring.centre, ring.axis, square.sqrt(), ROUND));
    }
    found(site, plate, &points, outside)
}

/// Points on the rim of a hole.
pub(crate) fn rim(site: &Site<'_>, plate: PlateId, ring: &Ring) -> Found {
    let radius = 0.5 * ring.inside;
    let points: Vec<Vec3> = circle(ring.centre, ring.axis, radius, RIM).collect();
    found(site, plate, &points, radius)
}

fn circle(centre: Vec3, axis: Vec3, radius: f64, count: usize) -> impl Iterator<Item = Vec3> {
    let [x, y] = across(axis);
    (0..count).map(move |i| {
        let angle = TAU * (i as f64 + 0.5) / count as f64;
        add(centre, add(scale(radius * angle.cos(), x), scale(radius * angle.sin(), y)))
    })
}

/// The points that lie over the plate or beyond its edge by no more than a mesh that rounds a hole
/// by a few straight sides leaves out.
fn found(site: &Site<'_>, plate: PlateId, points: &[Vec3], radius: f64) -> Found {
    let thickness = site.plate(plate).thickness;
    let mut samples = Vec::with_capacity(points.len());
    for &point in points {
        let Some(foot) = site.foot(plate, point) else { continue };
        let near = foot.height(point).abs() <= larger(thickness, 0.05 * radius);
        if near && foot.overhang(point) <= 0.15 * radius {
            samples.push(Sample { foot, weight: 1.0, thickness });
        }
    }
    Found { share: samples.len() as f64 / points.len() as f64, samples }
}

/// Six rows that hold two motions together at a point: translations in global directions, then
/// rotations.
pub(crate) fn hold(a: &Motion, b: &Motion, at: Vec3, stiffness: f64, radius: f64) -> [Row; 6] {
    [0, 1, 2, 3, 4, 5].map(|i| {
        let mut direction = [0.0; 3];
        direction[i % 3] = 1.0;
        if i < 3 {
            (&a.moves(at, direction) - &b.moves(at, direction)).row(stiffness)
        } else {
            (&a.turns(direction) - &b.turns(direction)).row(stiffness * radius * radius)
        }
    })
}
