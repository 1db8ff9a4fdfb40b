//! What a frame is made of: the draft as the caller fills it in.
//!
//! Every number is SI (m, N, Pa, kg, s, rad, K). Coordinates, offsets, nodal loads and
//! displacements are in the global right-handed axes unless a field says otherwise. The sign
//! conventions are stated once, on the page of this crate.

use crate::frame::FrameModel;
use fishplate_quantity::Fault;

macro_rules! index_type {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub usize);
    };
}

index_type!(
    /// Position of a node in [`FrameDraft::nodes`].
    NodeId
);
index_type!(
    /// Position of a section in [`FrameDraft::sections`].
    SectionId
);
index_type!(
    /// Position of a material in [`FrameDraft::materials`].
    MaterialId
);
index_type!(
    /// Position of a beam in [`FrameDraft::beams`].
    BeamId
);
index_type!(
    /// Position of a spring in [`FrameDraft::springs`].
    SpringId
);
index_type!(
    /// Position of a rigid link in [`FrameDraft::rigid_links`].
    LinkId
);
index_type!(
    /// Position of a support in [`FrameDraft::supports`].
    SupportId
);
index_type!(
    /// Position of a load case in [`FrameDraft::load_cases`].
    CaseId
);

/// One of the six movements of a node. Arrays of six follow this order everywhere:
/// translation x, y, z, rotation about x, y, z (forces x, y, z, moments about x, y, z).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dof {
    /// Translation along x, m.
    Ux,
    /// Translation along y, m.
    Uy,
    /// Translation along z, m.
    Uz,
    /// Rotation about x, rad.
    Rx,
    /// Rotation about y, rad.
    Ry,
    /// Rotation about z, rad.
    Rz,
}

impl Dof {
    /// All six, in the order of every array of six.
    pub const ALL: [Dof; 6] = [Dof::Ux, Dof::Uy, Dof::Uz, Dof::Rx, Dof::Ry, Dof::Rz];

    /// Position in an array of six.
    #[must_use]
    pub fn index(self) -> usize {
        self as usize
    }

    /// In words, for a message: `translation x`, `rotation about z`.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Dof::Ux => "translation x",
            Dof::Uy => "translation y",
            Dof::Uz => "translation z",
            Dof::Rx => "rotation about x",
            Dof::Ry => "rotation about y",
            Dof::Rz => "rotation about z",
        }
    }
}

/// A frame as the caller describes it, not yet checked. [`FrameDraft::validate`] turns it into a
/// [`FrameModel`], the only thing the solver accepts.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct FrameDraft {
    /// Nodes; all others refer to them by position.
    pub nodes: Vec<Node>,
    /// Cross-sections.
    pub sections: Vec<BeamSection>,
    /// Materials.
    pub materials: Vec<Material>,
    /// Straight prismatic members.
    pub beams: Vec<Beam>,
    /// Six-component springs between two nodes or a node and the ground.
    pub springs: Vec<Spring>,
    /// Rigid connections, exact.
    pub rigid_links: Vec<RigidLink>,
    /// Masses at nodes.
    pub masses: Vec<PointMass>,
    /// Supports.
    pub supports: Vec<Support>,
    /// Load cases. May be empty when only frequencies are wanted.
    pub load_cases: Vec<LoadCase>,
}

impl FrameDraft {
    /// Checks everything once and builds the model.
    ///
    /// # Errors
    /// All faults found, each with the path of the field (`beams[2].section`), what was given,
    /// what is allowed and how to put it right.
    pub fn validate(self) -> Result<FrameModel, Vec<Fault>> {
        crate::validate::validate(self)
    }
}

/// A point where members meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Node {
    /// Global coordinates, m.
    pub position: [f64; 3],
}

/// A cross-section in its local axes y, z with the origin at the centroid; local x runs along
/// the member.
#[derive(Clone, Debug, PartialEq)]
pub struct BeamSection {
    /// Area, m2.
    pub area: f64,
    /// Integral of z^2 over the area, m4: bending by forces along z.
    pub i_y: f64,
    /// Integral of y^2 over the area, m4: bending by forces along y.
    pub i_z: f64,
    /// Integral of y z over the area, m4, positive product (no minus sign).
    pub i_yz: f64,
    /// Saint-Venant torsion constant, m4.
    pub torsion_constant: f64,
    /// Shear area for forces along y, m2; `None` = rigid in shear (Euler-Bernoulli).
    pub shear_area_y: Option<f64>,
    /// Shear area for forces along z, m2; `None` = rigid in shear (Euler-Bernoulli).
    pub shear_area_z: Option<f64>,
    /// Shear centre, y from the centroid, m.
    pub shear_centre_y: f64,
    /// Shear centre, z from the centroid, m.
    pub shear_centre_z: f64,
    /// Points at which the normal stress is wanted.
    pub stress_points: Vec<StressPoint>,
    /// Torque over largest torsional shear stress, m3; `None` = that stress is not reported.
    pub torsion_modulus: Option<f64>,
}

/// A point of a cross-section at which the normal stress is wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct StressPoint {
    /// Name, returned beside the stress.
    pub name: String,
    /// y from the centroid, m.
    pub y: f64,
    /// z from the centroid, m.
    pub z: f64,
}

/// A linear elastic isotropic material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Material {
    /// Young's modulus, Pa.
    pub youngs_modulus: f64,
    /// Shear modulus, Pa.
    pub shear_modulus: f64,
    /// Density, kg/m3; 0 = massless.
    pub density: f64,
    /// Linear thermal expansion, 1/K.
    pub thermal_expansion: f64,
}

/// A straight prismatic member. Its axis is the centroid line; shear and torsion act at the
/// shear centre.
#[derive(Clone, Debug, PartialEq)]
pub struct Beam {
    /// Node at local x = 0.
    pub start: NodeId,
    /// Node at local x = length.
    pub end: NodeId,
    /// Cross-section.
    pub section: SectionId,
    /// Material.
    pub material: MaterialId,
    /// How the local axes y, z lie about the member axis.
    pub orientation: Orientation,
    /// Rigid arm from the start node to the start of the flexible length, global axes, m.
    pub offset_start: [f64; 3],
    /// Rigid arm from the end node to the end of the flexible length, global axes, m.
    pub offset_end: [f64; 3],
    /// How the start is joined to its rigid arm, in local axes, order of [`Dof`].
    pub releases_start: [Release; 6],
    /// How the end is joined to its rigid arm, in local axes, order of [`Dof`].
    pub releases_end: [Release; 6],
}

impl Beam {
    /// A member without offsets or releases.
    #[must_use]
    pub fn between(
        start: NodeId,
        end: NodeId,
        section: SectionId,
        material: MaterialId,
        orientation: Orientation,
    ) -> Self {
        Beam {
            start,
            end,
            section,
            material,
            orientation,
            offset_start: [0.0; 3],
            offset_end: [0.0; 3],
            releases_start: [Release::Fixed; 6],
            releases_end: [Release::Fixed; 6],
        }
    }
}

/// How the local axes y, z lie about the member axis x.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Orientation {
    /// Local z is the part of this global vector that stands square to the member; y = z cross x.
    ZTowards([f64; 3]),
    /// Local z points as far up (global +z) as it can, then is turned by this angle (rad,
    /// right-handed about local x). For a member that is vertical within 1e-6 rad, local y before
    /// the turn is global +y.
    Roll(f64),
}

/// How one movement of a member end follows its node.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Release {
    /// Follows.
    Fixed,
    /// Doesn't follow: no force or moment passes.
    Free,
    /// Follows through a spring of this stiffness (N/m or N m/rad).
    Spring(f64),
}

/// Six springs, one per local axis, between node `a` and node `b` or the ground.
///
/// The spring sits at node `a`; a distant `b` is carried there rigidly, so that a rigid movement
/// of both never strains it. Deformation is the movement of `a` relative to `b`, in the spring's
/// axes, less `preset`; the reported force is what `a` exerts on `b` through the spring. The axes
/// point from `b` (the ground) to `a`: positive = the ends part = tension.
#[derive(Clone, Debug, PartialEq)]
pub struct Spring {
    /// The node that the spring carries.
    pub a: NodeId,
    /// The other end; `None` = the ground.
    pub b: Option<NodeId>,
    /// The local axes: rows are unit vectors x, y, z in global components, right-handed.
    pub axes: [[f64; 3]; 3],
    /// Stiffness along and about the local axes, N/m and N m/rad; 0 = none.
    pub stiffness: [f64; 6],
    /// Deformation at which the spring is without force (lack of fit), m and rad, local axes.
    pub preset: [f64; 6],
    /// Law of each component.
    pub behaviour: [SpringAction; 6],
}

/// The global axes as the rows of a rotation.
pub const GLOBAL_AXES: [[f64; 3]; 3] = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];

/// The law of one spring component; `d` is the deformation less the preset.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SpringAction {
    /// force = stiffness * d.
    Linear,
    /// No force until the ends have come closer by `gap`, then stiffness * (d + gap), which is
    /// negative (pressing).
    CompressionOnly {
        /// Free closing before contact, m or rad, not negative.
        gap: f64,
    },
    /// No force until the ends have parted by `gap`, then stiffness * (d - gap).
    TensionOnly {
        /// Free parting before it pulls, m or rad, not negative.
        gap: f64,
    },
    /// Linear throughout, and beyond either gap a further stiffness is added.
    Stops {
        /// Free travel in the negative direction, m or rad, not negative.
        gap_negative: f64,
        /// Free travel in the positive direction, m or rad, not negative.
        gap_positive: f64,
        /// Stiffness added beyond the gap, N/m or N m/rad.
        stiffness: f64,
    },
}

/// A rigid connection: the linked movements of `slave` are those of a rigid body fixed to
/// `master`. Chains are allowed; a node has at most one master.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RigidLink {
    /// The leading node.
    pub master: NodeId,
    /// The following node.
    pub slave: NodeId,
    /// Which global movements of the slave follow.
    pub dofs: [bool; 6],
}

/// A mass at a node.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PointMass {
    /// Where.
    pub node: NodeId,
    /// Mass, kg.
    pub mass: f64,
    /// Inertia about the node, kg m2: moments about global x, y, z, then the products
    /// `-sum(m x y)`, `-sum(m y z)`, `-sum(m x z)` as they stand in the inertia matrix.
    pub inertia: [f64; 6],
}

/// A support of one node.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Support {
    /// Which node.
    pub node: NodeId,
    /// Axes in which it holds: rows are unit vectors in global components; [`GLOBAL_AXES`] as a
    /// rule.
    pub axes: [[f64; 3]; 3],
    /// What it does to each movement in those axes.
    pub dofs: [Restraint; 6],
}

/// What a support does to one movement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Restraint {
    /// Nothing.
    Free,
    /// Holds it both ways, at 0 or at the prescribed value of the load case.
    Fixed,
    /// Rigid stop against negative movement only: it pushes in the positive direction, never
    /// pulls (a bearing under the node when the axis points up).
    StopsNegative,
    /// Rigid stop against positive movement only: it pushes in the negative direction.
    StopsPositive,
}

/// Loads that act together.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct LoadCase {
    /// Name, returned with the answer.
    pub name: String,
    /// Forces and moments at nodes.
    pub nodal: Vec<NodalLoad>,
    /// Loads spread along members.
    pub line: Vec<LineLoad>,
    /// Forces and moments within members.
    pub point: Vec<BeamPointLoad>,
    /// Temperatures of members.
    pub thermal: Vec<ThermalLoad>,
    /// Prescribed movements of supports.
    pub prescribed: Vec<Prescribed>,
    /// Acceleration field, m/s2, global: every mass feels mass * acceleration
    /// (gravity is `[0, 0, -9.80665]`).
    pub acceleration: [f64; 3],
}

/// A force and a moment at a node, global axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NodalLoad {
    /// Where.
    pub node: NodeId,
    /// Force, N.
    pub force: [f64; 3],
    /// Moment, N m, right-handed.
    pub moment: [f64; 3],
}

/// In which axes the components of a load within a member are given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoadAxes {
    /// Global axes; per metre of true length, not projected.
    Global,
    /// The member's local axes.
    Local,
}

/// At which point of the cross-section a load within a member acts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LoadPoint {
    /// At the centroid.
    Centroid,
    /// At the shear centre: a transverse force doesn't twist the member.
    ShearCentre,
    /// At y, z from the centroid, local axes, m.
    At(f64, f64),
}

/// Which part of the flexible length a line load covers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Span {
    /// All of it.
    Whole,
    /// From one distance to another, m from the start of the flexible length.
    Between(f64, f64),
}

/// A load spread along a member, varying linearly over its span.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LineLoad {
    /// Which member.
    pub beam: BeamId,
    /// Where along it.
    pub span: Span,
    /// Axes of the components.
    pub axes: LoadAxes,
    /// Point of the cross-section where the force acts.
    pub acts_at: LoadPoint,
    /// Force per length where the span begins, N/m.
    pub force_from: [f64; 3],
    /// Force per length where the span ends, N/m.
    pub force_to: [f64; 3],
    /// Moment per length where the span begins, N m/m.
    pub moment_from: [f64; 3],
    /// Moment per length where the span ends, N m/m.
    pub moment_to: [f64; 3],
}

/// A force and a moment at one station of a member.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeamPointLoad {
    /// Which member.
    pub beam: BeamId,
    /// Distance from the start of the flexible length, m.
    pub at: f64,
    /// Axes of the components.
    pub axes: LoadAxes,
    /// Point of the cross-section where the force acts.
    pub acts_at: LoadPoint,
    /// Force, N.
    pub force: [f64; 3],
    /// Moment, N m.
    pub moment: [f64; 3],
}

/// The temperature of a member against the stress-free state:
/// `uniform + gradient_y * y + gradient_z * z`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThermalLoad {
    /// Which member.
    pub beam: BeamId,
    /// At the centroid, K.
    pub uniform: f64,
    /// Along local y, K/m.
    pub gradient_y: f64,
    /// Along local z, K/m.
    pub gradient_z: f64,
}

/// A prescribed movement of a supported node.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prescribed {
    /// Which node; it must have a support that restrains `dof`.
    pub node: NodeId,
    /// Which movement, in the axes of the support.
    pub dof: Dof,
    /// How far, m or rad.
    pub value: f64,
}
