//! From loads that repeat to blocks of a spectrum: counting of a history, duties per distance.
//!
//! What a spectrum does to a detail is a matter of clauses; here a history of loads becomes cycles
//! ([`rainflow`]), and a distance driven becomes numbers of cycles ([`Duty`]).

mod duty;
mod rainflow;

pub use duty::{Duty, DutyBlock, DutyError};
pub use rainflow::{Cycle, rainflow, rainflow_repeating};
