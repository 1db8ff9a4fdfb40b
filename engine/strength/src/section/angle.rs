//! Angles, rolled or folded.

use super::error::{SectionError, not_negative, positive, within};
use super::midline::{Midline, MidlineWall};
use super::outline::Outline;
use super::properties::{TorsionMethod, TorsionValue, Wall, WallSupport};
use super::region::Region;
use super::shape::{Anatomy, NamedPoint, Theory};
use super::torsion::{bend_cut, corner_bonus, softer, standing, through};
use fishplate_quantity::algebra::{cube, larger, smaller};

const SHAPE: &str = "angle";

/// An angle. Drawing origin: outer heel; the vertical leg runs along +z, the horizontal leg along +y.
///
/// Rolled angles have a sharp heel, a filleted root, and toes rounded on their inner edges; folded ones a rounded heel.
#[derive(Debug, Clone, PartialEq)]
pub struct Angle {
    vertical: f64,
    horizontal: f64,
    t: f64,
    root_radius: f64,
    toe_radius: f64,
    heel_radius: f64,
}

impl Angle {
    /// An angle with overall leg lengths, thickness and radii in m; a radius of 0 is a sharp corner.
    ///
    /// # Errors
    /// A dimension is not positive, the thickness reaches half a leg, or a radius doesn't fit.
    pub fn new(
        vertical_leg: f64,
        horizontal_leg: f64,
        thickness: f64,
        root_radius: f64,
        toe_radius: f64,
    ) -> Result<Self, SectionError> {
        positive(SHAPE, "vertical leg", vertical_leg)?;
        positive(SHAPE, "horizontal leg", horizontal_leg)?;
        let shorter = smaller(vertical_leg, horizontal_leg);
        within(SHAPE, "thickness", thickness, 1e-6, 0.5 * shorter)?;
        not_negative(SHAPE, "toe radius", toe_radius)?;
        within(SHAPE, "toe radius", toe_radius, 0.0, thickness)?;
        within(SHAPE, "root radius", root_radius, 0.0, shorter - thickness - toe_radius)?;
        Ok(Self {
            vertical: vertical_leg,
            horizontal: horizontal_leg,
            t: thickness,
            root_radius,
            toe_radius,
            heel_radius: 0.0,
        })
    }

    /// An angle folded from sheet: inner bend radius given, outer one larger by the thickness, square toes.
    ///
    /// # Errors
    /// As [`Angle::new`].
    pub fn folded(
        vertical_leg: f64,
        horizontal_leg: f64,
        thickness: f64,
        inner_radius: f64,
    ) -> Result<Self, SectionError> {
        let square = Self::new(vertical_leg, horizontal_leg, thickness, inner_radius, 0.0)?;
        Ok(Self { heel_radius: inner_radius + thickness, ..square })
    }

    /// An angle with sharp corners.
    ///
    /// # Errors
    /// As [`Angle::new`].
    pub fn sharp(
        vertical_leg: f64,
        horizontal_leg: f64,
        thickness: f64,
    ) -> Result<Self, SectionError> {
        Self::new(vertical_leg, horizontal_leg, thickness, 0.0, 0.0)
    }

    /// Overall length of the vertical leg, m.
    #[must_use]
    pub fn vertical_leg(&self) -> f64 {
        self.vertical
    }

    /// Overall length of the horizontal leg, m.
    #[must_use]
    pub fn horizontal_leg(&self) -> f64 {
        self.horizontal
    }

    /// Thickness, m.
    #[must_use]
    pub fn thickness(&self) -> f64 {
        self.t
    }

    /// Radius of the root fillet, m.
    #[must_use]
    pub fn root_radius(&self) -> f64 {
        self.root_radius
    }

    /// Radius at the inner edge of the toes, m.
    #[must_use]
    pub fn toe_radius(&self) -> f64 {
        self.toe_radius
    }

    /// Radius of the outer heel corner, m; 0 unless folded.
    #[must_use]
    pub fn heel_radius(&self) -> f64 {
        self.heel_radius
    }

    pub(super) fn torsion(&self, method: TorsionMethod) -> Option<TorsionValue> {
        let (long, short) =
            (larger(self.vertical, self.horizontal), smaller(self.vertical, self.horizontal));
        let constant = match method {
            TorsionMethod::ThinWallSum => {
                let cut = bend_cut(self.root_radius, self.heel_radius);
                (long + short - self.t - 2.0 * cut) * cube(self.t) / 3.0
            }
            TorsionMethod::JunctionCorrected if self.heel_radius <= 0.0 => {
                through(long, self.t)
                    + standing(short - self.t, self.t)
                    + corner_bonus(self.t, self.t, self.root_radius)
            }
            _ => return None,
        };
        Some(TorsionValue { constant, modulus: constant / self.t, method })
    }

    pub(super) fn anatomy(&self) -> Anatomy {
        let (a, b, t) = (self.vertical, self.horizontal, self.t);
        let (r1, r2) = (self.root_radius, self.toe_radius);
        let outline = Outline::polygon(&[
            (0.0, 0.0, self.heel_radius),
            (b, 0.0, 0.0),
            (b, t, r2),
            (t, t, r1),
            (t, a, r2),
            (0.0, a, 0.0),
        ]);
        let h = t / 2.0;
        let wall = |from, to| MidlineWall { from, to, t };
        let midline = Midline::known(vec![(b, h), (h, h), (h, a)], vec![wall(0, 1), wall(1, 2)]);
        let leg = |name: &str, overall: f64, start, end| Wall {
            name: name.to_owned(),
            c: overall - t - r1,
            t,
            overall,
            support: WallSupport::Outstand,
            start,
            end,
        };
        Anatomy {
            region: Region::of(vec![outline]),
            theory: Theory::Thin { midline, symmetric: false },
            torsion: softer(|method| self.torsion(method)),
            enclosed_area: None,
            points: vec![
                NamedPoint::new("heel", (0.0, 0.0), Some(1)),
                NamedPoint::new("toe of vertical leg, outer edge", (0.0, a), Some(2)),
                NamedPoint::new("toe of vertical leg, inner edge", (t, a), Some(2)),
                NamedPoint::new("toe of horizontal leg, outer edge", (b, 0.0), Some(0)),
                NamedPoint::new("toe of horizontal leg, inner edge", (b, t), Some(0)),
                NamedPoint::new("root", (t, t), Some(1)),
            ],
            walls: vec![
                leg("vertical leg", a, (h, t + r1), (h, a)),
                leg("horizontal leg", b, (t + r1, h), (b, h)),
            ],
        }
    }
}
