//! `fishplate check-part`.

use std::time::Duration;

use fishplate_proto::describe::FieldKind;
use fishplate_proto::json::{JsonError, from_json};
use fishplate_proto::v1::strength_service_client::StrengthServiceClient;
use fishplate_proto::v1::{PartAnswer, Stamp, State};
use fishplate_report::Units;
use fishplate_report::sheet::{Head, rows_of_part, rules_of_part, sheet};
use tonic::Status;
use tonic::transport::Channel;

use super::{json, page_file, refuse_own_input, time};
use crate::Outcome;
use crate::args::CheckPartOptions;
use crate::connection::{ANSWER_BYTES, connect, request, within};
use crate::failure::{Attempt, Failure, File, INPUT, SERVICE};
use crate::part::{self, Kind, Part, kinds};
use crate::project::spelling::nearest;
use crate::source::{PROJECT_BYTES, Source};
use crate::terminal::{self, Shown};

pub(super) async fn check_part(options: &CheckPartOptions) -> Attempt<Outcome> {
    let look = options.common.look();
    if options.list {
        return Ok(Outcome { text: terminal::listed(&kinds(), look), exit: 0 });
    }
    if let Some(name) = &options.describe {
        return Ok(Outcome { text: terminal::described(&known(name)?, look), exit: 0 });
    }
    let source = Source::read(options.file.as_deref().unwrap_or("-"), PROJECT_BYTES)?;
    let parts = part::read(source.text(), options.rules.as_deref())
        .map_err(|faults| Failure::in_file(&source, faults))?;
    let channel = connect(options.common.server.as_deref()).await?;
    let wait = time(&options.common);
    let mut answers = Vec::new();
    let mut failed: Option<Box<Failure>> = None;
    for part in &parts {
        match asked(&channel, part, wait).await {
            Ok(answer) => answers.push((part.label.as_str(), answer)),
            Err(Asked::Refused(status)) => {
                let failure = told(&status, &source, part);
                let input = failure.exit == INPUT;
                failed = Some(match failed {
                    Some(first) => together(first, *failure),
                    None => failure,
                });
                // Without a service the next part has no answer either.
                if !input {
                    break;
                }
            }
            Err(Asked::NotAMessage(error)) => {
                let message = format!("{} cannot be asked for: {error}", part.label);
                return Err(Failure::plain(SERVICE, "NO ANSWER", "SERVICE_FAILED", message, ""));
            }
        }
    }
    if let Some(failure) = failed {
        return Err(failure);
    }
    let exit = exit_code(answers.iter().map(|(_, answer)| answer));
    let units = options.common.units.units();
    if let Some(page) = &options.html {
        refuse_own_input(page, &source)?;
        page_file(page, &on_paper(source.name(), &answers, units))?;
    }
    let text = if options.common.json {
        let texts: Attempt<Vec<String>> =
            answers.iter().map(|(_, answer)| json("PartAnswer", answer)).collect();
        let texts: Vec<String> = texts?.iter().map(|text| text.trim_end().to_owned()).collect();
        format!("[{}]\n", texts.join(",\n"))
    } else {
        answers.iter_mut().for_each(|(_, answer)| units.rewrite_part(answer));
        terminal::parts(&answers, Shown { steps: options.steps, all: options.all }, look)
    };
    Ok(Outcome { text, exit })
}

/// The calculation of all parts of a file.
fn on_paper(file: &str, answers: &[(&str, PartAnswer)], units: Units) -> String {
    let rows: Vec<_> = answers.iter().flat_map(|(label, a)| rows_of_part(label, a)).collect();
    let mut rules: Vec<String> = answers.iter().map(|(_, answer)| rules_of_part(answer)).collect();
    rules.dedup();
    let about: Vec<&str> = answers.iter().map(|(label, _)| *label).collect();
    let stamp = Stamp { rules: rules.join("; "), ..Stamp::default() };
    let head = Head { title: file, about: &about.join(", "), stamp: &stamp };
    sheet(head, &rows, units, &|path| path.to_owned())
}

fn known(name: &str) -> Attempt<Kind> {
    let kinds = kinds();
    let near = match nearest(name, kinds.iter().map(|kind| kind.name.as_str())) {
        Some(near) => format!("did you mean {near}? "),
        None => String::new(),
    };
    kinds.into_iter().find(|kind| kind.name == name).ok_or_else(|| {
        let message = format!("No part is called {}.", terminal::clean(name));
        let advice = format!("{near}`fishplate check-part --list` names them all");
        Failure::plain(INPUT, "CANNOT DESCRIBE", "UNKNOWN_PART", message, advice)
    })
}

/// Why a part has no answer.
enum Asked {
    Refused(Status),
    NotAMessage(JsonError),
}

impl From<Status> for Asked {
    fn from(status: Status) -> Self {
        Self::Refused(status)
    }
}

impl From<JsonError> for Asked {
    fn from(error: JsonError) -> Self {
        Self::NotAMessage(error)
    }
}

/// The answer about one part; which call it takes is all that hangs on its kind.
async fn asked(channel: &Channel, part: &Part, wait: Duration) -> Result<PartAnswer, Asked> {
    let channel = channel.clone();
    let mut client = StrengthServiceClient::new(channel).max_decoding_message_size(ANSWER_BYTES);
    let name = part.kind.request;
    let body = part.body.to_string();
    macro_rules! call {
        ($method:ident) => {{
            let asked = request(from_json(name, &body)?, wait);
            within(wait, client.$method(asked)).await?.answer
        }};
    }
    let answer = match name {
        "CheckBoltRequest" => call!(check_bolt),
        "CheckWeldRequest" => call!(check_weld),
        "CheckMemberRequest" => call!(check_member),
        "CheckPlateRequest" => call!(check_plate),
        _ => call!(check_fatigue),
    };
    answer.ok_or_else(|| Asked::Refused(Status::internal("the service answered without a part")))
}

/// Faults that the service found, in the words of the file: keys for fields, words for values.
fn told(status: &Status, source: &Source, part: &Part) -> Box<Failure> {
    let file = File { source, places: &part.places, title: "" };
    let mut failure = Failure::from_status(status, source.name(), Some(file));
    for fault in &mut failure.faults {
        let key = part.kind.keys.iter().find(|key| {
            let lead = if key.named { "named" } else { part.kind.name.as_str() };
            let rest = fault.path.strip_prefix(lead).and_then(|rest| rest.strip_prefix('.'));
            rest.and_then(|rest| rest.strip_prefix(key.field.name.as_str()))
                .is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        });
        let Some(key) = key else { continue };
        if let FieldKind::Word(words) = &key.field.kind {
            // The longest first: a name may begin another.
            let mut words: Vec<_> = words.iter().collect();
            words.sort_by_key(|word| std::cmp::Reverse(word.name.len()));
            for word in words {
                fault.what = fault.what.replace(&word.name, &format!("\"{}\"", word.word));
            }
        }
        fault.what = format!("{}: `{}`: {}", part.label, key.name, fault.what);
    }
    failure
}

fn together(mut first: Box<Failure>, next: Failure) -> Box<Failure> {
    first.total += next.total;
    first.faults.extend(next.faults);
    first
}

/// The worst of all parts.
fn exit_code<'a>(answers: impl Iterator<Item = &'a PartAnswer> + Clone) -> u8 {
    let any = |state: State| {
        answers.clone().any(|answer| answer.state() == state || answer.detailing() == state)
    };
    if any(State::Exceeds) || any(State::RuleNotMet) {
        1
    } else if any(State::NotChecked) {
        4
    } else {
        0
    }
}
