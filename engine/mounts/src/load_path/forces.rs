//! The wrench across every interface.

use fishplate_solver::group::Wrench;

use super::{Interface, LoadFrom, LoadPath};
use crate::CheckError;
use crate::design::{Design, Vec3};
use crate::forces::Forces;
use crate::frames::{BarFrame, EndHold};

/// The wrenches of a load path in all cases.
#[derive(Debug)]
pub(crate) struct Carried {
    /// Bars that join both sides, in the order of [`LoadPath::bars`].
    pub(crate) bars: Vec<BarFrame>,
}

impl Carried {
    /// Shares what equilibrium alone does not share.
    pub(crate) fn solve(
        design: &Design,
        path: &LoadPath,
        forces: &Forces,
    ) -> Result<Self, CheckError> {
        let service: Vec<_> = forces.cases.iter().map(|c| c.service.as_slice()).collect();
        let factored: Vec<_> = forces.cases.iter().map(|c| c.design.as_slice()).collect();
        let bars = path
            .bars
            .iter()
            .map(|bar| BarFrame::solve(design, bar, &service, &factored))
            .collect::<Result<Vec<_>, _>>()?;
        Ok(Self { bars })
    }

    /// The wrench on the rail's side of an interface in a case, about its own point. With two
    /// bounds there are two; each says how the ends were held.
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
                let loads =
                    if factored { &forces.cases[case].design } else { &forces.cases[case].service };
                let none = Wrench::of_force(Vec3::zeros(), interface.about);
                let sum = mounts.iter().fold(none, |sum, m| {
                    let at = design.mounts[*m].at;
                    let load =
                        Wrench { force: loads[*m].force, moment: loads[*m].moment, about: at };
                    sum.plus(&load)
                });
                vec![(None, sum)]
            }
            LoadFrom::BarEnd { bar, end } => EndHold::BOTH
                .into_iter()
                .map(|hold| {
                    let wrench = self.bars[*bar].end(hold, *end, case, factored);
                    (Some(hold), wrench.moved_to(interface.about))
                })
                .collect(),
        }
    }
}
