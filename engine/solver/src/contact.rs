//! The search for the one-sided contacts that press.
//!
//! Every state of the contacts is a linear problem. The quick search changes all contacts that
//! contradict their state at once; when it returns to a state it had, or meets one in which the
//! frame is loose, the search goes on with one contact at a time, the first that contradicts
//! (K. G. Murty, "Note on a Bard-type scheme for solving the complementarity problem", Opsearch 11,
//! 1974: ends for positive definite problems). Both are bounded.

use crate::answer::ContactReport;
use crate::assembly::{Phases, Skeleton, Structure};
use crate::error::{Cancel, ContactId, SolveError, poll};
use crate::model::{CaseId, Restraint, SpringAction};
use crate::part::Phase;
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
        let system = Rc::new(System::new(structure, skeleton, phases)?);
        if self.systems.len() < KEPT {
            self.systems.insert(phases.to_vec(), Rc::clone(&system));
        }
        Ok(system)
    }
}

/// A load case reduced to what the search needs.
pub(crate) trait Loading {
    /// Forces at all movements without those of presets and gaps.
    fn forces(&self) -> &[f64];
    /// Prescribed movement of a support component, 0 unless given.
    fn prescribed(&self, support: crate::model::SupportId, dof: crate::model::Dof) -> f64;
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
    loading: &dyn Loading,
    cancel: &dyn Cancel,
) -> Result<Settled, SolveError> {
    let mut search = Search { structure, systems, case, loading, cancel, steps: 0 };
    let (mut phases, mut state) = search.begin()?;
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
        match search.solve(&next) {
            Ok(solved) => (phases, state) = (next, solved),
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
    loading: &'a dyn Loading,
    cancel: &'a dyn Cancel,
    steps: usize,
}

type State = (Rc<System>, Solution);

impl Search<'_, '_> {
    fn solve(&mut self, phases: &[Phase]) -> Result<State, SolveError> {
        poll(self.cancel)?;
        self.steps += 1;
        let system = self.systems.get(self.structure, phases)?;
        let mut loads = self.loading.forces().to_vec();
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

    /// The first state in which the frame stands: as drawn, else with every contact pressing.
    fn begin(&mut self) -> Result<(Phases, State), SolveError> {
        let first = self.structure.first_phases();
        let refused = match self.solve(&first) {
            Ok(state) => return Ok((first, state)),
            Err(error) => error,
        };
        let all = vec![Phase::Closed; first.len()];
        let loose = matches!(refused, SolveError::Mechanism { .. });
        if loose && all != first {
            match self.solve(&all) {
                Ok(state) => return Ok((all, state)),
                Err(SolveError::Cancelled) => return Err(SolveError::Cancelled),
                Err(_) => {}
            }
        }
        Err(self.in_case(refused))
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
                match self.solve(&next) {
                    Ok(solved) => {
                        (phases, state) = (next, solved);
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
    loading: &dyn Loading,
    (system, solution): &State,
    phases: &[Phase],
) -> Vec<(usize, Phase)> {
    let movements: Vec<f64> = solution.movements.iter().map(|m| m.to_f64()).collect();
    let slack = TOUCHING * largest(&movements);
    let faint = TOUCHING * largest(&solution.reactions);
    let mut wrong = Vec::new();
    for (index, (&contact, &phase)) in structure.contacts.iter().zip(phases).enumerate() {
        let asked = match contact {
            ContactId::Support(id, dof) => {
                let support = &structure.model.draft.supports[id.0];
                // Movement and force in the direction in which the node may leave.
                let sign = match support.dofs[dof.index()] {
                    Restraint::StopsPositive => -1.0,
                    _ => 1.0,
                };
                let held = &system.skeleton.reduction.held;
                match held.iter().position(|h| h.support == id && h.dof == dof) {
                    Some(place) if sign * solution.reactions[place] < -faint => Phase::Open,
                    Some(_) => Phase::Closed,
                    None => {
                        let base = 6 * support.node.0 + if dof.index() < 3 { 0 } else { 3 };
                        let axis = support.axes[dof.index() % 3];
                        let moved: f64 = (0..3).map(|i| axis[i] * movements[base + i]).sum();
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
