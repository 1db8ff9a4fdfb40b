//! The page of a project beside itself changed.

use askama::Template;
use fishplate_proto::v1;

use super::{cautions, used, verdict};
use crate::names::{capital, css_text};
use crate::numbers::{self, fixed, quantity};
use crate::page::STYLE;
use crate::state::State;
use crate::svg::marks::badge_and_word;
use crate::units::Units;

/// One self-contained HTML page that shows `answer`, the answer to `question`, in `units`.
///
/// ```
/// use fishplate_proto::v1;
/// use fishplate_report::{Units, what_if_page};
///
/// let answer = v1::WhatIf { title: "Van".into(), ..Default::default() };
/// let page = what_if_page("80 kg more", &answer, Units::Si);
/// assert!(page.contains("What if: 80 kg more"));
/// ```
#[must_use]
pub fn what_if_page(question: &str, answer: &v1::WhatIf, units: Units) -> String {
    let page = Page::new(question, answer, units);
    // Writing to a text cannot fail, and the template calls nothing that can.
    page.render().unwrap_or_else(|error| {
        crate::fault_page("No page", &[("page".to_owned(), error.to_string())])
    })
}

#[derive(Template)]
#[template(path = "studies/what_if.html")]
struct Page {
    title: String,
    css_title: String,
    style: &'static str,
    question: String,
    mark: String,
    word: &'static str,
    sentence: String,
    moves: Vec<String>,
    whole: Vec<[String; 3]>,
    limit: Vec<String>,
    rows: Vec<Row>,
    mounts: Vec<Mount>,
    assumptions: Vec<String>,
    cautions: Vec<String>,
}

struct Row {
    id: String,
    what: String,
    before: String,
    after: String,
    state: String,
    turns: bool,
}

struct Mount {
    name: String,
    force: [String; 2],
    movement: [String; 2],
}

impl Page {
    fn new(question: &str, answer: &v1::WhatIf, units: Units) -> Self {
        let then = answer.after.as_ref().map_or(v1::Verdict::DoesNotHold, |a| a.verdict());
        let (mark, word) = verdict(then);
        Self {
            css_title: css_text(&answer.title),
            title: answer.title.clone(),
            style: STYLE,
            question: question.to_owned(),
            mark,
            word,
            sentence: answer.after.as_ref().map_or(String::new(), |a| a.sentence.clone()),
            moves: answer.moves.iter().map(|m| capital(m)).collect(),
            whole: whole(answer, units),
            limit: answer.limit.as_ref().map_or(Vec::new(), |l| limit(l, units)),
            rows: answer.rows.iter().filter_map(row).collect(),
            mounts: answer.mounts.iter().map(|m| mount(m, units)).collect(),
            assumptions: answer.assumptions.iter().map(|a| capital(a)).collect(),
            cautions: cautions(&answer.cautions),
        }
    }
}

fn whole(answer: &v1::WhatIf, units: Units) -> Vec<[String; 3]> {
    let told = |of: &dyn Fn(&v1::WhatIfStanding) -> String| {
        [&answer.before, &answer.after]
            .map(|standing| standing.as_ref().map_or_else(|| numbers::NOT_FOUND.to_owned(), of))
    };
    let line = |what: &str, [before, after]: [String; 2]| [what.to_owned(), before, after];
    vec![
        line("Verdict", told(&|s| verdict(s.verdict()).1.to_owned())),
        line(
            "Highest utilisation",
            told(&|s| format!("{} {}", used(s.utilisation), s.row_id).trim_end().to_owned()),
        ),
        line("Front axle at rest", told(&|s| quantity(s.front_axle_n, "N", units))),
        line("Rear axle at rest", told(&|s| quantity(s.rear_axle_n, "N", units))),
    ]
}

fn limit(limit: &v1::WhatIfMassLimit, units: Units) -> Vec<String> {
    let kg = |mass: f64| {
        let (mass, unit) = units.of(mass, "kg");
        numbers::with_unit(&fixed(mass, 1), unit)
    };
    let names = |rows: &[v1::StudiedRow]| {
        rows.iter().map(|r| format!("{} {}", r.id, r.what)).collect::<Vec<_>>().join("; ")
    };
    let first = match limit.mass_kg {
        Some(mass) => format!(
            "The first check that holds reaches its limit at {} there: {}.",
            kg(mass),
            names(&limit.rows)
        ),
        None => format!(
            "Up to {} there, no check that holds reaches its limit.",
            kg(limit.looked_to_kg)
        ),
    };
    let mut lines = vec![first];
    if !limit.exceeding.is_empty() {
        lines.push(format!("Without any of it exceed: {}.", names(&limit.exceeding)));
    }
    lines
}

fn row(row: &v1::WhatIfRow) -> Option<Row> {
    let named = row.row.as_ref()?;
    let text = |u: Option<&v1::WhatIfUse>| {
        u.map_or_else(
            || numbers::NOT_FOUND.to_owned(),
            |u| format!("{} {}", used(Some(u.utilisation)), u.case_name).trim_end().to_owned(),
        )
    };
    let state = |u: Option<&v1::WhatIfUse>| {
        u.map_or(State::NotChecked, |u| State::of_number(u.utilisation))
    };
    let (was, is) = (state(row.before.as_ref()), state(row.after.as_ref()));
    Some(Row {
        id: named.id.clone(),
        what: capital(&named.what),
        before: text(row.before.as_ref()),
        after: text(row.after.as_ref()),
        state: badge_and_word(is),
        turns: was != is,
    })
}

fn mount(mount: &v1::WhatIfMount, units: Units) -> Mount {
    let both = |of: &dyn Fn(&v1::WhatIfMountUse) -> Option<String>| {
        [&mount.before, &mount.after]
            .map(|used| used.as_ref().and_then(of).unwrap_or_else(|| numbers::NOT_FOUND.to_owned()))
    };
    Mount {
        name: format!("{} {}", mount.mount_id, mount.name),
        force: both(&|u| {
            let size = u.force_x_n.hypot(u.force_y_n).hypot(u.force_z_n);
            Some(format!("{} {}", quantity(size, "N", units), u.force_case_name))
        }),
        movement: both(&|u| {
            let m = u.movement.as_ref()?;
            let size = m.x_mm.hypot(m.y_mm).hypot(m.z_mm);
            Some(format!("{} {}", quantity(size, "mm", units), u.movement_case_name))
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::wellformed::assert_closed;

    fn standing(utilisation: f64, rear_axle_n: f64) -> Option<v1::WhatIfStanding> {
        Some(v1::WhatIfStanding {
            verdict: v1::Verdict::DoesNotHold.into(),
            utilisation: Some(utilisation),
            row_id: "FL-4".to_owned(),
            rear_axle_n,
            ..Default::default()
        })
    }

    #[test]
    fn both_sides_are_told() {
        let used = |utilisation| Some(v1::WhatIfUse { utilisation, case_name: "P1".to_owned() });
        let row =
            v1::StudiedRow { id: "FL-4".to_owned(), what: "wall".to_owned(), ..Default::default() };
        let answer = v1::WhatIf {
            title: "Van".to_owned(),
            before: standing(1.647, 11_664.0),
            after: standing(1.754, 12_432.0),
            rows: vec![v1::WhatIfRow {
                row: Some(row.clone()),
                before: used(0.98),
                after: used(1.04),
            }],
            limit: Some(v1::WhatIfMassLimit {
                mass_kg: Some(31.4),
                rows: vec![row],
                ..Default::default()
            }),
            ..Default::default()
        };
        let page = what_if_page("80 kg more", &answer, Units::Si);
        if let Some(folder) = std::env::var_os("FISHPLATE_PAGE_DIR") {
            std::fs::write(std::path::Path::new(&folder).join("what-if.html"), &page).unwrap();
        }
        assert_closed(&page);
        for text in
            ["1.65 FL-4", "1.75 FL-4", "11664", "12432", "0.98 P1", "1.04 P1", "31.4\u{A0}kg"]
        {
            let plain = page.replace("11\u{202F}664", "11664").replace("12\u{202F}432", "12432");
            assert!(plain.contains(text), "no {text} in\n{page}");
        }
    }

    #[test]
    fn a_cradle_that_is_not_held_does_not_hold() {
        let answer = v1::WhatIf {
            title: "Van".to_owned(),
            before: standing(0.5, 11_664.0),
            moves: vec!["nothing keeps the cradle from sliding up and down".to_owned()],
            ..Default::default()
        };
        let page = what_if_page("mount.front.left lost", &answer, Units::Si);
        assert_closed(&page);
        assert!(page.contains("Van: does not hold") && page.contains("Nothing keeps the cradle"));
    }
}
