//! A file that was given, and places in it.

use std::io::{self, IsTerminal, Read};
use std::ops::Range;

/// Largest project file, bytes: a thousand times the longest that a car has needed.
pub(crate) const PROJECT_BYTES: u64 = 1 << 20;
/// Largest structure as JSON, bytes.
pub(crate) const STRUCTURE_BYTES: u64 = 64 << 20;

/// Text that was given, with its name; behind it what it includes and what the command line sets.
/// Places count through all texts, one after the other.
#[derive(Debug, Clone)]
pub(crate) struct Source {
    texts: Vec<Text>,
}

/// One text of a [`Source`].
#[derive(Debug, Clone)]
pub(crate) struct Text {
    /// As it was named on the command line; `standard input` for `-`.
    pub(crate) name: String,
    /// What it holds.
    pub(crate) text: String,
    /// The place of its first byte.
    pub(crate) start: usize,
}

impl Text {
    fn holds(&self, at: usize) -> bool {
        // The place behind the last byte is its own, too.
        (self.start..=self.start + self.text.len()).contains(&at)
    }
}

/// Why a file cannot be read.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Unreadable {
    #[error("there is no file {0}")]
    Missing(String),
    #[error("{0} is a directory, where a file belongs")]
    Directory(String),
    #[error("{name} has more than {allowed} bytes; that is no description of a car")]
    TooLarge { name: String, allowed: u64 },
    #[error("{name} is no text: byte {at} is not UTF-8")]
    NotText { name: String, at: usize },
    #[error("{name} is no text: byte {at} is 0")]
    Binary { name: String, at: usize },
    #[error("standard input is a terminal; give a file, or pipe one in")]
    Terminal,
    #[error("{name} cannot be read: {why}")]
    Other { name: String, why: io::Error },
}

impl Source {
    /// Reads the file `name`, or standard input for `-`.
    pub(crate) fn read(name: &str, allowed: u64) -> Result<Self, Unreadable> {
        let mut bytes = Vec::new();
        // One byte more than allowed tells a file that is too large from one that just fits.
        let taken = if name == "-" {
            let input = io::stdin();
            if input.is_terminal() {
                return Err(Unreadable::Terminal);
            }
            input.lock().take(allowed + 1).read_to_end(&mut bytes)
        } else {
            std::fs::metadata(name).and_then(|about| {
                if about.is_dir() {
                    return Err(io::ErrorKind::IsADirectory.into());
                }
                std::fs::File::open(name)?.take(allowed + 1).read_to_end(&mut bytes)
            })
        };
        let shown = if name == "-" { "standard input" } else { name }.to_owned();
        match taken {
            Err(why) if why.kind() == io::ErrorKind::NotFound => Err(Unreadable::Missing(shown)),
            Err(why) if why.kind() == io::ErrorKind::IsADirectory => {
                Err(Unreadable::Directory(shown))
            }
            Err(why) => Err(Unreadable::Other { name: shown, why }),
            Ok(length) if length as u64 > allowed => {
                Err(Unreadable::TooLarge { name: shown, allowed })
            }
            Ok(_) => Self::from_bytes(shown, bytes),
        }
    }

    fn from_bytes(name: String, bytes: Vec<u8>) -> Result<Self, Unreadable> {
        match String::from_utf8(bytes) {
            Err(error) => {
                Err(Unreadable::NotText { name, at: error.utf8_error().valid_up_to() + 1 })
            }
            Ok(text) => match text.find('\0') {
                Some(at) => Err(Unreadable::Binary { name, at: at + 1 }),
                // An editor's mark at the start belongs to no key.
                None => Ok(Self::new(
                    name,
                    text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text),
                )),
            },
        }
    }

    /// A text by itself.
    pub(crate) fn new(name: String, text: String) -> Self {
        Self { texts: vec![Text { name, text, start: 0 }] }
    }

    /// Puts a text behind the others and gives its number.
    pub(crate) fn add(&mut self, name: String, text: String) -> usize {
        let start = self.texts.last().map_or(0, |last| last.start + last.text.len() + 1);
        self.texts.push(Text { name, text, start });
        self.texts.len() - 1
    }

    /// The name of what was given.
    pub(crate) fn name(&self) -> &str {
        &self.texts[0].name
    }

    /// The text that was given.
    pub(crate) fn text(&self) -> &str {
        &self.texts[0].text
    }

    /// All texts, that which was given first.
    pub(crate) fn texts(&self) -> &[Text] {
        &self.texts
    }

    /// The text that holds a place.
    pub(crate) fn at(&self, place: usize) -> &Text {
        self.texts.iter().find(|text| text.holds(place)).unwrap_or(&self.texts[0])
    }

    /// Where a byte stands.
    pub(crate) fn spot(&self, span: &Range<usize>) -> Spot {
        let held = self.at(span.start);
        let text = held.text.as_str();
        let start = floor(text, span.start.saturating_sub(held.start));
        let before = &text[..start];
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        let line_end = text[start..].find('\n').map_or(text.len(), |at| start + at);
        let end = floor(text, span.end.saturating_sub(held.start)).clamp(start, line_end);
        Spot {
            file: (held.start > 0).then(|| held.name.clone()),
            line: before.matches('\n').count() + 1,
            column: text[line_start..start].chars().count() + 1,
            length: text[start..end].chars().count().max(1),
            text: text[line_start..line_end].trim_end_matches('\r').to_owned(),
        }
    }
}

/// The last boundary between characters at or before `at`.
fn floor(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

/// A place in a text, counted from 1 as editors do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Spot {
    /// The text, where it is not the one that was given.
    pub(crate) file: Option<String>,
    pub(crate) line: usize,
    pub(crate) column: usize,
    /// Characters to mark.
    pub(crate) length: usize,
    /// The line.
    pub(crate) text: String,
}

/// What a key set on the command line is called in place of a file.
pub(crate) const ARGUMENT: &str = "--set";

impl Spot {
    /// `line 12`; with the file before it where that is not the one given.
    pub(crate) fn shown(&self) -> String {
        match self.file.as_deref() {
            Some(ARGUMENT) => format!("{ARGUMENT} {}", self.text),
            Some(file) => format!("{file}, line {}", self.line),
            None => format!("line {}", self.line),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn source(text: &str) -> Source {
        Source::new("x".to_owned(), text.to_owned())
    }

    #[test]
    fn lines_and_columns_count_from_one_and_in_characters() {
        let s = source("a = 1\nbö = \"~7 ± 2\"\n");
        let at = s.text().find("\"~").unwrap();
        let spot = s.spot(&(at..s.text().len() - 1));
        assert_eq!((spot.line, spot.column, spot.length), (2, 6, 8));
        assert_eq!(spot.text, "bö = \"~7 ± 2\"");
    }

    #[test]
    fn a_place_past_the_end_is_the_end() {
        let s = source("ä");
        assert_eq!(s.spot(&(1..900)).column, 1);
        assert_eq!(s.spot(&(900..901)).column, 2);
        assert_eq!(source("").spot(&(0..5)).line, 1);
    }

    #[test]
    fn places_count_through_all_texts() {
        let mut s = source("a = 1\n");
        let second = s.add("y".to_owned(), "b = 2\nc = 3".to_owned());
        let start = s.texts()[second].start;
        let spot = s.spot(&(start + 6..start + 7));
        assert_eq!((spot.file.as_deref(), spot.line, spot.column), (Some("y"), 2, 1));
        assert_eq!(spot.shown(), "y, line 2");
        // The end of each text is its own.
        assert_eq!(s.spot(&(6..6)).shown(), "line 2");
        assert_eq!(s.spot(&(start + 11..start + 11)).column, 6);
    }
}
