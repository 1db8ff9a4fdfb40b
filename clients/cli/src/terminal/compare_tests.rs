use fishplate_proto::v1::{
    Bill, BillWeld, ComparedJoint, ComparedUse, ComparedWeld, DesignStep, ExceededLimit,
    MountMovement, State, TriedSteps,
};

use super::super::sample;
use super::*;

/// A made-up design: the first exceeds, the second does not.
fn design(stiff: bool) -> ComparedDesign {
    let mut answer = sample::answer();
    let mut way = Some(WayAhead {
        limits: vec![
            ExceededLimit {
                row_id: "FL-2".to_owned(),
                utilisation: 3.48,
                best_step: Some(step(
                    "bolt.front-bush, clamped faces",
                    "painted, friction 0.12",
                    "bare, friction 0.2",
                )),
                best_utilisation: Some(2.09),
                hand_utilisation: Some(3.48),
            },
            ExceededLimit {
                row_id: "FL-7".to_owned(),
                utilisation: 1.65,
                hand_utilisation: Some(1.65),
                ..ExceededLimit::default()
            },
        ],
        tried: true,
        singles_tried: 21,
        pairs_tried: 55,
        found: vec![TriedSteps {
            steps: vec![
                step("part.front-bracket, thickness", "5 mm", "6 mm"),
                step(
                    "bolt.front-bush, clamped faces",
                    "painted, friction 0.12",
                    "bare, friction 0.2",
                ),
            ],
            worst: Some(used_by("FL-7", 0.97, "P1")),
            part_mass_kg: 11.2,
            weld_length_mm: 960.0,
            ahead: true,
            ..TriedSteps::default()
        }],
        nearest: None,
    });
    if stiff {
        answer.title = "Light van, rear cradle, design B".to_owned();
        answer.verdict = Verdict::Provisional as i32;
        answer.rows.iter_mut().filter(|r| r.state() == State::Exceeds).for_each(|row| {
            row.state = State::Holds as i32;
            row.utilisation = Some(0.32);
        });
        for mount in &mut answer.mounts {
            mount.utilisation_by_case = vec![0.02, 0.31, 0.93, 0.55];
        }
        way = None;
    }
    let (mass, weld) = if stiff { (15.16, 4835.2) } else { (10.57, 960.0) };
    ComparedDesign {
        answer: Some(answer),
        bill: Some(Bill {
            part_mass_kg: mass,
            weld_length_mm: weld,
            weld_volume_mm3: 8.0 * weld,
            cut_length_mm: 4200.0,
            piece_count: 7,
            bolt_count: 8,
            ..Bill::default()
        }),
        measure: weld,
        worst: Some(used_by("FL-2", if stiff { 0.93 } else { 3.48 }, "P1")),
        movements: vec![movement("FL", 2.31), movement("FR", 2.3)],
        way,
        ..ComparedDesign::default()
    }
}

fn step(what: &str, from: &str, to: &str) -> DesignStep {
    let [what, from, to] = [what, from, to].map(str::to_owned);
    DesignStep { field_path: String::new(), what, from, to }
}

fn used_by(row: &str, utilisation: f64, case: &str) -> UsedRow {
    UsedRow { row_id: row.to_owned(), utilisation, case_name: case.to_owned() }
}

fn movement(mount: &str, most: f64) -> MountMovement {
    MountMovement {
        mount_id: mount.to_owned(),
        travel_mm: vec![0.1, most, 0.4, 1.0],
        most_case_name: "D2".to_owned(),
        structure: None,
    }
}

fn joint(name: &str, lengths: &[Option<f64>]) -> ComparedJoint {
    let line = |mm: &Option<f64>| ComparedWeld {
        line: mm.map(|mm| BillWeld { weld_length_mm: mm, ..BillWeld::default() }),
    };
    ComparedJoint { name: name.to_owned(), welds: lengths.iter().map(line).collect() }
}

fn check(mount: &str, what: &str, uses: &[Option<f64>]) -> ComparedCheck {
    let one = |u: &Option<f64>| ComparedUse { worst: u.map(|u| used_by("FL-2", u, "P1")) };
    ComparedCheck {
        mount_id: mount.to_owned(),
        kind: "bolt".to_owned(),
        short_what: what.to_owned(),
        uses: uses.iter().map(one).collect(),
    }
}

/// So many designs, every other one stiff.
fn comparison(many: usize) -> Comparison {
    let pick = |a, b| (0..many).map(|i| if i % 2 == 0 { a } else { b }).collect::<Vec<_>>();
    Comparison {
        designs: (0..many).map(|i| design(i % 2 == 1)).collect(),
        joints: vec![
            joint("weld.front-foot", &pick(Some(320.0), Some(320.0))),
            joint("weld.front-doubler-with-a-long-name", &pick(None, Some(939.2))),
        ],
        checks: vec![
            check("FL", "bush bolt: faces slip", &pick(Some(3.48), Some(0.79))),
            check("FL", "rail web: wall bending", &pick(Some(1.65), Some(0.32))),
            check("", "bar: bending with torsion", &pick(Some(0.91), None)),
        ],
        ranking: vec![1, 0],
        sentence:
            "Light van, rear cradle, design B comes first: what was checked of it holds, with \
                   4835 mm of weld, but points are open."
                .to_owned(),
        ..Comparison::default()
    }
}

fn laid_out(many: usize, width: usize, ascii: bool, all: bool) -> String {
    let text = compare(&comparison(many), all, Look::new(width, ascii));
    anstream::adapter::strip_str(&text).to_string()
}

/// Lines of the form that was agreed on, written by hand.
#[test]
fn the_table_has_a_column_for_each_design() {
    let text = laid_out(2, 80, false, false);
    for line in [
        "highest use                                                 3.48            0.93",
        "weld, mm                                                     960            4835",
        "weld metal, cm³                                              7.7            38.7",
        "front-foot                                                   320             320",
        "front-doubler-with-a-long-name                                 -             939",
        "FL  bush bolt: faces slip                                   3.48            0.79",
        "FL  P1                                                      3.48            0.93",
        "FL                                                          2.31            2.31",
    ] {
        assert!(text.lines().any(|l| l == line), "no line\n{line}\nin\n{text}");
    }
    for part in [
        "A: what Light van, rear cradle, design A would have to change",
        "Of 21 single steps and 55 pairs of steps these are the smallest",
        "   3.48  FL-2  bush bolt: faces slip; 2.09 with bolt.front-bush, clamped faces:",
        "   1.65  FL-7  rail web 2.2 mm: wall bending; no single step moves it",
        "part.front-bracket, thickness from 5 mm to 6 mm and",
    ] {
        assert!(text.contains(part), "no {part} in\n{text}");
    }
}

#[test]
fn no_line_is_wider_than_the_terminal_and_no_row_breaks() {
    for many in [2, 3, 8] {
        for width in [60, 80, 100, 120, 160, 300] {
            for (ascii, all) in [(false, false), (true, true)] {
                let text = laid_out(many, width, ascii, all);
                let widest = Look::new(width, ascii).width();
                for line in text.lines() {
                    assert!(line.chars().count() <= widest, "{many} {width}: {line}\n{text}");
                }
                // One row of figures a design: as many numbers as designs behind the name.
                let row = text.lines().find(|l| l.starts_with("bolts")).unwrap();
                assert_eq!(row.split_whitespace().count(), 1 + many, "{row}");
                assert!(!ascii || text.is_ascii());
            }
        }
    }
}

#[test]
fn in_inches_nothing_metric_is_left() {
    let look = Look::new(160, false).in_units(Units::Us);
    let text = compare(&comparison(2), false, look);
    let text = anstream::adapter::strip_str(&text).to_string();
    // 4835.2 mm over 25.4 is 190.4 in; 15.16 kg over 0.453 592 37 is 33.42 lb.
    for part in ["190.4", "33.42", "weld metal, in³", "0.197 in to 0.236 in"] {
        assert!(text.contains(part), "no {part} in\n{text}");
    }
    assert!(!text.contains(" mm"), "{text}");
}

/// Goldens: copies of what was once printed. They prove that nothing changed, not that it is right.
mod golden {
    use super::*;

    #[test]
    fn narrow() {
        assert_eq!(laid_out(2, 80, false, false), include_str!("golden/compare-narrow.txt"));
    }

    #[test]
    fn wide() {
        assert_eq!(laid_out(2, 160, false, false), include_str!("golden/compare-wide.txt"));
    }
}
