//! Welds and bolts.

use fishplate_quantity::Stress;
use fishplate_quantity::written::Written;

use super::{Place, Side, WrittenLength};

/// How a weld is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bead {
    /// A fillet.
    Fillet {
        /// Its leg.
        leg: WrittenLength,
        /// On both sides of the plate.
        both_sides: bool,
    },
    /// Plug welds through round holes.
    Plug {
        /// Diameter of the holes.
        diameter: WrittenLength,
        /// Diameter where the two parts are fused, where a sample was cut open.
        fused: Option<WrittenLength>,
    },
}

/// Where a bead runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WeldPath {
    /// Along the wall edges of a folded U.
    Walls,
    /// Along the wall and floor edges of a folded U.
    Foot,
    /// Round the whole outline.
    AllRound,
    /// Along the two long edges.
    LongEdges,
    /// Along the leg of a gusset along this axis (0, 1 or 2).
    Leg(usize),
    /// Along both legs of a gusset.
    BothLegs,
    /// Along a polyline, or at the centres of plugs.
    Points,
}

impl WeldPath {
    /// How it is said.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Walls => "walls",
            Self::Foot => "foot",
            Self::AllRound => "all round",
            Self::LongEdges => "long edges",
            Self::Leg(0) => "leg x",
            Self::Leg(1) => "leg y",
            Self::Leg(_) => "leg z",
            Self::BothLegs => "both legs",
            Self::Points => "points",
        }
    }
}

/// Who makes a weld and how much of its strength is relied on.
#[derive(Debug, Clone, PartialEq)]
pub struct Workmanship {
    /// Share of the full strength.
    pub quality: Written<f64>,
    /// Who welds, in words.
    pub welded_by: String,
    /// Who inspects and how, in words.
    pub inspected: String,
}

/// A weld between two things.
#[derive(Debug, Clone, PartialEq)]
pub struct Weld {
    /// Its name.
    pub name: String,
    /// Mounts that its points are counted from.
    pub datums: Vec<String>,
    /// Only on one side.
    pub only: Option<Side>,
    /// The two things it joins.
    pub joins: Vec<String>,
    /// How it is made.
    pub bead: Bead,
    /// Where it runs.
    pub along: WeldPath,
    /// Corner points of a polyline, or centres of plugs.
    pub points: Vec<Place>,
    /// Length of a stitch and gap between stitches, m.
    pub stitches: Option<(f64, f64)>,
    /// Whether the seam is sealed against water.
    pub sealed: bool,
    /// Fit-up gap between the parts.
    pub gap: Option<WrittenLength>,
    /// Who makes it; as the project says where it is not said.
    pub workmanship: Option<Workmanship>,
}

/// How clamped faces are prepared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FacePreparation {
    /// Bare, cleaned metal.
    Bare,
    /// Painted, powder-coated or undersealed.
    Painted,
    /// Blasted bare.
    Blasted,
    /// Zinc-coated.
    Zinc,
}

/// How a bolt is tightened.
#[derive(Debug, Clone, PartialEq)]
pub struct Tightening {
    /// The method in words.
    pub method: String,
    /// Highest preload over lowest.
    pub scatter: Written<f64>,
    /// Friction of thread and head.
    pub thread_friction: Written<f64>,
}

/// Bolts of one kind through the same things.
#[derive(Debug, Clone, PartialEq)]
pub struct Bolt {
    /// Its name.
    pub name: String,
    /// Mounts that its points are counted from.
    pub datums: Vec<String>,
    /// Only on one side.
    pub only: Option<Side>,
    /// Thread: `M12`.
    pub thread: String,
    /// Property class or grade: `8.8`.
    pub class: String,
    /// What it passes, from head to nut.
    pub through: Vec<String>,
    /// Its places; from the mount where it passes one.
    pub at: Vec<Place>,
    /// Diameter of the hole.
    pub hole: WrittenLength,
    /// Washer: outside diameter and thickness, m.
    pub washer: Option<(f64, f64)>,
    /// How the clamped faces are prepared.
    pub faces: FacePreparation,
    /// Friction of the clamped faces.
    pub friction: Written<f64>,
    /// How it is tightened.
    pub tightening: Tightening,
    /// What holds its end.
    pub ends: BoltEnd,
}

/// What holds the end of a bolt.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum BoltEnd {
    /// A normal nut of the class of the bolt.
    #[default]
    Nut,
    /// A thin nut, style 0.
    ThinNut,
    /// A nut welded to the last thing it passes.
    WeldNut {
        /// Its class.
        class: WeldNutClass,
        /// Outside diameter and length, where it is none of the standard.
        size: Option<(WrittenLength, WrittenLength)>,
        /// Leg of the ring weld.
        leg: Option<WrittenLength>,
    },
    /// A threaded boss of plain steel welded to the last thing it passes.
    Boss {
        /// Outside diameter.
        outside: WrittenLength,
        /// Length.
        length: WrittenLength,
        /// Leg of the ring weld.
        leg: WrittenLength,
        /// Tensile strength, where it is known.
        fu: Option<Written<Stress>>,
    },
    /// A thread cut into the last thing it passes.
    Tapped {
        /// Length of thread that is engaged.
        engaged: WrittenLength,
    },
}

/// The class of a weld nut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WeldNutClass {
    /// Nobody knows: counts as class 5, as a guess.
    Unknown,
    /// Class 5.
    Five,
    /// Class 8.
    Eight,
    /// Class 10.
    Ten,
}
