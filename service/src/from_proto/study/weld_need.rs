//! `weld_need.proto`: a weld and the force it has to carry.

use fishplate_mounts::describe::Project;
use fishplate_proto::v1;

use crate::from_proto::Reader;
use crate::from_proto::project::project;
use crate::path::Path;

/// A weld of a project.
#[derive(Debug)]
pub(crate) struct Asked {
    pub(crate) project: Project,
    /// Its name.
    pub(crate) weld: String,
    /// The force, N; the largest that crosses it where none.
    pub(crate) force: Option<f64>,
}

/// Reads a request about a weld.
pub(crate) fn need(reader: &mut Reader, request: v1::NeedWeldRequest) -> Option<Asked> {
    let v1::NeedWeldRequest { project: given, weld, force_n } = request;
    let path = Path::ROOT.field("project");
    let given = reader.required(&path, given);
    let read = given.and_then(|given| project(reader, &path, given));
    let mut sound = true;
    if weld.is_empty() {
        let allowed = "a weld of the project: `weld.front-foot`";
        reader.refuse(&Path::ROOT.field("weld"), "nothing", allowed, "");
        sound = false;
    }
    if let Some(force) = force_n.filter(|force| *force <= 0.0) {
        reader.refuse(&Path::ROOT.field("force_n"), force.to_string(), "more than 0", "");
        sound = false;
    }
    let asked = Asked { project: read?, weld, force: force_n };
    sound.then_some(asked)
}
