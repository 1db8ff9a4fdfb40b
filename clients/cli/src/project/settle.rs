//! A file with one design in place of what it leaves open; everything else stays as it is written.

use std::ops::Range;

use toml::de::{DeTable, DeValue};

use super::open::Opened;
use crate::source::Source;

/// The text of a file with these options; its comments are kept.
///
/// # Errors
/// Why it cannot be written: something that would change stands in another file or was set.
pub(crate) fn settled(
    source: &Source,
    opened: &Opened,
    choice: &[usize],
) -> Result<String, String> {
    let text = source.text();
    let (document, _) = DeTable::parse_recoverable(text);
    let root = document.get_ref();
    let own = |span: &Range<usize>| span.end <= text.len();
    let mut edits: Vec<(Range<usize>, String)> = Vec::new();
    for (open, option) in opened.quantities.iter().zip(choice) {
        if !own(&open.span) {
            return Err(format!("`{}` is not written in this file itself.", open.name));
        }
        let Some(chosen) = open.options.get(*option) else { continue };
        for (key, value) in &chosen.sets {
            let path: Vec<&str> = key.split('.').collect();
            match found(root, &path) {
                Some(Found::Value(span)) => edits.push((span, value.clone())),
                Some(Found::Section(end, last)) => {
                    edits.push((end..end, format!("\n{last} = {value}")));
                }
                None => return Err(format!("`{key}` is not written in this file itself.")),
            }
        }
        // The section that opened it goes, from its header to the end of its options.
        let start = text.find(&format!("[open.{}]", open.name));
        let options = found(root, &["open", &open.name, "options"]);
        if let (Some(start), Some(Found::Value(options))) = (start, options) {
            let end = text[options.end..].find('\n').map_or(text.len(), |at| options.end + at + 1);
            edits.push((start..end, String::new()));
        }
    }
    edits.sort_by_key(|(span, _)| std::cmp::Reverse(span.start));
    let mut out = text.to_owned();
    for (span, value) in edits {
        out.replace_range(span, &value);
    }
    Ok(out)
}

/// Where a key stands, or the end of the header of the section it belongs to.
enum Found<'k> {
    Value(Range<usize>),
    Section(usize, &'k str),
}

fn found<'k>(root: &DeTable<'_>, path: &[&'k str]) -> Option<Found<'k>> {
    let (last, way) = path.split_last()?;
    let mut table = root;
    let mut header = None;
    for key in way {
        let value = table.get(*key)?;
        let DeValue::Table(inner) = value.get_ref() else { return None };
        header = Some(value.span().end);
        table = inner;
    }
    match table.get(*last) {
        Some(value) => Some(Found::Value(value.span())),
        None => header.map(|end| Found::Section(end, last)),
    }
}
