//! `fishplate serve`.

use std::time::Duration;

use fishplate_service::accept::{bind, connections};
use fishplate_service::limits::Limits;
use fishplate_service::server::Server;

use crate::args::{Colour, ServeOptions};
use crate::failure::{Attempt, Failure, INPUT, SERVICE};
use crate::output::{document, message};

/// Longest wait for calls under way, once it is told to end.
const DRAIN: Duration = Duration::from_secs(10);

/// Serves until Ctrl-C or SIGTERM.
pub(crate) async fn serve(options: &ServeOptions) -> Attempt<()> {
    let limits = Limits::shared();
    let failed = |exit, error: &dyn std::fmt::Display| {
        Failure::plain(exit, "CANNOT SERVE", "CANNOT_SERVE", error.to_string(), "")
    };
    // Signals are caught before the address is told: whoever reads it may send one at once.
    let shutdown = shutdown().map_err(|e| failed(SERVICE, &e))?;
    let listener = bind(options.listen).await.map_err(|e| failed(INPUT, &e))?;
    let address = listener.local_addr().map_err(|e| failed(SERVICE, &e))?;
    document(&format!("{address}\n")).map_err(|e| failed(SERVICE, &e))?;
    message("Listening; Ctrl-C ends it.\n", Colour::Auto);
    let incoming = connections(listener, &limits);
    Server::new(limits).serve(incoming, shutdown, DRAIN).await.map_err(|e| failed(SERVICE, &e))
}

#[cfg(unix)]
fn shutdown() -> std::io::Result<impl Future<Output = ()>> {
    use tokio::signal::unix::{SignalKind, signal};
    let mut terminate = signal(SignalKind::terminate())?;
    let mut interrupt = signal(SignalKind::interrupt())?;
    Ok(async move {
        tokio::select! {
            _ = terminate.recv() => {}
            _ = interrupt.recv() => {}
        }
    })
}

#[cfg(not(unix))]
fn shutdown() -> std::io::Result<impl Future<Output = ()>> {
    Ok(async {
        // Where Ctrl-C cannot be caught, the system ends the program.
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    })
}
