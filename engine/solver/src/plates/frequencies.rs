//! Natural frequencies of plates without damping.

use super::assembly::Assembly;
use super::element::products;
use super::shells::PlateModel;
use super::system::System;
use crate::beam::inertia::{RotaryInertia, mass};
use crate::error::{Cancel, SolveError, poll};
use crate::frequencies::{FrequenciesAnswer, VibrationMode, point_matrix};
use crate::modes::{check_counts, search};
use crate::vector::largest;

/// Solves `K x = (2 pi f)^2 M x` with consistent masses of plates and beams (both with the inertia
/// of their rotations) and the point masses. Every joint holds both ways: faces stay shut and slide
/// nowhere.
///
/// # Errors
/// A mechanism (a structure that floats has no place to vibrate about), [`SolveError::NoMass`],
/// [`SolveError::ModesMissing`] when the search did not find all.
pub fn frequencies(
    model: &PlateModel,
    modes: usize,
    cancel: &dyn Cancel,
) -> Result<FrequenciesAnswer, SolveError> {
    check_counts(modes, 1)?;
    let system = System::new(Assembly::new(model, model.joints.rows())?, 1, cancel)?;
    poll(cancel)?;
    let masses = masses(&system.assembly);
    if largest(&masses) <= 0.0 {
        return Err(SolveError::NoMass);
    }
    let found = search(system.factored(), masses, modes, cancel)?;
    let modes = found
        .modes
        .iter()
        .map(|mode| VibrationMode {
            frequency: 1.0 / (2.0 * std::f64::consts::PI * mode.mu.sqrt()),
            shape: system.shape(&mode.vector),
        })
        .collect();
    Ok(FrequenciesAnswer { modes })
}

/// Mass in the unknowns, lower triangle.
fn masses(assembly: &Assembly<'_>) -> Vec<f64> {
    let model = assembly.model;
    let frame = &model.frame.draft;
    let mut values = assembly.of_shells(1, &|index, facet| {
        let plate = &model.plates[model.shells[index].plate];
        let density = frame.materials[plate.material.0].density;
        let thickness = plate.thickness;
        (density > 0.0).then(|| {
            let mut full = [[0.0; 24]; 24];
            for (i, row) in products(facet).iter().enumerate() {
                for (j, product) in row.iter().enumerate() {
                    for k in 0..6 {
                        let weight = if k < 3 {
                            thickness
                        } else {
                            thickness * thickness * thickness / 12.0
                        };
                        full[6 * i + k][6 * j + k] = density * weight * product;
                    }
                }
            }
            full
        })
    });
    for (beam, element) in frame.beams.iter().zip(&assembly.structure.elements) {
        let material = &frame.materials[beam.material.0];
        if material.density > 0.0 {
            let section = &frame.sections[beam.section.0];
            let matrix = mass(element, section, material, RotaryInertia::Included);
            let nodes = [beam.start.0, beam.end.0];
            assembly.add_global(&nodes, |i, j| matrix[(i, j)], &mut values);
        }
    }
    for point in &frame.masses {
        let matrix = point_matrix(point);
        assembly.add_global(&[point.node.0], |i, j| matrix[(i, j)], &mut values);
    }
    values
}
