//! What the plate level adds to an answer: two opinions on every joint, and the mounts as plates.

use std::collections::BTreeMap;

use fishplate_proto::v1::{CheckProjectResponse, Opinion, PlateMount, Row, SecondOpinion};

use super::number::{fixed, significant, utilisation};
use super::page::{Page, fit, right};

/// Change from mesh to mesh from which a row says so (common practice, no source).
const MESH_CHANGE: f64 = 0.05;

/// Hand statics and plate level side by side, for every joint that both were asked about.
pub(super) fn opinions(page: &mut Page, rows: &[&Row], all: bool) {
    let judged: Vec<(&Row, &SecondOpinion)> =
        rows.iter().filter_map(|row| Some((*row, row.second_opinion.as_ref()?))).collect();
    if judged.is_empty() {
        return;
    }
    let look = page.look();
    // Beside the name: number 6, three figures of 8, what is taken 8.
    let name = look.width() - 38;
    let head = ["hand", "plates", "ratio"].map(|head| right(head, 8)).concat();
    page.line(&format!("{}{}{head}  taken", fit(look, "no.", 6), fit(look, "two opinions", name)));
    for (row, opinion) in judged {
        let what = if row.short_what.is_empty() { &row.what } else { &row.short_what };
        let use_of = |given: Option<f64>| given.map_or("-".to_owned(), |u| utilisation(u, u > 1.0));
        let ratio = opinion.ratio.map_or("-".to_owned(), |ratio| fixed(ratio, 2));
        let figures = [use_of(opinion.hand_utilisation), use_of(opinion.plate_utilisation), ratio]
            .map(|figure| right(&figure, 8));
        let taken = match opinion.taken() {
            Opinion::Unspecified => "-",
            Opinion::Hand => "hand",
            Opinion::Plate => "plates",
        };
        let id = fit(look, &row.id, row.id.chars().count().max(5)) + " ";
        let room = name.saturating_sub(id.chars().count() - 6);
        page.line(&format!("{id}{}{}  {taken}", fit(look, what, room), figures.concat()));
        for text in beside(opinion, all) {
            page.wrapped("      ", 8, &text);
        }
    }
    page.blank();
}

/// What belongs under the figures of a joint.
fn beside(opinion: &SecondOpinion, all: bool) -> Vec<String> {
    let mut texts = Vec::new();
    if !opinion.reason.is_empty() {
        texts.push(sentence(&opinion.reason));
    }
    if !opinion.not_judged_reason.is_empty() {
        texts.push(format!("Not judged as plates: {}", sentence(&opinion.not_judged_reason)));
    }
    if !opinion.why_taken.is_empty() {
        texts.push(format!("The project takes hand statics: {}", sentence(&opinion.why_taken)));
    }
    if let Some(change) = opinion.mesh_change.filter(|change| all || change.abs() > MESH_CHANGE) {
        texts.push(format!("From mesh to mesh it changes by {} %.", fixed(100.0 * change, 1)));
    }
    if all && !opinion.how.is_empty() {
        let case = match opinion.plate_case_name.as_str() {
            "" => String::new(),
            name => format!(" in {name}"),
        };
        texts.push(format!("As plates{case}: {}", sentence(&opinion.how)));
    }
    texts
}

fn sentence(text: &str) -> String {
    format!("{}.", text.trim().trim_end_matches('.'))
}

/// The mounts as plates, a few lines each.
pub(super) fn mounts(
    page: &mut Page,
    answer: &CheckProjectResponse,
    hidden: &BTreeMap<String, String>,
    all: bool,
) {
    let shown: Vec<&PlateMount> =
        answer.plate_mounts.iter().filter(|m| !hidden.contains_key(&m.mount_id)).collect();
    if shown.is_empty() {
        return;
    }
    page.line("The mounts as plates:");
    for mount in shown {
        let lead = format!("  {}: ", mount.mount_id);
        if !mount.not_solved_reason.is_empty() {
            page.wrapped(&lead, 4, &format!("no result: {}", sentence(&mount.not_solved_reason)));
            continue;
        }
        page.wrapped(&lead, 4, &about(page, mount));
        if all {
            for assumption in &mount.assumptions {
                page.wrapped("    ", 6, assumption);
            }
        }
    }
    page.blank();
}

fn about(page: &Page, mount: &PlateMount) -> String {
    let units = page.look().units();
    let mut parts = Vec::new();
    if let Some(size) = &mount.size {
        parts.push(format!(
            "{} elements, {} unknowns; figures that govern change by at most {} % from mesh to \
             mesh; cuts balance to {:.0e}",
            size.elements,
            size.unknowns,
            fixed(100.0 * size.largest_mesh_change, 1),
            size.largest_imbalance,
        ));
    }
    parts.push(match &mount.buckling {
        Some(buckling) => format!(
            "buckles at {} times the loads of {}, first at {}",
            significant(buckling.load_factor, 3),
            buckling.case_name,
            buckling.part
        ),
        None => "nothing buckles".to_owned(),
    });
    if let Some(point) = &mount.hardpoint {
        let stiffness = [point.move_x_n_per_mm, point.move_y_n_per_mm, point.move_z_n_per_mm]
            .map(|s| significant(units.value(s, "N/mm"), 3))
            .join(", ");
        parts.push(format!(
            "stiffness at the hardpoint {stiffness} {} in x, y, z, which changes the force of the \
             mount by {} %",
            units.unit("N/mm"),
            fixed(100.0 * point.share_change, 1),
        ));
    }
    format!("{}.", parts.join("; "))
}

#[cfg(test)]
mod tests {
    use fishplate_proto::v1::{HardpointStiffness, PlateBuckling, PlateModelSize};

    use super::super::page::Look;
    use super::*;

    fn row(id: &str, opinion: SecondOpinion) -> Row {
        Row {
            id: id.to_owned(),
            short_what: "foot: throat of its fillet".to_owned(),
            second_opinion: Some(opinion),
            ..Row::default()
        }
    }

    fn text(rows: &[Row], all: bool) -> String {
        let mut page = Page::new(Look::new(80, false));
        opinions(&mut page, &rows.iter().collect::<Vec<_>>(), all);
        page.finish()
    }

    #[test]
    fn two_opinions_stand_side_by_side_with_the_reason_of_what_differs() {
        let flexible = SecondOpinion {
            hand_utilisation: Some(0.62),
            plate_utilisation: Some(1.24),
            plate_case_name: "P1".to_owned(),
            ratio: Some(2.0),
            reason: "the wall gives way: its ends carry the load".to_owned(),
            taken: Opinion::Plate.into(),
            mesh_change: Some(0.08),
            how: "peak of the throat stress, mean over 6.0 mm".to_owned(),
            ..SecondOpinion::default()
        };
        let alone = SecondOpinion {
            plate_utilisation: Some(0.4),
            taken: Opinion::Plate.into(),
            mesh_change: Some(0.01),
            ..SecondOpinion::default()
        };
        let rows = [row("FL-2", flexible), row("FL-9", alone)];
        let short = text(&rows, false);
        for line in [
            "no.   two opinions                                  hand  plates   ratio  taken",
            "FL-2  foot: throat of its fillet                    0.62    1.24    2.00  plates",
            "      the wall gives way: its ends carry the load.",
            "      From mesh to mesh it changes by 8.0 %.",
            "FL-9  foot: throat of its fillet                       -    0.40       -  plates",
        ] {
            assert!(short.lines().any(|l| l == line), "no {line} in\n{short}");
        }
        assert!(!short.contains("1.0 %") && !short.contains("6.0 mm"), "{short}");
        let all = text(&rows, true);
        assert!(all.contains("As plates in P1: peak of the throat stress, mean over 6.0 mm."));
        assert!(all.contains("by 1.0 %"));
    }

    #[test]
    fn an_answer_without_plates_says_nothing_of_them() {
        assert!(text(&[Row::default()], true).trim().is_empty());
    }

    #[test]
    fn a_mount_tells_its_size_its_error_and_how_it_buckles_or_why_not() {
        let solved = PlateMount {
            mount_id: "FL".to_owned(),
            size: Some(PlateModelSize {
                elements: 2400,
                unknowns: 14_200,
                largest_mesh_change: 0.031,
                largest_imbalance: 2e-10,
                ..PlateModelSize::default()
            }),
            buckling: Some(PlateBuckling {
                load_factor: 8.2,
                case_name: "P1".to_owned(),
                part: "part.front-gusset left".to_owned(),
                shape: Vec::new(),
            }),
            hardpoint: Some(HardpointStiffness {
                move_x_n_per_mm: 12_300.0,
                share_change: 0.04,
                ..HardpointStiffness::default()
            }),
            ..PlateMount::default()
        };
        let not = PlateMount {
            mount_id: "RL".to_owned(),
            not_solved_reason: "part.tab is a sliver".to_owned(),
            ..PlateMount::default()
        };
        let mirror = PlateMount { mount_id: "FR".to_owned(), ..PlateMount::default() };
        let answer = CheckProjectResponse {
            plate_mounts: vec![solved, not, mirror],
            ..CheckProjectResponse::default()
        };
        let hidden = BTreeMap::from([("FR".to_owned(), "FL".to_owned())]);
        let mut page = Page::new(Look::new(160, false));
        mounts(&mut page, &answer, &hidden, false);
        let text = page.finish();
        for part in [
            "FL: 2400 elements, 14200 unknowns",
            "at most 3.1 %",
            "buckles at 8.2",
            "part.front-gusset left",
            "4.0 %",
            "RL: no result: part.tab is a sliver.",
        ] {
            assert!(text.contains(part), "no {part} in\n{text}");
        }
        assert!(!text.contains("FR"));
    }
}
