//! Plates in space: flat shell elements, welded, bolted and pressed together, with beams and springs
//! in the same model.
//!
//! A [`model::PlateDraft`] holds a [`crate::model::FrameDraft`] and what plates add to it. The
//! conventions are those of the crate. A plate's own z is the normal out of its top face: the
//! corners of its elements go round anticlockwise seen from there. A positive moment `m_x` pulls at
//! the top in x.
//!
//! The way of a draft: `validate` and `validate_joints` check it, `shells` puts elements and axes of
//! nodes in their places, `assembly` numbers unknowns and sums stiffness, `system` factors, solves and
//! judges, `joints` finds what presses and slides, `statics` tells ([`answer`]) with `stress` and
//! `lines`, `second_order` where the load is near the critical one.

pub mod answer;
mod assembly;
mod buckling;
mod element;
mod export;
mod frequencies;
mod joints;
mod lines;
mod loads;
pub mod model;
mod second_order;
mod shells;
mod statics;
mod stress;
mod system;
mod validate;
mod validate_joints;

pub use buckling::buckling;
pub use export::{Export, ExportAxes, export};
pub use frequencies::frequencies;
pub use shells::PlateModel;
pub use statics::statics;
