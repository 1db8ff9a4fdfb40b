//! Linear statics, with one-sided contacts where the model has them.

use crate::answer::{
    Asked, BeamAnswer, CaseAnswer, LinkAnswer, Reaction, SpringAnswer, StaticAnswer, Station,
};
use crate::assembly::Structure;
use crate::beam::element::{Ends, MemberLoad, Natural};
use crate::beam::loads::{Within, within_members};
use crate::beam::recovery::Solved;
use crate::contact::{Loading, Settled, Systems, settle};
use crate::error::{Cancel, SolveError, poll};
use crate::frame::FrameModel;
use crate::linear::Double;
use crate::model::{BeamId, CaseId, Dof, LinkId, LoadCase, NodeId, SpringId, SupportId};
use crate::part::spring_law;
use crate::reduction::Held;
use crate::vector::{Vec3, add, cross, head, scale, six, sub, tail};
use std::collections::BTreeMap;

/// Solves all load cases.
///
/// Without one-sided contacts all cases share one factorisation; with them each case searches its
/// own state.
///
/// # Errors
/// A mechanism, a stiffness that f64 can't carry, contacts that don't settle, stations outside
/// 0..1, or the caller's wish to stop.
///
/// # Example
/// ```
/// use fishplate_solver::{Asked, RunToEnd, statics};
/// use fishplate_solver::model::*;
///
/// let steel = Material {
///     youngs_modulus: 210e9, shear_modulus: 81e9, density: 7850.0, thermal_expansion: 12e-6,
/// };
/// let bar = BeamSection {
///     area: 1e-4, i_y: 1e-9, i_z: 1e-9, i_yz: 0.0, torsion_constant: 1.4e-9,
///     shear_area_y: None, shear_area_z: None, shear_centre_y: 0.0, shear_centre_z: 0.0,
///     stress_points: vec![], torsion_modulus: None,
/// };
/// let draft = FrameDraft {
///     nodes: vec![Node { position: [0.0; 3] }, Node { position: [2.0, 0.0, 0.0] }],
///     sections: vec![bar],
///     materials: vec![steel],
///     beams: vec![Beam::between(
///         NodeId(0), NodeId(1), SectionId(0), MaterialId(0), Orientation::Roll(0.0),
///     )],
///     supports: vec![Support {
///         node: NodeId(0), axes: GLOBAL_AXES, dofs: [Restraint::Fixed; 6],
///     }],
///     load_cases: vec![LoadCase {
///         nodal: vec![NodalLoad {
///             node: NodeId(1), force: [2100.0, 0.0, 0.0], moment: [0.0; 3],
///         }],
///         ..LoadCase::default()
///     }],
///     ..FrameDraft::default()
/// };
/// let model = draft.validate().expect("a sound model");
/// let answer = statics(&model, &Asked::ends(), &RunToEnd).expect("it stands");
/// // F L / (E A) = 2100 * 2 / (210e9 * 1e-4) = 0.2 mm
/// assert!((answer.cases[0].displacements[1][0] - 2e-4).abs() < 1e-15);
/// ```
pub fn statics(
    model: &FrameModel,
    asked: &Asked,
    cancel: &dyn Cancel,
) -> Result<StaticAnswer, SolveError> {
    check_stations(asked.every_beam.iter().chain(asked.stations.values().flatten()))?;
    let structure = Structure::new(model)?;
    let mut systems = Systems::default();
    let mut cases = Vec::with_capacity(model.draft.load_cases.len());
    for index in 0..model.draft.load_cases.len() {
        poll(cancel)?;
        let case = solve_case(&structure, &mut systems, CaseId(index), cancel)?;
        cases.push(recover(&structure, asked, &case));
    }
    Ok(StaticAnswer { cases })
}

/// Refuses stations beyond the ends of a member.
pub(crate) fn check_stations<'s>(
    stations: impl Iterator<Item = &'s Station>,
) -> Result<(), SolveError> {
    for station in stations {
        if !(0.0..=1.0).contains(&station.fraction) {
            return Err(SolveError::Request {
                field: "stations.fraction",
                given: station.fraction.to_string(),
                allowed: "0 (start of the member) to 1 (its end)",
            });
        }
    }
    Ok(())
}

/// A load case as forces at the nodes and what is left within the members.
#[derive(Debug)]
pub(crate) struct Applied<'a> {
    pub(crate) case: &'a LoadCase,
    pub(crate) within: Vec<Within>,
    pub(crate) member_loads: Vec<MemberLoad>,
    pub(crate) loading: Loading,
}

/// A load case with its solution.
#[derive(Debug)]
pub(crate) struct Case<'a> {
    pub(crate) applied: Applied<'a>,
    pub(crate) settled: Settled,
}

/// Solves one load case.
pub(crate) fn solve_case<'a>(
    structure: &Structure<'a>,
    systems: &mut Systems,
    case: CaseId,
    cancel: &dyn Cancel,
) -> Result<Case<'a>, SolveError> {
    let applied = apply(structure, &structure.model.draft.load_cases[case.0]);
    let settled = settle(structure, systems, case, &applied.loading, cancel)?;
    Ok(Case { applied, settled })
}

/// A load case as forces at the nodes and within members.
pub(crate) fn apply<'a>(structure: &Structure<'a>, case: &'a LoadCase) -> Applied<'a> {
    let model = structure.model;
    let within = within_members(model, &structure.elements, case);
    let member_loads: Vec<MemberLoad> = structure
        .elements
        .iter()
        .zip(&within)
        .map(|(element, within)| within.member_load(element))
        .collect();
    let mut forces = vec![0.0; 6 * model.draft.nodes.len()];
    for (node, force) in node_forces(model, case) {
        for (i, f) in force.into_iter().enumerate() {
            forces[6 * node.0 + i] += f;
        }
    }
    for (index, element) in structure.elements.iter().enumerate() {
        if within[index].is_empty() {
            continue;
        }
        let load = &member_loads[index];
        let held = element.held_forces(load);
        let at_ends = element.modes.transpose() * held + load.end_forces;
        let at_nodes = element.to_ends.transpose() * at_ends;
        let beam = &model.draft.beams[index];
        for (block, node) in [(0, beam.start), (6, beam.end)] {
            for i in 0..6 {
                forces[6 * node.0 + i] -= at_nodes[block + i];
            }
        }
    }
    let mut prescribed = BTreeMap::new();
    for movement in &case.prescribed {
        let support = model
            .draft
            .supports
            .iter()
            .position(|s| s.node == movement.node)
            .expect("validation found a support for every prescribed movement");
        prescribed.insert((SupportId(support), movement.dof), movement.value);
    }
    Applied { case, within, member_loads, loading: Loading { forces, prescribed } }
}

/// Loads that act at nodes: given forces and the weight of point masses.
pub(crate) fn node_forces<'a>(
    model: &'a FrameModel,
    case: &'a LoadCase,
) -> impl Iterator<Item = (NodeId, [f64; 6])> + 'a {
    let given = case.nodal.iter().map(|load| (load.node, six(load.force, load.moment)));
    let weights = model
        .draft
        .masses
        .iter()
        .map(|mass| (mass.node, six(scale(mass.mass, case.acceleration), [0.0; 3])));
    given.chain(weights)
}

/// Section forces, reactions and the judgement of a solved case.
fn recover(structure: &Structure<'_>, asked: &Asked, case: &Case<'_>) -> CaseAnswer {
    let model = structure.model;
    let solution = &case.settled.solution;
    let displacements: Vec<[f64; 6]> = solution
        .movements
        .chunks_exact(6)
        .map(|node| [0, 1, 2, 3, 4, 5].map(|i| node[i].to_f64()))
        .collect();
    let members = case.members(structure);
    let beams = members
        .iter()
        .enumerate()
        .map(|(index, member)| {
            let id = BeamId(index);
            let stations = asked.stations.get(&id).unwrap_or(&asked.every_beam);
            member.answer(id, stations, &case.applied)
        })
        .collect();
    let springs: Vec<SpringAnswer> =
        (0..model.draft.springs.len()).map(|i| case.spring(structure, SpringId(i))).collect();
    let reactions = case.reactions(structure);
    let links = case.links(structure);
    let quality = case.quality(structure, &displacements, &reactions, &springs, &members);
    CaseAnswer {
        name: case.applied.case.name.clone(),
        displacements,
        reactions,
        beams,
        springs,
        links,
        contact: case.settled.report.clone(),
        quality,
    }
}

/// A member with its natural deformation and forces.
pub(crate) struct Member<'a> {
    pub(crate) solved: Solved<'a>,
    pub(crate) deformation: Natural,
    pub(crate) released: Ends,
}

impl Member<'_> {
    pub(crate) fn answer(
        &self,
        id: BeamId,
        stations: &[Station],
        applied: &Applied<'_>,
    ) -> BeamAnswer {
        BeamAnswer {
            beam: id,
            end_forces: self.solved.end_forces(&applied.member_loads[id.0].end_forces),
            release_movement: [0, 6].map(|end| [0, 1, 2, 3, 4, 5].map(|i| self.released[end + i])),
            stations: stations.iter().map(|&s| self.solved.station(s)).collect(),
        }
    }

    /// Axial force at x, tension positive.
    pub(crate) fn axial(&self, x: f64) -> f64 {
        let length = self.solved.element.line.length;
        let simple = self.solved.within.simple_forces(length, x, crate::answer::Side::After);
        self.solved.forces[0] + simple[0]
    }
}

/// All members under these movements of the nodes (global axes).
pub(crate) fn members_of<'b>(
    structure: &'b Structure<'_>,
    applied: &'b Applied<'_>,
    movements: &[Double],
) -> Vec<Member<'b>> {
    let model = structure.model;
    structure
        .elements
        .iter()
        .enumerate()
        .map(|(index, element)| {
            let beam = &model.draft.beams[index];
            let movement = |column: usize| {
                let node = if column < 6 { beam.start } else { beam.end };
                movements[6 * node.0 + column % 6]
            };
            // Deformations cancel large movements against each other: in doubled precision.
            let modes = element.modes * element.to_ends;
            let deformation = Natural::from_fn(|row, _| {
                let mut sum = Double::ZERO;
                for column in 0..12 {
                    sum = sum.plus_product(movement(column), modes[(row, column)]);
                }
                sum.to_f64()
            });
            let load = &applied.member_loads[index];
            let released = element.release_movement(&deformation, load);
            let of_nodes = Ends::from_fn(|column, _| movement(column).to_f64());
            Member {
                solved: Solved {
                    element,
                    section: &model.draft.sections[beam.section.0],
                    within: &applied.within[index],
                    forces: element.natural_forces(&deformation, load),
                    ends: element.to_ends * of_nodes - released,
                },
                deformation,
                released,
            }
        })
        .collect()
}

/// What each support exerts on its node, from the reactions of the held movements.
pub(crate) fn reactions_of(model: &FrameModel, held: &[Held], values: &[f64]) -> Vec<Reaction> {
    let supports = &model.draft.supports;
    let mut locals = vec![[0.0; 6]; supports.len()];
    for (h, &r) in held.iter().zip(values) {
        locals[h.support.0][h.dof.index()] = r;
    }
    supports
        .iter()
        .zip(locals)
        .enumerate()
        .map(|(index, (support, local))| {
            let turn = |v: Vec3| {
                let [x, y, z] = support.axes;
                [0, 1, 2].map(|i| v[0] * x[i] + v[1] * y[i] + v[2] * z[i])
            };
            Reaction {
                support: SupportId(index),
                node: support.node,
                force: six(turn(head(&local)), turn(tail(&local))),
                local,
            }
        })
        .collect()
}

/// Forces in the links, the last of a chain first: what a slave needs beyond its own support, its
/// link gives it and takes from the master. `needed` is what constraints supply to each node.
pub(crate) fn link_forces(
    model: &FrameModel,
    mut needed: Vec<[f64; 6]>,
    reactions: &[Reaction],
) -> Vec<LinkAnswer> {
    for reaction in reactions {
        for (n, r) in needed[reaction.node.0].iter_mut().zip(reaction.force) {
            *n -= r;
        }
    }
    let mut answers = vec![[0.0; 6]; model.link_order.len()];
    for id in model.link_order.iter().rev() {
        let link = &model.draft.rigid_links[id.0];
        let mut force = needed[link.slave.0];
        for (f, linked) in force.iter_mut().zip(link.dofs) {
            if !linked {
                *f = 0.0;
            }
        }
        let arm = sub(model.position(link.slave), model.position(link.master));
        let moment = add(tail(&force), cross(arm, head(&force)));
        let passed = six(head(&force), moment);
        for (n, p) in needed[link.master.0].iter_mut().zip(passed) {
            *n += p;
        }
        answers[id.0] = force;
    }
    answers
        .into_iter()
        .enumerate()
        .map(|(i, force_on_slave)| LinkAnswer { link: LinkId(i), force_on_slave })
        .collect()
}

impl Case<'_> {
    /// All members of the solved case.
    pub(crate) fn members<'b>(&'b self, structure: &'b Structure<'_>) -> Vec<Member<'b>> {
        members_of(structure, &self.applied, &self.settled.solution.movements)
    }

    pub(crate) fn spring(&self, structure: &Structure<'_>, id: SpringId) -> SpringAnswer {
        let spring = &structure.model.draft.springs[id.0];
        let part = &self.settled.system.parts[structure.elements.len() + id.0];
        let moved = part.deformation(&self.settled.solution.movements);
        let mut deformation = [0.0; 6];
        let mut force = [0.0; 6];
        for dof in Dof::ALL {
            let i = dof.index();
            let phase = structure.spring_phase(&self.settled.system.phases, id, dof);
            let (stiffness, at_rest) = spring_law(spring, i, phase);
            deformation[i] = moved[i].plus_f64(-spring.preset[i]).to_f64();
            force[i] = moved[i].times(stiffness).plus_f64(at_rest).to_f64();
        }
        SpringAnswer { spring: id, deformation, force }
    }

    fn reactions(&self, structure: &Structure<'_>) -> Vec<Reaction> {
        let held = &self.settled.system.skeleton.reduction.held;
        reactions_of(structure.model, held, &self.settled.solution.reactions)
    }

    fn links(&self, structure: &Structure<'_>) -> Vec<LinkAnswer> {
        let needed = self
            .settled
            .solution
            .constraint_forces
            .chunks_exact(6)
            .map(|node| [0, 1, 2, 3, 4, 5].map(|i| node[i].to_f64()))
            .collect();
        link_forces(structure.model, needed, &self.reactions(structure))
    }
}
