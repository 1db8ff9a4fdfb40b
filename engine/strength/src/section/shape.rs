//! The sum of all shapes, and how their anatomy becomes properties.

use super::geometry::Point;
use super::midline::Midline;
use super::properties::{
    Edge, SectionPoint, SectionProperties, ShearCentre, ShearCentreBasis, TorsionMethod,
    TorsionValue, Wall,
};
use super::region::{Basics, Region};
use super::{Angle, BuiltUp, Channel, Flat, Hat, MultiCell, RectangularTube, RoundBar, RoundTube};
use fishplate_quantity::algebra::{hypot, larger, smaller};
use std::f64::consts::{FRAC_PI_2, PI};

/// A cross-section of any of the known shapes.
#[derive(Debug, Clone, PartialEq)]
pub enum SectionShape {
    /// Rolled or folded angle.
    Angle(Angle),
    /// Channel, or folded U.
    Channel(Channel),
    /// Rectangular hollow section, walls possibly thinned.
    RectangularTube(RectangularTube),
    /// Round hollow section.
    RoundTube(RoundTube),
    /// Solid rectangle.
    Flat(Flat),
    /// Solid round.
    RoundBar(RoundBar),
    /// Top-hat rail, open or closed by a plate.
    Hat(Hat),
    /// Thin-walled section given by its midline.
    MultiCell(MultiCell),
    /// Shapes and plates joined to one section.
    BuiltUp(Box<BuiltUp>),
}

macro_rules! from_shape {
    ($($shape:ident),*) => {$(
        impl From<$shape> for SectionShape {
            fn from(shape: $shape) -> Self {
                Self::$shape(shape)
            }
        }
    )*};
}
from_shape!(Angle, Channel, RectangularTube, RoundTube, Flat, RoundBar, Hat, MultiCell);

impl From<BuiltUp> for SectionShape {
    fn from(shape: BuiltUp) -> Self {
        Self::BuiltUp(Box::new(shape))
    }
}

/// What a shape says about itself, in its drawing axes.
#[derive(Debug, Clone)]
pub(super) struct Anatomy {
    pub(super) region: Region,
    pub(super) theory: Theory,
    pub(super) torsion: TorsionValue,
    pub(super) enclosed_area: Option<f64>,
    pub(super) points: Vec<NamedPoint>,
    pub(super) walls: Vec<Wall>,
}

/// A point in drawing axes, with the midline node whose sectorial coordinate it takes.
#[derive(Debug, Clone)]
pub(super) struct NamedPoint {
    pub(super) name: String,
    pub(super) at: Point,
    pub(super) node: Option<usize>,
}

/// The theory behind shear centre, warping and shear stiffness.
#[derive(Debug, Clone)]
pub(super) enum Theory {
    /// Two axes of symmetry, warping neglected: shear centre at the centroid, shear areas given.
    Compact { shear_areas: (f64, f64) },
    /// Thin-walled theory on this midline.
    Thin { midline: Midline, symmetric: bool },
    /// Estimated from parts: shear centre in drawing axes, shear areas, warping constant.
    Parallel { shear_centre: Point, shear_areas: (f64, f64), warping_constant: f64 },
}

impl NamedPoint {
    pub(super) fn new(name: &str, at: Point, node: Option<usize>) -> Self {
        Self { name: name.to_owned(), at, node }
    }
}

impl SectionShape {
    /// All properties, computed from the geometry.
    #[must_use]
    pub fn properties(&self) -> SectionProperties {
        let anatomy = self.anatomy();
        let basics = anatomy.region.basics();
        let stiff = Stiff::of(&anatomy.theory, &basics);
        let centred = anatomy.region.placed((-basics.centroid.0, -basics.centroid.1), 0.0);
        let principal = Principal::of(&basics);
        let reach = |angle: f64| centred.reach(angle);
        let both = |angle: f64| larger(reach(angle + FRAC_PI_2), reach(angle - FRAC_PI_2));
        let points = anatomy.points.into_iter().map(|p| SectionPoint {
            y: p.at.0 - basics.centroid.0,
            z: p.at.1 - basics.centroid.1,
            omega: p.node.map_or(0.0, |n| stiff.omega.get(n).copied().unwrap_or(0.0)),
            name: p.name,
        });
        let shift = |p: Point| (p.0 - basics.centroid.0, p.1 - basics.centroid.1);
        let walls = anatomy.walls.into_iter();
        let walls = walls.map(|w| Wall { start: shift(w.start), end: shift(w.end), ..w });
        SectionProperties {
            area: basics.area,
            centroid_y: basics.centroid.0,
            centroid_z: basics.centroid.1,
            i_y: basics.i_y,
            i_z: basics.i_z,
            i_yz: basics.i_yz,
            i_max: principal.i_max,
            i_min: principal.i_min,
            principal_angle: principal.angle,
            radius_y: (basics.i_y / basics.area).sqrt(),
            radius_z: (basics.i_z / basics.area).sqrt(),
            radius_min: (principal.i_min / basics.area).sqrt(),
            w_el_y_top: basics.i_y / reach(FRAC_PI_2),
            w_el_y_bottom: basics.i_y / reach(-FRAC_PI_2),
            w_el_z_left: basics.i_z / reach(PI),
            w_el_z_right: basics.i_z / reach(0.0),
            w_el_max: principal.i_max / both(principal.angle),
            w_el_min: principal.i_min / both(principal.angle + FRAC_PI_2),
            w_pl_y: centred.plastic_modulus(),
            w_pl_z: centred.placed((0.0, 0.0), FRAC_PI_2).plastic_modulus(),
            torsion: anatomy.torsion,
            shear_centre: stiff.shear_centre,
            warping_constant: stiff.warping_constant,
            shear_area_y: stiff.shear_areas.0,
            shear_area_z: stiff.shear_areas.1,
            enclosed_area: anatomy.enclosed_area,
            points: points.collect(),
            walls: walls.collect(),
        }
    }

    /// Torsion by the given method, or nothing where it doesn't fit the shape.
    ///
    /// [`SectionProperties::torsion`] holds the default. For angles and channels that is the smaller, so softer, of
    /// [`TorsionMethod::ThinWallSum`] and [`TorsionMethod::JunctionCorrected`]; for tubes of even wall the
    /// formula of EN 10219-2, for uneven walls Bredt alone.
    #[must_use]
    pub fn torsion(&self, method: TorsionMethod) -> Option<TorsionValue> {
        match self {
            Self::Angle(s) => s.torsion(method),
            Self::Channel(s) => s.torsion(method),
            Self::RectangularTube(s) => s.torsion(method),
            Self::Hat(s) => s.midline().torsion(method),
            Self::MultiCell(s) => s.midline().torsion(method),
            Self::RoundTube(_) | Self::Flat(_) | Self::RoundBar(_) | Self::BuiltUp(_) => {
                Some(self.anatomy().torsion).filter(|t| t.method == method)
            }
        }
    }

    /// First moment, m3, about the centroid of the material farther than `distance` (m, from the centroid) towards `edge`.
    ///
    /// With it the shear flow across the cut is `V S / I` for a section symmetric about the loaded axis.
    #[must_use]
    pub fn first_moment_beyond(&self, edge: Edge, distance: f64) -> f64 {
        self.anatomy().region.first_moment_beyond(edge, distance)
    }

    /// What the trade calls the shape.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Self::Angle(_) => "angle",
            Self::Channel(_) => "channel",
            Self::RectangularTube(_) => "rectangular tube",
            Self::RoundTube(_) => "round tube",
            Self::Flat(_) => "flat",
            Self::RoundBar(_) => "round bar",
            Self::Hat(_) => "top-hat rail",
            Self::MultiCell(_) => "thin-walled section",
            Self::BuiltUp(_) => "built-up section",
        }
    }

    pub(super) fn anatomy(&self) -> Anatomy {
        match self {
            Self::Angle(s) => s.anatomy(),
            Self::Channel(s) => s.anatomy(),
            Self::RectangularTube(s) => s.anatomy(),
            Self::RoundTube(s) => s.anatomy(),
            Self::Flat(s) => s.anatomy(),
            Self::RoundBar(s) => s.anatomy(),
            Self::Hat(s) => s.anatomy(),
            Self::MultiCell(s) => s.anatomy(),
            Self::BuiltUp(s) => s.anatomy(),
        }
    }
}

/// Principal second moments.
struct Principal {
    i_max: f64,
    i_min: f64,
    angle: f64,
}

impl Principal {
    fn of(b: &Basics) -> Self {
        let mean = f64::midpoint(b.i_y, b.i_z);
        let half = (b.i_y - b.i_z) / 2.0;
        let radius = hypot(half, b.i_yz);
        // In a round or square section every axis is principal; rounding must not pick one at random.
        if radius <= 1e-12 * mean {
            return Self { i_max: mean, i_min: mean, angle: 0.0 };
        }
        let angle = 0.5 * (-2.0 * b.i_yz).atan2(b.i_y - b.i_z);
        // The product of inertia of a symmetric section may come out as minus zero or as dust.
        let angle = if b.i_yz.abs() <= 1e-12 * mean {
            if half > 0.0 { 0.0 } else { FRAC_PI_2 }
        } else {
            angle
        };
        Self { i_max: mean + radius, i_min: mean - radius, angle }
    }
}

/// What the theory of a shape gives beyond area and second moments.
struct Stiff {
    shear_centre: ShearCentre,
    shear_areas: (f64, f64),
    warping_constant: f64,
    omega: Vec<f64>,
}

impl Stiff {
    fn of(theory: &Theory, basics: &Basics) -> Self {
        let at = |p: Point, basis| ShearCentre {
            y: p.0 - basics.centroid.0,
            z: p.1 - basics.centroid.1,
            basis,
        };
        match theory {
            Theory::Compact { shear_areas } => Self {
                shear_centre: at(basics.centroid, ShearCentreBasis::Symmetry),
                shear_areas: *shear_areas,
                warping_constant: 0.0,
                omega: Vec::new(),
            },
            Theory::Thin { midline, symmetric } => {
                let thin = midline.thin_walled();
                let own = midline.region().basics().centroid;
                let found = (own.0 + thin.shear_centre.0, own.1 + thin.shear_centre.1);
                let shear_centre = if *symmetric {
                    at(basics.centroid, ShearCentreBasis::Symmetry)
                } else {
                    at(found, ShearCentreBasis::ThinWalled)
                };
                let cap = |a: f64| smaller(a, basics.area);
                Self {
                    shear_centre,
                    shear_areas: (cap(thin.shear_areas.0), cap(thin.shear_areas.1)),
                    warping_constant: thin.warping_constant,
                    omega: thin.omega,
                }
            }
            Theory::Parallel { shear_centre, shear_areas, warping_constant } => Self {
                shear_centre: at(*shear_centre, ShearCentreBasis::PartsInParallel),
                shear_areas: *shear_areas,
                warping_constant: *warping_constant,
                omega: Vec::new(),
            },
        }
    }
}
