//! New steel: plates, folded brackets, bars, gussets, sleeves, blocks.

use super::{Place, Side, WrittenLength};

/// A part.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its name; with `datums` one part at each, named after it.
    pub name: String,
    /// Mounts that its points are counted from.
    pub datums: Vec<String>,
    /// Only on one side.
    pub only: Option<Side>,
    /// Name of its steel.
    pub steel: String,
    /// What it is.
    pub form: Form,
}

/// What a part is.
#[derive(Debug, Clone, PartialEq)]
pub enum Form {
    /// A flat plate on a face.
    Plate(Plate),
    /// A folded U on a face.
    Folded(FoldedU),
    /// A straight bar across the car.
    Bar(Bar),
    /// A triangular plate in a corner.
    Gusset(Gusset),
    /// A tube round a bolt.
    Sleeve(Sleeve),
    /// A spacer block on a face.
    Block(Block),
}

/// The outline of a plate, in the two axes of its face.
#[derive(Debug, Clone, PartialEq)]
pub enum Outline {
    /// A rectangle of this size.
    Rectangle(Place),
    /// A rectangle of this size whose two ends are pointed.
    Spear {
        /// Overall size.
        size: Place,
        /// Angle of the cut ends to the long edge, rad.
        end_angle: f64,
    },
    /// Corner points from the centre.
    Points(Vec<Place>),
    /// It closes the mouth of a channel between two stations.
    Mouth {
        /// Rear end.
        from: WrittenLength,
        /// Front end.
        to: WrittenLength,
    },
}

/// A flat plate on a face.
#[derive(Debug, Clone, PartialEq)]
pub struct Plate {
    /// Thickness.
    pub thickness: WrittenLength,
    /// The face it lies on.
    pub on: String,
    /// Its centre; none on a mouth.
    pub centre: Option<Place>,
    /// Its outline.
    pub outline: Outline,
    /// Angle of its ends to the rail, rad, where it is a fishplate.
    pub fishplate: Option<f64>,
}

/// The side that a folded U is open to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FoldOpening {
    /// Walls fore and aft, floor below.
    Up,
    /// Walls fore and aft, roof above.
    Down,
}

/// A folded U that stands on a face with the edges of its walls and floor.
#[derive(Debug, Clone, PartialEq)]
pub struct FoldedU {
    /// Thickness.
    pub thickness: WrittenLength,
    /// The face it stands on.
    pub on: String,
    /// Centre of its foot.
    pub centre: Place,
    /// Outside size of its foot.
    pub foot: Place,
    /// How far it stands off the face.
    pub reach: WrittenLength,
    /// Where it is open.
    pub open: FoldOpening,
}

/// What a bar is rolled or drawn to, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BarShape {
    /// An angle.
    Angle {
        /// First leg.
        leg_a: f64,
        /// Second leg.
        leg_b: f64,
        /// Thickness.
        thickness: f64,
    },
    /// A rectangular tube.
    Box {
        /// Height along z.
        height: f64,
        /// Width along x.
        width: f64,
        /// Wall.
        wall: f64,
    },
    /// A round tube.
    Tube {
        /// Outside diameter.
        diameter: f64,
        /// Wall.
        wall: f64,
    },
    /// A flat.
    Flat {
        /// Height along z.
        height: f64,
        /// Width along x.
        width: f64,
    },
}

impl BarShape {
    /// Its wall, m; of a flat its thickness.
    #[must_use]
    pub fn wall(self) -> f64 {
        match self {
            Self::Angle { thickness, .. } => thickness,
            Self::Box { wall, .. } | Self::Tube { wall, .. } => wall,
            Self::Flat { height, width } => {
                if height < width {
                    height
                } else {
                    width
                }
            }
        }
    }
}

/// A direction along an axis of the car.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Direction {
    /// 0, 1 or 2.
    pub axis: usize,
    /// Whether it points along the axis.
    pub positive: bool,
}

impl Direction {
    /// 1 or -1.
    #[must_use]
    pub fn sign(self) -> f64 {
        if self.positive { 1.0 } else { -1.0 }
    }
}

/// A straight bar across the car.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Its section.
    pub shape: BarShape,
    /// The heel of an angle, else the centre line: x and z.
    pub line: Place,
    /// Where the legs of an angle point, from the heel.
    pub legs: Vec<Direction>,
    /// The two faces it ends on.
    pub between: Vec<String>,
}

/// A triangular plate in the corner of two faces.
#[derive(Debug, Clone, PartialEq)]
pub struct Gusset {
    /// Thickness.
    pub thickness: WrittenLength,
    /// The two faces.
    pub corner: Vec<String>,
    /// Lengths of its legs.
    pub legs: Place,
    /// Where its middle plane stands; one gusset at each.
    pub at: Vec<Place>,
}

/// A tube round a bolt between two walls, m.
#[derive(Debug, Clone, PartialEq)]
pub struct Sleeve {
    /// Outside diameter.
    pub outside: f64,
    /// Bore.
    pub bore: f64,
    /// The two faces it stands between.
    pub spans: Vec<String>,
    /// Its centres.
    pub at: Vec<Place>,
    /// How much longer than the gap it is.
    pub proud: Option<WrittenLength>,
    /// Its length as measured, in place of that.
    pub length: Option<WrittenLength>,
}

/// Plan of a block, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BlockPlan {
    /// Round, diameter.
    Round(f64),
    /// Square, side.
    Square(f64),
}

/// A spacer block on a face.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// Its plan.
    pub plan: BlockPlan,
    /// Height off the face.
    pub height: WrittenLength,
    /// The face it sits on.
    pub on: String,
    /// Its centre.
    pub centre: Place,
    /// Bore for the bolt, m.
    pub bore: Option<f64>,
}
