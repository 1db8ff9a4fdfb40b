//! Single components over the wire, against worked examples.

use fishplate_proto::v1;
use fishplate_service::in_process::connect_to;
use fishplate_service::limits::Limits;
use fishplate_service::server::Server;
use tonic::transport::Channel;
use tonic::{Code, Status};
use tonic_types::StatusExt;

async fn client() -> v1::strength_service_client::StrengthServiceClient<Channel> {
    let channel = connect_to(Server::new(Limits::in_process())).await.unwrap();
    v1::strength_service_client::StrengthServiceClient::new(channel)
}

async fn checked(request: v1::CheckTStubRequest) -> v1::CheckTStubResponse {
    client().await.check_t_stub(request).await.unwrap().into_inner()
}

fn close(got: Option<f64>, expected: f64, relative: f64) {
    let got = got.unwrap();
    assert!((got - expected).abs() <= relative * expected, "{got} against {expected}");
}

/// Two bolts of 90.4 kN, effective lengths given.
fn with_lengths() -> v1::CheckTStubRequest {
    v1::CheckTStubRequest {
        rules: v1::RulePack::En1993.into(),
        gamma_m0: 1.0,
        force_n: 100_000.0,
        bolt_resistance_sum_n: 180_800.0,
        m_mm: 32.0,
        e_mm: 36.0,
        e_min_mm: 36.0,
        thickness_mm: 12.0,
        fy_mpa: 275.0,
        effective_length_1_mm: Some(90.0),
        effective_length_2_mm: Some(90.0),
        prying: v1::Prying::Bears.into(),
    }
}

/// Two M12-8.8 in 8 mm of S235, an isolated row.
fn isolated() -> v1::CheckTStubRequest {
    v1::CheckTStubRequest {
        force_n: 70_000.0,
        bolt_resistance_sum_n: 97_075.0,
        m_mm: 30.0,
        e_mm: 25.0,
        e_min_mm: 25.0,
        thickness_mm: 8.0,
        fy_mpa: 235.0,
        effective_length_1_mm: None,
        effective_length_2_mm: None,
        ..with_lengths()
    }
}

// EN 1993-1-8:2005, Table 6.2, from memory: M_pl = 0.25 l t² f_y, modes 4 M/m,
// (2 M + n sum F)/(m + n), sum F, worked by hand.
#[tokio::test]
async fn a_t_stub_with_given_effective_lengths() {
    let answer = checked(with_lengths()).await;
    close(answer.plastic_moment_1_nmm, 891_000.0, 1e-9);
    close(answer.plastic_moment_2_nmm, 891_000.0, 1e-9);
    close(answer.mode_1_n, 111_375.0, 1e-9);
    close(answer.mode_2_n, 121_923.53, 1e-7);
    close(answer.mode_3_n, 180_800.0, 1e-12);
    close(answer.resistance_n, 111_375.0, 1e-9);
    close(answer.utilisation, 100_000.0 / 111_375.0, 1e-9);
    assert_eq!(answer.governing_mode(), v1::TStubMode::Plate);
    assert_eq!(answer.state(), v1::State::Holds);
    assert_eq!(answer.clause, "EN 1993-1-8:2005, 6.2.4 and Table 6.2");
    assert!(answer.mode_1_and_2_n.is_none() && answer.not_checked_reason.is_empty());
    assert!(!answer.cautions.is_empty());
    let over = checked(v1::CheckTStubRequest { force_n: 111_376.0, ..with_lengths() }).await;
    assert_eq!(over.state(), v1::State::Exceeds);
    // A quarter more of partial factor takes a fifth of the plate's resistance.
    let factored = checked(v1::CheckTStubRequest { gamma_m0: 1.25, ..with_lengths() }).await;
    close(factored.mode_1_n, 111_375.0 / 1.25, 1e-9);
}

// The derivation ends in the utilisation, tells the fields its numbers came from, and no factor
// but gamma_m0 enters: Table 6.2 has no other.
#[tokio::test]
async fn a_t_stub_is_derived_from_the_fields_of_its_request() {
    let steps = checked(with_lengths()).await.steps;
    let of = |symbol: &str| steps.iter().find(|step| step.symbol == symbol).unwrap();
    assert_eq!(of("l_eff_1").source, "request: effective_length_1_mm");
    assert_eq!((of("m").value, of("m").unit.as_str()), (32.0, "mm"));
    assert_eq!(of("f_t_1").expression, "4.0 * m_pl_1 / m");
    assert_eq!(steps.last().unwrap().symbol, "utilisation");
    let factors: Vec<&str> =
        steps.iter().map(|s| s.symbol.as_str()).filter(|s| s.starts_with("gamma")).collect();
    assert_eq!(factors, ["gamma_m0"]);
    // An isolated row derives its lengths: 4 30 + 1.25 25 = 151.25 below 2 pi 30 = 188.5.
    let steps = checked(isolated()).await.steps;
    for symbol in ["l_eff_1", "l_eff_2"] {
        let step = steps.iter().find(|step| step.symbol == symbol).unwrap();
        close(Some(step.value), 151.25, 1e-12);
        assert!(!step.expression.is_empty());
    }
}

// EN 1993-1-8:2005, Table 6.2 for an isolated row, from memory; own recomputation to five digits.
#[tokio::test]
async fn an_isolated_row_with_and_without_lever_forces() {
    let bearing = checked(isolated()).await;
    close(bearing.plastic_moment_1_nmm, 568_700.0, 1e-5);
    close(bearing.mode_1_n, 75_827.0, 1e-5);
    close(bearing.mode_2_n, 64_805.0, 1e-5);
    close(bearing.mode_3_n, 97_075.0, 1e-12);
    close(bearing.resistance_n, 64_805.0, 1e-5);
    assert_eq!(bearing.governing_mode(), v1::TStubMode::PlateAndBolts);
    assert_eq!(bearing.state(), v1::State::Exceeds);
    let free = checked(v1::CheckTStubRequest { prying: v1::Prying::Free.into(), ..isolated() });
    let free = free.await;
    close(free.resistance_n, 37_913.0, 2e-5);
    close(free.mode_1_and_2_n, 37_913.0, 2e-5);
    assert!(free.mode_1_n.is_none() && free.mode_2_n.is_none());
    assert_eq!(free.governing_mode(), v1::TStubMode::PlateFree);
    let thick = checked(v1::CheckTStubRequest { thickness_mm: 30.0, ..isolated() }).await;
    assert_eq!(thick.governing_mode(), v1::TStubMode::Bolts);
    close(thick.resistance_n, 97_075.0, 1e-12);
}

fn paths(status: &Status) -> Vec<String> {
    assert_eq!(status.code(), Code::InvalidArgument, "{status:?}");
    let details = status.get_error_details();
    details.bad_request().unwrap().field_violations.iter().map(|v| v.field.clone()).collect()
}

type Change = fn(&mut v1::CheckTStubRequest);

/// One change to a sound request, and the one field that it spoils.
const FAULTS: &[(&str, Change)] = &[
    ("rules", |r| r.rules = 0),
    ("rules", |r| r.rules = 99),
    ("prying", |r| r.prying = 0),
    ("gamma_m0", |r| r.gamma_m0 = 0.0),
    ("force_n", |r| r.force_n = -1.0),
    ("force_n", |r| r.force_n = f64::NAN),
    ("force_n", |r| r.force_n = 1e300),
    ("bolt_resistance_sum_n", |r| r.bolt_resistance_sum_n = -180_800.0),
    ("m_mm", |r| r.m_mm = 0.0),
    ("m_mm", |r| r.m_mm = 1e-300),
    ("e_mm", |r| r.e_mm = -36.0),
    ("e_min_mm", |r| r.e_min_mm = 36.1),
    ("thickness_mm", |r| r.thickness_mm = 1e200),
    ("fy_mpa", |r| r.fy_mpa = f64::INFINITY),
    ("effective_length_1_mm", |r| r.effective_length_1_mm = Some(0.0)),
    ("effective_length_2_mm", |r| r.effective_length_2_mm = Some(-90.0)),
    // More yield lines are counted for mode 1, so its length cannot be the longer.
    ("effective_length_1_mm", |r| r.effective_length_1_mm = Some(90.1)),
];

#[tokio::test]
async fn each_field_of_a_t_stub_is_refused_by_its_path() {
    let mut client = client().await;
    for (path, change) in FAULTS {
        let mut request = with_lengths();
        change(&mut request);
        let status = client.check_t_stub(request).await.unwrap_err();
        assert_eq!(paths(&status), [*path]);
    }
}

#[tokio::test]
async fn an_empty_t_stub_is_told_all_it_needs() {
    let status = client().await.check_t_stub(v1::CheckTStubRequest::default()).await.unwrap_err();
    let expected = [
        "rules",
        "prying",
        "gamma_m0",
        "bolt_resistance_sum_n",
        "m_mm",
        "e_mm",
        "e_min_mm",
        "thickness_mm",
        "fy_mpa",
    ];
    assert_eq!(paths(&status), expected);
}
