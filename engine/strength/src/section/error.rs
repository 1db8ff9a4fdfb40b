//! Why a section can't be built.

use thiserror::Error;

/// A fault in the dimensions of a section. Lengths in the message are in mm.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SectionError {
    /// A dimension lies outside what the shape allows.
    #[error(
        "{shape}: {field} is {} mm; it must be {allowed}", given * 1e3
    )]
    Dimension {
        /// The shape, as the trade calls it.
        shape: &'static str,
        /// The field that is wrong.
        field: &'static str,
        /// The value that was given, m.
        given: f64,
        /// What is allowed, in words and numbers.
        allowed: String,
    },
    /// Two parts of a built-up section share material.
    #[error(
        "built-up section: parts {first} and {second} overlap; move one or cut the shared material from it"
    )]
    Overlap {
        /// Index of the first part, from 0.
        first: usize,
        /// Index of the second part, from 0.
        second: usize,
    },
    /// A midline names a node that isn't there.
    #[error("midline: wall {wall} names node {node}, but there are {nodes} nodes (counted from 0)")]
    NoSuchNode {
        /// Index of the wall.
        wall: usize,
        /// The node it names.
        node: usize,
        /// How many there are.
        nodes: usize,
    },
    /// A midline falls into pieces.
    #[error("midline: node {node} is not connected to node 0; every wall must hang together")]
    Disconnected {
        /// First node that can't be reached.
        node: usize,
    },
    /// A list is empty or too long.
    #[error("{shape}: {given} {what} given; between {least} and {most} are allowed")]
    Count {
        /// The shape.
        shape: &'static str,
        /// What is counted.
        what: &'static str,
        /// How many were given.
        given: usize,
        /// Fewest allowed.
        least: usize,
        /// Most allowed.
        most: usize,
    },
    /// The material lies on one straight line, so that no bending stiffness across it exists in the midline model.
    #[error("midline: all walls lie on one straight line; describe a flat bar as a flat")]
    Straight,
}

/// Checks that a dimension is a number above zero and at most 10 m.
pub(super) fn positive(
    shape: &'static str,
    field: &'static str,
    given: f64,
) -> Result<f64, SectionError> {
    within(shape, field, given, 1e-6, 10.0)
}

/// Checks that a dimension is zero or above, and at most 10 m.
pub(super) fn not_negative(
    shape: &'static str,
    field: &'static str,
    given: f64,
) -> Result<f64, SectionError> {
    within(shape, field, given, 0.0, 10.0)
}

/// Checks that a dimension lies between two limits, both included.
pub(super) fn within(
    shape: &'static str,
    field: &'static str,
    given: f64,
    least: f64,
    most: f64,
) -> Result<f64, SectionError> {
    if given >= least && given <= most {
        return Ok(given);
    }
    Err(SectionError::Dimension {
        shape,
        field,
        given,
        allowed: format!("from {} to {} mm", least * 1e3, most * 1e3),
    })
}
