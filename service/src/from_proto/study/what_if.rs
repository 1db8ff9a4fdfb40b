//! `what_if.proto`: a project and what is changed about it.

use fishplate_mounts::describe::{Loss, Project};
use fishplate_mounts::study::what_if::{Added, AddedAt, Change, Lost};
use fishplate_proto::changes::{Unfit, open, set};
use fishplate_proto::v1;
use fishplate_proto::v1::mass_to_add::Place;

use crate::from_proto::Reader;
use crate::from_proto::project::project;
use crate::from_proto::quantity::{mass, place, side};
use crate::path::Path;

/// A project and the same project changed.
#[derive(Debug)]
pub(crate) struct Asked {
    pub(crate) before: Project,
    pub(crate) after: Project,
    /// What is changed beside.
    pub(crate) change: Change,
}

/// Reads a request to set a project beside itself changed.
pub(crate) fn ask(reader: &mut Reader, request: v1::AskWhatIfRequest) -> Option<Asked> {
    let v1::AskWhatIfRequest { project: given, changes, added: load, lost: loss } = request;
    let path = Path::ROOT.field("project");
    let given = reader.required(&path, given)?;
    let before = project(reader, &path, given.clone())?;
    let added = load.map(|load| added(reader, load));
    let lost = loss.map(|loss| lost(reader, &before, loss));
    if changes.is_empty() && added.is_none() && lost.is_none() {
        let allowed = "`changes`, `added` or `lost`";
        reader.refuse(&Path::ROOT, "nothing to change", allowed, "say what if");
        return None;
    }
    let after = if changes.is_empty() {
        before.clone()
    } else {
        let changed = changed(reader, &path, &given, &changes)?;
        // What does not fit the changed project is told of the project: it is there that it is read.
        project(reader, &path, changed)?
    };
    // A change that could not be read has been noted.
    let added = match added {
        Some(read) => Some(read?),
        None => None,
    };
    let lost = match lost {
        Some(read) => Some(read?),
        None => None,
    };
    Some(Asked { before, after, change: Change { added, lost } })
}

/// The project with its fields set.
fn changed(
    reader: &mut Reader,
    path: &Path<'_>,
    given: &v1::Project,
    changes: &[v1::FieldChange],
) -> Option<v1::Project> {
    let mut whole = match open("Project", given) {
        Ok(whole) => whole,
        Err(error) => {
            reader.refuse(path, "a project", format!("one that can be taken apart: {error}"), "");
            return None;
        }
    };
    let mut sound = Some(());
    for (at, change) in changes.iter().enumerate() {
        let v1::FieldChange { field_path, value } = change;
        let here = Path::ROOT.place("changes", at);
        let Some(value) = value else {
            let advice = "null leaves the field out";
            reader.refuse(&here.field("value"), "nothing", "the value of the field", advice);
            sound = None;
            continue;
        };
        if field_path.is_empty() {
            reader.refuse(&here.field("field_path"), "nothing", "the path of a field", "");
            sound = None;
        } else if let Err(Unfit { given, allowed }) = set(&mut whole, field_path, value) {
            reader.refuse(&here, given, allowed, "");
            sound = None;
        }
    }
    sound?;
    match whole.transcode_to() {
        Ok(project) => Some(project),
        Err(error) => {
            let allowed = format!("one that fits the contract: {error}");
            reader.refuse(path, "a changed project", allowed, "");
            None
        }
    }
}

fn added(reader: &mut Reader, given: v1::MassToAdd) -> Option<Added> {
    let path = Path::ROOT.field("added");
    let v1::MassToAdd { mass: how_much, place: to } = given;
    let at = path.field("mass");
    let how_much = reader.required(&at, how_much);
    let how_much = mass(reader, &at, how_much);
    if how_much.is_some_and(|m| m.value.si() <= 0.0) {
        let given = how_much.map_or(String::new(), |m| format!("{} kg", m.value.si()));
        reader.refuse(&at.field("value_kg"), given, "more than 0", "");
        return None;
    }
    let to = match to {
        Some(Place::At(point)) => {
            let point = place(point);
            if point.given() < 3 {
                let given = format!("{} coordinates", point.given());
                reader.refuse(&path.field("at"), given, "three coordinates: x, y, z", "");
                return None;
            }
            AddedAt::Point(point)
        }
        Some(Place::Axle(axle)) => match v1::Axle::try_from(axle) {
            Ok(v1::Axle::Front) => AddedAt::FrontAxle,
            Ok(v1::Axle::Rear) => AddedAt::RearAxle,
            Ok(v1::Axle::Unspecified) | Err(_) => {
                return reader.unset(&path.field("axle"), "Axle");
            }
        },
        None => {
            reader.refuse(&path, "no place", "`at` or `axle`", "say where the mass sits");
            return None;
        }
    };
    Some(Added { mass: how_much?, place: to })
}

fn lost(reader: &mut Reader, project: &Project, given: v1::MountLoss) -> Option<Lost> {
    let path = Path::ROOT.field("lost");
    let (where_it_is, kind) = (side(given.side()), given.kind());
    let v1::MountLoss { mount, side: _, kind: _ } = given;
    let found = project.mounts.iter().position(|m| m.name == mount);
    if found.is_none() {
        let known: Vec<&str> = project.mounts.iter().map(|m| m.name.as_str()).collect();
        let given = if mount.is_empty() { "nothing".to_owned() } else { format!("`{mount}`") };
        let allowed = format!("a mount of the project: {}", known.join(", "));
        reader.refuse(&path.field("mount"), given, allowed, "");
    }
    if where_it_is.is_none() {
        reader.unset::<()>(&path.field("side"), "Side");
    }
    let what = match kind {
        v1::LossKind::Unspecified => reader.unset(&path.field("kind"), "LossKind"),
        v1::LossKind::Bush => Some(Loss::Bush),
        v1::LossKind::Mount => Some(Loss::Mount),
    };
    let (found, at, what) = (found?, where_it_is?, what?);
    if project.mounts[found].only.is_some_and(|only| only != at) {
        let allowed = format!("the side of mount {mount}: {}", at.other().word());
        reader.refuse(&path.field("side"), at.word(), allowed, "");
        return None;
    }
    Some(Lost { mount: found, side: at, what })
}
