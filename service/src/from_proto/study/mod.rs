//! Studies: what is asked about many designs.

mod changes;
pub(crate) mod designs;
