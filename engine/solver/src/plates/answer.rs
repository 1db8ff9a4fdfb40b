//! What is asked of a solve of plates and what it answers.

use super::model::{BoltId, ContactId, PlateId, SeamId, SpotId, SpreadId};
use crate::answer::{BeamAnswer, LinkAnswer, Quality, Reaction, SpringAnswer, Station};
use crate::model::NodeId;

/// What is wanted beyond movements, reactions and the forces of joints.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateAsked {
    /// Plates whose stresses are wanted.
    pub stresses: Vec<PlateId>,
    /// Lines of nodes along which the forces of a plate are wanted.
    pub lines: Vec<PlateLine>,
    /// Stations of every beam.
    pub stations: Vec<Station>,
    /// Whether cases whose load is above a tenth of the critical one are solved on the deformed
    /// structure (EN 1993-1-1:2005, 5.2.1 (3)).
    pub second_order: bool,
    /// Threads that may work at the same time; the numbers do not depend on it.
    pub threads: usize,
}

/// A line of nodes of a plate: an edge, a fold, a row between elements.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateLine {
    /// The plate.
    pub plate: PlateId,
    /// Corners of its elements, neighbours along their edges, at least two. A line that ends where
    /// it began is closed. The forces are those of the elements to its left, walking along it
    /// on the top face.
    pub nodes: Vec<NodeId>,
}

/// All load cases, in the order of the model.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateAnswer {
    /// One answer a case.
    pub cases: Vec<PlateCaseAnswer>,
    /// Size of the equation system.
    pub size: SystemSize,
}

/// Size of the equation system.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SystemSize {
    /// Unknowns.
    pub unknowns: usize,
    /// Entries of the lower triangle.
    pub entries: usize,
    /// Entries of its factor.
    pub factor_entries: usize,
}

/// One load case.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateCaseAnswer {
    /// Name of the case.
    pub name: String,
    /// Movement of every node, global axes, m and rad.
    pub displacements: Vec<[f64; 6]>,
    /// What each support exerts on its node.
    pub reactions: Vec<Reaction>,
    /// Beams, in the order of the model.
    pub beams: Vec<BeamAnswer>,
    /// Springs, in the order of the model.
    pub springs: Vec<SpringAnswer>,
    /// Rigid links, in the order of the model.
    pub links: Vec<LinkAnswer>,
    /// Spreads, in the order of the model.
    pub spreads: Vec<SpreadAnswer>,
    /// Seams, in the order of the model.
    pub seams: Vec<SeamAnswer>,
    /// Spots, in the order of the model.
    pub spots: Vec<SpotAnswer>,
    /// Bolts, in the order of the model.
    pub bolts: Vec<BoltAnswer>,
    /// Contacts, in the order of the model.
    pub contacts: Vec<ContactAnswer>,
    /// Stresses of the plates asked for, in their order.
    pub stresses: Vec<PlateStress>,
    /// Lines asked for, in their order.
    pub lines: Vec<LineForces>,
    /// How the search for the faces that press ended.
    pub search: Search,
    /// Critical load factor, where second order was asked for and the plates can buckle.
    pub critical: Option<f64>,
    /// Whether equilibrium was found on the deformed structure.
    pub second_order: bool,
    /// How far these numbers can be trusted.
    pub quality: Quality,
}

/// How the search for the faces that press ended.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Search {
    /// Rounds made.
    pub rounds: usize,
    /// Whether the quick search, in which all places change at once, had to give way to the one
    /// that goes from step to step no farther than the stored energy falls.
    pub one_at_a_time: bool,
    /// Rounds of friction; 0 without friction.
    pub friction_rounds: usize,
    /// Change of the forces of friction in the last round, against the largest; 0 when settled.
    pub friction_rest: f64,
}

/// Force through a spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpreadAnswer {
    /// The spread.
    pub spread: SpreadId,
    /// Force (N) and moment (N m) of its node on the area, about the node, global axes.
    pub force: [f64; 6],
}

/// Forces along a weld run.
#[derive(Clone, Debug, PartialEq)]
pub struct SeamAnswer {
    /// The seam.
    pub seam: SeamId,
    /// Stations from the start of the run to its end.
    pub stations: Vec<SeamStation>,
    /// Force (N) and moment (N m) of the welded edge on what it is welded to, about the middle of
    /// the run by length, global axes.
    pub force: [f64; 6],
    /// The point about which the moment is taken, m.
    pub about: [f64; 3],
}

/// A piece of a weld run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SeamStation {
    /// Distance of its middle from the start of the run, m.
    pub at: f64,
    /// Length that it stands for, m.
    pub length: f64,
    /// Its middle, m.
    pub point: [f64; 3],
    /// Force per length of the welded edge on what it is welded to, N/m: along `leg_on`, along
    /// `leg_up`, along the run.
    pub force: [f64; 3],
    /// Moment per length about the run, N m/m, right-handed.
    pub moment: f64,
}

/// Force through a spot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpotAnswer {
    /// The spot.
    pub spot: SpotId,
    /// Force (N) and moment (N m) of the first plate on the second, about the centre, global axes.
    pub force: [f64; 6],
}

/// Forces of a bolt.
#[derive(Clone, Debug, PartialEq)]
pub struct BoltAnswer {
    /// The bolt.
    pub bolt: BoltId,
    /// Tension of the shank, N, preload included; never negative.
    pub tension: f64,
    /// Shear in the shank between one plate and the next, N, global axes: what the side of the
    /// head receives. None where the shank touches no wall.
    pub shear: Vec<[f64; 3]>,
    /// Bending moment of the shank where it is largest, N m.
    pub bending: f64,
    /// Force of the shank on the wall of each hole, N, global axes.
    pub bearing: Vec<[f64; 3]>,
    /// What passes through the shank between one plate and the next.
    pub through: Vec<BoltCut>,
}

/// What a shank carries across a cut between two plates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoltCut {
    /// Force (N) and moment (N m) of the side of the head on the side of the nut, about `about`,
    /// global axes.
    pub force: [f64; 6],
    /// The point about which the moment is taken, m.
    pub about: [f64; 3],
}

/// Pressing faces.
#[derive(Clone, Debug, PartialEq)]
pub struct ContactAnswer {
    /// The contact.
    pub contact: ContactId,
    /// Its places.
    pub places: Vec<ContactPlace>,
    /// Force (N) and moment (N m) of `of` on `onto`, about `about`, global axes.
    pub force: [f64; 6],
    /// Middle of its places by area, m.
    pub about: [f64; 3],
    /// Area of the places that press, m2.
    pub pressed: f64,
    /// Area of all places, m2.
    pub area: f64,
}

/// A place of a contact.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ContactPlace {
    /// The node.
    pub node: NodeId,
    /// Area that it stands for, m2.
    pub area: f64,
    /// Pressing force, N, not negative.
    pub pressing: f64,
    /// Opening, m, not negative.
    pub opening: f64,
    /// Force of friction of `of` on `onto`, N, global axes.
    pub friction: [f64; 3],
}

/// Stresses of a plate.
#[derive(Clone, Debug, PartialEq)]
pub struct PlateStress {
    /// The plate.
    pub plate: PlateId,
    /// In its elements, in their order.
    pub elements: Vec<ElementForces>,
    /// At its nodes: averaged over the elements that meet there without a fold (within 10°), one
    /// entry for each group of such elements.
    pub nodes: Vec<NodeForces>,
}

/// Forces within an element, per length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ElementForces {
    /// Axes of the components: rows are unit vectors x, y in the plane, z out of the top.
    pub axes: [[f64; 3]; 3],
    /// At its centre.
    pub centre: Resultants,
    /// At its corners, in their order; a triangle repeats its last.
    pub corners: [Resultants; 4],
}

/// Forces of a plate at a node, per length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NodeForces {
    /// The node.
    pub node: NodeId,
    /// Axes of the components.
    pub axes: [[f64; 3]; 3],
    /// The forces.
    pub forces: Resultants,
}

/// Forces along a line of nodes, from the forces at the nodes of the elements to its left: they
/// are in balance with the loads, and converge at clamped edges, folds and seams, where stresses
/// within elements do so slowly.
#[derive(Clone, Debug, PartialEq)]
pub struct LineForces {
    /// Its nodes, in their order; a closed line names its first once.
    pub stations: Vec<LineStation>,
    /// Force (N) and moment (N m) on the elements to the left through the line, about `about`,
    /// global axes.
    pub force: [f64; 6],
    /// Middle of its nodes, m.
    pub about: [f64; 3],
}

/// Forces per length at a node of a line. Their axes are x square to the line away from the
/// elements to its left, y along the line, z out of the top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineStation {
    /// The node.
    pub node: NodeId,
    /// Length that it stands for, m.
    pub length: f64,
    /// Membrane force across the line, N/m; tension positive.
    pub normal: f64,
    /// Membrane shear along the line, N/m.
    pub shear: f64,
    /// Transverse force, N/m; on the cut it acts towards the top.
    pub transverse: f64,
    /// Bending moment, N m/m: a positive one pulls at the top square to the line.
    pub moment: f64,
    /// Twisting moment, N m/m, the sign that of [`Resultants::bending`].
    pub twist: f64,
}

/// Forces and moments per length on the cuts of a plate.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Resultants {
    /// Membrane forces x, y, xy, N/m; tension positive.
    pub membrane: [f64; 3],
    /// Moments x, y, xy, N m/m: a positive one pulls at the top face in its direction.
    pub bending: [f64; 3],
}

/// A face of a plate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Face {
    /// Where the normal points.
    Top,
    /// The mid-surface.
    Middle,
    /// The other.
    Bottom,
}

/// Stress in the plane of a plate: x, y, xy, Pa; tension positive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlaneStress(pub [f64; 3]);

impl Resultants {
    /// Stress at a face: `n / t`, and `± 6 m / t²` at the two faces.
    #[must_use]
    pub fn stress(&self, face: Face, thickness: f64) -> PlaneStress {
        let share = match face {
            Face::Top => 6.0,
            Face::Middle => 0.0,
            Face::Bottom => -6.0,
        };
        PlaneStress([0, 1, 2].map(|i| {
            self.membrane[i] / thickness + share * self.bending[i] / (thickness * thickness)
        }))
    }

    /// The larger von Mises stress of the two faces and the middle, Pa, and where.
    #[must_use]
    pub fn worst(&self, thickness: f64) -> (f64, Face) {
        let mut worst = (0.0, Face::Middle);
        for face in [Face::Top, Face::Middle, Face::Bottom] {
            let stress = self.stress(face, thickness).von_mises();
            if stress > worst.0 {
                worst = (stress, face);
            }
        }
        worst
    }
}

impl PlaneStress {
    /// Von Mises stress of a plane state, Pa.
    #[must_use]
    pub fn von_mises(self) -> f64 {
        let [x, y, xy] = self.0;
        (x * x - x * y + y * y + 3.0 * xy * xy).sqrt()
    }

    /// Principal stresses, the larger first, Pa, and the angle from x to the larger, rad.
    #[must_use]
    pub fn principal(self) -> ([f64; 2], f64) {
        let [x, y, xy] = self.0;
        let middle = 0.5 * (x + y);
        let radius = (0.25 * (x - y) * (x - y) + xy * xy).sqrt();
        ([middle + radius, middle - radius], 0.5 * (2.0 * xy).atan2(x - y))
    }
}
