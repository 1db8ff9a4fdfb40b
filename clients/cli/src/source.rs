//! A file that was given, and places in it.

use std::io::{self, IsTerminal, Read};
use std::ops::Range;

/// Largest project file, bytes: a thousand times the longest that a car has needed.
pub(crate) const PROJECT_BYTES: u64 = 1 << 20;
/// Largest structure as JSON, bytes.
pub(crate) const STRUCTURE_BYTES: u64 = 64 << 20;

/// Text that was given, with its name.
#[derive(Debug, Clone)]
pub(crate) struct Source {
    /// As it was named on the command line; `standard input` for `-`.
    pub(crate) name: String,
    /// What it holds.
    pub(crate) text: String,
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
                None => Ok(Self {
                    name,
                    text: text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text),
                }),
            },
        }
    }

    /// Where a byte stands.
    pub(crate) fn spot(&self, span: &Range<usize>) -> Spot {
        let start = floor(&self.text, span.start);
        let before = &self.text[..start];
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        let line_end = self.text[start..].find('\n').map_or(self.text.len(), |at| start + at);
        let end = floor(&self.text, span.end).clamp(start, line_end);
        Spot {
            line: before.matches('\n').count() + 1,
            column: self.text[line_start..start].chars().count() + 1,
            length: self.text[start..end].chars().count().max(1),
            text: self.text[line_start..line_end].trim_end_matches('\r').to_owned(),
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
    pub(crate) line: usize,
    pub(crate) column: usize,
    /// Characters to mark.
    pub(crate) length: usize,
    /// The line.
    pub(crate) text: String,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn source(text: &str) -> Source {
        Source { name: "x".to_owned(), text: text.to_owned() }
    }

    #[test]
    fn lines_and_columns_count_from_one_and_in_characters() {
        let s = source("a = 1\nbö = \"~7 ± 2\"\n");
        let at = s.text.find("\"~").unwrap();
        let spot = s.spot(&(at..s.text.len() - 1));
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
}
