//! The wrench across every interface.

use std::ops::Range;

use fishplate_solver::group::Wrench;

use super::{Interface, LoadFrom, LoadPath};
use crate::CheckError;
use crate::answer::MountLoad;
use crate::design::{Design, Vec3};
use crate::forces::Forces;
use crate::frames::{BarFrame, EndHold};

/// The wrenches of a load path in all cases.
#[derive(Debug)]
pub(crate) struct Carried {
    /// Bars that join both sides, in the order of [`LoadPath::bars`].
    pub(crate) bars: Vec<BarFrame>,
    /// Places of each case's sets for strength among the sets of the bars.
    strength: Vec<Range<usize>>,
}

impl Carried {
    /// Shares what equilibrium alone does not share.
    pub(crate) fn solve(
        design: &Design,
        path: &LoadPath,
        forces: &Forces,
    ) -> Result<Self, CheckError> {
        // Sets of loads: every case in service, then every set for strength of every case.
        let mut sets: Vec<&[MountLoad]> =
            forces.cases.iter().map(|c| c.service.as_slice()).collect();
        let mut strength = Vec::new();
        for case in &forces.cases {
            strength.push(sets.len()..sets.len() + case.design.len());
            sets.extend(case.design.iter().map(Vec::as_slice));
        }
        let bars = path
            .bars
            .iter()
            .map(|bar| BarFrame::solve(design, bar, &sets))
            .collect::<Result<Vec<_>, _>>()?;
        Ok(Self { bars, strength })
    }

    /// Places of a case's sets among those of the bars.
    pub(crate) fn sets(&self, case: usize, factored: bool) -> Range<usize> {
        if factored { self.strength[case].clone() } else { case..case + 1 }
    }

    /// The wrench on the rail's side of an interface in a case, about its own point. With several
    /// bounds there are several; each says how the ends of a bar were held.
    pub(crate) fn across(
        &self,
        design: &Design,
        forces: &Forces,
        interface: &Interface,
        case: usize,
        factored: bool,
    ) -> Vec<(Option<EndHold>, Wrench)> {
        match &interface.load {
            LoadFrom::Mounts(mounts) => {
                let case = &forces.cases[case];
                let service = std::slice::from_ref(&case.service);
                let sets = if factored { case.design.as_slice() } else { service };
                sets.iter()
                    .map(|loads| (None, sum(design, mounts, loads, interface.about)))
                    .collect()
            }
            LoadFrom::BarEnd { bar, end } => self
                .sets(case, factored)
                .flat_map(|set| {
                    EndHold::BOTH.map(|hold| {
                        let wrench = self.bars[*bar].end(hold, *end, set);
                        (Some(hold), wrench.moved_to(interface.about))
                    })
                })
                .collect(),
        }
    }
}

/// The loads of several mounts together about a point.
fn sum(design: &Design, mounts: &[usize], loads: &[MountLoad], about: Vec3) -> Wrench {
    mounts.iter().fold(Wrench::of_force(Vec3::zeros(), about), |sum, m| {
        let (load, at) = (&loads[*m], design.mounts[*m].at);
        sum.plus(&Wrench { force: load.force, moment: load.moment, about: at })
    })
}
