//! What is read back of the plate level, for the checks. SI: m, N, Pa, rad; car axes unless a
//! field says otherwise.
//!
//! Lists of a case ([`CaseForces`]) stand in the order of the lists that say what is what
//! ([`Contents`]); those are the same in both meshes.

use fishplate_solver::group::Wrench;

use crate::design::{BodyId, BoltId, Vec3, WeldId};

/// The plate level of a whole design.
#[derive(Debug, Clone, PartialEq)]
pub struct Plates {
    /// One a group of mounts; every mount that lands on something is in exactly one.
    pub groups: Vec<Group>,
    /// How frame and plate level agreed on the share of the mounts.
    pub feedback: Feedback,
}

impl Plates {
    /// The group of a mount.
    #[must_use]
    pub fn of_mount(&self, mount: usize) -> Option<&Group> {
        self.groups.iter().find(|g| g.mounts.contains(&mount))
    }

    /// The solved group that a weld is modelled in.
    #[must_use]
    pub fn of_weld(&self, weld: WeldId) -> Option<&Solved> {
        self.solved().find(|s| s.contents.runs.iter().any(|r| r.weld == weld))
    }

    /// The solved group that a bolt is modelled in.
    #[must_use]
    pub fn of_bolt(&self, bolt: BoltId) -> Option<&Solved> {
        self.solved().find(|s| s.contents.bolts.iter().any(|b| b.bolt == bolt))
    }

    /// All groups that were solved.
    pub fn solved(&self) -> impl Iterator<Item = &Solved> {
        self.groups.iter().filter_map(|g| g.outcome.as_ref().ok())
    }
}

/// Mounts whose bodies are joined without passing a rail.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// The mounts, by place in the design.
    pub mounts: Vec<usize>,
    /// Its bodies, rails left out.
    pub bodies: Vec<BodyId>,
    /// What was solved; else why not, naming the part at fault.
    pub outcome: Result<Solved, String>,
}

/// A solved group.
#[derive(Debug, Clone, PartialEq)]
pub struct Solved {
    /// What the lists of a case refer to.
    pub contents: Contents,
    /// Finer mesh: the numbers that count.
    pub fine: Recovered,
    /// Coarser mesh: what the error is told from.
    pub coarse: Recovered,
    /// Lowest ways of buckling over all factored cases.
    pub buckling: Vec<Buckles>,
    /// Flexibility at each mount of the group, in its order.
    pub hardpoints: Vec<Hardpoint>,
    /// Size of the models.
    pub size: Size,
    /// What the model takes for granted.
    pub assumptions: Vec<String>,
    /// The finer mesh as drawn.
    pub drawn: Drawn,
}

/// What the lists of a case refer to.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Contents {
    /// Walls as shells; a rail's wall has one entry for each measured thickness.
    pub walls: Vec<WallOf>,
    /// Weld runs.
    pub runs: Vec<RunOf>,
    /// Plug welds.
    pub spots: Vec<SpotOf>,
    /// Bolts.
    pub bolts: Vec<BoltOf>,
    /// Faces that press.
    pub facings: Vec<FacingOf>,
    /// Lines beside weld toes where the wall's own forces are read.
    pub toes: Vec<ToeOf>,
    /// Cuts: interfaces of the load path, by place.
    pub cuts: Vec<usize>,
}

/// A wall as shells.
#[derive(Debug, Clone, PartialEq)]
pub struct WallOf {
    /// The body.
    pub body: BodyId,
    /// Its wall, by place.
    pub wall: usize,
    /// Name for a reader: `part.front-bracket left, floor`.
    pub name: String,
    /// Thickness, m; of a rail as measured.
    pub thickness: f64,
    /// Where along x the thickness holds, m; the whole wall where infinite.
    pub stretch: (f64, f64),
    /// Yield strength, Pa.
    pub fy: f64,
}

/// A weld run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunOf {
    /// The weld.
    pub weld: WeldId,
    /// Its run, by place.
    pub run: usize,
    /// Throat, m.
    pub throat: f64,
    /// Length, m.
    pub length: f64,
    /// Thickness of the welded plate and of what it is welded to, m.
    pub thickness: [f64; 2],
}

/// A plug weld.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SpotOf {
    /// The weld.
    pub weld: WeldId,
    /// Its plug, by place among the centres.
    pub number: usize,
    /// Centre, m.
    pub centre: Vec3,
}

/// A bolt.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltOf {
    /// The group of bolts.
    pub bolt: BoltId,
    /// Which of them, by place.
    pub number: usize,
    /// Preload in service, N; the factored cases have none: at the ultimate load it has gone, and
    /// what counts is the pull with prying.
    pub preload: f64,
    /// Middle of the grip, m.
    pub at: Vec3,
    /// Places in [`crate::design::BoltAt::through`] of what it passes in the model, from head to
    /// nut; a sleeve or block that is bridged is left out.
    pub passes: Vec<usize>,
    /// Places in [`Contents::facings`] of the faces it clamps: one fewer than it passes, where the
    /// faces meet.
    pub clamps: Vec<Option<usize>>,
}

/// Faces that press on each other and never pull.
#[derive(Debug, Clone, PartialEq)]
pub struct FacingOf {
    /// What presses on what: `front-bracket | front-doubler`.
    pub name: String,
    /// The two bodies.
    pub between: [BodyId; 2],
    /// The sleeve or block between them.
    pub bridge: Option<BodyId>,
}

/// A line along a weld toe on the wall that the weld is on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ToeOf {
    /// Place of its run in [`Contents::runs`].
    pub run: usize,
    /// Place of its wall in [`Contents::walls`].
    pub wall: usize,
    /// Whether the wall is the one that is welded on, not the one whose edge is welded.
    pub onto: bool,
    /// Out of the toe along the wall, away from the weld.
    pub away: Vec3,
}

/// One mesh, all cases.
#[derive(Debug, Clone, PartialEq)]
pub struct Recovered {
    /// With load factors: cases in order, each with its sets as [`crate::answer`] has them (the
    /// factor on the loads and on the mount forces).
    pub factored: Vec<Vec<CaseForces>>,
    /// As they are, for slip and fatigue: cases in order.
    pub service: Vec<CaseForces>,
}

/// What one set of loads does.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseForces {
    /// Weld runs.
    pub runs: Vec<RunForces>,
    /// Plug welds: force and moment of the first body on the second about the centre.
    pub spots: Vec<Wrench>,
    /// Bolts.
    pub bolts: Vec<BoltForces>,
    /// Faces that press.
    pub facings: Vec<FacingForces>,
    /// Walls.
    pub walls: Vec<WallForces>,
    /// Weld toes.
    pub toes: Vec<ToeForces>,
    /// Cuts.
    pub cuts: Vec<CutForces>,
    /// Movement of each mount of the group: translations m, rotations rad.
    pub mounts: Vec<[f64; 6]>,
    /// Critical load factor, where the case was followed to second order.
    pub critical: Option<f64>,
    /// Whether equilibrium was found on the deformed structure.
    pub second_order: bool,
}

/// Forces along a weld run.
#[derive(Debug, Clone, PartialEq)]
pub struct RunForces {
    /// Stations from its start to its end.
    pub stations: Vec<RunStation>,
    /// Force and moment of the welded edge on what it is welded to.
    pub whole: Wrench,
}

/// A piece of a weld run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunStation {
    /// Its middle from the start of the run, m.
    pub at: f64,
    /// Length it stands for, m.
    pub length: f64,
    /// Its middle, m.
    pub point: Vec3,
    /// Force per length, N/m: along the leg on the body it is welded to, along the leg on the
    /// welded edge, along the run.
    pub force: [f64; 3],
    /// Moment per length about the run, N m/m.
    pub moment: f64,
}

/// Forces of a bolt.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltForces {
    /// Tension, N, preload included.
    pub tension: f64,
    /// Shear in each face between what it passes, from head to nut, N.
    pub shear: Vec<Vec3>,
    /// Largest bending moment of the shank, N m.
    pub bending: f64,
    /// Force on the wall of each hole, N.
    pub bearing: Vec<Vec3>,
}

/// Faces that press.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FacingForces {
    /// Share of the area that presses, 0 to 1.
    pub pressed: f64,
    /// Largest opening, m.
    pub opening: f64,
    /// Pressing force, N.
    pub pressing: f64,
    /// Force and moment of the first body on the second.
    pub whole: Wrench,
}

/// Stress of a wall.
#[derive(Debug, Clone, PartialEq)]
pub struct WallForces {
    /// Larger von Mises stress of both faces at each corner of each element, Pa, in the order of
    /// [`DrawnWall::cells`] and their corners; empty in the coarser mesh.
    pub von_mises: Vec<f64>,
    /// Where the whole thickness is used most, among the points that count: next to singular places
    /// those at the distance that [`Size::singular`] states.
    pub through: PointForces,
    /// Where the larger von Mises stress of both faces is largest, among the points that count.
    pub face: PointForces,
    /// Largest von Mises stress of the middle among the points that count, Pa.
    pub membrane: f64,
}

/// Forces and moments per length at a point of a wall, in axes of the wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PointForces {
    /// The point, m.
    pub at: Vec3,
    /// Membrane forces x, y, xy, N/m; tension positive.
    pub n: [f64; 3],
    /// Moments x, y, xy, N m/m; a positive one pulls at the top.
    pub m: [f64; 3],
}

/// Forces of a wall beside a weld toe.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ToeForces {
    /// Stations along the run, from its start.
    pub stations: Vec<ToeStation>,
}

/// Forces of a wall across a toe.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ToeStation {
    /// From the start of the run, m.
    pub at: f64,
    /// Its point at the toe, m.
    pub point: Vec3,
    /// Membrane force (N/m, tension positive) and moment (N m/m, positive pulls at the face of the
    /// weld) across the toe, 0.4 t away from it.
    pub near: [f64; 2],
    /// The same 1.0 t away.
    pub far: [f64; 2],
    /// The same at the toe.
    pub toe: [f64; 2],
    /// Shear along the toe 0.4 t and 1.0 t away, N/m.
    pub along: [f64; 2],
}

impl ToeStation {
    /// Stress across the toe on the face of the weld, 0.4 t and 1.0 t away, Pa, for a wall of thickness
    /// `t`, m.
    #[must_use]
    pub fn beside(&self, t: f64) -> [f64; 2] {
        [self.near, self.far].map(|[n, m]| n / t + 6.0 * m / (t * t))
    }
}

/// Equilibrium of a cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CutForces {
    /// What is applied on the mount's side, about the interface's point.
    pub applied: Wrench,
    /// What its welds, bolts and pressing faces carry across, on the rail's side.
    pub carried: Wrench,
    /// Their difference over the load.
    pub imbalance: f64,
}

/// A way of buckling.
#[derive(Debug, Clone, PartialEq)]
pub struct Buckles {
    /// The case, by place.
    pub case: usize,
    /// Times the factored loads.
    pub factor: f64,
    /// Place in [`Contents::walls`] of the wall that moves most.
    pub wall: usize,
    /// Movement of the drawn nodes, largest 1.
    pub shape: Vec<Vec3>,
}

/// Flexibility at a hardpoint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hardpoint {
    /// The mount, by place in the design.
    pub mount: usize,
    /// Movement (m, rad) by unit force and moment (N, N m) at the bush centre, without the bush:
    /// rows are movements, columns loads.
    pub flexibility: [[f64; 6]; 6],
}

/// How frame and plate level agreed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Feedback {
    /// Rounds: solves of the frame level with the stiffness of the plate level.
    pub rounds: usize,
    /// Change of the mount forces in the last round, over the largest.
    pub last_change: f64,
    /// By mount: largest change of its force by stiffness, against rigid brackets, relative.
    pub share_change: Vec<f64>,
}

/// Size and quality of the models of a group.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// Elements of the finer mesh.
    pub elements: usize,
    /// Unknowns, finer and coarser.
    pub unknowns: [usize; 2],
    /// Smallest angle, rad, of the finer mesh.
    pub least_angle: f64,
    /// Largest angle, rad.
    pub largest_angle: f64,
    /// Largest imbalance over all cuts and cases, relative.
    pub largest_imbalance: f64,
    /// How singular places were treated, in words.
    pub singular: String,
    /// How the mesh was chosen, in words.
    pub rule: String,
}

/// A mesh as drawn.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Drawn {
    /// Nodes, m.
    pub nodes: Vec<Vec3>,
    /// Walls, in the order of [`Contents::walls`].
    pub walls: Vec<DrawnWall>,
    /// Movement of the nodes in service, m, by case; the finer mesh.
    pub moved: Vec<Vec<Vec3>>,
}

/// A wall as drawn.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct DrawnWall {
    /// Elements: corners by place.
    pub cells: Vec<Vec<usize>>,
}
