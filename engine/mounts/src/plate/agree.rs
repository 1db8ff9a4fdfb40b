//! Frame and plate level agree on the share of the mounts: a bracket that gives way sheds load.

use fishplate_quantity::algebra::larger;
use nalgebra::Matrix3;

use super::result::{Feedback, Hardpoint, Plates};
use super::solve::{flexibility, solve};
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

/// Gives the stiffness of the hardpoints to the frame level, by the coarser mesh first, solves the
/// plate level under the forces that follow, and again until they stay. A mount that was not solved
/// counts as rigid.
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
    let mut soft = by_mount(&setting, &flexibility(setting, threads, cancel)?);
    let mut plates: Option<Plates> = None;
    let mut kept: Option<(Forces, Carried)> = None;
    let mut feedback = Feedback::default();
    for round in 1..=MOST_ROUNDS {
        let next = forces::derive_on(setting.project, setting.design, (factored, traced), &soft)?;
        let before = kept.as_ref().map_or(rigid, |(forces, _)| forces);
        feedback.rounds = round;
        feedback.last_change = changes(before, &next).into_iter().fold(0.0, larger);
        feedback.share_change = changes(rigid, &next);
        if feedback.last_change < AGREED {
            break;
        }
        let carried = Carried::solve(setting.design, setting.path, &next)?;
        let again = Setting { forces: &next, carried: &carried, ..setting };
        let solved = solve(again, threads, cancel)?;
        let points: Vec<Hardpoint> =
            solved.solved().flat_map(|s| s.hardpoints.iter().copied()).collect();
        soft = by_mount(&setting, &points);
        plates = Some(solved);
        kept = Some((next, carried));
    }
    let mut plates = match plates {
        Some(plates) => plates,
        None => solve(setting, threads, cancel)?,
    };
    plates.feedback = feedback;
    Ok(Agreed { plates, forces: kept })
}

/// Movement by force at every mount of the design, m/N; none of one that was not solved.
fn by_mount(setting: &Setting<'_>, points: &[Hardpoint]) -> Vec<Matrix3<f64>> {
    let mut list = vec![Matrix3::zeros(); setting.design.mounts.len()];
    for point in points {
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
