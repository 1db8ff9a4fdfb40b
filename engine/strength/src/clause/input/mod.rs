//! What clauses are asked about: plain structs in SI units, one per subject.
//!
//! A field is declared once, with its meaning, dimension, role and range; the `input!` macro makes
//! of it the public field, the check that the number makes sense, the reader that lets it into a
//! derivation under its symbol with the provenance the caller stated, and the description by which
//! a caller who knows no struct fills it: [`Input::FIELDS`], [`Input::choices`], [`Input::read`].

mod aluminium;
mod bolt;
mod detail;
mod fatigue;
mod fillet;
mod member;
mod named;
mod old_wall;
mod plate;
mod preload;
mod sheet_fastener;
mod spot;
mod wall;
mod weld;
mod weld_nut;

pub use aluminium::*;
pub use bolt::*;
pub use detail::*;
pub use fatigue::*;
pub use fillet::*;
pub use member::*;
pub use old_wall::*;
pub use plate::*;
pub use preload::*;
pub use sheet_fastener::*;
pub use spot::*;
pub use wall::*;
pub use weld::*;
pub use weld_nut::*;

use fishplate_quantity::trace::quantity_text;
use fishplate_quantity::{Dimension, Fault, Provenance};

use super::{NotChecked, Origins};

/// One part as a clause sees it, with the description of its fields.
pub trait Input: std::fmt::Debug + Clone + PartialEq + 'static {
    /// Its name among all inputs, in lower case with underscores: `bolt_group`.
    const NAME: &'static str;
    /// The family it belongs to.
    const FAMILY: Family;
    /// What it is, in own words.
    const WHAT: &'static str;
    /// Its numbers.
    const FIELDS: &'static [Field];

    /// What is chosen beside the numbers.
    fn choices() -> Vec<Choice>;

    /// Fills it from what a caller gives.
    ///
    /// # Errors
    /// Every number that is missing or out of its range and every choice that is missing or not
    /// known, each under its symbol.
    fn read(given: &mut dyn Given) -> Result<Self, Vec<Fault>>;

    /// Whether every number is finite and in its range.
    ///
    /// # Errors
    /// [`NotChecked::OutOfRange`] for the first that is not.
    fn sound(&self) -> Result<(), NotChecked>;

    /// A copy with the number `symbol` changed, where it is given.
    #[must_use]
    fn changed(&self, symbol: &str, change: &dyn Fn(f64) -> f64) -> Self;
}

/// What an input is a part of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Family {
    /// Bolts, rivets, screws, threads, sleeves.
    Bolt,
    /// Welds of all kinds.
    Weld,
    /// Members and their walls.
    Member,
    /// Plates, gussets, walls of rails.
    Plate,
    /// Anything under repeated load.
    Fatigue,
}

/// A number of an input.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Field {
    /// Its symbol, in the ASCII spelling of the standard.
    pub symbol: &'static str,
    /// What it is.
    pub what: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// What raising it does.
    pub role: Role,
    /// In which range it makes sense.
    pub range: Range,
    /// Whether it may be left out: a clause that needs it then says so.
    pub optional: bool,
}

impl Field {
    /// Whether leaving it out means zero: a load that does not act, a gap that is not there.
    #[must_use]
    pub fn zero_if_left_out(&self) -> bool {
        !self.optional && self.range != Range::Positive && self.role != Role::Resistance
    }
}

/// Something chosen beside the numbers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// Its symbol.
    pub symbol: &'static str,
    /// What it says.
    pub what: &'static str,
    /// What may be given.
    pub kind: ChoiceKind,
}

/// What may be given for a choice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ChoiceKind {
    /// One of some words.
    OneOf {
        /// The name of the set: `Hole`.
        name: &'static str,
        /// What the set is about.
        what: &'static str,
        /// The words, each with its meaning.
        words: &'static [(&'static str, &'static str)],
        /// Whether one of them is meant where nothing is said.
        optional: bool,
    },
    /// The name of a row of a table; the text says of which.
    Row(&'static str),
    /// A list of records of numbers.
    Records {
        /// The name of a record: `StressBlock`.
        name: &'static str,
        /// What a record is.
        what: &'static str,
        /// The numbers of a record.
        columns: &'static [Field],
    },
}

/// A caller that gives numbers and choices by symbol.
pub trait Given {
    /// The number of a field in SI, with where it comes from.
    fn number(&mut self, field: &Field) -> Option<(f64, Provenance)>;

    /// The word given for a choice.
    fn word(&mut self, symbol: &'static str) -> Option<String>;

    /// The records given for a choice, in SI, one number a column.
    fn records(&mut self, symbol: &'static str, columns: &[Field]) -> Vec<Vec<Option<f64>>>;
}

/// The type of a choice.
pub trait Chosen: Clone {
    /// What may be given.
    const KIND: ChoiceKind;

    /// Reads it, or leaves a fault.
    fn read(
        symbol: &'static str,
        what: &'static str,
        given: &mut dyn Given,
        faults: &mut Vec<Fault>,
    ) -> Option<Self>;

    /// Whether every number in it is finite and in its range.
    ///
    /// # Errors
    /// [`NotChecked::OutOfRange`] for the first that is not.
    fn sound(&self) -> Result<(), NotChecked> {
        Ok(())
    }

    /// A copy with the numbers `symbol` in it changed.
    #[must_use]
    fn changed(&self, _symbol: &str, _change: &dyn Fn(f64) -> f64) -> Self {
        self.clone()
    }
}

/// A record of a list: a block of a spectrum, a wall of a section.
pub trait Record: Clone {
    /// Its name: `StressBlock`.
    const NAME: &'static str;
    /// What it is.
    const WHAT: &'static str;
    /// Its numbers.
    const COLUMNS: &'static [Field];

    /// The record of numbers in the order of [`Record::COLUMNS`], all of them in range.
    fn of(numbers: &[f64]) -> Self;

    /// Its numbers in that order.
    fn numbers(&self) -> Vec<f64>;
}

impl<R: Record> Chosen for Vec<R> {
    const KIND: ChoiceKind =
        ChoiceKind::Records { name: R::NAME, what: R::WHAT, columns: R::COLUMNS };

    fn read(
        symbol: &'static str,
        what: &'static str,
        given: &mut dyn Given,
        faults: &mut Vec<Fault>,
    ) -> Option<Self> {
        let rows = given.records(symbol, R::COLUMNS);
        if rows.is_empty() {
            faults.push(Fault::new(symbol, "nothing", "at least one entry", what));
            return None;
        }
        let before = faults.len();
        let mut records = Vec::with_capacity(rows.len());
        for (place, row) in rows.iter().enumerate() {
            let mut numbers = Vec::with_capacity(row.len());
            for (column, value) in R::COLUMNS.iter().zip(row) {
                let path = format!("{symbol}[{place}].{}", column.symbol);
                numbers.extend(number_or_fault(column, &path, *value, faults));
            }
            if numbers.len() == R::COLUMNS.len() {
                records.push(R::of(&numbers));
            }
        }
        (faults.len() == before).then_some(records)
    }

    fn sound(&self) -> Result<(), NotChecked> {
        for record in self {
            for (column, value) in R::COLUMNS.iter().zip(record.numbers()) {
                column.range.hold(column.symbol, column.what, column.dimension, value)?;
            }
        }
        Ok(())
    }

    fn changed(&self, symbol: &str, change: &dyn Fn(f64) -> f64) -> Self {
        let changed = |(column, value): (&Field, f64)| {
            if column.symbol == symbol { change(value) } else { value }
        };
        let record = |record: &R| {
            R::of(&R::COLUMNS.iter().zip(record.numbers()).map(changed).collect::<Vec<_>>())
        };
        self.iter().map(record).collect()
    }
}

/// The number of `field` given at `path`, zero where that is what leaving it out means, or a fault.
fn number_or_fault(
    field: &Field,
    path: &str,
    value: Option<f64>,
    faults: &mut Vec<Fault>,
) -> Option<f64> {
    let Some(value) = value.or_else(|| field.zero_if_left_out().then_some(0.0)) else {
        faults.push(Fault::new(path, "nothing", field.range.allowed(), field.what));
        return None;
    };
    if !field.range.holds(value) {
        let given = quantity_text(value, field.dimension);
        faults.push(Fault::new(path, given, field.range.allowed(), field.what));
        return None;
    }
    Some(value)
}

/// Takes a number that must be there.
pub(crate) fn take(
    field: &Field,
    given: &mut dyn Given,
    origins: &mut Origins,
    faults: &mut Vec<Fault>,
) -> f64 {
    let found = given.number(field);
    let value = found.as_ref().map(|(value, _)| *value);
    let provenance = found.map_or_else(
        || Provenance::Assumed("not given: zero".to_owned()),
        |(_, provenance)| provenance,
    );
    origins.add(field.symbol, provenance);
    // A fault is on record where there is no number; the input is then never built.
    number_or_fault(field, field.symbol, value, faults).unwrap_or(f64::NAN)
}

/// Takes a number that may be left out.
pub(crate) fn take_maybe(
    field: &Field,
    given: &mut dyn Given,
    origins: &mut Origins,
    faults: &mut Vec<Fault>,
) -> Option<f64> {
    let (value, provenance) = given.number(field)?;
    origins.add(field.symbol, provenance);
    number_or_fault(field, field.symbol, Some(value), faults)
}

/// The word given for a choice of one of `words`, as its place among them, or a fault.
pub(crate) fn take_word(
    symbol: &'static str,
    what: &'static str,
    words: &[(&'static str, &'static str)],
    given: &mut dyn Given,
    faults: &mut Vec<Fault>,
) -> Option<usize> {
    let allowed = || words.iter().map(|(word, _)| *word).collect::<Vec<_>>().join(", ");
    let Some(word) = given.word(symbol) else {
        faults.push(Fault::new(symbol, "nothing", allowed(), what));
        return None;
    };
    let found = words.iter().position(|(known, _)| *known == word);
    if found.is_none() {
        faults.push(Fault::new(symbol, word, allowed(), what));
    }
    found
}

/// What raising a number does to a utilisation: the contract every clause is tested against.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// Raising it never lowers a utilisation.
    Demand,
    /// Raising it never raises the utilisation of a strength clause.
    Resistance,
    /// May do either.
    Free,
}

/// The range in which a number makes sense at all.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Range {
    /// Above zero.
    Positive,
    /// Zero or more.
    FromZero,
    /// Any.
    Any,
}

impl Range {
    /// The range in words.
    #[must_use]
    pub fn allowed(self) -> &'static str {
        match self {
            Self::Positive => "a finite number above zero",
            Self::FromZero => "a finite number, zero or more",
            Self::Any => "a finite number",
        }
    }

    fn holds(self, value: f64) -> bool {
        let inside = match self {
            Self::Positive => value > 0.0,
            Self::FromZero => value >= 0.0,
            Self::Any => true,
        };
        inside && value.is_finite()
    }

    pub(crate) fn hold(
        self,
        symbol: &'static str,
        what: &'static str,
        dimension: Dimension,
        value: f64,
    ) -> Result<(), NotChecked> {
        if self.holds(value) {
            return Ok(());
        }
        Err(NotChecked::OutOfRange { symbol, what, value, dimension, allowed: self.allowed() })
    }
}

/// Declares an input struct; see the module page.
macro_rules! input {
    (
        $(#[doc = $doc:literal])*
        part $part:literal in $family:ident;
        pub struct $name:ident {
            numbers {
                $($number:ident: $n_dim:ident, $n_role:ident, $n_range:ident, $n_what:literal;)*
            }
            maybe {
                $($maybe:ident: $m_dim:ident, $m_role:ident, $m_range:ident, $m_what:literal;)*
            }
            choices {
                $($(#[doc = $c_doc:literal])* $choice:ident: $c_type:ty;)*
            }
        }
    ) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, PartialEq)]
        pub struct $name {
            $(
                #[doc = concat!($n_what, "; `Dimension::", stringify!($n_dim), "` in SI.")]
                pub $number: f64,
            )*
            $(
                #[doc = concat!($m_what, "; `Dimension::", stringify!($m_dim), "` in SI, if any.")]
                pub $maybe: Option<f64>,
            )*
            $(
                $(#[doc = $c_doc])*
                pub $choice: $c_type,
            )*
            /// Where the numbers come from.
            pub origins: $crate::clause::Origins,
        }

        #[allow(unused_imports, unused_mut, unused_variables)] // an input may have no fields of a kind
        const _: () = {
            use fishplate_quantity::{Dimension, Fault, Provenance};
            use $crate::clause::input::{
                Choice, ChoiceKind, Chosen, Family, Field, Given, Input, Range, Role, take, take_maybe,
            };

            const NUMBERS: &[Field] = &[
                $(Field {
                    symbol: stringify!($number),
                    what: $n_what,
                    dimension: Dimension::$n_dim,
                    role: Role::$n_role,
                    range: Range::$n_range,
                    optional: false,
                },)*
                $(Field {
                    symbol: stringify!($maybe),
                    what: $m_what,
                    dimension: Dimension::$m_dim,
                    role: Role::$m_role,
                    range: Range::$m_range,
                    optional: true,
                },)*
            ];

            impl Input for $name {
                const NAME: &'static str = $part;
                const FAMILY: Family = Family::$family;
                const WHAT: &'static str = concat!($($doc, "\n"),*);
                const FIELDS: &'static [Field] = NUMBERS;

                fn choices() -> Vec<Choice> {
                    vec![$(Choice {
                        symbol: stringify!($choice),
                        what: concat!($($c_doc),*),
                        kind: <$c_type as Chosen>::KIND,
                    },)*]
                }

                fn read(given: &mut dyn Given) -> Result<Self, Vec<Fault>> {
                    let mut faults = Vec::new();
                    let mut origins = $crate::clause::Origins::default();
                    let mut fields = NUMBERS.iter();
                    let mut next =
                        || fields.next().expect("the list has every number once, in this order");
                    $(let $number = take(next(), given, &mut origins, &mut faults);)*
                    $(let $maybe = take_maybe(next(), given, &mut origins, &mut faults);)*
                    $(let $choice = <$c_type as Chosen>::read(
                        stringify!($choice), concat!($($c_doc),*), given, &mut faults,
                    );)*
                    if !faults.is_empty() {
                        return Err(faults);
                    }
                    $(if matches!(<$c_type as Chosen>::KIND, ChoiceKind::Records { .. }) {
                        let symbol = stringify!($choice);
                        origins.add(symbol, Provenance::Given(symbol.to_owned()));
                    })*
                    Ok(Self {
                        $($number,)*
                        $($maybe,)*
                        $($choice: $choice.expect("a choice that is not read leaves a fault"),)*
                        origins,
                    })
                }

                fn sound(&self) -> Result<(), $crate::clause::NotChecked> {
                    $(Range::$n_range.hold(
                        stringify!($number), $n_what, Dimension::$n_dim, self.$number,
                    )?;)*
                    $(if let Some(value) = self.$maybe {
                        Range::$m_range.hold(
                            stringify!($maybe), $m_what, Dimension::$m_dim, value,
                        )?;
                    })*
                    $(Chosen::sound(&self.$choice)?;)*
                    Ok(())
                }

                fn changed(&self, symbol: &str, change: &dyn Fn(f64) -> f64) -> Self {
                    let mut copy = self.clone();
                    $(if symbol == stringify!($number) {
                        copy.$number = change(copy.$number);
                    })*
                    $(if symbol == stringify!($maybe) {
                        copy.$maybe = copy.$maybe.map(change);
                    })*
                    $(copy.$choice = Chosen::changed(&copy.$choice, symbol, change);)*
                    copy
                }
            }
        };

        impl $name {
            $(
                pub(crate) fn $number(&self, trace: &mut fishplate_quantity::Trace) -> f64 {
                    let symbol = stringify!($number);
                    let dimension = fishplate_quantity::Dimension::$n_dim;
                    trace.input(symbol, $n_what, dimension, self.$number, || {
                        self.origins.of(symbol)
                    })
                }
            )*
            $(
                pub(crate) fn $maybe(
                    &self,
                    trace: &mut fishplate_quantity::Trace,
                ) -> Result<f64, $crate::clause::NotChecked> {
                    let symbol = stringify!($maybe);
                    let dimension = fishplate_quantity::Dimension::$m_dim;
                    let Some(value) = self.$maybe else {
                        return Err($crate::clause::NotChecked::Missing { symbol, what: $m_what });
                    };
                    Ok(trace.input(symbol, $m_what, dimension, value, || self.origins.of(symbol)))
                }
            )*
        }
    };
}
pub(crate) use input;

/// Declares an enum that is chosen by a word. `usual` names the one that is meant where nothing is
/// said: only for choices that change nothing then or ask for what is missing, never for a fact
/// about the part that would go to its credit.
macro_rules! choice {
    (
        $(#[doc = $doc:literal])*
        pub enum $name:ident $(usual $usual:ident)? {
            $($(#[doc = $v_doc:literal])* $variant:ident = $word:literal,)*
        }
    ) => {
        $(#[doc = $doc])*
        $(#[doc = concat!("\n`", stringify!($usual), "` where nothing is said.")])?
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum $name {
            $($(#[doc = $v_doc])* $variant,)*
        }

        impl $name {
            /// Every one, in the order of their words.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)*];

            /// The words, each with its meaning.
            pub const WORDS: &'static [(&'static str, &'static str)] =
                &[$(($word, concat!($($v_doc),*)),)*];
        }

        impl $crate::clause::input::Chosen for $name {
            const KIND: $crate::clause::input::ChoiceKind =
                $crate::clause::input::ChoiceKind::OneOf {
                    name: stringify!($name),
                    what: concat!(
                        $($doc, "\n",)*
                        $("\n", stringify!($usual), " where nothing is said.\n")?
                    ),
                    words: Self::WORDS,
                    optional: {
                        let usual: &[&str] = &[$(stringify!($usual))?];
                        usual.len() == 1
                    },
                };

            fn read(
                symbol: &'static str,
                what: &'static str,
                given: &mut dyn $crate::clause::input::Given,
                faults: &mut Vec<fishplate_quantity::Fault>,
            ) -> Option<Self> {
                $(if given.word(symbol).is_none() {
                    return Some(Self::$usual);
                })?
                $crate::clause::input::take_word(symbol, what, Self::WORDS, given, faults)
                    .map(|place| Self::ALL[place])
            }
        }
    };
}
pub(crate) use choice;

/// Declares a record of numbers that come as a list under the name behind `listed as`.
macro_rules! record {
    (
        $(#[doc = $doc:literal])*
        listed as $list:literal;
        pub struct $name:ident {
            $($column:ident: $dim:ident, $role:ident, $range:ident, $what:literal;)*
        }
    ) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, Copy, PartialEq)]
        pub struct $name {
            $(
                #[doc = concat!($what, "; `Dimension::", stringify!($dim), "` in SI.")]
                pub $column: f64,
            )*
        }

        impl $crate::clause::input::Record for $name {
            const NAME: &'static str = stringify!($name);
            const WHAT: &'static str = concat!($($doc, "\n"),*);
            const COLUMNS: &'static [$crate::clause::input::Field] = &[
                $($crate::clause::input::Field {
                    symbol: stringify!($column),
                    what: $what,
                    dimension: fishplate_quantity::Dimension::$dim,
                    role: $crate::clause::input::Role::$role,
                    range: $crate::clause::input::Range::$range,
                    optional: false,
                },)*
            ];

            fn of(numbers: &[f64]) -> Self {
                let mut numbers = numbers.iter().copied();
                let mut next = || numbers.next().expect("one number a column, in this order");
                Self { $($column: next(),)* }
            }

            fn numbers(&self) -> Vec<f64> {
                vec![$(self.$column,)*]
            }
        }

        impl $name {
            $(
                pub(crate) fn $column(
                    &self,
                    origins: &$crate::clause::Origins,
                    trace: &mut fishplate_quantity::Trace,
                ) -> f64 {
                    let dimension = fishplate_quantity::Dimension::$dim;
                    trace.input(stringify!($column), $what, dimension, self.$column, || {
                        origins.of($list)
                    })
                }
            )*
        }
    };
}
pub(crate) use record;
