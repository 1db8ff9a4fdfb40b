//! `guesses.proto`: what is asked about the guesses of a project.

use fishplate_mounts::describe::Project;
use fishplate_proto::v1;

use crate::from_proto::Reader;
use crate::from_proto::project::project;
use crate::limits::POINTS;
use crate::path::Path;

/// The guesses of a project to rank.
#[derive(Debug)]
pub(crate) struct Asked {
    pub(crate) project: Project,
    /// The row to follow; whichever governs where none.
    pub(crate) row: Option<String>,
    /// The case to follow it in; whichever governs where none.
    pub(crate) case: Option<String>,
    /// Points over all spreads.
    pub(crate) points: usize,
    /// Whether a guess without a spread gets the usual one.
    pub(crate) assume: bool,
}

/// Reads a request to rank guesses.
pub(crate) fn rank(reader: &mut Reader, request: v1::RankGuessesRequest) -> Option<Asked> {
    let v1::RankGuessesRequest { project: given, row_id, case_name, points, assume_spreads } =
        request;
    let path = Path::ROOT.field("project");
    let given = reader.required(&path, given);
    let read = given.and_then(|given| project(reader, &path, given));
    let points = usize::try_from(points).unwrap_or(usize::MAX);
    let mut sound = true;
    if points > POINTS {
        let allowed = format!("at most {POINTS}");
        reader.refuse(&Path::ROOT.field("points"), points.to_string(), allowed, "");
        sound = false;
    }
    if row_id.is_empty() && !case_name.is_empty() {
        let allowed = "a row beside it";
        let advice = "without a row the governing one is followed in all cases";
        reader.refuse(&Path::ROOT.field("case_name"), format!("`{case_name}`"), allowed, advice);
        sound = false;
    }
    let named = |name: String| Some(name).filter(|name| !name.is_empty());
    let asked = Asked {
        project: read?,
        row: named(row_id),
        case: named(case_name),
        points,
        assume: assume_spreads,
    };
    sound.then_some(asked)
}
