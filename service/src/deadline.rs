//! Deadlines: the caller's, and the server's own where that is shorter.
//!
//! The transport's own timer answers `CANCELLED` and watches only until the head of the answer.
//! This layer answers `DEADLINE_EXCEEDED`, also ends a stream that has begun, and drops the call,
//! which is what stops the work.

use std::future::Future;
use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::Duration;

use http_body::{Frame, SizeHint};
use tokio::time::{Instant, Sleep, sleep_until, timeout_at};
use tonic::Status;
use tonic::body::Body;
use tonic::codegen::http::{HeaderMap, Request, Response};
use tonic::codegen::{BoxFuture, Bytes};
use tower::{Layer, Service};

use crate::errors::Refusal;

/// When a call ends, in the extensions of its request.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Deadline(pub(crate) Instant);

/// Adds deadlines to every call.
#[derive(Debug, Clone)]
pub(crate) struct DeadlineLayer {
    /// The longest a call of the contract may take. Health and reflection are streams that a
    /// client may keep for as long as it likes: they have only the caller's deadline.
    pub(crate) call_time: Duration,
    /// Bytes of error details.
    pub(crate) detail_bytes: usize,
}

impl<S> Layer<S> for DeadlineLayer {
    type Service = DeadlineService<S>;

    fn layer(&self, inner: S) -> Self::Service {
        DeadlineService { inner, settings: self.clone() }
    }
}

/// A service with deadlines.
#[derive(Debug, Clone)]
pub(crate) struct DeadlineService<S> {
    inner: S,
    settings: DeadlineLayer,
}

impl<S> Service<Request<Body>> for DeadlineService<S>
where
    S: Service<Request<Body>, Response = Response<Body>>,
    S::Future: Send + 'static,
    S::Error: 'static,
{
    type Response = Response<Body>;
    type Error = S::Error;
    type Future = BoxFuture<Response<Body>, S::Error>;

    fn poll_ready(&mut self, context: &mut Context<'_>) -> Poll<Result<(), Self::Error>> {
        self.inner.poll_ready(context)
    }

    fn call(&mut self, mut request: Request<Body>) -> Self::Future {
        let asked = asked_for(request.headers());
        let own =
            request.uri().path().starts_with("/fishplate.").then_some(self.settings.call_time);
        let Some(allowed) = [asked, own].into_iter().flatten().min() else {
            return Box::pin(self.inner.call(request));
        };
        let deadline = Instant::now() + allowed;
        request.extensions_mut().insert(Deadline(deadline));
        let inner = self.inner.call(request);
        let detail_bytes = self.settings.detail_bytes;
        Box::pin(async move {
            match timeout_at(deadline, inner).await {
                Ok(answer) => {
                    answer.map(|answer| answer.map(|body| until(body, deadline, detail_bytes)))
                }
                Err(_) => Ok(Refusal::Deadline.into_status(detail_bytes).into_http()),
            }
        })
    }
}

/// The `grpc-timeout` of the request: at most eight digits and a unit (gRPC over HTTP/2). A
/// malformed one is as good as none: the server's own limit still holds.
fn asked_for(headers: &HeaderMap) -> Option<Duration> {
    let text = headers.get("grpc-timeout")?.to_str().ok()?;
    let (digits, unit) = text.split_at_checked(text.len().checked_sub(1)?)?;
    if digits.is_empty() || digits.len() > 8 || !digits.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let count: u64 = digits.parse().ok()?;
    Some(match unit {
        "H" => Duration::from_secs(count * 3600),
        "M" => Duration::from_secs(count * 60),
        "S" => Duration::from_secs(count),
        "m" => Duration::from_millis(count),
        "u" => Duration::from_micros(count),
        "n" => Duration::from_nanos(count),
        _ => return None,
    })
}

fn until(body: Body, deadline: Instant, detail_bytes: usize) -> Body {
    let timer = Box::pin(sleep_until(deadline));
    Body::new(Timed { body: Some(body), timer, detail_bytes })
}

/// A body that ends with `DEADLINE_EXCEEDED` in its trailers when time runs out.
struct Timed {
    /// None once time ran out.
    body: Option<Body>,
    timer: Pin<Box<Sleep>>,
    detail_bytes: usize,
}

impl http_body::Body for Timed {
    type Data = Bytes;
    type Error = Status;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, Status>>> {
        let Some(body) = self.body.as_mut() else { return Poll::Ready(None) };
        if let Poll::Ready(frame) = Pin::new(body).poll_frame(context) {
            return Poll::Ready(frame);
        }
        if self.timer.as_mut().poll(context).is_pending() {
            return Poll::Pending;
        }
        self.body = None;
        let status = Refusal::Deadline.into_status(self.detail_bytes);
        let mut trailers = HeaderMap::new();
        match status.add_header(&mut trailers) {
            Ok(()) => Poll::Ready(Some(Ok(Frame::trailers(trailers)))),
            Err(status) => Poll::Ready(Some(Err(status))),
        }
    }

    fn is_end_stream(&self) -> bool {
        self.body.as_ref().is_none_or(http_body::Body::is_end_stream)
    }

    fn size_hint(&self) -> SizeHint {
        self.body.as_ref().map_or_else(|| SizeHint::with_exact(0), http_body::Body::size_hint)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::convert::Infallible;
    use tonic::codegen::http::HeaderValue;
    use tower::ServiceExt;

    // Examples of the header, and its grammar: "gRPC over HTTP2", Requests, Timeout.
    #[test]
    fn the_header_of_the_protocol() {
        let read = |text: &'static str| {
            let mut headers = HeaderMap::new();
            headers.insert("grpc-timeout", HeaderValue::from_static(text));
            asked_for(&headers)
        };
        assert_eq!(read("1S"), Some(Duration::from_secs(1)));
        assert_eq!(read("100m"), Some(Duration::from_millis(100)));
        assert_eq!(read("99999999H"), Some(Duration::from_secs(99_999_999 * 3600)));
        for bad in ["", "S", "1", "123456789S", "-1S", "1s", "1.5S"] {
            assert_eq!(read(bad), None, "{bad}");
        }
    }

    fn layer(call_time: Duration) -> DeadlineLayer {
        DeadlineLayer { call_time, detail_bytes: 4096 }
    }

    fn request(path: &str) -> Request<Body> {
        Request::builder().uri(path).body(Body::empty()).unwrap()
    }

    #[tokio::test(start_paused = true)]
    async fn a_call_that_does_not_end_is_ended() {
        let never = tower::service_fn(|_: Request<Body>| {
            std::future::pending::<Result<Response<Body>, Infallible>>()
        });
        let service = layer(Duration::from_secs(10)).layer(never);
        let answer = service.oneshot(request("/fishplate.v1.SolverService/X")).await.unwrap();
        assert_eq!(answer.headers()["grpc-status"], "4");
    }

    #[tokio::test(start_paused = true)]
    async fn the_shorter_of_both_deadlines_counts_and_is_told_to_the_call() {
        let told = tower::service_fn(|request: Request<Body>| async move {
            let deadline = request.extensions().get::<Deadline>().map(|d| d.0 - Instant::now());
            assert_eq!(deadline, Some(Duration::from_secs(1)));
            Ok::<_, Infallible>(Response::new(Body::empty()))
        });
        let mut asking = request("/fishplate.v1.SolverService/X");
        asking.headers_mut().insert("grpc-timeout", HeaderValue::from_static("1S"));
        layer(Duration::from_secs(10)).layer(told).oneshot(asking).await.unwrap();
        layer(Duration::from_secs(1))
            .layer(told)
            .oneshot(request("/fishplate.v1.SolverService/X"))
            .await
            .unwrap();
    }

    #[tokio::test]
    async fn a_watcher_of_health_is_not_cut_off_by_the_server() {
        let told = tower::service_fn(|request: Request<Body>| async move {
            assert!(request.extensions().get::<Deadline>().is_none());
            Ok::<_, Infallible>(Response::new(Body::empty()))
        });
        let service = layer(Duration::from_secs(10)).layer(told);
        service.oneshot(request("/grpc.health.v1.Health/Watch")).await.unwrap();
    }

    struct Silent;

    impl http_body::Body for Silent {
        type Data = Bytes;
        type Error = Status;

        fn poll_frame(
            self: Pin<&mut Self>,
            _: &mut Context<'_>,
        ) -> Poll<Option<Result<Frame<Bytes>, Status>>> {
            Poll::Pending
        }
    }

    #[tokio::test(start_paused = true)]
    async fn a_stream_that_has_begun_is_ended_in_its_trailers() {
        let silent = tower::service_fn(|_: Request<Body>| async {
            Ok::<_, Infallible>(Response::new(Body::new(Silent)))
        });
        let mut asking = request("/grpc.health.v1.Health/Watch");
        asking.headers_mut().insert("grpc-timeout", HeaderValue::from_static("5S"));
        let answer = layer(Duration::from_secs(10)).layer(silent).oneshot(asking).await.unwrap();
        let mut body = answer.into_body();
        let next = |body: &mut Body| {
            let mut context = Context::from_waker(std::task::Waker::noop());
            http_body::Body::poll_frame(Pin::new(body), &mut context)
        };
        assert!(next(&mut body).is_pending());
        tokio::time::advance(Duration::from_secs(6)).await;
        let Poll::Ready(Some(Ok(frame))) = next(&mut body) else { panic!("the stream goes on") };
        assert_eq!(frame.into_trailers().ok().unwrap()["grpc-status"], "4");
        assert!(matches!(next(&mut body), Poll::Ready(None)));
    }
}
