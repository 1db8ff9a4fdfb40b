//! The drawings of the page.

pub(crate) mod cradle;
pub(crate) mod joints;
pub(crate) mod matrix;
pub(crate) mod mount;
pub(crate) mod plates;
pub(crate) mod ranges;
pub(crate) mod ribbons;
