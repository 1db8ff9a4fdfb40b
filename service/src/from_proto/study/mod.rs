//! Studies: what is asked about many designs.

pub(crate) mod batch;
mod changes;
pub(crate) mod compare;
pub(crate) mod designs;
pub(crate) mod guesses;
pub(crate) mod size;
pub(crate) mod weld_need;
pub(crate) mod what_if;
