//! What a reader gets of a mount as plates. SI: m, N, Pa, rad.

use crate::design::Vec3;

/// A mount as plates: what its parts, welds and bolts do in one another's company.
#[derive(Debug, Clone, PartialEq)]
pub struct PlateMount {
    /// The mount, by place in the design.
    pub mount: usize,
    /// Why there is no result, where there is none.
    pub not_solved: Option<String>,
    /// Size and error of the model.
    pub size: Option<ModelSize>,
    /// Its parts, meshed; only where the geometry was asked for.
    pub parts: Vec<MeshedPart>,
    /// Its nodes, m, car axes; the parts refer to them by place.
    pub nodes: Vec<Vec3>,
    /// The cases that are shown: those in which something of this mount governs.
    pub views: Vec<View>,
    /// Weld runs in their governing cases.
    pub runs: Vec<RunAnswer>,
    /// Bolts in their governing cases.
    pub bolts: Vec<BoltAnswer>,
    /// Faces that may open, in their governing cases.
    pub facings: Vec<FacingAnswer>,
    /// Lowest way of buckling, where anything buckles.
    pub buckling: Option<BucklingAnswer>,
    /// Stiffness at the hardpoint and how it was agreed with the frame level.
    pub hardpoint: Option<HardpointAnswer>,
    /// What the model takes for granted.
    pub assumptions: Vec<String>,
}

/// Size and error of a plate model.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ModelSize {
    /// Elements of the finer mesh.
    pub elements: usize,
    /// Unknowns of the finer mesh.
    pub unknowns: usize,
    /// Unknowns of the coarser mesh.
    pub coarse_unknowns: usize,
    /// Largest imbalance over all cuts and cases, relative to the load.
    pub largest_imbalance: f64,
    /// Smallest angle of the elements, rad.
    pub least_angle: f64,
    /// Largest angle of the elements, rad.
    pub largest_angle: f64,
    /// Largest change of a governing figure between the two meshes, relative.
    pub largest_mesh_change: f64,
}

/// A meshed wall of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct MeshedPart {
    /// The part: `part.front-bracket left`.
    pub name: String,
    /// Its wall; empty where it is one wall.
    pub wall: String,
    /// Thickness, m.
    pub thickness: f64,
    /// Yield strength, Pa.
    pub fy: f64,
    /// Its elements: corners by place among the nodes of the mount.
    pub cells: Vec<Vec<usize>>,
}

/// A case that is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct View {
    /// The case, by place.
    pub case: usize,
    /// What governs in it: ids of rows.
    pub rows: Vec<String>,
    /// Movement of every node, m, in the order of the nodes; unfactored loads.
    pub movements: Vec<Vec3>,
    /// Stress of every part, in the order of the parts, under factored loads.
    pub stresses: Vec<PartStress>,
}

/// Stress of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct PartStress {
    /// Larger von Mises stress of the two faces at each corner of each element, in the order of
    /// the elements and their corners, Pa; averaged within the wall.
    pub von_mises: Vec<f64>,
    /// The largest that counts: next to singular corners it is taken at the distance stated in the
    /// row.
    pub largest: f64,
    /// Where that is, m.
    pub largest_at: Vec3,
}

/// A weld run in its governing case, factored.
#[derive(Debug, Clone, PartialEq)]
pub struct RunAnswer {
    /// The weld: `weld.front-foot left`.
    pub weld: String,
    /// Its run, from 1.
    pub run: usize,
    /// The case, by place.
    pub case: usize,
    /// Stations from its start to its end.
    pub stations: Vec<RunStation>,
    /// Throat, m.
    pub throat: f64,
    /// Length over which the peak is averaged, m.
    pub averaged_over: f64,
    /// The averaged peak, Pa.
    pub peak: f64,
    /// Middle of the averaged peak from the start of the run, m.
    pub peak_at: f64,
    /// The same size by hand statics at the worse end of the run, Pa.
    pub hand: f64,
    /// Stress at which the row of the plate level would be used up, Pa; 0 where it has none.
    pub limit: f64,
}

/// A station of a weld run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunStation {
    /// From the start of the run, m.
    pub at: f64,
    /// Where, m.
    pub point: Vec3,
    /// Size of the force per length over the throat, Pa.
    pub stress: f64,
    /// Force per length, N/m.
    pub force: f64,
}

/// A bolt in its governing case, factored.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltAnswer {
    /// The bolt: `bolt.front-bush left`.
    pub bolt: String,
    /// Which of its group, from 1.
    pub number: usize,
    /// The case, by place.
    pub case: usize,
    /// Where, m.
    pub at: Vec3,
    /// Tension, N.
    pub tension: f64,
    /// Tension by hand statics, N.
    pub hand_tension: f64,
    /// Preload, N.
    pub preload: f64,
    /// Tension above what equilibrium asks for, N: prying.
    pub prying: f64,
    /// Shear, N.
    pub shear: f64,
}

/// Faces that may open.
#[derive(Debug, Clone, PartialEq)]
pub struct FacingAnswer {
    /// What presses on what: `front-bracket | front-doubler`.
    pub name: String,
    /// The case, by place.
    pub case: usize,
    /// Share of the area that presses, 0 to 1.
    pub pressed_share: f64,
    /// Largest opening, m.
    pub opening: f64,
    /// Pressing force, N.
    pub pressing: f64,
}

/// A way of buckling.
#[derive(Debug, Clone, PartialEq)]
pub struct BucklingAnswer {
    /// Times the factored loads at which it buckles.
    pub load_factor: f64,
    /// The case, by place.
    pub case: usize,
    /// The part that moves most.
    pub part: String,
    /// Shape, in the order of the nodes, largest movement 1; only where the geometry was asked for.
    pub shape: Vec<Vec3>,
}

/// Stiffness at the hardpoint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HardpointAnswer {
    /// Against movement along x, y and z, N/m: force over movement with the other directions free.
    pub stiffness: [f64; 3],
    /// Rounds between frame and plate level.
    pub rounds: usize,
    /// Change of the mount's force in the last round, relative.
    pub last_change: f64,
    /// Largest change of a force of this mount by its stiffness, against a rigid one, relative.
    pub share_change: f64,
}
