//! Every design equal to the one that `statics` solves on its own.

use crate::build::*;
use fishplate_solver::batch::{MaterialProperty, SectionProperty, Varied};
use fishplate_solver::model::*;
use fishplate_solver::{Asked, FrameModel, RunToEnd, statics};

/// Largest difference against the largest of both.
fn apart(a: &[f64], b: &[f64]) -> f64 {
    let top = |values: &mut dyn Iterator<Item = f64>| {
        values.fold(0.0, |top: f64, v| if v > top || v.is_nan() { v } else { top })
    };
    assert_eq!(a.len(), b.len());
    let difference = top(&mut a.iter().zip(b).map(|(a, b)| (a - b).abs()));
    difference / top(&mut b.iter().map(|b| b.abs()))
}

/// The frame with the numbers of one design, written out again, and its three moduli by section.
fn design(model: &FrameModel, numbers: &[f64]) -> (FrameDraft, [[f64; 3]; 2]) {
    let mut draft = model.draft().clone();
    let own = [MODULI.bending_y, MODULI.bending_z, MODULI.torsion];
    let mut moduli = [own; 2];
    for (varied, &value) in everything().into_iter().zip(numbers) {
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
                    SectionProperty::ModulusY => moduli[id.0][0] = value,
                    SectionProperty::ModulusZ => moduli[id.0][1] = value,
                    SectionProperty::TorsionModulus => moduli[id.0][2] = value,
                }
            }
            Varied::Material(id, MaterialProperty::YoungsModulus) => {
                draft.materials[id.0].youngs_modulus = value;
            }
            Varied::Material(id, MaterialProperty::ShearModulus) => {
                draft.materials[id.0].shear_modulus = value;
            }
            Varied::Spring(id, dof) => draft.springs[id.0].stiffness[dof.index()] = value,
        }
    }
    (draft, moduli)
}

#[test]
fn movements_forces_and_stress_equal_those_of_each_design_alone() {
    let mut lots = Lots(11);
    // One case, more than a group of six, and whole groups; designs that fill no register.
    for (storeys, cases, designs) in [(1, 1, 3), (2, 7, 13), (4, 12, 9)] {
        let model = tower(storeys, cases, &mut lots);
        let values = numbers(designs, &mut lots);
        let batch = batch_of(&model);
        let answer = solve(&batch, &values, ONE);
        assert!(answer.refused.is_empty());
        assert!(answer.judged.iter().all(|j| !j.alone), "{:?}", answer.judged);
        let (nodes, beams) = (model.draft().nodes.len(), model.draft().beams.len());
        for (index, numbers) in values.chunks_exact(everything().len()).enumerate() {
            let (draft, moduli) = design(&model, numbers);
            let sections: Vec<BeamSection> = draft.sections.clone();
            let beams_of: Vec<usize> = draft.beams.iter().map(|b| b.section.0).collect();
            let alone = draft.validate().expect("a sound design");
            let alone = statics(&alone, &Asked::even(2), &RunToEnd).expect("it stands");
            for (case, expected) in alone.cases.iter().enumerate() {
                let place = index * cases + case;
                let moved = &answer.displacements[place * 6 * nodes..(place + 1) * 6 * nodes];
                assert!(apart(moved, &expected.displacements.concat()) < 1e-10);
                let forces = &answer.end_forces[place * 12 * beams..(place + 1) * 12 * beams];
                let ends: Vec<f64> =
                    expected.beams.iter().flat_map(|b| b.end_forces.concat()).collect();
                assert!(apart(forces, &ends) < 1e-10);
                // Stress from the section forces, written out again.
                let stress = |beam: usize, end: usize| {
                    let f = &expected.beams[beam].stations[end].forces;
                    let [w_y, w_z, w_t] = moduli[beams_of[beam]];
                    let normal = f.n.abs() / sections[beams_of[beam]].area
                        + f.m_y.abs() / w_y
                        + f.m_z.abs() / w_z;
                    (normal.powi(2) + 3.0 * (f.t / w_t).powi(2)).sqrt()
                };
                let mut worst = 0.0;
                for beam in 0..beams {
                    for end in 0..2 {
                        worst = if stress(beam, end) > worst { stress(beam, end) } else { worst };
                    }
                }
                let told = answer.worst_stress[place];
                assert!((told - worst).abs() < 1e-10 * worst, "{told} {worst}");
                let at = answer.worst_at[place];
                let there = stress(at.beam.0, usize::from(at.at_end));
                assert!((there - worst).abs() < 1e-10 * worst);
            }
        }
    }
}
