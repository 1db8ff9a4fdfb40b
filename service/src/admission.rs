//! Who may compute now: as many calls as there are slots, a short queue behind them, and a budget
//! of memory for what they factorise.

use std::sync::Arc;

use tokio::sync::{OwnedSemaphorePermit, Semaphore, watch};
use tokio::time::timeout;

use crate::errors::Refusal;
use crate::limits::Limits;

/// One unit of the memory budget, bytes.
const MEMORY_UNIT: usize = 1 << 20;

/// The slots of one server.
#[derive(Debug)]
pub(crate) struct Admission {
    slots: Arc<Semaphore>,
    queue: Arc<Semaphore>,
    memory: Arc<Semaphore>,
    running: watch::Sender<usize>,
    wait: std::time::Duration,
}

/// The right to compute. It goes back when it is dropped, so it has to live where the work is
/// done: a caller that hangs up does not free the processor.
#[derive(Debug)]
pub(crate) struct Slot {
    memory: Arc<Semaphore>,
    running: watch::Sender<usize>,
    wait: std::time::Duration,
    permit: Option<OwnedSemaphorePermit>,
}

impl Drop for Slot {
    fn drop(&mut self) {
        // First the slot, then the count: who sees the count finds the slot free.
        drop(self.permit.take());
        self.running.send_modify(|running| *running -= 1);
    }
}

impl Admission {
    pub(crate) fn new(limits: &Limits) -> Self {
        Self {
            slots: Arc::new(Semaphore::new(limits.slots)),
            queue: Arc::new(Semaphore::new(limits.queue)),
            memory: Arc::new(Semaphore::new(limits.memory / MEMORY_UNIT)),
            running: watch::Sender::new(0),
            wait: limits.queue_wait,
        }
    }

    /// How many calls compute, as it changes.
    pub(crate) fn running(&self) -> watch::Receiver<usize> {
        self.running.subscribe()
    }

    /// A slot: at once, or after a short wait, or never.
    pub(crate) async fn enter(&self) -> Result<Slot, Refusal> {
        let full = || Refusal::Full { retry_after: self.wait };
        let permit = match Arc::clone(&self.slots).try_acquire_owned() {
            Ok(permit) => permit,
            Err(_) => {
                let _place = self.queue.try_acquire().map_err(|_| full())?;
                let waiting = Arc::clone(&self.slots).acquire_owned();
                timeout(self.wait, waiting)
                    .await
                    .map_err(|_| full())?
                    .expect("the slots are never closed")
            }
        };
        self.running.send_modify(|running| *running += 1);
        Ok(Slot {
            memory: Arc::clone(&self.memory),
            running: self.running.clone(),
            wait: self.wait,
            permit: Some(permit),
        })
    }
}

impl Slot {
    /// Sets `bytes` of memory aside, for as long as the answer is kept.
    pub(crate) fn memory(&self, bytes: usize) -> Result<OwnedSemaphorePermit, Refusal> {
        let units = u32::try_from(bytes.div_ceil(MEMORY_UNIT)).unwrap_or(u32::MAX);
        Arc::clone(&self.memory)
            .try_acquire_many_owned(units)
            .map_err(|_| Refusal::Full { retry_after: self.wait })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::Duration;

    fn admission(slots: usize, queue: usize) -> Admission {
        let limits =
            Limits { slots, queue, queue_wait: Duration::from_millis(1), ..Limits::shared() };
        Admission::new(&limits)
    }

    #[tokio::test]
    async fn a_full_house_turns_the_next_one_away_and_a_leaver_makes_room() {
        let admission = admission(1, 1);
        let first = admission.enter().await.unwrap();
        assert_eq!(*admission.running().borrow(), 1);
        assert!(matches!(admission.enter().await, Err(Refusal::Full { .. })));
        drop(first);
        assert_eq!(*admission.running().borrow(), 0);
        assert!(admission.enter().await.is_ok());
    }

    #[tokio::test]
    async fn one_in_the_queue_gets_the_slot_that_becomes_free() {
        let limits = Limits { queue_wait: Duration::from_secs(600), slots: 1, ..Limits::shared() };
        let admission = Arc::new(Admission::new(&limits));
        let first = admission.enter().await.unwrap();
        let other = Arc::clone(&admission);
        let second = tokio::spawn(async move { other.enter().await.is_ok() });
        drop(first);
        assert!(second.await.unwrap());
    }

    #[tokio::test]
    async fn memory_is_shared_out_and_comes_back() {
        let limits = Limits { memory: 8 * MEMORY_UNIT, ..Limits::shared() };
        let admission = Admission::new(&limits);
        let slot = admission.enter().await.unwrap();
        let most = slot.memory(8 * MEMORY_UNIT).unwrap();
        assert!(matches!(slot.memory(1), Err(Refusal::Full { .. })));
        drop(most);
        assert!(slot.memory(1).is_ok());
    }
}
