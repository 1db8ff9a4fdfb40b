//! A rule as data: what it is called and the function that judges.

use fishplate_quantity::{Dimension, Source, Trace};

use crate::clause::input::Input;
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, NotChecked};

/// A rule about inputs of kind `I`.
pub(super) struct Rule<I: 'static> {
    pub(super) source: Source,
    pub(super) title: &'static str,
    pub(super) short: &'static str,
    pub(super) aspect: Aspect,
    pub(super) applies: fn(&I) -> Applicability,
    pub(super) formula: fn(&I, &Factors, &mut Trace) -> Result<Checked, NotChecked>,
}

impl<I: Input> Clause<I> for Rule<I> {
    fn reference(&self) -> Source {
        self.source
    }

    fn title(&self) -> &'static str {
        self.title
    }

    fn short(&self) -> &'static str {
        self.short
    }

    fn aspect(&self) -> Aspect {
        self.aspect
    }

    fn applies(&self, input: &I) -> Applicability {
        (self.applies)(input)
    }

    fn formula(
        &self,
        input: &I,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        (self.formula)(input, factors, trace)
    }
}

/// About every input of its kind.
pub(super) fn always<I>(_: &I) -> Applicability {
    Applicability::Applies
}

/// Refuses `value` unless it is below `limit`.
pub(super) fn below(
    limit: f64,
    value: f64,
    symbol: &'static str,
    what: &'static str,
    allowed: &'static str,
) -> Result<(), NotChecked> {
    if value < limit {
        return Ok(());
    }
    Err(NotChecked::OutOfRange { symbol, what, value, dimension: Dimension::Length, allowed })
}
