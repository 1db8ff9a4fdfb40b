//! Load cases of a model: those of the car with load factors and as they are, and unit loads at
//! the hardpoints.

use fishplate_solver::group::Wrench;
use fishplate_solver::model::{LoadCase, NodalLoad, NodeId};

use super::group::Members;
use super::rail::{RailNode, nearest};
use crate::answer::MountLoad;
use crate::checks::Setting;
use crate::design::{BodyId, Vec3};
use crate::load_path::Interface;

/// Unit loads are this large, so that they are of the size of what preload holds down: N, N m.
pub(super) const UNIT: [f64; 2] = [1000.0, 50.0];

/// What a load case is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Key {
    /// A case of the car with load factors: case and set, by place.
    Factored(usize, usize),
    /// A case of the car as it is.
    Service(usize),
    /// Nothing but what tightening does.
    Tightened,
    /// A unit load: mount of the group by place, direction.
    Unit(usize, usize),
}

/// The loads of a group.
pub(super) struct Loads<'a> {
    pub(super) setting: &'a Setting<'a>,
    pub(super) members: &'a Members,
}

impl Loads<'_> {
    /// Interfaces whose mount's side is part of the group, by place.
    pub(super) fn cuts(&self) -> Vec<usize> {
        let own = |f: &Interface| f.side.iter().any(|b| self.members.bodies.contains(b));
        let all = self.setting.path.interfaces.iter().enumerate();
        all.filter(|(_, f)| own(f)).map(|(i, _)| i).collect()
    }

    /// Interfaces of other groups onto the rails of this one.
    fn others(&self) -> impl Iterator<Item = &Interface> {
        self.setting.path.interfaces.iter().filter(|f| {
            self.members.piece(f.far).is_some() && !self.members.bodies.contains(&f.near)
        })
    }

    /// Where other mounts load the rails of the group.
    pub(super) fn elsewhere(&self) -> Vec<(BodyId, f64)> {
        self.others().map(|f| (f.far, f.about.x)).collect()
    }

    /// All load cases.
    pub(super) fn cases(
        &self,
        hardpoints: &[NodeId],
        rails: &[RailNode],
        positions: &[Vec3],
        preloaded: bool,
    ) -> Vec<(Key, LoadCase)> {
        let mut list = Vec::new();
        let forces = self.setting.forces;
        for (c, case) in forces.cases.iter().enumerate() {
            for (set, loads) in case.design.iter().enumerate() {
                let name = format!("{} with load factors, set {}", case.case.name, set + 1);
                let nodal = self.nodal(loads, (c, set, true), hardpoints, rails, positions);
                list.push((Key::Factored(c, set), LoadCase { name, nodal, ..LoadCase::default() }));
            }
        }
        for (c, case) in forces.cases.iter().enumerate() {
            let name = case.case.name.clone();
            let nodal = self.nodal(&case.service, (c, 0, false), hardpoints, rails, positions);
            list.push((Key::Service(c), LoadCase { name, nodal, ..LoadCase::default() }));
        }
        if preloaded {
            let name = "tightened".to_owned();
            list.push((Key::Tightened, LoadCase { name, ..LoadCase::default() }));
        }
        for (m, node) in hardpoints.iter().enumerate() {
            for dof in 0..6 {
                let mut load = NodalLoad { node: *node, force: [0.0; 3], moment: [0.0; 3] };
                if dof < 3 {
                    load.force[dof] = UNIT[0];
                } else {
                    load.moment[dof - 3] = UNIT[1];
                }
                let mount = &self.setting.design.mounts[self.members.mounts[m]].name;
                let name = format!("unit {} at mount {mount}", dof + 1);
                list.push((
                    Key::Unit(m, dof),
                    LoadCase { name, nodal: vec![load], ..LoadCase::default() },
                ));
            }
        }
        list
    }

    fn nodal(
        &self,
        loads: &[MountLoad],
        (case, set, factored): (usize, usize, bool),
        hardpoints: &[NodeId],
        rails: &[RailNode],
        positions: &[Vec3],
    ) -> Vec<NodalLoad> {
        let mut list: Vec<NodalLoad> = self
            .members
            .mounts
            .iter()
            .zip(hardpoints)
            .map(|(mount, node)| NodalLoad {
                node: *node,
                force: loads[*mount].force.into(),
                moment: loads[*mount].moment.into(),
            })
            .collect();
        for interface in self.others() {
            let Some(node) = nearest(rails, interface.far, &interface.about) else { continue };
            let Setting { design, forces, carried, .. } = *self.setting;
            let all = carried.across(design, forces, interface, case, factored);
            // Where both bounds of a bar's ends are there, the first of this set.
            let bounds = all.len() / if factored { forces.cases[case].design.len() } else { 1 };
            let Some((_, wrench)) = all.get(set * bounds) else { continue };
            let moved: Wrench = wrench.moved_to(positions[node.0]);
            list.push(NodalLoad { node, force: moved.force.into(), moment: moved.moment.into() });
        }
        list
    }
}
