//! `fishplate check`.

use std::time::Duration;

use fishplate_proto::v1::check_project_with_progress_response::Update;
use fishplate_proto::v1::check_service_client::CheckServiceClient;
use fishplate_proto::v1::{
    CheckProjectRequest, CheckProjectResponse, CheckProjectWithProgressRequest, Verdict,
};
use tonic::transport::Channel;
use tonic::{Response, Status};

use super::{json, load, page_file, refuse_own_input, time};
use crate::Outcome;
use crate::args::{CheckOptions, Given, LookDepth};
use crate::connection::{ANSWER_BYTES, connect, request, within};
use crate::failure::{Attempt, Failure, File, SERVICE};
use crate::output::ProgressLine;
use crate::terminal::{self, Asked};

pub(super) async fn check(options: &CheckOptions) -> Attempt<Outcome> {
    let (source, loaded) = load(&options.given)?;
    let title = loaded.project.title.clone();
    if let Some(page) = &options.html {
        refuse_own_input(page, &source)?;
    }
    let channel = connect(options.common.server.as_deref()).await?;
    let mut client = CheckServiceClient::new(channel).max_decoding_message_size(ANSWER_BYTES);
    let asked = CheckProjectRequest {
        project: Some(loaded.project),
        with_derivations: options.html.is_some(),
        with_scene: options.html.is_some(),
        depth: options.depth.wire().into(),
    };
    let wait = time(&options.common);
    let file = File { source: &source, places: &loaded.places, title: &title };
    let answer = match options.depth {
        LookDepth::Frame => within(wait, client.check_project(request(asked.clone(), wait))).await,
        LookDepth::Plate => {
            let mut line = ProgressLine::new(!options.quiet && !options.common.json);
            let answer = told(client, asked.clone(), wait, &mut line).await;
            line.clear();
            answer
        }
    };
    let answer =
        answer.map_err(|status| Failure::from_status(&status, source.name(), Some(file)))?;
    let exit = exit_code(answer.verdict())?;
    if let Some(page) = &options.html {
        let text = fishplate_report::page(&asked, &answer, options.common.units.units());
        page_file(page, &text)?;
    }
    let text = if options.common.json {
        json("CheckProjectResponse", &answer)?
    } else {
        let place_of = |path: &str| file.spot(path).map(|spot| spot.shown());
        let Given { file, set } = &options.given;
        let asked = Asked { file, set, all: options.all, place_of: &place_of };
        terminal::check(&answer, &asked, options.common.look())
    };
    Ok(Outcome { text, exit })
}

/// Asks for the answer and shows how far it is.
async fn told(
    mut client: CheckServiceClient<Channel>,
    asked: CheckProjectRequest,
    wait: Duration,
    line: &mut ProgressLine,
) -> Result<CheckProjectResponse, Status> {
    let asked = CheckProjectWithProgressRequest { check: Some(asked) };
    let answer = async {
        let told = client.check_project_with_progress(request(asked, wait)).await?;
        let mut updates = told.into_inner();
        while let Some(message) = updates.message().await? {
            match message.update {
                Some(Update::Answer(answer)) => return Ok(Response::new(answer)),
                Some(Update::Progress(progress)) => line.show(&progress),
                None => {}
            }
        }
        Err(Status::internal("the service ended without an answer"))
    };
    within(wait, answer).await
}

/// The exit code of a verdict.
pub(super) fn exit_code(verdict: Verdict) -> Attempt<u8> {
    match verdict {
        Verdict::Holds => Ok(0),
        Verdict::DoesNotHold => Ok(1),
        Verdict::Provisional => Ok(4),
        Verdict::Unspecified => Err(Failure::plain(
            SERVICE,
            "NO ANSWER",
            "SERVICE_FAILED",
            "The service answered without a verdict.",
            "the versions of this program and of the service may differ",
        )),
    }
}
