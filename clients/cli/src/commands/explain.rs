//! `fishplate explain`.

use fishplate_proto::v1::check_service_client::CheckServiceClient;
use fishplate_proto::v1::{ExplainRowRequest, ExplainRowResponse, State};

use super::{json, load, time};
use crate::Outcome;
use crate::args::ExplainOptions;
use crate::connection::{ANSWER_BYTES, connect, request, within};
use crate::failure::{Attempt, Failure, File};
use crate::terminal;

pub(super) async fn explain(options: &ExplainOptions) -> Attempt<Outcome> {
    let (source, loaded) = load(&options.file)?;
    let title = loaded.project.title.clone();
    let channel = connect(options.common.server.as_deref()).await?;
    let mut client = CheckServiceClient::new(channel).max_decoding_message_size(ANSWER_BYTES);
    let asked = ExplainRowRequest {
        project: Some(loaded.project),
        // Rows are numbered in capitals; nobody should have to hold the shift key for that.
        row_id: options.row.to_ascii_uppercase(),
        case_name: options.case.clone().unwrap_or_default(),
    };
    let wait = time(&options.common);
    let file = File { source: &source, places: &loaded.places, title: &title };
    let answer = within(wait, client.explain_row(request(asked, wait)))
        .await
        .map_err(|status| Failure::from_status(&status, &source.name, Some(file)))?;
    let text = if options.common.json {
        json("ExplainRowResponse", &answer)?
    } else {
        terminal::explain(&answer, options.common.look())
    };
    Ok(Outcome { text, exit: exit_code(&answer) })
}

/// As a check of this row alone would end.
fn exit_code(answer: &ExplainRowResponse) -> u8 {
    match answer.row.as_ref().map(|row| row.state()) {
        Some(State::Holds) => 0,
        Some(State::Exceeds) => 1,
        Some(State::RuleNotMet | State::NotChecked | State::Unspecified) | None => 4,
    }
}
