//! Studies: what is told of many designs.

pub(crate) mod batch;
pub(crate) mod compare;
pub(crate) mod designs;
