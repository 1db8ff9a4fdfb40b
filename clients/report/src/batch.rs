//! The page of a batch: what became of the mounts of many projects since a state was accepted.

use askama::Template;
use fishplate_proto::v1::{BatchReport, Change, MountChange, Verdict};

use crate::names::css_text;
use crate::numbers::{self, NOT_FOUND};
use crate::page::{LEAST_CAUTION, STYLE};
use crate::state::State;
use crate::svg::marks::{badge, badge_and_word};
use crate::svg::strip::strip;

/// One self-contained HTML page of a batch; `about` names the folder or files. Worst comes first.
///
/// ```
/// use fishplate_proto::v1::{BatchProjectReport, BatchReport, Change, MountChange, Verdict};
///
/// let mount = MountChange {
///     mount_id: "FL".into(),
///     change: Change::NewlyFails.into(),
///     verdict: Verdict::DoesNotHold.into(),
///     utilisation: Some(1.24),
///     accepted_utilisation: Some(0.97),
///     ..Default::default()
/// };
/// let project = BatchProjectReport {
///     name: "van.toml".into(),
///     mounts: vec![mount],
///     verdict: Verdict::DoesNotHold.into(),
///     ..Default::default()
/// };
/// let report = BatchReport { projects: vec![project], compared: true, ..Default::default() };
/// let page = fishplate_report::batch_page(&report, "vans");
/// assert!(page.contains("1 mount newly fails") && page.contains("van.toml"));
/// ```
#[must_use]
pub fn batch_page(report: &BatchReport, about: &str) -> String {
    // Writing to a text cannot fail, and the template calls nothing that can.
    BatchPage::new(report, about).render().unwrap_or_else(|error| {
        crate::fault_page("No page", &[("batch".to_owned(), error.to_string())])
    })
}

#[derive(Template)]
#[template(path = "batch.html")]
struct BatchPage<'a> {
    about: &'a str,
    css_title: String,
    style: &'static str,
    mark: String,
    title: String,
    lead: String,
    faults: Vec<(String, String)>,
    groups: Vec<Group>,
    compared: bool,
    caution: &'static str,
    foot: String,
}

/// Mounts to which the same happened.
struct Group {
    id: &'static str,
    title: String,
    mounts: Vec<Line>,
}

/// A mount.
struct Line {
    project: String,
    mount: String,
    used: String,
    was: String,
    strip: String,
    state: String,
    what: String,
    case: String,
    newly: Vec<String>,
}

/// Groups in their order.
const GROUPS: [(Change, &str, &str); 6] = [
    (Change::NewlyFails, "newly-fails", "Newly fails"),
    (Change::Worse, "worse", "Got worse"),
    (Change::Better, "better", "Got better"),
    (Change::New, "new", "New"),
    (Change::Gone, "gone", "Gone"),
    (Change::Unchanged, "unchanged", "Unchanged"),
];

impl<'a> BatchPage<'a> {
    fn new(report: &BatchReport, about: &'a str) -> Self {
        let mut faults = Vec::new();
        for project in &report.projects {
            for fault in &project.faults {
                let place = [&fault.place, &fault.field_path];
                let place = place.into_iter().find(|text| !text.is_empty());
                let place = place.map_or(String::new(), |place| format!(", {place}"));
                faults.push((format!("{}{place}", project.name), fault.what.clone()));
            }
        }
        let groups: Vec<Group> = GROUPS
            .into_iter()
            .filter_map(|(change, id, title)| group(report, change, id, title))
            .collect();
        let (mark, title) = headline(report, !faults.is_empty());
        Self {
            about,
            css_title: css_text(about),
            style: STYLE,
            mark: badge(mark),
            title,
            lead: lead(report),
            faults,
            groups,
            compared: report.compared,
            caution: LEAST_CAUTION,
            foot: format!(
                "Mounts computed {}, known from before {}",
                report.computed, report.known
            ),
        }
    }
}

/// Mounts alone: what belongs to none is shown, but not counted as one.
fn count(report: &BatchReport, which: impl Fn(&MountChange) -> bool) -> usize {
    let mounts = report.projects.iter().flat_map(|project| &project.mounts);
    mounts.filter(|mount| !mount.mount_id.is_empty() && which(mount)).count()
}

/// `1 mount fails`, `3 mounts fail`.
fn mounts(many: usize, one: &str, several: &str) -> String {
    if many == 1 { format!("1 mount {one}") } else { format!("{many} mounts {several}") }
}

fn headline(report: &BatchReport, faulty: bool) -> (State, String) {
    let any = |verdict| report.projects.iter().any(|project| project.verdict() == verdict);
    let newly = count(report, |mount| mount.change() == Change::NewlyFails);
    let there = |mount: &MountChange| mount.change() != Change::Gone;
    let fail = count(report, |m| there(m) && m.verdict() == Verdict::DoesNotHold);
    if newly > 0 {
        (State::Exceeds, mounts(newly, "newly fails", "newly fail"))
    } else if fail > 0 {
        (State::Exceeds, mounts(fail, "does not hold", "do not hold"))
    } else if faulty {
        (State::NotChecked, "Not all projects can be checked".to_owned())
    } else if any(Verdict::DoesNotHold) {
        (State::Exceeds, "The rest of a car does not hold".to_owned())
    } else if any(Verdict::Provisional) {
        (State::NotChecked, "Provisional: what was checked holds".to_owned())
    } else {
        (State::Holds, "All mounts hold".to_owned())
    }
}

fn lead(report: &BatchReport) -> String {
    let there = |mount: &MountChange| mount.change() != Change::Gone;
    let fail = count(report, |m| there(m) && m.verdict() == Verdict::DoesNotHold);
    let mut parts = vec![
        mounts(count(report, there), "in all", "in all"),
        mounts(fail, "does not hold", "do not hold"),
    ];
    if report.compared {
        for (change, _, title) in GROUPS {
            let many = count(report, |mount| mount.change() == change);
            if many > 0 {
                let title = match (change, many) {
                    (Change::NewlyFails, 2..) => "newly fail".to_owned(),
                    _ => title.to_lowercase(),
                };
                parts.push(format!("{many} {title}"));
            }
        }
    } else {
        parts.push("no state was accepted yet to compare with".to_owned());
    }
    parts.join(", ") + "."
}

fn group(
    report: &BatchReport,
    change: Change,
    id: &'static str,
    title: &'static str,
) -> Option<Group> {
    let all = report.projects.iter().flat_map(|p| p.mounts.iter().map(move |m| (p, m)));
    let mut picked: Vec<_> = all.filter(|(_, mount)| mount.change() == change).collect();
    let most = |m: &MountChange| m.utilisation.or(m.accepted_utilisation).unwrap_or_default();
    picked.sort_by(|(_, a), (_, b)| most(b).total_cmp(&most(a)));
    let title = if report.compared { title } else { "Mounts" };
    let mounts: Vec<Line> =
        picked.into_iter().map(|(project, mount)| line(&project.name, mount)).collect();
    (!mounts.is_empty()).then(|| Group { id, title: title.to_owned(), mounts })
}

fn line(project: &str, mount: &MountChange) -> Line {
    let number = |u: Option<f64>| {
        u.map_or_else(|| NOT_FOUND.to_owned(), |u| numbers::utilisation(u, u > 1.0))
    };
    let state = match mount.verdict() {
        Verdict::DoesNotHold => State::Exceeds,
        Verdict::Holds => State::Holds,
        Verdict::Provisional | Verdict::Unspecified => State::NotChecked,
    };
    // A mount that is provisional still has a number: its strip is that of the number.
    let drawn = mount.utilisation.map_or(State::NotChecked, State::of_number);
    let mount_name = match mount.mount_id.as_str() {
        "" => "rest of the car".to_owned(),
        id => format!("{id}, {}", mount.mount_name),
    };
    let component = mount.component.strip_prefix("part.").unwrap_or(&mount.component);
    Line {
        project: project.to_owned(),
        mount: mount_name,
        used: number(mount.utilisation),
        was: number(mount.accepted_utilisation),
        strip: strip(150.0, mount.utilisation, drawn),
        state: match mount.verdict() {
            Verdict::Provisional => "provisional".to_owned(),
            _ => badge_and_word(state),
        },
        what: match mount.what.as_str() {
            "" => String::new(),
            what => format!("{component}: {what}"),
        },
        case: mount.case_name.clone(),
        // One alone is the row that governs.
        newly: match (mount.change(), mount.newly_exceeding.as_slice()) {
            (Change::NewlyFails, [_]) => Vec::new(),
            (_, newly) => newly.to_vec(),
        },
    }
}
