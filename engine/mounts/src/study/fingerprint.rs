//! Names for results by what they follow from: the rows of a mount can be kept under its fingerprint and
//! used again as long as that stays the same.
//!
//! A fingerprint is BLAKE3 over a rendering of everything that the rows can depend on, as `{:?}` writes
//! it: a number in it reads back to the same bits, and a field added to a struct takes part by itself.
//! Where it is not certain that something has no part, it takes part: a fingerprint may change
//! without need, it must never stay when a row changes.
//!
//! * In every fingerprint: the engine (a hash of its sources), the depth, the rules with their factors,
//!   and all that the loads at mounts follow from. A change of the car touches every mount.
//! * In that of a mount: its *surroundings*, as described and in place. Those are all that is joined
//!   to what its bush lands on, rails apart; all rails; all that is joined to no mount; what belongs to
//!   another mount but stands beside in x; and the welds and bolts of all these.
//! * In that of the rows of the whole, and of every mount at depth `plate`, where mounts share their
//!   loads by the stiffness of all brackets: everything.
//!
//! The title takes no part.

use std::collections::BTreeSet;
use std::fmt::{self, Write};

use fishplate_quantity::algebra::{larger, smaller};

use crate::CheckError;
use crate::describe::{Part, Project, Rail};
use crate::design::{BodyId, BoltAt, Design, WeldAt};
use crate::pipeline::{self, Depth};
use crate::unknown;

/// Names of the results of a project.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Prints {
    /// One a mount, in the order of the design.
    pub mounts: Vec<Print>,
    /// That of the rows of the whole.
    pub whole: String,
}

/// The name of the results of a mount.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Print {
    /// The mount: `FL`.
    pub id: String,
    /// Its long name: `front left`.
    pub name: String,
    /// The fingerprint, 64 hexadecimal digits.
    pub hash: String,
}

/// The fingerprints of a project; the number of threads of `depth` takes no part.
///
/// # Errors
/// Faults of the project.
pub fn of(project: &Project, depth: Depth) -> Result<Prints, CheckError> {
    let project = &*unknown::named(project);
    let (design, (pack, factors)) = pipeline::settled(project).map_err(CheckError::Faults)?;
    let mut common = Rendering::default();
    common.add("engine", &env!("FISHPLATE_ENGINE"));
    common.add("plates", &matches!(depth, Depth::Plate { .. }));
    common.add("rules", &(pack, factors));
    shared(&mut common, project);
    let whole = common.clone().everything(project, &design).name();
    let parts = components(&design);
    let mounts = (0..design.mounts.len())
        .map(|mount| Print {
            id: design.mounts[mount].id.clone(),
            name: design.mounts[mount].name.clone(),
            hash: match depth {
                Depth::Plate { .. } => {
                    let mut all = common.clone().everything(project, &design);
                    all.add("mount", &mount);
                    all.name()
                }
                Depth::Frame => {
                    let beside = surroundings(&design, &parts, mount);
                    common.clone().beside(project, &design, mount, &beside).name()
                }
            },
        })
        .collect();
    Ok(Prints { mounts, whole })
}

/// What every row of a project may depend on.
fn shared(into: &mut Rendering, project: &Project) {
    // Taken apart whole: a new field has to be put somewhere.
    let Project {
        title: _,
        rules,
        symmetric,
        car,
        drive,
        brakes,
        springs,
        cradle,
        cargo,
        bushes,
        mounts,
        steels,
        rails,
        // These by mount.
        parts: _,
        welds: _,
        bolts: _,
        cases,
        case_set,
        factors,
        duty,
        workmanship,
        weld_metal,
        opinions,
    } = project;
    into.add("chosen", rules);
    into.add("symmetric", symmetric);
    into.add("car", car);
    into.add("drive", drive);
    into.add("brakes", brakes);
    into.add("springs", springs);
    into.add("cradle", cradle);
    into.add("cargo", cargo);
    into.add("bushes", bushes);
    into.add("mounts", mounts);
    into.add("steels", steels);
    into.add("rails", rails as &Vec<Rail>);
    into.add("cases", cases);
    into.add("set", case_set);
    into.add("load factors", factors);
    into.add("duty", duty);
    into.add("workmanship", workmanship);
    into.add("weld metal", weld_metal);
    into.add("opinions", opinions);
}

/// For every body the component it belongs to, rails taken out of the graph; a rail is its own.
fn components(design: &Design) -> Vec<usize> {
    let mut part: Vec<usize> = (0..design.bodies.len()).collect();
    let mut join = |a: BodyId, b: BodyId| {
        if design.body(a).is_rail() || design.body(b).is_rail() {
            return;
        }
        let (a, b) = (part[a.0], part[b.0]);
        part.iter_mut().filter(|p| **p == b).for_each(|p| *p = a);
    };
    for weld in &design.welds {
        join(weld.of, weld.to);
    }
    for bolts in &design.bolts {
        bolts.through.windows(2).for_each(|pair| join(pair[0].body, pair[1].body));
    }
    part
}

/// Bodies that the rows of a mount may look at.
fn surroundings(design: &Design, part: &[usize], mount: usize) -> BTreeSet<BodyId> {
    let landing = |at: usize| {
        let landed = design.landing(&design.mounts[at]).map(|(body, _)| body);
        landed.filter(|body| !design.body(*body).is_rail()).map(|body| part[body.0])
    };
    let own = landing(mount);
    let mounted: BTreeSet<usize> = (0..design.mounts.len()).filter_map(landing).collect();
    let reach = |component: usize| {
        let bodies = design.bodies.iter().zip(part).filter(|(_, p)| **p == component);
        let walls = bodies.flat_map(|(body, _)| body.walls.iter().map(|w| w.prism.range(0)));
        walls.reduce(|a, b| (smaller(a.0, b.0), larger(a.1, b.1)))
    };
    let x = design.mounts[mount].at.x;
    let (from, to) = own.and_then(reach).unwrap_or((x, x));
    let (from, to) = (smaller(from, x), larger(to, x));
    let counts = |component: usize| {
        Some(component) == own
            || !mounted.contains(&component)
            || reach(component).is_none_or(|(low, high)| low <= to && high >= from)
    };
    (0..design.bodies.len()).map(BodyId).filter(|id| counts(part[id.0])).collect()
}

/// Text that is hashed as it is written.
#[derive(Debug, Clone, Default)]
struct Rendering(blake3::Hasher);

impl Write for Rendering {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        self.0.update(text.as_bytes());
        Ok(())
    }
}

impl Rendering {
    /// Adds a thing under a label.
    fn add(&mut self, label: &str, thing: &dyn fmt::Debug) {
        // Text in a rendering is quoted and its quotes are escaped, so no thing can look like two.
        // Writing into a hash cannot fail.
        let _ = writeln!(self, "{label}: {thing:?}");
    }

    fn name(&self) -> String {
        self.0.finalize().to_hex().to_string()
    }

    fn everything(mut self, project: &Project, design: &Design) -> Self {
        self.add("parts", &project.parts);
        self.add("welds", &project.welds);
        self.add("bolts", &project.bolts);
        self.add("design", design);
        self
    }

    /// Adds what stands round a mount.
    fn beside(
        mut self,
        project: &Project,
        design: &Design,
        mount: usize,
        bodies: &BTreeSet<BodyId>,
    ) -> Self {
        self.add("mount", &design.mounts[mount]);
        for body in bodies {
            let placed = design.body(*body);
            self.add("body", &(body, placed));
            if let Some(part) = described("parts", &placed.path, &project.parts) {
                self.add("described", part as &Part);
            }
        }
        let holds = |body: &BodyId| bodies.contains(body) && !design.body(*body).is_rail();
        let rails = |all: &[BodyId]| all.iter().all(|body| design.body(*body).is_rail());
        let own = |weld: &&WeldAt| {
            let both = [weld.of, weld.to];
            both.iter().any(holds) || rails(&both)
        };
        for weld in design.welds.iter().filter(own) {
            self.add("weld", weld);
            if let Some(weld) = described("welds", &weld.path, &project.welds) {
                self.add("described", weld);
            }
        }
        let own = |bolts: &&BoltAt| {
            let all: Vec<BodyId> = bolts.through.iter().map(|p| p.body).collect();
            all.iter().any(holds) || rails(&all)
        };
        for bolts in design.bolts.iter().filter(own) {
            self.add("bolts", bolts);
            if let Some(bolts) = described("bolts", &bolts.path, &project.bolts) {
                self.add("described", bolts);
            }
        }
        self.add("clashes", &design.clashes);
        self
    }
}

/// The thing at a path of one step: `parts[3]`.
fn described<'p, T>(list: &str, path: &str, all: &'p [T]) -> Option<&'p T> {
    let at = path.strip_prefix(list)?.strip_prefix('[')?.strip_suffix(']')?;
    all.get(at.parse::<usize>().ok()?)
}
