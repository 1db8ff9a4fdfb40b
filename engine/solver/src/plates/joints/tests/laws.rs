//! Faces that press and never pull, on beams and rigid blocks, against closed forms.

use super::super::condensed::Condensed;
use super::super::law::{Block, Law, Owner, Stage};
use super::super::row::Row;
use super::super::search::Search;
use super::super::settle::{Settled, Settling};
use super::{Entry, Full, add_row, close};
use crate::plates::model::ContactId;
use proptest::prelude::*;
use std::collections::BTreeSet;

fn pressing(terms: Vec<(usize, f64)>, stiffness: f64, gap: f64) -> Block {
    Block {
        rows: vec![Row { terms, stiffness }],
        law: Law::Pressing { gap },
        owner: Owner::Contact(ContactId(0)),
    }
}

/// Slender beam along x: movements 2 i (up) and 2 i + 1 (slope) of node i.
fn beam(x: &[f64], ei: f64, to: Entry<'_>) {
    for (i, ends) in x.windows(2).enumerate() {
        let l = ends[1] - ends[0];
        let k = ei / (l * l * l);
        let matrix = [
            [12.0, 6.0 * l, -12.0, 6.0 * l],
            [6.0 * l, 4.0 * l * l, -6.0 * l, 2.0 * l * l],
            [-12.0, -6.0 * l, 12.0, -6.0 * l],
            [6.0 * l, 2.0 * l * l, -6.0 * l, 4.0 * l * l],
        ];
        for (a, row) in matrix.iter().enumerate() {
            for (b, value) in row.iter().enumerate() {
                to(2 * i + a, 2 * i + b, k * value);
            }
        }
    }
}

fn settle(
    size: usize,
    structure: &dyn Fn(Entry<'_>),
    held: &[usize],
    blocks: &[Block],
    load: Vec<(usize, f64)>,
) -> Settled {
    let held: BTreeSet<usize> = held.iter().copied().collect();
    let base = Full::new(
        size,
        &|to| {
            structure(to);
            blocks.iter().flat_map(|b| &b.rows).for_each(|row| add_row(row, to));
        },
        &held,
        vec![load],
    );
    Settling::new(&base, blocks).unwrap().case(0).unwrap()
}

/// Statics of a beam on two supports, and its bending line; supports press only.
#[test]
fn a_beam_lifts_off_its_middle_support() {
    let x = [0.0, 0.5, 1.0, 1.5, 2.0, 2.4];
    let ei = 210e9 * 2e5 * 1e-12;
    let k = 1e11;
    let supports: Vec<Block> =
        [0, 4, 8].iter().map(|&w| pressing(vec![(w, 1.0)], k, 0.0)).collect();
    let load = vec![(2, -1000.0), (10, -3000.0)];
    let settled = settle(12, &|to| beam(&x, ei, to), &[], &supports, load);
    let reactions: Vec<f64> = settled.block_forces.iter().map(|f| f[0]).collect();
    // Moments about the outer supports: R_A = 150 N, R_C = 3850 N.
    close(reactions[0], 150.0, 1e-6);
    close(reactions[1], 0.0, 1e-6);
    close(reactions[2], 3850.0, 1e-6);
    // Integration of the bending line, 4.4146825 mm up at B, 7.6547619 mm down at the tip; on top
    // of it the beam sinks on its springs.
    let (at_a, at_c) = (150.0 / k, 3850.0 / k);
    close(settled.block_movements[1][0], 4.4146825e-3 - 0.5 * (at_a + at_c), 1e-10);
    close(settled.movements[10], -7.6547619e-3 - at_c - 0.2 * (at_c - at_a), 1e-10);
}

/// A rigid block 300 mm x 120 mm on a bed of strips; movements: down of the middle, tilt.
fn block_on_strips(strips: usize) -> (Settled, f64, f64) {
    let (length, width, modulus) = (0.3, 0.12, 1e11);
    let step = length / strips as f64;
    let blocks: Vec<Block> = (0..strips)
        .map(|i| {
            let x = -0.5 * length + (i as f64 + 0.5) * step;
            pressing(vec![(0, -1.0), (1, -x)], modulus * width * step, 0.0)
        })
        .collect();
    let load = vec![(0, 50e3), (1, 50e3 * 0.095)];
    let settled = settle(2, &|_| {}, &[], &blocks, load);
    let pressed = settled.block_forces.iter().filter(|f| f[0] > 1e-6).count();
    let edge = settled.movements[0] + settled.movements[1] * 0.5 * length;
    (settled, pressed as f64 * step, modulus * edge)
}

/// Footing outside its kern (any textbook of foundations): contact length `3 (b / 2 - e)`, edge
/// pressure `2 N / (3 w (b / 2 - e))`.
#[test]
fn a_block_loaded_outside_its_kern_opens() {
    let (settled, length, edge) = block_on_strips(200);
    close(length, 0.165, 0.005 * 0.165);
    close(edge, 5.0505051e6, 0.01 * 5.05e6);
    assert!(!settled.report.one_at_a_time);
}

/// With 50 strips the neutral line falls on the middle of a strip, which makes a plain exchange of
/// sets go round for ever.
#[test]
fn a_tie_on_the_neutral_line_ends() {
    let (settled, length, edge) = block_on_strips(50);
    close(length, 0.165, 0.006 + 1e-9);
    close(edge, 5.0505051e6, 0.01 * 5.05e6);
    assert!(settled.report.rounds < 60);
    let sum: f64 = settled.block_forces.iter().map(|f| f[0]).sum();
    close(sum, 50e3, 1e-6);
}

/// Bracket foot 200 mm high, 80 mm wide, three rows of two bolts of 84.3 mm2 in bending; the
/// neutral axis from `b c^2 / 2 = sum n A (d - c)` (neutral-axis method of textbooks).
#[test]
fn a_foot_in_bending_finds_its_neutral_axis() {
    let (strips, height, width, k) = (200usize, 0.2, 0.08, 1e12);
    let rows = [0.040, 0.110, 0.170];
    let step = height / strips as f64;
    // Movements: off the ground at the bottom edge, tilt that opens the top.
    let blocks: Vec<Block> = (0..strips)
        .map(|i| {
            let d = (i as f64 + 0.5) * step;
            pressing(vec![(0, 1.0), (1, d)], k * width * step, 0.0)
        })
        .collect();
    let bolts = rows.map(|d| Row { terms: vec![(0, 1.0), (1, d)], stiffness: 2.0 * k * 84.3e-6 });
    let load = vec![(1, 4000.0)];
    let settled = settle(2, &|to| bolts.iter().for_each(|b| add_row(b, to)), &[], &blocks, load);
    let [off, tilt] = [settled.movements[0], settled.movements[1]];
    close(-off / tilt, 30.943758e-3, 0.005 * 30.9e-3);
    for (bolt, expected) in bolts.iter().zip([596.69166, 5208.8053, 9162.0456]) {
        close(0.5 * bolt.force(&settled.movements), expected, 0.5);
    }
}

/// T-stub, half a flange as a beam guided at the web, bolt spring, hard contact beyond the bolt:
/// `Q / V = (3 m^2 n - 6 E I / k) / (2 n^2 (3 m + n) + 6 E I / k)`, by the force method.
#[test]
fn a_flange_pries_its_bolt() {
    let (m, n, v) = (0.032, 0.036, 20e3);
    let ei = 210e9 * 0.09 * 0.012f64.powi(3) / 12.0;
    let expected = (3643.542, 0.11469952e-3);
    for parts in [1usize, 4, 16] {
        let x: Vec<f64> = (0..=parts)
            .map(|i| m * i as f64 / parts as f64)
            .chain((1..=parts).map(|i| m + n * i as f64 / parts as f64))
            .collect();
        let bolt = Row { terms: vec![(2 * parts, 1.0)], stiffness: 4e8 };
        let blocks: Vec<Block> =
            (1..x.len()).map(|i| pressing(vec![(2 * i, 1.0)], 1e14, 0.0)).collect();
        let settled = settle(
            2 * x.len(),
            &|to| {
                beam(&x, ei, to);
                add_row(&bolt, to);
            },
            &[1],
            &blocks,
            vec![(0, v)],
        );
        let prying: f64 = settled.block_forces.iter().map(|f| f[0]).sum();
        close(prying, expected.0, 1e-4 * expected.0);
        close(bolt.force(&settled.movements), v + expected.0, 1e-4 * v);
        close(settled.movements[0], expected.1, 1e-4 * expected.1);
    }
}

/// A mass pushed over a rough floor: held until the push reaches the coefficient times the weight,
/// whichever way it points; with a spring behind it the rest goes into the spring.
#[test]
fn friction_holds_up_to_its_limit_in_every_direction() {
    let (weight, mu, behind) = (1000.0, 0.3, 1e6);
    let owner = Owner::Contact(ContactId(0));
    let k = 1e9;
    let rub = |i: usize| Row { terms: vec![(i, 1.0)], stiffness: k };
    let blocks = vec![
        pressing(vec![(2, 1.0)], k, 0.0),
        Block {
            rows: vec![rub(0), rub(1)],
            law: Law::Friction { pressed_by: 0, coefficient: mu },
            owner,
        },
    ];
    for degrees in [0.0f64, 30.0, 137.0, 250.0] {
        let (s, c) = degrees.to_radians().sin_cos();
        for push in [299.0, 500.0] {
            let load = vec![(0, push * c), (1, push * s), (2, -weight)];
            let springs = [0, 1].map(|i| Row { terms: vec![(i, 1.0)], stiffness: behind });
            let settled =
                settle(3, &|to| springs.iter().for_each(|r| add_row(r, to)), &[], &blocks, load);
            let [x, y] = settled.block_forces[1];
            let rubbing = (x * x + y * y).sqrt();
            if push > 300.0 {
                close(rubbing, 300.0, 1e-5);
                close(settled.movements[0], 200.0 * c / behind, 1e-9);
                close(settled.movements[1], 200.0 * s / behind, 1e-9);
            } else {
                // Stick spring and spring behind share the push.
                close(rubbing, push * k / (k + behind), 1e-5);
            }
        }
    }
}

/// A shank in a hole with play: free within the radius, then pushed back along the movement.
#[test]
fn play_is_round() {
    let (k, radius) = (1e8, 1e-3);
    let row = |i: usize| Row { terms: vec![(i, 1.0)], stiffness: k };
    let blocks = vec![Block {
        rows: vec![row(0), row(1)],
        law: Law::Play { radius },
        owner: Owner::Contact(ContactId(0)),
    }];
    let soft = [0, 1].map(|i| Row { terms: vec![(i, 1.0)], stiffness: 1e5 });
    for degrees in [0.0f64, 22.5, 100.0, 211.0] {
        let (s, c) = degrees.to_radians().sin_cos();
        for push in [50.0, 5000.0] {
            let load = vec![(0, push * c), (1, push * s)];
            let settled =
                settle(2, &|to| soft.iter().for_each(|r| add_row(r, to)), &[], &blocks, load);
            let [x, y] = [settled.movements[0], settled.movements[1]];
            // Two springs side by side, one of which starts at the radius.
            let expected = if push > 100.0 { (push + k * radius) / (k + 1e5) } else { push / 1e5 };
            close(x, expected * c, 1e-12);
            close(y, expected * s, 1e-12);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]

    /// The search that cuts its steps finds what the quick one finds, and both fulfil the laws.
    #[test]
    fn cut_steps_end_at_the_same_forces(
        loads in prop::collection::vec(-1.0f64..1.0, 12),
        gaps in prop::collection::vec(-1e-5f64..1e-4, 12),
        limit in 0.0f64..400.0,
    ) {
        let x: Vec<f64> = (0..12).map(|i| 0.05 * f64::from(i)).collect();
        let blocks: Vec<Block> = (0..12)
            .map(|i| {
                let row = Row { terms: vec![(2 * i, 1.0)], stiffness: 1e8 };
                Block { rows: vec![row], law: Law::Pressing { gap: gaps[i] },
                        owner: Owner::Contact(ContactId(0)) }
            })
            .collect();
        let soft: Vec<Row> =
            (0..24).map(|i| Row { terms: vec![(i, 1.0)], stiffness: 1e4 }).collect();
        let base = Full::new(24, &|to| {
            beam(&x, 2000.0, to);
            soft.iter().for_each(|r| add_row(r, to));
            blocks.iter().flat_map(|b| &b.rows).for_each(|r| add_row(r, to));
        }, &BTreeSet::new(), vec![]);
        let condensed = Condensed::new(&base, &blocks);
        let load: Vec<(usize, f64)> = (0..12).map(|i| (2 * i, 1e4 * loads[i])).collect();
        let moved = Condensed::movements(&blocks, &base.under(&load));
        let of_gaps = condensed.times(&gaps);
        let fixed: Vec<f64> = (0..12).map(|i| -of_gaps[i] - 1e8 * moved[i]).collect();
        // Every third presses as given, so that constants are met too.
        let stages: Vec<Stage> = (0..12)
            .map(|i| if i % 3 == 2 { Stage::Given(limit) } else { Stage::Pressing })
            .collect();
        let quick = Search::new(&condensed, &stages, &fixed, 1e4);
        let slow = Search { quick: 0, ..Search::new(&condensed, &stages, &fixed, 1e4) };
        let a = quick.run(vec![0.0; 12]).unwrap();
        let b = slow.run(vec![0.0; 12]).unwrap();
        prop_assert!(b.cut || b.rounds == 0);
        for i in 0..12 {
            let force = |s: &[f64]| condensed.times(s)[i] + fixed[i];
            let (fa, fb) = (force(&a.slip), force(&b.slip));
            prop_assert!((fa - fb).abs() < 1e-4, "{fa} {fb}");
            if stages[i] == Stage::Pressing {
                prop_assert!(fa > -1e-4);
                let e = a.slip[i] - fa / 1e8;
                prop_assert!(e * fa < 1e-6 || e < 0.0);
                prop_assert!(e < 0.0 || fa < 1e-4);
            }
        }
    }
}
