//! Frames and plates in three dimensions: displacements, reactions, forces and stresses, buckling
//! loads and natural frequencies. This crate knows no car and no standard.
//!
//! Describe a frame in a [`model::FrameDraft`], let [`model::FrameDraft::validate`] check it, and
//! ask [`statics()`], [`buckling()`] or [`frequencies()`]. Structures with plates have the same of
//! their own in [`plates`].
//!
//! # Conventions
//!
//! **Units** are m, N, Pa, kg, s, rad, K, as f64.
//!
//! **Axes.** Global x, y, z are right-handed. Rotations and moments are right-handed about the
//! axes: a positive rotation about y takes +x towards -z. Local x of a member runs from its start
//! to its end along the centroid line; local y, z lie in the cross-section.
//!
//! **Sections.** `i_y` is the integral of z^2 (bending by forces along z), `i_z` that of y^2,
//! `i_yz` that of y z, without a minus sign. Axial force acts at the centroid; shear and torsion
//! act at the shear centre.
//!
//! **Section forces** act on the cut whose outward normal is local +x, that is, on the part
//! towards the start: N positive in tension, Vy and Vz along +y and +z, T, My, Mz right-handed.
//! A positive My pulls at +z, a positive Mz pulls at -y:
//! `sigma = N / A + My z / Iy - Mz y / Iz` for principal axes. With loads q and moments m per
//! length: `N' = -qx`, `Vy' = -qy`, `Vz' = -qz`, `T' = -mx`, `My' = Vz - my`, `Mz' = -Vy - mz`.
//!
//! **End forces** of a member are what its ends receive from the nodes: at the end they equal the
//! section forces, at the start their negatives (torque about the centroid, not the shear centre).
//!
//! **Reactions** are what supports exert on their nodes. **Spring forces** are what node `a`
//! exerts on node `b` or the ground through the spring. **Link forces** act on the slave.
//!
//! **Arrays of six** are ordered x, y, z, about x, about y, about z ([`model::Dof`]).
//!
//! # How a number earns trust
//!
//! Constraints are eliminated, never imitated by stiffness. Every solution is refined with
//! residuals in doubled precision and carries its backward error, its balance of forces and
//! moments, its balance of energy and the condition of the stiffness ([`answer::Quality`]). A
//! frame that can move freely is refused with the node and the direction
//! ([`SolveError::Mechanism`]); one that f64 can't carry is refused too
//! ([`SolveError::IllConditioned`]).
//!
//! The same request gives the same bits: fixed order of sums, however many threads, no fused
//! products.

pub mod answer;
mod assembly;
pub mod batch;
mod beam;
mod buckling;
mod contact;
mod error;
mod frame;
mod frequencies;
pub mod group;
mod judge;
pub mod linear;
mod mechanism;
pub mod mesh;
pub mod model;
mod modes;
mod part;
pub mod plates;
mod reduction;
mod statics;
mod system;
mod validate;
mod vector;

pub use answer::{Asked, Side, StaticAnswer, Station};
pub use beam::inertia::RotaryInertia;
pub use buckling::{BucklingAnswer, BucklingAsked, BucklingMode, buckling};
pub use error::{Cancel, ContactId, FreeMotion, RunToEnd, SolveError};
pub use frame::FrameModel;
pub use frequencies::{FrequenciesAnswer, FrequenciesAsked, VibrationMode, frequencies};
pub use model::FrameDraft;
pub use modes::ModeShape;
pub use statics::statics;
