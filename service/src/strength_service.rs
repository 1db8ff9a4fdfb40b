//! Single parts against a standard.

use std::sync::Arc;

use fishplate_proto::v1;
use fishplate_proto::v1::strength_service_server::StrengthService;
use prost::Message;
use tonic::{Request, Response, Status};

use crate::errors::Refusal;
use crate::from_proto::strength as read;
use crate::to_proto::strength as told;
use crate::work::{Desk, Job};

/// The service.
#[derive(Debug)]
pub(crate) struct Strength {
    desk: Arc<Desk>,
}

impl Strength {
    pub(crate) fn new(desk: Arc<Desk>) -> Self {
        Self { desk }
    }
}

/// The request `name` of the contract, answered about its part.
fn checked(name: &str, request: &impl Message, job: &mut Job) -> Result<v1::PartAnswer, Refusal> {
    let asked = job.sound(|reader| read::part(reader, name, request))?;
    Ok(told::part(asked))
}

#[tonic::async_trait]
impl StrengthService for Strength {
    async fn check_bolt(
        &self,
        request: Request<v1::CheckBoltRequest>,
    ) -> Result<Response<v1::CheckBoltResponse>, Status> {
        const NAME: &str = "CheckBoltRequest";
        let job = |request, job: &mut Job| {
            let answer = Some(checked(NAME, &request, job)?);
            Ok(v1::CheckBoltResponse { answer })
        };
        self.desk.answer(NAME, request, job).await
    }

    async fn check_weld(
        &self,
        request: Request<v1::CheckWeldRequest>,
    ) -> Result<Response<v1::CheckWeldResponse>, Status> {
        const NAME: &str = "CheckWeldRequest";
        let job = |request, job: &mut Job| {
            let answer = Some(checked(NAME, &request, job)?);
            Ok(v1::CheckWeldResponse { answer })
        };
        self.desk.answer(NAME, request, job).await
    }

    async fn check_member(
        &self,
        request: Request<v1::CheckMemberRequest>,
    ) -> Result<Response<v1::CheckMemberResponse>, Status> {
        const NAME: &str = "CheckMemberRequest";
        let job = |request, job: &mut Job| {
            let answer = Some(checked(NAME, &request, job)?);
            Ok(v1::CheckMemberResponse { answer })
        };
        self.desk.answer(NAME, request, job).await
    }

    async fn check_plate(
        &self,
        request: Request<v1::CheckPlateRequest>,
    ) -> Result<Response<v1::CheckPlateResponse>, Status> {
        const NAME: &str = "CheckPlateRequest";
        let job = |request, job: &mut Job| {
            let answer = Some(checked(NAME, &request, job)?);
            Ok(v1::CheckPlateResponse { answer })
        };
        self.desk.answer(NAME, request, job).await
    }

    async fn check_fatigue(
        &self,
        request: Request<v1::CheckFatigueRequest>,
    ) -> Result<Response<v1::CheckFatigueResponse>, Status> {
        const NAME: &str = "CheckFatigueRequest";
        let job = |request, job: &mut Job| {
            let answer = Some(checked(NAME, &request, job)?);
            Ok(v1::CheckFatigueResponse { answer })
        };
        self.desk.answer(NAME, request, job).await
    }

    async fn section_properties(
        &self,
        request: Request<v1::SectionPropertiesRequest>,
    ) -> Result<Response<v1::SectionPropertiesResponse>, Status> {
        let job = |request, job: &mut Job| {
            let section = job.sound(|reader| read::section(reader, request))?;
            Ok(told::section(&section))
        };
        self.desk.answer("SectionPropertiesRequest", request, job).await
    }
}
