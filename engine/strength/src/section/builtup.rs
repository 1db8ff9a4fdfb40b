//! Sections built up of shapes and plates.

use super::error::{SectionError, within};
use super::geometry::{Point, place};
use super::midline::Midline;
use super::properties::{TorsionMethod, TorsionValue, Wall};
use super::region::Region;
use super::shape::{Anatomy, NamedPoint, SectionShape, Theory};
use fishplate_quantity::algebra::{smaller, sq};

const SHAPE: &str = "built-up section";
const MOST_PARTS: usize = 32;

/// A shape placed in a built-up section: turned about its own drawing origin, then moved.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    /// The shape.
    pub shape: SectionShape,
    /// Its drawing origin along +y in the axes of the whole, m.
    pub dy: f64,
    /// Its drawing origin along +z in the axes of the whole, m.
    pub dz: f64,
    /// Turn, right-handed about x (from +y towards +z), rad.
    pub rotation: f64,
}

/// How a built-up section takes torsion.
#[derive(Debug, Clone, PartialEq)]
pub enum BuiltUpTorsion {
    /// Each part for itself. Always safe for stiffness; misses cells that the parts close together.
    SumOfParts,
    /// The parts are joined along every seam of a closed cell, whose midline is given in the axes of the whole.
    /// It also gives shear centre, warping and shear stiffness.
    Cell(Midline),
}

/// Shapes and plates joined along their length so that they bend as one. Drawing origin: that of the placements.
#[derive(Debug, Clone, PartialEq)]
pub struct BuiltUp {
    parts: Vec<Placed>,
    torsion: BuiltUpTorsion,
}

impl BuiltUp {
    /// A section of 1 to 32 placed parts that touch but don't overlap.
    ///
    /// # Errors
    /// No or too many parts, a placement that isn't a number, or two outlines that share material. Parts given by a
    /// midline have no outline and are not tested for overlap.
    pub fn new(parts: Vec<Placed>, torsion: BuiltUpTorsion) -> Result<Self, SectionError> {
        let given = parts.len();
        if given == 0 || given > MOST_PARTS {
            let what = "parts";
            return Err(SectionError::Count {
                shape: SHAPE,
                what,
                given,
                least: 1,
                most: MOST_PARTS,
            });
        }
        for part in &parts {
            within(SHAPE, "dy", part.dy, -10.0, 10.0)?;
            within(SHAPE, "dz", part.dz, -10.0, 10.0)?;
            if !part.rotation.is_finite() {
                return Err(SectionError::Dimension {
                    shape: SHAPE,
                    field: "rotation",
                    given: part.rotation,
                    allowed: "a number".to_owned(),
                });
            }
        }
        let regions: Vec<Region> = parts.iter().map(Placed::region).collect();
        for second in 1..regions.len() {
            for first in 0..second {
                if regions[first].overlaps(&regions[second]) {
                    return Err(SectionError::Overlap { first, second });
                }
            }
        }
        Ok(Self { parts, torsion })
    }

    /// The parts.
    #[must_use]
    pub fn parts(&self) -> &[Placed] {
        &self.parts
    }

    /// How it takes torsion.
    #[must_use]
    pub fn torsion_model(&self) -> &BuiltUpTorsion {
        &self.torsion
    }

    /// First moments, m3, of one part about the centroid of the whole: (integral of z, integral of y).
    ///
    /// The shear flow that its seams carry together is `V S / I`: with V along z the first and `i_y`. `None` if
    /// there is no such part.
    #[must_use]
    pub fn part_first_moments(&self, part: usize) -> Option<(f64, f64)> {
        let whole = self.region().basics();
        let own = self.parts.get(part)?.region().basics();
        let arm = (own.centroid.0 - whole.centroid.0, own.centroid.1 - whole.centroid.1);
        Some((own.area * arm.1, own.area * arm.0))
    }

    fn region(&self) -> Region {
        let mut whole = Region::default();
        for part in &self.parts {
            whole.join(part.region());
        }
        whole
    }

    pub(super) fn anatomy(&self) -> Anatomy {
        let mut points = Vec::new();
        let mut walls = Vec::new();
        for (i, part) in self.parts.iter().enumerate() {
            let own = part.shape.anatomy();
            let named = |name: &str| format!("{} {}: {name}", part.shape.name(), i + 1);
            points.extend(
                own.points.iter().map(|p| NamedPoint::new(&named(&p.name), part.at(p.at), None)),
            );
            walls.extend(own.walls.into_iter().map(|w| Wall {
                name: named(&w.name),
                start: part.at(w.start),
                end: part.at(w.end),
                ..w
            }));
        }
        let region = self.region();
        let (theory, torsion, enclosed_area) = match &self.torsion {
            BuiltUpTorsion::SumOfParts => (self.in_parallel(), self.sum_of_parts(), None),
            BuiltUpTorsion::Cell(midline) => {
                let whole = SectionShape::from(super::MultiCell::new(midline.clone())).anatomy();
                (whole.theory, whole.torsion, whole.enclosed_area)
            }
        };
        Anatomy { region, theory, torsion, enclosed_area, points, walls }
    }

    /// All parts twist alike, so each takes torque by its own constant; the modulus is that of the part that yields first.
    fn sum_of_parts(&self) -> TorsionValue {
        let own: Vec<TorsionValue> = self.parts.iter().map(|p| p.shape.anatomy().torsion).collect();
        let constant: f64 = own.iter().map(|t| t.constant).sum();
        let modulus =
            own.iter().map(|t| constant * t.modulus / t.constant).fold(f64::INFINITY, smaller);
        TorsionValue { constant, modulus, method: TorsionMethod::SumOfParts }
    }

    /// Parts side by side that bend alike share a force in proportion to their own second moments; the line of
    /// the resultant is the shear centre, and the energy gives the shear area.
    fn in_parallel(&self) -> Theory {
        let (mut stiff_y, mut stiff_z) = (0.0, 0.0);
        let (mut y_sum, mut z_sum) = (0.0, 0.0);
        let (mut flex_y, mut flex_z) = (0.0, 0.0);
        let mut warping_constant = 0.0;
        for part in &self.parts {
            let own = part.shape.properties();
            let centre = (own.centroid_y + own.shear_centre.y, own.centroid_z + own.shear_centre.z);
            let centre = part.at(centre);
            let b = part.region().basics();
            let (sin, cos) = part.rotation.sin_cos();
            let mix = |along: f64, across: f64| sq(cos) / along + sq(sin) / across;
            stiff_y += b.i_y;
            stiff_z += b.i_z;
            y_sum += b.i_y * centre.0;
            z_sum += b.i_z * centre.1;
            flex_y += sq(b.i_z) * mix(own.shear_area_y, own.shear_area_z);
            flex_z += sq(b.i_y) * mix(own.shear_area_z, own.shear_area_y);
            warping_constant += own.warping_constant;
        }
        Theory::Parallel {
            shear_centre: (y_sum / stiff_y, z_sum / stiff_z),
            shear_areas: (sq(stiff_z) / flex_y, sq(stiff_y) / flex_z),
            warping_constant,
        }
    }
}

impl Placed {
    /// A shape moved without a turn.
    #[must_use]
    pub fn at_offset(shape: SectionShape, dy: f64, dz: f64) -> Self {
        Self { shape, dy, dz, rotation: 0.0 }
    }

    fn region(&self) -> Region {
        self.shape.anatomy().region.placed((self.dy, self.dz), self.rotation)
    }

    fn at(&self, p: Point) -> Point {
        place(p, (self.dy, self.dz), self.rotation)
    }
}
