//! A bar across the car: its own stiffness shares the loads between its two ends.
//!
//! The ends are held where they meet the rails against moving and against turning about the bar.
//! How stiff those joints are against bending is not known before the plate level, so both bounds
//! are solved: free to turn (*pinned*) and held (*clamped*); every check takes the worse.

use fishplate_solver::answer::SectionForces;
use fishplate_solver::group::Wrench;
use fishplate_solver::model::{
    Beam, BeamId, FrameDraft, GLOBAL_AXES, LoadCase, MaterialId, NodalLoad, Node, NodeId,
    Orientation, Restraint, SectionId, Support,
};
use fishplate_solver::{Asked, RunToEnd, Station, statics};

use super::{BarSection, STEEL};
use crate::CheckError;
use crate::answer::MountLoad;
use crate::design::{Design, Form, Vec3};
use crate::load_path::BarLoop;

/// How the ends of a bar are held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum EndHold {
    /// Free to turn in bending.
    Pinned,
    /// Held against turning.
    Clamped,
}

impl EndHold {
    /// Both bounds.
    pub(crate) const BOTH: [Self; 2] = [Self::Pinned, Self::Clamped];

    /// Words for a reader.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Pinned => "ends pinned",
            Self::Clamped => "ends clamped",
        }
    }
}

/// The forces in a bar.
#[derive(Debug)]
pub(crate) struct BarFrame {
    /// Its section.
    pub(crate) section: BarSection,
    /// Length between its holds, m.
    pub(crate) length: f64,
    /// Pinned, then clamped.
    bounds: [Bound; 2],
}

/// The forces under one way of holding the ends.
#[derive(Debug)]
struct Bound {
    /// Force of the bar on its holds, right and left, by set.
    ends: Vec<[Wrench; 2]>,
    /// Cuts of the bar, by set.
    cuts: Vec<Vec<BarCut>>,
}

/// The section forces at a cut.
#[derive(Debug, Clone, Copy)]
pub(crate) struct BarCut {
    /// Where along y, m.
    pub(crate) y: f64,
    /// Forces in the bar's axes: x to the right of the car, y forward, z up.
    pub(crate) forces: SectionForces,
}

impl BarFrame {
    /// Solves a bar under sets of mount loads.
    pub(crate) fn solve(
        design: &Design,
        bar: &BarLoop,
        sets: &[&[MountLoad]],
    ) -> Result<Self, CheckError> {
        let body = design.body(bar.body);
        let Form::Bar { shape, legs, line, .. } = &body.form else {
            return Err(CheckError::Unsolved(format!("{} is no bar", body.name)));
        };
        let section = BarSection::of(*shape, *legs, *line)
            .map_err(|why| CheckError::Unsolved(format!("{}: {why}", body.name)))?;
        let [right, left] = bar.held_at;
        let mut stations: Vec<f64> =
            bar.mounts.iter().map(|m| design.mounts[*m].at[1]).chain([left, right, 0.0]).collect();
        stations.retain(|y| *y <= left && *y >= right);
        // From left to right: then the bar's own y is forward.
        stations.sort_by(|a, b| b.total_cmp(a));
        stations.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
        let node = |y: f64| [section.centroid[0], y, section.centroid[1]];
        let loads: Vec<LoadCase> = sets
            .iter()
            .map(|mounts| LoadCase {
                nodal: bar
                    .mounts
                    .iter()
                    .map(|m| {
                        let mount = &design.mounts[*m];
                        let y = if mount.at[1] > left {
                            left
                        } else if mount.at[1] < right {
                            right
                        } else {
                            mount.at[1]
                        };
                        let at = place(&stations, y);
                        let arm = mount.at - Vec3::from(node(stations[at]));
                        let load = &mounts[*m];
                        let moment = load.moment + arm.cross(&load.force);
                        NodalLoad {
                            node: NodeId(at),
                            force: load.force.into(),
                            moment: moment.into(),
                        }
                    })
                    .collect(),
                ..LoadCase::default()
            })
            .collect();
        let bound = |hold: EndHold| -> Result<Bound, CheckError> {
            let turn = match hold {
                EndHold::Pinned => Restraint::Free,
                EndHold::Clamped => Restraint::Fixed,
            };
            let fixed = Restraint::Fixed;
            let support = |at: usize| Support {
                node: NodeId(at),
                axes: GLOBAL_AXES,
                dofs: [fixed, fixed, fixed, turn, fixed, turn],
            };
            let draft = FrameDraft {
                nodes: stations.iter().map(|y| Node { position: node(*y) }).collect(),
                sections: vec![section.beam()],
                materials: vec![STEEL],
                beams: (1..stations.len())
                    .map(|i| {
                        Beam::between(
                            NodeId(i - 1),
                            NodeId(i),
                            SectionId(0),
                            MaterialId(0),
                            Orientation::ZTowards([0.0, 0.0, 1.0]),
                        )
                    })
                    .collect(),
                springs: Vec::new(),
                rigid_links: Vec::new(),
                masses: Vec::new(),
                supports: vec![support(stations.len() - 1), support(0)],
                load_cases: loads.clone(),
            };
            let unsolved = |why: String| CheckError::Unsolved(format!("{}: {why}", body.name));
            let model = draft.validate().map_err(|faults| {
                unsolved(faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))
            })?;
            let asked =
                Asked { every_beam: vec![Station::at(0.0), Station::at(1.0)], ..Asked::default() };
            let answer = statics(&model, &asked, &RunToEnd).map_err(|e| unsolved(e.to_string()))?;
            let mut made = Bound { ends: Vec::new(), cuts: Vec::new() };
            for case in &answer.cases {
                let mut ends = [Wrench::of_force(Vec3::zeros(), Vec3::zeros()); 2];
                for (end, at) in [(0, stations.len() - 1), (1, 0)] {
                    let held = case.reactions.iter().find(|r| r.node == NodeId(at));
                    if let Some(held) = held {
                        let f = held.force;
                        ends[end] = Wrench {
                            force: -Vec3::new(f[0], f[1], f[2]),
                            moment: -Vec3::new(f[3], f[4], f[5]),
                            about: Vec3::from(node(stations[at])),
                        };
                    }
                }
                made.ends.push(ends);
                let mut cuts = Vec::new();
                for beam in &case.beams {
                    let BeamId(i) = beam.beam;
                    for (station, y) in beam.stations.iter().zip([stations[i], stations[i + 1]]) {
                        cuts.push(BarCut { y, forces: station.forces });
                    }
                }
                made.cuts.push(cuts);
            }
            Ok(made)
        };
        let bounds = [bound(EndHold::Pinned)?, bound(EndHold::Clamped)?];
        Ok(Self { section, length: left - right, bounds })
    }

    fn bound(&self, hold: EndHold) -> &Bound {
        match hold {
            EndHold::Pinned => &self.bounds[0],
            EndHold::Clamped => &self.bounds[1],
        }
    }

    /// Force of the bar on its hold at `end` (0 right, 1 left).
    pub(crate) fn end(&self, hold: EndHold, end: usize, set: usize) -> Wrench {
        self.bound(hold).ends[set][end]
    }

    /// Cuts of the bar.
    pub(crate) fn cuts(&self, hold: EndHold, set: usize) -> &[BarCut] {
        &self.bound(hold).cuts[set]
    }
}

/// The place of a station.
fn place(stations: &[f64], y: f64) -> usize {
    stations
        .iter()
        .position(|s| (s - y).abs() < 1e-6)
        .expect("every mount on the bar has a station of its own")
}
