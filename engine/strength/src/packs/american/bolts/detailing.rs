//! Edge distances and spacings of bolts.
//!
//! Utilisation is required over provided for a least value, provided over allowed for a largest.

use fishplate_quantity::algebra::larger;
use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{BoltInput, Hole};
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::american::{IN, aisc};

/// Table J3.4, from memory: diameter and least edge distance in inches, at rolled or thermally cut
/// edges in 2005, at all edges from 2010 on.
const TABLE_J3_4: [(f64, f64); 7] = [
    (0.5, 0.75),
    (0.625, 0.875),
    (0.75, 1.0),
    (0.875, 1.125),
    (1.0, 1.25),
    (1.125, 1.5),
    (1.25, 1.625),
];

/// The tabulated distance of the next larger bolt, 1.25 d above the table. Below it the table says
/// nothing; the ratio of its smallest bolt is kept, and the row marked.
fn table_j3_4(d: f64) -> f64 {
    let (least, at_least) = TABLE_J3_4[0];
    if d < (least - 1e-6) * IN {
        return d * at_least / least;
    }
    let listed = TABLE_J3_4.iter().find(|(size, _)| d <= (size + 1e-6) * IN);
    listed.map_or(1.25 * d, |(_, distance)| distance * IN)
}

fn below_table(input: &BoltInput) -> bool {
    input.d < (TABLE_J3_4[0].0 - 1e-6) * IN
}

/// How the hole lies to an edge.
enum Toward {
    /// Round.
    Round,
    /// Round, larger than standard.
    Large,
    /// A short slot that points at the edge.
    ShortSlot,
    /// A long slot that points at the edge.
    LongSlot,
    /// A slot along the edge.
    Along,
}

/// Table J3.5, from memory: what holes other than standard ones add.
fn table_j3_5(d: f64, toward: &Toward) -> f64 {
    let up_to = |size: f64| d <= (size + 1e-6) * IN;
    match toward {
        Toward::Round | Toward::Along => 0.0,
        Toward::Large if up_to(0.875) => IN / 16.0,
        Toward::Large => IN / 8.0,
        Toward::ShortSlot if up_to(1.0) => IN / 8.0,
        Toward::ShortSlot => 3.0 * IN / 16.0,
        Toward::LongSlot => 0.75 * d,
    }
}

/// A least distance from an edge.
macro_rules! from_edge {
    ($(#[$doc:meta])* $name:ident, $source:ident = $place:literal, $title:literal / $short:literal,
     $e:ident, $toward:expr) => {
        $(#[$doc])*
        pub(super) struct $name;

        const $source: Source = aisc($place);

        impl Clause<BoltInput> for $name {
            fn reference(&self) -> Source {
                $source
            }

            fn title(&self) -> &'static str {
                $title
            }

            fn short(&self) -> &'static str {
                $short
            }

            fn kind(&self) -> Kind {
                Kind::Detailing
            }

            fn applies(&self, input: &BoltInput) -> Applicability {
                if input.$e.is_none() {
                    return Applicability::DoesNotApply("there is no edge on this side".to_owned());
                }
                Applicability::within(!below_table(input), || {
                    "AISC 360 Table J3.4 begins at 1/2 in bolts; their 1.5 diameters are asked for"
                        .to_owned()
                })
            }

            fn formula(
                &self,
                input: &BoltInput,
                factors: &Factors,
                trace: &mut Trace,
            ) -> Result<Checked, NotChecked> {
                let $e = input.$e(trace)?;
                let d = input.d;
                let what = "least distance for a standard hole of this bolt";
                let e_min = trace.input("e_min", what, Dimension::Length, table_j3_4(d), || {
                    Provenance::Table("AISC 360, Table J3.4".to_owned())
                });
                let toward: fn(Hole) -> Toward = $toward;
                let what = "what the shape of the hole adds";
                let c_2 = table_j3_5(d, &toward(input.hole));
                let c_2 = trace.input("c_2", what, Dimension::Length, c_2, || {
                    Provenance::Table("AISC 360, Table J3.5".to_owned())
                });
                step!(trace, Length, $source, "least distance";
                    required(e_min, c_2) = e_min + c_2);
                step!(trace, Ratio, $source, "required over provided";
                    utilisation(required, $e) = required / $e);
                if factors.edition().year < 2010 {
                    trace.note(|| {
                        "the distance is that of rolled or thermally cut edges; at sheared edges \
                         the edition of 2005 asks for about 1.75 diameters"
                            .to_owned()
                    });
                }
                Checked::new(required, $e, Dimension::Length, utilisation)
            }
        }
    };
}

from_edge!(
    /// Least end distance.
    EndDistance, END = "J3.4, end", "least end distance" / "end distance", e_1,
    |hole| match hole {
        Hole::Normal => Toward::Round,
        Hole::Oversized => Toward::Large,
        Hole::ShortSlotAlong => Toward::ShortSlot,
        Hole::LongSlotAlong => Toward::LongSlot,
        Hole::ShortSlotAcross | Hole::LongSlotAcross => Toward::Along,
    }
);
from_edge!(
    /// Least edge distance.
    EdgeDistance, EDGE = "J3.4, edge", "least edge distance" / "edge distance", e_2,
    |hole| match hole {
        Hole::Normal => Toward::Round,
        Hole::Oversized => Toward::Large,
        Hole::ShortSlotAcross => Toward::ShortSlot,
        Hole::LongSlotAcross => Toward::LongSlot,
        Hole::ShortSlotAlong | Hole::LongSlotAlong => Toward::Along,
    }
);

/// A least spacing.
macro_rules! least_spacing {
    ($(#[$doc:meta])* $name:ident, $source:ident = $place:literal, $title:literal / $short:literal,
     $p:ident) => {
        $(#[$doc])*
        pub(super) struct $name;

        const $source: Source = aisc($place);

        impl Clause<BoltInput> for $name {
            fn reference(&self) -> Source {
                $source
            }

            fn title(&self) -> &'static str {
                $title
            }

            fn short(&self) -> &'static str {
                $short
            }

            fn kind(&self) -> Kind {
                Kind::Detailing
            }

            fn applies(&self, input: &BoltInput) -> Applicability {
                Applicability::only_if(input.$p.is_some(), "there is no neighbour on this side")
            }

            fn formula(
                &self,
                input: &BoltInput,
                _: &Factors,
                trace: &mut Trace,
            ) -> Result<Checked, NotChecked> {
                let $p = input.$p(trace)?;
                let d = input.d(trace);
                step!(trace, Length, $source, "least spacing, two and two thirds of the bolt";
                    required(d) = 8.0 / 3.0 * d);
                step!(trace, Ratio, $source, "required over provided";
                    utilisation(required, $p) = required / $p);
                Checked::new(required, $p, Dimension::Length, utilisation)
            }
        }
    };
}

least_spacing!(
    /// Least spacing along the force.
    SpacingAlong, ALONG = "J3.3, along", "least spacing along the force" / "spacing along", p_1
);
least_spacing!(
    /// Least spacing across the force.
    SpacingAcross, ACROSS = "J3.3, across", "least spacing across the force" / "spacing across", p_2
);

/// The larger of two distances of which at least one is given.
fn larger_given(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    match (a, b) {
        (Some(a), Some(b)) => Some(larger(a, b)),
        (one, other) => one.or(other),
    }
}

/// Largest end and edge distance.
pub(super) struct LargestEdgeDistance;

const LARGEST_EDGE: Source = aisc("J3.5, edge");

impl Clause<BoltInput> for LargestEdgeDistance {
    fn reference(&self) -> Source {
        LARGEST_EDGE
    }

    fn title(&self) -> &'static str {
        "largest end or edge distance"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Largest
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        let given = larger_given(input.e_1, input.e_2).is_some();
        Applicability::only_if(given, "there is no edge near the bolt")
    }

    fn formula(
        &self,
        input: &BoltInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let t = input.t(trace);
        let missing = NotChecked::Missing { symbol: "e_1", what: "end distance" };
        let e = larger_given(input.e_1, input.e_2).ok_or(missing)?;
        let e = trace.input("e", "larger of end and edge distance", Dimension::Length, e, || {
            input.origins.of("e_1")
        });
        step!(trace, Length, LARGEST_EDGE, "largest distance";
            e_max(t) = smaller(12.0 * t, 6.0 * IN));
        step!(trace, Ratio, LARGEST_EDGE, "provided over allowed";
            utilisation(e, e_max) = e / e_max);
        Checked::new(e, e_max, Dimension::Length, utilisation)
    }
}

/// Largest spacing, for parts that are painted or do not rust.
pub(super) struct LargestSpacing;

const LARGEST_SPACING: Source = aisc("J3.5, spacing");

impl Clause<BoltInput> for LargestSpacing {
    fn reference(&self) -> Source {
        LARGEST_SPACING
    }

    fn title(&self) -> &'static str {
        "largest spacing"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Largest
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        let given = larger_given(input.p_1, input.p_2).is_some();
        Applicability::only_if(given, "there is no neighbour near the bolt")
    }

    fn formula(
        &self,
        input: &BoltInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let t = input.t(trace);
        let missing = NotChecked::Missing { symbol: "p_1", what: "spacing along axis 1" };
        let p = larger_given(input.p_1, input.p_2).ok_or(missing)?;
        let p = trace
            .input("p", "larger of the spacings", Dimension::Length, p, || input.origins.of("p_1"));
        step!(trace, Length, LARGEST_SPACING, "largest spacing of painted parts";
            p_max(t) = smaller(24.0 * t, 12.0 * IN));
        step!(trace, Ratio, LARGEST_SPACING, "provided over allowed";
            utilisation(p, p_max) = p / p_max);
        Checked::new(p, p_max, Dimension::Length, utilisation)
    }
}
