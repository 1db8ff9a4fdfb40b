//! The service: inside this program, or at an address.

use std::error::Error;
use std::time::Duration;

use tonic::transport::{Channel, Endpoint};
use tonic::{Request, Response, Status};

use crate::failure::{Attempt, Failure, INPUT, SERVICE};

/// Largest answer that is taken, bytes: the transport's own limit is smaller than a large one.
pub(crate) const ANSWER_BYTES: usize = 64 << 20;
/// Header block of an answer, bytes: room for the details of all faults.
const ANSWER_HEADER_BYTES: u32 = 256 << 10;
/// Longest wait for a connection, whatever the time for the answer.
const CONNECT: Duration = Duration::from_secs(10);

/// A channel to the service at `server`, or to one inside this program.
pub(crate) async fn connect(server: Option<&str>) -> Attempt<Channel> {
    match server {
        Some(address) => at(address).await,
        None => embedded().await,
    }
}

async fn at(address: &str) -> Attempt<Channel> {
    let wrong = |why: &str| {
        let advice = "write it like http://127.0.0.1:50061";
        Failure::plain(
            INPUT,
            "CANNOT USE",
            "INVALID_ADDRESS",
            format!("--server {address}: {why}"),
            advice,
        )
    };
    let url = match address.split_once("://") {
        Some(("http", _)) => address.to_owned(),
        Some((scheme, _)) => {
            return Err(wrong(&format!("{scheme} is not spoken here; only http is")));
        }
        None => format!("http://{address}"),
    };
    let endpoint = Endpoint::from_shared(url).map_err(|_| wrong("this is no address"))?;
    endpoint
        .connect_timeout(CONNECT)
        .http2_max_header_list_size(ANSWER_HEADER_BYTES)
        .tcp_nodelay(true)
        .connect()
        .await
        .map_err(|error| {
            Failure::plain(
                SERVICE,
                "NO SERVICE",
                "UNAVAILABLE",
                format!("Nothing answers at {address}: {}", root(&error)),
                "see that it runs and that the address is right, or leave --server out",
            )
        })
}

#[cfg(feature = "embedded")]
async fn embedded() -> Attempt<Channel> {
    fishplate_service::in_process::connect().await.map_err(|error| {
        Failure::plain(
            SERVICE,
            "NO SERVICE",
            "UNAVAILABLE",
            format!("The service inside this program does not start: {}", root(&error)),
            "",
        )
    })
}

#[cfg(not(feature = "embedded"))]
#[allow(clippy::unused_async)]
async fn embedded() -> Attempt<Channel> {
    Err(Failure::plain(
        SERVICE,
        "NO SERVICE",
        "NO_ADDRESS",
        "This build holds no service of its own.",
        "say where one runs: --server http://127.0.0.1:50061, or FISHPLATE_SERVER",
    ))
}

/// The innermost cause: the outer ones only say that something went wrong.
fn root(error: &dyn Error) -> String {
    let mut cause = error;
    while let Some(next) = cause.source() {
        cause = next;
    }
    cause.to_string()
}

/// A request that tells the service how long its answer is waited for.
pub(crate) fn request<T>(message: T, time: Duration) -> Request<T> {
    let mut request = Request::new(message);
    request.set_timeout(time);
    request
}

/// Waits for a call, but not longer than its time and a little for the way.
pub(crate) async fn within<T>(
    time: Duration,
    call: impl Future<Output = Result<Response<T>, Status>>,
) -> Result<T, Status> {
    const WAY: Duration = Duration::from_secs(2);
    match tokio::time::timeout(time + WAY, call).await {
        Ok(answer) => answer.map(Response::into_inner),
        Err(_) => Err(Status::deadline_exceeded("the time for the answer ran out")),
    }
}
