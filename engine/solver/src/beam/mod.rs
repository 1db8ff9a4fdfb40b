//! The beam element in its natural modes.
//!
//! An element resists six deformations only; the other six movements of its twelve are those of a
//! rigid body. Keeping the two apart (J. H. Argyris, "Recent Advances in Matrix Methods of
//! Structural Analysis", 1964: natural modes) makes a rigid movement strain nothing exactly, and
//! lets residuals be formed from deformations instead of from large cancelling numbers.
//!
//! | mode | deformation | force |
//! |---|---|---|
//! | 0 | `ux2 - ux1` | N |
//! | 1 | `rx2 - rx1` | T about the shear centre |
//! | 2, 3 | `ry2 - ry1`, `rz2 - rz1` | mean of the end moments My, Mz |
//! | 4 | `ry1 + ry2 + 2 (w2 - w1) / L` | half the growth of My from start to end |
//! | 5 | `rz1 + rz2 - 2 (v2 - v1) / L` | half the growth of Mz from start to end |
//!
//! with u at the centroid, v, w at the shear centre. Moments vary as
//! `M(x) = mean + growth (2 x / L - 1)`, shear is `Vz = 2 growth_y / L`, `Vy = -2 growth_z / L`.
//!
//! * [`element`]: stiffness and the joint of the ends to their nodes (offsets, releases).
//! * [`loads`]: loads within the member.
//! * [`recovery`]: section forces, stresses and movements at a station.
//! * [`inertia`]: mass and geometric stiffness.

pub(crate) mod element;
pub(crate) mod inertia;
pub(crate) mod loads;
pub(crate) mod recovery;
