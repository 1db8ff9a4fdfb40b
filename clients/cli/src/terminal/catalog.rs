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
                let (value, unit) = look.units().of(v.value, &v.unit);
                let gap = if unit.is_empty() { "" } else { " " };
                format!("{} {}{gap}{unit}", v.name, significant(value, 4))
            })
            .collect();
        // A name is what one types: it is never cut, and one that is too long has its own line.
        let mut lead = format!("  {}", fit(look, &entry.name, name_width));
        if entry.name.chars().count() + 2 > name_width {
            page.wrapped("  ", 4, &entry.name);
            lead = " ".repeat(name_width + 2);
        }
        page.wrapped(&lead, name_width + 2, &values.join(", "));
    }
    page.finish()
}

#[cfg(test)]
mod tests {
    use fishplate_proto::v1::CatalogValue;

    use super::*;

    /// A name is copied into the project file letter by letter.
    #[test]
    fn names_are_whole_and_apart_from_their_values() {
        let value =
            CatalogValue { name: "slip factor".to_owned(), value: 0.4, ..Default::default() };
        let names = ["M12", &"n".repeat(30), &"n".repeat(31), &"n".repeat(32), &"n".repeat(50)];
        let entries = names.map(|name| CatalogEntry {
            name: name.to_owned(),
            values: vec![value.clone()],
            ..CatalogEntry::default()
        });
        let text = catalog(&entries, Look::new(80, false));
        let words: Vec<&str> = text.split_whitespace().collect();
        for name in names {
            assert!(words.contains(&name), "no {name} in {text}");
        }
    }
}
