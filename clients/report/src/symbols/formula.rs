//! Expressions: read into a small tree, printed as algebra.

use super::symbol;
use crate::svg::writer::escape;

/// Units that may stand behind a number, longest first.
const UNITS: [&str; 18] = [
    "N m²", "N/mm", "m/s²", "N mm", "rad", "mm²", "mm³", "mm⁴", "mm⁶", "MPa", "N m", "kN", "mm",
    "km", "kg", "N", "°", "g",
];

/// An expression, or an expression with its numbers put in, as markup.
pub(crate) fn formula(text: &str) -> String {
    let tokens = tokens(text);
    let mut reader = Reader { tokens: &tokens, at: 0, depth: 0 };
    match reader.sum() {
        Some(tree) if reader.at == tokens.len() => tree.print(),
        _ => tokens.iter().map(Token::print).collect::<Vec<_>>().join(" "),
    }
}

#[derive(Debug, Clone, PartialEq)]
enum Token {
    Number(String, &'static str),
    Name(String),
    Mark(char),
}

impl Token {
    fn print(&self) -> String {
        match self {
            Self::Number(digits, unit) => number(digits, unit),
            Self::Name(name) => symbol(name),
            Self::Mark('*') => "·".to_owned(),
            Self::Mark('-') => "\u{2212}".to_owned(),
            Self::Mark(mark) => escape(&mark.to_string()),
        }
    }
}

#[derive(Debug, PartialEq)]
enum Tree {
    Leaf(Token),
    Negative(Box<Tree>),
    Binary(char, Box<Tree>, Box<Tree>),
    Call(String, Vec<Tree>),
}

impl Tree {
    /// How tightly it holds together: 0 sums, 1 products, 2 signs, 3 single things.
    fn strength(&self) -> u8 {
        match self {
            Self::Binary('+' | '-', ..) => 0,
            Self::Binary(..) => 1,
            Self::Negative(_) => 2,
            Self::Leaf(_) | Self::Call(..) => 3,
        }
    }

    fn print(&self) -> String {
        match self {
            Self::Leaf(token) => token.print(),
            Self::Negative(inner) => format!("\u{2212}{}", inner.inside(2)),
            Self::Binary(mark, left, right) => {
                let own = self.strength();
                // What stands behind a minus or a stroke needs brackets at equal strength.
                let right_needs = if matches!(mark, '-' | '/') { own + 1 } else { own };
                let right_text = if matches!(**right, Self::Negative(_)) {
                    format!("({})", right.print())
                } else {
                    right.inside(right_needs)
                };
                let sign = Token::Mark(*mark).print();
                format!("{} {sign} {right_text}", left.inside(own))
            }
            Self::Call(name, arguments) => call(name, arguments),
        }
    }

    /// Printed, in brackets where it holds together less than `needed`.
    fn inside(&self, needed: u8) -> String {
        if self.strength() < needed { format!("({})", self.print()) } else { self.print() }
    }

    /// Printed as the base of a power: a number with a unit needs brackets, too.
    fn base(&self) -> String {
        match self {
            Self::Leaf(Token::Number(_, unit)) if !unit.is_empty() => format!("({})", self.print()),
            Self::Call(name, _) if matches!(name.as_str(), "sq" | "cube" | "power") => {
                format!("({})", self.print())
            }
            _ => self.inside(3),
        }
    }
}

fn call(name: &str, arguments: &[Tree]) -> String {
    match (name, arguments) {
        ("sq", [x]) => format!("{}²", x.base()),
        ("cube", [x]) => format!("{}³", x.base()),
        ("power", [x, exponent]) => format!("{}<sup>{}</sup>", x.base(), exponent.print()),
        ("sqrt", [x]) => root(&x.print()),
        ("hypot", [x, y]) => root(&format!("{}² + {}²", x.base(), y.base())),
        ("abs", [x]) => format!("|{}|", x.print()),
        ("positive", [x]) => format!("max({}, 0)", x.print()),
        _ => {
            let name = match name {
                "larger" => "max".to_owned(),
                "smaller" => "min".to_owned(),
                other => escape(&other.replace('_', " ")),
            };
            let inside = arguments.iter().map(Tree::print).collect::<Vec<_>>().join(", ");
            format!("{name}({inside})")
        }
    }
}

fn root(inside: &str) -> String {
    format!("√<span class=\"rt\">{inside}</span>")
}

/// Digits of code as digits of print, with their unit small beside them.
fn number(digits: &str, unit: &str) -> String {
    let plain = digits.replace('_', "");
    let plain = plain.strip_suffix(".0").unwrap_or(&plain);
    let shown = match plain.split_once('e') {
        Some((mantissa, exponent)) => {
            let exponent = exponent.replace('-', "\u{2212}");
            format!("{mantissa} · 10<sup>{}</sup>", escape(&exponent))
        }
        None => plain.to_owned(),
    };
    match unit {
        "" => shown,
        "°" => format!("{shown}°"),
        _ => format!("{shown}<span class=\"un\">\u{A0}{}</span>", unit.replace(' ', "\u{A0}")),
    }
}

struct Reader<'a> {
    tokens: &'a [Token],
    at: usize,
    depth: usize,
}

impl Reader<'_> {
    fn peek(&self) -> Option<&Token> {
        self.tokens.get(self.at)
    }

    fn take(&mut self, mark: char) -> bool {
        let found = self.peek() == Some(&Token::Mark(mark));
        self.at += usize::from(found);
        found
    }

    fn one_of(&mut self, marks: [char; 2]) -> Option<char> {
        marks.into_iter().find(|m| self.take(*m))
    }

    fn sum(&mut self) -> Option<Tree> {
        // Deeper than any formula: text that goes on like this is not read as one.
        if self.depth > 64 {
            return None;
        }
        self.depth += 1;
        let mut tree = self.product()?;
        while let Some(mark) = self.one_of(['+', '-']) {
            tree = Tree::Binary(mark, Box::new(tree), Box::new(self.product()?));
        }
        self.depth -= 1;
        Some(tree)
    }

    fn product(&mut self) -> Option<Tree> {
        let mut tree = self.signed()?;
        while let Some(mark) = self.one_of(['*', '/']) {
            tree = Tree::Binary(mark, Box::new(tree), Box::new(self.signed()?));
        }
        Some(tree)
    }

    fn signed(&mut self) -> Option<Tree> {
        if self.take('-') {
            return Some(Tree::Negative(Box::new(self.single()?)));
        }
        self.single()
    }

    fn single(&mut self) -> Option<Tree> {
        let token = self.peek()?.clone();
        self.at += 1;
        match token {
            Token::Number(..) => Some(Tree::Leaf(token)),
            Token::Name(name) if self.take('(') => {
                let mut arguments = Vec::new();
                while !self.take(')') {
                    arguments.push(self.sum()?);
                    if !self.take(',') && self.peek() != Some(&Token::Mark(')')) {
                        return None;
                    }
                }
                Some(Tree::Call(name, arguments))
            }
            Token::Name(_) => Some(Tree::Leaf(token)),
            Token::Mark('(') => {
                let tree = self.sum()?;
                self.take(')').then_some(tree)
            }
            Token::Mark(_) => None,
        }
    }
}

fn tokens(text: &str) -> Vec<Token> {
    let mut out = Vec::new();
    let mut rest = text.trim_start();
    while let Some(first) = rest.chars().next() {
        if first.is_ascii_digit() {
            let digits = number_length(rest);
            let (number, behind) = rest.split_at(digits);
            let (unit, behind) = unit(behind);
            out.push(Token::Number(number.to_owned(), unit));
            rest = behind;
        } else if first.is_alphabetic() || first == '_' {
            let end = rest.find(|c: char| !c.is_alphanumeric() && c != '_').unwrap_or(rest.len());
            out.push(Token::Name(rest[..end].to_owned()));
            rest = &rest[end..];
        } else {
            out.push(Token::Mark(first));
            rest = &rest[first.len_utf8()..];
        }
        rest = rest.trim_start();
    }
    out
}

/// How many bytes of `text` are one number: `3.0`, `1e-3`, `2_000`.
fn number_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let mut end = 0;
    while let Some(byte) = bytes.get(end) {
        let next = bytes.get(end + 1);
        let goes_on = match byte {
            b'0'..=b'9' | b'_' => true,
            b'.' => next.is_some_and(u8::is_ascii_digit),
            b'e' => next.is_some_and(|n| n.is_ascii_digit() || *n == b'-'),
            b'-' => end > 0 && bytes[end - 1] == b'e',
            _ => false,
        };
        if !goes_on {
            break;
        }
        end += 1;
    }
    end
}

/// The unit at the start of `text`, and what is behind it.
fn unit(text: &str) -> (&'static str, &str) {
    let start = text.trim_start();
    for unit in UNITS {
        let Some(behind) = start.strip_prefix(unit) else {
            continue;
        };
        let ends = !behind.starts_with(|c: char| c.is_alphanumeric() || c == '_');
        if ends && (unit == "°" || start.len() < text.len()) {
            return (unit, behind);
        }
    }
    ("", text)
}

// Expected: the expression of EN 1993-1-8:2005, (4.1), and plain algebra, as set on paper.
#[cfg(test)]
mod tests {
    use super::*;

    fn plain(text: &str) -> String {
        formula(text)
            .replace("<span class=\"rt\">", "[")
            .replace("<span class=\"un\">", "")
            .replace("</span>", "]")
            .replace('\u{A0}', "~")
            .replace("<i>", "")
            .replace("</i>", "")
    }

    #[test]
    fn the_comparison_stress_reads_as_in_the_standard() {
        assert_eq!(
            formula("sqrt(sq(sigma_perp) + 3.0 * (sq(tau_perp) + sq(tau_par)))"),
            "√<span class=\"rt\"><i>σ</i><sub>⊥</sub>² + 3 · (<i>τ</i><sub>⊥</sub>² + \
             <i>τ</i><sub>∥</sub>²)</span>"
        );
        assert_eq!(
            plain("f_u / (beta_w * gamma_m2)"),
            "f<sub>u</sub> / (β<sub>w</sub> · γ<sub>M2</sub>)"
        );
    }

    #[test]
    fn numbers_keep_their_units() {
        assert_eq!(plain("sq(50 MPa) + 3.0 * sq(40 MPa)"), "(50~MPa])² + 3 · (40~MPa])²");
        assert_eq!(plain("1.2e-3 * 12 N m"), "1.2 · 10<sup>−3</sup> · 12~N~m]");
        assert_eq!(plain("a - -5 N"), "a − (−5~N])");
    }

    #[test]
    fn brackets_stay_where_they_change_the_value() {
        assert_eq!(plain("a - (b - c)"), "a − (b − c)");
        assert_eq!(plain("(a - b) - c"), "a − b − c");
        assert_eq!(plain("a / (b * c)"), "a / (b · c)");
        assert_eq!(plain("(a / b) * c"), "a / b · c");
        assert_eq!(plain("sq(a + b)"), "(a + b)²");
        assert_eq!(plain("-(a + b)"), "−(a + b)");
        assert_eq!(plain("power(a / b, 1.0 / 3.0)"), "(a / b)<sup>1 / 3</sup>");
        assert_eq!(plain("power(30.0 / 42 mm, 0.25)"), "(30 / 42~mm])<sup>0.25</sup>");
        assert_eq!(plain("larger(a, hypot(b, c))"), "max(a, √[b² + c²])");
    }

    #[test]
    fn what_is_no_formula_is_still_printed_and_escaped() {
        assert_eq!(plain("if a < b { a } else { b }"), "if a &lt; b { a } else { b }");
        assert_eq!(plain(""), "");
        assert_eq!(plain("sq("), "sq (");
        let deep = "(".repeat(10_000);
        assert_eq!(formula(&deep).matches('(').count(), 10_000);
    }
}
