//! One file a command: from arguments to an outcome.

mod check;
mod check_part;
mod explain;
#[cfg(feature = "embedded")]
mod serve;
mod solve;
mod tables;

use std::path::Path;
use std::time::Duration;

use fishplate_proto::json::to_json;

use crate::Outcome;
use crate::args::{Command, Common};
use crate::failure::{Attempt, Failure, INPUT, SERVICE};
use crate::output::whole_file;
use crate::project::{self, Loaded};
use crate::source::{PROJECT_BYTES, Source};

#[cfg(feature = "embedded")]
pub(crate) use serve::serve;

/// Runs a command that asks and answers once.
pub(crate) async fn run(command: &Command) -> Attempt<Outcome> {
    match command {
        Command::Check(options) => check::check(options).await,
        Command::Explain(options) => explain::explain(options).await,
        Command::CheckPart(options) => check_part::check_part(options).await,
        Command::Solve(options) => solve::solve(options).await,
        Command::Tables(options) => tables::tables(options).await,
        #[cfg(feature = "embedded")]
        Command::Serve(options) => {
            serve(options).await.map(|()| Outcome { text: String::new(), exit: 0 })
        }
    }
}

/// Reads a project file.
fn load(name: &str) -> Attempt<(Source, Loaded)> {
    let source = Source::read(name, PROJECT_BYTES)?;
    match project::read(&source.text) {
        Ok(loaded) => Ok((source, loaded)),
        Err(faults) => Err(Failure::in_file(&source, faults)),
    }
}

fn time(common: &Common) -> Duration {
    Duration::from_secs(common.timeout)
}

/// The protobuf JSON of an answer, with a line end.
fn json(name: &str, message: &impl prost::Message) -> Attempt<String> {
    to_json(name, message).map(|text| text + "\n").map_err(|error| {
        let message = format!("The answer cannot be written as JSON: {error}");
        Failure::plain(SERVICE, "NO ANSWER", "SERVICE_FAILED", message, "")
    })
}

/// Writes a page, whole or not at all.
fn page_file(page: &Path, text: &str) -> Attempt<()> {
    whole_file(page, text).map_err(|error| {
        let message = format!("{} cannot be written: {error}", page.display());
        Failure::plain(INPUT, "CANNOT WRITE", "UNWRITABLE", message, "")
    })
}

/// A page over the project file would destroy it.
fn refuse_own_input(page: &Path, file: &str) -> Attempt<()> {
    let same = match (page.canonicalize(), Path::new(file).canonicalize()) {
        (Ok(page), Ok(file)) => page == file,
        _ => false,
    };
    if same {
        let message = format!("{file} is the project file; the page would replace it.");
        let advice = "give the page a name of its own";
        return Err(Failure::plain(INPUT, "CANNOT WRITE", "UNWRITABLE", message, advice));
    }
    Ok(())
}
