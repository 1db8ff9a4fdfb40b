//! Where the numbers of an input come from, by symbol.

use std::collections::BTreeMap;

use fishplate_quantity::Provenance;

/// The provenance of each field of an input, by its symbol, with one answer for all the rest.
///
/// A batch run leaves it empty, which costs nothing; the rows that are explained get it filled.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Origins {
    by_symbol: BTreeMap<&'static str, Provenance>,
    rest: Option<Provenance>,
}

impl Origins {
    /// The same provenance for every field.
    #[must_use]
    pub fn all(rest: Provenance) -> Self {
        Self { by_symbol: BTreeMap::new(), rest: Some(rest) }
    }

    /// The provenance of the field `symbol`.
    #[must_use]
    pub fn with(mut self, symbol: &'static str, provenance: Provenance) -> Self {
        self.by_symbol.insert(symbol, provenance);
        self
    }

    /// Notes the provenance of the field `symbol`.
    pub(crate) fn add(&mut self, symbol: &'static str, provenance: Provenance) {
        self.by_symbol.insert(symbol, provenance);
    }

    /// Where `symbol` came from.
    #[must_use]
    pub fn of(&self, symbol: &str) -> Provenance {
        self.by_symbol
            .get(symbol)
            .or(self.rest.as_ref())
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
        let origins = Origins::all(solved()).with("d", given());
        assert_eq!(origins.of("d"), given());
        assert_eq!(origins.of("f_t_ed"), solved());
        assert!(matches!(Origins::default().of("d"), Provenance::Assumed(_)));
    }
}
