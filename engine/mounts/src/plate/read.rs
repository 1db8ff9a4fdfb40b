//! What the checks make of the numbers that the plate level gives: peaks along runs, what else
//! carries a cut, the worst points of walls.

use fishplate_quantity::algebra::{larger, smaller};
use fishplate_solver::plates::answer::PlaneStress;

use super::result::{
    CaseForces, Group, Plates, PointForces, Recovered, RunForces, RunOf, Solved, WallForces,
};
use crate::design::{BodyId, Design};
use crate::load_path::Interface;

/// Length of a run over which its peak is averaged, m.
///
/// Linear elasticity has no finite peak at the end of a seam. A bead shorter than six throats is
/// not designed to carry anything (EN 1993-1-8:2005, 4.5.1(2)), so no shorter stretch decides; and
/// a plate cannot change its force within twice its thickness (own choice, no source).
pub(crate) fn averaged_over(run: &RunOf) -> f64 {
    let thinner = smaller(run.thickness[0], run.thickness[1]);
    smaller(run.length, larger(6.0 * run.throat, 2.0 * thinner))
}

/// A run with its force per length averaged.
pub(crate) struct Peak {
    /// The run.
    pub(crate) of: RunOf,
    /// Mean force per length of each stretch of the averaging length, N/m, as
    /// [`super::result::RunStation::force`] has it.
    pub(crate) windows: Vec<[f64; 3]>,
    /// Middle of each stretch from the start of the run, m.
    pub(crate) at: Vec<f64>,
    /// Size of the mean force per length of the whole run, N/m, by sizes.
    pub(crate) mean: f64,
}

impl Peak {
    /// Of a run under forces.
    pub(crate) fn of(of: RunOf, forces: &RunForces) -> Self {
        let over = averaged_over(&of);
        let stations = &forces.stations;
        // Stretches begin or end where a station does, and lie within the run.
        let mut starts: Vec<f64> = Vec::new();
        for station in stations {
            let (from, to) = (station.at - 0.5 * station.length, station.at + 0.5 * station.length);
            for start in [from, to - over] {
                if start >= -1e-9 * over && start + over <= of.length * (1.0 + 1e-9) {
                    starts.push(larger(start, 0.0));
                }
            }
        }
        starts.sort_by(f64::total_cmp);
        starts.dedup_by(|a, b| (*a - *b).abs() <= 1e-9 * of.length);
        if starts.is_empty() {
            starts.push(0.0);
        }
        let mean_of = |start: f64| {
            let mut sum = [0.0; 3];
            let mut covered = 0.0;
            for s in stations {
                let from = larger(start, s.at - 0.5 * s.length);
                let to = smaller(start + over, s.at + 0.5 * s.length);
                if to > from {
                    covered += to - from;
                    for (sum, force) in sum.iter_mut().zip(s.force) {
                        *sum += force * (to - from);
                    }
                }
            }
            if covered > 0.0 { sum.map(|s| s / covered) } else { sum }
        };
        let windows = starts.iter().map(|start| mean_of(*start)).collect();
        let whole: f64 = stations.iter().map(|s| s.length).sum();
        let sizes: f64 = stations.iter().map(|s| size(s.force) * s.length).sum();
        Self {
            of,
            windows,
            at: starts.iter().map(|start| start + 0.5 * over).collect(),
            mean: if whole > 0.0 { sizes / whole } else { 0.0 },
        }
    }

    /// Size of the largest stretch, N/m.
    pub(crate) fn largest(&self) -> f64 {
        self.windows.iter().map(|w| size(*w)).fold(0.0, larger)
    }

    /// Middle of the largest stretch from the start of the run, m.
    pub(crate) fn peak_at(&self) -> f64 {
        let worst = self
            .windows
            .iter()
            .zip(&self.at)
            .reduce(|a, b| if size(*b.0) > size(*a.0) { b } else { a });
        worst.map_or(0.0, |(_, at)| *at)
    }

    /// Where along the run the largest stretch is, in words.
    pub(crate) fn place(&self) -> &'static str {
        let share = self.peak_at() / larger(self.of.length, f64::MIN_POSITIVE);
        if share < 0.25 {
            "the start"
        } else if share > 0.75 {
            "the end"
        } else {
            "the middle"
        }
    }
}

/// Size of a force per length.
pub(crate) fn size(force: [f64; 3]) -> f64 {
    force.iter().map(|f| f * f).sum::<f64>().sqrt()
}

/// Every run in every set of a factored case.
pub(crate) fn peaks<'a>(
    solved: &'a Solved,
    mesh: &'a Recovered,
    case: usize,
) -> impl Iterator<Item = Peak> + 'a {
    mesh.factored[case].iter().flat_map(|set| {
        solved.contents.runs.iter().zip(&set.runs).map(|(of, forces)| Peak::of(*of, forces))
    })
}

/// A wall's worst point in a set of a case.
pub(crate) struct WallPoint<'a> {
    /// Thickness, m.
    pub(crate) thickness: f64,
    /// Its forces.
    pub(crate) forces: &'a WallForces,
}

/// Walls of some bodies, by place in a set; all walls of a body where `wall` is none.
pub(crate) fn walls<'a>(
    solved: &'a Solved,
    set: &'a CaseForces,
    wanted: &'a [(BodyId, Option<usize>)],
) -> impl Iterator<Item = (usize, WallPoint<'a>)> + 'a {
    solved.contents.walls.iter().zip(&set.walls).enumerate().filter_map(
        move |(place, (of, forces))| {
            let own = |(body, wall): &(BodyId, Option<usize>)| {
                *body == of.body && wall.is_none_or(|w| w == of.wall)
            };
            wanted.iter().any(own).then_some((place, WallPoint { thickness: of.thickness, forces }))
        },
    )
}

/// What else carries load across an interface in the plate model, in words: pressing faces and
/// bolts that hand statics leaves idle.
pub(crate) fn other_ways(
    design: &Design,
    solved: &Solved,
    interface: &Interface,
    case: usize,
) -> Vec<String> {
    let Some(set) = solved.fine.factored[case].first() else { return Vec::new() };
    let crosses = |a: BodyId, b: BodyId| interface.side.contains(&a) != interface.side.contains(&b);
    let mut list = Vec::new();
    for (of, forces) in solved.contents.facings.iter().zip(&set.facings) {
        if crosses(of.between[0], of.between[1]) && forces.pressing > 0.0 {
            list.push(format!("the faces of {}, pressing {:.0} N", of.name, forces.pressing));
        }
    }
    for (of, forces) in solved.contents.bolts.iter().zip(&set.bolts) {
        if interface.bolts.contains(&of.bolt) && forces.tension > 0.0 {
            let name = &design.bolts[of.bolt.0].name;
            list.push(format!("{name}, bolt {}, {:.0} N", of.number + 1, forces.tension));
        }
    }
    for (of, wrench) in solved.contents.spots.iter().zip(&set.spots) {
        if interface.welds.contains(&of.weld) {
            let name = &design.welds[of.weld.0].name;
            list.push(format!("{name}, plug {}, {:.0} N", of.number + 1, wrench.force.norm()));
        }
    }
    list
}

impl Plates {
    /// The solved group that the joints of an interface are modelled in, or why it was not solved.
    #[must_use]
    pub fn of_joints(&self, interface: &Interface) -> Option<Result<&Solved, &str>> {
        self.groups.iter().find(|g| g.holds(interface)).map(Group::outcome)
    }

    /// The same of the group that a mount belongs to.
    #[must_use]
    pub fn at_mount(&self, mount: usize) -> Option<Result<&Solved, &str>> {
        self.of_mount(mount).map(Group::outcome)
    }
}

impl Group {
    fn outcome(&self) -> Result<&Solved, &str> {
        self.outcome.as_ref().map_err(String::as_str)
    }

    fn holds(&self, interface: &Interface) -> bool {
        self.bodies.contains(&interface.near)
    }
}

impl PointForces {
    /// Shares of what a plate can carry before it yields through: of the membrane force and of the
    /// moment, as sizes by distortion energy.
    #[must_use]
    pub fn shares(&self, thickness: f64, fy: f64) -> [f64; 2] {
        let [n, m] = [self.n, self.m].map(|components| PlaneStress(components).von_mises());
        [n / (thickness * fy), 4.0 * m / (thickness * thickness * fy)]
    }

    /// How far both together use the thickness, without factors: by this the worst point is found, as
    /// the clauses about points of plates then judge it.
    #[must_use]
    pub fn use_of_thickness(&self, thickness: f64, fy: f64) -> f64 {
        let [r_n, r_m] = self.shares(thickness, fy);
        (r_m + (r_m * r_m + 4.0 * r_n * r_n).sqrt()) / 2.0
    }
}

/// Structural stress at a toe from the stresses 0.4 t and 1.0 t before it (IIW-2259-15, 2.2.3.4, fine
/// mesh): by this load families are compared, the clause judges it.
pub(crate) fn structural([near, far]: [f64; 2]) -> f64 {
    1.67 * near - 0.67 * far
}
