//! Numbers as the page prints them: decimals by kind, a true minus, no "−0", thousands apart.
//! They come in the units of the wire and are printed in those of the reader.
//!
//! A number that is not finite is printed as "–": it was not found.

use crate::units::Units;

/// Stands for a number that was not found.
pub(crate) const NOT_FOUND: &str = "–";

/// Narrow no-break space, between thousands.
const THIN: char = '\u{202F}';

/// No-break space, between a number and its unit.
pub(crate) const SPACE: char = '\u{A0}';

/// A utilisation: two decimals, three near the limit, and so many that a number above the limit
/// never reads as the limit itself.
pub(crate) fn utilisation(value: f64, exceeds: bool) -> String {
    if !value.is_finite() {
        return NOT_FOUND.to_owned();
    }
    if !(0.995..=1.005).contains(&value) {
        return fixed(value, 2);
    }
    if exceeds {
        let telling = (3..=6).map(|d| fixed(value, d)).find(|t| t.trim_end_matches('0') != "1.");
        return telling.unwrap_or_else(|| "over 1".to_owned());
    }
    fixed(value, 3)
}

/// `value` with a fixed number of decimals, thousands apart from five digits up.
pub(crate) fn fixed(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return NOT_FOUND.to_owned();
    }
    let text = format!("{value:.decimals$}");
    let (negative, digits) = match text.strip_prefix('-') {
        Some(digits) => (digits.bytes().any(|b| (b'1'..=b'9').contains(&b)), digits),
        None => (false, text.as_str()),
    };
    let grouped = thousands(digits);
    if negative { format!("\u{2212}{grouped}") } else { grouped }
}

/// A force in N for words and pictures: kN with two decimals, lbf with none.
pub(crate) fn force(newtons: f64, units: Units) -> String {
    match units {
        Units::Si => fixed(newtons / 1e3, 2),
        Units::Us => fixed(units.value(newtons, "N"), 0),
    }
}

/// The unit of forces in words and pictures.
pub(crate) fn force_unit(units: Units) -> &'static str {
    match units {
        Units::Si => "kN",
        Units::Us => "lbf",
    }
}

/// A force in N for a table, none after the point.
pub(crate) fn force_in_table(newtons: f64, units: Units) -> String {
    fixed(units.value(newtons, "N"), 0)
}

/// A moment in N mm for a table, in N m or lbf ft with one decimal.
pub(crate) fn moment_in_table(newton_millimetres: f64, units: Units) -> String {
    fixed(units.value(newton_millimetres / 1e3, "N m"), 1)
}

/// A number with two decimals at most, none where they are zero.
pub(crate) fn short(value: f64) -> String {
    trimmed(&fixed(value, 2))
}

/// A length in mm: two decimals of a millimetre or three of an inch at most.
pub(crate) fn size(mm: f64, units: Units) -> String {
    let decimals = if units == Units::Si { 2 } else { 3 };
    trimmed(&fixed(units.value(mm, "mm"), decimals))
}

/// A position in mm, with its brackets.
pub(crate) fn position(at: [f64; 3], units: Units) -> String {
    let decimals = if units == Units::Si { 1 } else { 2 };
    let [x, y, z] = at.map(|c| trimmed(&fixed(units.value(c, "mm"), decimals)));
    with_unit(&format!("({x}, {y}, {z})"), units.unit("mm"))
}

/// `value` with four significant digits, a power of ten outside 0.001 to 10 million.
pub(crate) fn significant(value: f64) -> String {
    if !value.is_finite() {
        return NOT_FOUND.to_owned();
    }
    let size = value.abs();
    if size < 1e-12 {
        return "0".to_owned();
    }
    if (1e-3..1e7).contains(&size) {
        let steps = [1e6, 1e5, 1e4, 1e3, 1e2, 1e1, 1e0, 1e-1, 1e-2, 1e-3];
        let place = steps.iter().position(|s| size >= *s).unwrap_or(9);
        return trimmed(&fixed(value, place.saturating_sub(3)));
    }
    power_of_ten(value, 3)
}

/// `value` with so many significant digits and without zeros at its end, as one types it.
pub(crate) fn plain(value: f64, digits: usize) -> String {
    if !value.is_finite() {
        return NOT_FOUND.to_owned();
    }
    let scientific = format!("{value:.*e}", digits.saturating_sub(1));
    let Some((_, exponent)) = scientific.split_once('e') else { return scientific };
    let exponent: i32 = exponent.parse().unwrap_or_default();
    if value.abs() < f64::MIN_POSITIVE {
        return "0".to_owned();
    }
    if !(-4..7).contains(&exponent) {
        return scientific;
    }
    // Digits before the point are all written, even where they are more than asked for.
    let decimals = i32::try_from(digits).unwrap_or(4) - 1 - exponent;
    trimmed(&format!("{value:.*}", usize::try_from(decimals).unwrap_or(0)))
}

/// `value` as a number times a power of ten, with so many decimals at most.
pub(crate) fn power_of_ten(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return NOT_FOUND.to_owned();
    }
    // Adding zero turns a negative zero into a plain one.
    let scientific = format!("{:.decimals$e}", value + 0.0);
    match scientific.split_once('e').map(|(m, e)| (m, e.parse::<i32>())) {
        Some((mantissa, Ok(exponent))) if exponent != 0 => {
            let mantissa = trimmed(&mantissa.replace('-', "\u{2212}"));
            format!("{mantissa} · 10{}", superscript(exponent))
        }
        Some((mantissa, _)) => trimmed(&mantissa.replace('-', "\u{2212}")),
        None => scientific,
    }
}

/// Demand or resistance, given in the unit of its row.
pub(crate) fn quantity(value: f64, unit: &str, units: Units) -> String {
    let (value, unit) = units.of(value, unit);
    let number = match unit {
        "N" | "MPa" | "lbf" | "lbf/in" => fixed(value, 0),
        "N m" | "N/mm" | "lbf ft" | "ksi" => fixed(value, 1),
        "mm" => fixed(value, 2),
        "" | "in" => fixed(value, 3),
        _ => significant(value),
    };
    with_unit(&number, unit)
}

/// A number and its unit, never torn apart.
pub(crate) fn with_unit(number: &str, unit: &str) -> String {
    match unit {
        "" => number.to_owned(),
        "°" => format!("{number}°"),
        _ => format!("{number}{SPACE}{}", unit.replace(' ', "\u{A0}")),
    }
}

/// A whole number as superscript.
fn superscript(exponent: i32) -> String {
    let raised = |c: char| match c {
        '-' => '⁻',
        '1' => '¹',
        '2' => '²',
        '3' => '³',
        '0' => '⁰',
        digit => {
            char::from_u32(u32::from(digit) - u32::from('4') + u32::from('⁴')).unwrap_or(digit)
        }
    };
    exponent.to_string().chars().map(raised).collect()
}

/// `text` without zeros at the end of its decimals.
fn trimmed(text: &str) -> String {
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text.to_owned()
    }
}

/// A plain number with a true minus and thousands apart.
pub(crate) fn grouped(plain: &str) -> String {
    match plain.strip_prefix('-') {
        Some(size) => format!("\u{2212}{}", thousands(size)),
        None => thousands(plain),
    }
}

/// Groups of three from five digits up; decimals stay as they are.
fn thousands(digits: &str) -> String {
    let (whole, rest) = match digits.find('.') {
        Some(point) => digits.split_at(point),
        None => (digits, ""),
    };
    if whole.len() < 5 {
        return digits.to_owned();
    }
    let mut out = String::new();
    for (index, digit) in whole.chars().enumerate() {
        if index > 0 && (whole.len() - index) % 3 == 0 {
            out.push(THIN);
        }
        out.push(digit);
    }
    out + rest
}

// The expected texts are those of the page's own rules: common practice, no source.
#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_utilisation_above_the_limit_never_reads_as_the_limit() {
        assert_eq!(utilisation(3.478, true), "3.48");
        assert_eq!(utilisation(0.786, false), "0.79");
        assert_eq!(utilisation(1.002, true), "1.002");
        assert_eq!(utilisation(1.0004, true), "1.0004");
        assert_eq!(utilisation(1.000_000_01, true), "over 1");
        assert_eq!(utilisation(0.9999, false), "1.000");
        assert_eq!(utilisation(0.9962, false), "0.996");
        assert_eq!(utilisation(f64::NAN, true), "–");
    }

    #[test]
    fn forces_have_a_true_minus_and_no_negative_zero() {
        let newtons = |value| force_in_table(value, Units::Si);
        assert_eq!(newtons(-7137.4), "−7137");
        assert_eq!(newtons(-0.3), "0");
        assert_eq!(newtons(-12830.0), "−12\u{202F}830");
        assert_eq!(newtons(1_234_567.0), "1\u{202F}234\u{202F}567");
        assert_eq!(force(-7137.0, Units::Si), "−7.14");
        assert_eq!(moment_in_table(-195_300.0, Units::Si), "−195.3");
    }

    // By hand: 7137 N over 4.448 222 is 1604.5 lbf; 195.3 N m over 1.355 818 is 144.05 lbf ft;
    // 74.52 MPa over 6.894 757 is 10.81 ksi.
    #[test]
    fn inches_and_pounds_have_decimals_of_their_own() {
        let us = Units::Us;
        assert_eq!(force(-7137.0, us), "−1604");
        assert_eq!(force_in_table(-7137.0, us), "−1604");
        assert_eq!(moment_in_table(-195_300.0, us), "−144.0");
        assert_eq!(size(2.2, us), "0.087");
        assert_eq!(size(50.8, us), "2");
        assert_eq!(position([330.2, -482.6, 0.0], us), "(13, −19, 0)\u{A0}in");
        assert_eq!(quantity(74.52, "MPa", us), "10.8\u{A0}ksi");
        assert_eq!(quantity(3.086, "mm", us), "0.121\u{A0}in");
        assert_eq!(quantity(0.5, "", us), "0.500");
    }

    #[test]
    fn sums_carry_four_significant_digits() {
        assert_eq!(significant(207.846), "207.8");
        assert_eq!(significant(0.046_666), "0.04667");
        assert_eq!(significant(842_956.4), "842\u{202F}956");
        assert_eq!(significant(2.1e11), "2.1 · 10¹¹");
        assert_eq!(significant(-3.0e-7), "−3 · 10⁻⁷");
        assert_eq!(significant(0.0), "0");
        assert_eq!(significant(9_999_999.0), "9\u{202F}999\u{202F}999");
        assert_eq!(power_of_ten(2.1e-13, 1), "2.1 · 10⁻¹³");
        assert_eq!((power_of_ten(0.0, 1).as_str(), power_of_ten(-3.0, 1).as_str()), ("0", "−3"));
    }

    #[test]
    fn a_plain_number_has_no_zeros_to_spare() {
        for (value, digits, text) in [
            (17.004, 4, "17"),
            (0.012_346, 4, "0.01235"),
            (-2_794.2, 3, "-2794"),
            (0.000_02, 3, "2.00e-5"),
            (2.1e11, 4, "2.100e11"),
            (-0.0, 4, "0"),
            (9.81, 4, "9.81"),
        ] {
            assert_eq!(plain(value, digits), text);
        }
    }

    #[test]
    fn a_unit_stays_with_its_number() {
        assert_eq!(quantity(74.52, "MPa", Units::Si), "75\u{A0}MPa");
        assert_eq!(quantity(3.086, "mm", Units::Si), "3.09\u{A0}mm");
        assert_eq!(with_unit("45", "°"), "45°");
        assert_eq!(size(2.2, Units::Si), "2.2");
        assert_eq!(position([330.0, -480.0, 420.25], Units::Si), "(330, −480, 420.2)\u{A0}mm");
    }
}
