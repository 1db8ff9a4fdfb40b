//! Numbers as the page prints them: decimals by kind, a true minus, no "−0", thousands apart.
//!
//! A number that is not finite is printed as "–": it was not found.

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

/// A force in N, printed in kN with two decimals.
pub(crate) fn kilonewtons(newtons: f64) -> String {
    fixed(newtons / 1e3, 2)
}

/// A force in N, none after the point.
pub(crate) fn newtons(newtons: f64) -> String {
    fixed(newtons, 0)
}

/// A moment in N mm, printed in N m with one decimal.
pub(crate) fn newton_metres(newton_millimetres: f64) -> String {
    fixed(newton_millimetres / 1e3, 1)
}

/// A length in mm: two decimals at most, none where they are zero.
pub(crate) fn millimetres(mm: f64) -> String {
    trimmed(&fixed(mm, 2))
}

/// A position in mm, with its brackets.
pub(crate) fn position(at: [f64; 3]) -> String {
    let [x, y, z] = at.map(|c| trimmed(&fixed(c, 1)));
    format!("({x}, {y}, {z}){SPACE}mm")
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

/// Demand or resistance in the unit of its row.
pub(crate) fn quantity(value: f64, unit: &str) -> String {
    let number = match unit {
        "N" | "MPa" => fixed(value, 0),
        "N m" | "N/mm" => fixed(value, 1),
        "mm" => fixed(value, 2),
        "" => fixed(value, 3),
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
        assert_eq!(newtons(-7137.4), "−7137");
        assert_eq!(newtons(-0.3), "0");
        assert_eq!(newtons(-12830.0), "−12\u{202F}830");
        assert_eq!(newtons(1_234_567.0), "1\u{202F}234\u{202F}567");
        assert_eq!(kilonewtons(-7137.0), "−7.14");
        assert_eq!(newton_metres(-195_300.0), "−195.3");
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
    fn a_unit_stays_with_its_number() {
        assert_eq!(quantity(74.52, "MPa"), "75\u{A0}MPa");
        assert_eq!(quantity(3.086, "mm"), "3.09\u{A0}mm");
        assert_eq!(with_unit("45", "°"), "45°");
        assert_eq!(millimetres(2.2), "2.2");
        assert_eq!(position([330.0, -480.0, 420.25]), "(330, −480, 420.2)\u{A0}mm");
    }
}
