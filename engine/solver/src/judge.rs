//! How far the numbers of a solved case can be trusted.

use crate::answer::{Quality, Reaction, SpringAnswer, Warning};
use crate::assembly::Structure;
use crate::beam::loads::start_of;
use crate::model::{BeamId, NodeId, SpringId};
use crate::statics::{Applied, Case, Member, node_forces};
use crate::vector::{Vec3, add, cross, exceeds, head, largest, six, sub, tail};
use fishplate_quantity::algebra::larger;

impl Case<'_> {
    /// Balance, energy, condition and the remarks that follow from them.
    pub(crate) fn quality(
        &self,
        structure: &Structure<'_>,
        displacements: &[[f64; 6]],
        reactions: &[Reaction],
        springs: &[SpringAnswer],
        members: &[Member<'_>],
    ) -> Quality {
        let solution = &self.settled.solution;
        let health = &self.settled.system.health;
        let equilibrium = self.equilibrium(structure, reactions, springs);
        let worst = larger(largest(&equilibrium), solution.residual);
        let warnings = warnings((health.condition, health.softest.0), worst, displacements);
        Quality {
            backward_error: solution.backward_error,
            residual: solution.residual,
            equilibrium,
            energy: self.energy(structure, displacements, members),
            condition: health.condition,
            smallest_pivot: health.smallest_pivot,
            last_correction: solution.last_correction,
            refinements: solution.refinements,
            warnings,
        }
    }

    /// Sum of loads, reactions and ground springs against the largest of them.
    fn equilibrium(
        &self,
        structure: &Structure<'_>,
        reactions: &[Reaction],
        springs: &[SpringAnswer],
    ) -> [f64; 6] {
        let acting = self.settled.solution.acting;
        balance(structure, &self.applied, acting, reactions, springs)
            .relative(structure.model.size())
    }

    /// Twice the work within the parts less twice that of all outer forces, against the size of
    /// all contributions.
    fn energy(
        &self,
        structure: &Structure<'_>,
        displacements: &[[f64; 6]],
        members: &[Member<'_>],
    ) -> f64 {
        let (mut sum, mut size) = (0.0, self.settled.solution.work);
        let mut take = |work: f64| {
            sum += work;
            size += work.abs();
        };
        for (index, member) in members.iter().enumerate() {
            // The natural forces do work on the natural deformation of the nodes ...
            take(member.solved.forces.dot(&member.deformation));
            // ... and the forces that only hold the loads within, on the nodes themselves.
            let simple = self.applied.member_loads[index].end_forces;
            let ends = member.solved.ends + member.released;
            take(simple.dot(&ends));
        }
        for index in 0..structure.model.draft.springs.len() {
            let answer = self.spring(structure, SpringId(index));
            let spring = &structure.model.draft.springs[index];
            for i in 0..6 {
                take(answer.force[i] * (answer.deformation[i] + spring.preset[i]));
            }
        }
        for (node, force) in node_forces(structure.model, self.applied.case) {
            for i in 0..6 {
                take(-force[i] * displacements[node.0][i]);
            }
        }
        let held = &self.settled.system.skeleton.reduction.held;
        for (h, reaction) in held.iter().zip(&self.settled.solution.reactions) {
            take(-reaction * self.applied.loading.prescribed(h.support, h.dof));
        }
        if size > 0.0 { (sum / size).abs() } else { 0.0 }
    }
}

/// What the reader ought to know: of the condition and the softest node, the worst imbalance and
/// the movements.
pub(crate) fn warnings(
    (condition, softest): (f64, NodeId),
    imbalance: f64,
    displacements: &[[f64; 6]],
) -> Vec<Warning> {
    let mut warnings = Vec::new();
    let bound = condition * 0.5 * f64::EPSILON;
    if exceeds(bound, SENSITIVE) {
        warnings.push(Warning::Sensitive { bound, softest });
    }
    if exceeds(imbalance, BALANCED) {
        warnings.push(Warning::Unbalanced { worst: imbalance });
    }
    let mut most = (0, 0.0);
    for (node, moved) in displacements.iter().enumerate() {
        let rotation = largest(&moved[3..]);
        if rotation > most.1 {
            most = (node, rotation);
        }
    }
    if most.1 > LARGE_ROTATION {
        warnings.push(Warning::LargeRotation { node: NodeId(most.0), rotation: most.1 });
    }
    warnings
}

/// Sum of loads, reactions and ground springs about the middle of the frame. It is formed from the
/// loads as given, not from what the assembly made of them.
pub(crate) fn balance(
    structure: &Structure<'_>,
    applied: &Applied<'_>,
    [largest_force, largest_moment]: [f64; 2],
    reactions: &[Reaction],
    springs: &[SpringAnswer],
) -> Balance {
    let model = structure.model;
    let middle = model.middle();
    let mut sum = Balance { largest_force, largest_moment, ..Balance::default() };
    for (node, force) in node_forces(model, applied.case) {
        sum.add(sub(model.position(node), middle), head(&force), tail(&force));
    }
    for (index, element) in structure.elements.iter().enumerate() {
        let start = start_of(model, BeamId(index));
        let (force, moment) = applied.within[index].resultant(element, start, middle);
        sum.add([0.0; 3], force, moment);
    }
    for reaction in reactions {
        sum.add(
            sub(model.position(reaction.node), middle),
            head(&reaction.force),
            tail(&reaction.force),
        );
    }
    for answer in springs {
        let spring = &model.draft.springs[answer.spring.0];
        if spring.b.is_none() {
            let turn = |v: Vec3| {
                let [x, y, z] = spring.axes;
                [0, 1, 2].map(|i| -(v[0] * x[i] + v[1] * y[i] + v[2] * z[i]))
            };
            sum.add(
                sub(model.position(spring.a), middle),
                turn(head(&answer.force)),
                turn(tail(&answer.force)),
            );
        }
    }
    sum
}

/// Sum of forces and moments, with the largest force and moment to measure it by.
#[derive(Debug, Default)]
pub(crate) struct Balance {
    force: Vec3,
    moment: Vec3,
    largest_force: f64,
    largest_moment: f64,
}

impl Balance {
    pub(crate) fn add(&mut self, arm: Vec3, force: Vec3, moment: Vec3) {
        let about_middle = add(moment, cross(arm, force));
        self.force = add(self.force, force);
        self.moment = add(self.moment, about_middle);
        self.largest_force = larger(self.largest_force, largest(&force));
        self.largest_moment = larger(self.largest_moment, largest(&about_middle));
    }

    pub(crate) fn relative(&self, size: f64) -> [f64; 6] {
        let force = larger(self.largest_force, self.largest_moment / size);
        let moment = larger(self.largest_moment, self.largest_force * size);
        let against = |v: f64, base: f64| if base > 0.0 { v.abs() / base } else { 0.0 };
        six(self.force.map(|v| against(v, force)), self.moment.map(|v| against(v, moment)))
    }
}

/// Condition times half an epsilon beyond which the reader is told (common practice, no source).
const SENSITIVE: f64 = 1e-6;
/// Imbalance beyond which the reader is told (common practice, no source).
const BALANCED: f64 = 1e-9;
/// Rotation beyond which small-displacement theory is doubtful, rad (common practice, no source:
/// the cosine is off by half a percent).
const LARGE_ROTATION: f64 = 0.1;
