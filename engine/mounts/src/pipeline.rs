//! From a described design to its verdict: each arrow of the data flow is one pure function.

use fishplate_quantity::Provenance;
use fishplate_strength::catalog::FuEdition;
use fishplate_strength::clause::{Factors, Origins};
use fishplate_strength::packs::{self, Pack};

use crate::answer::{Answer, CaseAnswer, Explanation};
use crate::checks::{self, Setting};
use crate::describe::{FactorSet, Project, RulePack};
use crate::design::{self, Design};
use crate::forces::Forces;
use crate::load_path::{self, Carried, LoadPath};
use crate::{Cancel, CheckError, guesses, telling, verdict};

/// What is asked beside the verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Options {
    /// Every row and case carries its derivation.
    pub derivations: bool,
    /// The answer carries the geometry to draw.
    pub scene: bool,
    /// Guesses with a spread are tried at both ends.
    pub try_guesses: bool,
}

/// Checks a project.
///
/// # Errors
/// [`CheckError`]: all faults of the input, a model that cannot be solved, or a caller who does
/// not wait any more. A check that exceeds is an answer.
pub fn check(
    project: &Project,
    options: Options,
    cancel: &dyn Cancel,
) -> Result<Answer, CheckError> {
    let found = find(project, options.derivations, cancel)?;
    let rows = number(&found.design, run(project, &found, options.derivations, cancel)?);
    let mut answer = verdict::judge(project, &found, rows, options);
    if options.try_guesses {
        guesses::try_all(project, &mut answer, cancel)?;
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
    cancel: &dyn Cancel,
) -> Result<Explanation, CheckError> {
    let found = find(project, true, cancel)?;
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
    let (factors, pack) = rules(project);
    let setting = found.setting(project, &factors, pack);
    let drafts: Vec<_> = checks::drafts(setting)
        .into_iter()
        .filter_map(|draft| checks::explain(&draft, cases.len(), case))
        .collect();
    let rows = number(&found.design, drafts);
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
    pub(crate) design: Design,
    pub(crate) forces: Forces,
    pub(crate) path: LoadPath,
    pub(crate) carried: Carried,
}

impl Found {
    fn setting<'a>(
        &'a self,
        project: &'a Project,
        factors: &'a Factors,
        pack: &'static Pack,
    ) -> Setting<'a> {
        Setting {
            project,
            design: &self.design,
            path: &self.path,
            forces: &self.forces,
            carried: &self.carried,
            pack,
            factors,
        }
    }

    /// The cases as told to the reader.
    pub(crate) fn cases(&self, traced: bool) -> Vec<CaseAnswer> {
        (0..self.forces.cases.len()).map(|c| telling::case(self, c, traced)).collect()
    }
}

fn find(project: &Project, traced: bool, cancel: &dyn Cancel) -> Result<Found, CheckError> {
    let design = design::resolve(project).map_err(CheckError::Faults)?;
    stop(cancel)?;
    let forces = crate::forces::derive(project, &design, traced)?;
    stop(cancel)?;
    let path = load_path::walk(&design);
    let carried = Carried::solve(&design, &path, &forces)?;
    stop(cancel)?;
    Ok(Found { design, forces, path, carried })
}

fn run(
    project: &Project,
    found: &Found,
    traced: bool,
    cancel: &dyn Cancel,
) -> Result<Vec<crate::answer::Row>, CheckError> {
    let (factors, pack) = rules(project);
    let setting = found.setting(project, &factors, pack);
    let cases = found.forces.cases.len();
    let mut rows = Vec::new();
    for draft in checks::drafts(setting) {
        stop(cancel)?;
        rows.extend(checks::run(&draft, cases, traced));
    }
    Ok(rows)
}

/// Numbers the rows: `FL-1`, `FL-2` ...; rows of the whole are `W-1` ...
fn number(design: &Design, mut rows: Vec<crate::answer::Row>) -> Vec<crate::answer::Row> {
    let mut counts = vec![0_u32; design.mounts.len() + 1];
    for row in &mut rows {
        let at = row.mount.unwrap_or(design.mounts.len());
        counts[at] += 1;
        let head = design.mounts.get(at).map_or("W", |m| m.id.as_str());
        row.id = format!("{head}-{}", counts[at]);
    }
    rows
}

/// The rule pack and the factors a project uses.
pub(crate) fn rules(project: &Project) -> (Factors, &'static Pack) {
    let pack = match project.rules {
        RulePack::En1993 => &packs::en_1993::PACK,
    };
    let f = &project.factors;
    let origin = |own: bool, field: &str| match (own, f.set) {
        (false, Some(FactorSet::En1993)) => {
            Provenance::Factor("EN 1993, recommended value".to_owned())
        }
        _ => Provenance::Given(format!("factors.{field}")),
    };
    // EN 1993-1-1:2005, 6.1 and EN 1993-1-8:2005, 2.2: recommended values.
    let gamma = |own: Option<fishplate_quantity::written::Written<f64>>, recommended: f64| {
        own.map_or(recommended, |w| w.value)
    };
    let origins = Origins::all(Provenance::Factor("EN 1993-1-8:2005, 2.2, recommended".to_owned()))
        .with("gamma_m0", origin(f.gamma_m0.is_some(), "gamma_m0"))
        .with("gamma_m1", origin(f.gamma_m1.is_some(), "gamma_m1"))
        .with("gamma_m2", origin(f.gamma_m2.is_some(), "gamma_m2"))
        .with("gamma_m5", origin(f.gamma_m5.is_some(), "gamma_m5"));
    let factors = Factors {
        gamma_m0: gamma(f.gamma_m0, 1.0),
        gamma_m1: gamma(f.gamma_m1, 1.0),
        gamma_m2: gamma(f.gamma_m2, 1.25),
        gamma_m3: 1.25,
        gamma_m3_ser: 1.1,
        gamma_m5: gamma(f.gamma_m5, 1.0),
        gamma_m7: 1.1,
        edition: FuEdition::ProductStandard,
        origins,
    };
    (factors, pack)
}

/// Throat stresses for the drawing.
pub(crate) fn throat_stress(
    project: &Project,
    found: &Found,
) -> std::collections::BTreeMap<(usize, usize), [f64; 2]> {
    let (factors, pack) = rules(project);
    checks::throat_stress(&found.setting(project, &factors, pack))
}

fn stop(cancel: &dyn Cancel) -> Result<(), CheckError> {
    if cancel.cancelled() { Err(CheckError::Cancelled) } else { Ok(()) }
}
