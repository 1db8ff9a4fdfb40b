//! The projects that a batch is about.

use std::fs;
use std::path::{Path, PathBuf};

use crate::failure::{Attempt, Failure, INPUT};
use crate::project::{Loaded, Texts};
use crate::source::Source;

/// A project of a batch.
pub(crate) struct Entry {
    /// How it is told and kept: its file name within the folder, else as it was given.
    pub(crate) name: String,
    /// What it says, or why it cannot be read.
    pub(crate) read: Result<(Source, Loaded), Box<Failure>>,
}

/// The projects of a batch and where their results are kept.
pub(crate) struct Folder {
    /// The folder beside which results are kept.
    pub(crate) home: PathBuf,
    /// Whether all projects of the folder are there: one that is not is gone.
    pub(crate) whole: bool,
    /// The projects, in the order of their names.
    pub(crate) entries: Vec<Entry>,
}

/// Reads what `paths` name: folders with all projects in them, and files; `set` is set in each.
///
/// # Errors
/// A path that is not there, and folders without any project.
pub(crate) fn gather(paths: &[String], set: &[String]) -> Attempt<Folder> {
    let first = paths.first().map_or(Path::new("."), Path::new);
    let whole = paths.len() == 1 && first.is_dir();
    let parent = first.parent().filter(|parent| !parent.as_os_str().is_empty());
    let home = if first.is_dir() { first } else { parent.unwrap_or(Path::new(".")) };
    let mut files: Vec<String> = Vec::new();
    for path in paths {
        if Path::new(path).is_dir() {
            files.extend(projects_in(Path::new(path))?);
        } else {
            files.push(path.clone());
        }
    }
    if files.is_empty() {
        let message = format!("{} holds no project.", paths.join(", "));
        let advice = "a project is a .toml file with a section [project]";
        return Err(Failure::plain(INPUT, "NOTHING TO CHECK", "NO_PROJECT", message, advice));
    }
    let mut entries: Vec<Entry> = Vec::new();
    for file in files {
        let name = match Path::new(&file).strip_prefix(home) {
            Ok(inside) => inside.to_string_lossy().into_owned(),
            Err(_) => file.clone(),
        };
        if entries.iter().all(|entry| entry.name != name) {
            entries.push(Entry { name, read: read(&file, set)? });
        }
    }
    entries.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(Folder { home: home.to_owned(), whole, entries })
}

/// Reads a project; faults of what it says are kept for it, one that is not there is told at once.
fn read(file: &str, set: &[String]) -> Attempt<Result<(Source, Loaded), Box<Failure>>> {
    let texts = Texts::gather(file, set)?;
    Ok(match texts.read() {
        Ok(loaded) => Ok((texts.source, loaded)),
        Err(faults) => Err(Failure::in_file(&texts.source, faults)),
    })
}

/// The projects of a folder: files `*.toml` that have a section `[project]`. What they include has none.
fn projects_in(folder: &Path) -> Attempt<Vec<String>> {
    let unreadable = |error: std::io::Error| {
        let message = format!("{} cannot be read: {error}", folder.display());
        Failure::plain(INPUT, "CANNOT READ", "UNREADABLE", message, "")
    };
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).map_err(unreadable)? {
        let path = entry.map_err(unreadable)?.path();
        if path.extension().is_none_or(|extension| extension != "toml") || path.is_dir() {
            continue;
        }
        let name = path.to_string_lossy().into_owned();
        // One that cannot be read is told when it is read as a project.
        let text = fs::read(&path).map(|bytes| String::from_utf8_lossy(&bytes).into_owned());
        if text.map_or(true, |text| text.lines().any(|l| l.trim_start().starts_with("[project]"))) {
            files.push(name);
        }
    }
    Ok(files)
}
