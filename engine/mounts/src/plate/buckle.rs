//! Buckling of a group in the cases that compress its walls most.

use fishplate_quantity::algebra::larger;
use fishplate_solver::SolveError;
use fishplate_solver::model::CaseId;
use fishplate_solver::plates::answer::{PlaneStress, PlateCaseAnswer};
use fishplate_solver::plates::{PlateModel, buckling};

use super::loads::Key;
use super::model::Model;
use super::result::Buckles;
use crate::Cancel;
use crate::design::Vec3;

/// Cases that are looked at: those that compress a wall most.
const CASES: usize = 2;

/// Lowest ways of buckling of the worst cases, the lowest first.
///
/// # Errors
/// What the solver says where it finds none.
pub(super) fn lowest(
    model: &Model,
    checked: &PlateModel,
    (keys, answers): (&[Key], &[PlateCaseAnswer]),
    cancel: &dyn Cancel,
) -> Result<Vec<Buckles>, SolveError> {
    let mut worst: Vec<(usize, usize, f64)> = keys
        .iter()
        .zip(answers)
        .enumerate()
        .filter_map(|(place, (key, answer))| match key {
            Key::Factored(case, _) => Some((place, *case, compression(model, answer))),
            _ => None,
        })
        .filter(|(_, _, size)| *size > 0.0)
        .collect();
    worst.sort_by(|a, b| b.2.total_cmp(&a.2).then(a.0.cmp(&b.0)));
    worst.dedup_by_key(|(_, case, _)| *case);
    let mut found = Vec::new();
    for (place, case, _) in worst.into_iter().take(CASES) {
        let mode = match buckling(checked, CaseId(place), 1, cancel) {
            Ok(answer) => answer.modes.into_iter().next(),
            Err(SolveError::NothingCompressed { .. }) => None,
            Err(other) => return Err(other),
        };
        let Some(mode) = mode else { continue };
        let shape: Vec<Vec3> = mode.shape.nodes[..model.net.nodes.len()]
            .iter()
            .map(|u| Vec3::new(u[0], u[1], u[2]))
            .collect();
        let top = shape.iter().map(|u| u.norm()).fold(0.0, larger);
        let shape: Vec<Vec3> =
            if top > 0.0 { shape.iter().map(|u| u / top).collect() } else { shape };
        found.push(Buckles {
            case,
            factor: mode.load_factor,
            wall: moves_most(model, &shape),
            shape,
        });
    }
    found.sort_by(|a, b| a.factor.total_cmp(&b.factor));
    Ok(found)
}

/// Largest compression of a wall against what a plate of its thickness stands: the critical force
/// goes with the cube of the thickness.
fn compression(model: &Model, answer: &PlateCaseAnswer) -> f64 {
    let mut most = 0.0;
    for (plate, stress) in model.draft.plates.iter().zip(&answer.stresses) {
        for element in &stress.elements {
            let ([_, least], _) = PlaneStress(element.centre.membrane).principal();
            most = larger(most, -least / plate.thickness.powi(3));
        }
    }
    most
}

/// The wall with the largest movement of a shape.
fn moves_most(model: &Model, shape: &[Vec3]) -> usize {
    let size = |plate: usize| {
        let elements = model.draft.plates[plate].elements.iter();
        elements.flat_map(|e| e.nodes()).map(|n| shape[n.0].norm()).fold(0.0, larger)
    };
    let sizes: Vec<f64> = (0..model.draft.plates.len()).map(size).collect();
    (0..sizes.len()).fold(0, |best, i| if sizes[i] > sizes[best] { i } else { best })
}
