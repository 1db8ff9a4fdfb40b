//! From nominal to available strength, and numbers that several limit states of one row share.

use fishplate_quantity::Trace;

/// Reads a number under `symbol` and lets it into the derivation unless it is there already: the
/// limit states of one row share most of their inputs.
pub(super) fn let_in<T>(trace: &mut Trace, symbol: &str, read: impl FnOnce(&mut Trace) -> T) -> T {
    if trace.entries().iter().any(|entry| entry.symbol == symbol) {
        read(&mut Trace::off())
    } else {
        read(trace)
    }
}

/// A field of an input by [`let_in`].
macro_rules! once {
    ($trace:ident, $input:ident.$field:ident) => {
        $crate::packs::american::available::let_in($trace, stringify!($field), |trace| {
            $input.$field(trace)
        })
    };
}
pub(super) use once;

/// Binds the available strength: the nominal one times phi under LRFD, over omega under ASD.
macro_rules! available {
    ($trace:ident, $factors:ident, $phi:ident or $omega:ident of $state:expr;
     $dimension:ident, $source:expr, $what:expr; $name:ident($nominal:ident)) => {
        let $name = if $factors.format() == $crate::clause::Format::AllowableStrength {
            let $omega = $crate::packs::american::available::let_in(
                $trace,
                stringify!($omega),
                |trace| $factors.value($state.omega, trace),
            );
            fishplate_quantity::step!($trace, $dimension, $source, $what;
                $name($nominal, $omega) = $nominal / $omega);
            $name
        } else {
            let $phi = $crate::packs::american::available::let_in(
                $trace,
                stringify!($phi),
                |trace| $factors.value($state.phi, trace),
            );
            fishplate_quantity::step!($trace, $dimension, $source, $what;
                $name($nominal, $phi) = $phi * $nominal);
            $name
        };
    };
}
pub(super) use available;
