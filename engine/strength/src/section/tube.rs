//! Rectangular hollow sections, each wall with its own remaining thickness.

use super::error::{SectionError, not_negative, positive, within};
use super::midline::{Midline, MidlineWall};
use super::outline::Outline;
use super::properties::{TorsionMethod, TorsionValue, Wall, WallSupport};
use super::region::Region;
use super::shape::{Anatomy, NamedPoint, Theory};
use fishplate_quantity::algebra::{cube, hypot, larger, smaller, sq};
use std::f64::consts::{FRAC_1_SQRT_2, PI};

const SHAPE: &str = "rectangular tube";

/// One wall of a tube: its thickness as new, and what it has lost on either face, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TubeWall {
    /// Thickness as new.
    pub nominal: f64,
    /// Depth lost from the outer face.
    pub loss_outside: f64,
    /// Depth lost from the inner face.
    pub loss_inside: f64,
}

impl TubeWall {
    /// A wall that has lost nothing.
    #[must_use]
    pub fn sound(nominal: f64) -> Self {
        Self { nominal, loss_outside: 0.0, loss_inside: 0.0 }
    }

    /// Thickness as it is now, m.
    #[must_use]
    pub fn remaining(&self) -> f64 {
        self.nominal - self.loss_outside - self.loss_inside
    }
}

/// A rectangular hollow section. Drawing origin: centre of the outer rectangle as new, so that it stays where it was
/// when walls thin.
#[derive(Debug, Clone, PartialEq)]
pub struct RectangularTube {
    height: f64,
    width: f64,
    top: TubeWall,
    bottom: TubeWall,
    left: TubeWall,
    right: TubeWall,
    outer_radius: f64,
    inner_radius: f64,
}

impl RectangularTube {
    /// A tube `height` along z and `width` along y with one wall thickness and corner radii, m; 0 is a sharp corner.
    ///
    /// EN 10219-2 tubes up to 6 mm wall: outer radius 2 t, inner radius t.
    ///
    /// # Errors
    /// A dimension is not positive or doesn't fit.
    pub fn uniform(
        height: f64,
        width: f64,
        thickness: f64,
        outer_radius: f64,
        inner_radius: f64,
    ) -> Result<Self, SectionError> {
        let wall = TubeWall::sound(thickness);
        Self::new(height, width, [wall; 4], outer_radius, inner_radius)
    }

    /// A tube with each wall given: top, bottom, left (-y), right (+y); radii as new, m.
    ///
    /// Where two walls of a corner have lost different depths, the corner is drawn with the smaller of the two: the
    /// outer corner keeps the larger radius and the inner corner the smaller one, which never counts steel that is gone.
    ///
    /// # Errors
    /// A dimension is not positive or doesn't fit; nothing is left of a wall; a corner would vanish.
    pub fn new(
        height: f64,
        width: f64,
        [top, bottom, left, right]: [TubeWall; 4],
        outer_radius: f64,
        inner_radius: f64,
    ) -> Result<Self, SectionError> {
        positive(SHAPE, "height", height)?;
        positive(SHAPE, "width", width)?;
        let smallest = smaller(height, width);
        for wall in [top, bottom, left, right] {
            within(SHAPE, "wall thickness", wall.nominal, 1e-6, 0.4 * smallest)?;
            not_negative(SHAPE, "loss outside", wall.loss_outside)?;
            not_negative(SHAPE, "loss inside", wall.loss_inside)?;
            within(SHAPE, "remaining wall thickness", wall.remaining(), 1e-6, 0.4 * smallest)?;
        }
        within(SHAPE, "outer radius", outer_radius, 0.0, smallest / 2.0)?;
        let tube = Self { height, width, top, bottom, left, right, outer_radius, inner_radius };
        let cavity = tube.inner_box();
        let room = smaller(cavity.width(), cavity.height()) / 2.0;
        within(SHAPE, "inner radius", inner_radius, 0.0, room)?;
        for corner in tube.corners() {
            corner.check()?;
        }
        Ok(tube)
    }

    /// Outer height as new, m.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.height
    }

    /// Outer width as new, m.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.width
    }

    /// The walls: top, bottom, left, right.
    #[must_use]
    pub fn walls(&self) -> [TubeWall; 4] {
        [self.top, self.bottom, self.left, self.right]
    }

    /// Thickness of the thinnest wall as it is now, m.
    #[must_use]
    pub fn thinnest(&self) -> f64 {
        self.walls().iter().map(TubeWall::remaining).fold(f64::INFINITY, smaller)
    }

    /// Outer corner radius as new, m.
    #[must_use]
    pub fn outer_radius(&self) -> f64 {
        self.outer_radius
    }

    /// Inner corner radius as new, m.
    #[must_use]
    pub fn inner_radius(&self) -> f64 {
        self.inner_radius
    }

    pub(super) fn torsion(&self, method: TorsionMethod) -> Option<TorsionValue> {
        match method {
            TorsionMethod::En10219 => self.en_10219(),
            TorsionMethod::Bredt => Some(self.bredt()),
            _ => None,
        }
    }

    /// EN 10219-2 Annex B (from memory): with `h` the length of the midline and `A_h` the area in it,
    /// `It = 4 A_h^2 T / h + T^3 h / 3` and `Ct = It / (T + 2 A_h / h)`. For even walls only.
    fn en_10219(&self) -> Option<TorsionValue> {
        if !self.is_even() {
            return None;
        }
        let t = self.top.remaining();
        let (a_h, length_over_t) = self.cell();
        let h = length_over_t * t;
        let constant = 4.0 * sq(a_h) * t / h + cube(t) * h / 3.0;
        let modulus = constant / (t + 2.0 * a_h / h);
        Some(TorsionValue { constant, modulus, method: TorsionMethod::En10219 })
    }

    /// Bredt: `4 A_m^2 / sum(s / t)`, modulus `2 A_m t` of the thinnest wall (Timoshenko, Strength of Materials, Part II).
    fn bredt(&self) -> TorsionValue {
        let (a_m, length_over_t) = self.cell();
        TorsionValue {
            constant: 4.0 * sq(a_m) / length_over_t,
            modulus: 2.0 * a_m * self.thinnest(),
            method: TorsionMethod::Bredt,
        }
    }

    /// Area within the midline, m2, and the sum of length over thickness round it. A rounded corner takes its mean
    /// radius from both walls and puts an arc of the thinner of the two in place.
    fn cell(&self) -> (f64, f64) {
        let midline = self.midline();
        let n = midline.nodes();
        let (width, height) = (n[1].0 - n[0].0, n[3].1 - n[0].1);
        let horizontal = 1.0 / self.top.remaining() + 1.0 / self.bottom.remaining();
        let vertical = 1.0 / self.left.remaining() + 1.0 / self.right.remaining();
        let (mut area, mut flex) = (width * height, width * horizontal + height * vertical);
        for corner in self.corners() {
            let r = f64::midpoint(corner.outer_radius, corner.inner_radius);
            area -= sq(r) * (1.0 - PI / 4.0);
            flex -= r / corner.side + r / corner.flat;
            flex += r * PI / 2.0 / smaller(corner.side, corner.flat);
        }
        (area, flex)
    }

    /// Whether all walls have the same remaining thickness and all corners the same radii.
    fn is_even(&self) -> bool {
        let same = |a: f64, b: f64| (a - b).abs() <= 1e-9;
        let (t, first) = (self.top.remaining(), self.corners()[0]);
        self.walls().iter().all(|w| same(w.remaining(), t))
            && self.corners().iter().all(|c| {
                same(c.outer_radius, first.outer_radius) && same(c.inner_radius, first.inner_radius)
            })
    }

    fn outer_box(&self) -> Bounds {
        let (y, z) = (self.width / 2.0, self.height / 2.0);
        Bounds {
            left: -y + self.left.loss_outside,
            right: y - self.right.loss_outside,
            bottom: -z + self.bottom.loss_outside,
            top: z - self.top.loss_outside,
        }
    }

    fn inner_box(&self) -> Bounds {
        let o = self.outer_box();
        Bounds {
            left: o.left + self.left.remaining(),
            right: o.right - self.right.remaining(),
            bottom: o.bottom + self.bottom.remaining(),
            top: o.top - self.top.remaining(),
        }
    }

    /// Corners anticlockwise from lower left.
    fn corners(&self) -> [Corner; 4] {
        let corner = |side: TubeWall, flat: TubeWall| Corner {
            outer_radius: larger(
                self.outer_radius - smaller(side.loss_outside, flat.loss_outside),
                0.0,
            ),
            inner_radius: if self.inner_radius > 0.0 {
                self.inner_radius + smaller(side.loss_inside, flat.loss_inside)
            } else {
                0.0
            },
            side: side.remaining(),
            flat: flat.remaining(),
        };
        [
            corner(self.left, self.bottom),
            corner(self.right, self.bottom),
            corner(self.right, self.top),
            corner(self.left, self.top),
        ]
    }

    fn midline(&self) -> Midline {
        let (o, i) = (self.outer_box(), self.inner_box());
        let (left, right) = (f64::midpoint(o.left, i.left), f64::midpoint(o.right, i.right));
        let (bottom, top) = (f64::midpoint(o.bottom, i.bottom), f64::midpoint(o.top, i.top));
        let wall = |from, to, w: TubeWall| MidlineWall { from, to, t: w.remaining() };
        Midline::known(
            vec![(left, bottom), (right, bottom), (right, top), (left, top)],
            vec![
                wall(0, 1, self.bottom),
                wall(1, 2, self.right),
                wall(2, 3, self.top),
                wall(3, 0, self.left),
            ],
        )
    }

    pub(super) fn anatomy(&self) -> Anatomy {
        let (outer, inner, corners) = (self.outer_box(), self.inner_box(), self.corners());
        let hole = inner.outline(corners.map(|c| c.inner_radius)).reversed();
        let symmetric = self.is_even();
        let torsion = self.en_10219().unwrap_or_else(|| self.bredt());
        Anatomy {
            region: Region::of(vec![outer.outline(corners.map(|c| c.outer_radius)), hole]),
            torsion,
            enclosed_area: Some(self.cell().0),
            points: vec![
                NamedPoint::new("lower left corner", (outer.left, outer.bottom), Some(0)),
                NamedPoint::new("lower right corner", (outer.right, outer.bottom), Some(1)),
                NamedPoint::new("upper right corner", (outer.right, outer.top), Some(2)),
                NamedPoint::new("upper left corner", (outer.left, outer.top), Some(3)),
            ],
            walls: self.flat_walls(),
            theory: Theory::Thin { midline: self.midline(), symmetric },
        }
    }

    /// Flat width of each wall: clear width less the inner radii, of which no more than half the wall each is
    /// credited, so that a tube to EN 10219-2 gets the usual `b - 3 t`.
    fn flat_walls(&self) -> Vec<Wall> {
        let (o, i, corners) = (self.outer_box(), self.inner_box(), self.corners());
        let mid = |a: f64, b: f64| f64::midpoint(a, b);
        let trim = |corner: usize, t: f64| smaller(corners[corner].inner_radius, t / 2.0);
        let horizontal = |name: &str, t: f64, z: f64, first: usize, second: usize| {
            let (start, end) = ((i.left + trim(first, t), z), (i.right - trim(second, t), z));
            internal(name, t, o.width(), start, end)
        };
        let vertical = |name: &str, t: f64, y: f64, first: usize, second: usize| {
            let (start, end) = ((y, i.bottom + trim(first, t)), (y, i.top - trim(second, t)));
            internal(name, t, o.height(), start, end)
        };
        vec![
            horizontal("bottom wall", self.bottom.remaining(), mid(o.bottom, i.bottom), 0, 1),
            vertical("right wall", self.right.remaining(), mid(o.right, i.right), 1, 2),
            horizontal("top wall", self.top.remaining(), mid(o.top, i.top), 3, 2),
            vertical("left wall", self.left.remaining(), mid(o.left, i.left), 0, 3),
        ]
    }
}

fn internal(name: &str, t: f64, overall: f64, start: (f64, f64), end: (f64, f64)) -> Wall {
    Wall {
        name: name.to_owned(),
        c: hypot(end.0 - start.0, end.1 - start.1),
        t,
        overall,
        support: WallSupport::Internal,
        start,
        end,
    }
}

/// An upright rectangle.
#[derive(Debug, Clone, Copy)]
struct Bounds {
    left: f64,
    right: f64,
    bottom: f64,
    top: f64,
}

impl Bounds {
    fn width(&self) -> f64 {
        self.right - self.left
    }

    fn height(&self) -> f64 {
        self.top - self.bottom
    }

    fn outline(&self, radii: [f64; 4]) -> Outline {
        Outline::polygon(&[
            (self.left, self.bottom, radii[0]),
            (self.right, self.bottom, radii[1]),
            (self.right, self.top, radii[2]),
            (self.left, self.top, radii[3]),
        ])
    }
}

/// One corner: its radii and the walls that meet in it.
#[derive(Debug, Clone, Copy)]
struct Corner {
    outer_radius: f64,
    inner_radius: f64,
    side: f64,
    flat: f64,
}

impl Corner {
    /// The middle of the inner arc must stay inside the outer arc by half the thinner wall.
    fn check(&self) -> Result<(), SectionError> {
        let inner = self.inner_radius * (1.0 - FRAC_1_SQRT_2);
        let from_centre =
            (self.outer_radius - self.side - inner, self.outer_radius - self.flat - inner);
        let distance = hypot(larger(from_centre.0, 0.0), larger(from_centre.1, 0.0));
        let left = self.outer_radius - distance;
        let needed = smaller(self.outer_radius, 0.5 * smaller(self.side, self.flat));
        if left + 1e-9 >= needed {
            return Ok(());
        }
        Err(SectionError::Dimension {
            shape: SHAPE,
            field: "outer radius",
            given: self.outer_radius,
            allowed: format!(
                "small enough to leave {:.2} mm of steel in the corner beside the inner radius of {:.2} mm; it leaves {:.2} mm",
                needed * 1e3,
                self.inner_radius * 1e3,
                left * 1e3
            ),
        })
    }
}
