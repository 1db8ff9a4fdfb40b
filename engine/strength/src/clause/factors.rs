//! Partial factors: no default, every project states its own.

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
            /// Which table the strengths of the structural steels were read from.
            edition: StrengthEdition;
        }
    }
}

/// Which table gives the strengths of structural steels: it moves welds and bearing by up to 8 %.
///
/// Tensile strength of S355 up to 16 mm: 510, 490 or 470 MPa (from memory of the three documents).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StrengthEdition {
    /// EN 1993-1-1:2005, Table 3.1 as first printed.
    En1993Of2005,
    /// EN 1993-1-1:2005 with its amendment of 2014.
    En1993Amended2014,
    /// The least values of the product standard EN 10025-2: the safe side.
    En10025Minimum,
}
