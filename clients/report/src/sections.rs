//! The parts of the page, each as a plain view of the response that its template prints.

pub(crate) mod answer;
pub(crate) mod checks;
pub(crate) mod drawings;
pub(crate) mod loads;
pub(crate) mod open;
pub(crate) mod plates;
pub(crate) mod sums;
