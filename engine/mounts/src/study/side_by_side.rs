//! Independent pieces of work on several threads; the results stand in the order of the pieces.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::Duration;

use crate::{Cancel, CheckError};

/// How often a caller is asked whether he still waits.
const POLL: Duration = Duration::from_millis(20);

/// Whether the caller has given up, seen from every thread.
struct Stopped(AtomicBool);

impl Cancel for Stopped {
    fn cancelled(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}

/// The results of `work` on every piece, by as many threads as are given. Each thread carries a
/// `state` of its own from piece to piece, which must not change what comes out. `told` hears how
/// many pieces are done.
///
/// # Errors
/// [`CheckError::Cancelled`] where the caller does not wait any more.
pub(crate) fn each<S, T: Send>(
    pieces: usize,
    threads: usize,
    cancel: &dyn Cancel,
    told: &mut dyn FnMut(usize),
    state: impl Fn() -> S + Sync,
    work: impl Fn(&mut S, usize, &dyn Cancel) -> T + Sync,
) -> Result<Vec<T>, CheckError> {
    let (next, stopped) = (AtomicUsize::new(0), Stopped(AtomicBool::new(false)));
    let mut results: Vec<Option<T>> = (0..pieces).map(|_| None).collect();
    thread::scope(|scope| {
        let (tell, done) = channel();
        for _ in 0..threads.clamp(1, pieces.clamp(1, usize::MAX)) {
            let (tell, next, stopped, state, work) = (tell.clone(), &next, &stopped, &state, &work);
            scope.spawn(move || {
                let mut state = state();
                while !stopped.cancelled() {
                    let piece = next.fetch_add(1, Ordering::Relaxed);
                    if piece >= pieces
                        || tell.send((piece, work(&mut state, piece, stopped))).is_err()
                    {
                        break;
                    }
                }
            });
        }
        drop(tell);
        let mut count = 0;
        loop {
            match done.recv_timeout(POLL) {
                Ok((piece, result)) => {
                    results[piece] = Some(result);
                    count += 1;
                    told(count);
                }
                Err(RecvTimeoutError::Timeout) => {}
                Err(RecvTimeoutError::Disconnected) => break,
            }
            if cancel.cancelled() {
                stopped.0.store(true, Ordering::Relaxed);
            }
        }
    });
    results.into_iter().collect::<Option<Vec<T>>>().ok_or(CheckError::Cancelled)
}
