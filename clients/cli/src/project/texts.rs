//! A project from several texts: the file, what it includes, and keys set on the command line.
//!
//! `include = ["car.toml"]` stands above all sections; a name is looked up from the folder of the
//! file that includes. Sections of the same name are put together. A key that stands in two texts is
//! a fault, since nobody could tell which one counts, unless the text that includes the other writes
//! it under `[over]`: `[over.car]` and `mass = "2110 kg"`. Keys set on the command line go before all.

use std::path::{Path, PathBuf};

use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

use super::document::{Fault, in_order};
use super::open::{Opened, read_open, refuse_open};
use super::spelling::nearest;
use super::{Loaded, grammar_fault, read_table};
use crate::source::{ARGUMENT, PROJECT_BYTES, Source, Unreadable};

/// The key that names what belongs to a project, too.
pub(super) const INCLUDE: &str = "include";
/// The section whose keys go before included ones.
const OVER: &str = "over";
/// Most files that belong to one project.
const MOST: usize = 16;

/// The texts of a project.
#[derive(Debug)]
pub(crate) struct Texts {
    /// All of them: the file, what it includes, keys that are set.
    pub(crate) source: Source,
    /// Of each file, the numbers of the texts that it includes.
    includes: Vec<Vec<usize>>,
    faults: Vec<Fault>,
}

impl Texts {
    /// A text that includes nothing.
    pub(super) fn alone(text: &str) -> Self {
        let source = Source::new(String::new(), text.to_owned());
        Self { source, includes: vec![Vec::new()], faults: Vec::new() }
    }

    /// Reads the file `name`, all that it includes, and takes the keys in `set`.
    ///
    /// # Errors
    /// Where the file itself cannot be read; what is wrong with others is told by [`Texts::read`].
    pub(crate) fn gather(name: &str, set: &[String]) -> Result<Self, Unreadable> {
        let source = Source::read(name, PROJECT_BYTES)?;
        let mut texts = Self { source, includes: vec![Vec::new()], faults: Vec::new() };
        let own = Path::new(name);
        let mut known = vec![(own.canonicalize().unwrap_or_else(|_| own.to_owned()), 0)];
        texts.follow(0, own, &mut known, &mut Vec::new());
        for argument in set {
            texts.source.add(ARGUMENT.to_owned(), argument.clone());
        }
        Ok(texts)
    }

    /// Reads what text `at` includes, and what that includes. `known` are the files with the numbers
    /// of their texts, `within` the texts that led here.
    fn follow(
        &mut self,
        at: usize,
        file: &Path,
        known: &mut Vec<(PathBuf, usize)>,
        within: &mut Vec<usize>,
    ) {
        within.push(at);
        for (name, span) in self.named_in(at) {
            let mut fault = |what: String, advice: &str| {
                let advice = advice.to_owned();
                self.faults.push(Fault { span: Some(span.clone()), what, advice });
            };
            let path = file.parent().map_or_else(|| PathBuf::from(&name), |f| f.join(&name));
            let real = path.canonicalize().unwrap_or_else(|_| path.clone());
            if let Some((_, number)) = known.iter().find(|(known, _)| *known == real) {
                if within.contains(number) {
                    let what = format!("{name} includes this file, by itself or through others");
                    fault(what, "leave one of the two out");
                } else {
                    // Two may include the same third: it is read once.
                    self.includes[at].push(*number);
                }
                continue;
            }
            if known.len() == MOST {
                fault(
                    format!("more than {MOST} files belong to this project"),
                    "put some together",
                );
                continue;
            }
            match Source::read(&path.to_string_lossy(), PROJECT_BYTES) {
                Err(why) => fault(
                    why.to_string(),
                    "names are looked up from the folder of the file that includes them",
                ),
                Ok(read) => {
                    let number = self.source.add(read.name().to_owned(), read.text().to_owned());
                    self.includes.push(Vec::new());
                    self.includes[at].push(number);
                    known.push((real, number));
                    self.follow(number, &path, known, within);
                }
            }
        }
        within.pop();
    }

    /// The files that text `at` names, each with its place.
    fn named_in(&mut self, at: usize) -> Vec<(String, std::ops::Range<usize>)> {
        let text = &self.source.texts()[at];
        let (table, _) = DeTable::parse_recoverable(&text.text);
        let Some(named) = table.get_ref().get(INCLUDE) else { return Vec::new() };
        let place = |span: std::ops::Range<usize>| span.start + text.start..span.end + text.start;
        let items = match named.get_ref() {
            DeValue::Array(items) => items.iter().collect(),
            _ => vec![named],
        };
        let mut files = Vec::new();
        for item in items {
            match item.get_ref() {
                DeValue::String(name) => files.push((name.to_string(), place(item.span()))),
                _ => self.faults.push(Fault {
                    span: Some(place(item.span())),
                    what: format!("`{INCLUDE}` has something else than the name of a file"),
                    advice: format!("write {INCLUDE} = [\"car.toml\", \"shop-tables.toml\"]"),
                }),
            }
        }
        files
    }

    /// What all texts together say, which must be one design.
    ///
    /// # Errors
    /// Every fault of every text. A text that is no TOML yields the faults of its grammar alone:
    /// behind them, nothing is certain.
    pub(crate) fn read(&self) -> Result<Loaded, Vec<Fault>> {
        let (mut root, mut faults) = self.root()?;
        let before = faults.len();
        refuse_open(&mut root, &mut faults);
        if faults.len() == before {
            return read_table(&root, faults);
        }
        in_order(&mut faults);
        Err(faults)
    }

    /// What all texts together say, with the quantities that they leave open.
    ///
    /// # Errors
    /// As [`Texts::read`]; and where nothing is left open.
    pub(crate) fn read_open(&self) -> Result<Opened, Vec<Fault>> {
        let (root, faults) = self.root()?;
        read_open(root, faults)
    }

    /// All texts as one table, with the faults of putting them together.
    fn root(&self) -> Result<(DeTable<'_>, Vec<Fault>), Vec<Fault>> {
        let mut grammar = Vec::new();
        let mut tables = Vec::new();
        for text in &self.source.texts()[..self.includes.len()] {
            let (table, errors) = DeTable::parse_recoverable(&text.text);
            grammar.extend(errors.iter().map(|error| {
                let fault = grammar_fault(error);
                let moved = fault.span.map(|s| s.start + text.start..s.end + text.start);
                Fault { span: moved, ..fault }
            }));
            tables.push(moved_table(table.into_inner(), text.start));
        }
        if !grammar.is_empty() {
            grammar.extend(self.faults.iter().cloned());
            in_order(&mut grammar);
            return Err(grammar);
        }
        let mut joining = Joining { texts: self, tables, faults: self.faults.clone() };
        if self.source.name().is_empty()
            && let Some((_, value)) = joining.tables[0].get_key_value(INCLUDE)
        {
            let what = format!("`{INCLUDE}` stands in a text that is no file");
            joining.fault(value.span(), what, "");
        }
        let mut root = joining.joined(0);
        for text in &self.source.texts()[self.includes.len()..] {
            joining.set(&mut root, &text.text, text.start);
        }
        Ok((root, joining.faults))
    }
}

/// Puts the tables of several texts together.
struct Joining<'t> {
    texts: &'t Texts,
    tables: Vec<DeTable<'t>>,
    faults: Vec<Fault>,
}

impl<'t> Joining<'t> {
    fn fault(
        &mut self,
        span: std::ops::Range<usize>,
        what: impl Into<String>,
        advice: impl Into<String>,
    ) {
        self.faults.push(Fault { span: Some(span), what: what.into(), advice: advice.into() });
    }

    /// Text `at` with all that it includes.
    fn joined(&mut self, at: usize) -> DeTable<'t> {
        let mut own = self.tables[at].clone();
        own.remove(INCLUDE);
        let over = own.remove(OVER);
        for included in self.texts.includes[at].clone() {
            let more = self.joined(included);
            self.put_beside(&mut own, more, "");
        }
        match over.map(|over| (over.span(), over.into_inner())) {
            None => {}
            Some((_, DeValue::Table(over))) => self.put_over(&mut own, over, "", at),
            Some((span, _)) => {
                let advice = "write [over.car] and below it the keys that go before included ones";
                self.fault(span, format!("`{OVER}` is not written as a section"), advice);
            }
        }
        own
    }

    /// Puts what is included beside what stands there.
    fn put_beside(&mut self, own: &mut DeTable<'t>, included: DeTable<'t>, path: &str) {
        for (key, value) in included {
            let name = below(path, key.get_ref());
            let braces = self.in_braces(&value);
            let Some(there) = own.get_mut(&**key.get_ref()) else {
                own.insert(key, value);
                continue;
            };
            // One file that came in by two ways is the same thing, not a second one.
            if there.span() == value.span() && !matches!(value.get_ref(), DeValue::Table(_)) {
                continue;
            }
            let there_braces = self.in_braces(there);
            let span = there.span();
            match (there.get_mut(), value) {
                (DeValue::Table(there), value) if !braces && !there_braces => {
                    match (value.span(), value.into_inner()) {
                        (_, DeValue::Table(value)) => self.put_beside(there, value, &name),
                        (other, _) => self.twice(span, &other, &name),
                    }
                }
                (_, value) if value.span() == span => {}
                (_, value) => self.twice(span, &value.span(), &name),
            }
        }
    }

    fn twice(&mut self, span: std::ops::Range<usize>, other: &std::ops::Range<usize>, name: &str) {
        let source = &self.texts.source;
        let spot = source.spot(other);
        let place = match &spot.file {
            Some(_) => spot.shown(),
            None => format!("{}, {}", source.name(), spot.shown()),
        };
        let section = name.rsplit_once('.').map_or(String::new(), |(s, _)| format!(".{s}"));
        let advice = format!(
            "leave one of the two out; what goes before an included file stands under \
             [{OVER}{section}] in the file that includes it"
        );
        self.fault(span, format!("`{name}` is given in {place}, too"), advice);
    }

    /// Puts the keys under `[over]` of text `at` in place of included ones.
    fn put_over(&mut self, there: &mut DeTable<'t>, over: DeTable<'t>, path: &str, at: usize) {
        for (key, value) in over {
            let name = below(path, key.get_ref());
            let braces = self.in_braces(&value);
            let Some(old) = there.get_mut(&**key.get_ref()) else {
                let known = there.keys().map(|known| &**known.get_ref());
                let advice = match nearest(key.get_ref(), known) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!("what is new is written without `{OVER}`"),
                };
                let what = format!("`{name}` stands in no file that is included");
                self.fault(key.span(), what, advice);
                continue;
            };
            let own = &self.texts.source.texts()[at];
            let from_here = (own.start..=own.start + own.text.len()).contains(&old.span().start);
            match (old.get_mut(), value) {
                (DeValue::Table(old), value)
                    if !braces && matches!(value.get_ref(), DeValue::Table(_)) =>
                {
                    if let DeValue::Table(value) = value.into_inner() {
                        self.put_over(old, value, &name, at);
                    }
                }
                (_, value) if from_here => self.fault(
                    value.span(),
                    format!("`{name}` stands in this file, too"),
                    format!("`{OVER}` goes before what is included; leave one of the two out"),
                ),
                (_, value) => *old = value,
            }
        }
    }

    /// Whether a table is written as `{ ... }`: then it is one value.
    fn in_braces(&self, value: &Spanned<DeValue<'t>>) -> bool {
        let place = value.span().start;
        let text = self.texts.source.at(place);
        text.text.as_bytes().get(place - text.start) == Some(&b'{')
    }

    /// Sets a key as the argument `path.key=value` says.
    fn set(&mut self, root: &mut DeTable<'t>, argument: &'t str, start: usize) {
        let whole = start..start + argument.len();
        let form = format!("write {ARGUMENT} cradle.mass=\"225 kg\"");
        let Some((keys, value)) = key_and_value(argument) else {
            self.fault(whole, "this names no key and value", form);
            return;
        };
        if [INCLUDE, OVER].contains(&keys[0].get_ref().as_ref()) {
            let what = format!("`{}` is for files alone", keys[0].get_ref());
            self.fault(whole, what, "set the key that you mean");
            return;
        }
        let value = match value_of(argument, value) {
            Ok(value) => moved(value, start),
            Err(fault) => {
                let span = fault.span.map_or(whole, |s| s.start + start..s.end + start);
                self.faults.push(Fault { span: Some(span), ..fault });
                return;
            }
        };
        let mut table = root;
        let mut path = String::new();
        let last = keys.len() - 1;
        for (depth, key) in keys.into_iter().enumerate() {
            let span = key.span().start + start..key.span().end + start;
            let key = Spanned::new(span.clone(), key.into_inner());
            if depth == last {
                match table.get_mut(&**key.get_ref()) {
                    Some(there) => *there = value,
                    None => {
                        table.insert(key, value);
                    }
                }
                return;
            }
            let name = below(&path, key.get_ref());
            if !table.contains_key(&**key.get_ref()) {
                // A section may be new; of a thing that is not there, one key alone is a slip.
                if depth > 0 {
                    let known: Vec<&str> = table.keys().map(|known| &**known.get_ref()).collect();
                    let near = match nearest(key.get_ref(), known.iter().copied()) {
                        Some(near) => format!("did you mean `{near}`? "),
                        None => String::new(),
                    };
                    let advice = format!("{near}[{path}] has: {}", known.join(", "));
                    self.fault(span, format!("there is no `{name}`"), advice);
                    return;
                }
                let empty = Spanned::new(span.clone(), DeValue::Table(DeTable::new()));
                table.insert(key.clone(), empty);
            }
            let Some(DeValue::Table(inner)) =
                table.get_mut(&**key.get_ref()).map(|there| there.get_mut())
            else {
                let advice = format!("set it as a whole: {ARGUMENT} {name}=...");
                self.fault(span, format!("`{name}` has no keys of its own"), advice);
                return;
            };
            table = inner;
            path = name;
        }
    }
}

/// `part.front-bracket` below `part`.
fn below(path: &str, key: &str) -> String {
    if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") }
}

/// The keys before the first `=`, each with its place, and the place where the value begins.
fn key_and_value(argument: &str) -> Option<(Vec<Spanned<DeString<'_>>>, usize)> {
    let mut keys = Vec::new();
    let mut at = 0;
    loop {
        at += argument[at..].len() - argument[at..].trim_start().len();
        let rest = &argument[at..];
        let quote = rest.chars().next().filter(|c| ['"', '\''].contains(c));
        let (key, from, behind) = match quote {
            Some(quote) => {
                let end = rest[1..].find(quote)? + 1;
                (&rest[1..end], at + 1, at + end + 1)
            }
            None => {
                let end = rest.find(['.', '='])?;
                (rest[..end].trim_end(), at, at + end)
            }
        };
        if key.is_empty() {
            return None;
        }
        keys.push(Spanned::new(from..from + key.len(), DeString::Borrowed(key)));
        let next = argument[behind..].trim_start();
        at = argument.len() - next.len() + 1;
        match next.chars().next()? {
            '.' => {}
            '=' => return Some((keys, at)),
            _ => return None,
        }
    }
}

/// The value of an argument from `at` on. A shell takes quotes away, so text may stand without.
fn value_of(argument: &str, at: usize) -> Result<Spanned<DeValue<'_>>, Fault> {
    let given = argument[at..].trim();
    let at = at + argument[at..].len() - argument[at..].trim_start().len();
    let text = || Spanned::new(at..at + given.len(), DeValue::String(DeString::Borrowed(given)));
    match DeValue::parse(given) {
        Ok(value) if matches!(value.get_ref(), DeValue::Datetime(_)) => Ok(text()),
        Ok(value) => Ok(moved(value, at)),
        Err(error) if given.starts_with(['[', '{', '"', '\'']) => {
            let fault = grammar_fault(&error);
            let span = fault.span.map(|s| s.start + at..s.end + at);
            Err(Fault {
                span,
                advice: "a list is [\"a\", \"b\"], a table { name = \"value\" }".to_owned(),
                ..fault
            })
        }
        Err(_) => Ok(text()),
    }
}

/// A table whose places count from `by`.
fn moved_table(table: DeTable<'_>, by: usize) -> DeTable<'_> {
    let place = |span: std::ops::Range<usize>| span.start + by..span.end + by;
    table
        .into_iter()
        .map(|(key, value)| (Spanned::new(place(key.span()), key.into_inner()), moved(value, by)))
        .collect()
}

/// A value whose places count from `by`.
fn moved(value: Spanned<DeValue<'_>>, by: usize) -> Spanned<DeValue<'_>> {
    let span = value.span().start + by..value.span().end + by;
    let value = match value.into_inner() {
        DeValue::Table(table) => DeValue::Table(moved_table(table, by)),
        DeValue::Array(items) => {
            DeValue::Array(items.into_iter().map(|item| moved(item, by)).collect())
        }
        plain => plain,
    };
    Spanned::new(span, value)
}
