//! The job: from a described car and design to a verdict on every mount.
//!
//! Read [`pipeline`] first: it is one screen, and each arrow of the data flow is one pure function.

pub mod answer;
pub mod bush;
pub mod caller;
pub mod cradle;
pub mod describe;
pub mod design;
pub mod load_path;
pub mod loads;
pub mod pipeline;
pub mod plate;
pub mod scene;
pub mod study;

mod cases;
mod checks;
mod forces;
mod frames;
mod known;
mod stops;
mod telling;
mod unknown;
mod verdict;

pub use caller::{Caller, Progress};
pub use fishplate_solver::{Cancel, RunToEnd};
pub use pipeline::{Depth, Options, check, explain};
pub use telling::cautions;

use study::guesses;

use fishplate_quantity::Fault;

/// Why a project has no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum CheckError {
    /// Inputs that cannot be used: all of them.
    #[error("{} inputs cannot be used", .0.len())]
    Faults(Vec<Fault>),
    /// The model has no answer: a body can still move, or a solve did not come out right.
    #[error("{0}")]
    Unsolved(String),
    /// The row asked for is not in the answer.
    #[error("there is no row {asked}; rows are {known}")]
    NoSuchRow {
        /// What was asked for.
        asked: String,
        /// What there is.
        known: String,
    },
    /// The caller does not wait any more.
    #[error("cancelled")]
    Cancelled,
}
