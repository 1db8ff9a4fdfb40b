//! Studies: what is told of many designs.

pub(crate) mod batch;
pub(crate) mod compare;
pub(crate) mod designs;
pub(crate) mod guesses;
pub(crate) mod size;
pub(crate) mod weld_need;
pub(crate) mod what_if;
