//! Work shared between threads without any influence on the result.

use std::sync::Mutex;

/// Runs `run` on every item, on up to so many threads; each item is taken once, in order.
pub(crate) fn share<T: Send>(items: Vec<T>, threads: usize, run: impl Fn(T) + Sync) {
    let helpers = Ord::min(threads, items.len()).saturating_sub(1);
    if helpers == 0 {
        items.into_iter().for_each(run);
        return;
    }
    let waiting = Mutex::new(items.into_iter());
    let next = || waiting.lock().ok().and_then(|mut items| items.next());
    let work = || {
        while let Some(item) = next() {
            run(item);
        }
    };
    std::thread::scope(|scope| {
        for _ in 0..helpers {
            scope.spawn(work);
        }
        work();
    });
}
