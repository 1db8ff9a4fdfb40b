//! Where text goes: standard output, standard error, files.

use std::fs::{self, OpenOptions};
use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};

use anstream::{AutoStream, ColorChoice};
use fishplate_proto::v1::Progress;

use crate::args::{Colour, Common};
use crate::terminal::{Look, clean};

impl Colour {
    fn choice(self) -> ColorChoice {
        match self {
            Self::Auto => ColorChoice::Auto,
            Self::Always => ColorChoice::AlwaysAnsi,
            Self::Never => ColorChoice::Never,
        }
    }
}

impl Common {
    /// How the terminal is written on.
    pub(crate) fn look(&self) -> Look {
        let width = self
            .width
            .or_else(|| terminal_size::terminal_size().map(|(width, _)| usize::from(width.0)))
            .unwrap_or_default();
        Look::new(width, self.ascii || !utf8_locale(|name| std::env::var(name).ok()))
            .in_units(self.units.units())
    }
}

/// Whether the locale writes UTF-8: the first of these that is set decides (POSIX.1-2017, 8.2).
fn utf8_locale(variable: impl Fn(&str) -> Option<String>) -> bool {
    let set =
        ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().filter_map(variable).find(|v| !v.is_empty());
    match set {
        Some(locale) => {
            let locale = locale.to_ascii_lowercase();
            locale.contains("utf-8") || locale.contains("utf8")
        }
        None => cfg!(windows),
    }
}

/// Writes an answer. A reader that has gone away is no fault: it has seen enough.
pub(crate) fn answer(text: &str, colour: Colour) -> io::Result<()> {
    quiet(write(AutoStream::new(io::stdout().lock(), colour.choice()), text))
}

/// Writes a document for programs, byte by byte as it is.
pub(crate) fn document(text: &str) -> io::Result<()> {
    quiet(write(io::stdout().lock(), text))
}

/// Writes a message for people.
pub(crate) fn message(text: &str, colour: Colour) {
    // Where even standard error is closed there is nobody left to tell.
    let _ = write(AutoStream::new(io::stderr().lock(), colour.choice()), text);
}

fn write(mut out: impl Write, text: &str) -> io::Result<()> {
    out.write_all(text.as_bytes())?;
    out.flush()
}

fn quiet(written: io::Result<()>) -> io::Result<()> {
    match written {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        other => other,
    }
}

/// One line on standard error that says how far the work is; only on a terminal.
#[derive(Debug)]
pub(crate) struct ProgressLine {
    on: bool,
    /// Columns that are written on.
    written: usize,
    width: usize,
}

impl ProgressLine {
    /// A line, where it is `wanted` and somebody is there to see it.
    pub(crate) fn new(wanted: bool) -> Self {
        let width = terminal_size::terminal_size().map_or(80, |(width, _)| usize::from(width.0));
        Self { on: wanted && io::stderr().is_terminal(), written: 0, width }
    }

    /// Shows how far it is in place of what stood there.
    pub(crate) fn show(&mut self, progress: &Progress) {
        if self.on {
            let text = progress_text(progress, self.width);
            let length = text.chars().count();
            let rest = " ".repeat(self.written.saturating_sub(length));
            self.written = length;
            overwrite(&format!("\r{text}{rest}"));
        }
    }

    /// Takes the line away.
    pub(crate) fn clear(&mut self) {
        if self.written > 0 {
            overwrite(&format!("\r{}\r", " ".repeat(self.written)));
            self.written = 0;
        }
    }
}

/// `3 of 12  front left: solving 14 200 unknowns`, in fewer columns than `width`: a full line
/// would break.
fn progress_text(progress: &Progress, width: usize) -> String {
    let Progress { doing, done, of } = progress;
    let steps = if *of > 0 { format!("{done} of {of}  ") } else { String::new() };
    let text = format!("{steps}{}", clean(doing));
    text.chars().take(width.saturating_sub(1)).collect()
}

fn overwrite(text: &str) {
    // A line that cannot be shown is not missed.
    let _ = write(io::stderr().lock(), text);
}

/// Writes a whole file or none: beside its place first, then moved there.
pub(crate) fn whole_file(path: &Path, text: &str) -> io::Result<()> {
    let beside = beside(path)?;
    let written = fresh(&beside, text).and_then(|()| fs::rename(&beside, path));
    if written.is_err() {
        // What was left is ours, and the reason is told by the first error.
        let _ = fs::remove_file(&beside);
    }
    written
}

fn beside(path: &Path) -> io::Result<PathBuf> {
    if path.is_dir() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    let name = path.file_name().ok_or(io::ErrorKind::InvalidInput)?;
    let mut hidden = std::ffi::OsString::from(".");
    hidden.push(name);
    hidden.push(format!(".{}", std::process::id()));
    Ok(path.with_file_name(hidden))
}

fn fresh(path: &Path, text: &str) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(text.as_bytes())?;
    file.sync_all()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn locale(set: &[(&str, &str)]) -> bool {
        utf8_locale(|name| {
            set.iter().find(|(n, _)| *n == name).map(|(_, value)| (*value).to_owned())
        })
    }

    #[test]
    fn the_first_variable_that_is_set_decides() {
        assert!(locale(&[("LANG", "en_GB.UTF-8")]));
        assert!(!locale(&[("LC_ALL", "C"), ("LANG", "en_GB.UTF-8")]));
        assert!(locale(&[("LC_ALL", ""), ("LC_CTYPE", "C.utf8"), ("LANG", "C")]));
        assert_eq!(locale(&[]), cfg!(windows));
    }

    #[test]
    fn progress_fits_on_one_line() {
        let progress = Progress { doing: "front left:\nsolving".to_owned(), done: 3, of: 12 };
        assert_eq!(progress_text(&progress, 80), "3 of 12  front left: solving");
        assert_eq!(progress_text(&progress, 12), "3 of 12  fr");
        let unknown = Progress { of: 0, ..progress };
        assert_eq!(progress_text(&unknown, 80), "front left: solving");
    }

    #[test]
    fn a_file_is_written_whole_or_not_at_all() {
        let folder = std::env::temp_dir().join(format!("fishplate-{}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        let file = folder.join("answer.html");
        whole_file(&file, "first").unwrap();
        whole_file(&file, "second").unwrap();
        assert_eq!(fs::read_to_string(&file).unwrap(), "second");
        assert!(whole_file(&folder.join("missing").join("x.html"), "text").is_err());
        for name in [&folder, Path::new(".")] {
            let error = whole_file(name, "text").unwrap_err();
            assert_eq!(error.kind(), io::ErrorKind::IsADirectory);
        }
        let left: Vec<_> = fs::read_dir(&folder).unwrap().collect();
        assert_eq!(left.len(), 1);
        fs::remove_dir_all(&folder).unwrap();
    }
}
