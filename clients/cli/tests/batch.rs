//! A folder of projects checked again and again: what changes, what is computed, what is kept when the
//! program is killed. What must fail is found by single checks of each project.
#![cfg(feature = "embedded")]

use std::collections::BTreeMap;
use std::fs;
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use quick_xml::events::Event;
use serde_json::Value;

const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/demo/batch");
/// Where the demo says what its vans weigh.
const CAR: &str = "shared/van.toml";

/// A copy of the demo for each test.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let folder =
            std::env::temp_dir().join(format!("fishplate-batch-{}-{name}", std::process::id()));
        copy(Path::new(DEMO), &folder);
        Self(folder)
    }

    fn path(&self) -> String {
        self.0.to_string_lossy().into_owned()
    }

    fn file(&self, name: &str) -> PathBuf {
        self.0.join(name)
    }

    /// Puts `new` in place of `old`, which must be there.
    fn edit(&self, name: &str, old: &str, new: &str) {
        let text = fs::read_to_string(self.file(name)).expect("the demo has it");
        assert!(text.contains(old), "{name} has no {old}");
        fs::write(self.file(name), text.replacen(old, new, 1)).expect("the copy is ours");
    }

    fn batch(&self, more: &[&str]) -> Output {
        fishplate(&[&["batch", &self.path()], more].concat())
    }

    /// The report, whatever its verdict.
    fn report(&self, more: &[&str]) -> Value {
        let output = self.batch(&[more, &["--json"]].concat());
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(matches!(output.status.code(), Some(0 | 1 | 2 | 4)), "{said}");
        serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{error}: {said}"))
    }

    fn store(&self) -> PathBuf {
        self.file(".fishplate/batch.redb")
    }

    fn forget(&self) {
        fs::remove_dir_all(self.file(".fishplate")).expect("there is a store");
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("the system has a folder for temporary files");
    for entry in fs::read_dir(from).expect("the demo is there") {
        let path = entry.expect("the demo can be read").path();
        let Some(name) = path.file_name() else { continue };
        if path.is_dir() {
            copy(&path, &to.join(name));
        } else {
            fs::copy(&path, to.join(name)).expect("the copy is ours");
        }
    }
}

fn program(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_fishplate"));
    command.args(arguments).env("LC_ALL", "C.UTF-8").env_remove("FISHPLATE_SERVER");
    command
}

fn fishplate(arguments: &[&str]) -> Output {
    program(arguments).output().expect("the program was built for this test")
}

/// By project and mount the field of a report.
fn field(report: &Value, name: &str) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    for project in report["projects"].as_array().into_iter().flatten() {
        for mount in project["mounts"].as_array().into_iter().flatten() {
            let id = mount["mountId"].as_str().unwrap_or_default();
            let key = format!("{} {id}", project["name"].as_str().unwrap_or_default());
            found.insert(key, mount[name].as_str().unwrap_or_default().to_owned());
        }
    }
    found
}

/// Mounts of a report with this change; what belongs to no mount is left out.
fn with(report: &Value, change: &str) -> Vec<String> {
    let all = field(report, "change").into_iter();
    all.filter(|(key, found)| found == change && !key.ends_with(' ')).map(|(key, _)| key).collect()
}

/// What is not told where it is nothing.
fn number(report: &Value, name: &str) -> i64 {
    report[name].as_i64().unwrap_or_default()
}

/// By project and mount, whether some row of it exceeds: from `fishplate check` alone.
fn failing(folder: &Folder, prefix: &str) -> BTreeMap<String, bool> {
    let mut found = BTreeMap::new();
    for entry in fs::read_dir(&folder.0).expect("the copy is ours") {
        let path = entry.expect("it can be read").path();
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if !name.starts_with(prefix) || path.is_dir() {
            continue;
        }
        let output = fishplate(&["check", &path.to_string_lossy(), "--json"]);
        let answer: Value = serde_json::from_slice(&output.stdout).expect("it is checked");
        for mount in answer["mounts"].as_array().into_iter().flatten() {
            found.insert(format!("{name} {}", mount["id"].as_str().unwrap_or_default()), false);
        }
        for row in answer["rows"].as_array().into_iter().flatten() {
            let mount = row["mountId"].as_str().unwrap_or_default();
            if row["state"] == "STATE_EXCEEDS" && !mount.is_empty() {
                found.insert(format!("{name} {mount}"), true);
            }
        }
    }
    found
}

#[test]
fn after_sixty_kilograms_exactly_those_are_named_that_newly_fail() {
    let folder = Folder::new("mass");
    let first = folder.report(&["--accept"]);
    assert_eq!(first["projects"].as_array().map(Vec::len), Some(10));
    assert_eq!((number(&first, "computed"), number(&first, "known")), (40, 0));

    let second = folder.report(&[]);
    assert_eq!((number(&second, "computed"), number(&second, "known")), (0, 40));
    assert_eq!(with(&second, "CHANGE_UNCHANGED").len(), 40);
    assert_eq!(field(&first, "fingerprint"), field(&second, "fingerprint"));

    let before = failing(&folder, "van-");
    // One line of one file that all vans include.
    folder.edit(CAR, "\"2050 kg\"", "\"2110 kg\"");
    let after = failing(&folder, "van-");
    let newly: Vec<String> = after
        .iter()
        .filter(|(key, fails)| **fails && !before[*key])
        .map(|(k, _)| k.clone())
        .collect();
    assert!(!newly.is_empty() && newly.len() < 32, "{newly:?}");

    let report = folder.report(&[]);
    assert_eq!(with(&report, "CHANGE_NEWLY_FAILS"), newly);
    // Eight vans with four mounts each; the others have another car.
    assert_eq!((number(&report, "computed"), number(&report, "known")), (32, 8));
    let fails = field(&report, "verdict");
    for (key, exceeds) in &after {
        assert_eq!(fails[key] == "VERDICT_DOES_NOT_HOLD", *exceeds, "{key}");
    }
    // Back again, nothing is computed and nothing has changed.
    folder.edit(CAR, "\"2110 kg\"", "\"2050 kg\"");
    let back = folder.report(&[]);
    assert_eq!((number(&back, "computed"), with(&back, "CHANGE_UNCHANGED").len()), (0, 40));
}

#[test]
fn an_edit_of_a_bracket_computes_that_one() {
    let folder = Folder::new("bracket");
    let before = folder.report(&["--accept"]);
    folder.edit("van-3.toml", "folded = \"U 5 mm S275\"", "folded = \"U 6 mm S275\"");
    let report = folder.report(&[]);
    // Written once, built on both sides.
    assert_eq!(number(&report, "computed"), 2);
    let (old, new) = (field(&before, "fingerprint"), field(&report, "fingerprint"));
    let changed: Vec<&str> = new
        .iter()
        .filter(|(key, print)| old[*key] != **print)
        .map(|(key, _)| key.as_str())
        .collect();
    assert_eq!(changed, ["van-3.toml ", "van-3.toml FL", "van-3.toml FR"]);
    // What was computed alone is what a fresh run computes.
    folder.forget();
    let fresh = folder.report(&[]);
    for name in ["fingerprint", "verdict", "what", "caseName"] {
        assert_eq!(field(&fresh, name), field(&report, name), "{name}");
    }
}

/// A generator of the same numbers every time (Marsaglia 2003, xorshift with 13, 7, 17).
struct Seeded(u64);

impl Seeded {
    fn below(&mut self, end: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % end
    }
}

#[test]
fn a_run_that_is_killed_at_any_moment_is_finished_by_the_next() {
    let folder = Folder::new("kill");
    for project in ["van-1", "van-2", "van-3", "van-7", "van-8", "estate-2"] {
        fs::remove_file(folder.file(&format!("{project}.toml"))).expect("the demo has it");
    }
    let undisturbed = folder.batch(&["--all", "--width", "160"]);
    let mut seeded = Seeded(0x5eed);
    let (mut killed, mut kept) = (0, 0);
    for round in 0..20 {
        folder.forget();
        let mut child = program(&["batch", &folder.path()])
            .stdout(Stdio::null())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program was built for this test");
        // After some projects, and then somewhere in the next.
        let mut told = BufReader::new(child.stderr.take().expect("it was asked for")).lines();
        for _ in 0..seeded.below(4) {
            let _ = told.next();
        }
        for _ in 0..seeded.below(40_000) {
            std::thread::yield_now();
        }
        child.kill().expect("it is ours");
        killed += usize::from(child.wait().expect("it has ended").code().is_none());

        let again = folder.batch(&["--all", "--width", "160"]);
        let said = String::from_utf8_lossy(&again.stderr);
        assert!(!said.contains("mended"), "round {round}: the store needed repair: {said}");
        assert_eq!(again.status.code(), undisturbed.status.code(), "round {round}: {said}");
        let lines = |output: &Output| {
            let text = String::from_utf8_lossy(&output.stdout).into_owned();
            let (lines, counts): (Vec<String>, Vec<String>) = text
                .lines()
                .map(str::to_owned)
                .partition(|line| !line.starts_with("Mounts computed"));
            (lines, counts)
        };
        let ((now, counts), (then, _)) = (lines(&again), lines(&undisturbed));
        assert_eq!(now, then, "round {round}");
        kept += usize::from(counts.iter().all(|line| !line.contains("computed 16,")));
        // Nothing is left to compute.
        let third = folder.report(&[]);
        assert_eq!(number(&third, "computed"), 0, "round {round}");
    }
    // Both happened: runs that were cut off, and work of theirs that the next run did not do again.
    assert!(killed >= 10 && kept >= 5, "{killed} killed, {kept} kept something");
}

#[test]
fn a_broken_project_does_not_stop_the_others() {
    let folder = Folder::new("broken");
    fs::write(folder.file("a & b <c>.toml"), "[project]\ntitle = \"x\"\nmass =\n").expect("ours");
    folder.edit("van-2.toml", "S275\"\n", "wood\"\n");
    let junit = folder.file("report.xml");
    let output = folder.batch(&["--junit", &junit.to_string_lossy(), "--width", "160"]);
    assert_eq!(output.status.code(), Some(2));
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    for part in [
        "Cannot be checked: a & b <c>.toml",
        "line 3: this is no TOML",
        "Cannot be checked: van-2.toml",
        "wood",
    ] {
        assert!(text.contains(part), "no {part} in {text}");
    }
    // All others are there: nine projects of which one is broken.
    assert!(text.contains("Mounts computed 36"), "{text}");
    let mut reader = quick_xml::Reader::from_str(Box::leak(
        fs::read_to_string(&junit).expect("it was written").into_boxed_str(),
    ));
    let (mut cases, mut errors, mut names) = (0, 0, Vec::new());
    loop {
        match reader.read_event().expect("it is well formed") {
            Event::Start(tag) | Event::Empty(tag) => match tag.name().as_ref() {
                "testcase" => cases += 1,
                "error" => errors += 1,
                "testsuite" => {
                    let name = tag.attributes().flatten().find(|a| a.key.as_ref() == "name");
                    let name = name.expect("a suite has a name");
                    names.push(name.value.into_owned());
                }
                _ => {}
            },
            Event::Eof => break,
            _ => {}
        }
    }
    // A case a mount, one for what belongs to none in each of nine projects, one each of two faults.
    assert_eq!((cases, errors, names.len()), (36 + 9 + 2, 2, 11));
    assert!(names.contains(&"a &amp; b &lt;c&gt;.toml".to_owned()), "{names:?}");

    let refused = folder.batch(&["--accept"]);
    assert_eq!(refused.status.code(), Some(2));
    let said = String::from_utf8_lossy(&refused.stderr).into_owned();
    assert!(said.contains("Nothing was accepted") && said.contains("van-2.toml"), "{said}");
}

/// A store that cannot be used is told and left as it is.
#[test]
fn a_store_that_cannot_be_used_is_told() {
    const ABOUT: redb::TableDefinition<'_, &str, u64> = redb::TableDefinition::new("about");
    let folder = Folder::new("store");
    folder.report(&["--accept"]);
    let told = |parts: &[&str]| {
        let before = fs::read(folder.store()).expect("there is a store");
        let output = folder.batch(&[]);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(output.status.code(), Some(2), "{said}");
        for part in parts {
            assert!(said.contains(part), "no {part:?} in {said}");
        }
        before
    };
    // Another run is at work.
    let open = redb::Database::open(folder.store()).expect("it is a store");
    let output = folder.batch(&[]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains("Another run is at work"), "{said}");
    // A newer program wrote it.
    let writing = open.begin_write().expect("nobody else writes");
    writing
        .open_table(ABOUT)
        .and_then(|mut t| Ok(t.insert("format", 2).map(|_| ())?))
        .expect("ours");
    writing.commit().expect("the disk has room");
    drop(open);
    let before = told(&["format 2", "format 1", "move it away", "accepted state"]);
    assert_eq!(fs::read(folder.store()).expect("it is left").len(), before.len());
    // No store at all.
    fs::write(folder.store(), "no store, but text\n".repeat(500)).expect("ours");
    let before = told(&["damaged or no store", "move it away"]);
    assert_eq!(fs::read(folder.store()).expect("it is left"), before);
}

#[test]
fn what_cannot_be_a_batch_is_refused() {
    let folder = Folder::new("nothing");
    let empty = folder.file("empty");
    fs::create_dir_all(&empty).expect("ours");
    let refused = |arguments: &[&str], part: &str| {
        let output = fishplate(arguments);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{said}");
        assert!(said.contains(part), "no {part} in {said}");
    };
    refused(&["batch", &empty.to_string_lossy()], "holds no project");
    refused(&["batch", &folder.file("missing.toml").to_string_lossy()], "There is no file");
    refused(&["batch"], "FOLDER|FILE");
    let own = folder.file(CAR).to_string_lossy().into_owned();
    refused(&["batch", &folder.path(), "--html", &own], "would replace it");
}

#[test]
fn plain_lines_tell_how_far_it_is() {
    let folder = Folder::new("lines");
    let file = folder.file("van-1.toml").to_string_lossy().into_owned();
    let page = folder.file("batch.html");
    let mut child = program(&["batch", &file, "--html", &page.to_string_lossy()])
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program was built for this test");
    let mut said = String::new();
    child.stderr.take().expect("asked for").read_to_string(&mut said).expect("text");
    child.wait().expect("it ends");
    assert_eq!(said, "1 of 1  van-1.toml: 4 mounts, 4 computed\n");
    let html = fs::read_to_string(page).expect("it was written");
    assert!(html.contains("van-1.toml") && html.starts_with("<!doctype html>"));
}
