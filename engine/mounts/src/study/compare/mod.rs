//! Designs side by side: what each takes to make, how far each is used, and what a design that comes
//! behind would have to change.

mod across;
mod steps;

pub use across::{CheckAcross, JointAcross, Used};
pub use steps::{Limit, Step, Tried, Way};

use crate::answer::{Answer, Row, RowKind, Verdict};
use crate::caller::Untold;
use crate::describe::Project;
use crate::pipeline::{self, Options};
use crate::study::bill::{Bill, Rates};
use crate::{Caller, CheckError, Progress, unknown};

/// Designs side by side, in the order in which they were given.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The designs.
    pub designs: Vec<Compared>,
    /// Every weld that any of them has, by name.
    pub joints: Vec<JointAcross>,
    /// The worst of every kind of check at every mount.
    pub checks: Vec<CheckAcross>,
    /// Places of the designs, the best first: by verdict, then by what was asked for, then as given.
    pub order: Vec<usize>,
    /// Which is best, in one sentence.
    pub sentence: String,
}

/// A design among others.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// Its answer on its own.
    pub answer: Answer,
    /// What it takes to make.
    pub bill: Bill,
    /// What it is ranked by, in SI.
    pub measure: f64,
    /// Its highest utilisation of strength or in service.
    pub worst: Option<Used>,
    /// How its mounts move, in the order of the answer.
    pub movements: Vec<Movement>,
    /// The row that lasts shortest, and how far, m; none where nothing has an end.
    pub shortest_life: Option<(String, f64)>,
    /// What would have to change; none for the best, where nothing of it exceeds.
    pub way: Option<Way>,
}

/// How a mount moves.
#[derive(Debug, Clone, PartialEq)]
pub struct Movement {
    /// Movement of the cradle against the body in each case, m: of the bush, and at the plate level
    /// of the steel under it, too.
    pub by_case: Vec<f64>,
    /// The case in which it moves most, by place.
    pub most: Option<usize>,
    /// Stiffness of the steel under the bush against x, y and z, N/m; only the plate level has it.
    pub structure: Option<[f64; 3]>,
}

/// What designs are ranked by, the verdict apart; less is better.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Measure {
    /// Length of weld, m.
    WeldLength,
    /// Volume of weld metal, m³.
    WeldVolume,
    /// Mass of new steel, kg.
    Mass,
    /// Length of cuts, m.
    Cut,
    /// Number of bolts.
    Bolts,
    /// Pieces of steel.
    Pieces,
    /// The highest utilisation.
    Utilisation,
    /// What it costs.
    Cost(Rates),
}

impl Measure {
    fn of(&self, bill: &Bill, worst: f64) -> f64 {
        let number = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
        match self {
            Self::WeldLength => bill.weld_length(),
            Self::WeldVolume => bill.weld_volume(),
            Self::Mass => bill.mass(),
            Self::Cut => bill.cut(),
            Self::Bolts => number(bill.bolt_count()),
            Self::Pieces => number(bill.pieces()),
            Self::Utilisation => worst,
            Self::Cost(rates) => bill.cost(rates),
        }
    }

    /// A number of it with its unit, in words.
    fn words(&self, measure: f64) -> String {
        match self {
            Self::WeldLength => format!("{:.0} mm of weld", measure * 1e3),
            Self::WeldVolume => format!("{:.1} cm³ of weld metal", measure * 1e6),
            Self::Mass => format!("{measure:.2} kg of steel"),
            Self::Cut => format!("{measure:.2} m of cuts"),
            Self::Bolts => format!("{measure:.0} bolts"),
            Self::Pieces => format!("{measure:.0} pieces of steel"),
            Self::Utilisation => format!("a highest utilisation of {measure:.2}"),
            Self::Cost(_) => format!("a cost of {measure:.2}"),
        }
    }
}

/// Why designs are not compared: of each that stands in the way its place and why.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{} designs have no answer", .0.len())]
pub struct NotCompared(pub Vec<(usize, CheckError)>);

/// Compares designs.
///
/// # Errors
/// [`NotCompared`]: the faults of all designs together; else the first that has no answer, or a caller
/// who does not wait any more. A design that does not hold is an answer.
pub fn compare(
    projects: &[Project],
    options: Options,
    by: Measure,
    caller: &dyn Caller,
) -> Result<Comparison, NotCompared> {
    let mut wrong = Vec::new();
    let mut bills = Vec::new();
    for (place, project) in projects.iter().enumerate() {
        let project = unknown::named(project);
        match pipeline::settled(&project) {
            Ok((design, _)) => bills.push(Bill::of(&project, &design)),
            Err(faults) => wrong.push((place, CheckError::Faults(faults))),
        }
    }
    if !wrong.is_empty() {
        return Err(NotCompared(wrong));
    }
    let mut designs = Vec::new();
    for (place, (project, bill)) in projects.iter().zip(bills).enumerate() {
        let doing = format!("checking {}", project.title);
        caller.told(Progress { doing, done: place, of: 2 * projects.len() });
        let answer = pipeline::check(project, options, &Untold(caller))
            .map_err(|error| NotCompared(vec![(place, error)]))?;
        designs.push(compared(answer, bill, by));
    }
    let mut order: Vec<usize> = (0..designs.len()).collect();
    let rank = |at: usize| match designs[at].answer.verdict {
        Verdict::Holds => 0,
        Verdict::Provisional => 1,
        Verdict::DoesNotHold => 2,
    };
    order.sort_by(|&a, &b| {
        rank(a).cmp(&rank(b)).then(designs[a].measure.total_cmp(&designs[b].measure))
    });
    let goal = order.first().map(|best| designs[*best].measure);
    for (place, project) in projects.iter().enumerate() {
        let doing = format!("trying steps on {}", project.title);
        caller.told(Progress { doing, done: projects.len() + place, of: 2 * projects.len() });
        let exceeds = designs[place].answer.verdict == Verdict::DoesNotHold;
        if order.first() != Some(&place) || exceeds {
            let target = steps::Target { by, goal };
            let way = steps::way(project, &designs[place].answer, target, caller)
                .map_err(|error| NotCompared(vec![(place, error)]))?;
            designs[place].way = Some(way);
        }
    }
    let sentence = sentence(&designs, &order, by);
    let joints = across::joints(&designs);
    let checks = across::checks(&designs);
    Ok(Comparison { designs, joints, checks, order, sentence })
}

/// Whether a row counts by how far it is used.
fn counts(row: &Row) -> bool {
    row.kind != RowKind::Detailing
}

fn compared(answer: Answer, bill: Bill, by: Measure) -> Compared {
    let worst = across::worst(answer.rows.iter().filter(|row| counts(row)));
    let measure = by.of(&bill, worst.as_ref().map_or(0.0, |used| used.utilisation));
    let shortest_life = answer
        .rows
        .iter()
        .filter_map(|row| row.life.map(|life| (row.id.clone(), life)))
        .reduce(|a, b| if b.1 < a.1 { b } else { a });
    let movements = (0..answer.mounts.len()).map(|mount| movement(&answer, mount)).collect();
    Compared { answer, bill, measure, worst, movements, shortest_life, way: None }
}

fn movement(answer: &Answer, mount: usize) -> Movement {
    let by_case: Vec<f64> = answer
        .cases
        .iter()
        .map(|case| case.mounts.get(mount).map_or(0.0, |load| load.travel.norm()))
        .collect();
    let most = (0..by_case.len()).reduce(|a, b| if by_case[b] > by_case[a] { b } else { a });
    let plates = answer.plate_mounts.iter().find(|plates| plates.mount == mount);
    let structure = plates.and_then(|plates| plates.hardpoint).map(|point| point.stiffness);
    Movement { by_case, most, structure }
}

fn sentence(designs: &[Compared], order: &[usize], by: Measure) -> String {
    let Some(best) = order.first().map(|at| &designs[*at]) else { return String::new() };
    let title = &best.answer.title;
    let words = by.words(best.measure);
    let alike = |at: &&usize| {
        let other = &designs[**at];
        other.answer.verdict == best.answer.verdict
            && other.measure.total_cmp(&best.measure).is_eq()
    };
    if order.iter().filter(alike).count() == order.len() {
        return format!("By verdict and {words} no design is better than another.");
    }
    match best.answer.verdict {
        Verdict::Holds => format!("{title} comes first: it holds, with {words}."),
        Verdict::Provisional => format!(
            "{title} comes first: what was checked of it holds, with {words}, but points are open."
        ),
        Verdict::DoesNotHold => {
            format!("No design holds; of those {title} comes first, with {words}.")
        }
    }
}

#[cfg(test)]
mod tests;
