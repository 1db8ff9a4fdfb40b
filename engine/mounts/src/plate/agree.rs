//! Frame and plate level agree on the share of the mounts: a bracket that gives way sheds load.

use fishplate_quantity::algebra::larger;
use nalgebra::Matrix3;

use super::result::{Feedback, Plates};
use super::solve::solve;
use crate::checks::Setting;
use crate::forces::{self, Forces};
use crate::load_path::Carried;
use crate::{Cancel, CheckError};

/// Change of the mount forces, over the largest of their case, at which both levels agree.
const AGREED: f64 = 5e-3;

/// Most solves of the frame level with stiffness from the plate level.
const MOST_ROUNDS: usize = 4;

/// The plate level, with the forces that it was solved with where they are not those of rigid
/// brackets.
pub(crate) struct Agreed {
    pub(crate) plates: Plates,
    pub(crate) forces: Option<(Forces, Carried)>,
}

/// Solves the plate level, gives the stiffness of its hardpoints to the frame level, and again until
/// the mount forces stay. A mount that was not solved counts as rigid.
///
/// # Errors
/// Those of the frame level; a caller who does not wait any more.
pub(crate) fn agree(
    setting: Setting<'_>,
    traced: bool,
    threads: usize,
    cancel: &dyn Cancel,
) -> Result<Agreed, CheckError> {
    let factored =
        setting.factors.format() != fishplate_strength::clause::Format::AllowableStrength;
    let rigid = setting.forces;
    let mut plates = solve(setting, threads, cancel)?;
    let mut kept: Option<(Forces, Carried)> = None;
    let mut feedback = Feedback::default();
    for round in 1..=MOST_ROUNDS {
        let soft = flexibility(&setting, &plates);
        let next = forces::derive_on(setting.project, setting.design, (factored, traced), &soft)?;
        let before = kept.as_ref().map_or(rigid, |(forces, _)| forces);
        feedback.rounds = round;
        feedback.last_change = changes(before, &next).into_iter().fold(0.0, larger);
        feedback.share_change = changes(rigid, &next);
        if feedback.last_change < AGREED || round == MOST_ROUNDS {
            break;
        }
        let carried = Carried::solve(setting.design, setting.path, &next)?;
        let again = Setting { forces: &next, carried: &carried, ..setting };
        plates = solve(again, threads, cancel)?;
        kept = Some((next, carried));
    }
    plates.feedback = feedback;
    Ok(Agreed { plates, forces: kept })
}

/// Movement by force at every mount of the design, m/N; none of one that was not solved.
fn flexibility(setting: &Setting<'_>, plates: &Plates) -> Vec<Matrix3<f64>> {
    let mut list = vec![Matrix3::zeros(); setting.design.mounts.len()];
    for point in plates.solved().flat_map(|s| &s.hardpoints) {
        list[point.mount] = Matrix3::from_fn(|i, j| point.flexibility[i][j]);
    }
    list
}

/// By mount: largest change of its force over all cases, over the largest force of a mount in that
/// case.
fn changes(before: &Forces, now: &Forces) -> Vec<f64> {
    let count = before.cases.first().map_or(0, |case| case.service.len());
    let mut list = vec![0.0; count];
    for (a, b) in before.cases.iter().zip(&now.cases) {
        let size = a.service.iter().map(|load| load.force.norm()).fold(f64::MIN_POSITIVE, larger);
        for (change, (a, b)) in list.iter_mut().zip(a.service.iter().zip(&b.service)) {
            *change = larger(*change, (b.force - a.force).norm() / size);
        }
    }
    list
}
