//! From the solver's answer to what the checks ask of.

use fishplate_quantity::algebra::larger;
use fishplate_solver::plates::answer::{Face, PlateCaseAnswer};

use super::cut::{balance, wrench};
use super::group::Members;
use super::loads::{Key, UNIT};
use super::model::Model;
use super::probe::{AtNodes, Finder, ToeLine};
use super::result::{
    BoltForces, CaseForces, Drawn, DrawnWall, FacingForces, Hardpoint, PointForces, Recovered,
    RunForces, RunStation, WallForces,
};
use super::singular::counting;
use crate::answer::MountLoad;
use crate::checks::Setting;
use crate::design::Vec3;

/// Reads back one mesh of a group.
pub(super) struct Reader<'a> {
    setting: &'a Setting<'a>,
    members: &'a Members,
    model: &'a Model,
    answers: &'a [(Key, PlateCaseAnswer)],
    toes: Vec<ToeLine>,
    /// By node, whether its stress counts on each plate.
    counts: Vec<Vec<bool>>,
    /// Whether every corner's stress is kept.
    whole: bool,
}

impl<'a> Reader<'a> {
    pub(super) fn new(
        setting: &'a Setting<'a>,
        members: &'a Members,
        model: &'a Model,
        answers: &'a [(Key, PlateCaseAnswer)],
        whole: bool,
    ) -> Self {
        let toes = Finder::new(model).toes(setting.design);
        let by_sheet = counting(setting.design, members, model);
        let nodes = model.net.nodes.len();
        let counts = model
            .sheet_of
            .iter()
            .map(|s| {
                let mut list = vec![false; nodes];
                for (node, counts) in model.net.sheets[*s].nodes.iter().zip(&by_sheet[*s]) {
                    list[*node] = *counts;
                }
                list
            })
            .collect();
        Self { setting, members, model, answers, toes, counts, whole }
    }

    /// All cases of the car.
    pub(super) fn recovered(&self) -> Recovered {
        let forces = self.setting.forces;
        let mut factored: Vec<Vec<CaseForces>> = forces.cases.iter().map(|_| Vec::new()).collect();
        let mut service = Vec::new();
        for (key, answer) in self.answers {
            match *key {
                Key::Factored(case, set) => {
                    factored[case].push(self.case(answer, &forces.cases[case].design[set]));
                }
                Key::Service(case) => {
                    service.push(self.case(answer, &forces.cases[case].service));
                }
                Key::Tightened | Key::Unit(..) => {}
            }
        }
        Recovered { factored, service }
    }

    fn case(&self, answer: &PlateCaseAnswer, loads: &[MountLoad]) -> CaseForces {
        let at = AtNodes::new(&answer.stresses, self.model.net.nodes.len());
        let cuts = &self.model.contents.cuts;
        let path = self.setting.path;
        CaseForces {
            runs: self.runs(answer),
            spots: answer
                .spots
                .iter()
                .zip(&self.model.joints.spots)
                .map(|(s, at)| wrench(&s.force, at.centre))
                .collect(),
            bolts: answer
                .bolts
                .iter()
                .map(|b| BoltForces {
                    tension: b.tension,
                    shear: b.shear.iter().map(|s| Vec3::from(*s)).collect(),
                    bending: b.bending,
                    bearing: b.bearing.iter().map(|s| Vec3::from(*s)).collect(),
                })
                .collect(),
            facings: self.facings(answer),
            walls: (0..self.model.draft.plates.len()).map(|p| self.wall(p, &at)).collect(),
            toes: self.toes.iter().map(|toe| toe.read(&at)).collect(),
            cuts: cuts
                .iter()
                .map(|c| {
                    let interface = &path.interfaces[*c];
                    balance(self.setting.design, self.model, interface, answer, loads)
                })
                .collect(),
            mounts: self.model.hardpoints.iter().map(|node| answer.displacements[node.0]).collect(),
            critical: answer.critical,
            second_order: answer.second_order,
        }
    }

    fn runs(&self, answer: &PlateCaseAnswer) -> Vec<RunForces> {
        let middle = |run: usize| {
            let at = &self.model.joints.runs[run];
            let run = &self.setting.design.welds[at.weld.0].runs[at.run];
            (run.start + run.end) / 2.0
        };
        self.model
            .seams
            .iter()
            .enumerate()
            .map(|(r, parts)| {
                let mut stations = Vec::new();
                let mut whole = wrench(&[0.0; 6], middle(r));
                for (seam, start) in parts {
                    let found = &answer.seams[*seam];
                    whole = whole.plus(&wrench(&found.force, Vec3::from(found.about)));
                    stations.extend(found.stations.iter().map(|s| RunStation {
                        at: start + s.at,
                        length: s.length,
                        point: Vec3::from(s.point),
                        force: s.force,
                        moment: s.moment,
                    }));
                }
                RunForces { stations, whole }
            })
            .collect()
    }

    fn facings(&self, answer: &PlateCaseAnswer) -> Vec<FacingForces> {
        self.model
            .contacts
            .iter()
            .map(|contacts| {
                let mut made = FacingForces {
                    pressed: 0.0,
                    opening: 0.0,
                    pressing: 0.0,
                    whole: wrench(&[0.0; 6], Vec3::zeros()),
                };
                let (mut area, mut pressed) = (0.0, 0.0);
                for (i, contact) in contacts.iter().enumerate() {
                    let found = &answer.contacts[*contact];
                    area += found.area;
                    pressed += found.pressed;
                    for place in &found.places {
                        made.opening = larger(made.opening, place.opening);
                        made.pressing += place.pressing;
                    }
                    let carried = wrench(&found.force, Vec3::from(found.about));
                    made.whole = if i == 0 { carried } else { made.whole.plus(&carried) };
                }
                made.pressed = if area > 0.0 { pressed / area } else { 0.0 };
                made
            })
            .collect()
    }

    fn wall(&self, plate: usize, at: &AtNodes<'_>) -> WallForces {
        let model = self.model;
        let t = model.draft.plates[plate].thickness;
        let fy = model.contents.walls[plate].fy;
        let nothing = PointForces { at: Vec3::zeros(), n: [0.0; 3], m: [0.0; 3] };
        let mut made =
            WallForces { von_mises: Vec::new(), through: nothing, face: nothing, membrane: 0.0 };
        let (mut used, mut largest) = (0.0, 0.0);
        for element in &model.draft.plates[plate].elements {
            for node in element.nodes() {
                let Some(found) = at.get(plate, node.0) else { continue };
                let (stress, _) = found.forces.worst(t);
                if self.whole {
                    made.von_mises.push(stress);
                }
                if !self.counts[plate][node.0] {
                    continue;
                }
                let point = PointForces {
                    at: model.net.nodes[node.0],
                    n: found.forces.membrane,
                    m: found.forces.bending,
                };
                if stress > largest {
                    (largest, made.face) = (stress, point);
                }
                let used_here = point.use_of_thickness(t, fy);
                if used_here > used {
                    (used, made.through) = (used_here, point);
                }
                let middle = found.forces.stress(Face::Middle, t).von_mises();
                made.membrane = larger(made.membrane, middle);
            }
        }
        made
    }

    /// Flexibility at the mounts of the group: unit loads less what tightening alone moves.
    pub(super) fn hardpoints(&self) -> Vec<Hardpoint> {
        let rest = self.answers.iter().find(|(key, _)| *key == Key::Tightened).map(|(_, a)| a);
        self.members
            .mounts
            .iter()
            .enumerate()
            .map(|(m, mount)| {
                let node = self.model.hardpoints[m].0;
                let mut flexibility = [[0.0; 6]; 6];
                for (key, answer) in self.answers {
                    let Key::Unit(of, load) = *key else { continue };
                    if of != m {
                        continue;
                    }
                    let unit = UNIT[usize::from(load > 2)];
                    for (row, moved) in answer.displacements[node].iter().enumerate() {
                        let zero = rest.map_or(0.0, |r| r.displacements[node][row]);
                        flexibility[row][load] = (moved - zero) / unit;
                    }
                }
                Hardpoint { mount: *mount, flexibility }
            })
            .collect()
    }

    /// The mesh and its movements as drawn.
    pub(super) fn drawn(&self) -> Drawn {
        let model = self.model;
        let walls = model
            .draft
            .plates
            .iter()
            .map(|p| DrawnWall {
                cells: p.elements.iter().map(|e| e.nodes().iter().map(|n| n.0).collect()).collect(),
            })
            .collect();
        let moved = self
            .answers
            .iter()
            .filter(|(key, _)| matches!(key, Key::Service(_)))
            .map(|(_, answer)| {
                let all = &answer.displacements[..model.net.nodes.len()];
                all.iter().map(|u| Vec3::new(u[0], u[1], u[2])).collect()
            })
            .collect();
        Drawn { nodes: model.net.nodes.clone(), walls, moved }
    }
}
