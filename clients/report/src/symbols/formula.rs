//! Expressions, read into a small tree.

/// Deeper than any formula: text that goes on like this is not read as one.
const DEEPEST: usize = 64;

/// Names of units and constants in expressions: what they stand for.
const CONSTANTS: [(&str, &str, &str); 10] = [
    ("PI", "π", ""),
    ("MM", "1", "mm"),
    ("MM2", "1", "mm²"),
    ("MPA", "1", "MPa"),
    ("GPA", "1", "GPa"),
    ("KN", "1", "kN"),
    ("INCH", "25.4", "mm"),
    ("IN", "25.4", "mm"),
    ("KSI", "6.894757", "MPa"),
    ("KIP", "4448.222", "N"),
];

/// A piece of an expression.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Token {
    Number(String),
    Name(String),
    Mark(char),
}

/// An expression.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Tree {
    /// A number, as it is written in code, and its unit of the wire.
    Number(String, String),
    /// A number that is known by name: π.
    Constant(String),
    Name(String),
    Negative(Box<Tree>),
    Binary(char, Box<Tree>, Box<Tree>),
    Call(String, Vec<Tree>),
    /// The first whose condition is met, else the last.
    Choice(Vec<(Condition, Tree)>, Box<Tree>),
}

/// Comparisons, all of which (`∧`) or one of which (`∨`) has to be true.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Condition {
    pub(crate) parts: Vec<(Tree, char, Tree)>,
    pub(crate) all: bool,
}

/// The tree of an expression; nothing where it is not read as one.
pub(crate) fn read(text: &str) -> Option<Tree> {
    let tokens = tokens(text);
    let mut reader = Reader { tokens: &tokens, at: 0, depth: 0 };
    let tree = reader.sum()?;
    (reader.at == tokens.len()).then_some(tree)
}

/// The pieces of a text that is not read as an expression.
pub(crate) fn words(text: &str) -> Vec<Token> {
    tokens(text)
}

impl Tree {
    /// This tree with every tree in it replaced where `by` gives something else, outside first.
    pub(crate) fn replaced(&self, by: &impl Fn(&Tree) -> Option<Tree>) -> Tree {
        if let Some(other) = by(self) {
            return other;
        }
        let inner = |t: &Tree| t.replaced(by);
        let boxed = |t: &Tree| Box::new(t.replaced(by));
        match self {
            Self::Number(..) | Self::Constant(_) | Self::Name(_) => self.clone(),
            Self::Negative(t) => Self::Negative(boxed(t)),
            Self::Binary(mark, a, b) => Self::Binary(*mark, boxed(a), boxed(b)),
            Self::Call(name, arguments) => {
                Self::Call(name.clone(), arguments.iter().map(inner).collect())
            }
            Self::Choice(cases, last) => {
                let cases = cases.iter().map(|(c, t)| (c.replaced(by), inner(t))).collect();
                Self::Choice(cases, boxed(last))
            }
        }
    }
}

impl Condition {
    pub(crate) fn replaced(&self, by: &impl Fn(&Tree) -> Option<Tree>) -> Condition {
        let part = |(a, sign, b): &(Tree, char, Tree)| (a.replaced(by), *sign, b.replaced(by));
        Condition { parts: self.parts.iter().map(part).collect(), all: self.all }
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

    fn word(&mut self, word: &str) -> bool {
        let found = matches!(self.peek(), Some(Token::Name(name)) if name == word);
        self.at += usize::from(found);
        found
    }

    fn one_of(&mut self, marks: &[char]) -> Option<char> {
        marks.iter().copied().find(|m| self.take(*m))
    }

    fn sum(&mut self) -> Option<Tree> {
        if self.depth > DEEPEST {
            return None;
        }
        self.depth += 1;
        let mut tree = self.product()?;
        while let Some(mark) = self.one_of(&['+', '-']) {
            tree = Tree::Binary(mark, Box::new(tree), Box::new(self.product()?));
        }
        self.depth -= 1;
        Some(tree)
    }

    fn product(&mut self) -> Option<Tree> {
        let mut tree = self.signed()?;
        while let Some(mark) = self.one_of(&['*', '/']) {
            let right = self.signed()?;
            tree = match (mark, tree, right) {
                // A number times a unit is a number with a unit.
                ('*', Tree::Number(digits, none), Tree::Number(size, unit))
                    if none.is_empty() && !unit.is_empty() =>
                {
                    Tree::Number(times(digits, &size), unit)
                }
                (mark, left, right) => Tree::Binary(mark, Box::new(left), Box::new(right)),
            };
        }
        Some(tree)
    }

    fn signed(&mut self) -> Option<Tree> {
        if self.take('-') {
            return Some(Tree::Negative(Box::new(self.methods()?)));
        }
        self.methods()
    }

    /// A single thing, and what is done with it by name: `(a / b).ln()`.
    fn methods(&mut self) -> Option<Tree> {
        let mut tree = self.single()?;
        while self.take('.') {
            let Some(Token::Name(name)) = self.peek().cloned() else { return None };
            self.at += 1;
            if !self.take('(') {
                return None;
            }
            let mut arguments = vec![tree];
            arguments.extend(self.arguments()?);
            tree = Tree::Call(name, arguments);
        }
        Some(tree)
    }

    fn single(&mut self) -> Option<Tree> {
        let token = self.peek()?.clone();
        self.at += 1;
        match token {
            Token::Number(digits) => Some(Tree::Number(digits, String::new())),
            Token::Name(name) if name == "if" => self.choice(),
            Token::Name(name) if self.take('(') => Some(Tree::Call(name, self.arguments()?)),
            Token::Name(name) => Some(named(name)),
            Token::Mark('(') => {
                let tree = self.sum()?;
                self.take(')').then_some(tree)
            }
            Token::Mark(_) => None,
        }
    }

    fn arguments(&mut self) -> Option<Vec<Tree>> {
        let mut arguments = Vec::new();
        while !self.take(')') {
            arguments.push(self.sum()?);
            if !self.take(',') && self.peek() != Some(&Token::Mark(')')) {
                return None;
            }
        }
        Some(arguments)
    }

    /// Behind `if`: condition, value, and what holds otherwise.
    fn choice(&mut self) -> Option<Tree> {
        let mut cases = Vec::new();
        loop {
            let condition = self.condition()?;
            cases.push((condition, self.braced()?));
            if !self.word("else") {
                return None;
            }
            if !self.word("if") {
                return Some(Tree::Choice(cases, Box::new(self.braced()?)));
            }
        }
    }

    fn braced(&mut self) -> Option<Tree> {
        let tree = if self.take('{') { self.sum()? } else { return None };
        self.take('}').then_some(tree)
    }

    fn condition(&mut self) -> Option<Condition> {
        let mut parts = vec![self.comparison()?];
        let mut joined = None;
        while let Some(mark) = self.one_of(&['∧', '∨']) {
            // One kind of joint at a time: what is meant by both needs brackets.
            if joined.is_some_and(|j| j != mark) {
                return None;
            }
            joined = Some(mark);
            parts.push(self.comparison()?);
        }
        Some(Condition { parts, all: joined != Some('∨') })
    }

    fn comparison(&mut self) -> Option<(Tree, char, Tree)> {
        let left = self.sum()?;
        let sign = self.one_of(&['<', '>', '≤', '≥', '=', '≠'])?;
        Some((left, sign, self.sum()?))
    }
}

/// Digits times the size of a unit, in digits.
fn times(digits: String, size: &str) -> String {
    match (digits.replace('_', "").parse::<f64>(), size.parse::<f64>()) {
        (Ok(number), Ok(size)) if (size - 1.0).abs() > f64::EPSILON => {
            crate::numbers::plain(number * size, 9)
        }
        _ => digits,
    }
}

/// A name, or the number that it stands for.
fn named(name: String) -> Tree {
    if let Some(square) = name.strip_prefix("SQRT_") {
        return Tree::Call("sqrt".to_owned(), vec![Tree::Number(square.to_owned(), String::new())]);
    }
    match CONSTANTS.iter().find(|(code, ..)| *code == name) {
        Some((_, "π", _)) => Tree::Constant("π".to_owned()),
        Some((_, digits, unit)) => Tree::Number((*digits).to_owned(), (*unit).to_owned()),
        None => Tree::Name(name),
    }
}

fn tokens(text: &str) -> Vec<Token> {
    let mut out = Vec::new();
    let mut rest = text.trim_start();
    while let Some(first) = rest.chars().next() {
        let double = [("<=", '≤'), (">=", '≥'), ("==", '='), ("!=", '≠'), ("&&", '∧'), ("||", '∨')];
        if first.is_ascii_digit() {
            let (number, behind) = rest.split_at(number_length(rest));
            out.push(Token::Number(number.to_owned()));
            rest = behind;
        } else if first.is_alphabetic() || first == '_' {
            let end = rest.find(|c: char| !c.is_alphanumeric() && c != '_').unwrap_or(rest.len());
            // Of a path the last part is the name.
            match rest[end..].strip_prefix("::") {
                Some(behind) => rest = behind,
                None => {
                    out.push(Token::Name(rest[..end].to_owned()));
                    rest = &rest[end..];
                }
            }
        } else if let Some((sign, mark)) = double.iter().find(|(sign, _)| rest.starts_with(sign)) {
            out.push(Token::Mark(*mark));
            rest = &rest[sign.len()..];
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
