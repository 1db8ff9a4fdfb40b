//! What the engine answers to responses. With [`from_proto`](crate::from_proto) the only place
//! that touches wire types; numbers leave SI here.

pub(crate) mod catalog;
pub(crate) mod check;
pub(crate) mod designs;
pub(crate) mod group;
pub(crate) mod mesh;
mod plate_mount;
pub(crate) mod plates;
pub(crate) mod rules;
mod scene;
pub(crate) mod section;
pub(crate) mod solver;
pub(crate) mod strength;
pub(crate) mod study;

use fishplate_proto::v1;

use crate::units::{MM, NMM};

/// A place, m.
pub(crate) fn position([x, y, z]: [f64; 3]) -> v1::Position {
    v1::Position { x_mm: x / MM, y_mm: y / MM, z_mm: z / MM }
}

/// Components in the unit of the field.
pub(crate) fn vector([x, y, z]: [f64; 3]) -> v1::Vector {
    v1::Vector { x, y, z }
}

/// Force (N) and moment (N m).
pub(crate) fn wrench([fx, fy, fz, mx, my, mz]: [f64; 6]) -> v1::Wrench {
    v1::Wrench {
        force_x_n: fx,
        force_y_n: fy,
        force_z_n: fz,
        moment_x_nmm: mx / NMM,
        moment_y_nmm: my / NMM,
        moment_z_nmm: mz / NMM,
    }
}
