//! Groups made, meshed, solved and read back, side by side.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::time::Duration;

use fishplate_quantity::Fault;
use fishplate_quantity::algebra::larger;
use fishplate_solver::SolveError;
use fishplate_solver::plates::answer::PlateAsked;
use fishplate_solver::plates::model::PlateId;
use fishplate_solver::plates::statics;

use super::buckle;
use super::group::{Members, groups};
use super::loads::{Key, Loads};
use super::model::Plan;
use super::net::{Fineness, RULE};
use super::recover::Reader;
use super::result::{
    Buckles, Contents, Drawn, Feedback, Group, Hardpoint, Plates, Recovered, Size, Solved,
};
use super::singular::TREATMENT;
use crate::checks::Setting;
use crate::{Cancel, CheckError};

/// How often a caller is asked whether he still waits.
const POLL: Duration = Duration::from_millis(50);

/// Whether the caller has given up, seen from every thread.
struct Stopped(AtomicBool);

impl Cancel for Stopped {
    fn cancelled(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

/// The plate level of a design: every group in two meshes, by as many threads as are given. The
/// numbers do not depend on how many.
///
/// # Errors
/// A caller who does not wait any more. A group that cannot be made or solved is an answer.
pub(crate) fn solve(
    setting: Setting<'_>,
    threads: usize,
    cancel: &dyn Cancel,
) -> Result<Plates, CheckError> {
    let all = groups(setting.design);
    let halves = halves(setting, &all, &[Fineness::FINE, Fineness::COARSE], threads, cancel);
    let mut halves = halves.into_iter();
    let mut made = Vec::new();
    for members in all {
        let [fine, coarse] = [(); 2].map(|()| halves.next().flatten());
        let outcome = match (fine, coarse) {
            (Some(Ok(fine)), Some(Ok(coarse))) => Ok(join(fine, coarse)),
            (Some(Err(why)), _) | (_, Some(Err(why))) => match why {
                Failure::Cancelled => return Err(CheckError::Cancelled),
                Failure::Reason(why) => Err(why),
            },
            _ => Err("the solve was given up".to_owned()),
        };
        let bodies = members.bodies.iter().chain(&members.guests).copied().collect();
        made.push(Group { mounts: members.mounts, bodies, outcome });
    }
    Ok(Plates { groups: made, feedback: Feedback::default() })
}

/// Flexibility at the hardpoints by the coarser mesh alone: what the share of the mounts depends on.
/// Mounts that could not be solved have none.
///
/// # Errors
/// A caller who does not wait any more.
pub(super) fn flexibility(
    setting: Setting<'_>,
    threads: usize,
    cancel: &dyn Cancel,
) -> Result<Vec<Hardpoint>, CheckError> {
    let all = groups(setting.design);
    let mut list = Vec::new();
    for half in halves(setting, &all, &[Fineness::COARSE], threads, cancel) {
        match half {
            Some(Ok(half)) => list.extend(half.hardpoints),
            Some(Err(Failure::Cancelled)) => return Err(CheckError::Cancelled),
            Some(Err(Failure::Reason(_))) | None => {}
        }
    }
    Ok(list)
}

/// Every group in every mesh, groups first.
fn halves(
    setting: Setting<'_>,
    all: &[Members],
    meshes: &[Fineness],
    threads: usize,
    cancel: &dyn Cancel,
) -> Vec<Option<Result<Half, Failure>>> {
    let jobs: Vec<(usize, Fineness)> =
        (0..all.len()).flat_map(|g| meshes.iter().map(move |fineness| (g, *fineness))).collect();
    let workers = threads.clamp(1, jobs.len().clamp(1, usize::MAX));
    let inner = (threads / workers).clamp(1, usize::MAX);
    let (next, stopped) = (AtomicUsize::new(0), Stopped(AtomicBool::new(false)));
    let mut halves: Vec<Option<Result<Half, Failure>>> = jobs.iter().map(|_| None).collect();
    std::thread::scope(|scope| {
        let (tell, told) = channel();
        for _ in 0..workers {
            let (tell, jobs, next, stopped) = (tell.clone(), &jobs, &next, &stopped);
            scope.spawn(move || {
                loop {
                    let job = next.fetch_add(1, Ordering::Relaxed);
                    let Some((group, fineness)) = jobs.get(job) else { return };
                    let half = half(setting, &all[*group], *fineness, inner, stopped);
                    if tell.send((job, half)).is_err() {
                        return;
                    }
                }
            });
        }
        drop(tell);
        loop {
            match told.recv_timeout(POLL) {
                Ok((job, half)) => halves[job] = Some(half),
                Err(RecvTimeoutError::Timeout) => {}
                Err(RecvTimeoutError::Disconnected) => break,
            }
            if cancel.cancelled() {
                stopped.0.store(true, Ordering::Relaxed);
            }
        }
    });
    halves
}

/// Why a mesh of a group was not solved.
enum Failure {
    Cancelled,
    Reason(String),
}

impl From<String> for Failure {
    fn from(why: String) -> Self {
        Self::Reason(why)
    }
}

/// One mesh of a group, solved.
struct Half {
    contents: Contents,
    recovered: Recovered,
    buckling: Vec<Buckles>,
    hardpoints: Vec<Hardpoint>,
    drawn: Drawn,
    told: Vec<String>,
    elements: usize,
    unknowns: usize,
    angles: [f64; 2],
}

fn half(
    setting: Setting<'_>,
    members: &Members,
    fineness: Fineness,
    threads: usize,
    cancel: &dyn Cancel,
) -> Result<Half, Failure> {
    if cancel.cancelled() {
        return Err(Failure::Cancelled);
    }
    let plan = Plan::new(&setting, members)?;
    let loads = Loads { setting: &setting, members };
    let mut model = plan.model(fineness, &loads)?;
    let (mut answers, mut unknowns, mut buckling) = (Vec::new(), 0, Vec::new());
    for draft in model.variants() {
        let keys = draft.keys;
        let told = |faults: Vec<Fault>| faults.first().map_or(String::new(), ToString::to_string);
        let checked = draft.draft.validate().map_err(told)?;
        let asked = PlateAsked {
            stresses: (0..model.draft.plates.len()).map(PlateId).collect(),
            lines: Vec::new(),
            stations: Vec::new(),
            second_order: false,
            threads,
        };
        let answer = statics(&checked, &asked, cancel).map_err(|why| match why {
            SolveError::Cancelled => Failure::Cancelled,
            other => Failure::Reason(other.to_string()),
        })?;
        unknowns = answer.size.unknowns;
        let factored = keys.iter().any(|key| matches!(key, Key::Factored(..)));
        if fineness == Fineness::FINE && factored {
            match buckle::lowest(&model, &checked, (&keys, &answer.cases), cancel) {
                Ok(found) => buckling = found,
                Err(SolveError::Cancelled) => return Err(Failure::Cancelled),
                Err(why) => model.told.push(format!("buckling was not found: {why}")),
            }
        }
        answers.extend(keys.into_iter().zip(answer.cases));
    }
    let told = std::mem::take(&mut model.told);
    let fine = fineness == Fineness::FINE;
    let reader = Reader::new(&setting, members, &model, &answers, fine);
    Ok(Half {
        recovered: reader.recovered(),
        buckling,
        hardpoints: reader.hardpoints(),
        drawn: if fine { reader.drawn() } else { Drawn::default() },
        contents: model.contents.clone(),
        told,
        elements: model.draft.plates.iter().map(|p| p.elements.len()).sum(),
        unknowns,
        angles: model.net.angles,
    })
}

fn join(fine: Half, coarse: Half) -> Solved {
    let cases = |half: &Recovered| -> f64 {
        let factored = half.factored.iter().flatten();
        let cuts = factored.chain(&half.service).flat_map(|case| &case.cuts);
        cuts.map(|cut| cut.imbalance).fold(0.0, larger)
    };
    let largest_imbalance = larger(cases(&fine.recovered), cases(&coarse.recovered));
    Solved {
        size: Size {
            elements: fine.elements,
            unknowns: [fine.unknowns, coarse.unknowns],
            least_angle: fine.angles[0],
            largest_angle: fine.angles[1],
            largest_imbalance,
            singular: TREATMENT.to_owned(),
            rule: RULE.to_owned(),
        },
        contents: fine.contents,
        fine: fine.recovered,
        coarse: coarse.recovered,
        buckling: fine.buckling,
        hardpoints: fine.hardpoints,
        assumptions: fine.told,
        drawn: fine.drawn,
    }
}
