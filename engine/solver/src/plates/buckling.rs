//! Linear buckling of plates: the factor by which a load case must grow until the structure has a
//! neighbouring position of equilibrium.

use super::assembly::Assembly;
use super::element::{Recovery, geometric_stiffness};
use super::shells::PlateModel;
use super::statics::{Loads, settle};
use super::system::{Solution, System};
use crate::beam::inertia::geometric;
use crate::buckling::{BucklingAnswer, BucklingMode, bent};
use crate::error::{Cancel, SolveError, poll};
use crate::linear::Double;
use crate::model::CaseId;
use crate::modes::{check_counts, search};
use crate::statics::{Member, members_of};
use crate::vector::largest;

/// Solves the case, then `K x = -factor K_g x` with the geometric stiffness of its membrane forces
/// (full Green strain: R. D. Cook et al., Concepts and Applications of Finite Element Analysis,
/// 4th ed. 2002, ch. 18) and of the axial forces of beams.
///
/// Joints stay as they are in the case: what presses, pulls or sticks goes on to hold both ways,
/// what is open or without force does not act, and sliding places hold as if they stuck. Loads keep
/// their directions. Beams are one cubic piece each; their sideways buckling in bending is in no
/// factor ([`BucklingAnswer::bent`] names those it could strike).
///
/// # Errors
/// Those of the static solve; [`SolveError::NothingCompressed`] when no positive factor exists;
/// [`SolveError::ModesMissing`] when the search did not find all.
pub fn buckling(
    model: &PlateModel,
    case: CaseId,
    modes: usize,
    cancel: &dyn Cancel,
) -> Result<BucklingAnswer, SolveError> {
    check_counts(modes, 1)?;
    let available = model.loads.len();
    if case.0 >= available {
        return Err(SolveError::NoSuchCase { case, available });
    }
    let system = System::new(Assembly::new(model, model.joints.rows())?, 1, cancel)?;
    let loads = Loads::new(model, &system.assembly, case.0);
    let settled = settle(&system, std::slice::from_ref(&loads), 1)?;
    poll(cancel)?;
    let solutions = system.solve(&[loads.with(model, &settled[0])])?;
    let acting = model.joints.acting_rows(&settled[0]);
    let system = if acting.len() == model.joints.rows().count() {
        system
    } else {
        System::new(Assembly::new(model, acting.into_iter())?, 1, cancel)?
    };
    let moved = Moved::new(&system.assembly, &loads, &solutions[0]);
    poll(cancel)?;
    let mut minus = moved.geometric(&system.assembly);
    for value in &mut minus {
        *value = -*value;
    }
    let nothing = SolveError::NothingCompressed { case };
    if largest(&minus) <= 0.0 {
        return Err(nothing);
    }
    let found = search(system.factored(), minus, modes, cancel)?;
    if found.modes.is_empty() {
        return Err(nothing);
    }
    let modes = found
        .modes
        .iter()
        .map(|mode| BucklingMode { load_factor: 1.0 / mode.mu, shape: system.shape(&mode.vector) })
        .collect();
    Ok(BucklingAnswer { modes, bent: bent(&moved.members) })
}

/// A solved case as far as its geometric stiffness goes.
pub(crate) struct Moved<'a> {
    /// Membrane forces at the corners of every element.
    membrane: Vec<[[f64; 3]; 4]>,
    members: Vec<Member<'a>>,
}

impl<'a> Moved<'a> {
    pub(crate) fn new(
        assembly: &'a Assembly<'a>,
        loads: &'a Loads<'a>,
        solution: &Solution,
    ) -> Self {
        let model = assembly.model;
        let membrane = model
            .shells
            .iter()
            .enumerate()
            .map(|(index, shell)| {
                let movements = assembly.corner_movements(index, &solution.movements);
                let recovery = Recovery::new(&shell.facet, &model.laws[shell.plate]);
                recovery.resultants(&movements).corners.map(|c| c.membrane)
            })
            .collect();
        let global = model.to_global(solution.movements.clone());
        let doubled: Vec<Double> = global.iter().map(|&u| Double::from_f64(u)).collect();
        Moved { membrane, members: members_of(&assembly.structure, &loads.applied, &doubled) }
    }

    /// The geometric stiffness in the unknowns, lower triangle.
    pub(crate) fn geometric(&self, assembly: &Assembly<'_>) -> Vec<f64> {
        let model = assembly.model;
        let mut values = assembly.of_shells(&|index, facet| {
            let thickness = model.plates[model.shells[index].plate].thickness;
            Some(geometric_stiffness(facet, thickness, &self.membrane[index]))
        });
        for (beam, member) in model.frame.draft.beams.iter().zip(&self.members) {
            let solved = &member.solved;
            let pieces = solved.within.pieces(solved.element.line.length);
            let matrix = geometric(solved.element, solved.section, &pieces, |x| member.axial(x));
            let nodes = [beam.start.0, beam.end.0];
            assembly.add_global(&nodes, |i, j| matrix[(i, j)], &mut values);
        }
        values
    }
}
