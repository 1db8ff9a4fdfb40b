//! Studies: what is asked about many designs.

mod changes;
pub(crate) mod compare;
pub(crate) mod designs;
