//! Whoever waits for an answer.

use crate::{Cancel, RunToEnd};

/// How far a check is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Progress {
    /// What is being done, in words: `front left: solving 14 200 unknowns`.
    pub doing: String,
    /// Steps of it done.
    pub done: usize,
    /// Its steps in all, as far as known.
    pub of: usize,
}

/// Whoever waits for an answer: may go away, and may want to know how far it is.
pub trait Caller: Cancel {
    /// Takes note of how far the check is. Must not wait: the check does.
    fn told(&self, progress: Progress);
}

impl Caller for RunToEnd {
    fn told(&self, _: Progress) {}
}

/// A caller who is not told about a part of the work, but may go away during it.
pub(crate) struct Untold<'a>(pub(crate) &'a dyn Caller);

impl Cancel for Untold<'_> {
    fn cancelled(&self) -> bool {
        self.0.cancelled()
    }
}

impl Caller for Untold<'_> {
    fn told(&self, _: Progress) {}
}
