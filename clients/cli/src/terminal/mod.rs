//! What the terminal shows: the answer first, then what it rests on.
//!
//! Everything here turns a response into text; nothing is computed that the response does not say.

mod answer;
mod bar;
mod batch;
pub(crate) mod batch_words;
mod catalog;
mod compare;
mod explain;
mod guesses;
mod mirror;
mod number;
mod page;
mod part;
mod plates;
#[cfg(test)]
mod sample;
mod size;
mod standing;
mod structure;
#[cfg(test)]
mod studies_tests;
mod weld_need;
mod what_if;

pub(crate) use answer::{Asked, check};
pub(crate) use batch::{Told as BatchTold, batch};
pub(crate) use catalog::catalog;
pub(crate) use compare::compare;
pub(crate) use explain::{Told, explain};
pub(crate) use guesses::{Ranked, guesses};
pub(crate) use page::{EXCEEDS, Look, Page, clean};
pub(crate) use part::{Shown, described, listed, parts};
pub(crate) use size::size;
pub(crate) use structure::structure;
pub(crate) use weld_need::weld_need;
pub(crate) use what_if::what_if;
