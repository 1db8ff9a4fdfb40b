//! Sizing.

use fishplate_mounts::study::size::size;
use fishplate_proto::v1::size_project_response::Update;
use fishplate_proto::v1::{SizeProjectRequest, SizeProjectResponse};

use super::Listening;
use crate::check_service::refusal_at;
use crate::errors::Refusal;
use crate::from_proto::study as read;
use crate::path::Path;
use crate::to_proto::study as told;
use crate::work::{Job, Teller};

pub(super) fn size_project(
    request: SizeProjectRequest,
    job: &mut Job,
    teller: &Teller<SizeProjectResponse>,
) -> Result<SizeProjectResponse, Refusal> {
    let threads = job.threads;
    let (space, asked) = job.sound(|reader| read::size::size(reader, request, threads))?;
    let wrap = |progress| SizeProjectResponse { update: Some(Update::Progress(progress)) };
    let listening = Listening { job, teller, wrap };
    let sizing = size(&space, &asked, &listening)
        .map_err(|error| refusal_at(job, &Path::ROOT.field("space").field("base"), error))?;
    Ok(SizeProjectResponse { update: Some(Update::Answer(told::size::sizing(sizing))) })
}
