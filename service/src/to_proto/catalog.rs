//! Entries of the catalogue.

use fishplate_proto::v1;
use fishplate_strength::catalog::{Entry, EntryValue};

/// One thing known by name.
pub(crate) fn entry(entry: Entry) -> v1::CatalogEntry {
    let Entry { name, family, values, source } = entry;
    let value = |EntryValue { name, value, unit }| v1::CatalogValue {
        name: String::from(name),
        value,
        unit: String::from(unit),
    };
    v1::CatalogEntry { name, family, values: values.into_iter().map(value).collect(), source }
}
