//! `check.proto`: what is asked about a project.

use fishplate_mounts::describe::Project;
use fishplate_proto::v1;

use super::Reader;
pub(crate) use super::project::project as described;
use crate::path::Path;

/// A project to check.
#[derive(Debug)]
pub(crate) struct Asked {
    pub(crate) project: Project,
    pub(crate) with_derivations: bool,
    pub(crate) with_scene: bool,
    /// Whether the plate level is asked for.
    pub(crate) plates: bool,
}

/// A row to explain.
#[derive(Debug)]
pub(crate) struct Explain {
    pub(crate) project: Project,
    pub(crate) row: String,
    /// The case; the governing one where none.
    pub(crate) case: Option<String>,
    /// Whether the plate level is asked for.
    pub(crate) plates: bool,
}

/// Reads a request to check that stands at `path`.
pub(crate) fn check(
    reader: &mut Reader,
    path: &Path<'_>,
    request: v1::CheckProjectRequest,
) -> Option<Asked> {
    let plates = request.depth() == v1::Depth::Plate;
    let v1::CheckProjectRequest { project: given, with_derivations, with_scene, depth: _ } =
        request;
    let project = required(reader, path, given)?;
    Some(Asked { project, with_derivations, with_scene, plates })
}

/// Reads a request to check and to tell on the way.
pub(crate) fn check_telling(
    reader: &mut Reader,
    request: v1::CheckProjectWithProgressRequest,
) -> Option<Asked> {
    let v1::CheckProjectWithProgressRequest { check: given } = request;
    let path = Path::ROOT.field("check");
    let given = reader.required(&path, given)?;
    check(reader, &path, given)
}

/// Reads a request to explain.
pub(crate) fn explain(reader: &mut Reader, request: v1::ExplainRowRequest) -> Option<Explain> {
    let plates = request.depth() == v1::Depth::Plate;
    let v1::ExplainRowRequest { project: given, row_id, case_name, depth: _ } = request;
    let project = required(reader, &Path::ROOT, given);
    if row_id.is_empty() {
        let allowed = "the number of a row of the answer, as `FL-2`";
        reader.refuse(&Path::ROOT.field("row_id"), "nothing", allowed, "");
    }
    let case = Some(case_name).filter(|name| !name.is_empty());
    Some(Explain { project: project?, row: row_id, case, plates })
}

fn required(
    reader: &mut Reader,
    request: &Path<'_>,
    given: Option<v1::Project>,
) -> Option<Project> {
    let path = request.field("project");
    let given = reader.required(&path, given)?;
    described(reader, &path, given)
}
