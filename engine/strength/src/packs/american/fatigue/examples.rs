//! Worked examples of the stress categories.

use crate::clause::input::{StressBlock, StressCategory, StressCategoryInput};
use crate::packs::american::KSI;
use crate::packs::american::examples::{Example, OWN, example, given, lrfd};

use super::category::Range;

const MPA: f64 = 1e6;

fn spectrum(ranges: &[(f64, f64)]) -> Vec<StressBlock> {
    let block = |&(mpa, n_e): &(f64, f64)| StressBlock {
        delta_sigma: mpa * MPA,
        compressed: 0.0,
        delta_tau: mpa * MPA,
        n_e,
    };
    ranges.iter().map(block).collect()
}

pub(in crate::packs::american) fn stress_categories() -> Vec<Example<StressCategoryInput>> {
    let detail = |category, ranges: &[(f64, f64)]| StressCategoryInput {
        t_p: None,
        w_leg: None,
        a_2: None,
        distance: Some(200_000e3),
        category,
        blocks: spectrum(ranges),
        origins: given(),
    };
    let three = [(90.0, 4e4), (60.0, 2e5), (35.0, 1.5e6)];
    let root = |category, t_p, w_leg, a_2| StressCategoryInput {
        t_p: Some(t_p),
        w_leg: Some(w_leg),
        a_2,
        ..detail(category, &three)
    };
    let row = |input, demand: f64, resistance: f64| {
        example(&Range, input, (demand * MPA, resistance * MPA), 1e-5, OWN, lrfd("2016"))
    };
    let printed = StressCategoryInput {
        blocks: vec![StressBlock {
            delta_sigma: 13.0 * KSI,
            compressed: 0.0,
            delta_tau: 0.0,
            n_e: 2e6,
        }],
        ..detail(StressCategory::C, &three)
    };
    vec![
        row(detail(StressCategory::D, &three), 42.833_60, 74.893_28),
        row(detail(StressCategory::E, &three), 42.833_60, 59.456_57),
        // 30 million cycles allow 65 MPa, the threshold 24 ksi whatever their number.
        row(detail(StressCategory::A, &[(100.0, 3e7)]), 100.0, 165.474_2),
        row(root(StressCategory::CFillet, 6e-3, 5e-3, None), 42.833_60, 79.229_28),
        row(root(StressCategory::CFillet, 12e-3, 5e-3, None), 42.833_60, 38.492_16),
        row(root(StressCategory::CPartial, 12e-3, 3e-3, Some(6e-3)), 42.833_60, 57.203_63),
        row(detail(StressCategory::F, &[(60.0, 1e6), (40.0, 1e7)]), 44.679_41, 49.205_50),
        // Table of allowable ranges of the editions before 2005: category C, 2 million cycles, 13 ksi.
        example(
            &Range,
            printed,
            (13.0 * KSI, 13.0 * KSI),
            6e-3,
            "AISC ASD manual, 9th edition, Table A-K4.3, from memory",
            lrfd("2016"),
        ),
    ]
}
