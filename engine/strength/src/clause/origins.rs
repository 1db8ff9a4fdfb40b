//! Where the numbers of an input come from, by symbol.

use std::collections::BTreeMap;

use fishplate_quantity::Provenance;

/// The provenance of each field of an input, by its symbol, with one answer for all the rest.
///
/// A batch run has it silent, which costs nothing; the rows that are explained get it filled.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Origins {
    silent: bool,
    told: Option<Box<Told>>,
}

#[derive(Debug, Clone, Default, PartialEq, Eq)]
struct Told {
    by_symbol: BTreeMap<&'static str, Provenance>,
    rest: Option<Provenance>,
}

impl Origins {
    /// The same provenance for every field.
    #[must_use]
    pub fn all(rest: Provenance) -> Self {
        let told = Told { by_symbol: BTreeMap::new(), rest: Some(rest) };
        Self { silent: false, told: Some(Box::new(told)) }
    }

    /// As [`Origins::all`] where it will be asked for; else silent: it takes no note of anything.
    #[must_use]
    pub fn when(asked: bool, rest: impl FnOnce() -> Provenance) -> Self {
        if asked { Self::all(rest()) } else { Self { silent: true, told: None } }
    }

    /// The provenance of the field `symbol`, which is not looked for where these are silent.
    #[must_use]
    pub fn with(mut self, symbol: &'static str, provenance: impl FnOnce() -> Provenance) -> Self {
        if !self.silent {
            self.add(symbol, provenance());
        }
        self
    }

    /// Notes the provenance of the field `symbol`.
    pub(crate) fn add(&mut self, symbol: &'static str, provenance: Provenance) {
        self.told.get_or_insert_default().by_symbol.insert(symbol, provenance);
    }

    /// Where `symbol` came from.
    #[must_use]
    pub fn of(&self, symbol: &str) -> Provenance {
        self.told
            .as_ref()
            .and_then(|told| told.by_symbol.get(symbol).or(told.rest.as_ref()))
            .cloned()
            .unwrap_or_else(|| Provenance::Assumed("the caller did not say".to_owned()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_named_symbol_wins_over_the_rest() {
        let given = || Provenance::Given("bolt.front.size".to_owned());
        let solved = || Provenance::Solved("case P1".to_owned());
        let origins = Origins::all(solved()).with("d", given);
        assert_eq!(origins.of("d"), given());
        assert_eq!(origins.of("f_t_ed"), solved());
        assert!(matches!(Origins::default().of("d"), Provenance::Assumed(_)));
    }

    #[test]
    fn silent_origins_look_for_nothing() {
        let origins = Origins::when(false, || unreachable!("nobody asks"));
        let origins = origins.with("d", || unreachable!("nobody asks"));
        assert!(matches!(origins.of("d"), Provenance::Assumed(_)));
    }
}
