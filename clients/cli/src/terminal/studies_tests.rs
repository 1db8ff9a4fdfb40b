//! Answers of studies as text: an invented van whose numbers are written by hand.

use fishplate_proto::v1;
use fishplate_proto::v1::TurnOutcome;
use fishplate_report::Units;

use super::{Look, Ranked, guesses, what_if};

fn row(id: &str, what: &str, utilisation: f64) -> v1::StudiedRow {
    v1::StudiedRow {
        id: id.to_owned(),
        component: "rail.frame left.web".to_owned(),
        what: what.to_owned(),
        utilisation: Some(utilisation),
    }
}

fn wall() -> v1::StudiedRow {
    row("FL-7", "rail web 2.2 mm: wall bending", 1.65)
}

fn slip() -> v1::StudiedRow {
    row("FL-2", "bush bolt: faces slip", 3.48)
}

fn reached(utilisation: f64) -> Option<v1::ReachedUse> {
    Some(v1::ReachedUse { utilisation, row_id: "FL-7".to_owned() })
}

fn turns(outcome: TurnOutcome, (from, to): (f64, f64), value: f64) -> Option<v1::VerdictTurns> {
    let mut turns = v1::VerdictTurns { from, to, ..Default::default() };
    turns.set_outcome(outcome);
    if outcome == TurnOutcome::Turns {
        let points = vec![v1::TurningPoint { value, holds_above: true }];
        let twin = v1::StudiedRow { id: "FR-7".to_owned(), ..wall() };
        turns.points = points.clone();
        turns.rows = vec![v1::RowTurns { rows: vec![wall(), twin], points }];
    }
    Some(turns)
}

fn chance(
    hit_count: u32,
    share: f64,
    standard_error: f64,
    (least, most): (f64, f64),
) -> v1::Chance {
    v1::Chance {
        hit_count,
        point_count: 1024,
        share: Some(share),
        standard_error,
        at_least: least,
        at_most: most,
    }
}

fn ranking() -> v1::GuessRanking {
    let mut web = v1::OpenInput {
        field_path: "rails[0].readings[2].thickness".to_owned(),
        what: "rail frame, wall at x 330 mm".to_owned(),
        unit: "mm".to_owned(),
        value: 2.2,
        low: Some(1.9),
        high: Some(2.5),
        measure:
            "ultrasonic gauge on the bare metal, calibrated on a known sheet; three readings, the \
                  least counts"
                .to_owned(),
        at_low: reached(2.21),
        at_high: reached(1.28),
        dominates: true,
        turns: turns(TurnOutcome::Turns, (0.733, 6.6), 2.824),
        ..Default::default()
    };
    web.set_law(v1::SpreadLaw::Uniform);
    let mut bush = v1::OpenInput {
        field_path: "bushes[0].radial".to_owned(),
        what: "bush rubber, stiffness across".to_owned(),
        unit: "N/mm".to_owned(),
        value: 3500.0,
        guessed: true,
        low: Some(1750.0),
        high: Some(7000.0),
        assumed_source: "common practice, no source".to_owned(),
        measure: "press the bush in a vice: dial gauge and load cell, three loads".to_owned(),
        at_low: reached(1.33),
        at_high: reached(1.99),
        dominates: true,
        turns: turns(TurnOutcome::Exceeds, (350.0, 35_000.0), 0.0),
        ..Default::default()
    };
    bush.set_law(v1::SpreadLaw::LogUniform);
    let still = v1::OpenInput {
        what: "height of the centre of gravity".to_owned(),
        at_low: reached(1.65),
        at_high: reached(1.65),
        ..Default::default()
    };
    let untried = v1::OpenInput { what: "class of the weld nut".to_owned(), ..Default::default() };
    let effects = |path: &str, first, total| v1::InputEffects {
        field_path: path.to_owned(),
        first_order: Some(first),
        first_order_error: 0.01,
        total: Some(total),
        total_error: 0.015,
    };
    v1::GuessRanking {
        title: "Light van, rear cradle, design A".to_owned(),
        verdict: v1::Verdict::DoesNotHold.into(),
        sentence: "Does not hold: 2 checks exceed, 2 hold, 1 not checked.".to_owned(),
        row: Some(wall()),
        case_name: "P1".to_owned(),
        utilisation: Some(1.65),
        inputs: vec![web, bush, still, untried],
        sample: Some(v1::GuessSample {
            input_count: 3,
            assumed_count: 1,
            point_count: 1024,
            replicate_count: 8,
            design_count: 4096,
            any: Some(chance(1024, 1.0, 0.0, (0.997, 1.0))),
            utilisation_p05: Some(1.22),
            utilisation_p50: Some(1.66),
            utilisation_p95: Some(2.3),
            rows: vec![
                v1::RowChance {
                    row: Some(slip()),
                    chance: Some(chance(1024, 1.0, 0.0, (0.997, 1.0))),
                },
                v1::RowChance {
                    row: Some(wall()),
                    chance: Some(chance(932, 0.91, 0.006, (0.898, 0.922))),
                },
                v1::RowChance {
                    row: Some(row("FL-3", "bush bolt: shear with tension", 0.31)),
                    chance: Some(chance(0, 0.0, 0.0, (0.0, 0.003))),
                },
            ],
            effects: vec![
                effects("rails[0].readings[2].thickness", 0.61, 0.64),
                effects("bushes[0].radial", 0.35, 0.38),
            ],
            ..Default::default()
        }),
        stops: vec!["no full drive backwards among the load cases".to_owned()],
        design_count: 4321,
        cautions: vec!["This is a calculation aid on the data you entered.".to_owned()],
    }
}

fn changed() -> v1::WhatIf {
    let standing = |utilisation, rear_axle_n| {
        Some(v1::WhatIfStanding {
            verdict: v1::Verdict::DoesNotHold.into(),
            front_axle_n: 8446.0,
            rear_axle_n,
            utilisation: Some(utilisation),
            row_id: "FL-2".to_owned(),
            ..Default::default()
        })
    };
    let used =
        |utilisation, case: &str| Some(v1::WhatIfUse { utilisation, case_name: case.to_owned() });
    let both = |row, before, after| v1::WhatIfRow {
        row: Some(row),
        before: used(before, "P1"),
        after: used(after, "P1"),
    };
    let mount = |id: &str, name: &str, before, after| {
        let used = |z| {
            Some(v1::WhatIfMountUse {
                force_z_n: z,
                force_case_name: "P1".to_owned(),
                movement: Some(v1::Position { z_mm: z / 1800.0, ..Default::default() }),
                movement_case_name: "V3".to_owned(),
                ..Default::default()
            })
        };
        v1::WhatIfMount {
            mount_id: id.to_owned(),
            name: name.to_owned(),
            before: used(before),
            after: used(after),
        }
    };
    v1::WhatIf {
        title: "Light van, rear cradle, design A".to_owned(),
        before: standing(3.48, 11_664.0),
        after: standing(3.7, 12_432.0),
        rows: vec![
            both(slip(), 3.48, 3.7),
            both(row("FL-3", "bush bolt: shear with tension", 0.31), 0.31, 0.312),
            both(wall(), 1.647, 1.754),
            both(row("FL-9", "bracket: bending", 0.97), 0.97, 1.03),
        ],
        mounts: vec![
            mount("FL", "front left", -5298.0, -5400.0),
            mount("RL", "rear left", 1081.0, 990.0),
        ],
        limit: Some(v1::WhatIfMassLimit {
            mass_kg: Some(41.3),
            rows: vec![row("FL-9", "bracket: bending", 0.97)],
            exceeding: vec![slip(), wall()],
            looked_to_kg: 2050.0,
        }),
        assumptions: vec!["mount rear left carries nothing; the others are whole".to_owned()],
        cautions: vec!["This is a calculation aid on the data you entered.".to_owned()],
        ..Default::default()
    }
}

fn plain(text: &str) -> String {
    anstream::adapter::strip_str(text).to_string()
}

fn ranked(look: Look, all: bool) -> String {
    let asked = Ranked { all, place_of: &|_| Some("line 53".to_owned()) };
    plain(&guesses(&ranking(), &asked, look))
}

fn told(look: Look, all: bool) -> String {
    plain(&what_if(&changed(), "80 kg at 50, 0, 620 mm more", all, look))
}

#[test]
fn the_ranking_says_what_to_measure_and_how() {
    let text = ranked(Look::new(80, false), false);
    for part in [
        "DOES NOT HOLD   Light van, rear cradle, design A",
        "  1.28 to 2.21  rail frame, wall at x 330 mm, 2.2 mm (measured); from 1.9 mm to",
        "                turns    FL-7, FR-7 rail web 2.2 mm: wall bending holds from",
        "every ratio as likely; spread assumed",
        "turns    it exceeds whatever this is, from 350 N/mm to 35000",
        "  does not move it: height of the centre of gravity",
        "  not tried, without a spread that has an answer: class of the weld nut",
        "    91.0 % ± 1.2 %  FL-7 rail web 2.2 mm: wall bending",
        "  1 row exceeds in none of the points: each in at most 0.30 % (rule of three, 95",
        "  5, 50 and 95 % of the points lie below 1.22, 1.66 and 2.30",
    ] {
        assert!(text.contains(part), "no {part} in\n{text}");
    }
    assert!(text.lines().all(|l| l.chars().count() <= 80), "{text}");
}

/// By hand: 2.2 mm over 25.4 is 0.08661 in.
#[test]
fn in_inches_the_ranking_says_the_same() {
    let text = ranked(Look::new(160, false).in_units(Units::Us), false);
    assert!(text.contains("0.08661 in (measured)"), "{text}");
}

#[test]
fn before_and_after_stand_side_by_side() {
    let text = told(Look::new(80, false), false);
    for part in [
        "What if: 80 kg at 50, 0, 620 mm more",
        "highest use                                         3.48 FL-2        3.70 FL-2",
        "rear axle at rest                                    11.66 kN         12.43 kN",
        "Exceeds only then: FL-9 bracket: bending.",
        "The first check that holds reaches its limit at 41.3 kg there: FL-9 bracket:",
        "2 checks exceed without any of it.",
        "FL-7  rail web 2.2 mm: wall bending                 1.65 P1          1.75 P1",
    ] {
        assert!(text.contains(part), "no {part} in\n{text}");
    }
    // What changes by less than can be read is left out.
    assert!(!text.contains("FL-3"), "{text}");
    assert!(told(Look::new(80, false), true).contains("FL-3"));
    assert!(text.lines().all(|l| l.chars().count() <= 80), "{text}");
}

/// Goldens: copies of what was once printed. They prove that nothing changed, not that it is right.
mod golden {
    use super::*;

    #[test]
    fn guesses_narrow() {
        let text = ranked(Look::new(80, false), false);
        assert_eq!(text, include_str!("golden/guesses_narrow.txt"));
    }

    #[test]
    fn guesses_wide() {
        let text = ranked(Look::new(160, false), true);
        assert_eq!(text, include_str!("golden/guesses_wide.txt"));
    }

    #[test]
    fn what_if_narrow() {
        let text = told(Look::new(80, true), false);
        assert_eq!(text, include_str!("golden/what_if_narrow.txt"));
    }

    #[test]
    fn what_if_wide() {
        let text = told(Look::new(160, false), true);
        assert_eq!(text, include_str!("golden/what_if_wide.txt"));
    }
}
