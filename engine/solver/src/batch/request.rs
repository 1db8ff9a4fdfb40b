//! What differs between the designs of a batch, and what is wanted of each.

use crate::model::{BeamId, Dof, MaterialId, NodeId, SectionId, SpringId};
use crate::validate::{NOT_NEGATIVE, POSITIVE, is_not_negative, is_positive};

/// One number of the frame that differs between designs. All others are those of the base frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Varied {
    /// A property of a section.
    Section(SectionId, SectionProperty),
    /// A property of a material.
    Material(MaterialId, MaterialProperty),
    /// Stiffness of a spring along or about one of its axes, N/m or N m/rad.
    Spring(SpringId, Dof),
}

impl Varied {
    /// Whether the number may take this value.
    pub(super) fn may_be(self, value: f64) -> bool {
        match self {
            Varied::Section(..) | Varied::Material(..) => is_positive(value),
            Varied::Spring(..) => is_not_negative(value),
        }
    }

    /// Which values it may take.
    pub(super) fn allowed(self) -> &'static str {
        match self {
            Varied::Section(..) | Varied::Material(..) => POSITIVE,
            Varied::Spring(..) => NOT_NEGATIVE,
        }
    }
}

/// A property of a section; axes as in [`crate::model::BeamSection`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SectionProperty {
    /// Area, m2.
    Area,
    /// Integral of z^2, m4.
    InertiaY,
    /// Integral of y^2, m4.
    InertiaZ,
    /// Torsion constant, m4.
    TorsionConstant,
    /// Shear area for forces along y, m2; only where the base section has one.
    ShearAreaY,
    /// Shear area for forces along z, m2; only where the base section has one.
    ShearAreaZ,
    /// [`Moduli::bending_y`], m3.
    ModulusY,
    /// [`Moduli::bending_z`], m3.
    ModulusZ,
    /// [`Moduli::torsion`], m3.
    TorsionModulus,
}

impl SectionProperty {
    /// All, in the order in which a batch keeps them.
    pub const ALL: [SectionProperty; 9] = [
        SectionProperty::Area,
        SectionProperty::InertiaY,
        SectionProperty::InertiaZ,
        SectionProperty::TorsionConstant,
        SectionProperty::ShearAreaY,
        SectionProperty::ShearAreaZ,
        SectionProperty::ModulusY,
        SectionProperty::ModulusZ,
        SectionProperty::TorsionModulus,
    ];
}

/// A property of a material.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MaterialProperty {
    /// Young's modulus, Pa.
    YoungsModulus,
    /// Shear modulus, Pa.
    ShearModulus,
}

/// What turns section forces into stress.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moduli {
    /// Moment about y over the largest normal stress it causes, m3.
    pub bending_y: f64,
    /// Moment about z over the largest normal stress it causes, m3.
    pub bending_z: f64,
    /// Torque over the largest shear stress it causes, m3.
    pub torsion: f64,
}

/// What is wanted of every design.
#[derive(Clone, Debug, PartialEq)]
pub struct BatchAsked {
    /// What differs, in the order in which the numbers of a design come.
    pub varied: Vec<Varied>,
    /// Moduli of the sections, in the order of the frame.
    pub moduli: Vec<Moduli>,
    /// Nodes whose movement is wanted.
    pub displacements: Vec<NodeId>,
    /// Whether the end forces of all members are wanted.
    pub end_forces: bool,
}

/// With what a batch is solved. Neither changes a bit of the answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Threads, the calling one included; 0 counts as 1.
    pub threads: usize,
    /// Designs at once on each thread.
    pub width: Width,
}

/// How many designs are solved at once on a thread.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Width {
    /// As many as the widest register of the processor holds.
    Widest,
    /// One.
    Single,
}

/// The answers of a batch. Lists are packed, design after design in the order given; the numbers
/// of a refused design are not numbers.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct BatchAnswer {
    /// Largest von Mises stress at the ends of members, Pa: a number a load case.
    pub worst_stress: Vec<f64>,
    /// Where that is: an end a load case.
    pub worst_at: Vec<MemberEnd>,
    /// Movements of the nodes asked for, global axes, m and rad: by load case, then by node, six
    /// each.
    pub displacements: Vec<f64>,
    /// What the ends of members receive from their nodes, local axes, N and N m: by load case, then
    /// by member, six of the start and six of the end. Empty unless asked for.
    pub end_forces: Vec<f64>,
    /// How far each design can be trusted.
    pub judged: Vec<Judged>,
    /// The designs that could not be solved, ascending, with the reason.
    pub refused: Vec<Refused>,
}

/// An end of a member.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MemberEnd {
    /// The member.
    pub beam: BeamId,
    /// Its end; else its start.
    pub at_end: bool,
}

/// How far the numbers of a design can be trusted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judged {
    /// Largest force or moment left over at a free movement, against the largest that the
    /// stiffness makes of the movements; both scaled to a stiffness with a diagonal of ones. Of a
    /// design that was solved on its own: its componentwise backward error.
    pub residual: f64,
    /// Smallest pivot of the scaled factor.
    pub smallest_pivot: f64,
    /// Whether the design was solved again on its own, with refinement in doubled precision,
    /// because pivot or residual left doubts.
    pub alone: bool,
}

/// A design that could not be solved.
#[derive(Clone, Debug, PartialEq)]
pub struct Refused {
    /// Position among the designs.
    pub design: usize,
    /// Why: as [`crate::statics()`] says of the design on its own.
    pub reason: crate::SolveError,
}

/// Why a batch was not solved.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum BatchError {
    /// Numbers of designs can't be used.
    #[error("{} number(s) of designs can't be used", .0.len())]
    Unusable(Vec<fishplate_quantity::Fault>),
    /// The caller asked to stop.
    #[error("cancelled")]
    Cancelled,
}
