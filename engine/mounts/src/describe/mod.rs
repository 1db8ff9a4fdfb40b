//! A project as a builder describes it: the things on the bench, with what is known about each
//! number. Nothing here is resolved or checked; [`crate::design`] does that.
//!
//! Lengths of shapes are m; points are in car axes (ISO 8855: x forward, y left, z up; zero on the
//! ground, in the centre plane, on the rear-axle line). The left side is drawn.

mod car;
mod case;
mod condition;
mod duty;
mod joint;
mod part;
mod rail;

pub use car::{
    AddedMass, Axis, AxleScales, Brakes, Bush, Car, Cargo, CornerScales, Cradle, Drive, DrivenAxle,
    LiftedRear, Loss, Mount, SpringSeat, Springs,
};
pub use case::{CaseClass, CaseKind, CaseSet, Factors, LoadCase, RollStiffness};
pub use condition::{Allowance, Corrosivity, Damage, DamageKind, FaceState};
pub use duty::{Duty, FamilyDuty, LoadFamily};
pub use joint::{
    Bead, Bolt, BoltEnd, FacePreparation, Tightening, Weld, WeldNutClass, WeldPath, Workmanship,
};
pub use part::{
    Bar, BarShape, Block, BlockPlan, Direction, FoldOpening, FoldedU, Form, Gusset, Outline, Part,
    Plate, Sleeve,
};
pub use rail::{Opening, Rail, RailSection, Reading, Steel};

use fishplate_quantity::written::Written;
use fishplate_quantity::{Length, Mass, Stress};
use fishplate_strength::packs::{Pack, Rules};

/// A whole project.
#[derive(Debug, Clone, PartialEq)]
pub struct Project {
    /// What the answer is headed with.
    pub title: String,
    /// The rules that resistances come from.
    pub rules: RuleChoice,
    /// Whether everything left of the centre plane has a twin on the right.
    pub symmetric: bool,
    /// The car.
    pub car: Car,
    /// The drive, where a case drives.
    pub drive: Option<Drive>,
    /// The brakes, where a case brakes.
    pub brakes: Option<Brakes>,
    /// Which body the spring seats are on.
    pub springs: Springs,
    /// The cradle and everything that hangs on it.
    pub cradle: Cradle,
    /// Masses on feet of their own.
    pub cargo: Vec<Cargo>,
    /// The bushes that mounts name.
    pub bushes: Vec<Bush>,
    /// Where the cradle and the cargo meet the car.
    pub mounts: Vec<Mount>,
    /// Steels that are not in the catalogue.
    pub steels: Vec<Steel>,
    /// The rails of the old car.
    pub rails: Vec<Rail>,
    /// Plates, brackets, bars, gussets, sleeves, blocks.
    pub parts: Vec<Part>,
    /// Weld runs.
    pub welds: Vec<Weld>,
    /// Bolts.
    pub bolts: Vec<Bolt>,
    /// Load cases, each on its own line.
    pub cases: Vec<LoadCase>,
    /// A named set of cases put before them.
    pub case_set: Option<CaseSet>,
    /// Factors on loads.
    pub factors: Factors,
    /// What the design has to last, where that is asked.
    pub duty: Option<Duty>,
    /// Who makes the welds that do not say it themselves.
    pub workmanship: Option<Workmanship>,
    /// Tensile strength of the weld metal, where rules ask for it.
    pub weld_metal: Option<Written<Stress>>,
    /// Joints on which hand statics is taken although the plate level is worse.
    pub opinions: Vec<OpinionChoice>,
}

/// A joint on which hand statics is taken although the plate level is worse.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpinionChoice {
    /// The weld, bolt or part, without its side: `weld.front-foot`.
    pub joint: String,
    /// Why; it stands in the answer.
    pub why: String,
}

/// The rules of a project.
#[derive(Debug, Clone, PartialEq)]
pub struct RuleChoice {
    /// The rule pack.
    pub pack: &'static Pack,
    /// What the project chooses of what the pack offers.
    pub rules: Rules,
}

/// A side of the car.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// y positive.
    Left,
    /// y negative.
    Right,
}

impl Side {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }

    /// The other side.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// Sign of y on this side.
    #[must_use]
    pub fn sign(self) -> f64 {
        match self {
            Self::Left => 1.0,
            Self::Right => -1.0,
        }
    }
}

/// A point of which some coordinates are given, m. On a face two are enough.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Place {
    /// Forward.
    pub x: Option<f64>,
    /// Left.
    pub y: Option<f64>,
    /// Up.
    pub z: Option<f64>,
    /// Half width of the spread of each coordinate.
    pub spread: Option<f64>,
    /// Whether it was not measured.
    pub guessed: bool,
}

impl Place {
    /// The coordinate along axis 0, 1 or 2.
    #[must_use]
    pub fn along(&self, axis: usize) -> Option<f64> {
        [self.x, self.y, self.z][axis]
    }

    /// How many coordinates are given.
    #[must_use]
    pub fn given(&self) -> usize {
        [self.x, self.y, self.z].iter().flatten().count()
    }
}

/// A length as written.
pub type WrittenLength = Written<Length>;
/// A mass as written.
pub type WrittenMass = Written<Mass>;
/// A stress as written.
pub type WrittenStress = Written<Stress>;
