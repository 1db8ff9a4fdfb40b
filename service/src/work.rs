//! Runs the engine for a call: off the threads that serve the network, within a slot, stoppable,
//! and with every outcome in the log.

use std::any::Any;
use std::collections::hash_map::RandomState;
use std::hash::{BuildHasher, Hasher};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::pin::Pin;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, OnceLock};
use std::task::{Context, Poll};

use fishplate_solver::Cancel;
use prost::Message;
use tokio::select;
use tokio::sync::{mpsc, watch};
use tokio::task::{JoinHandle, spawn_blocking};
use tokio::time::Instant;
use tokio_stream::Stream;
use tokio_util::sync::CancellationToken;
use tonic::{Code, Request, Response, Status};
use tracing::{Span, error, info, info_span};

use crate::admission::{Admission, Slot};
use crate::deadline::Deadline;
use crate::door;
use crate::errors::Refusal;
use crate::from_proto::{Reader, merged};
use crate::limits::{ANSWER_BYTES, Limits};

/// Messages of a stream that wait for a caller who reads slowly; more are left out.
const UPDATES: usize = 16;

/// What all services of one server share.
#[derive(Debug)]
pub(crate) struct Desk {
    admission: Admission,
    limits: Limits,
    /// Fires when the server stops waiting for its calls.
    closing: CancellationToken,
}

/// What a job may know about its call.
#[derive(Debug)]
pub(crate) struct Job {
    /// The slot it runs in.
    pub(crate) slot: Slot,
    /// What the walk over the request found.
    pub(crate) found: door::Found,
    /// Threads that it may compute with.
    pub(crate) threads: usize,
    stop: CancellationToken,
    deadline: Instant,
}

impl Cancel for Job {
    fn cancelled(&self) -> bool {
        // The clock is asked too: a runtime that is busy may be late to drop the call.
        self.stop.is_cancelled() || Instant::now() >= self.deadline
    }
}

impl Job {
    /// What `read` makes of the request, or every fault that it and the door found.
    pub(crate) fn sound<T>(
        &mut self,
        read: impl FnOnce(&mut Reader) -> Option<T>,
    ) -> Result<T, Refusal> {
        let door::Found { faults, more, too_long } = std::mem::take(&mut self.found);
        if too_long {
            return Err(Refusal::Faults { reason: "LIMIT_EXCEEDED", faults, more });
        }
        let mut reader = Reader::default();
        let made = read(&mut reader);
        let (read_faults, read_more) = reader.into_faults();
        let more = more + read_more;
        let faults = merged(faults, read_faults);
        match made {
            Some(made) if faults.is_empty() => Ok(made),
            Some(_) => Err(Refusal::Faults { reason: "INVALID_INPUT", faults, more }),
            None if faults.is_empty() => Err(internal("a request was not read and no fault noted")),
            None => Err(Refusal::Faults { reason: "INVALID_INPUT", faults, more }),
        }
    }

    /// Why the job was stopped.
    pub(crate) fn stopped(&self) -> Refusal {
        if Instant::now() >= self.deadline { Refusal::Deadline } else { Refusal::Cancelled }
    }
}

impl Desk {
    pub(crate) fn new(limits: Limits, closing: CancellationToken) -> Self {
        Self { admission: Admission::new(&limits), limits, closing }
    }

    /// How many calls compute, as it changes.
    pub(crate) fn running(&self) -> watch::Receiver<usize> {
        self.admission.running()
    }

    /// Answers `request`, a message of the contract called `name`, by `job`.
    ///
    /// When the caller hangs up or the deadline passes, this future is dropped; the job learns of
    /// it by its next look at [`Cancel::cancelled`], and keeps its slot until it has really ended.
    pub(crate) async fn answer<Q, A>(
        &self,
        name: &'static str,
        request: Request<Q>,
        job: impl FnOnce(Q, &mut Job) -> Result<A, Refusal> + Send + 'static,
    ) -> Result<Response<A>, Status>
    where
        Q: Message + 'static,
        A: Message + 'static,
    {
        let stop = self.closing.child_token();
        let _hang_up = stop.clone().drop_guard();
        let deadline = request.extensions().get::<Deadline>().map(|deadline| deadline.0);
        let deadline = deadline.unwrap_or_else(|| Instant::now() + self.limits.call_time);
        let request = request.into_inner();
        let record = Record::new(name, request.encoded_len());
        let span = record.span.clone();
        let threads = self.limits.threads;
        let work = async {
            let slot = self.admission.enter().await?;
            let run = move || {
                let _entered = span.enter();
                caught(|| {
                    let found = door::inspect(name, &request.encode_to_vec())
                        .map_err(|error| internal(&error.to_string()))?;
                    let mut call = Job { slot, found, threads, stop, deadline };
                    let answer = job(request, &mut call)?;
                    fits(&answer)?;
                    Ok(answer)
                })
            };
            match spawn_blocking(run).await {
                Ok(result) => result,
                Err(error) => Err(internal(&error.to_string())),
            }
        };
        let result = select! {
            biased;
            () = self.closing.cancelled() => Err(Refusal::Draining),
            result = work => result,
        };
        record.close(&result);
        result.map(Response::new).map_err(|refusal| refusal.into_status(self.limits.detail_bytes))
    }

    /// As [`Desk::answer`], by a stream: what `job` tells on the way, then its answer or why there
    /// is none.
    pub(crate) fn tell<Q, M>(
        self: &Arc<Self>,
        name: &'static str,
        request: Request<Q>,
        job: impl FnOnce(Q, &mut Job, &Teller<M>) -> Result<M, Refusal> + Send + 'static,
    ) -> Response<Updates<M>>
    where
        Q: Message + 'static,
        M: Message + 'static,
    {
        let (sender, messages) = mpsc::channel(UPDATES);
        let teller = Teller(sender.clone());
        let desk = Arc::clone(self);
        let call = tokio::spawn(async move {
            let run = move |request, job_of: &mut Job| job(request, job_of, &teller);
            let last = desk.answer(name, request, run).await.map(Response::into_inner);
            // A caller who has gone away has nobody to tell.
            let _ = sender.send(last).await;
        });
        Response::new(Updates { messages, call })
    }
}

/// Tells the caller of a stream on the way.
#[derive(Debug)]
pub(crate) struct Teller<M>(mpsc::Sender<Result<M, Status>>);

impl<M> Teller<M> {
    /// Sends `message`, where there is room. Never waits: what a slow caller has no room for is left
    /// out.
    pub(crate) fn tell(&self, message: M) {
        // Full: the caller reads slowly. Closed: the job learns of it by its cancel flag.
        let _ = self.0.try_send(Ok(message));
    }

    /// Sends `message` and waits until there is room: for what must not be left out. False where the
    /// caller has gone away.
    pub(crate) fn send(&self, message: M) -> bool {
        self.0.blocking_send(Ok(message)).is_ok()
    }
}

/// Messages on the way and the last; dropping it hangs up.
#[derive(Debug)]
pub(crate) struct Updates<M> {
    messages: mpsc::Receiver<Result<M, Status>>,
    call: JoinHandle<()>,
}

impl<M> Stream for Updates<M> {
    type Item = Result<M, Status>;

    fn poll_next(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Option<Self::Item>> {
        self.messages.poll_recv(context)
    }
}

impl<M> Drop for Updates<M> {
    fn drop(&mut self) {
        self.call.abort();
    }
}

/// An answer that a client with [`ANSWER_BYTES`] can take.
fn fits(answer: &impl Message) -> Result<(), Refusal> {
    let size = answer.encoded_len();
    if size <= ANSWER_BYTES {
        return Ok(());
    }
    Err(Refusal::too_large(
        "",
        format!("a request whose answer has {size} bytes"),
        format!("at most {ANSWER_BYTES}"),
        "ask for fewer load cases or stations at once",
    ))
}

fn caught<A>(job: impl FnOnce() -> Result<A, Refusal>) -> Result<A, Refusal> {
    // Everything the job touches is its own and dropped here, so nothing half-made is seen again.
    catch_unwind(AssertUnwindSafe(job)).unwrap_or_else(|panic| Err(internal(panic_text(&*panic))))
}

fn panic_text(panic: &(dyn Any + Send)) -> &str {
    panic
        .downcast_ref::<&'static str>()
        .copied()
        .or_else(|| panic.downcast_ref::<String>().map(String::as_str))
        .unwrap_or("a panic without words")
}

/// A fault of ours, logged under a number that the caller is told.
pub(crate) fn internal(log: &str) -> Refusal {
    static START: OnceLock<u64> = OnceLock::new();
    static COUNT: AtomicU64 = AtomicU64::new(1);
    // The hasher's keys are random: numbers of two runs of the server do not meet in one log.
    let start = START.get_or_init(|| RandomState::new().build_hasher().finish());
    let id = format!("{:08x}-{}", start >> 32, COUNT.fetch_add(1, Ordering::Relaxed));
    Refusal::Internal { id, log: log.to_owned() }
}

/// The line that a call leaves in the log, also when it is dropped half-way.
struct Record {
    span: Span,
    started: Instant,
    closed: bool,
}

impl Record {
    fn new(name: &'static str, request_bytes: usize) -> Self {
        let span = info_span!(
            "call",
            request = name,
            request_bytes,
            nodes = tracing::field::Empty,
            beams = tracing::field::Empty,
            cases = tracing::field::Empty,
            mounts = tracing::field::Empty,
        );
        Self { span, started: Instant::now(), closed: false }
    }

    fn close<A: Message>(mut self, result: &Result<A, Refusal>) {
        self.closed = true;
        let _entered = self.span.clone().entered();
        let ms = self.milliseconds();
        match result {
            Ok(answer) => {
                info!(
                    outcome = "Ok",
                    duration_ms = ms,
                    answer_bytes = answer.encoded_len(),
                    "answered"
                );
            }
            Err(Refusal::Internal { id, log }) => {
                error!(outcome = "Internal", duration_ms = ms, request_id = %id, fault = %log, "failed");
            }
            Err(refusal) => {
                info!(outcome = ?refusal.code(), duration_ms = ms, why = %refusal, "refused");
            }
        }
    }

    fn milliseconds(&self) -> u64 {
        u64::try_from(self.started.elapsed().as_millis()).unwrap_or(u64::MAX)
    }
}

impl Drop for Record {
    fn drop(&mut self) {
        if !self.closed {
            let _entered = self.span.clone().entered();
            let ms = self.milliseconds();
            info!(outcome = ?Code::Cancelled, duration_ms = ms, "caller gone or out of time");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use fishplate_proto::v1::{ListSectionsRequest, ListSectionsResponse};
    use std::sync::mpsc;
    use std::time::Duration;
    use tokio_stream::StreamExt;
    use tonic_types::StatusExt;

    const NAME: &str = "ListSectionsRequest";

    fn desk(slots: usize) -> Arc<Desk> {
        let limits =
            Limits { slots, queue: 0, call_time: Duration::from_secs(600), ..Limits::shared() };
        Arc::new(Desk::new(limits, CancellationToken::new()))
    }

    fn asked() -> Request<ListSectionsRequest> {
        Request::new(ListSectionsRequest::default())
    }

    type Answer = Result<ListSectionsResponse, Refusal>;

    /// A job that reports every look at the cancel flag and ends at the first that is set.
    fn looking(looks: mpsc::Sender<bool>) -> impl FnOnce(ListSectionsRequest, &mut Job) -> Answer {
        move |_, job| {
            loop {
                let stop = job.cancelled();
                looks.send(stop).map_err(|_| Refusal::Cancelled)?;
                if stop {
                    return Err(job.stopped());
                }
            }
        }
    }

    async fn idle(desk: &Desk) {
        desk.running().wait_for(|running| *running == 0).await.unwrap();
    }

    #[tokio::test]
    async fn a_caller_that_hangs_up_stops_the_job_at_its_next_look() {
        let desk = desk(1);
        let (looks, seen) = mpsc::channel();
        let (other, job) = (Arc::clone(&desk), looking(looks));
        let call = tokio::spawn(async move { other.answer(NAME, asked(), job).await });
        desk.running().wait_for(|running| *running == 1).await.unwrap();
        call.abort();
        assert!(call.await.unwrap_err().is_cancelled());
        idle(&desk).await;
        let after = seen.iter().skip_while(|stop| !stop).count();
        assert_eq!(after, 1, "looks at the flag once it was set");
    }

    #[tokio::test]
    async fn the_slot_stays_taken_until_the_work_has_really_ended() {
        let desk = desk(1);
        let (release, held) = mpsc::channel::<()>();
        let other = Arc::clone(&desk);
        let call = tokio::spawn(async move {
            let deaf = move |_, _: &mut Job| {
                held.recv().map_err(|_| Refusal::Cancelled)?;
                Ok(ListSectionsResponse::default())
            };
            other.answer(NAME, asked(), deaf).await
        });
        desk.running().wait_for(|running| *running == 1).await.unwrap();
        call.abort();
        assert!(call.await.is_err());
        let full =
            desk.answer(NAME, asked(), |_, _: &mut Job| Answer::Ok(Default::default())).await;
        let status = full.unwrap_err();
        assert_eq!(status.code(), Code::ResourceExhausted);
        assert!(status.get_error_details().retry_info().is_some());
        release.send(()).unwrap();
        idle(&desk).await;
        let free =
            desk.answer(NAME, asked(), |_, _: &mut Job| Answer::Ok(Default::default())).await;
        assert!(free.is_ok());
    }

    #[tokio::test]
    async fn a_panic_is_a_number_to_the_caller_and_the_desk_goes_on() {
        let desk = desk(1);
        let bug = |_, _: &mut Job| -> Answer { panic!("the secret of the house") };
        let status = desk.answer(NAME, asked(), bug).await.unwrap_err();
        assert_eq!(status.code(), Code::Internal);
        assert!(!status.message().contains("secret"));
        let details = status.get_error_details();
        let id = &details.error_info().unwrap().metadata["requestId"];
        assert!(status.message().contains(id.as_str()));
        idle(&desk).await;
        let fine =
            desk.answer(NAME, asked(), |_, _: &mut Job| Answer::Ok(Default::default())).await;
        assert!(fine.is_ok());
    }

    #[tokio::test]
    async fn a_closing_server_answers_the_calls_it_stops() {
        let desk = desk(1);
        let (looks, seen) = mpsc::channel();
        let (other, job) = (Arc::clone(&desk), looking(looks));
        let call = tokio::spawn(async move { other.answer(NAME, asked(), job).await });
        desk.running().wait_for(|running| *running == 1).await.unwrap();
        desk.closing.cancel();
        assert_eq!(call.await.unwrap().unwrap_err().code(), Code::Unavailable);
        idle(&desk).await;
        assert_eq!(seen.iter().last(), Some(true));
    }

    #[tokio::test]
    async fn a_deadline_that_has_passed_stops_the_job_by_itself() {
        let desk = desk(1);
        let (looks, seen) = mpsc::channel();
        let mut request = asked();
        request.extensions_mut().insert(Deadline(Instant::now()));
        let status = desk.answer(NAME, request, looking(looks)).await.unwrap_err();
        assert_eq!(status.code(), Code::DeadlineExceeded);
        assert_eq!(seen.iter().collect::<Vec<_>>(), vec![true]);
    }

    fn named(text: &str) -> ListSectionsResponse {
        ListSectionsResponse { next_page_token: text.to_owned(), ..Default::default() }
    }

    async fn names(mut updates: Updates<ListSectionsResponse>) -> Vec<String> {
        let mut names = Vec::new();
        while let Some(update) = updates.next().await {
            names.push(update.map_or_else(
                |status| format!("{:?}", status.code()),
                |answer| answer.next_page_token,
            ));
        }
        names
    }

    #[tokio::test]
    async fn a_stream_tells_on_the_way_and_ends_with_the_answer() {
        let desk = desk(1);
        let told = desk.tell(NAME, asked(), |_, _, teller: &Teller<_>| {
            teller.tell(named("half"));
            Ok(named("whole"))
        });
        assert_eq!(names(told.into_inner()).await, ["half", "whole"]);
        let refused = desk.tell(NAME, asked(), |_, _, teller: &Teller<_>| {
            teller.tell(named("half"));
            Err(Refusal::Deadline)
        });
        assert_eq!(names(refused.into_inner()).await, ["half", "DeadlineExceeded"]);
    }

    #[tokio::test]
    async fn a_caller_who_reads_slowly_holds_nothing_up_and_gets_the_answer() {
        let desk = desk(1);
        let (done, ended) = tokio::sync::oneshot::channel();
        let told = desk.tell(NAME, asked(), |_, _, teller: &Teller<_>| {
            for _ in 0..10 * UPDATES {
                teller.tell(named("on the way"));
            }
            done.send(()).map_err(|()| Refusal::Cancelled)?;
            Ok(named("whole"))
        });
        ended.await.unwrap();
        let got = names(told.into_inner()).await;
        assert_eq!((got.len(), got[UPDATES].as_str()), (UPDATES + 1, "whole"));
    }

    #[tokio::test]
    async fn a_stream_that_is_dropped_stops_the_job_at_its_next_look() {
        let desk = desk(1);
        let (looks, seen) = mpsc::channel();
        let job = looking(looks);
        let told = desk.tell(NAME, asked(), move |asked, call, _: &Teller<_>| job(asked, call));
        desk.running().wait_for(|running| *running == 1).await.unwrap();
        drop(told);
        idle(&desk).await;
        let after = seen.iter().skip_while(|stop| !stop).count();
        assert_eq!(after, 1, "looks at the flag once it was set");
    }

    #[tokio::test]
    async fn numbers_of_faults_differ() {
        let Refusal::Internal { id: first, .. } = internal("") else { panic!() };
        let Refusal::Internal { id: second, .. } = internal("") else { panic!() };
        assert_ne!(first, second);
    }
}
