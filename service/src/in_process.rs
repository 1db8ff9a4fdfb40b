//! The same server inside the caller's process: nothing has to run, no port is opened.

use std::io;

use hyper_util::rt::TokioIo;
use tokio::io::DuplexStream;
use tokio::sync::mpsc;
use tokio_stream::wrappers::ReceiverStream;
use tonic::transport::{Channel, Endpoint};
use tracing::error;

use crate::limits::Limits;
use crate::server::Server;

/// Bytes that a pipe buffers in each direction.
const PIPE_BYTES: usize = 64 << 10;
/// Header block of an answer, bytes: room for the details of all faults.
const ANSWER_HEADER_BYTES: u32 = 256 << 10;

/// A channel to a server of its own, which ends with the last clone of the channel.
///
/// Give the clients `max_decoding_message_size(`[`ANSWER_BYTES`](crate::limits::ANSWER_BYTES)`)`:
/// their own default is smaller than the largest answer.
///
/// # Errors
/// When the pipe to the server cannot be set up.
///
/// # Panics
/// Outside a Tokio runtime: the server is a task of the caller's runtime.
pub async fn connect() -> Result<Channel, tonic::transport::Error> {
    connect_to(Server::new(Limits::in_process())).await
}

/// A channel to `server`, which ends with the last clone of the channel.
///
/// # Errors
/// As [`connect`].
///
/// # Panics
/// As [`connect`].
pub async fn connect_to(server: Server) -> Result<Channel, tonic::transport::Error> {
    // The stream of pipes stays open: when it ends, the server takes that for its shutdown.
    let (pipes, incoming) = mpsc::channel::<Result<DuplexStream, io::Error>>(1);
    tokio::spawn(async move {
        let never = std::future::pending();
        let served = server.serve(ReceiverStream::new(incoming), never, std::time::Duration::ZERO);
        if let Err(failure) = served.await {
            error!(%failure, "the server in this process failed");
        }
    });
    let connector = tower::service_fn(move |_| {
        let pipes = pipes.clone();
        async move {
            let (near, far) = tokio::io::duplex(PIPE_BYTES);
            pipes.send(Ok(far)).await.map_err(|_| io::Error::from(io::ErrorKind::BrokenPipe))?;
            Ok::<_, io::Error>(TokioIo::new(near))
        }
    });
    Endpoint::from_static("http://in-process.invalid")
        .http2_max_header_list_size(ANSWER_HEADER_BYTES)
        .connect_with_connector(connector)
        .await
}
