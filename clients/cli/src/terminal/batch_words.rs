//! How a mount of a batch is told in words, whoever tells it.

use fishplate_proto::v1::{BatchFault, Change, MountChange};

use super::number::utilisation;

/// `FL, front left`; what belongs to no mount is the rest of the car.
pub(crate) fn name(mount: &MountChange) -> String {
    if mount.mount_id.is_empty() {
        "rest of the car".to_owned()
    } else {
        format!("{}, {}", mount.mount_id, mount.mount_name)
    }
}

/// What became of it.
pub(crate) fn change(change: Change) -> &'static str {
    match change {
        Change::NewlyFails => "newly fails",
        Change::Worse => "got worse",
        Change::Better => "got better",
        Change::New => "new",
        Change::Gone => "gone",
        Change::Unchanged | Change::Unspecified => "unchanged",
    }
}

/// A utilisation; a dash where there is none.
pub(crate) fn used(value: Option<f64>) -> String {
    value.map_or("-".to_owned(), |u| utilisation(u, u > 1.0))
}

/// `1.24 in P1, bolt.front-bush left: faces slip; was 0.97`.
pub(crate) fn mount(mount: &MountChange) -> String {
    let mut said = used(mount.utilisation);
    if !mount.case_name.is_empty() {
        said.push_str(&format!(" in {}", mount.case_name));
    }
    if !mount.what.is_empty() {
        said.push_str(&format!(", {}: {}", mount.component, mount.what));
    }
    if mount.accepted_utilisation.is_some() {
        said.push_str(&format!("; was {}", used(mount.accepted_utilisation)));
    }
    said
}

/// `car.toml, line 12: what is wrong`.
pub(crate) fn fault(fault: &BatchFault) -> String {
    let place = if fault.place.is_empty() { &fault.field_path } else { &fault.place };
    if place.is_empty() { fault.what.clone() } else { format!("{place}: {}", fault.what) }
}
