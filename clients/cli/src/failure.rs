//! Why there is no answer, told to a person or as JSON.

use std::ops::Range;

use serde_json::json;

use crate::project::{Fault, Places};
use crate::source::{ARGUMENT, Source, Spot, Unreadable};
use crate::terminal::{EXCEEDS, Look, Page, clean};

/// The input can't be used.
pub(crate) const INPUT: u8 = 2;
/// The service can't be reached or failed.
pub(crate) const SERVICE: u8 = 3;

/// Faults of a file that are told; of the rest only the number is.
const SHOWN: usize = 50;

/// The outcome of something that may have no answer. The failure is boxed: it is large and rare.
pub(crate) type Attempt<T> = Result<T, Box<Failure>>;

/// No answer.
#[derive(Debug)]
pub(crate) struct Failure {
    /// Exit code.
    pub(crate) exit: u8,
    /// In capitals: `CANNOT READ`.
    pub(crate) head: &'static str,
    /// For programs: `INVALID_INPUT`.
    pub(crate) reason: String,
    /// What it is about: the file.
    pub(crate) about: String,
    /// Title of the project, where it could be read.
    pub(crate) title: String,
    /// In one sentence; empty where the faults say it all.
    pub(crate) message: String,
    /// What to do about it; may be empty.
    pub(crate) advice: String,
    /// Every fault.
    pub(crate) faults: Vec<Told>,
    /// How many faults there are, those that are not told included.
    pub(crate) total: usize,
}

/// One fault.
#[derive(Debug)]
pub(crate) struct Told {
    /// Path of the field; empty where the file itself was not understood.
    pub(crate) path: String,
    /// Where it stands, where that is known.
    pub(crate) spot: Option<Spot>,
    /// What was given and what is allowed.
    pub(crate) what: String,
    /// How to mend it; may be empty.
    pub(crate) advice: String,
}

impl Failure {
    /// A failure without faults of its own.
    pub(crate) fn plain(
        exit: u8,
        head: &'static str,
        reason: &str,
        message: impl Into<String>,
        advice: impl Into<String>,
    ) -> Box<Self> {
        Box::new(Self {
            exit,
            head,
            reason: reason.to_owned(),
            about: String::new(),
            title: String::new(),
            message: message.into(),
            advice: advice.into(),
            faults: Vec::new(),
            total: 0,
        })
    }

    /// Faults that the reader of the file found.
    pub(crate) fn in_file(source: &Source, faults: Vec<Fault>) -> Box<Self> {
        let empty = source.text().trim().is_empty();
        let total = faults.len();
        let faults: Vec<Told> = faults
            .into_iter()
            .take(SHOWN)
            .map(|f| Told {
                path: String::new(),
                spot: f.span.map(|span| source.spot(&span)),
                what: f.what,
                advice: f.advice,
            })
            .collect();
        Box::new(Self {
            exit: INPUT,
            head: if empty { "NOTHING TO CHECK" } else { "CANNOT READ" },
            reason: "INVALID_FILE".to_owned(),
            about: source.name().to_owned(),
            title: String::new(),
            message: if empty { "The file is empty.".to_owned() } else { String::new() },
            advice: String::new(),
            total,
            faults,
        })
    }

    /// Faults that the service found in what the file says.
    pub(crate) fn from_status(
        status: &tonic::Status,
        about: &str,
        file: Option<File<'_>>,
    ) -> Box<Self> {
        use tonic::Code;
        use tonic_types::StatusExt;

        let details = status.get_error_details();
        let info = details.error_info();
        let mut reason = info.map_or(String::new(), |i| i.reason.clone());
        let mut faults: Vec<Told> = Vec::new();
        let mut tell = |path: &str, what: &str, advice: &str| {
            // A request that is told of on the way holds what is asked in a field of its own.
            let path = path.strip_prefix("check.").unwrap_or(path);
            let spot = file.and_then(|f| f.spot(path));
            let missing = file.is_some().then(|| example_of(path)).flatten();
            let (what, advice) = match (&spot, missing) {
                // What stands nowhere in the file is told in the words of the file.
                (None, Some((section, example))) => {
                    let what =
                        format!("the file has no section [{section}], and a load case needs it");
                    (what, format!("add for example:\n{example}"))
                }
                _ => (what.to_owned(), advice.to_owned()),
            };
            faults.push(Told { path: path.to_owned(), spot, what, advice });
        };
        for violation in details.bad_request().iter().flat_map(|b| &b.field_violations) {
            tell(&violation.field, &violation.description, "");
        }
        let cannot = details.precondition_failure();
        for violation in cannot.iter().flat_map(|p| &p.violations) {
            if !violation.subject.is_empty() {
                tell(&violation.subject, &violation.description, "");
            }
        }
        let total = info
            .and_then(|i| i.metadata.get("faults"))
            .and_then(|n| n.parse().ok())
            .unwrap_or(faults.len());
        let (exit, head, fallback, advice) = match status.code() {
            Code::InvalidArgument | Code::OutOfRange | Code::NotFound => {
                (INPUT, "CANNOT CHECK", "INVALID_INPUT", "")
            }
            Code::FailedPrecondition => (INPUT, "NO ANSWER", "NOT_SOLVABLE", ""),
            Code::ResourceExhausted if details.retry_info().is_none() => {
                (INPUT, "CANNOT CHECK", "LIMIT_EXCEEDED", "")
            }
            Code::ResourceExhausted => (SERVICE, "NO ANSWER", "SERVER_BUSY", "try again later"),
            Code::DeadlineExceeded => {
                (SERVICE, "NO ANSWER", "DEADLINE_EXCEEDED", "give it more time: --timeout 300")
            }
            // The client library ends a call whose time has run out with this code.
            Code::Cancelled => {
                (SERVICE, "NO ANSWER", "DEADLINE_EXCEEDED", "give it more time: --timeout 300")
            }
            Code::Unavailable => (
                SERVICE,
                "NO SERVICE",
                "UNAVAILABLE",
                "see that it runs and that the address is right, or leave --server out",
            ),
            Code::Unimplemented => (
                SERVICE,
                "NO ANSWER",
                "UNIMPLEMENTED",
                "what answers there is no Fishplate service of this version",
            ),
            _ => (
                SERVICE,
                "NO ANSWER",
                "SERVICE_FAILED",
                "this is a fault of the program, not yours",
            ),
        };
        if reason.is_empty() {
            fallback.clone_into(&mut reason);
        }
        let message = match status.code() {
            Code::Cancelled | Code::DeadlineExceeded => {
                "The time for the answer ran out.".to_owned()
            }
            _ if !faults.is_empty() => String::new(),
            _ if status.message().is_empty() => {
                format!("The service answered with the code {:?} alone.", status.code())
            }
            _ => status.message().to_owned(),
        };
        Box::new(Self {
            exit,
            head,
            reason,
            about: about.to_owned(),
            title: file.map_or(String::new(), |f| f.title.to_owned()),
            message,
            advice: advice.to_owned(),
            faults,
            total,
        })
    }

    /// For people.
    pub(crate) fn text(&self, look: Look) -> String {
        let mut out = String::new();
        let head = format!("{EXCEEDS}{}{EXCEEDS:#}", self.head);
        let one_spot = self.faults.first().and_then(|f| f.spot.as_ref());
        match one_spot {
            Some(spot) if self.head != "NO ANSWER" => {
                out.push_str(&format!("{head}  {}\n", look.text(&place(&self.about, spot))));
            }
            _ if self.head == "NO ANSWER" && !self.title.is_empty() => {
                out.push_str(&format!("{head}  {}\n", look.text(&self.title)));
            }
            _ if self.about.is_empty() => out.push_str(&format!("{head}\n")),
            _ => out.push_str(&format!("{head}  {}\n", look.text(&self.about))),
        }
        if !self.message.is_empty() {
            out.push_str(&format!("\n{}\n", look.text(&self.message)));
        }
        for (at, fault) in self.faults.iter().enumerate() {
            match &fault.spot {
                Some(spot) => {
                    if at > 0 || self.head == "NO ANSWER" {
                        out.push_str(&format!("\n{}\n", look.text(&place(&self.about, spot))));
                    }
                    out.push_str(&marked(spot, look));
                }
                None if !fault.path.is_empty() && example_of(&fault.path).is_none() => {
                    out.push_str(&format!("\n{}\n", look.text(&fault.path)));
                }
                None => out.push('\n'),
            }
            indented(&mut out, look, &fault.what);
            indented(&mut out, look, &fault.advice);
        }
        if !self.advice.is_empty() {
            out.push_str(&format!("{}\n", look.text(&self.advice)));
        }
        match self.total {
            0 => out.push_str("\nNothing was checked.\n"),
            _ if self.head == "NO ANSWER" => out.push_str("\nNothing was checked.\n"),
            1 => out.push_str("\n1 fault. Nothing was computed.\n"),
            n if n > self.faults.len() => out.push_str(&format!(
                "\n{n} faults, the first {} of them shown. Nothing was computed.\n",
                self.faults.len()
            )),
            n => out.push_str(&format!("\n{n} faults. Nothing was computed.\n")),
        }
        out
    }

    /// For programs.
    pub(crate) fn json(&self) -> String {
        let faults: Vec<_> = self
            .faults
            .iter()
            .map(|f| {
                json!({
                    "field": f.path,
                    "file": f.spot.as_ref().and_then(|s| s.file.as_ref()),
                    "line": f.spot.as_ref().map(|s| s.line),
                    "column": f.spot.as_ref().map(|s| s.column),
                    "what": f.what,
                    "advice": f.advice,
                })
            })
            .collect();
        let error = json!({
            "error": {
                "exit": self.exit,
                "reason": self.reason,
                "about": self.about,
                "title": self.title,
                "message": self.message,
                "advice": self.advice,
                "faults": faults,
                "faultCount": self.total,
            }
        });
        format!("{error:#}\n")
    }
}

impl From<Unreadable> for Box<Failure> {
    fn from(why: Unreadable) -> Self {
        let advice = match &why {
            Unreadable::Missing(_) => "check the name and where you are",
            Unreadable::Directory(_) => "name the file in it",
            Unreadable::NotText { .. } => "save it as UTF-8",
            Unreadable::Binary { .. } => "give a project file; it is plain text",
            _ => "",
        };
        Failure::plain(INPUT, "CANNOT READ", "UNREADABLE", capital(&why.to_string()) + ".", advice)
    }
}

/// A section that only some cases need, by its field of the request, and how it may look.
fn example_of(path: &str) -> Option<(&'static str, &'static str)> {
    match path.strip_prefix("project.").unwrap_or(path) {
        "drive" => Some((
            "drive",
            "[drive]\naxle = \"rear\"\ntorque = \"250 N m\"\nratio = \"9.1\"\nefficiency = \
             \"0.96\"\ngrip = \"0.9\"",
        )),
        "brakes" => Some(("brakes", "[brakes]\nrear_share = \"~0.40\"\ngrip = \"~1.1\"")),
        _ => None,
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        // A file name stays as it is.
        Some(first) if text.starts_with("there") || text.starts_with("standard") => {
            first.to_uppercase().chain(letters).collect()
        }
        _ => text.to_owned(),
    }
}

/// A file that was read, for finding fields in it again.
#[derive(Debug, Clone, Copy)]
pub(crate) struct File<'a> {
    pub(crate) source: &'a Source,
    pub(crate) places: &'a Places,
    pub(crate) title: &'a str,
}

impl File<'_> {
    pub(crate) fn spot(&self, path: &str) -> Option<Spot> {
        let span: Range<usize> = self.places.find(path)?;
        Some(self.source.spot(&span))
    }
}

fn place(file: &str, spot: &Spot) -> String {
    match spot.file.as_deref() {
        Some(ARGUMENT) => format!("{ARGUMENT}, column {}", spot.column),
        other => {
            let file = other.unwrap_or(file);
            format!("{file}, line {}, column {}", spot.line, spot.column)
        }
    }
}

/// The line with the place marked under it.
fn marked(spot: &Spot, look: Look) -> String {
    let number = spot.line.to_string();
    let room = look.width() - number.len() - 4;
    let letters: Vec<char> = clean(&spot.text).chars().collect();
    let start = spot.column - 1;
    // A line that is too long is shown from a little before the place.
    let from = if letters.len() > room && start + 20 > room { start.saturating_sub(20) } else { 0 };
    let shown: String = letters.iter().skip(from).take(room).collect();
    let mark = "^".repeat(spot.length.min(room.saturating_sub(start - from)).max(1));
    let lead = " ".repeat(number.len() + 4);
    // In ASCII a letter may take two columns: the mark is put under what is really shown.
    let before: String =
        letters[from.min(letters.len())..start.min(letters.len())].iter().collect();
    let before = look.text(&before).chars().count();
    format!("\n  {number}  {}\n{lead}{}{mark}\n", look.text(&shown), " ".repeat(before))
}

fn indented(out: &mut String, look: Look, text: &str) {
    let mut page = Page::new(look);
    for line in text.lines() {
        page.wrapped("      ", 6, line);
    }
    out.push_str(&page.finish());
}
