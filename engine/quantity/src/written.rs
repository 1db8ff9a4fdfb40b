//! Written quantities: `"3/16 in"`, `"14 ga US"`, `"~760 mm ± 50"`, `"~235 MPa -35 +45"`.
//!
//! Grammar: `["~"] number unit [spread]`, where number is `3`, `2.5`, `3/16`, `1 1/4` or `1-1/4`,
//! and spread is `± n` (same unit as the value), `-n +m`, or `×÷ f` (from `1/f` to `f` times).
//! `~` marks a guess. Nothing else may follow: `"2050 kgs"` is refused, not read as 2050 kg.
//! A blank, a dot or a hyphen may stand between the words of a unit: `lbf ft`, `N·m`, `ft-lb`; a
//! power may be raised or not: `in²`, `in2`.

use crate::gauge::{self, GaugeTable};
use crate::units::{
    Acceleration, Angle, Area, Bimoment, Distance, Force, INCH, KIP, Length, LineForce, Mass,
    Moment, POUND, POUND_FORCE, STANDARD_GRAVITY, SecondMoment, SectionModulus, Stiffness, Stress,
    TurningStiffness, Warping,
};

/// A number with what is known about it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Written<Q> {
    /// The value as written.
    pub value: Q,
    /// Lowest and highest, where a spread was given.
    pub spread: Option<(Q, Q)>,
    /// Whether it was marked as not measured.
    pub guessed: bool,
}

impl<Q: Copy> Written<Q> {
    /// A value taken as exact.
    #[must_use]
    pub fn exact(value: Q) -> Self {
        Self { value, spread: None, guessed: false }
    }

    /// The same knowledge about another quantity made from this one.
    #[must_use]
    pub fn map<R>(self, f: impl Fn(Q) -> R) -> Written<R> {
        Written {
            value: f(self.value),
            spread: self.spread.map(|(low, high)| (f(low), f(high))),
            guessed: self.guessed,
        }
    }
}

/// A quantity that can be written with a unit.
pub trait Quantity: Copy {
    /// What it is called in an error.
    const KIND: &'static str;
    /// Units in the order in which errors list them, with their size in SI.
    const UNITS: &'static [(&'static str, f64)];
    /// Other spellings that are read but not listed.
    const SPELLINGS: &'static [(&'static str, f64)];
    /// From SI.
    fn from_si_value(si: f64) -> Self;
}

macro_rules! written_as {
    ($($name:ident, $kind:literal, [$(($unit:literal, $size:expr)),+ $(,)?]
        $(also [$(($other:literal, $same:expr)),+ $(,)?])?;)+) => {
        $(impl Quantity for $name {
            const KIND: &'static str = $kind;
            const UNITS: &'static [(&'static str, f64)] = &[$(($unit, $size)),+];
            const SPELLINGS: &'static [(&'static str, f64)] = &[$($(($other, $same)),+)?];
            fn from_si_value(si: f64) -> Self {
                Self::from_si(si)
            }
        })+
    };
}

const DEGREE: f64 = std::f64::consts::PI / 180.0;
const FOOT: f64 = 12.0 * INCH;
const MILE: f64 = 5280.0 * FOOT;
const SQUARE_INCH: f64 = INCH * INCH;

// Sizes: SI definitions; for inch, pound and pound-force see where they are defined. Shops say
// pounds for pounds-force, in torques and spring rates as well; a mass is never asked for there.
written_as! {
    Length, "a length",
        [("mm", 1e-3), ("m", 1.0), ("cm", 1e-2), ("in", INCH), ("ft", FOOT)];
    Area, "an area", [("mm²", 1e-6), ("cm²", 1e-4), ("in²", SQUARE_INCH)];
    SectionModulus, "a section modulus",
        [("mm³", 1e-9), ("cm³", 1e-6), ("in³", SQUARE_INCH * INCH)];
    SecondMoment, "a second moment of area",
        [("mm⁴", 1e-12), ("cm⁴", 1e-8), ("in⁴", SQUARE_INCH * SQUARE_INCH)];
    Warping, "a warping constant",
        [("mm⁶", 1e-18), ("cm⁶", 1e-12), ("in⁶", SQUARE_INCH * SQUARE_INCH * SQUARE_INCH)];
    Distance, "a distance", [("km", 1e3), ("m", 1.0), ("mi", MILE)];
    Force, "a force",
        [("N", 1.0), ("kN", 1e3), ("lbf", POUND_FORCE), ("kip", KIP)];
    LineForce, "a force per length",
        [("N/mm", 1e3), ("kN/m", 1e3), ("N/m", 1.0), ("lbf/in", POUND_FORCE / INCH),
         ("kip/in", KIP / INCH)]
        also [("lb/in", POUND_FORCE / INCH)];
    Moment, "a moment or torque",
        [("N m", 1.0), ("N mm", 1e-3), ("kN m", 1e3), ("lbf ft", POUND_FORCE * FOOT),
         ("lbf in", POUND_FORCE * INCH), ("kip ft", KIP * FOOT), ("kip in", KIP * INCH)]
        also [("Nm", 1.0), ("ft lbf", POUND_FORCE * FOOT), ("in lbf", POUND_FORCE * INCH),
              ("ft lb", POUND_FORCE * FOOT), ("in lb", POUND_FORCE * INCH),
              ("lb ft", POUND_FORCE * FOOT), ("lb in", POUND_FORCE * INCH)];
    Bimoment, "a bimoment",
        [("N m²", 1.0), ("N mm²", 1e-6), ("kN m²", 1e3),
         ("lbf in²", POUND_FORCE * SQUARE_INCH), ("kip in²", KIP * SQUARE_INCH)];
    Stress, "a stress",
        [("MPa", 1e6), ("N/mm²", 1e6), ("GPa", 1e9), ("Pa", 1.0), ("ksi", KIP / SQUARE_INCH),
         ("psi", POUND_FORCE / SQUARE_INCH)]
        also [("lbf/in²", POUND_FORCE / SQUARE_INCH), ("kip/in²", KIP / SQUARE_INCH)];
    Mass, "a mass", [("kg", 1.0), ("t", 1e3), ("g", 1e-3), ("lb", POUND)];
    Stiffness, "a stiffness",
        [("N/mm", 1e3), ("kN/mm", 1e6), ("N/m", 1.0), ("kN/m", 1e3),
         ("lbf/in", POUND_FORCE / INCH), ("kip/in", KIP / INCH)]
        also [("lb/in", POUND_FORCE / INCH)];
    TurningStiffness, "a turning stiffness",
        [("N m/rad", 1.0), ("N m/deg", 1.0 / DEGREE), ("kN m/rad", 1e3),
         ("lbf ft/rad", POUND_FORCE * FOOT), ("lbf ft/deg", POUND_FORCE * FOOT / DEGREE)]
        also [("lb ft/rad", POUND_FORCE * FOOT), ("lb ft/deg", POUND_FORCE * FOOT / DEGREE)];
    Angle, "an angle", [("deg", DEGREE), ("°", DEGREE), ("rad", 1.0)];
    Acceleration, "an acceleration", [("g", STANDARD_GRAVITY), ("m/s²", 1.0), ("ft/s²", FOOT)];
}

/// Why a text is not the quantity asked for.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum WrittenError {
    /// Nothing was written.
    #[error("is empty; write {kind}, such as {example}")]
    Empty {
        /// What was asked for.
        kind: &'static str,
        /// A quantity that would be read.
        example: String,
    },
    /// No number at the start.
    #[error("starts with {found:?}, where a number belongs; write {kind}, such as {example}")]
    NoNumber {
        /// What stands there.
        found: String,
        /// What was asked for.
        kind: &'static str,
        /// A quantity that would be read.
        example: String,
    },
    /// A number without a unit.
    #[error("has no unit; {kind} is written in {units}, such as {example}")]
    NoUnit {
        /// What was asked for.
        kind: &'static str,
        /// The units that are known.
        units: String,
        /// A quantity that would be read.
        example: String,
    },
    /// A comma within a number.
    #[error(
        "has a comma in its number; write it with a point and without thousands, such as 1250.5"
    )]
    Comma,
    /// A unit that is not one of this quantity.
    #[error("has the unit {found:?}; {kind} is written in {units}")]
    UnknownUnit {
        /// What stands there.
        found: String,
        /// What was asked for.
        kind: &'static str,
        /// The units that are known.
        units: String,
    },
    /// A gauge number that does not say whose gauge.
    #[error(
        "does not say whose gauge: write \"{number} ga US\" ({us}) or \"{number} SWG\" ({swg})"
    )]
    WhoseGauge {
        /// The gauge number.
        number: String,
        /// What it is in the one table.
        us: String,
        /// What it is in the other.
        swg: String,
    },
    /// A gauge number that the table does not hold.
    #[error("is not in the gauge table; it holds {range}")]
    NoSuchGauge {
        /// The numbers it holds.
        range: String,
    },
    /// Something after the quantity that is no spread.
    #[error(
        "has {found:?} after the quantity; only a spread may follow: \"± 0.3\", \"-35 +45\" or \
         \"×÷ 2\""
    )]
    Trailing {
        /// What stands there.
        found: String,
    },
    /// A spread that is not usable.
    #[error("has the spread {found:?}; {allowed}")]
    BadSpread {
        /// What stands there.
        found: String,
        /// What a spread must be.
        allowed: &'static str,
    },
    /// Infinite or not a number.
    #[error("is not a finite number")]
    NotFinite,
}

/// Reads a quantity with its unit.
///
/// # Errors
/// [`WrittenError`], which says what was found and what is allowed.
pub fn parse<Q: Quantity>(text: &str) -> Result<Written<Q>, WrittenError> {
    let (guessed, rest) = strip_guess(text);
    if rest.is_empty() {
        return Err(WrittenError::Empty { kind: Q::KIND, example: example::<Q>() });
    }
    let (number, rest) = take_number(rest).ok_or_else(|| WrittenError::NoNumber {
        found: rest.chars().take(12).collect(),
        kind: Q::KIND,
        example: example::<Q>(),
    })?;
    let (size, rest) = if Q::KIND == Length::KIND && starts_gauge(rest) {
        return parse_gauge(number, rest, guessed);
    } else {
        take_unit::<Q>(rest)?
    };
    finish(number * size, size, rest, guessed).map(|w| w.map(Q::from_si_value))
}

/// Reads a pure number with optional guess mark and spread: `"~0.72 ± 0.05"`.
///
/// # Errors
/// [`WrittenError`], which says what was found and what is allowed.
pub fn parse_number(text: &str) -> Result<Written<f64>, WrittenError> {
    const KIND: &str = "a plain number";
    let (guessed, rest) = strip_guess(text);
    let example = "\"0.72\"".to_owned();
    if rest.is_empty() {
        return Err(WrittenError::Empty { kind: KIND, example });
    }
    let found = rest.chars().take(12).collect();
    let (number, rest) =
        take_number(rest).ok_or(WrittenError::NoNumber { found, kind: KIND, example })?;
    finish(number, 1.0, rest, guessed)
}

fn strip_guess(text: &str) -> (bool, &str) {
    let trimmed = text.trim();
    match trimmed.strip_prefix('~') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, trimmed),
    }
}

fn example<Q: Quantity>() -> String {
    format!("\"12 {}\"", Q::UNITS[0].0)
}

fn unit_list<Q: Quantity>() -> String {
    Q::UNITS.iter().map(|u| u.0).collect::<Vec<_>>().join(", ")
}

/// A number at the start (`3`, `2.5`, `3/16`, `1 1/4`, `1-1/4`) and what follows it.
fn take_number(text: &str) -> Option<(f64, &str)> {
    let (first, rest) = take_decimal(text)?;
    if let Some(after) = rest.strip_prefix('/') {
        let (below, rest) = take_decimal(after)?;
        return (below > 0.0).then_some((first / below, rest.trim_start()));
    }
    // A whole number may be followed by a fraction: "1 1/4" or, as drawings have it, "1-1/4".
    let gap = rest.trim_start();
    let fraction = match rest.strip_prefix('-') {
        Some(after) if after.starts_with(|c: char| c.is_ascii_digit()) => after,
        _ => gap,
    };
    if fraction.len() < rest.len()
        && let Some((above, tail)) = take_decimal(fraction)
        && let Some(after) = tail.strip_prefix('/')
        && let Some((below, tail)) = take_decimal(after)
    {
        let fraction = above / below;
        return (below > 0.0 && fraction < 1.0 && first.fract().abs() < f64::EPSILON)
            .then_some((first + fraction * first.signum(), tail.trim_start()));
    }
    Some((first, gap))
}

fn take_decimal(text: &str) -> Option<(f64, &str)> {
    let mut end = 0;
    let mut digits = false;
    for (at, c) in text.char_indices() {
        let sign = at == 0 && (c == '-' || c == '+');
        if c.is_ascii_digit() || c == '.' || sign {
            digits |= c.is_ascii_digit();
            end = at + c.len_utf8();
        } else {
            break;
        }
    }
    if !digits {
        return None;
    }
    text[..end].parse().ok().map(|n| (n, &text[end..]))
}

/// The longest unit of `Q` at the start of `text`, its size, and what follows it.
fn take_unit<Q: Quantity>(text: &str) -> Result<(f64, &str), WrittenError> {
    let end = unit_length(text);
    let word = text[..end].trim();
    if word.starts_with(',') {
        return Err(WrittenError::Comma);
    }
    if word.is_empty() {
        return Err(WrittenError::NoUnit {
            kind: Q::KIND,
            units: unit_list::<Q>(),
            example: example::<Q>(),
        });
    }
    let folded = folded(word);
    match Q::UNITS.iter().chain(Q::SPELLINGS).find(|(name, _)| *name == folded) {
        Some((_, size)) => Ok((*size, text[end..].trim_start())),
        None => {
            let found = word.split_whitespace().collect::<Vec<_>>().join(" ");
            Err(WrittenError::UnknownUnit { found, kind: Q::KIND, units: unit_list::<Q>() })
        }
    }
}

/// How many bytes at the start of `text` can belong to a unit: up to a spread or another number.
fn unit_length(text: &str) -> usize {
    let mut before = ' ';
    for (at, c) in text.char_indices() {
        let next = text[at + c.len_utf8()..].chars().next().unwrap_or(' ');
        let goes_on = match c {
            '±' | '×' | '+' => false,
            // A hyphen between letters joins them: "ft-lb".
            '-' => before.is_alphabetic() && next.is_alphabetic(),
            // The power of a unit: "N/mm2", "in4".
            '2' | '3' | '4' | '6' => {
                before.is_alphabetic() && !next.is_alphanumeric() && next != '.'
            }
            c => !c.is_ascii_digit() || at == 0,
        };
        if !goes_on {
            return at;
        }
        before = c;
    }
    text.len()
}

/// A unit in the spelling of the lists: words a blank apart, powers raised.
fn folded(word: &str) -> String {
    let spaced = word.replace(['·', '-'], " ");
    let raised = spaced.split_whitespace().map(|part| {
        let power = [('2', "²"), ('3', "³"), ('4', "⁴"), ('6', "⁶")];
        let found =
            power.iter().find_map(|(digit, raised)| Some((part.strip_suffix(*digit)?, raised)));
        found.map_or_else(|| part.to_owned(), |(base, raised)| format!("{base}{raised}"))
    });
    raised.collect::<Vec<_>>().join(" ")
}

fn starts_gauge(rest: &str) -> bool {
    ["ga", "gauge", "SWG", "swg"].iter().any(|w| {
        rest.strip_prefix(w).is_some_and(|r| !r.starts_with(|c: char| c.is_alphanumeric()))
    })
}

fn parse_gauge<Q: Quantity>(
    number: f64,
    rest: &str,
    guessed: bool,
) -> Result<Written<Q>, WrittenError> {
    let word_end = rest.find(|c: char| !c.is_alphabetic()).unwrap_or(rest.len());
    let (word, rest) = rest.split_at(word_end);
    let whole = if number.fract().abs() < f64::EPSILON && (0.0..1000.0).contains(&number) {
        // Checked just above to be a small whole number.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        Some(number as u32)
    } else {
        None
    };
    let (table, rest) = if word.eq_ignore_ascii_case("swg") {
        (GaugeTable::Swg, rest.trim_start())
    } else if let Some(rest) = rest.trim_start().strip_prefix("US") {
        (GaugeTable::Us, rest.trim_start())
    } else {
        let say = |table| {
            whole
                .and_then(|n| gauge::thickness(table, n))
                .map_or("not in that table".to_owned(), |t| format!("{:.2} mm", t.as_mm()))
        };
        return Err(WrittenError::WhoseGauge {
            number: number.to_string(),
            us: say(GaugeTable::Us),
            swg: say(GaugeTable::Swg),
        });
    };
    let thickness = whole
        .and_then(|n| gauge::thickness(table, n))
        .ok_or_else(|| WrittenError::NoSuchGauge { range: gauge::range(table) })?;
    // A spread behind a gauge is in millimetres, as a caliper reads it.
    let written = finish(thickness.si(), 1e-3, rest, guessed)?;
    Ok(written.map(Q::from_si_value))
}

/// Reads the spread, if any, and puts all together. `size` is the unit of a bare spread number.
fn finish(value: f64, size: f64, rest: &str, guessed: bool) -> Result<Written<f64>, WrittenError> {
    if !value.is_finite() {
        return Err(WrittenError::NotFinite);
    }
    let rest = rest.trim();
    let bad = |allowed| WrittenError::BadSpread { found: rest.to_owned(), allowed };
    let spread = if rest.is_empty() {
        None
    } else if let Some(n) = rest.strip_prefix('±').or_else(|| rest.strip_prefix("+-")) {
        let half = only_number(n).filter(|n| *n >= 0.0);
        let half = half.ok_or_else(|| bad("write \"± 0.3\", same unit as the value"))? * size;
        Some((value - half, value + half))
    } else if let Some(n) = rest.strip_prefix("×÷").or_else(|| rest.strip_prefix("x/")) {
        let times = only_number(n).filter(|n| *n >= 1.0);
        let times = times.ok_or_else(|| bad("write \"×÷ 2\" for half to double; at least 1"))?;
        Some((value / times, value * times))
    } else if rest.starts_with('-') {
        let plus = rest.find('+').ok_or_else(|| bad("write \"-35 +45\""))?;
        let low = only_number(&rest[..plus]).filter(|n| *n <= 0.0);
        let high = only_number(&rest[plus..]).filter(|n| *n >= 0.0);
        match (low, high) {
            (Some(low), Some(high)) => Some((value + low * size, value + high * size)),
            _ => return Err(bad("write \"-35 +45\"")),
        }
    } else {
        return Err(WrittenError::Trailing { found: rest.to_owned() });
    };
    Ok(Written { value, spread, guessed })
}

fn only_number(text: &str) -> Option<f64> {
    take_number(text.trim()).filter(|(_, rest)| rest.is_empty()).map(|(n, _)| n)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(text: &str) -> f64 {
        parse::<Length>(text).unwrap_or_else(|e| panic!("{text}: {e}")).value.as_mm()
    }

    // Expected values: definitions of the inch, the pound and the pound-force (1959 agreement,
    // standard gravity 9.806 65 m/s²); gauges from their tables.
    #[test]
    fn inch_fractions_and_gauges_are_read() {
        for (text, expected) in [
            ("3/16 in", 4.7625),
            ("1 1/4 in", 31.75),
            ("1-1/2 in", 38.1),
            ("-2-3/8 in", -60.325),
            ("0.25 in", 6.35),
            ("2 ft", 609.6),
            ("14 ga US", 0.0747 * 25.4),
            ("14 gauge US", 0.0747 * 25.4),
            ("14 SWG", 2.032),
            ("4 mm", 4.0),
            ("1.5 m", 1500.0),
            ("-60 mm", -60.0),
        ] {
            assert!((mm(text) - expected).abs() < 1e-9, "{text}: {}", mm(text));
        }
    }

    #[test]
    fn moments_and_stresses_are_read_in_both_systems() {
        let nm = |t: &str| parse::<Moment>(t).unwrap().value.as_nm();
        assert!((nm("330 N m") - 330.0).abs() < 1e-12);
        assert!((nm("95 lbf ft") - 128.802_705_3).abs() < 1e-6);
        let mpa = parse::<Stress>("36 ksi").unwrap().value.as_mpa();
        // 1 psi = 6894.757 293 168 Pa (NIST SP 811).
        assert!((mpa - 36.0 * 6.894_757_293_168).abs() < 1e-9);
        assert!((parse::<Stress>("275 N/mm2").unwrap().value.as_mpa() - 275.0).abs() < 1e-9);
        assert!((parse::<Acceleration>("1.1 g").unwrap().value.as_g() - 1.1).abs() < 1e-12);
    }

    // Units: NIST SP 811 (2008), appendix B.8, rounded there to seven digits.
    #[test]
    fn inch_units_have_their_published_size() {
        fn si<Q: Quantity>(text: &str, read: fn(Q) -> f64) -> f64 {
            read(parse::<Q>(text).unwrap_or_else(|e| panic!("{text}: {e}")).value)
        }
        for (got, expected) in [
            (si("1 lbf", Force::si), 4.448_222),
            (si("1 kip", Force::si), 4_448.222),
            (si("1 psi", Stress::si), 6_894.757),
            (si("1 lbf/in2", Stress::si), 6_894.757),
            (si("1 ksi", Stress::si), 6.894_757e6),
            (si("1 lbf ft", Moment::si), 1.355_818),
            (si("1 ft-lb", Moment::si), 1.355_818),
            (si("1 lb·ft", Moment::si), 1.355_818),
            (si("1 lbf in", Moment::si), 0.112_984_8),
            (si("1 kip in", Moment::si), 112.984_8),
            (si("1 lbf/in", LineForce::si), 175.126_8),
            (si("1 lb/in", Stiffness::si), 175.126_8),
            (si("1 lb", Mass::si), 0.453_592_4),
            (si("1 in2", Area::si), 6.4516e-4),
            (si("1 in²", Area::si), 6.4516e-4),
            (si("1 in3", SectionModulus::si), 1.638_706e-5),
            (si("1 in⁴", SecondMoment::si), 4.162_314e-7),
            (si("1 in4", SecondMoment::si), 4.162_314e-7),
            (si("1 ft/s2", Acceleration::si), 0.3048),
        ] {
            // Seven digits leave at most 5e-7 of the number open.
            assert!((got / expected - 1.0).abs() < 5e-7, "{got} {expected}");
        }
        // Where a power could be taken for the number of a spread, the spread stays one.
        let w = parse::<Area>("~2 in2 -0.1 +0.3").unwrap();
        let (low, high) = w.spread.unwrap();
        assert!((low.si() / 6.4516e-4 - 1.9).abs() < 1e-9, "{low:?}");
        assert!((high.si() / 6.4516e-4 - 2.3).abs() < 1e-9, "{high:?}");
        let w = parse::<Length>("3 in ± 1/16").unwrap();
        assert!((w.spread.unwrap().0.as_inch() - 2.9375).abs() < 1e-12);
    }

    #[test]
    fn guesses_and_spreads_are_kept() {
        let w = parse::<Length>("~760 mm ± 50").unwrap();
        assert!(w.guessed);
        let (low, high) = w.spread.unwrap();
        assert!((low.as_mm() - 710.0).abs() < 1e-9 && (high.as_mm() - 810.0).abs() < 1e-9);
        let w = parse::<Stiffness>("~3500 N/mm ×÷ 2").unwrap();
        let (low, high) = w.spread.unwrap();
        assert!((low.as_n_per_mm() - 1750.0).abs() < 1e-9);
        assert!((high.as_n_per_mm() - 7000.0).abs() < 1e-9);
        let w = parse::<Stress>("~235 MPa -35 +45").unwrap();
        let (low, high) = w.spread.unwrap();
        assert!((low.as_mpa() - 200.0).abs() < 1e-9 && (high.as_mpa() - 280.0).abs() < 1e-9);
        assert!(!parse::<Mass>("145 kg ± 5").unwrap().guessed);
        let w = parse_number("~0.72 ± 0.05").unwrap();
        assert!(w.guessed && (w.spread.unwrap().0 - 0.67).abs() < 1e-12);
    }

    #[test]
    fn a_gauge_must_say_whose_it_is() {
        let error = parse::<Length>("14 ga").unwrap_err();
        assert!(matches!(error, WrittenError::WhoseGauge { .. }));
        let text = error.to_string();
        assert!(text.contains("1.90 mm") && text.contains("2.03 mm"), "{text}");
        assert!(matches!(
            parse::<Length>("99 ga US").unwrap_err(),
            WrittenError::NoSuchGauge { .. }
        ));
    }

    #[test]
    fn a_comma_in_a_number_is_told_as_one() {
        for text in ["760,5 mm", "1,000 mm"] {
            assert_eq!(parse::<Length>(text).unwrap_err(), WrittenError::Comma, "{text}");
        }
    }

    #[test]
    fn what_is_not_the_quantity_is_refused_with_what_is_allowed() {
        for (text, part) in [
            ("2050 kgs", "unit \"kgs\""),
            ("2050", "no unit"),
            ("", "is empty"),
            ("heavy", "where a number belongs"),
            ("2050 kg or so", "unit \"kg or so\""),
            ("2050 kg ± x", "spread"),
            ("2050 mm", "kg, t, g, lb"),
            ("NaN kg", "where a number belongs"),
            ("2050 kg ×÷ 0.5", "at least 1"),
            ("3/0 kg", "where a number belongs"),
        ] {
            let error = parse::<Mass>(text).expect_err(text).to_string();
            assert!(error.contains(part), "{text}: {error}");
        }
    }
}
