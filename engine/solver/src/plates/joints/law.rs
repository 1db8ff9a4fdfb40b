//! Joints whose force is no straight line: faces that press and never pull, shanks that pull and
//! never push, play in holes, friction.
//!
//! Every law is a spring of stiffness k whose movement `e = gap + c . u` is relieved by a free
//! movement s: its force on the structure is `f = k (s - e)` along c. Which s belongs to which e
//! is the law. All have a convex store of energy that has no kinks, only its slope has, as long as
//! the limits of friction are held constant.

use super::row::Row;
use crate::plates::model::{BoltId, ContactId};

/// One or two springs and the law that governs them.
#[derive(Clone, Debug)]
pub(crate) struct Block {
    /// One row, or two that are square to each other with the same stiffness.
    pub(crate) rows: Vec<Row>,
    pub(crate) law: Law,
    pub(crate) owner: Owner,
}

/// The joint that a block belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Owner {
    Contact(ContactId),
    Bolt(BoltId),
}

/// How the force follows from the movement.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Law {
    /// Presses once a gap is closed: `f = -k e` where `e < 0`, else none.
    Pressing {
        /// Gap before anything moves, m.
        gap: f64,
    },
    /// A shank: the same, and tightened to this force before loads come.
    Shank {
        /// Tension when tightened, N; 0 = by hand.
        preload: f64,
    },
    /// Two rows: moves freely within a radius, then is pushed back: `f = -k (|e| - r) e / |e|`.
    Play {
        /// The radius, m.
        radius: f64,
    },
    /// Two rows: holds until the force reaches the coefficient times the force of a pressing
    /// block, then slides (Coulomb).
    Friction {
        /// The pressing block.
        pressed_by: usize,
        /// The coefficient.
        coefficient: f64,
    },
}

/// A law with its numbers in a stage of the search.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Stage {
    /// Presses where `e < 0`.
    Pressing,
    /// Has this force whatever the movement.
    Given(f64),
    /// Free within a radius.
    Play(f64),
    /// Slides at this force, N; has slid by `slid` before.
    Friction {
        /// Largest force.
        limit: f64,
        /// Where it is without force.
        slid: [f64; 2],
    },
}

/// The force of a law near a movement: along each of one or two directions
/// `f = -stiffness e + constant`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Slope {
    /// Unit direction within the block.
    pub(crate) direction: [f64; 2],
    /// Share of the stiffness of the spring that acts, 0 to 1.
    pub(crate) share: f64,
    /// The constant, N.
    pub(crate) constant: f64,
}

/// Which branch of its law a block is on.
pub(crate) type Branch = u8;

impl Stage {
    /// The force at a movement.
    pub(crate) fn force(&self, stiffness: f64, e: [f64; 2]) -> [f64; 2] {
        match *self {
            Stage::Pressing => [if e[0] < 0.0 { -stiffness * e[0] } else { 0.0 }, 0.0],
            Stage::Given(force) => [force, 0.0],
            Stage::Play(radius) => {
                let (length, direction) = polar(e);
                let beyond = length - radius;
                let force = if beyond > 0.0 { -stiffness * beyond } else { 0.0 };
                direction.map(|d| force * d)
            }
            Stage::Friction { limit, slid } => {
                let (length, direction) = polar([e[0] - slid[0], e[1] - slid[1]]);
                let held = stiffness * length;
                let force = if held > limit { limit } else { held };
                direction.map(|d| -force * d)
            }
        }
    }

    /// The branch at a movement.
    pub(crate) fn branch(&self, stiffness: f64, e: [f64; 2]) -> Branch {
        let beyond = match *self {
            Stage::Pressing => e[0] < 0.0,
            Stage::Given(_) => false,
            Stage::Play(radius) => polar(e).0 > radius,
            Stage::Friction { limit, slid } => {
                stiffness * polar([e[0] - slid[0], e[1] - slid[1]]).0 > limit
            }
        };
        Branch::from(beyond)
    }

    /// The tangent of the law at a movement, as one or two directions.
    pub(crate) fn slopes(&self, stiffness: f64, e: [f64; 2]) -> ([Slope; 2], usize) {
        let one = |share, constant| Slope { direction: [1.0, 0.0], share, constant };
        let free = one(0.0, 0.0);
        let pair = |d: [f64; 2], along: (f64, f64), across: (f64, f64)| {
            let a = Slope { direction: d, share: along.0, constant: along.1 };
            let b = Slope { direction: [-d[1], d[0]], share: across.0, constant: across.1 };
            ([a, b], 2)
        };
        match *self {
            Stage::Pressing if e[0] < 0.0 => ([one(1.0, 0.0), free], 1),
            Stage::Pressing => ([free, free], 1),
            Stage::Given(force) => ([one(0.0, force), free], 1),
            Stage::Play(radius) => {
                let (length, d) = polar(e);
                if length > radius {
                    pair(d, (1.0, stiffness * radius), (1.0 - radius / length, 0.0))
                } else {
                    pair([1.0, 0.0], (0.0, 0.0), (0.0, 0.0))
                }
            }
            Stage::Friction { limit, slid } => {
                let (length, d) = polar([e[0] - slid[0], e[1] - slid[1]]);
                let offset = |d: [f64; 2]| stiffness * (d[0] * slid[0] + d[1] * slid[1]);
                if stiffness * length > limit {
                    let share = limit / (stiffness * length);
                    pair(d, (0.0, -limit), (share, share * offset([-d[1], d[0]])))
                } else {
                    pair([1.0, 0.0], (1.0, offset([1.0, 0.0])), (1.0, offset([0.0, 1.0])))
                }
            }
        }
    }
}

/// Length and direction.
fn polar(e: [f64; 2]) -> (f64, [f64; 2]) {
    let length = (e[0] * e[0] + e[1] * e[1]).sqrt();
    if length > 0.0 { (length, e.map(|v| v / length)) } else { (0.0, [1.0, 0.0]) }
}
