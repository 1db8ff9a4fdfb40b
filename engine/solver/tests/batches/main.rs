//! Batches of designs against the solver that takes one at a time, closed forms, and promises about
//! threads, lanes, neighbours and memory.

mod build;
mod closed_forms;
mod doubtful;
mod one_by_one;
mod promises;
mod refusals;
