//! A project beside itself changed.

use fishplate_proto::v1::{Verdict, WhatIf, WhatIfMassLimit, WhatIfMountUse, WhatIfRow, WhatIfUse};

use super::number::{fixed, quantity, utilisation};
use super::page::{Look, Page, fit, right};
use super::standing::verdict;

/// Rows and names that are shown where not all are.
const ROWS: usize = 8;

/// The answer to `question` as text with colours.
pub(crate) fn what_if(answer: &WhatIf, question: &str, all: bool, look: Look) -> String {
    let mut page = Page::new(look);
    let then = answer.after.as_ref().map_or(Verdict::DoesNotHold, |after| after.verdict());
    verdict(&mut page, then, &answer.title);
    page.wrapped("What if: ", 9, question);
    page.blank();
    if !answer.moves.is_empty() {
        for movement in &answer.moves {
            page.wrapped("  ", 4, movement);
        }
        page.blank();
    }
    whole(&mut page, answer);
    turned(&mut page, answer);
    limit(&mut page, answer.limit.as_ref());
    rows(&mut page, answer, all);
    mounts(&mut page, answer, all);
    for assumption in &answer.assumptions {
        page.wrapped("Taken for granted: ", 2, assumption);
    }
    page.blank();
    for caution in &answer.cautions {
        page.wrapped("", 0, caution);
    }
    page.finish()
}

/// A line of the table: what, before, after.
fn line(page: &mut Page, what: &str, before: &str, after: &str) {
    let look = page.look();
    let text = format!(
        "{}  {}  {}",
        fit(look, what, NAME),
        right(&look.text(before), VALUE),
        right(&look.text(after), VALUE)
    );
    page.line(&text);
}

/// Columns of a name and of a value.
const NAME: usize = 44;
const VALUE: usize = 15;

fn whole(page: &mut Page, answer: &WhatIf) {
    let units = page.look().units();
    line(page, "", "before", "after");
    let Some(before) = &answer.before else { return };
    let after = answer.after.as_ref();
    let axle = |n: f64| quantity(n, "N", units);
    let or_none = |text: Option<String>| text.unwrap_or_else(|| "-".to_owned());
    let used = |u: Option<f64>, row: &str| {
        or_none(u.map(|u| format!("{} {row}", utilisation(u, u > 1.0))))
    };
    line(
        page,
        "highest use",
        &used(before.utilisation, &before.row_id),
        &or_none(after.map(|a| used(a.utilisation, &a.row_id))),
    );
    line(
        page,
        "front axle at rest",
        &axle(before.front_axle_n),
        &or_none(after.map(|a| axle(a.front_axle_n))),
    );
    line(
        page,
        "rear axle at rest",
        &axle(before.rear_axle_n),
        &or_none(after.map(|a| axle(a.rear_axle_n))),
    );
    page.blank();
}

fn exceeds(used: Option<&WhatIfUse>) -> Option<bool> {
    used.map(|u| u.utilisation > 1.0)
}

/// Rows whose state turns.
fn turned(page: &mut Page, answer: &WhatIf) {
    let which = |was: Option<bool>, is: Option<bool>| {
        let own =
            |r: &&WhatIfRow| exceeds(r.before.as_ref()) == was && exceeds(r.after.as_ref()) == is;
        let id = |r: &WhatIfRow| {
            r.row.as_ref().map_or(String::new(), |row| format!("{} {}", row.id, row.what))
        };
        answer.rows.iter().filter(own).map(id).collect::<Vec<_>>()
    };
    let (still, fails, mended) = (
        which(Some(true), Some(true)),
        which(Some(false), Some(true)),
        which(Some(true), Some(false)),
    );
    if answer.after.is_some() && fails.is_empty() && mended.is_empty() {
        page.wrapped("", 2, &format!("No check turns; {} exceed before and after.", still.len()));
    }
    for (word, list) in [("Exceeds only then: ", &fails), ("Holds only then: ", &mended)] {
        if !list.is_empty() {
            page.wrapped(word, 2, &format!("{}.", list.join("; ")));
        }
    }
    page.blank();
}

fn limit(page: &mut Page, limit: Option<&WhatIfMassLimit>) {
    let Some(limit) = limit else { return };
    let units = page.look().units();
    let kg = |mass: f64| {
        let (mass, unit) = units.of(mass, "kg");
        format!("{} {unit}", fixed(mass, 1))
    };
    let names = |rows: &[fishplate_proto::v1::StudiedRow]| {
        rows.iter().map(|r| format!("{} {}", r.id, r.what)).collect::<Vec<_>>().join("; ")
    };
    let text = match limit.mass_kg {
        Some(mass) => {
            format!(
                "The first check that holds reaches its limit at {} there: {}.",
                kg(mass),
                names(&limit.rows)
            )
        }
        None => format!(
            "Up to {} there, no check that holds reaches its limit.",
            kg(limit.looked_to_kg)
        ),
    };
    page.wrapped("", 2, &text);
    match limit.exceeding.len() {
        0 => {}
        1 => page.line("One check exceeds without any of it."),
        n => page.line(&format!("{n} checks exceed without any of it.")),
    }
    page.blank();
}

fn rows(page: &mut Page, answer: &WhatIf, all: bool) {
    let change = |r: &WhatIfRow| match (&r.before, &r.after) {
        (Some(was), Some(is)) => (is.utilisation - was.utilisation).abs(),
        _ => 0.0,
    };
    let mut sorted: Vec<&WhatIfRow> = answer.rows.iter().filter(|r| r.row.is_some()).collect();
    if !all {
        sorted.retain(|r| change(r) >= 5e-3);
        sorted.sort_by(|a, b| change(b).total_cmp(&change(a)));
        sorted.truncate(ROWS);
        // In the order in which the load travels, as every table of rows.
        let place = |r: &WhatIfRow| answer.rows.iter().position(|own| own == r);
        sorted.sort_by_key(|r| place(r));
    }
    if sorted.is_empty() {
        return;
    }
    let head = if all { "every check" } else { "checks that change most" };
    line(page, head, "before", "after");
    for row in sorted {
        let Some(named) = &row.row else { continue };
        let used = |u: Option<&WhatIfUse>| {
            u.map_or("-".to_owned(), |u| {
                format!("{} {:<4}", utilisation(u.utilisation, u.utilisation > 1.0), u.case_name)
            })
        };
        let name = format!("{:<6}{}", named.id, named.what);
        line(page, &name, &used(row.before.as_ref()), &used(row.after.as_ref()));
    }
    page.blank();
}

fn mounts(page: &mut Page, answer: &WhatIf, all: bool) {
    let lost = answer.assumptions.iter().any(|a| a.contains("mount"));
    if !(all || lost) || answer.after.is_none() {
        return;
    }
    let units = page.look().units();
    line(page, "largest force on the body, movement", "before", "after");
    for mount in &answer.mounts {
        let force = |u: Option<&WhatIfMountUse>| {
            u.map_or("-".to_owned(), |u| {
                let size = u.force_x_n.hypot(u.force_y_n).hypot(u.force_z_n);
                format!("{} {:<4}", quantity(size, "N", units), u.force_case_name)
            })
        };
        let movement = |u: Option<&WhatIfMountUse>| {
            u.and_then(|u| Some((u.movement.as_ref()?, u))).map_or("-".to_owned(), |(m, u)| {
                let size = m.x_mm.hypot(m.y_mm).hypot(m.z_mm);
                format!("{} {:<4}", quantity(size, "mm", units), u.movement_case_name)
            })
        };
        let (before, after) = (mount.before.as_ref(), mount.after.as_ref());
        let name = format!("{:<6}{}", mount.mount_id, mount.name);
        line(page, &name, &force(before), &force(after));
        line(page, "", &movement(before), &movement(after));
    }
    page.blank();
}
