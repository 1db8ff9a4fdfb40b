//! What if: a project and the same project changed, side by side; mass that is added, and how much of
//! it until something gives; the loss of a mount or of a bush.

use fishplate_solver::group::FreeMotion;

use super::trial::{Bench, Outcome, RowName, paired};
use super::work::Work;
use crate::answer::{Answer, MountLoad, Row, RowKind, Verdict};
use crate::caller::Untold;
use crate::describe::{AddedMass, Loss, Place, Project, Side, WrittenMass};
use crate::design::Vec3;
use crate::pipeline::{self, Depth, Options};
use crate::{Caller, CheckError, forces, telling, unknown};

/// What is changed beside what the changed project says.
#[derive(Debug, Clone, Default)]
pub struct Change {
    /// Mass that is added.
    pub added: Option<Added>,
    /// What is lost.
    pub lost: Option<Lost>,
}

/// Mass that is added.
#[derive(Debug, Clone, PartialEq)]
pub struct Added {
    /// How much.
    pub mass: WrittenMass,
    /// Where.
    pub place: AddedAt,
}

/// Where mass is added.
#[derive(Debug, Clone, PartialEq)]
pub enum AddedAt {
    /// At a point.
    Point(Place),
    /// Over the front axle, at the height of the centre of gravity.
    FrontAxle,
    /// Over the rear axle, at the height of the centre of gravity.
    RearAxle,
}

/// A mount or bush that is lost.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lost {
    /// The mount, by its place in the project.
    pub mount: usize,
    /// Its side.
    pub side: Side,
    /// What of it is lost.
    pub what: Loss,
}

/// A project and the same project changed.
#[derive(Debug, Clone, PartialEq)]
pub struct WhatIfAnswer {
    /// Title of the project.
    pub title: String,
    /// The project as it stands.
    pub before: Standing,
    /// The changed project; nothing where its cradle is not held.
    pub after: Option<Standing>,
    /// Why the changed project has no answer: which way the cradle moves.
    pub moves: Vec<String>,
    /// Rows of strength and service, in the order in which the load travels.
    pub rows: Vec<RowChange>,
    /// Mounts.
    pub mounts: Vec<MountChange>,
    /// How much mass until something gives, where mass is added.
    pub limit: Option<MassLimit>,
    /// What was taken for granted about the change.
    pub assumptions: Vec<String>,
    /// Cautions that belong to every answer.
    pub cautions: Vec<String>,
}

/// How a project stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// The verdict.
    pub verdict: Verdict,
    /// The same in one sentence.
    pub sentence: String,
    /// Load of the front and rear axle at rest, N.
    pub axles: [f64; 2],
    /// The highest utilisation and its row.
    pub highest: Option<(f64, String)>,
}

/// A row before and after.
#[derive(Debug, Clone, PartialEq)]
pub struct RowChange {
    /// The row: as it stands, or where it is new as it is then.
    pub row: RowName,
    /// Before; nothing where it was not there or not checked.
    pub before: Option<Used>,
    /// After; nothing where it is not there or not checked.
    pub after: Option<Used>,
}

/// A utilisation and its case.
#[derive(Debug, Clone, PartialEq)]
pub struct Used {
    /// Demand over resistance.
    pub utilisation: f64,
    /// The governing case; empty for a check without loads.
    pub case: String,
}

/// A mount before and after.
#[derive(Debug, Clone, PartialEq)]
pub struct MountChange {
    /// Short name: `FL`.
    pub id: String,
    /// Long name.
    pub name: String,
    /// Before.
    pub before: MountUse,
    /// After; nothing where the cradle is not held.
    pub after: Option<MountUse>,
}

/// What a mount carries at most over all cases, unfactored.
#[derive(Debug, Clone, PartialEq)]
pub struct MountUse {
    /// The largest force of the cradle on the body, N.
    pub force: Vec3,
    /// Its case.
    pub force_case: String,
    /// The largest movement of the cradle there, m.
    pub movement: Vec3,
    /// Its case.
    pub movement_case: String,
}

/// How much mass until something gives.
#[derive(Debug, Clone, PartialEq)]
pub struct MassLimit {
    /// The mass at which the first row that holds without it reaches its limit, kg; nothing where
    /// none does within `looked_to`.
    pub mass: Option<f64>,
    /// The rows that reach it there.
    pub rows: Vec<RowName>,
    /// Rows that exceed without any added mass.
    pub exceeding: Vec<RowName>,
    /// Mass up to which it was looked, kg.
    pub looked_to: f64,
}

const WITHOUT_WORDS: Options =
    Options { derivations: false, scene: false, try_guesses: false, depth: Depth::Frame };

/// Sets `before` beside `after` with a further change, by hand statics.
///
/// # Errors
/// As a check of either; faults of the change.
pub fn ask(
    before: &Project,
    after: &Project,
    change: &Change,
    caller: &dyn Caller,
) -> Result<WhatIfAnswer, CheckError> {
    let (before, base) = (&*unknown::named(before), &*unknown::named(after));
    let stands = pipeline::check(before, WITHOUT_WORDS, &Untold(caller))?;
    let mut changed = base.clone();
    let mut assumptions = Vec::new();
    if let Some(lost) = &change.lost {
        lose(&mut changed, lost, &mut assumptions);
    }
    let without_mass = changed.clone();
    let height = stands.car.vehicle.cg_height;
    if let Some(added) = &change.added {
        add(&mut changed, added, added.mass, height);
        if !matches!(added.place, AddedAt::Point(_)) {
            assumptions.push(format!(
                "the added mass sits over the axle, in the middle, at the height of the centre of \
                 gravity ({:.0} mm)",
                height * 1e3
            ));
        }
    }
    let moves = not_held(&changed)?;
    let then = match moves.is_empty() {
        true => Some(pipeline::check(&changed, WITHOUT_WORDS, &Untold(caller))?),
        false => None,
    };
    let limit = match &change.added {
        Some(added) if then.is_some() => Some(limit(&without_mass, added, height, caller)?),
        _ => None,
    };
    Ok(WhatIfAnswer {
        title: stands.title.clone(),
        before: standing(&stands),
        after: then.as_ref().map(standing),
        moves,
        rows: rows(&stands, then.as_ref()),
        mounts: mounts(&stands, then.as_ref()),
        limit,
        assumptions,
        cautions: telling::cautions(),
    })
}

/// Puts mass on the car.
fn add(project: &mut Project, added: &Added, mass: WrittenMass, height: f64) {
    let over = |x: f64| Place { x: Some(x), y: Some(0.0), z: Some(height), ..Place::default() };
    let at = match &added.place {
        AddedAt::Point(place) => *place,
        AddedAt::FrontAxle => over(project.car.wheelbase.value.si()),
        AddedAt::RearAxle => over(0.0),
    };
    project.car.added_masses.push(AddedMass { name: "added".to_owned(), mass, at });
}

fn lose(project: &mut Project, lost: &Lost, assumptions: &mut Vec<String>) {
    let Some(mount) = project.mounts.get_mut(lost.mount) else { return };
    mount.lost = Some((lost.side, lost.what));
    let name = format!("{} {}", mount.name, lost.side.word());
    assumptions.push(match lost.what {
        Loss::Mount => format!("mount {name} carries nothing; the others are whole"),
        Loss::Bush => format!(
            "the bush of mount {name} has lost its stiffness, and its stop still closes where it has \
             one; the others are whole"
        ),
    });
}

/// Which way the cradle or a cargo moves where what is left does not hold it; empty where it does.
fn not_held(project: &Project) -> Result<Vec<String>, CheckError> {
    let (design, _) = pipeline::settled(project).map_err(CheckError::Faults)?;
    let free = forces::left_free(project, &design).map_err(CheckError::Faults)?;
    Ok(free.iter().map(|(body, motion)| in_words(body, motion)).collect())
}

/// A movement in words of the car.
fn in_words(body: &str, motion: &FreeMotion) -> String {
    let direction = |d: Vec3, words: [&str; 3]| {
        let along = (0..3).find(|axis| d[*axis].abs() > 0.999);
        along.map_or_else(
            || format!("along ({:.2}, {:.2}, {:.2})", d.x, d.y, d.z),
            |axis| words[axis].to_owned(),
        )
    };
    match motion {
        FreeMotion::Slide(d) => {
            let words = ["forward and back", "to the left and right", "up and down"];
            format!("nothing keeps {body} from sliding {}", direction(*d, words))
        }
        FreeMotion::Turn { axis, through } => {
            let words = ["along the car", "across the car", "upright"];
            format!(
                "nothing keeps {body} from turning about a line {} through x {:.0}, y {:.0}, \
                 z {:.0} mm",
                direction(*axis, words),
                through.x * 1e3,
                through.y * 1e3,
                through.z * 1e3
            )
        }
    }
}

fn standing(answer: &Answer) -> Standing {
    let highest = counted(answer)
        .filter_map(|r| r.governing().map(|g| (g.utilisation, r.id.clone())))
        .reduce(|a, b| if b.0 > a.0 { b } else { a });
    Standing {
        verdict: answer.verdict,
        sentence: answer.sentence.clone(),
        axles: answer.car.axles,
        highest,
    }
}

fn counted(answer: &Answer) -> impl Iterator<Item = &Row> {
    answer.rows.iter().filter(|r| r.kind != RowKind::Detailing)
}

fn rows(before: &Answer, after: Option<&Answer>) -> Vec<RowChange> {
    let used = |answer: &Answer, row: &Row| {
        row.governing().map(|g| Used {
            utilisation: g.utilisation,
            case: g
                .case
                .and_then(|c| answer.cases.get(c))
                .map_or(String::new(), |c| c.name.clone()),
        })
    };
    let then: &[Row] = after.map_or(&[], |answer| &answer.rows);
    paired(&before.rows, then)
        .into_iter()
        .filter_map(|(was, is)| {
            Some(RowChange {
                row: RowName::of(was.or(is)?),
                before: was.and_then(|row| used(before, row)),
                after: is.zip(after).and_then(|(row, answer)| used(answer, row)),
            })
        })
        .collect()
}

fn mounts(before: &Answer, after: Option<&Answer>) -> Vec<MountChange> {
    before
        .mounts
        .iter()
        .enumerate()
        .map(|(at, mount)| MountChange {
            id: mount.id.clone(),
            name: mount.name.clone(),
            before: most(before, at),
            after: after.map(|answer| most(answer, at)),
        })
        .collect()
}

/// The largest force and movement of a mount over all cases.
fn most(answer: &Answer, mount: usize) -> MountUse {
    let largest = |of: fn(&MountLoad) -> Vec3| {
        answer
            .cases
            .iter()
            .filter_map(|case| case.mounts.get(mount).map(|load| (of(load), case.name.clone())))
            .reduce(|a, b| if b.0.norm() > a.0.norm() { b } else { a })
            .unwrap_or_else(|| (Vec3::zeros(), String::new()))
    };
    let (force, force_case) = largest(|load| load.force);
    let (movement, movement_case) = largest(|load| load.travel);
    MountUse { force, force_case, movement, movement_case }
}

/// Steps of the look for the mass that is too much.
const STEPS: u32 = 16;
/// That mass is known to this, kg.
const CLOSE: f64 = 0.01;

/// How much mass at a place until the first row that holds without it exceeds: a scan up to the mass
/// of the car, then bisection.
fn limit(
    project: &Project,
    added: &Added,
    height: f64,
    caller: &dyn Caller,
) -> Result<MassLimit, CheckError> {
    let answer = pipeline::check(project, WITHOUT_WORDS, &Untold(caller))?;
    let bench = Bench::new(project, &answer)?;
    let over = |row: &RowName| row.utilisation.is_some_and(|u| u > 1.0);
    let most = answer.car.vehicle.mass;
    let tried = |mass: f64, cancel: &dyn crate::Cancel| {
        let mut trial = project.clone();
        let written = WrittenMass::exact(fishplate_quantity::Mass::from_si(mass));
        add(&mut trial, added, written, height);
        bench.of(&trial, cancel)
    };
    // Rows that hold without the mass and exceed with it, by place.
    let gives = |outcome: &Option<Outcome>| -> Vec<usize> {
        let Some(outcome) = outcome else { return Vec::new() };
        let holds = |at: &usize| bench.rows[*at].utilisation.is_some_and(|u| u <= 1.0);
        let exceeds = |at: &usize| outcome.rows[*at].is_some_and(|u| u > 1.0);
        (0..bench.rows.len()).filter(holds).filter(exceeds).collect()
    };
    let step = most / f64::from(STEPS);
    let masses: Vec<f64> = (1..=STEPS).map(|i| step * f64::from(i)).collect();
    let mut work = Work::new(caller, 1);
    work.expect(masses.len());
    let scanned = work.all("adding mass", masses.len(), |at, inner| tried(masses[at], inner))?;
    let found = scanned.iter().position(|outcome| !gives(outcome).is_empty());
    let (mass, rows) = match found {
        None => (None, Vec::new()),
        Some(at) => {
            let (mut low, mut high) = (masses[at] - step, masses[at]);
            let mut rows = gives(&scanned[at]);
            while high - low > CLOSE {
                let middle = low + (high - low) / 2.0;
                let outcome = tried(middle, caller)?;
                match gives(&outcome) {
                    none if none.is_empty() => low = middle,
                    some => (high, rows) = (middle, some),
                }
            }
            (Some(low), rows)
        }
    };
    Ok(MassLimit {
        mass,
        rows: rows.into_iter().map(|at| bench.rows[at].clone()).collect(),
        exceeding: bench.rows.iter().filter(|r| over(r)).cloned().collect(),
        looked_to: most,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_free_movement_is_told_in_words_of_the_car() {
        let slide = in_words("the cradle", &FreeMotion::Slide(Vec3::new(0.0, 0.0, -1.0)));
        assert!(slide.ends_with("sliding up and down"), "{slide}");
        let turn = FreeMotion::Turn { axis: Vec3::y(), through: Vec3::new(-0.29, 0.0, 0.44) };
        let turn = in_words("the cradle", &turn);
        assert!(turn.contains("across the car through x -290, y 0, z 440 mm"), "{turn}");
        let askew = Vec3::new(0.6, 0.8, 0.0);
        let askew =
            in_words("the cradle", &FreeMotion::Turn { axis: askew, through: Vec3::zeros() });
        assert!(askew.contains("(0.60, 0.80, 0.00)"), "{askew}");
    }
}
