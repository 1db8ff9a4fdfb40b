//! How numbers are written.

use fishplate_report::Units;

/// A utilisation: two decimals, three from 0.995 to 1.005, so that "1.00" beside "exceeds" never
/// stands. Above the limit by less than can be written it is "> 1".
pub(crate) fn utilisation(value: f64, exceeds: bool) -> String {
    if !value.is_finite() {
        return "over".to_owned();
    }
    let text = match value {
        v if (0.995..=1.005).contains(&v) => format!("{v:.3}"),
        v if v.abs() < 100.0 => format!("{v:.2}"),
        v if v.abs() < 1e5 => format!("{v:.0}"),
        v => format!("{v:.0e}"),
    };
    if exceeds && text == "1.000" { "> 1".to_owned() } else { no_negative_zero(text) }
}

/// A load effect or resistance, given in the unit of the wire: kN and mm with two decimals, N m
/// with one, MPa without; in with three, ksi with one, lbf without.
pub(crate) fn quantity(value: f64, unit: &str, units: Units) -> String {
    let (value, unit) = units.of(value, unit);
    let number = match unit {
        "lbf" | "lbf/in" => fixed(value, 0),
        "ksi" | "lbf ft" => fixed(value, 1),
        "in" => fixed(value, 3),
        "N" => return format!("{} kN", fixed(value / 1e3, 2)),
        "N mm" => return format!("{} N m", fixed(value / 1e3, 1)),
        "N m" => fixed(value, 1),
        "MPa" => fixed(value, 0),
        "" => return significant(value, 3),
        _ => fixed(value, 2),
    };
    format!("{number} {unit}")
}

/// `value` with `decimals` decimals, never "-0".
pub(crate) fn fixed(value: f64, decimals: usize) -> String {
    if value.abs() >= 1e9 {
        return significant(value, 4);
    }
    no_negative_zero(format!("{value:.decimals$}"))
}

/// `value` with `digits` significant digits.
pub(crate) fn significant(value: f64, digits: usize) -> String {
    if !value.is_finite() {
        return "-".to_owned();
    }
    let size = value.abs();
    if size < f64::MIN_POSITIVE {
        return "0".to_owned();
    }
    let scientific = format!("{value:.*e}", digits.saturating_sub(1));
    let Some((_, exponent)) = scientific.split_once('e') else { return scientific };
    let exponent: i32 = exponent.parse().unwrap_or_default();
    if !(-4..7).contains(&exponent) {
        return scientific;
    }
    let decimals = i32::try_from(digits).unwrap_or(4) - 1 - exponent;
    // Digits before the point are all written, even where they are more than asked for.
    no_negative_zero(format!("{value:.*}", usize::try_from(decimals).unwrap_or(0)))
}

fn no_negative_zero(text: String) -> String {
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_utilisation_near_its_limit_shows_three_decimals() {
        for (value, exceeds, text) in [
            (0.62, false, "0.62"),
            (3.482, true, "3.48"),
            (0.9949, false, "0.99"),
            (0.9999, false, "1.000"),
            (1.0, false, "1.000"),
            (1.0000001, true, "> 1"),
            (1.003, true, "1.003"),
            (1.0051, true, "1.01"),
            (0.0, false, "0.00"),
            (-0.0, false, "0.00"),
            (123.4, true, "123"),
            (f64::INFINITY, true, "over"),
        ] {
            assert_eq!(utilisation(value, exceeds), text, "{value}");
        }
    }

    #[test]
    fn quantities_have_the_decimals_of_their_unit() {
        for (value, unit, text) in [
            (7530.0, "N", "7.53 kN"),
            (195_300.0, "N mm", "195.3 N m"),
            (135.4, "MPa", "135 MPa"),
            (3.09, "mm", "3.09 mm"),
            (-0.001, "mm", "0.00 mm"),
            (1.098, "", "1.10"),
        ] {
            assert_eq!(quantity(value, unit, Units::Si), text);
        }
    }

    // By hand: 4.448 222 N a lbf, 112.984 8 N mm a lbf in, 6.894 757 MPa a ksi, 25.4 mm an inch.
    #[test]
    fn quantities_in_inches_have_decimals_of_their_own() {
        for (value, unit, text) in [
            (7530.0, "N", "1693 lbf"),
            (195.3, "N m", "144.0 lbf ft"),
            (135.4, "MPa", "19.6 ksi"),
            (3.09, "mm", "0.122 in"),
            (1.098, "", "1.10"),
        ] {
            assert_eq!(quantity(value, unit, Units::Us), text);
        }
    }

    #[test]
    fn significant_digits_are_counted_from_the_first() {
        for (value, digits, text) in [
            (738.66, 4, "738.7"),
            (17.004, 4, "17.00"),
            (-7137.2, 4, "-7137"),
            (0.012_345, 4, "0.01235"),
            (123_456.0, 4, "123456"),
            (2.1e11, 4, "2.100e11"),
            (0.0, 4, "0"),
        ] {
            assert_eq!(significant(value, digits), text);
        }
    }
}
