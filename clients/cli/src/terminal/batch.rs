//! A batch beside the state that was accepted last: what changed, worst first.

use fishplate_proto::v1::{BatchProjectReport, BatchReport, Change, MountChange, Verdict};

use super::batch_words as words;
use super::page::{EXCEEDS, HOLDS, Look, NOT_CHECKED, Page, fit, paint, right};

/// What is told of a batch.
pub(crate) struct Told<'a> {
    /// What to type to ask again: the paths as they were given.
    pub(crate) given: &'a str,
    /// Whether every mount is listed.
    pub(crate) all: bool,
    /// Whether this state was made the accepted one.
    pub(crate) accepted: bool,
}

/// Changes that are listed, in this order.
const LISTED: [Change; 5] =
    [Change::NewlyFails, Change::Worse, Change::Better, Change::New, Change::Gone];

/// The report as text with colours.
pub(crate) fn batch(report: &BatchReport, told: &Told<'_>, look: Look) -> String {
    let mut page = Page::new(look);
    head(&mut page, report);
    page.blank();
    for project in report.projects.iter().filter(|project| !project.faults.is_empty()) {
        faults(&mut page, project);
    }
    if report.compared {
        for change in LISTED {
            group(&mut page, report, words::change(change), |mount| mount.change() == change);
        }
    } else if !told.all {
        group(&mut page, report, "does not hold", |mount| mount.verdict() == Verdict::DoesNotHold);
    }
    if told.all {
        let rest = |mount: &MountChange| !report.compared || mount.change() == Change::Unchanged;
        group(&mut page, report, if report.compared { "unchanged" } else { "all" }, rest);
    }
    foot(&mut page, report, told);
    page.finish()
}

fn mounts(report: &BatchReport) -> impl Iterator<Item = (&BatchProjectReport, &MountChange)> {
    report.projects.iter().flat_map(|project| project.mounts.iter().map(move |m| (project, m)))
}

/// Mounts alone: what belongs to none is told, but not counted as one.
fn count(report: &BatchReport, which: impl Fn(&MountChange) -> bool) -> usize {
    mounts(report).filter(|(_, mount)| !mount.mount_id.is_empty() && which(mount)).count()
}

fn head(page: &mut Page, report: &BatchReport) {
    let any = |verdict| report.projects.iter().any(|project| project.verdict() == verdict);
    let faulty = report.projects.iter().filter(|project| !project.faults.is_empty()).count();
    let (style, word) = if any(Verdict::DoesNotHold) {
        (EXCEEDS, "DOES NOT HOLD")
    } else if faulty > 0 {
        (EXCEEDS, "CANNOT CHECK ALL")
    } else if any(Verdict::Provisional) {
        (NOT_CHECKED, "PROVISIONAL")
    } else {
        (HOLDS, "HOLDS")
    };
    let there = |mount: &MountChange| mount.change() != Change::Gone;
    let projects = report
        .projects
        .iter()
        .filter(|project| project.mounts.iter().any(there) || !project.faults.is_empty())
        .count();
    page.line(&format!(
        "{}   {}, {}",
        paint(style, word),
        plural(projects, "project"),
        plural(count(report, there), "mount")
    ));
    let fail = count(report, |mount| there(mount) && mount.verdict() == Verdict::DoesNotHold);
    let mut counts: Vec<String> = Vec::new();
    if report.compared {
        for change in LISTED.into_iter().chain([Change::Unchanged]) {
            let many = count(report, |mount| mount.change() == change);
            let verb = match (change, many) {
                (_, 0) => continue,
                (Change::NewlyFails, 2..) => "newly fail",
                _ => words::change(change),
            };
            counts.push(format!("{many} {verb}"));
        }
        counts.push(format!("in all {fail} {} not hold", if fail == 1 { "does" } else { "do" }));
    } else {
        counts.push(format!("{fail} {} not hold", if fail == 1 { "does" } else { "do" }));
    }
    if faulty > 0 {
        counts.push(format!("{} cannot be checked", plural(faulty, "project")));
    }
    page.wrapped("", 0, &(counts.join(", ") + "."));
}

fn faults(page: &mut Page, project: &BatchProjectReport) {
    /// Faults of one project that are told.
    const SHOWN: usize = 5;
    page.line(&format!("Cannot be checked: {}", page.look().text(&project.name)));
    for fault in project.faults.iter().take(SHOWN) {
        page.wrapped("  ", 4, &words::fault(fault));
    }
    if project.faults.len() > SHOWN {
        page.line(&format!("  and {} more", project.faults.len() - SHOWN));
    }
    page.blank();
}

/// Columns of a list of mounts beside what is checked.
const USE: usize = 6;
const MOUNT: usize = 6;
const CASE: usize = 6;
/// Room for the name of a project: at least that of a title, such as `does not hold`.
const LEAST: usize = 13;
/// Room for what is checked: beyond it the case would stand too far off.
const MOST: usize = 76;

/// The mounts that `which` picks, the highest utilisation first.
fn group(page: &mut Page, report: &BatchReport, title: &str, which: impl Fn(&MountChange) -> bool) {
    let mut listed: Vec<_> = mounts(report).filter(|(_, mount)| which(mount)).collect();
    if listed.is_empty() {
        return;
    }
    let most = |mount: &MountChange| mount.utilisation.or(mount.accepted_utilisation);
    // Equal ones stay in the order of their projects.
    listed.sort_by(|(_, a), (_, b)| {
        most(b).unwrap_or_default().total_cmp(&most(a).unwrap_or_default())
    });
    let look = page.look();
    let was = if report.compared { USE + 1 } else { 0 };
    // The same columns for all lists.
    let longest = mounts(report).map(|(project, _)| project.name.chars().count());
    let longest = longest.fold(LEAST, usize::max);
    let project = longest.clamp(LEAST, if look.is_wide() { 40 } else { 20 }) + 1;
    let what = (look.width() - project - MOUNT - USE - was - 2 - CASE).min(MOST);
    let mut head = format!("{}{}", fit(look, title, project), fit(look, "mount", MOUNT));
    head.push_str(&right("use", USE));
    if report.compared {
        head.push_str(&right("was", was));
    }
    page.line(&format!("{head}  {}case", fit(look, "part and check", what)));
    for (of, mount) in listed {
        let id = if mount.mount_id.is_empty() { "rest" } else { &mount.mount_id };
        let mut line = format!("{} {}", fit(look, &of.name, project - 1), fit(look, id, MOUNT));
        let used = right(&words::used(mount.utilisation), USE);
        let style = match mount.verdict() {
            Verdict::DoesNotHold => EXCEEDS,
            Verdict::Holds => HOLDS,
            Verdict::Provisional | Verdict::Unspecified => NOT_CHECKED,
        };
        line.push_str(&paint(style, &used));
        if report.compared {
            line.push_str(&right(&words::used(mount.accepted_utilisation), was));
        }
        let component = mount.component.strip_prefix("part.").unwrap_or(&mount.component);
        let check = match (look.is_wide(), mount.what.is_empty()) {
            (_, true) => String::new(),
            (true, false) => format!("{component}: {}", mount.what),
            (false, false) => mount.what.clone(),
        };
        line.push_str(&format!("  {}{}", fit(look, &check, what), look.text(&mount.case_name)));
        page.line(&line);
        for row in &mount.newly_exceeding {
            let newly = if mount.change() == Change::NewlyFails && mount.newly_exceeding.len() == 1
            {
                continue;
            } else {
                format!("now exceeds: {row}")
            };
            page.wrapped(&" ".repeat(project), project + 2, &newly);
        }
    }
    page.blank();
}

fn foot(page: &mut Page, report: &BatchReport, told: &Told<'_>) {
    let (computed, known) = (report.computed, report.known);
    page.wrapped("", 2, &format!("Mounts computed {computed}, known from before {known}."));
    let given = page.look().text(told.given);
    if told.accepted {
        page.line("This state is now the accepted one.");
    } else if !report.compared {
        page.wrapped("", 2, "No state was accepted yet: there is nothing to compare with.");
        page.line(&format!("Accept this one: fishplate batch {given} --accept"));
    } else if count(report, |mount| mount.change() != Change::Unchanged) > 0 {
        page.line(&format!("Accept this state: fishplate batch {given} --accept"));
    }
}

/// `1 mount`, `3 mounts`.
fn plural(many: usize, thing: &str) -> String {
    format!("{many} {thing}{}", if many == 1 { "" } else { "s" })
}

#[cfg(test)]
#[path = "batch_tests.rs"]
mod tests;
