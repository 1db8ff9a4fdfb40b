//! Stresses of plates from the movements of their corners.

use super::answer::{ElementForces, NodeForces, PlateStress, Resultants};
use super::element::{Recovery, in_turned_axes};
use super::model::PlateId;
use super::shells::{PlateModel, Shell};
use crate::model::NodeId;
use crate::vector::dot;
use std::collections::BTreeMap;

/// Normals that differ by more are those of a fold: stresses on both sides of it are not averaged
/// (common practice, no source). Cosine of 10°.
const FOLD: f64 = 0.984_807_753_012_208;

/// What gives the stresses of a plate, made once for all cases.
#[derive(Debug)]
pub(crate) struct Stresses {
    plate: PlateId,
    recoveries: Vec<Recovery>,
    /// Node, and the elements (with the corner) that meet there without a fold.
    groups: Vec<(NodeId, Vec<(usize, usize)>)>,
}

impl Stresses {
    pub(crate) fn new(model: &PlateModel, plate: PlateId) -> Self {
        let shells = model.shells_of(plate.0);
        let law = &model.laws[plate.0];
        let recoveries = shells.iter().map(|shell| Recovery::new(&shell.facet, law)).collect();
        let mut meeting: BTreeMap<usize, Vec<(usize, usize)>> = BTreeMap::new();
        for (index, shell) in shells.iter().enumerate() {
            for (corner, &node) in shell.corners().iter().enumerate() {
                meeting.entry(node).or_default().push((index, corner));
            }
        }
        let groups = meeting
            .into_iter()
            .flat_map(|(node, elements)| {
                smooth(shells, elements).into_iter().map(move |group| (NodeId(node), group))
            })
            .collect();
        Stresses { plate, recoveries, groups }
    }

    /// Stresses under movements: `corners` gives those of the corners of an element in its axes.
    pub(crate) fn answer(
        &self,
        model: &PlateModel,
        corners: &dyn Fn(usize) -> [f64; 24],
    ) -> PlateStress {
        let shells = model.shells_of(self.plate.0);
        let first = model.first_shell[self.plate.0];
        let elements: Vec<ElementForces> = shells
            .iter()
            .zip(&self.recoveries)
            .enumerate()
            .map(|(index, (shell, recovery))| {
                let found = recovery.resultants(&corners(first + index));
                ElementForces {
                    axes: shell.facet.axes,
                    centre: found.centre,
                    corners: found.corners,
                }
            })
            .collect();
        let nodes = self.groups.iter().map(|(node, group)| mean(*node, group, &elements)).collect();
        PlateStress { plate: self.plate, elements, nodes }
    }
}

/// Elements at a node in groups within which each lies smoothly beside another.
fn smooth(shells: &[Shell], elements: Vec<(usize, usize)>) -> Vec<Vec<(usize, usize)>> {
    let mut groups: Vec<Vec<(usize, usize)>> = Vec::new();
    for element in elements {
        let normal = shells[element.0].facet.axes[2];
        let (mut beside, apart): (Vec<_>, Vec<_>) = groups.into_iter().partition(|group| {
            group.iter().any(|&(other, _)| dot(shells[other].facet.axes[2], normal) > FOLD)
        });
        let mut joined: Vec<(usize, usize)> = beside.drain(..).flatten().collect();
        joined.push(element);
        groups = apart;
        groups.push(joined);
    }
    groups
}

/// Mean of the corner values of a group, in the axes of its first element.
fn mean(node: NodeId, group: &[(usize, usize)], elements: &[ElementForces]) -> NodeForces {
    let axes = elements[group[0].0].axes;
    let mut forces = Resultants::default();
    let share = 1.0 / group.len() as f64;
    for &(element, corner) in group {
        let own = &elements[element];
        let angle = dot(axes[0], own.axes[1]).atan2(dot(axes[0], own.axes[0]));
        let membrane = in_turned_axes(own.corners[corner].membrane, angle);
        let bending = in_turned_axes(own.corners[corner].bending, angle);
        for i in 0..3 {
            forces.membrane[i] += share * membrane[i];
            forces.bending[i] += share * bending[i];
        }
    }
    NodeForces { node, axes, forces }
}
