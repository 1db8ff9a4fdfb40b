//! Plain allowable stress: elementary mechanics with the safety factors of the trade.
//!
//! Loads as they are against yield strength over one factor or tensile strength over another.
//! Nothing in it is a standard: formulas are mechanics, factors common practice without a source.
//! It is a second opinion, and what the trade works with.

mod bolts;
#[cfg(test)]
mod examples;
mod members;
mod plate_points;
mod plates;
mod rule;
mod welds;

use fishplate_quantity::Source;

use super::Pack;
use crate::catalog::FuEdition;
use crate::clause::{Edition, FactorId, FactorSpec, Format, National};

/// The pack.
pub static PACK: Pack = Pack {
    id: "plain allowable",
    title: "Allowable stress with the factors of the trade (common practice, no source)",
    scope: "Bolts in shear, tension, both, and bearing; throats of fillet welds, sheet beside them, \
            plugs in shear; tabs, members, points of sections, gussets by first yield and buckling \
            of struts; points and buckling of plates in space; \
            sleeves and faces. Not covered: slip, prying, threads, plates between \
            walls, walls of rails, thin sections, turning of open sections sideways, fatigue.",
    editions: &[Edition {
        id: "trade",
        year: 2026,
        documents: &["common practice, no source"],
        strengths: FuEdition::ProductStandard,
    }],
    formats: &[Format::AllowableStrength],
    nationals: &[
        National {
            id: "qualified welder",
            title: "welds by a qualified welder, inspected",
            changes: &[("n_w", 2.0), ("k_w", 1.0)],
        },
        National { id: "castings", title: "cast parts", changes: &[("n_u", 3.0)] },
    ],
    factors: &[
        spec("n_y", "safety against yielding", 1.5, "safety against yielding"),
        spec("n_u", "safety against breaking and buckling", 2.0, "safety against breaking"),
        spec("n_w", "safety of welds by a welder without a test", 3.0, "safety of welds"),
        spec("k_w", "share of the strength of a weld nobody inspects", 0.85, "quality of welds"),
    ],
    bolts: bolts::BOLTS,
    welds: welds::WELDS,
    weld_runs: welds::WELD_RUNS,
    plugs: welds::PLUGS,
    members: members::MEMBERS,
    stress_points: members::STRESS_POINTS,
    tabs: plates::TABS,
    gussets: plates::GUSSETS,
    plate_points: plate_points::PLATE_POINTS,
    plate_buckling: plate_points::PLATE_BUCKLING,
    seats: plates::SEATS,
    sleeves: plates::SLEEVES,
    #[cfg(test)]
    examples: examples::EXAMPLES,
    ..Pack::SILENT
};

// In the order of the factors above.
const N_Y: FactorId = FactorId(0);
const N_U: FactorId = FactorId(1);
const N_W: FactorId = FactorId(2);
const K_W: FactorId = FactorId(3);

const fn spec(
    symbol: &'static str,
    what: &'static str,
    value: f64,
    place: &'static str,
) -> FactorSpec {
    FactorSpec { symbol, what, value, source: Source::practice(place) }
}

/// Shear strength over tensile or yield strength, by distortion energy.
const SQRT_3: f64 = 1.732_050_807_568_877_2;

#[cfg(test)]
#[test]
fn every_factor_is_at_its_place() {
    for (FactorId(place), symbol) in [(N_Y, "n_y"), (N_U, "n_u"), (N_W, "n_w"), (K_W, "k_w")] {
        assert_eq!(PACK.factors[place].symbol, symbol);
    }
}
