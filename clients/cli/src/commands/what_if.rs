//! `fishplate what-if`.

use fishplate_proto::v1::ask_what_if_response::Update;
use fishplate_proto::v1::mass_to_add::Place;
use fishplate_proto::v1::study_service_client::StudyServiceClient;
use fishplate_proto::v1::{
    AskWhatIfRequest, Axle, LossKind, MassToAdd, MountLoss, NeedWeldRequest, Project, Side,
    Verdict, WhatIf,
};
use fishplate_quantity::algebra::larger;
use fishplate_quantity::{Force, written};
use tonic::{Response, Status};

use super::check::exit_code;
use super::{json, load, page_file, refuse_own_input, time};
use crate::Outcome;
use crate::args::{Given, WhatIfOptions};
use crate::connection::{ANSWER_BYTES, connect, request, within};
use crate::failure::{Attempt, Failure, File, INPUT};
use crate::output::ProgressLine;
use crate::project::added_mass;
use crate::terminal;

pub(super) async fn what_if(options: &WhatIfOptions) -> Attempt<Outcome> {
    if let Some(weld) = &options.weld {
        return need_weld(options, weld).await;
    }
    let bare = Given { file: options.given.file.clone(), set: Vec::new() };
    let (source, loaded) = load(&bare)?;
    if let Some(page) = &options.html {
        refuse_own_input(page, &source)?;
    }
    let project = loaded.project;
    let asked = AskWhatIfRequest {
        changes: match options.given.set.is_empty() {
            true => Vec::new(),
            false => changes(&project, &load(&options.given)?.1.project)?,
        },
        added: options.add_mass.as_deref().map(mass).transpose()?,
        lost: options.lose.as_deref().map(loss).transpose()?,
        project: Some(project),
    };
    let nothing = asked.changes.is_empty() && asked.added.is_none() && asked.lost.is_none();
    if nothing {
        let advice = "--add-mass \"80 kg at 50, 0, 620 mm\", --lose mount.front.left, or \
                      --set cradle.mass=\"225 kg\"";
        return Err(wrong("Nothing is changed: what if what?".to_owned(), advice));
    }
    let title = asked.project.as_ref().map_or(String::new(), |p| p.title.clone());
    let file = File { source: &source, places: &loaded.places, title: &title };
    let channel = connect(options.common.server.as_deref()).await?;
    let mut client = StudyServiceClient::new(channel).max_decoding_message_size(ANSWER_BYTES);
    let wait = time(&options.common);
    let mut line = ProgressLine::new(!options.quiet && !options.common.json);
    let answer = async {
        let told = client.ask_what_if(request(asked, wait)).await?;
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
    let answer: Result<WhatIf, Status> = within(wait, answer).await;
    line.clear();
    let answer =
        answer.map_err(|status| Failure::from_status(&status, source.name(), Some(file)))?;
    // A cradle that nothing holds does not hold.
    let exit = match &answer.after {
        Some(after) => exit_code(after.verdict())?,
        None => exit_code(Verdict::DoesNotHold)?,
    };
    let question = question(options);
    if let Some(page) = &options.html {
        let units = options.common.units.units();
        page_file(page, &fishplate_report::what_if_page(&question, &answer, units))?;
    }
    let text = if options.common.json {
        json("WhatIf", &answer)?
    } else {
        terminal::what_if(&answer, &question, options.all, options.common.look())
    };
    Ok(Outcome { text, exit })
}

/// How much of a weld a force needs.
async fn need_weld(options: &WhatIfOptions, weld: &str) -> Attempt<Outcome> {
    let (source, loaded) = load(&options.given)?;
    let title = loaded.project.title.clone();
    let file = File { source: &source, places: &loaded.places, title: &title };
    let force_n = options.force.as_deref().map(|text| {
        let advice = "--force \"15 kN\", load factor included";
        written::parse::<Force>(text)
            .map(|force| force.value.si())
            .map_err(|error| wrong(format!("--force {text}: {error}"), advice))
    });
    let asked = NeedWeldRequest {
        project: Some(loaded.project),
        weld: weld.to_owned(),
        force_n: force_n.transpose()?,
    };
    let channel = connect(options.common.server.as_deref()).await?;
    let mut client = StudyServiceClient::new(channel).max_decoding_message_size(ANSWER_BYTES);
    let wait = time(&options.common);
    let answer = within(wait, client.need_weld(request(asked, wait)))
        .await
        .map_err(|status| Failure::from_status(&status, source.name(), Some(file)))?;
    // Drawn long enough on both sides, for the force alone.
    let longest = answer.sides.iter().flat_map(|s| &s.rules).map(|r| r.length_mm);
    let exit = u8::from(longest.fold(0.0, larger) > answer.drawn_mm);
    let text = if options.common.json {
        json("NeedWeldResponse", &answer)?
    } else {
        terminal::weld_need(&answer, options.common.look())
    };
    Ok(Outcome { text, exit })
}

/// What is asked, in the words in which it was given.
fn question(options: &WhatIfOptions) -> String {
    let added = options.add_mass.iter().map(|mass| format!("{mass} more"));
    let lost = options.lose.iter().map(|lost| format!("{lost} lost"));
    added.chain(lost).chain(options.given.set.iter().cloned()).collect::<Vec<_>>().join("; ")
}

fn wrong(message: String, advice: &str) -> Box<Failure> {
    Failure::plain(INPUT, "CANNOT USE", "INVALID_ARGUMENT", message, advice)
}

/// The fields that keys on the command line change.
fn changes(before: &Project, after: &Project) -> Attempt<Vec<fishplate_proto::v1::FieldChange>> {
    fishplate_proto::changes::between("Project", before, after)
        .map_err(|error| wrong(format!("The changed project cannot be told: {error}"), ""))
}

/// `80 kg at 50, 0, 620 mm`, `80 kg on the rear axle`.
fn mass(text: &str) -> Attempt<MassToAdd> {
    let advice = "--add-mass \"80 kg at 50, 0, 620 mm\" or \"80 kg on the rear axle\"";
    let told = |why: String| wrong(format!("--add-mass {text}: {why}"), advice);
    let (much, point, axle) = match (text.split_once(" at "), text.split_once(" on ")) {
        (Some((much, point)), _) => (much, Some(point), None),
        (None, Some((much, axle))) => {
            let axle = match axle.trim().trim_start_matches("the ").trim_end_matches(" axle") {
                "front" => Axle::Front,
                "rear" => Axle::Rear,
                _ => return Err(told("there is no such axle".to_owned())),
            };
            (much, None, Some(axle))
        }
        (None, None) => return Err(told("it does not say where".to_owned())),
    };
    let (mass, at) = added_mass(much, point).map_err(told)?;
    let place = at.map(Place::At).or(axle.map(|axle| Place::Axle(axle.into())));
    Ok(MassToAdd { mass: Some(mass), place })
}

/// `mount.front.left`, `bush.front.left`.
fn loss(text: &str) -> Attempt<MountLoss> {
    let told = || {
        let advice = "--lose mount.front.left: the mount carries nothing; --lose bush.front.left: its \
                      bush has no stiffness";
        wrong(format!("--lose {text}: this names no mount with its side"), advice)
    };
    let (kind, rest) = text.split_once('.').ok_or_else(told)?;
    let (mount, side) = rest.rsplit_once(['.', ' ']).ok_or_else(told)?;
    let kind = match kind {
        "mount" => LossKind::Mount,
        "bush" => LossKind::Bush,
        _ => return Err(told()),
    };
    let side = match side {
        "left" => Side::Left,
        "right" => Side::Right,
        _ => return Err(told()),
    };
    Ok(MountLoss { mount: mount.to_owned(), side: side.into(), kind: kind.into() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn mass_is_read_with_its_place() {
        let read = mass("80 kg at 50, 0, 620 mm").unwrap();
        assert!((read.mass.unwrap().value_kg - 80.0).abs() < 1e-12);
        let Some(Place::At(at)) = read.place else { panic!("a point") };
        assert_eq!((at.x_mm, at.y_mm, at.z_mm), (Some(50.0), Some(0.0), Some(620.0)));
        for (text, axle) in
            [("80 kg on the rear axle", Axle::Rear), ("80 kg on front", Axle::Front)]
        {
            assert_eq!(mass(text).unwrap().place, Some(Place::Axle(axle.into())), "{text}");
        }
        for text in ["80 kg", "80 at 50, 0, 620 mm", "80 kg at 50 mm", "80 kg on the moon", ""] {
            let failure = mass(text).unwrap_err();
            assert!(failure.message.contains("--add-mass"), "{text}: {}", failure.message);
        }
    }

    #[test]
    fn a_loss_names_mount_and_side() {
        let read = loss("mount.front.left").unwrap();
        assert_eq!(
            (read.mount.as_str(), read.side(), read.kind()),
            ("front", Side::Left, LossKind::Mount)
        );
        let read = loss("bush.rear.right").unwrap();
        assert_eq!(
            (read.mount.as_str(), read.side(), read.kind()),
            ("rear", Side::Right, LossKind::Bush)
        );
        for text in ["front", "mount.front", "wheel.front.left", "mount.front.up"] {
            assert!(loss(text).is_err(), "{text}");
        }
    }
}
