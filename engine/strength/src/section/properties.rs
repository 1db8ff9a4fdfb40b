//! What a section is made of, in numbers: the result types of this module.

/// Properties of a cross-section, in metres and powers of it; angles in radians.
///
/// All moments of area are about axes through the centroid. Elastic moduli use the outermost fibre of the
/// outline, toe and corner radii included. The properties are gross: holes and local buckling belong to the checks.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionProperties {
    /// Area, m2.
    pub area: f64,
    /// Centroid from the shape's drawing origin, along +y, m.
    pub centroid_y: f64,
    /// Centroid from the shape's drawing origin, along +z, m.
    pub centroid_z: f64,
    /// Integral of z squared, m4: resists bending by vertical loads.
    pub i_y: f64,
    /// Integral of y squared, m4: resists bending by horizontal loads.
    pub i_z: f64,
    /// Integral of y times z, m4, with its own sign.
    pub i_yz: f64,
    /// Largest second moment, m4.
    pub i_max: f64,
    /// Smallest second moment, m4.
    pub i_min: f64,
    /// Angle from +y to the axis about which the second moment is `i_max`, right-handed about x, rad:
    /// `0.5 atan2(-2 i_yz, i_y - i_z)`, in (-pi/2, pi/2].
    pub principal_angle: f64,
    /// Radius of gyration `sqrt(i_y / area)`, m.
    pub radius_y: f64,
    /// Radius of gyration `sqrt(i_z / area)`, m.
    pub radius_z: f64,
    /// Smallest radius of gyration `sqrt(i_min / area)`, m.
    pub radius_min: f64,
    /// `i_y` over the distance to the highest fibre, m3.
    pub w_el_y_top: f64,
    /// `i_y` over the distance to the lowest fibre, m3.
    pub w_el_y_bottom: f64,
    /// `i_z` over the distance to the leftmost (-y) fibre, m3.
    pub w_el_z_left: f64,
    /// `i_z` over the distance to the rightmost (+y) fibre, m3.
    pub w_el_z_right: f64,
    /// Smaller elastic modulus about the `i_max` axis, m3.
    pub w_el_max: f64,
    /// Smaller elastic modulus about the `i_min` axis, m3.
    pub w_el_min: f64,
    /// Plastic modulus about the equal-area axis parallel to y, m3.
    pub w_pl_y: f64,
    /// Plastic modulus about the equal-area axis parallel to z, m3.
    pub w_pl_z: f64,
    /// Torsion constant and modulus by the shape's default method.
    pub torsion: TorsionValue,
    /// Shear centre and how it was found.
    pub shear_centre: ShearCentre,
    /// Warping constant about the shear centre, m6, from thin-walled theory.
    /// Zero for solid and round sections, whose warping is neglected.
    pub warping_constant: f64,
    /// Area for shear *stiffness* against a force along y, m2 (energy equivalence). For resistance see [`super::SectionShape::plastic_shear_areas`].
    pub shear_area_y: f64,
    /// Area for shear *stiffness* against a force along z, m2 (energy equivalence). For resistance see [`super::SectionShape::plastic_shear_areas`].
    pub shear_area_z: f64,
    /// Area enclosed by the wall midline of the closed cells together, m2; `None` for open and solid sections.
    pub enclosed_area: Option<f64>,
    /// Named points at which stress is checked.
    pub points: Vec<SectionPoint>,
    /// Flat walls for the width-to-thickness check; empty for solid sections and round tubes.
    pub walls: Vec<Wall>,
}

impl SectionProperties {
    /// Smaller elastic modulus about y, m3.
    #[must_use]
    pub fn w_el_y(&self) -> f64 {
        fishplate_quantity::algebra::smaller(self.w_el_y_top, self.w_el_y_bottom)
    }

    /// Smaller elastic modulus about z, m3.
    #[must_use]
    pub fn w_el_z(&self) -> f64 {
        fishplate_quantity::algebra::smaller(self.w_el_z_left, self.w_el_z_right)
    }
}

/// A named point of the section.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionPoint {
    /// Trade name: "heel", "toe of vertical leg", "top left corner".
    pub name: String,
    /// From the centroid along +y, m.
    pub y: f64,
    /// From the centroid along +z, m.
    pub z: f64,
    /// Sectorial coordinate about the shear centre, m2, of the wall midline next to the point; zero where warping is neglected.
    pub omega: f64,
}

/// Shear centre of a section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShearCentre {
    /// From the centroid along +y, m.
    pub y: f64,
    /// From the centroid along +z, m.
    pub z: f64,
    /// How it was found.
    pub basis: ShearCentreBasis,
}

/// How a shear centre was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ShearCentreBasis {
    /// Two axes of symmetry: it is the centroid.
    Symmetry,
    /// Thin-walled theory on the wall midline.
    ThinWalled,
    /// Mean of the parts' own shear centres, weighted by their bending stiffness: an estimate for sections built up of parts.
    PartsInParallel,
}

/// How a torsion constant was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TorsionMethod {
    /// Series solution of Saint-Venant for a solid rectangle (Timoshenko and Goodier, Theory of Elasticity, art. 109).
    SaintVenantSeries,
    /// Twice the second moment: exact for round bars and tubes.
    Round,
    /// EN 10219-2 Annex B: Bredt plus `T^3 h / 3`.
    En10219,
    /// Bredt: closed cells alone.
    Bredt,
    /// Bredt for the cells plus `sum(b t^3 / 3)` of the walls that belong to none.
    BredtWithOpenWalls,
    /// `sum(b t^3 / 3)` along the midline.
    ThinWallSum,
    /// Rectangles with end losses and a bonus at the junctions (Roark's Formulas for Stress and Strain, table of torsion constants).
    JunctionCorrected,
    /// Sum of the parts, each by its own default method: no cell is counted that the parts form together.
    SumOfParts,
}

/// Torsion stiffness and strength by one method.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TorsionValue {
    /// Torsion constant, m4: twist per length is T / (G constant).
    pub constant: f64,
    /// Torsion modulus, m3: largest shear stress is T / modulus. Stress raised at sharp re-entrant corners is not in it.
    pub modulus: f64,
    /// The method.
    pub method: TorsionMethod,
}

/// Whether a wall is held along one or both of its edges.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WallSupport {
    /// Held along both edges.
    Internal,
    /// Held along the edge [`Wall::start`]; [`Wall::end`] is free.
    Outstand,
}

/// A flat wall, for the class of the section and for effective widths.
#[derive(Debug, Clone, PartialEq)]
pub struct Wall {
    /// Trade name: "web", "top flange", "vertical leg".
    pub name: String,
    /// Flat width `c` of EN 1993-1-1 Table 5.2, m.
    pub c: f64,
    /// Thickness, m.
    pub t: f64,
    /// Overall width of the leg, flange or side, m (angles: the `h` or `b` of Table 5.2 sheet 3).
    pub overall: f64,
    /// Held along one or both edges.
    pub support: WallSupport,
    /// One end of the flat width on the midline, (y, z) from the centroid, m.
    pub start: (f64, f64),
    /// The other end; the free one of an outstand.
    pub end: (f64, f64),
}

/// A side of the section, seen with y to the right and z up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// Largest z.
    Top,
    /// Smallest z.
    Bottom,
    /// Smallest y.
    Left,
    /// Largest y.
    Right,
}
