//! Tables of materials, fasteners and standard sections, each with its source, and look-ups by trade name.
//!
//! The tables are the text files under `tables/` of this crate: a header with title, source, how the numbers were entered,
//! and units; then one row a line. A look-up that fails names the nearest entries. Values that a formula gives
//! (stress areas, section properties) are computed, never listed twice. All results are in SI.
//!
//! ```
//! use fishplate_strength::catalog::{find_bolt_class, find_material, find_thread};
//! let steel = find_material("S275", 0.008)?;
//! let thread = find_thread("M12")?;
//! let class = find_bolt_class("10.9", thread.d)?;
//! assert_eq!((steel.f_y, class.f_ub), (275e6, 1000e6));
//! assert!((thread.a_s - 84.3e-6).abs() < 0.1e-6);
//! # Ok::<(), fishplate_strength::catalog::CatalogError>(())
//! ```

mod bolt_class;
mod duty;
mod entries;
mod error;
mod fatigue_detail;
mod hex;
mod joint;
#[cfg(test)]
mod listed;
mod material;
mod preload;
mod sections;
mod table;
mod thread;
mod thread_limits;
mod weld_metal;

pub use bolt_class::{BoltClass, bolt_classes, find_bolt_class};
pub use duty::{AssumedDuty, assumed_duties, find_duty};
pub use entries::{Entry, EntryKind, EntryValue, entries};
pub use error::CatalogError;
pub use fatigue_detail::{FatigueDetail, fatigue_details, find_fatigue_detail};
pub use hex::{HexSize, Washer, find_hex, find_washer, hex_sizes, washers};
pub use joint::{
    FaceFriction, NutFactor, TighteningMethod, face_frictions, find_face_friction, find_nut_factor,
    find_tightening, nut_factors, tightening_methods,
};
pub use material::{FuEdition, Material, find_material, materials};
pub use preload::{
    assembly_preload, assembly_torque, bearing_friction_diameter, preload_from_nut_factor,
};
pub use sections::{
    StandardSection, find_angle, find_round_tube, find_section, find_tube, standard_sections,
};
pub use thread::{Thread, ThreadSystem, find_thread, threads};
pub use thread_limits::ThreadLimits;
pub use weld_metal::{WeldMetal, find_weld_metal, weld_metals};
