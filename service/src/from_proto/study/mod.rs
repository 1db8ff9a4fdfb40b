//! Studies: what is asked about many designs.

pub(crate) mod batch;
mod changes;
pub(crate) mod compare;
pub(crate) mod designs;
