//! Tests of the plate level.

mod geometry;
mod solving;
pub(crate) mod support;
