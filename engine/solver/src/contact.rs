//! The search for the one-sided contacts that press.
//!
//! Every state of the contacts is a linear problem. The quick search changes all contacts that
//! contradict their state at once; when it returns to a state it had, or meets one in which the
//! frame is loose, the search goes on with one contact at a time, the first that contradicts
//! (K. G. Murty, "Note on a Bard-type scheme for solving the complementarity problem", Opsearch 11,
//! 1974: ends for positive definite problems). Both are bounded.

use crate::answer::ContactReport;
use crate::assembly::{Phases, Skeleton, Structure};
use crate::error::{Cancel, ContactId, FreeMotion, SolveError, poll};
use crate::model::{CaseId, Dof, Restraint, SpringAction, SupportId};
use crate::part::{Part, Phase};
use crate::system::{Solution, System};
use crate::vector::largest;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// Factored systems by state, shared between load cases.
#[derive(Debug, Default)]
pub(crate) struct Systems {
    skeletons: BTreeMap<Phases, Rc<Skeleton>>,
    systems: BTreeMap<Phases, Rc<System>>,
}

/// So many factored states are kept for the next load case.
const KEPT: usize = 32;

impl Systems {
    /// The system of a state, factored at most once while it is kept.
    pub(crate) fn get(
        &mut self,
        structure: &Structure<'_>,
        phases: &[Phase],
        cancel: &dyn Cancel,
    ) -> Result<Rc<System>, SolveError> {
        if let Some(system) = self.systems.get(phases) {
            return Ok(Rc::clone(system));
        }
        // Unknowns and pattern depend on the supports alone; they come first among the contacts.
        let supports: Phases = structure
            .contacts
            .iter()
            .zip(phases)
            .filter(|(contact, _)| matches!(contact, ContactId::Support(..)))
            .map(|(_, &phase)| phase)
            .collect();
        let skeleton = match self.skeletons.get(&supports) {
            Some(skeleton) => Rc::clone(skeleton),
            None => {
                let skeleton = Rc::new(Skeleton::new(structure, phases)?);
                self.skeletons.insert(supports, Rc::clone(&skeleton));
                skeleton
            }
        };
        let system = Rc::new(System::new(structure, skeleton, phases, cancel)?);
        if self.systems.len() < KEPT {
            self.systems.insert(phases.to_vec(), Rc::clone(&system));
        }
        Ok(system)
    }
}

/// A load case reduced to what the search needs.
#[derive(Debug)]
pub(crate) struct Loading {
    /// Forces at all movements without those of presets and gaps.
    pub(crate) forces: Vec<f64>,
    /// Prescribed movements of support components.
    pub(crate) prescribed: BTreeMap<(SupportId, Dof), f64>,
}

impl Loading {
    /// Prescribed movement of a support component, 0 unless given.
    pub(crate) fn prescribed(&self, support: SupportId, dof: Dof) -> f64 {
        self.prescribed.get(&(support, dof)).copied().unwrap_or(0.0)
    }
}

/// A settled load case.
#[derive(Debug)]
pub(crate) struct Settled {
    pub(crate) system: Rc<System>,
    pub(crate) solution: Solution,
    pub(crate) report: ContactReport,
}

/// Most steps of the quick search.
const QUICK_STEPS: usize = 30;

/// Finds the state in which no contact contradicts its phase.
pub(crate) fn settle(
    structure: &Structure<'_>,
    systems: &mut Systems,
    case: CaseId,
    loading: &Loading,
    cancel: &dyn Cancel,
) -> Result<Settled, SolveError> {
    let mut search = Search { structure, systems, case, loading, cancel, steps: 0 };
    let at_rest = vec![0.0; loading.forces.len()];
    let (mut phases, mut state) =
        search.stand(structure.first_phases(), &at_rest).map_err(|e| search.in_case(e))?;
    let mut seen: BTreeSet<Phases> = BTreeSet::new();
    for _ in 0..QUICK_STEPS {
        let wrong = contradictions(structure, loading, &state, &phases);
        if wrong.is_empty() {
            return Ok(search.done(state, &phases, false));
        }
        seen.insert(phases.clone());
        let mut next = phases.clone();
        for &(index, phase) in &wrong {
            next[index] = phase;
        }
        if seen.contains(&next) {
            break;
        }
        match search.stand(next, &plain(&state)) {
            Ok((next, _)) if seen.contains(&next) => break,
            Ok(solved) => (phases, state) = solved,
            Err(SolveError::Cancelled) => return Err(SolveError::Cancelled),
            Err(_) => break,
        }
    }
    search.one_at_a_time(phases, state)
}

struct Search<'a, 's> {
    structure: &'a Structure<'s>,
    systems: &'a mut Systems,
    case: CaseId,
    loading: &'a Loading,
    cancel: &'a dyn Cancel,
    steps: usize,
}

type State = (Rc<System>, Solution);

impl Search<'_, '_> {
    fn solve(&mut self, phases: &[Phase]) -> Result<State, SolveError> {
        poll(self.cancel)?;
        self.steps += 1;
        let system = self.systems.get(self.structure, phases, self.cancel)?;
        poll(self.cancel)?;
        let mut loads = self.loading.forces.to_vec();
        self.structure.spring_loads(phases, &system.parts, &mut loads);
        let prescribed: Vec<f64> = system
            .skeleton
            .reduction
            .held
            .iter()
            .map(|h| self.loading.prescribed(h.support, h.dof))
            .collect();
        let solution = system.solution(&loads, &prescribed)?;
        Ok((system, solution))
    }

    /// Solves a state. A body that is loose in it is followed in the direction in which the loads
    /// drive it, from the given movements, until the first contact is reached; that contact is
    /// closed and the state tried again.
    fn stand(&mut self, mut phases: Phases, from: &[f64]) -> Result<(Phases, State), SolveError> {
        for _ in 0..=phases.len() {
            let modes = match self.solve(&phases) {
                Ok(state) => return Ok((phases, state)),
                Err(SolveError::Mechanism { modes, .. }) => modes,
                Err(other) => return Err(other),
            };
            match self.first_reached(&modes, &phases, from) {
                Some((index, phase)) => phases[index] = phase,
                None => return Err(SolveError::Mechanism { modes, case: Some(self.case) }),
            }
        }
        Err(self.unsettled(&[]))
    }

    /// The open contact that a driven free motion reaches first.
    fn first_reached(
        &self,
        modes: &[FreeMotion],
        phases: &[Phase],
        from: &[f64],
    ) -> Option<(usize, Phase)> {
        let mut loads = self.loading.forces.to_vec();
        let parts = self.structure.parts(phases);
        self.structure.spring_loads(phases, &parts, &mut loads);
        let mut motion = vec![0.0; loads.len()];
        for mode in modes {
            let shape: Vec<f64> = mode.shape.iter().flatten().copied().collect();
            let drive: f64 = shape.iter().zip(&loads).map(|(s, f)| s * f).sum();
            for (m, s) in motion.iter_mut().zip(&shape) {
                *m += drive * s;
            }
        }
        let mut first: Option<(f64, (usize, Phase))> = None;
        for (index, &phase) in phases.iter().enumerate() {
            if phase != Phase::Open {
                continue;
            }
            for (closes, distance, rate) in self.approaches(index, &parts, from, &motion) {
                // An approach so slow is rounding.
                if rate <= 1e-12 * largest(&motion) {
                    continue;
                }
                let time = if distance > 0.0 { distance / rate } else { 0.0 };
                if first.is_none_or(|(best, _)| time < best) {
                    first = Some((time, (index, closes)));
                }
            }
        }
        first.map(|(_, contact)| contact)
    }

    /// The ways in which an open contact can close: phase, distance left, and how fast a motion
    /// uses it up.
    fn approaches(
        &self,
        index: usize,
        parts: &[Part],
        from: &[f64],
        motion: &[f64],
    ) -> Vec<(Phase, f64, f64)> {
        match self.structure.contacts[index] {
            ContactId::Support(id, dof) => {
                let sign = leaving_sign(self.structure, id, dof);
                let along = |v: &[f64]| support_movement(self.structure, id, dof, v);
                let away = sign * (along(from) - self.loading.prescribed(id, dof));
                vec![(Phase::Closed, away, -sign * along(motion))]
            }
            ContactId::Spring(id, dof) => {
                let spring = &self.structure.model.draft.springs[id.0];
                let part = &parts[self.structure.elements.len() + id.0];
                let along = |v: &[f64]| -> f64 {
                    (0..part.modes.ncols())
                        .map(|c| part.modes[(dof.index(), c)] * v[part.movement(c)])
                        .sum()
                };
                let (d, rate) = (along(from) - spring.preset[dof.index()], along(motion));
                match spring.behaviour[dof.index()] {
                    SpringAction::Linear => Vec::new(),
                    SpringAction::CompressionOnly { gap } => {
                        vec![(Phase::Closed, d + gap, -rate)]
                    }
                    SpringAction::TensionOnly { gap } => vec![(Phase::Closed, gap - d, rate)],
                    SpringAction::Stops { gap_negative, gap_positive, .. } => vec![
                        (Phase::Closed, gap_positive - d, rate),
                        (Phase::ClosedNegative, d + gap_negative, -rate),
                    ],
                }
            }
        }
    }

    fn one_at_a_time(
        &mut self,
        mut phases: Phases,
        mut state: State,
    ) -> Result<Settled, SolveError> {
        let most = 20 * (self.structure.contacts.len() + 5);
        let mut seen: BTreeSet<Phases> = BTreeSet::new();
        while self.steps < most {
            let wrong = contradictions(self.structure, self.loading, &state, &phases);
            if wrong.is_empty() {
                return Ok(self.done(state, &phases, true));
            }
            seen.insert(phases.clone());
            let mut refused = None;
            let mut moved = false;
            for &(index, phase) in &wrong {
                let mut next = phases.clone();
                next[index] = phase;
                if seen.contains(&next) {
                    continue;
                }
                match self.stand(next.clone(), &plain(&state)) {
                    Ok((next, _)) if seen.contains(&next) => {}
                    Ok(solved) => {
                        (phases, state) = solved;
                        moved = true;
                        break;
                    }
                    Err(SolveError::Cancelled) => return Err(SolveError::Cancelled),
                    Err(error) => {
                        seen.insert(next);
                        refused = refused.or(Some(error));
                    }
                }
            }
            if !moved {
                return Err(match refused {
                    Some(error) => self.in_case(error),
                    None => self.unsettled(&wrong),
                });
            }
        }
        let wrong = contradictions(self.structure, self.loading, &state, &phases);
        if wrong.is_empty() {
            return Ok(self.done(state, &phases, true));
        }
        Err(self.unsettled(&wrong))
    }

    fn unsettled(&self, wrong: &[(usize, Phase)]) -> SolveError {
        SolveError::ContactUnsettled {
            case: self.case,
            steps: self.steps,
            unsettled: wrong.iter().map(|&(i, _)| self.structure.contacts[i]).collect(),
        }
    }

    fn in_case(&self, error: SolveError) -> SolveError {
        match error {
            SolveError::Mechanism { modes, .. } if !self.structure.contacts.is_empty() => {
                SolveError::Mechanism { modes, case: Some(self.case) }
            }
            other => other,
        }
    }

    fn done(&self, (system, solution): State, phases: &[Phase], one_at_a_time: bool) -> Settled {
        let (mut closed, mut open) = (Vec::new(), Vec::new());
        for (&contact, &phase) in self.structure.contacts.iter().zip(phases) {
            if phase == Phase::Open { open.push(contact) } else { closed.push(contact) }
        }
        let report = ContactReport { steps: self.steps, closed, open, one_at_a_time };
        Settled { system, solution, report }
    }
}

/// Forces and gaps smaller than this against the largest don't open or close a contact.
const TOUCHING: f64 = 1e-11;

/// The contacts whose phase contradicts the solution, with the phase that they ask for.
fn contradictions(
    structure: &Structure<'_>,
    loading: &Loading,
    state: &State,
    phases: &[Phase],
) -> Vec<(usize, Phase)> {
    let movements = plain(state);
    let (system, solution) = state;
    let slack = TOUCHING * largest(&movements);
    let faint = TOUCHING * largest(&solution.reactions);
    let mut wrong = Vec::new();
    for (index, (&contact, &phase)) in structure.contacts.iter().zip(phases).enumerate() {
        let asked = match contact {
            ContactId::Support(id, dof) => {
                let sign = leaving_sign(structure, id, dof);
                let held = &system.skeleton.reduction.held;
                match held.iter().position(|h| h.support == id && h.dof == dof) {
                    Some(place) if sign * solution.reactions[place] < -faint => Phase::Open,
                    Some(_) => Phase::Closed,
                    None => {
                        let moved = support_movement(structure, id, dof, &movements);
                        let away = sign * (moved - loading.prescribed(id, dof));
                        if away < -slack { Phase::Closed } else { Phase::Open }
                    }
                }
            }
            ContactId::Spring(id, dof) => {
                let spring = &structure.model.draft.springs[id.0];
                let part = &system.parts[structure.elements.len() + id.0];
                let d = part.deformation(&solution.movements)[dof.index()]
                    .plus_f64(-spring.preset[dof.index()])
                    .to_f64();
                spring_phase(spring.behaviour[dof.index()], d, phase, slack)
            }
        };
        if asked != phase {
            wrong.push((index, asked));
        }
    }
    wrong
}

/// The phase that a deformation asks for; within the slack a contact stays as it is.
fn spring_phase(action: SpringAction, d: f64, phase: Phase, slack: f64) -> Phase {
    // How far each contact is reached; positive = pressing.
    let reached = |depth: f64, closed: Phase| {
        let border = if phase == closed { -slack } else { slack };
        depth > border
    };
    match action {
        SpringAction::Linear => Phase::Open,
        SpringAction::CompressionOnly { gap } if reached(-d - gap, Phase::Closed) => Phase::Closed,
        SpringAction::TensionOnly { gap } if reached(d - gap, Phase::Closed) => Phase::Closed,
        SpringAction::Stops { gap_positive, .. } if reached(d - gap_positive, Phase::Closed) => {
            Phase::Closed
        }
        SpringAction::Stops { gap_negative, .. }
            if reached(-d - gap_negative, Phase::ClosedNegative) =>
        {
            Phase::ClosedNegative
        }
        _ => Phase::Open,
    }
}

/// The movements of a state in f64.
fn plain((_, solution): &State) -> Vec<f64> {
    solution.movements.iter().map(|m| m.to_f64()).collect()
}

/// Direction along the support's axis in which its node may leave.
fn leaving_sign(structure: &Structure<'_>, id: SupportId, dof: Dof) -> f64 {
    match structure.model.draft.supports[id.0].dofs[dof.index()] {
        Restraint::StopsPositive => -1.0,
        _ => 1.0,
    }
}

/// Movement of a support's node along or about its axis.
fn support_movement(structure: &Structure<'_>, id: SupportId, dof: Dof, movements: &[f64]) -> f64 {
    let support = &structure.model.draft.supports[id.0];
    let base = 6 * support.node.0 + if dof.index() < 3 { 0 } else { 3 };
    let axis = support.axes[dof.index() % 3];
    (0..3).map(|i| axis[i] * movements[base + i]).sum()
}
