//! Edge distances and spacings of bolts.
//!
//! Utilisation is required over provided for a least value, provided over allowed for a largest.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{BoltInput, Hole};
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::{MM, THIN, joints, sheet};

/// A least distance as a multiple of the hole diameter.
macro_rules! least_distance {
    ($(#[$doc:meta])* $name:ident, $source:ident = $place:expr, $title:literal / $short:literal,
     $distance:ident, $factor:expr, $sheet:expr) => {
        $(#[$doc])*
        pub(super) struct $name;

        const $source: Source = $place;

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
                if $sheet && input.t >= THIN {
                    return Applicability::DoesNotApply("the ply is 4 mm or thicker".to_owned());
                }
                let given = input.$distance.is_some();
                Applicability::only_if(given, "there is no edge or neighbour on this side")
            }

            fn formula(
                &self,
                input: &BoltInput,
                _: &Factors,
                trace: &mut Trace,
            ) -> Result<Checked, NotChecked> {
                let $distance = input.$distance(trace)?;
                let d_0 = input.d_0(trace);
                let factor: fn(Hole) -> f64 = $factor;
                let what = "least distance over the hole diameter";
                let k_min = factor(input.hole);
                let k_min = trace.input("k_min", what, Dimension::Ratio, k_min, || {
                    fishplate_quantity::Provenance::Table(format!(
                        "{}, {}", $source.document, $source.place
                    ))
                });
                step!(trace, Length, $source, "least distance";
                    required(k_min, d_0) = k_min * d_0);
                step!(trace, Ratio, $source, "required over provided";
                    utilisation(required, $distance) = required / $distance);
                Checked::new(required, $distance, Dimension::Length, utilisation)
            }
        }
    };
}

/// Least distance of slots from ends and edges is larger.
fn from_edge(hole: Hole) -> f64 {
    match hole {
        Hole::Normal | Hole::Oversized => 1.2,
        Hole::ShortSlotAcross
        | Hole::LongSlotAcross
        | Hole::ShortSlotAlong
        | Hole::LongSlotAlong => 1.5,
    }
}

least_distance!(
    /// Least end distance.
    EndDistance, END = joints("Table 3.3, least e1"), "least end distance" / "end distance", e_1, from_edge, false
);
least_distance!(
    /// Least edge distance.
    EdgeDistance, EDGE = joints("Table 3.3, least e2"), "least edge distance" / "edge distance", e_2, from_edge, false
);
least_distance!(
    /// Least spacing along the force.
    SpacingAlong, ALONG = joints("Table 3.3, least p1"), "least spacing along the force" / "spacing along",
    p_1, |_| 2.2, false
);
least_distance!(
    /// Least spacing across the force.
    SpacingAcross, ACROSS = joints("Table 3.3, least p2"), "least spacing across the force" / "spacing across",
    p_2, |_| 2.4, false
);
least_distance!(
    /// Least edge distance in thin sheet.
    SheetEdgeDistance, SHEET_EDGE = sheet("Table 8.4, least e2"),
    "least edge distance in thin sheet" / "edge distance, sheet", e_2, |_| 1.5, true
);
least_distance!(
    /// Least spacing along the force in thin sheet.
    SheetSpacingAlong, SHEET_ALONG = sheet("Table 8.4, least p1"),
    "least spacing along the force in thin sheet" / "spacing along, sheet", p_1, |_| 3.0, true
);
least_distance!(
    /// Least spacing across the force in thin sheet.
    SheetSpacingAcross, SHEET_ACROSS = sheet("Table 8.4, least p2"),
    "least spacing across the force in thin sheet" / "spacing across, sheet", p_2, |_| 3.0, true
);

/// The larger of two distances of which at least one is given.
fn larger_given(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    match (a, b) {
        (Some(a), Some(b)) => Some(fishplate_quantity::algebra::larger(a, b)),
        (one, other) => one.or(other),
    }
}

/// Largest end and edge distance where the plies must stay closed against wet.
pub(super) struct LargestEdgeDistance;

const LARGEST_EDGE: Source = joints("Table 3.3, largest e");

impl Clause<BoltInput> for LargestEdgeDistance {
    fn reference(&self) -> Source {
        LARGEST_EDGE
    }

    fn title(&self) -> &'static str {
        "largest end or edge distance in the weather"
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
        step!(trace, Length, LARGEST_EDGE, "largest distance"; e_max(t) = 4.0 * t + 40.0 * MM);
        step!(trace, Ratio, LARGEST_EDGE, "provided over allowed";
            utilisation(e, e_max) = e / e_max);
        Checked::new(e, e_max, Dimension::Length, utilisation)
    }
}

/// Largest spacing.
pub(super) struct LargestSpacing;

const LARGEST_SPACING: Source = joints("Table 3.3, largest p");

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
        step!(trace, Length, LARGEST_SPACING, "largest spacing";
            p_max(t) = smaller(14.0 * t, 200.0 * MM));
        step!(trace, Ratio, LARGEST_SPACING, "provided over allowed";
            utilisation(p, p_max) = p / p_max);
        Checked::new(p, p_max, Dimension::Length, utilisation)
    }
}
