//! Drawing: a small writer of SVG, and what the drawings of this house are made of.

pub(crate) mod arrows;
pub(crate) mod geometry;
pub(crate) mod labels;
pub(crate) mod marks;
pub(crate) mod painter;
pub(crate) mod project;
pub(crate) mod scale;
pub(crate) mod shell;
pub(crate) mod solids;
pub(crate) mod strip;
pub(crate) mod surface;
pub(crate) mod welds;
pub(crate) mod writer;
