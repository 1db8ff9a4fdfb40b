//! One project with some of its numbers changed, against the rows of the project as it stands.

use std::collections::BTreeMap;

use crate::answer::{Answer, Row, RowKind};
use crate::describe::Project;
use crate::study::screen::{Prepared, Scope};
use crate::{Cancel, CheckError, known};

/// A row by what it is about: numbers of rows move when a row comes or goes.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Key {
    mount: Option<usize>,
    component: String,
    /// What is checked, short, without its sizes.
    short: String,
    /// Which of several alike.
    nth: usize,
}

/// A row of the project as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct RowName {
    /// Its number: `FL-2`.
    pub id: String,
    /// The part or joint.
    pub component: String,
    /// What is checked, short.
    pub what: String,
    /// Its utilisation as the project stands; none where it was not checked.
    pub utilisation: Option<f64>,
}

impl RowName {
    /// The name of `row`.
    pub(crate) fn of(row: &Row) -> Self {
        Self {
            id: row.id.clone(),
            component: row.component.clone(),
            what: row.short.clone(),
            utilisation: row.governing().map(|g| g.utilisation),
        }
    }
}

/// The number that a study follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Target {
    /// The highest utilisation of all rows.
    Highest,
    /// A row by place, in its governing case or in one.
    Row(usize, Option<usize>),
}

/// What came out of a trial.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Outcome {
    /// The highest utilisation and its row.
    pub(crate) highest: Option<(f64, String)>,
    /// Utilisation of each row of the project as it stands.
    pub(crate) rows: Vec<Option<f64>>,
    /// The number that the study follows, and its row.
    pub(crate) followed: Option<(f64, String)>,
}

/// The project as it stands, ready for trials.
#[derive(Debug)]
pub(crate) struct Bench<'a> {
    project: &'a Project,
    prepared: Prepared,
    keys: Vec<Key>,
    /// Its rows, without rules of detailing.
    pub(crate) rows: Vec<RowName>,
    /// What is followed.
    pub(crate) target: Target,
}

impl<'a> Bench<'a> {
    /// A bench for `project`, whose unknown steels are named, and its answer.
    ///
    /// # Errors
    /// As a check.
    pub(crate) fn new(project: &'a Project, answer: &Answer) -> Result<Self, CheckError> {
        let rows = counted(&answer.rows);
        Ok(Self {
            project,
            prepared: Prepared::of(project)?,
            keys: keys(&rows),
            rows: rows.iter().map(|r| RowName::of(r)).collect(),
            target: Target::Highest,
        })
    }

    /// Follows a row, in one case or in whichever governs.
    ///
    /// # Errors
    /// A row or case that is not there.
    pub(crate) fn follow(
        &mut self,
        answer: &Answer,
        row: &str,
        case: Option<&str>,
    ) -> Result<(), CheckError> {
        let at = self.rows.iter().position(|r| r.id == row).ok_or_else(|| {
            let known = self.rows.iter().map(|r| r.id.as_str()).collect::<Vec<_>>().join(", ");
            CheckError::NoSuchRow { asked: format!("row {row}"), known }
        })?;
        let case = match case {
            None => None,
            Some(name) => {
                let found = answer.cases.iter().position(|c| c.name == name);
                Some(found.ok_or_else(|| CheckError::NoSuchRow {
                    asked: format!("case {name}"),
                    known:
                        answer.cases.iter().map(|c| c.name.as_str()).collect::<Vec<_>>().join(", "),
                })?)
            }
        };
        self.target = Target::Row(at, case);
        Ok(())
    }

    /// What comes out as the project stands.
    pub(crate) fn as_it_stands(&self, answer: &Answer) -> Outcome {
        self.read(&answer.rows)
    }

    /// What comes out with these values in SI at these paths; nothing where such a project has no
    /// answer.
    ///
    /// # Errors
    /// A caller who does not wait any more.
    pub(crate) fn with(
        &self,
        values: &BTreeMap<&str, f64>,
        cancel: &dyn Cancel,
    ) -> Result<Option<Outcome>, CheckError> {
        let mut trial = self.project.clone();
        known::each(&mut trial, &mut |mut k| {
            if let Some(value) = values.get(k.path.as_str()) {
                k.slot.set(*value);
            }
        });
        self.of(&trial, cancel)
    }

    /// What comes out of a changed project; nothing where it has no answer.
    ///
    /// # Errors
    /// A caller who does not wait any more.
    pub(crate) fn of(
        &self,
        trial: &Project,
        cancel: &dyn Cancel,
    ) -> Result<Option<Outcome>, CheckError> {
        match self.prepared.rows(trial, &Scope::everything(), cancel) {
            Ok(rows) => Ok(Some(self.read(&rows))),
            Err(CheckError::Cancelled) => Err(CheckError::Cancelled),
            Err(_) => Ok(None),
        }
    }

    fn read(&self, all: &[Row]) -> Outcome {
        let rows = counted(all);
        let places = self.places(&keys(&rows));
        let used = |row: &Row| row.governing().map(|g| g.utilisation);
        let highest = rows
            .iter()
            .filter_map(|r| used(r).map(|u| (u, r.id.clone())))
            .reduce(|a, b| if b.0 > a.0 { b } else { a });
        let found = |at: usize| places[at].map(|place| rows[place]);
        let followed = match self.target {
            Target::Highest => highest.clone(),
            Target::Row(at, case) => found(at).and_then(|row| {
                let u = match case {
                    None => used(row),
                    Some(case) => row.by_case.get(case).copied(),
                };
                u.map(|u| (u, row.id.clone()))
            }),
        };
        let by_row = (0..self.rows.len()).map(|at| found(at).and_then(used)).collect();
        Outcome { highest, rows: by_row, followed }
    }

    /// Where each row of the project as it stands is among the rows of a trial.
    fn places(&self, there: &[Key]) -> Vec<Option<usize>> {
        if self.keys == there {
            return (0..there.len()).map(Some).collect();
        }
        self.keys.iter().map(|key| there.iter().position(|k| k == key)).collect()
    }
}

/// Rows of two answers about the same, in the order of the first, then those that are new; without
/// rules of detailing.
pub(crate) fn paired<'r>(was: &'r [Row], is: &'r [Row]) -> Vec<(Option<&'r Row>, Option<&'r Row>)> {
    let (was, is) = (counted(was), counted(is));
    let (keys_was, keys_is) = (keys(&was), keys(&is));
    let mut pairs: Vec<(Option<&Row>, Option<&Row>)> = Vec::new();
    for (row, key) in was.iter().zip(&keys_was) {
        let there = keys_is.iter().position(|k| k == key);
        pairs.push((Some(row), there.map(|at| is[at])));
    }
    for (row, key) in is.iter().zip(&keys_is) {
        if !keys_was.contains(key) {
            pairs.push((None, Some(row)));
        }
    }
    pairs
}

fn counted(rows: &[Row]) -> Vec<&Row> {
    rows.iter().filter(|r| r.kind != RowKind::Detailing).collect()
}

fn keys(rows: &[&Row]) -> Vec<Key> {
    let mut keys: Vec<Key> = Vec::new();
    for row in rows {
        // A size in the words of a row is what a trial may change: it does not make another row.
        let short: String =
            row.short.chars().filter(|c| !(c.is_ascii_digit() || *c == '.')).collect();
        let same =
            |k: &&Key| k.mount == row.mount && k.component == row.component && k.short == short;
        let nth = keys.iter().filter(same).count();
        keys.push(Key { mount: row.mount, component: row.component.clone(), short, nth });
    }
    keys
}
