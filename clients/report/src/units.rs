//! The units an answer is printed in: those of the wire, or inches and pounds.
//!
//! The wire keeps its units; only what people read is converted, and only by the table below. In
//! US units every force is told in lbf, large or small: one unit in a column, and none to choose.
//!
//! ```
//! use fishplate_report::Units;
//!
//! assert_eq!(Units::Us.of(25.4, "mm"), (1.0, "in"));
//! assert_eq!(Units::Us.text("the 3 mm web yields"), "the 0.118 in web yields");
//! ```

use fishplate_quantity::units::{INCH, POUND, POUND_FORCE};

mod answer;
mod rewrite;

/// A system of units to print in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// As the wire has them: mm, N, MPa, N m, kg.
    Si,
    /// in, lbf, ksi, lbf ft, lb.
    Us,
}

/// A unit of the wire and the one it is printed in, each with its size in SI.
struct Pair {
    wire: &'static str,
    wire_size: f64,
    us: &'static str,
    us_size: f64,
}

const fn pair(wire: &'static str, wire_size: f64, us: &'static str, us_size: f64) -> Pair {
    Pair { wire, wire_size, us, us_size }
}

const FOOT: f64 = 12.0 * INCH;
const IN2: f64 = INCH * INCH;
const KSI: f64 = 1e3 * POUND_FORCE / IN2;

/// Units of the wire and of texts in answers, the longest spelling of each beginning first. All
/// sizes follow from the inch, the pound and the pound-force, whose source stands beside them.
const PAIRS: [Pair; 36] = [
    pair("N mm/rad", 1e-3, "lbf in/rad", POUND_FORCE * INCH),
    pair("kN m/rad", 1e3, "lbf ft/rad", POUND_FORCE * FOOT),
    pair("N m/rad", 1.0, "lbf ft/rad", POUND_FORCE * FOOT),
    pair("N/mm²", 1e6, "ksi", KSI),
    pair("N/mm2", 1e6, "ksi", KSI),
    pair("N mm²", 1e-6, "lbf in²", POUND_FORCE * IN2),
    pair("N m²", 1.0, "lbf in²", POUND_FORCE * IN2),
    pair("kN/mm", 1e6, "lbf/in", POUND_FORCE / INCH),
    pair("N/mm", 1e3, "lbf/in", POUND_FORCE / INCH),
    pair("kN/m", 1e3, "lbf/in", POUND_FORCE / INCH),
    pair("N/m", 1.0, "lbf/in", POUND_FORCE / INCH),
    pair("kN m", 1e3, "lbf ft", POUND_FORCE * FOOT),
    pair("N mm", 1e-3, "lbf in", POUND_FORCE * INCH),
    pair("N m", 1.0, "lbf ft", POUND_FORCE * FOOT),
    pair("kg m²", 1.0, "lb ft²", POUND * FOOT * FOOT),
    pair("kg/m3", 1.0, "lb/ft³", POUND / (FOOT * FOOT * FOOT)),
    pair("kg/m", 1.0, "lb/ft", POUND / FOOT),
    pair("m/s²", 1.0, "ft/s²", FOOT),
    pair("mm²", 1e-6, "in²", IN2),
    pair("mm³", 1e-9, "in³", IN2 * INCH),
    pair("mm⁴", 1e-12, "in⁴", IN2 * IN2),
    pair("mm⁶", 1e-18, "in⁶", IN2 * IN2 * IN2),
    pair("mm2", 1e-6, "in²", IN2),
    pair("mm3", 1e-9, "in³", IN2 * INCH),
    pair("mm4", 1e-12, "in⁴", IN2 * IN2),
    pair("mm6", 1e-18, "in⁶", IN2 * IN2 * IN2),
    pair("cm²", 1e-4, "in²", IN2),
    pair("MPa", 1e6, "ksi", KSI),
    pair("GPa", 1e9, "ksi", KSI),
    pair("km", 1e3, "mi", 5280.0 * FOOT),
    pair("kN", 1e3, "lbf", POUND_FORCE),
    pair("mm", 1e-3, "in", INCH),
    pair("kg", 1.0, "lb", POUND),
    pair("1e-6/K", 1e-6, "1e-6/°F", 1.8e-6),
    pair("N", 1.0, "lbf", POUND_FORCE),
    pair("m", 1.0, "ft", FOOT),
];

impl Units {
    /// `value`, which is in the unit `wire`, in the unit it is printed in.
    #[must_use]
    pub fn of(self, value: f64, wire: &str) -> (f64, &str) {
        match (self, PAIRS.iter().find(|p| p.wire == wire)) {
            (Self::Us, Some(pair)) => (value * pair.wire_size / pair.us_size, pair.us),
            _ => (value, wire),
        }
    }

    /// The unit that a value in `wire` is printed in.
    #[must_use]
    pub fn unit(self, wire: &str) -> &str {
        self.of(1.0, wire).1
    }

    /// `value` alone, in the unit it is printed in.
    #[must_use]
    pub fn value(self, value: f64, wire: &str) -> f64 {
        self.of(value, wire).0
    }

    /// A text of the service, every number that bears a unit of the wire in the unit it is
    /// printed in.
    #[must_use]
    pub fn text(self, text: &str) -> String {
        match self {
            Self::Si => text.to_owned(),
            Self::Us => rewrite::rewrite(text),
        }
    }

    /// What one needs beside the units to follow a sum on paper.
    #[must_use]
    pub fn remark(self) -> &'static str {
        match self {
            Self::Si => "1 MPa = 1 N/mm²; 1 N m = 1000 N mm.",
            Self::Us => {
                "1 ksi = 1000 lbf/in²; 1 lbf ft = 12 lbf in; 1 lb at 1 g weighs 1 lbf, so that \
                 1 lb · 1 ft/s² = 0.03108 lbf."
            }
        }
    }
}

/// The size in SI of a unit that numbers of a derivation bear; nothing where it is not known.
pub(crate) fn si_size(unit: &str) -> Option<f64> {
    match unit {
        "" | "rad" | "s" => Some(1.0),
        "°" | "deg" => Some(1f64.to_radians()),
        unit => PAIRS.iter().find(|p| p.wire == unit).map(|p| p.wire_size),
    }
}

/// The unit of the wire that `text` begins with, and how long it is there.
fn leading_unit(text: &str) -> Option<(&'static Pair, usize)> {
    PAIRS.iter().find_map(|pair| {
        // A blank within a unit may be one that does not break.
        let mut rest = text;
        for (index, word) in pair.wire.split(' ').enumerate() {
            if index > 0 {
                rest = rest.strip_prefix([' ', '\u{A0}'])?;
            }
            rest = rest.strip_prefix(word)?;
        }
        let goes_on =
            |c: char| c.is_alphanumeric() || matches!(c, '_' | '/' | '²' | '³' | '⁴' | '⁶');
        (!rest.starts_with(goes_on)).then_some((pair, text.len() - rest.len()))
    })
}

#[cfg(test)]
mod tests {
    use fishplate_quantity::written::parse;
    use fishplate_quantity::{
        Area, Force, Length, LineForce, Mass, Moment, SecondMoment, SectionModulus, Stress,
        TurningStiffness,
    };

    use super::*;

    // Factors to seven digits as they stand in NIST SP 811 (2008), appendix B.8, there from the
    // inch-pound unit to SI.
    #[test]
    fn every_factor_is_the_published_one() {
        for (wire, us, published) in [
            ("mm", "in", 25.4),
            ("mm²", "in²", 645.16),
            ("mm³", "in³", 16_387.06),
            ("mm⁴", "in⁴", 416_231.4),
            ("m", "ft", 0.3048),
            ("km", "mi", 1.609_344),
            ("N", "lbf", 4.448_222),
            ("kN", "lbf", 4.448_222e-3),
            ("N m", "lbf ft", 1.355_818),
            ("N mm", "lbf in", 112.984_8),
            ("MPa", "ksi", 6.894_757),
            ("GPa", "ksi", 6.894_757e-3),
            ("N/mm", "lbf/in", 0.175_126_8),
            ("kg", "lb", 0.453_592_4),
            ("kg/m", "lb/ft", 1.488_164),
            ("kg/m3", "lb/ft³", 16.018_46),
            ("kg m²", "lb ft²", 0.042_140_11),
            ("m/s²", "ft/s²", 0.3048),
        ] {
            let (one, unit) = Units::Us.of(published, wire);
            assert_eq!(unit, us);
            assert!((one - 1.0).abs() < 5e-7, "{wire}: {one}");
            assert_eq!(Units::Si.of(published, wire), (published, wire));
        }
    }

    /// Printed, read again, the same: the two tables of this program agree.
    #[test]
    fn what_is_printed_is_read_as_what_it_was() {
        macro_rules! around {
            ($($quantity:ident, $si:expr, $wire:literal;)+) => {
                $(for value in [1.0, 2.2, 16_997.6, -0.004] {
                    let (shown, unit) = Units::Us.of(value, $wire);
                    let text = format!("{shown} {unit}");
                    let back = parse::<$quantity>(&text).unwrap_or_else(|e| panic!("{text}: {e}"));
                    let back = back.value.si() / $si;
                    assert!((back / value - 1.0).abs() < 1e-12, "{value} {} {back}", $wire);
                })+
            };
        }
        around! {
            Length, 1e-3, "mm";
            Length, 1.0, "m";
            Area, 1e-6, "mm²";
            SectionModulus, 1e-9, "mm³";
            SecondMoment, 1e-12, "mm⁴";
            Force, 1.0, "N";
            Force, 1e3, "kN";
            Moment, 1.0, "N m";
            Moment, 1e-3, "N mm";
            LineForce, 1e3, "N/mm";
            Stress, 1e6, "MPa";
            Mass, 1.0, "kg";
            TurningStiffness, 1.0, "N m/rad";
        }
    }

    /// The first that fits is taken, so none may stand before one that begins with it.
    #[test]
    fn a_longer_unit_is_not_taken_for_a_shorter_one() {
        for (index, pair) in PAIRS.iter().enumerate() {
            let later = PAIRS.iter().skip(index + 1);
            assert!(later.clone().all(|p| p.wire != pair.wire), "{}", pair.wire);
            let text = format!("{} more", pair.wire);
            assert_eq!(leading_unit(&text).map(|(p, _)| p.wire), Some(pair.wire));
        }
        assert!(leading_unit("Nails").is_none());
        assert!(leading_unit("mm5").is_none());
    }

    /// An acceleration of the pound at 1 g: (ISO 80000-3) 9.806 65 m/s² is 32.174 ft/s².
    #[test]
    fn the_remark_on_weight_is_right() {
        let (fall, _) = Units::Us.of(9.806_65, "m/s²");
        assert!((1.0 / fall - 0.03108).abs() < 5e-6);
    }
}
