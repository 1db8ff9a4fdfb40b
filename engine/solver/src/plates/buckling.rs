//! Linear buckling of plates: the factor by which a load case must grow until the structure has a
//! neighbouring position of equilibrium.

use super::assembly::Assembly;
use super::element::{Recovery, geometric_stiffness};
use super::joints::Settled;
use super::shells::PlateModel;
use super::statics::{Loads, settle};
use super::system::System;
use crate::beam::inertia::{Square, geometric};
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
    let plain = std::slice::from_ref(&loads.acting);
    let mut solutions = system.solve(plain)?;
    let settled = settle(&system, plain, &solutions, 1)?;
    poll(cancel)?;
    if !settled[0].forces.is_empty() {
        solutions = system.solve(&[loads.acting.with(model, &settled[0])])?;
    }
    let moved = Moved::new(&system.assembly, &loads, &solutions[0].movements);
    let found = critical(&system, (&moved, &settled[0]), modes, cancel)?;
    if found.is_empty() {
        return Err(SolveError::NothingCompressed { case });
    }
    Ok(BucklingAnswer { modes: found, bent: bent(&moved.members) })
}

/// The lowest modes of a structure in the state of a case; empty when none is positive. `system` is
/// the structure with every joint acting.
pub(crate) fn critical(
    system: &System<'_>,
    (moved, settled): (&Moved<'_>, &Settled),
    modes: usize,
    cancel: &dyn Cancel,
) -> Result<Vec<BucklingMode>, SolveError> {
    let model = system.assembly.model;
    let acting = model.joints.acting_rows(settled);
    let loosened;
    let system = if acting.len() == model.joints.rows().count() {
        system
    } else {
        loosened = System::new(Assembly::new(model, acting.into_iter())?, 1, cancel)?;
        &loosened
    };
    poll(cancel)?;
    let minus = moved.minus_geometric(&system.assembly);
    if largest(&minus) <= 0.0 {
        return Ok(Vec::new());
    }
    let found = search(system.factored(), minus, modes, cancel)?;
    let told = found
        .modes
        .iter()
        .map(|mode| BucklingMode { load_factor: 1.0 / mode.mu, shape: system.shape(&mode.vector) });
    Ok(told.collect())
}

/// A solved case as far as its geometric stiffness goes.
pub(crate) struct Moved<'a> {
    /// Membrane forces at the corners of every element.
    membrane: Vec<[[f64; 3]; 4]>,
    members: Vec<Member<'a>>,
}

impl<'a> Moved<'a> {
    /// Of movements in the axes of the nodes.
    pub(crate) fn new(assembly: &'a Assembly<'a>, loads: &'a Loads<'a>, movements: &[f64]) -> Self {
        let model = assembly.model;
        let membrane = model
            .shells
            .iter()
            .enumerate()
            .map(|(index, shell)| {
                let recovery = Recovery::new(&shell.facet, &model.laws[shell.plate]);
                let found = recovery.resultants(&assembly.corner_movements(index, movements));
                found.corners.map(|corner| corner.membrane)
            })
            .collect();
        let global = model.to_global(movements.to_vec());
        let doubled: Vec<Double> = global.iter().map(|&u| Double::from_f64(u)).collect();
        Moved { membrane, members: members_of(&assembly.structure, &loads.applied, &doubled) }
    }

    /// Minus the geometric stiffness in the unknowns, lower triangle.
    fn minus_geometric(&self, assembly: &Assembly<'_>) -> Vec<f64> {
        let model = assembly.model;
        let mut values = assembly.of_shells(1, &|index, facet| {
            let thickness = model.laws[model.shells[index].plate].thickness;
            let minus = self.membrane[index].map(|corner| corner.map(|n| -n));
            Some(geometric_stiffness(facet, thickness, &minus))
        });
        for (nodes, matrix) in self.of_beams(model) {
            assembly.add_global(&nodes, |i, j| -matrix[(i, j)], &mut values);
        }
        values
    }

    /// Nodes and geometric stiffness of every beam, global axes.
    fn of_beams(&self, model: &PlateModel) -> Vec<([usize; 2], Square)> {
        let members = model.frame.draft.beams.iter().zip(&self.members);
        members
            .map(|(beam, member)| {
                let solved = &member.solved;
                let pieces = solved.within.pieces(solved.element.line.length);
                let matrix =
                    geometric(solved.element, solved.section, &pieces, |x| member.axial(x));
                ([beam.start.0, beam.end.0], matrix)
            })
            .collect()
    }

    /// Forces that the geometric stiffness adds to those that hold some movements; both in the axes
    /// of the nodes.
    pub(crate) fn forces(&self, assembly: &Assembly<'_>, movements: &[f64]) -> Vec<f64> {
        let model = assembly.model;
        let mut forces = assembly.geometric_forces(&self.membrane, movements);
        if self.members.is_empty() {
            return forces;
        }
        let global = model.to_global(movements.to_vec());
        let mut of_beams = vec![0.0; global.len()];
        for (nodes, matrix) in self.of_beams(model) {
            let place = |i: usize| 6 * nodes[i / 6] + i % 6;
            for i in 0..12 {
                for j in 0..12 {
                    of_beams[place(i)] += matrix[(i, j)] * global[place(j)];
                }
            }
        }
        for (sum, f) in forces.iter_mut().zip(model.to_local(of_beams)) {
            *sum += f;
        }
        forces
    }
}
