//! What is asked of a static solve and what it answers.

use crate::error::ContactId;
use crate::model::{BeamId, LinkId, NodeId, SpringId, SupportId};
use std::collections::BTreeMap;

/// What is wanted beyond displacements, reactions and end forces.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Asked {
    /// Stations of every member that `stations` doesn't list.
    pub every_beam: Vec<Station>,
    /// Stations of single members, instead of `every_beam`.
    pub stations: BTreeMap<BeamId, Vec<Station>>,
}

impl Asked {
    /// Displacements, reactions and end forces only.
    #[must_use]
    pub fn ends() -> Self {
        Asked::default()
    }

    /// Every member at `count` equal steps, both ends included.
    #[must_use]
    pub fn even(count: usize) -> Self {
        let steps = if count < 2 { 1 } else { count - 1 };
        let every_beam = (0..count).map(|i| Station::at(i as f64 / steps as f64)).collect();
        Asked { every_beam, stations: BTreeMap::new() }
    }
}

/// A place along the flexible length of a member.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Station {
    /// 0 at the start, 1 at the end.
    pub fraction: f64,
    /// Which side of a load that acts right there.
    pub side: Side,
}

impl Station {
    /// Just before any load at that place; at the start, just after it.
    #[must_use]
    pub fn at(fraction: f64) -> Self {
        let side = if fraction > 0.0 { Side::Before } else { Side::After };
        Station { fraction, side }
    }

    /// Just after any load at that place.
    #[must_use]
    pub fn after(fraction: f64) -> Self {
        Station { fraction, side: Side::After }
    }
}

/// The side of a station from which a point load is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Towards the start.
    Before,
    /// Towards the end.
    After,
}

/// All load cases, in the order of the model.
#[derive(Clone, Debug, PartialEq)]
pub struct StaticAnswer {
    /// One answer a case.
    pub cases: Vec<CaseAnswer>,
}

/// One load case.
#[derive(Clone, Debug, PartialEq)]
pub struct CaseAnswer {
    /// Name of the case.
    pub name: String,
    /// Movement of every node, global axes, m and rad.
    pub displacements: Vec<[f64; 6]>,
    /// What each support exerts on its node.
    pub reactions: Vec<Reaction>,
    /// Members, in the order of the model.
    pub beams: Vec<BeamAnswer>,
    /// Springs, in the order of the model.
    pub springs: Vec<SpringAnswer>,
    /// Rigid links, in the order of the model.
    pub links: Vec<LinkAnswer>,
    /// One-sided contacts: which of them press, and how the search ended.
    pub contact: ContactReport,
    /// How far these numbers can be trusted.
    pub quality: Quality,
}

/// What a support exerts on its node.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reaction {
    /// The support.
    pub support: SupportId,
    /// Its node.
    pub node: NodeId,
    /// Force (N) and moment (N m) on the node, global axes.
    pub force: [f64; 6],
    /// The same in the axes of the support.
    pub local: [f64; 6],
}

/// Forces and stresses of one member.
#[derive(Clone, Debug, PartialEq)]
pub struct BeamAnswer {
    /// The member.
    pub beam: BeamId,
    /// What the start and the end of the flexible length receive from their nodes: force (N) and
    /// moment (N m) about the centroid, local axes.
    pub end_forces: [[f64; 6]; 2],
    /// Movement of node less movement of member end at released components, local axes.
    pub release_movement: [[f64; 6]; 2],
    /// The stations asked for, in their order.
    pub stations: Vec<StationAnswer>,
}

/// One station of a member.
#[derive(Clone, Debug, PartialEq)]
pub struct StationAnswer {
    /// The place.
    pub station: Station,
    /// Section forces.
    pub forces: SectionForces,
    /// Movement of the centroid and rotation of the section, global axes, m and rad.
    pub displacement: [f64; 6],
    /// Normal stress at the stress points of the section, Pa, tension positive.
    pub normal_stress: Vec<f64>,
    /// Largest torsional shear stress, Pa, sign of the torque; `None` without a torsion modulus.
    pub torsion_stress: Option<f64>,
}

/// Forces on the cut whose outward normal is local +x, in local axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SectionForces {
    /// Axial force at the centroid, N, tension positive.
    pub n: f64,
    /// Shear along y, N.
    pub v_y: f64,
    /// Shear along z, N.
    pub v_z: f64,
    /// Torque about the shear centre, N m, right-handed about +x.
    pub t: f64,
    /// Moment about y, N m, right-handed: positive pulls at +z.
    pub m_y: f64,
    /// Moment about z, N m, right-handed: positive pulls at -y.
    pub m_z: f64,
}

/// One spring, in its axes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpringAnswer {
    /// The spring.
    pub spring: SpringId,
    /// Movement of `a` relative to `b` less the preset, m and rad.
    pub deformation: [f64; 6],
    /// What `a` exerts on `b` through the spring, N and N m; positive = tension.
    pub force: [f64; 6],
}

/// What a rigid link carries.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LinkAnswer {
    /// The link.
    pub link: LinkId,
    /// Force (N) and moment (N m) on the slave, about the slave, global axes.
    pub force_on_slave: [f64; 6],
}

/// How the search for pressing contacts ended.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct ContactReport {
    /// Equation systems solved.
    pub steps: usize,
    /// Contacts that carry force (stops: that are reached), in order.
    pub closed: Vec<ContactId>,
    /// Contacts that do not, in order.
    pub open: Vec<ContactId>,
    /// Whether the quick search had to give way to the one that changes a contact at a time.
    pub one_at_a_time: bool,
}

/// How far the numbers of a case can be trusted. All figures are relative.
#[derive(Clone, Debug, PartialEq)]
pub struct Quality {
    /// Componentwise backward error of the displacements.
    pub backward_error: f64,
    /// Largest unbalanced force or moment at a free node, against the loads.
    pub residual: f64,
    /// Sum of loads, reactions and ground springs, against the loads: force x, y, z, moment x, y,
    /// z about the middle of the model.
    pub equilibrium: [f64; 6],
    /// Work of the loads and reactions less the work within the members.
    pub energy: f64,
    /// 1-norm condition estimate of the diagonally scaled stiffness.
    pub condition: f64,
    /// Smallest pivot of the scaled factor.
    pub smallest_pivot: f64,
    /// Correction that the last refinement step made, against the displacements.
    pub last_correction: f64,
    /// Refinement steps with residuals in doubled precision.
    pub refinements: usize,
    /// What the reader ought to know.
    pub warnings: Vec<Warning>,
}

/// A remark on the trustworthiness of a case.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Warning {
    /// Small changes of the input change the answer much: condition times the roundoff of f64.
    Sensitive {
        /// That product.
        bound: f64,
        /// The node that the soft motion moves most.
        softest: NodeId,
    },
    /// Loads and reactions balance less well than 1e-9.
    Unbalanced {
        /// Largest relative imbalance.
        worst: f64,
    },
    /// Rotations so large that a small-displacement theory no longer holds.
    LargeRotation {
        /// Node with the largest rotation.
        node: NodeId,
        /// That rotation, rad.
        rotation: f64,
    },
}
