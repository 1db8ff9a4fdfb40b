//! `fishplate guesses`.

use fishplate_proto::v1::rank_guesses_response::Update;
use fishplate_proto::v1::study_service_client::StudyServiceClient;
use fishplate_proto::v1::{GuessRanking, RankGuessesRequest};
use tonic::{Response, Status};

use super::check::exit_code;
use super::{json, load, page_file, refuse_own_input, time};
use crate::Outcome;
use crate::args::GuessesOptions;
use crate::connection::{ANSWER_BYTES, connect, request, within};
use crate::failure::{Attempt, Failure, File};
use crate::output::ProgressLine;
use crate::terminal;

pub(super) async fn guesses(options: &GuessesOptions) -> Attempt<Outcome> {
    let (source, loaded) = load(&options.given)?;
    let title = loaded.project.title.clone();
    if let Some(page) = &options.html {
        refuse_own_input(page, &source)?;
    }
    let file = File { source: &source, places: &loaded.places, title: &title };
    let asked = RankGuessesRequest {
        project: Some(loaded.project),
        row_id: options.row.clone().unwrap_or_default().to_ascii_uppercase(),
        case_name: options.case.clone().unwrap_or_default(),
        points: options.samples,
        assume_spreads: !options.given_only,
    };
    let channel = connect(options.common.server.as_deref()).await?;
    let mut client = StudyServiceClient::new(channel).max_decoding_message_size(ANSWER_BYTES);
    let wait = time(&options.common);
    let mut line = ProgressLine::new(!options.quiet && !options.common.json);
    let answer = async {
        let told = client.rank_guesses(request(asked.clone(), wait)).await?;
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
    let answer: Result<GuessRanking, Status> = within(wait, answer).await;
    line.clear();
    let answer =
        answer.map_err(|status| Failure::from_status(&status, source.name(), Some(file)))?;
    let exit = exit_code(answer.verdict())?;
    let units = options.common.units.units();
    if let Some(page) = &options.html {
        page_file(page, &fishplate_report::guesses_page(&asked, &answer, units))?;
    }
    let text = if options.common.json {
        json("GuessRanking", &answer)?
    } else {
        let place_of = |path: &str| file.spot(path).map(|spot| spot.shown());
        let asked = terminal::Ranked { all: options.all, place_of: &place_of };
        terminal::guesses(&answer, &asked, options.common.look())
    };
    Ok(Outcome { text, exit })
}
