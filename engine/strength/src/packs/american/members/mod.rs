//! Members: walls, tension, compression, bending, shear, torsion, all together; stress at points.

mod angle;
mod angle_strut;
mod bar;
mod bending;
mod cantilever;
mod combined;
mod compression;
#[cfg(test)]
pub(super) mod examples;
mod holes;
mod open;
mod shear;
mod slender;
mod stress_point;
mod tension;
mod torsion;
mod tube;
mod walls;

pub(super) use compression::column_curve;

use crate::clause::input::{AngleStrutInput, FlatCantileverInput, MemberInput, StressPointInput};
use crate::packs::Clauses;

pub(super) const MEMBERS: Clauses<MemberInput> = &[
    &walls::WithinReach,
    &tension::GrossYield,
    &tension::NetRupture,
    &compression::Bending,
    &compression::Twisting,
    &bending::RectangularTube,
    &bending::RoundTube,
    &bending::Bar,
    &bending::Open,
    &bending::Angle,
    &holes::TensionFlange,
    &shear::Shear,
    &torsion::Tube,
    &torsion::Open,
    &torsion::Warping,
    &combined::AxialAndBending,
    &combined::Unsymmetric,
    &combined::WithTorsion,
];
pub(super) const FLAT_CANTILEVERS: Clauses<FlatCantileverInput> = &[&cantilever::FlatCantilever];
pub(super) const ANGLE_STRUTS: Clauses<AngleStrutInput> = &[&angle_strut::AngleStrut];
pub(super) const STRESS_POINTS: Clauses<StressPointInput> = &[
    &stress_point::NormalStress,
    &stress_point::ShearStress,
    &stress_point::ComparisonStress,
    &stress_point::Interaction,
];
