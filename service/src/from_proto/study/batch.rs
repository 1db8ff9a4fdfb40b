//! `batch.proto`: projects to check again.

use std::collections::BTreeSet;

use fishplate_mounts::study::batch::Item;
use fishplate_proto::v1;
use fishplate_quantity::Fault;

use crate::from_proto::{Reader, check as single, merged};
use crate::path::Path;

/// A batch to check.
#[derive(Debug)]
pub(crate) struct Asked {
    pub(crate) items: Vec<Item>,
    /// Of each item, why it cannot be checked, paths counted from its project.
    pub(crate) faults: Vec<Vec<Fault>>,
    /// Whether the plate level is asked for.
    pub(crate) plates: bool,
}

/// Reads a batch: a project that cannot be read is left out with its faults.
pub(crate) fn check(reader: &mut Reader, request: v1::CheckBatchRequest) -> Option<Asked> {
    let plates = request.depth() == v1::Depth::Plate;
    let v1::CheckBatchRequest { items, depth: _ } = request;
    let mut asked = Asked { items: Vec::new(), faults: Vec::new(), plates };
    let mut names = BTreeSet::new();
    let mut sound = Some(());
    for (at, item) in items.into_iter().enumerate() {
        let v1::BatchItem { name, project, known_fingerprints } = item;
        let path = Path::ROOT.place("items", at);
        if name.is_empty() || !names.insert(name.clone()) {
            let allowed = "a name of its own for every project";
            reader.refuse(&path.field("name"), format!("`{name}`"), allowed, "");
            sound = None;
        }
        let mut own = Reader::default();
        let made = match own.required(&path.field("project"), project) {
            None => None,
            Some(project) => single::described(&mut own, &Path::ROOT, project),
        };
        let (faults, _) = own.into_faults();
        let project = made.filter(|_| faults.is_empty());
        asked.items.push(Item { name, project, known: known_fingerprints.into_iter().collect() });
        asked.faults.push(faults);
    }
    sound?;
    Some(asked)
}

/// Faults that the door found, by the item they belong to.
#[derive(Debug)]
pub(crate) struct Faults(Vec<Vec<Fault>>);

impl Faults {
    /// Takes those of the projects of `items` items out of `found`, paths counted from the project.
    pub(crate) fn taken(found: &mut Vec<Fault>, items: usize) -> Self {
        let mut own = vec![Vec::new(); items];
        let all = std::mem::take(found);
        for fault in all {
            match of_item(&fault.path).filter(|(at, _)| *at < items) {
                Some((at, path)) => own[at].push(Fault { path: path.to_owned(), ..fault }),
                None => found.push(fault),
            }
        }
        Self(own)
    }

    /// Leaves out the projects of items that have faults, and puts those before the faults that are
    /// known.
    pub(crate) fn passed_over(&mut self, items: Vec<Item>, known: &mut [Vec<Fault>]) -> Vec<Item> {
        let mut passed = Vec::new();
        for (at, item) in items.into_iter().enumerate() {
            let own = std::mem::take(&mut self.0[at]);
            let project = item.project.filter(|_| own.is_empty());
            known[at] = merged(own, std::mem::take(&mut known[at]));
            passed.push(Item { project, ..item });
        }
        passed
    }
}

/// The item of a path into a project, and the path from the project on.
fn of_item(path: &str) -> Option<(usize, &str)> {
    let (at, rest) = path.strip_prefix("items[")?.split_once(']')?;
    Some((at.parse().ok()?, rest.strip_prefix(".project.")?))
}
