//! Channels and folded U sections.

use super::error::{SectionError, positive, within};
use super::midline::{Midline, MidlineWall};
use super::outline::Outline;
use super::properties::{TorsionMethod, TorsionValue, Wall, WallSupport};
use super::region::Region;
use super::shape::{Anatomy, NamedPoint, Theory};
use super::torsion::{bend_cut, corner_bonus, softer, standing, through};
use fishplate_quantity::algebra::{cube, larger, smaller};

const SHAPE: &str = "channel";

/// A channel. Drawing origin: back of the web at half height; the flanges point towards +y.
///
/// A folded U (two walls on a floor) is a channel on its back: the web is the floor; place it turned in a
/// [`super::BuiltUp`], or check it in its own axes. A worn channel is one with its remaining thicknesses and, where the outer
/// faces were lost, its remaining height and width.
#[derive(Debug, Clone, PartialEq)]
pub struct Channel {
    height: f64,
    flange: f64,
    web_t: f64,
    flange_t: f64,
    inner_radius: f64,
    outer_radius: f64,
}

impl Channel {
    /// A channel with overall height and flange width, thicknesses and corner radii in m; 0 is a sharp corner.
    ///
    /// # Errors
    /// A dimension is not positive or doesn't fit the others; the corner would be thinner than half its wall.
    pub fn new(
        height: f64,
        flange_width: f64,
        web_thickness: f64,
        flange_thickness: f64,
        inner_radius: f64,
        outer_radius: f64,
    ) -> Result<Self, SectionError> {
        positive(SHAPE, "height", height)?;
        positive(SHAPE, "flange width", flange_width)?;
        within(SHAPE, "web thickness", web_thickness, 1e-6, 0.5 * flange_width)?;
        within(SHAPE, "flange thickness", flange_thickness, 1e-6, 0.4 * height)?;
        let room = smaller(height / 2.0 - flange_thickness, flange_width - web_thickness);
        within(SHAPE, "inner radius", inner_radius, 0.0, room)?;
        let thin = smaller(web_thickness, flange_thickness);
        let most = smaller(inner_radius + 2.0 * thin, smaller(height / 2.0, flange_width));
        within(SHAPE, "outer radius", outer_radius, 0.0, most)?;
        Ok(Self {
            height,
            flange: flange_width,
            web_t: web_thickness,
            flange_t: flange_thickness,
            inner_radius,
            outer_radius,
        })
    }

    /// A channel folded from sheet: one thickness, outer radius = inner radius + thickness.
    ///
    /// # Errors
    /// As [`Channel::new`].
    pub fn folded(
        height: f64,
        flange_width: f64,
        thickness: f64,
        inner_radius: f64,
    ) -> Result<Self, SectionError> {
        let outer = inner_radius + thickness;
        Self::new(height, flange_width, thickness, thickness, inner_radius, outer)
    }

    /// Overall height along the web, m.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.height
    }

    /// Overall flange width from the back of the web, m.
    #[must_use]
    pub fn flange_width(&self) -> f64 {
        self.flange
    }

    /// Web thickness, m.
    #[must_use]
    pub fn web_thickness(&self) -> f64 {
        self.web_t
    }

    /// Flange thickness, m.
    #[must_use]
    pub fn flange_thickness(&self) -> f64 {
        self.flange_t
    }

    /// Inner corner radius, m.
    #[must_use]
    pub fn inner_radius(&self) -> f64 {
        self.inner_radius
    }

    /// Outer corner radius, m.
    #[must_use]
    pub fn outer_radius(&self) -> f64 {
        self.outer_radius
    }

    pub(super) fn torsion(&self, method: TorsionMethod) -> Option<TorsionValue> {
        let (tw, tf) = (self.web_t, self.flange_t);
        let constant = match method {
            TorsionMethod::ThinWallSum => {
                // A rounded corner cuts its bend off the midline.
                let cut = bend_cut(self.inner_radius, self.outer_radius);
                let web = self.height - tf - 2.0 * cut;
                let flange = self.flange - tw / 2.0 - cut;
                (web * cube(tw) + 2.0 * flange * cube(tf)) / 3.0
            }
            TorsionMethod::JunctionCorrected if self.outer_radius <= 0.0 => {
                through(self.height, tw)
                    + 2.0 * standing(self.flange - tw, tf)
                    + 2.0 * corner_bonus(tw, tf, self.inner_radius)
            }
            _ => return None,
        };
        Some(TorsionValue { constant, modulus: constant / larger(tw, tf), method })
    }

    pub(super) fn anatomy(&self) -> Anatomy {
        let (h, b) = (self.height / 2.0, self.flange);
        let (tw, tf, ri, ro) = (self.web_t, self.flange_t, self.inner_radius, self.outer_radius);
        let outline = Outline::polygon(&[
            (0.0, -h, ro),
            (b, -h, 0.0),
            (b, -h + tf, 0.0),
            (tw, -h + tf, ri),
            (tw, h - tf, ri),
            (b, h - tf, 0.0),
            (b, h, 0.0),
            (0.0, h, ro),
        ]);
        let (ym, zm) = (tw / 2.0, h - tf / 2.0);
        let wall = |from, to, t| MidlineWall { from, to, t };
        let midline = Midline::known(
            vec![(b, -zm), (ym, -zm), (ym, zm), (b, zm)],
            vec![wall(0, 1, tf), wall(1, 2, tw), wall(2, 3, tf)],
        );
        let flange = |name: &str, z| Wall {
            name: name.to_owned(),
            c: b - tw - ri,
            t: tf,
            overall: b,
            support: WallSupport::Outstand,
            start: (tw + ri, z),
            end: (b, z),
        };
        let flat = h - tf - ri;
        let web = Wall {
            name: "web".to_owned(),
            c: 2.0 * flat,
            t: tw,
            overall: self.height,
            support: WallSupport::Internal,
            start: (ym, -flat),
            end: (ym, flat),
        };
        Anatomy {
            region: Region::of(vec![outline]),
            theory: Theory::Thin { midline, symmetric: false },
            torsion: softer(|method| self.torsion(method)),
            enclosed_area: None,
            points: vec![
                NamedPoint::new("lower web corner", (0.0, -h), Some(1)),
                NamedPoint::new("lower flange tip, outer edge", (b, -h), Some(0)),
                NamedPoint::new("lower flange tip, inner edge", (b, -h + tf), Some(0)),
                NamedPoint::new("upper flange tip, inner edge", (b, h - tf), Some(3)),
                NamedPoint::new("upper flange tip, outer edge", (b, h), Some(3)),
                NamedPoint::new("upper web corner", (0.0, h), Some(2)),
            ],
            walls: vec![flange("lower flange", -zm), web, flange("upper flange", zm)],
        }
    }
}
