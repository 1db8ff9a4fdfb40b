//! Studies: what is told of many designs.

pub(crate) mod designs;
