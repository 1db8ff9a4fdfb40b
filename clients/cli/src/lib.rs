//! The `fishplate` program: a project file to requests, answers to the terminal.
//!
//! There is no engineering in it. [`project`] reads what a builder wrote; the service, inside this
//! program or elsewhere, checks it; the answer is laid out for a terminal, or handed on as JSON or
//! a page with drawings.

mod args;
mod batch;
mod commands;
mod connection;
mod failure;
mod output;
mod part;
pub mod project;
mod source;
mod terminal;

use std::panic;
use std::process::ExitCode;
use std::time::Duration;

use clap::Parser;
use tracing_subscriber::EnvFilter;

use args::{Colour, Command, Common, Options};
use failure::{Attempt, SERVICE};
use output::{answer, document, message};

/// Exit code after Ctrl-C, as shells have it: 128 and the number of the signal.
const INTERRUPTED: u8 = 130;
/// Longest wait for work of the service inside this program, once the answer is there.
const LAST_WORK: Duration = Duration::from_millis(200);

/// An answer, ready to be printed.
struct Outcome {
    text: String,
    exit: u8,
}

/// Runs the program with the arguments of this process.
#[must_use]
pub fn run() -> ExitCode {
    start_log();
    // A panic is our fault and is told as such; its details are for the log alone.
    panic::set_hook(Box::new(|info| tracing::error!(%info, "panic")));
    let exit = panic::catch_unwind(with_arguments).unwrap_or_else(|_| {
        let text = "fishplate failed by a fault of its own; nothing it printed before counts.\n\
                    With FISHPLATE_LOG=error it says more. Please report it with your file.\n";
        message(text, Colour::Auto);
        SERVICE
    });
    ExitCode::from(exit)
}

/// The log is silent unless asked for: standard error is for the person who runs the program.
fn start_log() {
    let Ok(filter) = EnvFilter::try_from_env("FISHPLATE_LOG") else { return };
    tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_writer(std::io::stderr)
        .with_ansi(false)
        .init();
}

fn with_arguments() -> u8 {
    let options = match Options::try_parse() {
        Ok(options) => options,
        Err(error) => {
            // Help and version are no errors; a closed pipe behind them is no reason to complain.
            let _ = error.print();
            return u8::try_from(error.exit_code()).unwrap_or(failure::INPUT);
        }
    };
    let runtime = match tokio::runtime::Runtime::new() {
        Ok(runtime) => runtime,
        Err(error) => {
            message(&format!("fishplate cannot start: {error}\n"), Colour::Auto);
            return SERVICE;
        }
    };
    let exit = runtime.block_on(async {
        #[cfg(feature = "embedded")]
        if let Command::Serve(options) = &options.command {
            return served(commands::serve(options).await);
        }
        let common = common(&options.command);
        tokio::select! {
            outcome = commands::run(&options.command) => told(outcome, common),
            _ = tokio::signal::ctrl_c() => INTERRUPTED,
        }
    });
    runtime.shutdown_timeout(LAST_WORK);
    exit
}

fn common(command: &Command) -> Option<&Common> {
    match command {
        Command::Batch(options) => Some(&options.common),
        Command::Check(options) => Some(&options.common),
        Command::Compare(options) => Some(&options.common),
        Command::Explain(options) => Some(&options.common),
        Command::Guesses(options) => Some(&options.common),
        Command::WhatIf(options) => Some(&options.common),
        Command::CheckPart(options) => Some(&options.common),
        Command::Size(options) => Some(&options.common),
        Command::Solve(options) => Some(&options.common),
        Command::Tables(options) => Some(&options.common),
        #[cfg(feature = "embedded")]
        Command::Serve(_) => None,
    }
}

/// Prints an outcome and gives its exit code.
fn told(outcome: Attempt<Outcome>, common: Option<&Common>) -> u8 {
    let colour = common.map_or(Colour::Auto, |c| c.color);
    let json = common.is_some_and(|c| c.json);
    match outcome {
        Ok(outcome) => {
            let printed =
                if json { document(&outcome.text) } else { answer(&outcome.text, colour) };
            match printed {
                Ok(()) => outcome.exit,
                Err(error) => {
                    message(&format!("the answer cannot be printed: {error}\n"), colour);
                    SERVICE
                }
            }
        }
        Err(failure) => {
            let text = match common {
                Some(common) if !json => failure.text(common.look()),
                Some(_) => failure.json(),
                None => failure.message.clone() + "\n",
            };
            message(&text, colour);
            failure.exit
        }
    }
}

#[cfg(feature = "embedded")]
fn served(outcome: Attempt<()>) -> u8 {
    match outcome {
        Ok(()) => 0,
        Err(failure) => told(Err(failure), None),
    }
}
