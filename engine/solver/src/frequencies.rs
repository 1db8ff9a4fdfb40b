//! Natural frequencies without damping.

use crate::assembly::Structure;
use crate::beam::inertia::{RotaryInertia, mass};
use crate::error::{Cancel, SolveError, poll};
use crate::frame::FrameModel;
use crate::model::PointMass;
use crate::modes::{ModeShape, check_counts, check_linear, divided, linear_system, search, shape};
use nalgebra::SMatrix;

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FrequenciesAsked {
    /// How many modes, lowest first; fewer come back when the frame has no more.
    pub modes: usize,
    /// Into how many pieces each member is cut; frequencies come from above as it grows.
    pub subdivide: usize,
    /// Whether bending rotations of members carry inertia.
    pub rotary_inertia: RotaryInertia,
}

/// Natural frequencies.
#[derive(Clone, Debug, PartialEq)]
pub struct FrequenciesAnswer {
    /// Lowest first.
    pub modes: Vec<VibrationMode>,
}

/// One way to vibrate.
#[derive(Clone, Debug, PartialEq)]
pub struct VibrationMode {
    /// Hz.
    pub frequency: f64,
    /// How the frame moves.
    pub shape: ModeShape,
}

/// Solves `K x = (2 pi f)^2 M x` with consistent masses of the members and the point masses.
///
/// # Errors
/// A mechanism (a frame that floats has no place to vibrate about), [`SolveError::NoMass`],
/// [`SolveError::OneSided`] when the frame has contacts.
pub fn frequencies(
    model: &FrameModel,
    asked: FrequenciesAsked,
    cancel: &dyn Cancel,
) -> Result<FrequenciesAnswer, SolveError> {
    check_counts(asked.modes, asked.subdivide)?;
    let whole = Structure::new(model)?;
    check_linear(&whole)?;
    // A mechanism is named by the nodes and members that the caller knows.
    linear_system(&whole, cancel)?;
    let fine = divided(model, asked.subdivide);
    let structure = Structure::new(&fine)?;
    let system = linear_system(&structure, cancel)?;
    poll(cancel)?;
    let mut masses = vec![0.0; system.skeleton.pattern.entries()];
    for (index, element) in structure.elements.iter().enumerate() {
        let beam = &fine.draft.beams[index];
        let section = &fine.draft.sections[beam.section.0];
        let material = &fine.draft.materials[beam.material.0];
        if material.density > 0.0 {
            let matrix = mass(element, section, material, asked.rotary_inertia);
            system.skeleton.add_beam(&structure, index, &matrix, &mut masses);
        }
    }
    for (index, point) in fine.draft.masses.iter().enumerate() {
        system.skeleton.add_mass(&structure, index, &point_matrix(point), &mut masses);
    }
    if crate::vector::largest(&masses) <= 0.0 {
        return Err(SolveError::NoMass);
    }
    let found = search(system.factored(), masses, asked.modes, cancel)?;
    let modes = found
        .modes
        .iter()
        .map(|mode| VibrationMode {
            frequency: 1.0 / (2.0 * std::f64::consts::PI * mode.mu.sqrt()),
            shape: shape(model, asked.subdivide, &system, &mode.vector),
        })
        .collect();
    Ok(FrequenciesAnswer { modes })
}

/// Mass matrix of a point mass over the movements of its node.
pub(crate) fn point_matrix(point: &PointMass) -> SMatrix<f64, 6, 6> {
    let mut m = SMatrix::zeros();
    for i in 0..3 {
        m[(i, i)] = point.mass;
        m[(3 + i, 3 + i)] = point.inertia[i];
    }
    for (i, j, value) in
        [(3, 4, point.inertia[3]), (4, 5, point.inertia[4]), (3, 5, point.inertia[5])]
    {
        m[(i, j)] = value;
        m[(j, i)] = value;
    }
    m
}
