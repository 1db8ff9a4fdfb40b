//! The service, started once inside this process, and blocking calls to it.

use std::sync::OnceLock;

use fishplate_proto::v1;
use fishplate_proto::v1::catalog_service_client::CatalogServiceClient;
use fishplate_proto::v1::check_service_client::CheckServiceClient;
use fishplate_proto::v1::solver_service_client::SolverServiceClient;
use fishplate_proto::v1::strength_service_client::StrengthServiceClient;
use fishplate_proto::v1::study_service_client::StudyServiceClient;
use fishplate_service::in_process;
use fishplate_service::limits::ANSWER_BYTES;
use tokio::runtime::Runtime;
use tonic::Status;
use tonic::transport::Channel;

struct Service {
    runtime: Runtime,
    channel: Channel,
}

fn service() -> &'static Service {
    static SERVICE: OnceLock<Service> = OnceLock::new();
    SERVICE.get_or_init(|| {
        let runtime = Runtime::new().expect("a test process can start threads");
        let channel = runtime.block_on(in_process::connect());
        let channel = channel.expect("a pipe inside this process needs nothing from outside");
        Service { runtime, channel }
    })
}

/// Calls `SolveStructure`.
///
/// # Errors
/// What the service refuses.
pub fn solve(request: &v1::SolveStructureRequest) -> Result<v1::SolveStructureResponse, Status> {
    let Service { runtime, channel } = service();
    let mut client =
        SolverServiceClient::new(channel.clone()).max_decoding_message_size(ANSWER_BYTES);
    runtime.block_on(client.solve_structure(request.clone())).map(tonic::Response::into_inner)
}

/// Calls `MeshPlate`.
///
/// # Errors
/// What the service refuses.
pub fn mesh(request: &v1::MeshPlateRequest) -> Result<v1::MeshPlateResponse, Status> {
    let Service { runtime, channel } = service();
    let mut client =
        SolverServiceClient::new(channel.clone()).max_decoding_message_size(ANSWER_BYTES);
    runtime.block_on(client.mesh_plate(request.clone())).map(tonic::Response::into_inner)
}

/// Calls `CheckProject`.
///
/// # Errors
/// What the service refuses.
pub fn check(request: &v1::CheckProjectRequest) -> Result<v1::CheckProjectResponse, Status> {
    let Service { runtime, channel } = service();
    let mut client =
        CheckServiceClient::new(channel.clone()).max_decoding_message_size(ANSWER_BYTES);
    runtime.block_on(client.check_project(request.clone())).map(tonic::Response::into_inner)
}

/// Calls `CompareProjects` and waits for its last message.
///
/// # Errors
/// What the service refuses; a stream that ends without an answer.
pub fn compare(request: &v1::CompareProjectsRequest) -> Result<v1::Comparison, Status> {
    use v1::compare_projects_response::Update;
    let Service { runtime, channel } = service();
    let mut client =
        StudyServiceClient::new(channel.clone()).max_decoding_message_size(ANSWER_BYTES);
    runtime.block_on(async {
        let mut updates = client.compare_projects(request.clone()).await?.into_inner();
        while let Some(message) = updates.message().await? {
            if let Some(Update::Answer(answer)) = message.update {
                return Ok(answer);
            }
        }
        Err(Status::internal("the stream ended without an answer"))
    })
}

/// Calls `ExplainRow`.
///
/// # Errors
/// What the service refuses.
pub fn explain(request: &v1::ExplainRowRequest) -> Result<v1::ExplainRowResponse, Status> {
    let Service { runtime, channel } = service();
    let mut client =
        CheckServiceClient::new(channel.clone()).max_decoding_message_size(ANSWER_BYTES);
    runtime.block_on(client.explain_row(request.clone())).map(tonic::Response::into_inner)
}

/// Calls `CheckDesigns`; all messages that came.
///
/// # Errors
/// What the service refuses.
pub fn check_designs(
    request: &v1::CheckDesignsRequest,
) -> Result<Vec<v1::CheckDesignsResponse>, Status> {
    let Service { runtime, channel } = service();
    let mut client =
        StudyServiceClient::new(channel.clone()).max_decoding_message_size(ANSWER_BYTES);
    runtime.block_on(async {
        let mut stream = client.check_designs(request.clone()).await?.into_inner();
        let mut all = Vec::new();
        while let Some(message) = stream.message().await? {
            all.push(message);
        }
        Ok(all)
    })
}

/// Calls `SizeProject`; the answer.
///
/// # Errors
/// What the service refuses.
pub fn size(request: &v1::SizeProjectRequest) -> Result<v1::Sizing, Status> {
    let Service { runtime, channel } = service();
    let mut client =
        StudyServiceClient::new(channel.clone()).max_decoding_message_size(ANSWER_BYTES);
    runtime.block_on(async {
        let mut stream = client.size_project(request.clone()).await?.into_inner();
        while let Some(message) = stream.message().await? {
            if let Some(v1::size_project_response::Update::Answer(answer)) = message.update {
                return Ok(answer);
            }
        }
        Err(Status::internal("the stream ended without an answer"))
    })
}

/// Calls `RankGuesses`; the answer.
///
/// # Errors
/// What the service refuses.
pub fn rank_guesses(request: &v1::RankGuessesRequest) -> Result<v1::GuessRanking, Status> {
    use v1::rank_guesses_response::Update;
    let Service { runtime, channel } = service();
    let mut client =
        StudyServiceClient::new(channel.clone()).max_decoding_message_size(ANSWER_BYTES);
    runtime.block_on(async {
        let mut stream = client.rank_guesses(request.clone()).await?.into_inner();
        while let Some(message) = stream.message().await? {
            if let Some(Update::Answer(answer)) = message.update {
                return Ok(answer);
            }
        }
        Err(Status::internal("no answer came"))
    })
}

/// Calls `NeedWeld`.
///
/// # Errors
/// What the service refuses.
pub fn need_weld(request: &v1::NeedWeldRequest) -> Result<v1::NeedWeldResponse, Status> {
    let Service { runtime, channel } = service();
    let mut client =
        StudyServiceClient::new(channel.clone()).max_decoding_message_size(ANSWER_BYTES);
    runtime.block_on(client.need_weld(request.clone())).map(tonic::Response::into_inner)
}

/// Calls `AskWhatIf`; the answer.
///
/// # Errors
/// What the service refuses.
pub fn ask_what_if(request: &v1::AskWhatIfRequest) -> Result<v1::WhatIf, Status> {
    use v1::ask_what_if_response::Update;
    let Service { runtime, channel } = service();
    let mut client =
        StudyServiceClient::new(channel.clone()).max_decoding_message_size(ANSWER_BYTES);
    runtime.block_on(async {
        let mut stream = client.ask_what_if(request.clone()).await?.into_inner();
        while let Some(message) = stream.message().await? {
            if let Some(Update::Answer(answer)) = message.update {
                return Ok(answer);
            }
        }
        Err(Status::internal("no answer came"))
    })
}

/// Calls `ListSections`.
///
/// # Errors
/// What the service refuses.
pub fn sections(request: &v1::ListSectionsRequest) -> Result<v1::ListSectionsResponse, Status> {
    let Service { runtime, channel } = service();
    let mut client = CatalogServiceClient::new(channel.clone());
    runtime.block_on(client.list_sections(request.clone())).map(tonic::Response::into_inner)
}

/// Calls `CheckBolt`.
///
/// # Errors
/// What the service refuses.
pub fn check_bolt(request: &v1::CheckBoltRequest) -> Result<v1::PartAnswer, Status> {
    let Service { runtime, channel } = service();
    let mut client = StrengthServiceClient::new(channel.clone());
    let answer = runtime.block_on(client.check_bolt(request.clone()))?.into_inner().answer;
    answer.ok_or_else(without_a_part)
}

/// Calls `CheckWeld`.
///
/// # Errors
/// What the service refuses.
pub fn check_weld(request: &v1::CheckWeldRequest) -> Result<v1::PartAnswer, Status> {
    let Service { runtime, channel } = service();
    let mut client = StrengthServiceClient::new(channel.clone());
    let answer = runtime.block_on(client.check_weld(request.clone()))?.into_inner().answer;
    answer.ok_or_else(without_a_part)
}

/// Calls `CheckMember`.
///
/// # Errors
/// What the service refuses.
pub fn check_member(request: &v1::CheckMemberRequest) -> Result<v1::PartAnswer, Status> {
    let Service { runtime, channel } = service();
    let mut client = StrengthServiceClient::new(channel.clone());
    let answer = runtime.block_on(client.check_member(request.clone()))?.into_inner().answer;
    answer.ok_or_else(without_a_part)
}

/// Calls `CheckPlate`.
///
/// # Errors
/// What the service refuses.
pub fn check_plate(request: &v1::CheckPlateRequest) -> Result<v1::PartAnswer, Status> {
    let Service { runtime, channel } = service();
    let mut client = StrengthServiceClient::new(channel.clone());
    let answer = runtime.block_on(client.check_plate(request.clone()))?.into_inner().answer;
    answer.ok_or_else(without_a_part)
}

/// Calls `CheckFatigue`.
///
/// # Errors
/// What the service refuses.
pub fn check_fatigue(request: &v1::CheckFatigueRequest) -> Result<v1::PartAnswer, Status> {
    let Service { runtime, channel } = service();
    let mut client = StrengthServiceClient::new(channel.clone());
    let answer = runtime.block_on(client.check_fatigue(request.clone()))?.into_inner().answer;
    answer.ok_or_else(without_a_part)
}

fn without_a_part() -> Status {
    Status::internal("the service answered without a part")
}

/// Calls `SectionProperties`.
///
/// # Errors
/// What the service refuses.
pub fn section_properties(
    request: &v1::SectionPropertiesRequest,
) -> Result<v1::SectionPropertiesResponse, Status> {
    let Service { runtime, channel } = service();
    let mut client = StrengthServiceClient::new(channel.clone());
    runtime.block_on(client.section_properties(request.clone())).map(tonic::Response::into_inner)
}
