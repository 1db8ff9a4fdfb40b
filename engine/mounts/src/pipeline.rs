//! From a described design to its verdict: each arrow of the data flow is one pure function.

use std::sync::Arc;

use fishplate_quantity::Fault;
use fishplate_strength::catalog::FuEdition;
use fishplate_strength::clause::{Factors, Format};
use fishplate_strength::packs::Pack;

use crate::answer::{Answer, CargoForce, CaseAnswer, Explanation, Row, RowKind};
use crate::checks::{self, Draft, Scope, Setting};
use crate::describe::{Project, RuleChoice};
use crate::design::{self, Design};
use crate::forces::Forces;
use crate::load_path::{self, Carried, LoadPath};
use crate::plate::result::Plates;
use crate::{Caller, Cancel, CheckError, guesses, plate, telling, unknown, verdict};

/// What is asked beside the verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Options {
    /// Every row and case carries its derivation.
    pub derivations: bool,
    /// The answer carries the geometry to draw.
    pub scene: bool,
    /// Guesses with a spread are tried at both ends, by hand statics.
    pub try_guesses: bool,
    /// How deep to look.
    pub depth: Depth,
}

/// How deep a check looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Depth {
    /// Hand statics of the joints, with forces from equilibrium and from the frame.
    Frame,
    /// Every mount as plates as well.
    Plate {
        /// Threads that may work at the same time; the numbers do not depend on it.
        threads: usize,
    },
}

/// Checks a project.
///
/// # Errors
/// [`CheckError`]: all faults of the input, a model that cannot be solved, or a caller who does
/// not wait any more. A check that exceeds is an answer.
pub fn check(
    project: &Project,
    options: Options,
    caller: &dyn Caller,
) -> Result<Answer, CheckError> {
    let project = &*unknown::named(project);
    let found = find(project, options.derivations, options.depth, caller)?;
    let rows = run(project, &found, &Scope::everything(), options.derivations, caller)?;
    let mut answer = verdict::judge(project, &found, rows, options);
    if options.try_guesses {
        guesses::try_all(project, &mut answer, caller)?;
    }
    verdict::settle(&mut answer);
    Ok(answer)
}

/// Explains one row, in its governing case or in another.
///
/// # Errors
/// As [`check`]; and a row or case that is not there.
pub fn explain(
    project: &Project,
    row: &str,
    case: Option<&str>,
    depth: Depth,
    cancel: &dyn Cancel,
) -> Result<Explanation, CheckError> {
    let project = &*unknown::named(project);
    let found = find(project, true, depth, cancel)?;
    let cases = &found.forces.cases;
    let case = match case {
        None => None,
        Some(name) => Some(cases.iter().position(|c| c.case.name == name).ok_or_else(|| {
            CheckError::NoSuchRow {
                asked: format!("case {name}"),
                known: cases.iter().map(|c| c.case.name.clone()).collect::<Vec<_>>().join(", "),
            }
        })?),
    };
    let mut numbers = Numbers::of(&found.design);
    let rows: Vec<_> = checks::drafts(found.setting(project), &Scope::everything())
        .into_iter()
        .filter_map(|draft| {
            let chosen = chosen(project, &draft.component);
            checks::explain(&draft, cases.len(), case, chosen)
        })
        .map(|row| numbers.numbered(row))
        .collect();
    let known = rows.iter().map(|r| r.id.as_str()).collect::<Vec<_>>().join(", ");
    let row = rows
        .into_iter()
        .find(|r| r.id == row)
        .ok_or_else(|| CheckError::NoSuchRow { asked: format!("row {row}"), known })?;
    let case = row.governing().and_then(|g| g.case).map(|c| telling::case(&found, c, true));
    Ok(Explanation { row, case, cautions: telling::cautions() })
}

/// Everything up to the checks.
#[derive(Debug)]
pub(crate) struct Found {
    pub(crate) pack: &'static Pack,
    pub(crate) factors: Factors,
    pub(crate) design: Design,
    /// Shared by the designs of a study.
    pub(crate) forces: Arc<Forces>,
    pub(crate) path: LoadPath,
    pub(crate) carried: Carried,
    /// The plate level, where it was asked for.
    pub(crate) plates: Option<Plates>,
}

impl Found {
    pub(crate) fn setting<'a>(&'a self, project: &'a Project) -> Setting<'a> {
        Setting {
            project,
            design: &self.design,
            path: &self.path,
            forces: &self.forces,
            carried: &self.carried,
            pack: self.pack,
            factors: &self.factors,
            plates: self.plates.as_ref(),
        }
    }

    /// Weight and inertia of each cargo in a case.
    pub(crate) fn cargo_forces(&self, case: usize) -> Vec<CargoForce> {
        let forces = &self.forces.cases[case].loads.cargo;
        forces
            .iter()
            .zip(&self.design.cargo)
            .map(|(own, name)| CargoForce { cargo: name.clone(), at: own.at, force: own.force })
            .collect()
    }

    /// The cases as told to the reader.
    pub(crate) fn cases(&self, traced: bool) -> Vec<CaseAnswer> {
        (0..self.forces.cases.len()).map(|c| telling::case(self, c, traced)).collect()
    }
}

pub(crate) fn find(
    project: &Project,
    traced: bool,
    depth: Depth,
    cancel: &dyn Cancel,
) -> Result<Found, CheckError> {
    let (design, rules) = settled(project).map_err(CheckError::Faults)?;
    stop(cancel)?;
    let forces = forces(project, &design, &rules.1, traced)?;
    stop(cancel)?;
    let mut found = carry(design, rules, forces)?;
    stop(cancel)?;
    if let Depth::Plate { threads } = depth {
        let agreed = plate::agree(found.setting(project), traced, threads, cancel)?;
        if let Some((forces, carried)) = agreed.forces {
            (found.forces, found.carried) = (Arc::new(forces), carried);
        }
        found.plates = Some(agreed.plates);
    }
    Ok(found)
}

/// The loads of all cases at the mounts of a design.
pub(crate) fn forces(
    project: &Project,
    design: &Design,
    factors: &Factors,
    traced: bool,
) -> Result<Arc<Forces>, CheckError> {
    // An allowable-strength format has its whole safety on the side of the strength.
    let factored = factors.format() != Format::AllowableStrength;
    Ok(Arc::new(crate::forces::derive(project, design, factored, traced)?))
}

/// A design under the loads at its mounts, by hand statics.
pub(crate) fn carry(
    design: Design,
    (pack, factors): (&'static Pack, Factors),
    forces: Arc<Forces>,
) -> Result<Found, CheckError> {
    let path = load_path::walk(&design);
    let carried = Carried::solve(&design, &path, &forces)?;
    Ok(Found { pack, factors, design, forces, path, carried, plates: None })
}

/// The rows of a scope.
pub(crate) fn run(
    project: &Project,
    found: &Found,
    scope: &Scope,
    traced: bool,
    cancel: &dyn Cancel,
) -> Result<Vec<Row>, CheckError> {
    run_wanted((project, found, scope), &|_| true, traced, cancel)
}

/// The rows of a scope whose checks are wanted; they are numbered among themselves.
pub(crate) fn run_wanted(
    (project, found, scope): (&Project, &Found, &Scope),
    wanted: &dyn Fn(&Draft<'_>) -> bool,
    traced: bool,
    cancel: &dyn Cancel,
) -> Result<Vec<Row>, CheckError> {
    let cases = found.forces.cases.len();
    let mut numbers = Numbers::of(&found.design);
    let mut rows = Vec::new();
    for draft in checks::drafts(found.setting(project), scope).iter().filter(|d| wanted(d)) {
        stop(cancel)?;
        let row = checks::run(draft, cases, traced, chosen(project, &draft.component));
        rows.extend(row.map(|row| numbers.numbered(row)));
    }
    Ok(rows)
}

/// Judges the rows of a scope by hand statics one after the other, as long as `more` wants them: the
/// number of a row, what kind it is and what it comes to.
pub(crate) fn judge_each(
    (project, found, scope): (&Project, &Found, &Scope),
    cancel: &dyn Cancel,
    mut more: impl FnMut(Number<'_>, RowKind, &checks::Quick) -> bool,
) -> Result<(), CheckError> {
    let cases = found.forces.cases.len();
    let mut numbers = Numbers::of(&found.design);
    for draft in checks::drafts(found.setting(project), scope) {
        stop(cancel)?;
        if let Some(quick) = checks::quick(&draft, cases)
            && !more(numbers.next(draft.mount), draft.kind, &quick)
        {
            break;
        }
    }
    Ok(())
}

/// Why a project takes hand statics on a joint although the plate level is worse.
fn chosen<'a>(project: &'a Project, component: &str) -> Option<&'a str> {
    let named = |joint: &str| {
        component.split(" + ").any(|name| name.split(' ').next() == Some(joint) || name == joint)
    };
    project.opinions.iter().find(|choice| named(&choice.joint)).map(|choice| choice.why.as_str())
}

/// Numbers the rows as they come: `FL-1`, `FL-2` ...; rows of the whole are `W-1` ...
struct Numbers<'a> {
    design: &'a Design,
    /// Rows so far, by mount; last those of the whole.
    counts: Vec<u32>,
}

/// The number of a row, not yet written: mount and place among its rows.
#[derive(Clone, Copy)]
pub(crate) struct Number<'a>(&'a str, u32);

impl std::fmt::Display for Number<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}-{}", self.0, self.1)
    }
}

impl<'a> Numbers<'a> {
    fn of(design: &'a Design) -> Self {
        Self { design, counts: vec![0; design.mounts.len() + 1] }
    }

    fn next(&mut self, mount: Option<usize>) -> Number<'a> {
        let at = mount.unwrap_or(self.design.mounts.len());
        self.counts[at] += 1;
        Number(self.design.mounts.get(at).map_or("W", |m| m.id.as_str()), self.counts[at])
    }

    fn numbered(&mut self, row: Row) -> Row {
        Row { id: self.next(row.mount).to_string(), ..row }
    }
}

/// The design in its place and the rules it is judged by, or the faults of both.
pub(crate) fn settled(project: &Project) -> Result<(Design, (&'static Pack, Factors)), Vec<Fault>> {
    let rules = rules(project);
    let strengths = rules.as_ref().map_or(FuEdition::ProductStandard, |(_, f)| f.strengths());
    match (design::resolve(project, strengths), rules) {
        (Ok(design), Ok(rules)) => Ok((design, rules)),
        (design, rules) => Err(design.err().into_iter().chain(rules.err()).flatten().collect()),
    }
}

/// The rule pack of a project, and its factors as the project uses them.
fn rules(project: &Project) -> Result<(&'static Pack, Factors), Vec<Fault>> {
    let RuleChoice { pack, rules } = &project.rules;
    let factors = pack.factors(rules).map_err(|faults| {
        let at = |fault: Fault| Fault { path: format!("rules.{}", fault.path), ..fault };
        faults.into_iter().map(at).collect::<Vec<_>>()
    })?;
    Ok((pack, factors))
}

/// Throat stresses for the drawing.
pub(crate) fn throat_stress(
    project: &Project,
    found: &Found,
) -> std::collections::BTreeMap<(usize, usize), [f64; 2]> {
    checks::throat_stress(&found.setting(project))
}

pub(crate) fn stop(cancel: &dyn Cancel) -> Result<(), CheckError> {
    if cancel.cancelled() { Err(CheckError::Cancelled) } else { Ok(()) }
}
