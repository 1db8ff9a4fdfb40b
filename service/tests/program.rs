//! The server as a program: what it prints, what it refuses, how it ends.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail like tests")]

use std::io::{BufRead, BufReader, Read};
use std::net::SocketAddr;
use std::process::{Child, Command, Output, Stdio};

use tonic::transport::Endpoint;
use tonic_health::pb::HealthCheckRequest;
use tonic_health::pb::health_check_response::ServingStatus;
use tonic_health::pb::health_client::HealthClient;

fn program(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_fishplated"));
    command.args(arguments).env_remove("FISHPLATED_LISTEN").env_remove("RUST_LOG");
    command
}

fn started(arguments: &[&str]) -> (Child, BufReader<std::process::ChildStdout>, SocketAddr) {
    let mut child =
        program(arguments).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    let mut out = BufReader::new(child.stdout.take().unwrap());
    let mut line = String::new();
    out.read_line(&mut line).unwrap();
    (child, out, line.trim().parse().unwrap())
}

fn signalled(child: Child, signal: &str) -> Output {
    let id = child.id().to_string();
    assert!(Command::new("kill").args([signal, &id]).status().unwrap().success());
    child.wait_with_output().unwrap()
}

// Two threads: one waits for the program's end while the other answers the server's farewell.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn it_tells_its_address_serves_and_ends_on_a_signal() {
    for signal in ["-TERM", "-INT"] {
        let (child, mut out, address) =
            started(&["--listen", "127.0.0.1:0", "--log", "json", "--drain", "5"]);
        assert!(address.ip().is_loopback() && address.port() > 0);
        let endpoint = Endpoint::from_shared(format!("http://{address}")).unwrap();
        let mut health = HealthClient::new(endpoint.connect().await.unwrap());
        let service = "fishplate.v1.SolverService".to_owned();
        let answer = health.check(HealthCheckRequest { service }).await.unwrap().into_inner();
        assert_eq!(answer.status(), ServingStatus::Serving);
        let output = signalled(child, signal);
        assert!(output.status.success(), "{output:?}");
        let mut rest = String::new();
        out.read_to_string(&mut rest).unwrap();
        assert!(rest.is_empty(), "more than the address on standard output: {rest}");
        let log = String::from_utf8(output.stderr).unwrap();
        assert!(log.lines().all(|line| line.starts_with('{') && line.ends_with('}')), "{log}");
        assert!(log.contains("listening") && log.contains("ended"), "{log}");
    }
}

#[test]
fn an_address_that_others_can_reach_is_refused_with_the_reason() {
    for address in ["0.0.0.0:0", "[::]:0"] {
        let output = program(&["--listen", address]).output().unwrap();
        assert_eq!(output.status.code(), Some(1), "{output:?}");
        assert!(output.stdout.is_empty());
        let text = String::from_utf8(output.stderr).unwrap();
        assert!(text.contains("not encrypted") && text.contains("127.0.0.1"), "{text}");
    }
}

#[test]
fn a_port_that_is_taken_is_told() {
    let taken = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let address = taken.local_addr().unwrap().to_string();
    let output = program(&["--listen", &address]).output().unwrap();
    assert_eq!(output.status.code(), Some(1));
    let text = String::from_utf8(output.stderr).unwrap();
    assert!(text.contains(&address), "{text}");
}

#[test]
fn a_word_for_an_address_is_a_usage_error() {
    let output = program(&["--listen", "everywhere"]).output().unwrap();
    assert_eq!(output.status.code(), Some(2));
}
