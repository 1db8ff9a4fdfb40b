//! The mounts of an adapted subframe.

use std::sync::Arc;

use fishplate_mounts::{Caller, Cancel, CheckError, Depth, Options, Progress, check, explain};
use fishplate_proto::v1::check_service_server::CheckService;
use fishplate_proto::v1::{
    CheckProjectRequest, CheckProjectResponse, CheckProjectWithProgressRequest,
    CheckProjectWithProgressResponse, ExplainRowRequest, ExplainRowResponse, Project,
    check_project_with_progress_response::Update,
};
use fishplate_quantity::Fault;
use prost::Message;
use tonic::{Request, Response, Status};
use tracing::Span;

use crate::errors::{Refusal, Unsolvable};
use crate::from_proto::check as read;
use crate::path::Path;
use crate::to_proto::check as told;
use crate::work::{Desk, Job, Teller, Updates};

/// The service.
#[derive(Debug)]
pub(crate) struct Check {
    desk: Arc<Desk>,
}

impl Check {
    pub(crate) fn new(desk: Arc<Desk>) -> Self {
        Self { desk }
    }
}

#[tonic::async_trait]
impl CheckService for Check {
    async fn check_project(
        &self,
        request: Request<CheckProjectRequest>,
    ) -> Result<Response<CheckProjectResponse>, Status> {
        self.desk.answer("CheckProjectRequest", request, check_project).await
    }

    type CheckProjectWithProgressStream = Updates<CheckProjectWithProgressResponse>;

    async fn check_project_with_progress(
        &self,
        request: Request<CheckProjectWithProgressRequest>,
    ) -> Result<Response<Self::CheckProjectWithProgressStream>, Status> {
        Ok(self.desk.tell("CheckProjectWithProgressRequest", request, check_telling))
    }

    async fn explain_row(
        &self,
        request: Request<ExplainRowRequest>,
    ) -> Result<Response<ExplainRowResponse>, Status> {
        self.desk.answer("ExplainRowRequest", request, explain_row).await
    }
}

fn check_project(
    request: CheckProjectRequest,
    job: &mut Job,
) -> Result<CheckProjectResponse, Refusal> {
    record(request.project.as_ref());
    let hash = hash(request.project.as_ref());
    let asked = job.sound(|reader| read::check(reader, &Path::ROOT, request))?;
    checked(&asked, hash, &Listening { job, teller: None }, &Path::ROOT)
}

fn check_telling(
    request: CheckProjectWithProgressRequest,
    job: &mut Job,
    teller: &Teller<CheckProjectWithProgressResponse>,
) -> Result<CheckProjectWithProgressResponse, Refusal> {
    let project = request.check.as_ref().and_then(|check| check.project.as_ref());
    record(project);
    let hash = hash(project);
    let asked = job.sound(|reader| read::check_telling(reader, request))?;
    let listening = Listening { job, teller: Some(teller) };
    let answer = checked(&asked, hash, &listening, &Path::ROOT.field("check"))?;
    Ok(CheckProjectWithProgressResponse { update: Some(Update::Answer(answer)) })
}

/// Whoever waits for a check.
struct Listening<'a> {
    job: &'a Job,
    /// Where to tell on the way, where that is wanted.
    teller: Option<&'a Teller<CheckProjectWithProgressResponse>>,
}

impl Cancel for Listening<'_> {
    fn cancelled(&self) -> bool {
        self.job.cancelled()
    }
}

impl Caller for Listening<'_> {
    fn told(&self, progress: Progress) {
        if let Some(teller) = self.teller {
            let update = Some(Update::Progress(told::progress(progress)));
            teller.tell(CheckProjectWithProgressResponse { update });
        }
    }
}

/// Checks what stands at `path` of the request.
fn checked(
    asked: &read::Asked,
    hash: String,
    caller: &Listening<'_>,
    path: &Path<'_>,
) -> Result<CheckProjectResponse, Refusal> {
    let read::Asked { project, with_derivations, with_scene, plates } = asked;
    let options = Options {
        derivations: *with_derivations,
        scene: *with_scene,
        try_guesses: true,
        depth: depth(*plates, caller.job),
    };
    let answer =
        check(project, options, caller).map_err(|error| refusal(caller.job, path, error))?;
    Ok(told::answer(answer, hash))
}

fn explain_row(request: ExplainRowRequest, job: &mut Job) -> Result<ExplainRowResponse, Refusal> {
    record(request.project.as_ref());
    let read::Explain { project, row, case, plates } =
        job.sound(|reader| read::explain(reader, request))?;
    let told_by = |error| refusal(job, &Path::ROOT, error);
    let explanation =
        explain(&project, &row, case.as_deref(), depth(plates, job), job).map_err(told_by)?;
    // An explanation tells mounts and cases by their places; the answer knows their names.
    let options =
        Options { derivations: false, scene: false, try_guesses: false, depth: Depth::Frame };
    let answer = check(&project, options, &Listening { job, teller: None }).map_err(told_by)?;
    let names = told::Names::of(&answer.mounts, &answer.cases);
    Ok(told::explanation(&names, explanation))
}

pub(crate) fn depth(plates: bool, job: &Job) -> Depth {
    if plates { Depth::Plate { threads: job.threads } } else { Depth::Frame }
}

fn record(project: Option<&Project>) {
    let span = Span::current();
    span.record("mounts", project.map_or(0, |project| project.mounts.len()));
    span.record("cases", project.map_or(0, |project| project.cases.len()));
}

/// BLAKE3 of the project in the one order in which fields are written.
pub(crate) fn hash(project: Option<&Project>) -> String {
    let bytes = project.map(Message::encode_to_vec).unwrap_or_default();
    blake3::hash(&bytes).to_hex().to_string()
}

/// `error` of the engine about the project of the message at `path`.
pub(crate) fn refusal(job: &Job, path: &Path<'_>, error: CheckError) -> Refusal {
    refusal_at(job, &path.field("project"), error)
}

/// `error` of the engine about the project at `path`.
pub(crate) fn refusal_at(job: &Job, path: &Path<'_>, error: CheckError) -> Refusal {
    match error {
        CheckError::Faults(faults) => {
            let project = path.to_string();
            Refusal::invalid(faults.into_iter().map(|fault| within(&project, fault)).collect())
        }
        CheckError::Unsolved(message) => Refusal::Unsolvable(Unsolvable {
            reason: "UNSOLVED",
            message,
            subject: path.to_string(),
            metadata: Default::default(),
        }),
        CheckError::NoSuchRow { asked, known } => {
            let path = if asked.starts_with("case ") { "case_name" } else { "row_id" };
            Refusal::invalid(vec![Fault::new(path, asked, format!("one of {known}"), "")])
        }
        CheckError::Cancelled => job.stopped(),
    }
}

/// The engine counts paths from the project, the wire from the request.
pub(crate) fn within(project: &str, fault: Fault) -> Fault {
    let path = if fault.path.is_empty() {
        project.to_owned()
    } else {
        format!("{project}.{}", fault.path)
    };
    Fault { path, ..fault }
}
