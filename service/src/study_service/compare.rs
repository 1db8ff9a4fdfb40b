//! Designs side by side.

use fishplate_mounts::study::compare::{NotCompared, compare};
use fishplate_mounts::{CheckError, Options};
use fishplate_proto::v1::compare_projects_response::Update;
use fishplate_proto::v1::{CompareProjectsRequest, CompareProjectsResponse};

use super::Listening;
use crate::check_service::{depth, hash, refusal_at, within};
use crate::errors::Refusal;
use crate::from_proto::study as read;
use crate::path::Path;
use crate::to_proto::study as told;
use crate::work::{Job, Teller};

pub(super) fn compare_projects(
    request: CompareProjectsRequest,
    job: &mut Job,
    teller: &Teller<CompareProjectsResponse>,
) -> Result<CompareProjectsResponse, Refusal> {
    let hashes = request.projects.iter().map(|project| hash(Some(project))).collect();
    let read::compare::Asked { projects, plates, with_scene, by, measure } =
        job.sound(|reader| read::compare::compare(reader, request))?;
    let options = Options {
        derivations: false,
        scene: with_scene,
        try_guesses: false,
        depth: depth(plates, job),
    };
    let wrap = |progress| CompareProjectsResponse { update: Some(Update::Progress(progress)) };
    let listening = Listening { job, teller, wrap };
    let compared =
        compare(&projects, options, by, &listening).map_err(|error| not_compared(job, error))?;
    let answer = told::compare::comparison(compared, hashes, by, measure);
    Ok(CompareProjectsResponse { update: Some(Update::Answer(answer)) })
}

/// The faults of all designs together, each with the place of its design; else why the first has no
/// answer.
fn not_compared(job: &Job, NotCompared(all): NotCompared) -> Refusal {
    let mut faults = Vec::new();
    for (place, error) in all {
        let path = Path::ROOT.place("projects", place);
        match error {
            CheckError::Faults(own) => {
                let at = path.to_string();
                faults.extend(own.into_iter().map(|fault| within(&at, fault)));
            }
            other => return refusal_at(job, &path, other),
        }
    }
    Refusal::invalid(faults)
}
