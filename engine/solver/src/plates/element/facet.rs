//! Geometry of an element: its mean plane, its corners in it, natural coordinates.

use crate::vector::{Vec3, add, cross, dot, norm, scale, sub};
use fishplate_quantity::algebra::{larger, sq};

/// Heights of corners over the mean plane up to this share of the square root of the area are
/// rounding of a flat element and are taken as zero (common practice, no source).
const FLAT: f64 = 1e-9;
/// Largest height of a corner over the mean plane, as a share of the square root of the area: a
/// square of this warp has normals at its corners about 35 degrees from that of the mean plane,
/// which is a fold and no surface (common practice, no source).
const WARP_LIMIT: f64 = 0.25;
/// Smallest Jacobian at a corner, as a share of that of a square of the same area: what rounding
/// leaves of an inner angle of 180 degrees (common practice, no source).
const LEAST_JACOBIAN: f64 = 1e-6;
/// Area below this share of the square of the longest side is no area: rounding of coordinates
/// (common practice, no source).
const LEAST_AREA: f64 = 1e-9;
/// Steps of Newton's method for natural coordinates; it converges quadratically, 4 to 6 are usual.
const NEWTON_STEPS: usize = 30;

/// Arch of the side of a triangle over that of a parabola with the slopes of the corner rotations
/// (Felippa, see the membrane of triangles).
const TRIANGLE_ARCH: f64 = 1.5;

/// Place of the Gauss points of two in natural coordinates, `1 / sqrt(3)`.
const GAUSS: f64 = 0.577_350_269_189_625_8;
/// Natural coordinates of the corners of a quadrilateral; also the signs of its Gauss points.
pub(super) const CORNERS: [[f64; 2]; 4] = [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]];
/// The Gauss points of two by two, each of weight one.
pub(super) const GAUSS_POINTS: [[f64; 2]; 4] =
    [[-GAUSS, -GAUSS], [GAUSS, -GAUSS], [GAUSS, GAUSS], [-GAUSS, GAUSS]];
/// Area coordinates of the three points of the rule of second order in a triangle, each with a
/// third of the area as its weight.
pub(super) const TRIANGLE_POINTS: [[f64; 3]; 3] = [
    [2.0 / 3.0, 1.0 / 6.0, 1.0 / 6.0],
    [1.0 / 6.0, 2.0 / 3.0, 1.0 / 6.0],
    [1.0 / 6.0, 1.0 / 6.0, 2.0 / 3.0],
];

/// Why points can't be the corners of an element. Corners are counted from 0.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub(crate) enum BadShape {
    /// The corners lie on a line or on a point, or a coordinate is no number.
    #[error("the corners enclose no area: they lie on a line or on a point")]
    NoArea,
    /// The inner angle at this corner is 180 degrees or more.
    #[error(
        "the inner angle at corner {corner} is not below 180 degrees \
         (its Jacobian is {jacobian:.1e} of that of a square; above 0 is needed)"
    )]
    NotConvex {
        /// The corner.
        corner: usize,
        /// Its Jacobian over that of a square of the same area.
        jacobian: f64,
    },
    /// This corner is too far off the mean plane.
    #[error(
        "corner {corner} lies {warp:.2} times the square root of the area off the mean plane; \
         at most 0.25 is a surface that bends and no fold"
    )]
    Warped {
        /// The corner.
        corner: usize,
        /// Height over the mean plane over the square root of the area.
        warp: f64,
    },
}

/// What lies beyond a side of an element in the same plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Beyond {
    /// An element of the same shape, or nothing.
    Alike,
    /// An element of the other shape.
    Other,
}

/// Corners of an element in the axes of its mean plane. A triangle has three, a quadrilateral
/// four; what belongs to a fourth corner of a triangle is zero.
///
/// Corners run counter-clockwise seen from +e3.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Facet {
    /// 3 or 4.
    pub(crate) corners: usize,
    /// Mean of the corners, m.
    pub(crate) origin: Vec3,
    /// Element axes e1, e2, e3 as rows: components of a vector in them are the products with it.
    pub(crate) axes: [Vec3; 3],
    /// Corners along e1 and e2 from the origin, m.
    pub(crate) plane: [[f64; 2]; 4],
    /// Corners along e3 from the origin, m: exactly zero where the element is flat.
    pub(crate) heights: [f64; 4],
    /// Area in the mean plane, m2.
    pub(crate) area: f64,
    /// What lies beyond side k, from corner k to the next.
    pub(crate) beyond: [Beyond; 4],
}

/// Shape functions at a point of a quadrilateral.
#[derive(Clone, Copy, Debug)]
pub(super) struct QuadPoint {
    /// Gradients along e1, e2, 1/m.
    pub(super) gradients: [[f64; 2]; 4],
    /// Area per area of natural coordinates, m2.
    pub(super) jacobian: f64,
    /// `[b][a]`: change of natural coordinate a per length along axis b, 1/m.
    pub(super) inverse: [[f64; 2]; 2],
}

impl Facet {
    /// The quadrilateral with these corners, m. Its mean plane is parallel to both diagonals; e1
    /// runs from the middle of side 3-0 to the middle of side 1-2.
    ///
    /// # Errors
    /// When the corners enclose no area, are not convex, or lie too far off a plane.
    pub(crate) fn quad(points: &[Vec3; 4]) -> Result<Self, BadShape> {
        let [a, b, c, d] = *points;
        let normal = cross(sub(c, a), sub(d, b));
        let area = norm(normal) / 2.0;
        enclose(area, points)?;
        let along = sub(add(b, c), add(a, d));
        let origin = scale(0.25, add(add(a, b), add(c, d)));
        Self::in_axes(points, origin, axes(along, normal)?, area)
    }

    /// The triangle with these corners, m; e1 runs along side 0-1.
    ///
    /// # Errors
    /// When the corners enclose no area.
    pub(crate) fn triangle(points: &[Vec3; 3]) -> Result<Self, BadShape> {
        let [a, b, c] = *points;
        let normal = cross(sub(b, a), sub(c, a));
        let area = norm(normal) / 2.0;
        enclose(area, points)?;
        let origin = scale(1.0 / 3.0, add(add(a, b), c));
        let mut facet = Self::in_axes(points, origin, axes(sub(b, a), normal)?, area)?;
        facet.heights = [0.0; 4];
        Ok(facet)
    }

    fn in_axes(
        points: &[Vec3],
        origin: Vec3,
        axes: [Vec3; 3],
        area: f64,
    ) -> Result<Self, BadShape> {
        let corners = points.len();
        let mut plane = [[0.0; 2]; 4];
        let mut heights = [0.0; 4];
        for (i, point) in points.iter().enumerate() {
            let arm = sub(*point, origin);
            plane[i] = [dot(axes[0], arm), dot(axes[1], arm)];
            heights[i] = dot(axes[2], arm);
        }
        let size = area.sqrt();
        let mut highest = 0;
        for i in 1..corners {
            if heights[i].abs() > heights[highest].abs() {
                highest = i;
            }
        }
        let warp = heights[highest].abs() / size;
        if warp > WARP_LIMIT {
            return Err(BadShape::Warped { corner: highest, warp });
        }
        if warp <= FLAT {
            heights = [0.0; 4];
        }
        let beyond = [Beyond::Alike; 4];
        let facet = Facet { corners, origin, axes, plane, heights, area, beyond };
        // The Jacobian of a square or of a right-angled isosceles triangle is its reference.
        let reference = if corners == 4 { area } else { 2.0 * area };
        for corner in 0..corners {
            let (ahead, behind) = (facet.side(corner), facet.side(corner + corners - 1));
            let jacobian = (behind[0] * ahead[1] - behind[1] * ahead[0]) / reference;
            if jacobian > LEAST_JACOBIAN {
                continue;
            }
            return Err(BadShape::NotConvex { corner, jacobian });
        }
        Ok(facet)
    }

    /// Whether the corners lie in one plane: then membrane and bending are uncoupled.
    pub(crate) fn is_flat(&self) -> bool {
        self.heights.iter().all(|d| d.abs() <= 0.0)
    }

    /// The same element with what lies beyond its sides in the same plate; side k runs from corner k
    /// to the next. Constant stress passes from triangles to quadrilaterals only if both know.
    pub(crate) fn beside(&self, beyond: [Beyond; 4]) -> Facet {
        Facet { beyond, ..*self }
    }

    /// The same element with e1 along the part of a direction that lies in the mean plane.
    /// Nothing changes when that part vanishes.
    pub(crate) fn turned_to(&self, direction: Vec3) -> Facet {
        let (x, y) = (dot(self.axes[0], direction), dot(self.axes[1], direction));
        let length = (sq(x) + sq(y)).sqrt();
        if length > 0.0 {
            let (c, s) = (x / length, y / length);
            let [e1, e2, e3] = self.axes;
            let plane = self.plane.map(|[x, y]| [c * x + s * y, c * y - s * x]);
            let axes = [add(scale(c, e1), scale(s, e2)), sub(scale(c, e2), scale(s, e1)), e3];
            Facet { axes, plane, ..*self }
        } else {
            *self
        }
    }

    /// Shape functions at natural coordinates: bilinear in (-1..1, -1..1) for a quadrilateral,
    /// `1 - xi - eta, xi, eta` for a triangle.
    pub(crate) fn shape(&self, xi: f64, eta: f64) -> [f64; 4] {
        if self.corners == 4 {
            CORNERS.map(|[a, b]| 0.25 * (1.0 + a * xi) * (1.0 + b * eta))
        } else {
            [1.0 - xi - eta, xi, eta, 0.0]
        }
    }

    /// Natural coordinates of the foot of a point (m) on the mean plane, inside the element or
    /// out of it; `None` for a point far outside of a quadrilateral that has no such coordinates.
    pub(crate) fn locate(&self, point: Vec3) -> Option<[f64; 2]> {
        let arm = sub(point, self.origin);
        let foot = [dot(self.axes[0], arm), dot(self.axes[1], arm)];
        if self.corners == 3 {
            let (a, b) = (self.side(0), self.side(2));
            let r = [foot[0] - self.plane[0][0], foot[1] - self.plane[0][1]];
            let doubled = 2.0 * self.area;
            let xi = (r[1] * b[0] - r[0] * b[1]) / doubled;
            let eta = (a[0] * r[1] - a[1] * r[0]) / doubled;
            return Some([xi, eta]);
        }
        let mut natural = [0.0; 2];
        for _ in 0..NEWTON_STEPS {
            let shape = self.shape(natural[0], natural[1]);
            let mut gap = foot;
            for (n, p) in shape.iter().zip(&self.plane) {
                gap[0] -= n * p[0];
                gap[1] -= n * p[1];
            }
            let at = self.quad_point(natural);
            let step = [
                at.inverse[0][0] * gap[0] + at.inverse[1][0] * gap[1],
                at.inverse[0][1] * gap[0] + at.inverse[1][1] * gap[1],
            ];
            natural = [natural[0] + step[0], natural[1] + step[1]];
            if larger(step[0].abs(), step[1].abs()) < 1e-13 * (1.0 + natural[0].abs()) {
                return Some(natural);
            }
        }
        None
    }

    /// From corner k to the next one in the mean plane, m; k is taken round.
    pub(super) fn side(&self, k: usize) -> [f64; 2] {
        let (from, to) = (self.plane[k % self.corners], self.plane[(k + 1) % self.corners]);
        [to[0] - from[0], to[1] - from[1]]
    }

    /// Movement along e1 and e2 of the middle of a side per rotation of the corner where it ends and
    /// opposite rotation of the corner where it begins, m: a parabola in a quadrilateral (Allman),
    /// more in a triangle and beside one.
    pub(super) fn arch(&self, side: usize) -> [f64; 2] {
        let alike = self.corners == 4 && self.beyond[side] == Beyond::Alike;
        let share = if alike { 1.0 } else { TRIANGLE_ARCH } / 8.0;
        let run = self.side(side);
        [share * run[1], -share * run[0]]
    }

    /// Gradients of the area coordinates of a triangle along e1, e2, 1/m.
    pub(super) fn triangle_gradients(&self) -> [[f64; 2]; 3] {
        [0, 1, 2].map(|i| {
            let opposite = self.side(i + 1);
            [-opposite[1] / (2.0 * self.area), opposite[0] / (2.0 * self.area)]
        })
    }

    /// Shape functions of a quadrilateral at natural coordinates.
    pub(super) fn quad_point(&self, [xi, eta]: [f64; 2]) -> QuadPoint {
        let natural = CORNERS.map(|[a, b]| [0.25 * a * (1.0 + b * eta), 0.25 * b * (1.0 + a * xi)]);
        let mut along = [[0.0; 2]; 2];
        for (derivative, p) in natural.iter().zip(&self.plane) {
            for a in 0..2 {
                for b in 0..2 {
                    along[a][b] += derivative[a] * p[b];
                }
            }
        }
        let jacobian = along[0][0] * along[1][1] - along[0][1] * along[1][0];
        let inverse = [
            [along[1][1] / jacobian, -along[0][1] / jacobian],
            [-along[1][0] / jacobian, along[0][0] / jacobian],
        ];
        let gradients = natural.map(|d| turn(&inverse, d));
        QuadPoint { gradients, jacobian, inverse }
    }
}

/// Gradient along e1, e2 from derivatives with respect to natural coordinates.
pub(super) fn turn(inverse: &[[f64; 2]; 2], derivative: [f64; 2]) -> [f64; 2] {
    [
        inverse[0][0] * derivative[0] + inverse[0][1] * derivative[1],
        inverse[1][0] * derivative[0] + inverse[1][1] * derivative[1],
    ]
}

fn enclose(area: f64, points: &[Vec3]) -> Result<(), BadShape> {
    let mut longest = 0.0;
    for (i, p) in points.iter().enumerate() {
        longest = larger(longest, norm(sub(points[(i + 1) % points.len()], *p)));
    }
    if area > LEAST_AREA * sq(longest) { Ok(()) } else { Err(BadShape::NoArea) }
}

fn axes(along: Vec3, normal: Vec3) -> Result<[Vec3; 3], BadShape> {
    let e3 = scale(1.0 / norm(normal), normal);
    let flat = sub(along, scale(dot(along, e3), e3));
    let length = norm(flat);
    if length > 0.0 {
        let e1 = scale(1.0 / length, flat);
        Ok([e1, cross(e3, e1), e3])
    } else {
        Err(BadShape::NoArea)
    }
}
