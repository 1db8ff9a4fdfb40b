//! Accepts TCP connections: no more than the limit, and none that stays silent.

use std::future::Future;
use std::io;
use std::net::SocketAddr;
use std::pin::Pin;
use std::sync::Arc;
use std::task::{Context, Poll};
use std::time::Duration;

use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::{TcpListener, TcpStream};
use tokio::select;
use tokio::sync::{OwnedSemaphorePermit, Semaphore, mpsc};
use tokio::time::{Sleep, sleep};
use tokio_stream::wrappers::ReceiverStream;
use tonic::transport::server::{Connected, TcpConnectInfo};
use tracing::warn;

use crate::limits::Limits;

/// Pause after the system refused to give a connection, so that a lack of handles is not a loop.
const PAUSE: Duration = Duration::from_millis(50);

/// Connections from `listener`, for [`crate::server::Server::serve`]. When all places are taken,
/// the next ones wait in the system's own queue.
#[must_use]
pub fn connections(
    listener: TcpListener,
    limits: &Limits,
) -> ReceiverStream<Result<Guarded, io::Error>> {
    let (sender, receiver) = mpsc::channel(16);
    let places = Arc::new(Semaphore::new(limits.connections));
    let silence = limits.first_bytes;
    tokio::spawn(async move {
        loop {
            let Ok(place) = Arc::clone(&places).acquire_owned().await else { return };
            let accepted = select! {
                () = sender.closed() => return,
                accepted = listener.accept() => accepted,
            };
            match accepted.and_then(|(stream, _)| stream.set_nodelay(true).map(|()| stream)) {
                Ok(stream) => {
                    let guarded = Guarded::new(stream, place, silence);
                    if sender.send(Ok(guarded)).await.is_err() {
                        return;
                    }
                }
                Err(error) => {
                    warn!(%error, "a connection could not be accepted");
                    sleep(PAUSE).await;
                }
            }
        }
    });
    ReceiverStream::new(receiver)
}

/// A connection that holds its place and is closed when its client says nothing at first.
#[derive(Debug)]
pub struct Guarded {
    stream: TcpStream,
    /// Running until the first byte has come.
    silence: Option<Pin<Box<Sleep>>>,
    _place: OwnedSemaphorePermit,
}

impl Guarded {
    fn new(stream: TcpStream, place: OwnedSemaphorePermit, silence: Duration) -> Self {
        Self { stream, silence: Some(Box::pin(sleep(silence))), _place: place }
    }
}

impl Connected for Guarded {
    type ConnectInfo = TcpConnectInfo;

    fn connect_info(&self) -> TcpConnectInfo {
        self.stream.connect_info()
    }
}

impl AsyncRead for Guarded {
    fn poll_read(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        buffer: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        let read = Pin::new(&mut self.stream).poll_read(context, buffer);
        if read.is_ready() {
            self.silence = None;
            return read;
        }
        match self.silence.as_mut().map(|timer| timer.as_mut().poll(context)) {
            Some(Poll::Ready(())) => Poll::Ready(Err(io::ErrorKind::TimedOut.into())),
            Some(Poll::Pending) | None => Poll::Pending,
        }
    }
}

impl AsyncWrite for Guarded {
    fn poll_write(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        bytes: &[u8],
    ) -> Poll<io::Result<usize>> {
        Pin::new(&mut self.stream).poll_write(context, bytes)
    }

    fn poll_flush(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_flush(context)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_shutdown(context)
    }

    fn poll_write_vectored(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        slices: &[io::IoSlice<'_>],
    ) -> Poll<io::Result<usize>> {
        Pin::new(&mut self.stream).poll_write_vectored(context, slices)
    }

    fn is_write_vectored(&self) -> bool {
        self.stream.is_write_vectored()
    }
}

/// Binds `address`, which has to be on this machine: calls are not encrypted.
///
/// # Errors
/// [`BindError::NotLoopback`] for any other address; [`BindError::Io`] when the system refuses.
pub async fn bind(address: SocketAddr) -> Result<TcpListener, BindError> {
    if !address.ip().is_loopback() {
        return Err(BindError::NotLoopback { address });
    }
    TcpListener::bind(address).await.map_err(|source| BindError::Io { address, source })
}

/// Why the server does not listen.
#[derive(Debug, thiserror::Error)]
pub enum BindError {
    /// Calls would cross a network in the clear.
    #[error(
        "will not listen on {address}: calls are not encrypted, so only addresses of this machine \
         are allowed (127.0.0.1 or [::1]); put a proxy with TLS before it to reach it from outside"
    )]
    NotLoopback {
        /// The address asked for.
        address: SocketAddr,
    },
    /// The system refused.
    #[error("cannot listen on {address}: {source}")]
    Io {
        /// The address asked for.
        address: SocketAddr,
        /// What the system said.
        source: io::Error,
    },
}

#[cfg(test)]
mod tests {
    use super::*;
    use tokio::io::AsyncReadExt;
    use tokio_stream::StreamExt;

    async fn local(limits: &Limits) -> (SocketAddr, ReceiverStream<Result<Guarded, io::Error>>) {
        let listener = bind(SocketAddr::from(([127, 0, 0, 1], 0))).await.unwrap();
        (listener.local_addr().unwrap(), connections(listener, limits))
    }

    #[tokio::test]
    async fn only_this_machine_is_served() {
        let error = bind(SocketAddr::from(([0, 0, 0, 0], 0))).await.unwrap_err();
        assert!(error.to_string().contains("not encrypted"), "{error}");
    }

    #[tokio::test]
    async fn a_silent_client_is_let_go() {
        let limits = Limits { first_bytes: Duration::from_millis(1), ..Limits::shared() };
        let (address, mut incoming) = local(&limits).await;
        let _silent = TcpStream::connect(address).await.unwrap();
        let mut accepted = incoming.next().await.unwrap().unwrap();
        let error = accepted.read_u8().await.unwrap_err();
        assert_eq!(error.kind(), io::ErrorKind::TimedOut);
    }

    #[tokio::test]
    async fn a_place_that_is_given_up_goes_to_the_next() {
        let limits = Limits { connections: 1, ..Limits::shared() };
        let (address, mut incoming) = local(&limits).await;
        let _first = TcpStream::connect(address).await.unwrap();
        let _second = TcpStream::connect(address).await.unwrap();
        let first = incoming.next().await.unwrap().unwrap();
        let mut next = Box::pin(incoming.next());
        let mut context = Context::from_waker(std::task::Waker::noop());
        assert!(next.as_mut().poll(&mut context).is_pending());
        drop(first);
        assert!(next.await.is_some());
    }
}
