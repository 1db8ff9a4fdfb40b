//! `fishplate explain`.

use fishplate_proto::v1::check_service_client::CheckServiceClient;
use fishplate_proto::v1::{
    CheckProjectRequest, CheckProjectResponse, ExplainRowRequest, ExplainRowResponse, Project,
    State,
};
use fishplate_report::sheet::{Head, sheet};
use fishplate_report::{in_the_file, is_of};
use tonic::Status;
use tonic::transport::Channel;

use super::{json, load, page_file, refuse_own_input, time};
use crate::Outcome;
use crate::args::ExplainOptions;
use crate::connection::{ANSWER_BYTES, connect, request, within};
use crate::failure::{Attempt, Failure, File, INPUT};
use crate::terminal::{self, Told};

pub(super) async fn explain(options: &ExplainOptions) -> Attempt<Outcome> {
    let (source, loaded) = load(&options.given)?;
    if let Some(page) = &options.html {
        refuse_own_input(page, &source)?;
    }
    let project = loaded.project;
    let title = project.title.clone();
    let file = File { source: &source, places: &loaded.places, title: &title };
    let failed = |status: Status| Failure::from_status(&status, source.name(), Some(file));
    let channel = connect(options.common.server.as_deref()).await?;
    let mut asking = Asking { channel, options, project: &project };
    // A path with a dot names a part or joint, as in the file; a row has none.
    let whole = if options.row.contains('.') || options.html.is_some() {
        Some(asking.check().await.map_err(failed)?)
    } else {
        None
    };
    let mut answers = Vec::new();
    for row in rows(options, whole.as_ref())? {
        answers.push(asking.row(row).await.map_err(failed)?);
    }
    let units = options.common.units.units();
    let place = |path: &str| place(&project, file, path);
    if let (Some(page), Some(whole)) = (&options.html, &whole) {
        let stamp = whole.stamp.clone().unwrap_or_default();
        let head = Head { title: &whole.title, about: &options.row, stamp: &stamp };
        page_file(page, &sheet(head, &answers, units, &place))?;
    }
    let exit = answers.iter().map(exit_code).max_by_key(|code| severity(*code)).unwrap_or(4);
    let text = if options.common.json {
        as_json(&answers)?
    } else {
        let told = Told { look: options.common.look(), place: &place };
        answers.iter_mut().for_each(|answer| units.rewrite_row(answer));
        terminal::explain(&answers, &told)
    };
    Ok(Outcome { text, exit })
}

/// The service with what is asked again and again.
struct Asking<'a> {
    channel: Channel,
    options: &'a ExplainOptions,
    project: &'a Project,
}

impl Asking<'_> {
    fn client(&self) -> CheckServiceClient<Channel> {
        CheckServiceClient::new(self.channel.clone()).max_decoding_message_size(ANSWER_BYTES)
    }

    async fn check(&mut self) -> Result<CheckProjectResponse, Status> {
        let asked = CheckProjectRequest {
            project: Some(self.project.clone()),
            with_derivations: false,
            with_scene: false,
            depth: self.options.depth.wire().into(),
        };
        let wait = time(&self.options.common);
        within(wait, self.client().check_project(request(asked, wait))).await
    }

    async fn row(&mut self, row_id: String) -> Result<ExplainRowResponse, Status> {
        let asked = ExplainRowRequest {
            project: Some(self.project.clone()),
            row_id,
            case_name: self.options.case.clone().unwrap_or_default(),
            depth: self.options.depth.wire().into(),
        };
        let wait = time(&self.options.common);
        within(wait, self.client().explain_row(request(asked, wait))).await
    }
}

/// The rows that are asked for: one by its number, or all of a part or joint.
fn rows(options: &ExplainOptions, whole: Option<&CheckProjectResponse>) -> Attempt<Vec<String>> {
    let Some(whole) = whole.filter(|_| options.row.contains('.')) else {
        // Rows are numbered in capitals; nobody should have to hold the shift key for that.
        return Ok(vec![options.row.to_ascii_uppercase()]);
    };
    let of = |row: &&fishplate_proto::v1::Row| {
        let sides = ["", " left", " right"].map(|side| format!("{}{side}", options.row));
        sides.iter().any(|thing| is_of(&row.component, thing))
    };
    let found: Vec<String> = whole.rows.iter().filter(of).map(|row| row.id.clone()).collect();
    if !found.is_empty() {
        return Ok(found);
    }
    let mut known: Vec<&str> = Vec::new();
    for row in &whole.rows {
        if !row.component.is_empty() && !known.contains(&row.component.as_str()) {
            known.push(&row.component);
        }
    }
    let message = format!("Nothing that is checked is called {}.", options.row);
    let advice = format!("these are: {}", known.join(", "));
    Err(Failure::plain(INPUT, "NOT FOUND", "ROW_NOT_FOUND", message, advice))
}

/// A field by its name in the file, with its line; what the file does not say is taken for it.
fn place(project: &Project, file: File<'_>, path: &str) -> String {
    if let Some(factor) = path.strip_prefix("rules, ") {
        let symbol = factor.split(':').next().unwrap_or_default();
        let factors = project.rules.iter().flat_map(|rules| &rules.factors);
        let spot = factors
            .enumerate()
            .find(|(_, own)| own.symbol == symbol)
            .and_then(|(at, _)| file.spot(&format!("rules.factors[{at}].value")));
        let name = in_the_file(Some(project), path);
        return spot.map_or(name.clone(), |spot| format!("{name}, {}", spot.shown()));
    }
    // What is made of a field says so before its path: "thickness of parts[0]".
    let (words, path) = path.rsplit_once(' ').unwrap_or(("", path));
    let gap = if words.is_empty() { "" } else { " " };
    let name = format!("{words}{gap}{}", in_the_file(Some(project), path));
    match file.spot(path) {
        // Only the table that would hold it is there.
        Some(spot) if spot.text.trim_start().starts_with('[') && !path.ends_with(']') => {
            format!("{name} (not in the file)")
        }
        Some(spot) => format!("{name}, {}", spot.shown()),
        None => format!("{name} (not in the file)"),
    }
}

/// One answer as it is, several as a list.
fn as_json(answers: &[ExplainRowResponse]) -> Attempt<String> {
    let mut texts = Vec::new();
    for answer in answers {
        texts.push(json("ExplainRowResponse", answer)?);
    }
    Ok(match texts.as_slice() {
        [one] => one.clone(),
        _ => format!("[\n{}]\n", texts.join(",\n")),
    })
}

/// As a check of this row alone would end.
fn exit_code(answer: &ExplainRowResponse) -> u8 {
    match answer.row.as_ref().map(|row| row.state()) {
        Some(State::Holds) => 0,
        Some(State::Exceeds) => 1,
        Some(State::RuleNotMet | State::NotChecked | State::Unspecified) | None => 4,
    }
}

/// What exceeds comes before what is open, and that before what holds.
fn severity(code: u8) -> u8 {
    match code {
        1 => 2,
        0 => 0,
        _ => 1,
    }
}
