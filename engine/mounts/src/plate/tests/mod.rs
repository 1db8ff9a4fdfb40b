//! Tests of the plate level.

mod geometry;
mod solving;
mod support;
