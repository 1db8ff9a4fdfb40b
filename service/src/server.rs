//! The server: every service of the contract, health and reflection, over any kind of connection.

use std::error::Error;
use std::future::Future;
use std::sync::Arc;
use std::time::Duration;

use fishplate_proto::FILE_DESCRIPTOR_SET;
use fishplate_proto::v1::catalog_service_server::{self, CatalogServiceServer};
use fishplate_proto::v1::check_service_server::{self, CheckServiceServer};
use fishplate_proto::v1::solver_service_server::{self, SolverServiceServer};
use fishplate_proto::v1::strength_service_server::{self, StrengthServiceServer};
use fishplate_proto::v1::study_service_server::{self, StudyServiceServer};
use tokio::io::{AsyncRead, AsyncWrite};
use tokio::pin;
use tokio::select;
use tokio::sync::{oneshot, watch};
use tokio::time::{sleep, timeout};
use tokio_stream::Stream;
use tokio_util::sync::CancellationToken;
use tonic::transport::server::Connected;
use tonic_health::ServingStatus;
use tonic_health::server::HealthReporter;
use tracing::info;

use crate::catalog_service::Catalog;
use crate::check_service::Check;
use crate::deadline::DeadlineLayer;
use crate::limits::{ANSWER_BYTES, HEADER_BYTES, Limits, REQUEST_BYTES, STREAMS};
use crate::solver_service::Solver;
use crate::strength_service::Strength;
use crate::study_service::Study;
use crate::work::Desk;

/// Full names of the services of the contract.
pub const SERVICES: [&str; 5] = [
    check_service_server::SERVICE_NAME,
    solver_service_server::SERVICE_NAME,
    strength_service_server::SERVICE_NAME,
    catalog_service_server::SERVICE_NAME,
    study_service_server::SERVICE_NAME,
];

/// Time for stopped calls to be answered, once their work is told to stop.
const FAREWELL: Duration = Duration::from_secs(1);

/// A server, ready to serve.
#[derive(Debug)]
pub struct Server {
    desk: Arc<Desk>,
    limits: Limits,
    closing: CancellationToken,
}

/// Why serving ended badly.
#[derive(Debug, thiserror::Error)]
pub enum ServeError {
    /// The transport failed.
    #[error("the transport failed: {0}")]
    Transport(#[from] tonic::transport::Error),
    /// The contract's descriptors cannot be told to clients.
    #[error("reflection cannot start: {0}")]
    Reflection(#[from] tonic_reflection::server::Error),
}

impl Server {
    /// A server with these limits.
    #[must_use]
    pub fn new(limits: Limits) -> Self {
        let closing = CancellationToken::new();
        let desk = Arc::new(Desk::new(limits.clone(), closing.clone()));
        Self { desk, limits, closing }
    }

    /// How many calls compute, as it changes.
    #[must_use]
    pub fn running(&self) -> watch::Receiver<usize> {
        self.desk.running()
    }

    /// Serves the connections of `incoming` until it ends or `shutdown` does.
    ///
    /// Going down takes at most `drain` and a second: health says so first, calls under way are
    /// waited for; when `drain` is over their work is stopped and they are answered `UNAVAILABLE`.
    /// The work itself runs on the runtime's blocking threads: drop the runtime with a time limit.
    ///
    /// # Errors
    /// [`ServeError`] when the server cannot start or its transport fails.
    pub async fn serve<I, IO, IE>(
        self,
        incoming: I,
        shutdown: impl Future<Output = ()>,
        drain: Duration,
    ) -> Result<(), ServeError>
    where
        I: Stream<Item = Result<IO, IE>>,
        IO: AsyncRead + AsyncWrite + Connected + Unpin + Send + 'static,
        IE: Into<Box<dyn Error + Send + Sync>>,
    {
        let Self { desk, limits, closing } = self;
        let (health, health_service) = tonic_health::server::health_reporter();
        for service in SERVICES {
            health.set_service_status(service, ServingStatus::Serving).await;
        }
        let solver = SolverServiceServer::new(Solver::new(Arc::clone(&desk)))
            .max_decoding_message_size(REQUEST_BYTES)
            .max_encoding_message_size(ANSWER_BYTES);
        let check = CheckServiceServer::new(Check::new(Arc::clone(&desk)))
            .max_decoding_message_size(REQUEST_BYTES)
            .max_encoding_message_size(ANSWER_BYTES);
        let strength = StrengthServiceServer::new(Strength::new(Arc::clone(&desk)))
            .max_decoding_message_size(REQUEST_BYTES)
            .max_encoding_message_size(ANSWER_BYTES);
        let study = StudyServiceServer::new(Study::new(Arc::clone(&desk)))
            .max_decoding_message_size(REQUEST_BYTES)
            .max_encoding_message_size(ANSWER_BYTES);
        let catalog = CatalogServiceServer::new(Catalog::new(desk))
            .max_decoding_message_size(REQUEST_BYTES)
            .max_encoding_message_size(ANSWER_BYTES);
        let reflection = || {
            tonic_reflection::server::Builder::configure()
                .register_encoded_file_descriptor_set(FILE_DESCRIPTOR_SET)
                .register_encoded_file_descriptor_set(tonic_health::pb::FILE_DESCRIPTOR_SET)
        };
        let (seen, draining) = oneshot::channel();
        let going_down = async {
            shutdown.await;
            info!("going down");
            tell_going_down(&health).await;
            // The receiver is gone only when serving has ended by itself.
            let _ = seen.send(());
        };
        let serving = hardened(&limits)
            .add_service(health_service)
            .add_service(reflection().build_v1()?)
            // Clients of older releases still ask for the first version.
            .add_service(reflection().build_v1alpha()?)
            .add_service(check)
            .add_service(solver)
            .add_service(strength)
            .add_service(catalog)
            .add_service(study)
            .serve_with_incoming_shutdown(incoming, going_down);
        pin!(serving);
        let drained = async {
            match draining.await {
                Ok(()) => sleep(drain).await,
                Err(_) => std::future::pending().await,
            }
        };
        select! {
            result = &mut serving => return Ok(result?),
            () = drained => closing.cancel(),
        }
        // A client that watches health keeps its stream open for ever: it is not waited for.
        match timeout(FAREWELL, serving).await {
            Ok(result) => Ok(result?),
            Err(_) => Ok(()),
        }
    }
}

async fn tell_going_down(health: &HealthReporter) {
    for service in SERVICES.into_iter().chain([""]) {
        health.set_service_status(service, ServingStatus::NotServing).await;
    }
}

/// The transport with its limits. The defaults of the library below are open-ended: no limit on
/// streams, none on resets, and silent clients stay for ever.
fn hardened(
    limits: &Limits,
) -> tonic::transport::Server<tower::layer::util::Stack<DeadlineLayer, tower::layer::util::Identity>>
{
    let deadlines =
        DeadlineLayer { call_time: limits.call_time, detail_bytes: limits.detail_bytes };
    tonic::transport::Server::builder()
        .accept_http1(false)
        .max_concurrent_streams(STREAMS)
        .concurrency_limit_per_connection(STREAMS as usize)
        .load_shed(true)
        .http2_keepalive_interval(Some(Duration::from_secs(5)))
        .http2_keepalive_timeout(Some(Duration::from_secs(3)))
        .http2_max_header_list_size(HEADER_BYTES)
        .http2_max_local_error_reset_streams(Some(128))
        .http2_max_pending_accept_reset_streams(Some(20))
        // No grace beside it: with one, the library cuts the connection without a farewell.
        .max_connection_age(Duration::from_secs(600))
        .layer(deadlines)
}
