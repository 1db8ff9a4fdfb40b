//! What clauses are asked about: plain structs in SI units, one per subject.
//!
//! A field is declared once, with its meaning, dimension, role and range; the `input!` macro makes
//! of it the public field, the check that the number makes sense, and the reader that lets it
//! into a derivation under its symbol with the provenance the caller stated.

mod bolt;
mod member;
mod plate;
mod wall;
mod weld;

pub use bolt::*;
pub use member::*;
pub use plate::*;
pub use wall::*;
pub use weld::*;

use fishplate_quantity::Dimension;

use super::NotChecked;

/// An input whose numbers can be tested for sense before a formula sees them.
pub trait Input {
    /// Whether every number is finite and in its range.
    ///
    /// # Errors
    /// [`NotChecked::OutOfRange`] for the first that is not.
    fn sound(&self) -> Result<(), NotChecked>;
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
pub(crate) enum Range {
    Positive,
    FromZero,
    Any,
}

impl Range {
    pub(crate) fn hold(
        self,
        symbol: &'static str,
        what: &'static str,
        dimension: Dimension,
        value: f64,
    ) -> Result<(), NotChecked> {
        let (inside, allowed) = match self {
            Self::Positive => (value > 0.0, "a finite number above zero"),
            Self::FromZero => (value >= 0.0, "a finite number, zero or more"),
            Self::Any => (true, "a finite number"),
        };
        if inside && value.is_finite() {
            return Ok(());
        }
        Err(NotChecked::OutOfRange { symbol, what, value, dimension, allowed })
    }
}

/// Declares an input struct; see the module page.
macro_rules! input {
    (
        $(#[$doc:meta])*
        pub struct $name:ident {
            numbers {
                $($number:ident: $n_dim:ident, $n_role:ident, $n_range:ident, $n_what:literal;)*
            }
            maybe {
                $($maybe:ident: $m_dim:ident, $m_role:ident, $m_range:ident, $m_what:literal;)*
            }
            choices {
                $($(#[$c_doc:meta])* $choice:ident: $c_type:ty;)*
            }
        }
    ) => {
        $(#[$doc])*
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
                $(#[$c_doc])*
                pub $choice: $c_type,
            )*
            /// Where the numbers come from.
            pub origins: $crate::clause::Origins,
        }

        impl $crate::clause::input::Input for $name {
            fn sound(&self) -> Result<(), $crate::clause::NotChecked> {
                #[allow(unused_imports)]
                use {$crate::clause::input::Range, fishplate_quantity::Dimension};
                $(Range::$n_range.hold(
                    stringify!($number), $n_what, Dimension::$n_dim, self.$number,
                )?;)*
                $(if let Some(value) = self.$maybe {
                    Range::$m_range.hold(stringify!($maybe), $m_what, Dimension::$m_dim, value)?;
                })*
                Ok(())
            }
        }

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

        #[cfg(test)]
        impl $crate::clause::input::Probe for $name {
            fn fields() -> Vec<(&'static str, $crate::clause::input::Role)> {
                use $crate::clause::input::Role;
                vec![
                    $((stringify!($number), Role::$n_role),)*
                    $((stringify!($maybe), Role::$m_role),)*
                ]
            }

            fn changed(&self, symbol: &str, change: &dyn Fn(f64) -> f64) -> Self {
                let mut copy = self.clone();
                $(if symbol == stringify!($number) {
                    copy.$number = change(copy.$number);
                })*
                $(if symbol == stringify!($maybe) {
                    copy.$maybe = copy.$maybe.map(change);
                })*
                copy
            }
        }
    };
}
pub(crate) use input;

/// Access to fields by symbol, for the contract tests.
#[cfg(test)]
pub(crate) trait Probe: Input + PartialEq + Sized {
    fn fields() -> Vec<(&'static str, Role)>;
    fn changed(&self, symbol: &str, change: &dyn Fn(f64) -> f64) -> Self;
}
