//! The job: from a described car and design to a verdict on every mount.
//!
//! Read [`pipeline`] first: it is one screen, and each arrow of the data flow is one pure function.

pub mod answer;
pub mod bush;
pub mod cradle;
pub mod describe;
pub mod design;
pub mod load_path;
pub mod loads;
pub mod scene;
