//! What designs have in common: joints by name, checks by what they are about.

use super::{Compared, counts};
use crate::answer::{Answer, Row};
use crate::study::bill::WeldLine;

/// A weld in every design.
#[derive(Debug, Clone, PartialEq)]
pub struct JointAcross {
    /// Its name without side.
    pub name: String,
    /// Its line in the bill of each design; none where a design has no such joint.
    pub lines: Vec<Option<WeldLine>>,
}

/// A kind of check at one mount in every design.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckAcross {
    /// The mount; empty for the whole.
    pub mount: String,
    /// Kind of component: `bolt`, `weld`, `part`, `rail`, `bush`.
    pub kind: String,
    /// What is checked, short.
    pub what: String,
    /// The worst row of each design; none where it has none that was checked.
    pub used: Vec<Option<Used>>,
}

/// A row and how far it is used.
#[derive(Debug, Clone, PartialEq)]
pub struct Used {
    /// Its number: `FL-3`.
    pub row: String,
    /// Demand over resistance.
    pub utilisation: f64,
    /// Its governing case, by place; none for a check without loads.
    pub case: Option<usize>,
}

/// The worst of some rows; the first of equal ones.
pub(super) fn worst<'r>(rows: impl Iterator<Item = &'r Row>) -> Option<Used> {
    rows.filter_map(|row| {
        let governing = row.governing()?;
        Some(Used { row: row.id.clone(), utilisation: governing.utilisation, case: governing.case })
    })
    .reduce(|a, b| if b.utilisation > a.utilisation { b } else { a })
}

/// Every weld that any design has, in the order of the first that has it.
pub(super) fn joints(designs: &[Compared]) -> Vec<JointAcross> {
    let mut names: Vec<&str> = Vec::new();
    for line in designs.iter().flat_map(|design| &design.bill.welds) {
        if !names.contains(&line.name.as_str()) {
            names.push(&line.name);
        }
    }
    let line = |design: &Compared, name: &str| {
        design.bill.welds.iter().find(|line| line.name == name).cloned()
    };
    names
        .into_iter()
        .map(|name| JointAcross {
            name: name.to_owned(),
            lines: designs.iter().map(|design| line(design, name)).collect(),
        })
        .collect()
}

/// What two rows of different designs have in common.
#[derive(PartialEq)]
struct Key {
    mount: String,
    kind: String,
    what: String,
}

impl Key {
    fn of(answer: &Answer, row: &Row) -> Self {
        let mount = row.mount.and_then(|at| answer.mounts.get(at));
        let kind = row.component.split(['.', ' ']).next().unwrap_or_default();
        Self {
            mount: mount.map_or(String::new(), |mount| mount.id.clone()),
            kind: kind.to_owned(),
            what: without_size(&row.short),
        }
    }
}

/// What is checked without the size of it: `rail web 2.2 mm: wall bending` is that of any web.
fn without_size(short: &str) -> String {
    let words: Vec<&str> = short.split(' ').collect();
    let mut kept = String::new();
    let mut at = 0;
    while at < words.len() {
        let number = words[at].parse::<f64>().is_ok();
        let unit = words.get(at + 1).map(|word| word.trim_end_matches([':', ',']));
        if number && unit == Some("mm") {
            kept.push_str(words[at + 1].trim_start_matches("mm"));
            at += 2;
            continue;
        }
        if !kept.is_empty() {
            kept.push(' ');
        }
        kept.push_str(words[at]);
        at += 1;
    }
    kept
}

/// The worst of every kind of check at every mount, in the order of the first design that has it.
pub(super) fn checks(designs: &[Compared]) -> Vec<CheckAcross> {
    let rows = |design: &Compared| -> Vec<(Key, Row)> {
        let answer = &design.answer;
        answer
            .rows
            .iter()
            .filter(|row| counts(row))
            .map(|row| (Key::of(answer, row), row.clone()))
            .collect()
    };
    let all: Vec<Vec<(Key, Row)>> = designs.iter().map(rows).collect();
    let mut keys: Vec<&Key> = Vec::new();
    for (key, _) in all.iter().flatten() {
        if !keys.contains(&key) {
            keys.push(key);
        }
    }
    keys.into_iter()
        .map(|key| CheckAcross {
            mount: key.mount.clone(),
            kind: key.kind.clone(),
            what: key.what.clone(),
            used: all
                .iter()
                .map(|rows| worst(rows.iter().filter(|(k, _)| k == key).map(|(_, row)| row)))
                .collect(),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::without_size;

    #[test]
    fn a_size_is_no_part_of_what_is_checked() {
        assert_eq!(without_size("rail web 2.2 mm: wall bending"), "rail web: wall bending");
        assert_eq!(without_size("weld: throat"), "weld: throat");
    }
}
