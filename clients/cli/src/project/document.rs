//! A typed reader over a TOML document that remembers where everything stands.
//!
//! It never stops at the first fault: every read either yields a value or leaves a [`Fault`] with
//! its place, and goes on.

use std::cell::RefCell;
use std::ops::Range;

use fishplate_proto::v1;
use fishplate_quantity::written::{self, Quantity, Written};
use fishplate_quantity::{self as quantity};
use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

use super::places::Places;
use super::spelling::nearest;
use super::texts::INCLUDE;

/// A place in the file where something cannot be used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Bytes of the file it is about; `None` where the thing is not in the file.
    pub span: Option<Range<usize>>,
    /// What was given and what is allowed.
    pub what: String,
    /// How to mend it; empty where `what` says it all.
    pub advice: String,
}

/// Faults and places, collected over the whole file.
#[derive(Debug, Default)]
pub(crate) struct Context {
    faults: RefCell<Vec<Fault>>,
    places: RefCell<Places>,
}

impl Context {
    pub(crate) fn fault(
        &self,
        span: Option<Range<usize>>,
        what: impl Into<String>,
        advice: impl Into<String>,
    ) {
        self.faults.borrow_mut().push(Fault { span, what: what.into(), advice: advice.into() });
    }

    pub(crate) fn place(&self, path: &str, span: &Range<usize>) {
        self.places.borrow_mut().set(path, span.clone());
    }

    /// Everything that was found, faults in the order of the file.
    pub(crate) fn finish(self) -> (Vec<Fault>, Places) {
        let mut faults = self.faults.into_inner();
        in_order(&mut faults);
        (faults, self.places.into_inner())
    }
}

/// Sorts faults as they stand in the file; those without a place come last.
pub(crate) fn in_order(faults: &mut [Fault]) {
    faults.sort_by_key(|f| f.span.as_ref().map_or(usize::MAX, |s| s.start));
}

/// A table of the file that is being read into one message.
pub(crate) struct Section<'d> {
    pub(crate) context: &'d Context,
    /// As the file names it: `[part.front-bracket]`.
    pub(crate) label: String,
    /// Path of the message: `parts[0]`.
    pub(crate) path: String,
    header: Range<usize>,
    table: &'d DeTable<'d>,
    asked: RefCell<Vec<String>>,
}

impl<'d> Section<'d> {
    pub(crate) fn new(
        context: &'d Context,
        label: String,
        path: String,
        header: Range<usize>,
        table: &'d DeTable<'d>,
    ) -> Self {
        if !path.is_empty() {
            context.place(&path, &header);
        }
        Self { context, label, path, header, table, asked: RefCell::new(Vec::new()) }
    }

    /// The value of `key`, which fills `field`; nothing where it is left out.
    pub(crate) fn get(&self, key: &str, field: &str) -> Option<Entry<'d>> {
        // The fields of [project] are those of the message itself.
        let path =
            if self.path.is_empty() { field.to_owned() } else { format!("{}.{field}", self.path) };
        self.get_at(key, path)
    }

    /// The value of `key`, which fills the field at `path` of the request.
    pub(crate) fn get_at(&self, key: &str, path: String) -> Option<Entry<'d>> {
        self.asked.borrow_mut().push(key.to_owned());
        let value = self.table.get(key)?;
        self.context.place(&path, &value.span());
        Some(Entry {
            context: self.context,
            key: key.to_owned(),
            path,
            span: value.span(),
            value: value.get_ref(),
        })
    }

    /// The value of `key`; a fault with `example` where it is left out.
    pub(crate) fn need(&self, key: &'static str, field: &str, example: &str) -> Option<Entry<'d>> {
        let entry = self.get(key, field);
        if entry.is_none() {
            self.context.fault(
                Some(self.header.clone()),
                format!("{} does not say `{key}`", self.label),
                format!("add for example: {key} = {example}"),
            );
        }
        entry
    }

    /// A quantity that may be left out.
    pub(crate) fn quantity<W: Wire>(&self, key: &'static str, field: &str) -> Option<W> {
        self.get(key, field)?.quantity()
    }

    /// A quantity that must be there.
    pub(crate) fn need_quantity<W: Wire>(
        &self,
        key: &'static str,
        field: &str,
        example: &str,
    ) -> Option<W> {
        self.need(key, field, example)?.quantity()
    }

    /// A pure number that may be left out.
    pub(crate) fn number(&self, key: &'static str, field: &str) -> Option<v1::Number> {
        self.get(key, field)?.number()
    }

    /// A pure number that must be there.
    pub(crate) fn need_number(
        &self,
        key: &'static str,
        field: &str,
        example: &str,
    ) -> Option<v1::Number> {
        self.need(key, field, example)?.number()
    }

    /// All its keys with their values.
    pub(crate) fn entries(
        &self,
    ) -> impl Iterator<Item = (&'d Spanned<DeString<'d>>, &'d Spanned<DeValue<'d>>)> + use<'d> {
        self.table.iter()
    }

    /// The keys that nobody asked for, with their values, in the order of the file.
    pub(crate) fn others(&self) -> Vec<(&'d Spanned<DeString<'d>>, Entry<'d>)> {
        let asked = self.asked.borrow();
        let mut found: Vec<_> = self
            .table
            .iter()
            .filter(|(key, _)| !asked.iter().any(|asked| **asked == **key.get_ref()))
            .map(|(key, value)| {
                let key_text: &str = key.get_ref();
                let entry = Entry {
                    context: self.context,
                    key: key_text.to_owned(),
                    path: format!("{}.{key_text}", self.path),
                    span: value.span(),
                    value: value.get_ref(),
                };
                (key, entry)
            })
            .collect();
        found.sort_by_key(|(key, _)| key.span().start);
        found
    }

    /// Whether the file has `key` here.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    /// A fault about the table as a whole.
    pub(crate) fn fault(&self, what: impl Into<String>, advice: impl Into<String>) {
        self.context.fault(Some(self.header.clone()), what, advice);
    }

    /// `only = "left"`, where a thing has no twin.
    pub(crate) fn only(&self) -> i32 {
        self.get("only", "only").map_or(v1::Side::Unspecified, |e| {
            e.choice(&[("left", v1::Side::Left), ("right", v1::Side::Right)])
                .unwrap_or(v1::Side::Unspecified)
        }) as i32
    }

    /// Refuses every key that nobody asked for.
    pub(crate) fn finish(self) {
        let takes = format!("it takes: {}", self.asked.borrow().join(", "));
        self.finish_with(&takes);
    }

    /// Refuses every key that nobody asked for, with what it takes instead.
    pub(crate) fn finish_with(self, takes: &str) {
        let asked = self.asked.into_inner();
        for key in self.table.keys() {
            let name: &str = key.get_ref();
            if asked.iter().any(|known| known == name) {
                continue;
            }
            let advice = match nearest(name, asked.iter().map(String::as_str)) {
                Some(near) => format!("did you mean `{near}`? "),
                None if name == INCLUDE => format!("`{INCLUDE}` belongs above all sections; "),
                None => String::new(),
            };
            self.context.fault(
                Some(key.span()),
                format!("{} has no `{name}`", self.label),
                format!("{advice}{takes}"),
            );
        }
    }
}

/// One value of the file.
#[derive(Clone)]
pub(crate) struct Entry<'d> {
    pub(crate) context: &'d Context,
    pub(crate) key: String,
    pub(crate) path: String,
    pub(crate) span: Range<usize>,
    value: &'d DeValue<'d>,
}

impl<'d> Entry<'d> {
    /// Leaves a fault at this value.
    pub(crate) fn fault(&self, what: impl Into<String>, advice: impl Into<String>) {
        self.context.fault(Some(self.span.clone()), what, advice);
    }

    /// Takes the value of a reading, or leaves its fault here. The fault's text goes on from the
    /// written value: `has no unit`.
    pub(crate) fn take<T>(&self, given: &str, read: Result<T, String>) -> Option<T> {
        match read {
            Ok(value) => Some(value),
            Err(why) => {
                self.fault(format!("`{}` = \"{given}\" {why}", self.key), "");
                None
            }
        }
    }

    /// Notes that this value also fills `path`.
    pub(crate) fn also(&self, path: &str) {
        self.context.place(path, &self.span);
    }

    /// The value as text.
    pub(crate) fn text(&self) -> Option<&'d str> {
        if let DeValue::String(text) = self.value {
            return Some(text);
        }
        let advice = match self.value {
            DeValue::Integer(_) | DeValue::Float(_) => {
                format!(
                    "write it in quotes and with its unit: {} = \"{} mm\"",
                    self.key,
                    self.bare()
                )
            }
            _ => "write it in quotes".to_owned(),
        };
        self.fault(format!("`{}` is {}, where text belongs", self.key, self.kind()), advice);
        None
    }

    /// Reads the text by `read`.
    pub(crate) fn read<T>(&self, read: impl Fn(&str) -> Result<T, String>) -> Option<T> {
        let text = self.text()?;
        self.take(text, read(text))
    }

    /// The value as yes or no.
    pub(crate) fn yes(&self) -> Option<bool> {
        if let DeValue::Boolean(yes) = self.value {
            return Some(*yes);
        }
        self.fault(
            format!("`{}` is {}, where true or false belongs", self.key, self.kind()),
            "write true or false, without quotes",
        );
        None
    }

    /// The values of a list; a single value is a list of one.
    pub(crate) fn list(&self) -> Vec<Entry<'d>> {
        let single = |span: Range<usize>, value, at: usize| {
            let path = format!("{}[{at}]", self.path);
            self.context.place(&path, &span);
            Entry { context: self.context, key: self.key.clone(), path, span, value }
        };
        match self.value {
            DeValue::Array(items) => items
                .iter()
                .enumerate()
                .map(|(at, item)| single(item.span(), item.get_ref(), at))
                .collect(),
            value => vec![single(self.span.clone(), value, 0)],
        }
    }

    /// Whether it is written as text.
    pub(crate) fn is_text(&self) -> bool {
        matches!(self.value, DeValue::String(_))
    }

    /// Whether it is written as a table.
    pub(crate) fn is_table(&self) -> bool {
        matches!(self.value, DeValue::Table(_))
    }

    /// Whether it is written as a list.
    pub(crate) fn is_list(&self) -> bool {
        matches!(self.value, DeValue::Array(_))
    }

    /// The values of a list as text, `count` of them where that is fixed.
    pub(crate) fn texts(&self, count: Option<usize>) -> Vec<String> {
        let items = self.list();
        if let Some(count) = count
            && items.len() != count
        {
            self.fault(
                format!("`{}` has {} entries; {count} belong there", self.key, items.len()),
                "",
            );
        }
        if items.is_empty() && count.is_none() {
            self.fault(format!("`{}` is an empty list", self.key), "name at least one thing");
        }
        items.iter().filter_map(|item| item.text().map(str::to_owned)).collect()
    }

    /// The inline table.
    pub(crate) fn section(&self, label: String) -> Option<Section<'d>> {
        if let DeValue::Table(table) = self.value {
            let (context, path) = (self.context, self.path.clone());
            return Some(Section::new(context, label, path, self.span.clone(), table));
        }
        self.fault(
            format!("`{}` is {}, where a table in braces belongs", self.key, self.kind()),
            format!("write {} = {{ name = \"value\", ... }}", self.key),
        );
        None
    }

    /// A quantity as it is written.
    pub(crate) fn written<Q: Quantity>(&self) -> Option<Written<Q>> {
        self.read(|text| written::parse::<Q>(text).map_err(|e| e.to_string()))
    }

    /// A quantity with its unit.
    pub(crate) fn quantity<W: Wire>(&self) -> Option<W> {
        self.written().map(W::from_written)
    }

    /// A pure number, which may stand without quotes.
    pub(crate) fn number(&self) -> Option<v1::Number> {
        let bare;
        let text = match self.value {
            DeValue::Integer(_) | DeValue::Float(_) => {
                bare = self.bare();
                bare.as_str()
            }
            _ => self.text()?,
        };
        self.take(text, written::parse_number(text).map_err(|e| e.to_string())).map(number)
    }

    /// One of a few words.
    pub(crate) fn choice<T: Copy>(&self, words: &[(&str, T)]) -> Option<T> {
        let given = self.text()?;
        let folded = given.split_whitespace().collect::<Vec<_>>().join(" ");
        if let Some((_, value)) = words.iter().find(|(word, _)| *word == folded) {
            return Some(*value);
        }
        let near = match nearest(&folded, words.iter().map(|(word, _)| *word)) {
            Some(near) => format!("did you mean \"{near}\"? "),
            None => String::new(),
        };
        let all: Vec<String> = words.iter().map(|(word, _)| format!("\"{word}\"")).collect();
        self.fault(
            format!("`{}` = \"{given}\" is not known here", self.key),
            format!("{near}allowed: {}", all.join(", ")),
        );
        None
    }

    fn bare(&self) -> String {
        match self.value {
            DeValue::Integer(n) => n.to_string(),
            DeValue::Float(n) => n.to_string(),
            _ => String::new(),
        }
    }

    fn kind(&self) -> &'static str {
        match self.value {
            DeValue::String(_) => "text",
            DeValue::Integer(_) | DeValue::Float(_) => "a bare number",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        }
    }
}

/// A quantity of the wire that a written quantity becomes.
pub(crate) trait Wire {
    /// What is written.
    type Quantity: Quantity;
    /// To the wire's unit.
    fn from_written(written: Written<Self::Quantity>) -> Self;
}

macro_rules! wire {
    ($($message:ident: $quantity:ident, $read:ident, $value:ident, $low:ident, $high:ident;)+) => {
        $(impl Wire for v1::$message {
            type Quantity = quantity::$quantity;
            fn from_written(written: Written<Self::Quantity>) -> Self {
                let written = written.map(|q| tidy(q.$read()));
                Self {
                    $value: written.value,
                    guessed: written.guessed,
                    $low: written.spread.map(|s| s.0),
                    $high: written.spread.map(|s| s.1),
                }
            }
        })+
    };
}

wire! {
    Length: Length, as_mm, value_mm, low_mm, high_mm;
    Mass: Mass, as_kg, value_kg, low_kg, high_kg;
    Torque: Moment, as_nmm, value_nmm, low_nmm, high_nmm;
    Stress: Stress, as_mpa, value_mpa, low_mpa, high_mpa;
    Stiffness: Stiffness, as_n_per_mm, value_n_per_mm, low_n_per_mm, high_n_per_mm;
    TurningStiffness: TurningStiffness, as_nmm_per_rad, value_nmm_per_rad, low_nmm_per_rad,
        high_nmm_per_rad;
    Acceleration: Acceleration, as_g, value_g, low_g, high_g;
}

/// Reading a turning stiffness in the wire's unit.
trait AsNmmPerRad {
    fn as_nmm_per_rad(&self) -> f64;
}

impl AsNmmPerRad for quantity::TurningStiffness {
    fn as_nmm_per_rad(&self) -> f64 {
        self.as_nm_per_rad() * 1e3
    }
}

/// A pure number of the wire.
pub(crate) fn number(written: Written<f64>) -> v1::Number {
    let written = written.map(tidy);
    v1::Number {
        value: written.value,
        guessed: written.guessed,
        low: written.spread.map(|s| s.0),
        high: written.spread.map(|s| s.1),
    }
}

/// The number to 13 significant digits. Going through SI and back leaves an error in the last of
/// 16 digits; the reader expects to find the 2.2 of the file in the answer, not
/// 2.2000000000000002.
pub(crate) fn tidy(value: f64) -> f64 {
    format!("{value:.12e}").parse().unwrap_or(value)
}
