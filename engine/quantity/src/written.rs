//! Written quantities: `"3/16 in"`, `"14 ga US"`, `"~760 mm ± 50"`, `"~235 MPa -35 +45"`.
//!
//! Grammar: `["~"] number unit [spread]`, where number is `3`, `2.5`, `3/16` or `1 1/4`, and
//! spread is `± n` (same unit as the value), `-n +m`, or `×÷ f` (from `1/f` to `f` times).
//! `~` marks a guess. Nothing else may follow: `"2050 kgs"` is refused, not read as 2050 kg.

use crate::gauge::{self, GaugeTable};
use crate::units::{
    Acceleration, Angle, Force, Length, Mass, Moment, STANDARD_GRAVITY, Stiffness, Stress,
    TurningStiffness,
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
    /// From SI.
    fn from_si_value(si: f64) -> Self;
}

const INCH: f64 = 0.0254;
const POUND_FORCE: f64 = 4.448_221_615_260_5;
const POUND: f64 = 0.453_592_37;

macro_rules! written_as {
    ($($name:ident, $kind:literal, [$(($unit:literal, $size:expr)),+ $(,)?];)+) => {
        $(impl Quantity for $name {
            const KIND: &'static str = $kind;
            const UNITS: &'static [(&'static str, f64)] = &[$(($unit, $size)),+];
            fn from_si_value(si: f64) -> Self {
                Self::from_si(si)
            }
        })+
    };
}

// Sizes: SI definitions; inch 25.4 mm and pound 0.453 592 37 kg exactly (international yard and
// pound agreement, 1959), standard gravity 9.806 65 m/s² inside the pound-force.
written_as! {
    Length, "a length",
        [("mm", 1e-3), ("m", 1.0), ("cm", 1e-2), ("in", INCH), ("ft", 12.0 * INCH)];
    Force, "a force",
        [("N", 1.0), ("kN", 1e3), ("lbf", POUND_FORCE), ("kip", 1e3 * POUND_FORCE)];
    Moment, "a moment or torque",
        [("N m", 1.0), ("N mm", 1e-3), ("kN m", 1e3), ("lbf ft", POUND_FORCE * 12.0 * INCH),
         ("lbf in", POUND_FORCE * INCH)];
    Stress, "a stress",
        [("MPa", 1e6), ("N/mm²", 1e6), ("N/mm2", 1e6), ("GPa", 1e9), ("Pa", 1.0),
         ("ksi", 1e3 * POUND_FORCE / (INCH * INCH)), ("psi", POUND_FORCE / (INCH * INCH))];
    Mass, "a mass", [("kg", 1.0), ("t", 1e3), ("g", 1e-3), ("lb", POUND)];
    Stiffness, "a stiffness",
        [("N/mm", 1e3), ("kN/mm", 1e6), ("N/m", 1.0), ("kN/m", 1e3),
         ("lbf/in", POUND_FORCE / INCH)];
    TurningStiffness, "a turning stiffness",
        [("N m/rad", 1.0), ("N m/deg", 57.295_779_513_082_32), ("kN m/rad", 1e3)];
    Angle, "an angle", [("deg", std::f64::consts::PI / 180.0), ("°", std::f64::consts::PI / 180.0), ("rad", 1.0)];
    Acceleration, "an acceleration", [("g", STANDARD_GRAVITY), ("m/s²", 1.0), ("m/s2", 1.0)];
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

/// A number at the start (`3`, `2.5`, `3/16`, `1 1/4`) and what follows it.
fn take_number(text: &str) -> Option<(f64, &str)> {
    let (first, rest) = take_decimal(text)?;
    if let Some(after) = rest.strip_prefix('/') {
        let (below, rest) = take_decimal(after)?;
        return (below > 0.0).then_some((first / below, rest.trim_start()));
    }
    // A whole number may be followed by a fraction: "1 1/4".
    let gap = rest.trim_start();
    if gap.len() < rest.len()
        && let Some((above, tail)) = take_decimal(gap)
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
    let end = text
        .char_indices()
        .find(|(_, c)| {
            matches!(c, '±' | '×' | '+' | '-') || c.is_ascii_digit() && !text.starts_with(*c)
        })
        .map_or(text.len(), |(at, _)| at);
    // "N/mm2" and "m/s2" end in a digit that belongs to the unit.
    let end = if text[end..].starts_with('2') { end + 1 } else { end };
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
    let folded = word.split_whitespace().collect::<Vec<_>>().join(" ");
    match Q::UNITS.iter().find(|(name, _)| *name == folded) {
        Some((_, size)) => Ok((*size, text[end..].trim_start())),
        None => {
            Err(WrittenError::UnknownUnit { found: folded, kind: Q::KIND, units: unit_list::<Q>() })
        }
    }
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
            ("0.25 in", 6.35),
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
