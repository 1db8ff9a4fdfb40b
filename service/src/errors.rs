//! Why a call has no answer, and how that is told.
//!
//! Every refusal has two readers. The caller gets a code, a sentence and details that a program
//! can read: always one `ErrorInfo`, with `BadRequest` for input, `PreconditionFailure` for a
//! structure that cannot be solved, `RetryInfo` when a later try may do. The log gets the number
//! under which the caller can ask, and what only we may see.

use std::collections::BTreeMap;
use std::time::Duration;

use fishplate_quantity::Fault;
use tonic::{Code, Status};
use tonic_types::{ErrorDetails, ErrorInfo, FieldViolation, StatusExt};

use crate::limits::FAULTS;

/// The `domain` of every `ErrorInfo`.
pub const DOMAIN: &str = "fishplate";

/// Longest sentence to the caller, bytes: it travels beside the details in the same trailers.
const SENTENCE_BYTES: usize = 600;

/// A call without an answer.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Refusal {
    /// The request cannot be used.
    #[error("{} field(s) cannot be used", faults.len() + more)]
    Faults {
        /// Why, for programs: `INVALID_INPUT`, `LIMIT_EXCEEDED`.
        reason: &'static str,
        /// All that were found, in the order of the request.
        faults: Vec<Fault>,
        /// How many there are beyond those.
        more: usize,
    },
    /// The request is sound, but what it describes has no answer.
    #[error("{0}")]
    Unsolvable(Unsolvable),
    /// Every slot is taken.
    #[error("all slots are taken")]
    Full {
        /// When a new try makes sense.
        retry_after: Duration,
    },
    /// The server is going down.
    #[error("the server is going down")]
    Draining,
    /// Time ran out.
    #[error("time ran out")]
    Deadline,
    /// The caller went away.
    #[error("the caller went away")]
    Cancelled,
    /// Our bug.
    #[error("{log}")]
    Internal {
        /// The number that caller and log share.
        id: String,
        /// For the log alone.
        log: String,
    },
}

/// What is described has no answer: a mechanism, stiffnesses too far apart, nothing to buckle.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Unsolvable {
    /// For programs: `MECHANISM`.
    pub(crate) reason: &'static str,
    /// For people.
    pub(crate) message: String,
    /// Path of the thing it is about: `nodes[3]`.
    pub(crate) subject: String,
    /// For programs: `node`, `direction`.
    pub(crate) metadata: BTreeMap<&'static str, String>,
}

impl std::fmt::Display for Unsolvable {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message)
    }
}

impl Refusal {
    /// Fields that cannot be used.
    pub(crate) fn invalid(faults: Vec<Fault>) -> Self {
        Self::Faults { reason: "INVALID_INPUT", faults, more: 0 }
    }

    /// A request that is larger than this server takes. Permanent: the same request will never do.
    pub(crate) fn too_large(path: &str, given: String, allowed: String, advice: &str) -> Self {
        let faults = vec![Fault::new(path, given, allowed, advice)];
        Self::Faults { reason: "LIMIT_EXCEEDED", faults, more: 0 }
    }

    /// The code that the caller sees.
    pub(crate) fn code(&self) -> Code {
        match self {
            Self::Faults { .. } => Code::InvalidArgument,
            Self::Unsolvable(_) => Code::FailedPrecondition,
            Self::Full { .. } => Code::ResourceExhausted,
            Self::Draining => Code::Unavailable,
            Self::Deadline => Code::DeadlineExceeded,
            Self::Cancelled => Code::Cancelled,
            Self::Internal { .. } => Code::Internal,
        }
    }

    /// The answer to the caller; details of at most `detail_bytes`.
    pub(crate) fn into_status(self, detail_bytes: usize) -> Status {
        let code = self.code();
        let (reason, sentence) = self.reason_and_sentence();
        let mut metadata = BTreeMap::new();
        let mut details = ErrorDetails::new();
        match self {
            Self::Faults { faults, more, .. } => {
                let total = faults.len() + more;
                let violations = violations(&faults, detail_bytes);
                metadata.insert("faults", total.to_string());
                metadata.insert("faultsTold", violations.len().to_string());
                details.set_bad_request(violations);
            }
            Self::Unsolvable(what) => {
                metadata = what.metadata;
                details.add_precondition_failure_violation(
                    reason,
                    what.subject,
                    shortened(&what.message),
                );
            }
            Self::Full { retry_after } => {
                details.set_retry_info(Some(retry_after));
            }
            Self::Internal { id, .. } => {
                metadata.insert("requestId", id);
            }
            Self::Draining | Self::Deadline | Self::Cancelled => {}
        }
        let metadata = metadata.into_iter().map(|(key, value)| (key.to_owned(), value));
        let info = ErrorInfo {
            reason: reason.to_owned(),
            domain: DOMAIN.to_owned(),
            metadata: metadata.collect(),
        };
        details.set_error_info(info.reason, info.domain, info.metadata);
        Status::with_error_details(code, shortened(&sentence), details)
    }

    fn reason_and_sentence(&self) -> (&'static str, String) {
        match self {
            Self::Faults { reason, faults, more } => {
                let first = faults.first().map(ToString::to_string).unwrap_or_default();
                let others = (faults.len() + more).saturating_sub(1);
                let sentence = match others {
                    0 => first,
                    1 => format!("{} (and 1 more fault)", cut(&first, SENTENCE_BYTES - 32)),
                    n => format!("{} (and {n} more faults)", cut(&first, SENTENCE_BYTES - 32)),
                };
                (reason, sentence)
            }
            Self::Unsolvable(what) => (what.reason, what.message.clone()),
            Self::Full { retry_after } => {
                let ms = retry_after.as_millis();
                ("SERVER_BUSY", format!("the server is busy; try again in {ms} ms"))
            }
            Self::Draining => (
                "SERVER_GOING_DOWN",
                "the server is going down; ask another or try later".to_owned(),
            ),
            Self::Deadline => (
                "DEADLINE_EXCEEDED",
                "the time allowed for this call ran out; the work was stopped".to_owned(),
            ),
            Self::Cancelled => ("CANCELLED", "the call was cancelled".to_owned()),
            Self::Internal { id, .. } => (
                "INTERNAL",
                format!("a fault of this program, not of the request; it is logged as {id}"),
            ),
        }
    }
}

/// As many faults as fit, and no more than are worth reading.
fn violations(faults: &[Fault], detail_bytes: usize) -> Vec<FieldViolation> {
    // Two tags and two lengths around each text, and the message around both.
    const FRAMING: usize = 12;
    let mut room = detail_bytes;
    let mut told = Vec::new();
    for fault in faults.iter().take(FAULTS) {
        let path = cut(&fault.path, 200);
        let description = words(fault);
        let size = path.len() + description.len() + FRAMING;
        if size > room && !told.is_empty() {
            break;
        }
        room = room.saturating_sub(size);
        told.push(FieldViolation::new(path, description));
    }
    told
}

/// What was given and what is allowed, without the path.
pub(crate) fn words(fault: &Fault) -> String {
    let mut words = format!("given {}; allowed: {}", fault.given, fault.allowed);
    if !fault.advice.is_empty() {
        words.push_str("; ");
        words.push_str(&fault.advice);
    }
    shortened(&words)
}

fn shortened(text: &str) -> String {
    cut(text, SENTENCE_BYTES)
}

/// `text` on one line, without control characters, in at most `bytes` bytes.
pub(crate) fn cut(text: &str, bytes: usize) -> String {
    let clean: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    if clean.len() <= bytes {
        return clean;
    }
    let dots = "...";
    let mut end = bytes.saturating_sub(dots.len());
    while !clean.is_char_boundary(end) {
        end -= 1;
    }
    format!("{}{dots}", &clean[..end])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn faults(count: usize) -> Vec<Fault> {
        (0..count)
            .map(|i| {
                Fault::new(format!("nodes[{i}].position.x_mm"), "not a number", "a number", "")
            })
            .collect()
    }

    #[test]
    fn all_faults_are_told_with_their_paths() {
        let status = Refusal::invalid(faults(3)).into_status(4096);
        assert_eq!(status.code(), Code::InvalidArgument);
        assert!(status.message().contains("and 2 more faults"), "{}", status.message());
        let details = status.get_error_details();
        let told = &details.bad_request().unwrap().field_violations;
        assert_eq!(told.len(), 3);
        assert_eq!(told[2].field, "nodes[2].position.x_mm");
        assert_eq!(details.error_info().unwrap().reason, "INVALID_INPUT");
    }

    #[test]
    fn details_stay_within_what_a_transport_takes() {
        let status = Refusal::invalid(faults(5000)).into_status(4096);
        let details = status.get_error_details();
        let told = details.bad_request().unwrap().field_violations.len();
        assert!((10..FAULTS).contains(&told), "{told}");
        let info = details.error_info().unwrap();
        assert_eq!(info.metadata["faults"], "5000");
        assert_eq!(info.metadata["faultsTold"], told.to_string());
        // Base64 adds a third; 8 KiB is what common transports take.
        assert!(status.details().len() * 4 / 3 + status.message().len() < 8000);
        let roomy = Refusal::invalid(faults(5000)).into_status(64 << 10);
        assert_eq!(roomy.get_error_details().bad_request().unwrap().field_violations.len(), FAULTS);
    }

    #[test]
    fn what_a_caller_wrote_cannot_forge_a_line() {
        assert_eq!(cut("a\r\nb\u{7}c", 100), "a  b c");
        assert_eq!(cut("äöü", 100), "äöü");
        assert_eq!(cut("äöüäöü", 8), "äö...");
    }

    #[test]
    fn an_internal_fault_tells_its_number_and_nothing_else() {
        let log = "index out of bounds in frame.rs".to_owned();
        let status = Refusal::Internal { id: "7f-1".to_owned(), log }.into_status(4096);
        assert!(!status.message().contains("frame.rs"));
        assert!(status.message().contains("7f-1"));
    }
}
