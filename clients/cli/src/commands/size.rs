//! `fishplate size`.

use std::time::Duration;

use fishplate_proto::v1::size_project_response::Update;
use fishplate_proto::v1::study_service_client::StudyServiceClient;
use fishplate_proto::v1::{SizeProjectRequest, Sizing, Verdict};
use tonic::transport::Channel;
use tonic::{Response, Status};

use super::check::exit_code;
use super::{json, page_file, refuse_own_input, time};
use crate::Outcome;
use crate::args::{RankBy, SizeOptions};
use crate::connection::{ANSWER_BYTES, connect, request, within};
use crate::failure::{Attempt, Failure, File, INPUT};
use crate::output::{ProgressLine, whole_file};
use crate::project::{Opened, Texts, settled};
use crate::source::Source;
use crate::terminal;

pub(super) async fn size(options: &SizeOptions) -> Attempt<Outcome> {
    let texts = Texts::gather(&options.given.file, &options.given.set)?;
    let opened = match texts.read_open() {
        Ok(opened) => opened,
        Err(faults) => return Err(Failure::in_file(&texts.source, faults)),
    };
    for page in options.html.iter().chain(&options.write) {
        refuse_own_input(page, &texts.source)?;
    }
    let channel = connect(options.common.server.as_deref()).await?;
    let client = StudyServiceClient::new(channel).max_decoding_message_size(ANSWER_BYTES);
    let [first, second] = front(&options.front)?;
    let asked = SizeProjectRequest {
        space: Some(opened.space()),
        by: options.by.iter().map(|by| by.wire().into()).collect(),
        front_first: first.wire().into(),
        front_second: second.wire().into(),
        rates: options.rates,
        top: i32::from(options.top),
        depth: options.depth.wire().into(),
        confirm: 0,
    };
    let mut line = ProgressLine::new(!options.quiet && !options.common.json);
    let told = told(client, asked.clone(), time(&options.common), &mut line).await;
    line.clear();
    let sizing = told.map_err(|status| failure(&status, &texts.source, &opened))?;
    let exit = exit_code(verdict(&sizing))?;
    if let Some(page) = &options.html {
        let units = options.common.units.units();
        page_file(page, &fishplate_report::size::sizing_page(&asked, &sizing, units))?;
    }
    let mut text = if options.common.json {
        json("Sizing", &sizing)?
    } else {
        terminal::size(&asked, &sizing, options.common.look())
    };
    if let Some(to) = &options.write {
        let written = write(&texts.source, &opened, &sizing, to)?;
        if !options.common.json {
            text.push_str(&written);
        }
    }
    Ok(Outcome { text, exit })
}

/// The two measures of the trade-off.
fn front(given: &[RankBy]) -> Attempt<[RankBy; 2]> {
    match given {
        [first, second] if first != second => Ok([*first, *second]),
        _ => {
            let message = "The trade-off is drawn over two different measures.";
            let advice = "write --front mass,use";
            Err(Failure::plain(INPUT, "CANNOT SIZE", "INVALID_INPUT", message, advice))
        }
    }
}

/// Asks for the answer and shows how far it is.
async fn told(
    mut client: StudyServiceClient<Channel>,
    asked: SizeProjectRequest,
    wait: Duration,
    line: &mut ProgressLine,
) -> Result<Sizing, Status> {
    let answer = async {
        let told = client.size_project(request(asked, wait)).await?;
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

/// The verdict on the first design that was confirmed; where none holds, it does not.
fn verdict(sizing: &Sizing) -> Verdict {
    let holds = sizing.confirmed.iter().find(|one| one.verdict() != Verdict::DoesNotHold);
    holds.map_or(Verdict::DoesNotHold, |one| one.verdict())
}

/// Why there is no answer. Faults of the base and of options stand where the file has them.
fn failure(status: &Status, source: &Source, opened: &Opened) -> Box<Failure> {
    let title = opened.base.project.title.clone();
    let mut failure = Failure::from_status(status, source.name(), None);
    failure.title.clone_from(&title);
    let file = File { source, places: &opened.base.places, title: &title };
    for fault in &mut failure.faults {
        if let Some(rest) = fault.path.strip_prefix("space.base.") {
            fault.spot = file.spot(rest);
            fault.path = rest.to_owned();
        } else if let Some(rest) = fault.path.strip_prefix("space.quantities[") {
            let place = rest.split(']').next().and_then(|digits| digits.parse::<usize>().ok());
            let open = place.and_then(|place| opened.quantities.get(place));
            fault.spot = open.map(|open| source.spot(&open.span));
        }
    }
    failure
}

/// Writes the file with the best design in place of what is open.
fn write(
    source: &Source,
    opened: &Opened,
    sizing: &Sizing,
    to: &std::path::Path,
) -> Attempt<String> {
    let refused = |message: String| {
        Failure::plain(INPUT, "CANNOT WRITE", "UNWRITABLE", message, "leave --write out")
    };
    let sound = sizing.confirmed.iter().find(|one| one.verdict() != Verdict::DoesNotHold);
    let Some(best) = sound else {
        return Err(refused("No design holds; there is none to write.".to_owned()));
    };
    let choice: Vec<usize> =
        best.choice.iter().map(|option| usize::try_from(*option).unwrap_or(0)).collect();
    let text = settled(source, opened, &choice).map_err(refused)?;
    whole_file(to, &text)
        .map_err(|error| refused(format!("{} cannot be written: {error}", to.display())))?;
    Ok(format!("\nThe best design was written to {}.\n", to.display()))
}
