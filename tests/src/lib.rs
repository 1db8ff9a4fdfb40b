//! What every acceptance test needs: the service inside this process, called over gRPC; sheets of
//! published values with what came out beside them; short words for structures and projects.
//!
//! The tests themselves stand in `tests/`: `verification` holds published and recomputed values,
//! `invariants` what must hold whatever the numbers, `refusals` what must be turned away and how.

pub mod asks;
pub mod plates;
pub mod project;
pub mod refusal;
pub mod service;
pub mod sheet;
pub mod structure;
