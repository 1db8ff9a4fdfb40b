//! Trees of expressions as algebra, in letters or with their numbers.

use super::formula::{Condition, Token, Tree, words};
use super::value::Known;
use super::{Hand, symbol, written};
use crate::numbers;
use crate::units::Units;

/// How a tree is set.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Setting<'a> {
    pub(crate) hand: Hand,
    pub(crate) units: Units,
    /// Numbers by symbol: their units tell capitals.
    pub(crate) known: Known<'a>,
    /// Whether the numbers are put in.
    pub(crate) numbers: bool,
}

/// A tree in one line; cases stand in brackets.
pub(crate) fn formula(tree: &Tree, setting: Setting<'_>) -> String {
    tree.print(setting)
}

/// The lines of a tree that is a choice as a whole: value and condition. Any other is one line.
pub(crate) fn cases(tree: &Tree, setting: Setting<'_>) -> Vec<(String, String)> {
    let Tree::Choice(cases, last) = tree else {
        return vec![(tree.print(setting), String::new())];
    };
    let line = |(c, t): &(Condition, Tree)| (t.print(setting), format!("for {}", c.print(setting)));
    let mut out: Vec<_> = cases.iter().map(line).collect();
    out.push((last.print(setting), "otherwise".to_owned()));
    out
}

/// Text that is not read as an expression, with its symbols set.
pub(crate) fn raw(text: &str, setting: Setting<'_>) -> String {
    let shown = |token: &Token| match token {
        Token::Number(digits) => number(digits, "", setting),
        Token::Name(name) => symbol(name, setting.known.unit(name), setting.hand),
        Token::Mark(mark) => sign(*mark, setting.hand),
    };
    words(text).iter().map(shown).collect::<Vec<_>>().join(" ")
}

impl Condition {
    pub(crate) fn print(&self, setting: Setting<'_>) -> String {
        let part = |(a, s, b): &(Tree, char, Tree)| {
            format!("{} {} {}", a.print(setting), sign(*s, setting.hand), b.print(setting))
        };
        let joint = if self.all { " and " } else { " or " };
        self.parts.iter().map(part).collect::<Vec<_>>().join(joint)
    }
}

impl Tree {
    /// How tightly it holds together: 0 sums, 1 products, 2 signs, 3 single things.
    fn strength(&self, setting: Setting<'_>) -> u8 {
        match self {
            Self::Binary('+' | '-', ..) => 0,
            Self::Binary(..) => 1,
            Self::Negative(_) => 2,
            Self::Name(name) if is_negative(name, setting) => 2,
            Self::Call(name, arguments) if name == "share" && arguments.len() == 2 => 1,
            _ => 3,
        }
    }

    fn print(&self, setting: Setting<'_>) -> String {
        match self {
            Self::Number(digits, unit) => {
                let shown = match digits.parse::<f64>() {
                    Ok(value) if !unit.is_empty() && setting.units == Units::Us => {
                        numbers::plain(setting.units.value(value, unit), 4)
                    }
                    _ => digits.clone(),
                };
                number(&shown, setting.units.unit(unit), setting)
            }
            Self::Constant(name) if setting.hand == Hand::Ascii && name == "π" => "pi".to_owned(),
            Self::Constant(name) => name.clone(),
            Self::Name(name) => named(name, setting),
            Self::Negative(inner) => {
                format!("{}{}", sign('-', setting.hand), inner.inside(3, setting))
            }
            Self::Binary(mark, left, right) => {
                let own = self.strength(setting);
                // What stands behind a minus or a stroke needs brackets at equal strength, and a
                // sign behind a sign as well.
                let needed = if matches!(mark, '-' | '/') { own + 1 } else { own };
                let right = match right.strength(setting) {
                    2 => format!("({})", right.print(setting)),
                    _ => right.inside(needed, setting),
                };
                let left = match left.as_ref() {
                    Self::Name(name) if own == 1 && is_negative(name, setting) => {
                        format!("({})", left.print(setting))
                    }
                    left => left.inside(own, setting),
                };
                format!("{left} {} {right}", sign(*mark, setting.hand))
            }
            Self::Call(name, arguments) => call(name, arguments, setting),
            Self::Choice(..) => {
                let line = |(value, condition): (String, String)| format!("{value} {condition}");
                let lines: Vec<_> = cases(self, setting).into_iter().map(line).collect();
                format!("[{}]", lines.join("; "))
            }
        }
    }

    /// Printed, in brackets where it holds together less than `needed`.
    fn inside(&self, needed: u8, setting: Setting<'_>) -> String {
        let shown = self.print(setting);
        if self.strength(setting) < needed { format!("({shown})") } else { shown }
    }

    /// Printed as the base of a power: a number with a unit needs brackets, too.
    fn base(&self, setting: Setting<'_>) -> String {
        let bare = match self {
            Self::Number(_, unit) => unit.is_empty(),
            Self::Name(name) => {
                let unit = setting.known.unit(name).unwrap_or_default();
                !setting.numbers || (unit.is_empty() && !is_negative(name, setting))
            }
            Self::Call(name, _) => {
                !matches!(name.as_str(), "sq" | "cube" | "power" | "powf" | "powi" | "share")
            }
            _ => self.strength(setting) == 3,
        };
        let shown = self.print(setting);
        if bare { shown } else { format!("({shown})") }
    }
}

fn is_negative(name: &str, setting: Setting<'_>) -> bool {
    setting.numbers && setting.known.step(name).is_some_and(|s| s.value < 0.0)
}

/// A symbol, or its number.
fn named(name: &str, setting: Setting<'_>) -> String {
    match setting.known.step(name).filter(|_| setting.numbers) {
        Some(step) => {
            let (value, unit) = setting.units.of(step.value, &step.unit);
            number(&numbers::plain(value, 4), unit, setting)
        }
        None => symbol(name, setting.known.unit(name), setting.hand),
    }
}

fn call(name: &str, arguments: &[Tree], setting: Setting<'_>) -> String {
    let power = |x: &Tree, n: &str| raised(&x.base(setting), n, setting.hand);
    match (name, arguments) {
        ("sq", [x]) => power(x, "2"),
        ("cube", [x]) => power(x, "3"),
        ("power" | "powf" | "powi", [x, n]) => power(x, &n.print(setting)),
        ("sqrt", [x]) => root(&x.print(setting), setting.hand),
        ("hypot", [x, y]) => root(&format!("{} + {}", power(x, "2"), power(y, "2")), setting.hand),
        ("abs", [x]) => format!("|{}|", x.print(setting)),
        ("positive", [x]) => format!("max{{{}; 0}}", x.print(setting)),
        ("share", [a, b]) => {
            format!("{} {} {}", a.inside(1, setting), sign('/', setting.hand), b.inside(2, setting))
        }
        ("larger" | "max", _) => format!("max{{{}}}", listed(name, arguments, setting)),
        ("smaller" | "min", _) => format!("min{{{}}}", listed(name, arguments, setting)),
        _ => {
            let inside = arguments.iter().map(|t| t.print(setting)).collect::<Vec<_>>().join("; ");
            format!("{}({inside})", written(&name.replace('_', " "), setting.hand))
        }
    }
}

/// The things of which the largest or smallest counts; one of the same kind within is one list.
fn listed(name: &str, arguments: &[Tree], setting: Setting<'_>) -> String {
    let one = |tree: &Tree| match tree {
        Tree::Call(inner, more) if inner == name => listed(inner, more, setting),
        tree => tree.print(setting),
    };
    arguments.iter().map(one).collect::<Vec<_>>().join("; ")
}

fn raised(base: &str, power: &str, hand: Hand) -> String {
    match (hand, power) {
        (Hand::Page | Hand::Text, "2") => format!("{base}²"),
        (Hand::Page | Hand::Text, "3") => format!("{base}³"),
        (Hand::Page, _) => format!("{base}<sup>{power}</sup>"),
        _ if power.chars().all(|c| c.is_alphanumeric() || c == '.') => format!("{base}^{power}"),
        _ => format!("{base}^({power})"),
    }
}

fn root(inside: &str, hand: Hand) -> String {
    match hand {
        Hand::Page => format!("√<span class=\"rt\">{inside}</span>"),
        Hand::Text if inside.chars().all(char::is_alphanumeric) => format!("√{inside}"),
        Hand::Text => format!("√({inside})"),
        Hand::Ascii => format!("sqrt({inside})"),
    }
}

fn sign(mark: char, hand: Hand) -> String {
    match (mark, hand) {
        ('*', Hand::Ascii) => "*".to_owned(),
        ('*', _) => "·".to_owned(),
        ('-', Hand::Page) => "\u{2212}".to_owned(),
        ('≤', Hand::Ascii) => "<=".to_owned(),
        ('≥', Hand::Ascii) => ">=".to_owned(),
        ('≠', Hand::Ascii) => "not =".to_owned(),
        ('∧', _) => "and".to_owned(),
        ('∨', _) => "or".to_owned(),
        (mark, hand) => written(&mark.to_string(), hand),
    }
}

/// Digits of code as digits of print, with their unit beside them.
fn number(digits: &str, unit: &str, setting: Setting<'_>) -> String {
    let plain = digits.replace('_', "");
    let plain = plain.strip_suffix(".0").unwrap_or(&plain);
    let hand = setting.hand;
    let minus = |text: &str| {
        if hand == Hand::Page { text.replace('-', "\u{2212}") } else { text.to_owned() }
    };
    let shown = match (plain.split_once('e'), hand) {
        (Some((mantissa, exponent)), Hand::Page) => {
            format!("{} · 10<sup>{}</sup>", minus(mantissa), minus(exponent))
        }
        (None, Hand::Page) => numbers::grouped(plain),
        _ => plain.to_owned(),
    };
    match (unit, hand) {
        ("", _) => shown,
        ("°", Hand::Ascii) => format!("{shown} deg"),
        ("°", _) => format!("{shown}°"),
        (_, Hand::Page) => {
            let unit = written(&unit.replace(' ', "\u{A0}"), hand);
            format!("{shown}<span class=\"un\">\u{A0}{unit}</span>")
        }
        _ => format!("{shown} {unit}"),
    }
}

// Expected: the expressions of EN 1993-1-8:2005, (4.1), and plain algebra, as set on paper.
#[cfg(test)]
mod tests {
    use fishplate_proto::v1;

    use super::*;
    use crate::symbols::formula::read;
    use crate::symbols::value::{agrees, chosen};

    fn step(symbol: &str, value: f64, unit: &str) -> v1::DerivationStep {
        v1::DerivationStep {
            symbol: symbol.to_owned(),
            value,
            unit: unit.to_owned(),
            ..v1::DerivationStep::default()
        }
    }

    fn set(text: &str, steps: &[v1::DerivationStep], hand: Hand, numbers: bool) -> String {
        let known = Known::before(steps, steps.len());
        let setting = Setting { hand, units: Units::Si, known, numbers };
        match read(text) {
            Some(tree) => formula(&tree, setting),
            None => raw(text, setting),
        }
    }

    fn text(expression: &str) -> String {
        set(expression, &[], Hand::Text, false)
    }

    #[test]
    fn the_comparison_stress_reads_as_in_the_standard() {
        let expression = "sqrt(sq(sigma_perp) + 3.0 * (sq(tau_perp) + sq(tau_par)))";
        assert_eq!(
            set(expression, &[], Hand::Page, false),
            "√<span class=\"rt\"><i>σ</i><sub>⊥</sub>² + 3 · (<i>τ</i><sub>⊥</sub>² + \
             <i>τ</i><sub>∥</sub>²)</span>"
        );
        assert_eq!(text(expression), "√(σ_⊥² + 3 · (τ_⊥² + τ_∥²))");
        assert_eq!(
            set(expression, &[], Hand::Ascii, false),
            "sqrt(sigma_perp^2 + 3 * (tau_perp^2 + tau_par^2))"
        );
        let steps = [("sigma_perp", 50.0), ("tau_perp", 40.0), ("tau_par", -30.0)]
            .map(|(symbol, value)| step(symbol, value, "MPa"));
        assert_eq!(
            set(expression, &steps, Hand::Text, true),
            "√((50 MPa)² + 3 · ((40 MPa)² + (-30 MPa)²))"
        );
    }

    #[test]
    fn numbers_are_put_in_with_the_units_of_their_step() {
        let steps = [step("m", 0.0012, "N m"), step("f", -12_830.0, "N"), step("n", 2.0, "")];
        assert_eq!(set("m + f * n", &steps, Hand::Text, true), "0.0012 N m + (-12830 N) · 2");
        assert_eq!(set("n + f", &steps, Hand::Text, true), "2 + (-12830 N)");
        assert_eq!(set("-f", &steps, Hand::Text, true), "-(-12830 N)");
        assert_eq!(
            set("m + n", &steps, Hand::Page, true),
            "0.0012<span class=\"un\">\u{A0}N\u{A0}m</span> + 2"
        );
    }

    #[test]
    fn brackets_stay_where_they_change_the_value() {
        for (given, expected) in [
            ("a - (b - c)", "a - (b - c)"),
            ("(a - b) - c", "a - b - c"),
            ("a / (b * c)", "a / (b · c)"),
            ("(a / b) * c", "a / b · c"),
            ("sq(a + b)", "(a + b)²"),
            ("-(a + b)", "-(a + b)"),
            ("a - -b", "a - (-b)"),
            ("larger(a, hypot(b, c))", "max{a; √(b² + c²)}"),
            ("smaller(smaller(a, 2.5), larger(b, c))", "min{a; 2.5; max{b; c}}"),
            ("positive(a - b)", "max{a - b; 0}"),
            ("share(a, b + c)", "a / (b + c)"),
            ("(a / b).ln() * x.powf(0.25)", "ln(a / b) · x^0.25"),
            ("power(a / b, 1.0 / 3.0)", "(a / b)^(1 / 3)"),
            ("std::f64::consts::PI / 4.0", "π / 4"),
            ("40.0 * MM + 1.5 * t / MM", "40 mm + 1.5 · t / 1 mm"),
            ("larger(4.0 * z, 1.5 * IN - IN / 16.0)", "max{4 · z; 38.1 mm - 25.4 mm / 16}"),
            ("f_y / (SQRT_3 * gamma_m0)", "f_y / (√3 · γ_M0)"),
        ] {
            assert_eq!(text(given), expected);
        }
    }

    #[test]
    fn choices_are_cases() {
        let tree = read("if t <= 1.25 * MM { (0.8 * t / MM + 1.5) / 2.5 } else { 1.0 }").unwrap();
        let steps = [step("t", 2.2, "mm")];
        let known = Known::before(&steps, 1);
        let setting = Setting { hand: Hand::Text, units: Units::Si, known, numbers: false };
        let lines = cases(&tree, setting);
        assert_eq!(lines[0].0, "(0.8 · t / 1 mm + 1.5) / 2.5");
        assert_eq!(lines[0].1, "for t ≤ 1.25 mm");
        assert_eq!(lines[1], ("1".to_owned(), "otherwise".to_owned()));
        // 2.2 mm is thicker, so the second holds; by hand the first would be 1.304.
        let (branch, reasons) = chosen(&tree, known, &step("k_t", 1.0, "")).unwrap();
        assert_eq!(formula(&branch, setting), "1");
        let reason = reasons[0].print(Setting { numbers: true, ..setting });
        assert_eq!(reason, "2.2 mm > 1.25 mm");
        assert!(chosen(&tree, known, &step("k_t", 1.304, "")).is_none());
        assert_eq!(
            text("(if n < 2.5 { 0.4 } else { 0.5 }) + 0.3"),
            "[0.4 for n < 2.5; 0.5 otherwise] + 0.3"
        );
        let us = Setting { units: Units::Us, ..setting };
        assert_eq!(cases(&tree, us)[0].1, "for t ≤ 0.04921 in");
    }

    /// By hand: 1.1 · 11 664 N is 12 830.4 N; 12 N on 16 mm² is 0.75 MPa.
    #[test]
    fn a_result_is_compared_in_one_system() {
        let steps = [step("mu", 1.1, ""), step("f", 11_664.0, "N"), step("a", 16.0, "mm²")];
        let known = Known::before(&steps, 3);
        let tree = |text: &str| read(text).unwrap();
        assert!(agrees(&tree("mu * f"), known, &step("f_back", 12_830.4, "N")));
        assert!(!agrees(&tree("mu * f"), known, &step("f_back", 12_831.0, "N")));
        assert!(agrees(&tree("f / a"), known, &step("s", 729.0, "MPa")));
        assert!(!agrees(&tree("f / q"), known, &step("s", 729.0, "MPa")));
    }

    #[test]
    fn what_is_no_formula_is_still_printed_and_escaped() {
        let page = |given: &str| set(given, &[], Hand::Page, false);
        assert_eq!(page("a < b ? c"), "<i>a</i> &lt; <i>b</i> ? <i>c</i>");
        assert_eq!(page(""), "");
        assert_eq!(page("sq("), "<i>sq</i> (");
        let deep = "(".repeat(10_000);
        assert_eq!(page(&deep).matches('(').count(), 10_000);
    }
}
