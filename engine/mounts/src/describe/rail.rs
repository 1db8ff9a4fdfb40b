//! The rails of the old car and steels with their own numbers.

use fishplate_quantity::written::Written;

use super::{Allowance, Damage, Side, WrittenLength, WrittenStress};

/// A steel with its own numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Steel {
    /// The name that others use.
    pub name: String,
    /// Yield strength.
    pub fy: WrittenStress,
    /// Ultimate strength.
    pub fu: WrittenStress,
    /// Correlation factor of fillet welds, where it is welded.
    pub beta_w: Option<Written<f64>>,
}

/// The side a channel is open to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Opening {
    /// Toward the centre plane.
    Inward,
    /// Away from the centre plane.
    Outward,
}

/// A rail's section as new, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RailSection {
    /// A channel.
    Channel {
        /// Height.
        height: f64,
        /// Flange width.
        flange: f64,
        /// Wall.
        wall: f64,
        /// The side it is open to.
        opens: Opening,
    },
    /// A box.
    Box {
        /// Height.
        height: f64,
        /// Width.
        width: f64,
        /// Wall.
        wall: f64,
    },
}

impl RailSection {
    /// Height along z, m.
    #[must_use]
    pub fn height(self) -> f64 {
        match self {
            Self::Channel { height, .. } | Self::Box { height, .. } => height,
        }
    }

    /// Width along y, m.
    #[must_use]
    pub fn width(self) -> f64 {
        match self {
            Self::Channel { flange, .. } => flange,
            Self::Box { width, .. } => width,
        }
    }

    /// Wall as new, m.
    #[must_use]
    pub fn wall(self) -> f64 {
        match self {
            Self::Channel { wall, .. } | Self::Box { wall, .. } => wall,
        }
    }
}

/// A rail, straight along x.
#[derive(Debug, Clone, PartialEq)]
pub struct Rail {
    /// Its name.
    pub name: String,
    /// Its section as new.
    pub section: RailSection,
    /// Name of its steel.
    pub steel: String,
    /// The y of the web's outer face; on a box, of the outboard face.
    pub web: WrittenLength,
    /// The z of the lowest face.
    pub bottom: WrittenLength,
    /// Rear end.
    pub from: WrittenLength,
    /// Front end.
    pub to: WrittenLength,
    /// Readings of the wall's thickness, left.
    pub readings: Vec<Reading>,
    /// Readings on the right; the left ones, as a guess, where there are none.
    pub readings_right: Vec<Reading>,
    /// The x of the places where the body holds it, m.
    pub held: Vec<f64>,
    /// Only on one side.
    pub only: Option<Side>,
    /// Deepest pit over mean loss; even wear where it is not said.
    pub pitting: Option<Written<f64>>,
    /// Thickness of the coat that was left under the probe.
    pub coat: Option<WrittenLength>,
    /// What is still to rust away.
    pub corrosion: Option<Allowance>,
    /// Holes, cracks and patches.
    pub damage: Vec<Damage>,
}

/// A thickness measured at a station; several at one x are readings of one station.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// The station, m.
    pub x: f64,
    /// What the gauge said.
    pub thickness: WrittenLength,
}
