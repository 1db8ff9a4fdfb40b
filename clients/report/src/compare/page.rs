//! Designs side by side on one page.

use askama::Template;
use fishplate_proto::v1;

use super::words::{self, LIMITS, letter};
use crate::given::Given;
use crate::names::{capital, css_text};
use crate::numbers;
use crate::page::{LEAST_CAUTION, STYLE};
use crate::state::{State, finite};
use crate::svg::marks::{badge, badge_and_word};
use crate::units::Units;
use crate::views::{joints, mount};

/// One self-contained HTML page with the designs of `comparison`, the answer to `request`, side by
/// side, in `units`.
///
/// ```
/// use fishplate_proto::v1;
/// use fishplate_report::Units;
/// use fishplate_report::compare::comparison_page;
///
/// let comparison = v1::Comparison { sentence: "B comes first.".into(), ..Default::default() };
/// let page = comparison_page(&Default::default(), &comparison, Units::Si);
/// assert!(page.contains("B comes first."));
/// ```
#[must_use]
pub fn comparison_page(
    request: &v1::CompareProjectsRequest,
    comparison: &v1::Comparison,
    units: Units,
) -> String {
    let mut told = comparison.clone();
    units.rewrite_comparison(&mut told);
    let page = Page::new(request, &told, units);
    // Writing to a text cannot fail, and the template calls nothing that can.
    page.render().unwrap_or_else(|error| {
        crate::fault_page("No page", &[("page".to_owned(), error.to_string())])
    })
}

#[derive(Template)]
#[template(path = "compare.html")]
struct Page {
    title: String,
    css_title: String,
    style: &'static str,
    headline: String,
    lead: String,
    designs: Vec<Design>,
    figures: Vec<Line>,
    ways: Vec<WayAhead>,
    joints: Option<String>,
    case: String,
    mounts: Vec<Mount>,
    matrix: Vec<Matrix>,
    checks: Vec<Group>,
    movements: Vec<Line>,
    movement_unit: String,
    structure: Vec<Line>,
    structure_unit: String,
    not_counted: Vec<String>,
    cautions: Vec<String>,
    foot: Vec<String>,
}

/// A design on top of the page.
struct Design {
    letter: String,
    title: String,
    rank: usize,
    verdict: &'static str,
    mark: String,
    class: &'static str,
    number: String,
    at: String,
}

/// A line of a table: a name, and a cell for each design.
struct Line {
    name: String,
    cells: Vec<String>,
}

/// What a design would have to change.
struct WayAhead {
    letter: String,
    title: String,
    limits: Vec<[String; 4]>,
    more: usize,
    first: String,
    steps: Vec<String>,
}

/// A mount in every design.
struct Mount {
    name: String,
    id: String,
    views: Vec<View>,
}

/// One view of a mount in every design.
struct View {
    name: &'static str,
    remark: String,
    pictures: Vec<(String, Option<String>)>,
}

/// The cases at a mount.
struct Matrix {
    name: String,
    id: String,
    rows: Vec<Line>,
}

/// The checks at a mount.
struct Group {
    name: String,
    rows: Vec<Line>,
}

impl Page {
    fn new(request: &v1::CompareProjectsRequest, told: &v1::Comparison, units: Units) -> Self {
        let letters: Vec<String> = (0..told.designs.len()).map(letter).collect();
        let titles: Vec<String> = told.designs.iter().map(title_of).collect();
        let title = titles.join(" · ");
        let case = case(told);
        let answers = || told.designs.iter().filter_map(|design| design.answer.as_ref());
        let mut cautions: Vec<String> = Vec::new();
        for caution in answers().flat_map(|answer| &answer.cautions) {
            if !cautions.contains(caution) {
                cautions.push(caution.clone());
            }
        }
        if cautions.is_empty() {
            cautions.push(LEAST_CAUTION.to_owned());
        }
        let not_counted = told.designs.iter().enumerate().flat_map(|(place, design)| {
            let all = design.bill.iter().flat_map(|bill| &bill.not_counted);
            all.map(move |what| format!("{}: {what}", letter(place)))
        });
        let (headline, lead) = match told.sentence.split_once(": ") {
            Some((headline, lead)) => (headline.to_owned(), capital(lead)),
            None => (told.sentence.clone(), String::new()),
        };
        let stamp = |(place, answer): (usize, &v1::CheckProjectResponse)| {
            let stamp = answer.stamp.clone().unwrap_or_default();
            format!("{}: {}, project {}", letter(place), stamp.rules, stamp.project_hash)
        };
        Self {
            css_title: css_text(&title),
            title,
            style: STYLE,
            headline,
            lead,
            designs: designs(told, &letters, &titles),
            figures: words::figures(told, units)
                .into_iter()
                .map(|(name, of)| Line {
                    name: capital(&name),
                    cells: told.designs.iter().map(|d| dash(of(d, units))).collect(),
                })
                .collect(),
            ways: ways(told, &letters, &titles, units),
            joints: (!told.joints.is_empty()).then(|| joints::draw(told, units)),
            mounts: mounts(request, told, &letters, units, &case),
            case,
            matrix: matrix(told),
            checks: checks(told),
            movements: movements(told, units),
            movement_unit: units.unit("mm").to_owned(),
            structure: structure(told, units),
            structure_unit: units.unit("N/mm").to_owned(),
            not_counted: not_counted.collect(),
            cautions,
            foot: answers().enumerate().map(stamp).collect(),
        }
    }
}

fn dash(text: Option<String>) -> String {
    text.filter(|t| !t.is_empty()).unwrap_or_else(|| numbers::NOT_FOUND.to_owned())
}

fn title_of(design: &v1::ComparedDesign) -> String {
    let title = design.answer.as_ref().map_or("", |answer| answer.title.trim());
    if title.is_empty() { "Without a title".to_owned() } else { title.to_owned() }
}

fn designs(told: &v1::Comparison, letters: &[String], titles: &[String]) -> Vec<Design> {
    let rank = |place: usize| {
        told.ranking.iter().position(|at| usize::try_from(*at) == Ok(place)).unwrap_or(place)
    };
    told.designs
        .iter()
        .enumerate()
        .map(|(place, design)| {
            let verdict = design.answer.as_ref().map(v1::CheckProjectResponse::verdict);
            let (word, state) = match verdict {
                Some(v1::Verdict::Holds) => ("holds", State::Holds),
                Some(v1::Verdict::DoesNotHold) => ("does not hold", State::Exceeds),
                Some(v1::Verdict::Provisional) => ("provisional", State::NotChecked),
                Some(v1::Verdict::Unspecified) | None => ("no answer", State::NotChecked),
            };
            let worst = design.worst.as_ref();
            let at = worst.map_or(String::new(), |w| match w.case_name.as_str() {
                "" => w.row_id.clone(),
                case => format!("{}, case {case}", w.row_id),
            });
            Design {
                letter: letters[place].clone(),
                title: titles[place].clone(),
                rank: rank(place) + 1,
                verdict: word,
                mark: badge(state),
                class: state.class(),
                number: dash(worst.map(|w| number(w.utilisation))),
                at,
            }
        })
        .collect()
}

fn number(utilisation: f64) -> String {
    numbers::utilisation(utilisation, State::of_number(utilisation) == State::Exceeds)
}

/// A utilisation as a cell, with the word of its state.
fn cell(utilisation: Option<f64>) -> String {
    match finite(utilisation) {
        None => numbers::NOT_FOUND.to_owned(),
        Some(u) => format!("<b>{}</b> {}", number(u), badge_and_word(State::of_number(u))),
    }
}

fn ways(
    told: &v1::Comparison,
    letters: &[String],
    titles: &[String],
    units: Units,
) -> Vec<WayAhead> {
    let mut list = Vec::new();
    for (place, design) in told.designs.iter().enumerate() {
        let Some(way) = &design.way else { continue };
        let rows = design.answer.iter().flat_map(|answer| &answer.rows);
        let rows: Vec<&v1::Row> = rows.collect();
        let mut limits: Vec<[String; 4]> = Vec::new();
        for limit in &way.limits {
            let Some(row) = rows.iter().find(|row| row.id == limit.row_id) else { continue };
            let Some(used) = finite(Some(limit.utilisation)) else { continue };
            let (used, what) = (number(used), capital(&row.what));
            let best = words::best_step(way, limit);
            // Both sides are told as one where nothing tells them apart.
            match limits.iter_mut().find(|[_, u, w, b]| *u == used && *w == what && *b == best) {
                Some([ids, ..]) => *ids = format!("{ids}, {}", row.id),
                None => limits.push([row.id.clone(), used, what, best]),
            }
        }
        let mut sentences = words::what_helps(told, design, units).into_iter();
        list.push(WayAhead {
            letter: letters[place].clone(),
            title: titles[place].clone(),
            more: limits.len().saturating_sub(LIMITS),
            limits: limits.into_iter().take(LIMITS).collect(),
            first: sentences.next().unwrap_or_default(),
            steps: sentences.collect(),
        });
    }
    list
}

/// The case that the drawings show: that of the highest use of any design.
fn case(told: &v1::Comparison) -> String {
    let worst = told.designs.iter().filter_map(|design| design.worst.as_ref());
    let worst = worst.filter(|w| !w.case_name.is_empty());
    worst
        .reduce(|a, b| if b.utilisation > a.utilisation { b } else { a })
        .map_or(String::new(), |w| w.case_name.clone())
}

/// Names that any design has, in the order of the first that has it.
fn names<'c>(
    told: &'c v1::Comparison,
    of: impl Fn(&'c v1::CheckProjectResponse) -> Vec<&'c str>,
) -> Vec<&'c str> {
    let mut all: Vec<&str> = Vec::new();
    for name in told.designs.iter().filter_map(|d| d.answer.as_ref()).flat_map(of) {
        if !all.contains(&name) {
            all.push(name);
        }
    }
    all
}

/// Mounts that any design has: short name and long.
fn known_mounts(told: &v1::Comparison) -> Vec<(&str, String)> {
    let ids = names(told, |answer| answer.mounts.iter().map(|m| m.id.as_str()).collect());
    let long = |id: &str| {
        let all = told.designs.iter().flat_map(|d| &d.answer).flat_map(|a| &a.mounts);
        all.clone().find(|m| m.id == id).map_or(String::new(), |m| capital(&m.name))
    };
    ids.into_iter().map(|id| (id, long(id))).collect()
}

fn mount_of<'d>(design: &'d v1::ComparedDesign, id: &str) -> Option<&'d v1::MountAnswer> {
    design.answer.as_ref()?.mounts.iter().find(|m| m.id == id)
}

/// The mounts of the left side, or all where there is none on it, each in all designs.
fn mounts(
    request: &v1::CompareProjectsRequest,
    told: &v1::Comparison,
    letters: &[String],
    units: Units,
    case: &str,
) -> Vec<Mount> {
    let on_left = |id: &str| {
        let places = told.designs.iter().filter_map(|d| mount_of(d, id)?.at.as_ref());
        places.into_iter().all(|at| at.y_mm >= 0.0)
    };
    let mut known = known_mounts(told);
    if known.iter().any(|(id, _)| on_left(id)) {
        known.retain(|(id, _)| on_left(id));
    }
    let mut list = Vec::new();
    for (id, name) in known {
        let mut places = Vec::new();
        let mut shown = Vec::new();
        for (place, design) in told.designs.iter().enumerate() {
            if let (Some(response), Some(mount)) = (design.answer.as_ref(), mount_of(design, id)) {
                let project = request.projects.get(place);
                places.push(place);
                shown.push((Given { project, response, units, showing: Some(case) }, mount));
            }
        }
        let views = mount::side_by_side(&shown);
        let views = views.into_iter().map(|(name, remark, drawn)| View {
            name,
            remark,
            pictures: (0..told.designs.len())
                .map(|place| {
                    let at = places.iter().position(|p| *p == place);
                    (letters[place].clone(), at.and_then(|at| drawn.get(at).cloned().flatten()))
                })
                .collect(),
        });
        list.push(Mount { name, id: id.to_owned(), views: views.collect() });
    }
    list
}

fn matrix(told: &v1::Comparison) -> Vec<Matrix> {
    let cases = names(told, |answer| answer.cases.iter().map(|c| c.name.as_str()).collect());
    let used = |design: &v1::ComparedDesign, id: &str, case: &str| {
        let at = design.answer.as_ref()?.cases.iter().position(|c| c.name == case)?;
        mount_of(design, id)?.utilisation_by_case.get(at).copied()
    };
    known_mounts(told)
        .into_iter()
        .map(|(id, name)| Matrix {
            name,
            id: id.to_owned(),
            rows: cases
                .iter()
                .map(|case| Line {
                    name: (*case).to_owned(),
                    cells: told.designs.iter().map(|d| cell(used(d, id, case))).collect(),
                })
                .collect(),
        })
        .collect()
}

fn checks(told: &v1::Comparison) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    let long = known_mounts(told);
    for check in &told.checks {
        let mount = long.iter().find(|(id, _)| *id == check.mount_id);
        let name = mount.map_or("The whole".to_owned(), |(id, name)| format!("{name}, {id}"));
        let uses = check.uses.iter().map(|one| one.worst.as_ref());
        let row = Line {
            name: capital(&check.short_what),
            cells: uses
                .map(|worst| {
                    let at = worst.map_or(String::new(), |w| {
                        let text = format!("{} {}", w.row_id, w.case_name);
                        format!(
                            " <span class=\"sm\">{}</span>",
                            crate::svg::writer::escape(text.trim())
                        )
                    });
                    format!("{}{at}", cell(worst.map(|w| w.utilisation)))
                })
                .collect(),
        };
        match groups.iter_mut().find(|group| group.name == name) {
            Some(group) => group.rows.push(row),
            None => groups.push(Group { name, rows: vec![row] }),
        }
    }
    groups
}

fn movement<'d>(design: &'d v1::ComparedDesign, id: &str) -> Option<&'d v1::MountMovement> {
    design.movements.iter().find(|m| m.mount_id == id)
}

fn movements(told: &v1::Comparison, units: Units) -> Vec<Line> {
    let decimals = if units == Units::Si { 2 } else { 3 };
    let most = |design: &v1::ComparedDesign, id: &str| {
        let movement = movement(design, id)?;
        let all = movement.travel_mm.iter().copied();
        let most = all.reduce(|a, b| if b > a { b } else { a })?;
        let number = numbers::fixed(units.value(most, "mm"), decimals);
        Some(format!("{number} ({})", movement.most_case_name))
    };
    known_mounts(told)
        .into_iter()
        .map(|(id, name)| Line {
            name: format!("{name}, {id}"),
            cells: told.designs.iter().map(|d| dash(most(d, id))).collect(),
        })
        .collect()
}

fn structure(told: &v1::Comparison, units: Units) -> Vec<Line> {
    if !told.designs.iter().flat_map(|d| &d.movements).any(|m| m.structure.is_some()) {
        return Vec::new();
    }
    let stiff = |design: &v1::ComparedDesign, id: &str| {
        let steel = movement(design, id)?.structure?;
        let all = [steel.move_x_n_per_mm, steel.move_y_n_per_mm, steel.move_z_n_per_mm];
        Some(all.map(|s| numbers::fixed(units.value(s, "N/mm"), 0)).join(", "))
    };
    known_mounts(told)
        .into_iter()
        .map(|(id, name)| Line {
            name: format!("{name}, {id}"),
            cells: told.designs.iter().map(|d| dash(stiff(d, id))).collect(),
        })
        .collect()
}

#[cfg(test)]
mod tests;
