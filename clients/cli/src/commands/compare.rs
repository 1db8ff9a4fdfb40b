//! `fishplate compare`.

use std::time::Duration;

use fishplate_proto::v1::compare_projects_response::Update;
use fishplate_proto::v1::study_service_client::StudyServiceClient;
use fishplate_proto::v1::{CompareProjectsRequest, Comparison, Verdict};
use tonic::transport::Channel;
use tonic::{Response, Status};

use super::check::exit_code;
use super::{json, load, page_file, refuse_own_input, time};
use crate::Outcome;
use crate::args::{CompareOptions, Given};
use crate::connection::{ANSWER_BYTES, connect, request, within};
use crate::failure::{Attempt, Failure, File, INPUT};
use crate::output::ProgressLine;
use crate::project::Loaded;
use crate::source::Source;
use crate::terminal;

pub(super) async fn compare(options: &CompareOptions) -> Attempt<Outcome> {
    if options.files.iter().filter(|file| *file == "-").count() > 1 {
        return Err(Failure::plain(
            INPUT,
            "CANNOT READ",
            "UNREADABLE",
            "Standard input holds one design only.",
            "give the others as files",
        ));
    }
    let mut files = Vec::new();
    for file in &options.files {
        let given = Given { file: file.clone(), set: options.set.clone() };
        let (source, loaded) = load(&given)?;
        if let Some(page) = &options.html {
            refuse_own_input(page, &source)?;
        }
        files.push((source, loaded));
    }
    let channel = connect(options.common.server.as_deref()).await?;
    let client = StudyServiceClient::new(channel).max_decoding_message_size(ANSWER_BYTES);
    let asked = CompareProjectsRequest {
        projects: files.iter().map(|(_, loaded)| loaded.project.clone()).collect(),
        depth: options.depth.wire().into(),
        with_scene: options.html.is_some(),
        measure: options.by.wire().into(),
        rates: options.rates,
    };
    let mut line = ProgressLine::new(!options.quiet && !options.common.json);
    let told = told(client, asked.clone(), time(&options.common), &mut line).await;
    line.clear();
    let comparison = told.map_err(|status| failure(&status, &files))?;
    let exit = exit_code(verdict_of_first(&comparison))?;
    if let Some(page) = &options.html {
        let units = options.common.units.units();
        let text = fishplate_report::compare::comparison_page(&asked, &comparison, units);
        page_file(page, &text)?;
    }
    let text = if options.common.json {
        json("Comparison", &comparison)?
    } else {
        terminal::compare(&comparison, options.all, options.common.look())
    };
    Ok(Outcome { text, exit })
}

/// Asks for the comparison and shows how far it is.
async fn told(
    mut client: StudyServiceClient<Channel>,
    asked: CompareProjectsRequest,
    wait: Duration,
    line: &mut ProgressLine,
) -> Result<Comparison, Status> {
    let answer = async {
        let told = client.compare_projects(request(asked, wait)).await?;
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

fn verdict_of_first(comparison: &Comparison) -> Verdict {
    let first = comparison.ranking.first().and_then(|place| usize::try_from(*place).ok());
    let design = first.and_then(|place| comparison.designs.get(place));
    design.and_then(|design| design.answer.as_ref()).map_or(Verdict::Unspecified, |a| a.verdict())
}

/// Why there is no comparison. Faults of one file are shown in it as `check` does; faults of several
/// are told with the file and line of each.
fn failure(status: &Status, files: &[(Source, Loaded)]) -> Box<Failure> {
    let mut failure = Failure::from_status(status, "", None);
    let places: Vec<Option<usize>> =
        failure.faults.iter().map(|fault| design(&fault.path).map(|(place, _)| place)).collect();
    let mut owners = places.iter().flatten().copied().collect::<Vec<_>>();
    owners.sort_unstable();
    owners.dedup();
    let alone = match owners.as_slice() {
        [one] => files.get(*one),
        _ => None,
    };
    if let Some((source, loaded)) = alone {
        source.name().clone_into(&mut failure.about);
        failure.title.clone_from(&loaded.project.title);
    }
    for fault in &mut failure.faults {
        let Some((place, field)) = design(&fault.path) else { continue };
        let Some((source, loaded)) = files.get(place) else { continue };
        let file = File { source, places: &loaded.places, title: &loaded.project.title };
        let spot = file.spot(&format!("project{field}"));
        if alone.is_some() {
            fault.path = format!("project{field}");
            fault.spot = spot;
        } else {
            let at = spot.map_or(String::new(), |spot| format!(", line {}", spot.line));
            let field = field.trim_start_matches('.');
            fault.path = format!("{}{at}: {field}", source.name());
        }
    }
    failure
}

/// The place of the design that a path of the request leads into, and the rest of the path.
fn design(path: &str) -> Option<(usize, &str)> {
    let (place, rest) = path.strip_prefix("projects[")?.split_once(']')?;
    Some((place.parse().ok()?, rest))
}

#[cfg(test)]
mod tests {
    use super::design;

    #[test]
    fn a_path_says_which_design_it_is_about() {
        assert_eq!(design("projects[1].parts[0].steel"), Some((1, ".parts[0].steel")));
        assert_eq!(design("projects[0]"), Some((0, "")));
        assert_eq!(design("projects"), None);
        assert_eq!(design("rates.per_kg"), None);
    }
}
