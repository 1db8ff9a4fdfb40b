//! Bodies: rails and parts in their places, each made of walls.

use super::prism::{Prism, Vec3};
use super::reference::Facing;
use crate::describe::{BarShape, BlockPlan, Damage, Direction, FoldOpening, RailSection, Side};

/// Place of a body in [`super::Design::bodies`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct BodyId(pub usize);

/// A rail or part in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Body {
    /// Its full name: `part.front-bracket left`.
    pub name: String,
    /// Its name without the side: `part.front-bracket`.
    pub base: String,
    /// The name it was described by, where a list of datums made several of it: `part.bracket`.
    pub described: String,
    /// The mount it is counted from, by its place in the project.
    pub datum: Option<usize>,
    /// Its side; none for one piece across the car.
    pub side: Option<Side>,
    /// Whether it was added as the twin of a drawn one.
    pub twin: bool,
    /// Path of its description in the project: `parts[3]`.
    pub path: String,
    /// Its steel.
    pub steel: SteelAt,
    /// What it is.
    pub form: Form,
    /// Its walls.
    pub walls: Vec<Wall>,
}

/// The steel of a body, Pa.
#[derive(Debug, Clone, PartialEq)]
pub struct SteelAt {
    /// Its name.
    pub name: String,
    /// Yield strength.
    pub fy: f64,
    /// Ultimate strength.
    pub fu: f64,
    /// Correlation factor of fillet welds.
    pub beta_w: Option<f64>,
    /// Whether any of the numbers is a guess.
    pub guessed: bool,
    /// Where the numbers come from: a path in the project or a table.
    pub source: String,
}

/// A wall of a body.
#[derive(Debug, Clone, PartialEq)]
pub struct Wall {
    /// Its name: `web`, `floor`, `leg-x`; empty where the body is one wall.
    pub name: String,
    /// Where it is.
    pub prism: Prism,
    /// Whether it is steel; the mouth of a channel is not.
    pub solid: bool,
}

/// The thickness of a wall at a station, m.
#[derive(Debug, Clone, PartialEq)]
pub struct Station {
    /// Where along the rail.
    pub x: f64,
    /// What every check takes: what the gauge said, less what is deducted.
    pub thickness: f64,
    /// Sound metal today, before anything more rusts away.
    pub sound: f64,
    /// Loss until today over the wall as new.
    pub loss: f64,
    /// What the gauge said.
    pub readings: Vec<f64>,
    /// The way from there to the thickness, in words; empty where one reading is taken as it is.
    pub way: String,
    /// Whether it is a guess.
    pub guessed: bool,
    /// Place of its first reading among those of the project.
    pub reading: usize,
    /// Whether it was read on the other side and taken over.
    pub taken_over: bool,
}

/// What a body is, with its measures in m.
#[derive(Debug, Clone, PartialEq)]
pub enum Form {
    /// A rail.
    Rail {
        /// Section as new.
        section: RailSection,
        /// Direction that the web's outer face looks.
        outward: Direction,
        /// Thickness by station, in ascending x.
        stations: Vec<Station>,
        /// Stations where the body holds it.
        held: Vec<f64>,
        /// Holes, cracks and patches on this side.
        damage: Vec<Damage>,
    },
    /// A flat plate.
    Plate {
        /// Direction away from the face it lies on.
        normal: Direction,
        /// Thickness.
        thickness: f64,
        /// Whether it closes the mouth of a channel.
        mouth: bool,
        /// What it lies on.
        on: On,
    },
    /// A folded U.
    Folded {
        /// Direction away from the face it stands on.
        normal: Direction,
        /// Thickness.
        thickness: f64,
        /// The horizontal axis along the face.
        along: usize,
        /// Foot along the horizontal axis, low and high.
        foot_along: (f64, f64),
        /// Foot along z, low and high.
        foot_up: (f64, f64),
        /// How far it stands off.
        reach: f64,
        /// Where it is open.
        open: FoldOpening,
        /// What it stands on.
        on: On,
    },
    /// A straight bar across the car.
    Bar {
        /// Section.
        shape: BarShape,
        /// Where an angle's legs point: first leg, second leg.
        legs: Option<[Direction; 2]>,
        /// The heel of an angle, else the centre: x and z.
        line: [f64; 2],
        /// Its ends along y: right and left.
        ends: [f64; 2],
        /// What it ends on: right and left.
        on: [On; 2],
    },
    /// Triangular plates in a corner.
    Gusset {
        /// Thickness.
        thickness: f64,
        /// Axis across the plates.
        across: usize,
        /// Middle planes on that axis.
        at: Vec<f64>,
        /// The corner, in the two axes along the plates, ascending.
        corner: [f64; 2],
        /// The two legs: direction and length; the first lies on the first face.
        legs: [(Direction, f64); 2],
        /// The two faces.
        on: [On; 2],
    },
    /// Tubes round bolts.
    Sleeve {
        /// Outside diameter.
        outside: f64,
        /// Bore.
        bore: f64,
        /// Axis.
        axis: usize,
        /// How much longer than the gap.
        proud: f64,
        /// The two faces.
        on: [On; 2],
    },
    /// A spacer block.
    Block {
        /// Plan.
        plan: BlockPlan,
        /// Direction away from the face it sits on.
        normal: Direction,
        /// Height.
        height: f64,
        /// Bore.
        bore: f64,
        /// What it sits on.
        on: On,
    },
}

/// A face of another body that a body is placed on.
#[derive(Debug, Clone, PartialEq)]
pub struct On {
    /// The body.
    pub body: BodyId,
    /// Its wall, by place.
    pub wall: usize,
    /// Coordinate of the face on the axis it looks along, m.
    pub level: f64,
}

/// A flat face of a wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Face {
    /// The body.
    pub body: BodyId,
    /// The wall, by place.
    pub wall: usize,
    /// Where it looks.
    pub looks: Direction,
    /// Its coordinate on that axis, m.
    pub level: f64,
}

impl Face {
    /// The place of a body on this face.
    #[must_use]
    pub fn on(&self) -> On {
        On { body: self.body, wall: self.wall, level: self.level }
    }
}

impl Body {
    /// Whether it is a rail.
    #[must_use]
    pub fn is_rail(&self) -> bool {
        matches!(self.form, Form::Rail { .. })
    }

    /// The word for what it is.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        match self.form {
            Form::Rail { .. } => "rail",
            Form::Plate { .. } => "plate",
            Form::Folded { .. } => "folded",
            Form::Bar { .. } => "bar",
            Form::Gusset { .. } => "gusset",
            Form::Sleeve { .. } => "sleeve",
            Form::Block { .. } => "block",
        }
    }

    /// Names of its walls, for messages.
    #[must_use]
    pub fn wall_names(&self) -> String {
        self.walls.iter().map(|w| w.name.as_str()).collect::<Vec<_>>().join(", ")
    }

    /// The wall called `name`, or its only wall where no name is said.
    ///
    /// # Errors
    /// Which walls there are.
    pub fn wall(&self, name: Option<&str>) -> Result<usize, String> {
        match name {
            Some(name) => self.walls.iter().position(|w| w.name == name).ok_or_else(|| {
                if self.walls.len() == 1 {
                    format!("{} is one wall; it has no \"{name}\"", self.base)
                } else {
                    format!("{} has the walls {}; not \"{name}\"", self.base, self.wall_names())
                }
            }),
            None if self.walls.iter().filter(|w| w.solid).count() == 1
                || self.kind() == "gusset"
                || self.kind() == "sleeve" =>
            {
                Ok(0)
            }
            None => Err(format!("say which wall of {}: {}", self.base, self.wall_names())),
        }
    }

    /// The face of wall `wall` that looks along `looks`.
    #[must_use]
    pub fn face(&self, id: BodyId, wall: usize, looks: Direction) -> Face {
        let (low, high) = self.walls[wall].prism.range(looks.axis);
        Face { body: id, wall, looks, level: if looks.positive { high } else { low } }
    }

    /// The face that a word names on this body.
    #[must_use]
    pub(super) fn facing(&self, id: BodyId, wall: usize, facing: Facing) -> Face {
        // A piece across the car is drawn from the left.
        self.face(id, wall, facing.direction(self.side.unwrap_or(Side::Left)))
    }

    /// Centre of a wall's bounding box, m.
    #[must_use]
    pub fn wall_centre(&self, wall: usize) -> Vec3 {
        let prism = &self.walls[wall].prism;
        Vec3::from_fn(|axis, _| {
            let (low, high) = prism.range(axis);
            (low + high) / 2.0
        })
    }

    /// Volume of steel, m³.
    #[must_use]
    pub fn volume(&self) -> f64 {
        let whole: f64 = self.walls.iter().filter(|w| w.solid).map(|w| w.prism.volume()).sum();
        match &self.form {
            // A prism has no bore.
            Form::Sleeve { outside, bore, .. } => whole * (1.0 - (bore / outside).powi(2)),
            Form::Bar { shape: BarShape::Tube { diameter, wall }, .. } => {
                whole * (1.0 - (1.0 - 2.0 * wall / diameter).powi(2))
            }
            Form::Block { plan, height, bore, .. } => {
                let plan_area = match plan {
                    BlockPlan::Round(d) => std::f64::consts::FRAC_PI_4 * d * d,
                    BlockPlan::Square(s) => s * s,
                };
                (plan_area - std::f64::consts::FRAC_PI_4 * bore * bore) * height
            }
            _ => whole,
        }
    }

    /// Thickness of a rail's wall under a patch along x: the least reading inside it; outside
    /// every reading the lesser of the two next to it. Nothing on a body that is no rail.
    #[must_use]
    pub fn measured_under(&self, from: f64, to: f64) -> Option<&Station> {
        let Form::Rail { stations, .. } = &self.form else { return None };
        fn least<'s>(list: impl Iterator<Item = &'s Station>) -> Option<&'s Station> {
            list.reduce(|best, s| if best.thickness <= s.thickness { best } else { s })
        }
        least(stations.iter().filter(|s| s.x >= from && s.x <= to)).or_else(|| {
            let before = stations.iter().rfind(|s| s.x < from);
            let behind = stations.iter().find(|s| s.x > to);
            least(before.into_iter().chain(behind))
        })
    }
}
