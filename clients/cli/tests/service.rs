//! The program against a service of this test's own: what it sends, prints and ends with.

use std::net::SocketAddr;
use std::process::{Command, Output};
use std::time::Duration;

use fishplate_proto::v1::check_service_server::{CheckService, CheckServiceServer};
use fishplate_proto::v1::solver_service_server::{SolverService, SolverServiceServer};
use fishplate_proto::v1::{
    CheckProjectRequest, CheckProjectResponse, CheckProjectWithProgressRequest,
    CheckProjectWithProgressResponse, Depth, ExplainRowRequest, ExplainRowResponse,
    MeshPlateRequest, MeshPlateResponse, Progress, Row, SolveFrameDesignsRequest,
    SolveFrameDesignsResponse, SolveStructureRequest, SolveStructureResponse, State, Verdict,
    VibrationMode, check_project_with_progress_response::Update,
};
use tonic::codegen::{BoxStream, tokio_stream};
use tonic::transport::Server;
use tonic::transport::server::TcpIncoming;
use tonic::{Code, Request, Response, Status};
use tonic_types::{ErrorDetails, StatusExt};

const VAN: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/demo/van-a.toml");

/// Answers by what the title of the project asks for.
struct Stand;

impl Stand {
    /// Answers what stands at `path` of a request.
    async fn answer(
        &self,
        request: Request<CheckProjectRequest>,
        path: &str,
    ) -> Result<CheckProjectResponse, Status> {
        assert!(request.metadata().contains_key("grpc-timeout"), "the caller tells its patience");
        let project = request.into_inner().project.unwrap_or_default();
        let verdict = match project.title.as_str() {
            "holds" => Verdict::Holds,
            "exceeds" => Verdict::DoesNotHold,
            "provisional" => Verdict::Provisional,
            "silent" => std::future::pending().await,
            "busy" => {
                let details = ErrorDetails::with_retry_info(Some(Duration::from_millis(200)));
                let code = Code::ResourceExhausted;
                return Err(Status::with_error_details(code, "the server is busy", details));
            }
            "broken" => return Err(Status::internal("a fault of this program; logged as 7f-1")),
            "mechanism" => {
                let text = "the cradle can still turn about the line through its rear mounts";
                let mut details = ErrorDetails::new();
                details.add_precondition_failure_violation("MECHANISM", "bushes[0].axial", text);
                details.set_error_info("MECHANISM", "fishplate", []);
                let code = Code::FailedPrecondition;
                return Err(Status::with_error_details(code, text, details));
            }
            "fault" => {
                let mut details = ErrorDetails::new();
                details.add_bad_request_violation(
                    format!("{path}project.rails[0].readings[2].thickness"),
                    "given 2.2 mm; allowed: less than the wall as new",
                );
                let ratio = format!("{path}project.drive.ratio.value");
                details.add_bad_request_violation(ratio, "given 0");
                details.add_bad_request_violation("row_id", "given nothing");
                let code = Code::InvalidArgument;
                return Err(Status::with_error_details(code, "3 faults", details));
            }
            _ => Verdict::Unspecified,
        };
        let row = Row {
            id: "FL-1".to_owned(),
            what: "bush bolt: faces slip".to_owned(),
            state: State::Holds as i32,
            utilisation: Some(0.5),
            ..Row::default()
        };
        Ok(CheckProjectResponse {
            verdict: verdict as i32,
            title: project.title,
            rows: vec![row],
            ..CheckProjectResponse::default()
        })
    }
}

#[tonic::async_trait]
impl CheckService for Stand {
    async fn check_project(
        &self,
        request: Request<CheckProjectRequest>,
    ) -> Result<Response<CheckProjectResponse>, Status> {
        assert_eq!(request.get_ref().depth(), Depth::Frame);
        self.answer(request, "").await.map(Response::new)
    }

    type CheckProjectWithProgressStream = BoxStream<CheckProjectWithProgressResponse>;

    async fn check_project_with_progress(
        &self,
        request: Request<CheckProjectWithProgressRequest>,
    ) -> Result<Response<Self::CheckProjectWithProgressStream>, Status> {
        let (metadata, extensions, asked) = request.into_parts();
        let asked = asked.check.unwrap_or_default();
        assert_eq!(asked.depth(), Depth::Plate);
        let asked = Request::from_parts(metadata, extensions, asked);
        let answer = self.answer(asked, "check.").await?;
        let progress = Progress { doing: "front left".to_owned(), done: 1, of: 4 };
        let updates = [Update::Progress(progress), Update::Answer(answer)];
        let updates =
            updates.map(|update| Ok(CheckProjectWithProgressResponse { update: Some(update) }));
        Ok(Response::new(Box::pin(tokio_stream::iter(updates))))
    }

    async fn explain_row(
        &self,
        request: Request<ExplainRowRequest>,
    ) -> Result<Response<ExplainRowResponse>, Status> {
        let asked = request.into_inner();
        if asked.row_id != "FL-2" {
            return Err(Status::not_found(format!("there is no row {}", asked.row_id)));
        }
        let row = Row {
            id: asked.row_id,
            what: format!("case {}", asked.case_name),
            state: State::Exceeds as i32,
            utilisation: Some(3.48),
            ..Row::default()
        };
        Ok(Response::new(ExplainRowResponse { row: Some(row), ..ExplainRowResponse::default() }))
    }
}

#[tonic::async_trait]
impl SolverService for Stand {
    async fn solve_structure(
        &self,
        request: Request<SolveStructureRequest>,
    ) -> Result<Response<SolveStructureResponse>, Status> {
        let count = request.into_inner().nodes.len();
        let mode = VibrationMode { frequency_hz: 12.5, ..VibrationMode::default() };
        let vibration_modes = vec![mode; count];
        Ok(Response::new(SolveStructureResponse {
            vibration_modes,
            ..SolveStructureResponse::default()
        }))
    }

    async fn mesh_plate(
        &self,
        _: Request<MeshPlateRequest>,
    ) -> Result<Response<MeshPlateResponse>, Status> {
        Ok(Response::new(MeshPlateResponse::default()))
    }

    type SolveFrameDesignsStream = BoxStream<SolveFrameDesignsResponse>;

    async fn solve_frame_designs(
        &self,
        _: Request<SolveFrameDesignsRequest>,
    ) -> Result<Response<Self::SolveFrameDesignsStream>, Status> {
        Ok(Response::new(Box::pin(tokio_stream::empty())))
    }
}

/// A service on a port of its own, for as long as the runtime lives.
fn stand() -> (tokio::runtime::Runtime, SocketAddr) {
    let runtime = tokio::runtime::Runtime::new().expect("the system gives threads");
    let address = runtime.block_on(async {
        let listener = tokio::net::TcpListener::bind("127.0.0.1:0").await.expect("a port is free");
        let address = listener.local_addr().expect("the listener has an address");
        let served = Server::builder()
            .add_service(CheckServiceServer::new(Stand))
            .add_service(SolverServiceServer::new(Stand))
            .serve_with_incoming(TcpIncoming::from(listener));
        tokio::spawn(served);
        address
    });
    (runtime, address)
}

/// Runs the program on the demo file with another title.
fn check_titled(address: SocketAddr, title: &str, more: &[&str]) -> Output {
    let folder = std::env::temp_dir();
    let file = folder.join(format!("fishplate-{}-{title}.toml", std::process::id()));
    let text = std::fs::read_to_string(VAN).expect("the demo file is in the repository");
    let text = text.replace("Van, design A", title);
    std::fs::write(&file, text).expect("the system has a folder for temporary files");
    let name = file.to_string_lossy().into_owned();
    let server = address.to_string();
    let mut arguments = vec!["check", &name, "--server", &server];
    arguments.extend(more);
    let output = fishplate(&arguments);
    let _ = std::fs::remove_file(&file);
    output
}

fn fishplate(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_fishplate"))
        .args(arguments)
        .env("LC_ALL", "C.UTF-8")
        .env_remove("FISHPLATE_SERVER")
        .output()
        .expect("the program was built for this test")
}

/// Where a line of the demo file stands, counted here.
fn line_of(start: &str) -> usize {
    let text = std::fs::read_to_string(VAN).expect("the demo file is in the repository");
    text.lines().position(|l| l.starts_with(start)).expect("the demo file has such a line") + 1
}

fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn told(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[test]
fn the_exit_code_is_the_verdict() {
    let (_runtime, address) = stand();
    for (title, exit, word) in
        [("holds", 0, "HOLDS"), ("exceeds", 1, "DOES NOT HOLD"), ("provisional", 4, "PROVISIONAL")]
    {
        let output = check_titled(address, title, &[]);
        assert_eq!(output.status.code(), Some(exit), "{}", told(&output));
        assert!(out(&output).starts_with(word), "{}", out(&output));
        assert!(told(&output).is_empty());
        assert!(!out(&output).contains('\u{1b}'), "no colour into a pipe");
    }
    let coloured = out(&check_titled(address, "holds", &["--color", "always"]));
    assert!(coloured.contains("\u{1b}["));
    let ascii = out(&check_titled(address, "holds", &["--ascii"]));
    assert!(ascii.is_ascii() && ascii.contains('='));
}

#[test]
fn the_plate_level_is_told_on_the_way_and_only_to_a_terminal() {
    let (_runtime, address) = stand();
    let output = check_titled(address, "exceeds", &["--depth", "plate"]);
    assert_eq!(output.status.code(), Some(1), "{}", told(&output));
    assert!(out(&output).starts_with("DOES NOT HOLD"), "{}", out(&output));
    assert!(told(&output).is_empty(), "{}", told(&output));
    let output = check_titled(address, "fault", &["--depth", "plate"]);
    assert_eq!(output.status.code(), Some(2), "{}", told(&output));
    let reading = format!("line {}, column", line_of("web_is "));
    assert!(told(&output).contains(&reading), "{}", told(&output));
    let json = check_titled(address, "fault", &["--depth", "plate", "--json"]);
    let fields: serde_json::Value = serde_json::from_slice(&json.stderr).expect("it is JSON");
    assert_eq!(fields["error"]["faults"][0]["field"], "project.rails[0].readings[2].thickness");
}

#[test]
fn a_service_that_fails_is_not_the_fault_of_the_input() {
    let (_runtime, address) = stand();
    let axial = format!("line {}, column", line_of("axial "));
    for (title, exit, parts) in [
        ("busy", 3, vec!["NO ANSWER", "busy", "try again later"]),
        ("broken", 3, vec!["7f-1", "not yours"]),
        ("none", 3, vec!["without a verdict"]),
        (
            "mechanism",
            2,
            vec![
                "NO ANSWER  mechanism\n",
                axial.as_str(),
                "can still turn",
                "Nothing was checked.",
            ],
        ),
    ] {
        let output = check_titled(address, title, &[]);
        assert_eq!(output.status.code(), Some(exit), "{title}: {}", told(&output));
        assert!(output.stdout.is_empty(), "{title}");
        for part in parts {
            assert!(told(&output).contains(part), "{title}: no {part:?} in {}", told(&output));
        }
    }
}

#[test]
fn a_silent_service_is_not_waited_for_longer_than_said() {
    let (_runtime, address) = stand();
    let output = check_titled(address, "silent", &["--timeout", "1"]);
    assert_eq!(output.status.code(), Some(3));
    assert!(told(&output).contains("The time for the answer ran out."), "{}", told(&output));
}

#[test]
fn faults_that_the_service_finds_are_shown_at_their_lines() {
    let (_runtime, address) = stand();
    let output = check_titled(address, "fault", &[]);
    assert_eq!(output.status.code(), Some(2));
    let said = told(&output);
    let readings = line_of("web_is ");
    let readings_at = format!("line {readings}, column 11");
    let ratio_at = format!("line {}, column 14", line_of("ratio "));
    for part in [&readings_at, "less than the wall as new", &ratio_at, "row_id"] {
        assert!(said.contains(part), "no {part:?} in {said}");
    }
    assert!(said.contains("3 faults. Nothing was computed."), "{said}");
    let output = check_titled(address, "fault", &["--json"]);
    let error: serde_json::Value = serde_json::from_slice(&output.stderr).unwrap();
    assert_eq!(error["error"]["faults"][0]["line"], readings);
    assert_eq!(error["error"]["faults"][0]["field"], "project.rails[0].readings[2].thickness");
}

#[test]
fn json_is_the_answer_and_nothing_else() {
    let (_runtime, address) = stand();
    let output = check_titled(address, "exceeds", &["--json"]);
    assert_eq!(output.status.code(), Some(1));
    let answer: CheckProjectResponse =
        fishplate_proto::json::from_json("CheckProjectResponse", &out(&output)).unwrap();
    assert_eq!(answer.verdict(), Verdict::DoesNotHold);
    assert_eq!(answer.rows.len(), 1);
}

#[test]
fn one_row_is_explained() {
    let (_runtime, address) = stand();
    let server = address.to_string();
    let output = fishplate(&["explain", VAN, "FL-2", "--case", "P1", "--server", &server]);
    assert_eq!(output.status.code(), Some(1), "{}", told(&output));
    assert!(out(&output).contains("case P1"), "{}", out(&output));
    assert!(out(&output).contains("3.48  exceeds"), "{}", out(&output));
    let output = fishplate(&["explain", VAN, "XX-9", "--server", &server]);
    assert_eq!(output.status.code(), Some(2));
    assert!(told(&output).contains("there is no row XX-9"), "{}", told(&output));
}

#[test]
fn a_structure_is_read_from_standard_input() {
    use std::io::Write;
    use std::process::Stdio;

    let (_runtime, address) = stand();
    let mut child = Command::new(env!("CARGO_BIN_EXE_fishplate"))
        .args(["solve", "-", "--server", &address.to_string()])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(b"{\"nodes\": [{\"id\": \"a\"}]}").unwrap();
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert!(out(&output).contains("12.5"), "{}", out(&output));
}

#[test]
fn a_page_is_written_whole_and_never_over_the_project() {
    let (_runtime, address) = stand();
    let page = std::env::temp_dir().join(format!("fishplate-{}-page.html", std::process::id()));
    let name = page.to_string_lossy().into_owned();
    let output = check_titled(address, "holds", &["--html", &name]);
    assert_eq!(output.status.code(), Some(0), "{}", told(&output));
    assert!(std::fs::read_to_string(&page).unwrap().contains("holds"));
    std::fs::remove_file(&page).unwrap();
    let server = address.to_string();
    let output = fishplate(&["check", VAN, "--server", &server, "--html", VAN]);
    assert_eq!(output.status.code(), Some(2));
    assert!(told(&output).contains("would replace it"), "{}", told(&output));
    let output = check_titled(address, "holds", &["--html", "/nowhere/at/all.html"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(told(&output).contains("cannot be written"), "{}", told(&output));
}

#[test]
fn a_service_that_is_not_there_is_named() {
    // A port that was free a moment ago, and that nobody listens on.
    let address = std::net::TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap();
    let output = fishplate(&["check", VAN, "--server", &address.to_string()]);
    assert_eq!(output.status.code(), Some(3));
    let said = told(&output);
    assert!(said.contains("NO SERVICE") && said.contains(&address.to_string()), "{said}");
    for (server, part) in [("https://127.0.0.1:1", "only http"), ("not an address", "no address")] {
        let output = fishplate(&["check", VAN, "--server", server]);
        assert_eq!(output.status.code(), Some(2), "{server}");
        assert!(told(&output).contains(part), "{}", told(&output));
    }
}

/// `fishplate check van.toml | head -1`: the reader goes away, nothing complains.
#[test]
#[cfg(unix)]
fn a_reader_that_goes_away_is_no_fault() {
    let (_runtime, address) = stand();
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    let output = Command::new(env!("CARGO_BIN_EXE_fishplate"))
        .args(["explain", VAN, "FL-2", "--server", &address.to_string()])
        .stdout(writer)
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(1));
    assert!(told(&output).is_empty(), "{}", told(&output));
}
