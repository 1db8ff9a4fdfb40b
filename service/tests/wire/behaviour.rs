//! What the server does beside computing: health, reflection, deadlines, full house, going down.

use std::time::Duration;

use fishplate_proto::v1;
use fishplate_service::accept::{bind, connections};
use fishplate_service::in_process::connect_to;
use fishplate_service::limits::{Limits, REQUEST_BYTES};
use fishplate_service::server::{SERVICES, Server};
use tokio::sync::oneshot;
use tokio_stream::StreamExt;
use tonic::transport::{Channel, Endpoint};
use tonic::{Code, Request};
use tonic_health::pb::HealthCheckRequest;
use tonic_health::pb::health_check_response::ServingStatus;
use tonic_health::pb::health_client::HealthClient;
use tonic_reflection::pb::v1 as reflection;
use tonic_reflection::pb::v1alpha as reflection_alpha;
use tonic_types::StatusExt;

use crate::{cantilever, large, solver, solver_on};

/// A server on a port of its own, and what ends it.
struct Running {
    channel: Channel,
    stop: oneshot::Sender<()>,
    served: tokio::task::JoinHandle<()>,
    load: tokio::sync::watch::Receiver<usize>,
}

async fn running(limits: Limits, drain: Duration) -> Running {
    let listener = bind("127.0.0.1:0".parse().unwrap()).await.unwrap();
    let address = listener.local_addr().unwrap();
    let incoming = connections(listener, &limits);
    let server = Server::new(limits);
    let load = server.running();
    let (stop, stopped) = oneshot::channel();
    let served = tokio::spawn(async move {
        let shutdown = async {
            let _ = stopped.await;
        };
        server.serve(incoming, shutdown, drain).await.unwrap();
    });
    let channel =
        Endpoint::from_shared(format!("http://{address}")).unwrap().connect().await.unwrap();
    Running { channel, stop, served, load }
}

async fn until(load: &mut tokio::sync::watch::Receiver<usize>, running: usize) {
    load.wait_for(|now| *now == running).await.unwrap();
}

fn about(service: &str) -> HealthCheckRequest {
    HealthCheckRequest { service: service.to_owned() }
}

#[tokio::test]
async fn health_knows_every_service_and_no_other() {
    let server = running(Limits::shared(), Duration::ZERO).await;
    let mut health = HealthClient::new(server.channel.clone());
    for service in SERVICES.into_iter().chain([""]) {
        let answer = health.check(about(service)).await.unwrap().into_inner();
        assert_eq!(answer.status(), ServingStatus::Serving, "{service}");
    }
    let status = health.check(about("fishplate.v1.NoService")).await.unwrap_err();
    assert_eq!(status.code(), Code::NotFound);
}

#[tokio::test]
async fn reflection_lists_the_services_in_both_versions() {
    let server = running(Limits::shared(), Duration::ZERO).await;
    let mut new =
        reflection::server_reflection_client::ServerReflectionClient::new(server.channel.clone());
    use reflection::server_reflection_request::MessageRequest;
    let ask = reflection::ServerReflectionRequest {
        host: String::new(),
        message_request: Some(MessageRequest::ListServices(String::new())),
    };
    let mut answers =
        new.server_reflection_info(tokio_stream::once(ask)).await.unwrap().into_inner();
    let answer = answers.next().await.unwrap().unwrap();
    use reflection::server_reflection_response::MessageResponse;
    let Some(MessageResponse::ListServicesResponse(list)) = answer.message_response else {
        panic!("not a list of services: {answer:?}");
    };
    let names: Vec<String> = list.service.into_iter().map(|service| service.name).collect();
    for service in SERVICES.into_iter().chain(["grpc.health.v1.Health"]) {
        assert!(names.iter().any(|name| name == service), "{service} in {names:?}");
    }
    let mut old = reflection_alpha::server_reflection_client::ServerReflectionClient::new(
        server.channel.clone(),
    );
    let ask = reflection_alpha::ServerReflectionRequest {
        host: String::new(),
        message_request: Some(
            reflection_alpha::server_reflection_request::MessageRequest::FileContainingSymbol(
                SERVICES[0].to_owned(),
            ),
        ),
    };
    let mut answers =
        old.server_reflection_info(tokio_stream::once(ask)).await.unwrap().into_inner();
    let answer = answers.next().await.unwrap().unwrap();
    use reflection_alpha::server_reflection_response::MessageResponse as Old;
    assert!(matches!(answer.message_response, Some(Old::FileDescriptorResponse(_))));
}

#[tokio::test]
async fn a_deadline_ends_the_call_and_the_work() {
    let limits = Limits { call_time: Duration::from_millis(20), ..Limits::shared() };
    let server = Server::new(limits);
    let mut load = server.running();
    let mut client = solver_on(connect_to(server).await.unwrap());
    let status = client.solve_structure(large(30, 200)).await.unwrap_err();
    assert_eq!(status.code(), Code::DeadlineExceeded, "{status:?}");
    let details = status.get_error_details();
    assert_eq!(details.error_info().unwrap().reason, "DEADLINE_EXCEEDED");
    until(&mut load, 0).await;
}

#[tokio::test]
async fn a_caller_that_goes_away_frees_the_server() {
    let limits = Limits { slots: 1, queue: 0, ..Limits::in_process() };
    let server = Server::new(limits);
    let mut load = server.running();
    let mut client = solver_on(connect_to(server).await.unwrap());
    let mut other = client.clone();
    let call = tokio::spawn(async move { client.solve_structure(large(30, 200)).await });
    until(&mut load, 1).await;
    let refused = other.solve_structure(cantilever()).await.unwrap_err();
    assert_eq!(refused.code(), Code::ResourceExhausted);
    let details = refused.get_error_details();
    assert_eq!(details.error_info().unwrap().reason, "SERVER_BUSY");
    assert!(details.retry_info().unwrap().retry_delay.is_some());
    call.abort();
    until(&mut load, 0).await;
    assert!(other.solve_structure(cantilever()).await.is_ok());
}

#[tokio::test]
async fn going_down_says_so_stops_the_work_and_answers_it() {
    let server = running(Limits::in_process(), Duration::ZERO).await;
    let Running { channel, stop, served, mut load } = server;
    let mut health = HealthClient::new(channel.clone());
    let mut watch = health.watch(about(SERVICES[0])).await.unwrap().into_inner();
    assert_eq!(watch.next().await.unwrap().unwrap().status(), ServingStatus::Serving);
    let mut client = solver_on(channel);
    let call = tokio::spawn(async move { client.solve_structure(large(30, 200)).await });
    until(&mut load, 1).await;
    stop.send(()).unwrap();
    assert_eq!(watch.next().await.unwrap().unwrap().status(), ServingStatus::NotServing);
    let status = call.await.unwrap().unwrap_err();
    assert_eq!(status.code(), Code::Unavailable, "{status:?}");
    // The watcher still holds its stream; the server does not wait for it.
    served.await.unwrap();
    until(&mut load, 0).await;
}

#[tokio::test]
async fn going_down_waits_for_what_ends_in_time() {
    let server = running(Limits::in_process(), Duration::from_secs(600)).await;
    let Running { channel, stop, served, mut load } = server;
    let mut client = solver_on(channel);
    let call = tokio::spawn(async move { client.solve_structure(large(12, 4)).await });
    until(&mut load, 1).await;
    stop.send(()).unwrap();
    assert_eq!(call.await.unwrap().unwrap().into_inner().static_cases.len(), 4);
    served.await.unwrap();
}

#[tokio::test]
async fn a_request_over_the_size_of_the_wire_is_refused_by_its_head() {
    let mut request = cantilever();
    request.nodes[0].id = "x".repeat(REQUEST_BYTES);
    let status = solver().await.solve_structure(request).await.unwrap_err();
    // What this transport answers; others say RESOURCE_EXHAUSTED.
    assert_eq!(status.code(), Code::OutOfRange, "{status:?}");
}

#[tokio::test]
async fn the_catalogue_comes_in_pages() {
    let channel = connect_to(Server::new(Limits::in_process())).await.unwrap();
    let mut client = v1::catalog_service_client::CatalogServiceClient::new(channel);
    let all = v1::ListFastenersRequest { page_size: 1000, ..Default::default() };
    let all = client.list_fasteners(all).await.unwrap().into_inner();
    assert!(all.entries.iter().any(|entry| entry.name == "M12"));
    let mut paged = Vec::new();
    let mut page_token = String::new();
    loop {
        let request = v1::ListFastenersRequest { page_size: 7, page_token, ..Default::default() };
        let page = client.list_fasteners(request).await.unwrap().into_inner();
        assert!(page.entries.len() <= 7);
        paged.extend(page.entries);
        page_token = page.next_page_token;
        if page_token.is_empty() {
            break;
        }
    }
    assert_eq!(paged, all.entries);
    let few = v1::ListMaterialsRequest { filter: "s355".to_owned(), ..Default::default() };
    let few = client.list_materials(few).await.unwrap().into_inner();
    assert!(!few.entries.is_empty() && few.entries.len() < 20);
    let gussets =
        v1::ListFatigueDetailsRequest { filter: "gusset".to_owned(), ..Default::default() };
    let gussets = client.list_fatigue_details(gussets).await.unwrap().into_inner().entries;
    // EN 1993-1-9:2005 Table 8.4 (5), from memory: 40 MPa without a radius.
    let plain = gussets.iter().find(|entry| entry.name == "gusset on edge").unwrap();
    assert_eq!((plain.values[0].value.round(), plain.values[0].unit.as_str()), (40.0, "MPa"));
    let stale = v1::ListSectionsRequest { page_token: "64-0".to_owned(), ..Default::default() };
    let status = client.list_sections(Request::new(stale)).await.unwrap_err();
    assert_eq!(status.code(), Code::InvalidArgument);
    let violations = &status.get_error_details().bad_request().unwrap().field_violations.clone();
    assert_eq!(violations[0].field, "page_token");
}
