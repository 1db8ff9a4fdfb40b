//! `fishplate solve`.

use fishplate_proto::json::{JsonError, from_json};
use fishplate_proto::v1::SolveStructureRequest;
use fishplate_proto::v1::solver_service_client::SolverServiceClient;

use super::{json, time};
use crate::Outcome;
use crate::args::SolveOptions;
use crate::connection::{ANSWER_BYTES, connect, request, within};
use crate::failure::{Attempt, Failure, INPUT, Told};
use crate::source::{STRUCTURE_BYTES, Source};
use crate::terminal;

pub(super) async fn solve(options: &SolveOptions) -> Attempt<Outcome> {
    let source = Source::read(&options.file, STRUCTURE_BYTES)?;
    let asked: SolveStructureRequest = from_json("SolveStructureRequest", source.text())
        .map_err(|error| not_json(&source, &error))?;
    let channel = connect(options.common.server.as_deref()).await?;
    let mut client = SolverServiceClient::new(channel).max_decoding_message_size(ANSWER_BYTES);
    let wait = time(&options.common);
    let answer = within(wait, client.solve_structure(request(asked, wait)))
        .await
        .map_err(|status| Failure::from_status(&status, source.name(), None))?;
    let text = if options.common.json {
        json("SolveStructureResponse", &answer)?
    } else {
        terminal::structure(&answer, options.common.look())
    };
    Ok(Outcome { text, exit: 0 })
}

/// Shows the place in the file, where the reader of JSON knows it.
fn not_json(source: &Source, error: &JsonError) -> Box<Failure> {
    let (line, column) = match error {
        JsonError::Text(error) => (error.line(), error.column()),
        JsonError::UnknownMessage(_) | JsonError::Transcode(_) => (0, 0),
    };
    let mut failure = Failure::plain(INPUT, "CANNOT READ", "INVALID_FILE", "", "");
    source.name().clone_into(&mut failure.about);
    failure.total = 1;
    failure.faults.push(Told {
        path: String::new(),
        spot: (line > 0).then(|| {
            let start: usize =
                source.text().split_inclusive('\n').take(line - 1).map(str::len).sum();
            let at = start + column.saturating_sub(1);
            source.spot(&(at..at + 1))
        }),
        what: error.to_string(),
        advice: "the file is the protobuf JSON of fishplate.v1.SolveStructureRequest".to_owned(),
    });
    failure
}
