//! Sizing: the least leg by hand statics, the same set as every design on its own, the nearest miss.
//!
//! Throat of two upright lines: as in `welds`; its stress goes with 1/leg, so the leg that just holds
//! is q √2 over the allowed stress (EN 1993-1-8:2005, 4.5.3.3).

use std::collections::BTreeSet;

use fishplate_proto::v1;
use fishplate_tests::refusal::Refusal;
use fishplate_tests::service;

use crate::bench::{FORWARD, GAMMA, UP, assert_told};
use crate::many::{base, changes, leg, open, option, thickness, told};
use crate::welds::two_lines;

/// Simplified method with fu 360 MPa, beta_w 0.8, gamma_M2 1.25: MPa.
const ALLOWED: f64 = 360.0 / (1.732_050_807_568_877 * 0.8 * 1.25);

fn legs(values: &[f64]) -> v1::OpenQuantity {
    open("leg", values.iter().map(|l| option(&format!("{l} mm"), changes(leg(*l)))).collect())
}

fn sheets(values: &[f64]) -> v1::OpenQuantity {
    open(
        "sheet",
        values.iter().map(|t| option(&format!("{t} mm"), changes(thickness(*t)))).collect(),
    )
}

fn asked(quantities: Vec<v1::OpenQuantity>, by: v1::Measure) -> v1::SizeProjectRequest {
    let space = v1::DesignSpace { base: Some(base()), quantities };
    let mut asked = v1::SizeProjectRequest { space: Some(space), top: 1000, ..Default::default() };
    asked.push_by(by);
    asked
}

#[test]
fn the_least_leg_that_holds_is_that_of_hand_statics() {
    let needed = two_lines(GAMMA * FORWARD, GAMMA * UP) * 2.0_f64.sqrt() / ALLOWED;
    // Hundredths of a millimetre round the leg that just holds, the heavy ones first.
    let around: Vec<f64> =
        (-4..=4).rev().map(|k| ((needed * 100.0).floor() + f64::from(k)) / 100.0).collect();
    let sizing =
        service::size(&asked(vec![legs(&around)], v1::Measure::WeldVolume)).expect("an answer");
    let held: Vec<f64> = sizing.found.iter().map(|d| around[d.choice[0] as usize]).collect();
    let by_hand: Vec<f64> = around.iter().rev().copied().filter(|l| *l >= needed).collect();
    assert_eq!(held, by_hand, "{needed} needed; {}", sizing.sentence);
    // Two sides of two lines of 80 mm: leg²/2 by 320 mm of metal.
    let best = &sizing.found[0];
    let metal = by_hand[0] * by_hand[0] / 2.0 * 320.0;
    assert!((best.weld_volume_mm3 - metal).abs() <= 1e-6 * metal, "{}", best.weld_volume_mm3);
    assert!((best.utilisation - needed / by_hand[0]).abs() <= 1e-6, "{}", best.utilisation);
    let better = sizing.better.expect("how the lighter were decided");
    assert_eq!(better.cut + better.run, (around.len() - by_hand.len()) as u64);
    assert_eq!(better.holding + better.open, 0);
}

#[test]
fn a_sizing_holds_what_every_check_holds() {
    let quantities = || vec![legs(&[0.3, 1.0, 2.0, 4.0]), sheets(&[5.0, 3.0, 1.5, 0.8])];
    let sizing = service::size(&asked(quantities(), v1::Measure::Mass)).expect("an answer");
    let space = v1::DesignSpace { base: Some(base()), quantities: quantities() };
    let request = v1::CheckDesignsRequest { space: Some(space), ..Default::default() };
    let (blocks, _) = told(&request);
    let verdicts: Vec<i32> = blocks.into_iter().flat_map(|b| b.verdicts).collect();
    let held: BTreeSet<Vec<u32>> = (0..16_u32)
        .filter(|n| {
            let verdict = verdicts[*n as usize];
            verdict == v1::Verdict::Holds as i32 || verdict == v1::Verdict::Provisional as i32
        })
        .map(|n| vec![n / 4, n % 4])
        .collect();
    assert!(!held.is_empty() && held.len() < 16, "{held:?}");
    let found: BTreeSet<Vec<u32>> = sizing.found.iter().map(|d| d.choice.clone()).collect();
    assert_eq!(found, held);
    let masses: Vec<f64> = sizing.found.iter().map(|d| d.mass_kg).collect();
    assert!(masses.windows(2).all(|w| w[0] <= w[1]), "{masses:?}");
    // No design of the front is better in both, and each that is left out is beaten by one.
    for one in &sizing.found {
        let beaten =
            |by: &v1::SizedDesign| by.mass_kg <= one.mass_kg && by.utilisation <= one.utilisation;
        assert!(sizing.front.iter().any(beaten), "{one:?}");
    }
    for pair in sizing.front.windows(2) {
        assert!(pair[0].mass_kg < pair[1].mass_kg && pair[0].utilisation > pair[1].utilisation);
    }
    let tally = sizing.tally.expect("a tally");
    assert_eq!(tally.cut + tally.known + tally.run + tally.not_buildable, 16);
    assert_eq!(tally.holding + tally.open, held.len() as u64);
    let confirmed = &sizing.confirmed[0];
    assert_eq!(confirmed.choice, sizing.found[0].choice);
    assert!((confirmed.utilisation - sizing.found[0].utilisation).abs() < 1e-12);
}

#[test]
fn where_none_holds_the_nearest_miss_is_told_with_what_blocks() {
    // All legs too small: the largest misses least, by needed / leg. None is thinner than can be laid.
    let needed = two_lines(GAMMA * FORWARD, GAMMA * UP) * 2.0_f64.sqrt() / ALLOWED;
    let small = [0.93, 0.98, 0.95].map(|share| needed * share);
    let sizing = service::size(&asked(vec![legs(&small)], v1::Measure::Mass)).expect("an answer");
    assert!(sizing.found.is_empty() && sizing.confirmed.is_empty());
    let miss = sizing.miss.expect("a miss");
    let design = miss.design.expect("its design");
    assert_eq!(design.choice, [1]);
    assert!((design.utilisation - 1.0 / 0.98).abs() <= 1e-6, "{}", design.utilisation);
    let blocks = miss.always.iter().find(|row| (row.utilisation - 1.0 / 0.98).abs() <= 1e-6);
    let row = blocks.and_then(|row| row.row.as_ref()).expect("what blocks");
    assert!(row.component.starts_with("weld.foot"), "{row:?}");
}

#[test]
fn what_cannot_be_asked_is_told() {
    let refusal = |asked: &v1::SizeProjectRequest| {
        Refusal::of(&service::size(asked).expect_err("a question that cannot be asked"))
    };
    assert_told(&refusal(&v1::SizeProjectRequest::default()), "space", &["required"]);
    let none = asked(Vec::new(), v1::Measure::Mass);
    assert_told(&refusal(&none), "space.quantities", &["at least one"]);
    let mut costs = asked(vec![legs(&[2.0, 3.0])], v1::Measure::Cost);
    costs.top = 5000;
    let told = refusal(&costs);
    assert_told(&told, "rates", &["required"]);
    assert_told(&told, "top", &["1000"]);
}
