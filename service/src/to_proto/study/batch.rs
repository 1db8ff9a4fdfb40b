//! `batch.proto`: what came of projects.

use fishplate_mounts::CheckError;
use fishplate_mounts::study::batch::{Found, New, Outcome, Part};
use fishplate_mounts::study::fingerprint::{Print, Prints};
use fishplate_proto::v1;
use fishplate_quantity::Fault;

use crate::errors::words;
use crate::to_proto::check::{Names, row, verdict_of};

/// Tells projects one after the other and counts.
#[derive(Debug, Default)]
pub(crate) struct Batch {
    done: v1::BatchDone,
}

impl Batch {
    /// What came of a project; `faults` is why it was not looked at, where it was not.
    pub(crate) fn project(
        &mut self,
        name: &str,
        faults: Vec<Fault>,
        outcome: Outcome,
    ) -> v1::BatchProject {
        let mut told = v1::BatchProject { name: name.to_owned(), ..Default::default() };
        match outcome {
            None => told.faults = faults.iter().map(fault).collect(),
            Some(Err(CheckError::Faults(found))) => {
                told.faults = found.iter().map(fault).collect();
            }
            Some(Err(why)) => {
                told.faults = vec![v1::BatchFault { what: why.to_string(), ..Default::default() }];
            }
            Some(Ok(found)) => told.mounts = self.mounts(found),
        }
        self.done.faulty += i32::from(!told.faults.is_empty());
        told
    }

    /// The end.
    pub(crate) fn done(&self) -> v1::BatchDone {
        self.done
    }

    fn mounts(&mut self, found: Found) -> Vec<v1::BatchMount> {
        let Found { prints: Prints { mounts, whole }, new } = found;
        let mut told: Vec<v1::BatchMount> = mounts
            .into_iter()
            .map(|Print { id, name, hash }| v1::BatchMount {
                mount_id: id,
                mount_name: name,
                fingerprint: hash,
                known: true,
                ..Default::default()
            })
            .collect();
        told.push(v1::BatchMount { fingerprint: whole, known: true, ..Default::default() });
        let last = told.len() - 1;
        if let Some(New { parts, mounts, cases }) = new {
            let names = Names::of(&mounts, &cases);
            for Part { mount, verdict, open, rows } in parts {
                let into = &mut told[mount.unwrap_or(last)];
                into.known = false;
                into.verdict = verdict_of(verdict).into();
                into.open_reasons = open;
                into.rows = rows.into_iter().map(|found| row(&names, found)).collect();
            }
        }
        for mount in &told[..last] {
            let count = if mount.known { &mut self.done.known } else { &mut self.done.computed };
            *count += 1;
        }
        told
    }
}

fn fault(fault: &Fault) -> v1::BatchFault {
    let place = String::new();
    v1::BatchFault { field_path: fault.path.clone(), what: words(fault), place }
}
