//! Single components against a standard.

use std::sync::Arc;

use fishplate_proto::v1::strength_service_server::StrengthService;
use fishplate_proto::v1::{CheckTStubRequest, CheckTStubResponse};
use fishplate_quantity::Trace;
use fishplate_strength::clause::{Applicability, Checked, Clause, Factors, Input, NotChecked};
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

#[tonic::async_trait]
impl StrengthService for Strength {
    async fn check_t_stub(
        &self,
        request: Request<CheckTStubRequest>,
    ) -> Result<Response<CheckTStubResponse>, Status> {
        self.desk.answer("CheckTStubRequest", request, check_t_stub).await
    }
}

fn check_t_stub(request: CheckTStubRequest, job: &mut Job) -> Result<CheckTStubResponse, Refusal> {
    let read::TStub { pack, factors, input } = job.sound(|reader| read::t_stub(reader, request))?;
    let mut trace = Trace::on();
    let clause = pack.t_stubs.first();
    let checked = match clause {
        Some(clause) => by(*clause, &input, &factors, &mut trace),
        None => Err(NotChecked::NoRule { reason: format!("{} has no T-stub", pack.id) }),
    };
    // What is wrong with one field is a fault of the request, not an answer.
    if let Some(fault) = checked.as_ref().err().and_then(read::fault_of_t_stub) {
        return Err(Refusal::invalid(vec![fault]));
    }
    Ok(told::t_stub(clause.map(|clause| clause.reference()), checked, &trace))
}

/// Checks by one clause; outside its scope a number would not be one to stand behind.
fn by<I: Input>(
    clause: &dyn Clause<I>,
    input: &I,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<Checked, NotChecked> {
    if let Applicability::OutsideScope(reason) = clause.applies(input) {
        return Err(NotChecked::NoRule { reason });
    }
    clause.evaluate(input, factors, trace)
}
