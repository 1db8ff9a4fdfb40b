//! Width over thickness of the walls: B4.1.
//!
//! Whether a wall is compact, not compact or slender decides which branch of a strength formula
//! runs; the rows of bending and compression say so. Here stands only how far the rules reach.

use fishplate_quantity::algebra::larger;
use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{MemberInput, Shape};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::american::available::once;
use crate::packs::american::{E, aisc, e_of_steel};

use super::slender::flats;

const B4: Source = aisc("B4.1, Tables B4.1a and B4.1b");

/// Walls thick enough for the rules of strength to speak about them.
pub(super) struct WithinReach;

impl Clause<MemberInput> for WithinReach {
    fn reference(&self) -> Source {
        B4
    }

    fn title(&self) -> &'static str {
        "walls thick enough for the rules of members"
    }

    fn short(&self) -> &'static str {
        "width to thickness"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        match input.shape {
            Shape::RectangularTube | Shape::RoundTube => Applicability::Applies,
            Shape::Rectangle | Shape::RoundBar => {
                Applicability::DoesNotApply("the section is solid".to_owned())
            }
            Shape::Angle | Shape::Channel | Shape::WeldedI => Applicability::DoesNotApply(
                "the rules of open sections reach to any thickness; slender walls are taken off"
                    .to_owned(),
            ),
        }
    }

    fn formula(
        &self,
        input: &MemberInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_y = once!(trace, input.f_y);
        let limit = (E / f_y).sqrt();
        let utilisation = match input.shape {
            Shape::RectangularTube => {
                let (flat_b, flat_h, t) = flats(input, trace);
                tell(trace, "wider wall, compressed", larger(flat_b, flat_h) / t, 1.40 * limit);
                step!(trace, Ratio, aisc("H3.1"), "wider wall over the limit of torsion";
                    lambda(flat_b, flat_h, t) = larger(flat_b, flat_h) / (260.0 * t));
                let bent_y = bent(trace, input.m_y_ed, "bent_y", "whether it is bent about y");
                let bent_z = bent(trace, input.m_z_ed, "bent_z", "whether it is bent about z");
                let e_steel = e_of_steel(trace);
                step!(trace, Ratio, B4, "utilisation, webs in bending over 5.70 √(E/Fy) included";
                    utilisation(lambda, flat_h, flat_b, t, f_y, bent_y, bent_z, e_steel) =
                    larger(lambda,
                        larger(bent_y * flat_h, bent_z * flat_b) / (5.70 * t * sqrt(e_steel / f_y))));
                utilisation
            }
            _ => {
                let h = once!(trace, input.h);
                let t = once!(trace, input.t);
                tell(trace, "round wall, compressed", h / t, 0.11 * E / f_y);
                let e_steel = e_of_steel(trace);
                step!(trace, Ratio, B4, "utilisation, diameter over thickness over 0.45 E/Fy";
                    utilisation(h, t, f_y, e_steel) = h / t * f_y / (0.45 * e_steel));
                utilisation
            }
        };
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}

/// One where a moment acts, else nothing.
fn bent(trace: &mut Trace, moment: f64, symbol: &'static str, what: &'static str) -> f64 {
    let value = if moment.abs() > 0.0 { 1.0 } else { 0.0 };
    trace.input(symbol, what, Dimension::Ratio, value, || {
        Provenance::Solved("from the moment of the member".to_owned())
    })
}

/// Says whether a wall in even compression is slender.
fn tell(trace: &mut Trace, wall: &'static str, lambda: f64, limit: f64) {
    trace.note(|| {
        let class = if lambda <= limit { "not slender" } else { "slender" };
        format!("{wall}: {lambda:.1} against {limit:.1}: {class}")
    });
}
