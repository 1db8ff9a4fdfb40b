//! A study under way: how far it is, and by how many threads it may be done.

use super::side_by_side;
use crate::{Caller, Cancel, CheckError, Progress};

/// A study under way.
pub(super) struct Work<'a> {
    caller: &'a dyn Caller,
    threads: usize,
    done: usize,
    of: usize,
}

impl<'a> Work<'a> {
    /// Work for `caller` by at most `threads` threads.
    pub(super) fn new(caller: &'a dyn Caller, threads: usize) -> Self {
        Self { caller, threads, done: 0, of: 0 }
    }

    /// Says that so many more pieces are to come.
    pub(super) fn expect(&mut self, more: usize) {
        self.of += more;
    }

    /// Does `pieces` pieces, which were expected, and gives what they made in their order.
    ///
    /// # Errors
    /// A caller who does not wait any more; else the error of the first piece that has one.
    pub(super) fn all<T: Send>(
        &mut self,
        doing: &str,
        pieces: usize,
        piece: impl Fn(usize, &dyn Cancel) -> Result<T, CheckError> + Sync,
    ) -> Result<Vec<T>, CheckError> {
        let (caller, before, of) = (self.caller, self.done, self.of);
        let mut told = |done: usize| {
            caller.told(Progress { doing: doing.to_owned(), done: before + done, of });
        };
        let work = |(): &mut (), at: usize, cancel: &dyn Cancel| piece(at, cancel);
        let made = side_by_side::each(pieces, self.threads, caller, &mut told, || (), work)?;
        self.done += pieces;
        made.into_iter().collect()
    }
}
