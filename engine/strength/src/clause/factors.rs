//! Partial factors: no default, every project states its own.

use fishplate_quantity::Trace;

use crate::catalog::FuEdition;

use super::input::input;

input! {
    /// The factors of a rule pack as a project uses them, pure numbers.
    pub struct Factors {
        numbers {
            gamma_m0: Ratio, Demand, Positive, "partial factor for yielding of cross-sections";
            gamma_m1: Ratio, Demand, Positive, "partial factor for buckling";
            gamma_m2: Ratio, Demand, Positive, "partial factor for fracture, bolts and welds";
            gamma_m3: Ratio, Demand, Positive, "partial factor for slip, ultimate limit state";
            gamma_m3_ser: Ratio, Demand, Positive, "partial factor for slip, serviceability";
            gamma_m5: Ratio, Demand, Positive, "partial factor for joints of hollow sections";
            gamma_m7: Ratio, Demand, Positive, "partial factor for preload";
        }
        maybe {}
        choices {
            /// Which tensile strengths of structural steel the inputs were built with.
            edition: FuEdition;
        }
    }
}

impl Factors {
    /// Puts beside a derivation which tensile strengths it rests on.
    pub(crate) fn note_edition(&self, trace: &mut Trace) {
        trace.note(|| {
            match self.edition {
                FuEdition::ProductStandard => {
                    "tensile strengths are the least of the product standards"
                }
                FuEdition::En1993Of2005 => {
                    "tensile strengths are those of EN 1993-1-1:2005, Table 3.1"
                }
            }
            .to_owned()
        });
    }
}
