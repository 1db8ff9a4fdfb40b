//! A design of a batch on its own, by the solver that refines and names what moves freely.

use super::num::Num;
use super::recovery::von_mises;
use super::request::{Judged, MaterialProperty, SectionProperty, Varied};
use super::run::Piece;
use super::topology::FrameBatch;
use crate::answer::{Asked, CaseAnswer};
use crate::error::{RunToEnd, SolveError};
use crate::model::FrameDraft;
use crate::statics::statics;
use crate::vector::exceeds;
use fishplate_quantity::algebra::{larger, smaller};
use pulp::Scalar;

/// Solves a design of the piece and keeps its answers there.
pub(super) fn solve_alone(
    batch: &FrameBatch,
    piece: &mut Piece<'_>,
    design: usize,
) -> Result<Judged, SolveError> {
    let width = batch.slots.len();
    let values = &piece.values[design * width..(design + 1) * width];
    let mut draft = batch.model.draft.clone();
    let mut numbers = batch.numbers.clone();
    for ((&varied, &slot), &value) in batch.asked.varied.iter().zip(&batch.slots).zip(values) {
        set(&mut draft, varied, value);
        numbers[slot] = value;
    }
    let model = draft.validate().map_err(|faults| SolveError::Request {
        field: "values",
        given: faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "),
        allowed: "numbers that go together",
    })?;
    let answer = statics(&model, &Asked::even(2), &RunToEnd)?;
    let mut judged = Judged { residual: 0.0, smallest_pivot: 1.0, alone: true };
    for (index, case) in answer.cases.iter().enumerate() {
        judged.residual = larger(judged.residual, case.quality.backward_error);
        judged.smallest_pivot = smaller(judged.smallest_pivot, case.quality.smallest_pivot);
        let (stress, end) = worst(batch, &numbers, case);
        let place = design * batch.cases + index;
        piece.tell_worst(place, stress, end);
        tell_case(batch, piece, place, case);
    }
    Ok(judged)
}

fn set(draft: &mut FrameDraft, varied: Varied, value: f64) {
    match varied {
        Varied::Section(id, property) => {
            let section = &mut draft.sections[id.0];
            match property {
                SectionProperty::Area => section.area = value,
                SectionProperty::InertiaY => section.i_y = value,
                SectionProperty::InertiaZ => section.i_z = value,
                SectionProperty::TorsionConstant => section.torsion_constant = value,
                SectionProperty::ShearAreaY => section.shear_area_y = Some(value),
                SectionProperty::ShearAreaZ => section.shear_area_z = Some(value),
                // Of the stress alone.
                SectionProperty::ModulusY
                | SectionProperty::ModulusZ
                | SectionProperty::TorsionModulus => {}
            }
        }
        Varied::Material(id, property) => {
            let material = &mut draft.materials[id.0];
            match property {
                MaterialProperty::YoungsModulus => material.youngs_modulus = value,
                MaterialProperty::ShearModulus => material.shear_modulus = value,
            }
        }
        Varied::Spring(id, dof) => draft.springs[id.0].stiffness[dof.index()] = value,
    }
}

/// The largest stress of a case and the end where it is.
fn worst(batch: &FrameBatch, numbers: &[f64], case: &CaseAnswer) -> (f64, usize) {
    let one = |value: f64| Num::of(Scalar, value);
    let (mut top, mut place) = (0.0, 0);
    for (index, (member, beam)) in batch.members.iter().zip(&case.beams).enumerate() {
        let property = |property: SectionProperty| numbers[member.section + property as usize];
        let per_unit = [
            SectionProperty::Area,
            SectionProperty::ModulusY,
            SectionProperty::ModulusZ,
            SectionProperty::TorsionModulus,
        ]
        .map(|of| one(1.0 / property(of)));
        for (end, station) in beam.stations.iter().enumerate() {
            let f = &station.forces;
            let cut = [one(f.m_y), one(f.m_z)];
            let [square, _] = von_mises(&per_unit, [one(f.n), one(f.t)], [cut, cut]);
            let square = square.lanes()[0];
            if exceeds(square, top) {
                (top, place) = (square, 2 * index + end);
            }
        }
    }
    (top.sqrt(), place)
}

fn tell_case(batch: &FrameBatch, piece: &mut Piece<'_>, place: usize, case: &CaseAnswer) {
    let nodes = &batch.asked.displacements;
    let each = 6 * nodes.len();
    let told = piece.displacements[place * each..(place + 1) * each].chunks_exact_mut(6);
    for (node, told) in nodes.iter().zip(told) {
        told.copy_from_slice(&case.displacements[node.0]);
    }
    if batch.asked.end_forces {
        let each = 12 * case.beams.len();
        let told = piece.end_forces[place * each..(place + 1) * each].chunks_exact_mut(6);
        for (forces, told) in case.beams.iter().flat_map(|beam| &beam.end_forces).zip(told) {
            told.copy_from_slice(forces);
        }
    }
}
