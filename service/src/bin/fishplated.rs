//! The server as a program.

use std::io::{self, IsTerminal, Write};
use std::net::SocketAddr;
use std::process::ExitCode;
use std::time::Duration;

use clap::{Parser, ValueEnum};
use fishplate_service::accept::{bind, connections};
use fishplate_service::limits::Limits;
use fishplate_service::server::Server;
use tokio::runtime::Runtime;
use tokio::select;
use tokio::signal::unix::{SignalKind, signal};
use tracing_subscriber::EnvFilter;

/// Serves structural checks of subframe mounts over gRPC, on this machine.
///
/// Prints the address it listens on as its only line on standard output; the log goes to
/// standard error. SIGTERM or Ctrl-C ends it: calls under way are waited for.
#[derive(Debug, Parser)]
#[command(name = "fishplated", version)]
struct Options {
    /// Address to listen on; port 0 takes a free one. Only addresses of this machine.
    #[arg(long, env = "FISHPLATED_LISTEN", default_value = "127.0.0.1:50061")]
    listen: SocketAddr,
    /// Longest wait for calls under way when it goes down, seconds.
    #[arg(long, default_value_t = 10, value_parser = clap::value_parser!(u64).range(0..=3600))]
    drain: u64,
    /// Form of the log.
    #[arg(long, value_enum, default_value_t = Log::Text)]
    log: Log,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Log {
    Text,
    Json,
}

/// Once serving has ended, longest wait for work that does not see its flag.
const LAST_WORK: Duration = Duration::from_secs(2);

fn main() -> ExitCode {
    let options = Options::parse();
    start_log(options.log);
    let runtime = match Runtime::new() {
        Ok(runtime) => runtime,
        Err(error) => return failed(&error),
    };
    let served = runtime.block_on(serve(&options));
    runtime.shutdown_timeout(LAST_WORK);
    match served {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => failed(&*error),
    }
}

async fn serve(options: &Options) -> Result<(), Box<dyn std::error::Error>> {
    let limits = Limits::shared();
    // Signals are caught before the address is told: whoever reads it may send one at once.
    let mut terminate = signal(SignalKind::terminate())?;
    let mut interrupt = signal(SignalKind::interrupt())?;
    let listener = bind(options.listen).await?;
    let address = listener.local_addr()?;
    {
        let mut out = io::stdout().lock();
        writeln!(out, "{address}")?;
        out.flush()?;
    }
    tracing::info!(%address, slots = limits.slots, "listening");
    let shutdown = async move {
        select! {
            _ = terminate.recv() => {}
            _ = interrupt.recv() => {}
        }
    };
    let incoming = connections(listener, &limits);
    let drain = Duration::from_secs(options.drain);
    Server::new(limits).serve(incoming, shutdown, drain).await?;
    tracing::info!("ended");
    Ok(())
}

fn start_log(form: Log) {
    let filter = EnvFilter::try_from_default_env().unwrap_or_else(|_| EnvFilter::new("info"));
    let log = tracing_subscriber::fmt().with_env_filter(filter).with_writer(io::stderr);
    match form {
        Log::Text => log.with_ansi(io::stderr().is_terminal()).init(),
        Log::Json => log.json().init(),
    }
}

fn failed(error: &dyn std::fmt::Display) -> ExitCode {
    // Nothing can be done where even standard error is closed.
    let _ = writeln!(io::stderr(), "fishplated: {error}");
    ExitCode::FAILURE
}
