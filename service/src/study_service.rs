//! Studies: questions whose answer takes many verdicts.

mod compare;
mod size;

use std::sync::Arc;

use fishplate_mounts::study::{batch, designs, guesses, weld_need, what_if};
use fishplate_mounts::{Caller, Cancel, CheckError, Depth, Progress};
use fishplate_proto::v1::study_service_server::StudyService;
use fishplate_proto::v1::{
    AskWhatIfRequest, AskWhatIfResponse, CheckBatchRequest, CheckBatchResponse,
    CheckDesignsRequest, CheckDesignsResponse, CompareProjectsRequest, CompareProjectsResponse,
    NeedWeldRequest, NeedWeldResponse, RankGuessesRequest, RankGuessesResponse, SizeProjectRequest,
    SizeProjectResponse, ask_what_if_response, check_batch_response,
    check_designs_response::Update, rank_guesses_response,
};
use fishplate_quantity::Fault;
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

    type RankGuessesStream = Updates<RankGuessesResponse>;

    async fn rank_guesses(
        &self,
        request: Request<RankGuessesRequest>,
    ) -> Result<Response<Self::RankGuessesStream>, Status> {
        Ok(self.desk.tell("RankGuessesRequest", request, rank_guesses))
    }

    async fn need_weld(
        &self,
        request: Request<NeedWeldRequest>,
    ) -> Result<Response<NeedWeldResponse>, Status> {
        self.desk.answer("NeedWeldRequest", request, need_weld).await
    }

    type AskWhatIfStream = Updates<AskWhatIfResponse>;

    async fn ask_what_if(
        &self,
        request: Request<AskWhatIfRequest>,
    ) -> Result<Response<Self::AskWhatIfStream>, Status> {
        Ok(self.desk.tell("AskWhatIfRequest", request, ask_what_if))
    }

    type SizeProjectStream = Updates<SizeProjectResponse>;

    async fn size_project(
        &self,
        request: Request<SizeProjectRequest>,
    ) -> Result<Response<Self::SizeProjectStream>, Status> {
        Ok(self.desk.tell("SizeProjectRequest", request, size::size_project))
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
fn rank_guesses(
    request: RankGuessesRequest,
    job: &mut Job,
    teller: &Teller<RankGuessesResponse>,
) -> Result<RankGuessesResponse, Refusal> {
    use rank_guesses_response::Update;
    let read::guesses::Asked { project, row, case, points, assume } =
        job.sound(|reader| read::guesses::rank(reader, request))?;
    let wrap = |progress| RankGuessesResponse { update: Some(Update::Progress(progress)) };
    let (row, case) = (row.as_deref(), case.as_deref());
    let asked = guesses::Asked { row, case, points, assume, threads: job.threads };
    let answer = guesses::rank(&project, asked, &Listening { job, teller, wrap })
        .map_err(|error| refusal(job, &Path::ROOT, error))?;
    let answer = told::guesses::ranking(answer);
    Ok(RankGuessesResponse { update: Some(Update::Answer(answer)) })
}

fn ask_what_if(
    request: AskWhatIfRequest,
    job: &mut Job,
    teller: &Teller<AskWhatIfResponse>,
) -> Result<AskWhatIfResponse, Refusal> {
    use ask_what_if_response::Update;
    let read::what_if::Asked { before, after, change } =
        job.sound(|reader| read::what_if::ask(reader, request))?;
    let wrap = |progress| AskWhatIfResponse { update: Some(Update::Progress(progress)) };
    let answer = what_if::ask(&before, &after, &change, &Listening { job, teller, wrap })
        .map_err(|error| refusal(job, &Path::ROOT, error))?;
    let answer = told::what_if::answer(answer);
    Ok(AskWhatIfResponse { update: Some(Update::Answer(answer)) })
}

fn need_weld(request: NeedWeldRequest, job: &mut Job) -> Result<NeedWeldResponse, Refusal> {
    let read::weld_need::Asked { project, weld, force } =
        job.sound(|reader| read::weld_need::need(reader, request))?;
    let need =
        weld_need::need(&project, &weld, force, &Silent(job)).map_err(|error| match error {
            CheckError::NoSuchRow { asked, known } => {
                Refusal::invalid(vec![Fault::new("weld", asked, format!("one of {known}"), "")])
            }
            error => refusal(job, &Path::ROOT, error),
        })?;
    Ok(told::weld_need::need(need))
}

/// Whoever waits for an answer and hears nothing on the way.
struct Silent<'a>(&'a Job);

impl Cancel for Silent<'_> {
    fn cancelled(&self) -> bool {
        self.0.cancelled()
    }
}

impl Caller for Silent<'_> {
    fn told(&self, _: Progress) {}
}
