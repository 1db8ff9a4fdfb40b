//! Answers as one self-contained HTML page with drawings to scale.
//!
//! [`page`] shows an answer, [`fault_page`] why there is none, [`batch_page`] what changed in many,
//! [`compare`] designs side by side, [`sheet`] the calculation of single checks. All are pure: the
//! same input gives the same bytes; a page holds all it needs and fetches
//! nothing. [`Units`] and [`calculation`] serve whoever else prints answers. No engineering is done here:
//! every number comes from the response, and a state is never read from a rounded number.

mod batch;
pub mod calculation;
pub mod compare;
mod fault;
mod given;
mod names;
mod numbers;
mod page;
mod sections;
pub mod sheet;
pub mod size;
mod state;
mod studies;
mod svg;
mod symbols;
mod units;
mod views;

pub use batch::batch_page;
pub use fault::fault_page;
pub use names::{in_the_file, is_of};
pub use page::page;
pub use studies::{guesses_page, what_if_page};
pub use symbols::Hand;
pub use units::Units;

#[cfg(test)]
pub(crate) mod test_support;
