//! What rust and tools have done to a rail.

pub use fishplate_strength::remaining::{Allowance, Corrosivity, FaceState};

use super::Side;

/// What is wrong with a rail at one place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DamageKind {
    /// A hole that rust or a tool made, or metal that gives under the thumb.
    Hole,
    /// A crack.
    Crack,
    /// An old repair.
    Patch,
}

impl DamageKind {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Hole => "hole",
            Self::Crack => "crack",
            Self::Patch => "patch",
        }
    }
}

/// Damage of a rail.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Damage {
    /// What it is.
    pub kind: DamageKind,
    /// Where along the rail, m.
    pub x: f64,
    /// On which side; on both where it is not said.
    pub side: Option<Side>,
}
