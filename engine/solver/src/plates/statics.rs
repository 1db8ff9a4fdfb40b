//! Statics of plates: all load cases on one factor.

use super::answer::{PlateAnswer, PlateAsked, PlateCaseAnswer, SpreadAnswer, SystemSize};
use super::assembly::Assembly;
use super::joints::{Base, Settled};
use super::lines::Line;
use super::loads::plate_forces;
use super::model::{PlateId, SpreadId};
use super::second_order::second_order;
use super::shells::PlateModel;
use super::stress::Stresses;
use super::system::{Acting, Solution, System};
use crate::answer::{LinkAnswer, Quality, SpringAnswer};
use crate::error::{Cancel, SolveError, poll};
use crate::judge::{balance, warnings};
use crate::linear::{Double, share};
use crate::model::{BeamId, CaseId, Dof, NodeId, SpringId};
use crate::statics::{Applied, apply, check_stations, link_forces, members_of, reactions_of};
use crate::vector::{Vec3, add, cross, head, largest, six, sub, tail};
use fishplate_quantity::algebra::larger;

/// Solves all load cases.
///
/// # Errors
/// A mechanism, named with node, direction and plate; a stiffness that f64 can't carry; a structure
/// that is too large; something asked for that the model doesn't have; the caller's wish to stop.
pub fn statics(
    model: &PlateModel,
    asked: &PlateAsked,
    cancel: &dyn Cancel,
) -> Result<PlateAnswer, SolveError> {
    check(model, asked)?;
    let lines = asked.lines.iter().map(|line| Line::new(model, line));
    let lines: Vec<Line> = lines.collect::<Result<_, _>>()?;
    let system = System::new(Assembly::new(model, model.joints.rows())?, asked.threads, cancel)?;
    let loads: Vec<Loads<'_>> =
        (0..model.loads.len()).map(|case| Loads::new(model, &system.assembly, case)).collect();
    let plain: Vec<Acting> = loads.iter().map(|l| l.acting.clone()).collect();
    poll(cancel)?;
    let mut solutions = system.solve(&plain)?;
    let mut settled = settle(&system, &plain, &solutions, asked.threads)?;
    poll(cancel)?;
    let mut acting: Vec<Acting> =
        plain.iter().zip(&settled).map(|(a, s)| a.with(model, s)).collect();
    let slipped: Vec<usize> =
        (0..settled.len()).filter(|&i| !settled[i].forces.is_empty()).collect();
    let again: Vec<Acting> = slipped.iter().map(|&i| acting[i].clone()).collect();
    for (index, solution) in slipped.into_iter().zip(system.solve(&again)?) {
        solutions[index] = solution;
    }
    let mut orders = vec![(None, false); loads.len()];
    if asked.second_order {
        for (index, order) in orders.iter_mut().enumerate() {
            let state = (&settled[index], &solutions[index].movements[..]);
            let found = second_order(&system, &loads[index], state, CaseId(index), cancel)?;
            *order = (found.critical, found.deformed.is_some());
            if let Some((deformed, state)) = found.deformed {
                solutions[index] = system.solve(std::slice::from_ref(&deformed))?.swap_remove(0);
                acting[index] = deformed;
                settled[index] = state;
            }
        }
    }
    let stresses: Vec<Stresses> =
        asked.stresses.iter().map(|&plate| Stresses::new(model, plate)).collect();
    poll(cancel)?;
    let recovering = Recovering { system: &system, asked, stresses: &stresses, lines: &lines };
    let mut told: Vec<Option<PlateCaseAnswer>> = vec![None; solutions.len()];
    share(told.iter_mut().enumerate().collect(), asked.threads, |(index, told)| {
        let solved = Solved {
            loads: &loads[index],
            settled: &settled[index],
            acting: &acting[index],
            solution: &solutions[index],
        };
        let mut case = recovering.case(index, &solved);
        (case.critical, case.second_order) = orders[index];
        *told = Some(case);
    });
    let cases = told.into_iter().flatten().collect();
    let pattern = &system.assembly.pattern;
    let size = SystemSize {
        unknowns: pattern.size(),
        entries: pattern.entries(),
        factor_entries: pattern.factor_entries(),
    };
    Ok(PlateAnswer { cases, size })
}

fn check(model: &PlateModel, asked: &PlateAsked) -> Result<(), SolveError> {
    check_stations(asked.stations.iter())?;
    for &PlateId(plate) in &asked.stresses {
        if plate >= model.plates.len() {
            return Err(SolveError::Request {
                field: "stresses",
                given: plate.to_string(),
                allowed: "plates that the model has",
            });
        }
    }
    if asked.threads == 0 {
        return Err(SolveError::Request {
            field: "threads",
            given: "0".to_owned(),
            allowed: "1 or more",
        });
    }
    Ok(())
}

/// A load case as forces at the nodes.
pub(crate) struct Loads<'a> {
    pub(crate) applied: Applied<'a>,
    /// Node, force and moment, global.
    on_plates: Vec<(usize, Vec3, Vec3)>,
    pub(crate) acting: Acting,
}

impl<'a> Loads<'a> {
    pub(crate) fn new(model: &'a PlateModel, assembly: &Assembly<'a>, case: usize) -> Self {
        let applied = apply(&assembly.structure, &model.frame.draft.load_cases[case]);
        let on_plates = plate_forces(model, applied.case, &model.loads[case]);
        let mut forces = applied.loading.forces.clone();
        for &(node, force, moment) in &on_plates {
            for (i, f) in six(force, moment).iter().enumerate() {
                forces[6 * node + i] += f;
            }
        }
        assembly.structure.spring_loads(&[], &assembly.structure.parts(&[]), &mut forces);
        let held = &assembly.reduction.held;
        let prescribed =
            held.iter().map(|h| applied.loading.prescribed(h.support, h.dof)).collect();
        let acting = Acting { forces: model.to_local(forces), prescribed };
        Loads { applied, on_plates, acting }
    }
}

impl Acting {
    /// The same with the forces that stand for what the joints let slip.
    pub(crate) fn with(&self, model: &PlateModel, settled: &Settled) -> Acting {
        let mut acting = self.clone();
        if !settled.forces.is_empty() {
            let slipped = dense(model, &settled.forces);
            for (sum, force) in acting.forces.iter_mut().zip(slipped) {
                *sum += force;
            }
        }
        acting
    }
}

/// Forces at some movements, global, as forces at all movements in the axes of the nodes.
fn dense(model: &PlateModel, forces: &[(usize, f64)]) -> Vec<f64> {
    let mut all = vec![0.0; 6 * model.axes.len()];
    for &(movement, force) in forces {
        all[movement] += force;
    }
    model.to_local(all)
}

/// The factored structure as joints see it.
#[derive(Debug)]
struct Joined<'s, 'a> {
    system: &'s System<'a>,
    cases: &'s [Acting],
    /// What the cases come to while every joint acts.
    solved: &'s [Solution],
}

impl Base for Joined<'_, '_> {
    fn respond(&self, forces: &[Vec<(usize, f64)>]) -> Vec<Vec<f64>> {
        let model = self.system.assembly.model;
        let sets: Vec<Vec<f64>> = forces.iter().map(|set| dense(model, set)).collect();
        self.system.respond(&sets).into_iter().map(|moved| model.to_global(moved)).collect()
    }

    fn solve(&self, case: usize, forces: &[(usize, f64)]) -> Vec<f64> {
        let model = self.system.assembly.model;
        if forces.is_empty() {
            return model.to_global(self.solved[case].movements.clone());
        }
        let mut acting = self.cases[case].clone();
        for (sum, force) in acting.forces.iter_mut().zip(dense(model, forces)) {
            *sum += force;
        }
        model.to_global(self.system.movements(&acting))
    }

    fn largest_load(&self, case: usize) -> f64 {
        let forces = self.cases[case].forces.chunks_exact(6).map(|node| largest(&node[..3]));
        forces.fold(0.0, larger)
    }
}

/// Finds the state of the joints in every case; `solved` is what the cases come to while every
/// joint acts.
pub(crate) fn settle(
    system: &System<'_>,
    cases: &[Acting],
    solved: &[Solution],
    threads: usize,
) -> Result<Vec<Settled>, SolveError> {
    let all: Vec<usize> = (0..cases.len()).collect();
    system.assembly.model.joints.settle(&Joined { system, cases, solved }, &all, threads)
}

/// A solved case.
struct Solved<'s, 'a> {
    loads: &'s Loads<'a>,
    settled: &'s Settled,
    /// What acted, with what joints let slip and deformations bring.
    acting: &'s Acting,
    solution: &'s Solution,
}

/// What tells of solved cases.
struct Recovering<'r, 'a> {
    system: &'r System<'a>,
    asked: &'r PlateAsked,
    stresses: &'r [Stresses],
    lines: &'r [Line],
}

impl Recovering<'_, '_> {
    /// All that is told of a case.
    fn case(&self, number: usize, solved: &Solved<'_, '_>) -> PlateCaseAnswer {
        let Recovering { system, asked, stresses, lines } = self;
        let Solved { loads, settled, solution, .. } = solved;
        let assembly = &system.assembly;
        let (model, structure) = (assembly.model, &assembly.structure);
        let frame = &model.frame;
        let movements = model.to_global(solution.movements.clone());
        let displacements = by_node(&movements[..6 * model.given_nodes]);
        let doubled: Vec<Double> = movements.iter().map(|&u| Double::from_f64(u)).collect();
        let beams = members_of(structure, &loads.applied, &doubled)
            .iter()
            .enumerate()
            .map(|(index, member)| member.answer(BeamId(index), &asked.stations, &loads.applied))
            .collect();
        let springs: Vec<SpringAnswer> = (0..frame.draft.springs.len())
            .map(|i| spring(assembly, SpringId(i), solution))
            .collect();
        let reactions = reactions_of(frame, &assembly.reduction.held, &solution.reactions);
        let needed = by_node(&model.to_global(solution.constraint_forces.clone()));
        let links = link_forces(frame, needed, &reactions);
        let joints = model.joints.answers(settled);

        let mut sum = balance(structure, &loads.applied, solution.acting, &reactions, &springs);
        let middle = frame.middle();
        for &(node, force, moment) in &loads.on_plates {
            sum.add(sub(frame.position(NodeId(node)), middle), force, moment);
        }
        let contacts = joints.contacts.iter().zip(&model.grounded);
        for (contact, _) in contacts.filter(|(_, grounded)| **grounded) {
            let force = contact.force.map(|f| -f);
            sum.add(sub(contact.about, middle), head(&force), tail(&force));
        }
        for (node, force) in self.brought(solved).iter().enumerate() {
            sum.add(sub(frame.position(NodeId(node)), middle), head(force), tail(force));
        }
        let equilibrium = sum.relative(frame.size());
        let worst = larger(largest(&equilibrium), solution.residual);
        let quality = Quality {
            backward_error: solution.backward_error,
            residual: solution.residual,
            equilibrium,
            energy: solution.energy,
            condition: system.condition,
            smallest_pivot: system.smallest_pivot,
            last_correction: solution.last_correction,
            refinements: 1,
            warnings: warnings((system.condition, system.softest.0), worst, &displacements),
        };
        PlateCaseAnswer {
            name: loads.applied.case.name.clone(),
            displacements,
            reactions,
            beams,
            springs,
            links: links[..model.given_links].to_vec(),
            spreads: spreads(model, &links, &joints.spreads),
            seams: joints.seams,
            spots: joints.spots,
            bolts: joints.bolts,
            contacts: joints.contacts,
            stresses: stresses
                .iter()
                .map(|s| s.answer(model, &|e| assembly.corner_movements(e, &solution.movements)))
                .collect(),
            lines: lines
                .iter()
                .map(|l| l.answer(assembly, &solution.movements, (loads.applied.case, number)))
                .collect(),
            search: settled.report.clone(),
            critical: None,
            second_order: false,
            quality,
        }
    }

    /// What the deformations brought beside loads and joints, at every node in global axes; empty
    /// where a case was solved as it is.
    fn brought(&self, solved: &Solved<'_, '_>) -> Vec<[f64; 6]> {
        let model = self.system.assembly.model;
        let plain = solved.loads.acting.with(model, solved.settled);
        let more: Vec<f64> =
            solved.acting.forces.iter().zip(&plain.forces).map(|(a, p)| a - p).collect();
        if largest(&more) > 0.0 { by_node(&model.to_global(more)) } else { Vec::new() }
    }
}

fn by_node(all: &[f64]) -> Vec<[f64; 6]> {
    all.chunks_exact(6).map(|n| [n[0], n[1], n[2], n[3], n[4], n[5]]).collect()
}

fn spring(assembly: &Assembly<'_>, id: SpringId, solution: &Solution) -> SpringAnswer {
    let given = &assembly.model.frame.draft.springs[id.0];
    let moved =
        assembly.links[assembly.structure.elements.len() + id.0].deformation(&solution.movements);
    let mut answer = SpringAnswer { spring: id, deformation: [0.0; 6], force: [0.0; 6] };
    for i in Dof::ALL.map(Dof::index) {
        answer.deformation[i] = moved[i] - given.preset[i];
        answer.force[i] = given.stiffness[i] * answer.deformation[i];
    }
    answer
}

/// Forces of the spreads: of rigid ones summed from their links.
fn spreads(
    model: &PlateModel,
    links: &[LinkAnswer],
    of_joints: &[Option<SpreadAnswer>],
) -> Vec<SpreadAnswer> {
    let mut links = links[model.given_links..].iter();
    model
        .spreads
        .iter()
        .zip(of_joints)
        .enumerate()
        .map(|(index, (spread, even))| {
            even.unwrap_or_else(|| {
                let about = model.frame.position(spread.node);
                let mut sum = [[0.0; 3]; 2];
                for (&node, link) in spread.area.iter().zip(&mut links) {
                    let (force, moment) = (head(&link.force_on_slave), tail(&link.force_on_slave));
                    let arm = sub(model.frame.position(node), about);
                    sum[0] = add(sum[0], force);
                    sum[1] = add(sum[1], add(moment, cross(arm, force)));
                }
                SpreadAnswer { spread: SpreadId(index), force: six(sum[0], sum[1]) }
            })
        })
        .collect()
}
