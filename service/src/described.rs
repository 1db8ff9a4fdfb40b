//! Projects as messages for programs that use the engine without a server: benches, tests.

use fishplate_mounts::describe::Project;
use fishplate_proto::v1;
use fishplate_quantity::Fault;

use crate::from_proto::{Reader, check};
use crate::path::Path;

/// What the message describes, its paths counted from the project.
///
/// The server's door, which keeps out what no request may hold, is not passed.
///
/// # Errors
/// Every fault of the message.
pub fn described(project: v1::Project) -> Result<Project, Vec<Fault>> {
    let mut reader = Reader::default();
    let made = check::described(&mut reader, &Path::ROOT, project);
    let (faults, _) = reader.into_faults();
    made.filter(|_| faults.is_empty()).ok_or(faults)
}
