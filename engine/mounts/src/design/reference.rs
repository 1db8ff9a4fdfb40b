//! References in words: `part.front-bracket.floor`, `rail.frame.left.web.outboard`, `mount.rear`.

use crate::describe::{Direction, Side};

/// What a reference points at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// A part.
    Part,
    /// A rail.
    Rail,
    /// A mount.
    Mount,
    /// A bolt.
    Bolt,
}

impl Kind {
    /// The word it is written with.
    #[must_use]
    pub(super) fn word(self) -> &'static str {
        match self {
            Self::Part => "part",
            Self::Rail => "rail",
            Self::Mount => "mount",
            Self::Bolt => "bolt",
        }
    }
}

/// A reference taken apart.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Reference {
    /// What it points at.
    pub(super) kind: Kind,
    /// The name; empty for the bare `mount` of a list of datums.
    pub(super) name: String,
    /// The side, where it is said.
    pub(super) side: Option<Side>,
    /// The wall, where it is said: `web`, `floor`, `leg-x`.
    pub(super) wall: Option<String>,
    /// The direction its face looks, where it is said.
    pub(super) facing: Option<Facing>,
}

/// The direction a face looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Facing {
    /// Away from the centre plane.
    Outboard,
    /// Toward the centre plane.
    Inboard,
    /// Up.
    Upper,
    /// Down.
    Under,
    /// Forward.
    Front,
    /// Rearward.
    Rear,
}

impl Facing {
    fn read(word: &str) -> Option<Self> {
        Some(match word {
            "outboard" => Self::Outboard,
            "inboard" => Self::Inboard,
            "upper" => Self::Upper,
            "under" => Self::Under,
            "front" => Self::Front,
            "rear" => Self::Rear,
            _ => return None,
        })
    }

    /// Axis and sign on a body of this side.
    #[must_use]
    pub(super) fn direction(self, side: Side) -> Direction {
        let left = side == Side::Left;
        match self {
            Self::Outboard => Direction { axis: 1, positive: left },
            Self::Inboard => Direction { axis: 1, positive: !left },
            Self::Upper => Direction { axis: 2, positive: true },
            Self::Under => Direction { axis: 2, positive: false },
            Self::Front => Direction { axis: 0, positive: true },
            Self::Rear => Direction { axis: 0, positive: false },
        }
    }
}

/// What a reference must look like; shown with every refused one.
pub(super) const FORM: &str = "part.NAME, rail.NAME, mount.NAME or bolt.NAME, then if need be a side \
     (left, right), a wall (web, floor, leg-x ...) and the direction a face looks (outboard, \
     inboard, upper, under, front, rear)";

impl Reference {
    /// Takes a reference apart.
    ///
    /// # Errors
    /// What is wrong with it, in words.
    pub(super) fn read(text: &str) -> Result<Self, String> {
        let mut words = text.split('.');
        let kind = match words.next() {
            Some("part") => Kind::Part,
            Some("rail") => Kind::Rail,
            Some("mount") => Kind::Mount,
            Some("bolt") => Kind::Bolt,
            _ => return Err(format!("\"{text}\" does not begin with part, rail, mount or bolt")),
        };
        let name = words.next().unwrap_or_default().to_owned();
        if name.is_empty() && kind != Kind::Mount {
            return Err(format!("\"{text}\" has no name behind \"{}.\"", kind.word()));
        }
        let mut reference = Self { kind, name, side: None, wall: None, facing: None };
        for word in words {
            let side = match word {
                "left" => Some(Side::Left),
                "right" => Some(Side::Right),
                _ => None,
            };
            if side.is_some() && reference.wall.is_none() && reference.side.is_none() {
                reference.side = side;
            } else if let Some(facing) = Facing::read(word)
                && reference.facing.is_none()
            {
                reference.facing = Some(facing);
            } else if reference.wall.is_none() && reference.facing.is_none() && !word.is_empty() {
                reference.wall = Some(word.to_owned());
            } else {
                return Err(format!("\"{text}\" has \"{word}\" where nothing belongs"));
            }
        }
        Ok(reference)
    }

    /// Name of the body it points at: `part.front-bracket`.
    #[must_use]
    pub(super) fn body(&self) -> String {
        format!("{}.{}", self.kind.word(), self.name)
    }
}

/// The name among `known` that is nearest to `given`, for advice.
#[must_use]
pub(super) fn nearest<'a>(given: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    known
        .map(|name| (distance(given, name), name))
        .filter(|(d, name)| *d <= name.len() / 2 + 1)
        .min()
        .map(|(_, name)| name)
}

/// Edit distance (Levenshtein 1966).
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, cb) in b.iter().enumerate() {
            let change = diagonal + usize::from(ca != *cb);
            diagonal = row[j + 1];
            row[j + 1] = change.min(row[j] + 1).min(row[j + 1] + 1);
        }
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_full_reference_comes_apart() {
        let r = Reference::read("part.cross-end.left.inboard").unwrap();
        assert_eq!((r.kind, r.name.as_str()), (Kind::Part, "cross-end"));
        assert_eq!((r.side, r.facing), (Some(Side::Left), Some(Facing::Inboard)));
        let r = Reference::read("rail.frame.web.outboard").unwrap();
        assert_eq!((r.wall.as_deref(), r.facing), (Some("web"), Some(Facing::Outboard)));
        assert_eq!(Reference::read("mount").unwrap().name, "");
    }

    #[test]
    fn what_is_no_reference_is_told_apart() {
        for text in ["", "bracket", "part.", "part.a.web.outboard.more", "part.a.b.c"] {
            assert!(Reference::read(text).is_err(), "{text}");
        }
    }

    #[test]
    fn the_nearest_name_is_offered() {
        let known = ["front-bracket", "rear-bracket", "cross"];
        assert_eq!(nearest("front-braket", known.into_iter()), Some("front-bracket"));
        assert_eq!(nearest("zzzzzzzzzzzzzzzzzzz", known.into_iter()), None);
    }
}
