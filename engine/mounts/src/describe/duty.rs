//! How often which load comes back over the life of the design.

use fishplate_strength::fatigue::Duty as Blocks;

/// What the design has to last.
#[derive(Debug, Clone, PartialEq)]
pub struct Duty {
    /// Way to be driven, m.
    pub distance: f64,
    /// Families not described below have the assumed duty of the catalogue; else they do not swing.
    pub assumed: bool,
    /// Families with a duty of their own.
    pub families: Vec<FamilyDuty>,
}

/// The duty of one family.
#[derive(Debug, Clone, PartialEq)]
pub struct FamilyDuty {
    /// The family.
    pub family: LoadFamily,
    /// Blocks of its own; the assumed ones where left out.
    pub blocks: Option<Blocks>,
    /// How far the load swings back beyond rest, as a share of what it is forward.
    pub reverse: f64,
}

/// Loads that rise and fall together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoadFamily {
    /// From the bump to as far below rest.
    Vertical,
    /// From rest, or from recuperation, to full drive.
    Drive,
    /// From rest to full braking.
    Brake,
    /// From a full left turn to a full right turn.
    Corner,
}

impl LoadFamily {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Vertical, Self::Drive, Self::Brake, Self::Corner];

    /// What it is called, here and in the table of assumed duties.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Vertical => "vertical",
            Self::Drive => "drive",
            Self::Brake => "brake",
            Self::Corner => "corner",
        }
    }
}
