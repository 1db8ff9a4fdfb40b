//! Members: class, sections, buckling, stress at points, thin walls.

mod angle_strut;
mod buckling;
mod class;
mod effective;
#[cfg(test)]
pub(super) mod examples;
mod section;
mod stress_point;

pub(in crate::packs::en_1993) use buckling::reduction;

use crate::clause::input::{
    AngleStrutInput, ElementInput, MemberInput, StressPointInput, ThinBoxInput,
};
use crate::packs::pack::Clauses;

pub(super) const MEMBERS: Clauses<MemberInput> = &[
    &class::WallsThickEnough,
    &section::Axial,
    &section::Shear,
    &section::Torsion,
    &section::Elastic,
    &section::Plastic,
    &buckling::Flexural,
    &buckling::LateralTorsional,
    &buckling::BeamColumn,
];
pub(super) const ANGLE_STRUTS: Clauses<AngleStrutInput> = &[&angle_strut::AngleStrut];
pub(super) const STRESS_POINTS: Clauses<StressPointInput> = &[&stress_point::FirstYield];
pub(super) const THIN_BOXES: Clauses<ThinBoxInput> = &[&effective::ThinBox];
pub(super) const ELEMENTS: Clauses<ElementInput> =
    &[&effective::EffectiveWidth, &effective::CriticalStress];
