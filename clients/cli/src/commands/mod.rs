//! One file a command: from arguments to an outcome.

mod batch;
mod check;
mod check_part;
mod compare;
mod explain;
mod guesses;
#[cfg(feature = "embedded")]
mod serve;
mod size;
mod solve;
mod tables;
mod what_if;

use std::path::Path;
use std::time::Duration;

use fishplate_proto::json::to_json;

use crate::Outcome;
use crate::args::{Command, Common, Given};
use crate::failure::{Attempt, Failure, INPUT, SERVICE};
use crate::output::whole_file;
use crate::project::{Loaded, Texts};
use crate::source::Source;

#[cfg(feature = "embedded")]
pub(crate) use serve::serve;

/// Runs a command that asks and answers once.
pub(crate) async fn run(command: &Command) -> Attempt<Outcome> {
    match command {
        Command::Batch(options) => batch::batch(options).await,
        Command::Check(options) => check::check(options).await,
        Command::Compare(options) => compare::compare(options).await,
        Command::Explain(options) => explain::explain(options).await,
        Command::Guesses(options) => guesses::guesses(options).await,
        Command::WhatIf(options) => what_if::what_if(options).await,
        Command::CheckPart(options) => check_part::check_part(options).await,
        Command::Size(options) => size::size(options).await,
        Command::Solve(options) => solve::solve(options).await,
        Command::Tables(options) => tables::tables(options).await,
        #[cfg(feature = "embedded")]
        Command::Serve(options) => {
            serve(options).await.map(|()| Outcome { text: String::new(), exit: 0 })
        }
    }
}

/// Reads a project file with all that it includes.
fn load(given: &Given) -> Attempt<(Source, Loaded)> {
    let texts = Texts::gather(&given.file, &given.set)?;
    match texts.read() {
        Ok(loaded) => Ok((texts.source, loaded)),
        Err(faults) => Err(Failure::in_file(&texts.source, faults)),
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

/// A page over a file that is read would destroy it.
fn refuse_own_input(page: &Path, source: &Source) -> Attempt<()> {
    let same = |file: &str| match (page.canonicalize(), Path::new(file).canonicalize()) {
        (Ok(page), Ok(file)) => page == file,
        _ => false,
    };
    if let Some(read) = source.texts().iter().find(|text| same(&text.name)) {
        let message = format!("{} is what is read; the page would replace it.", read.name);
        let advice = "give the page a name of its own";
        return Err(Failure::plain(INPUT, "CANNOT WRITE", "UNWRITABLE", message, advice));
    }
    Ok(())
}
