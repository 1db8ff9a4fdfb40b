//! What the engine knows by name.

use fishplate_proto::v1::CatalogEntry;

use super::number::significant;
use super::page::{Look, Page, fit};

/// The entries as text, each family under its own heading with its source.
pub(crate) fn catalog(entries: &[CatalogEntry], look: Look) -> String {
    let mut page = Page::new(look);
    let name_width =
        entries.iter().map(|e| e.name.chars().count()).max().unwrap_or_default().clamp(8, 30) + 2;
    let mut heading = ("", "");
    for entry in entries {
        let here = (entry.family.as_str(), entry.source.as_str());
        if here != heading {
            page.blank();
            let source = if here.1.is_empty() { String::new() } else { format!(" ({})", here.1) };
            page.wrapped("", 2, &format!("{}{source}", here.0));
            heading = here;
        }
        let values: Vec<String> = entry
            .values
            .iter()
            .map(|v| {
                let unit = if v.unit.is_empty() { String::new() } else { format!(" {}", v.unit) };
                format!("{} {}{unit}", v.name, significant(v.value, 4))
            })
            .collect();
        let lead = format!("  {}", fit(look, &entry.name, name_width));
        page.wrapped(&lead, name_width + 2, &values.join(", "));
    }
    page.finish()
}
