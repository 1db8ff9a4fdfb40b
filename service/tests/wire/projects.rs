//! Projects over the wire: what is missing is told, all of it, by its path.

use fishplate_proto::v1;
use fishplate_service::in_process::connect_to;
use fishplate_service::limits::Limits;
use fishplate_service::server::Server;
use tonic::transport::Channel;
use tonic::{Code, Status};
use tonic_types::StatusExt;

async fn client() -> v1::check_service_client::CheckServiceClient<Channel> {
    let channel = connect_to(Server::new(Limits::in_process())).await.unwrap();
    v1::check_service_client::CheckServiceClient::new(channel)
}

fn paths(status: &Status) -> Vec<String> {
    assert_eq!(status.code(), Code::InvalidArgument, "{status:?}");
    let details = status.get_error_details();
    let bad = details.bad_request().map(|bad| bad.field_violations.clone()).unwrap_or_default();
    bad.into_iter().map(|violation| violation.field).collect()
}

async fn refused(project: Option<v1::Project>) -> Vec<String> {
    let request = v1::CheckProjectRequest { project, ..Default::default() };
    paths(&client().await.check_project(request).await.unwrap_err())
}

#[tokio::test]
async fn a_request_without_a_project() {
    assert_eq!(refused(None).await, ["project"]);
}

#[tokio::test]
async fn an_empty_project_is_told_what_every_project_needs() {
    let expected = ["rules", "car", "springs", "cradle", "factors"];
    assert_eq!(
        refused(Some(v1::Project::default())).await,
        expected.map(|name| format!("project.{name}"))
    );
}

#[tokio::test]
async fn what_is_asked_with_progress_is_told_by_its_own_paths() {
    let ask = async |check| {
        let request = v1::CheckProjectWithProgressRequest { check };
        let stream = client().await.check_project_with_progress(request).await;
        // An error at once is told with the head of the answer, a later one as its end.
        let status = match stream {
            Ok(stream) => stream.into_inner().message().await.unwrap_err(),
            Err(status) => status,
        };
        paths(&status)
    };
    assert_eq!(ask(None).await, ["check"]);
    let project = Some(v1::Project::default());
    let asked = v1::CheckProjectRequest { project, ..Default::default() };
    assert_eq!(ask(Some(asked)).await[0], "check.project.rules");
}

#[tokio::test]
async fn every_hole_is_told_however_deep() {
    let project = v1::Project {
        car: Some(v1::Car::default()),
        rails: vec![v1::Rail::default()],
        parts: vec![
            v1::Part { form: Some(v1::part::Form::Bar(v1::Bar::default())), ..Default::default() },
            v1::Part::default(),
        ],
        welds: vec![v1::Weld { stitch_on_mm: Some(20.0), ..Default::default() }],
        bolts: vec![v1::Bolt::default()],
        cases: vec![v1::LoadCase::default()],
        ..Default::default()
    };
    let expected = [
        "rules",
        "car.wheelbase",
        "car.rear_track",
        "car.wheel_radius",
        "springs",
        "cradle",
        "rails[0]",
        "rails[0].web",
        "rails[0].bottom",
        "rails[0].from",
        "rails[0].to",
        "parts[0].bar.section",
        "parts[0].bar.line",
        "parts[1]",
        "welds[0].bead",
        "welds[0].stitch_off_mm",
        "bolts[0].faces",
        "bolts[0].hole",
        "bolts[0].friction",
        "bolts[0].tightening",
        "cases[0].kind",
        "cases[0].class",
        "factors",
    ];
    assert_eq!(refused(Some(project)).await, expected.map(|name| format!("project.{name}")));
}

#[tokio::test]
async fn what_no_project_may_hold_is_told_beside_what_is_missing() {
    let length = |value_mm| Some(v1::Length { value_mm, ..Default::default() });
    let car = v1::Car {
        wheelbase: length(f64::NAN),
        rear_track: length(1500.0),
        wheel_radius: Some(v1::Length {
            value_mm: 330.0,
            low_mm: Some(340.0),
            ..Default::default()
        }),
        ..Default::default()
    };
    let project = v1::Project {
        rules: Some(v1::Rules::default()),
        title: "two\nlines".to_owned(),
        car: Some(car),
        ..Default::default()
    };
    let mut got = refused(Some(project)).await;
    got.sort();
    let expected = [
        "car.wheel_radius.high_mm",
        "car.wheelbase.value_mm",
        "cradle",
        "factors",
        "rules.pack",
        "springs",
        "title",
    ];
    assert_eq!(got, expected.map(|name| format!("project.{name}")));
}

#[tokio::test]
async fn too_many_parts_are_a_limit() {
    let parts = vec![v1::Part::default(); 2001];
    let project = v1::Project { parts, ..Default::default() };
    let request = v1::CheckProjectRequest { project: Some(project), ..Default::default() };
    let status = client().await.check_project(request).await.unwrap_err();
    assert!(paths(&status).contains(&"project.parts".to_owned()), "{status:?}");
    assert_eq!(status.get_error_details().error_info().unwrap().reason, "LIMIT_EXCEEDED");
}

#[tokio::test]
async fn a_row_to_explain_has_to_be_named() {
    let request = v1::ExplainRowRequest { project: None, ..Default::default() };
    let status = client().await.explain_row(request).await.unwrap_err();
    assert_eq!(paths(&status), ["project", "row_id"]);
}
