//! Answers as one self-contained HTML page with drawings to scale.
//!
//! [`page`] shows an answer, [`fault_page`] why there is none. Both are pure: the same input gives
//! the same bytes; the page holds all it needs and fetches nothing. No engineering is done here:
//! every number comes from the response, and a state is never read from a rounded number.

mod fault;
mod given;
mod names;
mod numbers;
mod page;
mod sections;
mod state;
mod svg;
mod symbols;
mod views;

pub use fault::fault_page;
pub use page::page;

#[cfg(test)]
pub(crate) mod test_support;
