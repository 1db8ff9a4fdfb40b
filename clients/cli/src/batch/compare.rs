//! What became of each mount since a state was accepted.

use std::collections::BTreeSet;

use fishplate_proto::v1::{
    BatchMount, BatchProject, BatchProjectReport, BatchReport, Change, CheckKind, Depth,
    MountChange, Row, State, Verdict,
};

/// A utilisation that moves by less is told as it was: it has two decimals.
const MOVED: f64 = 0.005;

/// What a batch amounts to. `projects` are today's, with their faults; `accepted` those of the
/// accepted state, where there is one; `whole` where projects that are not there are gone.
pub(crate) fn report(
    projects: &[BatchProject],
    accepted: Option<&[BatchProject]>,
    (whole, depth): (bool, Depth),
) -> BatchReport {
    let mut report =
        BatchReport { compared: accepted.is_some(), depth: depth.into(), ..Default::default() };
    for project in projects {
        let before = accepted.and_then(|all| all.iter().find(|one| one.name == project.name));
        let own = project.mounts.iter().filter(|mount| !mount.mount_id.is_empty());
        for mount in own {
            let count = if mount.known { &mut report.known } else { &mut report.computed };
            *count += 1;
        }
        report.projects.push(BatchProjectReport {
            name: project.name.clone(),
            verdict: verdict(project).into(),
            faults: project.faults.clone(),
            mounts: changes(project, before),
        });
    }
    let gone = accepted.into_iter().flatten().filter(|_| whole);
    for before in gone.filter(|one| projects.iter().all(|project| project.name != one.name)) {
        report.projects.push(BatchProjectReport {
            name: before.name.clone(),
            mounts: before.mounts.iter().map(gone_mount).collect(),
            ..Default::default()
        });
    }
    report.projects.sort_by(|a, b| a.name.cmp(&b.name));
    report
}

/// The worst verdict of what was found of a project; none where it cannot be checked.
fn verdict(project: &BatchProject) -> Verdict {
    if !project.faults.is_empty() {
        return Verdict::Unspecified;
    }
    let worst = project.mounts.iter().map(BatchMount::verdict).max_by_key(|verdict| rank(*verdict));
    worst.unwrap_or(Verdict::Unspecified)
}

/// How bad a verdict is.
fn rank(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::Unspecified => 0,
        Verdict::Holds => 1,
        Verdict::Provisional => 2,
        Verdict::DoesNotHold => 3,
    }
}

fn changes(project: &BatchProject, before: Option<&BatchProject>) -> Vec<MountChange> {
    if !project.faults.is_empty() {
        return Vec::new();
    }
    let of = |mount: &BatchMount| {
        before.and_then(|b| b.mounts.iter().find(|one| one.mount_id == mount.mount_id))
    };
    let mut told: Vec<_> = project.mounts.iter().map(|mount| changed(mount, of(mount))).collect();
    let gone = before.into_iter().flat_map(|before| &before.mounts);
    let gone = gone.filter(|one| project.mounts.iter().all(|mount| mount.mount_id != one.mount_id));
    told.extend(gone.map(gone_mount));
    told
}

fn changed(now: &BatchMount, before: Option<&BatchMount>) -> MountChange {
    let mut told = plain(now);
    let Some(before) = before else {
        told.set_change(Change::New);
        return told;
    };
    let highest = governing(before).and_then(|row| row.utilisation);
    let (fails, failed) = (exceeding(now), exceeding(before));
    told.accepted_utilisation = highest;
    told.set_accepted_verdict(before.verdict());
    told.newly_exceeding =
        fails.difference(&failed).map(|(component, what)| format!("{component}: {what}")).collect();
    let moved = match (told.utilisation, highest) {
        (Some(now), Some(before)) => now - before,
        _ => 0.0,
    };
    let worse = rank(now.verdict()).cmp(&rank(before.verdict()));
    told.set_change(if !fails.is_empty() && failed.is_empty() {
        Change::NewlyFails
    } else if worse.is_gt() || !told.newly_exceeding.is_empty() || moved > MOVED {
        Change::Worse
    } else if worse.is_lt() || fails.len() < failed.len() || moved < -MOVED {
        Change::Better
    } else {
        Change::Unchanged
    });
    told
}

fn gone_mount(before: &BatchMount) -> MountChange {
    let mut told = plain(before);
    told.accepted_utilisation = told.utilisation.take();
    told.set_accepted_verdict(before.verdict());
    told.set_change(Change::Gone);
    told
}

/// A mount by itself.
fn plain(mount: &BatchMount) -> MountChange {
    let mut told = MountChange {
        mount_id: mount.mount_id.clone(),
        mount_name: mount.mount_name.clone(),
        verdict: mount.verdict,
        fingerprint: mount.fingerprint.clone(),
        ..Default::default()
    };
    if let Some(row) = governing(mount) {
        told.utilisation = row.utilisation;
        told.component.clone_from(&row.component);
        told.what = short(row).to_owned();
        told.case_name.clone_from(&row.case_name);
    }
    told
}

fn short(row: &Row) -> &str {
    if row.short_what.is_empty() { &row.what } else { &row.short_what }
}

/// The row of strength or in service with the highest utilisation; the first of several.
fn governing(mount: &BatchMount) -> Option<&Row> {
    let rows = mount.rows.iter().filter(|row| row.kind() != CheckKind::Detailing);
    let used = rows.filter_map(|row| Some((row.utilisation?, row)));
    used.reduce(|a, b| if b.0 > a.0 { b } else { a }).map(|(_, row)| row)
}

/// Rows that exceed: part or joint, and what is checked.
fn exceeding(mount: &BatchMount) -> BTreeSet<(&str, &str)> {
    let rows = mount.rows.iter().filter(|row| row.state() == State::Exceeds);
    rows.map(|row| (row.component.as_str(), short(row))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mount(id: &str, uses: &[(&str, f64)]) -> BatchMount {
        let state = |u: f64| if u > 1.0 { State::Exceeds } else { State::Holds };
        let rows = uses.iter().map(|(what, u)| Row {
            what: (*what).to_owned(),
            utilisation: Some(*u),
            state: state(*u).into(),
            ..Row::default()
        });
        let fails = uses.iter().any(|(_, u)| *u > 1.0);
        let verdict = if fails { Verdict::DoesNotHold } else { Verdict::Holds };
        BatchMount {
            mount_id: id.to_owned(),
            rows: rows.collect(),
            verdict: verdict.into(),
            ..BatchMount::default()
        }
    }

    fn project(name: &str, mounts: Vec<BatchMount>) -> BatchProject {
        BatchProject { name: name.to_owned(), mounts, ..BatchProject::default() }
    }

    /// Each line: what a mount had, what it has, what is to be said of it.
    #[test]
    fn a_mount_is_told_by_what_became_of_it() {
        for (before, now, change) in [
            (&[("a", 0.9)][..], &[("a", 1.1)][..], Change::NewlyFails),
            (&[("a", 0.9)], &[("a", 0.95)], Change::Worse),
            (&[("a", 0.9)], &[("a", 0.904)], Change::Unchanged),
            (&[("a", 0.9)], &[("a", 0.85)], Change::Better),
            (&[("a", 1.2)], &[("a", 0.95)], Change::Better),
            (&[("a", 1.2)], &[("a", 1.2)], Change::Unchanged),
            // Another row exceeds though the highest stays.
            (&[("a", 1.2), ("b", 0.9)], &[("a", 1.2), ("b", 1.1)], Change::Worse),
            (&[("a", 1.2), ("b", 1.1)], &[("a", 1.2), ("b", 0.9)], Change::Better),
        ] {
            let (before, now) = (mount("FL", before), mount("FL", now));
            let accepted = [project("van", vec![before])];
            let today = [project("van", vec![now.clone()])];
            let report = report(&today, Some(&accepted), (true, Depth::Frame));
            assert_eq!(report.projects[0].mounts[0].change(), change, "{now:?}");
        }
    }

    #[test]
    fn what_is_new_and_what_is_gone_is_told() {
        let accepted = [
            project("a", vec![mount("FL", &[("a", 0.5)]), mount("FR", &[("a", 0.5)])]),
            project("old", vec![mount("FL", &[("a", 0.5)])]),
        ];
        let today = [
            project("a", vec![mount("FL", &[("a", 0.5)])]),
            project("new", vec![mount("FL", &[])]),
        ];
        let told = |whole| {
            let report = report(&today, Some(&accepted), (whole, Depth::Frame));
            let mounts = report.projects.iter().flat_map(|p| {
                p.mounts.iter().map(|m| (p.name.clone(), m.mount_id.clone(), m.change()))
            });
            mounts.map(|(p, m, c)| (format!("{p} {m}"), c)).collect::<Vec<_>>()
        };
        let known = [("a FL", Change::Unchanged), ("a FR", Change::Gone), ("new FL", Change::New)];
        let known = known.map(|(name, change)| (name.to_owned(), change));
        assert_eq!(told(false), known);
        assert_eq!(told(true), [&known[..], &[("old FL".to_owned(), Change::Gone)]].concat());
        assert!(
            report(&today, None, (true, Depth::Frame)).projects[0].mounts[0].change()
                == Change::New
        );
    }
}
