//! Members: class, sections, buckling, stress at points, thin walls.

mod angle_strut;
mod beam_column;
mod beam_column_a;
mod beam_column_b;
mod buckling;
mod cantilever;
mod class;
mod effective;
#[cfg(test)]
pub(super) mod examples;
mod flat_walls;
mod flats;
mod lateral;
#[cfg(test)]
mod laws;
mod lipped;
mod reduced;
mod section;
mod shear_buckling;
mod stress_point;
#[cfg(test)]
pub(super) mod thin_examples;
mod thin_section;
mod torsional;

pub(in crate::packs::en_1993) use buckling::reduction;

use crate::clause::input::{
    AngleStrutInput, ElementInput, FlatCantileverInput, FlatWallsInput, LippedChannelInput,
    MemberInput, StressPointInput, ThinBoxInput, ThinSectionInput,
};
use crate::packs::pack::Clauses;

pub(super) const MEMBERS: Clauses<MemberInput> = &[
    &class::WallsThickEnough,
    &section::Axial,
    &section::Shear,
    &section::Torsion,
    &section::Elastic,
    &section::Plastic,
    &shear_buckling::ShearBuckling,
    &shear_buckling::BendingBesideShearBuckling,
    &buckling::Flexural,
    &torsional::Torsional,
    &lateral::LateralTorsional,
    &lateral::LateralOfI,
    &beam_column_a::BeamColumnA,
    &beam_column_b::BeamColumnB,
];
pub(super) const FLAT_CANTILEVERS: Clauses<FlatCantileverInput> = &[&cantilever::FlatCantilever];
pub(super) const ANGLE_STRUTS: Clauses<AngleStrutInput> = &[&angle_strut::AngleStrut];
pub(super) const STRESS_POINTS: Clauses<StressPointInput> = &[&stress_point::FirstYield];
pub(super) const THIN_BOXES: Clauses<ThinBoxInput> = &[&effective::ThinBox];
pub(super) const THIN_SECTIONS: Clauses<ThinSectionInput> =
    &[&thin_section::Apart, &thin_section::Together, &thin_section::WidthLimits];
pub(super) const LIPPED_CHANNELS: Clauses<LippedChannelInput> = &[&lipped::LippedChannel];
pub(super) const FLAT_WALLS: Clauses<FlatWallsInput> =
    &[&flat_walls::Apart, &flat_walls::Together, &flat_walls::WidthLimits];
pub(super) const ELEMENTS: Clauses<ElementInput> =
    &[&effective::EffectiveWidth, &effective::CriticalStress];
