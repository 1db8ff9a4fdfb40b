//! The mounts as plates: shells, seams, bolts and contact from the same design.
//!
//! Mounts whose bodies are joined, rails apart, are one *group* and one model: everything on the
//! walks and everything joined to it, with the piece of rail it sits on. [`result`] is what is read
//! back for the checks, [`answer`] what a reader gets.

mod agree;
pub mod answer;
mod buckle;
mod cut;
mod group;
mod imprint;
mod joint;
mod loads;
mod model;
mod net;
mod probe;
mod rail;
pub(crate) mod read;
mod recover;
pub mod result;
mod sheet;
mod singular;
mod solve;
pub(crate) mod tell;

#[cfg(test)]
pub(crate) mod tests;

pub(crate) use agree::agree;
#[cfg(test)]
pub(crate) use solve::solve;
