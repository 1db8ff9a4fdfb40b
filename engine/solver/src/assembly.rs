//! From parts to the stiffness matrix of the free unknowns.

use crate::beam::element::BeamElement;
use crate::error::{ContactId, FreeMotion, SolveError};
use crate::frame::FrameModel;
use crate::linear::{Double, Pattern};
use crate::model::{BeamId, Dof, NodeId, Restraint, SpringAction, SpringId, SupportId};
use crate::part::{Part, Phase, full_stiffness, spring_law};
use crate::reduction::Reduction;
use nalgebra::{DMatrix, SMatrix};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What doesn't depend on the state of contacts.
#[derive(Debug)]
pub(crate) struct Structure<'a> {
    pub(crate) model: &'a FrameModel,
    pub(crate) elements: Vec<BeamElement>,
    /// The one-sided components, supports first.
    pub(crate) contacts: Vec<ContactId>,
    place_of_contact: BTreeMap<ContactId, usize>,
    beam_parts: Vec<Part>,
}

/// The phases of all contacts, in their order.
pub(crate) type Phases = Vec<Phase>;

/// A mechanism is described by at most so many free motions.
pub(crate) const MOST_MODES: usize = 6;

impl<'a> Structure<'a> {
    /// Builds the elements.
    ///
    /// # Errors
    /// When the releases of a member let it move by itself.
    pub(crate) fn new(model: &'a FrameModel) -> Result<Self, SolveError> {
        let mut elements = Vec::with_capacity(model.draft.beams.len());
        let mut loose: Vec<FreeMotion> = Vec::new();
        for index in 0..model.draft.beams.len() {
            match BeamElement::new(model, BeamId(index)) {
                Ok(element) => elements.push(element),
                Err(motion) => loose.push(motion),
            }
        }
        if !loose.is_empty() {
            loose.truncate(MOST_MODES);
            return Err(SolveError::Mechanism { modes: loose, case: None });
        }
        let beam_parts = elements
            .iter()
            .enumerate()
            .map(|(index, element)| Part::of_beam(model, index, element))
            .collect();
        let contacts = contacts(model);
        let place_of_contact = contacts.iter().enumerate().map(|(i, &c)| (c, i)).collect();
        Ok(Structure { model, elements, contacts, place_of_contact, beam_parts })
    }

    /// The phases with which a search begins: supports and one-sided springs without a gap press,
    /// stops and springs with a gap don't.
    pub(crate) fn first_phases(&self) -> Phases {
        self.contacts
            .iter()
            .map(|contact| match *contact {
                ContactId::Support(..) => Phase::Closed,
                ContactId::Spring(id, dof) => {
                    match self.model.draft.springs[id.0].behaviour[dof.index()] {
                        SpringAction::CompressionOnly { gap }
                        | SpringAction::TensionOnly { gap }
                            if gap <= 0.0 =>
                        {
                            Phase::Closed
                        }
                        _ => Phase::Open,
                    }
                }
            })
            .collect()
    }

    fn support_presses(&self, phases: &[Phase], support: SupportId, dof: Dof) -> bool {
        self.place_of_contact
            .get(&ContactId::Support(support, dof))
            .is_some_and(|&i| phases[i] != Phase::Open)
    }

    /// Phase of a spring component.
    pub(crate) fn spring_phase(&self, phases: &[Phase], spring: SpringId, dof: Dof) -> Phase {
        self.place_of_contact
            .get(&ContactId::Spring(spring, dof))
            .map_or(Phase::Open, |&i| phases[i])
    }

    /// All parts in a state of the contacts: members, then springs.
    pub(crate) fn parts(&self, phases: &[Phase]) -> Vec<Part> {
        let springs = self.model.draft.springs.iter().enumerate().map(|(index, spring)| {
            let stiffness = Dof::ALL.map(|dof| {
                let phase = self.spring_phase(phases, SpringId(index), dof);
                spring_law(spring, dof.index(), phase).0
            });
            Part::of_spring(self.model, spring, stiffness)
        });
        self.beam_parts.iter().cloned().chain(springs).collect()
    }

    /// Nodal forces that the springs exert on the structure at zero movement, negated: what the
    /// presets and gaps load it with.
    pub(crate) fn spring_loads(&self, phases: &[Phase], parts: &[Part], loads: &mut [f64]) {
        for (index, spring) in self.model.draft.springs.iter().enumerate() {
            let part = &parts[self.elements.len() + index];
            for dof in Dof::ALL {
                let phase = self.spring_phase(phases, SpringId(index), dof);
                let (_, force) = spring_law(spring, dof.index(), phase);
                if force.abs() > 0.0 {
                    for column in 0..part.modes.ncols() {
                        loads[part.movement(column)] -= part.modes[(dof.index(), column)] * force;
                    }
                }
            }
        }
    }
}

fn contacts(model: &FrameModel) -> Vec<ContactId> {
    let mut all = Vec::new();
    for (index, support) in model.draft.supports.iter().enumerate() {
        for dof in Dof::ALL {
            match support.dofs[dof.index()] {
                Restraint::StopsNegative | Restraint::StopsPositive => {
                    all.push(ContactId::Support(SupportId(index), dof));
                }
                Restraint::Free | Restraint::Fixed => {}
            }
        }
    }
    for (index, spring) in model.draft.springs.iter().enumerate() {
        for dof in Dof::ALL {
            if spring.behaviour[dof.index()] != SpringAction::Linear {
                all.push(ContactId::Spring(SpringId(index), dof));
            }
        }
    }
    all
}

/// Unknowns, constraints and the pattern of the matrix for one set of pressing supports.
#[derive(Debug)]
pub(crate) struct Skeleton {
    pub(crate) reduction: Reduction,
    /// Unknowns of each part, ascending.
    groups: Vec<Vec<usize>>,
    pub(crate) pattern: Arc<Pattern>,
}

impl Skeleton {
    pub(crate) fn new(structure: &Structure<'_>, phases: &[Phase]) -> Result<Self, SolveError> {
        let reduction = Reduction::new(structure.model, &|_| None, &|support, dof| {
            structure.support_presses(phases, support, dof)
        })?;
        let groups = groups(structure.model, &reduction);
        let pattern = Arc::new(Pattern::from_groups(reduction.unknowns, &groups));
        Ok(Skeleton { reduction, groups, pattern })
    }

    /// The stiffness of the parts in the unknowns, lower triangle.
    pub(crate) fn stiffness(&self, parts: &[Part]) -> Vec<f64> {
        let mut values = vec![0.0; self.pattern.entries()];
        for (index, part) in parts.iter().enumerate() {
            let reduced = self.reduced_modes(index, part);
            let block = reduced.transpose() * &part.stiffness * &reduced;
            self.scatter(index, |i, j| block[(i, j)], &mut values);
        }
        values
    }

    /// Diagonal of the stiffness in the unknowns.
    pub(crate) fn diagonal(&self, parts: &[Part]) -> Vec<f64> {
        let mut diagonal = vec![0.0; self.reduction.unknowns];
        for (index, part) in parts.iter().enumerate() {
            let reduced = self.reduced_modes(index, part);
            let block = reduced.transpose() * &part.stiffness * &reduced;
            for (i, &unknown) in self.groups[index].iter().enumerate() {
                diagonal[unknown] += block[(i, i)];
            }
        }
        diagonal
    }

    /// Adds a matrix over the movements of both nodes of a member.
    pub(crate) fn add_beam(
        &self,
        structure: &Structure<'_>,
        beam: usize,
        matrix: &SMatrix<f64, 12, 12>,
        values: &mut [f64],
    ) {
        let part = &structure.beam_parts[beam];
        let map = self.map_of(beam, (0..12).map(|c| part.movement(c)));
        let block = map.transpose() * matrix * &map;
        self.scatter(beam, |i, j| block[(i, j)], values);
    }

    /// Adds a matrix over the movements of a node that bears the point mass of this number.
    pub(crate) fn add_mass(
        &self,
        structure: &Structure<'_>,
        mass: usize,
        matrix: &SMatrix<f64, 6, 6>,
        values: &mut [f64],
    ) {
        let group = structure.beam_parts.len() + structure.model.draft.springs.len() + mass;
        let node = structure.model.draft.masses[mass].node.0;
        let map = self.map_of(group, (0..6).map(|i| 6 * node + i));
        let block = map.transpose() * matrix * &map;
        self.scatter(group, |i, j| block[(i, j)], values);
    }

    fn scatter(&self, group: usize, block: impl Fn(usize, usize) -> f64, values: &mut [f64]) {
        let unknowns = &self.groups[group];
        for (j, &column) in unknowns.iter().enumerate() {
            for (i, &row) in unknowns.iter().enumerate().skip(j) {
                values[self.pattern.slot(row, column)] += block(i, j);
            }
        }
    }

    fn reduced_modes(&self, group: usize, part: &Part) -> DMatrix<f64> {
        &part.modes * self.map_of(group, (0..part.modes.ncols()).map(|c| part.movement(c)))
    }

    /// Movements in terms of the unknowns of the group.
    fn map_of(&self, group: usize, movements: impl Iterator<Item = usize>) -> DMatrix<f64> {
        let unknowns = &self.groups[group];
        let rows: Vec<usize> = movements.collect();
        let mut map = DMatrix::zeros(rows.len(), unknowns.len());
        for (i, &movement) in rows.iter().enumerate() {
            for &(unknown, c) in &self.reduction.free[movement] {
                let column = unknowns
                    .binary_search(&unknown)
                    .expect("the group lists every unknown of its movements");
                map[(i, column)] = c;
            }
        }
        map
    }

    /// Forces at the unknowns that the prescribed movements and nodal loads leave to be carried,
    /// less what the movements `u` already carry: `R^T (f - K u)`.
    pub(crate) fn unbalanced(
        &self,
        parts: &[Part],
        movements: &[Double],
        loads: &[f64],
    ) -> (Vec<Double>, Vec<Double>) {
        let mut forces: Vec<Double> = loads.iter().map(|f| Double::from_f64(-f)).collect();
        for part in parts {
            let deformation = part.deformation(movements);
            part.add_forces(&deformation, &mut forces);
        }
        let rest = self.reduction.gather(&forces).into_iter().map(Double::negated).collect();
        (rest, forces)
    }
}

fn unknowns_of(reduction: &Reduction, movements: impl Iterator<Item = usize>) -> Vec<usize> {
    let mut unknowns: Vec<usize> =
        movements.flat_map(|m| reduction.free[m].iter().map(|&(i, _)| i)).collect();
    unknowns.sort_unstable();
    unknowns.dedup();
    unknowns
}

/// The unknowns that each member, spring and point mass couples, in that order.
fn groups(model: &FrameModel, reduction: &Reduction) -> Vec<Vec<usize>> {
    let of = |nodes: &[NodeId]| {
        unknowns_of(reduction, nodes.iter().flat_map(|n| (0..6).map(move |i| 6 * n.0 + i)))
    };
    let draft = &model.draft;
    let beams = draft.beams.iter().map(|beam| of(&[beam.start, beam.end]));
    let springs = draft.springs.iter().map(|spring| match spring.b {
        Some(b) => of(&[spring.a, b]),
        None => of(&[spring.a]),
    });
    let masses = draft.masses.iter().map(|mass| of(&[mass.node]));
    beams.chain(springs).chain(masses).collect()
}

/// Entries of the factor with every contact pressing; 0 when the constraints can't be eliminated,
/// which the solve will report.
pub(crate) fn predicted_factor_entries(model: &FrameModel) -> usize {
    let every = |_: SupportId, _: Dof| true;
    let Ok(reduction) = Reduction::new(model, &|_| None, &every) else { return 0 };
    Pattern::from_groups(reduction.unknowns, &groups(model, &reduction)).factor_entries()
}

/// The parts as if no end were released and every contact pressed: what each unknown could feel
/// at most. Stiffness is judged against it.
pub(crate) fn reference_parts(structure: &Structure<'_>) -> Vec<Part> {
    let model = structure.model;
    let beams = structure
        .elements
        .iter()
        .enumerate()
        .map(|(index, element)| Part::of_unreleased_beam(model, index, element));
    let springs = model.draft.springs.iter().map(|spring| {
        Part::of_spring(model, spring, Dof::ALL.map(|d| full_stiffness(spring, d.index())))
    });
    beams.chain(springs).collect()
}
