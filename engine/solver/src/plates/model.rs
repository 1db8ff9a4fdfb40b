//! What a structure of plates is made of: the draft as the caller fills it in.
//!
//! Plates are meshed already ([`crate::mesh`] makes meshes). Nodes lie on the mid-surface of their
//! plate. Beams, springs, rigid links, masses, supports and load cases are those of a frame and
//! stand in [`PlateDraft::frame`]; all else refers to its nodes, materials and load cases. Every
//! number is SI (m, N, Pa, kg, s, rad); coordinates and directions are global.

use crate::model::{FrameDraft, MaterialId, NodeId};

macro_rules! index_type {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub usize);
    };
}

index_type!(
    /// Position of a plate in [`PlateDraft::plates`].
    PlateId
);
index_type!(
    /// Position of a seam in [`PlateDraft::seams`].
    SeamId
);
index_type!(
    /// Position of a spot in [`PlateDraft::spots`].
    SpotId
);
index_type!(
    /// Position of a bolt in [`PlateDraft::bolts`].
    BoltId
);
index_type!(
    /// Position of a contact in [`PlateDraft::contacts`].
    ContactId
);
index_type!(
    /// Position of a spread in [`PlateDraft::spreads`].
    SpreadId
);

/// A structure of plates as the caller describes it, not yet checked.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct PlateDraft {
    /// Nodes, materials, beams, springs, links, masses, supports and load cases. Nodal loads,
    /// prescribed movements and acceleration fields act on plates as well.
    pub frame: FrameDraft,
    /// Plates.
    pub plates: Vec<Plate>,
    /// Welded lines between plates that need not share nodes.
    pub seams: Vec<Seam>,
    /// Plug welds and other ties over a small round area.
    pub spots: Vec<Spot>,
    /// Bolts.
    pub bolts: Vec<Bolt>,
    /// Faces that may press on each other.
    pub contacts: Vec<Contact>,
    /// Nodes whose force is spread over an area of a plate.
    pub spreads: Vec<Spread>,
    /// Loads on plates; entry i belongs to load case i of the frame. May be shorter than it.
    pub loads: Vec<PlateLoads>,
}

/// A plate of one thickness: flat, folded or curved, in flat elements.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// Name, returned in faults and answers.
    pub name: String,
    /// Material; its Young's and shear modulus give Poisson's ratio `E / (2 G) - 1`.
    pub material: MaterialId,
    /// Thickness, m.
    pub thickness: f64,
    /// Elements. Elements that share nodes are joined along the edge between them; neighbours have
    /// to agree on which side is the top.
    pub elements: Vec<Element>,
}

/// A flat element. Its corners go round anticlockwise seen from its top face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Element {
    /// Four corners; they may be warped a little.
    Quad([NodeId; 4]),
    /// Three corners.
    Triangle([NodeId; 3]),
}

impl Element {
    /// Its corners.
    #[must_use]
    pub fn nodes(&self) -> &[NodeId] {
        match self {
            Element::Quad(nodes) => nodes,
            Element::Triangle(nodes) => nodes,
        }
    }
}

/// A weld run: it ties two plates along a line, and stops where the line stops.
///
/// The run is where the weld is: on the face of `onto`, at the edge of `edge`. Both mid-surfaces
/// follow it rigidly over half their thickness.
#[derive(Clone, Debug, PartialEq)]
pub struct Seam {
    /// Name.
    pub name: String,
    /// The plate whose edge is welded.
    pub edge: PlateId,
    /// The plate it is welded to.
    pub onto: PlateId,
    /// Corners of the run, at least two, m.
    pub path: Vec<[f64; 3]>,
    /// Direction of the leg that lies on `onto`, away from the corner: unit, square to the run.
    pub leg_on: [f64; 3],
    /// Direction of the leg that lies on the welded edge: unit, square to the run.
    pub leg_up: [f64; 3],
}

/// Two plates tied over a round area, as by a plug weld: the mean movements of both areas are
/// held together, translations and rotations.
#[derive(Clone, Debug, PartialEq)]
pub struct Spot {
    /// Name.
    pub name: String,
    /// The two plates.
    pub plates: [PlateId; 2],
    /// Centre, on the faying face, m.
    pub centre: [f64; 3],
    /// Diameter, m.
    pub diameter: f64,
}

/// A bolt through plates. Its shank is a beam between head and nut; head and nut press on rings
/// round the hole; between the plates it touches nothing but the walls of the holes. Faces that it
/// clamps need a [`Contact`].
#[derive(Clone, Debug, PartialEq)]
pub struct Bolt {
    /// Name.
    pub name: String,
    /// Middle of the bearing face of the head, m.
    pub head: [f64; 3],
    /// Middle of the bearing face of the nut, m.
    pub nut: [f64; 3],
    /// The plates that it passes, from head to nut.
    pub through: Vec<PlateId>,
    /// Material of the shank.
    pub material: MaterialId,
    /// Diameter of the shank for bending and shear, m.
    pub diameter: f64,
    /// Area that stretches, m2.
    pub tensile_area: f64,
    /// Outside diameter of the ring on which head or washer bears, m.
    pub head_bearing: f64,
    /// The same at the nut, m.
    pub nut_bearing: f64,
    /// Diameter of the hole, m.
    pub hole: f64,
    /// Tension when tightened and nothing else acts, N; 0 = by hand.
    pub preload: f64,
    /// How the shank touches the walls of the holes.
    pub bearing: Bearing,
}

/// How a shank touches the walls of its holes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Bearing {
    /// It never does: shear passes by friction or other joints.
    Never,
    /// Without play, both ways.
    Fitted,
    /// After this movement in any direction across the shank, m.
    Clearance(f64),
}

/// Faces that may press on each other and never pull.
#[derive(Clone, Debug, PartialEq)]
pub struct Contact {
    /// Name.
    pub name: String,
    /// The plate whose nodes are the places of contact: the finer mesh.
    pub of: PlateId,
    /// What they press on.
    pub onto: Onto,
    /// Where the faces face each other; everywhere where they do so if left out.
    pub within: Option<Ring>,
    /// Gap between the faces before anything moves, m; negative where they are forced apart.
    pub gap: f64,
    /// Stiffness of what lies between (a sleeve, a block), Pa/m: pressure for each metre of
    /// closing. `None` = the two plates themselves, `E / (t1 + t2)`.
    pub stiffness: Option<f64>,
    /// Distance bridged by what lies between, m; 0 where the faces touch.
    pub bridged: f64,
    /// Friction coefficient; `None` = the faces slide freely.
    pub friction: Option<f64>,
    /// Places stand at least this far apart, m: nodes in between lend them their area. 0 = every
    /// node is a place. Each place costs a solve and a row of a dense matrix.
    pub spacing: f64,
}

/// What the places of a contact press on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Onto {
    /// Another plate.
    Plate(PlateId),
    /// Rigid flat ground.
    Ground {
        /// A point of it, m.
        point: [f64; 3],
        /// Unit vector out of it, towards the plate.
        normal: [f64; 3],
    },
}

/// A round area with or without a hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ring {
    /// Centre, m.
    pub centre: [f64; 3],
    /// Unit vector along its axis.
    pub axis: [f64; 3],
    /// Inner diameter, m; 0 = full.
    pub inside: f64,
    /// Outer diameter, m.
    pub outside: f64,
}

/// A node that moves with an area of plates.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// Name.
    pub name: String,
    /// The node that leads or follows. It must not be a corner of an element.
    pub node: NodeId,
    /// Corners of elements that make up the area.
    pub area: Vec<NodeId>,
    /// How they move together.
    pub kind: SpreadKind,
}

/// How a node and an area move together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpreadKind {
    /// The area moves as a rigid body with the node (a stiff end plate, a cut that stays plane).
    Rigid,
    /// The node follows the mean movement of the area, which stays flexible: its force is shared
    /// out as by a bolt group with equal bolts.
    Even,
}

/// Loads on plates in one load case.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct PlateLoads {
    /// Loads on faces.
    pub faces: Vec<FaceLoad>,
    /// Loads along edges.
    pub edges: Vec<EdgeLoad>,
}

/// A load spread over a plate, per area of its mid-surface.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceLoad {
    /// The plate.
    pub plate: PlateId,
    /// Its elements by place; all where empty.
    pub elements: Vec<usize>,
    /// The load.
    pub acts: Acts,
}

/// A load per area.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Acts {
    /// Along the normal of each element, Pa; positive towards its top, that is, out of it.
    Normal(f64),
    /// In global directions, Pa, per true area.
    Global([f64; 3]),
}

/// A load along the straight line between two neighbouring corners of an element.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeLoad {
    /// The two corners.
    pub nodes: [NodeId; 2],
    /// Force per length at the first of them, N/m, global.
    pub from: [f64; 3],
    /// Force per length at the second, N/m, global.
    pub to: [f64; 3],
}
