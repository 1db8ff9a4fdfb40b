//! Studies: questions whose answer takes many verdicts.

mod compare;

use std::sync::Arc;

use fishplate_mounts::study::{batch, designs};
use fishplate_mounts::{Caller, Cancel, CheckError, Depth, Progress};
use fishplate_proto::v1::study_service_server::StudyService;
use fishplate_proto::v1::{
    CheckBatchRequest, CheckBatchResponse, CheckDesignsRequest, CheckDesignsResponse,
    CompareProjectsRequest, CompareProjectsResponse, check_batch_response,
    check_designs_response::Update,
};
use tonic::{Request, Response, Status};

use crate::check_service::refusal;
use crate::errors::Refusal;
use crate::from_proto::study as read;
use crate::path::Path;
use crate::to_proto::check::progress;
use crate::to_proto::study as told;
use crate::work::{Desk, Job, Teller, Updates};

/// The service.
#[derive(Debug)]
pub(crate) struct Study {
    desk: Arc<Desk>,
}

impl Study {
    pub(crate) fn new(desk: Arc<Desk>) -> Self {
        Self { desk }
    }
}

#[tonic::async_trait]
impl StudyService for Study {
    type CheckDesignsStream = Updates<CheckDesignsResponse>;

    async fn check_designs(
        &self,
        request: Request<CheckDesignsRequest>,
    ) -> Result<Response<Self::CheckDesignsStream>, Status> {
        Ok(self.desk.tell("CheckDesignsRequest", request, check_designs))
    }

    type CompareProjectsStream = Updates<CompareProjectsResponse>;

    async fn compare_projects(
        &self,
        request: Request<CompareProjectsRequest>,
    ) -> Result<Response<Self::CompareProjectsStream>, Status> {
        Ok(self.desk.tell("CompareProjectsRequest", request, compare::compare_projects))
    }

    type CheckBatchStream = Updates<CheckBatchResponse>;

    async fn check_batch(
        &self,
        request: Request<CheckBatchRequest>,
    ) -> Result<Response<Self::CheckBatchStream>, Status> {
        Ok(self.desk.tell("CheckBatchRequest", request, check_batch))
    }
}

/// Whoever waits for a study; `wrap` makes the message of its stream.
struct Listening<'a, M> {
    job: &'a Job,
    teller: &'a Teller<M>,
    wrap: fn(fishplate_proto::v1::Progress) -> M,
}

impl<M> Cancel for Listening<'_, M> {
    fn cancelled(&self) -> bool {
        self.job.cancelled()
    }
}

impl<M> Caller for Listening<'_, M> {
    fn told(&self, how_far: Progress) {
        self.teller.tell((self.wrap)(progress(how_far)));
    }
}

fn check_designs(
    request: CheckDesignsRequest,
    job: &mut Job,
    teller: &Teller<CheckDesignsResponse>,
) -> Result<CheckDesignsResponse, Refusal> {
    let read::designs::Asked { space, choices, governing } =
        job.sound(|reader| read::designs::check(reader, request))?;
    let wrap = |progress| CheckDesignsResponse { update: Some(Update::Progress(progress)) };
    let listening = Listening { job, teller, wrap };
    let mut teller_of_blocks = told::designs::Blocks::new(governing);
    let mut gone = false;
    let checked =
        designs::check(&space, choices.as_deref(), job.threads, &listening, &mut |block| {
            let block = teller_of_blocks.block(block);
            gone |= !teller.send(CheckDesignsResponse { update: Some(Update::Block(block)) });
        });
    match checked {
        Err(CheckError::Cancelled) => Err(job.stopped()),
        Err(error) => Err(refusal(job, &Path::ROOT.field("space").field("base"), error)),
        Ok(()) if gone => Err(job.stopped()),
        Ok(()) => Ok(CheckDesignsResponse { update: Some(Update::Done(teller_of_blocks.done())) }),
    }
}

fn check_batch(
    request: CheckBatchRequest,
    job: &mut Job,
    teller: &Teller<CheckBatchResponse>,
) -> Result<CheckBatchResponse, Refusal> {
    use check_batch_response::Update;
    // What the door found in one project is a fault of that project alone.
    let mut at_door = read::batch::Faults::taken(&mut job.found.faults, request.items.len());
    let read::batch::Asked { items, mut faults, plates } =
        job.sound(|reader| read::batch::check(reader, request))?;
    let wrap = |progress| CheckBatchResponse { update: Some(Update::Progress(progress)) };
    let listening = Listening { job, teller, wrap };
    let threads = job.threads;
    let depth = if plates { Depth::Plate { threads } } else { Depth::Frame };
    let items = at_door.passed_over(items, &mut faults);
    let mut told = told::batch::Batch::default();
    let done = batch::check(&items, depth, threads, &listening, &mut |at, outcome| {
        let project = told.project(&items[at].name, std::mem::take(&mut faults[at]), outcome);
        teller.send(CheckBatchResponse { update: Some(Update::Project(project)) })
    });
    match done {
        Err(CheckError::Cancelled) => Err(job.stopped()),
        Err(error) => Err(refusal(job, &Path::ROOT, error)),
        Ok(()) => Ok(CheckBatchResponse { update: Some(Update::Done(told.done())) }),
    }
}
