//! The derivation of one case while it is being made.

use std::collections::BTreeSet;

use fishplate_quantity::{Dimension, Provenance, Trace};

/// Trace, provenance and assumptions on the way through one case.
#[derive(Debug)]
pub(super) struct Derivation<'a> {
    pub(super) trace: Trace,
    guessed: &'a BTreeSet<String>,
    pub(super) assumptions: Vec<String>,
}

impl<'a> Derivation<'a> {
    pub(super) fn new(trace: Trace, guessed: &'a BTreeSet<String>) -> Self {
        Self { trace, guessed, assumptions: Vec::new() }
    }

    /// Lets in a number of the project, known or guessed by its path.
    pub(super) fn given(
        &mut self,
        symbol: &'static str,
        what: &'static str,
        dimension: Dimension,
        value: f64,
        path: &str,
    ) -> f64 {
        let guessed = self.guessed.contains(path);
        self.trace.input(symbol, what, dimension, value, || {
            let path = path.to_owned();
            if guessed { Provenance::Guessed(path) } else { Provenance::Given(path) }
        })
    }

    /// Lets in a parameter of the load case.
    pub(super) fn factor(
        &mut self,
        symbol: &'static str,
        what: &'static str,
        dimension: Dimension,
        value: f64,
    ) -> f64 {
        self.trace.input(symbol, what, dimension, value, || {
            Provenance::Factor("parameter of the load case".to_owned())
        })
    }

    /// Lets in again a number that was computed above, under the name a shared formula knows.
    pub(super) fn again(
        &mut self,
        symbol: &'static str,
        what: &'static str,
        dimension: Dimension,
        value: f64,
        of: impl FnOnce() -> String,
    ) -> f64 {
        self.trace.input(symbol, what, dimension, value, || Provenance::Solved(of()))
    }

    /// Keeps what was taken for granted.
    pub(super) fn assume(&mut self, text: impl Into<String>) {
        self.assumptions.push(text.into());
    }
}
