//! The equation system of a structure, for other solvers to measure themselves on.

use super::assembly::Assembly;
use super::shells::PlateModel;
use super::statics::Loads;
use crate::error::SolveError;

/// In which axes the movements of the nodes are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ExportAxes {
    /// Those of their plates, as the solver does it: entries that no part fills are left out.
    OfPlates,
    /// Global ones: every entry between movements that an element joins is kept, zero or not.
    Global,
}

/// A symmetric equation system: the lower triangle in compressed columns, rows ascending.
#[derive(Clone, Debug, PartialEq)]
pub struct Export {
    /// The unknowns that each part couples, from which [`crate::linear::Pattern`] finds the places
    /// of the entries.
    pub groups: Vec<Vec<usize>>,
    /// Place of the first entry of each column, and the number of entries at the end.
    pub column_starts: Vec<usize>,
    /// Row of each entry.
    pub rows: Vec<usize>,
    /// Each entry, N/m, N or N m.
    pub values: Vec<f64>,
    /// Forces at the unknowns, a set for each load case; prescribed movements are left out.
    pub right_hand_sides: Vec<Vec<f64>>,
}

/// The system of a structure with every joint acting.
///
/// # Errors
/// Supports that hold a movement twice; a member that moves by itself.
pub fn export(model: &PlateModel, axes: ExportAxes) -> Result<Export, SolveError> {
    match axes {
        ExportAxes::OfPlates => Ok(of(&Assembly::new(model, model.joints.rows())?, false)),
        ExportAxes::Global => {
            let global = PlateModel { axes: vec![None; model.axes.len()], ..model.clone() };
            Ok(of(&Assembly::whole(&global)?, true))
        }
    }
}

fn of(assembly: &Assembly<'_>, whole: bool) -> Export {
    let model = assembly.model;
    let pattern = &assembly.pattern;
    let mut column_starts = Vec::with_capacity(pattern.size() + 1);
    let mut rows = Vec::with_capacity(pattern.entries());
    pattern.visit(|place, row, column| {
        if column == column_starts.len() {
            column_starts.push(place);
        }
        rows.push(row);
    });
    column_starts.push(rows.len());
    let right_hand_sides = (0..model.loads.len())
        .map(|case| {
            let acting = Loads::new(model, assembly, case).acting;
            assembly.reduction.gather_plain(&acting.forces)
        })
        .collect();
    Export {
        groups: assembly.groups(whole),
        column_starts,
        rows,
        values: assembly.stiffness(1),
        right_hand_sides,
    }
}
