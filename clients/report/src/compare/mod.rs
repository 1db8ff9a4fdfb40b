//! The page of a comparison: designs side by side.

mod page;
mod words;

pub use page::comparison_page;
pub use words::{
    Figure, LIMITS, best_step, figures, length, letter, mass, metal, metal_unit, weld, what_helps,
};
