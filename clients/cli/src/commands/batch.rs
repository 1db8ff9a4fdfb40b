//! `fishplate batch`.

use std::io::IsTerminal;
use std::time::Duration;

use fishplate_proto::v1::check_batch_response::Update;
use fishplate_proto::v1::study_service_client::StudyServiceClient;
use fishplate_proto::v1::{
    BatchFault, BatchItem, BatchProject, BatchReport, CheckBatchRequest, Depth, Progress, Verdict,
};
use prost::Message;
use tonic::transport::Channel;
use tonic::{Response, Status};

use super::{json, page_file, refuse_own_input, time};
use crate::Outcome;
use crate::args::BatchOptions;
use crate::batch::compare::report;
use crate::batch::folder::{Entry, Folder, gather};
use crate::batch::junit;
use crate::batch::store::Store;
use crate::connection::{ANSWER_BYTES, connect, request, within};
use crate::failure::{Attempt, Failure, File, INPUT, SERVICE, Told};
use crate::output::{ProgressLine, message};
use crate::terminal::{self, BatchTold};

/// Projects that are asked about at once.
const AT_ONCE: usize = 16;
/// Bytes of projects that are asked about at once: half of what a service takes.
const BYTES_AT_ONCE: usize = 2 << 20;

pub(super) async fn batch(options: &BatchOptions) -> Attempt<Outcome> {
    let folder = gather(&options.paths, &options.set)?;
    for page in options.html.iter().chain(&options.junit) {
        for (source, _) in folder.entries.iter().filter_map(|entry| entry.read.as_ref().ok()) {
            refuse_own_input(page, source)?;
        }
    }
    let depth = options.depth.wire();
    let store = Store::open(&folder.home, depth.as_str_name())?;
    let before = store.accepted()?;
    let channel = connect(options.common.server.as_deref()).await?;
    let mut asking = Asking {
        channel,
        store: &store,
        depth,
        wait: time(&options.common),
        telling: Telling::new(options, folder.entries.len()),
    };
    let projects = asking.all(&folder).await?;
    asking.telling.line.clear();
    if options.accept {
        accept(&store, &projects, folder.whole)?;
    }
    let report = report(&projects, before.as_deref(), (folder.whole, depth));
    if let Some(file) = &options.junit {
        let text = junit::xml(&report).map_err(|error| {
            let message = format!("The report cannot be written as XML: {error}");
            Failure::plain(SERVICE, "NO ANSWER", "SERVICE_FAILED", message, "")
        })?;
        page_file(file, &text)?;
    }
    let given = options.paths.join(" ");
    if let Some(file) = &options.html {
        page_file(file, &fishplate_report::batch_page(&report, &given))?;
    }
    let text = if options.common.json {
        json("BatchReport", &report)?
    } else {
        let told = BatchTold { given: &given, all: options.all, accepted: options.accept };
        terminal::batch(&report, &told, options.common.look())
    };
    Ok(Outcome { text, exit: exit_code(&report) })
}

/// Makes today's state the accepted one, where all of it is known.
fn accept(store: &Store, projects: &[BatchProject], whole: bool) -> Attempt<()> {
    let faulty: Vec<&str> = projects
        .iter()
        .filter(|project| !project.faults.is_empty())
        .map(|project| project.name.as_str())
        .collect();
    if faulty.is_empty() {
        return store.accept(projects, whole);
    }
    let message = format!("Nothing was accepted: {} cannot be checked.", faulty.join(", "));
    let advice = "`fishplate batch` without --accept tells why";
    Err(Failure::plain(INPUT, "NOT ACCEPTED", "FAULTY_PROJECT", message, advice))
}

/// As a check of each would end, the worst of all.
fn exit_code(report: &BatchReport) -> u8 {
    let any = |verdict| report.projects.iter().any(|project| project.verdict() == verdict);
    if report.projects.iter().any(|project| !project.faults.is_empty()) {
        INPUT
    } else if any(Verdict::DoesNotHold) {
        1
    } else if any(Verdict::Provisional) {
        4
    } else {
        0
    }
}

/// The service with what is asked again and again.
struct Asking<'a> {
    channel: Channel,
    store: &'a Store,
    depth: Depth,
    wait: Duration,
    telling: Telling,
}

impl Asking<'_> {
    /// What came of every project, in their order.
    async fn all(&mut self, folder: &Folder) -> Attempt<Vec<BatchProject>> {
        let mut came: Vec<BatchProject> = Vec::new();
        let (mut asked, mut bytes) = (Vec::new(), 0);
        for entry in &folder.entries {
            let Ok((_, loaded)) = &entry.read else { continue };
            let size = loaded.project.encoded_len();
            // A project as plates takes as long as many others.
            let full = asked.len() == AT_ONCE || self.depth == Depth::Plate;
            if !asked.is_empty() && (full || bytes + size > BYTES_AT_ONCE) {
                came.extend(self.some(std::mem::take(&mut asked)).await?);
                bytes = 0;
            }
            bytes += size;
            asked.push(entry);
        }
        if !asked.is_empty() {
            came.extend(self.some(asked).await?);
        }
        let unread =
            folder.entries.iter().filter_map(|entry| entry.read.as_ref().err().map(|e| (entry, e)));
        came.extend(unread.map(|(entry, failure)| unreadable(entry, failure)));
        came.sort_by(|a, b| a.name.cmp(&b.name));
        Ok(came)
    }

    /// What came of some projects; it is kept as it comes.
    async fn some(&mut self, entries: Vec<&Entry>) -> Attempt<Vec<BatchProject>> {
        let mut items = Vec::new();
        for entry in &entries {
            let Ok((_, loaded)) = &entry.read else { continue };
            items.push(BatchItem {
                name: entry.name.clone(),
                project: Some(loaded.project.clone()),
                known_fingerprints: self.store.known(&entry.name)?,
            });
        }
        let asked = CheckBatchRequest { items, depth: self.depth.into() };
        let wait = self.wait;
        let mut client =
            StudyServiceClient::new(self.channel.clone()).max_decoding_message_size(ANSWER_BYTES);
        let mut came: Vec<BatchProject> = Vec::new();
        let mut kept: Attempt<()> = Ok(());
        let telling = &mut self.telling;
        let store = self.store;
        let answers = async {
            let told = client.check_batch(request(asked, wait)).await?;
            let mut updates = told.into_inner();
            while let Some(message) = updates.message().await? {
                match message.update {
                    Some(Update::Done(_)) => return Ok(Response::new(())),
                    Some(Update::Progress(progress)) => telling.progress(&progress),
                    Some(Update::Project(project)) => match keep(store, project, &entries) {
                        Ok(project) => {
                            telling.project(&project);
                            came.push(project);
                        }
                        Err(failure) => {
                            kept = Err(failure);
                            return Ok(Response::new(()));
                        }
                    },
                    None => {}
                }
            }
            Err(Status::internal("the service ended without an answer"))
        };
        let answered = within(wait, answers).await;
        kept?;
        answered.map_err(|status| Failure::from_status(&status, "", None))?;
        Ok(came)
    }
}

/// Keeps what came of a project; of one that cannot be checked nothing is kept, its faults are shown at
/// their places.
fn keep(store: &Store, mut came: BatchProject, entries: &[&Entry]) -> Attempt<BatchProject> {
    if came.faults.is_empty() {
        return store.keep(came);
    }
    let entry = entries.iter().find(|entry| entry.name == came.name);
    if let Some((source, loaded)) = entry.and_then(|entry| entry.read.as_ref().ok()) {
        let file = File { source, places: &loaded.places, title: "" };
        for fault in &mut came.faults {
            fault.place = file.spot(&fault.field_path).map(|spot| spot.shown()).unwrap_or_default();
        }
    }
    Ok(came)
}

/// A project that cannot even be read.
fn unreadable(entry: &Entry, failure: &Failure) -> BatchProject {
    let told = |fault: &Told| BatchFault {
        field_path: fault.path.clone(),
        what: match fault.advice.as_str() {
            "" => fault.what.clone(),
            advice => format!("{}; {advice}", fault.what),
        },
        place: fault.spot.as_ref().map(|spot| spot.shown()).unwrap_or_default(),
    };
    let mut faults: Vec<BatchFault> = failure.faults.iter().map(told).collect();
    if faults.is_empty() {
        faults.push(BatchFault { what: failure.message.clone(), ..BatchFault::default() });
    }
    BatchProject { name: entry.name.clone(), mounts: Vec::new(), faults }
}

/// How far it is: a line that is written over on a terminal, else a line a project.
struct Telling {
    line: ProgressLine,
    plain: bool,
    done: i32,
    of: i32,
}

impl Telling {
    fn new(options: &BatchOptions, projects: usize) -> Self {
        let wanted = !options.quiet && !options.common.json;
        Self {
            line: ProgressLine::new(wanted),
            plain: wanted && !std::io::stderr().is_terminal(),
            done: 0,
            of: i32::try_from(projects).unwrap_or(i32::MAX),
        }
    }

    fn progress(&mut self, progress: &Progress) {
        let Self { done, of, .. } = *self;
        self.line.show(&Progress { doing: progress.doing.clone(), done, of });
    }

    fn project(&mut self, project: &BatchProject) {
        self.done += 1;
        let Self { done, of, .. } = *self;
        self.line.show(&Progress { doing: project.name.clone(), done, of });
        if self.plain {
            let own = || project.mounts.iter().filter(|mount| !mount.mount_id.is_empty());
            let computed = own().filter(|mount| !mount.known).count();
            let what = match project.faults.len() {
                0 => format!("{} mounts, {computed} computed", own().count()),
                _ => "cannot be checked".to_owned(),
            };
            let name = terminal::clean(&project.name);
            message(&format!("{done} of {of}  {name}: {what}\n"), crate::args::Colour::Never);
        }
    }
}
