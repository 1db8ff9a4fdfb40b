//! Numbers with units in running text.
//!
//! A number takes the unit behind it; one without takes that of the next in the same list
//! (`3 to 5 mm`, `28 × 4 mm`, `(1, 2, 3) mm`); one behind the name of an axis is a length
//! (`y 380 to 425`). Whatever is not clearly a number with a unit stays as it is.

use super::{PAIRS, Pair, Units, leading_unit};

/// A number of the text.
struct Number {
    start: usize,
    end: usize,
    value: f64,
    /// Digits that count.
    digits: usize,
    unit: Option<&'static Pair>,
    /// Where the unit stands, if it stands here.
    unit_at: Option<(usize, usize)>,
}

pub(super) fn rewrite(text: &str) -> String {
    let mut numbers = numbers(text);
    let lengths = PAIRS.iter().find(|p| p.wire == "mm");
    let about_lengths = numbers.iter().any(|n| n.unit.is_some_and(|u| u.wire == "mm"));
    // Backward: what stands before a number with a unit, in one list with it.
    for at in (0..numbers.len()).rev() {
        if numbers[at].unit.is_some() {
            continue;
        }
        let axis = is_axis(&text[..numbers[at].start]);
        let next = numbers.get(at + 1).and_then(|next| {
            let between = &text[numbers[at].end..next.start];
            joins(between, &text[..numbers[at].start]).then_some(next.unit).flatten()
        });
        numbers[at].unit = next.or(lengths.filter(|_| axis && about_lengths));
    }
    // Forward: the other end of a range that began with a length.
    for at in 1..numbers.len() {
        if numbers[at].unit.is_none() && text[numbers[at - 1].end..numbers[at].start] == *" to " {
            numbers[at].unit = numbers[at - 1].unit;
        }
    }
    let mut out = String::with_capacity(text.len());
    let mut copied = 0;
    for number in &numbers {
        let Some(unit) = number.unit else { continue };
        out.push_str(&text[copied..number.start]);
        out.push_str(&shown(text, number, unit));
        copied = number.end;
        if let Some((from, to)) = number.unit_at {
            out.push_str(&text[copied..from]);
            out.push_str(unit.us);
            copied = to;
        }
    }
    out.push_str(&text[copied..]);
    out
}

/// The number in its new unit, as exact as it was written, with three or four digits.
fn shown(text: &str, number: &Number, unit: &Pair) -> String {
    let value = Units::Us.value(number.value, unit.wire);
    let digits = number.digits.clamp(3, 4);
    let plain = crate::numbers::plain(value, digits);
    // The sign stays as it was written.
    match (text[number.start..].chars().next(), plain.strip_prefix('-')) {
        (Some('\u{2212}'), Some(size)) => format!("\u{2212}{size}"),
        _ => plain,
    }
}

/// Every number that stands on its own: not the 12 of `M12`, not the 7 of `FL-7`.
fn numbers(text: &str) -> Vec<Number> {
    let mut out: Vec<Number> = Vec::new();
    let mut at = 0;
    while let Some(found) = text[at..].find(|c: char| c.is_ascii_digit()) {
        let digits_from = at + found;
        let length = text[digits_from..].find(|c: char| !c.is_ascii_digit() && c != '.');
        let mut end = length.map_or(text.len(), |l| digits_from + l);
        // A point at the end ends a sentence.
        while text[..end].ends_with('.') {
            end -= 1;
        }
        at = end;
        let before = text[..digits_from].chars().next_back();
        let (start, before) = match before {
            Some(sign @ ('-' | '\u{2212}')) => {
                let start = digits_from - sign.len_utf8();
                (start, text[..start].chars().next_back())
            }
            before => (digits_from, before),
        };
        let alone = before.is_none_or(|c| c.is_whitespace() || matches!(c, '(' | '=' | '"' | '~'));
        let written = text[digits_from..end].to_owned();
        let Ok(size) = written.parse::<f64>() else { continue };
        if !alone {
            continue;
        }
        let bare = written.replace('.', "");
        let counted = bare.trim_start_matches('0').len();
        let value = if start < digits_from { -size } else { size };
        let behind = &text[end..];
        let inside = behind.trim_start_matches(')');
        let gap = inside.len() - inside.trim_start().len();
        let unit = leading_unit(inside.trim_start()).filter(|_| gap > 0 || inside.is_empty());
        let from = text.len() - inside.len() + gap;
        out.push(Number {
            start,
            end,
            value,
            digits: counted,
            unit: unit.map(|(pair, _)| pair),
            unit_at: unit.map(|(_, length)| (from, from + length)),
        });
    }
    out
}

/// Whether the last word of `before` names an axis, and is no cross between two sizes.
fn is_axis(before: &str) -> bool {
    let mut words = before.trim_end().rsplit(|c: char| c.is_whitespace() || c == '(');
    let named = matches!(words.next(), Some("x" | "y" | "z"));
    named && !words.next().is_some_and(|w| w.ends_with(|c: char| c.is_ascii_digit()))
}

/// Whether two numbers with `between` between them have one unit; `before` stands before the first.
fn joins(between: &str, before: &str) -> bool {
    match between {
        " to " | " against " | " × " | " x " | "×" | " ± " | " and " | " or " | " by " => true,
        ", x " | ", y " | ", z " => is_axis(before),
        // After a word with a number or a capital it is a name: "Table 3.4, 5 mm".
        ", " => {
            let word = before.trim_end().rsplit(char::is_whitespace).next().unwrap_or_default();
            before.ends_with('(')
                || word.ends_with(',')
                || word.chars().all(|c| c.is_lowercase() || c == ',' || c == '-')
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Expected numbers by hand: 25.4 mm an inch, 4.448 222 N a pound-force, 6.894 757 MPa a ksi,
    // 0.175 126 8 N/mm a pound-force per inch, 0.453 592 4 kg a pound.
    #[test]
    fn numbers_with_units_are_converted_and_nothing_else() {
        for (given, expected) in [
            ("rail web 2.2 mm: wall bending", "rail web 0.0866 in: wall bending"),
            ("12429 N against 9203 N.", "2794 lbf against 2069 lbf."),
            (
                "detailing rule not met: 3.0 against 2.1 mm; no",
                "detailing rule not met: 0.118 against 0.0827 in; no",
            ),
            ("stiffness along, 1800 N/mm", "stiffness along, 10278 lbf/in"),
            ("yield, 235 MPa", "yield, 34.1 ksi"),
            ("mass of a wheel, 46 kg", "mass of a wheel, 101 lb"),
            (
                "at x -290, y 405 mm: 6.0 mm from the edge",
                "at x -11.4, y 15.9 in: 0.236 in from the edge",
            ),
            (
                "the bush centre is at y -405, z 440; the rail fills y 380 to 425, z 420 to 520 mm",
                "the bush centre is at y -15.9, z 17.3; the rail fills y 15 to 16.7, z 16.5 to 20.5 in",
            ),
            (
                "it reaches from z 436 to 516, the face from z 428 to 512 mm",
                "it reaches from z 17.2 to 20.3, the face from z 16.9 to 20.2 in",
            ),
            ("a point at (330, \u{2212}480, 420) mm", "a point at (13, \u{2212}18.9, 16.5) in"),
            ("washer 28 × 4 mm, 218 N m: 0.79", "washer 1.1 × 0.157 in, 161 lbf ft: 0.79"),
            ("M12 8.8, 5 mm thick, 2 x 1.5", "M12 8.8, 0.197 in thick, 2 x 1.5"),
            (
                "EN 1993-1-8:2005, Table 3.4, 5 mm; FL-7 and 45.5 times",
                "EN 1993-1-8:2005, Table 3.4, 0.197 in; FL-7 and 45.5 times",
            ),
            ("2 g and 1.1 g on one wheel; 10 to 40 %", "2 g and 1.1 g on one wheel; 10 to 40 %"),
            ("7.53\u{A0}kN", "1693\u{A0}lbf"),
            ("no number, N m, mm", "no number, N m, mm"),
            ("", ""),
        ] {
            assert_eq!(rewrite(given), expected);
        }
    }
}
