//! Spacing and edge distances of screws in sheet.

use fishplate_quantity::algebra::smaller;
use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::SheetFastenerInput;
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::american::aisi;

use super::screw::is_screw;

/// The smaller of two distances of which either may not be given.
fn smaller_given(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    match (a, b) {
        (Some(a), Some(b)) => Some(smaller(a, b)),
        (one, other) => one.or(other),
    }
}

/// Least spacing.
pub(in crate::packs::american) struct ScrewSpacing;

const SPACING: Source = aisi("J4.1");

impl Clause<SheetFastenerInput> for ScrewSpacing {
    fn reference(&self) -> Source {
        SPACING
    }

    fn title(&self) -> &'static str {
        "least spacing of screws"
    }

    fn short(&self) -> &'static str {
        "screw, spacing"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        if smaller_given(input.p_1, input.p_2).is_none() {
            return Applicability::DoesNotApply("nothing is near the screw".to_owned());
        }
        is_screw(input)
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let missing = NotChecked::Missing { symbol: "p_1", what: "smaller of the spacings" };
        let p = smaller_given(input.p_1, input.p_2).ok_or(missing)?;
        let p = trace.input("p", "smaller of the spacings", Dimension::Length, p, || {
            input.origins.of("p_1")
        });
        let d = input.d(trace);
        step!(trace, Length, SPACING, "least distance"; required(d) = 3.0 * d);
        step!(trace, Ratio, SPACING, "required over provided";
            utilisation(required, p) = required / p);
        Checked::new(required, p, Dimension::Length, utilisation)
    }
}

/// Least edge distance.
pub(in crate::packs::american) struct ScrewEdge;

const EDGE: Source = aisi("J4.2");

impl Clause<SheetFastenerInput> for ScrewEdge {
    fn reference(&self) -> Source {
        EDGE
    }

    fn title(&self) -> &'static str {
        "least edge distance of screws"
    }

    fn short(&self) -> &'static str {
        "screw, edge"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        if smaller_given(input.e_1, input.e_2).is_none() {
            return Applicability::DoesNotApply("nothing is near the screw".to_owned());
        }
        is_screw(input)
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let missing =
            NotChecked::Missing { symbol: "e_1", what: "smaller of end and edge distance" };
        let e = smaller_given(input.e_1, input.e_2).ok_or(missing)?;
        let e = trace.input("e", "smaller of end and edge distance", Dimension::Length, e, || {
            input.origins.of("e_1")
        });
        let d = input.d(trace);
        step!(trace, Length, EDGE, "least distance"; required(d) = 1.5 * d);
        step!(trace, Ratio, EDGE, "required over provided";
            utilisation(required, e) = required / e);
        Checked::new(required, e, Dimension::Length, utilisation)
    }
}
