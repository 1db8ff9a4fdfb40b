//! Results that are kept beside the projects, so that nothing is computed twice.
//!
//! One file, `.fishplate/batch.redb`. Results are kept by project and fingerprint; a state says, by
//! project, which fingerprints it had: the last one, and the one that was accepted. What came of a
//! project is written in one transaction that is on the disk before the next is begun: a run that is
//! killed loses at most the project it was at, and what was written needs no repair.
//!
//! Another format is refused, never read in part and never thrown away.

use std::fs;
use std::path::{Path, PathBuf};

use fishplate_proto::v1::{BatchMount, BatchProject};
use prost::Message;
use redb::{
    Builder, Database, ReadableDatabase, ReadableTable, StorageError, Table, TableDefinition,
};

use crate::failure::{Attempt, Failure, INPUT};

/// What the store is written like; one that says another number was written by another program.
const FORMAT: u64 = 1;
/// Results that are kept of a project beside those of its states.
const KEPT: usize = 400;

/// What the file says about itself.
const ABOUT: TableDefinition<'_, &str, u64> = TableDefinition::new("about");
/// By project and fingerprint: when it was written, and a `BatchMount` of the contract.
const RESULTS: TableDefinition<'_, (&str, &str), (u64, &[u8])> = TableDefinition::new("results");
/// By state and project: a `BatchProject` of the contract, its mounts with fingerprints alone.
const STATES: TableDefinition<'_, (&str, &str), &[u8]> = TableDefinition::new("states");

/// The results of a folder.
pub(crate) struct Store {
    database: Database,
    path: PathBuf,
    /// The states: the last and the accepted one, of one depth.
    states: [String; 2],
}

/// Projects of a state with what was found of them, by name.
pub(crate) type State = Vec<BatchProject>;

impl Store {
    /// Opens the results of the folder `home`, or begins anew where there are none. `depth` names
    /// which states are meant.
    ///
    /// # Errors
    /// A store that another run has open, of another version, or damaged.
    pub(crate) fn open(home: &Path, depth: &str) -> Attempt<Self> {
        let folder = home.join(".fishplate");
        let path = folder.join("batch.redb");
        let failed = |why: redb::Error| told(&path, &why);
        if !path.exists() {
            fs::create_dir_all(&folder).map_err(|error| failed(error.into()))?;
            begin(&folder, &path).map_err(failed)?;
        }
        let repaired = std::rc::Rc::new(std::cell::Cell::new(false));
        let mut builder = Builder::new();
        let seen = repaired.clone();
        builder.set_repair_callback(move |_| seen.set(true));
        let database = builder.open(&path).map_err(|error| told(&path, &error.into()))?;
        if repaired.get() {
            let text = format!("{}: not closed, mended\n", path.display());
            crate::output::message(&text, crate::args::Colour::Auto);
        }
        let states = ["last", "accepted"].map(|state| format!("{state} {depth}"));
        let store = Self { database, path, states };
        let format = store.format().map_err(|error| store.failed(error))?;
        match format {
            Some(FORMAT) => Ok(store),
            other => Err(of_another(&store.path, other)),
        }
    }

    fn format(&self) -> Result<Option<u64>, redb::Error> {
        let reading = self.database.begin_read()?;
        let about = match reading.open_table(ABOUT) {
            Ok(about) => about,
            Err(redb::TableError::TableDoesNotExist(_)) => return Ok(None),
            Err(other) => return Err(other.into()),
        };
        Ok(about.get("format")?.map(|format| format.value()))
    }

    fn failed(&self, error: impl Into<redb::Error>) -> Box<Failure> {
        told(&self.path, &error.into())
    }

    /// Fingerprints of a project whose results are there.
    ///
    /// # Errors
    /// A file that cannot be read any more.
    pub(crate) fn known(&self, project: &str) -> Attempt<Vec<String>> {
        self.read_known(project).map_err(|error| self.failed(error))
    }

    fn read_known(&self, project: &str) -> Result<Vec<String>, redb::Error> {
        let reading = self.database.begin_read()?;
        let results = reading.open_table(RESULTS)?;
        let mut known = Vec::new();
        for entry in results.range((project, "")..)? {
            let (key, _) = entry?;
            let (of, print) = key.value();
            if of != project {
                break;
            }
            known.push(print.to_owned());
        }
        Ok(known)
    }

    /// Writes what came of a project, new results and the state, at once; gives it back with the
    /// results that were known put in.
    ///
    /// # Errors
    /// A file that cannot be written, or that lacks what it said it had.
    pub(crate) fn keep(&self, came: BatchProject) -> Attempt<BatchProject> {
        let project = self.filled(came)?;
        self.write(&project).map_err(|error| self.failed(error))?;
        Ok(project)
    }

    fn write(&self, project: &BatchProject) -> Result<(), redb::Error> {
        let name = project.name.as_str();
        let mut writing = self.database.begin_write()?;
        // What is written is whole without any repair, whenever the program is killed.
        writing.set_quick_repair(true);
        {
            let mut about = writing.open_table(ABOUT)?;
            let when = about.get("runs")?.map_or(0, |runs| runs.value()) + 1;
            about.insert("runs", when)?;
            let mut states = writing.open_table(STATES)?;
            let state = prints(project).encode_to_vec();
            states.insert((self.states[0].as_str(), name), state.as_slice())?;
            let mut results = writing.open_table(RESULTS)?;
            for mount in &project.mounts {
                let bytes = mount.encode_to_vec();
                results.insert((name, mount.fingerprint.as_str()), (when, bytes.as_slice()))?;
            }
            forget(&mut results, &states, name)?;
        }
        writing.commit()?;
        Ok(())
    }

    /// A project with the results that were known put in.
    fn filled(&self, mut project: BatchProject) -> Attempt<BatchProject> {
        for mount in project.mounts.iter_mut().filter(|mount| mount.known) {
            let known = self
                .result(&project.name, &mount.fingerprint)
                .map_err(|error| self.failed(error))?;
            let Some(known) = known else {
                let what = format!("a result of {} is not there", project.name);
                return Err(self.failed(StorageError::Corrupted(what)));
            };
            // Its names may have changed, its rows cannot.
            mount.rows = known.rows;
            mount.verdict = known.verdict;
            mount.open_reasons = known.open_reasons;
        }
        Ok(project)
    }

    fn result(&self, project: &str, print: &str) -> Result<Option<BatchMount>, redb::Error> {
        let reading = self.database.begin_read()?;
        let results = reading.open_table(RESULTS)?;
        let Some(entry) = results.get((project, print))? else { return Ok(None) };
        let (_, bytes) = entry.value();
        Ok(Some(BatchMount::decode(bytes).map_err(damaged)?))
    }

    /// The state that was accepted last, with its results; none where none ever was.
    ///
    /// # Errors
    /// A file that cannot be read any more.
    pub(crate) fn accepted(&self) -> Attempt<Option<State>> {
        let read = self.state(&self.states[1]).map_err(|error| self.failed(error))?;
        let filled =
            read.into_iter().map(|project| self.filled(project)).collect::<Attempt<_>>()?;
        Ok(Some(filled).filter(|state: &State| !state.is_empty()))
    }

    fn state(&self, state: &str) -> Result<State, redb::Error> {
        let reading = self.database.begin_read()?;
        let states = reading.open_table(STATES)?;
        let mut found = Vec::new();
        for entry in states.range((state, "")..)? {
            let (key, bytes) = entry?;
            if key.value().0 != state {
                break;
            }
            found.push(BatchProject::decode(bytes.value()).map_err(damaged)?);
        }
        Ok(found)
    }

    /// Makes these projects the accepted state, in place of all others where they are the `whole`.
    ///
    /// # Errors
    /// A file that cannot be written.
    pub(crate) fn accept(&self, projects: &[BatchProject], whole: bool) -> Attempt<()> {
        self.write_accepted(projects, whole).map_err(|error| self.failed(error))
    }

    fn write_accepted(&self, projects: &[BatchProject], whole: bool) -> Result<(), redb::Error> {
        let gone: Vec<String> = match whole {
            false => Vec::new(),
            true => self.state(&self.states[1])?.into_iter().map(|project| project.name).collect(),
        };
        let mut writing = self.database.begin_write()?;
        writing.set_quick_repair(true);
        {
            let mut states = writing.open_table(STATES)?;
            let state = self.states[1].as_str();
            for name in &gone {
                states.remove((state, name.as_str()))?;
            }
            for project in projects {
                let bytes = prints(project).encode_to_vec();
                states.insert((state, project.name.as_str()), bytes.as_slice())?;
            }
        }
        writing.commit()?;
        Ok(())
    }
}

/// Begins a store beside its place and puts it there whole: nobody ever sees half of one.
fn begin(folder: &Path, path: &Path) -> Result<(), redb::Error> {
    let new = folder.join(format!("batch.new.{}", std::process::id()));
    let made = begin_at(&new).and_then(|()| match fs::hard_link(&new, path) {
        // Another run was faster: that is the store then.
        Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => Ok(()),
        other => Ok(other?),
    });
    let cleared = fs::remove_file(&new);
    made?;
    Ok(cleared?)
}

fn begin_at(path: &Path) -> Result<(), redb::Error> {
    let database = Builder::new().create(path)?;
    let mut writing = database.begin_write()?;
    writing.set_quick_repair(true);
    writing.open_table(ABOUT)?.insert("format", FORMAT)?;
    writing.open_table(RESULTS)?;
    writing.open_table(STATES)?;
    writing.commit()?;
    Ok(())
}

/// A project with fingerprints alone.
fn prints(project: &BatchProject) -> BatchProject {
    let mounts = project.mounts.iter().map(|mount| BatchMount {
        mount_id: mount.mount_id.clone(),
        mount_name: mount.mount_name.clone(),
        fingerprint: mount.fingerprint.clone(),
        known: true,
        ..BatchMount::default()
    });
    let name = project.name.clone();
    BatchProject { name, mounts: mounts.collect(), faults: Vec::new() }
}

/// Forgets the oldest results of a project beyond those that are kept; what a state refers to stays.
fn forget(
    results: &mut Table<'_, (&str, &str), (u64, &[u8])>,
    states: &impl ReadableTable<(&'static str, &'static str), &'static [u8]>,
    project: &str,
) -> Result<(), redb::Error> {
    let mut all: Vec<(u64, String)> = Vec::new();
    for entry in results.range((project, "")..)? {
        let (key, value) = entry?;
        if key.value().0 != project {
            break;
        }
        all.push((value.value().0, key.value().1.to_owned()));
    }
    if all.len() <= KEPT {
        return Ok(());
    }
    let mut needed = Vec::new();
    for entry in states.iter()? {
        let (key, bytes) = entry?;
        if key.value().1 == project {
            let state = BatchProject::decode(bytes.value()).map_err(damaged)?;
            needed.extend(state.mounts.into_iter().map(|mount| mount.fingerprint));
        }
    }
    all.sort();
    let many = all.len() - KEPT;
    for (_, print) in all.iter().take(many).filter(|(_, print)| !needed.contains(print)) {
        results.remove((project, print.as_str()))?;
    }
    Ok(())
}

fn damaged(error: prost::DecodeError) -> redb::Error {
    redb::Error::Corrupted(error.to_string())
}

/// A store that cannot be used, in words.
fn told(path: &Path, error: &redb::Error) -> Box<Failure> {
    let shown = path.display();
    let anew = "move it away to begin anew; the accepted state goes with it";
    let (reason, message, advice) = match error {
        redb::Error::DatabaseAlreadyOpen => (
            "STORE_BUSY",
            format!("Another run is at work in this folder: it has {shown} open."),
            "wait until it is done",
        ),
        redb::Error::UpgradeRequired(version) => (
            "STORE_VERSION",
            format!(
                "{shown} is written in version {version} of its format, which is not read here."
            ),
            "use the version of this program that wrote it, or move it away to begin anew; the \
             accepted state goes with it",
        ),
        redb::Error::Corrupted(why) => {
            ("STORE_DAMAGED", format!("{shown} is damaged: {why}"), anew)
        }
        redb::Error::Io(why) if why.kind() == std::io::ErrorKind::InvalidData => (
            "STORE_DAMAGED",
            format!("{shown} is damaged or no store of this program: {why}"),
            anew,
        ),
        other => (
            "STORE_FAILED",
            format!("{shown} cannot be used: {other}"),
            "results are kept there; see that the folder can be written to",
        ),
    };
    Failure::plain(INPUT, "CANNOT KEEP RESULTS", reason, message, advice)
}

fn of_another(path: &Path, format: Option<u64>) -> Box<Failure> {
    let shown = path.display();
    let message = match format {
        Some(format) => format!(
            "{shown} is a store of format {format}; this program reads and writes format {FORMAT}."
        ),
        None => {
            format!("{shown} does not say which format it has; it is no store of this program.")
        }
    };
    let advice = "use the version of this program that wrote it, or move it away to begin anew; the \
                  accepted state goes with it";
    Failure::plain(INPUT, "CANNOT KEEP RESULTS", "STORE_VERSION", message, advice)
}
