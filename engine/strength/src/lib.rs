//! Sections, materials, fasteners and the resistance formulas of published standards.
//!
//! Everything inside is in m, N, Pa, kg, rad. The crate knows no mesh and no vehicle.

pub mod catalog;
pub mod clause;
pub mod fatigue;
pub mod packs;
pub mod part;
pub mod remaining;
pub mod section;
