//! The inputs of a project that are not known exactly.

use super::kinds::{self, Kind, Usual};
use super::spread::Spread;
use crate::describe::Project;
use crate::known;

/// An input that is a guess or has a spread.
#[derive(Debug, Clone)]
pub(crate) struct Input {
    /// Path of its field.
    pub(crate) path: String,
    /// What it is.
    pub(crate) what: String,
    /// Its value, SI.
    pub(crate) value: f64,
    /// Its unit, with its size in SI.
    pub(crate) unit: (&'static str, f64),
    /// Whether it is marked as not measured.
    pub(crate) guessed: bool,
    /// How far it may be off.
    pub(crate) spread: Option<Spread>,
    /// What kind of input it is.
    pub(crate) kind: &'static Kind,
}

/// All inputs that are guessed or have a spread, in the order of the project. A guess without a
/// spread gets the usual one of its kind where `assume`.
pub(crate) fn open(project: &Project, assume: bool) -> Vec<Input> {
    let mut list = Vec::new();
    known::each(&mut project.clone(), &mut |k| {
        if !k.guessed && k.slot.spread.is_none() {
            return;
        }
        let kind = kinds::of(&k.path);
        let spread = match k.slot.spread {
            Some((low, high)) => Some(Spread::about(k.value, low, high, None)),
            None if assume => usual(k.value, kind),
            None => None,
        };
        list.push(Input {
            path: k.path,
            what: k.what,
            value: k.value,
            unit: k.unit,
            guessed: k.guessed,
            // A spread without width moves nothing.
            spread: spread.filter(|s| s.high > s.low),
            kind,
        });
    });
    list
}

/// The usual spread of a kind about a value.
fn usual(value: f64, kind: &Kind) -> Option<Spread> {
    let (low, high) = match kind.usual {
        Usual::Unknown => return None,
        Usual::Off(off) => (value - off, value + off),
        Usual::Shares(low, high) => (value * low, value * high),
    };
    // Shares of a negative number run the other way.
    let (low, high) = if low <= high { (low, high) } else { (high, low) };
    Some(Spread::about(value, low, high, Some(kind.source)))
}
