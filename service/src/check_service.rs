//! The mounts of an adapted subframe.

use std::sync::Arc;

use fishplate_mounts::{CheckError, Options, check, explain};
use fishplate_proto::v1::check_service_server::CheckService;
use fishplate_proto::v1::{
    CheckProjectRequest, CheckProjectResponse, ExplainRowRequest, ExplainRowResponse, Project,
};
use fishplate_quantity::Fault;
use prost::Message;
use tonic::{Request, Response, Status};
use tracing::Span;

use crate::errors::{Refusal, Unsolvable};
use crate::from_proto::check as read;
use crate::to_proto::check as told;
use crate::work::{Desk, Job};

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
    let read::Asked { project, with_derivations, with_scene } =
        job.sound(|reader| read::check(reader, request))?;
    let options = Options { derivations: with_derivations, scene: with_scene, try_guesses: true };
    let answer = check(&project, options, job).map_err(|error| refusal(job, error))?;
    Ok(told::answer(answer, hash))
}

fn explain_row(request: ExplainRowRequest, job: &mut Job) -> Result<ExplainRowResponse, Refusal> {
    record(request.project.as_ref());
    let read::Explain { project, row, case } =
        job.sound(|reader| read::explain(reader, request))?;
    let told_by = |error| refusal(job, error);
    let explanation = explain(&project, &row, case.as_deref(), job).map_err(told_by)?;
    // An explanation tells mounts and cases by their places; the answer knows their names.
    let options = Options { derivations: false, scene: false, try_guesses: false };
    let answer = check(&project, options, job).map_err(told_by)?;
    let names = told::Names::of(&answer.mounts, &answer.cases);
    Ok(told::explanation(&names, explanation))
}

fn record(project: Option<&Project>) {
    let span = Span::current();
    span.record("mounts", project.map_or(0, |project| project.mounts.len()));
    span.record("cases", project.map_or(0, |project| project.cases.len()));
}

/// BLAKE3 of the project in the one order in which fields are written.
fn hash(project: Option<&Project>) -> String {
    let bytes = project.map(Message::encode_to_vec).unwrap_or_default();
    blake3::hash(&bytes).to_hex().to_string()
}

fn refusal(job: &Job, error: CheckError) -> Refusal {
    match error {
        CheckError::Faults(faults) => {
            Refusal::invalid(faults.into_iter().map(in_request).collect())
        }
        CheckError::Unsolved(message) => Refusal::Unsolvable(Unsolvable {
            reason: "UNSOLVED",
            message,
            subject: "project".to_owned(),
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
fn in_request(fault: Fault) -> Fault {
    let path = if fault.path.is_empty() {
        "project".to_owned()
    } else {
        format!("project.{}", fault.path)
    };
    Fault { path, ..fault }
}
