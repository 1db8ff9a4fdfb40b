//! What equilibrium alone does not share goes to the frame solver: bars that join both sides, and
//! rails between the places where the body holds them.

mod bar;
mod rail;
mod section;

pub(crate) use bar::{BarCut, BarFrame, EndHold};
pub(crate) use rail::{RailCut, RailFrame, Segment, closing_plates, segments};
pub(crate) use section::BarSection;

use fishplate_solver::model::Material;

/// Modulus of elasticity and shear modulus of steel, Pa (EN 1993-1-1:2005, 3.2.6), density, kg/m³
/// (EN 1991-1-1:2002, Table A.4), and expansion, which no frame here uses.
pub(crate) const STEEL: Material = Material {
    youngs_modulus: 210e9,
    shear_modulus: 210e9 / 2.6,
    density: 7850.0,
    thermal_expansion: 1.2e-5,
};
