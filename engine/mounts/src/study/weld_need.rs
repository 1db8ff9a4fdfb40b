//! How much of a weld a force needs: on each side of it the bead or the sheet beside it is the weaker.

use fishplate_quantity::Trace;
use fishplate_quantity::algebra::{larger, smaller};
use fishplate_strength::clause::input::{SheetBeside, WeldInput};
use fishplate_strength::clause::{Aspect, Origins};

use crate::answer::Answer;
use crate::caller::Untold;
use crate::checks;
use crate::describe::Project;
use crate::design::{BeadAt, BodyId, WeldAt};
use crate::pipeline::{self, Depth, Found, Options};
use crate::{Caller, CheckError, telling, unknown};

/// What a weld needs.
#[derive(Debug, Clone, PartialEq)]
pub struct WeldNeed {
    /// The weld: `weld.front-foot left`.
    pub weld: String,
    /// The force, N, with its load factor.
    pub force: f64,
    /// The case it comes from; empty where it was given.
    pub case: String,
    /// Length that is drawn, m.
    pub drawn: f64,
    /// Its two sides.
    pub sides: Vec<WeldSide>,
    /// What was taken for granted.
    pub assumptions: Vec<String>,
    /// Cautions that belong to every answer.
    pub cautions: Vec<String>,
}

/// One side of a weld.
#[derive(Debug, Clone, PartialEq)]
pub struct WeldSide {
    /// The part.
    pub part: String,
    /// Its thickness beside the bead, m.
    pub thickness: f64,
    /// The leg that it can take: as drawn, but no more than its thickness, m.
    pub leg: f64,
    /// What each rule asks for; the longest counts.
    pub rules: Vec<WeldRule>,
}

/// What a rule asks for.
#[derive(Debug, Clone, PartialEq)]
pub struct WeldRule {
    /// The rule.
    pub what: &'static str,
    /// Whether it is about the sheet and not about the throat.
    pub sheet: bool,
    /// What a length of weld carries, N/m.
    pub carries: f64,
    /// Length that carries the force, m.
    pub length: f64,
}

/// What the fillet weld `name` needs to carry `force` (N, with its load factor), or the largest force
/// that crosses it in any case.
///
/// # Errors
/// As a check; [`CheckError::NoSuchRow`] for a weld that is not there, or that is no fillet.
pub fn need(
    project: &Project,
    name: &str,
    force: Option<f64>,
    caller: &dyn Caller,
) -> Result<WeldNeed, CheckError> {
    let project = &*unknown::named(project);
    let options =
        Options { derivations: false, scene: false, try_guesses: false, depth: Depth::Frame };
    let answer = pipeline::check(project, options, &Untold(caller))?;
    let found = pipeline::find(project, false, Depth::Frame, caller)?;
    let fillets = || {
        found.design.welds.iter().filter_map(|w| match w.bead {
            BeadAt::Fillet { leg, .. } => Some((w, leg)),
            _ => None,
        })
    };
    let called = |w: &WeldAt| w.name == name || w.name.split(' ').next() == Some(name);
    let (weld, leg) = fillets().find(|(w, _)| called(w)).ok_or_else(|| CheckError::NoSuchRow {
        asked: format!("fillet weld {name}"),
        known: fillets().map(|(w, _)| w.name.clone()).collect::<Vec<_>>().join(", "),
    })?;
    let (force, case) = match force {
        Some(force) => (force, String::new()),
        None => crossing(&answer, &weld.name),
    };
    let sides = [weld.of, weld.to].map(|body| side(project, &found, weld, (body, leg), force));
    Ok(WeldNeed {
        weld: weld.name.clone(),
        force,
        case,
        drawn: weld.length(),
        sides: sides.into_iter().collect(),
        assumptions: [
            "the force alone is carried, evenly along the weld: what its moments add is in the rows of \
             the check",
            "the force leaves the bead to one side of it; the leg is no more than the sheet is thick",
        ]
        .map(str::to_owned)
        .to_vec(),
        cautions: telling::cautions(),
    })
}

/// The largest force across a weld with its load factor, and its case.
fn crossing(answer: &Answer, weld: &str) -> (f64, String) {
    let own = answer.interfaces.iter().filter(|f| f.joints.iter().any(|joint| joint == weld));
    own.flat_map(|f| f.wrenches.iter().zip(&answer.cases))
        .map(|((force, _), case)| (force.norm() * case.factor, case.name.clone()))
        .reduce(|a, b| if b.0 > a.0 { b } else { a })
        .unwrap_or_default()
}

fn side(
    project: &Project,
    found: &Found,
    weld: &WeldAt,
    (id, leg): (BodyId, f64),
    force: f64,
) -> WeldSide {
    let body = found.design.body(id);
    let ends = weld.runs.iter().flat_map(|r| [r.start.x, r.end.x]);
    let reach =
        ends.fold((f64::INFINITY, f64::NEG_INFINITY), |r, x| (smaller(r.0, x), larger(r.1, x)));
    let (thickness, _) = checks::thickness(body, 0, reach);
    let leg = smaller(leg, thickness);
    let (of, to) = (&found.design.body(weld.of).steel, &found.design.body(weld.to).steel);
    let part = body.name.clone();
    let (Some(beta_w_1), Some(beta_w_2)) = (of.beta_w, to.beta_w) else {
        return WeldSide { part, thickness, leg, rules: Vec::new() };
    };
    let clauses = found.pack.welds;
    // The plain method governs where a pack has both: it does not care how the force lies.
    let plain = clauses.iter().any(|c| c.aspect() == Aspect::AnyDirection);
    let asked = clauses.iter().filter(|c| !(plain && c.aspect() == Aspect::ByDirection));
    // A force of 1 N on every metre: its use is the length, m, that 1 N needs.
    let input = WeldInput {
        q_1: 0.0,
        q_2: 0.0,
        q_l: 1.0,
        z: leg,
        gap: 0.0,
        f_u_1: of.fu,
        f_u_2: to.fu,
        beta_w_1,
        beta_w_2,
        t_sheet: thickness,
        f_y_sheet: body.steel.fy,
        beside: SheetBeside::OneSide,
        f_exx: project.weld_metal.map(|w| w.value.si()),
        origins: Origins::default(),
    };
    let rules = asked
        .filter_map(|clause| {
            let checked = clause.evaluate(&input, &found.factors, &mut Trace::off()).ok()?;
            let per_newton = checked.utilisation.value();
            Some(WeldRule {
                what: clause.title(),
                sheet: clause.aspect() == Aspect::SheetBeside,
                carries: 1.0 / per_newton,
                length: per_newton * force,
            })
        })
        .collect();
    WeldSide { part, thickness, leg, rules }
}
